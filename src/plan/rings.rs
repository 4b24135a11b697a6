//! The rings of a vessel worked out: each with its place in the wall, its segment and
//! strips; one that is glued already as it was measured.

use crate::design::field::key;
use crate::design::trouble::{Reason, Trouble};
use crate::design::{
    Across, Between, Board, Design, GapBy, MadeOf, OutlineIs, PointChoice, StackRing, Vessel,
};
use crate::draw::palette::PAPER;
use crate::plan::floor;
use crate::plan::measured;
use crate::plan::outline;
use crate::plan::ring::{self as alone, RingPlan, RingWood};
use crate::plan::stripe::{self, Finished, StripePlan};
use crate::plan::woods;
use crate::trade::lathe;
use crate::trade::ring::{RingError, Segment, Wanted};
use crate::trade::room::Face;
use crate::trade::round::{Alike, Round};
use crate::trade::shape::{self, Wall};
use crate::trade::strip::{Cutting, Strips, strips, together};
use crate::trade::surface::Gaps;
use crate::trade::vessel::{self, Joint, Span};
use crate::trade::wood::is_same;
use crate::units::color::Color;
use std::cell::RefCell;
use std::f64::consts::{PI, TAU};
use std::rc::Rc;

/// The rings of a vessel, and the wall that they must hold.
#[derive(Clone, Debug)]
pub struct Rings {
    /// The whole design.
    pub design: Rc<Design>,
    /// The vessel as it is: glued rings as high as they were measured, the lowest ring as
    /// the base says, the outline drawn in the rings where the turner has none of his own.
    pub vessel: Vessel,
    /// The wall; missing when the points make no curve.
    pub wall: Option<Wall>,
    /// The rings, from the foot up.
    pub rings: Vec<RingInStack>,
    /// The joints between them.
    pub joints: Vec<Joint>,
}

impl Rings {
    /// A ring of the stack as it is looked up beside the saw; nothing where there is none.
    pub fn ring(&self, place: usize) -> Option<RingPlan> {
        let (ring, planned) = (self.vessel.rings.get(place)?, self.rings.get(place)?);
        let mut woods: Vec<RingWood> = Vec::new();
        for own in &planned.strips_by_wood {
            let known = woods.iter_mut().find(|it| it.place == Some(own.wood));
            if let Some(known) = known {
                known.segment_count += own.segment_count;
                known.strips = together(known.strips.iter().chain([&own.strips]));
                continue;
            }
            woods.push(RingWood {
                name: self.vessel.woods.get(own.wood).cloned().unwrap_or_default(),
                place: Some(own.wood),
                segment_count: own.segment_count,
                strips: Some(own.strips),
            });
        }
        let alone = alone::of_segments(
            &self.design,
            planned.wanted,
            ring.between,
            planned.alike.clone(),
            woods,
        );
        let density = self.density_kg_m3(place, When::Sawn);
        let alone = RingPlan {
            weight_kg: density
                .filter(|_| alone.segment.is_some())
                .map(|density| density * planned.blank_mm3 * 1e-9),
            ..alone
        };
        Some(match &planned.stripes {
            Some(stripes) => RingPlan {
                woods: self.striped_woods(place, stripes),
                stripes: planned.stripes.clone(),
                strip_wood_mm3: None,
                cost: None,
                ..alone
            },
            None => alone,
        })
    }

    /// The woods of striped segments: strips of them there are none.
    fn striped_woods(&self, place: usize, stripes: &StripePlan) -> Vec<RingWood> {
        let ring = &self.vessel.rings[place];
        let named = |wood: usize| RingWood {
            name: self.vessel.woods.get(wood).cloned().unwrap_or_default(),
            place: Some(wood),
            segment_count: ring.segment_count,
            strips: None,
        };
        let first = stripes.woods.first().copied();
        let others = ring.woods().into_iter().filter(|it| Some(*it) != first);
        first.into_iter().chain(others).map(named).collect()
    }

