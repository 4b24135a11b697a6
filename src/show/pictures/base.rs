//! The base in its ring: from above with the grain of each piece, and cut open through
//! the middle.

use crate::design::{BaseKind, BaseSet, Design};
use crate::draw::dimension::{Run, linear};
use crate::draw::pen::Pen;
use crate::draw::{
    Color, Drawing, Fill, Ink, Path, Point, circle, point, polygon, polyline, rectangle,
};
use crate::plan::base::BasePlan;
use crate::plan::woods;
use crate::show::words;
use crate::trade::round::Round;
use std::f64::consts::FRAC_PI_2;

/// Draws both views beside each other, or below each other where it is narrow.
pub fn draw(design: &Design, plan: &BasePlan, width_mm: f64, height_mm: f64, pen: &Pen) -> Drawing {
    let mut drawing = Drawing::new(width_mm, height_mm, words::DRAWING_BASE.text);
    let is_wide = width_mm > 1.2 * height_mm;
    let (above, cut) = if is_wide {
        let side = height_mm.min(width_mm * 0.45);
        (
            (point(side / 2.0, height_mm / 2.0), side / 2.0 - 2.0),
            (point(side + 4.0, 0.0), width_mm - side - 6.0, height_mm),
        )
    } else {
        let side = width_mm.min(height_mm * 0.6);
        (
            (point(width_mm / 2.0, side / 2.0), side / 2.0 - 2.0),
            (
                point(2.0, side + 2.0),
                width_mm - 4.0,
                height_mm - side - 4.0,
            ),
        )
    };
    from_above(&mut drawing, design, plan, above.0, above.1.max(4.0));
    cut_open(
        &mut drawing,
        design,
        plan,
        cut.0,
        (cut.1.max(10.0), cut.2.max(10.0)),
        pen,
    );
    drawing
}

/// The largest radius that is drawn.
fn reach_mm(plan: &BasePlan) -> f64 {
    let disc = plan.mortise_mm.unwrap_or(plan.disc_mm).max(plan.disc_mm) / 2.0;
    plan.around.outside_mm.max(disc).max(1.0)
}

fn from_above(drawing: &mut Drawing, design: &Design, plan: &BasePlan, center: Point, room: f64) {
    let scale = room / reach_mm(plan);
    let (outside, disc) = (plan.around.outside_mm * scale, plan.disc_mm / 2.0 * scale);
    let is_within = plan.choice.set != BaseSet::Under;
    if is_within {
        let color = woods::color(design, &plan.around.wood);
        drawing.add(Path::line(circle(center, outside), Ink::Object).filled(Fill::Wood(color)));
        if plan.around.segment_count > 0 {
            ring_grain(drawing, center, &plan.around.round, disc, outside);
        }
        if let Some(mortise_mm) = plan.mortise_mm {
            let hole = circle(center, mortise_mm / 2.0 * scale);
            drawing.add(Path::line(hole, Ink::Thin).filled(Fill::Tone(crate::draw::Tone::Paper)));
        }
    }
    match plan.choice.kind {
        BaseKind::Wedges => {
            let color = woods::color(design, &plan.choice.wood);
            drawing.add(Path::line(circle(center, disc), Ink::Object).filled(Fill::Wood(color)));
            let wedges = Round::new(plan.choice.wedge_count, &[], 0);
            ring_grain(drawing, center, &wedges, 0.0, disc);
        }
        BaseKind::Plies => {
            // Each ply peeps out from under the one above it.
            let steps = plan.choice.plies.len().max(2) - 1;
            for (place, ply) in plan.choice.plies.iter().enumerate() {
                let radius = disc * (1.0 - 0.5 * place as f64 / steps as f64);
                let color = woods::color(design, &ply.wood);
                disc_with_grain(drawing, center, radius, color, place % 2 == 1);
            }
        }
        BaseKind::Solid | BaseKind::Open => {
            let color = woods::color(design, &plan.choice.wood);
            disc_with_grain(drawing, center, disc, color, false);
        }
    }
}

/// A disc with lines along its grain: level, or turned by a quarter.
fn disc_with_grain(drawing: &mut Drawing, center: Point, radius: f64, color: Color, turned: bool) {
    drawing.add(Path::line(circle(center, radius), Ink::Object).filled(Fill::Wood(color)));
    let spacing = 2.2;
    let lines = (radius / spacing).floor() as i32;
    for line in -lines..=lines {
        let aside = f64::from(line) * spacing;
        let half = (radius * radius - aside * aside).max(0.0).sqrt() - 1.2;
        if half < 1.0 {
            continue;
        }
        let place = |along: f64| {
            if turned {
                point(center.x + aside, center.y + along)
            } else {
                point(center.x + along, center.y + aside)
            }
        };
        grain_line(drawing, place(-half), place(half));
    }
}

/// A line of grain on wood; it has no fill of its own but follows the wood's ink.
fn grain_line(drawing: &mut Drawing, from: Point, to: Point) {
    drawing.add(Path::line(polyline(&[from, to]), Ink::Thin).named("grain"));
}

/// Miters, and in each segment lines along its grain.
fn ring_grain(drawing: &mut Drawing, center: Point, round: &Round, inside: f64, outside: f64) {
    // So many that they are no more than lines are left out.
    for segment in 0..round.count().min(96) {
        let middle = round.middle_rad(segment) - round.middle_rad(0) - FRAC_PI_2;
        let half_angle = round.half_angle_rad(segment);
        let miter = middle + half_angle;
        drawing.line(
            center.polar(inside, miter),
            center.polar(outside, miter),
            Ink::Thin,
        );
        for share in [0.3, 0.55, 0.8] {
            let from_axis = inside + (outside - inside) * share;
            let half = (from_axis * half_angle.tan() * 0.7)
                .min((outside * outside - from_axis * from_axis).max(0.0).sqrt());
            let foot = center.polar(from_axis, middle);
            let aside = middle + FRAC_PI_2;
            grain_line(drawing, foot.polar(-half, aside), foot.polar(half, aside));
        }
    }
}

