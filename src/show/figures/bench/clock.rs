//! The glue's clocks as times of day: which joints set, what may be done with each from
//! when on, and which steps can be done now.

use super::calendar::Calendar;
use super::fold::is_alike;
use super::logbook::{self, LogShown};
use super::{Figure, Message, Shop, figure};
use crate::design::log::{Clock, Drying, Log, MOST_NOTE, MOST_PHOTOS};
use crate::edit::log::{self, Done};
use crate::plan::Plan;
use crate::plan::clock::{self, Joint, Moments, Stage};
use crate::plan::order::{self, Needs, Order, Ticked};
use crate::show::words::{self, Word};
use crate::units::length::Unit;
use crate::units::quantity::{self, in_words};
use serde::Serialize;

/// A joint that sets.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct ClockShown {
    /// Its place in the log.
    pub entry: usize,
    /// The id of its step; empty where that is gone from the order of work.
    pub step: String,
    /// What the step is called.
    pub title: String,
    /// `ahead`, `cold`, `open`, `clamped`, `resting`, `turned` or `full`.
    pub stage: &'static str,
    /// How it stands, in words.
    pub says: String,
    /// What is still to come, the next first.
    pub times: Vec<Figure>,
    /// How warm it is around it; of a coat, how long it takes to dry.
    pub air: String,
    /// Whether it is glue, which sets by the air around it.
    pub is_glue: bool,
}

/// A step that can be done now.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct StepNow {
    /// Its id.
    pub id: String,
    /// What is done.
    pub title: String,
}

/// What was noted of a step.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct StepNote {
    /// The step's id.
    pub id: String,
    /// What was noted; may be empty.
    pub text: String,
    /// The names of its photographs.
    pub photos: Vec<String>,
}

/// All that the Bench place says of the time.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct ClocksShown {
    /// The joints that set, what comes next first.
    pub clocks: Vec<ClockShown>,
    /// Whether there is one that is not set yet.
    pub is_waiting: bool,
    /// What can be done now; empty where nothing can be, or nothing sets.
    pub steps_now: Vec<StepNow>,
    /// Ids of the steps in which glue is spread.
    pub glue_ups: Vec<String>,
    /// What was noted of steps and photographed, each by its id.
    pub notes: Vec<StepNote>,
    /// What was done when.
    pub log: LogShown,
    /// The mark of degrees in which a temperature is typed.
    pub degrees: &'static str,
}

/// What a hand did at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    /// A step was ticked.
    Ticked,
    /// A tick was taken back.
    Unticked,
    /// Glue went on.
    Spread,
    /// A clock was taken away.
    Stopped,
    /// It is warmer or colder there.
    Air,
    /// Something was noted.
    Noted,
    /// A photograph was put there.
    Photographed,
    /// A photograph was taken away.
    Unphotographed,
}

impl Deed {
    /// It in a few words, for Undo; `what` is the step, or the temperature.
    pub fn said(self, what: &str) -> String {
        let word = match self {
            Deed::Ticked => words::CLOCK_DID_TICK,
            Deed::Unticked => words::CLOCK_DID_UNTICK,
            Deed::Spread => words::CLOCK_DID_SPREAD,
            Deed::Stopped => words::CLOCK_DID_STOP,
            Deed::Air => words::CLOCK_DID_AIR,
            Deed::Noted => words::CLOCK_DID_NOTE,
            Deed::Photographed => words::LOG_DID_PHOTO,
            Deed::Unphotographed => words::LOG_DID_UNPHOTO,
        };
        words::filled(word, &[what])
    }
}

/// What is said of a note that is too long.
pub fn note_too_long() -> Message {
    Message {
        field: String::new(),
        reason: words::filled(words::LOG_TOO_LONG, &[&MOST_NOTE.to_string()]),
        remedy: words::LOG_SHORTEN.text.to_owned(),
    }
}

/// What is said where a step has all the photographs that it takes.
pub fn too_many_photos() -> Message {
    Message {
        field: String::new(),
        reason: words::filled(words::LOG_PHOTOS_FULL, &[&MOST_PHOTOS.to_string()]),
        remedy: words::LOG_PHOTOS_REMOVE.text.to_owned(),
    }
}

/// So many steps that can be done now are told (our own choice, no published source).
const MOST_NOW: usize = 4;

/// So many clocks are told, those first on which something comes next (our own choice, no
/// published source): no bench has as many clamps, but a file may.
const MOST_CLOCKS: usize = 100;

