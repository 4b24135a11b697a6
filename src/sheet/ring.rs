//! The ring's sheet: figures, drawings, one segment and the miter wedge at true
//! scale, and the bars to check that scale by.

use super::{EDGE_MM, blank, paper_mm, paragraph, row, scale_check};
use crate::design::Design;
use crate::drawing::dimension::{Label, Run, linear};
use crate::drawing::pen::{Pen, lettering};
use crate::drawing::{
    Anchor, Drawing, Fill, Frame, Ink, Lettering, Path, Point, Tone, Words, point, polygon, ring,
    segment,
};
use crate::length::Shown;
use crate::plan::Plan;
use crate::ring::Segment;
use crate::screen;
use crate::words;

/// Height of the ring's drawing.
const RING_MM: f64 = 70.0;

/// Height of the drawing of segments on their strip.
const STRIP_MM: f64 = 32.0;

/// Length of the wedge's long leg, where the paper is wide enough: long enough to set
/// a saw's fence by.
const WEDGE_MM: f64 = 160.0;

/// The sheets, one or two; none when there is no segment to draw.
pub fn sheets(design: &Design, plan: &Plan, link: &str, date: &str) -> Vec<Drawing> {
    let Some(the_segment) = plan.ring.segment else {
        return Vec::new();
    };
    let (width, height) = paper_mm(design.paper.size);
    let pen = Pen::paper(design.unit);
    let subtitle = words::ring_in_short(
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
    let right = point(EDGE_MM + column + 6.0, top + 4.0);
    let right_width = width - EDGE_MM - right.x;
    let ring = ring::draw(design, &plan.ring, right_width, RING_MM, &pen);
    sheet.place(&ring, &Frame::at(right));
    let strip_top = right.y + RING_MM + 3.0;
    if let Some(strip) = segment::draw(design, &plan.ring, right_width, STRIP_MM, &pen) {
        sheet.place(&strip, &Frame::at(point(right.x, strip_top)));
    }
    let drawings_end = list_end.max(strip_top + STRIP_MM) + 6.0;
    let foot = height - EDGE_MM - 30.0;
    let needs_second = true_scale(
        &mut sheet,
        design,
        &the_segment,
        drawings_end,
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
    let mut sheets = vec![sheet];
    if needs_second {
        let (mut second, top) = blank(design, &subtitle, link, date);
        heading(&mut second, top + 4.0, "sheet.segment");
        whole_segment(&mut second, point(EDGE_MM, top + 14.0), &the_segment, &pen);
        scale_check(&mut second, point(EDGE_MM, foot + 8.0));
        sheets.push(second);
    }
    sheets
}

/// A shown figure with its unit and what the rounding left over.
pub(super) fn figure(shown: &Shown) -> Lettering {
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
    for it in &screen.list {
        row(
            sheet,
            point(EDGE_MM, y),
            width,
            &it.label,
            figure(&it.shown),
            2.4,
        );
        y += 6.0;
        if !it.note.is_empty() {
            let note = Words::new(point(EDGE_MM + width, y - 0.8), it.note.as_str(), 2.2);
            sheet.add(note.anchored(Anchor::End).toned(Tone::Quiet));
            y += 4.4;
        }
    }
    for caution in &screen.cautions {
        let text = format!("{} {}", caution.reason, caution.remedy);
        y = paragraph(sheet, point(EDGE_MM, y + 1.0), &text, width, Tone::Caution);
    }
    y
}

/// Height that the segment's drawing takes with its heading and dimensions.
fn segment_height_mm(segment: &Segment) -> f64 {
    segment.strip_width_mm + 20.0
}

/// Least height for the wedge with its heading.
const LEAST_WEDGE_MM: f64 = 26.0;

/// Where the segment goes at true scale.
#[derive(Clone, Copy, PartialEq)]
enum Place {
    FirstSheet,
    SecondSheet,
    Nowhere,
}

fn place_of(segment: &Segment, design: &Design, room_height_mm: f64) -> Place {
    let (width, height) = paper_mm(design.paper.size);
    let needed = segment_height_mm(segment);
    let whole_sheet = height - 2.0 * EDGE_MM - 60.0;
    if segment.outside.long_edge_mm > width - 2.0 * EDGE_MM - 14.0 {
        Place::Nowhere
    } else if needed + LEAST_WEDGE_MM <= room_height_mm {
        Place::FirstSheet
    } else if needed <= whole_sheet {
        Place::SecondSheet
    } else {
        Place::Nowhere
    }
}

pub(super) fn heading(sheet: &mut Drawing, y: f64, key: &str) {
    sheet.add(Words::new(point(EDGE_MM, y), words::page(key), 2.6).bold());
}

/// The segment and the miter wedge at true scale on the first sheet, as far as they
/// fit; returns whether the segment needs a sheet of its own.
fn true_scale(
    sheet: &mut Drawing,
    design: &Design,
    segment: &Segment,
    top: f64,
    bottom: f64,
    pen: &Pen,
) -> bool {
    let room = paper_mm(design.paper.size).0 - 2.0 * EDGE_MM;
    let place = place_of(segment, design, bottom - top);
    let mut wedge_top = top;
    if place == Place::FirstSheet {
        heading(sheet, top, "sheet.segment");
        whole_segment(sheet, point(EDGE_MM, top + 9.0), segment, pen);
        wedge_top = top + segment_height_mm(segment) + 2.0;
    } else if place == Place::Nowhere {
        heading(sheet, top, "sheet.segment");
        let at = point(EDGE_MM, top + 5.0);
        wedge_top = paragraph(
            sheet,
            at,
            words::page("sheet.too_large"),
            room,
            Tone::Graphite,
        ) + 3.0;
    }
    // The wedge may be steep: it is made smaller to fit, keeping its angle.
    let tangent = segment.outside.half_angle_rad.tan();
    let rise_room = (bottom - wedge_top - 5.0).max(10.0);
    let leg = WEDGE_MM.min(room).min(rise_room / tangent);
    heading(sheet, wedge_top, "sheet.wedge");
    wedge(
        sheet,
        point(EDGE_MM, wedge_top + 4.0 + leg * tangent),
        leg,
        leg * tangent,
        segment,
    );
    place == Place::SecondSheet
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
