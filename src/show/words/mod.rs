//! Every word that the turner reads, in one place, so that a language can be added
//! here: the plain words in `list`, and the sentences that carry numbers.

pub mod boards;
pub mod inlay;
mod list;
pub mod word;

pub(crate) use list::*;
pub use word::Word;

use crate::design::trouble::{Reason, Trouble};
use crate::design::{Design, StackRing};
use crate::plan::bill::WoodUse;
use crate::plan::bill::{Cut, Part, Piece, ring_numbers};
use crate::plan::built::{Better, Reorder};
use crate::plan::caution::Caution;
use crate::plan::season::Moistures;
use crate::trade::closing::ClosingError;
use crate::trade::moisture::Ready;
use crate::trade::ring::{RingError, Segment};
use crate::trade::room::{Side, Tightest};
use crate::trade::stave::StavesPastCenter;
use crate::trade::strip::StripTooShort;
use crate::units::length::{NotALength, Unit, decimal, show};
use crate::units::quantity::{counted, degrees, duration, fine_length, force, length, temperature};
use serde::Serialize;

/// Every plain word: key and text.
pub fn all() -> impl Iterator<Item = (&'static str, &'static str)> {
    TABLES.iter().flatten().copied().flatten().copied()
}

/// The keys of words that only the page's markup and scripts name.
pub fn keys_of_the_page() -> impl Iterator<Item = &'static str> {
    let keys = TABLES
        .iter()
        .flat_map(|table| table[1])
        .map(|(key, _)| *key);
    // The library puts these keys together.
    keys.filter(|key| !key.starts_with("field.") && !key.starts_with("air."))
}

/// The word of a key that was put together; the key itself where there is none.
pub fn by_key(key: &str) -> &str {
    all()
        .find(|(name, _)| *name == key)
        .map_or(key, |(_, text)| text)
}

/// What a word says.
pub fn page(word: Word) -> &'static str {
    word.text
}

/// A word with values put in for `%1`, `%2` ….
pub fn filled(word: Word, values: &[&str]) -> String {
    let mut pieces = word.text.split('%');
    let mut text = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let place = piece.chars().next().and_then(|digit| digit.to_digit(10));
        let value = place.and_then(|place| values.get((place as usize).wrapping_sub(1)));
        if let Some(value) = value {
            text.push_str(value);
            text.push_str(&piece[1..]);
        } else {
            text.push('%');
            text.push_str(piece);
        }
    }
    text
}

/// The label of a field.
pub fn label(field_key: &str) -> &'static str {
    let pattern = crate::design::field::pattern_of(field_key);
    all()
        .find(|(name, _)| name.strip_prefix("field.") == Some(pattern.as_str()))
        .map_or("This design", |(_, text)| text)
}

/// What the turner is told: at which field, what is wrong, what mends it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Message {
    /// Key of the field; empty when it is about no single field.
    pub field: String,
    /// What is so, with the number.
    pub reason: String,
    /// What to do.
    pub remedy: String,
}

/// A figure with its sign, for growing and shrinking.
pub fn signed(figure: &str) -> String {
    let is_bare = !figure.starts_with('\u{2212}') && !figure.starts_with("0 ");
    (if is_bare { "+" } else { "" }).to_owned() + figure
}

/// Where a miter joint opens, and in which ring where there are more.
pub fn joint_opens(opening_mm: f64, place: Option<usize>) -> String {
    let side = if opening_mm < 0.0 {
        "inside"
    } else {
        "outside"
    };
    let ring = place.map_or_else(String::new, |place| format!(", ring {} most", place + 1));
    format!("{side}{ring}")
}

/// `Ring 4`.
pub fn ring_number(place: usize) -> String {
    format!("{} {}", VESSEL_RING.text, place + 1)
}

/// A ply's field: `Ply 2: wood`.
pub fn ply(place: usize, label: &str) -> String {
    format!("{} {}", label, place + 1)
}

/// A price's label, with what it is for.
pub fn price_for(what: &str) -> String {
    let what = by_key(&format!("choice.{what}")).to_owned();
    format!("{} {what}", by_key("field.woods.*.price"))
}

/// The saw cuts that a block takes.
pub fn block_cuts(count: u32) -> String {
    match count {
        1 => "one piece".to_owned(),
        2 => "glued up from scrap, 1 saw cut".to_owned(),
        _ => format!("glued up from scrap, {} saw cuts", count - 1),
    }
}

/// The slices of a block.
pub fn slices(count: u32) -> String {
    if count == 1 {
        "Sawn to".to_owned()
    } else {
        format!("{count} slices, each sawn to")
    }
}

/// What a slice is dressed to.
pub fn dressed_to(length_mm: f64, unit: Unit) -> String {
    format!("dressed to {}", show(length_mm, unit).line())
}

/// What a meter's reading says.
pub fn ready(ready: Ready, reading_pct: f64, moistures: &Moistures) -> String {
    let [dry, damp] = moistures.season_pct.map(|it| decimal(it, 1));
    let shop = decimal(moistures.shop_pct, 1);
    let says = match ready {
        Ready::Yes => "Ready: it rests, near the middle of the seasons to come.",
        Ready::Drying => {
            "Not ready: it still dries. Stack it on stickers in the shop and measure again."
        }
        Ready::TakingUp => {
            "Not ready: it still takes up moisture. Stack it on stickers in the shop and measure again."
        }
        Ready::ShopTooDry => {
            "It rests, but the shop is drier than the home: every joint will swell there."
        }
        Ready::ShopTooDamp => {
            "It rests, but the shop is damper than the home: every joint will shrink there. Dry the shop, or let the wood rest where it will live."
        }
        Ready::PastMeter => {
            "A meter does not read reliably below 4 or above 30 %. Measure again inside a fresh cut."
        }
    };
    format!(
        "{says} Read {} %; the shop brings it to {shop} %, the home to {dry} to {damp} %.",
        decimal(reading_pct, 1)
    )
}

