//! The Paper place's door: the packet's sheets as pictures and as files.

use super::clock::at;
use super::memory::{Known, from_js};
use super::values::to_js;
use crate::draw::Typeface;
use crate::draw::svg::to_file;
use crate::edit::log::Done;
use crate::show::figures::bench::logbook;
use crate::show::sheets::job::{Choice, Today};
use crate::show::sheets::packet::{self, Kind};
use crate::show::sheets::title;
use crate::show::words;
use serde::{Deserialize, Serialize};
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// When it is printed, and what stands at the bench by then.
#[derive(Deserialize, Tsify)]
pub struct PrintedNow {
    /// The day where the turner is, as `2030-01-31`.
    pub date: String,
    /// The moment, milliseconds since 1970.
    pub now: f64,
    /// How times are told, as a language tag.
    pub language: String,
    /// What stands at the bench beside the design.
    #[tsify(type = "Done")]
    pub done: serde_json::Value,
}

/// Makes something of the sheets with today's date and the log as it stands.
fn printed<T>(known: &Known, now: JsValue, make: impl FnOnce(Today) -> T) -> Result<T, JsError> {
    let PrintedNow {
        date,
        now,
        language,
        done,
    } = serde_wasm_bindgen::from_value(now)?;
    let done = Done::restore(&done);
    let log = at(now, &language, |calendar| {
        logbook::log(&known.plan, &done.log, calendar)
    })?;
    Ok(make(Today {
        date: &date,
        log: Some(&log),
    }))
}

/// One sheet to be ticked.
#[derive(Serialize, Tsify)]
pub struct SheetChoice {
    /// Its key.
    pub key: String,
    /// Its name.
    pub title: String,
    /// How many pages it takes, in words.
    pub pages: String,
    /// Whether it is ticked while nothing was chosen.
    pub is_usual: bool,
    /// Its first page as an SVG file's text.
    pub svg: String,
}

/// Every sheet that the design has.
#[wasm_bindgen(unchecked_return_type = "SheetChoice[]")]
pub fn show_packet(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    link: &str,
    #[wasm_bindgen(unchecked_param_type = "PrintedNow")] now: JsValue,
) -> Result<JsValue, JsError> {
    let known = from_js(design)?;
    let sheets = printed(&known, now, |today| {
        packet::sheets(&known.plan, link, today, Choice::Pictures)
    })?;
    let sheets: Vec<SheetChoice> = sheets
        .into_iter()
        .map(|sheet| SheetChoice {
            pages: words::pages(sheet.pages.len()),
            svg: sheet.pages.first().map_or_else(String::new, to_file),
            key: sheet.key,
            title: sheet.title,
            is_usual: sheet.is_usual,
        })
        .collect();
    to_js(&sheets)
}

/// One page of the chosen sheets.
#[derive(Serialize, Tsify)]
pub struct PacketPage {
    /// The keys of the sheets on it.
    pub keys: Vec<String>,
    /// Which it is of how many, in words.
    pub says: String,
    /// As an SVG file's text.
    pub svg: String,
}

/// The pages of the chosen sheets, as they are printed.
#[wasm_bindgen(unchecked_return_type = "PacketPage[]")]
#[allow(
    clippy::needless_pass_by_value,
    reason = "lists cross the door by value"
)]
pub fn packet_pages(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    link: &str,
    #[wasm_bindgen(unchecked_param_type = "PrintedNow")] now: JsValue,
    chosen: Vec<String>,
) -> Result<JsValue, JsError> {
    let known = from_js(design)?;
    let pages = printed(&known, now, |today| {
        packet::pages(&known.plan, link, today, Choice::These(&chosen))
    })?;
    let count = pages.len();
    let shown: Vec<PacketPage> = (1..)
        .zip(pages)
        .map(|(number, (keys, page))| PacketPage {
            keys,
            says: words::page_of(number, count),
            svg: to_file(&page),
        })
        .collect();
    to_js(&shown)
}

/// How many pages the chosen sheets take, in words; empty when there is none.
#[wasm_bindgen]
#[allow(
    clippy::needless_pass_by_value,
    reason = "lists cross the door by value"
)]
pub fn packet_length(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    link: &str,
    #[wasm_bindgen(unchecked_param_type = "PrintedNow")] now: JsValue,
    chosen: Vec<String>,
) -> Result<String, JsError> {
    let known = from_js(design)?;
    let pages = printed(&known, now, |today| {
        packet::pages(&known.plan, link, today, Choice::These(&chosen))
    })?;
    Ok(match pages.len() {
        0 => String::new(),
        count => words::pages(count),
    })
}

/// What the design is called on paper, in files and where it is shared.
#[wasm_bindgen]
pub fn title_of(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
) -> Result<String, JsError> {
    Ok(title(&from_js(design)?.plan.design))
}

/// The card for the piece as an SVG file's text; empty without a vessel.
#[wasm_bindgen]
pub fn card_svg(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    link: &str,
) -> Result<String, JsError> {
    let card = packet::card_picture(&from_js(design)?.plan, link);
    Ok(card.map_or_else(String::new, |card| to_file(&card)))
}

/// Whether a file is the typeface of paper, and whole.
#[wasm_bindgen]
pub fn is_typeface(file: &[u8]) -> bool {
    Typeface::read(file).is_some()
}

/// The kinds of files of [`packet_file`].
#[wasm_bindgen(typescript_custom_section)]
const FILE_TYPE: &str = "
export type PacketFile = 'pdf' | 'svg' | 'dxf' | 'csv' | 'zip';
";

/// The chosen sheets as one file, empty when there is nothing to be in it. Several SVG or
/// DXF files come as one archive, which begins with `PK`. `own` is the design's own file,
/// `typeface` what paper is set in; where that is missing or not whole, it is the standard one.
#[wasm_bindgen]
#[allow(
    clippy::needless_pass_by_value,
    reason = "lists cross the door by value"
)]
pub fn packet_file(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "PacketFile")] kind: &str,
    link: &str,
    #[wasm_bindgen(unchecked_param_type = "PrintedNow")] now: JsValue,
    chosen: Vec<String>,
    own: &str,
    typeface: Option<Vec<u8>>,
) -> Result<Vec<u8>, JsError> {
    let known = from_js(design)?;
    let typeface = typeface.as_deref().and_then(Typeface::read);
    let plan = &known.plan;
    let choice = Choice::These(&chosen);
    printed(&known, now, |today| match kind {
        "csv" => packet::cut_list_csv(plan).into_bytes(),
        "zip" => packet::archive(plan, link, today, choice, own, typeface.as_ref()),
        "svg" => packet::together(
            packet::files(plan, link, today, choice, Kind::Svg),
            today.date,
        ),
        "dxf" => packet::together(
            packet::files(plan, link, today, choice, Kind::Dxf),
            today.date,
        ),
        _ => packet::pdf(plan, link, today, choice, typeface.as_ref()),
    })
}
