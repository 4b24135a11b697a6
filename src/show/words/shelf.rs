//! What is said of the shelf.

use super::filled;
use super::list::{
    SHELF_CUT, SHELF_DISC, SHELF_EMPTY, SHELF_FOR, SHELF_FOR_THIS, SHELF_GLUED, SHELF_GLUED_FREE,
    SHELF_LEFT_OF, SHELF_NONE_FOUND, SHELF_NOT_THERE, SHELF_NOT_WHOLE, SHELF_RING, SHELF_SUM,
    SHELF_TAKE_ALL, SHELF_WAS_FOR,
};
use crate::design::MadeOf;
use crate::design::ring_shelf::RingOnShelf;
use crate::design::shelf::{Moved, OnShelf};
use crate::units::length::{Unit, entry_text, show};
use crate::units::quantity::counted;

fn boards(count: u32) -> String {
    counted(count as usize, "board", "boards")
}

/// Where a row comes from and which design it is kept for.
pub fn about(row: &OnShelf, is_own: bool) -> String {
    let wanted = wanted(&row.wanted_by, &row.wanted_for, is_own);
    joined(&[left_of(&row.note), wanted])
}

fn left_of(note: &str) -> String {
    if note.is_empty() {
        return String::new();
    }
    filled(SHELF_LEFT_OF, &[note])
}

fn wanted(by: &str, by_name: &str, is_own: bool) -> String {
    match (by.is_empty(), is_own) {
        (true, _) => String::new(),
        (false, true) => SHELF_FOR_THIS.text.to_owned(),
        (false, false) => filled(SHELF_FOR, &[by_name]),
    }
}

fn joined(parts: &[String]) -> String {
    let said = parts.iter().filter(|it| !it.is_empty());
    said.map(String::as_str).collect::<Vec<_>>().join("; ")
}

/// A glued ring: its sizes as measured.
pub fn ring(row: &RingOnShelf, unit: Unit) -> String {
    let Some(measured) = &row.ring.measured else {
        return String::new();
    };
    let faces = |lower: Option<f64>, upper: Option<f64>| {
        let shown = |it: f64| show(it, unit).text;
        match (lower, upper) {
            (Some(lower), Some(upper)) if (lower - upper).abs() > 1e-6 => {
                format!("{} to {}", shown(lower), shown(upper))
            }
            _ => lower.or(upper).map_or_else(String::new, shown),
        }
    };
    let outside = faces(
        measured.outside_diameter_mm,
        measured.upper_outside_diameter_mm,
    );
    let hole = faces(
        measured.inside_diameter_mm,
        measured.upper_inside_diameter_mm,
    );
    let high = show(row.ring.height_now_mm(), unit).line();
    match row.ring.made_of {
        MadeOf::Disc => filled(SHELF_DISC, &[&outside, &high]),
        MadeOf::Segments => filled(SHELF_RING, &[&outside, &hole, &high]),
    }
}

/// Its segments and woods, where it comes from and which design it is kept for.
pub fn about_ring(row: &RingOnShelf, is_own: bool) -> String {
    let wanted = wanted(&row.wanted_by, &row.wanted_for, is_own);
    let woods = row.woods.join(" and ");
    let count = match row.ring.made_of {
        MadeOf::Disc => woods,
        MadeOf::Segments => format!("{} segments, {woods}", row.ring.segment_count),
    };
    joined(&[count, left_of(&row.note), wanted])
}

/// A glued ring as a line of a list that can be read again.
pub fn ring_typed(row: &RingOnShelf, unit: Unit) -> String {
    let measured = row.ring.measured.as_ref();
    let typed = |lower: Option<f64>, upper: Option<f64>| {
        lower
            .or(upper)
            .map_or_else(String::new, |it| entry_text(it, unit))
    };
    let of = |outside: bool| {
        measured.map_or_else(String::new, |it| {
            if outside {
                typed(it.outside_diameter_mm, it.upper_outside_diameter_mm)
            } else {
                typed(it.inside_diameter_mm, it.upper_inside_diameter_mm)
            }
        })
    };
    format!(
        "ring {} x {} x {}, {} segments, {}",
        of(true),
        of(false),
        entry_text(row.ring.height_now_mm(), unit),
        row.ring.segment_count,
        row.woods.join(" and ")
    )
}

fn rings_counted(count: usize) -> String {
    counted(count, "glued ring", "glued rings")
}

/// How many glued rings lie there; empty where there are none.
pub fn rings(count: usize) -> String {
    if count == 0 {
        return String::new();
    }
    format!("{}.", rings_counted(count))
}

/// What taking all free rings is called; empty where there are not two.
pub fn take_all(free_count: usize) -> String {
    if free_count < 2 {
        return String::new();
    }
    filled(SHELF_TAKE_ALL, &[&free_count.to_string()])
}

/// What came of gluing a piece's rings in.
pub fn glued_in(moved: Moved) -> String {
    let off = rings_counted(moved.off as usize);
    match moved.on {
        0 => filled(SHELF_GLUED, &[&off]),
        free => filled(SHELF_GLUED_FREE, &[&off, &rings_counted(free as usize)]),
    }
}

/// How much lies there; that nothing does, or nothing that is looked for.
pub fn sum(
    board_count: u32,
    volume_mm3: f64,
    ring_count: usize,
    is_looked_for: bool,
    unit: Unit,
) -> String {
    let volume = super::boards::volume(volume_mm3, unit);
    match (board_count, ring_count, is_looked_for) {
        (0, 0, true) => SHELF_NONE_FOUND.text.to_owned(),
        (0, 0, false) => SHELF_EMPTY.text.to_owned(),
        (0, rings, _) => self::rings(rings),
        (count, 0, _) => filled(SHELF_SUM, &[&boards(count), &volume]),
        (count, rings, _) => {
            let boards = format!("{}, {volume}", boards(count));
            filled(SHELF_SUM, &[&boards, &rings_counted(rings)])
        }
    }
}

/// Whose it was that is taken now; nothing where it was nobody's.
pub fn was_for(wanted_by: &str, wanted_for: &str) -> String {
    if wanted_by.is_empty() {
        return String::new();
    }
    filled(SHELF_WAS_FOR, &[wanted_for])
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
