//! A half that does not run true any more: what the page says is left of it, against outlines
//! that were moved at random, and the wall in it against brute force over heights.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use ringwright::design::read::to_value;
use ringwright::design::{Across, Design, OutOfTrue, StackRing, link};
use ringwright::edit::out_of_true::go_on;
use ringwright::edit::{start, type_in};
use ringwright::plan::out_of_true::{HalfLeft, half_left, half_of};
use ringwright::plan::plan;
use ringwright::show::figures::bench::bench;
use ringwright::show::figures::bench::out_of_true::{TrueScreen, logged, out_of_true};
use ringwright::show::{change, sheets};
use ringwright::trade::room::Face;
use shared::Dice;
use std::f64::consts::TAU;

const SHAPES: [&str; 4] = ["bowl", "closed", "vase", "platter"];

fn piece(word: &str) -> Design {
    start::begin(&Design::default(), word, 254.0, 220.0)
}

fn key(ring: usize, name: &str) -> String {
    format!("vessel.rings.{ring}.out_of_true.{name}")
}

fn with(design: &Design, ring: usize, readings: &[(&str, &str)]) -> Design {
    let typed = |design: Design, (name, text): &(&str, &str)| {
        type_in(&design, &key(ring, name), text).unwrap()
    };
    readings.iter().fold(design.clone(), typed)
}

fn left_of(design: &Design, ring: usize) -> HalfLeft {
    half_left(&plan(design), ring).unwrap()
}

fn screen_of(design: &Design, ring: usize) -> TrueScreen {
    out_of_true(&plan(design), ring).unwrap()
}

/// Nearest and farthest of an oval beside its middle, by samples of its edge.
fn oval(wide: f64, narrow: f64, off: (f64, f64)) -> (f64, f64) {
    let points = (0..4_000).map(|at| {
        let turn = f64::from(at) / 4_000.0 * TAU;
        (off.0 + wide * turn.cos()).hypot(off.1 + narrow * turn.sin())
    });
    points.fold((f64::INFINITY, 0.0), |(near, far), it| {
        (it.min(near), it.max(far))
    })
}

/// A ring moved at random: what is read of it, and what is really left outside and inside.
fn moved(dice: &mut Dice, before: Face) -> (OutOfTrue, f64, f64) {
    let q = dice.between(0.0, 1.2);
    let e = dice.between(0.0, 1.2);
    let way = dice.between(0.0, TAU);
    let off = (e * way.cos(), e * way.sin());
    let swelled = if dice.one_in(2.0) {
        dice.between(0.0, 0.4)
    } else {
        0.0
    };
    let (outside, hole) = (before.outside_mm + swelled, before.hole_mm + swelled);
    let (near, far) = oval(outside + q, outside - q, off);
    let (hole_near, hole_far) = oval(hole + q, hole - q, off);
    let mut read = OutOfTrue::nothing();
    read.runs_out_mm = Some(far - near);
    // A ring that swelled is told by its widths alone.
    if swelled > 0.0 || dice.one_in(2.0) {
        read.narrowest_mm = Some(2.0 * (outside - q));
        if swelled > 0.0 || dice.one_in(2.0) {
            read.widest_mm = Some(2.0 * (outside + q));
        }
    }
    if dice.one_in(2.0) {
        read.hole_runs_out_mm = Some(hole_far - hole_near);
        if swelled > 0.0 || dice.one_in(2.0) {
            read.hole_widest_mm = Some(2.0 * (hole + q));
        }
    }
    (read, near, hole_far)
}

#[test]
fn no_wood_is_told_that_a_moved_ring_does_not_have() {
    let mut dice = Dice(5);
    let mut counted = 0;
    for turn in 0..240 {
        let mut design = piece(SHAPES[turn % SHAPES.len()]);
        let count = design.vessel.as_ref().unwrap().rings.len();
        let ring = dice.whole(0, count - 1);
        design = with(&design, ring, &[("runs_out_mm", "0")]);
        let before = left_of(&design, ring);
        let own = before.left.iter().find(|it| it.place == ring).unwrap();
        if own.before[0].hole_mm <= 0.0 {
            continue;
        }
        let (read, near, far) = moved(&mut dice, own.before[0]);
        design.vessel.as_mut().unwrap().rings[ring].out_of_true = Some(read.clone());
        let found = left_of(&design, ring);
        assert_eq!(found.troubles, [], "{read:?}");
        let now = found.left.iter().find(|it| it.place == ring).unwrap();
        assert!(
            now.now[0].outside_mm <= near + 1e-3,
            "{read:?} {now:?} {near}"
        );
        // One that was not read is narrower than the outside that it goes along with: a hair.
        assert!(now.now[0].hole_mm >= far - 5e-3, "{read:?} {now:?} {far}");
        // All of the half moved as this ring did.
        for other in &found.left {
            let lost = other.before[0].outside_mm - other.now[0].outside_mm;
            let own_lost = now.before[0].outside_mm - now.now[0].outside_mm;
            let expected = if other.place == ring {
                own_lost
            } else {
                own_lost.max(0.0)
            };
            assert!(
                (lost - expected).abs() < 1e-9,
                "{} {lost} {expected}",
                other.place
            );
        }
        counted += 1;
    }
    assert!(counted > 120, "{counted}");
}

