//! Many glued rings typed or pasted in one go: `5 3, 6 1/2 x 4 x 3/4`, from the foot up or from
//! the rim down, for each its outside, its inside and, where it differs, its height. A fraction belongs to the
//! whole number before it: `5 3 3/4` is 5 and 3 3/4.

use crate::design::Design;
use crate::design::field::{self, most_of};
use crate::design::trouble::{Reason, Trouble};
use crate::edit::built::{add_glued, before_measured, begin_glued, fit_hole, measure_like};
use crate::plan::woods::meant_of_board;
use crate::trade::ring::RingError;
use crate::units::length::Unit;

/// What was measured of a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
// Every length names its unit.
#[allow(clippy::struct_field_names)]
struct Sizes {
    outside_mm: f64,
    inside_mm: f64,
    height_mm: Option<f64>,
}

/// How a list of rings is meant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Listed {
    /// Whether its first ring is the topmost, and not the lowest.
    pub is_from_rim: bool,
    /// Whether it takes the place of the rings that there are, and does not come on top.
    pub is_instead: bool,
}

/// The design with these rings on top, or in place of all that it has; as it is where nothing is
/// typed. A lone ring that was begun and not touched since gives way to them.
///
/// # Errors
/// Names the ring and the number that cannot be read or taken.
pub fn add_rings(design: &Design, typed: &str, listed: Listed) -> Result<Design, Trouble> {
    let cleared = (listed.is_instead && !typed.trim().is_empty()).then(|| begun_anew(design));
    let design = cleared.as_ref().unwrap_or(design);
    let blank = before_measured(design).filter(|_| !typed.trim().is_empty());
    let vessel = design.vessel.as_ref().filter(|_| blank.is_some());
    let begun = vessel.and_then(|it| it.rings.first());
    let design = blank.as_ref().unwrap_or(design);
    let below = design.vessel.as_ref().map_or(0, |it| it.rings.len());
    let mut rings = with_height_before(read(typed, below, design.unit)?);
    if listed.is_from_rim {
        rings.reverse();
    }
    let most = most_of("vessel.rings");
    if below + rings.len() > most {
        return Err(Trouble::at(key(most, 0), Reason::TooManyRings(most)));
    }
    let mut changed = design.clone();
    for sizes in &rings {
        changed = add_glued(&changed);
        let place = changed.vessel.as_ref().map_or(0, |it| it.rings.len());
        let Some(place) = place.checked_sub(1) else {
            continue;
        };
        measure(&mut changed, place, sizes);
    }
    if let Some(begun) = begun {
        measure_like(&mut changed, begun);
    }
    Ok(changed)
}

/// Whether a line of a list is a glued ring's: `ring 7 1/2 x 5 x 3/4`.
pub(super) fn is_ring(line: &str) -> bool {
    let first = line.split_whitespace().next().unwrap_or_default();
    matches!(
        first.trim_end_matches([':', ',']).to_lowercase().as_str(),
        "ring" | "rings"
    )
}

