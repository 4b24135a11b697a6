//! One segment on its strip, to scale, with the next one turned over beside it: how
//! the miters follow each other and what the kerf takes.

use crate::design::Design;
use crate::design::field::key;
use crate::draw::dimension::{Angle, Label, Run, angular, linear};
use crate::draw::pen::{Pen, lettering};
use crate::draw::{
    Anchor, Drawing, Fill, Ink, Lettering, Path, Point, Weight, Words, point, polygon, polyline,
};
use crate::plan::ring::RingPlan;
use crate::show::words;
use crate::trade::ring::Segment;
use crate::units::quantity;
use quantity::shown_degrees;
use std::f64::consts::FRAC_PI_2;

/// A segment's corners on the strip; x along the strip, y down across it.
struct OnStrip {
    /// Upper left, upper right, lower right, lower left.
    corners: [Point; 4],
}

/// The first two segments: the long edge below, then above.
fn first_two(segment: &Segment, kerf_mm: f64) -> [OnStrip; 2] {
    let (long, short) = (segment.outside.long_edge_mm, segment.short_edge_mm);
    let width = segment.strip_width_mm;
    let run = (long - short) / 2.0;
    let kerf = kerf_mm / segment.outside.half_angle_rad.cos();
    let second = long + kerf;
    [
        OnStrip {
            corners: [
                point(run, 0.0),
                point(run + short, 0.0),
                point(long, width),
                point(0.0, width),
            ],
        },
        OnStrip {
            corners: [
                point(run + short + kerf, 0.0),
                point(run + short + kerf + long, 0.0),
                point(second + short, width),
                point(second, width),
            ],
        },
    ]
}

/// From the segment to the figure of the strip's width.
const FIGURE_BESIDE_MM: f64 = 6.5;

/// How far the strip's broken end goes in, as a share of its width.
const BROKEN: f64 = 0.12;

/// Draws the segment on its strip to fit the given size; nothing without a segment.
pub fn draw(
    design: &Design,
    ring: &RingPlan,
    width_mm: f64,
    height_mm: f64,
    pen: &Pen,
) -> Option<Drawing> {
    let segment = ring.segment?;
    let mut drawing = Drawing::new(width_mm, height_mm, words::DRAWING_SEGMENT.text)
        .described(words::segment_described(&segment, pen.unit));
    let two = first_two(&segment, design.shop.kerf_mm);
    let end = two[1].corners[1].x;
    let beside = pen.field_mm.map_or(15.5, |(width_mm, _)| width_mm + 2.0);
    let (left, right, top, bottom) = (FIGURE_BESIDE_MM + beside, 3.0, 9.0, 10.0);
    // Behind the second segment there is room for the saw setting's figure, clear of the
    // strip's broken end.
    let figure = setting(&segment).width_mm(pen.style.height_mm, Weight::Bold) + 3.5;
    let whole = end + BROKEN * segment.strip_width_mm;
    let scale = ((width_mm - left - right - figure).max(10.0) / whole)
        .min((height_mm - top - bottom).max(5.0) / segment.strip_width_mm);
    let across = whole + figure / scale;
    let slack = (width_mm - left - right - across * scale).max(0.0) / 2.0;
    let origin = point(left + slack, top);
    let place = |p: Point| point(origin.x + p.x * scale, origin.y + p.y * scale);
    strip(
        &mut drawing,
        &two,
        &segment,
        across,
        &place,
        ring.color(design),
    );
    dimensions(&mut drawing, &two[0], &segment, &place, pen);
    strip_width(&mut drawing, &two[0], &segment, &place, pen);
    kerf(
        &mut drawing,
        design,
        &segment,
        place(two[0].corners[2]),
        &place,
        pen,
    );
    saw_setting(&mut drawing, &two[1], &segment, &place, pen);
    Some(drawing)
}

fn strip(
    drawing: &mut Drawing,
    two: &[OnStrip; 2],
    segment: &Segment,
    across_mm: f64,
    place: &impl Fn(Point) -> Point,
    color: crate::draw::Color,
) {
    let width = segment.strip_width_mm;
    // The strip's square end and its far end, broken off.
    let rest = [
        point(two[1].corners[1].x, 0.0),
        point(across_mm, 0.0),
        point(across_mm - width * BROKEN, width * 0.4),
        point(across_mm + width * 0.08, width * 0.6),
        point(across_mm - width * 0.04, width),
        point(two[1].corners[2].x, width),
    ];
    let light = color.toward(crate::draw::palette::WHITE, 0.5);
    drawing.add(Path::line(polygon(&rest.map(place)), Ink::Thin).filled(Fill::Wood(light)));
    let end = [point(0.0, width), point(0.0, 0.0), two[0].corners[0]].map(place);
    drawing.add(Path::line(polyline(&end), Ink::Hidden));
    drawing.add(
        Path::line(polygon(&two[1].corners.map(place)), Ink::Object).filled(Fill::Wood(light)),
    );
    drawing.add(
        Path::line(polygon(&two[0].corners.map(place)), Ink::Held)
            .filled(Fill::Wood(color))
            .named("segment"),
    );
}