/// The message for a trouble.
pub fn trouble(trouble: &Trouble, unit: Unit) -> Message {
    let (reason, remedy) = reason_and_remedy(trouble, unit);
    Message {
        field: trouble.field.clone().into_owned(),
        reason,
        remedy,
    }
}

/// The message for a trouble in a list of rings: it names the ring.
pub fn trouble_in_list(found: &Trouble, unit: Unit) -> Message {
    let message = trouble(found, unit);
    let place = found.field.split('.').nth(2);
    let place = place.and_then(|it| it.parse().ok());
    match place {
        Some(place) => Message {
            reason: about_ring(place, &message.reason),
            ..message
        },
        None => message,
    }
}

// One arm a sentence: the list is long because the trade's mishaps are many.
#[allow(clippy::too_many_lines)]
fn reason_and_remedy(trouble: &Trouble, unit: Unit) -> (String, String) {
    let name = label(&trouble.field);
    let mm = |length_mm: f64| length(length_mm, unit);
    let text = |reason: String, remedy: &str| (reason, remedy.to_owned());
    match &trouble.reason {
        Reason::NotALength(why) => not_a_length(name, why, unit, trouble.field.ends_with("_mm")),
        Reason::NotWhole(value) => text(
            format!("{name}: {} is not a whole number.", decimal(*value, 3)),
            "Enter a whole number, such as 12.",
        ),
        Reason::OutOfRange { value, least, most } => {
            let is_length = trouble.field.ends_with("_mm");
            let show = |value: f64| {
                if is_length {
                    mm(value)
                } else if trouble.field.ends_with("_temperature_c") {
                    let degrees = decimal(unit.shown_degrees(value), 1);
                    format!("{degrees} {}", unit.degrees_mark())
                } else if trouble.field.ends_with("_pct") {
                    format!("{} %", decimal(value, 3))
                } else {
                    decimal(value, 3)
                }
            };
            let range = if is_length && *least < 0.05 {
                if *least > 0.0 {
                    format!("more than 0, up to {}", show(*most))
                } else {
                    format!("0 to {}", show(*most))
                }
            } else {
                format!("{} to {}", show(*least), show(*most))
            };
            let value = if value.abs() > 1e9 {
                "that".to_owned()
            } else {
                show(*value)
            };
            (
                format!("{name}: {value} cannot be made."),
                format!("It takes {range}."),
            )
        }
        Reason::NotAChoice(word) => text(
            format!("{name}: “{word}” is not known here."),
            "Choose one from the list.",
        ),
        Reason::WrongKind => text(
            format!("{name}: what stands there is not a value for it."),
            "Enter it anew.",
        ),
        Reason::Ring(RingError::NoWall {
            inside_mm,
            outside_mm,
        }) => text(
            format!(
                "Inside diameter {} leaves no wall: outside is {}.",
                mm(*inside_mm),
                mm(*outside_mm)
            ),
            "Make the inside smaller or the outside larger.",
        ),
        Reason::WallPastCenter { wall_mm, radius_mm } => (
            format!(
                "A wall of {} is thicker than the radius, {}.",
                mm(*wall_mm),
                mm(*radius_mm)
            ),
            format!("Enter a wall of at most {}.", mm(*radius_mm)),
        ),
        Reason::Ring(RingError::AllowancePastCenter {
            allowance_mm,
            radius_mm,
        }) => (
            format!(
                "An inside allowance of {} is more than the hole’s radius, {}.",
                mm(*allowance_mm),
                mm(*radius_mm)
            ),
            format!(
                "Keep at most {} inside, or make the hole 0.",
                mm(*radius_mm)
            ),
        ),
        Reason::Ring(RingError::SpacerTooThick {
            thickness_mm,
            most_mm,
        }) => (
            format!(
                "With {} between them the segments have no short edge left.",
                mm(*thickness_mm)
            ),
            format!(
                "Make it thinner than {}, take fewer segments, or a larger hole.",
                mm(*most_mm)
            ),
        ),
        Reason::Strip(StripTooShort {
            length_mm,
            needed_mm,
        }) => (
            format!(
                "A strip of {} does not hold one segment and the piece to hold it by.",
                mm(*length_mm)
            ),
            format!(
                "Use strips of at least {}; the figures are for one long strip.",
                mm(*needed_mm)
            ),
        ),
        Reason::Closing(ClosingError::GapTooWide { most_mm }) => (
            "That gap is wider than any error of the saw could make it.".to_owned(),
            format!(
                "Measure again, at most {}; a piece may be missing or turned round.",
                mm(*most_mm)
            ),
        ),
        Reason::Closing(ClosingError::TooManyGlued { segment_count }) => (
            format!("The ring has only {segment_count} segments."),
            format!("Enter 1 to {segment_count} glued segments."),
        ),
        Reason::Staves(StavesPastCenter { most_mm }) => (
            "Leaning in this far, the staves meet before their end.".to_owned(),
            format!(
                "Make them at most {} long, or lean them less.",
                mm(*most_mm)
            ),
        ),
        Reason::NoCurve => text(
            "These points make no curve.".to_owned(),
            "Take two or more, each higher than the one below it.",
        ),
        Reason::FloorPastRim {
            floor_mm,
            height_mm,
        } => (
            format!(
                "A floor of {} leaves no hollow: the vessel is {} high.",
                mm(*floor_mm),
                mm(*height_mm)
            ),
            "Make the floor thinner or the vessel higher.".to_owned(),
        ),
        Reason::BaseFillsRing { disc_mm, ring_mm } => (
            format!(
                "A base of {} leaves nothing of its ring: that is {} outside.",
                mm(*disc_mm),
                mm(*ring_mm)
            ),
            format!("Make it smaller than {}, or glue it under.", mm(*ring_mm)),
        ),
        Reason::BaseFallsThrough {
            disc_mm,
            least_mm,
            hole_mm,
        } => (
            format!(
                "A base of {} has no hold: the hole of its ring is {} at the corners.",
                fine_length(*disc_mm, unit),
                fine_length(*hole_mm, unit)
            ),
            format!(
                "Make it larger than {}, or glue it under.",
                fine_length(*least_mm, unit)
            ),
        ),
        Reason::BaseAboveFloor { below_mm } => (
            if *below_mm > 0.0 {
                format!(
                    "The floor is {} lower than the base: all of the base would be turned away.",
                    mm(*below_mm)
                )
            } else {
                "The floor ends where the base begins: all of the base would be turned away."
                    .to_owned()
            },
            "Make the floor higher in Vessel, or set the base into a lower ring.".to_owned(),
        ),
        Reason::NoRingForBase => text(
            "The lowest ring is a disc: there is no hole to let a base into.".to_owned(),
            "Make it of segments in Vessel, or glue the base under.",
        ),
        Reason::NumbersOfRing(1) => text(
            "only one number.".to_owned(),
            "Write its outside and its inside, and its height if it is another one.",
        ),
        Reason::NumbersOfRing(count) => text(
            format!("{count} numbers."),
            "Write its outside, its inside and its height, and a comma before the next ring.",
        ),
        Reason::TooManyRings(most) => (
            "that is more than a vessel takes.".to_owned(),
            format!("Enter at most {most} rings."),
        ),
        Reason::NoSuchWood(wood) => text(
            format!("{name}: “{wood}” is not in the table of woods."),
            "Take one of the list, or enter the figures themselves.",
        ),
        Reason::NoSuchRing { ring, count } => (
            format!("There is no ring {ring}: the vessel has {count}."),
            format!("Enter 1 to {count}, from the foot up."),
        ),
        Reason::NoWallInStack => text(
            "These rings lie above the rim: no finished wall is in them.".to_owned(),
            "Choose rings below the rim.",
        ),
        Reason::NotMeasured => text(
            format!("{name}: not measured yet, and nothing is planned for this ring."),
            "Measure it and enter it.",
        ),
        Reason::BrokenLink => text(
            "This link is not complete, or is not one of Ringwright’s.".to_owned(),
            "Ask for it again, or copy it whole: it begins with #r1 and has no spaces.",
        ),
        Reason::Newer => text(
            "This comes from a newer version of Ringwright.".to_owned(),
            "Load the page again to get the new version. What this one does not know is kept, but not inside of lists such as rings and boards.",
        ),
        Reason::NotADesign => text(
            "This is not a Ringwright design.".to_owned(),
            "Choose a file that Ringwright saved; its name ends in .ringwright.json.",
        ),
    }
}

