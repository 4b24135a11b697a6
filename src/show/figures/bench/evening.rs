//! What is next this evening, and the evenings that the whole piece takes.

use super::calendar::Calendar;
use super::clock::title_of;
use super::fold::{LEAST_ALIKE, is_alike, title};
use super::{Entry, Shop, entries};
use crate::design::log::{Clock, Drying};
use crate::edit::log::{self, Done};
use crate::plan::Plan;
use crate::plan::order::{self, Order, Step, Ticked};
use crate::plan::session::{AtBench, Evening, SoFar, evenings, session_min};
use crate::show::words;
use crate::units::length::decimal;
use crate::units::quantity::{counted, hours_and_minutes};
use serde::Serialize;

/// A step of an evening, or several alike.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct EveningStep {
    /// The id of the first of them.
    pub id: String,
    /// What is done.
    pub title: String,
    /// How long that takes, and what is waited for before.
    pub says: String,
}

/// An evening.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct EveningShown {
    /// Which it is, and its day.
    pub title: String,
    /// How long it is.
    pub says: String,
    /// Its steps, in the order in which they are done.
    pub steps: Vec<EveningStep>,
    /// What sets overnight; empty where nothing does.
    pub sets: String,
    /// Where its one step is longer than an evening: that; else empty.
    pub too_long: String,
}

/// The evenings.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct EveningsShown {
    /// How many there are, in words.
    pub says: String,
    /// The same in a line: what this one comes to.
    pub tonight: String,
    /// The evenings, this one first; the first may be a later one, where nothing can be done
    /// now.
    pub evenings: Vec<EveningShown>,
    /// How it is reckoned.
    pub reckoned: String,
    /// The fields.
    pub entries: Vec<Entry>,
}

/// Sets the evenings; nothing where there is no ring to make.
pub fn shown(whole: &Plan, done: &Done, calendar: &Calendar) -> Option<EveningsShown> {
    let (plan, order) = whole.stack().zip(whole.order())?;
    let shop = Shop::of(whole, plan, order);
    let marks = log::marks(whole);
    let ticked = order::ticked(&marks, &done.ticks);
    let is_ticked: Vec<bool> = ticked.iter().map(|it| *it == Ticked::Yes).collect();
    let owned = log::entries(&marks, &done.log);
    let clock = |(step, own): (usize, &Option<usize>)| {
        let clock = done.log.entries.get((*own)?)?.clock.as_ref()?;
        Some((step, clock))
    };
    let clocks: Vec<(usize, &Clock)> = owned.iter().enumerate().filter_map(clock).collect();
    let coat = |(step, own): (usize, &Option<usize>)| {
        let coat = done.log.entries.get((*own)?)?.drying.as_ref()?;
        Some((step, coat))
    };
    let coats: Vec<(usize, &Drying)> = owned.iter().enumerate().filter_map(coat).collect();
    let so_far = SoFar {
        ticked: &is_ticked,
        clocks: &clocks,
        coats: &coats,
        now_ms: calendar.now_ms,
    };
    let found = evenings(plan, order, &so_far);
    let length = hours_and_minutes(session_min(&shop.bench));
    let nights = counted(found.len(), "evening", "evenings");
    let is_tonight = found.first().is_some_and(|it| it.days_on == 0);
    Some(EveningsShown {
        says: match (found.first(), is_tonight) {
            (None, _) => words::EVENING_ALL_DONE.text.to_owned(),
            (Some(_), true) => words::filled(words::EVENING_COUNT, &[&nights, &length]),
            (Some(_), false) => words::filled(words::EVENING_NOT_NOW, &[&nights, &length]),
        },
        tonight: nights_in_a_word(&found),
        evenings: found
            .iter()
            .enumerate()
            .map(|(at, evening)| shop.evening(at, evening, order, calendar))
            .collect(),
        reckoned: words::filled(words::EVENING_RECKONED, &[&decimal(shop.bench.pace, 2)]),
        entries: entries(&shop.design.clone())
            .into_iter()
            .filter(|entry| KEYS.contains(&entry.key.as_str()))
            .collect(),
    })
}

/// The fields that tell how the evenings are.
pub const KEYS: [&str; 2] = ["bench.evening_h", "bench.pace"];

fn nights_in_a_word(found: &[Evening]) -> String {
    match found.len() {
        0 => String::new(),
        count => counted(count, "evening", "evenings"),
    }
}

impl Shop<'_> {
    fn evening(
        &self,
        at: usize,
        evening: &Evening,
        order: &Order,
        calendar: &Calendar,
    ) -> EveningShown {
        const DAY_MS: f64 = 24.0 * 3_600_000.0;
        let number = (at + 1).to_string();
        let day = (calendar.day)(calendar.now_ms + f64::from(evening.days_on) * DAY_MS);
        let over_min = evening.steps.last();
        let over_min = over_min.map_or(0, |it| it.start_min + it.hands_min);
        let alike = |one: &AtBench, other: &AtBench| {
            // What is waited for stands between two lines.
            let is_at_once = other.idle_min == 0;
            let [one, other] = [one, other].map(|it| &order.steps[it.step]);
            is_at_once && is_alike(self.vessel, one, other)
        };
        let steps = evening.steps.chunk_by(alike).flat_map(|chunk| {
            let size = if chunk.len() < LEAST_ALIKE {
                1
            } else {
                chunk.len()
            };
            chunk.chunks(size)
        });
        EveningShown {
            title: if evening.days_on == 0 {
                words::EVENING_THIS.text.to_owned()
            } else {
                words::filled(words::EVENING_ON, &[&number, &day])
            },
            says: hours_and_minutes(over_min),
            steps: steps.map(|alike| self.of_evening(alike, order)).collect(),
            sets: self.sets(&evening.sets_overnight, order),
            too_long: if evening.is_too_long {
                words::EVENING_TOO_LONG.text.to_owned()
            } else {
                String::new()
            },
        }
    }

    fn of_evening(&self, alike: &[AtBench], order: &Order) -> EveningStep {
        let first = &order.steps[alike[0].step];
        let hands = hours_and_minutes(alike.iter().map(|it| it.hands_min).sum());
        EveningStep {
            id: first.id.clone(),
            title: self.together(alike.iter().map(|it| it.step), order),
            says: match alike[0].idle_min {
                0 => hands,
                idle => words::filled(words::EVENING_WAITS, &[&hours_and_minutes(idle), &hands]),
            },
        }
    }

    /// What steps alike are called together.
    fn together(&self, steps: impl Iterator<Item = usize>, order: &Order) -> String {
        let steps: Vec<(&Step, bool)> = steps.map(|at| (&order.steps[at], false)).collect();
        match steps[..] {
            [(only, _)] => title_of(self, only, order),
            _ => title(&steps, order),
        }
    }

    fn sets(&self, soft: &[usize], order: &Order) -> String {
        if soft.is_empty() {
            return String::new();
        }
        let mut soft = soft.to_vec();
        soft.sort_unstable();
        let alike = |one: &usize, other: &usize| {
            is_alike(self.vessel, &order.steps[*one], &order.steps[*other])
        };
        let told = soft.chunk_by(alike);
        let told: Vec<String> = told
            .map(|alike| self.together(alike.iter().copied(), order))
            .collect();
        words::filled(words::EVENING_SETS, &[&told.join("; ")])
    }
}