    /// Density of a ring's mix of woods, each segment, and each layer of striped ones, by
    /// its share; missing when one has no figure.
    pub fn density_kg_m3(&self, place: usize, when: When) -> Option<f64> {
        let (ring, planned) = (self.vessel.rings.get(place)?, self.rings.get(place)?);
        let names = self.vessel.woods.iter();
        let densities: Vec<Option<f64>> = names
            .map(|name| woods::named(&self.design, name)?.density_kg_m3())
            .collect();
        let density = |wood: usize| densities.get(wood).copied().flatten();
        if let Some(own) = &planned.stripes {
            let shares = match when {
                When::Sawn => &own.sawn_shares,
                When::Finished => &own.finished_shares,
            };
            let layers = own.woods.iter().zip(shares);
            return layers
                .map(|(wood, share)| Some(density(*wood)? * share))
                .sum();
        }
        if ring.made_of == MadeOf::Disc {
            return density(ring.wood_of(0));
        }
        let share = |segment: u32| match when {
            When::Sawn => planned.segment_at(segment).map_or(1.0, Segment::area_mm2),
            When::Finished => planned.round.half_angle_rad(segment),
        };
        let segments = 0..ring.segment_count;
        let mass = |it| Some(density(ring.wood_of(it))? * share(it));
        let sum = segments.clone().map(mass).sum::<Option<f64>>()?;
        Some(sum / segments.map(share).sum::<f64>())
    }

    /// What the glue between two of the rings covers where one stands on the other.
    pub fn glue_between_mm2(&self, below: usize, above: usize) -> f64 {
        let at = |place: usize| self.vessel.rings.get(place).zip(self.rings.get(place));
        let both = at(below).zip(at(above));
        both.map_or(0.0, |(below, above)| stack_glue_mm2(below, above, 0.0))
    }

    /// The same where the halves meet below a ring: their inside is turned before they are
    /// joined, their outside after.
    pub fn glue_at_meeting_mm2(&self, above: usize) -> f64 {
        let at = |place: usize| self.vessel.rings.get(place).zip(self.rings.get(place));
        let both = above.checked_sub(1).and_then(at).zip(at(above));
        let turned_mm = |above: &RingInStack| {
            let wall = self.wall.as_ref();
            wall.map_or(0.0, |wall| wall.inside_radius_at(above.span.bottom_mm))
        };
        both.map_or(0.0, |(below, above)| {
            stack_glue_mm2(below, above, turned_mm(above.1))
        })
    }

    /// Volume of the finished wall (and floor) in a ring's height: the outside less the hollow,
    /// in thin frusta; 0 where there is none.
    pub fn finished_mm3(&self, place: usize) -> f64 {
        let (Some(wall), Some(ring)) = (&self.wall, self.rings.get(place)) else {
            return 0.0;
        };
        let rim = wall.outside.height_mm();
        let (from, to) = (ring.span.bottom_mm.min(rim), ring.span.top_mm.min(rim));
        let outside = wall.outside_between(from, to);
        let hollow_mm3 = shape::volume_mm3(&shape::between(wall.hollow(), from, to));
        // On wild outlines the hollow, taken straight between its samples, may cut the wall.
        (shape::volume_mm3(&outside) - hollow_mm3).max(0.0)
    }

    /// What of that is air between segments that stand apart, by thin slices.
    pub fn air_mm3(&self, place: usize) -> f64 {
        const SLICES: u32 = 16;
        let ring = self.vessel.rings.get(place).zip(self.rings.get(place));
        let gaps = ring.and_then(|(ring, planned)| gaps_of(ring, planned));
        let (Some(wall), Some(gaps), Some((_, planned))) = (&self.wall, gaps, ring) else {
            return 0.0;
        };
        let rim = wall.outside.height_mm();
        let (from, to) = (
            planned.span.bottom_mm.min(rim),
            planned.span.top_mm.min(rim),
        );
        let step_mm = (to - from) / f64::from(SLICES);
        let slice = |number: u32| {
            let height_mm = from + (f64::from(number) + 0.5) * step_mm;
            let inside_mm = if height_mm < wall.floor_mm {
                0.0
            } else {
                wall.inside_radius_at(height_mm)
            };
            let outside_mm = wall.outside.radius_at(height_mm);
            gaps.level_mm2(inside_mm.min(outside_mm), outside_mm) * step_mm
        };
        (0..SLICES).map(slice).sum()
    }
}

/// At which time a ring's wood is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// As it is sawn and glued.
    Sawn,
    /// What is left of it when it is turned.
    Finished,
}

/// What a ring is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// Mitred segments.
    Segments,
    /// One solid disc.
    Disc,
    /// The plies of the base.
    Plies,
    /// Nothing: it cannot be made as it is wanted.
    Nothing,
}

