//! What cannot be computed or taken, as values: each names the field, and carries
//! the numbers; the sentence for the turner is made in [`crate::show::words`].

use crate::trade::closing::ClosingError;
use crate::trade::out_of_true::Contradiction;
use crate::trade::ring::RingError;
use crate::trade::stave::StavesPastCenter;
use crate::trade::strip::StripTooShort;
use crate::trade::stripe::StripeError;
use crate::units::reading::NotALength;
use std::borrow::Cow;

/// One thing that stands in the way, tied to the field in which it can be mended.
/// Lengths are in millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Trouble {
    /// Key of the field, as in [`crate::design::field::FIELDS`].
    pub field: Cow<'static, str>,
    /// What is wrong.
    pub reason: Reason,
}

/// What is wrong, with its numbers. Lengths are in millimeters.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// The typed text is not a length or number.
    NotALength(NotALength),
    /// Not a whole number.
    NotWhole(f64),
    /// A value outside what the field takes, in the field's own unit.
    OutOfRange {
        /// What was given.
        value: f64,
        /// The least the field takes.
        least: f64,
        /// The most the field takes.
        most: f64,
    },
    /// A list with none, or more than the field takes.
    ListOf {
        /// How many were given.
        count: usize,
        /// The most it takes.
        most: usize,
    },
    /// A choice that this version does not have.
    NotAChoice(String),
    /// A value of a kind that the field cannot hold (a list where a number belongs).
    WrongKind,
    /// The wall is thicker than the radius.
    WallPastCenter {
        /// The wall asked for.
        wall_mm: f64,
        /// The outside radius.
        radius_mm: f64,
    },
    /// The ring cannot be made.
    Ring(RingError),
    /// The strip at hand is too short.
    Strip(StripTooShort),
    /// No board for striped segments.
    Stripe(StripeError),
    /// The dry fit tells nothing of the saw.
    Closing(ClosingError),
    /// The staves close to a point.
    Staves(StavesPastCenter),
    /// The points make no curve: fewer than two, or their heights do not rise.
    NoCurve,
    /// The floor reaches the rim.
    FloorPastRim {
        /// Thickness of the floor.
        floor_mm: f64,
        /// Height of the vessel.
        height_mm: f64,
    },
    /// A base as large as the ring that it is let into.
    BaseFillsRing {
        /// Diameter of the base.
        disc_mm: f64,
        /// Outside diameter of the ring.
        ring_mm: f64,
    },
    /// A base that the hole of the glued ring that it is set into does not hold.
    BaseFallsThrough {
        /// Diameter of the base.
        disc_mm: f64,
        /// The least that it may have: the hole, and the ledge beside it.
        least_mm: f64,
        /// Diameter around the hole, corners and all.
        hole_mm: f64,
    },
    /// A base that lies above the floor wholly: it would be turned away with the inside.
    BaseAboveFloor {
        /// How much lower the floor is than the base's underside.
        below_mm: f64,
    },
    /// A base let into a ring that is a disc itself.
    NoRingForBase,
    /// A wood like one that is not in the table.
    NoSuchWood(String),
    /// A slot set names a ring that the vessel does not have.
    NoSuchRing {
        /// Its number.
        ring: u32,
        /// How many there are.
        count: u32,
    },
    /// Wide and narrow segments of a ring that is sawn from a striped board.
    SharesOfStriped,
    /// The rings of a slot set lie above the rim: no finished wall is in them.
    NoWallInStack,
    /// A ring in a list with too few or too many numbers: so many.
    NumbersOfRing(usize),
    /// A list with more rings than a vessel takes.
    TooManyRings(usize),
    /// More woods than a vessel takes, which are so many.
    TooManyWoods(usize),
    /// A board in a list with too few or too many numbers: so many.
    NumbersOfBoard(usize),
    /// A board in a list without a wood.
    NoWoodOfBoard,
    /// A spot to avoid in a list of boards that is not `10 to 14`, nor `10 to 14 x 0 to 1 1/2`.
    NotASpot,
    /// A list with more kinds of boards than are taken.
    TooManyBoards(usize),
    /// A length of a glued ring that was not measured, with no plan to take it from.
    NotMeasured,
    /// Readings of a ring out of true that no ring has.
    OutOfTrue(Contradiction),
    /// A ring so far out of true that no wall is left once it is round.
    NoWallOnceTrue {
        /// Diameter of the true circle that the outside would still hold.
        outside_mm: f64,
        /// Diameter of the true hole.
        inside_mm: f64,
    },
    /// An open face that runs out by as much as its ring is high.
    FacePastRing {
        /// Height of the ring.
        height_mm: f64,
    },
    /// The link is not one of ours, or was cut off or edited.
    BrokenLink,
    /// The link or file comes from a newer version of this page.
    Newer,
    /// The file is not a design.
    NotADesign,
}

impl Trouble {
    /// A trouble at a field.
    pub fn at(field: impl Into<Cow<'static, str>>, reason: Reason) -> Trouble {
        Trouble {
            field: field.into(),
            reason,
        }
    }
}

impl From<RingError> for Reason {
    fn from(error: RingError) -> Reason {
        Reason::Ring(error)
    }
}
