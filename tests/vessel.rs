//! The vessel's curve, wall, volumes and rings against libraries and formulas that share
//! nothing with it: kurbo for the cubics, geo's buffer for the offset, closed forms for
//! the volumes, the printed table for the woods, and brute force for the rest. Each check
//! prints the largest difference that it saw (`cargo test -- --nocapture`).
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use geo::algorithm::buffer::{BufferStyle, LineCap, LineJoin};
use geo::{Buffer, LineString, LinesIter};
use kurbo::{
    BezPath, CubicBez, ParamCurve, ParamCurveArclen, ParamCurveDeriv, ParamCurveExtrema, PathEl,
    Shape,
};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use ringwright::design::link;
use ringwright::design::read::to_value;
use ringwright::design::{Between, Design, MadeOf, PointChoice, StackRing, Vessel};
use ringwright::edit::start;
use ringwright::plan::rings::RingInStack;
use ringwright::plan::stack::StackPlan;
use ringwright::trade::shape::{Curve, Piece, Point, Wall, volume_mm3};
use ringwright::trade::vessel;
use ringwright::trade::wood;
use ringwright::units::quantity;
use serde_json::{Value, json};
use shared::{cases, stack_of};
use std::cell::Cell;
use std::f64::consts::{FRAC_PI_2, PI};

/// Runs a check that answers with a difference, and prints the largest one.
fn largest<S: Strategy>(
    what: &str,
    count: u32,
    strategy: &S,
    check: impl Fn(S::Value) -> Result<f64, TestCaseError>,
) {
    let worst = Cell::new(0.0_f64);
    let outcome = TestRunner::new(cases(count)).run(strategy, |value| {
        worst.set(worst.get().max(check(value)?));
        Ok(())
    });
    println!("{what}: {count} cases, largest {:.3e}", worst.get());
    if let Err(failure) = outcome {
        panic!("{what}: {failure}");
    }
}

// Shapes.

fn corner(chance: f64) -> impl Strategy<Value = bool> + Clone {
    prop::bool::weighted(chance)
}

/// Points from rises and radii, from the foot up.
fn stacked(steps: &[(f64, f64, bool)]) -> Vec<Point> {
    let mut height_mm = 0.0;
    let mut points = Vec::new();
    for (place, &(rise, radius_mm, is_corner)) in steps.iter().enumerate() {
        if place > 0 {
            height_mm += rise;
        }
        points.push(Point {
            height_mm,
            radius_mm,
            is_corner,
        });
    }
    points
}

/// Anything that a hand could drag: bellies, shelves, pinches, corners.
fn wild() -> impl Strategy<Value = Vec<Point>> + Clone {
    let rise = prop_oneof![6 => 3.0..80.0, 3 => 0.05..3.0, 1 => 80.0..400.0];
    let radius = prop_oneof![
        8 => 5.0..150.0,
        1 => Just(0.0),
        1 => 0.0..5.0,
        1 => 150.0..500.0,
    ];
    prop::collection::vec((rise, radius, corner(0.3)), 2..9).prop_map(|steps| stacked(&steps))
}

/// A line that wanders slowly.
fn gentle() -> impl Strategy<Value = Vec<Point>> + Clone {
    let steps = prop::collection::vec((5.0..60.0, -0.9..0.9_f64), 2..8);
    (20.0..150.0, steps).prop_map(|(first, steps)| {
        let mut radius = first;
        let steps: Vec<_> = steps
            .iter()
            .map(|&(rise, lean)| {
                radius = f64::max(radius + lean * rise, 2.0);
                (rise, radius, false)
            })
            .collect();
        stacked(&steps)
    })
}

/// Out to a belly and back in to a mouth much narrower.
fn closed_form() -> impl Strategy<Value = Vec<Point>> + Clone {
    (
        prop::collection::vec((2.0..60.0, 0.05..1.0_f64), 2..6),
        prop::collection::vec((1.0..40.0, 0.05..1.0_f64), 2..6),
        40.0..250.0,
        corner(0.3),
    )
        .prop_map(|(below, above, belly, is_corner)| {
            let part = |steps: &[(f64, f64)]| {
                let whole: f64 = steps.iter().map(|step| step.1).sum();
                let mut sum = 0.0;
                steps
                    .iter()
                    .map(|&(rise, share)| {
                        sum += share;
                        (rise, sum / whole)
                    })
                    .collect::<Vec<_>>()
            };
            let up = part(&below)
                .into_iter()
                .map(|(rise, share)| (rise, belly * (0.2 + 0.8 * share), is_corner));
            let down = part(&above)
                .into_iter()
                .map(|(rise, share)| (rise, belly * (1.0 - 0.85 * share), false));
            stacked(&up.chain(down).collect::<Vec<_>>())
        })
}

/// Turns tighter than the wall is thick.
fn tight() -> impl Strategy<Value = Vec<Point>> + Clone {
    let rise = prop_oneof![0.3..4.0, 4.0..20.0];
    (
        prop::collection::vec((rise, -12.0..12.0_f64, corner(0.2)), 4..12),
        30.0..120.0,
    )
        .prop_map(|(steps, middle)| {
            let steps: Vec<_> = steps
                .into_iter()
                .map(|(rise, away, is_corner)| (rise, middle + away, is_corner))
                .collect();
            stacked(&steps)
        })
}

fn any_points() -> impl Strategy<Value = Vec<Point>> + Clone {
    prop_oneof![wild(), gentle(), closed_form(), tight()]
}

/// Walls from a hair to thicker than most shapes have room for.
fn any_wall() -> impl Strategy<Value = f64> + Clone {
    prop_oneof![6 => 2.0..15.0, 2 => 0.3..2.0, 1 => 15.0..60.0]
}

fn through(points: &[Point]) -> Curve {
    Curve::through(points).expect("points that rise make a curve")
}

/// The piece as kurbo has it: x from the axis, y above the foot.
fn cubic(piece: &Piece) -> CubicBez {
    let at = |place: usize| kurbo::Point::new(piece.radius_mm[place], piece.height_mm[place]);
    CubicBez::new(at(0), at(1), at(2), at(3))
}

fn cubics(curve: &Curve) -> Vec<CubicBez> {
    curve.pieces.iter().map(cubic).collect()
}

/// A place on a curve: piece, and parameter within it.
fn place_on(cubics: &[CubicBez], share: f64) -> (usize, f64) {
    let place = share * cubics.len() as f64;
    let piece = (place as usize).min(cubics.len() - 1);
    (piece, place - piece as f64)
}

/// The largest radius between two places, by kurbo's bounding boxes.
fn widest(cubics: &[CubicBez], from: (usize, f64), to: (usize, f64)) -> f64 {
    (from.0..=to.0)
        .map(|piece| {
            let start = if piece == from.0 { from.1 } else { 0.0 };
            let end = if piece == to.0 { to.1 } else { 1.0 };
            Shape::bounding_box(&cubics[piece].subsegment(start..end)).max_x()
        })
        .fold(0.0, f64::max)
}

// The curve.

#[test]
fn the_radius_at_a_height_is_where_the_cubic_is() {
    let strategy = (any_points(), prop::collection::vec(0.0..=1.0, 40));
    largest("radius_at", 2_000, &strategy, |(points, shares)| {
        let curve = through(&points);
        let cubics = cubics(&curve);
        let mut worst = 0.0_f64;
        for share in shares {
            let (piece, t) = place_on(&cubics, share);
            let at = cubics[piece].eval(t);
            worst = worst.max((curve.radius_at(at.y) - at.x).abs());
            prop_assert!(
                worst < 1e-5,
                "at {}: {} {}",
                at.y,
                curve.radius_at(at.y),
                at.x
            );
        }
        let (first, last) = (points[0], points[points.len() - 1]);
        prop_assert!((curve.radius_at(-5.0) - first.radius_mm).abs() < 1e-9);
        prop_assert!((curve.radius_at(last.height_mm + 5.0) - last.radius_mm).abs() < 1e-9);
        Ok(worst)
    });
}

#[test]
fn the_largest_radius_of_a_span_is_its_extreme() {
    let strategy = (
        any_points(),
        prop::collection::vec((0.0..=1.0, 0.0..=1.0), 20),
    );
    largest("largest_radius", 2_000, &strategy, |(points, spans)| {
        let curve = through(&points);
        let cubics = cubics(&curve);
        let mut worst = 0.0_f64;
        for (one, other) in spans {
            let (low, high) = (f64::min(one, other), f64::max(one, other));
            let (from, to) = (place_on(&cubics, low), place_on(&cubics, high));
            let expected = widest(&cubics, from, to);
            let found =
                curve.largest_radius(cubics[from.0].eval(from.1).y, cubics[to.0].eval(to.1).y);
            worst = worst.max((found - expected).abs());
            prop_assert!(worst < 1e-5, "{low} {high}: {found} but {expected}");
        }
        Ok(worst)
    });
}

