//! A vessel worked out: every ring of its stack with its segment and strips, what it
//! weighs, holds and takes.

use crate::design::field::key;
use crate::design::trouble::{Reason, Trouble};
use crate::design::{Between, Design, MadeOf, StackRing, Vessel};
use crate::draw::Color;
use crate::plan;
use crate::plan::base::{self, BasePlan};
use crate::plan::inlay::{self, SetPlan};
use crate::plan::measured;
use crate::plan::order;
use crate::plan::woods;
use crate::trade::ring::{self, RingError, Segment, Wanted};
use crate::trade::room::Face;
use crate::trade::shape::{self, Wall};
use crate::trade::strip::{StripTooShort, Strips, strips, together};
use crate::trade::vessel::{self, Joint, Span};
use crate::trade::wood;

/// All that follows from a vessel.
#[derive(Clone, Debug)]
pub struct StackPlan {
    /// The wall; missing when the points make no curve.
    pub wall: Option<Wall>,
    /// The rings, from the foot up.
    pub rings: Vec<RingInStack>,
    /// The joints between them.
    pub joints: Vec<Joint>,
    /// What it comes to.
    pub totals: Totals,
    /// Its base, where one was said.
    pub base: Option<BasePlan>,
    /// Its slot sets; nothing for one without a stack.
    pub slot_sets: Vec<Option<SetPlan>>,
    /// What could not be computed.
    pub troubles: Vec<Trouble>,
}

/// One ring of the stack.
#[derive(Clone, Debug)]
pub struct RingInStack {
    /// Its place.
    pub span: Span,
    /// What is wanted of it, extras included.
    pub wanted: Wanted,
    /// Its segment; missing for a disc, or when it cannot be made.
    pub segment: Option<Segment>,
    /// Its strips, those of all its woods together.
    pub strips: Option<Strips>,
    /// The same wood by wood: a strip is of one.
    pub strips_by_wood: Vec<WoodStrips>,
    /// Largest radius of the glued blank, corners included.
    pub reach_mm: f64,
    /// Radii of its true circle and hole when cut as shown.
    pub as_cut_mm: (f64, f64),
    /// Its faces as they were measured; nothing before it is glued.
    pub measured: Option<[Face; 2]>,
    /// Volume of the blank, cubic millimeters.
    pub blank_mm3: f64,
    /// Volume of the finished wall (and floor) within it.
    pub finished_mm3: f64,
    /// The colors of its pattern's woods.
    pub colors: Vec<Color>,
}

impl RingInStack {
    /// Wood for a disc: it is sawn from a square.
    pub fn disc_blank_mm3(&self) -> f64 {
        let side = 2.0 * self.reach_mm;
        side * side * (self.wanted.height_mm + 2.0 * self.wanted.face_allowance_mm)
    }

    /// The color of a segment's wood.
    pub fn color_of(&self, segment: u32) -> Color {
        let count = self.colors.len().max(1);
        let color = self.colors.get(segment as usize % count);
        color.copied().unwrap_or(crate::draw::palette::PAPER)
    }
}

/// Strips of one wood for one ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WoodStrips {
    /// The wood's place in the vessel's list.
    pub wood: usize,
    /// Segments of it.
    pub segment_count: u32,
    /// Its strips.
    pub strips: Strips,
}

/// What a vessel comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Totals {
    /// Weight of the glued blank, kilograms; missing when a wood has no figure.
    pub blank_kg: Option<f64>,
    /// Weight of the finished vessel.
    pub finished_kg: Option<f64>,
    /// What it holds to the rim, cubic millimeters; 0 where it is open below.
    pub held_mm3: f64,
    /// Center of mass above the foot, millimeters, as if of one wood.
    pub center_of_mass_mm: f64,
    /// What is taken of each wood.
    pub woods: Vec<WoodUse>,
    /// Cuts at the miter saw.
    pub cut_count: u32,
    /// Glue joints between segments, and between rings.
    pub joint_count: u32,
    /// Area of these joints as they are glued, before anything is turned away, square
    /// millimeters.
    pub glue_mm2: f64,
}

