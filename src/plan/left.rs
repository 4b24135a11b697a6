//! What is left of a board when it is cut.

use crate::design::Board;
use crate::plan::board::{Answer, First, Layout, Ripped, Saw};

/// A piece of a board that nothing is cut from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// Of which need's strip it is the end; nothing where it was not ripped.
    pub need: Option<usize>,
    /// How far from the board's near edge it lies.
    pub across_mm: f64,
    /// How far from its left end.
    pub from_mm: f64,
    /// Across the board.
    pub width_mm: f64,
    /// Along the board.
    pub length_mm: f64,
}

/// Smaller pieces are none to keep (our own choice, no published source): an inch either way.
const LEAST_MM: f64 = crate::units::length::MM_PER_INCH;

/// The pieces that are left of a board: what is not ripped, as long as the board or the length
/// that was sawn off it, what was ripped away beside bands, and the ends of strips. None
/// where all that is left is scrap.
pub fn pieces(board: &Board, layout: &Layout, answer: &Answer, saw: &Saw) -> Vec<Left> {
    let mut all: Vec<Left> = Vec::new();
    for Ripped { length, strips } in &layout.lengths {
        let mut ripped_mm = length.near_mm;
        for strip in strips {
            let Some(need) = answer.needs.get(strip.need) else {
                continue;
            };
            ripped_mm = ripped_mm.max(strip.across_mm + need.width_mm + saw.kerf_mm);
            let ends = strip.runs.iter().map(|run| run.end_mm(need, saw));
            let end_mm = ends.fold(length.from_mm, f64::max);
            all.push(Left {
                need: Some(strip.need),
                across_mm: strip.across_mm,
                from_mm: end_mm,
                width_mm: need.width_mm,
                length_mm: length.to_mm - end_mm,
            });
        }
        all.push(Left {
            need: None,
            across_mm: ripped_mm,
            from_mm: length.from_mm,
            width_mm: length.far_mm - ripped_mm,
            length_mm: length.mm(),
        });
    }
    if layout.first() == First::Along {
        // What was ripped away beside bands and between them.
        let mut from_mm = 0.0;
        let bands = layout.lengths.iter().map(|it| it.length);
        let edges = bands.map(|it| (it.near_mm - saw.kerf_mm, it.far_mm + saw.kerf_mm));
        for (to_mm, next_mm) in edges.chain([(board.width_mm, 0.0)]) {
            all.push(Left {
                need: None,
                across_mm: from_mm,
                from_mm: 0.0,
                width_mm: to_mm - from_mm,
                length_mm: board.length_mm,
            });
            from_mm = next_mm;
        }
    }
    all.retain(|it| it.width_mm >= LEAST_MM && it.length_mm >= LEAST_MM);
    all
}

/// The largest of them.
pub fn largest(board: &Board, layout: &Layout, answer: &Answer, saw: &Saw) -> Option<Left> {
    let all = pieces(board, layout, answer, saw).into_iter();
    all.max_by(|a, b| {
        let area = |it: &Left| it.width_mm * it.length_mm;
        area(a).total_cmp(&area(b))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{BoardGoal, Rack, ThicknessIs};
    use crate::plan::bill::Part;
    use crate::plan::board::{BoardSearch, Need};

    #[test]
    fn what_is_left_is_the_rest_of_the_width_or_the_end_of_a_strip() {
        let board = Board {
            thickness_is: ThicknessIs::Planed,
            thickness_mm: 20.0,
            width_mm: 100.0,
            length_mm: 500.0,
            ..Board::usual("Ash")
        };
        let square = |width_mm: f64| Need {
            wood: "Ash".to_owned(),
            width_mm,
            height_mm: 20.0,
            half_angle_rad: 0.0,
            long_edge_mm: width_mm,
            short_edge_mm: width_mm,
            is_matched: false,
            is_strip: false,
            is_layer: false,
            edges: None,
            parts: vec![(Part::Base, 1)],
            slices: 1,
            plies: 1,
        };
        let saw = Saw {
            kerf_mm: 3.0,
            hold_back_mm: 100.0,
        };
        let left = |width_mm: f64| {
            let rack = Rack {
                goal: BoardGoal::Fewest,
                plane_at_most_mm: 1.0,
                is_edge_glued: false,
                boards: vec![board.clone()],
            };
            let mut search = BoardSearch::for_needs(vec![square(width_mm)], rack, saw);
            search.step(10_000);
            let answer = search.answer();
            largest(&board, &answer.layouts[0], &answer, &saw)
        };
        // A square of 30: a strip beside it, 100 less 30 and a kerf.
        let rest = Left {
            need: None,
            across_mm: 33.0,
            from_mm: 0.0,
            width_mm: 67.0,
            length_mm: 500.0,
        };
        assert_eq!(left(30.0), Some(rest));
        // Of 90 the strip's own end: 500 less 90 and a kerf.
        let end = Left {
            need: Some(0),
            across_mm: 0.0,
            from_mm: 93.0,
            width_mm: 90.0,
            length_mm: 407.0,
        };
        assert_eq!(left(90.0), Some(end));
    }

    #[test]
    fn of_two_lengths_each_keeps_its_own() {
        let board = Board {
            width_mm: 100.0,
            length_mm: 500.0,
            ..Board::usual("Ash")
        };
        let saw = Saw {
            kerf_mm: 3.0,
            hold_back_mm: 100.0,
        };
        let both = crate::plan::length::Length::both(&board, 90.0, &saw);
        let layout = Layout {
            board: 0,
            is_extra: false,
            times: 1,
            lengths: both
                .map(|length| Ripped {
                    length,
                    strips: Vec::new(),
                })
                .to_vec(),
        };
        let answer = BoardSearch::for_needs(Vec::new(), Rack::empty(), saw).answer();
        let rest = Left {
            need: None,
            across_mm: 0.0,
            from_mm: 93.0,
            width_mm: 100.0,
            length_mm: 407.0,
        };
        assert_eq!(largest(&board, &layout, &answer, &saw), Some(rest));
    }
}
