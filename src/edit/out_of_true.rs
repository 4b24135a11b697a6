//! What a hand does with a half that does not run true any more.

use crate::design::kind::LONGEST_MM;
use crate::design::{Across, Design, Measured, OutOfTrue};
use crate::edit::outline::with_own_outline;
use crate::plan::out_of_true::{RingLeft, half_left};
use crate::plan::plan;

/// Takes what is left of the half that a ring belongs to as what its rings measure: each is
/// glued, with the true circles that it still holds, and reads true again. Where that cannot be
/// counted the design stays as it is.
pub fn go_on(design: &Design, ring: usize) -> Design {
    let base = with_own_outline(design);
    let found = half_left(&plan(&base), ring);
    let Some(found) = found.filter(|it| it.troubles.is_empty() && !it.left.is_empty()) else {
        return design.clone();
    };
    let mut changed = base;
    if let Some(vessel) = &mut changed.vessel {
        for left in &found.left {
            let Some(ring) = vessel.rings.get_mut(left.place) else {
                continue;
            };
            ring.height_mm = ring.height_now_mm();
            ring.measured = Some(as_left(left));
            ring.out_of_true = None;
        }
    }
    changed
}

/// The true circles of a ring as sizes, to a hundredth on the side of less wood.
fn as_left(left: &RingLeft) -> Measured {
    let down = |length_mm: f64| ((length_mm + 1e-9) * 100.0).floor() / 100.0;
    let up = |length_mm: f64| ((length_mm - 1e-9) * 100.0).ceil() / 100.0;
    let [lower, upper] = left.now;
    let outside = down(2.0 * lower.outside_mm).clamp(1.0, LONGEST_MM);
    let inside = up(2.0 * lower.hole_mm).min(LONGEST_MM);
    let upper_outside = down(2.0 * upper.outside_mm).clamp(1.0, LONGEST_MM);
    let upper_inside = up(2.0 * upper.hole_mm).min(LONGEST_MM);
    let if_other = |one: f64, other: f64| ((one - other).abs() > 0.005).then_some(other);
    Measured {
        outside_diameter_mm: Some(outside),
        inside_diameter_mm: Some(inside),
        height_mm: Some(down(left.height_mm).max(0.01)),
        upper_outside_diameter_mm: if_other(outside, upper_outside),
        upper_inside_diameter_mm: if_other(inside, upper_inside),
        outside_across: Across::Round,
        inside_across: Across::Round,
    }
}

/// A ring of which every reading was emptied runs true.
pub fn forget_empty(design: &mut Design, place: usize) {
    let rings = design.vessel.as_mut().map(|it| &mut it.rings);
    if let Some(ring) = rings.and_then(|it| it.get_mut(place))
        && ring.out_of_true == Some(OutOfTrue::nothing())
    {
        ring.out_of_true = None;
    }
}
