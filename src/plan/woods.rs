//! The woods of a design: the turner's own stand before the table's. Everything that
//! weighs, moves or draws wood looks it up here.

use crate::design::{Design, OwnWood};
use crate::trade::wood::{PLAIN, PLAIN_COLOR, Wood, all, find, is_same};
use crate::trade::wood_name;
use crate::units::color::Color;

/// The wood of this name in a design: the turner's own first, then the table's.
///
/// An own wood is like the one that it names, or like the table's of its own name, but
/// for what the turner says otherwise. Own shrinkage takes the place of the table's
/// coefficient too: one table or the other, never both.
pub fn named(design: &Design, name: &str) -> Option<Wood> {
    let Some(own) = own_place(design, name).and_then(|place| design.woods.get(place)) else {
        return find(name);
    };
    let mut wood = find(&own.like).or_else(|| find(name)).unwrap_or(PLAIN);
    if let Some(color) = own
        .color
        .strip_prefix('#')
        .and_then(|digits| u32::from_str_radix(digits, 16).ok())
    {
        wood.color = color;
    }
    wood.specific_gravity = own.specific_gravity.or(wood.specific_gravity);
    for (at, shrinkage) in [own.radial_pct, own.tangential_pct].into_iter().enumerate() {
        if shrinkage.is_some() {
            wood.shrinkage_pct[at] = shrinkage;
            wood.coefficient[at] = None;
        }
    }
    wood.price = own.price;
    Some(wood)
}

/// The place of a name in the turner's own list.
pub fn own_place(design: &Design, name: &str) -> Option<usize> {
    let is_it = |own: &OwnWood| is_same(&own.name, name);
    design.woods.iter().position(is_it)
}

/// A wood that may be meant by what was typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// Its name.
    pub name: String,
    /// Whether it is the turner's own.
    pub is_own: bool,
    /// Whether it is the one that is meant: the nearest, alone.
    pub is_meant: bool,
}

/// The woods that may be meant by what was typed, the nearest first; all for nothing typed,
/// those of the piece before the others.
pub fn offers(design: &Design, typed: &str) -> Vec<Offer> {
    let own = design.woods.iter().map(|own| own.name.as_str());
    let is_not_own = |name: &&str| own_place(design, name).is_none();
    let names: Vec<&str> = own
        .clone()
        .chain(all().map(|wood| wood.name).filter(is_not_own))
        .collect();
    let offer = |place: usize, is_meant: bool| {
        names.get(place).map(|name| Offer {
            name: (*name).to_owned(),
            is_own: place < design.woods.len(),
            is_meant,
        })
    };
    if typed.trim().is_empty() {
        let mut places: Vec<usize> = (0..names.len()).collect();
        places.sort_by_key(|place| !is_in_piece(design, names[*place]));
        return places
            .into_iter()
            .filter_map(|place| offer(place, false))
            .collect();
    }
    let found = wood_name::offers(typed, &names);
    let meant = wood_name::meant(&found);
    found
        .into_iter()
        .filter_map(|(_, place)| offer(place, meant == Some(place)))
        .collect()
}

/// The name of the wood that is meant; what was typed where it is none or may be several.
pub fn meant(design: &Design, typed: &str) -> String {
    let meant = offers(design, typed).into_iter().find(|it| it.is_meant);
    meant.map_or_else(|| typed.trim().to_owned(), |it| it.name)
}

/// The same of a wood that lies there: of several that may be meant the one that the piece is of.
pub fn meant_of_board(design: &Design, typed: &str) -> String {
    let offers = offers(design, typed);
    if offers.iter().any(|it| it.is_meant) {
        return meant(design, typed);
    }
    let mut own = offers.iter().filter(|it| is_in_piece(design, &it.name));
    match (own.next(), own.next()) {
        (Some(only), None) => only.name.clone(),
        _ => typed.trim().to_owned(),
    }
}

fn is_in_piece(design: &Design, name: &str) -> bool {
    let vessel = design.vessel.iter().flat_map(|it| &it.woods);
    let base = design.base.iter().map(|it| &it.wood);
    let mut names = vessel.chain(base).chain([&design.ring.wood]);
    names.any(|it| is_same(it, name))
}

/// The color that a wood is drawn in.
pub fn color(design: &Design, name: &str) -> Color {
    let rgb = named(design, name).map_or(PLAIN_COLOR, |wood| wood.color);
    let [_, r, g, b] = rgb.to_be_bytes();
    Color::new(r, g, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_own_wood_is_like_another_but_for_what_is_said() {
        let woods = vec![
            OwnWood {
                like: "Elm, rock".to_owned(),
                tangential_pct: Some(9.9),
                color: "#102030".to_owned(),
                ..OwnWood::called("Hedge elm")
            },
            OwnWood {
                price: Some(7.5),
                ..OwnWood::called("holly, american")
            },
            OwnWood::called("Driftwood"),
        ];
        let design = Design {
            woods,
            ..Design::default()
        };
        let (own, rock) = (
            named(&design, "hedge ELM").unwrap(),
            find("Elm, rock").unwrap(),
        );
        assert_eq!(own.specific_gravity, rock.specific_gravity);
        assert_eq!(own.shrinkage_pct[..2], [rock.shrinkage_pct[0], Some(9.9)]);
        assert_eq!(own.coefficient, [rock.coefficient[0], None]);
        assert_eq!(own.color, 0x10_2030);
        let holly = named(&design, "Holly, American").unwrap();
        assert_eq!(holly.price, Some(7.5));
        assert_eq!(
            Wood {
                price: None,
                ..holly
            },
            find("Holly, American").unwrap()
        );
        assert_eq!(named(&design, "Driftwood"), Some(PLAIN));
        assert_eq!(named(&design, "Flotsam"), None);
        // The own ones are offered, each name once.
        assert_eq!(meant(&design, "drift"), "Driftwood");
        assert_eq!(meant(&design, " holly"), "holly, american");
        assert_eq!(meant(&design, "elm"), "elm", "several");
        assert_eq!(meant(&design, "walnut"), "Walnut, black");
        assert_eq!(offers(&design, "flotsam"), []);
        let offered = offers(&design, "");
        assert_eq!(offered.len(), all().count() + 2);
        assert_eq!(offered[0].name, design.ring.wood);
        assert!(offered.iter().all(|offer| !offer.is_meant));
    }
}
