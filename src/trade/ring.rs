//! One ring of mitred segments: what to saw so that the finished ring is inside it.
//!
//! Seen from above. N segments stand round the axis; half the angle of one is
//! φ = π/N. The outside edges lie on a polygon whose flats' middles touch the rough
//! outside circle (they are its nearest points); the inside edges lie on a polygon
//! whose corners touch the rough hole (they are its farthest points). The popular
//! shortcut *strip width = outside radius − inside radius* forgets the corners: at 8
//! segments it loses 4 % of the inside radius of wall.
//!
//! A spacer or an open gap of thickness g stands between neighbours: every joint
//! face moves g/2 sideways from the line through the center. A gap that is told as an angle γ
//! has its two sides on lines through the center instead: the segment is a narrower wedge,
//! sawn at φ − γ/2.
//!
//! Sources: regular polygons, side s = 2 r tan(π/N) = 2 R sin(π/N) and r = R cos(π/N)
//! (CRC Standard Mathematical Tables and Formulas, 30th edition, Polygons). Checked
//! against those tables and against placed polygons in `tests/`.

use std::f64::consts::PI;

/// What the turner wants of one ring. Lengths in millimeters, all finite;
/// `segment_count` from 3 to 360.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Finished outside radius, above 0.
    pub outside_radius_mm: f64,
    /// Finished inside radius, 0 or more; 0 is a disc of wedges.
    pub inside_radius_mm: f64,
    /// Finished height, above 0.
    pub height_mm: f64,
    /// Number of segments.
    pub segment_count: u32,
    /// How much wider than the mean its widest segment is; 1 where all are alike.
    pub widest: f64,
    /// Wood kept outside for turning away, measured on the radius, 0 or more.
    pub outside_allowance_mm: f64,
    /// Wood kept inside for turning away, measured on the radius, 0 or more.
    pub inside_allowance_mm: f64,
    /// Wood kept on each face for flattening, 0 or more.
    pub face_allowance_mm: f64,
    /// Thickness of the spacer or open gap between neighbours, 0 without.
    pub spacer_mm: f64,
    /// Angle of an open gap whose sides go through the axis, radians; 0 without.
    pub gap_rad: f64,
}

/// Why a ring cannot be made. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RingError {
    /// The hole is as large as the ring.
    NoWall {
        /// Finished inside diameter.
        inside_mm: f64,
        /// Finished outside diameter.
        outside_mm: f64,
    },
    /// What is kept inside for turning is more than the hole.
    AllowancePastCenter {
        /// The allowance asked for.
        allowance_mm: f64,
        /// The finished inside radius.
        radius_mm: f64,
    },
    /// A spacer or gap so thick that no short edge is left.
    SpacerTooThick {
        /// Thickness of the spacer or gap.
        thickness_mm: f64,
        /// Thickness at which the short edge is gone.
        most_mm: f64,
    },
    /// A gap that takes all of the angle from one segment to the next.
    GapTooWide {
        /// The gap's angle, radians.
        gap_rad: f64,
        /// The angle from one to the next, of the narrowest, radians.
        pitch_rad: f64,
    },
    /// A segment that takes more of the round than one of three does.
    TooWide {
        /// The angle that it spans, radians.
        angle_rad: f64,
    },
}

/// Half the widest angle that a segment spans: no ring has fewer than three.
const WIDEST_HALF_RAD: f64 = PI / 3.0;

/// Half the least angle that a gap must leave a segment: no saw makes a thinner wedge.
const LEAST_HALF_RAD: f64 = 1e-4;

/// Half the angle that one of `segment_count` segments spans, in radians. It is also
/// the saw's setting from square.
pub fn half_angle_rad(segment_count: u32) -> f64 {
    PI / f64::from(segment_count)
}

/// The outside of a ring: known as soon as diameter and count are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outside {
    /// Saw setting from square, radians: half the angle between a segment's ends.
    pub half_angle_rad: f64,
    /// From the axis to the middle of an outside flat.
    pub apothem_mm: f64,
    /// Long edge of a segment: the stop-block setting.
    pub long_edge_mm: f64,
}

/// One segment as it is sawn, and the glued ring that it makes. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// The outside part.
    pub outside: Outside,
    /// From the axis to the middle of an inside flat.
    pub inside_apothem_mm: f64,
    /// Short edge of a segment.
    pub short_edge_mm: f64,
    /// Width of the strip that segments are cut from.
    pub strip_width_mm: f64,
    /// Height (thickness) of that strip.
    pub strip_height_mm: f64,
    /// Length of a joint face, from inside to outside corner.
    pub joint_face_mm: f64,
    /// Diameter of the largest true circle that the glued ring holds.
    pub largest_circle_mm: f64,
    /// Diameter of the smallest hole that is wood all round: it passes the inside corners.
    pub smallest_hole_mm: f64,
    /// Across the outside corners: what the blank needs above the lathe's bed.
    pub across_corners_mm: f64,
    /// Length that a solid spacer needs to cover the wall, 0 without a spacer.
    pub spacer_length_mm: f64,
}

