//! Outlines of what a stack is glued of, seen along the axis, and how far up they come as
//! somebody looks at them. Lengths in millimeters, directions in radians; in the frame of a
//! direction u runs along it from the axis, v sideways toward growing directions, and z along
//! the axis.

use std::f64::consts::{PI, TAU};

/// An outline round the axis, seen along it.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A circle of this radius, millimeters.
    Round(f64),
    /// The corners of flat-sided segments that are alike.
    Corners(Corners),
    /// The corners of others.
    Unlike(Polygon),
}

/// Corners round the axis, the axis within them.
#[derive(Clone, Debug, PartialEq)]
pub struct Polygon {
    /// Distance from the axis, millimeters, and direction, radians, of one after the other.
    corners: Vec<(f64, f64)>,
}

impl Polygon {
    /// The polygon of at least three corners, each by its distance and direction, in the
    /// order of a turn to growing directions.
    pub fn new(corners: impl IntoIterator<Item = (f64, f64)>) -> Polygon {
        Polygon {
            corners: corners.into_iter().collect(),
        }
    }

    /// Its sides, each from a corner to the next.
    fn sides(&self) -> impl Iterator<Item = [(f64, f64); 2]> + use<'_> {
        let next = |at: usize| match self.corners.get(at + 1) {
            Some(corner) => *corner,
            None => (self.corners[0].0, self.corners[0].1 + TAU),
        };
        let corners = self.corners.iter().enumerate();
        corners.map(move |(at, corner)| [*corner, next(at)])
    }

    /// The way along it from its first corner to a direction.
    fn way_mm(&self, direction_rad: f64) -> f64 {
        let length = |[(one, _), (other, _)]: [(f64, f64); 2], apart: f64| {
            (one * one + other * other - 2.0 * one * other * apart.cos())
                .max(0.0)
                .sqrt()
        };
        let Some((_, first)) = self.corners.first() else {
            return 0.0;
        };
        let turns = ((direction_rad - first) / TAU).floor();
        let within = direction_rad - turns * TAU;
        let way = |side: [(f64, f64); 2]| {
            let [(one, from), (other, to)] = side;
            if within >= to {
                return length(side, to - from);
            }
            if within <= from {
                return 0.0;
            }
            // The place of a chord in a direction, by the areas of the triangles beside it.
            let across = one * (within - from).sin() + other * (to - within).sin();
            let here = one * other * (to - from).sin() / across;
            length([(one, 0.0), (here, 0.0)], within - from)
        };
        let whole: f64 = self
            .sides()
            .map(|side| length(side, side[1].1 - side[0].1))
            .sum();
        turns * whole + self.sides().map(way).sum::<f64>()
    }
}

/// Corners at the joints of a ring: one at each, or two with something between the
/// segments. Millimeters and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corners {
    /// From the axis to a corner.
    pub radius_mm: f64,
    /// Number of joints.
    pub count: u32,
    /// Direction of a joint.
    pub joint_rad: f64,
    /// From the joint to a corner on either side of it; 0 where segments touch.
    pub aside_rad: f64,
}

impl Corners {
    /// From a direction to the nearest joint, within half a segment.
    fn joint_apart_rad(self, direction_rad: f64) -> f64 {
        let step = TAU / f64::from(self.count.max(1));
        (direction_rad - self.joint_rad + step / 2.0).rem_euclid(step) - step / 2.0
    }

    /// The corners in the frame of a direction, u and v, in the order of their angle.
    fn in_frame(&self, direction_rad: f64) -> impl Iterator<Item = (f64, f64)> + use<> {
        let corners = *self;
        let step = TAU / f64::from(corners.count.max(1));
        let first = -corners.joint_apart_rad(direction_rad);
        let (sine, cosine) = step.sin_cos();
        let mut both = [-corners.aside_rad, corners.aside_rad].map(|aside| {
            let (sine, cosine) = (first + aside).sin_cos();
            (corners.radius_mm * cosine, corners.radius_mm * sine)
        });
        // Each joint's corners are those of the one before, turned on by a step.
        (0..corners.count).flat_map(move |_| {
            let turned = both.map(|(u, v)| (u * cosine - v * sine, u * sine + v * cosine));
            std::mem::replace(&mut both, turned)
        })
    }
}