/// The ring of such a line as a design of its own: its sizes, and where they are said how many
/// segments it has and its wood, or its woods in turn: `12 segments, maple and walnut`. What is
/// not said is as in the design's Ring. `line` is what a message calls it by, from 0.
///
/// # Errors
/// Names the number that cannot be read or taken.
pub(super) fn ring_of_line(design: &Design, text: &str, line: usize) -> Result<Design, Trouble> {
    let spaced = text.replace('×', " x ");
    let words: Vec<&str> = spaced.split_whitespace().skip(1).collect();
    let at = words
        .iter()
        .position(|it| it.to_lowercase().starts_with("segment"));
    let count_at = at.and_then(|at| at.checked_sub(1));
    let (mut sizes, mut woods) = (String::new(), String::new());
    for (place, word) in words.iter().enumerate() {
        if Some(place) == at || Some(place) == count_at {
            continue;
        }
        let bare = word.trim_end_matches(',');
        let is_size = bare.starts_with(|it: char| it.is_ascii_digit() || ".¼½¾⅛⅜⅝⅞".contains(it));
        let is_between = is_unit(bare) || matches!(bare, "x" | "X" | "by" | "-" | "–");
        if woods.is_empty() && (is_size || is_between) {
            // A comma between sizes sets them apart.
            let apart = if bare.len() < word.len() { " x" } else { "" };
            sizes = format!("{sizes} {bare}{apart}");
        } else {
            // One in a wood's name stays.
            woods = format!("{woods} {word}");
        }
    }
    let mut begun = begin_glued(design);
    let own = ring(&numbers(&sizes), line, design.unit)?;
    if let Some(count) = count_at.and_then(|at| words.get(at)) {
        let of = "vessel.rings.0.segment_count";
        begun = begun
            .with_typed(of, count)
            .map_err(|it| Trouble::at(format!("vessel.rings.{line}.segment_count"), it.reason))?;
    }
    let names = woods.split(" and ").map(|it| it.trim_matches([',', ' ']));
    let names: Vec<String> = names
        .filter(|it| !it.is_empty())
        .map(|it| meant_of_board(design, &it.chars().take(80).collect::<String>()))
        .collect();
    if names.len() > most_of("vessel.woods") {
        let reason = Reason::TooManyWoods(most_of("vessel.woods"));
        return Err(Trouble::at(
            format!("vessel.rings.{line}.pattern.0"),
            reason,
        ));
    }
    if let Some(vessel) = &mut begun.vessel {
        if let (Some(ring), false) = (vessel.rings.first_mut(), names.is_empty()) {
            ring.pattern = (0..names.len() as u32).collect();
        }
        if !names.is_empty() {
            vessel.woods = names;
        }
    }
    measure(&mut begun, 0, &own);
    Ok(begun)
}

/// Writes down what was measured of a ring.
fn measure(design: &mut Design, place: usize, sizes: &Sizes) {
    let vessel = design.vessel.as_mut();
    let ring = vessel.and_then(|it| it.rings.get_mut(place));
    if let Some(measured) = ring.and_then(|it| it.measured.as_mut()) {
        measured.outside_diameter_mm = Some(sizes.outside_mm);
        measured.inside_diameter_mm = Some(sizes.inside_mm);
        measured.upper_outside_diameter_mm = None;
        measured.upper_inside_diameter_mm = None;
        measured.height_mm = sizes.height_mm.or(measured.height_mm);
    }
    fit_hole(design, place);
}

/// Begun with a glued ring that is measured like those that there were.
fn begun_anew(design: &Design) -> Design {
    let mut begun = begin_glued(design);
    let mut rings = design.vessel.iter().flat_map(|it| &it.rings);
    if let Some(like) = rings.find(|it| it.is_glued()) {
        measure_like(&mut begun, like);
    }
    begun
}

/// A ring without a height is as high as the one before it in the list.
fn with_height_before(rings: Vec<Sizes>) -> Vec<Sizes> {
    let mut before = None;
    let each = rings.into_iter().map(|sizes| {
        before = sizes.height_mm.or(before);
        Sizes {
            height_mm: before,
            ..sizes
        }
    });
    each.collect()
}

/// A comma may stand between rings, between numbers, or for a decimal point: what makes
/// rings of two or three numbers is meant.
fn read(typed: &str, below: usize, unit: Unit) -> Result<Vec<Sizes>, Trouble> {
    let lines = |text: &str| -> Vec<String> {
        let parts = text.split([';', '\n', '\r']);
        parts.map(str::to_owned).collect()
    };
    let between_numbers = |comma: &str| lines(&typed.replace(comma, " x "));
    let between_rings = |comma: &str| lines(&typed.replace(comma, ";"));
    let readings = if typed.trim().contains([';', '\n', '\r']) {
        vec![
            between_numbers(", "),
            between_numbers(","),
            between_rings(", "),
            between_rings(","),
        ]
    } else {
        vec![between_rings(","), between_rings(", ")]
    };
    // Of several that cannot be, the one that comes farthest tells what is wrong.
    let mut farthest: Option<(usize, Trouble)> = None;
    for parts in readings {
        let parts = parts.iter().filter(|part| !part.trim().is_empty());
        let numbers: Vec<Vec<String>> = parts.map(|part| numbers(part)).collect();
        let mut rings = Vec::new();
        let read = with_heights(numbers)
            .iter()
            .enumerate()
            .try_for_each(|(at, numbers)| {
                rings.push(ring(numbers, below + at, unit)?);
                Ok(())
            });
        let Err(trouble) = read else {
            return Ok(rings);
        };
        if farthest.as_ref().is_none_or(|it| it.0 < rings.len()) {
            farthest = Some((rings.len(), trouble));
        }
    }
    Err(farthest.map_or_else(
        || Trouble::at(key(below, 0), Reason::NumbersOfRing(0)),
        |it| it.1,
    ))
}

