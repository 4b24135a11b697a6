//! In what a variation differs from the piece.

use super::slotting::{Slotting, slottings};
use super::steps::swap;
use crate::design::{MadeOf, StackRing, Vessel};

/// One thing in which a variation differs.
#[derive(Clone, Debug, PartialEq)]
pub enum Differs {
    /// Segments of a ring, where all rings have as many.
    Segments(u32),
    /// A wood took another's place.
    Wood(String, String),
    /// Two woods changed places.
    Swapped(String, String),
    /// Other woods in these rings.
    Woods(Vec<usize>),
    /// These rings are striped now, or otherwise.
    Striped(Vec<usize>),
    /// Its striped segments are mitered from short sticks, as those of the piece are not.
    ShortSticks,
    /// These rings are no longer striped.
    Plain(Vec<usize>),
    /// These rings are turned otherwise.
    Turned(Vec<usize>),
    /// The slots, one account for each way that they were made.
    Slots(Vec<Slotting>),
}

impl Differs {
    /// Whether it is about rings, and there are none.
    fn is_of_no_ring(&self) -> bool {
        match self {
            Differs::Woods(places)
            | Differs::Striped(places)
            | Differs::Plain(places)
            | Differs::Turned(places) => places.is_empty(),
            _ => false,
        }
    }
}

/// In what a vessel differs from another.
pub(super) fn differs(own: &Vessel, varied: &Vessel) -> Vec<Differs> {
    let mut found = Vec::new();
    for (was, is) in own.woods.iter().zip(&varied.woods) {
        if was != is {
            found.push(Differs::Wood(was.clone(), is.clone()));
        }
    }
    let mut like = own.clone();
    let of_segments = |vessel: &Vessel| -> Vec<u32> {
        let rings = vessel
            .rings
            .iter()
            .filter(|ring| ring.made_of == MadeOf::Segments);
        rings.map(|ring| ring.segment_count).collect()
    };
    let counts = of_segments(varied);
    if counts != of_segments(own) {
        found.extend(counts.first().map(|count| Differs::Segments(*count)));
        for (ring, other) in like.rings.iter_mut().zip(&varied.rings) {
            (ring.segment_count, ring.turn_half_segments) =
                (other.segment_count, other.turn_half_segments);
            ring.further_deg = other.further_deg;
        }
    }
    let woods = own.woods.len() as u32;
    let pairs = (0..woods).flat_map(|one| (one + 1..woods).map(move |other| (one, other)));
    let swapped = pairs.into_iter().find_map(|(one, other)| {
        let mut swapped = like.clone();
        swap(&mut swapped, one, other);
        (swapped.rings != like.rings && swapped.rings == varied.rings)
            .then_some((one, other, swapped))
    });
    if let Some((one, other, swapped)) = swapped {
        let [one, other] = [one, other].map(|it| varied.woods[it as usize].clone());
        found.push(Differs::Swapped(one, other));
        like = swapped;
    }
    let rings = || like.rings.iter().zip(&varied.rings).enumerate();
    let places = |differs: fn(&StackRing, &StackRing) -> bool| -> Vec<usize> {
        let others = rings().filter(|(_, (was, is))| differs(was, is));
        others.map(|(place, _)| place).collect()
    };
    // Of striped segments the pattern is not seen.
    let painted = places(|was, is| was.pattern != is.pattern && is.stripes.is_none());
    let striped = places(|was, is| was.stripes != is.stripes && is.stripes.is_some());
    let plain = places(|was, is| was.stripes.is_some() && is.stripes.is_none());
    let turned = places(|was, is| {
        was.turn_half_segments != is.turn_half_segments && was.stripes == is.stripes
    });
    let of_rings = [
        Differs::Woods(painted),
        Differs::Striped(striped),
        Differs::Plain(plain),
        Differs::Turned(turned),
    ];
    found.extend(of_rings.into_iter().filter(|it| !it.is_of_no_ring()));
    if like.slot_sets != varied.slot_sets {
        found.push(Differs::Slots(slottings(&varied.slot_sets)));
    }
    found
}
