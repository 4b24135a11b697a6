//! A vessel as a body of triangles, for the turning view: the turned wall or the
//! glued blank, whole or with a quarter cut out.
//!
//! Every ring is a closed body of its own with its faces outward, so that its volume
//! can be checked (`tests/mesh.rs`). Corners are doubled where the wood changes: no
//! color runs over a joint. Round surfaces are broken into enough flats to keep the
//! volume within 0.1 %; what is flat in the shop is exact here.
//!
//! The axes are the turner's: z up from the foot, x to the right and y away, seen by
//! someone who stands in front. Directions round the axis count from the front to the
//! right, so that the rings unroll from left to right as they are seen from outside.

use crate::design::{Between, MadeOf, StackRing};
use crate::draw::Color;
use crate::draw::palette::{BLACK, WHITE};
use crate::plan::base::BasePlan;
use crate::plan::rings::Made;
use crate::plan::rings::RingInStack;
use crate::plan::stack::{Bore, StackPlan};
use crate::trade::ring::{Segment, half_angle_rad};
use crate::trade::shape::Wall;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, TAU};
use std::ops::Range;

/// What is shown of a vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// The turned wall; else the blank as it is glued.
    pub finished: bool,
    /// Whether the quarter in front is cut out.
    pub cut_open: bool,
}

/// Triangles and lines over shared corners.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// x, y and z of each corner, millimeters.
    pub positions: Vec<f32>,
    /// The surface's direction at each corner, of length 1.
    pub normals: Vec<f32>,
    /// Red, green and blue of each corner: the color of its wood.
    pub colors: Vec<u8>,
    /// Three corners for each triangle, counterclockwise seen from outside.
    pub triangles: Vec<u32>,
    /// Two corners for each line: joints and edges.
    pub lines: Vec<u32>,
    /// Which of `triangles` belong to each ring, from the foot up.
    pub rings: Vec<Range<usize>>,
}

/// How finely round surfaces are broken into flats.
#[derive(Clone, Copy, Debug)]
struct Fineness {
    /// How far a straight line between two cuts may pass the wall's curve.
    flatness_mm: f64,
    /// How much of the wall between two cuts the straight lines may win or lose. Where
    /// outside and inside run side by side, both err the same way and little is lost.
    loss: f64,
    /// Flats round a full circle.
    round_steps: f64,
}

/// For the screen. A regular polygon of 144 corners on a circle is short of its area by
/// (2π/144)²/6 = 0.03 %; 0.05 mm is far below what a screen shows.
const FINE: Fineness = Fineness {
    flatness_mm: 0.05,
    loss: 5e-4,
    round_steps: 144.0,
};

/// A vessel's mesh. Empty where its points make no curve.
pub fn mesh(plan: &StackPlan, look: Look) -> Mesh {
    made(plan, look, FINE)
}

/// The turned wall with as few flats as a picture of a hand's width on paper needs: none
/// wider than a millimeter or two, and nowhere more than a 120th of its size off.
pub fn mesh_for_paper(plan: &StackPlan) -> Mesh {
    let reach = plan
        .rings
        .iter()
        .map(|ring| ring.reach_mm)
        .fold(1.0, f64::max);
    let look = Look {
        finished: true,
        cut_open: false,
    };
    let coarse = Fineness {
        flatness_mm: reach / 120.0,
        loss: f64::MAX,
        round_steps: 48.0,
    };
    made(plan, look, coarse)
}

fn made(plan: &StackPlan, look: Look, fineness: Fineness) -> Mesh {
    let vessel = &plan.vessel;
    let mut mesh = Mesh::default();
    let Some(wall) = &plan.wall else {
        return mesh;
    };
    let profile = look.finished.then(|| Profile::of(wall, plan, fineness));
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let start = mesh.triangles.len();
        if let Some(profile) = &profile {
            turned(&mut mesh, ring, planned, profile, look.cut_open);
        } else {
            let is_here = |base: &&BasePlan| match planned.made {
                Made::Plies => true,
                _ => base.around.place == Some(place),
            };
            let base = plan.base.as_ref().filter(is_here);
            glued(&mut mesh, ring, planned, base, look.cut_open);
        }
        mesh.rings.push(start..mesh.triangles.len());
    }
    mesh
}

