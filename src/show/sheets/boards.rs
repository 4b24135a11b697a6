//! The boards' sheets: which to take, and every board to scale with its cuts and its
//! strips in words, as many to a sheet as go on.

use super::{EDGE_MM, blank, paper_mm, paragraph, row};
use crate::design::{BoardGoal, Design};
use crate::draw::{Drawing, Frame, Tone, Words, point};
use crate::plan::Plan;
use crate::plan::board::Answer;
use crate::show::figures::boards::strip_lines;
use crate::show::pictures::boards as drawn;
use crate::show::words::{self, boards as said};
use crate::units::length::Shown;

/// The least work that is put into the search before its answer is printed.
const WORK: u64 = 30_000_000;

/// The sheets for the boards of a design; none without boards, or when none serves.
pub fn sheets(plan: &Plan, link: &str, date: &str) -> Vec<Drawing> {
    let answer = plan.boards(WORK);
    answer.map_or_else(Vec::new, |answer| {
        sheets_of(&plan.design, &answer, link, date)
    })
}

/// The same for an answer that is there already.
pub fn sheets_of(design: &Design, answer: &Answer, link: &str, date: &str) -> Vec<Drawing> {
    let Some(rack) = design.rack.as_ref().filter(|_| !answer.layouts.is_empty()) else {
        return Vec::new();
    };
    let (width, height) = paper_mm(&design.paper);
    let (room, bottom) = (width - 2.0 * EDGE_MM, height - EDGE_MM);
    let title = words::BOARDS_TITLE.text;
    let (mut sheet, mut y) = blank(design, title, link, date);
    y = summary(&mut sheet, answer, design, rack.goal, y, room);
    let mut sheets = Vec::new();
    let is_stack = design.vessel.is_some();
    for layout in &answer.layouts {
        let board = &rack.boards[layout.board];
        let drawing = drawn::draw(design, board, layout, answer, room);
        let lines = strip_lines(answer, layout, is_stack, design.unit);
        let needed = 10.0 + drawing.height_mm + 4.6 * lines.len() as f64;
        if y + needed > bottom {
            sheets.push(std::mem::replace(
                &mut sheet,
                blank(design, title, link, date).0,
            ));
            y = EDGE_MM + 34.0;
        }
        y = board_on(
            &mut sheet,
            &drawing,
            board_title(layout, board, design),
            &lines,
            y,
            room,
        );
    }
    sheets.push(sheet);
    sheets
}

fn board_title(
    layout: &crate::plan::board::Layout,
    board: &crate::design::Board,
    design: &Design,
) -> String {
    let line = said::board_line(layout.board, board, design.unit);
    match layout.times {
        1 if !layout.is_extra => line,
        _ => format!("{} ({line})", said::layout_title(layout)),
    }
}

/// How many to take, and what they come to. Returns the height below.
fn summary(
    sheet: &mut Drawing,
    answer: &Answer,
    design: &Design,
    goal: BoardGoal,
    y: f64,
    room: f64,
) -> f64 {
    let mut y = paragraph(
        sheet,
        point(EDGE_MM, y + 4.0),
        &said::take(answer),
        room,
        Tone::Graphite,
    );
    y = paragraph(
        sheet,
        point(EDGE_MM, y),
        &said::bound(answer, goal, design.unit),
        room,
        Tone::Quiet,
    );
    let count = Shown::decimal(answer.board_count.to_string(), "", "");
    let lettering = crate::draw::pen::lettering(&count);
    row(
        sheet,
        point(EDGE_MM, y + 2.0),
        room / 2.0,
        words::BOARDS_ANSWER.text,
        lettering,
        4.0,
    );
    y = paragraph(
        sheet,
        point(EDGE_MM, y + 9.0),
        words::BOARDS_KEY.text,
        room,
        Tone::Quiet,
    );
    for failure in &answer.failures {
        let names = said::part_names(&answer.needs[failure.need].parts, design.vessel.is_some());
        let (reason, _) = said::unfit(&failure.why, &names, design.unit);
        y = paragraph(sheet, point(EDGE_MM, y), &reason, room, Tone::Caution);
    }
    y
}

/// One board. Returns the height below.
fn board_on(
    sheet: &mut Drawing,
    drawing: &Drawing,
    title: String,
    lines: &[String],
    y: f64,
    room: f64,
) -> f64 {
    sheet.add(Words::new(point(EDGE_MM, y + 4.0), title, 2.6).bold());
    sheet.place(drawing, &Frame::at(point(EDGE_MM, y + 6.0)));
    let mut below = y + 10.0 + drawing.height_mm;
    for line in lines {
        below = paragraph(sheet, point(EDGE_MM, below), line, room, Tone::Graphite);
    }
    below + 3.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::rack;

    #[test]
    fn every_board_has_its_place_on_paper() {
        let mut design = rack::add(&Design::default());
        assert_eq!(sheets(&crate::plan::plan(&design), "", "").len(), 1);
        design.rack.as_mut().unwrap().boards[0].width_mm = 30.0;
        design.rack.as_mut().unwrap().boards[0].number = 40;
        design.rack.as_mut().unwrap().boards[0].length_mm = 300.0;
        let sheets = sheets(&crate::plan::plan(&design), "", "");
        assert!(!sheets.is_empty());
        for sheet in &sheets {
            let (_, low) = sheet.bounds().unwrap();
            assert!(low.y <= sheet.height_mm - EDGE_MM + 0.1, "{low:?}");
        }
        assert!(super::sheets(&crate::plan::plan(&Design::default()), "", "").is_empty());
    }
}
