//! Open rings: how segments rest on those below, against polygons clipped by an independent
//! library (`geo`) and against closed forms; index plates against plain enumeration.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use geo::{Area, BooleanOps, MultiPolygon, Polygon};
use ringwright::design::{Between, Design, GapBy, PointChoice};
use ringwright::edit::{open_ring as edit_open, start};
use ringwright::plan::caution::Caution;
use ringwright::plan::rings::When;
use ringwright::plan::{open_ring, plan};
use ringwright::show::words;
use ringwright::trade::index_plate::{Turn, USUAL, nearest, serving};
use ringwright::trade::open_ring::{Row, bending_n_mm2};
use ringwright::trade::ring::Wanted;
use ringwright::trade::round::Round;
use ringwright::trade::surface::Gaps;
use shared::{Dice, stack_of};
use std::f64::consts::{PI, TAU};

/// A row of pieces as wide as said, the first beginning at an angle.
fn row(widths: &[f64], first_rad: f64, gaps: Option<Gaps>) -> Row {
    let all: f64 = widths.iter().sum();
    let mut at = first_rad;
    let edges = widths.iter().map(|width| {
        let from = at;
        at += width / all * TAU;
        [from, at]
    });
    Row {
        edges_rad: edges.collect(),
        gaps,
    }
}

/// Air of one thickness.
fn thick(count: usize, thickness_mm: f64) -> Option<Gaps> {
    (thickness_mm > 0.0).then_some(Gaps {
        count: count as u32,
        thickness_mm,
        angle_rad: 0.0,
    })
}

/// Air of one angle.
fn radial(count: usize, angle_rad: f64) -> Gaps {
    Gaps {
        count: count as u32,
        thickness_mm: 0.0,
        angle_rad,
    }
}

fn even(count: usize, first_rad: f64, gap_mm: f64) -> Row {
    row(&vec![1.0; count], first_rad, thick(count, gap_mm))
}

fn at(radius: f64, angle: f64) -> (f64, f64) {
    (radius * angle.cos(), radius * angle.sin())
}

/// A piece by polygons alone: a sector of the wall, less a strip of half the gap's thickness
/// along each of its two edges, or a wedge of half its angle.
fn polygon(row: &Row, piece: usize, [inside, outside]: [f64; 2]) -> MultiPolygon<f64> {
    let [from, to] = row.edges_rad[piece];
    let steps = 160;
    let angle = |step: usize| from + (to - from) * step as f64 / f64::from(steps);
    let mut ring: Vec<(f64, f64)> = (0..=steps as usize)
        .map(|it| at(outside, angle(it)))
        .collect();
    ring.extend((0..=steps as usize).rev().map(|it| at(inside, angle(it))));
    let mut left = MultiPolygon::from(Polygon::new(ring.into(), vec![]));
    let Some(gaps) = row.gaps else { return left };
    for edge in [from, to] {
        let (along, across) = ((edge.cos(), edge.sin()), (-edge.sin(), edge.cos()));
        let corner = |far: f64, aside: f64| {
            let half = gaps.thickness_mm / 2.0 * aside;
            (
                far * along.0 + half * across.0,
                far * along.1 + half * across.1,
            )
        };
        let far = outside * 1.1;
        let air = if gaps.thickness_mm > 0.0 {
            vec![
                corner(0.0, -1.0),
                corner(far, -1.0),
                corner(far, 1.0),
                corner(0.0, 1.0),
            ]
        } else {
            let half = gaps.angle_rad / 2.0;
            let far = far / half.cos();
            vec![(0.0, 0.0), at(far, edge - half), at(far, edge + half)]
        };
        left = left.difference(&Polygon::new(air.into(), vec![]));
    }
    left
}

