//! Bands of a board: where spots to avoid do not go over its whole width it may be ripped along
//! its length into two bands before all else, each then a board of its own width whose strips
//! heed only the spots that lie in it.
//!
//! Where to rip: between two neighboring edges of spots it changes nothing but the widths, so
//! that these places are looked at together, as a stretch. Within one, no place does better than
//! those at which a set of strips just fills the near band, or the stretch's beginning: moved
//! toward the near edge until then, a cut leaves the near band what it gives, and widens the far
//! one. A band between two spots' edges may also be thrown away, with a second cut: the near
//! band then ends at an edge of a spot, and the far one begins at another.

use crate::design::Board;
use crate::plan::length::Length;
use crate::plan::need::Saw;
use crate::solve::sorted::order;

/// Places to rip a board first that leave both bands the same spots.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The near band's least width.
    pub least_mm: f64,
    /// Its greatest.
    pub most_mm: f64,
    /// From the near band to the far one: a kerf, or more where wood between is thrown away.
    pub between_mm: f64,
}

impl Stretch {
    /// Both bands of a board, the near one so wide.
    pub fn both(&self, board: &Board, near_mm: f64) -> [Length; 2] {
        let whole = Length::whole(board);
        [
            Length {
                far_mm: near_mm,
                ..whole
            },
            Length {
                near_mm: near_mm + self.between_mm,
                ..whole
            },
        ]
    }
}

/// The stretches of a board; none where all its spots go over its whole width.
pub fn stretches(board: &Board, saw: &Saw) -> Vec<Stretch> {
    let width_mm = board.width_mm;
    let spots = board.avoid.iter().filter(|it| !it.is_length());
    let spots: Vec<(f64, f64)> = spots
        .map(|it| it.across_mm(width_mm))
        .filter(|(near, _)| *near < width_mm)
        .collect();
    let last_mm = width_mm - saw.kerf_mm;
    if spots.is_empty() || last_mm <= 0.0 {
        return Vec::new();
    }
    let begins = spots.iter().map(|(near, _)| *near);
    let ends = spots.iter().map(|(_, far)| far - saw.kerf_mm);
    let mut places: Vec<f64> = begins.chain(ends).collect();
    places.retain(|place| *place > 0.0 && *place < last_mm);
    places.extend([0.0, last_mm]);
    let mut places: Vec<f64> = order(&places).into_iter().map(|it| places[it]).collect();
    places.dedup_by(|later, kept| *later - *kept < 1e-6);
    let one_cut = |least_mm: f64, most_mm: f64| Stretch {
        least_mm,
        most_mm,
        between_mm: saw.kerf_mm,
    };
    // An edge by itself: there a spot on either side may lie in neither band.
    let edges = places.iter().map(|&place| one_cut(place, place));
    let between = places.windows(2).map(|pair| one_cut(pair[0], pair[1]));
    let mut all: Vec<Stretch> = between.chain(edges).collect();
    for near_mm in spots.iter().map(|(near, _)| *near) {
        let far = spots.iter().map(|(_, far)| *far);
        let far = far.filter(|far| *far < width_mm && *far - near_mm > saw.kerf_mm);
        all.extend(far.map(|far_mm| Stretch {
            least_mm: near_mm,
            most_mm: near_mm,
            between_mm: far_mm - near_mm,
        }));
    }
    all
}
