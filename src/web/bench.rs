//! The Bench place's door.

use super::memory::from_js;
use super::values::to_js;
use crate::draw::MM_PER_PX;
use crate::draw::pen::Pen;
use crate::draw::svg::to_screen;
use crate::plan::{Plan, order};
use crate::show::{figures, pictures};
use crate::trade::plug::{self, PlugStep};
use wasm_bindgen::prelude::*;

/// Everything in the Bench place; nothing while there is no ring to make. `ticks` holds
/// the marks of ticked steps by their ids.
#[wasm_bindgen(unchecked_return_type = "BenchScreen | null")]
pub fn show_bench(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Record<string, string>")] ticks: JsValue,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let ticks: serde_json::Map<String, serde_json::Value> = serde_wasm_bindgen::from_value(ticks)?;
    let ticks: Vec<(String, String)> = ticks
        .into_iter()
        .filter_map(|(id, mark)| Some((id, mark.as_str()?.to_owned())))
        .collect();
    match figures::bench::bench(&design.plan, &ticks) {
        Some(screen) => to_js(&screen),
        None => Ok(JsValue::NULL),
    }
}

/// What is said of the half that a ring belongs to, and the readings of that ring; nothing where
/// it is not there any more.
#[wasm_bindgen(unchecked_return_type = "TrueScreen | null")]
pub fn show_out_of_true(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    ring: usize,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    match figures::bench::out_of_true::out_of_true(&design.plan, ring) {
        Some(screen) => to_js(&screen),
        None => Ok(JsValue::NULL),
    }
}

/// The drawing of a step as `<svg>`, in CSS pixels; empty for a step that is not there.
#[wasm_bindgen]
pub fn bench_picture(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    id: &str,
    width: f64,
    height: f64,
) -> Result<String, JsError> {
    let design = from_js(design)?;
    let Some(plan) = design.stack() else {
        return Ok(String::new());
    };
    let steps = design.plan.order().map_or(&[][..], |order| &order.steps);
    let step = steps.iter().find(|step| step.id == id);
    Ok(step.map_or_else(String::new, |step| {
        let size = (width * MM_PER_PX, height * MM_PER_PX);
        let pen = Pen::screen(design.unit, "");
        let drawing = pictures::bench::step(plan, step, size, &pen);
        to_screen(&drawing, "step").svg
    }))
}

/// A centring plug, by its place, in section as `<svg>`, so many CSS pixels wide; empty where
/// there is none.
#[wasm_bindgen]
pub fn plug_picture(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    place: usize,
    width: f64,
) -> Result<String, JsError> {
    let design = from_js(design)?;
    let bore_mm = design.bench_or_usual().plug_bore_mm;
    Ok(
        plug_of(&design.plan, place).map_or_else(String::new, |steps| {
            let drawing = pictures::plug::draw(&steps, bore_mm, width * MM_PER_PX);
            to_screen(&drawing, "plug").svg
        }),
    )
}

/// A centring plug, by its place, as an STL file; empty where there is none.
#[wasm_bindgen]
pub fn plug_stl(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    place: usize,
) -> Result<Vec<u8>, JsError> {
    let design = from_js(design)?;
    let bore_mm = design.bench_or_usual().plug_bore_mm;
    Ok(plug_of(&design.plan, place).map_or_else(Vec::new, |steps| plug::stl(&steps, bore_mm)))
}

fn plug_of(plan: &Plan, place: usize) -> Option<Vec<PlugStep>> {
    let plugs = order::plugs::of(plan.stack()?, plan.order()?);
    plugs.into_iter().nth(place)
}
