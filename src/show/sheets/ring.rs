//! The ring's sheet: figures, drawings, one segment and the miter wedge at true
//! scale, and the bars to check that scale by.

use super::job::{Choice, Job, OfVessel, Sheet};
use super::{
    EDGE_MM, LINE_MM, blank, clear, code_end, figure, foot, foot_top, is_lying, lines, map,
    paper_mm, paragraph, pattern, row, stripe, tile, woods,
};
use crate::design::field::key;
use crate::design::{Design, MadeOf, StackRing};
use crate::draw::dimension::{Run, linear};
use crate::draw::lettering::{SCREEN_SLACK, width_mm, wrap};
use crate::draw::pen::{Pen, lettering};
use crate::draw::{
    Anchor, Drawing, Frame, Ink, Lettering, Path, Point, Role, Tone, Weight, Words, point, polygon,
};
use crate::plan::bill::ring_numbers;
use crate::plan::order::{End, Half};
use crate::plan::ring::{RingPlan, ring_cautions};
use crate::plan::rings::Made;
use crate::show::figures::{self, Figure};
use crate::show::pictures;
use crate::show::pictures::vessel::ring_from_above;
use crate::show::words;
use crate::trade::ring::{Segment, Wanted};
use crate::trade::round::{Alike, SegmentKind};
use crate::units::length::{Unit, show};
use crate::units::quantity;

/// Height of the ring's drawing.
const RING_MM: f64 = 70.0;

/// Height of the drawing of segments on their strip.
const STRIP_MM: f64 = 32.0;

/// Width of the drawings on lying paper, as a share of its room.
const LYING_DRAWING: f64 = 0.29;

/// Length of the wedge's long leg, where the paper is wide enough: long enough to set
/// a saw's fence by.
const WEDGE_MM: f64 = 160.0;

/// What a ring's sheet says beside what follows from the ring alone.
struct About {
    subtitle: String,
    cautions: Vec<String>,
    /// Its place in the stack, the lowest of several that are alike.
    place: Option<usize>,
    /// Whether it has a pattern.
    is_patterned: bool,
    /// Whether half a page is too little for it: it has a board or kinds of segments of its
    /// own.
    is_whole: bool,
    /// What is told of its front.
    front: Option<String>,
    /// The sheet that has the miter wedge for this setting of the saw, where it is another.
    wedge_on: Option<String>,
}

/// The sheet of the Ring place's ring, where there is no vessel; one a ring, where there
/// is one. Rings that are alike share a sheet, and two small ones a page.
pub fn in_packet(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        let about = About {
            subtitle: in_short(job.design, &job.plan.ring),
            cautions: cautions(job.design, &job.plan.ring),
            place: None,
            is_patterned: false,
            is_whole: true,
            front: None,
            wedge_on: None,
        };
        let sheet = made(job, &job.plan.ring, &about);
        return sheet
            .map(|(pages, template)| {
                Sheet::new("ring", words::PLACE_RING.text, pages).with_template(template)
            })
            .into_iter()
            .collect();
    };
    let mut wedges = Vec::new();
    let made = alike(of)
        .into_iter()
        .filter_map(|places| of_vessel(job, of, &places, &mut wedges));
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut waiting: Option<Drawing> = None;
    for (mut sheet, half) in made {
        // Two that need no more than half a page share it, unless one is to be chosen.
        let half = half.filter(|_| job.choice != Choice::Pictures);
        if let (Some(upper), Some(lower), Some(last)) = (&waiting, &half, sheets.last_mut()) {
            last.pages = vec![shared(job, [&last.title, &sheet.title], [upper, lower])];
            sheet.pages.clear();
            waiting = None;
        } else {
            waiting = half;
        }
        sheets.push(sheet);
    }
    sheets
}

/// A page with two rings on it, one below the other, beside each other where it lies.
fn shared(job: &Job, titles: [&str; 2], halves: [&Drawing; 2]) -> Drawing {
    let (mut page, top) = blank(job.design, &titles.join(", "), job.link, job.date);
    let is_lying = is_lying(&job.design.paper);
    let mut at = point(0.0, top.max(code_end(job.link)));
    for half in halves {
        page.place(half, &Frame::at(at));
        if is_lying {
            at.x = page.width_mm - half.width_mm;
        } else {
            at.y += half.height_mm;
        }
    }
    foot(&mut page, job.design, SAW_NOTES);
    page
}

