//! The outside of a vessel: a smooth curve through the points that the turner drags,
//! from foot to rim, and the wall inside it.
//!
//! The curve is a cubic between each two points. Height and radius are each
//! interpolated over the chord length by the monotone rule of Fritsch and Butland (A
//! method for constructing local monotone piecewise cubic interpolants, SIAM Journal
//! on Scientific and Statistical Computing 5, 1984): between two points neither leaves
//! the range of their values. So the curve never folds back, never crosses the axis,
//! and a belly is exactly as wide as its widest point.
//!
//! The wall is measured square to the surface. The inside is what no ball of the
//! wall's thickness, rolled along the outside curve, ever covers: with corners and
//! tight curves that is the only reading that leaves the wall everywhere.

use std::cell::OnceCell;
use std::rc::Rc;

/// Heights at which the hollow is taken.
const HOLLOW_SAMPLES: u32 = 320;

/// A point that the curve passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Above the foot, millimeters.
    pub height_mm: f64,
    /// From the axis, millimeters.
    pub radius_mm: f64,
    /// Whether the curve may turn sharply here.
    pub is_corner: bool,
}

/// A cubic between two points, in Bézier form over 0..1: height and radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Heights of the four control points; they rise.
    pub height_mm: [f64; 4],
    /// Radii of the four control points.
    pub radius_mm: [f64; 4],
}

/// A curve from foot to rim.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Its pieces, from the foot up; at least one.
    pub pieces: Vec<Piece>,
}

/// Value of a cubic in Bézier form.
fn bezier(control: &[f64; 4], t: f64) -> f64 {
    let s = 1.0 - t;
    s * s * (s * control[0] + 3.0 * t * control[1])
        + t * t * (3.0 * s * control[2] + t * control[3])
}

/// The parameters within 0..1 at which a cubic in Bézier form turns.
fn turning_points(control: &[f64; 4]) -> impl Iterator<Item = f64> {
    let [a, b, c] = [
        control[1] - control[0],
        control[2] - control[1],
        control[3] - control[2],
    ];
    // Derivative / 3: a (1−t)² + 2 b t (1−t) + c t².
    let (square, linear, constant) = (a - 2.0 * b + c, 2.0 * (b - a), a);
    let root = (linear * linear - 4.0 * square * constant).max(0.0).sqrt();
    // The form that loses no digits when the square's part is small.
    let q = -0.5 * (linear + root.copysign(linear));
    [q / square, constant / q]
        .into_iter()
        .filter(|t| t.is_finite() && (0.0..=1.0).contains(t))
}

impl Piece {
    /// Height and radius at a parameter from 0 to 1.
    pub fn at(&self, t: f64) -> (f64, f64) {
        (bezier(&self.height_mm, t), bezier(&self.radius_mm, t))
    }

    /// The parameter at a height within the piece. The height rises, so there is one: Newton's
    /// steps find it, and halving where one would leave what is left of the range.
    fn parameter_at(&self, height_mm: f64) -> f64 {
        let [a, b, c, d] = self.height_mm;
        let (mut low, mut high) = (0.0, 1.0);
        let mut t = ((height_mm - a) / (d - a)).clamp(0.0, 1.0);
        for _ in 0..48 {
            let off = bezier(&self.height_mm, t) - height_mm;
            if off < 0.0 {
                low = t;
            } else {
                high = t;
            }
            let s = 1.0 - t;
            let slope = 3.0 * (s * s * (b - a) + 2.0 * s * t * (c - b) + t * t * (d - c));
            let next = t - off / slope;
            let next = if next > low && next < high {
                next
            } else {
                f64::midpoint(low, high)
            };
            if (next - t).abs() < 1e-15 {
                return next;
            }
            t = next;
        }
        t
    }
}

/// The slope at a point between two chords (Fritsch and Butland): none where the
/// values turn, else a mean that leans to the flatter side.
fn slope_between(before: f64, after: f64, length_before: f64, length_after: f64) -> f64 {
    if before * after <= 0.0 {
        return 0.0;
    }
    let share = (length_before + 2.0 * length_after) / (3.0 * (length_before + length_after));
    before * after / (share * after + (1.0 - share) * before)
}

/// The slope at an end: the parabola's through the first three points, held within
/// what keeps the piece monotone.
fn slope_at_end(first: f64, second: f64, length_first: f64, length_second: f64) -> f64 {
    let slope = ((2.0 * length_first + length_second) * first - length_first * second)
        / (length_first + length_second);
    if slope * first <= 0.0 {
        0.0
    } else if slope.abs() > 3.0 * first.abs() {
        3.0 * first
    } else {
        slope
    }
}

