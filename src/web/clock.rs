//! The door to the bench's clocks and ticks. What stands at the bench is an object that the
//! page keeps and hands back, as it does with a design.

use super::memory::from_js;
use super::values::to_js;
use crate::design::log::photo_size_px;
use crate::edit::log::{self, Done};
use crate::show::figures::bench::calendar::Calendar;
use crate::show::figures::bench::clock::{self, Deed};
use crate::show::figures::bench::evening;
use crate::show::figures::bench::out_of_true::logged;
use crate::show::words::{self, Message};
use js_sys::Date;
use serde::Serialize;
use serde_json::{Map, Value};
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// What stands at the bench beside the design, as the page keeps it.
#[wasm_bindgen(typescript_custom_section)]
const DONE_TYPE: &str = "
export interface Done { readonly ticks: Record<string, string>; readonly log: object }
";

/// What stands at the bench after a hand did something.
#[derive(Serialize, Tsify)]
pub struct DoneNow {
    /// The same, changed; missing where it could not be.
    #[tsify(type = "Done | null")]
    pub done: Option<Value>,
    /// What was done, for Undo.
    pub said: String,
    /// What was in the way.
    pub messages: Vec<Message>,
}

/// All that the Bench place says of the time; nothing while there is no ring to make.
/// `now` is in milliseconds, as JavaScript counts; times are told as `language` tells them,
/// in the browser's own time zone.
#[wasm_bindgen(unchecked_return_type = "ClocksShown | null")]
pub fn show_clocks(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    now: f64,
    language: &str,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let done = done_in(done);
    let screen = at(now, language, |calendar| {
        clock::clocks(&design.plan, &done, calendar)
    })?;
    match screen {
        Some(screen) => to_js(&screen),
        None => Ok(JsValue::NULL),
    }
}

/// What is next this evening, and the evenings that the piece takes; nothing while there is
/// no ring to make. `now` and `language` as for the clocks.
#[wasm_bindgen(unchecked_return_type = "EveningsShown | null")]
pub fn show_evenings(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    now: f64,
    language: &str,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let done = done_in(done);
    let screen = at(now, language, |calendar| {
        evening::shown(&design.plan, &done, calendar)
    })?;
    match screen {
        Some(screen) => to_js(&screen),
        None => Ok(JsValue::NULL),
    }
}

/// What is told by the browser's own calendar, clock and time zone.
pub(super) fn at<T>(
    now: f64,
    language: &str,
    tell: impl FnOnce(&Calendar) -> T,
) -> Result<T, JsError> {
    let time = told(&[("hour", "numeric"), ("minute", "2-digit")])?;
    let day = told(&[("weekday", "short"), ("month", "short"), ("day", "numeric")])?;
    let date = |ms: f64| Date::new(&JsValue::from_f64(ms));
    Ok(tell(&Calendar {
        now_ms: now,
        behind_min: &|ms| date(ms).get_timezone_offset(),
        time: &|ms| date(ms).to_locale_string(language, &time).into(),
        day: &|ms| date(ms).to_locale_string(language, &day).into(),
    }))
}

/// Ticks a step, or takes its tick away with its clock. `title` is what the step is called.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn tick_step(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    id: &str,
    title: &str,
    now: f64,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let next = log::tick(&design.plan, &done_in(done), id, title, now);
    let is_ticked = next.ticks.iter().any(|tick| tick.0 == id);
    let deed = if is_ticked {
        Deed::Ticked
    } else {
        Deed::Unticked
    };
    now_done(&next, deed.said(title))
}

/// Glue goes on in a step.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn spread_glue(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    id: &str,
    title: &str,
    now: f64,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let next = log::spread(&design.plan, &done_in(done), id, title, now);
    now_done(&next, Deed::Spread.said(title))
}

/// Starts a clock again, by its place in the log.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn start_clock_again(
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    entry: usize,
    title: &str,
    now: f64,
) -> Result<JsValue, JsError> {
    let next = log::start_again(&done_in(done), entry, now);
    now_done(&next, Deed::Spread.said(title))
}

/// Takes a clock away, by its place in the log.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn stop_clock(
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    entry: usize,
    title: &str,
) -> Result<JsValue, JsError> {
    let next = log::stop(&done_in(done), entry);
    now_done(&next, Deed::Stopped.said(title))
}

/// Tells a clock, by its place in the log, or all that still set, how warm it is there now.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn tell_air(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    entry: Option<usize>,
    typed: &str,
    now: f64,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    match log::tell_air(&design, &done_in(done), entry, typed, now) {
        Ok(next) => now_done(&next, Deed::Air.said(typed)),
        Err(trouble) => not_done(words::trouble(&trouble, design.unit)),
    }
}

/// Notes something of a step.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn note_step(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    id: &str,
    title: &str,
    typed: &str,
    now: f64,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    match log::note(&design.plan, &done_in(done), id, title, typed, now) {
        Some(next) => now_done(&next, Deed::Noted.said(title)),
        None => not_done(clock::note_too_long()),
    }
}

/// The names of all photographs of a log.
#[wasm_bindgen]
pub fn photo_names(#[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue) -> Vec<String> {
    let entries = done_in(done).log.entries.into_iter();
    let photos = entries.flat_map(|entry| entry.photos);
    photos.map(|photo| photo.name).collect()
}

/// How large a picture of so many pixels is kept; empty where it is none.
#[wasm_bindgen]
pub fn photo_size(width_px: f64, height_px: f64) -> Vec<f64> {
    photo_size_px(width_px, height_px).map_or_else(Vec::new, Vec::from)
}

/// Puts a photograph to a step, by the name under which the page keeps it.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn photograph_step(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    id: &str,
    title: &str,
    name: &str,
    now: f64,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    match log::add_photo(&design.plan, &done_in(done), id, title, name, now) {
        Some(next) => now_done(&next, Deed::Photographed.said(title)),
        None => not_done(clock::too_many_photos()),
    }
}

/// Takes a photograph out of the log.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn remove_photograph(
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    name: &str,
    title: &str,
) -> Result<JsValue, JsError> {
    let next = log::remove_photo(&done_in(done), name);
    now_done(&next, Deed::Unphotographed.said(title))
}

/// Notes at a step that a half out of true is gone on with, behind what was noted there.
#[wasm_bindgen(unchecked_return_type = "DoneNow")]
pub fn note_going_on(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
    id: &str,
    title: &str,
    ring: usize,
    now: f64,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let done = done_in(done);
    let said = logged(&design.plan, ring);
    let next = log::note_behind(&design.plan, &done, id, title, &said, now);
    now_done(&next, Deed::Noted.said(title))
}

/// How a browser is asked to tell a moment.
fn told(parts: &[(&str, &str)]) -> Result<JsValue, JsError> {
    let part = |(name, value): &(&str, &str)| ((*name).to_owned(), Value::from(*value));
    to_js(&parts.iter().map(part).collect::<Map<String, Value>>())
}

/// What the page kept of the bench; nothing of it where it is spoiled.
pub(super) fn done_in(done: JsValue) -> Done {
    let value: Value = serde_wasm_bindgen::from_value(done).unwrap_or_default();
    Done::restore(&value)
}

fn now_done(done: &Done, said: String) -> Result<JsValue, JsError> {
    to_js(&DoneNow {
        done: Some(done.write()),
        said,
        messages: Vec::new(),
    })
}

fn not_done(message: Message) -> Result<JsValue, JsError> {
    to_js(&DoneNow {
        done: None,
        said: String::new(),
        messages: vec![message],
    })
}