fn cut_open(
    drawing: &mut Drawing,
    design: &Design,
    plan: &BasePlan,
    corner: Point,
    (width, height): (f64, f64),
    pen: &Pen,
) {
    let ring_mm = plan.around.height_mm.max(0.1);
    let is_under = plan.choice.set == BaseSet::Under;
    let total_mm = if is_under {
        ring_mm + plan.thickness_mm
    } else {
        ring_mm.max(plan.thickness_mm)
    };
    let (room_above, room_below) = (14.0, 16.0);
    let scale = ((width - 16.0).max(8.0) / (2.0 * reach_mm(plan)))
        .min((height - room_above - room_below).max(6.0) / total_mm);
    let middle = corner.x + (width - 14.0) / 2.0;
    let floor = corner.y
        + room_above
        + ((height - room_above - room_below - total_mm * scale) / 2.0).max(0.0)
        + total_mm * scale;
    let at = |radius_mm: f64, up_mm: f64| point(middle + radius_mm * scale, floor - up_mm * scale);
    // The ring's two cut faces, end grain.
    let color = woods::color(design, &plan.around.wood);
    let low = if is_under { plan.thickness_mm } else { 0.0 };
    let inner = if is_under {
        plan.around.inside_mm
    } else {
        plan.mortise_mm.unwrap_or(plan.disc_mm) / 2.0
    };
    let ledge = plan.through_mm.map(|through| through / 2.0);
    let seat = plan.seat_mm();
    for side in [-1.0, 1.0] {
        let outside = plan.around.outside_mm.max(inner + 0.1);
        let mut face = vec![at(side * outside, low), at(side * outside, low + ring_mm)];
        face.push(at(side * inner, low + ring_mm));
        if let Some(ledge) = ledge {
            face.push(at(side * inner, seat));
            face.push(at(side * ledge, seat));
            face.push(at(side * ledge, 0.0));
        } else {
            face.push(at(side * inner, low));
        }
        drawing.add(
            Path::line(polygon(&face), Ink::Object)
                .filled(Fill::Wood(color))
                .named("ring cut"),
        );
    }
    // The base, ply by ply; on a ledge it sits at the top.
    let mut up = seat;
    let radius = plan.disc_mm / 2.0;
    let mut ply = |thickness_mm: f64, name: &str, is_end: bool| {
        let left = at(-radius, up + thickness_mm);
        let body = rectangle(left, 2.0 * radius * scale, thickness_mm * scale);
        drawing.add(
            Path::line(body, Ink::Object)
                .filled(Fill::Wood(woods::color(design, name)))
                .named("ply cut"),
        );
        section_grain(
            drawing,
            left,
            2.0 * radius * scale,
            thickness_mm * scale,
            is_end,
        );
        up += thickness_mm;
    };
    if plan.choice.kind == BaseKind::Plies {
        for (place, each) in plan.choice.plies.iter().enumerate() {
            ply(each.thickness_mm, &each.wood, place % 2 == 1);
        }
    } else {
        let is_end = plan.choice.kind == BaseKind::Wedges;
        ply(plan.thickness_mm, &plan.choice.wood, is_end);
    }
    let figure = |drawing: &mut Drawing, ends: [Point; 2], run: Run, length_mm: f64, sign: &str| {
        let label = pen.figure(length_mm).prefixed(sign);
        drawing.add_all(linear(ends[0], ends[1], run, &label, &pen.style));
    };
    let below = Run::Level {
        y: at(0.0, 0.0).y + 9.0,
    };
    let across = [at(-radius, 0.0), at(radius, 0.0)];
    figure(drawing, across, below, plan.disc_mm, "Ø");
    if let Some(mortise_mm) = plan.mortise_mm {
        let [left, right] = [-0.5, 0.5].map(|half| at(half * mortise_mm, low + ring_mm));
        let above = Run::Level {
            y: at(0.0, total_mm).y - 6.0,
        };
        figure(drawing, [left, right], above, mortise_mm, "Ø");
    }
    let beside = Run::Upright {
        x: at(reach_mm(plan), 0.0).x + 7.0,
    };
    let upright = [at(radius, seat), at(radius, seat + plan.thickness_mm)];
    figure(drawing, upright, beside, plan.thickness_mm, "");
}

/// A cut ply: long lines where its grain runs along the cut, short arcs of growth rings
/// where it comes out of it.
fn section_grain(drawing: &mut Drawing, corner: Point, width: f64, height: f64, is_end: bool) {
    if height < 1.2 || width < 4.0 {
        return;
    }
    if !is_end {
        for share in [0.33, 0.67] {
            let y = corner.y + height * share;
            grain_line(
                drawing,
                point(corner.x + width * 0.04, y),
                point(corner.x + width * 0.96, y),
            );
        }
        return;
    }
    let count = (width / 3.0).floor().clamp(1.0, 60.0) as u32;
    for place in 0..count {
        let x = corner.x + width * (f64::from(place) + 0.5) / f64::from(count);
        let lean = 0.3 * height;
        grain_line(
            drawing,
            point(x - lean / 2.0, corner.y + height * 0.8),
            point(x + lean / 2.0, corner.y + height * 0.2),
        );
    }
}

/// What must be kept in mind while the plies are laid.
pub fn key_words(plan: &BasePlan) -> Option<&'static str> {
    (plan.choice.kind == BaseKind::Plies).then_some(words::BASE_PLY_ORDER.text)
}