impl Mesh {
    /// The lowest and highest corner, and the farthest from the axis, millimeters.
    pub fn bounds(&self) -> Bounds {
        let mut corners = self.positions.chunks_exact(3).map(|corner| {
            let [x, y, z] = [corner[0], corner[1], corner[2]].map(f64::from);
            (z, x.hypot(y))
        });
        let Some((z, radius)) = corners.next() else {
            return Bounds::default();
        };
        let first = Bounds {
            bottom_mm: z,
            top_mm: z,
            radius_mm: radius,
        };
        corners.fold(first, |bounds, (z, radius)| Bounds {
            bottom_mm: bounds.bottom_mm.min(z),
            top_mm: bounds.top_mm.max(z),
            radius_mm: bounds.radius_mm.max(radius),
        })
    }

    fn corner(&mut self, at: [f64; 3], normal: [f64; 3], color: Color) -> u32 {
        let index = (self.positions.len() / 3) as u32;
        // Corners that meet are the same bits, but for the sines of half turns.
        let clean = |value: f64| {
            if value.abs() < 1e-9 {
                0.0
            } else {
                value as f32
            }
        };
        self.positions.extend(at.map(clean));
        self.normals.extend(normal.map(|part| part as f32));
        self.colors.extend([color.r, color.g, color.b]);
        index
    }

    /// A triangle, unless two of its corners meet.
    fn triangle(&mut self, corners: [u32; 3]) {
        let at = |corner: u32| {
            let start = corner as usize * 3;
            self.positions.get(start..start + 3)
        };
        let [a, b, c] = corners.map(at);
        if a != b && b != c && c != a {
            self.triangles.extend(corners);
        }
    }

    /// A flat polygon without dents, counterclockwise seen from outside.
    fn polygon(&mut self, corners: &[[f64; 3]], normal: [f64; 3], color: Color) -> Range<u32> {
        let start = (self.positions.len() / 3) as u32;
        for corner in corners {
            self.corner(*corner, normal, color);
        }
        let end = start + corners.len() as u32;
        for next in start + 1..end.saturating_sub(1) {
            self.triangle([start, next, next + 1]);
        }
        start..end
    }
}

/// How far a mesh reaches, millimeters.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bounds {
    /// Lowest height.
    pub bottom_mm: f64,
    /// Greatest height.
    pub top_mm: f64,
    /// Greatest distance from the axis.
    pub radius_mm: f64,
}

/// The place at a distance from the axis in a direction.
fn at(radius_mm: f64, direction: f64, z: f64) -> [f64; 3] {
    let (sine, cosine) = direction.sin_cos();
    [radius_mm * sine, -radius_mm * cosine, z]
}

const UP: [f64; 3] = [0.0, 0.0, 1.0];
const DOWN: [f64; 3] = [0.0, 0.0, -1.0];

/// The directions that are shown of a vessel with a quarter cut out.
const OPENED: [f64; 2] = [FRAC_PI_4, TAU - FRAC_PI_4];

/// A spacer of the same wood would not be seen: it is shown darker, or lighter
/// between dark woods.
fn spacer_color(planned: &RingInStack) -> Color {
    let wood = planned.color_of(0);
    let contrast = if wood.is_light() { BLACK } else { WHITE };
    wood.toward(contrast, 0.45)
}

/// The direction of a segment's middle.
fn segment_direction(ring: &StackRing, segment: u32) -> f64 {
    let half = half_angle_rad(ring.segment_count);
    half * (2.0 * f64::from(segment) + f64::from(ring.turn_half_segments))
}

