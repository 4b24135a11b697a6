//! What a hand does to the shelf: boards laid on it, taken for a design, given back, and, once
//! they are cut, what is left of them. Each change takes a shelf, where it touches one a design,
//! and gives new ones: no board is made or lost on the way.

use super::board_list::add_boards;
use super::ring_list::is_ring;
use super::ring_shelf;
use crate::design::field::{key, most_of};
use crate::design::shelf::{MOST_ON_SHELF, OnShelf, Shelf, avoided};
pub use crate::design::shelf::{Moved, Taker};
use crate::design::trouble::{Reason, Trouble};
use crate::design::{Board, Design, Rack, ThicknessIs};
use crate::plan::board::{Answer, Layout, saw};
use crate::plan::left;
use crate::trade::wood;

/// Whether two boards are alike, whatever their number and price.
fn is_alike(one: &Board, other: &Board) -> bool {
    const SAME_MM: f64 = 1e-6;
    let sizes = |it: &Board| [it.thickness_mm, it.width_mm, it.length_mm];
    let is_near = |(one, other): (&f64, &f64)| (one - other).abs() < SAME_MM;
    wood::is_same(&one.wood, &other.wood)
        && one.thickness_is == other.thickness_is
        && one.avoid == other.avoid
        && sizes(one).iter().zip(&sizes(other)).all(is_near)
}

/// Lays boards on a shelf, beside those alike that are noted and wanted alike.
fn lay(shelf: &mut Shelf, row: OnShelf) -> Result<(), Trouble> {
    if row.board.number == 0 {
        return Ok(());
    }
    let is_same = |it: &&mut OnShelf| {
        let about = |it: &OnShelf| (it.note.clone(), it.wanted_by.clone(), it.board.price);
        is_alike(&it.board, &row.board) && about(it) == about(&row)
    };
    if let Some(same) = shelf.boards.iter_mut().find(is_same) {
        same.board.number = same.board.number.saturating_add(row.board.number);
        return Ok(());
    }
    if shelf.boards.len() >= MOST_ON_SHELF {
        return Err(Trouble::at(
            key::BOARDS,
            Reason::TooManyBoards(MOST_ON_SHELF),
        ));
    }
    shelf.boards.push(row);
    Ok(())
}

fn free(board: Board, note: &str) -> OnShelf {
    OnShelf {
        board,
        note: note.to_owned(),
        wanted_by: String::new(),
        wanted_for: String::new(),
    }
}

/// Lays boards and glued rings on the shelf that are typed or pasted in one go, in the design's
/// unit: a line that begins with `ring` is one.
///
/// # Errors
/// Names the line and the number that cannot be read, or says that the shelf is full.
pub fn list(shelf: &Shelf, design: &Design, typed: &str) -> Result<Shelf, Trouble> {
    let bare = Design {
        rack: None,
        ..design.clone()
    };
    let mut next = shelf.clone();
    let lines = typed.split([';', '\n', '\r']);
    for (line, text) in lines.filter(|it| !it.trim().is_empty()).enumerate() {
        if is_ring(text) {
            ring_shelf::list(&mut next, design, text, line)?;
            continue;
        }
        let read = add_boards(&bare, text).map_err(|it| of_line(it, line))?;
        for board in read.rack.unwrap_or_else(Rack::empty).boards {
            lay(&mut next, free(board, ""))?;
        }
    }
    Ok(next)
}

/// A trouble of a line that was read alone.
fn of_line(trouble: Trouble, line: usize) -> Trouble {
    let mut parts: Vec<&str> = trouble.field.split('.').collect();
    let own = parts.get(2).and_then(|it| it.parse::<usize>().ok());
    let Some(own) = own else { return trouble };
    let at = (own + line).to_string();
    parts[2] = &at;
    Trouble::at(parts.join("."), trouble.reason)
}

/// Lays the boards of a design on the shelf that do not lie there for it already, and keeps
/// them for it.
///
/// # Errors
/// When the shelf is full.
pub fn put(shelf: &Shelf, design: &Design, taker: Taker) -> Result<Shelf, Trouble> {
    let mut next = shelf.clone();
    for board in design.rack.iter().flat_map(|rack| &rack.boards) {
        let there = |it: &&OnShelf| it.wanted_by == taker.id && is_alike(&it.board, board);
        let known: u32 = shelf
            .boards
            .iter()
            .filter(there)
            .map(|it| it.board.number)
            .sum();
        let row = OnShelf {
            board: Board {
                number: board.number.saturating_sub(known),
                ..board.clone()
            },
            note: String::new(),
            wanted_by: taker.id.to_owned(),
            wanted_for: taker.name.to_owned(),
        };
        lay(&mut next, row)?;
    }
    Ok(next)
}

