//! Stripes on a body: in a segment's own frame they are planes, so every flat of it is cut
//! along them and each part gets its layer's color.

use super::body::Mesh;
use crate::plan::rings::RingInStack;

/// A corner with its surface's direction, and where it lies across the layers.
#[derive(Clone, Copy)]
struct Corner {
    at: [f64; 3],
    normal: [f64; 3],
    across: f64,
}

/// Colors what was added to a mesh since so many indices of triangles, all of it of a
/// segment whose middle stands in this direction. Nothing where the ring is not striped.
pub(super) fn stripe(
    mesh: &mut Mesh,
    since: usize,
    planned: &RingInStack,
    segment: u32,
    direction: f64,
) {
    let Some(own) = &planned.stripes else {
        return;
    };
    let (sine, cosine) = direction.sin_cos();
    let (stand, middle) = (own.stand(segment), planned.middle_mm());
    for three in mesh.triangles.split_off(since).chunks_exact(3) {
        let corners: Vec<Corner> = three
            .iter()
            .map(|corner| {
                let [at, normal] = mesh.corner_at(*corner);
                let v = at[0] * cosine + at[1] * sine;
                let across = own.stripes.across_mm(stand, v, at[2] - middle);
                Corner { at, normal, across }
            })
            .collect();
        let across = corners.iter().map(|corner| corner.across);
        let (least, most) =
            across.fold((f64::MAX, f64::MIN), |at, it| (at.0.min(it), at.1.max(it)));
        let bands = own.stripes.bands(least, most);
        if bands.len() < 2 {
            // Flat along the layers, or within one.
            let layer = own.stripes.layer(f64::midpoint(least, most));
            mesh.fan(&corners, own.colors[layer]);
            continue;
        }
        for band in bands {
            let above = cut(&corners, |across| across - band.from_mm);
            let part = cut(&above, |across| band.to_mm - across);
            mesh.fan(&part, own.colors[band.layer]);
        }
    }
}

/// What of a flat without dents lies where a measure is 0 or more (Sutherland and Hodgman,
/// Reentrant polygon clipping, Communications of the ACM 17, 1974).
fn cut(corners: &[Corner], measure: impl Fn(f64) -> f64) -> Vec<Corner> {
    let mut kept = Vec::new();
    for (place, to) in corners.iter().enumerate() {
        let from = &corners[(place + corners.len() - 1) % corners.len()];
        let (before, after) = (measure(from.across), measure(to.across));
        if (before > 0.0 && after < 0.0) || (before < 0.0 && after > 0.0) {
            kept.push(between(from, to, &measure));
        }
        if after >= 0.0 {
            kept.push(*to);
        }
    }
    kept
}

/// Where the way between two corners crosses: the same bits from both sides, so that flats
/// that meet go on meeting.
fn between(one: &Corner, other: &Corner, measure: impl Fn(f64) -> f64) -> Corner {
    let (from, to) = if one.at < other.at {
        (one, other)
    } else {
        (other, one)
    };
    let (before, after) = (measure(from.across), measure(to.across));
    let share = before / (before - after);
    let mix = |a: f64, b: f64| a + (b - a) * share;
    Corner {
        at: std::array::from_fn(|axis| mix(from.at[axis], to.at[axis])),
        normal: std::array::from_fn(|axis| mix(from.normal[axis], to.normal[axis])),
        across: mix(from.across, to.across),
    }
}

impl Mesh {
    /// Place and direction of a corner.
    fn corner_at(&self, index: u32) -> [[f64; 3]; 2] {
        let start = index as usize * 3;
        [&self.positions, &self.normals].map(|all| {
            std::array::from_fn(|axis| f64::from(all.get(start + axis).copied().unwrap_or(0.0)))
        })
    }

    /// A flat of corners with directions of their own.
    fn fan(&mut self, corners: &[Corner], color: crate::draw::Color) {
        let start = (self.positions.len() / 3) as u32;
        for corner in corners {
            self.corner(corner.at, corner.normal, color);
        }
        for next in 1..(corners.len() as u32).saturating_sub(1) {
            self.triangle([start, start + next, start + next + 1]);
        }
    }
}
