//! Everything that the page shows of a design, in the order of its places, and that all
//! of it is sound: no figure that is no number, and nothing that takes long.

use super::hand::Hand;
use super::{MOSTLY, OFTEN, SELDOM};
use ringwright::design::{Design, example};
use ringwright::draw::Typeface;
use ringwright::draw::pen::Pen;
use ringwright::draw::svg::{to_file, to_screen};
use ringwright::draw::{Drawing, MM_PER_PX};
use ringwright::edit::log::{self, Done};
use ringwright::plan::board::Layout;
use ringwright::plan::stack::StackPlan;
use ringwright::plan::{Plan, order, plan, woods};
use ringwright::show::figures::bench::calendar::Calendar;
use ringwright::show::mesh::{self, Look, Mesh};
use ringwright::show::pictures::built::Fit;
use ringwright::show::pictures::inlay::{self as slots, BandView, BladeView};
use ringwright::show::pictures::vessel::{self as drawn, Picked};
use ringwright::show::pictures::view::View;
use ringwright::show::pictures::{
    base, bench, boards as drawn_boards, grain, picture, ring as drawn_ring, segment,
};
use ringwright::show::sheets::job::Choice;
use ringwright::show::sheets::packet::{self, Kind};
use ringwright::show::thing::Thing;
use ringwright::show::{csv, figures};
use ringwright::trade::plug;
use std::fmt::{self, Debug, Write};
use std::fs;
use std::sync::LazyLock;
use std::time::Instant;

/// What nothing may take longer than, in seconds: five of them where the library is hardly
/// optimized. libFuzzer's is, and counts every step besides.
const LONGEST_S: f64 = if cfg!(debug_assertions) && !cfg!(fuzzing) {
    5.0
} else {
    1.0
};

/// Work of the search for boards: as much as the page gives it in a few frames.
const BOARD_STEPS: [u64; 3] = [1, 200, 3000];

/// The sides of drawings, in CSS pixels; 0 is a place that is not shown.
const SIDES: [f64; 6] = [0.0, 1.0, 120.0, 320.0, 800.0, 3000.0];

/// Does something, and fails when it took long by this machine's own count of its work.
pub fn within_a_second<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let (start, started) = (Instant::now(), worked_s());
    let done = work();
    // Only what took long by the clock is asked for; others may have been at work too.
    if start.elapsed().as_secs_f64() > LONGEST_S {
        let took = match (started, worked_s()) {
            (Some(before), Some(after)) => after - before,
            _ => start.elapsed().as_secs_f64(),
        };
        assert!(took <= LONGEST_S, "{what} took {took:.1} s");
    }
    done
}

/// How long this thread has been at work, in seconds, where the system tells it.
fn worked_s() -> Option<f64> {
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = told.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds / 1e9)
}

/// Fails where a number among these figures is none.
pub fn is_sound(figures: &impl Debug) {
    // Without decimals: what a number that is none is called has none, and it is sooner said.
    let mut sound = Sound { is_name: false };
    let is_said = write!(sound, "{figures:.0?}").is_ok();
    assert!(
        is_said,
        "a figure is no number: {}",
        around(&format!("{figures:?}"))
    );
}

/// Takes figures as they are said, and refuses one that is no number: Rust writes what it
/// calls that by itself, and a name behind its quote.
struct Sound {
    is_name: bool,
}

impl Write for Sound {
    fn write_str(&mut self, said: &str) -> fmt::Result {
        let is_strange = matches!(said, "NaN" | "inf") && !self.is_name;
        self.is_name = said == "\"";
        if is_strange { Err(fmt::Error) } else { Ok(()) }
    }
}

/// Fails where a text holds what Rust writes for a number that is none.
fn no_strange_number(text: &str) {
    if !text.contains("NaN") && !text.contains("inf") {
        return;
    }
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    assert!(
        !words.any(|word| matches!(word, "NaN" | "inf")),
        "a figure is no number: {}",
        around(text)
    );
}

