//! What the piece's panels, its unrolled outside and its messages tell, counted again here from
//! the design alone.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use ringwright::design::Design;
use ringwright::draw::{Anchor, Mark};
use ringwright::edit;
use ringwright::edit::{first_slots, inlay, ring_list, start, vessel};
use ringwright::plan::plan;
use ringwright::show::figures::panel::{Panel, panel};
use ringwright::show::figures::step::step;
use ringwright::show::figures::vessel::design_in_short;
use ringwright::show::pictures::vessel::{Picked, numbered_unrolled, unrolled};
use ringwright::show::thing::Thing;
use ringwright::show::words;
use ringwright::units::length::{Unit, worked_out_text};
use ringwright::units::reading::parse;
use shared::{Dice, stack_of, vessel_of};

const SHAPES: [&str; 6] = ["bowl", "ogee", "closed", "vase", "platter", "cylinder"];

fn begun(shape: &str) -> Design {
    start::begin(&Design::default(), shape, 254.0, 152.4)
}

fn shown(design: &Design, thing: Thing) -> Panel {
    panel(&plan(design), thing, 0).expect("it is there")
}

/// Each ring's number stands at the height of its own cells, left of all of them, and none over
/// another; where all have room none is left out, and the one that is touched never is.
#[test]
fn the_unrolled_outside_has_the_rings_numbers_at_its_left_edge() {
    let mut left_out = 0;
    let mut written = 0;
    for shape in SHAPES {
        let stack = stack_of(&begun(shape));
        let count = stack.vessel.rings.len();
        for (size, picked) in [
            ((90.0, 120.0), 0),
            ((90.0, 40.0), count - 1),
            ((150.0, 12.0), count / 2),
        ] {
            let touched = Picked {
                thing: Thing::Ring(picked),
                meets_above: 0,
            };
            let drawing = numbered_unrolled(&stack, size, 0.0, touched);
            let mut rows = vec![(f64::MAX, f64::MIN); count];
            let mut left = f64::MAX;
            for mark in &drawing.marks {
                let Mark::Path(path) = mark else { continue };
                let name = path.name.as_deref().unwrap_or_default();
                let Some(rest) = name.strip_prefix("cell-") else {
                    continue;
                };
                let place: usize = rest.split('-').next().unwrap().parse().unwrap();
                let (low, high) = mark.bounds().unwrap();
                rows[place] = (rows[place].0.min(low.y), rows[place].1.max(high.y));
                left = left.min(low.x);
            }
            let mut numbers = Vec::new();
            for mark in &drawing.marks {
                let Mark::Words(words) = mark else { continue };
                let place = words.lettering.spoken().parse::<usize>().unwrap() - 1;
                let (top, bottom) = rows[place];
                assert!(
                    (words.at.y - f64::midpoint(top, bottom)).abs() < 1e-6,
                    "{shape}"
                );
                assert!(words.anchor == Anchor::End && words.at.x < left, "{shape}");
                assert!(
                    words.at.x - words.width_mm() >= 0.0,
                    "{shape}: off the drawing"
                );
                numbers.push((place, words.at.y, words.height_mm));
            }
            for (at, one) in numbers.iter().enumerate() {
                for other in &numbers[..at] {
                    let apart = (one.1 - other.1).abs();
                    assert!(
                        apart >= one.2.max(other.2),
                        "{shape}: {one:?} meets {other:?}"
                    );
                }
            }
            assert!(
                numbers.iter().any(|it| it.0 == picked),
                "{shape}: {numbers:?}"
            );
            let is_roomy = rows.iter().all(|row| row.1 - row.0 >= 3.3);
            assert!(!is_roomy || numbers.len() == count, "{shape}: {numbers:?}");
            written += numbers.len();
            left_out += count - numbers.len();
        }
        // What is compared and printed elsewhere has no numbers of its own.
        let plain = unrolled(&stack, (90.0, 120.0), 0.0, Picked::default());
        assert!(!plain.marks.iter().any(|it| matches!(it, Mark::Words(_))));
    }
    assert!(written > 60 && left_out > 10, "{written} {left_out}");
}

/// What may be done with a ring stands under short headings, each once; striping it is under
/// that of its woods.
#[test]
fn a_rings_acts_stand_under_headings() {
    let mut acts = 0;
    for shape in SHAPES {
        let design = begun(shape);
        let glued = edit::built::set_glued(&design, 1, true);
        for (design, place) in [(&design, 1), (&design, 2), (&glued, 1)] {
            let panel = shown(design, Thing::Ring(place));
            let mut headings: Vec<&str> = panel.acts.iter().map(|it| it.group).collect();
            acts += headings.len();
            headings.dedup();
            let mut once = headings.clone();
            once.sort_unstable();
            once.dedup();
            assert_eq!(once.len(), headings.len(), "{shape}: {headings:?}");
            assert!(headings.iter().all(|it| !it.is_empty() && it.len() < 16));
            let stripe = panel.acts.iter().find(|it| it.change["kind"] == "stripe");
            if vessel_of(design).rings[place].is_glued() {
                assert!(stripe.is_none() && headings[0] == "In the stack");
            } else {
                assert_eq!(stripe.unwrap().group, "Its woods", "{shape}");
            }
        }
    }
    assert!(acts > 100, "{acts}");
}

