//! A glued ring on the turner's shelf: measured, and of its own woods.

use super::kind::clean_text;
use super::{Design, FORM, StackRing};
use crate::units::kept::{Kept, part};
use serde_json::{Value, json};

/// So many letters a note or a design's name has at most there.
pub(super) const MOST_NOTE: usize = 200;

/// A glued ring on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct RingOnShelf {
    /// The ring, all that was measured of it written out; its pattern speaks of its own woods.
    pub ring: StackRing,
    /// Its woods.
    pub woods: Vec<String>,
    /// Where it comes from; may be empty.
    pub note: String,
    /// The identity of the design that it is meant for; empty where it is free.
    pub wanted_by: String,
    /// What that design is called.
    pub wanted_for: String,
}

impl RingOnShelf {
    /// Reads one that was kept; nothing where it is none, or was not measured.
    pub fn read(value: &Value) -> Option<RingOnShelf> {
        let object = value.as_object()?;
        let text = |name: &str| {
            let text: Option<String> = part(object, name);
            clean_text(&text.unwrap_or_default(), MOST_NOTE)
        };
        // As the ring of a design, which checks each of its fields.
        let vessel = json!({ "woods": object.get("woods")?, "rings": [object.get("ring")?] });
        let whole = json!({ "form": FORM, "ring": {}, "vessel": vessel });
        let (design, troubles) = Design::restore(&whole).ok()?;
        let vessel = design.vessel.filter(|_| troubles.is_empty())?;
        let mut ring = vessel.rings.into_iter().next().filter(is_measured)?;
        let is_there = |place: &mut u32| (*place as usize) < vessel.woods.len();
        if !ring.wood_places().all(is_there) {
            return None;
        }
        Some(RingOnShelf {
            ring,
            woods: vessel.woods,
            note: text("note"),
            wanted_by: text("wanted_by"),
            wanted_for: text("wanted_for"),
        })
    }

    /// Its outside at the wider face, as measured.
    pub fn widest_mm(&self) -> f64 {
        let measured = self.ring.measured.iter();
        let faces = measured.flat_map(|it| [it.outside_diameter_mm, it.upper_outside_diameter_mm]);
        faces.flatten().fold(0.0, f64::max)
    }

    /// Writes it.
    pub fn write(&self) -> Value {
        json!({
            "ring": self.ring.write(),
            "woods": self.woods.write(),
            "note": self.note,
            "wanted_by": self.wanted_by,
            "wanted_for": self.wanted_for,
        })
    }
}

/// Whether its outside, its hole and its height are known.
fn is_measured(ring: &StackRing) -> bool {
    ring.measured.as_ref().is_some_and(|it| {
        let outside = it.outside_diameter_mm.or(it.upper_outside_diameter_mm);
        let hole = it.inside_diameter_mm.or(it.upper_inside_diameter_mm);
        outside.is_some() && hole.is_some() && it.height_mm.is_some()
    })
}
