//! The drawing of a step: the ring from above while it is made, then the section with
//! the rings of the step picked out.

use super::vessel::{Picked, ring_from_above, section};
use super::view::View;
use crate::draw::pen::Pen;
use crate::draw::{Drawing, Ink, Path, rectangle};
use crate::plan::order::{Chapter, Step};
use crate::plan::rings::{RingInStack, flats_mm};
use crate::plan::stack::StackPlan;

/// Draws a step on a drawing of this size.
pub fn step(plan: &StackPlan, step: &Step, size_mm: (f64, f64), pen: &Pen) -> Drawing {
    let vessel = &plan.vessel;
    if let (Chapter::Rings, Some(planned)) = (step.chapter, plan.rings.get(step.rings.start)) {
        return ring_from_above(vessel, step.rings.start, planned, size_mm);
    }
    let view = View::fit(plan, size_mm.0, size_mm.1);
    let mut drawing = section(plan, size_mm, &view, Picked::default(), None, pen);
    let rings = plan.rings.iter();
    // No wood is taken for a ring that is glued already.
    let is_of_it = |it: &&RingInStack| step.chapter != Chapter::Wood || it.measured.is_none();
    let those = rings.skip(step.rings.start).take(step.rings.len());
    for planned in those.filter(is_of_it) {
        let (inside, outside) = flats_mm(planned);
        let corner = view.place(planned.span.top_mm, inside);
        let width = (outside - inside) * view.scale;
        let height = (planned.span.top_mm - planned.span.bottom_mm) * view.scale;
        drawing.add(Path::line(rectangle(corner, width, height), Ink::Held));
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, Measured};
    use crate::draw::Mark;
    use crate::edit::start;
    use crate::plan::{order, plan};

    #[test]
    fn the_wood_is_outlined_for_the_rings_that_are_still_to_be_made() {
        let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        let rings = &mut design.vessel.as_mut().unwrap().rings;
        rings[1].measured = Some(Measured::nothing());
        let count = rings.len();
        let plan = plan(&design);
        let stack = plan.stack().unwrap();
        let order = order::order(stack, &[]).unwrap();
        let outlined = |id: &str| {
            let found = order.steps.iter().find(|it| it.id == id).unwrap();
            let drawing = step(stack, found, (120.0, 80.0), &Pen::screen(design.unit, ""));
            let is_held = |it: &&Mark| matches!(it, Mark::Path(it) if it.ink == Some(Ink::Held));
            drawing.marks.iter().filter(is_held).count()
        };
        assert_eq!(outlined("boards"), count - 1);
        assert_eq!(outlined("outside"), count);
    }
}
