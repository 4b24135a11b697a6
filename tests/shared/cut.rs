//! Layouts of boards checked by walking the saw along them, independent of how they were found.

use ringwright::design::{Board, BoardGoal, Rack};
use ringwright::plan::bill::Part;
use ringwright::plan::board::{self, Answer, Layout, Need, Saw};
use std::collections::BTreeMap;

/// A corner of a piece, from the board's left end and near edge.
type Corner = (f64, f64);

/// The corners of every piece of a layout with the span along the board that its last
/// cut takes, worked out by walking the saw along the strips: independent of `runs`.
fn pieces(
    need: &Need,
    start_mm: f64,
    count: u32,
    across_mm: f64,
    kerf_mm: f64,
) -> Vec<[Corner; 4]> {
    let run = need.width_mm * need.half_angle_rad.tan();
    let cut = kerf_mm / need.half_angle_rad.cos();
    // Where the present miter meets the strip's near and far edge.
    let (mut near, mut far) = (start_mm, start_mm + run);
    let mut placed = Vec::new();
    for piece in 0..count {
        let (on_near, on_far) = if piece % 2 == 0 {
            (need.long_edge_mm, need.short_edge_mm)
        } else {
            (need.short_edge_mm, need.long_edge_mm)
        };
        let top = across_mm + need.width_mm;
        placed.push([
            (near, across_mm),
            (near + on_near, across_mm),
            (far + on_far, top),
            (far, top),
        ]);
        near += on_near + cut;
        far += on_far + cut;
    }
    placed
}

/// What sums of widths may be off by.
const HAIR: f64 = 0.11;

/// Checks every layout: nothing overlaps, every kerf is counted, spots to avoid are,
/// every piece is there, no more boards are used than there are, matched rings are whole.
pub fn check(answer: &Answer, rack: &Rack, saw: &Saw) {
    let mut pieces_of: BTreeMap<(usize, Part), u32> = BTreeMap::new();
    let mut boards_of: BTreeMap<usize, u32> = BTreeMap::new();
    let mut used = vec![0; rack.boards.len()];
    for layout in &answer.layouts {
        let board = &rack.boards[layout.board];
        if !layout.is_extra {
            used[layout.board] += layout.times;
        }
        let mut needs_here = Vec::new();
        check_parted(layout, board, saw);
        for ripped in &layout.lengths {
            let (from_mm, to_mm) = (ripped.length.from_mm, ripped.length.to_mm);
            let is_long = (to_mm - from_mm - board.length_mm).abs() < 1e-9;
            let mut free_from = ripped.length.near_mm;
            for strip in &ripped.strips {
                let need = &answer.needs[strip.need];
                assert!(
                    strip.across_mm >= free_from - HAIR,
                    "strips overlap or lack a kerf"
                );
                free_from = strip.across_mm + need.width_mm + saw.kerf_mm;
                assert!(
                    free_from - saw.kerf_mm <= ripped.length.far_mm + HAIR,
                    "past the edge"
                );
                // Common practice, no published source.
                assert!(
                    is_long || need.is_disc() || to_mm - from_mm >= 12.0 * 25.4 - 1e-5,
                    "too short to be ripped"
                );
                assert!(board.usable_mm() >= need.height_mm - HAIR, "too thin");
                assert!(board.usable_mm() <= need.height_mm + rack.plane_at_most_mm + HAIR);
                assert!(board.wood.eq_ignore_ascii_case(&need.wood));
                check_along(strip, need, board, (from_mm, to_mm), saw);
                let along: u32 = strip.runs.iter().map(|run| run.count).sum();
                assert_eq!(
                    along,
                    strip.parts.iter().map(|(_, count)| count).sum::<u32>()
                );
                for (part, count) in &strip.parts {
                    *pieces_of.entry((strip.need, *part)).or_default() += count * layout.times;
                }
                if !needs_here.contains(&strip.need) {
                    needs_here.push(strip.need);
                    *boards_of.entry(strip.need).or_default() += layout.times;
                }
            }
        }
        assert!(layout.strips().count() > 0);
    }
    for (used, board) in used.iter().zip(&rack.boards) {
        assert!(*used <= board.number);
    }
    for (place, need) in answer.needs.iter().enumerate() {
        let failed = answer.failures.iter().any(|failure| failure.need == place);
        for (part, count) in &need.parts {
            let found = pieces_of.get(&(place, *part)).copied().unwrap_or(0);
            assert_eq!(found, if failed { 0 } else { *count }, "pieces of {part:?}");
        }
        if need.is_matched && !failed {
            assert_eq!(boards_of[&place], 1, "a matched ring is in one board");
        }
    }
    check_sums(answer, rack);
}