/// Rings that begin at the rim or above it are counted here by their heights; the one act takes
/// exactly them, and leaves the others as they are.
#[test]
fn a_lowered_rim_offers_to_take_away_the_rings_above_it() {
    let mut counts = [0; 3];
    for shape in SHAPES {
        for share in [1.0, 0.85, 0.6, 0.4] {
            let mut design = begun(shape);
            let before = vessel_of(&design).clone();
            let points = &mut design.vessel.as_mut().unwrap().points;
            for point in points {
                point.height_mm *= share;
            }
            let rim_mm = vessel_of(&design).points.last().unwrap().height_mm;
            let mut bottom_mm = 0.0;
            let mut above = Vec::new();
            for (place, ring) in before.rings.iter().enumerate() {
                if place > 0 && bottom_mm >= rim_mm - 0.01 {
                    above.push(place);
                }
                bottom_mm += ring.height_mm;
            }
            let rim = Thing::Point(vessel_of(&design).points.len() - 1);
            let top = Thing::Ring(before.rings.len() - 1);
            for thing in [rim, top, Thing::Piece] {
                let panel = shown(&design, thing);
                let act = panel
                    .acts
                    .iter()
                    .find(|it| it.change["kind"] == "remove_above_rim");
                let label = act.map(|it| it.label.clone());
                let wanted = match above.len() {
                    0 => None,
                    1 => Some("Take away the ring above the rim".to_owned()),
                    count => Some(format!("Take away the {count} rings above the rim")),
                };
                assert_eq!(label, wanted, "{shape} {share} {thing:?}");
                if thing != Thing::Piece {
                    assert_eq!(panel.says.contains("above the rim"), act.is_some());
                }
            }
            counts[above.len().min(2)] += 1;
            let after = vessel::remove_above_rim(&design);
            let kept = before.rings.len() - above.len();
            assert_eq!(
                vessel_of(&after).rings[..],
                before.rings[..kept],
                "{shape} {share}"
            );
            assert_eq!(vessel_of(&after).points, vessel_of(&design).points);
        }
    }
    assert!(counts.iter().all(|it| *it > 0), "{counts:?}");
}

/// Of two sets that cross or meet, a change of one that goes for both says so; of a set alone
/// it does not.
#[test]
fn a_change_that_goes_for_both_sets_of_a_pair_says_so() {
    let design = begun("vase");
    for (way, both) in [
        ("crossing", "both sets that cross: "),
        ("zigzag", "both sets of the zigzag: "),
    ] {
        let way = first_slots::Begun::called(way).unwrap();
        let pair = first_slots::begin(&design, way);
        let changed = edit::type_in(&pair, "vessel.slot_sets.1.slot_count", "18").unwrap();
        for sets in [&pair, &changed] {
            let sets = &vessel_of(sets).slot_sets;
            assert_eq!(sets.len(), 2);
            assert_eq!(sets[0].slot_count, sets[1].slot_count);
        }
        let said = step(&pair, &changed);
        assert_eq!(said, format!("{both}Slots 18"));
        let layered = inlay::layer_strips(&pair, 0);
        assert_eq!(step(&pair, &layered), format!("{both}layers of strips"));
        let [first, second] = [0, 1].map(|set| shown(&pair, Thing::Set(set)).says);
        assert!(
            first.contains("set 2") && second.contains("set 1"),
            "{first} {second}"
        );
        // Which way it leans is its own.
        let alone = edit::type_in(&pair, "vessel.slot_sets.0.wood", "0").unwrap();
        assert!(!step(&pair, &alone).contains("both"));
    }
    let one = first_slots::begin(&design, first_slots::Begun::called("one_way").unwrap());
    let changed = edit::type_in(&one, "vessel.slot_sets.0.slot_count", "18").unwrap();
    assert!(!step(&one, &changed).contains("both"));
    assert_eq!(shown(&one, Thing::Set(0)).says, "");
}

