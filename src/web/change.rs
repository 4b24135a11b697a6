//! The door for changes by hand.

use super::memory::{from_js, hand_over};
use crate::show::change as hand;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(typescript_custom_section)]
const CHANGE_TYPE: &str = hand::TYPESCRIPT;

/// Changes the design as a hand does; what does not fit leaves it as it was.
#[wasm_bindgen(unchecked_return_type = "Design")]
pub fn change(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Change")] change: JsValue,
) -> Result<JsValue, JsError> {
    let design = from_js(design)?;
    let asked = serde_wasm_bindgen::from_value(change)?;
    let next = hand::change(&design, &asked).map_err(|said| JsError::new(&said))?;
    hand_over(&next)
}
