//! The packet is true: its PDF, SVG, DXF, CSV and ZIP are read back by other people's
//! readers and measured, tiles joined included; over random vessels nothing overlaps,
//! runs off the paper or breaks.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use lopdf::content::Content;
use lopdf::{Document, Object};
use proptest::prelude::*;
use ringwright::design::{
    BaseKind, BaseSet, Between, Design, GapBy, MadeOf, Orientation, PaperSize, StackHeld,
    StackRing, StripeChoice,
};
use ringwright::design::{example, link as design_link};
use ringwright::draw::deflate::{deflate, zlib};
use ringwright::draw::{Drawing, Mark, Point, Words, point};
use ringwright::edit::{open_ring, start};
use ringwright::show::archive;
use ringwright::show::figures::bench::{StepShown, bench};
use ringwright::show::sheets::job::{Choice, Sheet};
use ringwright::show::sheets::packet::{self, Kind};
use ringwright::show::sheets::paper_mm;
use ringwright::units::length::Unit;
use shared::planned;
use std::f64::consts::PI;
use std::io::{Cursor, Read as _};

/// A length on paper is within 0.05 mm (the design's own figure).
const TRUE_MM: f64 = 0.05;
const MM_PER_POINT: f64 = 25.4 / 72.0;
const DATE: &str = "2030-01-31";

// Vessels.

fn bowl(diameter_mm: f64, height_mm: f64) -> Design {
    let mut design = start::begin(&Design::default(), "bowl", diameter_mm, height_mm);
    "Salad bowl for the club table".clone_into(&mut design.name);
    design
}

fn link(design: &Design) -> String {
    format!(
        "https://example.org/#{}",
        ringwright::design::link::encode(design)
    )
}

/// A vessel of 12 rings, as the budget speaks of it.
fn twelve() -> Design {
    let mut design = bowl(254.0, 120.0);
    // The lowest ring is a board, as in a design that says nothing of its base.
    design.base = None;
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods.push("Padauk, African".to_owned());
    vessel.rings = (0..12)
        .map(|place| StackRing {
            turn_half_segments: place % 2,
            pattern: if place == 5 { vec![0, 1] } else { vec![0] },
            ..StackRing::plain(10.0, 12)
        })
        .collect();
    design
}

// A PDF as another reader reads it.

/// What stands on a page, in millimeters from its top left corner.
#[derive(Default)]
struct Page {
    width_mm: f64,
    height_mm: f64,
    /// Each subpath as points, curves in 64 pieces.
    paths: Vec<Vec<Point>>,
    texts: Vec<(Point, String)>,
    objects: usize,
}

fn pages(pdf: &[u8]) -> Vec<Page> {
    let document = Document::load_mem(pdf).expect("a PDF that another reader reads");
    document
        .get_pages()
        .into_values()
        .map(|id| page(&document, id))
        .collect()
}

fn page(document: &Document, id: lopdf::ObjectId) -> Page {
    let media = document
        .get_dictionary(id)
        .and_then(|page| page.get(b"MediaBox"))
        .and_then(Object::as_array)
        .expect("a box");
    let side = |at: usize| f64::from(media[at].as_float().unwrap()) * MM_PER_POINT;
    let mut page = Page {
        width_mm: side(2),
        height_mm: side(3),
        ..Page::default()
    };
    let content = document.get_page_content(id).expect("content");
    let content = Content::decode(&content).expect("operators");
    // The head of each page makes its unit the millimeter from the top left.
    let mut scale = f64::NAN;
    let mut top = f64::NAN;
    let mut path: Vec<Vec<Point>> = Vec::new();
    let mut text_at = Point::default();
    let letters = shared::letters_of(document, id);
    let mut font = Vec::new();
    for operation in &content.operations {
        let n: Vec<f64> = operation
            .operands
            .iter()
            .filter_map(|operand| operand.as_float().ok())
            .map(f64::from)
            .collect();
        let at = |x: f64, y: f64| {
            let up = (y * -scale + top) * MM_PER_POINT;
            point(x * scale * MM_PER_POINT, page.height_mm - up)
        };
        match operation.operator.as_str() {
            "cm" => {
                assert!(scale.is_nan(), "one transformation a page");
                (scale, top) = (n[0], n[5]);
                assert!((n[0] + n[3]).abs() < 1e-9);
            }
            "m" => path.push(vec![at(n[0], n[1])]),
            "l" => path.last_mut().unwrap().push(at(n[0], n[1])),
            "c" => {
                let line = path.last_mut().unwrap();
                let ends = [
                    *line.last().unwrap(),
                    at(n[0], n[1]),
                    at(n[2], n[3]),
                    at(n[4], n[5]),
                ];
                line.extend((1..=64).map(|step| bezier(ends, f64::from(step) / 64.0)));
            }
            "h" => {
                let line = path.last_mut().unwrap();
                line.push(line[0]);
            }
            "S" | "f*" | "B*" => page.paths.append(&mut path),
            "Do" => page.objects += 1,
            "Tm" => text_at = at(n[4], n[5]),
            "Tf" => operation.operands[0]
                .as_name()
                .unwrap()
                .clone_into(&mut font),
            "Tj" => {
                let codes = operation.operands[0].as_str().expect("a string");
                let text = shared::spelled(&letters, &font, codes);
                page.texts.push((text_at, text));
            }
            _ => {}
        }
    }
    page
}

/// Bernstein's polynomials, apart from the library's own way.
fn bezier(ends: [Point; 4], t: f64) -> Point {
    let s = 1.0 - t;
    let shares = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
    let sum = |of: fn(&Point) -> f64| ends.iter().zip(shares).map(|(p, w)| of(p) * w).sum();
    point(sum(|p| p.x), sum(|p| p.y))
}

fn pdf_of(design: &Design, keys: &[&str]) -> Vec<Page> {
    let keys: Vec<String> = keys.iter().map(|key| (*key).to_owned()).collect();
    pages(&packet::pdf(
        &ringwright::plan::plan(design),
        &link(design),
        DATE,
        Choice::These(&keys),
        shared::typeface(),
    ))
}

impl Page {
    /// The middles of the circled crosses: level and upright hairlines of 10 mm that
    /// share their middle.
    fn crosses(&self) -> Vec<Point> {
        let lines: Vec<&Vec<Point>> = self.paths.iter().filter(|path| path.len() == 2).collect();
        let of_10 = |path: &&&Vec<Point>, upright: bool| {
            let (dx, dy) = ((path[1].x - path[0].x).abs(), (path[1].y - path[0].y).abs());
            let (along, aside) = if upright { (dy, dx) } else { (dx, dy) };
            (along - 10.0).abs() < 1e-3 && aside < 1e-3
        };
        let level: Vec<Point> = lines
            .iter()
            .filter(|path| of_10(path, false))
            .map(|path| path[0].halfway(path[1]))
            .collect();
        lines
            .iter()
            .filter(|path| of_10(path, true))
            .map(|path| path[0].halfway(path[1]))
            .filter(|middle| level.iter().any(|other| other.distance(*middle) < 1e-3))
            .collect()
    }

    fn text(&self) -> String {
        let texts: Vec<&str> = self.texts.iter().map(|(_, text)| text.as_str()).collect();
        texts.join(" ")
    }
}

/// Lays the pages of a template over each other by their crosses, as hands do: column by
/// column, then row by row. Gives each page's place.
fn joined(pages: &[Page], columns: usize) -> Vec<Point> {
    let mut places: Vec<Point> = Vec::new();
    for (index, page) in pages.iter().enumerate() {
        let column = index % columns;
        if index == 0 {
            places.push(point(0.0, 0.0));
            continue;
        }
        let (neighbor, is_beside) = if column > 0 {
            (index - 1, true)
        } else {
            (index - columns, false)
        };
        // The crosses at this page's left (or upper) edge lie on those at the other's
        // right (or lower) edge.
        let edge = |crosses: Vec<Point>, wants_low: bool| {
            let along = |at: &Point| if is_beside { at.x } else { at.y };
            let end = crosses.iter().map(along).fold(
                if wants_low { f64::MAX } else { f64::MIN },
                |end, at| {
                    if wants_low { end.min(at) } else { end.max(at) }
                },
            );
            let mut near: Vec<Point> = crosses
                .into_iter()
                .filter(|at| (along(at) - end).abs() < 1e-3)
                .collect();
            near.sort_by(|a, b| (a.x + a.y).total_cmp(&(b.x + b.y)));
            near
        };
        let mine = edge(page.crosses(), true);
        let theirs = edge(pages[neighbor].crosses(), false);
        assert!(mine.len() == 2 && theirs.len() == 2, "{mine:?} {theirs:?}");
        let shift = |at: usize| point(theirs[at].x - mine[at].x, theirs[at].y - mine[at].y);
        assert!(
            shift(0).distance(shift(1)) < 1e-3,
            "both crosses meet at once"
        );
        let base = places[neighbor];
        places.push(point(base.x + shift(0).x, base.y + shift(0).y));
    }
    places
}

// True to scale.

/// The card: the longest path that is higher than the link's code.
fn card(paths: &[Vec<Point>]) -> &Vec<Point> {
    let height = |path: &&Vec<Point>| {
        let heights = || path.iter().map(|at| at.y);
        heights().fold(0.0, f64::max) - heights().fold(f64::MAX, f64::min)
    };
    let high = paths.iter().filter(|path| height(path) > 40.0);
    high.max_by_key(|path| path.len()).unwrap()
}

#[test]
fn the_outside_template_is_the_finished_outside() {
    for (shape, diameter, height) in [("bowl", 254.0, 101.6), ("ogee", 150.0, 70.0)] {
        let design = start::begin(&Design::default(), shape, diameter, height);
        let (_, plan) = planned(&design);
        let wall = plan.wall.as_ref().unwrap();
        let read = pdf_of(&design, &["template-outside"]);
        assert_eq!(read.len(), 1);
        let card = card(&read[0].paths);
        let rim = wall.outside.height_mm();
        let foot_y = card[0].y;
        let axis = card[0].x - wall.outside.radius_at(0.0);
        let mut highest: f64 = 0.0;
        for at in &card[..=64 * wall.outside.pieces.len()] {
            let z = foot_y - at.y;
            highest = highest.max(z);
            let radius = wall.outside.radius_at(z.clamp(0.0, rim));
            assert!((at.x - axis - radius).abs() < TRUE_MM, "{shape} at {z}");
        }
        assert!((highest - rim).abs() < TRUE_MM);
    }
}

#[test]
fn the_inside_template_is_the_finished_inside() {
    let design = bowl(200.0, 90.0);
    let (_, plan) = planned(&design);
    let wall = plan.wall.as_ref().unwrap();
    let read = pdf_of(&design, &["template-inside"]);
    assert_eq!(read.len(), 1);
    let card = card(&read[0].paths);
    let (floor_y, axis) = (card[0].y, card[0].x);
    // From the axis along the floor, up the inside, back to the axis.
    for two in card[1..card.len() - 2].windows(2) {
        let at = two[0].halfway(two[1]);
        let z = wall.floor_mm + floor_y - at.y;
        let inside = wall.inside_radius_at(z.clamp(wall.floor_mm, wall.outside.height_mm()));
        // Where the inside runs almost level, a height stands for many radii.
        let steep = (two[1].x - two[0].x).abs() < (two[1].y - two[0].y).abs() * 2.0;
        assert!(
            !steep || (at.x - axis - inside).abs() < TRUE_MM,
            "{z}: {}",
            at.x - axis
        );
    }
    // Square to the surface, the wall is left between both cards: by brute force over the
    // outside's points.
    let outside = wall.outside.samples(400);
    let mut tried = 0;
    for at in card.iter().skip(2).step_by(40) {
        let (z, r) = (wall.floor_mm + floor_y - at.y, at.x - axis);
        if z < wall.floor_mm + 6.0 || z > wall.outside.height_mm() - 12.0 {
            continue;
        }
        let left = outside
            .iter()
            .map(|(oz, or)| (oz - z).hypot(or - r))
            .fold(f64::MAX, f64::min);
        let wanted = wall.thickness_at(z);
        assert!((left - wanted).abs() < 0.35, "{left} for {wanted} at {z}");
        tried += 1;
    }
    assert!(tried >= 5, "{tried}");
}

