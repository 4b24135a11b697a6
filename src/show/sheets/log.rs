//! The log of the bench: what was done when, and what the piece came to.

use super::flow::Flow;
use super::job::{Job, Sheet};
use crate::draw::Tone;
use crate::show::figures::bench::logbook::LogLine;
use crate::show::words;

/// The log, where there is one; not printed until it is wanted.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(log) = job.log.filter(|log| !log.lines.is_empty()) else {
        return Vec::new();
    };
    let title = words::by_key("log.title");
    let mut flow = Flow::read(job, title.to_owned(), &[]);
    for text in &log.came_to {
        flow.paragraph(text, Tone::Graphite);
    }
    flow.y += 2.0;
    for line in &log.lines {
        flow.paragraph(&LogLine::written(line), Tone::Graphite);
    }
    vec![Sheet {
        is_usual: false,
        ..Sheet::new("log", title, flow.pages)
    }]
}
