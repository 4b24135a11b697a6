//! What the Vessel place says of rings that are glued already.

use super::{Entry, Figure, Message, entry, figure, noted};
use crate::design::field::{self, Field};
use crate::design::{BaseSet, Design, OutlineIs, Vessel};
use crate::edit::built::{OF_ALL, before_measured};
use crate::plan::Plan;
use crate::plan::built::{Better, Built, Reorder, better_order};
use crate::plan::floor::{floor_mm, takes_base};
use crate::plan::outline::{self, solid_to_mm};
use crate::plan::stack::StackPlan;
use crate::show::words;
use crate::trade::closing::HAIR_MM;
use crate::trade::room::{Room, Tightest};
use crate::units::length::{as_shown_mm, at_most, entry_text, show};
use crate::units::quantity::fine_at_most;
use serde::Serialize;

/// Rings and rim closer in height than this are not told apart, millimeters (our own choice,
/// no published source).
const HEIGHTS_DIFFER_MM: f64 = 0.5;

/// A glued ring.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct GluedRow {
    /// Its place from the foot up.
    pub place: usize,
    /// Its number from the foot, from 1.
    pub number: String,
    /// Its outside, inside and height.
    pub entries: Vec<Entry>,
    /// What the plan has for each: shown where nothing was measured.
    pub planned: Vec<String>,
    /// The thickest wall that it allows under the curve; may be empty.
    pub wall: String,
}

/// All that is said of glued rings.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct GluedScreen {
    /// The rings, from the foot up.
    pub rows: Vec<GluedRow>,
    /// How all were measured, and of how many segments they are: where they differ, the lowest.
    pub of_all: Vec<Entry>,
    /// The same in a few words.
    pub of_all_now: String,
    /// Whether the curve fits, in a sentence or two.
    pub says: String,
    /// A better order; empty without one.
    pub order: String,
    /// The places that it changes, to be handed back.
    pub order_places: Vec<usize>,
    /// What taking the nearest curve is called; empty when there is none to take.
    pub take: String,
    /// What drawing the curve in the rings is called; empty where it is drawn so.
    pub draw: String,
    /// What drawing it along their outside is called; empty where that has no thicker wall.
    pub outside: String,
    /// What letting a base in is called, while nothing closes the foot; else empty.
    pub base: String,
    /// The place of the ring that it is let into: the one in hand, where that takes it.
    pub base_ring: usize,
    /// Whether nothing is measured yet: the ring that stands there gives way to a list.
    pub is_begun: bool,
    /// Whether there is nothing left to be divided.
    pub is_all: bool,
    /// The figures.
    pub list: Vec<Figure>,
    /// What could not be counted.
    pub messages: Vec<Message>,
}

/// Says what glued rings allow; nothing without one. `is_offered` says whether there is a
/// nearest curve to take; a better order is looked for only where the curve does not fit.
/// `in_hand` is the place of the ring that is touched.
pub fn glued(plan: &Plan, is_offered: bool, in_hand: Option<usize>) -> Option<GluedScreen> {
    let (stack, built) = (plan.stack()?, plan.built()?);
    if !stack
        .vessel
        .rings
        .iter()
        .any(crate::design::StackRing::is_glued)
    {
        return None;
    }
    let unit = plan.design.unit;
    let walls = built
        .room
        .as_ref()
        .zip(built.curve.as_ref())
        .map_or(Vec::new(), |(room, curve)| room.thickest_walls(curve));
    let mut rows = rows(stack);
    for row in &mut rows {
        let wall = walls.iter().find(|wall| wall.0 == row.place);
        row.wall = wall.map_or_else(String::new, |wall| words::built_wall(wall.1, unit));
    }
    let base_ring = in_hand.filter(|it| takes_base(*it)).unwrap_or(0);
    let misfits = built.tightest.is_some_and(|it| it.left_mm < 0.0);
    let better: Option<Better> = misfits
        .then(|| better_order(built, &stack.vessel))
        .flatten();
    Some(GluedScreen {
        rows,
        of_all: of_all(&plan.design, &stack.vessel),
        of_all_now: words::built_measured(&stack.vessel),
        says: says(stack, built),
        base: if needs_base(stack, built) {
            words::filled(words::BUILT_BASE, &[&(base_ring + 1).to_string()])
        } else {
            String::new()
        },
        base_ring,
        is_begun: before_measured(&stack.design).is_some(),
        is_all: stack
            .vessel
            .rings
            .iter()
            .all(crate::design::StackRing::is_glued),
        order: better
            .as_ref()
            .map_or_else(String::new, |better| words::better_order(better, unit)),
        order_places: better.map_or(Vec::new(), |better| match better.change {
            Reorder::Turn(place) => vec![place],
            Reorder::Swap(one, two) => vec![one, two],
        }),
        take: (if is_offered {
            words::BUILT_TAKE_NEAREST.text
        } else {
            ""
        })
        .to_owned(),
        draw: match stack.vessel.outline_is {
            OutlineIs::Own => words::BUILT_DRAW.text,
            OutlineIs::InRings => "",
        }
        .to_owned(),
        outside: outside(stack, built),
        list: list(stack, built, &walls),
        messages: built
            .troubles
            .iter()
            .map(|it| words::trouble(it, unit))
            .collect(),
    })
}

