//! A ring as it stands in its vessel: from above and from its front, each segment in its
//! wood, dimensioned as a ring alone is.

use super::job::OfVessel;
use super::woods;
use crate::draw::pen::Pen;
use crate::draw::{Drawing, Fill, Frame, Ink, Mark, Path, point, rectangle};
use crate::plan::ring::RingPlan;
use crate::plan::rings::RingInStack;
use crate::show::pictures::ring::{View, description, dimensions, finished, mark_front};
use crate::show::pictures::vessel::{AROUND_MM, ring_from_above};
use std::f64::consts::FRAC_PI_2;

/// Draws the ring to fit the given size; its front looks to the reader.
pub fn drawn(
    of: &OfVessel,
    place: usize,
    ring: &RingPlan,
    (width, height): (f64, f64),
    pen: &Pen,
) -> Drawing {
    let planned = &of.plan.rings[place];
    let view = View::fit(width, height, ring, pen);
    let half = planned.reach_mm * view.scale + AROUND_MM;
    let above = ring_from_above(of.vessel, place, planned, (2.0 * half, 2.0 * half));
    let mut drawing = Drawing::new(width, height, above.title.clone());
    let corner = point(view.center.x - half, view.center.y - half);
    drawing.place(&above, &Frame::at(corner));
    front_faces(&mut drawing, &view, place, planned);
    finished(&mut drawing, &view, ring);
    if ring.woods.len() < 2 {
        // Its name says its wood: a letter on each segment would say it sixteen times.
        for mark in &mut drawing.marks {
            if let Mark::Path(path) = mark {
                path.name = path.name.take().filter(|name| !name.starts_with("cell-"));
            }
        }
    }
    woods::tell_apart(&mut drawing, of.plan);
    dimensions(&mut drawing, &view, ring, pen);
    mark_front(&mut drawing, ring, pen);
    drawing.described(description(ring, pen))
}

/// The outsides of the segments that look to the reader, and the hole behind them.
fn front_faces(drawing: &mut Drawing, view: &View, place: usize, planned: &RingInStack) {
    let high = planned.wanted.strip_height_mm();
    let high = high.min(view.strip_height_mm) * view.scale;
    for index in 0..planned.wanted.segment_count {
        let Some(segment) = planned.segment_at(index) else {
            continue;
        };
        let (along, aside) = (
            segment.outside.apothem_mm,
            segment.outside.long_edge_mm / 2.0,
        );
        // As it is drawn from above.
        let facing = FRAC_PI_2 - planned.round.middle_rad(index);
        if facing.sin() <= 1e-9 {
            continue;
        }
        let end = |aside: f64| {
            let direction = facing - aside.atan2(along);
            view.center
                .polar(along.hypot(aside) * view.scale, direction)
                .x
        };
        let (one, other) = (end(-aside), end(aside));
        let corner = point(one.min(other), view.side_top);
        let face = Path::line(rectangle(corner, (other - one).abs(), high), Ink::Thin);
        // The stripes of a board are on its own sheet.
        drawing.add(if planned.stripes.is_some() {
            face
        } else {
            let face = face.filled(Fill::Wood(planned.color_of(index)));
            face.named(format!("cell-{place}-{index}"))
        });
    }
    let hole = planned.segment.map_or(0.0, |it| it.smallest_hole_mm) / 2.0 * view.scale;
    if hole > 1.0 {
        for x in [view.center.x - hole, view.center.x + hole] {
            let (top, bottom) = (view.side_top, view.side_top + high);
            drawing.line(point(x, top), point(x, bottom), Ink::Hidden);
        }
    }
}
