//! Index plates: the holes in which a lathe's spindle is locked while segments are glued on one
//! by one.
//!
//! The segments of a ring stand a pitch apart, 360°/n, and one that is turned begins so much on;
//! a plate serves where both are whole numbers of its holes.

use std::f64::consts::{PI, TAU};

/// Holes of the plates that are met with (from memory, no published source).
pub const USUAL: [u32; 7] = [24, 36, 48, 60, 72, 96, 144];

/// How a plate serves a ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Serves {
    /// The plate's holes.
    pub holes: u32,
    /// From one segment to the next, so many holes.
    pub every: u32,
    /// The first segment stands in this hole; 0 is where a ring begins that is not turned.
    pub first: u32,
}

/// How far a ring is turned on from straight ahead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Half segments of it.
    pub half_segments: u32,
    /// And what is beyond them, radians.
    pub further_rad: f64,
}

/// A turn this near to a hole stands in it, radians: 0.005°, less than a pin has play (our own
/// choice, no published source).
const NEAR_RAD: f64 = 0.005 * PI / 180.0;

impl Turn {
    /// All of it, in a ring of so many segments, radians.
    pub fn rad(self, segment_count: u32) -> f64 {
        f64::from(self.half_segments) * PI / f64::from(segment_count.max(1)) + self.further_rad
    }

    /// In how many holes it is, of a plate of so many; nothing where it stands in none.
    fn in_holes(self, segment_count: u32, holes: u32) -> Option<u32> {
        let hole_rad = TAU / f64::from(holes);
        let turn = self.rad(segment_count) / hole_rad;
        let whole = turn.round();
        let is_near = (turn - whole).abs() * hole_rad <= NEAR_RAD;
        is_near.then(|| whole.rem_euclid(f64::from(holes)) as u32)
    }
}

/// The plates that serve a ring of so many segments, turned on so far.
pub fn serving(plates: &[u32], segment_count: u32, turn: Turn) -> Vec<Serves> {
    let serves = |holes: &u32| {
        let is_divided = *holes > 0 && holes.is_multiple_of(segment_count);
        let every = is_divided.then(|| holes / segment_count)?;
        Some(Serves {
            holes: *holes,
            every,
            first: turn.in_holes(segment_count, *holes)? % every,
        })
    };
    plates.iter().filter_map(serves).collect()
}

/// The nearest counts below and above that some plate serves, turned on or not, 3 to 144.
pub fn nearest(plates: &[u32], segment_count: u32, turn: Turn) -> [Option<u32>; 2] {
    let is_served = |count: &u32| !serving(plates, *count, turn).is_empty();
    [
        (3..segment_count).rev().find(is_served),
        (segment_count + 1..=144).find(is_served),
    ]
}
