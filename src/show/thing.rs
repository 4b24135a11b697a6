//! The things that a piece is touched by: its drawings name them, its panel tells of one.

use crate::plan::caution::{Caution, Placed};
use crate::plan::order::{Step, Work};

/// What is touched on the piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Thing {
    /// Nothing, or what is not there any more.
    #[default]
    Nothing,
    /// The piece as a whole.
    Piece,
    /// A ring, by its place from the foot up.
    Ring(usize),
    /// A segment: its ring, and its number in it from the front.
    Segment(usize, u32),
    /// A point of the curve, by its place from the foot up.
    Point(usize),
    /// What closes the foot.
    Floor,
    /// Where the two halves meet.
    Meeting,
    /// A set of slots, by its place.
    Set(usize),
}

impl Thing {
    /// By the name that the drawings give it.
    pub fn named(name: &str) -> Thing {
        let mut parts = name.split('-');
        let kind = parts.next().unwrap_or_default();
        let place = parts.next().unwrap_or_default().parse();
        let segment = parts.next().unwrap_or_default().parse();
        match (kind, place) {
            ("piece", _) => Thing::Piece,
            ("floor", _) => Thing::Floor,
            ("meeting", _) => Thing::Meeting,
            ("ring", Ok(place)) => Thing::Ring(place),
            ("cell", Ok(place)) => segment.map_or(Thing::Nothing, |it| Thing::Segment(place, it)),
            ("point", Ok(place)) => Thing::Point(place),
            // A strip's name goes on with its own number.
            ("set" | "depth" | "strip", Ok(place)) => Thing::Set(place),
            _ => Thing::Nothing,
        }
    }

    /// The name that the drawings give it.
    pub fn name(self) -> String {
        match self {
            Thing::Nothing => String::new(),
            Thing::Piece => "piece".to_owned(),
            Thing::Ring(place) => format!("ring-{place}"),
            Thing::Segment(place, segment) => format!("cell-{place}-{segment}"),
            Thing::Point(place) => format!("point-{place}"),
            Thing::Floor => "floor".to_owned(),
            Thing::Meeting => "meeting".to_owned(),
            Thing::Set(place) => format!("set-{place}"),
        }
    }

    /// What a caution is about.
    pub fn of(placed: &Placed) -> Thing {
        match (&placed.caution, placed.ring) {
            (Caution::Slots(set, _), _) => Thing::Set(*set),
            (_, Some(ring)) => Thing::Ring(ring),
            (_, None) => Thing::Piece,
        }
    }

    /// What a step of the order of work makes or changes, where it is one thing.
    pub fn of_step(step: &Step) -> Thing {
        match step.work {
            Work::Base(_) => Thing::Floor,
            Work::Strips(set) | Work::Inlay(set) => Thing::Set(set),
            Work::Join(_) | Work::TrueHalves => Thing::Meeting,
            Work::Stripes
            | Work::Cut
            | Work::Halves
            | Work::TrueEnds
            | Work::GlueUp
            | Work::Flatten
            | Work::Stack(_)
                if step.rings.len() == 1 =>
            {
                Thing::Ring(step.rings.start)
            }
            _ => Thing::Nothing,
        }
    }

    /// The ring that is lit up with it.
    pub fn ring(self) -> Option<usize> {
        match self {
            Thing::Ring(place) | Thing::Segment(place, _) => Some(place),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thing_is_found_by_its_name() {
        let things = [
            Thing::Nothing,
            Thing::Piece,
            Thing::Ring(0),
            Thing::Ring(199),
            Thing::Segment(2, 11),
            Thing::Point(3),
            Thing::Floor,
            Thing::Meeting,
            Thing::Set(2),
        ];
        for thing in things {
            assert_eq!(Thing::named(&thing.name()), thing);
        }
        assert_eq!(Thing::named("strip-2-11"), Thing::Set(2));
        for none in [
            "ring", "ring-", "ring--1", "ring-x", "cell-1", "outside", "Floor",
        ] {
            assert_eq!(Thing::named(none), Thing::Nothing, "{none}");
        }
    }
}