#[test]
fn segments_rest_as_polygons_do() {
    let (mut compared, mut touched) = (0, 0);
    for seed in 0..1000 {
        let mut dice = Dice(seed);
        let outside = dice.between(40.0, 200.0);
        let wall = [outside * dice.between(0.5, 0.95), outside];
        let any = |dice: &mut Dice| {
            let count = dice.whole(5, 24);
            let first = dice.between(-7.0, 7.0);
            // No gap is wider than most of the pitch inside.
            let share = dice.between(0.01, 0.6);
            let gaps = match dice.whole(0, 3) {
                0 => None,
                1 => Some(radial(count, share * TAU / count as f64)),
                _ => thick(count, share * wall[0] * TAU / count as f64),
            };
            if dice.one_in(3.0) {
                let widths: Vec<f64> = (0..count).map(|_| dice.between(1.0, 2.0)).collect();
                let half = |it: Gaps| Gaps {
                    thickness_mm: it.thickness_mm / 2.0,
                    angle_rad: it.angle_rad / 2.0,
                    ..it
                };
                row(&widths, first, gaps.map(half))
            } else {
                row(&vec![1.0; count], first, gaps)
            }
        };
        let (above, below) = (any(&mut dice), any(&mut dice));
        let piece = dice.whole(0, above.edges_rad.len() - 1);
        let own = polygon(&above, piece, wall);
        let rests = above.rests(piece, &below, wall);
        for other in 0..below.edges_rad.len() {
            let wanted = own
                .intersection(&polygon(&below, other, wall))
                .unsigned_area();
            let rest = rests.iter().find(|it| it.below == other);
            let told = rest.map_or(0.0, |it| it.area_mm2);
            let whole = own.unsigned_area();
            assert!(
                (told - wanted).abs() < 0.002 * whole + 1e-6,
                "{seed}: {told} and {wanted} of {whole}"
            );
            compared += 1;
            touched += usize::from(wanted > 0.0);
        }
    }
    assert!(compared > 5000 && touched > 1500, "{compared} {touched}");
}

#[test]
fn closed_forms() {
    // Half a pitch on, each rests on two alike: a quarter of two sectors' area in all.
    let (below, above) = (even(12, 0.0, 0.0), even(12, PI / 12.0, 0.0));
    let rests = above.rests(5, &below, [80.0, 100.0]);
    let half = PI * (100.0_f64.powi(2) - 80.0_f64.powi(2)) / 24.0;
    assert_eq!(rests.len(), 2);
    for rest in rests {
        assert!((rest.area_mm2 - half).abs() < 1e-9 * half);
        assert!((rest.along_mm - 90.0 * PI / 12.0).abs() < 1e-9);
    }
    // On a disc all of it rests: the sector less half a gap at both its ends.
    let open = even(8, 0.3, 10.0);
    let all = open.rests(3, &Row::whole(), [60.0, 90.0]);
    let chord = |r: f64| {
        let half: f64 = 5.0;
        half * (r * r - half * half).sqrt() / 2.0 + r * r / 2.0 * (half / r).asin()
    };
    let gap = 2.0 * (chord(90.0) - chord(60.0));
    let wanted = PI * (90.0_f64.powi(2) - 60.0_f64.powi(2)) / 8.0 - gap;
    let told: f64 = all.iter().map(|it| it.area_mm2).sum();
    assert!((told - wanted).abs() < 1e-4, "{told} {wanted}");
    // Gaps of an angle leave each its share of the wall.
    let open = row(&[1.0; 8], 0.3, Some(radial(8, 0.2)));
    let all = open.rests(3, &Row::whole(), [60.0, 90.0]);
    let wanted = (TAU / 8.0 - 0.2) / 2.0 * (90.0_f64.powi(2) - 60.0_f64.powi(2));
    let told: f64 = all.iter().map(|it| it.area_mm2).sum();
    assert!((told - wanted).abs() < 1e-9 * wanted, "{told} {wanted}");
    let open = even(8, 0.3, 10.0);
    // Right over each other each rests on one.
    assert_eq!(even(8, 0.3, 10.0).rests(3, &open, [60.0, 90.0]).len(), 1);
}

