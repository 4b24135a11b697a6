//! What a hand does to the turner's own woods.

use crate::design::trouble::{Reason, Trouble};
use crate::design::{Design, OwnWood};
use crate::plan::woods::{meant, own_place};
use crate::trade::wood::find;

/// The design with this wood in the turner's own list.
pub fn add_own(design: &Design, name: &str) -> Design {
    let mut changed = design.clone();
    let name: String = name.trim().chars().take(80).collect();
    let has_room = design.woods.len() < crate::design::field::most_of("woods");
    if has_room && !name.is_empty() && own_place(design, &name).is_none() {
        changed.woods.push(OwnWood::called(&name));
    }
    changed
}

/// The design with this wood in the turner's own list, to move like one of the table;
/// like none of it where the turner does not know.
pub fn add_like(design: &Design, name: &str, like: &str) -> Design {
    let mut changed = add_own(design, name);
    let like = meant(&Design::default(), like);
    if let Some(place) = own_place(&changed, name)
        && find(&like).is_some()
        && let Some(own) = changed.woods.get_mut(place)
    {
        own.like = like;
    }
    changed
}

/// What is meant by text typed where a wood stands: a wood by however much of its name.
pub fn meant_in(design: &Design, key: &str, typed: &str) -> String {
    match crate::design::field::pattern_of(key).rsplit('.').next() {
        Some("like") => meant(&Design::default(), typed),
        Some("wood") => meant(design, typed),
        _ => typed.to_owned(),
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::type_in;

    #[test]
    fn a_wood_is_known_by_part_of_its_name_wherever_it_is_typed() {
        let design = type_in(&Design::default(), "ring.wood", "walnut").unwrap();
        assert_eq!(design.ring.wood, "Walnut, black");
        let design = type_in(&design, "ring.wood", "Pink ivory").unwrap();
        assert_eq!(design.ring.wood, "Pink ivory");
        let design = add_like(&design, "Pink ivory", "hard maple");
        assert_eq!(design.woods[0].like, "Maple, sugar");
        let design = type_in(&design, "woods.0.like", "padouk").unwrap();
        assert_eq!(design.woods[0].like, "Padauk, African");
        assert!(type_in(&design, "woods.0.like", "Pink ivory").is_err());
        // A slot set's wood is a number.
        assert_eq!(meant_in(&design, "slot_sets.0.wood", "1"), "1");
        let unknown = add_like(&design, "Driftwood", "");
        assert_eq!(unknown.woods[1].like, "");
    }
}
