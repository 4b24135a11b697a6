//! Whether the boards give a piece: first by bounds that cost little, then by the search for
//! boards itself.

use crate::design::{Avoid, Board, Design, Rack};
use crate::plan::Plan;
use crate::plan::board::{Answer, Need, Saw, needs, saw};
use crate::plan::length::{Length, shortest_mm, yielded};
use crate::trade::closing::HAIR_MM;
use crate::trade::wood::is_same;

/// How long boards are looked for, in the search's own measure: a first look, and longer where
/// the bounds leave room. Beside an independent solver less was too short: a vase of two boards
/// came out a fifth smaller than it can be (our own choice, no published source).
const WORK: [u64; 3] = [2_000, 100_000, 1_000_000];

/// What the boards give of a piece.
pub(super) enum Given {
    /// All of it.
    All(Box<Answer>),
    /// Of one wood it is more than the boards have: about this part of it is given.
    TooMuch(f64),
    /// Not all, or it would have to be looked for longer than it is worth.
    Less,
}

/// Looks whether the boards give all of it.
pub(super) fn given(plan: &Plan) -> Given {
    let Some(rack) = plan.design.rack.as_ref() else {
        return Given::Less;
    };
    match part_given(&plan.design, rack, plan) {
        None => return Given::Less,
        Some(part) if part < 1.0 - 1e-6 => return Given::TooMuch(part),
        Some(_) => {}
    }
    for work in WORK {
        let Some(answer) = plan.boards(work) else {
            return Given::Less;
        };
        if !answer.failures.is_empty() {
            return Given::Less;
        }
        if answer.extra_count == 0 {
            return Given::All(Box::new(answer));
        }
        let is_far = work > WORK[0] && answer.extra_count > FEW_LACK;
        if answer.is_done || is_far {
            break;
        }
    }
    Given::TooMuch(NEARLY)
}

/// Boards are looked for longest where no more than so many lack (our own choice, no published
/// source).
const FEW_LACK: u32 = 2;

/// What is given where the boards' width would do but no way of ripping them was found that does
/// (our own choice, no published source).
const NEARLY: f64 = 0.9;

/// What the boards lack, looked for as long as for one that is given.
pub(super) fn lacking(plan: &Plan) -> Option<Answer> {
    plan.boards(WORK[2])
}

/// The part of it that the boards' faces may give at most, of the wood that runs shortest. Of a
/// board's face a strip, as long as its length and with the kerfs beside it, takes a share; each
/// piece of a need takes at least its part of that on the board where it takes the least, in the
/// shortest length that gives as many pieces as can be of use. Where that comes to more of a
/// wood than its boards' faces, no way of cutting them gives it. None where no board gives a piece.
fn part_given(design: &Design, rack: &Rack, plan: &Plan) -> Option<f64> {
    let saw = saw(design);
    let mut woods: Vec<(String, f64)> = Vec::new();
    for need in needs(design, plan.bill()) {
        let taken_mm2 = least_mm2(rack, &need, &saw)? * f64::from(need.count());
        match woods.iter_mut().find(|it| is_same(&it.0, &need.wood)) {
            Some(same) => same.1 += taken_mm2,
            None => woods.push((need.wood.clone(), taken_mm2)),
        }
    }
    let parts = woods.iter().map(|(wood, taken_mm2)| {
        let boards = rack.boards.iter().filter(|it| is_same(&it.wood, wood));
        let there_mm2: f64 = boards.map(faces_mm2).sum();
        (there_mm2 / taken_mm2.max(1e-9)).min(1.0)
    });
    parts.reduce(f64::min)
}

/// The faces of all boards of a kind.
fn faces_mm2(board: &Board) -> f64 {
    f64::from(board.number) * board.width_mm * board.length_mm
}

/// The least of a board's face that one piece takes; none where no board gives it.
fn least_mm2(rack: &Rack, need: &Need, saw: &Saw) -> Option<f64> {
    let boards = rack.boards.iter().filter(|board| {
        board.number > 0
            && is_same(&board.wood, &need.wood)
            && rack.suits(board, need.height_mm)
            && need.width_mm <= board.width_mm + HAIR_MM
    });
    let taken_mm2 = boards.filter_map(|board| {
        // As much as the best band gives: one that has no spot but those over the whole width.
        let mut clear = board.clone();
        clear.avoid.retain(Avoid::is_length);
        let along = yielded(&clear, &Length::whole(board), need, saw).min(need.count());
        let across = (need.width_mm + saw.kerf_mm) / (board.width_mm + saw.kerf_mm + HAIR_MM);
        let pieces_mm = f64::from(along) * need.pitch_mm(saw.kerf_mm);
        let long_mm = need.run_mm() + pieces_mm + need.held_mm(saw);
        let long_mm = long_mm.max(shortest_mm(board, need)) + saw.kerf_mm;
        let share = (long_mm / (board.length_mm + saw.kerf_mm)).min(1.0);
        let face_mm2 = board.width_mm * board.length_mm;
        (along > 0).then(|| face_mm2 * across * share / f64::from(along))
    });
    taken_mm2.reduce(f64::min)
}
