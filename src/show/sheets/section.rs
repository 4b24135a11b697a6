//! The half-section with its dimensions (ISO 129-1), at a scale that a rule can follow.

use super::flow::Flow;
use super::job::{Job, OfVessel, Sheet};
use super::{EDGE_MM, foot_top, woods};
use crate::design::field::key;
use crate::draw::dimension::{Run, linear};
use crate::draw::lettering::{SCREEN_SLACK, wrap};
use crate::draw::pen::{Pen, lettering};
use crate::draw::{Drawing, Frame, Ink, Lettering, Mark, Path, Weight, Words, point, polyline};
use crate::show::pictures::vessel::{Picked, section};
use crate::show::pictures::view::View;
use crate::show::words;
use crate::trade::shape::Wall;
use crate::units::length::{Unit, show};

/// One over each scale: those of ISO 5455 and, between them, some that keep the drawing
/// large.
const SCALES: [f64; 11] = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 8.0, 10.0, 20.0, 50.0];

/// Room for dimensions at the left, at the right, above and below.
const LEFT_MM: f64 = 22.0;
const RIGHT_MM: f64 = 37.0;
const ABOVE_MM: f64 = 15.0;
const BELOW_MM: f64 = 25.0;

/// Height of what is said below, from one of its lines to the next, from the lower one to the
/// edge, and the room that a second one takes to be clear of the diameter's line.
const LINE_MM: f64 = 2.3;
const LINE_PITCH_MM: f64 = 3.4;
const LINE_EDGE_MM: f64 = 2.0;
const SECOND_LINE_MM: f64 = 1.5;

/// Height of what was measured, and from one of its lines to the next.
const READ_MM: f64 = 2.1;
const PITCH_MM: f64 = 4.0;

/// What was measured on glued rings, in lines so wide; none where nothing was.
fn readings(of: &OfVessel, unit: Unit, width: f64) -> Vec<String> {
    let rings = of.vessel.rings.iter().enumerate();
    let told = rings.filter_map(|(place, ring)| {
        let read = ring.measured.as_ref()?;
        let faces = [
            [read.outside_diameter_mm, read.inside_diameter_mm],
            [
                read.upper_outside_diameter_mm,
                read.upper_inside_diameter_mm,
            ],
        ];
        let face = |face: [Option<f64>; 2]| {
            let each = face.map(|it| it.map_or("\u{2013}".to_owned(), |it| show(it, unit).line()));
            face.iter().any(Option::is_some).then(|| each.join(" / "))
        };
        let [lower, upper] = faces.map(face);
        let said = match (lower, upper) {
            (None, None) => return None,
            (Some(one), None) | (None, Some(one)) => one,
            (Some(lower), Some(upper)) => {
                words::filled(words::SECTION_BOTH_FACES, &[&lower, &upper])
            }
        };
        let named = words::rings_named(&(place + 1).to_string(), 1);
        Some(format!("{named}: {said}"))
    });
    let told: Vec<String> = told.collect();
    if told.is_empty() {
        return Vec::new();
    }
    let text = words::filled(words::SECTION_MEASURED, &[&told.join("; ")]);
    wrap(&text, width / SCREEN_SLACK, READ_MM, Weight::Regular)
}

