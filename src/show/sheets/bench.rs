//! The bench's sheets: the order of work with boxes to tick, and the caliper table.

use super::{BAR_MM, EDGE_MM, blank, cautioned, code_end, is_lying, paper_mm};
use crate::design::Design;
use crate::draw::lettering::{width_mm, wrap};
use crate::draw::pen::lettering;
use crate::draw::{
    Anchor, Drawing, Frame, Ink, Lettering, Path, Point, Role, Weight, Words, point, rectangle,
};
use crate::plan::Plan;
use crate::plan::order::facts::{Block, Fact};
use crate::plan::order::{End, plugs};
use crate::plan::stack::StackPlan;
use crate::show::figures::Figure;
use crate::show::figures::bench::{Fold, PlugShown, StepShown, bench};
use crate::show::figures::lathe::whole_stations;
use crate::show::figures::table::Table;
use crate::show::pictures::{parting, plug};
use crate::show::words;
use crate::units::length::Shown;

/// Height of the capitals: 10 pt, to be read at arm's length.
const LETTER_MM: f64 = 2.55;

/// From one line to the next, and from one row of a table.
const LINE_MM: f64 = 4.8;
const ROW_MM: f64 = LINE_MM + 1.6;

/// Figures beside each other across a column of steps: upright paper has one such column,
/// lying paper two.
fn figure_columns(design: &Design) -> usize {
    if is_lying(&design.paper) { 1 } else { 2 }
}

/// Between two columns of steps.
const GUTTER_MM: f64 = 8.0;

/// The least room between a figure, its label and the next figure.
const FIGURE_GAP_MM: f64 = 6.0;

/// Height of a chapter's heading.
const HEADING_MM: f64 = 5.0 + LINE_MM;

/// How wide the drawing of a parting may be, the best first, millimeters (our own choice, no
/// published source).
const PARTING_WIDE_MM: [f64; 3] = [150.0, 125.0, 105.0];

/// Air below the drawing of a parting.
const BELOW_PARTING_MM: f64 = 4.0;

/// Side of a box to tick, and room for it before a step's lines.
const BOX_MM: f64 = 4.0;
const INDENT_MM: f64 = BOX_MM + 3.0;

/// No more than this is kept together on a sheet, and in a column of one that lies.
const TOGETHER_MM: f64 = 100.0;
const TOGETHER_LYING_MM: f64 = 45.0;

/// The order of work, then the caliper table; none where there is no ring to make.
pub fn sheets(plan: &Plan, link: &str, date: &str) -> Vec<Drawing> {
    let design = &*plan.design;
    let Some((stack, mut screen)) = plan.stack().zip(bench(plan, &[])) else {
        return Vec::new();
    };
    let mut plugs = std::mem::take(&mut screen.plugs);
    let stations = whole_stations(stack);
    for step in &mut screen.steps {
        // Turned from the rim in one go, it is measured at the whole piece's stations.
        let is_told = |row| stations.rows.contains(row);
        if step.stations.rows.iter().all(is_told) {
            step.stations.rows.clear();
        }
    }
    let columns = if is_lying(&design.paper) { 2 } else { 1 };
    let mut pages = Pages::of(design, words::SHEET_ORDER, link, date, columns);
    pages.paragraph(&screen.meeting);
    pages.paragraph(&format!(
        "{}: {}.",
        words::by_key("bench.glue"),
        screen.glue_now
    ));
    pages.figures(&screen.glue.iter().collect::<Vec<_>>(), 0.0);
    pages.paragraph(words::by_key("bench.glue_note"));
    for fold in screen.chapters.iter().flat_map(|chapter| &chapter.folds) {
        let is_of_it = |step: &&StepShown| fold.steps.contains(&step.id);
        let steps: Vec<&StepShown> = screen.steps.iter().filter(is_of_it).collect();
        // Before the first ring that hangs on one.
        if steps.iter().any(|step| hangs_on_plug(step)) {
            pages.plugs(plan, &std::mem::take(&mut plugs));
        }
        // Before the first step at the lathe, not after the last.
        if steps.iter().any(|step| step.is_first_at_lathe) {
            pages.safety();
        }
        let is_parted = |end: &End| {
            let id = format!("part-{}", end.word());
            steps.iter().any(|step| step.id == id)
        };
        let parted = [End::Foot, End::Rim].into_iter().find(is_parted);
        let drawings = parted.and_then(|end| pages.partings(plan, end));
        let least = drawings.as_ref().and_then(|drawings| drawings.last());
        pages.below_mm = least.map_or(0.0, |it| it.height_mm + BELOW_PARTING_MM);
        pages.fold(fold, &steps);
        pages.below_mm = 0.0;
        if let Some(drawings) = drawings {
            pages.parting(&drawings);
        }
        // Where it is first measured.
        if steps.iter().any(|step| step.id == "outside") {
            pages.need(HEADING_MM + (stations.rows.len().min(FEW_ROWS) + 3) as f64 * ROW_MM);
            pages.heading(words::BENCH_STATIONS.text);
            pages.paragraph(words::BENCH_STATIONS_INTRO.text);
            pages.stations(words::BENCH_STATIONS.text, &stations);
            pages.y += 2.2;
        }
    }
    pages.plugs(plan, &plugs);
    pages.sheets
}

