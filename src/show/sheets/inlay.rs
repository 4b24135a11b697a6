//! The sheets of the slot sets: how the saw is set up for each, and an index strip at true
//! scale to wrap round the stack. The order of work has its steps.

use super::{
    EDGE_MM, LINE_MM, blank, code_end, figure, foot, foot_top, is_lying, lines, note, paper_mm,
    paragraph, row, woods,
};
use crate::design::{Design, StackHeld, Vessel};
use crate::draw::pen::Pen;
use crate::draw::{
    Anchor, Drawing, Fill, Frame, Ink, Mark, Path, Point, Role, Tone, Words, point, polygon,
    polyline, rectangle,
};
use crate::edit::opening::openings;
use crate::plan::inlay::{self, SetPlan};
use crate::plan::sawing;
use crate::plan::stack::StackPlan;
use crate::show::figures::{Figure, inlay as figures};
use crate::show::pictures::gauge;
use crate::show::pictures::inlay::{self as drawn, BandView};
use crate::show::words;
use crate::trade::outline::Outline;
use crate::units::length::{MM_PER_INCH, at_least, show};
use crate::units::quantity::shown_degrees;

/// Height of the band's drawing where there is room, and where there is little.
const BAND_MM: f64 = 46.0;
const LEAST_BAND_MM: f64 = 22.0;

/// Room for a band's heading.
const BAND_HEAD_MM: f64 = 6.0;

/// Height of the blade's scale, on upright and on lying paper.
const WINDOW_MM: f64 = 34.0;
const LYING_WINDOW_MM: f64 = 60.0;

/// Height of a piece of the index strip, and from one to the next.
const STRIP_MM: f64 = 14.0;
const PITCH_MM: f64 = 24.0;

/// Length of the tab at the end of a piece, glued under the next one.
const TAB_MM: f64 = 10.0;

/// The sheets of every set that has a stack; none without sets.
pub fn sheets(plan: &StackPlan, link: &str, date: &str) -> Vec<Drawing> {
    let design = &*plan.design;
    let sets: Vec<(usize, &SetPlan)> = plan
        .slot_sets
        .iter()
        .enumerate()
        .filter_map(|(place, own)| Some((place, own.as_ref()?)))
        .collect();
    let mut sheets: Vec<Drawing> = sets
        .iter()
        .flat_map(|(place, own)| set_up(plan, *place, own, link, date))
        .collect();
    let mut done: Vec<usize> = Vec::new();
    // What cannot be sawn is not marked.
    let sawn: Vec<_> = sets.iter().filter(|(_, own)| own.is_open()).collect();
    for (place, own) in sawn.iter().copied() {
        if done.contains(place) {
            continue;
        }
        // Sets on the same stack share its strip.
        let same = sawn.iter().filter(|it| it.1.rings == own.rings);
        let same: Vec<_> = same.copied().copied().collect();
        done.extend(same.iter().map(|(place, _)| *place));
        sheets.extend(index_strip(design, &plan.vessel, &same, link, date));
    }
    sheets
}

