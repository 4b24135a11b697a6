//! Wood kept for turning away: taken out in one go, and kept again.

use crate::design::{Allowance, Design};

/// What a new design keeps, in the tape's own measures.
fn usual(design: &Design) -> Allowance {
    let language = if design.unit.is_inch() { "en-US" } else { "en" };
    Design::starting(language).allowance
}

/// Whether rings are sawn larger or wider than they are finished.
pub fn is_kept(design: &Design) -> bool {
    design.allowance.outside_mm + design.allowance.inside_mm > 0.0
}

/// What a tap would keep outside and inside: nothing where something is kept.
pub fn other_mm(design: &Design) -> f64 {
    if is_kept(design) {
        0.0
    } else {
        usual(design).outside_mm
    }
}

/// The design whose rings are sawn to their finished diameters; from such a one, the design
/// that keeps what a new one does.
pub fn switched(design: &Design) -> Design {
    let mut changed = design.clone();
    let kept_mm = other_mm(design);
    changed.allowance.outside_mm = kept_mm;
    changed.allowance.inside_mm = kept_mm;
    changed
}
