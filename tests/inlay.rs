//! Slot sets of whole designs: windows, what opens them, what shows, bad input, what a
//! hand does, links and sheets.
#![cfg(not(target_arch = "wasm32"))]

use ringwright::design::link;
use ringwright::design::read::to_value;
use ringwright::design::{
    Design, FirstAt, Leans, Measured, SlotSet, StackHeld, StackIs, StripsShow,
};
use ringwright::draw::Mark;
use ringwright::edit::opening::{self, Opening};
use ringwright::edit::start;
use ringwright::edit::{self, inlay as hand};
use ringwright::plan::caution::{Caution, SlotCaution, ThroughCaution};
use ringwright::plan::inlay::{self, PROUD_MM, SetPlan};
use ringwright::plan::on_saw::{DISC_MIDDLE_MM, LEAST_BRIDGE_MM, LEAST_ROOM_MM};
use ringwright::plan::stack::StackPlan;
use ringwright::trade::spline::{Cut, Slots};
use std::f64::consts::{PI, TAU};

mod shared;
use shared::{Dice, stack_of, vessel_of};

fn closed() -> Design {
    start::begin(&Design::default(), "closed", 254.0, 190.5)
}

fn with_set(design: &Design, set: SlotSet) -> Design {
    let mut design = design.clone();
    design.vessel.as_mut().unwrap().slot_sets = vec![set];
    design
}

fn own(plan: &StackPlan) -> &SetPlan {
    plan.slot_sets[0].as_ref().unwrap()
}

fn cautions(design: &Design) -> Vec<SlotCaution> {
    let found = {
        let plan = stack_of(design);
        ringwright::plan::sawing::inspect(&plan, &plan.slot_sets)
    };
    found
        .into_iter()
        .filter_map(|placed| match placed.caution {
            Caution::Slots(_, caution) => Some(caution),
            _ => None,
        })
        .collect()
}

fn random_set(dice: &mut Dice, rings: u32) -> SlotSet {
    let from = dice.count(2, rings - 1);
    let mut set = SlotSet::plain(from, (from + dice.count(0, 2)).min(rings));
    set.slot_count = dice.count(1, 9);
    set.beside_count = 1 + set.slot_count % 3;
    set.gauge_deg = dice.between(0.0, 45.0);
    set.leans = [Leans::Left, Leans::Right][dice.count(0, 1) as usize];
    set.further_deg = dice.between(-60.0, 60.0);
    set.kerf_mm = dice.between(1.5, 5.0);
    // Now and then tilted as well, to either side.
    set.tilt_deg = [0.0, dice.between(-25.0, 25.0)][dice.count(0, 1) as usize];
    set.stack_is = [StackIs::LeftFlat, StackIs::TurnedRound][dice.count(0, 1) as usize];
    set.shows = StripsShow::ALL[dice.count(0, 2) as usize];
    set
}

fn random_design(dice: &mut Dice) -> Design {
    let shapes = ["bowl", "closed", "vase", "cylinder"];
    let word = shapes[dice.count(0, 3) as usize];
    let mut design = start::begin(
        &Design::default(),
        word,
        dice.between(150.0, 320.0),
        dice.between(90.0, 260.0),
    );
    let extra = dice.between(0.0, 20.0);
    let vessel = design.vessel.as_mut().unwrap();
    for ring in &mut vessel.rings {
        ring.inside_extra_mm = extra;
    }
    let set = random_set(dice, vessel.rings.len() as u32);
    with_set(&design, set)
}

/// Within the window nothing is missing; past either end something is, and says so.
#[test]
fn cautions_begin_where_the_window_ends() {
    let mut dice = Dice(1);
    let mut open = 0;
    for number in 0..300 {
        let mut design = random_design(&mut dice);
        let plan = stack_of(&design);
        let window = own(&plan).window;
        let Some(middle) = window.middle_mm() else {
            continue;
        };
        open += 1;
        let mut at = |blade: f64| {
            design.vessel.as_mut().unwrap().slot_sets[0].blade_mm = Some(blade);
            cautions(&design)
        };
        let is_missing = |it: &SlotCaution| {
            matches!(
                it,
                SlotCaution::TurnedAway { .. }
                    | SlotCaution::NothingShows { .. }
                    | SlotCaution::NotAllInside { .. }
            )
        };
        let is_too_deep = |it: &SlotCaution| {
            matches!(
                it,
                SlotCaution::ThinBridge { .. }
                    | SlotCaution::BreaksThrough { .. }
                    | SlotCaution::Uncovered { .. }
            )
        };
        let fine = at(middle);
        assert!(
            !fine.iter().any(|it| is_missing(it) || is_too_deep(it)),
            "{number}: {fine:?}"
        );
        assert!(at(window.least_mm - 0.2).iter().any(is_missing), "{number}");
        assert!(
            at(window.most_mm() + 0.2).iter().any(is_too_deep),
            "{number}"
        );
        // The bridge at the upper limit is the least one.
        if window
            .hidden_mm
            .is_none_or(|hidden| hidden > window.bridge_mm)
        {
            at(window.bridge_mm);
            let plan = stack_of(&design);
            assert!((own(&plan).bridge_mm - LEAST_BRIDGE_MM).abs() < 1e-9);
        }
    }
    assert!(open > 100, "{open}");
}

/// Each change that is offered opens a window that a hand can set, leaves glued rings as they
/// are and brings no new caution; a step less of it does not open one.
#[test]
fn each_offered_change_opens_a_window_and_less_does_not() {
    let mut dice = Dice(2);
    let mut seen = [0; 9];
    for number in 0..600 {
        let mut design = random_design(&mut dice);
        if number % 3 == 1 {
            design = hand::add_other_way(&design, 0, number % 2 == 1);
        }
        if number % 5 == 2 {
            glue(&mut design, &mut dice);
        }
        let plan = stack_of(&design);
        if own(&plan).is_easily_set() {
            assert_eq!(opening::openings(&design, 0), []);
            continue;
        }
        let vessel = vessel_of(&design);
        let step = design.unit.snap_step_mm();
        let planned = ringwright::plan::plan(&design);
        let before = cautions_by_kind(&planned);
        for (at, offered) in opening::openings(&design, 0).into_iter().enumerate() {
            let kind = match offered {
                Opening::SmallerHole(_) => 0,
                Opening::ThickerWall(_) => 1,
                Opening::SmallerGauge(_) => 2,
                Opening::OtherRings(..) => 3,
                Opening::OutsideOnly => 4,
                Opening::TurnedRound => 5,
                Opening::Together(..) => 6,
                Opening::SmallerTilt(_) => 7,
                Opening::HeldBy(_) => 8,
            };
            seen[kind] += 1;
            let taken = opening::take(&design, 0, at);
            let after = ringwright::plan::plan(&taken);
            let stack = after.stack().unwrap();
            let window = own(stack).window;
            // By the limits themselves, not by the plan's own word for it.
            assert!(
                window.most_mm() - window.least_mm >= 2.0 * LEAST_ROOM_MM - 1e-9,
                "{number}: {offered:?} leaves {window:?}"
            );
            assert_eq!(opening::openings(&taken, 0), [], "{number}: {offered:?}");
            for (kind, count) in cautions_by_kind(&after) {
                let was = before.get(&kind).copied().unwrap_or(0);
                let is_alone = matches!(offered, Opening::Together(low, high, ..) if low == high);
                if is_alone && kind == "slots OneRing" {
                    continue;
                }
                assert!(count <= was, "{number}: {offered:?} brings {kind}");
            }
            for (was, is) in vessel.rings.iter().zip(&vessel_of(&taken).rings) {
                assert!(!was.is_glued() || was == is, "{number}: {offered:?}");
            }
            let less = match offered {
                Opening::SmallerHole(mm) if mm > 1.5 * step => Opening::SmallerHole(mm - step),
                Opening::ThickerWall(mm) if mm > 1.5 * step => Opening::ThickerWall(mm - step),
                Opening::SmallerGauge(deg) if deg + 0.5 < vessel.slot_sets[0].gauge_deg => {
                    Opening::SmallerGauge(deg + 0.5)
                }
                Opening::SmallerTilt(deg) => {
                    let own_deg = vessel.slot_sets[0].tilt_deg;
                    let more = (deg.abs() + 0.5).copysign(own_deg);
                    if more.abs() >= own_deg.abs() {
                        continue;
                    }
                    Opening::SmallerTilt(more)
                }
                _ => continue,
            };
            let less = stack_of(&opening::opened(&design, 0, less));
            let window = own(&less).window;
            assert!(
                window.leaves_surface
                    || window.most_mm() <= 0.0
                    || window.most_mm() - window.least_mm < 2.0 * LEAST_ROOM_MM,
                "{number}: less than {offered:?} does"
            );
        }
    }
    println!("changes offered: {seen:?}");
    assert!(seen.iter().all(|count| *count > 5), "{seen:?}");
}