/// A piece in two halves has a card for each, from the face where they meet: no tool comes
/// from the rim to the floor.
#[test]
fn the_inside_template_of_a_piece_in_halves_is_one_a_half() {
    let design = vase();
    let (_, plan) = planned(&design);
    let wall = plan.wall.as_ref().unwrap();
    let meets_mm = plan.rings[8].span.bottom_mm;
    let rim_mm = wall.outside.height_mm();
    for (key, [low, high], told) in [
        (
            "template-inside",
            [wall.floor_mm, meets_mm],
            ["Floor", "Ring9on8halves"],
        ),
        (
            "template-inside-upper",
            [meets_mm, rim_mm],
            ["Ring9on8halves", "Rim"],
        ),
    ] {
        let read = pdf_of(&design, &[key]);
        assert_eq!(read.len(), 1, "{key} takes one sheet");
        let text = bare(&read[0].text());
        assert!(told.iter().all(|it| text.contains(it)), "{text}");
        let card = card(&read[0].paths);
        let (low_y, axis) = (card[0].y, card[0].x);
        let mut highest = 0.0_f64;
        for at in &card[1..card.len() - 2] {
            let z = (low + low_y - at.y).clamp(low, high);
            highest = highest.max(z);
            let off = at.x - axis - wall.inside_radius_at(z);
            assert!(off.abs() < TRUE_MM || z < low + 3.0, "{key} at {z}: {off}");
        }
        assert!((highest - high).abs() < TRUE_MM, "{highest} {high}");
    }
}

/// What the stack is turned to is read from the order, the slots' steps and the index strip;
/// the strip is as long as that is round.
#[test]
fn the_stack_for_slots_is_told_alike_and_its_marks_are_at_joints() {
    let design = vase();
    let (_, plan) = planned(&design);
    let own = plan.slot_sets[0].as_ref().unwrap();
    let flats = plan.rings[7].segment.unwrap().largest_circle_mm;
    let turned_mm = own.circumference_mm() / PI;
    assert!(
        (flats - turned_mm - 25.4 / 32.0).abs() < 1e-9,
        "{turned_mm}"
    );
    let told = bare(&ringwright::units::length::show(turned_mm, design.unit).whole_line());
    let order = bare_text(&design, &["order"]);
    let strip = bare_text(&design, &["inlay"]);
    assert!(
        order.contains(&format!("roundto{told}splititoffitsblock")),
        "{told}"
    );
    assert!(
        order.matches(&format!("Stackturnedroundto{told}")).count() >= 3,
        "{told}"
    );
    assert!(
        strip.contains(&format!("turnedto{told}atitswidestring")),
        "{told}"
    );
    assert!(strip.contains("Everymarkstandsatajointofring7"), "{strip}");
    // A bevel with these legs has the gauge's angle; the stop is half the widest ring away.
    let line = |mm: f64| bare(&ringwright::units::length::show(mm, design.unit).whole_line());
    let across = line(254.0 * own.slots.gauge_rad.abs().tan());
    assert!(
        strip.contains(&format!("onabevel10inalongand{across}across")),
        "{across}"
    );
    // Two sets are trimmed off the foot side before the first one's slots are at their height,
    // and the second one's own: a quarter of a millimeter each (common practice, no published
    // source).
    for trims in [2.0, 1.0] {
        let up_mm = own.stack.height_mm() / 2.0 + 0.25 * trims;
        let beside = line(up_mm * own.slots.gauge_rad.abs().tan());
        assert!(strip.contains(&format!("{beside}tothe")), "{beside}");
    }
    // Half a chord of a 10 in blade by Pythagoras, and an inch more for the block behind.
    let behind = (127.0_f64.powi(2) - (127.0 - own.blade_mm).powi(2)).sqrt();
    let up = |mm: f64| line((mm / 25.4 * 16.0 - 1e-6).ceil() * 25.4 / 16.0);
    let told = format!("comesout{}behindthatface", up(behind));
    assert!(strip.contains(&told), "{told}: {strip}");
    assert!(strip.contains(&format!("atleast{}thick", up(behind + 25.4))));
    let half = line(turned_mm / 2.0);
    assert!(strip.contains(&format!("{half}fromthatline")), "{half}");
    // A figure with a note keeps what stands behind its fraction.
    let blade = ringwright::units::length::show(own.blade_mm, design.unit);
    assert!(!blade.remainder.is_empty());
    let blade = bare(&blade.whole_line());
    assert!(
        order.contains(&format!("Bladeabovethetable{blade}")),
        "{blade}"
    );
}

/// The base's strip, its thickness and what it is flattened to are the same on its own sheet,
/// in the cut list and in the order of work.
#[test]
fn the_base_is_as_thick_on_every_sheet() {
    let design = vase();
    let (_, plan) = planned(&design);
    let base = plan.base.as_ref().unwrap();
    let told = |length_mm: f64| {
        bare(&ringwright::units::length::show(length_mm, design.unit).whole_line())
    };
    let planed = told(base.blanks[0].stock_mm);
    let flat = told(base.thickness_mm + 0.25);
    let [order, own, cuts] = ["order", "base", "cuts"].map(|key| bare_text(&design, &[key]));
    assert!(
        order.contains(&format!("Strips{planed}thickplaneandrip")),
        "{planed}"
    );
    assert!(
        order.contains(&format!("Stripplanedto{planed}thenplanedto")),
        "{planed}"
    );
    assert!(own.contains(&format!("Stripplanedto{planed}")), "{own}");
    assert!(cuts.contains(&planed), "{planed}");
    for text in [&order, &own] {
        assert!(
            text.contains(&format!("Flattenitto{flat}")),
            "{flat}: {text}"
        );
    }
}

/// Every ring glued up has a clamp pressure, those of woods without a figure too; the glue
/// told in all is the sum of the steps'.
#[test]
fn glue_and_pressure_are_told_without_gaps() {
    let design = vase();
    let screen = bench(&ringwright::plan::plan(&design), &[]).unwrap();
    let figure = |step: &StepShown, key: &str| {
        let all = step.saw.iter().chain(&step.list);
        let found = all.filter(|it| it.key == key).collect::<Vec<_>>();
        assert!(found.len() < 2, "{}: {key}", step.id);
        found
            .first()
            .map(|it| (it.shown.text.clone(), it.note.clone()))
    };
    let glued = screen
        .steps
        .iter()
        .filter(|step| step.id.starts_with("glue-"));
    let pressures: Vec<_> = glued
        .map(|step| figure(step, "row.pressure").unwrap().0)
        .collect();
    assert_eq!(pressures.len(), 15);
    // Sugar maple is dense, and no figure is known of wenge.
    assert_eq!([&pressures[0], &pressures[14]], ["200–300", "100–300"]);
    let area = |note: &str| -> f64 { note.split(' ').next().unwrap().parse().unwrap() };
    let steps = screen.steps.iter();
    let each: Vec<_> = steps
        .filter_map(|step| Some((step.id.as_str(), figure(step, "row.glue_amount")?)))
        .collect();
    for id in [
        "mount-",
        "inlay-1",
        "inlay-2",
        "base-glue",
        "base-set",
        "join",
    ] {
        assert!(each.iter().any(|(step, _)| step.starts_with(id)), "{id}");
    }
    let sum: f64 = each.iter().map(|(_, (_, note))| area(note)).sum();
    let all = screen
        .glue
        .iter()
        .find(|it| it.key == "row.glue_amount")
        .unwrap();
    assert!(
        (sum - area(&all.note)).abs() < 0.06 * each.len() as f64,
        "{sum} {}",
        all.note
    );
    // The cover tells the joints in rings, between them and of the halves.
    let is_joint = |step: &str| {
        ["glue-", "stack-", "join"]
            .iter()
            .any(|it| step.starts_with(it))
    };
    let joints = each.iter().filter(|(step, _)| is_joint(step));
    let joints: f64 = joints.map(|(_, (_, note))| area(note)).sum();
    let cover = bare_text(&design, &["cover"]);
    let tenths = (joints * 10.0).round() as i64;
    let told = |tenths: i64| bare(&format!("{:.1} sq in of glue", tenths as f64 / 10.0));
    assert!(
        (tenths - 10..=tenths + 10).any(|it| cover.contains(&told(it))),
        "{joints}: {cover}"
    );
}

/// Every piece of a ring of a wood with a pattern bears it, the paler ones too.
#[test]
fn a_ring_of_one_wood_is_hatched_all_round() {
    let sheet = sheet_of(&vase(), "ring-2");
    let patterns = sheet.pages[0]
        .marks
        .iter()
        .filter(|mark| matches!(mark, Mark::Path(it) if it.name.as_deref() == Some("pattern")));
    // Sixteen segments, and the eight of them that are seen from the front.
    assert_eq!(patterns.count(), 24);
}

/// How far from the axis the corners of the glued rings are, from polygon geometry alone.
fn corners(plan: &ringwright::plan::stack::StackPlan) -> Vec<f64> {
    let reach = |ring: &ringwright::plan::rings::RingInStack| {
        let wanted = &ring.wanted;
        let apothem = wanted.outside_radius_mm + wanted.outside_allowance_mm;
        if ring.segment.is_none() {
            // A disc has none.
            return apothem;
        }
        apothem / (PI / f64::from(wanted.segment_count)).cos()
    };
    plan.rings.iter().map(reach).collect()
}

#[test]
fn a_template_over_several_sheets_is_true_when_they_are_joined() {
    for (size, orientation) in [
        (PaperSize::Letter, Orientation::Portrait),
        (PaperSize::A4, Orientation::Landscape),
    ] {
        let mut design = bowl(420.0, 120.0);
        design.paper.size = size;
        design.paper.orientation = orientation;
        let (_, plan) = planned(&design);
        let mut reaches = corners(&plan);
        reaches.sort_by(f64::total_cmp);
        let largest = reaches[reaches.len() - 1];
        // The next smaller circle may be near.
        let next = reaches
            .into_iter()
            .rfind(|radius| largest - radius > 0.02)
            .unwrap();
        let near = ((largest - next) / 2.0).min(0.5);
        assert!(near > 2.0 * TRUE_MM, "{near}");
        let read = pdf_of(&design, &["centering"]);
        // As its head says: `part A1 of 1 × 3`.
        let about = read[0].text();
        let (_, about) = about.split_once("part A1 of ").unwrap();
        let parts: Vec<usize> = about
            .split(' ')
            .filter_map(|it| it.parse().ok())
            .take(2)
            .collect();
        let [rows, columns] = parts[..] else {
            panic!("{about}")
        };
        assert_eq!((rows * columns, read.len() > 1), (read.len(), true));
        let places = joined(&read, columns);
        // Where both long hairlines meet is the middle.
        let all: Vec<Vec<Point>> = read
            .iter()
            .zip(&places)
            .flat_map(|(page, place)| {
                page.paths.iter().map(move |path| {
                    path.iter()
                        .map(|at| point(at.x + place.x, at.y + place.y))
                        .collect()
                })
            })
            .collect();
        let long = |path: &&Vec<Point>| path.len() == 2 && path[0].distance(path[1]) > 40.0;
        // The scale bars and the sheets' edges are long too: the cross goes through the
        // center's small circle.
        let small = all
            .iter()
            .filter(|path| {
                path.len() > 8 && is_round(path).is_some_and(|(_, r)| (r - 3.0).abs() < 0.02)
            })
            .map(|path| is_round(path).unwrap().0)
            .next()
            .expect("the small circle round the middle");
        assert!(all.iter().filter(long).any(|path| {
            (path[0].y - small.y).abs() < TRUE_MM && (path[1].y - small.y).abs() < TRUE_MM
        }));
        // All of the largest circle, from all sheets, is one circle.
        let mut seen = [false; 72];
        // The circled crosses are round as well, and small.
        let is_small = |path: &Vec<Point>| is_round(path).is_some_and(|(_, radius)| radius < 5.0);
        for path in all.iter().filter(|path| path.len() > 2 && !is_small(path)) {
            for two in path.windows(2) {
                let (a, b) = (two[0].distance(small), two[1].distance(small));
                // The straight edge below the half goes off.
                let is_along = (a - b).abs() < TRUE_MM;
                if is_along && (a - largest).abs() < near && (b - largest).abs() < near {
                    let middle = two[0].halfway(two[1]);
                    for at in [two[0], two[1], middle] {
                        let off = at.distance(small) - largest;
                        assert!(off.abs() < TRUE_MM, "{off}");
                    }
                    let angle = (middle.y - small.y).atan2(middle.x - small.x) + PI;
                    seen[(angle / (2.0 * PI) * 71.99) as usize] = true;
                }
            }
        }
        // Half of it: the upper one, or the left one where it is turned.
        let whole = |from: usize| (from + 1..from + 35).all(|at| seen[at % 72]);
        assert!((0..4).any(|quarter| whole(18 * quarter)), "{seen:?}");
    }
}

