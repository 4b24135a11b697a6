//! The ring from above and from the side, dimensioned (ISO 129-1): the glued polygon
//! in its wood, the finished circles inside it, one segment picked out.

use crate::design::field::key;
use crate::design::{Between, Design};
use crate::draw::dimension::{Run, linear};
use crate::draw::pen::Pen;
use crate::draw::{
    Anchor, Color, Drawing, Fill, Ink, Path, Point, Tone, Words, circle, point, polygon, rectangle,
};
use crate::plan::ring::RingPlan;
use crate::show::words;
use crate::trade::ring::{Outside, Segment};
use std::f64::consts::{FRAC_PI_2, TAU};

/// Room around the ring, in millimeters.
struct Margins {
    left: f64,
    right: f64,
    top: f64,
    between: f64,
    bottom: f64,
}

impl Margins {
    fn of(pen: &Pen) -> Margins {
        let arrows = 3.0 * pen.style.arrow_mm;
        let (field_width, field_height) = pen.field_mm.unwrap_or((18.0, 7.0));
        Margins {
            left: 2.0,
            right: arrows + field_width,
            top: 1.0,
            between: 4.0,
            bottom: field_height + 3.0,
        }
    }
}

/// Where the ring stands on its drawing.
pub struct View {
    /// The axis, seen from above.
    pub center: Point,
    /// Drawn millimeters for one real one.
    pub scale: f64,
    /// Height of the side view's upper edge.
    pub side_top: f64,
    /// Half of what is drawn across, real millimeters.
    reach_mm: f64,
    /// The strip's height, real millimeters.
    pub strip_height_mm: f64,
}

impl View {
    /// Room for a ring from above and from its side, and for its dimensions.
    pub fn fit(width_mm: f64, height_mm: f64, ring: &RingPlan, pen: &Pen) -> View {
        let margins = Margins::of(pen);
        let wanted = &ring.wanted;
        let reach_mm = ring
            .outside
            .map_or(wanted.outside_radius_mm, |outside| {
                outside.apothem_mm.hypot(outside.long_edge_mm / 2.0)
            })
            .max(1e-3);
        let strip_height_mm = wanted.strip_height_mm();
        let room_across = (width_mm - margins.left - margins.right).max(10.0);
        let room_down = (height_mm - margins.top - margins.between - margins.bottom).max(10.0);
        // A tall ring would leave the view from above no room: its side view is then
        // cut off at a third.
        let side_share = (strip_height_mm / (2.0 * reach_mm)).min(0.5);
        let scale =
            (room_across / (2.0 * reach_mm)).min(room_down / (2.0 * reach_mm * (1.0 + side_share)));
        let radius = reach_mm * scale;
        View {
            center: point(
                margins.left + radius.max((room_across - radius).min(room_across / 2.0)),
                margins.top + radius,
            ),
            scale,
            side_top: margins.top + 2.0 * radius + margins.between,
            reach_mm,
            strip_height_mm: strip_height_mm.min(2.0 * reach_mm * side_share),
        }
    }

    /// A place on the ring by its distance from the axis, real millimeters, and its
    /// direction, 0 to the right.
    fn polar(&self, distance_mm: f64, angle: f64) -> Point {
        self.center.polar(distance_mm * self.scale, angle)
    }

    /// A corner by its distance along the middle line of segment `index` and aside
    /// from it; segment 0 stands at the top.
    fn corner(&self, index: f64, count: f64, along_mm: f64, aside_mm: f64) -> Point {
        let angle = index * TAU / count - FRAC_PI_2;
        self.polar(along_mm.hypot(aside_mm), angle + aside_mm.atan2(along_mm))
    }
}