/// Glues some of the rings at the sizes that they have.
fn glue(design: &mut Design, dice: &mut Dice) {
    let plan = stack_of(design);
    let vessel = design.vessel.as_mut().unwrap();
    for (ring, planned) in vessel.rings.iter_mut().zip(&plan.rings) {
        if let Some(segment) = planned.segment.filter(|_| dice.count(0, 1) == 1) {
            ring.measured = Some(Measured {
                outside_diameter_mm: Some(segment.across_corners_mm),
                inside_diameter_mm: Some(segment.smallest_hole_mm),
                height_mm: Some(planned.span.top_mm - planned.span.bottom_mm),
                ..Measured::nothing()
            });
        }
    }
}

/// How many cautions of each kind there are, by their names.
fn cautions_by_kind(planned: &ringwright::plan::Plan) -> std::collections::BTreeMap<String, u32> {
    let mut counts = std::collections::BTreeMap::new();
    for placed in planned.placed_cautions() {
        let debug = match &placed.caution {
            Caution::Slots(_, of_slots) => format!("slots {of_slots:?}"),
            caution => format!("{caution:?}"),
        };
        let name: String = debug
            .chars()
            .take_while(|letter| letter.is_alphanumeric() || *letter == ' ')
            .collect();
        *counts.entry(name.trim_end().to_owned()).or_default() += 1;
    }
    counts
}

/// What the drawings show of the strips on the finished surfaces is what lies in a slot.
#[test]
fn the_drawn_strips_are_the_slots_on_the_finished_surfaces() {
    let mut dice = Dice(3);
    let mut shown = [0; 2];
    for number in 0..150 {
        let mut design = random_design(&mut dice);
        design.vessel.as_mut().unwrap().slot_sets[0].blade_mm = Some(dice.between(4.0, 30.0));
        let plan = stack_of(&design);
        let own = own(&plan);
        let wall = &own.stack.wall;
        for is_inside in [false, true] {
            let traces: Vec<_> = (0..own.cuts.len())
                .flat_map(|slot| own.traces(slot, is_inside))
                .collect();
            for _ in 0..80 {
                let level = wall[dice.count(0, wall.len() as u32 - 1) as usize];
                let radius = [level.outside_mm, level.inside_mm][usize::from(is_inside)];
                let around = dice.between(0.0, TAU);
                let place = [radius * around.sin(), -radius * around.cos(), level.z_mm];
                let is_cut = |grow: f64| {
                    let wider = Slots {
                        kerf_mm: own.slots.kerf_mm + 2.0 * grow,
                        ..own.slots
                    };
                    own.cuts.iter().any(|cut| {
                        let deeper = Cut {
                            bottom_mm: cut.bottom_mm - grow,
                            ..*cut
                        };
                        radius > 0.0 && wider.holds(&deeper, place)
                    })
                };
                if is_cut(0.02) != is_cut(-0.02) {
                    continue;
                }
                let z = own.middle_mm + level.z_mm;
                let is_drawn = traces.iter().flatten().any(|(height, [from, to])| {
                    let past = (around - from).rem_euclid(TAU);
                    (height - z).abs() < 1e-9 && past <= to - from
                });
                assert_eq!(
                    is_drawn,
                    is_cut(0.0),
                    "{number} {is_inside} at {z}, {around}"
                );
                shown[usize::from(is_inside)] += u32::from(is_drawn);
            }
        }
    }
    assert!(shown.iter().all(|count| *count > 30), "{shown:?}");
}

#[test]
fn bad_input_is_told_with_its_number_and_the_rest_stands() {
    let design = closed();
    let count = vessel_of(&design).rings.len() as u32;
    let told = |change: &dyn Fn(&mut SlotSet)| {
        let mut set = SlotSet::plain(6, 7);
        change(&mut set);
        let design = with_set(&design, set);
        assert!(
            stack_of(&design).totals().blank_kg.unwrap() > 0.1,
            "the rest stands"
        );
        let _ = ringwright::show::sheets::packet::pdf(
            &ringwright::plan::plan(&design),
            "",
            "",
            ringwright::show::sheets::job::Choice::Usual,
            shared::typeface(),
        );
        cautions(&design)
    };
    let has = |found: &[SlotCaution], is_it: fn(&SlotCaution) -> bool| {
        assert!(found.iter().any(is_it), "{found:?}");
    };
    assert_eq!(told(&|_| {}), [], "the plain set is sound");
    let deep = told(&|set| set.blade_mm = Some(60.0));
    has(
        &deep,
        |it| matches!(it, SlotCaution::BreaksThrough { by_mm } if *by_mm > 20.0),
    );
    has(&told(&|set| set.gauge_deg = 0.0), |it| {
        matches!(it, SlotCaution::Upright)
    });
    let steep = told(&|set| set.gauge_deg = 89.0);
    has(&steep, |it| matches!(it, SlotCaution::LeavesSurface { .. }));
    has(&steep, |it| matches!(it, SlotCaution::SteepGauge { .. }));
    let many = told(&|set| (set.slot_count, set.kerf_mm) = (96, 9.0));
    has(&many, |it| matches!(it, SlotCaution::Overlap { count: 96 }));
    has(&told(&|set| set.to_ring = 6), |it| {
        matches!(it, SlotCaution::OneRing { .. })
    });
    let wide = told(&|set| set.kerf_mm = 90.0);
    has(
        &wide,
        |it| matches!(it, SlotCaution::KerfPastSegment { kerf_mm, .. } if (*kerf_mm - 90.0).abs() < 1e-9),
    );
    has(&told(&|set| set.fit_mm = 4.0), |it| {
        matches!(it, SlotCaution::NoStrip { .. })
    });
    has(&told(&|set| set.wood = 29), |it| {
        matches!(it, SlotCaution::NoWood)
    });
    // Named the other way round, the rings are the same.
    let other = with_set(&design, SlotSet::plain(7, 6));
    assert_eq!(own(&stack_of(&other)).rings, 5..=6);
    // A ring that is not there: a message at the field, nothing else lost.
    let far = with_set(&design, SlotSet::plain(6, 150));
    let plan = stack_of(&far);
    assert!(plan.slot_sets[0].is_none());
    let message = ringwright::show::words::trouble(&plan.troubles[0], far.unit);
    assert_eq!(message.field, "vessel.slot_sets.0.to_ring");
    assert!(message.reason.contains("150"), "{}", message.reason);
    assert!(message.reason.contains(&count.to_string()));
    // Typed: 0 slots, a letter, an angle of 90°.
    for (name, typed) in [
        ("slot_count", "0"),
        ("gauge_deg", "90"),
        ("kerf_mm", "x"),
        ("from_ring", "0"),
    ] {
        let key = format!("vessel.slot_sets.0.{name}");
        assert_eq!(far.with_typed(&key, typed).unwrap_err().field, key);
    }
}

/// A curve changed later that uncovers a slot's bottom raises a caution at once, in the
/// vessel's own list of them.
#[test]
fn a_later_curve_that_uncovers_a_slot_is_told() {
    let design = closed();
    let mut set = SlotSet::plain(6, 7);
    set.blade_mm = Some(own(&stack_of(&with_set(&design, set.clone()))).blade_mm);
    let design = with_set(&design, set);
    let slots_told = |design: &Design| {
        let found = ringwright::plan::inspect::inspect(&stack_of(design));
        found
            .iter()
            .any(|it| matches!(it.caution, Caution::Slots(..)))
    };
    assert!(!slots_told(&design));
    let mut thinner = design.clone();
    let vessel = thinner.vessel.as_mut().unwrap();
    (vessel.foot_wall_mm, vessel.rim_wall_mm) = (5.0, 4.0);
    assert!(slots_told(&thinner));
    assert!(
        cautions(&thinner)
            .iter()
            .any(|it| matches!(it, SlotCaution::Uncovered { .. }))
    );
}

