//! The log of the bench: what was done when, in the order of time, to be read and copied.

use super::account;
use super::calendar::Calendar;
use crate::design::Design;
use crate::design::log::{Clock, Entry, Log};
use crate::plan::Plan;
use crate::show::words;
use crate::units::quantity;
use serde::Serialize;

/// A line of the log.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct LogLine {
    /// When: `Thu, Nov 26, 4:10 PM`.
    pub when: String,
    /// What was done.
    pub what: String,
    /// What was noted of it; may be empty.
    pub note: String,
}

impl LogLine {
    /// It as plain text.
    pub fn written(&self) -> String {
        let text = format!("{}: {}. {}", self.when, self.what, self.note);
        text.trim_end().to_owned()
    }
}

/// The log.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct LogShown {
    /// How many lines it has, in words; empty where it has none.
    pub says: String,
    /// Its lines, what was first at the top.
    pub lines: Vec<LogLine>,
    /// What the piece came to, a sentence each.
    pub came_to: Vec<String>,
    /// Both as plain text.
    pub text: String,
}

/// Told apart from its tick is glue that went on a minute earlier, or more (our own choice, no
/// published source).
const APART_MS: f64 = 60_000.0;

/// Sets the log.
pub fn log(whole: &Plan, log: &Log, calendar: &Calendar) -> LogShown {
    let design = &*whole.design;
    let mut told: Vec<(f64, String, &str)> = Vec::new();
    for entry in &log.entries {
        told.extend(of_entry(design, entry));
    }
    told.sort_by(|one, other| one.0.total_cmp(&other.0));
    let line = |(ms, what, note): (f64, String, &str)| LogLine {
        when: calendar.dated(ms),
        what,
        note: note.to_owned(),
    };
    let lines: Vec<LogLine> = told.into_iter().map(line).collect();
    let came_to = account::told(whole, log, calendar);
    let texts = lines.iter().map(LogLine::written);
    let texts: Vec<String> = texts.chain(came_to.iter().cloned()).collect();
    LogShown {
        says: match lines.len() {
            0 => String::new(),
            count => quantity::counted(count, "line", "lines"),
        },
        text: texts.join("\n"),
        came_to,
        lines,
    }
}

/// Glue, how warm it was afterwards, and the tick; a note stands at the last of them.
fn of_entry<'e>(design: &Design, entry: &'e Entry) -> Vec<(f64, String, &'e str)> {
    let title = &entry.title;
    let filled = |word, values: &[&str]| words::filled(word, values);
    let mut told = Vec::new();
    if let Some(Clock { on_ms, airs, .. }) = &entry.clock {
        let is_apart = entry
            .done_ms
            .is_none_or(|done_ms| on_ms + APART_MS <= done_ms);
        if is_apart {
            told.push((*on_ms, filled(words::CLOCK_DID_SPREAD, &[title]), ""));
        }
        for air in airs.iter().skip(1) {
            let warmth = quantity::temperature(air.air_c, design.unit);
            told.push((air.from_ms, filled(words::LOG_AIR, &[&warmth, title]), ""));
        }
    }
    match (entry.done_ms, entry.noted_ms) {
        (Some(done_ms), _) => told.push((done_ms, title.clone(), &entry.note)),
        (None, Some(noted_ms)) => {
            told.push((noted_ms, filled(words::LOG_NOTE, &[title]), &entry.note));
        }
        (None, None) => {}
    }
    told
}
