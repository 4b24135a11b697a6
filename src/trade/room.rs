//! The room that glued rings leave for a wall, whether a wanted
//! curve stays in it, and the nearest curve that does.
//!
//! Everything rests on one remark. The wall is what balls of its thickness cover when
//! they are rolled along the outside curve ([`crate::trade::shape`]); so a point of the outside
//! is sound when it lies no farther out than its ring, and at least the wall's thickness
//! from every hole. The wall's thickness follows from the height. Hence each height has a
//! least and a most radius, whatever the curve does elsewhere, and a curve fits when it
//! stays between the two.

use crate::solve::nearest::{HalfSpace, dot, nearest_within, polynomial};
use crate::trade::round::{Facing, Round};
use crate::trade::shape::{Curve, Point};
use crate::units::kept::kept_choice;
use crate::units::length::round;

kept_choice! {
    /// Where a caliper was set to a ring.
    pub enum Across {
        /// From flat to flat.
        Flats = "flats",
        /// From corner to corner.
        Corners = "corners",
        /// Anywhere: it is turned round already.
        Round = "round",
    }
}

/// The true circles of one face of a ring, as radii. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// The largest circle that the outside still holds.
    pub outside_mm: f64,
    /// The smallest circle that the hole fits in; 0 without one.
    pub hole_mm: f64,
}

/// A ring in the glued stack. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GluedRing {
    /// Its place from the foot up.
    pub place: usize,
    /// Height of its lower face.
    pub bottom_mm: f64,
    /// Height of its upper face.
    pub top_mm: f64,
    /// Its lower face.
    pub lower: Face,
    /// Its upper face; in between outside and hole are straight.
    pub upper: Face,
}

/// Radius of the largest circle in an outside that was measured so. With an odd count a
/// corner faces each flat: R(1 + cos φ) from flat to corner, 2R cos(φ/2) over the two
/// corners that are farthest apart (regular polygon, R to the corner, φ = π/N). Of unlike
/// segments, φ the widest's, it is the least that any reading leaves.
pub fn circle_radius_mm(reading_mm: f64, across: Across, round: &Round) -> f64 {
    let cosine = round.kinds()[0].half_angle_rad.cos();
    match (across, round.facing()) {
        (Across::Round, _) | (Across::Flats, Facing::Flat) => reading_mm / 2.0,
        (_, Facing::Unlike) => reading_mm / 2.0 * cosine,
        (Across::Flats, Facing::Corner) => reading_mm * cosine / (1.0 + cosine),
        (Across::Corners, _) => hole_radius_mm(reading_mm, across, round) * cosine,
    }
}

/// Radius of the smallest circle around a hole that was measured so, to its corners; of
/// unlike segments the most that any reading leaves.
pub fn hole_radius_mm(reading_mm: f64, across: Across, round: &Round) -> f64 {
    let angle = round.kinds()[0].half_angle_rad;
    match (across, round.facing()) {
        (Across::Round, _) | (Across::Corners, Facing::Flat) => reading_mm / 2.0,
        (Across::Corners, Facing::Corner) => reading_mm / (2.0 * (angle / 2.0).cos()),
        (Across::Flats, Facing::Corner) => reading_mm / (1.0 + angle.cos()),
        (Across::Flats, Facing::Flat) | (_, Facing::Unlike) => reading_mm / (2.0 * angle.cos()),
    }
}

/// The rings as they stand on each other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stack {
    /// Those that can be counted, from the foot up.
    pub rings: Vec<GluedRing>,
    /// Height of all of them.
    pub height_mm: f64,
}

impl Face {
    /// The face between two others, `share` of the way up.
    fn between(lower: Face, upper: Face, share: f64) -> Face {
        let mix = |from: f64, to: f64| from + (to - from) * share;
        Face {
            outside_mm: mix(lower.outside_mm, upper.outside_mm),
            hole_mm: mix(lower.hole_mm, upper.hole_mm),
        }
    }
}

/// Heights this near count as one, millimeters.
const SAME_MM: f64 = 1e-9;

impl GluedRing {
    fn face_at(&self, height_mm: f64) -> Face {
        let share = (height_mm - self.bottom_mm) / (self.top_mm - self.bottom_mm);
        Face::between(self.lower, self.upper, share.clamp(0.0, 1.0))
    }

    fn reaches(&self, height_mm: f64) -> bool {
        height_mm >= self.bottom_mm - SAME_MM && height_mm <= self.top_mm + SAME_MM
    }

