//! Slots as they are made: a set alone, or two that cross or meet in a zigzag.

use crate::design::field::{key, most_of};
use crate::design::{Design, Leans, SlotSet};
use crate::edit::vessel::with_vessel;
use crate::plan::inlay::{half_step_deg, met_deg, neat_deg, plan_set};
use crate::plan::on_saw::{OnSaw, within_half};
use crate::plan::rings::{Rings, plan_rings};
use std::rc::Rc;

/// One set of slots, or two that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Slotting {
    /// The set; of two, the first.
    pub set: SlotSet,
    /// How they go.
    pub ways: Ways,
}

/// How slots go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ways {
    /// All one way.
    One,
    /// Both ways from the same places.
    Crossing,
    /// Both ways, half a step apart, so that their ends meet.
    Zigzag,
}

/// The slots of a vessel as they were made.
pub fn slottings(sets: &[SlotSet]) -> Vec<Slotting> {
    let mut made = Vec::new();
    let mut place = 0;
    while let Some(set) = sets.get(place) {
        let ways = sets
            .get(place + 1)
            .map_or(Ways::One, |next| ways(set, next));
        place += if ways == Ways::One { 1 } else { 2 };
        made.push(Slotting {
            set: set.clone(),
            ways,
        });
    }
    made
}

/// How a set and the next go together.
pub(crate) fn ways(set: &SlotSet, next: &SlotSet) -> Ways {
    let mirrored = SlotSet {
        leans: next.leans,
        further_deg: next.further_deg,
        ..set.clone()
    };
    if *next != mirrored || next.leans == set.leans {
        return Ways::One;
    }
    // A set looks the same a whole step further on.
    let half = half_step_deg(set.slot_count);
    let apart = within_half(next.further_deg - set.further_deg, 2.0 * half).abs();
    if apart < 1e-6 {
        Ways::Crossing
    } else if (apart - half).abs() < 1e-3 {
        Ways::Zigzag
    } else {
        Ways::One
    }
}

/// Angles that are tried one after the other where a blade finds no height, as shares.
const GENTLER: [f64; 5] = [1.0, 0.8, 0.6, 0.4, GENTLEST];
const GENTLEST: f64 = 0.25;

/// The design with these slots, each mended so that the blade finds a height; nothing where
/// one finds none.
pub(super) fn with_slots(design: &Design, made: &[Slotting]) -> Option<Design> {
    let rings = &plan_rings(&Rc::new(design.clone()), &mut Vec::new())?;
    let mut sets = Vec::new();
    for each in made {
        let set = mended(rings, each)?;
        sets.push(set.clone());
        if each.ways != Ways::One {
            let further = if each.ways == Ways::Zigzag {
                half_step_deg(set.slot_count)
            } else {
                0.0
            };
            sets.push(SlotSet {
                leans: match set.leans {
                    Leans::Right => Leans::Left,
                    Leans::Left => Leans::Right,
                },
                further_deg: neat_deg(set.further_deg + further),
                ..set
            });
        }
    }
    if sets.len() > most_of(key::SLOT_SETS) {
        return None;
    }
    Some(with_vessel(design, |vessel| vessel.slot_sets = sets))
}

/// The set of slots as they are made, changed by so much as the blade needs to find a height: a
/// gentler angle, or another end of its strips.
fn mended(rings: &Rings, made: &Slotting) -> Option<SlotSet> {
    // The height that was set was for the slots as they were.
    let set = SlotSet {
        blade_mm: None,
        ..made.set.clone()
    };
    let unended = SlotSet {
        ends_at_mm: None,
        ..set.clone()
    };
    let ended = (set.ends_at_mm.is_some()).then(|| opened(rings, &set, made.ways));
    ended
        .flatten()
        .or_else(|| opened(rings, &unended, made.ways))
}

/// A set at the steepest gauge, of its own and gentler ones, at which its blade is easily set.
fn opened(rings: &Rings, set: &SlotSet, ways: Ways) -> Option<SlotSet> {
    let mut set = set.clone();
    let on_saw = OnSaw::of(rings, &set).ok()?;
    let is_sawn = |set: &SlotSet| on_saw.is_easily_set(rings, set);
    if ways == Ways::Zigzag {
        set.gauge_deg = met_deg(plan_set(rings, &set).ok()?.zigzag_rad());
        return is_sawn(&set).then_some(set);
    }
    let wanted = set.gauge_deg;
    let mut at = |share: f64| {
        set.gauge_deg = if share < 1.0 {
            (wanted * share * 2.0).round() / 2.0
        } else {
            wanted
        };
        (is_sawn(&set) && (set.gauge_deg > 0.0 || wanted == 0.0)).then(|| set.clone())
    };
    // Where the gentlest finds none, hardly another does.
    at(GENTLEST)?;
    GENTLER.into_iter().find_map(at)
}