#[test]
fn the_curve_rises_and_stays_between_its_points() {
    largest("past the points", 3_000, &any_points(), |points| {
        let curve = through(&points);
        let mut worst = 0.0_f64;
        for (cubic, ends) in cubics(&curve).iter().zip(points.windows(2)) {
            let (low, high) = (
                ends[0].radius_mm.min(ends[1].radius_mm),
                ends[0].radius_mm.max(ends[1].radius_mm),
            );
            let bounds = Shape::bounding_box(cubic);
            let past = (low - bounds.min_x()).max(bounds.max_x() - high);
            worst = worst.max(past);
            prop_assert!(past < 1e-9, "{past}");
            prop_assert!((cubic.p0.y - ends[0].height_mm).abs() < 1e-9);
            prop_assert!((cubic.p3.x - ends[1].radius_mm).abs() < 1e-9);
            // Nowhere level, but perhaps at its very ends or where it just touches.
            let turns = cubic.extrema();
            let rise = cubic.p3.y - cubic.p0.y;
            for pair in turns.windows(2) {
                prop_assert!(cubic.eval(pair[1]).y >= cubic.eval(pair[0]).y);
            }
            let rises = |step: u32| cubic.deriv().eval(f64::from(step) / 97.0).y;
            prop_assert!((1..97).all(|step| rises(step) >= -1e-9 * rise));
            let mut before = cubic.p0.y;
            for step in 1..=97 {
                let height = cubic.eval(f64::from(step) / 97.0).y;
                prop_assert!(height > before, "{height} after {before}");
                before = height;
            }
        }
        Ok(worst)
    });
}

#[test]
fn the_curve_is_smooth_at_smooth_points_and_free_at_corners() {
    let strategy = any_points();
    largest("kink, radians", 3_000, &strategy, |points| {
        let curve = through(&points);
        let cubics = cubics(&curve);
        let mut worst = 0.0_f64;
        for (place, point) in points.iter().enumerate().skip(1).take(points.len() - 2) {
            if point.is_corner {
                // What lies beyond a corner has no say on this side of it.
                let below = through(&points[..=place]);
                let above = through(&points[place..]);
                prop_assert_eq!(&below.pieces[..], &curve.pieces[..place]);
                prop_assert_eq!(&above.pieces[..], &curve.pieces[place..]);
                continue;
            }
            let before = cubics[place - 1].deriv().eval(1.0).to_vec2();
            let after = cubics[place].deriv().eval(0.0).to_vec2();
            let kink = before.cross(after).atan2(before.dot(after)).abs();
            worst = worst.max(kink);
            prop_assert!(kink < 1e-6, "{kink} at {place}");
        }
        Ok(worst)
    });
}

#[test]
fn a_corner_turns_and_the_same_point_without_it_does_not() {
    let points = |is_corner| {
        [
            (0.0, 50.0, false),
            (40.0, 80.0, is_corner),
            (90.0, 85.0, false),
        ]
        .map(|(height_mm, radius_mm, is_corner)| Point {
            height_mm,
            radius_mm,
            is_corner,
        })
    };
    let kink = |is_corner| {
        let cubics = cubics(&through(&points(is_corner)));
        let direction = |cubic: &CubicBez, t| cubic.deriv().eval(t).to_vec2().atan2();
        (direction(&cubics[0], 1.0) - direction(&cubics[1], 0.0)).abs()
    };
    assert!(kink(false) < 1e-9);
    let chords = (40_f64.atan2(30.0) - 50_f64.atan2(5.0)).abs();
    assert!((kink(true) - chords).abs() < 1e-9, "{}", kink(true));
}

#[test]
fn the_samples_run_along_the_whole_curve() {
    largest("samples off the curve", 500, &any_points(), |points| {
        let curve = through(&points);
        let cubics = cubics(&curve);
        let samples = curve.samples(16);
        prop_assert_eq!(samples.len(), 16 * cubics.len() + 1);
        let mut worst = 0.0_f64;
        for (place, (height, radius)) in samples.into_iter().enumerate() {
            let (piece, t) = place_on(&cubics, place as f64 / (16 * cubics.len()) as f64);
            let away = cubics[piece]
                .eval(t)
                .distance(kurbo::Point::new(radius, height));
            worst = worst.max(away);
        }
        prop_assert!(worst < 1e-6, "{worst}");
        Ok(worst)
    });
}

// The inside.

/// How far the reference itself may be off: flattened curve and arcs of chords.
const FLATTENING_MM: f64 = 0.001;

/// The bound.
const OFFSET_MM: f64 = 0.02;

/// The region that a ball rolled along the curve covers, as geo's buffer has it: its
/// edges as pairs of (height, radius).
fn buffered(curve: &Curve, wall_mm: f64) -> Vec<[(f64, f64); 2]> {
    let cubics = cubics(curve);
    let mut path = BezPath::new();
    path.move_to(cubics[0].p0);
    for cubic in &cubics {
        path.curve_to(cubic.p1, cubic.p2, cubic.p3);
    }
    let mut line: Vec<(f64, f64)> = Vec::new();
    kurbo::flatten(path, FLATTENING_MM, |element| {
        if let PathEl::MoveTo(at) | PathEl::LineTo(at) = element {
            line.push((at.x, at.y));
        }
    });
    // Sagitta of an arc's chord: w (1 − cos(α/2)).
    let angle = 2.0 * (1.0 - FLATTENING_MM / wall_mm).max(0.9).acos();
    let style = BufferStyle::new(wall_mm)
        .line_join(LineJoin::Round(angle))
        .line_cap(LineCap::Round(angle));
    LineString::from(line)
        .buffer_with_style(style)
        .lines_iter()
        .map(|edge| [(edge.start.y, edge.start.x), (edge.end.y, edge.end.x)])
        .collect()
}

/// The smallest radius that the region reaches at a height.
fn reach_at(edges: &[[(f64, f64); 2]], height_mm: f64) -> Option<f64> {
    edges
        .iter()
        .filter_map(|&[from, to]| {
            let share = (height_mm - from.0) / (to.0 - from.0);
            (0.0..=1.0)
                .contains(&share)
                .then_some(from.1 + share * (to.1 - from.1))
        })
        .reduce(f64::min)
}

/// How far `found` is from the reference boundary: 0 when the reference takes this
/// radius within [`OFFSET_MM`] of the height, for a wall is measured square and the
/// boundary may run level there.
fn away_from(reference: impl Fn(f64) -> Option<f64>, height_mm: f64, found_mm: f64) -> f64 {
    let radius = |height| reference(height).map(|radius: f64| radius.max(0.0));
    let direct = radius(height_mm).map_or(f64::MAX, |radius| (radius - found_mm).abs());
    if direct <= OFFSET_MM {
        return direct;
    }
    let near: Vec<f64> = (-8..=8)
        .filter_map(|step| radius(height_mm + OFFSET_MM * f64::from(step) / 8.0))
        .collect();
    let low = near.iter().copied().fold(f64::MAX, f64::min);
    let high = near.iter().copied().fold(f64::MIN, f64::max);
    (low - found_mm).max(found_mm - high).max(0.0)
}

#[test]
fn the_inside_is_the_offset_that_a_geometry_library_draws() {
    let strategy = (
        any_points(),
        any_wall(),
        prop::collection::vec(0.0..1.0, 24),
    );
    largest(
        "inside against geo",
        1_000,
        &strategy,
        |(points, wall_mm, shares)| {
            let curve = through(&points);
            let edges = buffered(&curve, wall_mm);
            let height = curve.height_mm();
            let wall = Wall::inside(curve, wall_mm, wall_mm, 0.0);
            let mut worst = 0.0_f64;
            for share in shares {
                let z = share * height;
                let found = wall.inside_radius_at(z);
                let away = away_from(|z| reach_at(&edges, z), z, found);
                worst = worst.max(away);
                prop_assert!(
                    away <= OFFSET_MM,
                    "at {z}: {found} but {:?}, wall {wall_mm}",
                    reach_at(&edges, z)
                );
            }
            Ok(worst)
        },
    );
}

/// Discs of the wall's thickness, so dense that the union's edge is smooth to a
/// thousandth: center height, center radius, thickness.
fn discs(wall: &Wall) -> Vec<[f64; 3]> {
    let height = wall.outside.height_mm();
    let thinnest = wall.foot_mm.min(wall.rim_mm);
    // Between two discs of radius w a step apart, the union's edge dips by s²/8w.
    let step_mm = (8.0 * thinnest * 0.0005).sqrt().min(0.2);
    let mut discs = Vec::new();
    for cubic in cubics(&wall.outside) {
        let count = (cubic.arclen(0.01) / step_mm).ceil().max(200.0) as u32;
        for step in 0..=count {
            let at = cubic.eval(f64::from(step) / f64::from(count));
            let thickness = wall.foot_mm + (wall.rim_mm - wall.foot_mm) * at.y / height;
            discs.push([at.y, at.x, thickness]);
        }
    }
    discs
}

/// The smallest radius that any disc reaches between two heights.
fn reach_of(discs: &[[f64; 3]], from_mm: f64, to_mm: f64) -> Option<f64> {
    discs
        .iter()
        .filter_map(|&[height, radius, thickness]| {
            let away = height - height.max(from_mm).min(to_mm);
            let level = thickness * thickness - away * away;
            (level >= 0.0).then(|| radius - level.sqrt())
        })
        .reduce(f64::min)
}

