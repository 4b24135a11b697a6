//! A set's stack as it lies on the saw, the slots that are wanted, and between which heights
//! the blade may stand for them.

use crate::design::trouble::Reason;
use crate::design::{
    Between, FirstAt, Leans, MadeOf, SlotSet, StackHeld, StackIs, StripsShow, Vessel,
};
use crate::plan::rings::{RingInStack, Rings, trued_mm};
use crate::trade::outline::{Corners, Outline, Polygon};
use crate::trade::ring::{Segment, half_angle_rad};
use crate::trade::shape::Wall;
use crate::trade::spline::{Layer, Level, Slots, Stack, Window, Wished};
use crate::trade::through;
use std::f64::consts::TAU;

/// The least wood that holds a stack together under a slot: 3/16 in (our own choice, no
/// published source).
pub const LEAST_BRIDGE_MM: f64 = 4.762_5;

/// How near a blade's height is set by a rule: 1/64 in either way (our own choice, no
/// published source).
pub const LEAST_ROOM_MM: f64 = 0.396_875;

/// What stays of the middle of a disc of scrap that holds a stack, at least, from its axis: 3/4 in (our own choice, no
/// published source).
pub const DISC_MIDDLE_MM: f64 = 19.05;

/// Why there is no plan of a set, and at which field.
pub type Refused = (&'static str, Reason);

/// The most slots in all of a set.
const MOST_SLOTS: u32 = 96;

/// A set's rings, and their stack as it lies on the saw.
#[derive(Clone, Debug, PartialEq)]
pub struct OnSaw {
    /// The rings, from the foot up.
    pub rings: std::ops::RangeInclusive<usize>,
    /// The stack.
    pub stack: Stack,
}

/// A set with the blade set for it.
pub struct Sawn {
    /// Its stack.
    pub on_saw: OnSaw,
    /// The slots.
    pub slots: Slots,
    /// Heights that the blade may have.
    pub window: Window,
    /// The height that it has: as given, else the middle of the window, else the most that
    /// leaves the bridge.
    pub blade_mm: f64,
}

impl OnSaw {
    /// The stack of a set.
    ///
    /// # Errors
    /// Why there is none, and the field that it is about.
    pub fn of(plan: &Rings, set: &SlotSet) -> Result<OnSaw, Refused> {
        let rings = rings_of(set, plan.rings.len())?;
        let stack = stack(plan, set, &rings).ok_or(("from_ring", Reason::NoWallInStack))?;
        Ok(OnSaw { rings, stack })
    }

    /// The set as it is sawn in this stack.
    ///
    /// # Errors
    /// Why it cannot be, and the field that it is about.
    pub fn set(self, plan: &Rings, set: &SlotSet) -> Result<Sawn, Refused> {
        let (slots, window, blade_mm) = self.blade(plan, set)?;
        Ok(Sawn {
            on_saw: self,
            slots,
            window,
            blade_mm,
        })
    }

    /// Whether a hand can set the blade for a set in this stack so that it does what is wished.
    pub fn is_easily_set(&self, plan: &Rings, set: &SlotSet) -> bool {
        self.blade(plan, set).is_ok_and(|(_, window, blade_mm)| {
            // The end of its strips says how high the blade is.
            is_easily_set(&window) && blade_mm <= window.most_mm()
        })
    }

    fn blade(&self, plan: &Rings, set: &SlotSet) -> Result<(Slots, Window, f64), Refused> {
        let slots = slots(&plan.vessel, set, *self.rings.start());
        if slots.count > MOST_SLOTS {
            let reason = Reason::OutOfRange {
                value: f64::from(set.beside_count),
                least: 1.0,
                most: f64::from((MOST_SLOTS / set.slot_count.max(1)).max(1)),
            };
            return Err(("beside_count", reason));
        }
        let window = window(&self.stack, &slots, set);
        let end_mm = match (shows(set), set.ends_at_mm) {
            (StripsShow::OutsidePartly, Some(end_mm)) => {
                Some(blade_ending_mm(plan, self, &slots, end_mm)?)
            }
            _ => None,
        };
        let own_mm = match set.held_by {
            StackHeld::Bridge => window.middle_mm(),
            StackHeld::Strips | StackHeld::Discs => through::blade_mm(&window),
        };
        let most_mm = window.most_mm().max(0.0);
        let blade_mm = end_mm.or(set.blade_mm).or(own_mm).unwrap_or(most_mm);
        Ok((slots, window, blade_mm))
    }
}

/// Whether a hand can set a blade within these heights: they leave so much either way.
pub fn is_easily_set(window: &Window) -> bool {
    window.middle_mm().is_some() && window.room_mm() >= LEAST_ROOM_MM
}

/// Whether a set has heights that its blade may have, with so many slots at such an angle.
pub fn has_window(plan: &Rings, place: usize, zigzag: (u32, f64)) -> bool {
    let vessel = &plan.vessel;
    let window = || {
        let mut set = vessel.slot_sets.get(place)?.clone();
        (set.slot_count, set.gauge_deg) = (zigzag.0, zigzag.1.to_degrees());
        let on_saw = OnSaw::of(plan, &set).ok()?;
        let slots = slots(vessel, &set, *on_saw.rings.start());
        window(&on_saw.stack, &slots, &set).middle_mm()
    };
    window().is_some()
}

/// Where the strips of a set show.
pub(super) fn shows(set: &SlotSet) -> StripsShow {
    if set.is_through() {
        StripsShow::InsideToo
    } else {
        set.shows
    }
}

/// Between which heights the blade does what is wished and leaves what holds the stack.
fn window(stack: &Stack, slots: &Slots, set: &SlotSet) -> Window {
    match set.held_by {
        StackHeld::Bridge => stack.window(slots, wished(set)),
        StackHeld::Strips => through::window(stack, slots, None),
        StackHeld::Discs => through::window(stack, slots, Some(DISC_MIDDLE_MM)),
    }
}

/// How deep the strips go into their slots, as a height of the blade: a strip that is glued into
/// a slot right through the wall ends in the hole with it.
pub(super) fn filled_mm(held_by: StackHeld, blade_mm: f64, window: &Window) -> f64 {
    match held_by {
        StackHeld::Bridge | StackHeld::Discs => blade_mm,
        StackHeld::Strips => blade_mm.min(window.least_mm.max(0.0)),
    }
}

/// The height of the blade at which strips end on the outside at a height above the foot. Where
/// the stack lies on flats and corners, so that slots are not alike deep, the shallowest ends
/// there and the others go on farther.
fn blade_ending_mm(
    plan: &Rings,
    OnSaw { rings, stack }: &OnSaw,
    slots: &Slots,
    end_mm: f64,
) -> Result<f64, Refused> {
    let middle_mm = middle_mm(plan, rings);
    let ends = [stack.wall.first(), stack.wall.last()];
    let [least, most] = ends.map(|level| level.map_or(0.0, |level| level.z_mm + middle_mm));
    let wall = plan
        .wall
        .as_ref()
        .filter(|_| end_mm >= least && end_mm <= most);
    let radius_mm = wall.map(|wall| wall.outside.radius_at(end_mm));
    let blade_mm = |direction_rad: f64| {
        let table_mm = stack.table_mm(direction_rad);
        let bottom_mm = slots.first_seen_mm(end_mm - middle_mm, radius_mm?, table_mm)?;
        Some(table_mm - bottom_mm)
    };
    let all: Option<Vec<f64>> = slots.directions().map(blade_mm).collect();
    let refused = Reason::OutOfRange {
        value: end_mm,
        least,
        most,
    };
    all.and_then(|all| all.into_iter().reduce(f64::max))
        .ok_or(("ends_at_mm", refused))
}

/// The set's rings, counted from 0; either may be named first.
pub(crate) fn rings_of(
    set: &SlotSet,
    count: usize,
) -> Result<std::ops::RangeInclusive<usize>, Refused> {
    let [low, high] = [
        set.from_ring.min(set.to_ring) as usize,
        set.from_ring.max(set.to_ring) as usize,
    ];
    if high > count || low == 0 {
        let field = if set.to_ring as usize > count {
            "to_ring"
        } else {
            "from_ring"
        };
        let reason = Reason::NoSuchRing {
            ring: high as u32,
            count: count as u32,
        };
        return Err((field, reason));
    }
    Ok(low - 1..=high - 1)
}

/// What a set asks of its window.
fn wished(set: &SlotSet) -> Wished {
    Wished {
        inside_too: set.shows == StripsShow::InsideToo,
        is_partly: set.shows == StripsShow::OutsidePartly,
        bridge_mm: LEAST_BRIDGE_MM,
    }
}

/// The direction that a set counts from.
pub fn base_rad(vessel: &Vessel, set: &SlotSet, lowest: usize) -> f64 {
    let Some(ring) = vessel.rings.get(lowest) else {
        return 0.0;
    };
    match (ring.made_of, set.first_at) {
        (MadeOf::Disc, _) | (_, FirstAt::Front) => 0.0,
        (_, FirstAt::Segment) => ring.round().middle_rad(0),
        (_, FirstAt::Joint) => ring.round().edge_rad(1),
    }
}

fn slots(vessel: &Vessel, set: &SlotSet, lowest: usize) -> Slots {
    let gauge = set.gauge_deg.to_radians();
    let step_rad = TAU / f64::from(set.slot_count.max(1));
    // To suit: half of the way to the next place is taken.
    let to_suit_rad = step_rad / f64::from(2 * set.beside_count.max(1));
    Slots {
        count: set.slot_count * set.beside_count,
        beside: set.beside_count,
        apart_rad: set.apart_deg.map_or(to_suit_rad, f64::to_radians),
        gauge_rad: match set.leans {
            Leans::Right => gauge,
            Leans::Left => -gauge,
        },
        tilt_rad: set.tilt_deg.to_radians(),
        kerf_mm: set.kerf_mm,
        first_rad: base_rad(vessel, set, lowest) + set.further_deg.to_radians(),
    }
}

/// Height of a stack's middle above the foot.
pub(super) fn middle_mm(plan: &Rings, rings: &std::ops::RangeInclusive<usize>) -> f64 {
    f64::midpoint(
        plan.rings[*rings.start()].span.bottom_mm,
        plan.rings[*rings.end()].span.top_mm,
    )
}

/// Heights at which the finished wall is taken, beside every joint and point: every
/// millimeter and a half of a usual stack.
const STEPS: u32 = 40;

/// The stack as it lies on the saw; nothing where no finished wall is in it.
fn stack(plan: &Rings, set: &SlotSet, rings: &std::ops::RangeInclusive<usize>) -> Option<Stack> {
    let middle = middle_mm(plan, rings);
    let chosen = plan.vessel.rings[rings.clone()]
        .iter()
        .zip(&plan.rings[rings.clone()]);
    Some(Stack {
        layers: chosen
            .map(|(ring, planned)| layer(ring, planned, set.stack_is, middle))
            .collect(),
        wall: levels(plan.wall.as_ref()?, plan, rings)?,
    })
}

/// The finished wall within the rings.
fn levels(
    wall: &Wall,
    plan: &Rings,
    rings: &std::ops::RangeInclusive<usize>,
) -> Option<Vec<Level>> {
    let middle = middle_mm(plan, rings);
    let from = plan.rings[*rings.start()].span.bottom_mm;
    let to = plan.rings[*rings.end()]
        .span
        .top_mm
        .min(wall.outside.height_mm());
    if to - from < 1e-6 {
        return None;
    }
    let mut heights: Vec<f64> = Vec::new();
    let even = (0..=STEPS).map(|step| from + (to - from) * f64::from(step) / f64::from(STEPS));
    let joints = plan.rings[rings.clone()]
        .iter()
        .map(|planned| planned.span.top_mm);
    let points = wall.outside.pieces.iter().map(|piece| piece.height_mm[3]);
    for z in even.chain(joints).chain(points).chain([wall.floor_mm]) {
        let place = heights.partition_point(|height| *height < z);
        let is_new = heights.get(place).is_none_or(|height| height - z > 1e-6);
        if is_new && z >= from - 1e-9 && z <= to + 1e-9 {
            heights.insert(place, z);
        }
    }
    let level = |z: f64| Level {
        z_mm: z - middle,
        outside_mm: wall.outside.radius_at(z),
        inside_mm: wall.inside_radius_at(z),
    };
    Some(heights.into_iter().map(level).collect())
}

fn layer(
    ring: &crate::design::StackRing,
    planned: &RingInStack,
    stack_is: StackIs,
    middle_mm: f64,
) -> Layer {
    let half = half_angle_rad(ring.segment_count);
    let round = &planned.round;
    // Corners of unlike segments: two of each, as far out as they are.
    let unlike = |apothem_mm: f64, edge_mm: fn(&Segment) -> f64| {
        let of_segment = |place: u32| {
            let edge = planned.segment_at(place).map_or(0.0, edge_mm) / 2.0;
            let (radius, aside) = (apothem_mm.hypot(edge), edge.atan2(apothem_mm));
            [-aside, aside].map(|aside| (radius, round.middle_rad(place) + aside))
        };
        Outline::Unlike(Polygon::new((0..round.count()).flat_map(of_segment)))
    };
    let corners = |radius_mm: f64, apothem_mm: f64, edge: fn(&Segment) -> f64| {
        if !round.is_even() {
            return unlike(apothem_mm, edge);
        }
        let edge_mm = planned.segment.as_ref().map_or(0.0, edge);
        let aside = half - (edge_mm / 2.0).atan2(apothem_mm);
        Outline::Corners(Corners {
            radius_mm,
            count: ring.segment_count,
            joint_rad: round.edge_rad(1),
            aside_rad: if ring.between == Between::Nothing {
                0.0
            } else {
                aside
            },
        })
    };
    let outside = match (stack_is, &planned.segment) {
        (StackIs::TurnedRound, _) => Outline::Round(trued_mm(planned)),
        (StackIs::LeftFlat, Some(segment)) => corners(
            segment.across_corners_mm / 2.0,
            segment.outside.apothem_mm,
            |it| it.outside.long_edge_mm,
        ),
        (StackIs::LeftFlat, None) => Outline::Round(planned.reach_mm),
    };
    let hole = planned.segment.and_then(|segment| {
        let radius = segment.smallest_hole_mm / 2.0;
        (radius > 0.0 && segment.inside_apothem_mm > 0.0)
            .then(|| corners(radius, segment.inside_apothem_mm, |it| it.short_edge_mm))
    });
    Layer {
        from_mm: planned.span.bottom_mm - middle_mm,
        to_mm: planned.span.top_mm - middle_mm,
        outside,
        hole,
    }
}

/// An angle brought into half a turn on either side of 0.
pub(crate) fn within_half(angle: f64, turn: f64) -> f64 {
    (angle + turn / 2.0).rem_euclid(turn) - turn / 2.0
}
