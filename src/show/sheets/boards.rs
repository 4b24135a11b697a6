//! The boards' sheets: which to take, and every board to scale with its cuts and its
//! strips in words, as many to a sheet as go on.

use super::{EDGE_MM, blank, code_end, paper_mm, paragraph, row, woods};
use crate::design::{Board, BoardGoal, Design, Rack};
use crate::draw::{Drawing, Frame, Role, Tone, Words, point};
use crate::plan::Plan;
use crate::plan::board::{Answer, First, Layout};
use crate::show::figures::boards::strip_lines;
use crate::show::pictures::boards as drawn;
use crate::show::words::{self, boards as said};
use crate::units::length::Shown;

/// The least work that is put into the search before its answer is printed.
pub(super) const WORK: u64 = 50_000_000;

/// The sheets for the boards of a design; none without boards, or when none serves.
pub fn sheets(plan: &Plan, link: &str, date: &str) -> Vec<Drawing> {
    let answer = plan.boards(WORK);
    answer.map_or_else(Vec::new, |answer| {
        // Nothing is looked for any more once it is printed.
        let answer = Answer {
            is_done: true,
            ..answer
        };
        sheets_of(plan, &answer, link, date)
    })
}

/// The same for an answer that is there already: a little smaller where that saves a page.
fn sheets_of(plan: &Plan, answer: &Answer, link: &str, date: &str) -> Vec<Drawing> {
    let Some(rack) = plan.design.rack.as_ref() else {
        return Vec::new();
    };
    if answer.layouts.is_empty() {
        return Vec::new();
    }
    let room = paper_mm(&plan.design.paper).0 - 2.0 * EDGE_MM;
    let boards = answer.layouts.iter();
    let each = boards.map(|it| drawn::one_over(&rack.boards[it.board], it, room));
    let over = each.fold(0.0, f64::max);
    let largest = at_scale(plan, answer, rack, over, (link, date));
    let smaller = [1.0, 2.0].map(|by| at_scale(plan, answer, rack, over + by, (link, date)));
    let saves = |it: &Vec<Drawing>| it.len() < largest.len();
    smaller.into_iter().find(saves).unwrap_or(largest)
}

/// The sheets with boards drawn at one to so much.
fn at_scale(
    plan: &Plan,
    answer: &Answer,
    rack: &Rack,
    over: f64,
    (link, date): (&str, &str),
) -> Vec<Drawing> {
    let design = &*plan.design;
    let (width, height) = paper_mm(&design.paper);
    let (room, bottom) = (width - 2.0 * EDGE_MM, height - EDGE_MM);
    let title = words::BOARDS_TITLE.text;
    let (mut sheet, mut y) = blank(design, title, link, date);
    y = summary(&mut sheet, answer, design, rack.goal, y, room);
    let scale = words::filled(words::BOARDS_SCALE, &[&over.to_string()]);
    y = paragraph(&mut sheet, point(EDGE_MM, y), &scale, room, Tone::Graphite);
    let stack = plan.stack().filter(|it| it.vessel.woods_used().len() > 1);
    if let Some(stack) = stack {
        y += woods::key(&mut sheet, stack, (EDGE_MM, y + 1.0), room);
    }
    let mut sheets = Vec::new();
    for (place, layout) in answer.layouts.iter().enumerate() {
        let board = &rack.boards[layout.board];
        let mut drawing = drawn::draw(design, board, layout, answer, room, Some(1.0 / over));
        if let Some(stack) = stack {
            woods::tell_apart(&mut drawing, stack);
        }
        let lines = strip_lines((answer, layout), board, design);
        let needed = 10.0 + drawing.height_mm + 4.6 * lines.len() as f64;
        if y + needed > bottom {
            let (next, top) = blank(design, title, link, date);
            sheets.push(std::mem::replace(&mut sheet, next));
            y = top.max(code_end(link)) + 1.0;
        }
        y = board_on(
            &mut sheet,
            &drawing,
            board_title(answer, place, board, design),
            &lines,
            y,
            room,
        );
    }
    sheets.push(sheet);
    sheets
}

/// What a board is, and which of those alike: `1: Ash, 4/4 × 6 × 96 in, 2 of 3`.
fn board_title(answer: &Answer, place: usize, board: &Board, design: &Design) -> String {
    let layout = &answer.layouts[place];
    let one = Board {
        number: 1,
        ..board.clone()
    };
    let mut title = said::board_line(layout.board, &one, design.unit);
    title.push_str(&said::which(answer, place));
    if layout.is_extra {
        title.push_str(words::BOARDS_EXTRA.text);
    }
    title
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
    let mut y = not_placed(sheet, answer, design, y + 4.0, room);
    y = paragraph(
        sheet,
        point(EDGE_MM, y),
        &said::take(answer, design.rack.as_ref()),
        room,
        Tone::Graphite,
    );
    y = paragraph(
        sheet,
        point(EDGE_MM, y),
        &said::bound(answer, goal, design.unit),
        room,
        Tone::Graphite,
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
        Tone::Graphite,
    );
    let firsts = || answer.layouts.iter().map(Layout::first);
    let parted = [
        (
            firsts().any(|it| matches!(it, First::Across(_))),
            words::BOARDS_ACROSS,
        ),
        (firsts().any(|it| it == First::Along), words::BOARDS_ALONG),
    ];
    for (_, says) in parted.into_iter().filter(|it| it.0) {
        y = paragraph(sheet, point(EDGE_MM, y), says.text, room, Tone::Graphite);
    }
    let boards = design.rack.iter().flat_map(|rack| &rack.boards);
    if boards.map(|board| board.avoid.len()).sum::<usize>() > 0 {
        let says = words::BOARDS_AVOIDED.text;
        y = paragraph(sheet, point(EDGE_MM, y), says, room, Tone::Graphite);
    }
    y
}

