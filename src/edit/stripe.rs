//! What a hand does to striped segments.

use super::start::neat;
use super::vessel::with_vessel;
use crate::design::field::{key, most_of};
use crate::design::{Design, Laid, MadeOf, StackRing, StripeChoice, StripeLayer, Vessel};
use crate::plan::plan;
use crate::trade::ring::half_angle_rad;
use crate::trade::stripe::meeting;
use crate::units::kept::Kept as _;
use serde_json::Value;

/// Repeats that are begun with, at the least, from joint to joint.
const FIRST_REPEATS: f64 = 2.0;

/// Stripes a ring's segments, or lays them otherwise where they are striped: in its own
/// first wood and in another, the one in hand if it can be.
pub fn stripe(design: &Design, place: usize, wood: usize, laid: &str) -> Option<Design> {
    let laid = Laid::read(&Value::from(laid))?;
    let joint_mm = joint_mm(design, place).unwrap_or(0.0);
    Some(with_vessel(design, |vessel| {
        let Some(ring) = vessel
            .rings
            .get(place)
            .filter(|it| it.made_of == MadeOf::Segments)
        else {
            return;
        };
        if ring.stripes.is_none() && joint_mm > 0.0 {
            let first = ring.wood_of(0);
            let second = another(vessel, first, wood);
            // A quarter of an inch, or 6 mm, where that repeats often enough.
            let usual = if design.unit.is_inch() { 6.35 } else { 6.0 };
            let repeat = 2.0 * joint_mm * std::f64::consts::FRAC_1_SQRT_2 / FIRST_REPEATS;
            let thickness = neat((repeat / 2.0).min(usual), design).max(0.1);
            let of = StripeChoice::of([first as u32, second as u32], thickness);
            vessel.rings[place].stripes = Some(of);
        }
        if let Some(stripes) = &mut vessel.rings[place].stripes {
            stripes.laid = laid;
        }
    }))
}

/// The wood in hand, if it is another than this; else one that is, added where there is none.
fn another(vessel: &mut Vessel, first: usize, wood: usize) -> usize {
    let is_other = |it: &usize| *it != first && *it < vessel.woods.len();
    let there = std::iter::once(wood)
        .chain(0..vessel.woods.len())
        .find(is_other);
    there.unwrap_or_else(|| {
        let dark = "Walnut, black";
        let is_dark = vessel.woods.iter().any(|it| it == dark);
        let other = if is_dark { "Maple, sugar" } else { dark };
        vessel.woods.push(other.to_owned());
        vessel.woods.len() - 1
    })
}

/// From the middle of a segment to its joint along the flat, on the finished outside.
fn joint_mm(design: &Design, place: usize) -> Option<f64> {
    let stack = plan(design).into_stack()?;
    let planned = stack.rings.get(place)?;
    let wall = stack.wall.as_ref()?;
    let radius = wall
        .outside
        .radius_at(planned.middle_mm().min(wall.outside.height_mm()));
    Some(radius * half_angle_rad(planned.wanted.segment_count).sin())
}

/// Takes the nearest slant at which whole repeats go from joint to joint; where a repeat is
/// longer than that, layers so thin that one does.
pub fn meet(design: &Design, place: usize) -> Design {
    let Some(across_mm) = joint_mm(design, place).map(|it| 2.0 * it) else {
        return design.clone();
    };
    with_stripes(design, place, |stripes| {
        let repeat: f64 = stripes.layers.iter().map(|it| it.thickness_mm).sum();
        if repeat <= 0.0 || across_mm <= 0.0 {
            return;
        }
        if let Some((angle, _)) = meeting(repeat, across_mm, stripes.slant_deg.to_radians()) {
            // Finer than any saw is set.
            stripes.slant_deg = (angle.to_degrees() * 1000.0).round() / 1000.0;
            return;
        }
        if stripes.slant_deg < 1.0 {
            stripes.slant_deg = 45.0;
        }
        let scale = across_mm * stripes.slant_deg.to_radians().sin() / repeat;
        for layer in &mut stripes.layers {
            layer.thickness_mm = (layer.thickness_mm * scale).max(0.1);
        }
    })
}

/// Adds a layer, of the next wood, as thick as the last.
pub fn add_layer(design: &Design, place: usize) -> Design {
    let count = design.vessel.as_ref().map_or(1, |it| it.woods.len()).max(1);
    with_stripes(design, place, |stripes| {
        let last = stripes.layers.last().cloned();
        if let Some(last) = last.filter(|_| stripes.layers.len() < most_of(key::STRIPE_LAYERS)) {
            stripes.layers.push(StripeLayer {
                wood: (last.wood + 1) % count as u32,
                ..last
            });
        }
    })
}

/// Removes the last layer; one stays.
pub fn remove_layer(design: &Design, place: usize) -> Design {
    with_stripes(design, place, |stripes| {
        if stripes.layers.len() > 1 {
            stripes.layers.pop();
        }
    })
}

/// Plain segments again, in the pattern that they had.
pub fn plain(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if let Some(ring) = vessel.rings.get_mut(place) {
            ring.stripes = None;
        }
    })
}

/// Makes the ring above the mirror image of a striped one: together they are diamonds.
pub fn mirror(design: &Design, place: usize) -> Design {
    let joint_mm = joint_mm(design, place).unwrap_or(0.0);
    with_vessel(design, |vessel| {
        let Some(ring) = vessel.rings.get(place).cloned() else {
            return;
        };
        let Some(stripes) = ring.striped().cloned() else {
            return;
        };
        let Some(above) = vessel.rings.get_mut(place.saturating_add(1)) else {
            return;
        };
        if above.made_of != MadeOf::Segments || above.is_glued() {
            return;
        }
        above.segment_count = ring.segment_count;
        above.turn_half_segments =
            ring.turn_half_segments + u32::from(may_stagger(&stripes, joint_mm));
        above.turn_half_segments %= (2 * ring.segment_count).max(1);
        above.stripes = Some(StripeChoice {
            is_mirrored: !stripes.is_mirrored,
            ..stripes
        });
    })
}

/// Whether stripes come again after half a segment, so that joints need not stand in line.
fn may_stagger(stripes: &StripeChoice, joint_mm: f64) -> bool {
    let repeat: f64 = stripes.layers.iter().map(|it| it.thickness_mm).sum();
    let half = joint_mm * stripes.slant_deg.to_radians().sin() / repeat.max(1e-6);
    stripes.laid == Laid::Slant && (half - half.round()).abs() < 0.02
}

fn with_stripes(design: &Design, place: usize, change: impl FnOnce(&mut StripeChoice)) -> Design {
    with_vessel(design, |vessel| {
        let ring: Option<&mut StackRing> = vessel.rings.get_mut(place);
        if let Some(stripes) = ring.and_then(|ring| ring.stripes.as_mut()) {
            change(stripes);
        }
    })
}
