//! What is said about boards and how to cut them.

use super::word::Message;
use crate::design::{Board, BoardGoal, Design, Rack, ThicknessIs};
use crate::plan::bill::Part;
use crate::plan::board::{
    Answer, Bands, Estimate, First, Layout, Need, Ripped, Strip, Unfit, Veneer,
};
use crate::plan::left::Left;
use crate::plan::length::Length;
use crate::plan::woods;
use crate::trade::closing::HAIR_MM;
use crate::units::length::{Unit, at_least, at_most, decimal, entry_text, no_less, show};
use crate::units::quantity;
use crate::units::quantity::{counted, length};

/// `3`, `3 and 5`, `3, 5 and 6`.
fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

/// Numbers of the rings among the parts, from the foot up.
fn ring_numbers(parts: &[(Part, u32)]) -> Vec<String> {
    let rings = parts.iter().filter_map(|(part, _)| match part {
        Part::Ring(place) => Some((place + 1).to_string()),
        Part::Base | Part::Slots(_) => None,
    });
    rings.collect()
}

/// What strips are for: rings by their numbers (the only one has none), and the base.
pub fn part_names(parts: &[(Part, u32)], is_stack: bool) -> String {
    let numbers = ring_numbers(parts);
    let rings = match numbers.as_slice() {
        [] if parts.iter().all(|(part, _)| matches!(part, Part::Slots(_))) => {
            return "Strips for slots".to_owned();
        }
        [] => return "The base".to_owned(),
        _ if !is_stack => "The ring".to_owned(),
        [one] => format!("Ring {one}"),
        _ => format!("Rings {}", listed(&numbers)),
    };
    if parts.iter().any(|(part, _)| *part == Part::Base) {
        format!("{rings} and the base")
    } else {
        rings
    }
}

/// The rings of a strip, in as little room as can be.
pub fn strip_mark(strip: &Strip, is_stack: bool) -> String {
    let mut names = ring_numbers(&strip.parts);
    if strip.parts.iter().any(|(part, _)| *part == Part::Base) {
        names.push("base".to_owned());
    }
    if strip
        .parts
        .iter()
        .any(|(part, _)| matches!(part, Part::Slots(_)))
    {
        names.push("slots".to_owned());
    }
    match names.as_slice() {
        [one] if one == "base" || one == "slots" => one.clone(),
        _ if !is_stack => String::new(),
        [one] => format!("ring {one}"),
        _ => names.join(", "),
    }
}

/// Where the row of a board that is drawn in several goes on.
pub fn goes_on(from_mm: f64, unit: Unit) -> String {
    format!("the same board, from {} on", length(from_mm, unit))
}

/// Why strips cannot be cut, and what to do.
pub fn unfit(why: &Unfit, names: &str, unit: Unit) -> (String, String) {
    let mm = |length_mm: f64| length(length_mm, unit);
    match why {
        Unfit::NoWood { wood } if wood.is_empty() => (
            format!("{names}: no wood is chosen for it."),
            "Choose its wood, or enter boards without one.".to_owned(),
        ),
        Unfit::NoWood { wood } => (
            format!("{names}: there is no board of {wood}."),
            format!("Enter one of {wood}, or choose another wood."),
        ),
        Unfit::Thickness {
            needed_mm,
            nearest_mm,
        } => (
            format!(
                "{names}: it needs {} of thickness; the nearest board leaves {}.",
                mm(*needed_mm),
                mm(*nearest_mm)
            ),
            if nearest_mm < needed_mm {
                "Enter a thicker board, or make it lower.".to_owned()
            } else {
                "Enter a thinner board, resaw one, or let more be planed away.".to_owned()
            },
        ),
        Unfit::TooWide {
            width_mm,
            widest_mm,
        } => (
            format!(
                "{names}: the strip is {} wide; the widest board is {}.",
                mm(*width_mm),
                mm(*widest_mm)
            ),
            "Enter a wider board, let discs be edge-glued, or take more segments or lower rings."
                .to_owned(),
        ),
        Unfit::TooLong {
            needed_mm,
            longest_mm,
        } => (
            format!(
                "{names}: one piece and what it is held by take {}; the longest clear length is {}.",
                mm(*needed_mm),
                mm(*longest_mm)
            ),
            "Enter a longer board, or cut with a jig that holds a shorter end.".to_owned(),
        ),
        Unfit::NotInOne => (
            format!("{names}: no single board holds all its pieces."),
            "Enter a larger board, or let them come from several.".to_owned(),
        ),
    }
}

