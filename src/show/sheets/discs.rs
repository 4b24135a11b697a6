//! The centring disc: circles at true scale round one cross, to lay a ring, a base or a
//! waste block on the middle by.

use super::job::{Job, OfVessel, Sheet};
use super::tile;
use crate::draw::lettering::wrap;
use crate::draw::pen::lettering;
use crate::draw::{
    Anchor, Drawing, Fill, Ink, Lettering, Path, Step, Tone, Weight, Words, arc, circle, point,
    polygon, polyline,
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

/// Across the hole for the pin.
const PIN_MM: f64 = 6.0;

/// What half a disc has below its middle, for the pin's hole to be whole.
const BELOW_MM: f64 = 8.0;

/// The disc is cut so far outside its largest circle, which stays on it (our own choice, no
/// published source).
const RIM_MM: f64 = 3.0;

/// Room round the largest circle.
const AROUND_MM: f64 = 6.0;

/// The disc's sheets.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    let Some(template) = disc(of, job.design.unit, false) else {
        return Vec::new();
    };
    let title = words::SHEET_DISCS.text;
    let mut pages = tile::sheets(job, title, &template);
    // Where it takes several sheets, half of it does as well.
    if pages.len() > 1
        && let Some(half) = disc(of, job.design.unit, true)
    {
        pages = tile::sheets(job, title, &half);
    }
    vec![Sheet::new("centering", title, pages).with_template(template)]
}

/// Radii of the circles through the glued rings' corners, each with the rings that have it.
fn radii(of: &OfVessel) -> Vec<(f64, Vec<usize>)> {
    let all: Vec<f64> = of.plan.rings.iter().map(|ring| ring.reach_mm).collect();
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

/// The whole disc, or the half of it above its middle.
fn disc(of: &OfVessel, unit: Unit, is_half: bool) -> Option<Drawing> {
    let circles = radii(of);
    let (largest, _) = circles.last()?;
    let side = 2.0 * (largest + AROUND_MM);
    let down = if is_half { BELOW_MM } else { side / 2.0 };
    let mut disc = Drawing::new(side, side / 2.0 + down, words::SHEET_DISCS.text);
    let center = point(side / 2.0, side / 2.0);
    let reach = largest + AROUND_MM - 1.0;
    let cross = [(-reach, 0.0), (reach, 0.0), (0.0, -reach)];
    let low = (!is_half).then_some((0.0, reach));
    for (x, y) in cross.into_iter().chain(low) {
        let ray = polyline(&[center, point(center.x + x, center.y + y)]);
        disc.add(Path::line(ray, Ink::Thin).named("axis"));
    }
    disc.add(Path::line(circle(center, PIN_MM / 2.0), Ink::CutOut).named("center"));
    // What is cut out, in one closed line.
    let round = |radius: f64| {
        if is_half {
            arc(center, radius, PI, TAU)
        } else {
            circle(center, radius)
        }
    };
    let cut = largest + RIM_MM;
    let mut edge = round(cut);
    if is_half {
        let below = center.y + BELOW_MM - 1.0;
        edge.extend([
            Step::LineTo(point(center.x + cut, below)),
            Step::LineTo(point(center.x - cut, below)),
            Step::Close,
        ]);
    }
    disc.add(Path::line(edge, Ink::CutOut).named("edge"));
    let rays = if is_half { RAYS / 2 } else { RAYS };
    // A diameter on each circle, turned from one to the next, so that they keep clear.
    let mut ends = [0.0_f64; RAYS as usize];
    let mut named: Vec<Words> = Vec::new();
    for (at, (radius, places)) in circles.iter().enumerate() {
        disc.add(Path::line(round(*radius), Ink::Thin).named("circle"));
        let text = Lettering::plain(words::circle_of(&crate::plan::bill::ring_numbers(places)))
            .join(lettering(&show(2.0 * radius, unit)));
        let ray = at as u32 % rays;
        let angle = PI + TAU * (f64::from(ray) + 0.5) / f64::from(RAYS);
        // Straight across the ray, in its own circle's line.
        let half = text.width_mm(HEIGHT_MM, Weight::Regular) / 2.0;
        let words = Words::new(center.polar(*radius, angle), text, HEIGHT_MM)
            .anchored(Anchor::Middle)
            .level_middle()
            .turned(readable(angle.to_degrees() + 90.0));
        let is_room = half < radius * (TAU / f64::from(RAYS) / 2.0).tan() * 0.95
            && radius - ends[ray as usize] > HEIGHT_MM + 2.0;
        if is_room {
            ends[ray as usize] = *radius;
            named.push(words);
        }
    }
    let told = [
        (if is_half {
            words::DISCS_USE_HALF
        } else {
            words::DISCS_USE
        })
        .text
        .to_owned(),
        words::filled(words::DISCS_PIN, &[&show(PIN_MM, unit).line()]),
    ];
    // Within the smallest circle, right of the upright line: tiles meet near it.
    let (smallest, _) = circles.first()?;
    let wide = 0.66 * smallest;
    let mut lines: Vec<String> = told
        .iter()
        .flat_map(|text| wrap(text, wide, HEIGHT_MM, Weight::Regular))
        .collect();
    if lines.len() as f64 * 4.0 + 8.0 > 0.75 * smallest {
        lines.clear();
    }
    for (row, line) in lines.iter().rev().enumerate() {
        let at = point(center.x + 3.0, center.y - 8.0 - 4.0 * row as f64);
        named.push(Words::new(at, line.as_str(), HEIGHT_MM));
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
