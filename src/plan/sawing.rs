//! What is to be looked at before a vessel's slots are sawn: what the blade does to the wall,
//! and what the hand and the saw can do.

use crate::design::{SlotSet, StackHeld, StripsShow};
use crate::plan::caution::{Caution, Placed, SlotCaution, ThroughCaution};
use crate::plan::inlay::{SetPlan, StripLayer, cross};
use crate::plan::on_saw::LEAST_BRIDGE_MM;
use crate::plan::rings::Rings;
use crate::trade::closing::HAIR_MM;
use crate::trade::layered::THIN_MM;
use crate::trade::spline::Layer;

/// A 10 in blade stands about 3 1/8 in above the table at most, and about 2 1/4 in tilted by
/// 45°, that is by the cosine less (common practice, no published source).
pub const HIGHEST_BLADE_MM: f64 = 79.375;

/// Most gauges swing no farther than 60° (common practice, no published source).
pub const STEEPEST_GAUGE_DEG: f64 = 60.0;

/// What to look at before sawing a vessel's slots, and after every change of its curve.
pub fn inspect(plan: &Rings, sets: &[Option<SetPlan>]) -> Vec<Placed> {
    let vessel = &plan.vessel;
    let mut found = Vec::new();
    for (place, (set, own)) in vessel.slot_sets.iter().zip(sets).enumerate() {
        let Some(own) = own else { continue };
        let mut cautions = set_cautions(plan, set, own);
        cautions.extend(shares_rings(sets, place));
        found.extend(cautions.into_iter().map(|caution| Placed {
            caution: Caution::Slots(place, caution),
            ring: None,
            height_mm: own.middle_mm,
        }));
    }
    found
}

/// The set that goes through some rings of this one, and not through the same. Rings that sets
/// share are one stack at the saw, and the blade goes the whole length of that: each set would
/// be sawn through all rings of both, farther than its strips are long.
pub fn shares_rings(sets: &[Option<SetPlan>], place: usize) -> Option<SlotCaution> {
    let sawn = |at: usize| {
        let own = sets.get(at)?.as_ref();
        own.filter(|own| own.is_open())
    };
    let own = sawn(place)?;
    let is_apart = |other: &SetPlan| other.rings != own.rings && cross(own, other);
    let other = (0..sets.len()).find(|at| sawn(*at).is_some_and(is_apart))?;
    Some(SlotCaution::SharesRings {
        other,
        is_above: sawn(other)?.rings.end() != own.rings.end(),
    })
}

/// What is to be said of the height of a blade that goes through the whole wall.
fn through_caution(own: &SetPlan) -> Option<ThroughCaution> {
    let (short_mm, past_mm) = (
        own.window.least_mm - own.blade_mm,
        own.blade_mm - own.window.most_mm(),
    );
    if short_mm > HAIR_MM {
        return Some(ThroughCaution::NotThrough { by_mm: short_mm });
    }
    (past_mm > HAIR_MM).then_some(ThroughCaution::TooDeep {
        by_mm: past_mm,
        of_discs: own.held_by == StackHeld::Discs,
    })
}

/// What is to be said of the height that the blade has.
fn blade_cautions(own: &SetPlan) -> Vec<SlotCaution> {
    if own.is_through() {
        return through_caution(own)
            .map(SlotCaution::Through)
            .into_iter()
            .collect();
    }
    let mut found = Vec::new();
    let inside_too = own.shows == StripsShow::InsideToo;
    if own.bridge_mm <= 0.0 {
        found.push(SlotCaution::BreaksThrough {
            by_mm: -own.bridge_mm,
        });
    } else if own.bridge_mm < LEAST_BRIDGE_MM - HAIR_MM {
        found.push(SlotCaution::ThinBridge {
            left_mm: own.bridge_mm,
            least_mm: LEAST_BRIDGE_MM,
        });
    }
    // How much too far out, or too near to the axis, the worst slot's bottom is.
    let (mut past_outside, mut past_inside, mut past_hidden) = (0.0_f64, 0.0_f64, 0.0_f64);
    let mut past_all = 0.0_f64;
    for cut in &own.cuts {
        let bottoms = own.stack.bottoms(&own.slots, cut.table_mm);
        past_outside = past_outside.max(cut.bottom_mm - bottoms.outside_mm);
        past_all = past_all.max(cut.bottom_mm - bottoms.nowhere_mm);
        if let Some(inside) = bottoms.inside_mm {
            past_inside = past_inside.max(cut.bottom_mm - inside);
            past_hidden = past_hidden.max(bottoms.hidden_mm - cut.bottom_mm);
        }
    }
    if own.shows == StripsShow::OutsidePartly {
        if past_all > 0.0 {
            found.push(SlotCaution::NothingShows { by_mm: past_all });
        }
    } else if !own.window.leaves_surface && past_outside > HAIR_MM {
        found.push(SlotCaution::TurnedAway {
            by_mm: past_outside,
        });
    }
    if inside_too && !own.window.leaves_surface && past_inside > HAIR_MM {
        found.push(SlotCaution::NotAllInside { by_mm: past_inside });
    } else if !inside_too && past_hidden > HAIR_MM {
        found.push(SlotCaution::Uncovered { by_mm: past_hidden });
    }
    found
}

/// No blade is as high: a slot that is through only there is through nowhere.
const NOWHERE_MM: f64 = 1e6;