/// How much of a wood a vessel takes.
#[derive(Clone, Debug, PartialEq)]
pub struct WoodUse {
    /// Its place in the vessel's list; none for a wood of the base alone.
    pub wood: Option<usize>,
    /// Its name.
    pub name: String,
    /// Segments, discs and plies of it.
    pub piece_count: u32,
    /// Strips of it that are glued into slots.
    pub slot_strip_count: u32,
    /// Volume of its strips and discs before they are cut, cubic millimeters.
    pub strip_mm3: f64,
}

/// Works a vessel out.
pub fn plan_stack(design: &Design, vessel: &Vessel) -> StackPlan {
    let mut troubles = Vec::new();
    let Some(wall) = wall(design, vessel, &mut troubles) else {
        return StackPlan {
            wall: None,
            rings: Vec::new(),
            joints: Vec::new(),
            totals: Totals::default(),
            base: None,
            slot_sets: Vec::new(),
            troubles,
        };
    };
    // A ring that came out lower brings down all those above it.
    let heights: Vec<f64> = vessel
        .rings
        .iter()
        .enumerate()
        .map(|(place, ring)| {
            let measured = design.measured.get(place).and_then(|it| it.height_mm);
            measured.unwrap_or(ring.height_mm)
        })
        .collect();
    let spans = vessel::spans(&wall, &heights);
    let hollow = wall.inside_samples(shape::HOLLOW_SAMPLES);
    let base_hole_mm = base::hole_mm(design, vessel, &wall);
    let rings: Vec<RingInStack> = vessel
        .rings
        .iter()
        .zip(&spans)
        .enumerate()
        .map(|(place, (ring, span))| {
            let has_seat = place == 0 && ring.made_of == MadeOf::Segments;
            let base_hole_mm = base_hole_mm.filter(|_| has_seat);
            let planned = plan_ring(design, ring, span, place, base_hole_mm, &mut troubles);
            RingInStack {
                finished_mm3: finished_mm3(&wall, &hollow, span),
                colors: colors(design, vessel, ring),
                ..planned
            }
        })
        .collect();
    let joints = joints(&wall, &spans, &rings);
    let mut plan = StackPlan {
        wall: Some(wall),
        rings,
        joints,
        totals: Totals::default(),
        base: None,
        slot_sets: Vec::new(),
        troubles: Vec::new(),
    };
    plan.slot_sets = inlay::plan_sets(design, vessel, &plan, &mut troubles);
    plan.base = base::plan_said(design, vessel, &plan);
    plan.totals = totals(design, vessel, &plan, &hollow);
    plan.troubles = troubles;
    plan
}

/// The joints: no wider than the measured rings on both sides are.
fn joints(wall: &Wall, spans: &[Span], rings: &[RingInStack]) -> Vec<Joint> {
    let mut joints = vessel::joints(wall, spans);
    for (joint, both) in joints.iter_mut().zip(rings.windows(2)) {
        let below = both[0].measured.map(|faces| faces[1]);
        let above = both[1].measured.map(|faces| faces[0]);
        for face in below.into_iter().chain(above) {
            joint.outside_radius_mm = joint.outside_radius_mm.min(face.outside_mm);
            joint.inside_radius_mm = joint
                .inside_radius_mm
                .max(face.hole_mm)
                .min(joint.outside_radius_mm);
        }
    }
    joints
}

/// The wall of a vessel, or the troubles that leave none.
fn wall(design: &Design, vessel: &Vessel, troubles: &mut Vec<Trouble>) -> Option<Wall> {
    let Some(outside) = vessel.curve() else {
        troubles.push(Trouble::at(key::POINTS, Reason::NoCurve));
        return None;
    };
    let height_mm = outside.height_mm();
    let floor_mm = base::floor_mm(design, vessel);
    if floor_mm >= height_mm {
        let reason = Reason::FloorPastRim {
            floor_mm,
            height_mm,
        };
        troubles.push(Trouble::at(key::FLOOR, reason));
    }
    let floor = floor_mm.min(height_mm);
    Some(Wall::inside(
        outside,
        vessel.foot_wall_mm,
        vessel.rim_wall_mm,
        floor,
    ))
}

