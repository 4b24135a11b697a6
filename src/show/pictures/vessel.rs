//! The vessel: at the left of its axis as it is seen, at the right cut open, each ring
//! as the rectangle that it is glued as; and its outside unrolled.

use super::built::Fit;
use super::view::{DIAMETER_LINE_MM, HEIGHT_LINE_MM, Rows, View, cells, has_names};
use crate::design::{Between, MadeOf, StackRing, Vessel};
use crate::draw::dimension::{Run, linear};
use crate::draw::palette::{BLACK, WHITE};
use crate::draw::pen::{Pen, lettering};
use crate::draw::{
    Anchor, Color, Drawing, Fill, Frame, Ink, MM_PER_PX, Mark, Path, Point, Step, Tone, Words,
    point, polygon, polyline, rectangle,
};
use crate::plan::base::BasePlan;
use crate::plan::rings::RingInStack;
use crate::plan::rings::{Made, flats_mm, gaps_of};
use crate::plan::stack::StackPlan;
use crate::show::thing::Thing;
use crate::show::words;
use crate::trade::shape::Wall;
use crate::units::length::show;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// What is picked out on the drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Picked {
    /// What is touched.
    pub thing: Thing,
    /// The ring above which the halves meet, from 1; 0 for one piece.
    pub meets_above: usize,
}

impl Picked {
    fn is_ring(self, place: usize) -> bool {
        self.thing.ring() == Some(place)
    }

    fn is_set(self, place: usize) -> bool {
        self.thing == Thing::Set(place)
    }
}

/// Draws the half-section.
pub fn section(
    plan: &StackPlan,
    size_mm: (f64, f64),
    view: &View,
    picked: Picked,
    fit: Option<&Fit>,
    pen: &Pen,
) -> Drawing {
    let mut drawing = Drawing::new(size_mm.0, size_mm.1, words::by_key("drawing.section"));
    let Some(wall) = &plan.wall else {
        return drawing;
    };
    for (place, planned) in plan.rings.iter().enumerate() {
        tapped_row(&mut drawing, view, planned, place);
    }
    for (place, planned) in plan.rings.iter().enumerate() {
        let color = planned.color_of(cut_segment(plan, place));
        blank_ring(&mut drawing, view, planned, (place, color), picked);
    }
    cut_wall(&mut drawing, view, wall, plan);
    for bore in plan.bores() {
        let hole = from_axis(view, [bore.from_mm, bore.to_mm], bore.radius_mm);
        let open = Path::line(hole, Ink::Thin).filled(Fill::Tone(Tone::Paper));
        drawing.add(open.named("base hole"));
    }
    if let Some(base) = &plan.base {
        cut_base(&mut drawing, view, wall, plan, base);
    }
    let floor_from_mm = plan.floor_from_mm();
    floor(&mut drawing, view, wall, &plan.rings, floor_from_mm);
    super::inlay::over_cut_half(&mut drawing, view, plan);
    if let Some(fit) = fit {
        super::built::over_cut_half(&mut drawing, view, plan, fit);
    }
    seen_outside(&mut drawing, view, wall, plan);
    light_up(&mut drawing, picked.thing);
    super::inlay::over_seen_half(&mut drawing, view, plan, |set| picked.is_set(set));
    outline(&mut drawing, view, wall);
    if let Thing::Ring(place) = picked.thing {
        seen_ring(&mut drawing, view, wall, plan, place);
    }
    meeting(&mut drawing, view, wall, plan, picked);
    if picked.thing == Thing::Floor {
        let radius = wall.inside_radius_at(wall.floor_mm) * view.scale;
        let corner = view.place(wall.floor_mm, 0.0);
        let edge = rectangle(corner, radius, (wall.floor_mm - floor_from_mm) * view.scale);
        drawing.add(Path::line(edge, Ink::Held).named("floor"));
    }
    let top = view.place(wall.outside.height_mm(), 0.0);
    let foot = view.place(0.0, 0.0);
    drawing.line(
        point(top.x, top.y - 4.0),
        point(foot.x, foot.y + 4.0),
        Ink::Center,
    );
    ring_names(&mut drawing, view, plan, picked, pen);
    drawing
}

