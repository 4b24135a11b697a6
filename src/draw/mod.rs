//! One list of strokes and words in millimeters, drawn to the screen, to a file and to paper.
//!
//! The origin is the top left corner, x grows to the right and y grows **down**; angles are in
//! radians (in degrees where a name says so), 0 points right and they grow clockwise as seen.
//! A CSS pixel is exactly 25.4/96 mm, so a drawing made for the screen in millimeters is made at
//! its true CSS size and never scaled afterwards.
//!
//! Read on in this order: [`palette`] (the colors), [`lettering`] (words and fractions, measured),
//! this file (strokes, words and the sheet that holds them), [`dimension`] (dimensions with
//! arrows and extension lines), [`qr`] (a link to scan), then the two ways out, [`svg`] and
//! [`pdf`].
//!
//! ```
//! use ringwright::draw::dimension::{Label, Run, Style, linear};
//! use ringwright::draw::{Drawing, Fill, Ink, Color, Path, pdf, point, rectangle, svg};
//!
//! let mut drawing = Drawing::new(100.0, 60.0, "Strip").described("A strip 80 mm long");
//! let maple = Fill::Wood(Color::new(0xe6, 0xcf, 0xa3));
//! let strip = rectangle(point(10.0, 10.0), 80.0, 20.0);
//! drawing.add(Path::line(strip, Ink::Object).filled(maple).named("strip"));
//! let (left, right) = (point(10.0, 30.0), point(90.0, 30.0));
//! let length = Label::new("80 mm").field("length", 24.0, 12.7);
//! drawing.add_all(linear(left, right, Run::Level { y: 45.0 }, &length, &Style::SCREEN));
//!
//! let screen = svg::to_screen(&drawing, "strip");
//! assert_eq!(screen.placements[0].field, "length");
//! let file = pdf::to_pdf(&[drawing], &pdf::Info::default());
//! assert!(file.starts_with(b"%PDF-"));
//! ```

mod content;
pub mod deflate;
pub mod dimension;
pub mod dxf;
pub mod flat;
pub mod helvetica;
pub mod lettering;
pub mod palette;
pub mod pdf;
pub mod pen;
pub mod qr;
pub mod svg;
mod thin;

pub use crate::units::color::Color;
pub use lettering::{Lettering, Run, Weight};

/// Millimeters in a CSS pixel (CSS Values 4, 6.2: 96 px are one inch).
pub const MM_PER_PX: f64 = 25.4 / 96.0;

/// Nothing that is drawn lies farther out than this; what does is a slip and is left out.
const FARTHEST_MM: f64 = 100_000.0;

/// The distance of lines as a multiple of the capitals' height (ISO 3098-1 asks for 1.4 or more).
pub const LINE_PITCH: f64 = 1.8;

/// A place on the drawing, in millimeters from its top left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// The place `x` to the right and `y` down, in millimeters.
pub const fn point(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// The place at a distance from here, in the direction of an angle (radians, clockwise from right).
    #[must_use]
    pub fn polar(self, distance: f64, angle: f64) -> Self {
        self.along(point(angle.cos(), angle.sin()), distance)
    }

    /// The distance to another place.
    pub fn distance(self, other: Self) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }

    /// The place halfway to another one.
    #[must_use]
    pub fn halfway(self, other: Self) -> Self {
        point(
            f64::midpoint(self.x, other.x),
            f64::midpoint(self.y, other.y),
        )
    }

    /// The place at a distance along a direction of length 1.
    pub(crate) fn along(self, direction: Self, distance: f64) -> Self {
        point(
            self.x + direction.x * distance,
            self.y + direction.y * distance,
        )
    }

    /// The direction of length 1 to another place; none if they coincide.
    pub(crate) fn toward(self, other: Self) -> Option<Self> {
        let distance = self.distance(other);
        (distance > 1e-9)
            .then(|| point((other.x - self.x) / distance, (other.y - self.y) / distance))
    }

    /// How far this direction reaches along another of length 1.
    pub(crate) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    fn is_drawable(self) -> bool {
        self.x.abs() <= FARTHEST_MM && self.y.abs() <= FARTHEST_MM
    }
}

