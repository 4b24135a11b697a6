//! What is larger than the paper, at true scale over several sheets: each sheet repeats
//! a strip of its neighbors, with circled crosses that are laid over each other.

use super::job::{Choice, Job, Sheet};
use super::{EDGE_MM, blank_beside, code_corner, foot, foot_top, paper_mm};
use crate::design::{Design, Orientation, Paper};
use crate::draw::flat::{clip, flatten};
use crate::draw::{
    Anchor, Drawing, Frame, Ink, Mark, Path, Point, Role, Tone, Weight, Words, circle, lettering,
    point, polyline, rectangle,
};
use crate::show::words;

/// How much neighboring sheets share.
pub const OVERLAP_MM: f64 = 14.0;

/// More sheets than this nobody glues together.
pub const MOST: usize = 36;

/// How far straight pieces may stray from a curve cut at a sheet's edge.
const TOLERANCE_MM: f64 = 0.015;

/// Half a cross, and the step in which one is moved off words.
const CROSS_MM: f64 = 5.5;
const SHIFT_MM: f64 = 4.0;

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

    /// The crosses on the template: two in every strip that two sheets share, moved along
    /// it where they would stand on words.
    fn crosses(&self, template: &Drawing) -> Vec<Point> {
        let words = template.marks.iter().filter_map(|mark| match mark {
            Mark::Words(_) => mark.bounds(),
            Mark::Path(_) => None,
        });
        let words: Vec<(Point, Point)> = words.collect();
        let is_free = |at: Point| {
            words.iter().all(|(least, most)| {
                at.x < least.x - CROSS_MM
                    || at.x > most.x + CROSS_MM
                    || at.y < least.y - CROSS_MM
                    || at.y > most.y + CROSS_MM
            })
        };
        let clear = |long: f64, at: &dyn Fn(f64) -> Point| {
            let most = (long * 0.2 / SHIFT_MM) as i32;
            let shifts = (0..=most).flat_map(|it| [it, -it]);
            let places = shifts.map(|it| at(f64::from(it) * SHIFT_MM));
            places
                .into_iter()
                .find(|it| is_free(*it))
                .unwrap_or_else(|| at(0.0))
        };
        let mut all = Vec::new();
        for row in 0..self.rows {
            for column in 0..self.columns {
                let (least, _) = self.part(column, row);
                for share in [0.25, 0.75] {
                    if column > 0 {
                        let y = least.y + self.room.y * share;
                        let at = |by| point(least.x + OVERLAP_MM / 2.0, y + by);
                        all.push(clear(self.room.y, &at));
                    }
                    if row > 0 {
                        let x = least.x + self.room.x * share;
                        let at = |by| point(x + by, least.y + OVERLAP_MM / 2.0);
                        all.push(clear(self.room.x, &at));
                    }
                }
            }
        }
        all
    }
}

/// The room that a sheet of a paper has for a template, in millimeters.
fn room(job: &Job, paper: &Paper) -> Point {
    let (width, _) = paper_mm(paper);
    point(width - 2.0 * EDGE_MM, foot_top(paper) - 1.0 - top(job))
}

fn top(job: &Job) -> f64 {
    EDGE_MM + if job.link.is_empty() { 24.0 } else { 30.0 }
}

/// The way of laying a template on sheets that takes the fewest: as it is or turned, on the
/// paper as it lies or the other way.
fn fewest(job: &Job, template: &Drawing) -> (Paper, Drawing, Layout) {
    let own = &job.design.paper;
    let mut other = own.clone();
    other.orientation = match own.orientation {
        Orientation::Portrait => Orientation::Landscape,
        Orientation::Landscape => Orientation::Portrait,
    };
    let turned = turned(template);
    let ways = [own, &other].map(|paper| {
        [template, &turned].map(|way| (paper, way, Layout::of(way, room(job, paper))))
    });
    // The first of those that are alike.
    let best = ways.into_iter().flatten().min_by_key(|it| it.2.count());
    let (paper, way, layout) =
        best.unwrap_or_else(|| (own, template, Layout::of(template, room(job, own))));
    (paper.clone(), way.clone(), layout)
}