/// One set: its figures for the saw, the window, what will show, and what to look at. On
/// lying paper the figures stand at the left, everything else at the right of them.
fn set_up(plan: &StackPlan, place: usize, own: &SetPlan, link: &str, date: &str) -> Vec<Drawing> {
    let design = &*plan.design;
    let (width, height) = paper_mm(&design.paper);
    let pen = Pen::paper(design.unit);
    let subtitle = format!(
        "{}, {}",
        words::INLAY_SHEET.text,
        words::inlay::set_name(place, Some(own))
    );
    let (mut sheet, top) = blank(design, &subtitle, link, date);
    let room = width - 2.0 * EDGE_MM;
    let is_lying = is_lying(&design.paper);
    let column = room * if is_lying { 0.4 } else { 0.52 };
    let mut y = in_figures(&mut sheet, plan, place, own, (top + 6.0, column));
    let right = EDGE_MM + column + 8.0;
    let beside = width - EDGE_MM - right;
    heading(&mut sheet, point(right, top + 4.0), words::INLAY_WINDOW);
    let size = if is_lying {
        (beside * 0.42, LYING_WINDOW_MM)
    } else {
        (beside, WINDOW_MM)
    };
    let window = drawn::window(own, size, &pen);
    sheet.place(&window, &Frame::at(point(right, top + 7.0)));
    let mut lies = point(right, top + size.1 + 8.0);
    if !is_lying && own.is_open() {
        lies.y = seen_from_above(&mut sheet, own, lies, beside, &pen);
    }
    let mut window_end = paragraph(
        &mut sheet,
        lies,
        words::INLAY_ON_TABLE.text,
        size.0,
        Tone::Graphite,
    ) + 3.0;
    window_end = strip_end(&mut sheet, plan, own, point(right, window_end), size.0);
    let (words_at, words_mm) = if is_lying {
        let left = right + size.0 + 6.0;
        let below = (top + 4.0).max(code_end(link) + 4.0);
        (point(left, below), width - EDGE_MM - left)
    } else {
        (point(right, window_end), beside)
    };
    let mut side = to_look_at(&mut sheet, plan, place, words_at, words_mm);
    if own.is_open() {
        let beside = (point(words_at.x, side), words_mm);
        // Under the figures, where there is room there.
        let under = (point(EDGE_MM, y + 1.0), column);
        [side, y] = always_said(&mut sheet, own.held_by, [beside, under]);
    }
    let (left, across, mut y) = if is_lying {
        (right, beside, side.max(window_end) + 4.0)
    } else {
        (EDGE_MM, room, y.max(side) + 4.0)
    };
    let mut sheets = vec![sheet];
    let bands = [
        (false, words::INLAY_BAND, words::INLAY_BAND_SEEN),
        (true, words::INLAY_INSIDE_BAND, words::INLAY_INSIDE_SEEN),
    ];
    for (done, (is_inside, key, seen)) in bands.into_iter().enumerate() {
        // They share what room there is.
        let share = (height - EDGE_MM - y) / (bands.len() - done) as f64 - BAND_HEAD_MM;
        if share < LEAST_BAND_MM && height - EDGE_MM - y < LEAST_BAND_MM + BAND_HEAD_MM {
            let (next, top) = blank(design, &subtitle, link, date);
            sheets.push(next);
            y = top.max(code_end(link)) + 6.0;
        }
        let high = share.clamp(LEAST_BAND_MM, BAND_MM);
        let last = sheets.len() - 1;
        heading(&mut sheets[last], point(left, y), key);
        let mut end = Words::new(point(left + across, y), seen.text, 2.2);
        let view = BandView::fit(own, across, high);
        if view.across * std::f64::consts::TAU > across + 0.5 {
            end.lettering = format!("{} {}", seen.text, words::INLAY_PART.text).into();
        }
        sheets[last].add(end.anchored(Anchor::End));
        let mut band = drawn::band(plan, own, &view, is_inside);
        woods::tell_apart(&mut band, plan);
        stand_out(&mut band, place);
        sheets[last].place(&band, &Frame::at(point(left, y)));
        // Where both surfaces are seen from is told above them; this is their middle.
        let middle = left + across / 2.0;
        sheets[last].line(point(middle, y + 2.0), point(middle, y + 5.0), Ink::Object);
        let front = Words::new(point(middle + 1.5, y + 4.4), words::MAP_FRONT.text, 2.1);
        sheets[last].add_part(front.bold(), Role::Running);
        y += high + BAND_HEAD_MM;
    }
    sheets
}

/// How the stack lies on the saw; returns where the drawing ends.
fn seen_from_above(sheet: &mut Drawing, own: &SetPlan, at: Point, wide: f64, pen: &Pen) -> f64 {
    // More is to be said of slots that go through.
    let high = if own.is_through() {
        LOW_GAUGE_MM
    } else {
        GAUGE_MM
    };
    heading(sheet, point(at.x, at.y + 1.0), words::INLAY_FROM_ABOVE);
    let drawn = gauge::from_above(own, (wide, high), pen);
    sheet.place(&drawn, &Frame::at(point(at.x, at.y + 2.0)));
    at.y + high + 5.0
}