/// Room for a finger at a ring's height, from the axis to its name: where handles lie over the
/// ring, it is still picked out beside them.
fn tapped_row(drawing: &mut Drawing, view: &View, planned: &RingInStack, place: usize) {
    let corner = view.place(planned.span.top_mm, 0.0);
    let height = (planned.span.top_mm - planned.span.bottom_mm) * view.scale;
    let row = rectangle(corner, drawing.width_mm - corner.x, height);
    drawing.add(Path::area(row, Fill::Touch).named(format!("ring-{place}")));
}

/// The segment that the cut half shows of a ring: the one to the right of whoever looks at
/// the front.
fn cut_segment(plan: &StackPlan, place: usize) -> u32 {
    let ring = plan.vessel.rings.get(place);
    let cells = ring.map(cells).unwrap_or_default();
    // In a gap, and where a joint lies in the plane, the nearer one.
    let aside = |(_, start, end): &(u32, f64, f64)| (start - FRAC_PI_2).max(FRAC_PI_2 - end);
    let cut = cells.iter().min_by(|a, b| aside(a).total_cmp(&aside(b)));
    cut.map_or(0, |(segment, _, _)| *segment)
}

/// A ring as it is glued, in the cut half: firm where it is there already, light where it is
/// planned.
fn blank_ring(
    drawing: &mut Drawing,
    view: &View,
    planned: &RingInStack,
    (place, color): (usize, Color),
    picked: Picked,
) {
    let (from, to) = (planned.span.bottom_mm, planned.span.top_mm);
    let (inside, outside) = flats_mm(planned);
    let [lower, upper] = planned.measured.map_or([(inside, outside); 2], |faces| {
        faces.map(|face| (face.hole_mm, face.outside_mm))
    });
    let corners = [
        view.place(from, lower.0),
        view.place(from, lower.1),
        view.place(to, upper.1),
        view.place(to, upper.0),
    ];
    let (ink, pale) = match (picked.is_ring(place), planned.measured) {
        (true, _) => (Ink::Held, 0.62),
        (false, Some(_)) => (Ink::Object, 0.4),
        (false, None) => (Ink::Thin, 0.62),
    };
    drawing.add(
        Path::line(polygon(&corners), ink)
            .filled(Fill::Wood(color.toward(WHITE, pale)))
            .named(format!("ring-{place}")),
    );
}

/// The finished wall in the cut half, ring by ring in its wood.
fn cut_wall(drawing: &mut Drawing, view: &View, wall: &Wall, plan: &StackPlan) {
    let rim = wall.outside.height_mm();
    for (place, planned) in plan.rings.iter().enumerate() {
        let (from, to) = (
            planned.span.bottom_mm.min(rim),
            planned.span.top_mm.min(rim),
        );
        if to - from < 1e-6 {
            continue;
        }
        for ([low, high], color) in super::stripe::levels(planned, cut_segment(plan, place)) {
            let span = [low.min(rim), high.min(rim)];
            cut_level(drawing, view, wall, span, (place, color));
        }
        let joint = [
            view.place(to, wall.outside.radius_at(to)),
            view.place(to, inside_at(wall, to)),
        ];
        drawing.add(Path::line(polyline(&joint), Ink::Thin));
    }
}

/// A ring that is picked out, in the half that is seen from outside: as in the cut half.
fn seen_ring(drawing: &mut Drawing, view: &View, wall: &Wall, plan: &StackPlan, place: usize) {
    let Some(planned) = plan.rings.get(place) else {
        return;
    };
    let rim = wall.outside.height_mm();
    let [from, to] = [planned.span.bottom_mm, planned.span.top_mm].map(|z| z.min(rim));
    if to - from < 1e-6 {
        return;
    }
    let side = heights(from, to).map(|z| view.place(z, -wall.outside.radius_at(z)));
    let mut edge = vec![view.place(from, 0.0)];
    edge.extend(side);
    edge.push(view.place(to, 0.0));
    drawing.add(Path::line(polygon(&edge), Ink::Held).named(format!("ring-{place}")));
}

/// The finished wall between two heights of a ring.
fn cut_level(
    drawing: &mut Drawing,
    view: &View,
    wall: &Wall,
    [from, to]: [f64; 2],
    (place, color): (usize, Color),
) {
    if to - from < 1e-6 {
        return;
    }
    let mut points: Vec<Point> = heights(from, to)
        .map(|z| view.place(z, wall.outside.radius_at(z)))
        .collect();
    let floor = wall.floor_mm.clamp(from, to);
    points.extend(
        heights(floor, to)
            .rev()
            .filter(|_| to > wall.floor_mm)
            .map(|z| view.place(z, wall.inside_radius_at(z.max(wall.floor_mm)))),
    );
    if from < wall.floor_mm {
        // Through the floor the wood goes to the axis.
        points.push(view.place(floor, 0.0));
        points.push(view.place(from, 0.0));
    }
    drawing.add(Path::area(polygon(&points), Fill::Wood(color)).named(format!("ring-{place}")));
}

