//! Bands of a board: where spots to avoid do not go over its whole width it may be ripped along
//! its length into two bands before all else, each then a board of its own width whose strips
//! heed only the spots that lie in it.
//!
//! Where to rip: between two neighboring edges of spots it changes nothing but the widths, so
//! that these places are looked at together, as a stretch. Within one, no place does better than
//! those at which a set of strips just fills the near band, or the stretch's beginning: moved
//! toward the near edge until then, a cut leaves the near band what it gives, and widens the far
//! one. Wood may also be ripped away: beside either edge of the board, as far as a spot goes, and
//! between both bands, from an edge of one spot to an edge of another.

use crate::design::Board;
use crate::plan::length::Length;
use crate::plan::need::Saw;
use crate::solve::sorted::order;

/// Places to rip a board first that leave both bands the same spots.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Where the near band begins, from the board's near edge.
    pub from_mm: f64,
    /// Where it ends at least.
    pub least_mm: f64,
    /// Where it ends at most.
    pub most_mm: f64,
    /// From the near band to the far one: a kerf, or more where wood between is ripped away.
    pub between_mm: f64,
    /// Where the far band ends.
    pub to_mm: f64,
}

impl Stretch {
    /// Both bands of a board, the near one ending there.
    pub fn both(&self, board: &Board, near_to_mm: f64) -> [Length; 2] {
        let whole = Length::whole(board);
        [
            Length {
                near_mm: self.from_mm,
                far_mm: near_to_mm,
                ..whole
            },
            Length {
                near_mm: near_to_mm + self.between_mm,
                far_mm: self.to_mm,
                ..whole
            },
        ]
    }

    /// Whether it leaves both bands as wide as another, or wider.
    pub fn is_as_wide(&self, other: &Stretch) -> bool {
        self.from_mm <= other.from_mm
            && self.least_mm <= other.least_mm
            && self.most_mm >= other.most_mm
            && self.between_mm <= other.between_mm
            && self.to_mm >= other.to_mm
    }
}

/// With more spots than these, edges of the board are not ripped away (our own choice, no
/// published source): there are too many ways.
pub const MOST_SPOTS: usize = 4;

/// Where the spots lie across a board that do not go over its whole width.
fn spots(board: &Board) -> Vec<(f64, f64)> {
    let spots = board.avoid.iter().filter(|it| !it.is_length());
    let across = spots.map(|it| it.across_mm(board.width_mm));
    across.filter(|it| it.0 < board.width_mm).collect()
}

/// Whether edges of a board are ripped away too.
pub fn is_trimmed(board: &Board) -> bool {
    spots(board).len() <= MOST_SPOTS
}

/// The stretches of a board; none where all its spots go over its whole width. Those that rip
/// less away come first.
pub fn stretches(board: &Board, saw: &Saw) -> Vec<Stretch> {
    let spots = spots(board);
    if spots.is_empty() {
        return Vec::new();
    }
    let width_mm = board.width_mm;
    let (mut begins, mut ends) = (vec![0.0], vec![width_mm]);
    if spots.len() <= MOST_SPOTS {
        begins.extend(spots.iter().map(|it| it.1).filter(|far| *far < width_mm));
        ends.extend(spots.iter().map(|it| it.0).filter(|near| *near > 0.0));
    }
    let mut all = Vec::new();
    for from_mm in begins {
        for &to_mm in &ends {
            within((from_mm, to_mm), &spots, saw.kerf_mm, &mut all);
        }
    }
    all
}

/// The stretches between two edges.
fn within(
    (from_mm, to_mm): (f64, f64),
    spots: &[(f64, f64)],
    kerf_mm: f64,
    all: &mut Vec<Stretch>,
) {
    let last_mm = to_mm - kerf_mm;
    if last_mm <= from_mm {
        return;
    }
    let begins = spots.iter().map(|(near, _)| *near);
    let ends = spots.iter().map(|(_, far)| far - kerf_mm);
    let mut places: Vec<f64> = begins.chain(ends).collect();
    places.retain(|place| *place > from_mm && *place < last_mm);
    places.extend([from_mm, last_mm]);
    let mut places: Vec<f64> = order(&places).into_iter().map(|it| places[it]).collect();
    places.dedup_by(|later, kept| *later - *kept < 1e-6);
    let one_cut = |least_mm: f64, most_mm: f64| Stretch {
        from_mm,
        least_mm,
        most_mm,
        between_mm: kerf_mm,
        to_mm,
    };
    all.extend(places.windows(2).map(|pair| one_cut(pair[0], pair[1])));
    // An edge by itself: there a spot on either side may lie in neither band.
    all.extend(places.iter().map(|&place| one_cut(place, place)));
    for near_mm in spots.iter().map(|it| it.0).filter(|it| *it > from_mm) {
        let far = spots.iter().map(|it| it.1);
        let far = far.filter(|far| *far < to_mm && *far - near_mm > kerf_mm);
        all.extend(far.map(|far_mm| Stretch {
            between_mm: far_mm - near_mm,
            ..one_cut(near_mm, near_mm)
        }));
    }
}
