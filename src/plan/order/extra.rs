//! What the order of work takes from beside the stack: the boards, the strips ripped
//! from them, and the base with its ring.

use super::facts::Fact;
use super::step::{BaseIs, Chapter, Step, Work};
use crate::design::{BaseKind, BaseSet, Design, MadeOf};
use crate::plan::base::BasePlan;
use crate::plan::bill::Cut;
use crate::plan::inlay::SetPlan;
use crate::plan::need::Edges;
use crate::plan::stack::StackPlan;
use std::ops::Range;

/// How a base stands in the order of work.
pub fn base_is(plan: &StackPlan, base: &BasePlan) -> BaseIs {
    let lowest = plan.vessel.rings.first();
    let is_disc = lowest.is_some_and(|ring| ring.made_of == MadeOf::Disc);
    let is_ring = match base.choice.kind {
        BaseKind::Solid | BaseKind::Plies => is_disc,
        BaseKind::Wedges | BaseKind::Open => !is_disc,
    };
    match base.choice.set {
        _ if plan.design.base.is_none() => BaseIs::Ring,
        BaseSet::Under if is_ring => BaseIs::Ring,
        BaseSet::Under => BaseIs::Under,
        BaseSet::LetIn | BaseSet::OnLedge => BaseIs::Within,
    }
}

/// The numbers of a base that a tick is kept with.
pub(super) fn base_lengths_mm(base: &BasePlan) -> Vec<f64> {
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

/// The strips and squares to rip, those of one thickness together, and the veneer to cut.
pub(super) fn rips(plan: &StackPlan) -> Vec<Vec<Cut>> {
    let mut groups: Vec<Vec<Cut>> = Vec::new();
    let is_cut = |cut: &&Cut| cut.is_ripped() || cut.is_veneer();
    for cut in plan.bill.iter().filter(is_cut).cloned() {
        let same = |group: &&mut Vec<Cut>| {
            let first = group.first();
            let is_like = |it: &Cut| it.is_veneer() == cut.is_veneer();
            first.is_some_and(|it| is_like(it) && (it.thickness_mm - cut.thickness_mm).abs() < 1e-6)
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
pub(super) fn board_steps(rips: &[Vec<Cut>], count: usize) -> Vec<Step> {
    let lengths_mm = |group: &Vec<Cut>| -> Vec<f64> {
        let each = group.iter();
        each.flat_map(|cut| [cut.thickness_mm, cut.width_mm, f64::from(cut.count)])
            .collect()
    };
    let step = |id: String, work, lengths_mm| Step {
        id,
        chapter: Chapter::Wood,
        work,
        rings: 0..count,
        facts: Vec::new(),
        lengths_mm,
    };
    if rips.is_empty() {
        return Vec::new();
    }
    let all = rips.iter().flat_map(lengths_mm).collect();
    let boards = step("boards".to_owned(), Work::Boards, all);
    let rips = rips.iter().enumerate().map(|(place, group)| {
        let id = format!("rip-{}", place + 1);
        step(id, Work::Rip(place), lengths_mm(group))
    });
    std::iter::once(boards).chain(rips).collect()
}

/// The steps that glue squares up edge to edge, for the boards that are too narrow.
pub(super) fn edge_steps(design: &Design, rips: &[Vec<Cut>], count: usize) -> Vec<Step> {
    let rips = rips.iter().enumerate();
    let steps = rips.filter_map(|(place, group)| {
        let all = group
            .iter()
            .filter_map(|cut| Some((cut, Edges::of(cut, design)?)));
        let numbers = all.flat_map(|(cut, own)| {
            let (squares, pieces) = (f64::from(cut.count), f64::from(own.count));
            [cut.thickness_mm, own.side_mm, own.width_mm, squares, pieces]
        });
        let lengths_mm: Vec<f64> = numbers.collect();
        (!lengths_mm.is_empty()).then(|| Step {
            id: format!("edges-{}", place + 1),
            chapter: Chapter::Wood,
            work: Work::Edges(place),
            rings: 0..count,
            facts: Vec::new(),
            lengths_mm,
        })
    });
    steps.collect()
}

/// The steps that glue up the layered strips of slots: before the rings, so that they are
/// hard when the slots are sawn.
pub(super) fn strip_steps(plan: &StackPlan, inlays: &[Range<usize>]) -> Vec<Step> {
    let sets = plan.slot_sets.iter().zip(inlays).enumerate();
    let step = |(set, (own, rings)): (usize, (&Option<SetPlan>, &Range<usize>))| {
        let own = own.as_ref().filter(|own| own.is_open())?;
        let sticks = own.sticks.as_ref().filter(|_| !rings.is_empty())?;
        let mut lengths_mm = vec![f64::from(sticks.count), sticks.long_mm, sticks.wide_mm];
        for layer in &own.layers {
            // In hundredths, as strips are.
            lengths_mm.extend([100.0 * layer.thickness_mm, layer.wood as f64]);
        }
        Some(Step {
            id: format!("strips-{}", set + 1),
            chapter: Chapter::Wood,
            work: Work::Strips(set),
            rings: rings.clone(),
            facts: vec![Fact::Strips(set)],
            lengths_mm,
        })
    };
    sets.filter_map(step).collect()
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
    if own.slots.tilt_rad != 0.0 {
        all.push(degrees(own.slots.tilt_rad + std::f64::consts::PI));
    }
    if own.is_through() {
        all.push(own.disc_mm() + 1.0);
        all.extend(own.discs_since.map(|set| set as f64));
    }
    all.extend([100.0 * own.strip_mm[0], own.strip_mm[1], own.strip_mm[2]]);
    all
}
