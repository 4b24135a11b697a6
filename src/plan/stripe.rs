//! A ring's striped segments: their layers' woods and colors, the board that they are sawn
//! from, and how they meet.

use crate::design::field::LONGEST_MM;
use crate::design::{Design, Laid, Shop, StackRing};
use crate::plan::caution::{Caution, HAND_TO_BLADE_MM, STEEPEST_SAW_DEG, StripeCaution};
use crate::plan::woods;
use crate::trade::closing::HAIR_MM;
use crate::trade::layered::{THIN_MM, sawn_mm};
use crate::trade::ring::Segment;
use crate::trade::shape::{self, Wall};
use crate::trade::strip::Cutting;
use crate::trade::stripe::{Board, Stand, StripeError, Stripes, board};
use crate::trade::vessel::Span;
use crate::units::color::Color;

/// Beyond this slant the ring's faces are more end grain than not: half a right angle (our
/// own choice, no published source).
const END_GRAIN_DEG: f64 = 45.0;

/// A ring's striped segments worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct StripePlan {
    /// Its layers.
    pub stripes: Stripes,
    /// How the segments lie.
    pub laid: Laid,
    /// Whether the ring is a mirror image.
    pub is_mirrored: bool,
    /// Each layer's thickness once planed.
    pub layers_mm: Vec<f64>,
    /// Each layer's wood, as a place in the vessel's list.
    pub woods: Vec<usize>,
    /// Each layer's color.
    pub colors: Vec<Color>,
    /// Each layer's share of the segments as they are sawn.
    pub sawn_shares: Vec<f64>,
    /// Each layer's share of the finished wall.
    pub finished_shares: Vec<f64>,
    /// The board; nothing for a ring that is glued, or where none can be.
    pub board: Option<Board>,
    /// From a segment's middle to its joint along the flat, on the finished outside: at the
    /// ring's middle, and the least and most within its height.
    pub joint_mm: [f64; 3],
    /// The least that is left of a layer on the finished outside.
    pub least_left_mm: f64,
}

impl StripePlan {
    /// How a segment stands.
    pub fn stand(&self, segment: u32) -> Stand {
        Stand {
            is_turned: self.laid == Laid::Chevron && segment % 2 == 1,
            is_mirrored: self.is_mirrored,
        }
    }

    /// The layer at a place of a segment: along its flat, and above the ring's middle.
    pub fn layer_at(&self, segment: u32, v_mm: f64, z_mm: f64) -> usize {
        let across = self.stripes.across_mm(self.stand(segment), v_mm, z_mm);
        self.stripes.layer(across)
    }

    /// Whether the stripes of two neighbors meet at their joint by themselves.
    pub fn is_zigzag(&self, segment_count: u32) -> bool {
        self.laid == Laid::Chevron && segment_count.is_multiple_of(2)
    }

    /// By how much the stripes miss each other at the joints: at the ring's middle, and at
    /// the most within its height.
    pub fn misses_mm(&self, segment_count: u32) -> [f64; 2] {
        if self.is_zigzag(segment_count) {
            return [0.0; 2];
        }
        let [middle, least, most] = self.joint_mm.map(|joint| self.stripes.miss_mm(joint));
        [middle, middle.max(least).max(most)]
    }

    /// About how many edges of stripes a segment shows outside.
    pub fn edge_count(&self) -> u32 {
        let [middle_mm, ..] = self.joint_mm;
        (self.stripes.repeats(middle_mm) * self.layers_mm.len() as f64).round() as u32
    }

    /// The layers to rip: each layer's place, how many of it, how thick to saw it.
    pub fn to_rip(&self) -> Vec<(usize, u32, f64)> {
        let Some(board) = &self.board else {
            return Vec::new();
        };
        let each = self.layers_mm.iter().enumerate().map(|(layer, thickness)| {
            let times = board.layers.iter().filter(|it| **it == layer).count() as u32;
            (layer, times * board.count, sawn_mm(*thickness))
        });
        each.filter(|(_, count, _)| *count > 0).collect()
    }
}

/// Works the stripes of a ring out; nothing where it has none. The trouble is that no board
/// serves.
pub(super) fn plan(
    design: &Design,
    names: &[String],
    finished: &Finished,
    ring: &StackRing,
    segment: &Segment,
    cutting: &Cutting,
) -> Option<(StripePlan, Option<StripeError>)> {
    let said = ring.striped()?;
    let layers_mm: Vec<f64> = said.layers.iter().map(|it| it.thickness_mm).collect();
    let shift = said.shift_pct / 100.0;
    let stripes = Stripes::new(&layers_mm, said.slant_deg.to_radians(), shift)?;
    let woods: Vec<usize> = said.layers.iter().map(|it| it.wood as usize).collect();
    let color = |wood: &usize| {
        let name = names.get(*wood).map_or("", String::as_str);
        woods::color(design, name)
    };
    let half = segment.outside.half_angle_rad;
    let span = finished.span;
    let joint_mm = finished.outside_mm().map(|radius| radius * half.sin());
    let high = span.top_mm - span.bottom_mm;
    let mut made = StripePlan {
        laid: said.laid,
        is_mirrored: said.is_mirrored,
        colors: woods.iter().map(color).collect(),
        board: None,
        joint_mm,
        least_left_mm: stripes.least_left_mm(2.0 * joint_mm[0], high),
        sawn_shares: Vec::new(),
        finished_shares: Vec::new(),
        layers_mm,
        woods,
        stripes,
    };
    let stand = made.stand(0);
    made.finished_shares = made
        .stripes
        .shares(stand, half, [-high / 2.0, high / 2.0], |_, z| {
            finished.radii_mm(z)
        });
    made.sawn_shares = sawn_shares(&made.stripes, stand, half, segment);
    let mut no_board = None;
    if !ring.is_glued() {
        match board(&made.stripes, segment, ring.segment_count, cutting) {
            Ok(board) => made.board = Some(board),
            Err(error) => no_board = Some(error),
        }
    }
    Some((made, no_board))
}