/// Draws the ring to fit the given size.
pub fn draw(design: &Design, ring: &RingPlan, width_mm: f64, height_mm: f64, pen: &Pen) -> Drawing {
    let view = View::fit(width_mm, height_mm, ring, pen);
    let mut drawing = Drawing::new(width_mm, height_mm, words::DRAWING_RING.text)
        .described(description(ring, pen));
    let color = ring.color(design);
    match (&ring.segment, &ring.outside) {
        (Some(segment), _) => {
            segments(&mut drawing, &view, ring, segment, color);
            side(&mut drawing, &view, ring, segment, color);
        }
        (None, Some(outside)) => outline(&mut drawing, &view, ring, outside),
        (None, None) => {}
    }
    finished(&mut drawing, &view, ring);
    dimensions(&mut drawing, &view, ring, pen);
    drawing
}

/// Marks on a drawn ring where its front is: toward the reader.
pub fn mark_front(drawing: &mut Drawing, ring: &RingPlan, pen: &Pen) {
    let angle = FRAC_PI_2;
    let view = View::fit(drawing.width_mm, drawing.height_mm, ring, pen);
    let hole = ring.wanted.inside_radius_mm * view.scale;
    let reach = if hole > 9.0 {
        hole
    } else {
        ring.wanted.outside_radius_mm * view.scale
    };
    let base = view.center.polar(reach - 3.8, angle);
    let aside = angle + FRAC_PI_2;
    let tip = [
        view.center.polar(reach - 0.6, angle),
        base.polar(1.7, aside),
        base.polar(-1.7, aside),
    ];
    let tip = Path::area(polygon(&tip), Fill::Tone(Tone::Graphite));
    drawing.add(tip.named("front"));
    let word = Words::new(
        view.center.polar(reach - 5.6, angle),
        words::MAP_FRONT.text,
        2.1,
    );
    drawing.add(word.bold().level_middle().anchored(Anchor::Middle));
}

/// What is drawn, for those who do not see it.
pub fn description(ring: &RingPlan, pen: &Pen) -> String {
    words::ring_described(
        ring.wanted.segment_count,
        2.0 * ring.wanted.outside_radius_mm,
        2.0 * ring.wanted.inside_radius_mm.max(0.0),
        pen.unit,
    )
}

/// The color of every second segment: neighbours differ a little, as neighbouring pieces of
/// one board do.
pub fn neighbor(color: Color) -> Color {
    color.toward(crate::draw::palette::WHITE, 0.12)
}

fn segments(drawing: &mut Drawing, view: &View, ring: &RingPlan, segment: &Segment, color: Color) {
    let count = f64::from(ring.wanted.segment_count);
    let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
    let (short, long) = (
        segment.short_edge_mm / 2.0,
        segment.outside.long_edge_mm / 2.0,
    );
    let corners = |index: f64| {
        [
            (inside, -short),
            (outside, -long),
            (outside, long),
            (inside, short),
        ]
        .map(|(along, aside)| view.corner(index, count, along, aside))
    };
    for index in 1..ring.wanted.segment_count {
        let wood = if index.is_multiple_of(2) {
            color
        } else {
            neighbor(color)
        };
        drawing.add(
            Path::line(polygon(&corners(f64::from(index))), Ink::Thin).filled(Fill::Wood(wood)),
        );
    }
    if ring.between == Between::Spacer && ring.wanted.spacer_mm > 0.0 {
        spacers(drawing, view, ring, segment, color);
    }
    drawing.add(
        Path::line(polygon(&corners(0.0)), Ink::Held)
            .filled(Fill::Wood(color))
            .named("segment"),
    );
}

