//! The door to the browser: it converts and forwards, and computes nothing.
//!
//! A design crosses as a plain JavaScript object (its JSON form); the page keeps it
//! and hands it back. So nothing of the turner's work lives in here, and a stumble of
//! the library cannot take it along.

mod bench;
mod boards;
mod change;
mod clock;
mod gathering;
mod inlay;
mod making;
mod memory;
mod packet;
mod shelf;
mod three;
mod trace;
mod values;
mod variation;
mod wood;

use crate::design::trouble::Trouble;
use crate::design::{self, Design};
use crate::draw::pen::Pen;
use crate::draw::svg::{Placement, Screen, to_screen};
use crate::draw::{Anchor, MM_PER_PX, point, qr};
use crate::edit;
use crate::edit::first_slots::Begun;
use crate::edit::log::Done;
use crate::show::figures::{self, RingScreen, panel::Panel, vessel::VesselScreen};
use crate::show::pictures::built::Fit;
use crate::show::pictures::vessel::{self as drawn_vessel, Picked};
use crate::show::pictures::view::{FINGER_ROW_MM, Rows, View};
use crate::show::thing::Thing;
use crate::show::words::{self, Message};
use crate::units::length::Unit;
pub use change::change;
use memory::{from_js, hand_over};
use serde::{Deserialize, Serialize};
use tsify::Tsify;
use values::to_js;
use wasm_bindgen::prelude::*;

/// A design as the page holds it: opaque, but for a few words, and never changed in place.
#[wasm_bindgen(typescript_custom_section)]
const DESIGN_TYPE: &str = "
export interface Design { readonly name: string; readonly unit: string; readonly ring: { readonly between: string }; readonly vessel: object | null; readonly woods?: readonly { readonly name: string }[]; readonly paper: { readonly size: string } }
";

/// What came of opening or changing a design.
#[derive(Serialize, Tsify)]
pub struct Opened {
    /// The design; missing when it could not be opened or changed.
    #[tsify(type = "Design | null")]
    pub design: Option<serde_json::Value>,
    /// What was in the way, or was reset.
    pub messages: Vec<Message>,
}

/// What came of opening a file.
#[derive(Serialize, Tsify)]
pub struct OpenedFile {
    /// The design; missing when it could not be opened.
    #[tsify(type = "Design | null")]
    pub design: Option<serde_json::Value>,
    /// What was in the way, or was reset.
    pub messages: Vec<Message>,
    /// What stood at the bench beside it; missing where nothing did.
    #[tsify(type = "Done | null")]
    pub done: Option<serde_json::Value>,
}

/// The drawings' sizes in CSS pixels, and what is being touched.
#[derive(Deserialize, Tsify)]
pub struct Sizes {
    /// Width of the ring's drawing.
    pub ring_width: f64,
    /// Height of the ring's drawing.
    pub ring_height: f64,
    /// Width of the segment's drawing.
    pub segment_width: f64,
    /// Height of the segment's drawing.
    pub segment_height: f64,
    /// Key of the field that is being touched.
    pub held: String,
}

/// Where an entry field lies on a drawing, CSS pixels.
#[derive(Serialize, Tsify)]
pub struct Place {
    /// The field's key.
    pub key: String,
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// A drawing and the fields on it.
#[derive(Serialize, Tsify)]
pub struct Drawn {
    /// The `<svg>` element's text.
    pub svg: String,
    /// Where its fields lie.
    pub places: Vec<Place>,
}

/// All that the Ring place shows.
#[derive(Serialize, Tsify)]
pub struct RingPlace {
    /// The figures.
    pub screen: RingScreen,
    /// The ring's drawing.
    pub ring: Drawn,
    /// The segment's drawing; missing without a segment.
    pub segment: Option<Drawn>,
    /// The link's part behind `#`.
    pub link: String,
}

/// Shows panics in the console instead of a bare "unreachable".
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
}

