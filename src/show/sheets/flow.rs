//! Words, rows and tables one below the other over as many pages as they need.

use super::job::Job;
use super::{EDGE_MM, LINE_MM, READ_FOOT_MM, blank, foot, foot_notes, foot_top, paper_mm};
use crate::draw::lettering::{shorten, width_mm};
use crate::draw::{
    Anchor, Drawing, Ink, Lettering, Path, Role, Tone, Weight, Words, point, rectangle,
};
use crate::show::words::Word;

/// Pages being filled.
pub struct Flow<'a> {
    job: &'a Job<'a>,
    subtitle: String,
    notes: &'static [Word],
    /// Whether anything is measured on them: bars to check the scale by stand below.
    is_measured: bool,
    /// The pages, the last one being filled.
    pub pages: Vec<Drawing>,
    /// The height down to which it is filled.
    pub y: f64,
    /// Left edge of what is filled in.
    pub left: f64,
    /// Its width.
    pub width: f64,
}

impl<'a> Flow<'a> {
    /// The first page, over its whole width, with bars to check the scale by.
    pub fn new(job: &'a Job, subtitle: String, notes: &'static [Word]) -> Flow<'a> {
        Flow::of(job, subtitle, notes, true)
    }

    /// The same where nothing is measured.
    pub fn read(job: &'a Job, subtitle: String, notes: &'static [Word]) -> Flow<'a> {
        Flow::of(job, subtitle, notes, false)
    }

    fn of(job: &'a Job, subtitle: String, notes: &'static [Word], is_measured: bool) -> Flow<'a> {
        let mut flow = Flow {
            job,
            subtitle,
            notes,
            is_measured,
            pages: Vec::new(),
            y: 0.0,
            left: EDGE_MM,
            width: paper_mm(&job.design.paper).0 - 2.0 * EDGE_MM,
        };
        flow.turn_over();
        flow
    }

    /// Goes on on a new page, over its whole width.
    pub fn turn_over(&mut self) {
        let design = self.job.design;
        let (mut page, top) = blank(design, &self.subtitle, self.job.link, self.job.date);
        if self.is_measured {
            foot(&mut page, design, self.notes);
        } else {
            foot_notes(&mut page, point(EDGE_MM, self.bottom() + 3.0), self.notes);
        }
        self.pages.push(page);
        self.y = top.max(EDGE_MM + if self.job.link.is_empty() { 0.0 } else { 29.0 });
        self.left = EDGE_MM;
        self.width = paper_mm(&design.paper).0 - 2.0 * EDGE_MM;
    }

    /// The page being filled.
    pub fn page(&mut self) -> &mut Drawing {
        if self.pages.is_empty() {
            self.turn_over();
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// What is left above the foot.
    pub fn room(&self) -> f64 {
        self.bottom() - 2.0 - self.y
    }

    /// Where the foot begins.
    pub fn bottom(&self) -> f64 {
        let paper = &self.job.design.paper;
        if self.is_measured {
            foot_top(paper)
        } else {
            paper_mm(paper).1 - EDGE_MM - READ_FOOT_MM
        }
    }

    /// Room for so much, on a new page if need be.
    pub fn need(&mut self, height_mm: f64) {
        if self.room() < height_mm {
            self.turn_over();
        }
    }

    /// How high a heading stands.
    pub const HEADING_MM: f64 = 11.0;

    /// How high a row is whose figure is so high.
    pub fn row_mm(height_mm: f64) -> f64 {
        height_mm * 1.2 + 3.2
    }

    /// How high a paragraph is.
    pub fn height_of(&self, text: &str, tone: Tone) -> f64 {
        super::lines(text, self.width, tone).len() as f64 * LINE_MM
    }

    /// A heading, kept together with what follows it.
    pub fn heading(&mut self, text: &str) {
        self.need(2.0 * Flow::HEADING_MM);
        self.y += Flow::HEADING_MM - 2.0;
        let words = Words::new(point(self.left, self.y), text, 2.8).bold();
        self.page().add_part(words, Role::Heading);
        self.y += 2.0;
    }

    /// Words over as many lines as they need; few of them stay together.
    pub fn paragraph(&mut self, text: &str, tone: Tone) {
        const TOGETHER: usize = 8;
        let lines = super::lines(text, self.width, tone);
        if lines.len() <= TOGETHER {
            self.need(lines.len() as f64 * LINE_MM);
        }
        let mut from = self.page().marks.len();
        for line in lines {
            if self.room() < LINE_MM {
                self.page().part(from, Role::Paragraph);
                self.turn_over();
                from = self.page().marks.len();
            }
            self.y += LINE_MM;
            let at = point(self.left, self.y);
            super::told(self.page(), at, line, tone);
        }
        self.page().part(from, Role::Paragraph);
        self.y += 1.0;
    }

    /// A label and its figure.
    pub fn row(&mut self, label: &str, figure: Lettering, height_mm: f64) {
        let pitch = Flow::row_mm(height_mm);
        self.need(pitch);
        self.y += pitch;
        let (at, width) = (point(self.left, self.y), self.width);
        super::row(self.page(), at, width, label, figure, height_mm);
    }

    /// How many labels with their figures stand in each line: two where both fit into half of it.
    pub fn beside(&self, rows: &[(&str, Lettering)], height_mm: f64) -> Vec<usize> {
        let half_mm = (self.width - BESIDE_MM) / 2.0;
        let is_short = |(label, figure): &(&str, Lettering)| {
            let label_mm = width_mm(label, height_mm.min(2.6), Weight::Regular);
            label_mm + figure.width_mm(height_mm, Weight::Bold) + GAP_MM <= half_mm
        };
        let mut lines = Vec::new();
        let mut rest = rows;
        while !rest.is_empty() {
            let count = rest
                .iter()
                .take(2)
                .take_while(|it| is_short(it))
                .count()
                .max(1);
            lines.push(count);
            rest = &rest[count..];
        }
        lines
    }

    /// Labels and their figures in such lines.
    pub fn rows_beside(&mut self, rows: &[(&str, Lettering)], height_mm: f64) {
        let (pitch, half_mm) = (Flow::row_mm(height_mm), (self.width - BESIDE_MM) / 2.0);
        let mut rest = rows;
        for count in self.beside(rows, height_mm) {
            self.need(pitch);
            self.y += pitch;
            let (line, others) = rest.split_at(count);
            let wide_mm = if count > 1 { half_mm } else { self.width };
            for (at, (label, figure)) in line.iter().enumerate() {
                let left = self.left + at as f64 * (half_mm + BESIDE_MM);
                let at = point(left, self.y);
                super::row(self.page(), at, wide_mm, label, figure.clone(), height_mm);
            }
            rest = others;
        }
    }

    /// A table with a box to tick at the head of each row. The column `flexible` takes
    /// what room is left and is shortened where that is too little; the others are as
    /// wide as what stands in them.
    pub fn table(&mut self, head: &[&str], rows: &[Vec<Lettering>], flexible: usize) {
        let mut height = 2.3;
        let box_mm = 5.0;
        let widths = loop {
            let natural = natural_widths(head, rows, height);
            let fixed: f64 = natural
                .iter()
                .enumerate()
                .map(|(at, width)| if at == flexible { 0.0 } else { *width })
                .sum();
            let left = self.width - box_mm - fixed;
            let enough = natural.get(flexible).map_or(0.0, |width| width.min(30.0));
            if left >= enough || height < 1.5 {
                let mut widths = natural;
                if let Some(width) = widths.get_mut(flexible) {
                    *width = left.max(6.0);
                }
                break widths;
            }
            height -= 0.1;
        };
        let lines_down = |this: &mut Flow, cells: &[Lettering], is_head: bool| {
            let mut left = this.left + box_mm;
            let from = this.page().marks.len();
            for (at, (cell, width)) in cells.iter().zip(&widths).enumerate() {
                let y = this.y;
                let (x, anchor) = if at == flexible {
                    (left, Anchor::Start)
                } else {
                    (left + width - GAP_MM, Anchor::End)
                };
                let cell = if at == flexible {
                    shorten(&cell.spoken(), width - GAP_MM, height, Weight::Regular).into()
                } else if cell.spoken().is_empty() {
                    // Read aloud, a row has as many cells as its head.
                    Lettering::plain("–")
                } else {
                    cell.clone()
                };
                let words = Words::new(point(x, y), cell, height).anchored(anchor);
                this.page().add_part(words, Role::Cell);
                left += width;
            }
            this.page().part(from, Role::Row { is_head });
            let (from, to) = (this.left, this.left + this.width);
            let y = this.y + 1.8;
            this.page().line(point(from, y), point(to, y), Ink::Faint);
        };
        let head: Vec<Lettering> = head.iter().map(|cell| Lettering::plain(*cell)).collect();
        let pitch = height + 3.9;
        self.need(2.0 * pitch);
        self.y += pitch;
        lines_down(self, &head, true);
        for row in rows {
            if self.room() < pitch {
                self.turn_over();
                self.y += pitch;
                lines_down(self, &head, true);
            }
            self.y += pitch;
            let corner = point(self.left + 0.3, self.y - 2.7);
            self.page()
                .add(Path::line(rectangle(corner, 3.0, 3.0), Ink::Thin));
            lines_down(self, row, false);
        }
    }
}

/// Air between two columns.
const GAP_MM: f64 = 3.0;

/// Between two rows in a line.
const BESIDE_MM: f64 = 8.0;

fn natural_widths(head: &[&str], rows: &[Vec<Lettering>], height_mm: f64) -> Vec<f64> {
    head.iter()
        .enumerate()
        .map(|(at, name)| {
            let cells = rows.iter().filter_map(|row| row.get(at));
            cells
                .map(|cell| cell.width_mm(height_mm, Weight::Regular))
                .fold(
                    Lettering::plain(*name).width_mm(height_mm, Weight::Regular),
                    f64::max,
                )
                + GAP_MM
        })
        .collect()
}
