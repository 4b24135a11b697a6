//! The glued blank: each piece a prism with level faces.

use super::body::{FINE, Mesh, OPENED, spacer_color};
use super::striped::stripe;
use crate::design::{Between, StackRing};
use crate::draw::Color;
use crate::plan::base::BasePlan;
use crate::plan::rings::{Made, RingInStack};
use crate::plan::stack::StackPlan;
use crate::trade::ring::Segment;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A ring as it is glued into the stack: its pieces with flat sides, as high as the
/// ring is once its faces are flattened. (The face allowance is gone by then: with it,
/// the rings would stand inside each other.) Its base is in it, where
/// it has one.
pub(super) fn glued(
    mesh: &mut Mesh,
    ring: &StackRing,
    planned: &RingInStack,
    base: Option<&BasePlan>,
    is_cut: bool,
) {
    for body in bodies(ring, planned, base) {
        let since = mesh.triangles.len();
        glued_body(mesh, &body, is_cut);
        if let Some(segment) = body.segment {
            let direction = planned.round.middle_rad(segment);
            stripe(mesh, since, planned, segment, direction);
        }
    }
}

fn glued_body(mesh: &mut Mesh, body: &Body, is_cut: bool) {
    if !is_cut {
        prism(
            mesh,
            &body.outline,
            body.heights_mm,
            body.color,
            &body.seams,
        );
        return;
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

/// Where a piece stands, seen from above: counterclockwise.
type Outline = Vec<[f64; 2]>;

/// A piece between two level faces.
struct Body {
    outline: Outline,
    heights_mm: [f64; 2],
    color: Color,
    /// The segment that it is of, where it is of one.
    segment: Option<u32>,
    /// Directions of planes through the axis beyond which the same wood goes on.
    seams: Vec<f64>,
}

/// The pieces of a ring, and of the base that is let into it or stands in its place.
fn bodies(ring: &StackRing, planned: &RingInStack, base: Option<&BasePlan>) -> Vec<Body> {
    let [bottom, top] = [planned.span.bottom_mm, planned.span.top_mm];
    if planned.made == Made::Nothing {
        return Vec::new();
    }
    let layers = base.map_or_else(Vec::new, |base| layers(planned, base));
    let Some(base) = base.filter(|_| !layers.is_empty()) else {
        let whole = |it: Seen| Body {
            outline: it.outline,
            heights_mm: [bottom, top],
            color: it.color,
            segment: it.segment,
            seams: Vec::new(),
        };
        return outlines(ring, planned).into_iter().map(whole).collect();
    };
    let mut bodies = Vec::new();
    if planned.made != Made::Plies {
        let seat = seat_mm(planned, base);
        let mut levels = vec![([seat, top], base.mortise_mm.unwrap_or(0.0) / 2.0)];
        if let Some(through_mm) = base.through_mm {
            levels.push(([bottom, seat], through_mm / 2.0));
        }
        levels.retain(|(heights_mm, _)| has_height(*heights_mm));
        for it in outlines(ring, planned) {
            for (heights_mm, radius_mm) in &levels {
                for (outline, seams) in bored(&it.outline, it.half, *radius_mm) {
                    bodies.push(Body {
                        outline,
                        heights_mm: *heights_mm,
                        color: it.color,
                        segment: it.segment,
                        seams,
                    });
                }
            }
        }
    }
    bodies.extend(layers.iter().map(|layer| Body {
        outline: round(layer.radius_mm),
        heights_mm: layer.heights_mm,
        color: layer.color,
        segment: None,
        seams: Vec::new(),
    }));
    bodies
}

/// The base, where this ring holds it or is it.
pub(super) fn base_in(plan: &StackPlan, place: usize) -> Option<&BasePlan> {
    let is_plies = plan.rings[place].made == Made::Plies;
    let base = plan.base.as_ref();
    base.filter(|base| is_plies || base.around.place == Some(place))
}

/// A layer of a base: round, of one wood.
pub(super) struct Layer {
    pub(super) radius_mm: f64,
    pub(super) heights_mm: [f64; 2],
    pub(super) color: Color,
}

/// What lies in a ring of its base; nothing where it is not made.
pub(super) fn layers(planned: &RingInStack, base: &BasePlan) -> Vec<Layer> {
    let [bottom, top] = [planned.span.bottom_mm, planned.span.top_mm];
    let (radius_mm, mut from) = if planned.made == Made::Plies {
        (planned.reach_mm, bottom)
    } else if base.is_set_in() && planned.segment.is_some() {
        (base.disc_mm / 2.0, seat_mm(planned, base))
    } else {
        return Vec::new();
    };
    let mut layers = Vec::new();
    for (thickness_mm, color) in &base.layers {
        let to = (from + thickness_mm).min(top);
        if has_height([from, to]) {
            layers.push(Layer {
                radius_mm,
                heights_mm: [from, to],
                color: *color,
            });
        }
        from = to;
    }
    layers
}

/// The height of its lower face in the stack.
fn seat_mm(planned: &RingInStack, base: &BasePlan) -> f64 {
    (planned.span.bottom_mm + base.seat_mm()).min(planned.span.top_mm)
}

fn has_height([bottom, top]: [f64; 2]) -> bool {
    top - bottom > 1e-6
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

/// A piece of a ring, seen from above.
struct Seen {
    outline: Outline,
    color: Color,
    /// How far it reaches to both sides of its middle; 0 for a spacer, which is narrow.
    half: f64,
    segment: Option<u32>,
}

/// The pieces of a ring.
fn outlines(ring: &StackRing, planned: &RingInStack) -> Vec<Seen> {
    if planned.segment.is_none() {
        return vec![Seen {
            outline: round(planned.reach_mm),
            color: planned.color_of(0),
            half: PI,
            segment: None,
        }];
    }
    let has_spacers = ring.between == Between::Spacer && planned.wanted.spacer_mm > 0.0;
    let mut outlines = Vec::new();
    for number in 0..ring.segment_count {
        let Some(segment) = planned.segment_at(number) else {
            continue;
        };
        let direction = planned.round.middle_rad(number);
        let half = planned.round.half_angle_rad(number);
        let outline = segment_outline(segment, direction);
        outlines.push(Seen {
            outline,
            color: planned.color_of(number),
            half,
            segment: Some(number),
        });
        if has_spacers {
            let outline = spacer_outline(segment, planned.wanted.spacer_mm, direction + half);
            outlines.push(Seen {
                outline,
                color: spacer_color(planned),
                half: 0.0,
                segment: None,
            });
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

const UP: [f64; 3] = [0.0, 0.0, 1.0];
const DOWN: [f64; 3] = [0.0, 0.0, -1.0];

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
