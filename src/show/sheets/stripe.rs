//! A page on the striped board of a ring: the layers to rip, how to glue and saw them, and the
//! board as it lies on the saw.

use super::figure;
use super::flow::Flow;
use super::job::Job;
use crate::draw::{Drawing, Frame, Tone, point};
use crate::plan::ring::RingPlan;
use crate::show::figures::stripe;
use crate::show::pictures;
use crate::show::words;

/// Height of the drawing.
const BOARD_MM: f64 = 40.0;

/// The pages; none without a board.
pub fn pages(job: &Job, title: &str, ring: &RingPlan) -> Vec<Drawing> {
    let Some(own) = ring.stripes.as_ref().filter(|own| own.board.is_some()) else {
        return Vec::new();
    };
    let notes = &[words::SAFETY_1, words::SAFETY_2, words::SAFETY_5];
    let mut flow = Flow::read(job, title.to_owned(), notes);
    flow.heading(words::STRIPE_SHEET.text);
    if let Some(board) = pictures::stripe::board(ring, flow.width, BOARD_MM) {
        let at = point(flow.left, flow.y + 3.0);
        flow.y += BOARD_MM + 6.0;
        flow.page().place(&board, &Frame::at(at));
    }
    let rows = stripe::board(job.design, ring, own).into_iter();
    for it in rows.chain(stripe::pattern(job.design, ring, own)) {
        flow.row(&it.label, figure(&it.shown), 3.2);
        if !it.note.is_empty() {
            flow.paragraph(&it.note, Tone::Quiet);
        }
    }
    flow.pages
}
