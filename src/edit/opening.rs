//! Single changes that open the window of a set of slots which has none, or hardly one.
//!
//! Each is made to the design and planned before it is offered: the blade then finds a
//! height that a hand can set, and nothing else gets worse.

use super::inlay::{fit_zigzag, is_zigzag, with_set, with_zigzag};
use super::sound::Soundness;
use super::vessel::with_vessel;
use crate::design::{Design, MadeOf, SlotSet, StackHeld, StackIs, StripsShow};
use crate::plan::caution::{Caution, SlotCaution};
use crate::plan::inlay::{SetPlan, plan_set};
use crate::plan::on_saw::rings_of;
use crate::plan::rings::Rings;
use crate::plan::stack::StackPlan;
use crate::plan::{Plan, plan};

/// A single change that opens a window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Opening {
    /// The rings glued with a hole smaller by this, on the radius.
    SmallerHole(f64),
    /// A finished wall thicker by this; the rings follow.
    ThickerWall(f64),
    /// A gauge angle of this, degrees.
    SmallerGauge(f64),
    /// A blade tilted by this, degrees.
    SmallerTilt(f64),
    /// The rings from one to another, counted from 0, in place of its own.
    OtherRings(usize, usize),
    /// The strips left hidden inside.
    OutsideOnly,
    /// The stack turned round before it is slotted.
    TurnedRound,
    /// Something else that holds the stack: through the whole wall, or no more.
    HeldBy(StackHeld),
    /// Where no single change does: rings from one to another at a gauge angle, degrees, and
    /// where the strips then show.
    Together(usize, usize, f64, StripsShow),
}

/// Half degrees, as gauges are set.
const GAUGE_STEP_DEG: f64 = 0.5;

/// Shares of an angle that are tried together with other rings.
const GENTLER: [f64; 4] = [1.0, 0.75, 0.5, 0.25];

/// So many are tried at most: with many rings the search would hold up the hand.
const MOST_TRIES: usize = 400;

/// So many of those that may open are planned whole.
const MOST_PLANNED: usize = 16;

fn neat_gauge_deg(degrees: f64) -> f64 {
    (degrees / GAUGE_STEP_DEG).round() * GAUGE_STEP_DEG
}

/// The changes of a set, each as small as it may be.
pub fn openings(design: &Design, place: usize) -> Vec<Opening> {
    let planned = plan(design);
    let Some(stack) = planned.stack() else {
        return Vec::new();
    };
    let set = stack.vessel.slot_sets.get(place);
    let own = stack.slot_sets.get(place).and_then(Option::as_ref);
    match (set, own) {
        (Some(set), Some(own)) if !own.is_easily_set() => Search {
            stack,
            set,
            own,
            place,
            soundness: Soundness::of(&planned),
        }
        .all(),
        _ => Vec::new(),
    }
}

/// Takes one of them.
pub fn take(design: &Design, place: usize, opening: usize) -> Design {
    match openings(design, place).get(opening) {
        Some(opening) => opened(design, place, *opening),
        None => design.clone(),
    }
}

/// The design with this change made, whether it opens anything or not. The blade takes the
/// height that it finds.
pub fn opened(design: &Design, place: usize, opening: Opening) -> Design {
    made(design, place, opening, None)
}

/// The same, where the rings are planned already: other rings for a zigzag have an angle of
/// their own.
fn made(design: &Design, place: usize, opening: Opening, rings: Option<&Rings>) -> Design {
    let of_set = |change: &dyn Fn(&mut SlotSet)| {
        with_set(design, place, |set| {
            change(set);
            (set.blade_mm, set.ends_at_mm) = (None, None);
        })
    };
    match opening {
        Opening::SmallerHole(less_mm) => with_vessel(&of_set(&|_| {}), |vessel| {
            let set = vessel.slot_sets.get(place);
            let own = set.and_then(|set| rings_of(set, vessel.rings.len()).ok());
            let rings = own.and_then(|own| vessel.rings.get_mut(own));
            for ring in rings.into_iter().flatten() {
                ring.inside_extra_mm += less_mm;
            }
        }),
        Opening::ThickerWall(more_mm) => with_vessel(&of_set(&|_| {}), |vessel| {
            vessel.foot_wall_mm += more_mm;
            vessel.rim_wall_mm += more_mm;
        }),
        Opening::SmallerGauge(gauge_deg) => of_set(&|set| set.gauge_deg = gauge_deg),
        Opening::SmallerTilt(tilt_deg) => of_set(&|set| set.tilt_deg = tilt_deg),
        Opening::OtherRings(low, high) => {
            let moved = of_set(&|set| {
                (set.from_ring, set.to_ring) = (low as u32 + 1, high as u32 + 1);
            });
            if !is_zigzag(design, place) {
                return moved;
            }
            let Some(rings) = rings else {
                return fit_zigzag(&moved, place, false);
            };
            let vessel = moved.vessel.as_ref();
            let set = vessel.and_then(|vessel| vessel.slot_sets.get(place));
            match set.map(|set| plan_set(rings, set)) {
                Some(Ok(own)) => with_zigzag(&moved, place, &own, false),
                _ => moved,
            }
        }
        Opening::Together(low, high, gauge_deg, shows) => {
            let changed = of_set(&|set| (set.gauge_deg, set.shows) = (gauge_deg, shows));
            made(&changed, place, Opening::OtherRings(low, high), rings)
        }
        Opening::OutsideOnly => of_set(&|set| set.shows = StripsShow::OutsideOnly),
        Opening::TurnedRound => of_set(&|set| set.stack_is = StackIs::TurnedRound),
        Opening::HeldBy(held_by) => of_set(&|set| set.held_by = held_by),
    }
}

