//! The door of the Inlay place.

use super::memory::from_js;
use super::values::to_js;
use crate::draw::MM_PER_PX;
use crate::draw::pen::Pen;
use crate::draw::svg::to_screen;
use crate::show::figures::inlay::{self as screen, Help, InlayScreen};
use crate::show::pictures::inlay::{self as drawn, BandView, BladeView};
use serde::{Deserialize, Serialize};
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// The sizes of the Inlay place's drawings, CSS pixels.
#[derive(Deserialize, Tsify)]
pub struct InlaySizes {
    /// Width of the bands.
    pub band_width: f64,
    /// Height of the outside's band.
    pub band_height: f64,
    /// Height of the inside's band.
    pub inside_height: f64,
    /// Width of the blade's scale.
    pub window_width: f64,
    /// Its height.
    pub window_height: f64,
}

/// All that the Inlay place shows.
#[derive(Serialize, Tsify)]
pub struct InlayPlace {
    /// The words and figures.
    pub screen: InlayScreen,
    /// What helps where the blade has no height; not looked for while a handle moves.
    pub help: Option<Help>,
    /// The outside's band; empty without a set that has a stack.
    pub band: String,
    /// The inside's band.
    pub inside: String,
    /// The blade's scale.
    pub window: String,
    /// How band and scale map: to be handed back while a handle moves.
    pub view: Vec<f64>,
}

/// Everything in the Inlay place; nothing while there is no vessel. `view` is the band's
/// and the scale's while a handle moves, else empty.
#[wasm_bindgen(unchecked_return_type = "InlayPlace | null")]
pub fn show_inlay(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "InlaySizes")] sizes: JsValue,
    picked: usize,
    view: &[f64],
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let sizes: InlaySizes = serde_wasm_bindgen::from_value(sizes)?;
    let Some(plan) = design.stack() else {
        return Ok(JsValue::NULL);
    };
    let own = plan.slot_sets.get(picked).and_then(Option::as_ref);
    let mm = |px: f64| px * MM_PER_PX;
    let band_view = own.map(|own| {
        view.get(..4)
            .and_then(BandView::from_numbers)
            .unwrap_or_else(|| BandView::fit(own, mm(sizes.band_width), mm(sizes.band_height)))
    });
    let pen = Pen::screen(design.unit, "");
    let window_height = mm(sizes.window_height);
    let (mut band, mut inside, mut window) = (String::new(), String::new(), String::new());
    let mut numbers = Vec::new();
    if let (Some(own), Some(band_view)) = (own, &band_view) {
        band = to_screen(&drawn::band(plan, own, band_view, false), "band").svg;
        let inside_view = band_view.lower(mm(sizes.inside_height));
        inside = to_screen(&drawn::band(plan, own, &inside_view, true), "inside").svg;
        let size = (mm(sizes.window_width), window_height);
        window = to_screen(&drawn::window(own, size, &pen), "window").svg;
        numbers.extend(band_view.numbers());
        let scale = BladeView::fit(own, window_height);
        numbers.extend([scale.table_mm, scale.scale, drawn::front_slot_rad(own)]);
    }
    to_js(&InlayPlace {
        help: view.is_empty().then(|| screen::help(plan, picked)),
        screen: screen::inlay(plan, picked, band_view.as_ref(), window_height),
        band,
        inside,
        window,
        view: numbers,
    })
}