/// Whether the step's ring is centered by the printed plug.
fn hangs_on_plug(step: &StepShown) -> bool {
    let is_of_it = |word: words::Word| figures(step).any(|it| it.key == word.key);
    is_of_it(words::ROW_PLUG_STEP) || is_of_it(words::ROW_PLUG_STEP_OF)
}

/// Room for the number of what is done one after the other.
const NUMBER_MM: f64 = 6.0;

/// A table of no more rows stands whole on its sheet.
const FEW_ROWS: usize = 5;

/// A shown figure with its unit.
fn line(shown: &Shown) -> Lettering {
    let space = if shown.unit.is_empty() || shown.unit == "°" {
        ""
    } else {
        " "
    };
    let mut line = lettering(shown).then(format!("{space}{}", shown.unit));
    if !shown.remainder.is_empty() {
        line = line.then(format!(" {}", shown.remainder));
    }
    line
}

/// The same with its note.
fn noted(figure: &Figure) -> Lettering {
    let shown = line(&figure.shown);
    if figure.note.is_empty() {
        shown
    } else {
        shown.then(format!(", {}", figure.note))
    }
}

fn told_cautions(step: &StepShown) -> Vec<String> {
    let cautions = step.cautions.iter();
    cautions
        .map(|it| format!("{} {}", it.reason, it.remedy))
        .collect()
}

/// Lines of a text within a width.
fn wrapped(text: &str, width_mm: f64, weight: Weight) -> Vec<String> {
    if text.is_empty() {
        return Vec::new();
    }
    wrap(text, width_mm, LETTER_MM, weight)
}

/// What steps alike have in common, told once before them.
#[derive(Default)]
struct Common<'a> {
    says: &'a str,
    figures: Vec<&'a Figure>,
}

/// How a step is done, as far as it is not of this step alone.
fn common_says(step: &StepShown) -> &str {
    step.says.get(step.own.len()..).unwrap_or_default()
}

/// The figures of a step that its title does not say: of one at the saw only those that it
/// is set by, since all others stand on the ring's own sheet.
fn figures(step: &StepShown) -> impl Iterator<Item = &Figure> {
    let is_all = !is_sawing(step) && !is_laid_out(step);
    let is_said = |it: &Figure| {
        it.key == words::ROW_DISC_THICKNESS.key && step.title.contains(&it.shown.whole_line())
    };
    step.saw
        .iter()
        .chain(step.list.iter().filter(move |_| is_all))
        .filter(move |it| !is_said(it))
}

fn is_sawing(step: &StepShown) -> bool {
    step.id.starts_with("cut-")
}

/// Whether a step's rows stand on the boards' sheets.
fn is_laid_out(step: &StepShown) -> bool {
    step.list
        .iter()
        .any(|it| it.key.starts_with("bench.board."))
}

