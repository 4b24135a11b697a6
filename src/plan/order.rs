//! The order of work for one vessel: which rings go to which half, what is turned
//! before the next ring closes it in, and every step from the saw to parting off.
//!
//! The rings are glued up one by one from a waste block. A vessel whose whole inside is
//! reached from its rim is made in one piece; any other in two halves, the lower one on
//! a block under the foot, the upper one on a block over the rim, joined where the way
//! in is widest. How far a tool reaches is told in [`crate::trade::lathe::Walk`].

pub mod balance;
mod extra;
pub mod facts;
pub mod plugs;
mod reach;
mod steps;

pub use extra::{BaseIs, base_is};

use crate::design::{Between, Design, StackRing, Vessel};
use crate::plan::base::{self, BasePlan};
use crate::plan::cut_list::Cut;
use crate::plan::stack::{RingInStack, StackPlan};
use crate::trade::lathe::{BAR_MM, Tool};
use crate::trade::ring::half_angle_rad;
use facts::{Block, Face, Fact, Piece};
use reach::Inside;
use std::f64::consts::PI;
use std::ops::Range;
use steps::Making;

/// An end of the vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// Below.
    Foot,
    /// Above.
    Rim,
}

impl End {
    /// A word for it, as part of a step's id.
    pub fn word(self) -> &'static str {
        match self {
            End::Foot => "foot",
            End::Rim => "rim",
        }
    }
}

/// Some of the inside, turned in one go.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// The rings whose inside is turned, from the foot up.
    pub rings: Range<usize>,
    /// The ring that would close it in, if there is one.
    pub before: Option<usize>,
    /// From the open end to the deepest place. Millimeters.
    pub depth_mm: f64,
    /// The narrowest inside diameter on the way there.
    pub opening_mm: f64,
    /// How far the edge stands out from the rest there.
    pub overhang_mm: f64,
    /// Whether a straight tool reaches all of it.
    pub is_reached: bool,
}

/// What is glued up on one waste block.
#[derive(Clone, Debug, PartialEq)]
pub struct Half {
    /// Which end is on the block.
    pub on: End,
    /// Its rings, from the foot up.
    pub rings: Range<usize>,
    /// How its inside is turned, in this order.
    pub stages: Vec<Stage>,
}

impl Half {
    /// Its rings in the order in which they are glued on, the one on the block first.
    pub fn glued(&self) -> Vec<usize> {
        match self.on {
            End::Foot => self.rings.clone().collect(),
            End::Rim => self.rings.clone().rev().collect(),
        }
    }
}

/// A part of the base's work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseWork {
    /// Saw its board, its plies or its wedges.
    Saw,
    /// Glue the plies crosswise, or the wedges together.
    GlueUp,
    /// Make it round and of its thickness.
    Round,
    /// Turn its place into the ring.
    Mortise,
    /// Set it in, or glue it under.
    Set,
}

/// A part of the work.
#[derive(Clone, Debug, PartialEq)]
pub enum Work {
    /// Take the boards, or buy them.
    Boards,
    /// Rip the strips of one thickness; its place among [`Order::rips`].
    Rip(usize),
    /// Something of the base.
    Base(BaseWork),
    /// Saw a ring's segments, or a disc.
    Cut,
    /// Dry-fit and glue them.
    GlueUp,
    /// Flatten both faces.
    Flatten,
    /// Fix a waste block on a faceplate and turn it true.
    Block(Block),
    /// Glue the first ring, or a stack, on the block.
    Mount(Block),
    /// Turn the open face flat and glue the next ring on it; holds the ring below it, as
    /// it stands on the lathe.
    Stack(usize),
    /// Turn a stack of its own true and split it off its block; its place among
    /// [`Order::apart`].
    True(usize),
    /// Saw slots through the rings and glue strips in; the set's place in the
    /// vessel's list.
    Inlay(usize),
    /// Turn the inside of some rings.
    Inside(Stage),
    /// Turn both open faces true, and try them.
    TrueHalves,
    /// Glue the halves together; holds the ring below the joint.
    Join(usize),
    /// Turn the outside.
    Outside,
    /// Sand and finish.
    Finish,
    /// Part off an end.
    Part(End),
}