/// A set's figures one below the other; returns where they end.
fn in_figures(
    sheet: &mut Drawing,
    plan: &StackPlan,
    place: usize,
    own: &SetPlan,
    (top, column): (f64, f64),
) -> f64 {
    let mut list = figures::list(plan, own);
    if own.is_through() {
        // The blade's scale has them, and there is more to say.
        let limits = [
            words::SLOT_LEAST_THROUGH,
            words::SLOT_MOST_ACROSS,
            words::SLOT_MOST_DISCS,
        ];
        list.retain(|it| limits.iter().all(|limit| limit.key != it.key));
    }
    let mut y = rows(sheet, &figures::saw(plan, own, place), top, column, 4.2);
    for list in [list, figures::zigzag(plan, place, own)] {
        y = rows(sheet, &list, y, column, 2.4);
    }
    y
}

/// The end of a layered strip, from a place on; returns where it ends.
fn strip_end(
    sheet: &mut Drawing,
    plan: &StackPlan,
    own: &SetPlan,
    at: Point,
    width_mm: f64,
) -> f64 {
    if own.sticks.is_none() {
        return at.y;
    }
    let head = point(at.x, at.y + 1.0);
    heading(sheet, head, words::STRIP_END);
    let drawn = drawn::strip_end(plan, own, width_mm, &Pen::paper(plan.design.unit));
    sheet.place(&drawn, &Frame::at(point(at.x, head.y + 2.0)));
    head.y + drawn::strip_end_mm(own) + 6.0
}

/// Makes a set's strips stand out from those of others.
fn stand_out(band: &mut Drawing, place: usize) {
    let own = format!("strip-{place}-");
    for mark in &mut band.marks {
        if let Mark::Path(path) = mark
            && let Some(name) = &path.name
            && name.starts_with(&own)
            // The layers of a strip have no lines of their own.
            && path.ink.is_some()
        {
            path.ink = Some(Ink::Object);
        }
    }
}

/// The set's cautions, and what helps where it cannot be sawn; returns where they end.
fn to_look_at(
    sheet: &mut Drawing,
    plan: &StackPlan,
    place: usize,
    mut at: Point,
    width_mm: f64,
) -> f64 {
    let design = &*plan.design;
    for placed in sawing::inspect(plan, &plan.slot_sets) {
        if matches!(placed.caution, crate::plan::caution::Caution::Slots(about, _) if about == place)
        {
            let told = words::caution(&placed.caution, design.unit);
            let text = format!("{} {}", told.reason, told.remedy);
            at.y = paragraph(sheet, at, &text, width_mm, Tone::Caution) + 1.0;
        }
    }
    let own = plan.slot_sets[place].as_ref();
    if let Some(own) = own.filter(|own| !own.is_open()) {
        let all = openings(design, place);
        let all = all.iter().map(|it| words::inlay::opening(*it, design.unit));
        let mut told: Vec<String> = all.map(|it| format!("– {it}")).collect();
        if told.is_empty() {
            told.push(words::inlay::no_opening(own, design.unit));
        } else {
            told.insert(0, words::by_key("inlay.openings").to_owned());
        }
        for text in told {
            at.y = paragraph(sheet, at, &text, width_mm, Tone::Graphite) + 1.0;
        }
    }
    at.y
}

/// What is always said at the saw. Of slots that go through there is more: their danger comes
/// first, in the first of two columns, the rest under whichever is the shorter. Returns where
/// they end.
fn always_said(
    sheet: &mut Drawing,
    held_by: StackHeld,
    [mut first, mut other]: [(Point, f64); 2],
) -> [f64; 2] {
    let through: &[words::Word] = match held_by {
        StackHeld::Bridge => &[],
        StackHeld::Strips => &[
            words::INLAY_SAFETY_THROUGH_1,
            words::INLAY_SAFETY_THROUGH_STRIPS,
        ],
        StackHeld::Discs => &[
            words::INLAY_SAFETY_THROUGH_1,
            words::INLAY_SAFETY_THROUGH_DISCS,
        ],
    };
    for key in through {
        let (at, width_mm) = &mut first;
        at.y = paragraph(sheet, *at, key.text, *width_mm, Tone::Caution) + 1.0;
    }
    for key in [
        words::INLAY_SAFETY_1,
        words::INLAY_SAFETY_2,
        if through.is_empty() {
            words::INLAY_SAFETY_3
        } else {
            words::INLAY_SAFETY_THROUGH_2
        },
        words::INLAY_SAFETY_4,
    ] {
        let high = |width_mm: f64| lines(key.text, width_mm, Tone::Graphite).len() as f64 * LINE_MM;
        let end = |(at, width_mm): (Point, f64)| at.y + high(width_mm);
        let (at, width_mm) = if !through.is_empty() && end(other) < end(first) {
            &mut other
        } else {
            &mut first
        };
        at.y = paragraph(sheet, *at, key.text, *width_mm, Tone::Graphite) + 1.0;
    }
    [first.0.y, other.0.y]
}

