//! The ring that comes off the saw, put together from polygons: seen from above, N
//! segments with their spacers or gaps stand round the axis, and computational
//! geometry (`geo`), not our formulas, says whether they overlap, whether they cover
//! the ring that was wanted, and whether less wood would have done.
#![cfg(not(target_arch = "wasm32"))]

use geo::{Area, BooleanOps, LineString, MultiPolygon, Polygon, unary_union};
use ringwright::trade::ring::{Segment, Wanted, as_cut};
use std::f64::consts::{PI, TAU};

type Point = (f64, f64);

const COUNTS: [u32; 12] = [3, 4, 5, 6, 7, 8, 11, 12, 17, 24, 37, 48];
/// Finished outside and inside radius: from a disc to a thin wall.
const RADII_MM: [(f64, f64); 5] = [
    (127.0, 107.95),
    (40.0, 25.0),
    (60.0, 0.0),
    (150.0, 20.0),
    (400.0, 395.0),
];
/// Kept outside and inside.
const ALLOWANCES_MM: [(f64, f64); 3] = [(0.0, 0.0), (3.175, 3.175), (12.0, 5.0)];
/// Spacer thickness, as a part of the thickest that the hole lets stand.
const SPACER_PARTS: [f64; 4] = [0.0, 0.05, 0.4, 0.999];

/// Everything to be known of one ring that can be built.
struct Case {
    wanted: Wanted,
    segment: Segment,
}

impl Case {
    fn of(wanted: Wanted) -> Case {
        let segment = wanted
            .segment()
            .unwrap_or_else(|why| panic!("{wanted:?}: {why:?}"));
        Case { wanted, segment }
    }

    fn half_angle(&self) -> f64 {
        PI / f64::from(self.wanted.segment_count)
    }

    fn rough_outside_mm(&self) -> f64 {
        self.wanted.outside_radius_mm + self.wanted.outside_allowance_mm
    }

    fn rough_hole_mm(&self) -> f64 {
        (self.wanted.inside_radius_mm - self.wanted.inside_allowance_mm).max(0.0)
    }

    /// The segment in its first place: on the x axis, inside corners first and last.
    fn flat(&self) -> [Point; 4] {
        let inside = self.segment.inside_apothem_mm;
        let outside = inside + self.segment.strip_width_mm;
        let long = self.segment.outside.long_edge_mm / 2.0;
        let short = self.segment.short_edge_mm / 2.0;
        [
            (inside, -short),
            (outside, -long),
            (outside, long),
            (inside, short),
        ]
    }

    /// The flat figure in each of its N places, the first turned by `first_turn`.
    fn all_round(&self, flat: &[Point], first_turn: f64) -> Vec<Polygon> {
        (0..self.wanted.segment_count)
            .map(|place| {
                let angle = first_turn + 2.0 * self.half_angle() * f64::from(place);
                polygon(flat.iter().map(|&point| turned(point, angle)))
            })
            .collect()
    }

    fn segments(&self) -> Vec<Polygon> {
        self.all_round(&self.flat(), 0.0)
    }

    /// A bar of the spacer's thickness in each joint, from `start` out to `end`.
    fn bars(&self, start: f64, end: f64) -> Vec<Polygon> {
        if self.wanted.spacer_mm <= 0.0 {
            return vec![];
        }
        let half = self.wanted.spacer_mm / 2.0;
        let flat = [(start, -half), (end, -half), (end, half), (start, half)];
        self.all_round(&flat, self.half_angle())
    }

    /// Spacers as long as the library says, their inside corners at the rough hole.
    fn spacers(&self) -> Vec<Polygon> {
        let half = self.wanted.spacer_mm / 2.0;
        let start = (self.rough_hole_mm().powi(2) - half * half).max(0.0).sqrt();
        self.bars(start, start + self.segment.spacer_length_mm)
    }

    /// The gaps, from the innermost point where neighbours meet to far outside.
    fn gaps(&self) -> Vec<Polygon> {
        let start = self.wanted.spacer_mm / 2.0 / self.half_angle().tan();
        self.bars(start, 2.0 * self.rough_outside_mm())
    }

    /// The ring that must be wood: between rough hole and rough outside. Both circles
    /// are polygons that ask for a hair less, and touch the circle exactly in those
    /// directions where flats' middles (outside) and corners (inside) stand.
    fn must_be_wood(&self) -> MultiPolygon {
        let count = self.wanted.segment_count;
        let sides = 2 * count * 720_u32.div_ceil(2 * count);
        let corner = |radius: f64, step: f64| turned((radius, 0.0), TAU * step / f64::from(sides));
        let outside = (0..sides).map(|side| corner(self.rough_outside_mm(), f64::from(side)));
        let hole_radius = self.rough_hole_mm() / (PI / f64::from(sides)).cos();
        let hole = (0..sides).map(|side| corner(hole_radius, f64::from(side) + 0.5));
        let holes = if hole_radius > 0.0 {
            vec![hole.collect::<LineString>()]
        } else {
            vec![]
        };
        Polygon::new(outside.collect(), holes).into()
    }

