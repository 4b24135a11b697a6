//! The base: what it is made of, how it meets its ring, and how it moves against it
//! through the year.
//!
//! A board moves across its grain; the ring around it keeps its circumference, which
//! runs along the grain. So a solid disc let into a ring pushes it apart, or tears from
//! it. Plies glued crosswise hold each other: the stiff grain of one lies along the
//! moving width of the next.
//!
//! How plies move together is [`crate::trade::laminate`]: its ring holds a base flat, glued
//! into it or under it; how far an unbalanced one would cup by itself is told beside.

use crate::design::field::key;
use crate::design::trouble::{Reason, Trouble};
use crate::design::{BaseChoice, BaseKind, BaseSet, Board, Design, MadeOf, Ply, Rack};
use crate::draw::Color;
use crate::plan::caution::Caution;
use crate::plan::floor::{self, choice, usual_mm};
use crate::plan::ring::RingPlan;
use crate::plan::rings::Rings;
use crate::plan::season::Moistures;
use crate::plan::woods;
use crate::trade::laminate::{Layer, Plate, plate};
use crate::trade::lathe;
use crate::trade::moisture::ring_motion_mm;
use crate::trade::ring::{Segment, Wanted};
use crate::trade::round::Round;
use crate::trade::strip::SQUARE_SPARE_MM;
use crate::trade::wood::{self, Grain, Wood};
use std::f64::consts::PI;

/// The ring that a base belongs to. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Around {
    /// Rings of the stack; 0 for a ring alone.
    pub ring_count: u32,
    /// Its place in the stack; none for a ring alone.
    pub place: Option<usize>,
    /// Finished outside radius, the smallest over its height.
    pub outside_mm: f64,
    /// Inside radius of what stands above the base.
    pub inside_mm: f64,
    /// Widest radius of the hole that it has already, where it is glued; else 0. Then that
    /// of a glued ring below, which is to carry a base let in.
    pub holes_mm: [f64; 2],
    /// Its height.
    pub height_mm: f64,
    /// Its first wood.
    pub wood: String,
    /// Its segments; 0 when it is a disc itself.
    pub segment_count: u32,
    /// How its round is shared among them.
    pub round: Round,
    /// Height that the stack keeps for a base glued under; none for a ring alone.
    pub kept_mm: Option<f64>,
    /// Height of the finished floor above the lower face of ring or base; none where the
    /// floor is not turned out of the base.
    pub floor_mm: Option<f64>,
}

/// Growth of a disc against its ring on the diameter, millimeters: dry and damp, each
/// along the grain (of the lowest ply) and across it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Motion {
    /// Against the ring's circumference: what a glue joint all round must bear.
    pub against_ring_mm: [[f64; 2]; 2],
    /// Against the hole itself, which the ring's wall grows into: what play must take.
    pub against_hole_mm: [[f64; 2]; 2],
    /// Rise or fall of the middle of a free disc by cupping, dry and damp, at worst.
    pub cup_mm: [f64; 2],
}

impl Motion {
    /// The farthest that it moves either way against the circumference.
    pub fn most_mm(&self) -> f64 {
        let all = self.against_ring_mm.iter().flatten();
        all.fold(0.0, |most, each| most.max(each.abs()))
    }

    /// The play that it needs on the diameter, 0 or more.
    pub fn play_mm(&self) -> f64 {
        let all = self.against_hole_mm.iter().flatten();
        all.fold(0.0, |most, each| most.max(*each))
    }

    /// The farthest that it shrinks away from the hole.
    pub fn shrink_mm(&self) -> f64 {
        let all = self.against_hole_mm.iter().flatten();
        all.fold(0.0, |most, each| most.max(-each))
    }

    /// Whether it may be glued all round.
    pub fn is_safe(&self, diameter_mm: f64) -> bool {
        self.most_mm() <= SAFE_SHARE * diameter_mm
    }
}