fn heading(sheet: &mut Drawing, at: Point, word: words::Word) {
    sheet.add_part(Words::new(at, word.text, 2.6).bold(), Role::Heading);
}

/// Figures one below the other, each with its note; returns where they end.
fn rows(sheet: &mut Drawing, figures: &[Figure], top: f64, width: f64, height_mm: f64) -> f64 {
    let mut y = top;
    for it in figures {
        row(
            sheet,
            point(EDGE_MM, y),
            width,
            &it.label,
            figure(&it.shown),
            height_mm,
        );
        let pitch = if height_mm > 3.0 { 9.5 } else { 6.0 };
        y += pitch;
        if !it.note.is_empty() {
            // Right under its line.
            let end = point(EDGE_MM + width, y - pitch + 5.0);
            y += note(sheet, &it.note, end, width) + 0.6;
        }
    }
    y
}

/// The marks of all sets that can be sawn on one stack, in pieces as long as the paper is wide.
fn index_strip(
    design: &Design,
    vessel: &Vessel,
    sets: &[(usize, &SetPlan)],
    link: &str,
    date: &str,
) -> Vec<Drawing> {
    let Some((_, stack)) = sets.first() else {
        return Vec::new();
    };
    let (width, _) = paper_mm(&design.paper);
    let whole = stack.circumference_mm();
    // All pieces alike long: a snippet would be lost in the dust.
    let count = (whole / (width - 2.0 * EDGE_MM - TAB_MM)).ceil().max(1.0) as u32;
    let piece = whole / f64::from(count);
    // The strip begins at the front, which is marked on every ring.
    let front = stack.round_mm(0.0);
    let mut marks: Vec<IndexMark> = Vec::new();
    for (place, own) in sets {
        for (slot, direction) in own.slots.directions().enumerate() {
            let along = (stack.round_mm(direction) - front).rem_euclid(whole.max(1e-9));
            let along = if whole - along < 1e-6 { 0.0 } else { along };
            marks.push((along, *place, format!("{}.{}", place + 1, slot + 1)));
        }
    }
    let subtitle = words::INLAY_INDEX.text;
    let mut sheets: Vec<Drawing> = Vec::new();
    let mut y = f64::MAX;
    for number in 0..count {
        if y + PITCH_MM > foot_top(&design.paper) {
            let (mut sheet, top) = blank(design, subtitle, link, date);
            foot(&mut sheet, design, &[]);
            y = top.max(code_end(link)) + 4.0;
            if number == 0 {
                let room = width - 2.0 * EDGE_MM;
                for says in [
                    fits(design, vessel, sets, whole),
                    words::INLAY_STRIP_WRAP.text.to_owned(),
                    words::INLAY_STRIP_MARK.text.to_owned(),
                ] {
                    y = paragraph(&mut sheet, point(EDGE_MM, y), &says, room, Tone::Graphite) + 1.0;
                }
                y += 6.0;
            }
            sheets.push(sheet);
        }
        let from = f64::from(number) * piece;
        let to = from + piece;
        if let Some(sheet) = sheets.last_mut() {
            let corner = point(EDGE_MM, y);
            index_piece(sheet, corner, [from, to], &marks, (number, count));
        }
        y += PITCH_MM;
    }
    let room = width - 2.0 * EDGE_MM;
    for (at, (place, own)) in sets.iter().enumerate() {
        // Upright paper has the drawing on the set's own sheet.
        let drawn_mm = is_lying(&design.paper).then_some(room * 0.4);
        // What is said of them all is said last, of the one that goes deepest.
        let behind = |it: &&SetPlan| it.blade_behind_mm();
        let all = sets.iter().map(|it| it.1);
        let deepest = all.max_by(|one, other| behind(one).total_cmp(&behind(other)));
        let deepest = deepest.filter(|_| at + 1 == sets.len());
        // The gauge at the same angle is told in short.
        let is_same = |it: &&SetPlan| {
            let [one, other] = [it, own].map(|it| it.slots.gauge_rad.abs());
            one > 0.0 && (one - other).abs() < 1e-9
        };
        let before = sets[..at].iter().map(|it| it.1).find(is_same);
        let says = how_it_lies(design, *place, own, before, deepest);
        let wide = room - drawn_mm.map_or(0.0, |wide| wide + 6.0);
        let told: usize = says
            .iter()
            .map(|it| lines(it, wide, Tone::Graphite).len())
            .sum();
        let high = drawn_mm.map_or(0.0, |_| GAUGE_MM);
        let needed = high.max(told as f64 * LINE_MM + says.len() as f64);
        if y + needed > foot_top(&design.paper) {
            let (mut sheet, top) = blank(design, subtitle, link, date);
            foot(&mut sheet, design, &[]);
            y = top.max(code_end(link)) + 4.0;
            sheets.push(sheet);
        }
        let Some(sheet) = sheets.last_mut() else {
            continue;
        };
        if let Some(across) = drawn_mm {
            let drawn = gauge::from_above(own, (across, GAUGE_MM), &Pen::paper(design.unit));
            sheet.place(&drawn, &Frame::at(point(EDGE_MM, y - 4.0)));
        }
        let mut at = point(width - EDGE_MM - wide, y);
        for text in &says {
            at.y = paragraph(sheet, at, text, wide, Tone::Graphite) + 1.0;
        }
        y += needed + 2.0;
    }
    sheets
}