    /// Boolean operations snap to a grid of about a billionth of the drawing, so an
    /// area is known to that grid times the length of all edges.
    fn area_noise_mm2(&self) -> f64 {
        let faces = 2.0 * f64::from(self.wanted.segment_count) * self.segment.joint_face_mm;
        let edges = 2.0 * TAU * self.rough_outside_mm() + faces;
        2e-9 * self.rough_outside_mm() * edges
    }
}

fn turned((x, y): Point, angle: f64) -> Point {
    let (sine, cosine) = angle.sin_cos();
    (x * cosine - y * sine, x * sine + y * cosine)
}

fn polygon(corners: impl Iterator<Item = Point>) -> Polygon {
    Polygon::new(corners.collect(), vec![])
}

fn total_area(pieces: &[Polygon]) -> f64 {
    pieces.iter().map(Area::unsigned_area).sum()
}

/// What of `whole` the pieces leave bare, as an area.
fn bare_mm2(whole: &MultiPolygon, pieces: &[Polygon]) -> f64 {
    whole.difference(&unary_union(pieces)).unsigned_area()
}

fn cases() -> Vec<Case> {
    let mut cases = vec![];
    for segment_count in COUNTS {
        for (outside_radius_mm, inside_radius_mm) in RADII_MM {
            for (outside_allowance_mm, inside_allowance_mm) in ALLOWANCES_MM {
                let rough_hole = (inside_radius_mm - inside_allowance_mm).max(0.0);
                let thickest = 2.0 * rough_hole * (PI / f64::from(segment_count)).sin();
                for part in SPACER_PARTS {
                    if part > 0.0 && thickest <= 0.0 {
                        continue;
                    }
                    cases.push(Case::of(Wanted {
                        outside_radius_mm,
                        inside_radius_mm,
                        height_mm: 19.0,
                        segment_count,
                        widest: 1.0,
                        outside_allowance_mm,
                        inside_allowance_mm,
                        face_allowance_mm: 1.0,
                        spacer_mm: part * thickest,
                        gap_rad: 0.0,
                    }));
                }
            }
        }
    }
    assert!(cases.len() > 500, "{}", cases.len());
    cases
}

#[test]
fn no_two_pieces_overlap() {
    for case in cases() {
        let pieces = [case.segments(), case.spacers()].concat();
        let lost = total_area(&pieces) - unary_union(&pieces).unsigned_area();
        assert!(
            lost.abs() < case.area_noise_mm2(),
            "{lost} {:?}",
            case.wanted
        );
    }
}

#[test]
fn no_segment_reaches_into_a_gap() {
    for case in cases() {
        let segments = unary_union(&case.segments());
        let inside = segments.intersection(&unary_union(&case.gaps()));
        let area = inside.unsigned_area();
        assert!(area < case.area_noise_mm2(), "{area} {:?}", case.wanted);
    }
}

#[test]
fn segments_and_solid_spacers_leave_nothing_bare() {
    for case in cases() {
        let pieces = [case.segments(), case.spacers()].concat();
        let bare = bare_mm2(&case.must_be_wood(), &pieces);
        assert!(bare < case.area_noise_mm2(), "{bare} {:?}", case.wanted);
    }
}

#[test]
fn with_open_gaps_only_the_gaps_are_bare() {
    for case in cases() {
        let between_gaps = case.must_be_wood().difference(&unary_union(&case.gaps()));
        let bare = bare_mm2(&between_gaps, &case.segments());
        assert!(bare < case.area_noise_mm2(), "{bare} {:?}", case.wanted);
    }
}

/// Facing corners are one spacer apart, straight across the joint: so the faces are
/// parallel, and that far apart all along.
#[test]
fn faces_of_a_joint_are_one_spacer_apart_all_along() {
    for case in cases() {
        let flat = case.flat();
        let next = flat.map(|corner| turned(corner, 2.0 * case.half_angle()));
        let across = turned((0.0, 1.0), case.half_angle());
        for (here, there) in [(flat[2], next[1]), (flat[3], next[0])] {
            let (x, y) = (there.0 - here.0, there.1 - here.1);
            let apart = x * across.0 + y * across.1;
            let slipped = x * across.1 - y * across.0;
            assert!((apart - case.wanted.spacer_mm).abs() < 1e-9, "{apart}");
            assert!(slipped.abs() < 1e-9, "{slipped} {:?}", case.wanted);
        }
        let face = (flat[2].0 - flat[3].0).hypot(flat[2].1 - flat[3].1);
        assert!((face - case.segment.joint_face_mm).abs() < 1e-9);
    }
}