impl Segment {
    /// Area of its face, a trapezoid's, square millimeters.
    pub fn area_mm2(&self) -> f64 {
        f64::midpoint(self.outside.long_edge_mm, self.short_edge_mm) * self.strip_width_mm
    }

    /// Where a joint face begins inside and ends outside, along it from the place that is
    /// nearest to the axis.
    pub fn face_ends_mm(&self) -> [f64; 2] {
        let (sine, cosine) = self.outside.half_angle_rad.sin_cos();
        let along = |apothem_mm: f64, edge_mm: f64| apothem_mm * cosine + edge_mm / 2.0 * sine;
        [
            along(self.inside_apothem_mm, self.short_edge_mm),
            along(self.outside.apothem_mm, self.outside.long_edge_mm),
        ]
    }

    /// Area of the polygon that the glued ring's segments leave within them, square
    /// millimeters: N·a²·tan φ of its apothem a (CRC Standard Mathematical Tables and
    /// Formulas, 30th edition, regular polygons). Gaps beside them are not counted in.
    pub fn hole_mm2(&self) -> f64 {
        let angle = self.outside.half_angle_rad;
        std::f64::consts::PI / angle * self.inside_apothem_mm.powi(2) * angle.tan()
    }
}

impl Wanted {
    /// How thick its strips are: its height and what both its faces lose.
    pub fn strip_height_mm(&self) -> f64 {
        self.height_mm + 2.0 * self.face_allowance_mm
    }

    /// Half the angle from the middle of a gap to the middle of the next, of the widest segment.
    fn half_angle(&self) -> f64 {
        half_angle_rad(self.segment_count) * self.widest
    }

    /// What a gap through the axis leaves of half the angle that a segment has for itself.
    ///
    /// # Errors
    /// When the gap takes all of it.
    fn sawn_half_angle(&self, half_angle_rad: f64) -> Result<f64, RingError> {
        let left = half_angle_rad - self.gap_rad / 2.0;
        if left < LEAST_HALF_RAD {
            return Err(RingError::GapTooWide {
                gap_rad: self.gap_rad,
                pitch_rad: 2.0 * half_angle_rad,
            });
        }
        Ok(left)
    }

    /// Half an edge this far from the axis, between joint faces half a spacer beside the
    /// lines through the center.
    fn half_edge_mm(&self, distance_mm: f64, half_angle_rad: f64) -> f64 {
        distance_mm * half_angle_rad.tan() - self.spacer_mm / (2.0 * half_angle_rad.cos())
    }

    /// The outside of the ring.
    ///
    /// # Errors
    /// When the spacer leaves no long edge, or a segment spans more than a third of the round.
    pub fn outside(&self) -> Result<Outside, RingError> {
        let angle = self.half_angle();
        if angle > WIDEST_HALF_RAD + 1e-9 {
            let angle_rad = 2.0 * angle;
            return Err(RingError::TooWide { angle_rad });
        }
        let angle = self.sawn_half_angle(angle)?;
        let apothem = self.outside_radius_mm + self.outside_allowance_mm;
        let long_edge = 2.0 * self.half_edge_mm(apothem, angle);
        if long_edge <= 0.0 {
            return Err(self.spacer_too_thick(apothem, angle));
        }
        Ok(Outside {
            half_angle_rad: angle,
            apothem_mm: apothem,
            long_edge_mm: long_edge,
        })
    }

