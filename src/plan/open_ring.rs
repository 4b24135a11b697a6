//! Open rings of a stack: how their segments rest on the ring below, how much of them is air,
//! and which index plates serve while they are glued on.

use crate::design::Shop;
use crate::plan::rings::{Rings, gaps_of};
use crate::trade::index_plate::{self, Serves};
use crate::trade::open_ring::{Rest, Row};
use crate::trade::surface::Gaps;
use std::f64::consts::TAU;

/// What a ring with air in it, or on a ring with air in it, is told.
#[derive(Clone, Debug, PartialEq)]
pub struct Resting {
    /// Of its segment that rests least: what it has on those below, the most first.
    pub rests: Vec<Rest>,
    /// Whether what is below is whole, a disc, so that one is enough.
    pub is_on_disc: bool,
}

impl Resting {
    /// Of the two that it needs, how far it reaches over the one that it has less of, along the
    /// middle of the wall; nothing where it has but one.
    pub fn least_along_mm(&self) -> Option<f64> {
        Some(self.rests.get(usize::from(!self.is_on_disc))?.along_mm)
    }

    /// All that the segment has of wood below it, square millimeters.
    pub fn area_mm2(&self) -> f64 {
        self.rests.iter().map(|it| it.area_mm2).sum()
    }
}

/// A ring's pieces; nothing where it has no segments and no disc.
fn row(plan: &Rings, place: usize) -> Option<Row> {
    let planned = plan.rings.get(place)?;
    if planned.segment.is_none() {
        return Some(Row::whole());
    }
    let round = &planned.round;
    let edges = (0..round.count()).map(|piece| [round.edge_rad(piece), round.edge_rad(piece + 1)]);
    Some(Row {
        edges_rad: edges.collect(),
        gap_mm: gaps(plan, place).map_or(0.0, |gaps| gaps.thickness_mm),
    })
}

fn gaps(plan: &Rings, place: usize) -> Option<Gaps> {
    gaps_of(plan.vessel.rings.get(place)?, plan.rings.get(place)?)
}

/// Whether a ring's segments stand apart.
pub fn is_open(plan: &Rings, place: usize) -> bool {
    gaps(plan, place).is_some()
}

/// How a ring rests on the one below, where either has air in it; nothing for the lowest.
pub fn resting(plan: &Rings, place: usize) -> Option<Resting> {
    let lower = place.checked_sub(1)?;
    let (above, below) = (row(plan, place)?, row(plan, lower)?);
    if above.gap_mm <= 0.0 && below.gap_mm <= 0.0 {
        return None;
    }
    let joint = plan.joints.get(lower)?;
    let wall_mm = [joint.inside_radius_mm, joint.outside_radius_mm];
    let of_piece = |piece: usize| {
        let mut rests = above.rests(piece, &below, wall_mm);
        rests.sort_by(|one, other| other.area_mm2.total_cmp(&one.area_mm2));
        rests
    };
    let is_on_disc = below.edges_rad.len() == 1;
    // Between two it is held as well as by the lesser of them.
    let held_mm2 = |rests: &Vec<Rest>| {
        let lesser = rests.get(usize::from(!is_on_disc));
        lesser.map_or(0.0, |it| it.area_mm2)
    };
    let all = (0..above.edges_rad.len()).map(of_piece);
    let least = all.min_by(|one, other| held_mm2(one).total_cmp(&held_mm2(other)))?;
    Some(Resting {
        rests: least,
        is_on_disc,
    })
}

/// How much of a ring's outside is air, where it is widest once turned.
pub fn air_share(plan: &Rings, place: usize) -> Option<f64> {
    let radius_mm = plan.rings.get(place)?.span.outside_radius_mm;
    let air_mm = gaps(plan, place)?.arc_mm(radius_mm);
    Some(air_mm / (TAU * radius_mm.max(f64::MIN_POSITIVE)))
}

/// The holes of the plates at hand, and whether they are the turner's own.
pub fn plates(shop: &Shop) -> (&[u32], bool) {
    if shop.index_plates.is_empty() {
        (&index_plate::USUAL, false)
    } else {
        (&shop.index_plates, true)
    }
}

/// The plates that serve an open ring of even segments; nothing for any other.
pub fn indexing(plan: &Rings, place: usize) -> Option<Vec<Serves>> {
    let ring = plan.vessel.rings.get(place)?;
    let is_even = plan.rings.get(place)?.round.is_even();
    (is_open(plan, place) && is_even).then(|| {
        let (plates, _) = plates(&plan.design.shop);
        index_plate::serving(plates, ring.segment_count, ring.turn_half_segments)
    })
}