    fn has_hole(&self) -> bool {
        self.lower.hole_mm.max(self.upper.hole_mm) > 0.0
    }

    /// The part of it below a height.
    fn below(&self, height_mm: f64) -> Option<GluedRing> {
        (self.bottom_mm < height_mm).then(|| GluedRing {
            top_mm: self.top_mm.min(height_mm),
            upper: self.face_at(height_mm),
            ..*self
        })
    }

    /// How far out its hole's ball of a wall's thickness reaches at a height. The hole's
    /// side is straight, r = a + m·z, and the ball around its point at z' reaches
    /// a + m·z' + sqrt(w² − (z' − z)²): greatest at z' − z = w·m / sqrt(1 + m²), and
    /// concave, so that within the ring's faces the nearest place is the greatest.
    fn least_radius(&self, height_mm: f64, wall_mm: f64) -> f64 {
        let (low, high) = (
            (self.bottom_mm - height_mm).max(-wall_mm),
            (self.top_mm - height_mm).min(wall_mm),
        );
        if low > high || !self.has_hole() {
            return 0.0;
        }
        let slope = (self.upper.hole_mm - self.lower.hole_mm) / (self.top_mm - self.bottom_mm);
        let away = (wall_mm * slope / slope.hypot(1.0)).clamp(low, high);
        self.face_at(height_mm + away).hole_mm + (wall_mm * wall_mm - away * away).max(0.0).sqrt()
    }

    /// How far a point is from its hole; 0 within it.
    fn distance_to_hole(&self, height_mm: f64, radius_mm: f64) -> f64 {
        if !self.has_hole() {
            return f64::INFINITY;
        }
        if self.reaches(height_mm) && radius_mm <= self.face_at(height_mm).hole_mm {
            return 0.0;
        }
        // To the hole's side; above and below it to its edge, or level into it.
        let (height, run) = (
            self.top_mm - self.bottom_mm,
            self.upper.hole_mm - self.lower.hole_mm,
        );
        let along = ((height_mm - self.bottom_mm) * height
            + (radius_mm - self.lower.hole_mm) * run)
            / (height * height + run * run);
        let along = along.clamp(0.0, 1.0);
        let side = (height_mm - self.bottom_mm - along * height)
            .hypot(radius_mm - self.lower.hole_mm - along * run);
        let to_face = |face: &Face, away: f64| (radius_mm - face.hole_mm).max(0.0).hypot(away);
        side.min(to_face(&self.lower, self.bottom_mm - height_mm))
            .min(to_face(&self.upper, self.top_mm - height_mm))
    }
}

/// The room that rings leave for the wall of a curve as high as this.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// The rings, cut off at the curve's rim.
    rings: Vec<GluedRing>,
    /// Heights from and to which the curve is looked at: the rings, and what stands between
    /// and beside them, where the wall may still reach into a hole.
    looked: Vec<(f64, f64)>,
    /// Wall at the foot, square to the surface.
    foot_wall_mm: f64,
    /// Wall at the rim.
    rim_wall_mm: f64,
    /// Height of the curve.
    height_mm: f64,
    /// What a fitted curve keeps from the limits.
    kept_mm: f64,
}

/// Which side of the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The outside curve leaves the rings.
    Outside,
    /// The wall reaches into a hole.
    Inside,
}

/// Where a curve has least room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tightest {
    /// The height.
    pub height_mm: f64,
    /// Which side.
    pub side: Side,
    /// What is left there; negative where wood is missing. Level outside, square to the
    /// surface inside.
    pub left_mm: f64,
}

/// Intervals in which a ring is looked through before a low is refined.
const LOOKS: u32 = 16;

impl Room {
    /// The room for a wall like this under a curve of this height.
    pub fn new(stack: &Stack, foot_wall_mm: f64, rim_wall_mm: f64, height_mm: f64) -> Room {
        let rings: Vec<GluedRing> = stack
            .rings
            .iter()
            .filter_map(|ring| ring.below(height_mm))
            .collect();
        Room {
            looked: looked(&rings, height_mm.min(stack.height_mm)),
            rings,
            foot_wall_mm,
            rim_wall_mm,
            height_mm,
            kept_mm: KEPT_MM,
        }
    }

    /// The same, of which a fitted curve keeps so far from the limits.
    fn keeping(&self, kept_mm: f64) -> Room {
        Room {
            kept_mm,
            ..self.clone()
        }
    }

