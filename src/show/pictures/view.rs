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
/// for the rings' names, above for handles, below for its diameter and a finger on it.
fn margins_mm(width_mm: f64) -> [f64; 4] {
    let right = if has_names(width_mm) { 36.0 } else { 8.0 };
    [HEIGHT_LINE_MM + 5.5, right, 8.0, DIAMETER_LINE_MM + 6.5]
}

/// A row that a finger hits: 24 px (WCAG 2.2, 2.5.8, target size, minimum).
pub const FINGER_ROW_MM: f64 = 24.0 * crate::draw::MM_PER_PX;

/// A frame of a millimeter round the rows.
const FRAME_MM: f64 = 1.0;

/// Where each ring's row lies on the outside unrolled, from the foot up.
#[derive(Clone, Debug, PartialEq)]
pub struct Rows {
    /// A real height, and where it lies on the drawing.
    edges: Vec<(f64, f64)>,
}

impl Rows {
    /// Rows as high as their rings in proportion, in a drawing so high; but none less than
    /// `least_mm`, as far as there is room.
    pub fn new(rings: &[StackRing], height_mm: f64, least_mm: f64) -> Rows {
        let inner_mm = (height_mm - 2.0 * FRAME_MM).max(0.0);
        let least_mm = least_mm.min(inner_mm / rings.len().max(1) as f64);
        let mut scale = f64::INFINITY;
        // Each row that is held at the least leaves the others less, which may hold more.
        for _ in 0..=rings.len() {
            let free = |ring: &&StackRing| ring.height_mm * scale >= least_mm;
            let total: f64 = rings.iter().filter(free).map(|it| it.height_mm).sum();
            let held = rings.len() - rings.iter().filter(free).count();
            scale = (inner_mm - held as f64 * least_mm) / total.max(1e-9);
        }
        let mut edges = vec![(0.0, height_mm - FRAME_MM)];
        let mut edge = edges[0];
        for ring in rings {
            edge.0 += ring.height_mm;
            edge.1 -= (ring.height_mm * scale).max(least_mm);
            edges.push(edge);
        }
        Rows { edges }
    }

    /// The height of a drawing in which a finger hits every row.
    pub fn room_mm(rings: &[StackRing]) -> f64 {
        rings.len() as f64 * FINGER_ROW_MM + 2.0 * FRAME_MM
    }

    /// Top and bottom of a ring's row.
    pub fn of(&self, place: usize) -> (f64, f64) {
        (self.edges[place + 1].1, self.edges[place].1)
    }

    /// Where a height of the vessel lies.
    pub fn y(&self, height_mm: f64) -> f64 {
        let last = self.edges.len().saturating_sub(2);
        let above = self
            .edges
            .iter()
            .skip(1)
            .position(|edge| edge.0 > height_mm);
        let place = above.unwrap_or(last).min(last);
        let [(low, from), (high, to)] = [
            self.edges[place],
            self.edges[(place + 1).min(self.edges.len() - 1)],
        ];
        from + (to - from) * (height_mm - low) / (high - low).max(1e-9)
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_high_enough_for_a_finger_and_else_in_proportion() {
        let rings: Vec<StackRing> = [20.0, 0.6, 20.0, 5.0, 40.0]
            .map(|height_mm| StackRing::plain(height_mm, 12))
            .to_vec();
        let tall = |height_mm: f64, least_mm: f64| {
            let rows = Rows::new(&rings, height_mm, least_mm);
            let spans: Vec<(f64, f64)> = (0..rings.len()).map(|place| rows.of(place)).collect();
            // From the foot's edge to the rim's, each on the one below.
            assert!((spans[0].1 - (height_mm - 1.0)).abs() < 1e-9);
            assert!((spans[4].0 - 1.0).abs() < 1e-9, "{spans:?}");
            assert!(
                spans
                    .windows(2)
                    .all(|two| (two[0].0 - two[1].1).abs() < 1e-9)
            );
            let mut bottom = 0.0;
            for (ring, (top, foot)) in rings.iter().zip(&spans) {
                let middle = bottom + ring.height_mm / 2.0;
                assert!((rows.y(middle) - f64::midpoint(*top, *foot)).abs() < 1e-9);
                bottom += ring.height_mm;
            }
            spans
                .iter()
                .map(|(top, foot)| foot - top)
                .collect::<Vec<f64>>()
        };
        let near = |found: &[f64], wanted: [f64; 5]| {
            let all = found.iter().zip(wanted);
            assert!(
                all.clone().all(|(it, wanted)| (it - wanted).abs() < 1e-9),
                "{found:?}"
            );
        };
        near(&tall(173.2, 0.0), [40.0, 1.2, 40.0, 10.0, 80.0]);
        // Two are held at 6; the rest is left in proportion.
        near(&tall(54.0, 6.0), [10.0, 6.0, 10.0, 6.0, 20.0]);
        let least = tall(Rows::room_mm(&rings), FINGER_ROW_MM);
        near(&least, [FINGER_ROW_MM; 5]);
        // Without the room they share what there is.
        near(&tall(12.0, FINGER_ROW_MM), [2.0; 5]);
    }
}