/// Random rings of both kinds of gaps, shared evenly or not and turned any way, laid out on
/// paper from what is set at the saw alone: strip, stop and setting.
#[test]
fn segments_laid_out_leave_the_gap_that_was_told() {
    let [mut radial, mut parallel] = [0, 0];
    for seed in 0..3000 {
        let mut dice = Dice(7_000 + seed);
        let count = dice.whole(3, 60) as u32;
        let outside = dice.between(30.0, 250.0);
        let is_radial = dice.one_in(2.0);
        let pitch = TAU / f64::from(count);
        let shares: &[u32] = if dice.one_in(3.0) { &[3, 2] } else { &[] };
        let further = dice.between(-7.0, 7.0);
        let round = Round::new(count, shares, dice.whole(0, 9) as u32).turned_on(further);
        let share = dice.between(0.02, 0.7);
        let inside = outside * dice.between(0.3, 0.95);
        let wanted = Wanted {
            outside_radius_mm: outside,
            inside_radius_mm: inside,
            height_mm: 19.0,
            segment_count: count,
            widest: round.widest(),
            outside_allowance_mm: dice.between(0.0, 4.0),
            inside_allowance_mm: dice.between(0.0, inside),
            face_allowance_mm: 0.0,
            spacer_mm: if is_radial {
                0.0
            } else {
                share * inside * pitch
            },
            gap_rad: if is_radial { share * pitch } else { 0.0 },
        };
        let Ok(alike) = round.segments(&wanted) else {
            continue;
        };
        let hole = inside - wanted.inside_allowance_mm;
        let mut farthest: f64 = 0.0;
        for place in 0..count {
            let it = &alike[round.kind_of(place)].segment;
            let setting = it.outside.half_angle_rad;
            let long = it.outside.long_edge_mm;
            // What two cuts across a strip so wide leave of the long edge.
            let short = long - 2.0 * it.strip_width_mm * setting.tan();
            assert!((short - it.short_edge_mm).abs() < 1e-6, "{seed} {short}");
            let outer = outside + wanted.outside_allowance_mm;
            let inner = outer - it.strip_width_mm;
            let middle = round.middle_rad(place);
            for side in [-1.0, 1.0] {
                let edge = round.edge_rad(place + u32::from(side > 0.0));
                for (along, aside) in [(outer, long / 2.0), (inner, short / 2.0)] {
                    let (radius, off) = (along.hypot(aside), aside.atan2(along));
                    let from_edge = side * (edge - middle) - off;
                    if is_radial {
                        assert!((from_edge - wanted.gap_rad / 2.0).abs() < 1e-6, "{seed}");
                    } else {
                        let away = radius * from_edge.sin();
                        assert!((away - wanted.spacer_mm / 2.0).abs() < 1e-6, "{seed}");
                    }
                    if along < outer {
                        farthest = farthest.max(radius);
                    }
                }
            }
        }
        assert!((farthest - hole).abs() < 1e-6, "{seed}: {farthest} {hole}");
        *(if is_radial {
            &mut radial
        } else {
            &mut parallel
        }) += 1;
    }
    assert!(radial > 1000 && parallel > 800, "{radial} {parallel}");
}

#[test]
fn a_gap_that_leaves_nothing_is_told_at_its_field() {
    for (by, field) in [
        (GapBy::Angle, "vessel.rings.3.gap_deg"),
        (GapBy::Share, "vessel.rings.3.gap_pct"),
        (GapBy::Thickness, "vessel.rings.3.spacer_mm"),
    ] {
        for (is_wide, part) in [(true, 1.0), (true, 2.5), (false, 0.5)] {
            let mut design = open_bowl(6.0, 1);
            let ring = &mut design.vessel.as_mut().unwrap().rings[3];
            (ring.gap_by, ring.gap_deg, ring.gap_pct) =
                (by, part * 30.0, f64::min(part, 1.0) * 100.0);
            ring.spacer_mm = if is_wide { 90.0 } else { 6.0 };
            let stack = stack_of(&design);
            let told: Vec<_> = stack
                .troubles
                .iter()
                .filter(|it| it.field == field)
                .collect();
            assert_eq!(!told.is_empty(), is_wide, "{by:?} {part}");
            for it in told {
                let message = words::trouble(it, design.unit);
                assert!(!message.reason.is_empty() && !message.remedy.is_empty());
                if by != GapBy::Thickness {
                    assert!(message.reason.contains("it is 30°"), "{}", message.reason);
                }
            }
        }
    }
}