impl Outline {
    /// How far it reaches in a direction: where a level table touches it.
    pub fn reach_mm(&self, direction_rad: f64) -> f64 {
        match self {
            Outline::Round(radius) => *radius,
            Outline::Corners(corners) => {
                let to_corner = corners.joint_apart_rad(direction_rad).abs() - corners.aside_rad;
                corners.radius_mm * to_corner.cos()
            }
            Outline::Unlike(polygon) => {
                let along = |(radius, at): &(f64, f64)| radius * (at - direction_rad).cos();
                polygon.corners.iter().map(along).fold(0.0, f64::max)
            }
        }
    }

    /// How far it reaches at least: to its nearest side.
    pub fn least_mm(&self) -> f64 {
        match self {
            Outline::Round(radius) => *radius,
            Outline::Corners(corners) => {
                let step = TAU / f64::from(corners.count.max(1));
                let sides = [step / 2.0 - corners.aside_rad, corners.aside_rad];
                corners.radius_mm * sides[0].max(sides[1]).cos()
            }
            Outline::Unlike(polygon) => {
                let side = |[(one, from), (other, to)]: [(f64, f64); 2]| {
                    let (sine, cosine) = (to - from).sin_cos();
                    let long = (one * one + other * other - 2.0 * one * other * cosine).sqrt();
                    one * other * sine / long.max(1e-12)
                };
                polygon.sides().map(side).fold(f64::MAX, f64::min)
            }
        }
    }

    /// From which to which multiple of a way that starts somewhere is within it; u and v in
    /// the frame of a direction. Nothing where the way passes beside it.
    pub(super) fn crossed(
        &self,
        direction_rad: f64,
        from: (f64, f64),
        way: (f64, f64),
    ) -> Option<[f64; 2]> {
        match self {
            Outline::Round(radius) => {
                let square = way.0 * way.0 + way.1 * way.1;
                let half = (from.0 * way.0 + from.1 * way.1) / square;
                let apart = (from.0 * from.0 + from.1 * from.1 - radius * radius) / square;
                let root = half * half - apart;
                (root > 0.0).then(|| [-half - root.sqrt(), -half + root.sqrt()])
            }
            Outline::Corners(corners) => {
                let corners: Vec<_> = corners.in_frame(direction_rad).collect();
                crossed_sides(&corners, from, way)
            }
            Outline::Unlike(polygon) => {
                let in_frame = |(radius, at): &(f64, f64)| {
                    let (sine, cosine) = (at - direction_rad).sin_cos();
                    (radius * cosine, radius * sine)
                };
                let corners: Vec<_> = polygon.corners.iter().map(in_frame).collect();
                crossed_sides(&corners, from, way)
            }
        }
    }

    /// How far it reaches at most.
    pub fn farthest_mm(&self) -> f64 {
        match self {
            Outline::Round(radius) => *radius,
            Outline::Corners(corners) => corners.radius_mm,
            Outline::Unlike(polygon) => polygon.corners.iter().map(|it| it.0).fold(0.0, f64::max),
        }
    }