/// Center and radius of a closed path that is nearly a circle.
fn is_round(path: &[Point]) -> Option<(Point, f64)> {
    let count = path.len() as f64;
    let middle = point(
        path.iter().map(|at| at.x).sum::<f64>() / count,
        path.iter().map(|at| at.y).sum::<f64>() / count,
    );
    let radius = path[0].distance(middle);
    let even = path
        .iter()
        .all(|at| (at.distance(middle) - radius).abs() < radius * 0.2 + 0.01);
    let turns = path[0].distance(path[path.len() - 1]) < 1e-3;
    let reach = path.iter().map(|at| at.x).fold(f64::MIN, f64::max)
        - path.iter().map(|at| at.x).fold(f64::MAX, f64::min);
    (even && turns).then_some((
        point(
            path.iter().map(|at| at.x).fold(f64::MIN, f64::max) - reach / 2.0,
            path.iter().map(|at| at.y).fold(f64::MIN, f64::max)
                - (path.iter().map(|at| at.y).fold(f64::MIN, f64::max)
                    - path.iter().map(|at| at.y).fold(f64::MAX, f64::min))
                    / 2.0,
        ),
        reach / 2.0,
    ))
}

#[test]
fn the_story_stick_has_every_joint_at_its_height() {
    let design = bowl(254.0, 101.6);
    let (vessel, plan) = planned(&design);
    let read = pdf_of(&design, &["story-stick"]);
    let mut heights: Vec<f64> = read[0]
        .paths
        .iter()
        .filter(|path| {
            path.len() == 2
                && (path[0].y - path[1].y).abs() < 1e-6
                && (path[0].distance(path[1]) - 16.0).abs() < 1e-3
        })
        .map(|path| path[0].y)
        .collect();
    heights.sort_by(|a, b| b.total_cmp(a));
    // Its ends are cut, and no line lies on them.
    let is_stick = |path: &&Vec<Point>| {
        let xs = || path.iter().map(|at| at.x);
        let wide = xs().fold(f64::MIN, f64::max) - xs().fold(f64::MAX, f64::min);
        path.len() > 3 && (wide - 80.0).abs() < 1e-3
    };
    let stick = read[0].paths.iter().find(is_stick).expect("a stick");
    let ys = || stick.iter().map(|at| at.y);
    let foot = ys().fold(f64::MIN, f64::max);
    let long = foot - ys().fold(f64::MAX, f64::min);
    let mut expected = vec![
        0.0,
        vessel.floor_mm,
        plan.wall.as_ref().unwrap().outside.height_mm(),
    ];
    let mut z = 0.0;
    for ring in &vessel.rings[..vessel.rings.len() - 1] {
        z += ring.height_mm;
        expected.push(z);
    }
    expected.sort_by(f64::total_cmp);
    expected.dedup_by(|a, b| (*a - *b).abs() < 0.05);
    expected.retain(|z| *z > 1e-3 && *z < long - 1e-3);
    assert_eq!(heights.len(), expected.len());
    for (y, z) in heights.iter().zip(expected) {
        assert!((foot - y - z).abs() < TRUE_MM, "{z}");
    }
}

#[test]
fn a_story_stick_too_high_for_lying_paper_lies_on_it_and_stays_true() {
    let mut design = bowl(254.0, 200.0);
    let upright = pdf_of(&design, &["story-stick"]).len();
    design.paper.orientation = Orientation::Landscape;
    let read = pdf_of(&design, &["story-stick"]);
    assert_eq!((upright, read.len()), (1, 1));
    let (vessel, plan) = planned(&design);
    let joints = || plan.rings[1..].iter().map(|ring| ring.span.bottom_mm);
    let lowest = joints().fold(vessel.floor_mm, f64::min);
    let span = joints().fold(f64::MIN, f64::max) - lowest;
    let upright_lines = read[0].paths.iter().filter(|path| {
        path.len() == 2
            && (path[0].x - path[1].x).abs() < 1e-6
            && (path[0].distance(path[1]) - 16.0).abs() < 1e-3
    });
    let heights = upright_lines.map(|path| path[0].x);
    let (least, most) = heights.fold((f64::MAX, f64::MIN), |(least, most), x| {
        (least.min(x), most.max(x))
    });
    assert!((most - least - span).abs() < TRUE_MM, "{}", most - least);
}

#[test]
fn every_ring_s_segment_and_wedge_are_true() {
    let design = twelve();
    let (vessel, plan) = planned(&design);
    let usual = packet::sheets(
        &ringwright::plan::plan(&design),
        &link(&design),
        DATE,
        Choice::Usual,
    );
    let rings: Vec<&Sheet> = usual
        .iter()
        .filter(|sheet| sheet.key.starts_with("ring-"))
        .collect();
    assert!(rings.len() > 6);
    for sheet in rings {
        let place: usize = sheet.key["ring-".len()..].parse::<usize>().unwrap() - 1;
        let read = pdf_of(&design, &[&sheet.key]);
        // The wanted trapezoid, from polygon geometry alone (CRC Standard Mathematical
        // Tables, polygons): half angle π/N, apothems from the plan's wanted radii.
        let wanted = plan.rings[place].wanted;
        let phi = PI / f64::from(vessel.rings[place].segment_count);
        let outside = wanted.outside_radius_mm + wanted.outside_allowance_mm;
        let inside = (wanted.inside_radius_mm - wanted.inside_allowance_mm) * phi.cos();
        let (long, short) = (2.0 * outside * phi.tan(), 2.0 * inside * phi.tan());
        let is_segment = |path: &&Vec<Point>| {
            path.len() == 5
                && (path[2].distance(path[3]) - long).abs() < TRUE_MM
                && (path[0].distance(path[1]) - short).abs() < TRUE_MM
                && ((path[2].y - path[0].y) - (outside - inside)).abs() < TRUE_MM
        };
        let found = read
            .iter()
            .flat_map(|page| &page.paths)
            .filter(is_segment)
            .count();
        assert!(found >= 1, "{}", sheet.key);
        let is_wedge = |path: &&Vec<Point>| {
            path.len() == 4
                && (path[0].y - path[1].y).abs() < 1e-6
                && path[0].distance(path[1]) > 50.0
                && ((path[1].y - path[2].y) / path[0].distance(path[1]) - phi.tan()).abs() < 1e-5
        };
        let found = read
            .iter()
            .flat_map(|page| &page.paths)
            .filter(is_wedge)
            .count();
        assert_eq!(found, 1, "{}", sheet.key);
    }
}

#[test]
fn a_ring_too_large_for_one_sheet_is_true_over_several() {
    let mut design = bowl(700.0, 120.0);
    for ring in &mut design.vessel.as_mut().unwrap().rings {
        ring.segment_count = 6;
        ring.made_of = MadeOf::Segments;
    }
    let (_, plan) = planned(&design);
    let place = plan.rings.len() - 1;
    let key = format!("ring-{}", place + 1);
    let read = pdf_of(&design, &[&key]);
    let tiles: Vec<Page> = read
        .into_iter()
        .filter(|page| page.text().contains(": part "))
        .collect();
    assert!(tiles.len() >= 2, "{}", tiles.len());
    let columns = tiles.len();
    let places = joined(&tiles, columns);
    let long = plan.rings[place].segment.unwrap().outside.long_edge_mm;
    // The long edge: the lowest level object line, over all sheets.
    let level: Vec<(f64, f64, f64)> = tiles
        .iter()
        .zip(&places)
        .flat_map(|(page, at)| page.paths.iter().map(move |path| (path, *at)))
        .flat_map(|(path, at)| {
            path.windows(2)
                .filter(|two| (two[0].y - two[1].y).abs() < 1e-6 && two[0].distance(two[1]) > 12.0)
                .map(|two| {
                    let (a, b) = (two[0].x.min(two[1].x) + at.x, two[0].x.max(two[1].x) + at.x);
                    ((two[0].y + at.y), a, b)
                })
                .collect::<Vec<_>>()
        })
        .collect();
    let is_found = level.iter().any(|(y, ..)| {
        let same: Vec<&(f64, f64, f64)> = level
            .iter()
            .filter(|(other, ..)| (other - y).abs() < 1e-3)
            .collect();
        let least = same.iter().map(|(_, a, _)| *a).fold(f64::MAX, f64::min);
        let most = same.iter().map(|(_, _, b)| *b).fold(f64::MIN, f64::max);
        (most - least - long).abs() < TRUE_MM
    });
    assert!(is_found, "no line of {long}");
}

#[test]
fn the_bars_to_check_the_scale_by_are_on_every_page_that_is_measured_on() {
    let design = twelve();
    let keys: Vec<String> =
        packet::sheets(&ringwright::plan::plan(&design), "", DATE, Choice::Pictures)
            .into_iter()
            .map(|sheet| sheet.key)
            .filter(|key| !key.starts_with("card"))
            .collect();
    let read = pages(&packet::pdf(
        &ringwright::plan::plan(&design),
        "https://example.org/#short",
        DATE,
        Choice::These(&keys),
        shared::typeface(),
    ));
    assert!(read.len() > 40);
    for (index, page) in read.iter().enumerate() {
        // Tables and the order of work are read, not measured.
        let about = page.texts[1].1.as_str();
        let is_read =
            ["Cut list", "Map of the joints", "Order of work"].contains(&about) || index == 0;
        for wanted in [100.0, 101.6].into_iter().filter(|_| !is_read) {
            let bar = |path: &&Vec<Point>| {
                path.len() == 2 && (path[0].distance(path[1]) - wanted).abs() < 0.001
            };
            assert!(page.paths.iter().any(|path| bar(&path)), "page {index}");
        }
        let text = page.text();
        assert!(
            text.contains(&format!("Page {} of {}", index + 1, read.len())),
            "{text}"
        );
        assert!(text.contains("Salad bowl for the club table") && text.contains("2030-01-31"));
        // The design's code, written once in the file.
        assert_eq!(page.objects, 1);
        let sides = [page.width_mm, page.height_mm];
        let letter =
            |[wide, high]: [f64; 2]| (wide - 215.9).abs() < 1e-3 && (high - 279.4).abs() < 1e-3;
        assert!(letter(sides) || letter([sides[1], sides[0]]), "{sides:?}");
    }
}

// The order of work.

/// The letters and figures of a text: what is left of it however its lines are broken.
fn bare(text: &str) -> String {
    text.chars().filter(char::is_ascii_alphanumeric).collect()
}

#[test]
fn every_sentence_of_every_step_at_the_bench_is_printed_in_order() {
    let mut designs = vec![twelve()];
    designs.extend(
        example::ALL
            .iter()
            .map(|it| design_link::decode(it.link).unwrap().0),
    );
    for (mut design, orientation) in designs.into_iter().flat_map(|design| {
        [Orientation::Portrait, Orientation::Landscape].map(|way| (design.clone(), way))
    }) {
        design.paper.orientation = orientation;
        let plan = ringwright::plan::plan(&design);
        let keys = ["order".to_owned()];
        let read = pages(&packet::pdf(
            &plan,
            "",
            DATE,
            Choice::These(&keys),
            shared::typeface(),
        ));
        let printed: String = read
            .iter()
            .flat_map(|page| &page.texts)
            .map(|(_, text)| bare(text))
            .collect();
        let screen = bench(&plan, &[]).unwrap();
        let mut at = 0;
        let mut find = |text: &str| {
            for sentence in text.split(". ") {
                let wanted = bare(sentence);
                let found = printed[at..].find(&wanted);
                at += found.unwrap_or_else(|| panic!("{sentence:?} of {text:?}")) + wanted.len();
            }
        };
        for fold in screen.chapters.iter().flat_map(|chapter| &chapter.folds) {
            let step = |id: &String| screen.steps.iter().find(|step| step.id == *id).unwrap();
            if let [alone] = fold.steps.as_slice() {
                let step = step(alone);
                for text in [&step.chapter, &step.title] {
                    find(text);
                }
                for caution in &step.cautions {
                    find(&caution.reason);
                    find(&caution.remedy);
                }
                find(&step.says);
                continue;
            }
            // Steps alike: what they have in common once, before the first of them.
            let first = step(&fold.steps[0]);
            find(&first.chapter);
            find(&fold.title);
            let common = |it: &StepShown| it.says[it.own.len()..].to_owned();
            find(&common(first));
            for step in fold.steps.iter().map(step) {
                assert_eq!(common(step), common(first), "{}", step.id);
                // In a narrow column a line only names its ring: what is done stands above.
                let name = step.title.split(": ").next().unwrap();
                let is_whole = printed.contains(&bare(&step.title));
                find(if is_whole { &step.title } else { name });
                for caution in &step.cautions {
                    find(&caution.reason);
                    find(&caution.remedy);
                }
                find(&step.own);
                // Each figure of it with its label, here or before the first.
                let is_sawing = step.id.starts_with("cut-");
                let list = step.list.iter().filter(|_| !is_sawing);
                for figure in step.saw.iter().chain(list) {
                    assert!(printed.contains(&bare(&figure.label)), "{}", figure.label);
                }
            }
        }
    }
}

fn vase() -> Design {
    let vase = example::ALL.iter().find(|it| it.word == "lantern_vase");
    design_link::decode(vase.unwrap().link).unwrap().0
}

