//! The index disc: a mark for every segment of every open ring, round one cross, for a lathe
//! without a plate that serves them.

use super::job::{Job, OfVessel, Sheet};
use super::tile;
use crate::draw::lettering::wrap;
use crate::draw::{
    Anchor, Drawing, Ink, Path, Point, Tone, Weight, Words, circle, point, polyline,
};
use crate::plan::bill::ring_numbers;
use crate::plan::open_ring::{Track, tracks};
use crate::show::words;
use crate::units::quantity::degrees;
use std::f64::consts::{FRAC_PI_2, TAU};

/// Where the disc is cut: with what is said below it, it stands on one sheet of any paper.
const EDGE_RADIUS_MM: f64 = 72.0;

/// How wide disc and words are together: what any paper has room for.
const WIDE_MM: f64 = 178.0;

/// The outermost circle of marks, and from one to the next.
const OUTERMOST_MM: f64 = 69.0;
const APART_MM: f64 = 6.5;

/// So many circles stand on a disc: within them lies what holds it.
const MOST_TRACKS: usize = 7;

/// How long a mark is, inward from its circle.
const MARK_MM: f64 = 2.5;

/// Height of the capitals of numbers, and of what is said below the disc.
const NUMBER_MM: f64 = 1.9;
const HEIGHT_MM: f64 = 2.2;
const LINE_MM: f64 = 3.5;

/// Round the hole in the middle.
const PIN_MM: f64 = 3.0;

/// The discs' sheets, where open rings are still to be made.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    let meeting = job.plan.order().map_or(0, |order| order.meeting);
    let all = tracks(of.plan, meeting);
    let discs = all.chunks(MOST_TRACKS).enumerate();
    let title = words::SHEET_INDEX_DISC.text;
    discs
        .map(|(place, own)| {
            let template = disc(of, own, meeting);
            let pages = tile::sheets(job, title, &template);
            let key = match place {
                0 => "index-disc".to_owned(),
                _ => format!("index-disc-{}", place + 1),
            };
            Sheet::new(key, title, pages).with_template(template)
        })
        .collect()
}

/// A place on the disc: the front is above, directions grow to the left.
fn at(center: Point, radius_mm: f64, direction_rad: f64) -> Point {
    center.polar(radius_mm, -FRAC_PI_2 - direction_rad)
}

/// Every how many marks one has its number, where so many stand on a circle.
fn numbered_every(radius_mm: f64, count: usize) -> usize {
    const ROOM_MM: f64 = 4.6;
    let pitch_mm = TAU * radius_mm / count as f64;
    let steps = [1, 2, 5, 10, 20, 50];
    let has_room = |step: &usize| pitch_mm * *step as f64 >= ROOM_MM;
    steps.into_iter().find(has_room).unwrap_or(100)
}

fn disc(of: &OfVessel, tracks: &[Track], meeting: usize) -> Drawing {
    let across = 2.0 * EDGE_RADIUS_MM + 4.0;
    let said = said(of, tracks, meeting);
    let lines: Vec<(bool, String)> = said
        .into_iter()
        .flat_map(|(is_bold, text)| {
            let weight = if is_bold {
                Weight::Bold
            } else {
                Weight::Regular
            };
            let lines = wrap(&text, WIDE_MM - 2.0, HEIGHT_MM, weight);
            lines.into_iter().map(move |line| (is_bold, line))
        })
        .collect();
    let high = across + 3.0 + LINE_MM * lines.len() as f64;
    let mut disc = Drawing::new(WIDE_MM, high, words::SHEET_INDEX_DISC.text);
    let center = point(WIDE_MM / 2.0, across / 2.0);
    let edge = Path::line(circle(center, EDGE_RADIUS_MM), Ink::CutOut);
    disc.add(edge.named("edge"));
    disc.add(Path::line(circle(center, PIN_MM), Ink::CutOut).named("center"));
    for quarter in 0..4 {
        let turn = f64::from(quarter) * FRAC_PI_2;
        let ends = [0.0, 20.0].map(|radius| at(center, radius, turn));
        disc.add(Path::line(polyline(&ends), Ink::Thin).named("axis"));
    }
    let front = [20.0, EDGE_RADIUS_MM].map(|radius| at(center, radius, 0.0));
    disc.add(Path::line(polyline(&front), Ink::Faint).named("front"));
    for (place, track) in tracks.iter().enumerate() {
        let radius_mm = OUTERMOST_MM - APART_MM * place as f64;
        draw_track(&mut disc, center, radius_mm, track, &letter(place));
    }
    for (row, (is_bold, line)) in lines.into_iter().enumerate() {
        let words = Words::new(
            point(1.0, across + 3.5 + LINE_MM * row as f64),
            line,
            HEIGHT_MM,
        );
        disc.add(if is_bold { words.bold() } else { words });
    }
    disc
}

