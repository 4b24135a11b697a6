//! How large the surface of the finished piece is, from its real curve: outside, inside with
//! the floor, rim, foot, and what open gaps take away and bring. A strip glued into a slot is
//! turned with the wood round it and takes nothing.

use super::base::BasePlan;
use super::rings::{RingInStack, gaps_of};
use super::stack::{Bore, StackPlan};
use crate::design::{BaseSet, StackRing};
use crate::trade::shape::{self, Wall};
use crate::trade::surface::{Gaps, both_open_rad, circle_mm2, turned_mm2};
use std::f64::consts::{PI, TAU};

/// The surface of the finished piece, square millimeters.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Surface {
    /// The outside, from foot to rim.
    pub outside_mm2: f64,
    /// The inside, its floor counted in.
    pub inside_mm2: f64,
    /// The rim's upper face.
    pub rim_mm2: f64,
    /// The foot's underside, with what is open there.
    pub foot_mm2: f64,
    /// The sides of open gaps, and the ring faces that they leave bare.
    pub gaps_mm2: f64,
}

impl Surface {
    /// All of it.
    pub fn all_mm2(&self) -> f64 {
        self.outside_mm2 + self.inside_mm2 + self.rim_mm2 + self.foot_mm2 + self.gaps_mm2
    }
}

/// The surface of a piece; nothing where it has no wall or no ring.
pub fn surface(plan: &StackPlan) -> Option<Surface> {
    let wall = plan.wall.as_ref()?;
    let top_mm = plan.rings.last()?.span.top_mm.min(wall.outside.height_mm());
    let bores = plan.bores();
    let mut found = Surface::default();
    for (ring, planned) in plan.vessel.rings.iter().zip(&plan.rings) {
        ring_surface(wall, gaps_of(ring, planned), planned, &bores, &mut found);
    }
    for (place, two) in plan.rings.windows(2).enumerate() {
        let height_mm = two[0].span.top_mm;
        if height_mm < top_mm - SAME_MM {
            let radii_mm = radii_mm(wall, &bores, height_mm);
            found.gaps_mm2 += bared_mm2(plan, place, radii_mm);
        }
    }
    let [rim_mm, outside_mm] = radii_mm(wall, &bores, top_mm);
    found.rim_mm2 = level_mm2(plan.rings.len() - 1, plan, rim_mm, outside_mm);
    floor(plan, wall, &bores, &mut found);
    if let Some(base) = glued_under(plan) {
        // The disc stands under the foot that the curve ends on.
        found.outside_mm2 += PI * base.disc_mm * base.thickness_mm;
        found.foot_mm2 = circle_mm2(base.disc_mm / 2.0);
    }
    Some(found)
}

/// Heights and radii nearer than this are one.
const SAME_MM: f64 = 1e-6;

/// Inside and outside radius at a height, as it is just above it.
fn radii_mm(wall: &Wall, bores: &[Bore], height_mm: f64) -> [f64; 2] {
    let outside_mm = wall.outside.radius_at(height_mm);
    let is_floor = height_mm < wall.floor_mm - SAME_MM;
    let inside_mm = if is_floor {
        bore_mm(bores, height_mm)
    } else {
        hollow_mm(wall, height_mm)
    };
    [inside_mm.min(outside_mm), outside_mm]
}

/// The inside radius above the floor.
fn hollow_mm(wall: &Wall, height_mm: f64) -> f64 {
    let known = shape::radius_on(wall.hollow(), height_mm);
    // A hair above the last of its heights is the rim.
    known.unwrap_or_else(|| wall.inside_radius_at(height_mm))
}

/// The radius of what is bored just above a height.
fn bore_mm(bores: &[Bore], height_mm: f64) -> f64 {
    let is_at = |it: &&Bore| it.from_mm <= height_mm + SAME_MM && height_mm + SAME_MM < it.to_mm;
    bores.iter().find(is_at).map_or(0.0, |it| it.radius_mm)
}

/// How many levels the sides of gaps are taken at, between two heights.
const LEVELS: u32 = 32;

/// What a ring adds of outside, inside and gaps.
fn ring_surface(
    wall: &Wall,
    gaps: Option<Gaps>,
    planned: &RingInStack,
    bores: &[Bore],
    found: &mut Surface,
) {
    let rim_mm = wall.outside.height_mm();
    let [from_mm, to_mm] = [planned.span.bottom_mm, planned.span.top_mm].map(|it| it.min(rim_mm));
    if to_mm <= from_mm {
        return;
    }
    let outside = wall.outside_between(from_mm, to_mm);
    let inside = shape::between(wall.hollow(), from_mm, to_mm);
    found.outside_mm2 += turned_mm2(&outside);
    found.inside_mm2 += turned_mm2(&inside);
    let Some(gaps) = gaps else {
        return;
    };
    found.outside_mm2 -= gaps.taken_mm2(&outside);
    found.inside_mm2 -= gaps.taken_mm2(&inside);
    // Below the floor the ring is solid, or bored.
    let floor_mm = wall.floor_mm.clamp(from_mm, to_mm);
    for [low_mm, high_mm] in [[from_mm, floor_mm], [floor_mm, to_mm]] {
        let step_mm = (high_mm - low_mm) / f64::from(LEVELS);
        if step_mm <= 0.0 {
            continue;
        }
        let at = |step: u32| low_mm + step_mm * f64::from(step);
        let inside_mm = |height_mm: f64| {
            if high_mm <= wall.floor_mm + SAME_MM {
                bore_mm(bores, height_mm.min(high_mm - 2.0 * SAME_MM))
            } else {
                hollow_mm(wall, height_mm)
            }
        };
        let level = |step: u32| {
            (
                at(step),
                [inside_mm(at(step)), wall.outside.radius_at(at(step))],
            )
        };
        let section: Vec<_> = (0..=LEVELS).map(level).collect();
        found.gaps_mm2 += gaps.sides_mm2(&section);
    }
}

