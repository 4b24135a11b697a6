//! Glued rings on the shelf: none is made or lost on its way into a piece and back.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use ringwright::design::shelf::{Shelf, Taker};
use ringwright::design::trouble::Reason;
use ringwright::design::{Design, MadeOf, StackRing};
use ringwright::edit::gathering::Gathering;
use ringwright::edit::{built, ring_shelf, shelf};
use ringwright::plan::built::Reorder;
use ringwright::show::figures::shelf::{Look, Order};
use ringwright::show::{figures, sheets};
use shared::Dice;

fn taker(id: &str) -> Taker<'_> {
    Taker { id, name: id }
}

fn listed(typed: &str) -> Shelf {
    shelf::list(&Shelf::default(), &Design::default(), typed).unwrap()
}

/// What tells rings apart, whichever way up: rounded to a thousandth of a millimeter.
fn sizes(ring: &StackRing) -> Vec<i64> {
    let it = ring.measured.as_ref().unwrap();
    let thousandths = |it: Option<f64>| (it.unwrap_or(0.0) * 1000.0).round() as i64;
    vec![
        thousandths(it.outside_diameter_mm),
        thousandths(it.inside_diameter_mm),
        thousandths(it.height_mm),
        i64::from(ring.segment_count),
    ]
}

fn on(shelf: &Shelf) -> Vec<Vec<i64>> {
    let mut all: Vec<Vec<i64>> = shelf.rings.iter().map(|it| sizes(&it.ring)).collect();
    all.sort_unstable();
    all
}

fn stands(design: &Design) -> Vec<Vec<i64>> {
    let rings = design.vessel.iter().flat_map(|it| &it.rings);
    let mut all: Vec<Vec<i64>> = rings.filter(|it| it.is_glued()).map(sizes).collect();
    all.sort_unstable();
    all
}

/// A ring as a line, its sizes in 16ths; alike with others now and then.
fn line(dice: &mut Dice) -> String {
    let outside = 3.0 + f64::from(dice.count(0, 12)) / 2.0;
    let hole = outside - 1.0 - f64::from(dice.count(0, 2)) / 4.0;
    let woods = ["maple", "walnut and ash", "Beech, European"];
    let segments = [8, 12, 16][dice.whole(0, 2)];
    let wood = woods[dice.whole(0, 2)];
    let high = ["3/4", "5/8"][dice.whole(0, 1)];
    format!("ring {outside} x {hole} x {high}, {segments} segments, {wood}")
}

