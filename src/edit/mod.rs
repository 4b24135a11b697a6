//! Floor 7, edit: what a hand changes. Each change takes a design and gives a new one
//! that is valid again.

pub mod base;
pub mod built;
pub mod climate;
pub mod inlay;
pub mod rack;
pub mod start;
pub mod vessel;
pub mod wood;

use crate::design::Design;
use crate::design::Vessel;
use crate::design::field::{Field, Kind};
use crate::design::trouble::Trouble;
use vessel::{MOST_MM, rim_mm, scale_diameter, scale_height};

/// Fields that are not kept but scale the whole outline.
pub const SCALED: &[Field] = &[
    Field {
        key: "vessel.height_mm",
        kind: Kind::Length {
            least: 3.0,
            most: MOST_MM,
        },
        optional: false,
    },
    Field {
        key: "vessel.diameter_mm",
        kind: Kind::Length {
            least: 4.0,
            most: 2.0 * MOST_MM,
        },
        optional: false,
    },
];

/// What a scaled field stands at.
pub fn scaled_length_mm(key: &str, vessel: &Vessel) -> f64 {
    match (key, vessel.curve()) {
        ("vessel.height_mm", _) => rim_mm(vessel),
        (_, Some(curve)) => 2.0 * curve.largest_radius(0.0, curve.height_mm()),
        (_, None) => 0.0,
    }
}

/// Sets a field from typed text, the scaled ones included.
///
/// # Errors
/// As [`Design::with_typed`].
pub fn type_in(design: &Design, key: &str, typed: &str) -> Result<Design, Trouble> {
    if key.starts_with("base.") {
        return crate::edit::base::type_in(design, key, typed);
    }
    if key.starts_with("woods.") {
        crate::edit::wood::check_like(key, typed)?;
    }
    let Some(field) = SCALED.iter().find(|field| field.key == key) else {
        return design.with_typed(key, typed);
    };
    let value = field
        .read(typed, design.unit)
        .map_err(|reason| Trouble::at(field.key, reason))?;
    let length_mm = value.as_f64().unwrap_or(0.0);
    Ok(if key == "vessel.height_mm" {
        scale_height(design, length_mm)
    } else {
        scale_diameter(design, length_mm)
    })
}