/// Wild sets never panic, are kept whole in files and links, and can be drawn and printed.
#[test]
fn wild_sets_are_borne_and_kept() {
    let mut dice = Dice(4);
    for number in 0..400 {
        let mut design = random_design(&mut dice);
        let set = &mut design.vessel.as_mut().unwrap().slot_sets[0];
        set.gauge_deg = [0.0, 12.345_678, 89.0, 45.0][dice.count(0, 3) as usize];
        set.slot_count = [1, 2, 96][dice.count(0, 2) as usize];
        set.kerf_mm = [0.1, 3.175, 20_000.0][dice.count(0, 2) as usize];
        set.fit_mm = [0.0, 20_000.0][dice.count(0, 1) as usize];
        set.blade_mm = [None, Some(0.0), Some(20_000.0)][dice.count(0, 2) as usize];
        set.to_ring = dice.count(1, 200);
        let plan = stack_of(&design);
        let _ = opening::openings(&plan.design, 0);
        let screen = ringwright::show::figures::inlay::inlay(&plan, 0, None, 80.0);
        assert_eq!(screen.sets.len(), 1);
        let _ = ringwright::show::mesh::inlaid::strips(&plan);
        if number % 20 == 0 {
            assert!(
                ringwright::show::sheets::packet::pdf(
                    &ringwright::plan::plan(&design),
                    "",
                    "",
                    ringwright::show::sheets::job::Choice::Usual,
                    shared::typeface()
                )
                .starts_with(b"%PDF-")
            );
        }
        let (back, troubles) = Design::restore(&to_value(&design)).unwrap();
        assert!(
            troubles.is_empty() && back == design,
            "{number}: {troubles:?}"
        );
        let (back, troubles) = link::decode(&link::encode(&design)).unwrap();
        assert!(troubles.is_empty() && back == design, "{number}");
    }
}

/// Three slots on twelve segments stand 120° and four segments apart; round the outside a
/// third of the circumference (common practice, no published source).
#[test]
fn index_marks_are_told_in_degrees_in_length_and_in_segments() {
    let mut design = closed();
    for ring in &mut design.vessel.as_mut().unwrap().rings {
        ring.segment_count = 12;
    }
    let design = with_set(&design, SlotSet::plain(6, 7));
    let plan = stack_of(&design);
    let own = own(&plan);
    assert_eq!(
        inlay::segments_apart(vessel_of(&design), &vessel_of(&design).slot_sets[0]),
        Some(4)
    );
    // Turned a 64th of an inch within its flats, so that a hair off center leaves none.
    let widest = plan.rings[5..=6]
        .iter()
        .map(|ring| ring.segment.unwrap().largest_circle_mm / 2.0 - 25.4 / 64.0)
        .fold(0.0, f64::max);
    assert!((own.circumference_mm() - TAU * widest).abs() < 1e-9);
    // Left with its flats: round the polygon, N long edges; a slot on a joint and the next
    // one stand a third of them apart, and mid-flat half an edge from the joint.
    let mut flat = design.clone();
    flat.vessel.as_mut().unwrap().slot_sets[0].stack_is = StackIs::LeftFlat;
    let plan = stack_of(&flat);
    let own = plan.slot_sets[0].as_ref().unwrap();
    let edge = plan.rings[5..=6]
        .iter()
        .map(|ring| ring.segment.unwrap().outside.long_edge_mm)
        .fold(0.0, f64::max);
    let first = own.slots.first_rad;
    assert!((own.circumference_mm() - 12.0 * edge).abs() < 1e-6);
    assert!((own.round_mm(first + TAU / 3.0) - 4.0 * edge).abs() < 1e-6);
    assert!((own.round_mm(first + PI / 12.0) - edge / 2.0).abs() < 1e-6);
}

#[test]
fn the_other_way_crosses_or_zigzags() {
    let design = hand::add_set(&Design {
        vessel: closed().vessel,
        ..Design::default()
    });
    let set = &vessel_of(&design).slot_sets[0];
    assert_eq!(
        (set.slot_count, set.gauge_deg, set.kerf_mm),
        (3, 30.0, 3.175)
    );
    let crossing = hand::add_other_way(&design, 0, false);
    let [one, other] = &vessel_of(&crossing).slot_sets[..] else {
        panic!()
    };
    assert_eq!((one.leans, other.leans), (Leans::Right, Leans::Left));
    assert!((one.further_deg - other.further_deg).abs() < 1e-12);
    let zigzag = hand::add_other_way(&design, 0, true);
    let sets = &vessel_of(&zigzag).slot_sets;
    assert!(
        (sets[1].further_deg - sets[0].further_deg - 60.0).abs() < 1e-9,
        "180°/3"
    );
    // Set to meet, both sets come to the same place at the upper end.
    let met = hand::fit_zigzag(&with_set(&design, SlotSet::plain(6, 7)), 0, true);
    let met = hand::add_other_way(&met, 0, true);
    let plan = stack_of(&met);
    let top = |set: usize, slot: usize| {
        let own = plan.slot_sets[set].as_ref().unwrap();
        let trace = &own.traces(slot, false)[0];
        let (_, [from, to]) = trace[trace.len() - 1];
        f64::midpoint(from, to)
    };
    let width = 3.175 / 100.0;
    assert!(
        (top(0, 0) - top(1, 0)).abs() < width / 2.0,
        "{} {}",
        top(0, 0),
        top(1, 0)
    );
}

#[test]
fn a_hand_places_and_leans_a_set() {
    let design = with_set(&closed(), SlotSet::plain(6, 7));
    let first = |design: &Design| own(&stack_of(design)).slots.first_rad;
    let start = first(&design);
    let step = TAU / 3.0;
    let moved = hand::place_set(&design, 0, start + 0.2 + step);
    let off = (first(&moved) - start - 0.2).to_degrees();
    assert!(off.abs() <= 1.2, "the slot stands under the finger: {off}");
    // Near the middle of a segment it is the middle.
    let half = PI / f64::from(vessel_of(&design).rings[5].segment_count);
    let moved = hand::place_set(&design, 0, start + half + 0.01);
    assert!((first(&moved) - start - half).abs() < 1e-5);
    let leaned = hand::lean_set(&design, 0, start, start - 0.15);
    let set = &vessel_of(&leaned).slot_sets[0];
    assert_eq!(set.leans, Leans::Left);
    let plan = stack_of(&design);
    let reach = own(&plan).end_radii_mm()[1] * 0.15_f64.sin();
    let expected = (reach / (own(&plan).stack.height_mm() / 2.0))
        .atan()
        .to_degrees();
    assert!(
        (set.gauge_deg - expected).abs() <= 0.25,
        "{} {expected}",
        set.gauge_deg
    );
    let upright = (0..80).fold(design.clone(), |design, _| {
        hand::nudge_lean(&design, 0, -1.0)
    });
    let set = &vessel_of(&upright).slot_sets[0];
    assert_eq!(
        (set.leans, set.gauge_deg),
        (Leans::Left, 10.0),
        "30° right, 80 half degrees left"
    );
    for wild in [f64::NAN, f64::INFINITY, 1e300] {
        let _ = hand::place_set(&design, 0, wild);
        let _ = hand::lean_set(&design, 0, wild, wild);
        let _ = hand::raise_blade(&design, 0, wild);
        let _ = hand::nudge_blade(&design, 7, wild);
    }
}

#[test]
fn sets_follow_their_rings_and_woods() {
    let set = |design: &Design| {
        let set = &vessel_of(design).slot_sets[0];
        (set.from_ring, set.to_ring)
    };
    let design = with_set(&closed(), SlotSet::plain(5, 7));
    for (change, expected) in [
        (edit::vessel::add_ring(&design, 0), (6, 8)),
        (edit::vessel::add_ring(&design, 5), (5, 8)),
        (edit::vessel::add_ring(&design, 7), (5, 7)),
        (edit::vessel::remove_ring(&design, 0), (4, 6)),
        (edit::vessel::remove_ring(&design, 4), (5, 6)),
        (edit::vessel::remove_ring(&design, 3), (4, 6)),
        (edit::vessel::remove_ring(&design, 6), (5, 6)),
        (edit::vessel::remove_ring(&design, 7), (5, 7)),
    ] {
        assert_eq!(set(&change), expected);
    }
    let count = vessel_of(&design).woods.len() as u32;
    let design = hand::strips_of(&design, 0, "Wenge");
    assert_eq!(vessel_of(&design).slot_sets[0].wood, count);
    // One that is there already is taken as it is, however it is written.
    assert_eq!(hand::strips_of(&design, 0, " wenge "), design);
    assert_eq!(hand::strips_of(&design, 0, ""), design);
    assert_eq!(count, 2);
    assert_eq!(
        vessel_of(&edit::vessel::remove_wood(&design, 1)).slot_sets[0].wood,
        1
    );
    assert_eq!(
        vessel_of(&edit::vessel::remove_wood(&design, 2)).slot_sets[0].wood,
        0
    );
}