/// Takes a row's boards for a design: they stay on the shelf, kept for it, until they are cut.
/// What another design wants is left to it, and asked for there.
///
/// # Errors
/// When the design has no room for more boards.
pub fn take(
    shelf: &Shelf,
    place: usize,
    design: &Design,
    taker: Taker,
) -> Result<(Shelf, Design), Trouble> {
    let (mut next, mut design) = (shelf.clone(), design.clone());
    let Some(row) = next
        .boards
        .get_mut(place)
        .filter(|it| it.wanted_by != taker.id)
    else {
        return Ok((next, design));
    };
    let rack = design.rack.get_or_insert_with(Rack::empty);
    let most = most_of(key::BOARDS);
    match rack.boards.iter().position(|it| is_alike(it, &row.board)) {
        Some(alike) => {
            let own = &mut rack.boards[alike];
            own.number = own.number.saturating_add(row.board.number);
        }
        None if rack.boards.len() >= most => {
            return Err(Trouble::at(key::BOARDS, Reason::TooManyBoards(most)));
        }
        None => rack.boards.push(row.board.clone()),
    }
    taker.id.clone_into(&mut row.wanted_by);
    taker.name.clone_into(&mut row.wanted_for);
    Ok((next, design))
}

/// Sets a row free again. Where it was this design's, its boards go from the design's list.
pub fn give_back(shelf: &Shelf, place: usize, design: &Design, taker: Taker) -> (Shelf, Design) {
    let (mut next, mut design) = (shelf.clone(), design.clone());
    let Some(row) = next.boards.get_mut(place) else {
        return (next, design);
    };
    if row.wanted_by == taker.id
        && let Some(rack) = &mut design.rack
        && let Some(own) = rack.boards.iter().position(|it| is_alike(it, &row.board))
    {
        let left = rack.boards[own].number.saturating_sub(row.board.number);
        rack.boards[own].number = left;
        if left == 0 {
            rack.boards.remove(own);
        }
    }
    row.wanted_by.clear();
    row.wanted_for.clear();
    (next, design)
}

/// Lays all of another shelf beside what is there, its rings too: what it kept for designs is
/// free.
///
/// # Errors
/// When the shelf is full.
pub fn open(shelf: &Shelf, other: &Shelf) -> Result<Shelf, Trouble> {
    let mut next = shelf.clone();
    for row in &other.boards {
        lay(&mut next, free(row.board.clone(), &row.note))?;
    }
    ring_shelf::open(&mut next, other)?;
    Ok(next)
}

/// Takes one board of a row away, and the row with its last one.
pub fn remove_one(shelf: &Shelf, place: usize) -> Shelf {
    let mut next = shelf.clone();
    if let Some(row) = next.boards.get_mut(place) {
        row.board.number -= 1;
        if row.board.number == 0 {
            next.boards.remove(place);
        }
    }
    next
}

/// Adds one board to a row.
pub fn add_one(shelf: &Shelf, place: usize) -> Shelf {
    let mut next = shelf.clone();
    if let Some(row) = next.boards.get_mut(place) {
        row.board.number = row.board.number.saturating_add(1).min(10_000);
    }
    next
}

/// The boards of a design are cut as its plan says: they go from the shelf, those kept for it
/// first and free ones after them, never another design's; what is left of them, an inch or more
/// either way, is laid on it; and what was kept for it and is not needed is free again.
///
/// # Errors
/// When the shelf has no room for what is left.
pub fn cut(
    shelf: &Shelf,
    design: &Design,
    answer: &Answer,
    taker: Taker,
) -> Result<(Shelf, Moved), Trouble> {
    let mut next = shelf.clone();
    let mut moved = Moved::default();
    let boards = design.rack.as_ref().map_or(&[][..], |rack| &rack.boards);
    for layout in &answer.layouts {
        let Some(board) = boards.get(layout.board) else {
            continue;
        };
        if !layout.is_extra {
            moved.off += take_off(&mut next, board, layout.times, taker);
        }
        for piece in left_of(design, board, layout, answer) {
            moved.on += piece.number;
            lay(&mut next, free(piece, taker.name))?;
        }
    }
    for row in &mut next.boards {
        if row.wanted_by == taker.id {
            row.wanted_by.clear();
            row.wanted_for.clear();
        }
    }
    Ok((next, moved))
}

/// Takes so many boards off the shelf, or as many as there are; returns how many.
fn take_off(shelf: &mut Shelf, board: &Board, count: u32, taker: Taker) -> u32 {
    let mut left = count;
    for wanted_by in [taker.id, ""] {
        for row in &mut shelf.boards {
            if row.wanted_by == wanted_by && is_alike(&row.board, board) {
                let taken = left.min(row.board.number);
                row.board.number -= taken;
                left -= taken;
            }
        }
    }
    shelf.boards.retain(|row| row.board.number > 0);
    count - left
}

/// What is left of a layout's boards, to be kept. The end of a strip is planed as the strip.
fn left_of(design: &Design, board: &Board, layout: &Layout, answer: &Answer) -> Vec<Board> {
    let pieces = left::pieces(board, layout, answer, &saw(design)).into_iter();
    let kept = pieces.map(|piece| {
        let planed_mm = piece
            .need
            .and_then(|need| answer.needs.get(need))
            .map(|it| it.height_mm);
        Board {
            wood: board.wood.clone(),
            thickness_mm: planed_mm.unwrap_or(board.thickness_mm),
            thickness_is: planed_mm.map_or(board.thickness_is, |_| ThicknessIs::Planed),
            width_mm: piece.width_mm,
            length_mm: piece.length_mm,
            number: layout.times,
            price: None,
            price_for: board.price_for,
            avoid: avoided(
                board,
                (piece.from_mm, piece.from_mm + piece.length_mm),
                (piece.across_mm, piece.across_mm + piece.width_mm),
            ),
        }
    });
    kept.collect()
}
