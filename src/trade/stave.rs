//! Staves: boards standing up round the axis, leaning outward or inward, mitred to
//! each other along their length.
//!
//! Of N staves that lean t from vertical, φ = π/N: the miter drawn on the face is
//! atan(tan φ · sin t), the blade's tilt asin(sin φ · cos t) (Snyder and Gottesman,
//! Compound-Angle Joinery, 2014, revised 2015; checked against a printed setting
//! chart in `tests/published.rs`).

use crate::trade::ring::half_angle_rad;

/// What the turner wants. Lengths in millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WantedStaves {
    /// Number of staves, 3 to 360.
    pub count: u32,
    /// Lean from vertical, radians, −π/2 to π/2; positive widens toward the top.
    pub lean_rad: f64,
    /// Length of a stave along its slope.
    pub length_mm: f64,
    /// Outside diameter across the flats at the bottom.
    pub bottom_diameter_mm: f64,
}

/// How to saw the staves. Radians and millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Staves {
    /// Miter on the stave's face, from square.
    pub face_miter_rad: f64,
    /// Tilt of the blade, from upright.
    pub blade_tilt_rad: f64,
    /// Width of the outside face at the bottom.
    pub bottom_width_mm: f64,
    /// Width of the outside face at the top.
    pub top_width_mm: f64,
    /// Outside diameter across the flats at the top.
    pub top_diameter_mm: f64,
    /// Height of the standing staves.
    pub height_mm: f64,
}

/// The staves close to a point before their end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StavesPastCenter {
    /// The longest stave that still reaches the axis, millimeters.
    pub most_mm: f64,
}

impl WantedStaves {
    /// The two saw angles: miter on the face, tilt of the blade.
    pub fn saw_rad(&self) -> (f64, f64) {
        let angle = half_angle_rad(self.count);
        (
            (angle.tan() * self.lean_rad.sin()).atan(),
            (angle.sin() * self.lean_rad.cos()).asin(),
        )
    }

    /// All that is to be known of them.
    ///
    /// # Errors
    /// When leaning inward they would pass the axis before their end.
    pub fn staves(&self) -> Result<Staves, StavesPastCenter> {
        let (face_miter_rad, blade_tilt_rad) = self.saw_rad();
        let (sine, cosine) = self.lean_rad.sin_cos();
        let top_diameter_mm = self.bottom_diameter_mm + 2.0 * self.length_mm * sine;
        if top_diameter_mm < 0.0 {
            return Err(StavesPastCenter {
                most_mm: self.bottom_diameter_mm / (-2.0 * sine),
            });
        }
        let width = |diameter: f64| diameter * half_angle_rad(self.count).tan();
        Ok(Staves {
            face_miter_rad,
            blade_tilt_rad,
            bottom_width_mm: width(self.bottom_diameter_mm),
            top_width_mm: width(top_diameter_mm),
            top_diameter_mm,
            height_mm: self.length_mm * cosine,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn staves(count: u32, lean_deg: f64) -> WantedStaves {
        WantedStaves {
            count,
            lean_rad: lean_deg.to_radians(),
            length_mm: 200.0,
            bottom_diameter_mm: 100.0,
        }
    }

    #[test]
    fn four_sides_at_forty_five() {
        let (miter, tilt) = staves(4, 45.0).saw_rad();
        assert!((miter.to_degrees() - 35.264).abs() < 0.001);
        assert!((tilt.to_degrees() - 30.0).abs() < 1e-9);
    }

    #[test]
    fn standing_staves_are_tilted_and_lying_ones_mitred() {
        let (miter, tilt) = staves(12, 0.0).saw_rad();
        assert!(miter.abs() < 1e-12 && (tilt.to_degrees() - 15.0).abs() < 1e-9);
        let (miter, tilt) = staves(12, 90.0).saw_rad();
        assert!((miter.to_degrees() - 15.0).abs() < 1e-9 && tilt.abs() < 1e-9);
    }

    /// The miter on the face, built from corners in space: the angle between the
    /// joint's edge and the stave's middle line; the tilt from the joint plane.
    #[test]
    fn agrees_with_corners_in_space() {
        for count in 3..40 {
            for lean_deg in [-20.0, 0.0, 7.5, 30.0, 61.0] {
                let wanted = staves(count, lean_deg);
                let Ok(found) = wanted.staves() else { continue };
                let half_bottom = found.bottom_width_mm / 2.0;
                let half_top = found.top_width_mm / 2.0;
                let along = wanted.length_mm;
                let miter = ((half_top - half_bottom) / along).atan();
                assert!((miter - found.face_miter_rad).abs() < 1e-9);
                // Face normal and joint-plane normal meet at 90° less the tilt.
                let (sine, cosine) = wanted.lean_rad.sin_cos();
                let face = [cosine, 0.0, -sine];
                let angle = half_angle_rad(count);
                let joint = [-angle.sin(), angle.cos(), 0.0];
                let between: f64 = face.iter().zip(joint).map(|(a, b)| a * b).sum();
                assert!((between.abs().asin() - found.blade_tilt_rad).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn staves_that_would_cross_the_axis() {
        let StavesPastCenter { most_mm } = staves(8, -30.0).staves().unwrap_err();
        assert!((most_mm - 100.0).abs() < 1e-9);
    }
}
