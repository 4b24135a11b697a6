//! How a stack lies on the saw for a set of slots, seen from above: the blade's path, the
//! fence on the gauge, the stack against it and which way both are turned.

use crate::draw::pen::{Pen, lettering};
use crate::draw::{
    Anchor, Drawing, Frame, Ink, Lettering, Path, Point, Words, arc, circle, point, polygon,
    rectangle,
};
use crate::plan::inlay::SetPlan;
use crate::show::words;
use crate::units::length::show;
use crate::units::quantity::shown_degrees;
use std::f64::consts::{FRAC_PI_2, TAU};

/// Room for words around the drawing, and the fence's thickness on paper.
const AROUND_MM: f64 = 7.0;
const FENCE_MM: f64 = 3.0;

/// So high a stack is drawn that both of its sides are named within it.
const BOTH_SIDES_MM: f64 = 7.5;

/// The set-up of a set's slots from above. Who pushes stands below; the stack's foot side is
/// against the fence. A slot that leans right as it rises, seen from outside, leans left seen
/// from above, through the stack: so the rim is turned to the right of the blade's path.
pub fn from_above(own: &SetPlan, (width, height): (f64, f64), pen: &Pen) -> Drawing {
    let mut drawing = Drawing::new(width, height, words::INLAY_FROM_ABOVE.text);
    let across = 2.0 * own.circumference_mm() / TAU;
    let high = own.stack.height_mm() + 2.0 * own.disc_mm();
    let gauge = own.slots.gauge_rad;
    let (sin, cos) = (gauge.sin().abs(), gauge.cos());
    // The turned rectangle of stack and fence, and as much again of the way of the blade.
    let wide = across * 1.25 * cos + (high * 2.0) * sin;
    let deep = high * cos + across * 1.25 * sin;
    let scale = ((width - 2.0 * AROUND_MM) / wide).min((height - 2.0 * AROUND_MM) / deep);
    // The kerf in the fence's face is the origin; the rim's way is up, then turned.
    let frame = |at: Point| Frame::at(at).turned(gauge.to_degrees());
    let (half, long, offset) = (
        across / 2.0 * scale,
        high * scale,
        own.beside_kerf_mm(0) * scale,
    );
    let disc = own.disc_mm() * scale;
    let mut turned = Drawing::new(0.0, 0.0, "");
    let fence = rectangle(point(offset - half * 1.25, 0.0), half * 2.5, FENCE_MM);
    turned.add(Path::line(fence, Ink::Object).named("fence"));
    let corner = point(offset - half, disc - long);
    let stack = rectangle(corner, 2.0 * half, long - 2.0 * disc);
    turned.add(Path::line(stack, Ink::Object).named("stack"));
    discs(&mut turned, own, (offset, long), scale);
    turned.line(
        point(offset, FENCE_MM + 2.0),
        point(offset, -long - 4.0),
        Ink::Center,
    );
    let side = half * 0.55 * side_of(gauge);
    // A low stack has no room for both within it.
    let is_low = long - 2.0 * disc < BOTH_SIDES_MM;
    let rim_y = if is_low {
        -long - 2.0
    } else {
        disc - long + 2.0
    };
    for (text, y) in [
        (words::BENCH_SIDE_RIM.text, rim_y),
        (words::BENCH_SIDE_FOOT.text, -disc - 2.0),
        (words::INLAY_FENCE.text, FENCE_MM + 3.0),
    ] {
        let words = Words::new(point(offset + side, y), text, 2.1);
        turned.add(words.level_middle().anchored(Anchor::Middle));
    }
    // All of it in the middle of the drawing.
    let mut whole = Drawing::new(0.0, 0.0, "");
    whole.place(&turned, &frame(Point::default()));
    let (least, most) = whole.bounds().unwrap_or_default();
    let kerf = point(
        (width - least.x - most.x) / 2.0,
        (height - least.y - most.y) / 2.0,
    );
    drawing.place(&whole, &Frame::at(kerf));
    let (top, bottom) = (3.0, height - 3.0);
    drawing.add(
        Path::line(
            crate::draw::polyline(&[point(kerf.x, bottom), point(kerf.x, top)]),
            Ink::Cut,
        )
        .named("blade"),
    );
    let tip = [
        point(kerf.x, top - 2.0),
        point(kerf.x - 1.4, top + 1.4),
        point(kerf.x + 1.4, top + 1.4),
    ];
    drawing.add(Path::area(
        polygon(&tip),
        crate::draw::Fill::Tone(crate::draw::Tone::Graphite),
    ));
    let away = if gauge < 0.0 {
        Anchor::Start
    } else {
        Anchor::End
    };
    let by = if gauge < 0.0 { 2.0 } else { -2.0 };
    for (text, y) in [
        (words::INLAY_BLADE_PATH, top + 1.5),
        (words::INLAY_YOU, bottom - 0.5),
    ] {
        let words = Words::new(point(kerf.x + by, y), text.text, 2.1);
        drawing.add(words.anchored(away));
    }
    // The middle of the slot, and the angle between the blade's path and the stack's axis.
    let middle = point(kerf.x, kerf.y - long / 2.0 / cos);
    drawing.add(Path::line(circle(middle, 1.2), Ink::Object).named("middle"));
    let reach = (long / 2.0 / cos + 3.0).min(middle.y - top);
    let up = -FRAC_PI_2;
    let turn = arc(middle, reach * 0.9, up, up + gauge);
    drawing.add(Path::line(turn, Ink::Thin).named("gauge"));
    let angle = Lettering::plain(format!("{}°", shown_degrees(gauge.abs()).text));
    let at = frame(kerf).place(point(offset, -long - 6.5));
    let words = Words::new(at, angle, 2.6).bold().level_middle();
    drawing.add(words.anchored(Anchor::Middle));
    // How far the stack's middle stands beside the kerf.
    if offset.abs() > 0.5 {
        let line = frame(kerf).place(point(offset, FENCE_MM + 2.0));
        let shown = show(own.beside_kerf_mm(own.trims).abs(), pen.unit);
        let figure = lettering(&shown).then(format!(" {}", shown.unit));
        let words = Words::new(point(line.x + by, line.y + 3.0), figure, 2.1);
        drawing.add(words.bold().anchored(Anchor::Middle));
    }
    drawing
}