/// Which boards to take, and which stay: `Take boards 2 and 7, and 3 of board 4. Boards 1
/// and 3 are not needed.`
pub fn take(answer: &Answer, rack: Option<&Rack>) -> String {
    let counted = |is_extra: bool| {
        let mut numbers: Vec<(usize, u32)> = Vec::new();
        for layout in answer.layouts.iter().filter(|it| it.is_extra == is_extra) {
            match numbers.iter_mut().find(|(board, _)| *board == layout.board) {
                Some((_, times)) => *times += layout.times,
                None => numbers.push((layout.board, layout.times)),
            }
        }
        let is_one_each = numbers.len() > 1 && numbers.iter().all(|(_, times)| *times == 1);
        let names = numbers.iter().map(|(board, times)| match times {
            _ if is_one_each => (board + 1).to_string(),
            1 => format!("board {}", board + 1),
            _ => format!("{times} of board {}", board + 1),
        });
        let names = listed(&names.collect::<Vec<_>>());
        if is_one_each {
            format!("boards {names}")
        } else {
            names
        }
    };
    let (at_hand, extra) = (counted(false), counted(true));
    let missing = if answer.failures.is_empty() {
        ""
    } else {
        "Not enough for all of it: what these boards do not give is told below."
    };
    let mut says = if at_hand.is_empty() {
        missing.to_owned()
    } else {
        format!("{missing} Take {at_hand}.").trim_start().to_owned()
    };
    if !extra.is_empty() {
        says.push_str(if says.is_empty() { "" } else { " " });
        says.push_str("That is not enough: buy as many more as ");
        says.push_str(&extra);
        says.push('.');
    }
    let is_idle = |place: &usize| answer.layouts.iter().all(|it| it.board != *place);
    let boards = 0..rack.map_or(0, |rack| rack.boards.len());
    let idle: Vec<String> = boards
        .filter(is_idle)
        .map(|it| (it + 1).to_string())
        .collect();
    match idle.as_slice() {
        [one] if !says.is_empty() => format!("{says} Board {one} of yours stays whole."),
        [_, _, ..] if !says.is_empty() => {
            format!("{says} Boards {} of yours stay whole.", listed(&idle))
        }
        _ => says,
    }
}

/// The boards of a list as they were read.
pub fn boards_taken(before: &Design, after: &Design) -> Message {
    let boards = |design: &Design| design.rack.as_ref().map_or(0, |it| it.boards.len());
    let old = boards(before);
    let rack = after.rack.iter().flat_map(|it| &it.boards);
    let new: Vec<&Board> = rack.skip(old).collect();
    let line = |(place, board): (usize, &&Board)| board_line(old + place, board, after.unit);
    let read: Vec<String> = new.iter().enumerate().map(line).collect();
    let mut strange: Vec<String> = Vec::new();
    for board in new {
        let name = format!("“{}”", board.wood.trim());
        if woods::named(after, &board.wood).is_none() && !strange.contains(&name) {
            strange.push(name);
        }
    }
    Message {
        field: String::new(),
        reason: if read.is_empty() {
            String::new()
        } else {
            format!("Read, thickness × width × length: {}.", read.join("; "))
        },
        remedy: if strange.is_empty() {
            String::new()
        } else {
            format!(
                "{} is not one wood of the table: write more of its name where its weight and movement are wanted.",
                listed(&strange)
            )
        },
    }
}

/// The largest piece that is left of a board.
pub fn left(left: Left, unit: Unit) -> String {
    format!("left over, the largest piece: {}", left_size(left, unit))
}

/// Its width and length, never told as more.
pub fn left_size(left: Left, unit: Unit) -> String {
    let [width, length] = [left.width_mm, left.length_mm].map(|it| at_most(it, unit));
    format!("{} × {}", width.text, length.line())
}

