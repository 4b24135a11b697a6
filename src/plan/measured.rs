//! Rings that are glued already: their faces as measured, and how they stand.

use crate::design::trouble::{Reason, Trouble};
use crate::design::{StackRing, Vessel};
use crate::trade::ring::RingError;
use crate::trade::room::{Face, GluedRing, Room, Stack, circle_radius_mm, hole_radius_mm};

/// Both faces of a glued ring; what was not measured is `planned` (radii of the true
/// circle and hole). Nothing when something is neither, or the ring is planned only.
pub fn faces(ring: &StackRing, planned: Option<(f64, f64)>) -> Option<[Face; 2]> {
    let it = ring.measured.as_ref()?;
    let round = ring.round();
    let circle = |reading: f64| circle_radius_mm(reading, it.outside_across, &round);
    let hole = |reading: f64| hole_radius_mm(reading, it.inside_across, &round);
    let planned_circle = planned.map(|it| it.0);
    let planned_hole = planned.map(|it| it.1);
    let lower = Face {
        outside_mm: it.outside_diameter_mm.map(circle).or(planned_circle)?,
        hole_mm: it.inside_diameter_mm.map(hole).or(planned_hole)?,
    };
    let upper = Face {
        outside_mm: it
            .upper_outside_diameter_mm
            .map_or(lower.outside_mm, circle),
        hole_mm: it.upper_inside_diameter_mm.map_or(lower.hole_mm, hole),
    };
    Some([lower, upper])
}

/// Why no wall is left between two faces' circles, in the numbers that were read.
fn no_wall(ring: &StackRing, place: usize, faces: &[Face; 2]) -> Option<Trouble> {
    let it = ring.measured.as_ref()?;
    let is_bad = |face: &Face| face.hole_mm >= face.outside_mm;
    let at = faces.iter().position(is_bad)?;
    let (inside, outside, name) = if at == 1 {
        let name = "upper_inside_diameter_mm";
        (
            it.upper_inside_diameter_mm,
            it.upper_outside_diameter_mm,
            name,
        )
    } else {
        (None, None, "inside_diameter_mm")
    };
    let read = |upper: Option<f64>, lower: Option<f64>, radius_mm: f64| {
        upper.or(lower).unwrap_or(2.0 * radius_mm)
    };
    let reason = RingError::NoWall {
        inside_mm: read(inside, it.inside_diameter_mm, faces[at].hole_mm),
        outside_mm: read(outside, it.outside_diameter_mm, faces[at].outside_mm),
    };
    Some(Trouble::at(field(place, name), reason.into()))
}

fn field(place: usize, name: &str) -> String {
    format!("vessel.rings.{place}.measured.{name}")
}

/// The glued rings of a vessel as they stand, and what is missing. What was not measured
/// is `planned` (radii of circle and hole, by place). A ring that cannot be is left out of
/// the room but keeps its height, as a planned one does.
pub fn glued(
    vessel: &Vessel,
    planned: impl Fn(usize) -> Option<(f64, f64)>,
) -> (Stack, Vec<Trouble>) {
    let mut stack = Stack::default();
    let mut troubles = Vec::new();
    for (place, ring) in vessel.rings.iter().enumerate() {
        let bottom_mm = stack.height_mm;
        stack.height_mm += ring.height_now_mm();
        let Some(it) = &ring.measured else { continue };
        let Some(faces) = faces(ring, planned(place)) else {
            let name = if it.outside_diameter_mm.is_none() {
                "outside_diameter_mm"
            } else {
                "inside_diameter_mm"
            };
            troubles.push(Trouble::at(field(place, name), Reason::NotMeasured));
            continue;
        };
        if let Some(trouble) = no_wall(ring, place, &faces) {
            troubles.push(trouble);
            continue;
        }
        let [lower, upper] = faces;
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