fn not_a_length(name: &str, why: &NotALength, unit: Unit, is_length: bool) -> (String, String) {
    let example = if !is_length {
        "12 or 7.5"
    } else if unit.is_inch() {
        "10 1/2 or 266 mm"
    } else {
        "266 or 10 1/2 in"
    };
    let write = format!("Write it like {example}.");
    match why {
        NotALength::Empty => (format!("{name} is empty."), write),
        NotALength::Strange(word) => (format!("{name}: “{word}” has no meaning here."), write),
        NotALength::BrokenFraction(text) => (
            format!("{name}: the fraction in “{text}” is not complete."),
            "Write a whole number above and below the stroke, like 3/4.".to_owned(),
        ),
        NotALength::TwoReadings(text) => (
            format!("{name}: “{text}” can be read in two ways."),
            "Write thousands without a comma, and decimals with a point.".to_owned(),
        ),
        NotALength::WhichUnit(text) => (
            format!("{name}: is “{text}” of an inch or of a millimeter?"),
            format!("Write {text}\" for inches, or a decimal for millimeters."),
        ),
        NotALength::TooLong => (format!("{name}: that is too long."), write),
    }
}

/// The message for a caution.
#[allow(clippy::too_many_lines)]
pub fn caution(caution: &Caution, unit: Unit) -> Message {
    let mm = |length_mm: f64| show(length_mm, unit).line();
    let (field, reason, remedy) = match caution {
        Caution::RoundedTooSmall {
            circle_mm,
            wanted_mm,
        } => (
            crate::design::field::key::OUTSIDE_ALLOWANCE,
            format!(
                "Cut to the figures as shown, the ring holds a circle of {}, less than {}.",
                mm(*circle_mm),
                mm(*wanted_mm)
            ),
            "Set the stop a little long, use a finer fraction, or keep more outside.",
        ),
        Caution::RoundedHoleTooLarge { hole_mm, wanted_mm } => (
            crate::design::field::key::INSIDE_ALLOWANCE,
            format!(
                "Cut to the figures as shown, the hole is {}, more than {}.",
                mm(*hole_mm),
                mm(*wanted_mm)
            ),
            "Rip the strip a little wide, use a finer fraction, or keep more inside.",
        ),
        Caution::SmallSegment { long_edge_mm } => (
            crate::design::field::key::SEGMENT_COUNT,
            format!("A segment is only {} long.", mm(*long_edge_mm)),
            "Hold it in a jig from start to end of the cut, or take fewer segments.",
        ),
        Caution::NarrowStrip { width_mm } => (
            crate::design::field::key::WALL,
            format!("The strip is only {} wide.", mm(*width_mm)),
            "Rip it with a jig or on the far side of the blade, never between blade and fence by hand.",
        ),
        Caution::ShortHoldBack { length_mm } => (
            crate::design::field::key::HOLD_BACK,
            format!("Only {} is kept back to hold the strip by.", mm(*length_mm)),
            "Keep at least 3 in (76 mm) from hand to blade, or clamp the strip.",
        ),
        Caution::SteepSaw { setting_rad } => (
            crate::design::field::key::SEGMENT_COUNT,
            format!(
                "The saw must stand at {} from square; most gauges and miter saws stop at about 50°.",
                degrees(*setting_rad)
            ),
            "Take four segments or more, or cut with the strip clamped square to the fence in a jig, the saw at the complement.",
        ),
        Caution::NoSuchStock {
            rings,
            height_mm,
            plane_mm,
        } => (
            crate::design::field::key::STOCK,
            format!(
                "{} {} {}{}; none of your stock gives that with at most {} planed away.",
                rings_named(&ring_numbers(rings), rings.len()),
                if rings.len() == 1 {
                    "needs"
                } else {
                    "need other stock, the first"
                },
                mm(*height_mm),
                if rings.len() == 1 { " stock" } else { "" },
                mm(*plane_mm)
            ),
            "Add the thickness to your stock, resaw a thicker board, or make the ring as high as your stock gives.",
        ),
        Caution::OddCount { count } => (
            crate::design::field::key::SEGMENT_COUNT,
            format!("{count} segments make no two halves."),
            "With an even count two half rings can be trued before the last glue-up.",
        ),
        Caution::ThinWall { left_mm, wanted_mm } => (
            "vessel.rings.*.outside_extra_mm",
            format!(
                "Cut to the figures as shown, the wall here is down to {} instead of {}.",
                mm(*left_mm),
                mm(*wanted_mm)
            ),
            "Give the ring extra wood, or set stop and strip a little long.",
        ),
        Caution::MeasuredSmall { left_mm, wanted_mm } => (
            "vessel.rings.*.measured.outside_diameter_mm",
            format!(
                "As measured, it leaves {} of the wall instead of {}.",
                mm(*left_mm),
                mm(*wanted_mm)
            ),
            "Take the nearest curve under Glued rings in Vessel, or make the ring anew.",
        ),
        Caution::NarrowGlue { width_mm } => (
            crate::design::field::key::FOOT_WALL,
            format!(
                "Only {} of glue is left at this joint after turning.",
                mm(*width_mm)
            ),
            "Make the wall thicker there, or move the joint to where the wall leans more.",
        ),
        Caution::JointsInLine { count } => (
            "vessel.rings.*.turn_half_segments",
            format!("{count} joints stand right over joints of the ring below."),
            "Turn the ring by half a segment.",
        ),
        Caution::ShortSegment {
            long_edge_mm,
            least_mm,
        } => (
            "vessel.rings.*.segment_count",
            format!(
                "Its segments are {} long, less than {}.",
                mm(*long_edge_mm),
                mm(*least_mm)
            ),
            "Take fewer segments, and hold them in a jig.",
        ),
        Caution::WiderThanBoard { width_mm, board_mm } => (
            "vessel.rings.*.height_mm",
            format!(
                "Its strip is {} wide; the widest board is {}.",
                mm(*width_mm),
                mm(*board_mm)
            ),
            "Take lower rings where the wall leans, more segments, or a wider board.",
        ),
        Caution::HigherThanStock {
            height_mm,
            stock_mm,
        } => (
            "vessel.rings.*.height_mm",
            format!(
                "It needs stock of {}; the thickest is {}.",
                mm(*height_mm),
                mm(*stock_mm)
            ),
            "Make the ring lower, or add the stock to your list.",
        ),
        Caution::Wasteful { share } => (
            "vessel.rings.*.height_mm",
            format!(
                "Only {} % of this ring stays; the rest is turned away.",
                decimal(share * 100.0, 0)
            ),
            "Two lower rings keep more wood where the wall leans.",
        ),
        Caution::WedgesInFloor => (
            "vessel.rings.*.made_of",
            "Its segments meet in points in the middle of the floor.".to_owned(),
            "Use a solid or cross-laminated disc there, or accept the points.",
        ),
        Caution::Funnel { top_mm } => (
            crate::design::field::key::POINTS,
            format!(
                "Inside, one straight slope runs from the floor up to {}.",
                mm(*top_mm)
            ),
            "Let the curve round into the floor: a funnel collects, and it looks unfinished.",
        ),
        Caution::SmallOpening {
            opening_mm,
            inside_mm,
        } => (
            crate::design::field::key::POINTS,
            format!(
                "The opening is {}, with {} inside to be reached through it.",
                mm(*opening_mm),
                mm(*inside_mm)
            ),
            "Open the rim, or turn and finish the inside in two halves before they are joined.",
        ),
        Caution::SmallFoot { angle_rad } => (
            crate::design::field::key::POINTS,
            format!(
                "It falls over when tipped by {}.",
                degrees((angle_rad * 572.957_795).round() / 572.957_795)
            ),
            "Widen the foot, or make the floor heavier.",
        ),
        Caution::InTheWay { ring, by_mm } => (
            crate::design::field::key::RINGS,
            format!(
                "Ring {} stands out {} farther than these: on the saw’s table the piece does not lie on them.",
                ring + 1,
                mm(*by_mm)
            ),
            "Let the halves meet elsewhere, or slot other rings, so that these are sawn as a stack of their own.",
        ),
        Caution::BlockPastSwing {
            diameter_mm,
            swing_mm,
        } => (
            crate::design::field::key::SWING,
            format!(
                "This block is {} wide; the lathe swings {}.",
                mm(*diameter_mm),
                mm(*swing_mm)
            ),
            "Make it as wide as the lathe swings, and center by measuring from its edge.",
        ),
        Caution::PastSwing {
            diameter_mm,
            swing_mm,
        } => (
            crate::design::field::key::SWING,
            format!(
                "Over its corners this ring is {}; the lathe swings {}.",
                mm(*diameter_mm),
                mm(*swing_mm)
            ),
            "Cut the corners off before mounting, or make the vessel smaller.",
        ),
        Caution::StackTooLow { missing_mm } => (
            crate::design::field::key::RINGS,
            format!("The rings end {} below the rim.", mm(*missing_mm)),
            "Add a ring, make one higher, or divide anew.",
        ),
        Caution::StackTooHigh { excess_mm } => (
            crate::design::field::key::RINGS,
            format!("The rings stand {} above the rim.", mm(*excess_mm)),
            "Remove or lower a ring, or divide anew.",
        ),
        Caution::WallFills { height_mm } => (
            crate::design::field::key::FOOT_WALL,
            format!("The wall fills the whole inside up to {}.", mm(*height_mm)),
            "Make the wall thinner at the foot, or the foot wider.",
        ),
        Caution::BaseBreaksRing { most_mm, share } => (
            crate::design::field::key::BASE_KIND,
            format!(
                "Through the year this base moves {} against its ring, {} % of its diameter: glued all round it breaks the ring or tears from it.",
                fine_length(*most_mm, unit),
                decimal(100.0 * share, 1)
            ),
            "Make it of plies laid crosswise, or leave the play and glue only the middle of one side.",
        ),
        Caution::BaseTears { most_mm } => (
            crate::design::field::key::BASE_KIND,
            format!(
                "Through the year this base moves {} against the ring above it.",
                fine_length(*most_mm, unit)
            ),
            "Make it of plies laid crosswise or of wedges, or keep the foot small.",
        ),
        Caution::BaseCups { plies, cup_mm } => (
            crate::design::field::key::BASE_PLIES,
            format!(
                "{plies} plies like these pull the base hollow by {}, if nothing holds it.",
                fine_length(*cup_mm, unit)
            ),
            "Take an odd number of plies that are the same on both sides of the middle one, once the floor is turned.",
        ),
        Caution::LedgeTooNarrow { ledge_mm, loose_mm } => (
            crate::design::field::key::BASE_LEDGE,
            format!(
                "In the driest season the base has {} of play, and the ledge is only {} wide.",
                fine_length(*loose_mm, unit),
                mm(*ledge_mm)
            ),
            "Make the ledge wider, or the base of plies.",
        ),
        Caution::BaseHeight { base_mm, room_mm } => (
            crate::design::field::key::BASE_KIND,
            format!(
                "The base is {} thick, its place in the ring is {}.",
                mm(*base_mm),
                mm(*room_mm)
            ),
            "Change the thickness here, or the ring’s height in Vessel; a ledge needs wood below it.",
        ),
        Caution::NoFigures { wood } => (
            "woods.*.like",
            if wood.is_empty() {
                "How a wood without a name moves is not known.".to_owned()
            } else {
                format!("How “{wood}” moves is not known.")
            },
            "Say above what wood it is like, or enter its shrinkage.",
        ),
        Caution::AirPastTable { air } => (
            match *air {
                "shop" => crate::design::field::key::SHOP_HUMIDITY,
                "dry" => crate::design::field::key::DRY_HUMIDITY,
                _ => crate::design::field::key::DAMP_HUMIDITY,
            },
            format!(
                "{}: the published table ends before this air, so the moisture is only a guess.",
                page(match *air {
                    "shop" => SEASON_SHOP,
                    "dry" => SEASON_DRY,
                    _ => SEASON_DAMP,
                })
            ),
            "Check temperature and humidity; indoors 20 to 80 % is usual.",
        ),
        Caution::SeasonsSwapped => (
            crate::design::field::key::DRY_HUMIDITY,
            "The driest season brings wood to more moisture than the dampest.".to_owned(),
            "Change the two about.",
        ),
        Caution::Slots(place, slots) => {
            let (field, reason, remedy) = inlay::caution(slots, unit);
            return Message {
                field: format!("vessel.slot_sets.{place}.{field}"),
                reason: inlay::about_set(*place, &reason),
                remedy: remedy.to_owned(),
            };
        }
        Caution::ColdShop {
            shop_c, least_c, ..
        } => (
            crate::design::field::key::SHOP_TEMPERATURE,
            format!(
                "The shop is at {}; this glue wants {} or more.",
                temperature(*shop_c, unit),
                temperature(*least_c, unit)
            ),
            "",
        ),
        Caution::OutOfBalance {
            offset_mm,
            pull_n,
            rpm,
        } => (
            "vessel.rings.*.pattern",
            format!(
                "The woods weigh unlike: their mass lies {} off the axis and pulls with {} at {} rpm.",
                mm(*offset_mm),
                force(*pull_n, unit),
                decimal(*rpm, 0)
            ),
            "Turn slower until nothing shakes, or repeat the pattern evenly round.",
        ),
        Caution::OutOfReach {
            depth_mm,
            opening_mm,
            overhang_mm,
        } => (
            crate::design::field::key::MEETING,
            format!(
                "A straight tool does not reach all of this: {} deep, {} at the narrowest, {} beyond the rest.",
                mm(*depth_mm),
                mm(*opening_mm),
                mm(*overhang_mm)
            ),
            "Let the halves meet nearer to it, take lower rings there, or use a bent or captured tool.",
        ),
        Caution::NoAllowance => (
            crate::design::field::key::OUTSIDE_ALLOWANCE,
            "Nothing is kept for turning, outside or inside.".to_owned(),
            "Keep a little: no ring is glued exactly round and centered.",
        ),
    };
    let remedy = match caution {
        Caution::ColdShop {
            warming_min,
            stay_min,
            ..
        } => format!(
            "Let wood and glue lie in a room of {} for {}, glue up there, and leave it there for {}.",
            temperature(crate::trade::glue::ROOM_C, unit),
            duration(*warming_min).line(),
            duration(*stay_min).line()
        ),
        _ => remedy.to_owned(),
    };
    Message {
        field: field.to_owned(),
        reason,
        remedy,
    }
}