/// Works the rings out.
pub fn plan_rings(design: &Rc<Design>, troubles: &mut Vec<Trouble>) -> Option<Rings> {
    let vessel = as_it_is(design, troubles)?;
    let floor_mm = floor::floor_mm(design.base.as_ref(), &vessel);
    let wall = wall(floor_mm, &vessel, troubles);
    let mut rings = Rings {
        design: Rc::clone(design),
        wall,
        rings: Vec::new(),
        joints: Vec::new(),
        vessel,
    };
    let Some(wall) = &rings.wall else {
        return Some(rings);
    };
    let heights = rings.vessel.rings.iter().map(|ring| ring.height_mm);
    let spans = vessel::spans(wall, &heights.collect::<Vec<_>>());
    let stack = rings.vessel.rings.iter().zip(&spans).enumerate();
    rings.rings = stack
        .map(|(place, (ring, span))| {
            let hole_mm = (ring.made_of == MadeOf::Segments)
                .then_some(design.base.as_ref())
                .flatten()
                .and_then(|base| floor::hole_mm(base, &rings.vessel, wall, place));
            let holds = Holds {
                hole_mm,
                trimmed_mm: trimmed_mm(design, &rings.vessel, place),
            };
            let planned = plan_ring(design, ring, span, place, &holds, troubles);
            let names = &rings.vessel.woods;
            let stripes = planned.segment.and_then(|segment| {
                let cutting = cutting_of_layers(design, names, ring);
                let finished = Finished { wall, span };
                let (own, no_board) =
                    stripe::plan(design, names, &finished, ring, &segment, &cutting)?;
                if !ring.shares.is_empty() && !ring.is_glued() {
                    let field = format!("vessel.rings.{place}.shares");
                    troubles.push(Trouble::at(field, Reason::SharesOfStriped));
                }
                troubles.extend(no_board.map(|error| {
                    let field = format!("vessel.rings.{place}.stripes.slant_deg");
                    Trouble::at(field, Reason::Stripe(error))
                }));
                Some(own)
            });
            RingInStack {
                colors: colors(design, names, ring),
                stripes,
                ..planned
            }
        })
        .collect();
    rings.joints = joints(wall, &spans, &rings.rings);
    Some(rings)
}

/// The vessel as it is, whatever of it was only planned.
fn as_it_is(design: &Design, troubles: &mut Vec<Trouble>) -> Option<Vessel> {
    let mut vessel = design.vessel.clone()?;
    for ring in &mut vessel.rings {
        ring.height_mm = ring.height_now_mm();
    }
    if let Some(lowest) = vessel.rings.first_mut() {
        lowest.made_of = floor::made_of_lowest(design, lowest);
    }
    if vessel.outline_is == OutlineIs::InRings {
        let (stack, missing) = measured::glued(&vessel, |_| None);
        troubles.extend(missing);
        if let Some(drawn) = outline::drawn_in(&stack, design.unit) {
            drawn.put_into(&mut vessel);
            // The floor is drawn above the ring that the base is let into.
            vessel.floor_mm += floor::base_ring_mm(design.base.as_ref(), &vessel);
        }
    }
    Some(vessel)
}

/// One ring of the stack.
#[derive(Clone, Debug)]
pub struct RingInStack {
    /// Its place.
    pub span: Span,
    /// What is wanted of it, extras included.
    pub wanted: Wanted,
    /// What it is made of.
    pub made: Made,
    /// Its segment, of several kinds the widest; only where it is made of segments.
    pub segment: Option<Segment>,
    /// The segments that are sawn alike, the widest first; none where it has no segment.
    pub alike: Vec<Alike>,
    /// How its round is shared among its segments.
    pub round: Round,
    /// Its strips, those of all its woods together.
    pub strips: Option<Strips>,
    /// The same wood by wood: a strip is of one.
    pub strips_by_wood: Vec<WoodStrips>,
    /// Largest radius of the glued blank, corners included.
    pub reach_mm: f64,
    /// Radii of its true circle and hole when cut as shown.
    pub as_cut_mm: (f64, f64),
    /// Its faces as they were measured; nothing before it is glued.
    pub measured: Option<[Face; 2]>,
    /// Volume of the blank, cubic millimeters.
    pub blank_mm3: f64,
    /// The colors of its pattern's woods.
    pub colors: Vec<Color>,
    /// Its striped segments, where it has them.
    pub stripes: Option<StripePlan>,
}

