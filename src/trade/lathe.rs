//! At the lathe: how fast it may turn, whether the wood pulls to one side, where to set
//! the calipers, and how far the tool stands out from the rest.

use crate::trade::shape::Wall;
use crate::units::length::MM_PER_INCH;
use std::f64::consts::{PI, TAU};

/// Diameter in inches times turns a minute for roughing: the bound while there are corners
/// (common practice, no published source; also read in an undated vocational exercise).
pub const SLOW_IN_RPM: f64 = 6_000.0;

/// The same for finishing: the bound once it is round, to come near from below.
pub const FAST_IN_RPM: f64 = 9_000.0;

/// Speeds for a diameter. Turns a minute, meters a second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Speeds {
    /// Never above, while it has corners.
    pub slow_rpm: f64,
    /// Never above, once it is round.
    pub fast_rpm: f64,
    /// Speed of the rim at the upper bound.
    pub rim_m_s: f64,
}

/// The speed bounds of a diameter above 0.
pub fn speeds(diameter_mm: f64) -> Speeds {
    let inches = diameter_mm.max(1.0) / MM_PER_INCH;
    let fast_rpm = FAST_IN_RPM / inches;
    Speeds {
        slow_rpm: SLOW_IN_RPM / inches,
        fast_rpm,
        rim_m_s: rim_m_s(diameter_mm.max(1.0), fast_rpm),
    }
}

/// Speed of a rim: π times diameter times turns.
pub fn rim_m_s(diameter_mm: f64, rpm: f64) -> f64 {
    PI * diameter_mm / 1000.0 * rpm / 60.0
}

/// Thickness of a waste block, 1 1/2 in (common practice, no published source).
pub const BLOCK_MM: f64 = 1.5 * MM_PER_INCH;

/// What an open face loses each time it is turned flat: 0.25 mm, about 0.01 in (common
/// practice, no published source).
pub const FACED_MM: f64 = 0.25;

/// The neck that is left when a block is parted off, as a share of what stands on it (common
/// practice, no published source).
pub const NECK_SHARE: f64 = 0.25;

/// A faceplate is at least this share of what it carries: between a third, as for round work,
/// and a half, as for work out of round (common practice, no published source).
pub const FACEPLATE_SHARE: f64 = 0.4;

/// Diameter of the waste block for a piece so wide over its corners: 10 mm more, so that
/// the circle for the corners is seen on it (our own choice, no published source).
pub fn block_mm(across_mm: f64) -> f64 {
    across_mm + 10.0
}

/// Where the mass of something lies against the axis.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Balance {
    /// Mass, kilograms.
    pub mass_kg: f64,
    /// Mass times its distance to the right of the axis, seen from above; kg mm.
    pub aside_kg_mm: f64,
    /// Mass times its distance to the front.
    pub ahead_kg_mm: f64,
}

impl Balance {
    /// How far the center of mass lies off the axis, millimeters.
    pub fn offset_mm(&self) -> f64 {
        if self.mass_kg <= 0.0 {
            return 0.0;
        }
        self.aside_kg_mm.hypot(self.ahead_kg_mm) / self.mass_kg
    }

    /// How hard it pulls at the spindle at this speed, newtons: m e ω².
    pub fn pull_n(&self, rpm: f64) -> f64 {
        let omega = rpm / 60.0 * TAU;
        self.aside_kg_mm.hypot(self.ahead_kg_mm) / 1000.0 * omega * omega
    }

    /// Both together.
    #[must_use]
    pub fn and(self, other: Balance) -> Balance {
        Balance {
            mass_kg: self.mass_kg + other.mass_kg,
            aside_kg_mm: self.aside_kg_mm + other.aside_kg_mm,
            ahead_kg_mm: self.ahead_kg_mm + other.ahead_kg_mm,
        }
    }
}

/// A pull above this share of the weight is worth a word: a tenth (our own choice, no
/// published source).
pub const PULL_SHARE: f64 = 0.1;

/// Standard gravity, m/s² (ISO 80000-3).
pub const GRAVITY_M_S2: f64 = 9.806_65;

/// A segment of a ring: a trapezoid, seen along the axis. Millimeters, kilograms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trapezoid {
    /// Its long edge, outside.
    pub long_mm: f64,
    /// Its short edge.
    pub short_mm: f64,
    /// From one to the other.
    pub width_mm: f64,
    /// From the axis to the short edge.
    pub inside_mm: f64,
}

impl Trapezoid {
    /// Area, square millimeters.
    pub fn area_mm2(&self) -> f64 {
        f64::midpoint(self.long_mm, self.short_mm) * self.width_mm
    }

