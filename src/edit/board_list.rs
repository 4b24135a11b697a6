//! Boards typed or pasted in one go: `2 x 6 x 48 x 7/8 maple; 4 x 36 x 1 walnut`. A line is a
//! board: how many there are, where there is more than one, its width, its length and its
//! thickness, and its wood, before or after them; `planed` or `rough` where it is said. Last come
//! its spots to avoid: `avoid 10 to 14 and 30 to 34 x 0 to 1 1/2`, along the board from its left
//! end and, behind an x, across it from its upper edge.
//!
//! Of the three sizes the least is the thickness and the greatest the length, in whichever
//! order they were typed: a board wider than it is long is entered in its fields.

use crate::design::field::{self, key, most_of};
use crate::design::trouble::{Reason, Trouble};
use crate::design::{Avoid, Board, Design, Rack, ThicknessIs};
use crate::edit::ring_list::{is_fraction, is_unit, numbers};
use crate::plan::woods::meant_of_board;
use crate::solve::sorted::descending;
use serde_json::Value;

/// The design with these boards behind those of its list, none where nothing is typed. Lines of
/// one size and wood are one entry.
///
/// # Errors
/// Names the line and the number that cannot be read or taken.
pub fn add_boards(design: &Design, typed: &str) -> Result<Design, Trouble> {
    let mut changed = design.clone();
    let mut listed: Vec<Board> = Vec::new();
    for (line, text) in lines(typed).iter().enumerate() {
        let board = board(design, text, line)?;
        let same = |other: &&mut Board| {
            let alone = |it: &Board| Board {
                number: 1,
                ..it.clone()
            };
            alone(other) == alone(&board)
        };
        match listed.iter_mut().find(same) {
            Some(same) => same.number = same.number.saturating_add(board.number).min(MOST_ALIKE),
            None => listed.push(board),
        }
    }
    if listed.is_empty() {
        return Ok(changed);
    }
    let rack = changed.rack.get_or_insert_with(Rack::empty);
    let most = most_of(key::BOARDS);
    if rack.boards.len() + listed.len() > most {
        return Err(Trouble::at(key::BOARDS, Reason::TooManyBoards(most)));
    }
    rack.boards.extend(listed);
    Ok(changed)
}

/// As many boards of one size as a list takes.
const MOST_ALIKE: u32 = 10_000;

/// The boards' texts. A comma ends one where its sizes and its wood stand before it and the
/// next one's sizes behind: not in `Maple, sugar`, nor in `6, 48, 1`.
fn lines(typed: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in typed.split([';', '\n', '\r']) {
        let mut text = String::new();
        let mut parts = line.split(',').peekable();
        while let Some(part) = parts.next() {
            text.push_str(part);
            let Some(next) = parts.peek() else { break };
            let is_whole = words(&text).iter().any(|it| is_number(it))
                && words(&text).iter().any(|it| is_of_wood(it));
            // Figures of spots say nothing of a board's sizes.
            let (next, _) = spots_apart(next);
            if is_whole && next.contains(|c: char| c.is_ascii_digit()) {
                found.push(std::mem::take(&mut text));
            } else {
                text.push(',');
            }
        }
        found.push(text);
    }
    found.retain(|text| !text.trim().is_empty());
    found
}

/// The words of a line, what stands between numbers set apart.
fn words(text: &str) -> Vec<String> {
    let mut spaced = String::new();
    for (place, each) in text.char_indices() {
        // An x is one of a name's letters, unless a number follows it and no name stands before.
        let after = text[place + each.len_utf8()..].trim_start();
        let before = text[..place].rsplit(|c: char| !c.is_alphabetic()).next();
        let is_free = before.is_none_or(|word| word.is_empty() || is_unit(word));
        let is_before_number = after.chars().next().is_some_and(is_of_number);
        let is_between = matches!(each, 'x' | 'X') && is_before_number && is_free;
        if each == '×' || is_between {
            spaced.push_str(" x ");
        } else {
            spaced.push(each);
        }
    }
    // A decimal comma stays, any other stands between.
    let words = spaced.split_whitespace().flat_map(|word| {
        let is_decimal = is_number(word) && !word.ends_with(',');
        let bare = word.trim_end_matches(',');
        let comma = (!is_decimal && bare.len() < word.len()).then(|| ",".to_owned());
        [Some(bare.to_owned()), comma].into_iter().flatten()
    });
    words.filter(|word| !word.is_empty()).collect()
}

fn is_of_number(letter: char) -> bool {
    letter.is_ascii_digit() || "¼½¾⅛⅜⅝⅞.".contains(letter)
}

