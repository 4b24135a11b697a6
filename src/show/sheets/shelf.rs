//! The shelf on paper: what lies there, a row each, to be looked through beside it.

use super::flow::Flow;
use super::job::{Choice, Job, Sheet};
use super::packet::bound;
use crate::design::Design;
use crate::draw::{Lettering, Tone, Typeface};
use crate::plan::Plan;
use crate::show::figures::shelf::{ShelfRow, ShelfScreen};
use crate::show::words;

/// The shelf as a PDF file, as it was looked through; empty where nothing lies on it.
pub fn pdf(screen: &ShelfScreen, plan: &Plan, date: &str, typeface: Option<&Typeface>) -> Vec<u8> {
    let title = words::SHELF_TITLE.text;
    // What stands over its pages is no piece's name.
    let design = Design {
        name: title.to_owned(),
        ..(*plan.design).clone()
    };
    let job = Job {
        design: &design,
        plan,
        vessel: None,
        link: "",
        whole_link: "",
        date,
        log: None,
        choice: Choice::Usual,
    };
    if screen.rows.is_empty() && screen.rings.is_empty() {
        return Vec::new();
    }
    let mut flow = Flow::read(&job, screen.says.clone(), &[]);
    flow.paragraph(words::SHELF_ON_PAPER.text, Tone::Quiet);
    for (head, rows) in [
        (words::SHELF_BOARDS, &screen.rows),
        (words::SHELF_GLUED_RINGS, &screen.rings),
    ] {
        if !rows.is_empty() {
            flow.y += 2.0;
            table(&mut flow, head.text, rows);
        }
    }
    let sheets = vec![Sheet::new("shelf", title, flow.pages)];
    bound(&design, sheets, date, typeface)
}

fn table(flow: &mut Flow, head: &str, rows: &[ShelfRow]) {
    let cell = |text: &str| Lettering::plain(text.to_owned());
    let rows: Vec<Vec<Lettering>> = rows
        .iter()
        .map(|row| vec![cell(&row.title), cell(&row.about)])
        .collect();
    flow.table(&[head, words::SHELF_ABOUT.text], &rows, 0);
}
