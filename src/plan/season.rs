//! What the seasons do to a vessel, or to a ring alone: the moisture that the shop, the
//! driest and the dampest season bring its wood to, and how far wall, height and joints
//! move from what they are in the shop.

use crate::design::{Climate, Design, MadeOf, Sawn};
use crate::plan::caution::Caution;
use crate::plan::floor;
use crate::plan::ring::RingPlan;
use crate::plan::rings::{Made, RingInStack, Rings};
use crate::plan::woods;
use crate::trade::moisture::{self, Air, Ready, joint_opening_mm, movement};
use crate::trade::ring::half_angle_rad;
use crate::trade::shape::Wall;
use crate::trade::wood::{self, Grain, Wood};

/// The driest and the dampest season.
pub const SEASONS: [&str; 2] = ["dry", "damp"];

/// Air by a plain description: its key in [`crate::show::words`], °C, %. In the range of what
/// is usual (common practice, no published source).
pub const AIRS: &[(&str, f64, f64)] = &[
    ("heated_winter", 20.0, 30.0),
    ("hard_winter", 20.0, 22.0),
    ("cooled_summer", 25.0, 50.0),
    ("humid_summer", 25.0, 70.0),
    ("seaside", 20.0, 78.0),
    ("dry_country", 30.0, 20.0),
    ("warm_shop", 20.0, 45.0),
    ("cold_shop", 5.0, 75.0),
];

/// The plain description of an air, where it has one.
pub fn described(air: &Air) -> &'static str {
    let is_same = |it: &&(&str, f64, f64)| {
        (it.1 - air.temperature_c).abs() < 1e-6 && (it.2 - air.humidity_pct).abs() < 1e-6
    };
    AIRS.iter().find(is_same).map_or("", |air| air.0)
}

/// What to look at before the figures are believed.
pub fn cautions(design: &Design, seasons: &Seasons) -> Vec<Caution> {
    let airs = airs(&climate(design));
    let names = ["shop", "dry", "damp"];
    let mut cautions: Vec<Caution> = names
        .iter()
        .zip(&airs)
        .filter(|(_, air)| !air.is_in_table())
        .map(|(air, _)| Caution::AirPastTable { air })
        .collect();
    let [dry, damp] = seasons.moistures.season_pct;
    if dry > damp {
        cautions.push(Caution::SeasonsSwapped);
    }
    let unknown = seasons.unknown.iter().cloned();
    cautions.extend(unknown.map(|wood| Caution::NoFigures { wood }));
    cautions
}

/// The airs of a climate: shop, dry, damp.
pub fn airs(climate: &Climate) -> [Air; 3] {
    [
        (climate.shop_temperature_c, climate.shop_humidity_pct),
        (climate.dry_temperature_c, climate.dry_humidity_pct),
        (climate.damp_temperature_c, climate.damp_humidity_pct),
    ]
    .map(|(temperature_c, humidity_pct)| Air {
        temperature_c,
        humidity_pct,
    })
}

/// The climate of a design, said or usual.
pub fn climate(design: &Design) -> Climate {
    design.climate.clone().unwrap_or_else(Climate::usual)
}

/// Moisture contents, %, and which way boards move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moistures {
    /// What the shop brings wood to.
    pub shop_pct: f64,
    /// What the driest and the dampest season bring it to.
    pub season_pct: [f64; 2],
    /// How the boards were sawn.
    pub sawn: Sawn,
}

impl Moistures {
    /// Those of a design.
    pub fn of(design: &Design) -> Moistures {
        let climate = climate(design);
        let [shop_pct, dry, damp] = airs(&climate).map(|air| air.equilibrium_pct());
        Moistures {
            shop_pct,
            season_pct: [dry, damp],
            sawn: climate.sawn,
        }
    }

    /// How far wood moves along one way of the grain from the shop to both seasons, as
    /// a share; nothing without figures.
    pub fn along(&self, wood: &Wood, grain: Grain) -> Option<[f64; 2]> {
        let [dry, damp] = self
            .season_pct
            .map(|season| movement(wood, grain, self.shop_pct, season));
        Some([dry?, damp?])
    }

    /// Across a board's face: a strip's width, a disc's diameter across its grain.
    pub fn across_width(&self, wood: &Wood) -> Option<[f64; 2]> {
        self.across(wood, Grain::Tangential, Grain::Radial)
    }

