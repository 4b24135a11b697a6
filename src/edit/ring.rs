//! The ring beside the saw by the strip that is at hand: its wall follows.

use crate::design::field::{Field, Kind, LONGEST_MM, SOME_MM};
use crate::design::kind::of;
use crate::design::trouble::{Reason, Trouble};
use crate::design::{Design, HoleBy};
use crate::plan::plan;
use crate::trade::ring::Wanted;
use crate::units::kept::Kept;
use crate::units::length::round;

/// How wide the strip is, which the wall follows: not kept, for the wall is.
pub const STRIP_WIDTH: Field = Field {
    key: "ring.strip_width_mm",
    label: "Strip width",
    ..of(Kind::Length {
        least: SOME_MM,
        most: LONGEST_MM,
    })
};

/// What a ring of this inside radius asks of the strip; nothing where it cannot be made.
fn strip_width_mm(wanted: &Wanted, inside_radius_mm: f64) -> Option<f64> {
    let ring = Wanted {
        inside_radius_mm,
        ..*wanted
    };
    Some(ring.segment().ok()?.strip_width_mm)
}

/// Gives the ring the wall for which its strip is so wide.
///
/// # Errors
/// As [`Field::read`], and with the widths that this ring can have.
pub fn type_strip_width(design: &Design, typed: &str) -> Result<Design, Trouble> {
    let at_field = |reason| Trouble::at(STRIP_WIDTH.key, reason);
    let read = STRIP_WIDTH.read(typed, design.unit).map_err(at_field)?;
    let value = f64::read(&read).unwrap_or_default();
    let wanted = plan(design).ring.wanted;
    // A wall of next to nothing, and the smallest hole that can be.
    let thinnest_mm = wanted.outside_radius_mm - SOME_MM;
    let (mut low, mut high) = (0.0, thinnest_mm);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if strip_width_mm(&wanted, middle).is_some() {
            high = middle;
        } else {
            low = middle;
        }
    }
    let smallest_mm = high;
    let (Some(least), Some(most)) = (
        strip_width_mm(&wanted, thinnest_mm),
        strip_width_mm(&wanted, smallest_mm),
    ) else {
        // What is wrong with the ring is told at its own fields.
        return Ok(design.clone());
    };
    if !(least..=most).contains(&value) {
        return Err(at_field(Reason::OutOfRange { value, least, most }));
    }
    let (mut low, mut high) = (smallest_mm, thinnest_mm);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if strip_width_mm(&wanted, middle).is_none_or(|width_mm| width_mm > value) {
            low = middle;
        } else {
            high = middle;
        }
    }
    let mut changed = design.clone();
    changed.ring.wall_mm = round(wanted.outside_radius_mm - high).max(SOME_MM);
    changed.ring.hole_by = HoleBy::Wall;
    Ok(changed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::length::MM_PER_INCH;

    /// By hand: a ring of 16, 9 in finished, 1/8 in a side to turn away. Its outside flats lie
    /// 4 5/8 in from the axis, those of a strip of 3/4 in 3 7/8 in; the corners of its hole are
    /// that over cos 11.25°, and the finished hole is 1/8 in larger a side.
    #[test]
    fn wall_follows_the_strip() {
        let mut design = Design::default();
        design.ring.segment_count = 16;
        design.ring.outside_diameter_mm = 9.0 * MM_PER_INCH;
        for side in [
            &mut design.allowance.outside_mm,
            &mut design.allowance.inside_mm,
        ] {
            *side = MM_PER_INCH / 8.0;
        }
        let typed = type_strip_width(&design, "3/4").unwrap();
        let hole = 3.875 / 11.25_f64.to_radians().cos();
        let wall = 4.5 - (hole + 0.125);
        assert!((typed.ring.wall_mm / MM_PER_INCH - wall).abs() < 0.0005);
        let strip = plan(&typed).ring.segment.unwrap().strip_width_mm;
        assert!((strip / MM_PER_INCH - 0.75).abs() < 0.0005);
        assert_eq!(typed.ring.hole_by, HoleBy::Wall);
        for (text, is_taken) in [("1/16", false), ("4 1/2", true), ("5", false), ("x", false)] {
            assert_eq!(type_strip_width(&design, text).is_ok(), is_taken, "{text}");
        }
    }
}
