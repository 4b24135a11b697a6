//! The turned wall: level cuts through it, swept over the parts of each ring.

use super::body::{Fineness, Mesh, OPENED, spacer_color};
use super::striped::stripe;
use crate::design::{Between, MadeOf, StackRing};
use crate::draw::Color;
use crate::plan::rings::{RingInStack, gaps_of};
use crate::plan::stack::{Bore, StackPlan};
use crate::trade::shape::Wall;
use std::f64::consts::TAU;

/// A level cut through the wall.
#[derive(Clone, Copy, Debug)]
struct Row {
    z: f64,
    outside: f64,
    /// Inside radius just below the cut, and just above it: they differ at the floor and
    /// at the ends of a bore below it.
    below: f64,
    above: f64,
    /// Lean of the outside surface, radians up from level, just below and just above.
    outside_lean: [f64; 2],
    /// The same of the inside surface.
    inside_lean: [f64; 2],
}

/// The wall as level cuts, near enough to each other that the straight lines between
/// them stand for the curves.
pub(super) struct Profile {
    rows: Vec<Row>,
    fineness: Fineness,
}

/// Cuts nearer than this are not divided again.
const NEAREST_MM: f64 = 0.05;

/// A surface that turns by more between two cuts is a corner, and is shaded as one.
const CREASE: f64 = 0.45;

impl Profile {
    pub(super) fn of(wall: &Wall, plan: &StackPlan, fineness: Fineness) -> Profile {
        let rim = wall.outside.height_mm();
        let bores = plan.bores();
        let wanted = plan
            .rings
            .iter()
            .flat_map(|ring| [ring.span.bottom_mm, ring.span.top_mm])
            .chain(wall.outside.pieces.iter().map(|piece| piece.height_mm[3]))
            .chain([0.0, wall.floor_mm])
            .chain(bores.iter().flat_map(|bore| [bore.from_mm, bore.to_mm]))
            .map(|z| z.min(rim));
        // Put in one by one: the library's sorting would weigh as much as all of this.
        let mut levels: Vec<f64> = Vec::new();
        for z in wanted {
            levels.insert(levels.partition_point(|level| *level < z), z);
        }
        levels.dedup_by(|next, z| *next - *z < 1e-6);
        let cut = |z: f64| Row::at(wall, z);
        let mut rows = vec![cut(0.0)];
        for two in levels.windows(2) {
            let end = cut(two[1]);
            let from = rows[rows.len() - 1];
            let middle = cut(f64::midpoint(two[0], two[1]));
            // A middle may lie on the line by chance: quarters do not as well.
            divide(wall, fineness, &from, &middle, &mut rows);
            divide(wall, fineness, &middle, &end, &mut rows);
        }
        for row in &mut rows {
            row.bore(&bores);
        }
        lean(&mut rows);
        Profile { rows, fineness }
    }

    /// The cuts from one height to another, both included.
    fn between(&self, from: f64, to: f64) -> &[Row] {
        let start = self.rows.partition_point(|row| row.z < from - 1e-6);
        let end = self.rows.partition_point(|row| row.z <= to + 1e-6);
        self.rows.get(start..end).unwrap_or(&[])
    }
}

impl Row {
    fn at(wall: &Wall, z: f64) -> Row {
        let outside = wall.outside.radius_at(z);
        let above = wall.inside_radius_at(z).min(outside);
        let is_floor = wall.floor_mm > 0.0 && z <= wall.floor_mm + 1e-6;
        Row {
            z,
            outside,
            below: if is_floor { 0.0 } else { above },
            above,
            outside_lean: [0.0; 2],
            inside_lean: [0.0; 2],
        }
    }
}

/// Heights nearer than this are one.
const HAIR_MM: f64 = 1e-6;

