//! What sheets are made from, and one kind of sheet made.

use super::paper_mm;
use crate::design::{Design, Vessel};
use crate::draw::Drawing;
use crate::draw::{Mark, qr};
use crate::plan::Plan;
use crate::plan::caution::Placed;
use crate::plan::stack::StackPlan;
use crate::show::figures::bench::logbook::LogShown;
use crate::show::words;

/// What sheets are made from.
pub struct Job<'a> {
    /// The design.
    pub design: &'a Design,
    /// All that follows from it.
    pub plan: &'a Plan,
    /// The vessel, where there is one whose points make a curve.
    pub vessel: Option<OfVessel<'a>>,
    /// The whole link where its code stands in the head of each sheet; else empty.
    pub link: &'a str,
    /// The whole link, for a larger code.
    pub whole_link: &'a str,
    /// The day as `2030-01-31`; may be empty.
    pub date: &'a str,
    /// What was done at the bench by then, where that is known.
    pub log: Option<&'a LogShown>,
    /// Which sheets are wanted.
    pub choice: Choice<'a>,
}

/// When it is printed, and what was done by then.
#[derive(Clone, Copy, Debug)]
pub struct Today<'a> {
    /// The day as `2030-01-31`; may be empty.
    pub date: &'a str,
    /// What was done at the bench; nothing where that is not known.
    pub log: Option<&'a LogShown>,
}

impl<'a> From<&'a str> for Today<'a> {
    fn from(date: &'a str) -> Today<'a> {
        Today { date, log: None }
    }
}

/// A vessel and what follows from it.
pub struct OfVessel<'a> {
    /// The vessel.
    pub vessel: &'a Vessel,
    /// Its plan; it has a wall.
    pub plan: &'a StackPlan,
    /// What to look at first.
    pub cautions: &'a [Placed],
}

/// One sheet that can be wanted or not; it may take several pages.
pub struct Sheet {
    /// Its name in the choice: letters, figures and `-`.
    pub key: String,
    /// Its name for the turner.
    pub title: String,
    /// Its pages.
    pub pages: Vec<Drawing>,
    /// What is to be cut out along its lines, at true scale and in one piece.
    pub template: Option<Drawing>,
    /// Whether it belongs to a packet that nobody has chosen from.
    pub is_usual: bool,
}

impl Sheet {
    /// A sheet that is usually wanted.
    pub fn new(key: impl Into<String>, title: impl Into<String>, pages: Vec<Drawing>) -> Sheet {
        Sheet {
            key: key.into(),
            title: title.into(),
            pages,
            template: None,
            is_usual: true,
        }
    }

    /// The same with what is to be cut out.
    #[must_use]
    pub fn with_template(mut self, template: Drawing) -> Sheet {
        self.template = Some(template);
        self
    }
}

/// Which sheets are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice<'a> {
    /// The usual ones.
    Usual,
    /// Every one, of templates over several sheets only the first: the others are
    /// blank. For pictures of the sheets to choose from.
    Pictures,
    /// Those with these keys.
    These(&'a [String]),
}

impl Choice<'_> {
    /// Whether a sheet is wanted, by its key and whether it is usual.
    pub fn takes(self, key: &str, is_usual: bool) -> bool {
        match self {
            Choice::Usual => is_usual,
            Choice::Pictures => true,
            Choice::These(keys) => keys.iter().any(|wanted| wanted == key),
        }
    }

    /// Whether any sheet of a kind may be wanted.
    pub(super) fn takes_any(self, kind: &str) -> bool {
        match self {
            Choice::These(keys) => keys.iter().any(|key| key.starts_with(kind)),
            Choice::Usual | Choice::Pictures => true,
        }
    }
}

impl Job<'_> {
    /// The cautions of a ring of the vessel, or of the whole, as they are told.
    pub fn cautions(&self, ring: Option<usize>) -> Vec<String> {
        let unit = self.design.unit;
        let placed = self.vessel.iter().flat_map(|it| it.cautions);
        placed
            .filter(|placed| placed.ring == ring)
            .map(|placed| words::caution(&placed.caution, unit))
            .map(|told| format!("{} {}", told.reason, told.remedy))
            .collect()
    }

    /// A code of the link as large as it needs to be, up to a side.
    pub(super) fn large_code(&self, at: crate::draw::Point, side_mm: f64) -> Vec<Mark> {
        if self.whole_link.is_empty() || !self.link.is_empty() {
            return Vec::new();
        }
        qr::qr(self.whole_link, at, side_mm, qr::PAPER_MODULE_MM).unwrap_or_default()
    }

    /// Width and height of the paper.
    pub fn paper_mm(&self) -> (f64, f64) {
        paper_mm(&self.design.paper)
    }
}
