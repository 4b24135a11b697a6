//! The half-section of the rings that are glued, with the curve that is wanted in them and
//! what they leave for it.

use super::view::View;
use crate::design::{Design, PointChoice, Vessel};
use crate::draw::palette::WHITE;
use crate::draw::{
    Color, Drawing, Fill, Ink, Path, Point, Tone, Words, circle, point, polygon, polyline,
};
use crate::plan::built::{Built, solid_to_mm};
use crate::plan::woods;
use crate::show::words;
use crate::trade::room::{GluedRing, Room, Side};
use crate::trade::shape::Wall;

/// Heights at which the least radius is drawn.
const STEPS: u32 = 160;

/// The view that fits the rings and the curve on a drawing of this size: the axis stands
/// at the left.
pub fn fit(built: &Built, width_mm: f64, height_mm: f64) -> View {
    let points = built.vessel.as_ref().map_or(&[][..], |it| &it.points);
    let rings = built.stack.rings.iter();
    let reach = rings
        .map(|ring| ring.lower.outside_mm.max(ring.upper.outside_mm))
        .chain(points.iter().map(|point| point.radius_mm))
        .fold(1.0, f64::max);
    let rim = points.last().map_or(0.0, |point| point.height_mm);
    let top = built.stack.height_mm.max(rim).max(1.0);
    let (left, right, level) = (8.0, 8.0, 8.0);
    let (wide, high) = (
        (width_mm - left - right).max(10.0),
        (height_mm - 2.0 * level).max(10.0),
    );
    let scale = (wide / reach).min(high / top);
    View {
        axis_mm: left + (wide - reach * scale) / 2.0,
        foot_mm: height_mm - level - (high - top * scale) / 2.0,
        scale,
    }
}

/// Draws it; `picked` is a ring's place, `nearest` the curve that is offered.
pub fn draw(
    design: &Design,
    built: &Built,
    nearest: Option<&[PointChoice]>,
    size_mm: (f64, f64),
    view: &View,
    picked: Option<usize>,
) -> Drawing {
    let mut drawing = Drawing::new(size_mm.0, size_mm.1, words::page("drawing.built"));
    let name = built.vessel.as_ref().and_then(|it| it.woods.first());
    let color = woods::color(design, name.map_or("", String::as_str));
    for ring in &built.stack.rings {
        draw_ring(&mut drawing, view, ring, color.toward(WHITE, 0.5), picked);
    }
    if let (Some(vessel), Some(room)) = (&built.vessel, &built.room) {
        let floor_mm = crate::plan::base::floor_mm(design, vessel).min(solid_to_mm(&built.stack));
        draw_wall(&mut drawing, view, vessel, color, floor_mm);
        draw_least(&mut drawing, view, room, built.stack.height_mm);
        if let Some(points) = nearest {
            let offered = Vessel {
                points: points.to_vec(),
                ..vessel.clone()
            };
            if let Some(curve) = offered.curve() {
                let line: Vec<Point> = curve
                    .samples(24)
                    .into_iter()
                    .map(|(height, radius)| view.place(height, radius))
                    .collect();
                drawing.add(Path::line(polyline(&line), Ink::Held).named("nearest"));
            }
        }
    }
    if let Some((tightest, curve)) = built.tightest.zip(built.curve.as_ref()) {
        let radius = curve.radius_at(tightest.height_mm);
        let wall = built
            .room
            .as_ref()
            .map_or(0.0, |room| room.wall_at(tightest.height_mm));
        let inward = match tightest.side {
            Side::Outside => 0.0,
            Side::Inside => wall,
        };
        let at = view.place(tightest.height_mm, (radius - inward).max(0.0));
        let ink = if tightest.left_mm < 0.0 {
            Ink::Caution
        } else {
            Ink::Thin
        };
        drawing.add(Path::line(circle(at, 2.2), ink).named("tightest"));
    }
    for ring in &built.stack.rings {
        number_ring(&mut drawing, view, ring, picked == Some(ring.place));
    }
    let (top, foot) = (view.place(built.stack.height_mm, 0.0), view.place(0.0, 0.0));
    let axis = [point(top.x, top.y - 4.0), point(foot.x, foot.y + 4.0)];
    drawing.line(axis[0], axis[1], Ink::Center);
    drawing
}

/// A ring's section as it is glued, its number in it.
fn draw_ring(
    drawing: &mut Drawing,
    view: &View,
    ring: &GluedRing,
    color: Color,
    picked: Option<usize>,
) {
    let corners = [
        view.place(ring.bottom_mm, ring.lower.hole_mm),
        view.place(ring.bottom_mm, ring.lower.outside_mm),
        view.place(ring.top_mm, ring.upper.outside_mm),
        view.place(ring.top_mm, ring.upper.hole_mm),
    ];
    let is_picked = picked == Some(ring.place);
    let ink = if is_picked { Ink::Held } else { Ink::Thin };
    drawing.add(
        Path::line(polygon(&corners), ink)
            .filled(Fill::Wood(color))
            .named(format!("ring-{}", ring.place)),
    );
}

/// A ring's number at the axis, where there is room for it.
fn number_ring(drawing: &mut Drawing, view: &View, ring: &GluedRing, is_picked: bool) {
    let high = (ring.top_mm - ring.bottom_mm) * view.scale;
    if high > 3.6 {
        let tone = if is_picked { Tone::Held } else { Tone::Quiet };
        let middle = f64::midpoint(ring.bottom_mm, ring.top_mm);
        let number = Words::new(
            point(view.axis_mm + 1.2, view.place(middle, 0.0).y),
            (ring.place + 1).to_string(),
            2.3,
        );
        drawing.add(number.level_middle().toned(tone));
    }
}

/// The wanted wall: its outside and inside as they will be turned, down to the floor where
/// the lowest rings are solid.
fn draw_wall(drawing: &mut Drawing, view: &View, vessel: &Vessel, color: Color, floor_mm: f64) {
    let Some(outside) = vessel.curve() else {
        return;
    };
    let floor_mm = floor_mm.min(outside.height_mm());
    let wall = Wall::inside(outside, vessel.foot_wall_mm, vessel.rim_wall_mm, floor_mm);
    let place = |line: Vec<(f64, f64)>| -> Vec<Point> {
        line.into_iter()
            .map(|(height, radius)| view.place(height, radius))
            .collect()
    };
    let outside = place(wall.outside.samples(24));
    let mut around = outside.clone();
    let mut inside = place(wall.inside_samples(72));
    if floor_mm > 0.0 {
        inside.insert(0, view.place(floor_mm, 0.0));
        inside.insert(0, view.place(0.0, 0.0));
    }
    around.extend(inside.iter().rev());
    drawing.add(Path::area(polygon(&around), Fill::Wood(color)).named("wall"));
    drawing.add(Path::line(polyline(&inside), Ink::Object).named("inside"));
    drawing.add(Path::line(polyline(&outside), Ink::Object).named("outside"));
}

/// How far in the outside may come before the wall is gone.
fn draw_least(drawing: &mut Drawing, view: &View, room: &Room, top_mm: f64) {
    let line: Vec<Point> = (0..=STEPS)
        .map(|step| top_mm * f64::from(step) / f64::from(STEPS))
        .map(|height| (height, room.least_radius(height)))
        .filter(|(_, radius)| *radius > 0.0)
        .map(|(height, radius)| view.place(height, radius))
        .collect();
    if line.len() > 1 {
        drawing.add(Path::line(polyline(&line), Ink::Hidden).named("least"));
    }
}