    /// The wall that is wanted at a height: as [`crate::trade::shape::Wall::thickness_at`].
    pub fn wall_at(&self, height_mm: f64) -> f64 {
        let share = (height_mm / self.height_mm.max(1e-9)).clamp(0.0, 1.0);
        self.foot_wall_mm + (self.rim_wall_mm - self.foot_wall_mm) * share
    }

    /// The largest outside radius at a height; at a joint that of the smaller ring.
    pub fn most_radius(&self, height_mm: f64) -> f64 {
        self.rings
            .iter()
            .filter(|ring| ring.reaches(height_mm))
            .map(|ring| ring.face_at(height_mm).outside_mm)
            .fold(f64::INFINITY, f64::min)
    }

    /// The smallest outside radius at a height that leaves the wall; 0 where no hole is
    /// near.
    pub fn least_radius(&self, height_mm: f64) -> f64 {
        let wall_mm = self.wall_at(height_mm);
        self.rings
            .iter()
            .map(|ring| ring.least_radius(height_mm, wall_mm))
            .fold(0.0, f64::max)
    }

    /// The thickest wall, square to the surface, under a point of the outside.
    pub fn thickest_wall(&self, height_mm: f64, radius_mm: f64) -> f64 {
        self.rings
            .iter()
            .map(|ring| ring.distance_to_hole(height_mm, radius_mm))
            .fold(f64::INFINITY, f64::min)
    }

    /// The lowest of a value between two heights, refined by golden sections.
    fn lowest_in((from, to): (f64, f64), value: &dyn Fn(f64) -> f64) -> (f64, f64) {
        let step = (to - from) / f64::from(LOOKS);
        let looks: Vec<(f64, f64)> = (0..=LOOKS)
            .map(|look| from + step * f64::from(look))
            .map(|height| (height, value(height)))
            .collect();
        let mut lowest = looks[0];
        for (at, here) in looks.iter().enumerate() {
            let before = looks[at.saturating_sub(1)];
            let after = looks[(at + 1).min(looks.len() - 1)];
            // A look at a face sees both rings there: it hides no low beside it.
            let is_low = here.1 <= before.1 && here.1 <= after.1 && here.1.is_finite();
            if is_low {
                let refined = golden(before.0, after.0, value);
                for found in [*here, refined] {
                    if found.1 < lowest.1 {
                        lowest = found;
                    }
                }
            }
        }
        lowest
    }

    /// The lowest of a value over all heights; nothing without a ring.
    fn lowest(&self, value: &dyn Fn(f64) -> f64) -> Option<(f64, f64)> {
        self.rings.first()?;
        self.looked
            .iter()
            .map(|heights| Room::lowest_in(*heights, value))
            .min_by(|one, other| one.1.total_cmp(&other.1))
    }

    /// What is left outside and inside at one height of a curve.
    fn left_at(&self, height_mm: f64, radius_mm: f64) -> (f64, f64) {
        (
            self.most_radius(height_mm) - radius_mm,
            self.thickest_wall(height_mm, radius_mm) - self.wall_at(height_mm),
        )
    }

    /// Where a curve has least room; nothing without a ring.
    pub fn tightest(&self, curve: &Curve) -> Option<Tightest> {
        let left = |height: f64| self.left_at(height, curve.radius_at(height));
        let (outside, inside) = (
            self.lowest(&|height| left(height).0)?,
            self.lowest(&|height| left(height).1)?,
        );
        let at = |(height_mm, left_mm): (f64, f64), side| Tightest {
            height_mm,
            side,
            left_mm,
        };
        Some(if outside.1 <= inside.1 {
            at(outside, Side::Outside)
        } else {
            at(inside, Side::Inside)
        })
    }

    /// The thickest wall that each ring allows under a curve, and where: the rings' places
    /// from the foot up. Endless where no hole is near.
    pub fn thickest_walls(&self, curve: &Curve) -> Vec<(usize, f64)> {
        let value = |height: f64| self.thickest_wall(height, curve.radius_at(height));
        self.rings
            .iter()
            .map(|ring| {
                let heights = (ring.bottom_mm, ring.top_mm);
                (ring.place, Room::lowest_in(heights, &value).1)
            })
            .collect()
    }

    /// The thickest even wall that any curve in these rings can have, and the height that
    /// bounds it; nothing without a hole. A curve along the rings' outside has it.
    pub fn thickest_even_wall(&self) -> Option<(f64, f64)> {
        self.lowest(&|height| self.thickest_wall(height, self.most_radius(height)))
            .filter(|found| found.1.is_finite())
    }