/// Room for a finger on the floor, drawn millimeters: it reaches up into the hollow.
const FLOOR_TOUCH_MM: f64 = 10.0;

/// Room for a finger on the floor.
fn floor(drawing: &mut Drawing, view: &View, wall: &Wall, rings: &[RingInStack], from_mm: f64) {
    let mut around = rings
        .iter()
        .filter(|ring| ring.span.bottom_mm < wall.floor_mm && from_mm < ring.span.top_mm);
    // Beside its hole a ring is touched, and not the floor.
    let hole_mm = around.find_map(|ring| Some(flats_mm(ring).0).filter(|hole| *hole > 0.0));
    let finished_mm = wall.inside_radius_at(wall.floor_mm);
    let radius = finished_mm.min(hole_mm.unwrap_or(finished_mm)) * view.scale;
    let high = ((wall.floor_mm - from_mm) * view.scale).max(FLOOR_TOUCH_MM);
    let foot = view.place(from_mm, 0.0);
    let area = rectangle(point(foot.x, foot.y - high), radius, high);
    drawing.add(Path::area(area, Fill::Touch).named("floor"));
}

/// Half the height of a finger's room where the halves meet, drawn millimeters.
const MEETING_TOUCH_MM: f64 = 6.0;

/// Where the halves meet: across the hollow, between two rings.
fn meeting(drawing: &mut Drawing, view: &View, wall: &Wall, plan: &StackPlan, picked: Picked) {
    let below = picked.meets_above.checked_sub(1);
    let Some(below) = below.and_then(|below| plan.rings.get(below)) else {
        return;
    };
    let at = below.span.top_mm;
    let [from, to] = [view.place(at, 0.0), view.place(at, inside_at(wall, at))];
    let room = rectangle(
        point(from.x, from.y - MEETING_TOUCH_MM),
        to.x - from.x,
        2.0 * MEETING_TOUCH_MM,
    );
    let ink = if picked.thing == Thing::Meeting {
        Ink::Held
    } else {
        Ink::Cut
    };
    drawing.add(Path::area(room, Fill::Touch).named("meeting"));
    drawing.add(Path::line(polyline(&[from, to]), ink).named("meeting"));
}

/// From the axis out to a radius, between two heights.
fn from_axis(view: &View, [from, to]: [f64; 2], radius: f64) -> Vec<Step> {
    let (width, height) = (radius * view.scale, (to - from) * view.scale);
    rectangle(view.place(to, 0.0), width, height)
}

/// The base in the cut half, ply by ply: pale as it is glued, and in its wood what the
/// finished wall keeps of it.
fn cut_base(drawing: &mut Drawing, view: &View, wall: &Wall, plan: &StackPlan, base: &BasePlan) {
    let Some(around) = base.around.place.and_then(|place| plan.rings.get(place)) else {
        return;
    };
    let lowest = plan.rings.first().filter(|it| it.made == Made::Plies);
    let (radius, bottom) = match lowest {
        Some(lowest) => (lowest.reach_mm, lowest.span.bottom_mm),
        None if base.is_set_in() => (base.disc_mm / 2.0, around.span.bottom_mm),
        None => return,
    };
    let seat = bottom + base.seat_mm();
    let mut from = seat;
    for (thickness_mm, color) in &base.layers {
        let to = from + thickness_mm;
        let pale = Fill::Wood(color.toward(WHITE, 0.62));
        drawing.add(
            Path::line(from_axis(view, [from, to], radius), Ink::Thin)
                .filled(pale)
                .named("base"),
        );
        let kept = kept_of_base(wall, from, to, radius);
        let kept: Vec<Point> = kept.iter().map(|(z, r)| view.place(*z, *r)).collect();
        if !kept.is_empty() {
            let body = Path::line(polygon(&kept), Ink::Thin);
            drawing.add(body.filled(Fill::Wood(*color)).named("base kept"));
        }
        from = to;
    }
}

