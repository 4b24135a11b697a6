//! Lengths of a board: it is ripped whole, or sawn across into two lengths first. A band of it
//! ([`crate::plan::band`]) is a length too, narrower than the board.
//!
//! Where to saw across: at the least length of which so many pieces of a need come, for every
//! need and number. No other place does better: moved to the left until the left length would
//! lose a piece, a cut leaves the left length all that it gives, and lengthens the right one.

use crate::design::Board;
use crate::plan::need::{Need, Saw};
use crate::solve::sorted::order;

/// The shortest length that is ripped into strips, 12 in: a shorter one turns at the fence and
/// is thrown back. Squares for discs are taken from a shorter one all the same: they are sawn
/// apart and round on the band saw (common practice, no published source).
pub const SHORTEST_RIPPED_MM: f64 = 12.0 * crate::units::length::MM_PER_INCH;

/// A length of a board, as wide as it or narrower.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Length {
    /// Where it begins, from the board's left end.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// Where its near edge is, from the board's near edge.
    pub near_mm: f64,
    /// Where its far edge is.
    pub far_mm: f64,
}

impl Length {
    /// All of a board.
    pub fn whole(board: &Board) -> Length {
        Length {
            from_mm: 0.0,
            to_mm: board.length_mm,
            near_mm: 0.0,
            far_mm: board.width_mm,
        }
    }

    /// The two that a board is sawn into, the left one so long.
    pub fn both(board: &Board, left_mm: f64, saw: &Saw) -> [Length; 2] {
        let whole = Length::whole(board);
        [
            Length {
                to_mm: left_mm,
                ..whole
            },
            Length {
                from_mm: left_mm + saw.kerf_mm,
                ..whole
            },
        ]
    }

    /// How long it is.
    pub fn mm(&self) -> f64 {
        self.to_mm - self.from_mm
    }

    /// How wide it is.
    pub fn width_mm(&self) -> f64 {
        self.far_mm - self.near_mm
    }

    /// Whether it was sawn off a board, and is too short to be ripped at the fence.
    pub fn is_short(&self, board: &Board) -> bool {
        let is_sawn_off = self.from_mm > 0.0 || self.to_mm < board.length_mm;
        is_sawn_off && self.mm() < SHORTEST_RIPPED_MM - 1e-6
    }
}

/// Pieces cut one after the other between two spots to avoid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Where the fresh end is, from the board's left end.
    pub start_mm: f64,
    /// How many pieces.
    pub count: u32,
}

impl Run {
    /// Where its last cut ends, on the edge that it reaches last.
    pub fn end_mm(&self, need: &Need, saw: &Saw) -> f64 {
        self.start_mm + need.run_mm() + f64::from(self.count) * need.pitch_mm(saw.kerf_mm)
    }
}

/// The runs of pieces that a strip of this length of a board yields, cut from its left end,
/// wherever across the length it lies.
pub fn runs(board: &Board, length: &Length, need: &Need, saw: &Saw) -> Vec<Run> {
    if length.is_short(board) && !need.is_disc() {
        return Vec::new();
    }
    let pitch = need.pitch_mm(saw.kerf_mm);
    // The last cut at a square's end may leave the board, or fall into what is avoided.
    let past_mm = if need.is_square() { saw.kerf_mm } else { 0.0 };
    let held_until = length.to_mm - need.held_mm(saw);
    let mut runs = Vec::new();
    let mut cut_until = length.from_mm;
    for (from, to) in board.clear_mm((length.near_mm, length.far_mm)) {
        let from = from.max(cut_until);
        let end = (to + past_mm).min(held_until);
        // A hair keeps an exact fit from being lost to rounding.
        let fit = ((end - from - need.run_mm()) / pitch + 1e-9).floor();
        let count = fit.clamp(0.0, 100_000.0) as u32;
        if count > 0 {
            runs.push(Run {
                start_mm: from,
                count,
            });
            cut_until = from + f64::from(count) * pitch;
        }
    }
    runs
}

/// The shortest length of a board that a need's strips come from.
pub fn shortest_mm(board: &Board, need: &Need) -> f64 {
    if need.is_disc() {
        0.0
    } else {
        SHORTEST_RIPPED_MM.min(board.length_mm)
    }
}

/// Pieces that a strip of this length yields.
pub fn yielded(board: &Board, length: &Length, need: &Need, saw: &Saw) -> u32 {
    let runs = runs(board, length, need, saw);
    runs.iter().map(|run| run.count).sum()
}

/// The left lengths that a board may be sawn into first for these needs, the shortest first.
pub fn places<'a>(board: &Board, needs: impl Iterator<Item = &'a Need>, saw: &Saw) -> Vec<f64> {
    let mut places: Vec<f64> = Vec::new();
    let whole = Length::whole(board);
    for need in needs {
        let pitch = need.pitch_mm(saw.kerf_mm);
        let held_mm = need.held_mm(saw);
        let least_mm = shortest_mm(board, need);
        let runs = runs(board, &whole, need, saw);
        let ends = runs.iter().flat_map(|run| {
            let first = run.start_mm + need.run_mm();
            (1..=run.count).map(move |piece| first + f64::from(piece) * pitch + held_mm)
        });
        let ends = ends.take(need.count() as usize).map(|it| it.max(least_mm));
        places.extend(ends.filter(|end| end + saw.kerf_mm < board.length_mm));
    }
    let mut sorted: Vec<f64> = order(&places).into_iter().map(|it| places[it]).collect();
    // Of nearly the same two the longer: it loses nothing to rounding.
    sorted.dedup_by(|later, kept| {
        let is_same = *later - *kept < 1e-6;
        if is_same {
            *kept = *later;
        }
        is_same
    });
    sorted
}
