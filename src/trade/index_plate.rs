//! Index plates: the holes in which a lathe's spindle is locked while segments are glued on one
//! by one.
//!
//! The segments of a ring stand a pitch apart, 360°/n, and one that is shifted begins half a
//! pitch on; a plate serves where all of these are whole numbers of its holes.

/// Holes of the plates that are met with (from memory, no published source).
pub const USUAL: [u32; 7] = [24, 36, 48, 60, 72, 96, 144];

/// How a plate serves a ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Serves {
    /// The plate's holes.
    pub holes: u32,
    /// From one segment to the next, so many holes.
    pub every: u32,
    /// The first segment stands in this hole; 0 is where a ring begins that is not shifted.
    pub first: u32,
}

/// The plates that serve a ring of so many segments, shifted by so many half segments.
pub fn serving(plates: &[u32], segment_count: u32, turn_half_segments: u32) -> Vec<Serves> {
    let is_shifted = !turn_half_segments.is_multiple_of(2);
    let parts = segment_count * if is_shifted { 2 } else { 1 };
    let serves = plates
        .iter()
        .filter(|holes| **holes > 0 && holes.is_multiple_of(parts));
    serves
        .map(|&holes| Serves {
            holes,
            every: holes / segment_count,
            first: if is_shifted { holes / parts } else { 0 },
        })
        .collect()
}

/// The nearest counts below and above that some plate serves, shifted or not, 3 to 144.
pub fn nearest(plates: &[u32], segment_count: u32, turn_half_segments: u32) -> [Option<u32>; 2] {
    let is_served = |count: &u32| !serving(plates, *count, turn_half_segments).is_empty();
    [
        (3..segment_count).rev().find(is_served),
        (segment_count + 1..=144).find(is_served),
    ]
}