/// What the dry ring says about the saw, in two sentences.
pub fn saw_correction(setting_rad: f64, error_rad: f64) -> String {
    // A thousandth of a degree is finer than any saw is set.
    if error_rad.to_degrees().abs() < 0.000_5 {
        return format!(
            "The cuts are true. Leave the saw at {}.",
            degrees(setting_rad)
        );
    }
    let (which, turn) = if error_rad > 0.0 {
        ("small", "larger")
    } else {
        ("large", "smaller")
    };
    let error = degrees(error_rad.abs());
    format!(
        "Every cut is {error} too {which}. Turn the saw {error} to a {turn} miter: \
         its scale then reads {} if it read {} before.",
        degrees(setting_rad + error_rad),
        degrees(setting_rad)
    )
}

/// How many strips, and how long the last must be.
pub fn strips(count: u32, length_mm: f64, last_mm: f64, unit: Unit) -> String {
    // A strip cut to a length rounded down would be too short.
    let last = show(last_mm + unit.step_mm() / 2.0, unit).line();
    match count {
        0 => format!("one of {last}"),
        1 => format!("1, at least {last} long"),
        _ => format!(
            "{count} of {}; the last may be {last}",
            show(length_mm, unit).line()
        ),
    }
}

/// What is ripped for some pieces, and how long.
pub fn ripped(cut: &Cut, design: &Design) -> String {
    let unit = design.unit;
    let width = show(cut.width_mm, unit).line();
    match cut.piece {
        Piece::Segment(_, of) => {
            let length_mm = design.shop.strip_length_mm;
            let strips = strips(of.strip_count, length_mm, of.last_strip_mm, unit);
            format!("{width} wide: {strips}")
        }
        Piece::Disc { .. } => format!("{} × {width} × {width}", cut.count),
        Piece::Spacer { length_mm, .. } | Piece::SlotStrip { length_mm, .. } => {
            let length = show(length_mm, unit).line();
            format!("{width} thick: {} of {length}", cut.count)
        }
    }
}

