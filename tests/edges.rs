//! Squares for discs that no board is wide enough for, glued up edge to edge: their widths by
//! plain counting, their boards by the independent checker, their place in the order of work.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use ringwright::design::{Board, Design, MadeOf, Rack, link};
use ringwright::edit::{self, start};
use ringwright::plan::board::{Answer, Need, Unfit, saw};
use ringwright::plan::order::{BaseWork, Needs, Step, Work};
use ringwright::plan::{Plan, plan};
use shared::Dice;
use shared::cut::check;

const INCH: f64 = 25.4;

/// Off each edge that is jointed (common practice, no published source).
const JOINTED_MM: f64 = INCH / 16.0;

/// A bowl on a disc of one board, or on plies, with boards so wide.
fn bowl(across_mm: f64, is_disc: bool, widths_mm: &[f64]) -> Design {
    let begun = start::begin(&Design::default(), "bowl", across_mm, across_mm / 2.0);
    let mut design = start::divide(&begun);
    if is_disc {
        design.base = None;
        design.vessel.as_mut().unwrap().rings[0].made_of = MadeOf::Disc;
    }
    let mut rack = Rack::empty();
    // Thick or thin, each ring and each ply has its board.
    rack.plane_at_most_mm = 60.0;
    let wood = design.vessel.as_ref().unwrap().woods[0].clone();
    rack.boards = widths_mm
        .iter()
        .map(|width_mm| Board {
            thickness_mm: 2.0 * INCH,
            width_mm: *width_mm,
            length_mm: 96.0 * INCH,
            number: 4,
            ..Board::usual(&wood)
        })
        .collect();
    design.rack = Some(rack);
    design
}

fn glued(design: &Design, is_glued: bool) -> Plan {
    let typed = if is_glued { "yes" } else { "no" };
    plan(&edit::type_in(design, "rack.is_edge_glued", typed).expect("a box"))
}

fn answer(plan: &Plan) -> Answer {
    let answer = plan.boards(2_000_000).expect("boards");
    let rack = plan.design.rack.as_ref().unwrap();
    check(&answer, rack, &saw(&plan.design));
    answer
}

/// The fewest pieces no wider than so much that come to a side when their edges are jointed.
fn fewest(side_mm: f64, widest_mm: f64) -> u32 {
    let comes_to =
        |count: u32| f64::from(count) * widest_mm - f64::from(2 * (count - 1)) * JOINTED_MM;
    (2..1000)
        .find(|count| comes_to(*count) >= side_mm - 1e-6)
        .unwrap()
}

fn squares(needs: &[Need]) -> impl Iterator<Item = &Need> {
    needs.iter().filter(|need| need.edges.is_some())
}

#[test]
fn a_disc_wider_than_every_board_is_glued_up() {
    let design = bowl(14.0 * INCH, true, &[5.0 * INCH]);
    let alone = answer(&glued(&design, false));
    let too_wide = |it: &Unfit| matches!(it, Unfit::TooWide { .. });
    assert!(alone.failures.len() == 1 && too_wide(&alone.failures[0].why));
    let whole = &alone.needs[alone.failures[0].need];
    let plan = glued(&design, true);
    let found = answer(&plan);
    assert_eq!(found.failures, []);
    let pieces = squares(&found.needs).next().expect("a square is glued up");
    assert_eq!(squares(&found.needs).count(), 1);
    let own = pieces.edges.unwrap();
    assert_eq!(own.count, fewest(whole.width_mm, 5.0 * INCH));
    assert_eq!(pieces.count(), own.count * whole.count());
    assert!((pieces.long_edge_mm - whole.width_mm).abs() < 1e-9);
    let jointed_mm =
        f64::from(own.count) * pieces.width_mm - f64::from(2 * (own.count - 1)) * JOINTED_MM;
    assert!((jointed_mm - whole.width_mm).abs() < 1e-9, "{jointed_mm}");
    // It goes along in the link, and is off in every other.
    assert_eq!(
        link::decode(&link::encode(&plan.design)).unwrap().0,
        *plan.design
    );
    assert!(link::encode(&design).len() < link::encode(&plan.design).len());
}

#[test]
fn any_boards_give_more_when_they_may_be_glued() {
    let mut dice = Dice(91);
    let (mut seen, mut alike, mut many) = (0, 0, 0);
    for _ in 0..300 {
        let widths: Vec<f64> = (0..dice.count(1, 3))
            .map(|_| dice.between(40.0, 300.0).round())
            .collect();
        let design = bowl(dice.between(90.0, 420.0), dice.one_in(2.0), &widths);
        let (apart, together) = (
            answer(&glued(&design, false)),
            answer(&glued(&design, true)),
        );
        for failure in &together.failures {
            assert!(apart.failures.iter().any(|it| it.need == failure.need));
        }
        let widest_mm = widths.iter().copied().fold(0.0, f64::max);
        for (need, whole) in together.needs.iter().zip(&apart.needs) {
            let Some(own) = need.edges else {
                assert_eq!(need, whole);
                let is_whole = !need.is_disc() || need.width_mm <= widest_mm + 0.01;
                // Six pieces are the most.
                assert!(is_whole || fewest(need.width_mm, widest_mm) > 6);
                continue;
            };
            assert!(whole.width_mm > widest_mm, "a board gives it whole");
            assert_eq!(own.count, fewest(whole.width_mm, widest_mm));
            many += usize::from(own.count > 2);
            seen += 1;
        }
        if squares(&together.needs).next().is_none() {
            assert_eq!(apart, together);
            alike += 1;
        }
    }
    println!("{seen} squares glued up, {many} of three pieces or more, {alike} racks without");
    assert!(
        seen > 60 && many > 10 && alike > 40,
        "{seen} {many} {alike}"
    );
}

#[test]
fn they_are_glued_up_before_the_base_is_sawn() {
    for is_disc in [true, false] {
        let design = bowl(14.0 * INCH, is_disc, &[5.0 * INCH]);
        let is_edges = |step: &Step| matches!(step.work, Work::Edges(_));
        let order = |is_glued: bool| {
            let plan = glued(&design, is_glued);
            plan.order().expect("an order").clone()
        };
        assert!(!order(false).steps.iter().any(is_edges));
        let order = order(true);
        let place = |is: &dyn Fn(&Step) -> bool| order.steps.iter().position(is);
        let glued_at = place(&is_edges).expect("a step");
        let Work::Edges(group) = order.steps[glued_at].work else {
            unreachable!();
        };
        let ripped = place(&|it| it.work == Work::Rip(group)).unwrap();
        let sawn = place(&|it| match it.work {
            Work::Base(BaseWork::Saw) => true,
            Work::Cut => is_disc && it.rings.start == 0,
            _ => false,
        })
        .expect("the disc is sawn");
        assert!(ripped < glued_at && glued_at < sawn);
        let needs = Needs::of(&order);
        assert!(needs.is_needed(ripped, glued_at) && needs.is_needed(glued_at, sawn));
        assert!(order.steps[glued_at].is_glue_up());
    }
}