/// Design figure: a link of a 12-ring vessel with inlay is 400 characters at most; what is
/// said of a base, ply by ply, comes to it.
#[test]
fn links_stay_short() {
    let design = start::begin(&Design::default(), "closed", 254.0, 228.6);
    assert_eq!(vessel_of(&design).rings.len(), 12);
    let design = hand::add_other_way(&hand::add_set(&design), 0, true);
    let length = |design: &Design| link::encode(design).len() + 1;
    let whole = length(&design);
    let unsaid = length(&Design {
        base: None,
        ..design
    });
    assert!(unsaid <= 400, "{unsaid}");
    assert!(whole <= unsaid + 60, "{whole} {unsaid}");
}

/// The index strip is as long as the stack is round, and its marks stand where the slots
/// are, measured on the sheets' own lines.
#[test]
fn the_index_strip_is_true_to_scale() {
    let design = hand::add_other_way(&with_set(&closed(), SlotSet::plain(6, 7)), 0, true);
    let plan = stack_of(&design);
    let sheets = ringwright::show::sheets::inlay::sheets(&plan, "", "2030-01-31");
    assert_eq!(sheets.len(), 4, "two set-ups, the strip, how to use it");
    let mut length = 0.0;
    let mut marks = Vec::new();
    let mut before = 0.0;
    let mut ends = [0.0; 2];
    for mark in &sheets[2].marks {
        let Mark::Path(path) = mark else { continue };
        let Some(name) = &path.name else { continue };
        let xs = || {
            path.steps.iter().filter_map(|step| match step {
                ringwright::draw::Step::MoveTo(at) | ringwright::draw::Step::LineTo(at) => {
                    Some(at.x)
                }
                _ => None,
            })
        };
        if name == "index strip" {
            before = length;
            let (least, most) = (xs().fold(f64::MAX, f64::min), xs().fold(0.0, f64::max));
            ends = [least, most];
        } else if name == "tab" {
            // Its dashes end the piece; it is cut out with it.
            let dashes = xs().next().unwrap();
            assert!(xs().all(|x| x.to_bits() == dashes.to_bits()) && dashes < ends[1] - 5.0);
            length += dashes - ends[0];
        } else if let Some(name) = name.strip_prefix("mark ") {
            let left = ringwright::show::sheets::EDGE_MM;
            marks.push((name.to_owned(), before + xs().next().unwrap() - left));
        }
    }
    let around = own(&plan).circumference_mm();
    assert!((length - around).abs() < 1e-6, "{length} {around}");
    marks.sort_by(|one, other| one.1.total_cmp(&other.1));
    // From the front on, both on flats and round: these slots stand a whole number of half
    // segments from it.
    let first = own(&plan).slots.first_rad / std::f64::consts::TAU;
    for (name, at) in &marks {
        let (set, slot) = name.split_once('.').unwrap();
        let number = |text: &str| text.parse::<f64>().unwrap() - 1.0;
        let turn = first + number(slot) / 3.0 + number(set) / 6.0;
        let wanted = around * turn.rem_euclid(1.0);
        assert!((at - wanted).abs() < 1e-6, "{name}: {at} {wanted}");
    }
    assert_eq!(marks.len(), 6);
    let pdf = ringwright::show::sheets::packet::pdf(
        &ringwright::plan::plan(&design),
        "",
        "",
        ringwright::show::sheets::job::Choice::Usual,
        shared::typeface(),
    );
    assert!(pdf.len() < 300_000);
}

/// Whether a zigzag's angle can be sawn is told before the gauge is set: held against what
/// the set says once it is.
#[test]
fn a_zigzag_without_a_blade_height_says_so_before_it_is_taken() {
    let begun = start::begin(&Design::default(), "cylinder", 200.0, 150.0);
    let (mut with, mut without) = (0, 0);
    for (wall_mm, count) in [
        (6.0, 4),
        (6.0, 24),
        (12.0, 4),
        (12.0, 12),
        (12.0, 24),
        (20.0, 48),
    ] {
        let mut design = begun.clone();
        let vessel = design.vessel.as_mut().unwrap();
        (vessel.foot_wall_mm, vessel.rim_wall_mm) = (wall_mm, wall_mm);
        let mut design = hand::add_set(&design);
        design.vessel.as_mut().unwrap().slot_sets[0].slot_count = count;
        let plan = stack_of(&design);
        let screen = ringwright::show::figures::inlay::inlay(&plan, 0, None, 60.0);
        let note = &screen.zigzag[0].note;
        let fitted = hand::fit_zigzag(&design, 0, false);
        let plan = stack_of(&fitted);
        let has_window = plan.slot_sets[0]
            .as_ref()
            .unwrap()
            .window
            .middle_mm()
            .is_some();
        assert_eq!(
            !note.contains("no blade height"),
            has_window,
            "{wall_mm} {count} {note}"
        );
        *(if has_window { &mut with } else { &mut without }) += 1;
    }
    assert!(with > 0 && without > 0, "{with} {without}");
}

/// Each change that is offered to open a window opens it when it is taken, and where none is
/// open nothing that hangs on the blade is told anywhere.
#[test]
fn what_is_offered_opens_the_window_and_a_closed_one_tells_no_blade() {
    let (mut closed, mut taken, mut unhelped) = (0, 0, 0);
    for seed in 0..400 {
        let mut dice = Dice(66_000 + seed);
        let mut design = start::begin(
            &Design::default(),
            ["vase", "bowl", "closed", "cylinder"][dice.count(0, 3) as usize],
            dice.between(120.0, 300.0),
            dice.between(80.0, 240.0),
        );
        let vessel = design.vessel.as_mut().unwrap();
        let count = vessel.rings.len() as u32;
        if count < 4 {
            continue;
        }
        let from = dice.count(2, count - 1);
        let mut set = SlotSet::plain(from, count.min(from + dice.count(0, 3)));
        set.gauge_deg = dice.between(5.0, 45.0);
        vessel.slot_sets.push(set);
        let planned = ringwright::plan::plan(&design);
        let stack = planned.stack().unwrap();
        let Some(own) = &stack.slot_sets[0] else {
            continue;
        };
        if own.is_open() {
            continue;
        }
        closed += 1;
        let screen = ringwright::show::figures::inlay::inlay(stack, 0, None, 300.0);
        let told = screen.saw.iter().chain(&screen.list);
        let of_blade = ["slot.blade", "slot.wide", "slot.clamp", "slot.least"];
        assert!(told.clone().all(|it| !of_blade.contains(&it.key.as_str())));
        assert!(
            screen
                .work
                .iter()
                .all(|it| !it.contains("blade ") || it.contains("do not saw it"))
        );
        assert!(
            planned.bill().iter().all(|cut| {
                !matches!(cut.piece, ringwright::plan::bill::Piece::SlotStrip { .. })
            })
        );
        let openings = opening::openings(&design, 0);
        if openings.is_empty() {
            unhelped += 1;
        }
        // What is said to be missing of the wall is enough.
        let missing_mm = own.window.least_mm.max(0.0) - own.window.most_mm().max(0.0);
        let thicker = opening::opened(&design, 0, Opening::ThickerWall(missing_mm));
        let after = ringwright::plan::plan(&thicker);
        let after = after.stack().and_then(|stack| stack.slot_sets[0].as_ref());
        if let Some(after) = after.filter(|_| !own.window.leaves_surface) {
            let room_mm = after.window.room_mm();
            assert!(
                room_mm > -0.1,
                "{seed}: {missing_mm} missing, {room_mm} left with it"
            );
        }
        for (at, opening) in openings.iter().enumerate() {
            let changed = opening::take(&design, 0, at);
            let after = ringwright::plan::plan(&changed);
            let own = after.stack().unwrap().slot_sets[0].as_ref();
            assert!(own.is_some_and(SetPlan::is_open), "{seed} {opening:?}");
            taken += 1;
        }
    }
    println!("{closed} closed windows, {taken} ways to open them taken, {unhelped} have none");
    assert!(closed > 20 && taken > 20, "{closed} {taken}");
    // What leans strongly all the way up has no rings that a slot could go through.
    assert!(
        unhelped * 3 < closed,
        "{unhelped} of {closed} are not helped"
    );
}