/// The design that a new page starts with, for a language tag such as `en-US`.
#[wasm_bindgen(unchecked_return_type = "Design")]
pub fn starting_design(language: &str) -> Result<JsValue, JsError> {
    hand_over(&Design::starting(language))
}

/// What of a design belongs to the turner's shop.
#[wasm_bindgen(unchecked_return_type = "object")]
pub fn shop_of(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    to_js(&edit::shop::of(&design))
}

/// The design in another shop.
#[wasm_bindgen(unchecked_return_type = "Design")]
pub fn with_shop(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "unknown")] shop: JsValue,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    hand_over(&edit::shop::take(&design, &shop_in(shop)))
}

/// In what a design is of another shop; empty where it is of the same.
#[wasm_bindgen]
pub fn shop_says(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "unknown")] shop: JsValue,
) -> Result<String, JsError> {
    let design = from_js(design)?;
    Ok(figures::shop::shop(&design, &shop_in(shop)))
}

/// All that is kept of a shop.
#[wasm_bindgen(unchecked_return_type = "Figure[]")]
pub fn shop_rows(
    #[wasm_bindgen(unchecked_param_type = "unknown")] shop: JsValue,
) -> Result<JsValue, JsError> {
    to_js(&figures::shop::rows(&shop_in(shop)))
}

/// A shop that was kept; nothing where it is not one.
fn shop_in(shop: JsValue) -> serde_json::Value {
    serde_wasm_bindgen::from_value(shop).unwrap_or_default()
}

/// Reads a design from any JSON text: a file, or what the device kept.
#[wasm_bindgen(unchecked_return_type = "OpenedFile")]
pub fn open_text(text: &str) -> Result<JsValue, JsError> {
    let not_a_design = || {
        Trouble::at(
            crate::design::field::key::DESIGN,
            crate::design::trouble::Reason::NotADesign,
        )
    };
    // The browser's own reader: it is there anyway, and reads every number exactly.
    let value = js_sys::JSON::parse(text)
        .map_err(|_| not_a_design())
        .and_then(|value| serde_wasm_bindgen::from_value(value).map_err(|_| not_a_design()));
    let mut done = Done::default();
    let read = value.and_then(|mut value: serde_json::Value| {
        done = Done::take_from(&mut value);
        Design::restore(&value)
    });
    let Opened { design, messages } =
        told(read.map_err(|trouble| (trouble, Design::default().unit)));
    let done = Some(done).filter(|done| design.is_some() && *done != Done::default());
    to_js(&OpenedFile {
        done: done.map(|done| done.write()),
        design,
        messages,
    })
}

/// Opens a link: its part behind `#`.
#[wasm_bindgen(unchecked_return_type = "Opened")]
pub fn open_link(link: &str) -> Result<JsValue, JsError> {
    let read = crate::design::link::decode(link);
    opened(read.map_err(|trouble| (trouble, Design::default().unit)))
}

/// Sets one field from typed text.
#[wasm_bindgen(unchecked_return_type = "Opened")]
pub fn type_in(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    key: &str,
    typed: &str,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    opened(match edit::type_in(&design, key, typed) {
        Ok(changed) => Ok((changed, Vec::new())),
        Err(trouble) => Err((trouble, design.unit)),
    })
}

/// Puts rings on top that are glued already, or in place of all, from a list typed or pasted in
/// one go; whether it runs from the rim down.
#[wasm_bindgen(unchecked_return_type = "Opened")]
pub fn add_rings(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    typed: &str,
    is_from_rim: bool,
    is_instead: bool,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let listed = edit::ring_list::Listed {
        is_from_rim,
        is_instead,
    };
    let added = edit::ring_list::add_rings(&design, typed, listed);
    let told = match &added {
        Ok(with) => words::rings_taken(&design, with, is_instead),
        Err(trouble) => words::trouble_in_list(trouble, design.unit),
    };
    to_js(&Opened {
        messages: vec![told],
        design: added.ok().map(|design| design::read::to_value(&design)),
    })
}

