//! How long the library takes on this machine; `cargo figures` prints the table.
//!
//! Each row is `what`, a number and its unit, parted by tabs. Times are medians over
//! batches, because a single run is shorter than the clock's step and the machine may
//! be busy with something else.

use std::hint::black_box;
use std::time::{Duration, Instant};

use ringwright::design::Design;
use ringwright::{link, plan::plan, sheet};

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
    row("its sheet as PDF", &mut || {
        sheet::pdf(&design, &link, "2026-01-01")
    });
    row("its link", &mut || link::encode(&design));
    println!("length of its link\t{}\tcharacters", link.len());
    println!(
        "size of its sheet\t{:.1}\tkB",
        sheet::pdf(&design, &link, "2026-01-01").len() as f64 / 1000.0
    );
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