fn spacers(drawing: &mut Drawing, view: &View, ring: &RingPlan, segment: &Segment, color: Color) {
    let count = f64::from(ring.wanted.segment_count);
    let half = ring.wanted.spacer_mm / 2.0;
    let hole = segment.smallest_hole_mm / 2.0;
    let start = (hole * hole - half * half).max(0.0).sqrt();
    let end = start + segment.spacer_length_mm;
    // A spacer of the same wood would not be seen: it is drawn darker, or lighter
    // between dark woods.
    let contrast = if color.is_light() {
        crate::draw::palette::BLACK
    } else {
        crate::draw::palette::WHITE
    };
    let wood = color.toward(contrast, 0.45);
    for index in 0..ring.wanted.segment_count {
        let corners = [(start, -half), (end, -half), (end, half), (start, half)]
            .map(|(along, aside)| view.corner(f64::from(index) + 0.5, count, along, aside));
        drawing.add(Path::line(polygon(&corners), Ink::Thin).filled(Fill::Wood(wood)));
    }
}

/// Only the outside is known: its flats.
fn outline(drawing: &mut Drawing, view: &View, ring: &RingPlan, outside: &Outside) {
    let count = f64::from(ring.wanted.segment_count);
    for index in 0..ring.wanted.segment_count {
        let half = outside.long_edge_mm / 2.0;
        let end = |aside| view.corner(f64::from(index), count, outside.apothem_mm, aside);
        drawing.line(end(-half), end(half), Ink::Object);
    }
}

/// The ring from the side: its outline, the corners in front, the hole behind.
fn side(drawing: &mut Drawing, view: &View, ring: &RingPlan, segment: &Segment, color: Color) {
    let count = ring.wanted.segment_count;
    let height = view.strip_height_mm * view.scale;
    let (top, bottom) = (view.side_top, view.side_top + height);
    let corner = |index: f64, aside: f64| {
        view.corner(index, f64::from(count), segment.outside.apothem_mm, aside)
    };
    let half = segment.outside.long_edge_mm / 2.0;
    let corners =
        (0..count).flat_map(|i| [corner(f64::from(i), -half), corner(f64::from(i), half)]);
    let (front, back): (Vec<Point>, Vec<Point>) =
        corners.partition(|p| p.y >= view.center.y - 1e-9);
    let all = || front.iter().chain(&back).map(|p| p.x);
    let (left, right) = (
        all().fold(f64::MAX, f64::min),
        all().fold(f64::MIN, f64::max),
    );
    let body = rectangle(point(left, top), right - left, height);
    drawing.add(Path::line(body, Ink::Object).filled(Fill::Wood(color)));
    for x in front
        .iter()
        .map(|p| p.x)
        .filter(|x| *x > left + 0.1 && *x < right - 0.1)
    {
        drawing.line(point(x, top), point(x, bottom), Ink::Thin);
    }
    let hole = segment.smallest_hole_mm / 2.0 * view.scale;
    if hole > 1.0 {
        for x in [view.center.x - hole, view.center.x + hole] {
            drawing.line(point(x, top), point(x, bottom), Ink::Hidden);
        }
    }
}

/// The circles of the finished piece within a ring.
pub fn finished(drawing: &mut Drawing, view: &View, ring: &RingPlan) {
    for radius_mm in [ring.wanted.outside_radius_mm, ring.wanted.inside_radius_mm] {
        if radius_mm > 0.0 {
            drawing.add(
                Path::line(circle(view.center, radius_mm * view.scale), Ink::Finished)
                    .named("finished"),
            );
        }
    }
}