    /// The whole segment, of several kinds the widest.
    ///
    /// # Errors
    /// When no wall, or no short edge, is left; the outside may still be known.
    pub fn segment(&self) -> Result<Segment, RingError> {
        let outside = self.outside()?;
        if self.inside_radius_mm >= self.outside_radius_mm {
            return Err(RingError::NoWall {
                inside_mm: 2.0 * self.inside_radius_mm,
                outside_mm: 2.0 * self.outside_radius_mm,
            });
        }
        let rough_hole = self.inside_radius_mm - self.inside_allowance_mm;
        if rough_hole < -1e-9 && self.inside_radius_mm > 0.0 {
            return Err(RingError::AllowancePastCenter {
                allowance_mm: self.inside_allowance_mm,
                radius_mm: self.inside_radius_mm,
            });
        }
        let rough_hole = rough_hole.max(0.0);
        let angle = outside.half_angle_rad;
        let spacer = self.spacer_mm;
        // At this hole the two joint faces of a segment meet in a point.
        if rough_hole * angle.sin() < spacer / 2.0 {
            return Err(self.spacer_too_thick(rough_hole, angle));
        }
        let inside_apothem = inside_apothem_mm(rough_hole, angle, spacer);
        let short_edge = 2.0 * self.half_edge_mm(inside_apothem, angle);
        let strip_width = outside.apothem_mm - inside_apothem;
        Ok(Segment {
            outside,
            inside_apothem_mm: inside_apothem,
            short_edge_mm: short_edge.max(0.0),
            strip_width_mm: strip_width,
            strip_height_mm: self.strip_height_mm(),
            joint_face_mm: strip_width / angle.cos(),
            largest_circle_mm: 2.0 * outside.apothem_mm,
            smallest_hole_mm: 2.0 * rough_hole,
            across_corners_mm: across_corners_mm(&outside, spacer),
            spacer_length_mm: spacer_length_mm(&outside, rough_hole, spacer),
        })
    }

    /// The finished hole's radius where the strip is so wide; nothing where the strip leaves no
    /// short edge, or the ring has no outside.
    pub fn inside_radius_of_strip_mm(&self, strip_width_mm: f64) -> Option<f64> {
        let outside = self.outside().ok()?;
        let apothem = outside.apothem_mm - strip_width_mm;
        // A hair keeps the widest strip from being lost to rounding.
        let half_edge = self.half_edge_mm(apothem, outside.half_angle_rad);
        (half_edge > -1e-9).then(|| apothem.hypot(half_edge) + self.inside_allowance_mm)
    }

    /// The least and the greatest width of strip that this ring may have, whatever its hole,
    /// with a wall of at least so much; nothing where it has no outside or no such wall.
    pub fn strip_widths_mm(&self, least_wall_mm: f64) -> Option<[f64; 2]> {
        let outside = self.outside().ok()?;
        let (angle, spacer) = (outside.half_angle_rad, self.spacer_mm);
        let rough_hole = self.outside_radius_mm - least_wall_mm - self.inside_allowance_mm;
        let least = outside.apothem_mm - inside_apothem_mm(rough_hole.max(0.0), angle, spacer);
        // Where the two joint faces of a segment meet in a point.
        let most = outside.apothem_mm - spacer / (2.0 * angle.sin());
        (least <= most).then_some([least, most])
    }

    /// A segment of the same ring that spans less than the widest, with half its gap at either
    /// end: from the same strip, its flats as far from the axis.
    ///
    /// # Errors
    /// When spacer or gap leave it no short edge.
    pub fn narrower(&self, widest: &Segment, half_angle_rad: f64) -> Result<Segment, RingError> {
        let half_angle_rad = self.sawn_half_angle(half_angle_rad)?;
        let inside = widest.inside_apothem_mm;
        let short_edge = 2.0 * self.half_edge_mm(inside, half_angle_rad);
        if short_edge < -1e-9 {
            return Err(self.spacer_too_thick(inside, half_angle_rad));
        }
        let apothem = widest.outside.apothem_mm;
        Ok(Segment {
            outside: Outside {
                half_angle_rad,
                apothem_mm: apothem,
                long_edge_mm: 2.0 * self.half_edge_mm(apothem, half_angle_rad),
            },
            short_edge_mm: short_edge.max(0.0),
            joint_face_mm: widest.strip_width_mm / half_angle_rad.cos(),
            ..*widest
        })
    }

    /// The thickness at which the flat this far from the axis is gone.
    fn spacer_too_thick(&self, distance_mm: f64, half_angle_rad: f64) -> RingError {
        RingError::SpacerTooThick {
            thickness_mm: self.spacer_mm,
            most_mm: 2.0 * distance_mm * half_angle_rad.sin(),
        }
    }
}

/// From the axis to the middle of an inside flat whose corners lie on the rough hole:
/// the larger root of A² + (A tan φ − g/(2 cos φ))² = R².
fn inside_apothem_mm(rough_hole_mm: f64, half_angle_rad: f64, spacer_mm: f64) -> f64 {
    let (sine, cosine) = half_angle_rad.sin_cos();
    let under_root = 4.0 * rough_hole_mm * rough_hole_mm - spacer_mm * spacer_mm;
    f64::midpoint(spacer_mm * sine, cosine * under_root.max(0.0).sqrt())
}

