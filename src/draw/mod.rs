//! One list of strokes and words in millimeters, drawn to the screen, to a file and to paper.
//!
//! The origin is the top left corner, x grows to the right and y grows **down**; angles are in
//! radians (in degrees where a name says so), 0 points right and they grow clockwise as seen.
//! A CSS pixel is exactly 25.4/96 mm, so a drawing made for the screen in millimeters is made at
//! its true CSS size and never scaled afterwards.
//!
//! Read on in this order: [`palette`] (the colors), [`lettering`] (words and fractions, measured),
//! `place`, `path` and `mark` (places, lines, strokes and words), this file (the sheet that holds
//! them), [`dimension`] (dimensions with
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
//! let file = pdf::to_pdf(&[drawing], &pdf::Info::default(), None);
//! assert!(file.starts_with(b"%PDF-"));
//! ```

mod compact;
mod content;
pub mod deflate;
pub mod dimension;
pub mod dxf;
pub mod flat;
pub mod helvetica;
pub mod lettering;
mod letters;
mod mark;
pub mod palette;
mod part;
mod path;
pub mod pdf;
pub mod pen;
mod place;
pub mod qr;
mod structure;
pub mod svg;
mod thin;
mod typeface;
mod widths;

pub use crate::units::color::Color;
pub use lettering::{Lettering, Run, Weight};
pub use mark::{Anchor, Field, Fill, Ink, Level, Mark, Path, Tone, Words};
pub use part::{Part, Role};
pub use path::{Step, arc, arc_onward, circle, hatch, polygon, polyline, rectangle};
pub(crate) use place::around;
pub use place::{Frame, Point, point};
pub use typeface::Typeface;

/// Millimeters in a CSS pixel (CSS Values 4, 6.2: 96 px are one inch).
pub const MM_PER_PX: f64 = 25.4 / 96.0;

/// The distance of lines as a multiple of the capitals' height (ISO 3098-1 asks for 1.4 or more).
pub const LINE_PITCH: f64 = 1.8;

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
    /// What its marks are, for those who do not see them; a part that lies within another
    /// stands before it.
    pub parts: Vec<Part>,
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
        let from = self.marks.len();
        for line in lettering::wrap(text, width_mm, words.height_mm, words.weight) {
            let lettering = Lettering::plain(line);
            self.add(Words {
                at: point(at.x, base),
                lettering,
                ..words.clone()
            });
            base += words.height_mm * LINE_PITCH;
        }
        self.part(from, Role::Paragraph);
        base
    }

    /// Lays another drawing on top: as a figure, if it says what it is.
    pub fn place(&mut self, other: &Self, frame: &Frame) -> &mut Self {
        let from = self.marks.len();
        self.marks
            .extend(other.marks.iter().map(|mark| mark.placed(frame)));
        if other.title.is_empty() {
            self.parts.extend(other.parts.iter().map(|part| Part {
                from: part.from + from,
                to: part.to + from,
                role: part.role.clone(),
            }));
            return self;
        }
        let mut says = other.title.clone();
        if !other.description.is_empty() {
            says = format!("{says}. {}", other.description);
        }
        self.part(from, Role::Figure(says))
    }

    /// Says what the marks from a place on are.
    pub fn part(&mut self, from: usize, role: Role) -> &mut Self {
        let to = self.marks.len();
        if from < to {
            self.parts.push(Part { from, to, role });
        }
        self
    }

    /// Draws a mark that is a part of its own.
    pub fn add_part(&mut self, mark: impl Into<Mark>, role: Role) -> &mut Self {
        let from = self.marks.len();
        self.add(mark).part(from, role)
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