fn dimensions(
    drawing: &mut Drawing,
    first: &OnStrip,
    segment: &Segment,
    place: &impl Fn(Point) -> Point,
    pen: &Pen,
) {
    let [upper_left, upper_right, lower_right, lower_left] = first.corners.map(place);
    let style = &pen.style;
    let long = pen.figure(segment.outside.long_edge_mm).bold();
    drawing.add_all(linear(
        lower_left,
        lower_right,
        Run::Level {
            y: lower_left.y + 7.0,
        },
        &long,
        style,
    ));
    drawing.add_all(linear(
        upper_left,
        upper_right,
        Run::Level {
            y: upper_left.y - 3.5,
        },
        &pen.figure(segment.short_edge_mm),
        style,
    ));
}

/// The strip's width, level beside its line: along a narrow strip it would not fit. On the
/// screen it is a field, and the ring's wall follows what is typed.
fn strip_width(
    drawing: &mut Drawing,
    first: &OnStrip,
    segment: &Segment,
    place: &impl Fn(Point) -> Point,
    pen: &Pen,
) {
    let [upper_left, _, _, lower_left] = first.corners.map(place);
    let is_held = pen.held == key::STRIP_WIDTH;
    drawing.add_all(linear(
        point(lower_left.x, upper_left.y),
        lower_left,
        Run::Upright {
            x: lower_left.x - 5.0,
        },
        &Label::new("").held(is_held),
        &pen.style,
    ));
    let width = pen.figure(segment.strip_width_mm).lettering;
    let end = point(
        lower_left.x - FIGURE_BESIDE_MM,
        upper_left.halfway(lower_left).y,
    );
    let words = |at: Point| Words::new(at, width, pen.style.height_mm).bold();
    drawing.add(match pen.field_mm {
        Some((wide_mm, high_mm)) => words(point(end.x - wide_mm / 2.0, end.y))
            .anchored(Anchor::Middle)
            .level_middle()
            .field(key::STRIP_WIDTH, wide_mm, high_mm),
        None => words(end).anchored(Anchor::End).level_middle(),
    });
}

/// The saw's setting, between the last miter and a line square across the strip.
fn saw_setting(
    drawing: &mut Drawing,
    second: &OnStrip,
    segment: &Segment,
    place: &impl Fn(Point) -> Point,
    pen: &Pen,
) {
    let corner = place(second.corners[1]);
    let foot = place(point(second.corners[1].x, segment.strip_width_mm));
    drawing.line(corner, foot, Ink::Hidden);
    let radius = (foot.y - corner.y) * 0.8;
    let angle = segment.outside.half_angle_rad;
    drawing.add_all(angular(
        &Angle {
            center: corner,
            from: FRAC_PI_2,
            to: FRAC_PI_2 + angle,
            radius_mm: radius,
            drawn_mm: (radius, radius),
        },
        &Label::new(""),
        &pen.style,
    ));
    let text = setting(segment);
    let beside = point(corner.x + 2.0, corner.y + radius * 0.45);
    drawing.add(
        Words::new(beside, text, pen.style.height_mm)
            .bold()
            .level_middle(),
    );
}

/// The saw's setting as it is written.
fn setting(segment: &Segment) -> Lettering {
    lettering(&shown_degrees(segment.outside.half_angle_rad)).then("°")
}

/// The kerf, named where it is wide enough to be seen.
fn kerf(
    drawing: &mut Drawing,
    design: &Design,
    segment: &Segment,
    lower_right: Point,
    place: &impl Fn(Point) -> Point,
    pen: &Pen,
) {
    if design.shop.kerf_mm <= 0.0 {
        return;
    }
    let kerf_along = design.shop.kerf_mm / segment.outside.half_angle_rad.cos();
    let next = place(point(
        segment.outside.long_edge_mm + kerf_along,
        segment.strip_width_mm,
    ));
    let label =
        Label::new(words::kerf_note(design.shop.kerf_mm, pen.unit)).held(pen.held == key::KERF);
    let tip = lower_right.halfway(next);
    drawing.add_all(crate::draw::dimension::leader(
        tip,
        point(tip.x + 4.0, tip.y + 7.0),
        crate::draw::dimension::LeaderEnd::Dot,
        &label,
        &pen.style,
    ));
}
