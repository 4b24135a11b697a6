//! Cutting a strip into segments: the strip is turned over between cuts, so that
//! each miter serves two segments and only the kerf is lost between them.
//!
//! Along the strip's middle each segment takes (long edge + short edge)/2, each cut
//! kerf/cos φ. A fresh strip spends its square end on the first miter, and ends in a
//! piece that is too short to hold: together strip width · tan φ and the hold-back,
//! measured so that the *shorter* edge of the last piece is the hold-back.

use crate::trade::ring::Segment;

/// Nothing shorter goes through the planer: 12 in (common practice, no published source).
pub const LEAST_PLANED_MM: f64 = 304.8;

/// What stays at the fence of a stick that thin strips are ripped off, so that a push stick
/// passes beside the blade: 1/2 in (our own choice, no published source).
pub const LEFT_AT_FENCE_MM: f64 = 12.7;

/// How many thin strips, a saw cut beside each, are ripped off a stick safely. One may be
/// ripped off what is too thin for that: the words say how.
pub fn thin_strips(stick_mm: f64, strip_mm: f64, kerf_mm: f64) -> u32 {
    let safe = (stick_mm - LEFT_AT_FENCE_MM) / (strip_mm + kerf_mm);
    let safe = (safe + 1e-9).floor().max(0.0) as u32;
    safe.max(u32::from(stick_mm + 1e-6 >= strip_mm))
}

/// What a square is wider than the circle that is sawn from it: 1/8 in, so that the blade has
/// wood on both sides all round (our own choice, no published source).
pub const SQUARE_SPARE_MM: f64 = 3.175;

/// A stick that thin strips are ripped off, and these crosscut. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stick {
    /// Its length: no less than the planer takes.
    pub long_mm: f64,
    /// Across, where the strips are ripped off.
    pub across_mm: f64,
    /// Thin strips that it gives.
    pub strip_count: u32,
    /// Pieces of each.
    pub each: u32,
}

/// The shortest stick that gives so many pieces.
pub fn stick(count: u32, length_mm: f64, strip_mm: f64, kerf_mm: f64) -> Stick {
    let pitch_mm = length_mm + kerf_mm;
    let each = (LEAST_PLANED_MM / pitch_mm + 1e-9).floor().max(1.0) as u32;
    let each = each.min(count.max(1));
    let strip_count = count.div_ceil(each);
    Stick {
        long_mm: LEAST_PLANED_MM.max(f64::from(each) * pitch_mm),
        across_mm: f64::from(strip_count) * (strip_mm + kerf_mm) + LEFT_AT_FENCE_MM,
        strip_count,
        each,
    }
}

/// What cutting needs beside the segment. Millimeters, all 0 or more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cutting {
    /// Width of the saw's cut.
    pub kerf_mm: f64,
    /// Shortest piece that is still held safely while the last segment is cut off it.
    pub hold_back_mm: f64,
    /// Length of the strips at hand.
    pub strip_length_mm: f64,
}

/// Strips for one ring. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strips {
    /// From one segment to the next along the strip, kerf included.
    pub pitch_mm: f64,
    /// What a fresh strip spends on its two ends beside the segments.
    pub ends_mm: f64,
    /// Segments that one strip of the length at hand yields; 0 when it is too short.
    pub segments_a_strip: u32,
    /// Strips of the length at hand that the ring takes; 0 when they are too short.
    pub strip_count: u32,
    /// Length needed in all: on the strips at hand, or on one long strip when those
    /// are too short.
    pub total_length_mm: f64,
    /// Length to cut the last strip to, when it need not be whole.
    pub last_strip_mm: f64,
}

/// The strip at hand does not hold one segment and the piece to hold it by. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripTooShort {
    /// The strip length at hand.
    pub length_mm: f64,
    /// The length that one segment needs.
    pub needed_mm: f64,
}

/// Lays `segment_count` segments on strips.
///
/// The error, if any, says that the strips at hand are too short; the figures then
/// speak of one long strip.
pub fn strips(
    segment: &Segment,
    segment_count: u32,
    cutting: &Cutting,
) -> (Strips, Option<StripTooShort>) {
    let angle = segment.outside.half_angle_rad;
    let pitch = f64::midpoint(segment.outside.long_edge_mm, segment.short_edge_mm)
        + cutting.kerf_mm / angle.cos();
    let ends = segment.strip_width_mm * angle.tan() + cutting.hold_back_mm;
    let length_for = |count: u32| ends + f64::from(count) * pitch;
    // A hair of 1e-9 keeps an exact fit from being lost to rounding.
    let fit = ((cutting.strip_length_mm - ends) / pitch + 1e-9).floor();
    let segments_a_strip = fit.clamp(0.0, f64::from(segment_count)) as u32;
    let mut strips = Strips {
        pitch_mm: pitch,
        ends_mm: ends,
        segments_a_strip,
        strip_count: 0,
        total_length_mm: length_for(segment_count),
        last_strip_mm: length_for(segment_count),
    };
    if segments_a_strip == 0 {
        let too_short = StripTooShort {
            length_mm: cutting.strip_length_mm,
            needed_mm: length_for(1),
        };
        return (strips, Some(too_short));
    }
    let full_strips = (segment_count - 1) / segments_a_strip;
    let on_the_last = segment_count - full_strips * segments_a_strip;
    strips.strip_count = full_strips + 1;
    strips.last_strip_mm = length_for(on_the_last);
    strips.total_length_mm =
        f64::from(full_strips) * length_for(segments_a_strip) + strips.last_strip_mm;
    (strips, None)
}