impl RingInStack {
    /// Wood for a disc: it is sawn from a square.
    pub fn disc_blank_mm3(&self) -> f64 {
        let side = 2.0 * self.reach_mm;
        side * side * self.wanted.strip_height_mm()
    }

    /// One of its segments; nothing where it is made of none.
    pub fn segment_at(&self, segment: u32) -> Option<&Segment> {
        let own = self.alike.get(self.round.kind_of(segment));
        own.map(|it| &it.segment)
    }

    /// The color of a segment at a place: along its flat, and above the ring's middle.
    pub fn color_at(&self, segment: u32, v_mm: f64, z_mm: f64) -> Color {
        let of_layer = |own: &StripePlan| {
            let layer = own.layer_at(segment, v_mm, z_mm);
            own.colors.get(layer).copied()
        };
        let striped = self.stripes.as_ref().and_then(of_layer);
        striped.unwrap_or_else(|| self.color_of(segment))
    }

    /// The height of its middle in the stack.
    pub fn middle_mm(&self) -> f64 {
        f64::midpoint(self.span.bottom_mm, self.span.top_mm)
    }

    /// The color of a segment's wood; of striped ones that of the first layer.
    pub fn color_of(&self, segment: u32) -> Color {
        if let Some(color) = self.stripes.as_ref().and_then(|own| own.colors.first()) {
            return *color;
        }
        let count = self.colors.len().max(1);
        let color = self.colors.get(segment as usize % count);
        color.copied().unwrap_or(PAPER)
    }
}

/// Strips of one wood for one ring's segments of a kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WoodStrips {
    /// The wood's place in the vessel's list.
    pub wood: usize,
    /// One of the segments.
    pub segment: Segment,
    /// How many of them are of it.
    pub segment_count: u32,
    /// Its strips.
    pub strips: Strips,
}

/// The joints: no wider than the measured rings on both sides are.
fn joints(wall: &Wall, spans: &[Span], rings: &[RingInStack]) -> Vec<Joint> {
    let mut joints = vessel::joints(wall, spans);
    for (joint, both) in joints.iter_mut().zip(rings.windows(2)) {
        let below = both[0].measured.map(|faces| faces[1]);
        let above = both[1].measured.map(|faces| faces[0]);
        // Below the floor the wall goes to the axis, and a ring with a base's hole does not.
        for ring in both {
            joint.inside_radius_mm = joint.inside_radius_mm.max(ring.wanted.inside_radius_mm);
        }
        for face in below.into_iter().chain(above) {
            joint.outside_radius_mm = joint.outside_radius_mm.min(face.outside_mm);
            joint.inside_radius_mm = joint
                .inside_radius_mm
                .max(face.hole_mm)
                .min(joint.outside_radius_mm);
        }
    }
    joints
}

/// What a wall follows from: the points, its thickness at foot and rim, the floor.
#[derive(PartialEq)]
struct WallOf {
    points: Vec<PointChoice>,
    thick_mm: [f64; 2],
    floor_mm: f64,
}

thread_local! {
    /// The wall that was worked out last: most changes leave it as it is, and it is half of
    /// the work.
    static LAST: RefCell<Option<(WallOf, Wall)>> = const { RefCell::new(None) };
}

/// The wall of a vessel, or the troubles that leave none.
fn wall(floor_mm: f64, vessel: &Vessel, troubles: &mut Vec<Trouble>) -> Option<Wall> {
    let Some(outside) = vessel.curve() else {
        troubles.push(Trouble::at(key::POINTS, Reason::NoCurve));
        return None;
    };
    let height_mm = outside.height_mm();
    if floor_mm >= height_mm {
        let reason = Reason::FloorPastRim {
            floor_mm,
            height_mm,
        };
        troubles.push(Trouble::at(key::FLOOR, reason));
    }
    let of = WallOf {
        points: vessel.points.clone(),
        thick_mm: [vessel.foot_wall_mm, vessel.rim_wall_mm],
        floor_mm: floor_mm.min(height_mm),
    };
    LAST.with_borrow_mut(|last| {
        let (_, wall) = match last {
            Some(same) if same.0 == of => same,
            _ => {
                let [foot_mm, rim_mm] = of.thick_mm;
                let wall = Wall::inside(outside, foot_mm, rim_mm, of.floor_mm);
                last.insert((of, wall))
            }
        };
        Some(wall.clone())
    })
}