/// Height of the drawing of stack and gauge, and where there is little room for it.
const GAUGE_MM: f64 = 50.0;
const LOW_GAUGE_MM: f64 = 40.0;

/// Which way the gauge is turned, where the stack stands at the fence and how a mark is
/// brought to the blade.
fn how_it_lies(
    design: &Design,
    place: usize,
    own: &SetPlan,
    before: Option<&SetPlan>,
    deepest: Option<&SetPlan>,
) -> Vec<String> {
    let mut says = vec![match before {
        Some(_) => gauge_set_again(design, place, own),
        None => gauge_set(design, place, own),
    }];
    let tilt_rad = own.slots.tilt_rad;
    if tilt_rad != 0.0 {
        let tilt = if tilt_rad < 0.0 {
            words::INLAY_TILT_RIGHT
        } else {
            words::INLAY_TILT_LEFT
        };
        says.push(words::filled(tilt, &[&degrees_told(tilt_rad.abs())]));
    }
    if let Some(deepest) = deepest {
        says.push(words::inlay::pushed(deepest, design.unit));
        let opposite = own.slots.opposite().map(|on| {
            let [one, other] = [1, 1 + on].map(|slot| format!("{}.{slot}", place + 1));
            words::filled(words::INLAY_OPPOSITE, &[&one, &other])
        });
        let opposite = opposite.unwrap_or_default();
        says.push(words::filled(words::INLAY_PLUMB, &[&opposite]));
    }
    says
}

fn degrees_told(angle_rad: f64) -> String {
    format!("{}°", shown_degrees(angle_rad).text)
}

