//! The boards of a rack, wood by wood.

use crate::design::{Board, Design};
use crate::plan::rack::surfaced_mm;
use crate::trade::wood::is_same;
use crate::units::length::MM_PER_INCH;

/// No ring is begun with lower than this: what many planers do not take, 1/8 in (common
/// practice, no published source).
pub(super) const LEAST_RING_MM: f64 = MM_PER_INCH / 8.0;

/// What lies there of one wood.
#[derive(Clone, Debug)]
pub(super) struct Wood {
    pub(super) name: String,
    /// What its boards leave of their thickness, each once.
    pub(super) thick_mm: Vec<f64>,
    /// Of all its boards.
    pub(super) volume_mm3: f64,
}

/// The woods that rings can be made of, the one with the most wood first.
pub(super) fn woods(design: &Design) -> Vec<Wood> {
    let mut woods: Vec<Wood> = Vec::new();
    for board in boards(design) {
        let thick_mm = board.usable_mm();
        if thick_mm - 2.0 * design.allowance.face_mm < LEAST_RING_MM {
            continue;
        }
        let volume_mm3 = f64::from(board.number) * thick_mm * board.width_mm * board.length_mm;
        match woods.iter_mut().find(|it| is_same(&it.name, &board.wood)) {
            Some(same) => {
                same.volume_mm3 += volume_mm3;
                if same.thick_mm.iter().all(|it| (it - thick_mm).abs() > 0.01) {
                    same.thick_mm.push(thick_mm);
                }
            }
            None => woods.push(Wood {
                name: board.wood.trim().to_owned(),
                thick_mm: vec![thick_mm],
                volume_mm3,
            }),
        }
    }
    let volumes: Vec<f64> = woods.iter().map(|it| it.volume_mm3).collect();
    let order = crate::solve::sorted::descending(&volumes);
    order
        .into_iter()
        .map(|place| woods[place].clone())
        .collect()
}

/// Boards of which there is at least one.
pub(super) fn boards(design: &Design) -> impl Iterator<Item = &Board> {
    let boards = design.rack.iter().flat_map(|rack| &rack.boards);
    boards.filter(|board| board.number > 0)
}

/// The thickest that the boards leave.
pub(super) fn thickest_mm(design: &Design) -> f64 {
    boards(design).map(Board::usable_mm).fold(0.0, f64::max)
}

/// The least rough thickness of which a ring would come.
pub(super) fn least_rough_mm(design: &Design) -> f64 {
    let needed = LEAST_RING_MM + 2.0 * design.allowance.face_mm;
    let sixteenth = MM_PER_INCH / 16.0;
    let enough = |parts: &u32| surfaced_mm(f64::from(*parts) * sixteenth) >= needed;
    let parts = (1..=64).find(enough).unwrap_or(64);
    f64::from(parts) * sixteenth
}
