//! The centring plug: a stepped peg to print, whose steps fit the holes of the rings.
//! It slides on a rod or pin in the tailstock, small end toward the headstock; a ring
//! hangs on its own step and is pressed home true to the axis.

use crate::design::Design;
use crate::plan::rings::{RingInStack, Rings};
use crate::trade::ring::half_angle_rad;
use crate::units::length::as_shown_mm;
use std::f64::consts::TAU;

/// Height of a step: a ring finds its seat, and the print stays low.
pub const STEP_MM: f64 = 6.0;

/// Wider steps than this most printers do not print (common practice, no published
/// source); such a ring is centred by a circle.
pub const WIDEST_MM: f64 = 200.0;

/// Least wall between a step and the bore.
const LEAST_WALL_MM: f64 = 2.0;

/// Holes nearer to each other than this share a step: the smaller one's.
const SAME_MM: f64 = 0.3;

/// Corners round a step. Each lies on the step's circle, so that the print is nowhere
/// larger; the flats between are 0.03 mm nearer the axis at most.
const CORNERS: u32 = 180;

/// A step of the plug.
#[derive(Clone, Debug, PartialEq)]
pub struct PlugStep {
    /// Its diameter, the clearance taken off.
    pub diameter_mm: f64,
    /// The rings that hang on it, from the foot up.
    pub rings: Vec<usize>,
}

/// The widest peg that passes a glued ring's hole: it touches the middles of the inside
/// flats. Cut as shown, a ring's hole is a little other than planned: the smaller counts.
/// Nothing where there is no hole.
pub fn hole_mm(design: &Design, planned: &RingInStack) -> Option<f64> {
    let segment = planned.segment?;
    let angle = half_angle_rad(planned.wanted.segment_count);
    let along_flat = planned.wanted.spacer_mm / (2.0 * angle.cos());
    let long_mm = as_shown_mm(segment.outside.long_edge_mm, design.unit);
    let width_mm = as_shown_mm(segment.strip_width_mm, design.unit);
    let as_cut_mm = (long_mm / 2.0 + along_flat) / angle.tan() - width_mm;
    let flat_mm = segment.inside_apothem_mm.min(as_cut_mm);
    (segment.short_edge_mm > 0.0 && flat_mm > 0.0).then_some(2.0 * flat_mm)
}

/// The plug's steps, from the widest; empty where no ring has a hole that fits.
pub fn steps(plan: &Rings) -> Vec<PlugStep> {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let bench = design.bench_or_usual();
    let least_mm = bench.plug_bore_mm + 2.0 * LEAST_WALL_MM;
    // From the narrowest; a ring finds its place among those before it.
    let mut holes: Vec<(f64, usize)> = Vec::new();
    for place in 0..vessel.rings.len().min(plan.rings.len()) {
        let hole = hole_mm(design, &plan.rings[place]);
        let Some(diameter_mm) = hole.map(|hole| hole - bench.plug_clearance_mm) else {
            continue;
        };
        if (least_mm..=WIDEST_MM).contains(&diameter_mm) {
            let at = holes.partition_point(|hole| hole.0 < diameter_mm);
            holes.insert(at, (diameter_mm, place));
        }
    }
    let mut steps: Vec<PlugStep> = Vec::new();
    for (diameter_mm, place) in holes {
        match steps.last_mut() {
            Some(step) if diameter_mm - step.diameter_mm < SAME_MM => {
                let at = step.rings.partition_point(|ring| *ring < place);
                step.rings.insert(at, place);
            }
            _ => steps.push(PlugStep {
                diameter_mm,
                rings: vec![place],
            }),
        }
    }
    steps.reverse();
    steps
}

/// The plug as a binary STL file, millimeters, standing on its widest step; empty
/// without steps.
///
/// The form: 80 bytes of any text, the count of triangles, and for each its normal and
/// three corners as 32-bit floats, lowest byte first, and two bytes of nothing (the
/// stereolithography interface as 3D Systems gave it out in 1989; from memory).
pub fn stl(steps: &[PlugStep], bore_mm: f64) -> Vec<u8> {
    if steps.is_empty() {
        return Vec::new();
    }
    let triangles = triangles(&profile(steps, bore_mm / 2.0));
    let mut bytes = vec![0_u8; 80];
    bytes[..TITLE.len()].copy_from_slice(TITLE);
    bytes.extend((triangles.len() as u32).to_le_bytes());
    for corners in &triangles {
        let normal = normal(corners);
        for number in normal.iter().chain(corners.iter().flatten()) {
            bytes.extend((*number as f32).to_le_bytes());
        }
        bytes.extend([0, 0]);
    }
    bytes
}

/// Must not begin with `solid`, by which the other form of STL is known.
const TITLE: &[u8] = b"centring plug, millimeters";

type Corner = [f64; 3];

/// Radius and height round the plug's half-section, closed: up its outside, back down
/// its bore.
fn profile(steps: &[PlugStep], bore_radius_mm: f64) -> Vec<(f64, f64)> {
    let mut points = vec![(bore_radius_mm, 0.0)];
    let mut z = 0.0;
    for step in steps {
        points.push((step.diameter_mm / 2.0, z));
        z += STEP_MM;
        points.push((step.diameter_mm / 2.0, z));
    }
    points.push((bore_radius_mm, z));
    points
}

/// The profile turned round the axis.
fn triangles(profile: &[(f64, f64)]) -> Vec<[Corner; 3]> {
    // The last corner is the first again, to the bit, so that the mesh closes.
    let at = |(radius, z): (f64, f64), corner: u32| {
        // One point on the axis, not some with a zero of the other sign.
        if radius <= 0.0 {
            return [0.0, 0.0, z];
        }
        let angle = TAU * f64::from(corner % CORNERS) / f64::from(CORNERS);
        [radius * angle.cos(), radius * angle.sin(), z]
    };
    let next = profile.iter().cycle().skip(1);
    let mut triangles = Vec::new();
    for (&from, &to) in profile.iter().zip(next) {
        for corner in 0..CORNERS {
            let (a, b) = (at(from, corner), at(from, corner + 1));
            let (c, d) = (at(to, corner + 1), at(to, corner));
            // On the axis two corners fall together and one triangle is left, or none.
            if from.0 > 0.0 {
                triangles.push([a, b, c]);
            }
            if to.0 > 0.0 {
                triangles.push([a, c, d]);
            }
        }
    }
    triangles
}

fn normal([a, b, c]: &[Corner; 3]) -> Corner {
    let (p, q) = (
        [b[0] - a[0], b[1] - a[1], b[2] - a[2]],
        [c[0] - a[0], c[1] - a[1], c[2] - a[2]],
    );
    let cross = [
        p[1] * q[2] - p[2] * q[1],
        p[2] * q[0] - p[0] * q[2],
        p[0] * q[1] - p[1] * q[0],
    ];
    let length = cross.iter().map(|part| part * part).sum::<f64>().sqrt();
    cross.map(|part| part / length.max(1e-30))
}