/// Puts boards into the list from one typed or pasted in one go.
#[wasm_bindgen(unchecked_return_type = "Opened")]
pub fn add_boards(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    typed: &str,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let added = edit::board_list::add_boards(&design, typed);
    let told = match &added {
        Ok(with) => words::boards::boards_taken(&design, with),
        Err(trouble) => words::trouble_in_list(trouble, design.unit),
    };
    to_js(&Opened {
        messages: vec![told],
        design: added.ok().map(|design| design::read::to_value(&design)),
    })
}

/// Whether a glued ring can be as it is typed so far, by the beginning of its fields' keys.
#[wasm_bindgen]
pub fn row_stands(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    row: &str,
) -> Result<bool, JsError> {
    let design = from_js(design)?;
    Ok(design.plan.built().is_none_or(|built| built.stands(row)))
}

/// Everything in the Ring place.
#[wasm_bindgen(unchecked_return_type = "RingPlace")]
pub fn show_ring(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Sizes")] sizes: JsValue,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let sizes: Sizes = serde_wasm_bindgen::from_value(sizes)?;
    let plan = &design.plan;
    let pen = Pen::screen(design.unit, &sizes.held);
    let ring = crate::show::pictures::ring::draw(
        &design,
        &plan.ring,
        sizes.ring_width * MM_PER_PX,
        sizes.ring_height * MM_PER_PX,
        &pen,
    );
    let segment = crate::show::pictures::segment::draw(
        &design,
        &plan.ring,
        sizes.segment_width * MM_PER_PX,
        sizes.segment_height * MM_PER_PX,
        &pen,
    );
    to_js(&RingPlace {
        screen: figures::ring(plan),
        ring: drawn(to_screen(&ring, "ring")),
        segment: segment.map(|segment| drawn(to_screen(&segment, "segment"))),
        link: crate::design::link::encode(&design),
    })
}

/// The table of segment counts.
#[wasm_bindgen(unchecked_return_type = "Table")]
pub fn show_counts(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
) -> Result<JsValue, JsError> {
    to_js(&figures::counts(&*from_js(design)?))
}

/// The Vessel place's drawings and figures.
#[derive(Serialize, Tsify)]
pub struct VesselPlace {
    /// The figures.
    pub screen: VesselScreen,
    /// The panel of what is touched.
    pub panel: Option<Panel>,
    /// The half-section, with its height and its diameter to type.
    pub section: Drawn,
    /// The unrolled outside.
    pub unrolled: String,
    /// The ring that is picked out, from above; empty without one.
    pub from_above: String,
    /// How the section maps real lengths: to be handed back while a handle moves.
    pub view: Vec<f64>,
    /// The height at which the section is as large as its width lets it be, CSS pixels.
    pub room: f64,
    /// The height at which a finger hits each row of the unrolled outside, CSS pixels.
    pub rows_room: f64,
}

/// The sizes of the Vessel place's drawings, CSS pixels.
#[derive(Deserialize, Tsify)]
pub struct VesselSizes {
    /// Width of the section.
    pub section_width: f64,
    /// Height of the section.
    pub section_height: f64,
    /// Width of the unrolled outside; 0 asks for the section alone.
    pub unrolled_width: f64,
    /// Height of the unrolled outside.
    pub unrolled_height: f64,
    /// Side of the ring from above.
    pub above_side: f64,
}

