//! What is to be packed, what is left of it on the way, and the answer.

/// A kind of board.
#[derive(Clone, Debug, PartialEq)]
pub struct Bin {
    /// What one costs, above 0.
    pub cost: f64,
    /// How many there are.
    pub number: u32,
    /// Width, in units of which sizes are multiples.
    pub capacity: u32,
    /// What an item of each demand takes of the width, and yields.
    pub items: Vec<Item>,
}

/// An item of a demand on one kind of board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// What it takes of the width, above 0.
    pub size: u32,
    /// Pieces that it yields; 0 when this board cannot hold it.
    pub units: u32,
}

/// What is to be packed.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Pieces wanted of each demand.
    pub demands: Vec<u32>,
    /// The kinds of boards.
    pub bins: Vec<Bin>,
    /// How much cheaper an answer must be to be worth looking for: nearly 1 when boards
    /// are counted.
    pub least_gain: f64,
}

/// Items of a board: a demand's place and how many items of it.
pub type Pattern = Vec<(usize, u32)>;

/// Boards cut alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed {
    /// Which kind.
    pub bin: usize,
    /// Whether they are more than there are, to be bought.
    pub is_extra: bool,
    /// What is cut from each.
    pub pattern: Pattern,
    /// How many.
    pub times: u32,
}

/// An answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Packing {
    /// The boards.
    pub boards: Vec<Packed>,
    /// What they cost, those to be bought beyond the number at hand not counted dearer.
    pub cost: f64,
    /// How many of them are extra.
    pub extra: u32,
}

/// Numbers closer than this are the same, costs being near 1.
pub(super) const HAIR: f64 = 1e-9;

/// Where boards of a kind come from: so many at this cost. `None`: as many as wanted.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pool {
    pub(super) bin: usize,
    pub(super) cost: f64,
    pub(super) limit: Option<u32>,
    pub(super) is_extra: bool,
}

/// Each kind has three pools: those that must be taken, those that may be, and those
/// to be bought.
pub(super) const POOLS: usize = 3;

pub(super) const AT_HAND: usize = 1;

pub(super) const TO_BUY: usize = 2;

/// A pattern on a kind of board.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Column {
    pub(super) bin: usize,
    pub(super) pattern: Pattern,
}

/// What is still to be packed, and what was decided so far.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) left: Vec<u32>,
    pub(super) pools: Vec<Pool>,
    pub(super) taken: Vec<(usize, usize, u32)>,
    pub(super) spent: f64,
}

/// A part of the search: least and most boards of each kind.
#[derive(Clone, Debug)]
pub(super) struct Branch {
    pub(super) least: Vec<u32>,
    pub(super) most: Vec<u32>,
    pub(super) bound: f64,
}

/// How often a pattern can be repeated without spare pieces; once at least.
pub(super) fn repeats(bin: &Bin, pattern: &Pattern, left: &[u32]) -> u32 {
    let each = pattern
        .iter()
        .map(|&(demand, count)| left[demand] / (count * bin.items[demand].units).max(1));
    each.min().unwrap_or(1).max(1)
}

/// Takes what a pattern yields off what is left.
pub(super) fn cover(bin: &Bin, pattern: &Pattern, times: u32, left: &mut [u32]) {
    for &(demand, count) in pattern {
        let units = u64::from(count) * u64::from(bin.items[demand].units) * u64::from(times);
        left[demand] = u64::from(left[demand]).saturating_sub(units) as u32;
    }
}

/// Whether every strip of a pattern is still needed.
pub(super) fn is_used(bin: &Bin, pattern: &Pattern, left: &[u32]) -> bool {
    pattern
        .iter()
        .all(|&(demand, count)| (count - 1) * bin.items[demand].units < left[demand])
}