    /// Where no curve at all leaves the wall that is wanted, and how much is missing there.
    pub fn closed_at(&self) -> Option<(f64, f64)> {
        self.lowest(&|height| {
            self.thickest_wall(height, self.most_radius(height)) - self.wall_at(height)
        })
        .filter(|found| found.1 < 0.0)
    }

    /// Heights at which a curve is held, so many intervals a ring.
    fn stations(&self, each: u32) -> Vec<f64> {
        let between = |&(from, to): &(f64, f64)| {
            (0..=each).map(move |step| from + (to - from) * f64::from(step) / f64::from(each))
        };
        self.looked.iter().flat_map(between).collect()
    }
}

/// The rings' heights, and those between and beside them up to a top.
fn looked(rings: &[GluedRing], top_mm: f64) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    let mut from = 0.0;
    for ring in rings {
        all.extend([(from, ring.bottom_mm), (ring.bottom_mm, ring.top_mm)]);
        from = ring.top_mm;
    }
    all.push((from, top_mm));
    all.retain(|(from, to)| to - from > SAME_MM);
    all
}

/// The lowest of a value between two heights, by golden sections: 24 steps shrink the way
/// to a 100,000th.
fn golden(mut low: f64, mut high: f64, value: &dyn Fn(f64) -> f64) -> (f64, f64) {
    const GOLDEN: f64 = 0.618_033_988_749_895;
    for _ in 0..24 {
        let (left, right) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
        if value(left) < value(right) {
            high = right;
        } else {
            low = left;
        }
    }
    let middle = f64::midpoint(low, high);
    (middle, value(middle))
}

/// What a fitted curve keeps from the rings' limits: so that radii rounded to a hundredth
/// of a millimeter still fit.
pub const KEPT_MM: f64 = 0.02;

/// The most points that a fitted curve takes: as many as a vessel does.
const MOST_POINTS: usize = 40;

/// Least radius of a point (our own choice, no published source).
const LEAST_RADIUS_MM: f64 = 1.0;

/// The curve nearest to the wanted one that fits: the sum of the squares by which its
/// points' radii move is the least. Where the points are too few for any curve to fit, one
/// is added where it is missed most. Nothing when the rings leave no room for the wall.
pub fn nearest(wanted: &[Point], room: &Room) -> Option<Vec<Point>> {
    nearest_of(wanted, room, MOST_POINTS)
}

/// The same with no more points than these.
fn nearest_of(wanted: &[Point], room: &Room, most_points: usize) -> Option<Vec<Point>> {
    if room.rings.is_empty() || room.closed_at().is_some() {
        return None;
    }
    let mut points = wanted.to_vec();
    let mut swings = 0;
    loop {
        let curve = Curve::through(&points)?;
        let missed = match settle(&points, room) {
            Ok(found) => return Some(found),
            Err(missed) => missed,
        };
        swings += usize::from(missed.is_swinging);
        if points.len() >= most_points || swings > MOST_SWINGS {
            return None;
        }
        let height_mm = free_height(&points, missed.height_mm);
        let place = points.partition_point(|point| point.height_mm < height_mm);
        let added = Point {
            height_mm,
            radius_mm: curve.radius_at(height_mm),
            is_corner: false,
        };
        points.insert(place, added);
    }
}

/// Tries that come to no rest before none is looked for any more: one more point then hardly
/// ever helps, and each takes long.
const MOST_SWINGS: usize = 6;

/// Where a curve left its room, and whether it still moved when its turns were used up.
struct Missed {
    height_mm: f64,
    is_swinging: bool,
}

/// The height itself, where no point is near; else the middle of the longest step between
/// points beside it.
fn free_height(points: &[Point], height_mm: f64) -> f64 {
    let is_clear = |point: &Point| (point.height_mm - height_mm).abs() >= 2.0;
    if points.iter().all(is_clear) {
        return round(height_mm);
    }
    let beside = points
        .windows(2)
        .filter(|two| two[0].height_mm - 2.0 <= height_mm && two[1].height_mm + 2.0 >= height_mm)
        .max_by(|one, other| {
            let long = |two: &[Point]| two[1].height_mm - two[0].height_mm;
            long(one).total_cmp(&long(other))
        });
    beside.map_or(height_mm, |two| {
        round(f64::midpoint(two[0].height_mm, two[1].height_mm))
    })
}