/// Half a page with its edges.
fn half_mm(job: &Job) -> (f64, f64) {
    const GUTTER_MM: f64 = 8.0;
    let paper = &job.design.paper;
    let (width, _) = paper_mm(paper);
    let high = foot_top(paper) - (EDGE_MM + 23.0).max(code_end(job.link));
    if is_lying(paper) {
        ((width - GUTTER_MM) / 2.0 + EDGE_MM, high)
    } else {
        (width, high / 2.0)
    }
}

/// A ring on half a page, where it has room: its figures, the ring and a segment at true
/// scale beside each other; on lying paper the segment below the ring.
fn half(job: &Job, ring: &RingPlan, about: &About) -> Option<Drawing> {
    // A smaller drawing of the ring leaves a large segment room below it.
    let sizes: &[f64] = if is_lying(&job.design.paper) {
        &[58.0, 52.0, 46.0, 40.0]
    } else {
        &[58.0]
    };
    let mut sizes = sizes.iter();
    sizes.find_map(|drawn_mm| half_with(job, ring, about, *drawn_mm))
}

/// The same with the ring drawn so high.
fn half_with(job: &Job, ring: &RingPlan, about: &About, drawn_mm: f64) -> Option<Drawing> {
    const LINE_MM: f64 = 5.0;
    const GAP_MM: f64 = 4.0;
    let is_lying = is_lying(&job.design.paper);
    if about.is_whole || about.wedge_on.is_none() || !about.cautions.is_empty() {
        return None;
    }
    let pen = Pen::paper(job.design.unit);
    let (width, high) = half_mm(job);
    let room = width - 2.0 * EDGE_MM;
    let mut half = Drawing::new(width, high, "");
    let mut top = 5.0;
    let from = half.marks.len();
    for line in wrap(&about.subtitle, room / SCREEN_SLACK, 2.8, Weight::Bold) {
        half.add(Words::new(point(EDGE_MM, top), line, 2.8).bold());
        top += LINE_MM;
    }
    half.part(from, Role::Heading);
    top -= 1.0;
    let (left, middle) = if is_lying {
        (room * 0.53, room * 0.47 - GAP_MM)
    } else {
        (room * 0.39, room * 0.32)
    };
    let is_long = |it: &Figure| {
        let label = width_mm(&it.label, 2.4, Weight::Regular);
        figure(&it.shown).width_mm(2.4, Weight::Bold) + label.min(12.0) + 3.0 > left
    };
    if figures::list(job.design, ring).iter().any(is_long) {
        return None;
    }
    // A long list is set a little closer.
    let below_saw = high - top - 3.0 - 3.0 * 8.0;
    let pitch = below_saw / figures::list(job.design, ring).len() as f64;
    let sizes = [3.6, 8.0, pitch.clamp(4.7, 5.2)];
    let mut end = figures(&mut half, job.design, ring, (top - 3.0, left), sizes);
    let mut x = EDGE_MM + left + GAP_MM;
    let drawn = drawn(job, ring, about, (middle, drawn_mm));
    let says = about.front.as_ref()?;
    half.place(&drawn, &Frame::at(point(x, top)));
    let at = point(x, top + drawn_mm + 5.0);
    let below = paragraph(&mut half, at, says, middle, Tone::Graphite);
    if is_lying {
        end = wood_key(&mut half, job, about, (EDGE_MM, end), left);
        top = below + 2.0;
    } else {
        let below = wood_key(&mut half, job, about, (x, below + 1.0), middle);
        end = end.max(below);
        x += middle + GAP_MM;
    }
    let named = Words::new(point(x, top + 1.0), words::SHEET_SEGMENT.text, 2.6).bold();
    half.add_part(named, Role::Heading);
    let template = segment_template(&ring.segment?, &pen);
    let turned = tile::turned(&template);
    let is_in =
        |way: &&Drawing| way.width_mm <= width - EDGE_MM - x && way.height_mm <= high - top - 5.0;
    let template = [&template, &turned].into_iter().find(is_in)?;
    half.place(template, &Frame::at(point(x, top + 3.0)));
    (end < high).then_some(half)
}

const SAW_NOTES: &[words::Word] = &[words::SAFETY_1, words::SAFETY_2, words::SAFETY_5];

/// The rings that are to be made, in groups that are cut and glued alike, by their places from the foot up.
pub(super) fn alike(of: &OfVessel) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let is_to_make = |place: &usize| !of.vessel.rings[*place].is_glued();
    for place in (0..of.vessel.rings.len()).filter(is_to_make) {
        let known = groups
            .iter_mut()
            .find(|group| is_alike(of, group[0], place));
        match known {
            Some(group) => group.push(place),
            None => groups.push(vec![place]),
        }
    }
    groups
}