/// Everything in the Vessel place; nothing while there is no vessel. `picked` is the name
/// of what is touched, `wood` the place of the wood in hand; `view` the section's view
/// while a handle moves, else empty.
#[wasm_bindgen(unchecked_return_type = "VesselPlace | null")]
pub fn show_vessel(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "VesselSizes")] sizes: JsValue,
    picked: &str,
    wood: usize,
    view: &[f64],
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let sizes: VesselSizes = serde_wasm_bindgen::from_value(sizes)?;
    let Some(plan) = design.stack() else {
        return Ok(JsValue::NULL);
    };
    let is_moving = !view.is_empty();
    let mm = |px: f64| px * MM_PER_PX;
    let section_mm = (mm(sizes.section_width), mm(sizes.section_height));
    let view =
        View::from_numbers(view).unwrap_or_else(|| View::fit(plan, section_mm.0, section_mm.1));
    let thing = Thing::named(picked);
    let pen = Pen::screen(design.unit, "");
    let picked = Picked {
        thing,
        // While a handle moves the order of work is not made anew.
        meets_above: if is_moving {
            0
        } else {
            design.plan.order().map_or(0, |order| order.meeting)
        },
    };
    let built = design.plan.built().filter(|it| it.room.is_some());
    // While a handle moves nothing is offered.
    let nearest = built.filter(|_| !is_moving).and_then(|it| it.nearest(plan));
    let fit = built.map(|built| Fit {
        built,
        nearest: nearest.as_deref(),
    });
    let mut section = drawn_vessel::section(plan, section_mm, &view, picked, fit.as_ref(), &pen);
    if let Some(wall) = &plan.wall {
        drawn_vessel::size(&mut section, &view, wall, &pen);
    }
    let section_only = sizes.unrolled_width <= 0.0;
    if section_only {
        return to_js(&VesselPlace {
            screen: figures::vessel::section_only(&design.plan, &view),
            panel: None,
            section: drawn(to_screen(&section, "section")),
            unrolled: String::new(),
            from_above: String::new(),
            view: view.numbers().to_vec(),
            room: 0.0,
            rows_room: 0.0,
        });
    }
    let unrolled_mm = (mm(sizes.unrolled_width), mm(sizes.unrolled_height));
    let unrolled = drawn_vessel::numbered_unrolled(plan, unrolled_mm, FINGER_ROW_MM, picked);
    let side = mm(sizes.above_side);
    let above = thing.ring().and_then(|place| {
        let planned = plan.rings.get(place)?;
        let mut above = drawn_vessel::ring_from_above(&plan.vessel, place, planned, (side, side));
        drawn_vessel::light_up(&mut above, thing);
        Some(above)
    });
    to_js(&VesselPlace {
        screen: figures::vessel::vessel(&design.plan, &view, picked, nearest.is_some())
            .unwrap_or_default(),
        panel: figures::panel::panel(&design.plan, thing, wood),
        section: drawn(to_screen(&section, "section")),
        unrolled: to_screen(&unrolled, "unrolled").svg,
        from_above: above.map_or_else(String::new, |above| to_screen(&above, "above").svg),
        view: view.numbers().to_vec(),
        room: View::room_mm(plan, section_mm.0) / MM_PER_PX,
        rows_room: Rows::room_mm(&plan.vessel.rings) / MM_PER_PX,
    })
}

/// The table of rings as comma-separated values; empty while there is no vessel.
#[wasm_bindgen]
pub fn rings_csv(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
) -> Result<String, JsError> {
    let design = from_js(design)?;
    Ok(design
        .stack()
        .map_or_else(String::new, crate::show::csv::rings))
}

/// What tells a kept design from others in a list: its size, its rings. Empty where it cannot be
/// read.
#[wasm_bindgen]
pub fn design_in_short(#[wasm_bindgen(unchecked_param_type = "unknown")] kept: JsValue) -> String {
    let value: Option<serde_json::Value> = serde_wasm_bindgen::from_value(kept).ok();
    let read = value.and_then(|value| Design::restore(&value).ok());
    read.map_or_else(String::new, |(design, _)| {
        figures::vessel::design_in_short(&design)
    })
}

/// What a step of undo did, in a few words.
#[wasm_bindgen]
pub fn step_said(
    #[wasm_bindgen(unchecked_param_type = "Design")] before: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Design")] after: JsValue,
) -> Result<String, JsError> {
    let (before, after) = (from_js(before)?, from_js(after)?);
    Ok(figures::step::step(&before, &after))
}