/// How much more a ring's faces hold for slot sets, as far as the thickest stock gives it:
/// where a stack ends, its face is made flat again after each set's strips are trimmed.
fn trimmed_mm(design: &Design, vessel: &Vessel, place: usize) -> f64 {
    let number = place as u32 + 1;
    let sets = vessel.slot_sets.iter();
    let ends = sets.flat_map(|it| [it.from_ring, it.to_ring]);
    let trimmed_mm = ends.filter(|end| *end == number).count() as f64 * lathe::FACED_MM;
    let thickest_mm = design.shop.stock_mm.iter().copied().fold(0.0, f64::max);
    let taken_mm = vessel.rings[place].height_mm + 2.0 * design.allowance.face_mm;
    trimmed_mm.min((thickest_mm - taken_mm).max(0.0))
}

/// What a ring is asked for by what is set into it.
struct Holds {
    /// The inside radius that a base let in leaves it, where it is.
    hole_mm: Option<f64>,
    /// What both its faces lose with the strips of slots.
    trimmed_mm: f64,
}

/// What is wanted of a ring in its span.
fn wanted(design: &Design, ring: &StackRing, span: &Span, holds: &Holds) -> Wanted {
    // A base let in leaves its ring a hole where the floor would need none.
    let hole_mm = holds.hole_mm.unwrap_or(span.inside_radius_mm);
    let inside_radius_mm = (hole_mm - ring.inside_extra_mm).max(0.0);
    Wanted {
        outside_radius_mm: span.outside_radius_mm + ring.outside_extra_mm,
        inside_radius_mm,
        height_mm: ring.height_mm,
        segment_count: ring.segment_count,
        widest: ring.round().widest(),
        outside_allowance_mm: design.allowance.outside_mm,
        // A small hole is not worth keeping wood in: it is turned out of the whole.
        inside_allowance_mm: design.allowance.inside_mm.min(inside_radius_mm),
        face_allowance_mm: design.allowance.face_mm + holds.trimmed_mm / 2.0,
        spacer_mm: ring.between_mm(),
        gap_rad: ring.gap_rad(),
    }
}

fn plan_ring(
    design: &Design,
    ring: &StackRing,
    span: &Span,
    place: usize,
    holds: &Holds,
    troubles: &mut Vec<Trouble>,
) -> RingInStack {
    let planned = wanted(design, ring, span, holds);
    let as_planned = as_cut_mm(design, ring, &planned);
    let faces = measured::faces(ring, Some(as_planned));
    let wanted = faces.map_or(planned, |faces| as_measured(&planned, &faces));
    let mut made = match ring.made_of {
        MadeOf::Disc if place == 0 && floor::is_plies(design, ring) => Made::Plies,
        MadeOf::Disc => Made::Disc,
        MadeOf::Segments => Made::Segments,
    };
    let round = ring.round();
    let mut alike = Vec::new();
    if made == Made::Segments {
        match round.segments(&wanted) {
            Ok(found) => alike = found,
            Err(error) => {
                made = Made::Nothing;
                troubles.extend(at_ring(error, ring, place));
            }
        }
    }
    let segment = alike.first().map(|it| it.segment);
    let strips_by_wood = if ring.is_glued() || ring.striped().is_some() {
        Vec::new()
    } else {
        strips_by_wood(design, ring, &round, &alike, troubles)
    };
    let rough = wanted.outside_radius_mm + wanted.outside_allowance_mm;
    let height = wanted.strip_height_mm();
    let reach_mm = match (&ring.measured, &segment) {
        (Some(it), _) if it.outside_across == Across::Round => rough,
        (_, Some(segment)) => segment.across_corners_mm / 2.0,
        (_, None) => rough,
    };
    RingInStack {
        span: *span,
        wanted,
        made,
        segment,
        strips: together(strips_by_wood.iter().map(|own| &own.strips)),
        strips_by_wood,
        round,
        reach_mm,
        as_cut_mm: faces.map_or(as_planned, |[lower, upper]| {
            (
                lower.outside_mm.min(upper.outside_mm),
                lower.hole_mm.max(upper.hole_mm),
            )
        }),
        measured: faces,
        blank_mm3: match (made, segment) {
            (Made::Nothing, _) => 0.0,
            (_, Some(_)) => {
                vessel::ring_volume_mm3(&wanted, &alike, ring.between == Between::Spacer)
            }
            (_, None) => PI * rough * rough * height,
        },
        alike,
        colors: Vec::new(),
        stripes: None,
    }
}