/// Slopes at both ends of each piece, for one coordinate.
fn slopes(chords: &[f64], lengths: &[f64], is_corner: &[bool]) -> Vec<[f64; 2]> {
    let count = chords.len();
    let is_free = |point: usize| point == 0 || point == count || is_corner[point];
    (0..count)
        .map(|piece| {
            let start = match (is_free(piece), is_free(piece + 1)) {
                (false, _) => slope_between(
                    chords[piece - 1],
                    chords[piece],
                    lengths[piece - 1],
                    lengths[piece],
                ),
                (true, true) => chords[piece],
                (true, false) => slope_at_end(
                    chords[piece],
                    chords[piece + 1],
                    lengths[piece],
                    lengths[piece + 1],
                ),
            };
            let end = match (is_free(piece + 1), is_free(piece)) {
                (false, _) => slope_between(
                    chords[piece],
                    chords[piece + 1],
                    lengths[piece],
                    lengths[piece + 1],
                ),
                (true, true) => chords[piece],
                (true, false) => slope_at_end(
                    chords[piece],
                    chords[piece - 1],
                    lengths[piece],
                    lengths[piece - 1],
                ),
            };
            [start, end]
        })
        .collect()
}

impl Curve {
    /// The curve through the points. Nothing when there are fewer than two, when
    /// heights do not rise, or when a radius is negative or a number is none.
    pub fn through(points: &[Point]) -> Option<Curve> {
        let is_sound = |point: &Point| {
            point.height_mm.is_finite() && point.radius_mm.is_finite() && point.radius_mm >= 0.0
        };
        let rises = points
            .windows(2)
            .all(|two| two[1].height_mm > two[0].height_mm);
        if points.len() < 2 || !rises || !points.iter().all(is_sound) {
            return None;
        }
        let steps: Vec<(f64, f64, f64)> = points
            .windows(2)
            .map(|two| {
                let height = two[1].height_mm - two[0].height_mm;
                let radius = two[1].radius_mm - two[0].radius_mm;
                (height, radius, height.hypot(radius))
            })
            .collect();
        let lengths: Vec<f64> = steps.iter().map(|step| step.2).collect();
        let corners: Vec<bool> = points.iter().map(|point| point.is_corner).collect();
        let height_chords: Vec<f64> = steps.iter().map(|step| step.0 / step.2).collect();
        let radius_chords: Vec<f64> = steps.iter().map(|step| step.1 / step.2).collect();
        let height_slopes = slopes(&height_chords, &lengths, &corners);
        let radius_slopes = slopes(&radius_chords, &lengths, &corners);
        let control = |from: f64, to: f64, [start, end]: [f64; 2], length: f64| {
            [
                from,
                from + start * length / 3.0,
                to - end * length / 3.0,
                to,
            ]
        };
        let pieces = (0..steps.len())
            .map(|piece| {
                let (from, to) = (&points[piece], &points[piece + 1]);
                Piece {
                    height_mm: control(
                        from.height_mm,
                        to.height_mm,
                        height_slopes[piece],
                        lengths[piece],
                    ),
                    radius_mm: control(
                        from.radius_mm,
                        to.radius_mm,
                        radius_slopes[piece],
                        lengths[piece],
                    ),
                }
            })
            .collect();
        Some(Curve { pieces })
    }

    /// Height of the rim.
    pub fn height_mm(&self) -> f64 {
        self.pieces.last().map_or(0.0, |piece| piece.height_mm[3])
    }

    fn piece_at(&self, height_mm: f64) -> &Piece {
        let above = self
            .pieces
            .partition_point(|piece| piece.height_mm[3] < height_mm);
        &self.pieces[above.min(self.pieces.len() - 1)]
    }

    /// The radius at a height; beyond the ends, that of the end.
    pub fn radius_at(&self, height_mm: f64) -> f64 {
        let piece = self.piece_at(height_mm);
        bezier(&piece.radius_mm, piece.parameter_at(height_mm))
    }

    /// The largest radius between two heights.
    pub fn largest_radius(&self, from_mm: f64, to_mm: f64) -> f64 {
        self.widest(from_mm, to_mm).1
    }