fn is_alike(of: &OfVessel, one: usize, other: usize) -> bool {
    let (rings, plans) = (&of.vessel.rings, &of.plan.rings);
    rings[one].made_of == rings[other].made_of
        && rings[one].pattern == rings[other].pattern
        && rings[one].stripes == rings[other].stripes
        && rings[one].shares == rings[other].shares
        && rings[one].between == rings[other].between
        && is_same(&plans[one].wanted, &plans[other].wanted)
}

/// Whether two rings are wanted alike; sums of heights differ in their last bits.
fn is_same(one: &Wanted, other: &Wanted) -> bool {
    const SAME_MM: f64 = 1e-6;
    let lengths = |it: &Wanted| {
        [
            it.outside_radius_mm,
            it.inside_radius_mm,
            it.height_mm,
            it.outside_allowance_mm,
            it.inside_allowance_mm,
            it.spacer_mm,
            it.gap_rad,
        ]
    };
    let pairs = lengths(one).into_iter().zip(lengths(other));
    one.segment_count == other.segment_count
        && pairs
            .into_iter()
            .all(|(one, other)| (one - other).abs() < SAME_MM)
}

fn in_short(design: &Design, ring: &RingPlan) -> String {
    words::ring_in_short(
        ring.wanted.segment_count,
        2.0 * ring.wanted.outside_radius_mm,
        2.0 * ring.wanted.inside_radius_mm,
        design.unit,
    )
}

/// What to look at before the ring is cut.
fn cautions(design: &Design, ring: &RingPlan) -> Vec<String> {
    let told = ring_cautions(design, ring);
    let told = told.iter().map(|it| words::caution(it, design.unit));
    told.map(|it| format!("{} {}", it.reason, it.remedy))
        .collect()
}

/// The sheet of some rings of a vessel that are alike, and their half of a page, where that
/// is enough.
/// The wedge for a setting of the saw stands on the first sheet that needs it: `wedges` are
/// those so far.
fn of_vessel(
    job: &Job,
    of: &OfVessel,
    places: &[usize],
    wedges: &mut Vec<(f64, String)>,
) -> Option<(Sheet, Option<Drawing>)> {
    let place = *places.first()?;
    let (ring, planned) = (of.vessel.rings.get(place)?, of.plan.rings.get(place)?);
    let alone = of.plan.ring(place)?;
    let title = words::rings_named(&ring_numbers(places), places.len());
    let key = format!("ring-{}", place + 1);
    if !job.choice.takes(&key, true) {
        return None;
    }
    let mut told: Vec<String> = places
        .iter()
        .flat_map(|place| {
            let here = job.cautions(Some(*place));
            let is_one = places.len() == 1;
            here.into_iter().map(move |text| {
                if is_one {
                    text
                } else {
                    words::about_ring(*place, &text)
                }
            })
        })
        .collect();
    if planned.made == Made::Plies && told.is_empty() {
        // The base's own sheet tells all of it.
        return None;
    }
    if ring.made_of == MadeOf::Disc {
        let pages = vec![disc(job, of, place, &title, &told)];
        return Some((Sheet::new(key, title, pages), None));
    }
    for text in cautions(job.design, &alone) {
        if !told.iter().any(|other| other.ends_with(&text)) {
            told.push(text);
        }
    }
    let angle = alone.segment?.outside.half_angle_rad;
    let known = wedges.iter().find(|(of, _)| (of - angle).abs() < 1e-9);
    let wedge_on = known.map(|(_, sheet)| sheet.clone());
    if wedge_on.is_none() {
        wedges.push((angle, title.clone()));
    }
    let is_mixed = alone.woods.len() > 1;
    let wood = of.vessel.woods.get(ring.wood_of(0)).filter(|_| !is_mixed);
    let of_wood = match wood {
        Some(wood) if !wood.trim().is_empty() => format!("{title}, {wood}"),
        _ => title.clone(),
    };
    let is_striped = alone.stripes.is_some();
    let is_unlike = alone.alike.len() > 1;
    let about = About {
        subtitle: words::ring_sheet(
            &of_wood,
            ring.segment_count,
            2.0 * planned.wanted.outside_radius_mm,
            2.0 * planned.wanted.inside_radius_mm,
            job.design.unit,
        ),
        cautions: told,
        place: Some(place),
        is_patterned: is_mixed || is_striped || is_unlike,
        is_whole: is_striped || is_unlike,
        front: front(job, of, places),
        wedge_on,
    };
    let (mut pages, template) = made(job, &alone, &about)?;
    pages.extend(stripe::pages(job, &title, &alone));
    let sheet = Sheet::new(key, title, pages).with_template(template);
    Some((sheet, half(job, &alone, &about)))
}