    /// The way along it to a direction, millimeters, from a place of its own: two differ by
    /// the way between them.
    pub fn round_mm(&self, direction_rad: f64) -> f64 {
        match self {
            Outline::Round(radius) => radius * direction_rad,
            Outline::Corners(corners) => {
                let step = TAU / f64::from(corners.count.max(1));
                let half_flat = step / 2.0 - corners.aside_rad;
                let apothem = corners.radius_mm * half_flat.cos();
                let across = corners.radius_mm * corners.aside_rad.sin();
                // Whole segments, joint to joint, then from the joint onward.
                let past = (direction_rad - corners.joint_rad) / step;
                let beyond = corners.joint_apart_rad(direction_rad);
                let whole = (past - beyond / step).round();
                let part = if beyond.abs() < corners.aside_rad {
                    corners.radius_mm * corners.aside_rad.cos() * beyond.tan()
                } else {
                    let on_flat = step / 2.0 - beyond.abs();
                    let rest = apothem * (half_flat.tan() - on_flat.tan());
                    (across + rest).copysign(beyond)
                };
                whole * 2.0 * (across + apothem * half_flat.tan()) + part
            }
            Outline::Unlike(polygon) => polygon.way_mm(direction_rad),
        }
    }

    /// Its farthest point from the axis along a direction, of what lies sideways
    /// between two places; nothing where there is none of it.
    pub fn top_mm(&self, direction_rad: f64, sideways_mm: [f64; 2]) -> Option<f64> {
        let upright = Seen {
            up: [1.0, 0.0, 0.0],
            across: [0.0, 1.0, 0.0],
        };
        self.top_seen(direction_rad, [0.0, 0.0], &upright, sideways_mm)
    }

    /// How far up any of it comes as it is seen, of what lies across between two places,
    /// where it stands upright from one height to another.
    pub(super) fn top_seen(
        &self,
        direction_rad: f64,
        heights_mm: [f64; 2],
        seen: &Seen,
        [from, to]: [f64; 2],
    ) -> Option<f64> {
        // Where no height is seen from above, its sides alone are asked, and a wider way.
        let is_level = seen.up[2] == 0.0;
        let [low, high] = heights_mm.map(|z| seen.across[2] * z);
        let (faces, within): (&[f64], _) = if is_level {
            (&[0.0], [from - low.max(high), to - low.min(high)])
        } else {
            (&heights_mm, [from, to])
        };
        match self {
            Outline::Round(radius) => seen.top_of_round(*radius, faces, within),
            Outline::Corners(corners) => {
                seen.top_of_sides(corners.in_frame(direction_rad), faces, within)
            }
            Outline::Unlike(polygon) => {
                let in_frame = |(radius, at): &(f64, f64)| {
                    let (sine, cosine) = (at - direction_rad).sin_cos();
                    (radius * cosine, radius * sine)
                };
                seen.top_of_sides(polygon.corners.iter().map(in_frame), faces, within)
            }
        }
    }
}

/// Corners nearer than this are one, and what rounding leaves between them has no side.
const ONE_CORNER_MM: f64 = 1e-9;

/// Where a way is on the inner side of all sides of a polygon that is nowhere hollow.
fn crossed_sides(corners: &[(f64, f64)], from: (f64, f64), way: (f64, f64)) -> Option<[f64; 2]> {
    let (mut least, mut most) = (f64::MIN, f64::MAX);
    for (place, one) in corners.iter().enumerate() {
        let other = corners[(place + 1) % corners.len()];
        let (along_u, along_v) = (other.0 - one.0, other.1 - one.1);
        if along_u.hypot(along_v) < ONE_CORNER_MM {
            continue;
        }
        let inward = |(u, v): (f64, f64)| along_u * v - along_v * u;
        let (here, each) = (inward((from.0 - one.0, from.1 - one.1)), inward(way));
        if each.abs() < 1e-12 {
            if here < 0.0 {
                return None;
            }
        } else if each > 0.0 {
            least = least.max(-here / each);
        } else {
            most = most.min(-here / each);
        }
    }
    (least < most).then_some([least, most])
}

/// How something is looked at: what counts as up and as across, each by its share of u, v
/// and z.
pub(super) struct Seen {
    /// What goes up.
    pub(super) up: [f64; 3],
    /// What goes across.
    pub(super) across: [f64; 3],
}

impl Seen {
    /// A place as it is seen: up, and across.
    fn place(&self, (u, v): (f64, f64), z: f64) -> (f64, f64) {
        let of = |[along_u, along_v, along_z]: [f64; 3]| along_u * u + along_v * v + along_z * z;
        (of(self.up), of(self.across))
    }

