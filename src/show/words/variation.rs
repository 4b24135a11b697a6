//! In what a variation differs from the piece, in words.

use crate::design::{Laid, Leans, StackHeld, StackRing, StripeLayer, StripsShow, Vessel};
use crate::edit::variation::{Differs, Slotting, Ways};
use crate::plan::bill::ring_numbers;
use crate::plan::board::Answer;
use crate::units::quantity::{counted, degrees};

/// What the boards that were entered do not give; empty where they give all.
pub fn missing(boards: Option<&Answer>) -> String {
    match boards {
        Some(answer) if !answer.failures.is_empty() => {
            "Not all of its wood is among your boards.".to_owned()
        }
        Some(answer) if answer.extra_count > 0 => {
            let boards = counted(answer.extra_count as usize, "more board", "more boards");
            format!("Your boards do not reach: {boards}.")
        }
        _ => String::new(),
    }
}

/// All differences, one a line.
pub fn says(differs: &[Differs], varied: &Vessel) -> Vec<String> {
    differs.iter().flat_map(|it| lines(it, varied)).collect()
}

fn lines(differs: &Differs, varied: &Vessel) -> Vec<String> {
    match differs {
        Differs::Segments(count) => vec![format!("{count} segments in each ring")],
        Differs::Wood(was, is) => vec![format!("{is} in place of {was}")],
        Differs::Swapped(one, other) => vec![format!("{one} and {other} change places")],
        Differs::Woods(places) => vec![woods(places, varied)],
        Differs::Striped(places) => places.iter().map(|it| striped(*it, varied)).collect(),
        Differs::ShortSticks => {
            vec![
                "Its striped segments are cut from short sticks: each is clamped in a sled."
                    .to_owned(),
            ]
        }
        Differs::Plain(places) => vec![match places.len() {
            1 => format!("Ring {} without stripes", ring_numbers(places)),
            _ => format!("Rings {} without stripes", ring_numbers(places)),
        }],
        Differs::Turned(places) => vec![match places.len() {
            1 => format!("Ring {} turned on", ring_numbers(places)),
            _ => format!("Rings {} turned on, one by one", ring_numbers(places)),
        }],
        Differs::Slots(made) if made.is_empty() => vec!["No slots".to_owned()],
        Differs::Slots(made) => made.iter().map(|it| slots(it, varied)).collect(),
    }
}

/// The woods of these rings, if they are few.
fn woods(places: &[usize], varied: &Vessel) -> String {
    let mut names: Vec<&str> = Vec::new();
    for ring in places.iter().filter_map(|place| varied.rings.get(*place)) {
        for wood in &ring.pattern {
            let name = varied.woods.get(*wood as usize).map_or("", String::as_str);
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    let rings = if places.len() == 1 { "Ring" } else { "Rings" };
    format!("{rings} {}: {}", ring_numbers(places), names.join(" and "))
}

/// How a ring is striped, and of which woods.
fn striped(place: usize, varied: &Vessel) -> String {
    let stripes = varied.rings.get(place).and_then(StackRing::striped);
    let Some(stripes) = stripes else {
        return String::new();
    };
    let laid = match stripes.laid {
        Laid::Chevron => "in a chevron",
        Laid::Slant => "in slanting stripes",
    };
    let name = |layer: &StripeLayer| {
        varied
            .woods
            .get(layer.wood as usize)
            .map_or("", String::as_str)
    };
    let mut names: Vec<&str> = Vec::new();
    for name in stripes.layers.iter().map(name) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    format!(
        "Ring {} {laid} at {}: {}",
        ring_numbers(&[place]),
        degrees(stripes.slant_deg.to_radians()),
        names.join(" and ")
    )
}

fn slots(made: &Slotting, varied: &Vessel) -> String {
    let set = &made.set;
    let gauge = degrees(set.gauge_deg.to_radians());
    let ways = match (made.ways, set.leans) {
        (Ways::Crossing, _) => format!("each way, crossing at {gauge}"),
        (Ways::Zigzag, _) => format!("each way, a zigzag at {gauge}"),
        (Ways::One, _) if set.gauge_deg <= 0.0 => "upright".to_owned(),
        (Ways::One, Leans::Right) => format!("{gauge} to the right"),
        (Ways::One, Leans::Left) => format!("{gauge} to the left"),
    };
    let rings: Vec<usize> = (set.from_ring as usize - 1..set.to_ring as usize).collect();
    let name = |wood: usize| varied.woods.get(wood).map_or("", String::as_str);
    let names: Vec<&str> = set.woods().into_iter().map(name).collect();
    let wood = super::inlay::layer_woods(&names);
    let count = match set.beside_count {
        1 => format!("{} slots", set.slot_count),
        2 => format!("{} pairs of slots", set.slot_count),
        beside => format!("{} times {beside} slots", set.slot_count),
    };
    let ways = format!("{ways}{}", super::inlay::tilted(set.tilt_deg.to_radians()));
    let sawn = match set.held_by {
        StackHeld::Bridge if set.shows == StripsShow::OutsidePartly => ", along a part of the way",
        StackHeld::Bridge => "",
        StackHeld::Strips => ", through the wall one at a time",
        StackHeld::Discs => ", through the wall on discs",
    };
    format!(
        "{count} {ways}{sawn}, rings {}, {wood}",
        ring_numbers(&rings)
    )
}
