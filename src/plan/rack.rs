//! What a board of the turner's has to give.

use crate::design::{Avoid, Board, BoardPrice, Design, Rack, ThicknessIs};
use crate::solve::sorted::descending;
use crate::trade::closing::HAIR_MM;
use crate::units::length::MM_PER_INCH;
use crate::units::quantity;

/// What surfacing both faces takes off a board sawn to this thickness: 3/16 in up to
/// 6/4, 1/4 in above (hardwood lumber grading rules, standard thicknesses of rough and
/// surfaced lumber, `tests/reference/lumber_thickness.csv`).
pub fn surfaced_mm(rough_mm: f64) -> f64 {
    let quarters = rough_mm / MM_PER_INCH * 4.0;
    let sixteenths = if quarters <= 6.01 { 3.0 } else { 4.0 };
    (rough_mm - sixteenths / 16.0 * MM_PER_INCH).max(0.0)
}

impl Board {
    /// What is there to use of its thickness.
    pub fn usable_mm(&self) -> f64 {
        match self.thickness_is {
            ThicknessIs::Rough => surfaced_mm(self.thickness_mm),
            ThicknessIs::Planed => self.thickness_mm,
        }
    }

    /// Its volume as it is sold.
    pub fn volume_mm3(&self) -> f64 {
        self.thickness_mm * self.width_mm * self.length_mm
    }

    /// What one costs, if a price was given.
    pub fn cost(&self) -> Option<f64> {
        self.price.map(|price| match self.price_for {
            BoardPrice::Piece => price,
            BoardPrice::BoardFoot => price * quantity::board_feet(self.volume_mm3()),
        })
    }

    /// The lengths, from the left, that a strip may use which lies anywhere between two places
    /// across the board: none overlap. Spots to avoid count that lie there with a part of their
    /// width.
    pub fn clear_mm(&self, (near_mm, far_mm): (f64, f64)) -> Vec<(f64, f64)> {
        if self.avoid.is_empty() {
            return vec![(0.0, self.length_mm)];
        }
        let is_there = |each: &&Avoid| {
            let (near, far) = each.across_mm(self.width_mm);
            each.is_length() || (near < far_mm - SAME_MM && far > near_mm + SAME_MM)
        };
        let mut bad: Vec<(f64, f64)> = self
            .avoid
            .iter()
            .filter(is_there)
            .map(|each| (each.from_mm.min(each.to_mm), each.from_mm.max(each.to_mm)))
            .collect();
        // From the left.
        let keys: Vec<f64> = bad.iter().map(|(begin, _)| -begin).collect();
        bad = descending(&keys)
            .into_iter()
            .map(|place| bad[place])
            .collect();
        let mut clear = Vec::new();
        let mut from = 0.0_f64;
        for (begin, end) in bad {
            if begin.min(self.length_mm) > from {
                clear.push((from, begin.min(self.length_mm)));
            }
            from = from.max(end);
        }
        if from < self.length_mm {
            clear.push((from, self.length_mm));
        }
        clear
    }

    /// The longest of the lengths that a strip so wide may use along either edge of the board.
    pub fn longest_clear_mm(&self, width_mm: f64) -> f64 {
        let sides = [
            (0.0, width_mm.min(self.width_mm)),
            ((self.width_mm - width_mm).max(0.0), self.width_mm),
        ];
        let clear = sides.into_iter().flat_map(|side| self.clear_mm(side));
        clear.map(|(from, to)| to - from).fold(0.0, f64::max)
    }
}

/// Places closer than this are the same.
const SAME_MM: f64 = 1e-6;

impl Design {
    /// Thicknesses that rings are planed from: the shop's stock, and what the boards leave.
    pub fn stock_at_hand_mm(&self) -> Vec<f64> {
        let boards = self.rack.iter().flat_map(|rack| &rack.boards);
        let stock = self.shop.stock_mm.iter().copied();
        stock.chain(boards.map(Board::usable_mm)).collect()
    }
}

impl Rack {
    /// Whether a board is thick enough, and not too thick to be planed down.
    pub fn suits(&self, board: &Board, height_mm: f64) -> bool {
        let spare = board.usable_mm() - height_mm;
        spare >= -HAIR_MM && spare <= self.plane_at_most_mm + HAIR_MM
    }
}