/// A disc that moves by no more than this share of its diameter stretches its ring by no
/// more. Clear wood breaks along the grain at 0.87 % (modulus of rupture over modulus of
/// elasticity, 109 N/mm² over 12.6 kN/mm² for sugar maple, Wood Handbook, 2010, Table 5-3; the
/// former from memory). But what holds a ring together are its miters, glued near end grain,
/// and such butt joints bear about a quarter of what the wood does (Wood Handbook, chapter 10,
/// end-grain surfaces; from memory): 0.22 %. That the base yields too is left out, on the safe
/// side; to stop at 0.2 % is our own choice.
pub const SAFE_SHARE: f64 = 0.002;

/// Wood to saw for a base.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// The wood.
    pub wood: String,
    /// Plies sawn from it.
    pub count: u32,
    /// Side of the square.
    pub side_mm: f64,
    /// Thickness of each as it is glued: plies share what is flattened off the two faces of
    /// the base.
    pub dressed_mm: f64,
    /// Thickness after sawing, before it is dressed; squares off a planed strip may need no
    /// dressing.
    pub sawn_mm: f64,
    /// Whether all are slices of one block; else each is crosscut from a strip.
    pub is_block: bool,
    /// Thickness of that block, or of that strip.
    pub stock_mm: f64,
}

/// How a base moves, and how the other ways to make it would.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moved {
    /// As chosen; none without figures for its wood.
    pub chosen: Option<Motion>,
    /// As one board of its first wood.
    pub solid: Option<Motion>,
    /// As its plies.
    pub laminated: Option<Motion>,
    /// What each joint between wedges opens in both seasons, at the outside.
    pub wedge_opening_mm: Option<[f64; 2]>,
}

/// A base worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct BasePlan {
    /// What was chosen, or what the stack has.
    pub choice: BaseChoice,
    /// Its ring.
    pub around: Around,
    /// Its diameter when it is made.
    pub disc_mm: f64,
    /// Diameter of the mortise; none for a base glued under.
    pub mortise_mm: Option<f64>,
    /// Diameter of the hole through the ledge.
    pub through_mm: Option<f64>,
    /// Its thickness.
    pub thickness_mm: f64,
    /// How it moves.
    pub moved: Moved,
    /// The wood to saw.
    pub blanks: Vec<Blank>,
    /// One of its wedges, where it is of wedges and no ring of the stack.
    pub wedge: Option<Segment>,
    /// Thickness and color of what lies in it, from below: its plies, or the one disc.
    pub layers: Vec<(f64, Color)>,
    /// What to look at before gluing.
    pub cautions: Vec<Caution>,
    /// What could not be computed.
    pub troubles: Vec<Trouble>,
}

impl BasePlan {
    /// Whether it may be glued all round; nothing without figures.
    pub fn is_safe(&self) -> Option<bool> {
        self.moved.chosen.map(|motion| motion.is_safe(self.disc_mm))
    }

    /// Whether it is a piece set into its ring, and fits there.
    pub fn is_set_in(&self) -> bool {
        let is_piece = !self.blanks.is_empty() || self.wedge.is_some();
        self.mortise_mm.is_some() && is_piece && self.troubles.is_empty()
    }

    /// What glue covers where it is glued under its ring, or all round into it, square
    /// millimeters.
    pub fn set_glue_mm2(&self) -> f64 {
        let around = &self.around;
        let disc_mm2 = |diameter_mm: f64| PI / 4.0 * diameter_mm * diameter_mm;
        if self.choice.set == BaseSet::Under {
            let outer_mm = self.disc_mm.min(2.0 * around.outside_mm);
            return (disc_mm2(outer_mm) - disc_mm2(2.0 * around.inside_mm)).max(0.0);
        }
        let ledge_mm2 = self.through_mm.map_or(0.0, |through_mm| {
            (disc_mm2(self.disc_mm) - disc_mm2(through_mm)).max(0.0)
        });
        PI * self.disc_mm * self.thickness_mm.min(around.height_mm) + ledge_mm2
    }