/// What the finished wall keeps of a ply between two heights, out to a radius: heights
/// and radii round it, up the outside and down the inside.
fn kept_of_base(wall: &Wall, from: f64, to: f64, radius: f64) -> Vec<(f64, f64)> {
    let to = to.min(wall.outside.height_mm());
    let floor = wall.floor_mm.clamp(from.min(to), to);
    let outer = |z: f64| (z, wall.outside.radius_at(z).min(radius));
    // Above the floor only what is nearer the axis than the ply's edge is hollow.
    let inner = |z: f64| {
        (
            z,
            wall.inside_radius_at(z.max(wall.floor_mm)).min(outer(z).1),
        )
    };
    let mut around: Vec<(f64, f64)> = heights(from, to).map(outer).collect();
    if to > wall.floor_mm {
        around.extend(heights(floor, to).rev().map(inner));
    }
    if from < wall.floor_mm {
        around.extend([(floor, 0.0), (from, 0.0)]);
    }
    let area: f64 = around
        .iter()
        .zip(around.iter().cycle().skip(1))
        .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
        .sum();
    if to > from && area.abs() > 1e-3 {
        around
    } else {
        Vec::new()
    }
}

fn inside_at(wall: &Wall, height_mm: f64) -> f64 {
    if height_mm < wall.floor_mm {
        0.0
    } else {
        wall.inside_radius_at(height_mm)
    }
}

/// Heights across a span, close enough for a smooth line.
fn heights(from: f64, to: f64) -> impl DoubleEndedIterator<Item = f64> {
    const STEPS: u32 = 10;
    (0..=STEPS).map(move |step| from + (to - from) * f64::from(step) / f64::from(STEPS))
}

/// The outside as it is seen at the left of the axis: each segment in its wood.
fn seen_outside(drawing: &mut Drawing, view: &View, wall: &Wall, plan: &StackPlan) {
    let vessel = &plan.vessel;
    let rim = wall.outside.height_mm();
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let (from, to) = (
            planned.span.bottom_mm.min(rim),
            planned.span.top_mm.min(rim),
        );
        if to - from < 1e-6 {
            continue;
        }
        let gaps = gaps_of(ring, planned);
        let air = |z: f64| gaps.map_or(0.0, |it| it.half_rad(wall.outside.radius_at(z)));
        for cell in cells(ring) {
            let (segment, start, end) = cell;
            // Seen from the front, directions run from −90° (the left edge) to 0.
            let seen = |direction: f64| direction.clamp(-FRAC_PI_2, 0.0);
            let air = air(f64::midpoint(from, to));
            if seen(end - air) - seen(start + air) < 1e-9 {
                continue;
            }
            let edge = |direction: f64, side: f64| {
                heights(from, to).map(move |z| {
                    let radius = wall.outside.radius_at(z);
                    let air = gaps.map_or(0.0, |it| it.half_rad(radius));
                    view.place(z, seen(direction + side * air).sin() * radius)
                })
            };
            let mut points: Vec<Point> = edge(start, 1.0).collect();
            points.extend(edge(end, -1.0).rev());
            let body = polygon(&points);
            drawing.add(
                Path::line(body.clone(), Ink::Thin)
                    .filled(Fill::Wood(planned.color_of(segment)))
                    .named(format!("cell-{place}-{segment}")),
            );
            let seen = ([-FRAC_PI_2, 0.0], [from, to]);
            super::stripe::over_cell(drawing, plan, (place, false), cell, seen, body, |z, at| {
                view.place(z, at.sin() * wall.outside.radius_at(z))
            });
        }
    }
}

fn outline(drawing: &mut Drawing, view: &View, wall: &Wall) {
    for side in [1.0, -1.0] {
        let mut steps = Vec::new();
        for (index, piece) in wall.outside.pieces.iter().enumerate() {
            let at = |control: usize| {
                view.place(piece.height_mm[control], side * piece.radius_mm[control])
            };
            if index == 0 {
                steps.push(Step::MoveTo(at(0)));
            }
            steps.push(Step::CurveTo(at(1), at(2), at(3)));
        }
        drawing.add(Path::line(steps, Ink::Object).named("outside"));
    }
    let inside: Vec<Point> = wall
        .inside_samples(72)
        .into_iter()
        .map(|(z, r)| view.place(z, r))
        .collect();
    let mut floor_and_inside = vec![view.place(wall.floor_mm, 0.0)];
    floor_and_inside.extend(inside);
    drawing.add(Path::line(polyline(&floor_and_inside), Ink::Object).named("inside"));
    let rim = wall.outside.height_mm();
    let ends = [
        view.place(rim, wall.inside_radius_at(rim)),
        view.place(rim, wall.outside.radius_at(rim)),
    ];
    drawing.add(Path::line(polyline(&ends), Ink::Object));
    let (foot, radius) = (0.0, wall.outside.radius_at(0.0));
    drawing.line(
        view.place(foot, -radius),
        view.place(foot, radius),
        Ink::Object,
    );
    drawing.line(
        view.place(rim, -wall.outside.radius_at(rim)),
        view.place(rim, 0.0),
        Ink::Object,
    );
}