/// Radii of the true circle and hole of a planned ring when it is cut as shown.
fn as_cut_mm(design: &Design, ring: &StackRing, wanted: &Wanted) -> (f64, f64) {
    let alike = (ring.made_of == MadeOf::Segments)
        .then(|| ring.round().segments(wanted).ok())
        .flatten();
    let rough = wanted.outside_radius_mm + wanted.outside_allowance_mm;
    alike.map_or((rough, 0.0), |alike| {
        let (circle, hole) = alone::as_cut_mm(design, wanted, &alike);
        (circle / 2.0, hole / 2.0)
    })
}

/// What a glued ring is: nothing is kept on it beyond what was measured.
fn as_measured(planned: &Wanted, [lower, upper]: &[Face; 2]) -> Wanted {
    Wanted {
        outside_radius_mm: lower.outside_mm.min(upper.outside_mm),
        inside_radius_mm: lower.hole_mm.max(upper.hole_mm),
        outside_allowance_mm: 0.0,
        inside_allowance_mm: 0.0,
        face_allowance_mm: 0.0,
        ..*planned
    }
}

/// A layer's strip is no narrower, 1 in, where spots of a board are gone round (our own choice, no
/// published source).
const NARROW_MM: f64 = crate::units::length::MM_PER_INCH;

/// What a striped board's layers are cut by: none is longer than the boards of its wood,
/// where some were entered.
fn cutting_of_layers(design: &Design, names: &[String], ring: &StackRing) -> Cutting {
    let mut cutting = alone::cutting(design);
    let boards = design.rack.as_ref().map_or(&[][..], |rack| &rack.boards);
    for wood in ring.woods() {
        let is_of = |board: &&Board| names.get(wood).is_some_and(|it| is_same(&board.wood, it));
        let clear = boards.iter().filter(is_of);
        let clear = clear.map(|board| board.longest_clear_mm(NARROW_MM));
        let longest = clear.map(|it| it - cutting.kerf_mm).reduce(f64::max);
        cutting.strip_length_mm = longest.map_or(cutting.strip_length_mm, |it| {
            cutting.strip_length_mm.min(it)
        });
    }
    cutting
}

/// The strips of each of a ring's woods, and of each kind of segment: a strip is of one.
/// That the strips at hand are too short is told once.
fn strips_by_wood(
    design: &Design,
    ring: &StackRing,
    round: &Round,
    alike: &[Alike],
    troubles: &mut Vec<Trouble>,
) -> Vec<WoodStrips> {
    let mut counts: Vec<((usize, usize), u32)> = Vec::new();
    let segments = 0..if alike.is_empty() { 0 } else { round.count() };
    for own in segments.map(|place| (ring.wood_of(place), round.kind_of(place))) {
        match counts.iter_mut().find(|it| it.0 == own) {
            Some((_, count)) => *count += 1,
            None => counts.insert(counts.partition_point(|it| it.0 < own), (own, 1)),
        }
    }
    let mut too_short = None;
    let of_wood = |((wood, kind), segment_count): ((usize, usize), u32)| {
        let segment = alike[kind].segment;
        let (strips, error) = strips(&segment, segment_count, &alone::cutting(design));
        too_short = too_short.take().or(error);
        WoodStrips {
            wood,
            segment,
            segment_count,
            strips,
        }
    };
    let all = counts.into_iter().map(of_wood).collect();
    troubles.extend(too_short.map(alone::too_short));
    all
}

/// The colors of a ring's pattern.
fn colors(design: &Design, names: &[String], ring: &StackRing) -> Vec<Color> {
    let color = |place: &u32| {
        let name = names.get(*place as usize);
        woods::color(design, name.map_or("", String::as_str))
    };
    ring.pattern.iter().map(color).collect()
}