impl Row {
    /// Opens what is bored out of the solid floor.
    fn bore(&mut self, bores: &[Bore]) {
        let at = |z: f64| {
            bores
                .iter()
                .find(|bore| bore.from_mm <= z && z <= bore.to_mm)
        };
        let radius = |bore: &Bore| bore.radius_mm.min(self.outside);
        let (below, above) = (at(self.z - HAIR_MM), at(self.z + HAIR_MM));
        self.below = below.map_or(self.below, radius);
        self.above = above.map_or(self.above, radius);
    }
}

/// Adds cuts between two, and the upper one.
fn divide(wall: &Wall, fineness: Fineness, from: &Row, to: &Row, rows: &mut Vec<Row>) {
    let middle = Row::at(wall, f64::midpoint(from.z, to.z));
    let outside = middle.outside - f64::midpoint(from.outside, to.outside);
    let inside = middle.above - f64::midpoint(from.above, to.below);
    let wall_mm2 = (middle.outside.powi(2) - middle.above.powi(2)) / 2.0;
    let lost_mm2 = outside * middle.outside - inside * middle.above;
    let is_straight = outside.abs().max(inside.abs()) < fineness.flatness_mm
        && lost_mm2.abs() <= fineness.loss * wall_mm2;
    if is_straight || to.z - from.z < NEAREST_MM {
        rows.push(*to);
    } else {
        divide(wall, fineness, from, &middle, rows);
        divide(wall, fineness, &middle, to, rows);
    }
}

/// Sets how the surfaces lean at each cut: evenly between the straight lines below
/// and above it, apart at a corner.
fn lean(rows: &mut [Row]) {
    let bands: Vec<[f64; 2]> = rows
        .windows(2)
        .map(|two| {
            let height = two[1].z - two[0].z;
            [
                height.atan2(two[1].outside - two[0].outside),
                height.atan2(two[1].below - two[0].above),
            ]
        })
        .collect();
    for (place, row) in rows.iter_mut().enumerate() {
        let below = place.checked_sub(1).and_then(|band| bands.get(band));
        let above = bands.get(place);
        let (Some(below), Some(above)) = (below.or(above), above.or(below)) else {
            continue;
        };
        let shaded = |below: f64, above: f64| {
            if (above - below).abs() > CREASE {
                [below, above]
            } else {
                [f64::midpoint(below, above); 2]
            }
        };
        row.outside_lean = shaded(below[0], above[0]);
        let is_floor = row.below < row.above;
        row.inside_lean = if is_floor {
            [above[1]; 2]
        } else {
            shaded(below[1], above[1])
        };
    }
}

/// A side of a part: a plane through the axis, or beside it by half a spacer.
#[derive(Clone, Copy, Debug)]
struct Side {
    direction: f64,
    aside_mm: f64,
}

impl Side {
    /// Its direction at a distance from the axis.
    fn at(&self, radius_mm: f64) -> f64 {
        if self.aside_mm == 0.0 {
            return self.direction;
        }
        self.direction
            + (self.aside_mm / radius_mm.max(1e-9))
                .clamp(-1.0, 1.0)
                .asin()
    }
}

/// A piece of one wood between two sides.
#[derive(Clone, Debug)]
struct Part {
    sides: [Side; 2],
    /// The segment that it is of; a spacer is of none.
    segment: Option<u32>,
    /// What of it is kept.
    kept: [f64; 2],
    color: Color,
    steps: u32,
    /// Sines and cosines of its steps, where they are kept.
    bearings: Vec<[f64; 2]>,
    /// Whether it begins at a joint.
    is_joined: bool,
    /// Whether its sides are open to the air.
    is_open: [bool; 2],
}

impl Part {
    /// The direction at a step from one side to the other.
    fn direction(&self, step: u32, radius_mm: f64) -> f64 {
        let [from, to] = self
            .sides
            .map(|side| side.at(radius_mm).clamp(self.kept[0], self.kept[1]));
        if step == self.steps {
            return to;
        }
        from + (to - from) * f64::from(step) / f64::from(self.steps)
    }

