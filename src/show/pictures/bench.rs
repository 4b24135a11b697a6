//! The drawing of a step: the ring from above while it is made, then the section with
//! the rings of the step picked out.

use super::vessel::{Picked, ring_from_above, section};
use super::view::View;
use crate::draw::pen::Pen;
use crate::draw::{Drawing, Ink, Path, rectangle};
use crate::plan::order::{Chapter, Step};
use crate::plan::rings::flats_mm;
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
    for planned in rings.skip(step.rings.start).take(step.rings.len()) {
        let (inside, outside) = flats_mm(planned);
        let corner = view.place(planned.span.top_mm, inside);
        let width = (outside - inside) * view.scale;
        let height = (planned.span.top_mm - planned.span.bottom_mm) * view.scale;
        drawing.add(Path::line(rectangle(corner, width, height), Ink::Held));
    }
    drawing
}