fn letter(place: usize) -> String {
    char::from(b'A' + place as u8).to_string()
}

fn draw_track(disc: &mut Drawing, center: Point, radius_mm: f64, track: &Track, name: &str) {
    disc.add(Path::line(circle(center, radius_mm), Ink::Faint).named("track"));
    let count = track.marks_rad.len();
    let numbers_mm = radius_mm - MARK_MM - NUMBER_MM * 0.8;
    let every = numbered_every(numbers_mm, count);
    for (place, mark_rad) in track.marks_rad.iter().enumerate() {
        let ends = [radius_mm - MARK_MM, radius_mm].map(|it| at(center, it, *mark_rad));
        disc.add(Path::line(polyline(&ends), Ink::Object).named("mark"));
        // The last ones would meet the first.
        if place % every == 0 && (place == 0 || count - place >= every) {
            let number = (place + 1).to_string();
            written(disc, center, numbers_mm, *mark_rad, number, false);
        }
    }
    let next_rad = track.marks_rad.get(every.min(count - 1)).copied();
    let named_rad = f64::midpoint(track.marks_rad[0], next_rad.unwrap_or_default());
    written(disc, center, numbers_mm, named_rad, name.to_owned(), true);
}

/// Words on a circle, read from within it.
fn written(
    disc: &mut Drawing,
    center: Point,
    radius_mm: f64,
    direction_rad: f64,
    text: String,
    is_name: bool,
) {
    let words = Words::new(at(center, radius_mm, direction_rad), text, NUMBER_MM);
    let words = words
        .anchored(Anchor::Middle)
        .level_middle()
        .turned(-direction_rad.to_degrees());
    disc.add(if is_name {
        words.bold().toned(Tone::Held)
    } else {
        words
    });
}

/// What is said below the disc: how it is used, and whose marks each circle has.
fn said(of: &OfVessel, tracks: &[Track], meeting: usize) -> Vec<(bool, String)> {
    let row = |(place, track): (usize, &Track)| {
        let rings = words::rings_named(&ring_numbers(&track.rings), track.rings.len());
        let count = track.marks_rad.len().to_string();
        let is_even = track
            .rings
            .iter()
            .all(|it| of.plan.rings[*it].round.is_even());
        let first = match track.marks_rad[0] {
            _ if !is_even => words::INDEX_TRACK_UNLIKE.text.to_owned(),
            first if first <= 0.0 => words::INDEX_TRACK_FRONT.text.to_owned(),
            first => words::filled(words::INDEX_TRACK_TURNED, &[&degrees(first)]),
        };
        let is_rim_down = meeting > 0 && track.rings.iter().any(|it| *it >= meeting);
        let down = if is_rim_down {
            words::INDEX_TRACK_DOWN.text
        } else {
            ""
        };
        let text = words::filled(
            words::INDEX_TRACK,
            &[&letter(place), &rings, &count, &first, down],
        );
        (true, text)
    };
    let uses = [words::INDEX_DISC_USE, words::INDEX_DISC_SAFETY];
    let uses = uses.into_iter().map(|it| (false, it.text.to_owned()));
    tracks.iter().enumerate().map(row).chain(uses).collect()
}