/// Sets the clocks; nothing where there is no ring to make.
pub fn clocks(whole: &Plan, done: &Done, calendar: &Calendar) -> Option<ClocksShown> {
    whole.stack()?;
    let order = whole.order()?;
    let owned = log::entries(&log::marks(whole), &done.log);
    let notes = owned.iter().zip(&order.steps).filter_map(|(own, step)| {
        let entry = done.log.entries.get((*own)?)?;
        let [id, text] = [&step.id, &entry.note].map(Clone::clone);
        let photos = logbook::photos(entry);
        let is_any = !text.is_empty() || !photos.is_empty();
        is_any.then_some(StepNote { id, text, photos })
    });
    let glue_ups = order.steps.iter().filter(|step| step.is_glue_up());
    let mut shown = ClocksShown {
        is_waiting: false,
        clocks: Vec::new(),
        steps_now: Vec::new(),
        glue_ups: glue_ups.map(|step| step.id.clone()).collect(),
        notes: notes.collect(),
        log: logbook::log(whole, &done.log, calendar),
        degrees: whole.design.unit.degrees_mark(),
    };
    // What each step needs is asked only where something sets.
    if running(&done.log).next().is_some() || coats(&done.log).next().is_some() {
        set_clocks(whole, done, &owned, calendar, &mut shown);
    }
    Some(shown)
}

/// Sets the clocks that run, and what can be done meanwhile.
fn set_clocks(
    whole: &Plan,
    done: &Done,
    owned: &[Option<usize>],
    calendar: &Calendar,
    shown: &mut ClocksShown,
) {
    let Some((plan, order)) = whole.stack().zip(whole.order()) else {
        return;
    };
    let shop = Shop::of(whole, plan, order);
    let ticked = order::ticked(&log::marks(whole), &done.ticks);
    let is_ticked: Vec<bool> = ticked.iter().map(|it| *it == Ticked::Yes).collect();
    let needs = Needs::of(order);
    let joints = joints(owned, &done.log, calendar.now_ms);
    let mut clocks: Vec<(f64, ClockShown)> = Vec::new();
    for (entry, clock) in running(&done.log) {
        let place = owned.iter().position(|own| *own == Some(entry));
        let stage = clock::stage(clock, calendar.now_ms);
        // What has its full strength is told until something is done with it.
        let is_used = place.is_none_or(|place| {
            let mut by = (place + 1..is_ticked.len()).filter(|by| is_ticked[*by]);
            by.any(|by| needs.is_needed(place, by)) || is_last(order, &needs, place)
        });
        if stage == Stage::Full && is_used {
            continue;
        }
        let step = place.and_then(|place| order.steps.get(place));
        let is_closed = place.is_some_and(|place| is_ticked[place]);
        let (next_ms, told) = told(clock, stage, is_closed, shop.unit, calendar);
        let told = ClockShown {
            entry,
            step: step.map_or_else(String::new, |step| step.id.clone()),
            title: step.map_or_else(
                || done.log.entries[entry].title.clone(),
                |step| title_of(&shop, step, order),
            ),
            ..told
        };
        clocks.push((next_ms, told));
    }
    for (entry, drying) in coats(&done.log) {
        let place = owned.iter().position(|own| *own == Some(entry));
        let stage = clock::dry_stage(drying, calendar.now_ms);
        let is_used = place.is_none_or(|place| {
            let mut by = (place + 1..is_ticked.len()).filter(|by| is_ticked[*by]);
            by.any(|by| needs.is_needed(place, by)) || is_last(order, &needs, place)
        });
        if stage == Stage::Full && is_used {
            continue;
        }
        let step = place.and_then(|place| order.steps.get(place));
        let told = ClockShown {
            entry,
            step: step.map_or_else(String::new, |step| step.id.clone()),
            title: step.map_or_else(
                || done.log.entries[entry].title.clone(),
                |step| title_of(&shop, step, order),
            ),
            ..told_coat(drying, stage, calendar)
        };
        clocks.push((clock::dry_ms(drying), told));
    }
    clocks.sort_by(|one, other| one.0.total_cmp(&other.0));
    clocks.truncate(MOST_CLOCKS);
    shown.clocks = clocks.into_iter().map(|it| it.1).collect();
    shown.is_waiting = joints.iter().any(|joint| joint.stage < Stage::Turned);
    if !shown.clocks.is_empty() {
        let places = clock::can_be_done(order, &needs, &is_ticked, &joints);
        shown.steps_now = steps_now(&shop, order, &places);
    }
}

/// The clocks of a log, by the places of their entries.
fn running(log: &Log) -> impl Iterator<Item = (usize, &Clock)> {
    let entries = log.entries.iter().enumerate();
    entries.filter_map(|(at, entry)| Some((at, entry.clock.as_ref()?)))
}

/// The coats of a log, by the places of their entries.
fn coats(log: &Log) -> impl Iterator<Item = (usize, &Drying)> {
    let entries = log.entries.iter().enumerate();
    entries.filter_map(|(at, entry)| Some((at, entry.drying.as_ref()?)))
}

