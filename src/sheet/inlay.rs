//! The sheets of the slot sets: how the saw is set up for each, the order of work, and
//! an index strip at true scale to wrap round the stack.

use super::ring::heading;
use super::{EDGE_MM, blank, figure, paper_mm, paragraph, row, scale_check};
use crate::design::{Design, Vessel};
use crate::drawing::inlay::{self as drawn, BandView};
use crate::drawing::pen::Pen;
use crate::drawing::{
    Anchor, Drawing, Frame, Ink, Path, Point, Tone, Words, point, polyline, rectangle,
};
use crate::inlay::{self, SetPlan};
use crate::screen::{Figure, inlay as screen};
use crate::stack::StackPlan;
use crate::words;

/// Height of the band's drawing.
const BAND_MM: f64 = 46.0;

/// Height of the blade's scale.
const WINDOW_MM: f64 = 78.0;

/// Height of a piece of the index strip, and from one to the next.
const STRIP_MM: f64 = 14.0;
const PITCH_MM: f64 = 24.0;

/// The sheets of every set that has a stack; none without sets.
pub fn sheets(
    design: &Design,
    vessel: &Vessel,
    plan: &StackPlan,
    link: &str,
    date: &str,
) -> Vec<Drawing> {
    let sets: Vec<(usize, &SetPlan)> = plan
        .slot_sets
        .iter()
        .enumerate()
        .filter_map(|(place, own)| Some((place, own.as_ref()?)))
        .collect();
    let mut sheets: Vec<Drawing> = sets
        .iter()
        .map(|(place, own)| set_up(design, vessel, plan, *place, own, link, date))
        .collect();
    if sheets.is_empty() {
        return sheets;
    }
    sheets.extend(order_of_work(design, vessel, plan, link, date));
    let mut done: Vec<usize> = Vec::new();
    for (place, own) in &sets {
        if done.contains(place) {
            continue;
        }
        // Sets on the same stack share its strip.
        let same: Vec<_> = sets
            .iter()
            .filter(|(_, other)| other.rings == own.rings)
            .copied()
            .collect();
        done.extend(same.iter().map(|(place, _)| *place));
        sheets.extend(index_strip(design, own, &same, link, date));
    }
    sheets
}

/// One set: its figures for the saw, the window, what will show, and what to look at.
fn set_up(
    design: &Design,
    vessel: &Vessel,
    plan: &StackPlan,
    place: usize,
    own: &SetPlan,
    link: &str,
    date: &str,
) -> Drawing {
    let (width, height) = paper_mm(&design.paper);
    let pen = Pen::paper(design.unit);
    let subtitle = format!(
        "{}, {}",
        words::page("inlay.sheet"),
        words::inlay::set_name(place, Some(own))
    );
    let (mut sheet, top) = blank(design, &subtitle, link, date);
    let room = width - 2.0 * EDGE_MM;
    let column = room * 0.52;
    let mut y = rows(
        &mut sheet,
        &screen::saw(design, vessel, own, place),
        top + 6.0,
        column,
        4.2,
    );
    y = rows(&mut sheet, &screen::list(design, own), y, column, 2.4);
    y = rows(
        &mut sheet,
        &screen::zigzag(vessel, plan, place, own),
        y,
        column,
        2.4,
    );
    let right = EDGE_MM + column + 8.0;
    heading_at(&mut sheet, point(right, top + 4.0), "inlay.window");
    let window = drawn::window(own, (width - EDGE_MM - right, WINDOW_MM), &pen);
    sheet.place(&window, &Frame::at(point(right, top + 7.0)));
    let mut side = top + WINDOW_MM + 12.0;
    for placed in inlay::inspect(vessel, plan) {
        if matches!(placed.caution, crate::caution::Caution::Slots(about, _) if about == place) {
            let told = words::caution(&placed.caution, design.unit);
            let text = format!("{} {}", told.reason, told.remedy);
            let at = point(right, side);
            side = paragraph(
                &mut sheet,
                at,
                &text,
                width - EDGE_MM - right,
                Tone::Caution,
            ) + 1.0;
        }
    }
    for key in [
        "inlay.safety.1",
        "inlay.safety.2",
        "inlay.safety.3",
        "inlay.safety.4",
    ] {
        let at = point(right, side);
        let text = words::page(key);
        side = paragraph(&mut sheet, at, text, width - EDGE_MM - right, Tone::Quiet) + 1.0;
    }
    y = y.max(side) + 4.0;
    for (is_inside, key) in [(false, "inlay.band"), (true, "inlay.inside_band")] {
        if y + BAND_MM + 8.0 > height - EDGE_MM {
            break;
        }
        heading(&mut sheet, y, key);
        let view = BandView::fit(own, room, BAND_MM);
        let band = drawn::band(vessel, plan, own, &view, is_inside);
        sheet.place(&band, &Frame::at(point(EDGE_MM, y)));
        y += BAND_MM + 6.0;
    }
    sheet
}

fn heading_at(sheet: &mut Drawing, at: Point, key: &str) {
    sheet.add(Words::new(at, words::page(key), 2.6).bold());
}