    /// What glue covers between its own plies or wedges, square millimeters.
    pub fn own_glue_mm2(&self) -> f64 {
        let wedges_mm2 = self.wedge.map_or(0.0, |wedge| {
            f64::from(self.choice.wedge_count) * wedge.joint_face_mm * wedge.strip_height_mm
        });
        let plies_mm2 = self.blanks.first().map_or(0.0, |blank| {
            self.layers.len().saturating_sub(1) as f64 * blank.side_mm * blank.side_mm
        });
        wedges_mm2 + plies_mm2
    }

    /// Its lower face above that of its ring: on a ledge it sits at the top.
    pub fn seat_mm(&self) -> f64 {
        match self.through_mm {
            Some(_) => (self.around.height_mm - self.thickness_mm).max(0.0),
            None => 0.0,
        }
    }

    /// Its upper face above the lower one of its ring, when it lies in it.
    pub fn top_mm(&self) -> f64 {
        self.seat_mm() + self.thickness_mm
    }

    /// What the floor leaves of its thickness once it is turned; all of it where no floor
    /// is, or where it lies above the floor wholly.
    pub fn left_mm(&self) -> f64 {
        let left_mm = self.around.floor_mm.map(|floor| floor - self.seat_mm());
        let left_mm = left_mm.filter(|left_mm| *left_mm > 0.0);
        left_mm.map_or(self.thickness_mm, |it| it.min(self.thickness_mm))
    }

    /// Over its thickness, what turning the floor from inside takes of a base let in whose
    /// upper face is the floor; its wood holds no more than is flattened off a face.
    pub fn floor_spare_mm(&self, face_mm: f64) -> f64 {
        let spare_mm = lathe::FACED_MM.min(face_mm);
        let floor_mm = self.around.floor_mm.unwrap_or(f64::MAX);
        let is_floor = (floor_mm - self.top_mm()).abs() < lathe::FACED_MM;
        let has_room = self.top_mm() + spare_mm <= self.around.height_mm;
        if self.choice.set == BaseSet::LetIn && is_floor && has_room {
            spare_mm
        } else {
            0.0
        }
    }

    /// What its mortise is wider than it; nothing for one glued under.
    pub fn room_mm(&self) -> Option<f64> {
        Some(self.mortise_mm? - self.disc_mm)
    }

    /// Volume of the disc, cubic millimeters.
    pub fn disc_mm3(&self) -> f64 {
        circle_mm2(self.disc_mm) * self.thickness_mm
    }

    /// What mortise and hole take out of the inside of a ring of this height, down to
    /// the axis, cubic millimeters.
    pub fn taken_mm3(&self, height_mm: f64) -> f64 {
        let mortise_mm2 = circle_mm2(self.mortise_mm.unwrap_or(0.0));
        match self.through_mm {
            Some(through_mm) => {
                let low = circle_mm2(through_mm) * (height_mm - self.thickness_mm).max(0.0);
                low + mortise_mm2 * self.thickness_mm.min(height_mm)
            }
            None => mortise_mm2 * height_mm,
        }
    }

    /// Density of its wood, of plies their mean; nothing when one has no figure.
    pub fn density_kg_m3(&self, design: &Design) -> Option<f64> {
        let density = |name: &str| woods::named(design, name)?.density_kg_m3();
        if self.choice.kind != BaseKind::Plies {
            return density(&self.choice.wood);
        }
        let plies = self.choice.plies.iter();
        let sum = plies
            .map(|ply| Some(density(&ply.wood)? * ply.thickness_mm))
            .sum::<Option<f64>>()?;
        Some(sum / self.thickness_mm.max(1e-9))
    }

    /// The play to leave on the diameter.
    pub fn play_mm(&self) -> Option<f64> {
        let motion = self
            .moved
            .chosen
            .filter(|_| self.choice.set != BaseSet::Under)?;
        (!motion.is_safe(self.disc_mm)).then(|| motion.play_mm())
    }
}

pub(super) fn circle_mm2(diameter_mm: f64) -> f64 {
    std::f64::consts::PI * diameter_mm * diameter_mm / 4.0
}

/// Works the base of a ring alone out; nothing when there is none to speak of.
pub(super) fn of_ring(design: &Design, ring: &RingPlan) -> Option<BasePlan> {
    planned(design, choice(design), around_alone(design, ring), 0.0)
}

