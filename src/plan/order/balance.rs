//! Where the mass of a design's glued rings lies against the axis.

use crate::design::MadeOf;
use crate::plan::rings::{Rings, When};
use crate::plan::woods;
use crate::trade::lathe::{Balance, Trapezoid};

/// Where the mass of a glued ring lies, each segment of its own wood. Nothing when a wood
/// has no figure. Spacers stand evenly round and pull nowhere; they are left out.
pub fn ring_balance(plan: &Rings, place: usize) -> Option<Balance> {
    let (ring, planned) = (plan.vessel.rings.get(place)?, plan.rings.get(place)?);
    let density = |segment: u32| {
        // Striped segments weigh alike.
        if planned.stripes.is_some() {
            return plan.density_kg_m3(place, When::Sawn);
        }
        let name = plan.vessel.woods.get(ring.wood_of(segment))?;
        woods::named(&plan.design, name)?.density_kg_m3()
    };
    if planned.segment.is_none() || ring.made_of != MadeOf::Segments {
        return Some(Balance {
            mass_kg: density(0)? * planned.blank_mm3 * 1e-9,
            ..Balance::default()
        });
    }
    (0..ring.segment_count).try_fold(Balance::default(), |sum, place| {
        let segment = planned.segment_at(place)?;
        let shape = Trapezoid {
            long_mm: segment.outside.long_edge_mm,
            short_mm: segment.short_edge_mm,
            width_mm: segment.strip_width_mm,
            inside_mm: segment.inside_apothem_mm,
        };
        let mass_kg = density(place)? * shape.area_mm2() * segment.strip_height_mm * 1e-9;
        Some(sum.and(shape.balance(mass_kg, planned.round.middle_rad(place))))
    })
}

/// Where the mass of the glued rings `from..to` lies together.
pub fn balance(plan: &Rings, from: usize, to: usize) -> Option<Balance> {
    let mut places = from..to.min(plan.rings.len());
    places.try_fold(Balance::default(), |sum, place| {
        Some(sum.and(ring_balance(plan, place)?))
    })
}