#[test]
fn a_tapering_wall_is_the_union_of_its_discs() {
    let strategy = (
        any_points(),
        any_wall(),
        any_wall(),
        prop::collection::vec((0.0..1.0, 0.0..0.3), 12),
    );
    largest(
        "tapering inside",
        1_000,
        &strategy,
        |(points, foot, rim, spans)| {
            let curve = through(&points);
            let height = curve.height_mm();
            let wall = Wall::inside(curve, foot, rim, 0.0);
            let discs = discs(&wall);
            let mut worst = 0.0_f64;
            for (low, more) in spans {
                let z = low * height;
                let at_level = |z: f64| reach_of(&discs, z, z);
                let away = away_from(at_level, z, wall.inside_radius_at(z));
                worst = worst.max(away);
                prop_assert!(
                    away <= OFFSET_MM,
                    "at {z}: {} but {:?}, {foot} to {rim}",
                    wall.inside_radius_at(z),
                    at_level(z)
                );
                // A whole span: a union too, so the largest of both differences counts.
                let top = f64::min(z + more * height, height);
                let found = wall.smallest_inside(z, top);
                let span = |grow: f64| {
                    reach_of(&discs, z - grow, top + grow).map_or(f64::MAX, |reach| reach.max(0.0))
                };
                let past =
                    (span(OFFSET_MM) - found).max(found - span(-OFFSET_MM.min((top - z) / 2.0)));
                worst = worst.max(past);
                prop_assert!(past <= OFFSET_MM, "{z} to {top}: {found} but {}", span(0.0));
            }
            Ok(worst)
        },
    );
}

/// Found by chance: a ball that only just reaches, far from the one that seems nearest.
#[test]
fn a_ball_that_only_just_reaches_counts() {
    let point = |(height_mm, radius_mm)| Point {
        height_mm,
        radius_mm,
        is_corner: false,
    };
    let curve = through(&[(0.0, 5.0), (27.01, 484.42), (79.7, 5.0)].map(point));
    let wall = Wall::inside(curve, 28.8, 28.8, 0.0);
    let discs = discs(&wall);
    for step in 0..=400 {
        let z = 33.0 + f64::from(step) * 0.005;
        let away = away_from(|z| reach_of(&discs, z, z), z, wall.inside_radius_at(z));
        assert!(away <= OFFSET_MM, "at {z}: {away}");
    }
}

#[test]
fn a_thin_wall_on_a_long_straight_side_is_there_at_every_height() {
    for (height_mm, wall_mm) in [(300.0, 2.0), (1000.0, 3.0), (20_000.0, 1.0), (100.0, 0.01)] {
        let side = |height_mm| Point {
            height_mm,
            radius_mm: 50.0,
            is_corner: false,
        };
        let curve = through(&[side(0.0), side(height_mm)]);
        let wall = Wall::inside(curve, wall_mm, wall_mm, 5.0);
        for step in 0..=997 {
            let z = 5.0 + (height_mm - 5.0) * f64::from(step) / 997.0;
            let inside = wall.inside_radius_at(z);
            assert!(
                (inside - (50.0 - wall_mm)).abs() < 1e-3,
                "{height_mm} high, wall {wall_mm}, at {z}: {inside}"
            );
        }
    }
}

// Designs.

fn point_choices(points: &[Point]) -> Vec<PointChoice> {
    points
        .iter()
        .map(|point| PointChoice {
            height_mm: point.height_mm,
            radius_mm: point.radius_mm,
            is_corner: point.is_corner,
        })
        .collect()
}

fn any_ring() -> impl Strategy<Value = StackRing> + Clone {
    let height = prop_oneof![6 => 5.0..30.0, 1 => 0.01..5.0, 1 => 30.0..200.0];
    let extra = prop_oneof![3 => Just(0.0), 1 => 0.0..20.0];
    let between = prop_oneof![
        3 => Just(Between::Nothing),
        1 => Just(Between::Spacer),
        1 => Just(Between::Gap)
    ];
    (
        height,
        prop_oneof![3_u32..40, 3_u32..=360],
        prop::bool::weighted(0.2),
        0_u32..=720,
        (between, 0.0..6.0),
        (extra.clone(), extra),
        prop::bool::weighted(0.3),
        prop::collection::vec(0_u32..=29, 1..13),
    )
        .prop_map(
            |(
                height_mm,
                count,
                is_disc,
                turn,
                (between, spacer_mm),
                extras,
                is_pinned,
                pattern,
            )| {
                StackRing {
                    made_of: if is_disc {
                        MadeOf::Disc
                    } else {
                        MadeOf::Segments
                    },
                    turn_half_segments: turn,
                    between,
                    spacer_mm,
                    outside_extra_mm: extras.0,
                    inside_extra_mm: extras.1,
                    is_pinned,
                    pattern,
                    ..StackRing::plain(height_mm, count)
                }
            },
        )
}

fn any_vessel() -> impl Strategy<Value = Vessel> + Clone {
    let rings = prop::collection::vec(any_ring(), 0..25);
    let woods = prop::sample::subsequence(vec!["Maple, sugar", "Purpleheart", "Ash, white"], 1..=3);
    let floor = prop_oneof![8 => 0.01..30.0, 1 => 30.0..2000.0];
    (any_points(), any_wall(), any_wall(), floor, rings, woods).prop_map(
        |(points, foot_wall_mm, rim_wall_mm, floor_mm, rings, woods)| Vessel {
            outline_is: ringwright::design::OutlineIs::Own,
            slot_sets: Vec::new(),
            points: point_choices(&points),
            foot_wall_mm,
            rim_wall_mm,
            floor_mm,
            rings,
            woods: woods.into_iter().map(str::to_owned).collect(),
        },
    )
}

fn any_design() -> impl Strategy<Value = Design> + Clone {
    let stock = prop_oneof![
        Just(vec![19.05, 25.4]),
        prop::collection::vec(prop_oneof![3 => 6.0..50.0, 1 => 0.01..6.0], 1..6),
    ];
    let allowance = (0.0..6.0, 0.0..6.0, 0.0..2.0);
    (any_vessel(), stock, allowance, 0.0..80.0).prop_map(|(vessel, stock, allowance, least)| {
        let mut design = Design {
            vessel: Some(vessel),
            ..Design::default()
        };
        design.shop.stock_mm = stock;
        design.shop.least_segment_mm = least;
        (
            design.allowance.outside_mm,
            design.allowance.inside_mm,
            design.allowance.face_mm,
        ) = allowance;
        design
    })
}

// Rings.

