//! How a ring is centred on another.

use crate::plan::rings::{RingInStack, flats_mm};

/// By what a ring is set true on the one below it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Centring {
    /// A pencil circle of this diameter on the turning face: the ring's outside corners
    /// stand on it.
    Around(f64),
    /// A pencil circle of this diameter: it is just seen within the ring's hole, the
    /// inside flats touch it.
    Within(f64),
    /// Neither circle is seen: by the plug's step, or by measuring how far the corners
    /// stand out over the ring that was turned round.
    Out(f64),
}

/// How a ring, which reaches so far from the axis, is centred on the face of another. One that
/// is round already goes by its outside, never by the flats of its hole.
pub fn centring(
    below: &RingInStack,
    above: &RingInStack,
    reach_mm: f64,
    is_round: bool,
) -> Centring {
    let (low, high) = (flats_mm(below), flats_mm(above));
    // A line must be seen: a pencil's width of face beside it (our own choice, no published
    // source).
    let line = 1.0;
    let hole_below = below
        .segment
        .map_or(0.0, |segment| segment.smallest_hole_mm / 2.0);
    if reach_mm + line <= low.1 {
        Centring::Around(2.0 * reach_mm)
    } else if !is_round && high.0 > 0.0 && hole_below + line <= high.0 {
        Centring::Within(2.0 * high.0)
    } else {
        Centring::Out((reach_mm - low.1).max(0.0))
    }
}