/// The dimensions of a ring on its drawing.
pub fn dimensions(drawing: &mut Drawing, view: &View, ring: &RingPlan, pen: &Pen) {
    let outside_mm = ring.wanted.outside_radius_mm;
    let inside_mm = ring.wanted.inside_radius_mm.max(0.0);
    let style = &pen.style;
    // The diameter below all, its extension lines through the side view.
    let height = view.strip_height_mm * view.scale;
    let line_y = view.side_top
        + height
        + pen
            .field_mm
            .map_or(style.height_mm + 3.0, |(_, field)| field / 2.0 + 1.5);
    let from_y = view.side_top + height;
    drawing.add_all(linear(
        point(view.center.x - outside_mm * view.scale, from_y),
        point(view.center.x + outside_mm * view.scale, from_y),
        Run::Level { y: line_y },
        &pen.field(key::OUTSIDE_DIAMETER, 2.0 * outside_mm)
            .prefixed("Ø"),
        style,
    ));
    // The hole across its middle.
    let inside = pen
        .field(key::INSIDE_DIAMETER, 2.0 * inside_mm)
        .prefixed("Ø");
    let hole_y = view.center.y;
    drawing.add_all(linear(
        point(view.center.x - inside_mm.max(1e-3) * view.scale, hole_y),
        point(view.center.x + inside_mm.max(1e-3) * view.scale, hole_y),
        Run::Level { y: hole_y },
        &inside,
        style,
    ));
    // A wall past the center is told as it was typed.
    let wall = outside_mm - ring.wanted.inside_radius_mm;
    // The wall, to the right and a little lower, so that its figure stands clear.
    let wall_angle = wall_angle(view, pen);
    let (start, end) = (
        view.polar(inside_mm, wall_angle),
        view.polar(outside_mm, wall_angle),
    );
    drawing.add_all(outward(
        start,
        end,
        wall_angle,
        &pen.field(key::WALL, wall),
        view,
        pen,
    ));
    // The height beside the side view.
    let right = view.center.x + view.reach_mm * view.scale;
    let face = ring.wanted.face_allowance_mm * view.scale;
    let (top, bottom) = (
        view.side_top + face,
        (view.side_top + height - face).max(view.side_top + face + 0.2),
    );
    let x = right + 4.0 + pen.field_mm.map_or(2.0, |(width, _)| width / 2.0);
    drawing.add_all(upright_height(
        point(right, top),
        point(right, bottom),
        x,
        &pen.field(key::HEIGHT, ring.wanted.height_mm),
        pen,
    ));
}

/// The direction in which the wall is measured: below the middle line by more than a
/// field's height, above the side view.
fn wall_angle(view: &View, pen: &Pen) -> f64 {
    let aside = pen.field_mm.map_or(6.0, |(_, height)| height * 1.2);
    (-aside / (view.reach_mm * view.scale))
        .clamp(-1.0, 0.0)
        .asin()
}

/// A wall's dimension along its own direction, the figure level beside the ring.
fn outward(
    start: Point,
    end: Point,
    angle: f64,
    label: &crate::draw::dimension::Label,
    view: &View,
    pen: &Pen,
) -> Vec<crate::draw::Mark> {
    use crate::draw::dimension::{Run, linear};
    let silent = crate::draw::dimension::Label::new("").held(label.is_held);
    let mut marks = linear(
        start,
        end,
        Run::Aligned { offset_mm: 0.0 },
        &silent,
        &pen.style,
    );
    let tip = end.polar(pen.style.arrow_mm, angle);
    let right = view.center.x + view.reach_mm * view.scale;
    let elbow = point(right.max(tip.x) + 2.0, tip.y - 2.0);
    marks.extend(crate::draw::dimension::leader(
        end,
        elbow,
        crate::draw::dimension::LeaderEnd::Arrow,
        label,
        &pen.style,
    ));
    marks
}

/// The height's dimension: the line beside the ring, the figure beside the line.
fn upright_height(
    top: Point,
    bottom: Point,
    x: f64,
    label: &crate::draw::dimension::Label,
    pen: &Pen,
) -> Vec<crate::draw::Mark> {
    let silent = crate::draw::dimension::Label::new("").held(label.is_held);
    let line_x = top.x + 4.0;
    let mut marks = linear(top, bottom, Run::Upright { x: line_x }, &silent, &pen.style);
    let middle = top.halfway(bottom);
    marks.extend(crate::draw::dimension::leader(
        point(line_x, middle.y),
        point(x.min(line_x + 2.0), middle.y),
        crate::draw::dimension::LeaderEnd::Dot,
        label,
        &pen.style,
    ));
    marks
}