/// What is cut, in a word.
pub fn cut_name(cut: &Cut) -> &'static str {
    page(match cut.piece {
        Piece::Segment(..) if cut.rings().is_empty() => CHOICE_WEDGES,
        Piece::Segment(..) => CHOICE_SEGMENTS,
        Piece::Disc { slices: 1, .. } => CUTS_DISC,
        Piece::Disc { .. } => CUTS_PLIES,
        Piece::Spacer { .. } => CUTS_SPACERS,
        Piece::SlotStrip { .. } => CUTS_SLOT_STRIPS,
    })
}

/// What a cut is for, in as little room as can be: `1, 3–5, base`.
pub fn part_list(parts: &[(Part, u32)]) -> String {
    let rings: Vec<usize> = parts
        .iter()
        .filter_map(|(part, _)| match part {
            Part::Ring(place) => Some(*place),
            _ => None,
        })
        .collect();
    let mut names = Vec::new();
    if !rings.is_empty() {
        names.push(ring_numbers(&rings));
    }
    names.extend(parts.iter().filter_map(|(part, _)| match part {
        Part::Ring(_) => None,
        Part::Base => Some("base".to_owned()),
        Part::Slots(place) => Some(format!("slots {}", place + 1)),
    }));
    names.join(", ")
}

/// The ring's drawing in one sentence.
pub fn ring_described(count: u32, outside_mm: f64, inside_mm: f64, unit: Unit) -> String {
    format!(
        "A ring of {count} segments, outside diameter {}, inside diameter {}; one segment is picked out.",
        length(outside_mm, unit),
        length(inside_mm, unit)
    )
}