/// A step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Start anew at a place.
    MoveTo(Point),
    /// A straight line to a place.
    LineTo(Point),
    /// A cubic Bézier curve by its two control points and its end.
    CurveTo(Point, Point, Point),
    /// Back to where the outline started.
    Close,
}

impl Step {
    fn points(self) -> ([Point; 3], usize) {
        match self {
            Self::MoveTo(p) | Self::LineTo(p) => ([p; 3], 1),
            Self::CurveTo(a, b, c) => ([a, b, c], 3),
            Self::Close => ([Point::default(); 3], 0),
        }
    }

    fn mapped(self, map: impl Fn(Point) -> Point) -> Self {
        match self {
            Self::MoveTo(p) => Self::MoveTo(map(p)),
            Self::LineTo(p) => Self::LineTo(map(p)),
            Self::CurveTo(a, b, c) => Self::CurveTo(map(a), map(b), map(c)),
            Self::Close => Self::Close,
        }
    }
}

/// The steps along straight lines through the places, left open.
pub fn polyline(points: &[Point]) -> Vec<Step> {
    let mut steps: Vec<Step> = points.iter().map(|p| Step::LineTo(*p)).collect();
    if let Some(first) = points.first() {
        steps[0] = Step::MoveTo(*first);
    }
    steps
}

/// The steps around the places, closed.
pub fn polygon(points: &[Point]) -> Vec<Step> {
    let mut steps = polyline(points);
    if !steps.is_empty() {
        steps.push(Step::Close);
    }
    steps
}

/// The steps around an upright rectangle by its top left corner.
pub fn rectangle(corner: Point, width_mm: f64, height_mm: f64) -> Vec<Step> {
    let (right, bottom) = (corner.x + width_mm, corner.y + height_mm);
    polygon(&[
        corner,
        point(right, corner.y),
        point(right, bottom),
        point(corner.x, bottom),
    ])
}

/// The steps around a circle.
pub fn circle(center: Point, radius_mm: f64) -> Vec<Step> {
    let mut steps = arc(center, radius_mm, 0.0, std::f64::consts::TAU);
    steps.push(Step::Close);
    steps
}

/// The steps along an arc from one angle to another, beginning with [`Step::MoveTo`].
pub fn arc(center: Point, radius_mm: f64, from: f64, to: f64) -> Vec<Step> {
    let mut steps = vec![Step::MoveTo(center.polar(radius_mm, from))];
    steps.extend(arc_onward(center, radius_mm, from, to));
    steps
}

/// The curves along an arc from one angle to another, to go on where the path already is.
///
/// A cubic over an eighth of a circle leaves it by 4·10⁻⁶ of the radius at most (over a quarter,
/// the usual choice, by 3·10⁻⁴, which is 0.05 mm on a template of a 370 mm bowl).
pub fn arc_onward(center: Point, radius_mm: f64, from: f64, to: f64) -> Vec<Step> {
    let sweep = to - from;
    let eighths = (sweep.abs() / std::f64::consts::FRAC_PI_4 - 1e-9).ceil();
    if !(1.0..=64.0).contains(&eighths) {
        return Vec::new();
    }
    let part = sweep / eighths;
    let handle = radius_mm * 4.0 / 3.0 * (part / 4.0).tan();
    let quarter = std::f64::consts::FRAC_PI_2;
    (0..eighths as u32)
        .map(|index| {
            let start = from + part * f64::from(index);
            let end = start + part;
            let here = center
                .polar(radius_mm, start)
                .polar(handle, start + quarter);
            let there = center.polar(radius_mm, end);
            Step::CurveTo(here, there.polar(-handle, end + quarter), there)
        })
        .collect()
}

