//! How long the library takes on this machine; `cargo figures` prints the table.
//!
//! Each row is `what`, a number and its unit, parted by tabs. Times are medians over
//! batches, because a single run is shorter than the clock's step and the machine may
//! be busy with something else.

use ringwright::draw::Typeface;
use std::hint::black_box;
use std::sync::LazyLock;
use std::time::{Duration, Instant};

use ringwright::design::{Design, StackRing};
use ringwright::edit::rack;
use ringwright::plan::board::BoardSearch;
use ringwright::show::sheets::job::Choice;
use ringwright::show::sheets::packet;
use ringwright::{design::link, edit::start, plan::plan};

const BATCHES: usize = 51;
const SHORTEST_BATCH: Duration = Duration::from_millis(5);

fn main() {
    let design = Design::default();
    let link = link::encode(&design);
    row("plan of the starting ring", &mut || plan(&design));
    for segment_count in [12, 96] {
        let mut many = design.clone();
        many.ring.segment_count = segment_count;
        let what = format!("plan of a ring of {segment_count}");
        row(&what, &mut || plan(&many));
    }
    vessel_rows(&design);
    board_rows(&design);
    row("its sheet as PDF", &mut || {
        packet::pdf(
            &ringwright::plan::plan(&design),
            &link,
            "2026-01-01",
            Choice::Usual,
            typeface(),
        )
    });
    row("its link", &mut || link::encode(&design));
    println!("length of its link\t{}\tcharacters", link.len());
    println!(
        "size of its sheet\t{:.1}\tkB",
        packet::pdf(
            &ringwright::plan::plan(&design),
            &link,
            "2026-01-01",
            Choice::Usual,
            typeface()
        )
        .len() as f64
            / 1000.0
    );
}

/// A vessel of 12 rings, and how its plan grows with rings and segments.
fn vessel_rows(design: &Design) {
    for (rings, segment_count) in [(12, 12), (12, 96), (50, 12), (200, 12), (200, 96)] {
        let vessel = stacked(design, rings, segment_count);
        let what = format!("plan of a vessel of {rings} rings of {segment_count}");
        row(&what, &mut || plan(&vessel).into_stack());
    }
    let twelve = stacked(design, 12, 12);
    let link = link::encode(&twelve);
    let packet = || {
        packet::pdf(
            &ringwright::plan::plan(&twelve),
            &link,
            "2026-01-01",
            Choice::Usual,
            typeface(),
        )
    };
    row("packet of a vessel of 12 rings", &mut || packet());
    println!(
        "size of the packet of a vessel of 12 rings\t{:.1}\tkB",
        packet().len() as f64 / 1000.0
    );
    println!(
        "length of the link of a vessel of 12 rings\t{}\tcharacters",
        link.len()
    );
}

/// Boards for a vase of 12 rings from a rack of eleven odd ones: the first answer, which
/// the page shows at once, and the last.
fn board_rows(design: &Design) {
    let mut design = rack::add(&stacked(design, 12, 12));
    for _ in 1..11 {
        design = rack::copy(&design, 0);
    }
    if let Some(rack) = &mut design.rack {
        for (place, board) in rack.boards.iter_mut().enumerate() {
            let odd = place as f64;
            board.width_mm = 60.0 + (37.0 * odd) % 110.0;
            board.length_mm = 500.0 + (290.0 * odd) % 1100.0;
        }
    }
    row("first answer from a rack of eleven boards", &mut || {
        BoardSearch::new(&design, ringwright::plan::plan(&design).bill())
    });
    row(
        "the same after a hundred steps, as the page takes them",
        &mut || {
            let mut search = BoardSearch::new(&design, ringwright::plan::plan(&design).bill());
            for _ in 0..100 {
                if search.step(400_000) {
                    break;
                }
            }
            search
        },
    );
}

/// A vase of even rings.
fn stacked(design: &Design, rings: u32, segment_count: u32) -> Design {
    let mut design = start::begin(design, "vase", 254.0, 240.0);
    if let Some(vessel) = &mut design.vessel {
        let height_mm = 240.0 / f64::from(rings);
        vessel.rings = (0..rings)
            .map(|place| StackRing {
                turn_half_segments: place % 2,
                ..StackRing::plain(height_mm, segment_count)
            })
            .collect();
    }
    design
}

fn row<T>(what: &str, work: &mut impl FnMut() -> T) {
    println!("{what}\t{:.2}\tµs", median_microseconds(work));
}

fn median_microseconds<T>(work: &mut impl FnMut() -> T) -> f64 {
    let runs = runs_in_a_batch(work);
    let mut times: Vec<f64> = (0..BATCHES)
        .map(|_| batch(runs, work).as_secs_f64() * 1e6 / runs as f64)
        .collect();
    times.sort_by(f64::total_cmp);
    times[BATCHES / 2]
}

/// Doubles until a batch is long enough for the clock.
fn runs_in_a_batch<T>(work: &mut impl FnMut() -> T) -> usize {
    let mut runs = 1;
    while batch(runs, work) < SHORTEST_BATCH {
        runs *= 2;
    }
    runs
}

fn batch<T>(runs: usize, work: &mut impl FnMut() -> T) -> Duration {
    let start = Instant::now();
    for _ in 0..runs {
        black_box(work());
    }
    start.elapsed()
}

/// The typeface of paper.
fn typeface() -> Option<&'static Typeface<'static>> {
    static READ: LazyLock<Option<Typeface>> =
        LazyLock::new(|| Typeface::read(include_bytes!("../www/fonts/arimo.ttc")));
    READ.as_ref()
}
