//! Striped segments: sawn from a board of layers that are glued face to face.
//!
//! In a segment's own frame (v along its flat, z up from the ring's middle) the wood
//! depends on w = v·sin δ + z·cos δ + shift alone, repeated with the layers' total
//! thickness: the stripes are planes through the whole wall. On a turned surface of radius
//! r, v = r·sin ψ, with ψ from the segment's middle. A segment with its other edge outside
//! has v → −v; a ring turned over, like a mirror image, has z → −z.
//!
//! The board: seen on its layers' edges (w across them, s = v·cos δ − z·sin δ along them)
//! a segment is a rectangle, its long edge by its height, that leans by δ. Rectangles
//! shifted along s by p lie clear of each other as soon as p·cos δ reaches the long edge
//! and a kerf, or p·sin δ the height and a kerf. Checked against polygons and against a
//! stack of layers in `tests/stripe.rs`.

use crate::trade::ring::Segment;
use crate::trade::strip::{Cutting, strips};
use std::f64::consts::FRAC_PI_2;

/// How a segment stands against the board that it was sawn from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stand {
    /// Whether its other edge is outside: v → −v.
    pub is_turned: bool,
    /// Whether it is a mirror image: z → −z.
    pub is_mirrored: bool,
}

/// Layers at a slant.
#[derive(Clone, Debug, PartialEq)]
pub struct Stripes {
    /// Upper end of each layer within the repeat; the last is the repeat. Millimeters.
    ends_mm: Vec<f64>,
    /// Sine and cosine of the slant: 0° level, 90° upright.
    pub sine: f64,
    /// Its cosine.
    pub cosine: f64,
    /// Shift along the repeat.
    pub shift_mm: f64,
}

/// A layer, or what is left of one, across the stripes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Where it begins.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// Its place among the layers.
    pub layer: usize,
}

/// No segment shows more layers than this: a board of more is no work for a shop, and
/// keeps every drawing within bounds (our own choice, no published source).
pub const MOST_LAYERS: usize = 100;

impl Stripes {
    /// Layers of these thicknesses, shifted by a share of their repeat; nothing where they
    /// have no thickness.
    pub fn new(layers_mm: &[f64], slant_rad: f64, shift_share: f64) -> Option<Stripes> {
        let mut end = 0.0;
        let ends: Vec<f64> = layers_mm
            .iter()
            .map(|thickness| {
                end += thickness.max(0.0);
                end
            })
            .collect();
        let (sine, cosine) = slant_rad.sin_cos();
        (end > 1e-6).then_some(Stripes {
            ends_mm: ends,
            sine: sine.max(0.0),
            // An upright stripe is upright to the bit.
            cosine: if cosine < 1e-12 { 0.0 } else { cosine },
            shift_mm: end * shift_share,
        })
    }

    /// What the layers repeat after.
    pub fn repeat_mm(&self) -> f64 {
        self.ends_mm.last().copied().unwrap_or(0.0)
    }

    /// Where a place of a segment lies across the layers.
    pub fn across_mm(&self, stand: Stand, v_mm: f64, z_mm: f64) -> f64 {
        let v = if stand.is_turned { -v_mm } else { v_mm };
        let z = if stand.is_mirrored { -z_mm } else { z_mm };
        v * self.sine + z * self.cosine + self.shift_mm
    }

    /// How far along the flat a place across the layers lies at a height: past every
    /// segment where level layers do not come to it.
    pub fn along_mm(&self, stand: Stand, across_mm: f64, z_mm: f64) -> f64 {
        let left = across_mm - self.across_mm(stand, 0.0, z_mm);
        let along = left / self.sine.max(1e-12);
        if stand.is_turned { -along } else { along }
    }

    /// The layer that lies there.
    pub fn layer(&self, across_mm: f64) -> usize {
        let within = across_mm.rem_euclid(self.repeat_mm());
        let place = self.ends_mm.partition_point(|end| *end <= within);
        place.min(self.ends_mm.len() - 1)
    }

    /// The layers between two places across them, those at the ends cut off there; no more
    /// than [`MOST_LAYERS`] and one.
    pub fn bands(&self, from_mm: f64, to_mm: f64) -> Vec<Band> {
        let repeat = self.repeat_mm();
        let mut bands = Vec::new();
        let mut turn = (from_mm / repeat).floor();
        while turn * repeat < to_mm && bands.len() <= MOST_LAYERS {
            // The same bits wherever one begins.
            let start = turn * repeat;
            let mut lower = start;
            for (layer, end) in self.ends_mm.iter().enumerate() {
                let upper = if layer + 1 == self.ends_mm.len() {
                    (turn + 1.0) * repeat
                } else {
                    start + end
                };
                let band = Band {
                    from_mm: lower.max(from_mm),
                    to_mm: upper.min(to_mm),
                    layer,
                };
                if band.to_mm > band.from_mm && bands.len() <= MOST_LAYERS {
                    bands.push(band);
                }
                lower = upper;
            }
            turn += 1.0;
        }
        bands
    }