/// A level face of a ring between two radii, without its gaps.
fn level_mm2(place: usize, plan: &StackPlan, inside_mm: f64, outside_mm: f64) -> f64 {
    let whole_mm2 = circle_mm2(outside_mm) - circle_mm2(inside_mm);
    let ring = plan.vessel.rings.get(place).zip(plan.rings.get(place));
    let gaps = ring.and_then(|(ring, planned)| gaps_of(ring, planned));
    let open_mm2 = gaps.map_or(0.0, |gaps| gaps.level_mm2(inside_mm, outside_mm));
    (whole_mm2 - open_mm2).max(0.0)
}

/// Radii at which the gaps of two rings are laid over each other.
const RADII: u32 = 16;

/// What of the faces of a ring and of the next one is bare, because only one of them has a
/// gap there.
fn bared_mm2(plan: &StackPlan, below: usize, [inside_mm, outside_mm]: [f64; 2]) -> f64 {
    let ring = |place: usize| plan.vessel.rings.get(place).zip(plan.rings.get(place));
    let openings = |place: usize, radius_mm: f64| -> Vec<[f64; 2]> {
        let own = ring(place).and_then(|(ring, planned)| Some((gaps_of(ring, planned)?, planned)));
        let Some((gaps, planned)) = own else {
            return Vec::new();
        };
        let half_rad = gaps.half_rad(radius_mm).min(PI / f64::from(gaps.count));
        let middles = (0..gaps.count).map(|it| planned.round.edge_rad(it));
        middles.map(|it| [it - half_rad, it + half_rad]).collect()
    };
    let open_rad = |all: &[[f64; 2]]| all.iter().map(|it| it[1] - it[0]).sum::<f64>();
    let step_mm = (outside_mm - inside_mm) / f64::from(RADII);
    let at_mm2 = |step: u32| {
        let radius_mm = inside_mm + step_mm * (f64::from(step) + 0.5);
        let (one, other) = (openings(below, radius_mm), openings(below + 1, radius_mm));
        let bare_rad = open_rad(&one) + open_rad(&other) - 2.0 * both_open_rad(&one, &other);
        bare_rad.clamp(0.0, TAU) * radius_mm * step_mm
    };
    (0..RADII).map(at_mm2).sum()
}

/// The foot's underside and the floor, with what is bored between them.
fn floor(plan: &StackPlan, wall: &Wall, bores: &[Bore], found: &mut Surface) {
    let foot_mm = wall.outside.radius_at(0.0);
    let floor_radius_mm = wall.hollow().first().map_or(0.0, |it| it.1);
    if wall.floor_mm <= SAME_MM {
        found.foot_mm2 = level_mm2(0, plan, floor_radius_mm.min(foot_mm), foot_mm);
        return;
    }
    // The floor is open where gaps of its ring go through it.
    let is_in = |ring: &RingInStack| {
        ring.span.bottom_mm < wall.floor_mm - SAME_MM && wall.floor_mm + SAME_MM < ring.span.top_mm
    };
    if let Some(place) = plan.rings.iter().position(is_in) {
        let solid_mm2 = level_mm2(place, plan, 0.0, floor_radius_mm);
        found.inside_mm2 -= circle_mm2(floor_radius_mm) - solid_mm2;
    }
    let mut open_mm = bore_mm(bores, 0.0).min(foot_mm);
    found.foot_mm2 = level_mm2(0, plan, open_mm, foot_mm);
    // What is open from below is of the foot; what is open above wood, of the inside.
    let mut is_foot = open_mm > 0.0;
    let mut now_mm = 0.0;
    while now_mm < wall.floor_mm - SAME_MM {
        let ends = bores.iter().flat_map(|it| [it.from_mm, it.to_mm]);
        let next_mm = ends
            .filter(|it| *it > now_mm + SAME_MM)
            .fold(wall.floor_mm, f64::min);
        let above_mm = if next_mm < wall.floor_mm - SAME_MM {
            bore_mm(bores, next_mm)
        } else {
            floor_radius_mm
        };
        let level_mm2 = (circle_mm2(open_mm) - circle_mm2(above_mm)).abs();
        let side_mm2 = TAU * open_mm * (next_mm - now_mm);
        let part = if is_foot {
            &mut found.foot_mm2
        } else {
            &mut found.inside_mm2
        };
        *part += side_mm2;
        if is_foot && open_mm > above_mm {
            *part += level_mm2;
        } else {
            found.inside_mm2 += level_mm2;
        }
        is_foot &= above_mm > 0.0;
        (open_mm, now_mm) = (above_mm, next_mm);
    }
}

/// A base that is glued under a lowest ring that was glued already: it stands below the
/// curve.
fn glued_under(plan: &StackPlan) -> Option<&BasePlan> {
    let is_glued = plan.vessel.rings.first().is_some_and(StackRing::is_glued);
    let is_under = |base: &&BasePlan| {
        base.choice.set == BaseSet::Under
            && base.around.kept_mm.is_none()
            && base.troubles.is_empty()
    };
    plan.base.as_ref().filter(is_under).filter(|_| is_glued)
}
