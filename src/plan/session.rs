//! What is next at the bench, given the time: the steps that fit into an evening, in the
//! order that leaves the least waiting, and the evenings that the whole piece takes.
//!
//! How long the hands are at each step is reckoned in [`crate::trade::pace`], how long glue
//! keeps what comes next waiting in [`crate::trade::glue`] or told by the clocks that run, and
//! [`crate::solve::session`] puts them in order. The first evening begins now, the next ones a
//! day later each.

use super::clock::{Stage, dry_ms, dry_stage, least_stage, moments, stage};
use crate::design::log::{Clock, Drying};
use crate::design::{Bench, MadeOf};
use crate::plan::finish;
use crate::plan::need::Edges;
use crate::plan::order::{BaseWork, FinishWork, Needs, Order, Step, Work};
use crate::plan::stack::StackPlan;
use crate::solve::session::{Need, Placed, Sessions, Task, planned};
use crate::trade::glue::{self, Times};
use crate::trade::pace::Task as Kind;

const MINUTE_MS: f64 = 60_000.0;

/// From the beginning of an evening to that of the next.
const DAY_MIN: u32 = 24 * 60;

/// A step in its evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AtBench {
    /// The step's place in the order of work.
    pub step: usize,
    /// When it begins, from the evening's beginning.
    pub start_min: u32,
    /// How long the hands are at it.
    pub hands_min: u32,
    /// How long there is nothing to do before it.
    pub idle_min: u32,
}

/// An evening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Evening {
    /// How many days from today.
    pub days_on: u32,
    /// Its steps, in the order in which they are done.
    pub steps: Vec<AtBench>,
    /// The steps of the evening whose joints still set when it is over.
    pub sets_overnight: Vec<usize>,
    /// Whether its one step is longer than an evening.
    pub is_too_long: bool,
}

/// How far the work is.
#[derive(Clone, Copy, Debug)]
pub struct SoFar<'a> {
    /// Whether each step is ticked.
    pub ticked: &'a [bool],
    /// The clocks of joints, by the steps that they were glued in.
    pub clocks: &'a [(usize, &'a Clock)],
    /// The coats that were put on, by their steps.
    pub coats: &'a [(usize, &'a Drying)],
    /// Now; milliseconds since 1970, UTC.
    pub now_ms: f64,
}

/// All that is still to be done, by evenings; those on which there is nothing to do are left
/// out. Nothing where all is done.
pub fn evenings(plan: &StackPlan, order: &Order, so_far: &SoFar) -> Vec<Evening> {
    let bench = plan.design.bench_or_usual();
    let work = Left::of(plan, order, so_far);
    let sessions = Sessions {
        length_min: session_min(&bench),
        every_min: DAY_MIN,
        kept_min: work.kept_min,
    };
    let placed = planned(&work.tasks, &sessions);
    let by_evening = placed.chunk_by(|one, other| one.session == other.session);
    by_evening
        .map(|evening| work.evening(evening, &sessions, order))
        .collect()
}

/// How long an evening is, minutes.
pub fn session_min(bench: &Bench) -> u32 {
    (bench.evening_h * 60.0).round().max(1.0) as u32
}

/// What is left to do.
struct Left {
    /// The steps that are not done, by their places in the order of work.
    steps: Vec<usize>,
    tasks: Vec<Task>,
    /// How long what was glued on the lathe before keeps it.
    kept_min: u32,
    times: Times,
    /// How long a coat dries.
    coat_min: u32,
}