    /// Sine and cosine of that direction.
    fn bearing(&self, step: u32, radius_mm: f64) -> [f64; 2] {
        let kept = self.bearings.get(step as usize).copied();
        kept.unwrap_or_else(|| bearing(self.direction(step, radius_mm)))
    }

    /// Keeps the bearings where they are the same at every distance.
    fn keep_bearings(&mut self) {
        if self.sides.iter().all(|side| side.aside_mm == 0.0) {
            let bearings = (0..=self.steps).map(|step| bearing(self.direction(step, 1.0)));
            self.bearings = bearings.collect();
        }
    }

    fn span(&self, radius_mm: f64) -> f64 {
        self.direction(self.steps, radius_mm) - self.direction(0, radius_mm)
    }
}

fn bearing(direction: f64) -> [f64; 2] {
    let (sine, cosine) = direction.sin_cos();
    [sine, cosine]
}

/// The parts of a ring, cut to what is shown.
fn parts(
    ring: &StackRing,
    planned: &RingInStack,
    radii_mm: [f64; 2],
    is_cut: bool,
    round_steps: f64,
) -> Vec<Part> {
    let mut parts = Vec::new();
    for part in whole_parts(ring, planned) {
        // A part that reaches over the front comes in again from the other end.
        for turn in -2..=2 {
            let mut part = part.clone();
            for side in &mut part.sides {
                side.direction += TAU * f64::from(turn);
            }
            if is_cut {
                part.kept = OPENED;
            } else if turn != 0 {
                continue;
            }
            let widest = part.span(radii_mm[0]).max(part.span(radii_mm[1]));
            if widest > 1e-9 {
                // What a gap leaves is narrower inside than outside: there, what is lost
                // outside is not made up for inside.
                let finer = if part.sides[0].aside_mm > 0.0 {
                    3.0
                } else {
                    1.0
                };
                part.steps = (widest / TAU * round_steps * finer - 1e-6).ceil().max(1.0) as u32;
                part.keep_bearings();
                parts.push(part);
            }
        }
    }
    if is_cut {
        // Only the first and the last part end in the air. At both ends of the wall: a
        // cut along a spacer's side may leave several parts with the same edge at one.
        let edge = |part: &Part, step: u32| -> f64 {
            radii_mm
                .iter()
                .map(|radius| part.direction(step, *radius))
                .sum()
        };
        let from = |part: &Part| edge(part, 0);
        let to = |part: &Part| edge(part, part.steps);
        let first = |one: &&mut Part, other: &&mut Part| from(one).total_cmp(&from(other));
        if let Some(first) = parts.iter_mut().min_by(first) {
            first.is_open[0] = true;
        }
        let last = |one: &&mut Part, other: &&mut Part| to(one).total_cmp(&to(other));
        if let Some(last) = parts.iter_mut().max_by(last) {
            last.is_open[1] = true;
        }
    }
    parts
}

/// The parts of a ring, each whole.
fn whole_parts(ring: &StackRing, planned: &RingInStack) -> Vec<Part> {
    let is_disc = ring.made_of == MadeOf::Disc;
    let part = |sides: [Side; 2], color: Color, is_open: bool| Part {
        sides,
        segment: None,
        kept: [f64::MIN, f64::MAX],
        color,
        steps: 1,
        bearings: Vec::new(),
        is_joined: !is_disc,
        is_open: [is_open; 2],
    };
    let side = |direction: f64, aside_mm: f64| Side {
        direction,
        aside_mm,
    };
    if is_disc {
        let sides = [side(0.0, 0.0), side(TAU, 0.0)];
        return vec![part(sides, planned.color_of(0), false)];
    }
    let round = &planned.round;
    // Without a segment, nothing is known that a spacer could stand between.
    let spacer_mm = planned.segment.map_or(0.0, |_| planned.wanted.spacer_mm);
    let gap_rad = planned.segment.map_or(0.0, |_| planned.wanted.gap_rad);
    let is_open = gaps_of(ring, planned).is_some();
    let has_spacers = spacer_mm > 0.0 && ring.between == Between::Spacer;
    let mut parts = Vec::new();
    for segment in 0..ring.segment_count {
        // The next segment begins with the same number, so that they meet in the same bits.
        let [before, after] = [segment, segment + 1].map(|it| round.edge_rad(it));
        let beside = spacer_mm / 2.0;
        let sides = [
            side(before + gap_rad / 2.0, beside),
            side(after - gap_rad / 2.0, -beside),
        ];
        parts.push(Part {
            segment: Some(segment),
            ..part(sides, planned.color_of(segment), is_open)
        });
        if has_spacers {
            let sides = [side(after, -beside), side(after, beside)];
            parts.push(part(sides, spacer_color(planned), false));
        }
    }
    parts
}