/// The same of a vessel.
pub(super) fn of_vessel(stack: &Rings) -> Option<BasePlan> {
    let choice = choice(&stack.design);
    let around = around_in(&choice, stack)?;
    planned(&stack.design, choice, around, stack.vessel.foot_wall_mm)
}

/// The same where a base was said.
pub(super) fn said(stack: &Rings) -> Option<BasePlan> {
    stack.design.base.as_ref()?;
    of_vessel(stack)
}

/// `wall_mm` is the finished wall at the foot, as it is drawn.
fn planned(design: &Design, choice: BaseChoice, around: Around, wall_mm: f64) -> Option<BasePlan> {
    if choice.kind == BaseKind::Open {
        return None;
    }
    let disc_mm = choice.diameter_mm.unwrap_or_else(|| match choice.set {
        BaseSet::Under => 2.0 * around.outside_mm,
        _ if around.place.is_none() => 2.0 * around.inside_mm,
        _ => usual_mm(
            &choice,
            (around.outside_mm, around.inside_mm),
            around.holes_mm,
            wall_mm,
        ),
    });
    let thickness_mm = match choice.kind {
        BaseKind::Plies => choice.plies.iter().map(|ply| ply.thickness_mm).sum(),
        _ => choice.thickness_mm,
    };
    let mut plan = BasePlan {
        around,
        disc_mm,
        mortise_mm: None,
        through_mm: None,
        thickness_mm,
        moved: Moved::default(),
        blanks: Vec::new(),
        wedge: None,
        layers: layers(design, &choice, thickness_mm),
        cautions: Vec::new(),
        troubles: Vec::new(),
        choice,
    };
    plan.moved = move_base(design, &plan);
    fit(&mut plan);
    plan.blanks = blanks(design, &plan);
    plan.wedge = wedge(design, &plan);
    look_over(design, &mut plan);
    Some(plan)
}

/// What lies in a base, from below.
fn layers(design: &Design, choice: &BaseChoice, thickness_mm: f64) -> Vec<(f64, Color)> {
    if choice.kind != BaseKind::Plies {
        return vec![(thickness_mm, woods::color(design, &choice.wood))];
    }
    let plies = choice.plies.iter();
    plies
        .map(|ply| (ply.thickness_mm, woods::color(design, &ply.wood)))
        .collect()
}

/// The ring of the Ring place, that a base may belong to.
fn around_alone(design: &Design, ring_plan: &RingPlan) -> Around {
    let wanted = &ring_plan.wanted;
    Around {
        ring_count: 0,
        place: None,
        outside_mm: wanted.outside_radius_mm,
        inside_mm: wanted.inside_radius_mm.max(0.0),
        holes_mm: [0.0; 2],
        height_mm: wanted.height_mm,
        wood: design.ring.wood.clone(),
        segment_count: wanted.segment_count,
        round: Round::new(wanted.segment_count, &[], 0),
        kept_mm: None,
        floor_mm: None,
    }
}

