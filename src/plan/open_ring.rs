//! Open rings of a stack: how their segments rest on the ring below, how much of them is air,
//! and which index plates serve while they are glued on.

use crate::design::Shop;
use crate::plan::rings::{Rings, gaps_of};
use crate::trade::index_plate::{self, Serves};
use crate::trade::open_ring::{Rest, Row, bending_n_mm2};
use crate::trade::surface::Gaps;
use std::f64::consts::TAU;

/// What a ring with air in it, or on a ring with air in it, is told.
#[derive(Clone, Debug, PartialEq)]
pub struct Resting {
    /// Of its segment that rests least: what it has on those below, the most first.
    pub rests: Vec<Rest>,
    /// Whether what is below is a disc.
    pub is_on_disc: bool,
    /// Whether one is enough: what is below is whole, a disc or a closed ring, or the ring itself
    /// is closed, and its segments hold each other.
    pub is_one_enough: bool,
    /// What all its segments together have of wood below them, square millimeters.
    pub all_mm2: f64,
}

impl Resting {
    /// Of the two that it needs, how far it reaches over the one that it has less of, along the
    /// middle of the wall; nothing where it has but one. Where one is enough, over that.
    pub fn least_along_mm(&self) -> Option<f64> {
        Some(self.rests.get(usize::from(!self.is_one_enough))?.along_mm)
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
        gaps: gaps(plan, place),
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
    if above.gaps.is_none() && below.gaps.is_none() {
        return None;
    }
    let is_on_disc = below.edges_rad.len() == 1;
    let is_one_enough = is_on_disc || below.gaps.is_none() || above.gaps.is_none();
    // A closed ring is one piece of wood by then.
    let below = if below.gaps.is_none() {
        Row::whole()
    } else {
        below
    };
    let joint = plan.joints.get(lower)?;
    let wall_mm = [joint.inside_radius_mm, joint.outside_radius_mm];
    let of_piece = |piece: usize| {
        let mut rests = above.rests(piece, &below, wall_mm);
        rests.sort_by(|one, other| other.area_mm2.total_cmp(&one.area_mm2));
        rests
    };
    // Between two it is held as well as by the lesser of them.
    let held_mm2 = |rests: &Vec<Rest>| {
        let lesser = rests.get(usize::from(!is_one_enough));
        lesser.map_or(0.0, |it| it.area_mm2)
    };
    let all: Vec<Vec<Rest>> = (0..above.edges_rad.len()).map(of_piece).collect();
    let all_mm2 = all.iter().flatten().map(|it| it.area_mm2).sum();
    let least = all
        .into_iter()
        .min_by(|one, other| held_mm2(one).total_cmp(&held_mm2(other)))?;
    Some(Resting {
        rests: least,
        is_on_disc,
        is_one_enough,
        all_mm2,
    })
}

/// A tool that catches at the rim pulls so hard, newtons (our own choice, no published source).
const CATCH_N: f64 = 200.0;

/// How hard a catch at the rim bends on the glue that a ring stands on, newtons a square
/// millimeter, with what is above it, millimeters; nothing where it needs no look.
pub fn catch(plan: &Rings, place: usize, resting: &Resting) -> Option<(f64, f64)> {
    let joint = plan.joints.get(place.checked_sub(1)?)?;
    let rim_mm = plan.wall.as_ref()?.outside.height_mm();
    let above_mm = (rim_mm - joint.height_mm).max(0.0);
    let diameter_mm = joint.inside_radius_mm + joint.outside_radius_mm;
    let stress = bending_n_mm2(CATCH_N, above_mm, resting.all_mm2, diameter_mm);
    Some((stress, above_mm))
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
        index_plate::serving(plates, ring.segment_count, ring.turn())
    })
}

/// How the rows of a spiral rise from a ring to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rise {
    /// How far a ring's segments stand on from those of the ring below, radians, up to half of
    /// the way to the next: to the right, or to the left where it is below 0.
    pub step_rad: f64,
    /// How far what goes through their middles leans from upright, on the outside, radians.
    pub slant_rad: f64,
}

/// The nearest to half of the way is taken for it, radians.
const HALF_RAD: f64 = 1e-6;

/// How an open ring's segments rise from an open one below with as many: nothing where they
/// stand over each other or right between, which leans neither way.
pub fn rise(plan: &Rings, place: usize) -> Option<Rise> {
    let lower = place.checked_sub(1)?;
    let ring = |at: usize| plan.rings.get(at).filter(|_| is_open(plan, at));
    let (above, below) = (ring(place)?, ring(lower)?);
    let joint = plan.joints.get(lower)?;
    if above.round.count() != below.round.count() {
        return None;
    }
    let pitch_rad = TAU / f64::from(above.round.count());
    let apart_rad = above.round.middle_rad(0) - below.round.middle_rad(0);
    let step_rad = (apart_rad + pitch_rad / 2.0).rem_euclid(pitch_rad) - pitch_rad / 2.0;
    let is_between = pitch_rad / 2.0 - step_rad.abs() < HALF_RAD;
    if is_between || step_rad.abs() < HALF_RAD {
        return None;
    }
    let up_mm = above.middle_mm() - below.middle_mm();
    Some(Rise {
        step_rad,
        slant_rad: (joint.outside_radius_mm * step_rad).atan2(up_mm),
    })
}

/// Marks for the segments of open rings that are set one by one, as they stand round the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    /// The directions of the segments' middles from the front, radians, from 0 on round once;
    /// counterclockwise as one looks at the open face of the half that is being built.
    pub marks_rad: Vec<f64>,
    /// The rings that have them.
    pub rings: Vec<usize>,
}

/// Marks nearer than this are one, radians: the hundredth part of a degree is 0.01 mm on a disc
/// as wide as a hand.
const SAME_RAD: f64 = 1e-4;

impl Track {
    fn of(plan: &Rings, place: usize, is_rim_down: bool) -> Track {
        let round = &plan.rings[place].round;
        let side = if is_rim_down { -1.0 } else { 1.0 };
        let from_front = |segment: u32| {
            let mark_rad = (side * round.middle_rad(segment)).rem_euclid(TAU);
            // A hair before the front is the front.
            if TAU - mark_rad < SAME_RAD {
                0.0
            } else {
                mark_rad
            }
        };
        let mut marks_rad: Vec<f64> = (0..round.count()).map(from_front).collect();
        marks_rad.sort_by(f64::total_cmp);
        Track {
            marks_rad,
            rings: vec![place],
        }
    }

    fn is_alike(&self, other: &Track) -> bool {
        let mut marks = self.marks_rad.iter().zip(&other.marks_rad);
        self.marks_rad.len() == other.marks_rad.len()
            && marks.all(|(one, other)| (one - other).abs() < SAME_RAD)
    }
}

/// The marks that the open rings still to be made are set by, rings with the same ones together,
/// where the halves meet above so many rings (0 for one piece): the half of the rim is built rim
/// down, and is seen the other way round.
pub fn tracks(plan: &Rings, meeting: usize) -> Vec<Track> {
    let mut tracks: Vec<Track> = Vec::new();
    let is_set = |place: &usize| is_open(plan, *place) && !plan.vessel.rings[*place].is_glued();
    for place in (0..plan.rings.len()).filter(is_set) {
        let own = Track::of(plan, place, meeting > 0 && place >= meeting);
        match tracks.iter_mut().find(|it| it.is_alike(&own)) {
            Some(known) => known.rings.push(place),
            None => tracks.push(own),
        }
    }
    tracks
}
