//! Steps of a path: lines, curves, arcs, and the lines that hatch an area.

use super::place::{Point, around, point};

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
    pub(super) fn points(self) -> ([Point; 3], usize) {
        match self {
            Self::MoveTo(p) | Self::LineTo(p) => ([p; 3], 1),
            Self::CurveTo(a, b, c) => ([a, b, c], 3),
            Self::Close => ([Point::default(); 3], 0),
        }
    }

    pub(super) fn mapped(self, map: impl Fn(Point) -> Point) -> Self {
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

/// The place on a cubic Bézier curve at a share of its way.
pub(super) fn on_curve(ends_and_handles: [Point; 4], share: f64) -> Point {
    let mut points = ends_and_handles;
    for count in (1..4).rev() {
        for index in 0..count {
            let (p, q) = (points[index], points[index + 1]);
            points[index] = point(p.x + (q.x - p.x) * share, p.y + (q.y - p.y) * share);
        }
    }
    points[0]
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
