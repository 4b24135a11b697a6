//! What stands on paper. One file a sheet; here, what all sheets share: the title,
//! the date, the link as a code, the bar to check the scale by, and the cautions.

pub mod base;
pub mod bench;
pub mod boards;
pub mod card;
pub mod cover;
pub mod cuts;
pub mod discs;
pub mod flow;
pub mod full_size;
pub mod index_disc;
pub mod inlay;
pub mod job;
pub mod log;
pub mod map;
pub mod packet;
pub mod pattern;
pub mod profile;
pub mod ring;
pub mod section;
pub mod shelf;
pub mod story;
pub mod stripe;
pub mod tile;
pub mod woods;

use crate::design::{Design, Orientation, OutlineIs, Paper, PaperSize};
use crate::draw::lettering::{SCREEN_SLACK, shorten, wrap};
use crate::draw::pen::lettering;
use crate::draw::{
    Anchor, Drawing, Fill, Ink, Lettering, Mark, Path, Point, Role, Tone, Weight, Words, point,
    polyline, rectangle,
};
use crate::edit::scaled_length_mm;
use crate::show::words;
use crate::units::length::{MM_PER_INCH, Shown};

/// Free edge all round: what every office printer can reach (common practice, no
/// published source).
pub const EDGE_MM: f64 = 12.7;

/// Side of the design's code in the head of a sheet.
pub const CODE_MM: f64 = 30.0;

/// Height of the foot of a sheet: the bars to check the scale by, and the notes, which
/// have less room beside them where the paper stands upright.
fn foot_mm(paper: &Paper) -> f64 {
    match paper.orientation {
        Orientation::Portrait => 31.0,
        Orientation::Landscape => 23.0,
    }
}

/// Width and height of the paper as it lies, in millimeters.
pub fn paper_mm(paper: &Paper) -> (f64, f64) {
    let (short, long) = match paper.size {
        PaperSize::Letter => (8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH),
        PaperSize::A4 => (210.0, 297.0),
    };
    match paper.orientation {
        Orientation::Portrait => (short, long),
        Orientation::Landscape => (long, short),
    }
}

/// What a design is called on paper, in files and where it is shared: its name, else its size.
pub fn title(design: &Design) -> String {
    let name = design.name.trim();
    if !name.is_empty() {
        return name.to_owned();
    }
    let Some(vessel) = &design.vessel else {
        let ring = &design.ring;
        return words::unnamed_ring(ring.segment_count, ring.outside_diameter_mm, design.unit);
    };
    if vessel.outline_is == OutlineIs::InRings {
        return words::unnamed_glued(vessel.rings.len());
    }
    let [across_mm, high_mm] =
        ["vessel.diameter_mm", "vessel.height_mm"].map(|key| scaled_length_mm(key, vessel));
    words::unnamed_piece(across_mm, high_mm, design.unit)
}

/// Where the design's code stands on a sheet.
pub(crate) fn code_corner(paper: &Paper) -> Point {
    point(paper_mm(paper).0 - EDGE_MM - CODE_MM, EDGE_MM - 2.0)
}

/// Below the design's code, where a sheet has one.
pub(crate) fn code_end(link: &str) -> f64 {
    if link.is_empty() {
        0.0
    } else {
        EDGE_MM + CODE_MM
    }
}

/// Whether the paper lies.
pub(crate) fn is_lying(paper: &Paper) -> bool {
    paper.orientation == Orientation::Landscape
}

/// A blank sheet with its head. Returns the height at which the head ends. Where there is
/// a link, room is left for its code, which the packet lays on every sheet alike.
pub(crate) fn blank(design: &Design, subtitle: &str, link: &str, date: &str) -> (Drawing, f64) {
    blank_beside(design, subtitle, link, date, 0.0)
}

/// The same with room at the right of its head.
pub(crate) fn blank_beside(
    design: &Design,
    subtitle: &str,
    link: &str,
    date: &str,
    kept_mm: f64,
) -> (Drawing, f64) {
    let (width, height) = paper_mm(&design.paper);
    let mut sheet = Drawing::new(width, height, title(design)).described(subtitle);
    let right = if link.is_empty() {
        width - EDGE_MM
    } else {
        code_corner(&design.paper).x - 4.0
    };
    // An SVG is set in the reader's own typeface, which may run wider.
    let room = (right - kept_mm - EDGE_MM) / SCREEN_SLACK;
    let name = shorten(&title(design), room, 4.5, Weight::Bold);
    let name = Words::new(point(EDGE_MM, EDGE_MM + 5.0), name, 4.5).bold();
    sheet.add_part(name, Role::Title);
    let told = shorten(subtitle, room, 2.6, Weight::Regular);
    let told = Words::new(point(EDGE_MM, EDGE_MM + 12.0), told, 2.6);
    sheet.add_part(told, Role::Sheet);
    let made = Words::new(point(EDGE_MM, EDGE_MM + 17.5), words::made_on(date), 2.6);
    sheet.add_part(made.toned(Tone::Quiet), Role::Running);
    (sheet, EDGE_MM + 23.0)
}