fn is_number(word: &str) -> bool {
    word.chars().next().is_some_and(is_of_number)
}

fn is_between(word: &str) -> bool {
    ["x", "by", "-", "–", ",", "of", "board", "boards"].contains(&word.to_lowercase().as_str())
}

fn is_of_wood(word: &str) -> bool {
    !is_number(word) && !is_between(word) && !is_unit(word) && thickness_is(word).is_none()
}

fn thickness_is(word: &str) -> Option<ThicknessIs> {
    match word.to_lowercase().as_str() {
        "planed" | "surfaced" | "s2s" | "s4s" => Some(ThicknessIs::Planed),
        "rough" => Some(ThicknessIs::Rough),
        _ => None,
    }
}

fn board(design: &Design, text: &str, line: usize) -> Result<Board, Trouble> {
    let (text, spots) = spots_apart(text);
    let words = words(&text);
    let (mut sizes, mut wood) = (String::new(), String::new());
    let mut planed = None;
    for word in &words {
        if let Some(is) = thickness_is(word) {
            planed = Some(is);
        } else if word == "," && !wood.is_empty() && sizes.ends_with(" x ") {
            // Within a wood's name.
            wood.push(',');
        } else if is_between(word) {
            sizes.push_str(" x ");
        } else if is_number(word) || (is_unit(word) && !sizes.is_empty()) {
            // 4/4 is a thickness of its own, never a part of the number before it.
            sizes.push_str(if is_quarters(word) { " x " } else { " " });
            sizes.push_str(word);
        } else {
            wood.push_str(if wood.is_empty() { "" } else { " " });
            wood.push_str(word);
            if !sizes.is_empty() {
                sizes.push_str(" x ");
            }
        }
    }
    let numbers = numbers(&sizes);
    let (number, lengths) = match numbers.as_slice() {
        [a, b, c] => ("1", [a, b, c]),
        [number, a, b, c] => (number.as_str(), [a, b, c]),
        _ => {
            let reason = Reason::NumbersOfBoard(numbers.len());
            return Err(Trouble::at(at(line, "width_mm"), reason));
        }
    };
    if wood.trim_matches(',').trim().is_empty() {
        return Err(Trouble::at(at(line, "wood"), Reason::NoWoodOfBoard));
    }
    let mut read = [0.0; 3];
    for (read, typed) in read.iter_mut().zip(lengths) {
        *read = value(design, line, "length_mm", typed)?;
    }
    // As its field takes it.
    let named = read_as(design, line, "wood", wood.trim_matches(',').trim())?;
    let order = descending(&read);
    let sorted: Vec<f64> = order.into_iter().map(|place| read[place]).collect();
    let number = value(design, line, "number", number)? as u32;
    Ok(Board {
        length_mm: sorted[0],
        width_mm: sorted[1],
        thickness_mm: sorted[2],
        thickness_is: planed.unwrap_or(ThicknessIs::Rough),
        number,
        avoid: avoided(design, line, &spots)?,
        ..Board::usual(&meant_of_board(design, named.as_str().unwrap_or_default()))
    })
}

/// A line's text before its spots to avoid, and what is typed of each of them.
fn spots_apart(text: &str) -> (String, Vec<String>) {
    let all: Vec<&str> = text.split_whitespace().collect();
    let is_avoid = |word: &&str| word.trim_end_matches(':').eq_ignore_ascii_case("avoid");
    let mut parts = all.split(is_avoid);
    let board = parts.next().unwrap_or_default().join(" ");
    let is_and = |word: &&str| word.eq_ignore_ascii_case("and");
    let spots = parts.flat_map(|part| part.split(is_and));
    (board, spots.map(|spot| spot.join(" ")).collect())
}

/// The spots to avoid, each `10 to 14`, or `10 to 14 x 0 to 1 1/2` where it does not go right
/// across.
fn avoided(design: &Design, line: usize, spots: &[String]) -> Result<Vec<Avoid>, Trouble> {
    let most = most_of("rack.boards.*.avoid");
    if spots.len() > most {
        let reason = Reason::OutOfRange {
            value: spots.len() as f64,
            least: 0.0,
            most: most as f64,
        };
        return Err(Trouble::at(at(line, "avoid"), reason));
    }
    let mut all = Vec::new();
    for (place, spot) in spots.iter().enumerate() {
        let field = |name: &str| format!("avoid.{place}.{name}");
        let spaced = words(spot).join(" ");
        let parts: Vec<Vec<&str>> = spaced
            .split(" x ")
            .map(|part| part.split(" to ").map(str::trim).collect())
            .collect();
        let read = |name: &str, typed: &str| value(design, line, &field(name), typed);
        let (along, across) = match parts.as_slice() {
            [along] => (along, None),
            [along, across] if across.len() == 2 => (along, Some(across)),
            _ => return Err(Trouble::at(at(line, &field("from_mm")), Reason::NotASpot)),
        };
        let [from, to] = along[..] else {
            return Err(Trouble::at(at(line, &field("from_mm")), Reason::NotASpot));
        };
        let mut avoid = Avoid::length(read("from_mm", from)?, read("to_mm", to)?);
        if let Some(&[from, to]) = across.map(Vec::as_slice) {
            avoid.across_from_mm = Some(read("across_from_mm", from)?);
            avoid.across_to_mm = Some(read("across_to_mm", to)?);
        }
        all.push(avoid);
    }
    Ok(all)
}

