//! The sentences of slots that go through the whole wall of a stack.

use crate::design::StackHeld;
use crate::plan::caution::ThroughCaution;
use crate::plan::inlay::{DISC_MM, PROUD_MM, SetPlan};
use crate::units::length::{Unit, at_least, at_most, show};
use crate::units::quantity::{self, length};

/// A caution about such a set: its field's name, what is so, and what to do.
pub fn caution(caution: &ThroughCaution, unit: Unit) -> (&'static str, String, &'static str) {
    let mm = |length_mm: f64| length(length_mm, unit);
    match *caution {
        ThroughCaution::NoHole { ring } => (
            "held_by",
            format!(
                "Slots go through the whole wall only where there is a hole: ring {} is solid or holds the floor.",
                ring + 1
            ),
            "Take rings above it, or let the slots go into the wall only.",
        ),
        ThroughCaution::PastHole { is_tilted } => (
            "held_by",
            format!(
                "{} the slots past the hole somewhere: no blade height goes through the whole wall.",
                if is_tilted {
                    "Lean and tilt carry"
                } else {
                    "The lean carries"
                }
            ),
            "Take a smaller gauge angle or fewer rings, or let the slots go into the wall only.",
        ),
        ThroughCaution::NoWayThrough {
            least_mm,
            most_mm,
            of_discs,
        } => (
            "held_by",
            format!(
                "No blade height works: the slots are through the wall from {} on, and {} is the most that {}.",
                quantity::fine_at_least(least_mm, unit).line(),
                quantity::fine_at_most(most_mm, unit).line(),
                if of_discs {
                    "leaves the discs a middle"
                } else {
                    "stays clear of the wall across"
                }
            ),
            if of_discs {
                "Do not saw it like this: let the slots go through one at a time."
            } else {
                "Do not saw it like this: take a smaller gauge angle or fewer rings, or let the slots go into the wall only."
            },
        ),
        ThroughCaution::NotThrough { by_mm } => (
            "blade_mm",
            format!(
                "The slots do not come through the wall everywhere: {} is missing.",
                mm(by_mm)
            ),
            "Raise the blade, or leave its height empty.",
        ),
        ThroughCaution::TooDeep { by_mm, of_discs } => (
            "blade_mm",
            format!(
                "The blade stands {} too high: it takes {}.",
                mm(by_mm),
                if of_discs {
                    "the middle of the discs, which holds all pieces"
                } else {
                    "wood of the wall across"
                }
            ),
            "Lower the blade, or leave its height empty.",
        ),
        ThroughCaution::NoDiscOnPiece => (
            "held_by",
            "These slots are sawn on the piece: one face of the stack is glued already, so no disc can hold it there."
                .to_owned(),
            "Do not saw it like this: let the slots go through one at a time.",
        ),
        ThroughCaution::LooseBetween { left_mm, least_mm } => (
            "held_by",
            format!(
                "What stands between two slots hangs on the discs by {}: with less than {} it breaks loose at the blade.",
                at_most(left_mm.max(0.0), unit).line(),
                at_least(least_mm, unit).line()
            ),
            "Do not saw it like this: take fewer slots, or let the slots go through one at a time.",
        ),
    }
}

/// Another way to hold a stack, where that opens a window.
pub fn opening(held_by: StackHeld) -> &'static str {
    match held_by {
        StackHeld::Bridge => {
            "Let the slots go into the wall only: wood under them holds the stack."
        }
        StackHeld::Strips => {
            "Saw through the whole wall, one slot at a time: each strip is glued in before the next slot. The strips show inside too."
        }
        StackHeld::Discs => {
            "Saw through the whole wall, with a disc of scrap glued on each face to hold the stack. The strips show inside too."
        }
    }
}

/// What holds a stack while its slots are sawn.
pub fn held_by(held_by: StackHeld) -> &'static str {
    match held_by {
        StackHeld::Bridge => "a bridge of its own wood",
        StackHeld::Strips => "its strips: saw one, glue it, then the next",
        StackHeld::Discs => "a disc of scrap on each face",
    }
}

