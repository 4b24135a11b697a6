//! Open rings: how segments rest on those below, against polygons clipped by an independent
//! library (`geo`) and against closed forms; index plates against plain enumeration.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use geo::{Area, BooleanOps, MultiPolygon, Polygon};
use ringwright::design::{Between, Design};
use ringwright::edit::start;
use ringwright::plan::caution::Caution;
use ringwright::plan::{open_ring, plan};
use ringwright::trade::index_plate::{USUAL, nearest, serving};
use ringwright::trade::open_ring::Row;
use shared::{Dice, stack_of};
use std::f64::consts::{PI, TAU};

/// A row of pieces as wide as said, the first beginning at an angle.
fn row(widths: &[f64], first_rad: f64, gap_mm: f64) -> Row {
    let all: f64 = widths.iter().sum();
    let mut at = first_rad;
    let edges = widths.iter().map(|width| {
        let from = at;
        at += width / all * TAU;
        [from, at]
    });
    Row {
        edges_rad: edges.collect(),
        gap_mm,
    }
}

fn even(count: usize, first_rad: f64, gap_mm: f64) -> Row {
    row(&vec![1.0; count], first_rad, gap_mm)
}

fn at(radius: f64, angle: f64) -> (f64, f64) {
    (radius * angle.cos(), radius * angle.sin())
}

/// A piece by polygons alone: a sector of the wall, less a strip of half the gap's thickness
/// along each of its two edges.
fn polygon(row: &Row, piece: usize, [inside, outside]: [f64; 2]) -> MultiPolygon<f64> {
    let [from, to] = row.edges_rad[piece];
    let steps = 160;
    let angle = |step: usize| from + (to - from) * step as f64 / f64::from(steps);
    let mut ring: Vec<(f64, f64)> = (0..=steps as usize)
        .map(|it| at(outside, angle(it)))
        .collect();
    ring.extend((0..=steps as usize).rev().map(|it| at(inside, angle(it))));
    let mut left = MultiPolygon::from(Polygon::new(ring.into(), vec![]));
    for edge in [from, to] {
        let (along, across) = ((edge.cos(), edge.sin()), (-edge.sin(), edge.cos()));
        let corner = |far: f64, aside: f64| {
            let half = row.gap_mm / 2.0 * aside;
            (
                far * along.0 + half * across.0,
                far * along.1 + half * across.1,
            )
        };
        let far = outside * 1.1;
        let strip = vec![
            corner(0.0, -1.0),
            corner(far, -1.0),
            corner(far, 1.0),
            corner(0.0, 1.0),
        ];
        left = left.difference(&Polygon::new(strip.into(), vec![]));
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
            let gap = dice.between(0.0, 0.6) * wall[0] * TAU / count as f64;
            let gap = if dice.one_in(4.0) { 0.0 } else { gap };
            if dice.one_in(3.0) {
                let widths: Vec<f64> = (0..count).map(|_| dice.between(1.0, 2.0)).collect();
                row(&widths, first, gap / 2.0)
            } else {
                even(count, first, gap)
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
    // Right over each other each rests on one.
    assert_eq!(even(8, 0.3, 10.0).rests(3, &open, [60.0, 90.0]).len(), 1);
}

#[test]
fn a_plate_serves_where_every_segment_falls_in_a_hole() {
    let mut served = 0;
    for count in 3..=144_u32 {
        for turn in 0..4_u32 {
            for holes in 2..=200_u32 {
                // Each segment's place, in 2n-th parts of a hole, by plain enumeration.
                let falls = (0..count)
                    .all(|segment| ((2 * segment + turn) * holes).is_multiple_of(2 * count));
                let told = serving(&[holes], count, turn);
                assert_eq!(!told.is_empty(), falls, "{count} {turn} {holes}");
                let Some(it) = told.first() else { continue };
                served += 1;
                assert_eq!(it.every * count, holes);
                let first = turn * holes / (2 * count) % it.every;
                assert_eq!(it.first, first);
            }
        }
    }
    assert!(served > 2000, "{served}");
    assert_eq!(nearest(&USUAL, 22, 0), [Some(20), Some(24)]);
    assert_eq!(nearest(&USUAL, 22, 1), [Some(18), Some(24)]);
    assert_eq!(nearest(&[], 12, 0), [None, None]);
    assert_eq!(nearest(&[24], 24, 0), [Some(12), None]);
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
