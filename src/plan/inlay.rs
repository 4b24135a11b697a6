//! The slot sets of a vessel worked out: how each stack lies on the saw, between which
//! heights the blade may stand, what is left, and the strips that fill the slots.

use crate::design::trouble::{Reason, Trouble};
use crate::design::{
    Between, FirstAt, Leans, MadeOf, SlotSet, StackHeld, StackIs, StripeLayer, StripsShow, Vessel,
};
use crate::draw::Color;
use crate::plan::ring::cutting;
use crate::plan::rings::{RingInStack, Rings, trued_mm};
use crate::trade::layered::{Sticks, across, sawn_mm, sticks};
use crate::trade::outline::{Corners, Outline, Polygon};
use crate::trade::ring::{Segment, half_angle_rad};
use crate::trade::shape::Wall;
use crate::trade::spline::{Cut, Layer, Level, Slots, Stack, Window, Wished};
use crate::trade::through;
use std::f64::consts::{PI, TAU};

/// The least wood that holds a stack together under a slot: 3/16 in (our own choice, no
/// published source).
pub const LEAST_BRIDGE_MM: f64 = 4.762_5;

/// How far a strip stands proud of the stack until it is trimmed: 1/16 in (our own
/// choice, no published source).
pub const PROUD_MM: f64 = 1.587_5;

/// What a strip is longer than its slot at each end: 1/4 in (our own choice, no
/// published source).
pub const SPARE_MM: f64 = 6.35;

/// How near a blade's height is set by a rule: 1/64 in either way (our own choice, no
/// published source).
pub const LEAST_ROOM_MM: f64 = 0.396_875;

/// Half the diameter of the blade that most saws have: 10 in (common practice, no published
/// source).
const BLADE_RADIUS_MM: f64 = 127.0;

/// How much thicker the block behind the fence is than the blade comes out there: 1 in (our own
/// choice, no published source).
pub const BLOCK_BEYOND_MM: f64 = 25.4;

/// What a clamp stays above the blade: 1 in (common practice, no published source).
pub const CLAMP_ABOVE_MM: f64 = 25.4;

/// How thick a disc of scrap is that holds a stack: 3/4 in, as boards are sold (our own choice,
/// no published source).
pub const DISC_MM: f64 = 19.05;

/// What stays of the middle of such a disc at least, from its axis: 3/4 in (our own choice, no
/// published source).
pub const DISC_MIDDLE_MM: f64 = 19.05;

/// One set worked out. Millimeters and radians.
#[derive(Clone, Debug, PartialEq)]
pub struct SetPlan {
    /// Its rings, from the foot up.
    pub rings: std::ops::RangeInclusive<usize>,
    /// Height of the stack's middle above the foot.
    pub middle_mm: f64,
    /// Where its strips are to show: inside too where the slots go through the wall.
    pub shows: StripsShow,
    /// What holds the stack while it is sawn.
    pub held_by: StackHeld,
    /// The stack on the saw.
    pub stack: Stack,
    /// The slots.
    pub slots: Slots,
    /// Heights that the blade may have.
    pub window: Window,
    /// The height that it has: as given, else the middle of the window, else the most
    /// that leaves the bridge.
    pub blade_mm: f64,
    /// Each slot as it is sawn.
    pub cuts: Vec<Cut>,
    /// Wood left under the slots, toward the axis; below 0 they come through.
    pub bridge_mm: f64,
    /// Wood left between neighbouring slots at their bottoms; at the hole where each is filled
    /// before the next is sawn.
    pub between_mm: f64,
    /// Thickness, width and length of a strip.
    pub strip_mm: [f64; 3],
    /// Its layers, from the left as they are seen from outside; one where it is of one wood.
    pub layers: Vec<StripLayer>,
    /// The sticks that its strips are crosscut from; nothing where they are of one wood.
    pub sticks: Option<Sticks>,
    /// The set before it whose discs hold it still.
    pub discs_since: Option<usize>,
    /// The set after it for which its discs stay on.
    pub discs_until: Option<usize>,
    /// How often the faces of its stack are still trimmed, its own strips' ends counted.
    pub trims: u32,
}

