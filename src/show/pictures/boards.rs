//! A board with its cuts, to scale: where it is sawn across or ripped first, rip lines, every piece
//! on its strip, what is to be avoided. Its near edge is drawn as the upper one. A long board is drawn in several rows, one below the other, so that its
//! strips stay wide enough to be told apart on a phone.

use crate::design::{Board, Design};
use crate::draw::palette::WHITE;
use crate::draw::{
    Anchor, Color, Drawing, Fill, Ink, Path, Point, Tone, Words, hatch, point, polygon, polyline,
    rectangle,
};
use crate::plan::board::{Answer, First, Layout, Need, Ripped, Strip};
use crate::plan::woods;
use crate::show::words::boards as words;
use crate::trade::closing::HAIR_MM;
use crate::units::length::{MM_PER_INCH, Unit};

/// Room for the rings' names at the left, and at the right where a board has two lengths.
const MARGIN_MM: f64 = 14.5;

/// Between two rows.
const BETWEEN_MM: f64 = 4.0;

/// Height of the words.
const WORDS_MM: f64 = 2.5;

/// The narrowest strip is drawn no narrower than this, where rows allow it.
const NARROWEST_MM: f64 = 3.4;

/// Height of the whole drawing at most.
const HIGHEST_MM: f64 = 170.0;

/// Most rows.
const MOST_ROWS: f64 = 8.0;

/// Room over a row for the words that say what is done with the board first.
const FIRST_MM: f64 = 3.0;

/// What drawings are narrower by than the room for them.
fn margins_mm(first: First) -> f64 {
    let is_across = matches!(first, First::Across(_));
    MARGIN_MM + if is_across { MARGIN_MM } else { 1.0 }
}

/// How a board is mapped onto rows.
struct View {
    scale: f64,
    /// Room over each row.
    over_mm: f64,
    row_mm: f64,
    rows: u32,
    high_mm: f64,
}

impl View {
    fn fit(board: &Board, narrowest_mm: f64, (width_mm, first): (f64, First), unit: Unit) -> View {
        let room = (width_mm - margins_mm(first)).max(20.0);
        // A twentieth of true size at least, and wide enough strips.
        let scale = (NARROWEST_MM / narrowest_mm.max(0.1)).clamp(0.05, 0.3);
        let mut rows = (board.length_mm * scale / room)
            .ceil()
            .clamp(1.0, MOST_ROWS);
        // What the rows hold; a short or a wide board is not blown up, and a long one
        // stays on a sheet.
        let scale_of = |rows: f64| {
            let along = room * rows / board.length_mm;
            along.min(0.3).min(80.0 / board.width_mm)
        };
        while rows > 1.0 && rows * (scale_of(rows) * board.width_mm + BETWEEN_MM) > HIGHEST_MM {
            rows -= 1.0;
        }
        let mut row_mm = room / scale_of(rows);
        if rows > 1.0 {
            // A row goes on at a whole inch, or at two centimeters.
            let step_mm = if unit.is_inch() { MM_PER_INCH } else { 20.0 };
            row_mm = (row_mm / step_mm - 1e-9).ceil() * step_mm;
        }
        let scale = room / row_mm;
        View {
            scale,
            over_mm: over_mm(first),
            row_mm,
            rows: (board.length_mm / row_mm - 1e-9).ceil().max(1.0) as u32,
            high_mm: board.width_mm * scale,
        }
    }

    /// The whole board in one row at a scale.
    fn at_scale(board: &Board, scale: f64, first: First) -> View {
        View {
            scale,
            over_mm: over_mm(first),
            row_mm: board.length_mm,
            rows: 1,
            high_mm: board.width_mm * scale,
        }
    }

    fn top_mm(&self, row: u32) -> f64 {
        1.0 + self.over_mm + f64::from(row) * (self.high_mm + BETWEEN_MM + self.over_mm)
    }

    /// Where a row begins and ends along the board.
    fn row_of(&self, row: u32, board: &Board) -> (f64, f64) {
        let from_mm = f64::from(row) * self.row_mm;
        (from_mm, (from_mm + self.row_mm).min(board.length_mm))
    }

    /// A shape's part in a row, by its corners along and across the board.
    fn cut_out(&self, row: u32, corners: &[(f64, f64)]) -> Vec<Point> {
        let from = f64::from(row) * self.row_mm;
        let kept = clip(corners, |x| x - from);
        let kept = clip(&kept, |x| from + self.row_mm - x);
        let top = self.top_mm(row);
        kept.iter()
            .map(|(x, y)| point(MARGIN_MM + (x - from) * self.scale, top + y * self.scale))
            .collect()
    }
}

fn over_mm(first: First) -> f64 {
    if first == First::Nothing {
        0.0
    } else {
        FIRST_MM
    }
}

