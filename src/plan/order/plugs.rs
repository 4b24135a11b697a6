//! The rings of a design that are pressed home by a centering plug.

use super::step::{BaseIs, Chapter, Order, Step, Work};
use crate::plan::base::BasePlan;
use crate::plan::floor::base_place;
use crate::plan::rings::{RingInStack, Rings};
use crate::trade::plug::{Hang, PlugStep, plugs};

/// The plugs for a design; none where no ring has a hole that fits.
pub fn of(plan: &Rings, order: &Order) -> Vec<Vec<PlugStep>> {
    let bore_mm = plan.design.bench_or_usual().plug_bore_mm;
    plugs(&hangs(plan, order), bore_mm)
}

/// The widest peg that passes a glued ring's hole, cut to the thousandth: it touches the
/// middles of its inside flats. Nothing where there is no hole.
///
/// A plug for what the fraction alone would leave hangs in the ring as it is told to be cut,
/// and centers nothing; one that does not go in is seen at once.
pub fn hole_mm(planned: &RingInStack) -> Option<f64> {
    let segment = planned.segment?;
    let hole_mm = 2.0 * segment.inside_apothem_mm;
    (segment.short_edge_mm > 0.0 && hole_mm > 0.0).then_some(hole_mm)
}

/// Every ring that comes alone on another, with what is free below it then.
pub fn hangs(plan: &Rings, order: &Order) -> Vec<Hang> {
    let (design, vessel) = (&*plan.design, &plan.vessel);
    let clearance_mm = design.bench_or_usual().plug_clearance_mm;
    let peg_mm = |ring: usize| Some(hole_mm(plan.rings.get(ring)?)? - clearance_mm);
    let height_mm = |ring: usize| vessel.rings.get(ring).map_or(0.0, |it| it.height_mm);
    let hang = |step: &Step| {
        let ring = step.rings.start;
        let mut free = Vec::new();
        let mut depth_mm = 0.0;
        for below in below(order, step)? {
            let Some(peg_mm) = peg_mm(below) else {
                break;
            };
            let base = order.base.as_ref();
            let base = base.filter(|it| base_place(&it.choice, vessel) == below);
            let filled_mm = base
                .filter(|_| order.base_is == BaseIs::Within)
                .map_or(0.0, BasePlan::top_mm);
            depth_mm += (height_mm(below) - filled_mm).max(0.0);
            free.push((depth_mm, peg_mm));
            if filled_mm > 0.0 {
                break;
            }
        }
        Some(Hang {
            ring,
            diameter_mm: peg_mm(ring)?,
            height_mm: height_mm(ring),
            free,
        })
    };
    order.steps.iter().filter_map(hang).collect()
}

/// The rings under the one that a step glues on, from it down to the block; nothing
/// where a whole stack comes on, or a ring segment by segment.
fn below(order: &Order, step: &Step) -> Option<Vec<usize>> {
    let Work::Stack(below) = step.work else {
        return None;
    };
    // Segments that are set one by one hang on nothing.
    if step.sets_singly() {
        return None;
    }
    let half = order.halves.iter().find(|it| it.rings.contains(&below))?;
    let apart = order.apart_of(step.rings.start);
    let is_built = step.chapter == Chapter::Stacks;
    if apart.is_some_and(|span| !is_built && span.len() > 1) {
        return None;
    }
    let mut under = half.glued();
    under.retain(|ring| !is_built || apart.is_some_and(|span| span.contains(ring)));
    let at = under.iter().position(|ring| *ring == below)?;
    under.truncate(at + 1);
    under.reverse();
    Some(under)
}
