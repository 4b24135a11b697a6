//! What a hand does to the design: each change is a value with a name, and so are its parts.

use super::memory::{from_js, hand_over};
use crate::design::Design;
use crate::draw::{MM_PER_PX, point};
use crate::edit::vessel::{Repeat, accent_mm};
use crate::edit::{allowance, base, built, climate, inlay, rack, start, vessel, wood};
use crate::plan::built::Reorder;
use crate::show::pictures::inlay::{BandView, BladeView};
use crate::units::kept::part;
use serde_json::{Map, Value};
use wasm_bindgen::prelude::*;

/// Numbers that the page was given, and hands back as they are.
type Numbers = Vec<f64>;

/// A kind of part as the page's scripts call it.
macro_rules! told {
    (String) => {
        "string"
    };
    (Numbers) => {
        "number[]"
    };
    ($number:ident) => {
        "number"
    };
}

/// One line for each change: its name, its parts, and what becomes of the design. The
/// page's type and the reader are made of the same line.
macro_rules! changes {
    (|$design:ident| $($kind:literal { $($part:ident: $is:ident),* } => $becomes:expr,)*) => {
        #[wasm_bindgen(typescript_custom_section)]
        const CHANGE_TYPE: &str = concat!(
            "export type Change =",
            $("\n  | { kind: '", $kind, "'", $("; ", stringify!($part), ": ", told!($is),)* " }",)*
            ";\n"
        );

        /// Nothing for a change that there is not, or one without its parts.
        fn changed($design: &Design, kind: &str, parts: &Map<String, Value>) -> Option<Design> {
            Some(match kind {
                $($kind => {
                    $(let $part: $is = part(parts, stringify!($part))?;)*
                    $becomes
                })*
                _ => return None,
            })
        }
    };
}

changes! { |design|
    // The vessel's curve. Places on the section are pixels, together with its view.
    "begin" { shape: String } => {
        let diameter = design.ring.outside_diameter_mm;
        let height = diameter * start::find(&shape).height_for_diameter;
        start::begin(design, &shape, diameter, crate::units::length::round(height))
    },
    "divide" {} => start::divide(design),
    "move_point" { place: usize, x: f64, y: f64, view: Numbers } => {
        let (height, radius) = on_section(x, y, &view)?;
        built::pull(design, place, height, radius)
    },
    "nudge_point" { place: usize, up: f64, out: f64 } => built::nudge(design, place, up, out),
    "add_point" { x: f64, y: f64, view: Numbers } => {
        vessel::add_point(design, on_section(x, y, &view)?.0)
    },
    "remove_point" { place: usize } => vessel::remove_point(design, place),
    "toggle_corner" { place: usize } => vessel::toggle_corner(design, place),
    // Its rings.
    "add_ring" { ring: usize } => vessel::add_ring(design, ring),
    "add_accent" { ring: usize, wood: usize } => {
        vessel::add_accent(design, ring, wood, accent_mm(design))
    },
    "remove_ring" { ring: usize } => vessel::remove_ring(design, ring),
    "add_glued" {} => built::add_glued(design),
    "glued" { ring: usize } => built::set_glued(design, ring, true),
    "planned" { ring: usize } => built::set_glued(design, ring, false),
    "alike" { ring: usize } => built::measure_alike(design, ring),
    "swap" { ring: usize, other: usize } => built::reorder(design, Reorder::Swap(ring, other)),
    "turn_over" { ring: usize } => built::reorder(design, Reorder::Turn(ring)),
    "take_nearest" {} => built::take_nearest(design),
    "draw_in_rings" {} => built::draw_in_rings(design),
    // Their woods.
    "paint" { ring: usize, segment: u32, wood: usize } => {
        vessel::paint(design, ring, segment, wood)
    },
    "repeat" { ring: usize, wood: usize, pattern: String } => {
        vessel::repeat(design, ring, wood, Repeat::called(&pattern)?)
    },
    "spiral" { ring: usize } => vessel::spiral(design, ring, 1),
    "columns" { ring: usize } => vessel::spiral(design, ring, 0),
    "mirror" {} => vessel::mirror(design),
    "add_wood" { name: String } => vessel::add_wood(design, &name),
    "remove_wood" { wood: usize } => vessel::remove_wood(design, wood),
    // Slot sets. Places on the band and the blade's scale are pixels, together with the view.
    "add_set" {} => inlay::add_set(design),
    "crossing" { set: usize } => inlay::add_other_way(design, set, false),
    "zigzag" { set: usize } => inlay::add_other_way(design, set, true),
    "remove_set" { set: usize } => inlay::remove_set(design, set),
    "open_window" { set: usize, opening: usize } => inlay::take_opening(design, set, opening),
    "fit" { set: usize } => inlay::fit_zigzag(design, set, false),
    "fit_nearest" { set: usize } => inlay::fit_zigzag(design, set, true),
    "place_set" { set: usize, x: f64, view: Numbers } => {
        inlay::place_set(design, set, on_band(x, &view)?)
    },
    "nudge_set" { set: usize, steps: f64 } => inlay::nudge_set(design, set, steps),
    "lean" { set: usize, x: f64, view: Numbers } => {
        inlay::lean_set(design, set, *view.get(6)?, on_band(x, &view)?)
    },
    "nudge_lean" { set: usize, steps: f64 } => inlay::nudge_lean(design, set, steps),
    "raise_blade" { set: usize, y: f64, view: Numbers } => {
        let scale = BladeView { table_mm: *view.get(4)?, scale: *view.get(5)? };
        inlay::raise_blade(design, set, scale.blade_mm(y * MM_PER_PX))
    },
    "nudge_blade" { set: usize, steps: f64 } => inlay::nudge_blade(design, set, steps),
    // The ring beside the saw.
    "without_allowance" {} => allowance::without(design),
    // Boards.
    "add_board" {} => rack::add(design),
    "copy_board" { board: usize } => rack::copy(design, board),
    "remove_board" { board: usize } => rack::remove(design, board),
    "add_avoid" { board: usize } => rack::add_avoid(design, board),
    "remove_avoid" { board: usize, avoid: usize } => rack::remove_avoid(design, board, avoid),
    // Woods, climate, base.
    "add_own" { name: String } => wood::add_own(design, &name),
    "add_like" { name: String, like: String } => wood::add_like(design, &name, &like),
    "remove_own" { own: usize } => wood::remove_own(design, own),
    "air" { of: String, described: String } => climate::take_air(design, &of, &described)?,
    "add_ply" {} => base::change_plies(design, true),
    "remove_ply" {} => base::change_plies(design, false),
}

/// Height and radius at a pixel of the section.
fn on_section(x: f64, y: f64, view: &[f64]) -> Option<(f64, f64)> {
    Some(super::view_from(view)?.real(point(x * MM_PER_PX, y * MM_PER_PX)))
}

/// The direction at a pixel across the band.
fn on_band(x: f64, view: &[f64]) -> Option<f64> {
    let band = BandView::from_numbers(view.get(..4)?)?;
    Some(band.direction(x * MM_PER_PX))
}

/// Changes the design as a hand does; what does not fit leaves it as it was.
#[wasm_bindgen(unchecked_return_type = "Design")]
pub fn change(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Change")] change: JsValue,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let value: Value = serde_wasm_bindgen::from_value(change)?;
    let parts = value.as_object();
    let next = parts.and_then(|parts| changed(&design, parts.get("kind")?.as_str()?, parts));
    match next {
        Some(next) => hand_over(&next),
        None => Err(JsError::new(&format!("no such change: {value}"))),
    }
}