    /// Where the curve is widest between two heights, and its radius there: at the ends, at a
    /// point, or where a piece turns.
    pub fn widest(&self, from_mm: f64, to_mm: f64) -> (f64, f64) {
        let mut widest = (from_mm, self.radius_at(from_mm));
        let mut look = |height: f64, radius: f64| {
            if radius > widest.1 {
                widest = (height, radius);
            }
        };
        look(to_mm, self.radius_at(to_mm));
        for piece in &self.pieces {
            if piece.height_mm[3] < from_mm || piece.height_mm[0] > to_mm {
                continue;
            }
            for t in turning_points(&piece.radius_mm).chain([0.0, 1.0]) {
                let (height, radius) = piece.at(t);
                if (from_mm..=to_mm).contains(&height) {
                    look(height, radius);
                }
            }
        }
        widest
    }

    /// Points along the curve, foot and rim included, `each` on every piece.
    pub fn samples(&self, each: u32) -> Vec<(f64, f64)> {
        let first = self.pieces.first().map(|piece| piece.at(0.0));
        let rest = self.pieces.iter().flat_map(|piece| {
            (1..=each).map(move |step| piece.at(f64::from(step) / f64::from(each)))
        });
        first.into_iter().chain(rest).collect()
    }
}

/// The wall of a vessel: what stays between the outside curve and the inside.
#[derive(Clone, Debug)]
pub struct Wall {
    /// The outside.
    pub outside: Curve,
    /// Thickness at the foot, square to the surface.
    pub foot_mm: f64,
    /// Thickness at the rim; in between it tapers evenly with the height.
    pub rim_mm: f64,
    /// Thickness of the floor.
    pub floor_mm: f64,
    /// Points along the outside with the wall's thickness there, rising.
    samples: Vec<Ball>,
    /// The same, so close together that every question finds enough of them within reach.
    balls: Vec<Ball>,
    /// The inside, once it was asked for, of all copies of it.
    hollow: Rc<OnceCell<Vec<(f64, f64)>>>,
}

/// The ball of the wall's thickness around a point of the outside.
#[derive(Clone, Copy, Debug)]
#[allow(clippy::struct_field_names, reason = "units stand in the names")]
struct Ball {
    /// Piece and parameter in one number.
    place: f64,
    height_mm: f64,
    radius_mm: f64,
    wall_mm: f64,
}

impl Ball {
    /// From its middle to another's.
    fn away_mm(&self, other: &Ball) -> f64 {
        (other.height_mm - self.height_mm).hypot(other.radius_mm - self.radius_mm)
    }

    /// How near the axis the ball comes between two heights; where it does not reach
    /// them, more than any radius, and the more the farther it is away.
    fn distance(&self, from_mm: f64, to_mm: f64) -> f64 {
        let away = (from_mm - self.height_mm)
            .max(self.height_mm - to_mm)
            .max(0.0);
        if away > self.wall_mm {
            return OUT_OF_REACH + away;
        }
        self.radius_mm - (self.wall_mm * self.wall_mm - away * away).sqrt()
    }
}

/// More than any radius, in millimeters.
const OUT_OF_REACH: f64 = 1e9;

/// Points on each piece of the curve, at least.
const POINTS_ON_A_PIECE: u32 = 64;

/// Balls are kept so many to a wall's thickness, and no more than so many on a piece (our own
/// choice, no published source).
const BALLS_IN_A_WALL: f64 = 10.0;
const MOST_BALLS_ON_A_PIECE: f64 = 1024.0;

/// Where fewer of the kept balls than this could reach, a question brings its own: so
/// that a very thin wall on a long side is found at every height.
const FEW_BALLS: usize = 12;

/// The nearest ball is found to this along the curve by golden sections; a parabola does the rest
/// (our own choice, no published source: `tests/vessel.rs` compares walls with brute force).
const NEAREST_MM: f64 = 0.01;

impl Wall {
    /// The wall inside a curve.
    pub fn inside(outside: Curve, foot_mm: f64, rim_mm: f64, floor_mm: f64) -> Wall {
        let mut wall = Wall {
            outside,
            foot_mm,
            rim_mm,
            floor_mm,
            samples: Vec::new(),
            balls: Vec::new(),
            hollow: Rc::default(),
        };
        let last = wall.outside.pieces.len() as f64;
        let count = POINTS_ON_A_PIECE * wall.outside.pieces.len() as u32;
        wall.samples = wall.balls_between(0.0, last, count);
        wall.balls = wall.close_balls();
        wall
    }