/// What a ring is wider inside than its wall, where it was made so.
fn spare(ring: &StackRing, unit: Unit) -> String {
    let spare_mm = ring.inside_extra_mm;
    if spare_mm <= 0.0 {
        return String::new();
    }
    words::filled(words::RING_SPARE, &[&show(spare_mm, unit).line()])
}

/// What each of some rings has at its front.
fn front(job: &Job, of: &OfVessel, places: &[usize]) -> Option<String> {
    // A disc has no joint.
    map::nearest_joint_rad(of.vessel.rings.get(*places.first()?)?)?;
    let each = places.iter().map(|place| {
        let says = map::at_front(&of.vessel.rings[*place], &of.vessel.woods);
        let mut letters = says.chars();
        let first = letters.next().map(char::to_lowercase);
        (place, first.into_iter().flatten().chain(letters).collect())
    });
    let each: Vec<(&usize, String)> = each.collect();
    let is_one = each.iter().all(|(_, says)| *says == each[0].1);
    let told = each.iter().map(|(place, says)| {
        if is_one {
            says.clone()
        } else {
            words::filled(words::RING_AT_FRONT, &[&(*place + 1).to_string(), says])
        }
    });
    let mut told: Vec<String> = told.collect();
    told.truncate(if is_one { 1 } else { told.len() });
    let mut says = words::filled(words::RING_ABOVE, &[&told.join("; ")]);
    let is_down = |half: &Half| half.on == End::Rim && half.rings.contains(&places[0]);
    let of_several = of.vessel.rings[places[0]].pattern.len() > 1;
    let halves = job.plan.order().map_or(&[][..], |order| &order.halves);
    if of_several && halves.iter().any(is_down) {
        says = format!("{says} {}", words::RING_DOWN.text);
    }
    says += &spare(&of.vessel.rings[places[0]], job.design.unit);
    Some(says)
}

/// The sheet of a ring that is a disc: a solid one, or plies in its place.
fn disc(job: &Job, of: &OfVessel, place: usize, title: &str, cautions: &[String]) -> Drawing {
    let mut flow = super::flow::Flow::new(job, title.to_owned(), &[words::SAFETY_5]);
    if let (Some(ring), Some(planned)) = (of.vessel.rings.get(place), of.plan.rings.get(place)) {
        let is_plies = planned.made == Made::Plies;
        if let Some(plies) = of.plan.base.as_ref().filter(|_| is_plies) {
            flow.paragraph(words::SHEET_PLIES_NOTE.text, Tone::Graphite);
            for it in figures::vessel::plies_list(job.design, plies) {
                flow.row(&it.label, figure(&it.shown), 4.2);
            }
            for text in cautions {
                flow.paragraph(text, Tone::Caution);
            }
            return flow.pages.swap_remove(0);
        }
        let wood = of.vessel.woods.get(ring.wood_of(0)).cloned();
        flow.paragraph(words::SHEET_DISC_NOTE.text, Tone::Graphite);
        flow.row(
            words::label("ring.wood"),
            Lettering::plain(wood.unwrap_or_default()),
            2.4,
        );
        for it in figures::vessel::disc_list(job.design, planned) {
            flow.row(&it.label, figure(&it.shown), 4.2);
        }
        for text in cautions {
            flow.paragraph(text, Tone::Caution);
        }
        // A picture only: the disc is cut by its figures.
        let side = RING_MM.min(flow.room() - 8.0);
        if side > 20.0 {
            let drawn = ring_from_above(of.vessel, place, planned, (side, side));
            let spare = (flow.width - side) / 2.0;
            let at = point(flow.left + spare, flow.y + 6.0);
            flow.page().place(&drawn, &Frame::at(at));
        }
    }
    flow.pages.swap_remove(0)
}

