//! What boards could become: every proposal is checked strip by strip by an independent checker,
//! the largest against every size of a fine grid, and what cannot be made tells why.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use proptest::prelude::*;
use ringwright::design::{Board, Design, Rack, ThicknessIs, link};
use ringwright::edit::board_list::add_boards;
use ringwright::edit::built::add_glued;
use ringwright::edit::making::{Bigger, Goal, Making, NoMaking, Proposal, Wanted};
use ringwright::edit::start;
use ringwright::plan::board::{Need, saw};
use ringwright::plan::caution::Caution;
use ringwright::plan::plan;
use ringwright::show::change::change;
use ringwright::show::words::making as said;
use serde_json::{Value, json};
use shared::Dice;
use shared::cut::check;
use std::cell::Cell;
use std::io::Write;

const INCH: f64 = 25.4;

fn listed(typed: &str) -> Design {
    add_boards(&Design::default(), typed).unwrap()
}

/// All proposals as they stand at the end, and the search.
fn all(design: &Design, wanted: Wanted) -> (Vec<Proposal>, Making) {
    let mut search = Making::new(design, wanted).expect("boards");
    let mut found: Vec<Proposal> = Vec::new();
    while !search.is_done() {
        if let Some(next) = search.next(1) {
            found.retain(|it| it.goal != next.goal);
            found.push(next);
        }
    }
    (found, search)
}

fn shape(word: &str) -> Wanted {
    Wanted::called(word).unwrap()
}

/// Boards of a turner's rack: one to four kinds of up to three woods.
fn any_rack(dice: &mut Dice) -> Design {
    let woods = ["Maple, sugar", "Walnut, black", "Purpleheart"];
    let mut design = if dice.one_in(3.0) {
        Design::starting("de-DE")
    } else {
        Design::default()
    };
    let mut rack = Rack::empty();
    for _ in 0..dice.count(1, 4) {
        let wood = woods[dice.count(0, 2) as usize];
        rack.boards.push(Board {
            thickness_mm: [0.75, 0.875, 1.0, 1.25, 1.5, 2.0][dice.count(0, 5) as usize] * INCH,
            thickness_is: if dice.one_in(2.0) {
                ThicknessIs::Planed
            } else {
                ThicknessIs::Rough
            },
            width_mm: dice.between(60.0, 220.0).round(),
            length_mm: dice.between(400.0, 2000.0).round(),
            number: dice.count(1, 3),
            ..Board::usual(wood)
        });
    }
    design.rack = Some(rack);
    if dice.one_in(3.0) {
        design.shop.swing_mm = Some(dice.between(120.0, 300.0).round());
    }
    design
}

/// The design that a proposal becomes by its link suffices, by an independent checker of its
/// cuts; every strip suits its board there, and the lathe swings it.
fn stands(design: &Design, proposal: &Proposal) {
    let link = link::encode(&proposal.plan.design);
    let taken = change(design, &json!({ "kind": "become", "link": link })).unwrap();
    let planned = plan(&taken);
    assert_eq!(planned.design.vessel, proposal.plan.design.vessel);
    let answer = planned.boards(1_000_000).expect("boards");
    assert_eq!(answer.failures, []);
    assert_eq!(answer.extra_count, 0, "{:?}", proposal.goal);
    assert!(answer.board_count > 0);
    let rack = design.rack.as_ref().unwrap();
    check(&answer, rack, &saw(&taken));
    let mut cautions = planned.placed_cautions().iter();
    assert!(!cautions.any(|it| matches!(it.caution, Caution::PastSwing { .. })));
    let stack = planned.stack().unwrap();
    let outside = &stack.wall.as_ref().unwrap().outside;
    let across_mm = 2.0 * outside.largest_radius(0.0, outside.height_mm());
    assert!((across_mm - proposal.across_mm).abs() < 2.0, "{across_mm}");
    if let Some(swing_mm) = design.shop.swing_mm {
        assert!(across_mm <= swing_mm);
    }
    // The heights of the rings are all of the piece.
    let vessel = taken.vessel.as_ref().unwrap();
    let high_mm: f64 = vessel.rings.iter().map(|ring| ring.height_mm).sum();
    assert!((high_mm - outside.height_mm()).abs() < 0.1, "{high_mm}");
    assert!(!said::says(proposal).iter().any(String::is_empty));
}