/// The discs of scrap that hold the stack, at its faces: its middle stands so far beside the
/// kerf, and all of it is so long.
fn discs(drawing: &mut Drawing, own: &SetPlan, (offset, long): (f64, f64), scale: f64) {
    let disc = own.disc_mm() * scale;
    let across = own.discs_across_mm().into_iter();
    for (across_mm, y) in across.flat_map(|[foot, rim]| [(foot, -disc), (rim, -long)]) {
        let half = across_mm / 2.0 * scale;
        let body = rectangle(point(offset - half, y), 2.0 * half, disc);
        drawing.add(Path::line(body, Ink::Object).named("disc"));
        let aside = half * 0.55 * side_of(own.slots.gauge_rad);
        let at = point(offset - aside, y + disc / 2.0);
        let name = Words::new(at, words::INLAY_DISC.text, 2.1);
        drawing.add(name.level_middle().anchored(Anchor::Middle));
    }
}

/// The side on which words are clear of the blade's path.
fn side_of(gauge_rad: f64) -> f64 {
    if gauge_rad < 0.0 { -1.0 } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Mark, Step};

    fn named(drawing: &Drawing, name: &str) -> Vec<Point> {
        let of_name = |mark: &Mark| match mark {
            Mark::Path(path) if path.name.as_deref() == Some(name) => Some(path.steps.clone()),
            _ => None,
        };
        let steps = drawing.marks.iter().find_map(of_name).expect(name);
        let place = |step: Step| match step {
            Step::MoveTo(at) | Step::LineTo(at) | Step::CurveTo(_, _, at) => Some(at),
            Step::Close => None,
        };
        steps.into_iter().filter_map(place).collect()
    }

    /// The strip as it shows on the outside, seen from outside with the rim up, is the
    /// mirror image of what the blade cuts below, seen from above through the stack.
    #[test]
    fn the_blade_crosses_the_stack_as_the_strip_will_show() {
        let vase = crate::design::example::ALL
            .iter()
            .find(|it| it.word == "lantern_vase");
        let design = crate::design::link::decode(vase.unwrap().link).unwrap().0;
        let plan = crate::plan::plan(&design);
        let stack = plan.stack().unwrap();
        let mut leans = Vec::new();
        for own in stack.slot_sets.iter().flatten() {
            let drawing = from_above(own, (90.0, 60.0), &Pen::paper(design.unit));
            let blade_x = named(&drawing, "blade")[0].x;
            // Corners: rim left, rim right, foot right, foot left.
            let corners = named(&drawing, "stack");
            let across = |left: Point, right: Point| (blade_x - left.x) / (right.x - left.x);
            let rim = across(corners[0], corners[1]);
            let foot = across(corners[3], corners[2]);
            let wide = corners[0].distance(corners[1]);
            let high = corners[1].distance(corners[2]);
            let seen_through = (rim - foot) * wide / high;
            // As much to one side of the middle at the rim side as to the other at the foot.
            assert!((rim + foot - 1.0).abs() < 1e-6, "{rim} {foot}");
            let trace = own.traces(0, false).swap_remove(0);
            let [(low, from), (up, to)] = [trace[0], trace[trace.len() - 1]];
            let middle = |[one, other]: [f64; 2]| f64::midpoint(one, other);
            // On the slot's own chord, which lies at its distance from the axis.
            let radii = [low, up].map(|z| stack.wall.as_ref().unwrap().outside.radius_at(z));
            let aside = |at: f64, radius: f64| (at - own.slots.first_rad).sin() * radius;
            let seen = (aside(middle(to), radii[1]) - aside(middle(from), radii[0])) / (up - low);
            assert!((seen + seen_through).abs() < 0.02, "{seen} {seen_through}");
            leans.push(seen > 0.0);
            assert!((wide / high - 2.0 * corner_radius(own) / own.stack.height_mm()).abs() < 1e-6);
        }
        assert_eq!(leans, [true, false]);
    }

    fn corner_radius(own: &SetPlan) -> f64 {
        let layers = own.stack.layers.iter();
        layers
            .map(|layer| layer.outside.farthest_mm())
            .fold(0.0, f64::max)
    }
}