/// Slots that are begun by one tap can be sawn, wherever so many can; and the other designs
/// are left as they were.
#[test]
fn slots_that_are_begun_can_be_sawn() {
    use ringwright::edit::first_slots::{Begun, begin};
    use ringwright::edit::start;
    let (mut open, mut easy) = (0, 0);
    for shape in start::ALL {
        let design = start::begin(&Design::default(), shape.word, 254.0, 200.0);
        for begun in [Begun::OneWay, Begun::Crossing, Begun::Zigzag] {
            let with = begin(&design, begun);
            let vessel = with.vessel.as_ref().unwrap();
            let wanted = if begun == Begun::OneWay { 1 } else { 2 };
            assert_eq!(vessel.slot_sets.len(), wanted, "{} {begun:?}", shape.word);
            let planned = ringwright::plan::plan(&with);
            let sets = &planned.stack().unwrap().slot_sets;
            let is_open = sets
                .iter()
                .all(|own| own.as_ref().is_some_and(SetPlan::is_open));
            open += usize::from(is_open);
            easy += usize::from(easily_set(&with));
            let rings =
                vessel.slot_sets[0].from_ring as usize..=vessel.slot_sets[0].to_ring as usize;
            assert!(rings.clone().count() <= 2 && *rings.end() <= vessel.rings.len());
        }
    }
    println!(
        "{open} of {} can be sawn, {easy} easily",
        3 * start::ALL.len()
    );
    assert!(open >= 2 * start::ALL.len(), "{open}");
    let bare = Design::default();
    assert_eq!(begin(&bare, Begun::Crossing), bare);
}

/// Whether a hand can set the blade for all sets of a design.
fn easily_set(design: &Design) -> bool {
    let planned = ringwright::plan::plan(design);
    let sets = planned.stack().map(|stack| &stack.slot_sets);
    sets.is_some_and(|sets| {
        let own = |it: &Option<SetPlan>| it.as_ref().is_some_and(SetPlan::is_easily_set);
        sets.iter().all(own)
    })
}

/// Slots are never begun with a blade that must be right to a hair while some other way with
/// the rings as they are gives it room.
#[test]
fn slots_begin_with_room_for_the_blade() {
    use ringwright::edit::first_slots::{Begun, begin};
    use ringwright::edit::opening::{Opening, openings};
    use ringwright::edit::start;
    let of_rings = |it: &Opening| matches!(it, Opening::SmallerHole(_) | Opening::ThickerWall(_));
    let (mut all, mut easy) = (0, 0);
    for shape in start::ALL {
        for (across_mm, wall_mm) in [(150.0, 4.0), (254.0, 6.0), (254.0, 9.0), (360.0, 12.0)] {
            let high_mm = across_mm * shape.height_for_diameter;
            let mut design = start::begin(&Design::default(), shape.word, across_mm, high_mm);
            let vessel = design.vessel.as_mut().unwrap();
            (vessel.foot_wall_mm, vessel.rim_wall_mm) = (wall_mm, wall_mm);
            for begun in [Begun::OneWay, Begun::Crossing, Begun::Zigzag] {
                let with = begin(&design, begun);
                let is_easy = easily_set(&with);
                (all, easy) = (all + 1, easy + usize::from(is_easy));
                let left: Vec<Opening> = openings(&with, 0);
                assert!(
                    is_easy || left.iter().all(of_rings),
                    "{} {across_mm} {wall_mm} {begun:?}: {left:?}",
                    shape.word
                );
            }
        }
    }
    println!("{easy} of {all} leave the blade room");
    assert!(easy * 4 > all * 3, "{easy} of {all}");
}

/// Two sets that cross are one thing to the hand: rings, count and angle go for both; which
/// way each leans, where it stands and its wood are its own. A zigzag keeps meeting.
#[test]
fn sets_that_belong_together_change_together() {
    use ringwright::edit::{first_slots, type_in};
    let begun = |begun| {
        first_slots::begin(
            &start::begin(&Design::default(), "vase", 200.0, 260.0),
            begun,
        )
    };
    let sets = |design: &Design| design.vessel.as_ref().unwrap().slot_sets.clone();
    for way in [first_slots::Begun::Crossing, first_slots::Begun::Zigzag] {
        let design = begun(way);
        let was = sets(&design);
        for (key, typed) in [
            ("to_ring", "8"),
            ("gauge_deg", "11"),
            ("slot_count", "9"),
            ("kerf_mm", "2"),
        ] {
            for place in [0, 1] {
                let next =
                    type_in(&design, &format!("vessel.slot_sets.{place}.{key}"), typed).unwrap();
                let [one, other] = &sets(&next)[..] else {
                    panic!()
                };
                assert_eq!(
                    (one.to_ring, one.slot_count),
                    (other.to_ring, other.slot_count)
                );
                assert_eq!(
                    (one.gauge_deg, one.kerf_mm),
                    (other.gauge_deg, other.kerf_mm)
                );
                assert_ne!(one.leans, other.leans);
                let apart = (other.further_deg - one.further_deg).abs();
                let half = 180.0 / f64::from(one.slot_count);
                let wanted = if way == first_slots::Begun::Zigzag {
                    half
                } else {
                    0.0
                };
                assert!((apart - wanted).abs() < 1e-3, "{key} {apart} {wanted}");
            }
        }
        let painted = type_in(&design, "vessel.slot_sets.1.wood", "1").unwrap();
        assert_eq!(sets(&painted)[0].wood, was[0].wood);
        // One that is moved round goes its own way from then on.
        let moved = ringwright::edit::inlay::nudge_set(&design, 1, 3.0);
        let apart = type_in(&moved, "vessel.slot_sets.0.slot_count", "5").unwrap();
        assert_eq!(sets(&apart)[1].slot_count, was[1].slot_count);
    }
}

/// No figure that is a limit lies on its dangerous side, on screen, drawing and in the words
/// that go on paper, whatever the tape.
#[test]
fn a_limit_is_never_rounded_to_the_dangerous_side() {
    use ringwright::units::{length::Unit, reading::parse};
    let (mut told, mut drawn_count) = ([0; 5], 0);
    for seed in 0..40 {
        let mut dice = Dice(seed + 1);
        let mut design = random_design(&mut dice);
        let rings = vessel_of(&design).rings.len() as u32;
        design = with_set(&design, random_set(&mut dice, rings));
        let units = [
            Unit::Inch8,
            Unit::Inch16,
            Unit::InchDecimal,
            Unit::Millimeter,
        ];
        design.unit = units[seed as usize % units.len()];
        let stack = stack_of(&design);
        let Some(own) = stack.slot_sets[0].as_ref().filter(|own| own.is_open()) else {
            continue;
        };
        let read = |text: &str| parse(text, design.unit).unwrap();
        let screen = ringwright::show::figures::inlay::inlay(&stack, 0, None, 300.0);
        let fence_mm = own.table_mm();
        let limits = [
            ("slot.least", Some(own.window.least_mm.max(0.0)), true),
            ("slot.most", Some(own.window.bridge_mm), false),
            ("slot.hidden", own.window.hidden_mm, false),
            ("slot.fence", Some(fence_mm), true),
            (
                "slot.clamp",
                Some(own.blade_mm + inlay::CLAMP_ABOVE_MM),
                true,
            ),
        ];
        let size_mm = (80.0, 90.0);
        let pen = ringwright::draw::pen::Pen::paper(design.unit);
        let drawing = ringwright::show::pictures::inlay::window(own, size_mm, &pen);
        let drawn: Vec<String> = drawing
            .marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Words(words) => Some(words.lettering.spoken()),
                Mark::Path(_) => None,
            })
            .collect();
        for (count, (key, limit_mm, is_least)) in told.iter_mut().zip(limits) {
            let figure = screen.list.iter().find(|it| it.key == key);
            let Some((figure, limit_mm)) = figure.zip(limit_mm) else {
                continue;
            };
            let shown_mm = read(&figure.shown.line());
            let over = if is_least {
                shown_mm - limit_mm
            } else {
                limit_mm - shown_mm
            };
            assert!(
                over > -2e-6 && over < design.unit.step_mm() + 1e-6,
                "{seed} {key} {over}"
            );
            let wrong = if is_least { "\u{2212}" } else { "+" };
            let right =
                figure.shown.remainder.is_empty() || figure.shown.remainder.starts_with(wrong);
            assert!(right, "{seed} {key} {}", figure.shown.remainder);
            let line = figure.shown.line();
            if let Some(at) = drawn.iter().position(|it| it == figure.label.as_str()) {
                assert!(
                    drawn[at - 1].starts_with(&figure.shown.text),
                    "{:?} {line}",
                    drawn[at - 1]
                );
            }
            drawn_count += u32::from(drawn.contains(&figure.label));
            if key == "slot.fence" || key == "slot.clamp" {
                let says = format!("at least {line} ");
                assert!(screen.work.iter().any(|it| it.contains(&says)), "{says}");
            }
            *count += 1;
        }
    }
    println!("limits looked at: {told:?}, {drawn_count} drawn");
    assert!(drawn_count > 20);
    assert!(told.iter().all(|count| *count > 2), "{told:?}");
}