/// The ring in a few words, under a sheet's title.
pub fn ring_in_short(count: u32, outside_mm: f64, inside_mm: f64, unit: Unit) -> String {
    format!(
        "{count} segments, outside diameter {}, inside diameter {}",
        length(outside_mm, unit),
        length(inside_mm, unit)
    )
}

/// A ring beside the section: its number, count and stop.
pub fn ring_name(place: usize, ring: &StackRing, segment: Option<&Segment>, unit: Unit) -> String {
    match segment {
        _ if ring.is_glued() => format!("{}: glued", place + 1),
        Some(segment) => format!(
            "{}: {} × {}",
            place + 1,
            ring.segment_count,
            show(segment.outside.long_edge_mm, unit).text
        ),
        None => format!("{}: disc", place + 1),
    }
}

/// A point's height and diameter.
pub fn point_says(height_mm: f64, diameter_mm: f64, unit: Unit) -> String {
    format!(
        "height {}, diameter {}",
        show(height_mm, unit).line(),
        show(diameter_mm, unit).line()
    )
}

/// What stop and strip width include: the finished diameter, and what is turned away outside
/// and inside.
pub fn saw_includes(finished_mm: f64, [outside_mm, inside_mm]: [f64; 2], unit: Unit) -> String {
    let line = |length_mm: f64| show(length_mm, unit).line();
    let kept = if outside_mm.max(inside_mm) <= 0.0 {
        "nothing to turn away".to_owned()
    } else if outside_mm.to_bits() == inside_mm.to_bits() {
        format!("{} a side to turn away", line(outside_mm))
    } else if inside_mm <= 0.0 {
        format!("{} to turn away outside", line(outside_mm))
    } else if outside_mm <= 0.0 {
        format!("{} to turn away inside", line(inside_mm))
    } else {
        format!(
            "{} outside and {} inside to turn away",
            line(outside_mm),
            line(inside_mm)
        )
    };
    format!("For {} finished, {kept}", line(finished_mm))
}

/// A caution's reason with the ring that it is about.
pub fn about_ring(place: usize, reason: &str) -> String {
    format!("Ring {}: {reason}", place + 1)
}

/// Whether a curve fits, and where it is tightest.
pub fn built_fits(tightest: &Tightest, unit: Unit) -> String {
    let left = show(tightest.left_mm.abs(), unit).line();
    let at = built_where(tightest, unit);
    if tightest.left_mm < 0.0 {
        format!("It does not fit: {left} is missing {at}.")
    } else if tightest.left_mm < unit.step_mm() / 2.0 {
        format!("It just fits: nothing is to spare {at}.")
    } else {
        format!("It fits, with {left} to spare {at}.")
    }
}

/// Where a curve is tightest.
pub fn built_where(tightest: &Tightest, unit: Unit) -> String {
    let side = match tightest.side {
        Side::Outside => "outside",
        Side::Inside => "inside",
    };
    format!("{side}, {}", at_height(tightest.height_mm, unit))
}

/// At a height.
pub fn at_height(height_mm: f64, unit: Unit) -> String {
    format!("at a height of {}", show(height_mm, unit).line())
}

/// No curve has the wall that is wanted.
pub fn built_closed(most_mm: f64, height_mm: f64, unit: Unit) -> String {
    format!(
        "No curve has that wall in these rings: {} they allow {} at most. Make the wall thinner in Vessel, or another ring.",
        at_height(height_mm, unit),
        show(most_mm.max(0.0), unit).line()
    )
}