/// The strips that fill a vessel's slots, for the shader, which tells of every point
/// whether it lies in one: twelve numbers for each set, or for each slot where their
/// bottoms differ. Height of the stack's middle, its lower and upper face, tangent of the
/// gauge's angle; half of a slot's level width, its bottom, the first one's direction,
/// from one to the next; red, green, blue; and nothing.
pub fn strips(plan: &StackPlan) -> Vec<f32> {
    let mut numbers = Vec::new();
    for own in plan.slot_sets.iter().flatten() {
        let color = own.color;
        let slots = &own.slots;
        let [low, high] = [own.rings.start(), own.rings.end()].map(|ring| plan.rings[*ring].span);
        let mut add = |bottom_mm: f64, first_rad: f64, step_rad: f64| {
            let places = [
                own.middle_mm,
                low.bottom_mm,
                high.top_mm,
                slots.gauge_rad.tan(),
                slots.half_width_mm(),
                bottom_mm,
                first_rad,
                step_rad,
            ];
            numbers.extend(places.map(|number| number as f32));
            let parts = [color.r, color.g, color.b, 0];
            numbers.extend(parts.map(|part| f32::from(part) / 255.0));
        };
        let first = own.bottoms_mm.first().copied().unwrap_or(0.0);
        if own
            .bottoms_mm
            .iter()
            .all(|bottom| (bottom - first).abs() < 1e-6)
        {
            add(first, slots.first_rad, slots.step_rad());
        } else {
            for (bottom, direction) in own.bottoms_mm.iter().zip(slots.directions()) {
                add(*bottom, direction, TAU);
            }
        }
    }
    numbers.truncate(MOST_STRIPS * 12);
    numbers
}

/// So many sets of numbers the shader takes: three places of four for each of them, of
/// the 224 that every WebGL2 has.
pub const MOST_STRIPS: usize = 64;

// The turned wall.

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
struct Profile {
    rows: Vec<Row>,
    fineness: Fineness,
}

/// Cuts nearer than this are not divided again.
const NEAREST_MM: f64 = 0.05;

/// A surface that turns by more between two cuts is a corner, and is shaded as one.
const CREASE: f64 = 0.45;

