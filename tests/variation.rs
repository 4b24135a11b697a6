//! What else a piece could be: every variation that is offered opens, plans and prints with no
//! caution beyond the piece's, no two look alike, and the same seed gives the same.

mod shared;

use proptest::prelude::*;
use ringwright::design::{Design, MadeOf, SlotSet, StripsShow, example, link};
use ringwright::edit::variation::{Differs, Variations, WANTED, take};
use ringwright::edit::{built, start};
use ringwright::plan::inlay::SetPlan;
use ringwright::plan::{Plan, plan};
use ringwright::show::pictures::vessel::{Picked, unrolled};
use ringwright::show::sheets::job::Choice;
use ringwright::show::sheets::packet;
use ringwright::show::words;
use std::collections::BTreeMap;

fn vase() -> Design {
    link::decode(example::ALL[1].link).unwrap().0
}

/// A variation as it is compared.
#[derive(Debug, PartialEq)]
struct Offered {
    design: Design,
    differs: Vec<Differs>,
}

fn all(design: &Design, seed: u32, reach: f64) -> Vec<Offered> {
    let mut search = Variations::new(&plan(design), seed, reach).expect("a vessel");
    let mut found = Vec::new();
    while !search.is_done() {
        let next = search.next(10);
        found.extend(next.map(|it| Offered {
            design: Design::clone(&it.plan.design),
            differs: it.differs,
        }));
    }
    found
}

/// How often each caution is told, by its remedy without numbers: as the turner reads them.
fn told(plan: &Plan) -> BTreeMap<String, usize> {
    let mut told = BTreeMap::new();
    for placed in plan.placed_cautions() {
        let message = words::caution(&placed.caution, plan.design.unit);
        let bare =
            |text: &str| -> String { text.chars().filter(|it| it.is_alphabetic()).collect() };
        let kind = bare(&message.remedy.chars().take(12).collect::<String>());
        *told.entry(kind).or_insert(0) += 1;
    }
    told
}

/// What is told of a variation oftener than of the piece; that its striped segments are cut
/// from short sticks, which they always are, is said with it.
fn graver(own: &BTreeMap<String, usize>, varied: &Plan, says: &str) -> Option<String> {
    let is_said = |kind: &str| says.contains("short sticks") && kind.starts_with("Holdeach");
    let mut told = told(varied).into_iter();
    told.find(|(kind, count)| !is_said(kind) && *count > *own.get(kind).unwrap_or(&0))
        .map(|(kind, _)| kind)
}

/// A starting shape of any size, plain or in a pattern, with slots or without.
fn any_piece() -> impl Strategy<Value = Design> {
    let shape = prop::sample::select(start::ALL.iter().map(|it| it.word).collect::<Vec<_>>());
    (
        shape,
        100.0..400.0_f64,
        0.3..1.4_f64,
        0..4_usize,
        any::<u32>(),
    )
        .prop_map(|(shape, diameter, high, woods, bits)| {
            let mut design = start::begin(&Design::default(), shape, diameter, diameter * high);
            let vessel = design.vessel.as_mut().unwrap();
            let names = ["Walnut, black", "Purpleheart", "Padauk, African"];
            vessel
                .woods
                .extend(names[..woods.min(3)].iter().map(|name| (*name).to_owned()));
            for (place, ring) in vessel.rings.iter_mut().enumerate() {
                if ring.made_of == MadeOf::Segments && bits >> (place % 32) & 1 == 1 {
                    ring.pattern = vec![0, (place % vessel.woods.len()) as u32];
                }
            }
            design
        })
}

