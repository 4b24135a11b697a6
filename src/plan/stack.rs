//! A vessel worked out: every ring of its stack with its segment and strips, what it
//! weighs, holds and takes.

use crate::design::trouble::Trouble;
use crate::design::{BaseSet, Between, Design, MadeOf, StackRing};
use crate::plan::base::{self, BasePlan};
use crate::plan::bill::{self, Cut, WoodUse};
use crate::plan::discs;
use crate::plan::floor;
use crate::plan::inlay::{self, SetPlan};
use crate::plan::rings::{self, Made, Rings, When, plan_rings};
use crate::plan::woods;
use crate::trade::ring::Segment;
use crate::trade::shape::Wall;
use crate::trade::vessel;
use std::cell::OnceCell;
use std::ops::Deref;
use std::rc::Rc;

/// All that follows from a vessel.
#[derive(Clone, Debug)]
pub struct StackPlan {
    /// Its rings, with the vessel and the design that they are of.
    pub of: Rings,
    /// Its base, where one was said.
    pub base: Option<BasePlan>,
    /// Its slot sets; nothing for one without a stack.
    pub slot_sets: Vec<Option<SetPlan>>,
    /// All that is still to be made.
    pub bill: Vec<Cut>,
    /// What could not be computed.
    pub troubles: Vec<Trouble>,
    totals: OnceCell<Totals>,
}

impl Deref for StackPlan {
    type Target = Rings;

    fn deref(&self) -> &Rings {
        &self.of
    }
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

/// Works the vessel of a design out; nothing where it has none.
pub(super) fn of(design: &Rc<Design>) -> Option<StackPlan> {
    let mut troubles = Vec::new();
    let of = plan_rings(design, &mut troubles)?;
    let mut plan = StackPlan {
        slot_sets: inlay::with_trims(discs::kept(&of, inlay::plan_sets(&of, &mut troubles))),
        base: base::said(&of),
        totals: OnceCell::new(),
        bill: Vec::new(),
        troubles,
        of,
    };
    if plan.wall.is_some() {
        plan.bill = bill::of_vessel(&plan.of, plan.base.as_ref(), &plan.slot_sets);
    }
    Some(plan)
}

fn totals(plan: &StackPlan, wall: &Wall) -> Totals {
    let (design, vessel) = (&*plan.design, &plan.vessel);
    let mut totals = Totals {
        woods: wood_use(plan),
        glue_mm2: (1..plan.rings.len())
            .map(|above| plan.glue_between_mm2(above - 1, above))
            .sum(),
        joint_count: plan.joints.len() as u32,
        cut_count: plan.bill.iter().map(Cut::saw_cuts).sum(),
        blank_kg: Some(0.0),
        finished_kg: Some(0.0),
        ..Totals::default()
    };
    (_, totals.center_of_mass_mm) = vessel::finished(wall);
    if !floor::is_open_below(design.base.as_ref()) {
        totals.held_mm3 = wall.held_volume_mm3();
    }
    let bores = plan.bores();
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let plies = plan.base.as_ref().filter(|_| planned.made == Made::Plies);
        let [sawn, finished] = match plies {
            Some(plies) => [plies.density_kg_m3(design); 2],
            None => densities_kg_m3(plan, place),
        };
        let (taken, set_in) = plan.base_in(place, &bores);
        totals.blank_kg = added(totals.blank_kg, planned.blank_mm3 - taken.blank_mm3, sawn);
        totals.finished_kg = added(
            totals.finished_kg,
            (plan.finished_mm3(place) - plan.air_mm3(place) - taken.finished_mm3).max(0.0),
            finished,
        );
        if let Some(base) = plan.base.as_ref().filter(|_| set_in.blank_mm3 > 0.0) {
            let own = base.density_kg_m3(design);
            totals.blank_kg = added(totals.blank_kg, set_in.blank_mm3, own);
            totals.finished_kg = added(totals.finished_kg, set_in.finished_mm3, own);
        }
        if planned.segment.is_some() {
            totals.joint_count += match ring.between {
                Between::Nothing => ring.segment_count,
                Between::Spacer => 2 * ring.segment_count,
                Between::Gap => 0,
            };
            totals.glue_mm2 += rings::ring_glue_mm2(ring, planned);
        }
    }
    for own in plan.slot_sets.iter().flatten().filter(|own| own.is_open()) {
        if own.layers.iter().any(|it| it.wood >= vessel.woods.len()) {
            continue;
        }
        let strip = strips_kg_m3(plan, own);
        // The strips stand where the rings' wood was sawn away.
        let around = own
            .rings
            .clone()
            .map(|place| densities_kg_m3(plan, place)[1]);
        let around = around
            .sum::<Option<f64>>()
            .map(|sum| sum / own.rings.clone().count().max(1) as f64);
        let more = strip.zip(around).map(|(strip, around)| strip - around);
        let [blank_mm3, finished_mm3] = own.strips_mm3();
        totals.blank_kg = added(totals.blank_kg, blank_mm3, more);
        totals.finished_kg = added(totals.finished_kg, finished_mm3, more);
    }
    totals
}

