//! The door of what goes with the rings that are glued.

use super::memory::from_js;
use super::values::to_js;
use crate::design::link;
use crate::draw::MM_PER_PX;
use crate::draw::svg::to_layers;
use crate::edit::gathering::{self, Gathered, NoGathering};
use crate::show::pictures::picture::small;
use crate::show::words::gathering as said;
use crate::web::making::ProposalShown;
use std::collections::VecDeque;
use wasm_bindgen::prelude::*;

/// A search for stacks of the glued rings, a size at a time, so that the page stays fluid.
#[wasm_bindgen]
pub struct Gathering {
    search: Result<gathering::Gathering, NoGathering>,
    found: VecDeque<Gathered>,
    size_mm: (f64, f64),
}

#[wasm_bindgen]
impl Gathering {
    /// Begins a search for a shape by its word; nothing for a word that is none. Pictures are as
    /// large as this, CSS pixels.
    pub fn begin(
        #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
        wanted: &str,
        width_px: f64,
        height_px: f64,
    ) -> Result<Option<Gathering>, JsError> {
        let search = gathering::Gathering::new(&*from_js(design)?, wanted);
        let size_mm = (width_px * MM_PER_PX, height_px * MM_PER_PX);
        Ok(search.map(|search| Gathering {
            search,
            found: VecDeque::new(),
            size_mm,
        }))
    }

    /// The next one; nothing yet where it takes longer.
    #[wasm_bindgen(unchecked_return_type = "ProposalShown | null")]
    pub fn next(&mut self) -> Result<JsValue, JsError> {
        if let (true, Ok(search)) = (self.found.is_empty(), &mut self.search) {
            self.found.extend(search.look());
        }
        let Some(found) = self.found.pop_front() else {
            return Ok(JsValue::NULL);
        };
        let (width, height) = self.size_mm;
        let drawn = found.plan.stack().map(|stack| small(stack, width, height));
        to_js(&ProposalShown {
            title: said::title(found.new_count),
            outdone: found.outdone.iter().map(|it| said::title(*it)).collect(),
            link: link::encode(&found.plan.design),
            says: said::says(&found),
            picture: to_layers(&drawn.unwrap_or_default(), false),
            left: found.left,
        })
    }

    /// Whether nothing more will come.
    pub fn is_done(&self) -> bool {
        let is_done = |it: &gathering::Gathering| it.is_done();
        self.found.is_empty() && self.search.as_ref().map_or(true, is_done)
    }

    /// Why nothing came, once it is done; else empty.
    pub fn why_not(&self) -> String {
        let why = match &self.search {
            Ok(search) => search.why_not(),
            Err(why) => Some(*why),
        };
        why.map_or_else(String::new, |why| said::why_not(why).to_owned())
    }
}
