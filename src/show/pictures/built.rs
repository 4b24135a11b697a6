//! What glued rings leave for the wall, over the half-section: how far in the outside may
//! come, where it is tightest, and the curve that is offered.

use super::view::View;
use crate::design::PointChoice;
use crate::draw::{Drawing, Ink, Path, Point, circle, polyline};
use crate::plan::built::Built;
use crate::plan::stack::StackPlan;
use crate::trade::room::{Room, Side};

/// Heights at which the least radius is drawn.
const STEPS: u32 = 160;

/// What glued rings say of a curve.
#[derive(Clone, Copy)]
pub struct Fit<'a> {
    /// The rings and their room.
    pub built: &'a Built,
    /// The curve that is offered, where there is one.
    pub nearest: Option<&'a [PointChoice]>,
}

/// Draws it over the cut half.
pub fn over_cut_half(drawing: &mut Drawing, view: &View, plan: &StackPlan, fit: &Fit) {
    let built = fit.built;
    if let Some(room) = &built.room {
        draw_least(drawing, view, room, built.stack.height_mm);
    }
    if let Some(points) = fit.nearest {
        let mut offered = plan.vessel.clone();
        offered.points = points.to_vec();
        if let Some(curve) = offered.curve() {
            let line: Vec<Point> = curve
                .samples(24)
                .into_iter()
                .map(|(height, radius)| view.place(height, radius))
                .collect();
            drawing.add(Path::line(polyline(&line), Ink::Held).named("nearest"));
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
