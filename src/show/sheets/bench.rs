//! The bench's sheets: the order of work with boxes to tick, and the caliper table.

use super::{EDGE_MM, blank, is_lying, paper_mm, paragraph, scale_check};
use crate::design::Design;
use crate::draw::lettering::{shorten, width_mm, wrap};
use crate::draw::pen::lettering;
use crate::draw::{Anchor, Drawing, Ink, Lettering, Path, Tone, Weight, Words, point, rectangle};
use crate::plan::Plan;
use crate::show::figures::Figure;
use crate::show::figures::bench::{StepShown, bench};
use crate::show::figures::lathe::whole_stations;
use crate::show::words;
use crate::units::length::Shown;

/// Height of the letters.
const LETTER_MM: f64 = 2.3;

/// From one line to the next.
const LINE_MM: f64 = 4.4;

/// Height of a figure's digits.
const FIGURE_MM: f64 = 2.2;

/// Figures beside each other across a column of steps: upright paper has one such column,
/// lying paper two.
fn figure_columns(design: &Design) -> usize {
    if is_lying(&design.paper) { 2 } else { 3 }
}

/// Between two columns of steps.
const GUTTER_MM: f64 = 8.0;

/// Height of a figure's label, and the least room between both and to the next figure.
const LABEL_MM: f64 = 2.0;
const FIGURE_GAP_MM: f64 = 5.0;

/// Height of a chapter's heading.
const HEADING_MM: f64 = 5.0 + LINE_MM;

/// Side of a box to tick.
const BOX_MM: f64 = 4.0;

/// The order of work, then the caliper table; none where there is no ring to make.
pub fn sheets(plan: &Plan, link: &str, date: &str) -> Vec<Drawing> {
    let design = &*plan.design;
    let Some((stack, screen)) = plan.stack().zip(bench(plan, &[])) else {
        return Vec::new();
    };
    let columns = if is_lying(&design.paper) { 2 } else { 1 };
    let mut pages = Pages::of(design, words::SHEET_ORDER, link, date, columns);
    pages.paragraph(&screen.meeting);
    for step in &screen.steps {
        // Before the first step at the lathe, not after the last.
        if step.is_first_at_lathe {
            pages.safety();
        }
        pages.step(step);
    }
    let mut sheets = pages.sheets;
    let mut table = Pages::of(design, words::BENCH_STATIONS, link, date, 1);
    table.paragraph(words::BENCH_STATIONS_INTRO.text);
    let stations = whole_stations(stack);
    let heads = stations.columns.iter();
    let heads: Vec<Lettering> = heads.map(|it| Lettering::plain(it.label)).collect();
    table.row(&heads, Tone::Quiet);
    for row in &stations.rows {
        let cells: Vec<Lettering> = row.cells.iter().map(line).collect();
        table.row(&cells, Tone::Graphite);
    }
    sheets.extend(table.sheets);
    sheets
}

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

/// Width of a figure as it stands beside its label.
fn figure_width_mm(figure: &Figure) -> f64 {
    line(&figure.shown).width_mm(FIGURE_MM, Weight::Bold)
}