/// What drawing the curve along the rings' outside is called, where the one that is drawn in
/// their middle has a thinner wall.
fn outside(stack: &StackPlan, built: &Built) -> String {
    let unit = stack.design.unit;
    if stack.vessel.outline_is != OutlineIs::InRings || !built.troubles.is_empty() {
        return String::new();
    }
    let drawn = outline::along_outside(&built.stack, unit);
    drawn.map_or_else(String::new, |drawn| {
        let wall = show(drawn.wall_mm(), unit).whole_line();
        words::filled(words::BUILT_OUTSIDE, &[&wall])
    })
}

/// The fields in which something is said of all glued rings at once.
fn of_all(design: &Design, vessel: &Vessel) -> Vec<Entry> {
    let lowest = vessel.rings.iter().find_map(|ring| {
        let own = ring.measured.as_ref()?;
        let outside = own.outside_across.word().to_owned();
        let inside = own.inside_across.word().to_owned();
        Some([outside, inside, ring.segment_count.to_string()])
    });
    let fields = OF_ALL.iter().zip(lowest.into_iter().flatten());
    let entry = |(field, text): (&'static Field, String)| Entry {
        text,
        ..entry(design, &serde_json::Value::Null, field, field.key)
    };
    fields.map(entry).collect()
}

/// The fields of a glued ring: those of its row, and those beside it.
pub(super) fn more_entries(plan: &Plan, place: usize) -> Vec<Entry> {
    let whole = crate::design::read::to_value(&plan.design);
    let names = [
        "outside_diameter_mm",
        "inside_diameter_mm",
        "height_mm",
        "outside_across",
        "inside_across",
        "upper_outside_diameter_mm",
        "upper_inside_diameter_mm",
    ];
    names
        .iter()
        .filter_map(|name| {
            let key = format!("vessel.rings.{place}.measured.{name}");
            Some(entry(&plan.design, &whole, field::find(&key)?, &key))
        })
        .collect()
}

/// The glued rings with what was measured of them, from the foot up.
pub(super) fn rows(stack: &StackPlan) -> Vec<GluedRow> {
    let design = &*stack.design;
    let whole = crate::design::read::to_value(design);
    let row = |place: usize| {
        let names = ["outside_diameter_mm", "inside_diameter_mm", "height_mm"];
        let entries = names.iter().filter_map(|name| {
            let key = format!("vessel.rings.{place}.measured.{name}");
            let mut entry = entry(design, &whole, field::find(&key)?, &key);
            entry.label = words::about_ring(place, &entry.label);
            Some(entry)
        });
        GluedRow {
            place,
            number: (place + 1).to_string(),
            entries: entries.collect(),
            planned: planned(stack, place),
            wall: String::new(),
        }
    };
    let rings = stack.vessel.rings.iter().enumerate();
    let glued = rings.filter(|(_, ring)| ring.is_glued());
    glued.map(|(place, _)| row(place)).collect()
}