    /// The top of an upright prism: of its faces' sides, and of its upright edges.
    fn top_of_sides(
        &self,
        mut corners: impl Iterator<Item = (f64, f64)>,
        faces_mm: &[f64],
        within: [f64; 2],
    ) -> Option<f64> {
        let first = corners.next()?;
        let mut before = first;
        let mut top: Option<f64> = None;
        let mut add = |one: (f64, f64), other: (f64, f64)| {
            if let Some(here) = top_of_side(one, other, within) {
                top = Some(top.map_or(here, |it| it.max(here)));
            }
        };
        for corner in corners.chain([first]) {
            for z in faces_mm {
                add(self.place(before, *z), self.place(corner, *z));
            }
            if let [low, high] = faces_mm {
                add(self.place(corner, *low), self.place(corner, *high));
            }
            before = corner;
        }
        top
    }

    /// The top of a round one: the highest place of its faces, where they come to the ends of
    /// what is asked for, and the two lines in which its side is seen on edge.
    fn top_of_round(&self, radius: f64, faces_mm: &[f64], within: [f64; 2]) -> Option<f64> {
        let ([up_u, up_v, up_z], [across_u, across_v, across_z]) = (self.up, self.across);
        let on_round = |at: f64| (radius * at.cos(), radius * at.sin());
        let mut top: Option<f64> = None;
        let mut add = |one: (f64, f64), other: (f64, f64)| {
            if let Some(here) = top_of_side(one, other, within) {
                top = Some(top.map_or(here, |it| it.max(here)));
            }
        };
        for z in faces_mm {
            let highest = self.place(on_round(up_v.atan2(up_u)), *z);
            add(highest, highest);
            for end in within {
                let way = (end - across_z * z) / (radius * across_u.hypot(across_v)).max(1e-12);
                if way.abs() > 1.0 {
                    continue;
                }
                for aside in [way.acos(), -way.acos()] {
                    let (up, _) = self.place(on_round(across_v.atan2(across_u) + aside), *z);
                    add((up, end), (up, end));
                }
            }
        }
        if let [low, high] = faces_mm {
            let edge = (across_v * up_z - up_v * across_z).atan2(across_u * up_z - up_u * across_z);
            for at in [edge, edge + PI] {
                add(
                    self.place(on_round(at), *low),
                    self.place(on_round(at), *high),
                );
            }
        }
        top
    }
}

/// The farthest point of a straight side along u, of what lies between two v.
fn top_of_side((u1, v1): (f64, f64), (u2, v2): (f64, f64), [from, to]: [f64; 2]) -> Option<f64> {
    let (low, high) = (v1.min(v2).max(from), v1.max(v2).min(to));
    if low > high {
        return None;
    }
    if (v2 - v1).abs() < 1e-12 {
        return Some(u1.max(u2));
    }
    let at = |v: f64| u1 + (u2 - u1) * (v - v1) / (v2 - v1);
    Some(at(low).max(at(high)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_that_rounding_parts_are_one() {
        for at in 0..1000 {
            let direction_rad = f64::from(at) * 0.017;
            let of = |aside_rad: f64| {
                let corners = Corners {
                    radius_mm: 47.0,
                    count: 3 + at % 30,
                    joint_rad: 0.3,
                    aside_rad,
                };
                let way = (-1.0, 0.1);
                Outline::Corners(corners).crossed(direction_rad, (60.0, 4.0), way)
            };
            let whole = of(0.0).expect("it passes near the axis");
            for aside_rad in [1e-17, 4e-17, -4e-17, 1e-16, -2e-16] {
                let parted = of(aside_rad).expect("the same");
                for (one, other) in whole.iter().zip(parted) {
                    assert!((one - other).abs() < 1e-9, "{at} {aside_rad}");
                }
            }
        }
    }
}