/// What a field says of a length that the page has worked out is on the tape, and reads as that
/// length again within what the remainder is rounded by; what was typed stays as it was typed.
#[test]
fn worked_out_lengths_are_told_in_steps_of_the_tape() {
    let mut chance = Dice(14);
    let mut with_remainder = 0;
    for _ in 0..20_000 {
        let length_mm = (chance.between(1.0, 900.0) * 100.0).round() / 100.0;
        let denominator = [8, 16, 32, 64][chance.whole(0, 3)];
        let unit = match denominator {
            8 => Unit::Inch8,
            16 => Unit::Inch16,
            32 => Unit::Inch32,
            _ => Unit::Inch64,
        };
        let text = worked_out_text(length_mm, unit);
        let again_mm = parse(&text, unit).unwrap();
        assert!(
            (again_mm - length_mm).abs() < 0.000_51 * 25.4,
            "{text}: {length_mm}"
        );
        let Some((on_tape, remainder)) = text.rsplit_once([' ']).filter(|it| it.1.contains('.'))
        else {
            continue;
        };
        with_remainder += 1;
        let inches = parse(on_tape, unit).unwrap() / 25.4 * f64::from(denominator);
        assert!((inches - inches.round()).abs() < 1e-9, "{text}");
        assert!(remainder.starts_with(['+', '\u{2212}']), "{text}");
    }
    assert!(with_remainder > 15_000, "{with_remainder}");
    for _ in 0..5_000 {
        let typed = format!("{}.{:04}", chance.whole(1, 30), chance.whole(1, 9999));
        let length_mm = parse(&typed, Unit::Inch16).unwrap();
        // A diameter is kept as its half.
        let text = worked_out_text(2.0 * (length_mm / 2.0), Unit::Inch16);
        let again_mm = parse(&text, Unit::Inch16).unwrap();
        assert!((again_mm - length_mm).abs() < 1e-9, "{typed} {text}");
        assert!(!text.contains(['+', '\u{2212}']), "{typed} {text}");
    }
}

/// What is refused names the field, what is wrong with it, and what it takes.
#[test]
fn refused_numbers_and_lists_name_field_reason_and_remedy() {
    let design = begun("bowl");
    for (key, typed, reason, remedy) in [
        (
            "ring.segment_count",
            "2.5",
            "Segments: 2.5 is not a whole number.",
            "Enter a whole number from 3 to ",
        ),
        (
            "ring.segment_count",
            "2.5 segments",
            "Segments: “segments” has no meaning here.",
            "Enter a whole number from 3 to ",
        ),
        (
            "ring.segment_count",
            "",
            "Segments is empty.",
            "Enter a whole number from 3 to ",
        ),
        (
            "vessel.rings.2.shares",
            "2 1.5",
            ": 1.5 is not a whole number.",
            "Write whole numbers from 1 to 9, with spaces between",
        ),
        (
            "vessel.rings.2.shares",
            "2 x",
            ": “x” has no meaning here.",
            "Write whole numbers from 1 to 9",
        ),
        (
            "shop.stock_mm",
            "",
            "Stock at hand, planed thicknesses is empty.",
            "with a semicolon between two.",
        ),
        (
            "shop.stock_mm",
            "3/4; thick",
            ": “thick” has no meaning here.",
            "with a semicolon between two.",
        ),
        (
            "shop.stock_mm",
            "1;1;1;1;1;1;1;1;1;1;1;1;1;1;1;1",
            ": 16 are more than it takes.",
            "Enter at most ",
        ),
    ] {
        let trouble = edit::type_in(&design, key, typed).expect_err(typed);
        let told = words::trouble(&trouble, design.unit);
        assert!(
            told.reason.contains(reason),
            "{key} {typed}: {}",
            told.reason
        );
        assert!(
            told.remedy.contains(remedy),
            "{key} {typed}: {}",
            told.remedy
        );
    }
    let rings = vessel_of(&design).rings.len();
    for (typed, ring, remedy) in [
        ("5", 1, "Write its outside"),
        ("5 3, six 4", 2, "Write it like"),
        ("5 3 1 1", 1, "a comma before"),
    ] {
        let trouble =
            ring_list::add_rings(&design, typed, ring_list::Listed::default()).expect_err(typed);
        let told = words::trouble_in_list(&trouble, design.unit);
        assert!(
            told.reason.starts_with(&format!("Ring {}: ", rings + ring)),
            "{}",
            told.reason
        );
        assert!(told.remedy.contains(remedy), "{}", told.remedy);
    }
}

/// Designs of one name are told apart by size and rings, the lone ring by its own figures.
#[test]
fn a_list_of_designs_tells_them_apart() {
    let mut told: Vec<String> = SHAPES.map(|it| design_in_short(&begun(it))).to_vec();
    for (shape, told) in SHAPES.iter().zip(&told) {
        let count = vessel_of(&begun(shape)).rings.len();
        assert!(told.contains(&format!("{count} rings")), "{told}");
        assert!(told.contains("10 in"), "{told}");
    }
    let ring = Design::default();
    told.push(design_in_short(&ring));
    let fewer = edit::type_in(&ring, "ring.segment_count", "8").unwrap();
    assert!(design_in_short(&fewer).contains("8 segments"));
    assert_ne!(design_in_short(&fewer), design_in_short(&ring));
}
