//! The room that glued rings leave, against brute force over heights and holes; the nearest
//! curve, against two general-purpose optimisers that share nothing with it: clarabel (an
//! interior-point solver) for the quadratic part, SLSQP (Kraft, Algorithm 733, ACM
//! Transactions on Mathematical Software 20, 1994: the method behind scipy's of that name)
//! for the whole. Each check prints the largest difference that it saw
//! (`cargo test -- --nocapture`).
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus,
};
use ringwright::design::link;
use ringwright::design::read::to_value;
use ringwright::design::trouble::Reason;
use ringwright::design::{
    Across, BaseChoice, BaseKind, BaseSet, Design, MadeOf, Measured, OutlineIs, PointChoice,
    StackRing, Vessel,
};
use ringwright::edit::built::{
    add_glued, draw_along_outside, pull, reorder, set_glued, take_nearest,
};
use ringwright::edit::outline::with_own_outline;
use ringwright::edit::start;
use ringwright::plan::built::{Better, Built, Reorder};
use ringwright::plan::caution::Caution;
use ringwright::plan::floor::choice;
use ringwright::plan::plan;
use ringwright::plan::stack::StackPlan;
use ringwright::show::figures::built::glued;
use ringwright::solve::nearest::{HalfSpace, nearest_within};
use ringwright::trade::ring::RingError;
use ringwright::trade::room::{
    Face, GluedRing, KEPT_MM, Room, Side, Stack, circle_radius_mm, hole_radius_mm, nearest,
};
use ringwright::trade::round::Round;
use ringwright::trade::shape::{Curve, Point, Wall};
use ringwright::units::length::Unit;
use shared::Dice;
use std::f64::consts::TAU;

/// A stack of rings around a curve: some too small, some with differing faces, the lowest
/// sometimes a disc.
fn random_stack(dice: &mut Dice, curve: &Curve, wall_mm: f64, spread_mm: f64) -> Stack {
    let count = dice.whole(1, 9);
    let is_roomy = dice.one_in(2.0);
    let mut stack = Stack::default();
    for place in 0..count {
        let high = dice.between(0.4, 1.6) * curve.height_mm() / count as f64;
        let bottom_mm = stack.height_mm;
        stack.height_mm += high;
        let has_no_hole = place == 0 && dice.one_in(3.0);
        let face = |dice: &mut Dice| {
            let (mut radius, mut inner) = (curve.radius_at(bottom_mm + high / 2.0), 0.0);
            if is_roomy {
                let largest = curve.largest_radius(bottom_mm, bottom_mm + high);
                inner = largest - radius + spread_mm;
                radius = largest;
            }
            let outside_mm = (radius + dice.between(-0.2, 1.0) * spread_mm).max(8.0);
            let hole_mm = (radius - wall_mm - inner - dice.between(-0.2, 1.0) * spread_mm).max(0.0);
            Face {
                outside_mm,
                hole_mm: if has_no_hole {
                    0.0
                } else {
                    hole_mm.min(outside_mm - 1.0)
                },
            }
        };
        let lower = face(dice);
        let upper = if dice.one_in(3.0) { face(dice) } else { lower };
        stack.rings.push(GluedRing {
            place,
            bottom_mm,
            top_mm: stack.height_mm,
            lower,
            upper,
        });
    }
    stack
}

fn random_points(dice: &mut Dice) -> Vec<Point> {
    let count = dice.whole(3, 7);
    let mut height_mm = 0.0;
    (0..count)
        .map(|place| {
            if place > 0 {
                height_mm += dice.between(12.0, 45.0);
            }
            Point {
                height_mm,
                radius_mm: dice.between(35.0, 90.0),
                is_corner: dice.one_in(8.0),
            }
        })
        .collect()
}

fn at_share(ring: &GluedRing, share: f64) -> (f64, f64, f64) {
    let mix = |from: f64, to: f64| from + (to - from) * share;
    (
        mix(ring.bottom_mm, ring.top_mm),
        mix(ring.lower.outside_mm, ring.upper.outside_mm),
        mix(ring.lower.hole_mm, ring.upper.hole_mm),
    )
}

/// Edges of every hole below the rim, as single points, with both faces' levels.
fn hole_points(stack: &Stack, rim: f64, each: u32) -> Vec<(f64, f64)> {
    let mut points = Vec::new();
    for ring in &stack.rings {
        for step in 0..=each {
            let (height, _, hole) = at_share(ring, f64::from(step) / f64::from(each));
            if height > rim + 1e-9 || ring.lower.hole_mm.max(ring.upper.hole_mm) <= 0.0 {
                continue;
            }
            points.push((height, hole));
            if step == 0 || step == each {
                points.extend(
                    (0..each).map(|part| (height, hole * f64::from(part) / f64::from(each))),
                );
            }
        }
        // The cut at the rim is a face too.
        let share = (rim - ring.bottom_mm) / (ring.top_mm - ring.bottom_mm);
        if (0.0..1.0).contains(&share) && ring.lower.hole_mm.max(ring.upper.hole_mm) > 0.0 {
            points.push((rim, at_share(ring, share).2));
        }
    }
    points
}

#[test]
fn a_caliper_reads_a_polygon_as_the_table_says() {
    // The polygon is turned under the caliper in small steps; its jaws are two parallel
    // lines, so the reading is the polygon's width. Narrowest: flat to flat (or to the
    // corner that faces a flat); widest: corner to corner.
    for count in 3..=24_u32 {
        let round = Round::new(count, &[], 0);
        let corner_radius = 50.0;
        let corners: Vec<(f64, f64)> = (0..count)
            .map(|corner| TAU * f64::from(corner) / f64::from(count))
            .map(|angle| (corner_radius * angle.cos(), corner_radius * angle.sin()))
            .collect();
        let width = |turn: f64| {
            let along = corners.iter().map(|(x, y)| x * turn.cos() + y * turn.sin());
            let (low, high) = along.fold((f64::MAX, f64::MIN), |(low, high), at| {
                (low.min(at), high.max(at))
            });
            high - low
        };
        let (mut narrowest, mut widest) = (f64::MAX, 0.0_f64);
        for step in 0..=20_000 {
            let here = width(TAU * f64::from(step) / 20_000.0 / f64::from(count));
            (narrowest, widest) = (narrowest.min(here), widest.max(here));
        }
        // The circle within: the nearest point of a flat, found along one.
        let (a, b) = (corners[0], corners[1]);
        let apothem = (0..=2_000)
            .map(|step| f64::from(step) / 2_000.0)
            .map(|share| (a.0 + (b.0 - a.0) * share).hypot(a.1 + (b.1 - a.1) * share))
            .fold(f64::MAX, f64::min);
        for (reading, across) in [(narrowest, Across::Flats), (widest, Across::Corners)] {
            let circle = circle_radius_mm(reading, across, &round);
            assert!(
                (circle - apothem).abs() < 1e-3,
                "{count} {across:?}: {circle} {apothem}"
            );
            let hole = hole_radius_mm(reading, across, &round);
            assert!(
                (hole - corner_radius).abs() < 1e-3,
                "{count} {across:?}: {hole}"
            );
        }
        assert!((hole_radius_mm(80.0, Across::Round, &round) - 40.0).abs() < 1e-12);
        assert!((circle_radius_mm(80.0, Across::Round, &round) - 40.0).abs() < 1e-12);
    }
}

