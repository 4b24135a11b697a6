//! Designing while turning: the rings that are glued, the curve that is wanted in them, and
//! what a hand does to both.

use crate::design::{Design, MadeOf, MeasuredRing, PointChoice, StackRing, Vessel};
use crate::edit::{move_point, snap_step_mm, snapped};
use crate::measured::{self, GluedRing, Room, Stack, Tightest};
use crate::shape::{Curve, Point};
use crate::stack::{StackPlan, plan_stack};
use crate::start::{curve_of, round};
use crate::trouble::Trouble;

/// All that follows from the measured rings.
#[derive(Clone, Debug)]
pub struct Built {
    /// The rings as they stand.
    pub stack: Stack,
    /// What could not be counted.
    pub troubles: Vec<Trouble>,
    /// The plan of the vessel, where something is taken from it.
    pub planned: Option<StackPlan>,
    /// The vessel whose curve is held against the rings: the wanted one, or without one a
    /// curve made from the rings.
    pub vessel: Option<Vessel>,
    /// Whether it was made from the rings.
    pub is_made: bool,
    /// Its outside.
    pub curve: Option<Curve>,
    /// The room for it.
    pub room: Option<Room>,
    /// Where it has least room.
    pub tightest: Option<Tightest>,
}

/// What follows from a design's measured rings.
pub fn built(design: &Design) -> Built {
    let planned = planned(design);
    let (stack, troubles) = measured::glued(design, planned.as_ref());
    let vessel = match &design.vessel {
        Some(vessel) => Some(vessel.clone()),
        None => made_from(design, &stack),
    };
    let curve = vessel.as_ref().and_then(curve_of);
    let room = vessel
        .as_ref()
        .filter(|_| !stack.rings.is_empty())
        .map(|vessel| Room::of(&stack, vessel));
    let tightest = room
        .as_ref()
        .zip(curve.as_ref())
        .and_then(|(room, curve)| room.tightest(curve));
    Built {
        stack,
        troubles,
        planned,
        is_made: design.vessel.is_none(),
        vessel,
        curve,
        room,
        tightest,
    }
}

/// The plan, where something was not measured and must come from it.
fn planned(design: &Design) -> Option<StackPlan> {
    let is_partial = |ring: &MeasuredRing| {
        ring.outside_diameter_mm.is_none()
            || ring.inside_diameter_mm.is_none()
            || ring.height_mm.is_none()
    };
    let vessel = design.vessel.as_ref()?;
    let is_needed = design.measured.iter().any(is_partial);
    is_needed.then(|| plan_stack(design, vessel))
}

impl Built {
    /// The nearest curve that fits, where the wanted one does not.
    pub fn nearest(&self) -> Option<Vec<PointChoice>> {
        self.tightest.filter(|tightest| tightest.left_mm < 0.0)?;
        let points = shape_points(&self.vessel.as_ref()?.points);
        let found = measured::nearest(&points, self.room.as_ref()?)?;
        Some(choices(&found))
    }
}

fn shape_points(points: &[PointChoice]) -> Vec<Point> {
    let points = points.iter();
    points
        .map(|point| Point {
            height_mm: point.height_mm,
            radius_mm: point.radius_mm,
            is_corner: point.is_corner,
        })
        .collect()
}

fn choices(points: &[Point]) -> Vec<PointChoice> {
    let points = points.iter();
    points
        .map(|point| PointChoice {
            height_mm: point.height_mm,
            radius_mm: point.radius_mm,
            is_corner: point.is_corner,
        })
        .collect()
}

/// Of the thickest even wall that the rings allow, a made curve takes this much at most, so
/// that it can still be pulled about (our own choice, no published source).
const SHARE_OF_WALL: f64 = 0.7;

/// A vessel in the middle of what the rings allow.
fn made_from(design: &Design, stack: &Stack) -> Option<Vessel> {
    let widest = stack
        .rings
        .iter()
        .map(|ring| ring.lower.outside_mm.max(ring.upper.outside_mm))
        .fold(0.0, f64::max);
    // As thick as a new vessel's wall of this diameter, where the rings allow it.
    let usual = (widest * 0.064).clamp(4.0, 10.0);
    let open = Room::new(stack, usual, usual, stack.height_mm);
    let most = open
        .thickest_even_wall()
        .map_or(usual, |found| found.1 * SHARE_OF_WALL);
    let on_tape = snapped(usual.min(most), design);
    let wall_mm = if on_tape <= most && on_tape >= snap_step_mm(design) {
        on_tape
    } else {
        (most * 100.0).floor() / 100.0
    };
    if wall_mm < 0.01 {
        return None;
    }
    let room = Room::new(stack, wall_mm, wall_mm, stack.height_mm);
    let points = choices(&measured::middle(stack, &room)?);
    let solid = solid_to_mm(stack);
    let floor = snapped((stack.height_mm * 0.12).clamp(4.0, 12.0), design);
    let floor_mm = if solid > 0.0 { floor.min(solid) } else { floor };
    Some(Vessel {
        points,
        foot_wall_mm: wall_mm,
        rim_wall_mm: wall_mm,
        floor_mm: floor_mm.min(round(stack.height_mm / 2.0)).max(0.01),
        rings: stack_rings(design, stack),
        slot_sets: Vec::new(),
        woods: vec![design.ring.wood.clone()],
    })
}

