//! Every plain word that the turner reads, one file a subject.
//!
//! A word that the library tells is a constant, so that the compiler finds a slip of the
//! pen and a word that nothing tells any more. Behind the semicolon stand those that only
//! the page's markup and scripts name, or that a key is put together for: of these the
//! build finds the ones that nobody names.

use super::word::Row;

macro_rules! list {
    ($($name:ident = $key:literal: $text:literal,)* ; $($own:literal: $own_text:literal,)*) => {
        $(pub(crate) const $name: $crate::show::words::word::Word =
            $crate::show::words::word::Word { key: $key, text: $text };)*

        /// Those that the library names, and the others.
        pub(crate) const TABLE: [&[$crate::show::words::word::Row]; 2] =
            [&[$(($key, $text),)*], &[$(($own, $own_text),)*]];
    };
}

pub(crate) mod app;
pub(crate) mod bench;
pub(crate) mod boards;
pub(crate) mod choices;
pub(crate) mod finish;
pub(crate) mod inlay;
pub(crate) mod keep;
pub(crate) mod out_of_true;
pub(crate) mod paper;
pub(crate) mod ring;
pub(crate) mod rows;
pub(crate) mod stripe;
pub(crate) mod vessel;
pub(crate) mod wood;

pub(crate) use app::*;
pub(crate) use bench::*;
pub(crate) use boards::*;
pub(crate) use choices::*;
pub(crate) use finish::*;
pub(crate) use inlay::*;
pub(crate) use out_of_true::*;
pub(crate) use paper::*;
pub(crate) use ring::*;
pub(crate) use rows::*;
pub(crate) use stripe::*;
pub(crate) use vessel::*;
pub(crate) use wood::*;

/// Every subject's.
pub(crate) const TABLES: &[[&[Row]; 2]] = &[
    app::TABLE,
    bench::TABLE,
    boards::TABLE,
    choices::TABLE,
    finish::TABLE,
    inlay::TABLE,
    keep::TABLE,
    out_of_true::TABLE,
    paper::TABLE,
    ring::TABLE,
    rows::TABLE,
    stripe::TABLE,
    vessel::TABLE,
    wood::TABLE,
];