#[test]
fn a_thousand_stacks_by_brute_force_over_heights() {
    let mut largest: f64 = 0.0;
    let (mut misfits, mut sides, mut walls) = (0, [0, 0], 0);
    for seed in 0..1_000 {
        let mut dice = Dice(seed);
        let points = random_points(&mut dice);
        let curve = Curve::through(&points).unwrap();
        let (foot, rim_wall) = (dice.between(2.0, 9.0), dice.between(2.0, 9.0));
        let stack = random_stack(&mut dice, &curve, foot, 25.0);
        let rim = curve.height_mm();
        let room = Room::new(&stack, foot, rim_wall, rim);
        let tightest = room.tightest(&curve).unwrap();

        let holes = hole_points(&stack, rim, 60);
        let mut outside = f64::MAX;
        let mut inside = f64::MAX;
        let mut even_wall = f64::MAX;
        // What one step of the grid can hide: as much as the value changes over it.
        let mut hidden: f64 = 0.0;
        for ring in &stack.rings {
            let end = ((rim - ring.bottom_mm) / (ring.top_mm - ring.bottom_mm)).min(1.0);
            let mut before: Option<(f64, f64)> = None;
            for step in 0..=90 {
                let (height, most, hole) = at_share(ring, end * f64::from(step) / 90.0);
                if end <= 0.0 {
                    continue;
                }
                let radius = curve.radius_at(height);
                outside = outside.min(most - radius);
                let wall = foot + (rim_wall - foot) * height / rim;
                let to_hole = |radius: f64| {
                    if radius <= hole {
                        return 0.0;
                    }
                    let away = |at: &(f64, f64)| (at.0 - height).hypot(at.1 - radius);
                    holes.iter().map(away).fold(f64::INFINITY, f64::min)
                };
                let here = (most - radius, to_hole(radius) - wall);
                inside = inside.min(here.1);
                if let Some(before) = before.replace(here) {
                    // Without a hole the inside is endless, and hides nothing.
                    let change = [(here.0 - before.0).abs(), (here.1 - before.1).abs()];
                    let seen = change.into_iter().filter(|change| change.is_finite());
                    hidden = seen.fold(hidden, f64::max);
                }
                let joint = stack.rings.iter().filter(|other| {
                    height >= other.bottom_mm - 1e-9 && height <= other.top_mm + 1e-9
                });
                let limit = joint
                    .map(|other| {
                        let share = (height - other.bottom_mm) / (other.top_mm - other.bottom_mm);
                        at_share(other, share.clamp(0.0, 1.0)).1
                    })
                    .fold(f64::INFINITY, f64::min);
                even_wall = even_wall.min(to_hole(limit));
            }
        }
        let brute = outside.min(inside);
        // Brute force looks at a grid: it can only miss the worst, by less than a step does.
        let difference = brute - tightest.left_mm;
        assert!(
            (-1e-6..hidden + 0.1).contains(&difference),
            "{seed}: {brute} {tightest:?} {hidden}"
        );
        largest = largest.max(difference);
        if (outside - inside).abs() > 0.5 {
            let side = if outside < inside {
                Side::Outside
            } else {
                Side::Inside
            };
            assert_eq!(tightest.side, side, "{seed}");
            sides[usize::from(side == Side::Inside)] += 1;
        }
        if let Some((_, wall)) = room.thickest_even_wall() {
            let difference = even_wall - wall;
            assert!(
                (-1e-6..hidden + 0.5).contains(&difference),
                "{seed}: {even_wall} {wall} {hidden}"
            );
            walls += 1;
        }
        misfits += u32::from(tightest.left_mm < 0.0);
    }
    println!(
        "tightest of 1,000 stacks: {misfits} too small, {sides:?} outside and inside, \
         {walls} even walls, largest difference {largest:.3}"
    );
    assert!((100..950).contains(&misfits), "{misfits}");
    // A check that is never come to would pass.
    assert!(sides.iter().all(|count| *count > 100), "{sides:?}");
    assert!(walls > 800, "{walls}");
}

#[test]
fn the_room_is_the_one_that_the_rolled_wall_needs() {
    // The wall of src/trade/shape.rs, found there by rolling balls along the curve: it must clear
    // every hole exactly where the room says so.
    let mut decided = [0, 0];
    for seed in 0..400 {
        let mut dice = Dice(10_000 + seed);
        let points = random_points(&mut dice);
        let curve = Curve::through(&points).unwrap();
        let wall_mm = dice.between(3.0, 9.0);
        let stack = random_stack(&mut dice, &curve, wall_mm, 14.0);
        let room = Room::new(&stack, wall_mm, wall_mm * 0.7, curve.height_mm());
        let wall = Wall::inside(curve.clone(), wall_mm, wall_mm * 0.7, 0.0);
        let mut cleared = f64::MAX;
        for ring in stack.rings.iter().filter(|ring| ring.lower.hole_mm > 0.0) {
            for step in 0..=80 {
                let (height, _, hole) = at_share(ring, f64::from(step) / 80.0);
                if height <= curve.height_mm() {
                    cleared = cleared.min(wall.inside_radius_at(height) - hole);
                }
            }
        }
        // Above the rings too: the wall is rolled there past the uppermost hole's edge.
        let heights = (0..=400).map(|step| curve.height_mm() * f64::from(step) / 400.0);
        let left = heights
            .map(|height| curve.radius_at(height) - room.least_radius(height))
            .fold(f64::MAX, f64::min);
        // Below the axis the rolled wall is cut off at 0: those cases say nothing.
        let low = stack
            .rings
            .iter()
            .any(|ring| ring.lower.hole_mm.min(ring.upper.hole_mm) < 1.0);
        if low || cleared.abs().min(left.abs()) < 0.1 {
            continue;
        }
        decided[usize::from(left > 0.0)] += 1;
        assert_eq!(cleared > 0.0, left > 0.0, "{seed}: {cleared} {left}");
    }
    println!("rolled wall: {decided:?} stacks without and with room");
    assert!(decided.iter().all(|count| *count > 30), "{decided:?}");
}

#[test]
fn the_nearest_place_in_half_spaces_is_an_interior_point_solvers() {
    let mut largest: f64 = 0.0;
    let (mut some, mut none) = (0, 0);
    for seed in 0..600 {
        let mut dice = Dice(20_000 + seed);
        let count = dice.whole(1, 9);
        let from: Vec<f64> = (0..count).map(|_| dice.between(-9.0, 9.0)).collect();
        let halves: Vec<HalfSpace> = (0..dice.whole(1, 24))
            .map(|_| HalfSpace {
                normal: (0..count).map(|_| dice.between(-1.0, 1.0)).collect(),
                bound: dice.between(-2.0, 1.2),
            })
            .collect();
        let quadratic = CscMatrix::identity(count);
        let linear: Vec<f64> = from.iter().map(|at| -at).collect();
        let rows: Vec<f64> = (0..count)
            .flat_map(|column| halves.iter().map(move |half| -half.normal[column]))
            .collect();
        let starts = (0..=count).map(|column| column * halves.len()).collect();
        let places = (0..count).flat_map(|_| 0..halves.len()).collect();
        let matrix = CscMatrix::new(halves.len(), count, starts, places, rows);
        let bounds: Vec<f64> = halves.iter().map(|half| -half.bound).collect();
        let settings = DefaultSettingsBuilder::default()
            .verbose(false)
            .build()
            .unwrap();
        let cones = [NonnegativeConeT(halves.len())];
        let mut solver =
            DefaultSolver::new(&quadratic, &linear, &matrix, &bounds, &cones, settings).unwrap();
        solver.solve();
        let own = nearest_within(&from, &halves);
        match solver.solution.status {
            SolverStatus::Solved | SolverStatus::AlmostSolved => {
                let own = own.unwrap_or_else(|| panic!("{seed}: none found"));
                let apart = own
                    .iter()
                    .zip(&solver.solution.x)
                    .map(|(a, b)| (a - b).abs());
                let apart = apart.fold(0.0, f64::max);
                assert!(apart < 1e-4, "{seed}: {apart}");
                largest = largest.max(apart);
                some += 1;
            }
            SolverStatus::PrimalInfeasible | SolverStatus::AlmostPrimalInfeasible => {
                assert_eq!(own, None, "{seed}");
                none += 1;
            }
            other => panic!("{seed}: {other:?}"),
        }
    }
    println!("nearest place: {some} cases, {none} with none, largest difference {largest:.1e}");
    assert!(some > 200 && none > 100, "{some} {none}");
}