fn sheet_of(design: &Design, key: &str) -> Sheet {
    let keys = [key.to_owned()];
    let plan = ringwright::plan::plan(design);
    packet::sheets(&plan, "", DATE, Choice::These(&keys)).remove(0)
}

/// The text of some sheets, without what stands between letters and figures.
fn bare_text(design: &Design, keys: &[&str]) -> String {
    let read = pdf_of(design, keys);
    let texts = read.iter().flat_map(|page| &page.texts);
    texts.map(|(_, text)| bare(text)).collect()
}

/// A ring in its pattern is drawn as a plain one is, from above and from its front, and its
/// key names its own woods alone.
#[test]
fn a_ring_of_two_woods_is_drawn_and_named_in_its_own() {
    let design = vase();
    let text = bare_text(&design, &["ring-10"]);
    assert!(text.contains("Padauk") && text.contains("Maple"), "{text}");
    assert!(!text.contains("Wenge"), "{text}");
    let page = &sheet_of(&design, "ring-10").pages[0];
    let is_cell = |name: &str| name.starts_with("cell-9-");
    let cells = page.marks.iter().filter_map(|mark| match mark {
        Mark::Path(path) if path.name.as_deref().is_some_and(is_cell) => Some(mark.bounds()?),
        _ => None,
    });
    let cells: Vec<(Point, Point)> = cells.collect();
    // Sixteen from above, then the eight that look to the reader: their front is a joint.
    assert_eq!(cells.len(), 16 + 8);
    let (above, front) = cells.split_at(16);
    let wide = |some: &[(Point, Point)]| {
        let left = some.iter().map(|it| it.0.x).fold(f64::MAX, f64::min);
        let right = some.iter().map(|it| it.1.x).fold(f64::MIN, f64::max);
        (left, right)
    };
    let (one, other) = (wide(above), wide(front));
    assert!((one.0 - other.0).abs() < 0.3 && (one.1 - other.1).abs() < 0.3);
    // They stand side by side without a gap, and each below the one that it is the side of.
    let mut sides = front.to_vec();
    sides.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    for pair in sides.windows(2) {
        assert!((pair[0].1.x - pair[1].0.x).abs() < 0.3, "{pair:?}");
    }
}

/// As many pages as fit a folder, on any paper, and nothing on one page that could stand on
/// another.
#[test]
fn the_vase_s_usual_packet_is_under_forty_pages() {
    let mut counts = Vec::new();
    for size in [PaperSize::Letter, PaperSize::A4] {
        for orientation in [Orientation::Portrait, Orientation::Landscape] {
            let mut design = vase();
            design.paper.size = size;
            design.paper.orientation = orientation;
            counts.push(count_of_usual(&design));
        }
    }
    assert!(counts.iter().all(|count| *count < 40), "{counts:?}");
}

fn count_of_usual(design: &Design) -> usize {
    let plan = ringwright::plan::plan(design);
    let sheets = packet::sheets(&plan, &link(design), DATE, Choice::Usual);
    for page in sheets.iter().flat_map(|sheet| &sheet.pages) {
        let high = page.height_mm;
        let is_filled = |mark: &&Mark| {
            mark.bounds()
                .is_some_and(|(least, most)| most.y > 40.0 && least.y < high - 45.0)
        };
        assert!(
            page.marks.iter().filter(is_filled).count() > 8,
            "{}",
            page.description
        );
    }
    sheets.iter().map(|sheet| sheet.pages.len()).sum()
}

#[test]
fn strips_for_slots_and_plies_are_told_by_one_recipe_and_ripped_long() {
    let design = vase();
    let plan = ringwright::plan::plan(&design);
    let base = plan.base().unwrap();
    // A board is there for the strip: it is planed while it is long.
    assert!(
        base.blanks
            .iter()
            .all(|blank| !blank.is_block && blank.count == 3)
    );
    let said = |keys: &[&str]| bare_text(&design, keys);
    let squares = bare("3 squares, 3 1/8 in × 3 1/8 in");
    for key in ["base", "order"] {
        assert!(said(&[key]).contains(&squares), "{key}");
    }
    assert!(said(&["boards"]).contains(&bare("the base: 3 squares for discs")));
    assert!(said(&["cuts"]).contains(&bare("base, later planed to 3/16 in +0.021")));
    // All sixteen strips come of three thin ones off board 4, which is 24 in long, by hand: six
    // pieces of 3 5/16 in and their cuts are in each. Cut list, boards and order tell the same;
    // without boards they come of six thin ones a foot long, three of each.
    let sets = plan.stack().unwrap().slot_sets.iter().flatten();
    for own in sets {
        let pitch_in = (own.strip_mm[2] + design.shop.kerf_mm) / 25.4;
        assert!(3.0 * pitch_in < 12.0 && 4.0 * pitch_in > 12.0, "{pitch_in}");
    }
    assert!(said(&["cuts"]).contains(&bare("61 9/16 in3slots1")));
    let length = bare("3 5/16 in −0.020");
    for (key, told) in [
        ("order", format!("3stripsoffboard4,6of{length}fromeach")),
        (
            "boards",
            format!("slicedlengthwiseinto3thinstrips,eachthencrosscutinto6of{length}"),
        ),
    ] {
        let text = said(&[key]);
        assert!(text.contains(&bare(&told)), "{told}: {text}");
    }
    let mut without = design.clone();
    without.rack = None;
    let said_without = |key: &str| bare_text(&without, &[key]);
    assert!(said_without("cuts").contains(&bare("72 in6slots1")));
    let told = bare("6 strips, at least 12 in long, for 16 of");
    assert!(said_without("order").contains(&told));
    // In each length strips planed alike lie beside each other, the widest first.
    let answer = plan.boards(3_000_000).unwrap();
    assert!(answer.layouts.iter().any(|it| it.strips().count() > 2));
    for length in answer.layouts.iter().flat_map(|it| &it.lengths) {
        let sizes = length.strips.iter().map(|strip| &answer.needs[strip.need]);
        let sizes: Vec<(f64, f64)> = sizes.map(|it| (it.height_mm, it.width_mm)).collect();
        assert!(sizes.windows(2).all(|two| two[0] >= two[1]), "{sizes:?}");
    }
}

/// Every face that is turned flat on the lathe finds its hair of wood: by hand, from the
/// order of the vase. All open faces are turned once; of ring 8 again where the halves
/// meet, of ring 1 the foot, of ring 15 the rim. Rings 7 and 8 are sawn as a stack: paper is
/// sanded off ring 7, and the strips of two sets are trimmed at both.
#[test]
fn rings_are_flattened_to_more_than_they_are_high() {
    let design = vase();
    let plan = ringwright::plan::plan(&design);
    let screen = bench(&plan, &[]).unwrap();
    let rings = &plan.stack().unwrap().vessel.rings;
    let faced = [2, 1, 1, 1, 1, 1, 4, 4, 1, 1, 1, 1, 1, 1, 2];
    assert_eq!(rings.len(), faced.len());
    for (place, (ring, faced)) in rings.iter().zip(faced).enumerate() {
        let id = format!("flat-{}", place + 1);
        let step = screen.steps.iter().find(|step| step.id == id).unwrap();
        let line = |mm: f64| ringwright::units::length::show(mm, design.unit).whole_line();
        assert_eq!(step.saw[0].label, "Flatten to");
        let to_mm = ring.height_mm + 0.25 * f64::from(faced);
        assert_eq!(step.saw[0].shown.whole_line(), line(to_mm), "{id}");
        assert_eq!(step.saw[1].shown.whole_line(), line(ring.height_mm), "{id}");
        assert!(to_mm < ring.height_mm + 2.0 * design.allowance.face_mm);
    }
}

#[test]
fn tools_reach_as_far_as_the_piece_asks() {
    let design = vase();
    let plan = ringwright::plan::plan(&design);
    let text = bare_text(&design, &["cuts"]);
    let has = |said: &str| assert!(text.contains(&bare(said)), "{said}: {text}");
    let screen = bench(&plan, &[]).unwrap();
    let blocks = screen.steps.iter().filter(|it| it.id.starts_with("block-"));
    has(&format!("Faceplates{}", blocks.count()));
    // Ring 8 is the widest: sixteen times its longest edge, and over its corners.
    let ring = &plan.stack().unwrap().rings[7];
    let stop_mm = ring.segment.unwrap().outside.long_edge_mm;
    let least = |mm: f64| {
        let sixteenths = (mm / 25.4 * 16.0 - 1e-6).ceil() * 25.4 / 16.0;
        ringwright::units::length::show(sixteenths, design.unit).line()
    };
    has(&format!("to go round{}", least(16.0 * stop_mm)));
    // Eleven inches of rings between two blocks of an inch and a half.
    has("to the live center, more than 8 13/16 in; 14 in and the thickness");
    has("flat on top, kerf 0.125 in");
    has(&format!(
        "sanding board, wide{}",
        least(stop_mm / (PI / 16.0).sin())
    ));
    // The stack's half beside its line, which stands off the kerf by the gauge's tangent of half
    // its height, a trim counted, and 1 1/2 in for the stop; as much on the kerf's other side.
    let set = plan.stack().unwrap().slot_sets[0].as_ref().unwrap();
    let beside_mm = set.slots.gauge_rad.tan() * (set.stack.height_mm() / 2.0 + 0.5);
    let half_mm = 104.78 - 0.4 + beside_mm.abs() + 38.1;
    has(&format!(
        "Wooden fence on the miter gauge, at least{} high, {} long",
        least(stop_mm / (PI / 16.0).tan() / 2.0),
        least(2.0 * half_mm)
    ));
}

#[test]
fn what_was_measured_stands_under_the_section_and_is_marked() {
    let mut design = vase();
    assert!(!bare_text(&design, &["section"]).contains("Gluedalready"));
    let vessel = design.vessel.as_mut().unwrap();
    vessel.rings[2].measured = Some(ringwright::design::Measured {
        outside_diameter_mm: Some(170.0),
        upper_inside_diameter_mm: Some(101.6),
        ..ringwright::design::Measured::nothing()
    });
    let text = bare_text(&design, &["section"]);
    assert!(
        text.contains(&bare("Ring 3: 6 11/16 in / – below, – / 4 in above")),
        "{text}"
    );
}

/// A hand that lays cross over cross reads every word beside them.
#[test]
fn no_register_cross_stands_on_words() {
    for key in ["story-stick", "template-outside"] {
        let sheet = sheet_of(&vase(), key);
        let mut crosses = 0;
        for page in &sheet.pages {
            let is_cross = |mark: &&Mark| matches!(mark, Mark::Path(it) if it.name.as_deref() == Some("register"));
            for cross in page.marks.iter().filter(is_cross).filter_map(Mark::bounds) {
                crosses += 1;
                for words in page.marks.iter().filter(|it| matches!(it, Mark::Words(_))) {
                    let Some((least, most)) = words.bounds() else {
                        continue;
                    };
                    let is_apart = most.x < cross.0.x - 2.0
                        || least.x > cross.1.x + 2.0
                        || most.y < cross.0.y - 2.0
                        || least.y > cross.1.y + 2.0;
                    assert!(is_apart, "{words:?}");
                }
            }
        }
        assert_eq!(crosses, 4, "{key}");
    }
}

#[test]
fn a_card_tells_the_piece_as_often_as_it_stands_on_the_page() {
    for (key, count) in [("card-1", 1), ("card-4", 4), ("card-8", 8)] {
        for orientation in [Orientation::Portrait, Orientation::Landscape] {
            let mut design = vase();
            design.paper.orientation = orientation;
            let read = pdf_of(&design, &[key]);
            assert_eq!(read.len(), 1);
            let text = read[0].text();
            for told in [
                "Lantern vase",
                "243 pieces of wood",
                "height 11 in,",
                "Padauk,",
                "Wenge",
                "Finish",
                "Date",
                "Made by",
            ] {
                assert_eq!(text.matches(told).count(), count, "{key} {told}: {text}");
            }
        }
    }
}

