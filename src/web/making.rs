//! The door of what boards could become.

use super::memory::{Known, from_js};
use super::values::to_js;
use crate::design::link;
use crate::draw::MM_PER_PX;
use crate::draw::svg::to_layers;
use crate::edit::making::{self, NoMaking, Wanted};
use crate::show::pictures::picture::small;
use crate::show::words::making as said;
use serde::Serialize;
use std::rc::Rc;
use tsify::Tsify;
use wasm_bindgen::prelude::*;

/// A piece that the boards give, as it is shown.
#[derive(Serialize, Tsify)]
pub struct ProposalShown {
    /// What it is: one that comes under the same title takes its place.
    pub title: String,
    /// Titles of those that it makes needless.
    pub outdone: Vec<String>,
    /// The design as a link.
    pub link: String,
    /// What is said of it, one a line.
    pub says: Vec<String>,
    /// Its picture.
    pub picture: String,
    /// Places of glued rings that it leaves over.
    pub left: Vec<usize>,
}

/// A search for what the boards could become, a size or two at a time, so that the page stays
/// fluid.
#[wasm_bindgen]
pub struct Making {
    own: Rc<Known>,
    search: Result<making::Making, NoMaking>,
    size_mm: (f64, f64),
}

#[wasm_bindgen]
impl Making {
    /// Begins a search for a shape by its word, or for the piece that is open: `own`. Pictures
    /// are as large as this, CSS pixels.
    pub fn begin(
        #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
        wanted: &str,
        width_px: f64,
        height_px: f64,
    ) -> Result<Option<Making>, JsError> {
        let own = from_js(design)?;
        let wanted = Wanted::called(wanted);
        let search = wanted.map(|wanted| making::Making::new(&own, wanted));
        let size_mm = (width_px * MM_PER_PX, height_px * MM_PER_PX);
        Ok(search.map(|search| Making {
            own,
            search,
            size_mm,
        }))
    }

    /// The next one; nothing yet where it takes longer.
    #[wasm_bindgen(unchecked_return_type = "ProposalShown | null")]
    pub fn next(&mut self) -> Result<JsValue, JsError> {
        let found = self.search.as_mut().ok().and_then(|it| it.next(1));
        let Some(found) = found else {
            return Ok(JsValue::NULL);
        };
        let (width, height) = self.size_mm;
        let drawn = found.plan.stack().map(|stack| small(stack, width, height));
        to_js(&ProposalShown {
            title: said::title(found.goal).to_owned(),
            outdone: Vec::new(),
            link: link::encode(&found.plan.design),
            says: said::says(&found),
            picture: to_layers(&drawn.unwrap_or_default(), false),
            left: Vec::new(),
        })
    }

    /// Whether nothing more will come.
    pub fn is_done(&self) -> bool {
        self.search.as_ref().map_or(true, making::Making::is_done)
    }

    /// Why nothing came, once it is done; else empty.
    pub fn why_not(&self) -> String {
        let why = match &self.search {
            Ok(search) => search.why_not(),
            Err(why) => Some(why.clone()),
        };
        why.map_or_else(String::new, |why| said::why_not(&why, &self.own))
    }
}