/// The section's sheet.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    let Some(wall) = &of.plan.wall else {
        return Vec::new();
    };
    let reach = of
        .plan
        .rings
        .iter()
        .map(|ring| ring.reach_mm)
        .chain([wall.outside.largest_radius(0.0, wall.outside.height_mm())])
        .fold(1.0, f64::max);
    let stack: f64 = of.vessel.rings.iter().map(|ring| ring.height_mm).sum();
    let high = wall.outside.height_mm().max(stack).max(1.0);
    let begun = |subtitle: String| {
        let mut flow = Flow::new(job, subtitle, &[words::SAFETY_5]);
        if of.vessel.woods_used().len() > 1 {
            let (x, y, width) = (flow.left, flow.y + 1.0, flow.width);
            flow.y += woods::key(flow.page(), of.plan, (x, y), width) - 3.0;
        }
        flow
    };
    let mut flow = begun(String::new());
    let readings = readings(of, job.design.unit, flow.width);
    let pen = Pen::paper(job.design.unit);
    let foot = foot_lines(of, wall, &pen, flow.width);
    let more_mm = SECOND_LINE_MM * (foot.len() - 1) as f64;
    let below_mm = BELOW_MM + more_mm + PITCH_MM * readings.len() as f64;
    let room = point(
        flow.width - LEFT_MM - RIGHT_MM,
        foot_top(&job.design.paper) - flow.y - ABOVE_MM - below_mm,
    );
    let least = (2.0 * reach / room.x).max(high / room.y);
    let over = SCALES
        .into_iter()
        .find(|over| *over >= least)
        .unwrap_or(least.ceil());
    let subtitle = words::section_at_scale(over);
    flow = begun(subtitle);
    let view = View {
        axis_mm: LEFT_MM + room.x / 2.0,
        foot_mm: ABOVE_MM + room.y - (room.y - high / over) / 2.0,
        scale: 1.0 / over,
    };
    let size = (flow.width, ABOVE_MM + room.y + below_mm);
    let mut drawing = section(of.plan, size, &view, Picked::default(), None, &pen);
    // The names beside the rings give way to dimensions.
    drawing
        .marks
        .retain(|mark| !matches!(mark, Mark::Words(_)) && !is_name_line(mark));
    woods::tell_apart(&mut drawing, of.plan);
    dimensions(&mut drawing, of, wall, reach, &view, &pen);
    let mut up_mm = LINE_EDGE_MM;
    for line in foot.into_iter().rev() {
        drawing.add(Words::new(
            point(0.0, drawing.height_mm - up_mm),
            line,
            LINE_MM,
        ));
        up_mm += LINE_PITCH_MM;
    }
    up_mm += PITCH_MM - LINE_PITCH_MM;
    for (row, line) in readings.iter().rev().enumerate() {
        let y = drawing.height_mm - up_mm - PITCH_MM * row as f64;
        drawing.add(Words::new(point(0.0, y), line.as_str(), READ_MM));
    }
    let top = flow.y;
    flow.page().place(&drawing, &Frame::at(point(EDGE_MM, top)));
    vec![Sheet::new("section", words::SHEET_SECTION.text, flow.pages)]
}

fn is_name_line(mark: &Mark) -> bool {
    matches!(mark, Mark::Path(path) if path.ink == Some(Ink::Faint))
}

fn dimensions(
    drawing: &mut Drawing,
    of: &OfVessel,
    wall: &Wall,
    reach: f64,
    view: &View,
    pen: &Pen,
) {
    let rim = wall.outside.height_mm();
    let style = &pen.style;
    let diameter = |radius: f64| pen.figure(2.0 * radius).prefixed("Ø ");
    let at = |z: f64, r: f64| view.place(z, r);
    // The whole height, at the left.
    let left = at(0.0, -reach).x - 13.0;
    let (top, foot) = (
        at(rim, -wall.outside.radius_at(rim)),
        at(0.0, -wall.outside.radius_at(0.0)),
    );
    let whole = pen.figure(rim).bold();
    drawing.add_all(linear(top, foot, Run::Upright { x: left }, &whole, style));
    // Foot and greatest diameter below, rim above.
    let foot_radius = wall.outside.radius_at(0.0);
    let below = at(0.0, 0.0).y;
    let across = |z: f64, radius: f64| (at(z, -radius), at(z, radius));
    let (a, b) = across(0.0, foot_radius);
    drawing.add_all(linear(
        a,
        b,
        Run::Level { y: below + 9.0 },
        &diameter(foot_radius),
        style,
    ));
    let (widest_at, widest) = wall.outside.widest(0.0, wall.outside.height_mm());
    if widest > foot_radius + 0.5 {
        let (a, b) = across(widest_at, widest);
        let label = diameter(widest).bold();
        drawing.add_all(linear(a, b, Run::Level { y: below + 18.0 }, &label, style));
    }
    let rim_radius = wall.outside.radius_at(rim);
    let (a, b) = across(rim, rim_radius);
    let stack: f64 = of.vessel.rings.iter().map(|ring| ring.height_mm).sum();
    let above = at(stack.max(rim), 0.0).y - 6.0;
    drawing.add_all(linear(
        a,
        b,
        Run::Level { y: above },
        &diameter(rim_radius),
        style,
    ));
    ring_heights(drawing, of, reach, view, pen);
}

