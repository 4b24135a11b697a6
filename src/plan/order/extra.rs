//! What the order of work takes from beside the stack: the boards, the strips ripped
//! from them, and the base with its ring.

use super::{BaseWork, Chapter, Order, Step, Work, step};
use crate::design::{BaseKind, BaseSet, Design, MadeOf, Vessel};
use crate::plan::base::BasePlan;
use crate::plan::bill::Cut;
use crate::plan::inlay::SetPlan;
use crate::plan::stack::StackPlan;

/// How the base stands in the order of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseIs {
    /// The lowest ring itself.
    Ring,
    /// A piece beside the rings, glued under the lowest one.
    Under,
    /// A piece beside the rings, let into the lowest one.
    Within,
}

/// How a base stands in the order of work.
pub fn base_is(design: &Design, vessel: &Vessel, base: &BasePlan) -> BaseIs {
    let is_disc = vessel
        .rings
        .first()
        .is_some_and(|ring| ring.made_of == MadeOf::Disc);
    let is_ring = match base.choice.kind {
        BaseKind::Solid | BaseKind::Plies => is_disc,
        BaseKind::Wedges | BaseKind::Open => !is_disc,
    };
    match base.choice.set {
        _ if design.base.is_none() => BaseIs::Ring,
        BaseSet::Under if is_ring => BaseIs::Ring,
        BaseSet::Under => BaseIs::Under,
        BaseSet::LetIn | BaseSet::OnLedge => BaseIs::Within,
    }
}

/// The steps that make the base, before it meets its ring.
pub(super) fn base_steps(steps: &mut Vec<Step>, base: &BasePlan, is: BaseIs) {
    let kind = base.choice.kind;
    // A disc or a ring of wedges that is the lowest ring is sawn as any ring.
    if kind == BaseKind::Open || (is == BaseIs::Ring && kind != BaseKind::Plies) {
        return;
    }
    let mut add = |word: &str, work| {
        let mut added = step(
            format!("base-{word}"),
            Chapter::Rings,
            Work::Base(work),
            0..1,
        );
        added.lengths_mm = base_lengths_mm(base);
        steps.push(added);
    };
    add("saw", BaseWork::Saw);
    if kind != BaseKind::Solid {
        add("glue", BaseWork::GlueUp);
    }
    add("round", BaseWork::Round);
    if is == BaseIs::Under {
        add("set", BaseWork::Set);
    }
}

/// The steps with the ring on the lathe: its mortise, and the base in it.
pub(super) fn set_steps(base: &BasePlan) -> [Step; 2] {
    [("mortise", BaseWork::Mortise), ("set", BaseWork::Set)].map(|(word, work)| {
        let id = format!("base-{word}");
        let mut added = step(id, Chapter::Lower, Work::Base(work), 0..1);
        added.lengths_mm = base_lengths_mm(base);
        added
    })
}

/// The numbers of a base that a tick is kept with.
fn base_lengths_mm(base: &BasePlan) -> Vec<f64> {
    let sizes = [
        base.disc_mm,
        base.thickness_mm,
        base.mortise_mm.unwrap_or(0.0),
        base.through_mm.unwrap_or(0.0),
        f64::from(base.choice.wedge_count),
    ];
    let plies = base.blanks.iter();
    let plies = plies.flat_map(|blank| [f64::from(blank.count), blank.side_mm, blank.sawn_mm]);
    sizes.into_iter().chain(plies).collect()
}

/// The strips and squares to rip, those of one thickness together.
pub(super) fn rips(plan: &StackPlan) -> Vec<Vec<Cut>> {
    let _design = &*plan.design;
    let _vessel = &plan.vessel;
    let mut groups: Vec<Vec<Cut>> = Vec::new();
    for cut in plan.bill.iter().cloned() {
        let same = |group: &&mut Vec<Cut>| {
            let first = group.first();
            first.is_some_and(|it| (it.thickness_mm - cut.thickness_mm).abs() < 1e-6)
        };
        if let Some(group) = groups.iter_mut().find(same) {
            group.push(cut);
            continue;
        }
        // The thickest first: what is left of a board is planed down for the next.
        let thicker = |group: &Vec<Cut>| {
            let first = group.first();
            first.is_some_and(|it| it.thickness_mm > cut.thickness_mm)
        };
        groups.insert(groups.partition_point(thicker), vec![cut]);
    }
    groups
}

/// The steps before the rings: the boards, and ripping them.
pub(super) fn board_steps(steps: &mut Vec<Step>, rips: &[Vec<Cut>], count: usize) {
    let lengths_mm = |group: &Vec<Cut>| -> Vec<f64> {
        let each = group.iter();
        each.flat_map(|cut| [cut.thickness_mm, cut.width_mm, f64::from(cut.count)])
            .collect()
    };
    let mut add = |id: String, work, lengths_mm| {
        let mut added = step(id, Chapter::Wood, work, 0..count);
        added.lengths_mm = lengths_mm;
        steps.push(added);
    };
    if rips.is_empty() {
        return;
    }
    let all = rips.iter().flat_map(lengths_mm).collect();
    add("boards".to_owned(), Work::Boards, all);
    for (place, group) in rips.iter().enumerate() {
        add(
            format!("rip-{}", place + 1),
            Work::Rip(place),
            lengths_mm(group),
        );
    }
}

/// The numbers of a set of slots that a tick is kept with; angles in hundredths of a
/// degree, so that the sum rounds them to a thousandth.
pub(super) fn slot_lengths_mm(own: &SetPlan) -> Vec<f64> {
    let degrees = |radians: f64| radians.to_degrees() * 100.0;
    let mut all = vec![
        own.blade_mm,
        f64::from(own.slots.count),
        degrees(own.slots.gauge_rad + std::f64::consts::PI),
        degrees(own.slots.first_rad.rem_euclid(2.0 * std::f64::consts::PI)),
    ];
    // Strips are ripped to hundredths.
    all.extend([100.0 * own.strip_mm[0], own.strip_mm[1], own.strip_mm[2]]);
    all
}

impl Order {
    /// The step at which the base is glued to its ring: its own, or that of the ring on
    /// top where the base is the lowest ring itself.
    pub fn is_base_set(&self, step: &Step) -> bool {
        match (self.base.is_some(), self.base_is) {
            (false, _) => false,
            (true, BaseIs::Ring) => matches!(step.work, Work::Stack(0) | Work::Join(0)),
            (true, _) => step.work == Work::Base(BaseWork::Set),
        }
    }

    /// The first step of the base's own wood.
    pub fn is_base_begun(&self, step: &Step) -> bool {
        let is_ring = self.base_is == BaseIs::Ring;
        match step.work {
            Work::Base(BaseWork::Saw) => true,
            Work::Cut => self.base.is_some() && is_ring && step.rings.start == 0,
            _ => false,
        }
    }
}
