//! The story stick: every height that matters, on one stick at true scale.

use super::job::{Job, OfVessel, Sheet};
use super::profile::{joint_name, meets, named};
use super::{spread, tile};
use crate::draw::pen::lettering;
use crate::draw::{
    Drawing, Ink, Lettering, Path, Weight, Words, lettering as set, point, polyline, rectangle,
};
use crate::show::words;
use crate::solve::sorted::order;
use crate::trade::shape::Wall;
use crate::units::length::{Unit, show};

/// How long a mark on the stick is, and its whole width: all words are within the cut.
const MARK_MM: f64 = 16.0;
const STICK_MM: f64 = 80.0;

/// From one label to the next.
const PITCH_MM: f64 = 4.0;

/// Room above and below the stick.
const AROUND_MM: f64 = 8.0;

/// The stick's sheets.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    let Some(wall) = &of.plan.wall else {
        return Vec::new();
    };
    let name = super::title(job.design);
    let template = stick(of, wall, job.design.unit, &name, meets(job));
    let title = words::SHEET_STORY.text;
    let pages = tile::sheets(job, title, &template);
    vec![Sheet::new("story-stick", title, pages).with_template(template)]
}

/// A height on the stick and what it is.
fn heights(of: &OfVessel, wall: &Wall, meets: Option<usize>) -> Vec<(f64, String)> {
    let rim = wall.outside.height_mm();
    let mut all = vec![
        (0.0, words::STORY_FOOT.text.to_owned()),
        (rim, words::STORY_RIM.text.to_owned()),
    ];
    // A vessel that is open below has none.
    if wall.floor_mm > 0.0 && wall.floor_mm < rim {
        all.push((wall.floor_mm, words::STORY_FLOOR.text.to_owned()));
    }
    let upper = of.plan.rings.iter().enumerate().skip(1);
    for (place, ring) in upper.filter(|(_, ring)| ring.span.bottom_mm < rim) {
        all.push((ring.span.bottom_mm, joint_name(place, meets)));
    }
    let (widest_at, _) = wall.outside.widest(0.0, wall.outside.height_mm());
    if widest_at > 0.0 && widest_at < rim {
        all.push((widest_at, words::STORY_WIDEST.text.to_owned()));
    }
    // What falls on one height is told in one line.
    let mut told: Vec<(f64, String)> = Vec::new();
    let depths: Vec<f64> = all.iter().map(|(z, _)| -z).collect();
    for (z, name) in order(&depths).into_iter().map(|at| &all[at]) {
        match told.last_mut() {
            Some((last, names)) if (*last - z).abs() < 0.05 => {
                names.push_str(", ");
                names.push_str(name);
            }
            _ => told.push((*z, name.clone())),
        }
    }
    told
}

fn stick(of: &OfVessel, wall: &Wall, unit: Unit, name: &str, meets: Option<usize>) -> Drawing {
    let rim = wall.outside.height_mm();
    let marks = heights(of, wall, meets);
    // A low one is longer than its vessel is high, so that all has room on it.
    let long = rim.max(marks.len() as f64 * PITCH_MM + 4.0);
    let height = long + 2.0 * AROUND_MM;
    let mut stick = Drawing::new(STICK_MM + 2.0, height, words::SHEET_STORY.text);
    let foot = height - AROUND_MM;
    let y = |z: f64| foot - z;
    let edge = rectangle(point(1.0, foot - long), STICK_MM, long);
    stick.add(Path::line(edge, Ink::CutOut).named("stick"));
    let wanted: Vec<f64> = marks.iter().map(|(z, _)| y(*z)).collect();
    let places = spread(&wanted, PITCH_MM, (foot - long + 3.0, foot - 2.5));
    for ((z, name), at) in marks.iter().zip(places) {
        // Its own ends are cut.
        let is_end = [foot, foot - long]
            .iter()
            .any(|end| (end - y(*z)).abs() < 1e-6);
        if !is_end {
            let line = polyline(&[point(1.0, y(*z)), point(1.0 + MARK_MM, y(*z))]);
            stick.add(Path::line(line, Ink::Thin).named("height"));
        }
        let left = MARK_MM + 7.0;
        let lead = polyline(&[point(1.0 + MARK_MM, y(*z)), point(left - 1.0, at)]);
        stick.add(Path::line(lead, Ink::Faint));
        let outside = 2.0 * wall.outside.radius_at(*z);
        let mut text = lettering(&show(*z, unit)).then("  ");
        let room = STICK_MM - left - 5.0;
        let mut across = Lettering::plain("  Ø ").join(lettering(&show(outside, unit)));
        let inside = 2.0 * wall.inside_radius_at(*z);
        if *z >= wall.floor_mm && inside > 0.0 {
            across = across.then(" / ").join(lettering(&show(inside, unit)));
        }
        let figures =
            text.width_mm(HEIGHT_MM, Weight::Regular) + across.width_mm(HEIGHT_MM, Weight::Regular);
        text = text.then(set::shorten(
            name,
            room - figures,
            HEIGHT_MM,
            Weight::Regular,
        ));
        let words = Words::new(point(left, at), text.join(across), HEIGHT_MM);
        stick.add(words.level_middle());
    }
    let at = point(STICK_MM - 1.5, foot - long / 2.0);
    named(&mut stick, name, words::CARD_STORY, at, long - 6.0);
    stick
}

/// Height of the capitals of labels.
const HEIGHT_MM: f64 = 2.2;