/// The part of a convex shape where `inside` is not negative along x.
fn clip(corners: &[(f64, f64)], inside: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
    let mut kept = Vec::new();
    for (place, &here) in corners.iter().enumerate() {
        let before = corners[(place + corners.len() - 1) % corners.len()];
        let (was, is) = (inside(before.0), inside(here.0));
        if (was < 0.0) != (is < 0.0) {
            let share = was / (was - is);
            kept.push((
                before.0 + share * (here.0 - before.0),
                before.1 + share * (here.1 - before.1),
            ));
        }
        if is >= 0.0 {
            kept.push(here);
        }
    }
    kept
}

/// Corners of every piece of a strip, along and across the board.
pub fn pieces(strip: &Strip, need: &Need, kerf_mm: f64) -> Vec<[(f64, f64); 4]> {
    let cut = kerf_mm / need.half_angle_rad.cos();
    let (near_edge, far_edge) = (strip.across_mm, strip.across_mm + need.width_mm);
    let mut pieces = Vec::new();
    for run in &strip.runs {
        let (mut near, mut far) = (run.start_mm, run.start_mm + need.run_mm());
        for piece in 0..run.count {
            let (on_near, on_far) = if piece % 2 == 0 {
                (need.long_edge_mm, need.short_edge_mm)
            } else {
                (need.short_edge_mm, need.long_edge_mm)
            };
            pieces.push([
                (near, near_edge),
                (near + on_near, near_edge),
                (far + on_far, far_edge),
                (far, far_edge),
            ]);
            near += on_near + cut;
            far += on_far + cut;
        }
    }
    pieces
}

/// One over the scale at which a board is as long as the width lets it.
pub fn one_over(board: &Board, layout: &Layout, width_mm: f64) -> f64 {
    let room = width_mm - margins_mm(layout.first());
    (board.length_mm / room.max(20.0)).ceil().max(4.0)
}

/// Draws a board and how it is cut, as high as it comes to: in one row at a scale, where one
/// is given.
pub fn draw(
    design: &Design,
    board: &Board,
    layout: &Layout,
    answer: &Answer,
    width_mm: f64,
    scale: Option<f64>,
) -> Drawing {
    let (kerf_mm, is_stack) = (design.shop.kerf_mm, design.vessel.is_some());
    let need = |strip: &Strip| &answer.needs[strip.need];
    let widths = layout.strips().map(|strip| need(strip).width_mm);
    let first = layout.first();
    let view = match scale {
        Some(scale) => View::at_scale(board, scale, first),
        None => View::fit(
            board,
            widths.fold(board.width_mm, f64::min),
            (width_mm, first),
            design.unit,
        ),
    };
    let height = view.top_mm(view.rows - 1) + view.high_mm + 1.0;
    let mut drawing = Drawing::new(width_mm, height, words::layout_title(layout))
        .described(words::layout_described(layout, design.unit));
    let color = woods::color(design, &board.wood);
    for row in 0..view.rows {
        ground(&mut drawing, &view, board, row, color.toward(WHITE, 0.6));
        for strip in layout.strips() {
            for piece in pieces(strip, need(strip), kerf_mm) {
                let corners = view.cut_out(row, &piece);
                if corners.len() > 2 {
                    let path = Path::line(polygon(&corners), Ink::Thin);
                    drawing.add(path.filled(Fill::Wood(color)));
                }
            }
        }
        names(&mut drawing, &view, board, row, layout, |strip| {
            (need(strip), words::strip_mark(strip, is_stack))
        });
        avoided(&mut drawing, &view, board, row);
        if view.rows > 1 {
            edges(&mut drawing, &view, board, row, design.unit);
        }
        for length in &layout.lengths {
            for strip in &length.strips {
                let at_mm = strip.across_mm + need(strip).width_mm;
                rip_line(&mut drawing, &view, board, row, length, at_mm);
            }
        }
        match first {
            First::Nothing => {}
            First::Across(left_mm) => sawn_across(
                &mut drawing,
                &view,
                board,
                row,
                (left_mm, kerf_mm),
                design.unit,
            ),
            First::Along => {
                for each in &layout.lengths {
                    let band = &each.length;
                    if band.near_mm > 0.0 {
                        let at_mm = band.near_mm - kerf_mm / 2.0;
                        rip_line(&mut drawing, &view, board, row, each, at_mm);
                    }
                    rip_line(&mut drawing, &view, board, row, each, band.far_mm);
                }
                if let Some(band) = layout.lengths.first().filter(|_| row == 0) {
                    let at = point(MARGIN_MM, view.top_mm(0) - 0.9);
                    let text = words::ripped_off(&band.length, design.unit);
                    drawing.add(Words::new(at, text, ON_MM));
                }
            }
        }
    }
    drawing
}