/// How the gauge is set, and where the stack stands on it.
fn gauge_set(design: &Design, place: usize, own: &SetPlan) -> String {
    let gauge_rad = own.slots.gauge_rad;
    let turn = if gauge_rad < 0.0 {
        words::INLAY_TURN_AGAINST
    } else {
        words::INLAY_TURN_WITH
    };
    let (number, angle) = ((place + 1).to_string(), degrees_told(gauge_rad.abs()));
    let scale = degrees_told(std::f64::consts::FRAC_PI_2 - gauge_rad.abs());
    let beside_mm = own.beside_kerf_mm(own.trims);
    let line = if beside_mm < 0.0 {
        words::INLAY_LINE_LEFT
    } else {
        words::INLAY_LINE_RIGHT
    };
    let beside = show(beside_mm.abs(), design.unit).whole_line();
    // As long as a bevel's legs are measured with ease.
    let along_mm = if design.unit.is_inch() {
        10.0 * MM_PER_INCH
    } else {
        250.0
    };
    let across_mm = along_mm * gauge_rad.abs().tan();
    let [along, across] = [along_mm, across_mm].map(|it| show(it, design.unit).whole_line());
    let stop = stop_says(design, own);
    if gauge_rad == 0.0 {
        return words::filled(words::INLAY_SQUARE, &[&number, &stop]);
    }
    let from_end = at_least(own.fence_mm() / 2.0, design.unit).line();
    let turned = words::filled(turn, &[&number, &angle, &scale, &along, &across]);
    format!(
        "{turned} {}",
        words::filled(line, &[&beside, &stop, &from_end])
    )
}

/// The same in short, for a set whose gauge stands at the angle of one before.
fn gauge_set_again(design: &Design, place: usize, own: &SetPlan) -> String {
    let again = if own.slots.gauge_rad < 0.0 {
        words::INLAY_AGAIN_AGAINST
    } else {
        words::INLAY_AGAIN_WITH
    };
    let beside_mm = own.beside_kerf_mm(own.trims).abs();
    let beside = show(beside_mm, design.unit).whole_line();
    words::filled(again, &[&(place + 1).to_string(), &beside])
}

/// Where a stop block keeps a stack at its place along the gauge's fence: one that is round
/// meets it alike however it lies.
fn stop_says(design: &Design, own: &SetPlan) -> String {
    let is_swung = own.slots.gauge_rad != 0.0;
    match widest_round_mm(own).filter(|_| is_swung) {
        Some(widest_mm) => {
            let from = show(widest_mm, design.unit).whole_line();
            // The gauge's end that is swung nearer to who pushes.
            let end = if own.slots.gauge_rad < 0.0 {
                words::INLAY_STOP_LEFT
            } else {
                words::INLAY_STOP_RIGHT
            };
            words::filled(end, &[&from])
        }
        None => words::INLAY_STOP.text.to_owned(),
    }
}

/// The radius of the widest ring of a stack that is turned round; it is so throughout, or has
/// its flats throughout.
fn widest_round_mm(own: &SetPlan) -> Option<f64> {
    let rounds = own.stack.layers.iter().map(|layer| match layer.outside {
        Outline::Round(radius_mm) => Some(radius_mm),
        Outline::Corners(_) | Outline::Unlike(_) => None,
    });
    let radii = rounds.collect::<Option<Vec<f64>>>()?;
    Some(radii.into_iter().fold(0.0, f64::max))
}

/// What the strip goes round, and how long it is, so that a stack that is off is noticed.
/// At the joints a narrower one finds its slots without the strip.
fn fits(design: &Design, vessel: &Vessel, sets: &[(usize, &SetPlan)], whole_mm: f64) -> String {
    let length = show(whole_mm, design.unit).whole_line();
    let Some((_, stack)) = sets.first() else {
        return length;
    };
    let all: Vec<&SetPlan> = sets.iter().map(|(_, own)| *own).collect();
    let narrower = match inlay::at_joints_of(vessel, &all) {
        Some(ring) => words::filled(words::INLAY_STRIP_JOINTS, &[&(ring + 1).to_string()]),
        None => words::INLAY_STRIP_NARROWER.text.to_owned(),
    };
    match widest_round_mm(stack) {
        Some(widest) => {
            let across = show(2.0 * widest, design.unit).whole_line();
            let round = words::filled(words::INLAY_STRIP_ROUND, &[&across, &length]);
            format!("{round} {narrower}")
        }
        None => words::filled(words::INLAY_STRIP_FLATS, &[&length]),
    }
}

/// A mark on the index strip: its place along it, its set's place, and its name.
type IndexMark = (f64, usize, String);

