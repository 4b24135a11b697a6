//! Closing the ring: what a small error of the saw does to the last joint, and what
//! the last joint of a dry ring says about the saw.
//!
//! Every segment has two cut faces. If each is cut at φ − δ instead of φ, the ring is
//! 2Nδ short of a full turn, and all of it gathers in the last joint as a wedge. The
//! long edge stays what the stop block makes it, so the faces of the segments meet at
//! a center of their own, and the wedge has its tip there.

use crate::trade::ring::{Segment, Wanted};
use crate::units::kept::kept_choice;
use std::f64::consts::FRAC_PI_2;

/// A hair, 0.05 mm: a gap no wider counts as closed, and lengths no farther apart as the same,
/// since nobody sets a fence nearer (our own choice, no published source).
pub const HAIR_MM: f64 = 0.05;

kept_choice! {
    /// How the last joint of a dry ring stands open while all others are tight.
    pub enum OpenAt {
        /// Open right through, wider outside; measured at the outside edge.
        Through = "through",
        /// Touches inside, open outside; measured at the outside edge.
        Outside = "outside",
        /// Touches outside, open inside; measured at the inside edge.
        Inside = "inside",
    }
}

/// Why a reading tells nothing of the saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ClosingError {
    /// A gap wider than a closed ring could ever show.
    GapTooWide {
        /// The widest gap that the formula can place, millimeters.
        most_mm: f64,
    },
    /// More glued segments than the ring has.
    TooManyGlued {
        /// Segments of the ring.
        segment_count: u32,
    },
}

/// The last joint of a ring: what decides how wide a wedge shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastJoint {
    segment_count: u32,
    long_edge_mm: f64,
    strip_width_mm: f64,
    spacer_mm: f64,
    half_angle_rad: f64,
}

impl LastJoint {
    /// The last joint of this ring.
    pub fn of(wanted: &Wanted, segment: &Segment) -> LastJoint {
        LastJoint {
            segment_count: wanted.segment_count,
            long_edge_mm: segment.outside.long_edge_mm,
            strip_width_mm: segment.strip_width_mm,
            spacer_mm: wanted.spacer_mm,
            half_angle_rad: segment.outside.half_angle_rad,
        }
    }

    /// How far the last joint opens, beyond the spacer, at the edge that `open_at`
    /// names, when every cut is `error_rad` short of the true angle. Positive errors
    /// open it outside, negative ones inside.
    pub fn opening_mm(&self, error_rad: f64, open_at: OpenAt) -> f64 {
        let cut = self.half_angle_rad - error_rad;
        let half_wedge = f64::from(self.segment_count) * error_rad;
        let face = self.strip_width_mm / cut.cos();
        match open_at {
            OpenAt::Through => {
                let along_face = self.long_edge_mm / (2.0 * cut.sin())
                    + self.spacer_mm / 2.0 * cut.cos() / cut.sin();
                2.0 * along_face * half_wedge.sin() + self.spacer_mm * (half_wedge.cos() - 1.0)
            }
            OpenAt::Outside => 2.0 * face * half_wedge.sin(),
            OpenAt::Inside => -2.0 * face * half_wedge.sin(),
        }
    }