impl Left {
    fn of(plan: &StackPlan, order: &Order, so_far: &SoFar) -> Left {
        let &SoFar {
            ticked,
            clocks,
            coats,
            now_ms,
        } = so_far;
        let design = &plan.design;
        let bench = design.bench_or_usual();
        let climate = design.climate.as_ref();
        let shop_c = climate.map_or(glue::ROOM_C, |it| it.shop_temperature_c);
        let times = glue::times(bench.glue, shop_c);
        let coat_min = whole(finish::finish(design).wait_min);
        let needs = Needs::of(order);
        // Where glue is on, the joint is made, ticked or not.
        let mut begun = ticked.to_vec();
        begun.resize(order.steps.len(), false);
        for (step, _) in clocks {
            if let Some(is_begun) = begun.get_mut(*step) {
                *is_begun = true;
            }
        }
        let done = needs.done(&begun);
        let left: Vec<usize> = (0..done.len()).filter(|place| !done[*place]).collect();
        let mut new = vec![None; done.len()];
        for (at, place) in left.iter().enumerate() {
            new[*place] = Some(at);
        }
        // How long the coat of a step still dries.
        let dries_min = |place: usize| {
            let coat = coats.iter().find(|it| it.0 == place);
            coat.map_or(0, |(_, coat)| match dry_stage(coat, now_ms) {
                Stage::Ahead => coat_min,
                _ => whole((dry_ms(coat) - now_ms) / MINUTE_MS),
            })
        };
        let clock_of = |place: usize| clocks.iter().find(|it| it.0 == place).map(|it| it.1);
        let task = |place: &usize| {
            let step = &order.steps[*place];
            // Finish waits for every joint's full strength, all else for what it handles.
            let wait = match least_stage(step) {
                Stage::Full => Wait::Full,
                _ => Wait::Turn,
            };
            let (mut own, mut ready_min) = (Vec::new(), 0);
            for (before, task) in new.iter().enumerate().take(*place) {
                let clock = clock_of(before);
                let is_far = wait == Wait::Full || clock.is_some();
                let is_direct = needs.direct[*place].contains(&before);
                if !(is_direct || is_far && needs.is_needed(before, *place)) {
                    continue;
                }
                match (task, clock) {
                    (Some(task), _) => own.push(Need {
                        task: *task,
                        wait_min: wait_min(&order.steps[before], wait, &times, coat_min),
                    }),
                    (None, Some(it)) => {
                        ready_min = ready_min.max(left_min(it, wait, now_ms, &times));
                    }
                    (None, None) => ready_min = ready_min.max(dries_min(before)),
                }
            }
            Task {
                hands_min: hands_min(plan, order, step, &bench),
                needs: own,
                ready_min,
                on_machine: step.swings_mm().is_some(),
                keeps_min: if step.stays_on_lathe() {
                    whole(times.clamp_min)
                } else {
                    0
                },
            }
        };
        let tasks = left.iter().map(task).collect();
        let on_lathe = clocks.iter().filter(|(step, _)| {
            let step = order.steps.get(*step);
            step.is_some_and(Step::stays_on_lathe)
        });
        Left {
            tasks,
            kept_min: on_lathe
                .map(|it| left_min(it.1, Wait::Clamps, now_ms, &times))
                .max()
                .unwrap_or(0),
            steps: left,
            times,
            coat_min,
        }
    }

    fn evening(&self, placed: &[Placed], sessions: &Sessions, order: &Order) -> Evening {
        let days_on = placed.first().map_or(0, |it| it.session);
        let start_min = days_on * sessions.every_min;
        let mut free_min = start_min;
        let step = |it: &Placed| {
            let idle_min = it.start_min - free_min;
            free_min = it.end_min;
            AtBench {
                step: self.steps[it.task],
                start_min: it.start_min - start_min,
                hands_min: it.end_min - it.start_min,
                idle_min,
            }
        };
        let steps = placed.iter().map(step).collect();
        let over_min = placed.last().map_or(0, |it| it.end_min);
        let is_soft = |it: &&Placed| {
            let step = &order.steps[self.steps[it.task]];
            it.end_min + wait_min(step, Wait::Turn, &self.times, self.coat_min) > over_min
        };
        let soft = placed.iter().filter(is_soft);
        Evening {
            days_on,
            steps,
            sets_overnight: soft.map(|it| self.steps[it.task]).collect(),
            is_too_long: placed
                .iter()
                .any(|it| it.end_min - it.start_min > sessions.length_min),
        }
    }
}

/// What is waited for after glue went on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wait {
    Clamps,
    Turn,
    Full,
}

impl Wait {
    fn all_min(self, times: &Times) -> u32 {
        whole(match self {
            Wait::Clamps => times.clamp_min,
            Wait::Turn => times.turn_min,
            Wait::Full => times.stress_min,
        })
    }
}

/// How long a clock still keeps others waiting, minutes from now. What stands still in the
/// cold is reckoned as carried into the warm now.
fn left_min(clock: &Clock, wait: Wait, now_ms: f64, times: &Times) -> u32 {
    let moments = moments(clock);
    let end_ms = match wait {
        Wait::Clamps => moments.clamps_off_ms,
        Wait::Turn => moments.turn_ms,
        Wait::Full => moments.full_ms,
    };
    let end_ms = end_ms.filter(|_| stage(clock, now_ms) != Stage::Ahead);
    end_ms.map_or(wait.all_min(times), |end_ms| {
        whole((end_ms - now_ms) / MINUTE_MS)
    })
}

