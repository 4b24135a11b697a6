//! Dimensions as on a shop drawing (ISO 129-1): extension lines, a line with filled arrowheads,
//! and the figure above it or in a break of it.
//!
//! The figure is read from the bottom or from the right. Where it does not fit between the
//! extension lines, first the arrows and then the figure go outside. On the screen a figure may be
//! a field of the page: then room is kept free for it, and the line breaks around it.

use super::lettering::{Lettering, Weight};
use super::{
    Anchor, Fill, Ink, Mark, Path, Point, Step, Tone, Words, arc, point, polygon, polyline,
};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Half an arrowhead's width as a share of its length: a filled head of 20° in all, since the 15° of
/// ISO 129-1 read as a mere thickening at an arm's length.
const ARROW_HALF_WIDTH: f64 = 0.176_327;

/// The sizes that all dimensions of a drawing share, in millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// The height of the figures' capitals.
    pub height_mm: f64,
    /// The length of an arrowhead.
    pub arrow_mm: f64,
    /// The gap between the object and the extension line.
    pub gap_mm: f64,
    /// How far the extension line goes on past the dimension line.
    pub overrun_mm: f64,
    /// The air between a figure and lines.
    pub air_mm: f64,
    /// How much wider than Helvetica the figures may run.
    pub slack: f64,
}

impl Style {
    /// The sizes for paper.
    pub const PAPER: Self = Self {
        height_mm: 3.0,
        arrow_mm: 3.0,
        gap_mm: 1.0,
        overrun_mm: 2.0,
        air_mm: 1.0,
        slack: 1.0,
    };

    /// The sizes for the screen: letters of 16 px, and room for a wider typeface.
    pub const SCREEN: Self = Self {
        height_mm: 3.04,
        slack: super::lettering::SCREEN_SLACK,
        ..Self::PAPER
    };
}

/// What a dimension says.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The figure.
    pub lettering: Lettering,
    /// What stands before the figure and is no part of a field: `Ø`.
    pub prefix: String,
    /// How heavy the figure is.
    pub weight: Weight,
    /// The name of the field that takes the figure's place on the screen, if any.
    pub field: Option<String>,
    /// Width and height kept free for the field, in millimeters: then the figure stands upright in
    /// a break of the line, else along the line above it.
    pub space: Option<(f64, f64)>,
    /// Whether it is being touched: drawn in the accent.
    pub is_held: bool,
}

impl Label {
    /// A figure that is only to be read.
    pub fn new(lettering: impl Into<Lettering>) -> Self {
        Self {
            lettering: lettering.into(),
            prefix: String::new(),
            weight: Weight::Regular,
            field: None,
            space: None,
            is_held: false,
        }
    }

    /// This figure with a sign before it.
    #[must_use]
    pub fn prefixed(mut self, prefix: impl Into<String>) -> Self {
        self.prefix = prefix.into();
        self
    }

    /// This figure as a field of the page with room kept free for it, in millimeters.
    #[must_use]
    pub fn field(mut self, name: impl Into<String>, width_mm: f64, height_mm: f64) -> Self {
        self.field = Some(name.into());
        self.space = Some((width_mm, height_mm));
        self
    }

    /// This figure in bold.
    #[must_use]
    pub fn bold(mut self) -> Self {
        self.weight = Weight::Bold;
        self
    }

    /// This figure and its lines in the accent, if it is being touched.
    #[must_use]
    pub fn held(mut self, is_held: bool) -> Self {
        self.is_held = is_held;
        self
    }

    fn ink(&self) -> Ink {
        if self.is_held {
            Ink::HeldThin
        } else {
            Ink::Thin
        }
    }

    fn tone(&self) -> Tone {
        if self.is_held {
            Tone::Held
        } else {
            Tone::Graphite
        }
    }

    fn whole(&self) -> Lettering {
        if self.prefix.is_empty() {
            self.lettering.clone()
        } else {
            Lettering::plain(self.prefix.as_str()).join(&self.lettering)
        }
    }

    /// Width and height of what stands in the line's break or above the line.
    fn size(&self, style: &Style) -> (f64, f64) {
        match self.space {
            Some((width, height)) => (width + self.prefix_width(style), height),
            None => (
                self.whole().width_mm(style.height_mm, self.weight) * style.slack,
                style.height_mm,
            ),
        }
    }

