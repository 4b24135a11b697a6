//! The cut list: what is ripped, in the order in which the fence moves, and what is then
//! cut at the miter saw, in the order in which saw and stop move.

use super::figure;
use super::flow::Flow;
use super::job::{Job, Sheet};
use crate::draw::{Lettering, Tone};
use crate::plan::bill::{Cut, Piece};
use crate::show::figures::bench::tools::tools;
use crate::show::words;
use crate::solve::sorted::order;
use crate::units::length::{entry_text, no_less, show};
use crate::units::quantity;
use quantity::shown_degrees;

/// The cut list of a vessel.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let list = job.plan.bill();
    if job.vessel.is_none() || list.is_empty() {
        return Vec::new();
    }
    let title = words::SHEET_CUTS.text;
    let mut flow = Flow::read(
        job,
        title.to_owned(),
        &[words::SAFETY_1, words::SAFETY_2, words::SAFETY_5],
    );
    let length = |length_mm: f64| figure(&show(length_mm, job.design.unit));
    flow.heading(words::CUTS_RIP.text);
    let unit = job.design.unit;
    let kerf = format!(
        "{} {}",
        entry_text(job.design.shop.kerf_mm, unit),
        unit.mark()
    );
    flow.paragraph(
        &words::filled(words::CUTS_RIP_NOTE, &[&kerf]),
        Tone::Graphite,
    );
    let ripped = list.iter().filter(|cut| cut.is_ripped());
    let rip: Vec<Vec<Lettering>> = ripped.map(|cut| rip_row(job, cut)).collect();
    let head = [
        words::label("ring.wood"),
        words::CUTS_THICKNESS.text,
        words::CUTS_WIDTH.text,
        words::COUNTS_LENGTH.text,
        words::ROW_STRIPS.text,
        words::label("vessel.rings"),
    ];
    flow.table(&head, &rip, 0);
    veneer(job, &mut flow);
    let mut at_saw: Vec<(&Cut, &crate::trade::ring::Segment)> = list
        .iter()
        .filter_map(|cut| Some((cut, cut.mitered()?)))
        .collect();
    // Stops from long to short within each setting of the saw.
    let stops: Vec<f64> = at_saw
        .iter()
        .map(|(_, it)| -it.outside.long_edge_mm)
        .collect();
    at_saw = order(&stops).into_iter().map(|at| at_saw[at]).collect();
    let settings: Vec<f64> = at_saw
        .iter()
        .map(|(_, it)| it.outside.half_angle_rad)
        .collect();
    at_saw = order(&settings).into_iter().map(|at| at_saw[at]).collect();
    if at_saw.is_empty() {
        needed(job, &mut flow);
        return vec![Sheet::new("cuts", title, flow.pages)];
    }
    flow.heading(words::CUTS_MITER.text);
    let miter: Vec<Vec<Lettering>> = at_saw
        .iter()
        .map(|(cut, segment)| {
            vec![
                Lettering::plain(wood(cut)),
                figure(&shown_degrees(segment.outside.half_angle_rad)),
                length(segment.outside.long_edge_mm),
                length(segment.strip_width_mm),
                Lettering::plain(cut.count.to_string()),
                Lettering::plain(short(&words::part_list(&cut.parts))),
            ]
        })
        .collect();
    let head = [
        words::label("ring.wood"),
        words::COUNTS_SAW.text,
        words::COUNTS_STOP.text,
        words::COUNTS_STRIP.text,
        words::CUTS_COUNT.text,
        words::label("vessel.rings"),
    ];
    flow.table(&head, &miter, 0);
    needed(job, &mut flow);
    vec![Sheet::new("cuts", title, flow.pages)]
}

/// The name of a cut's wood, or what it is.
fn wood(cut: &Cut) -> String {
    let name = cut.wood.clone();
    name.unwrap_or_else(|| words::cut_name(cut).to_owned())
}

/// What is ripped: its sizes, how much of it, and for which rings.
fn rip_row(job: &Job, cut: &Cut) -> Vec<Lettering> {
    let length = |length_mm: f64| figure(&show(length_mm, job.design.unit));
    let kerf_mm = job.design.shop.kerf_mm;
    let (mut strips, mut in_all_mm) = cut.ripped(kerf_mm);
    let thin = job.plan.thin_strips(cut, super::boards::WORK);
    if let (Piece::SlotStrip { length_mm }, false) = (cut.piece, thin.is_empty()) {
        let pieces: u32 = thin.iter().map(|it| it.count * it.each).sum();
        strips = thin.iter().map(|it| it.count).sum();
        in_all_mm = f64::from(pieces) * (length_mm + kerf_mm);
    }
    let strips = match strips {
        0 => String::new(),
        count => count.to_string(),
    };
    let mut parts = short(&words::part_list(&cut.parts));
    let base = job.plan.base();
    if let Some(dressed_mm) = base.and_then(|base| cut.planed_on_mm(base)) {
        let thick = show(dressed_mm, job.design.unit).whole_line();
        parts += &words::filled(words::CUTS_LATER, &[&thick]);
    }
    vec![
        Lettering::plain(wood(cut)),
        length(cut.thickness_mm),
        length(cut.width_mm),
        figure(&no_less(in_all_mm, job.design.unit)),
        Lettering::plain(strips),
        Lettering::plain(parts),
    ]
}

/// The layers that are cut of veneer.
fn veneer(job: &Job, flow: &mut Flow) {
    let unit = job.design.unit;
    let cuts = job.plan.bill().iter().filter(|cut| cut.is_veneer());
    let rows = cuts.map(|cut| {
        vec![
            Lettering::plain(wood(cut)),
            figure(&quantity::fine(cut.thickness_mm, unit)),
            Lettering::plain(words::ripped(cut, &[], job.design)),
            Lettering::plain(short(&words::part_list(&cut.parts))),
        ]
    });
    let rows: Vec<Vec<Lettering>> = rows.collect();
    if rows.is_empty() {
        return;
    }
    flow.heading(words::CUTS_VENEER_CUT.text);
    let head = [
        words::label("ring.wood"),
        words::CUTS_THICKNESS.text,
        words::CUTS_COUNT.text,
        words::label("vessel.rings"),
    ];
    flow.table(&head, &rows, 0);
}

/// What the shop needs beside the wood.
fn needed(job: &Job, flow: &mut Flow) {
    const LETTER_MM: f64 = 2.4;
    const GAP_MM: f64 = 3.0;
    let tools = tools(job.plan);
    if tools.is_empty() {
        return;
    }
    let also_mm = flow.height_of(words::TOOLS_ALSO.text, Tone::Graphite);
    let rows: Vec<(&str, Lettering)> = tools
        .iter()
        .map(|it| (it.label.as_str(), figure(&it.shown)))
        .collect();
    let rows_mm = Flow::row_mm(LETTER_MM) * flow.beside(&rows, LETTER_MM).len() as f64;
    flow.need(Flow::HEADING_MM + rows_mm + GAP_MM + also_mm);
    flow.heading(words::TOOLS_TITLE.text);
    flow.rows_beside(&rows, LETTER_MM);
    flow.y += GAP_MM;
    flow.paragraph(words::TOOLS_ALSO.text, Tone::Graphite);
}

/// A column has room for so many ring numbers.
fn short(numbers: &str) -> String {
    const MOST: usize = 16;
    if numbers.chars().count() <= MOST {
        return numbers.to_owned();
    }
    let mut kept: String = numbers.chars().take(MOST - 1).collect();
    kept.push('\u{2026}');
    kept
}