/// Up to where from the foot the rings are solid.
pub fn solid_to_mm(stack: &Stack) -> f64 {
    let is_solid = |ring: &&GluedRing| ring.lower.hole_mm.max(ring.upper.hole_mm) <= 0.0;
    let solid = stack.rings.iter().take_while(is_solid);
    solid.last().map_or(0.0, |ring| ring.top_mm)
}

/// The measured rings as a vessel's: they stay when the height is divided anew.
fn stack_rings(design: &Design, stack: &Stack) -> Vec<StackRing> {
    let all = design.measured.iter().enumerate();
    all.filter_map(|(place, measured)| {
        let glued = stack.rings.iter().find(|ring| ring.place == place);
        let mut ring = StackRing::plain(measured.height_mm?, measured.segment_count);
        if glued.is_some_and(|ring| ring.upper.hole_mm.max(ring.lower.hole_mm) <= 0.0) {
            ring.made_of = MadeOf::Disc;
        }
        ring.is_pinned = true;
        ring.turn_half_segments = place as u32 % 2;
        Some(ring)
    })
    .collect()
}

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
    let room = Room::of(stack, vessel);
    let curve = curve_of(vessel)?;
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
    let step = snap_step_mm(design);
    let (height, radius) = (
        point.height_mm + up * step,
        point.radius_mm + out * step / 2.0,
    );
    pull(design, place, height, radius)
}

/// A change of the stack's order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reorder {
    /// This ring is turned over.
    Turn(usize),
    /// These two change places.
    Swap(usize, usize),
}

/// A change of order that leaves more room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Better {
    /// The change.
    pub change: Reorder,
    /// What is left at the tightest place before it.
    pub before_mm: f64,
    /// What is left after it.
    pub after_mm: f64,
}

/// A gain below this is not worth moving a ring, millimeters.
const WORTH_MM: f64 = 0.2;

/// The single swap or turning over that leaves most room at the tightest place, where one
/// is worth it. Longer ways round are not looked for.
pub fn better_order(built: &Built) -> Option<Better> {
    let (room_before, curve) = (built.tightest?.left_mm, built.curve.as_ref()?);
    let vessel = built.vessel.as_ref()?;
    let rings = &built.stack.rings;
    let count = rings.len();
    let swaps = (0..count).flat_map(|one| (one + 1..count).map(move |two| Reorder::Swap(one, two)));
    let turns = (0..count)
        .filter(|&at| rings[at].lower != rings[at].upper)
        .map(Reorder::Turn);
    let (change, _) = turns
        .chain(swaps)
        .map(|change| {
            let stack = reordered(&built.stack, change);
            (change, roughly_left(&stack, vessel, curve))
        })
        .max_by(|one, other| one.1.total_cmp(&other.1))?;
    let stack = reordered(&built.stack, change);
    let after_mm = Room::of(&stack, vessel).tightest(curve)?.left_mm;
    let place = |at: usize| rings[at].place;
    (after_mm > room_before + WORTH_MM).then(|| Better {
        change: match change {
            Reorder::Turn(at) => Reorder::Turn(place(at)),
            Reorder::Swap(one, two) => Reorder::Swap(place(one), place(two)),
        },
        before_mm: room_before,
        after_mm,
    })
}

/// The stack in another order; gaps that uncounted rings leave stay where they are.
fn reordered(stack: &Stack, change: Reorder) -> Stack {
    let mut stack = stack.clone();
    match change {
        Reorder::Turn(at) => {
            let ring = &mut stack.rings[at];
            std::mem::swap(&mut ring.lower, &mut ring.upper);
        }
        Reorder::Swap(one, two) => {
            let (low, high) = (stack.rings[one], stack.rings[two]);
            let height = |ring: &GluedRing| ring.top_mm - ring.bottom_mm;
            let lift = height(&high) - height(&low);
            for ring in &mut stack.rings[one + 1..two] {
                ring.bottom_mm += lift;
                ring.top_mm += lift;
            }
            stack.rings[one] = GluedRing {
                bottom_mm: low.bottom_mm,
                top_mm: low.bottom_mm + height(&high),
                ..high
            };
            stack.rings[two] = GluedRing {
                bottom_mm: high.top_mm - height(&low),
                top_mm: high.top_mm,
                ..low
            };
        }
    }
    stack
}

/// What is left at the tightest of a few heights: good enough to compare orders by.
fn roughly_left(stack: &Stack, vessel: &Vessel, curve: &Curve) -> f64 {
    let room = Room::of(stack, vessel);
    let heights = stack.rings.iter().flat_map(|ring| {
        let high = ring.top_mm - ring.bottom_mm;
        (0..=4).map(move |look| ring.bottom_mm + high * f64::from(look) / 4.0)
    });
    heights
        .filter(|height| *height <= curve.height_mm())
        .map(|height| {
            let radius = curve.radius_at(height);
            let inside = room.thickest_wall(height, radius) - room.wall_at(height);
            inside.min(room.most_radius(height) - radius)
        })
        .fold(f64::INFINITY, f64::min)
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
    let inch = crate::length::MM_PER_INCH;
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
