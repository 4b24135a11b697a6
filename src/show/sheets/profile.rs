//! Templates of the finished outside and inside at true scale: a card that is laid
//! against the outside, and one that is let down into the inside.

use super::job::{Job, OfVessel, Sheet};
use super::{spread, tile};
use crate::draw::lettering::{shorten, width_mm};
use crate::draw::pen::lettering;
use crate::draw::{
    Anchor, Drawing, Ink, Lettering, Path, Point, Step, Weight, Words, point, polyline,
};
use crate::show::words;
use crate::trade::shape::Wall;
use crate::units::length::show;

/// How far the outside's card reaches beyond the widest place.
const GRIP_MM: f64 = 46.0;

/// From one label to the next.
const PITCH_MM: f64 = 4.0;

/// Height of the capitals of labels.
const HEIGHT_MM: f64 = 2.2;

/// Room around a card.
const AROUND_MM: f64 = 6.0;

/// Points of the inside: none farther from the next than a 400th of its height, so that
/// the straight lines between them stay within hundredths of a millimeter.
const INSIDE_POINTS: u32 = 400;

/// A card lower than this is no use.
const LEAST_MM: f64 = 2.0;

/// Both templates.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    let Some(wall) = &of.plan.wall else {
        return Vec::new();
    };
    let name = super::title(job.design);
    let mut sheets = vec![one(
        job,
        "template-outside",
        words::SHEET_OUTSIDE,
        outside(job, of, wall, &name),
    )];
    for (key, title, card, ends) in inside_cards(job, of, wall) {
        if ends[1].0 - ends[0].0 > LEAST_MM {
            let template = inside(job, of, wall, (title, card), (&name, &ends));
            sheets.push(one(job, key, title, template));
        }
    }
    sheets
}

/// An end of a card: its height above the foot, and what it is.
type End = (f64, String);

/// The cards for the inside, each with its ends: of a piece that is turned in two halves one
/// for each, from the face where they meet, since no tool comes from the rim to the floor.
fn inside_cards(
    job: &Job,
    of: &OfVessel,
    wall: &Wall,
) -> Vec<(&'static str, words::Word, words::Word, [End; 2])> {
    let floor = (wall.floor_mm, words::STORY_FLOOR.text.to_owned());
    let rim = (wall.outside.height_mm(), words::STORY_RIM.text.to_owned());
    let joint = meets(job).and_then(|place| {
        let height_mm = of.plan.rings.get(place)?.span.bottom_mm;
        let is_inside = floor.0 < height_mm && height_mm < rim.0;
        is_inside.then(|| (height_mm, joint_name(place, Some(place))))
    });
    let Some(joint) = joint else {
        let (title, card) = (words::SHEET_INSIDE, words::CARD_INSIDE);
        return vec![("template-inside", title, card, [floor, rim])];
    };
    let lower = (words::SHEET_INSIDE_LOWER, words::CARD_INSIDE_LOWER);
    let upper = (words::SHEET_INSIDE_UPPER, words::CARD_INSIDE_UPPER);
    vec![
        ("template-inside", lower.0, lower.1, [floor, joint.clone()]),
        ("template-inside-upper", upper.0, upper.1, [joint, rim]),
    ]
}

fn one(job: &Job, key: &str, title: words::Word, template: Drawing) -> Sheet {
    let title = title.text;
    let pages = tile::sheets(job, title, &template);
    Sheet::new(key, title, pages).with_template(template)
}

