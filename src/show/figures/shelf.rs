//! The shelf, as the page shows it.

use crate::design::ring_shelf::RingOnShelf;
use crate::design::shelf::{OnShelf, Shelf};
use crate::design::{Design, StackRing};
use crate::show::words;
use crate::units::length::Unit;
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
    /// The rows of boards that were looked for.
    pub rows: Vec<ShelfRow>,
    /// How much they are.
    pub says: String,
    /// Whether the design has boards of its own, that may be laid on it or cut.
    pub has_boards: bool,
    /// Boards and rings as lines that can be read again.
    pub list: String,
    /// The glued rings that were looked for.
    pub rings: Vec<ShelfRow>,
    /// How many they are; empty where there are none.
    pub rings_say: String,
    /// What taking all free rings is called; empty where fewer than two are free.
    pub take_all: String,
    /// Whether glued rings stand in the design, that may be laid on it or glued in.
    pub has_rings: bool,
}

fn ring_row(place: usize, it: &RingOnShelf, id: &str, unit: Unit) -> ShelfRow {
    let is_own = it.wanted_by == id && !id.is_empty();
    ShelfRow {
        place,
        title: words::shelf::ring(it, unit),
        about: words::shelf::about_ring(it, is_own),
        is_own,
        is_free: it.wanted_by.is_empty(),
    }
}

/// What the rows are ordered by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    /// By wood, and of one wood the thickest and longest first.
    #[default]
    Wood,
    /// The thickest first; of rings the highest.
    Thickest,
    /// The longest first; of rings the widest.
    Longest,
    /// What was laid there last first.
    Latest,
}

impl Order {
    /// By its word; by wood for any other.
    pub fn called(word: &str) -> Order {
        match word {
            "thickest" => Order::Thickest,
            "longest" => Order::Longest,
            "latest" => Order::Latest,
            _ => Order::Wood,
        }
    }
}

/// A row's wood, its thickness or height, its length or outside, and its width.
type Traits = (String, [f64; 3]);

fn of_board(row: &OnShelf) -> Traits {
    let board = &row.board;
    let sizes = [board.thickness_mm, board.length_mm, board.width_mm];
    (board.wood.to_lowercase(), sizes)
}

fn of_ring(row: &RingOnShelf) -> Traits {
    let woods = row.woods.join(" ").to_lowercase();
    (woods, [row.ring.height_now_mm(), row.widest_mm(), 0.0])
}

fn sort(rows: &mut [ShelfRow], order: Order, traits: impl Fn(usize) -> Traits) {
    rows.sort_by(|one, other| {
        let ((wood, mine), (others, theirs)) = (traits(one.place), traits(other.place));
        let greater = |at: usize| theirs[at].total_cmp(&mine[at]);
        let by_wood = wood.cmp(&others);
        let [thick, long, wide] = [greater(0), greater(1), greater(2)];
        match order {
            Order::Wood => by_wood.then(thick).then(long).then(wide),
            Order::Thickest => thick.then(long).then(by_wood).then(wide),
            Order::Longest => long.then(thick).then(by_wood).then(wide),
            Order::Latest => other.place.cmp(&one.place),
        }
    });
}

/// What of the shelf is wanted.
#[derive(Clone, Copy, Debug, Default)]
pub struct Look<'a> {
    /// The identity of the open design.
    pub id: &'a str,
    /// Only the rows whose line has all of these words.
    pub find: &'a str,
    /// In this order.
    pub order: Order,
}

/// The shelf beside a design.
pub fn shelf(shelf: &Shelf, design: &Design, look: Look) -> ShelfScreen {
    let (unit, Look { id, find, order }) = (design.unit, look);
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
    let mut rings: Vec<ShelfRow> = shelf
        .rings
        .iter()
        .enumerate()
        .map(|(place, it)| ring_row(place, it, id, unit))
        .collect();
    rings.retain(is_found);
    sort(&mut rings, order, |place| of_ring(&shelf.rings[place]));
    let mut rows: Vec<ShelfRow> = shelf.boards.iter().enumerate().map(row).collect();
    rows.retain(is_found);
    sort(&mut rows, order, |place| of_board(&shelf.boards[place]));
    let boards = || rows.iter().map(|row| &shelf.boards[row.place].board);
    let volume_mm3 = boards()
        .map(|it| it.thickness_mm * it.width_mm * it.length_mm * f64::from(it.number))
        .sum();
    let own_rings = || rings.iter().map(|row| &shelf.rings[row.place]);
    let lines: Vec<String> = boards()
        .map(|it| words::boards::board_typed(it, unit))
        .chain(own_rings().map(|it| words::shelf::ring_typed(it, unit)))
        .collect();
    let free_count = shelf
        .rings
        .iter()
        .filter(|it| it.wanted_by.is_empty())
        .count();
    let stack = design.vessel.iter().flat_map(|it| &it.rings);
    ShelfScreen {
        says: words::shelf::sum(
            boards().map(|it| it.number).sum(),
            volume_mm3,
            rings.len(),
            !wanted.is_empty(),
            unit,
        ),
        has_boards: design.rack.as_ref().is_some_and(|it| !it.boards.is_empty()),
        list: lines.join("\n"),
        rings_say: words::shelf::rings(rings.len()),
        take_all: words::shelf::take_all(free_count),
        has_rings: stack.into_iter().any(StackRing::is_glued),
        rows,
        rings,
    }
}
