//! Wood kept for turning away: taken out in one go.

use crate::design::Design;

/// The design whose rings are sawn to their finished diameters.
pub fn without(design: &Design) -> Design {
    let mut changed = design.clone();
    changed.allowance.outside_mm = 0.0;
    changed.allowance.inside_mm = 0.0;
    changed
}
