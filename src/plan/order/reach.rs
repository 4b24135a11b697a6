//! The inside: how far up and down each place of it may be closed in, and so what is
//! turned before which ring comes on.

use super::facts::End;
use super::step::{Half, Stage};
use crate::plan::stack::StackPlan;
use crate::trade::lathe::{Tool, Walk, put_among};
use crate::trade::shape::Wall;
use std::ops::Range;

/// Heights at which the inside is walked, beside every joint.
const HEIGHTS: u32 = 160;

/// The inside, and how far up and down each place of it may be closed in.
pub(super) struct Inside {
    tool: Tool,
    /// Heights and inside radii, rising.
    places: Vec<(f64, f64)>,
    /// The highest and the lowest open end from which each place is reached.
    limits: Vec<(f64, f64)>,
    /// For each ring, the strictest of its places; nothing for one without an inside.
    rings: Vec<Option<(f64, f64)>>,
    faces: Vec<(f64, f64)>,
}

impl Inside {
    pub(super) fn of(tool: Tool, wall: &Wall, plan: &StackPlan) -> Inside {
        let rim_mm = wall.outside.height_mm();
        let floor_mm = wall.floor_mm.clamp(0.0, rim_mm);
        let faces: Vec<(f64, f64)> = plan
            .rings
            .iter()
            .map(|ring| {
                (
                    ring.span.bottom_mm.min(rim_mm),
                    ring.span.top_mm.min(rim_mm),
                )
            })
            .collect();
        let mut heights: Vec<f64> = (0..=HEIGHTS)
            .map(|step| floor_mm + (rim_mm - floor_mm) * f64::from(step) / f64::from(HEIGHTS))
            .collect();
        for face in faces.iter().filter(|face| face.1 > floor_mm) {
            put_among(&mut heights, face.1);
        }
        let places: Vec<(f64, f64)> = heights
            .into_iter()
            .map(|z| (z, wall.inside_radius_at(z)))
            .collect();
        let limits = (0..places.len())
            .map(|at| {
                let up = farthest(tool, places[at], places[at + 1..].iter().copied());
                let down = farthest(tool, places[at], places[..at].iter().rev().copied());
                (up, down)
            })
            .collect();
        let mut inside = Inside {
            tool,
            places,
            limits,
            rings: Vec::new(),
            faces,
        };
        inside.rings = (0..inside.faces.len())
            .map(|ring| inside.ring_limits(ring))
            .collect();
        inside
    }