    fn prefix_width(&self, style: &Style) -> f64 {
        if self.prefix.is_empty() {
            return 0.0;
        }
        let letters = Lettering::plain(self.prefix.as_str());
        letters.width_mm(style.height_mm, self.weight) * style.slack + style.air_mm / 2.0
    }

    /// The words, upright, with the middle of their room at a place.
    fn upright(&self, middle: Point, style: &Style) -> Vec<Mark> {
        let (width, _) = self.size(style);
        let Some((room, height)) = self.space else {
            return vec![
                self.words(middle, self.whole(), style)
                    .level_middle()
                    .into(),
            ];
        };
        let right = middle.x + width / 2.0;
        let words = self.words(
            point(right - room / 2.0, middle.y),
            self.lettering.clone(),
            style,
        );
        let words = words.level_middle();
        let words = match &self.field {
            Some(name) => words.field(name.as_str(), room, height),
            None => words,
        };
        let mut marks = vec![words.into()];
        if !self.prefix.is_empty() {
            let at = point(middle.x - width / 2.0, middle.y);
            let prefix = self.words(at, Lettering::plain(self.prefix.as_str()), style);
            marks.push(prefix.level_middle().anchored(Anchor::Start).into());
        }
        marks
    }

    /// The words along a line, standing on a place at their middle.
    fn along(&self, base: Point, turn_deg: f64, style: &Style) -> Mark {
        self.words(base, self.whole(), style)
            .turned(turn_deg)
            .into()
    }

    fn words(&self, at: Point, lettering: Lettering, style: &Style) -> Words {
        let words = Words::new(at, lettering, style.height_mm).anchored(Anchor::Middle);
        Words {
            weight: self.weight,
            ..words
        }
        .toned(self.tone())
    }
}

/// Where the line of a linear dimension runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Run {
    /// Level, at this height: measures the distance across.
    Level {
        /// The height of the line on the drawing.
        y: f64,
    },
    /// Upright, at this place across: measures the distance in height.
    Upright {
        /// The place of the line across the drawing.
        x: f64,
    },
    /// Along the two points, moved aside: to the right of the way from the first to the second, to
    /// the left if negative.
    Aligned {
        /// How far the line is moved, in millimeters.
        offset_mm: f64,
    },
}

/// The distance between two points.
pub fn linear(from: Point, to: Point, run: Run, label: &Label, style: &Style) -> Vec<Mark> {
    let (start, end) = match run {
        Run::Level { y } => (point(from.x, y), point(to.x, y)),
        Run::Upright { x } => (point(x, from.y), point(x, to.y)),
        Run::Aligned { offset_mm } => {
            let Some(way) = from.toward(to) else {
                return Vec::new();
            };
            let aside = point(-way.y, way.x);
            (from.along(aside, offset_mm), to.along(aside, offset_mm))
        }
    };
    // Also when a coordinate is no number: half a dimension would say something wrong.
    let Some(axis) = Axis::between(start, end) else {
        return Vec::new();
    };
    let mut marks = Vec::new();
    for (object, line) in [(from, start), (to, end)] {
        marks.extend(extension(object, line, label.ink(), style));
    }
    marks.extend(measured_line(axis, 0.5, label, style));
    marks
}

/// The diameter of a circle, its line through the middle at an angle (0 is level).
pub fn diameter(
    center: Point,
    radius_mm: f64,
    angle: f64,
    label: &Label,
    style: &Style,
) -> Vec<Mark> {
    let start = center.polar(-radius_mm, angle);
    let Some(axis) = Axis::between(start, center.polar(radius_mm, angle)) else {
        return Vec::new();
    };
    // Beside the center, where the circle's own middle lines cross.
    measured_line(axis, 0.28, label, style)
}

/// The radius of a circle or arc: one arrow, on the circle, with the figure along the line.
pub fn radius(
    center: Point,
    radius_mm: f64,
    angle: f64,
    label: &Label,
    style: &Style,
) -> Vec<Mark> {
    let tip = center.polar(radius_mm, angle);
    let Some(axis) = Axis::between(center, tip) else {
        return Vec::new();
    };
    let reach = if axis.start == center {
        (0.0, axis.length)
    } else {
        (axis.length, 0.0)
    };
    let mut layout = Layout {
        axis,
        spans: vec![(0.0, axis.length)],
        heads: Vec::new(),
    };
    layout.head(reach.1, reach.1 > reach.0);
    layout.finish(axis.length / 2.0, label, style)
}

