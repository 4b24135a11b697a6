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
    /// The names of its photographs.
    pub photos: Vec<String>,
}

impl LogLine {
    /// It as plain text.
    pub fn written(&self) -> String {
        let text = format!("{}: {}. {}", self.when, self.what, self.note);
        let photos = match self.photos.len() {
            0 => String::new(),
            count => format!(
                " ({})",
                quantity::counted(count, "photograph", "photographs")
            ),
        };
        format!("{}{photos}", text.trim_end())
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
    let mut told: Vec<Told> = Vec::new();
    for entry in &log.entries {
        told.extend(of_entry(design, entry));
    }
    told.sort_by(|one, other| one.at_ms.total_cmp(&other.at_ms));
    let line = |told: Told| LogLine {
        when: calendar.dated(told.at_ms),
        what: told.what,
        note: told.of.map_or_else(String::new, |entry| entry.note.clone()),
        photos: told.of.map_or_else(Vec::new, photos),
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

/// The names of an entry's photographs.
pub(super) fn photos(entry: &Entry) -> Vec<String> {
    entry.photos.iter().map(|it| it.name.clone()).collect()
}

/// What a line tells: when, what, and where note and photographs stand with it, whose.
struct Told<'e> {
    at_ms: f64,
    what: String,
    of: Option<&'e Entry>,
}

/// Glue, how warm it was afterwards, and the tick; note and photographs stand at the last of
/// them.
fn of_entry<'e>(design: &Design, entry: &'e Entry) -> Vec<Told<'e>> {
    let title = &entry.title;
    let filled = |word, values: &[&str]| words::filled(word, values);
    let mut told = Vec::new();
    if let Some(Clock { on_ms, airs, .. }) = &entry.clock {
        let is_apart = entry
            .done_ms
            .is_none_or(|done_ms| on_ms + APART_MS <= done_ms);
        if is_apart {
            told.push((*on_ms, filled(words::CLOCK_DID_SPREAD, &[title]), None));
        }
        for air in airs.iter().skip(1) {
            let warmth = quantity::temperature(air.air_c, design.unit);
            let what = filled(words::LOG_AIR, &[&warmth, title]);
            told.push((air.from_ms, what, None));
        }
    }
    let photo_ms = entry.photos.first().map(|photo| photo.on_ms);
    let last = match (entry.done_ms, entry.noted_ms, photo_ms) {
        (Some(done_ms), _, _) => Some((done_ms, title.clone())),
        (None, Some(noted_ms), _) => Some((noted_ms, filled(words::LOG_NOTE, &[title]))),
        (None, None, Some(photo_ms)) => Some((photo_ms, filled(words::LOG_PHOTO_OF, &[title]))),
        (None, None, None) => None,
    };
    told.extend(last.map(|(at_ms, what)| (at_ms, what, Some(entry))));
    let told = told.into_iter();
    told.map(|(at_ms, what, of)| Told { at_ms, what, of })
        .collect()
}