/// Room for a finger on the height, which is written upward: across and along.
const HEIGHT_FIELD_MM: (f64, f64) = (48.0 * MM_PER_PX, 92.0 * MM_PER_PX);

/// How wide the vessel is at its widest, and how high: fields, as a ring's are.
pub fn size(drawing: &mut Drawing, view: &View, wall: &Wall, pen: &Pen) {
    let rim = wall.outside.height_mm();
    let (widest_at, radius) = wall.outside.widest(0.0, wall.outside.height_mm());
    let foot = view.place(0.0, -radius);
    let across = Run::Level {
        y: foot.y + DIAMETER_LINE_MM,
    };
    drawing.add_all(linear(
        view.place(widest_at, -radius),
        view.place(widest_at, radius),
        across,
        &pen.field("vessel.diameter_mm", 2.0 * radius).prefixed("Ø"),
        &pen.style,
    ));
    drawing.add_all(linear(
        view.place(rim, -wall.outside.radius_at(rim)),
        view.place(0.0, -wall.outside.radius_at(0.0)),
        Run::Upright {
            x: foot.x - HEIGHT_LINE_MM,
        },
        &pen.figure(rim),
        &pen.style,
    ));
    // There is no room for the field beside the vessel: it comes where the figure is touched.
    let (across_mm, along_mm) = HEIGHT_FIELD_MM;
    let beside = point(
        (foot.x - HEIGHT_LINE_MM - pen.style.height_mm).max(across_mm / 2.0),
        view.place(rim / 2.0, 0.0).y,
    );
    let figure = lettering(&show(rim, pen.unit));
    let words = Words::new(beside, figure, pen.style.height_mm).anchored(Anchor::Middle);
    drawing.add(
        words
            .level_middle()
            .field("vessel.height_mm", across_mm, along_mm),
    );
}

/// Count and stop of each ring beside the section, where there is room for a line.
fn ring_names(drawing: &mut Drawing, view: &View, plan: &StackPlan, picked: Picked, pen: &Pen) {
    if !has_names(drawing.width_mm) {
        return;
    }
    let vessel = &plan.vessel;
    let left = drawing.width_mm - 34.0;
    // What the names say, above the uppermost; a glued ring's says all.
    let top_mm = plan.rings.last().map_or(0.0, |ring| ring.span.top_mm);
    // Clear of the rim's handle, which may stand as far out as the names.
    let legend = point(drawing.width_mm - 0.5, view.place(top_mm, 0.0).y - 4.2);
    let says = Words::new(legend, words::DRAWING_RING_NAMES.text, 2.3);
    if !vessel.rings.iter().all(StackRing::is_glued) {
        drawing.add(says.anchored(Anchor::End).toned(Tone::Quiet));
    }
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let is_picked = picked.is_ring(place);
        let middle = view.place(
            f64::midpoint(planned.span.bottom_mm, planned.span.top_mm),
            0.0,
        );
        if ring.height_mm * view.scale < 3.6 && !is_picked {
            continue;
        }
        let text = words::ring_name(place, ring, planned, pen.unit);
        let tone = if is_picked { Tone::Held } else { Tone::Quiet };
        drawing.add(
            Words::new(point(left, middle.y), text, 2.3)
                .level_middle()
                .toned(tone),
        );
        let edge = view.place(0.0, planned.reach_mm).x + 1.0;
        if edge < left - 1.5 {
            drawing.line(
                point(edge, middle.y),
                point(left - 1.0, middle.y),
                Ink::Faint,
            );
        }
    }
}

