//! Why something cannot be computed, and what to do about it.

use super::plain::label;
use super::word::Message;
use crate::design::field::{self, Kind, MOST_SHARE};
use crate::design::trouble::{Reason, Trouble};
use crate::trade::closing::ClosingError;
use crate::trade::out_of_true::Contradiction;
use crate::trade::ring::RingError;
use crate::trade::stave::StavesPastCenter;
use crate::trade::strip::StripTooShort;
use crate::units::length::{Unit, at_least, at_most, decimal};
use crate::units::quantity::{fine_at_least, fine_at_most, fine_length, length};
use crate::units::reading::NotALength;

/// The message for a trouble.
pub fn trouble(trouble: &Trouble, unit: Unit) -> Message {
    let (reason, remedy) = reason_and_remedy(trouble, unit);
    Message {
        field: trouble.field.clone().into_owned(),
        reason,
        remedy,
    }
}

// One arm a sentence: the list is long because the trade's mishaps are many.
#[allow(clippy::too_many_lines)]
fn reason_and_remedy(trouble: &Trouble, unit: Unit) -> (String, String) {
    let name = label(&trouble.field);
    let mm = |length_mm: f64| length(length_mm, unit);
    // What is told as a limit can be entered.
    let down = |length_mm: f64| at_most(length_mm, unit).line();
    let up = |length_mm: f64| at_least(length_mm, unit).line();
    let text = |reason: String, remedy: &str| (reason, remedy.to_owned());
    match &trouble.reason {
        Reason::NotALength(why) => not_a_length(name, why, how_to_write(&trouble.field, unit)),
        Reason::NotWhole(value) => (
            format!("{name}: {} is not a whole number.", decimal(*value, 3)),
            how_to_write(&trouble.field, unit),
        ),
        Reason::ListOf { count: 0, .. } => (
            format!("{name} is empty."),
            how_to_write(&trouble.field, unit),
        ),
        Reason::ListOf { count, most } => text(
            format!("{name}: {count} are more than it takes."),
            &format!("Enter at most {most}."),
        ),
        Reason::OutOfRange { value, least, most } => {
            let is_length = trouble.field.ends_with("_mm");
            let told = |value: f64, as_length: &dyn Fn(f64) -> String| {
                if is_length {
                    as_length(value)
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
                    format!("more than 0, up to {}", told(*most, &down))
                } else {
                    format!("0 to {}", told(*most, &down))
                }
            } else {
                format!("{} to {}", told(*least, &up), told(*most, &down))
            };
            let value = if value.abs() > 1e9 {
                "that".to_owned()
            } else {
                told(*value, &mm)
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
            format!("Enter a wall of at most {}.", down(*radius_mm)),
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
                down(*radius_mm)
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
                down(*most_mm)
            ),
        ),
        Reason::Ring(RingError::GapTooWide { gap_rad, pitch_rad }) => {
            let [gap, pitch] = [*gap_rad, *pitch_rad].map(crate::units::quantity::degrees);
            (
                format!("A gap of {gap} leaves nothing of a segment: from one to the next it is {pitch}."),
                "Make the gap narrower, or take fewer segments.".to_owned(),
            )
        }
        Reason::Ring(RingError::TooWide { angle_rad }) => (
            format!(
                "The widest segment spans {}: a third of the round is the most.",
                crate::units::quantity::degrees(*angle_rad)
            ),
            "Take more segments, or shares that differ less.".to_owned(),
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
                up(*needed_mm)
            ),
        ),
        Reason::Stripe(error) => super::stripe::trouble(error, unit),
        Reason::Closing(ClosingError::GapTooWide { most_mm }) => (
            "That gap is wider than any error of the saw could make it.".to_owned(),
            format!(
                "Measure again, at most {}; a piece may be missing or turned round.",
                down(*most_mm)
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
                down(*most_mm)
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
            format!("Make it smaller than {}, or glue it under.", down(*ring_mm)),
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
                fine_at_least(*least_mm, unit).line()
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
        Reason::TooManyWoods(most) => (
            format!("with it the vessel has more than {most} woods."),
            "Take a wood out of the vessel’s list that no segment is of any more.".to_owned(),
        ),
        Reason::NumbersOfBoard(count) => text(
            match count {
                0 => "no sizes.".to_owned(),
                1 => "only one size.".to_owned(),
                _ => format!("{count} numbers."),
            },
            "Write its width, its length and its thickness, before them how many there are, and each board on a line of its own.",
        ),
        Reason::NoWoodOfBoard => text(
            "its wood is missing.".to_owned(),
            "Write the wood behind the sizes: 6 x 48 x 1 ash.",
        ),
        Reason::NotASpot => text(
            "the spot to avoid cannot be made out.".to_owned(),
            "Write from where to where it goes, from the left end: avoid 10 to 14; where it does not go right across, down from the upper edge too: avoid 10 to 14 x 0 to 1 1/2.",
        ),
        Reason::TooManyBoards(most) => (
            "These are more kinds of boards than the list takes.".to_owned(),
            format!("Enter at most {most}; boards of one size and wood count as one kind."),
        ),
        Reason::NoSuchWood(wood) => text(
            format!("{name}: “{wood}” is not in the table of woods."),
            "Take one of the list, or enter the figures themselves.",
        ),
        Reason::NoSuchRing { ring, count } => (
            format!("There is no ring {ring}: the vessel has {count}."),
            format!("Enter 1 to {count}, from the foot up."),
        ),
        Reason::SharesOfStriped => text(
            "Segments from a striped board are all alike: each is sawn at the same stop, and the stripes of a wide one would not meet those of a narrow one. The widths are not used."
                .to_owned(),
            "Make all segments alike, or take plain segments again.",
        ),
        Reason::NoWallInStack => text(
            "These rings lie above the rim: no finished wall is in them.".to_owned(),
            "Choose rings below the rim.",
        ),
        Reason::NotMeasured => text(
            format!("{name}: not measured yet, and nothing is planned for this ring."),
            "Measure it and enter it.",
        ),
        Reason::OutOfTrue(Contradiction::NarrowestWider) => text(
            "The narrowest is wider than the widest.".to_owned(),
            "Measure both again, or leave one empty.",
        ),
        Reason::OutOfTrue(Contradiction::RunsOutTooLittle { least_mm }) => (
            format!(
                "By widest and narrowest it runs out {} at least, even in the middle.",
                fine_at_most(*least_mm, unit).line()
            ),
            "Read it all the way round, corners and all, or leave widest empty.".to_owned(),
        ),
        Reason::OutOfTrue(Contradiction::OtherWidthMissing) => text(
            "The widest alone does not tell how much is left.".to_owned(),
            "Enter the narrowest, too, or how far it runs out.",
        ),
        Reason::NoWallOnceTrue {
            outside_mm,
            inside_mm,
        } => (
            format!(
                "No wall is left: once true it would be {} outside, with a hole of {}.",
                mm(outside_mm.max(0.0)),
                mm(*inside_mm)
            ),
            "Measure again. If it is so, make this ring anew.".to_owned(),
        ),
        Reason::FacePastRing { height_mm } => (
            format!("That is as much as the ring is high, {}.", mm(*height_mm)),
            "Measure again. If it is so, make this ring anew.".to_owned(),
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

/// How what a field takes is written.
fn how_to_write(key: &str, unit: Unit) -> String {
    match field::find(key).map(|found| found.kind) {
        Some(Kind::Count { least, most }) => {
            format!("Enter a whole number from {least} to {most}.")
        }
        Some(Kind::Counts { least, most, .. }) => {
            format!("Write whole numbers from {least} to {most}, with spaces between, like 24 48.")
        }
        Some(Kind::Shares) => format!(
            "Write whole numbers from 1 to {}, with spaces between, like 2 1.",
            decimal(MOST_SHARE, 0)
        ),
        Some(Kind::Lengths { .. }) if unit.is_inch() => {
            "Write each like 3/4 or 19 mm, with a semicolon between two.".to_owned()
        }
        Some(Kind::Lengths { .. }) => {
            "Write each like 19 or 3/4 in, with a semicolon between two.".to_owned()
        }
        _ if !key.ends_with("_mm") => "Write it like 12 or 7.5.".to_owned(),
        _ if unit.is_inch() => "Write it like 10 1/2 or 266 mm.".to_owned(),
        _ => "Write it like 266 or 10 1/2 in.".to_owned(),
    }
}

fn not_a_length(name: &str, why: &NotALength, write: String) -> (String, String) {
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
        NotALength::WholeOrFraction(text, may_be) => {
            let (last, others) = may_be
                .split_last()
                .map_or(("", &[][..]), |(last, others)| (last.as_str(), others));
            (
                format!("{name}: “{text}” could be {} or {last}.", others.join(", ")),
                "Put a space between whole and fraction.".to_owned(),
            )
        }
        NotALength::TooLong => (format!("{name}: that is too long."), write),
    }
}