#[test]
fn a_plate_serves_where_every_segment_falls_in_a_hole() {
    let mut served = 0;
    for count in 3..=144_u32 {
        for half_segments in 0..4_u32 {
            for holes in 2..=200_u32 {
                // Each segment's place, in 2n-th parts of a hole, by plain enumeration.
                let falls = (0..count).all(|segment| {
                    ((2 * segment + half_segments) * holes).is_multiple_of(2 * count)
                });
                let turn = Turn {
                    half_segments,
                    further_rad: 0.0,
                };
                let told = serving(&[holes], count, turn);
                assert_eq!(!told.is_empty(), falls, "{count} {half_segments} {holes}");
                let Some(it) = told.first() else { continue };
                served += 1;
                assert_eq!(it.every * count, holes);
                let first = half_segments * holes / (2 * count) % it.every;
                assert_eq!(it.first, first);
            }
        }
    }
    assert!(served > 2000, "{served}");
    let straight = Turn {
        half_segments: 0,
        further_rad: 0.0,
    };
    let shifted = Turn {
        half_segments: 1,
        ..straight
    };
    assert_eq!(nearest(&USUAL, 22, straight), [Some(20), Some(24)]);
    assert_eq!(nearest(&USUAL, 22, shifted), [Some(18), Some(24)]);
    assert_eq!(nearest(&[], 12, straight), [None, None]);
    assert_eq!(nearest(&[24], 24, straight), [Some(12), None]);
}

/// Turns in 720ths of a circle, to either side: whole numbers alone say whether they fall into
/// holes, and into which.
#[test]
fn a_plate_serves_a_ring_that_is_turned_anyhow() {
    let (mut served, mut refused) = (0, 0);
    for count in 3..=144_u32 {
        for half_segments in 0..2_u32 {
            for parts in [-719, -90, -5, -1, 0, 1, 2, 3, 5, 7, 15, 30, 77, 1440_i64] {
                let turn = Turn {
                    half_segments,
                    further_rad: f64::from(parts as i32) * TAU / 720.0,
                };
                for holes in [24, 36, 48, 60, 72, 96, 120, 144, 180, 720_u32] {
                    let (n, h) = (i64::from(count), i64::from(holes));
                    // In parts of a circle of 720 · 2n.
                    let whole = 1440 * n;
                    let at = |segment: i64| {
                        720 * (2 * segment + i64::from(half_segments)) + 2 * n * parts
                    };
                    let falls = (0..n).all(|segment| (at(segment) * h) % whole == 0);
                    let told = serving(&[holes], count, turn);
                    assert_eq!(
                        !told.is_empty(),
                        falls,
                        "{count} {half_segments} {parts} {holes}"
                    );
                    let Some(it) = told.first() else {
                        refused += 1;
                        continue;
                    };
                    served += 1;
                    let hole = (at(0) * h / whole).rem_euclid(i64::from(it.every));
                    assert_eq!(i64::from(it.first), hole);
                }
            }
        }
    }
    assert!(served > 1000 && refused > 1000, "{served} {refused}");
    // Typed to two places, a third of a degree still stands in its hole.
    let typed = Turn {
        half_segments: 0,
        further_rad: 3.333_f64.to_radians(),
    };
    assert_eq!(serving(&[108], 12, typed)[0].first, 1);
    let off = Turn {
        further_rad: 3.32_f64.to_radians(),
        ..typed
    };
    assert!(serving(&[108], 12, off).is_empty());
}