/// The stack is higher or lower than the curve.
pub fn built_heights(above_mm: f64, unit: Unit) -> String {
    let by = show(above_mm.abs(), unit).line();
    if above_mm > 0.0 {
        format!("The rings stand {by} above the rim.")
    } else {
        format!("The rings end {by} below the rim; above them the curve is not checked.")
    }
}

/// The hole reaches into the floor.
pub fn built_floor(solid_mm: f64, unit: Unit) -> String {
    if solid_mm > 0.0 {
        format!(
            "The wood is solid only up to {}: less than the floor.",
            show(solid_mm, unit).line()
        )
    } else {
        "The lowest ring has a hole: the floor needs a base of its own.".to_owned()
    }
}

/// The thickest wall that a ring allows.
pub fn built_wall(wall_mm: f64, unit: Unit) -> String {
    if wall_mm.is_finite() {
        format!("wall up to {}", show(wall_mm, unit).line())
    } else {
        "solid".to_owned()
    }
}

/// A better order of the rings.
pub fn better_order(better: &Better, unit: Unit) -> String {
    let change = match better.change {
        Reorder::Turn(place) => format!("With ring {} turned over", place + 1),
        Reorder::Swap(one, two) => {
            format!("With rings {} and {} changed about", one + 1, two + 1)
        }
    };
    let now = show(better.after_mm.abs(), unit).line();
    if better.after_mm < 0.0 {
        format!("{change} only {now} is missing.")
    } else {
        format!("{change} it fits, with {now} to spare.")
    }
}

/// What a vessel takes of a wood.
pub fn wood_taken(taken: &WoodUse, volume: &str) -> String {
    let mut said = Vec::new();
    if taken.piece_count > 0 {
        let name = if taken.piece_count == 1 {
            "piece"
        } else {
            "pieces"
        };
        said.push(format!("{} {name}", taken.piece_count));
    }
    if taken.slot_strip_count > 0 {
        said.push(slot_strips(taken.slot_strip_count));
    }
    if taken.piece_count + taken.slot_strip_count > 0 {
        said.push(volume.to_owned());
    }
    if taken.glued_count > 0 {
        said.push(format!("{} glued already", taken.glued_count));
    }
    said.join(", ")
}

/// A wood that was added.
pub fn step_added(wood: &str) -> String {
    format!("{wood} added")
}

/// A wood that was removed.
pub fn step_removed(wood: &str) -> String {
    format!("{wood} removed")
}

/// Another count of rings.
pub fn step_ring_count(before: usize, after: usize) -> String {
    let rings = if after == 1 { "ring" } else { "rings" };
    format!("{after} {rings} instead of {before}")
}

/// A ring that was painted.
pub fn step_painted(place: usize, wood: &str) -> String {
    format!("ring {} {wood}", place + 1).trim_end().to_owned()
}

/// A piece in a line: its size, its woods, and of how many pieces it is.
pub fn piece_in_short(
    [across_mm, height_mm]: [f64; 2],
    woods: &[String],
    piece_count: u32,
    unit: Unit,
) -> String {
    let line = |length_mm: f64| show(length_mm, unit).line();
    format!(
        "{} across, {} high, {piece_count} pieces. {}.",
        line(across_mm),
        line(height_mm),
        woods.join("; ")
    )
}

/// What removing a wood of the vessel is called.
pub fn remove_wood(name: &str, used_count: u32, heir: &str) -> String {
    match used_count {
        0 => format!("Remove {name}: nothing is of it"),
        1 => format!("Remove {name}: its one piece becomes {heir}"),
        count => format!("Remove {name}: its {count} pieces become {heir}"),
    }
}

/// Strips that are glued into slots; empty where there are none.
pub fn slot_strips(count: u32) -> String {
    match count {
        0 => String::new(),
        1 => "1 strip for a slot".to_owned(),
        _ => format!("{count} strips for slots"),
    }
}

/// Plies of one wood.
pub fn plies_of(count: u32, wood: &str) -> String {
    format!("{} of {wood}", counted(count as usize, "ply", "plies"))
}

/// The square that a ply is sawn from.
pub fn sawn_square(side_mm: f64, unit: Unit) -> String {
    let side = show(side_mm, unit).line();
    format!("thick once flat, from {side} square")
}

/// Segments of one wood in a ring, and their strips.
pub fn strips_of(segment_count: u32, wood: &str) -> String {
    format!("{segment_count} of {wood}")
}

/// The head of the table of rings as comma-separated values.
pub fn csv_head(unit: Unit) -> String {
    let mark = unit.mark();
    format!(
        "ring,height {mark},made of,segments,outside diameter {mark},inside diameter {mark},saw deg,\
         long edge {mark},short edge {mark},strip width {mark},strip height {mark},\
         strip length {mark},woods\r\n"
    )
}

/// The segment's drawing in one sentence.
pub fn segment_described(segment: &Segment, unit: Unit) -> String {
    format!(
        "A segment with a long edge of {}, a short edge of {} and a width of {}, mitered at {}.",
        length(segment.outside.long_edge_mm, unit),
        length(segment.short_edge_mm, unit),
        length(segment.strip_width_mm, unit),
        degrees(segment.outside.half_angle_rad)
    )
}

/// The line under a sheet's title.
pub fn made_on(date: &str) -> String {
    let by = APP_NAME.text;
    if date.is_empty() {
        by.to_owned()
    } else {
        format!("{by}, {date}")
    }
}

/// Which page of how many.
pub fn page_of(page: usize, count: usize) -> String {
    format!("Page {page} of {count}")
}

/// How many pages a sheet takes.
pub fn pages(count: usize) -> String {
    counted(count, "page", "pages")
}

/// The vessel in a few words, under the packet's title.
pub fn vessel_in_short(rings: usize, height_mm: f64, diameter_mm: f64, unit: Unit) -> String {
    format!(
        "{}, {}",
        counted(rings, "ring", "rings"),
        point_says(height_mm, diameter_mm, unit)
    )
}

/// The section's sheet and its scale.
pub fn section_at_scale(one_over: f64) -> String {
    format!("{}, scale 1 : {}", SHEET_SECTION.text, decimal(one_over, 1))
}