fn around(text: &str) -> &str {
    let at = text.find("NaN").or_else(|| text.find("inf")).unwrap_or(0);
    let from = (0..=at.saturating_sub(300))
        .rev()
        .find(|at| text.is_char_boundary(*at));
    let to = (at..text.len())
        .rev()
        .find(|to| *to < at + 100 && text.is_char_boundary(*to));
    &text[from.unwrap_or(0)..to.unwrap_or(text.len())]
}

fn on_screen(drawing: &Drawing) {
    no_strange_number(&to_screen(drawing, "it").svg);
}

/// What follows from a design, and of it as much as there is time for.
pub fn some(design: &Design, hand: &mut Hand) {
    if hand.is_one_in(SELDOM) {
        all(design, hand);
    } else if hand.is_one_in(OFTEN) {
        let plan = within_a_second("the plan", || plan(design));
        ring(&plan, hand);
        if plan.stack().is_some() {
            vessel(&plan, hand);
            inlay(&plan, hand);
        }
    } else {
        let plan = within_a_second("the plan", || plan(design));
        is_sound(&plan.ring);
        if hand.is_one_in(MOSTLY) {
            within_a_second("the stack", || is_sound(&plan.stack()));
        }
    }
}

/// All places, the paper and the view in 3D.
fn all(design: &Design, hand: &mut Hand) {
    let plan = within_a_second("the plan", || plan(design));
    ring(&plan, hand);
    wood(&plan, hand);
    if plan.stack().is_some() {
        vessel(&plan, hand);
        inlay(&plan, hand);
        three(&plan);
    }
    bench_place(&plan, hand);
    boards(&plan, hand);
    // It takes as long as all the rest together.
    if hand.below(4) == 0 {
        paper(&plan, hand);
    }
    within_a_second("the glue's clocks", || glue_clocks(&plan, hand));
}

fn side(hand: &mut Hand) -> f64 {
    hand.one_of(&SIDES) * MM_PER_PX
}

/// The Ring place.
pub fn ring(plan: &Plan, hand: &mut Hand) {
    let design = &*plan.design;
    let pen = Pen::screen(design.unit, "ring.wall_mm");
    within_a_second("the Ring place", || {
        is_sound(&figures::ring(plan));
        on_screen(&drawn_ring::draw(
            design,
            &plan.ring,
            side(hand),
            side(hand),
            &pen,
        ));
        if let Some(drawing) = segment::draw(design, &plan.ring, side(hand), side(hand), &pen) {
            on_screen(&drawing);
        }
    });
    within_a_second("the table of counts", || is_sound(&figures::counts(design)));
}

fn wood(plan: &Plan, hand: &mut Hand) {
    let design = &*plan.design;
    within_a_second("the Wood place", || {
        let screen = figures::wood::wood(plan);
        is_sound(&screen);
        for (place, swatch) in screen.swatches.iter().enumerate() {
            let color = woods::color(design, &swatch.name);
            on_screen(&grain::board(
                color,
                &swatch.name,
                side(hand),
                side(hand),
                place,
            ));
        }
        if let Some(own) = plan.base() {
            let pen = Pen::screen(design.unit, "");
            on_screen(&base::draw(design, own, side(hand), side(hand), &pen));
        }
    });
}

fn vessel(plan: &Plan, hand: &mut Hand) {
    let Some(stack) = plan.stack() else { return };
    let size = (side(hand), side(hand));
    let view = View::fit(stack, size.0, size.1);
    let place = hand.place();
    let picked = Picked {
        thing: [
            Thing::Ring(place),
            Thing::Point(place),
            Thing::Floor,
            Thing::Meeting,
            Thing::Set(place),
            Thing::Piece,
        ][place % 6],
        meets_above: place,
    };
    let pen = Pen::screen(plan.design.unit, "");
    within_a_second("the Vessel place", || {
        let built = plan.built().filter(|it| it.room.is_some());
        let nearest = built.and_then(|it| it.nearest(stack));
        is_sound(&figures::vessel::vessel(
            plan,
            &view,
            picked,
            nearest.is_some(),
        ));
        is_sound(&figures::panel::panel(plan, picked.thing, place));
        is_sound(&figures::vessel::section_only(plan, &view));
        let fit = built.map(|built| Fit {
            built,
            nearest: nearest.as_deref(),
        });
        on_screen(&drawn::section(
            stack,
            size,
            &view,
            picked,
            fit.as_ref(),
            &pen,
        ));
        on_screen(&drawn::unrolled(stack, size, size.1 / 20.0, picked));
        if place < stack.rings.len() {
            on_screen(&drawn::ring_from_above(
                &stack.vessel,
                place,
                &stack.rings[place],
                size,
            ));
        }
        no_strange_number(&csv::rings(stack));
    });
}