/// A stack that a curve fits or nearly fits, and the curve.
fn near_miss(dice: &mut Dice) -> (Vec<Point>, Stack, f64) {
    let mut points = random_points(dice);
    for point in &mut points {
        point.is_corner = false;
    }
    let curve = Curve::through(&points).unwrap();
    let wall_mm = dice.between(4.0, 8.0);
    let mut stack = Stack::default();
    let count = dice.whole(3, 8);
    for place in 0..count {
        let bottom_mm = stack.height_mm;
        stack.height_mm += curve.height_mm() / count as f64;
        let top_mm = if place + 1 == count {
            curve.height_mm()
        } else {
            stack.height_mm
        };
        let wall = Wall::inside(curve.clone(), wall_mm, wall_mm, 0.0);
        let face = Face {
            outside_mm: curve.largest_radius(bottom_mm, top_mm) + dice.between(-2.5, 4.0),
            hole_mm: (wall.smallest_inside(bottom_mm, top_mm) - dice.between(-1.0, 5.0)).max(0.0),
        };
        stack.rings.push(GluedRing {
            place,
            bottom_mm,
            top_mm,
            lower: face,
            upper: face,
        });
    }
    (points, stack, wall_mm)
}

/// How far the points of a curve moved from the wanted ones, as a sum of squares, with what
/// was added between them held against the wanted curve.
fn moved_mm(wanted: &[Point], found: &[Point]) -> f64 {
    let pairs = wanted.iter().zip(found);
    pairs
        .map(|(a, b)| (a.radius_mm - b.radius_mm).powi(2))
        .sum::<f64>()
        .sqrt()
}

#[test]
fn the_nearest_curve_is_a_general_optimisers() {
    let (mut compared, mut stayed) = (0, 0);
    let mut largest: f64 = 0.0;
    for seed in 0..200 {
        let mut dice = Dice(30_000 + seed);
        let (wanted, stack, wall_mm) = near_miss(&mut dice);
        let rim = wanted.last().unwrap().height_mm;
        let room = Room::new(&stack, wall_mm, wall_mm, rim);
        let curve = Curve::through(&wanted).unwrap();
        if room.tightest(&curve).unwrap().left_mm >= 0.0 {
            // What fits already stays, but for what is kept from the limits.
            if let Some(found) = nearest(&wanted, &room) {
                assert!(moved_mm(&wanted, &found) < 0.1, "{seed}");
                stayed += 1;
            }
            continue;
        }
        let Some(found) = nearest(&wanted, &room) else {
            continue;
        };
        let found_curve = Curve::through(&found).unwrap();
        assert!(
            room.tightest(&found_curve).unwrap().left_mm >= 0.0,
            "{seed}"
        );
        if found.len() != wanted.len() {
            continue;
        }
        let best = slsqp_nearest(&wanted, &stack, &room);
        let (own, other) = (moved_mm(&wanted, &found), moved_mm(&wanted, &best));
        let worst = least_left(&best, &stack, &room);
        // Only where the optimiser itself arrived at a curve that fits can it be compared.
        if worst < KEPT_MM - 0.01 {
            continue;
        }
        compared += 1;
        assert!(own <= other + 0.1, "{seed}: {own} against {other}");
        largest = largest.max((own - other).abs());
    }
    println!(
        "nearest curve: {compared} compared, {stayed} stayed, largest difference {largest:.4} mm"
    );
    assert!(compared >= 40 && stayed >= 3, "{compared} {stayed}");
}

/// Heights all over the curve, every joint among them: seen from both sides, there the
/// limits jump.
fn heights_with_joints(stack: &Stack, rim: f64, each: u32) -> Vec<f64> {
    let within = |ring: &GluedRing| {
        let (bottom, high) = (ring.bottom_mm, ring.top_mm.min(rim) - ring.bottom_mm);
        (0..=each).map(move |step| bottom + high * f64::from(step) / f64::from(each))
    };
    stack.rings.iter().flat_map(within).collect()
}

fn least_left(points: &[Point], stack: &Stack, room: &Room) -> f64 {
    let curve = Curve::through(points).unwrap();
    heights_with_joints(stack, curve.height_mm(), 100)
        .into_iter()
        .map(|height| {
            let radius = curve.radius_at(height);
            (room.most_radius(height) - radius).min(radius - room.least_radius(height))
        })
        .fold(f64::MAX, f64::min)
}

/// The same problem put to SLSQP as it stands, with slopes by differences.
fn slsqp_nearest(wanted: &[Point], stack: &Stack, room: &Room) -> Vec<Point> {
    let rim = wanted.last().unwrap().height_mm;
    let with = |radii: &[f64]| -> Vec<Point> {
        let pairs = wanted.iter().zip(radii);
        pairs
            .map(|(point, &radius_mm)| Point {
                radius_mm,
                ..*point
            })
            .collect()
    };
    let heights = heights_with_joints(stack, rim, 9);
    let start: Vec<f64> = wanted.iter().map(|point| point.radius_mm).collect();
    let aim = start.clone();
    let objective = move |radii: &[f64], slope: Option<&mut [f64]>, (): &mut ()| {
        if let Some(slope) = slope {
            for (at, to) in slope.iter_mut().enumerate() {
                *to = 2.0 * (radii[at] - aim[at]);
            }
        }
        radii
            .iter()
            .zip(&aim)
            .map(|(a, b)| (a - b).powi(2))
            .sum::<f64>()
    };
    let radius_at = |radii: &[f64], height: f64| {
        Curve::through(&with(radii)).map_or(0.0, |curve| curve.radius_at(height))
    };
    let held = |sign: f64, limit: f64, height: f64| {
        move |radii: &[f64], slope: Option<&mut [f64]>, (): &mut ()| {
            if let Some(slope) = slope {
                for at in 0..radii.len() {
                    let mut near = radii.to_vec();
                    near[at] += 1e-5;
                    let more = radius_at(&near, height);
                    near[at] -= 2e-5;
                    slope[at] = sign * (more - radius_at(&near, height)) / 2e-5;
                }
            }
            sign * (radius_at(radii, height) - limit)
        }
    };
    let mut limits = Vec::new();
    for &height in &heights {
        let (most, least) = (room.most_radius(height), room.least_radius(height));
        let here = radius_at(&start, height);
        if most - here < 15.0 {
            limits.push(held(1.0, most - KEPT_MM, height));
        }
        if here - least < 15.0 {
            limits.push(held(-1.0, least + KEPT_MM, height));
        }
    }
    let bounds = vec![(1.0, 400.0); start.len()];
    let outcome = slsqp::minimize(objective, &start, &bounds, &limits, (), 60, None);
    match outcome {
        Ok((_, radii, _)) | Err((_, radii, _)) => with(&radii),
    }
}