/// How near to the best the answer is.
pub fn bound(answer: &Answer, goal: BoardGoal, unit: Unit) -> String {
    let Some(least) = answer.least else {
        return if answer.extra_count > 0 || answer.is_done {
            String::new()
        } else {
            "Looking for a better way.".to_owned()
        };
    };
    let (is_least, least) = match goal {
        BoardGoal::Fewest => (f64::from(answer.board_count) <= least, decimal(least, 0)),
        BoardGoal::Cheapest => (answer.is_best, format!("{least:.2}")),
        BoardGoal::LeastWood => (answer.is_best, volume(least, unit)),
    };
    let across = "sawn across once at most before it is ripped";
    let along = match answer.bands {
        Bands::Nowhere => "",
        Bands::Anywhere => "or ripped first into two bands beside what is to be avoided",
        Bands::Some => "or ripped first into two bands at some places beside what is to be avoided",
    };
    let rule = match (answer.is_across, answer.bands) {
        (true, Bands::Nowhere) => format!("where each board is {across}, each strip is ripped"),
        (true, _) => format!("where each board is {across}, {along}, each strip is ripped"),
        (false, Bands::Nowhere) => {
            "where each strip is ripped the whole length of its board,".to_owned()
        }
        (false, _) => format!("where each strip is ripped the whole length of its board, {along},"),
    };
    let rule = format!("{rule} to one width, and planed down by no more than you set");
    match (is_least, goal) {
        (true, BoardGoal::Fewest) => format!("{least} is the least possible {rule}."),
        (true, BoardGoal::Cheapest) => format!("It cannot be had for less {rule}."),
        (true, BoardGoal::LeastWood) => format!("It cannot be cut from less wood {rule}."),
        (false, _) if answer.is_done => {
            format!("No way needs less than {least}; nothing better than this was found.")
        }
        (false, _) => format!("No way needs less than {least}. Looking for a better one."),
    }
}

/// A volume of wood as it is sold.
pub fn volume(volume_mm3: f64, unit: Unit) -> String {
    if unit.is_inch() {
        format!("{} board ft", decimal(quantity::board_feet(volume_mm3), 1))
    } else {
        format!("{} m³", decimal(volume_mm3 * 1e-9, 4))
    }
}

/// A rough thickness in quarters of an inch.
pub fn quarters(quarters: u32) -> String {
    format!("{quarters}/4")
}

/// A board in a line: `2: Ash, white, 4/4 × 6 × 96 in, 3 of them`.
pub fn board_line(place: usize, board: &Board, unit: Unit) -> String {
    format!("{}: {}", place + 1, board_alone(board, unit))
}

/// The same without its number in the list.
pub fn board_alone(board: &Board, unit: Unit) -> String {
    let quarters = board.thickness_mm / crate::units::length::MM_PER_INCH * 4.0;
    let is_whole = (quarters - quarters.round()).abs() < 1e-6 && quarters > 3.5;
    let thickness = if board.thickness_is == ThicknessIs::Rough && is_whole {
        self::quarters(quarters.round() as u32)
    } else {
        show(board.thickness_mm, unit).text
    };
    let planed = match board.thickness_is {
        ThicknessIs::Planed => " planed",
        ThicknessIs::Rough => "",
    };
    let several = if board.number == 1 {
        String::new()
    } else {
        format!(", {} of them", board.number)
    };
    let wood = board.wood.trim();
    let wood = if wood.is_empty() {
        "no wood chosen"
    } else {
        wood
    };
    format!(
        "{wood}, {thickness}{planed} × {} × {}{several}",
        show(board.width_mm, unit).text,
        show(board.length_mm, unit).line()
    )
}