/// Radii of the outside within a span by brute force: dense, and the ends themselves.
fn widest_by_force(curve: &Curve, from_mm: f64, to_mm: f64) -> f64 {
    let mut widest = 0.0_f64;
    for cubic in cubics(curve) {
        // Where it enters and leaves the span, found by halving: the height rises.
        let place = |height: f64| {
            let (mut low, mut high) = (0.0, 1.0);
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if cubic.eval(middle).y < height {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            high
        };
        if cubic.p0.y > to_mm || cubic.p3.y < from_mm {
            continue;
        }
        let (start, end) = (place(from_mm), place(to_mm));
        for step in 0..=1500 {
            let t = start + (end - start) * f64::from(step) / 1500.0;
            widest = widest.max(cubic.eval(t).x);
        }
    }
    widest
}

#[test]
fn every_ring_holds_its_wall_and_not_a_hair_more() {
    largest("ring past its wall", 400, &any_design(), |design| {
        let vessel = design.vessel.as_ref().unwrap();
        let plan = stack_of(&design);
        let wall = plan.wall.as_ref().unwrap();
        let discs = discs(wall);
        let rim = wall.outside.height_mm();
        let mut worst = 0.0_f64;
        prop_assert_eq!(plan.rings.len(), vessel.rings.len());
        let mut bottom = 0.0;
        for (planned, ring) in plan.rings.iter().zip(&vessel.rings) {
            prop_assert!((planned.span.bottom_mm - bottom).abs() < 1e-9);
            bottom += ring.height_mm;
            prop_assert!((planned.span.top_mm - bottom).abs() < 1e-9);
            let (from, to) = (
                planned.span.bottom_mm.min(rim),
                planned.span.top_mm.min(rim),
            );
            let wanted = &planned.wanted;
            let outside = widest_by_force(&wall.outside, from, to);
            let circle = wanted.outside_radius_mm - ring.outside_extra_mm;
            // Where the curve is all but level, a rounding of the height is this much radius.
            prop_assert!(outside <= circle + 1e-3, "{outside} sticks out of {circle}");
            prop_assert!(outside >= circle - 0.01, "{outside} needs no {circle}");
            worst = worst.max((circle - outside).abs());
            let hole = planned.span.inside_radius_mm;
            prop_assert!(
                (wanted.inside_radius_mm - (hole - ring.inside_extra_mm).max(0.0)).abs() < 1e-9
            );
            if from < wall.floor_mm - 1e-9 {
                prop_assert!(hole.abs() < 1e-12, "the floor goes through");
                continue;
            }
            // A hair more of the wall, for the discs' own step is measured square to it.
            let reach = |more: f64| {
                let reach = reach_of(&discs, from - more, to + more);
                reach.unwrap_or(f64::MAX).max(0.0)
            };
            let inside = reach(0.0);
            prop_assert!(
                inside >= hole - 1e-5,
                "wall at {inside} in a hole of {hole}"
            );
            let needed = reach(0.005) - 0.01;
            prop_assert!(hole >= needed, "{from} to {to}: {inside} needs no {hole}");
            worst = worst.max((inside - hole).abs());
        }
        Ok(worst)
    });
}

/// Whether a point this far out in this direction is wood, spacer or gap of a ring.
fn is_covered(planned: &RingInStack, radius: f64, direction: f64) -> bool {
    let Some(segment) = &planned.segment else {
        return true;
    };
    let half = PI / f64::from(planned.wanted.segment_count);
    // Turn it into the segment around direction 0.
    let off = (direction + half).rem_euclid(2.0 * half) - half;
    let (along, across) = (radius * off.cos(), radius * off.sin().abs());
    let depth = (along - segment.inside_apothem_mm) / segment.strip_width_mm;
    let edge =
        segment.short_edge_mm + (segment.outside.long_edge_mm - segment.short_edge_mm) * depth;
    let in_segment = (-1e-9..=1.0 + 1e-9).contains(&depth) && across <= edge / 2.0 + 1e-6;
    // Square distance from the middle of the joint.
    let from_joint = radius * (half - off.abs()).sin();
    in_segment || from_joint <= planned.wanted.spacer_mm / 2.0 + 1e-6
}

#[test]
fn the_sawn_segments_cover_the_whole_finished_wall() {
    let strategy = (
        any_design(),
        prop::collection::vec((0.0..1.0, 0.0..2.0 * PI), 40),
    );
    let made = Cell::new(0_u32);
    largest(
        "blank past its reach",
        200,
        &strategy,
        |(design, places)| {
            let plan = stack_of(&design);
            for ring in &plan.rings {
                let wanted = &ring.wanted;
                prop_assert!(ring.reach_mm >= wanted.outside_radius_mm - 1e-9);
                if ring.segment.is_some() && wanted.inside_radius_mm < wanted.outside_radius_mm {
                    made.set(made.get() + 1);
                    for &(share, direction) in &places {
                        let radius = wanted.inside_radius_mm
                            + share * (wanted.outside_radius_mm - wanted.inside_radius_mm);
                        prop_assert!(
                            is_covered(ring, radius, direction),
                            "{radius} at {direction}"
                        );
                    }
                }
            }
            Ok(0.0)
        },
    );
    assert!(made.get() > 200, "only {} rings could be made", made.get());
}

#[test]
fn wood_kept_inside_for_turning_never_passes_the_center() {
    // A ring that the turner wants thicker inside has a smaller hole than its span.
    let mut design = start::begin(&Design::default(), "vase", 60.0, 200.0);
    for ring in &mut design.vessel.as_mut().unwrap().rings {
        ring.made_of = MadeOf::Segments;
        ring.inside_extra_mm = 12.0;
    }
    let plan = stack_of(&design);
    assert!(plan.troubles.is_empty(), "{:?}", plan.troubles);
}

// Volumes. Formulas: CRC Standard Mathematical Tables and Formulas, 30th edition, solids
// (cylinder, frustum of a right circular cone, spherical cap, spherical segment of two
// bases). The formulas are from memory.

fn cylinder_mm3(radius: f64, height: f64) -> f64 {
    PI * radius * radius * height
}

fn frustum_mm3(lower: f64, upper: f64, height: f64) -> f64 {
    PI * height * (lower * lower + lower * upper + upper * upper) / 3.0
}

fn cap_mm3(sphere_radius: f64, height: f64) -> f64 {
    PI * height * height * (3.0 * sphere_radius - height) / 3.0
}

/// A zone between two parallel circles of radii a and b.
fn zone_mm3(a: f64, b: f64, height: f64) -> f64 {
    PI * height * (3.0 * a * a + 3.0 * b * b + height * height) / 6.0
}

/// How far a figure is from the expected one, as a part of it.
fn off(found: f64, expected: f64) -> f64 {
    (found / expected - 1.0).abs()
}

fn straight(lower: f64, upper: f64, height: f64) -> Curve {
    let point = |height_mm, radius_mm| Point {
        height_mm,
        radius_mm,
        is_corner: false,
    };
    through(&[point(0.0, lower), point(height, upper)])
}

/// Half a sphere, open at its equator, that stands on a flat cut off at `cut` above
/// its lowest point; by many points.
fn bowl(sphere_radius: f64, cut: f64, count: u32) -> Vec<Point> {
    let start = (1.0 - cut / sphere_radius).acos();
    (0..=count)
        .map(|step| {
            let angle = start + (FRAC_PI_2 - start) * f64::from(step) / f64::from(count);
            Point {
                height_mm: sphere_radius * (1.0 - angle.cos()) - cut,
                radius_mm: sphere_radius * angle.sin(),
                is_corner: false,
            }
        })
        .collect()
}

#[test]
fn cylinders_hold_what_the_formula_says() {
    let strategy = (5.0..400.0, 5.0..2000.0, 0.01..0.9, 0.01..0.9);
    largest(
        "cylinder",
        1_000,
        &strategy,
        |(radius, height, thick, floor)| {
            let (thick, floor): (f64, f64) = (thick * radius, floor * height);
            let wall = Wall::inside(straight(radius, radius, height), thick, thick, floor);
            let outer = off(wall.outside_volume_mm3(), cylinder_mm3(radius, height));
            let held = cylinder_mm3(radius - thick, height - floor);
            let inner = off(wall.held_volume_mm3(), held);
            prop_assert!(outer < 1e-9, "{outer}");
            prop_assert!(inner < 1e-6, "{inner}");
            let (wood, center) = vessel::finished(&wall);
            prop_assert!(off(wood, cylinder_mm3(radius, height) - held) < 1e-5);
            // Moments of the two cylinders about the foot.
            let moment =
                cylinder_mm3(radius, height) * height / 2.0 - held * f64::midpoint(height, floor);
            prop_assert!(off(center, moment / wood) < 1e-4, "{center}");
            Ok(outer.max(inner))
        },
    );
}

#[test]
fn cones_hold_what_the_formula_says() {
    let strategy = (20.0..200.0, 0.0..1.4_f64, 20.0..300.0, 2.0..15.0);
    largest(
        "frustum",
        1_000,
        &strategy,
        |(lower, lean, height, thick)| {
            let upper = lower + height * lean.tan().min(3.0);
            let slope: f64 = (upper - lower) / height;
            let level = thick * slope.hypot(1.0);
            // From this height the wall's foot point lies on the side, not below it.
            let floor = thick + 1.0;
            let inside_at = |z: f64| lower + slope * z - level;
            prop_assume!(inside_at(floor) > 1.0 && floor < 0.8 * height);
            let wall = Wall::inside(straight(lower, upper, height), thick, thick, floor);
            let outer = off(wall.outside_volume_mm3(), frustum_mm3(lower, upper, height));
            let held = frustum_mm3(inside_at(floor), inside_at(height), height - floor);
            let inner = off(wall.held_volume_mm3(), held);
            prop_assert!(outer < 1e-9, "{outer}");
            prop_assert!(inner < 1e-6, "{inner}");
            Ok(outer.max(inner))
        },
    );
}

#[test]
fn half_spheres_hold_what_the_formula_says() {
    let strategy = (30.0..300.0, 0.02..0.3, 0.02..0.2, 60_u32..300);
    largest("sphere", 300, &strategy, |(radius, cut, thick, count)| {
        let (cut, thick): (f64, f64) = (cut * radius, thick * radius);
        let wall_of = |floor| {
            let curve = through(&bowl(radius, cut, count));
            Wall::inside(curve, thick, thick, floor)
        };
        let wall = wall_of(thick + 2.0);
        let whole = cap_mm3(radius, radius) - cap_mm3(radius, cut);
        let outer = off(wall.outside_volume_mm3(), whole);
        // The same solid as a zone: both formulas must agree.
        let foot = (radius * radius - (radius - cut).powi(2)).sqrt();
        prop_assert!(off(zone_mm3(foot, radius, radius - cut), whole) < 1e-12);
        // The inside is the sphere around the same center, where its foot point is
        // on the curve: above the ray through the foot's edge.
        let from_center = (radius - cut) * (1.0 - thick / radius);
        let floor = (radius - cut) - from_center + 1.0;
        let wall = wall_of(floor);
        let below = radius - cut - floor;
        let hollow = radius - thick;
        let at_floor = (hollow * hollow - below * below).sqrt();
        let inner = off(wall.held_volume_mm3(), zone_mm3(at_floor, hollow, below));
        prop_assert!(outer < 1e-3, "{outer}");
        prop_assert!(inner < 1e-3, "{inner}");
        Ok(outer.max(inner))
    });
}

/// The design of one straight-sided pot with these rings of one wood.
fn pot(curve: &[Point], wall_mm: f64, floor_mm: f64, heights: &[f64], wood: &str) -> Design {
    let vessel = Vessel {
        outline_is: ringwright::design::OutlineIs::Own,
        slot_sets: Vec::new(),
        points: point_choices(curve),
        foot_wall_mm: wall_mm,
        rim_wall_mm: wall_mm,
        floor_mm,
        rings: heights
            .iter()
            .map(|height| StackRing::plain(*height, 12))
            .collect(),
        woods: vec![wood.to_owned()],
    };
    Design {
        vessel: Some(vessel),
        ..Design::default()
    }
}

/// The finished wood of all its rings.
fn finished_mm3(plan: &StackPlan) -> f64 {
    let places = 0..plan.rings.len();
    places.map(|place| plan.finished_mm3(place)).sum()
}

#[test]
fn the_rings_of_a_half_sphere_weigh_what_the_formula_says() {
    let (radius, cut, thick, floor) = (120.0, 20.0, 8.0, 8.0);
    let curve = bowl(radius, cut, 60);
    let heights = [floor, 12.0, 20.0, 20.0, 20.0, 20.0];
    let below = radius - cut - floor;
    let hollow = radius - thick;
    let at_floor = (hollow * hollow - below * below).sqrt();
    let expected =
        cap_mm3(radius, radius) - cap_mm3(radius, cut) - zone_mm3(at_floor, hollow, below);
    for row in wood_table() {
        let Some(gravity) = row.gravity else { continue };
        let plan = stack_of(&pot(&curve, thick, floor, &heights, &row.name));
        let sum: f64 = finished_mm3(&plan);
        assert!(off(sum, expected) < 1e-3, "{sum} {expected}");
        // ρ = 1000 G (1 + 12/100), in kg/m³.
        let expected_kg = expected * 1e-9 * 1120.0 * gravity;
        let weight = plan.totals().finished_kg.expect("a weight");
        assert!(
            off(weight, expected_kg) < 1e-3,
            "{}: {weight} {expected_kg}",
            row.name
        );
    }
}

#[test]
fn a_cylinder_of_rings_weighs_glues_and_holds_what_the_formulas_say() {
    let side = |height_mm| Point {
        height_mm,
        radius_mm: 100.0,
        is_corner: false,
    };
    let design = pot(
        &[side(0.0), side(60.0)],
        10.0,
        20.0,
        &[20.0; 3],
        "Maple, sugar",
    );
    let mut design = design;
    design.vessel.as_mut().unwrap().rings[0].made_of = MadeOf::Disc;
    let plan = stack_of(&design);
    let ring = cylinder_mm3(100.0, 20.0) - cylinder_mm3(90.0, 20.0);
    let volumes = [cylinder_mm3(100.0, 20.0), ring, ring];
    for (place, expected) in volumes.into_iter().enumerate() {
        let finished_mm3 = plan.finished_mm3(place);
        assert!(off(finished_mm3, expected) < 1e-6, "{finished_mm3}");
    }
    assert!(off(plan.totals().held_mm3, cylinder_mm3(90.0, 40.0)) < 1e-6);
    let wood_mm3: f64 = volumes.iter().sum();
    assert!(
        off(
            plan.totals().finished_kg.unwrap(),
            wood_mm3 * 1e-9 * 0.63 * 1120.0
        ) < 1e-6
    );
    // The blank: a disc of the rough circle, and two rings as the difference of two
    // regular 12-gons, n r² tan(π/n) each (CRC, Polygons).
    let polygon = |apothem: f64| 12.0 * apothem * apothem * (PI / 12.0).tan();
    let allowance = &design.allowance;
    let high = 20.0 + 2.0 * allowance.face_mm;
    let rough = 100.0 + allowance.outside_mm;
    let hole = (90.0 - allowance.inside_mm) * (PI / 12.0).cos();
    let blank = cylinder_mm3(rough, high) + 2.0 * high * (polygon(rough) - polygon(hole));
    assert!(
        off(
            plan.totals().blank_kg.unwrap(),
            blank * 1e-9 * 0.63 * 1120.0
        ) < 1e-9
    );
    // As they are glued: one joint on the round disc, one between two polygons, and 24
    // between segments.
    let faces = 24.0 * high * (rough - hole) / (PI / 12.0).cos();
    let glue = PI * rough * rough + polygon(rough) - 2.0 * polygon(hole) + faces;
    assert!(
        off(plan.totals().glue_mm2, glue) < 1e-6,
        "{} {glue}",
        plan.totals().glue_mm2
    );
    assert_eq!(plan.totals().joint_count, 26);
}

/// What a turner weighs: nothing wild, so nothing is lost.
#[test]
fn the_rings_of_every_start_are_the_vessel() {
    let mut worst = 0.0_f64;
    for shape in start::ALL {
        for diameter in [60.0, 254.0, 600.0] {
            let height = diameter * shape.height_for_diameter;
            let design = start::begin(&Design::default(), shape.word, diameter, height);
            let plan = stack_of(&design);
            let wall = plan.wall.as_ref().unwrap();
            let hollow = volume_mm3(&wall.inside_samples(20_000));
            let expected = volume_mm3(&dense_outside(&wall.outside, 2000)) - hollow;
            let sum: f64 = finished_mm3(&plan);
            let apart = off(sum, expected).max(off(plan.totals().held_mm3, hollow));
            assert!(apart < 2e-3, "{} {diameter}: {apart}", shape.word);
            worst = worst.max(apart);
        }
    }
    println!("rings of every start: largest {worst:.3e}");
}

/// Height and radius along the whole outside, so many on each piece.
fn dense_outside(curve: &Curve, each: u32) -> Vec<(f64, f64)> {
    cubics(curve)
        .iter()
        .flat_map(|cubic| (0..=each).map(move |step| cubic.eval(f64::from(step) / f64::from(each))))
        .map(|at| (at.y, at.x))
        .collect()
}

#[test]
fn the_rings_together_are_the_vessel() {
    let strategy = (
        prop_oneof![
            any_points().boxed(),
            gentle().boxed(),
            closed_form().boxed()
        ],
        2.0..12.0,
        2.0..12.0,
        prop::collection::vec(0.05..1.0, 1..12),
    );
    largest(
        "sum of rings",
        200,
        &strategy,
        |(points, foot, rim, shares)| {
            let curve = through(&points);
            let height = curve.height_mm();
            let whole: f64 = shares.iter().sum();
            let heights: Vec<f64> = shares.iter().map(|share| height * share / whole).collect();
            let mut design = pot(
                &points,
                foot,
                (0.1 * height).max(0.02),
                &heights,
                "Maple, sugar",
            );
            design.vessel.as_mut().unwrap().rim_wall_mm = rim;
            let plan = stack_of(&design);
            let wall = plan.wall.as_ref().unwrap();
            let body = volume_mm3(&dense_outside(&wall.outside, 2000));
            // Slices for the hollow: even ones, and points along the curve, where it
            // may run almost level.
            let mut slices: Vec<f64> = dense_outside(&wall.outside, 100)
                .into_iter()
                .map(|(z, _)| z)
                .chain((0..=2000).map(|step| height * f64::from(step) / 2000.0))
                .filter(|z| *z > wall.floor_mm)
                .chain([wall.floor_mm])
                .collect();
            slices.sort_by(f64::total_cmp);
            let hollow: Vec<_> = slices
                .into_iter()
                .map(|z| (z, wall.inside_radius_at(z)))
                .collect();
            let hollow = volume_mm3(&hollow);
            let expected = body - hollow;
            let sum: f64 = finished_mm3(&plan);
            for place in 0..plan.rings.len() {
                let own = plan.finished_mm3(place);
                prop_assert!(own >= -1e-6 * body, "{own}");
            }
            // As parts of the whole body: wild shapes have walls that are next to nothing.
            let held = (plan.totals().held_mm3 - hollow).abs() / body;
            let rings = (sum - expected).abs() / body;
            let outer = (wall.outside_volume_mm3() - body).abs() / body;
            prop_assert!(outer < 5e-3, "outside {outer}");
            prop_assert!(held < 0.05, "held {held}");
            prop_assert!(rings < 0.05, "rings {rings}");
            Ok(rings.max(held).max(outer))
        },
    );
}

// Woods.

const WOODS: &str = include_str!("reference/woods.csv");

struct WoodRow {
    name: String,
    gravity: Option<f64>,
}

fn wood_table() -> Vec<WoodRow> {
    let mut reader = csv::Reader::from_reader(WOODS.as_bytes());
    let names = reader.headers().expect("a heading").clone();
    let column = |name: &str| {
        let found = names.iter().position(|header| header == name);
        found.unwrap_or_else(|| panic!("no column {name}"))
    };
    let (name, gravity) = (column("wood"), column("specific_gravity_12pct_mc"));
    reader
        .records()
        .map(|row| {
            let row = row.expect("a row");
            let figure = &row[gravity];
            WoodRow {
                name: row[name].to_owned(),
                gravity: (!figure.is_empty()).then(|| figure.parse().expect("a number")),
            }
        })
        .collect()
}

#[test]
fn every_wood_has_the_tables_name_and_gravity() {
    let table = wood_table();
    assert_eq!(table.len(), wood::all().count());
    for row in &table {
        let wood = wood::find(&row.name).unwrap_or_else(|| panic!("no {}", row.name));
        assert_eq!(wood.name, row.name);
        assert_eq!(wood.specific_gravity, row.gravity, "{}", row.name);
        let expected = row.gravity.map(|gravity| 1120.0 * gravity);
        let density = wood.density_kg_m3();
        assert_eq!(density.is_some(), expected.is_some());
        for (density, expected) in density.iter().zip(expected) {
            assert!(off(*density, expected) < 1e-12, "{}", row.name);
        }
    }
}

// Dividing.

#[test]
fn divided_rings_add_up_keep_the_pinned_and_fit_the_stock() {
    largest("left of the height", 2_000, &any_design(), |design| {
        let before = design.vessel.as_ref().unwrap();
        let divided = start::divide(&design);
        let vessel = divided.vessel.as_ref().unwrap();
        let curve = vessel.curve().unwrap();
        let sum: f64 = vessel.rings.iter().map(|ring| ring.height_mm).sum();
        let pinned = |vessel: &Vessel| -> Vec<StackRing> {
            vessel
                .rings
                .iter()
                .filter(|ring| ring.is_pinned)
                .cloned()
                .collect()
        };
        prop_assert_eq!(
            pinned(vessel),
            pinned(before),
            "pinned rings stay as they are"
        );
        prop_assert_eq!(&vessel.points, &before.points);
        let kept: f64 = pinned(vessel).iter().map(|ring| ring.height_mm).sum();
        let left = (sum - curve.height_mm().max(kept)).abs();
        if vessel.rings.len() < 200 {
            prop_assert!(left < 0.06, "{sum} of {}", curve.height_mm());
        }
        let face = 2.0 * design.allowance.face_mm;
        let thickest = design.shop.stock_mm.iter().copied().fold(0.0, f64::max) - face;
        // Thinner than that is no stock for rings.
        let has_stock = thickest > 1.5;
        let mut bottom = 0.0;
        let count = vessel.rings.iter().find(|ring| !ring.is_pinned);
        let count = count.map(|ring| ring.segment_count);
        for ring in &vessel.rings {
            prop_assert!(ring.height_mm > 0.0);
            if !ring.is_pinned {
                prop_assert!(
                    !has_stock || ring.height_mm <= thickest + 1e-4,
                    "{} of {thickest}",
                    ring.height_mm
                );
                let is_floor = bottom < vessel.floor_mm - 1e-6;
                prop_assert_eq!(ring.made_of == MadeOf::Disc, is_floor);
                prop_assert_eq!(Some(ring.segment_count), count);
                // The page's own choice, or the turner's.
                let count = ring.segment_count;
                let is_own = count == design.ring.segment_count
                    || before.rings.iter().any(|it| it.segment_count == count);
                prop_assert!(is_own || [24, 20, 16, 12, 8, 6].contains(&count), "{count}");
            }
            bottom += ring.height_mm;
        }
        Ok(if vessel.rings.len() < 200 { left } else { 0.0 })
    });
}

#[test]
fn dividing_again_changes_nothing() {
    for shape in start::ALL {
        for diameter in [60.0, 150.0, 254.0, 400.0] {
            let height = diameter * shape.height_for_diameter;
            let once = start::begin(&Design::default(), shape.word, diameter, height);
            assert_eq!(start::divide(&once), once, "{} {diameter}", shape.word);
        }
    }
}

#[test]
fn a_floor_as_thick_as_the_stock_takes_one_disc() {
    // 3/4 in stock less 1/32 in on each face is 11/16 in: 17.4625 mm, no whole hundredth.
    let mut design = start::begin(&Design::default(), "bowl", 250.0, 100.0);
    design.vessel.as_mut().unwrap().floor_mm = 17.4625;
    let rings = start::divide(&design).vessel.unwrap().rings;
    let discs = rings
        .iter()
        .filter(|ring| ring.made_of == MadeOf::Disc)
        .count();
    assert_eq!(
        discs,
        1,
        "{:?}",
        rings.iter().map(|ring| ring.height_mm).collect::<Vec<_>>()
    );
}

#[test]
fn every_start_of_a_sensible_size_is_whole() {
    let words: Vec<&str> = start::ALL.iter().map(|start| start.word).collect();
    let strategy = (prop::sample::select(words), 20.0..1500.0, 5.0..1500.0);
    largest("start", 1_000, &strategy, |(word, diameter, height)| {
        let design = start::begin(&Design::default(), word, diameter, height);
        let vessel = design.vessel.as_ref().unwrap();
        let curve = vessel.curve();
        prop_assert!(curve.is_some(), "{word} {diameter} {height}");
        let curve = curve.unwrap();
        let widest = curve.largest_radius(0.0, curve.height_mm());
        // To the tape.
        let step = design.unit.step_mm() / 2.0 + 0.01;
        prop_assert!((2.0 * widest - diameter).abs() < step);
        prop_assert!((curve.height_mm() - height).abs() < step);
        let back = Design::restore(&to_value(&design));
        prop_assert_eq!(back, Ok((design, vec![])));
        Ok(0.0)
    });
}

// Whatever can be restored.

/// Every figure of a plan.
fn plan_figures(plan: &StackPlan) -> Vec<f64> {
    let totals = plan.totals();
    let mut figures = vec![totals.held_mm3, totals.center_of_mass_mm, totals.glue_mm2];
    figures.extend(totals.blank_kg.iter().chain(&totals.finished_kg));
    figures.extend(totals.woods.iter().map(|wood| wood.strip_mm3));
    for joint in &plan.joints {
        figures.extend([
            joint.height_mm,
            joint.outside_radius_mm,
            joint.inside_radius_mm,
            joint.glue_width_mm(),
            joint.glue_area_mm2(),
        ]);
    }
    for (place, ring) in plan.rings.iter().enumerate() {
        figures.extend([
            ring.span.bottom_mm,
            ring.span.top_mm,
            ring.span.outside_radius_mm,
            ring.span.inside_radius_mm,
            ring.reach_mm,
            ring.blank_mm3,
            plan.finished_mm3(place),
            ring.as_cut_mm.0,
            ring.as_cut_mm.1,
        ]);
        figures.extend(ring.strips.iter().flat_map(|strips| {
            [
                strips.pitch_mm,
                strips.ends_mm,
                strips.total_length_mm,
                strips.last_strip_mm,
            ]
        }));
    }
    figures
}

/// What a plan must be, whatever it is made from.
fn is_sound(design: &Design) -> Result<(), TestCaseError> {
    let Some(vessel) = &design.vessel else {
        return Ok(());
    };
    let plan = stack_of(design);
    let figures = plan_figures(&plan);
    prop_assert!(
        figures.iter().all(|figure| figure.is_finite()),
        "{figures:?}"
    );
    prop_assert_eq!(
        plan.wall.is_none(),
        plan.rings.is_empty() && !plan.troubles.is_empty() && vessel.curve().is_none()
    );
    let volume = plan.wall.as_ref().map_or(0.0, Wall::outside_volume_mm3);
    for (place, ring) in plan.rings.iter().enumerate() {
        let own = plan.finished_mm3(place);
        prop_assert!(own >= -1e-4 * volume, "{own}");
        prop_assert!(ring.blank_mm3 >= 0.0);
        prop_assert!(ring.span.inside_radius_mm <= ring.span.outside_radius_mm + 1e-9);
    }
    let divided = start::divide(design);
    prop_assert!(divided.vessel.as_ref().unwrap().rings.len() <= 200);
    let back = Design::restore(&to_value(&divided));
    prop_assert_eq!(
        back,
        Ok((divided, vec![])),
        "divided rings are in every field's range"
    );
    Ok(())
}

/// What might stand where a length should.
fn any_figure() -> impl Strategy<Value = Value> + Clone {
    prop_oneof![
        12 => (0.0..300.0).prop_map(Value::from),
        2 => Just(json!(0)),
        2 => Just(json!(20_000)),
        2 => (0.0..1e-9).prop_map(Value::from),
        1 => Just(json!(5e-324)),
        1 => Just(json!(0.01)),
        1 => any::<f64>().prop_map(Value::from),
        1 => any::<i64>().prop_map(Value::from),
        1 => prop::sample::select(vec![
            json!(null), json!("12"), json!([]), json!({}), json!(true), json!(-1), json!(1e308),
            json!("NaN"), json!(20_000.000_001),
        ]),
    ]
}

/// A point or ring of anything, or something else in its place.
fn any_thing(names: &'static [&'static str]) -> impl Strategy<Value = Value> + Clone {
    let whole = prop::collection::vec(any_figure(), names.len()).prop_map(move |figures| {
        names
            .iter()
            .zip(figures)
            .map(|(name, figure)| ((*name).to_owned(), figure))
            .collect::<serde_json::Map<_, _>>()
            .into()
    });
    prop_oneof![19 => whole, 1 => any_figure()]
}

