//! Strokes and words, and what their lines and colors say.

use super::lettering::{Lettering, Weight};
use super::path::{Step, on_curve};
use super::place::{FARTHEST_MM, Frame, Point, around, point};
use super::{helvetica, palette};
use crate::units::color::Color;

/// What a line says, and so how it is drawn.
///
/// Widths are in the ratio 2 : 1 (ISO 128-2: wide 0.5 mm, narrow 0.25 mm), dashes are the
/// standard's multiples of the line's width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// An edge of the object: wide.
    Object,
    /// An edge along which paper or card is cut out: wide.
    CutOut,
    /// Dimension, extension and leader lines, hatching: narrow.
    Thin,
    /// An edge behind the surface: narrow dashes.
    Hidden,
    /// An axis or the circle through something's middle: narrow, long dash and dot.
    Center,
    /// The finished part within its blank: narrow, long dash and two dots.
    Finished,
    /// Where a blade passes: wide dashes.
    Cut,
    /// What is being touched: wide, in the accent.
    Held,
    /// A dimension being touched: narrow, in the accent.
    HeldThin,
    /// Where a caution applies: wide, amber.
    Caution,
    /// Grids and the rules of tables.
    Faint,
}

impl Ink {
    /// The color of the line.
    pub fn tone(self) -> Tone {
        match self {
            Self::Held | Self::HeldThin => Tone::Held,
            Self::Caution => Tone::Caution,
            Self::Faint => Tone::Faint,
            _ => Tone::Graphite,
        }
    }

    /// The width of the line in millimeters.
    pub fn width_mm(self) -> f64 {
        match self {
            Self::Object | Self::CutOut | Self::Held | Self::Caution | Self::Cut => 0.5,
            Self::Faint => 0.18,
            _ => 0.25,
        }
    }

    /// The lengths of dashes and gaps in turn, in millimeters; empty for an unbroken line.
    pub fn dashes_mm(self) -> &'static [f64] {
        match self {
            Self::Hidden => &[3.0, 0.75],
            Self::Center => &[6.0, 0.75, 0.25, 0.75],
            Self::Finished => &[6.0, 0.75, 0.25, 0.75, 0.25, 0.75],
            Self::Cut => &[3.0, 1.5],
            _ => &[],
        }
    }

    /// The name of the line's CSS class.
    pub fn class(self) -> &'static str {
        match self {
            Self::Object | Self::CutOut => "object",
            Self::Thin => "thin",
            Self::Hidden => "hidden-edge",
            Self::Center => "center-line",
            Self::Finished => "finished",
            Self::Cut => "cut",
            Self::Held => "held",
            Self::HeldThin => "held-thin",
            Self::Caution => "caution",
            Self::Faint => "faint",
        }
    }

    /// Every kind of line, for a key and for tests.
    pub const ALL: [Self; 11] = [
        Self::Object,
        Self::CutOut,
        Self::Thin,
        Self::Hidden,
        Self::Center,
        Self::Finished,
        Self::Cut,
        Self::Held,
        Self::HeldThin,
        Self::Caution,
        Self::Faint,
    ];
}

/// What marks are for where a machine draws them: edges to be cut, lines to be scored, and
/// what is only to be read.
pub(super) const LAYERS: [&str; 3] = ["CUT", "SCORE", "NOTE"];

/// The names of lines that are scored, since they are used on what is cut out. Dimensions,
/// bars to check the scale by, tables and pictures are only read.
const SCORED: [&str; 6] = ["axis", "circle", "height", "joint", "mark", "tab"];

/// The place of a mark's layer.
pub(super) fn layer(mark: &Mark) -> usize {
    let Mark::Path(path) = mark else { return 2 };
    let name = path.name.as_deref().and_then(|name| name.split(' ').next());
    let is_scored = name.is_some_and(|name| SCORED.contains(&name));
    match path.ink {
        Some(Ink::CutOut) => 0,
        Some(_) if is_scored => 1,
        _ => 2,
    }
}

/// A color by what it says; the page's CSS variables carry the same names.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tone {
    /// Lines and words.
    #[default]
    Graphite,
    /// Notes and units.
    Quiet,
    /// Grids and rules; never words.
    Faint,
    /// What is being touched.
    Held,
    /// A caution.
    Caution,
    /// The ground: words on dark wood.
    Paper,
}

impl Tone {
    /// The color on paper and in files.
    pub fn color(self) -> Color {
        match self {
            Self::Graphite => palette::GRAPHITE,
            Self::Quiet => palette::QUIET,
            Self::Faint => palette::FAINT,
            Self::Held => palette::HELD,
            Self::Caution => palette::CAUTION,
            Self::Paper => palette::PAPER,
        }
    }

