//! A ring at true scale, to be glued up on, or, where its segments stand apart, to set them by.

use super::job::{Job, Sheet};
use super::ring::alike;
use super::tile;
use crate::draw::{Anchor, Drawing, Ink, Path, Point, Words, circle, point, polygon, polyline};
use crate::plan::bill::ring_numbers;
use crate::plan::open_ring::is_open;
use crate::plan::rings::RingInStack;
use crate::plan::stack::StackPlan;
use crate::show::words;
use std::f64::consts::TAU;

/// The ring at true scale, glued up on it: its corners and joints, tiled. Not usual, since
/// it takes much paper.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    alike(of)
        .into_iter()
        .filter_map(|places| {
            let place = *places.first()?;
            let key = format!("full-size-{}", place + 1);
            if !job.choice.takes(&key, false) {
                return None;
            }
            let planned = of.plan.rings.get(place)?;
            let segment = planned.segment?;
            let side = segment.across_corners_mm + 8.0;
            let mut template = Drawing::new(
                side,
                side,
                words::ring_full_size(&ring_numbers(&places), places.len()),
            );
            let center = point(side / 2.0, side / 2.0);
            let is_open = is_open(of.plan, place);
            cut_lines(&mut template, center, planned, is_open);
            for radius in [
                planned.span.outside_radius_mm,
                planned.span.inside_radius_mm,
            ] {
                if radius > 0.0 {
                    let finished = Path::line(circle(center, radius), Ink::Finished);
                    template.add(finished.named("circle"));
                }
            }
            for turn in [0.0, TAU / 4.0] {
                let cross = polyline(&[center.polar(-8.0, turn), center.polar(8.0, turn)]);
                template.add(Path::line(cross, Ink::Thin).named("axis"));
            }
            if is_open {
                fronts(&mut template, center, of.plan, &places);
            }
            // Cut out, it still says which ring it is.
            let middle = f64::midpoint(segment.inside_apothem_mm, segment.outside.apothem_mm);
            let name = words::rings_named(&ring_numbers(&places), places.len());
            let name = Words::new(center.polar(middle, 0.0), name, 2.6).bold();
            if name.width_mm() < segment.short_edge_mm {
                template.add(name.turned(90.0).level_middle().anchored(Anchor::Middle));
            }
            let title = words::ring_full_size(&ring_numbers(&places), places.len());
            let pages = tile::sheets(job, &title, &template);
            let mut sheet = Sheet::new(key, title, pages).with_template(template);
            sheet.is_usual = false;
            Some(sheet)
        })
        .collect()
}

/// Of rings that are set segment by segment: the numbers of the segments, and where the front of
/// each ring is, counted from the middle of its first segment.
fn fronts(template: &mut Drawing, center: Point, plan: &StackPlan, places: &[usize]) {
    let Some(planned) = places.first().map(|place| &plan.rings[*place]) else {
        return;
    };
    let Some(segment) = planned.segment else {
        return;
    };
    let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
    let round = &planned.round;
    for number in 1..round.count() {
        let turn = round.middle_rad(0) - round.middle_rad(number);
        let at = center.polar(f64::midpoint(inside, outside), turn);
        let words = Words::new(at, (number + 1).to_string(), 2.1).anchored(Anchor::Middle);
        template.add(words.level_middle());
    }
    let reach = segment.across_corners_mm / 2.0;
    let mut told: Vec<(f64, Vec<usize>)> = Vec::new();
    for place in places {
        let turn = plan.rings[*place].round.middle_rad(0).rem_euclid(TAU);
        match told.iter_mut().find(|it| (it.0 - turn).abs() < 1e-6) {
            Some(known) => known.1.push(*place),
            None => told.push((turn, vec![*place])),
        }
    }
    for (turn, own) in told {
        let ray = [inside * 0.6, reach + 3.0].map(|radius| center.polar(radius, turn));
        template.add(Path::line(polyline(&ray), Ink::Thin).named("front"));
        let name = words::rings_named(&ring_numbers(&own), own.len());
        let name = words::filled(words::PLACING_FRONT, &[&name]);
        let angle = turn.to_degrees();
        let is_left = turn.cos() < 0.0;
        let words = Words::new(center.polar(inside * 0.56, turn), name, 2.1);
        let words = words.turned(if is_left { angle + 180.0 } else { angle });
        let end = if is_left { Anchor::Start } else { Anchor::End };
        template.add(words.level_middle().anchored(end));
    }
    let above = Words::new(
        point(center.x, center.y + 12.0),
        words::PLACING_ABOVE.text,
        2.1,
    );
    if above.width_mm() < inside {
        template.add(above.anchored(Anchor::Middle));
    }
}

/// The ring's corners and joints, each line once.
fn cut_lines(template: &mut Drawing, center: Point, planned: &RingInStack, is_open: bool) {
    let all: Vec<[Point; 4]> = (0..planned.round.count())
        .filter_map(|segment| corners(center, planned, segment, is_open))
        .collect();
    let mut cut = |steps, name: &str| {
        template.add(Path::line(steps, Ink::CutOut).named(name));
    };
    if planned.wanted.spacer_mm > 0.0 || is_open {
        // Segments apart have edges of their own.
        for corners in &all {
            cut(polygon(corners), "segment");
        }
        return;
    }
    // A wide one's corners stand out beyond those of a narrow one: there the outline steps.
    let reach = |it: &Point| (it.x - center.x).hypot(it.y - center.y);
    let nearer = |one: Point, other: Point| {
        if reach(&one) < reach(&other) {
            one
        } else {
            other
        }
    };
    let farther = |one: Point, other: Point| {
        if reach(&one) < reach(&other) {
            other
        } else {
            one
        }
    };
    for (at, own) in all.iter().enumerate() {
        let next = &all[(at + 1) % all.len()];
        let ends = [farther(own[3], next[0]), nearer(own[2], next[1])];
        cut(polyline(&ends), "joint");
    }
    for (ends, name) in [([1, 2], "outside"), ([0, 3], "hole")] {
        let mut outline: Vec<Point> = Vec::new();
        for corner in all.iter().flat_map(|it| ends.map(|end| it[end])) {
            let is_new = |last: &Point| (last.x - corner.x).hypot(last.y - corner.y) > 1e-9;
            if outline.last().is_none_or(is_new) {
                outline.push(corner);
            }
        }
        cut(polygon(&outline), name);
    }
}

/// A segment's corners: inside, outside, outside, inside, in the order round the ring; of an open
/// ring as it is seen from above.
fn corners(
    center: Point,
    planned: &RingInStack,
    segment: u32,
    is_open: bool,
) -> Option<[Point; 4]> {
    let round = &planned.round;
    let side = if is_open { -1.0 } else { 1.0 };
    let middle = side * (round.middle_rad(segment) - round.middle_rad(0));
    let segment = planned.segment_at(segment)?;
    let corner = |along: f64, aside: f64| {
        let angle = middle + aside.atan2(along);
        center.polar(along.hypot(aside), angle)
    };
    let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
    let (short, long) = (
        segment.short_edge_mm / 2.0,
        segment.outside.long_edge_mm / 2.0,
    );
    Some([
        corner(inside, -short),
        corner(outside, -long),
        corner(outside, long),
        corner(inside, short),
    ])
}
