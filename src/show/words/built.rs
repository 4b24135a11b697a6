//! What glued rings leave room for.

use super::word::Message;
use crate::design::{Across, Design, StackRing, Vessel};
use crate::edit::built::before_measured;
use crate::plan::built::{Better, Reorder};
use crate::plan::caution::TIGHT_RING_MM;
use crate::trade::closing::HAIR_MM;
use crate::trade::room::{Side, Tightest};
use crate::units::length::{Unit, at_least, at_most, entry_text, show};
use crate::units::quantity::fine_at_most;

/// Whether a curve fits, and where it is tightest.
pub fn built_fits(tightest: &Tightest, unit: Unit) -> String {
    let left = left_or_missing(tightest.left_mm, unit);
    let at = built_where(tightest, unit);
    if tightest.left_mm < 0.0 {
        format!("It does not fit: {left} is missing {at}.")
    } else if tightest.left_mm < HAIR_MM {
        format!("It just fits: nothing is to spare {at}.")
    } else if tightest.left_mm < unit.step_mm() {
        let left = fine_at_most(tightest.left_mm, unit).line();
        format!("It just fits, with {left} to spare {at}.")
    } else {
        format!("It fits, with {left} to spare {at}.")
    }
}

/// How all glued rings were measured, and of how many segments they are.
pub fn built_measured(vessel: &Vessel) -> String {
    let how = |ring: &StackRing| {
        let own = ring.measured.as_ref()?;
        Some((own.outside_across, own.inside_across, ring.segment_count))
    };
    let mut all = vessel.rings.iter().filter_map(how);
    let Some(first) = all.next() else {
        return String::new();
    };
    if all.any(|it| it != first) {
        return "not all alike: touch a ring for its own".to_owned();
    }
    let (outside, inside, count) = first;
    let said = |across: Across| match across {
        Across::Flats => "flat to flat",
        Across::Corners => "corner to corner",
        Across::Round => "where it is turned round",
    };
    let across = if outside == inside {
        said(outside).to_owned()
    } else {
        format!("outside {}, inside {}", said(outside), said(inside))
    };
    format!("{across}; {}", super::segments_each(count))
}

/// The rings of a list as they were read.
pub fn rings_taken(before: &Design, after: &Design, is_instead: bool) -> Message {
    let unit = after.unit;
    let rings = |design: &Design| design.vessel.as_ref().map_or(0, |it| it.rings.len());
    // A ring that was begun only gave way to them.
    let old = match before_measured(before) {
        None if !is_instead => rings(before),
        _ => 0,
    };
    let all = after.vessel.iter().flat_map(|it| &it.rings).skip(old);
    let read = all.filter_map(|ring| {
        let own = ring.measured.as_ref()?;
        let sizes = [
            own.outside_diameter_mm?,
            own.inside_diameter_mm?,
            own.height_mm?,
        ];
        Some(sizes.map(|it| entry_text(it, unit)).join(" × "))
    });
    let read: Vec<String> = read.collect();
    let reason = if read.is_empty() {
        String::new()
    } else {
        format!(
            "Read, from the lowest up, outside × inside × height: {}.",
            read.join(", ")
        )
    };
    Message {
        field: String::new(),
        reason,
        remedy: String::new(),
    }
}

/// What is to spare, never told as more; or what is missing, never told as less.
fn left_or_missing(left_mm: f64, unit: Unit) -> String {
    if left_mm < 0.0 {
        at_least(-left_mm, unit).line()
    } else {
        at_most(left_mm, unit).line()
    }
}

/// Where a curve is tightest.
pub fn built_where(tightest: &Tightest, unit: Unit) -> String {
    let side = match tightest.side {
        Side::Outside => "outside",
        Side::Inside => "inside",
    };
    format!("{side}, {}", at_height(tightest.height_mm, unit))
}

/// At a height.
pub fn at_height(height_mm: f64, unit: Unit) -> String {
    format!("at a height of {}", show(height_mm, unit).line())
}

/// No curve has the wall that is wanted.
pub fn built_closed(most_mm: f64, height_mm: f64, unit: Unit) -> String {
    if most_mm < TIGHT_RING_MM {
        return format!(
            "No wall passes through these rings {}: the hole of one is as wide as the outside of its neighbor. Measure both again, or put another ring between them.",
            at_height(height_mm, unit)
        );
    }
    format!(
        "No curve has that wall in these rings: {} they allow {} at most. Make the wall thinner in Vessel, or another ring.",
        at_height(height_mm, unit),
        at_most(most_mm.max(0.0), unit).line()
    )
}

/// The wall of a curve that the page has drawn.
pub fn built_drawn(wall_mm: f64, unit: Unit) -> String {
    format!(
        "The page has drawn the curve, with a wall of {}.",
        show(wall_mm, unit).whole_line()
    )
}

/// The stack is higher or lower than the curve.
pub fn built_heights(above_mm: f64, unit: Unit) -> String {
    let by = show(above_mm.abs(), unit).line();
    if above_mm > 0.0 {
        format!("The rings stand {by} above the rim.")
    } else {
        format!("The rings end {by} below the rim; above them the curve is not checked.")
    }
}

/// The hole reaches into the floor.
pub fn built_floor(solid_mm: f64, unit: Unit) -> String {
    if solid_mm > 0.0 {
        format!(
            "The wood is solid only up to {}: less than the floor.",
            at_most(solid_mm, unit).line()
        )
    } else {
        "The lowest ring has a hole: the floor needs a base of its own.".to_owned()
    }
}

/// The thickest wall that a ring allows.
pub fn built_wall(wall_mm: f64, unit: Unit) -> String {
    if wall_mm.is_finite() {
        format!("thickest wall {}", at_most(wall_mm, unit.finest()).line())
    } else {
        "solid".to_owned()
    }
}

/// A better order of the rings.
pub fn better_order(better: &Better, unit: Unit) -> String {
    let change = match better.change {
        Reorder::Turn(place) => format!("With ring {} turned over", place + 1),
        Reorder::Swap(one, two) => {
            format!("With rings {} and {} changed about", one + 1, two + 1)
        }
    };
    let now = left_or_missing(better.after_mm, unit);
    if better.after_mm < 0.0 {
        format!("{change} only {now} is missing.")
    } else {
        format!("{change} it fits, with {now} to spare.")
    }
}
