//! What a hand does to rings that are glued already, and to the curve in them.

use crate::design::field::{Field, Kind, most_of};
use crate::design::kind::{LONGEST_MM, of};
use crate::design::trouble::Trouble;
use crate::design::{Across, Design, MadeOf, Measured, OutlineIs, PointChoice, StackRing, Vessel};
use crate::edit::outline::{can_be_own, with_own_outline};
use crate::edit::start;
use crate::edit::vessel::move_point;
use crate::plan::built::{Built, Reorder};
use crate::plan::measured::room_of;
use crate::plan::outline;
use crate::plan::stack::StackPlan;
use crate::plan::{Plan, plan};
use crate::trade::room::Stack;
use crate::units::kept::Kept as _;
use crate::units::length::round;

/// Takes the nearest curve that fits in the glued rings, where the wanted one does not.
pub fn take_nearest(design: &Design) -> Design {
    bent(design, |built, stack| built.nearest(stack))
}

/// The same, off the rings' limits where that can be.
pub(super) fn take_with_ease(design: &Design) -> Design {
    bent(design, |built, stack| built.nearest_with_ease(stack))
}

fn bent(
    design: &Design,
    nearest: impl Fn(&Built, &StackPlan) -> Option<Vec<PointChoice>>,
) -> Design {
    let planned = plan(design);
    let nearest = planned
        .built()
        .zip(planned.stack())
        .and_then(|(built, stack)| nearest(built, stack))
        .filter(|points| can_be_own(points));
    let mut changed = with_own_outline(design);
    if let (Some(vessel), Some(points)) = (&mut changed.vessel, nearest) {
        vessel.points = points;
    }
    changed
}

/// Draws a curve in the middle of what the glued rings allow, until it is pulled.
pub fn draw_in_rings(design: &Design) -> Design {
    let mut changed = design.clone();
    if let Some(vessel) = &mut changed.vessel {
        vessel.outline_is = OutlineIs::InRings;
    }
    changed
}