/// An extension line from the object to a little past the dimension line.
fn extension(object: Point, line: Point, ink: Ink, style: &Style) -> Option<Mark> {
    let way = object.toward(line)?;
    let reach = object.distance(line);
    (reach > style.gap_mm).then(|| {
        let from = object.along(way, style.gap_mm);
        let to = line.along(way, style.overrun_mm);
        Path::line(polyline(&[from, to]), ink).into()
    })
}

/// A line in the direction in which its figure is read: from the left, or upward.
#[derive(Clone, Copy)]
struct Axis {
    start: Point,
    way: Point,
    length: f64,
}

impl Axis {
    fn between(a: Point, b: Point) -> Option<Self> {
        let way = a.toward(b)?;
        let is_read_backward = way.x < -1e-6 || (way.x.abs() <= 1e-6 && way.y > 0.0);
        let (start, way) = if is_read_backward {
            (b, point(-way.x, -way.y))
        } else {
            (a, way)
        };
        Some(Self {
            start,
            way,
            length: a.distance(b),
        })
    }

    fn at(self, reach: f64) -> Point {
        self.start.along(self.way, reach)
    }

    fn turn_deg(self) -> f64 {
        self.way.y.atan2(self.way.x).to_degrees()
    }

    /// The place above the line, as the figure is read.
    fn above(self, reach: f64, height: f64) -> Point {
        self.at(reach).along(point(self.way.y, -self.way.x), height)
    }

    /// How far an upright box around a place on the line reaches along the line, to each side.
    fn half_through(self, (width, height): (f64, f64)) -> f64 {
        let across = width / 2.0 / self.way.x.abs().max(1e-9);
        let up = height / 2.0 / self.way.y.abs().max(1e-9);
        across.min(up)
    }
}

/// The line of a dimension while it is laid out: spans and arrowheads by their distance from the
/// line's start.
struct Layout {
    axis: Axis,
    spans: Vec<(f64, f64)>,
    /// The arrow's tip, and whether it points onward.
    heads: Vec<(f64, bool)>,
}

impl Layout {
    fn head(&mut self, tip: f64, is_onward: bool) {
        self.heads.push((tip, is_onward));
    }

    /// The marks, with the figure's middle at a distance.
    fn finish(mut self, figure: f64, label: &Label, style: &Style) -> Vec<Mark> {
        let words = if label.space.is_some() {
            let half = self.axis.half_through(label.size(style)) + style.air_mm;
            self.break_at(figure - half, figure + half);
            label.upright(self.axis.at(figure), style)
        } else {
            let base = self.axis.above(figure, style.air_mm);
            vec![label.along(base, self.axis.turn_deg(), style)]
        };
        let mut steps = Vec::new();
        for (from, to) in &self.spans {
            steps.push(Step::MoveTo(self.axis.at(*from)));
            steps.push(Step::LineTo(self.axis.at(*to)));
        }
        let mut marks = Vec::new();
        if !steps.is_empty() {
            marks.push(Path::line(steps, label.ink()).into());
        }
        for (tip, is_onward) in &self.heads {
            let sign = if *is_onward { 1.0 } else { -1.0 };
            let way = point(self.axis.way.x * sign, self.axis.way.y * sign);
            marks.push(arrow(self.axis.at(*tip), way, label.tone(), style));
        }
        marks.extend(words);
        marks
    }

    fn break_at(&mut self, from: f64, to: f64) {
        let spans = std::mem::take(&mut self.spans);
        for (start, end) in spans {
            self.spans
                .extend([(start, end.min(from)), (start.max(to), end)]);
        }
        self.spans.retain(|(start, end)| end - start > 0.05);
    }
}