/// A ring before its height.
pub fn ring_and_height(place: usize) -> String {
    format!("Ring {}: ", place + 1)
}

/// A joint by the rings that it joins; `upper` is the upper one's place.
pub fn story_joint(upper: usize) -> String {
    format!("Ring {} on {upper}", upper + 1)
}

/// Rings that share a sheet, by their numbers.
pub fn rings_named(numbers: &str, count: usize) -> String {
    let name = if count == 1 { "Ring" } else { "Rings" };
    format!("{name} {numbers}")
}

/// The same within a sentence.
pub fn rings_within(numbers: &str, count: usize) -> String {
    rings_named(numbers, count).to_lowercase()
}

/// A ring's sheet of the packet, in a few words.
pub fn ring_sheet(name: &str, count: u32, outside_mm: f64, inside_mm: f64, unit: Unit) -> String {
    format!(
        "{name}: {count} segments, {} outside, {} inside",
        show(outside_mm, unit).line(),
        show(inside_mm, unit).line()
    )
}

/// The same at true scale.
pub fn ring_full_size(numbers: &str, count: usize) -> String {
    format!("{}, true scale", rings_named(numbers, count))
}

/// A circle of the centering disc, before its diameter.
pub fn circle_of(numbers: &str) -> String {
    format!("{numbers}:  Ø ")
}

/// One sheet of a template that takes several.
pub fn part_of_template(template: &str, part: &str, columns: usize, rows: usize) -> String {
    format!("{template}: part {part} of {rows} × {columns}")
}

/// Why a template is not on paper.
pub fn too_many_sheets(width_mm: f64, height_mm: f64, unit: Unit) -> String {
    format!(
        "At true scale this is {} × {}, too much for sheets of this size. Cut it by its figures, or save it as DXF or SVG and have it plotted in one piece.",
        show(width_mm, unit).line(),
        show(height_mm, unit).line()
    )
}

/// The head of the cut list as comma-separated values.
pub fn cut_list_head(unit: Unit) -> String {
    let mark = unit.mark();
    format!(
        "piece,wood,thickness {mark},width {mark},count,saw deg,long edge {mark},short edge {mark},\
         length in all {mark},strips,rings\r\n"
    )
}

/// The kerf's note on the drawing.
pub fn kerf_note(kerf_mm: f64, unit: Unit) -> String {
    format!("kerf {}", show(kerf_mm, unit).text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::field::{FIELDS, key};

    #[test]
    fn every_field_has_a_label_and_no_key_stands_twice() {
        for field in FIELDS {
            // The two that go with another field are labeled by it.
            let shared = [key::HOLE_BY].contains(&field.key);
            assert!(shared || label(field.key) != "This design", "{}", field.key);
        }
        for (name, text) in all() {
            assert!(!text.is_empty());
            let same = all().filter(|(other, _)| *other == name);
            assert_eq!(same.count(), 1, "{name} stands twice");
        }
    }

    #[test]
    fn a_message_names_field_reason_and_remedy() {
        let message = trouble(
            &Trouble::at(
                key::INSIDE_DIAMETER,
                RingError::NoWall {
                    inside_mm: 120.0,
                    outside_mm: 110.0,
                }
                .into(),
            ),
            Unit::Millimeter,
        );
        assert_eq!(
            message.reason,
            "Inside diameter 120 mm leaves no wall: outside is 110 mm."
        );
        assert!(!message.remedy.is_empty());
    }

    #[test]
    fn one_of_a_thing_is_told_as_one() {
        assert_eq!(duration(0.4).spoken, "1 minute");
        assert_eq!(duration(1.6).spoken, "2 minutes");
        assert_eq!(duration(240.0).spoken, "4 hours");
        let of_one =
            |unit: &str| crate::units::length::Shown::decimal("1".to_owned(), "", unit).spoken;
        assert_eq!(of_one(" board feet"), "1 board foot");
        assert_eq!(of_one(" inches"), "1 inch");
        assert_eq!(of_one(""), "1");
        assert_eq!(counted(1, "ply", "plies"), "1 ply");
        assert_eq!(counted(2, "ply", "plies"), "2 plies");
        assert_eq!(counted(0, "ply", "plies"), "0 plies");
        assert_eq!(pages(1), "1 page");
        assert_eq!(plies_of(1, "Maple"), "1 ply of Maple");
        assert_eq!(slot_strips(1), "1 strip for a slot");
        assert_eq!(inlay::slots(1), "with 1 slot");
        assert_eq!(inlay::slots(24), "with 24 slots");
        let short = vessel_in_short(1, 20.0, 100.0, Unit::Millimeter);
        assert!(short.starts_with("1 ring, "), "{short}");
    }

    #[test]
    fn a_sentence_has_the_length_of_the_tape_and_no_more() {
        let off = 12.0625 * 25.4 + 0.2;
        assert!(!show(off, Unit::Inch16).remainder.is_empty());
        assert_eq!(length(off, Unit::Inch16), "12 1/16 in");
        let trouble = Trouble::at(
            crate::design::field::key::WALL,
            Reason::WallPastCenter {
                wall_mm: off,
                radius_mm: off - 10.0,
            },
        );
        let told = super::trouble(&trouble, Unit::Inch16);
        let all = format!("{} {}", told.reason, told.remedy);
        assert!(all.contains("12 1/16 in"), "{all}");
        assert!(!all.contains("+0.") && !all.contains("\u{2212}0."), "{all}");
    }

    #[test]
    fn says_which_way_to_turn_the_saw() {
        let small = saw_correction(15_f64.to_radians(), 0.05_f64.to_radians());
        assert!(
            small.contains("0.05° too small") && small.contains("reads 15.05°"),
            "{small}"
        );
        let large = saw_correction(15_f64.to_radians(), -0.1_f64.to_radians());
        assert!(
            large.contains("too large") && large.contains("reads 14.9°"),
            "{large}"
        );
        assert!(saw_correction(0.26, 1e-9).contains("true"));
    }
}
