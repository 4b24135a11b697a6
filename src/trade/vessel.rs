//! A vessel as a stack of rings: which part of the finished wall each ring must hold,
//! what is left at the joints, what it weighs and holds.

use crate::trade::ring::Wanted;
use crate::trade::round::Alike;
use crate::trade::shape::Wall;

/// A ring's place in the stack and what the wall needs of it. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Height of its lower face.
    pub bottom_mm: f64,
    /// Height of its upper face.
    pub top_mm: f64,
    /// Largest outside radius of the finished wall within it.
    pub outside_radius_mm: f64,
    /// Smallest inside radius within it; 0 where it holds the floor.
    pub inside_radius_mm: f64,
}

/// A glue joint between two rings. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// Its height.
    pub height_mm: f64,
    /// Finished outside radius there.
    pub outside_radius_mm: f64,
    /// Finished inside radius there; 0 through the floor.
    pub inside_radius_mm: f64,
}

impl Joint {
    /// Width of glue left after turning.
    pub fn glue_width_mm(&self) -> f64 {
        self.outside_radius_mm - self.inside_radius_mm
    }

    /// Area of glue left after turning, square millimeters.
    pub fn glue_area_mm2(&self) -> f64 {
        let (outside, inside) = (self.outside_radius_mm, self.inside_radius_mm);
        std::f64::consts::PI * (outside * outside - inside * inside)
    }
}

/// The rings' places for these heights, from the foot up. Beyond the rim a ring needs
/// only what the rim needs.
pub fn spans(wall: &Wall, heights_mm: &[f64]) -> Vec<Span> {
    let rim = wall.outside.height_mm();
    let mut bottom = 0.0;
    heights_mm
        .iter()
        .map(|height| {
            let (from, to) = (bottom, bottom + height);
            bottom = to;
            let (low, high) = (from.min(rim), to.min(rim));
            Span {
                bottom_mm: from,
                top_mm: to,
                outside_radius_mm: wall.outside.largest_radius(low, high),
                inside_radius_mm: wall.smallest_inside(low, high),
            }
        })
        .collect()
}

/// The joints between these rings.
pub fn joints(wall: &Wall, spans: &[Span]) -> Vec<Joint> {
    let upper = spans.iter().skip(1);
    upper
        .filter(|span| span.bottom_mm < wall.outside.height_mm())
        .map(|span| Joint {
            height_mm: span.bottom_mm,
            outside_radius_mm: wall.outside.radius_at(span.bottom_mm),
            inside_radius_mm: wall.smallest_inside(span.bottom_mm, span.bottom_mm),
        })
        .collect()
}

/// Volume of the glued ring, cubic millimeters: its trapezoids and, where they are of
/// wood, as many spacers, as high as the strip.
pub fn ring_volume_mm3(wanted: &Wanted, alike: &[Alike], has_wood_spacers: bool) -> f64 {
    let volume_mm3 = |it: &Alike| {
        let segment = &it.segment;
        let spacer = if has_wood_spacers {
            segment.spacer_length_mm * wanted.spacer_mm
        } else {
            0.0
        };
        f64::from(it.kind.count) * (segment.area_mm2() + spacer) * segment.strip_height_mm
    };
    alike.iter().map(volume_mm3).sum()
}

/// The angle, radians from upright, by which a vessel on this foot may be tipped before
/// it falls: foot radius over the height of its center of mass.
pub fn tipping_angle_rad(foot_radius_mm: f64, center_of_mass_mm: f64) -> f64 {
    foot_radius_mm.atan2(center_of_mass_mm)
}

/// Volume of the finished wood and the height of its center, millimeters: the body of
/// the outside less the hollow.
pub fn finished(wall: &Wall) -> (f64, f64) {
    let (outer, outer_moment) = volume_and_moment(&wall.outside.samples(64));
    let (inner, inner_moment) = volume_and_moment(wall.hollow());
    let volume = (outer - inner).max(0.0);
    let center = if volume > 0.0 {
        (outer_moment - inner_moment) / volume
    } else {
        0.0
    };
    (volume, center)
}

/// Volume of the body turned from a profile, and its first moment over height, by thin
/// frusta with their middle for a center.
fn volume_and_moment(profile: &[(f64, f64)]) -> (f64, f64) {
    profile
        .windows(2)
        .fold((0.0, 0.0), |(volume, moment), two| {
            let part = crate::trade::shape::volume_mm3(two);
            (
                volume + part,
                moment + part * f64::midpoint(two[0].0, two[1].0),
            )
        })
}