/// The lowest ring of a set that has no hole, or in which the floor lies.
fn solid_ring(own: &SetPlan) -> Option<usize> {
    let floor_mm = own.stack.wall.iter().rev();
    let floor_mm = floor_mm
        .filter(|level| level.inside_mm <= 0.0)
        .map(|level| level.z_mm)
        .next();
    let is_solid = |layer: &Layer| {
        layer.hole.is_none() || floor_mm.is_some_and(|floor_mm| layer.from_mm < floor_mm + HAIR_MM)
    };
    let place = own.stack.layers.iter().position(is_solid)?;
    Some(own.rings.start() + place)
}

/// What keeps slots from going through the whole wall.
fn way_through(own: &SetPlan) -> Option<ThroughCaution> {
    if let Some(ring) = solid_ring(own) {
        return Some(ThroughCaution::NoHole { ring });
    }
    if own.window.least_mm > NOWHERE_MM {
        let is_tilted = own.slots.tilt_rad != 0.0;
        return Some(ThroughCaution::PastHole { is_tilted });
    }
    let is_closed = !own.is_open() && !own.window.leaves_surface;
    is_closed.then(|| ThroughCaution::NoWayThrough {
        least_mm: own.window.least_mm,
        most_mm: own.window.most_mm().max(0.0),
        of_discs: own.held_by == StackHeld::Discs,
    })
}

/// What is to be said of the heights that a set's blade may have.
pub fn window_caution(own: &SetPlan) -> Option<SlotCaution> {
    let through = own.is_through().then(|| way_through(own)).flatten();
    if let Some(caution) = through {
        Some(SlotCaution::Through(caution))
    } else if own.window.leaves_surface {
        Some(SlotCaution::LeavesSurface {
            is_tilted: own.slots.tilt_rad != 0.0,
        })
    } else if !own.is_open() {
        Some(SlotCaution::NoWindow {
            least_mm: own.window.least_mm.max(0.0),
            most_mm: own.window.most_mm().max(0.0),
            shows_inside: own.window.most_mm() < own.window.bridge_mm,
            is_partly: own.shows == StripsShow::OutsidePartly,
        })
    } else if !own.is_easily_set() {
        Some(SlotCaution::NarrowWindow {
            room_mm: own.window.room_mm(),
            is_partly: own.shows == StripsShow::OutsidePartly,
        })
    } else {
        None
    }
}

/// What is to be said of the layers of its strips.
fn layer_cautions(set: &SlotSet, own: &SetPlan) -> Vec<SlotCaution> {
    if set.layered().is_none() {
        return Vec::new();
    }
    let mut found = Vec::new();
    let (layers_mm, strip_mm) = (own.layers_mm(), own.strip_mm[0]);
    if (layers_mm - strip_mm).abs() > HAIR_MM {
        found.push(SlotCaution::LayersOff {
            layer: (own.layers.len() - 1) / 2,
            layers_mm,
            strip_mm,
        });
    }
    let thin = |(layer, it): (usize, &StripLayer)| {
        (it.thickness_mm < THIN_MM).then_some(SlotCaution::ThinLayer {
            layer,
            thickness_mm: it.thickness_mm,
        })
    };
    found.extend(own.layers.iter().enumerate().find_map(thin));
    found
}

fn set_cautions(plan: &Rings, set: &SlotSet, own: &SetPlan) -> Vec<SlotCaution> {
    let vessel = &plan.vessel;
    let mut found = Vec::new();
    found.extend(window_caution(own));
    if own.is_open() || set.blade_mm.is_some() {
        // Of a height that nobody typed and none should use nothing is told.
        found.extend(blade_cautions(own));
    }
    if own.held_by == StackHeld::Discs {
        if own.is_open() && own.between_mm < LEAST_BRIDGE_MM - HAIR_MM {
            found.push(SlotCaution::Through(ThroughCaution::LooseBetween {
                left_mm: own.between_mm,
                least_mm: LEAST_BRIDGE_MM,
            }));
        }
    } else if own.between_mm <= 0.0 {
        found.push(SlotCaution::Overlap {
            count: own.slots.count,
        });
    }
    let shortest = plan.rings[own.rings.clone()]
        .iter()
        .filter_map(|ring| ring.segment)
        .map(|segment| segment.outside.long_edge_mm)
        .fold(f64::MAX, f64::min);
    if set.kerf_mm >= shortest {
        found.push(SlotCaution::KerfPastSegment {
            kerf_mm: set.kerf_mm,
            segment_mm: shortest,
        });
    }
    if set.fit_mm >= set.kerf_mm {
        found.push(SlotCaution::NoStrip {
            fit_mm: set.fit_mm,
            kerf_mm: set.kerf_mm,
        });
    }
    if own.rings.start() == own.rings.end() {
        found.push(SlotCaution::OneRing {
            height_mm: own.stack.height_mm(),
        });
    }
    let shop = &plan.design.shop;
    let own_deg = shop.gauge_most_deg;
    if set.gauge_deg > own_deg.unwrap_or(STEEPEST_GAUGE_DEG) {
        found.push(SlotCaution::SteepGauge {
            gauge_rad: set.gauge_deg.to_radians(),
            own_deg,
        });
    } else if set.gauge_deg == 0.0 {
        found.push(SlotCaution::Upright);
    }
    let upright = own.slots.tilt_rad.cos();
    let own_mm = shop.blade_most_mm.map(|it| it * upright);
    if own.blade_mm > own_mm.unwrap_or(HIGHEST_BLADE_MM * upright) + HAIR_MM {
        found.push(SlotCaution::HighBlade {
            blade_mm: own.blade_mm,
            is_tilted: own.slots.tilt_rad != 0.0,
            own_mm,
        });
    }
    if set.woods().iter().any(|wood| *wood >= vessel.woods.len()) {
        found.push(SlotCaution::NoWood);
    }
    found.extend(layer_cautions(set, own));
    found
}