    /// The strictest limits of the places in a ring that have an inside.
    fn ring_limits(&self, ring: usize) -> Option<(f64, f64)> {
        let (bottom, top) = self.faces[ring];
        let in_ring = self.places.iter().zip(&self.limits).filter(|((z, r), _)| {
            *r > 0.0 && *z >= bottom - 1e-9 && *z <= top + 1e-9 && top > bottom
        });
        in_ring
            .map(|(_, limits)| *limits)
            .reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// The last ring of a half that may be glued on before this one's inside must be
    /// turned; it itself where not even its own face is open enough, and whether it is
    /// reached at all. Rings are told in gluing order.
    fn last_before(&self, half: &Half, glued: &[usize], at: usize) -> (usize, bool) {
        let Some((up, down)) = self.rings[glued[at]] else {
            return (glued.len() - 1, true);
        };
        let is_reached_from = |ring: usize| match half.on {
            End::Foot => self.faces[ring].1 <= up + 1e-6,
            End::Rim => self.faces[ring].0 >= down - 1e-6,
        };
        let reached = glued[at..]
            .iter()
            .take_while(|ring| is_reached_from(**ring))
            .count();
        (at + reached.saturating_sub(1), reached > 0)
    }

    /// Turns as late as possible, in as few goes as possible.
    fn stages(&self, half: &Half) -> Vec<Stage> {
        let glued = half.glued();
        let mut stages = Vec::new();
        let mut first = 0;
        while first < glued.len() {
            let (mut last, mut is_reached) = (glued.len() - 1, true);
            let mut at = first;
            while at <= last {
                let (own, is_own_reached) = self.last_before(half, &glued, at);
                last = last.min(own);
                is_reached &= is_own_reached;
                at += 1;
            }
            let those = &glued[first..=last];
            if those.iter().any(|ring| self.rings[*ring].is_some()) {
                let rings = span_of(those);
                let before = glued.get(last + 1).copied();
                stages.push(self.stage(half.on, rings, before, is_reached));
            }
            first = last + 1;
        }
        stages
    }

    /// The figures of a stage: from its open end to its deepest place.
    fn stage(
        &self,
        on: End,
        rings: Range<usize>,
        before: Option<usize>,
        is_reached: bool,
    ) -> Stage {
        let (bottom, top) = (self.faces[rings.start].0, self.faces[rings.end - 1].1);
        let hollow: Vec<(f64, f64)> = self
            .places
            .iter()
            .copied()
            .filter(|(z, r)| *r > 0.0 && *z >= bottom - 1e-9 && *z <= top + 1e-9)
            .collect();
        let from_deepest: Vec<(f64, f64)> = match on {
            End::Foot => hollow,
            End::Rim => hollow.into_iter().rev().collect(),
        };
        let deepest = from_deepest.first().copied().unwrap_or((bottom, 0.0));
        let mut walk = Walk::from(self.tool, deepest.1);
        let mut depth_mm = 0.0;
        for (z, r) in from_deepest.iter().skip(1) {
            depth_mm = (z - deepest.0).abs();
            walk.reaches(depth_mm, *r);
        }
        Stage {
            rings,
            before,
            depth_mm,
            opening_mm: walk.opening_mm(),
            overhang_mm: walk.overhang_mm(),
            rest_in_mm: walk.rest_in_mm(),
            is_reached,
        }
    }

    fn half(&self, on: End, rings: Range<usize>) -> Half {
        let mut half = Half {
            on,
            rings,
            stages: Vec::new(),
        };
        half.stages = self.stages(&half);
        half
    }

    pub(super) fn halves(&self, meeting: usize) -> Vec<Half> {
        let count = self.faces.len();
        if meeting == 0 {
            vec![self.half(End::Foot, 0..count)]
        } else {
            vec![
                self.half(End::Foot, 0..meeting),
                self.half(End::Rim, meeting..count),
            ]
        }
    }

    /// Inside radius at the joint above so many rings.
    fn radius_above(&self, rings: usize) -> f64 {
        let height = self.faces[rings - 1].1;
        let at = self.places.partition_point(|(z, _)| *z < height - 1e-9);
        self.places.get(at).map_or(0.0, |place| place.1)
    }

    /// One piece where the rim lets the tool at everything; else the joint that leaves
    /// the fewest rings out of reach, then the fewest goes, then the widest way in.
    pub(super) fn choose(&self, inlays: &[Range<usize>]) -> usize {
        let cost = |halves: &[Half]| {
            let stages = halves.iter().flat_map(|half| &half.stages);
            let missed: usize = stages
                .clone()
                .filter(|stage| !stage.is_reached)
                .map(|stage| stage.rings.len())
                .sum();
            (missed, stages.count())
        };
        let whole = cost(&self.halves(0));
        if whole.0 == 0 && whole.1 <= 1 {
            return 0;
        }
        let is_free = |meeting: &usize| {
            let cuts = |inlay: &&Range<usize>| inlay.start < *meeting && *meeting < inlay.end;
            inlays.iter().find(cuts).is_none()
        };
        (1..self.faces.len())
            .filter(is_free)
            .map(|meeting| (meeting, cost(&self.halves(meeting))))
            .min_by(|a, b| {
                let wider = || self.radius_above(b.0).total_cmp(&self.radius_above(a.0));
                a.1.cmp(&b.1).then_with(wider)
            })
            .filter(|(_, cost)| *cost <= whole)
            .map_or(0, |(meeting, _)| meeting)
    }
}

/// The farthest open end from which a place is reached, walking along these.
fn farthest(tool: Tool, from: (f64, f64), way: impl Iterator<Item = (f64, f64)>) -> f64 {
    let mut walk = Walk::from(tool, from.1);
    way.take_while(|(z, r)| walk.reaches((z - from.0).abs(), *r))
        .last()
        .map_or(from.0, |(z, _)| z)
}

/// The range that some neighbouring rings make up, in whichever order they are told.
pub(super) fn span_of(rings: &[usize]) -> Range<usize> {
    let first = rings.iter().copied().min().unwrap_or(0);
    let last = rings.iter().copied().max().unwrap_or(0);
    first..last + 1
}