/// A vessel's JSON of anything: lists too long and too short, values out of bounds.
fn any_vessel_json() -> impl Strategy<Value = Value> {
    let point = any_thing(&["height_mm", "radius_mm", "is_corner"]);
    // Sorted, so that some make a curve.
    let points = prop::collection::vec(point, 0..45).prop_map(|mut points| {
        points.sort_by(|a, b| {
            let height = |point: &Value| point["height_mm"].as_f64().unwrap_or(0.0);
            height(a).total_cmp(&height(b))
        });
        Value::from(points)
    });
    let ring = any_thing(&[
        "height_mm",
        "segment_count",
        "turn_half_segments",
        "spacer_mm",
        "gap_by",
        "gap_deg",
        "gap_pct",
        "further_deg",
        "outside_extra_mm",
        "inside_extra_mm",
        "is_pinned",
        "pattern",
        "between",
        "made_of",
    ]);
    let rings = prop::collection::vec(ring, 0..30).prop_map(Value::from);
    let woods = prop::collection::vec(any_figure(), 0..33).prop_map(Value::from);
    let lengths = prop::collection::vec(any_figure(), 3);
    let list = |list: BoxedStrategy<Value>| prop_oneof![19 => list, 1 => any_figure()];
    (
        list(points.boxed()),
        list(rings.boxed()),
        list(woods.boxed()),
        lengths,
    )
        .prop_map(|(points, rings, woods, lengths)| {
            json!({
                "points": points,
                "rings": rings,
                "woods": woods,
                "foot_wall_mm": lengths[0],
                "rim_wall_mm": lengths[1],
                "floor_mm": lengths[2],
            })
        })
}

