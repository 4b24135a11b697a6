//! The base's sheet: what to saw, the two diameters, how it moves, the drawing with the
//! grain of every ply, and the bars to check the scale by.

use super::{
    EDGE_MM, LINE_MM, blank, code_end, figure, foot, foot_top, is_lying, lines, note, paper_mm,
    paragraph, row,
};
use crate::design::Design;
use crate::draw::lettering::SCREEN_SLACK;
use crate::draw::pen::Pen;
use crate::draw::{Drawing, Frame, Point, Role, Tone, Words, point};
use crate::plan::Plan;
use crate::plan::base;
use crate::show::figures::{Figure, wood as figures};
use crate::show::pictures::base as drawn;
use crate::show::words;

/// Height of the drawing on upright paper.
const DRAWING_MM: f64 = 82.0;

/// Where the drawing and the two columns of figures stand.
struct Layout {
    drawing_at: Point,
    drawing_mm: (f64, f64),
    /// Left edges of both columns, and their width.
    left: [f64; 2],
    column: f64,
    /// Where the columns begin.
    start: f64,
}

impl Layout {
    /// Below the drawing on upright paper, beside it on lying paper.
    fn of(design: &Design, link: &str, top: f64) -> Layout {
        let width = paper_mm(&design.paper).0;
        let room = width - 2.0 * EDGE_MM;
        let right = |column: f64| width - EDGE_MM - column;
        if is_lying(&design.paper) {
            let (across, column) = (room * 0.36, room * 0.29);
            let middle = f64::midpoint(EDGE_MM + across, right(column)) - column / 2.0;
            return Layout {
                drawing_at: point(EDGE_MM, top + 2.0),
                drawing_mm: (across, foot_top(&design.paper) - top - 6.0),
                left: [middle, right(column)],
                column,
                start: (top + 6.0).max(code_end(link) + 6.0),
            };
        }
        let column = room * 0.47;
        Layout {
            drawing_at: point(EDGE_MM, top + 2.0),
            drawing_mm: (room, DRAWING_MM),
            left: [EDGE_MM, right(column)],
            column,
            start: top + DRAWING_MM + 10.0,
        }
    }
}

/// The sheet; none where there is no base. What has no room on it goes on.
pub fn sheets(plan: &Plan, link: &str, date: &str) -> Vec<Drawing> {
    let design = &*plan.design;
    let Some(base) = plan.base() else {
        return Vec::new();
    };
    let (mut sheet, top) = blank(design, words::SHEET_BASE.text, link, date);
    let layout = Layout::of(design, link, top);
    let pen = Pen::paper(design.unit);
    let (across, high) = layout.drawing_mm;
    let drawing = drawn::draw(design, base, across, high, &pen);
    sheet.place(&drawing, &Frame::at(layout.drawing_at));
    let screen = figures::base_screen(design, base);
    let [left, right] = layout.left;
    let column = layout.column;
    let mut y = point(left, layout.start);
    for it in &screen.first {
        y = line(&mut sheet, it, y, column, (4.2, 9.5));
    }
    for it in screen.sizes.iter().chain(&screen.blanks) {
        y = line(&mut sheet, it, y, column, (2.4, 6.0));
    }
    let mut beside = point(right, layout.start);
    for way in &screen.movements {
        let head = format!("{}: {}", way.label, way.says);
        sheet.add_part(Words::new(beside, head, 2.6).bold(), Role::Heading);
        beside.y += 6.0;
        for it in &way.list {
            beside = line(&mut sheet, it, beside, column, (2.4, 6.0));
        }
        beside.y += 3.0;
    }
    let mut pages = vec![sheet];
    let mut ends = [y, beside];
    for (place, (text, tone)) in told(design, base).into_iter().enumerate() {
        // The first ones explain the figures above them.
        let is_under_figures = place < 2 || ends[1].y <= ends[0].y;
        let mut at = usize::from(is_under_figures);
        // An SVG is set in the reader's own typeface, which may run wider.
        let narrow = column / SCREEN_SLACK;
        let lines = lines(&text, narrow, tone).len();
        if ends[at].y + lines as f64 * LINE_MM > foot_top(&design.paper) {
            let (next, top) = blank(design, words::SHEET_BASE.text, link, date);
            pages.push(next);
            at = 0;
            ends = layout.left.map(|x| point(x, top.max(code_end(link)) + 6.0));
        }
        let last = pages.len() - 1;
        ends[at].y = paragraph(&mut pages[last], ends[at], &text, narrow, tone) + 2.0;
    }
    for page in &mut pages {
        foot(page, design, &[words::SAFETY_5]);
    }
    pages
}

/// What is said about the base: how to read its figures, then what to look at.
fn told(design: &Design, base: &base::BasePlan) -> Vec<(String, Tone)> {
    let key = drawn::key_words(base).unwrap_or_default();
    let troubles = base
        .troubles
        .iter()
        .map(|it| words::trouble(it, design.unit));
    let cautions = base
        .cautions
        .iter()
        .map(|it| words::caution(it, design.unit));
    let warned = troubles.chain(cautions);
    let mut all = vec![
        (words::BASE_INTRO.text.to_owned(), Tone::Graphite),
        (key.to_owned(), Tone::Graphite),
    ];
    all.retain(|(text, _)| !text.is_empty());
    all.extend(warned.map(|it| (format!("{} {}", it.reason, it.remedy), Tone::Caution)));
    all
}

/// A figure and its note below it, at the right; returns where the next one stands.
fn line(
    sheet: &mut Drawing,
    it: &Figure,
    at: Point,
    column: f64,
    (height_mm, pitch): (f64, f64),
) -> Point {
    row(sheet, at, column, &it.label, figure(&it.shown), height_mm);
    let mut next = point(at.x, at.y + pitch);
    if !it.note.is_empty() {
        // Right under its line.
        let end = point(at.x + column, at.y + 5.2);
        next.y += note(sheet, &it.note, end, column) + 1.0;
    }
    next
}
