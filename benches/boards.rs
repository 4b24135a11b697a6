//! How long the fewest boards take, beside an independent solver: `tests/tools/beside_highs.py`
//! runs this and `HiGHS` on the same racks in one run.
//!
//! Each row is an instance's boards, the fewest that are possible, and milliseconds until the
//! search has ended, parted by tabs.

#[path = "../tests/two_stage/mod.rs"]
mod two_stage;

use ringwright::plan::board::BoardSearch;
use std::time::Instant;

/// As the page goes on: so much work between two frames.
const WORK: u64 = 150_000;

fn main() {
    for instance in two_stage::instances("sawn_across") {
        let start = Instant::now();
        let mut search = BoardSearch::for_needs(instance.needs, instance.rack, instance.saw);
        while !search.step(WORK) {}
        let answer = search.answer();
        let milliseconds = start.elapsed().as_secs_f64() * 1000.0;
        let (ours, theirs) = (answer.board_count, instance.fewest);
        println!("{ours}\t{theirs}\t{milliseconds:.3}");
    }
}