/// The height at which the foot of a sheet begins.
pub(crate) fn foot_top(paper: &Paper) -> f64 {
    paper_mm(paper).1 - EDGE_MM - foot_mm(paper)
}

/// The foot: the bars to check the scale by, and beside them the notes by their keys,
/// as many as there is room for.
pub(crate) fn foot(sheet: &mut Drawing, design: &Design, notes: &[words::Word]) {
    let top = foot_top(&design.paper);
    scale_check(sheet, point(EDGE_MM, top + 9.0));
    let left = EDGE_MM + 4.0 * MM_PER_INCH + 16.0;
    let all: Vec<words::Word> = [words::PAPER_TRUE_SCALE]
        .iter()
        .chain(notes)
        .copied()
        .collect();
    foot_notes(sheet, point(left, top + 4.0), &all);
}

/// Height of the foot of a sheet that nothing is measured on.
pub(crate) const READ_FOOT_MM: f64 = 8.0;

/// Notes one below the other down to the sheet's edge.
pub(crate) fn foot_notes(sheet: &mut Drawing, mut at: Point, notes: &[words::Word]) {
    let pitch = NOTE_MM * 1.65;
    let room = sheet.width_mm - EDGE_MM - at.x;
    for key in notes {
        let lines = wrap(key.text, room, NOTE_MM, Weight::Regular);
        if at.y + (lines.len() - 1) as f64 * pitch > sheet.height_mm - EDGE_MM {
            break;
        }
        let from = sheet.marks.len();
        for line in lines {
            sheet.add(Words::new(at, line, NOTE_MM));
            at.y += pitch;
        }
        sheet.part(from, Role::Foot);
        at.y += 0.6;
    }
}

/// Height of the capitals of notes.
const NOTE_MM: f64 = 1.9;

/// The bars to check the scale by: 100 mm and 4 in.
fn scale_check(sheet: &mut Drawing, at: Point) {
    let from = sheet.marks.len();
    for (row, length_mm, text, ticks) in [
        (0.0, 100.0, "100 mm", 10),
        (9.0, 4.0 * MM_PER_INCH, "4 in", 4),
    ] {
        let start = point(at.x, at.y + row);
        let bar = polyline(&[start, point(start.x + length_mm, start.y)]);
        sheet.add(Path::line(bar, Ink::Object).named(text));
        for tick in 0..=ticks {
            let x = start.x + length_mm * f64::from(tick) / f64::from(ticks);
            let is_end = tick == 0 || tick == ticks;
            let reach = if is_end { 3.0 } else { 1.5 };
            sheet.line(point(x, start.y), point(x, start.y - reach), Ink::Thin);
        }
        sheet.add(Words::new(
            point(start.x + length_mm + 2.0, start.y + 0.2),
            text,
            2.6,
        ));
    }
    sheet.part(from, Role::Running);
}

/// Words over as many lines as they need; returns the height below them.
fn paragraph(sheet: &mut Drawing, at: Point, text: &str, width_mm: f64, tone: Tone) -> f64 {
    let mut y = at.y;
    let from = sheet.marks.len();
    for line in lines(text, width_mm, tone) {
        told(sheet, point(at.x, y), line, tone);
        y += LINE_MM;
    }
    sheet.part(from, Role::Paragraph);
    y
}

/// Height of what is told, and from one of its lines to the next.
const TOLD_MM: f64 = 2.3;
pub(crate) const LINE_MM: f64 = TOLD_MM * 1.9;

/// From the bar of a caution to its words.
pub(crate) const BAR_MM: f64 = 3.0;

/// What is told over as many lines as it needs.
pub(crate) fn lines(text: &str, width_mm: f64, tone: Tone) -> Vec<String> {
    if tone == Tone::Caution {
        wrap(text, width_mm - BAR_MM, TOLD_MM, Weight::Bold)
    } else {
        wrap(text, width_mm, TOLD_MM, Weight::Regular)
    }
}