/// The ring of a stack that the base belongs to.
fn around_in(choice: &BaseChoice, stack: &Rings) -> Option<Around> {
    let vessel = &stack.vessel;
    let lowest = vessel.rings.first()?;
    let is_disc = lowest.made_of == MadeOf::Disc;
    let place = match choice.set {
        BaseSet::Under => usize::from(is_disc && vessel.rings.len() > 1),
        BaseSet::LetIn | BaseSet::OnLedge => floor::base_place(choice, vessel),
    };
    let (ring, planned) = (vessel.rings.get(place)?, stack.rings.get(place)?);
    let (outside_mm, inside_mm) = match choice.set {
        BaseSet::Under => (
            stack.rings.first()?.span.outside_radius_mm,
            planned.span.inside_radius_mm,
        ),
        BaseSet::LetIn | BaseSet::OnLedge => floor::seat_mm(vessel, stack.wall.as_ref()?, place),
    };
    // A glued lowest ring keeps no room: the base comes under it.
    let kept_mm = (is_disc && !lowest.is_glued()).then_some(lowest.height_mm);
    let floor_mm = match choice.set {
        BaseSet::Under => kept_mm.map(|_| vessel.floor_mm),
        BaseSet::LetIn | BaseSet::OnLedge => Some(vessel.floor_mm - planned.span.bottom_mm),
    };
    Some(Around {
        ring_count: u32::try_from(vessel.rings.len()).unwrap_or(u32::MAX),
        place: Some(place),
        outside_mm,
        inside_mm,
        holes_mm: floor::glued_holes_mm(choice, vessel, place),
        height_mm: ring.height_mm,
        wood: vessel
            .woods
            .get(ring.wood_of(0))
            .cloned()
            .unwrap_or_default(),
        round: ring.round(),
        segment_count: match ring.made_of {
            MadeOf::Segments => ring.segment_count,
            MadeOf::Disc => 0,
        },
        kept_mm,
        floor_mm: floor_mm.filter(|_| vessel.floor_mm > 0.0),
    })
}

/// Works out how the base moves, and how the other ways to make it would.
fn move_base(design: &Design, plan: &BasePlan) -> Moved {
    let moistures = Moistures::of(design);
    let ring_wood = woods::named(design, &plan.around.wood).unwrap_or(wood::PLAIN);
    let named = |name: &str| woods::named(design, name).filter(Wood::moves);
    let motion = |plates: Option<[Plate; 2]>| {
        plates.map(|plates| against(plan, &moistures, &ring_wood, &plates))
    };
    let first = match plan.choice.kind {
        BaseKind::Plies => plan
            .choice
            .plies
            .first()
            .map_or("", |ply| ply.wood.as_str()),
        _ => plan.choice.wood.as_str(),
    };
    let board = named(first);
    let solid = motion(board.and_then(|wood| plates(&moistures, &[(plan.thickness_mm, wood)])));
    let mut left_mm = plan.left_mm();
    let plies: Option<Vec<(f64, Wood)>> = plan
        .choice
        .plies
        .iter()
        .map(|ply| {
            let own_mm = ply.thickness_mm.min(left_mm);
            left_mm -= own_mm;
            Some((own_mm, named(&ply.wood)?))
        })
        .filter(|ply| ply.as_ref().is_none_or(|(own_mm, _)| *own_mm > 0.0))
        .collect();
    let laminated = motion(plies.and_then(|plies| plates(&moistures, &plies)));
    let is_wedges = plan.choice.kind == BaseKind::Wedges;
    let wedge_opening_mm = board.filter(|_| is_wedges).and_then(|wood| {
        let wood = &wood;
        let across = moistures.across_width(wood)?;
        let along = moistures.along(wood, Grain::Along)?;
        let half = crate::trade::ring::half_angle_rad(plan.choice.wedge_count);
        let opening = |at: usize| {
            crate::trade::moisture::joint_opening_mm(
                half,
                plan.disc_mm / 2.0,
                across[at],
                along[at],
            )
        };
        Some([opening(0), opening(1)])
    });
    let chosen = match plan.choice.kind {
        BaseKind::Solid => solid,
        BaseKind::Plies => laminated,
        BaseKind::Wedges | BaseKind::Open => motion(board.and_then(|wood| {
            let across = moistures.across_width(&wood)?;
            let along = moistures.along(&wood, Grain::Along)?;
            let ratio = ratio(&moistures, &wood);
            Some([0, 1].map(|at| {
                let (_, grown) = ring_motion_mm(0.0, 1.0, across[at], along[at], ratio);
                Plate {
                    held_growth: [grown; 2],
                    ..Plate::default()
                }
            }))
        })),
    };
    Moved {
        chosen,
        solid,
        laminated,
        wedge_opening_mm,
    }
}

/// Stiffness across a board's face over that along it.
fn ratio(moistures: &Moistures, wood: &Wood) -> f64 {
    wood.stiffness_gpa(moistures.width_grain()) / wood.stiffness_gpa(Grain::Along)
}