/// A board as a line of a list that can be read again: `3 x 6 x 96 x 1 Ash, white rough avoid 10 to
/// 14 x 0 to 1.5 and 40 to 44`.
pub fn board_typed(board: &Board, unit: Unit) -> String {
    let mm = |length_mm: f64| entry_text(length_mm, unit);
    let [width, length, thickness] = [board.width_mm, board.length_mm, board.thickness_mm].map(mm);
    let is = board.thickness_is.word();
    let spots = board.avoid.iter().map(|it| {
        let along = format!("{} to {}", mm(it.from_mm), mm(it.to_mm));
        if it.is_length() {
            return along;
        }
        let from_mm = it.across_from_mm.unwrap_or(0.0);
        let to_mm = it.across_to_mm.unwrap_or(board.width_mm);
        format!("{along} x {} to {}", mm(from_mm), mm(to_mm))
    });
    let spots: Vec<String> = spots.collect();
    let avoid = if spots.is_empty() {
        String::new()
    } else {
        format!(" avoid {}", spots.join(" and "))
    };
    format!(
        "{} x {width} x {length} x {thickness} {} {is}{avoid}",
        board.number,
        board.wood.trim()
    )
}

/// What is left of its thickness, and how many are taken.
pub fn board_note(board: &Board, taken: u32, unit: Unit) -> String {
    let left = match board.thickness_is {
        ThicknessIs::Rough => format!("leaves {} when surfaced", length(board.usable_mm(), unit)),
        ThicknessIs::Planed => String::new(),
    };
    let taken = match (taken, board.number) {
        (0, _) => String::new(),
        (1, 0 | 1) => "taken".to_owned(),
        (taken, _) => format!("{taken} taken"),
    };
    let parts: Vec<String> = [taken, left]
        .into_iter()
        .filter(|it| !it.is_empty())
        .collect();
    parts.join(", ")
}

/// Over a layout: `Board 2` or `3 of board 2, to be bought`.
pub fn layout_title(layout: &Layout) -> String {
    let number = layout.board + 1;
    let which = match layout.times {
        1 => format!("Board {number}"),
        times => format!("{times} of board {number}, cut alike"),
    };
    if layout.is_extra {
        format!("{which}, to be bought")
    } else {
        which
    }
}

/// Which of those taken of a board a layout is for: `, 1 of 2`; nothing where it is the only one.
pub fn which(answer: &Answer, place: usize) -> String {
    let Some(layout) = answer.layouts.get(place) else {
        return String::new();
    };
    let count = |layouts: &[Layout]| -> u32 {
        let alike = layouts.iter().filter(|it| it.board == layout.board);
        alike.map(|it| it.times).sum()
    };
    let (first, of) = (count(&answer.layouts[..place]) + 1, count(&answer.layouts));
    match layout.times {
        _ if of < 2 => String::new(),
        1 => format!(", {first} of {of}"),
        times => format!(", {first} to {} of {of}, cut alike", first + times - 1),
    }
}

/// A strip at the saw: its width, whose it is, how it is cut across.
pub fn strip_line(strip: &Strip, need: &Need, is_stack: bool, unit: Unit) -> String {
    let mm = |length_mm: f64| show(length_mm, unit).whole_line();
    let (width, height) = (mm(need.width_mm), mm(need.height_mm));
    let count: u32 = strip.runs.iter().map(|run| run.count).sum();
    let is_base = strip.parts.iter().any(|(part, _)| *part == Part::Base);
    let names = if is_stack || is_base {
        format!("{}: ", part_names(&strip.parts, is_stack).to_lowercase())
    } else {
        String::new()
    };
    if need.is_disc() {
        let squares = match count {
            1 => "a square for a disc".to_owned(),
            _ => format!("{count} squares for discs"),
        };
        let sliced = match need.plies {
            0..=1 => String::new(),
            plies => format!(", later sliced into {plies} plies"),
        };
        return format!("{width} wide, {height} thick, {names}{squares}{sliced}");
    }
    if let Some(edges) = need.edges {
        let pieces = counted(count as usize, "piece", "pieces");
        return format!(
            "{width} wide, {height} thick, {names}{pieces} {} long, glued edge to edge, {} to a square",
            mm(edges.side_mm),
            edges.count
        );
    }
    if need.is_strip() {
        let is_layer = need.is_layer;
        let names = if is_layer { names.as_str() } else { "" };
        let strips = match (need.slices, is_layer) {
            (0..=1, true) => super::stripe::strips(count),
            (0..=1, false) => super::slot_strips(count),
            (slices, true) => {
                let blanks = counted(count as usize, "length", "lengths");
                format!("{blanks} for layers, each sliced on edge into {slices} strips")
            }
            // Ripped while it is long, crosscut after.
            (slices, false) => {
                let thick = counted(slices as usize, "thin strip", "thin strips");
                let long = mm(need.long_edge_mm);
                format!(
                    "a stick for slots, sliced lengthwise into {thick}, each then crosscut into {count} of {long}"
                )
            }
        };
        let strips = format!("{names}{strips}");
        return format!("{width} wide, {height} thick: {strips}");
    }
    let each = strip.parts.iter().map(|(part, count)| match part {
        Part::Ring(place) => format!("{count} for ring {}", place + 1),
        Part::Base => format!("{count} for the base"),
        Part::Slots(_) => format!("{count} for slots"),
    });
    let shares = if strip.parts.len() > 1 {
        format!(" ({})", listed(&each.collect::<Vec<_>>()))
    } else {
        String::new()
    };
    format!(
        "{width} wide, {height} thick, {names}{}{shares}, saw {}, stop {}",
        counted(count as usize, "piece", "pieces"),
        super::degrees(need.half_angle_rad),
        mm(need.long_edge_mm)
    )
}

