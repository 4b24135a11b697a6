//! What a hand does to the base.

use crate::design::Design;
use crate::design::field::key;
use crate::design::trouble::Trouble;
use crate::edit::start::fit_stack;
use crate::edit::vessel::add_wood;
use crate::plan::base::{choice, is_lowest_ring};
use crate::trade::wood;

/// Sets a field of the base from typed text; the first one says the rest as the stack
/// has it.
///
/// # Errors
/// As [`Design::with_typed`].
pub fn type_in(design: &Design, key: &str, typed: &str) -> Result<Design, Trouble> {
    let mut changed = design.clone();
    changed.base = Some(choice(design));
    let mut changed = changed.with_typed(key, typed)?;
    if key == key::BASE_KIND || key == key::BASE_SET {
        fit_stack(&mut changed);
    } else if key == key::BASE_WOOD {
        changed = with_ring_of_base(&changed);
    }
    Ok(changed)
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

/// Adds a ply on top like the topmost, or takes the topmost away.
pub fn change_plies(design: &Design, is_more: bool) -> Design {
    let mut base = choice(design);
    let most = crate::design::field::LISTS
        .iter()
        .find(|list| list.key == key::BASE_PLIES)
        .map_or(0, |list| list.most);
    if is_more && base.plies.len() < most {
        base.plies.extend(base.plies.last().cloned());
    } else if !is_more && base.plies.len() > 1 {
        base.plies.pop();
    }
    let mut changed = design.clone();
    changed.base = Some(base);
    changed
}
