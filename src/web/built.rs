//! As built, for the page.

use super::memory::{from_js, hand_over};
use super::values::to_js;
use super::view_from;
use crate::draw::svg::to_screen;
use crate::draw::{MM_PER_PX, point};
use crate::edit;
use crate::plan::built::{self, Reorder};
use crate::show::figures::built::{BuiltScreen, screen};
use crate::show::pictures::built as drawn_built;
use serde::Serialize;
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// As built: figures and the half-section.
#[derive(Serialize, Tsify)]
pub struct BuiltPlace {
    /// The figures.
    pub screen: BuiltScreen,
    /// The half-section.
    pub section: String,
    /// How it maps real lengths: to be handed back while a handle moves.
    pub view: Vec<f64>,
}

/// Everything in As built. `picked` is a ring's place from the foot up, or −1; `view` the
/// section's view while a handle moves, else empty: meanwhile nothing is offered.
#[wasm_bindgen(unchecked_return_type = "BuiltPlace")]
pub fn show_built(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    width: f64,
    height: f64,
    picked: i32,
    view: &[f64],
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let is_moving = !view.is_empty();
    let built = built::built(&design);
    let nearest = if is_moving { None } else { built.nearest() };
    let misfits = built.tightest.is_some_and(|it| it.left_mm < 0.0);
    let better = (misfits && !is_moving)
        .then(|| built::better_order(&built))
        .flatten();
    let size_mm = (width * MM_PER_PX, height * MM_PER_PX);
    let view = view_from(view).unwrap_or_else(|| drawn_built::fit(&built, size_mm.0, size_mm.1));
    let ring = usize::try_from(picked)
        .ok()
        .filter(|place| *place < design.measured.len());
    let section = drawn_built::draw(&design, &built, nearest.as_deref(), size_mm, &view, ring);
    to_js(&BuiltPlace {
        screen: screen(
            &design,
            &built,
            &view,
            ring,
            nearest.is_some(),
            better.as_ref(),
        ),
        section: to_screen(&section, "built").svg,
        view: vec![view.axis_mm, view.foot_mm, view.scale],
    })
}

/// Changes the measured rings or the curve in them as a hand does. `numbers` are places, or
/// pixels on the section together with its view.
#[wasm_bindgen(unchecked_return_type = "Design")]
pub fn change_built(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "BuiltChange")] change: &str,
    numbers: &[f64],
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let number = |at: usize| numbers.get(at).copied().unwrap_or(0.0);
    let place = |at: usize| number(at) as usize;
    let changed = match change {
        "add" => edit::built::add_measured(&design),
        "planned" => edit::built::measure_planned(&design),
        "remove" => edit::built::remove_measured(&design, place(0)),
        "alike" => edit::built::measure_alike(&design, place(0)),
        "reorder" if numbers.len() > 1 => {
            edit::built::reorder(&design, Reorder::Swap(place(0), place(1)))
        }
        "reorder" => edit::built::reorder(&design, Reorder::Turn(place(0))),
        "take" => edit::built::take_curve(&design),
        "nudge" => edit::built::nudge(&design, place(0), number(1), number(2)),
        "pull" => match numbers.get(3..).and_then(view_from) {
            Some(view) => {
                let at = point(number(1) * MM_PER_PX, number(2) * MM_PER_PX);
                let (height, radius) = view.real(at);
                edit::built::pull(&design, place(0), height, radius)
            }
            None => design.unchanged(),
        },
        _ => design.unchanged(),
    };
    hand_over(changed)
}

/// The words of [`change_built`].
#[wasm_bindgen(typescript_custom_section)]
const CHANGE_TYPE: &str = "
export type BuiltChange = 'add' | 'planned' | 'remove' | 'alike' | 'reorder' | 'take' | 'pull' | 'nudge';
";