/// A ring's pages and its segment at true scale; nothing without a segment.
fn made(job: &Job, ring: &RingPlan, about: &About) -> Option<(Vec<Drawing>, Drawing)> {
    let design = job.design;
    let the_segment = ring.segment?;
    let (width, _) = paper_mm(&design.paper);
    let pen = Pen::paper(design.unit);
    let template = segment_template(&the_segment, &pen);
    let (mut sheet, top) = blank(job.design, &about.subtitle, job.link, job.date);
    let room = width - 2.0 * EDGE_MM;
    let is_lying = is_lying(&design.paper);
    let column = room * if is_lying { 0.36 } else { 0.44 };
    let mut list_end = figures(&mut sheet, design, ring, (top, column), [4.2, 9.5, 6.0]);
    if about.is_patterned {
        list_end = finished_sizes(&mut sheet, job, ring, (list_end, column));
    }
    list_end = wood_key(&mut sheet, job, about, (EDGE_MM, list_end), column);
    let right = point(EDGE_MM + column + 6.0, top + 4.0);
    let right = point(right.x, right.y.max(code_end(job.link)));
    let right_width = if is_lying {
        room * LYING_DRAWING
    } else {
        width - EDGE_MM - right.x
    };
    let strip_end = drawings(&mut sheet, job, ring, about, (right, right_width));
    let mut y = list_end.max(strip_end) + 4.0;
    let bottom = foot_top(&design.paper) - 2.0;
    let mut left = Left {
        segment: true,
        wedge: about.wedge_on.is_none(),
    };
    // On lying paper there is room at the right of the drawings, on upright paper below them.
    let beside = right.x + right_width + 8.0;
    let (at, width_mm) = if is_lying {
        (point(beside, right.y + 4.0), width - EDGE_MM - beside)
    } else {
        (point(right.x, strip_end + 6.0), right_width)
    };
    let aside = Aside {
        at,
        width_mm,
        bottom,
    };
    // Side by side below, segment and wedge have more room.
    let is_below = !is_lying && left.wedge && y + template.height_mm + 8.0 < bottom;
    let mut aside_end = aside.at.y;
    if !is_below {
        let named = named_segment(&ring.alike, 0);
        aside_end = aside.take(&mut sheet, (&the_segment, &named), &template, &mut left);
        y = if is_lying { y } else { y.max(aside_end + 5.0) };
    }
    let is_aside = is_lying && !left.segment;
    // What does not fit below the drawings goes on.
    let mut pages = vec![sheet];
    let beside = if is_aside {
        beside - 4.0 - EDGE_MM
    } else {
        room
    };
    let aside = is_aside.then_some((&aside, aside_end));
    let angle_rad = the_segment.outside.half_angle_rad;
    y = told_below(
        job,
        about,
        angle_rad,
        &mut pages,
        (y, beside),
        aside,
        bottom,
    );
    let fits = is_in(&template, job, (room, bottom));
    if left.segment || left.wedge {
        let named = named_segment(&ring.alike, 0);
        y = at_true_scale(
            &mut pages,
            y,
            (&the_segment, &named),
            &template,
            (fits, left),
            (room, bottom),
            || new_page(job, about),
        );
    }
    let tiles = narrower(job, ring, about, (&mut pages, y), (room, bottom));
    for page in &mut pages {
        foot(page, design, SAW_NOTES);
    }
    if !fits && left.segment {
        pages.extend(tile::sheets(job, &about.subtitle, &template));
    }
    pages.extend(tiles);
    Some((pages, template))
}

/// What is told of a ring below its drawings, over `wide_mm` from `y` on; on lying paper also
/// beside them, below what stands there. Returns where it ends on the last page.
fn told_below(
    job: &Job,
    about: &About,
    angle_rad: f64,
    pages: &mut Vec<Drawing>,
    (mut y, wide_mm): (f64, f64),
    aside: Option<(&Aside, f64)>,
    bottom: f64,
) -> f64 {
    const ABOVE_MM: f64 = 5.0;
    let mut aside = aside;
    let wedge_on = about.wedge_on.as_ref().map(|sheet| {
        let angle = quantity::shown_degrees(angle_rad).text;
        words::filled(words::RING_WEDGE_ON, &[&format!("{angle}°"), sheet])
    });
    // What its figures are called is told on the first sheet, with the wedge.
    let first = wedge_on.as_deref().unwrap_or(words::RING_TERMS.text);
    let cautions = about
        .cautions
        .iter()
        .map(|it| (it.as_str(), Tone::Caution, false));
    let told = [(first, Tone::Graphite, wedge_on.is_some())];
    for (text, tone, is_rather_aside) in told.into_iter().chain(cautions) {
        let height_mm = |wide_mm: f64| lines(text, wide_mm, tone).len() as f64 * LINE_MM;
        let is_full = y + height_mm(wide_mm) > bottom;
        let room_aside = aside.filter(|(own, end)| {
            is_rather_aside || (is_full && end + ABOVE_MM + height_mm(own.width_mm) <= bottom)
        });
        if let (Some((own, end)), 1) = (room_aside, pages.len()) {
            let at = point(own.at.x, end + ABOVE_MM);
            let end = paragraph(&mut pages[0], at, text, own.width_mm, tone);
            aside = Some((own, end));
            continue;
        }
        if is_full {
            let (next, top) = new_page(job, about);
            pages.push(next);
            y = top;
        }
        let last = pages.len() - 1;
        y = paragraph(&mut pages[last], point(EDGE_MM, y), text, wide_mm, tone) + 1.0;
    }
    y
}