#[test]
fn whatever_is_proposed_the_boards_give() {
    let mut dice = Dice(17);
    let (mut seen, mut mixed, mut none) = (0, 0, 0);
    for _ in 0..5 {
        let design = any_rack(&mut dice);
        for start in start::ALL {
            let (found, search) = all(&design, Wanted::Shape(start));
            none += usize::from(found.is_empty());
            assert_eq!(found.is_empty(), search.why_not().is_some());
            for proposal in &found {
                stands(&design, proposal);
                let vessel = proposal.plan.design.vessel.as_ref().unwrap();
                mixed += usize::from(vessel.woods.len() > 1);
                seen += 1;
            }
            let largest = found.iter().find(|it| it.goal == Goal::Largest);
            for other in &found {
                let largest_mm = largest.map_or(0.0, |it| it.across_mm);
                let is_larger = other.goal == Goal::Bearing;
                assert!(
                    is_larger
                        || other.goal == Goal::Largest
                        || other.across_mm <= 1.02 * largest_mm,
                    "{:?} {} {largest_mm}",
                    other.goal,
                    other.across_mm
                );
            }
        }
    }
    println!("{seen} proposals, {mixed} of several woods, {none} shapes in no size");
    assert!(seen > 40 && mixed > 5, "{seen} {mixed}");
}

/// Beside every size of a grid of 1 mm, over the same dividing and closing: never more than 4 %
/// smaller. What can be is ragged where it ends: of one vase here 200 mm, and nothing from there
/// down to 193.
#[test]
fn the_largest_is_nearly_the_largest_of_a_fine_grid() {
    let mut dice = Dice(71);
    let mut compared = 0;
    let mut worst = 1.0_f64;
    for rack in 0..20 {
        let design = any_rack(&mut dice);
        let start = &start::ALL[rack % start::ALL.len()];
        let (found, search) = all(&design, Wanted::Shape(start));
        let found = found.iter().find(|it| it.goal == Goal::Largest);
        let found_mm = found.map_or(0.0, |it| it.across_mm);
        let most_mm = design
            .shop
            .swing_mm
            .unwrap_or(600.0)
            .min(2.5 * found_mm.max(100.0));
        let sizes = (51..=most_mm as u32).rev().map(f64::from);
        let mut above = sizes.take_while(|size_mm| *size_mm > found_mm);
        let best_mm = above
            .find(|size_mm| search.gives(*size_mm))
            .unwrap_or(found_mm);
        if best_mm > 0.0 {
            worst = worst.min(found_mm / best_mm);
            compared += 1;
        }
        assert!(
            found_mm >= 0.96 * best_mm,
            "{} {found_mm} {best_mm} {:?}",
            start.word,
            design.rack
        );
    }
    println!("{compared} compared, the worst {worst}");
    assert!(compared > 10, "{compared}");
}

/// So many shelves are set beside the solver.
const SHELVES: usize = 50;

/// The shelves that are set beside the solver, each with a shape, all shapes in turn.
fn shelves() -> impl Iterator<Item = (Design, &'static start::Start)> {
    let mut dice = Dice(2026);
    (0..SHELVES).map(move |place| (any_rack(&mut dice), &start::ALL[place % start::ALL.len()]))
}

/// What there is of each board, as the solver reads it.
fn boards_of(design: &Design) -> Vec<Value> {
    let told = |it: &Board| {
        json!([
            it.wood,
            it.usable_mm(),
            it.width_mm,
            it.length_mm,
            it.number
        ])
    };
    let rack = design.rack.as_ref().unwrap();
    rack.boards.iter().map(told).collect()
}

