//! What a hand does to the turner's own woods.

use crate::design::trouble::{Reason, Trouble};
use crate::design::{Design, OwnWood};
use crate::plan::woods::own_place;
use crate::trade::wood::find;

/// The design with this wood in the turner's own list.
pub fn add_own(design: &Design, name: &str) -> Design {
    let mut changed = design.clone();
    let name: String = name.trim().chars().take(80).collect();
    let most = crate::design::field::LISTS
        .iter()
        .find(|list| list.key == "woods");
    let has_room = most.is_some_and(|list| design.woods.len() < list.most);
    if has_room && !name.is_empty() && own_place(design, &name).is_none() {
        changed.woods.push(OwnWood::called(&name));
    }
    changed
}

/// The design without this place of the turner's own list.
pub fn remove_own(design: &Design, place: usize) -> Design {
    let mut changed = design.clone();
    if place < changed.woods.len() {
        changed.woods.remove(place);
    }
    changed
}

/// Whether an own wood can be like the one typed.
///
/// # Errors
/// When the table does not have it.
pub fn check_like(key: &str, typed: &str) -> Result<(), Trouble> {
    let is_known = typed.trim().is_empty() || find(typed).is_some();
    if crate::design::field::pattern_of(key) == "woods.*.like" && !is_known {
        let name = typed.trim().chars().take(80).collect();
        return Err(Trouble::at(key.to_owned(), Reason::NoSuchWood(name)));
    }
    Ok(())
}
