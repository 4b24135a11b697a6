//! What is larger than the paper, at true scale over several sheets: each sheet repeats
//! a strip of its neighbors, with circled crosses that are laid over each other.

use super::job::{Choice, Job};
use super::{EDGE_MM, blank, foot, foot_top, paper_mm};
use crate::draw::flat::{clip, flatten};
use crate::draw::{
    Drawing, Frame, Ink, Mark, Path, Point, Tone, Weight, Words, circle, lettering, point,
    polyline, rectangle,
};
use crate::show::words;

/// How much neighboring sheets share.
pub const OVERLAP_MM: f64 = 14.0;

/// More sheets than this nobody glues together.
pub const MOST: usize = 36;

/// How far straight pieces may stray from a curve cut at a sheet's edge.
const TOLERANCE_MM: f64 = 0.015;

/// How a template lies on its sheets.
struct Layout {
    room: Point,
    columns: usize,
    rows: usize,
    /// Top left corner of the first sheet on the template.
    corner: Point,
}

impl Layout {
    fn of(template: &Drawing, room: Point) -> Layout {
        let count = |size: f64, room: f64| {
            let more = (size - room) / (room - OVERLAP_MM);
            (more - 1e-9).ceil().clamp(0.0, 1e6) as usize + 1
        };
        let columns = count(template.width_mm, room.x);
        let rows = count(template.height_mm, room.y);
        let spare = |count: usize, room: f64, size: f64| {
            (count as f64 * (room - OVERLAP_MM) + OVERLAP_MM - size) / 2.0
        };
        Layout {
            room,
            columns,
            rows,
            // The template stands in the middle of its sheets.
            corner: point(
                -spare(columns, room.x, template.width_mm),
                -spare(rows, room.y, template.height_mm),
            ),
        }
    }

    /// How many sheets it takes.
    fn count(&self) -> usize {
        self.columns.saturating_mul(self.rows)
    }

    /// What of the template one sheet shows, by its corners.
    fn part(&self, column: usize, row: usize) -> (Point, Point) {
        let least = point(
            self.corner.x + column as f64 * (self.room.x - OVERLAP_MM),
            self.corner.y + row as f64 * (self.room.y - OVERLAP_MM),
        );
        (least, point(least.x + self.room.x, least.y + self.room.y))
    }

    /// The crosses on the template: two in every strip that two sheets share.
    fn crosses(&self) -> Vec<Point> {
        let mut all = Vec::new();
        for row in 0..self.rows {
            for column in 0..self.columns {
                let (least, _) = self.part(column, row);
                for share in [0.25, 0.75] {
                    if column > 0 {
                        let y = least.y + self.room.y * share;
                        all.push(point(least.x + OVERLAP_MM / 2.0, y));
                    }
                    if row > 0 {
                        let x = least.x + self.room.x * share;
                        all.push(point(x, least.y + OVERLAP_MM / 2.0));
                    }
                }
            }
        }
        all
    }
}

/// The room that a sheet has for a template, in millimeters.
pub fn room(job: &Job) -> Point {
    let (width, _) = paper_mm(&job.design.paper);
    let top = top(job);
    point(
        width - 2.0 * EDGE_MM,
        foot_top(&job.design.paper) - 1.0 - top,
    )
}

fn top(job: &Job) -> f64 {
    EDGE_MM + if job.link.is_empty() { 24.0 } else { 30.0 }
}

/// The template by a quarter of a turn, to be read from the right.
fn turned(template: &Drawing) -> Drawing {
    let (width, height) = (template.width_mm, template.height_mm);
    let mut turned = Drawing::new(height, width, template.title.as_str());
    turned.place(template, &Frame::at(point(0.0, width)).turned(-90.0));
    turned
}

/// The template at true scale on as many sheets as it takes, turned where those are fewer;
/// where they would be too many, one that says so.
pub fn sheets(job: &Job, subtitle: &str, template: &Drawing) -> Vec<Drawing> {
    let room = room(job);
    let turned = turned(template);
    let laid = [template, &turned].map(|way| (way, Layout::of(way, room)));
    let [upright, across] = laid;
    let is_fewer = across.1.count() < upright.1.count();
    let (template, layout) = if is_fewer { across } else { upright };
    let count = layout.count();
    let page = |subtitle: &str| {
        let (mut page, _) = blank(job.design, subtitle, job.link, job.date);
        foot(
            &mut page,
            job.design,
            &[words::SHEET_TEMPLATE_NOTE, words::SAFETY_5],
        );
        page
    };
    let corner = point(EDGE_MM, top(job));
    if count > MOST {
        let mut only = page(subtitle);
        let text = words::too_many_sheets(template.width_mm, template.height_mm, job.design.unit);
        let at = point(corner.x, corner.y + 8.0);
        super::paragraph(&mut only, at, &text, layout.room.x, Tone::Caution);
        return vec![only];
    }
    if count == 1 {
        let mut only = page(subtitle);
        let spare = ((layout.room.x - template.width_mm) / 2.0).max(0.0);
        only.place(template, &Frame::at(point(corner.x + spare, corner.y)));
        return vec![only];
    }
    let crosses = layout.crosses();
    let mut sheets = Vec::new();
    for row in 0..layout.rows {
        for column in 0..layout.columns {
            if job.choice == Choice::Pictures && !sheets.is_empty() {
                let (width, height) = job.paper_mm();
                sheets.push(Drawing::new(width, height, ""));
                continue;
            }
            let name = tile_name(column, row);
            let about = words::part_of_template(subtitle, &name, layout.columns, layout.rows);
            let mut sheet = page(&about);
            let part = tile(template, &layout, (column, row), &crosses);
            sheet.place(&part, &Frame::at(corner));
            sheets.push(sheet);
        }
    }
    sheets
}