/// Density of a set's strips, their layers by their thicknesses; missing when one has no
/// figure.
fn strips_kg_m3(plan: &StackPlan, own: &SetPlan) -> Option<f64> {
    let sum_mm = own.layers_mm();
    if own.layers.len() > 1 && sum_mm <= 0.0 {
        return None;
    }
    let each = own.layers.iter().map(|layer| {
        let name = plan.vessel.woods.get(layer.wood)?;
        let own_kg_m3 = woods::named(&plan.design, name)?.density_kg_m3()?;
        let share = if own.layers.len() > 1 {
            layer.thickness_mm / sum_mm
        } else {
            1.0
        };
        Some(share * own_kg_m3)
    });
    each.sum()
}

/// A weight with so much wood more; missing when its density is.
fn added(sum_kg: Option<f64>, volume_mm3: f64, density_kg_m3: Option<f64>) -> Option<f64> {
    let both = sum_kg.zip(density_kg_m3);
    both.map(|(sum, density)| sum + volume_mm3 * 1e-9 * density)
}

/// Wood glued, and what of it is left when it is turned, cubic millimeters.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Wood {
    blank_mm3: f64,
    finished_mm3: f64,
}

/// A round hole in what the wall alone would keep solid to the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bore {
    /// The ring that it is in.
    pub place: usize,
    /// Its lower end above the foot.
    pub from_mm: f64,
    /// Its upper end, no higher than the floor.
    pub to_mm: f64,
    /// Its radius.
    pub radius_mm: f64,
}

impl StackPlan {
    /// What it comes to.
    pub fn totals(&self) -> &Totals {
        let made = || self.wall.as_ref().map(|wall| totals(self, wall));
        self.totals.get_or_init(|| made().unwrap_or_default())
    }

    /// How thick the neck must stay when the foot is parted off its block, so that it
    /// reaches into glued wood past a hole, or past a base that lies on the block unglued: a
    /// quarter inch more all round, or half of what there is (our own choice, no published
    /// source). None where the foot is glued to its middle, or open like a rim.
    pub fn foot_neck_mm(&self) -> Option<f64> {
        const PAST_MM: f64 = 6.35;
        let wall = self.wall.as_ref().filter(|wall| wall.floor_mm > 0.0)?;
        let hole_mm = self.rings.first()?.as_cut_mm.1;
        let base = self.base.as_ref().filter(|base| base.is_set_in());
        let base = base.filter(|base| base.around.place == Some(0));
        let base_mm = base.map_or(0.0, |it| it.through_mm.unwrap_or(it.disc_mm) / 2.0);
        let open_mm = Some(hole_mm.max(base_mm)).filter(|radius| *radius > 0.0)?;
        let past_mm = (wall.outside.radius_at(0.0) - open_mm).max(0.0) / 2.0;
        Some(2.0 * (open_mm + past_mm.min(PAST_MM)))
    }

    /// What glue covers in rings and between them where the halves meet above so many rings: the
    /// inside is turned before they do. 0 is one piece.
    pub fn glue_mm2(&self, meeting: usize) -> f64 {
        let all_mm2 = self.totals().glue_mm2;
        meeting.checked_sub(1).map_or(all_mm2, |below| {
            all_mm2 - self.glue_between_mm2(below, meeting) + self.glue_at_meeting_mm2(meeting)
        })
    }

    /// How high above the foot the wood of the floor begins: 0, or where the ring begins
    /// that the base is let into.
    pub fn floor_from_mm(&self) -> f64 {
        let base = self.base.as_ref().filter(|base| base.is_set_in());
        floor::base_ring_mm(base.map(|base| &base.choice), &self.vessel)
    }

