//! Rings whose segments stand apart with air between: how each segment rests on those of the
//! ring below.
//!
//! A gap takes an angle of each circle round the axis ([`Gaps::half_rad`]: chord of a circle, CRC
//! Standard Mathematical Tables and Formulas, 30th edition). So a piece reaches at r from one
//! angle to another, two pieces share the angles that both have, and what one rests on the other
//! is the integral of these times r over the wall at the joint, by the rule of Simpson.
//! `tests/open_ring.rs` compares it with polygons.

use crate::trade::surface::Gaps;
use std::f64::consts::TAU;

/// The pieces of a ring as its neighbors meet them.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// From where to where each goes round, radians, to the middle of the gap beside it.
    pub edges_rad: Vec<[f64; 2]>,
    /// The air between them; nothing where they touch.
    pub gaps: Option<Gaps>,
}

/// What a piece has of wood on one of those below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rest {
    /// Which one.
    pub below: usize,
    /// How much, square millimeters.
    pub area_mm2: f64,
    /// How far it reaches over it along the middle of the wall, millimeters.
    pub along_mm: f64,
}

/// Steps of the integral; even.
const STEPS: u32 = 64;

impl Row {
    /// A ring without a joint.
    pub fn whole() -> Row {
        Row {
            edges_rad: vec![[0.0, TAU]],
            gaps: None,
        }
    }

    /// From where to where a piece goes at a distance from the axis; backward where nothing of
    /// it is there.
    fn reach_rad(&self, piece: usize, radius_mm: f64) -> [f64; 2] {
        let [from, to] = self.edges_rad[piece];
        let half_rad = self.gaps.map_or(0.0, |gaps| gaps.half_rad(radius_mm));
        [from + half_rad, to - half_rad]
    }

    /// What a piece of this ring has of wood on each of those of the ring below, where the wall
    /// at their joint goes from one radius to another; those that it does not touch are left out.
    pub fn rests(&self, piece: usize, below: &Row, [inside_mm, outside_mm]: [f64; 2]) -> Vec<Rest> {
        let step_mm = (outside_mm - inside_mm).max(0.0) / f64::from(STEPS);
        let rest = |other: usize| {
            let shared_mm = |radius_mm: f64| {
                let own = self.reach_rad(piece, radius_mm);
                radius_mm * shared_rad(own, below.reach_rad(other, radius_mm))
            };
            let at = |step: u32| {
                let weight = match step {
                    0 | STEPS => 1.0,
                    _ if step.is_multiple_of(2) => 2.0,
                    _ => 4.0,
                };
                weight * shared_mm(inside_mm + f64::from(step) * step_mm)
            };
            Rest {
                below: other,
                area_mm2: (0..=STEPS).map(at).sum::<f64>() * step_mm / 3.0,
                along_mm: shared_mm(f64::midpoint(inside_mm, outside_mm)),
            }
        };
        let all = (0..below.edges_rad.len()).map(rest);
        all.filter(|it| it.area_mm2 > 0.0).collect()
    }
}

/// The stress that a force at the rim puts on the outermost glue of a joint, newtons a square
/// millimeter: the force, its height above the joint, what is glued there in all, and the
/// diameter that it stands at. M / Z of bending, where pieces spread evenly round have the
/// second moment of a thin ring, A d² / 8 (from memory, no published source seen; checked by sums
/// over pieces in `tests/open_ring.rs`).
pub fn bending_n_mm2(force_n: f64, height_mm: f64, glued_mm2: f64, diameter_mm: f64) -> f64 {
    4.0 * force_n * height_mm / (glued_mm2 * diameter_mm).max(1e-9)
}

/// What two angles have in common, whichever turns they are told in.
fn shared_rad(one: [f64; 2], other: [f64; 2]) -> f64 {
    // The other begins within a turn after the one does, or within a turn before it.
    let turns = ((other[0] - one[0]) / TAU).floor() * TAU;
    let from = |turn: f64| {
        let other = other.map(|it| it - turns + turn);
        (one[1].min(other[1]) - one[0].max(other[0])).max(0.0)
    };
    from(0.0) + from(-TAU)
}
