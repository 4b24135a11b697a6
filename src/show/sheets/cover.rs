//! The cover: what it will be, in a picture and in numbers.

use super::flow::Flow;
use super::job::{Job, OfVessel, Sheet};
use super::{EDGE_MM, title, woods};
use crate::draw::lettering::{width_mm, wrap};
use crate::draw::{Drawing, Frame, Lettering, Role, Tone, Weight, Words, point, qr};
use crate::plan::bill::ring_numbers;
use crate::show::figures;
use crate::show::pictures::picture::picture;
use crate::show::words;
use crate::units::length::show;
use crate::units::quantity;

/// Side of a code that is too dense for the head of a sheet.
const LARGE_CODE_MM: f64 = 58.0;

/// The cover of a vessel's packet.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    // A smaller picture leaves the cautions room beside the numbers.
    let smaller = [0.42, 0.34].into_iter().map(|share| cover(job, of, share));
    let mut covers = std::iter::once(cover(job, of, PICTURE_SHARE)).chain(smaller);
    let pages = covers.find(|pages| pages.len() == 1);
    let pages = pages.unwrap_or_else(|| cover(job, of, PICTURE_SHARE));
    vec![Sheet::new("cover", words::SHEET_COVER.text, pages)]
}

/// The picture's share of upright paper's height.
const PICTURE_SHARE: f64 = 0.52;

fn cover(job: &Job, of: &OfVessel, picture_share: f64) -> Vec<Drawing> {
    let mut flow = Flow::read(job, subtitle(job, of), &[words::SAFETY_4, words::SAFETY_5]);
    whole_title(job, &mut flow);
    let (width, height) = job.paper_mm();
    let is_upright = height > width;
    let mut top = flow.y + 2.0;
    if of.vessel.woods_used().len() > 1 {
        let (x, width) = (flow.left, flow.width);
        top += woods::key(flow.page(), of.plan, (x, top + 2.0), width);
    }
    let room = width - 2.0 * EDGE_MM;
    let bottom = flow.bottom() - 4.0;
    // A dense code takes more room, up to what leaves the numbers theirs.
    let least = qr::least_side_mm(job.whole_link).filter(|_| job.link.is_empty());
    let beside_mm = least.unwrap_or(0.0).max(LARGE_CODE_MM);
    let (picture_width, picture_height) = if is_upright {
        let below = beside_mm.min(room * 0.55) + 18.0;
        (
            room,
            ((bottom - top) * picture_share).min(bottom - top - below),
        )
    } else {
        (room * 0.54, bottom - top)
    };
    let drawn = picture(of.plan, picture_width, picture_height);
    flow.page().place(&drawn, &Frame::at(point(EDGE_MM, top)));
    if is_upright {
        flow.y = top + picture_height;
        flow.width = (room * 0.5).min(room - beside_mm - 6.0);
    } else {
        flow.y = top;
        flow.left = EDGE_MM + picture_width + 6.0;
        flow.width = room - picture_width - 6.0;
    }
    numbers(job, of, &mut flow);
    if is_upright && flow.pages.len() == 1 {
        flow.y = top + picture_height;
        flow.left = EDGE_MM + flow.width + 6.0;
        flow.width = room - flow.width - 6.0;
    }
    code(job, &mut flow, beside_mm);
    cautions(job, of, &mut flow);
    flow.pages
}

/// The code of the whole link, larger where it is long and on a page of its own where it has
/// no room, and what it is.
fn code(job: &Job, flow: &mut Flow, side_mm: f64) {
    if job.whole_link.is_empty() {
        return;
    }
    if job.link.is_empty() {
        if flow.room() < side_mm + 12.0 || flow.width < side_mm {
            flow.turn_over();
        }
        let code = job.large_code(point(flow.left, flow.y + 4.0), side_mm);
        if code.is_empty() {
            flow.y += 3.0;
            flow.paragraph(words::COVER_NO_CODE.text, Tone::Graphite);
            return;
        }
        let from = flow.page().marks.len();
        flow.page().add_all(code);
        let says = words::COVER_CODE.text.to_owned();
        flow.page().part(from, Role::Figure(says));
        flow.y += side_mm + 6.0;
    }
    // Else the small one at the corner.
    flow.paragraph(words::COVER_CODE.text, Tone::Graphite);
}

pub(super) fn subtitle(job: &Job, of: &OfVessel) -> String {
    let unit = job.design.unit;
    let (height, across) = size(of);
    words::vessel_in_short(of.vessel.rings.len(), height, across, unit)
}

/// Height and greatest diameter.
fn size(of: &OfVessel) -> (f64, f64) {
    let Some(wall) = &of.plan.wall else {
        return (0.0, 0.0);
    };
    let height = wall.outside.height_mm();
    (height, 2.0 * wall.outside.largest_radius(0.0, height))
}