/// A board as it lies there, with what is to be avoided, and where that is counted from.
pub fn face(design: &Design, board: &Board, width_mm: f64) -> Drawing {
    let room = (width_mm - margins_mm(First::Nothing)).max(20.0);
    let scale = (room / board.length_mm).min(80.0 / board.width_mm).min(1.0);
    // Words over it, as where something is done first.
    let view = View {
        over_mm: FIRST_MM,
        ..View::at_scale(board, scale, First::Nothing)
    };
    let height = view.top_mm(0) + view.high_mm + 1.0;
    let (upper, left) = (words::UPPER_EDGE, words::LEFT_END);
    let described = format!("{upper}, {left}");
    let mut drawing = Drawing::new(width_mm, height, described.clone()).described(described);
    let color = woods::color(design, &board.wood);
    ground(&mut drawing, &view, board, 0, color.toward(WHITE, 0.6));
    avoided(&mut drawing, &view, board, 0);
    let top = view.top_mm(0);
    drawing.add(Words::new(point(MARGIN_MM, top - 0.9), upper, ON_MM));
    let middle = point(MARGIN_MM - 1.2, top + view.high_mm / 2.0);
    let words = Words::new(middle, left, ON_MM);
    drawing.add(words.anchored(Anchor::End).level_middle());
    drawing
}

/// Whose the strips are: of the length in which a row begins, or of its bands, at its left, of the
/// one in which it ends, where that is another, at its right.
fn names<'a>(
    drawing: &mut Drawing,
    view: &View,
    board: &Board,
    row: u32,
    layout: &'a Layout,
    told: impl Fn(&'a Strip) -> (&'a Need, String),
) {
    let (from_mm, to_mm) = view.row_of(row, board);
    // Where the length begins that is there: bands begin together.
    let at = |mm: f64| {
        let mut lengths = layout.lengths.iter().map(|it| it.length);
        let there = lengths.clone().find(|it| mm < it.to_mm);
        there.or(lengths.next_back()).map_or(0.0, |it| it.from_mm)
    };
    let (first, last) = (at(from_mm), at(to_mm - 1e-6));
    let right = MARGIN_MM + (to_mm - from_mm) * view.scale;
    let mut sides = vec![(first, MARGIN_MM - 1.2, Anchor::End)];
    if last > first {
        sides.push((last, right + 1.2, Anchor::Start));
    }
    let low = view.top_mm(row) + view.high_mm;
    for (begins_mm, x, anchor) in sides {
        let mut there: Vec<&Strip> = Vec::new();
        for ripped in &layout.lengths {
            if (ripped.length.from_mm - begins_mm).abs() < HAIR_MM {
                there.extend(&ripped.strips);
            }
        }
        let strips = there.into_iter().map(|strip| {
            let (need, text) = told(strip);
            let middle_mm = strip.across_mm + need.width_mm / 2.0;
            (view.top_mm(row) + middle_mm * view.scale, text)
        });
        marks(drawing, strips, low, (x, anchor));
    }
}

/// Where the board is sawn across first, and how far from its end that is.
fn sawn_across(
    drawing: &mut Drawing,
    view: &View,
    board: &Board,
    row: u32,
    (left_mm, kerf_mm): (f64, f64),
    unit: Unit,
) {
    let (from_mm, to_mm) = view.row_of(row, board);
    if left_mm < from_mm || left_mm >= to_mm {
        return;
    }
    let x = MARGIN_MM + (left_mm + kerf_mm / 2.0 - from_mm) * view.scale;
    let top = view.top_mm(row);
    drawing.line(
        point(x, top - FIRST_MM),
        point(x, top + view.high_mm),
        Ink::Cut,
    );
    let text = words::sawn_off(left_mm, unit);
    // Beside the words that say where a row goes on.
    let free = MARGIN_MM + if row > 0 { GOES_ON_MM } else { 0.0 };
    let is_right = x < drawing.width_mm / 2.0;
    let (x, anchor) = if is_right {
        ((x + 1.0).max(free), Anchor::Start)
    } else {
        (x - 1.0, Anchor::End)
    };
    let words = Words::new(point(x, top - 0.9), text, ON_MM);
    drawing.add(words.anchored(anchor));
}

/// Room for the words that say where a row goes on.
const GOES_ON_MM: f64 = 42.0;

fn across(from_mm: f64, to_mm: f64, board: &Board) -> [(f64, f64); 4] {
    [
        (from_mm, 0.0),
        (to_mm, 0.0),
        (to_mm, board.width_mm),
        (from_mm, board.width_mm),
    ]
}