/// A sound vessel with a few of its places spoiled: more often a curve than anything.
fn spoiled_vessel_json() -> impl Strategy<Value = Value> {
    let spoil = (any::<prop::sample::Index>(), any_figure());
    (any_design(), prop::collection::vec(spoil, 0..6)).prop_map(|(design, spoils)| {
        let mut whole = to_value(&design)["vessel"].clone();
        for (place, figure) in spoils {
            let mut places = Vec::new();
            list_places(&whole, String::new(), &mut places);
            let chosen: &String = place.get(&places);
            *whole.pointer_mut(chosen).unwrap() = figure;
        }
        whole
    })
}

/// The JSON pointers of everything in a value.
fn list_places(value: &Value, at: String, places: &mut Vec<String>) {
    match value {
        Value::Array(items) => {
            for (place, item) in items.iter().enumerate() {
                list_places(item, format!("{at}/{place}"), places);
            }
        }
        Value::Object(map) => {
            for (name, item) in map {
                list_places(item, format!("{at}/{name}"), places);
            }
        }
        _ => {}
    }
    places.push(at);
}

#[test]
fn whatever_is_restored_has_a_plan_of_numbers() {
    let strategy = (
        prop_oneof![any_vessel_json().boxed(), spoiled_vessel_json().boxed()],
        prop::collection::vec(any_figure(), 8),
    );
    let curves = Cell::new(0_u32);
    largest("restored", 1_500, &strategy, |(vessel, figures)| {
        let mut whole = to_value(&Design::default());
        whole["vessel"] = vessel;
        whole["allowance"] = json!({
            "outside_mm": figures[0], "inside_mm": figures[1], "face_mm": figures[2],
        });
        whole["shop"]["stock_mm"] = json!([figures[3], figures[4]]);
        whole["shop"]["least_segment_mm"] = figures[5].clone();
        whole["shop"]["kerf_mm"] = figures[6].clone();
        whole["shop"]["strip_length_mm"] = figures[7].clone();
        let restored = Design::restore(&whole);
        prop_assert!(restored.is_ok(), "{restored:?}");
        let (design, _) = restored.unwrap();
        if let Some(vessel) = &design.vessel {
            curves.set(curves.get() + u32::from(vessel.curve().is_some()));
        }
        is_sound(&design)?;
        let again = Design::restore(&to_value(&design));
        prop_assert_eq!(again, Ok((design, vec![])));
        Ok(0.0)
    });
    println!("of them with a curve: {}", curves.get());
    assert!(curves.get() > 250);
}