/// A ring's part of the turned wall.
pub(super) fn turned(
    mesh: &mut Mesh,
    ring: &StackRing,
    planned: &RingInStack,
    profile: &Profile,
    is_cut: bool,
) {
    let rows = profile.between(planned.span.bottom_mm, planned.span.top_mm);
    if rows.len() < 2 {
        return;
    }
    let largest = rows.iter().map(|row| row.outside).fold(0.0, f64::max);
    let smallest = rows
        .iter()
        .map(|row| row.below.min(row.above))
        .fold(f64::MAX, f64::min);
    let steps = profile.fineness.round_steps;
    for part in parts(ring, planned, [smallest, largest], is_cut, steps) {
        let since = mesh.triangles.len();
        turned_part(mesh, rows, &part);
        if let Some(segment) = part.segment {
            let direction = planned.round.middle_rad(segment);
            stripe(mesh, since, planned, segment, direction);
        }
    }
}

/// One point of a surface's outline: radius, height, and the surface's lean.
#[derive(Clone, Copy, PartialEq)]
struct Edge {
    radius: f64,
    z: f64,
    /// How much the surface faces outward and upward.
    facing: [f64; 2],
}

fn turned_part(mesh: &mut Mesh, rows: &[Row], part: &Part) {
    let (first, last) = (&rows[0], &rows[rows.len() - 1]);
    let edge = |radius: f64, z: f64, facing: [f64; 2]| Edge { radius, z, facing };
    let outward = |lean: f64| [lean.sin(), -lean.cos()];
    let inward = |lean: f64| [-lean.sin(), lean.cos()];
    let outside =
        |row: &Row, side: usize| edge(row.outside, row.z, outward(row.outside_lean[side]));
    let bands: Vec<[Edge; 2]> = rows
        .windows(2)
        .map(|two| [outside(&two[0], 1), outside(&two[1], 0)])
        .collect();
    // Each line once: the lower ring draws the joint between two.
    sweep(mesh, &bands, part, [false, true]);
    let level = |row: &Row, from: f64, to: f64, up: f64| {
        [edge(from, row.z, [0.0, up]), edge(to, row.z, [0.0, up])]
    };
    let top = level(last, last.outside, last.below, 1.0);
    sweep(mesh, &[top], part, [false, false]);
    let bands: Vec<[Edge; 2]> = rows
        .windows(2)
        .rev()
        .map(|two| {
            [
                edge(two[1].below, two[1].z, inward(two[1].inside_lean[0])),
                edge(two[0].above, two[0].z, inward(two[0].inside_lean[1])),
            ]
        })
        .collect();
    sweep(mesh, &bands, part, [true, first.below < first.above]);
    for row in &rows[1..rows.len() - 1] {
        if row.below < row.above {
            let floor = level(row, row.above, row.below, 1.0);
            sweep(mesh, &[floor], part, [true, false]);
        } else if row.above < row.below {
            let ceiling = level(row, row.above, row.below, -1.0);
            sweep(mesh, &[ceiling], part, [false, true]);
        }
    }
    let bottom = level(first, first.above, first.outside, -1.0);
    let is_foot = first.z == 0.0;
    sweep(
        mesh,
        &[bottom],
        part,
        [is_foot && first.above > 0.0, is_foot],
    );
    for (side, is_open) in part.is_open.iter().enumerate() {
        if *is_open {
            cap(mesh, rows, part, side);
        }
    }
}

