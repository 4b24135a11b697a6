//! The shelf, for the page, which keeps it beside the designs.

use super::boards::BoardsAtWork;
use super::memory::from_js;
use super::values::to_js;
use crate::design::shelf::Shelf;
use crate::design::trouble::Trouble;
use crate::design::{Design, read};
use crate::draw::Typeface;
use crate::edit::ring_shelf as rings;
use crate::edit::shelf::{self as edit, Taker};
use crate::show::figures::shelf::{Look, Order};
use crate::show::{figures, sheets, words};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// A change of the shelf.
#[derive(Deserialize, Tsify)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum ShelfChange {
    /// Boards typed or pasted in one go.
    List { text: String },
    /// The design's own boards.
    Put,
    /// A row is taken for the design.
    Take { place: usize },
    /// And set free again.
    GiveBack { place: usize },
    /// One board less.
    RemoveOne { place: usize },
    /// One more.
    AddOne { place: usize },
    /// The design's own glued rings.
    PutRings,
    /// Some of its rings, by their places, for any piece.
    LeaveRings { places: Vec<usize> },
    /// A ring is taken into the design's stack.
    TakeRing { place: usize },
    /// All that are free.
    TakeAllRings,
    /// And set free again.
    GiveRingBack { place: usize },
    /// A ring less.
    RemoveRing { place: usize },
    /// The design's rings are glued together.
    GlueIn,
    /// Another shelf, of a file.
    Open {
        #[tsify(type = "unknown")]
        other: Value,
    },
}

/// What came of it.
#[derive(Serialize, Tsify)]
pub struct ShelfChanged {
    /// The shelf to be kept; missing where it stays as it was.
    #[tsify(type = "object | null")]
    pub shelf: Option<Value>,
    /// The design that has other boards now; missing where it stays as it was.
    #[tsify(type = "Design | null")]
    pub design: Option<Value>,
    /// What is said of it.
    pub says: String,
    /// Whether a part of what was kept could not be read.
    pub is_spoiled: bool,
}

fn restored(shelf: JsValue) -> Result<(Shelf, usize), JsError> {
    let value: Value = serde_wasm_bindgen::from_value(shelf)?;
    Ok(Shelf::restore(&value))
}

/// The shelf beside a design; with what is typed into its finder, and the word of its order.
#[wasm_bindgen(unchecked_return_type = "ShelfScreen")]
pub fn show_shelf(
    shelf: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    id: &str,
    find: &str,
    order: &str,
) -> Result<JsValue, JsError> {
    let (shelf, _) = restored(shelf)?;
    let order = Order::called(order);
    let look = Look { id, find, order };
    to_js(&figures::shelf::shelf(&shelf, &*from_js(design)?, look))
}

/// The same on paper, as a PDF file; empty where nothing is there. `date` is the day as
/// `2030-01-31`, `typeface` what paper is set in.
#[wasm_bindgen]
#[allow(
    clippy::needless_pass_by_value,
    reason = "bytes cross the door by value"
)]
pub fn shelf_file(
    shelf: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    find: &str,
    order: &str,
    date: &str,
    typeface: Option<Vec<u8>>,
) -> Result<Vec<u8>, JsError> {
    let ((shelf, _), known) = (restored(shelf)?, from_js(design)?);
    let look = Look {
        id: "",
        find,
        order: Order::called(order),
    };
    let screen = figures::shelf::shelf(&shelf, &known, look);
    let typeface = typeface.as_deref().and_then(Typeface::read);
    Ok(sheets::shelf::pdf(
        &screen,
        &known.plan,
        date,
        typeface.as_ref(),
    ))
}

type Made = Result<(Shelf, Option<Design>, String), Trouble>;