fn ground(drawing: &mut Drawing, view: &View, board: &Board, row: u32, color: Color) {
    let corners = view.cut_out(row, &across(0.0, board.length_mm, board));
    let board = Path::line(polygon(&corners), Ink::Object).filled(Fill::Wood(color));
    if view.rows == 1 {
        drawing.add(board);
        return;
    }
    drawing.add(Path::area(polygon(&corners), Fill::Wood(color)));
}

/// How far a broken edge stands out.
const BROKEN_MM: f64 = 0.7;

/// The edges of a row of several: where the board goes on, they are broken.
fn edges(drawing: &mut Drawing, view: &View, board: &Board, row: u32, unit: Unit) {
    let (from_mm, to_mm) = view.row_of(row, board);
    let (top, low) = (view.top_mm(row), view.top_mm(row) + view.high_mm);
    let (left, right) = (MARGIN_MM, MARGIN_MM + (to_mm - from_mm) * view.scale);
    for y in [top, low] {
        drawing.line(point(left, y), point(right, y), Ink::Object);
    }
    let is_broken = [row > 0, row + 1 < view.rows];
    for (x, is_broken) in [left, right].into_iter().zip(is_broken) {
        let aside = if is_broken { BROKEN_MM } else { 0.0 };
        let y = |share: f64| top + view.high_mm * share;
        let edge = [
            point(x, top),
            point(x, y(0.4)),
            point(x + aside, y(0.45)),
            point(x - aside, y(0.55)),
            point(x, y(0.6)),
            point(x, low),
        ];
        let ink = if is_broken { Ink::Thin } else { Ink::Object };
        drawing.add(Path::line(polyline(&edge), ink));
    }
    if row > 0 {
        let text = words::goes_on(from_mm, unit);
        drawing.add(Words::new(point(left + 1.0, top - 0.9), text, ON_MM));
    }
}

/// Height of the words that say where a row goes on.
const ON_MM: f64 = 2.1;

/// Where a length is ripped, unless its edge is there.
fn rip_line(
    drawing: &mut Drawing,
    view: &View,
    board: &Board,
    row: u32,
    Ripped { length, .. }: &Ripped,
    at_mm: f64,
) {
    // What is too short for the fence has its squares sawn out on the band saw.
    if at_mm > board.width_mm - 0.1 || length.is_short(board) {
        return;
    }
    let line = view.cut_out(row, &across(length.from_mm, length.to_mm, board));
    let ends = line.iter().map(|corner| corner.x);
    let (from, to) = ends.fold((f64::MAX, f64::MIN), |(low, high), x| {
        (low.min(x), high.max(x))
    });
    if from < to {
        let y = view.top_mm(row) + at_mm * view.scale;
        drawing.line(point(from, y), point(to, y), Ink::Cut);
    }
}

/// Whose each strip is, by the height of its middle, beside a row that ends at `low`: those of
/// narrow ones stand one below the other as long as the board is beside them.
fn marks(
    drawing: &mut Drawing,
    strips: impl Iterator<Item = (f64, String)>,
    low: f64,
    (x, anchor): (f64, Anchor),
) {
    let mut free = f64::MIN;
    for (middle, text) in strips {
        let y = middle.max(free);
        if y > low {
            return;
        }
        let words = Words::new(point(x, y), text, WORDS_MM);
        drawing.add(words.anchored(anchor).level_middle());
        free = y + 1.35 * WORDS_MM;
    }
}

/// Hatched: no piece may lie there.
fn avoided(drawing: &mut Drawing, view: &View, board: &Board, row: u32) {
    for each in &board.avoid {
        let ends = [each.from_mm, each.to_mm].map(|it| it.min(board.length_mm));
        let (from, to) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        let (near, far) = each.across_mm(board.width_mm);
        if near >= board.width_mm {
            continue;
        }
        let far = far.min(board.width_mm);
        let spot = [(from, near), (to, near), (to, far), (from, far)];
        let corners = view.cut_out(row, &spot);
        if corners.len() != 4 {
            continue;
        }
        let (mut least, mut most) = (corners[0], corners[0]);
        for corner in &corners {
            least = point(least.x.min(corner.x), least.y.min(corner.y));
            most = point(most.x.max(corner.x), most.y.max(corner.y));
        }
        let (wide, high) = (most.x - least.x, most.y - least.y);
        let steps = rectangle(least, wide.max(0.4), high.max(0.4));
        drawing.add(Path::area(steps.clone(), Fill::Tone(Tone::Paper)));
        drawing.add(Path::line(
            hatch(std::slice::from_ref(&corners), 1.2, -0.8),
            Ink::Thin,
        ));
        drawing.add(Path::line(steps, Ink::Caution));
    }
}
