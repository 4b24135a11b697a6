//! Woods told apart without color: a letter for each, on the cells of a drawing and in a key.

use crate::design::Vessel;
use crate::draw::lettering::{SCREEN_SLACK, shorten, width_mm};
use crate::draw::{
    Drawing, Fill, Ink, Mark, Path, Point, Step, Tone, Weight, Words, point, rectangle,
};
use crate::plan::stack::StackPlan;

/// Height of a letter on a cell: 8 pt.
const LETTER_MM: f64 = 2.05;

/// Height of the key's letters, and from one of its lines to the next.
const KEY_MM: f64 = 2.3;
const KEY_LINE_MM: f64 = 5.2;

/// A letter or two for each wood, by the woods' places: as few as tell them apart.
pub fn letters(woods: &[String]) -> Vec<String> {
    woods
        .iter()
        .enumerate()
        .map(|(place, name)| {
            let begins = |count: usize, name: &str| -> String {
                let letters = name.chars().filter(|letter| letter.is_alphabetic());
                letters.take(count).collect()
            };
            let is_own = |count: &usize| {
                let own = begins(*count, name);
                let mut others = woods
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != place);
                !own.is_empty() && others.all(|(_, other)| begins(*count, other) != own)
            };
            (1..=2)
                .find(is_own)
                .map_or_else(|| (place + 1).to_string(), |count| begins(count, name))
        })
        .collect()
}

/// The places of the woods that the vessel's rings are of, each once.
pub fn used(vessel: &Vessel) -> Vec<usize> {
    let mut places: Vec<usize> = vessel
        .rings
        .iter()
        .flat_map(|ring| (0..ring.segment_count.max(1)).map(|segment| ring.wood_of(segment)))
        .collect();
    places.sort_unstable();
    places.dedup();
    places
}

/// Puts its wood's letter on each cell that has room for it, where there is more than one
/// wood in the vessel.
pub fn letter(drawing: &mut Drawing, vessel: &Vessel) {
    if used(vessel).len() < 2 {
        return;
    }
    let letters = letters(&vessel.woods);
    let marks: Vec<Words> = drawing
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Path(path) => of_cell(path, vessel, &letters),
            Mark::Words(_) => None,
        })
        .collect();
    for words in marks {
        drawing.add(words);
    }
}

/// The letter of a cell, in its middle.
fn of_cell(path: &Path, vessel: &Vessel, letters: &[String]) -> Option<Words> {
    let (place, segment) = path
        .name
        .as_deref()?
        .strip_prefix("cell-")?
        .split_once('-')?;
    let ring = vessel.rings.get(place.parse::<usize>().ok()?)?;
    let text = letters.get(ring.wood_of(segment.parse().ok()?))?.as_str();
    let corners: Vec<Point> = path
        .steps
        .iter()
        .filter_map(|step| match step {
            Step::MoveTo(at) | Step::LineTo(at) => Some(*at),
            _ => None,
        })
        .collect();
    let (least, most) = Mark::from(path.clone()).bounds()?;
    let high = most.y - least.y;
    // A cell at the edge of what is seen leans: its mean width counts.
    let mean = if corners.is_empty() {
        most.x - least.x
    } else {
        area(&corners) / high.max(1e-9)
    };
    let wide = width_mm(text, LETTER_MM, Weight::Bold);
    let has_room = mean > wide + 0.8 && high > LETTER_MM + 1.0;
    let tone = match path.fill {
        // Where white and black are read alike well (WCAG 2.2, contrast ratio).
        Some(Fill::Wood(color)) if color.luminance() < 0.179 => Tone::Paper,
        _ => Tone::Graphite,
    };
    let middle = middle(&corners).unwrap_or_else(|| least.halfway(most));
    has_room.then(|| {
        Words::new(middle, text, LETTER_MM)
            .level_middle()
            .anchored(crate::draw::Anchor::Middle)
            .bold()
            .toned(tone)
    })
}

/// Area within corners.
fn area(corners: &[Point]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let twice: f64 = corners
        .iter()
        .zip(next)
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum();
    twice.abs() / 2.0
}

/// The mean of corners.
fn middle(corners: &[Point]) -> Option<Point> {
    let count = corners.len() as f64;
    let sum = corners
        .iter()
        .copied()
        .reduce(|a, b| point(a.x + b.x, a.y + b.y))?;
    Some(point(sum.x / count, sum.y / count))
}

/// The key: each wood's letter and name beside each other, from a place on over a width;
/// returns how high it is.
pub fn key(sheet: &mut Drawing, plan: &StackPlan, (x, y): (f64, f64), width: f64) -> f64 {
    let vessel = &plan.vessel;
    let letters = letters(&vessel.woods);
    let mut at = point(x, y);
    for place in used(vessel) {
        let (Some(letter), Some(name)) = (letters.get(place), vessel.woods.get(place)) else {
            continue;
        };
        let text = format!("{letter}  {name}");
        let text = shorten(&text, (width - 8.0) / SCREEN_SLACK, KEY_MM, Weight::Bold);
        let wide = 8.0 + width_mm(&text, KEY_MM, Weight::Bold) * SCREEN_SLACK;
        if at.x > x && at.x + wide > x + width {
            at = point(x, at.y + KEY_LINE_MM);
        }
        if let Some(color) = color(plan, place) {
            let swatch = rectangle(point(at.x, at.y - 3.0), 4.0, 3.6);
            let swatch = Path::line(swatch, Ink::Thin).filled(Fill::Wood(color));
            sheet.add(swatch.named("wood"));
        }
        sheet.add(Words::new(point(at.x + 5.5, at.y), text, KEY_MM).bold());
        at.x += wide + 4.0;
    }
    at.y - y + KEY_LINE_MM
}

/// A wood's color, from a cell that is of it.
fn color(plan: &StackPlan, wood: usize) -> Option<crate::draw::Color> {
    plan.vessel
        .rings
        .iter()
        .zip(&plan.rings)
        .find_map(|(ring, planned)| {
            let mut segments = 0..ring.segment_count.max(1);
            let segment = segments.find(|segment| ring.wood_of(*segment) == wood)?;
            Some(planned.color_of(segment))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_tell_woods_apart() {
        let of = |names: &[&str]| {
            letters(
                &names
                    .iter()
                    .map(|name| (*name).to_owned())
                    .collect::<Vec<_>>(),
            )
            .join(" ")
        };
        assert_eq!(of(&["Maple, sugar", "Padauk", "Wenge"]), "M P W");
        assert_eq!(of(&["Padauk", "Purpleheart", "Oak"]), "Pa Pu O");
        assert_eq!(of(&["Maple, red", "Maple, sugar", ""]), "1 2 3");
    }
}
