//! Where the turning view is seen from: a camera that is carried round the piece.

use crate::show::mesh::Bounds;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Half of the view's angle: little, as with a long lens, so that the shape is not
/// distorted.
const HALF_VIEW_RAD: f64 = 0.2;

/// Room left round the piece.
const MARGIN: f64 = 1.04;

/// A camera that looks at the middle of the piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Direction from the axis, radians, 0 at the front, growing to the right.
    pub direction_rad: f64,
    /// Height above level, radians.
    pub height_rad: f64,
    /// How many times larger than fitted.
    pub zoom: f64,
}

impl Default for Camera {
    /// From the front and somewhat above, as a piece stands on a table.
    fn default() -> Self {
        Camera {
            direction_rad: 0.0,
            height_rad: 0.42,
            zoom: 1.0,
        }
    }
}

/// What the shader needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// From millimeters to the screen's cube, column after column.
    pub matrix: [f32; 16],
    /// To the right, up and toward the eye, in the piece's axes.
    pub axes: [[f32; 3]; 3],
    /// Where the eye is, millimeters.
    pub eye_mm: [f64; 3],
    /// How far from the middle of the screen, of its half sides, a step to the right and a step
    /// up are seen that are as long as the way from the eye.
    scale: [f64; 2],
}

impl View {
    /// The direction from the eye to a place on the screen: to the right and up from its middle,
    /// as shares of its half sides.
    pub fn ray(&self, right: f64, up: f64) -> [f64; 3] {
        let [across, upward] = self.scale;
        std::array::from_fn(|axis| {
            let [to_right, to_top, to_eye] = self.axes.map(|of| f64::from(of[axis]));
            to_right * right / across + to_top * up / upward - to_eye
        })
    }
}

impl Camera {
    /// Carries the camera so that the piece follows a finger over a view this large:
    /// across its lesser side is half a turn.
    pub fn orbit(&mut self, across_px: f64, down_px: f64, lesser_side_px: f64) {
        let turn = PI / lesser_side_px.max(1.0);
        self.direction_rad = (self.direction_rad - across_px * turn).rem_euclid(TAU);
        self.height_rad = (self.height_rad + down_px * turn).clamp(-FRAC_PI_2, FRAC_PI_2);
    }

    /// Follows two fingers, their places as x and y of one and of the other: as they part
    /// it comes nearer.
    pub fn pinch(&mut self, from: [f64; 4], to: [f64; 4]) {
        let apart = |[x1, y1, x2, y2]: [f64; 4]| (x2 - x1).hypot(y2 - y1);
        self.zoom_by(apart(to) / apart(from));
    }

    /// Comes nearer (above 1) or goes away.
    pub fn zoom_by(&mut self, factor: f64) {
        if factor.is_finite() && factor > 0.0 {
            self.zoom = (self.zoom * factor).clamp(0.5, 6.0);
        }
    }

    /// Right, up and toward the eye.
    fn axes(&self) -> [[f64; 3]; 3] {
        let (sine, cosine) = self.direction_rad.sin_cos();
        let (rise, level) = self.height_rad.sin_cos();
        [
            [cosine, sine, 0.0],
            [-sine * rise, cosine * rise, level],
            [sine * level, -cosine * level, rise],
        ]
    }