/// Between what is finished and its flats a stack is turned round, however little is between.
#[test]
fn a_stack_is_turned_round_within_its_flats_and_outside_the_finished_wall() {
    for allowance_mm in [3.0, 0.5, 0.0] {
        let mut design = closed();
        design.allowance.outside_mm = allowance_mm;
        let plan = stack_of(&with_set(&design, SlotSet::plain(6, 7)));
        for place in 5..=6 {
            let (ring, layer) = (&plan.rings[place], &own(&plan).stack.layers[place - 5]);
            let round = layer.outside.farthest_mm();
            let flats = ring.segment.unwrap().largest_circle_mm / 2.0;
            let finished = ring.span.outside_radius_mm;
            assert!(
                round >= finished - 1e-9 && round <= flats,
                "{finished} {round} {flats}"
            );
            assert!(flats - round > 0.0 || flats - finished < 1e-9);
            assert!(flats - round < 0.4);
        }
    }
}

/// Where the joints of a ring are is reckoned here anew, from its segments and its turn.
#[test]
fn slots_at_the_joints_of_a_ring_are_told_to_be() {
    let of = |further_deg: f64, first_at: FirstAt| {
        let mut set = SlotSet::plain(6, 7);
        (set.further_deg, set.first_at) = (further_deg, first_at);
        let design = with_set(&closed(), set);
        let plan = stack_of(&design);
        let found = inlay::at_joints_of(vessel_of(&design), &[own(&plan)]);
        let is_at = |place: usize| {
            let ring = &vessel_of(&design).rings[place];
            let wedge = TAU / f64::from(ring.segment_count);
            let joint = wedge / 2.0 * f64::from(ring.turn_half_segments) + wedge / 2.0;
            own(&plan).slots.directions().all(|at| {
                let off = (at - joint).rem_euclid(wedge);
                off.min(wedge - off) < 1e-5
            })
        };
        assert_eq!(found, (5..=6).find(|place| is_at(*place)));
        found
    };
    assert_eq!(of(0.0, FirstAt::Joint), Some(5));
    assert_eq!(of(1.0, FirstAt::Joint), None);
}

/// Slots that no blade height makes get no index strip; their sheet says so, and what would
/// help in place of how to saw them.
#[test]
fn what_cannot_be_sawn_is_not_marked_on_paper() {
    let texts = |design: &Design| -> Vec<String> {
        let sheets = ringwright::show::sheets::inlay::sheets(&stack_of(design), "", "2030-01-31");
        let told = |sheet: &ringwright::draw::Drawing| {
            let words = sheet.marks.iter().filter_map(|mark| match mark {
                Mark::Words(words) => Some(words.lettering.spoken()),
                Mark::Path(_) => None,
            });
            words.collect::<Vec<_>>().join(" ")
        };
        sheets.iter().map(told).collect()
    };
    let open = with_set(&closed(), SlotSet::plain(6, 7));
    let is_open = |design: &Design| Some(stack_of(design).slot_sets[0].as_ref()?.is_open());
    assert_eq!(is_open(&open), Some(true));
    // Somewhere the wall leans too much.
    let ways = (1..12).map(|lowest| with_set(&closed(), SlotSet::plain(lowest, lowest + 1)));
    let mut ways = ways.filter(|design| is_open(design) == Some(false));
    let steep = ways.next().expect("a leaning wall");
    let [open, steep] = [texts(&open), texts(&steep)];
    let is_strip = |text: &String| text.starts_with("Index strip") || text.contains("Index strip,");
    assert!(open.iter().any(is_strip), "{open:?}");
    assert!(!steep.iter().any(is_strip), "{steep:?}");
    let all = steep.join(" ");
    assert!(all.contains("No blade height works"), "{all}");
    assert!(!all.contains("Clamp the stack to the gauge"), "{all}");
    assert!(
        all.contains("What helps") || all.contains("No single change helps"),
        "{all}"
    );
}

/// A tilt is kept in file and link, costs a link nothing where there is none, is refused past
/// what saws do, and is told with the side to which the blade leans: the strips run in to the
/// right as they are seen from outside, which is the left of who stands behind the gauge, the
/// rim away from them and the slot below (as `show/pictures/gauge.rs` has it).
#[test]
fn a_tilt_is_kept_and_told() {
    let mut design = with_set(&closed(), SlotSet::plain(6, 7));
    let upright = link::encode(&design);
    let mut value = to_value(&design);
    let set = value.pointer_mut("/vessel/slot_sets/0").unwrap();
    set.as_object_mut().unwrap().remove("tilt_deg").unwrap();
    let (old, troubles) = Design::restore(&value).unwrap();
    assert!(troubles.is_empty() && old == design, "{troubles:?}");
    assert_eq!(link::encode(&old), upright);
    let key = "vessel.slot_sets.0.tilt_deg";
    for typed in ["46", "-45.5", "x", ""] {
        assert_eq!(design.with_typed(key, typed).unwrap_err().field, key);
    }
    for (typed, side, inward) in [("12", "left", 1.0), ("-12", "right", -1.0)] {
        design = design.with_typed(key, typed).unwrap();
        let (back, troubles) = link::decode(&link::encode(&design)).unwrap();
        assert!(troubles.is_empty() && back == design);
        let plan = stack_of(&design);
        let halfway = |own: &SetPlan, is_inside: bool| {
            let trace = own.traces(0, is_inside).swap_remove(0);
            let level = trace.iter().find(|it| it.0 >= own.middle_mm).unwrap();
            f64::midpoint(level.1[0], level.1[1])
        };
        let mut deep = design.clone();
        deep.vessel.as_mut().unwrap().slot_sets[0].blade_mm = Some(40.0);
        let deep = stack_of(&deep);
        let deep = deep.slot_sets[0].as_ref().unwrap();
        let (inside, outside) = (halfway(deep, true), halfway(deep, false));
        assert!((inside - outside) * inward > 0.0, "{inside} {outside}");
        let work = ringwright::show::figures::inlay::inlay(&plan, 0, None, 80.0)
            .work
            .join(" ");
        let says = format!("tilt the blade to 12° from upright, its top to your {side}");
        assert!(work.contains(&says), "{work}");
    }
    // A set that leans back at the same places is sawn with the same tilt.
    let both = hand::add_other_way(&design, 0, false);
    let tilts: Vec<f64> = vessel_of(&both)
        .slot_sets
        .iter()
        .map(|it| it.tilt_deg)
        .collect();
    assert_eq!(tilts, [-12.0, -12.0]);
}

/// Strips that show along a part of the way end where it is asked for: by looking all round the
/// finished outside just there, where the blade has taken nothing, and with the blade a hair
/// higher something; and what is told of the heights is what is found going up the outside.
#[test]
fn strips_end_at_the_height_that_is_asked_for() {
    let mut dice = Dice(6);
    let (mut ended, mut unlike) = (0, 0);
    for number in 0..200 {
        let mut design = random_design(&mut dice);
        let set = &mut design.vessel.as_mut().unwrap().slot_sets[0];
        set.shows = StripsShow::OutsidePartly;
        let (from, to) = {
            let plan = stack_of(&design);
            let own = own(&plan);
            let wall = &own.stack.wall;
            let ends = [wall[0].z_mm, wall[wall.len() - 1].z_mm];
            (own.middle_mm + ends[0], own.middle_mm + ends[1])
        };
        let end_mm = dice.between(from + 1.0, to - 1.0);
        design.vessel.as_mut().unwrap().slot_sets[0].ends_at_mm = Some(end_mm);
        let plan = stack_of(&design);
        let Some(own) = &plan.slot_sets[0] else {
            // The lean has carried the slot off the surface by then.
            assert_eq!(plan.troubles[0].field, "vessel.slot_sets.0.ends_at_mm");
            continue;
        };
        let outside = &plan.wall.as_ref().unwrap().outside;
        let is_taken_by = |cut: &Cut, height_mm: f64, deeper_mm: f64| {
            let radius = outside.radius_at(height_mm);
            (0..4000).any(|step| {
                let around = cut.direction_rad + (f64::from(step) / 2000.0 - 1.0) * PI / 2.0;
                let at = [radius * around.sin(), -radius * around.cos()];
                let cut = Cut {
                    bottom_mm: cut.bottom_mm - deeper_mm,
                    ..*cut
                };
                own.slots
                    .holds(&cut, [at[0], at[1], height_mm - own.middle_mm])
            })
        };
        // On flats and corners slots are not alike deep: all come so far, the shortest no farther.
        let reach = |cut: &Cut| is_taken_by(cut, end_mm, 0.3);
        assert!(own.cuts.iter().all(reach), "{number}: before {end_mm}");
        let shortest = own.cuts.iter().find(|it| !is_taken_by(it, end_mm, -0.02));
        let shortest = shortest.unwrap_or_else(|| panic!("{number}: past {end_mm}"));
        let is_taken = |height_mm: f64, deeper_mm: f64| is_taken_by(shortest, height_mm, deeper_mm);
        let tables = own.cuts.iter().map(|it| it.table_mm);
        unlike += u32::from(tables.clone().fold(0.0, f64::max) > 0.2 + tables.fold(1e9, f64::min));
        let told = own.shown_mm();
        for step in 1..200 {
            let height = from + (to - from) * f64::from(step) / 200.0;
            let is_told = told
                .iter()
                .any(|[low, high]| (*low..=*high).contains(&height));
            let near = told.iter().flatten().any(|end| (end - height).abs() < 0.8);
            let unsure = is_taken(height, 0.15) != is_taken(height, -0.15);
            if !near && !unsure {
                assert_eq!(
                    is_told,
                    is_taken(height, 0.0),
                    "{number}: {height} of {told:?}"
                );
            }
        }
        ended += 1;
    }
    assert!(ended > 120 && unlike > 10, "{ended} {unlike}");
}

