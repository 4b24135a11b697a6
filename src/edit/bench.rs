//! What a hand does to the order of work.

use crate::design::Design;

/// Lets the halves meet above so many rings: 0 for one piece, nothing for what the page
/// would choose.
pub fn meet(design: &Design, above_ring: Option<u32>) -> Design {
    let most = design.vessel.as_ref().map_or(0, |it| it.rings.len());
    let mut bench = design.bench_or_usual();
    bench.meet_above_ring = above_ring.map(|ring| ring.min(most as u32));
    Design {
        bench: Some(bench),
        ..design.clone()
    }
}