/// In which part of the list a step stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chapter {
    /// Boards and strips.
    Wood,
    /// The blocks on which all is turned.
    Blocks,
    /// The rings, one by one.
    Rings,
    /// Rings that are glued, sawn and filled as stacks of their own.
    Stacks,
    /// The rings on the lathe: one piece, or the lower half.
    Lower,
    /// The upper half.
    Upper,
    /// All of it.
    Whole,
}

/// A step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Stays the same while the design changes around it.
    pub id: String,
    /// Where it stands.
    pub chapter: Chapter,
    /// What is done.
    pub work: Work,
    /// The rings that it is about, from the foot up.
    pub rings: Range<usize>,
    /// What is done, one thing after the other.
    pub facts: Vec<Fact>,
    /// Numbers beside the rings' own that a tick is kept with.
    pub lengths_mm: Vec<f64>,
}

/// The order of work.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// One, or the lower and the upper.
    pub halves: Vec<Half>,
    /// The rings below the joint of the halves; 0 for one piece.
    pub meeting: usize,
    /// What the page would choose by itself.
    pub own_meeting: usize,
    /// The steps.
    pub steps: Vec<Step>,
    /// The base, where there is one.
    pub base: Option<BasePlan>,
    /// How the base stands among the rings.
    pub base_is: BaseIs,
    /// What is ripped, by thickness.
    pub rips: Vec<Vec<Cut>>,
    /// Rings that come on as one stack, their slots sawn and filled before.
    pub apart: Vec<Range<usize>>,
}

impl Order {
    /// The stack of its own that this ring is in.
    pub fn apart_of(&self, ring: usize) -> Option<&Range<usize>> {
        self.apart.iter().find(|span| span.contains(&ring))
    }
}

/// The order of work for a vessel; nothing where it has no wall or no ring. `inlays` are
/// the spans of rings that slots are sawn through together, one a set, empty where a set
/// has none.
pub fn order(
    design: &Design,
    vessel: &Vessel,
    plan: &StackPlan,
    inlays: &[Range<usize>],
) -> Option<Order> {
    let wall = plan.wall.as_ref()?;
    let count = vessel.rings.len();
    if count == 0 {
        return None;
    }
    let tool = Tool {
        bar_mm: BAR_MM,
        overhang_mm: design.bench_or_usual().overhang_mm,
    };
    let inside = Inside::of(tool, wall, plan);
    let own_meeting = inside.choose(inlays);
    let meeting = design
        .bench_or_usual()
        .meet_above_ring
        .map_or(own_meeting, |ring| (ring as usize).min(count - 1));
    let halves = inside.halves(meeting);
    let base = base::plan(design, &crate::plan::plan(design), Some(plan));
    let base_is = base
        .as_ref()
        .map_or(BaseIs::Ring, |base| base_is(design, vessel, base));
    let rips = extra::rips(design, vessel, plan);
    let (apart, on_piece): (Vec<_>, Vec<_>) = steps::bands(inlays)
        .into_iter()
        .partition(|band| steps::is_apart(band, &halves));
    let mut making = Making {
        design,
        vessel,
        plan,
        halves: &halves,
        inlays,
        apart: &apart,
        on_piece: &on_piece,
        base: base.as_ref(),
        base_is,
        steps: extra::board_steps(&rips, count),
    };
    making.blocks();
    making.rings(base::plies_for_disc(design, vessel));
    making.stacks();
    for half in &halves {
        making.half(half);
    }
    making.whole(meeting);
    let steps = making.steps;
    Some(Order {
        halves,
        meeting,
        own_meeting,
        steps,
        base,
        base_is,
        rips,
        apart,
    })
}

fn is_within(inner: &Range<usize>, outer: &Range<usize>) -> bool {
    inner.start >= outer.start && inner.end <= outer.end
}