/// A board is whole, sawn across once, or ripped into two bands once: its parts lie apart by a
/// kerf at least, within it, and are as long or as wide as it.
fn check_parted(layout: &Layout, board: &Board, saw: &Saw) {
    let lengths: Vec<_> = layout.lengths.iter().map(|it| it.length).collect();
    for it in &lengths {
        assert!(it.from_mm >= 0.0 && it.near_mm >= 0.0);
        assert!(it.to_mm > it.from_mm && it.to_mm <= board.length_mm + 1e-6);
        assert!(it.far_mm >= it.near_mm && it.far_mm <= board.width_mm + 1e-6);
    }
    let is_same = |one: f64, other: f64| (one - other).abs() < 1e-9;
    let is_long = lengths
        .iter()
        .all(|it| it.from_mm == 0.0 && is_same(it.to_mm, board.length_mm));
    let is_wide = lengths
        .iter()
        .all(|it| it.near_mm == 0.0 && is_same(it.far_mm, board.width_mm));
    match lengths.as_slice() {
        [one] => assert!(is_long && is_same(one.far_mm, board.width_mm)),
        [one, other] => {
            assert!(is_long || is_wide, "sawn across and ripped");
            let apart_mm = if is_wide {
                other.from_mm - one.to_mm
            } else {
                other.near_mm - one.far_mm
            };
            assert!(apart_mm >= saw.kerf_mm - 1e-6, "no kerf between");
        }
        _ => panic!("parted once at most"),
    }
}

/// The pieces of a strip lie apart by a kerf, clear of what is to be avoided, and leave
/// enough to hold.
fn check_along(
    strip: &board::Strip,
    need: &Need,
    board: &Board,
    (from_mm, to_mm): (f64, f64),
    saw: &Saw,
) {
    let mut before: Option<[Corner; 4]> = None;
    for run in &strip.runs {
        let placed = pieces(need, run.start_mm, run.count, strip.across_mm, saw.kerf_mm);
        let cut = saw.kerf_mm / need.half_angle_rad.cos();
        for piece in placed {
            let left = piece[0].0.min(piece[3].0);
            let right = piece[1].0.max(piece[2].0);
            assert!(left >= from_mm - 1e-6 && right <= to_mm + 1e-6);
            for avoid in &board.avoid {
                let (from, to) = (
                    avoid.from_mm.min(avoid.to_mm),
                    avoid.from_mm.max(avoid.to_mm),
                );
                let is_beside = right <= from + 1e-6 || left >= to - 1e-6 || to - from < 1e-9;
                // From the near edge, or the board's own edge where nothing is said.
                let ends = [
                    avoid.across_from_mm.unwrap_or(0.0),
                    avoid.across_to_mm.unwrap_or(board.width_mm),
                ];
                let (near, far) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
                let is_past = piece[2].1 <= near + HAIR || piece[0].1 >= far - HAIR;
                assert!(is_beside || is_past, "over a knot");
            }
            if !need.is_square() {
                assert!(
                    to_mm - right >= saw.hold_back_mm + cut - 1e-6,
                    "nothing to hold"
                );
            }
            if let Some(last) = before {
                // On both edges, within a run and from one to the next.
                assert!(
                    piece[0].0 >= last[1].0 + cut - 1e-6,
                    "no kerf between pieces"
                );
                assert!(
                    piece[3].0 >= last[2].0 + cut - 1e-6,
                    "no kerf between pieces"
                );
            }
            before = Some(piece);
        }
    }
}

fn check_sums(answer: &Answer, rack: &Rack) {
    let boards = |wanted: &dyn Fn(&Layout) -> bool| -> u32 {
        let those = answer.layouts.iter().filter(|layout| wanted(layout));
        those.map(|layout| layout.times).sum()
    };
    assert_eq!(answer.board_count, boards(&|_| true));
    assert_eq!(answer.extra_count, boards(&|layout| layout.is_extra));
    let cost: f64 = answer
        .layouts
        .iter()
        .map(|layout| f64::from(layout.times) * rack.boards[layout.board].cost().unwrap_or(0.0))
        .sum();
    assert!((answer.cost - cost).abs() < 1e-6);
    assert!((0.0..=1.0).contains(&answer.used_share));
    if let Some(least) = answer.least {
        let counted = match rack.goal {
            BoardGoal::Fewest => f64::from(answer.board_count),
            BoardGoal::Cheapest => answer.cost,
            BoardGoal::LeastWood => answer.volume_mm3,
        };
        assert!(least <= counted + 1e-6, "{least} {counted}");
        if answer.is_best && rack.goal == BoardGoal::Fewest {
            assert!((least - counted).abs() < 1e-6, "{least} {counted}");
        }
    }
}
