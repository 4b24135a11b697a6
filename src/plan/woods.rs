//! The woods of a design: the turner's own stand before the table's. Everything that
//! weighs, moves or draws wood looks it up here.

use crate::design::{Design, OwnWood};
use crate::trade::wood::{PLAIN, PLAIN_COLOR, Wood, find, is_same};
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
    }
}
