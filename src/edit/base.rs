//! What a hand does to the base.

use crate::design::field::{LONGEST_MM, SOME_MM, key, most_of};
use crate::design::trouble::Trouble;
use crate::design::{BaseKind, BaseSet, Design, MadeOf};
use crate::edit::vessel::add_wood;
use crate::plan::floor::{base_ring_mm, choice, is_lowest_ring};
use crate::trade::wood;
use crate::units::length::round;

/// Sets a field of the base from typed text; the first one says the rest as the stack
/// has it.
///
/// # Errors
/// As [`Design::with_typed`].
pub fn type_in(design: &Design, key: &str, typed: &str) -> Result<Design, Trouble> {
    let mut changed = design.clone();
    changed.base = Some(choice(design));
    let changed = changed.with_typed(key, typed)?;
    if key == key::BASE_WOOD {
        return Ok(with_ring_of_base(&changed));
    }
    Ok(with_floor_of(design, changed))
}

/// The floor goes along with a base that is let into another ring: it lies as high above it
/// as it did.
fn with_floor_of(before: &Design, mut design: Design) -> Design {
    let base = design.base.clone();
    if let Some(vessel) = &mut design.vessel {
        let was_mm = base_ring_mm(before.base.as_ref(), vessel);
        let above_mm = vessel.floor_mm - was_mm;
        if above_mm > 0.0 {
            let floor_mm = base_ring_mm(base.as_ref(), vessel) + above_mm;
            vessel.floor_mm = round(floor_mm).clamp(SOME_MM, LONGEST_MM);
        }
    }
    design
}

/// Gives the lowest ring the base's wood where it is the base.
fn with_ring_of_base(design: &Design) -> Design {
    let Some(base) = &design.base else {
        return design.clone();
    };
    let mut changed = add_wood(design, &base.wood);
    if let Some(vessel) = &mut changed.vessel
        && let Some(ring) = vessel.rings.first_mut()
        && is_lowest_ring(base, ring)
        && let Some(place) = vessel
            .woods
            .iter()
            .position(|it| wood::is_same(it, &base.wood))
    {
        ring.pattern = vec![place as u32];
        return changed;
    }
    design.clone()
}

/// What the lowest ring is made of is what the base is, once one was said: the one says so
/// for the other.
pub fn said_by_ring(design: &mut Design, made_of: MadeOf) {
    let mut base = choice(design);
    (base.kind, base.set) = match (made_of, base.kind) {
        (MadeOf::Disc, BaseKind::Plies) => (BaseKind::Plies, BaseSet::Under),
        (MadeOf::Disc, _) => (BaseKind::Solid, BaseSet::Under),
        (MadeOf::Segments, _) => (BaseKind::Wedges, BaseSet::Under),
    };
    design.base = Some(base);
}

/// Lets a base into a ring: what it is now, or plies where it cannot be let in.
pub fn let_into(design: &Design, ring: usize) -> Design {
    let mut base = choice(design);
    if base.kind == BaseKind::Open || base.kind == BaseKind::Wedges {
        base.kind = BaseKind::Plies;
    }
    base.set = BaseSet::LetIn;
    let count = design.vessel.as_ref().map_or(1, |it| it.rings.len());
    base.in_ring = ring.saturating_add(1).min(count.max(1)) as u32;
    let changed = Design {
        base: Some(base),
        ..design.clone()
    };
    with_floor_of(design, changed)
}

/// Adds a ply on top like the topmost, or takes the topmost away.
pub fn change_plies(design: &Design, is_more: bool) -> Design {
    let mut base = choice(design);
    if is_more && base.plies.len() < most_of(key::BASE_PLIES) {
        base.plies.extend(base.plies.last().cloned());
    } else if !is_more && base.plies.len() > 1 {
        base.plies.pop();
    }
    let mut changed = design.clone();
    changed.base = Some(base);
    changed
}