/// What a line says, and so how it is drawn.
///
/// Widths are in the ratio 2 : 1 (ISO 128-2: wide 0.5 mm, narrow 0.25 mm), dashes are the
/// standard's multiples of the line's width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// An edge of the object: wide.
    Object,
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
            Self::Object | Self::Held | Self::Caution | Self::Cut => 0.5,
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
            Self::Object => "object",
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
    pub const ALL: [Self; 10] = [
        Self::Object,
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
    fn outline(&self) -> impl Iterator<Item = Point> + '_ {
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
    fn is_drawable(&self) -> bool {
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

    /// Their width in Helvetica, in millimeters.
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

    fn is_drawable(&self) -> bool {
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

/// The place on a cubic Bézier curve at a share of its way.
fn on_curve(ends_and_handles: [Point; 4], share: f64) -> Point {
    let mut points = ends_and_handles;
    for count in (1..4).rev() {
        for index in 0..count {
            let (p, q) = (points[index], points[index + 1]);
            points[index] = point(p.x + (q.x - p.x) * share, p.y + (q.y - p.y) * share);
        }
    }
    points[0]
}

pub(crate) fn around(points: impl Iterator<Item = Point>) -> Option<(Point, Point)> {
    points.fold(None, |bounds, p| {
        let (least, most) = bounds.unwrap_or((p, p));
        Some((
            point(least.x.min(p.x), least.y.min(p.y)),
            point(most.x.max(p.x), most.y.max(p.y)),
        ))
    })
}

/// Where and how a drawing lies on another one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Where its top left corner comes to lie.
    pub at: Point,
    /// How far it is turned about that corner, in degrees clockwise.
    pub turn_deg: f64,
    /// How much larger it is drawn; line widths stay.
    pub scale: f64,
}

impl Frame {
    /// True to scale and upright, at a place.
    pub const fn at(at: Point) -> Self {
        Self {
            at,
            turn_deg: 0.0,
            scale: 1.0,
        }
    }

    /// This frame turned, in degrees clockwise.
    #[must_use]
    pub const fn turned(mut self, turn_deg: f64) -> Self {
        self.turn_deg = turn_deg;
        self
    }

    /// This frame with all lengths multiplied.
    #[must_use]
    pub const fn scaled(mut self, scale: f64) -> Self {
        self.scale = scale;
        self
    }

    /// Where a place within the frame comes to lie.
    pub fn place(&self, p: Point) -> Point {
        let (sin, cos) = self.turn_deg.to_radians().sin_cos();
        point(
            self.at.x + (p.x * cos - p.y * sin) * self.scale,
            self.at.y + (p.x * sin + p.y * cos) * self.scale,
        )
    }
}

/// A drawing: its size, its marks in the order in which they are drawn, and what it shows in words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Width in millimeters.
    pub width_mm: f64,
    /// Height in millimeters.
    pub height_mm: f64,
    /// What is drawn, the lowest first.
    pub marks: Vec<Mark>,
    /// What it is, in a few words.
    pub title: String,
    /// What it shows, for those who do not see it.
    pub description: String,
}

impl Drawing {
    /// An empty drawing of a size in millimeters.
    pub fn new(width_mm: f64, height_mm: f64, title: impl Into<String>) -> Self {
        Self {
            width_mm,
            height_mm,
            title: title.into(),
            ..Self::default()
        }
    }

    /// This drawing with a description.
    #[must_use]
    pub fn described(mut self, description: impl Into<String>) -> Self {
        self.description = description.into();
        self
    }

    /// Draws a path or words on top.
    pub fn add(&mut self, mark: impl Into<Mark>) -> &mut Self {
        self.marks.push(mark.into());
        self
    }

    /// Draws several marks on top.
    pub fn add_all(&mut self, marks: impl IntoIterator<Item = Mark>) -> &mut Self {
        self.marks.extend(marks);
        self
    }

    /// Draws a straight line on top.
    pub fn line(&mut self, from: Point, to: Point, ink: Ink) -> &mut Self {
        self.add(Path::line(polyline(&[from, to]), ink))
    }

    /// Writes words over several lines of the given width, the first standing on the height of `at`,
    /// and gives the height on which one more line would stand.
    pub fn paragraph(&mut self, at: Point, text: &str, width_mm: f64, words: &Words) -> f64 {
        let mut base = at.y;
        for line in lettering::wrap(text, width_mm, words.height_mm, words.weight) {
            let lettering = Lettering::plain(line);
            self.add(Words {
                at: point(at.x, base),
                lettering,
                ..words.clone()
            });
            base += words.height_mm * LINE_PITCH;
        }
        base
    }

    /// Lays another drawing on top.
    pub fn place(&mut self, other: &Self, frame: &Frame) -> &mut Self {
        self.marks
            .extend(other.marks.iter().map(|mark| mark.placed(frame)));
        self
    }

    /// The upright rectangle around all that can be drawn; none if there is nothing.
    pub fn bounds(&self) -> Option<(Point, Point)> {
        let corners = self.marks.iter().filter_map(Mark::bounds);
        around(corners.flat_map(|(least, most)| [least, most]))
    }

    /// The marks that can be drawn.
    pub(crate) fn drawable(&self) -> impl Iterator<Item = &Mark> {
        self.marks.iter().filter(|mark| mark.is_drawable())
    }
}

/// Lines at a slant across an area, for a cut surface (ISO 128-3: narrow, mostly at 45°).
///
/// The outlines are given by their corners, and filled by the even-odd rule.
pub fn hatch(outlines: &[Vec<Point>], spacing_mm: f64, angle: f64) -> Vec<Step> {
    let along = point(angle.cos(), angle.sin());
    let across = point(-along.y, along.x);
    let Some((least, most)) = around(
        outlines
            .iter()
            .flatten()
            .map(|p| point(p.dot(along), p.dot(across))),
    ) else {
        return Vec::new();
    };
    let lines = (most.y - least.y) / spacing_mm;
    // Also false for NaN: an area without numbers, or a thousand lines, is no hatching.
    if !(lines > 0.0 && lines < 1000.0) {
        return Vec::new();
    }
    let first = (least.y / spacing_mm).floor();
    let mut steps = Vec::new();
    for index in 1..=(lines.ceil() as u32 + 1) {
        let height = (first + f64::from(index)) * spacing_mm;
        let mut crossings: Vec<f64> = outlines
            .iter()
            .flat_map(|outline| crossings(outline, along, across, height))
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let at = |reach: f64| {
                point(
                    along.x * reach + across.x * height,
                    along.y * reach + across.y * height,
                )
            };
            steps.push(Step::MoveTo(at(pair[0])));
            steps.push(Step::LineTo(at(pair[1])));
        }
    }
    steps
}