fn glued_ring(outside: f64, inside: f64, height: f64) -> StackRing {
    StackRing {
        measured: Some(Measured {
            outside_diameter_mm: Some(outside),
            inside_diameter_mm: Some(inside),
            height_mm: Some(height),
            outside_across: Across::Round,
            inside_across: Across::Round,
            ..Measured::nothing()
        }),
        made_of: if inside > 0.0 {
            MadeOf::Segments
        } else {
            MadeOf::Disc
        },
        ..StackRing::plain(height, 12)
    }
}

/// A design of these glued rings, its curve drawn in them.
fn of_rings(rings: Vec<StackRing>) -> Design {
    let mut design = Design::starting("de-DE");
    design.vessel = Some(Vessel {
        outline_is: OutlineIs::InRings,
        rings,
        ..Vessel::blank()
    });
    design
}

/// Seven rings from a shelf, a disc below.
fn shelf() -> Design {
    let rings = [
        (120.0, 0.0),
        (160.0, 96.0),
        (190.0, 128.0),
        (205.0, 150.0),
        (200.0, 146.0),
        (180.0, 124.0),
        (165.0, 104.0),
    ];
    of_rings(
        rings
            .map(|(outside, inside)| glued_ring(outside, inside, 19.0))
            .to_vec(),
    )
}

/// The readings of a glued ring.
fn reading(design: &mut Design, place: usize) -> &mut Measured {
    let ring = &mut design.vessel.as_mut().unwrap().rings[place];
    ring.measured.as_mut().unwrap()
}

fn built(design: &Design) -> Built {
    plan(design).built().expect("a vessel").clone()
}

/// The vessel as it is drawn.
fn drawn(design: &Design) -> Vessel {
    plan(design).stack().expect("a vessel").vessel.clone()
}

fn better_order(design: &Design) -> Option<Better> {
    ringwright::plan::built::better_order(&built(design), &drawn(design))
}

/// Whether a vessel stays in its glued rings, by the rolled wall alone.
fn holds(vessel: &Vessel) -> bool {
    let curve = vessel.curve().unwrap();
    let rim = curve.height_mm();
    let wall = Wall::inside(curve, vessel.foot_wall_mm, vessel.rim_wall_mm, 0.0);
    let mut bottom = 0.0_f64;
    vessel.rings.iter().all(|ring| {
        let from = bottom;
        bottom += ring.height_now_mm();
        let top = bottom.min(rim);
        let Some(it) = &ring.measured else {
            return true;
        };
        let round = ring.round();
        let circle = circle_radius_mm(it.outside_diameter_mm.unwrap(), it.outside_across, &round);
        let hole = hole_radius_mm(it.inside_diameter_mm.unwrap(), it.inside_across, &round);
        from >= rim
            || (wall.outside.largest_radius(from, top) <= circle + 1e-6
                && (hole <= 0.0 || wall.smallest_inside(from, top) >= hole - 1e-3))
    })
}

/// A curve drawn in the rings stays drawn while slots and woods are added, its base as it was; and
/// taken as the turner's own it gives the same base.
#[test]
fn slots_and_woods_leave_the_drawn_curve_and_its_base() {
    use ringwright::design::OutlineIs;
    use ringwright::edit::{base, first_slots, inlay, vessel};
    let design = base::let_into(&shelf(), 0);
    let base_mm = |design: &Design| {
        let planned = plan(design);
        let base = planned.base().expect("it is let in").clone();
        (base.disc_mm, base.mortise_mm, base.thickness_mm)
    };
    let crossed = first_slots::begin(&design, first_slots::Begun::Crossing);
    let wood = inlay::strips_of(&crossed, 0, "Wenge");
    let painted = vessel::paint(&wood, 1, 0, 1);
    for changed in [&crossed, &wood, &painted] {
        assert_ne!(*changed, design);
        let own = changed.vessel.as_ref().unwrap();
        assert_eq!(own.outline_is, OutlineIs::InRings);
        assert_eq!(drawn(changed).points, drawn(&design).points);
        assert_eq!(base_mm(changed), base_mm(&design));
    }
    assert_eq!(base_mm(&with_own_outline(&design)), base_mm(&design));
    // A point that is pulled makes it the turner's own.
    let pulled = vessel::move_point(&design, 2, 60.0, 70.0);
    assert_eq!(pulled.vessel.unwrap().outline_is, OutlineIs::Own);
}

#[test]
fn seven_rings_from_the_shelf_become_a_curve() {
    let design = shelf();
    assert!(built(&design).troubles.is_empty());
    let vessel = drawn(&design);
    assert!(
        vessel.points.len() <= 8,
        "few points: {}",
        vessel.points.len()
    );
    assert!((vessel.points.last().unwrap().height_mm - 133.0).abs() < 0.01);
    assert!(holds(&vessel), "{vessel:?}");
    // A belly and at most one neck: the radius turns twice at the most.
    let curve = vessel.curve().unwrap();
    let radii: Vec<f64> = (0..=200)
        .map(|step| curve.radius_at(133.0 * f64::from(step) / 200.0))
        .collect();
    let turns = radii
        .windows(3)
        .filter(|three| (three[1] - three[0]) * (three[2] - three[1]) < -1e-9)
        .count();
    assert!(turns <= 2, "{turns}");
    let taken = with_own_outline(&design);
    assert_eq!(taken.vessel.as_ref().unwrap().points, vessel.points);
    assert!(
        plan(&taken)
            .placed_cautions()
            .iter()
            .all(|placed| !matches!(
                placed.caution,
                Caution::MeasuredSmall { .. }
                    | Caution::StackTooHigh { .. }
                    | Caution::StackTooLow { .. }
            ))
    );
    let planned = plan(&taken);
    // The wall that all of them allow is the least that is told of one.
    let told = glued(&planned, false, None).unwrap();
    let figure = told.list.iter().find(|it| it.key == "built.wall_up_to");
    let figure = &figure.unwrap();
    let lines: Vec<&String> = told.rows.iter().map(|row| &row.wall).collect();
    let ring: usize = figure.note.strip_prefix("ring ").unwrap().parse().unwrap();
    assert_eq!(
        *lines[ring - 1],
        format!("thickest wall {}", figure.shown.line())
    );
    let number = |line: &str| {
        line.strip_prefix("thickest wall ")?
            .split(' ')
            .next()?
            .parse()
            .ok()
    };
    let walls: Vec<f64> = lines.iter().filter_map(|line| number(line)).collect();
    assert!(
        walls.len() > 4
            && walls
                .iter()
                .all(|wall| *wall >= number(lines[ring - 1]).unwrap())
    );
    // They are there already: nothing is to be bought, sawn or glued to rings.
    assert!(planned.bill().is_empty(), "{:?}", planned.bill());
    for (ring, wanted) in planned
        .stack()
        .unwrap()
        .rings
        .iter()
        .zip([120.0, 160.0, 190.0])
    {
        assert!((2.0 * ring.wanted.outside_radius_mm - wanted).abs() < 1e-9);
    }
}

