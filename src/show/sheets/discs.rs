//! The centring disc: circles at true scale round one cross, to lay a ring, a base or a
//! waste block on the middle by.

use super::job::{Job, OfVessel, Sheet};
use super::tile;
use crate::draw::pen::lettering;
use crate::draw::{
    Anchor, Drawing, Fill, Ink, Lettering, Path, Tone, Weight, Words, circle, point, polygon,
};
use crate::show::words;
use crate::solve::sorted::order;
use crate::units::length::{Unit, show};
use std::f64::consts::{PI, TAU};

/// Circles nearer to each other than this are one: less than a line of theirs may be off.
const SAME_MM: f64 = 0.02;

/// Rays on which the circles' numbers stand in turn.
const RAYS: u32 = 12;

/// Height of the capitals of numbers.
const HEIGHT_MM: f64 = 2.2;

/// Room round the largest circle.
const AROUND_MM: f64 = 6.0;

/// The disc's sheets.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    let Some(template) = disc(of, job.design.unit) else {
        return Vec::new();
    };
    let title = words::SHEET_DISCS.text;
    let pages = tile::sheets(job, title, &template);
    vec![Sheet::new("centering", title, pages).with_template(template)]
}

/// Radii of the rings' finished outsides, each with the rings that have it.
fn radii(of: &OfVessel) -> Vec<(f64, Vec<usize>)> {
    let all: Vec<f64> = of
        .plan
        .rings
        .iter()
        .map(|ring| ring.wanted.outside_radius_mm)
        .collect();
    let mut circles: Vec<(f64, Vec<usize>)> = Vec::new();
    for place in order(&all) {
        let radius = all[place];
        match circles.last_mut() {
            Some((last, places)) if radius - *last < SAME_MM => {
                places.insert(places.partition_point(|other| *other < place), place);
            }
            _ => circles.push((radius, vec![place])),
        }
    }
    circles
}

fn disc(of: &OfVessel, unit: Unit) -> Option<Drawing> {
    let circles = radii(of);
    let (largest, _) = circles.last()?;
    let side = 2.0 * (largest + AROUND_MM);
    let mut disc = Drawing::new(side, side, words::SHEET_DISCS.text);
    let center = point(side / 2.0, side / 2.0);
    for angle in [0.0, PI / 2.0] {
        let reach = largest + AROUND_MM - 1.0;
        disc.line(
            center.polar(-reach, angle),
            center.polar(reach, angle),
            Ink::Thin,
        );
    }
    disc.add(Path::line(circle(center, 3.0), Ink::Object).named("center"));
    // A diameter on each circle, turned from one to the next, so that they keep clear.
    let mut ends = [0.0_f64; RAYS as usize];
    let mut named: Vec<Words> = Vec::new();
    for (at, (radius, places)) in circles.iter().enumerate() {
        let is_last = at + 1 == circles.len();
        let ink = if is_last { Ink::Object } else { Ink::Thin };
        disc.add(Path::line(circle(center, *radius), ink).named("circle"));
        let text = Lettering::plain(words::circle_of(&crate::plan::bill::ring_numbers(places)))
            .join(lettering(&show(2.0 * radius, unit)));
        let ray = at as u32 % RAYS;
        let angle = TAU * (f64::from(ray) + 0.5) / f64::from(RAYS);
        // Straight across the ray, just within the circle.
        let half = text.width_mm(HEIGHT_MM, Weight::Regular) / 2.0;
        let within = (radius * radius - half * half).max(0.0).sqrt() - HEIGHT_MM;
        let words = Words::new(center.polar(within, angle), text, HEIGHT_MM)
            .anchored(Anchor::Middle)
            .level_middle()
            .turned(readable(angle.to_degrees() + 90.0));
        let is_room = half < within * (TAU / f64::from(RAYS) / 2.0).tan() * 0.95
            && radius - ends[ray as usize] > HEIGHT_MM + 2.0;
        if is_room {
            ends[ray as usize] = *radius;
            named.push(words);
        }
    }
    // Over the other circles, which are left open for them.
    for words in named {
        let [upper_left, upper_right, lower_left, lower_right] = words.corners();
        let ground = polygon(&[upper_left, upper_right, lower_right, lower_left]);
        disc.add(Path::area(ground, Fill::Tone(Tone::Paper)));
        disc.add(words);
    }
    Some(disc)
}

/// The same line, read from below or from the right.
fn readable(turn_deg: f64) -> f64 {
    let turn = turn_deg.rem_euclid(360.0);
    if turn > 90.0 && turn < 270.0 {
        turn - 180.0
    } else {
        turn
    }
}
