//! A body of triangles, and what its makers share.

use crate::draw::Color;
use crate::draw::palette::{BLACK, WHITE};
use crate::plan::rings::RingInStack;
use std::f64::consts::{FRAC_PI_4, TAU};
use std::ops::Range;

/// Triangles and lines over shared corners.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// x, y and z of each corner, millimeters.
    pub positions: Vec<f32>,
    /// The surface's direction at each corner, of length 1.
    pub normals: Vec<f32>,
    /// Red, green and blue of each corner: the color of its wood.
    pub colors: Vec<u8>,
    /// Three corners for each triangle, counterclockwise seen from outside.
    pub triangles: Vec<u32>,
    /// Two corners for each line: joints and edges.
    pub lines: Vec<u32>,
    /// Which of `triangles` belong to each ring, from the foot up.
    pub rings: Vec<Range<usize>>,
}

/// How finely round surfaces are broken into flats.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fineness {
    /// How far a straight line between two cuts may pass the wall's curve.
    pub(super) flatness_mm: f64,
    /// How much of the wall between two cuts the straight lines may win or lose. Where
    /// outside and inside run side by side, both err the same way and little is lost.
    pub(super) loss: f64,
    /// Flats round a full circle.
    pub(super) round_steps: f64,
}

/// For the screen. A regular polygon of 144 corners on a circle is short of its area by
/// (2π/144)²/6 = 0.03 %; 0.05 mm is far below what a screen shows.
pub(super) const FINE: Fineness = Fineness {
    flatness_mm: 0.05,
    loss: 5e-4,
    round_steps: 144.0,
};

impl Mesh {
    /// The lowest and highest corner, and the farthest from the axis, millimeters.
    pub fn bounds(&self) -> Bounds {
        let mut corners = self.positions.chunks_exact(3).map(|corner| {
            let [x, y, z] = [corner[0], corner[1], corner[2]].map(f64::from);
            (z, x.hypot(y))
        });
        let Some((z, radius)) = corners.next() else {
            return Bounds::default();
        };
        let first = Bounds {
            bottom_mm: z,
            top_mm: z,
            radius_mm: radius,
        };
        corners.fold(first, |bounds, (z, radius)| Bounds {
            bottom_mm: bounds.bottom_mm.min(z),
            top_mm: bounds.top_mm.max(z),
            radius_mm: bounds.radius_mm.max(radius),
        })
    }

    /// The ring that is met first on a way from a place, and where (Möller and Trumbore, Fast,
    /// minimum storage ray/triangle intersection, Journal of Graphics Tools 2, 1997).
    pub fn met(&self, from: [f64; 3], way: [f64; 3]) -> Option<(usize, [f64; 3])> {
        let corner = |index: u32| -> [f64; 3] {
            let start = index as usize * 3;
            std::array::from_fn(|axis| {
                f64::from(self.positions.get(start + axis).copied().unwrap_or(0.0))
            })
        };
        let mut nearest: Option<(usize, f64)> = None;
        for (ring, range) in self.rings.iter().enumerate() {
            for three in self.triangles[range.clone()].chunks_exact(3) {
                let [a, b, c] = [three[0], three[1], three[2]].map(corner);
                let (side, other) = (minus(b, a), minus(c, a));
                let across = cross(way, other);
                let facing = dot(side, across);
                let to = minus(from, a);
                let (u, over) = (dot(to, across) / facing, cross(to, side));
                let (v, far) = (dot(way, over) / facing, dot(other, over) / facing);
                let is_met = u >= 0.0 && v >= 0.0 && u + v <= 1.0 && far > 0.0;
                if is_met && nearest.is_none_or(|(_, least)| far < least) {
                    nearest = Some((ring, far));
                }
            }
        }
        nearest.map(|(ring, far)| {
            (
                ring,
                std::array::from_fn(|axis| from[axis] + way[axis] * far),
            )
        })
    }

    pub(super) fn corner(&mut self, at: [f64; 3], normal: [f64; 3], color: Color) -> u32 {
        let index = (self.positions.len() / 3) as u32;
        // Corners that meet are the same bits, but for the sines of half turns.
        let clean = |value: f64| {
            if value.abs() < 1e-9 {
                0.0
            } else {
                value as f32
            }
        };
        self.positions.extend(at.map(clean));
        self.normals.extend(normal.map(|part| part as f32));
        self.colors.extend([color.r, color.g, color.b]);
        index
    }

    /// A triangle, unless two of its corners meet.
    pub(super) fn triangle(&mut self, corners: [u32; 3]) {
        let at = |corner: u32| {
            let start = corner as usize * 3;
            self.positions.get(start..start + 3)
        };
        let [a, b, c] = corners.map(at);
        if a != b && b != c && c != a {
            self.triangles.extend(corners);
        }
    }

    /// A flat polygon without dents, counterclockwise seen from outside.
    pub(super) fn polygon(
        &mut self,
        corners: &[[f64; 3]],
        normal: [f64; 3],
        color: Color,
    ) -> Range<u32> {
        let start = (self.positions.len() / 3) as u32;
        for corner in corners {
            self.corner(*corner, normal, color);
        }
        let end = start + corners.len() as u32;
        for next in start + 1..end.saturating_sub(1) {
            self.triangle([start, next, next + 1]);
        }
        start..end
    }
}

fn minus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|axis| a[axis] - b[axis])
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// How far a mesh reaches, millimeters.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bounds {
    /// Lowest height.
    pub bottom_mm: f64,
    /// Greatest height.
    pub top_mm: f64,
    /// Greatest distance from the axis.
    pub radius_mm: f64,
}

/// The directions that are shown of a vessel with a quarter cut out.
pub(super) const OPENED: [f64; 2] = [FRAC_PI_4, TAU - FRAC_PI_4];

/// A spacer of the same wood would not be seen: it is shown darker, or lighter
/// between dark woods.
pub(super) fn spacer_color(planned: &RingInStack) -> Color {
    let wood = planned.color_of(0);
    let contrast = if wood.is_light() { BLACK } else { WHITE };
    wood.toward(contrast, 0.45)
}