fn made(shelf: &Shelf, design: &Design, change: ShelfChange, taker: Taker) -> Made {
    let alone = |shelf: Shelf| (shelf, None, String::new());
    Ok(match change {
        ShelfChange::List { text } => alone(edit::list(shelf, design, &text)?),
        ShelfChange::Put => alone(edit::put(shelf, design, taker)?),
        ShelfChange::Take { place } => {
            let was = shelf.boards.get(place);
            let says = was.map(|it| words::shelf::was_for(&it.wanted_by, &it.wanted_for));
            let says = says.unwrap_or_default();
            let (shelf, design) = edit::take(shelf, place, design, taker)?;
            (shelf, Some(design), says)
        }
        ShelfChange::GiveBack { place } => {
            let (shelf, design) = edit::give_back(shelf, place, design, taker);
            (shelf, Some(design), String::new())
        }
        ShelfChange::RemoveOne { place } => alone(edit::remove_one(shelf, place)),
        ShelfChange::AddOne { place } => alone(edit::add_one(shelf, place)),
        ShelfChange::PutRings => alone(rings::put(shelf, design, taker)?),
        ShelfChange::LeaveRings { places } => alone(rings::leave(shelf, design, &places, taker)?),
        ShelfChange::TakeRing { place } => {
            let was = shelf.rings.get(place);
            let says = was.map(|it| words::shelf::was_for(&it.wanted_by, &it.wanted_for));
            let (shelf, design) = rings::take(shelf, place, design, taker)?;
            (shelf, Some(design), says.unwrap_or_default())
        }
        ShelfChange::TakeAllRings => {
            let (shelf, design) = rings::take_all(shelf, design, taker)?;
            (shelf, Some(design), String::new())
        }
        ShelfChange::GiveRingBack { place } => {
            let (shelf, design) = rings::give_back(shelf, place, design, taker);
            (shelf, Some(design), String::new())
        }
        ShelfChange::RemoveRing { place } => alone(rings::remove(shelf, place)),
        ShelfChange::GlueIn => {
            let (shelf, moved) = rings::glue_in(shelf, design, taker);
            (shelf, None, words::shelf::glued_in(moved))
        }
        ShelfChange::Open { other } => alone(edit::open(shelf, &Shelf::restore(&other).0)?),
    })
}

/// Changes the shelf, and with it the design that takes boards or gives them back.
#[wasm_bindgen(unchecked_return_type = "ShelfChanged")]
pub fn change_shelf(
    shelf: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "ShelfChange")] change: JsValue,
    id: &str,
    name: &str,
) -> Result<JsValue, JsError> {
    let (shelf, spoiled) = restored(shelf)?;
    let known = from_js(design)?;
    let change: ShelfChange = serde_wasm_bindgen::from_value(change)?;
    to_js(&changed(
        &shelf,
        &known,
        made(&shelf, &known, change, Taker { id, name }),
        spoiled > 0,
    ))
}

fn changed(shelf: &Shelf, design: &Design, made: Made, is_spoiled: bool) -> ShelfChanged {
    match made {
        Ok((next, with, says)) => ShelfChanged {
            shelf: (next != *shelf).then(|| next.write()),
            design: with
                .filter(|with| with != design)
                .map(|with| read::to_value(&with)),
            says,
            is_spoiled,
        },
        Err(trouble) => {
            let told = words::trouble_in_list(&trouble, design.unit);
            ShelfChanged {
                shelf: None,
                design: None,
                says: format!("{} {}", told.reason, told.remedy),
                is_spoiled,
            }
        }
    }
}

#[wasm_bindgen]
impl BoardsAtWork {
    /// The boards of the answer are cut: they go from the shelf, and what is left of them is
    /// laid on it.
    #[wasm_bindgen(unchecked_return_type = "ShelfChanged")]
    pub fn cut(&self, shelf: JsValue, id: &str, name: &str) -> Result<JsValue, JsError> {
        let (shelf, spoiled) = restored(shelf)?;
        let design = self.design();
        let made = match self.answer() {
            Some(answer) if !answer.is_done || answer.extra_count > 0 => {
                Ok((shelf.clone(), None, words::shelf::not_whole()))
            }
            Some(answer) => edit::cut(&shelf, design, &answer, Taker { id, name })
                .map(|(next, moved)| (next, None, words::shelf::cut(moved, answer.board_count))),
            None => Ok((shelf.clone(), None, String::new())),
        };
        to_js(&changed(&shelf, design, made, spoiled > 0))
    }
}