fn open_bowl(gap_mm: f64, turn: u32) -> Design {
    let mut design = start::begin(&Design::default(), "bowl", 254.0, 120.0);
    let vessel = design.vessel.as_mut().unwrap();
    for (place, ring) in vessel.rings.iter_mut().enumerate().skip(1) {
        ring.between = Between::Gap;
        ring.spacer_mm = gap_mm;
        ring.segment_count = 12;
        ring.turn_half_segments = place as u32 % 2 * turn;
    }
    design
}

fn cautions(design: &Design) -> Vec<Caution> {
    let planned = plan(design);
    planned
        .placed_cautions()
        .iter()
        .map(|it| it.caution.clone())
        .collect()
}

#[test]
fn a_wall_that_hangs_on_single_segments_is_told_and_half_a_turn_mends_it() {
    let has = |design: &Design, wanted: fn(&Caution) -> bool| cautions(design).iter().any(wanted);
    let on_one = |it: &Caution| matches!(it, Caution::RestsOnOne);
    let little = |it: &Caution| matches!(it, Caution::RestsLittle { .. });
    assert!(has(&open_bowl(8.0, 0), on_one));
    assert!(!has(&open_bowl(8.0, 1), on_one));
    assert!(!has(&open_bowl(8.0, 1), little));
    assert!(has(&open_bowl(30.0, 1), little) || has(&open_bowl(30.0, 1), on_one));
    // A closed ring holds together by itself: on it one is enough, and for it.
    let mut tied = open_bowl(8.0, 0);
    let rings = &mut tied.vessel.as_mut().unwrap().rings;
    for place in [1, 3, 5] {
        rings[place].between = Between::Nothing;
    }
    assert!(!has(&tied, on_one) && !has(&tied, little));
    // A closed wall is told nothing of this.
    let closed = start::begin(&Design::default(), "bowl", 254.0, 120.0);
    assert!(!has(&closed, on_one) && !has(&closed, little));
    // Air along a circle: chords of it.
    let open = stack_of(&open_bowl(8.0, 1));
    let radius = open.rings[2].span.outside_radius_mm;
    let air = 12.0 * 2.0 * (4.0 / radius).asin() / TAU;
    let told = open_ring::air_share(&open, 2).unwrap();
    assert!((told - air).abs() < 1e-12 && told > 0.05, "{told}");
    let stack = stack_of(&closed);
    assert_eq!(open_ring::air_share(&stack, 2), None);
    assert!((0..stack.rings.len()).all(|it| open_ring::resting(&stack, it).is_none()));
}

#[test]
fn the_plates_of_the_shop_are_asked() {
    let none = |it: &Caution| matches!(it, Caution::NoIndex { .. });
    let with = |plates: &[u32]| {
        let mut design = open_bowl(8.0, 1);
        design.shop.index_plates = plates.to_vec();
        cautions(&design).iter().any(none)
    };
    // 12 segments, every second ring shifted: 24 holes or a multiple.
    assert!(!with(&[]) && !with(&[24]) && with(&[36]) && with(&[12]) && !with(&[36, 72]));
}

/// A bowl open by an angle, its rows turned on by a step.
fn spiral_bowl(step_deg: f64) -> Design {
    let mut design = open_bowl(6.0, 0);
    for ring in design.vessel.as_mut().unwrap().rings.iter_mut().skip(1) {
        (ring.gap_by, ring.gap_deg) = (GapBy::Angle, 4.0);
    }
    edit_open::spiral(&design, 1, step_deg)
}