/// As large as a design can be.
fn largest_design() -> Design {
    let mut design = start::begin(&Design::default(), "vase", 400.0, 2000.0);
    let vessel = design.vessel.as_mut().unwrap();
    let first = &vessel.points[0];
    vessel.points = (0..40)
        .map(|place| PointChoice {
            height_mm: 51.3 * f64::from(place),
            radius_mm: 150.0 + 40.123_4 * (f64::from(place) / 5.0).sin(),
            ..first.clone()
        })
        .collect();
    let ring = StackRing {
        pattern: (0..360).map(|place| place % 30).collect(),
        ..StackRing::plain(10.0, 360)
    };
    vessel.rings = vec![ring; 200];
    vessel.woods = (0..30)
        .map(|place| format!("Wood number {place}"))
        .collect();
    design
}

#[test]
fn the_largest_design_is_planned_restored_and_linked() {
    let design = largest_design();
    is_sound(&design).unwrap();
    let back = Design::restore(&to_value(&design));
    assert_eq!(back, Ok((design.clone(), vec![])));
    let link = link::encode(&design);
    println!("link of 200 rings of 360: {} characters", link.len());
    assert_eq!(link::decode(&link), Ok((design, vec![])));
}

#[test]
fn a_list_too_long_or_of_the_wrong_kind_is_reported() {
    let design = start::begin(&Design::default(), "bowl", 250.0, 100.0);
    for (place, value) in [
        ("/vessel/points", json!([])),
        ("/vessel/points", json!([{ "height_mm": 0 }])),
        ("/vessel/points", vec![json!({}); 41].into()),
        ("/vessel/points", json!("none")),
        ("/vessel/rings", vec![json!({}); 201].into()),
        ("/vessel/rings", json!({})),
        ("/vessel/woods", json!([])),
        ("/vessel/woods", vec![json!(""); 31].into()),
        ("/vessel/rings/0/pattern", json!([])),
        ("/vessel/rings/0/pattern", vec![json!(0); 361].into()),
        ("/vessel/rings/0/pattern", json!(3)),
        ("/vessel", json!("a vase")),
        ("/vessel", json!([])),
    ] {
        let mut whole = to_value(&design);
        *whole.pointer_mut(place).unwrap() = value.clone();
        let (restored, troubles) = Design::restore(&whole).unwrap();
        is_sound(&restored).unwrap();
        assert!(!troubles.is_empty(), "{place} {value} passes in silence");
    }
}

#[test]
fn names_of_a_newer_version_are_kept_and_in_lists_spoil_nothing() {
    let mut whole = to_value(&start::begin(&Design::default(), "bowl", 250.0, 100.0));
    whole["vessel"]["bead"] = json!(3);
    whole["vessel"]["rings"][1]["dye"] = json!("blue");
    let (design, troubles) = Design::restore(&whole).unwrap();
    assert_eq!(troubles, []);
    let mut written = to_value(&design);
    assert_eq!(written["vessel"]["bead"], json!(3));
    // Rings are added and taken away: a name at the third of them may not be the third's.
    written["vessel"]["rings"][1]["dye"] = json!("blue");
    assert_eq!(written, whole);
}

// Links.

#[test]
fn a_link_brings_the_vessel_back_as_it_was() {
    let lengths = Cell::new(0_usize);
    largest("link", 1_000, &any_design(), |design| {
        let link = link::encode(&design);
        lengths.set(lengths.get().max(link.len()));
        prop_assert_eq!(link::decode(&link), Ok((design, vec![])), "{}", link.len());
        Ok(0.0)
    });
    println!(
        "longest link of random vessels: {} characters",
        lengths.get()
    );
}

#[test]
fn a_link_of_twelve_rings_with_patterns_is_short() {
    let mut design = start::begin(&Design::default(), "bowl", 300.0, 220.0);
    design.name = "Harvest bowl".to_owned();
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods = ["Maple, sugar", "Purpleheart", "Wenge"]
        .map(str::to_owned)
        .to_vec();
    let ring = vessel.rings[1].clone();
    vessel.rings.resize(12, ring);
    for (place, ring) in vessel.rings.iter_mut().enumerate().skip(1) {
        ring.turn_half_segments = place as u32 % 2;
        ring.pattern = match place {
            4 => vec![0, 1],
            5 => vec![1, 0, 0, 2, 0, 0],
            6 => vec![0, 1, 2],
            _ => vec![0],
        };
    }
    let link = link::encode(&design);
    println!("link of 12 rings: {} characters", link.len());
    assert_eq!(link::decode(&link), Ok((design.clone(), vec![])));
    // What is said of the base, ply by ply, comes to it.
    design.base = None;
    let unsaid = link::encode(&design).len();
    assert!(unsaid <= 400, "{unsaid} characters");
    assert!(link.len() <= unsaid + 60, "{} characters", link.len());
}