/// What strips of several woods for one ring come to together.
pub fn together<'a>(all: impl IntoIterator<Item = &'a Strips>) -> Option<Strips> {
    all.into_iter().copied().reduce(|one, other| Strips {
        segments_a_strip: one.segments_a_strip.max(other.segments_a_strip),
        strip_count: one.strip_count + other.strip_count,
        total_length_mm: one.total_length_mm + other.total_length_mm,
        last_strip_mm: one.last_strip_mm.max(other.last_strip_mm),
        ..one
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::ring::Wanted;

    fn segment(segment_count: u32) -> Segment {
        Wanted {
            outside_radius_mm: 127.0,
            inside_radius_mm: 100.0,
            height_mm: 19.0,
            segment_count,
            widest: 1.0,
            outside_allowance_mm: 3.0,
            inside_allowance_mm: 3.0,
            face_allowance_mm: 0.0,
            spacer_mm: 0.0,
            gap_rad: 0.0,
        }
        .segment()
        .unwrap()
    }

    /// By walking the fence inward strip by strip: what is left never gets narrower than what
    /// stays at the fence, and the sticks told give every piece.
    #[test]
    fn thin_strips_leave_wood_at_the_fence_and_a_stick_gives_every_piece() {
        for (strip_mm, kerf_mm, length_mm, count) in [
            (3.0, 3.2, 84.0, 16),
            (1.5, 2.0, 60.0, 24),
            (2.9, 3.175, 420.0, 5),
            (3.0, 3.0, 20.0, 1),
        ] {
            let told = stick(count, length_mm, strip_mm, kerf_mm);
            let mut left_mm = told.across_mm;
            let mut pieces = 0;
            while left_mm - strip_mm - kerf_mm >= LEFT_AT_FENCE_MM - 1e-9 {
                left_mm -= strip_mm + kerf_mm;
                let mut along_mm = told.long_mm;
                while along_mm + kerf_mm + 1e-9 >= length_mm + kerf_mm {
                    along_mm -= length_mm + kerf_mm;
                    pieces += 1;
                }
            }
            assert!(pieces >= count, "{pieces} of {count}");
            assert!(told.long_mm >= LEAST_PLANED_MM && told.strip_count * told.each >= count);
            assert_eq!(
                thin_strips(told.across_mm, strip_mm, kerf_mm),
                told.strip_count
            );
            assert!(
                thin_strips(told.across_mm - 0.01, strip_mm, kerf_mm) < told.strip_count.max(2)
            );
        }
        assert_eq!(thin_strips(10.0, 3.0, 3.0), 1);
        assert_eq!(thin_strips(2.0, 3.0, 3.0), 0);
    }

    /// Walks the saw along the strip, tracking where each miter meets both edges, and
    /// counts segments until the piece left is too short to hold.
    fn count_by_walking(segment: &Segment, cutting: &Cutting) -> u32 {
        let run = segment.strip_width_mm * segment.outside.half_angle_rad.tan();
        let kerf = cutting.kerf_mm / segment.outside.half_angle_rad.cos();
        // Positions of the present miter on the near and the far edge.
        let (mut near, mut far) = (0.0_f64, run);
        let mut count = 0;
        loop {
            // The next segment has its long edge on the side where the miter lies back.
            let (long, short) = (segment.outside.long_edge_mm, segment.short_edge_mm);
            if near < far {
                near += long + kerf;
                far += short + kerf;
            } else {
                near += short + kerf;
                far += long + kerf;
            }
            if cutting.strip_length_mm - near.max(far) < cutting.hold_back_mm - 1e-9 {
                return count;
            }
            count += 1;
        }
    }

    #[test]
    fn agrees_with_walking_the_saw_along_the_strip() {
        for segment_count in [6, 8, 12, 17, 24] {
            let segment = segment(segment_count);
            for step in 0..40 {
                let cutting = Cutting {
                    kerf_mm: 3.175,
                    hold_back_mm: 100.0,
                    strip_length_mm: 150.0 + 37.0 * f64::from(step),
                };
                let (strips, _) = strips(&segment, segment_count, &cutting);
                let walked = count_by_walking(&segment, &cutting).min(segment_count);
                assert_eq!(
                    strips.segments_a_strip, walked,
                    "{segment_count} {cutting:?}"
                );
            }
        }
    }

    #[test]
    fn the_last_strip_is_only_as_long_as_needed() {
        let segment = segment(12);
        let mut cutting = Cutting {
            kerf_mm: 3.0,
            hold_back_mm: 100.0,
            strip_length_mm: 500.0,
        };
        let (first, trouble) = strips(&segment, 12, &cutting);
        assert!(trouble.is_none());
        assert!(first.strip_count > 1 && first.last_strip_mm <= 500.0);
        cutting.strip_length_mm = first.last_strip_mm;
        let on_the_last = 12 - (first.strip_count - 1) * first.segments_a_strip;
        assert_eq!(
            strips(&segment, 12, &cutting).0.segments_a_strip,
            on_the_last
        );
        cutting.strip_length_mm = 60.0;
        let (short, trouble) = strips(&segment, 12, &cutting);
        assert!(trouble.is_some() && short.strip_count == 0 && short.total_length_mm > 500.0);
    }
}
