//! Designing while turning: the rings that are glued, the curve that is wanted in them, and
//! what a hand does to both.

use crate::design::trouble::Trouble;
use crate::design::{Design, MadeOf, MeasuredRing, PointChoice, StackRing, Vessel};
use crate::plan::measured::{self, room_of};
use crate::plan::stack::{StackPlan, plan_stack};
use crate::trade::room;
use crate::trade::room::{GluedRing, Room, Stack, Tightest};
use crate::trade::shape::{Curve, Point};
use crate::units::length::round;

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
    let curve = vessel.as_ref().and_then(Vessel::curve);
    let room = vessel
        .as_ref()
        .filter(|_| !stack.rings.is_empty())
        .map(|vessel| room_of(&stack, vessel));
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
pub(crate) fn planned(design: &Design) -> Option<StackPlan> {
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
        let found = room::nearest(&points, self.room.as_ref()?)?;
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
pub(crate) fn made_from(design: &Design, stack: &Stack) -> Option<Vessel> {
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
    let on_tape = design.unit.snapped(usual.min(most));
    let wall_mm = if on_tape <= most && on_tape >= design.unit.snap_step_mm() {
        on_tape
    } else {
        (most * 100.0).floor() / 100.0
    };
    if wall_mm < 0.01 {
        return None;
    }
    let room = Room::new(stack, wall_mm, wall_mm, stack.height_mm);
    let points = choices(&room::middle(stack, &room)?);
    let solid = solid_to_mm(stack);
    let floor = design
        .unit
        .snapped((stack.height_mm * 0.12).clamp(4.0, 12.0));
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
    let after_mm = room_of(&stack, vessel).tightest(curve)?.left_mm;
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
    let room = room_of(stack, vessel);
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
