//! Discs of scrap that hold a stack for more than one set of slots.
//!
//! They stay on where the set that is sawn next goes through the same stack as it lies,
//! between discs too: taken off, they would be glued on the same faces anew, with two more
//! glue-ups to wait for. What the first set took of them must be whole again by then, or the
//! next slots would cut free what stands between both; so the strips of the first set are so
//! long that they fill the slots in the discs too. `tests/through.rs` saws voxels of it.
//!
//! A stack that is remounted in between, for its rings to be turned round, loses its discs,
//! and so does one into which a set is sawn that needs none: its fence and its strips' ends
//! are at the faces of the rings.

use crate::design::{SlotSet, StackHeld};
use crate::plan::inlay::{DISC_MM, SPARE_MM, SetPlan, cross};
use crate::plan::ring::cutting;
use crate::plan::rings::Rings;
use crate::trade::layered::sticks;
use crate::trade::through::between_discs;

/// The sets with the discs that hold more than one of them.
pub fn kept(of: &Rings, mut sets: Vec<Option<SetPlan>>) -> Vec<Option<SetPlan>> {
    let said = &of.vessel.slot_sets;
    for place in 0..sets.len() {
        let Some(next) = next_on(said, &sets, place) else {
            continue;
        };
        if let Some(own) = sets.get_mut(next).and_then(Option::as_mut) {
            own.discs_since = Some(place);
        }
        if let Some(own) = sets.get_mut(place).and_then(Option::as_mut) {
            own.discs_until = Some(next);
            fill_discs(of, own);
        }
    }
    sets
}

/// The set for which the discs of this one stay on.
fn next_on(said: &[SlotSet], sets: &[Option<SetPlan>], place: usize) -> Option<usize> {
    let sawn = |at: usize| {
        let own = sets.get(at)?.as_ref();
        own.filter(|own| own.is_open())
    };
    let own = sawn(place)?;
    let next = (place + 1..sets.len()).find(|at| sawn(*at).is_some_and(|it| cross(own, it)))?;
    let other = sawn(next)?;
    let is_between = |it: &SetPlan| it.held_by == StackHeld::Discs;
    let is_same = own.rings == other.rings && said[place].stack_is == said[next].stack_is;
    (is_same && is_between(own) && is_between(other)).then_some(next)
}

/// Strips as long as the slots are in the stack and its discs together.
fn fill_discs(of: &Rings, own: &mut SetPlan) {
    let held = between_discs(&own.stack, DISC_MM);
    own.strip_mm[2] = held.strip_length_mm(&own.slots, own.blade_mm) + 2.0 * SPARE_MM;
    let [_, wide_mm, long_mm] = own.strip_mm;
    if let Some(own_sticks) = &mut own.sticks {
        *own_sticks = sticks(own.slots.count, [wide_mm, long_mm], &cutting(&of.design));
    }
}
