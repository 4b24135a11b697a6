//! The door of the Wood place.

use super::memory::from_js;
use super::values::to_js;
use crate::draw::pen::Pen;
use crate::draw::svg::to_screen;
use crate::draw::{Color, MM_PER_PX};
use crate::plan::woods;
use crate::show::figures::wood::{self as shown, WoodScreen};
use crate::show::pictures::grain;
use serde::{Deserialize, Serialize};
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// The sizes of the Wood place's drawings, CSS pixels.
#[derive(Deserialize, Tsify)]
pub struct WoodSizes {
    /// Width of a swatch.
    pub swatch_width: f64,
    /// Height of a swatch.
    pub swatch_height: f64,
    /// Width of the base's drawing.
    pub base_width: f64,
    /// Height of the base's drawing.
    pub base_height: f64,
}

/// All that the Wood place shows.
#[derive(Serialize, Tsify)]
pub struct WoodPlace {
    /// The figures.
    pub screen: WoodScreen,
    /// A board of each swatch.
    pub boards: Vec<String>,
    /// The base; empty without one.
    pub base: String,
}

/// Everything in the Wood place.
#[wasm_bindgen(unchecked_return_type = "WoodPlace")]
pub fn show_wood(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "WoodSizes")] sizes: JsValue,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let sizes: WoodSizes = serde_wasm_bindgen::from_value(sizes)?;
    let plan = &design.plan;
    let base = plan.base();
    let screen = shown::wood(plan);
    let (width, height) = (
        sizes.swatch_width * MM_PER_PX,
        sizes.swatch_height * MM_PER_PX,
    );
    let boards = screen.swatches.iter().enumerate().map(|(place, swatch)| {
        let color = woods::color(&design, &swatch.name);
        board(color, &swatch.name, (width, height), place)
    });
    let (width, height) = (sizes.base_width * MM_PER_PX, sizes.base_height * MM_PER_PX);
    let drawing = base.map(|base| {
        let pen = Pen::screen(design.unit, "");
        crate::show::pictures::base::draw(&design, base, width, height, &pen)
    });
    to_js(&WoodPlace {
        boards: boards.collect(),
        base: drawing.map_or_else(String::new, |it| to_screen(&it, "base").svg),
        screen,
    })
}

fn board(color: Color, name: &str, (width, height): (f64, f64), place: usize) -> String {
    let drawing = grain::board(color, name, width, height, place);
    to_screen(&drawing, &format!("board-{place}")).svg
}

/// The table of all woods.
#[wasm_bindgen(unchecked_return_type = "Table")]
pub fn show_all_woods(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
) -> Result<JsValue, JsError> {
    to_js(&shown::woods(from_js(design)?.unit))
}

/// The woods that may be meant by what was typed, the nearest first.
#[wasm_bindgen(unchecked_return_type = "WoodOffer[]")]
pub fn offer_woods(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    typed: &str,
) -> Result<JsValue, JsError> {
    to_js(&shown::offers(&*from_js(design)?, typed))
}
