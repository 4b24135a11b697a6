//! What As built shows, in the Bench place.

use super::vessel::{Handle, handles};
use super::{Entry, Figure, Message, entry, figure, noted};
use crate::design::Design;
use crate::design::field;
use crate::plan::built::{Better, Built, Reorder, solid_to_mm};
use crate::show::pictures::view::View;
use crate::show::words;
use crate::trade::room::Tightest;
use crate::units::length::{entry_text, show};
use serde::Serialize;

/// A measured ring.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BuiltRow {
    /// Its number from the foot, from 1.
    pub number: String,
    /// Its outside, inside and height.
    pub entries: Vec<Entry>,
    /// What the plan has for each: shown where nothing was measured.
    pub planned: Vec<String>,
    /// The thickest wall that it allows under the curve; may be empty.
    pub wall: String,
}

/// All that As built says.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BuiltScreen {
    /// The rings, from the foot up.
    pub rows: Vec<BuiltRow>,
    /// More fields of the ring that is picked out.
    pub picked: Vec<Entry>,
    /// The curve's points.
    pub handles: Vec<Handle>,
    /// Whether the curve fits, in a sentence or two.
    pub says: String,
    /// A better order; empty without one.
    pub order: String,
    /// The places that it changes, to be handed back.
    pub order_places: Vec<usize>,
    /// What taking the offered curve is called; empty when there is none to take.
    pub take: String,
    /// The figures.
    pub list: Vec<Figure>,
    /// What could not be counted.
    pub messages: Vec<Message>,
    /// Whether the plan has more rings than stand here.
    pub can_take_planned: bool,
}

/// Sets As built. `has_nearest` says whether a curve is offered, `better` a better order.
pub fn screen(
    design: &Design,
    built: &Built,
    view: &View,
    picked: Option<usize>,
    has_nearest: bool,
    better: Option<&Better>,
) -> BuiltScreen {
    let unit = design.unit;
    let walls = built
        .room
        .as_ref()
        .zip(built.curve.as_ref())
        .map_or(Vec::new(), |(room, curve)| room.thickest_walls(curve));
    let whole = crate::design::read::to_value(design);
    let entries_of = |place: usize, names: &[&str]| -> Vec<Entry> {
        names
            .iter()
            .filter_map(|name| {
                let key = format!("measured.{place}.{name}");
                field::find(&key).map(|found| entry(design, &whole, found, &key))
            })
            .collect()
    };
    let rows = (0..design.measured.len())
        .map(|place| {
            let mut entries = entries_of(
                place,
                &["outside_diameter_mm", "inside_diameter_mm", "height_mm"],
            );
            for each in &mut entries {
                each.label = words::about_ring(place, &each.label);
            }
            let wall = walls.iter().find(|wall| wall.0 == place);
            BuiltRow {
                number: (place + 1).to_string(),
                planned: planned(design, built, place),
                wall: wall.map_or_else(String::new, |wall| words::built_wall(wall.1, unit)),
                entries,
            }
        })
        .collect();
    let more = [
        "outside_across",
        "inside_across",
        "segment_count",
        "upper_outside_diameter_mm",
        "upper_inside_diameter_mm",
    ];
    let vessel_rings = design.vessel.as_ref().map_or(0, |it| it.rings.len());
    BuiltScreen {
        rows,
        picked: picked.map_or(Vec::new(), |place| entries_of(place, &more)),
        handles: match (&built.vessel, &built.room) {
            (Some(vessel), Some(_)) => handles(vessel, view, unit),
            _ => Vec::new(),
        },
        says: says(design, built),
        order: better.map_or_else(String::new, |better| words::better_order(better, unit)),
        order_places: better.map_or(Vec::new(), |better| match better.change {
            Reorder::Turn(place) => vec![place],
            Reorder::Swap(one, two) => vec![one, two],
        }),
        take: if built.is_made && built.vessel.is_some() {
            words::page("built.take_made").to_owned()
        } else if has_nearest {
            words::page("built.take_nearest").to_owned()
        } else {
            String::new()
        },
        list: list(design, built),
        messages: built
            .troubles
            .iter()
            .map(|it| words::trouble(it, unit))
            .collect(),
        can_take_planned: vessel_rings > design.measured.len(),
    }
}

/// What the plan has for a ring's outside, inside and height.
fn planned(design: &Design, built: &Built, place: usize) -> Vec<String> {
    let plan = built.planned.as_ref().and_then(|it| it.rings.get(place));
    plan.map_or_else(Vec::new, |plan| {
        let (circle, hole) = plan.as_cut_mm;
        [2.0 * circle, 2.0 * hole, plan.wanted.height_mm]
            .map(|length| {
                entry_text(
                    crate::units::length::as_shown_mm(length, design.unit),
                    design.unit,
                )
            })
            .to_vec()
    })
}

/// Whether it fits, and what else a turner must know first.
fn says(design: &Design, built: &Built) -> String {
    let unit = design.unit;
    let mut says = Vec::new();
    if design.measured.is_empty() {
        return String::new();
    }
    if !built.troubles.is_empty() {
        says.push(words::page("built.not_counted").to_owned());
    }
    let Some(vessel) = &built.vessel else {
        says.push(words::page("built.no_curve").to_owned());
        return says.join(" ");
    };
    let closed = built
        .room
        .as_ref()
        .and_then(crate::trade::room::Room::closed_at);
    // A curve fits in the rings that were counted, and perhaps not in the one that was not.
    let is_known = |tightest: &&Tightest| built.troubles.is_empty() || tightest.left_mm < 0.0;
    if let Some(tightest) = built.tightest.as_ref().filter(is_known) {
        says.push(words::built_fits(tightest, unit));
    }
    if let Some((height_mm, missing)) = closed {
        let wall = built.room.as_ref().map_or(0.0, |it| it.wall_at(height_mm));
        says.push(words::built_closed(wall + missing, height_mm, unit));
    }
    let rim = vessel.points.last().map_or(0.0, |point| point.height_mm);
    let above = built.stack.height_mm - rim;
    if above.abs() > 0.5 {
        says.push(words::built_heights(above, unit));
    }
    let solid = solid_to_mm(&built.stack);
    if solid < crate::plan::base::floor_mm(design, vessel) - 0.05 && !built.stack.rings.is_empty() {
        says.push(words::built_floor(solid, unit));
    }
    says.join(" ")
}

fn list(design: &Design, built: &Built) -> Vec<Figure> {
    let unit = design.unit;
    if built.stack.rings.is_empty() {
        return Vec::new();
    }
    let mut list = vec![figure("built.height", show(built.stack.height_mm, unit))];
    if let Some(tightest) = &built.tightest {
        list.push(noted(
            "built.left",
            show(tightest.left_mm, unit),
            words::built_where(tightest, unit),
        ));
    }
    if let Some(vessel) = &built.vessel {
        list.push(figure("built.foot_wall", show(vessel.foot_wall_mm, unit)));
        list.push(figure("built.rim_wall", show(vessel.rim_wall_mm, unit)));
    }
    if let Some((height_mm, wall_mm)) = built
        .room
        .as_ref()
        .and_then(crate::trade::room::Room::thickest_even_wall)
    {
        list.push(noted(
            "built.even_wall",
            show(wall_mm, unit),
            words::at_height(height_mm, unit),
        ));
    }
    list
}