/// Along the outside the wall is thicker than in the middle, and still within the rings, by the
/// rolled wall alone; where none is thicker nothing is drawn anew.
#[test]
fn a_curve_along_the_outside_has_a_thicker_wall_and_fits() {
    let inches = [
        (6.0, 4.0),
        (7.25, 5.375),
        (8.0, 6.25),
        (8.5, 6.75),
        (8.625, 7.0),
        (8.5, 6.875),
        (8.0, 6.5),
    ];
    let seven = inches.map(|(outside, inside)| glued_ring(outside * 25.4, inside * 25.4, 19.05));
    let mut seven = of_rings(seven.to_vec());
    seven.unit = Unit::Inch16;
    for place in 0..7 {
        let own = reading(&mut seven, place);
        (own.outside_across, own.inside_across) = (Across::Flats, Across::Flats);
    }
    let wall_mm = |design: &Design| drawn(design).rim_wall_mm;
    let outer = draw_along_outside(&seven);
    println!(
        "seven rings: {} mm, {} mm along the outside",
        wall_mm(&seven),
        wall_mm(&outer)
    );
    assert!(wall_mm(&outer) >= wall_mm(&seven) && holds(&drawn(&outer)));
    let mut thicker = 0;
    for seed in 0..200 {
        let mut dice = Dice(47_000 + seed);
        let mut radius = dice.between(60.0, 100.0);
        let rings = (0..dice.whole(2, 9)).map(|_| {
            radius = (radius + dice.between(-10.0, 14.0)).clamp(40.0, 140.0);
            let ring_wall = dice.between(12.0, 24.0);
            let height = dice.between(12.0, 25.0);
            glued_ring(2.0 * radius, 2.0 * (radius - ring_wall), height)
        });
        let design = of_rings(rings.collect());
        if drawn(&design).points == Vessel::blank().points {
            continue;
        }
        let outer = draw_along_outside(&design);
        let (before, after) = (drawn(&design), drawn(&outer));
        assert!(holds(&after), "{seed}");
        if after.points == before.points {
            assert!(
                (after.rim_wall_mm - before.rim_wall_mm).abs() < 1e-9,
                "{seed}"
            );
            continue;
        }
        thicker += 1;
        assert!(after.rim_wall_mm > before.rim_wall_mm + 1e-6, "{seed}");
        assert!((after.floor_mm - before.floor_mm).abs() < 1e-9, "{seed}");
        let left_mm = built(&outer).tightest.unwrap().left_mm;
        assert!(left_mm >= 0.4, "{seed}: {left_mm}");
    }
    println!("thicker along the outside: {thicker} of 200");
    assert!(thicker >= 20, "{thicker}");
}

#[test]
fn curves_made_from_random_rings_fit_them() {
    let mut made = 0;
    for seed in 0..300 {
        let mut dice = Dice(40_000 + seed);
        let mut radius = dice.between(40.0, 90.0);
        let rings = (0..dice.whole(1, 12))
            .map(|_| {
                radius = (radius + dice.between(-14.0, 14.0)).clamp(25.0, 140.0);
                let ring_wall = dice.between(18.0, 36.0);
                glued_ring(
                    2.0 * radius,
                    (2.0 * (radius - ring_wall)).max(0.0),
                    dice.between(8.0, 30.0),
                )
            })
            .collect();
        let design = of_rings(rings);
        let found = built(&design);
        let vessel = drawn(&design);
        // Where the rings leave no room the vessel keeps the points that it began with.
        if vessel.points != Vessel::blank().points {
            made += 1;
            assert!(holds(&vessel), "{seed}");
            assert!(found.tightest.unwrap().left_mm >= 0.0, "{seed}");
        }
    }
    println!("curves from 300 random shelves: {made} made");
    assert!(made >= 250, "{made}");
}

#[test]
fn pulling_never_leaves_the_rings_and_reaches_what_they_allow() {
    let mut stopped = 0;
    let mut design = with_own_outline(&shelf());
    let mut dice = Dice(50_000);
    for step in 0..500 {
        let count = design.vessel.as_ref().unwrap().points.len();
        let place = dice.whole(0, count - 1);
        let (height, radius) = (dice.between(-20.0, 160.0), dice.between(-30.0, 180.0));
        let free = ringwright::edit::vessel::move_point(&design, place, height, radius);
        design = pull(&design, place, height, radius);
        let vessel = design.vessel.as_ref().unwrap();
        stopped += usize::from(free != design);
        let tightest = built(&design).tightest.unwrap();
        assert!(tightest.left_mm > -0.08, "{step}: {tightest:?}");
        assert!(vessel.points.last().unwrap().height_mm <= 133.0 + 1e-6);
    }
    assert!(stopped > 100, "{stopped}");
    // Pulled far out it stops right at a ring: no more than a tape's step is left.
    let design = pull(&with_own_outline(&shelf()), 3, 79.8, 500.0);
    let tightest = built(&design).tightest.unwrap();
    assert!((-0.03..0.6).contains(&tightest.left_mm), "{tightest:?}");
    for wild in [f64::NAN, f64::INFINITY, -1e300] {
        pull(&design, 2, wild, wild);
        pull(&design, 99, wild, 50.0);
    }
}

#[test]
fn a_curve_that_does_not_fit_can_be_pulled_in_but_not_farther_out() {
    let mut design = with_own_outline(&shelf());
    reading(&mut design, 3).outside_diameter_mm = Some(176.0);
    let before = built(&design).tightest.unwrap();
    assert_eq!(before.side, Side::Outside);
    assert!(before.left_mm < 0.0, "{before:?}");
    let points = design.vessel.as_ref().unwrap().points.clone();
    let widest = (0..points.len())
        .max_by(|a, b| points[*a].radius_mm.total_cmp(&points[*b].radius_mm))
        .unwrap();
    let point = &points[widest];
    let out = pull(&design, widest, point.height_mm, point.radius_mm + 20.0);
    assert!(built(&out).tightest.unwrap().left_mm >= before.left_mm - 0.03);
    let into = pull(&design, widest, point.height_mm, point.radius_mm - 1.0);
    assert!(built(&into).tightest.unwrap().left_mm > before.left_mm + 0.3);
    // And the nearest curve that fits can be taken in one step.
    let taken = take_nearest(&design);
    assert!(holds(taken.vessel.as_ref().unwrap()));
}