/// The least that is left of the wall in these rings, by brute force.
fn least_left(design: &Design, found: &HalfLeft, keep: [f64; 2]) -> f64 {
    let vessel = design.vessel.as_ref().unwrap();
    let curve = vessel.curve().unwrap();
    let rim = curve.height_mm();
    let below = vessel.rings.iter().take(found.rings.start);
    let mut bottom: f64 = below.map(StackRing::height_now_mm).sum();
    let mut all = Vec::new();
    for it in &found.left {
        all.push((bottom, bottom + it.height_mm, it.now[0]));
        bottom += it.height_mm;
    }
    let mut least = f64::INFINITY;
    for &(low, high, _) in all.iter().filter(|it| it.0 < rim) {
        for step in 0..=400 {
            let z = low + (high.min(rim) - low) * f64::from(step) / 400.0;
            let radius = curve.radius_at(z);
            let share = z / rim;
            let wall = vessel.foot_wall_mm + (vessel.rim_wall_mm - vessel.foot_wall_mm) * share;
            for (from, to, face) in &all {
                if z >= from - 1e-9 && z <= to + 1e-9 {
                    least = least.min(face.outside_mm - keep[0] - radius);
                }
                if face.hole_mm > 0.0 && *from < rim {
                    let away = (from - z).max(z - to.min(rim)).max(0.0);
                    let beside = (radius - face.hole_mm - keep[1].min(face.hole_mm)).max(0.0);
                    least = least.min(away.hypot(beside) - wall);
                }
            }
        }
    }
    least
}

#[test]
fn the_wall_is_told_to_be_in_it_just_where_it_is() {
    let mut dice = Dice(6);
    let (mut holds, mut misses) = (0, 0);
    for turn in 0..200 {
        let mut design = piece(SHAPES[turn % SHAPES.len()]);
        let count = design.vessel.as_ref().unwrap().rings.len();
        for _ in 0..dice.whole(1, 3) {
            let ring = dice.whole(0, count - 1);
            let mut read = OutOfTrue::nothing();
            read.runs_out_mm = Some(dice.between(0.0, 4.0));
            if dice.one_in(2.0) {
                read.hole_runs_out_mm = Some(dice.between(0.0, 4.0));
            }
            read.face_runs_out_mm = dice.one_in(2.0).then(|| dice.between(0.0, 1.0));
            design.vessel.as_mut().unwrap().rings[ring].out_of_true = Some(read);
        }
        for ring in [0, count - 1] {
            let found = left_of(&design, ring);
            let Some(finished) = found.finished else {
                continue;
            };
            let least = least_left(&design, &found, [0.0, 0.0]);
            assert!(
                (finished.left_mm - least).abs() < 0.02,
                "{finished:?} {least}"
            );
            let allowance = &design.allowance;
            let kept = found.with_allowance.unwrap();
            let least = least_left(&design, &found, [allowance.outside_mm, allowance.inside_mm]);
            assert!((kept.left_mm - least).abs() < 0.02, "{kept:?} {least}");
            if finished.left_mm < 0.0 {
                misses += 1;
            } else {
                holds += 1;
            }
            let says = screen_of(&design, ring).says;
            assert_eq!(says.contains("any more"), finished.left_mm < 0.0, "{says}");
        }
    }
    assert!(holds > 30 && misses > 30, "{holds} {misses}");
}

#[test]
fn a_half_that_runs_true_holds_its_wall() {
    for word in SHAPES {
        let design = piece(word);
        let count = design.vessel.as_ref().unwrap().rings.len();
        for ring in 0..count {
            let said = with(&design, ring, &[("runs_out_mm", "0")]);
            let found = left_of(&said, ring);
            let finished = found.finished.unwrap();
            assert_eq!(found.unmoved, found.finished);
            assert!(finished.left_mm > -0.05, "{word} {ring} {finished:?}");
        }
    }
}