/// The card for the outside: what is left of a rectangle when the vessel is cut out.
fn outside(job: &Job, of: &OfVessel, wall: &Wall, name: &str) -> Drawing {
    let rim = wall.outside.height_mm();
    let samples = wall.outside.samples(32);
    let radius = samples.iter().map(|(_, r)| *r);
    let (least, most) = radius.fold((f64::MAX, 0.0_f64), |(least, most), r| {
        (least.min(r), most.max(r))
    });
    let width = most - least + GRIP_MM + 2.0 * AROUND_MM;
    let mut card = Drawing::new(width, rim + 2.0 * AROUND_MM, words::SHEET_OUTSIDE.text);
    let at = |z: f64, r: f64| point(AROUND_MM + r - least, AROUND_MM + rim - z);
    let mut steps = Vec::new();
    for piece in &wall.outside.pieces {
        let place = |end: usize| at(piece.height_mm[end], piece.radius_mm[end]);
        if steps.is_empty() {
            steps.push(Step::MoveTo(place(0)));
        }
        steps.push(Step::CurveTo(place(1), place(2), place(3)));
    }
    let grip = most + GRIP_MM;
    steps.extend([
        Step::LineTo(at(rim, grip)),
        Step::LineTo(at(0.0, grip)),
        Step::Close,
    ]);
    card.add(Path::line(steps, Ink::CutOut).named("outside template"));
    let edge = |z: f64| wall.outside.radius_at(z);
    let name_at = at(rim / 2.0, grip - 4.0);
    named(&mut card, name, words::CARD_OUTSIDE, name_at, rim - 6.0);
    ticks(
        &mut card,
        job,
        of,
        &Ticks {
            at: &at,
            edge: &edge,
            toward: 1.0,
            ends: &[
                (0.0, words::STORY_FOOT.text.to_owned()),
                (rim, words::STORY_RIM.text.to_owned()),
            ],
            room: grip,
        },
    );
    card
}

/// A card for the inside: from the axis to the wall, between two heights.
fn inside(
    job: &Job,
    of: &OfVessel,
    wall: &Wall,
    (title, word): (words::Word, words::Word),
    (name, ends): (&str, &[End; 2]),
) -> Drawing {
    let (low, high) = (ends[0].0, ends[1].0);
    let mut samples = wall.inside_samples(INSIDE_POINTS);
    samples.retain(|(z, _)| *z > low + 1e-6 && *z < high - 1e-6);
    samples.insert(0, (low, wall.inside_radius_at(low)));
    samples.push((high, wall.inside_radius_at(high)));
    let most = samples.iter().map(|(_, r)| *r).fold(1.0, f64::max);
    let width = most + 2.0 * AROUND_MM;
    let mut card = Drawing::new(width, high - low + 2.0 * AROUND_MM, title.text);
    let at = |z: f64, r: f64| point(AROUND_MM + r, AROUND_MM + high - z);
    let mut points: Vec<Point> = vec![at(low, 0.0)];
    points.extend(samples.iter().map(|(z, r)| at(*z, *r)));
    points.push(at(high, 0.0));
    let mut steps = polyline(&points);
    steps.push(Step::Close);
    card.add(Path::line(steps, Ink::CutOut).named("inside template"));
    card.line(at(low, 0.0), at(high, 0.0), Ink::Center);
    let edge = |z: f64| wall.inside_radius_at(z);
    let name_at = at(f64::midpoint(high, low), 5.0);
    named(&mut card, name, word, name_at, high - low - 6.0);
    ticks(
        &mut card,
        job,
        of,
        &Ticks {
            at: &at,
            edge: &edge,
            toward: -1.0,
            ends,
            room: 0.0,
        },
    );
    card
}

/// The design's name and what the card is, upright along its straight side.
pub(super) fn named(card: &mut Drawing, name: &str, word: words::Word, at: Point, room_mm: f64) {
    // A sheet of paper has no more room, where the card takes several.
    let room = room_mm.min(110.0);
    let says = format!(": {}", word.text);
    let left = room - width_mm(&says, HEIGHT_MM, Weight::Regular);
    // A long name gives way to what the card is, as long as the name can be told.
    let about = if left > 15.0 {
        shorten(name, left, HEIGHT_MM, Weight::Regular) + &says
    } else {
        shorten(&format!("{name}{says}"), room, HEIGHT_MM, Weight::Regular)
    };
    let words = Words::new(at, about, HEIGHT_MM).anchored(Anchor::Middle);
    card.add(words.turned(-90.0));
}

/// The lowest ring of the upper half, where there are two.
pub(super) fn meets(job: &Job) -> Option<usize> {
    let order = job.plan.order().filter(|order| order.halves.len() > 1)?;
    Some(order.meeting)
}

/// The joint below a ring, and whether the halves meet there.
pub(super) fn joint_name(place: usize, meets: Option<usize>) -> String {
    let joint = words::story_joint(place);
    if meets == Some(place) {
        words::filled(words::STORY_MEET, &[&joint])
    } else {
        joint
    }
}

