//! Boards and their layouts against published instances, an independent checker and
//! an independent solver.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use ringwright::design::shelf::avoided;
use ringwright::design::{Avoid, Board, BoardGoal, BoardPrice, Design, Rack};
use ringwright::plan::bill::Part;
use ringwright::plan::board::{Answer, Bands, BoardSearch, First, Need, Saw, Unfit};
use ringwright::plan::left;
use ringwright::plan::rack::surfaced_mm;
use ringwright::solve::pack::{Bin, Item, Packing, Problem, Search};
use ringwright::units::length::Unit;
use ringwright::{edit::start, plan::base, plan::board};
use serde_json::Value;
use shared::base_of;
use shared::cut::check;
use two_stage::{need, planed, rack};

mod two_stage;

const INSTANCES: &str = include_str!("reference/cutting_stock.csv");
const THICKNESSES: &str = include_str!("reference/lumber_thickness.csv");

/// A published instance of the one-dimensional problem.
fn instance(name: &str, capacity: u32) -> Problem {
    let path = format!(
        "{}/tests/reference/cutting_stock/{name}.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut rows = csv::Reader::from_path(path).unwrap();
    let sizes: Vec<(u32, u32)> = rows.deserialize().map(Result::unwrap).collect();
    Problem {
        demands: sizes.iter().map(|(_, demand)| *demand).collect(),
        bins: vec![Bin {
            cost: 1.0,
            number: 1_000_000,
            capacity,
            items: sizes
                .iter()
                .map(|&(size, _)| Item { size, units: 1 })
                .collect(),
            parted: Vec::new(),
        }],
        least_gain: 0.999,
    }
}

/// Everything is covered and no board is overfull.
fn check_packing(problem: &Problem, packing: &Packing) {
    let mut covered = vec![0; problem.demands.len()];
    for packed in &packing.boards {
        let bin = &problem.bins[packed.bin];
        for (length, pattern) in packed.cuts.lengths.iter().enumerate() {
            let items = bin.items_in(packed.cuts.way, length);
            let sizes = pattern
                .iter()
                .map(|&(demand, count)| items[demand].size * count);
            let capacity = bin.capacity_in(packed.cuts.way, length);
            assert!(sizes.sum::<u32>() <= capacity);
            for &(demand, count) in pattern {
                covered[demand] += count * items[demand].units * packed.times;
            }
        }
    }
    for (wanted, covered) in problem.demands.iter().zip(covered) {
        assert!(covered >= *wanted);
    }
}

/// Published optima: the optimum on all small ones, within one board on the rest.
#[test]
fn published_instances() {
    for (name, found, optimum) in solve_published() {
        let is_small = optimum <= SMALL_OPTIMUM;
        let most = if is_small { optimum } else { optimum + 1.0 };
        assert!((optimum..=most).contains(&found), "{name}: {found}");
    }
}

/// An instance whose optimum takes no more boards is small.
const SMALL_OPTIMUM: f64 = 60.0;

fn solve_published() -> Vec<(String, f64, f64)> {
    let mut rows = csv::Reader::from_reader(INSTANCES.as_bytes());
    let mut found = Vec::new();
    for row in rows.records().map(Result::unwrap) {
        let problem = instance(&row[0], row[2].parse().unwrap());
        let optimum: f64 = row[6].parse().unwrap();
        let bound: f64 = row[8].parse().unwrap();
        let mut search = Search::new(problem.clone());
        // The first bound is the linear program's.
        let mut first = 0.0;
        while !search.step(100_000) && first == 0.0 {
            first = search.bound();
        }
        while !search.step(5_000_000) {}
        let best = search.best().unwrap();
        check_packing(&problem, best);
        // To the digits printed; an answer may be proven by it before it is looked at.
        let first = if first > 0.0 { first } else { search.bound() };
        assert!((first - bound).abs() < 6e-6, "{} {first}", &row[0]);
        assert!((search.bound() - 1e-6).ceil() <= optimum);
        println!(
            "{} optimum {optimum}, found {}, bound {:.5}",
            &row[0],
            best.cost,
            search.bound()
        );
        found.push((row[0].to_owned(), best.cost, optimum));
    }
    assert!(!found.is_empty());
    found
}

/// Standard thicknesses as reproduced in two lumber reference pages (one row from
/// memory, as the table says): rough and surfaced two sides, in sixteenths.
#[test]
fn surfacing_leaves_what_the_grading_rules_say() {
    let inches = |text: &str| -> f64 {
        text.split('-')
            .map(|part| match part.split_once('/') {
                Some((above, below)) => {
                    above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap()
                }
                None => part.parse().unwrap(),
            })
            .sum()
    };
    let mut rows = csv::Reader::from_reader(THICKNESSES.as_bytes());
    let mut seen = 0;
    for row in rows.records().map(Result::unwrap) {
        let left = surfaced_mm(inches(&row[1]) * 25.4);
        assert!((left - inches(&row[3]) * 25.4).abs() < 1e-9, "{row:?}");
        seen += 1;
    }
    assert_eq!(seen, 13);
    assert_eq!(board::quarters_for(13.0 / 16.0 * 25.4), Some(4));
    assert_eq!(board::quarters_for(13.1 / 16.0 * 25.4), Some(5));
    assert_eq!(board::quarters_for(3.8 * 25.4), None);
}

fn solve(needs: Vec<Need>, rack: &Rack, saw: Saw) -> Answer {
    let mut search = BoardSearch::for_needs(needs, rack.clone(), saw);
    for _ in 0..10 {
        if search.step(1_000_000) {
            break;
        }
        check(&search.answer(), rack, &saw);
    }
    let answer = search.answer();
    check(&answer, rack, &saw);
    answer
}

/// Instances made and solved by `tests/tools/two_stage.py` (the solver `HiGHS`), each board left
/// whole: sawn across first, boards never give less.
#[test]
fn never_more_boards_than_an_independent_solver_takes_whole() {
    let instances = two_stage::instances("two_stage");
    let (mut same, mut fewer, mut proven) = (0, 0, 0);
    for instance in &instances {
        let answer = solve(instance.needs.clone(), &instance.rack, instance.saw);
        let fewest = instance.fewest;
        assert_eq!(answer.extra_count, 0);
        assert!(answer.board_count <= fewest + 1);
        assert!(answer.least.unwrap() <= f64::from(fewest));
        same += u32::from(answer.board_count == fewest);
        fewer += u32::from(answer.board_count < fewest);
        proven += u32::from(answer.is_best);
    }
    let all = instances.len() as u32;
    println!("{same} of {all} with as few boards, {fewer} with fewer, {proven} proven");
    assert!(f64::from(same + fewer) >= 0.95 * f64::from(all));
    assert!(f64::from(fewer) >= 0.2 * f64::from(all), "{fewer}");
}

/// Instances made and solved by `tests/tools/sawn_across.py` (the solver `HiGHS`), each board
/// sawn across once at most, squares for discs and needs of few pieces among them.
#[test]
fn as_few_boards_sawn_across_as_an_independent_solver() {
    let instances = two_stage::instances("sawn_across");
    let (mut across, mut proven) = (0, 0);
    for (place, instance) in instances.iter().enumerate() {
        let answer = solve(instance.needs.clone(), &instance.rack, instance.saw);
        assert_eq!(answer.board_count, instance.fewest, "{place}");
        assert_eq!(answer.extra_count, 0, "{place}");
        assert!(
            answer.least.unwrap() <= f64::from(instance.fewest),
            "{place}"
        );
        let is_sawn = answer.layouts.iter().any(|it| it.lengths.len() > 1);
        across += u32::from(is_sawn);
        proven += u32::from(answer.is_best);
    }
    println!(
        "{} racks, {across} with boards sawn across, {proven} proven",
        instances.len()
    );
    assert!(instances.len() >= 200 && across > 50, "{across}");
}

/// Instances made and solved by `tests/tools/true_face.py` (the solver `HiGHS`): knots, splits and
/// sapwood beside clear wood, each board left whole, sawn across once, or ripped into two bands
/// once.
#[test]
fn as_few_boards_ripped_into_bands_as_an_independent_solver() {
    let instances = two_stage::instances("true_face");
    let (mut along, mut proven, mut same) = (0, 0, 0);
    for (place, instance) in instances.iter().enumerate() {
        let answer = solve(instance.needs.clone(), &instance.rack, instance.saw);
        let fewest = instance.fewest;
        assert_eq!(
            (answer.extra_count, answer.failures.len()),
            (0, 0),
            "{place}"
        );
        assert!(answer.board_count <= fewest, "{place}");
        assert!(answer.least.unwrap() <= f64::from(fewest), "{place}");
        assert_ne!(answer.bands, Bands::Some, "{place}");
        let is_ripped = |it: &board::Layout| it.first() == First::Along;
        along += u32::from(answer.layouts.iter().any(is_ripped));
        proven += u32::from(answer.is_best);
        same += u32::from(answer.board_count == fewest);
    }
    let all = instances.len();
    println!("{all} racks, {along} with bands, {same} with as few boards, {proven} proven");
    assert!(all >= 100 && along > 25, "{along}");
}

/// A board is read back from the list that is written of it, with all that is to be avoided.
#[test]
fn a_written_list_of_boards_reads_back() {
    let mut board = planed(6.0 * 25.4, 48.0 * 25.4, 2);
    for (across_from_mm, across_to_mm) in [
        (None, Some(20.0)),
        (Some(5.0), None),
        (Some(3.5), Some(9.0)),
        (None, None),
    ] {
        board.avoid.push(Avoid {
            across_from_mm,
            across_to_mm,
            ..Avoid::length(12.7, 40.0)
        });
    }
    for unit in Unit::ALL {
        let design = Design {
            unit: *unit,
            ..Design::default()
        };
        let typed = ringwright::show::words::boards::board_typed(&board, *unit);
        let back = ringwright::edit::board_list::add_boards(&design, &typed).unwrap();
        let back = back.rack.unwrap().boards.remove(0);
        assert_eq!(back.avoid.len(), 4, "{typed}");
        for (one, other) in board.avoid.iter().zip(&back.avoid) {
            assert_eq!(one.is_length(), other.is_length(), "{typed}");
            let (one, other) = (
                one.across_mm(board.width_mm),
                other.across_mm(board.width_mm),
            );
            let off_mm = (one.0 - other.0).abs().max((one.1 - other.1).abs());
            assert!(off_mm < 0.02, "{typed}");
        }
    }
}

/// A bowl of one wood and five boards of 7 × 96 in: a length off the end for the squares of its
/// base, all strips from the rest. Ripped whole it takes two.
#[test]
fn a_bowl_comes_from_one_board_that_is_sawn_across_first() {
    const INCH: f64 = 25.4;
    let begun = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let mut design = ringwright::edit::base::type_in(&begun, "base.kind", "one_board").unwrap();
    let wood = design.vessel.as_ref().unwrap().woods[0].clone();
    let mut boards = rack(
        BoardGoal::Fewest,
        vec![Board {
            thickness_mm: INCH,
            wood: wood.clone(),
            ..planed(7.0 * INCH, 96.0 * INCH, 5)
        }],
    );
    boards.plane_at_most_mm = INCH;
    design.rack = Some(boards.clone());
    let plan = ringwright::plan::plan(&design);
    let mut search = board::BoardSearch::new(&design, plan.bill());
    while !search.step(1_000_000) {}
    let answer = search.answer();
    check(&answer, &boards, &board::saw(&design));
    assert_eq!(answer.failures, []);
    assert_eq!((answer.board_count, answer.extra_count), (1, 0));
    assert_eq!((answer.least, answer.is_best), (Some(1.0), true));
    let [layout] = answer.layouts.as_slice() else {
        panic!("{:?}", answer.layouts);
    };
    let [square, rest] = layout.lengths.as_slice() else {
        panic!("{layout:?}");
    };
    let need = |strip: &board::Strip| &answer.needs[strip.need];
    assert!(square.strips.iter().all(|it| need(it).is_disc()));
    assert!(!rest.strips.iter().any(|it| need(it).is_disc()));
    // Ripped whole, the square's strip leaves no room for the others.
    let kerf_mm = design.shop.kerf_mm;
    let whole_mm: f64 = answer.needs.iter().map(|it| it.width_mm + kerf_mm).sum();
    assert!(whole_mm > 7.0 * INCH + kerf_mm);
    let goal = BoardGoal::Fewest;
    let says = ringwright::show::words::boards::bound(&answer, goal, design.unit);
    assert!(says.starts_with("1 is the least possible where each board is sawn across once"));
}

fn any_need() -> impl Strategy<Value = Need> {
    let segment = (3_u32..40, 1.0..120.0_f64, 0.0..200.0_f64, 1_u32..80);
    (segment, any::<bool>(), prop::bool::weighted(0.2)).prop_map(
        |((segments, width, short, count), is_matched, is_disc)| {
            let half_angle = std::f64::consts::PI / f64::from(segments);
            let need = Need {
                is_matched,
                ..need(
                    segments,
                    width,
                    short + 2.0 * width * half_angle.tan(),
                    count,
                    0,
                )
            };
            if is_disc {
                return Need {
                    half_angle_rad: 0.0,
                    long_edge_mm: width,
                    short_edge_mm: width,
                    ..need
                };
            }
            need
        },
    )
}

fn any_board() -> impl Strategy<Value = Board> {
    let along = (0.0..3000.0_f64, 0.0..3000.0_f64);
    let edge = || proptest::option::of(0.0..420.0_f64);
    let avoid = proptest::collection::vec((along, (edge(), edge())), 0..4);
    (
        0.1..400.0_f64,
        0.1..3000.0_f64,
        0_u32..9,
        proptest::option::of(0.0..90.0_f64),
        any::<bool>(),
        avoid,
    )
        .prop_map(|(width, length, number, price, by_piece, avoid)| Board {
            price,
            price_for: if by_piece {
                BoardPrice::Piece
            } else {
                BoardPrice::BoardFoot
            },
            avoid: avoid
                .into_iter()
                .map(|((from_mm, to_mm), (across_from_mm, across_to_mm))| Avoid {
                    from_mm,
                    to_mm: if to_mm > from_mm + 300.0 {
                        from_mm + 40.0
                    } else {
                        to_mm
                    },
                    across_from_mm,
                    across_to_mm,
                })
                .collect(),
            ..planed(width, length, number)
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn every_layout_can_be_cut(
        needs in proptest::collection::vec(any_need(), 0..7),
        boards in proptest::collection::vec(any_board(), 0..7),
        goal in 0..3_usize,
        kerf_mm in 0.0..6.0_f64,
        hold_back_mm in 0.0..200.0_f64,
    ) {
        let needs = needs.into_iter().enumerate().map(|(ring, need)| Need { parts: vec![(Part::Ring(ring), need.count())], ..need });
        let rack = rack(BoardGoal::ALL[goal], boards);
        let saw = Saw { kerf_mm, hold_back_mm };
        let mut search = BoardSearch::for_needs(needs.collect(), rack.clone(), saw);
        for _ in 0..3 {
            search.step(20_000);
            check(&search.answer(), &rack, &saw);
        }
    }
}

/// Boards with knots and sapwood beside clear wood.
fn spotted() -> impl Strategy<Value = Board> {
    let share = || 0.0..1.0_f64;
    let edges = proptest::option::weighted(0.9, (share(), share()));
    let spots = proptest::collection::vec((share(), share(), any::<bool>(), edges), 1..4);
    (60.0..260.0_f64, 400.0..2500.0_f64, 1_u32..4, spots).prop_map(
        |(width, length, number, spots)| Board {
            avoid: spots
                .into_iter()
                .map(|(from, long, is_all, edges)| {
                    let from_mm = if is_all { 0.0 } else { from * length };
                    let to_mm = if is_all {
                        length
                    } else {
                        from_mm + long * 300.0
                    };
                    let across = edges.map(|(near, wide)| (near * width, wide * 0.4 * width));
                    Avoid {
                        across_from_mm: across.map(|it| it.0),
                        across_to_mm: across.map(|it| it.0 + it.1),
                        ..Avoid::length(from_mm, to_mm)
                    }
                })
                .collect(),
            ..planed(width, length, number)
        },
    )
}

/// What is left of a board overlaps neither a piece that is cut of it nor another that is left, and
/// a place of it is to be avoided where the board's was.
fn check_left(answer: &Answer, rack: &Rack, saw: &Saw) {
    for layout in &answer.layouts {
        let board = &rack.boards[layout.board];
        let left = left::pieces(board, layout, answer, saw);
        let ends = |from: f64, size: f64| (from, from + size);
        let mut taken: Vec<[(f64, f64); 2]> = Vec::new();
        for strip in layout.strips() {
            let need = &answer.needs[strip.need];
            for run in &strip.runs {
                let along = (run.start_mm, run.end_mm(need, saw) - saw.kerf_mm);
                taken.push([along, ends(strip.across_mm, need.width_mm)]);
            }
        }
        for piece in left {
            let along = ends(piece.from_mm, piece.length_mm);
            let across = ends(piece.across_mm, piece.width_mm);
            assert!(
                along.0 > -0.1 && along.1 < board.length_mm + 0.1,
                "{piece:?}"
            );
            assert!(
                across.0 > -0.1 && across.1 < board.width_mm + 0.1,
                "{piece:?}"
            );
            let apart = |a: (f64, f64), b: (f64, f64)| a.1 < b.0 + 0.2 || b.1 < a.0 + 0.2;
            let is_apart = |it: &[(f64, f64); 2]| apart(it[0], along) || apart(it[1], across);
            assert!(taken.iter().all(is_apart), "{piece:?} {taken:?}");
            taken.push([along, across]);
            check_spots(board, along, across);
        }
    }
}

/// Looks at places all over a piece of a board.
fn check_spots(board: &Board, along: (f64, f64), across: (f64, f64)) {
    let own = Board {
        length_mm: along.1 - along.0,
        width_mm: across.1 - across.0,
        avoid: avoided(board, along, across),
        ..board.clone()
    };
    let is_bad = |board: &Board, x: f64, y: f64| {
        board.avoid.iter().any(|it| {
            let (near, far) = it.across_mm(board.width_mm);
            x > it.from_mm.min(it.to_mm) && x < it.from_mm.max(it.to_mm) && y > near && y < far
        })
    };
    for place in 0..200_u32 {
        let share = |step: f64| (f64::from(place) * step + 0.37).fract();
        let (x, y) = (
            share(0.618_034) * own.length_mm,
            share(0.414_214) * own.width_mm,
        );
        let there = is_bad(board, along.0 + x, across.0 + y);
        assert_eq!(is_bad(&own, x, y), there, "{board:?} {own:?}");
    }
}

#[test]
fn no_piece_lies_on_a_spot_and_what_is_left_keeps_its_own() {
    let mut runner = TestRunner::deterministic();
    let needs = proptest::collection::vec(any_need(), 1..5);
    let all = (
        needs,
        proptest::collection::vec(spotted(), 1..4),
        0..3_usize,
    );
    let (mut bands, mut trimmed, mut apart, mut across) = ([0, 0], 0, 0, 0);
    for _ in 0..2000 {
        let (needs, boards, goal) = all.new_tree(&mut runner).unwrap().current();
        let rings = needs.into_iter().enumerate();
        let needs = rings.map(|(ring, need)| Need {
            parts: vec![(Part::Ring(ring), need.count())],
            ..need
        });
        let rack = rack(BoardGoal::ALL[goal], boards);
        let saw = Saw {
            kerf_mm: 3.2,
            hold_back_mm: 100.0,
        };
        let mut search = BoardSearch::for_needs(needs.collect(), rack.clone(), saw);
        search.step(100_000);
        let answer = search.answer();
        check(&answer, &rack, &saw);
        check_left(&answer, &rack, &saw);
        for layout in &answer.layouts {
            match layout.first() {
                First::Nothing => {}
                First::Across(_) => across += 1,
                First::Along => {
                    let mut gaps_mm = Vec::new();
                    let mut from_mm = 0.0;
                    for it in &layout.lengths {
                        gaps_mm.push(it.length.near_mm - from_mm);
                        from_mm = it.length.far_mm;
                    }
                    bands[layout.lengths.len() - 1] += 1;
                    trimmed += u32::from(gaps_mm[0] > 0.0 && gaps_mm.len() > 1);
                    apart += u32::from(gaps_mm.get(1).is_some_and(|it| *it > saw.kerf_mm + 0.1));
                }
            }
        }
    }
    println!("{bands:?} bands, {trimmed} {apart} with waste before or between, {across} across");
    assert!(bands.iter().all(|it| *it > 100), "{bands:?}");
    assert!(
        trimmed > 10 && apart > 10 && across > 50,
        "{trimmed} {apart} {across}"
    );
}

#[test]
fn each_ring_that_fails_says_why_and_the_rest_is_laid_out() {
    let saw = Saw {
        kerf_mm: 3.0,
        hold_back_mm: 100.0,
    };
    let good = need(12, 40.0, 60.0, 12, 0);
    let with = |change: &dyn Fn(&mut Need)| {
        let mut need = need(12, 40.0, 60.0, 12, 1);
        change(&mut need);
        need
    };
    let needs = vec![
        good,
        with(&|need| "Ebony".clone_into(&mut need.wood)),
        with(&|need| need.height_mm = 40.0),
        with(&|need| need.height_mm = 4.0),
        with(&|need| need.width_mm = 160.0),
        with(&|need| need.long_edge_mm = 2000.0),
        with(&|need| {
            need.is_matched = true;
            need.parts = vec![(Part::Ring(1), 120)];
        }),
    ];
    let rack = rack(BoardGoal::Fewest, vec![planed(150.0, 900.0, 1)]);
    let answer = solve(needs, &rack, saw);
    let why: Vec<&Unfit> = answer.failures.iter().map(|failure| &failure.why).collect();
    assert!(
        matches!(
            why[..],
            [
                Unfit::NoWood { .. },
                Unfit::Thickness { .. },
                Unfit::Thickness { .. },
                Unfit::TooWide { .. },
                Unfit::TooLong { .. },
                Unfit::NotInOne,
            ]
        ),
        "{why:?}"
    );
    assert_eq!((answer.board_count, answer.extra_count), (1, 0));
}

#[test]
fn a_matched_ring_costs_a_board_where_two_would_have_done() {
    let saw = Saw {
        kerf_mm: 3.0,
        hold_back_mm: 100.0,
    };
    // Strips of 8 pieces, three side by side on a board: 12 pieces take two strips.
    let boards = vec![planed(130.0, 560.0, 10)];
    let ring = |place, is_matched| Need {
        is_matched,
        ..need(12, 40.0, 60.0, 12, place)
    };
    let loose = solve(
        vec![ring(0, false), ring(1, false), ring(2, false)],
        &rack(BoardGoal::Fewest, boards.clone()),
        saw,
    );
    // The three take the same strip and share: 36 pieces of 8 are 5 strips, 2 boards.
    assert_eq!((loose.needs.len(), loose.board_count), (3, 2));
    let matched = solve(
        vec![ring(0, true), ring(1, true), ring(2, true)],
        &rack(BoardGoal::Fewest, boards),
        saw,
    );
    assert_eq!((matched.board_count, matched.is_best), (3, true));
}

#[test]
fn ten_thousand_boards_and_missing_prices_are_nothing_special() {
    let saw = Saw {
        kerf_mm: 3.0,
        hold_back_mm: 100.0,
    };
    let mut boards = vec![planed(100.0, 700.0, 10_000), planed(200.0, 700.0, 10_000)];
    boards[0].price = Some(5.0);
    boards[0].price_for = BoardPrice::Piece;
    let needs: Vec<Need> = (0..60)
        .map(|ring| need(24, 20.0 + 0.5 * f64::from(ring), 60.0, 360, ring as usize))
        .collect();
    for goal in BoardGoal::ALL {
        let answer = solve(needs.clone(), &rack(*goal, boards.clone()), saw);
        assert_eq!(answer.extra_count, 0);
        assert!(answer.board_count > 100);
    }
    let cheapest = solve(needs, &rack(BoardGoal::Cheapest, boards), saw);
    // The wide ones have no price and count as paid for.
    assert_eq!(cheapest.unpriced_count, cheapest.board_count);
}

/// Every segment of a vessel is needed, each in its own wood.
#[test]
fn a_vessel_needs_each_of_its_segments_once() {
    let mut design = start::begin(&Design::default(), "vase", 200.0, 250.0);
    // The lowest ring is a board, as in a design that says nothing of its base.
    design.base = None;
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods = vec!["Ash, white".to_owned(), "Sapele".to_owned()];
    for (place, ring) in vessel.rings.iter_mut().enumerate() {
        ring.pattern = vec![0, u32::from(place % 2 == 0)];
        ring.is_matched = place == 3;
    }
    let vessel = vessel.clone();
    let needs = board::needs(&design, ringwright::plan::plan(&design).bill());
    for (place, ring) in vessel.rings.iter().enumerate() {
        let mine = |need: &&Need| {
            need.parts
                .iter()
                .any(|(part, _)| *part == Part::Ring(place))
        };
        let found: u32 = needs
            .iter()
            .filter(mine)
            .flat_map(|need| &need.parts)
            .filter(|(part, _)| *part == Part::Ring(place))
            .map(|(_, count)| count)
            .sum();
        let is_disc = ring.made_of == ringwright::design::MadeOf::Disc;
        assert_eq!(found, if is_disc { 1 } else { ring.segment_count });
        let woods = needs.iter().filter(mine).count();
        assert_eq!(woods, if is_disc || place % 2 == 1 { 1 } else { 2 });
    }
    assert!(needs.iter().any(|need| need.is_matched));
    let estimate = board::estimate(&design, ringwright::plan::plan(&design).bill());
    assert!(estimate.iter().all(|each| each.bought_mm3 > 0.0));
}

/// A base that is no ring of the stack takes its squares from the boards too: plies from a
/// strip where a board suits that, from one block where it suits only that.
#[test]
fn the_base_is_sawn_from_the_boards() {
    let begun = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let design = ringwright::edit::base::type_in(&begun, "base.kind", "plies").unwrap();
    let mut design = ringwright::edit::base::type_in(&design, "base.set", "let_in").unwrap();
    let blanks = base_of(&design).blanks;
    assert_eq!(blanks.iter().map(|blank| blank.count).sum::<u32>(), 3);
    let squares = |design: &Design| -> Vec<(f64, f64, u32)> {
        let needs = board::needs(design, ringwright::plan::plan(design).bill());
        let of_base = needs
            .iter()
            .filter(|need| need.parts.iter().any(|(part, _)| *part == Part::Base));
        of_base
            .map(|need| (need.width_mm, need.height_mm, need.count()))
            .collect()
    };
    let of_blanks = |square: fn(&base::Blank) -> (f64, f64, u32)| -> Vec<_> {
        blanks.iter().map(square).collect()
    };
    // The thickest first, as all that is cut.
    let thickest_first = |mut squares: Vec<(f64, f64, u32)>| {
        squares.sort_by(|one, other| other.1.total_cmp(&one.1));
        squares
    };
    let blocks = thickest_first(of_blanks(|blank| (blank.side_mm, blank.stock_mm, 1)));
    assert_eq!(squares(&design), blocks);
    let thickest = |of: fn(&base::Blank) -> f64| blanks.iter().map(of).fold(0.0, f64::max);
    let board_of = |thickness_mm: f64| Board {
        thickness_mm,
        wood: format!(" {} ", blanks[0].wood.to_uppercase()),
        ..planed(400.0, 900.0, 2)
    };
    let plies = of_blanks(|blank| (blank.side_mm, blank.dressed_mm, blank.count));
    let thin = board_of(thickest(|blank| blank.dressed_mm) + 0.1);
    design.rack = Some(rack(BoardGoal::Fewest, vec![thin]));
    assert_eq!(squares(&design), thickest_first(plies));
    let mut search = board::BoardSearch::new(&design, ringwright::plan::plan(&design).bill());
    while !search.step(1_000_000) {}
    let answer = search.answer();
    let of_base = |strip: &board::Strip| strip.parts.iter().any(|(part, _)| *part == Part::Base);
    let laid: u32 = answer
        .layouts
        .iter()
        .flat_map(|layout| layout.strips().map(|strip| (layout.times, strip)))
        .filter(|(_, strip)| of_base(strip))
        .flat_map(|(times, strip)| strip.parts.iter().map(move |(_, count)| times * count))
        .sum();
    assert_eq!(laid, 3);
    // Plies alike, for which no board is thin enough: one block, and three slices of it.
    let mut alike = design.clone();
    for ply in &mut alike.base.as_mut().unwrap().plies {
        ply.thickness_mm = 4.0;
    }
    alike.rack = None;
    let block = base_of(&alike).blanks.remove(0);
    assert!(block.is_block && block.count == 3);
    let kerfs_mm = 2.0 * alike.shop.kerf_mm;
    assert!((block.stock_mm - 3.0 * block.sawn_mm - kerfs_mm).abs() < 1e-9);
    let mut thick = rack(BoardGoal::Fewest, vec![board_of(block.stock_mm + 1.0)]);
    thick.plane_at_most_mm = 2.0;
    alike.rack = Some(thick);
    assert_eq!(squares(&alike), [(block.side_mm, block.stock_mm, 1)]);
    // One board glued under is the lowest ring itself, and is not needed twice.
    let under = ringwright::edit::base::type_in(&begun, "base.kind", "one_board").unwrap();
    let under = ringwright::edit::base::type_in(&under, "base.set", "under").unwrap();
    assert_eq!(squares(&under), []);
    // A ring alone with a base let in.
    let alone =
        ringwright::edit::base::type_in(&Design::default(), "base.kind", "one_board").unwrap();
    assert_eq!(squares(&alone).len(), 1);
}

#[test]
fn a_rack_comes_back_from_file_and_link() {
    let mut board = planed(6.5 * 25.4, 72.0 * 25.4, 3);
    board.avoid = vec![Avoid::length(101.6, 127.0)];
    board.price = Some(8.25);
    let boards = vec![board, Board::usual("Sapele")];
    let mut design = Design {
        rack: Some(rack(BoardGoal::LeastWood, boards)),
        ..Design::default()
    };
    design.ring.is_matched = true;
    let link = ringwright::design::link::encode(&design);
    assert_eq!(
        ringwright::design::link::decode(&link),
        Ok((design.clone(), vec![]))
    );
    let plain = ringwright::design::link::encode(&Design::default());
    assert!(
        link.len() < plain.len() + 170,
        "{} {}",
        link.len(),
        plain.len()
    );
    // A board that is not one is reported, and the others stay.
    let mut whole = ringwright::design::read::to_value(&design);
    whole["rack"]["boards"][0]["width_mm"] = Value::from(0);
    let (read, troubles) = Design::restore(&whole).unwrap();
    assert_eq!(troubles.len(), 1);
    assert_eq!(troubles[0].field, "rack.boards.0.width_mm");
    assert_eq!(read.rack.unwrap().boards[1], design.rack.unwrap().boards[1]);
}

/// What the quick estimate buys is never less than what the strips need, in figures and as
/// told, for a whole vessel and for a single segment of a wood.
#[test]
fn nobody_is_told_to_buy_less_than_is_needed() {
    use ringwright::plan::bill;
    for (word, diameter_mm) in [("bowl", 200.0), ("vase", 90.0), ("cylinder", 320.0)] {
        let mut design = start::begin(&Design::default(), word, diameter_mm, diameter_mm * 0.6);
        design.shop.waste_percent = 0;
        let vessel = design.vessel.as_mut().unwrap();
        vessel.woods = ["Maple, sugar", "Purpleheart"].map(str::to_owned).to_vec();
        let ring = &mut vessel.rings[2];
        ring.pattern = vec![0; ring.segment_count as usize];
        ring.pattern[3] = 1;
        let woods = vessel.woods.clone();
        let plan = ringwright::plan::plan(&design);
        let estimates = board::estimate(&design, plan.bill());
        for need in bill::by_wood(plan.bill(), &woods) {
            assert!(need.strip_mm3 > 0.0);
            let bought = estimates.iter().filter(|it| it.wood == need.name);
            let bought_mm3: f64 = bought.map(|it| it.bought_mm3).sum();
            assert!(bought_mm3 > need.strip_mm3, "{word} {}", need.name);
            let told = estimates.iter().filter(|it| it.wood == need.name);
            let strips_mm3: f64 = told.map(|it| it.strips_mm3).sum();
            assert!((strips_mm3 / need.strip_mm3 - 1.0).abs() < 1e-9, "{word}");
        }
    }
}