#[test]
fn a_better_order_is_the_best_of_all_single_changes() {
    let mut found = 0;
    for seed in 0..16 {
        let mut dice = Dice(60_000 + seed);
        let mut design = with_own_outline(&shelf());
        // The same rings in a muddled order, one of them a cone.
        for _ in 0..2 {
            let (one, two) = (dice.whole(1, 6), dice.whole(1, 6));
            design.vessel.as_mut().unwrap().rings.swap(one, two);
        }
        let cone = dice.whole(1, 6);
        let wide = reading(&mut design, cone).outside_diameter_mm.unwrap();
        reading(&mut design, cone).upper_outside_diameter_mm = Some(wide - dice.between(2.0, 30.0));
        let now = built(&design);
        let before = now.tightest.unwrap().left_mm;
        let mut best = before;
        for one in 0..7 {
            let turn = reorder(&design, Reorder::Turn(one));
            best = best.max(built(&turn).tightest.unwrap().left_mm);
            for two in one + 1..7 {
                let swap = reorder(&design, Reorder::Swap(one, two));
                best = best.max(built(&swap).tightest.unwrap().left_mm);
            }
        }
        match better_order(&design) {
            Some(better) => {
                found += 1;
                let after = built(&reorder(&design, better.change))
                    .tightest
                    .unwrap()
                    .left_mm;
                assert!(
                    (after - better.after_mm).abs() < 1e-6,
                    "{seed}: {after} {better:?}"
                );
                assert!(after > best - 0.8, "{seed}: {after} {best}");
            }
            None => assert!(best < before + 1.0, "{seed}: {best} {before}"),
        }
    }
    assert!(found > 5, "{found}");
}

#[test]
fn a_ring_with_next_to_nothing_to_spare_is_told() {
    let bare = start::begin(&Design::starting("de-DE"), "bowl", 254.0, 101.6);
    let planned = plan(&bare);
    let span = planned.stack().unwrap().rings[2].span;
    // The greatest outside over the ring's height, looked for at many heights.
    let curve = bare.vessel.as_ref().unwrap().curve().unwrap();
    let greatest = (0..=2000)
        .map(|step| span.bottom_mm + (span.top_mm - span.bottom_mm) * f64::from(step) / 2000.0)
        .map(|height| curve.radius_at(height))
        .fold(0.0, f64::max);
    for (spare_mm, is_tight, is_small) in [
        (1.0, false, false),
        (0.2, true, false),
        (0.01, true, false),
        (-0.2, false, true),
    ] {
        let mut design = set_glued(&bare, 2, true);
        reading(&mut design, 2).outside_diameter_mm = Some(2.0 * (greatest + spare_mm));
        reading(&mut design, 2).outside_across = Across::Round;
        let found = plan(&design).placed_cautions().to_vec();
        let has = |wanted: fn(&Caution) -> bool| {
            found
                .iter()
                .any(|it| it.ring == Some(2) && wanted(&it.caution))
        };
        let tight = has(
            |it| matches!(it, Caution::MeasuredTight { left_mm } if (0.0..0.397).contains(left_mm)),
        );
        let small = has(|it| matches!(it, Caution::MeasuredSmall { .. }));
        assert_eq!(
            (tight, small),
            (is_tight, is_small),
            "{spare_mm}: {found:?}"
        );
    }
}

#[test]
fn a_ring_cut_too_small_changes_its_neighbours_cautions() {
    let bare = start::begin(&Design::starting("de-DE"), "bowl", 254.0, 101.6);
    let mut design = set_glued(&bare, 2, true);
    let cautions = |design: &Design| -> Vec<(Option<usize>, Caution)> {
        let found = plan(design).placed_cautions().to_vec();
        found.into_iter().map(|it| (it.ring, it.caution)).collect()
    };
    // Glued as planned, with nothing measured, it says nothing new.
    let known = cautions(&bare);
    assert!(cautions(&design).iter().all(|it| known.contains(it)));
    let planned = plan(&bare);
    let stack = planned.stack().unwrap();
    // Smaller than the finished outside at its lower joint already.
    let finished = 2.0 * stack.joints[1].outside_radius_mm;
    reading(&mut design, 2).outside_diameter_mm = Some(finished - 12.0);
    reading(&mut design, 2).outside_across = Across::Round;
    let after = cautions(&design);
    assert!(after.iter().any(
        |(ring, caution)| *ring == Some(2) && matches!(caution, Caution::MeasuredSmall { .. })
    ));
    // The joint below it and the joint above it, which belongs to its upper neighbour.
    for ring in [2, 3] {
        let narrow = |found: &[(Option<usize>, Caution)]| {
            found.iter().any(|(at, caution)| {
                *at == Some(ring) && matches!(caution, Caution::NarrowGlue { .. })
            })
        };
        assert!(!narrow(&cautions(&bare)) && narrow(&after), "{ring}");
    }
    // A ring planed too low brings those above it down: they need other diameters.
    let mut low = set_glued(&bare, 1, true);
    let height_mm = low.vessel.as_ref().unwrap().rings[1].height_mm;
    reading(&mut low, 1).height_mm = Some(height_mm - 3.0);
    let lowered = plan(&low);
    let above = |plan: &StackPlan| plan.rings[2].span;
    let lowered = above(lowered.stack().unwrap());
    assert!((above(stack).bottom_mm - lowered.bottom_mm - 3.0).abs() < 1e-9);
    assert!(lowered.outside_radius_mm < above(stack).outside_radius_mm);
    assert!(cautions(&low)
        .iter()
        .any(|(_, caution)| matches!(caution, Caution::StackTooLow { missing_mm } if (missing_mm - 3.0).abs() < 0.1)));
}

#[test]
fn bad_readings_leave_the_rest_standing() {
    let mut design = shelf();
    reading(&mut design, 2).inside_diameter_mm = Some(240.0);
    let found = built(&design);
    assert_eq!(found.stack.rings.len(), 6);
    assert!((found.stack.height_mm - 133.0).abs() < 1e-9);
    assert_eq!(found.troubles.len(), 1);
    assert_eq!(
        found.troubles[0].field,
        "vessel.rings.2.measured.inside_diameter_mm"
    );
    // In the numbers that were typed.
    let told = RingError::NoWall {
        inside_mm: 240.0,
        outside_mm: 190.0,
    };
    assert_eq!(found.troubles[0].reason, Reason::Ring(told));
    // The others hold the curve, but nobody knows of the one that could not be read.
    let says = |design: &Design| {
        let screen = ringwright::show::figures::built::glued(&plan(design), false, None);
        screen.expect("glued rings").says
    };
    assert!(found.tightest.is_some_and(|it| it.left_mm >= 0.0));
    let told = says(&design);
    assert!(
        !told.contains("fits,") && told.contains("cannot be told"),
        "{told}"
    );
    assert!(says(&shelf()).starts_with("It fits,"), "{}", says(&shelf()));
    // Of a first ring that nobody has measured yet nothing is promised.
    let begun = add_glued(&Design::default());
    assert!(says(&begun).starts_with("Type what you measured"));
    let mut typed = begun;
    reading(&mut typed, 0).outside_diameter_mm = Some(260.0);
    assert!(says(&typed).starts_with("It "), "{}", says(&typed));
    // Without a height it is as high as it was planned; without an outside it is not known.
    reading(&mut design, 4).height_mm = None;
    assert_eq!(built(&design).stack.rings.len(), 6);
    reading(&mut design, 0).outside_diameter_mm = None;
    assert!(plan(&design).stack().unwrap().troubles.iter().any(|it| {
        it.field == "vessel.rings.0.measured.outside_diameter_mm"
            && it.reason == Reason::NotMeasured
    }));
    for count in [0, 1, 60] {
        let swelling = (0..count).map(|place| {
            let swell = (f64::from(place) / 7.0).sin() * 20.0;
            glued_ring(200.0 + swell, 140.0 + swell, 12.0)
        });
        let mut design = of_rings(swelling.collect());
        if count > 0 {
            assert!(holds(&drawn(&design)), "{count}");
        }
        better_order(&design);
        for place in 0..count as usize {
            let it = reading(&mut design, place);
            it.outside_diameter_mm = Some(20_000.0);
            it.inside_diameter_mm = Some(0.01);
            it.height_mm = Some(0.01);
        }
        better_order(&design);
        take_nearest(&design);
    }
}