    /// From the axis to its center of area, which lies at a third of the width, weighed
    /// by the two edges (CRC Standard Mathematical Tables and Formulas, 30th edition,
    /// trapezoid).
    pub fn from_axis_mm(&self) -> f64 {
        let share = (self.short_mm + 2.0 * self.long_mm) / (self.short_mm + self.long_mm);
        self.inside_mm + self.width_mm / 3.0 * share
    }

    /// Where its mass lies when its middle points this way from the front.
    pub fn balance(&self, mass_kg: f64, direction_rad: f64) -> Balance {
        let moment = mass_kg * self.from_axis_mm();
        Balance {
            mass_kg,
            aside_kg_mm: moment * direction_rad.sin(),
            ahead_kg_mm: moment * direction_rad.cos(),
        }
    }
}

/// A place to set the calipers. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Below the rim, or inward from the open face.
    pub depth_mm: f64,
    /// Finished outside diameter.
    pub outside_mm: f64,
    /// Finished inside diameter; nothing where it is floor, or filled by the wall.
    pub inside_mm: Option<f64>,
    /// The wall from there, square to the outside; nothing where there is no inside.
    pub wall_mm: Option<f64>,
}

/// More stations than this no one measures: a closer spacing is widened to it.
pub const MOST_STATIONS: f64 = 200.0;

/// Stations every `spacing_mm` below the rim, and one at the floor. The last below the
/// floor is the foot.
pub fn stations(wall: &Wall, spacing_mm: f64) -> Vec<Station> {
    let height_mm = wall.outside.height_mm();
    let floor_mm = (height_mm - wall.floor_mm).max(0.0);
    let mut depths = depths(height_mm, spacing_mm);
    put_among(&mut depths, floor_mm);
    let outline = wall.outside.samples(64);
    depths
        .into_iter()
        .map(|depth_mm| station(wall, &outline, depth_mm, height_mm - depth_mm))
        .collect()
}

/// Stations from an open face at one height inward to another, their depth counted from
/// that face: what a depth gauge reads while a half is on its block.
pub fn stations_from(wall: &Wall, face_mm: f64, deepest_mm: f64, spacing_mm: f64) -> Vec<Station> {
    let inward = if deepest_mm < face_mm { -1.0 } else { 1.0 };
    let outline = wall.outside.samples(64);
    depths((deepest_mm - face_mm).abs(), spacing_mm)
        .into_iter()
        .map(|depth_mm| station(wall, &outline, depth_mm, face_mm + inward * depth_mm))
        .collect()
}

/// Depths from 0 to a deepest one, both included.
fn depths(deepest_mm: f64, spacing_mm: f64) -> Vec<f64> {
    let spacing_mm = spacing_mm.max(deepest_mm / MOST_STATIONS).max(0.01);
    let count = (deepest_mm / spacing_mm - 1e-9).ceil().max(1.0) as u32;
    let mut depths: Vec<f64> = (0..count)
        .map(|step| f64::from(step) * spacing_mm)
        .collect();
    put_among(&mut depths, deepest_mm);
    depths
}

/// Puts a number in its place among rising ones, unless it is there. (In the page a sort
/// costs some kilobytes for each kind of thing that it sorts.)
pub(crate) fn put_among(rising: &mut Vec<f64>, number: f64) {
    let place = rising.partition_point(|each| *each < number - 1e-6);
    if rising.get(place).is_none_or(|each| *each > number + 1e-6) {
        rising.insert(place, number);
    }
}

fn station(wall: &Wall, outline: &[(f64, f64)], depth_mm: f64, z: f64) -> Station {
    // Measured at the floor from above: the floor's own height counts as inside.
    let inside = if z < wall.floor_mm - 1e-6 {
        0.0
    } else {
        wall.inside_radius_at(z.max(wall.floor_mm))
    };
    let inside = (inside > 0.0).then_some(inside);
    Station {
        depth_mm,
        outside_mm: 2.0 * wall.outside.radius_at(z),
        inside_mm: inside.map(|radius| 2.0 * radius),
        wall_mm: inside.map(|radius| distance_mm(outline, (z, radius))),
    }
}

/// From a point to the nearest place of an outline of short straight pieces.
fn distance_mm(outline: &[(f64, f64)], at: (f64, f64)) -> f64 {
    let to_piece = |two: &[(f64, f64)]| {
        let (run, rise) = (two[1].0 - two[0].0, two[1].1 - two[0].1);
        let (x, y) = (at.0 - two[0].0, at.1 - two[0].1);
        let along = (x * run + y * rise) / (run * run + rise * rise).max(1e-30);
        let along = along.clamp(0.0, 1.0);
        (x - along * run).hypot(y - along * rise)
    };
    outline.windows(2).map(to_piece).fold(f64::MAX, f64::min)
}