/// What the picture of a segment at true scale is called.
fn named_segment(alike: &[Alike], place: usize) -> String {
    let kinds: Vec<SegmentKind> = alike.iter().map(|it| it.kind).collect();
    words::of_kind(words::SHEET_SEGMENT.text, &kinds, place)
}

/// A further page of a ring's sheet, and where it begins.
fn new_page(job: &Job, about: &About) -> (Drawing, f64) {
    let (page, top) = blank(job.design, &about.subtitle, job.link, job.date);
    (page, top.max(code_end(job.link)) + 4.0)
}

/// The narrower segments of a ring at true scale, each with its own wedge, from `y` on its
/// last page on; returns the tiles of those that are larger than the paper.
fn narrower(
    job: &Job,
    ring: &RingPlan,
    about: &About,
    (pages, mut y): (&mut Vec<Drawing>, f64),
    (room, bottom): (f64, f64),
) -> Vec<Drawing> {
    let pen = Pen::paper(job.design.unit);
    let mut tiles = Vec::new();
    for (place, it) in ring.alike.iter().enumerate().skip(1) {
        let template = segment_template(&it.segment, &pen);
        let fits = is_in(&template, job, (room, bottom));
        let named = named_segment(&ring.alike, place);
        let whole = Left {
            segment: true,
            wedge: true,
        };
        y = at_true_scale(
            pages,
            y + 8.0,
            (&it.segment, &named),
            &template,
            (fits, whole),
            (room, bottom),
            || new_page(job, about),
        );
        if !fits {
            let title = format!("{}. {named}", about.subtitle);
            tiles.extend(tile::sheets(job, &title, &template));
        }
    }
    tiles
}

/// Whether a page has room for a segment at true scale.
fn is_in(template: &Drawing, job: &Job, (room, bottom): (f64, f64)) -> bool {
    template.width_mm <= room && template.height_mm + 8.0 <= bottom - code_end(job.link)
}

/// The ring from above and from its side, with its front, its woods told apart.
fn drawn(job: &Job, ring: &RingPlan, about: &About, (width, height): (f64, f64)) -> Drawing {
    let pen = Pen::paper(job.design.unit);
    let mut drawn = match (&job.vessel, about.place) {
        (Some(of), Some(place)) => pattern::drawn(of, place, ring, (width, height), &pen),
        _ => pictures::ring::draw(job.design, ring, width, height, &pen),
    };
    clear(&mut drawn);
    drawn
}

/// The ring, how it is seen, and its segments on their strip; returns where they end.
fn drawings(
    sheet: &mut Drawing,
    job: &Job,
    ring: &RingPlan,
    about: &About,
    (right, right_width): (Point, f64),
) -> f64 {
    let design = job.design;
    let pen = Pen::paper(design.unit);
    let drawn = drawn(job, ring, about, (right_width, RING_MM));
    let spare = (right_width - drawn.width_mm).max(0.0) / 2.0;
    sheet.place(&drawn, &Frame::at(point(right.x + spare, right.y)));
    let mut strip_top = right.y + RING_MM + 3.0;
    if let Some(says) = &about.front {
        let at = point(right.x, strip_top + 1.0);
        strip_top = paragraph(sheet, at, says, right_width, Tone::Graphite);
    }
    let strip = match &ring.stripes {
        Some(_) => pictures::stripe::board(ring, right_width, STRIP_MM),
        None => pictures::segment::draw(design, ring, right_width, STRIP_MM, &pen),
    };
    if let Some(mut strip) = strip {
        clear(&mut strip);
        sheet.place(&strip, &Frame::at(point(right.x, strip_top)));
    }
    strip_top + STRIP_MM
}

