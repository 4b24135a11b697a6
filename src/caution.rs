//! Things to look at before cutting: each with its number, its reason and what to
//! do. The sentences are made in [`crate::words`].

/// One caution. Lengths are in millimeters.
#[derive(Clone, Debug, PartialEq)]
pub enum Caution {
    /// The figures as rounded for the tape leave less outside than the finished ring.
    RoundedTooSmall {
        /// Diameter of the largest circle in the ring as it will be cut.
        circle_mm: f64,
        /// Finished outside diameter.
        wanted_mm: f64,
    },
    /// The figures as rounded for the tape leave a larger hole than the finished ring.
    RoundedHoleTooLarge {
        /// Diameter of the smallest hole in the ring as it will be cut.
        hole_mm: f64,
        /// Finished inside diameter.
        wanted_mm: f64,
    },
    /// A segment so small that it must be held by a jig or clamp.
    SmallSegment {
        /// Its long edge.
        long_edge_mm: f64,
    },
    /// A strip so narrow that ripping it needs a jig on the far side of the blade.
    NarrowStrip {
        /// Its width.
        width_mm: f64,
    },
    /// The piece kept back brings the hand near the blade.
    ShortHoldBack {
        /// Its length.
        length_mm: f64,
    },
    /// An odd count leaves no two halves to true before the last glue-up.
    OddCount {
        /// The segment count.
        count: u32,
    },
    /// Nothing is kept for turning.
    NoAllowance,
}

/// Below this long edge a segment is hard to hold by anything but a jig: 1 in
/// (common practice, no published source).
pub const SMALL_SEGMENT_MM: f64 = 25.4;

/// Below this width a strip falls between blade and fence: 1/2 in (common practice,
/// no published source).
pub const NARROW_STRIP_MM: f64 = 12.7;

/// The least distance from hand to blade: 3 in (common practice, no published source;
/// 3 to 6 in is the usual clear zone).
pub const HAND_TO_BLADE_MM: f64 = 76.2;
