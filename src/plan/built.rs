//! Designing while turning: the rings that are glued, and the curve that is wanted in them.

use crate::design::trouble::Trouble;
use crate::design::{PointChoice, Vessel};
use crate::plan::measured::{self, room_of};
use crate::plan::outline::{choices, shape_points};
use crate::plan::rings::Rings;
use crate::trade::room::{self, GluedRing, Room, Stack, Tightest};
use crate::trade::shape::Curve;

/// All that follows from the glued rings of a vessel.
#[derive(Clone, Debug)]
pub struct Built {
    /// The rings as they stand.
    pub stack: Stack,
    /// What could not be counted.
    pub troubles: Vec<Trouble>,
    /// The wanted outside.
    pub curve: Option<Curve>,
    /// The room for it; nothing without a glued ring.
    pub room: Option<Room>,
    /// Where it has least room.
    pub tightest: Option<Tightest>,
}

/// What follows from a vessel's glued rings.
pub fn built(rings: &Rings) -> Built {
    let as_cut = |place: usize| rings.rings.get(place).map(|ring| ring.as_cut_mm);
    let (stack, troubles) = measured::glued(&rings.vessel, as_cut);
    let curve = rings.vessel.curve();
    let room = (!stack.rings.is_empty()).then(|| room_of(&stack, &rings.vessel));
    let both = room.as_ref().zip(curve.as_ref());
    Built {
        tightest: both.and_then(|(room, curve)| room.tightest(curve)),
        stack,
        troubles,
        curve,
        room,
    }
}

impl Built {
    /// The nearest curve that fits, where the wanted one does not.
    pub fn nearest(&self, rings: &Rings) -> Option<Vec<PointChoice>> {
        self.tightest.filter(|tightest| tightest.left_mm < 0.0)?;
        let points = shape_points(&rings.vessel.points);
        let found = room::nearest(&points, self.room.as_ref()?)?;
        Some(choices(&found))
    }
}

impl Built {
    /// The nearest curve that keeps off the limits where that can be.
    pub fn nearest_with_ease(&self, rings: &Rings) -> Option<Vec<PointChoice>> {
        let points = shape_points(&rings.vessel.points);
        let found = room::nearest_with_ease(&points, self.room.as_ref()?)?;
        Some(choices(&found))
    }
}

/// A change of the stack's order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reorder {
    /// This ring is turned over.
    Turn(usize),
    /// These two change places.
    Swap(usize, usize),
}

impl Built {
    /// Whether nothing stands in the way of a glued ring, by the beginning of its fields'
    /// keys: one that is half typed may have no wall yet.
    pub fn stands(&self, row: &str) -> bool {
        !self.troubles.iter().any(|it| it.field.starts_with(row))
    }
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

/// A gain below this is not worth moving a ring, millimeters (our own choice, no published
/// source).
const WORTH_MM: f64 = 0.2;

/// The single swap or turning over that leaves most room at the tightest place, where one
/// is worth it. Longer ways round are not looked for.
pub fn better_order(built: &Built, vessel: &Vessel) -> Option<Better> {
    let (room_before, curve) = (built.tightest?.left_mm, built.curve.as_ref()?);
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