    /// Through a board's thickness: the height of a ring.
    pub fn across_height(&self, wood: &Wood) -> Option<[f64; 2]> {
        self.across(wood, Grain::Radial, Grain::Tangential)
    }

    fn across(&self, wood: &Wood, flat: Grain, quarter: Grain) -> Option<[f64; 2]> {
        match self.sawn {
            Sawn::Flat => self.along(wood, flat),
            Sawn::Quarter => self.along(wood, quarter),
            Sawn::Mixed => larger(self.along(wood, flat), self.along(wood, quarter)),
        }
    }

    /// The grain that lies across a board's face.
    pub fn width_grain(&self) -> Grain {
        match self.sawn {
            Sawn::Quarter => Grain::Radial,
            Sawn::Flat | Sawn::Mixed => Grain::Tangential,
        }
    }
}

/// The one that moves farther over the year; the known one when only one is.
fn larger(one: Option<[f64; 2]>, other: Option<[f64; 2]>) -> Option<[f64; 2]> {
    let swing = |each: &[f64; 2]| (each[1] - each[0]).abs();
    match (one, other) {
        (Some(one), Some(other)) if swing(&other) > swing(&one) => Some(other),
        (one, other) => one.or(other),
    }
}

/// A ring through the seasons.
#[derive(Clone, Debug, PartialEq)]
pub struct RingSeason {
    /// Its place in the stack.
    pub place: usize,
    /// What each miter joint opens, dry and damp, millimeters: outside where positive,
    /// inside where negative; nothing for a disc.
    pub opening_mm: Option<[f64; 2]>,
    /// How far its wall moves, as a share, by the wood of it that moves most.
    pub across: [f64; 2],
}

/// All of it. Changes are from what things are in the shop, dry and damp.
#[derive(Clone, Debug)]
pub struct Seasons {
    /// The moisture contents.
    pub moistures: Moistures,
    /// What the meter's reading says.
    pub ready: Option<Ready>,
    /// The rings whose woods have figures, from the foot up.
    pub rings: Vec<RingSeason>,
    /// Change of the wall at its thickest.
    pub wall_mm: Option<[f64; 2]>,
    /// Change of the height.
    pub height_mm: Option<[f64; 2]>,
    /// Woods without figures.
    pub unknown: Vec<String>,
}

impl Seasons {
    /// The ring whose joints open farthest in a season.
    pub fn widest(&self, season: usize) -> Option<(&RingSeason, f64)> {
        self.rings
            .iter()
            .filter_map(|ring| Some((ring, ring.opening_mm?[season])))
            .max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()))
    }
}

/// What is asked of one ring.
struct Asked {
    /// Its woods, and what share of it is of each: so many segments, or a ply's thickness.
    woods: Vec<(String, f64)>,
    height_mm: f64,
    /// Radial width of the finished wall and segment count; nothing for a disc.
    miters: Option<(f64, [f64; 2])>,
}