/// Where a line at a height across crosses an outline, as distances along.
fn crossings(outline: &[Point], along: Point, across: Point, height: f64) -> Vec<f64> {
    let ends = outline.iter().skip(1).chain(outline.first());
    outline
        .iter()
        .zip(ends)
        .filter_map(|(a, b)| {
            let (from, to) = (a.dot(across), b.dot(across));
            // Half open, so that a corner on the line counts once.
            ((from <= height) != (to <= height)).then(|| {
                let share = (height - from) / (to - from);
                a.dot(along) + (b.dot(along) - a.dot(along)) * share
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_4, PI};

    fn assert_bounds(mark: &Mark, expected: [f64; 4], tolerance: f64) {
        let (least, most) = mark.bounds().expect("can be drawn");
        for (found, wanted) in [least.x, least.y, most.x, most.y].into_iter().zip(expected) {
            assert!(
                (found - wanted).abs() <= tolerance,
                "{found} is not {wanted}"
            );
        }
    }

    #[test]
    fn an_arc_leaves_its_circle_by_less_than_a_hair() {
        let center = point(3.0, -2.0);
        for (from, to) in [(0.0, 2.0 * PI), (0.3, 0.5), (2.0, -1.0)] {
            let path = Path::line(arc(center, 200.0, from, to), Ink::Thin);
            for place in path.outline() {
                assert!((center.distance(place) - 200.0).abs() < 0.001);
            }
            let end = path.outline().last().expect("has places");
            assert!(end.distance(center.polar(200.0, to)) < 1e-9);
        }
    }

    #[test]
    fn bounds_follow_the_curve_and_the_width_of_its_line() {
        let mark = Path::line(circle(point(50.0, 50.0), 20.0), Ink::Object).into();
        assert_bounds(&mark, [29.75, 29.75, 70.25, 70.25], 0.001);
    }

    #[test]
    fn bounds_of_words_turn_with_them() {
        let words = Words::new(point(10.0, 100.0), "HHHH", 7.18).turned(-90.0);
        let width = 4.0 * 7.22;
        assert_bounds(
            &words.into(),
            [10.0 - 7.18, 100.0 - width, 10.0 + 2.07, 100.0],
            1e-9,
        );
    }

    #[test]
    fn middle_level_puts_the_capitals_around_the_place() {
        for turn_deg in [0.0, -90.0, 30.0] {
            let words = Words::new(point(5.0, 5.0), "H", 4.0)
                .turned(turn_deg)
                .level_middle();
            let [top, _, bottom, _] = words.corners();
            let descent = 4.0 * 207.0 / 718.0;
            assert!((point(5.0, 5.0).distance(top) - 2.0).abs() < 1e-9);
            assert!((point(5.0, 5.0).distance(bottom) - 2.0 - descent).abs() < 1e-9);
        }
    }

    #[test]
    fn frames_within_frames_turn_and_scale() {
        let mut inner = Drawing::new(10.0, 10.0, "");
        inner.line(point(1.0, 0.0), point(3.0, 0.0), Ink::Thin);
        let mut middle = Drawing::new(10.0, 10.0, "");
        middle.place(&inner, &Frame::at(point(5.0, 0.0)).turned(90.0));
        let mut outer = Drawing::new(10.0, 10.0, "");
        outer.place(&middle, &Frame::at(point(100.0, 50.0)).scaled(2.0));
        let Mark::Path(path) = &outer.marks[0] else {
            panic!("a path")
        };
        let [Step::MoveTo(from), Step::LineTo(to)] = path.steps[..] else {
            panic!("a line")
        };
        assert!(from.distance(point(110.0, 52.0)) < 1e-9 && to.distance(point(110.0, 56.0)) < 1e-9);
    }

    #[test]
    fn hatching_stays_within_the_area_and_out_of_its_holes() {
        let square = |least: f64, most: f64| {
            vec![
                point(least, least),
                point(most, least),
                point(most, most),
                point(least, most),
            ]
        };
        let steps = hatch(&[square(0.0, 20.0), square(5.0, 15.0)], 1.0, FRAC_PI_4);
        assert!(steps.len() > 50);
        for pair in steps.chunks_exact(2) {
            let [Step::MoveTo(from), Step::LineTo(to)] = pair else {
                panic!("lines only")
            };
            let p = from.halfway(*to);
            let is_within =
                |least: f64, most: f64| p.x > least && p.x < most && p.y > least && p.y < most;
            assert!(
                is_within(-1e-9, 20.0 + 1e-9) && !is_within(5.0, 15.0),
                "{p:?}"
            );
        }
    }

    #[test]
    fn hatching_without_numbers_or_without_end_is_left_out() {
        let outline = vec![point(0.0, 0.0), point(9.0, 0.0), point(9.0, f64::NAN)];
        assert!(hatch(&[outline], f64::NAN, 0.0).is_empty());
        let outline = vec![point(0.0, 0.0), point(9.0, 0.0), point(9.0, 9.0)];
        assert!(hatch(std::slice::from_ref(&outline), 0.0, 0.0).is_empty());
        assert!(hatch(&[outline], 0.000_1, 0.0).is_empty());
    }

    #[test]
    fn a_paragraph_stays_in_its_width() {
        let mut drawing = Drawing::new(100.0, 100.0, "");
        let style = Words::new(Point::default(), "", 3.0).toned(Tone::Quiet);
        let text = "Keep the joint a hair open at the inside and the outside will close";
        let next = drawing.paragraph(point(10.0, 20.0), text, 40.0, &style);
        assert!(drawing.marks.len() > 2);
        assert!((next - 20.0 - 5.4 * drawing.marks.len() as f64).abs() < 1e-9);
        assert!(
            drawing
                .bounds()
                .is_some_and(|(least, most)| least.x >= 10.0 && most.x <= 50.0)
        );
    }
}