#[test]
fn every_variation_can_be_built() {
    let mut runner = proptest::test_runner::TestRunner::new(proptest::test_runner::Config {
        cases: 200,
        ..Default::default()
    });
    let tried = std::cell::Cell::new(0);
    let kinds = std::cell::Cell::new([0_u32; 4]);
    let outcome = runner.run(
        &(any_piece(), any::<u32>(), 0.0..=1.0),
        |(design, seed, reach)| {
            let own = plan(&design);
            let Some(stack) = own.stack() else {
                return Ok(());
            };
            let cautions = told(&own);
            let found = all(&design, seed, reach);
            prop_assert!(found.len() <= WANTED);
            let mut looks = vec![unrolled(stack, (200.0, 100.0), 0.0, Picked::default())];
            for variation in &found {
                let reads = link::decode(&link::encode(&variation.design));
                prop_assert_eq!(&reads.as_ref().unwrap().0, &variation.design);
                prop_assert!(reads.unwrap().1.is_empty());
                let varied = plan(&variation.design);
                let its = varied.stack().expect("a stack");
                prop_assert!(its.wall.is_some());
                prop_assert!(
                    its.troubles.len() <= stack.troubles.len(),
                    "{:?}",
                    its.troubles
                );
                prop_assert!(its.slot_sets.iter().flatten().all(SetPlan::is_open));
                for (set, own) in its.vessel.slot_sets.iter().zip(&its.slot_sets) {
                    let woods = &its.vessel.woods;
                    let through = own.as_ref().map(|own| own.rings.clone()).unwrap();
                    let is_seen = its.vessel.rings[through].iter().any(|ring| {
                        (0..ring.segment_count)
                            .any(|at| woods[ring.wood_of(at)] != woods[set.wood as usize])
                    });
                    prop_assert!(is_seen, "strips of the wood that they lie in");
                }
                let says = words::variation::says(&variation.differs, &its.vessel).join("\n");
                if let Some(kind) = graver(&cautions, &varied, &says) {
                    prop_assert!(false, "{kind}");
                }
                prop_assert!(varied.order().is_some());
                prop_assert!(!says.is_empty());
                let of_sets = |is_it: fn(&SlotSet) -> bool| its.vessel.slot_sets.iter().any(is_it);
                let mut seen = kinds.get();
                for (kind, is_so, word) in [
                    (0, of_sets(|it| it.tilt_deg != 0.0), "tilted"),
                    (
                        1,
                        of_sets(|it| it.shows == StripsShow::OutsidePartly && !it.is_through()),
                        "along a part",
                    ),
                    (2, of_sets(SlotSet::is_through), "through the wall"),
                ] {
                    prop_assert!(!is_so || says.contains(word), "{word} in {says}");
                    seen[kind] += u32::from(is_so);
                }
                let is_striped = its.vessel.rings.iter().any(|it| it.stripes.is_some());
                let is_told = says.contains("in a chevron") || says.contains("in slanting stripes");
                prop_assert_eq!(is_striped, is_told, "{}", says);
                seen[3] += u32::from(is_striped);
                kinds.set(seen);
                looks.push(unrolled(its, (200.0, 100.0), 0.0, Picked::default()));
                tried.set(tried.get() + 1);
            }
            for (place, look) in looks.iter().enumerate() {
                prop_assert!(looks[..place].iter().all(|other| other.marks != look.marks));
            }
            Ok(())
        },
    );
    outcome.unwrap();
    assert!(tried.get() > 1000, "{}", tried.get());
    // Every way to saw is offered now and then, and told.
    println!("tilted, partly, through, striped: {:?}", kinds.get());
    assert!(
        kinds.get().iter().all(|count| *count > 8),
        "{:?}",
        kinds.get()
    );
}

