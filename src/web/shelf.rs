//! The shelf, for the page, which keeps it beside the designs.

use super::boards::BoardsAtWork;
use super::memory::from_js;
use super::values::to_js;
use crate::design::shelf::Shelf;
use crate::design::trouble::Trouble;
use crate::design::{Design, read};
use crate::edit::shelf::{self as edit, Taker};
use crate::show::{figures, words};
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

/// The shelf beside a design; with what is typed into its finder.
#[wasm_bindgen(unchecked_return_type = "ShelfScreen")]
pub fn show_shelf(
    shelf: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    id: &str,
    find: &str,
) -> Result<JsValue, JsError> {
    let (shelf, _) = restored(shelf)?;
    to_js(&figures::shelf::shelf(&shelf, &*from_js(design)?, id, find))
}

type Made = Result<(Shelf, Option<Design>, String), Trouble>;

fn made(shelf: &Shelf, design: &Design, change: ShelfChange, taker: Taker) -> Made {
    let alone = |shelf: Shelf| (shelf, None, String::new());
    Ok(match change {
        ShelfChange::List { text } => alone(edit::list(shelf, design, &text)?),
        ShelfChange::Put => alone(edit::put(shelf, design, taker)?),
        ShelfChange::Take { place } => {
            let was = shelf.boards.get(place);
            let says = was.map_or_else(String::new, words::shelf::was_for);
            let (shelf, design) = edit::take(shelf, place, design, taker)?;
            (shelf, Some(design), says)
        }
        ShelfChange::GiveBack { place } => {
            let (shelf, design) = edit::give_back(shelf, place, design, taker);
            (shelf, Some(design), String::new())
        }
        ShelfChange::RemoveOne { place } => alone(edit::remove_one(shelf, place)),
        ShelfChange::AddOne { place } => alone(edit::add_one(shelf, place)),
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