/// A ring of several woods takes strips of each: the same in Vessel, on its own sheet's
/// list and on the cut list, whose strips are counted anew here.
#[test]
fn strips_of_a_mixed_ring_are_counted_wood_by_wood_everywhere() {
    use ringwright::plan::bill::Piece;
    let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    design.shop.price = Some(10.0);
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods = vec!["Maple, sugar".to_owned(), "Walnut, black".to_owned()];
    vessel.rings[2].segment_count = 12;
    vessel.rings[2].pattern = vec![0, 1, 1];
    let stack = stack_of(&design);
    let ring = &stack.rings[2];
    let segment = ring.segment.unwrap();
    let cutting = ringwright::trade::strip::Cutting {
        kerf_mm: design.shop.kerf_mm,
        hold_back_mm: design.shop.hold_back_mm,
        strip_length_mm: design.shop.strip_length_mm,
    };
    let each = [4, 8].map(|count| ringwright::trade::strip::strips(&segment, count, &cutting).0);
    let total = each[0].total_length_mm + each[1].total_length_mm;
    assert!((ring.strips.unwrap().total_length_mm - total).abs() < 1e-9);
    let listed: f64 = stack
        .bill
        .iter()
        .filter(|cut| cut.rings() == [2])
        .filter_map(|cut| match cut.piece {
            Piece::Segment(_, strips) => Some(strips.total_length_mm),
            _ => None,
        })
        .sum();
    assert!((listed - total).abs() < 1e-9, "{listed} {total}");
    let plan = ringwright::plan::plan(&design);
    let ring = ringwright::show::thing::Thing::Ring(2);
    let list = ringwright::show::figures::panel::panel(&plan, ring, 0)
        .unwrap()
        .list;
    // What they come to together is told of no strip: each wood has its own, as long as the
    // planer takes at least.
    assert!(list.iter().all(|it| it.key != "row.strip_length"));
    let of_woods: Vec<&str> = list
        .iter()
        .filter(|it| it.key == "row.strips")
        .map(|it| it.label.as_str())
        .collect();
    assert_eq!(of_woods, ["4 of Maple, sugar", "8 of Walnut, black"]);
    // A wood's own price counts for its own strips alone.
    let volume = total * segment.strip_width_mm * segment.strip_height_mm;
    let cost = 10.0 * quantity::board_feet(volume);
    let shown = list.iter().find(|it| it.key == "row.cost").unwrap();
    assert!((shown.shown.text.parse::<f64>().unwrap() - cost).abs() < 0.006);
}

/// The strips that are glued into slots are wood too.
#[test]
fn strips_for_slots_are_among_the_woods_taken() {
    let bare = start::begin(&Design::default(), "cylinder", 200.0, 150.0);
    let design = ringwright::edit::inlay::add_set(&bare);
    let stack = stack_of(&design);
    let own = stack.slot_sets[0].as_ref().unwrap();
    let before = stack_of(&bare);
    let taken =
        |plan: &StackPlan| -> f64 { plan.totals().woods.iter().map(|it| it.strip_mm3).sum() };
    let [thick, wide, long] = own.strip_mm;
    let count = f64::from(own.slots.count);
    // As of the segments: the planed wood itself, without what the saw takes.
    let expected = count * thick * wide * long;
    let more = taken(&stack) - taken(&before);
    assert!(
        (more - expected).abs() < 1e-6 * expected,
        "{more} {expected}"
    );
    let strips: u32 = stack
        .totals()
        .woods
        .iter()
        .map(|it| it.slot_strip_count)
        .sum();
    assert_eq!(strips, own.slots.count);
}

/// A new design in inches has no figure that is not on the tape or in thousandths, and one
/// in millimeters none finer than a tenth: every entry field of every part, read as text.
#[test]
fn a_new_design_speaks_its_own_unit() {
    for (language, is_inch) in [("en-US", true), ("de", false)] {
        let start = Design::starting(language);
        let begun = start::begin(&start, "bowl", 254.0, 101.6);
        let taller = ringwright::edit::vessel::add_ring(&begun, 1);
        let accent_mm = ringwright::edit::vessel::accent_mm(&taller);
        let accented = ringwright::edit::vessel::add_accent(&taller, 2, 1, accent_mm);
        let mut whole = ringwright::edit::inlay::add_set(&accented);
        whole.base = Some(ringwright::plan::floor::choice(&begun));
        whole.bench = Some(whole.bench_or_usual());
        let value = to_value(&whole);
        let mut count = 0;
        for field in ringwright::design::field::FIELDS {
            // The outline follows from its shape.
            let is_length = matches!(field.kind, ringwright::design::field::Kind::Length { .. });
            // The strip follows the wall.
            let follows = field.key == "ring.strip_width_mm";
            if !is_length || follows || field.key.contains("points") {
                continue;
            }
            for key in ringwright::design::field::expand(field.key, &value) {
                let text = whole.entry_text(&key);
                let (_, decimals) = text.split_once('.').unwrap_or((&text, ""));
                // So does what is left for the uppermost ring and the middle ply.
                let is_left = key.contains("height_mm") || key.contains("thickness_mm");
                let most = if is_inch { 3 } else { 1 };
                assert!(is_left || decimals.len() <= most, "{language} {key} {text}");
                if is_inch && key.ends_with("spacer_mm") {
                    assert_eq!(text, "1/8", "{key}");
                }
                count += 1;
            }
        }
        assert!(count > 40, "{count}");
        // Halving a ring keeps both halves on the tape.
        for ring in &taller.vessel.as_ref().unwrap().rings[1..3] {
            let parts = ring.height_mm / if is_inch { 25.4 / 64.0 } else { 0.1 };
            assert!((parts - parts.round()).abs() < 1e-6, "{parts}");
        }
    }
}

/// The cut half shows each ring's wood where the plane of the paper goes through it: to the
/// right of whoever looks at the front. By turning the ring by hand until a segment lies there.
#[test]
fn the_cut_half_shows_the_wood_that_the_plane_goes_through() {
    use ringwright::draw::{Fill, Mark};
    use ringwright::show::pictures::vessel::Picked;
    use ringwright::show::pictures::{vessel, view::View};
    let (design, _) = link::decode(ringwright::design::example::ALL[0].link).unwrap();
    let mut design = design;
    let mut accents = 0;
    for turn in 0..20 {
        for ring in &mut design.vessel.as_mut().unwrap().rings {
            ring.turn_half_segments += turn;
            ring.segment_count = [16, 12, 10, 18, 24][turn as usize % 5];
        }
        let stack = stack_of(&design);
        let view = View::fit(&stack, 120.0, 160.0);
        let pen = ringwright::draw::pen::Pen::paper(design.unit);
        let drawn = vessel::section(&stack, (120.0, 160.0), &view, Picked::default(), None, &pen);
        for (place, ring) in stack.vessel.rings.iter().enumerate() {
            let pitch = 360.0 / f64::from(ring.segment_count);
            let from_right = |segment: u32| {
                let middle =
                    (f64::from(segment) + f64::from(ring.turn_half_segments) / 2.0) * pitch;
                ((middle - 90.0 + 180.0).rem_euclid(360.0) - 180.0).abs()
            };
            let name = format!("ring-{place}");
            let shown = drawn.marks.iter().filter_map(|mark| match mark {
                Mark::Path(path) if path.name.as_ref() == Some(&name) => match path.fill {
                    Some(Fill::Wood(color)) => Some(color),
                    _ => None,
                },
                _ => None,
            });
            let there: Vec<_> = (0..ring.segment_count)
                .filter(|segment| from_right(*segment) < pitch / 2.0 + 1e-6)
                .map(|segment| stack.rings[place].color_of(segment))
                .collect();
            let shown: Vec<_> = shown
                .filter(|color| stack.rings[place].colors.contains(color))
                .collect();
            assert!(
                !shown.is_empty() && shown.iter().all(|color| there.contains(color)),
                "{place}"
            );
            let first = stack.rings[place].color_of(0);
            accents += usize::from(!shown.contains(&first));
        }
    }
    // Were it always the first segment's wood, this would be seen.
    assert!(accents > 4, "{accents}");
}

/// What was planned before changes nothing: each design of a row in which every part of the
/// wall is another one in turn is planned as a thread that planned nothing else plans it.
#[test]
fn a_plan_is_the_same_whatever_was_planned_before() {
    use ringwright::design::{example, link};
    let vase = example::ALL.iter().find(|it| it.word == "lantern_vase");
    let vase = link::decode(vase.expect("the example").link)
        .expect("it opens")
        .0;
    let with = |change: fn(&mut Vessel)| {
        let mut design = vase.clone();
        change(design.vessel.as_mut().expect("a vessel"));
        design
    };
    let row = [
        with(|_| ()),
        with(|it| it.points[2].radius_mm += 1.0),
        with(|it| it.points[2].height_mm += 1.0),
        with(|it| it.points[2].is_corner ^= true),
        with(|it| it.foot_wall_mm += 1.0),
        with(|it| it.rim_wall_mm += 1.0),
        with(|it| it.floor_mm += 1.0),
        with(|it| it.rings[3].segment_count += 4),
        with(|_| ()),
    ];
    let told = |design: &Design| {
        format!(
            "{:?}",
            ringwright::plan::plan(design)
                .stack()
                .map(|it| it.of.clone())
        )
    };
    let mut all: Vec<String> = Vec::new();
    for design in &row {
        let here = told(design);
        let alone = std::thread::scope(|scope| scope.spawn(|| told(design)).join());
        assert!(alone.expect("a plan") == here);
        all.push(here);
    }
    for pair in all.windows(2) {
        assert!(
            pair[0] != pair[1],
            "a change that changes nothing proves nothing"
        );
    }
}