/// A layer of a strip; the only one of a strip that is of one wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripLayer {
    /// Its wood, as a place in the vessel's list.
    pub wood: usize,
    /// The color of that.
    pub color: Color,
    /// Its thickness.
    pub thickness_mm: f64,
    /// Where it lies across the slot, whose middle is 0.
    pub across_mm: [f64; 2],
}

/// Equal layers of a set's strips, to be ripped. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayerRips {
    /// Their wood, as a place in the vessel's list.
    pub wood: usize,
    /// Their thickness when they are glued.
    pub thickness_mm: f64,
    /// How thick they are sawn.
    pub sawn_mm: f64,
    /// How many.
    pub count: u32,
}

/// Works every set out; nothing where a set has no stack, for the reason in `troubles`.
pub fn plan_sets(plan: &Rings, troubles: &mut Vec<Trouble>) -> Vec<Option<SetPlan>> {
    let vessel = &plan.vessel;
    let planned = vessel.slot_sets.iter().enumerate().map(|(place, set)| {
        plan_set(plan, set)
            .map_err(|(field, reason)| {
                let field = format!("vessel.slot_sets.{place}.{field}");
                troubles.push(Trouble::at(field, reason));
            })
            .ok()
    });
    planned.collect()
}

/// Tells each set how often its stack is still trimmed: after every set, but between discs
/// only once these come off.
pub fn with_trims(mut sets: Vec<Option<SetPlan>>) -> Vec<Option<SetPlan>> {
    for place in 0..sets.len() {
        let Some(rings) = sets[place].as_ref().map(|own| own.rings.clone()) else {
            continue;
        };
        let later = sets[place..].iter().flatten();
        let trimmed =
            later.filter(|it| it.rings == rings && it.is_open() && it.discs_until.is_none());
        let trims = trimmed.count() as u32;
        if let Some(own) = &mut sets[place] {
            own.trims = trims;
        }
    }
    sets
}

