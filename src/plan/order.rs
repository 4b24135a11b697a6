//! The order of work for one vessel: which rings go to which half, what is turned
//! before the next ring closes it in, and every step from the saw to parting off.
//!
//! The rings are glued up one by one from a waste block. A vessel whose whole inside is
//! reached from its rim is made in one piece; any other in two halves, the lower one on
//! a block under the foot, the upper one on a block over the rim, joined where the way
//! in is widest. How far a tool reaches is told in [`crate::trade::lathe::Walk`].

pub mod balance;
mod extra;
pub mod facts;
mod joint;
mod needs;
pub mod plugs;
mod reach;
mod step;
mod steps;
mod turn;

pub use extra::base_is;
pub use facts::{End, FinishWork};
pub use joint::{Centring, centring};
pub use needs::Needs;
pub use step::{BaseIs, BaseWork, Chapter, Half, Order, Stage, Step, Work};
pub use turn::{Turn, Way, turn_of};

use crate::design::{SlotSet, StackRing, Vessel};
use crate::plan::base;
use crate::plan::floor::base_place;
use crate::plan::rings::RingInStack;
use crate::plan::stack::StackPlan;
use crate::plan::stripe::StripePlan;
use crate::trade::lathe::{BAR_MM, Tool};
use reach::Inside;
use std::ops::Range;
use steps::Making;

/// The spans of rings that slots are sawn through, one a set, for the order of work.
pub fn inlays(vessel: &Vessel) -> Vec<Range<usize>> {
    let count = vessel.rings.len();
    let span = |set: &SlotSet| {
        let (from, to) = (
            set.from_ring.min(set.to_ring),
            set.to_ring.max(set.from_ring),
        );
        (from as usize).saturating_sub(1)..(to as usize).min(count)
    };
    vessel.slot_sets.iter().map(span).collect()
}

/// The order of work for a vessel; nothing where it has no wall or no ring. `inlays` are
/// the spans of rings that slots are sawn through together, one a set, empty where a set
/// has none.
pub fn order(plan: &StackPlan, inlays: &[Range<usize>]) -> Option<Order> {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let wall = plan.wall.as_ref()?;
    let count = vessel.rings.len();
    if count == 0 {
        return None;
    }
    let tool = Tool {
        bar_mm: BAR_MM,
        overhang_mm: design.bench_or_usual().overhang_mm,
    };
    let inside = Inside::of(tool, wall, plan);
    let base = base::of_vessel(plan);
    let base_is = base
        .as_ref()
        .map_or(BaseIs::Ring, |base| base_is(plan, base));
    let within = base.as_ref().filter(|_| base_is == BaseIs::Within);
    let let_into = within.map_or(0, |base| base_place(&base.choice, vessel));
    // A base is let in from above: its ring stands in the lower half.
    let above_base = |meeting: usize| match meeting {
        0 => 0,
        _ if let_into + 1 >= count => 0,
        _ => meeting.max(let_into + 1),
    };
    let own_meeting = above_base(inside.choose(inlays));
    let meeting = design
        .bench_or_usual()
        .meet_above_ring
        .map_or(own_meeting, |ring| {
            above_base((ring as usize).min(count - 1))
        });
    let halves = inside.halves(meeting);
    let rips = extra::rips(plan);
    let (apart, on_piece): (Vec<_>, Vec<_>) = steps::bands(inlays)
        .into_iter()
        .partition(|band| steps::is_apart(band, &halves));
    let mut making = Making {
        design,
        vessel,
        plan,
        halves: &halves,
        inlays,
        apart: &apart,
        on_piece: &on_piece,
        base: base.as_ref(),
        base_is,
        steps: extra::board_steps(&rips, count),
    };
    making.steps.extend(extra::edge_steps(design, &rips, count));
    making.steps.extend(extra::strip_steps(plan, inlays));
    making.blocks();
    making.rings();
    making.stacks();
    for half in &halves {
        making.half(half);
    }
    making.whole(meeting);
    let steps = making.steps;
    Some(Order {
        halves,
        meeting,
        own_meeting,
        steps,
        base,
        base_is,
        rips,
        apart,
    })
}

