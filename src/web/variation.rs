//! The door of the sheet of variations.

use super::memory::{Known, from_js};
use super::values::to_js;
use crate::design::link;
use crate::draw::svg::{to_file, to_layers};
use crate::draw::{Drawing, MM_PER_PX, Typeface, pdf};
use crate::edit::variation::{self, Variation};
use crate::plan::Plan;
use crate::show::pictures::picture::small;
use crate::show::pictures::variations::{self, Told};
use crate::show::words;
use serde::Serialize;
use std::rc::Rc;
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// A variation as it is shown.
#[derive(Serialize, Tsify)]
pub struct VariationShown {
    /// The design as a link.
    pub link: String,
    /// In what it differs, one a line.
    pub says: Vec<String>,
    /// What its boards do not give, where boards are entered; else empty.
    pub missing: String,
    /// Its picture.
    pub picture: String,
}

/// A search for variations, a few tries at a time, so that the page stays fluid.
#[wasm_bindgen]
pub struct Variations {
    own: Rc<Known>,
    search: variation::Variations,
    size_mm: (f64, f64),
    told: Vec<Told>,
}

/// How many tries are made at once: some milliseconds.
const TRIES: u32 = 3;

/// How long boards are looked for, in the search's own measure.
const WORK: u64 = 20_000;

#[wasm_bindgen]
impl Variations {
    /// Begins a search: the same piece, seed and reach (0 near, 1 far) give the same ones.
    /// Nothing where there is no piece. Pictures are as large as this, CSS pixels.
    pub fn begin(
        #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
        seed: u32,
        reach: f64,
        width_px: f64,
        height_px: f64,
    ) -> Result<Option<Variations>, JsError> {
        let own = from_js(design)?;
        let search = variation::Variations::new(&own.plan, seed, reach);
        let size_mm = (width_px * MM_PER_PX, height_px * MM_PER_PX);
        Ok(search.map(|search| Variations {
            own,
            search,
            size_mm,
            told: Vec::new(),
        }))
    }

    /// The picture of the piece itself.
    pub fn own_svg(&self) -> String {
        to_layers(&self.picture(&self.own.plan), false)
    }

    /// The next one; nothing yet where it takes longer.
    #[wasm_bindgen(unchecked_return_type = "VariationShown | null")]
    pub fn next(&mut self) -> Result<JsValue, JsError> {
        let Some(Variation { plan, differs }) = self.search.next(TRIES) else {
            return Ok(JsValue::NULL);
        };
        let vessel = plan.design.vessel.as_ref();
        let says = vessel.map_or_else(Vec::new, |vessel| words::variation::says(&differs, vessel));
        let drawn = self.picture(&plan);
        let shown = VariationShown {
            link: link::encode(&plan.design),
            says: says.clone(),
            missing: words::variation::missing(plan.boards(WORK).as_ref()),
            picture: to_layers(&drawn, false),
        };
        self.told.push((drawn, says));
        to_js(&shown)
    }

    /// All that were found on one sheet, as a picture.
    pub fn sheet_svg(&self) -> String {
        to_file(&self.sheet())
    }

    /// The same to be printed, in the typeface if it is there.
    #[allow(
        clippy::needless_pass_by_value,
        reason = "lists cross the door by value"
    )]
    pub fn sheet_pdf(&self, typeface: Option<Vec<u8>>) -> Vec<u8> {
        let typeface = typeface.as_deref().and_then(Typeface::read);
        let sheet = self.sheet();
        let info = pdf::Info {
            title: sheet.title.clone(),
            ..pdf::Info::default()
        };
        pdf::to_pdf(&[sheet], &info, typeface.as_ref())
    }

    /// Whether nothing more will come.
    pub fn is_done(&self) -> bool {
        self.search.is_done()
    }
}

impl Variations {
    fn sheet(&self) -> Drawing {
        variations::sheet(&self.own.name, &self.told)
    }

    fn picture(&self, plan: &Plan) -> Drawing {
        let (width, height) = self.size_mm;
        let drawn = plan.stack().map(|stack| small(stack, width, height));
        drawn.unwrap_or_default()
    }
}
