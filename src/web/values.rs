//! Values as the page's JavaScript has them.

use crate::design::Design;
use crate::show::words;
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// The page's design, read with the same care as a file.
pub(crate) fn from_object(design: JsValue) -> Result<Design, JsError> {
    let value: serde_json::Value = serde_wasm_bindgen::from_value(design)?;
    match Design::restore(&value) {
        Ok((design, _)) => Ok(design),
        Err(trouble) => Err(JsError::new(
            &words::trouble(&trouble, Design::default().unit).reason,
        )),
    }
}

pub(crate) fn to_js(value: &impl Serialize) -> Result<JsValue, JsError> {
    Ok(value.serialize(&serde_wasm_bindgen::Serializer::json_compatible())?)
}