/// The outside unrolled: a row a ring, a cell a segment, each as wide as its share of
/// the circumference and as high as its ring, but not less than `least_mm`.
pub fn unrolled(plan: &StackPlan, size_mm: (f64, f64), least_mm: f64, picked: Picked) -> Drawing {
    let vessel = &plan.vessel;
    let (width, height) = size_mm;
    let mut drawing = Drawing::new(width, height, words::by_key("drawing.unrolled"));
    let total: f64 = vessel.rings.iter().map(|ring| ring.height_mm).sum();
    if total <= 0.0 || plan.wall.is_none() {
        return drawing;
    }
    let rows = Rows::new(&vessel.rings, height, least_mm);
    let across = (width - 2.0) / TAU;
    for (place, ring) in vessel.rings.iter().enumerate() {
        let (top, bottom) = rows.of(place);
        let down = (bottom - top) / ring.height_mm.max(1e-9);
        for cell in cells(ring) {
            let (segment, start, end) = cell;
            let (left, right) = (start.max(-PI), end.min(PI));
            if right - left < 1e-9 {
                continue;
            }
            let x = |direction: f64| 1.0 + (direction + PI) * across;
            let body = rectangle(point(x(left), top), x(right) - x(left), bottom - top);
            let color = plan.rings.get(place).map(|ring| ring.color_of(segment));
            drawing.add(
                Path::line(body.clone(), Ink::Thin)
                    .filled(Fill::Wood(color.unwrap_or(WHITE)))
                    .named(format!("cell-{place}-{segment}")),
            );
            let heights = plan
                .rings
                .get(place)
                .map_or([0.0; 2], |it| [it.span.bottom_mm, it.span.top_mm]);
            let seen = ([-PI, PI], heights);
            super::stripe::over_cell(
                &mut drawing,
                plan,
                (place, false),
                cell,
                seen,
                body,
                |z, at| point(x(at), bottom - (z - heights[0]) * down),
            );
        }
        if ring.between != Between::Nothing && ring.made_of == MadeOf::Segments {
            spacer_lines(
                &mut drawing,
                ring,
                plan.rings.get(place),
                (top, bottom),
                across,
            );
        }
        if picked.is_ring(place) {
            let frame = rectangle(point(1.0, top), width - 2.0, bottom - top);
            drawing.add(Path::line(frame, Ink::Held));
        }
    }
    super::inlay::over_unrolled(&mut drawing, plan, &rows);
    light_up(&mut drawing, picked.thing);
    drawing
}

/// How high a ring's number is written on the unrolled outside, and how far apart two of them
/// must stand.
const NUMBER_MM: f64 = 2.3;
const NUMBER_PITCH_MM: f64 = 3.2;

/// Room for the rings' numbers at the left of the unrolled outside.
const NUMBERS_MM: f64 = 5.5;

/// The outside unrolled as the screen shows it: at the left each ring's number, that of the
/// ring that is touched first; one that would meet another is left out.
pub fn numbered_unrolled(
    plan: &StackPlan,
    (width, height): (f64, f64),
    least_mm: f64,
    picked: Picked,
) -> Drawing {
    let rings = unrolled(
        plan,
        ((width - NUMBERS_MM).max(0.0), height),
        least_mm,
        picked,
    );
    let mut drawing = Drawing::new(width, height, words::by_key("drawing.unrolled"));
    if rings.marks.is_empty() {
        return drawing;
    }
    drawing.place(&rings, &Frame::at(point(NUMBERS_MM, 0.0)));
    let rows = Rows::new(&plan.vessel.rings, height, least_mm);
    let mut written: Vec<f64> = Vec::new();
    let all = 0..plan.vessel.rings.len();
    let first = picked.thing.ring().filter(|place| all.contains(place));
    for place in first.into_iter().chain(all) {
        let (top, bottom) = rows.of(place);
        let middle = f64::midpoint(top, bottom);
        let meets = |other: &f64| (other - middle).abs() < NUMBER_PITCH_MM;
        if written.iter().any(meets) {
            continue;
        }
        written.push(middle);
        let number = rectangle(point(0.0, top), NUMBERS_MM, bottom - top);
        drawing.add(Path::area(number, Fill::Touch).named(format!("ring-{place}")));
        let tone = if picked.is_ring(place) {
            Tone::Held
        } else {
            Tone::Quiet
        };
        drawing.add(
            Words::new(
                point(NUMBERS_MM - 0.8, middle),
                (place + 1).to_string(),
                NUMBER_MM,
            )
            .anchored(Anchor::End)
            .level_middle()
            .toned(tone),
        );
    }
    drawing
}