    /// The name of the CSS variable and class.
    pub fn class(self) -> &'static str {
        match self {
            Self::Graphite => "graphite",
            Self::Quiet => "quiet",
            Self::Faint => "faint",
            Self::Held => "held",
            Self::Caution => "caution",
            Self::Paper => "paper",
        }
    }
}

/// What an area is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// One of the palette's colors: graphite for arrowheads, paper to clear what lies below.
    Tone(Tone),
    /// A wood in its own color; lighter on paper ([`palette::printed_wood`]).
    Wood(Color),
    /// Exactly this color everywhere, on a dark screen too (a QR code).
    Exact(Color),
    /// Nothing to see, but a finger on the screen meets it; left out of files and paper.
    Touch,
}

/// An outline or a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Its steps; areas are filled by the even-odd rule, so an outline inside another is a hole.
    pub steps: Vec<Step>,
    /// The line along it, if any.
    pub ink: Option<Ink>,
    /// The filling of it, if any.
    pub fill: Option<Fill>,
    /// The name by which the page and tests find it (`data-name`).
    pub name: Option<String>,
}

impl Path {
    /// A line along the steps.
    pub fn line(steps: Vec<Step>, ink: Ink) -> Self {
        Self {
            steps,
            ink: Some(ink),
            fill: None,
            name: None,
        }
    }

    /// A filled area without a line around it.
    pub fn area(steps: Vec<Step>, fill: Fill) -> Self {
        Self {
            steps,
            ink: None,
            fill: Some(fill),
            name: None,
        }
    }

    /// This path with a filling.
    #[must_use]
    pub fn filled(mut self, fill: Fill) -> Self {
        self.fill = Some(fill);
        self
    }

    /// This path with a name.
    #[must_use]
    pub fn named(mut self, name: impl Into<String>) -> Self {
        self.name = Some(name.into());
        self
    }

    fn points(&self) -> impl Iterator<Item = Point> + '_ {
        self.steps.iter().flat_map(|step| {
            let (points, count) = step.points();
            points.into_iter().take(count)
        })
    }

    /// Places along the path, close enough to each other on curves to know how far it reaches.
    pub(super) fn outline(&self) -> impl Iterator<Item = Point> + '_ {
        let mut here = Point::default();
        self.steps.iter().flat_map(move |step| {
            let start = here;
            let (points, count) = step.points();
            if let Some(last) = points.get(..count).and_then(<[Point]>::last) {
                here = *last;
            }
            let parts = if count == 3 { 16 } else { count };
            (1..=parts).map(move |part| {
                let [a, b, c] = points;
                if parts == 16 {
                    on_curve([start, a, b, c], part as f64 / 16.0)
                } else {
                    a
                }
            })
        })
    }

    /// Whether it starts somewhere and every number in it is one.
    pub(super) fn is_drawable(&self) -> bool {
        matches!(self.steps.first(), Some(Step::MoveTo(_))) && self.points().all(Point::is_drawable)
    }
}

/// Which part of the words lies at their place, along the line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// Their beginning.
    #[default]
    Start,
    /// Their middle.
    Middle,
    /// Their end.
    End,
}

/// Which part of the words lies at their place, across the line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Level {
    /// The line that they stand on.
    #[default]
    Base,
    /// Half the height of the capitals.
    Middle,
}

/// A field of the page that takes the place of words on the screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// Its name.
    pub name: String,
    /// The width kept free for it, in millimeters.
    pub width_mm: f64,
    /// The height kept free for it, in millimeters.
    pub height_mm: f64,
}

/// Words on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// Where they are.
    pub at: Point,
    /// What they say.
    pub lettering: Lettering,
    /// The height of the capitals, in millimeters.
    pub height_mm: f64,
    /// What lies at the place, along the line.
    pub anchor: Anchor,
    /// What lies at the place, across the line.
    pub level: Level,
    /// How far they are turned, in degrees clockwise.
    pub turn_deg: f64,
    /// How heavy they are.
    pub weight: Weight,
    /// Their color.
    pub tone: Tone,
    /// The field that takes their place on the screen, if any.
    pub field: Option<Field>,
}

impl Words {
    /// Words beginning at a place, with capitals of the given height.
    pub fn new(at: Point, lettering: impl Into<Lettering>, height_mm: f64) -> Self {
        Self {
            at,
            lettering: lettering.into(),
            height_mm,
            anchor: Anchor::Start,
            level: Level::Base,
            turn_deg: 0.0,
            weight: Weight::Regular,
            tone: Tone::Graphite,
            field: None,
        }
    }

