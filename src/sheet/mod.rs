//! What stands on paper. One file a sheet; here, what all sheets share: the title,
//! the date, the link as a code, the bar to check the scale by, and the cautions.

pub mod base;
pub mod bench;
pub mod boards;
pub mod inlay;
pub mod ring;

use crate::design::{Design, PaperSize};
use crate::drawing::lettering::{SCREEN_SLACK, shorten, wrap};
use crate::drawing::pdf::{Info, to_pdf};
use crate::drawing::svg::to_file;
use crate::drawing::{
    Anchor, Drawing, Frame, Ink, Lettering, Path, Point, Tone, Weight, Words, point, polyline, qr,
};
use crate::length::MM_PER_INCH;
use crate::plan::plan;
use crate::words;

/// Free edge all round: what every office printer can reach (common practice, no
/// published source).
pub const EDGE_MM: f64 = 12.7;

/// Width and height of the paper, upright, in millimeters.
pub fn paper_mm(size: PaperSize) -> (f64, f64) {
    match size {
        PaperSize::Letter => (8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH),
        PaperSize::A4 => (210.0, 297.0),
    }
}

/// The sheets of a design as one PDF file. `link` is the whole link, `date` the day as
/// `2030-01-31`; either may be empty. Empty when there is no sheet.
pub fn pdf(design: &Design, link: &str, date: &str) -> Vec<u8> {
    let sheets = all(design, link, date);
    if sheets.is_empty() {
        return Vec::new();
    }
    let info = Info {
        title: title(design),
        author: String::new(),
        date: (!date.is_empty()).then(|| date.to_owned()),
    };
    to_pdf(&sheets, &info)
}

/// The sheets as one SVG file, one below the other. Empty when there is no sheet.
pub fn svg(design: &Design, link: &str, date: &str) -> String {
    let sheets = all(design, link, date);
    let (width, height) = paper_mm(design.paper.size);
    let mut whole = Drawing::new(width, height * sheets.len() as f64, title(design));
    let mut top = 0.0;
    for sheet in &sheets {
        whole.place(sheet, &Frame::at(point(0.0, top)));
        top += height;
    }
    if sheets.is_empty() {
        String::new()
    } else {
        to_file(&whole)
    }
}

fn all(design: &Design, link: &str, date: &str) -> Vec<Drawing> {
    let plan = plan(design);
    let mut sheets = ring::sheets(design, &plan, link, date);
    sheets.extend(base::sheets(design, &plan, link, date));
    if let Some(vessel) = design.vessel.as_ref().filter(|it| !it.slot_sets.is_empty()) {
        let planned = crate::stack::plan_stack(design, vessel);
        sheets.extend(inlay::sheets(design, vessel, &planned, link, date));
    }
    sheets
}

/// The design's name, or what stands for it.
pub fn title(design: &Design) -> String {
    let name = design.name.trim();
    let name = if name.is_empty() {
        words::page("unnamed")
    } else {
        name
    };
    name.to_owned()
}

/// A blank sheet with its head and foot. Returns the height at which the head ends.
fn blank(design: &Design, subtitle: &str, link: &str, date: &str) -> (Drawing, f64) {
    let (width, height) = paper_mm(design.paper.size);
    let mut sheet = Drawing::new(width, height, title(design)).described(subtitle);
    let code_side = 30.0;
    let code = qr::qr(
        link,
        point(width - EDGE_MM - code_side, EDGE_MM - 2.0),
        code_side,
    );
    let right = if link.is_empty() || code.is_err() {
        width - EDGE_MM
    } else {
        sheet.add_all(code.unwrap_or_default());
        width - EDGE_MM - code_side - 4.0
    };
    // An SVG is set in the reader's own typeface, which may run wider.
    let room = (right - EDGE_MM) / SCREEN_SLACK;
    let name = shorten(&title(design), room, 4.5, Weight::Bold);
    sheet.add(Words::new(point(EDGE_MM, EDGE_MM + 5.0), name, 4.5).bold());
    sheet.add(
        Words::new(
            point(EDGE_MM, EDGE_MM + 12.0),
            shorten(subtitle, room, 2.6, Weight::Regular),
            2.6,
        )
        .toned(Tone::Quiet),
    );
    let made = words::made_on(date);
    sheet.add(Words::new(point(EDGE_MM, EDGE_MM + 17.5), made, 2.6).toned(Tone::Quiet));
    (sheet, EDGE_MM + 23.0)
}

/// The bars to check the scale by: 100 mm and 4 in.
fn scale_check(sheet: &mut Drawing, at: Point) {
    for (row, length_mm, text, ticks) in [
        (0.0, 100.0, "100 mm", 10),
        (9.0, 4.0 * MM_PER_INCH, "4 in", 4),
    ] {
        let start = point(at.x, at.y + row);
        let bar = polyline(&[start, point(start.x + length_mm, start.y)]);
        sheet.add(Path::line(bar, Ink::Object).named(text));
        for tick in 0..=ticks {
            let x = start.x + length_mm * f64::from(tick) / f64::from(ticks);
            let is_end = tick == 0 || tick == ticks;
            let reach = if is_end { 3.0 } else { 1.5 };
            sheet.line(point(x, start.y), point(x, start.y - reach), Ink::Thin);
        }
        sheet.add(Words::new(
            point(start.x + length_mm + 2.0, start.y + 0.2),
            text,
            2.6,
        ));
    }
}

/// Words over as many lines as they need; returns the height below them.
fn paragraph(sheet: &mut Drawing, at: Point, text: &str, width_mm: f64, tone: Tone) -> f64 {
    let height = 2.3;
    let mut y = at.y;
    for line in wrap(text, width_mm, height, Weight::Regular) {
        sheet.add(Words::new(point(at.x, y), line, height).toned(tone));
        y += height * 1.9;
    }
    y
}

/// A label at the left, its figure at the right of a column.
fn row(
    sheet: &mut Drawing,
    at: Point,
    width_mm: f64,
    label: &str,
    figure: Lettering,
    height_mm: f64,
) {
    sheet.add(Words::new(at, label, height_mm.min(2.6)).toned(Tone::Quiet));
    sheet.add(
        Words::new(point(at.x + width_mm, at.y), figure, height_mm)
            .anchored(Anchor::End)
            .bold(),
    );
    let under = at.y + 1.6;
    sheet.line(
        point(at.x, under),
        point(at.x + width_mm, under),
        Ink::Faint,
    );
}