/// The circle that every corner swings within; a spacer thicker than the long edge
/// reaches farther than the segments do.
fn across_corners_mm(outside: &Outside, spacer_mm: f64) -> f64 {
    let widest = outside.long_edge_mm.max(spacer_mm);
    2.0 * outside.apothem_mm.hypot(widest / 2.0)
}

/// A spacer reaches from the rough hole to the outside corner of its neighbours, and
/// at least to the finished circle with its allowance.
fn spacer_length_mm(outside: &Outside, rough_hole_mm: f64, spacer_mm: f64) -> f64 {
    if spacer_mm <= 0.0 {
        return 0.0;
    }
    let (sine, cosine) = outside.half_angle_rad.sin_cos();
    let corner = (outside.apothem_mm - spacer_mm * sine / 2.0) / cosine;
    let half = spacer_mm / 2.0;
    let start = (rough_hole_mm * rough_hole_mm - half * half)
        .max(0.0)
        .sqrt();
    corner.max(outside.apothem_mm) - start
}

/// The ring that comes out when strip width and stop are set to other figures than
/// the exact ones: the diameters of its largest circle and its smallest hole.
pub fn as_cut(
    half_angle_rad: f64,
    long_edge_mm: f64,
    strip_width_mm: f64,
    spacer_mm: f64,
) -> (f64, f64) {
    let angle = half_angle_rad;
    let along_flat = spacer_mm / (2.0 * angle.cos());
    let outside_apothem = (long_edge_mm / 2.0 + along_flat) / angle.tan();
    let inside_apothem = outside_apothem - strip_width_mm;
    let half_short_edge = inside_apothem * angle.tan() - along_flat;
    // A strip too wide for any short edge ends in a point, half a spacer off the axis.
    let hole = if half_short_edge < 0.0 {
        spacer_mm / angle.sin()
    } else {
        2.0 * inside_apothem.max(0.0).hypot(half_short_edge)
    };
    (2.0 * outside_apothem, hole)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn twelve() -> Wanted {
        Wanted {
            outside_radius_mm: 127.0,
            inside_radius_mm: 107.95,
            height_mm: 19.05,
            segment_count: 12,
            widest: 1.0,
            outside_allowance_mm: 0.0,
            inside_allowance_mm: 0.0,
            face_allowance_mm: 0.0,
            spacer_mm: 0.0,
            gap_rad: 0.0,
        }
    }

    #[test]
    fn twelve_segments_are_cut_at_fifteen_degrees() {
        // Common practice, no published source.
        assert!((half_angle_rad(12).to_degrees() - 15.0).abs() < 1e-12);
    }

    #[test]
    fn wedges_that_meet_in_the_middle() {
        let wedges = Wanted {
            inside_radius_mm: 0.0,
            ..twelve()
        }
        .segment()
        .unwrap();
        assert!(wedges.short_edge_mm.abs() < 1e-12);
        assert!((wedges.strip_width_mm - 127.0).abs() < 1e-12);
        let allowance = Wanted {
            inside_radius_mm: 0.0,
            inside_allowance_mm: 3.0,
            ..twelve()
        };
        assert!(
            allowance.segment().is_ok(),
            "a disc has no inside to keep wood at"
        );
    }

    #[test]
    fn cutting_the_exact_figures_gives_the_wanted_ring() {
        for spacer_mm in [0.0, 4.0] {
            let wanted = Wanted {
                spacer_mm,
                ..twelve()
            };
            let segment = wanted.segment().unwrap();
            let (circle, hole) = as_cut(
                half_angle_rad(12),
                segment.outside.long_edge_mm,
                segment.strip_width_mm,
                spacer_mm,
            );
            assert!((circle - 254.0).abs() < 1e-9);
            assert!((hole - 215.9).abs() < 1e-9);
        }
    }

    #[test]
    fn says_what_leaves_no_ring() {
        let no_wall = Wanted {
            inside_radius_mm: 127.0,
            ..twelve()
        }
        .segment()
        .unwrap_err();
        assert!(matches!(no_wall, RingError::NoWall { .. }));
        let thick = Wanted {
            spacer_mm: 60.0,
            ..twelve()
        };
        assert!(thick.outside().is_ok(), "the outside still stands");
        let trouble = thick.segment().unwrap_err();
        let RingError::SpacerTooThick { most_mm, .. } = trouble else {
            panic!("{trouble:?}");
        };
        assert!(
            Wanted {
                spacer_mm: most_mm * 0.999,
                ..twelve()
            }
            .segment()
            .is_ok()
        );
        assert!(
            Wanted {
                spacer_mm: most_mm * 1.001,
                ..twelve()
            }
            .segment()
            .is_err()
        );
    }
}
