//! The centring plug: a stepped peg to print, whose steps fit the holes of the rings.
//! It slides on a rod or pin in the tailstock, small end toward the headstock; a ring
//! hangs on its own step and is pressed home true to the axis, against the shoulder of the
//! next wider one. The narrower steps stand out behind it, into what is there already:
//! where that is no hole wide and deep enough, the ring needs another plug.

use std::f64::consts::TAU;

/// Height of a step: a ring finds its seat, and the print stays low (our own choice, no
/// published source).
pub const STEP_MM: f64 = 6.0;

/// Wider steps than this most printers do not print (common practice, no published
/// source); such a ring is centred by a circle.
pub const WIDEST_MM: f64 = 200.0;

/// Least wall between a step and the bore (our own choice, no published source).
const LEAST_WALL_MM: f64 = 2.0;

/// Holes nearer to each other than this share a step: the smaller one's (our own choice, no
/// published source).
const SAME_MM: f64 = 0.3;

/// What the plug's end stays clear of the wood below: 1 mm (our own choice, no published
/// source).
pub const AIR_MM: f64 = 1.0;

/// What a narrower step that stands into a ring below keeps clear of its hole beside the
/// peg's own clearance, on the diameter: 1/32 in, so that a ring which lies a little off does
/// not jam it with glue on (our own choice, no published source).
pub const BESIDE_MM: f64 = 0.8;

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

/// A ring that is pressed home by a plug, and what is free below it. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Hang {
    /// The ring.
    pub ring: usize,
    /// The peg that fits its hole.
    pub diameter_mm: f64,
    /// Its height.
    pub height_mm: f64,
    /// What is free behind its far face, one hole after the other: down to which depth,
    /// and the peg that fits there. Behind the last there is no hole.
    pub free: Vec<(f64, f64)>,
}

impl Hang {
    /// Whether it is pressed home by steps of these diameters, its own first: it sits
    /// against the shoulder before its own step, and what is longer than it is high
    /// stands out behind it.
    fn takes(&self, steps: impl Iterator<Item = f64>) -> bool {
        steps.enumerate().all(|(place, diameter_mm)| {
            let to_mm = STEP_MM * (place + 1) as f64 - self.height_mm;
            if to_mm <= 0.0 {
                return true;
            }
            // Every hole down to there, and some air before the end of the last.
            let mut from_mm = 0.0;
            for &(depth_mm, hole_mm) in &self.free {
                let is_passed = from_mm < to_mm + AIR_MM && depth_mm > from_mm;
                if is_passed && diameter_mm > hole_mm - BESIDE_MM {
                    return false;
                }
                from_mm = depth_mm;
            }
            to_mm + AIR_MM <= from_mm
        })
    }
}

/// The plugs for some rings, each from its widest step; as many as it takes for every
/// ring to be pressed home. Left out are rings for which no plug can be made.
pub fn plugs(hangs: &[Hang], bore_mm: f64) -> Vec<Vec<PlugStep>> {
    let least_mm = bore_mm + 2.0 * LEAST_WALL_MM;
    let fits = |hang: &&Hang| {
        let alone = std::iter::once(hang.diameter_mm);
        (least_mm..=WIDEST_MM).contains(&hang.diameter_mm) && hang.takes(alone)
    };
    // From the narrowest; a ring finds its place among those before it.
    let mut rising: Vec<&Hang> = Vec::new();
    for hang in hangs.iter().filter(fits) {
        let at = rising.partition_point(|it| it.diameter_mm < hang.diameter_mm);
        rising.insert(at, hang);
    }
    // Each from its narrowest step while it is made.
    let mut plugs: Vec<Vec<PlugStep>> = Vec::new();
    for hang in rising {
        if !plugs.iter_mut().any(|plug| joins(plug, hang)) {
            plugs.push(vec![PlugStep::of(hang)]);
        }
    }
    for plug in &mut plugs {
        plug.reverse();
    }
    plugs
}

/// Hangs a ring on the widest step of a plug, or on a new one, where it is pressed home.
fn joins(plug: &mut Vec<PlugStep>, hang: &Hang) -> bool {
    let below = || plug.iter().rev().map(|step| step.diameter_mm);
    let is_same = plug
        .last()
        .is_some_and(|step| hang.diameter_mm - step.diameter_mm < SAME_MM);
    if is_same && hang.takes(below()) {
        if let Some(step) = plug.last_mut() {
            let at = step.rings.partition_point(|ring| *ring < hang.ring);
            step.rings.insert(at, hang.ring);
        }
        return true;
    }
    let is_pressed = !is_same && hang.takes(std::iter::once(hang.diameter_mm).chain(below()));
    if is_pressed {
        plug.push(PlugStep::of(hang));
    }
    is_pressed
}

impl PlugStep {
    fn of(hang: &Hang) -> PlugStep {
        PlugStep {
            diameter_mm: hang.diameter_mm,
            rings: vec![hang.ring],
        }
    }
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