/// Where some rings of a list have a height and in all others a fraction ends the inside, that
/// is their height: `5 3 3/4` beside `9 6 1/2 3/4`.
fn with_heights(rings: Vec<Vec<String>>) -> Vec<Vec<String>> {
    if rings.iter().all(|numbers| numbers.len() < 3) {
        return rings;
    }
    let apart = |numbers: &Vec<String>| match &numbers[..] {
        [outside, inside] => {
            let (whole, fraction) = inside.split_once(' ')?;
            let all = [outside.as_str(), whole, fraction];
            is_fraction(fraction).then(|| all.map(str::to_owned).to_vec())
        }
        _ => Some(numbers.clone()),
    };
    let all: Option<Vec<_>> = rings.iter().map(apart).collect();
    all.unwrap_or(rings)
}

/// Whether a word is a fraction alone.
pub(super) fn is_fraction(word: &str) -> bool {
    word.contains(['/', '⁄']) || word.chars().next().is_some_and(|c| "¼½¾⅛⅜⅝⅞".contains(c))
}

fn ring(numbers: &[String], place: usize, unit: Unit) -> Result<Sizes, Trouble> {
    let read = |at: usize| -> Result<Option<f64>, Trouble> {
        let Some(number) = numbers.get(at) else {
            return Ok(None);
        };
        let (key, asked) = (key(place, at), field::find(&key(0, at)));
        let value = asked.map(|field| field.read(number, unit)).transpose();
        let value = value.map_err(|reason| Trouble::at(key, reason))?;
        Ok(value.and_then(|value| value.as_f64()))
    };
    let lengths = [read(0)?, read(1)?, read(2)?];
    let (true, [Some(outside_mm), Some(inside_mm), height_mm]) = (numbers.len() <= 3, lengths)
    else {
        let count = Reason::NumbersOfRing(numbers.len());
        return Err(Trouble::at(key(place, 0), count));
    };
    if inside_mm >= outside_mm {
        let reason = RingError::NoWall {
            inside_mm,
            outside_mm,
        };
        return Err(Trouble::at(key(place, 1), reason.into()));
    }
    Ok(Sizes {
        outside_mm,
        inside_mm,
        height_mm,
    })
}

fn key(place: usize, at: usize) -> String {
    let names = ["outside_diameter_mm", "inside_diameter_mm", "height_mm"];
    format!("vessel.rings.{place}.measured.{}", names[at.min(2)])
}

/// Whether a word is the unit of the number before it.
pub(super) fn is_unit(word: &str) -> bool {
    [
        "mm", "cm", "in", "inch", "inches", "ft", "\"", "”", "″", "'", "’", "′",
    ]
    .contains(&word.to_lowercase().as_str())
}