fn inlay(plan: &Plan, hand: &mut Hand) {
    let Some(stack) = plan.stack() else { return };
    let pen = Pen::screen(plan.design.unit, "");
    let size = (side(hand), side(hand));
    for place in 0..stack.slot_sets.len().min(3) {
        within_a_second("the Inlay place", || {
            let own = stack.slot_sets[place].as_ref();
            let view = own.map(|own| BandView::fit(own, size.0, size.1));
            is_sound(&figures::inlay::inlay(stack, place, view.as_ref(), size.1));
            if let (Some(own), Some(view)) = (own, &view) {
                on_screen(&slots::band(stack, own, view, false));
                on_screen(&slots::band(stack, own, view, true));
                on_screen(&slots::window(own, size, &pen));
                is_sound(&BladeView::fit(own, size.1));
            }
        });
    }
}

fn three(plan: &Plan) {
    let Some(stack) = plan.stack() else { return };
    for (finished, cut_open) in [(true, false), (false, true)] {
        let made = within_a_second("the mesh", || {
            mesh::mesh(stack, Look { finished, cut_open })
        });
        is_whole(&made);
    }
    is_whole(&within_a_second("the mesh for paper", || {
        mesh::mesh_for_picture(stack, 48.0)
    }));
    assert!(
        [mesh::inlaid::strips(stack), mesh::inlaid::base(stack)]
            .concat()
            .iter()
            .all(|it| it.is_finite()),
        "a strip's figure is no number"
    );
    within_a_second("the picture", || {
        no_strange_number(&to_file(&picture::picture(stack, 90.0, 90.0)));
    });
}

/// Every number is one, and every corner is there.
fn is_whole(mesh: &Mesh) {
    let numbers = mesh.positions.iter().chain(&mesh.normals);
    assert!(
        numbers.into_iter().all(|it| it.is_finite()),
        "a corner is nowhere"
    );
    let corners = mesh.positions.len() / 3;
    let named = mesh.triangles.iter().chain(&mesh.lines);
    assert!(
        named.into_iter().all(|it| (*it as usize) < corners),
        "a corner is missing"
    );
}

fn bench_place(plan: &Plan, hand: &mut Hand) {
    let ticks = [("ring-1".to_owned(), "old".to_owned())];
    within_a_second("the Bench place", || {
        is_sound(&figures::bench::bench(plan, &ticks));
    });
    let Some(stack) = plan.stack() else { return };
    let ring = hand.below(stack.rings.len() + 1);
    within_a_second("a half out of true", || {
        is_sound(&figures::bench::out_of_true::out_of_true(plan, ring));
    });
    within_a_second("the bench's pictures", || of_steps(plan, stack, hand));
}

/// Ticks and clocks by hand, at any time of any clock.
fn glue_clocks(plan: &Plan, hand: &mut Hand) {
    let ids: Vec<String> = log::marks(plan).into_iter().map(|it| it.0).collect();
    let mut done = Done::default();
    for _ in 0..6 {
        let now_ms = 1.8e12 + 1e5 * hand.number();
        let Some(id) = ids.get(hand.below(ids.len() + 1)) else {
            continue;
        };
        done = match hand.below(4) {
            0 => log::tick(plan, &done, id, id, now_ms),
            1 => log::spread(plan, &done, id, id, now_ms),
            2 => log::start_again(&done, hand.below(7), now_ms),
            _ => {
                log::tell_air(&plan.design, &done, None, &hand.typed(None), now_ms).unwrap_or(done)
            }
        };
        let calendar = Calendar {
            now_ms,
            behind_min: &|_| 300.0,
            time: &|_| "noon".to_owned(),
            day: &|_| "Monday".to_owned(),
        };
        is_sound(&figures::bench::clock::clocks(plan, &done, &calendar));
        is_sound(&figures::bench::evening::shown(plan, &done, &calendar));
    }
}

