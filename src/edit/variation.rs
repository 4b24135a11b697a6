//! What else a piece could be: designs near it or far from it, each complete and buildable.
//!
//! The search draws steps at random from a seed, mends what cannot be sawn, throws away what
//! a turner would have to look out for more than in the piece itself, and keeps what is found
//! apart by what one would see: the woods on the unrolled outside. Rings that are glued stay
//! as they are.

mod differs;
mod sawn;
mod seen;
mod slotting;
mod steps;
mod striping;

pub use differs::Differs;
pub(crate) use slotting::ways;
pub use slotting::{Slotting, Ways, slottings};

use super::sound::Soundness;
use crate::design::{Design, Vessel};
use crate::plan::caution::{Caution, StripeCaution};
use crate::plan::on_saw::rings_of;
use crate::plan::{Plan, plan};
use crate::solve::dice::Dice;
use differs::differs;
use seen::Seen;
use std::rc::Rc;
use steps::KINDS;

/// So many are looked for.
pub const WANTED: usize = 9;

/// What every striped ring asks for: it is told with the variation.
const SHORT_STICKS: Caution = Caution::Stripes(StripeCaution::ShortPieces { long_mm: 0.0 });

/// After so many tries the search ends with fewer.
const MOST_TRIES: u32 = 900;

/// A design that the piece could be.
pub struct Variation {
    /// The whole design, worked out.
    pub plan: Plan,
    /// In what it differs from the piece.
    pub differs: Vec<Differs>,
}

/// A search for variations. The same piece, seed and reach give the same ones.
pub struct Variations {
    own: Rc<Design>,
    own_seen: Seen,
    own_soundness: Soundness,
    reach: f64,
    offset: u32,
    dice: Dice,
    found: Vec<Seen>,
    tries: u32,
}

impl Variations {
    /// Begins a search from a piece; `reach` goes from 0, near, to 1, far. Nothing for a design without a
    /// vessel that can be turned.
    pub fn new(own: &Plan, seed: u32, reach: f64) -> Option<Variations> {
        let stack = own.stack().filter(|stack| stack.wall.is_some())?;
        Some(Variations {
            own: Rc::clone(&own.design),
            own_seen: Seen::of(stack),
            own_soundness: Soundness::of(own).bearing(&SHORT_STICKS),
            reach: if reach.is_finite() {
                reach.clamp(0.0, 1.0)
            } else {
                0.5
            },
            offset: seed % KINDS.len() as u32,
            dice: Dice::new(u64::from(seed)),
            found: Vec::new(),
            tries: 0,
        })
    }

    /// Whether nothing more will be found.
    pub fn is_done(&self) -> bool {
        self.found.len() >= WANTED || self.tries >= MOST_TRIES
    }

    /// Tries so often at most for the next one.
    pub fn next(&mut self, tries: u32) -> Option<Variation> {
        for _ in 0..tries {
            if self.is_done() {
                return None;
            }
            self.tries += 1;
            if let Some(found) = self.try_one() {
                return Some(found);
            }
        }
        None
    }

    fn try_one(&mut self) -> Option<Variation> {
        let mut kind = KINDS[(self.tries + self.offset) as usize % KINDS.len()];
        let more = (3.0 * self.reach).round() as u32;
        let mut design = Design::clone(&self.own);
        for _ in 0..=self.dice.below(1 + more) {
            design = kind(&design, design.vessel.as_ref()?, &mut self.dice, self.reach)?;
            kind = *self.dice.pick(&KINDS)?;
        }
        keep_glued(&self.own, &mut design);
        if design.vessel.as_ref().is_none_or(has_unseen_strips) {
            return None;
        }
        let mut differs = differs(self.own.vessel.as_ref()?, design.vessel.as_ref()?);
        if differs.is_empty() {
            return None;
        }
        let planned = plan(&design);
        let stack = planned.stack()?;
        let seen = Seen::of(stack.wall.as_ref().map(|_| stack)?);
        // The longer the search, the nearer to each other they may be.
        let patience = f64::from(MOST_TRIES - self.tries) / f64::from(MOST_TRIES);
        let apart =
            (LEAST_APART + (FAR_APART - LEAST_APART) * self.reach * patience).max(LEAST_APART);
        let others = std::iter::once(&self.own_seen).chain(&self.found);
        let is_near = |other: &Seen| seen.is_nearer(other, apart);
        if others.into_iter().any(is_near) || !self.own_soundness.is_kept(&planned) {
            return None;
        }
        if self.own_soundness.has_borne(&planned) {
            differs.push(Differs::ShortSticks);
        }
        self.found.push(seen);
        Some(Variation {
            plan: planned,
            differs,
        })
    }
}

/// The design as this other form of it: its vessel and what closes the foot.
pub fn take(design: &Design, varied: Design) -> Design {
    Design {
        vessel: varied.vessel,
        base: varied.base,
        ..design.clone()
    }
}

/// Rings that are glued are what they are.
fn keep_glued(own: &Design, design: &mut Design) {
    let (Some(own), Some(vessel)) = (&own.vessel, &mut design.vessel) else {
        return;
    };
    for (ring, was) in vessel.rings.iter_mut().zip(&own.rings) {
        if was.is_glued() {
            ring.clone_from(was);
            for place in (0..was.segment_count).map(|segment| was.wood_of(segment)) {
                if let Some((wood, was)) = vessel.woods.get_mut(place).zip(own.woods.get(place)) {
                    wood.clone_from(was);
                }
            }
        }
    }
}

/// Whether strips of the wood that they lie in would not be seen.
fn has_unseen_strips(vessel: &Vessel) -> bool {
    let name = |place: usize| vessel.woods.get(place).map(String::as_str);
    vessel.slot_sets.iter().any(|set| {
        let Ok(through) = rings_of(set, vessel.rings.len()) else {
            return false;
        };
        vessel.rings[through].iter().all(|ring| {
            let mut segments = 0..ring.segment_count;
            segments.all(|segment| {
                let own = name(ring.wood_of(segment));
                set.woods().into_iter().all(|wood| name(wood) == own)
            })
        })
    })
}

/// How far apart two pieces look at least, near and far, as shares of the outside that are of
/// another color (our own choice, no published source).
const LEAST_APART: f64 = 0.02;
const FAR_APART: f64 = 0.12;