/// Lays each template beside the one before it where both then take fewer sheets: its own
/// pages are then those.
pub fn share(job: &Job, sheets: &mut [Sheet]) {
    const GAP_MM: f64 = 4.0;
    let is_card = |sheet: &Sheet| sheet.key.starts_with("story") || sheet.key.starts_with("templ");
    let mut first: Option<(usize, Drawing, String)> = None;
    for place in 0..sheets.len() {
        let Some(own) = sheets[place]
            .template
            .clone()
            .filter(|_| is_card(&sheets[place]))
        else {
            first = None;
            continue;
        };
        let title = sheets[place].title.clone();
        if let Some((home, template, titles)) = first.take() {
            let mut both = Drawing::new(
                template.width_mm + GAP_MM + own.width_mm,
                template.height_mm.max(own.height_mm),
                format!("{titles}; {title}"),
            );
            // Both stand on one line, so that a rule laid across tells a slip of the tape.
            for (way, left) in [(&template, 0.0), (&own, template.width_mm + GAP_MM)] {
                both.place(way, &Frame::at(point(left, both.height_mm - way.height_mm)));
            }
            let apart = sheets[home].pages.len() + sheets[place].pages.len();
            if fewest(job, &both).2.count() < apart {
                let titles = format!("{titles}; {title}");
                sheets[home].pages = self::sheets(job, &titles, &both);
                sheets[place].pages.clear();
                first = Some((home, both, titles));
                continue;
            }
        }
        first = Some((place, own, title));
    }
}

/// The template by a quarter of a turn, to be read from the right.
pub(super) fn turned(template: &Drawing) -> Drawing {
    let (width, height) = (template.width_mm, template.height_mm);
    let mut turned = Drawing::new(height, width, template.title.as_str());
    turned.place(template, &Frame::at(point(0.0, width)).turned(-90.0));
    // What was read from the right would stand on its head.
    for mark in &mut turned.marks {
        if let Mark::Words(words) = mark
            && (words.turn_deg.rem_euclid(360.0) - 180.0).abs() < 1e-6
        {
            let middle = |words: &Words| {
                let [upper, _, _, lower] = words.corners();
                upper.halfway(lower)
            };
            let before = middle(words);
            words.turn_deg = 0.0;
            let after = middle(words);
            words.at.x += before.x - after.x;
            words.at.y += before.y - after.y;
        }
    }
    turned
}

/// The template at true scale on as many sheets as it takes, turned where those are fewer;
/// where they would be too many, one that says so.
pub fn sheets(job: &Job, subtitle: &str, template: &Drawing) -> Vec<Drawing> {
    let (paper, template, layout) = fewest(job, template);
    let design = &Design {
        paper: paper.clone(),
        ..job.design.clone()
    };
    let template = &template;
    let count = layout.count();
    let kept_mm = if (2..=MOST).contains(&count) {
        MAP_MM + 3.0
    } else {
        0.0
    };
    let page = |subtitle: &str| {
        let (mut page, _) = blank_beside(design, subtitle, job.link, job.date, kept_mm);
        let parts: &[words::Word] = if kept_mm > 0.0 {
            &[
                words::SHEET_TEMPLATE_NOTE,
                words::SHEET_PARTS_NOTE,
                words::SAFETY_5,
            ]
        } else {
            &[words::SHEET_TEMPLATE_NOTE, words::SAFETY_5]
        };
        foot(&mut page, design, parts);
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
    let crosses = layout.crosses(template);
    let mut sheets = Vec::new();
    for row in 0..layout.rows {
        for column in 0..layout.columns {
            if job.choice == Choice::Pictures && !sheets.is_empty() {
                let (width, height) = paper_mm(&paper);
                sheets.push(Drawing::new(width, height, ""));
                continue;
            }
            let name = tile_name(column, row);
            let about = words::part_of_template(subtitle, &name, layout.columns, layout.rows);
            let mut sheet = page(&about);
            let part = tile(template, &layout, (column, row), &crosses);
            sheet.place(&part, &Frame::at(corner));
            let right = if job.link.is_empty() {
                sheet.width_mm - EDGE_MM
            } else {
                code_corner(&paper).x - 4.0
            };
            map(&mut sheet, right, &layout, (column, row));
            sheets.push(sheet);
        }
    }
    sheets
}

/// Most width of a map of sheets.
const MAP_MM: f64 = 28.0;

/// How the sheets lie beside each other, this one framed: in the head, up to its right end.
fn map(sheet: &mut Drawing, right: f64, layout: &Layout, own: (usize, usize)) {
    let (rows, columns) = (layout.rows as f64, layout.columns as f64);
    let (wide, high) = (7.0_f64.min(MAP_MM / columns), 5.0_f64.min(20.0 / rows));
    let corner = point(right - columns * wide, EDGE_MM);
    let from = sheet.marks.len();
    for row in 0..layout.rows {
        for column in 0..layout.columns {
            let at = point(
                corner.x + wide * column as f64,
                corner.y + high * row as f64,
            );
            let is_own = (column, row) == own;
            let ink = if is_own { Ink::Object } else { Ink::Thin };
            sheet.add(Path::line(rectangle(at, wide, high), ink).named("tile"));
            let middle = point(at.x + wide / 2.0, at.y + high / 2.0);
            let name = Words::new(middle, tile_name(column, row), 2.1);
            let name = if is_own { name.bold() } else { name };
            if name.width_mm() < wide - 0.5 && high > 3.2 {
                sheet.add(name.level_middle().anchored(Anchor::Middle));
            }
        }
    }
    // The sheet's title says which it is.
    sheet.part(from, Role::Running);
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
                    .extend(kept_words(words, template, layout, (column, row)).map(Mark::from));
            }
        }
    }
    for at in crosses {
        let is_in = |low: f64, at: f64, high: f64| low <= at && at <= high;
        if is_in(least.x, at.x, most.x) && is_in(least.y, at.y, most.y) {
            cross(&mut whole, *at);
        }
    }
    let mut own = Drawing::new(layout.room.x, layout.room.y, template.title.as_str());
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
fn kept_words(
    words: &Words,
    template: &Drawing,
    layout: &Layout,
    place: (usize, usize),
) -> Option<Words> {
    let bounds = Mark::from(words.clone()).bounds()?;
    if is_whole(bounds, layout, place) {
        return Some(words.clone());
    }
    if places(layout).any(|place| is_whole(bounds, layout, place)) {
        return None;
    }
    let (home, moved) = moved(words, template, layout)?;
    (home == place).then_some(moved)
}