/// The tool that must reach every inside surface: a straight bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tool {
    /// Thickness of the bar.
    pub bar_mm: f64,
    /// How far its edge may stand out beyond the rest.
    pub overhang_mm: f64,
}

/// Thickness of the bar that the page reckons with: 5/8 in (common practice, no
/// published source).
pub const BAR_MM: f64 = 15.875;

/// How much a bar may lean away from the axis while it passes the opening: 45° (our own
/// choice: beyond it the handle is over the bed).
pub const MOST_LEAN: f64 = 1.0;

/// A rest goes inside where the opening leaves it room: 5 in (common practice, no
/// published source).
pub const REST_FITS_MM: f64 = 127.0;

/// How far a rest that fits reaches in: 6 in, the length of a common rest (common
/// practice, no published source).
pub const REST_REACHES_MM: f64 = 152.4;

/// Free space between a rest that stays outside and the end of the wood: 3/8 in
/// (common practice, no published source).
pub const REST_GAP_MM: f64 = 9.525;

/// Below this diameter neither hand nor most tools get through an opening: 2 1/4 in
/// (common practice, no published source).
pub const SMALL_OPENING_MM: f64 = 57.15;

/// A way along the inside from a place that is to be cut to where the stack ends. It
/// only ever gets worse with length, so that the farthest open end from which a place
/// is reached is found by walking until it is not.
///
/// The rule (our own, from opening, depth and width; no published source): the tool is
/// a straight bar whose near edge passes the place. Leaning inward by the slope s, that
/// edge is at r − s·d when d away. It must pass every wall on its way, and its far edge
/// every wall on the other side of the axis; within a bar's thickness of its end only the
/// end itself is there. Through less than 2 1/4 in neither hand nor most tools pass, so
/// behind a place as narrow as that nothing deeper than its width is reached. And the
/// bar stands out from the rest no farther than the turner said; the rest goes in
/// where it fits.
#[derive(Clone, Copy, Debug)]
pub struct Walk {
    tool: Tool,
    radius_mm: f64,
    away_mm: f64,
    last_radius_mm: f64,
    wide_mm: f64,
    narrowest_mm: f64,
    least_lean: f64,
    most_lean: f64,
    is_choked: bool,
}

impl Walk {
    /// Begins where the inside has this radius.
    pub fn from(tool: Tool, radius_mm: f64) -> Walk {
        Walk {
            tool,
            radius_mm,
            away_mm: 0.0,
            last_radius_mm: radius_mm,
            wide_mm: 0.0,
            narrowest_mm: f64::MAX,
            least_lean: 0.0,
            most_lean: MOST_LEAN,
            is_choked: false,
        }
    }

    /// Walks on to a place `away_mm` from the beginning with this inside radius; says
    /// whether the tool still reaches the beginning from an open end there.
    pub fn reaches(&mut self, away_mm: f64, radius_mm: f64) -> bool {
        let width_mm = 2.0 * radius_mm;
        if width_mm >= REST_FITS_MM {
            self.wide_mm += away_mm - self.away_mm;
        } else {
            self.wide_mm = 0.0;
        }
        let bar = self.tool.bar_mm;
        if away_mm > bar {
            if self.away_mm < bar {
                // Where the bar's own thickness ends, which lies between two places.
                let share = (bar - self.away_mm) / (away_mm - self.away_mm);
                let between = self.last_radius_mm + share * (radius_mm - self.last_radius_mm);
                self.passes(bar, between);
            }
            self.passes(away_mm, radius_mm);
        }
        (self.away_mm, self.last_radius_mm) = (away_mm, radius_mm);
        !self.is_choked
            && self.least_lean <= self.most_lean
            && self.overhang_mm() <= self.tool.overhang_mm
    }

    /// Takes in the wall at a place that the bar must pass.
    fn passes(&mut self, away_mm: f64, radius_mm: f64) {
        let (bar, width_mm) = (self.tool.bar_mm, 2.0 * radius_mm);
        self.narrowest_mm = self.narrowest_mm.min(width_mm);
        self.is_choked |= width_mm < bar;
        self.is_choked |= width_mm < SMALL_OPENING_MM && away_mm > width_mm;
        let near = (self.radius_mm - radius_mm) / away_mm;
        let far = (self.radius_mm - bar + radius_mm) / away_mm;
        self.least_lean = self.least_lean.max(near);
        self.most_lean = self.most_lean.min(far);
    }

