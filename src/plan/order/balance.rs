//! Where the mass of a design's glued rings lies against the axis.

use crate::design::{Design, MadeOf, StackRing, Vessel};
use crate::plan::rings::{RingInStack, Rings};
use crate::trade::lathe::{Balance, Trapezoid};
use std::f64::consts::TAU;

/// Where the mass of a glued ring lies, each segment of its own wood. Nothing when a wood
/// has no figure. Spacers stand evenly round and pull nowhere; they are left out.
pub fn ring_balance(
    design: &Design,
    vessel: &Vessel,
    ring: &StackRing,
    planned: &RingInStack,
) -> Option<Balance> {
    let density = |segment: u32| {
        crate::plan::woods::named(design, vessel.woods.get(ring.wood_of(segment))?)?.density_kg_m3()
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
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let rings = vessel.rings.iter().zip(&plan.rings);
    rings
        .skip(from)
        .take(to.saturating_sub(from))
        .try_fold(Balance::default(), |sum, (ring, planned)| {
            Some(sum.and(ring_balance(design, vessel, ring, planned)?))
        })
}