impl<'a> Common<'a> {
    fn of(steps: &[&'a StepShown]) -> Common<'a> {
        let Some((first, others)) = steps.split_first() else {
            return Common::default();
        };
        let says = common_says(first);
        let is_said = others.iter().all(|step| common_says(step) == says);
        let in_all = |it: &&Figure| {
            let same = |step: &&StepShown| figures(step).any(|other| other == *it);
            others.iter().all(same)
        };
        Common {
            says: if is_said { says } else { "" },
            figures: figures(first).filter(in_all).collect(),
        }
    }
}

/// Steps alike that have a line each: the labels of their figures, each with where its
/// column ends and how wide it is.
struct Lines<'a> {
    columns: Vec<(&'a str, f64, f64)>,
    /// What each line begins with.
    titles: Vec<&'a str>,
}

/// The least room between two cells, and the least and the usual width of one.
const CELL_GAP_MM: f64 = 4.0;
const CELL_MM: f64 = 24.0;
const WIDE_CELL_MM: f64 = 42.0;

impl<'a> Lines<'a> {
    /// Nothing where a step has more to say than its title, or its figures have no room.
    fn of(steps: &[&'a StepShown], common: &Common, room_mm: f64) -> Option<Lines<'a>> {
        let mut columns: Vec<(&str, f64, f64)> = Vec::new();
        for step in steps {
            if !step.own.is_empty() || step.says != common.says {
                return None;
            }
            for figure in figures(step).filter(|it| !common.figures.contains(it)) {
                let wide = noted(figure).width_mm(LETTER_MM, Weight::Bold) + CELL_GAP_MM;
                let known = columns.iter_mut().find(|it| it.0 == figure.label);
                match known {
                    Some((_, _, widest)) => *widest = widest.max(wide),
                    None => columns.push((&figure.label, 0.0, wide.max(CELL_MM))),
                }
                if figure.shown.text.contains('\n') {
                    return None;
                }
            }
        }
        let whole: Vec<&str> = steps.iter().map(|step| step.title.as_str()).collect();
        // What is done stands over them all: in a narrow column they only name the ring.
        let names = whole.iter().map(|it| it.split(": ").next().unwrap_or(it));
        let names = names.collect();
        let needed: f64 = columns.iter().map(|it| it.2).sum();
        let (titles, mut end, spare) = [whole, names].into_iter().find_map(|titles| {
            let widths = titles
                .iter()
                .map(|it| width_mm(it, LETTER_MM, Weight::Bold));
            let end = INDENT_MM + widths.fold(0.0, f64::max);
            let spare = (room_mm - end - needed) / columns.len().max(1) as f64;
            (spare >= 0.0).then_some((titles, end, spare))
        })?;
        for (_, right, wide) in &mut columns {
            *wide = wide.max(WIDE_CELL_MM.min(*wide + spare));
            end += *wide;
            *right = end;
        }
        Some(Lines { columns, titles })
    }
}

/// Figures of a step as they are set: short ones beside each other, or one with its label,
/// where that stands over it, and what is told.
enum FigureRow<'a> {
    Beside(Vec<&'a Figure>),
    Own(&'a str, String),
}

impl FigureRow<'_> {
    fn line_count(&self, room_mm: f64) -> usize {
        match self {
            FigureRow::Beside(_) => 1,
            FigureRow::Own(label, told) => {
                let over = usize::from(!label.is_empty());
                over + wrapped(told, room_mm, Weight::Regular).len()
            }
        }
    }
}

/// Sheets that are filled from the top, column by column, one after another.
struct Pages<'a> {
    design: &'a Design,
    subtitle: &'static str,
    link: &'a str,
    date: &'a str,
    sheets: Vec<Drawing>,
    /// Columns of a sheet, and which of them is being filled.
    columns: usize,
    column: usize,
    y: f64,
    /// What stands right below the next step and is seen with it, so high.
    below_mm: f64,
}

impl<'a> Pages<'a> {
    fn of(
        design: &'a Design,
        subtitle: words::Word,
        link: &'a str,
        date: &'a str,
        columns: usize,
    ) -> Pages<'a> {
        let mut pages = Pages {
            design,
            subtitle: subtitle.text,
            link,
            date,
            sheets: Vec::new(),
            columns,
            column: columns,
            y: 0.0,
            below_mm: 0.0,
        };
        pages.turn();
        pages
    }

    /// No more than this is kept together.
    fn together_mm(&self) -> f64 {
        if self.columns > 1 {
            TOGETHER_LYING_MM
        } else {
            TOGETHER_MM
        }
    }

    fn size(&self) -> (f64, f64) {
        paper_mm(&self.design.paper)
    }

    fn foot(&self) -> f64 {
        self.size().1 - EDGE_MM - 2.0
    }

    /// Width of the column.
    fn room(&self) -> f64 {
        let whole = self.size().0 - 2.0 * EDGE_MM + GUTTER_MM;
        whole / self.columns as f64 - GUTTER_MM
    }

    /// Its left edge.
    fn left(&self) -> f64 {
        EDGE_MM + (self.room() + GUTTER_MM) * self.column as f64
    }

    /// Begins a column, on a new sheet if need be.
    fn turn(&mut self) {
        self.column += 1;
        if self.column >= self.columns {
            let (sheet, _) = blank(self.design, self.subtitle, self.link, self.date);
            self.sheets.push(sheet);
            self.column = 0;
        }
        self.y = (EDGE_MM + 27.0).max(code_end(self.link) + 5.0);
    }

    /// Makes sure that so much fits below.
    fn need(&mut self, height_mm: f64) {
        if self.y + height_mm > self.foot() {
            self.turn();
        }
    }

    fn sheet(&mut self) -> &mut Drawing {
        let last = self.sheets.len() - 1;
        &mut self.sheets[last]
    }

    fn paragraph(&mut self, text: &str) {
        self.lines(text, 0.0, Weight::Regular);
        self.y += 1.0;
    }

    /// A text so far into the column, line by line.
    fn lines(&mut self, text: &str, indent_mm: f64, weight: Weight) {
        let lines = wrapped(text, self.room() - indent_mm, weight);
        self.said(lines, indent_mm, |sheet, at, line| {
            let words = Words::new(at, line, LETTER_MM);
            sheet.add(match weight {
                Weight::Regular => words,
                Weight::Bold => words.bold(),
            });
        });
    }

    /// Where an end is parted off its block, the best drawing of it first.
    fn partings(&self, plan: &Plan, end: End) -> Option<[Drawing; PARTING_WIDE_MM.len()]> {
        let facts = plan.order().into_iter().flat_map(|order| &order.steps);
        let block_mm = facts
            .flat_map(|step| &step.facts)
            .find_map(|fact| match fact {
                Fact::Screw { block, diameter_mm } if *block == Block::Of(end) => {
                    Some(*diameter_mm)
                }
                _ => None,
            });
        let wall = plan.stack().and_then(|stack| stack.wall.as_ref());
        let (wall, block_mm) = wall.zip(block_mm)?;
        let neck_mm = plan.stack().and_then(StackPlan::foot_neck_mm);
        let neck_mm = neck_mm.filter(|_| end == End::Foot);
        let drawn = |wide_mm: f64| {
            let wide_mm = wide_mm.min(self.room() - INDENT_MM);
            parting::draw(wall, end, (block_mm, neck_mm), wide_mm)
        };
        Some(PARTING_WIDE_MM.map(drawn))
    }

    /// The best of these drawings that has room below its step: rather a little smaller than
    /// alone on a sheet.
    fn parting(&mut self, drawings: &[Drawing; PARTING_WIDE_MM.len()]) {
        let fits = |it: &&Drawing| self.y + it.height_mm + BELOW_PARTING_MM <= self.foot();
        let drawing = drawings.iter().find(fits).unwrap_or(&drawings[0]);
        self.need(drawing.height_mm + BELOW_PARTING_MM);
        self.drawn(drawing, INDENT_MM);
    }

    /// The centering plugs, where there are any.
    fn plugs(&mut self, plan: &Plan, plugs: &[PlugShown]) {
        if plugs.is_empty() {
            return;
        }
        self.need(TOGETHER_MM / 2.0);
        self.heading(words::by_key("bench.plug"));
        self.paragraph(words::by_key("bench.plug.intro"));
        let both = plan.stack().zip(plan.order());
        let made = both.map_or_else(Vec::new, |(stack, order)| plugs::of(stack, order));
        let bench = plan.design.bench_or_usual();
        let room = self.room().min(80.0);
        for (shown, steps) in plugs.iter().zip(&made) {
            // What has one step needs no drawing; the column of a lying sheet has no room for it.
            let drawing = (steps.len() > 1 && self.columns == 1)
                .then(|| plug::draw(steps, bench.plug_bore_mm, room));
            let high = drawing.as_ref().map_or(0.0, |it| it.height_mm);
            self.need(high + 2.0 * LINE_MM);
            self.lines(&shown.title, 0.0, Weight::Bold);
            if let Some(drawing) = &drawing {
                self.drawn(drawing, 0.0);
            }
            self.figures(&shown.steps.iter().collect::<Vec<_>>(), 0.0);
            self.y += 2.2;
        }
    }

    /// A drawing so far into the column, for which there is room.
    fn drawn(&mut self, drawing: &Drawing, indent_mm: f64) {
        let at = point(self.left() + indent_mm, self.y - 4.0);
        self.sheet().place(drawing, &Frame::at(at));
        self.y += drawing.height_mm + 3.0;
    }

    /// Caliper stations as a table; on another sheet it says of what.
    fn stations(&mut self, title: &str, stations: &Table) {
        if stations.rows.is_empty() {
            return;
        }
        let heads = stations.columns.iter();
        let heads: Vec<Lettering> = heads.map(|it| Lettering::plain(it.label)).collect();
        // A short one is not torn.
        let together = stations.rows.len().min(FEW_ROWS);
        let sheets = self.sheets.len();
        self.need((together + 1) as f64 * ROW_MM);
        if self.sheets.len() > sheets {
            self.lines(title, 0.0, Weight::Bold);
        }
        self.row(&heads, true);
        for row in &stations.rows {
            if self.y + ROW_MM > self.foot() {
                self.turn();
                self.row(&heads, true);
            }
            let cells: Vec<Lettering> = row.cells.iter().map(line).collect();
            self.row(&cells, false);
        }
    }

    /// Lines that are one paragraph, over columns and sheets.
    fn said(
        &mut self,
        lines: Vec<String>,
        indent_mm: f64,
        draw: impl Fn(&mut Drawing, Point, String),
    ) {
        let mut from = self.sheet().marks.len();
        for line in lines {
            if self.y + LINE_MM > self.foot() {
                self.sheet().part(from, Role::Paragraph);
                self.turn();
                from = self.sheet().marks.len();
            }
            let at = point(self.left() + indent_mm, self.y);
            draw(self.sheet(), at, line);
            self.y += LINE_MM;
        }
        self.sheet().part(from, Role::Paragraph);
    }

    /// What is said before the lathe runs, all on one page.
    fn safety(&mut self) {
        let told = [1, 2, 3, 4, 5, 6].map(|number| format!("bench.safety.{number}"));
        let room = self.room();
        let height_mm = |key: &String| {
            let lines = wrapped(words::by_key(key), room, Weight::Regular);
            lines.len() as f64 * LINE_MM + 1.0
        };
        self.need(HEADING_MM + 2.0 + told.iter().map(height_mm).sum::<f64>());
        self.heading(words::BENCH_SAFETY.text);
        for key in &told {
            self.paragraph(words::by_key(key));
        }
    }

    fn heading(&mut self, text: &str) {
        self.need(HEADING_MM);
        self.y += 4.0;
        let at = point(self.left(), self.y);
        self.sheet()
            .add_part(Words::new(at, text, 2.8).bold(), Role::Heading);
        self.y += LINE_MM + 1.0;
    }

    /// Steps alike: what they have in common once, then what is each one's own.
    fn fold(&mut self, fold: &Fold, steps: &[&StepShown]) {
        if fold.title.is_empty() {
            for step in steps {
                self.step(step, &Common::default());
            }
            return;
        }
        let common = Common::of(steps);
        if let Some(first) = steps.first() {
            self.need(TOGETHER_MM / 2.0);
            self.chapter(first);
            self.lines(&fold.title, 0.0, Weight::Bold);
            self.lines(common.says, 0.0, Weight::Regular);
            if is_sawing(first) {
                self.lines(words::ORDER_MORE_ON_RING.text, 0.0, Weight::Regular);
            }
            self.figures(&common.figures, 0.0);
            self.y += 1.6;
        }
        if let Some(table) = Lines::of(steps, &common, self.room()) {
            self.table(steps, &table);
            return;
        }
        for (place, step) in steps.iter().enumerate() {
            if place == 0 {
                let mut first = (*step).clone();
                first.chapter.clear();
                self.step(&first, &common);
            } else {
                self.step(step, &common);
            }
        }
    }

    /// Steps alike, a line each.
    fn table(&mut self, steps: &[&StepShown], table: &Lines) {
        let heads = table.columns.iter();
        let heads: Vec<Vec<String>> = heads
            .map(|(label, _, wide)| wrapped(label, wide - CELL_GAP_MM, Weight::Regular))
            .collect();
        let high = heads.iter().map(Vec::len).max().unwrap_or(0) as f64 * LINE_MM;
        let mut at = (usize::MAX, 0);
        for (step, title) in steps.iter().zip(&table.titles) {
            let cautions = told_cautions(step);
            let lines = cautions.iter().map(|it| self.caution_lines(it).len());
            let needed = ROW_MM + lines.sum::<usize>() as f64 * LINE_MM;
            self.need(if at.1 == 0 { high + needed } else { needed });
            if at != (self.column, self.sheets.len()) {
                at = (self.column, self.sheets.len());
                for ((_, end, _), lines) in table.columns.iter().zip(&heads) {
                    for (row, line) in lines.iter().enumerate() {
                        let y = self.y + high - LINE_MM * (lines.len() - row) as f64;
                        let words =
                            Words::new(point(self.left() + end, y), line.as_str(), LETTER_MM);
                        self.sheet().add(words.anchored(Anchor::End));
                    }
                }
                self.y += high;
            }
            self.tick();
            let title = Words::new(point(self.left() + INDENT_MM, self.y), *title, LETTER_MM);
            self.sheet().add(title.bold());
            for (label, end, _) in &table.columns {
                let Some(figure) = figures(step).find(|it| it.label == *label) else {
                    continue;
                };
                let at = point(self.left() + end, self.y);
                let words = Words::new(at, noted(figure), LETTER_MM).bold();
                self.sheet().add(words.anchored(Anchor::End));
            }
            self.y += ROW_MM;
            for text in &cautions {
                self.caution(text);
            }
        }
        self.y += 1.6;
    }

    /// The box before a step's title.
    fn tick(&mut self) {
        let corner = point(self.left(), self.y - 3.2);
        let tick = rectangle(corner, BOX_MM, BOX_MM);
        self.sheet().add(Path::line(tick, Ink::Thin).named("tick"));
    }

    /// The heading that a step begins.
    fn chapter(&mut self, step: &StepShown) {
        if !step.chapter.is_empty() {
            self.heading(&step.chapter);
        }
    }

    /// A step: a box, its title, what to look at first, how it is done, its figures.
    fn step(&mut self, step: &StepShown, common: &Common) {
        let is_own = |it: &&Figure| !common.figures.contains(it);
        let figures: Vec<&Figure> = figures(step).filter(is_own).collect();
        let says = if common.says.is_empty() {
            step.says.as_str()
        } else {
            step.own.trim_end()
        };
        let room = self.room() - INDENT_MM;
        let told = |text: &str| wrapped(text, room, Weight::Bold).len();
        let cautions = told_cautions(step);
        let lines = 1 + told(says) + cautions.iter().map(|it| told(it)).sum::<usize>();
        let rows = self.figure_rows(&figures, INDENT_MM);
        let lines = lines + rows.iter().map(|row| row.line_count(room)).sum::<usize>();
        let heading_mm = if step.chapter.is_empty() {
            0.0
        } else {
            HEADING_MM
        };
        // Lines by number may go on overleaf.
        let is_numbered = !step.numbered.is_empty() && common.says.is_empty();
        let together_mm = if is_numbered {
            TOGETHER_LYING_MM
        } else {
            self.together_mm()
        };
        let below_mm = self.below_mm;
        self.need((heading_mm + lines as f64 * LINE_MM).min(together_mm) + below_mm);
        self.chapter(step);
        self.tick();
        self.lines(&step.title, INDENT_MM, Weight::Bold);
        for text in &cautions {
            self.caution(text);
        }
        if is_numbered {
            let more = words::filled(words::ORDER_MORE_ON_SLOTS, &[words::INLAY_SHEET.text]);
            self.lines(&more, INDENT_MM, Weight::Regular);
        }
        if is_numbered {
            self.numbered(&step.numbered);
        } else {
            self.lines(says, INDENT_MM, Weight::Regular);
        }
        if is_laid_out(step) {
            self.lines(words::SAYS_BOARDS_ON_PAPER.text, INDENT_MM, Weight::Regular);
        }
        if is_sawing(step) && common.says.is_empty() {
            self.lines(words::ORDER_MORE_ON_RING.text, INDENT_MM, Weight::Regular);
        }
        self.figures(&figures, INDENT_MM);
        self.y += if step.stations.rows.is_empty() {
            0.0
        } else {
            1.6
        };
        self.stations(&step.title, &step.stations);
        self.y += 2.2;
    }

    /// What is done one after the other, each sentence by its number: the hand finds its place
    /// again.
    fn numbered(&mut self, sentences: &[String]) {
        let wide = INDENT_MM + NUMBER_MM;
        for (place, sentence) in sentences.iter().enumerate() {
            let lines = wrapped(sentence, self.room() - wide, Weight::Regular);
            self.need(lines.len() as f64 * LINE_MM);
            let at = point(self.left() + INDENT_MM, self.y);
            let number = Words::new(at, format!("{}.", place + 1), LETTER_MM);
            self.sheet().add(number.bold());
            self.lines(sentence, wide, Weight::Regular);
        }
    }

    fn caution_lines(&self, text: &str) -> Vec<String> {
        wrapped(text, self.room() - INDENT_MM - BAR_MM, Weight::Bold)
    }

    /// What to look at before the hands do.
    fn caution(&mut self, text: &str) {
        self.said(self.caution_lines(text), INDENT_MM, |sheet, at, line| {
            cautioned(sheet, at, line, LETTER_MM, LINE_MM);
        });
    }

    /// Figures with their labels beside each other; one too long for its place has lines
    /// of its own.
    fn figures(&mut self, figures: &[&Figure], indent_mm: f64) {
        let wide = self.figure_width_mm(indent_mm);
        for row in self.figure_rows(figures, indent_mm) {
            let beside = match row {
                FigureRow::Own(label, told) => {
                    if !label.is_empty() {
                        self.lines(label, indent_mm, Weight::Bold);
                    }
                    let further_mm = if label.is_empty() { 0.0 } else { 4.0 };
                    self.lines(&told, indent_mm + further_mm, Weight::Regular);
                    continue;
                }
                FigureRow::Beside(beside) => beside,
            };
            self.need(LINE_MM);
            for (column, figure) in beside.into_iter().enumerate() {
                let at = point(self.left() + indent_mm + wide * column as f64, self.y);
                let end = point(at.x + wide - 4.0, at.y);
                let label = Words::new(at, figure.label.as_str(), LETTER_MM);
                let shown = Words::new(end, noted(figure), LETTER_MM);
                let sheet = self.sheet();
                let from = sheet.marks.len();
                sheet.add(label);
                sheet.add(shown.anchored(Anchor::End).bold());
                sheet.part(from, Role::Paragraph);
            }
            self.y += LINE_MM;
        }
    }

    fn figure_width_mm(&self, indent_mm: f64) -> f64 {
        (self.room() - indent_mm) / figure_columns(self.design) as f64
    }

    /// Figures in the rows that they are set in.
    fn figure_rows<'f>(&self, figures: &[&'f Figure], indent_mm: f64) -> Vec<FigureRow<'f>> {
        let wide = self.figure_width_mm(indent_mm);
        let columns = figure_columns(self.design);
        let mut rows: Vec<FigureRow> = Vec::new();
        for figure in figures {
            let label = width_mm(&figure.label, LETTER_MM, Weight::Regular);
            let shown = noted(figure).width_mm(LETTER_MM, Weight::Bold);
            let told = figure.shown.whole_line();
            if told.contains('\n') {
                rows.push(FigureRow::Own(&figure.label, told));
            } else if label + shown + FIGURE_GAP_MM >= wide {
                let note = if figure.note.is_empty() { "" } else { ", " };
                let told = format!("{}: {told}{note}{}", figure.label, figure.note);
                rows.push(FigureRow::Own("", told));
            } else {
                match rows.last_mut() {
                    Some(FigureRow::Beside(beside)) if beside.len() < columns => {
                        beside.push(figure);
                    }
                    _ => rows.push(FigureRow::Beside(vec![figure])),
                }
            }
        }
        rows
    }

    /// A row of the caliper table.
    fn row(&mut self, cells: &[Lettering], is_head: bool) {
        self.need(ROW_MM);
        let (y, left, room) = (self.y, self.left(), self.room());
        let column = room / cells.len() as f64;
        let sheet = self.sheet();
        let from = sheet.marks.len();
        for (index, cell) in cells.iter().enumerate() {
            let end = point(left + column * (index + 1) as f64 - 2.0, y);
            // A long head in a narrow column, still 8 pt.
            let natural = cell.width_mm(2.6, Weight::Regular);
            let high = (2.6 * (column - 1.0) / natural).clamp(2.05, 2.6);
            let cell = Words::new(end, cell.clone(), high).anchored(Anchor::End);
            sheet.add_part(cell, Role::Cell);
        }
        sheet.part(from, Role::Row { is_head });
        sheet.line(
            point(left, y + 1.8),
            point(left + room, y + 1.8),
            Ink::Faint,
        );
        self.y += ROW_MM;
    }
}
