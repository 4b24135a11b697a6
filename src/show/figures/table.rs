//! A table as the page sets it: named columns, and rows that are named too.

use crate::show::words::Word;
use crate::units::length::Shown;
use serde::Serialize;

/// A table.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Table {
    /// Its columns; what a row is about stands in the first.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A column.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Column {
    /// What it is: the key of its word.
    pub key: &'static str,
    /// Its head.
    pub label: &'static str,
}

/// A row.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Row {
    /// What it is about, as a change takes it.
    pub id: String,
    /// Whether it is the one at hand.
    pub is_current: bool,
    /// A color to know it by, `#rrggbb`; may be empty.
    pub color: String,
    /// Its figures, one a column.
    pub cells: Vec<Shown>,
    /// What each column puts the rows in order by; empty where they are not put in order.
    pub order: Vec<f64>,
}

impl Table {
    /// A table under these heads.
    pub fn new(heads: &[Word], rows: Vec<Row>) -> Table {
        let column = |head: &Word| Column {
            key: head.key,
            label: head.text,
        };
        Table {
            columns: heads.iter().map(column).collect(),
            rows,
        }
    }
}