/// A dimension line with its arrows and its figure, the figure at a share of the way if it fits.
fn measured_line(axis: Axis, share: f64, label: &Label, style: &Style) -> Vec<Mark> {
    let length = axis.length;
    let size = label.size(style);
    let (figure, room_with_arrows) = if label.space.is_some() {
        let through = 2.0 * (axis.half_through(size) + style.air_mm);
        (through, through + 2.0 * (style.arrow_mm + style.air_mm))
    } else {
        (size.0 + 2.0 * style.air_mm, 2.5 * style.arrow_mm)
    };
    let is_figure_inside = length >= figure;
    let are_arrows_inside =
        length >= room_with_arrows || (!is_figure_inside && length >= 2.5 * style.arrow_mm);
    let tail = if are_arrows_inside {
        0.0
    } else {
        2.0 * style.arrow_mm
    };
    let middle = if is_figure_inside {
        // Half a figure and an arrow away from the ends, or in the middle.
        let least = room_with_arrows.max(figure + 2.0 * style.arrow_mm) / 2.0;
        (length * share).max(least).min(length / 2.0)
    } else {
        length + tail.max(style.arrow_mm) + figure / 2.0
    };
    let last = if is_figure_inside {
        length + tail
    } else if label.space.is_some() {
        middle
    } else {
        middle + figure / 2.0 - style.air_mm
    };
    let mut layout = Layout {
        axis,
        spans: vec![(-tail, last)],
        heads: Vec::new(),
    };
    layout.head(0.0, !are_arrows_inside);
    layout.head(length, are_arrows_inside);
    layout.finish(middle, label, style)
}

/// A filled arrowhead with its tip at a place.
fn arrow(tip: Point, way: Point, tone: Tone, style: &Style) -> Mark {
    let half = style.arrow_mm * ARROW_HALF_WIDTH;
    let back = tip.along(way, -style.arrow_mm);
    let aside = point(-way.y, way.x);
    let corners = [tip, back.along(aside, half), back.along(aside, -half)];
    Path::area(polygon(&corners), Fill::Tone(tone)).into()
}

/// The sides of an angle that [`angular`] measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Angle {
    /// Where the sides meet.
    pub center: Point,
    /// The direction of the first side.
    pub from: f64,
    /// The direction of the second side; the arc runs from the first to it.
    pub to: f64,
    /// The radius of the arc.
    pub radius_mm: f64,
    /// How far from the center the two sides end on the drawing: beyond it, extension lines lead to
    /// the arc.
    pub drawn_mm: (f64, f64),
}

/// An angle by an arc with arrows, its figure upright beyond the arc's middle.
pub fn angular(angle: &Angle, label: &Label, style: &Style) -> Vec<Mark> {
    let Angle {
        center,
        from,
        to,
        radius_mm,
        drawn_mm,
    } = *angle;
    let sweep = to - from;
    // Also when one of them is no number.
    if !(radius_mm > 0.0 && sweep.abs() <= TAU) {
        return Vec::new();
    }
    let mut marks = Vec::new();
    for (side, drawn) in [(from, drawn_mm.0), (to, drawn_mm.1)] {
        let object = center.polar(drawn, side);
        if drawn < radius_mm {
            marks.extend(extension(
                object,
                center.polar(radius_mm, side),
                label.ink(),
                style,
            ));
        }
    }
    let sense = sweep.signum();
    let are_arrows_inside = sweep.abs() * radius_mm >= 2.5 * style.arrow_mm;
    let tail = if are_arrows_inside {
        0.0
    } else {
        2.0 * style.arrow_mm / radius_mm * sense
    };
    let steps = arc(center, radius_mm, from - tail, to + tail);
    marks.push(Path::line(steps, label.ink()).into());
    let outward = if are_arrows_inside { sense } else { -sense };
    for (end, sign) in [(from, -outward), (to, outward)] {
        // The arrow's middle, not its tip, lies along the arc.
        let lean = style.arrow_mm / 2.0 / radius_mm;
        let heading = end + sign * (FRAC_PI_2 - lean);
        let way = point(heading.cos(), heading.sin());
        marks.push(arrow(
            center.polar(radius_mm, end),
            way,
            label.tone(),
            style,
        ));
    }
    let middle = from + sweep / 2.0;
    let (width, height) = label.size(style);
    // Between narrow sides, the figure stands beyond the ends of their extension lines.
    let is_narrow = sweep.abs() * radius_mm < height + 2.0 * style.air_mm;
    let clear = if is_narrow {
        style.overrun_mm + style.air_mm / 2.0
    } else {
        style.air_mm
    };
    let beyond = f64::midpoint(middle.cos().abs() * width, middle.sin().abs() * height);
    let at = center.polar(radius_mm + clear + beyond, middle);
    marks.extend(label.upright(at, style));
    marks
}