/// What is wanted of a ring in its span.
fn wanted(design: &Design, ring: &StackRing, span: &Span, base_hole_mm: Option<f64>) -> Wanted {
    // A base let in leaves its ring a hole where the floor would need none.
    let hole_mm = base_hole_mm.unwrap_or(span.inside_radius_mm);
    let inside_radius_mm = (hole_mm - ring.inside_extra_mm).max(0.0);
    Wanted {
        outside_radius_mm: span.outside_radius_mm + ring.outside_extra_mm,
        inside_radius_mm,
        height_mm: ring.height_mm,
        segment_count: ring.segment_count,
        outside_allowance_mm: design.allowance.outside_mm,
        // A small hole is not worth keeping wood in: it is turned out of the whole.
        inside_allowance_mm: design.allowance.inside_mm.min(inside_radius_mm),
        face_allowance_mm: design.allowance.face_mm,
        spacer_mm: match ring.between {
            Between::Nothing => 0.0,
            Between::Spacer | Between::Gap => ring.spacer_mm,
        },
    }
}

fn plan_ring(
    design: &Design,
    ring: &StackRing,
    span: &Span,
    place: usize,
    base_hole_mm: Option<f64>,
    troubles: &mut Vec<Trouble>,
) -> RingInStack {
    let wanted = wanted(design, ring, span, base_hole_mm);
    let segment = match ring.made_of {
        MadeOf::Disc => None,
        MadeOf::Segments => wanted
            .segment()
            .map_err(|error| troubles.push(at_ring(error, place)))
            .ok(),
    };
    let mut too_short = None;
    let strips_by_wood = segment.map_or_else(Vec::new, |segment| {
        strips_by_wood(design, ring, &segment, &mut too_short)
    });
    troubles.extend(too_short.map(plan::too_short));
    let rough = wanted.outside_radius_mm + wanted.outside_allowance_mm;
    let as_cut_mm = segment.map_or((rough, 0.0), |segment| {
        let (circle, hole) = plan::as_cut_mm(design, &wanted, &segment);
        (circle / 2.0, hole / 2.0)
    });
    let glued = design
        .measured
        .get(place)
        .filter(|it| measured::is_measured(it));
    let height = wanted.height_mm + 2.0 * wanted.face_allowance_mm;
    RingInStack {
        span: *span,
        wanted,
        segment,
        strips: together(strips_by_wood.iter().map(|own| &own.strips)),
        strips_by_wood,
        reach_mm: segment.map_or(rough, |segment| segment.across_corners_mm / 2.0),
        as_cut_mm,
        measured: glued.and_then(|ring| measured::faces(ring, Some(as_cut_mm))),
        blank_mm3: segment.map_or(std::f64::consts::PI * rough * rough * height, |segment| {
            vessel::ring_volume_mm3(&wanted, &segment, ring.between == Between::Spacer)
        }),
        finished_mm3: 0.0,
        colors: Vec::new(),
    }
}

/// The strips of each of a ring's woods: a strip is of one. That the strips at hand are
/// too short is told once.
fn strips_by_wood(
    design: &Design,
    ring: &StackRing,
    segment: &Segment,
    too_short: &mut Option<StripTooShort>,
) -> Vec<WoodStrips> {
    let mut counts: Vec<(usize, u32)> = Vec::new();
    for wood in (0..ring.segment_count).map(|place| ring.wood_of(place)) {
        match counts.iter_mut().find(|it| it.0 == wood) {
            Some((_, count)) => *count += 1,
            None => counts.insert(counts.partition_point(|it| it.0 < wood), (wood, 1)),
        }
    }
    let of_wood = |(wood, segment_count): (usize, u32)| {
        let (strips, error) = strips(segment, segment_count, &plan::cutting(design));
        *too_short = too_short.take().or(error);
        WoodStrips {
            wood,
            segment_count,
            strips,
        }
    };
    counts.into_iter().map(of_wood).collect()
}

/// The colors of a ring's pattern.
fn colors(design: &Design, vessel: &Vessel, ring: &StackRing) -> Vec<Color> {
    let color = |place: &u32| {
        let name = vessel.woods.get(*place as usize);
        woods::color(design, name.map_or("", String::as_str))
    };
    ring.pattern.iter().map(color).collect()
}

/// Why a ring cannot be made, at that ring's field.
fn at_ring(error: RingError, place: usize) -> Trouble {
    let field = match error {
        RingError::SpacerTooThick { .. } => format!("vessel.rings.{place}.spacer_mm"),
        RingError::AllowancePastCenter { .. } => key::INSIDE_ALLOWANCE.to_owned(),
        RingError::NoWall { .. } => format!("vessel.rings.{place}.height_mm"),
    };
    Trouble::at(field, error.into())
}

