//! Every word that the turner reads, in one place, so that a language can be added
//! here: the plain words in `list`, and the sentences that carry numbers.

pub mod boards;
mod built;
mod caution;
pub mod gathering;
pub mod inlay;
mod list;
pub mod making;
pub mod open_ring;
mod paper;
mod plain;
pub mod shelf;
pub mod stripe;
pub mod through;
mod trouble;
pub mod variation;
pub mod word;

pub(crate) use list::*;
pub use word::{Message, Word};

pub use built::*;
pub use caution::caution;
pub use paper::*;
pub use plain::*;
pub use trouble::trouble;

use crate::design::field::key;
use crate::design::trouble::Trouble;
use crate::design::{Design, HoleBy, StackRing, Vessel};
use crate::plan::bill::WoodUse;
use crate::plan::bill::{Cut, Part, Piece, ring_numbers};
use crate::plan::board::ThinStrips;
use crate::plan::need::Edges;
use crate::plan::rings::{Made, RingInStack};
use crate::plan::season::Moistures;
use crate::trade::moisture::Ready;
use crate::trade::ring::Segment;
use crate::trade::round::SegmentKind;
use crate::trade::strip::LEAST_PLANED_MM;
use crate::units::length::{Unit, at_least, decimal, entry_text, show};
use crate::units::quantity::{counted, degrees, length};

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
    format!("{} {what}", label("woods.*.price"))
}

