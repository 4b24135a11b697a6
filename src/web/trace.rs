//! Where a picture to trace lies under the half-section.

use super::memory::from_js;
use super::values::to_js;
use crate::design::Vessel;
use crate::design::trouble::{Reason, Trouble};
use crate::draw::{MM_PER_PX, point};
use crate::show::pictures::trace::Trace;
use crate::show::pictures::view::View;
use crate::show::words::{self, Message};
use crate::units::reading;
use serde::Serialize;
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// A length read for the picture.
#[derive(Serialize, Tsify)]
pub struct KnownLength {
    /// It; missing when the text is no length.
    #[tsify(type = "number | null")]
    pub length_mm: Option<f64>,
    /// What is wrong with the text.
    pub messages: Vec<Message>,
}

/// A picture as the page tells it: its width and height, the foot's place, the two ends
/// of the known length, and that length; places that are not told yet are not numbers.
fn trace(numbers: &[f64]) -> Trace {
    let number = |at: usize| numbers.get(at).copied().unwrap_or(f64::NAN);
    let place = |at: usize| {
        let place = point(number(at), number(at + 1));
        (place.x.is_finite() && place.y.is_finite()).then_some(place)
    };
    Trace {
        size_px: (number(0), number(1)),
        foot_px: place(2),
        ends_px: place(4).zip(place(6)),
        length_mm: Some(number(8)).filter(|length| length.is_finite()),
    }
}

fn vessel_height_mm(design: JsValue) -> Result<f64, JsError> {
    let design = from_js(design)?;
    let curve = design.vessel.as_ref().and_then(Vessel::curve);
    Ok(curve.map_or(100.0, |curve| curve.height_mm()))
}

/// Left, top, width and height of the picture on the section, CSS pixels; empty without
/// a view.
#[wasm_bindgen]
pub fn trace_lies(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    picture: &[f64],
    view_numbers: &[f64],
) -> Result<Vec<f64>, JsError> {
    let height_mm = vessel_height_mm(design)?;
    Ok(
        View::from_numbers(view_numbers).map_or_else(Vec::new, |view| {
            let lies = trace(picture).lies(&view, height_mm);
            [lies.left_mm, lies.top_mm, lies.width_mm, lies.height_mm]
                .map(|length| length / MM_PER_PX)
                .to_vec()
        }),
    )
}

/// The picture's pixel under a place on the section.
#[wasm_bindgen]
pub fn trace_pixel(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    picture: &[f64],
    view_numbers: &[f64],
    x_px: f64,
    y_px: f64,
) -> Result<Vec<f64>, JsError> {
    let height_mm = vessel_height_mm(design)?;
    Ok(
        View::from_numbers(view_numbers).map_or_else(Vec::new, |view| {
            let at = point(x_px * MM_PER_PX, y_px * MM_PER_PX);
            let pixel = trace(picture).pixel_at(at, &view, height_mm);
            vec![pixel.x, pixel.y]
        }),
    )
}

/// Reads the known length as typed.
#[wasm_bindgen(unchecked_return_type = "KnownLength")]
pub fn known_length(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    typed: &str,
) -> Result<JsValue, JsError> {
    let unit = from_js(design)?.unit;
    let read = reading::parse(typed, unit)
        .map_err(Reason::NotALength)
        .and_then(|length_mm| {
            if length_mm > 0.0 {
                return Ok(length_mm);
            }
            Err(Reason::OutOfRange {
                value: length_mm,
                least: 0.01,
                most: 20_000.0,
            })
        });
    to_js(&match read {
        Ok(length_mm) => KnownLength {
            length_mm: Some(length_mm),
            messages: Vec::new(),
        },
        Err(reason) => KnownLength {
            length_mm: None,
            messages: vec![words::trouble(
                &Trouble::at("vessel.height_mm", reason),
                unit,
            )],
        },
    })
}
