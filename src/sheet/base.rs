//! The base's sheet: what to saw, the two diameters, how it moves, the drawing with the
//! grain of every ply, and the bars to check the scale by.

use super::{EDGE_MM, blank, figure, paper_mm, paragraph, row, scale_check};
use crate::base;
use crate::design::Design;
use crate::drawing::lettering::SCREEN_SLACK;
use crate::drawing::pen::Pen;
use crate::drawing::{Drawing, Frame, Tone, Words, base as drawn, point};
use crate::plan::Plan;
use crate::screen::{Figure, wood as screen};
use crate::stack::plan_stack;
use crate::words;

/// Height of the drawing.
const DRAWING_MM: f64 = 82.0;

/// The sheet; none where there is no base.
pub fn sheets(design: &Design, plan: &Plan, link: &str, date: &str) -> Vec<Drawing> {
    let vessel = design.vessel.as_ref();
    let stack = vessel.map(|vessel| plan_stack(design, vessel));
    let Some(base) = base::plan(design, plan, stack.as_ref()) else {
        return Vec::new();
    };
    let (width, height) = paper_mm(&design.paper);
    let (mut sheet, top) = blank(design, words::page("sheet.base"), link, date);
    let room = width - 2.0 * EDGE_MM;
    let pen = Pen::paper(design.unit);
    let drawing = drawn::draw(design, &base, room, DRAWING_MM, &pen);
    sheet.place(&drawing, &Frame::at(point(EDGE_MM, top + 2.0)));
    let screen = screen::base_screen(design, &base);
    let column = room * 0.47;
    let start = top + DRAWING_MM + 10.0;
    let mut y = start;
    for it in &screen.first {
        row(
            &mut sheet,
            point(EDGE_MM, y),
            column,
            &it.label,
            figure(&it.shown),
            4.2,
        );
        y = noted(&mut sheet, it, y + 9.5, column);
    }
    for it in screen.sizes.iter().chain(&screen.blanks) {
        row(
            &mut sheet,
            point(EDGE_MM, y),
            column,
            &it.label,
            figure(&it.shown),
            2.4,
        );
        y = noted(&mut sheet, it, y + 6.0, column);
    }
    let right = width - EDGE_MM - column;
    let mut beside = start;
    for way in &screen.movements {
        let head = format!("{}: {}", way.label, way.says);
        sheet.add(Words::new(point(right, beside), head, 2.6).bold());
        beside += 6.0;
        for it in &way.list {
            row(
                &mut sheet,
                point(right, beside),
                column,
                &it.label,
                figure(&it.shown),
                2.4,
            );
            beside += 6.0;
        }
        beside += 3.0;
    }
    let intro = words::page("base.intro");
    // An SVG is set in the reader’s own typeface, which may run wider.
    let narrow = column / SCREEN_SLACK;
    beside = paragraph(&mut sheet, point(right, beside), intro, narrow, Tone::Quiet);
    if let Some(key) = drawn::key_words(&base) {
        beside = paragraph(
            &mut sheet,
            point(right, beside + 2.0),
            key,
            narrow,
            Tone::Graphite,
        );
    }
    let told = base
        .troubles
        .iter()
        .map(|it| words::trouble(it, design.unit));
    let cautions = base
        .cautions
        .iter()
        .map(|it| words::caution(it, design.unit));
    for message in told.chain(cautions) {
        let text = format!("{} {}", message.reason, message.remedy);
        beside = paragraph(
            &mut sheet,
            point(right, beside + 2.0),
            &text,
            narrow,
            Tone::Caution,
        );
    }
    scale_check(&mut sheet, point(EDGE_MM, height - EDGE_MM - 22.0));
    let notes = point(EDGE_MM + 4.0 * 25.4 + 18.0, height - EDGE_MM - 28.0);
    let notes_width = width - EDGE_MM - notes.x;
    let true_scale = words::page("paper.true_scale");
    let next = paragraph(&mut sheet, notes, true_scale, notes_width, Tone::Graphite);
    let last = words::page("safety.5");
    paragraph(
        &mut sheet,
        point(notes.x, next),
        last,
        notes_width,
        Tone::Quiet,
    );
    vec![sheet]
}

/// A figure's note below it, at the right; returns the height below.
fn noted(sheet: &mut Drawing, it: &Figure, y: f64, column: f64) -> f64 {
    if it.note.is_empty() {
        return y;
    }
    let note = Words::new(point(EDGE_MM + column, y - 0.8), it.note.as_str(), 2.2);
    sheet.add(
        note.anchored(crate::drawing::Anchor::End)
            .toned(Tone::Quiet),
    );
    y + 4.4
}