/// What the plan has for a ring's outside, inside and height.
fn planned(stack: &StackPlan, place: usize) -> Vec<String> {
    let unit = stack.design.unit;
    let plan = stack.rings.get(place);
    plan.map_or_else(Vec::new, |plan| {
        let (circle, hole) = plan.as_cut_mm;
        [2.0 * circle, 2.0 * hole, plan.wanted.height_mm]
            .map(|length_mm| entry_text(as_shown_mm(length_mm, unit), unit))
            .to_vec()
    })
}

/// Whether it fits, and what else a turner must know first.
fn says(stack: &StackPlan, built: &Built) -> String {
    let (unit, vessel) = (stack.design.unit, &stack.vessel);
    if before_measured(&stack.design).is_some() {
        return words::BUILT_BEGUN.text.to_owned();
    }
    let mut says = Vec::new();
    if !built.troubles.is_empty() {
        says.push(words::BUILT_NOT_COUNTED.text.to_owned());
    }
    if built.curve.is_none() {
        says.push(words::BUILT_NO_CURVE.text.to_owned());
        return says.join(" ");
    }
    let is_drawn = vessel.outline_is == OutlineIs::InRings;
    let closed = built.room.as_ref().and_then(Room::closed_at);
    // A curve fits in the rings that were counted, and perhaps not in the one that was not.
    let is_known = |tightest: &&Tightest| built.troubles.is_empty() || tightest.left_mm < 0.0;
    if let Some(tightest) = built.tightest.as_ref().filter(is_known) {
        says.push(words::built_fits(tightest, unit));
    }
    if is_drawn && closed.is_none() {
        says.push(words::built_drawn(vessel.rim_wall_mm, unit));
    }
    if let Some((height_mm, missing)) = closed {
        let wall = built.room.as_ref().map_or(0.0, |it| it.wall_at(height_mm));
        says.push(words::built_closed(wall + missing, height_mm, unit));
    }
    let rim = vessel.points.last().map_or(0.0, |point| point.height_mm);
    let above = built.stack.height_mm - rim;
    if above.abs() > HEIGHTS_DIFFER_MM {
        says.push(words::built_heights(above, unit));
    }
    if needs_base(stack, built) {
        says.push(words::built_floor(solid_to_mm(&built.stack), unit));
    }
    says.join(" ")
}

/// Whether the lowest ring is glued, has a hole through the floor, and no base closes it.
fn needs_base(stack: &StackPlan, built: &Built) -> bool {
    let has_base = stack
        .base
        .as_ref()
        .is_some_and(|base| base.is_set_in() || base.choice.set == BaseSet::Under);
    let is_glued = stack
        .vessel
        .rings
        .first()
        .is_some_and(crate::design::StackRing::is_glued);
    let solid = solid_to_mm(&built.stack);
    is_glued && !has_base && solid < floor_mm(stack.design.base.as_ref(), &stack.vessel) - HAIR_MM
}

fn list(stack: &StackPlan, built: &Built, walls: &[(usize, f64)]) -> Vec<Figure> {
    let (unit, vessel) = (stack.design.unit, &stack.vessel);
    if built.stack.rings.is_empty() {
        return Vec::new();
    }
    let mut list = vec![figure(
        words::BUILT_HEIGHT,
        show(built.stack.height_mm, unit),
    )];
    if let Some(tightest) = &built.tightest {
        list.push(noted(
            words::BUILT_LEFT,
            // A hair must not read as nothing, and nothing is told as more than it is.
            if tightest.left_mm.abs() < unit.snap_step_mm() {
                fine_at_most(tightest.left_mm, unit)
            } else {
                at_most(tightest.left_mm, unit)
            },
            words::built_where(tightest, unit),
        ));
    }
    list.push(figure(
        words::BUILT_FOOT_WALL,
        show(vessel.foot_wall_mm, unit),
    ));
    list.push(figure(
        words::BUILT_RIM_WALL,
        show(vessel.rim_wall_mm, unit),
    ));
    let least = walls.iter().min_by(|one, other| one.1.total_cmp(&other.1));
    if let Some((place, wall_mm)) = least.filter(|wall| wall.1.is_finite()) {
        let ring = words::rings_within(&(place + 1).to_string(), 1);
        list.push(noted(
            words::BUILT_WALL_UP_TO,
            at_most(*wall_mm, unit),
            ring,
        ));
    }
    list
}