/// Histories of two pieces that share a shelf: laid on, taken, given back, put, turned over,
/// glued in. What is on the shelf changes by nothing but what a change says.
#[test]
fn no_ring_is_made_or_lost() {
    let (mut glued, mut given) = (0, 0);
    for seed in 0..400 {
        let mut dice = Dice(seed);
        let ids = ["one", "two"];
        let mut designs = [Design::default(), Design::default()];
        let mut shelf = Shelf::default();
        for _ in 0..dice.whole(6, 30) {
            let own = dice.whole(0, 1);
            let (id, before) = (ids[own], on(&shelf));
            let place = dice.whole(0, shelf.rings.len().max(1) - 1);
            match dice.count(0, 8) {
                0..=2 => {
                    shelf = shelf::list(&shelf, &Design::default(), &line(&mut dice)).unwrap();
                    assert_eq!(on(&shelf).len(), before.len() + 1);
                }
                3 | 4 => {
                    let stood = stands(&designs[own]).len();
                    let was_own = shelf.rings.get(place).is_none_or(|it| it.wanted_by == id);
                    (shelf, designs[own]) =
                        ring_shelf::take(&shelf, place, &designs[own], taker(id)).unwrap();
                    assert_eq!(on(&shelf), before);
                    assert_eq!(stands(&designs[own]).len(), stood + usize::from(!was_own));
                    if let (false, Some(row)) = (was_own, shelf.rings.get(place)) {
                        assert_eq!(row.wanted_by, id);
                        assert!(stands(&designs[own]).contains(&sizes(&row.ring)));
                    }
                }
                5 => {
                    let stood = stands(&designs[own]);
                    let row = shelf.rings.get(place).cloned();
                    (shelf, designs[own]) =
                        ring_shelf::give_back(&shelf, place, &designs[own], taker(id));
                    assert_eq!(on(&shelf), before);
                    let is_own = row.is_some_and(|row| {
                        row.wanted_by == id && stood.contains(&sizes(&row.ring))
                    });
                    assert_eq!(
                        stands(&designs[own]).len() + usize::from(is_own),
                        stood.len()
                    );
                    given += usize::from(is_own);
                }
                6 => {
                    // Which way up they stand changes nothing.
                    for at in 0..stands(&designs[own]).len() {
                        designs[own] = built::reorder(&designs[own], Reorder::Turn(at));
                    }
                    let kept = shelf.rings.iter().filter(|it| it.wanted_by == id);
                    let mut kept: Vec<_> = kept.map(|it| sizes(&it.ring)).collect();
                    let new = stands(&designs[own]).into_iter().filter(|ring| {
                        let at = kept.iter().position(|it| it == ring);
                        at.map(|at| kept.remove(at)).is_none()
                    });
                    let wanted = before.len() + new.count();
                    shelf = ring_shelf::put(&shelf, &designs[own], taker(id)).unwrap();
                    assert_eq!(on(&shelf).len(), wanted);
                    let again = ring_shelf::put(&shelf, &designs[own], taker(id)).unwrap();
                    assert_eq!(again, shelf, "laid on it twice");
                }
                7 => {
                    let free = shelf
                        .rings
                        .iter()
                        .filter(|it| it.wanted_by.is_empty())
                        .count();
                    let stood = stands(&designs[own]).len();
                    (shelf, designs[own]) =
                        ring_shelf::take_all(&shelf, &designs[own], taker(id)).unwrap();
                    assert_eq!(stands(&designs[own]).len(), stood + free);
                    assert_eq!(on(&shelf), before);
                }
                _ => {
                    let kept = shelf.rings.iter().filter(|it| it.wanted_by == id).count();
                    let others = shelf.rings.iter().filter(|it| it.wanted_by != id).count();
                    let (next, moved) = ring_shelf::glue_in(&shelf, &designs[own], taker(id));
                    assert_eq!((moved.off + moved.on) as usize, kept);
                    assert_eq!(next.rings.len(), others + moved.on as usize);
                    assert!(next.rings.iter().all(|it| it.wanted_by != id));
                    glued += moved.off;
                    shelf = next;
                }
            }
            assert_eq!(Shelf::restore(&shelf.write()), (shelf.clone(), 0));
        }
    }
    assert!(glued > 250 && given > 50, "{glued} {given}");
}

#[test]
fn a_line_is_a_ring_with_its_segments_and_woods() {
    let shelf =
        listed("ring 7 1/2 x 5 x 3/4, 16 segments, maple and walnut\n6 x 48 x 1 ash\nRing 6x4");
    assert_eq!((shelf.boards.len(), shelf.rings.len()), (1, 2));
    let row = &shelf.rings[0];
    assert_eq!(sizes(&row.ring), [190_500, 127_000, 19_050, 16]);
    assert_eq!(row.woods.len(), 2);
    assert_eq!(row.ring.pattern, [0, 1]);
    let usual = Design::default();
    assert_eq!(shelf.rings[1].ring.segment_count, usual.ring.segment_count);
    assert_eq!(shelf.rings[1].woods, std::slice::from_ref(&usual.ring.wood));
    for typed in [
        "ring 190.5 mm x 127 mm x 19.05 mm, 12 segments, maple",
        "rings: 7 1/2, 5, 3/4, 12 segments maple",
        "RING 7.5 5 .75 12 segments of maple".trim_end_matches("of maple"),
        "ring 7 1/2 in × 5 in × 3/4 in, maple, 12 segments",
    ] {
        let read = sizes(&listed(typed).rings[0].ring);
        assert_eq!(read, [190_500, 127_000, 19_050, 12], "{typed}");
    }
    // A lid's disc has no hole.
    assert_eq!(
        listed("ring 5 x 0 x 3/4").rings[0].ring.made_of,
        MadeOf::Disc
    );
    for wrong in [
        "ring",
        "ring 5",
        "ring 5 x 6 x 1",
        "ring 5 x 3 x 0",
        "ring 5 x 3 x 1, 2 segments",
        "ring 5 x a x 1",
        "ring 1 x 2 x 3 x 4",
    ] {
        let typed = format!("6 x 48 x 1 ash\n{wrong}");
        let trouble = shelf::list(&Shelf::default(), &usual, &typed).unwrap_err();
        assert!(
            trouble.field.starts_with("vessel.rings.1."),
            "{wrong}: {trouble:?}"
        );
        // Each figure is told by its own name.
        let is_of_count = trouble.field.ends_with("segment_count");
        assert_eq!(is_of_count, wrong.ends_with("segments"), "{wrong}");
    }
}

