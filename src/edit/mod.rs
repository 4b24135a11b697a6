//! Floor 7, edit: what a hand changes. Each change takes a design and gives a new one
//! that is valid again.

pub mod allowance;
pub mod base;
pub mod bench;
pub mod board_list;
pub mod built;
pub mod climate;
pub mod first_slots;
pub mod foot;
pub mod gathering;
pub mod inlay;
pub mod log;
pub mod making;
pub mod open_ring;
pub mod opening;
pub mod out_of_true;
pub mod outline;
pub mod rack;
pub mod ring_list;
pub mod ring_shelf;
pub mod round;
pub mod shelf;
pub mod shop;
mod sound;
pub mod start;
pub mod stripe;
pub mod variation;
pub mod vessel;
pub mod wood;

use crate::design::Design;
use crate::design::Vessel;
use crate::design::field::{Field, Kind, key, pattern_of};
use crate::design::kind::of;
use crate::design::trouble::Trouble;
use vessel::{LEAST_RADIUS_MM, MOST_MM, rim_mm, scale_diameter, scale_height};

const fn length(key: &'static str, label: &'static str, least: f64, most: f64) -> Field {
    let kind = Kind::Length { least, most };
    Field {
        key,
        label,
        ..of(kind)
    }
}

/// Fields that are not kept but scale the whole outline.
pub const SCALED: &[Field] = &[
    length("vessel.height_mm", "Height", 3.0, MOST_MM),
    length(
        "vessel.diameter_mm",
        "Greatest diameter",
        4.0,
        2.0 * MOST_MM,
    ),
];

/// Where a point of the curve stands: its height, and its diameter.
pub const POINT: &[Field] = &[
    length("vessel.points.*.height_mm", "Point’s height", 0.0, MOST_MM),
    length(
        "vessel.points.*.diameter_mm",
        "Point’s diameter",
        2.0 * LEAST_RADIUS_MM,
        2.0 * MOST_MM,
    ),
];

/// Fields that are not kept, for what they say stands elsewhere in the design.
pub const SAID: &[&Field] = &[&vessel::SEGMENTS_OF_ALL];

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
    let typed = typed_in(design, key, typed)?;
    Ok(foot::go_along(design, typed))
}

fn typed_in(design: &Design, key: &str, typed: &str) -> Result<Design, Trouble> {
    let meant = wood::meant_in(design, key, typed);
    let typed = meant.as_str();
    if key.starts_with("base.") {
        return base::type_in(design, key, typed);
    }
    if key.starts_with("woods.") {
        wood::check_like(key, typed)?;
    }
    let is_point = |field: &&Field| field.key == pattern_of(key);
    if let Some(field) = POINT.iter().find(is_point) {
        let place = key.split('.').nth(2).and_then(|place| place.parse().ok());
        return vessel::type_point(design, place.unwrap_or(0), field, typed)
            .map_err(|reason| Trouble::at(key.to_owned(), reason));
    }
    if let Some(field) = open_ring::SPIRAL.iter().find(is_point) {
        let place = key.split('.').nth(2).and_then(|place| place.parse().ok());
        return open_ring::type_spiral(design, field, place.unwrap_or(0), typed);
    }
    if let Some(field) = built::OF_ALL.iter().find(|field| field.key == key) {
        return built::type_in_all(design, field, typed);
    }
    if key == vessel::SEGMENTS_OF_ALL.key {
        return vessel::type_segments(design, typed);
    }
    let own = [key::FOOT_WALL, key::RIM_WALL, key::FLOOR];
    if let Some(field) = SCALED.iter().find(|field| field.key == key) {
        let value = field
            .read(typed, design.unit)
            .map_err(|reason| Trouble::at(field.key, reason))?;
        let length_mm = value.as_f64().unwrap_or(0.0);
        let own = outline::with_own_outline(design);
        return Ok(if key == "vessel.height_mm" {
            scale_height(&own, length_mm)
        } else {
            scale_diameter(&own, length_mm)
        });
    }
    if own.contains(&key) {
        return outline::with_own_outline(design).with_typed(key, typed);
    }
    let mut changed = design.with_typed(key, typed)?;
    let set = key.strip_prefix("vessel.slot_sets.");
    if let Some((place, name)) = set.and_then(|rest| rest.split_once('.')) {
        let place = place.parse().unwrap_or(usize::MAX);
        let both = inlay::with_partner(design, changed, place);
        return Ok(match name {
            "tilt_deg" => inlay::meeting_still(design, both, place),
            _ => both,
        });
    }
    let ring = key.strip_prefix("vessel.rings.");
    if let Some((place, name)) = ring.and_then(|rest| rest.split_once('.')) {
        match (place.parse::<usize>(), name) {
            (Ok(0), "made_of") if design.base.is_some() => {
                let lowest = changed.vessel.as_ref().and_then(|it| it.rings.first());
                if let Some(made_of) = lowest.map(|ring| ring.made_of) {
                    base::said_by_ring(&mut changed, made_of);
                }
            }
            (Ok(place), "measured.inside_diameter_mm") => built::fit_hole(&mut changed, place),
            (Ok(place), name) if name.starts_with("out_of_true.") => {
                out_of_true::forget_empty(&mut changed, place);
            }
            _ => {}
        }
    }
    Ok(changed)
}
