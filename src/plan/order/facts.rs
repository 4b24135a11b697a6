//! What a step does, one thing after the other: which pieces come to be, what hangs on
//! the spindle, what is glued to what, which face is made flat and what is turned to
//! which diameter. The words and figures of a step are told from these, and
//! `tests/replay.rs` follows them as a turner would.

use std::ops::Range;

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

/// A block on a faceplate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Block {
    /// The one that an end of the vessel is glued on.
    Of(End),
    /// The one that a stack with slots is built on; its place among
    /// [`Order::apart`](super::Order::apart).
    Stack(usize),
}

/// A thing that is handled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Piece {
    /// A ring or a disc, by its place.
    Ring(usize),
    /// A base beside the rings.
    Base,
    /// A block.
    Block(Block),
}

/// A side of a piece, as it stands in the upright vessel; of a block, its open face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// Toward the foot.
    Foot,
    /// Toward the rim.
    Rim,
}

/// A face of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Face {
    /// The piece.
    pub piece: Piece,
    /// Which of its two.
    pub side: Side,
}

impl Side {
    /// The other one.
    #[must_use]
    pub fn other(self) -> Side {
        match self {
            Side::Foot => Side::Rim,
            Side::Rim => Side::Foot,
        }
    }

    /// This face of a piece.
    pub fn of(self, piece: Piece) -> Face {
        Face { piece, side: self }
    }
}

impl End {
    /// The side that lies toward its block while the piece stands on it.
    pub fn down(self) -> Side {
        match self {
            End::Foot => Side::Foot,
            End::Rim => Side::Rim,
        }
    }
}

/// How deep a mortise goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Depth {
    /// Right through the ring.
    Through,
    /// So far from the ring's face on this side, millimeters; from there on a smaller
    /// hole goes through.
    From {
        /// The face.
        side: Side,
        /// How far.
        depth_mm: f64,
        /// The hole.
        hole_mm: f64,
    },
}

/// A part of the work on a finish that was decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FinishWork {
    /// Sand, grit after grit.
    Sand,
    /// Take the dust off.
    Dust,
    /// Put a coat on; the first is 0.
    Coat(u32),
    /// Buff.
    Buff,
    /// Sign the foot, write the card.
    Sign,
}

/// One thing that is done.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// The parts of a piece are sawn; a disc is sawn in one.
    Saw(Piece),
    /// Its parts are glued to two halves.
    GlueHalves(Piece),
    /// The ends of its halves are made flat.
    TrueEnds(Piece),
    /// Its parts, or its halves, are glued to be one.
    GlueUp(Piece),
    /// A face is made flat off the lathe.
    Flatten(Face),
    /// A block is sawn and screwed to its faceplate.
    Screw {
        /// Which.
        block: Block,
        /// Its diameter.
        diameter_mm: f64,
    },
    /// A block, with all that is on it, goes on the spindle; what was there comes off.
    Hold {
        /// Which.
        block: Block,
        /// The widest of it over its corners, the block counted.
        swings_mm: f64,
    },
    /// A piece is held against the face of the block on the spindle by the tailstock.
    Press {
        /// What.
        piece: Piece,
        /// The widest of both.
        swings_mm: f64,
    },
    /// What is on the spindle comes off it, on its block.
    TakeOff,
    /// A face is turned flat.
    Face(Face),
    /// A piece is turned round outside.
    Round {
        /// Which.
        piece: Piece,
        /// To this diameter.
        diameter_mm: f64,
    },
    /// A place for the base is turned into a ring.
    Mortise {
        /// Which.
        ring: usize,
        /// Its diameter.
        diameter_mm: f64,
        /// How deep.
        depth: Depth,
    },
    /// The base is glued into the mortise of a ring.
    LetIn {
        /// Which.
        ring: usize,
    },
    /// A face is glued on another.
    Glue {
        /// Of what comes on.
        face: Face,
        /// Of what is there.
        to: Face,
    },
    /// A stack is split off its block.
    Split(Block),
    /// The sticks of layers for a set's strips are glued up.
    Strips(usize),
    /// A disc of scrap is glued on each face of a stack of these rings, to hold it while it is
    /// sawn through.
    DiscsOn(Range<usize>),
    /// The slots of a set are sawn and filled; its place in the vessel's list.
    Slots(usize),
    /// These discs are sawn off again.
    DiscsOff(Range<usize>),
    /// The inside of some rings is turned.
    Hollow(Range<usize>),
    /// The outside of some rings is turned.
    Shape(Range<usize>),
    /// The whole is sanded and finished.
    Finish,
    /// Something of the finish that was decided.
    Finishing(FinishWork),
    /// An end is parted off its block.
    Part(End),
}