/// Every sheet of a layout: column and row.
fn places(layout: &Layout) -> impl Iterator<Item = (usize, usize)> + Clone {
    let columns = layout.columns;
    (0..layout.rows).flat_map(move |row| (0..columns).map(move |column| (column, row)))
}

/// Whether what is so large lies wholly on a sheet.
fn is_whole((least, most): (Point, Point), layout: &Layout, place: (usize, usize)) -> bool {
    let (from, to) = layout.part(place.0, place.1);
    least.x >= from.x && least.y >= from.y && most.x <= to.x && most.y <= to.y
}

/// How much smaller words are written that would else be moved onto others.
const SMALLER: [f64; 3] = [1.0, 0.85, 0.72];

/// Words that stand wholly on no sheet moved onto the nearest, and which that is; level ones
/// smaller where they would meet others there.
fn moved(words: &Words, template: &Drawing, layout: &Layout) -> Option<((usize, usize), Words)> {
    let plainly = moved_onto(words, layout)?;
    if words.turn_deg != 0.0 {
        return Some(plainly);
    }
    let others = template.drawable().filter_map(|mark| match mark {
        Mark::Words(other) if !std::ptr::eq(other, words) => stands(other, layout),
        _ => None,
    });
    let others: Vec<((usize, usize), (Point, Point))> = others.collect();
    let meets_none = |(home, moved): &((usize, usize), Words)| {
        let bounds = Mark::from(moved.clone()).bounds();
        let mut here = others.iter().filter(|it| it.0 == *home);
        bounds.is_some_and(|(least, most)| {
            !here.any(|(_, (from, to))| {
                from.x < most.x && to.x > least.x && from.y < most.y && to.y > least.y
            })
        })
    };
    let mut sized = SMALLER.iter().filter_map(|size| {
        let sized = Words {
            height_mm: size * words.height_mm,
            ..words.clone()
        };
        moved_onto(&sized, layout)
    });
    sized.find(meets_none).or(Some(plainly))
}

/// On which sheet words stand in their size, and where.
fn stands(words: &Words, layout: &Layout) -> Option<((usize, usize), (Point, Point))> {
    let bounds = Mark::from(words.clone()).bounds()?;
    if let Some(home) = places(layout).find(|place| is_whole(bounds, layout, *place)) {
        return Some((home, bounds));
    }
    let (home, moved) = moved_onto(words, layout)?;
    Some((home, Mark::from(moved).bounds()?))
}

/// Words moved wholly onto the sheet whose middle is nearest to theirs.
fn moved_onto(words: &Words, layout: &Layout) -> Option<((usize, usize), Words)> {
    let (least, most) = Mark::from(words.clone()).bounds()?;
    let middle = least.halfway(most);
    let home = places(layout).min_by(|one, other| {
        let away = |place: &(usize, usize)| {
            let (from, to) = layout.part(place.0, place.1);
            from.halfway(to).distance(middle)
        };
        away(one).total_cmp(&away(other))
    })?;
    let (from, to) = layout.part(home.0, home.1);
    let mut moved = words.clone();
    let shift = |least: f64, most: f64, from: f64, to: f64| {
        (from + 1.0 - least).max(0.0) + (to - 1.0 - most).min(0.0)
    };
    moved.at.x += shift(least.x, most.x, from.x, to.x);
    moved.at.y += shift(least.y, most.y, from.y, to.y);
    Some((home, moved))
}

/// Words under a heading on a template, wrapped to a width.
pub fn note(drawing: &mut Drawing, at: Point, text: &str, width_mm: f64, height_mm: f64) -> f64 {
    let mut y = at.y;
    let from = drawing.marks.len();
    for line in lettering::wrap(text, width_mm, height_mm, Weight::Regular) {
        drawing.add(Words::new(point(at.x, y), line, height_mm));
        y += height_mm * 1.8;
    }
    drawing.part(from, Role::Paragraph);
    y
}
