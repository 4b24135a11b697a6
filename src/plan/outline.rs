//! A curve drawn in the middle of what glued rings allow, for a turner who has none of his
//! own yet.

use crate::design::{PointChoice, Vessel};
use crate::plan::caution::{NARROW_GLUE_MM, TIGHT_RING_MM};
use crate::trade::room::{self, GluedRing, Room, Stack};
use crate::trade::shape::{Curve, Point};
use crate::units::length::{Unit, round, steps_down};

/// An outline with its walls. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    points: Vec<PointChoice>,
    wall_mm: f64,
    floor_mm: f64,
}

/// What sums of lengths may leave.
const HAIR_MM: f64 = 1e-6;

impl Drawn {
    /// Thickness of its wall, millimeters.
    pub fn wall_mm(&self) -> f64 {
        self.wall_mm
    }

    /// Its outline.
    pub fn points(&self) -> &[PointChoice] {
        &self.points
    }

    /// Takes it as a vessel's.
    pub fn put_into(self, vessel: &mut Vessel) {
        vessel.points = self.points;
        (vessel.foot_wall_mm, vessel.rim_wall_mm) = (self.wall_mm, self.wall_mm);
        vessel.floor_mm = self.floor_mm;
    }
}

/// Points as the room's formulas have them.
pub fn shape_points(points: &[PointChoice]) -> Vec<Point> {
    let points = points.iter();
    points
        .map(|point| Point {
            height_mm: point.height_mm,
            radius_mm: point.radius_mm,
            is_corner: point.is_corner,
        })
        .collect()
}

/// The room's points as a design has them.
pub fn choices(points: &[Point]) -> Vec<PointChoice> {
    let points = points.iter();
    points
        .map(|point| PointChoice {
            height_mm: point.height_mm,
            radius_mm: point.radius_mm,
            is_corner: point.is_corner,
        })
        .collect()
}

/// Of the thickest even wall that the rings allow, a drawn curve takes this much at most, so
/// that it can still be pulled about (our own choice, no published source).
const SHARE_OF_WALL: f64 = 0.7;

/// A curve in the middle of what the rings allow; nothing where they leave no room.
pub fn drawn_in(stack: &Stack, unit: Unit) -> Option<Drawn> {
    let wall_mm = wall_drawn_mm(stack, unit)?;
    let room = Room::new(stack, wall_mm, wall_mm, stack.height_mm);
    let middle = room::middle(stack, &room)?;
    Some(Drawn {
        points: choices(&on_the_tape(&middle, &room, unit).unwrap_or(middle)),
        wall_mm,
        floor_mm: floor_drawn_mm(stack, unit),
    })
}

/// The same along the outside of the rings with the thickest wall, in the tape's finest steps,
/// that it can have and something to spare; nothing where that is no thicker than the one in the middle.
pub fn along_outside(stack: &Stack, unit: Unit) -> Option<Drawn> {
    let drawn_mm = wall_drawn_mm(stack, unit)?;
    let room = Room::new(stack, drawn_mm, drawn_mm, stack.height_mm);
    let most_mm = room.thickest_even_wall()?.1.min(usual_wall_mm(stack));
    let step_mm = unit.finest().snap_step_mm();
    let steps = steps_down(most_mm, step_mm);
    let walls = (0..MOST_WALLS).map(|fewer| (steps - f64::from(fewer)) * step_mm);
    let mut walls = walls.take_while(|wall_mm| *wall_mm > drawn_mm + HAIR_MM);
    walls.find_map(|wall_mm| {
        let room = Room::new(stack, wall_mm, wall_mm, stack.height_mm);
        let points = room::outermost(stack, &room)?;
        let points = on_the_tape(&points, &room, unit).unwrap_or(points);
        (left_mm(&points, &room)? >= EASED_MM).then(|| Drawn {
            points: choices(&points),
            wall_mm,
            floor_mm: floor_drawn_mm(stack, unit),
        })
    })
}

/// What such a curve has to spare, millimeters: without it a hand that is off by a hair is
/// through the wall (our own choice, no published source).
const EASED_MM: f64 = 0.4;

/// So many walls are tried, each a step of the tape thinner than the one before (our own
/// choice, no published source).
const MOST_WALLS: u32 = 8;

/// What a curve has to spare at its tightest place.
fn left_mm(points: &[Point], room: &Room) -> Option<f64> {
    Some(room.tightest(&Curve::through(points)?)?.left_mm)
}

/// A drawn curve through points that the tape has, where that costs little of what is to
/// spare.
fn on_the_tape(points: &[Point], room: &Room, unit: Unit) -> Option<Vec<Point>> {
    let last = points.len() - 1;
    let snapped: Vec<Point> = (0..)
        .zip(points)
        .map(|(place, point)| Point {
            // The rim stays where the rings end.
            height_mm: if place == last {
                point.height_mm
            } else {
                unit.snapped(point.height_mm)
            },
            radius_mm: unit.snapped(2.0 * point.radius_mm) / 2.0,
            ..*point
        })
        .collect();
    (left_mm(&snapped, room)? >= SHARE_KEPT * left_mm(points, room)?).then_some(snapped)
}

/// So much of what was to spare must be left (our own choice, no published source).
const SHARE_KEPT: f64 = 0.75;

/// Thickness of the floor that a curve is drawn with.
pub fn floor_drawn_mm(stack: &Stack, unit: Unit) -> f64 {
    let solid = solid_to_mm(stack);
    let floor = unit.snapped((stack.height_mm * 0.12).clamp(4.0, 12.0));
    let floor_mm = if solid > 0.0 { floor.min(solid) } else { floor };
    floor_mm.min(round(stack.height_mm / 2.0)).max(0.01)
}

/// Whether the rings have room for a wall, so that a curve is drawn in them.
pub fn has_wall(stack: &Stack, unit: Unit) -> bool {
    wall_drawn_mm(stack, unit).is_some()
}

/// Thickness of a new vessel's wall of these rings' diameter.
fn usual_wall_mm(stack: &Stack) -> f64 {
    let rings = stack.rings.iter();
    let outsides = rings.map(|ring| ring.lower.outside_mm.max(ring.upper.outside_mm));
    (outsides.fold(0.0, f64::max) * 0.064).clamp(4.0, 10.0)
}

/// Thickness of the wall that a curve is drawn with; nothing where there is no room for one.
fn wall_drawn_mm(stack: &Stack, unit: Unit) -> Option<f64> {
    let usual = usual_wall_mm(stack);
    let open = Room::new(stack, usual, usual, stack.height_mm);
    let most = open.thickest_even_wall().map_or(usual, |(_, thickest)| {
        let share = thickest * SHARE_OF_WALL;
        // Rather less to pull about than joints with too little glue.
        if thickest >= NARROW_GLUE_MM + 2.0 * TIGHT_RING_MM {
            share.max(NARROW_GLUE_MM)
        } else {
            share
        }
    });
    let on_tape = unit.snapped(usual.min(most));
    let wall_mm = if on_tape <= most && on_tape >= unit.snap_step_mm() {
        on_tape
    } else {
        (most * 100.0).floor() / 100.0
    };
    (wall_mm >= 0.01).then_some(wall_mm)
}

/// Up to where from the foot the rings are solid.
pub fn solid_to_mm(stack: &Stack) -> f64 {
    let is_solid = |ring: &&GluedRing| ring.lower.hole_mm.max(ring.upper.hole_mm) <= 0.0;
    let solid = stack.rings.iter().take_while(is_solid);
    solid.last().map_or(0.0, |ring| ring.top_mm)
}