    /// Balls close together on every piece, each of its ends among them.
    fn close_balls(&self) -> Vec<Ball> {
        let apart_mm = self.foot_mm.min(self.rim_mm) / BALLS_IN_A_WALL;
        let mut balls = vec![self.ball_at(0.0)];
        let each = POINTS_ON_A_PIECE as usize;
        for (place, points) in self.samples.windows(each + 1).step_by(each).enumerate() {
            let chords = points.iter().zip(&points[1..]).map(|(a, b)| a.away_mm(b));
            let wanted = (chords.sum::<f64>() / apart_mm).min(MOST_BALLS_ON_A_PIECE);
            let count = POINTS_ON_A_PIECE.max(wanted as u32);
            let from = place as f64;
            balls.extend(self.balls_between(from, from + 1.0, count).drain(1..));
        }
        balls
    }

    /// Evenly spaced balls between two places, both included.
    fn balls_between(&self, from: f64, to: f64, count: u32) -> Vec<Ball> {
        (0..=count)
            .map(|step| from + (to - from) * f64::from(step) / f64::from(count))
            .map(|place| self.ball_at(place))
            .collect()
    }

    /// The place at a height; the end's beyond the ends.
    fn place_at(&self, height_mm: f64) -> f64 {
        let pieces = &self.outside.pieces;
        let above = pieces.partition_point(|piece| piece.height_mm[3] < height_mm);
        pieces.get(above).map_or(pieces.len() as f64, |piece| {
            above as f64 + piece.parameter_at(height_mm)
        })
    }

    /// The wall's thickness at a height.
    pub fn thickness_at(&self, height_mm: f64) -> f64 {
        let share = (height_mm / self.outside.height_mm().max(1e-9)).clamp(0.0, 1.0);
        self.foot_mm + (self.rim_mm - self.foot_mm) * share
    }

    /// The ball at a place along the curve: piece and parameter in one number.
    fn ball_at(&self, place: f64) -> Ball {
        let piece = (place.floor().max(0.0) as usize).min(self.outside.pieces.len() - 1);
        let (height_mm, radius_mm) =
            self.outside.pieces[piece].at((place - piece as f64).clamp(0.0, 1.0));
        Ball {
            place,
            height_mm,
            radius_mm,
            wall_mm: self.thickness_at(height_mm),
        }
    }

    /// The inside radius at a height above the floor; 0 where the wall fills it.
    pub fn inside_radius_at(&self, height_mm: f64) -> f64 {
        self.smallest_inside(height_mm, height_mm)
    }

    /// The smallest inside radius between two heights; 0 when any of it is floor, or
    /// filled by the wall.
    pub fn smallest_inside(&self, from_mm: f64, to_mm: f64) -> f64 {
        if from_mm < self.floor_mm - 1e-9 {
            return 0.0;
        }
        let thickest = self.foot_mm.max(self.rim_mm);
        let (low, high) = (from_mm - thickest, to_mm + thickest);
        let start = self.balls.partition_point(|ball| ball.height_mm < low);
        let end = self.balls.partition_point(|ball| ball.height_mm <= high);
        let nearest = if end - start < FEW_BALLS {
            let own = self.balls_between(self.place_at(low), self.place_at(high), 48);
            self.nearest_of(&own, from_mm, to_mm)
        } else {
            // One more on each side, to refine toward.
            let more = start.saturating_sub(1)..(end + 1).min(self.balls.len());
            self.nearest_of(&self.balls[more], from_mm, to_mm)
        };
        // Above the rim or below the foot no ball reaches: the curve's end counts.
        nearest
            .unwrap_or_else(|| self.outside.radius_at(from_mm))
            .max(0.0)
    }

    /// How near the axis the nearest of these balls, and those between them, come
    /// between two heights.
    fn nearest_of(&self, balls: &[Ball], from_mm: f64, to_mm: f64) -> Option<f64> {
        let mut smallest = f64::MAX;
        let (mut before, mut here) = (f64::MAX, balls.first()?.distance(from_mm, to_mm));
        for at in 0..balls.len() {
            let next = balls.get(at + 1);
            let after = next.map_or(f64::MAX, |it| it.distance(from_mm, to_mm));
            // Only where the balls turn can there be a nearer one between them.
            if here <= before && here <= after {
                let ends = [at.saturating_sub(1), (at + 1).min(balls.len() - 1)];
                let nearest = self.refined(ends.map(|it| balls[it]), from_mm, to_mm);
                smallest = smallest.min(nearest).min(here);
            }
            (before, here) = (here, after);
        }
        (smallest < OUT_OF_REACH).then_some(smallest)
    }

