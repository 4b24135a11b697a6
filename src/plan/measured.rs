//! The rings of a design that are glued already, as they stand on each other.

use crate::design::trouble::{Reason, Trouble};
use crate::design::{Design, MeasuredRing, Vessel};
use crate::plan::stack::StackPlan;
use crate::trade::ring::RingError;
use crate::trade::room::{Face, GluedRing, Room, Stack, circle_radius_mm, hole_radius_mm};

/// Both faces of a measured ring; what is empty is `planned` (radii of the true circle
/// and hole). Nothing when something is neither.
pub fn faces(ring: &MeasuredRing, planned: Option<(f64, f64)>) -> Option<[Face; 2]> {
    let circle = |reading: f64| circle_radius_mm(reading, ring.outside_across, ring.segment_count);
    let hole = |reading: f64| hole_radius_mm(reading, ring.inside_across, ring.segment_count);
    let lower = Face {
        outside_mm: ring
            .outside_diameter_mm
            .map(circle)
            .or(planned.map(|it| it.0))?,
        hole_mm: ring
            .inside_diameter_mm
            .map(hole)
            .or(planned.map(|it| it.1))?,
    };
    let upper = Face {
        outside_mm: ring
            .upper_outside_diameter_mm
            .map_or(lower.outside_mm, circle),
        hole_mm: ring.upper_inside_diameter_mm.map_or(lower.hole_mm, hole),
    };
    Some([lower, upper])
}

/// Whether anything of a ring was measured.
pub fn is_measured(ring: &MeasuredRing) -> bool {
    let readings = [
        ring.outside_diameter_mm,
        ring.inside_diameter_mm,
        ring.height_mm,
        ring.upper_outside_diameter_mm,
        ring.upper_inside_diameter_mm,
    ];
    readings.iter().any(Option::is_some)
}

/// The stack of a design's measured rings, and what is missing. What was not measured is
/// taken from the plan. A ring that cannot be is left out of the room but keeps its height.
pub fn glued(design: &Design, planned: Option<&StackPlan>) -> (Stack, Vec<Trouble>) {
    let mut stack = Stack::default();
    let mut troubles = Vec::new();
    for (place, ring) in design.measured.iter().enumerate() {
        let trouble = |name: &str, reason| Trouble::at(format!("measured.{place}.{name}"), reason);
        let plan = planned.and_then(|planned| planned.rings.get(place));
        let Some(height_mm) = ring.height_mm.or(plan.map(|plan| plan.wanted.height_mm)) else {
            // Without it nothing above has a place.
            troubles.push(trouble("height_mm", Reason::NotMeasured));
            break;
        };
        let bottom_mm = stack.height_mm;
        stack.height_mm += height_mm;
        let Some([lower, upper]) = faces(ring, plan.map(|plan| plan.as_cut_mm)) else {
            let name = if ring.outside_diameter_mm.is_none() && plan.is_none() {
                "outside_diameter_mm"
            } else {
                "inside_diameter_mm"
            };
            troubles.push(trouble(name, Reason::NotMeasured));
            continue;
        };
        let bad = [
            (&lower, "inside_diameter_mm"),
            (&upper, "upper_inside_diameter_mm"),
        ]
        .into_iter()
        .find(|(face, _)| face.hole_mm >= face.outside_mm);
        if let Some((face, name)) = bad {
            let reason = RingError::NoWall {
                inside_mm: 2.0 * face.hole_mm,
                outside_mm: 2.0 * face.outside_mm,
            }
            .into();
            troubles.push(trouble(name, reason));
            continue;
        }
        stack.rings.push(GluedRing {
            place,
            bottom_mm,
            top_mm: stack.height_mm,
            lower,
            upper,
        });
    }
    (stack, troubles)
}

/// The room for a vessel's wall.
pub fn room_of(stack: &Stack, vessel: &Vessel) -> Room {
    let height_mm = vessel.points.last().map_or(0.0, |point| point.height_mm);
    Room::new(stack, vessel.foot_wall_mm, vessel.rim_wall_mm, height_mm)
}
