//! What a hand does to rings that are glued already, and to the curve in them.

use crate::design::{Design, MeasuredRing, Vessel};
use crate::edit::vessel::move_point;
use crate::plan::built::{Reorder, built, made_from, planned};
use crate::plan::measured::{self, room_of};
use crate::trade::room::Stack;
use crate::units::length::round;

/// Takes the nearest curve that fits, or the one made from the rings, as the vessel's.
pub fn take_curve(design: &Design) -> Design {
    let built = built(design);
    let nearest = built.nearest();
    let mut design = design.clone();
    if let Some(mut vessel) = built.vessel {
        if let Some(points) = nearest {
            vessel.points = points;
        }
        design.vessel = Some(vessel);
    }
    design
}

/// What is missing of a vessel at these heights and at its own points, which the curve does
/// not pass: outside and inside, each 0 where it is enough.
fn missing(stack: &Stack, vessel: &Vessel, heights: &[f64]) -> Option<Vec<f64>> {
    let room = room_of(stack, vessel);
    let curve = vessel.curve()?;
    let rim = curve.height_mm();
    let own = vessel.points.iter().map(|point| point.height_mm);
    Some(
        heights
            .iter()
            .copied()
            .chain(own)
            .flat_map(|height| {
                if height > rim {
                    return [0.0, 0.0];
                }
                let radius = curve.radius_at(height);
                [
                    (room.most_radius(height) - radius).min(0.0),
                    (radius - room.least_radius(height)).min(0.0),
                ]
            })
            .collect(),
    )
}

/// Heights at which a pulled curve is held, in each ring.
const HOLDS: u32 = 24;

/// Pulls a point of the curve until the rings stop it: nowhere may more wood be missing
/// than before. The turner feels it stop; where it does not fit yet, it can be pulled in.
pub fn pull(design: &Design, place: usize, height_mm: f64, radius_mm: f64) -> Design {
    let (stack, _) = measured::glued(design, planned(design).as_ref());
    let Some(vessel) = design.vessel.clone().or_else(|| made_from(design, &stack)) else {
        return design.clone();
    };
    let mut base = design.clone();
    base.vessel = Some(vessel.clone());
    let Some(from) = vessel.points.get(place) else {
        return base;
    };
    let heights: Vec<f64> = stack
        .rings
        .iter()
        .flat_map(|ring| {
            let high = ring.top_mm - ring.bottom_mm;
            (0..=HOLDS).map(move |hold| ring.bottom_mm + high * f64::from(hold) / f64::from(HOLDS))
        })
        .collect();
    let Some(before) = missing(&stack, &vessel, &heights) else {
        return base;
    };
    let rim = vessel.points.last().map_or(0.0, |point| point.height_mm);
    let highest = stack.height_mm.max(rim);
    let is_held = |vessel: &Vessel| {
        let is_low = vessel
            .points
            .last()
            .is_none_or(|point| point.height_mm <= highest + 1e-9);
        let after = missing(&stack, vessel, &heights);
        is_low
            && after.is_some_and(|after| {
                let mut both = after.iter().zip(&before);
                both.all(|(after, before)| *after >= *before - 1e-6)
            })
    };
    let wanted = move_point(&base, place, height_mm, radius_mm);
    let Some(to) = wanted.vessel.as_ref().and_then(|it| it.points.get(place)) else {
        return base;
    };
    let at = |height_mm: f64, radius_mm: f64| {
        let mut vessel = vessel.clone();
        vessel.points[place].height_mm = height_mm;
        vessel.points[place].radius_mm = radius_mm;
        vessel
    };
    if is_held(&at(to.height_mm, to.radius_mm)) {
        return wanted;
    }
    let mix = |share: f64| round_toward(from.radius_mm, to.radius_mm, share);
    // Level at the new height where that can be, else along the way there.
    let level = at(to.height_mm, from.radius_mm);
    let held = if is_held(&level) {
        farthest(&|share| at(to.height_mm, mix(share)), &is_held)
    } else {
        let height = |share: f64| round_toward(from.height_mm, to.height_mm, share);
        farthest(&|share| at(height(share), mix(share)), &is_held)
    };
    let mut design = base;
    design.vessel = Some(held.unwrap_or(vessel));
    design
}

/// A share of the way between two lengths, to a hundredth on the near side.
fn round_toward(from: f64, to: f64, share: f64) -> f64 {
    let way = ((to - from).abs() * share * 100.0).floor() / 100.0;
    from + way.copysign(to - from)
}

/// The farthest vessel on a way that is still held, by halving.
fn farthest(on_way: &dyn Fn(f64) -> Vessel, is_held: &dyn Fn(&Vessel) -> bool) -> Option<Vessel> {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..11 {
        let share = f64::midpoint(low, high);
        if is_held(&on_way(share)) {
            low = share;
        } else {
            high = share;
        }
    }
    Some(on_way(low)).filter(is_held)
}