/// Whole minutes, rather too many.
fn whole(min: f64) -> u32 {
    (min - 1e-6).ceil().clamp(0.0, 1e6) as u32
}

/// How long what comes after a step waits for it.
fn wait_min(step: &Step, wait: Wait, times: &Times, coat_min: u32) -> u32 {
    match step.work {
        Work::Finishing(FinishWork::Coat(_)) => coat_min,
        _ if step.is_glue_up() => wait.all_min(times),
        _ => 0,
    }
}

/// How long the hands are at a step, at the turner's own pace.
pub fn hands_min(plan: &StackPlan, order: &Order, step: &Step, bench: &Bench) -> u32 {
    let (kind, pieces) = work_of(plan, order, step);
    whole(kind.hands_min(pieces, bench.pace)).max(1)
}

/// What kind of work a step is, and of how many pieces.
fn work_of(plan: &StackPlan, order: &Order, step: &Step) -> (Kind, u32) {
    let place = step.rings.start;
    let ring = plan.vessel.rings.get(place);
    let segments = ring.map_or(1, |ring| ring.segment_count);
    let rings = step.rings.len() as u32;
    let base = order.base.as_ref();
    let wedges = base.map_or(1, |base| base.choice.wedge_count);
    let plies = base.map_or(1, |base| base.blanks.len().max(1) as u32);
    let is_wedges = base.is_some_and(|base| base.choice.kind == crate::design::BaseKind::Wedges);
    let set = |set: usize| plan.slot_sets.get(set).and_then(Option::as_ref);
    match &step.work {
        Work::Boards => (
            Kind::Boards,
            order.rips.iter().map(Vec::len).sum::<usize>() as u32,
        ),
        Work::Rip(group) => (
            Kind::Rip,
            order.rips.get(*group).map_or(1, |it| it.len() as u32),
        ),
        Work::Edges(group) => {
            let group = order.rips.get(*group).into_iter().flatten();
            let edges =
                group.filter_map(|cut| Some(cut.count * Edges::of(cut, &plan.design)?.count));
            (Kind::Layers, edges.sum())
        }
        Work::Stripes => {
            let own = plan.rings.get(place).and_then(|it| it.stripes.as_ref());
            (Kind::Layers, own.map_or(1, |it| it.layers_mm.len() as u32))
        }
        Work::Strips(at) => (
            Kind::Layers,
            set(*at).map_or(1, |it| it.layers.len() as u32),
        ),
        Work::Cut if ring.is_some_and(|it| it.made_of == MadeOf::Disc) => (Kind::Rounds, 1),
        Work::Cut => (Kind::Segments, segments),
        // Two halves are closed by two joints.
        Work::GlueUp if order.is_of_halves(step) => (Kind::RingUp, 2),
        Work::GlueUp | Work::Halves => (Kind::RingUp, segments),
        Work::TrueEnds => (Kind::Flatten, 2),
        Work::Flatten => (Kind::Flatten, 1),
        Work::Block(_) => (Kind::Block, 1),
        Work::Mount(_) | Work::Stack(_) if step.sets_singly() => (Kind::SetSingly, segments),
        Work::Mount(_) | Work::Base(BaseWork::Set) => (Kind::Mount, 1),
        Work::Stack(_) | Work::Join(_) => (Kind::GlueOn, 1),
        Work::TrueHalves => (Kind::GlueOn, 2),
        Work::True(at) => (
            Kind::TrueUp,
            order.apart.get(*at).map_or(1, |it| it.len() as u32),
        ),
        Work::Inlay(at) => (Kind::Slots, set(*at).map_or(1, |it| it.slots.count)),
        Work::Inside(_) => (Kind::Inside, rings),
        Work::Outside => (Kind::Outside, rings),
        Work::Base(BaseWork::Saw) if is_wedges => (Kind::Segments, wedges),
        Work::Base(BaseWork::Saw) => (Kind::Rounds, plies),
        Work::Base(BaseWork::GlueUp) if is_wedges => (Kind::RingUp, wedges),
        Work::Base(BaseWork::GlueUp) => (Kind::Layers, plies),
        Work::Base(BaseWork::Round | BaseWork::Mortise) => (Kind::BaseTurned, 1),
        Work::Finish | Work::Finishing(FinishWork::Sand) => (Kind::Finish, rings),
        Work::Finishing(_) => (Kind::Coat, rings),
        Work::Part(_) => (Kind::PartOff, 1),
    }
}