/// Whether by plain sums the boards of each wood may have as much face as its pieces with their
/// kerfs: an end to what is written, since a solver would say no to all of it.
fn may_do(design: &Design, needs: &[Need]) -> bool {
    let (rack, kerf_mm) = (design.rack.as_ref().unwrap(), saw(design).kerf_mm);
    let suits = |board: &Board, need: &Need| {
        board.wood == need.wood
            && rack.suits(board, need.height_mm)
            && need.width_mm <= board.width_mm + 0.05
    };
    let face_mm2 = |board: &Board| {
        f64::from(board.number) * (board.width_mm + kerf_mm) * (board.length_mm + kerf_mm)
    };
    let taken_mm2 =
        |need: &Need| f64::from(need.count()) * (need.width_mm + kerf_mm) * need.pitch_mm(kerf_mm);
    needs.iter().all(|one| {
        let alike = || needs.iter().filter(|it| it.wood == one.wood);
        let of_use = |board: &&Board| alike().any(|need| suits(board, need));
        let there_mm2: f64 = rack.boards.iter().filter(of_use).map(face_mm2).sum();
        let is_there = rack.boards.iter().any(|board| suits(board, one));
        is_there && alike().map(taken_mm2).sum::<f64>() <= there_mm2
    })
}

/// Writes what `tests/tools/largest.py` solves to `target/largest.jsonl`: of each shelf what every
/// size needs, in steps of 1 % from 2 % above the largest that is found on, until every piece has
/// a fifth more wood in it than there is.
#[test]
#[ignore = "writes what an independent solver reads"]
fn what_a_solver_is_to_look_at_is_written() {
    let mut file = std::fs::File::create("target/largest.jsonl").unwrap();
    for (shelf, (design, start)) in shelves().enumerate() {
        let Ok(_) = Making::new(&design, Wanted::Shape(start)) else {
            continue;
        };
        let (found, search) = all(&design, Wanted::Shape(start));
        let found = found.iter().find(|it| it.goal == Goal::Largest);
        let found_mm = found.map_or(0.0, |it| it.across_mm);
        let boards = design.rack.as_ref().unwrap().boards.iter();
        let there_mm3: f64 = boards
            .map(|it| f64::from(it.number) * it.usable_mm() * it.width_mm * it.length_mm)
            .sum();
        let most_mm = design.shop.swing_mm.unwrap_or(1000.0);
        let (mut sizes, mut looked_at) = (Vec::new(), 0);
        let mut size_mm = if found_mm > 0.0 {
            found_mm / 0.98
        } else {
            2.0 * INCH
        };
        while size_mm <= most_mm {
            let least_mm3 = Cell::new(f64::INFINITY);
            let all = Cell::new(0);
            let needed = search.needs_of_size(size_mm, |needs| {
                let volume = |it: &Need| f64::from(it.count()) * it.piece_mm2() * it.height_mm;
                let taken_mm3: f64 = needs.iter().map(volume).sum();
                least_mm3.set(least_mm3.get().min(taken_mm3));
                all.set(all.get() + 1);
                may_do(&design, needs)
            });
            looked_at += all.get();
            let told: Vec<Value> = needed.iter().map(|needs| told_needs(needs)).collect();
            sizes.push(json!([size_mm, told]));
            if least_mm3.get() > 1.2 * there_mm3 {
                break;
            }
            size_mm *= 1.01;
        }
        let told = json!({
            "shelf": shelf,
            "shape": start.word,
            "kerf": saw(&design).kerf_mm,
            "hold_back": saw(&design).hold_back_mm,
            "plane_at_most": design.rack.as_ref().unwrap().plane_at_most_mm,
            "boards": boards_of(&design),
            "found": found_mm,
            "needs": found.map(|it| told_needs(&it.answer.needs)),
            "looked_at": looked_at,
            "sizes": sizes,
        });
        writeln!(file, "{told}").unwrap();
    }
}

/// Needs, as the solver reads them.
fn told_needs(needs: &[Need]) -> Value {
    needs.iter().map(told_need).collect()
}

/// A need: wood, height, width, long and short edge, half angle, pieces.
fn told_need(need: &Need) -> Value {
    assert!(!need.is_matched && !need.is_strip());
    let (long_mm, short_mm) = (need.long_edge_mm, need.short_edge_mm);
    let angle_rad = need.half_angle_rad;
    json!([
        need.wood,
        need.height_mm,
        need.width_mm,
        long_mm,
        short_mm,
        angle_rad,
        need.count()
    ])
}

