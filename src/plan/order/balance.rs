//! Where the mass of a design's glued rings lies against the axis.

use crate::design::MadeOf;
use crate::plan::rings::Rings;
use crate::plan::woods;
use crate::trade::lathe::{Balance, Trapezoid};
use std::f64::consts::TAU;

/// Where the mass of a glued ring lies, each segment of its own wood. Nothing when a wood
/// has no figure. Spacers stand evenly round and pull nowhere; they are left out.
pub fn ring_balance(plan: &Rings, place: usize) -> Option<Balance> {
    let (ring, planned) = (plan.vessel.rings.get(place)?, plan.rings.get(place)?);
    let density = |segment: u32| {
        // Striped segments weigh alike.
        if let Some(stripes) = &planned.stripes {
            return plan.density_kg_m3(place, &stripes.sawn_shares);
        }
        let name = plan.vessel.woods.get(ring.wood_of(segment))?;
        woods::named(&plan.design, name)?.density_kg_m3()
    };
    let Some(segment) = planned.segment.filter(|_| ring.made_of == MadeOf::Segments) else {
        return Some(Balance {
            mass_kg: density(0)? * planned.blank_mm3 * 1e-9,
            ..Balance::default()
        });
    };
    let shape = Trapezoid {
        long_mm: segment.outside.long_edge_mm,
        short_mm: segment.short_edge_mm,
        width_mm: segment.strip_width_mm,
        inside_mm: segment.inside_apothem_mm,
    };
    let volume_mm3 = shape.area_mm2() * segment.strip_height_mm;
    let step = TAU / f64::from(ring.segment_count);
    let turn = f64::from(ring.turn_half_segments) * step / 2.0;
    (0..ring.segment_count).try_fold(Balance::default(), |sum, place| {
        let mass_kg = density(place)? * volume_mm3 * 1e-9;
        Some(sum.and(shape.balance(mass_kg, f64::from(place) * step + turn)))
    })
}

/// Where the mass of the glued rings `from..to` lies together.
pub fn balance(plan: &Rings, from: usize, to: usize) -> Option<Balance> {
    let mut places = from..to.min(plan.rings.len());
    places.try_fold(Balance::default(), |sum, place| {
        Some(sum.and(ring_balance(plan, place)?))
    })
}
