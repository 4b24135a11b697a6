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
    /// The ways to part it into two first, in rows: from one way of a row to the next the first
    /// of the two is no narrower and no item yields less in it, and the second is no wider and
    /// no item yields more in it.
    pub parted: Vec<Vec<[Side; 2]>>,
}

/// One of the two into which a board is parted: a length of it, or a band.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// Its width.
    pub capacity: u32,
    /// What an item of each demand takes of that, and yields.
    pub items: Vec<Item>,
}

/// A way to part a board: its row, and its place there.
pub type Way = (usize, usize);

impl Bin {
    /// The items of one of its sides; whole it has only one.
    pub fn items_in(&self, way: Option<Way>, side: usize) -> &[Item] {
        way.map_or(&self.items, |(row, place)| {
            &self.parted[row][place][side].items
        })
    }

    /// The width of one of its sides.
    pub fn capacity_in(&self, way: Option<Way>, side: usize) -> u32 {
        way.map_or(self.capacity, |(row, place)| {
            self.parted[row][place][side].capacity
        })
    }

    /// All ways to part it.
    pub(super) fn ways(&self) -> impl Iterator<Item = Way> {
        let rows = self.parted.iter().enumerate();
        rows.flat_map(|(row, ways)| (0..ways.len()).map(move |place| (row, place)))
    }

    /// All its items and their sides' widths, whole and in all ways.
    pub fn all_sides(&self) -> impl Iterator<Item = (&[Item], u32)> {
        let parted = self.parted.iter().flatten().flatten();
        let parted = parted.map(|it| (&it.items[..], it.capacity));
        std::iter::once((&self.items[..], self.capacity)).chain(parted)
    }

    /// The same, to be changed.
    pub fn all_sides_mut(&mut self) -> impl Iterator<Item = (&mut Vec<Item>, &mut u32)> {
        let parted = self.parted.iter_mut().flatten().flatten();
        let parted = parted.map(|it| (&mut it.items, &mut it.capacity));
        std::iter::once((&mut self.items, &mut self.capacity)).chain(parted)
    }

    /// The items of a demand, whole and in all ways.
    pub(super) fn items_of(&mut self, demand: usize) -> impl Iterator<Item = (&mut Item, u32)> {
        self.all_sides_mut()
            .map(move |(items, capacity)| (&mut items[demand], *capacity))
    }
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

/// Items of a length: a demand's place and how many items of it.
pub type Pattern = Vec<(usize, u32)>;

/// How a board is cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cuts {
    /// The way in which it is parted first; whole when missing.
    pub way: Option<Way>,
    /// The items of all of it, or of either side.
    pub lengths: Vec<Pattern>,
}

impl Cuts {
    /// Of a board that stays whole.
    pub(super) fn whole(pattern: Pattern) -> Cuts {
        Cuts {
            way: None,
            lengths: vec![pattern],
        }
    }

    /// Whether nothing is cut.
    pub(super) fn is_empty(&self) -> bool {
        self.lengths.iter().all(Vec::is_empty)
    }

    /// What it yields of each demand.
    pub(super) fn yields(&self, bin: &Bin) -> Vec<Yield> {
        let mut yields: Vec<Yield> = Vec::new();
        for (length, pattern) in self.lengths.iter().enumerate() {
            let items = bin.items_in(self.way, length);
            for &(demand, count) in pattern.iter().filter(|(_, count)| *count > 0) {
                let each = items[demand].units;
                match yields.iter_mut().find(|it| it.demand == demand) {
                    Some(same) => {
                        same.units += count * each;
                        same.least = same.least.min(each);
                    }
                    None => yields.push(Yield {
                        demand,
                        units: count * each,
                        least: each,
                    }),
                }
            }
        }
        yields
    }
}

/// What a board yields of a demand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Yield {
    pub(super) demand: usize,
    /// In all.
    pub(super) units: u32,
    /// Of the item that yields least.
    pub(super) least: u32,
}

impl Yield {
    /// Whether every item is needed of what is left.
    pub(super) fn is_used(&self, left: &[u32]) -> bool {
        self.units - self.least < left[self.demand]
    }
}

/// Boards cut alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed {
    /// Which kind.
    pub bin: usize,
    /// Whether they are more than there are, to be bought.
    pub is_extra: bool,
    /// How each is cut.
    pub cuts: Cuts,
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

/// A way to cut a kind of board.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Column {
    pub(super) bin: usize,
    pub(super) cuts: Cuts,
    pub(super) yields: Vec<Yield>,
}

impl Column {
    pub(super) fn new(problem: &Problem, bin: usize, cuts: Cuts) -> Column {
        let yields = cuts.yields(&problem.bins[bin]);
        Column { bin, cuts, yields }
    }
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

/// How often cuts can be repeated without spare pieces; once at least.
pub(super) fn repeats(yields: &[Yield], left: &[u32]) -> u32 {
    let each = yields.iter().map(|it| left[it.demand] / it.units.max(1));
    each.min().unwrap_or(1).max(1)
}

/// Takes what cuts yield off what is left.
pub(super) fn cover(yields: &[Yield], times: u32, left: &mut [u32]) {
    for it in yields {
        let units = u64::from(it.units) * u64::from(times);
        left[it.demand] = u64::from(left[it.demand]).saturating_sub(units) as u32;
    }
}