/// Height of a text's lines.
fn lines_mm(text: &str, width_mm: f64) -> f64 {
    if text.is_empty() {
        return 0.0;
    }
    wrap(text, width_mm, LETTER_MM, Weight::Regular).len() as f64 * LINE_MM
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
    /// What stands on this sheet already, and is not said again.
    said: Vec<String>,
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
            said: Vec::new(),
        };
        pages.turn();
        pages
    }

    fn size(&self) -> (f64, f64) {
        paper_mm(&self.design.paper)
    }

    fn foot(&self) -> f64 {
        self.size().1 - EDGE_MM - 20.0
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
            let (mut sheet, _) = blank(self.design, self.subtitle, self.link, self.date);
            scale_check(&mut sheet, point(EDGE_MM, self.foot() + 8.0));
            self.sheets.push(sheet);
            self.column = 0;
            self.said.clear();
        }
        self.y = EDGE_MM + 31.0;
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
        let room = self.room();
        self.need(lines_mm(text, room));
        let at = point(self.left(), self.y);
        self.y = paragraph(self.sheet(), at, text, room, Tone::Graphite) + 1.0;
    }

    /// What is said before the lathe runs, all on one page.
    fn safety(&mut self) {
        let told = [1, 2, 3, 4, 5, 6].map(|number| format!("bench.safety.{number}"));
        let room = self.room();
        let height_mm = |key: &String| lines_mm(words::by_key(key), room) + 1.0;
        self.need(LINE_MM + 5.0 + told.iter().map(height_mm).sum::<f64>());
        self.heading(words::BENCH_SAFETY.text);
        for key in &told {
            self.paragraph(words::by_key(key));
        }
    }

    fn heading(&mut self, text: &str) {
        self.need(HEADING_MM);
        self.y += 4.0;
        let at = point(self.left(), self.y);
        self.sheet().add(Words::new(at, text, 2.8).bold());
        self.y += LINE_MM + 1.0;
    }

    /// How a step is done, as far as this sheet does not say it yet.
    fn says(&self, step: &StepShown) -> String {
        let common = &step.says[step.own.len()..];
        if self.said.iter().any(|said| said == common) {
            step.own.trim_end().to_owned()
        } else {
            step.says.clone()
        }
    }

    /// A step: a box, its title, how it is done, its figures, what to look at.
    fn step(&mut self, step: &StepShown) {
        let room = self.room() - BOX_MM - 3.0;
        let columns = figure_columns(self.design);
        let column = room / columns as f64;
        let fits = |figure: &&Figure| {
            let label = width_mm(&figure.label, LABEL_MM, Weight::Regular);
            figure_width_mm(figure) + label + FIGURE_GAP_MM < column
        };
        let (short, long): (Vec<&Figure>, Vec<&Figure>) =
            step.saw.iter().chain(&step.list).partition(fits);
        let rows = short.len().div_ceil(columns);
        let mut below: Vec<(String, Tone)> = long
            .iter()
            .map(|figure| {
                let told = figure.shown.line().replace('\n', "; ");
                (format!("{}: {told}", figure.label), Tone::Quiet)
            })
            .collect();
        below.extend(step.cautions.iter().map(|caution| {
            let text = format!("{} {}", caution.reason, caution.remedy);
            (text, Tone::Caution)
        }));
        let words_mm: f64 = below.iter().map(|(text, _)| lines_mm(text, room)).sum();
        let figures_mm = LINE_MM * (rows + 1) as f64;
        let heading_mm = if step.chapter.is_empty() {
            0.0
        } else {
            HEADING_MM
        };
        let says = self.says(step);
        self.need(heading_mm + figures_mm + lines_mm(&says, room) + words_mm + 3.0);
        // On a new sheet all is said again.
        let says = self.says(step);
        self.said.push(step.says[step.own.len()..].to_owned());
        let says_mm = lines_mm(&says, room);
        if !step.chapter.is_empty() {
            self.heading(&step.chapter);
        }
        let (y, edge) = (self.y, self.left());
        let left = edge + BOX_MM + 3.0;
        let sheet = self.sheet();
        let tick = rectangle(point(edge, y - 3.2), BOX_MM, BOX_MM);
        sheet.add(Path::line(tick, Ink::Thin).named("tick"));
        let title = shorten(&step.title, room, 2.5, Weight::Bold);
        sheet.add(Words::new(point(left, y), title, 2.5).bold());
        let at = point(left, y + LINE_MM);
        paragraph(sheet, at, &says, room, Tone::Graphite);
        let y = y + says_mm;
        for (index, figure) in short.iter().enumerate() {
            let x = left + column * (index % columns) as f64;
            let y = y + LINE_MM * (index / columns + 1) as f64;
            let shown = line(&figure.shown);
            let label = Words::new(point(x, y), figure.label.as_str(), LABEL_MM);
            sheet.add(label.toned(Tone::Quiet));
            let end = point(x + column - 3.0, y);
            sheet.add(
                Words::new(end, shown, FIGURE_MM)
                    .anchored(Anchor::End)
                    .bold(),
            );
        }
        self.y = y + LINE_MM * (rows + 1) as f64;
        for (text, tone) in &below {
            let at = point(left, self.y);
            self.y = paragraph(self.sheet(), at, text, room, *tone);
        }
        self.y += 1.6;
    }

    /// A row of the caliper table.
    fn row(&mut self, cells: &[Lettering], tone: Tone) {
        self.need(LINE_MM + 1.6);
        let (y, room) = (self.y, self.room());
        let column = room / cells.len() as f64;
        let sheet = self.sheet();
        for (index, cell) in cells.iter().enumerate() {
            let end = point(EDGE_MM + column * (index + 1) as f64 - 6.0, y);
            sheet.add(
                Words::new(end, cell.clone(), 2.6)
                    .anchored(Anchor::End)
                    .toned(tone),
            );
        }
        sheet.line(
            point(EDGE_MM, y + 1.8),
            point(EDGE_MM + room, y + 1.8),
            Ink::Faint,
        );
        self.y += LINE_MM + 1.6;
    }
}