/// Lines of names on the strip: those of sets on one stack may come close.
const NAME_LINES: usize = 3;

/// A piece of the strip from one place along it to another.
fn index_piece(
    sheet: &mut Drawing,
    corner: Point,
    [from, to]: [f64; 2],
    marks: &[IndexMark],
    (number, count): (u32, u32),
) {
    let first = sheet.marks.len();
    // Cut out with its tab: only dashes part the two.
    let body = rectangle(corner, to - from + TAB_MM, STRIP_MM);
    sheet.add(Path::line(body, Ink::CutOut).named("index strip"));
    let mut taken: Vec<(usize, f64)> = Vec::new();
    for (along, set, name) in marks {
        if !(from..to).contains(along) {
            continue;
        }
        let x = corner.x + along - from;
        let line = polyline(&[point(x, corner.y), point(x, corner.y + STRIP_MM)]);
        sheet.add(Path::line(line, Ink::Object).named(format!("mark {name}")));
        let line = set % NAME_LINES;
        let y = corner.y + 3.6 + 4.2 * line as f64;
        let mut name = Words::new(point(x + 1.0, y), name.as_str(), 2.3).bold();
        let width = name.width_mm();
        // Where the piece ends right behind the mark, its name stands before it.
        if width + 2.0 > to - along {
            name.at.x = x - 1.0;
            name = name.anchored(Anchor::End);
        }
        let is_free = taken
            .iter()
            .all(|(other, at)| *other != line || (name.at.x - at).abs() > 2.0 * width + 2.0);
        // Slots as close as that are counted from a name.
        if is_free {
            taken.push((line, name.at.x));
            sheet.add(name);
        }
    }
    // Which edge is up, where it begins, and how the pieces are joined.
    let above = corner.y - 1.4;
    let up = [
        point(corner.x + 6.0, above),
        point(corner.x + 7.4, above - 2.4),
        point(corner.x + 8.8, above),
    ];
    let right = to - from + TAB_MM / 2.0 - 7.4;
    // Once more on the tab, since what stands above is cut off.
    let kept = up.map(|at| point(at.x + right, at.y + 5.2));
    for arrow in [up, kept] {
        let arrow = Path::area(polygon(&arrow), Fill::Tone(Tone::Graphite));
        sheet.add(arrow.named("up"));
    }
    let says = Words::new(
        point(corner.x + 11.0, above),
        words::INLAY_STRIP_UP.text,
        2.1,
    );
    sheet.add(says);
    let letter = |number: u32| char::from(b'A' + (number % 26) as u8).to_string();
    let begins = if number == 0 {
        words::INLAY_STRIP_START.text.to_owned()
    } else {
        words::filled(words::INLAY_STRIP_ON, &[&letter(number - 1)])
    };
    let below = corner.y + STRIP_MM + 3.6;
    sheet.add(Words::new(point(corner.x, below), begins, 2.1).bold());
    let is_last = number + 1 == count;
    let joint = point(corner.x + to - from, corner.y);
    let tab = polyline(&[joint, point(joint.x, joint.y + STRIP_MM)]);
    sheet.add(Path::line(tab, Ink::Hidden).named("tab"));
    let ends = if is_last {
        words::INLAY_STRIP_END.text.to_owned()
    } else {
        words::filled(words::INLAY_STRIP_TAB, &[&letter(number)])
    };
    // Past a short last piece, so that it does not meet what stands at its beginning.
    let end = point((corner.x + to - from + TAB_MM).max(corner.x + 125.0), below);
    sheet.add(Words::new(end, ends, 2.1).anchored(Anchor::End).bold());
    let middle = point(
        corner.x + to - from + TAB_MM / 2.0,
        corner.y + STRIP_MM / 2.0,
    );
    let name = if is_last {
        letter(count - 1)
    } else {
        letter(number)
    };
    sheet.add(
        Words::new(middle, name.as_str(), 3.0)
            .anchored(Anchor::Middle)
            .level_middle()
            .bold(),
    );
    let says = format!("{} {name}", words::INLAY_INDEX.text);
    sheet.part(first, Role::Figure(says));
}
