//! What an order of work is made of.

use super::facts::{Block, End, Face, Fact, FinishWork, Piece};
use crate::plan::base::BasePlan;
use crate::plan::bill::Cut;
use std::ops::Range;

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
    /// How far the rest goes in at the open end; 0 where it stays outside.
    pub rest_in_mm: f64,
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
    /// Glue squares of one thickness up, edge to edge; its place among [`Order::rips`].
    Edges(usize),
    /// Something of the base.
    Base(BaseWork),
    /// Glue up the striped board of a ring, and saw it into sticks.
    Stripes,
    /// Glue up the layered strips of a set of slots; the set's place in the vessel's list.
    Strips(usize),
    /// Saw a ring's segments, or a disc.
    Cut,
    /// Glue two halves of a ring, their ends kept apart.
    Halves,
    /// Make the ends of both flat.
    TrueEnds,
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
    /// Sand and finish, as long as no finish was decided.
    Finish,
    /// Something of the finish that was decided.
    Finishing(FinishWork),
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

    /// Whether the ring of a step is glued as two halves before it is closed.
    pub fn is_of_halves(&self, step: &Step) -> bool {
        let is_its = |it: &Step| it.work == Work::Halves && it.rings == step.rings;
        self.steps.iter().any(is_its)
    }
}

/// How the base stands in the order of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseIs {
    /// The lowest ring itself.
    Ring,
    /// A piece beside the rings, glued under the lowest one.
    Under,
    /// A piece beside the rings, let into the lowest one.
    Within,
}

impl Order {
    /// The step at which the base is glued to its ring: its own, or that of the ring on
    /// top where the base is the lowest ring itself.
    pub fn is_base_set(&self, step: &Step) -> bool {
        match (self.base.is_some(), self.base_is) {
            (false, _) => false,
            (true, BaseIs::Ring) => matches!(step.work, Work::Stack(0) | Work::Join(0)),
            (true, _) => step.work == Work::Base(BaseWork::Set),
        }
    }

    /// The first step of the base's own wood.
    pub fn is_base_begun(&self, step: &Step) -> bool {
        let is_ring = self.base_is == BaseIs::Ring;
        match step.work {
            Work::Base(BaseWork::Saw) => true,
            Work::Cut => self.base.is_some() && is_ring && step.rings.start == 0,
            _ => false,
        }
    }
}

/// Whether some rings are among others.
pub(super) fn is_within(inner: &Range<usize>, outer: &Range<usize>) -> bool {
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

    /// Whether glue is spread in it, so that something has to set after it.
    pub fn is_glue_up(&self) -> bool {
        matches!(
            self.work,
            Work::Edges(_)
                | Work::Stripes
                | Work::Strips(_)
                | Work::Halves
                | Work::GlueUp
                | Work::Mount(_)
                | Work::Stack(_)
                | Work::Join(_)
                | Work::Inlay(_)
                | Work::Base(BaseWork::GlueUp | BaseWork::Set)
        )
    }

    /// Whether a ring's segments are glued on in it one by one.
    pub fn sets_singly(&self) -> bool {
        let is_made = self
            .facts
            .iter()
            .any(|fact| matches!(fact, Fact::GlueUp(_)));
        matches!(self.work, Work::Stack(_) | Work::Mount(_)) && is_made
    }

    /// Whether what is glued in it stays on the spindle, in the tailstock's grip.
    pub fn stays_on_lathe(&self) -> bool {
        let is_held = self
            .facts
            .iter()
            .any(|fact| matches!(fact, Fact::Hold { .. }));
        let comes_off = |fact: &Fact| matches!(fact, Fact::TakeOff | Fact::Split(_));
        self.is_glue_up() && is_held && !self.facts.iter().any(comes_off)
    }

    /// The face that is glued in it, and the one that it is glued on.
    pub fn glued(&self) -> Option<(Face, Face)> {
        self.facts.iter().find_map(|fact| match fact {
            Fact::Glue { face, to } => Some((*face, *to)),
            _ => None,
        })
    }
}