fn moved(points: &[Point], radii: &[f64]) -> Vec<Point> {
    let pairs = points.iter().zip(radii);
    pairs
        .map(|(point, &radius_mm)| Point {
            radius_mm,
            ..*point
        })
        .collect()
}

/// The nearest curve through points at these heights; else the height at which the best
/// that was found misses most.
///
/// The curve's radius at a height hangs on the points' radii almost in proportion. So the
/// limits are put in proportion around what is found so far, the nearest radii within them
/// are found exactly, and so on until nothing moves (sequential quadratic programming;
/// Nocedal and Wright, Numerical Optimization, 2nd edition, chapter 18). Heights at which
/// the curve is held are added where it still leaves its room.
fn settle(points: &[Point], room: &Room) -> Result<Vec<Point>, Missed> {
    let wanted: Vec<f64> = points.iter().map(|point| point.radius_mm).collect();
    let mut radii = wanted.clone();
    let mut stations = room.stations(6);
    let mut missed_at = 0.0;
    let missed = |height_mm: f64, is_swinging: bool| {
        Err(Missed {
            height_mm,
            is_swinging,
        })
    };
    for turn in 0..48 {
        let Some(curve) = Curve::through(&moved(points, &radii)) else {
            return missed(missed_at, false);
        };
        let mut missing: f64 = 0.0;
        for heights in &room.looked {
            for (height, left) in lows(room, *heights, &curve) {
                if left < room.kept_mm / 2.0 {
                    stations.push(height);
                }
                if -left > missing {
                    (missing, missed_at) = (-left, height);
                }
            }
        }
        let halves = limits(points, &radii, &curve, room, &stations);
        let Some(next) = nearest_within(&wanted, &halves) else {
            return missed(missed_at, false);
        };
        let apart = radii.iter().zip(&next).map(|(a, b)| (a - b).abs());
        let change = apart.fold(0.0, f64::max);
        if change < 1e-4 && missing == 0.0 {
            let radii: Vec<f64> = next.iter().map(|&radius| round(radius)).collect();
            let found = moved(points, &radii);
            let fits = Curve::through(&found)
                .and_then(|curve| room.tightest(&curve))
                .is_some_and(|tightest| tightest.left_mm >= 0.0);
            return if fits {
                Ok(found)
            } else {
                missed(missed_at, false)
            };
        }
        // Where a bend comes and goes the steps would swing: later ones are shorter.
        let share = if turn < 8 {
            1.0
        } else {
            8.0 / f64::from(turn + 1)
        };
        for (radius, next) in radii.iter_mut().zip(&next) {
            *radius += share * (next - *radius);
        }
    }
    missed(missed_at, true)
}

/// Where between two heights a curve is nearest to its most and to its least radius, and how much
/// is left there.
fn lows(room: &Room, heights: (f64, f64), curve: &Curve) -> [(f64, f64); 2] {
    let outside = |height: f64| room.most_radius(height) - curve.radius_at(height);
    let inside = |height: f64| curve.radius_at(height) - room.least_radius(height);
    [
        Room::lowest_in(heights, &outside),
        Room::lowest_in(heights, &inside),
    ]
}

/// Limits nearer than this are taken up, millimeters; farther ones show up when the curve
/// comes near.
const NEAR_MM: f64 = 12.0;

/// The limits of the points' radii, in proportion around these.
fn limits(
    points: &[Point],
    radii: &[f64],
    curve: &Curve,
    room: &Room,
    stations: &[f64],
) -> Vec<HalfSpace> {
    const STEP_MM: f64 = 1e-4;
    let count = points.len();
    let nudged: Vec<Option<(Curve, Curve)>> = (0..count)
        .map(|place| {
            let curve_at = |by: f64| {
                let mut radii = radii.to_vec();
                radii[place] = (radii[place] + by).max(0.0);
                Curve::through(&moved(points, &radii))
            };
            curve_at(-STEP_MM).zip(curve_at(STEP_MM))
        })
        .collect();
    let mut halves = Vec::new();
    for &height in stations {
        let radius = curve.radius_at(height);
        let (outside, inside) = (
            room.most_radius(height) - radius,
            radius - room.least_radius(height),
        );
        if outside.min(inside) > NEAR_MM {
            continue;
        }
        let above = points.partition_point(|point| point.height_mm < height);
        let slopes: Vec<f64> = nudged
            .iter()
            .enumerate()
            .map(|(place, both)| {
                // A point bends the curve only two points to either side.
                let is_beside = place + 3 > above && place < above + 2;
                both.as_ref()
                    .filter(|_| is_beside)
                    .map_or(0.0, |(less, more)| {
                        (more.radius_at(height) - less.radius_at(height)) / (2.0 * STEP_MM)
                    })
            })
            .collect();
        let here = dot(&slopes, radii);
        if inside <= NEAR_MM {
            halves.push(HalfSpace {
                bound: here + room.kept_mm - inside,
                normal: slopes.clone(),
            });
        }
        if outside <= NEAR_MM {
            halves.push(HalfSpace {
                bound: room.kept_mm - outside - here,
                normal: slopes.iter().map(|slope| -slope).collect(),
            });
        }
    }
    for place in 0..count {
        let mut normal = vec![0.0; count];
        normal[place] = 1.0;
        halves.push(HalfSpace {
            normal,
            bound: LEAST_RADIUS_MM,
        });
    }
    halves
}

