//! Woods told apart without color: a letter and a pattern of lines for each, on the cells of a
//! drawing and in a key.

use crate::design::Vessel;
use crate::draw::flat::flatten;
use crate::draw::lettering::{SCREEN_SLACK, shorten, width_mm};
use crate::draw::palette::PATTERNS;
use crate::draw::{
    Color, Drawing, Fill, Ink, Mark, Path, Point, Step, Tone, Weight, Words, hatch, point,
    rectangle,
};
use crate::plan::stack::StackPlan;
use crate::show::pictures::ring::neighbor;

/// Height of a letter on a cell: 8 pt.
const LETTER_MM: f64 = 2.05;

/// Height of the key's letters, and from one of its lines to the next.
const KEY_MM: f64 = 2.3;
const KEY_LINE_MM: f64 = 5.2;

/// Width of the key's swatches.
const SWATCH_MM: f64 = 8.0;

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

/// Makes the woods of a drawing tell apart in black: a pattern of lines on each, and its
/// letter on each cell that has room for it. Nothing where the vessel is of one wood.
pub fn tell_apart(drawing: &mut Drawing, plan: &StackPlan) {
    let vessel = &plan.vessel;
    if vessel.woods_used().len() < 2 {
        return;
    }
    let patterned = patterns(plan);
    let letters = letters(&vessel.woods);
    let mut words = Vec::new();
    for mark in std::mem::take(&mut drawing.marks) {
        let Mark::Path(path) = mark else {
            drawing.add(mark);
            continue;
        };
        let lines = wood_of(&path, plan, &patterned).and_then(|wood| lines(&path, wood));
        words.extend(of_cell(&path, vessel, &letters));
        drawing.add(path);
        drawing.add_all(lines.map(Mark::from));
    }
    for word in words {
        // A letter on a ground of its own, clear of the lines.
        if let Some((least, most)) = Mark::from(word.0.clone()).bounds() {
            let ground = rectangle(least, most.x - least.x, word.0.height_mm + 0.6);
            drawing.add(Path::area(ground, Fill::Wood(word.1)));
        }
        drawing.add(word.0);
    }
}

/// The woods that are used, each with its color, by the places of their patterns.
fn patterns(plan: &StackPlan) -> Vec<(usize, Color)> {
    let used = plan.vessel.woods_used().into_iter();
    used.filter_map(|wood| Some((wood, color(plan, wood)?)))
        .collect()
}

/// The place of the pattern of what a path is filled with: by its color, and of woods that
/// share it by the cell that it is.
fn wood_of(path: &Path, plan: &StackPlan, patterns: &[(usize, Color)]) -> Option<usize> {
    let Some(Fill::Wood(filled)) = path.fill else {
        return None;
    };
    let own = || {
        let (ring, segment) = cell(path)?;
        // The stripes of a segment are told apart by their colors.
        let ring = plan
            .vessel
            .rings
            .get(ring)
            .filter(|it| it.striped().is_none())?;
        Some(ring.wood_of(segment))
    };
    let own = own();
    let is_own = |it: &&(usize, Color)| {
        let is_filled = filled == it.1 || filled == neighbor(it.1);
        is_filled && own.is_none_or(|wood| wood == it.0)
    };
    patterns.iter().position(|it| is_own(&it))
}

/// The lines of a pattern on a path.
fn lines(path: &Path, pattern: usize) -> Option<Path> {
    let outlines: Vec<Vec<Point>> = flatten(&path.steps, 0.05)
        .into_iter()
        .map(|line| line.points)
        .collect();
    let families = PATTERNS[pattern % PATTERNS.len()];
    let steps: Vec<Step> = families
        .iter()
        .flat_map(|(spacing, slant)| hatch(&outlines, *spacing, slant.to_radians()))
        .collect();
    (!steps.is_empty()).then(|| Path::line(steps, Ink::Thin).named("pattern"))
}

