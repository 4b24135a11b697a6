//! What a word is, and what a message.

use serde::Serialize;

/// A word by its key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    /// What the page and its tests know it by.
    pub key: &'static str,
    /// What the turner reads.
    pub text: &'static str,
}

/// A row: key and text.
pub(crate) type Row = (&'static str, &'static str);

/// What the turner is told: at which field, what is wrong, what mends it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Message {
    /// Key of the field; empty when it is about no single field.
    pub field: String,
    /// What is so, with the number.
    pub reason: String,
    /// What to do.
    pub remedy: String,
}
