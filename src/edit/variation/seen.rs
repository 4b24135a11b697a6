//! What one sees of a piece, and how unlike two look.

use crate::plan::stack::StackPlan;
use crate::plan::stripe::StripePlan;
use crate::units::color::Color;
use std::f64::consts::TAU;

/// Directions and heights of a ring at which the outside is looked at.
const ROUND: usize = 60;
const HEIGHTS: usize = 2;

/// What one sees of a piece: the colors on its unrolled outside, row after row, and how many
/// joints and edges of stripes there are.
pub(super) struct Seen {
    /// Each with whether it is a strip's.
    colors: Vec<(Color, bool)>,
    lines: u32,
}

impl Seen {
    pub(super) fn of(stack: &StackPlan) -> Seen {
        let mut colors = Vec::new();
        for (place, planned) in stack.rings.iter().enumerate() {
            let sets = stack.slot_sets.iter().flatten();
            let sets: Vec<_> = sets.filter(|own| own.rings.contains(&place)).collect();
            for height in 0..HEIGHTS {
                let share = (height as f64 + 0.5) / HEIGHTS as f64;
                let z =
                    planned.span.bottom_mm + (planned.span.top_mm - planned.span.bottom_mm) * share;
                let radius = stack
                    .wall
                    .as_ref()
                    .map_or(0.0, |wall| wall.outside.radius_at(z));
                for step in 0..ROUND {
                    let direction = TAU * (step as f64 + 0.5) / ROUND as f64;
                    let [x, y] = [radius * direction.sin(), -radius * direction.cos()];
                    let strip = sets.iter().rev().find_map(|own| own.strip_at([x, y, z]));
                    let own = || {
                        let segment = planned.round.segment_at(direction);
                        let from_middle = direction - planned.round.middle_rad(segment);
                        let v = radius * from_middle.sin();
                        planned.color_at(segment, v, z - planned.middle_mm())
                    };
                    let is_strip = strip.is_some();
                    colors.push((strip.map_or_else(own, |strip| strip.color), is_strip));
                }
            }
        }
        let lines = stack.vessel.rings.iter().zip(&stack.rings);
        let lines = lines.map(|(ring, planned)| {
            let stripes = planned.stripes.as_ref();
            ring.segment_count * (1 + stripes.map_or(0, StripePlan::edge_count))
        });
        let lines = lines.sum();
        Seen { colors, lines }
    }

    /// Whether they look less unlike than so much, as one of them may be turned: the share of
    /// the outside that is of another color, and of the joints.
    pub(super) fn is_nearer(&self, other: &Seen, apart: f64) -> bool {
        if self.colors.len() != other.colors.len() || self.colors.is_empty() {
            return apart > 1.0;
        }
        // Lines are seen, but less than woods.
        let most = self.lines.max(other.lines).max(1);
        let lines = 0.2 * f64::from(self.lines.abs_diff(other.lines)) / f64::from(most);
        let most_unlike = (apart - lines) * self.colors.len() as f64;
        (0..ROUND).any(|turn| self.is_turned_nearer(other, turn, most_unlike))
    }

    /// Whether the places of another color come to less than so many with one turned so far; no
    /// more are looked at than it takes to know.
    fn is_turned_nearer(&self, other: &Seen, turn: usize, most_unlike: f64) -> bool {
        let rows = self.colors.chunks_exact(ROUND);
        let mut unlike_so_far = 0.0;
        for (row, other) in rows.zip(other.colors.chunks_exact(ROUND)) {
            let turned = other[turn..].iter().chain(&other[..turn]);
            let pairs = row.iter().zip(turned);
            unlike_so_far += pairs.map(|(one, other)| unlike(*one, *other)).sum::<f64>();
            if unlike_so_far >= most_unlike {
                return false;
            }
        }
        true
    }
}

/// How unlike two places look. A strip is narrow but drawn to be looked at: it counts more.
fn unlike((one, is_strip): (Color, bool), (other, is_other_strip): (Color, bool)) -> f64 {
    let weight = if is_strip || is_other_strip { 5.0 } else { 1.0 };
    if one == other {
        0.0
    } else {
        weight * one.apart(other)
    }
}
