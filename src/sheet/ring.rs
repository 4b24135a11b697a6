//! The ring's sheet: figures, drawings, one segment and the miter wedge at true
//! scale, and the bars to check that scale by.

use super::{EDGE_MM, blank, paper_mm, paragraph, row, scale_check};
use crate::design::Design;
use crate::drawing::dimension::{Label, Run, linear};
use crate::drawing::pen::{Pen, lettering};
use crate::drawing::{
    Drawing, Fill, Frame, Ink, Lettering, Path, Point, Tone, Words, point, polygon, ring, segment,
};
use crate::length::Shown;
use crate::plan::Plan;
use crate::ring::Segment;
use crate::screen::{self, Figure};
use crate::words;

/// Length of the wedge's long leg, where the paper is wide enough: long enough to set
/// a saw's fence by.
const WEDGE_MM: f64 = 160.0;

/// The sheet; none when there is no segment to draw.
pub fn sheet(design: &Design, plan: &Plan, link: &str, date: &str) -> Option<Drawing> {
    let the_segment = plan.ring.segment?;
    let (width, height) = paper_mm(design.paper.size);
    let pen = Pen::paper(design.unit);
    let subtitle = words::ring_described(
        design.ring.segment_count,
        2.0 * plan.ring.wanted.outside_radius_mm,
        2.0 * plan.ring.wanted.inside_radius_mm,
        design.unit,
    );
    let (mut sheet, top) = blank(design, &subtitle, link, date);
    let room = width - 2.0 * EDGE_MM;
    let column = room * 0.44;
    let screen = screen::ring(design, plan);
    let list_end = figures(&mut sheet, &screen, top, column);
    let drawing_left = EDGE_MM + column + 6.0;
    let drawing_width = room - column - 6.0;
    let ring_top = top + 8.0;
    let ring = ring::draw(design, &plan.ring, drawing_width, 92.0, &pen);
    sheet.place(&ring, &Frame::at(point(drawing_left, ring_top)));
    let on_strip_top = list_end.max(ring_top + 94.0) + 2.0;
    if let Some(strip) = segment::draw(design, &plan.ring, room, 34.0, &pen) {
        sheet.place(&strip, &Frame::at(point(EDGE_MM, on_strip_top)));
    }
    let foot = height - EDGE_MM - 30.0;
    true_scale(
        &mut sheet,
        design,
        &the_segment,
        on_strip_top + 38.0,
        foot - 4.0,
        &pen,
    );
    scale_check(&mut sheet, point(EDGE_MM, foot + 8.0));
    let notes = point(EDGE_MM + 4.0 * 25.4 + 18.0, foot + 2.0);
    let notes_width = width - EDGE_MM - notes.x;
    let next = paragraph(
        &mut sheet,
        notes,
        words::page("paper.true_scale"),
        notes_width,
        Tone::Graphite,
    );
    let next = paragraph(
        &mut sheet,
        point(notes.x, next),
        words::page("safety.1"),
        notes_width,
        Tone::Quiet,
    );
    paragraph(
        &mut sheet,
        point(notes.x, next),
        words::page("safety.5"),
        notes_width,
        Tone::Quiet,
    );
    Some(sheet)
}

/// A shown figure with its unit and what the rounding left over.
fn figure(shown: &Shown) -> Lettering {
    let space = if shown.unit.is_empty() || shown.unit == "°" {
        ""
    } else {
        " "
    };
    let mut line = lettering(shown).then(format!("{space}{}", shown.unit));
    if !shown.remainder.is_empty() {
        line = line.then(format!("  {}", shown.remainder));
    }
    line
}

/// The saw's three figures large, the rest below; returns where they end.
fn figures(sheet: &mut Drawing, screen: &screen::RingScreen, top: f64, width: f64) -> f64 {
    let mut y = top + 6.0;
    for it in &screen.saw {
        row(
            sheet,
            point(EDGE_MM, y),
            width,
            &it.label,
            figure(&it.shown),
            4.2,
        );
        y += 9.5;
    }
    let small = |it: &Figure| {
        let note = if it.note.is_empty() {
            String::new()
        } else {
            format!(", {}", it.note)
        };
        figure(&it.shown).then(note)
    };
    for it in &screen.list {
        row(sheet, point(EDGE_MM, y), width, &it.label, small(it), 2.4);
        y += 6.0;
    }
    for caution in &screen.cautions {
        let text = format!("{} {}", caution.reason, caution.remedy);
        y = paragraph(sheet, point(EDGE_MM, y + 1.0), &text, width, Tone::Caution);
    }
    y
}

