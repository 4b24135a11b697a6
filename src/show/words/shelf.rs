//! What is said of the shelf.

use super::filled;
use super::list::{
    SHELF_CUT, SHELF_EMPTY, SHELF_FOR, SHELF_FOR_THIS, SHELF_LEFT_OF, SHELF_NONE_FOUND,
    SHELF_NOT_THERE, SHELF_NOT_WHOLE, SHELF_SUM, SHELF_WAS_FOR,
};
use crate::design::shelf::OnShelf;
use crate::edit::shelf::Moved;
use crate::units::length::Unit;
use crate::units::quantity::counted;

fn boards(count: u32) -> String {
    counted(count as usize, "board", "boards")
}

/// Where a row comes from and which design it is kept for.
pub fn about(row: &OnShelf, is_own: bool) -> String {
    let left_of = if row.note.is_empty() {
        String::new()
    } else {
        filled(SHELF_LEFT_OF, &[&row.note])
    };
    let wanted = match (row.wanted_by.is_empty(), is_own) {
        (true, _) => String::new(),
        (false, true) => SHELF_FOR_THIS.text.to_owned(),
        (false, false) => filled(SHELF_FOR, &[&row.wanted_for]),
    };
    let parts: Vec<String> = [left_of, wanted]
        .into_iter()
        .filter(|it| !it.is_empty())
        .collect();
    parts.join("; ")
}

/// How much lies there; that nothing does, or nothing that is looked for.
pub fn sum(count: u32, volume_mm3: f64, is_looked_for: bool, unit: Unit) -> String {
    match (count, is_looked_for) {
        (0, true) => SHELF_NONE_FOUND.text.to_owned(),
        (0, false) => SHELF_EMPTY.text.to_owned(),
        _ => filled(
            SHELF_SUM,
            &[&boards(count), &super::boards::volume(volume_mm3, unit)],
        ),
    }
}

/// Whose the boards were that are taken now; nothing where they were nobody's.
pub fn was_for(row: &OnShelf) -> String {
    if row.wanted_by.is_empty() {
        return String::new();
    }
    filled(SHELF_WAS_FOR, &[&row.wanted_for])
}

/// Why nothing is taken off the shelf yet.
pub fn not_whole() -> String {
    SHELF_NOT_WHOLE.text.to_owned()
}

/// What came of cutting.
pub fn cut(moved: Moved, needed: u32) -> String {
    let missing = needed.saturating_sub(moved.off);
    let said = filled(
        SHELF_CUT,
        &[
            &boards(moved.off),
            &counted(moved.on as usize, "offcut", "offcuts"),
        ],
    );
    if missing == 0 {
        return said;
    }
    let not_there = filled(SHELF_NOT_THERE, &[&boards(missing)]);
    format!("{said} {not_there}")
}