impl Step {
    /// The widest that turns in this step, its block counted; nothing off the lathe.
    pub fn swings_mm(&self) -> Option<f64> {
        let swings = self.facts.iter().filter_map(|fact| match fact {
            Fact::Hold { swings_mm, .. } | Fact::Press { swings_mm, .. } => Some(*swings_mm),
            _ => None,
        });
        swings.reduce(f64::max)
    }

    /// What is turned round in it, each to its diameter.
    pub fn rounds(&self) -> impl Iterator<Item = (Piece, f64)> {
        self.facts.iter().filter_map(|fact| match fact {
            Fact::Round { piece, diameter_mm } => Some((*piece, *diameter_mm)),
            _ => None,
        })
    }

    /// The face that is glued in it, and the one that it is glued on.
    pub fn glued(&self) -> Option<(Face, Face)> {
        self.facts.iter().find_map(|fact| match fact {
            Fact::Glue { face, to } => Some((*face, *to)),
            _ => None,
        })
    }
}

/// What the glue of a ring's own joints covers, square millimeters.
pub fn ring_glue_mm2(ring: &StackRing, planned: &RingInStack) -> f64 {
    let Some(segment) = &planned.segment else {
        return 0.0;
    };
    let faces = match ring.between {
        Between::Nothing => ring.segment_count,
        Between::Spacer => 2 * ring.segment_count,
        Between::Gap => 0,
    };
    f64::from(faces) * segment.joint_face_mm * segment.strip_height_mm
}

/// How far a glued ring's flats are from the axis, inside and outside.
pub fn flats_mm(planned: &RingInStack) -> (f64, f64) {
    planned.segment.map_or((0.0, planned.reach_mm), |segment| {
        (segment.inside_apothem_mm, segment.outside.apothem_mm)
    })
}

/// What the glue between two glued rings covers: the polygon of the outside that is
/// smaller less that of the inside that is larger.
pub fn stack_glue_mm2(below: &RingInStack, above: &RingInStack) -> f64 {
    let polygon = |planned: &RingInStack, flat: f64| match planned.segment {
        Some(_) => {
            let count = planned.wanted.segment_count;
            f64::from(count) * half_angle_rad(count).tan() * flat * flat
        }
        None => PI * flat * flat,
    };
    let (low, high) = (flats_mm(below), flats_mm(above));
    let outside = polygon(below, low.1).min(polygon(above, high.1));
    let inside = polygon(below, low.0).max(polygon(above, high.0));
    (outside - inside).max(0.0)
}

/// By what a ring is set true on the one below it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Centring {
    /// A pencil circle of this diameter on the turning face: the ring's outside corners
    /// stand on it.
    Around(f64),
    /// A pencil circle of this diameter: it is just seen within the ring's hole, the
    /// inside flats touch it.
    Within(f64),
    /// Neither circle is seen: by the plug's step, or by measuring how far the corners
    /// stand out over the ring that was turned round.
    Out(f64),
}

/// How a ring, which reaches so far from the axis, is centred on the face of another.
pub fn centring(below: &RingInStack, above: &RingInStack, reach_mm: f64) -> Centring {
    let (low, high) = (flats_mm(below), flats_mm(above));
    // A line must be seen: a pencil's width of face beside it.
    let line = 1.0;
    let hole_below = below
        .segment
        .map_or(0.0, |segment| segment.smallest_hole_mm / 2.0);
    if reach_mm + line <= low.1 {
        Centring::Around(2.0 * reach_mm)
    } else if high.0 > 0.0 && hole_below + line <= high.0 {
        Centring::Within(2.0 * high.0)
    } else {
        Centring::Out((reach_mm - low.1).max(0.0))
    }
}

