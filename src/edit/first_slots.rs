//! Beginning slots: how many, where and how steep, so that a hand can set the blade.

use super::inlay::{add_other_way, add_set, with_set};
use super::opening::{Opening, opened, openings};
use crate::design::{Design, MadeOf, SlotSet};
use crate::plan::caution::Caution;
use crate::plan::inlay::{self, SetPlan};
use crate::plan::plan;

/// How slots are begun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Begun {
    /// All lean one way.
    OneWay,
    /// Two sets that cross.
    Crossing,
    /// Two sets whose ends meet.
    Zigzag,
}

impl Begun {
    /// By the word that the page has for it.
    pub fn called(word: &str) -> Option<Begun> {
        Some(match word {
            "one_way" => Begun::OneWay,
            "crossing" => Begun::Crossing,
            "zigzag" => Begun::Zigzag,
            _ => return None,
        })
    }
}

/// Angles of the gauge that slots are begun with, degrees (our own choice, no published
/// source).
const BEGUN_DEG: [f64; 4] = [30.0, 20.0, 12.0, 6.0];

/// Begins slots with one set, or with two of it, where the blade finds a height: with one
/// slot for every second segment, or for every third or fourth where so many leave none, in
/// the upper half where it can be. Where all of these leave the blade a hair or nothing, by
/// what opens its window and leaves the rings as they are. Where none can be sawn, a plain
/// set, and what would open its window is told.
pub fn begin(design: &Design, begun: Begun) -> Design {
    let plain = add_set(design);
    let place = set_count(&plain).saturating_sub(1);
    let found = sawn_somewhere(&plain, place, begun);
    let one = found.map_or_else(
        || plain.clone(),
        |found| with_set(&plain, place, |set| *set = found.clone()),
    );
    let all = match begun {
        Begun::OneWay => one,
        Begun::Crossing => add_other_way(&one, place, false),
        Begun::Zigzag => add_other_way(&one, place, true),
    };
    let of_rings = |it: &Opening| matches!(it, Opening::SmallerHole(_) | Opening::ThickerWall(_));
    let found = openings(&all, place).into_iter();
    let opened = found
        .filter(|it| !of_rings(it))
        .map(|opening| opened(&all, place, opening));
    // Of several the one that asks for the least care at the saw, the first of those.
    opened.min_by_key(cares).unwrap_or(all)
}

/// A set like this one, with another span, count or angle, that can be sawn.
fn sawn_somewhere(design: &Design, place: usize, begun: Begun) -> Option<SlotSet> {
    let planned = plan(design);
    let (vessel, rings) = (design.vessel.as_ref()?, &planned.stack()?.of);
    let own = vessel.slot_sets.get(place)?;
    let count = vessel.rings.len();
    let is_sawn = |low: &usize| {
        let two = vessel.rings.get(*low..low + 2);
        two.is_some_and(|two| two.iter().all(|ring| ring.made_of == MadeOf::Segments))
    };
    let lows = || {
        (count / 2..count)
            .chain((0..count / 2).rev())
            .filter(is_sawn)
    };
    let try_one = |low: usize, share: u32, degrees: f64, is_sawn: fn(&SetPlan) -> bool| {
        let segments = vessel.rings[low].segment_count;
        if !segments.is_multiple_of(share) || segments < 2 * share {
            return None;
        }
        let mut set = SlotSet {
            from_ring: low as u32 + 1,
            to_ring: low as u32 + 2,
            slot_count: segments / share,
            gauge_deg: degrees,
            ..own.clone()
        };
        let mut found = inlay::plan_set(rings, &set).ok()?;
        if begun == Begun::Zigzag {
            set.gauge_deg = inlay::met_deg(found.zigzag_rad());
            found = inlay::plan_set(rings, &set).ok()?;
        }
        is_sawn(&found).then_some(set)
    };
    // The angle of a zigzag is its own.
    let angles = if begun == Begun::Zigzag {
        &BEGUN_DEG[..1]
    } else {
        &BEGUN_DEG
    };
    // Where none leaves the blade room enough, one that leaves it a hair is better than none.
    [
        SetPlan::is_easily_set as fn(&SetPlan) -> bool,
        SetPlan::is_open,
    ]
    .into_iter()
    .find_map(|is_sawn| {
        angles.iter().find_map(|degrees| {
            [2, 3, 4, 1]
                .iter()
                .find_map(|share| lows().find_map(|low| try_one(low, *share, *degrees, is_sawn)))
        })
    })
}

/// How much is to be looked at before the slots are sawn.
fn cares(design: &Design) -> usize {
    let planned = plan(design);
    let told = planned.placed_cautions().iter();
    told.filter(|it| matches!(it.caution, Caution::Slots(..)))
        .count()
}

fn set_count(design: &Design) -> usize {
    let vessel = design.vessel.as_ref();
    vessel.map_or(0, |vessel| vessel.slot_sets.len())
}