    /// How far a rectangle of a segment, so long and so high, reaches across the layers.
    pub fn reach_mm(&self, long_mm: f64, high_mm: f64) -> f64 {
        long_mm * self.sine + high_mm * self.cosine
    }

    /// Of the layers in such a rectangle, the least that is left of one.
    pub fn least_left_mm(&self, long_mm: f64, high_mm: f64) -> f64 {
        let half = self.reach_mm(long_mm, high_mm) / 2.0;
        let bands = self.bands(self.shift_mm - half, self.shift_mm + half);
        let left = bands.iter().map(|band| band.to_mm - band.from_mm);
        // What rounding leaves is nothing.
        left.filter(|left| *left > 1e-6).fold(f64::MAX, f64::min)
    }

    /// By how much the stripes of two segments that stand alike miss each other at their
    /// joint, so far from both middles along the flat: across the layers, 0 where they meet.
    pub fn miss_mm(&self, joint_mm: f64) -> f64 {
        let repeat = self.repeat_mm();
        let past = (2.0 * joint_mm * self.sine).rem_euclid(repeat);
        past.min(repeat - past)
    }

    /// Repeats from joint to joint.
    pub fn repeats(&self, joint_mm: f64) -> f64 {
        2.0 * joint_mm * self.sine / self.repeat_mm()
    }

    /// The share of each layer in a ring's wall between two heights, counted from the ring's
    /// middle: by sampling one segment in direction, height and area. `radii` gives
    /// inside and outside at a direction and height.
    pub fn shares(
        &self,
        stand: Stand,
        half_angle_rad: f64,
        heights_mm: [f64; 2],
        radii: impl Fn(f64, f64) -> [f64; 2],
    ) -> Vec<f64> {
        const ROUND: u32 = 40;
        const HIGH: u32 = 24;
        const DEEP: u32 = 4;
        // Steps of the golden section fall evenly, however many they are.
        const GOLDEN: f64 = 0.618_033_988_749_895;
        let middle = |step: u32, of: u32| (f64::from(step) + 0.5) / f64::from(of);
        let mut shares = vec![0.0; self.ends_mm.len()];
        let mut all = 0.0;
        for round in 0..ROUND {
            for high in 0..HIGH {
                // Other heights in every direction: level layers have level edges.
                let share = (middle(high, HIGH) + f64::from(round) * GOLDEN).fract();
                let z = heights_mm[0] + (heights_mm[1] - heights_mm[0]) * share;
                let angle = half_angle_rad * (2.0 * middle(round, ROUND) - 1.0);
                let [inside, outside] = radii(angle, z).map(|radius| radius * radius);
                let wood = (outside - inside).max(0.0);
                all += wood;
                for deep in 0..DEEP {
                    let radius = (inside + (outside - inside) * middle(deep, DEEP)).sqrt();
                    let at = self.across_mm(stand, radius * angle.sin(), z);
                    shares[self.layer(at)] += wood / f64::from(DEEP);
                }
            }
        }
        shares
            .iter()
            .map(|share| share / f64::max(all, 1e-9))
            .collect()
    }
}

/// The slant nearest to one at which whole repeats go from joint to joint, radians, and how
/// many do; nothing where one repeat is longer than that. `across_mm` is the way from joint
/// to joint along the flat.
pub fn meeting(repeat_mm: f64, across_mm: f64, slant_rad: f64) -> Option<(f64, u32)> {
    let most = (across_mm / repeat_mm + 1e-9).floor();
    let angle = |count: f64| (count * repeat_mm / across_mm).min(1.0).asin();
    let near = (across_mm * slant_rad.sin() / repeat_mm).floor();
    let counts = [near, near + 1.0].map(|count| count.clamp(1.0, most.max(1.0)));
    let apart = |count: f64| (angle(count) - slant_rad).abs();
    let best = if apart(counts[1]) < apart(counts[0]) {
        counts[1]
    } else {
        counts[0]
    };
    (most >= 1.0).then(|| (angle(best), best as u32))
}

/// What is sawn first off the glued board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FirstCut {
    /// Nothing: level layers are mitered as any strip.
    None,
    /// Sticks, by their two faces.
    Faces,
    /// Blocks, by their two ends; their faces are ripped after that.
    Ends,
}

/// The board that striped segments are sawn from. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// The layers in the order in which they are glued, whole.
    pub layers: Vec<usize>,
    /// What they come to: how far the clamps open.
    pub stack_mm: f64,
    /// What the segments need of it across the layers.
    pub across_mm: f64,
    /// Depth of the board: the width of the segments' strip.
    pub depth_mm: f64,
    /// What one piece takes along the layers.
    pub along_mm: f64,
    /// From one piece to the next along the layers.
    pub pitch_mm: f64,
    /// What is sawn first.
    pub first_cut: FirstCut,
    /// The saw's setting for it, from square to the layers, radians.
    pub saw_rad: f64,
    /// Segments that one board yields.
    pub pieces: u32,
    /// How many boards.
    pub count: u32,
    /// Length of each.
    pub length_mm: f64,
}