/// How far a blade goes past the wall.
pub fn past(own: &SetPlan, unit: Unit) -> String {
    let past_mm = own.blade_mm - own.window.least_mm;
    if past_mm < 0.0 {
        return String::new();
    }
    format!("{} past the wall", show(past_mm, unit).line())
}

/// How often glue must dry before the next slot.
pub fn each_of(own: &SetPlan) -> String {
    match own.held_by {
        StackHeld::Bridge | StackHeld::Discs => String::new(),
        StackHeld::Strips => format!("after each of the {} strips", own.slots.count),
    }
}

/// How thick a disc of scrap is, or whose discs they are that are on already.
pub fn disc_thick(own: &SetPlan, unit: Unit) -> String {
    match own.discs_since {
        Some(since) => format!("on since set {}", since + 1),
        None => format!("{} thick", show(DISC_MM, unit).line()),
    }
}

/// How far strips go that are longer than their stack is high.
pub fn through_discs(own: &SetPlan) -> String {
    match own.discs_until {
        Some(until) => format!("through the discs: these stay on for set {}", until + 1),
        None => String::new(),
    }
}

/// What is done before the slots are sawn.
pub fn before(own: &SetPlan, unit: Unit) -> Option<String> {
    let mm = |length_mm: f64| show(length_mm, unit).whole_line();
    if own.held_by == StackHeld::Strips {
        return Some(
            "These slots go through the whole wall: with two of them open the stack would be in two pieces. So only one is open at any time. Clamp the stack on both sides of the blade’s path, and look that nothing stands or hangs in its hole: the blade comes out there."
                .to_owned(),
        );
    }
    let [foot, rim] = own.discs_across_mm()?;
    let middle = at_most(own.discs_middle_mm(), unit).line();
    if let Some(since) = own.discs_since {
        return Some(format!(
            "These slots go through the whole wall too, and the discs of set {} hold the stack again: its strips have made them whole. Its glue must be hard, in the discs too; look at both discs’ joints. What stays of their middle is {middle} across. The foot’s disc stands against the fence.",
            since + 1
        ));
    }
    Some(format!(
        "Glue a disc of sound scrap, {} thick, on each face, all over and without paper: {} across at the foot’s side, {} at the rim’s, in the middle of its ring. Let the glue get hard. The slots go through the whole wall, and these discs alone hold all that stands between them: what stays of their middle is {} across. The foot’s disc stands against the fence.",
        mm(DISC_MM),
        mm(foot),
        mm(rim),
        middle
    ))
}

/// Sawing and filling one slot after the other.
pub fn one_by_one(crosscut: &str, unit: Unit) -> [String; 3] {
    let proud = show(PROUD_MM, unit).whole_line();
    [
        format!("{crosscut} Do that before the first slot."),
        format!(
            "Saw one slot through. Where it closes behind the blade, stop the blade and leave the stack where it is until it stands. Then take the stack off, glue the slot’s strip in so that it stands out {proud} outside and inside alike, and draw a band clamp round the stack until the joint is closed and no farther."
        ),
        "Let it dry until it can be turned, trim the strip flush outside and at both faces, and only then saw the next slot, and so on to the last. Never saw a second slot while one is open or its glue is wet: the stack would come apart at the blade."
            .to_owned(),
    ]
}

/// How the strips are trimmed, and how the discs come off again or stay on.
pub fn discs_off(own: &SetPlan) -> String {
    if let Some(until) = own.discs_until {
        return format!(
            "The strips are so long that they fill the slots in the discs too: glue them in there as well, along the whole of each, or the next slots would break pieces off the discs. Let the glue dry, then trim the strips flush outside and at the discs’ faces. Leave the discs on: they hold the stack for set {} too.",
            until + 1
        );
    }
    "Let the glue dry and trim the strips flush outside. Handle the stack by its discs until all strips are dry. Then saw each disc off right beside its joint and rub the face flat: what is left of the strips’ ends goes with it. The faces must be flat for the rings that come on."
        .to_owned()
}