#[test]
fn of_an_inside_that_is_turned_no_more_is_told_than_its_wall() {
    let mut missing = 0;
    for word in SHAPES {
        let design = piece(word);
        let planned = plan(&design);
        let wall = planned.stack().unwrap().wall.clone().unwrap();
        let count = design.vessel.as_ref().unwrap().rings.len();
        for ring in [1, count - 1] {
            let open = left_of(&design, ring).open;
            let still = with(&design, open, &[("is_hollowed", "yes")]);
            let found = left_of(&still, ring);
            // Turned, and in true: the wall is there, and no more of it.
            assert!(found.finished.unwrap().left_mm > -0.05, "{word} {found:?}");
            assert_eq!(found.finished, found.unmoved);
            let moved = with(&still, open, &[("runs_out_mm", "1.5 mm")]);
            let found = left_of(&moved, ring);
            let finished = found.finished.unwrap();
            assert!((finished.left_mm + 1.0).abs() < 1e-6, "{word} {finished:?}");
            for it in &found.left {
                let span = &planned.stack().unwrap().rings[it.place].span;
                if span.top_mm <= wall.floor_mm || it.before[0].hole_mm <= 0.0 {
                    continue;
                }
                let ends = [span.bottom_mm.max(wall.floor_mm), span.top_mm];
                for (face, height_mm) in it.now.iter().zip(ends) {
                    let inside_mm = wall.inside_radius_at(height_mm.min(wall.outside.height_mm()));
                    let least_mm = inside_mm + 1.0 - 1e-6;
                    assert!(face.hole_mm >= least_mm, "{word} {it:?} {least_mm}");
                }
                missing += 1;
            }
            let screen = screen_of(&moved, open);
            assert!(screen.says.contains("missing inside"), "{}", screen.says);
            assert!(
                screen
                    .notes
                    .iter()
                    .any(|it| it.contains("turned to its shape:"))
            );
            // It flows into the plan as rings that were measured.
            let next = go_on(&moved, open);
            let built = plan(&next);
            assert_eq!(built.built().unwrap().troubles, [], "{word}");
        }
    }
    assert!(missing > 20, "{missing}");
}

#[test]
fn what_is_left_is_gone_on_with_and_comes_back_from_file_and_link() {
    for word in SHAPES {
        let design = piece(word);
        let count = design.vessel.as_ref().unwrap().rings.len();
        let said = with(
            &design,
            count - 1,
            &[("runs_out_mm", "3/64"), ("face_runs_out_mm", "1/64")],
        );
        assert_eq!(
            link::decode(&link::encode(&said)),
            Ok((said.clone(), vec![]))
        );
        let read = Design::restore(&to_value(&said));
        assert_eq!(read, Ok((said.clone(), vec![])));
        let before = left_of(&said, count - 1);
        assert!(logged(&plan(&said), count - 1).contains("out of true"));
        let next = go_on(&said, count - 1);
        let planned = plan(&next);
        let built = planned.built().unwrap();
        assert_eq!(built.troubles, [], "{word}");
        for it in &before.left {
            let ring = &next.vessel.as_ref().unwrap().rings[it.place];
            let own = ring.measured.as_ref().unwrap();
            assert_eq!(
                (own.outside_across, ring.out_of_true.clone()),
                (Across::Round, None)
            );
            let outside = own.outside_diameter_mm.unwrap();
            let hole = own.inside_diameter_mm.unwrap();
            assert!(outside <= 2.0 * it.now[0].outside_mm + 1e-6);
            assert!(outside > 2.0 * it.now[0].outside_mm - 0.011);
            assert!(hole >= 2.0 * it.now[0].hole_mm - 1e-6);
            let stands = built.stack.rings.iter().find(|own| own.place == it.place);
            let high = stands.map(|own| own.top_mm - own.bottom_mm).unwrap();
            assert!(
                (high - it.height_mm).abs() < 0.02,
                "{high} {}",
                it.height_mm
            );
        }
        let found = before.finished.unwrap();
        let now = built.tightest.unwrap();
        assert!(
            (found.left_mm - now.left_mm).abs() < 0.05,
            "{word} {found:?} {now:?}"
        );
        let back = link::decode(&link::encode(&next)).unwrap().0;
        assert_eq!(back, next);
        // It reads true again: nothing more is to be taken.
        assert_eq!(screen_of(&next, count - 1).go_on, "");
        assert_eq!(go_on(&next, count - 1), next);
    }
}

#[test]
fn a_design_without_readings_is_written_as_before() {
    let design = piece("vase");
    assert!(!link::encode(&design).is_empty());
    let emptied = with(&design, 2, &[("runs_out_mm", "1/16")]);
    assert_ne!(link::encode(&emptied), link::encode(&design));
    let emptied = with(&emptied, 2, &[("runs_out_mm", "")]);
    assert_eq!(emptied, design, "a ring of which all is emptied runs true");
    // A file of before has no such name.
    let mut old = to_value(&design);
    for ring in old["vessel"]["rings"].as_array_mut().unwrap() {
        ring.as_object_mut().unwrap().remove("out_of_true");
    }
    assert_eq!(Design::restore(&old), Ok((design, vec![])));
}