/// The surface that an outline of bands sweeps over a part, with lines along its joints
/// and, where asked for, along its first and last edge.
fn sweep(mesh: &mut Mesh, bands: &[[Edge; 2]], part: &Part, has_lines: [bool; 2]) {
    let mut before: Option<(Edge, u32)> = None;
    for (place, [from, to]) in bands.iter().enumerate() {
        if from.radius == 0.0 && to.radius == 0.0 {
            before = None;
            continue;
        }
        // Neighbouring bands share their corners, but not over a crease.
        let from_row = match before {
            Some((edge, row)) if edge == *from => row,
            _ => column_row(mesh, from, part),
        };
        let to_row = column_row(mesh, to, part);
        before = Some((*to, to_row));
        for step in 0..part.steps {
            let (a, b) = (from_row + step, from_row + step + 1);
            let (c, d) = (to_row + step, to_row + step + 1);
            mesh.triangle([a, b, d]);
            mesh.triangle([a, d, c]);
        }
        if part.is_joined || part.is_open[0] {
            mesh.lines.extend([from_row, to_row]);
        }
        if part.is_open[1] {
            mesh.lines
                .extend([from_row + part.steps, to_row + part.steps]);
        }
        let is_edge = [place == 0, place + 1 == bands.len()];
        for (row, is_line) in [
            (from_row, has_lines[0] && is_edge[0]),
            (to_row, has_lines[1] && is_edge[1]),
        ] {
            if is_line {
                mesh.lines
                    .extend((0..part.steps).flat_map(|step| [row + step, row + step + 1]));
            }
        }
    }
}

/// The corners of one level of a sweep; the first one's index.
fn column_row(mesh: &mut Mesh, edge: &Edge, part: &Part) -> u32 {
    let start = (mesh.positions.len() / 3) as u32;
    let [outward, upward] = edge.facing;
    for step in 0..=part.steps {
        let [sine, cosine] = part.bearing(step, edge.radius);
        mesh.corner(
            [edge.radius * sine, -edge.radius * cosine, edge.z],
            [outward * sine, -outward * cosine, upward],
            part.color,
        );
    }
    start
}

/// The place at a distance from the axis in a direction.
fn at(radius_mm: f64, direction: f64, z: f64) -> [f64; 3] {
    let (sine, cosine) = direction.sin_cos();
    [radius_mm * sine, -radius_mm * cosine, z]
}

/// The wall's section at a side of a part.
fn cap(mesh: &mut Mesh, rows: &[Row], part: &Part, side: usize) {
    let step = if side == 0 { 0 } else { part.steps };
    let place = |radius: f64, z: f64| at(radius, part.direction(step, radius), z);
    let direction = part.sides[side].direction.clamp(part.kept[0], part.kept[1]);
    let [x, y, _] = at(1.0, direction, 0.0);
    // Square to the section, away from the part.
    let normal = if side == 0 {
        [y, -x, 0.0]
    } else {
        [-y, x, 0.0]
    };
    for (number, two) in rows.windows(2).enumerate() {
        let (low, high) = (&two[0], &two[1]);
        let is_last = number + 2 == rows.len();
        let mut corners = vec![place(low.outside, low.z), place(high.outside, high.z)];
        // The floor's edge stands on the line between two bands.
        if !is_last && high.below < high.above {
            corners.push(place(high.above, high.z));
        }
        corners.push(place(high.below, high.z));
        corners.push(place(low.above, low.z));
        // So does a bore's end.
        if number > 0 && low.above < low.below {
            corners.push(place(low.below, low.z));
        }
        // A fan from the last: no two of its corners are in line with it.
        corners.rotate_right(1);
        if side == 1 {
            corners.reverse();
            // Still a fan from the same corner.
            corners.rotate_right(1);
        }
        mesh.polygon(&corners, normal, part.color);
    }
}
