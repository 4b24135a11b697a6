//! Paths as straight pieces: for what knows no curves (DXF of 1992) and for what is cut
//! at the edge of a sheet.

use super::path::on_curve;
use super::{Point, Step, point};

/// Points one after the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// The points; the last of a closed line is not its first again.
    pub points: Vec<Point>,
    /// Whether the last goes on to the first.
    pub is_closed: bool,
}

/// The straight pieces of a path, nowhere farther from its curves than the tolerance:
/// 0.01 mm is far below what a printer or a laser holds.
pub fn flatten(steps: &[Step], tolerance_mm: f64) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for step in steps {
        if let Step::MoveTo(at) = *step {
            lines.push(Line {
                points: vec![at],
                is_closed: false,
            });
            continue;
        }
        let Some(line) = lines.last_mut() else {
            continue;
        };
        match *step {
            Step::LineTo(at) => line.points.push(at),
            Step::CurveTo(a, b, end) => {
                let start = line.points.last().copied().unwrap_or_default();
                curve(&mut line.points, [start, a, b, end], tolerance_mm);
            }
            Step::Close | Step::MoveTo(_) => line.is_closed = true,
        }
    }
    for line in &mut lines {
        let ends_where_it_began =
            line.points.len() > 2 && line.points.first() == line.points.last();
        if line.is_closed && ends_where_it_began {
            line.points.pop();
        }
    }
    lines
}

/// Adds the points of a cubic behind its start. The count of pieces is Wang's bound on
/// the chord's distance, n² = 6/8 · max|second difference| / tolerance (G. Wang, "The
/// subdivision method for finding the intersection between two Bézier curves or
/// surfaces", 1984, from memory; `tests/packet.rs` measures it).
fn curve(points: &mut Vec<Point>, ends_and_handles: [Point; 4], tolerance_mm: f64) {
    let bend = ends_and_handles
        .windows(3)
        .map(|three| {
            let [a, b, c] = [three[0], three[1], three[2]];
            (a.x - 2.0 * b.x + c.x).hypot(a.y - 2.0 * b.y + c.y)
        })
        .fold(0.0, f64::max);
    let count = (0.75 * bend / tolerance_mm).sqrt().ceil().clamp(1.0, 500.0) as u32;
    points.extend(
        (1..count).map(|step| on_curve(ends_and_handles, f64::from(step) / f64::from(count))),
    );
    points.push(ends_and_handles[3]);
}

/// What of a line lies within an upright rectangle, by its corners top left and bottom
/// right: its pieces, in their order (Liang and Barsky's clipping, piece by piece).
pub fn clip(line: &Line, least: Point, most: Point) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let closing = line.points.first().filter(|_| line.is_closed);
    let all: Vec<Point> = line.points.iter().chain(closing).copied().collect();
    let mut goes_on = false;
    for two in all.windows(2) {
        let Some((from, to, is_whole)) = clip_straight(two[0], two[1], least, most) else {
            goes_on = false;
            continue;
        };
        match pieces.last_mut() {
            Some(piece) if goes_on && piece.last() == Some(&from) => piece.push(to),
            _ => pieces.push(vec![from, to]),
        }
        goes_on = is_whole;
    }
    pieces
}

/// The part of a straight line within the rectangle, and whether its end is in it.
fn clip_straight(
    from: Point,
    to: Point,
    least: Point,
    most: Point,
) -> Option<(Point, Point, bool)> {
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for (at, way, low, high) in [
        (from.x, to.x - from.x, least.x, most.x),
        (from.y, to.y - from.y, least.y, most.y),
    ] {
        if way.abs() < 1e-12 {
            if at < low || at > high {
                return None;
            }
            continue;
        }
        let (one, other) = ((low - at) / way, (high - at) / way);
        start = start.max(one.min(other));
        end = end.min(one.max(other));
    }
    if end - start < 1e-12 {
        return None;
    }
    let along = |share: f64| {
        point(
            from.x + (to.x - from.x) * share,
            from.y + (to.y - from.y) * share,
        )
    };
    let is_whole = end >= 1.0;
    Some((
        if start > 0.0 { along(start) } else { from },
        if is_whole { to } else { along(end) },
        is_whole,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{circle, polygon, polyline};

    #[test]
    fn a_flattened_circle_keeps_its_radius() {
        for radius in [3.0, 60.0, 900.0] {
            let lines = flatten(&circle(point(5.0, 7.0), radius), 0.01);
            assert!(lines.len() == 1 && lines[0].is_closed);
            for two in lines[0].points.windows(2) {
                let middle = two[0].halfway(two[1]).distance(point(5.0, 7.0));
                assert!((middle - radius).abs() < 0.015, "{radius}: {middle}");
            }
        }
    }

    #[test]
    fn a_line_through_the_rectangle_comes_out_in_pieces() {
        let zigzag = polyline(&[
            point(-5.0, 5.0),
            point(15.0, 5.0),
            point(15.0, 8.0),
            point(-5.0, 8.0),
        ]);
        let pieces = clip(
            &flatten(&zigzag, 0.01)[0],
            point(0.0, 0.0),
            point(10.0, 10.0),
        );
        assert_eq!(
            pieces,
            [
                [point(0.0, 5.0), point(10.0, 5.0)],
                [point(10.0, 8.0), point(0.0, 8.0)],
            ]
        );
        let inside = polygon(&[point(1.0, 1.0), point(2.0, 1.0), point(2.0, 2.0)]);
        let pieces = clip(
            &flatten(&inside, 0.01)[0],
            point(0.0, 0.0),
            point(10.0, 10.0),
        );
        assert_eq!(pieces[0].len(), 4);
        assert_eq!(pieces.len(), 1);
    }
}
