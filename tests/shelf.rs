//! The shelf: no board is made or lost on its way to a piece and back, and what is left of a
//! board that was cut is there and nowhere else.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use ringwright::design::shelf::{OnShelf, Shelf};
use ringwright::design::{Board, Design, ThicknessIs};
use ringwright::edit::shelf::{self, Taker};
use ringwright::edit::start;
use ringwright::plan::board::{Answer, saw};
use ringwright::plan::{left, plan};
use ringwright::show::figures;
use shared::Dice;

const INCH_MM: f64 = 25.4;

fn look(find: &str) -> figures::shelf::Look<'_> {
    figures::shelf::Look {
        id: "it",
        find,
        ..figures::shelf::Look::default()
    }
}

fn bowl(across_mm: f64) -> Design {
    start::begin(&Design::default(), "bowl", across_mm, 0.4 * across_mm)
}

fn taker(id: &str) -> Taker<'_> {
    Taker { id, name: id }
}

fn board(dice: &mut Dice) -> Board {
    let eighths = |dice: &mut Dice, from: f64, to: f64| {
        (dice.between(from, to) * 8.0).round() / 8.0 * INCH_MM
    };
    let woods = ["Maple, sugar", "Walnut, black", "Ash, white"];
    Board {
        thickness_mm: eighths(dice, 0.75, 1.0),
        thickness_is: ThicknessIs::Planed,
        width_mm: eighths(dice, 3.0, 9.0),
        length_mm: eighths(dice, 20.0, 60.0),
        number: dice.count(1, 3),
        ..Board::usual(woods[dice.whole(0, 8).saturating_sub(6)])
    }
}

fn volume_mm3(boards: impl Iterator<Item = Board>) -> f64 {
    boards
        .map(|it| it.thickness_mm * it.width_mm * it.length_mm * f64::from(it.number))
        .sum()
}

fn on(shelf: &Shelf) -> f64 {
    volume_mm3(shelf.boards.iter().map(|it| it.board.clone()))
}

fn kept_for(shelf: &Shelf, id: &str) -> Vec<OnShelf> {
    let own = shelf.boards.iter().filter(|it| it.wanted_by == id);
    own.cloned().collect()
}

fn found(design: &Design) -> Option<Answer> {
    plan(design).boards(40_000)
}

/// What a design's boards lose when they are cut: all of them, less what is left.
fn cut_away_mm3(design: &Design, answer: &Answer) -> (f64, f64) {
    let boards = &design.rack.as_ref().unwrap().boards;
    let mut sums = (0.0, 0.0);
    for layout in &answer.layouts {
        let (board, times) = (&boards[layout.board], f64::from(layout.times));
        if !layout.is_extra {
            sums.0 += board.thickness_mm * board.width_mm * board.length_mm * times;
        }
        for piece in left::pieces(board, layout, answer, &saw(design)) {
            let thick_mm = piece
                .need
                .map_or(board.thickness_mm, |it| answer.needs[it].height_mm);
            sums.1 += thick_mm * piece.width_mm * piece.length_mm * times;
        }
    }
    sums
}

/// Histories of laying on, taking, giving back, counting and cutting, of three pieces that
/// share a shelf.
#[test]
fn no_board_is_made_or_lost() {
    let mut cuts = 0;
    for seed in 0..1000 {
        let mut dice = Dice(seed);
        let ids = ["one", "two", "three"];
        let mut designs = [bowl(150.0), bowl(200.0), bowl(254.0)];
        let mut shelf = Shelf::default();
        for _ in 0..dice.whole(4, 24) {
            let own = dice.whole(0, 2);
            let (before, was) = (on(&shelf), shelf.clone());
            let place = dice.whole(0, shelf.boards.len().max(1) - 1);
            let row = shelf.boards.get(place).cloned();
            let one_mm3 = row.as_ref().map_or(0.0, |row| {
                volume_mm3(std::iter::once(Board {
                    number: 1,
                    ..row.board.clone()
                }))
            });
            match dice.count(0, 6) {
                0 | 1 => {
                    let laid = board(&mut dice);
                    let line = figures::shelf::shelf(
                        &Shelf {
                            boards: vec![OnShelf {
                                board: laid.clone(),
                                note: String::new(),
                                wanted_by: String::new(),
                                wanted_for: String::new(),
                            }],
                            ..Shelf::default()
                        },
                        &designs[own],
                        figures::shelf::Look::default(),
                    );
                    shelf = shelf::list(&shelf, &designs[own], &line.list).unwrap();
                    let more = volume_mm3(std::iter::once(laid));
                    assert!(
                        (on(&shelf) - before - more).abs() < 1.0,
                        "{seed} {}",
                        line.list
                    );
                }
                2 => {
                    let (next, with) =
                        shelf::take(&shelf, place, &designs[own], taker(ids[own])).unwrap();
                    assert!((on(&next) - before).abs() < 1e-6);
                    // Given back at once, all is as it was.
                    if row.is_some_and(|row| row.wanted_by.is_empty()) {
                        let (back, without) =
                            shelf::give_back(&next, place, &with, taker(ids[own]));
                        assert_eq!(back, shelf, "{seed}");
                        let boards = |it: &Design| it.rack.clone().map(|it| it.boards);
                        let none = Some(Vec::new());
                        assert!(
                            boards(&without) == boards(&designs[own]) || boards(&without) == none
                        );
                    }
                    (shelf, designs[own]) = (next, with);
                }
                3 => {
                    (shelf, designs[own]) =
                        shelf::give_back(&shelf, place, &designs[own], taker(ids[own]));
                    assert!((on(&shelf) - before).abs() < 1e-6);
                }
                4 => {
                    shelf = shelf::add_one(&shelf, place);
                    assert!((on(&shelf) - before - one_mm3).abs() < 1e-6);
                }
                5 => {
                    shelf = shelf::remove_one(&shelf, place);
                    assert!((before - on(&shelf) - one_mm3).abs() < 1e-6);
                }
                _ => {
                    let design = &designs[own];
                    let Some(answer) = found(design) else {
                        continue;
                    };
                    let (next, moved) =
                        shelf::cut(&shelf, design, &answer, taker(ids[own])).unwrap();
                    let (whole, left) = cut_away_mm3(design, &answer);
                    let off = before + left - on(&next);
                    // All that was cut lay there, or as much of it as did.
                    assert!(off < whole + 1.0 && off > -1.0, "{seed} {off} {whole}");
                    let needed: u32 = answer.layouts.iter().map(|it| it.times).sum();
                    assert!(moved.off <= needed);
                    if moved.off == needed {
                        assert!((off - whole).abs() < 1.0, "{seed} {off} {whole}");
                    }
                    for other in ids.iter().filter(|id| **id != ids[own]) {
                        assert_eq!(kept_for(&next, other), kept_for(&was, other), "{seed}");
                    }
                    assert_eq!(kept_for(&next, ids[own]), []);
                    cuts += u32::from(moved.off > 0);
                    shelf = next;
                }
            }
            assert!(shelf.boards.iter().all(|it| it.board.number > 0), "{seed}");
            assert_eq!(Shelf::restore(&shelf.write()), (shelf.clone(), 0), "{seed}");
        }
    }
    println!("{cuts} pieces were cut");
    assert!(cuts > 100, "{cuts}");
}