    /// The nearest ball between two, by golden sections and at last by a parabola.
    fn refined(&self, ends: [Ball; 2], from_mm: f64, to_mm: f64) -> f64 {
        let value = |place: f64| self.ball_at(place).distance(from_mm, to_mm);
        let golden = 0.618_033_988_749_895;
        let [mut low, mut high] = ends.map(|it| it.place);
        let mut apart_mm = ends[0].away_mm(&ends[1]);
        let (mut left, mut right) = (high - golden * (high - low), low + golden * (high - low));
        let (mut at_left, mut at_right) = (value(left), value(right));
        while apart_mm > NEAREST_MM {
            apart_mm *= golden;
            if at_left < at_right {
                (high, right, at_right) = (right, left, at_left);
                left = high - golden * (high - low);
                at_left = value(left);
            } else {
                (low, left, at_left) = (left, right, at_right);
                right = low + golden * (high - low);
                at_right = value(right);
            }
        }
        let (middle, here) = if at_left < at_right {
            (left, at_left)
        } else {
            (right, at_right)
        };
        let step = (high - low) / 2.0;
        let [before, after] = [-step, step].map(|it| value(middle + it));
        let bend = before + after - 2.0 * here;
        let turn = if bend > 0.0 {
            (step * (before - after) / (2.0 * bend)).clamp(-step, step)
        } else {
            0.0
        };
        here.min(before).min(after).min(value(middle + turn))
    }

    /// The inside as points from the floor's rim up, at `count` heights and one more.
    pub fn inside_samples(&self, count: u32) -> Vec<(f64, f64)> {
        let height = self.outside.height_mm();
        let floor = self.floor_mm.clamp(0.0, height);
        (0..=count)
            .map(|step| floor + (height - floor) * f64::from(step) / f64::from(count))
            .map(|z| (z, self.inside_radius_at(z)))
            .collect()
    }

    /// Heights and radii of the inside, close together.
    pub fn hollow(&self) -> &[(f64, f64)] {
        self.hollow
            .get_or_init(|| self.inside_samples(HOLLOW_SAMPLES))
    }

    /// The outside between two heights, both included, as points along the curve: close
    /// together where it runs almost level.
    pub fn outside_between(&self, from_mm: f64, to_mm: f64) -> Vec<(f64, f64)> {
        let end = |height| (height, self.outside.radius_at(height));
        let within = |ball: &&Ball| ball.height_mm > from_mm && ball.height_mm < to_mm;
        let between = self.samples.iter().filter(within);
        std::iter::once(end(from_mm))
            .chain(between.map(|ball| (ball.height_mm, ball.radius_mm)))
            .chain(std::iter::once(end(to_mm)))
            .collect()
    }

    /// Volume within the outside, cubic millimeters.
    pub fn outside_volume_mm3(&self) -> f64 {
        let profile: Vec<_> = self
            .samples
            .iter()
            .map(|ball| (ball.height_mm, ball.radius_mm))
            .collect();
        volume_mm3(&profile)
    }

    /// Volume that the vessel holds to the rim, cubic millimeters.
    pub fn held_volume_mm3(&self) -> f64 {
        volume_mm3(self.hollow())
    }
}

/// The part of a rising profile between two heights, cut there along its straight lines;
/// empty where it does not reach them.
pub fn between(profile: &[(f64, f64)], from_mm: f64, to_mm: f64) -> Vec<(f64, f64)> {
    let start = profile.partition_point(|at| at.0 <= from_mm);
    let end = profile.partition_point(|at| at.0 < to_mm);
    let cut = |upper: usize, height_mm: f64| {
        let (low, high) = (profile.get(upper.checked_sub(1)?)?, profile.get(upper)?);
        let share = (height_mm - low.0) / (high.0 - low.0);
        Some((height_mm, low.1 + (high.1 - low.1) * share))
    };
    let whole = profile.get(start..end).unwrap_or_default().iter().copied();
    let first = cut(start, from_mm);
    let last = cut(end, to_mm);
    first.into_iter().chain(whole).chain(last).collect()
}

/// The radius of a rising profile at a height, on its straight lines; nothing where it does
/// not reach.
pub fn radius_on(profile: &[(f64, f64)], height_mm: f64) -> Option<f64> {
    let upper = profile.partition_point(|at| at.0 < height_mm);
    let high = profile.get(upper)?;
    let Some(low) = upper.checked_sub(1).map(|it| profile[it]) else {
        return (high.0 <= height_mm).then_some(high.1);
    };
    Some(low.1 + (high.1 - low.1) * (height_mm - low.0) / (high.0 - low.0))
}