/// Why a ring cannot be made, at that ring's field; a glued ring's readings are told where
/// they are read.
fn at_ring(error: RingError, ring: &StackRing, place: usize) -> Option<Trouble> {
    let field = match error {
        RingError::SpacerTooThick { .. } => format!("vessel.rings.{place}.spacer_mm"),
        RingError::GapTooWide { .. } if ring.gap_by == GapBy::Share => {
            format!("vessel.rings.{place}.gap_pct")
        }
        RingError::GapTooWide { .. } => format!("vessel.rings.{place}.gap_deg"),
        RingError::TooWide { .. } => format!("vessel.rings.{place}.shares"),
        RingError::AllowancePastCenter { .. } => key::INSIDE_ALLOWANCE.to_owned(),
        RingError::NoWall { .. } if ring.is_glued() => return None,
        RingError::NoWall { .. } => format!("vessel.rings.{place}.height_mm"),
    };
    Some(Trouble::at(field, error.into()))
}

/// What the glue of a ring's own joints covers, square millimeters.
pub fn ring_glue_mm2(ring: &StackRing, planned: &RingInStack) -> f64 {
    let round = &planned.round;
    let Some(widest) = &planned.segment else {
        return 0.0;
    };
    let ends = |segment: u32| {
        let segment = planned.segment_at(segment);
        segment.unwrap_or(widest).face_ends_mm()
    };
    let long_mm = |[from, to]: [f64; 2]| to - from;
    let of_joint = |before: u32| {
        let (one, other) = (ends(before), ends(before + 1));
        match ring.between {
            // Where a wide one meets a narrow one, each reaches past the other.
            Between::Nothing => long_mm([one[0].max(other[0]), one[1].min(other[1])]),
            Between::Spacer => long_mm(one) + long_mm(other),
            Between::Gap => 0.0,
        }
    };
    let joints = (0..round.count()).map(of_joint);
    joints.sum::<f64>() * widest.strip_height_mm
}

/// A ring's open gaps.
pub fn gaps_of(ring: &StackRing, planned: &RingInStack) -> Option<Gaps> {
    let wanted = &planned.wanted;
    let is_apart = wanted.spacer_mm > 0.0 || wanted.gap_rad > 0.0;
    let is_open = ring.between == Between::Gap && planned.segment.is_some() && is_apart;
    is_open.then_some(Gaps {
        count: ring.segment_count,
        thickness_mm: wanted.spacer_mm,
        angle_rad: wanted.gap_rad,
    })
}

/// How far a glued ring's flats are from the axis, inside and outside.
pub fn flats_mm(planned: &RingInStack) -> (f64, f64) {
    planned.segment.map_or((0.0, planned.reach_mm), |segment| {
        (segment.inside_apothem_mm, segment.outside.apothem_mm)
    })
}

/// What is turned off the flats all round before slots are sawn: 1/64 in (our own choice, no
/// published source). A ring that came out a hair off center or small still has no flats then.
const TRUED_MM: f64 = 0.396_875;

/// The radius that a ring is turned round to for slots: a little within its flats, and at
/// most half of the way to what it is to be.
pub fn trued_mm(planned: &RingInStack) -> f64 {
    let (_, flat_mm) = flats_mm(planned);
    let spare_mm = (flat_mm - planned.span.outside_radius_mm).max(0.0);
    flat_mm - TRUED_MM.min(spare_mm / 2.0)
}

/// What the glue between two glued rings covers: the polygon of the outside that is
/// smaller less that of the inside that is larger, or less the hole turned into both. Where
/// segments are unlike, or stand apart with air between them, only wood on wood counts,
/// segment by segment; a turned hole takes the same share of it as of whole rings.
fn stack_glue_mm2(
    below: (&StackRing, &RingInStack),
    above: (&StackRing, &RingInStack),
    turned_mm: f64,
) -> f64 {
    let is_open = |(ring, planned): (&StackRing, &RingInStack)| {
        let is_uneven = planned.segment.is_some() && !planned.round.is_even();
        is_uneven || gaps_of(ring, planned).is_some()
    };
    let whole_mm2 = even_glue_mm2(below.1, above.1, turned_mm);
    if !is_open(below) && !is_open(above) {
        return whole_mm2;
    }
    let unturned_mm2 = even_glue_mm2(below.1, above.1, 0.0);
    let (below, above) = (pieces(below), pieces(above));
    let both = below
        .iter()
        .flat_map(|one| above.iter().map(move |other| (one, other)));
    let wood_mm2: f64 = both.map(|(one, other)| overlap_mm2(one, other)).sum();
    wood_mm2 * whole_mm2 / unturned_mm2.max(f64::MIN_POSITIVE)
}