/// A name too long for the head stands here whole.
fn whole_title(job: &Job, flow: &mut Flow) {
    let name = title(job.design);
    let head = if job.link.is_empty() { 0.0 } else { 34.0 };
    let room = (flow.width - head) / crate::draw::lettering::SCREEN_SLACK;
    if width_mm(&name, 4.5, Weight::Bold) <= room {
        return;
    }
    flow.y += 2.0;
    let from = flow.page().marks.len();
    for line in wrap(&name, flow.width, 3.0, Weight::Bold).iter().take(12) {
        flow.y += 5.4;
        let words = Words::new(point(flow.left, flow.y), line.as_str(), 3.0).bold();
        flow.page().add(words);
    }
    flow.page().part(from, Role::Paragraph);
}

fn numbers(job: &Job, of: &OfVessel, flow: &mut Flow) {
    let unit = job.design.unit;
    let (height, across) = size(of);
    for (key, length_mm) in [("vessel.height_mm", height), ("vessel.diameter_mm", across)] {
        let figure = super::figure(&show(length_mm, unit));
        flow.row(words::label(key), figure, 3.6);
    }
    let pieces: u32 = of.plan.totals().woods.iter().map(|it| it.piece_count).sum();
    let glued: u32 = of.plan.totals().woods.iter().map(|it| it.glued_count).sum();
    let told = match (pieces, glued) {
        (_, 0) => pieces.to_string(),
        (0, _) => words::filled(words::COVER_ALL_GLUED, &[&glued.to_string()]),
        _ => words::filled(
            words::COVER_SOME_GLUED,
            &[&pieces.to_string(), &glued.to_string()],
        ),
    };
    flow.row(words::COVER_PIECES.text, Lettering::plain(told), 2.4);
    let meeting = job.plan.order().map_or(0, |order| order.meeting);
    // What is told in words stands below: names may be long.
    let mut told = Vec::new();
    for it in figures::vessel::totals(of.plan, meeting, unit) {
        if it.shown.is_words {
            told.push(format!("{}: {}", it.label, it.shown.text));
            continue;
        }
        let mut line = super::figure(&it.shown);
        if !it.note.is_empty() {
            line = line.then(format!(", {}", it.note));
        }
        let label = if it.key.starts_with("total.wood") {
            words::filled(words::COVER_IN_STRIPS, &[&it.label])
        } else {
            it.label
        };
        flow.row(&label, line, 2.4);
    }
    // What is in the strips is much less than what they are ripped from.
    let answer = job.plan.boards(super::boards::WORK);
    if let Some(answer) = answer.filter(|it| !it.layouts.is_empty()) {
        let wood = words::boards::volume(answer.volume_mm3, unit);
        let line = Lettering::plain(format!("{}, {wood}", answer.board_count));
        flow.row(words::BOARDS_ANSWER.text, line, 2.4);
        if answer.cost > 0.0 && answer.unpriced_count == 0 {
            let cost = quantity::money(answer.cost, &job.design.shop.currency);
            let cost = Lettering::plain(cost.line());
            flow.row(words::BOARDS_COST.text, cost, 2.4);
        }
    }
    flow.y += 1.5;
    for text in told {
        flow.paragraph(&text, Tone::Graphite);
    }
}

/// What is about the whole vessel, and what could not be computed.
fn cautions(job: &Job, of: &OfVessel, flow: &mut Flow) {
    let mut all: Vec<String> = of
        .plan
        .troubles
        .iter()
        .map(|trouble| words::trouble(trouble, job.design.unit))
        .map(|told| format!("{} {}", told.reason, told.remedy))
        .collect();
    // Sets that are alike have the same wrong.
    all.dedup();
    all.extend(job.cautions(None));
    // Glued rings have no sheets of their own to stand on; what is said of several is said once.
    let mut of_rings: Vec<(String, Vec<usize>)> = Vec::new();
    let glued = of.vessel.rings.iter().enumerate();
    for (place, _) in glued.filter(|(_, ring)| ring.is_glued()) {
        for told in job.cautions(Some(place)) {
            match of_rings.iter_mut().find(|it| it.0 == told) {
                Some((_, places)) => places.push(place),
                None => of_rings.push((told, vec![place])),
            }
        }
    }
    all.extend(of_rings.into_iter().map(|(told, places)| {
        let named = words::rings_named(&ring_numbers(&places), places.len());
        format!("{named}: {told}")
    }));
    if all.is_empty() {
        return;
    }
    flow.heading(words::by_key("cautions"));
    for text in all {
        flow.paragraph(&text, Tone::Caution);
    }
}