#[test]
fn a_spiral_leans_as_its_step_at_the_radius_says() {
    for step_deg in [-11.0, -3.0, 2.5, 7.5, 14.0] {
        let stack = stack_of(&spiral_bowl(step_deg));
        for place in 2..stack.rings.len() {
            let told = open_ring::rise(&stack, place).unwrap();
            let (above, below) = (&stack.rings[place], &stack.rings[place - 1]);
            // Over all rows: the middle of the segment that stands nearest.
            let middle = below.round.middle_rad(4);
            let near = (0..12)
                .map(|it| above.round.middle_rad(it) - middle)
                .map(|it| (it + PI).rem_euclid(TAU) - PI)
                .min_by(|one, other| one.abs().total_cmp(&other.abs()))
                .unwrap();
            assert!((near - told.step_rad).abs() < 1e-9, "{step_deg} {place}");
            let up = (above.span.top_mm + above.span.bottom_mm
                - below.span.top_mm
                - below.span.bottom_mm)
                / 2.0;
            let aside = near * stack.joints[place - 1].outside_radius_mm;
            assert!((told.slant_rad.tan() - aside / up).abs() < 1e-9);
            assert!((told.step_rad.to_degrees() - step_deg).abs() < 1e-3);
        }
    }
    // Over each other and right between they lean to no side.
    for step_deg in [0.0, 15.0, 30.0] {
        let stack = stack_of(&spiral_bowl(step_deg));
        assert_eq!(open_ring::rise(&stack, 3), None, "{step_deg}");
    }
}

/// How a ring of the plan rests, whatever its gaps and however it is turned: as polygons made
/// of the fields alone do.
#[test]
fn planned_rings_rest_as_their_fields_say() {
    let mut compared = 0;
    for seed in 0..120 {
        let mut dice = Dice(90_000 + seed);
        let mut design = open_bowl(dice.between(2.0, 12.0), 0);
        for ring in design.vessel.as_mut().unwrap().rings.iter_mut().skip(1) {
            ring.gap_by = [GapBy::Thickness, GapBy::Angle, GapBy::Share][dice.whole(0, 2)];
            ring.gap_deg = dice.between(0.5, 15.0);
            ring.gap_pct = dice.between(2.0, 60.0);
            ring.further_deg = dice.between(-360.0, 360.0);
            ring.turn_half_segments = dice.whole(0, 23) as u32;
        }
        let stack = stack_of(&design);
        let rings = &stack.vessel.rings;
        let place = dice.whole(2, rings.len() - 1);
        let of = |place: usize| {
            let ring = &rings[place];
            let count = ring.segment_count as usize;
            let half = PI / count as f64;
            let turned = ring.further_deg / 360.0 * TAU + f64::from(ring.turn_half_segments) * half;
            let gaps = match ring.gap_by {
                GapBy::Thickness => thick(count, ring.spacer_mm),
                GapBy::Angle => Some(radial(count, ring.gap_deg / 360.0 * TAU)),
                GapBy::Share => Some(radial(count, ring.gap_pct / 100.0 * 2.0 * half)),
            };
            row(&vec![1.0; count], turned - half, gaps)
        };
        let (above, below) = (of(place), of(place - 1));
        let joint = stack.joints[place - 1];
        let wall = [joint.inside_radius_mm, joint.outside_radius_mm];
        let Some(told) = open_ring::resting(&stack, place) else {
            continue;
        };
        let own = polygon(&above, 0, wall);
        let wanted: f64 = (0..below.edges_rad.len())
            .map(|it| own.intersection(&polygon(&below, it, wall)).unsigned_area())
            .sum();
        let off = (told.area_mm2() - wanted).abs();
        assert!(off < 0.004 * own.unsigned_area() + 1e-6, "{seed}: {off}");
        compared += 1;
    }
    assert!(compared > 100, "{compared}");
}