/// A short text that stays the same as long as the numbers of a step do, to a tenth of
/// a millimeter, whatever unit is shown.
pub fn mark(plan: &StackPlan, step: &Step) -> String {
    let vessel = &plan.vessel;
    let mut sum = Sum(0x811c_9dc5);
    let rings = || vessel.rings.iter().zip(&plan.rings);
    match &step.work {
        Work::Stripes | Work::Cut | Work::Halves | Work::TrueEnds | Work::GlueUp => {
            for (ring, planned) in rings().skip(step.rings.start).take(1) {
                sum.blank(ring, planned);
                if let Some(own) = &planned.stripes {
                    sum.stripes(own, &vessel.woods);
                    continue;
                }
                for segment in 0..ring.segment_count {
                    if let Some(name) = vessel.woods.get(ring.wood_of(segment)) {
                        sum.text(name);
                    }
                }
            }
        }
        Work::Flatten => {
            for (ring, _) in rings().skip(step.rings.start).take(1) {
                sum.length(ring.height_mm);
            }
        }
        Work::Mount(_) | Work::Stack(_) | Work::Join(_) => {
            let below = match step.work {
                Work::Stack(below) | Work::Join(below) => below,
                _ => step.rings.start,
            };
            for place in [below, step.rings.start] {
                for (ring, planned) in rings().skip(place).take(1) {
                    sum.blank(ring, planned);
                    sum.number(u64::from(ring.turn_half_segments));
                    if ring.further_deg != 0.0 {
                        sum.number(ring.further_deg.to_bits());
                    }
                }
            }
            let set = rings().skip(step.rings.start).take(1);
            for (ring, _) in set.filter(|_| step.sets_singly()) {
                for segment in 0..ring.segment_count {
                    if let Some(name) = vessel.woods.get(ring.wood_of(segment)) {
                        sum.text(name);
                    }
                }
            }
        }
        Work::Inside(_) | Work::Outside => {
            let is_inside = matches!(step.work, Work::Inside(_));
            for (_, planned) in rings().skip(step.rings.start).take(step.rings.len()) {
                let Some(wall) = &plan.wall else { continue };
                for z in [planned.span.bottom_mm, planned.span.top_mm] {
                    sum.length(if is_inside {
                        wall.smallest_inside(z, z)
                    } else {
                        wall.outside.radius_at(z)
                    });
                }
            }
        }
        Work::Boards
        | Work::Rip(_)
        | Work::Edges(_)
        | Work::Base(_)
        | Work::Strips(_)
        | Work::Inlay(_)
        | Work::Block(_)
        | Work::True(_)
        | Work::TrueHalves
        | Work::Finish
        | Work::Finishing(_)
        | Work::Part(_) => {}
    }
    for length_mm in &step.lengths_mm {
        sum.length(*length_mm);
    }
    format!("{:x}", sum.0)
}

/// FNV-1a, 32 bits (offset basis and prime of Fowler, Noll and Vo).
struct Sum(u32);

impl Sum {
    fn byte(&mut self, byte: u8) {
        self.0 = (self.0 ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    }

    fn number(&mut self, number: u64) {
        for byte in number.to_le_bytes() {
            self.byte(byte);
        }
    }

    fn text(&mut self, text: &str) {
        for byte in text.bytes() {
            self.byte(byte);
        }
    }

    fn length(&mut self, length_mm: f64) {
        self.number((length_mm * 10.0).round() as u64);
    }

    /// What a striped board is glued of, and how it is sawn.
    fn stripes(&mut self, own: &StripePlan, names: &[String]) {
        for (wood, thickness_mm) in own.woods.iter().zip(&own.layers_mm) {
            self.text(names.get(*wood).map_or("", String::as_str));
            self.length(*thickness_mm);
        }
        self.number(own.laid as u64 + 2 * u64::from(own.is_mirrored));
        if let Some(board) = &own.board {
            self.length(board.across_mm);
            self.length(board.length_mm);
            self.length(board.pitch_mm);
            self.number(board.layers.len() as u64);
        }
    }

    /// What a ring is sawn to.
    fn blank(&mut self, ring: &StackRing, planned: &RingInStack) {
        self.number(u64::from(ring.segment_count));
        for share in &ring.shares {
            self.number(u64::from(*share));
        }
        self.length(ring.height_mm);
        self.length(planned.reach_mm);
        if let Some(segment) = &planned.segment {
            self.length(segment.outside.long_edge_mm);
            self.length(segment.strip_width_mm);
        }
    }
}

/// What becomes of a tick when the design has changed since.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ticked {
    /// Not ticked.
    No,
    /// Ticked, with the numbers that stand there now.
    Yes,
    /// Ticked with other numbers.
    Changed,
}

/// The ticks of the steps. A tick is a step's id with the mark of its numbers; `marks`
/// are the steps' ids and marks now. A tick whose numbers moved to another step of the
/// same work (a ring was put in below it) goes with them; one whose step is gone falls.
pub fn ticked(marks: &[(String, String)], ticks: &[(String, String)]) -> Vec<Ticked> {
    let owned = owned(marks, ticks);
    let state = |(step, own): (&(String, String), Option<usize>)| match own {
        Some(tick) if ticks[tick].1 == step.1 => Ticked::Yes,
        Some(_) => Ticked::Changed,
        None => Ticked::No,
    };
    marks.iter().zip(owned).map(state).collect()
}

/// Which of what was kept with a step's id and the mark of its numbers is each step's own
/// now, by its place: what stands at the step with its numbers; else what moved there with
/// them from a step of the same work; else what stands there with other numbers.
pub fn owned(marks: &[(String, String)], kept: &[(String, String)]) -> Vec<Option<usize>> {
    let mut owned = vec![None; marks.len()];
    let mut is_taken = vec![false; kept.len()];
    let is_its = |pass: u8, step: &(String, String), one: &(String, String)| match pass {
        0 => step == one,
        1 => step.1 == one.1 && step.0.split('-').next() == one.0.split('-').next(),
        _ => step.0 == one.0,
    };
    for pass in 0..3 {
        for (own, step) in owned.iter_mut().zip(marks) {
            // What was entered last counts.
            let mut free = (0..kept.len()).rev().filter(|at| !is_taken[*at]);
            if own.is_none()
                && let Some(at) = free.find(|at| is_its(pass, step, &kept[*at]))
            {
                (*own, is_taken[at]) = (Some(at), true);
            }
        }
    }
    owned
}