/// Lights up a segment on a drawing that shows it.
pub fn light_up(drawing: &mut Drawing, thing: Thing) {
    let name = thing.name();
    if !matches!(thing, Thing::Segment(..)) {
        return;
    }
    let lit = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Path(path) if path.name.as_ref() == Some(&name) => Some(
            Path::line(path.steps.clone(), Ink::Held)
                .named(&name)
                .into(),
        ),
        _ => None,
    });
    let lit: Vec<Mark> = lit.collect();
    drawing.add_all(lit);
}

/// Spacers as dark strips, gaps as light ones, at their true share of the turn.
fn spacer_lines(
    drawing: &mut Drawing,
    ring: &StackRing,
    planned: Option<&RingInStack>,
    (top, bottom): (f64, f64),
    across: f64,
) {
    let radius = planned
        .map_or(1.0, |planned| planned.wanted.outside_radius_mm)
        .max(1.0);
    let half = ring.between_mm() / 2.0 / radius + ring.gap_rad() / 2.0;
    let color = if ring.between == Between::Gap {
        WHITE
    } else {
        BLACK.toward(WHITE, 0.25)
    };
    for direction in ring.round().joints_rad() {
        let middle = (direction + PI).rem_euclid(TAU);
        let left = 1.0 + (middle - half).max(0.0) * across;
        let right = 1.0 + (middle + half).min(TAU) * across;
        let body = rectangle(point(left, top), right - left, bottom - top);
        drawing.add(Path::area(body, Fill::Wood(color)));
    }
}

/// Room around a ring that is seen from above.
pub const AROUND_MM: f64 = 1.5;

/// A ring from above in its pattern; each segment can be tapped.
pub fn ring_from_above(
    vessel: &Vessel,
    place: usize,
    planned: &RingInStack,
    size_mm: (f64, f64),
) -> Drawing {
    let (width, height) = size_mm;
    let mut drawing = Drawing::new(width, height, words::by_key("drawing.from_above"));
    let Some(ring) = vessel.rings.get(place) else {
        return drawing;
    };
    let center = point(width / 2.0, height / 2.0);
    let scale = (width.min(height) / 2.0 - AROUND_MM).max(1.0) / planned.reach_mm.max(1.0);
    // The front of the vessel is below, as one looks down on it.
    let at = |along: f64, aside: f64, middle: f64| {
        let direction = FRAC_PI_2 - middle - aside.atan2(along);
        center.polar(along.hypot(aside) * scale, direction)
    };
    match planned.segment {
        None => {
            let disc = crate::draw::circle(center, planned.reach_mm * scale);
            drawing.add(
                Path::line(disc, Ink::Object)
                    .filled(Fill::Wood(planned.color_of(0)))
                    .named(format!("cell-{place}-0")),
            );
        }
        Some(_) => {
            for index in 0..ring.segment_count {
                let Some(segment) = planned.segment_at(index) else {
                    continue;
                };
                let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
                let (short, long) = (
                    segment.short_edge_mm / 2.0,
                    segment.outside.long_edge_mm / 2.0,
                );
                let middle = planned.round.middle_rad(index);
                let corners = [
                    at(inside, -short, middle),
                    at(outside, -long, middle),
                    at(outside, long, middle),
                    at(inside, short, middle),
                ];
                drawing.add(
                    Path::line(polygon(&corners), Ink::Thin)
                        .filled(Fill::Wood(planned.color_of(index)))
                        .named(format!("cell-{place}-{index}")),
                );
                for (color, stripe) in super::stripe::on_face(planned, index, segment) {
                    let corners = stripe
                        .iter()
                        .map(|(along, aside)| at(*along, *aside, middle));
                    let corners: Vec<Point> = corners.collect();
                    let area = Path::area(polygon(&corners), Fill::Wood(color));
                    drawing.add(area.named(format!("cell-{place}-{index}")));
                }
            }
        }
    }
    for radius in [
        planned.span.outside_radius_mm,
        planned.span.inside_radius_mm,
    ] {
        if radius > 0.0 {
            drawing.add(Path::line(
                crate::draw::circle(center, radius * scale),
                Ink::Finished,
            ));
        }
    }
    drawing
}
