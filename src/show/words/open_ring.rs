//! What is said of rings with air between their segments.

use super::list::{INDEX_FIRST, INDEX_PLATE, INDEX_STEP};
use super::plain::filled;
use crate::trade::index_plate::{Serves, Turn};
use crate::units::quantity::degrees;
use std::f64::consts::TAU;

/// How a plate serves: `48 holes, every 2nd, begun in hole 1`.
pub fn plate(it: &Serves) -> String {
    let first = if it.first == 0 {
        String::new()
    } else {
        filled(INDEX_FIRST, &[&it.first.to_string()])
    };
    let step = match it.every {
        1 => String::new(),
        every => filled(INDEX_STEP, &[&ordinal(every)]),
    };
    filled(INDEX_PLATE, &[&it.holes.to_string(), &step, &first])
}

/// How a ring is turned that no plate serves.
pub fn turned(turn: Turn, segment_count: u32) -> String {
    if turn.further_rad != 0.0 {
        let pitch_rad = TAU / f64::from(segment_count);
        let turned_rad = turn.rad(segment_count).rem_euclid(pitch_rad);
        return format!(" that are turned on by {}", degrees(turned_rad));
    }
    let is_shifted = !turn.half_segments.is_multiple_of(2);
    let shifted = " that are shifted by half of one";
    (if is_shifted { shifted } else { "" }).to_owned()
}

/// What would do where no plate serves.
pub fn other_counts(nearest: [Option<u32>; 2]) -> String {
    let counts: Vec<String> = nearest.iter().flatten().map(u32::to_string).collect();
    let paper = "work by the packet’s index disc, which has their marks.";
    if counts.is_empty() {
        return format!("For want of one, {paper}");
    }
    format!("Take {} segments, or {paper}", counts.join(" or "))
}

/// `2nd`, `11th`, `23rd`.
fn ordinal(number: u32) -> String {
    let ending = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ordinals_end_as_they_are_said() {
        let said: Vec<String> = [1, 2, 3, 4, 11, 12, 13, 21, 22, 23, 111]
            .map(ordinal)
            .into();
        let wanted = "1st 2nd 3rd 4th 11th 12th 13th 21st 22nd 23rd 111th";
        assert_eq!(said.join(" "), wanted);
    }
}