fn joints(owned: &[Option<usize>], log: &Log, now_ms: f64) -> Vec<Joint> {
    let places = owned.iter().enumerate();
    let joint = |(step, own): (usize, &Option<usize>)| {
        let entry = log.entries.get((*own)?)?;
        let glue = entry.clock.as_ref();
        let glue = glue.map(|clock| clock::stage(clock, now_ms));
        let coat = entry.drying.as_ref();
        let coat = coat.map(|drying| clock::dry_stage(drying, now_ms));
        Some(Joint {
            step,
            stage: glue.or(coat)?,
        })
    };
    places.filter_map(joint).collect()
}

/// Whether nothing is done with a joint.
fn is_last(order: &Order, needs: &Needs, place: usize) -> bool {
    !(place + 1..order.steps.len()).any(|by| needs.is_needed(place, by))
}

/// One of each kind of step alike.
fn steps_now(shop: &Shop, order: &Order, places: &[usize]) -> Vec<StepNow> {
    let mut told: Vec<usize> = Vec::new();
    for &place in places {
        let like = |it: &&usize| is_alike(shop.vessel, &order.steps[**it], &order.steps[place]);
        if told.iter().find(like).is_none() {
            told.push(place);
        }
    }
    told.truncate(MOST_NOW);
    let step = |place: usize| StepNow {
        id: order.steps[place].id.clone(),
        title: title_of(shop, &order.steps[place], order),
    };
    told.into_iter().map(step).collect()
}

/// How a clock stands, and when something comes next.
fn told(
    clock: &Clock,
    stage: Stage,
    is_closed: bool,
    unit: Unit,
    calendar: &Calendar,
) -> (f64, ClockShown) {
    let Moments {
        close_ms,
        clamps_off_ms,
        turn_ms,
        full_ms,
    } = clock::moments(clock);
    let least = quantity::temperature(clock.glue.habits().least_c, unit);
    let air = quantity::temperature(clock::air_c(clock), unit);
    let word = |word: Word| word.text.to_owned();
    let (name, says) = match stage {
        Stage::Ahead => (
            "ahead",
            words::filled(words::CLOCK_AHEAD, &[&calendar.said(clock.on_ms)]),
        ),
        Stage::Cold => ("cold", words::filled(words::CLOCK_COLD, &[&air, &least])),
        Stage::Open if is_closed => ("clamped", word(words::CLOCK_CLAMPED)),
        Stage::Open => ("open", word(words::CLOCK_OPEN)),
        Stage::Clamped => ("clamped", word(words::CLOCK_CLAMPED)),
        Stage::Resting => ("resting", word(words::CLOCK_RESTING)),
        Stage::Turned => ("turned", word(words::CLOCK_TURNED)),
        Stage::Full => ("full", word(words::CLOCK_FULL)),
    };
    let close_ms = Some(close_ms).filter(|_| !is_closed);
    let all = [
        (words::CLOCK_CLOSE_BY, close_ms),
        (words::CLOCK_CLAMPS_OFF, clamps_off_ms),
        (words::CLOCK_TURN, turn_ms),
        (words::CLOCK_STRESS, full_ms),
    ];
    let still = all
        .iter()
        .filter_map(|(word, end_ms)| Some((*word, (*end_ms)?)));
    let still = still.filter(|it| it.1 > calendar.now_ms && stage != Stage::Ahead);
    let still: Vec<(Word, f64)> = still.collect();
    let next_ms = still.first().map_or(f64::MAX, |it| it.1);
    let time = |(word, end_ms): &(Word, f64)| figure(*word, in_words(calendar.said(*end_ms)));
    let shown = ClockShown {
        entry: 0,
        step: String::new(),
        title: String::new(),
        stage: name,
        says,
        times: still.iter().map(time).collect(),
        air: words::filled(words::CLOCK_AIR, &[&air]),
        is_glue: true,
    };
    (next_ms, shown)
}

/// How a coat stands.
fn told_coat(drying: &Drying, stage: Stage, calendar: &Calendar) -> ClockShown {
    let dry_ms = clock::dry_ms(drying);
    let (name, says) = match stage {
        Stage::Ahead => (
            "ahead",
            words::filled(words::CLOCK_COAT_AHEAD, &[&calendar.said(drying.on_ms)]),
        ),
        Stage::Full => ("full", words::CLOCK_DRY.text.to_owned()),
        _ => ("resting", words::CLOCK_DRYING.text.to_owned()),
    };
    let is_waiting = stage != Stage::Ahead && stage != Stage::Full;
    let time = || figure(words::CLOCK_GO_ON, in_words(calendar.said(dry_ms)));
    let takes = quantity::duration(drying.wait_min).line();
    ClockShown {
        entry: 0,
        step: String::new(),
        title: String::new(),
        stage: name,
        says,
        times: is_waiting.then(time).into_iter().collect(),
        air: words::filled(words::CLOCK_TAKES, &[&takes]),
        is_glue: false,
    }
}

/// What a step is called, with its wood.
pub(super) fn title_of(shop: &Shop, step: &order::Step, order: &Order) -> String {
    let shown = shop.step(step, order);
    format!("{} {}", shown.title, shown.of_wood)
        .trim()
        .to_owned()
}