#[test]
fn every_plain_ring_s_front_is_marked_where_its_sheet_says() {
    let (mut at_joints, mut at_segments) = (0, 0);
    for place in [1, 2, 3, 4, 6, 8, 9, 15] {
        let sheet = sheet_of(&vase(), &format!("ring-{place}"));
        let page = &sheet.pages[0];
        let named = |name: &str| {
            let is_it = |mark: &&Mark| matches!(mark, Mark::Path(path) if path.name.as_deref() == Some(name));
            let mark = page
                .marks
                .iter()
                .find(is_it)
                .unwrap_or_else(|| panic!("{name} {place}"));
            mark.bounds().unwrap()
        };
        let (from, to) = named("finished");
        let center = from.halfway(to);
        let radius = (to.x - from.x) / 2.0;
        let (from, to) = named("front");
        let way = |at: Point| (at.y - center.y).atan2(at.x - center.x);
        let front = way(from.halfway(to));
        // Every corner of every segment lies on a joint.
        let nearest = page.marks.iter().filter_map(|mark| match mark {
            Mark::Path(path) if path.steps.len() == 5 && path.fill.is_some() => Some(&path.steps),
            _ => None,
        });
        let turns = nearest.flatten().filter_map(|step| match step {
            ringwright::draw::Step::MoveTo(at) | ringwright::draw::Step::LineTo(at)
                if at.distance(center) < 1.12 * radius =>
            {
                Some((way(*at) - front).abs())
            }
            _ => None,
        });
        let nearest = turns.fold(PI, f64::min).to_degrees();
        let text: String = page
            .marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Words(words) => Some(words.lettering.spoken() + " "),
                Mark::Path(_) => None,
            })
            .collect();
        assert!(text.contains("Seen from above, rim side up."), "{text}");
        if text.contains("At the front: a joint.") {
            assert!(nearest < 2.0, "{place}: {nearest}");
            at_joints += 1;
        } else {
            assert!(text.contains("At the front: middle of a segment"), "{text}");
            assert!((nearest - 11.25).abs() < 2.0, "{place}: {nearest}");
            at_segments += 1;
        }
    }
    assert!(at_joints > 2 && at_segments > 2);
}

#[test]
fn slots_are_told_once_and_the_last_joint_tells_the_saw_on_paper() {
    let design = vase();
    let (slots, order) = (
        bare_text(&design, &["inlay"]),
        bare_text(&design, &["order"]),
    );
    for told in [
        "Standthefootsideagainstafence",
        "Wraptheindexstriproundthestack",
        "turningtothenextmark",
    ] {
        assert_eq!(
            (order.matches(told).count() > 0, slots.contains(told)),
            (true, false),
            "{told}"
        );
    }
    assert!(slots.contains("Onthetableliesthestacksoutside"));
    // 2 N cuts share the wedge, which opens over the wall's face.
    let (vessel, plan) = planned(&design);
    let screen = bench(&ringwright::plan::plan(&design), &[]).unwrap();
    let mut seen = 0;
    for (place, (ring, made)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let count = f64::from(ring.segment_count);
        let face = made.segment.unwrap().strip_width_mm / (PI / count).cos();
        let wanted = (25.4 / 100.0 / face / (2.0 * count)).to_degrees();
        let id = format!("glue-{}", place + 1);
        let step = screen.steps.iter().find(|step| step.id == id).unwrap();
        let told = step
            .list
            .iter()
            .find(|it| it.label.contains("each 0.01 in open"))
            .unwrap();
        let told: f64 = told.shown.text.parse().unwrap();
        assert!((told / wanted - 1.0).abs() < 0.03, "{id}: {told} {wanted}");
        seen += 1;
    }
    assert_eq!(seen, 15);
    assert!(order.contains("Turnthesawforeach001inopen") && !order.contains("Ringtells"));
}

#[test]
fn every_piece_on_the_map_of_the_joints_has_its_wood_s_letter() {
    let design = vase();
    let vessel = design.vessel.clone().unwrap();
    let keys = ["map".to_owned()];
    let plan = ringwright::plan::plan(&design);
    let sheet = packet::sheets(&plan, "", DATE, Choice::These(&keys)).remove(0);
    let marks = &sheet.pages[0].marks;
    let cells = marks.iter().filter_map(|mark| match mark {
        Mark::Path(path)
            if path
                .name
                .as_deref()
                .is_some_and(|name| name.starts_with("cell-")) =>
        {
            Some((path.name.clone().unwrap(), mark.bounds().unwrap()))
        }
        _ => None,
    });
    let mut seen = 0;
    for (name, (least, most)) in cells {
        let (ring, segment) = name[5..].split_once('-').unwrap();
        let ring = &vessel.rings[ring.parse::<usize>().unwrap()];
        // Two thin rings have no room; the map's edge tells what they are at the front.
        if ring.height_mm < 5.0 {
            continue;
        }
        let wood = &vessel.woods[ring.wood_of(segment.parse().unwrap())];
        let letters = marks.iter().filter_map(|mark| match mark {
            Mark::Words(words) => {
                let (from, to) = mark.bounds().unwrap();
                let is_in = least.x < from.x && to.x < most.x && least.y < from.y && to.y < most.y;
                is_in.then(|| words.lettering.spoken())
            }
            Mark::Path(_) => None,
        });
        assert_eq!(letters.collect::<Vec<_>>(), [&wood[..1]], "{name}");
        seen += 1;
    }
    assert!(seen > 180, "{seen}");
}

#[test]
fn the_small_figure_behind_a_fraction_is_explained_on_every_page_that_has_one() {
    let read = pages(&packet::pdf(
        &ringwright::plan::plan(&twelve()),
        "",
        DATE,
        Choice::Usual,
        shared::typeface(),
    ));
    let (mut with, mut without) = (0, 0);
    for page in &read {
        let text = page.text();
        let is_told = text.contains("is to be added to it");
        if text.contains(" +0.0") {
            assert!(is_told, "{text}");
        }
        *(if is_told { &mut with } else { &mut without }) += 1;
    }
    assert!(with > 5 && without > 2, "{with} {without}");
}

#[test]
fn a_reader_s_contents_lead_to_each_sheet() {
    let design = twelve();
    let plan = ringwright::plan::plan(&design);
    let sheets = packet::sheets(&plan, "", DATE, Choice::Usual);
    let pdf = packet::pdf(&plan, "", DATE, Choice::Usual, shared::typeface());
    let document = Document::load_mem(&pdf).expect("a PDF that another reader reads");
    let catalog = document.catalog().unwrap();
    let labels = catalog
        .get(b"PageLabels")
        .and_then(Object::as_dict)
        .unwrap();
    assert_eq!(
        labels
            .get(b"Nums")
            .and_then(Object::as_array)
            .unwrap()
            .len(),
        2
    );
    let numbers = document.get_pages();
    let mut found: Vec<(String, u32)> = Vec::new();
    let dict = |object: &Object| {
        document
            .get_dictionary(object.as_reference().unwrap())
            .unwrap()
    };
    let root = dict(catalog.get(b"Outlines").unwrap());
    let mut next = root.get(b"First").ok();
    let mut before = None;
    while let Some(at) = next {
        let item = dict(at);
        assert_eq!(item.get(b"Prev").ok(), before);
        let title = lopdf::decode_text_string(item.get(b"Title").unwrap()).unwrap();
        let page = item.get(b"Dest").and_then(Object::as_array).unwrap()[0]
            .as_reference()
            .unwrap();
        let number = numbers.iter().find(|(_, id)| **id == page).unwrap().0;
        found.push((title, *number));
        before = Some(at);
        next = item.get(b"Next").ok();
    }
    assert_eq!(root.get(b"Last").ok(), before);
    let mut page = 1;
    let wanted: Vec<(String, u32)> = sheets
        .iter()
        .map(|sheet| {
            page += sheet.pages.len() as u32;
            // A ring that shares the page before it is found there.
            let own = sheet.pages.len().max(1) as u32;
            (sheet.title.clone(), page - own)
        })
        .collect();
    assert!(wanted.len() > 8);
    assert_eq!(found, wanted);
    // Each is the page that says so.
    let read = pages(&pdf);
    let order = found
        .iter()
        .find(|(title, _)| title == "Order of work")
        .unwrap();
    assert!(read[order.1 as usize - 1].text().contains("Order of work"));
}

// Which sheets there are.

#[test]
fn without_a_vessel_there_is_the_ring_s_sheet_alone() {
    let design = Design::default();
    let sheets = packet::sheets(
        &ringwright::plan::plan(&design),
        &link(&design),
        DATE,
        Choice::Usual,
    );
    assert_eq!(sheets.len(), 1);
    assert_eq!((sheets[0].key.as_str(), sheets[0].pages.len()), ("ring", 1));
    assert!(packet::cut_list_csv(&ringwright::plan::plan(&design)).is_empty());
    let mut none = design;
    none.ring.wall_mm = 200.0;
    assert!(
        packet::pdf(
            &ringwright::plan::plan(&none),
            "",
            DATE,
            Choice::Usual,
            shared::typeface()
        )
        .is_empty()
    );
    assert!(
        packet::archive(
            &ringwright::plan::plan(&none),
            "",
            DATE,
            Choice::Usual,
            "",
            shared::typeface()
        )
        .starts_with(b"PK")
    );
}

#[test]
fn rings_that_are_alike_share_a_sheet() {
    let mut design = start::begin(&Design::default(), "cylinder", 150.0, 120.0);
    // The lowest ring is a board, as in a design that says nothing of its base.
    design.base = None;
    let vessel = design.vessel.as_mut().unwrap();
    vessel.points.truncate(2);
    for (point, height) in vessel.points.iter_mut().zip([0.0, 120.0]) {
        (point.radius_mm, point.height_mm) = (75.0, height);
    }
    vessel.foot_wall_mm = 8.0;
    vessel.rim_wall_mm = 8.0;
    vessel.floor_mm = 15.0;
    vessel.rings = vec![StackRing::plain(20.0, 12); 6];
    vessel.rings[4].pattern = vec![0, 0];
    let sheets = packet::sheets(&ringwright::plan::plan(&design), "", DATE, Choice::Usual);
    let titles: Vec<&str> = sheets
        .iter()
        .filter(|sheet| sheet.key.starts_with("ring-"))
        .map(|sheet| sheet.title.as_str())
        .collect();
    assert_eq!(titles, ["Ring 1", "Rings 2–4, 6", "Ring 5"]);
}

#[test]
fn the_choice_is_kept_to() {
    let design = twelve();
    let keys = ["cuts".to_owned(), "full-size-3".to_owned()];
    let sheets = packet::sheets(
        &ringwright::plan::plan(&design),
        "",
        DATE,
        Choice::These(&keys),
    );
    let found: Vec<&str> = sheets.iter().map(|sheet| sheet.key.as_str()).collect();
    assert_eq!(found, ["cuts", "full-size-3"]);
    assert!(
        packet::sheets(
            &ringwright::plan::plan(&design),
            "",
            DATE,
            Choice::These(&[])
        )
        .is_empty()
    );
    let pictures = packet::sheets(&ringwright::plan::plan(&design), "", DATE, Choice::Pictures);
    let usual = packet::sheets(&ringwright::plan::plan(&design), "", DATE, Choice::Usual);
    // A picture's page count is that of the real sheet.
    for sheet in &usual {
        let picture = pictures
            .iter()
            .find(|other| other.key == sheet.key)
            .unwrap();
        // Two small rings share a page, and templates side by side, which is the first one's.
        let shares = ["ring-", "story", "template-"];
        if !shares.iter().any(|key| sheet.key.starts_with(key)) {
            assert_eq!(picture.pages.len(), sheet.pages.len(), "{}", sheet.key);
        }
    }
}

#[test]
fn the_packet_of_twelve_rings_is_small() {
    let design = twelve();
    let pdf = packet::pdf(
        &ringwright::plan::plan(&design),
        &link(&design),
        DATE,
        Choice::Usual,
        shared::typeface(),
    );
    assert!(pdf.len() < 300_000, "{}", pdf.len());
}

// Bad input.

#[test]
fn a_template_past_all_paper_says_so_and_the_packet_still_comes() {
    let design = start::begin(&Design::default(), "bowl", 9_000.0, 3_000.0);
    let sheets = packet::sheets(
        &ringwright::plan::plan(&design),
        &link(&design),
        DATE,
        Choice::Usual,
    );
    let read = pages(&packet::pdf(
        &ringwright::plan::plan(&design),
        &link(&design),
        DATE,
        Choice::Usual,
        shared::typeface(),
    ));
    assert_eq!(
        read.len(),
        sheets.iter().map(|sheet| sheet.pages.len()).sum::<usize>()
    );
    let says = read
        .iter()
        .filter(|page| page.text().contains("too much for sheets"))
        .count();
    assert!(says >= 3, "{says}");
}

#[test]
fn a_name_in_any_script_and_of_any_length_prints_honestly() {
    let long = "Krajíc ".repeat(71);
    for (name, is_noted) in [
        ("Čínský žlutý ořech – Åse", false),
        ("Bi\u{308}rke e\u{301}te\u{301}", false),
        ("Ván Ếch", false),
        ("קערה לשולחן", true),
        ("木の鉢", true),
        (long.as_str(), false),
    ] {
        let mut design = bowl(150.0, 60.0);
        name.clone_into(&mut design.name);
        for link in [link(&design), String::new()] {
            let read = pages(&packet::pdf(
                &ringwright::plan::plan(&design),
                &link,
                DATE,
                Choice::Usual,
                shared::typeface(),
            ));
            for page in &read {
                assert_eq!(page.text().contains("stand as ?"), is_noted, "{name}");
            }
        }
        let sheets = packet::sheets(
            &ringwright::plan::plan(&design),
            &link(&design),
            DATE,
            Choice::Usual,
        );
        for page in sheets.iter().flat_map(|sheet| &sheet.pages) {
            check_words(page, name);
        }
        // Whole on the cover, if too long for the head.
        if name.len() > 400 {
            let cover = pages(&packet::pdf(
                &ringwright::plan::plan(&design),
                "",
                DATE,
                Choice::Usual,
                shared::typeface(),
            ));
            let whole = cover[0].text();
            assert!(
                whole.matches("Kraj").count() > 71,
                "{}",
                whole.matches("Kraj").count()
            );
        }
    }
}