/// How a leader ends on the object (ISO 128-2: an arrow on an edge, a dot on a surface).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeaderEnd {
    /// On an edge.
    Arrow,
    /// On a surface.
    Dot,
}

/// A note with a line that leads to what it speaks of.
///
/// From the tip the line runs to the elbow, and on level under the note, away from the tip.
pub fn leader(tip: Point, elbow: Point, end: LeaderEnd, label: &Label, style: &Style) -> Vec<Mark> {
    let (width, _) = label.size(style);
    let side = if elbow.x < tip.x { -1.0 } else { 1.0 };
    let far = elbow.x + side * (width + style.air_mm);
    let mut path = vec![tip, elbow];
    if label.space.is_none() {
        path.push(point(far, elbow.y));
    }
    let mut marks: Vec<Mark> = vec![Path::line(polyline(&path), label.ink()).into()];
    match (end, elbow.toward(tip)) {
        (LeaderEnd::Arrow, Some(way)) => marks.push(arrow(tip, way, label.tone(), style)),
        (LeaderEnd::Dot, _) => {
            let dot = super::circle(tip, style.arrow_mm / 6.0);
            marks.push(Path::area(dot, Fill::Tone(label.tone())).into());
        }
        _ => {}
    }
    if label.space.is_some() {
        let middle = elbow.x + side * f64::midpoint(width, style.air_mm);
        marks.extend(label.upright(point(middle, elbow.y), style));
    } else {
        // Anchored at the elbow, so that a wider typeface grows away from it.
        let at = point(elbow.x + side * style.air_mm / 2.0, elbow.y - style.air_mm);
        let anchor = if side < 0.0 {
            Anchor::End
        } else {
            Anchor::Start
        };
        marks.push(
            label
                .words(at, label.whole(), style)
                .anchored(anchor)
                .into(),
        );
    }
    marks
}