#[test]
fn a_copied_list_lays_the_same_again() {
    for seed in 0..300 {
        let mut dice = Dice(seed);
        let typed: Vec<String> = (0..8).map(|_| line(&mut dice)).collect();
        let shelf = listed(&format!("{}\n2 x 6 x 48 x 1 ash", typed.join("\n")));
        let copied = figures::shelf::shelf(&shelf, &Design::default(), Look::default()).list;
        let again = listed(&copied);
        assert_eq!(on(&again), on(&shelf));
        assert_eq!(again.boards, shelf.boards);
        let woods = |shelf: &Shelf| {
            let mut all: Vec<_> = shelf.rings.iter().map(|it| it.woods.clone()).collect();
            all.sort();
            all
        };
        assert_eq!(woods(&again), woods(&shelf));
    }
}

#[test]
fn each_ring_keeps_its_own_woods_in_the_piece() {
    let shelf = listed(
        "ring 8 x 6 x 3/4, 12 segments, walnut\nring 6 x 4 x 3/4, 12 segments, maple and walnut",
    );
    let (_, design) = ring_shelf::take_all(&shelf, &Design::default(), taker("one")).unwrap();
    let vessel = design.vessel.as_ref().unwrap();
    let woods = |ring: &StackRing| -> Vec<&str> {
        ring.pattern
            .iter()
            .map(|at| vessel.woods[*at as usize].as_str())
            .collect()
    };
    // The narrow one stands at the foot.
    assert_eq!(woods(&vessel.rings[0]), ["Maple, sugar", "Walnut, black"]);
    assert_eq!(woods(&vessel.rings[1]), ["Walnut, black"]);
    assert_eq!(vessel.woods, ["Maple, sugar", "Walnut, black"]);
    let (design, troubles) = Design::restore(&ringwright::design::read::to_value(&design)).unwrap();
    assert!(troubles.is_empty() && design.vessel.is_some());
}

#[test]
fn what_a_piece_leaves_over_is_free_again() {
    let typed = "190 140 19, 127 76, 222 178, 165 114, 229 190, 76 51, 210 159, 146 95";
    let lines: Vec<String> = typed
        .split(", ")
        .map(|it| format!("ring {}", it.replace(' ', " x ")))
        .map(|it| {
            if it.ends_with("19") {
                it
            } else {
                format!("{it} x 19")
            }
        })
        .collect();
    let metric = Design::starting("de-DE");
    let shelf = shelf::list(&Shelf::default(), &metric, &lines.join("\n")).unwrap();
    let (shelf, design) = ring_shelf::take_all(&shelf, &metric, taker("one")).unwrap();
    let mut search = Gathering::new(&design, "bowl").unwrap().ok().unwrap();
    let mut found = None;
    while !search.is_done() {
        found = search
            .look()
            .into_iter()
            .find(|it| it.new_count == 0)
            .or(found);
    }
    let found = found.unwrap();
    assert_eq!(found.left.len(), 1);
    // Said at once, from the design that there was.
    let left = ring_shelf::leave(&shelf, &design, &found.left, taker("one")).unwrap();
    let free: Vec<_> = left
        .rings
        .iter()
        .filter(|it| it.wanted_by.is_empty())
        .collect();
    assert_eq!(free.len(), 1);
    assert_eq!(sizes(&free[0].ring)[..2], [76_000, 51_000]);
    // Or when the rest is glued together.
    let (glued, moved) = ring_shelf::glue_in(&shelf, &found.plan.design, taker("one"));
    assert_eq!((moved.off, moved.on), (7, 1));
    assert_eq!(on(&glued), [sizes(&free[0].ring)]);
    // Rings that were never on it come to it by that alone.
    let alone = ring_shelf::leave(&Shelf::default(), &design, &found.left, taker("one")).unwrap();
    assert_eq!(on(&alone), on(&glued));
    assert_eq!(alone.rings[0].note, "one");
}