/// The saw cuts that a block takes.
pub fn block_cuts(count: u32) -> String {
    match count {
        1 => "one piece".to_owned(),
        2 => "one block, 1 saw cut".to_owned(),
        _ => format!("one block, {} saw cuts", count - 1),
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

/// Squares crosscut from a strip.
pub fn squares(count: u32, side: &str) -> String {
    let squares = counted(count as usize, "square", "squares");
    format!("{squares}, {side} × {side}")
}

/// What a strip is planed to once its board has given it.
pub fn planed_on_to(length_mm: f64, unit: Unit) -> String {
    let thick = show(length_mm, unit).whole_line();
    format!("then planed to {thick} while it is long")
}

/// What a slice is dressed to.
pub fn dressed_to(length_mm: f64, unit: Unit) -> String {
    format!("dressed to {}", show(length_mm, unit).whole_line())
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
    // A strip cut to a length rounded down would be too short, and so is one for the planer.
    let last = at_least(last_mm.max(LEAST_PLANED_MM), unit).line();
    match count {
        0 => format!("one of {last}"),
        1 => format!("1, at least {last} long"),
        _ => format!(
            "{count} of {}; the last may be {last}",
            show(length_mm, unit).line()
        ),
    }
}

/// Squares that are glued up, and from what.
pub fn squares_glued(count: u32, of: &Edges, unit: Unit) -> String {
    let squares = squares(count, &show(of.side_mm, unit).whole_line());
    let wide = show(of.width_mm, unit).whole_line();
    match count {
        1 => format!("{squares}, from {} pieces {wide} wide", of.count),
        _ => format!("{squares}, each from {} pieces {wide} wide", of.count),
    }
}

/// What is ripped for some pieces, and how long; strips for slots as the boards give them.
pub fn ripped(cut: &Cut, thin: &[ThinStrips], design: &Design) -> String {
    let unit = design.unit;
    let width = show(cut.width_mm, unit).whole_line();
    match cut.piece {
        Piece::Segment(_, of) => {
            let length_mm = design.shop.strip_length_mm;
            let strips = strips(of.strip_count, length_mm, of.last_strip_mm, unit);
            format!("{width} wide: {strips}")
        }
        Piece::Disc { .. } => {
            if let Some(own) = Edges::of(cut, design) {
                let wide = show(own.width_mm, unit).whole_line();
                let long = at_least(own.side_mm, unit).line();
                let pieces = cut.count * own.count;
                return format!("{wide} wide: {pieces} of {long}, to glue edge to edge");
            }
            let (_, in_all_mm) = cut.ripped(design.shop.kerf_mm);
            let long = at_least(in_all_mm, unit).line();
            let squares = squares(cut.count, &width);
            format!("{width} wide, at least {long} long: {squares}")
        }
        Piece::Striped(segment) => {
            let long = show(segment.outside.long_edge_mm, unit).line();
            format!("{width} wide: {} of {long}", cut.count)
        }
        Piece::SlotStrip { length_mm } if !thin.is_empty() => {
            let length = show(length_mm, unit).whole_line();
            let off = thin.iter().map(|it| {
                let strips = counted(it.count as usize, "strip", "strips");
                format!(
                    "{strips} off board {}, {} of {length} from each",
                    it.board + 1,
                    it.each
                )
            });
            format!("{width} thick: {}", off.collect::<Vec<_>>().join("; "))
        }
        Piece::SlotStrip { length_mm } => {
            let (strips, in_all_mm) = cut.ripped(design.shop.kerf_mm);
            let long = at_least(in_all_mm / f64::from(strips.max(1)), unit).line();
            let length = show(length_mm, unit).whole_line();
            format!(
                "{width} thick: {}, at least {long} long, for {} of {length}",
                counted(strips as usize, "strip", "strips"),
                cut.count
            )
        }
        Piece::Veneer { length_mm } => {
            let length = at_least(length_mm, unit).line();
            format!("{width} wide: {} of {length}", cut.count)
        }
        Piece::ScrapDisc => format!("{width} across: {}", cut.count),
        Piece::Spacer { length_mm, .. }
        | Piece::LayeredStrip { length_mm }
        | Piece::Layer { length_mm, .. } => {
            let length = show(length_mm, unit).line();
            format!("{width} thick: {} of {length}", cut.count)
        }
    }
}

/// What is cut, in a word.
pub fn cut_name(cut: &Cut) -> &'static str {
    let word = match cut.piece {
        Piece::Segment(..) if cut.rings().is_empty() => CHOICE_WEDGES,
        Piece::Segment(..) => CHOICE_SEGMENTS,
        Piece::Disc { slices: 1, .. } => CUTS_DISC,
        Piece::Disc { .. } => CUTS_PLIES,
        Piece::Spacer { .. } => CUTS_SPACERS,
        Piece::SlotStrip { .. } => CUTS_SLOT_STRIPS,
        Piece::LayeredStrip { .. } => CUTS_LAYERED_STRIPS,
        Piece::Layer { .. } => CUTS_LAYERS,
        Piece::Veneer { .. } => CUTS_VENEER,
        Piece::Striped(_) => CUTS_STRIPED,
        Piece::ScrapDisc => CUTS_SCRAP_DISCS,
    };
    word.text
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

/// A ring beside the section: its number, count and stop; of several kinds of segments how
/// many there are of each.
pub fn ring_name(place: usize, ring: &StackRing, planned: &RingInStack, unit: Unit) -> String {
    let says = match &planned.alike[..] {
        _ if ring.is_glued() => "glued".to_owned(),
        _ if planned.made == Made::Plies => "plies".to_owned(),
        [] => "disc".to_owned(),
        [only] => {
            let long = show(only.segment.outside.long_edge_mm, unit).text;
            format!("{} × {long}", only.kind.count)
        }
        kinds => {
            let counts = kinds.iter().map(|it| it.kind.count.to_string());
            counts.collect::<Vec<_>>().join(" + ")
        }
    };
    format!("{}: {says}", place + 1)
}

/// A ring as a screen reader calls it.
pub fn thing_ring(place: usize, ring: &StackRing, is_sawn: bool) -> String {
    let number = (place + 1).to_string();
    if ring.is_glued() {
        filled(THING_GLUED, &[&number])
    } else if is_sawn {
        filled(THING_SEGMENTS, &[&number, &ring.segment_count.to_string()])
    } else {
        filled(THING_DISC, &[&number])
    }
}

/// A caution's reason with the ring that it is about.
pub fn about_ring(place: usize, reason: &str) -> String {
    format!("Ring {}: {reason}", place + 1)
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
pub fn step_ring_count(before: &Vessel, after: &Vessel) -> String {
    let rings = if after.rings.len() == 1 {
        "ring"
    } else {
        "rings"
    };
    let said = format!("{} to {} {rings}", before.rings.len(), after.rings.len());
    match (before.common_segment_count(), after.common_segment_count()) {
        (Some(one), Some(other)) if one != other => format!("{said}, {}", segments_each(other)),
        _ => said,
    }
}

/// How many segments each ring has.
pub fn segments_each(count: u32) -> String {
    format!("{count} segments each")
}

/// Rings that were painted, and rings that were turned: their joints stand elsewhere now.
pub fn step_woods_and_turns(painted: usize, turned: usize) -> String {
    let rings = |count: usize| counted(count, "ring", "rings");
    match (painted, turned) {
        (0, _) => format!("{} turned", rings(turned)),
        (_, 0) => format!("woods of {}", rings(painted)),
        _ => format!("woods of {}, {} turned", rings(painted), rings(turned)),
    }
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

/// The message for a trouble in a list of rings or boards: it names the ring or the line.
pub fn trouble_in_list(found: &Trouble, unit: Unit) -> Message {
    let message = trouble(found, unit);
    let place = found.field.split('.').nth(2);
    let place: Option<usize> = place.and_then(|it| it.parse().ok());
    let is_board = found.field.starts_with(key::BOARDS);
    match place {
        Some(place) => Message {
            reason: if is_board {
                format!("Line {}: {}", place + 1, message.reason)
            } else {
                about_ring(place, &message.reason)
            },
            ..message
        },
        None => message,
    }
}

/// What the fold of a ring's choices holds now.
pub fn choices_now(
    wood: &str,
    [outside_mm, inside_mm]: [f64; 2],
    kerf_mm: f64,
    unit: Unit,
) -> String {
    // As they were typed: a blade's 3/32 in is no 16th.
    let line = |length_mm: f64| format!("{} {}", entry_text(length_mm, unit), unit.mark());
    let kept = format!("{} outside, {} inside", line(outside_mm), line(inside_mm));
    let all = [wood.to_owned(), kept, format!("kerf {}", line(kerf_mm))];
    let said: Vec<String> = all.into_iter().filter(|it| !it.is_empty()).collect();
    said.join("; ")
}

/// What the fold of a vessel's size holds now.
pub fn size_now([across_mm, height_mm]: [f64; 2], unit: Unit) -> String {
    let line = |length_mm: f64| show(length_mm, unit).line();
    format!("{} across, {} high", line(across_mm), line(height_mm))
}

/// What the fold of stock and limits holds now.
pub fn stock_now(stock_mm: &[f64], [outside_mm, inside_mm]: [f64; 2], unit: Unit) -> String {
    let line = |length_mm: &f64| show(*length_mm, unit).line();
    let boards: Vec<String> = stock_mm.iter().map(line).collect();
    let kept = format!("{} outside, {} inside", line(&outside_mm), line(&inside_mm));
    let all = [boards.join(" and "), kept];
    let said: Vec<String> = all.into_iter().filter(|it| !it.is_empty()).collect();
    said.join("; ")
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

/// A figure's label with the kind of segment that it is of, where there are several.
pub fn of_kind(label: &str, kinds: &[SegmentKind], place: usize) -> String {
    let name = match (kinds.len(), place) {
        (0 | 1, _) => return label.to_owned(),
        (2, 0) => KIND_WIDE.text.to_owned(),
        (2, _) => KIND_NARROW.text.to_owned(),
        _ => filled(KIND_SHARE, &[&kinds[place].share.to_string()]),
    };
    format!("{label}, {name}")
}

/// Segments of one wood in a ring, and their strips.
pub fn strips_of(segment_count: u32, wood: &str) -> String {
    format!("{segment_count} of {wood}")
}

/// How many spacers, and how thick.
pub fn spacers(count: u32, thickness_mm: f64, unit: Unit) -> String {
    let thickness = show(thickness_mm, unit).line();
    format!("{count} pieces, {thickness} thick")
}

/// The head of the table of rings as comma-separated values.
pub fn csv_head(unit: Unit) -> String {
    let mark = unit.mark();
    format!(
        "ring,height ({mark}),made of,segments,outside diameter ({mark}),inside diameter ({mark}),saw (degrees),\
         long edge ({mark}),short edge ({mark}),strip width ({mark}),strip height ({mark}),\
         strip length ({mark}),woods\r\n"
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

/// What stop and strip width include: the finished diameter, and what is turned away outside
/// and inside.
pub fn saw_includes(
    finished_mm: f64,
    hole_mm: Option<f64>,
    [outside_mm, inside_mm]: [f64; 2],
    has_vessel: bool,
    unit: Unit,
) -> String {
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
    let alone = if has_vessel {
        "A ring by itself, none of the vessel’s: for"
    } else {
        "For"
    };
    let hole = hole_mm.map_or_else(String::new, |hole_mm| format!(", hole {}", line(hole_mm)));
    format!("{alone} {} finished{hole}, {kept}", line(finished_mm))
}

/// What takes out the wood to turn away, or keeps so much of it on each side.
pub fn allowance_switch(kept_mm: f64, unit: Unit) -> String {
    if kept_mm > 0.0 {
        format!("Keep {} a side", show(kept_mm, unit).line())
    } else {
        "Leave no allowance".to_owned()
    }
}

/// What leads to the width of the strip at hand; the wall follows it until another is typed.
pub fn strip_at_hand(design: &Design) -> String {
    match design.ring.hole_by {
        HoleBy::StripWidth => format!(
            "By your strip of {}",
            length(design.ring.strip_width_mm, design.unit)
        ),
        HoleBy::Wall | HoleBy::InsideDiameter => STRIP_AT_HAND.text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::field::{FIELDS, key};
    use crate::design::trouble::{Reason, Trouble};
    use crate::trade::ring::RingError;
    use crate::units::quantity::duration;

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