/// What has no place on any board, by name and reason, before all else. Returns the height
/// below.
fn not_placed(sheet: &mut Drawing, answer: &Answer, design: &Design, mut y: f64, room: f64) -> f64 {
    if answer.failures.is_empty() {
        return y;
    }
    let head = Words::new(point(EDGE_MM, y), words::BOARDS_NOT_PLACED.text, 3.6);
    sheet.add_part(head.bold(), Role::Heading);
    y += 7.0;
    for failure in &answer.failures {
        let need = &answer.needs[failure.need];
        let names = said::part_names(&need.parts, design.vessel.is_some());
        let (reason, remedy) = said::unfit(&failure.why, &names, design.unit);
        let wood = if reason.contains(&need.wood) || need.wood.is_empty() {
            String::new()
        } else {
            format!("{}. ", need.wood)
        };
        let text = format!("{wood}{reason} {remedy}");
        y = paragraph(sheet, point(EDGE_MM, y), &text, room, Tone::Caution) + 1.0;
    }
    y + 3.0
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
    let title = Words::new(point(EDGE_MM, y + 4.0), title, 2.6).bold();
    sheet.add_part(title, Role::Heading);
    sheet.place(drawing, &Frame::at(point(EDGE_MM, y + 6.0)));
    let mut below = y + 10.0 + drawing.height_mm;
    for line in lines {
        below = paragraph(sheet, point(EDGE_MM, below), line, room, Tone::Graphite);
    }
    below + 1.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::rack;

    #[test]
    fn what_is_not_placed_stands_first_and_each_board_is_drawn_to_one_scale() {
        let vase = crate::design::example::ALL
            .iter()
            .find(|it| it.word == "lantern_vase");
        let mut design = crate::design::link::decode(vase.unwrap().link).unwrap().0;
        let rack = design.rack.as_mut().unwrap();
        rack.boards.retain(|board| !board.wood.starts_with("Wenge"));
        rack.boards[0].length_mm = 800.0;
        rack.boards[0].number = 4;
        let sheets = sheets(&crate::plan::plan(&design), "", "");
        let said: Vec<(f64, String)> = sheets[0]
            .marks
            .iter()
            .filter_map(|mark| match mark {
                crate::draw::Mark::Words(words) => Some((words.at.y, words.lettering.spoken())),
                crate::draw::Mark::Path(_) => None,
            })
            .collect();
        let at = |text: &str| {
            let found = said.iter().find(|(_, said)| said.contains(text));
            found.unwrap_or_else(|| panic!("{text}: {said:?}")).0
        };
        assert!(at("Not everything is placed") < at("Ring 5: there is no board of Wenge."));
        assert!(at("there is no board of Wenge.") < at("Take "));
        let answer = crate::plan::plan(&design).boards(WORK).unwrap();
        let boards = &design.rack.as_ref().unwrap().boards;
        let several = (0..answer.layouts.len()).map(|place| said::which(&answer, place));
        assert!(several.filter(|it| it.ends_with("1 of 2")).count() > 0);
        // Each board in one piece, at the scale that is told.
        let over: f64 = said
            .iter()
            .find_map(|(_, said)| {
                said.split_once("Boards are drawn 1 : ")?
                    .1
                    .split_once('.')?
                    .0
                    .parse()
                    .ok()
            })
            .unwrap();
        let grounds = sheets
            .iter()
            .flat_map(|sheet| &sheet.marks)
            .filter_map(|mark| match mark {
                crate::draw::Mark::Path(path)
                    if path.ink == Some(crate::draw::Ink::Object) && path.fill.is_some() =>
                {
                    let (least, most) = mark.bounds()?;
                    Some((most.x - least.x - 0.5, most.y - least.y - 0.5))
                }
                _ => None,
            });
        let drawn: Vec<(f64, f64)> = grounds.collect();
        assert_eq!(drawn.len(), answer.layouts.len());
        for ((long, high), layout) in drawn.into_iter().zip(&answer.layouts) {
            let board = &boards[layout.board];
            assert!((long * over - board.length_mm).abs() < 1.0, "{long} {over}");
            assert!((high * over - board.width_mm).abs() < 1.0, "{high} {over}");
        }
    }

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