/// Each ring's height at the right, as a table whose lines lead to the rings: thin rings
/// have no room for figures of their own.
fn ring_heights(drawing: &mut Drawing, of: &OfVessel, reach: f64, view: &View, pen: &Pen) {
    const PITCH: f64 = 3.9;
    // A narrow vessel's diameters stand outside of their lines.
    let is_narrow = 2.0 * reach * view.scale < 34.0;
    let left = view.place(0.0, reach).x + if is_narrow { 36.0 } else { 10.0 };
    let middles: Vec<f64> = of
        .plan
        .rings
        .iter()
        .map(|ring| {
            view.place(f64::midpoint(ring.span.bottom_mm, ring.span.top_mm), 0.0)
                .y
        })
        .collect();
    // From the rim down, which is downward on paper.
    let wanted: Vec<f64> = middles.iter().rev().copied().collect();
    let limits = (2.0, drawing.height_mm - 4.0);
    let fit = ((limits.1 - limits.0) / PITCH).floor() as usize;
    // Where there are more rings than lines, some are left out evenly.
    let every = wanted.len().div_ceil(fit.max(1)).max(1);
    let chosen: Vec<usize> = (0..wanted.len())
        .filter(|at| at.is_multiple_of(every))
        .collect();
    let places: Vec<f64> = chosen.iter().map(|at| wanted[*at]).collect();
    let spread = super::spread(&places, PITCH, limits);
    for ((at, y), from_y) in chosen.iter().zip(spread).zip(&places) {
        let place = wanted.len() - 1 - at;
        let (Some(ring), Some(planned)) = (of.vessel.rings.get(place), of.plan.rings.get(place))
        else {
            continue;
        };
        let shown = lettering(&show(ring.height_mm, pen.unit));
        let mark = if ring.is_glued() { " *" } else { "" };
        let text = Lettering::plain(words::ring_and_height(place))
            .join(shown)
            .then(mark);
        drawing.add(Words::new(point(left, y), text, 2.1).level_middle());
        let edge = view.place(0.0, planned.reach_mm).x + 1.0;
        let bend = left - 5.0;
        let steps = polyline(&[
            point(edge.min(bend), *from_y),
            point(bend, *from_y),
            point(left - 1.0, y),
        ]);
        drawing.add(Path::line(steps, Ink::Faint));
    }
}

/// Wall at foot and rim, the floor, and what is drawn how: in one line below where the sheet is
/// wide enough for it, else in two.
fn foot_lines(of: &OfVessel, wall: &Wall, pen: &Pen, width_mm: f64) -> Vec<Lettering> {
    let mut line = Lettering::default();
    for (field, length_mm) in [
        (key::FOOT_WALL, wall.foot_mm),
        (key::RIM_WALL, wall.rim_mm),
        (key::FLOOR, wall.floor_mm),
    ] {
        // A vessel that is open below has no floor.
        if length_mm <= 0.0 && field == key::FLOOR {
            continue;
        }
        line = line.then(format!("{} ", words::label(field)));
        line = line
            .join(lettering(&show(length_mm, pen.unit)))
            .then("    ");
    }
    line = line.then(words::SECTION_BLANKS.text);
    if of.plan.slot_sets.iter().all(Option::is_none) {
        return vec![line];
    }
    let both = line.clone().then(words::SECTION_SLOTS.text);
    if both.width_mm(LINE_MM, Weight::Regular) <= width_mm / SCREEN_SLACK {
        vec![both]
    } else {
        vec![line, Lettering::plain(words::SECTION_SLOTS.text)]
    }
}