/// A short text that stays the same as long as the numbers of a step do, to a tenth of
/// a millimeter, whatever unit is shown.
pub fn mark(vessel: &Vessel, plan: &StackPlan, step: &Step) -> String {
    let mut sum = Sum(0x811c_9dc5);
    let rings = || vessel.rings.iter().zip(&plan.rings);
    match &step.work {
        Work::Cut | Work::GlueUp => {
            for (ring, planned) in rings().skip(step.rings.start).take(1) {
                sum.blank(ring, planned);
                for segment in 0..ring.segment_count {
                    if let Some(name) = vessel.woods.get(ring.wood_of(segment)) {
                        sum.text(name);
                    }
                }
            }
        }
        Work::Flatten => {
            for (ring, _) in rings().skip(step.rings.start).take(1) {
                sum.length(ring.height_mm);
            }
        }
        Work::Mount(_) | Work::Stack(_) | Work::Join(_) => {
            let below = match step.work {
                Work::Stack(below) | Work::Join(below) => below,
                _ => step.rings.start,
            };
            for place in [below, step.rings.start] {
                for (ring, planned) in rings().skip(place).take(1) {
                    sum.blank(ring, planned);
                    sum.number(u64::from(ring.turn_half_segments));
                }
            }
        }
        Work::Inside(_) | Work::Outside => {
            let is_inside = matches!(step.work, Work::Inside(_));
            for (_, planned) in rings().skip(step.rings.start).take(step.rings.len()) {
                let Some(wall) = &plan.wall else { continue };
                for z in [planned.span.bottom_mm, planned.span.top_mm] {
                    sum.length(if is_inside {
                        wall.smallest_inside(z, z)
                    } else {
                        wall.outside.radius_at(z)
                    });
                }
            }
        }
        Work::Boards
        | Work::Rip(_)
        | Work::Base(_)
        | Work::Inlay(_)
        | Work::Block(_)
        | Work::True(_)
        | Work::TrueHalves
        | Work::Finish
        | Work::Part(_) => {}
    }
    for length_mm in &step.lengths_mm {
        sum.length(*length_mm);
    }
    format!("{:x}", sum.0)
}

/// FNV-1a, 32 bits (offset basis and prime of Fowler, Noll and Vo).
struct Sum(u32);

impl Sum {
    fn byte(&mut self, byte: u8) {
        self.0 = (self.0 ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    }

    fn number(&mut self, number: u64) {
        for byte in number.to_le_bytes() {
            self.byte(byte);
        }
    }

    fn text(&mut self, text: &str) {
        for byte in text.bytes() {
            self.byte(byte);
        }
    }

    fn length(&mut self, length_mm: f64) {
        self.number((length_mm * 10.0).round() as u64);
    }

    /// What a ring is sawn to.
    fn blank(&mut self, ring: &StackRing, planned: &RingInStack) {
        self.number(u64::from(ring.segment_count));
        self.length(ring.height_mm);
        self.length(planned.reach_mm);
        if let Some(segment) = &planned.segment {
            self.length(segment.outside.long_edge_mm);
            self.length(segment.strip_width_mm);
        }
    }
}

/// What becomes of a tick when the design has changed since.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ticked {
    /// Not ticked.
    No,
    /// Ticked, with the numbers that stand there now.
    Yes,
    /// Ticked with other numbers.
    Changed,
}

/// The ticks of the steps. A tick is a step's id with the mark of its numbers; `marks`
/// are the steps' ids and marks now. A tick whose numbers moved to another step of the
/// same work (a ring was put in below it) goes with them; one whose step is gone falls.
pub fn ticked(marks: &[(String, String)], ticks: &[(String, String)]) -> Vec<Ticked> {
    let kind = |id: &str| id.split('-').next().unwrap_or("").to_owned();
    let own = |id: &str| ticks.iter().find(|tick| tick.0 == id);
    let is_used = |tick: &(String, String)| marks.contains(tick);
    marks
        .iter()
        .map(|step| {
            let moved = || {
                ticks.iter().any(|tick| {
                    !is_used(tick) && tick.1 == step.1 && kind(&tick.0) == kind(&step.0)
                })
            };
            match own(&step.0) {
                Some(tick) if tick.1 == step.1 => Ticked::Yes,
                _ if moved() => Ticked::Yes,
                Some(_) => Ticked::Changed,
                None => Ticked::No,
            }
        })
        .collect()
}