/// How plies move in both seasons, each laid across the one below.
fn plates(moistures: &Moistures, plies: &[(f64, Wood)]) -> Option<[Plate; 2]> {
    let mut layers = [Vec::new(), Vec::new()];
    for (place, (thickness_mm, wood)) in plies.iter().enumerate() {
        let along = moistures.along(wood, Grain::Along)?;
        let across = moistures.across_width(wood)?;
        let stiffness = [Grain::Along, moistures.width_grain()].map(|it| wood.stiffness_gpa(it));
        for (season, layers) in layers.iter_mut().enumerate() {
            let mut layer = Layer {
                thickness_mm: *thickness_mm,
                stiffness,
                growth: [along[season], across[season]],
            };
            if place % 2 == 1 {
                layer.stiffness.reverse();
                layer.growth.reverse();
            }
            layers.push(layer);
        }
    }
    Some(layers.map(|layers| plate(&layers)))
}

/// A disc's movement against its ring.
fn against(plan: &BasePlan, moistures: &Moistures, ring: &Wood, plates: &[Plate; 2]) -> Motion {
    let around_ring = moistures.along(ring, Grain::Along).unwrap_or_default();
    let across_ring = moistures.across_width(ring).unwrap_or_default();
    let radius = plan.disc_mm / 2.0;
    let hole = |season: usize| {
        let is_within = plan.choice.set != BaseSet::Under && radius < plan.around.outside_mm;
        if !is_within {
            return around_ring[season] * plan.disc_mm;
        }
        let (inside, _) = ring_motion_mm(
            radius,
            plan.around.outside_mm,
            across_ring[season],
            around_ring[season],
            ratio(moistures, ring),
        );
        2.0 * inside
    };
    let each = |season: usize, ring_mm: f64| {
        plates[season]
            .held_growth
            .map(|growth| growth * plan.disc_mm - ring_mm)
    };
    let cup = |plate: &Plate| {
        let bends = plate.curvature_per_mm.map(f64::abs);
        bends[0].max(bends[1]) * plan.disc_mm * plan.disc_mm / 8.0
    };
    Motion {
        against_ring_mm: [0, 1].map(|season| each(season, around_ring[season] * plan.disc_mm)),
        against_hole_mm: [0, 1].map(|season| each(season, hole(season))),
        cup_mm: [cup(&plates[0]), cup(&plates[1])],
    }
}

/// The mortise and the hole through the ledge.
fn fit(plan: &mut BasePlan) {
    if plan.choice.set == BaseSet::Under {
        return;
    }
    let mortise_mm = plan.disc_mm + plan.choice.fit_mm + plan.play_mm().unwrap_or(0.0);
    plan.mortise_mm = Some(mortise_mm);
    if plan.choice.set == BaseSet::OnLedge {
        plan.through_mm = Some((mortise_mm - 2.0 * plan.choice.ledge_mm).max(0.0));
    }
}