/// Boards whose price is missing.
pub fn unpriced(count: u32) -> String {
    match count {
        1 => "One board has no price and is counted as paid for.".to_owned(),
        _ => format!("{count} boards have no price and are counted as paid for."),
    }
}

/// What to look for: a wood and its rough thickness.
pub fn estimate_label(estimate: &Estimate, unit: Unit) -> String {
    let wood = if estimate.wood.is_empty() {
        "Wood"
    } else {
        &estimate.wood
    };
    format!("{wood}, {}", thickness(estimate, unit))
}

/// What of the wood to buy is in the strips, and what the rest is.
pub fn estimate_sum(strips: &str, waste_percent: u32) -> String {
    format!(
        "{strips} in the strips; saw cuts, rough thickness and {waste_percent}\u{a0}% waste with it"
    )
}

/// How thick veneer is.
pub fn thick(thickness_mm: f64, unit: Unit) -> String {
    format!("{} thick", quantity::fine_length(thickness_mm, unit))
}

/// Veneer to buy: a wood and its thickness.
pub fn veneer_label(veneer: &Veneer, unit: Unit) -> String {
    let wood = if veneer.wood.is_empty() {
        "Wood"
    } else {
        &veneer.wood
    };
    let thick = quantity::fine_length(veneer.thickness_mm, unit);
    format!("{wood}, veneer {thick} thick")
}

fn thickness(estimate: &Estimate, unit: Unit) -> String {
    match estimate.quarters {
        Some(thickness) => format!("{} rough", quarters(thickness)),
        None => format!("{} thick", length(estimate.height_mm, unit)),
    }
}

/// How thick boards of one wood are to be bought.
pub fn thicknesses(all: &[&Estimate], unit: Unit) -> String {
    let each: Vec<String> = all.iter().map(|it| thickness(it, unit)).collect();
    each.join(", ")
}

/// A layout's drawing in one sentence.
pub fn layout_described(layout: &Layout, unit: Unit) -> String {
    let title = layout_title(layout);
    let title = match layout.first() {
        First::Across(left_mm) => format!("{title}: {}, then", sawn_off(left_mm, unit)),
        First::Along => {
            let band = layout.lengths.first();
            let first = band.map_or_else(String::new, |it| ripped_off(&it.length, unit));
            format!("{title}: {first}, then")
        }
        First::Nothing => format!("{title}:"),
    };
    match layout.strips().count() {
        1 => format!("{title} 1 strip, with the cuts across it."),
        count => format!("{title} {count} strips side by side, with the cuts across them."),
    }
}

/// Where a board is sawn across before all else.
pub fn sawn_off(left_mm: f64, unit: Unit) -> String {
    format!("first saw off {}", no_less(left_mm, unit).line())
}

/// From where the spots of a board count: what is written at it.
pub const UPPER_EDGE: &str = "upper edge";

/// From where they count along it.
pub const LEFT_END: &str = "left end";