    /// The error of each cut, radians, from the opening measured at the last joint.
    /// Positive: every cut is too small, turn the saw to a larger miter.
    ///
    /// # Errors
    /// When no error of the saw could open the joint that far.
    pub fn error_rad(&self, opening_mm: f64, open_at: OpenAt) -> Result<f64, ClosingError> {
        let direction = if open_at == OpenAt::Inside { -1.0 } else { 1.0 };
        // At this error the wedge is half a turn wide: far past any ring.
        let most = FRAC_PI_2 / f64::from(self.segment_count);
        let opening_at = |error: f64| self.opening_mm(direction * error, open_at);
        if opening_mm > opening_at(most) {
            return Err(ClosingError::GapTooWide {
                most_mm: opening_at(most),
            });
        }
        let (mut low, mut high) = (0.0, most);
        // The opening grows with the error, so halving closes in on it; 60 halvings
        // leave nothing of the first interval.
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if opening_at(middle) < opening_mm {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(direction * f64::midpoint(low, high))
    }

    /// How true every cut must be so that the last joint opens less than a hair.
    pub fn accuracy_rad(&self) -> f64 {
        self.error_rad(HAIR_MM, OpenAt::Through).unwrap_or(0.0)
    }
}

/// A ring closed of two halves whose ends were made flat (common practice, no published
/// source): what an error of the saw costs then. All of it in millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Halves {
    /// The most that is taken off each end: a wedge, nothing at its other edge.
    pub sanded_mm: f64,
    /// How much smaller the largest true circle is, on the diameter; 0 where it is larger.
    pub lost_mm: f64,
    /// How much larger the smallest hole is, on the diameter; 0 where it is smaller.
    pub hole_mm: f64,
    /// How much farther apart two flats across are than those nearest.
    pub out_of_round_mm: f64,
}

/// A half of a ring with its ends flat, laid with them on the line through the middle of the
/// ring that it is closed to.
#[allow(clippy::struct_field_names, reason = "units stand in the names")]
struct HalfRing {
    /// How far the flats of the outside are from the ring's middle.
    flats_mm: Vec<f64>,
    /// How far the inside's farthest corner is.
    hole_mm: f64,
    sanded_mm: f64,
}

impl LastJoint {
    /// What closing in two halves costs, when every cut is `error_rad` short of the true angle;
    /// nothing for an odd count, which makes no two halves alike, and for an error that leaves
    /// no half.
    ///
    /// A half of n segments is 2nδ short of half a turn, nδ at each end. The saw's faces are
    /// radial then, and the board makes them parallel to the line through the middle: what is
    /// higher of their edges stays, the other is sanded down to it.
    pub fn halves(&self, error_rad: f64) -> Option<Halves> {
        let (now, true_one) = (self.half_ring(error_rad)?, self.half_ring(0.0)?);
        let least = |it: &HalfRing| it.flats_mm.iter().copied().fold(f64::INFINITY, f64::min);
        let most = now.flats_mm.iter().copied().fold(0.0, f64::max);
        Some(Halves {
            sanded_mm: now.sanded_mm,
            lost_mm: 2.0 * (least(&true_one) - least(&now)).max(0.0),
            hole_mm: 2.0 * (now.hole_mm - true_one.hole_mm).max(0.0),
            out_of_round_mm: 2.0 * (most - least(&now)),
        })
    }

    fn half_ring(&self, error_rad: f64) -> Option<HalfRing> {
        let count = self.segment_count / 2;
        let cut = self.half_angle_rad - error_rad;
        let tilt = f64::from(count) * error_rad;
        if !self.segment_count.is_multiple_of(2) || cut <= 0.0 || tilt.abs() >= FRAC_PI_2 {
            return None;
        }
        let half_spacer_mm = self.spacer_mm / 2.0;
        // Along a face, from the foot of the perpendicular that the half's own middle has on it.
        let outer_mm = self.long_edge_mm / (2.0 * cut.sin()) + half_spacer_mm / cut.tan();
        let inner_mm = outer_mm - self.strip_width_mm / cut.cos();
        let height_mm = |along_mm: f64| along_mm * tilt.sin() + half_spacer_mm * tilt.cos();
        let ends = [outer_mm, inner_mm].map(height_mm);
        let flat_mm = ends[0].max(ends[1]);
        // The half's own middle lies so far below the line.
        let below_mm = flat_mm - half_spacer_mm;
        let apothem_mm = self.long_edge_mm / (2.0 * cut.tan()) + half_spacer_mm / cut.sin();
        let inside_mm = apothem_mm - self.strip_width_mm;
        let half_short_mm = self.long_edge_mm / 2.0 - self.strip_width_mm * cut.tan();
        let directions =
            (0..count).map(|at| FRAC_PI_2 + (f64::from(2 * at) - f64::from(count - 1)) * cut);
        let corner_mm = |direction: f64, aside_mm: f64| {
            let (sine, cosine) = direction.sin_cos();
            let up_mm = |aside_mm: f64| inside_mm * sine + aside_mm * cosine;
            // What the board takes off the end, it takes off the corner.
            let aside_mm = if up_mm(aside_mm) < flat_mm && cosine.abs() > 1e-9 {
                (flat_mm - inside_mm * sine) / cosine
            } else {
                aside_mm
            };
            let across_mm = inside_mm * cosine - aside_mm * sine;
            across_mm.hypot(up_mm(aside_mm) - below_mm)
        };
        let corners = directions.clone().flat_map(|direction| {
            [-half_short_mm, half_short_mm].map(|aside_mm| corner_mm(direction, aside_mm))
        });
        Some(HalfRing {
            hole_mm: corners.fold(0.0, f64::max),
            flats_mm: directions
                .map(|direction| apothem_mm - below_mm * direction.sin())
                .collect(),
            sanded_mm: flat_mm - ends[0].min(ends[1]),
        })
    }
}