/// The numbers of a ring: a fraction goes with the whole number before it, a unit with its
/// number, and what stands between numbers ("5 x 3") is none.
pub(super) fn numbers(text: &str) -> Vec<String> {
    let mut numbers: Vec<String> = Vec::new();
    let mut is_next_apart = false;
    let spaced = text.replace(['x', 'X', '×'], " x ");
    for word in spaced.split_whitespace() {
        let is_unit = is_unit(word);
        let is_between = ["x", "by", "-", "–"].contains(&word);
        let last = numbers.last_mut();
        match last {
            _ if is_between => {}
            Some(last)
                if is_unit
                    || (is_fraction(word)
                        && !is_next_apart
                        && last.bytes().all(|b| b.is_ascii_digit())) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => numbers.push(word.to_owned()),
        }
        is_next_apart = is_between;
    }
    numbers
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Across;
    use crate::edit::type_in;
    use crate::units::reading::NotALength;

    const ON_TOP: Listed = Listed {
        is_from_rim: false,
        is_instead: false,
    };

    #[test]
    fn a_list_may_run_from_the_rim_down_and_take_the_place_of_all_rings() {
        let sizes = |design: &Design| -> Vec<(f64, f64)> {
            let rings = design.vessel.iter().flat_map(|it| &it.rings);
            let own = rings.filter_map(|it| it.measured.as_ref());
            own.map(|it| (it.outside_diameter_mm.unwrap(), it.height_mm.unwrap()))
                .collect()
        };
        let first = add_rings(&Design::default(), "5 3, 6 4", ON_TOP).unwrap();
        let down = Listed {
            is_from_rim: true,
            is_instead: true,
        };
        let typed = "254 mm 8 25 mm, 229 mm 7, 203 mm 6 20 mm, 178 mm 5";
        let instead = add_rings(&first, typed, down).unwrap();
        let wanted = [(178.0, 20.0), (203.0, 20.0), (229.0, 25.0), (254.0, 25.0)];
        assert_eq!(sizes(&instead), wanted);
        assert_eq!(add_rings(&first, " ", down).unwrap(), first);
        assert!(add_rings(&first, "9", down).is_err());
        let on_top = Listed {
            is_instead: false,
            ..down
        };
        let six = add_rings(&first, typed, on_top).unwrap();
        assert_eq!(sizes(&six)[2..], wanted);
    }

    /// What was measured of each ring, in the unit typed in.
    fn rings(typed: &str, unit: Unit) -> Vec<(f64, f64, f64)> {
        let design = Design {
            unit,
            ..Design::default()
        };
        let design = add_rings(&design, typed, ON_TOP).unwrap();
        let parts = if unit.is_inch() { 25.4 } else { 1.0 };
        let rings = design.vessel.iter().flat_map(|it| &it.rings);
        rings
            .map(|ring| {
                let it = ring.measured.as_ref().unwrap();
                let own = |length: Option<f64>| (length.unwrap() / parts * 1e6).round() / 1e6;
                (
                    own(it.outside_diameter_mm),
                    own(it.inside_diameter_mm),
                    own(it.height_mm),
                )
            })
            .collect()
    }

    #[test]
    fn a_list_takes_the_place_of_the_ring_that_was_begun_with_but_not_of_a_measured_one() {
        let begun = add_glued(&Design::default());
        let outsides = |design: &Design| -> Vec<Option<f64>> {
            let rings = design.vessel.iter().flat_map(|it| &it.rings);
            rings
                .map(|ring| ring.measured.as_ref()?.outside_diameter_mm)
                .collect()
        };
        assert_eq!(
            outsides(&add_rings(&begun, "5 3, 10 4", ON_TOP).unwrap()),
            [Some(127.0), Some(254.0)]
        );
        assert_eq!(add_rings(&begun, " ", ON_TOP).unwrap(), begun);
        // How it was measured is said before anything is: the rings of the list were so too.
        let said = type_in(&begun, "vessel.glued.inside_across", "corners").unwrap();
        let said = type_in(&said, "vessel.glued.segment_count", "16").unwrap();
        let taken = add_rings(&said, "5 3, 10 4", ON_TOP).unwrap();
        assert_eq!(outsides(&taken), [Some(127.0), Some(254.0)]);
        for ring in &taken.vessel.as_ref().unwrap().rings {
            let own = ring.measured.as_ref().unwrap();
            let how = (own.outside_across, own.inside_across, ring.segment_count);
            assert_eq!(how, (Across::Flats, Across::Corners, 16));
        }
        let strange = type_in(&taken, "vessel.glued.inside_across", "edges").unwrap_err();
        assert_eq!(strange.field, "vessel.glued.inside_across");
        let mut measured = begun;
        measured.vessel.as_mut().unwrap().rings[0]
            .measured
            .as_mut()
            .unwrap()
            .outside_diameter_mm = Some(100.0);
        assert_eq!(
            outsides(&add_rings(&measured, "5 3", ON_TOP).unwrap()),
            [Some(100.0), Some(127.0)]
        );
    }

    #[test]
    fn a_list_is_taken_as_rings_however_it_is_set() {
        let wanted = [(5.0, 3.0, 0.75), (6.5, 4.0, 0.75)];
        for typed in [
            "5 3, 6 1/2 4",
            "5 3,6 1/2 4",
            "5 3 0.75, 6 1/2 4 .75",
            "5 x 3 x 3/4; 6-1/2 4",
            "5\t3\t0.75\n6 1/2\t4\t.75\n",
            "5, 3, 3/4\r\n6.5, 4, 3/4",
            "5,3\n6.5,4",
            "5 in x 3 in, 6 1/2\" x 4\"",
            "5 x 3, 6½ x 4",
            "127 mm 76.2 mm, 6 ½ 4",
        ] {
            assert_eq!(rings(typed, Unit::Inch16), wanted, "{typed}");
        }
        // Lines and commas both between rings, as a long list is wrapped.
        let wanted = [(8.0, 5.5, 0.75), (9.25, 7.0, 0.75), (10.0, 8.0, 0.75)];
        for typed in ["8 5 1/2, 9 1/4 x 7\n10 8", "8 5 1/2,\n9 1/4 x 7,\n10 8,"] {
            assert_eq!(rings(typed, Unit::Inch16), wanted, "{typed}");
        }
        // No spaces round what stands between.
        let wanted = [(5.0, 3.0, 0.75), (6.5, 4.0, 0.75)];
        assert_eq!(rings("5x3x3/4, 6 1/2x4", Unit::Inch16), wanted);
        // A height is a height in the whole list, if it is one in any ring.
        let wanted = [(5.0, 3.0, 0.75), (6.5, 4.0, 0.75), (9.0, 6.5, 0.75)];
        let typed = "5 3 3/4\n6 1/2 4 3/4\n9 6 1/2 3/4";
        assert_eq!(rings(typed, Unit::Inch16), wanted);
        // But not where one ring has none.
        let wanted = [(5.0, 3.75, 0.75), (6.5, 4.0, 0.75), (9.0, 6.5, 0.75)];
        let typed = "5 3 3/4\n6 1/2 4\n9 6 1/2 3/4";
        assert_eq!(rings(typed, Unit::Inch16), wanted);
        // A fraction belongs to the whole number before it.
        assert_eq!(rings("5 3 3/4", Unit::Inch16), [(5.0, 3.75, 0.75)]);
        // A decimal comma, where the other reading makes no rings.
        let wanted = [(12.5, 9.0, 19.0), (13.5, 10.0, 20.0)];
        for typed in ["12,5 9 19, 13,5 10 20", "12,5 9 19\n13,5 10 20"] {
            assert_eq!(rings(typed, Unit::Millimeter), wanted, "{typed}");
        }
        assert!(rings(" \n", Unit::Inch16).is_empty());
    }

    #[test]
    fn what_is_wrong_names_the_ring_and_the_number() {
        let design = add_rings(&Design::default(), "5 3", ON_TOP).unwrap();
        let trouble = |typed: &str| add_rings(&design, typed, ON_TOP).unwrap_err();
        let at = |ring: usize, name: &str| format!("vessel.rings.{}.measured.{name}", ring - 1);
        let strange = trouble("6 4, 6z 4");
        assert_eq!(strange.field, at(3, "outside_diameter_mm"));
        assert_eq!(
            strange.reason,
            Reason::NotALength(NotALength::Strange("z".to_owned()))
        );
        let few = trouble("6 4, 7, 8 5");
        assert_eq!(few.field, at(3, "outside_diameter_mm"));
        assert_eq!(few.reason, Reason::NumbersOfRing(1));
        assert_eq!(trouble("6 4 1 2").reason, Reason::NumbersOfRing(4));
        let no_wall = trouble("6 4, 5 5");
        assert_eq!(no_wall.field, at(3, "inside_diameter_mm"));
        assert!(matches!(no_wall.reason, Reason::Ring(_)));
        assert!(matches!(trouble("6 4 0").reason, Reason::OutOfRange { .. }));
        let many = trouble(&"5 3,".repeat(500));
        assert!(matches!(many.reason, Reason::TooManyRings(_)));
    }

    #[test]
    fn a_disc_has_no_hole() {
        let design = add_rings(&Design::default(), "5 0, 6 3", ON_TOP).unwrap();
        let rings = design.vessel.unwrap().rings;
        assert_eq!(rings[0].made_of, crate::design::MadeOf::Disc);
        assert_eq!(rings[1].made_of, crate::design::MadeOf::Segments);
    }
}