/// How joints are ticked on a card.
struct Ticks<'a> {
    /// From height and radius to the drawing.
    at: &'a dyn Fn(f64, f64) -> Point,
    /// The card's edge.
    edge: &'a dyn Fn(f64) -> f64,
    /// On which side of the edge the card is.
    toward: f64,
    /// Its lower and its upper end.
    ends: &'a [End; 2],
    /// Radius of the card's far side, the way that it is on.
    room: f64,
}

/// The rings' joints on the card with their diameters, and which end is which: as many as
/// have room.
fn ticks(card: &mut Drawing, job: &Job, of: &OfVessel, how: &Ticks) {
    let (unit, meets) = (job.design.unit, meets(job));
    let [(low, low_name), (high, high_name)] = how.ends;
    let y = |z: f64| (how.at)(z, 0.0).y;
    let mut told = vec![(*high, None, high_name.clone())];
    for (place, ring) in of.plan.rings.iter().enumerate().skip(1).rev() {
        let z = ring.span.bottom_mm;
        if z <= low + 0.5 || z >= high - 0.5 {
            continue;
        }
        let radius = (how.edge)(z);
        let edge = (how.at)(z, radius);
        // A card that is narrow here has a short tick.
        let reach = if how.toward < 0.0 {
            radius.min(6.0)
        } else {
            6.0
        };
        let end = point(edge.x + reach * how.toward, edge.y);
        card.add(Path::line(polyline(&[edge, end]), Ink::Thin).named("joint"));
        told.push((z, Some(end), joint_name(place, meets)));
    }
    told.push((*low, None, low_name.clone()));
    let limits = (y(*high) + 2.6, y(*low) - 2.6);
    let fit = ((limits.1 - limits.0) / PITCH_MM).max(0.0) as usize + 1;
    // Both ends first; where the others have no room, some are left out evenly.
    let last = told.len() - 1;
    let every = (last.saturating_sub(1))
        .div_ceil(fit.saturating_sub(2).max(1))
        .max(1);
    let mut at = 0..;
    told.retain(|_| at.next().is_some_and(|at| at % every == 0 || at == last));
    if told.len() > fit {
        return;
    }
    let wanted: Vec<f64> = told.iter().map(|(z, ..)| y(*z)).collect();
    for ((z, tick, name), y_mm) in told.iter().zip(spread(&wanted, PITCH_MM, limits)) {
        // The card's edge where the words stand, and where their corners do.
        let down = (how.at)(0.0, 0.0).y;
        let edges = [-1.5, 0.0, 1.5].map(|aside| {
            let z = (down - y_mm + aside).clamp(*low, *high);
            (how.at)(z, (how.edge)(z)).x
        });
        let edge = edges.into_iter().reduce(|one, other| {
            if (other - one) * how.toward > 0.0 {
                other
            } else {
                one
            }
        });
        // An end's name stands far from a tick that is as near as a line: it is not that one's.
        let is_near = |(other, tick, _): &(f64, Option<Point>, String)| {
            tick.is_some() && (other - z).abs() < PITCH_MM
        };
        let aside_mm = match tick {
            Some(_) => 8.0,
            None if told.iter().any(is_near) => 28.0,
            None => 3.0,
        };
        let begin = edge.unwrap_or_default() + aside_mm * how.toward;
        let in_short = Lettering::plain(name.as_str());
        let across = lettering(&show(2.0 * (how.edge)(*z), unit));
        let whole = in_short.clone().then("  Ø ").join(across);
        let room = ((how.at)(0.0, how.room).x - begin).abs() - 7.0;
        let texts = if tick.is_some() {
            vec![whole, in_short]
        } else {
            vec![in_short]
        };
        let texts = texts.into_iter();
        let mut said =
            texts.map(|text| Words::new(point(begin, y_mm), text, HEIGHT_MM).level_middle());
        let Some(words) = said.find(|words| words.width_mm() <= room) else {
            continue;
        };
        if let Some(end) = tick
            && (end.y - y_mm).abs() > 0.2
        {
            let lead = polyline(&[*end, point(begin - 1.0 * how.toward, y_mm)]);
            card.add(Path::line(lead, Ink::Faint));
        }
        card.add(words.anchored(if how.toward < 0.0 {
            Anchor::End
        } else {
            Anchor::Start
        }));
    }
}