/// Random stacks of planned and glued rings under the turner's own curve: the glued ones are
/// as they were measured, the planned ones hold the finished wall, and where the page says
/// that it fits, the wall is in the glued ones too (by the rolled wall, not by the room).
#[test]
fn planned_and_glued_rings_stand_in_one_stack() {
    let (mut glued, mut fitting, mut tried) = (0, 0, 0);
    for seed in 0..300 {
        let mut dice = Dice(80_000 + seed);
        let word = ["bowl", "closed", "vase", "platter"][dice.whole(0, 3)];
        let mut design = start::begin(
            &Design::default(),
            word,
            dice.between(120.0, 320.0),
            dice.between(60.0, 240.0),
        );
        // The lowest ring is a board, as in a design that says nothing of its base.
        design.base = None;
        let before = plan(&design);
        let before = before.stack().unwrap();
        for place in 0..before.rings.len() {
            let ring = &before.rings[place];
            if ring.segment.is_none() || dice.whole(0, 2) > 0 {
                continue;
            }
            design = set_glued(&design, place, true);
            let (circle, hole) = ring.as_cut_mm;
            let round = |length: f64| (length * 100.0).round() / 100.0;
            *reading(&mut design, place) = Measured {
                outside_diameter_mm: Some(round(2.0 * circle + dice.between(-4.0, 3.0))),
                inside_diameter_mm: Some(round((2.0 * hole + dice.between(-3.0, 4.0)).max(1.0))),
                height_mm: Some(round(ring.wanted.height_mm + dice.between(-0.5, 0.5))),
                outside_across: Across::Round,
                inside_across: Across::Round,
                ..Measured::nothing()
            };
        }
        let whole = plan(&design);
        let stack = whole.stack().unwrap();
        let found = whole.built().unwrap();
        let wall = stack.wall.as_ref().unwrap();
        let rim = wall.outside.height_mm();
        for (ring, planned) in stack.vessel.rings.iter().zip(&stack.rings) {
            tried += 1;
            let (low, high) = (
                planned.span.bottom_mm.min(rim),
                planned.span.top_mm.min(rim),
            );
            if let Some(it) = &ring.measured {
                glued += 1;
                let same = |radius: f64, diameter: Option<f64>| {
                    assert!((2.0 * radius - diameter.unwrap()).abs() < 1e-9, "{seed}");
                };
                same(planned.wanted.outside_radius_mm, it.outside_diameter_mm);
                same(planned.wanted.inside_radius_mm, it.inside_diameter_mm);
                assert!((planned.wanted.height_mm - it.height_mm.unwrap()).abs() < 1e-9);
                assert!(planned.strips_by_wood.is_empty());
            } else {
                for step in 0..=30 {
                    let z = low + (high - low) * f64::from(step) / 30.0;
                    assert!(wall.outside.radius_at(z) <= planned.wanted.outside_radius_mm + 1e-6);
                    assert!(wall.smallest_inside(z, z) >= planned.wanted.inside_radius_mm - 1e-6);
                }
            }
        }
        if found.tightest.is_some_and(|it| it.left_mm >= 0.0) {
            fitting += 1;
            assert!(holds(&stack.vessel), "{seed}");
        }
        // What is glued is on no list.
        let listed: u32 = whole
            .bill()
            .iter()
            .map(ringwright::plan::bill::Cut::piece_count)
            .sum();
        let planned = stack.vessel.rings.iter().zip(&stack.rings);
        let wanted: u32 = planned
            .filter(|(ring, _)| !ring.is_glued())
            .map(|(ring, it)| it.segment.map_or(1, |_| ring.segment_count))
            .sum();
        assert_eq!(listed, wanted, "{seed}");
    }
    println!("{tried} rings, {glued} of them glued; the curve fits in {fitting} of 300 stacks");
    assert!(glued > 300 && fitting > 30, "{glued} {fitting}");
}

#[test]
fn the_measured_rings_of_old_designs_are_their_vessels() {
    let old = serde_json::json!({
        "form": 1,
        "ring": { "wood": "Elm, rock", "height_mm": 20.0 },
        "measured": [
            { "outside_diameter_mm": 127.0, "inside_diameter_mm": 0.0, "height_mm": 19.05,
              "upper_outside_diameter_mm": null, "upper_inside_diameter_mm": null,
              "outside_across": "flats", "inside_across": "flats", "segment_count": 16 },
            { "outside_diameter_mm": 165.1, "inside_diameter_mm": 101.6, "height_mm": 19.05,
              "upper_outside_diameter_mm": 170.0, "upper_inside_diameter_mm": null,
              "outside_across": "corners", "inside_across": "flats", "segment_count": 16 }
        ]
    });
    let (design, troubles) = Design::restore(&old).unwrap();
    assert_eq!(troubles, []);
    let vessel = design.vessel.as_ref().unwrap();
    assert_eq!(vessel.woods, ["Elm, rock"]);
    assert_eq!(vessel.outline_is, OutlineIs::InRings);
    assert_eq!(vessel.rings[0].made_of, MadeOf::Disc);
    let second = vessel.rings[1].measured.as_ref().unwrap();
    assert_eq!(second.upper_outside_diameter_mm, Some(170.0));
    assert_eq!(second.outside_across, Across::Corners);
    assert_eq!(vessel.rings[1].segment_count, 16);
    assert!(holds(&drawn(&design)));
    // Beside a vessel they are its rings; those that were never measured stay planned.
    let mut beside = to_value(&start::begin(&Design::default(), "bowl", 254.0, 101.6));
    beside["measured"] = old["measured"].clone();
    beside["measured"][0] = serde_json::json!({
        "outside_diameter_mm": null, "inside_diameter_mm": null, "height_mm": null,
        "upper_outside_diameter_mm": null, "upper_inside_diameter_mm": null,
        "outside_across": "flats", "inside_across": "flats", "segment_count": 12
    });
    let (design, troubles) = Design::restore(&beside).unwrap();
    assert_eq!(troubles, []);
    let rings = &design.vessel.as_ref().unwrap().rings;
    assert!(!rings[0].is_glued() && rings[1].is_glued() && !rings[2].is_glued());
    assert!(to_value(&design).get("measured").is_none());
}

#[test]
fn measured_rings_come_back_from_a_link_and_cost_it_little() {
    let mut design = shelf();
    let mut bare = design.clone();
    for ring in &mut bare.vessel.as_mut().unwrap().rings {
        ring.measured = None;
    }
    let bare = link::encode(&bare);
    reading(&mut design, 1).upper_outside_diameter_mm = Some(151.5);
    reading(&mut design, 3).outside_across = Across::Corners;
    let whole = link::encode(&design);
    let (back, troubles) = link::decode(&whole).unwrap();
    assert_eq!((to_value(&back), troubles), (to_value(&design), Vec::new()));
    assert!(
        whole.len() < bare.len() + 180,
        "{} {}",
        whole.len(),
        bare.len()
    );
}