/// The same of two rings that are whole all round.
fn even_glue_mm2(below: &RingInStack, above: &RingInStack, turned_mm: f64) -> f64 {
    let polygon = |planned: &RingInStack, flat: f64| match planned.segment {
        Some(_) => {
            let kinds = planned.round.kinds().iter();
            let tangents = kinds.map(|it| f64::from(it.count) * it.half_angle_rad.tan());
            tangents.sum::<f64>() * flat * flat
        }
        None => PI * flat * flat,
    };
    let (low, high) = (flats_mm(below), flats_mm(above));
    let outside = polygon(below, low.1).min(polygon(above, high.1));
    let inside = polygon(below, low.0).max(polygon(above, high.0));
    let turned = PI * turned_mm * turned_mm;
    (outside - inside.max(turned)).max(0.0)
}

/// Corners of the pieces of a glued ring, seen from above, each going round to the left; a
/// disc is taken for as many wedges as make its edge round.
fn pieces((_, planned): (&StackRing, &RingInStack)) -> Vec<Vec<(f64, f64)>> {
    const WEDGES: u32 = 96;
    let turned = |direction: f64, along: f64, aside: f64| {
        let (sine, cosine) = direction.sin_cos();
        (along * sine + aside * cosine, along * cosine - aside * sine)
    };
    if planned.segment.is_none() {
        let step = TAU / f64::from(WEDGES);
        // As large as the disc's circle.
        let radius = planned.reach_mm * (step / step.sin()).sqrt();
        let corner = |at: u32| turned(f64::from(at) * step, radius, 0.0);
        return (0..WEDGES)
            .map(|at| vec![(0.0, 0.0), corner(at + 1), corner(at)])
            .collect();
    }
    (0..planned.round.count())
        .filter_map(|place| Some((planned.round.middle_rad(place), planned.segment_at(place)?)))
        .map(|(middle, segment)| {
            let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
            let (short, long) = (
                segment.short_edge_mm / 2.0,
                segment.outside.long_edge_mm / 2.0,
            );
            vec![
                turned(middle, inside, short),
                turned(middle, outside, long),
                turned(middle, outside, -long),
                turned(middle, inside, -short),
            ]
        })
        .collect()
}

/// Area that two convex pieces have in common: one is clipped along the other's edges
/// (Sutherland and Hodgman, Reentrant polygon clipping, Communications of the ACM 17, 1974).
fn overlap_mm2(one: &[(f64, f64)], other: &[(f64, f64)]) -> f64 {
    let reach = |piece: &[(f64, f64)], of: fn(&(f64, f64)) -> f64| {
        let all = piece.iter().map(of);
        all.fold((f64::MAX, f64::MIN), |at, it| (at.0.min(it), at.1.max(it)))
    };
    let is_apart = |of: fn(&(f64, f64)) -> f64| {
        let (a, b) = (reach(one, of), reach(other, of));
        a.1 <= b.0 || b.1 <= a.0
    };
    if is_apart(|it| it.0) || is_apart(|it| it.1) {
        return 0.0;
    }
    let next = |piece: &[(f64, f64)], at: usize| piece[(at + 1) % piece.len()];
    let mut left = one.to_vec();
    for (at, from) in other.iter().enumerate() {
        let to = next(other, at);
        let side =
            |it: &(f64, f64)| (to.0 - from.0) * (it.1 - from.1) - (to.1 - from.1) * (it.0 - from.0);
        let mut kept = Vec::new();
        for (at, here) in left.iter().enumerate() {
            let there = next(&left, at);
            let (a, b) = (side(here), side(&there));
            if a >= 0.0 {
                kept.push(*here);
            }
            if (a >= 0.0) != (b >= 0.0) {
                let share = a / (a - b);
                kept.push((
                    here.0 + share * (there.0 - here.0),
                    here.1 + share * (there.1 - here.1),
                ));
            }
        }
        left = kept;
        if left.is_empty() {
            return 0.0;
        }
    }
    let twice = (0..left.len()).map(|at| {
        let (a, b) = (left[at], next(&left, at));
        a.0 * b.1 - a.1 * b.0
    });
    twice.sum::<f64>() / 2.0
}