    /// The view of a piece on a screen of this width over height.
    pub fn view(&self, bounds: &Bounds, width_for_height: f64) -> View {
        let middle = f64::midpoint(bounds.bottom_mm, bounds.top_mm);
        let reach = bounds
            .radius_mm
            .hypot((bounds.top_mm - bounds.bottom_mm) / 2.0)
            .max(1e-3);
        let axes = self.axes();
        // The ball round the piece touches the sides of the narrower angle of view.
        let distance = reach * MARGIN / HALF_VIEW_RAD.sin();
        let scale = self.zoom / HALF_VIEW_RAD.tan();
        let across = scale * (1.0 / width_for_height).min(1.0);
        let upward = scale * width_for_height.min(1.0);
        let (near, far) = (distance - 1.01 * reach, distance + 1.01 * reach);
        // Rows of the projection of (right, up, toward, 1), the usual one (OpenGL 4.6,
        // compatibility profile, 12.1.1, Frustum) with the eye at `distance`.
        let depth = (far + near) / (far - near);
        let shift = 2.0 * far * near / (far - near);
        let row = |axis: [f64; 3], factor: f64, constant: f64| {
            [
                axis[0] * factor,
                axis[1] * factor,
                axis[2] * factor,
                constant - axis[2] * factor * middle,
            ]
        };
        let rows = [
            row(axes[0], across, 0.0),
            row(axes[1], upward, 0.0),
            row(axes[2], -depth, depth * distance - shift),
            row(axes[2], -1.0, distance),
        ];
        let mut matrix = [0.0; 16];
        for (place, value) in matrix.iter_mut().enumerate() {
            *value = rows[place % 4][place / 4] as f32;
        }
        View {
            matrix,
            axes: axes.map(|axis| axis.map(|part| part as f32)),
            eye_mm: std::array::from_fn(|axis| {
                axes[2][axis] * distance + if axis == 2 { middle } else { 0.0 }
            }),
            scale: [across, upward],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fingers_that_part_come_nearer_and_those_that_meet_do_nothing_wild() {
        let zoom = |from, to| {
            let mut camera = Camera::default();
            camera.pinch(from, to);
            camera.zoom / Camera::default().zoom
        };
        let near = [10.0, 20.0, 40.0, 60.0];
        let far = [10.0, 20.0, 70.0, 100.0];
        assert!((zoom(near, far) - 2.0).abs() < 1e-12);
        assert!((zoom(far, near) - 0.5).abs() < 1e-12);
        for wild in [[5.0; 4], [f64::NAN; 4]] {
            assert!((zoom(wild, near) - 1.0).abs() < 1e-12);
        }
    }

    const BOWL: Bounds = Bounds {
        bottom_mm: 0.0,
        top_mm: 100.0,
        radius_mm: 120.0,
    };

    fn seen(view: &View, [x, y, z]: [f64; 3]) -> [f64; 3] {
        let m = |row: usize, column: usize| f64::from(view.matrix[column * 4 + row]);
        let row = |row: usize| m(row, 0) * x + m(row, 1) * y + m(row, 2) * z + m(row, 3);
        [0, 1, 2].map(|axis| row(axis) / row(3))
    }

    #[test]
    fn the_whole_piece_is_in_view_from_everywhere() {
        for (direction, height, shape) in [(0.0, 0.4, 1.5), (1.0, -1.5, 0.5), (4.0, FRAC_PI_2, 1.0)]
        {
            let camera = Camera {
                direction_rad: direction,
                height_rad: height,
                zoom: 1.0,
            };
            let view = camera.view(&BOWL, shape);
            let mut widest: f64 = 0.0;
            for step in 0..64 {
                let around = f64::from(step) * TAU / 64.0;
                for z in [0.0, 100.0] {
                    let at = [120.0 * around.cos(), 120.0 * around.sin(), z];
                    let place = seen(&view, at);
                    assert!(place.iter().all(|part| part.abs() < 1.0), "{place:?}");
                    widest = widest.max(place[0].abs().max(place[1].abs()));
                }
            }
            assert!(widest > 0.7, "{widest}");
        }
    }

    #[test]
    fn the_front_is_nearer_and_its_right_is_right() {
        let view = Camera::default().view(&BOWL, 1.0);
        let [front, back] = [-120.0, 120.0].map(|y| seen(&view, [0.0, y, 50.0]));
        assert!(front[2] < back[2]);
        assert!(front[1] < back[1], "from above, the back is higher up");
        assert!(seen(&view, [50.0, 0.0, 50.0])[0] > 0.1);
        assert!(seen(&view, [0.0, 0.0, 100.0])[1] > seen(&view, [0.0, 0.0, 0.0])[1]);
    }

    #[test]
    fn the_piece_follows_the_finger() {
        let mut camera = Camera::default();
        let front = [0.0, -120.0, 50.0];
        let before = seen(&camera.view(&BOWL, 1.0), front);
        camera.orbit(20.0, 10.0, 400.0);
        let after = seen(&camera.view(&BOWL, 1.0), front);
        assert!(
            after[0] > before[0] && after[1] < before[1],
            "{before:?} {after:?}"
        );
        camera.orbit(0.0, 1e9, 400.0);
        assert!((camera.height_rad - FRAC_PI_2).abs() < 1e-12);
        camera.zoom_by(1e9);
        camera.zoom_by(f64::NAN);
        assert!((camera.zoom - 6.0).abs() < 1e-12);
    }
}