type Refused = (&'static str, Reason);

/// Where a strip, or a layer of one, shows on a surface: heights above the foot, rising, and
/// the directions of its two edges.
pub type Trace = Vec<(f64, [f64; 2])>;

/// The most slots in all of a set.
const MOST_SLOTS: u32 = 96;

/// The plan of a set that the vessel need not have.
///
/// # Errors
/// Why there is none, and the field that it is about.
pub fn plan_set(plan: &Rings, set: &SlotSet) -> Result<SetPlan, Refused> {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let rings = rings_of(set, plan.rings.len())?;
    let slots = slots(vessel, set, *rings.start());
    if slots.count > MOST_SLOTS {
        let reason = Reason::OutOfRange {
            value: f64::from(set.beside_count),
            least: 1.0,
            most: f64::from((MOST_SLOTS / set.slot_count.max(1)).max(1)),
        };
        return Err(("beside_count", reason));
    }
    let stack = stack(plan, set, &rings).ok_or(("from_ring", Reason::NoWallInStack))?;
    let window = window(&stack, &slots, set);
    let most = window.most_mm().max(0.0);
    let shows = shows(set);
    let end_mm = match (shows, set.ends_at_mm) {
        (StripsShow::OutsidePartly, Some(end_mm)) => {
            Some(blade_ending_mm(plan, &rings, &stack, &slots, end_mm)?)
        }
        _ => None,
    };
    let own_mm = match set.held_by {
        StackHeld::Bridge => window.middle_mm(),
        StackHeld::Strips | StackHeld::Discs => through::blade_mm(&window),
    };
    let blade_mm = end_mm.or(set.blade_mm).or(own_mm).unwrap_or(most);
    let proud_mm = match set.held_by {
        StackHeld::Bridge | StackHeld::Discs => PROUD_MM,
        // It has no bottom to stand on: it is pushed in until it stands out on both sides.
        StackHeld::Strips => 2.0 * PROUD_MM,
    };
    let strip_mm = [
        set.strip_mm(),
        slots.strip_width_mm(filled_mm(set.held_by, blade_mm, &window)) + proud_mm,
        stack.strip_length_mm(&slots, blade_mm) + 2.0 * SPARE_MM,
    ];
    let [_, wide_mm, long_mm] = strip_mm;
    let sticks = set
        .layered()
        .map(|_| sticks(slots.count, [wide_mm, long_mm], &cutting(design)));
    Ok(SetPlan {
        layers: layers(plan, set),
        sticks,
        middle_mm: middle_mm(plan, &rings),
        cuts: stack.cuts(&slots, blade_mm),
        bridge_mm: stack.bridge_mm(&slots, blade_mm),
        between_mm: between_mm(&stack, &slots, set.held_by, blade_mm, &window),
        strip_mm,
        shows,
        held_by: set.held_by,
        rings,
        stack,
        slots,
        window,
        blade_mm,
        discs_since: None,
        discs_until: None,
        trims: 1,
    })
}

/// Where the strips of a set show.
fn shows(set: &SlotSet) -> StripsShow {
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
fn filled_mm(held_by: StackHeld, blade_mm: f64, window: &Window) -> f64 {
    match held_by {
        StackHeld::Bridge | StackHeld::Discs => blade_mm,
        StackHeld::Strips => blade_mm.min(window.least_mm.max(0.0)),
    }
}

/// The least wood between neighbouring slots: in the discs too, where these hold what is left
/// between them.
fn between_mm(
    stack: &Stack,
    slots: &Slots,
    held_by: StackHeld,
    blade_mm: f64,
    window: &Window,
) -> f64 {
    let filled_mm = filled_mm(held_by, blade_mm, window);
    match held_by {
        StackHeld::Bridge | StackHeld::Strips => stack.between_mm(slots, filled_mm),
        StackHeld::Discs => through::between_discs(stack, DISC_MM).between_mm(slots, filled_mm),
    }
}

/// The height of the blade at which strips end on the outside at a height above the foot. Where
/// the stack lies on flats and corners, so that slots are not alike deep, the shallowest ends
/// there and the others go on farther.
fn blade_ending_mm(
    plan: &Rings,
    rings: &std::ops::RangeInclusive<usize>,
    stack: &Stack,
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

/// The layers of a set's strips.
fn layers(plan: &Rings, set: &SlotSet) -> Vec<StripLayer> {
    let one = [StripeLayer {
        wood: set.wood,
        thickness_mm: set.strip_mm(),
    }];
    let said = set.layered().unwrap_or(&one);
    let thick_mm: Vec<f64> = said.iter().map(|it| it.thickness_mm).collect();
    let across = match set.layered() {
        Some(_) => across(&thick_mm, set.kerf_mm),
        None => vec![[-set.kerf_mm / 2.0, set.kerf_mm / 2.0]],
    };
    let layer = |(said, across_mm): (&StripeLayer, [f64; 2])| {
        let name = plan.vessel.woods.get(said.wood as usize);
        StripLayer {
            wood: said.wood as usize,
            color: crate::plan::woods::color(&plan.design, name.map_or("", String::as_str)),
            thickness_mm: said.thickness_mm,
            across_mm,
        }
    };
    said.iter().zip(across).map(layer).collect()
}

/// Whether a set has heights that its blade may have, with so many slots at such an angle.
pub fn has_window(plan: &Rings, place: usize, zigzag: (u32, f64)) -> bool {
    let vessel = &plan.vessel;
    let window = || {
        let mut set = vessel.slot_sets.get(place)?.clone();
        (set.slot_count, set.gauge_deg) = (zigzag.0, zigzag.1.to_degrees());
        let rings = rings_of(&set, plan.rings.len()).ok()?;
        let stack = stack(plan, &set, &rings)?;
        let slots = slots(vessel, &set, *rings.start());
        window(&stack, &slots, &set).middle_mm()
    };
    window().is_some()
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

fn middle_mm(plan: &Rings, rings: &std::ops::RangeInclusive<usize>) -> f64 {
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
            joint_rad: half * f64::from(ring.turn_half_segments + 1),
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

impl SetPlan {
    /// The finished outside's radius at both ends of the stack.
    pub fn end_radii_mm(&self) -> [f64; 2] {
        let radius = |level: Option<&Level>| level.map_or(1.0, |level| level.outside_mm);
        [
            radius(self.stack.wall.first()),
            radius(self.stack.wall.last()),
        ]
    }

    /// Length of thin strip that all its strips are crosscut from: each takes a kerf along.
    pub fn strip_in_all_mm(&self, kerf_mm: f64) -> f64 {
        f64::from(self.slots.count) * (self.strip_mm[2] + kerf_mm)
    }

    /// What its strips are told by where there is room for one color: the layer at the left.
    pub fn color(&self) -> Color {
        self.color_at(0)
    }

    /// The color of the layer in the middle: what a cut along a slot shows.
    pub fn middle_color(&self) -> Color {
        self.color_at(self.layer_at(0.0))
    }

    fn color_at(&self, layer: usize) -> Color {
        let none = Color { r: 0, g: 0, b: 0 };
        self.layers.get(layer).map_or(none, |it| it.color)
    }

    /// Which layer of a strip lies at a place across its slot.
    pub fn layer_at(&self, across_mm: f64) -> usize {
        let past = |layer: &StripLayer| layer.across_mm[1] <= across_mm;
        self.layers
            .partition_point(past)
            .min(self.layers.len().saturating_sub(1))
    }

    /// The layer that shows at a place: x to the right of someone in front of the piece, y
    /// away from them, z above the foot. Nothing where there is no strip; where slots of
    /// this set meet, that of the first.
    pub fn strip_at(&self, [x, y, z]: [f64; 3]) -> Option<&StripLayer> {
        let at = [x, y, z - self.middle_mm];
        let cut = self.cuts.iter().find(|cut| self.slots.holds(cut, at))?;
        let [_, across_mm] = self.slots.within_mm(cut, at);
        self.layers.get(self.layer_at(across_mm))
    }

    /// The sum of its layers' thicknesses.
    pub fn layers_mm(&self) -> f64 {
        self.layers.iter().map(|it| it.thickness_mm).sum()
    }

    /// The layers to rip for its sticks, equal ones together, in the order in which they
    /// come; none where its strips are of one wood.
    pub fn layers_to_rip(&self) -> Vec<LayerRips> {
        let Some(sticks) = &self.sticks else {
            return Vec::new();
        };
        let mut rips: Vec<LayerRips> = Vec::new();
        for layer in &self.layers {
            let is_same = |it: &&mut LayerRips| {
                it.wood == layer.wood && (it.thickness_mm - layer.thickness_mm).abs() < 1e-6
            };
            match rips.iter_mut().find(is_same) {
                Some(same) => same.count += sticks.count,
                None => rips.push(LayerRips {
                    wood: layer.wood,
                    thickness_mm: layer.thickness_mm,
                    sawn_mm: sawn_mm(layer.thickness_mm),
                    count: sticks.count,
                }),
            }
        }
        rips
    }

    /// Whether there is a height that its blade may have: without one no figure of it is to
    /// be used.
    pub fn is_open(&self) -> bool {
        self.window.middle_mm().is_some()
    }

    /// Whether a hand can set its blade: the window leaves so much either way.
    pub fn is_easily_set(&self) -> bool {
        self.is_open() && self.window.room_mm() >= LEAST_ROOM_MM
    }

    /// Whether its slots go through the whole wall.
    pub fn is_through(&self) -> bool {
        self.held_by != StackHeld::Bridge
    }

    /// How deep its strips go into their slots, as a height of the blade.
    fn filled_mm(&self) -> f64 {
        filled_mm(self.held_by, self.blade_mm, &self.window)
    }

    /// How thick what is between the stack's face and the fence is: a disc of scrap or nothing.
    pub fn disc_mm(&self) -> f64 {
        match self.held_by {
            StackHeld::Bridge | StackHeld::Strips => 0.0,
            StackHeld::Discs => DISC_MM,
        }
    }

    /// How far across the discs are that hold it, at the foot's side and at the rim's: as the
    /// faces are at their flats. Nothing where none are.
    pub fn discs_across_mm(&self) -> Option<[f64; 2]> {
        let faces = [self.stack.layers.first()?, self.stack.layers.last()?];
        let across = faces.map(|layer| 2.0 * layer.outside.least_mm());
        (self.held_by == StackHeld::Discs).then_some(across)
    }

    /// What stays of the middle of these discs, across.
    pub fn discs_middle_mm(&self) -> f64 {
        let bottoms = self.cuts.iter().map(|cut| cut.bottom_mm);
        2.0 * bottoms.fold(f64::MAX, f64::min)
    }

    /// Volume of its strips in the glued stack, and of what is left of them in the finished
    /// wall, cubic millimeters.
    pub fn strips_mm3(&self) -> [f64; 2] {
        let slots = &self.slots;
        let deep = slots.depth_mm(self.filled_mm()).max(0.0);
        let thick = self.strip_mm[0] / slots.gauge_rad.cos();
        let glued = f64::from(slots.count) * thick * deep * self.stack.height_mm();
        // Seen along the axis: how far in the middle of a slot a surface is, and its bottom.
        let thick = self.strip_mm[0] / slots.level_cosine();
        let of_slot = |cut: &Cut| {
            let within = |level: &Level| {
                let [beside, bottom] = slots.middle_seen_mm(cut, level.z_mm);
                let at = |radius: f64| (radius * radius - beside * beside).max(0.0).sqrt();
                (at(level.outside_mm) - at(level.inside_mm).max(bottom)).max(0.0)
            };
            let pairs = self.stack.wall.windows(2);
            let areas = pairs.map(|two| {
                let mean = f64::midpoint(within(&two[0]), within(&two[1]));
                mean * (two[1].z_mm - two[0].z_mm)
            });
            thick * areas.sum::<f64>()
        };
        [glued, self.cuts.iter().map(of_slot).sum()]
    }

    /// What glue covers between the layers of its sticks, square millimeters.
    pub fn layers_glue_mm2(&self) -> f64 {
        let sticks = self.sticks.as_ref();
        sticks.map_or(0.0, |it| it.glue_mm2(self.layers.len()))
    }

    /// What glue covers in its slots, square millimeters: both sides of each, and its bottom
    /// where it has one.
    pub fn glue_mm2(&self) -> f64 {
        let long_mm = self.stack.height_mm() / self.slots.gauge_rad.cos();
        let deep_mm = self.slots.depth_mm(self.filled_mm()).max(0.0);
        let bottom_mm = if self.is_through() {
            0.0
        } else {
            self.strip_mm[0]
        };
        f64::from(self.slots.count) * long_mm * (2.0 * deep_mm + bottom_mm)
    }

    /// How far a 10 in blade stands out of the table behind its middle, along its path: half a
    /// chord. So far it comes out behind the fence once that stands over the middle.
    pub fn blade_behind_mm(&self) -> f64 {
        let up_mm = self.blade_mm / self.slots.tilt_rad.cos();
        let over_mm = (BLADE_RADIUS_MM - up_mm).max(0.0);
        (BLADE_RADIUS_MM * BLADE_RADIUS_MM - over_mm * over_mm).sqrt()
    }

    /// From the axis to the table, for the first slot.
    pub fn table_mm(&self) -> f64 {
        self.stack.table_mm(self.slots.first_rad)
    }

    /// The gauge angle at which a set and its opposite meet end to end.
    pub fn zigzag_rad(&self) -> f64 {
        self.zigzag_between_rad(self.end_radii_mm())
    }

    /// The same for other radii at the stack's ends.
    pub fn zigzag_between_rad(&self, end_radii_mm: [f64; 2]) -> f64 {
        let height_mm = self.stack.height_mm();
        self.slots
            .zigzag_rad(height_mm, end_radii_mm, self.table_mm())
    }

    /// The whole number of slots that comes nearest to meeting at the present angle, and
    /// the angle at which it does.
    pub fn nearest_zigzag(&self) -> (u32, f64) {
        let (height, ends) = (self.stack.height_mm(), self.end_radii_mm());
        let count = self.slots.zigzag_count(height, ends, self.table_mm());
        let count = count.round().clamp(2.0, 96.0) as u32;
        let slots = Slots {
            count,
            beside: 1,
            ..self.slots
        };
        (count, slots.zigzag_rad(height, ends, self.table_mm()))
    }

    /// From the first slot round the widest ring's outside to a direction, millimeters:
    /// what an index strip wrapped round the stack shows.
    pub fn round_mm(&self, direction_rad: f64) -> f64 {
        let zero = self.slots.first_rad;
        let widest = self.stack.layers.iter().max_by(|one, other| {
            let reach = |layer: &Layer| layer.outside.farthest_mm();
            reach(one).total_cmp(&reach(other))
        });
        widest.map_or(0.0, |layer| {
            layer.outside.round_mm(direction_rad) - layer.outside.round_mm(zero)
        })
    }

    /// All the way round the widest ring.
    pub fn circumference_mm(&self) -> f64 {
        self.round_mm(self.slots.first_rad + TAU)
    }

    /// The finished radii at a height from the stack's middle, outside and inside.
    pub fn radii_mm(&self, z_mm: f64) -> [f64; 2] {
        let wall = &self.stack.wall;
        let above = wall.partition_point(|level| level.z_mm < z_mm);
        let (Some(high), Some(low)) = (
            wall.get(above.min(wall.len().saturating_sub(1))),
            wall.get(above.saturating_sub(1)),
        ) else {
            return [0.0; 2];
        };
        let span = high.z_mm - low.z_mm;
        let share = if span > 0.0 {
            ((z_mm - low.z_mm) / span).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let between = |from: f64, to: f64| from + (to - from) * share;
        [
            between(low.outside_mm, high.outside_mm),
            between(low.inside_mm, high.inside_mm),
        ]
    }

    /// Between which heights above the foot the strips show outside: those of the shortest, since
    /// slots in flats and corners are not alike deep.
    pub fn shown_mm(&self) -> Vec<[f64; 2]> {
        let of_slot = |slot: usize| -> Vec<[f64; 2]> {
            let ends = |run: &Trace| Some([run.first()?.0, run.last()?.0]);
            self.traces(slot, false).iter().filter_map(ends).collect()
        };
        let long_mm = |runs: &Vec<[f64; 2]>| runs.iter().map(|[low, high]| high - low).sum::<f64>();
        let all = (0..self.cuts.len()).map(of_slot);
        all.min_by(|one, other| long_mm(one).total_cmp(&long_mm(other)))
            .unwrap_or_default()
    }

    /// Where one slot's strip shows on the finished outside or inside: its two edges by
    /// height, rising, each as height above the foot and directions; a strip that ends
    /// within the wall's height comes to a point there. Several where it is interrupted.
    pub fn traces(&self, slot: usize, is_inside: bool) -> Vec<Trace> {
        self.traces_of(self.slots.whole_mm(), slot, is_inside)
    }

    /// The same of one layer.
    pub fn layer_traces(&self, layer: usize, slot: usize, is_inside: bool) -> Vec<Trace> {
        let of = self.layers.get(layer);
        of.map_or_else(Vec::new, |of| self.traces_of(of.across_mm, slot, is_inside))
    }

    /// The same of what lies between two places across the slot.
    fn traces_of(&self, across_mm: [f64; 2], slot: usize, is_inside: bool) -> Vec<Trace> {
        let Some(cut) = self.cuts.get(slot) else {
            return Vec::new();
        };
        let side = usize::from(is_inside);
        let shown = |z: f64, radius: f64| {
            let ends = self.slots.shown_of(across_mm, z, radius, cut)?;
            Some((self.middle_mm + z, ends.map(|end| cut.direction_rad + end)))
        };
        let mut runs: Vec<Trace> = Vec::new();
        let mut before: Option<(f64, bool)> = None;
        for level in &self.stack.wall {
            let z = level.z_mm;
            let here = shown(z, [level.outside_mm, level.inside_mm][side]);
            if let Some((last, was_shown)) = before
                && was_shown != here.is_some()
            {
                // It begins or ends in between: halving finds where.
                let (mut seen, mut unseen) = if was_shown { (last, z) } else { (z, last) };
                for _ in 0..24 {
                    let middle = f64::midpoint(seen, unseen);
                    if shown(middle, self.radii_mm(middle)[side]).is_some() {
                        seen = middle;
                    } else {
                        unseen = middle;
                    }
                }
                if !was_shown {
                    runs.push(Vec::new());
                }
                let end = shown(seen, self.radii_mm(seen)[side]);
                if let Some((run, end)) = runs.last_mut().zip(end) {
                    run.push(end);
                }
            } else if before.is_none() {
                runs.push(Vec::new());
            }
            if let Some((run, here)) = runs.last_mut().zip(here) {
                run.push(here);
            }
            before = Some((z, here.is_some()));
        }
        runs.retain(|run| run.len() > 1);
        runs
    }
}

/// How many segments of the lowest ring one slot is from the next, where they divide
/// evenly.
pub fn segments_apart(vessel: &Vessel, set: &SlotSet) -> Option<u32> {
    let ring = vessel
        .rings
        .get(set.from_ring.min(set.to_ring).checked_sub(1)? as usize)?;
    let count = ring.segment_count;
    // Wide and narrow ones come again within a slot's step, or they are not counted off.
    let repeat = ring.round().repeats_after();
    let apart = count / set.slot_count.max(1);
    (ring.made_of == MadeOf::Segments
        && count.is_multiple_of(set.slot_count.max(1))
        && apart.is_multiple_of(repeat))
    .then_some(apart)
}

/// The lowest ring of a stack at whose joints all slots of these sets stand.
pub fn at_joints_of(vessel: &Vessel, sets: &[&SetPlan]) -> Option<usize> {
    let is_joint = |place: usize, direction_rad: f64| {
        let ring = vessel.rings.get(place)?;
        if ring.made_of != MadeOf::Segments || ring.between != Between::Nothing {
            return None;
        }
        let round = ring.round();
        let here = round.segment_at(direction_rad);
        let mut edges = [here, here + 1]
            .into_iter()
            .map(|edge| round.edge_rad(edge));
        Some(edges.any(|edge| within_half(direction_rad - edge, TAU).abs() < SAME_RAD))
    };
    let mut rings = sets.first()?.rings.clone();
    rings.find(|place| {
        let mut all = sets.iter().flat_map(|own| own.slots.directions());
        all.all(|direction_rad| is_joint(*place, direction_rad) == Some(true))
    })
}

/// Angles nearer than this are one, radians: more than what `neat_deg` rounds off.
const SAME_RAD: f64 = 1e-5;

/// An angle brought into half a turn on either side of 0.
pub(crate) fn within_half(angle: f64, turn: f64) -> f64 {
    (angle + turn / 2.0).rem_euclid(turn) - turn / 2.0
}

/// An angle at which ends meet, degrees: to the hundredth, and one that a gauge is set to.
pub fn met_deg(gauge_rad: f64) -> f64 {
    (gauge_rad.to_degrees() * 100.0).round().min(8900.0) / 100.0
}

/// To a ten-thousandth of a degree, so that links stay short, and within a turn either way.
pub fn neat_deg(degrees: f64) -> f64 {
    let within = if degrees.abs() > 360.0 {
        degrees % 360.0
    } else {
        degrees
    };
    (within * 1e4).round() / 1e4
}

/// Whether two sets share rings, so that the second is sawn through the first's strips.
pub fn cross(one: &SetPlan, other: &SetPlan) -> bool {
    one.rings.start() <= other.rings.end() && other.rings.start() <= one.rings.end()
}

/// The half step that turns a set into its zigzag partner, degrees.
pub fn half_step_deg(count: u32) -> f64 {
    (PI / f64::from(count.max(1))).to_degrees()
}
