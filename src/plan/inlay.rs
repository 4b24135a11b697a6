//! The slot sets of a vessel worked out: how each stack lies on the saw, between which
//! heights the blade may stand, what is left, and the strips that fill the slots.

use crate::design::trouble::Trouble;
use crate::design::{Between, MadeOf, SlotSet, StackHeld, StripeLayer, StripsShow, Vessel};
use crate::draw::Color;
use crate::plan::on_saw::{
    OnSaw, Refused, Sawn, filled_mm, is_easily_set, middle_mm, shows, within_half,
};
use crate::plan::ring::cutting;
use crate::plan::rings::Rings;
use crate::trade::lathe;
use crate::trade::layered::{Sticks, across, sawn_mm, sticks};
use crate::trade::spline::{Cut, Layer, Level, Slots, Stack, Window};
use crate::trade::through;
use std::f64::consts::{PI, TAU};

/// How far a strip stands proud of the stack until it is trimmed: 1/16 in (our own
/// choice, no published source).
pub const PROUD_MM: f64 = 1.587_5;

/// What a strip is longer than its slot at each end: 1/4 in (our own choice, no
/// published source).
pub const SPARE_MM: f64 = 6.35;

/// Half the diameter of the blade that most saws have: 10 in (common practice, no published
/// source).
const BLADE_RADIUS_MM: f64 = 127.0;

/// How much thicker the block behind the fence is than the blade comes out there: 1 in (our own
/// choice, no published source).
pub const BLOCK_BEYOND_MM: f64 = 25.4;

/// A stop block at the fence's end and its clamp: 1 1/2 in (our own choice, no published source).
const STOP_MM: f64 = 38.1;

/// What a clamp stays above the blade: 1 in (common practice, no published source).
pub const CLAMP_ABOVE_MM: f64 = 25.4;

/// How thick a disc of scrap is that holds a stack: 3/4 in, as boards are sold (our own choice,
/// no published source).
pub const DISC_MM: f64 = 19.05;

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

/// Where a strip, or a layer of one, shows on a surface: heights above the foot, rising, and
/// the directions of its two edges.
pub type Trace = Vec<(f64, [f64; 2])>;

/// The plan of a set that the vessel need not have.
///
/// # Errors
/// Why there is none, and the field that it is about.
pub fn plan_set(plan: &Rings, set: &SlotSet) -> Result<SetPlan, Refused> {
    let Sawn {
        slots,
        window,
        blade_mm,
        on_saw: OnSaw { rings, stack },
    } = OnSaw::of(plan, set)?.set(plan, set)?;
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
        .map(|_| sticks(slots.count, [wide_mm, long_mm], &cutting(&plan.design)));
    Ok(SetPlan {
        layers: layers(plan, set),
        sticks,
        middle_mm: middle_mm(plan, &rings),
        cuts: stack.cuts(&slots, blade_mm),
        bridge_mm: stack.bridge_mm(&slots, blade_mm),
        between_mm: between_mm(&stack, &slots, set.held_by, blade_mm, &window),
        strip_mm,
        shows: shows(set),
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
        is_easily_set(&self.window)
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

    /// How far the line on the gauge's fence stands to the right of the kerf in it, as seen by
    /// who pushes; left is below 0. There stands the stack's middle, so that the middle of the
    /// slot is halfway up the stack once it was trimmed so many times: the slot goes sideways by
    /// the tangent of the gauge. A disc between the two counts.
    pub fn beside_kerf_mm(&self, trims: u32) -> f64 {
        let longer_mm = f64::from(trims) * lathe::FACED_MM;
        let to_middle_mm = self.stack.height_mm() / 2.0 + self.disc_mm() + longer_mm;
        -self.slots.gauge_rad.tan() * to_middle_mm
    }

    /// How long the gauge's fence is, its kerf in the middle: the stack on it and a stop block
    /// fit on either side, so that one does for a set and its mirror image.
    pub fn fence_mm(&self) -> f64 {
        let half_mm = self.circumference_mm() / TAU;
        2.0 * (self.beside_kerf_mm(self.trims).abs() + half_mm + STOP_MM)
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