/// One of these lines.
pub(crate) fn told(sheet: &mut Drawing, at: Point, line: String, tone: Tone) {
    if tone == Tone::Caution {
        cautioned(sheet, at, line, TOLD_MM, LINE_MM);
    } else {
        sheet.add(Words::new(at, line, TOLD_MM).toned(tone));
    }
}

/// A line of what to look at before the hands do: bold, behind a bar that no print loses.
pub(crate) fn cautioned(sheet: &mut Drawing, at: Point, line: String, high: f64, pitch: f64) {
    let bar = rectangle(point(at.x, at.y - pitch * 0.73), 1.0, pitch);
    let bar = Path::area(bar, Fill::Tone(Tone::Graphite));
    sheet.add(bar.named("caution"));
    sheet.add(Words::new(point(at.x + BAR_MM, at.y), line, high).bold());
}

/// Leaves out what a small picture has no room for: figures that would stand on others,
/// or outside of it. Every one of them stands in the list beside the picture.
pub(crate) fn clear(picture: &mut Drawing) {
    let (width, height) = (picture.width_mm, picture.height_mm);
    let mut taken: Vec<(Point, Point)> = Vec::new();
    picture.marks.retain(|mark| {
        let Mark::Words(_) = mark else {
            return true;
        };
        let Some((least, most)) = mark.bounds() else {
            return false;
        };
        let is_in = least.x >= 0.0 && least.y >= 0.0 && most.x <= width && most.y <= height;
        let is_free = taken.iter().all(|(from, to)| {
            from.x >= most.x || to.x <= least.x || from.y >= most.y || to.y <= least.y
        });
        if is_in && is_free {
            taken.push((least, most));
        }
        is_in && is_free
    });
    // Their places are others now; the picture is a figure as a whole.
    picture.parts.clear();
}

/// Heights on paper moved apart, so that labels of this pitch do not meet, as little as
/// needed and within limits. The heights must not fall.
pub(crate) fn spread(wanted: &[f64], pitch: f64, (least, most): (f64, f64)) -> Vec<f64> {
    let mut places: Vec<f64> = Vec::with_capacity(wanted.len());
    let mut next = least;
    for y in wanted {
        next = y.max(next);
        places.push(next);
        next += pitch;
    }
    let mut last = most;
    for place in places.iter_mut().rev() {
        *place = place.min(last);
        last = *place - pitch;
    }
    places
}

/// What is told under a figure, its lines ending at the right; returns their height.
pub(crate) fn note(sheet: &mut Drawing, text: &str, mut end: Point, width_mm: f64) -> f64 {
    const PITCH_MM: f64 = 3.4;
    let lines = wrap(text, width_mm, 2.2, Weight::Regular);
    let from = sheet.marks.len();
    for line in &lines {
        let words = Words::new(end, line.as_str(), 2.2);
        sheet.add(words.anchored(Anchor::End));
        end.y += PITCH_MM;
    }
    sheet.part(from, Role::Paragraph);
    PITCH_MM * lines.len() as f64
}

/// A shown figure with its unit and what the rounding left over.
pub(crate) fn figure(shown: &Shown) -> Lettering {
    let space = if shown.unit.is_empty() || shown.unit == "°" {
        ""
    } else {
        " "
    };
    let mut line = lettering(shown).then(format!("{space}{}", shown.unit));
    if !shown.remainder.is_empty() {
        line = line.then(format!("  {}", shown.remainder));
    }
    line
}

/// A label at the left, its figure at the right of a column.
fn row(
    sheet: &mut Drawing,
    at: Point,
    width_mm: f64,
    label: &str,
    figure: Lettering,
    height_mm: f64,
) {
    let figure = Words::new(point(at.x + width_mm, at.y), figure, height_mm)
        .anchored(Anchor::End)
        .bold();
    let height = height_mm.min(2.6);
    let room = width_mm - figure.width_mm() - 2.0;
    let label = shorten(label, room, height, Weight::Regular);
    let from = sheet.marks.len();
    sheet.add(Words::new(at, label, height));
    sheet.add(figure);
    sheet.part(from, Role::Paragraph);
    let under = at.y + 1.6;
    sheet.line(
        point(at.x, under),
        point(at.x + width_mm, under),
        Ink::Faint,
    );
}