#[test]
fn circle_hole_and_corners_are_where_the_library_says() {
    for case in cases() {
        let [inside, outside, ..] = case.flat();
        let Segment {
            largest_circle_mm,
            smallest_hole_mm,
            ..
        } = case.segment;
        // Nearest point of the outside flat, farthest of the inside flat.
        assert!((2.0 * outside.0 - largest_circle_mm).abs() < 1e-9);
        assert!((2.0 * inside.0.hypot(inside.1) - smallest_hole_mm).abs() < 1e-9);
        assert!((largest_circle_mm - 2.0 * case.rough_outside_mm()).abs() < 1e-9);
        assert!((smallest_hole_mm - 2.0 * case.rough_hole_mm()).abs() < 1e-9);
    }
}

/// A spacer lies along the whole of both joint faces, and reaches the circle itself.
#[test]
fn a_spacer_covers_both_faces_of_its_joint() {
    for case in cases().iter().filter(|case| case.wanted.spacer_mm > 0.0) {
        let [.., outside, inside] = case.flat();
        let along_joint = |corner| turned(corner, -case.half_angle()).0;
        let end = along_joint(inside) + case.segment.spacer_length_mm;
        let needed = along_joint(outside).max(case.rough_outside_mm());
        assert!((end - needed).abs() < 1e-9, "{end} {:?}", case.wanted);
    }
}

/// The blank must swing clear of the bed with all its corners.
#[test]
fn no_piece_reaches_farther_than_across_corners() {
    for case in cases() {
        let pieces = [case.segments(), case.spacers()].concat();
        let farthest = pieces
            .iter()
            .flat_map(|piece| piece.exterior().points())
            .map(|point| point.x().hypot(point.y()))
            .fold(0.0, f64::max);
        let swing = 2.0 * farthest;
        assert!(
            (swing - case.segment.across_corners_mm).abs() < 1e-9,
            "{swing} {:?}",
            case.wanted
        );
    }
}

/// A tenth of a millimeter off the strip, on either side, and the ring has a flat: no
/// narrower strip would have done.
#[test]
fn a_narrower_strip_would_not_do() {
    const SHAVING_MM: f64 = 0.1;
    for case in cases() {
        let taper = SHAVING_MM * case.half_angle().tan();
        let [inside, outside, ..] = case.flat();
        let (low, high) = (inside.0, outside.0);
        let (short, long) = (-inside.1, -outside.1);
        let shaved_outside = [
            (low, -short),
            (high - SHAVING_MM, taper - long),
            (high - SHAVING_MM, long - taper),
            (low, short),
        ];
        let shaved_inside = [
            (low + SHAVING_MM, -short - taper),
            (high, -long),
            (high, long),
            (low + SHAVING_MM, short + taper),
        ];
        for shaved in [shaved_outside, shaved_inside] {
            let pieces = [case.all_round(&shaved, 0.0), case.spacers()].concat();
            let bare = bare_mm2(&case.must_be_wood(), &pieces);
            assert!(
                bare > 2.0 * case.area_noise_mm2(),
                "{bare} {:?}",
                case.wanted
            );
        }
    }
}

/// Stop and strip set to the nearest mark instead: the ring that comes out.
#[test]
fn what_rounded_settings_give_is_what_was_said() {
    let mut tried = 0;
    for case in cases() {
        for (stop_mm, width_mm) in [(0.0, 0.79), (0.79, 0.0), (-0.4, 0.3), (0.5, -0.5)] {
            let long = case.segment.outside.long_edge_mm + stop_mm;
            let width = case.segment.strip_width_mm + width_mm;
            let short = long - 2.0 * width * case.half_angle().tan();
            if long <= 0.0 || short < 0.0 || width <= 0.0 {
                continue;
            }
            // Pushed outward until the joints are one spacer wide.
            let half_joint = case.wanted.spacer_mm / 2.0;
            let (sine, cosine) = case.half_angle().sin_cos();
            let outside = (long / 2.0 * cosine + half_joint) / sine;
            let inside_corner = (outside - width).hypot(short / 2.0);
            let (circle, hole) = as_cut(case.half_angle(), long, width, case.wanted.spacer_mm);
            assert!((circle - 2.0 * outside).abs() < 1e-9);
            assert!(
                (hole - 2.0 * inside_corner).abs() < 1e-9,
                "{:?}",
                case.wanted
            );
            tried += 1;
        }
    }
    assert!(tried > 2 * cases().len(), "{tried}");
}
