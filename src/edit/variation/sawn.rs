//! The same slots, sawn otherwise: with the blade tilted, along a part of the outside, through
//! the whole wall.

use crate::design::{SlotSet, StackHeld, StripsShow, Vessel};
use crate::solve::dice::Dice;

/// Tilts that are drawn from, degrees (our own choice, no published source).
const TILTS_DEG: [f64; 5] = [6.0, 10.0, 15.0, 20.0, 25.0];

/// Each strip dries before the next slot is sawn: more of them are not offered one at a time
/// (our own choice, no published source).
const MOST_ONE_BY_ONE: u32 = 8;

/// Where strips along a part of the way end, as shares of their rings.
const ENDS: [f64; 2] = [0.3, 0.7];

/// Saws a set otherwise than it is.
pub(super) fn sawn_otherwise(vessel: &Vessel, set: &mut SlotSet, dice: &mut Dice, reach: f64) {
    match dice.below(3) {
        0 => tilt(set, dice, reach),
        1 => end_between(vessel, set, dice),
        _ => go_through(set, dice),
    }
}

/// Tilts the blade to either side, or sets it upright again.
fn tilt(set: &mut SlotSet, dice: &mut Dice, reach: f64) {
    if set.tilt_deg != 0.0 {
        set.tilt_deg = 0.0;
        return;
    }
    // Near the piece by little.
    let few = (2.0 + 3.0 * reach) as usize;
    let tilt_deg = dice.pick(&TILTS_DEG[..few.min(TILTS_DEG.len())]);
    let side = if dice.below(2) == 0 { 1.0 } else { -1.0 };
    set.tilt_deg = side * tilt_deg.copied().unwrap_or(0.0);
}

/// Lets the strips end somewhere between their rings, or go all along again.
fn end_between(vessel: &Vessel, set: &mut SlotSet, dice: &mut Dice) {
    set.held_by = StackHeld::Bridge;
    if set.shows == StripsShow::OutsidePartly {
        (set.shows, set.ends_at_mm) = (StripsShow::OutsideOnly, None);
        return;
    }
    let height_mm = |rings: u32| -> f64 {
        let below = vessel.rings.iter().take(rings as usize);
        below.map(|ring| ring.height_mm).sum()
    };
    let [from, to] = [set.from_ring.saturating_sub(1), set.to_ring].map(height_mm);
    let share = ENDS[0] + (ENDS[1] - ENDS[0]) * dice.share();
    // As it is read off a rule.
    let end_mm = (from + (to - from) * share).round();
    (set.shows, set.ends_at_mm) = (StripsShow::OutsidePartly, Some(end_mm));
}

/// Lets the slots go through the whole wall, or into it only.
fn go_through(set: &mut SlotSet, dice: &mut Dice) {
    if set.shows == StripsShow::OutsidePartly {
        (set.shows, set.ends_at_mm) = (StripsShow::OutsideOnly, None);
    }
    set.held_by = match set.held_by {
        StackHeld::Bridge => *dice.pick(&ways_through(set)).unwrap_or(&StackHeld::Discs),
        StackHeld::Strips | StackHeld::Discs => StackHeld::Bridge,
    };
}

/// What can hold a set that goes through the wall: the strips where they are so few that each can
/// wait for the one before.
fn ways_through(set: &SlotSet) -> Vec<StackHeld> {
    let few = set.slot_count * set.beside_count <= MOST_ONE_BY_ONE;
    let strips = few.then_some(StackHeld::Strips);
    [StackHeld::Discs].into_iter().chain(strips).collect()
}