impl Profile {
    fn of(wall: &Wall, plan: &StackPlan, fineness: Fineness) -> Profile {
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
    let half = half_angle_rad(ring.segment_count);
    // Without a segment, nothing is known that a spacer could stand between.
    let spacer_mm = planned.segment.map_or(0.0, |_| planned.wanted.spacer_mm);
    let is_open = spacer_mm > 0.0 && ring.between == Between::Gap;
    let has_spacers = spacer_mm > 0.0 && ring.between == Between::Spacer;
    let mut parts = Vec::new();
    for segment in 0..ring.segment_count {
        let before = segment_direction(ring, segment) - half;
        // The same sum as the next segment begins with, so that they meet in the same bits.
        let after = segment_direction(ring, segment + 1) - half;
        let beside = spacer_mm / 2.0;
        let sides = [side(before, beside), side(after, -beside)];
        parts.push(part(sides, planned.color_of(segment), is_open));
        if has_spacers {
            let sides = [side(after, -beside), side(after, beside)];
            parts.push(part(sides, spacer_color(planned), false));
        }
    }
    parts
}

/// A ring's part of the turned wall.
fn turned(
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
        turned_part(mesh, rows, &part);
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

// The glued blank.

/// A ring as it is glued into the stack: its pieces with flat sides, as high as the
/// ring is once its faces are flattened. (The face allowance is gone by then: with it,
/// the rings would stand inside each other.) Its base is in it, where
/// it has one.
fn glued(
    mesh: &mut Mesh,
    ring: &StackRing,
    planned: &RingInStack,
    base: Option<&BasePlan>,
    is_cut: bool,
) {
    for body in bodies(ring, planned, base) {
        if !is_cut {
            prism(
                mesh,
                &body.outline,
                body.heights_mm,
                body.color,
                &body.seams,
            );
            continue;
        }
        // What is left of the circle is dented at the axis: its quarters are not.
        let quarter = |number: u32| OPENED[0] + FRAC_PI_2 * f64::from(number);
        for number in 0..3 {
            let [from, to] = [quarter(number), quarter(number + 1)];
            let piece = cut(&cut(&body.outline, from), to + PI);
            let (inner, open): (&[f64], &[f64]) = match number {
                0 => (&[to], &[from]),
                1 => (&[from, to], &[]),
                _ => (&[from], &[to]),
            };
            // A seam where the vessel is cut open is seen.
            let is_shut = |seam: &&f64| open.iter().all(|at| (*seam - at).sin().abs() > 1e-9);
            let shut = body.seams.iter().filter(is_shut);
            let seams: Vec<f64> = inner.iter().chain(shut).copied().collect();
            prism(mesh, &piece, body.heights_mm, body.color, &seams);
        }
    }
}

/// Where a piece stands, seen from above: counterclockwise.
type Outline = Vec<[f64; 2]>;

/// A piece between two level faces.
struct Body {
    outline: Outline,
    heights_mm: [f64; 2],
    color: Color,
    /// Directions of planes through the axis beyond which the same wood goes on.
    seams: Vec<f64>,
}

impl Body {
    fn has_height(&self) -> bool {
        self.heights_mm[1] - self.heights_mm[0] > 1e-6
    }
}

/// The pieces of a ring, and of the base that is let into it or stands in its place.
fn bodies(ring: &StackRing, planned: &RingInStack, base: Option<&BasePlan>) -> Vec<Body> {
    let [bottom, top] = [planned.span.bottom_mm, planned.span.top_mm];
    if planned.made == Made::Nothing {
        return Vec::new();
    }
    let is_ply = |_: &&BasePlan| planned.made == Made::Plies;
    if let Some(base) = base.filter(is_ply) {
        return layers(base, planned.reach_mm, [bottom, top]);
    }
    let Some(base) = base.filter(|base| base.is_set_in() && planned.segment.is_some()) else {
        let whole = |(outline, color, _): (Outline, Color, f64)| Body {
            outline,
            heights_mm: [bottom, top],
            color,
            seams: Vec::new(),
        };
        return outlines(ring, planned).into_iter().map(whole).collect();
    };
    let seat = (bottom + base.seat_mm()).min(top);
    let mut levels = vec![([seat, top], base.mortise_mm.unwrap_or(0.0) / 2.0)];
    if let Some(through_mm) = base.through_mm {
        levels.push(([bottom, seat], through_mm / 2.0));
    }
    let mut bodies = Vec::new();
    for (outline, color, half) in outlines(ring, planned) {
        for (heights_mm, radius_mm) in &levels {
            for (outline, seams) in bored(&outline, half, *radius_mm) {
                bodies.push(Body {
                    outline,
                    heights_mm: *heights_mm,
                    color,
                    seams,
                });
            }
        }
    }
    bodies.extend(layers(base, base.disc_mm / 2.0, [seat, top]));
    bodies.retain(Body::has_height);
    bodies
}

/// What lies in a base, from one height up to another at most.
fn layers(base: &BasePlan, radius_mm: f64, [bottom, top]: [f64; 2]) -> Vec<Body> {
    let mut from = bottom;
    let mut bodies = Vec::new();
    for (thickness_mm, color) in &base.layers {
        let to = (from + thickness_mm).min(top);
        bodies.push(Body {
            outline: round(radius_mm),
            heights_mm: [from, to],
            color: *color,
            seams: Vec::new(),
        });
        from = to;
    }
    bodies.retain(Body::has_height);
    bodies
}

/// A circle as flats.
fn round(radius_mm: f64) -> Outline {
    let step = TAU / FINE.round_steps;
    (0..FINE.round_steps as u32)
        .map(|corner| beside(radius_mm, 0.0, f64::from(corner) * step))
        .collect()
}

/// What a round hole leaves of a ring's piece that reaches so far to both sides of its
/// middle: parts without dents, each with the seams to its neighbors.
fn bored(outline: &[[f64; 2]], half: f64, radius_mm: f64) -> Vec<(Outline, Vec<f64>)> {
    let middle = outline.iter().fold([0.0, 0.0], |sum, corner| {
        [sum[0] + corner[0], sum[1] + corner[1]]
    });
    let middle = middle[0].atan2(-middle[1]);
    let count = (2.0 * half / TAU * FINE.round_steps).ceil().max(1.0) as u32;
    let step = 2.0 * half / f64::from(count);
    let parts = (0..count).map(|part| {
        let [from, to] = [part, part + 1].map(|it| middle - half + f64::from(it) * step);
        let mut kept = outline.to_vec();
        let mut seams = Vec::new();
        // The piece's own sides are no seams.
        if part > 0 {
            kept = cut(&kept, from);
            seams.push(from);
        }
        if part + 1 < count {
            kept = cut(&kept, to + PI);
            seams.push(to);
        }
        // A quarter turn back from a chord's middle, beyond it is outward.
        let (sine, cosine) = f64::midpoint(from, to).sin_cos();
        let chord_mm = radius_mm * (step / 2.0).cos();
        let outward = |[x, y]: [f64; 2]| x * sine - y * cosine - chord_mm;
        (kept_where(&kept, outward), seams)
    });
    parts.filter(|(kept, _)| kept.len() > 2).collect()
}

/// The pieces of a ring, and how far each reaches to both sides of its middle; 0 for a
/// spacer, which is narrow.
fn outlines(ring: &StackRing, planned: &RingInStack) -> Vec<(Outline, Color, f64)> {
    let Some(segment) = &planned.segment else {
        return vec![(round(planned.reach_mm), planned.color_of(0), PI)];
    };
    let half = half_angle_rad(ring.segment_count);
    let has_spacers = ring.between == Between::Spacer && planned.wanted.spacer_mm > 0.0;
    let mut outlines = Vec::new();
    for number in 0..ring.segment_count {
        let direction = segment_direction(ring, number);
        let outline = segment_outline(segment, direction);
        outlines.push((outline, planned.color_of(number), half));
        if has_spacers {
            let outline = spacer_outline(segment, planned.wanted.spacer_mm, direction + half);
            outlines.push((outline, spacer_color(planned), 0.0));
        }
    }
    outlines
}

/// A place by its distance along a direction and aside from it, to the right of someone
/// who looks at the axis.
fn beside(along_mm: f64, aside_mm: f64, direction: f64) -> [f64; 2] {
    let (sine, cosine) = direction.sin_cos();
    [
        along_mm * sine + aside_mm * cosine,
        -along_mm * cosine + aside_mm * sine,
    ]
}

fn segment_outline(segment: &Segment, direction: f64) -> Outline {
    let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
    let (short, long) = (
        segment.short_edge_mm / 2.0,
        segment.outside.long_edge_mm / 2.0,
    );
    let mut corners = vec![(inside, -short), (outside, -long), (outside, long)];
    if short > 1e-9 {
        corners.push((inside, short));
    }
    placed(&corners, direction)
}

fn spacer_outline(segment: &Segment, spacer_mm: f64, direction: f64) -> Outline {
    let (hole, half) = (segment.smallest_hole_mm / 2.0, spacer_mm / 2.0);
    let start = (hole * hole - half * half).max(0.0).sqrt();
    let end = start + segment.spacer_length_mm;
    placed(
        &[(start, -half), (end, -half), (end, half), (start, half)],
        direction,
    )
}

fn placed(corners: &[(f64, f64)], direction: f64) -> Outline {
    let place = |&(along, aside): &(f64, f64)| beside(along, aside, direction);
    corners.iter().map(place).collect()
}

/// How far a place lies beyond a plane through the axis, toward growing directions.
fn beyond([x, y]: [f64; 2], direction: f64) -> f64 {
    let (sine, cosine) = direction.sin_cos();
    x * cosine + y * sine
}

/// What of an outline lies beyond a plane through the axis.
fn cut(outline: &[[f64; 2]], direction: f64) -> Outline {
    kept_where(outline, |place| beyond(place, direction))
}

/// What of an outline lies on the side of a line where a measure of the distance from it
/// is above 0 (Sutherland and Hodgman, Reentrant polygon clipping, Communications of the
/// ACM 17, 1974).
fn kept_where(outline: &[[f64; 2]], measure: impl Fn([f64; 2]) -> f64) -> Outline {
    let mut kept = Outline::new();
    for (place, to) in outline.iter().enumerate() {
        let from = &outline[(place + outline.len() - 1) % outline.len()];
        let (before, after) = (measure(*from), measure(*to));
        if (before > 1e-9 && after < -1e-9) || (before < -1e-9 && after > 1e-9) {
            let share = before / (before - after);
            let between = |axis: usize| from[axis] + (to[axis] - from[axis]) * share;
            kept.push([between(0), between(1)]);
        }
        if after >= -1e-9 {
            kept.push(*to);
        }
    }
    kept
}

/// Sides that turn by less are parts of a round one (the sine of the turn).
const ROUND_BEND: f64 = 0.06;

/// A piece with level faces and upright sides, but for sides that lie on a seam: a plane
/// through the axis, beyond which the piece goes on.
fn prism(
    mesh: &mut Mesh,
    outline: &[[f64; 2]],
    [bottom, top]: [f64; 2],
    color: Color,
    seams: &[f64],
) {
    let area: f64 = (0..outline.len())
        .map(|place| (outline[place], outline[(place + 1) % outline.len()]))
        .map(|([ax, ay], [bx, by])| (ax * by - ay * bx) / 2.0)
        .sum();
    if area < 1e-9 {
        return;
    }
    let is_seam = |edge: &[usize; 2]| {
        seams.iter().any(|direction| {
            edge.iter()
                .all(|place| beyond(outline[*place], *direction).abs() < 1e-7)
        })
    };
    let level = |z: f64| outline.iter().map(move |[x, y]| [*x, *y, z]);
    let upper: Vec<_> = level(top).collect();
    let lower: Vec<_> = level(bottom).rev().collect();
    let face = mesh.polygon(&upper, UP, color);
    let edges: Vec<[usize; 2]> = (0..outline.len())
        .map(|place| [place, (place + 1) % outline.len()])
        .filter(|edge| !is_seam(edge))
        .collect();
    for [from, to] in &edges {
        mesh.lines
            .extend([face.start + *from as u32, face.start + *to as u32]);
    }
    mesh.polygon(&lower, DOWN, color);
    for [from, to] in edges {
        let ([ax, ay], [bx, by]) = (outline[from], outline[to]);
        let length = (bx - ax).hypot(by - ay);
        if length < 1e-9 {
            continue;
        }
        let normal = [(by - ay) / length, (ax - bx) / length, 0.0];
        let side = [
            [ax, ay, bottom],
            [bx, by, bottom],
            [bx, by, top],
            [ax, ay, top],
        ];
        let corners = mesh.polygon(&side, normal, color);
        mesh.lines.extend([corners.start, corners.start + 1]);
        // The flats that stand for a round disc have no edges between them.
        let [px, py] = outline[(from + outline.len() - 1) % outline.len()];
        let before = (ax - px).hypot(ay - py);
        let bend = (ax - px) * (by - ay) - (ay - py) * (bx - ax);
        if bend.abs() > ROUND_BEND * before * length {
            mesh.lines.extend([corners.start, corners.start + 3]);
        }
    }
}