/// The ring and the segment that a path is a cell of.
fn cell(path: &Path) -> Option<(usize, u32)> {
    let (ring, segment) = path
        .name
        .as_deref()?
        .strip_prefix("cell-")?
        .split_once('-')?;
    Some((ring.parse().ok()?, segment.parse().ok()?))
}

/// The letter of a cell, in its middle.
fn of_cell(path: &Path, vessel: &Vessel, letters: &[String]) -> Option<(Words, Color)> {
    let (place, segment) = cell(path)?;
    let Some(Fill::Wood(filled)) = path.fill else {
        return None;
    };
    let ring = vessel
        .rings
        .get(place)
        .filter(|it| it.striped().is_none())?;
    let text = letters.get(ring.wood_of(segment))?.as_str();
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
    // Where white and black are read alike well (WCAG 2.2, contrast ratio).
    let tone = if filled.luminance() < 0.179 {
        Tone::Paper
    } else {
        Tone::Graphite
    };
    let middle = middle(&corners).unwrap_or_else(|| least.halfway(most));
    has_room.then(|| {
        let words = Words::new(middle, text, LETTER_MM)
            .level_middle()
            .anchored(crate::draw::Anchor::Middle)
            .bold()
            .toned(tone);
        (words, filled)
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
pub fn key(sheet: &mut Drawing, plan: &StackPlan, at: (f64, f64), width: f64) -> f64 {
    key_of(sheet, plan, &plan.vessel.woods_used(), at, width)
}

/// The key to these of the woods.
pub fn key_of(
    sheet: &mut Drawing,
    plan: &StackPlan,
    woods: &[usize],
    (x, y): (f64, f64),
    width: f64,
) -> f64 {
    let vessel = &plan.vessel;
    let letters = letters(&vessel.woods);
    let mut at = point(x, y);
    let used = vessel.woods_used();
    for (pattern, &place) in used.iter().enumerate() {
        if !woods.contains(&place) {
            continue;
        }
        let (Some(letter), Some(name)) = (letters.get(place), vessel.woods.get(place)) else {
            continue;
        };
        let text = format!("{letter}  {name}");
        let text = shorten(
            &text,
            (width - SWATCH_MM - 4.0) / SCREEN_SLACK,
            KEY_MM,
            Weight::Bold,
        );
        let wide = SWATCH_MM + 4.0 + width_mm(&text, KEY_MM, Weight::Bold) * SCREEN_SLACK;
        if at.x > x && at.x + wide > x + width {
            at = point(x, at.y + KEY_LINE_MM);
        }
        if let Some(color) = color(plan, place) {
            let swatch = rectangle(point(at.x, at.y - 3.4), SWATCH_MM, 4.0);
            let swatch = Path::line(swatch, Ink::Thin).filled(Fill::Wood(color));
            let swatch = swatch.named("wood");
            let lines = lines(&swatch, pattern).filter(|_| used.len() > 1);
            sheet.add(swatch);
            sheet.add_all(lines.map(Mark::from));
        }
        sheet.add(Words::new(point(at.x + SWATCH_MM + 1.5, at.y), text, KEY_MM).bold());
        at.x += wide + 4.0;
    }
    at.y - y + KEY_LINE_MM
}

/// A wood's color, from a cell or a slot that is of it.
fn color(plan: &StackPlan, wood: usize) -> Option<Color> {
    let mut rings = plan.vessel.rings.iter().zip(&plan.rings);
    let of_ring = rings.find_map(|(ring, planned)| {
        if let Some(own) = &planned.stripes {
            let layer = own.woods.iter().position(|it| *it == wood)?;
            return own.colors.get(layer).copied();
        }
        let mut segments = 0..ring.segment_count.max(1);
        let segment = segments.find(|segment| ring.wood_of(*segment) == wood)?;
        Some(planned.color_of(segment))
    });
    of_ring.or_else(|| {
        let mut layers = plan.slot_sets.iter().flatten().flat_map(|it| &it.layers);
        let layer = layers.find(|it| it.wood == wood)?;
        Some(layer.color)
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