/// What is strange about the spots to avoid of a board of a list, each at its field.
pub fn strange_spots(place: usize, board: &Board, unit: Unit) -> Vec<Message> {
    const NONE: &str = "It begins where it ends, so nothing is avoided.";
    let mut all = Vec::new();
    for (spot, it) in board.avoid.iter().enumerate() {
        let mut say = |name: &str, reason: String, remedy: &str| {
            all.push(Message {
                field: format!("rack.boards.{place}.avoid.{spot}.{name}"),
                reason,
                remedy: remedy.to_owned(),
            });
        };
        let long = format!("The board is {} long.", length(board.length_mm, unit));
        let wide = format!("The board is {} wide.", length(board.width_mm, unit));
        if (it.from_mm - it.to_mm).abs() < HAIR_MM {
            say(
                "to_mm",
                NONE.to_owned(),
                "Enter where it ends, from the left end.",
            );
        }
        for (name, mm) in [("from_mm", it.from_mm), ("to_mm", it.to_mm)] {
            if mm > board.length_mm + HAIR_MM {
                say(
                    name,
                    long.clone(),
                    "Count from the left end, as the board is drawn.",
                );
            }
        }
        let across = [
            ("across_from_mm", it.across_from_mm),
            ("across_to_mm", it.across_to_mm),
        ];
        for (name, mm) in across {
            if mm.is_some_and(|mm| mm > board.width_mm + HAIR_MM) {
                let remedy = "Count down from the upper edge, as the board is drawn, or leave it empty for the board’s own edge.";
                say(name, wide.clone(), remedy);
            }
        }
        let (near, far) = it.across_mm(board.width_mm);
        let is_asked = !it.is_length() && near < board.width_mm + HAIR_MM;
        if is_asked && far - near < HAIR_MM {
            let name = if it.across_to_mm.is_some() {
                "across_to_mm"
            } else {
                "across_from_mm"
            };
            say(
                name,
                NONE.to_owned(),
                "Enter where it ends, down from the upper edge, or leave it empty for the board’s own edge.",
            );
        }
    }
    all
}

/// Where a board is ripped before all else, by its first band: either that, or what lies before it.
pub fn ripped_off(band: &Length, unit: Unit) -> String {
    let wide_mm = if band.near_mm > 0.0 {
        band.near_mm
    } else {
        band.far_mm
    };
    format!(
        "first rip {} off along the upper edge",
        show(wide_mm, unit).line()
    )
}

/// What is done with a length of a board that was sawn across, before its strips are told.
pub fn length_line(place: usize, of: &Length, is_short: bool, unit: Unit) -> String {
    let which = if place == 0 {
        let long = at_least(of.mm(), unit).whole_line();
        format!("First saw {long} off the left end")
    } else {
        format!("The rest, {}", at_most(of.mm(), unit).line())
    };
    if is_short {
        // Common practice, no published source.
        format!(
            "{which}. So short a piece is neither ripped at the fence nor fed through the planer: plane the board before, and saw the squares, or the discs, out of it on the band saw, as its manual says:"
        )
    } else {
        format!("{which}, and rip it:")
    }
}

/// What is done with a band of a board, before its strips are told; all of them are handed over.
pub fn band_line(place: usize, bands: &[Ripped], board: &Board, unit: Unit) -> String {
    let band = bands[place].length;
    let mm = |length_mm: f64| show(length_mm, unit).whole_line();
    let (begins, wide) = (mm(band.near_mm), mm(band.width_mm()));
    let is_first = band.near_mm == 0.0;
    let is_last = band.far_mm > board.width_mm - HAIR_MM;
    match (place, bands.len()) {
        (0, 1) => format!(
            "First rip {begins} off along the upper edge, the saw cut counted in, and rip the rest:"
        ),
        (0, _) if is_first => {
            format!("First rip a band {wide} wide off along the upper edge, and rip it on:")
        }
        (0, _) => format!(
            "First rip {begins} off along the upper edge, the saw cut counted in, then a band {wide} wide, and rip it on:"
        ),
        _ if is_last => format!("Along the lower edge a band {wide} wide is kept; rip it on:"),
        _ => format!(
            "Then a band {wide} wide that begins {begins} below the upper edge: rip it out of the rest, and rip it on:"
        ),
    }
}