/// The plies from the lowest up, and how thick each is dressed: together they hold what the
/// whole base's faces lose.
pub fn dressed_plies<'a>(
    design: &Design,
    choice: &'a BaseChoice,
) -> impl Iterator<Item = (&'a Ply, f64)> + use<'a> {
    let share_mm = 2.0 * design.allowance.face_mm / choice.plies.len().max(1) as f64;
    let plies = choice.plies.iter();
    plies.map(move |ply| (ply, ply.thickness_mm + share_mm))
}

/// The wood to saw. Plies of one wood and thickness are crosscut from a strip that is planed
/// while it is long, to their thickness or as near to it as a board suits; where none does
/// they are slices of one block.
fn blanks(design: &Design, plan: &BasePlan) -> Vec<Blank> {
    let side_mm = plan.disc_mm + 2.0 * design.allowance.outside_mm + SQUARE_SPARE_MM;
    let face = 2.0 * design.allowance.face_mm;
    let mut blanks: Vec<Blank> = Vec::new();
    let mut add = |wood: &str, dressed_mm: f64| {
        let same = blanks
            .iter_mut()
            .find(|it| it.wood == wood && (it.dressed_mm - dressed_mm).abs() < 1e-9);
        if let Some(same) = same {
            same.count += 1;
            same.stock_mm += same.sawn_mm + design.shop.kerf_mm;
            return;
        }
        blanks.push(Blank {
            wood: wood.to_owned(),
            count: 1,
            side_mm,
            sawn_mm: dressed_mm + face,
            dressed_mm,
            is_block: true,
            stock_mm: dressed_mm + face,
        });
    };
    match plan.choice.kind {
        BaseKind::Plies => {
            for (ply, dressed_mm) in dressed_plies(design, &plan.choice) {
                add(&ply.wood, dressed_mm);
            }
        }
        BaseKind::Solid => add(&plan.choice.wood, plan.choice.thickness_mm),
        BaseKind::Wedges | BaseKind::Open => {}
    }
    let rack = design.rack.as_ref().filter(|it| !it.boards.is_empty());
    let is_plies = plan.choice.kind == BaseKind::Plies;
    // Of plies that differ no block gives all: without boards each is crosscut from a strip that
    // was planed while it was long.
    if is_plies && rack.is_none() && blanks.iter().any(|it| it.count == 1) {
        for blank in &mut blanks {
            blank.is_block = false;
            blank.sawn_mm = blank.dressed_mm;
            blank.stock_mm = blank.dressed_mm;
        }
    }
    for blank in blanks.iter_mut().filter(|_| is_plies) {
        let has = |rack: &Rack, thickness_mm: f64| {
            let is_wood = |it: &&Board| wood::is_same(&it.wood, &blank.wood);
            let mut of_wood = rack.boards.iter().filter(is_wood);
            of_wood.any(|board| rack.suits(board, thickness_mm))
        };
        let Some(rack) = rack else { continue };
        let strips = [blank.dressed_mm, blank.sawn_mm];
        let strip = strips.into_iter().find(|thick| has(rack, *thick));
        if strip.is_none() && has(rack, blank.stock_mm) {
            continue;
        }
        blank.is_block = false;
        blank.sawn_mm = strip.unwrap_or(blank.dressed_mm);
        blank.stock_mm = blank.sawn_mm;
    }
    blanks
}

/// One of the wedges of a base that is a piece beside the rings, as a ring without a hole.
fn wedge(design: &Design, plan: &BasePlan) -> Option<Segment> {
    let is_beside = plan.mortise_mm.is_some() || plan.around.segment_count == 0;
    let is_piece = plan.choice.kind == BaseKind::Wedges && is_beside;
    let wanted = Wanted {
        outside_radius_mm: plan.disc_mm / 2.0,
        inside_radius_mm: 0.0,
        height_mm: plan.thickness_mm,
        segment_count: plan.choice.wedge_count,
        widest: 1.0,
        outside_allowance_mm: design.allowance.outside_mm,
        inside_allowance_mm: 0.0,
        face_allowance_mm: design.allowance.face_mm,
        spacer_mm: 0.0,
        gap_rad: 0.0,
    };
    is_piece.then(|| wanted.segment().ok()).flatten()
}

/// A base that cups by less than this is flattened with the foot: 0.3 mm (our own
/// choice, no published source).
const CUPS_MM: f64 = 0.3;

/// Why a base cannot be set into its ring.
fn has_no_place(plan: &BasePlan) -> Option<Trouble> {
    let around = &plan.around;
    if plan.choice.set == BaseSet::Under {
        return None;
    }
    let held_mm = plan.through_mm.unwrap_or(plan.disc_mm);
    let hole_mm = 2.0 * around.holes_mm[0];
    let seat_mm = plan.seat_mm();
    let (field, reason) = match around.floor_mm {
        _ if around.place.is_some() && plan.choice.in_ring > around.ring_count => (
            key::BASE_RING,
            Reason::NoSuchRing {
                ring: plan.choice.in_ring,
                count: around.ring_count,
            },
        ),
        _ if plan.disc_mm >= 2.0 * around.outside_mm => (
            key::BASE_DIAMETER,
            Reason::BaseFillsRing {
                disc_mm: plan.disc_mm,
                ring_mm: 2.0 * around.outside_mm,
            },
        ),
        _ if around.segment_count == 0 => (key::BASE_SET, Reason::NoRingForBase),
        _ if held_mm < hole_mm => (
            key::BASE_DIAMETER,
            Reason::BaseFallsThrough {
                disc_mm: plan.disc_mm,
                least_mm: hole_mm + plan.disc_mm - held_mm,
                hole_mm,
            },
        ),
        Some(floor_mm) if floor_mm <= seat_mm => (
            if plan.choice.in_ring > 1 {
                key::BASE_RING
            } else {
                key::BASE_SET
            },
            Reason::BaseAboveFloor {
                below_mm: seat_mm - floor_mm,
            },
        ),
        _ => return None,
    };
    Some(Trouble::at(field, reason))
}

/// What to look at before gluing.
fn look_over(design: &Design, plan: &mut BasePlan) {
    plan.troubles.extend(has_no_place(plan));
    let (around, choice) = (&plan.around, &plan.choice);
    let is_within = choice.set != BaseSet::Under;
    if is_within && plan.through_mm.is_some_and(|through| through <= 0.0) {
        let reason = Reason::OutOfRange {
            value: choice.ledge_mm,
            least: 0.0,
            most: plan.disc_mm / 2.0,
        };
        plan.troubles.push(Trouble::at(key::BASE_LEDGE, reason));
    }
    let mut cautions = Vec::new();
    if let Some(motion) = plan.moved.chosen {
        let most_mm = motion.most_mm();
        if !motion.is_safe(plan.disc_mm) {
            cautions.push(match choice.set {
                BaseSet::Under => Caution::BaseTears { most_mm },
                _ => Caution::BaseBreaksRing {
                    most_mm,
                    share: most_mm / plan.disc_mm,
                },
            });
        }
        let loose_mm = plan.mortise_mm.map_or(0.0, |it| it - plan.disc_mm) + motion.shrink_mm();
        if choice.set == BaseSet::OnLedge && loose_mm > choice.ledge_mm {
            cautions.push(Caution::LedgeTooNarrow {
                ledge_mm: choice.ledge_mm,
                loose_mm,
            });
        }
        let cup_mm = motion.cup_mm[0].max(motion.cup_mm[1]);
        if choice.kind == BaseKind::Plies
            && (choice.plies.len().is_multiple_of(2) || cup_mm > CUPS_MM)
        {
            cautions.push(Caution::BaseCups {
                plies: choice.plies.len() as u32,
                cup_mm,
            });
        }
    } else {
        let mut woods = choice.plies.iter().map(|ply| &ply.wood);
        let unknown = if choice.kind == BaseKind::Plies {
            woods
                .find(|name| !woods::named(design, name).is_some_and(|it| it.moves()))
                .cloned()
        } else {
            Some(choice.wood.clone())
        };
        cautions.push(Caution::NoFigures {
            wood: unknown.unwrap_or_default(),
        });
    }
    let below_mm = 2.0 * around.holes_mm[1];
    if let Some(below) = around.place.filter(|_| below_mm > plan.disc_mm) {
        cautions.push(Caution::BaseNotCarried {
            ring: below,
            hole_mm: below_mm,
            wider_mm: below_mm - plan.disc_mm,
        });
    }
    let room_mm = match choice.set {
        BaseSet::Under => around.kept_mm,
        BaseSet::LetIn | BaseSet::OnLedge => Some(around.height_mm),
    };
    if let Some(room_mm) = room_mm {
        let over = plan.thickness_mm - room_mm;
        // Under and on a ledge a thinner base is as wrong, or as meant, as it looks.
        let is_off = match choice.set {
            BaseSet::Under => over.abs() > 0.1,
            BaseSet::LetIn => over > 0.1,
            BaseSet::OnLedge => over > -0.1,
        };
        if is_off {
            cautions.push(Caution::BaseHeight {
                base_mm: plan.thickness_mm,
                room_mm,
            });
        }
    }
    plan.cautions = cautions;
}
