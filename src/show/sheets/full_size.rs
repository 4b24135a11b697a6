//! A ring at true scale, to be glued up on.

use super::job::{Job, Sheet};
use super::ring::alike;
use super::tile;
use crate::draw::{Anchor, Drawing, Ink, Path, Point, Words, circle, point, polygon, polyline};
use crate::plan::bill::ring_numbers;
use crate::plan::rings::RingInStack;
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
            cut_lines(&mut template, center, planned);
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

/// The ring's corners and joints, each line once.
fn cut_lines(template: &mut Drawing, center: Point, planned: &RingInStack) {
    let all: Vec<[Point; 4]> = (0..planned.round.count())
        .filter_map(|segment| corners(center, planned, segment))
        .collect();
    let mut cut = |steps, name: &str| {
        template.add(Path::line(steps, Ink::CutOut).named(name));
    };
    if planned.wanted.spacer_mm > 0.0 || planned.wanted.gap_rad > 0.0 {
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

/// A segment's corners: inside, outside, outside, inside, in the order round the ring.
fn corners(center: Point, planned: &RingInStack, segment: u32) -> Option<[Point; 4]> {
    let round = &planned.round;
    let middle = round.middle_rad(segment) - round.middle_rad(0);
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