/// A height that the stack does not have is told at its field with those that it has, and the
/// rest stands; raised by hand, the blade has its own height again.
#[test]
fn an_end_beside_the_stack_is_told() {
    let mut set = SlotSet::plain(6, 7);
    set.shows = StripsShow::OutsidePartly;
    set.ends_at_mm = Some(5.0);
    let design = with_set(&closed(), set);
    let plan = stack_of(&design);
    assert!(plan.slot_sets[0].is_none() && plan.totals().blank_kg.unwrap() > 0.1);
    let message = ringwright::show::words::trouble(&plan.troubles[0], design.unit);
    assert_eq!(message.field, "vessel.slot_sets.0.ends_at_mm");
    let span = [plan.rings[5].span.bottom_mm, plan.rings[6].span.top_mm];
    let key = "vessel.slot_sets.0.ends_at_mm";
    let halfway = format!("{} mm", f64::midpoint(span[0], span[1]).round());
    let design = design.with_typed(key, &halfway).unwrap();
    let plan = stack_of(&design);
    assert_eq!(plan.troubles, []);
    let (back, troubles) = link::decode(&link::encode(&design)).unwrap();
    assert!(troubles.is_empty() && back == design);
    let screen = ringwright::show::figures::inlay::inlay(&plan, 0, None, 80.0);
    let shown = screen
        .list
        .iter()
        .find(|it| it.key == "slot.shown")
        .unwrap();
    assert!(shown.shown.text.contains(" to "), "{}", shown.shown.text);
    let field = |name: &str| {
        let is_it = |it: &&ringwright::show::figures::Entry| it.key.ends_with(name);
        screen.entries.iter().find(is_it).unwrap().is_hidden
    };
    assert!(field("blade_mm") && !field("ends_at_mm"));
    let raised = hand::raise_blade(&design, 0, 20.0);
    let set = &vessel_of(&raised).slot_sets[0];
    assert!(set.ends_at_mm.is_none() && set.blade_mm.is_some());
    // All along again, the end is of no account.
    let mut all = design.clone();
    all.vessel.as_mut().unwrap().slot_sets[0].shows = StripsShow::OutsideOnly;
    assert!(own(&stack_of(&all)).is_open());
}

/// A set that holds the stack by its strips or by discs finds its blade past the wall, its strips
/// come from hole to outside, and what it shows inside and outside is all of every strip.
#[test]
fn slots_through_the_wall_show_on_both_sides_all_along() {
    let mut dice = Dice(16);
    let mut seen = [[0; 2]; 2];
    for number in 0..200 {
        let mut design = random_design(&mut dice);
        let held = [StackHeld::Strips, StackHeld::Discs][number % 2];
        let set = &mut design.vessel.as_mut().unwrap().slot_sets[0];
        set.held_by = held;
        let (plan, found) = (stack_of(&design), cautions(&design));
        let own = own(&plan);
        seen[number % 2][usize::from(own.is_open())] += 1;
        let through = |it: &SlotCaution| matches!(it, SlotCaution::Through(_));
        let leaves = |it: &SlotCaution| matches!(it, SlotCaution::LeavesSurface { .. });
        if !own.is_open() {
            let told = found.iter().any(|it| through(it) || leaves(it));
            assert!(told, "{number}: closed for no reason: {found:?}");
            continue;
        }
        assert!(own.blade_mm >= own.window.least_mm && own.blade_mm <= own.window.most_mm());
        for layer in &own.stack.layers {
            let hole = layer.hole.as_ref().unwrap();
            let table = own.table_mm();
            let narrowest = table - hole.farthest_mm();
            assert!(own.blade_mm > narrowest, "{number}: through the wall");
            // From the table to past the hole's flat, and standing out.
            assert!(own.strip_mm[1] > narrowest + PROUD_MM, "{number}");
        }
        for slot in 0..own.cuts.len() {
            for is_inside in [false, true] {
                let runs = own.traces(slot, is_inside);
                let wall = &own.stack.wall;
                let ends = [wall[0].z_mm, wall[wall.len() - 1].z_mm];
                let [from, to] = ends.map(|z| z + own.middle_mm);
                assert_eq!(runs.len(), 1, "{number}");
                let (low, high) = (runs[0][0].0, runs[0][runs[0].len() - 1].0);
                assert!((low - from).abs() < 1e-6 && (high - to).abs() < 1e-6);
            }
        }
        if held == StackHeld::Discs {
            let [foot, rim] = own.discs_across_mm().unwrap();
            assert!(own.discs_middle_mm() >= 2.0 * DISC_MIDDLE_MM - 1e-6);
            assert!(own.discs_middle_mm() < foot.min(rim));
        }
        // Lower it is not through, higher it takes what holds: that is said at the field.
        for (blade, is_low) in [
            (own.window.least_mm - 0.5, true),
            (own.window.most_mm() + 0.5, false),
        ] {
            let mut off = design.clone();
            off.vessel.as_mut().unwrap().slot_sets[0].blade_mm = Some(blade);
            let told = cautions(&off);
            let is_told = told.iter().any(|it| match it {
                SlotCaution::Through(ThroughCaution::NotThrough { .. }) => is_low,
                SlotCaution::Through(ThroughCaution::TooDeep { .. }) => !is_low,
                _ => false,
            });
            assert!(is_told, "{number}: {blade} {told:?}");
        }
    }
    let enough = seen.iter().flatten().all(|count| *count > 3);
    assert!(enough, "{seen:?}");
}

/// A floor or a disc in the stack, a lean past the hole and slots too near each other in the
/// discs are told at the field, each with what to do.
#[test]
fn what_cannot_go_through_says_so_at_the_field() {
    use ringwright::show::words;
    let through = |held_by: StackHeld, change: &dyn Fn(&mut SlotSet)| {
        let mut set = SlotSet::plain(6, 7);
        (set.held_by, set.gauge_deg) = (held_by, 10.0);
        change(&mut set);
        with_set(&closed(), set)
    };
    let told = |design: &Design| {
        let plan = stack_of(design);
        let found = ringwright::plan::sawing::inspect(&plan, &plan.slot_sets);
        let messages = found
            .iter()
            .map(|it| words::caution(&it.caution, design.unit));
        messages
            .filter(|it| it.field.ends_with("held_by"))
            .map(|it| it.reason)
            .collect::<Vec<_>>()
    };
    for held in [StackHeld::Strips, StackHeld::Discs] {
        let sound = through(held, &|_| {});
        assert_eq!(told(&sound), [""; 0], "{held:?}");
        assert!(own(&stack_of(&sound)).is_open());
        let floor = through(held, &|set| set.from_ring = 1);
        assert!(told(&floor)[0].contains("ring 1 is solid"), "{floor:?}");
        let steep = through(held, &|set| set.gauge_deg = 85.0);
        assert!(told(&steep)[0].contains("past the hole"));
    }
    let many = through(StackHeld::Discs, &|set| set.slot_count = 96);
    assert!(told(&many)[0].contains("breaks loose"));
    let many = through(StackHeld::Strips, &|set| set.slot_count = 96);
    assert_eq!(told(&many), [""; 0]);
}