/// The segment and the wedge at true scale, each on a new page where the last has no room;
/// returns where they end.
fn at_true_scale(
    pages: &mut Vec<Drawing>,
    mut y: f64,
    (segment, named): (&Segment, &str),
    template: &Drawing,
    (fits, left): (bool, Left),
    (room, bottom): (f64, f64),
    blank: impl Fn() -> (Drawing, f64),
) -> f64 {
    let needed = if fits { template.height_mm + 3.5 } else { 16.0 };
    if left.segment && y + needed > bottom {
        let (next, start) = blank();
        pages.push(next);
        y = start;
    }
    let last = pages.len() - 1;
    let mut is_wedged = !left.wedge;
    if left.segment {
        heading(&mut pages[last], y, named);
    }
    if fits && left.segment {
        pages[last].place(template, &Frame::at(point(EDGE_MM, y + 3.0)));
        // Beside a small segment there is room for the wedge.
        let name = width_mm(named, 2.6, Weight::Bold);
        let beside = room - template.width_mm.max(name) - 8.0;
        let tangent = segment.outside.half_angle_rad.tan();
        if !is_wedged
            && bottom - y - template.height_mm < LEAST_WEDGE_MM + 10.0
            && beside > LEAST_LEG_MM
        {
            let down = (y + template.height_mm).min(bottom);
            let leg = WEDGE_MM.min(beside).min((down - y - 10.0) / tangent);
            if leg > LEAST_LEG_MM {
                let at = point(EDGE_MM + room - beside, y);
                whole_wedge(&mut pages[last], at, leg, segment, beside);
                is_wedged = true;
            }
        }
        y += template.height_mm + 10.0;
    } else if left.segment {
        let at = point(EDGE_MM, y + 5.0);
        let text = words::SHEET_GOES_ON.text;
        y = paragraph(&mut pages[last], at, text, room, Tone::Graphite) + 4.0;
    }
    if !is_wedged && bottom - y < LEAST_WEDGE_MM {
        let (next, start) = blank();
        pages.push(next);
        y = start;
    }
    if !is_wedged {
        // It may be steep, and is then made smaller to fit, keeping its angle.
        let rise_room = (bottom - y - 5.0).max(10.0);
        let leg = rise_room / segment.outside.half_angle_rad.tan();
        let last = pages.len() - 1;
        let at = point(EDGE_MM, y);
        let leg = leg.min(WEDGE_MM).min(room);
        y = whole_wedge(&mut pages[last], at, leg, segment, room);
    }
    y
}

/// Room at the right of a ring's drawings.
struct Aside {
    at: Point,
    width_mm: f64,
    bottom: f64,
}

impl Aside {
    /// Puts the segment at true scale here, and the wedge below it, as far as they fit;
    /// returns where they end.
    fn take(
        &self,
        sheet: &mut Drawing,
        (segment, named): (&Segment, &str),
        template: &Drawing,
        left: &mut Left,
    ) -> f64 {
        let tangent = segment.outside.half_angle_rad.tan();
        let end = self.at.y + template.height_mm + 5.0;
        if template.width_mm > self.width_mm || end > self.bottom {
            return self.at.y;
        }
        sheet.add_part(Words::new(self.at, named, 2.6).bold(), Role::Heading);
        let below = point(self.at.x, self.at.y + 3.0);
        sheet.place(template, &Frame::at(below));
        left.segment = false;
        let wedge_y = end + 5.0;
        let room = (self.bottom - wedge_y - 10.0) / tangent;
        let leg = WEDGE_MM.min(self.width_mm).min(room);
        if left.wedge && leg > LEAST_LEG_MM {
            let at = point(self.at.x, wedge_y);
            whole_wedge(sheet, at, leg, segment, self.width_mm);
            left.wedge = false;
            return wedge_y + 10.0 + leg * tangent;
        }
        end
    }
}

/// What is still to be drawn at true scale.
#[derive(Clone, Copy)]
struct Left {
    segment: bool,
    wedge: bool,
}

/// The saw's three figures large, the rest below; returns where they end. `high` is how
/// high the large ones are, and from one to the next, large ones and others.
fn figures(
    sheet: &mut Drawing,
    design: &Design,
    ring: &RingPlan,
    (top, width): (f64, f64),
    [high, pitch, list_pitch]: [f64; 3],
) -> f64 {
    let mut y = top + 6.0;
    for it in &figures::saw(design, ring) {
        row(
            sheet,
            point(EDGE_MM, y),
            width,
            &it.label,
            figure(&it.shown),
            high,
        );
        y += pitch;
    }
    for it in &figures::list(design, ring) {
        row(
            sheet,
            point(EDGE_MM, y),
            width,
            &it.label,
            figure(&it.shown),
            2.4,
        );
        y += list_pitch;
        if !it.note.is_empty() {
            let note = Words::new(point(EDGE_MM + width, y - 0.8), it.note.as_str(), 2.2);
            sheet.add(note.anchored(Anchor::End));
            y += 4.4;
        }
    }
    y
}

/// The finished sizes of a ring, to the hair.
fn finished_sizes(
    sheet: &mut Drawing,
    job: &Job,
    ring: &RingPlan,
    (mut y, width): (f64, f64),
) -> f64 {
    let wanted = &ring.wanted;
    for (label, length_mm) in [
        (
            words::RING_FINISHED_OUT.text,
            2.0 * wanted.outside_radius_mm,
        ),
        (words::RING_FINISHED_IN.text, 2.0 * wanted.inside_radius_mm),
        (words::label(key::HEIGHT), wanted.height_mm),
    ] {
        let shown = figure(&show(length_mm, job.design.unit));
        let at = point(EDGE_MM, y);
        row(sheet, at, width, label, shown, 2.4);
        y += 6.0;
    }
    y
}