impl Board {
    /// What glue covers between the layers of all such boards, square millimeters.
    pub fn glue_mm2(&self) -> f64 {
        let joints = self.layers.len().saturating_sub(1) as f64 * f64::from(self.count);
        joints * self.length_mm * self.depth_mm
    }
}

/// Why no board serves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StripeError {
    /// A board of more layers than can be glued.
    TooManyLayers {
        /// The most.
        most: usize,
        /// What the segments need across the layers.
        across_mm: f64,
    },
    /// The length at hand does not hold one piece.
    TooShort {
        /// The length at hand.
        length_mm: f64,
        /// What one piece needs.
        needed_mm: f64,
    },
}

/// The board, or boards, for so many segments.
///
/// # Errors
/// When no board can be glued for them.
pub fn board(
    stripes: &Stripes,
    segment: &Segment,
    segment_count: u32,
    cutting: &Cutting,
) -> Result<Board, StripeError> {
    let (long, high) = (segment.outside.long_edge_mm, segment.strip_height_mm);
    let (sine, cosine) = (stripes.sine, stripes.cosine);
    let across = stripes.reach_mm(long, high);
    let (from, to) = (
        stripes.shift_mm - across / 2.0,
        stripes.shift_mm + across / 2.0,
    );
    let layers: Vec<usize> = stripes
        .bands(from, to)
        .iter()
        .map(|band| band.layer)
        .collect();
    if layers.len() > MOST_LAYERS {
        let most = MOST_LAYERS;
        return Err(StripeError::TooManyLayers {
            most,
            across_mm: across,
        });
    }
    let thickness = |layer: &usize| {
        let below = layer
            .checked_sub(1)
            .map_or(0.0, |below| stripes.ends_mm[below]);
        stripes.ends_mm[*layer] - below
    };
    let [by_faces, by_ends] = [
        (high + cutting.kerf_mm) / sine,
        (long + cutting.kerf_mm) / cosine,
    ];
    let slant = sine.atan2(cosine);
    let leaning = (long * cosine + high * sine, cutting.hold_back_mm);
    let (first_cut, saw_rad, pitch, (along, ends)) = if sine < 1e-9 {
        let laid = strips(segment, segment_count, cutting).0;
        (
            FirstCut::None,
            0.0,
            laid.pitch_mm,
            (laid.pitch_mm, laid.ends_mm),
        )
    } else if by_faces <= by_ends {
        (FirstCut::Faces, FRAC_PI_2 - slant, by_faces, leaning)
    } else {
        (FirstCut::Ends, slant, by_ends, leaning)
    };
    let fit = (cutting.strip_length_mm - ends - along) / pitch + 1.0 + 1e-9;
    if fit < 1.0 {
        return Err(StripeError::TooShort {
            length_mm: cutting.strip_length_mm,
            needed_mm: ends + along,
        });
    }
    let most = fit.min(f64::from(segment_count)) as u32;
    let count = segment_count.div_ceil(most);
    // Boards alike are glued alike.
    let pieces = segment_count.div_ceil(count);
    Ok(Board {
        stack_mm: layers.iter().map(thickness).sum(),
        layers,
        across_mm: across,
        depth_mm: segment.strip_width_mm,
        along_mm: along,
        pitch_mm: pitch,
        first_cut,
        saw_rad,
        pieces,
        count,
        length_mm: ends + along + f64::from(pieces - 1) * pitch,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn level_and_upright_stripes_are_the_closed_forms() {
        let level = Stripes::new(&[4.0, 6.0], 0.0, 0.0).unwrap();
        let upright = Stripes::new(&[4.0, 6.0], std::f64::consts::FRAC_PI_2, 0.0).unwrap();
        for step in -300..300 {
            let (at, other) = (f64::from(step) * 0.173, f64::from(step % 7) * 31.0);
            let wanted = usize::from(at.rem_euclid(10.0) >= 4.0);
            let stand = Stand::default();
            assert_eq!(level.layer(level.across_mm(stand, other, at)), wanted);
            assert_eq!(upright.layer(upright.across_mm(stand, at, other)), wanted);
        }
    }

    #[test]
    fn whole_repeats_meet() {
        for degrees in [1.0_f64, 20.0, 45.0, 89.0] {
            let (slant, count) = meeting(7.0, 30.0, degrees.to_radians()).unwrap();
            let stripes = Stripes::new(&[3.0, 4.0], slant, 0.3).unwrap();
            assert!(stripes.miss_mm(15.0) < 1e-9);
            assert!((stripes.repeats(15.0) - f64::from(count)).abs() < 1e-9);
        }
        assert_eq!(meeting(31.0, 30.0, 0.8), None);
    }

    #[test]
    fn what_has_no_thickness_makes_no_stripes() {
        assert_eq!(Stripes::new(&[], 0.5, 0.0), None);
        assert_eq!(Stripes::new(&[0.0, 0.0], 0.5, 0.0), None);
        let thin = Stripes::new(&[0.1], 0.5, 0.0).unwrap();
        assert!(thin.bands(-1000.0, 1000.0).len() <= MOST_LAYERS + 1);
    }
}