    /// The holes that stay open below the floor, from the foot up: those of glued rings and
    /// of rings below a base, and what of its own ring lies below and above the base.
    pub fn bores(&self) -> Vec<Bore> {
        let floor_mm = self.wall.as_ref().map_or(0.0, |wall| wall.floor_mm);
        let base = self.base.as_ref().filter(|base| base.is_set_in());
        let own = base.and_then(|base| base.around.place);
        let mut bores = Vec::new();
        for (place, (ring, said)) in self.rings.iter().zip(&self.vessel.rings).enumerate() {
            let (bottom, top) = (ring.span.bottom_mm, ring.span.top_mm);
            let mut add = |from_mm: f64, to_mm: f64, radius_mm: f64| {
                let to_mm = to_mm.min(floor_mm);
                if to_mm > from_mm && radius_mm > 0.0 {
                    bores.push(Bore {
                        place,
                        from_mm,
                        to_mm,
                        radius_mm,
                    });
                }
            };
            if let Some(base) = base.filter(|_| own == Some(place)) {
                let half = |diameter: Option<f64>| diameter.unwrap_or(0.0) / 2.0;
                add(bottom, bottom + base.seat_mm(), half(base.through_mm));
                add(bottom + base.top_mm(), top, half(base.mortise_mm));
            } else if said.is_glued() || own.is_some_and(|own| place < own) {
                add(bottom, top, ring.wanted.inside_radius_mm);
            }
        }
        bores
    }

    /// What a base takes of a ring, and what of the base is there. The finished wall is
    /// reckoned with a floor solid to the axis: a bore in it is not there.
    fn base_in(&self, place: usize, bores: &[Bore]) -> (Wood, Wood) {
        let none = (Wood::default(), Wood::default());
        let Some(ring) = self.rings.get(place) else {
            return none;
        };
        let bores = bores.iter().filter(|bore| bore.place == place);
        let open_mm3: f64 = bores
            .map(|bore| base::circle_mm2(2.0 * bore.radius_mm) * (bore.to_mm - bore.from_mm))
            .sum();
        let floor_mm = self.wall.as_ref().map_or(0.0, |wall| wall.floor_mm);
        let in_floor_mm = |from: f64, to: f64| (to.min(floor_mm) - from.min(floor_mm)).max(0.0);
        let (bottom, top) = (ring.span.bottom_mm, ring.span.top_mm);
        let is_here = |base: &&BasePlan| base.is_set_in() && base.around.place == Some(place);
        let Some(base) = self.base.as_ref().filter(is_here) else {
            let taken = Wood {
                blank_mm3: 0.0,
                finished_mm3: open_mm3.min(self.finished_mm3(place)),
            };
            return (taken, self.base_under(place));
        };
        let height_mm = ring.wanted.height_mm;
        let hole_mm3 = ring.segment.as_ref().map_or(0.0, Segment::hole_mm2) * height_mm;
        let seat = bottom + base.seat_mm();
        let upper = (seat + base.thickness_mm).min(top);
        let left_mm3 = base::circle_mm2(base.disc_mm) * in_floor_mm(seat, upper);
        let taken = Wood {
            blank_mm3: (base.taken_mm3(height_mm) - hole_mm3).max(0.0),
            finished_mm3: (left_mm3 + open_mm3).min(self.finished_mm3(place)),
        };
        let set_in = Wood {
            blank_mm3: base.disc_mm3(),
            finished_mm3: left_mm3,
        };
        (taken, set_in)
    }

    /// A base that is glued under a lowest ring which stands already: all of it stays.
    fn base_under(&self, place: usize) -> Wood {
        let is_under = |base: &&BasePlan| {
            base.choice.set == BaseSet::Under
                && base.around.kept_mm.is_none()
                && base.troubles.is_empty()
        };
        let is_glued = self.vessel.rings.first().is_some_and(StackRing::is_glued);
        let under = self.base.as_ref().filter(is_under);
        let volume_mm3 = under
            .filter(|_| place == 0 && is_glued)
            .map_or(0.0, BasePlan::disc_mm3);
        Wood {
            blank_mm3: volume_mm3,
            finished_mm3: volume_mm3,
        }
    }
}