/// Beside an independent solver (`HiGHS`): what it says to be the largest size of each of 50
/// random shelves, over every way to close the foot and every count of rings of other woods in
/// sizes 1 % apart, made by `tests/tools/largest.py`. 39 shelves come within 2 % of it; of the
/// other 11 the worst is a vase of 0.678 of its size, since the search looks for boards only so
/// long and tries few counts of rings of other woods. On 11 shelves the solver did not settle all
/// larger sizes within its time, so that the largest there may be larger still.
#[test]
fn the_largest_beside_an_independent_solver() {
    let told: Vec<Value> = serde_json::from_str(include_str!("reference/largest.json")).unwrap();
    let mut ratios: Vec<(f64, u64)> = Vec::new();
    for (shelf, (design, start)) in shelves().enumerate() {
        let Some(told) = told.iter().find(|it| it["shelf"] == shelf) else {
            continue;
        };
        assert_eq!(told["boards"], json!(boards_of(&design)));
        assert_eq!(told["shape"], start.word);
        let (found, _) = all(&design, Wanted::Shape(start));
        for proposal in &found {
            stands(&design, proposal);
        }
        let found = found.iter().find(|it| it.goal == Goal::Largest);
        let found_mm = found.map_or(0.0, |it| it.across_mm);
        // Where it says of no larger size that it can be, what was found then is the largest.
        let before_mm = told["found"].as_f64().unwrap();
        let largest_mm = told["largest"].as_f64().unwrap_or(before_mm);
        let ratio = if largest_mm > 0.0 {
            found_mm / largest_mm
        } else {
            1.0
        };
        ratios.push((ratio, shelf as u64));
    }
    ratios.sort_by(|a, b| a.0.total_cmp(&b.0));
    let held = ratios.iter().filter(|it| it.0 >= 0.98).count();
    println!(
        "{} shelves, {held} within 2 %, the worst {:?}",
        ratios.len(),
        &ratios[..8.min(ratios.len())]
    );
    assert_eq!(ratios.len(), SHELVES);
    assert!(held >= 39 && ratios[0].0 > 0.678, "{held} {:?}", ratios[0]);
    // Where boards are looked for only a tenth as long these are 0.749, 0.757 and 0.861.
    for (shelf, least) in [(14, 0.85), (19, 0.91), (25, 0.93)] {
        assert!(
            ratios.iter().any(|it| it.1 == shelf && it.0 > least),
            "{shelf}"
        );
    }
}

#[test]
fn two_boards_of_maple_and_one_of_walnut_become_a_bowl() {
    let design = listed("2 x 6 x 48 x 7/8 hard maple; 4 x 36 x 1 walnut");
    let (found, _) = all(&design, shape("bowl"));
    let goals: Vec<Goal> = found.iter().map(|it| it.goal).collect();
    assert!(
        goals.contains(&Goal::Largest) && goals.contains(&Goal::Bearing),
        "{goals:?}"
    );
    for proposal in &found {
        stands(&design, proposal);
    }
    let feature = found.iter().find(|it| it.goal == Goal::Feature);
    if let Some(feature) = feature {
        let vessel = feature.plan.design.vessel.as_ref().unwrap();
        let of_walnut = vessel
            .rings
            .iter()
            .filter(|ring| vessel.woods[ring.wood_of(0)] == "Walnut, black");
        assert_eq!(of_walnut.count(), 1);
    }
    let largest = found.iter().find(|it| it.goal == Goal::Largest).unwrap();
    let (by_mm, bigger) = largest.bigger.as_ref().unwrap();
    assert!((by_mm - 0.5 * INCH).abs() < 1e-9);
    assert!(matches!(bigger, Bigger::Other(_)));
    let says = said::says(largest).join("\n");
    assert!(
        says.contains("Bigger by 1/2 in cannot be had")
            && says.contains("the widest board is 6 in"),
        "{says}"
    );
    // Squares for the base are sawn off first: ripped whole, the boards gave 5 13/16 in.
    assert!(largest.across_mm > 7.5 * INCH, "{}", largest.across_mm);
    assert!(largest.answer.layouts.iter().any(|it| it.lengths.len() > 1));
    let (wide, _) = all(&listed("12 x 30 x 7/8 hard maple"), shape("bowl"));
    let wide = wide.iter().find(|it| it.goal == Goal::Largest).unwrap();
    assert!(matches!(wide.bigger, Some((_, Bigger::Boards(_)))));
    let says = said::says(wide).join("\n");
    assert!(
        says.contains("Bigger by 1/2 in needs") && says.contains("more board"),
        "{says}"
    );
    // The same boards give the same.
    let (again, _) = all(&design, shape("bowl"));
    for (one, other) in found.iter().zip(&again) {
        assert_eq!(
            (one.goal, &one.plan.design),
            (other.goal, &other.plan.design)
        );
        assert_eq!(one.answer, other.answer);
    }
}