#[test]
fn the_least_radius_is_the_farthest_ball_around_any_point_of_a_hole() {
    for seed in 0..300 {
        let mut dice = Dice(70_000 + seed);
        let curve = Curve::through(&random_points(&mut dice)).unwrap();
        let wall_mm = dice.between(3.0, 12.0);
        let stack = random_stack(&mut dice, &curve, wall_mm, 30.0);
        let rim = stack.height_mm;
        let room = Room::new(&stack, wall_mm, wall_mm, rim);
        let height = dice.between(0.0, rim);
        let mut brute: f64 = 0.0;
        for ring in &stack.rings {
            for step in 0..=4_000 {
                let (at, _, hole) = at_share(ring, f64::from(step) / 4_000.0);
                let away = at - height;
                if away.abs() <= wall_mm && ring.lower.hole_mm.max(ring.upper.hole_mm) > 0.0 {
                    brute = brute.max(hole + (wall_mm * wall_mm - away * away).sqrt());
                }
            }
        }
        let least = room.least_radius(height);
        // Close to a ball's edge its side is steep: a step of the grid may hide that much.
        assert!(
            (-1e-9..0.8).contains(&(least - brute)),
            "{seed}: {least} {brute}"
        );
        let middle = stack
            .rings
            .iter()
            .any(|ring| (height - ring.bottom_mm).min(ring.top_mm - height) > 0.3 * wall_mm);
        assert!(!middle || least - brute < 0.02, "{seed}: {least} {brute}");
    }
}

#[test]
fn a_base_set_into_a_glued_ring_does_not_fall_through_its_hole() {
    // Inches, by a caliper that stood on the flats.
    const SEVEN: [(f64, f64); 7] = [
        (5.0, 3.0),
        (6.5, 4.0),
        (8.0, 5.5),
        (9.25, 7.0),
        (10.0, 8.0),
        (10.5, 8.375),
        (10.25, 8.5),
    ];
    let rings = SEVEN.map(|(outside, inside)| {
        let mut ring = glued_ring(25.4 * outside, 25.4 * inside, 19.05);
        let readings = ring.measured.as_mut().unwrap();
        (readings.outside_across, readings.inside_across) = (Across::Flats, Across::Flats);
        ring
    });
    let mut design = of_rings(rings.to_vec());
    // A new base is as thick as the floor that is drawn in the rings.
    let floor_mm = plan(&design).stack().unwrap().vessel.floor_mm;
    let fresh = choice(&design);
    let plies_mm: f64 = fresh.plies.iter().map(|ply| ply.thickness_mm).sum();
    assert!((plies_mm - floor_mm).abs() < 1e-9 && floor_mm > 5.0);
    design.base = Some(BaseChoice {
        kind: BaseKind::Plies,
        set: BaseSet::LetIn,
        in_ring: 8,
        ..fresh
    });
    let told = plan(&design).base().unwrap().troubles.clone();
    assert!(matches!(
        told[0].reason,
        Reason::NoSuchRing { ring: 8, count: 7 }
    ));
    // The corners of a regular polygon of twelve.
    let corners_mm = 25.4 * 3.0 / (TAU / 24.0).cos();
    for (set, ledge_mm) in [(BaseSet::LetIn, 0.0), (BaseSet::OnLedge, 5.0)] {
        for kind in [BaseKind::Solid, BaseKind::Plies] {
            let mut base = BaseChoice::of("Maple, sugar", 15.0);
            (base.kind, base.set, base.ledge_mm) = (kind, set, ledge_mm);
            design.base = Some(base);
            let plan_now = plan(&design);
            let made = plan_now.base().unwrap();
            assert_eq!(made.troubles, vec![]);
            assert!(made.disc_mm >= corners_mm + 2.0 * ledge_mm - 1e-6);
            if let Some(through_mm) = made.through_mm {
                assert!(through_mm >= corners_mm - 1e-6);
            }
            let small_mm = corners_mm - 0.1;
            design.base.as_mut().unwrap().diameter_mm = Some(small_mm);
            let told = plan(&design).base().unwrap().troubles.clone();
            let is_told = told.iter().any(|it| {
                matches!(it.reason, Reason::BaseFallsThrough { hole_mm, .. }
                    if (hole_mm - corners_mm).abs() < 1e-6)
            });
            assert!(is_told, "{told:?}");
        }
    }
}

/// The hole of the glued ring below counts as well as that of a base's own ring, unless a
/// ledge carries the base.
#[test]
fn a_base_above_a_glued_ring_is_held_against_its_hole() {
    let mut rings = vec![glued_ring(180.0, 100.0, 19.0)];
    rings.extend([StackRing::plain(19.0, 12), StackRing::plain(19.0, 12)]);
    let mut design = of_rings(rings);
    let vessel = design.vessel.as_mut().unwrap();
    vessel.outline_is = OutlineIs::Own;
    vessel.floor_mm = 30.0;
    vessel.points = [(0.0, 85.0), (57.0, 95.0)]
        .map(|(height_mm, radius_mm)| PointChoice {
            height_mm,
            radius_mm,
            is_corner: false,
        })
        .to_vec();
    let mut told = Vec::new();
    for set in [BaseSet::LetIn, BaseSet::OnLedge] {
        for diameter_mm in [None, Some(80.0), Some(99.9), Some(100.1)] {
            let mut base = BaseChoice::of("Maple, sugar", 10.0);
            (base.kind, base.set, base.in_ring) = (BaseKind::Plies, set, 2);
            base.diameter_mm = diameter_mm;
            design.base = Some(base);
            let plan = plan(&design);
            let made = plan.base().unwrap();
            assert_eq!(made.troubles, vec![]);
            let wider = made.cautions.iter().find_map(|it| match it {
                Caution::BaseNotCarried {
                    ring: 1, wider_mm, ..
                } => Some(*wider_mm),
                _ => None,
            });
            let wanted_mm = diameter_mm.map(|it| 100.0 - it).filter(|it| *it > 0.0);
            assert_eq!(
                wider.is_some(),
                set == BaseSet::LetIn && wanted_mm.is_some()
            );
            if let Some((wider, wanted)) = wider.zip(wanted_mm) {
                assert!((wider - wanted).abs() < 1e-9);
                told.push(wider);
            }
        }
    }
    assert_eq!(told.len(), 2);
}

#[test]
fn an_accent_over_a_glued_ring_is_planned_and_takes_nothing_from_it() {
    let bare = start::begin(&Design::starting("en-US"), "bowl", 254.0, 101.6);
    let mut design = set_glued(&bare, 2, true);
    let heights = |design: &Design| -> Vec<f64> {
        let rings = &design.vessel.as_ref().unwrap().rings;
        rings.iter().map(|ring| ring.height_mm).collect()
    };
    let before = heights(&design);
    design = ringwright::edit::vessel::add_accent(&design, 2, 0, 3.175);
    let mut after = heights(&design);
    assert!(design.vessel.as_ref().unwrap().rings[3].measured.is_none());
    assert!((after.remove(3) - 3.175).abs() < 1e-9);
    assert_eq!(after, before);
    // Of a planned one each takes half at the most, and none is left without a height.
    for _ in 0..40 {
        design = ringwright::edit::vessel::add_accent(&design, 1, 0, 3.175);
    }
    assert!(heights(&design).iter().all(|&height_mm| height_mm >= 0.01));
    assert!(heights(&design).len() < 40);
}