struct Search<'a> {
    stack: &'a StackPlan,
    set: &'a SlotSet,
    own: &'a SetPlan,
    place: usize,
    soundness: Soundness,
}

impl Search<'_> {
    fn all(&self) -> Vec<Opening> {
        let of_set = [
            (self.set.stack_is == StackIs::LeftFlat).then_some(Opening::TurnedRound),
            (self.own.shows == StripsShow::InsideToo && !self.set.is_through())
                .then_some(Opening::OutsideOnly),
        ];
        let found = of_set
            .into_iter()
            .flatten()
            .filter(|opening| self.opens(*opening));
        let single: Vec<Opening> = found
            .chain(self.other_rings())
            .chain(self.smaller_gauge())
            .chain(self.smaller_tilt())
            .chain(self.smaller_hole())
            .chain(self.thicker_wall())
            .filter(|opening| self.is_sound(*opening))
            .collect();
        let mut all = if single.is_empty() {
            self.all_together()
        } else {
            single
        };
        all.extend(self.held_otherwise());
        all
    }

    /// Where no single change helps: several together, as little as there is.
    fn all_together(&self) -> Vec<Opening> {
        let whole = [self.set.shows, StripsShow::OutsideOnly];
        let through_two = self.together(2, &whole);
        if through_two.is_some() {
            return through_two.into_iter().collect();
        }
        let one_ring = self.bearing_one_ring().together(1, &whole);
        let partly = self.together(2, &[StripsShow::OutsidePartly]);
        one_ring.into_iter().chain(partly).collect()
    }

    /// What else could hold the stack, with the set as it is.
    fn held_otherwise(&self) -> impl Iterator<Item = Opening> {
        let others = StackHeld::ALL
            .iter()
            .filter(|it| **it != self.set.held_by)
            .map(|it| Opening::HeldBy(*it));
        others.filter(|opening| self.may_open(*opening) && self.is_sound(*opening))
    }

    /// A search that takes a single ring where it must: it lies in a sled or jig.
    fn bearing_one_ring(&self) -> Search<'_> {
        let one_ring = SlotCaution::OneRing { height_mm: 0.0 };
        Search {
            soundness: self
                .soundness
                .clone()
                .bearing(&Caution::Slots(self.place, one_ring)),
            ..*self
        }
    }

    /// So many rings at least that a slot can go through: its own but for some at an end, or
    /// as many or so few elsewhere, the nearest first.
    fn spans(&self, fewest: usize) -> impl Iterator<Item = (usize, usize)> {
        let rings = &self.stack.vessel.rings;
        let (from, to) = (*self.own.rings.start(), *self.own.rings.end());
        let whole = (to - from + 1).max(fewest);
        (fewest..=whole).rev().flat_map(move |many| {
            let mut lows: Vec<usize> = (0..(rings.len() + 1).saturating_sub(many)).collect();
            lows.retain(|low| {
                let is_of_own = *low == from || low + many == to + 1;
                let through = &rings[*low..low + many];
                (is_of_own || many == whole || many == fewest)
                    && through.iter().all(|ring| ring.made_of == MadeOf::Segments)
            });
            lows.sort_by_key(|low| (low.abs_diff(from) + (low + many).abs_diff(to + 1), *low));
            lows.into_iter().map(move |low| (low, low + many - 1))
        })
    }

    fn first_of(&self, changes: impl Iterator<Item = Opening>) -> Option<Opening> {
        changes
            .take(MOST_TRIES)
            .filter(|opening| self.may_open(*opening))
            .take(MOST_PLANNED)
            .find(|opening| self.is_sound(*opening))
    }

    fn other_rings(&self) -> Option<Opening> {
        self.first_of(
            self.spans(2)
                .map(|(low, high)| Opening::OtherRings(low, high)),
        )
    }

    /// Rings, angle and where the strips show, changed together as little as helps.
    fn together(&self, fewest: usize, shown: &[StripsShow]) -> Option<Opening> {
        let own_deg = self.set.gauge_deg;
        let changes = shown.iter().copied().flat_map(|shows| {
            GENTLER.into_iter().flat_map(move |share| {
                let gauge_deg = neat_gauge_deg(own_deg * share);
                self.spans(fewest)
                    .map(move |(low, high)| Opening::Together(low, high, gauge_deg, shows))
            })
        });
        self.first_of(changes)
    }

    fn smaller_gauge(&self) -> Option<Opening> {
        if is_zigzag(&self.stack.design, self.place) {
            // Its angle is that at which the ends meet.
            return None;
        }
        let steps = (self.set.gauge_deg / GAUGE_STEP_DEG).ceil();
        let smaller = |less: u32| {
            Opening::SmallerGauge(((steps - f64::from(less)) * GAUGE_STEP_DEG).max(0.0))
        };
        let least = least_steps(steps as u32, |less| self.may_open(smaller(less)))?;
        Some(smaller(least))
    }

    fn smaller_tilt(&self) -> Option<Opening> {
        let own_deg = self.set.tilt_deg;
        let steps = (own_deg.abs() / GAUGE_STEP_DEG).ceil();
        let smaller = |less: u32| {
            let tilt_deg = (steps - f64::from(less)) * GAUGE_STEP_DEG;
            Opening::SmallerTilt(if own_deg < 0.0 && tilt_deg > 0.0 {
                -tilt_deg
            } else {
                tilt_deg.max(0.0)
            })
        };
        let least = least_steps(steps as u32, |less| self.may_open(smaller(less)))?;
        Some(smaller(least))
    }

    fn smaller_hole(&self) -> Option<Opening> {
        let holes = self.stack.rings[self.own.rings.clone()]
            .iter()
            .filter_map(|ring| ring.segment)
            .map(|segment| segment.smallest_hole_mm / 2.0);
        self.of_length(holes.fold(0.0, f64::max), Opening::SmallerHole)
    }

    fn thicker_wall(&self) -> Option<Opening> {
        let [bottom, top] = self.own.end_radii_mm();
        self.of_length(bottom.max(top) / 2.0, Opening::ThickerWall)
    }

    /// A change of a length, in steps of the tape.
    fn of_length(&self, most_mm: f64, change: impl Fn(f64) -> Opening) -> Option<Opening> {
        // Through the wall it is the hole that must be wide, not the wood.
        if self.has_glued() || self.set.is_through() {
            return None;
        }
        let step_mm = self.stack.design.unit.snap_step_mm();
        let many = |steps: u32| change(f64::from(steps) * step_mm);
        let most = (most_mm / step_mm).floor();
        let least = least_steps(most as u32, |steps| self.opens(many(steps)))?;
        Some(many(least))
    }

    /// What is glued has the hole and the wall that it has.
    fn has_glued(&self) -> bool {
        self.stack.vessel.rings[self.own.rings.clone()]
            .iter()
            .any(crate::design::StackRing::is_glued)
    }

    /// Whether a change of the set alone, which leaves the rings as they are, opens it.
    fn may_open(&self, opening: Opening) -> bool {
        let changed = self.changed(opening);
        let set = changed
            .vessel
            .as_ref()
            .and_then(|vessel| vessel.slot_sets.get(self.place));
        set.is_some_and(|set| plan_set(&self.stack.of, set).is_ok_and(|own| own.is_easily_set()))
    }

    fn opens(&self, opening: Opening) -> bool {
        self.has_window(&self.planned(opening))
    }

    fn is_sound(&self, opening: Opening) -> bool {
        let planned = self.planned(opening);
        self.has_window(&planned) && self.soundness.is_kept(&planned)
    }

    fn planned(&self, opening: Opening) -> Plan {
        plan(&self.changed(opening))
    }

    fn changed(&self, opening: Opening) -> Design {
        let stack = self.stack;
        made(&stack.design, self.place, opening, Some(&stack.of))
    }

    fn has_window(&self, planned: &Plan) -> bool {
        let own = planned
            .stack()
            .and_then(|stack| stack.slot_sets.get(self.place)?.as_ref());
        own.is_some_and(SetPlan::is_easily_set)
    }
}

/// The least number of steps that opens, looked for by ever longer strides and then between
/// the last two.
fn least_steps(most: u32, is_open: impl Fn(u32) -> bool) -> Option<u32> {
    let mut closed = 0;
    let mut stride = 1;
    loop {
        let at = (closed + stride).min(most);
        if at == closed {
            return None;
        }
        if is_open(at) {
            let (mut closed, mut open) = (closed, at);
            while open - closed > 1 {
                let middle = closed.midpoint(open);
                if is_open(middle) {
                    open = middle;
                } else {
                    closed = middle;
                }
            }
            return Some(open);
        }
        closed = at;
        stride *= 2;
    }
}