/// A design from before sets could go through the wall says what it said, and so does its link.
#[test]
fn a_set_of_old_leaves_its_bridge() {
    let design = with_set(&closed(), SlotSet::plain(6, 7));
    let mut whole = to_value(&design);
    let set = whole.pointer_mut("/vessel/slot_sets/0").unwrap();
    set.as_object_mut().unwrap().remove("held_by").unwrap();
    let (old, troubles) = Design::restore(&whole).unwrap();
    assert!(troubles.is_empty() && old == design, "{troubles:?}");
    let short = link::encode(&old);
    let mut through = design.clone();
    through.vessel.as_mut().unwrap().slot_sets[0].held_by = StackHeld::Discs;
    let longer = link::encode(&through);
    assert!(longer.len() > short.len());
    let (back, troubles) = link::decode(&longer).unwrap();
    assert!(troubles.is_empty() && back == through, "{troubles:?}");
}

/// A zigzag that met meets still when its blade is tilted, both sets alike; one that was set
/// beside it, and slots that only cross, keep their gauge.
#[test]
fn a_zigzag_meets_still_when_its_blade_is_tilted() {
    let key = "vessel.slot_sets.1.tilt_deg";
    let mut set = SlotSet::plain(6, 7);
    set.slot_count = 12;
    let met = hand::fit_zigzag(&with_set(&closed(), set), 0, false);
    let met = hand::add_other_way(&met, 0, true);
    let tilted = edit::type_in(&met, key, "14").unwrap();
    let gauges = |design: &Design| {
        let sets = vessel_of(design).slot_sets.iter();
        sets.map(|it| it.gauge_deg).collect::<Vec<_>>()
    };
    assert!((gauges(&tilted)[0] - gauges(&met)[0]).abs() > 0.05);
    assert!((gauges(&tilted)[0] - gauges(&tilted)[1]).abs() < 1e-9);
    // The ends of both, looked up on the finished outside.
    let plan = stack_of(&tilted);
    let end = |set: usize, slot: usize, is_top: bool| {
        let own = plan.slot_sets[set].as_ref().unwrap();
        let trace = &own.traces(slot, false)[0];
        let (_, [from, to]) = trace[if is_top { trace.len() - 1 } else { 0 }];
        f64::midpoint(from, to)
    };
    let apart = |is_top: bool| {
        let all = (0..12).flat_map(|one| (0..12).map(move |other| (one, other)));
        let apart = all.map(|(one, other)| {
            let by = (end(0, one, is_top) - end(1, other, is_top)).rem_euclid(TAU);
            by.min(TAU - by)
        });
        apart.fold(f64::MAX, f64::min)
    };
    let met_by = apart(true).max(apart(false));
    let unmet = edit::type_in(&met, "vessel.slot_sets.0.gauge_deg", "20").unwrap();
    let still = edit::type_in(&unmet, key, "14").unwrap();
    assert_eq!(gauges(&still), [20.0, 20.0]);
    assert!(met_by < 0.02, "{met_by}");
    let crossing = hand::add_other_way(&with_set(&closed(), SlotSet::plain(6, 7)), 0, false);
    let tilted = edit::type_in(&crossing, key, "14").unwrap();
    assert_eq!(gauges(&tilted), gauges(&crossing));
}

/// Few slots round wide, low rings would meet at an angle that no gauge is set to.
#[test]
fn a_zigzags_gauge_is_one_that_is_set() {
    use ringwright::edit::{inlay::fit_zigzag, start};
    let mut design = start::begin(&Design::default(), "cylinder", 2000.0, 400.0);
    for ring in &mut design.vessel.as_mut().unwrap().rings {
        ring.height_mm = 1.0;
    }
    let mut set = SlotSet::plain(2, 3);
    set.slot_count = 1;
    let design = with_set(&design, set);
    let met = fit_zigzag(&design, 0, false);
    let gauge_deg = met.vessel.as_ref().unwrap().slot_sets[0].gauge_deg;
    assert!((80.0..=89.0).contains(&gauge_deg), "{gauge_deg}");
}

/// What cannot go through the wall says so without a length that nobody could draw.
#[test]
fn slots_that_find_no_way_through_are_told_in_lengths_of_a_shop() {
    for held_by in [StackHeld::Strips, StackHeld::Discs] {
        for gauge_deg in [0.0, 45.0, 80.0] {
            let mut set = SlotSet::plain(1, 4);
            (set.held_by, set.gauge_deg) = (held_by, gauge_deg);
            let design = with_set(&closed(), set);
            let stack = stack_of(&design);
            let own = stack.slot_sets[0].as_ref().unwrap();
            let told = ringwright::show::figures::inlay::help(&stack, 0).no_height
                + &ringwright::show::words::inlay::no_opening(own, design.unit);
            assert!(told.len() < 400 && !told.contains("000000"), "{told}");
        }
    }
}

/// A blade saws the whole length of a stack: sets that share some of their rings and not all are
/// told of each other, at the field, at the bench and on paper; others are not.
#[test]
fn sets_that_share_only_some_rings_are_told_of_each_other() {
    let shares = |spans: &[(u32, u32)]| {
        let mut design = start::begin(&Design::default(), "cylinder", 254.0, 190.5);
        let sets = spans.iter().map(|(from, to)| SlotSet {
            gauge_deg: 10.0,
            ..SlotSet::plain(*from, *to)
        });
        design.vessel.as_mut().unwrap().slot_sets = sets.collect();
        let plan = stack_of(&design);
        assert!(plan.slot_sets.iter().flatten().all(SetPlan::is_open));
        let found = ringwright::plan::sawing::inspect(&plan, &plan.slot_sets);
        let told = found.into_iter().filter_map(|it| match it.caution {
            Caution::Slots(set, SlotCaution::SharesRings { other, is_above }) => {
                Some((set, other, is_above))
            }
            _ => None,
        });
        (design, told.collect::<Vec<_>>())
    };
    for apart in [&[(6, 7), (6, 7)][..], &[(4, 5), (6, 7)], &[(6, 7)]] {
        assert_eq!(shares(apart).1, [], "{apart:?}");
    }
    let (design, told) = shares(&[(5, 6), (6, 7)]);
    assert_eq!(told, [(0, 1, true), (1, 0, true)]);
    // One within the other, its lowest ring alone another.
    assert_eq!(shares(&[(6, 7), (5, 7)]).1, [(0, 1, false), (1, 0, false)]);
    let whole = ringwright::plan::plan(&design);
    let screen = ringwright::show::figures::inlay::inlay(whole.stack().unwrap(), 0, None, 0.0);
    let own = screen
        .messages
        .iter()
        .find(|it| it.reason.contains("Set 2 goes through some"));
    assert_eq!(own.unwrap().field, "vessel.slot_sets.0.to_ring");
    let bench = ringwright::show::figures::bench::bench(&whole, &[]).unwrap();
    let sawn = bench.steps.iter().filter(|step| {
        let told = |it: &ringwright::show::words::Message| {
            it.reason.contains("goes through some of these")
        };
        step.cautions.iter().any(told)
    });
    assert_eq!(sawn.count(), 2);
}

/// The turner's own gauge and saw take the place of what most reach, both ways.
#[test]
fn the_turners_own_gauge_and_blade_are_asked() {
    for tilt_deg in [0.0, 20.0] {
        let mut set = SlotSet::plain(3, 4);
        set.gauge_deg = 40.0;
        set.tilt_deg = tilt_deg;
        let design = with_set(&closed(), set);
        let blade_mm = own(&stack_of(&design)).blade_mm;
        let upright_mm = blade_mm / tilt_deg.to_radians().cos();
        let told = |gauge: Option<f64>, blade: Option<f64>| {
            let mut design = design.clone();
            design.shop.gauge_most_deg = gauge;
            design.shop.blade_most_mm = blade;
            let found = cautions(&design);
            let has = |wanted: fn(&SlotCaution) -> bool| found.iter().any(wanted);
            [
                has(|it| matches!(it, SlotCaution::SteepGauge { .. })),
                has(|it| matches!(it, SlotCaution::HighBlade { .. })),
            ]
        };
        assert_eq!(told(Some(39.9), Some(upright_mm - 0.1)), [true, true]);
        assert_eq!(told(Some(40.0), Some(upright_mm + 0.1)), [false, false]);
    }
}