fn of_steps(plan: &Plan, stack: &StackPlan, hand: &mut Hand) {
    let Some(order) = order::order(stack, &order::inlays(&stack.vessel)) else {
        return;
    };
    let pen = Pen::screen(plan.design.unit, "");
    let size = (side(hand), side(hand));
    for step in order.steps.iter().take(12) {
        on_screen(&bench::step(stack, step, size, &pen));
    }
    for steps in order::plugs::of(stack, &order) {
        let bytes = plug::stl(&steps, plan.design.bench_or_usual().plug_bore_mm);
        for triangle in bytes.get(84..).unwrap_or_default().chunks_exact(50) {
            let numbers = triangle[..48].chunks_exact(4);
            let is_number =
                |it: &[u8]| f32::from_le_bytes([it[0], it[1], it[2], it[3]]).is_finite();
            assert!(
                numbers.into_iter().all(is_number),
                "a plug's corner is nowhere"
            );
        }
    }
}

/// The boards, and the search for them as far as the page takes it at first.
pub fn boards(plan: &Plan, hand: &mut Hand) {
    if hand.is_one_in(OFTEN) {
        within_a_second("the boards' fields", || {
            is_sound(&figures::boards::boards(plan));
            for board in plan.design.rack.iter().flat_map(|it| &it.boards) {
                on_screen(&drawn_boards::face(&plan.design, board, 120.0));
            }
        });
    }
    let design = &*plan.design;
    let boards = design.rack.as_ref().map_or(&[][..], |rack| &rack.boards);
    let width = side(hand);
    let long = if hand.is_one_in(OFTEN) { 3 } else { 1 };
    for &work in &BOARD_STEPS[..long] {
        let Some(answer) = within_a_second("the search for boards", || plan.boards(work)) else {
            return;
        };
        let draw = |place: usize, layout: &Layout| {
            let drawing =
                drawn_boards::draw(design, &boards[layout.board], layout, &answer, width, None);
            to_screen(&drawing, &format!("board-{place}")).svg
        };
        within_a_second("the boards' answer", || {
            is_sound(&figures::boards::answer(design, &answer, draw));
        });
    }
}

/// The packet: its pictures always, one kind of its files in turn.
fn paper(plan: &Plan, hand: &mut Hand) {
    let link = format!("https://example.org/#{}", example::ALL[0].link);
    let sheets = within_a_second("the sheets", || {
        packet::sheets(plan, &link, "2030-01-31", Choice::Pictures)
    });
    for page in sheets.iter().filter_map(|sheet| sheet.pages.first()) {
        no_strange_number(&to_file(page));
    }
    // What is chosen is written by the minute, not by the frame; one sheet each time.
    let Some(sheet) = sheets.get(hand.below(sheets.len().max(1))) else {
        return;
    };
    let chosen = [sheet.key.clone()];
    let these = Choice::These(&chosen);
    within_a_second("a file", || match hand.below(4) {
        // What is drawn in it was looked at above; packed bytes may spell anything.
        0 => assert!(packet::pdf(plan, &link, "", these, typeface()).starts_with(b"%PDF")),
        1 => no_strange_number(&packet::cut_list_csv(plan)),
        kind => {
            let kind = if kind == 2 { Kind::Svg } else { Kind::Dxf };
            for file in packet::files(plan, &link, "", these, kind) {
                no_strange_number(&String::from_utf8_lossy(&file.bytes));
            }
        }
    });
}

/// The typeface of paper.
fn typeface() -> Option<&'static Typeface<'static>> {
    static READ: LazyLock<Option<Typeface>> =
        LazyLock::new(|| Typeface::read(include_bytes!("../../www/fonts/arimo.ttc")));
    READ.as_ref()
}