/// All nine of a piece as rich as the example, from near to far, and the same again.
#[test]
fn the_same_seed_gives_the_same_nine() {
    let vase = vase();
    for reach in [0.0, 0.5, 1.0] {
        let nine = all(&vase, 7, reach);
        assert_eq!(nine.len(), WANTED);
        assert_eq!(nine, all(&vase, 7, reach));
        assert_ne!(nine, all(&vase, 8, reach));
        let slotted = nine.iter().filter(|it| {
            it.design.vessel.as_ref().unwrap().slot_sets != vase.vessel.as_ref().unwrap().slot_sets
        });
        assert!(slotted.count() >= 2, "slots are what they ask for");
        // The last of them prints, whole.
        let last = plan(&nine[WANTED - 1].design);
        let usual = packet::pdf(
            &last,
            "https://example.org/#1",
            "2026-01-01",
            Choice::Usual,
            shared::typeface(),
        );
        assert!(lopdf::Document::load_mem(&usual).unwrap().get_pages().len() > 10);
    }
}

/// Far ones look more unlike the piece than near ones, by the area of the unrolled outside
/// that has another wood.
#[test]
fn far_is_farther_than_near() {
    let vase = vase();
    let changed = |reach: f64| -> f64 {
        let nine = all(&vase, 7, reach);
        let own = vase.vessel.as_ref().unwrap();
        let unlike = nine.iter().map(|it| {
            let vessel = it.design.vessel.as_ref().unwrap();
            let rings = vessel.rings.iter().zip(&own.rings);
            let unlike = rings.filter(|(is, was)| {
                (0..was.segment_count).any(|segment| {
                    vessel.woods[is.wood_of(segment)] != own.woods[was.wood_of(segment)]
                })
            });
            unlike.count()
        });
        unlike.sum::<usize>() as f64
    };
    assert!(
        changed(1.0) > 2.0 * changed(0.0),
        "{} {}",
        changed(1.0),
        changed(0.0)
    );
}

/// What is glued already stays; what is taken leaves all but the vessel as it was.
#[test]
fn rings_that_are_glued_stay_as_they_are() {
    let mut design = vase();
    for place in [2, 6, 7] {
        design = built::set_glued(&design, place, true);
    }
    design.name = "Kept".to_owned();
    let own = design.vessel.clone().unwrap();
    let found = all(&design, 5, 0.8);
    assert!(found.len() >= 3, "{}", found.len());
    for variation in found {
        let vessel = variation.design.vessel.as_ref().unwrap();
        for place in [2, 6, 7] {
            assert_eq!(vessel.rings[place], own.rings[place]);
            for segment in 0..own.rings[place].segment_count {
                let wood = own.rings[place].wood_of(segment);
                assert_eq!(vessel.woods[wood], own.woods[wood], "a glued wood stays");
            }
        }
        let taken = take(&design, variation.design.clone());
        assert_eq!(taken, variation.design);
        assert_eq!(taken.name, "Kept");
    }
    assert!(Variations::new(&plan(&Design::default()), 1, 0.5).is_none());
    assert!(Variations::new(&plan(&design), 1, f64::NAN).is_some());
}

/// A piece that is told of already has variations, none told of more than it.
#[test]
fn a_piece_with_cautions_has_variations_with_no_more() {
    let mut design = vase();
    let vessel = design.vessel.as_mut().unwrap();
    for set in &mut vessel.slot_sets {
        // Farther than most gauges swing.
        (set.gauge_deg, set.blade_mm) = (62.0, None);
    }
    design = ringwright::edit::stripe::stripe(&design, 10, 1, "chevron").unwrap();
    for (key, typed) in [
        ("vessel.rings.10.stripes.slant_deg", "80"),
        ("vessel.rings.10.stripes.layers.0.thickness_mm", "0.3 mm"),
    ] {
        design = ringwright::edit::type_in(&design, key, typed).unwrap();
    }
    let own = told(&plan(&design));
    assert!(own.values().sum::<usize>() > 2, "{own:?}");
    let found = all(&design, 3, 0.5);
    assert!(found.len() > 2, "{}", found.len());
    for variation in found {
        let vessel = variation.design.vessel.as_ref().unwrap();
        let says = words::variation::says(&variation.differs, vessel).join("\n");
        assert_eq!(graver(&own, &plan(&variation.design), &says), None);
    }
}
