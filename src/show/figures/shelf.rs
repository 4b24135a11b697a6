//! The shelf, as the page shows it.

use crate::design::Design;
use crate::design::shelf::{OnShelf, Shelf};
use crate::show::words;
use serde::Serialize;

/// A row of the shelf.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct ShelfRow {
    /// Its place on the shelf.
    pub place: usize,
    /// The boards.
    pub title: String,
    /// Where they come from, and what for; may be empty.
    pub about: String,
    /// Whether they are kept for this design.
    pub is_own: bool,
    /// Whether they are free.
    pub is_free: bool,
}

/// The shelf.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct ShelfScreen {
    /// The rows that were looked for, by wood, the thickest and longest first.
    pub rows: Vec<ShelfRow>,
    /// How much they are.
    pub says: String,
    /// Whether the design has boards of its own, that may be laid on it or cut.
    pub has_boards: bool,
    /// The same as lines that can be read again.
    pub list: String,
}

/// The shelf beside a design whose identity is `id`; with what is typed into its finder, only
/// the rows whose line has all of these words.
pub fn shelf(shelf: &Shelf, design: &Design, id: &str, find: &str) -> ShelfScreen {
    let unit = design.unit;
    let wanted: Vec<String> = find.split_whitespace().map(str::to_lowercase).collect();
    let row = |(place, it): (usize, &OnShelf)| {
        let is_own = it.wanted_by == id && !id.is_empty();
        ShelfRow {
            place,
            title: words::boards::board_alone(&it.board, unit),
            about: words::shelf::about(it, is_own),
            is_own,
            is_free: it.wanted_by.is_empty(),
        }
    };
    let is_found = |row: &ShelfRow| {
        let line = format!("{} {}", row.title, row.about).to_lowercase();
        wanted.iter().all(|word| line.contains(word))
    };
    let mut rows: Vec<ShelfRow> = shelf.boards.iter().enumerate().map(row).collect();
    rows.retain(is_found);
    rows.sort_by(|one, other| {
        let of = |row: &ShelfRow| &shelf.boards[row.place].board;
        let (one, other) = (of(one), of(other));
        let by_wood = one.wood.to_lowercase().cmp(&other.wood.to_lowercase());
        by_wood
            .then(other.thickness_mm.total_cmp(&one.thickness_mm))
            .then(other.length_mm.total_cmp(&one.length_mm))
            .then(other.width_mm.total_cmp(&one.width_mm))
    });
    let boards = || rows.iter().map(|row| &shelf.boards[row.place].board);
    let volume_mm3 = boards()
        .map(|it| it.thickness_mm * it.width_mm * it.length_mm * f64::from(it.number))
        .sum();
    let lines: Vec<String> = boards()
        .map(|it| words::boards::board_typed(it, unit))
        .collect();
    ShelfScreen {
        says: words::shelf::sum(
            boards().map(|it| it.number).sum(),
            volume_mm3,
            !wanted.is_empty(),
            unit,
        ),
        has_boards: design.rack.as_ref().is_some_and(|it| !it.boards.is_empty()),
        list: lines.join("\n"),
        rows,
    }
}