/// Finished wood between two heights: the outside less the hollow, in thin frusta.
fn finished_mm3(wall: &Wall, hollow: &[(f64, f64)], span: &Span) -> f64 {
    let rim = wall.outside.height_mm();
    let (from, to) = (span.bottom_mm.min(rim), span.top_mm.min(rim));
    let outside = wall.outside_between(from, to);
    let hollow_mm3 = shape::volume_mm3(&shape::between(hollow, from, to));
    // On wild outlines the hollow, taken straight between its samples, may cut the wall.
    (shape::volume_mm3(&outside) - hollow_mm3).max(0.0)
}

fn totals(design: &Design, vessel: &Vessel, plan: &StackPlan, hollow: &[(f64, f64)]) -> Totals {
    let joints = &plan.joints;
    let mut totals = Totals {
        woods: wood_use(design, vessel, plan),
        glue_mm2: plan.rings.windows(2).map(glued_mm2).sum(),
        joint_count: joints.len() as u32,
        blank_kg: let_in_kg(design, plan),
        finished_kg: Some(0.0),
        ..Totals::default()
    };
    if let Some(wall) = &plan.wall {
        (_, totals.center_of_mass_mm) = vessel::finished_around(wall, hollow);
    }
    if !base::is_open_below(design) {
        totals.held_mm3 = shape::volume_mm3(hollow);
    }
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let plies = plan.base.as_ref();
        let plies = plies.filter(|_| place == 0 && base::plies_for_disc(design, vessel));
        let density = match plies {
            Some(plies) => plies.density_kg_m3(design),
            None => mean_density_kg_m3(design, vessel, ring),
        };
        let add = |sum: Option<f64>, volume_mm3: f64| {
            sum.zip(density)
                .map(|(sum, density)| sum + volume_mm3 * 1e-9 * density)
        };
        let taken_mm3 = if place == 0 { mortise_mm3(plan) } else { 0.0 };
        totals.blank_kg = add(totals.blank_kg, planned.blank_mm3 - taken_mm3);
        totals.finished_kg = add(totals.finished_kg, planned.finished_mm3);
        if planned.segment.is_some() {
            let count = ring.segment_count;
            let faces = match ring.between {
                Between::Nothing => count,
                Between::Spacer => 2 * count,
                Between::Gap => 0,
            };
            totals.joint_count += faces;
            totals.glue_mm2 += order::ring_glue_mm2(ring, planned);
            // Each cut ends one segment and begins the next; a fresh strip takes one more.
            let strip_count = planned.strips.map_or(1, |strips| strips.strip_count.max(1));
            totals.cut_count += count + strip_count;
        }
    }
    totals
}

/// Area of the glue between two neighbors.
fn glued_mm2(both: &[RingInStack]) -> f64 {
    order::stack_glue_mm2(&both[0], &both[1])
}

/// The base that is let into the lowest ring.
fn let_in(plan: &StackPlan) -> Option<(&BasePlan, &RingInStack)> {
    let base = plan.base.as_ref().filter(|base| base.is_let_in())?;
    Some((base, plan.rings.first()?))
}

/// Weight of a base that is let in; missing when a wood has no figure.
fn let_in_kg(design: &Design, plan: &StackPlan) -> Option<f64> {
    let Some((base, _)) = let_in(plan) else {
        return Some(0.0);
    };
    Some(base.density_kg_m3(design)? * base.disc_mm3() * 1e-9)
}

/// What the mortise takes of the lowest ring beyond the hole that its segments leave.
fn mortise_mm3(plan: &StackPlan) -> f64 {
    let Some((base, ring)) = let_in(plan) else {
        return 0.0;
    };
    let hole_mm2 = ring.segment.as_ref().map_or(0.0, Segment::hole_mm2);
    let height_mm = ring.wanted.height_mm;
    (base.taken_mm3(height_mm) - hole_mm2 * height_mm).max(0.0)
}

/// Density of a ring's mix of woods; missing when one has no figure.
fn mean_density_kg_m3(design: &Design, vessel: &Vessel, ring: &StackRing) -> Option<f64> {
    let count = match ring.made_of {
        MadeOf::Disc => 1,
        MadeOf::Segments => ring.segment_count,
    };
    let sum = (0..count)
        .map(|segment| {
            woods::named(design, vessel.woods.get(ring.wood_of(segment))?)?.density_kg_m3()
        })
        .sum::<Option<f64>>()?;
    Some(sum / f64::from(count))
}

