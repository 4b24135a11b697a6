//! The plies that close the foot of a shape that is begun, and that go along with its lowest
//! ring until the turner says something of them.

use crate::design::{BaseChoice, BaseKind, BaseSet, Design};
use crate::plan::floor::choice;
use crate::units::length::{MM_PER_INCH, Unit, inch_parts_mm, round};

/// Closes the foot with crosslaid plies that are the lowest ring: a board there would move
/// across its grain, and the ring above it hardly does.
pub fn begin(design: &mut Design) {
    design.base = plies_of_lowest(design);
}

/// The plies that the lowest ring would be, of its wood and height; none where there is no
/// such ring to make.
fn plies_of_lowest(design: &Design) -> Option<BaseChoice> {
    let lowest = design.vessel.as_ref()?.rings.first()?;
    if lowest.is_glued() {
        return None;
    }
    let unsaid = Design {
        base: None,
        ..design.clone()
    };
    let mut plies = BaseChoice {
        kind: BaseKind::Plies,
        set: BaseSet::Under,
        ..choice(&unsaid)
    };
    for ply in &mut plies.plies {
        ply.thickness_mm = written(ply.thickness_mm, design.unit);
    }
    Some(plies)
}

/// What a sum left behind the figure is not written: links stay short.
fn written(length_mm: f64, unit: Unit) -> f64 {
    let parts = (length_mm * 64.0 / MM_PER_INCH).round();
    let on_tape_mm = inch_parts_mm(parts, 64.0);
    if unit.is_inch() && (length_mm - on_tape_mm).abs() < 1e-6 {
        on_tape_mm
    } else {
        round(length_mm)
    }
}

/// Plies that nobody changed since the shape was begun go along with the lowest ring, in
/// thickness and wood; once it is glued they are that ring.
pub fn go_along(before: &Design, mut after: Design) -> Design {
    let is_plies = |it: &BaseChoice| it.kind == BaseKind::Plies && it.set == BaseSet::Under;
    let is_kept = before.base == after.base && after.vessel.is_some();
    if is_kept
        && before.vessel != after.vessel
        && before.base.as_ref().is_some_and(is_plies)
        && are_as_begun(before)
    {
        after.base = plies_of_lowest(&after);
    }
    after
}

/// Whether the plies are those that a shape begins with, in whichever unit it was begun.
fn are_as_begun(design: &Design) -> bool {
    Unit::ALL.iter().any(|&unit| {
        let design = Design {
            unit,
            ..design.clone()
        };
        plies_of_lowest(&design) == design.base
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::read::to_value;
    use crate::edit::{start, type_in};

    #[test]
    fn the_plies_of_a_ring_as_low_as_can_be_are_kept() {
        let bowl = start::begin(&Design::default(), "bowl", 254.0, 100.0);
        let low = type_in(&bowl, "vessel.rings.0.height_mm", "0.01 mm").unwrap();
        let plies = low.base.as_ref().map_or(&[][..], |base| &base.plies);
        assert!(plies.len() > 1, "{plies:?}");
        let (again, troubles) = Design::restore(&to_value(&low)).unwrap();
        assert_eq!((again, troubles), (low, Vec::new()));
    }
}