#[test]
fn what_cannot_be_is_told_at_its_field_and_the_rest_stands() {
    let design = piece("closed");
    let ring = 2;
    for (readings, name, word) in [
        (
            vec![("widest_mm", "9"), ("narrowest_mm", "9 1/2")],
            "narrowest_mm",
            "wider than the widest",
        ),
        (
            vec![
                ("widest_mm", "9"),
                ("narrowest_mm", "8"),
                ("runs_out_mm", "1/8"),
            ],
            "runs_out_mm",
            "even in the middle",
        ),
        (vec![("widest_mm", "9")], "narrowest_mm", "alone"),
        (vec![("runs_out_mm", "8")], "runs_out_mm", "No wall is left"),
        (
            vec![("hole_widest_mm", "20")],
            "hole_widest_mm",
            "No wall is left",
        ),
    ] {
        let said = with(&design, ring, &readings);
        let screen = screen_of(&said, ring);
        let [message] = &screen.messages[..] else {
            panic!("{readings:?} {:?}", screen.messages)
        };
        assert_eq!(message.field, key(ring, name), "{readings:?}");
        assert!(message.reason.contains(word), "{}", message.reason);
        assert!(!message.remedy.is_empty());
        assert!(screen.says.contains("Ring 3"), "{}", screen.says);
        assert_eq!((screen.go_on.as_str(), screen.list.len()), ("", 0));
        assert_eq!(go_on(&said, ring), said, "nothing is taken");
        assert!(
            screen.entries.iter().any(|it| !it.text.is_empty()),
            "nothing typed is lost"
        );
    }
    let planned = plan(&design);
    let half = half_of(planned.order().unwrap(), ring).unwrap();
    let open = half.rings.end - 1;
    let face = screen_of(&with(&design, open, &[("face_runs_out_mm", "2")]), open);
    assert_eq!(face.messages[0].field, key(open, "face_runs_out_mm"));
    for typed in ["-1/8", "much", "1/0"] {
        let refused = type_in(&design, &key(ring, "runs_out_mm"), typed).unwrap_err();
        assert_eq!(refused.field, key(ring, "runs_out_mm"), "{typed}");
    }
    assert!(type_in(&design, &key(99, "runs_out_mm"), "1/8").is_err());
    assert!(out_of_true(&plan(&design), 99).is_none());
    assert_eq!(go_on(&design, 99), design);
    assert_eq!(go_on(&design, ring), design, "nothing was read");
    let change = serde_json::json!({ "kind": "go_on_with_left", "ring": 99 });
    assert_eq!(change::change(&design, &change), Ok(design));
}

#[test]
fn the_steps_at_the_lathe_ask_for_it_and_tell_it_on_paper_too() {
    let design = piece("closed");
    let screen = bench(&plan(&design), &[]).unwrap();
    let asks = |id: &str| {
        let step = screen
            .steps
            .iter()
            .find(|it| it.id.starts_with(id))
            .unwrap();
        step.may_run_out
            .iter()
            .map(|it| it.ring)
            .collect::<Vec<_>>()
    };
    let planned = plan(&design);
    let meeting = planned.order().unwrap().meeting;
    assert!(meeting > 0);
    assert_eq!(asks("true-halves"), [meeting - 1, meeting]);
    assert_eq!(asks("outside"), [meeting - 1, meeting]);
    assert_eq!(asks("inside-foot"), [meeting - 1]);
    assert_eq!(asks("inside-rim"), [meeting]);
    assert_eq!(asks("cut"), [] as [usize; 0]);

    let said = with(&design, meeting - 1, &[("runs_out_mm", "1/32")]);
    let whole = plan(&said);
    let pages = sheets::bench::sheets(&whole, "", "");
    let before = sheets::bench::sheets(&planned, "", "");
    assert_eq!(pages.len(), before.len(), "no page more");
    let text = format!("{pages:?}");
    assert!(text.contains("out of true"));
    assert!(!format!("{before:?}").contains("out of true"));
    let far = with(&design, meeting - 1, &[("runs_out_mm", "1/2")]);
    let screen = bench(&plan(&far), &[]).unwrap();
    let inside = screen
        .steps
        .iter()
        .find(|it| it.id.starts_with("inside-foot"));
    let told = &inside.unwrap().cautions;
    assert!(
        told.iter()
            .any(|it| it.reason.contains("not in it any more")),
        "{told:?}"
    );
}
