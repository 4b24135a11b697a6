//! What a word is.

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