// Nothing overlaps or runs off.

/// Corners of the words' box, less a hair.
fn box_of(words: &Words) -> Option<(Point, Point)> {
    let (least, most) = Mark::from(words.clone()).bounds()?;
    Some((
        point(least.x + 0.15, least.y + 0.3),
        point(most.x - 0.15, most.y - 0.3),
    ))
}

fn check_words(page: &Drawing, about: &str) {
    let words: Vec<&Words> = page
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Words(words) if mark.is_drawable() => Some(words),
            _ => None,
        })
        .collect();
    let boxes: Vec<(Point, Point)> = words.iter().filter_map(|it| box_of(it)).collect();
    for (at, (least, most)) in boxes.iter().enumerate() {
        let said = words[at].lettering.spoken();
        // A print in black loses amber: what to look at stands bold behind a bar.
        assert_ne!(
            words[at].tone,
            ringwright::draw::Tone::Caution,
            "{about}: {said}"
        );
        let is_on_paper = least.x > 4.0
            && least.y > 4.0
            && most.x < page.width_mm - 4.0
            && most.y < page.height_mm - 4.0;
        assert!(
            is_on_paper,
            "{about}: “{said}” at {least:?} on {}",
            page.description
        );
        // Boxes of slanting words are larger than the words.
        if words[at].turn_deg.rem_euclid(90.0) > 1e-6 {
            continue;
        }
        for (other, (from, to)) in boxes.iter().enumerate().skip(at + 1) {
            if words[other].turn_deg.rem_euclid(90.0) > 1e-6 {
                continue;
            }
            let meets = from.x < most.x && to.x > least.x && from.y < most.y && to.y > least.y;
            let with = words[other].lettering.spoken();
            assert!(
                !meets,
                "{about}: “{said}” meets “{with}” on {}",
                page.description
            );
        }
    }
}

fn random_ring() -> impl Strategy<Value = StackRing> {
    (
        0.8_f64..45.0,
        3_u32..40,
        prop_oneof![4 => Just(MadeOf::Segments), 1 => Just(MadeOf::Disc)],
        0_u32..3,
        prop_oneof![
            Just(Between::Nothing),
            Just(Between::Spacer),
            Just(Between::Gap)
        ],
        0.0_f64..8.0,
        proptest::collection::vec(0_u32..3, 1..5),
    )
        .prop_map(
            |(height_mm, count, made_of, turn, between, spacer_mm, pattern)| StackRing {
                made_of,
                turn_half_segments: turn,
                between,
                spacer_mm,
                stripes: (pattern.len() == 4).then(|| StripeChoice {
                    slant_deg: 2.0 * height_mm,
                    ..StripeChoice::of([pattern[0], pattern[1]], 1.0 + spacer_mm)
                }),
                pattern,
                ..StackRing::plain(height_mm, count)
            },
        )
}

fn random_design() -> impl Strategy<Value = Design> {
    let shape = prop_oneof![
        Just("bowl"),
        Just("ogee"),
        Just("closed"),
        Just("vase"),
        Just("platter"),
        Just("cylinder")
    ];
    let paper = (any::<bool>(), any::<bool>());
    let names = prop_oneof![
        Just(String::new()),
        Just("Salad bowl".to_owned()),
        Just("Ålesund – čtyři žluté květy, a long name for a small bowl of two woods".to_owned()),
        Just("קערה 木".to_owned()),
    ];
    let unit = prop_oneof![
        Just(Unit::Inch16),
        Just(Unit::Inch64),
        Just(Unit::Millimeter),
        Just(Unit::InchDecimal)
    ];
    (
        shape,
        30.0_f64..600.0,
        0.15_f64..2.0,
        proptest::option::of(proptest::collection::vec(random_ring(), 0..7)),
        paper,
        names,
        unit,
    )
        .prop_map(
            |(shape, diameter, tall, rings, (is_a4, lies), name, unit)| {
                let mut design = start::begin(&Design::default(), shape, diameter, diameter * tall);
                design.name = name;
                design.unit = unit;
                design.shop.price = Some(12.5);
                if is_a4 {
                    design.paper.size = PaperSize::A4;
                }
                if lies {
                    design.paper.orientation = Orientation::Landscape;
                }
                let vessel = design.vessel.as_mut().unwrap();
                vessel.woods = vec![
                    "Maple, sugar".to_owned(),
                    "Padauk, African".to_owned(),
                    "An unknown wood from the shed behind the house, stored since a long time"
                        .to_owned(),
                ];
                if let Some(rings) = rings {
                    vessel.rings = rings;
                }
                vessel.rings.truncate(6);
                design
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1_000, ..ProptestConfig::default() })]

    #[test]
    fn nothing_runs_off_or_overlaps_over_random_vessels(
        design in random_design(),
        is_linked in any::<bool>(),
    ) {
        let link = if is_linked { link(&design) } else { String::new() };
        let sheets = packet::sheets(&ringwright::plan::plan(&design), &link, DATE, Choice::Pictures);
        let (width, height) = paper_mm(&design.paper);
        let about = format!("{} {:?}", design.name, design.paper);
        // Small rings share pages where they are printed, and templates lie side by side.
        let shared = |key: &String| ["ring-", "story", "templ"].iter().any(|it| key.starts_with(it));
        let keys: Vec<String> = sheets.iter().map(|it| it.key.clone()).filter(shared).collect();
        let plan = ringwright::plan::plan(&design);
        let usual = packet::sheets(&plan, &link, DATE, Choice::These(&keys));
        let pages = sheets.iter().chain(&usual).flat_map(|sheet| &sheet.pages);
        for page in pages {
            // A template may lie the other way.
            let sides = page.width_mm.min(page.height_mm) + page.width_mm.max(page.height_mm);
            prop_assert!((sides - width - height).abs() < 1e-9);
            check_words(page, &about);
        }
    }
}

