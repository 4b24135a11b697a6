//! What goes with rings that are glued: against rings sliced from a known piece and shuffled, and
//! each find looked at point by point.

mod shared;

use ringwright::design::{Across, Design, Measured, OutlineIs, StackRing, Vessel};
use ringwright::edit::gathering::{Gathered, Gathering, NoGathering};
use ringwright::edit::start;
use ringwright::solve::stacking::Standing;
use ringwright::trade::shape::{Curve, Wall};
use shared::Dice;

/// A ring turned round already, as high and wide as this.
fn ring(outside_mm: f64, inside_mm: f64, height_mm: f64) -> StackRing {
    StackRing {
        measured: Some(Measured {
            outside_diameter_mm: Some(outside_mm),
            inside_diameter_mm: Some(inside_mm.max(0.0)),
            height_mm: Some(height_mm),
            outside_across: Across::Round,
            inside_across: Across::Round,
            ..Measured::nothing()
        }),
        ..StackRing::plain(height_mm, 12)
    }
}

fn with_rings(rings: Vec<StackRing>) -> Design {
    Design {
        vessel: Some(Vessel {
            outline_is: OutlineIs::InRings,
            woods: vec!["Maple, sugar".to_owned()],
            rings,
            ..Vessel::blank()
        }),
        ..Design::default()
    }
}

fn all(design: &Design, word: &str) -> Vec<Gathered> {
    let mut search = Gathering::new(design, word).unwrap().ok().unwrap();
    let mut found = Vec::new();
    while !search.is_done() {
        found.extend(search.look());
    }
    found
}

/// How many of the glued rings stand.
fn used(found: &Gathered) -> usize {
    found.standing.len() - found.new_count as usize
}

/// The most of them with so many new ones at the most.
fn most(found: &[Gathered], new_count: u32) -> usize {
    let few = found.iter().filter(|it| it.new_count <= new_count);
    few.map(used).max().unwrap_or(0)
}

/// The wall lies in the wood of each glued ring, by balls of its thickness along the outside; and
/// each ring of the pool stands once or is left.
fn holds(pool: &Design, found: &Gathered) {
    let vessel = found.plan.design.vessel.as_ref().unwrap();
    let curve: Curve = vessel.curve().unwrap();
    let high = curve.height_mm();
    let wall = |z: f64| vessel.foot_wall_mm + (vessel.rim_wall_mm - vessel.foot_wall_mm) * z / high;
    let outside: Vec<(f64, f64)> = (0..=4000)
        .map(|step| high * f64::from(step) / 4000.0)
        .map(|z| (z, curve.radius_at(z)))
        .collect();
    let mut bottom = 0.0;
    for ring in &vessel.rings {
        let height = ring.height_now_mm();
        assert!(bottom < high + 1e-6, "no ring above the rim");
        if let Some(it) = &ring.measured {
            let outer = it.outside_diameter_mm.unwrap() / 2.0;
            let hole = it.inside_diameter_mm.unwrap() / 2.0;
            let (low, top) = (bottom, (bottom + height).min(high));
            for (z, radius) in &outside {
                if (low..=top).contains(z) {
                    assert!(*radius <= outer + 1e-6, "outside at {z}");
                }
                // The nearest height of the ring to this ball's middle.
                let away = (z.clamp(low, top) - z).abs();
                if away < wall(*z) {
                    let reach = radius - (wall(*z).powi(2) - away * away).sqrt();
                    assert!(reach >= hole - 0.02, "inside at {z}: {reach} {hole}");
                }
            }
        }
        bottom += height;
    }
    assert!(bottom >= high - 1e-6, "the rings reach the rim");
    let pool = &pool.vessel.as_ref().unwrap().rings;
    let mut counted: Vec<usize> = found.left.clone();
    counted.extend(found.standing.iter().filter_map(|it| match it {
        Standing::Piece(place, _) => Some(*place),
        Standing::New => None,
    }));
    counted.sort_unstable();
    assert_eq!(counted, (0..pool.len()).collect::<Vec<_>>());
}

