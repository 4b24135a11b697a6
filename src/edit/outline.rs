//! The outline becomes the turner's own.

use crate::design::kind::LONGEST_MM;
use crate::design::{Design, OutlineIs, PointChoice, Vessel};
use crate::plan::plan;

/// The design with its outline as it stands: what was drawn in the rings becomes points of
/// the turner's own.
pub fn with_own_outline(design: &Design) -> Design {
    let is_drawn = |vessel: &&Vessel| vessel.outline_is == OutlineIs::InRings;
    if design.vessel.as_ref().as_ref().is_none_or(|x| !is_drawn(x)) {
        return design.clone();
    }
    let planned = plan(design);
    let mut design = design.clone();
    let stack = planned.stack().filter(|it| can_be_own(&it.vessel.points));
    if let (Some(vessel), Some(stack)) = (&mut design.vessel, stack) {
        take_outline(vessel, &stack.vessel, OutlineIs::Own);
    }
    design
}

/// Gives a vessel the curve, wall and floor of another.
pub(super) fn take_outline(vessel: &mut Vessel, of: &Vessel, outline_is: OutlineIs) {
    vessel.outline_is = outline_is;
    vessel.points.clone_from(&of.points);
    vessel.foot_wall_mm = of.foot_wall_mm;
    vessel.rim_wall_mm = of.rim_wall_mm;
    vessel.floor_mm = of.floor_mm;
}

/// Whether these can be points of the turner's own: of rings that are glued higher than any
/// field takes they cannot.
pub fn can_be_own(points: &[PointChoice]) -> bool {
    let is_taken = |length_mm: f64| (0.0..=LONGEST_MM).contains(&length_mm);
    points
        .iter()
        .all(|it| is_taken(it.height_mm) && is_taken(it.radius_mm))
}
