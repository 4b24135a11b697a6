//! The map of the joints: all rings unrolled with the line of the front, their woods, and
//! what of each ring stands at the front.

use super::flow::Flow;
use super::job::{Job, OfVessel, Sheet};
use super::{is_lying, spread, woods};
use crate::design::{MadeOf, StackRing};
use crate::draw::lettering::{SCREEN_SLACK, shorten};
use crate::draw::{Anchor, Drawing, Frame, Ink, Tone, Weight, Words, point};
use crate::show::pictures::vessel::{Picked, unrolled};
use crate::show::pictures::view::cells;
use crate::show::words;
use crate::units::quantity::shown_degrees;
use std::f64::consts::{PI, TAU};

/// Room for the rings' numbers at the left, and for what stands at the front at the right.
const NUMBERS_MM: f64 = 10.0;
const FRONT_MM: f64 = 62.0;

/// The letters beside the map, and the least from one to the next.
const LETTER_MM: f64 = 2.1;
const PITCH_MM: f64 = 4.2;

/// Half the gap in the front's line where a letter may stand.
const GAP_MM: f64 = 1.7;

/// The map of a vessel's rings.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    // A single disc has neither joints nor a front.
    if of
        .vessel
        .rings
        .iter()
        .all(|ring| ring.made_of == MadeOf::Disc)
    {
        return Vec::new();
    }
    let mut flow = Flow::read(job, words::MAP_TITLE.text.to_owned(), &[]);
    for word in [words::MAP_SAYS, words::MAP_MARK, words::MAP_RIM_DOWN] {
        flow.paragraph(word.text, Tone::Graphite);
    }
    let (x, y, width) = (flow.left, flow.y + 5.0, flow.width);
    flow.y = y + woods::key(flow.page(), of.plan, (x, y), width) + 4.0;
    let most: f64 = if is_lying(&job.design.paper) {
        110.0
    } else {
        165.0
    };
    let size = (width - NUMBERS_MM - FRONT_MM, most.min(flow.room() - 8.0));
    let drawn = map(of, size);
    let top = flow.y;
    flow.page().place(&drawn, &Frame::at(point(x, top)));
    vec![Sheet::new("map", words::MAP_TITLE.text, flow.pages)]
}

/// The rings unrolled, each with its number and what stands at its front.
fn map(of: &OfVessel, size: (f64, f64)) -> Drawing {
    let mut rings = unrolled(of.plan, size, 0.0, Picked::default());
    woods::tell_apart(&mut rings, of.plan);
    let mut drawing = Drawing::new(
        size.0 + NUMBERS_MM + FRONT_MM,
        size.1 + 10.0,
        words::MAP_TITLE.text,
    );
    drawing.place(&rings, &Frame::at(point(NUMBERS_MM, 5.0)));
    let front = NUMBERS_MM + size.0 / 2.0;
    let marks = [
        (NUMBERS_MM + 1.0, Anchor::Start, words::MAP_BACK),
        (front, Anchor::Middle, words::MAP_FRONT),
        (NUMBERS_MM + size.0 - 1.0, Anchor::End, words::MAP_BACK),
    ];
    for (x, anchor, word) in marks {
        let words = Words::new(point(x, 3.2), word.text, LETTER_MM).bold();
        drawing.add(words.anchored(anchor));
    }
    let mut down = |from: f64, to: f64| {
        if to > from {
            drawing.line(point(front, from), point(front, to), Ink::Object);
        }
    };
    down(4.0, 6.0);
    down(size.1 + 4.0, size.1 + 8.0);
    // As `unrolled` lays them: from the foot up, in a frame of a millimeter.
    let total: f64 = of.vessel.rings.iter().map(|ring| ring.height_mm).sum();
    let scale = (size.1 - 2.0) / total.max(1e-9);
    let mut bottom = size.1 + 4.0;
    let mut middles: Vec<f64> = Vec::new();
    for ring in &of.vessel.rings {
        let middle = bottom - ring.height_mm * scale / 2.0;
        middles.push(middle);
        down(bottom - ring.height_mm * scale, middle - GAP_MM);
        down(middle + GAP_MM, bottom);
        bottom -= ring.height_mm * scale;
    }
    let wanted: Vec<f64> = middles.iter().rev().copied().collect();
    let pitch = PITCH_MM.min(size.1 / wanted.len().max(1) as f64);
    let places = spread(&wanted, pitch, (6.0, size.1 + 4.0));
    let rings = of.vessel.rings.iter().enumerate().rev();
    for (((place, ring), middle), y) in rings.zip(wanted).zip(places) {
        let height = LETTER_MM.min(pitch * 0.6);
        let number = Words::new(point(NUMBERS_MM - 2.0, y), (place + 1).to_string(), height);
        drawing.add(number.anchored(Anchor::End).level_middle().bold());
        let right = NUMBERS_MM + size.0;
        drawing.line(point(right, middle), point(right + 3.0, y), Ink::Thin);
        let says = at_front(ring, &of.vessel.woods);
        let room = (FRONT_MM - 5.0) / SCREEN_SLACK;
        let says = shorten(&says, room, height, Weight::Regular);
        drawing.add(Words::new(point(right + 4.0, y), says, height).level_middle());
    }
    drawing
}

/// How far the joint that is nearest to the front lies to the right of it, seen from outside
/// with the rim up; none without joints.
pub fn nearest_joint_rad(ring: &StackRing) -> Option<f64> {
    if ring.made_of == MadeOf::Disc {
        return None;
    }
    let round = ring.round();
    let joints = round
        .joints_rad()
        .map(|joint| (joint + PI).rem_euclid(TAU) - PI);
    joints.reduce(|one, other| {
        // Of two alike the right one.
        if other.abs() < one.abs() - 1e-9 || ((other.abs() - one.abs()).abs() < 1e-9 && other > one)
        {
            other
        } else {
            one
        }
    })
}

/// What of a ring stands at the front.
pub fn at_front(ring: &StackRing, names: &[String]) -> String {
    let Some(nearest) = nearest_joint_rad(ring) else {
        return words::MAP_DISC.text.to_owned();
    };
    let angle = format!("{}°", shown_degrees(nearest.abs()).text);
    if nearest.abs() < 1e-9 {
        return words::MAP_JOINT.text.to_owned();
    }
    let spans = cells(ring);
    let segment = spans.iter().find(|(_, from, to)| *from < 0.0 && *to > 0.0);
    let wood = segment.and_then(|(segment, _, _)| names.get(ring.wood_of(*segment)));
    let wood = match ring.striped() {
        Some(_) => words::MAP_STRIPED.text,
        None => wood.map_or("", String::as_str),
    };
    let round = ring.round();
    let middle = round.middle_rad(round.segment_at(0.0));
    if ((middle + PI).rem_euclid(TAU) - PI).abs() < 1e-9 {
        return words::filled(words::MAP_SEGMENT, &[wood]);
    }
    let word = if nearest > 0.0 {
        words::MAP_RIGHT
    } else {
        words::MAP_LEFT
    };
    words::filled(word, &[&angle, wood])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_at_the_front_follows_the_turn() {
        let names = vec!["Maple".to_owned(), "Padauk".to_owned()];
        let ring = |turn| StackRing {
            turn_half_segments: turn,
            pattern: vec![1, 0, 0, 0],
            ..StackRing::plain(10.0, 12)
        };
        assert_eq!(at_front(&ring(0), &names), "Middle of a segment, Padauk");
        assert_eq!(at_front(&ring(1), &names), "A joint");
        assert_eq!(at_front(&ring(2), &names), "Middle of a segment, Maple");
    }
}