fn is_quarters(word: &str) -> bool {
    let parts = word.split_once('/').filter(|_| is_fraction(word));
    let parts = parts.and_then(|(a, b)| Some((a.parse::<u32>().ok()?, b.parse::<u32>().ok()?)));
    parts.is_some_and(|(above, below)| above >= below)
}

fn value(design: &Design, line: usize, name: &str, typed: &str) -> Result<f64, Trouble> {
    Ok(read_as(design, line, name, typed)?
        .as_f64()
        .unwrap_or_default())
}

/// What a board's field makes of a word of the list.
fn read_as(design: &Design, line: usize, name: &str, typed: &str) -> Result<Value, Trouble> {
    let field = field::find(&at(0, name));
    let value = field
        .map(|field| field.read(typed, design.unit))
        .transpose();
    let value = value.map_err(|reason| Trouble::at(at(line, name), reason))?;
    Ok(value.unwrap_or_default())
}

fn at(line: usize, name: &str) -> String {
    format!("rack.boards.{line}.{name}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{length::MM_PER_INCH, reading::NotALength};

    /// Number, width, length and thickness in inches, and wood, of each board of a list.
    fn boards(typed: &str) -> Vec<(u32, f64, f64, f64, String)> {
        let design = add_boards(&Design::default(), typed).unwrap();
        let inch = |length_mm: f64| (length_mm / MM_PER_INCH * 1e6).round() / 1e6;
        let boards = design.rack.into_iter().flat_map(|rack| rack.boards);
        boards
            .map(|it| {
                (
                    it.number,
                    inch(it.width_mm),
                    inch(it.length_mm),
                    inch(it.thickness_mm),
                    it.wood,
                )
            })
            .collect()
    }

    #[test]
    fn a_list_is_taken_as_boards_however_it_is_set() {
        let (maple, walnut) = ("Maple, sugar", "Walnut, black");
        let wanted = [
            (2, 6.0, 48.0, 0.875, maple.to_owned()),
            (1, 4.0, 36.0, 1.0, walnut.to_owned()),
        ];
        for typed in [
            "2 x 6 x 48 x 7/8 hard maple; 4 x 36 x 1 walnut",
            "2 × 6 × 48 × 7/8 Maple, sugar\n4 × 36 × 1 Walnut, black\n",
            "2 x 6x48x7/8 hard maple, 4x36x4/4 walnut",
            "2 6 48 .875 Maple, sugar, 4 36 1 walnut",
            "Maple, sugar 2 x 6 x 48 x ⅞; walnut 4 x 36 x 1",
            "2 of 48 in x 6\" x 7/8 in hard maple rough\r\n36 4 4/4 walnut",
            "2 by 7/8 by 6 by 48 hard maple; 1 x 36 x 4 walnut",
            "6 x 48 x 7/8 hard maple; 4 x 36 x 1 walnut; 6 x 48 x 7/8 hard maple",
            "2, 6, 48, 7/8 hard maple; 4, 36, 1 walnut",
            "2x152.4mmx4 ftx7/8 hard maple;4x3'x1 walnut",
            "2 maple boards 6 x 48 x 7/8; 4 x 36 x 1 walnut board",
        ] {
            assert_eq!(boards(typed), wanted, "{typed}");
        }
        let boxwood = [(1, 3.0, 20.0, 1.0, "Boxwood".to_owned())];
        assert_eq!(boards("3x20x1 Boxwood"), boxwood);
        assert_eq!(boards("Boxwood 3x20x1"), boxwood);
        assert!(boards(" \n;").is_empty());
        let planed = add_boards(&Design::default(), "6 x 48 x 7/8 maple planed").unwrap();
        let board = &planed.rack.as_ref().unwrap().boards[0];
        assert_eq!(board.thickness_is, ThicknessIs::Planed);
        // Decimal commas of a turner who measures in millimeters.
        let metric = Design::starting("de-DE");
        let read = add_boards(&metric, "150 x 1200 x 22,5 walnut").unwrap();
        let board = &read.rack.as_ref().unwrap().boards[0];
        assert_eq!((board.width_mm, board.thickness_mm), (150.0, 22.5));
    }

    #[test]
    fn spots_to_avoid_come_behind_a_board() {
        let add = |typed: &str| add_boards(&Design::default(), typed).unwrap();
        let spots = |typed: &str| -> Vec<[Option<f64>; 4]> {
            let board = add(typed).rack.unwrap().boards.remove(0);
            assert!((board.width_mm - 6.0 * MM_PER_INCH).abs() < 1e-9, "{typed}");
            let inch = |mm: f64| (mm / MM_PER_INCH * 1e6).round() / 1e6;
            let each = board.avoid.iter();
            let each = each.map(|it| {
                let along = [it.from_mm, it.to_mm].map(|it| Some(inch(it)));
                let across = [it.across_from_mm, it.across_to_mm].map(|it| it.map(inch));
                [along[0], along[1], across[0], across[1]]
            });
            each.collect()
        };
        let whole = [Some(10.0), Some(14.0), None, None];
        let beside = [Some(30.0), Some(34.0), Some(0.0), Some(1.5)];
        for typed in [
            "6 x 48 x 1 ash avoid 10 to 14 and 30 to 34 x 0 to 1 1/2",
            "6x48x1 ash planed avoid 10 to 14 avoid 30 to 34x0 to 1.5",
            "2 x 6 x 48 x 1 Ash, white avoid 10 to 14 and 30 to 34 x 0 to 1.5, 4 x 36 x 1 walnut",
            "2 x 6 x 48 x 1 ash Avoid: 10 in to 14\" AND 30 to 34 × 0 to 1½, 4 x 36 x 1 walnut",
        ] {
            assert_eq!(spots(typed), [whole, beside], "{typed}");
        }
        let trouble = |typed: &str| add_boards(&Design::default(), typed).unwrap_err();
        for typed in [
            "10",
            "10 to",
            "10 to 14 to 15",
            "10 to 14 x 2",
            "10 to 14 x 1 to 2 x 3 to 4",
            "",
        ] {
            let found = trouble(&format!(
                "6 x 48 x 1 ash; 6 x 48 x 1 ash avoid 1 to 2 and {typed}"
            ));
            assert!(
                found.field.starts_with("rack.boards.1.avoid.1."),
                "{typed} {found:?}"
            );
        }
        let many = vec!["1 to 2"; 13].join(" and ");
        let many = trouble(&format!("6 x 48 x 1 ash avoid {many}"));
        assert_eq!(many.field, at(0, "avoid"));
    }

    #[test]
    fn what_is_wrong_names_the_line_and_the_number() {
        let trouble = |typed: &str| add_boards(&Design::default(), typed).unwrap_err();
        let few = trouble("6 x 48 x 1 maple; 6 x 48 ash");
        assert_eq!(few.field, at(1, "width_mm"));
        assert_eq!(few.reason, Reason::NumbersOfBoard(2));
        assert_eq!(trouble("1 2 3 4 5 ash").reason, Reason::NumbersOfBoard(5));
        assert_eq!(trouble("6 x 48 x 1").reason, Reason::NoWoodOfBoard);
        assert!(matches!(
            trouble("6 x 48 x 0 ash").reason,
            Reason::OutOfRange { .. }
        ));
        assert!(matches!(
            trouble("1/2 x 6 x 48 x 1 ash").reason,
            Reason::NotWhole(_)
        ));
        assert_eq!(
            trouble("6 x 4z8 x 1 ash").reason,
            Reason::NotALength(NotALength::Strange("z".to_owned()))
        );
        let many: Vec<String> = (1..=61).map(|it| format!("{it} x 96 x 1 ash")).collect();
        assert_eq!(trouble(&many.join("\n")).reason, Reason::TooManyBoards(60));
        // A name goes as far as in its field, and reads back from a link.
        let long = add_boards(
            &Design::default(),
            &format!("6 x 48 x 1 {}", "a".repeat(90)),
        );
        assert_eq!(long.unwrap().rack.unwrap().boards[0].wood, "a".repeat(80));
        // But any number of one size.
        let alike = add_boards(&Design::default(), &"6 x 96 x 1 ash\n".repeat(500)).unwrap();
        assert_eq!(alike.rack.unwrap().boards[0].number, 500);
    }
}