/// The key to the letters of a ring's woods, where it has a pattern; returns where it ends.
fn wood_key(sheet: &mut Drawing, job: &Job, about: &About, at: (f64, f64), width: f64) -> f64 {
    match (&job.vessel, about.place.filter(|_| about.is_patterned)) {
        (Some(of), Some(place)) => {
            let own = of.vessel.rings[place].woods();
            at.1 + woods::key_of(sheet, of.plan, &own, at, width)
        }
        _ => at.1,
    }
}

/// Least height for the wedge with its heading.
const LEAST_WEDGE_MM: f64 = 26.0;

/// Below this a wedge's leg is no use to set a fence by.
const LEAST_LEG_MM: f64 = 60.0;

fn heading(sheet: &mut Drawing, y: f64, text: &str) {
    let words = Words::new(point(EDGE_MM, y), text, 2.6).bold();
    sheet.add_part(words, Role::Heading);
}

/// The miter wedge with its heading; returns where it ends.
fn whole_wedge(
    sheet: &mut Drawing,
    at: Point,
    leg_mm: f64,
    segment: &Segment,
    room_mm: f64,
) -> f64 {
    const PITCH_MM: f64 = 4.4;
    let rise = leg_mm * segment.outside.half_angle_rad.tan();
    let room = room_mm / SCREEN_SLACK;
    let mut y = at.y;
    let from = sheet.marks.len();
    for line in wrap(words::SHEET_WEDGE.text, room, 2.6, Weight::Bold) {
        sheet.add(Words::new(point(at.x, y), line, 2.6).bold());
        y += PITCH_MM;
    }
    sheet.part(from, Role::Heading);
    let foot = y + 4.0 - PITCH_MM + rise;
    wedge(sheet, point(at.x, foot), leg_mm, rise, segment);
    foot
}

/// A right triangle whose acute angle is the saw's setting.
fn wedge(sheet: &mut Drawing, corner: Point, leg_mm: f64, rise_mm: f64, segment: &Segment) {
    let from = sheet.marks.len();
    let corners = [
        corner,
        point(corner.x + leg_mm, corner.y),
        point(corner.x + leg_mm, corner.y - rise_mm),
    ];
    sheet.add(Path::line(polygon(&corners), Ink::CutOut).named("wedge"));
    let text = lettering(&quantity::shown_degrees(segment.outside.half_angle_rad)).then("°");
    sheet.add(
        Words::new(
            point(corner.x + leg_mm * 0.62, corner.y - rise_mm * 0.18),
            text,
            3.5,
        )
        .bold(),
    );
    sheet.part(from, Role::Figure(words::SHEET_WEDGE.text.to_owned()));
}

/// One segment at true scale with its dimensions.
fn segment_template(segment: &Segment, pen: &Pen) -> Drawing {
    let (long, short) = (segment.outside.long_edge_mm, segment.short_edge_mm);
    let width = segment.strip_width_mm;
    let (left, top) = (14.0, 9.0);
    let mut template = Drawing::default();
    let run = (long - short) / 2.0;
    let corners = [
        point(left + run, top),
        point(left + run + short, top),
        point(left + long, top + width),
        point(left, top + width),
    ];
    template.add(Path::line(polygon(&corners), Ink::CutOut).named("segment at true scale"));
    template.add_all(linear(
        corners[3],
        corners[2],
        Run::Level {
            y: top + width + 7.0,
        },
        &pen.figure(long).bold(),
        &pen.style,
    ));
    template.add_all(linear(
        corners[0],
        corners[1],
        Run::Level { y: top - 3.0 },
        &pen.figure(short),
        &pen.style,
    ));
    template.add_all(linear(
        point(left, top),
        corners[3],
        Run::Upright { x: left - 6.0 },
        &pen.figure(width),
        &pen.style,
    ));
    // Figures stand outside where there is no room between the lines: as large as it is.
    let (least, most) = template.bounds().unwrap_or_default();
    let mut fitted = Drawing::new(
        most.x - least.x + 2.0,
        most.y - least.y + 2.0,
        words::SHEET_SEGMENT.text,
    );
    fitted.place(&template, &Frame::at(point(1.0 - least.x, 1.0 - least.y)));
    clear(&mut fitted);
    fitted
}