/// Pulls a point by steps of the tape.
pub fn nudge(design: &Design, place: usize, up: f64, out: f64) -> Design {
    let vessel = built(design).vessel;
    let Some(point) = vessel.as_ref().and_then(|vessel| vessel.points.get(place)) else {
        return design.clone();
    };
    let step = design.unit.snap_step_mm();
    let (height, radius) = (
        point.height_mm + up * step,
        point.radius_mm + out * step / 2.0,
    );
    pull(design, place, height, radius)
}

/// Changes the order of the measured rings; what was as planned becomes a length of its own,
/// for it is this ring's now and not its place's.
pub fn reorder(design: &Design, change: Reorder) -> Design {
    let mut design = design.clone();
    let planned = built(&design).planned;
    let mut fix = |place: usize| {
        let plan = planned.as_ref().and_then(|plan| plan.rings.get(place));
        if let (Some(ring), Some(plan)) = (design.measured.get_mut(place), plan) {
            fill(ring, plan.as_cut_mm, plan.wanted.height_mm);
        }
    };
    let places = match change {
        Reorder::Turn(place) => [place, place],
        Reorder::Swap(one, two) => [one, two],
    };
    places.into_iter().for_each(&mut fix);
    let count = design.measured.len();
    if places.iter().any(|place| *place >= count) {
        return design;
    }
    if places[0] == places[1] {
        let ring = &mut design.measured[places[0]];
        turn_over(ring);
    } else {
        design.measured.swap(places[0], places[1]);
    }
    design
}

/// Writes out what was as planned: true circles, as if turned.
fn fill(ring: &mut MeasuredRing, (circle, hole): (f64, f64), height_mm: f64) {
    use crate::design::Across;
    ring.height_mm.get_or_insert(round(height_mm));
    if ring.outside_diameter_mm.is_none() && ring.upper_outside_diameter_mm.is_none() {
        ring.outside_across = Across::Round;
        ring.outside_diameter_mm = Some(round(2.0 * circle));
    }
    if ring.inside_diameter_mm.is_none() && ring.upper_inside_diameter_mm.is_none() {
        ring.inside_across = Across::Round;
        ring.inside_diameter_mm = Some(round(2.0 * hole));
    }
}

fn turn_over(ring: &mut MeasuredRing) {
    for (lower, upper) in [
        (
            &mut ring.outside_diameter_mm,
            &mut ring.upper_outside_diameter_mm,
        ),
        (
            &mut ring.inside_diameter_mm,
            &mut ring.upper_inside_diameter_mm,
        ),
    ] {
        if upper.is_some() && lower.is_some() {
            std::mem::swap(lower, upper);
        }
    }
}

/// Puts another ring on top, measured like the one below it.
pub fn add_measured(design: &Design) -> Design {
    let mut design = design.clone();
    if design.measured.len() >= 200 {
        return design;
    }
    let inch = crate::units::length::MM_PER_INCH;
    let place = design.measured.len();
    let planned = design.vessel.as_ref().and_then(|it| it.rings.get(place));
    let ring = match (design.measured.last(), planned) {
        // What the plan has for this place is shown until something is measured.
        (_, Some(planned)) => MeasuredRing::unmeasured(planned.segment_count),
        (Some(below), None) => below.clone(),
        (None, None) => MeasuredRing {
            outside_diameter_mm: Some(design.ring.outside_diameter_mm),
            inside_diameter_mm: Some(round(2.0 * design.inside_radius_mm().max(0.0))),
            height_mm: Some(if design.ring.height_mm > 0.0 {
                design.ring.height_mm
            } else {
                inch
            }),
            ..MeasuredRing::unmeasured(design.ring.segment_count)
        },
    };
    design.measured.push(ring);
    design
}

/// Begins with the rings as they are planned: none measured yet.
pub fn measure_planned(design: &Design) -> Design {
    let mut design = design.clone();
    let planned = design.vessel.as_ref().map_or(&[][..], |it| &it.rings);
    let kept = design.measured.len();
    let more = planned
        .iter()
        .skip(kept)
        .map(|ring| MeasuredRing::unmeasured(ring.segment_count))
        .collect::<Vec<_>>();
    design.measured.extend(more);
    design
}

/// Takes a ring off the stack.
pub fn remove_measured(design: &Design, place: usize) -> Design {
    let mut design = design.clone();
    if place < design.measured.len() {
        design.measured.remove(place);
    }
    design
}

/// Every ring was measured like this one.
pub fn measure_alike(design: &Design, place: usize) -> Design {
    let mut design = design.clone();
    if let Some(like) = design.measured.get(place).cloned() {
        for ring in &mut design.measured {
            ring.outside_across = like.outside_across;
            ring.inside_across = like.inside_across;
            ring.segment_count = like.segment_count;
        }
    }
    design
}