/// The error of each cut, radians, from the angle that a protractor reads between the
/// two end faces of `glued_count` segments. Positive: the cuts are too small.
///
/// # Errors
/// When more segments are said to be glued than the ring has.
pub fn error_from_protractor_rad(
    segment_count: u32,
    glued_count: u32,
    angle_rad: f64,
) -> Result<f64, ClosingError> {
    if glued_count > segment_count {
        return Err(ClosingError::TooManyGlued { segment_count });
    }
    let cut = angle_rad / (2.0 * f64::from(glued_count));
    Ok(crate::trade::ring::half_angle_rad(segment_count) - cut)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A segment's four corners: inside left, outside left, outside right, inside right.
    type Corners = [(f64, f64); 4];

    /// Builds the ring like a turner: each segment laid against the last one's face,
    /// with the spacer between; returns the first and the last.
    fn lay_ring(wanted: &Wanted, segment: &Segment, error_rad: f64) -> (Corners, Corners) {
        let cut = segment.outside.half_angle_rad - error_rad;
        let (long, width) = (segment.outside.long_edge_mm, segment.strip_width_mm);
        let short = long - 2.0 * width * cut.tan();
        let flat: Corners = [
            (-short / 2.0, 0.0),
            (-long / 2.0, width),
            (long / 2.0, width),
            (short / 2.0, 0.0),
        ];
        let mut placed = flat;
        for _ in 1..wanted.segment_count {
            // The right face of the last piece, moved outward by the spacer, receives
            // the left face of the next.
            let (inner, outer) = (placed[3], placed[2]);
            let face = (outer.0 - inner.0, outer.1 - inner.1);
            let length = face.0.hypot(face.1);
            let out = (face.1 / length, -face.0 / length);
            let to = (
                inner.0 + out.0 * wanted.spacer_mm,
                inner.1 + out.1 * wanted.spacer_mm,
            );
            let left = (flat[1].0 - flat[0].0, flat[1].1 - flat[0].1);
            let turn = face.1.atan2(face.0) - left.1.atan2(left.0);
            let (sine, cosine) = turn.sin_cos();
            placed = flat.map(|(x, y)| {
                let (x, y) = (x - flat[0].0, y - flat[0].1);
                (to.0 + x * cosine - y * sine, to.1 + x * sine + y * cosine)
            });
        }
        (flat, placed)
    }

    /// A half ring, laid piece by piece, turned until both its ends lean alike.
    fn lay_half(wanted: &Wanted, segment: &Segment, error_rad: f64) -> Vec<Corners> {
        let mut laid: Vec<Corners> = (1..=wanted.segment_count / 2)
            .map(|segment_count| {
                let so_many = Wanted {
                    segment_count,
                    ..*wanted
                };
                lay_ring(&so_many, segment, error_rad).1
            })
            .collect();
        // The first lies with its outside up, at the middle; each next one farther right round.
        let (first, last) = (laid[0], laid[laid.len() - 1]);
        let along = |one: (f64, f64), other: (f64, f64)| (other.1 - one.1).atan2(other.0 - one.0);
        let (left, right) = (along(first[0], first[1]), along(last[3], last[2]));
        // Their middle direction goes straight up.
        let turn = std::f64::consts::FRAC_PI_2 - f64::midpoint(left, right);
        let (sine, cosine) = turn.sin_cos();
        for corner in laid.iter_mut().flatten() {
            let (x, y) = *corner;
            *corner = (x * cosine - y * sine, x * sine + y * cosine);
        }
        // Both ends alike far from the line that halves it.
        let middle = f64::midpoint(laid[0][1].0, laid[laid.len() - 1][2].0);
        for corner in laid.iter_mut().flatten() {
            corner.0 -= middle;
        }
        laid
    }

    /// The part of a line that lies above a height.
    fn above(from: (f64, f64), to: (f64, f64), least: f64) -> Option<[(f64, f64); 2]> {
        let at = |y: f64| {
            let share = (y - from.1) / (to.1 - from.1);
            (from.0 + share * (to.0 - from.0), y)
        };
        match (from.1 >= least, to.1 >= least) {
            (true, true) => Some([from, to]),
            (true, false) => Some([from, at(least)]),
            (false, true) => Some([at(least), to]),
            (false, false) => None,
        }
    }

    /// How near a line comes to the middle.
    fn nearest([from, to]: [(f64, f64); 2]) -> f64 {
        let along = (to.0 - from.0, to.1 - from.1);
        let long = along.0 * along.0 + along.1 * along.1;
        let share = (-(from.0 * along.0 + from.1 * along.1) / long).clamp(0.0, 1.0);
        (from.0 + share * along.0).hypot(from.1 + share * along.1)
    }

    /// The largest circle in a ring closed of such halves, and the smallest round its hole, by
    /// their lines above the board; and what the board took.
    fn measured(laid: &[Corners], spacer_mm: f64) -> [f64; 3] {
        let (first, last) = (laid[0], laid[laid.len() - 1]);
        let ends = [first[0].1, first[1].1, last[2].1, last[3].1];
        let board = ends.into_iter().fold(f64::NEG_INFINITY, f64::max);
        let lowest = ends.into_iter().fold(f64::INFINITY, f64::min);
        let (mut circle, mut hole) = (f64::INFINITY, 0.0_f64);
        for corners in laid {
            let down = |it: (f64, f64)| (it.0, it.1 - board + spacer_mm / 2.0);
            let [inner_left, outer_left, outer_right, inner_right] = corners.map(down);
            if let Some(outside) = above(outer_left, outer_right, spacer_mm / 2.0) {
                circle = circle.min(nearest(outside));
            }
            for (x, y) in above(inner_left, inner_right, spacer_mm / 2.0)
                .into_iter()
                .flatten()
            {
                hole = hole.max(x.hypot(y));
            }
        }
        [circle, hole, board - lowest]
    }

    #[test]
    fn halves_lose_what_halves_that_are_laid_and_sanded_lose() {
        for segment_count in [6, 8, 12, 24, 36] {
            for spacer_mm in [0.0, 3.0] {
                let (wanted, segment) = ring(segment_count, spacer_mm);
                let joint = LastJoint::of(&wanted, &segment);
                let [circle, hole, none] = measured(&lay_half(&wanted, &segment, 0.0), spacer_mm);
                assert!(none < 1e-6, "true ends are flat");
                for error_deg in [-0.25, -0.2, -0.1, -0.02, 0.0, 0.02, 0.1, 0.2, 0.25_f64] {
                    let error = error_deg.to_radians();
                    let laid = lay_half(&wanted, &segment, error);
                    let found = measured(&laid, spacer_mm);
                    let told = joint.halves(error).unwrap();
                    let said =
                        format!("{segment_count} {spacer_mm} {error_deg}: {told:?} {found:?}");
                    let near = |one: f64, other: f64| assert!((one - other).abs() < 1e-6, "{said}");
                    near(told.lost_mm, 2.0 * (circle - found[0]).max(0.0));
                    near(told.hole_mm, 2.0 * (found[1] - hole).max(0.0));
                    near(told.sanded_mm, found[2]);
                    assert!(error_deg == 0.0 || told.sanded_mm > 0.0, "{said}");
                }
            }
        }
        let (wanted, segment) = ring(37, 0.0);
        assert_eq!(LastJoint::of(&wanted, &segment).halves(0.001), None);
    }

    fn ring(segment_count: u32, spacer_mm: f64) -> (Wanted, Segment) {
        let wanted = Wanted {
            outside_radius_mm: 127.0,
            inside_radius_mm: 100.0,
            height_mm: 19.0,
            segment_count,
            widest: 1.0,
            outside_allowance_mm: 3.0,
            inside_allowance_mm: 3.0,
            face_allowance_mm: 0.0,
            spacer_mm,
            gap_rad: 0.0,
        };
        (wanted, wanted.segment().unwrap())
    }

    #[test]
    fn the_wedge_is_the_one_that_laid_segments_leave() {
        for segment_count in [6, 12, 24, 37] {
            for spacer_mm in [0.0, 3.0] {
                let (wanted, segment) = ring(segment_count, spacer_mm);
                let joint = LastJoint::of(&wanted, &segment);
                for error_deg in [0.0, 0.05, 0.1, 0.25_f64] {
                    let error = error_deg.to_radians();
                    let (first, last) = lay_ring(&wanted, &segment, error);
                    let gap = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1);
                    let outside = gap(first[1], last[2]) - spacer_mm;
                    let inside = gap(first[0], last[3]) - spacer_mm;
                    let through = joint.opening_mm(error, OpenAt::Through);
                    assert!(
                        (through - outside).abs() < 1e-6,
                        "{segment_count} {through} {outside}"
                    );
                    let wedge = joint.opening_mm(error, OpenAt::Outside);
                    assert!((wedge - (outside - inside)).abs() < 1e-6);
                }
            }
        }
    }

    #[test]
    fn the_measured_gap_gives_the_error_back() {
        let (wanted, segment) = ring(12, 2.0);
        let joint = LastJoint::of(&wanted, &segment);
        for (open_at, sign) in [
            (OpenAt::Through, 1.0),
            (OpenAt::Outside, 1.0),
            (OpenAt::Inside, -1.0),
        ] {
            for error_deg in [0.001, 0.03, 0.4, 2.0_f64] {
                let error = sign * error_deg.to_radians();
                let gap = joint.opening_mm(error, open_at);
                assert!(gap > 0.0);
                let found = joint.error_rad(gap, open_at).unwrap();
                assert!((found - error).abs() < 1e-12, "{open_at:?} {found} {error}");
            }
            assert!(joint.error_rad(1e6, open_at).is_err());
            assert!(joint.error_rad(0.0, open_at).unwrap().abs() < 1e-12);
        }
    }

    #[test]
    fn a_protractor_over_six_of_twelve_reads_half_a_turn() {
        assert!(
            error_from_protractor_rad(12, 6, 180_f64.to_radians())
                .unwrap()
                .abs()
                < 1e-12
        );
        let small = error_from_protractor_rad(12, 6, 179.4_f64.to_radians()).unwrap();
        assert!(
            (small.to_degrees() - 0.05).abs() < 1e-12,
            "cut 0.05° too small"
        );
        assert!(error_from_protractor_rad(12, 13, 1.0).is_err());
    }
}