/// Sapwood along one edge, all along: the bounds that are looked at first must not take the
/// boards for spoiled.
#[test]
fn boards_with_sapwood_are_not_taken_for_spoiled() {
    let largest = |typed: &str| {
        let design = listed(typed);
        let (found, _) = all(&design, shape("bowl"));
        for proposal in &found {
            stands(&design, proposal);
        }
        let largest = found.iter().find(|it| it.goal == Goal::Largest);
        largest.map_or(0.0, |it| it.across_mm)
    };
    let clear = largest("2 x 6 x 48 x 7/8 hard maple");
    let spotted = largest("2 x 7 x 48 x 7/8 hard maple avoid 0 to 48 x 0 to 1");
    // The squares of a base are not sawn off first here: that board is ripped into bands.
    assert!(spotted > 0.55 * clear, "{spotted} {clear}");
    let spoiled = largest("2 x 7 x 48 x 7/8 hard maple avoid 0 to 48");
    assert!(spoiled < 1.0, "{spoiled}");
}

#[test]
fn the_piece_that_is_open_is_made_as_large_as_the_boards_allow() {
    let mut design =
        listed("3 x 8 x 96 x 7/8 hard maple planed; 3 x 8 x 96 x 7/8 purpleheart planed");
    design.ring.wood = "Maple, sugar".to_owned();
    let mut begun = start::begin(&design, "bowl", 200.0, 80.0);
    let vessel = begun.vessel.as_mut().unwrap();
    let before = vessel.rings.len();
    vessel.rings[before - 1].pattern = vec![1];
    let (found, _) = all(&begun, Wanted::Own);
    let [largest] = found.as_slice() else {
        panic!("{}", found.len());
    };
    stands(&begun, largest);
    assert!(largest.across_mm > 200.0, "{}", largest.across_mm);
    let vessel = largest.plan.design.vessel.as_ref().unwrap();
    let topmost = vessel.rings.last().unwrap();
    assert_eq!(vessel.woods[topmost.wood_of(0)], "Purpleheart");
}

#[test]
fn what_cannot_be_made_tells_why() {
    let refused = |design: &Design, wanted: Wanted| -> NoMaking {
        if let Err(why) = Making::new(design, wanted) {
            return why;
        }
        let (found, search) = all(design, wanted);
        assert_eq!(found.len(), 0);
        search.why_not().unwrap()
    };
    let told = |design: &Design, wanted: Wanted| said::why_not(&refused(design, wanted), design);
    let none = Design::default();
    assert_eq!(refused(&none, shape("bowl")), NoMaking::NoBoards);
    assert_eq!(
        refused(&listed("0 x 6 x 48 x 1 ash"), shape("bowl")),
        NoMaking::NoBoards
    );
    let thin = listed("6 x 48 x 1/8 hard maple");
    assert!(matches!(
        refused(&thin, shape("bowl")),
        NoMaking::TooThin { .. }
    ));
    assert!(told(&thin, shape("bowl")).contains("too thin for a ring"));
    let boards = listed("6 x 48 x 1 hard maple");
    assert_eq!(refused(&boards, Wanted::Own), NoMaking::NoPiece);
    let mut glued = add_glued(&boards);
    let with_outline = start::begin(&boards, "bowl", 200.0, 80.0).vessel.unwrap();
    glued.vessel.as_mut().unwrap().points = with_outline.points;
    assert_eq!(refused(&glued, Wanted::Own), NoMaking::Glued);
    // One foot of one board.
    let short = listed("2 x 12 x 1 hard maple");
    let says = told(&short, shape("vase"));
    assert!(
        says.starts_with("The boards give this shape in no size."),
        "{says}"
    );
    assert!(says.len() > 60, "{says}");
    // A wood that is in no table is a wood all the same.
    let strange = listed("3 x 8 x 96 x 1 driftwood");
    let (found, search) = all(&strange, shape("bowl"));
    assert!(!found.is_empty(), "{:?}", search.why_not());
    // Hundreds of boards.
    let many = listed("500 x 6 x 96 x 1 hard maple");
    let (found, _) = all(&many, shape("bowl"));
    for proposal in &found {
        stands(&many, proposal);
    }
    assert!(found.iter().any(|it| it.goal == Goal::Largest));
}