/// Draws the curve along the outside of the glued rings, with the thickest wall that it can
/// have; it is the turner's own from then on.
pub fn draw_along_outside(design: &Design) -> Design {
    let planned = plan(design);
    let stack = planned.built().map(|built| &built.stack);
    let drawn = stack.and_then(|stack| outline::along_outside(stack, design.unit));
    let drawn = drawn.filter(|it| can_be_own(it.points()));
    let mut changed = with_own_outline(design);
    if let (Some(vessel), Some(drawn)) = (&mut changed.vessel, drawn) {
        let floor_mm = vessel.floor_mm;
        drawn.put_into(vessel);
        vessel.floor_mm = floor_mm;
    }
    changed
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

/// Pulls a point of the curve until the glued rings stop it: nowhere may more wood be
/// missing than before. The turner feels it stop; where it does not fit yet, it can be
/// pulled in. Without a glued ring nothing stops it.
pub fn pull(design: &Design, place: usize, height_mm: f64, radius_mm: f64) -> Design {
    let base = with_own_outline(design);
    let planned = plan(&base);
    let wanted = move_point(&base, place, height_mm, radius_mm);
    let (Some(vessel), Some(built)) = (base.vessel.as_ref(), planned.built()) else {
        return wanted;
    };
    let stack = &built.stack;
    if stack.rings.is_empty() {
        return wanted;
    }
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
    let Some(before) = missing(stack, vessel, &heights) else {
        return base;
    };
    let rim = vessel.points.last().map_or(0.0, |point| point.height_mm);
    // Planned rings follow the rim; where all are glued it cannot leave them.
    let is_all_glued = vessel.rings.iter().all(StackRing::is_glued);
    let highest = if is_all_glued {
        stack.height_mm.max(rim)
    } else {
        f64::INFINITY
    };
    let is_held = |vessel: &Vessel| {
        let is_low = vessel
            .points
            .last()
            .is_none_or(|point| point.height_mm <= highest + 1e-9);
        let after = missing(stack, vessel, &heights);
        is_low
            && after.is_some_and(|after| {
                let mut both = after.iter().zip(&before);
                both.all(|(after, before)| *after >= *before - 1e-6)
            })
    };
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
    match held.as_ref().and_then(|it| it.points.get(place)) {
        Some(point) => move_point_exactly(&base, place, point.height_mm, point.radius_mm),
        None => base,
    }
}

/// Moves a point to where it was found to be held, off the tape's steps if need be.
fn move_point_exactly(design: &Design, place: usize, height_mm: f64, radius_mm: f64) -> Design {
    let mut design = design.clone();
    if let Some(vessel) = &mut design.vessel
        && let Some(point) = vessel.points.get_mut(place)
    {
        (point.height_mm, point.radius_mm) = (height_mm, radius_mm);
    }
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
    let base = with_own_outline(design);
    let point = base.vessel.as_ref().and_then(|it| it.points.get(place));
    let Some(point) = point else { return base };
    let step = design.unit.snap_step_mm();
    let (height, radius) = (
        point.height_mm + up * step,
        point.radius_mm + out * step / 2.0,
    );
    pull(&base, place, height, radius)
}

/// Changes the order of the rings; what was as planned of a glued one becomes a length of
/// its own, for it is this ring's now and not its place's.
pub fn reorder(design: &Design, change: Reorder) -> Design {
    let planned = plan(design);
    let mut design = design.clone();
    let Some(vessel) = &mut design.vessel else {
        return design;
    };
    let places = match change {
        Reorder::Turn(place) => [place, place],
        Reorder::Swap(one, two) => [one, two],
    };
    if places.iter().any(|place| *place >= vessel.rings.len()) {
        return design;
    }
    for place in places {
        fill(&mut vessel.rings[place], &planned, place);
    }
    if places[0] == places[1] {
        if let Some(measured) = &mut vessel.rings[places[0]].measured {
            turn_over(measured);
        }
    } else {
        vessel.rings.swap(places[0], places[1]);
    }
    design
}

/// The design with what was as planned of its glued rings written out.
pub(super) fn filled(design: &Design, planned: &Plan) -> Design {
    let mut design = design.clone();
    for (place, ring) in design
        .vessel
        .iter_mut()
        .flat_map(|it| it.rings.iter_mut().enumerate())
    {
        fill(ring, planned, place);
    }
    design
}

/// Writes out what was as planned: true circles, as if turned.
fn fill(ring: &mut StackRing, planned: &Plan, place: usize) {
    let plan = planned.stack().and_then(|stack| stack.rings.get(place));
    let (Some(it), Some(plan)) = (&mut ring.measured, plan) else {
        return;
    };
    let (circle, hole) = plan.as_cut_mm;
    it.height_mm
        .get_or_insert(round(plan.wanted.height_mm).min(LONGEST_MM));
    if it.outside_diameter_mm.is_none() && it.upper_outside_diameter_mm.is_none() {
        it.outside_across = Across::Round;
        it.outside_diameter_mm = Some(round(2.0 * circle).min(LONGEST_MM));
    }
    if it.inside_diameter_mm.is_none() && it.upper_inside_diameter_mm.is_none() {
        it.inside_across = Across::Round;
        it.inside_diameter_mm = Some(round(2.0 * hole).min(LONGEST_MM));
    }
}

/// The ring with its upper face down.
pub(super) fn turn_over(ring: &mut Measured) {
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

/// Puts a glued ring on top, measured like the one below it. The first one begins a vessel,
/// its curve drawn in the rings.
pub fn add_glued(design: &Design) -> Design {
    let mut changed = design.clone();
    let begun = || Vessel {
        outline_is: OutlineIs::InRings,
        woods: vec![design.ring.wood.clone()],
        ..Vessel::blank()
    };
    let vessel = changed.vessel.get_or_insert_with(begun);
    if vessel.rings.len() >= most_of("vessel.rings") {
        return changed;
    }
    let mut ring = match vessel.rings.last() {
        Some(below) => below.clone(),
        None => StackRing::plain(design.ring.height_mm, design.ring.segment_count),
    };
    ring.turn_half_segments = vessel.rings.len() as u32 % 2;
    ring.is_pinned = false;
    ring.out_of_true = None;
    ring.measured.get_or_insert(Measured {
        outside_diameter_mm: Some(design.ring.outside_diameter_mm),
        inside_diameter_mm: Some(round(2.0 * design.inside_radius_mm().max(0.0))),
        height_mm: Some(ring.height_mm),
        ..Measured::nothing()
    });
    vessel.rings.push(ring);
    changed
}

/// Begins a piece with a glued ring, in place of the one that there was.
pub fn begin_glued(design: &Design) -> Design {
    add_glued(&Design {
        vessel: None,
        base: None,
        name: start::own_name(design),
        ..design.clone()
    })
}

/// The design without its lone glued ring, where that was begun and no size of it was measured
/// since; whatever was said of how rings are measured.
pub fn before_measured(design: &Design) -> Option<Design> {
    let [lone] = &design.vessel.as_ref()?.rings[..] else {
        return None;
    };
    let blank = Design {
        vessel: None,
        ..design.clone()
    };
    let mut begun = add_glued(&blank);
    measure_like(&mut begun, lone);
    (*design == begun).then_some(blank)
}

/// Every glued ring was measured like this one, and is of as many segments.
pub fn measure_like(design: &mut Design, like: &StackRing) {
    let Some(how) = &like.measured else { return };
    for ring in design.vessel.iter_mut().flat_map(|it| &mut it.rings) {
        if let Some(own) = &mut ring.measured {
            own.outside_across = how.outside_across;
            own.inside_across = how.inside_across;
            ring.segment_count = like.segment_count;
        }
    }
}

/// Says of a ring that it is glued, or that it is planned only.
pub fn set_glued(design: &Design, place: usize, is_glued: bool) -> Design {
    let mut changed = with_own_outline(design);
    let ring = changed
        .vessel
        .as_mut()
        .and_then(|it| it.rings.get_mut(place));
    if let Some(ring) = ring {
        ring.height_mm = ring.height_now_mm();
        if is_glued {
            ring.measured.get_or_insert_with(Measured::nothing);
        } else {
            ring.measured = None;
        }
    }
    changed
}

/// How the glued rings were measured and of how many segments they are, said of all at once:
/// not kept, for each ring keeps its own.
pub const OF_ALL: &[Field] = &[
    of_all(
        "vessel.glued.outside_across",
        "Outside was measured",
        Kind::Choice(Across::WORDS),
    ),
    of_all(
        "vessel.glued.inside_across",
        "Inside was measured",
        Kind::Choice(Across::WORDS),
    ),
    of_all(
        "vessel.glued.segment_count",
        "Segments in each",
        Kind::Count {
            least: 3,
            most: 360,
        },
    ),
];

const fn of_all(key: &'static str, label: &'static str, kind: Kind) -> Field {
    Field {
        key,
        label,
        ..of(kind)
    }
}

/// Says one of [`OF_ALL`] of every glued ring.
///
/// # Errors
/// As [`Field::read`].
pub fn type_in_all(design: &Design, field: &Field, typed: &str) -> Result<Design, Trouble> {
    let read = field.read(typed, design.unit);
    let value = read.map_err(|reason| Trouble::at(field.key, reason))?;
    let mut changed = design.clone();
    let rings = changed.vessel.iter_mut().flat_map(|it| &mut it.rings);
    for ring in rings {
        let Some(own) = &mut ring.measured else {
            continue;
        };
        let name = field.key.rsplit('.').next();
        match (name, Across::read(&value), u32::read(&value)) {
            (Some("outside_across"), Some(across), _) => own.outside_across = across,
            (Some("inside_across"), Some(across), _) => own.inside_across = across,
            (_, _, Some(count)) => ring.segment_count = count,
            _ => {}
        }
    }
    Ok(changed)
}

/// A ring measured without a hole is a disc; one with a hole is not.
pub fn fit_hole(design: &mut Design, place: usize) {
    let ring = design
        .vessel
        .as_mut()
        .and_then(|it| it.rings.get_mut(place));
    if let Some(ring) = ring
        && let Some(hole) = ring.measured.as_ref().and_then(|it| it.inside_diameter_mm)
    {
        ring.made_of = if hole > 0.0 {
            MadeOf::Segments
        } else {
            MadeOf::Disc
        };
    }
}