/// Heights at which the middle of the room is taken.
const MIDDLE_LOOKS: u32 = 120;

/// A smooth curve of few points in the middle of what the rings allow. Nothing when the rings
/// leave no room for the wall.
pub fn middle(stack: &Stack, room: &Room) -> Option<Vec<Point>> {
    smooth(stack, room, middle_at)
}

/// The same along the outside of what they allow, where the thickest walls are.
pub fn outermost(stack: &Stack, room: &Room) -> Option<Vec<Point>> {
    smooth(stack, room, |room, height_mm| {
        let most = room.most_radius(height_mm);
        Some((most, middle_at(room, height_mm)?.1))
    })
}

/// A polynomial over the height of degree 4, or less with fewer rings, so that it bends like
/// one belly and one neck and no more, through the radii at its heights, which count more or
/// less; then the nearest to it that fits.
fn smooth(
    stack: &Stack,
    room: &Room,
    at: impl Fn(&Room, f64) -> Option<(f64, f64)>,
) -> Option<Vec<Point>> {
    let looks: Vec<(f64, f64, f64)> = (0..=MIDDLE_LOOKS)
        .map(|look| f64::from(look) / f64::from(MIDDLE_LOOKS))
        .filter_map(|share| at(room, share * stack.height_mm).map(|it| (share, it.0, it.1)))
        .collect();
    let degree = stack.rings.len().min(4);
    let fitted = polynomial(&looks, degree)?;
    // A point more than the degree: the curve between them keeps its shape.
    let count = degree + 2;
    let points: Vec<Point> = (0..count)
        .map(|place| place as f64 / (count - 1) as f64)
        .map(|share| Point {
            height_mm: round(stack.height_mm * share),
            radius_mm: round(fitted(share).max(LEAST_RADIUS_MM)),
            is_corner: false,
        })
        .collect();
    // Off the limits where that can be, so that it can still be pulled either way: better by
    // a few points more than not at all.
    nearest_with_ease(&points, room)
}

/// The nearest curve that keeps off the limits, so that what a hand is off does not spoil it;
/// where none does, the nearest that fits.
pub fn nearest_with_ease(wanted: &[Point], room: &Room) -> Option<Vec<Point>> {
    let [.., least] = EASE_MM;
    let mut roomy = EASE_MM.into_iter().map(|kept_mm| room.keeping(kept_mm));
    roomy
        .find_map(|room| settle(wanted, &room).ok())
        .or_else(|| nearest_of(wanted, &room.keeping(least), wanted.len() + POINTS_MORE))
        .or_else(|| nearest(wanted, room))
}

/// So many points more a curve may take to keep off the limits (our own choice, no published
/// source).
const POINTS_MORE: usize = 2;

/// What a curve with ease keeps from the limits, where it can: the first of these that leaves
/// a curve (our own choice, no published source).
const EASE_MM: [f64; 3] = [3.0, 1.5, 0.5];

/// The middle of the room at a height, and how much it counts: the narrower, the more.
fn middle_at(room: &Room, height_mm: f64) -> Option<(f64, f64)> {
    let (least, most) = (room.least_radius(height_mm), room.most_radius(height_mm));
    if !most.is_finite() {
        return None;
    }
    // In a disc there is no hole to keep from: near its edge, as in a ring of two walls.
    let half = if least > 0.0 {
        (most - least) / 2.0
    } else {
        room.wall_at(height_mm).min(most / 4.0)
    };
    Some((most - half, 1.0 / (1.0 + half.max(0.0))))
}