/// The small picture of a way into the page, of the given size in CSS pixels.
#[wasm_bindgen]
pub fn picture_of_way(word: &str, width_px: f64, height_px: f64) -> String {
    let (width, height) = (width_px * MM_PER_PX, height_px * MM_PER_PX);
    let drawing = crate::show::pictures::ways::way(word, width, height);
    to_screen(&drawing, &format!("way-{word}")).svg
}

/// The small picture of the piece with slots begun in this way, of the given size in CSS
/// pixels; empty for a way that there is not.
#[wasm_bindgen]
pub fn picture_of_slots(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    way: &str,
    width_px: f64,
    height_px: f64,
) -> Result<String, JsError> {
    let design = from_js(design)?;
    let (width, height) = (width_px * MM_PER_PX, height_px * MM_PER_PX);
    Ok(Begun::called(way).map_or_else(String::new, |begun| {
        let drawing = crate::show::pictures::ways::slots(&design, begun, width, height);
        to_screen(&drawing, &format!("slots-{way}")).svg
    }))
}

/// The link's part behind `#` of an example; empty for an unknown word.
#[wasm_bindgen]
pub fn example_link(example: &str) -> String {
    let found = crate::design::example::ALL
        .iter()
        .find(|it| it.word == example);
    found.map_or_else(String::new, |found| found.link.to_owned())
}

/// The link's part behind `#`.
#[wasm_bindgen]
pub fn link_of(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
) -> Result<String, JsError> {
    Ok(crate::design::link::encode(&*from_js(design)?))
}

/// The design as a file's text, with what stands at the bench beside it.
#[wasm_bindgen]
pub fn file_text(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Done")] done: JsValue,
) -> Result<String, JsError> {
    let mut value = design::read::to_value(&*from_js(design)?);
    clock::done_in(done).put_into(&mut value);
    let value = to_js(&value)?;
    let text =
        js_sys::JSON::stringify_with_replacer_and_space(&value, &JsValue::NULL, &JsValue::from(2));
    text.map(String::from).map_err(|_| JsError::new("no text"))
}

/// A link as a QR code's `<svg>` of the given side in CSS pixels; empty when the link
/// is too long for a code.
#[wasm_bindgen]
pub fn link_code(link: &str, side_px: f64) -> String {
    let side_mm = side_px * MM_PER_PX;
    let mut drawing = crate::draw::Drawing::new(side_mm, side_mm, words::by_key("share.qr"));
    match qr::qr(link, point(0.0, 0.0), side_mm, qr::SCREEN_MODULE_MM) {
        Ok(marks) => {
            drawing.add_all(marks);
            to_screen(&drawing, "code").svg
        }
        Err(_) => String::new(),
    }
}

fn opened(read: Result<(Design, Vec<Trouble>), (Trouble, Unit)>) -> Result<JsValue, JsError> {
    to_js(&told(read))
}

fn told(read: Result<(Design, Vec<Trouble>), (Trouble, Unit)>) -> Opened {
    let (design, unit, troubles) = match read {
        Ok((design, troubles)) => (Some(design::read::to_value(&design)), design.unit, troubles),
        Err((trouble, unit)) => (None, unit, vec![trouble]),
    };
    Opened {
        design,
        messages: troubles.iter().map(|it| words::trouble(it, unit)).collect(),
    }
}

pub(crate) fn drawn(screen: Screen) -> Drawn {
    Drawn {
        places: screen.placements.iter().map(place).collect(),
        svg: screen.svg,
    }
}

fn place(placement: &Placement) -> Place {
    let before = match placement.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    };
    Place {
        key: placement.field.clone(),
        left: placement.x_px - before * placement.width_px,
        top: placement.y_px - placement.height_px / 2.0,
        width: placement.width_px,
        height: placement.height_px,
    }
}