/// Density of a ring's mix of woods as it is sawn and as it is finished; missing when one
/// has no figure.
fn densities_kg_m3(plan: &StackPlan, place: usize) -> [Option<f64>; 2] {
    [When::Sawn, When::Finished].map(|when| plan.density_kg_m3(place, when))
}

/// What is taken of each wood, in the order of the vessel's list and then of the base's;
/// those not used are left out.
fn wood_use(plan: &StackPlan) -> Vec<WoodUse> {
    let mut woods = bill::by_wood(&plan.bill, &plan.vessel.woods);
    for ring in plan.vessel.rings.iter().filter(|ring| ring.is_glued()) {
        let count = match ring.made_of {
            MadeOf::Disc => 1,
            MadeOf::Segments => ring.segment_count,
        };
        if ring.striped().is_some() {
            // Each segment is of all of its woods: the first one counts it.
            for (at, wood) in ring.woods().into_iter().enumerate() {
                if let Some(each) = woods.get_mut(wood).filter(|_| at == 0) {
                    each.glued_count += count;
                }
            }
            continue;
        }
        for segment in 0..count {
            if let Some(each) = woods.get_mut(ring.wood_of(segment)) {
                each.glued_count += 1;
            }
        }
    }
    woods.retain(|each| each.piece_count + each.slot_strip_count + each.glued_count > 0);
    woods
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Allowance, HoleBy, RingChoice};
    use crate::edit::start;
    use crate::plan::plan;
    use crate::plan::ring::RingPlan;

    /// Typed into the Ring place, a ring of the stack comes to the same.
    #[test]
    fn a_ring_of_the_stack_is_the_same_alone() {
        let design = Design::default().with_typed("shop.price", "12").unwrap();
        let design = start::begin(&design, "bowl", 254.0, 101.6);
        let plan = plan(&design);
        let stack = plan.stack().unwrap();
        for place in 1..stack.rings.len() {
            let ring = stack.ring(place).unwrap();
            let wanted = ring.wanted;
            let mut alone = design.clone();
            alone.ring = RingChoice {
                outside_diameter_mm: 2.0 * wanted.outside_radius_mm,
                hole_by: HoleBy::InsideDiameter,
                inside_diameter_mm: 2.0 * wanted.inside_radius_mm,
                height_mm: wanted.height_mm,
                segment_count: wanted.segment_count,
                wood: ring.woods[0].name.clone(),
                ..alone.ring
            };
            alone.allowance = Allowance {
                inside_mm: wanted.inside_allowance_mm,
                ..alone.allowance
            };
            let alone = crate::plan::plan(&alone).ring;
            let figures = |it: &RingPlan| {
                let segment = it.segment.unwrap();
                [
                    segment.outside.long_edge_mm,
                    segment.strip_width_mm,
                    it.strips.unwrap().total_length_mm,
                    it.as_cut_mm.unwrap().0,
                    it.strip_wood_mm3.unwrap(),
                    it.cost.unwrap(),
                    it.weight_kg.unwrap(),
                ]
            };
            for (one, other) in figures(&ring).into_iter().zip(figures(&alone)) {
                assert!((one - other).abs() < 1e-9 * other, "{place}: {one} {other}");
            }
        }
    }

    #[test]
    fn the_rings_of_a_start_hold_its_wall() {
        for shape in start::ALL {
            let design = start::begin(&Design::default(), shape.word, 250.0, 120.0);
            let plan = plan(&design).into_stack().unwrap();
            assert!(
                plan.troubles.is_empty(),
                "{}: {:?}",
                shape.word,
                plan.troubles
            );
            let wall = plan.wall.clone().unwrap();
            for ring in &plan.rings {
                for step in 0..=40 {
                    let z = ring.span.bottom_mm
                        + (ring.span.top_mm - ring.span.bottom_mm) * f64::from(step) / 40.0;
                    let z = z.min(wall.outside.height_mm());
                    assert!(wall.outside.radius_at(z) <= ring.wanted.outside_radius_mm + 1e-6);
                    assert!(wall.smallest_inside(z, z) >= ring.wanted.inside_radius_mm - 1e-6);
                }
            }
            let sum: f64 = (0..plan.rings.len())
                .map(|place| plan.finished_mm3(place))
                .sum();
            let (whole, _) = vessel::finished(&wall);
            assert!(
                (sum / whole - 1.0).abs() < 0.01,
                "{} {sum} {whole}",
                shape.word
            );
        }
    }
}