/// The stress of bending by a sum over small pieces of the glue, for pieces that stand evenly
/// round, whichever way the force pulls.
#[test]
fn a_catch_at_the_rim_bends_as_sums_over_pieces_say() {
    let mut dice = Dice(4711);
    for _ in 0..200 {
        let count = dice.whole(3, 40);
        let radius = dice.between(20.0, 150.0);
        let wide = dice.between(0.1, 1.0) * TAU / count as f64;
        let thick = radius / 200.0;
        let pull = dice.between(0.0, TAU);
        let [mut area, mut second] = [0.0, 0.0];
        let steps = 200;
        for piece in 0..count {
            for step in 0..steps {
                let angle = TAU * piece as f64 / count as f64
                    + wide * (f64::from(step) + 0.5) / f64::from(steps);
                let own = radius * wide / f64::from(steps) * thick;
                area += own;
                second += own * (radius * (angle - pull).cos()).powi(2);
            }
        }
        let [force, high] = [dice.between(1.0, 300.0), dice.between(10.0, 500.0)];
        let wanted = force * high * radius / second;
        let told = bending_n_mm2(force, high, area, 2.0 * radius);
        assert!((told / wanted - 1.0).abs() < 1e-3, "{told} {wanted}");
    }
}

#[test]
fn a_tall_wall_on_little_glue_is_told() {
    let bends = |it: &Caution| matches!(it, Caution::BendsHard { .. });
    let tower = |share: f64, wall_mm: f64| {
        let mut design = start::begin(&Design::default(), "cylinder", 100.0, 200.0);
        let vessel = design.vessel.as_mut().unwrap();
        (vessel.foot_wall_mm, vessel.rim_wall_mm) = (wall_mm, wall_mm);
        let count = vessel.rings.len();
        for (place, ring) in vessel.rings.iter_mut().enumerate() {
            let is_end = place == 0 || place + 1 == count;
            ring.between = if is_end {
                Between::Nothing
            } else {
                Between::Gap
            };
            (ring.gap_by, ring.gap_pct, ring.segment_count) = (GapBy::Share, share, 8);
            ring.turn_half_segments = place as u32 % 2;
        }
        cautions(&design).iter().any(bends)
    };
    assert!(tower(45.0, 2.5));
    assert!(!tower(5.0, 12.0));
    assert!(!cautions(&open_bowl(8.0, 1)).iter().any(bends));
}

/// What a finished piece weighs less for the air in it: in a tube gaps of a share take that
/// share of the wall, and even ones two segments of a circle at each of its radii.
#[test]
fn air_weighs_nothing() {
    let weigh = |gap: Option<(GapBy, f64)>| {
        let mut design = start::begin(&Design::default(), "bowl", 200.0, 160.0);
        let vessel = design.vessel.as_mut().unwrap();
        vessel.points = [0.0, 160.0]
            .map(|height_mm| PointChoice {
                height_mm,
                radius_mm: 100.0,
                is_corner: false,
            })
            .to_vec();
        (vessel.foot_wall_mm, vessel.rim_wall_mm) = (12.0, 12.0);
        if let Some((by, much)) = gap {
            let ring = &mut vessel.rings[3];
            (ring.between, ring.gap_by) = (Between::Gap, by);
            (ring.gap_pct, ring.spacer_mm) = (much, much);
        }
        let stack = stack_of(&design);
        let span = stack.rings[3].span;
        assert!(span.bottom_mm > 30.0);
        let density = stack.density_kg_m3(3, When::Finished).unwrap();
        let count = f64::from(stack.vessel.rings[3].segment_count);
        (
            stack.totals().finished_kg.unwrap(),
            density * 1e-9 * (span.top_mm - span.bottom_mm),
            count,
        )
    };
    let (whole, per_mm2, count) = weigh(None);
    let wall = PI * (100.0_f64.powi(2) - 88.0_f64.powi(2));
    let (shared, ..) = weigh(Some((GapBy::Share, 30.0)));
    assert!(((whole - shared) / (0.3 * wall * per_mm2) - 1.0).abs() < 1e-3);
    let (even, ..) = weigh(Some((GapBy::Thickness, 8.0)));
    let chord = |r: f64| 4.0 * (r * r - 16.0_f64).sqrt() + r * r * (4.0 / r).asin();
    let air = count * (chord(100.0) - chord(88.0));
    assert!(((whole - even) / (air * per_mm2) - 1.0).abs() < 1e-3);
}