/// The vase of the examples with another base and other slots.
fn random_base_and_slots() -> impl Strategy<Value = Design> {
    let kind = prop_oneof![
        Just(BaseKind::Solid),
        Just(BaseKind::Plies),
        Just(BaseKind::Wedges),
        Just(BaseKind::Open)
    ];
    let set = prop_oneof![
        Just(BaseSet::LetIn),
        Just(BaseSet::OnLedge),
        Just(BaseSet::Under)
    ];
    let diameter = proptest::option::of(5.0_f64..400.0);
    let base = (kind, set, diameter, 0.5_f64..60.0, 2_u32..40, 1_usize..8);
    let slots = (1_u32..40, 1.0_f64..80.0, 0.5_f64..8.0, 1_u32..12, 0_u32..6);
    let blade = proptest::option::of(1.0_f64..60.0);
    let set_count = 0_usize..3;
    let paper = (any::<bool>(), any::<bool>(), any::<bool>());
    (base, slots, blade, set_count, paper).prop_map(
        |(base, slots, blade_mm, set_count, (is_a4, lies, is_metric))| {
            let vase = ringwright::design::example::ALL[1].link;
            let (mut design, _) = ringwright::design::link::decode(vase).unwrap();
            if is_a4 {
                design.paper.size = PaperSize::A4;
            }
            if lies {
                design.paper.orientation = Orientation::Landscape;
            }
            if is_metric {
                design.unit = Unit::Millimeter;
            }
            let own = design.base.as_mut().unwrap();
            (
                own.kind,
                own.set,
                own.diameter_mm,
                own.thickness_mm,
                own.wedge_count,
            ) = (base.0, base.1, base.2, base.3, base.4);
            let ply = own.plies[0].clone();
            own.plies.resize(base.5, ply);
            let vessel = design.vessel.as_mut().unwrap();
            vessel.slot_sets.truncate(set_count);
            for set in &mut vessel.slot_sets {
                (set.slot_count, set.gauge_deg, set.kerf_mm) = (slots.0, slots.1, slots.2);
                (set.from_ring, set.to_ring) = (slots.3, slots.3 + slots.4);
                set.blade_mm = blade_mm;
            }
            design
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn sheets_of_bases_and_slots_lie_as_the_paper_does(
        design in random_base_and_slots(),
        is_linked in any::<bool>(),
    ) {
        // A short link has its code in the head of each sheet.
        let link = if is_linked { "https://example.org/#short" } else { "" };
        let keys = ["base".to_owned(), "inlay".to_owned()];
        let (width, height) = paper_mm(&design.paper);
        let about = format!("{:?} {:?}", design.paper, design.base);
        for sheet in packet::sheets(&ringwright::plan::plan(&design), link, DATE, Choice::These(&keys)) {
            for page in &sheet.pages {
                prop_assert_eq!((page.width_mm, page.height_mm), (width, height));
                check_words(page, &about);
                // Nothing but the page's number below the foot.
                for mark in &page.marks {
                    let (_, most) = mark.bounds().unwrap();
                    prop_assert!(most.y < height - 6.0, "{} {:?}", about, mark);
                }
            }
        }
    }
}

#[test]
fn a_base_s_drawing_stands_beside_its_figures_on_lying_paper() {
    let (mut design, _) =
        ringwright::design::link::decode(ringwright::design::example::ALL[0].link).unwrap();
    for (orientation, is_beside) in [
        (Orientation::Portrait, false),
        (Orientation::Landscape, true),
    ] {
        design.paper.orientation = orientation;
        let keys = ["base".to_owned()];
        let sheets = packet::sheets(
            &ringwright::plan::plan(&design),
            "",
            DATE,
            Choice::These(&keys),
        );
        let page = &sheets[0].pages[0];
        let grain = page.marks.iter().filter(
            |mark| matches!(mark, Mark::Path(path) if path.name.as_deref() == Some("grain")),
        );
        let (right, bottom) = grain
            .map(|mark| mark.bounds().unwrap().1)
            .fold((0.0_f64, 0.0_f64), |most, at| {
                (most.0.max(at.x), most.1.max(at.y))
            });
        let figures = page.marks.iter().find_map(|mark| match mark {
            Mark::Words(words) if words.lettering.spoken().starts_with("Thickness") => {
                Some(words.at)
            }
            _ => None,
        });
        let at = figures.expect("its thickness");
        assert_eq!((at.x > right, at.y > bottom), (is_beside, !is_beside));
    }
}

// Other files.

#[test]
fn dxf_is_read_by_a_reference_reader_and_true() {
    let mut design = bowl(254.0, 101.6);
    "Ořech 木".clone_into(&mut design.name);
    let (_, plan) = planned(&design);
    let files = packet::files(
        &ringwright::plan::plan(&design),
        &link(&design),
        DATE,
        Choice::Usual,
        Kind::Dxf,
    );
    let named = |name: &str| {
        let file = files.iter().find(|file| file.name == name).expect(name);
        dxf::Drawing::load(&mut Cursor::new(&file.bytes)).expect("a DXF that another reader reads")
    };
    let disc = named("centering.dxf");
    let mut radii: Vec<f64> = disc
        .entities()
        .filter_map(|entity| match &entity.specific {
            dxf::entities::EntityType::Circle(circle) => Some(circle.radius),
            _ => None,
        })
        .collect();
    radii.sort_by(f64::total_cmp);
    let reaches = corners(&plan);
    for wanted in &reaches {
        assert!(
            radii.iter().any(|radius| (radius - wanted).abs() < TRUE_MM),
            "{wanted}"
        );
    }
    let largest = reaches.into_iter().fold(0.0, f64::max);
    // It is cut outside its largest circle, which stays on it.
    assert!(radii[radii.len() - 1] > largest + 2.0);
    let card = named("template-outside.dxf");
    let wall = plan.wall.as_ref().unwrap();
    let mut measured = 0;
    for entity in card.entities() {
        assert!(["CUT", "SCORE", "NOTE"].contains(&entity.common.layer.as_str()));
        match &entity.specific {
            dxf::entities::EntityType::Polyline(line) if entity.common.layer == "CUT" => {
                let at: Vec<(f64, f64)> = line
                    .vertices()
                    .map(|v| (v.location.x, v.location.y))
                    .collect();
                assert!(line.is_closed());
                let (foot, axis) = (at[0].1, at[0].0 - wall.outside.radius_at(0.0));
                // All but the two corners of the grip.
                for two in at[..at.len() - 2].windows(2) {
                    let middle = (
                        f64::midpoint(two[0].0, two[1].0),
                        f64::midpoint(two[0].1, two[1].1),
                    );
                    let radius = wall.outside.radius_at(middle.1 - foot);
                    assert!((middle.0 - axis - radius).abs() < TRUE_MM);
                    measured += 1;
                }
            }
            dxf::entities::EntityType::Text(text) if text.value.contains("Template") => {
                assert!(
                    text.value.starts_with("Ořech 木") || text.value.starts_with("O\\U+0159ech"),
                    "{}",
                    text.value
                );
                assert_eq!(entity.common.layer, "NOTE");
            }
            _ => {}
        }
    }
    assert!(measured > 20, "{measured}");
}

#[test]
fn every_page_has_its_dxf_and_only_what_is_cut_out_is_on_cut() {
    let design = vase();
    let plan = ringwright::plan::plan(&design);
    let keys: Vec<String> = packet::sheets(&plan, "", DATE, Choice::Pictures)
        .into_iter()
        .map(|sheet| sheet.key)
        .filter(|key| !key.starts_with("full-size") || key == "full-size-2")
        .collect();
    let sheets = packet::sheets(&plan, "", DATE, Choice::These(&keys));
    let pages: usize = sheets.iter().map(|sheet| sheet.pages.len()).sum();
    let templates = sheets
        .iter()
        .filter(|sheet| sheet.template.is_some())
        .count();
    let files = packet::files(&plan, "", DATE, Choice::These(&keys), Kind::Dxf);
    assert_eq!(files.len(), pages + templates);
    let mut cut_on = Vec::new();
    for file in &files {
        let text = std::str::from_utf8(&file.bytes).unwrap();
        assert!(text.contains("$MEASUREMENT\n70\n1\n"), "{}", file.name);
        for sign in ["00D8", "00B0", "2212"] {
            assert!(
                !text.contains(&format!("\\U+{sign}")),
                "{} {sign}",
                file.name
            );
        }
        let read = dxf::Drawing::load(&mut Cursor::new(&file.bytes)).expect(&file.name);
        let mut lines = Vec::new();
        for entity in read.entities().filter(|it| it.common.layer == "CUT") {
            cut_on.push(file.name.as_str());
            if let dxf::entities::EntityType::Line(line) = &entity.specific {
                let ends = [&line.p1, &line.p2]
                    .map(|at| [at.x, at.y].map(|it| (it * 100.0).round() as i64));
                lines.push([ends[0].min(ends[1]), ends[0].max(ends[1])]);
                // A bar to check the scale by is not cut.
                let long = (line.p2.x - line.p1.x).hypot(line.p2.y - line.p1.y);
                assert!(
                    (long - 100.0).abs() > 0.01 && (long - 101.6).abs() > 0.01,
                    "{}",
                    file.name
                );
            }
        }
        let count = lines.len();
        lines.sort_unstable();
        lines.dedup();
        assert_eq!(lines.len(), count, "{}: a line is cut twice", file.name);
        if file.name == "full-size-02.dxf" {
            assert_eq!(count, 16, "its joints");
        }
    }
    for (name, is_cut) in [
        ("full-size-02.dxf", true),
        ("template-inside.dxf", true),
        ("story-stick.dxf", true),
        ("01-cover.dxf", false),
        ("02-section.dxf", false),
        ("03-map.dxf", false),
        ("04-cuts.dxf", false),
    ] {
        assert_eq!(cut_on.contains(&name), is_cut, "{name}");
    }
    assert!(
        cut_on.iter().any(|name| name.ends_with("inlay.dxf")),
        "the index strip"
    );
    // SVG has the same layers, each once in a template, and no ground for a laser to take.
    for file in packet::files(&plan, "", DATE, Choice::These(&keys), Kind::Svg) {
        let text = String::from_utf8(file.bytes).unwrap();
        assert!(
            !text.contains("#fbfaf6") || file.name.starts_with(|it: char| it.is_ascii_digit()),
            "{}",
            file.name
        );
        if file.name == "story-stick.svg" {
            let at = ["CUT", "SCORE", "NOTE"]
                .map(|layer| text.matches(&format!("<g id=\"{layer}\">")).count());
            assert_eq!(at, [1; 3]);
            let named = text.split_once("<g id=\"NOTE\">").unwrap().1;
            assert!(named.contains("Lantern vase: Story stick"), "{named}");
        }
    }
}

/// What is scored stays on something that is cut out: no table, picture, dimension or bar.
#[test]
fn only_what_is_used_on_what_is_cut_out_is_scored() {
    let plan = ringwright::plan::plan(&vase());
    let of = |key: &str| {
        let keys = [key.to_owned()];
        let files = packet::files(&plan, "", DATE, Choice::These(&keys), Kind::Dxf);
        let counts = files.iter().map(|file| {
            let read = dxf::Drawing::load(&mut Cursor::new(&file.bytes)).expect(&file.name);
            let on = |layer: &str| {
                let all = read.entities();
                all.filter(|it| it.common.layer == layer).count()
            };
            assert!(on("SCORE") == 0 || on("CUT") > 0, "{}", file.name);
            (file.name.clone(), on("SCORE"))
        });
        counts.collect::<Vec<_>>()
    };
    let last = |key: &str| of(key).pop().unwrap().1;
    // Joints, the widest place and the floor, but not the stick's own ends; all circles of the
    // disc, and its cross; a ring's finished circles and its cross.
    assert_eq!(last("story-stick"), 14 + 2);
    assert_eq!(last("centering"), 15 + 4);
    assert_eq!(last("full-size-2"), 2 + 2);
    for key in [
        "cover", "section", "map", "cuts", "boards", "ring-2", "base", "order",
    ] {
        let all = of(key);
        assert!(
            !all.is_empty() && all.iter().all(|(_, count)| *count == 0),
            "{all:?}"
        );
    }
    // Its marks, and where each tab begins.
    let strip = of("inlay").into_iter().map(|it| it.1);
    assert_eq!(strip.collect::<Vec<_>>(), [0, 0, 16 + 4]);
}

/// Where all corners of a line lie on one circle: its radius.
fn one_circle(corners: &[Point]) -> Option<f64> {
    let [a, b, c] = [0, corners.len() / 3, 2 * corners.len() / 3].map(|at| corners[at]);
    // The circumcenter, from a.
    let (bx, by, cx, cy) = (b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y);
    let twice = 2.0 * (bx * cy - by * cx);
    let (bb, cc) = (bx * bx + by * by, cx * cx + cy * cy);
    let center = point(
        a.x + (cy * bb - by * cc) / twice,
        a.y + (bx * cc - cx * bb) / twice,
    );
    let radius = center.distance(a);
    let is_on = |at: &Point| (center.distance(*at) - radius).abs() < 1e-3;
    (radius < 1e4 && corners.iter().all(is_on)).then_some(radius)
}

#[test]
fn every_circle_is_one_in_dxf_not_a_row_of_straight_pieces() {
    let (mut circles, mut lines) = (0, 0);
    for example in ringwright::design::example::ALL {
        let (design, _) = ringwright::design::link::decode(example.link).unwrap();
        // Rings at full size too.
        let every = packet::sheets(&ringwright::plan::plan(&design), "", DATE, Choice::Pictures);
        let keys: Vec<String> = every.into_iter().map(|sheet| sheet.key).collect();
        for file in packet::files(
            &ringwright::plan::plan(&design),
            "",
            DATE,
            Choice::These(&keys),
            Kind::Dxf,
        ) {
            let read = dxf::Drawing::load(&mut Cursor::new(&file.bytes)).expect(&file.name);
            for entity in read.entities() {
                match &entity.specific {
                    dxf::entities::EntityType::Circle(_) => circles += 1,
                    dxf::entities::EntityType::Polyline(line) => {
                        lines += 1;
                        let corners: Vec<Point> = line
                            .vertices()
                            .map(|vertex| point(vertex.location.x, vertex.location.y))
                            .collect();
                        let is_round = line.is_closed()
                            && corners.len() > 40
                            && one_circle(&corners).is_some();
                        assert!(!is_round, "{}: {corners:?}", file.name);
                    }
                    _ => {}
                }
            }
        }
    }
    // The larger example's centering disc alone has sixteen.
    assert!(circles > 40 && lines > 100, "{circles} {lines}");
}

#[test]
fn svg_is_read_by_a_reference_reader_and_true_in_size() {
    let design = bowl(254.0, 101.6);
    let files = packet::files(
        &ringwright::plan::plan(&design),
        &link(&design),
        DATE,
        Choice::Usual,
        Kind::Svg,
    );
    assert!(files.len() > 10);
    for file in &files {
        let tree = usvg::Tree::from_data(&file.bytes, &usvg::Options::default()).expect(&file.name);
        // usvg's own unit is the CSS pixel, 96 to the inch.
        let (width, height) = (
            f64::from(tree.size().width()) / 96.0 * 25.4,
            f64::from(tree.size().height()) / 96.0 * 25.4,
        );
        if file
            .name
            .starts_with(|letter: char| letter.is_ascii_digit())
        {
            assert!(
                (width.min(height) - 215.9).abs() < TRUE_MM
                    && (width.max(height) - 279.4).abs() < TRUE_MM,
                "{}",
                file.name
            );
        } else {
            assert!(
                width > 20.0 && height > 20.0,
                "{}: {width} × {height}",
                file.name
            );
        }
    }
}

#[test]
fn the_archive_is_read_by_a_reference_reader_and_holds_all() {
    let design = twelve();
    let link = link(&design);
    let bytes = packet::archive(
        &ringwright::plan::plan(&design),
        &link,
        DATE,
        Choice::Usual,
        "{\"own\":1}",
        shared::typeface(),
    );
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).expect("an archive");
    let names: Vec<String> = archive
        .file_names()
        .map(|name| name.unwrap().into_owned())
        .collect();
    for name in [
        "packet.pdf",
        "cut-list.csv",
        "design.ringwright.json",
        "svg/01-cover.svg",
        "dxf/centering.dxf",
    ] {
        assert!(
            names.iter().any(|other| other == name),
            "{name} in {names:?}"
        );
    }
    // A list of files puts the rings in their order, the tenth after the second.
    let mut rings: Vec<&String> = names.iter().filter(|it| it.contains("dxf/ring-")).collect();
    rings.sort();
    let numbers: Vec<u32> = rings
        .iter()
        .map(|name| {
            name["dxf/ring-".len()..]
                .trim_end_matches(".dxf")
                .parse()
                .unwrap()
        })
        .collect();
    assert!(numbers.len() > 2, "{rings:?}");
    assert!(numbers.is_sorted(), "{rings:?}");
    let plan = ringwright::plan::plan(&design);
    let order = plan.order().unwrap();
    let plugs = ringwright::plan::order::plugs::of(plan.stack().unwrap(), order);
    let files = names.iter().filter(|it| it.starts_with("stl/")).count();
    assert_eq!(files, plugs.len());
    // Reading a file to its end checks its sum.
    let mut read = |name: &str| {
        let mut file = archive.by_name(name).unwrap();
        assert_eq!(file.last_modified().unwrap().year(), 2030);
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).unwrap();
        bytes
    };
    assert_eq!(
        read("packet.pdf"),
        packet::pdf(
            &ringwright::plan::plan(&design),
            &link,
            DATE,
            Choice::Usual,
            shared::typeface()
        )
    );
    assert_eq!(read("design.ringwright.json"), b"{\"own\":1}");
    for name in &names {
        assert!(!read(name).is_empty(), "{name}");
    }
}

#[test]
fn the_cut_list_is_read_by_a_csv_reader() {
    let mut design = twelve();
    design.vessel.as_mut().unwrap().woods[1] = "=Oak, \"burr\"".into();
    let text = packet::cut_list_csv(&ringwright::plan::plan(&design));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    assert_eq!(
        (heads.len(), &heads[2], &heads[5]),
        (11, "thickness (in)", "saw (degrees)")
    );
    // The base and the strips of the slots are sawn too.
    let vase = packet::cut_list_csv(&ringwright::plan::plan(&vase()));
    for (piece, what) in [
        ("Disc", "base"),
        ("Strips for slots", "\"slots 1, slots 2\""),
    ] {
        let is_it = |row: &str| row.starts_with(piece) && row.ends_with(what);
        assert!(vase.lines().any(is_it), "{vase}");
    }
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let pieces: u32 = rows.iter().map(|row| row[4].parse::<u32>().unwrap()).sum();
    assert_eq!(pieces, 12 * 12);
    assert!(
        rows.iter()
            .any(|row| &row[1] == " =Oak, \"burr\"" && &row[4] == "6")
    );
}