    /// How far the edge stands out from the rest at the beginning.
    pub fn overhang_mm(&self) -> f64 {
        self.away_mm - self.rest_in_mm() + REST_GAP_MM
    }

    /// How far the rest goes in at the open end; 0 where it stays outside.
    pub fn rest_in_mm(&self) -> f64 {
        self.wide_mm.min(REST_REACHES_MM)
    }

    /// The narrowest inside diameter on the way; the place's own where none was passed.
    pub fn opening_mm(&self) -> f64 {
        if self.narrowest_mm < f64::MAX {
            self.narrowest_mm
        } else {
            2.0 * self.radius_mm
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stations_count_from_the_face_that_is_open() {
        let point = |height_mm, radius_mm| crate::trade::shape::Point {
            height_mm,
            radius_mm,
            is_corner: false,
        };
        let ends = [point(0.0, 40.0), point(100.0, 90.0)];
        let outside = crate::trade::shape::Curve::through(&ends).unwrap();
        let wall = Wall::inside(outside, 6.0, 6.0, 10.0);
        for (face, deepest, inward) in [(60.0, 22.0, -1.0), (22.0, 60.0, 1.0)] {
            let found = stations_from(&wall, face, deepest, 10.0);
            let depths: Vec<f64> = found.iter().map(|it| it.depth_mm).collect();
            assert_eq!(depths, [0.0, 10.0, 20.0, 30.0, 38.0]);
            for it in found {
                // The side is straight: half a millimeter of radius on each of height.
                let z = face + inward * it.depth_mm;
                assert!((it.outside_mm - 2.0 * (40.0 + z / 2.0)).abs() < 1e-9);
                assert!((it.wall_mm.unwrap() - 6.0).abs() < 0.01);
            }
        }
    }

    #[test]
    fn ten_inches_turn_between_600_and_900() {
        // Common practice, no published source: 6,000 / 10 and 9,000 / 10. As rim speed
        // the rule is 8.0 to 12.0 m/s (practice.csv, derived).
        let ten = speeds(254.0);
        assert!((ten.slow_rpm - 600.0).abs() < 1e-9 && (ten.fast_rpm - 900.0).abs() < 1e-9);
        for diameter_mm in [25.4, 254.0, 900.0] {
            assert!((speeds(diameter_mm).rim_m_s - 11.97).abs() < 0.01);
            let slow = rim_m_s(diameter_mm, speeds(diameter_mm).slow_rpm);
            assert!((slow - 7.98).abs() < 0.01);
        }
    }

    /// Walks up a bore of one radius to this depth.
    fn bored(radius_mm: f64, depth_mm: f64) -> bool {
        let tool = Tool {
            bar_mm: 16.0,
            overhang_mm: 152.4,
        };
        let mut walk = Walk::from(tool, radius_mm);
        (1..=100).all(|step| walk.reaches(depth_mm * f64::from(step) / 100.0, radius_mm))
    }

    #[test]
    fn an_upright_wall_is_reached_as_far_as_the_tool_stands_out() {
        // Where the rest goes in: 152.4 in the rest, 152.4 beyond it, less its gap.
        assert!(bored(100.0, 295.0) && !bored(100.0, 296.0));
        // Where it stays outside.
        assert!(bored(40.0, 142.0) && !bored(40.0, 143.5));
        // Through less than 2 1/4 in, no deeper than wide.
        assert!(bored(20.0, 40.0) && !bored(20.0, 41.0));
    }

    #[test]
    fn rest_and_what_stands_beyond_it_make_the_depth() {
        for (radius_mm, rest_mm) in [(40.0, 0.0), (63.4, 0.0), (63.6, 120.0), (100.0, 120.0)] {
            let tool = Tool {
                bar_mm: 16.0,
                overhang_mm: 152.4,
            };
            let mut walk = Walk::from(tool, radius_mm);
            walk.reaches(60.0, radius_mm);
            walk.reaches(120.0, radius_mm);
            assert!((walk.rest_in_mm() - rest_mm).abs() < 1e-9);
            let beyond_mm = 120.0 - rest_mm + REST_GAP_MM;
            assert!((walk.overhang_mm() - beyond_mm).abs() < 1e-9);
        }
    }

    #[test]
    fn nothing_straight_gets_under_a_shoulder() {
        let tool = Tool {
            bar_mm: 16.0,
            overhang_mm: 152.4,
        };
        assert!(!Walk::from(tool, 120.0).reaches(30.0, 60.0));
        assert!(Walk::from(tool, 120.0).reaches(70.0, 60.0));
    }
}