/// The middle lines of a circle: a cross that reaches a little past it.
pub fn center_cross(center: Point, radius_mm: f64, style: &Style) -> Vec<Mark> {
    let reach = radius_mm + style.overrun_mm;
    [0.0, FRAC_PI_2]
        .into_iter()
        .map(|angle| {
            let ends = [center.polar(reach, angle + PI), center.polar(reach, angle)];
            Path::line(polyline(&ends), Ink::Center).into()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const STYLE: Style = Style::PAPER;

    fn lines(marks: &[Mark]) -> Vec<(Point, Point)> {
        let paths = marks.iter().filter_map(|mark| match mark {
            Mark::Path(path) if path.ink.is_some() => Some(path),
            _ => None,
        });
        let mut lines = Vec::new();
        for path in paths {
            let mut here = Point::default();
            for step in &path.steps {
                match *step {
                    Step::MoveTo(p) => here = p,
                    Step::LineTo(p) => {
                        lines.push((here, p));
                        here = p;
                    }
                    _ => {}
                }
            }
        }
        lines
    }

    /// Tip and middle of the back of each arrowhead.
    fn arrows(marks: &[Mark]) -> Vec<(Point, Point)> {
        marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Path(path) if path.ink.is_none() => Some(&path.steps),
                _ => None,
            })
            .filter_map(|steps| match steps[..] {
                [
                    Step::MoveTo(tip),
                    Step::LineTo(a),
                    Step::LineTo(b),
                    Step::Close,
                ] => Some((tip, a.halfway(b))),
                _ => None,
            })
            .collect()
    }

    fn figure(marks: &[Mark]) -> &Words {
        let words = marks.iter().find_map(|mark| match mark {
            Mark::Words(words) if words.lettering.spoken() != "Ø" => Some(words),
            _ => None,
        });
        words.expect("a figure")
    }

    fn level(length: f64, label: &Label) -> Vec<Mark> {
        linear(
            point(0.0, 0.0),
            point(length, 0.0),
            Run::Level { y: 10.0 },
            label,
            &STYLE,
        )
    }

    #[test]
    fn extension_lines_leave_a_gap_and_run_past() {
        let marks = level(60.0, &Label::new("60"));
        let lines = lines(&marks);
        assert_eq!(lines[0], (point(0.0, 1.0), point(0.0, 12.0)));
        assert_eq!(lines[1], (point(60.0, 1.0), point(60.0, 12.0)));
        assert_eq!(lines[2], (point(0.0, 10.0), point(60.0, 10.0)));
    }

    #[test]
    fn arrows_point_outward_on_the_extension_lines() {
        let marks = level(60.0, &Label::new("60"));
        assert_eq!(
            arrows(&marks),
            [
                (point(0.0, 10.0), point(3.0, 10.0)),
                (point(60.0, 10.0), point(57.0, 10.0))
            ]
        );
        let words = figure(&marks);
        assert_eq!((words.at, words.turn_deg), (point(30.0, 9.0), 0.0));
    }

    #[test]
    fn short_dimensions_turn_their_arrows_and_put_the_figure_outside() {
        let marks = level(4.0, &Label::new("4.00"));
        let [left, right] = arrows(&marks)[..] else {
            panic!("two arrows")
        };
        assert_eq!((left.0.x, left.1.x), (0.0, -3.0));
        assert_eq!((right.0.x, right.1.x), (4.0, 7.0));
        let (least, _) = Mark::from(figure(&marks).clone())
            .bounds()
            .expect("drawable");
        assert!(least.x > 7.0, "{least:?}");
    }

    #[test]
    fn upright_figures_are_read_from_the_right() {
        for (from, to) in [(0.0, 50.0), (50.0, 0.0)] {
            let marks = linear(
                point(0.0, from),
                point(0.0, to),
                Run::Upright { x: -12.0 },
                &Label::new("50"),
                &STYLE,
            );
            let words = figure(&marks);
            assert!((words.turn_deg + 90.0).abs() < 1e-9);
            assert!(
                words.at.distance(point(-13.0, 25.0)) < 1e-9,
                "left of the line"
            );
        }
    }

    #[test]
    fn figures_never_stand_on_their_head() {
        for step in 0..48 {
            let angle = f64::from(step) * TAU / 48.0 + 0.01;
            let to = point(0.0, 0.0).polar(80.0, angle);
            let run = Run::Aligned { offset_mm: 8.0 };
            let marks = linear(point(0.0, 0.0), to, run, &Label::new("80"), &STYLE);
            let turn = figure(&marks).turn_deg;
            assert!((-90.001..=90.001).contains(&turn), "{turn}");
        }
    }

    #[test]
    fn a_positive_offset_lies_on_the_right_of_the_way() {
        let run = Run::Aligned { offset_mm: 8.0 };
        let marks = linear(
            point(0.0, 0.0),
            point(40.0, 0.0),
            run,
            &Label::new("40"),
            &STYLE,
        );
        assert!(lines(&marks).contains(&(point(0.0, 8.0), point(40.0, 8.0))));
    }

    #[test]
    fn the_line_keeps_out_of_the_room_of_a_field() {
        let label = Label::new("60").field("outside", 20.0, 12.7);
        let marks = level(60.0, &label);
        let words = figure(&marks);
        assert_eq!(words.at, point(30.0, 10.0));
        assert_eq!(words.field.as_ref().map(|field| field.width_mm), Some(20.0));
        let level: Vec<_> = lines(&marks)
            .into_iter()
            .filter(|(a, b)| (a.y - b.y).abs() < 1e-9)
            .collect();
        let expected = [
            (point(0.0, 10.0), point(19.0, 10.0)),
            (point(41.0, 10.0), point(60.0, 10.0)),
        ];
        assert_eq!(level, expected);
    }

    #[test]
    fn an_upright_line_breaks_by_the_height_of_the_field() {
        let label = Label::new("60").field("height", 40.0, 12.0);
        let run = Run::Upright { x: 0.0 };
        let marks = linear(point(5.0, 0.0), point(5.0, 60.0), run, &label, &STYLE);
        let gaps: Vec<f64> = lines(&marks)
            .iter()
            .filter(|(a, b)| a.x.abs() < 1e-9 && b.x.abs() < 1e-9)
            .map(|(a, b)| a.distance(*b))
            .collect();
        assert_eq!(gaps.len(), 2);
        assert!(
            gaps.iter().all(|length| (length - 23.0).abs() < 1e-9),
            "{gaps:?}"
        );
    }

    #[test]
    fn a_field_too_wide_for_its_dimension_goes_outside() {
        let label = Label::new("12").field("wall", 20.0, 12.7);
        let marks = level(12.0, &label);
        let words = figure(&marks);
        assert!(words.at.x - 10.0 >= 12.0 + STYLE.arrow_mm, "{:?}", words.at);
        for (a, b) in lines(&marks)
            .into_iter()
            .filter(|(a, b)| (a.y - b.y).abs() < 1e-9)
        {
            assert!(a.x.max(b.x) <= words.at.x - 10.0);
        }
    }

    #[test]
    fn a_sign_before_a_field_is_drawn_beside_it() {
        let label = Label::new("98").prefixed("Ø").field("outside", 20.0, 12.7);
        let marks = level(80.0, &label);
        let sign = marks.iter().find_map(|mark| match mark {
            Mark::Words(words) if words.field.is_none() => Some(words),
            _ => None,
        });
        let sign = sign.expect("the sign");
        assert!(sign.at.x + sign.width_mm() < figure(&marks).at.x - 10.0);
        let plain = level(80.0, &Label::new("98").prefixed("Ø"));
        assert_eq!(figure(&plain).lettering.spoken(), "Ø98");
    }

    #[test]
    fn a_diameter_spans_the_circle_and_clears_its_middle() {
        let center = point(50.0, 50.0);
        let marks = diameter(center, 40.0, 0.5, &Label::new("80"), &STYLE);
        for (tip, back) in arrows(&marks) {
            assert!((center.distance(tip) - 40.0).abs() < 1e-9);
            assert!((center.distance(back) - 37.0).abs() < 1e-9);
        }
        assert!(figure(&marks).at.distance(center) > 10.0);
    }

    #[test]
    fn a_radius_has_its_arrow_on_the_circle() {
        for angle in [0.4, 2.0, 3.5, 5.0] {
            let marks = radius(point(9.0, 9.0), 30.0, angle, &Label::new("R 30"), &STYLE);
            let [(tip, back)] = arrows(&marks)[..] else {
                panic!("one arrow")
            };
            assert!(tip.distance(point(9.0, 9.0).polar(30.0, angle)) < 1e-9);
            assert!((back.distance(point(9.0, 9.0)) - 27.0).abs() < 1e-9);
        }
    }

    #[test]
    fn an_angle_has_its_arrows_on_its_sides_whichever_way_it_runs() {
        let center = point(0.0, 0.0);
        for (from, to) in [(0.2, 1.2), (1.2, 0.2), (0.0, 0.05)] {
            let angle = Angle {
                center,
                from,
                to,
                radius_mm: 30.0,
                drawn_mm: (40.0, 40.0),
            };
            let marks = angular(&angle, &Label::new("57.3°"), &STYLE);
            let heads = arrows(&marks);
            assert_eq!(heads.len(), 2);
            let is_wide = (to - from).abs() > 0.1;
            for ((tip, back), side) in heads.into_iter().zip([from, to]) {
                assert!(tip.distance(center.polar(30.0, side)) < 1e-9);
                // The back of an arrow lies between the sides, or outside a narrow angle.
                let at = back.y.atan2(back.x);
                let is_between = at > from.min(to) && at < from.max(to);
                assert_eq!(is_between, is_wide, "{from} to {to}");
                assert!((center.distance(back) - 30.0).abs() < 0.2);
            }
        }
    }

    #[test]
    fn nothing_comes_of_what_is_no_number() {
        let bad = point(f64::NAN, 0.0);
        let run = Run::Level { y: 5.0 };
        let marks = linear(bad, point(1.0, 1.0), run, &Label::new("x"), &STYLE);
        assert!(marks.is_empty());
        assert!(diameter(bad, 5.0, 0.0, &Label::new("x"), &STYLE).is_empty());
        let angle = Angle {
            center: bad,
            from: 0.0,
            to: f64::NAN,
            radius_mm: 9.0,
            drawn_mm: (0.0, 0.0),
        };
        assert!(angular(&angle, &Label::new("x"), &STYLE).is_empty());
    }
}