proptest! {
    #[test]
    fn what_is_packed_unpacks_to_the_same(
        parts in proptest::collection::vec(
            prop_oneof![
                proptest::collection::vec(any::<u8>(), 0..40),
                Just(b"12.5 7.25 l\n".repeat(30)),
                (1_usize..70_000).prop_map(|count| vec![b'a'; count]),
            ],
            0..12,
        )
    ) {
        let bytes: Vec<u8> = parts.concat();
        let mut back = Vec::new();
        flate2::read::DeflateDecoder::new(&deflate(&bytes)[..]).read_to_end(&mut back).unwrap();
        prop_assert_eq!(&back, &bytes);
        back.clear();
        flate2::read::ZlibDecoder::new(&zlib(&bytes)[..]).read_to_end(&mut back).unwrap();
        prop_assert_eq!(&back, &bytes);
    }

    #[test]
    fn any_files_come_back_from_an_archive(
        files in proptest::collection::vec(proptest::collection::vec(any::<u8>(), 0..400), 0..8),
        date in prop_oneof![Just("2030-01-31"), Just(""), Just("tomorrow")],
    ) {
        let files: Vec<archive::File> = files
            .into_iter()
            .enumerate()
            .map(|(place, bytes)| archive::File { name: format!("folder/{place}.txt"), bytes })
            .collect();
        let bytes = archive::zip(&files, date);
        let mut read = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        prop_assert_eq!(read.len(), files.len());
        for file in &files {
            let mut bytes = Vec::new();
            read.by_name(&file.name).unwrap().read_to_end(&mut bytes).unwrap();
            prop_assert_eq!(&bytes, &file.bytes);
        }
    }
}

/// Leafing begins at the sheet that is tapped: alone, and among all that are ticked.
#[test]
fn every_sheet_is_found_on_a_page() {
    for design in [vase(), bowl(254.0, 101.6)] {
        let plan = ringwright::plan::plan(&design);
        let all = packet::sheets(&plan, "", DATE, Choice::Pictures);
        let keys: Vec<String> = all.into_iter().map(|sheet| sheet.key).collect();
        let together = packet::pages(&plan, "", DATE, Choice::These(&keys));
        for key in &keys {
            let alone = packet::pages(&plan, "", DATE, Choice::These(std::slice::from_ref(key)));
            assert!(alone.iter().any(|(of, _)| of.contains(key)), "{key} alone");
            assert!(together.iter().any(|(of, _)| of.contains(key)), "{key}");
        }
    }
}

#[test]
fn nothing_runs_off_or_overlaps_in_the_examples() {
    for example in ringwright::design::example::ALL {
        let (mut design, _) = ringwright::design::link::decode(example.link).unwrap();
        for (size, orientation) in [
            (PaperSize::Letter, Orientation::Portrait),
            (PaperSize::Letter, Orientation::Landscape),
            (PaperSize::A4, Orientation::Portrait),
            (PaperSize::A4, Orientation::Landscape),
        ] {
            (design.paper.size, design.paper.orientation) = (size, orientation);
            let plan = ringwright::plan::plan(&design);
            let sheets = packet::sheets(&plan, &link(&design), DATE, Choice::Usual);
            for page in sheets.iter().flat_map(|sheet| &sheet.pages) {
                check_words(page, &design.name);
            }
        }
    }
}

/// A set that goes through the wall has as much on its sheet as any, and no page with a
/// drawing alone.
#[test]
fn a_set_through_the_wall_has_one_page() {
    let vase = design_link::decode(example::ALL[1].link).unwrap().0;
    let keys = ["inlay".to_owned()];
    let papers = [PaperSize::Letter, PaperSize::A4]
        .map(|size| [Orientation::Portrait, Orientation::Landscape].map(|way| (size, way)));
    for (size, orientation) in papers.into_iter().flatten() {
        for held_by in [StackHeld::Bridge, StackHeld::Strips, StackHeld::Discs] {
            let mut design = vase.clone();
            (design.paper.size, design.paper.orientation) = (size, orientation);
            for set in &mut design.vessel.as_mut().unwrap().slot_sets {
                set.held_by = held_by;
            }
            let plan = ringwright::plan::plan(&design);
            let sheets = packet::sheets(&plan, "https://example.org/#1", "", Choice::These(&keys));
            let bands = sheets[0].pages.iter().map(|page| {
                let words = page.marks.iter().filter(|mark| match mark {
                    Mark::Words(it) => it.lettering.spoken().contains(", unrolled"),
                    Mark::Path(_) => false,
                });
                words.count()
            });
            let bands: Vec<usize> = bands.filter(|count| *count > 0).collect();
            assert_eq!(bands, [2, 2], "{size:?} {orientation:?} {held_by:?}");
        }
    }
}

// Open rings: what their segments are set by.

/// A bowl whose rings 2 to 5 are open by an angle, each turned on further than the one below.
fn open_rows(step_deg: f64) -> Design {
    let mut design = bowl(200.0, 100.0);
    design.shop.index_plates = vec![7];
    design.base = None;
    let vessel = design.vessel.as_mut().unwrap();
    vessel.rings = (0..7)
        .map(|place| {
            let mut ring = StackRing::plain(15.0, 18);
            if (1..5).contains(&place) {
                ring.between = Between::Gap;
                ring.gap_by = GapBy::Angle;
                ring.gap_deg = 5.0;
            }
            ring
        })
        .collect();
    open_ring::spiral(&design, 1, step_deg)
}

/// The corner of a circle's or ring's middle: there two axes of a template cross.
fn crossing(page: &Page, long_mm: f64) -> Point {
    let is_long = |path: &&Vec<Point>| {
        path.len() == 2 && (path[0].distance(path[1]) - long_mm).abs() < TRUE_MM
    };
    let lines: Vec<&Vec<Point>> = page.paths.iter().filter(is_long).collect();
    let at = |place: Point| {
        let through = lines.iter().filter(|it| {
            it[0].distance(place) < TRUE_MM
                || it[1].distance(place) < TRUE_MM
                || it[0].halfway(it[1]).distance(place) < TRUE_MM
        });
        through.count()
    };
    let places = lines
        .iter()
        .flat_map(|it| [it[0], it[1], it[0].halfway(it[1])]);
    places.max_by_key(|it| at(*it)).expect("a cross")
}

/// How far a direction on paper is off the nearest of these, degrees.
fn off_deg(found_rad: f64, wanted_rad: &[f64]) -> f64 {
    let off = |wanted: &f64| {
        let apart = (found_rad - wanted).rem_euclid(2.0 * PI);
        apart.min(2.0 * PI - apart).to_degrees()
    };
    wanted_rad.iter().map(off).fold(f64::MAX, f64::min)
}

#[test]
fn the_index_disc_has_a_mark_for_every_segment() {
    // In one piece, and in halves, the upper of which is built rim down.
    for (step_deg, meets) in [(0.0, 0), (3.7, 0), (-2.5, 3), (10.0, 0), (3.7, 3)] {
        let mut design = open_rows(step_deg);
        let mut bench = design.bench_or_usual();
        bench.meet_above_ring = Some(meets);
        design.bench = Some(bench);
        let (vessel, plan) = planned(&design);
        let meeting = ringwright::plan::plan(&design).order().unwrap().meeting;
        assert_eq!(meeting, meets as usize);
        let [page] = &pdf_of(&design, &["index-disc"])[..] else {
            panic!("one page")
        };
        let center = crossing(page, 20.0);
        // Short lines that point to the middle, by how far out they end.
        let mut marks: Vec<(f64, f64)> = Vec::new();
        for path in page.paths.iter().filter(|it| it.len() == 2) {
            let ends = [path[0], path[1]].map(|it| {
                let (right, up) = (it.x - center.x, center.y - it.y);
                // The front is above; directions grow to the left.
                (right.hypot(up), (-right).atan2(up))
            });
            let long = (ends[0].0 - ends[1].0).abs();
            if (long - 2.5).abs() > TRUE_MM || ends[0].0 > 70.0 {
                continue;
            }
            assert!(off_deg(ends[0].1, &[ends[1].1]) < 0.02);
            marks.push((ends[0].0.max(ends[1].0), ends[0].1));
        }
        let turns: Vec<f64> = (1..5)
            .map(|place| plan.rings[place].round.middle_rad(0))
            .collect();
        let mut told: Vec<f64> = Vec::new();
        for (place, turn) in (1..5).zip(turns) {
            let side = if meeting > 0 && place >= meeting {
                -1.0
            } else {
                1.0
            };
            let pitch = 2.0 * PI / f64::from(vessel.rings[place].segment_count);
            let wanted: Vec<f64> = (0..18)
                .map(|it| side * (turn + pitch * f64::from(it)))
                .collect();
            // Some circle has just these.
            let is_own = |radius: f64| {
                let on: Vec<f64> = marks
                    .iter()
                    .filter(|it| (it.0 - radius).abs() < TRUE_MM)
                    .map(|it| it.1)
                    .collect();
                on.len() == 18
                    && on.iter().all(|it| off_deg(*it, &wanted) < 0.02)
                    && wanted.iter().all(|it| off_deg(*it, &on) < 0.02)
            };
            let radius = (0..7)
                .map(|row| 69.0 - 6.5 * f64::from(row))
                .find(|it| is_own(*it));
            told.push(radius.unwrap_or_else(|| panic!("{step_deg}: ring {place} has no circle")));
        }
        told.sort_by(f64::total_cmp);
        told.dedup();
        assert_eq!(marks.len(), 18 * told.len(), "{step_deg}");
        let edge = page.paths.iter().any(|path| {
            path.len() > 60
                && path
                    .iter()
                    .all(|it| (it.distance(center) - 72.0).abs() < TRUE_MM)
        });
        assert!(edge, "cut round");
    }
    // A closed piece has none.
    let closed = ringwright::plan::plan(&twelve());
    let has = |sheet: &Sheet| sheet.key.starts_with("index-disc");
    assert!(
        !packet::sheets(&closed, "", DATE, Choice::Pictures)
            .iter()
            .any(has)
    );
    let open = ringwright::plan::plan(&open_rows(3.0));
    let usual = packet::sheets(&open, "", DATE, Choice::Usual);
    assert_eq!(usual.iter().filter(|it| has(it)).count(), 1);
    assert!(!usual.iter().any(|it| it.key.starts_with("full-size")));
}

#[test]
fn a_sheet_to_set_segments_by_is_true() {
    let design = open_rows(3.7);
    let (_, plan) = planned(&design);
    for place in 1..4 {
        let planned = &plan.rings[place];
        let segment = planned.segment.unwrap();
        let key = format!("full-size-{}", place + 1);
        let found = pdf_of(&design, &[&key]);
        let [page] = &found[..] else { continue };
        let center = crossing(page, 16.0);
        let cells: Vec<&Vec<Point>> = page
            .paths
            .iter()
            .filter(|it| it.len() == 5 && it[0].distance(it[4]) < 1e-6)
            .filter(|it| it[0].distance(center) < 120.0)
            .collect();
        let cells: Vec<&&Vec<Point>> = cells
            .iter()
            .filter(|it| {
                let reach = segment.across_corners_mm / 2.0;
                it.iter()
                    .any(|at| (at.distance(center) - reach).abs() < TRUE_MM)
            })
            .collect();
        assert_eq!(cells.len(), 18, "{key}");
        // The front of this ring, from the middle of its first segment, which lies to the right.
        let turn = planned.round.middle_rad(0);
        let round = &planned.round;
        for cell in cells {
            let middle = cell[..4].iter().fold(point(0.0, 0.0), |at, it| {
                point(
                    at.x + it.x / 4.0 - center.x / 4.0,
                    at.y + it.y / 4.0 - center.y / 4.0,
                )
            });
            // Seen from above they go round to the left, up on paper.
            let direction = (-middle.y).atan2(middle.x) + turn;
            let wanted: Vec<f64> = (0..18).map(|it| round.middle_rad(it)).collect();
            assert!(off_deg(direction, &wanted) < 0.02, "{key}");
            let reach: Vec<f64> = cell[..4].iter().map(|it| it.distance(center)).collect();
            let hole = segment.smallest_hole_mm / 2.0;
            let [near, far] = [hole, segment.across_corners_mm / 2.0];
            let is_at = |wanted: f64| {
                reach
                    .iter()
                    .filter(|it| (*it - wanted).abs() < TRUE_MM)
                    .count()
            };
            assert_eq!(
                [is_at(near), is_at(far)],
                [2, 2],
                "{key} {reach:?} {near} {far}"
            );
        }
        let front = page.paths.iter().any(|path| {
            path.len() == 2 && {
                let [one, other] = [path[0], path[1]].map(|it| {
                    let (x, y) = (it.x - center.x, it.y - center.y);
                    (x.hypot(y), y.atan2(x))
                });
                other.0 > segment.across_corners_mm / 2.0
                    && off_deg(one.1, &[turn]) < 0.02
                    && off_deg(other.1, &[turn]) < 0.02
            }
        });
        assert!(front, "{key}: the front is marked");
    }
}
