//! The joints of the stack: what glue covers, and how a ring is centred on another.

use crate::design::{Between, StackRing};
use crate::plan::stack::RingInStack;
use crate::trade::ring::half_angle_rad;
use std::f64::consts::PI;

/// What the glue of a ring's own joints covers, square millimeters.
pub fn ring_glue_mm2(ring: &StackRing, planned: &RingInStack) -> f64 {
    let Some(segment) = &planned.segment else {
        return 0.0;
    };
    let faces = match ring.between {
        Between::Nothing => ring.segment_count,
        Between::Spacer => 2 * ring.segment_count,
        Between::Gap => 0,
    };
    f64::from(faces) * segment.joint_face_mm * segment.strip_height_mm
}

/// How far a glued ring's flats are from the axis, inside and outside.
pub fn flats_mm(planned: &RingInStack) -> (f64, f64) {
    planned.segment.map_or((0.0, planned.reach_mm), |segment| {
        (segment.inside_apothem_mm, segment.outside.apothem_mm)
    })
}

/// What the glue between two glued rings covers: the polygon of the outside that is
/// smaller less that of the inside that is larger.
pub fn stack_glue_mm2(below: &RingInStack, above: &RingInStack) -> f64 {
    let polygon = |planned: &RingInStack, flat: f64| match planned.segment {
        Some(_) => {
            let count = planned.wanted.segment_count;
            f64::from(count) * half_angle_rad(count).tan() * flat * flat
        }
        None => PI * flat * flat,
    };
    let (low, high) = (flats_mm(below), flats_mm(above));
    let outside = polygon(below, low.1).min(polygon(above, high.1));
    let inside = polygon(below, low.0).max(polygon(above, high.0));
    (outside - inside).max(0.0)
}

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

/// How a ring, which reaches so far from the axis, is centred on the face of another.
pub fn centring(below: &RingInStack, above: &RingInStack, reach_mm: f64) -> Centring {
    let (low, high) = (flats_mm(below), flats_mm(above));
    // A line must be seen: a pencil's width of face beside it.
    let line = 1.0;
    let hole_below = below
        .segment
        .map_or(0.0, |segment| segment.smallest_hole_mm / 2.0);
    if reach_mm + line <= low.1 {
        Centring::Around(2.0 * reach_mm)
    } else if high.0 > 0.0 && hole_below + line <= high.0 {
        Centring::Within(2.0 * high.0)
    } else {
        Centring::Out((reach_mm - low.1).max(0.0))
    }
}
