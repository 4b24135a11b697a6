//! What a finger touches on the piece in the turning view.

use super::body::Mesh;
use super::glued::{base_in, layers};
use crate::plan::rings::Made;
use crate::plan::stack::StackPlan;
use crate::show::thing::Thing;

/// The thing that is met first on a way from the eye.
pub fn touched(plan: &StackPlan, mesh: &Mesh, eye_mm: [f64; 3], way: [f64; 3]) -> Thing {
    let Some((place, at)) = mesh.met(eye_mm, way) else {
        return Thing::Nothing;
    };
    let planned = &plan.rings[place];
    let [x, y, z] = at;
    let layers = base_in(plan, place).map_or_else(Vec::new, |base| layers(planned, base));
    let in_base = layers.iter().any(|layer| {
        let [from, to] = layer.heights_mm;
        x.hypot(y) <= layer.radius_mm && z >= from - SKIN_MM && z <= to + SKIN_MM
    });
    if in_base {
        return Thing::Floor;
    }
    for (number, own) in plan.slot_sets.iter().enumerate() {
        let Some(own) = own.as_ref().filter(|own| own.rings.contains(&place)) else {
            continue;
        };
        let from_middle = [x, y, z - own.middle_mm];
        let mut cuts = own.cuts.iter();
        if cuts.any(|cut| own.slots.holds(cut, from_middle)) {
            return Thing::Set(number);
        }
    }
    if planned.made != Made::Segments {
        return Thing::Ring(place);
    }
    Thing::Segment(place, planned.round.segment_at(x.atan2(-y)))
}

/// What lies so near to a face lies on it, millimeters.
const SKIN_MM: f64 = 0.01;
