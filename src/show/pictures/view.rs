//! How a vessel lies on its drawings.

use crate::design::{MadeOf, StackRing};
use crate::draw::{Point, point};
use crate::plan::stack::StackPlan;
use std::f64::consts::{PI, TAU};

/// How a drawing maps real millimeters: handed back by the page while a handle moves,
/// so that the scale rests.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Where the axis stands.
    pub axis_mm: f64,
    /// Height of the foot on the drawing.
    pub foot_mm: f64,
    /// Drawn millimeters for one real one.
    pub scale: f64,
}

/// Whether a drawing so wide has room for the rings' names beside the vessel: on a phone
/// it would be half as large (our own choice, no published source).
pub fn has_names(width_mm: f64) -> bool {
    width_mm >= 120.0
}

/// Room round a vessel on a drawing of this width: at the left for its height, at the right
/// for the rings' names, above for handles, below for its diameter.
fn margins_mm(width_mm: f64) -> [f64; 4] {
    let right = if has_names(width_mm) { 36.0 } else { 8.0 };
    [HEIGHT_LINE_MM + 5.5, right, 8.0, DIAMETER_LINE_MM + 3.5]
}

/// How far from the vessel the line with its height stands.
pub const HEIGHT_LINE_MM: f64 = 5.0;

/// How far below the foot the line with its diameter lies, past a finger on the lowest point.
pub const DIAMETER_LINE_MM: f64 = 9.0;

/// Half the width, and the height, of what a drawing of a vessel has to hold.
fn extent_mm(plan: &StackPlan) -> (f64, f64) {
    let vessel = &plan.vessel;
    let reach = plan
        .rings
        .iter()
        .map(|ring| ring.reach_mm)
        .chain(vessel.points.iter().map(|point| point.radius_mm))
        .fold(1.0, f64::max);
    let stack: f64 = vessel.rings.iter().map(|ring| ring.height_mm).sum();
    let rim = vessel.points.last().map_or(1.0, |point| point.height_mm);
    (reach, rim.max(stack).max(1.0))
}

impl View {
    /// The view that fits a vessel on a drawing of this size.
    pub fn fit(plan: &StackPlan, width_mm: f64, height_mm: f64) -> View {
        let (reach, top) = extent_mm(plan);
        let [left, right, above, below] = margins_mm(width_mm);
        let scale = ((width_mm - left - right).max(10.0) / (2.0 * reach))
            .min((height_mm - above - below).max(10.0) / top);
        View {
            axis_mm: left + (width_mm - left - right).max(10.0) / 2.0,
            foot_mm: height_mm - below - ((height_mm - above - below) - top * scale).max(0.0) / 2.0,
            scale,
        }
    }

    /// The height that a drawing of this width needs to show a vessel as wide as it can.
    pub fn room_mm(plan: &StackPlan, width_mm: f64) -> f64 {
        let (reach, top) = extent_mm(plan);
        let [left, right, above, below] = margins_mm(width_mm);
        above + below + top * (width_mm - left - right).max(10.0) / (2.0 * reach)
    }

    /// From the numbers that the page holds.
    pub fn from_numbers(numbers: &[f64]) -> Option<View> {
        match *numbers {
            [axis_mm, foot_mm, scale] if scale > 0.0 => Some(View {
                axis_mm,
                foot_mm,
                scale,
            }),
            _ => None,
        }
    }

    /// The numbers for the page to hold.
    pub fn numbers(&self) -> [f64; 3] {
        [self.axis_mm, self.foot_mm, self.scale]
    }

    /// A place on the drawing by real height and distance from the axis.
    pub fn place(&self, height_mm: f64, radius_mm: f64) -> Point {
        point(
            self.axis_mm + radius_mm * self.scale,
            self.foot_mm - height_mm * self.scale,
        )
    }

    /// Real height and radius of a place on the drawing.
    pub fn real(&self, at: Point) -> (f64, f64) {
        (
            (self.foot_mm - at.y) / self.scale,
            (at.x - self.axis_mm).abs() / self.scale,
        )
    }
}

/// The segments of a ring and the directions that they span, radians from the front,
/// each within −π..π or reaching past it; a disc is one all round.
pub fn cells(ring: &StackRing) -> Vec<(u32, f64, f64)> {
    if ring.made_of == MadeOf::Disc {
        return vec![(0, -PI, PI)];
    }
    let round = ring.round();
    let cells: Vec<(u32, f64, f64)> = (0..round.count())
        .map(|segment| {
            let middle = (round.middle_rad(segment) + PI).rem_euclid(TAU) - PI;
            let half = round.half_angle_rad(segment);
            (segment, middle - half, middle + half)
        })
        .collect();
    cells
        .into_iter()
        .flat_map(|(segment, start, end)| {
            // What reaches round the back appears on both sides.
            let wrapped = if end > PI {
                Some((segment, start - TAU, end - TAU))
            } else if start < -PI {
                Some((segment, start + TAU, end + TAU))
            } else {
                None
            };
            std::iter::once((segment, start, end)).chain(wrapped)
        })
        .collect()
}