/// A sheet's place among its neighbors: rows by letters, columns by numbers.
fn tile_name(column: usize, row: usize) -> String {
    let letter = char::from(b'A' + (row % 26) as u8);
    format!("{letter}{}", column + 1)
}

/// What one sheet shows, from its own corner.
fn tile(
    template: &Drawing,
    layout: &Layout,
    (column, row): (usize, usize),
    crosses: &[Point],
) -> Drawing {
    let (least, most) = layout.part(column, row);
    let mut whole = Drawing::new(layout.room.x, layout.room.y, "");
    let edge = rectangle(least, layout.room.x, layout.room.y);
    whole.add(Path::line(edge, Ink::Faint));
    for mark in template.drawable() {
        match mark {
            Mark::Path(path) => clipped(&mut whole, path, least, most),
            Mark::Words(words) => {
                whole
                    .marks
                    .extend(kept_words(words, layout, (column, row)).map(Mark::from));
            }
        }
    }
    for at in crosses {
        let is_in = |low: f64, at: f64, high: f64| low <= at && at <= high;
        if is_in(least.x, at.x, most.x) && is_in(least.y, at.y, most.y) {
            cross(&mut whole, *at);
        }
    }
    let mut own = Drawing::new(layout.room.x, layout.room.y, "");
    own.place(&whole, &Frame::at(point(-least.x, -least.y)));
    own
}

/// A circled cross: two hairlines meet at the very place.
fn cross(drawing: &mut Drawing, at: Point) {
    const REACH: f64 = 5.0;
    drawing.line(
        point(at.x - REACH, at.y),
        point(at.x + REACH, at.y),
        Ink::Thin,
    );
    drawing.line(
        point(at.x, at.y - REACH),
        point(at.x, at.y + REACH),
        Ink::Thin,
    );
    drawing.add(Path::line(circle(at, 2.5), Ink::Thin).named("register"));
}

/// Lines are cut at the sheet's edge; areas are kept where they are whole.
fn clipped(drawing: &mut Drawing, path: &Path, least: Point, most: Point) {
    let lines = flatten(&path.steps, TOLERANCE_MM);
    let Some(ink) = path.ink else {
        let is_in =
            |at: &Point| at.x >= least.x && at.y >= least.y && at.x <= most.x && at.y <= most.y;
        if lines.iter().flat_map(|line| &line.points).all(is_in) {
            drawing.add(path.clone());
        }
        return;
    };
    let steps: Vec<_> = lines
        .iter()
        .flat_map(|line| clip(line, least, most))
        .flat_map(|piece| polyline(&piece))
        .collect();
    if !steps.is_empty() {
        drawing.add(Path {
            fill: None,
            name: path.name.clone(),
            ..Path::line(steps, ink)
        });
    }
}

/// Words that stand wholly on this sheet; those that stand wholly on none are moved onto
/// the one that their middle is on.
fn kept_words(words: &Words, layout: &Layout, place: (usize, usize)) -> Option<Words> {
    let (least, most) = Mark::from(words.clone()).bounds()?;
    let is_whole = |(column, row): (usize, usize)| {
        let (from, to) = layout.part(column, row);
        least.x >= from.x && least.y >= from.y && most.x <= to.x && most.y <= to.y
    };
    if is_whole(place) {
        return Some(words.clone());
    }
    let all = (0..layout.rows).flat_map(|row| (0..layout.columns).map(move |column| (column, row)));
    if all.clone().any(is_whole) {
        return None;
    }
    let middle = least.halfway(most);
    let home = all.min_by(|one, other| {
        let away = |place: &(usize, usize)| {
            let (from, to) = layout.part(place.0, place.1);
            from.halfway(to).distance(middle)
        };
        away(one).total_cmp(&away(other))
    })?;
    if home != place {
        return None;
    }
    let (from, to) = layout.part(place.0, place.1);
    let mut moved = words.clone();
    let shift = |least: f64, most: f64, from: f64, to: f64| {
        (from + 1.0 - least).max(0.0) + (to - 1.0 - most).min(0.0)
    };
    moved.at.x += shift(least.x, most.x, from.x, to.x);
    moved.at.y += shift(least.y, most.y, from.y, to.y);
    Some(moved)
}

/// Words under a heading on a template, wrapped to a width.
pub fn note(drawing: &mut Drawing, at: Point, text: &str, width_mm: f64, height_mm: f64) -> f64 {
    let mut y = at.y;
    for line in lettering::wrap(text, width_mm, height_mm, Weight::Regular) {
        drawing.add(Words::new(point(at.x, y), line, height_mm).toned(Tone::Quiet));
        y += height_mm * 1.8;
    }
    y
}