/// Volume of the body that a profile of points turns out, as a sum of cone frusta:
/// π h (R² + R r + r²) / 3 each (CRC Standard Mathematical Tables and Formulas, 30th
/// edition, frustum of a right circular cone).
pub fn volume_mm3(profile: &[(f64, f64)]) -> f64 {
    profile
        .windows(2)
        .map(|two| {
            let (height, from, to) = (two[1].0 - two[0].0, two[0].1, two[1].1);
            std::f64::consts::PI * height * (from * from + from * to + to * to) / 3.0
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(height_mm: f64, radius_mm: f64) -> Point {
        Point {
            height_mm,
            radius_mm,
            is_corner: false,
        }
    }

    #[test]
    fn a_straight_side_stays_straight_and_its_wall_is_square_to_it() {
        // 45°: a wall of 10 square to the side is 10 √2 measured level.
        let cone = Curve::through(&[point(0.0, 50.0), point(100.0, 150.0)]).unwrap();
        assert!((cone.radius_at(30.0) - 80.0).abs() < 1e-9);
        let wall = Wall::inside(cone, 10.0, 10.0, 5.0);
        let inside = wall.inside_radius_at(50.0);
        assert!(
            (inside - (100.0 - 10.0 * 2_f64.sqrt())).abs() < 1e-6,
            "{inside}"
        );
    }

    #[test]
    fn a_belly_is_as_wide_as_its_widest_point_and_never_folds() {
        let curve = Curve::through(&[
            point(0.0, 30.0),
            point(40.0, 80.0),
            point(90.0, 35.0),
            point(95.0, 40.0),
        ])
        .unwrap();
        assert!((curve.largest_radius(0.0, 95.0) - 80.0).abs() < 1e-9);
        let samples = curve.samples(200);
        assert!(samples.windows(2).all(|two| two[1].0 > two[0].0));
    }

    #[test]
    fn a_ring_needs_the_largest_outside_of_its_whole_span() {
        let curve =
            Curve::through(&[point(0.0, 30.0), point(40.0, 80.0), point(90.0, 35.0)]).unwrap();
        let brute = (0..=20_000)
            .map(|step| curve.radius_at(30.0 + f64::from(step) * 0.001))
            .fold(0.0, f64::max);
        assert!((curve.largest_radius(30.0, 50.0) - brute).abs() < 1e-6);
        assert!(
            curve.largest_radius(30.0, 50.0) > curve.radius_at(30.0).max(curve.radius_at(50.0))
        );
    }

    #[test]
    fn volumes_of_plain_bodies() {
        let cylinder = Curve::through(&[point(0.0, 50.0), point(100.0, 50.0)]).unwrap();
        let wall = Wall::inside(cylinder, 5.0, 5.0, 10.0);
        let pi = std::f64::consts::PI;
        assert!((wall.outside_volume_mm3() / (pi * 2500.0 * 100.0) - 1.0).abs() < 1e-12);
        assert!((wall.held_volume_mm3() / (pi * 45.0 * 45.0 * 90.0) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_profile_is_cut_at_both_heights() {
        let cone = [(10.0, 5.0), (20.0, 10.0), (40.0, 20.0)];
        let part = between(&cone, 15.0, 30.0);
        assert_eq!(part, [(15.0, 7.5), (20.0, 10.0), (30.0, 15.0)]);
        assert_eq!(between(&cone, 0.0, 100.0), cone);
        assert_eq!(between(&cone, 10.0, 20.0), cone[..2]);
        assert_eq!(between(&cone, 41.0, 50.0), []);
        assert_eq!(between(&cone, 0.0, 10.0).len(), 0);
        assert_eq!(between(&[], 0.0, 10.0), []);
    }

    #[test]
    fn what_is_no_curve_is_refused() {
        assert!(Curve::through(&[point(0.0, 1.0)]).is_none());
        assert!(Curve::through(&[point(0.0, 1.0), point(0.0, 2.0)]).is_none());
        assert!(Curve::through(&[point(0.0, 1.0), point(5.0, -2.0)]).is_none());
        assert!(Curve::through(&[point(0.0, 1.0), point(f64::NAN, 2.0)]).is_none());
    }
}