/// Figures one below the other, each with its note; returns where they end.
fn rows(sheet: &mut Drawing, figures: &[Figure], top: f64, width: f64, height_mm: f64) -> f64 {
    let mut y = top;
    for it in figures {
        row(
            sheet,
            point(EDGE_MM, y),
            width,
            &it.label,
            figure(&it.shown),
            height_mm,
        );
        let pitch = if height_mm > 3.0 { 9.5 } else { 6.0 };
        y += pitch;
        if !it.note.is_empty() {
            // Right under its line.
            let at = point(EDGE_MM + width, y - pitch + 5.0);
            let note = Words::new(at, it.note.as_str(), 2.2);
            sheet.add(note.anchored(Anchor::End).toned(Tone::Quiet));
            y += 4.0;
        }
    }
    y
}

/// The order of work over as many sheets as it takes.
fn order_of_work(
    design: &Design,
    vessel: &Vessel,
    plan: &StackPlan,
    link: &str,
    date: &str,
) -> Vec<Drawing> {
    let (width, height) = paper_mm(&design.paper);
    let subtitle = format!(
        "{}, {}",
        words::page("inlay.sheet"),
        words::page("inlay.work")
    );
    let mut sheets = Vec::new();
    let (mut sheet, top) = blank(design, &subtitle, link, date);
    let mut y = top + 6.0;
    let room = width - 2.0 * EDGE_MM - 14.0;
    for (number, step) in screen::order_of_work(design, vessel, plan)
        .iter()
        .enumerate()
    {
        // A step takes four lines at most.
        if y > height - EDGE_MM - 20.0 {
            let (next, top) = blank(design, &subtitle, link, date);
            sheets.push(std::mem::replace(&mut sheet, next));
            y = top + 6.0;
        }
        sheet.add(Path::line(
            rectangle(point(EDGE_MM, y - 2.6), 3.2, 3.2),
            Ink::Thin,
        ));
        let at = point(EDGE_MM + 6.0, y);
        sheet.add(Words::new(at, (number + 1).to_string(), 2.3).bold());
        y = paragraph(
            &mut sheet,
            point(EDGE_MM + 14.0, y),
            step,
            room,
            Tone::Graphite,
        ) + 2.0;
    }
    sheets.push(sheet);
    sheets
}

/// The marks of all sets on one stack, in pieces as long as the paper is wide.
fn index_strip(
    design: &Design,
    stack: &SetPlan,
    sets: &[(usize, &SetPlan)],
    link: &str,
    date: &str,
) -> Vec<Drawing> {
    let (width, height) = paper_mm(&design.paper);
    let whole = stack.circumference_mm();
    let piece = width - 2.0 * EDGE_MM - 4.0;
    let mut marks: Vec<(f64, String)> = Vec::new();
    for (place, own) in sets {
        for (slot, direction) in own.slots.directions().enumerate() {
            // Along the shared strip, which begins at the first set's first slot.
            let along = stack.round_mm(direction).rem_euclid(whole.max(1e-9));
            let along = if whole - along < 1e-6 { 0.0 } else { along };
            marks.push((along, format!("{}.{}", place + 1, slot + 1)));
        }
    }
    let subtitle = words::page("inlay.index");
    let foot = height - EDGE_MM - 30.0;
    let mut sheets: Vec<Drawing> = Vec::new();
    let mut y = f64::MAX;
    let count = (whole / piece).ceil().max(1.0) as u32;
    for number in 0..count {
        if y + PITCH_MM > foot {
            let (mut sheet, top) = blank(design, subtitle, link, date);
            scale_check(&mut sheet, point(EDGE_MM, foot + 8.0));
            let notes = point(EDGE_MM + 4.0 * 25.4 + 18.0, foot + 2.0);
            let text = words::page("paper.true_scale");
            paragraph(
                &mut sheet,
                notes,
                text,
                width - EDGE_MM - notes.x,
                Tone::Graphite,
            );
            sheets.push(sheet);
            y = top + 6.0;
        }
        let from = f64::from(number) * piece;
        let to = (from + piece).min(whole);
        if let Some(sheet) = sheets.last_mut() {
            let corner = point(EDGE_MM, y);
            index_piece(sheet, corner, [from, to], &marks, number + 1 < count);
        }
        y += PITCH_MM;
    }
    sheets
}

/// A piece of the strip from one place along it to another.
fn index_piece(
    sheet: &mut Drawing,
    corner: Point,
    [from, to]: [f64; 2],
    marks: &[(f64, String)],
    goes_on: bool,
) {
    let body = rectangle(corner, to - from, STRIP_MM);
    sheet.add(Path::line(body, Ink::Thin).named("index strip"));
    for (along, name) in marks {
        if (from..to).contains(along) {
            let x = corner.x + along - from;
            let line = polyline(&[point(x, corner.y), point(x, corner.y + STRIP_MM)]);
            sheet.add(Path::line(line, Ink::Object).named(format!("mark {name}")));
            sheet.add(Words::new(point(x + 1.0, corner.y + 4.0), name.as_str(), 2.3).bold());
        }
    }
    if goes_on {
        let at = point(corner.x + to - from, corner.y + STRIP_MM + 3.6);
        let words = Words::new(at, words::page("inlay.join"), 2.0);
        sheet.add(words.anchored(Anchor::End).toned(Tone::Quiet));
    }
}