#[test]
fn a_full_piece_takes_no_more_and_loses_none() {
    let mut design = Design::default();
    let shelf = listed("ring 5 x 3 x 3/4");
    for _ in 0..200 {
        design = built::add_glued(&design);
    }
    assert!(ring_shelf::take(&shelf, 0, &design, taker("one")).is_err());
}

#[test]
fn no_ring_takes_another_wood_for_want_of_room() {
    let named = |count: usize| {
        (0..count)
            .map(|it| format!("wood {it}"))
            .collect::<Vec<_>>()
    };
    let line = |woods: &[String]| format!("ring 5 x 3 x 3/4, 60 segments, {}", woods.join(" and "));
    let lay = |typed: &str| shelf::list(&Shelf::default(), &Design::default(), typed);
    assert!(lay(&line(&named(31))).is_err());
    let mut design = Design::default();
    let full = lay(&line(&named(30))).expect("thirty woods");
    design = ring_shelf::take(&full, 0, &design, taker("one")).unwrap().1;
    assert_eq!(design.vessel.as_ref().unwrap().woods.len(), 30);
    let one_more = listed("ring 6 x 4 x 3/4, 12 segments, yew");
    let refused = ring_shelf::take(&one_more, 0, &design, taker("one")).unwrap_err();
    assert!(
        matches!(refused.reason, Reason::TooManyWoods(30)),
        "{refused:?}"
    );
    // One of a wood that is there already is taken.
    let known = listed("ring 6 x 4 x 3/4, 12 segments, wood 7");
    let taken = ring_shelf::take(&known, 0, &design, taker("one"))
        .unwrap()
        .1;
    let vessel = taken.vessel.unwrap();
    assert_eq!(vessel.woods[vessel.rings[1].wood_of(0)], "wood 7");
}

#[test]
fn the_rows_stand_in_the_order_that_is_wanted() {
    let shelf = listed(
        "6 x 48 x 1 walnut\n5 x 30 x 1 1/4 ash\nring 8 x 6 x 3/4, 12 segments, walnut\nring 5 x 3 x 1, 12 segments, ash",
    );
    let of = |order: Order| -> (Vec<usize>, Vec<usize>) {
        let look = Look {
            order,
            ..Look::default()
        };
        let screen = figures::shelf::shelf(&shelf, &Design::default(), look);
        let places = |rows: &[figures::shelf::ShelfRow]| rows.iter().map(|it| it.place).collect();
        (places(&screen.rows), places(&screen.rings))
    };
    let (first, second) = (vec![0, 1], vec![1, 0]);
    assert_eq!(of(Order::Wood), (second.clone(), second.clone()));
    assert_eq!(of(Order::Thickest), (second.clone(), second.clone()));
    assert_eq!(of(Order::Longest), (first.clone(), first));
    assert_eq!(of(Order::Latest), (second.clone(), second));
}

#[test]
fn the_list_is_printed_over_as_many_pages_as_it_needs() {
    let mut dice = Dice(7);
    let typed: Vec<String> = (0..90).map(|_| line(&mut dice)).collect();
    let shelf = listed(&format!("{}\n6 x 48 x 1 walnut", typed.join("\n")));
    let plan = ringwright::plan::plan(&Design::default());
    let pages = |find: &str| {
        let look = Look {
            find,
            ..Look::default()
        };
        let screen = figures::shelf::shelf(&shelf, &plan.design, look);
        let file = sheets::shelf::pdf(&screen, &plan, "2031-02-03", None);
        if file.is_empty() {
            return 0;
        }
        lopdf::Document::load_mem(&file).unwrap().get_pages().len()
    };
    assert_eq!(pages(""), 3);
    assert_eq!(pages("walnut"), 2);
    assert_eq!(pages("no such wood"), 0);
}