    /// These words with another part of them at their place.
    #[must_use]
    pub fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// These words with the middle of the capitals at the height of their place.
    #[must_use]
    pub fn level_middle(mut self) -> Self {
        self.level = Level::Middle;
        self
    }

    /// These words turned clockwise.
    #[must_use]
    pub fn turned(mut self, turn_deg: f64) -> Self {
        self.turn_deg = turn_deg;
        self
    }

    /// These words in bold.
    #[must_use]
    pub fn bold(mut self) -> Self {
        self.weight = Weight::Bold;
        self
    }

    /// These words in another color.
    #[must_use]
    pub fn toned(mut self, tone: Tone) -> Self {
        self.tone = tone;
        self
    }

    /// These words as a field of the page, with the room kept free for it.
    #[must_use]
    pub fn field(mut self, name: impl Into<String>, width_mm: f64, height_mm: f64) -> Self {
        self.field = Some(Field {
            name: name.into(),
            width_mm,
            height_mm,
        });
        self
    }

    /// Their width on paper, in millimeters.
    pub fn width_mm(&self) -> f64 {
        self.lettering.width_mm(self.height_mm, self.weight)
    }

    /// The place of the words' base line: where [`Words::at`] is, or below it for [`Level::Middle`].
    pub(crate) fn base(&self) -> Point {
        match self.level {
            Level::Base => self.at,
            Level::Middle => self
                .at
                .polar(self.height_mm / 2.0, (self.turn_deg + 90.0).to_radians()),
        }
    }

    /// The corners of the letters' box, descenders included: both upper ones, both lower ones.
    pub(crate) fn corners(&self) -> [Point; 4] {
        let turn = self.turn_deg.to_radians();
        let width = self.width_mm();
        let shift = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => width / 2.0,
            Anchor::End => width,
        };
        let descent = self.height_mm * helvetica::DESCENT / helvetica::CAPITAL_HEIGHT;
        let down = turn + std::f64::consts::FRAC_PI_2;
        let start = self.base().polar(-shift, turn);
        let end = start.polar(width, turn);
        [
            start.polar(-self.height_mm, down),
            end.polar(-self.height_mm, down),
            start.polar(descent, down),
            end.polar(descent, down),
        ]
    }

    pub(super) fn is_drawable(&self) -> bool {
        self.at.is_drawable()
            && self.turn_deg.is_finite()
            && self.height_mm > 0.0
            && self.height_mm <= FARTHEST_MM
            && !self.lettering.is_empty()
    }
}

/// A stroke or words.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// An outline or a line.
    Path(Path),
    /// Words.
    Words(Words),
}

impl From<Path> for Mark {
    fn from(path: Path) -> Self {
        Self::Path(path)
    }
}

impl From<Words> for Mark {
    fn from(words: Words) -> Self {
        Self::Words(words)
    }
}

impl Mark {
    /// Whether it can be drawn: a mark with a number that is none (NaN, infinite, far beyond any
    /// sheet) is left out of every drawing, so that one bad figure leaves the rest standing.
    pub fn is_drawable(&self) -> bool {
        match self {
            Self::Path(path) => path.is_drawable(),
            Self::Words(words) => words.is_drawable(),
        }
    }

    /// The upright rectangle around it, by the corners top left and bottom right, lines' widths
    /// and words included; none if it cannot be drawn.
    pub fn bounds(&self) -> Option<(Point, Point)> {
        if !self.is_drawable() {
            return None;
        }
        match self {
            Self::Path(path) => {
                let half = path.ink.map_or(0.0, |ink| ink.width_mm() / 2.0);
                let (least, most) = around(path.outline())?;
                Some((
                    point(least.x - half, least.y - half),
                    point(most.x + half, most.y + half),
                ))
            }
            Self::Words(words) => around(words.corners().into_iter()),
        }
    }

    /// The mark as seen in another frame.
    #[must_use]
    pub fn placed(&self, frame: &Frame) -> Self {
        match self {
            Self::Path(path) => {
                let mut path = path.clone();
                for step in &mut path.steps {
                    *step = step.mapped(|p| frame.place(p));
                }
                Self::Path(path)
            }
            Self::Words(words) => {
                let mut words = words.clone();
                words.at = frame.place(words.at);
                words.turn_deg += frame.turn_deg;
                words.height_mm *= frame.scale;
                if let Some(field) = &mut words.field {
                    field.width_mm *= frame.scale;
                    field.height_mm *= frame.scale;
                }
                Self::Words(words)
            }
        }
    }
}