/// What is left of a board lies on it, apart from all that is sawn out and from each other.
#[test]
fn what_is_left_lies_beside_what_was_cut() {
    let mut pieces = 0;
    for seed in 0..200 {
        let mut dice = Dice(seed);
        let mut design = bowl(dice.between(120.0, 254.0));
        let mut shelf = Shelf::default();
        for _ in 0..dice.whole(1, 5) {
            let row = Shelf {
                boards: vec![OnShelf {
                    board: Board {
                        wood: "Maple, sugar".to_owned(),
                        ..board(&mut dice)
                    },
                    note: String::new(),
                    wanted_by: String::new(),
                    wanted_for: String::new(),
                }],
                ..Shelf::default()
            };
            shelf = shelf::open(&shelf, &row).unwrap();
        }
        for place in 0..shelf.boards.len() {
            (shelf, design) = shelf::take(&shelf, place, &design, taker("it")).unwrap();
        }
        let answer = found(&design).unwrap();
        let saw = saw(&design);
        let boards = &design.rack.as_ref().unwrap().boards;
        for layout in &answer.layouts {
            let board = &boards[layout.board];
            // Each as left, right, near and far edge.
            let mut lying: Vec<[f64; 4]> = Vec::new();
            for ripped in &layout.lengths {
                for strip in &ripped.strips {
                    let need = &answer.needs[strip.need];
                    let ends = strip.runs.iter().map(|run| run.end_mm(need, &saw));
                    let (near, far) = (strip.across_mm, strip.across_mm + need.width_mm);
                    lying.push([ripped.length.from_mm, ends.fold(0.0, f64::max), near, far]);
                }
            }
            for it in left::pieces(board, layout, &answer, &saw) {
                let (right, far) = (it.from_mm + it.length_mm, it.across_mm + it.width_mm);
                // A strip may be a hair wider than what is left of the board.
                let is_within = right <= board.length_mm + 1e-6 && far <= board.width_mm + 0.1;
                assert!(is_within, "{seed} {it:?} {board:?} {layout:?}");
                lying.push([it.from_mm, right, it.across_mm, far]);
                pieces += 1;
            }
            for (at, one) in lying.iter().enumerate() {
                for other in &lying[..at] {
                    let along = one[1].min(other[1]) - one[0].max(other[0]);
                    let across = one[3].min(other[3]) - one[2].max(other[2]);
                    assert!(along < 1e-6 || across < 1e-6, "{seed} {one:?} {other:?}");
                }
            }
        }
    }
    println!("{pieces} pieces are left");
    assert!(pieces > 200, "{pieces}");
}

#[test]
fn rows_are_found_by_their_words() {
    let lines = "2 x 6 x 48 x 7/8 maple planed; 4 x 36 x 1 walnut rough; 5 x 20 x 1 maple rough";
    let design = bowl(200.0);
    let shelf = shelf::list(&Shelf::default(), &design, lines).unwrap();
    let shown = |find: &str| figures::shelf::shelf(&shelf, &design, look(find));
    let titles =
        |find: &str| -> Vec<String> { shown(find).rows.into_iter().map(|it| it.title).collect() };
    assert_eq!(titles("").len(), 3);
    assert_eq!(titles("MAPLE 48").len(), 1, "{:?}", titles(""));
    assert_eq!(titles("oak"), Vec::<String>::new());
    assert_eq!(shown("oak").says, "Nothing on it has that in its line.");
    let kept = shelf::put(&shelf, &design, taker("it")).unwrap();
    assert_eq!(kept, shelf, "the design has no boards to lay on it");
    let (kept, with) = shelf::take(&shelf, 1, &design, taker("other")).unwrap();
    assert_eq!(titles("").len(), 3);
    let told = figures::shelf::shelf(&kept, &with, look("walnut"));
    assert_eq!(told.rows[0].about, "for other");
    // The design's boards lie there already: laid on again, none is made.
    assert_eq!(shelf::put(&kept, &with, taker("other")).unwrap(), kept);
    assert!(shelf::list(&shelf, &design, "4 x maple").is_err());
}