/// Rings sliced from a piece of a shape, with some wood to spare, from the foot up.
fn sliced(dice: &mut Dice, word: &str, count: u32, spare_mm: f64) -> Vec<StackRing> {
    let shape = start::find(word).unwrap();
    let across = dice.between(140.0, 300.0);
    let high = across * shape.height_for_diameter * dice.between(0.8, 1.3);
    let made = start::begin(&Design::default(), word, across, high);
    let vessel = made.vessel.unwrap();
    let curve = vessel.curve().unwrap();
    let blank = Vessel::blank();
    let high = curve.height_mm();
    let (foot, rim) = (blank.foot_wall_mm, blank.rim_wall_mm);
    let wall = Wall::inside(curve, foot, rim, 0.0);
    let each = high / f64::from(count);
    let rings = (0..count).map(|level| {
        let low = f64::from(level) * each;
        let looks = (0..=200).map(|look| (low + each * f64::from(look) / 200.0).min(high));
        let (mut outer, mut hole) = (0.0_f64, f64::INFINITY);
        for z in looks {
            outer = outer.max(wall.outside.radius_at(z));
            hole = hole.min(wall.inside_radius_at(z));
        }
        ring(2.0 * (outer + spare_mm), 2.0 * (hole - spare_mm), each)
    });
    rings.collect()
}

#[test]
fn rings_of_a_piece_are_put_together_again_whatever_lies_between_them() {
    let mut dice = Dice(30);
    let mut whole = 0;
    let words = ["bowl", "closed", "vase", "cylinder", "ogee"];
    for (place, word) in words.iter().cycle().take(20).enumerate() {
        let count = dice.count(4, 8);
        let mut rings = sliced(&mut dice, word, count, 4.0);
        // One that belongs to no such piece.
        if place % 2 == 0 {
            rings.push(ring(60.0, 52.0, 15.0));
        }
        for at in (1..rings.len()).rev() {
            rings.swap(at, dice.whole(0, at));
        }
        let pool = with_rings(rings);
        let found = all(&pool, word);
        for it in &found {
            holds(&pool, it);
            let left_mm = it.plan.built().unwrap().tightest.unwrap().left_mm;
            assert!(left_mm > 0.45, "{word}: {left_mm} mm to spare");
        }
        whole += usize::from(most(&found, 0) >= count as usize);
        assert!(
            most(&found, 0) + 1 >= count as usize,
            "{word}, {count} rings"
        );
    }
    assert!(whole >= 18, "{whole} of 20");
}

#[test]
fn a_missing_ring_is_bridged_by_a_new_one() {
    let mut dice = Dice(31);
    let mut rings = sliced(&mut dice, "bowl", 6, 4.0);
    rings.remove(2);
    let pool = with_rings(rings);
    let found = all(&pool, "bowl");
    assert!(most(&found, 0) < 5);
    assert_eq!(most(&found, 1), 5);
    for it in &found {
        holds(&pool, it);
    }
    let again = all(&pool, "bowl");
    let told =
        |found: &[Gathered]| -> Vec<_> { found.iter().map(|it| it.standing.clone()).collect() };
    assert_eq!(told(&found), told(&again), "the same rings give the same");
}

#[test]
fn thirty_rings_of_three_pieces_give_a_whole_one() {
    let mut dice = Dice(32);
    let mut rings = sliced(&mut dice, "bowl", 8, 4.0);
    rings.extend(sliced(&mut dice, "vase", 12, 4.0));
    rings.extend(sliced(&mut dice, "closed", 10, 4.0));
    for at in (1..rings.len()).rev() {
        rings.swap(at, dice.whole(0, at));
    }
    let pool = with_rings(rings);
    for (word, least) in [("bowl", 8), ("closed", 8)] {
        let found = all(&pool, word);
        assert!(most(&found, 0) >= least, "{word}: {}", most(&found, 0));
        for it in &found {
            holds(&pool, it);
        }
    }
}

#[test]
fn what_cannot_be_says_why() {
    let few = with_rings(vec![ring(200.0, 150.0, 19.0)]);
    let told = Gathering::new(&few, "bowl").unwrap().err();
    assert_eq!(told, Some(NoGathering::FewRings));
    assert!(Gathering::new(&few, "no such shape").is_none());
    assert!(matches!(
        Gathering::new(&Design::default(), "bowl"),
        Some(Err(NoGathering::FewRings))
    ));
    // Two that are thinner than any wall.
    let thin = with_rings(vec![ring(200.0, 198.0, 19.0), ring(180.0, 178.0, 19.0)]);
    let mut search = Gathering::new(&thin, "bowl").unwrap().ok().unwrap();
    while !search.is_done() {
        assert!(search.look().iter().all(|it| used(it) > 0));
    }
    assert_eq!(search.why_not(), Some(NoGathering::NoStack));
}