/// The segment at true scale, whole or its end, and the miter wedge.
fn true_scale(
    sheet: &mut Drawing,
    design: &Design,
    segment: &Segment,
    top: f64,
    bottom: f64,
    pen: &Pen,
) {
    let (width, _) = paper_mm(design.paper.size);
    let room = width - 2.0 * EDGE_MM;
    let wedge_leg = WEDGE_MM.min(room);
    let wedge_rise = wedge_leg * segment.outside.half_angle_rad.tan();
    let heading = |sheet: &mut Drawing, y: f64, key: &str| {
        sheet.add(Words::new(point(EDGE_MM, y), words::page(key), 2.6).bold());
    };
    // The wedge may be steep: it is cut to the room, keeping its angle.
    let has_room = bottom - top;
    let wedge_room = (has_room * 0.5).max(18.0);
    let shrink = (wedge_room / wedge_rise).min(1.0);
    let (leg, rise) = (wedge_leg * shrink, wedge_rise * shrink);
    heading(sheet, bottom - rise - 9.0, "sheet.wedge");
    wedge(sheet, point(EDGE_MM, bottom - 6.0), leg, rise, segment);
    let segment_room = bottom - rise - 14.0 - top;
    heading(sheet, top, "sheet.segment");
    let corner = point(EDGE_MM, top + 9.0);
    if segment.strip_width_mm + 22.0 <= segment_room && segment.outside.long_edge_mm <= room - 16.0
    {
        whole_segment(sheet, corner, segment, pen);
    } else {
        paragraph(
            sheet,
            point(EDGE_MM, top + 5.0),
            words::page("sheet.too_large"),
            room,
            Tone::Graphite,
        );
    }
}

/// A right triangle whose acute angle is the saw's setting.
fn wedge(sheet: &mut Drawing, corner: Point, leg_mm: f64, rise_mm: f64, segment: &Segment) {
    let corners = [
        corner,
        point(corner.x + leg_mm, corner.y),
        point(corner.x + leg_mm, corner.y - rise_mm),
    ];
    sheet.add(Path::line(polygon(&corners), Ink::Object).named("wedge"));
    let text = lettering(&screen::shown_degrees(segment.outside.half_angle_rad)).then("°");
    sheet.add(
        Words::new(
            point(corner.x + leg_mm * 0.62, corner.y - rise_mm * 0.18),
            text,
            3.5,
        )
        .bold(),
    );
}

fn whole_segment(sheet: &mut Drawing, at: Point, segment: &Segment, pen: &Pen) {
    let (long, short) = (segment.outside.long_edge_mm, segment.short_edge_mm);
    let width = segment.strip_width_mm;
    let left = at.x + 12.0;
    let run = (long - short) / 2.0;
    let corners = [
        point(left + run, at.y),
        point(left + run + short, at.y),
        point(left + long, at.y + width),
        point(left, at.y + width),
    ];
    sheet.add(
        Path::line(polygon(&corners), Ink::Object)
            .filled(Fill::Tone(Tone::Paper))
            .named("segment at true scale"),
    );
    sheet.add_all(linear(
        corners[3],
        corners[2],
        Run::Level {
            y: at.y + width + 7.0,
        },
        &pen.figure(long).bold(),
        &pen.style,
    ));
    sheet.add_all(linear(
        corners[0],
        corners[1],
        Run::Level { y: at.y - 3.0 },
        &pen.figure(short),
        &pen.style,
    ));
    let silent: Label = pen.figure(width);
    sheet.add_all(linear(
        point(left, at.y),
        corners[3],
        Run::Upright { x: left - 6.0 },
        &silent,
        &pen.style,
    ));
}
