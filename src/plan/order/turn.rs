//! How far a ring is turned against the one that it is glued on.

use super::facts::{Piece, Side};
use super::step::Step;
use crate::design::{Laid, MadeOf, StackRing, Vessel};

/// A turn, as one looks at the open face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// The ring that it is counted from.
    pub below: usize,
    /// How far, radians: up to half of what the woods repeat after.
    pub angle_rad: f64,
    /// Which way.
    pub way: Way,
}

/// Which way a ring is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The woods come to lie the same.
    Either,
    /// Against the clock.
    AgainstClock,
    /// With the clock.
    WithClock,
}

/// Angles nearer than this are one, radians.
const SAME_RAD: f64 = 1e-6;

/// The turn of the ring that a step glues on another: up to where its woods repeat, and
/// nothing where that is no turn at all.
pub fn turn_of(vessel: &Vessel, step: &Step) -> Option<Turn> {
    let (face, to) = step.glued()?;
    let (Piece::Ring(place), Piece::Ring(below)) = (face.piece, to.piece) else {
        return None;
    };
    let (ring, under) = (vessel.rings.get(place)?, vessel.rings.get(below)?);
    if ring.made_of != MadeOf::Segments || under.made_of != MadeOf::Segments {
        return None;
    }
    let at = |ring: &StackRing| ring.round().middle_rad(0);
    // From above, directions grow from the front to the right: against the clock.
    let grown = match to.side {
        Side::Rim => at(ring) - at(under),
        Side::Foot => at(under) - at(ring),
    };
    // Where wide and narrow ones repeat, so do their edges.
    let round = ring.round();
    let period = round.edge_rad(repeats_after(ring)?) - round.edge_rad(0);
    let against = grown.rem_euclid(period);
    let with = period - against;
    if against.min(with) < SAME_RAD {
        return None;
    }
    let (angle_rad, way) = if (against - with).abs() < SAME_RAD {
        (against, Way::Either)
    } else if against < with {
        (against, Way::AgainstClock)
    } else {
        (with, Way::WithClock)
    };
    Some(Turn {
        below,
        angle_rad,
        way,
    })
}

/// After how many segments a ring's woods come again.
fn repeats_after(ring: &StackRing) -> Option<u32> {
    let count = ring.segment_count;
    if let Some(stripes) = ring.striped() {
        let after = if stripes.laid == Laid::Chevron { 2 } else { 1 };
        return Some(if count.is_multiple_of(after) {
            after
        } else {
            count
        });
    }
    let round = ring.round();
    let repeats = |after: &u32| {
        let same = |place: u32| {
            let other = (place + after) % count;
            ring.wood_of(place) == ring.wood_of(other)
                && round.kind_of(place) == round.kind_of(other)
        };
        count.is_multiple_of(*after) && (0..count).all(same)
    };
    (1..=count).find(repeats)
}
