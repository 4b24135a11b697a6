//! Small pictures of the ways into the page: a starting shape or an example as it would stand,
//! rings that are glued already, boards.

use super::view::cells;
use crate::design::{Design, example, link};
use crate::draw::{Color, Drawing, Fill, Ink, Path, Point, point, polygon, rectangle};
use crate::edit::first_slots::{self, Begun};
use crate::edit::start;
use crate::plan::plan;
use crate::plan::rings::{flats_mm, gaps_of};
use crate::plan::stack::StackPlan;
use std::f64::consts::FRAC_PI_2;

/// Room for lines at the edges.
const EDGE_MM: f64 = 0.5;

/// Looks at a ring's outline between two heights; enough for a picture of a thumb's size.
const LOOKS: u32 = 3;

/// The picture of a way in by its word; empty for an unknown one.
pub fn way(word: &str, width_mm: f64, height_mm: f64) -> Drawing {
    let mut drawing = Drawing::new(width_mm, height_mm, "");
    let example = example::ALL.iter().find(|it| it.word == word);
    if word == "boards" {
        boards(&mut drawing);
    } else if let Some((design, _)) = example.and_then(|it| link::decode(it.link).ok()) {
        seen(&mut drawing, &design);
    } else if word == "glued" {
        glued(&mut drawing);
    } else if let Some(design) = begun(word) {
        seen(&mut drawing, &design);
    }
    drawing
}

/// Nothing for a word that is no starting shape's.
fn begun(word: &str) -> Option<Design> {
    let start = start::ALL.iter().find(|it| it.word == word)?;
    let design = Design::default();
    let diameter = design.ring.outside_diameter_mm;
    let height = start.height_for_diameter * diameter;
    Some(start::begin(&design, word, diameter, height))
}

/// A piece from the side, each segment that is seen in its wood.
fn seen(drawing: &mut Drawing, design: &Design) {
    let plan = plan(design);
    let Some((stack, wall)) = plan.stack().and_then(|it| Some((it, it.wall.as_ref()?))) else {
        return;
    };
    let high = wall.outside.height_mm();
    let place = fit(drawing, wall.outside.largest_radius(0.0, high), high);
    let rings = stack.vessel.rings.iter().zip(&stack.rings).enumerate();
    for (at, (ring, planned)) in rings {
        let (bottom, top) = (planned.span.bottom_mm, planned.span.top_mm.min(high));
        if top <= bottom {
            continue;
        }
        let side = |direction: f64, look: u32| {
            let height = bottom + (top - bottom) * f64::from(look) / f64::from(LOOKS);
            place(wall.outside.radius_at(height) * direction.sin(), height)
        };
        let air =
            gaps_of(ring, planned).map_or(0.0, |it| it.half_rad(planned.span.outside_radius_mm));
        for segment_cell in cells(ring) {
            let (segment, start, end) = segment_cell;
            let (start, end) = ((start + air).max(-FRAC_PI_2), (end - air).min(FRAC_PI_2));
            if end - start < 1e-9 {
                continue;
            }
            let up = (0..=LOOKS).map(|look| side(start, look));
            let down = (0..=LOOKS).rev().map(|look| side(end, look));
            let corners: Vec<Point> = up.chain(down).collect();
            cell(drawing, &corners, planned.color_of(segment));
            let seen = ([-FRAC_PI_2, FRAC_PI_2], [bottom, top]);
            let outline = polygon(&corners);
            let surface = (at, false);
            super::stripe::over_cell(
                drawing,
                stack,
                surface,
                segment_cell,
                seen,
                outline,
                |z, at| place(wall.outside.radius_at(z) * at.sin(), z),
            );
        }
    }
    super::inlay::over_front(drawing, stack, |height, direction| {
        place(wall.outside.radius_at(height) * direction.sin(), height)
    });
}

/// The piece with slots begun in this way.
pub fn slots(design: &Design, begun: Begun, width_mm: f64, height_mm: f64) -> Drawing {
    let mut drawing = Drawing::new(width_mm, height_mm, "");
    seen(&mut drawing, &first_slots::begin(design, begun));
    drawing
}

/// The rings of a bowl before they are turned, the topmost still to be put on.
fn glued(drawing: &mut Drawing) {
    let Some(design) = begun("closed") else {
        return;
    };
    let plan = plan(&design);
    let Some(stack) = plan.stack() else { return };
    let outside = |at: usize| stack.rings.get(at).map_or(0.0, |ring| flats_mm(ring).1);
    let most = (0..stack.rings.len()).map(outside).fold(0.0, f64::max);
    let (high, lift) = lifted(stack);
    let place = fit(drawing, most, high + lift);
    for (at, planned) in stack.rings.iter().enumerate() {
        let lift = if at + 1 == stack.rings.len() {
            lift
        } else {
            0.0
        };
        let (left, right) = (-outside(at), outside(at));
        let (bottom, top) = (planned.span.bottom_mm + lift, planned.span.top_mm + lift);
        // Four of its flat sides are seen.
        for side in 0..4 {
            let x = |side: u32| left + (right - left) * [0.0, 0.16, 0.5, 0.84, 1.0][side as usize];
            let corners = [
                (side, bottom),
                (side, top),
                (side + 1, top),
                (side + 1, bottom),
            ];
            let corners = corners.map(|(side, height)| place(x(side), height));
            cell(drawing, &corners, planned.color_of(side));
        }
    }
}

/// The height of the rings, and how far the topmost is held above the others.
fn lifted(stack: &StackPlan) -> (f64, f64) {
    let last = stack.rings.last();
    let high = last.map_or(1.0, |ring| ring.span.top_mm);
    (
        high,
        last.map_or(0.0, |ring| ring.span.top_mm - ring.span.bottom_mm),
    )
}

fn cell(drawing: &mut Drawing, corners: &[Point], color: Color) {
    drawing.add(Path::line(polygon(corners), Ink::Thin).filled(Fill::Wood(color)));
}

/// Three boards, one on the other.
fn boards(drawing: &mut Drawing) {
    let (width, height) = (drawing.width_mm, drawing.height_mm);
    let names = ["Wenge", "Maple, sugar", "Padauk, African"];
    for (at, name) in names.iter().enumerate() {
        let color = crate::plan::woods::color(&Design::default(), name);
        let top = height * (0.16 + 0.25 * at as f64);
        let left = width * (0.04 + 0.05 * (at % 2) as f64);
        let board = rectangle(point(left, top), width * 0.87, height * 0.18);
        drawing.add(Path::line(board, Ink::Thin).filled(Fill::Wood(color)));
    }
}

/// Where a place beside the axis, and a height above the foot, come on the drawing.
fn fit(drawing: &Drawing, radius_mm: f64, high_mm: f64) -> impl Fn(f64, f64) -> Point + use<> {
    let (width, height) = (
        drawing.width_mm - 2.0 * EDGE_MM,
        drawing.height_mm - 2.0 * EDGE_MM,
    );
    let scale = (width / (2.0 * radius_mm).max(1.0)).min(height / high_mm.max(1.0));
    let foot = EDGE_MM + f64::midpoint(height, scale * high_mm);
    move |beside: f64, above: f64| {
        point(EDGE_MM + width / 2.0 + beside * scale, foot - above * scale)
    }
}