/// A board as somebody may write it.
fn written(dice: &mut Dice, board: &Board) -> String {
    let inches = |length_mm: f64| format!("{}", (length_mm / INCH * 1000.0).round() / 1000.0);
    let between = [" x ", "x", " × ", " by ", " ", ", "][dice.count(0, 5) as usize];
    let mut sizes = vec![
        inches(board.width_mm),
        inches(board.length_mm),
        inches(board.thickness_mm),
    ];
    if dice.one_in(2.0) {
        let by = dice.count(0, 2) as usize;
        sizes.rotate_left(by);
    }
    if board.number > 1 || dice.one_in(2.0) {
        sizes.insert(0, board.number.to_string());
    }
    let sizes = sizes.join(between);
    let planed = match board.thickness_is {
        ThicknessIs::Planed => " planed",
        ThicknessIs::Rough if dice.one_in(2.0) => " rough",
        ThicknessIs::Rough => "",
    };
    // Where commas stand between numbers, one behind the wood begins another board.
    if dice.one_in(4.0) && between != ", " {
        format!("{} {sizes}{planed}", board.wood)
    } else {
        format!("{sizes} {}{planed}", board.wood)
    }
}

proptest! {
    #![proptest_config(shared::cases(400))]
    #[test]
    fn a_list_reads_back_however_it_is_written(seed in any::<u64>()) {
        let mut dice = Dice(seed);
        let woods = ["Maple, sugar", "Walnut, black", "Purpleheart", "Boxwood", "Wenge", "my own wood"];
        let mut boards: Vec<Board> = Vec::new();
        for place in 0..dice.count(1, 6) {
            let eighths = |dice: &mut Dice, least: u32, most: u32| f64::from(dice.count(least, most)) / 8.0 * INCH;
            boards.push(Board {
                thickness_mm: eighths(&mut dice, 2, 16),
                width_mm: eighths(&mut dice, 24, 96),
                // No two alike, which would be one entry.
                length_mm: f64::from(dice.count(13, 120)) * INCH + f64::from(place) / 8.0 * INCH,
                number: dice.count(1, 9),
                thickness_is: if dice.one_in(2.0) { ThicknessIs::Planed } else { ThicknessIs::Rough },
                ..Board::usual(woods[dice.count(0, 5) as usize])
            });
        }
        let lines: Vec<String> = boards.iter().map(|board| written(&mut dice, board)).collect();
        let typed = lines.join(["\n", "; ", "\r\n"][dice.count(0, 2) as usize]);
        let read = add_boards(&Design::default(), &typed);
        let read = read.map_err(|trouble| TestCaseError::fail(format!("{typed}: {trouble:?}")))?;
        let read = read.rack.unwrap().boards;
        prop_assert_eq!(read.len(), boards.len(), "{}", typed);
        for (read, board) in read.iter().zip(&boards) {
            let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
            prop_assert!(near(read.width_mm, board.width_mm) && near(read.length_mm, board.length_mm)
                && near(read.thickness_mm, board.thickness_mm), "{typed} {read:?}");
            prop_assert_eq!((&read.wood, read.number, read.thickness_is), (&board.wood, board.number, board.thickness_is), "{}", typed);
        }
    }
}