fn sawn_shares(stripes: &Stripes, stand: Stand, half: f64, segment: &Segment) -> Vec<f64> {
    let flats = [segment.inside_apothem_mm, segment.outside.apothem_mm];
    let high = segment.strip_height_mm / 2.0;
    stripes.shares(stand, half, [-high, high], |angle, _| {
        flats.map(|flat| flat / angle.cos())
    })
}

/// The finished wall in a ring's height.
pub(super) struct Finished<'a> {
    pub(super) wall: &'a Wall,
    pub(super) span: &'a Span,
}

impl Finished<'_> {
    /// Inside and outside at a height above the ring's middle; above the rim there is none.
    fn radii_mm(&self, z_mm: f64) -> [f64; 2] {
        let z = f64::midpoint(self.span.bottom_mm, self.span.top_mm) + z_mm;
        if z > self.wall.outside.height_mm() {
            return [0.0; 2];
        }
        let outside = self.wall.outside.radius_at(z);
        let inside = shape::radius_on(self.wall.hollow(), z).unwrap_or(0.0);
        [inside.clamp(0.0, outside), outside]
    }

    /// The outside at its middle, and the least and the most of it.
    fn outside_mm(&self) -> [f64; 3] {
        let rim = self.wall.outside.height_mm();
        let (from, to) = (self.span.bottom_mm.min(rim), self.span.top_mm.min(rim));
        let at = |share: u32| {
            self.wall
                .outside
                .radius_at(from + (to - from) * f64::from(share) / 8.0)
        };
        let all = || (0..=8).map(at);
        [
            at(4),
            all().fold(LONGEST_MM, f64::min),
            all().fold(0.0, f64::max),
        ]
    }
}

/// What to look at before a striped board is glued.
pub(super) fn cautions(
    shop: &Shop,
    ring: &StackRing,
    own: &StripePlan,
    segment: &Segment,
) -> Vec<Caution> {
    let Some(said) = ring.striped() else {
        return Vec::new();
    };
    let mut found = Vec::new();
    let count = ring.segment_count;
    if said.laid == Laid::Chevron && !count.is_multiple_of(2) {
        found.push(StripeCaution::OddChevron { count });
    }
    let [_, most] = own.misses_mm(count);
    // A quarter of the repeat is seen at once (our own choice, no published source).
    if most > own.stripes.repeat_mm() / 4.0 {
        found.push(StripeCaution::Miss { by_mm: most });
    }
    if !ring.is_glued() {
        let (long_mm, high) = (segment.outside.long_edge_mm, segment.strip_height_mm);
        let across_mm = own.stripes.reach_mm(long_mm, high);
        let repeat_mm = own.stripes.repeat_mm();
        if repeat_mm > across_mm + HAIR_MM {
            found.push(StripeCaution::RepeatPastBoard {
                repeat_mm,
                across_mm,
            });
        }
        let thinnest_mm = own.layers_mm.iter().copied().fold(f64::MAX, f64::min);
        if thinnest_mm < THIN_MM {
            found.push(StripeCaution::ThinLayer {
                thickness_mm: thinnest_mm,
            });
        } else if own.least_left_mm < THIN_MM {
            found.push(StripeCaution::Sliver {
                left_mm: own.least_left_mm,
            });
        }
        if said.slant_deg > END_GRAIN_DEG {
            found.push(StripeCaution::EndGrain {
                slant_rad: said.slant_deg.to_radians(),
            });
        }
        if let Some(board) = &own.board {
            let own_deg = shop.gauge_most_deg;
            if board.saw_rad.to_degrees() > own_deg.unwrap_or(STEEPEST_SAW_DEG) + 1e-9 {
                found.push(StripeCaution::SteepSaw {
                    setting_rad: board.saw_rad,
                    own_deg,
                });
            }
            // Level layers are mitered off a long strip.
            if said.slant_deg > 0.0 && long_mm < 2.0 * HAND_TO_BLADE_MM {
                found.push(StripeCaution::ShortPieces { long_mm });
            }
        }
    }
    found.into_iter().map(Caution::Stripes).collect()
}