/// What is taken of each wood, in the order of the vessel's list and then of the base's
/// plies; those not used are left out.
fn wood_use(design: &Design, vessel: &Vessel, plan: &StackPlan) -> Vec<WoodUse> {
    let unused = |(wood, name): (usize, &String)| WoodUse {
        wood: Some(wood),
        name: name.clone(),
        piece_count: 0,
        slot_strip_count: 0,
        strip_mm3: 0.0,
    };
    let mut woods: Vec<WoodUse> = vessel.woods.iter().enumerate().map(unused).collect();
    let blanks = plan.base.as_ref().map_or(&[][..], |base| &base.blanks);
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        if let Some(segment) = planned.segment {
            for own in &planned.strips_by_wood {
                if let Some(each) = woods.get_mut(own.wood) {
                    each.piece_count += own.segment_count;
                    each.strip_mm3 += own.strips.total_length_mm
                        * segment.strip_width_mm
                        * segment.strip_height_mm;
                }
            }
            continue;
        }
        // Where a base was said, its own blanks are sawn in place of the disc.
        let is_base = place == 0 && ring.made_of == MadeOf::Disc && !blanks.is_empty();
        if let Some(each) = woods.get_mut(ring.wood_of(0)).filter(|_| !is_base) {
            each.piece_count += 1;
            each.strip_mm3 += planned.disc_blank_mm3();
        }
    }
    for (set, own) in vessel.slot_sets.iter().zip(&plan.slot_sets) {
        if let (Some(own), Some(each)) = (own, woods.get_mut(set.wood as usize)) {
            let [_, wide, long] = own.strip_mm;
            each.slot_strip_count += own.slots.count;
            each.strip_mm3 += own.strips_board_mm(design.shop.kerf_mm) * wide * long;
        }
    }
    for blank in blanks {
        let is_it = |each: &WoodUse| wood::is_same(&each.name, &blank.wood);
        let place = woods.iter().position(is_it).unwrap_or_else(|| {
            woods.push(WoodUse {
                wood: None,
                name: blank.wood.clone(),
                piece_count: 0,
                slot_strip_count: 0,
                strip_mm3: 0.0,
            });
            woods.len() - 1
        });
        if let Some(each) = woods.get_mut(place) {
            each.piece_count += blank.count;
            each.strip_mm3 += blank.side_mm * blank.side_mm * blank.block_mm;
        }
    }
    woods.retain(|each| each.piece_count + each.slot_strip_count > 0);
    woods
}

/// The directions of a ring's joints, radians, 0 at the front.
pub fn joint_directions(ring: &StackRing) -> impl Iterator<Item = f64> + use<> {
    let half = ring::half_angle_rad(ring.segment_count);
    let turn = f64::from(ring.turn_half_segments) * half;
    (0..ring.segment_count).map(move |joint| half * (2.0 * f64::from(joint) + 1.0) + turn)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::start;

    #[test]
    fn the_rings_of_a_start_hold_its_wall() {
        for shape in start::ALL {
            let design = start::begin(&Design::default(), shape.word, 250.0, 120.0);
            let vessel = design.vessel.clone().unwrap();
            let plan = plan_stack(&design, &vessel);
            assert!(
                plan.troubles.is_empty(),
                "{}: {:?}",
                shape.word,
                plan.troubles
            );
            let wall = plan.wall.unwrap();
            for ring in &plan.rings {
                for step in 0..=40 {
                    let z = ring.span.bottom_mm
                        + (ring.span.top_mm - ring.span.bottom_mm) * f64::from(step) / 40.0;
                    let z = z.min(wall.outside.height_mm());
                    assert!(wall.outside.radius_at(z) <= ring.wanted.outside_radius_mm + 1e-6);
                    assert!(wall.smallest_inside(z, z) >= ring.wanted.inside_radius_mm - 1e-6);
                }
            }
            let sum: f64 = plan.rings.iter().map(|ring| ring.finished_mm3).sum();
            let (whole, _) = vessel::finished(&wall);
            assert!(
                (sum / whole - 1.0).abs() < 0.01,
                "{} {sum} {whole}",
                shape.word
            );
        }
    }
}