/// Works the seasons out: of the vessel where there is one, else of the ring.
pub fn seasons(design: &Design, plan: &RingPlan, stack: Option<&Rings>) -> Seasons {
    let moistures = Moistures::of(design);
    let asked = asked(design, plan, stack);
    let mut seasons = Seasons {
        moistures,
        ready: climate(design).meter_pct.map(|reading| {
            let [dry, damp] = moistures.season_pct;
            moisture::ready(reading, moistures.shop_pct, dry, damp)
        }),
        rings: Vec::new(),
        wall_mm: None,
        height_mm: Some([0.0; 2]),
        unknown: Vec::new(),
    };
    for (place, ring) in asked.iter().enumerate() {
        let mut across = None;
        let (mut heights, mut counted) = ([0.0; 2], 0.0);
        for (name, share) in &ring.woods {
            let known = woods::named(design, name).filter(Wood::moves);
            let Some(known) = known else {
                if !seasons.unknown.contains(name) {
                    seasons.unknown.push(name.clone());
                }
                continue;
            };
            across = larger(across, moistures.across_width(&known));
            if let Some(own) = moistures.across_height(&known) {
                heights = [0, 1].map(|at| heights[at] + share * own[at]);
                counted += share;
            }
        }
        seasons.height_mm = seasons
            .height_mm
            .filter(|_| counted > 0.0)
            .map(|sum| [0, 1].map(|at| sum[at] + ring.height_mm * heights[at] / counted));
        let Some(across) = across else { continue };
        seasons.rings.push(RingSeason {
            place,
            opening_mm: ring.miters.map(|(wall_mm, halves)| {
                // All woods move alike along the grain.
                let along = moistures
                    .along(&wood::PLAIN, Grain::Along)
                    .unwrap_or_default();
                // Each side of the joint opens half of what two like it would.
                let opening = |half: f64, at: usize| {
                    joint_opening_mm(half, wall_mm, across[at], along[at]) / 2.0
                };
                [0, 1].map(|at| opening(halves[0], at) + opening(halves[1], at))
            }),
            across,
        });
    }
    let thickest_mm = match &design.vessel {
        Some(vessel) => vessel.foot_wall_mm.max(vessel.rim_wall_mm),
        None => plan.wanted.outside_radius_mm - plan.wanted.inside_radius_mm,
    };
    let most = seasons
        .rings
        .iter()
        .filter(|ring| ring.opening_mm.is_some())
        .fold(None, |most, ring| larger(most, Some(ring.across)));
    seasons.wall_mm = most.map(|across| across.map(|share| share * thickest_mm));
    if seasons.rings.is_empty() {
        seasons.height_mm = None;
    }
    seasons
}

fn asked(design: &Design, plan: &RingPlan, stack: Option<&Rings>) -> Vec<Asked> {
    let Some(stack) = stack else {
        let wanted = &plan.wanted;
        return vec![Asked {
            woods: vec![(design.ring.wood.clone(), 1.0)],
            height_mm: wanted.height_mm,
            miters: plan.segment.map(|_| {
                let wall_mm = wanted.outside_radius_mm - wanted.inside_radius_mm;
                (wall_mm, [half_angle_rad(wanted.segment_count); 2])
            }),
        }];
    };
    let ring_and_plan = stack.vessel.rings.iter().zip(&stack.rings);
    ring_and_plan
        .map(|(ring, planned)| {
            let count = match ring.made_of {
                MadeOf::Disc => 1,
                MadeOf::Segments => ring.segment_count,
            };
            let shares = match &planned.stripes {
                Some(own) => own
                    .woods
                    .iter()
                    .copied()
                    .zip(own.finished_shares.clone())
                    .collect(),
                None => (0..count)
                    .map(|at| (ring.wood_of(at), 1.0))
                    .collect::<Vec<_>>(),
            };
            let names = shares
                .into_iter()
                .filter_map(|(wood, share)| Some((stack.vessel.woods.get(wood)?.clone(), share)));
            let plies = || floor::choice(design).plies;
            let woods = match planned.made {
                Made::Plies => plies()
                    .into_iter()
                    .map(|ply| (ply.wood, ply.thickness_mm))
                    .collect(),
                _ => names.collect(),
            };
            let wall_mm = stack
                .wall
                .as_ref()
                .map_or(0.0, |wall| finished_width_mm(wall, planned));
            Asked {
                woods,
                height_mm: ring.height_mm,
                // Where the grain leans, miters move otherwise than is reckoned here.
                miters: planned
                    .segment
                    .filter(|_| ring.striped().is_none_or(|it| it.slant_deg == 0.0))
                    .map(|_| (wall_mm, planned.round.widest_pair_rad())),
            }
        })
        .collect()
}

/// Heights at which a ring's finished wall is measured.
const LOOKS: u32 = 16;

/// The widest that the finished wall is in a ring, outward from its hole: what moves there
/// once all else is turned away. The floor within the hole is the base's.
fn finished_width_mm(wall: &Wall, ring: &RingInStack) -> f64 {
    let (span, hole_mm) = (&ring.span, ring.wanted.inside_radius_mm);
    let rim_mm = wall.outside.height_mm();
    let (low, high) = (span.bottom_mm.min(rim_mm), span.top_mm.min(rim_mm));
    let width = |look: u32| {
        let z = low + (high - low) * f64::from(look) / f64::from(LOOKS);
        wall.outside.radius_at(z) - wall.smallest_inside(z, z).max(hole_mm)
    };
    (0..=LOOKS).map(width).fold(0.0, f64::max)
}
