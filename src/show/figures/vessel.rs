//! What the Vessel place shows.

use super::boards::failures;
use super::built::GluedScreen;
use super::{Entry, Figure, Message, entry, figure, noted};
use crate::design::field;
use crate::design::{Design, MadeOf, PointChoice, StackRing, Vessel};
use crate::draw::Point;
use crate::edit::vessel::SEGMENTS_OF_ALL;
use crate::edit::{SCALED, scaled_length_mm};
use crate::plan::Plan;
use crate::plan::bill::WoodUse;
use crate::plan::caution::{Caution, Placed};
use crate::plan::rings::{Made, RingInStack};
use crate::plan::stack::StackPlan;
use crate::plan::woods;
use crate::show::figures::table::{Row, Table};
use crate::show::pictures::vessel::Picked;
use crate::show::pictures::view::View;
use crate::show::thing::Thing;
use crate::show::words;
use crate::trade::ring::Segment;
use crate::trade::wood;
use crate::units::length::{Shown, Unit, show};
use crate::units::quantity;
use crate::units::quantity::held;
use crate::units::quantity::{in_words, number, weight, wood_volumes};
use serde::Serialize;

/// A point that can be dragged.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Handle {
    /// Its place from the foot up.
    pub place: usize,
    /// Left of the drawing, CSS pixels.
    pub x: f64,
    /// From the top, CSS pixels.
    pub y: f64,
    /// Height and diameter in the turner's unit.
    pub label: String,
    /// Whether it is a corner.
    pub is_corner: bool,
    /// Whether another is so near that a small dot must do, or they would cover the ring.
    pub is_near: bool,
}

/// A caution as a mark on the drawing.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Mark {
    /// Left of the drawing, CSS pixels.
    pub x: f64,
    /// From the top, CSS pixels.
    pub y: f64,
    /// Whether it has room on the drawing beside the others.
    pub has_room: bool,
    /// The name of what it is about.
    pub thing: String,
    /// What is so, and what to do.
    pub message: Message,
}

/// A wood of the vessel.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Swatch {
    /// Its place in the list.
    pub place: usize,
    /// Its name.
    pub name: String,
    /// Its color, `#rrggbb`.
    pub color: String,
    /// What the vessel takes of it.
    pub note: String,
    /// What removing it is called, with what becomes of its pieces; empty where it is the
    /// only one.
    pub remove: String,
    /// What is said while it is in hand.
    pub in_hand: String,
}

/// A thing on the section that keys reach: where it stands, CSS pixels.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Touched {
    /// Its name on the drawing.
    pub name: String,
    /// What a screen reader calls it.
    pub label: String,
    /// Left of the drawing.
    pub left: f64,
    /// From the top.
    pub top: f64,
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
}

/// All that the Vessel place says in words and figures.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct VesselScreen {
    /// The points.
    pub handles: Vec<Handle>,
    /// The cautions.
    pub marks: Vec<Mark>,
    /// The rings, from the rim down.
    pub rows: Table,
    /// The piece in a line.
    pub in_short: String,
    /// What the fold of its size holds now.
    pub size_now: String,
    /// What the fold of stock and limits holds now.
    pub stock_now: String,
    /// The woods.
    pub swatches: Vec<Swatch>,
    /// What can be touched on the section, from the rim down.
    pub things: Vec<Touched>,
    /// What it comes to.
    pub totals: Vec<Figure>,
    /// The fields of its shape.
    pub shape: Vec<Entry>,
    /// The fields of stock, shop and allowances.
    pub stock: Vec<Entry>,
    /// What could not be computed.
    pub messages: Vec<Message>,
    /// What no board of the turner's gives.
    pub lacking: Vec<Message>,
    /// What is said of the rings that are glued already, where there are some.
    pub glued: Option<GluedScreen>,
}

/// Sets the Vessel place; nothing while there is no vessel. `is_offered` says whether a
/// nearest curve is drawn, to be taken.
pub fn vessel(plan: &Plan, view: &View, picked: Picked, is_offered: bool) -> Option<VesselScreen> {
    let (stack, unit) = (plan.stack()?, plan.design.unit);
    let rings = stack.rings.iter().enumerate().rev();
    let [shape, stock] = entries(stack, segments_of_all(plan));
    Some(VesselScreen {
        rows: Table::new(
            &[
                words::VESSEL_RING,
                words::COUNTS_SAW,
                words::COUNTS_STOP,
                words::COUNTS_STRIP,
                words::COUNTS_SEGMENTS,
                words::TABLE_HEIGHT,
                words::TABLE_OUTSIDE,
                words::TABLE_INSIDE,
                words::COUNTS_LENGTH,
            ],
            rings
                .map(|(place, ring)| row(stack, place, ring, picked.thing.ring()))
                .collect(),
        ),
        in_short: in_short(stack),
        size_now: words::size_now(size_mm(stack), unit),
        stock_now: words::stock_now(
            &stack.design.shop.stock_mm,
            [
                stack.design.allowance.outside_mm,
                stack.design.allowance.inside_mm,
            ],
            unit,
        ),
        swatches: swatches(stack),
        things: things(stack, view, picked.meets_above),
        totals: totals(stack, picked.meets_above, unit),
        shape,
        stock,
        messages: stack
            .troubles
            .iter()
            .map(|it| words::trouble(it, unit))
            .collect(),
        lacking: lacking(plan),
        glued: super::built::glued(plan, is_offered, picked.thing.ring()),
        ..section_only(plan, view)
    })
}

/// Pieces that no board of the turner's is right for, before any search for how to cut them.
fn lacking(plan: &Plan) -> Vec<Message> {
    let begun = plan.boards(0);
    begun.map_or_else(Vec::new, |answer| failures(&plan.design, &answer))
}

/// Sets what stands on the section, and nothing else: for while a handle moves on a slow
/// machine.
pub fn section_only(plan: &Plan, view: &View) -> VesselScreen {
    let Some(stack) = plan.stack() else {
        return VesselScreen::default();
    };
    let unit = plan.design.unit;
    VesselScreen {
        shape: size_entries(stack),
        handles: handles(&stack.vessel, view, unit),
        marks: beside_one_another(
            plan.placed_cautions()
                .iter()
                .map(|it| mark(it, stack, view, unit))
                .chain(of_the_base(plan).iter().map(|it| Mark {
                    thing: Thing::Floor.name(),
                    ..mark(it, stack, view, unit)
                }))
                .collect(),
            px(view.place(0.0, 0.0).x),
        ),
        ..VesselScreen::default()
    }
}

/// What is to be looked at before the base is glued, at the foot.
fn of_the_base(plan: &Plan) -> Vec<Placed> {
    let cautions = plan.base().map_or(&[][..], |base| &base.cautions);
    let at_the_foot = |caution: &Caution| Placed {
        caution: caution.clone(),
        ring: Some(0),
        height_mm: 0.0,
    };
    cautions.iter().map(at_the_foot).collect()
}

/// How wide a finger's mark is, CSS pixels.
const TOUCH_PX: f64 = 48.0;

/// Dots nearer to each other than this cover what lies between them, CSS pixels.
const NEAR_PX: f64 = 26.0;

fn px(length_mm: f64) -> f64 {
    length_mm / crate::draw::MM_PER_PX
}

pub(super) fn handles(vessel: &Vessel, view: &View, unit: Unit) -> Vec<Handle> {
    let points = vessel.points.iter();
    let at: Vec<Point> = points
        .map(|point| view.place(point.height_mm, point.radius_mm))
        .collect();
    let is_near = |one: usize, other: Option<&Point>| {
        other.is_some_and(|other| px((at[one].x - other.x).hypot(at[one].y - other.y)) < NEAR_PX)
    };
    let handle = |(place, point): (usize, &PointChoice)| Handle {
        place,
        x: px(at[place].x),
        y: px(at[place].y),
        label: point_label(point, unit),
        is_corner: point.is_corner,
        is_near: is_near(place, at.get(place + 1))
            || place > 0 && is_near(place, at.get(place - 1)),
    };
    vessel.points.iter().enumerate().map(handle).collect()
}

/// A point's height and diameter.
pub(super) fn point_label(point: &PointChoice, unit: Unit) -> String {
    words::point_says(point.height_mm, 2.0 * point.radius_mm, unit)
}

/// Half the height of what shows where the halves meet, drawn millimeters.
const HALF_MEETING_MM: f64 = 2.0;

/// The rings from the rim down, the joint of the halves, the floor and the slots.
fn things(stack: &StackPlan, view: &View, meets_above: usize) -> Vec<Touched> {
    let vessel = &stack.vessel;
    let thing = |thing: Thing, label: String, [low, high]: [f64; 2], [from, to]: [f64; 2]| {
        let (corner, end) = (view.place(high, from), view.place(low, to));
        Touched {
            name: thing.name(),
            label,
            left: px(corner.x),
            top: px(corner.y),
            width: px(end.x - corner.x),
            height: px(end.y - corner.y),
        }
    };
    let rings = stack.rings.iter().zip(&vessel.rings).enumerate().rev();
    let base = stack.base.as_ref().filter(|base| base.is_set_in());
    let mut things: Vec<Touched> = rings
        .map(|(place, (planned, ring))| {
            let label = words::thing_ring(place, ring, planned.segment.is_some());
            let span = [planned.span.bottom_mm, planned.span.top_mm];
            // A base that is let in lies over what is turned away.
            let set_in = base.filter(|base| base.around.place == Some(place));
            let let_in_mm = set_in.map_or(0.0, |base| base.disc_mm / 2.0);
            let inside = crate::plan::rings::flats_mm(planned).0.max(let_in_mm);
            thing(Thing::Ring(place), label, span, [inside, planned.reach_mm])
        })
        .collect();
    let Some(wall) = &stack.wall else {
        return things;
    };
    if let Some(below) = meets_above
        .checked_sub(1)
        .and_then(|it| stack.rings.get(it))
    {
        let at = below.span.top_mm;
        let label = words::BENCH_MEETING.text.to_owned();
        let span = [
            at - HALF_MEETING_MM / view.scale,
            at + HALF_MEETING_MM / view.scale,
        ];
        things.push(thing(
            Thing::Meeting,
            label,
            span,
            [0.0, wall.inside_radius_at(at)],
        ));
    }
    let label = words::SECTION_FLOOR.text.to_owned();
    let floor_from_mm = stack.floor_from_mm();
    things.push(thing(
        Thing::Floor,
        label,
        [floor_from_mm, wall.floor_mm.max(floor_from_mm + 1.0)],
        [0.0, wall.outside.radius_at(floor_from_mm)],
    ));
    for (place, own) in stack.slot_sets.iter().enumerate() {
        let Some(own) = own else { continue };
        let rings = &stack.rings[*own.rings.start()..=*own.rings.end()];
        if let (Some(first), Some(last)) = (rings.first(), rings.last()) {
            let name = words::inlay::set_name(place, Some(own));
            let label = words::filled(words::THING_SET, &[&name]);
            let span = [first.span.bottom_mm, last.span.top_mm];
            let reach = wall
                .outside
                .largest_radius(span[0], span[1].min(wall.outside.height_mm()));
            things.push(thing(Thing::Set(place), label, span, [-reach, 0.0]));
        }
    }
    things
}

fn mark(placed: &Placed, plan: &StackPlan, view: &View, unit: Unit) -> Mark {
    // At the axis: the cut half keeps room for handles, the seen half shows wood.
    let inside = plan.wall.as_ref().map_or(0.0, |wall| {
        let rim = wall.outside.height_mm();
        wall.outside.radius_at(placed.height_mm.min(rim))
    });
    let at = view.place(placed.height_mm, -inside);
    let mut message = words::caution(&placed.caution, unit);
    if let Some(ring) = placed.ring {
        message.reason = words::about_ring(ring, &message.reason);
    }
    Mark {
        x: px(at.x),
        y: px(at.y),
        has_room: true,
        thing: Thing::of(placed).name(),
        message,
    }
}

/// Moves marks that a finger could not tell apart toward the axis; what finds no room
/// before it stands in the list alone.
fn beside_one_another(mut marks: Vec<Mark>, axis_x: f64) -> Vec<Mark> {
    for at in 0..marks.len() {
        let (before, rest) = marks.split_at_mut(at);
        let mark = &mut rest[0];
        let is_free = |x: f64| {
            !before.iter().any(|it| {
                it.has_room && (it.x - x).abs() < TOUCH_PX && (it.y - mark.y).abs() < TOUCH_PX
            })
        };
        let mut places = std::iter::successors(Some(mark.x), |x| Some(x + TOUCH_PX))
            .take_while(|x| *x < axis_x + TOUCH_PX / 2.0);
        match places.find(|x| is_free(*x)) {
            Some(x) => mark.x = x,
            None => mark.has_room = false,
        }
    }
    marks
}

fn row(stack: &StackPlan, place: usize, ring: &RingInStack, picked: Option<usize>) -> Row {
    let unit = stack.design.unit;
    let length = |length_mm: f64| show(length_mm, unit);
    let own = stack.vessel.rings.get(place);
    let count = own.map_or(0, |ring| ring.segment_count);
    // What was read stands as it was read: across the flats, where the caliper was.
    let read = own.and_then(|ring| ring.measured.as_ref());
    let outside = read.and_then(|it| it.outside_diameter_mm);
    let inside = read.and_then(|it| it.inside_diameter_mm);
    let of_ring = [
        match ring.made {
            Made::Segments | Made::Nothing => number(count.to_string()),
            Made::Plies => in_words(words::BASE_PLIES.text.to_owned()),
            Made::Disc => in_words(words::VESSEL_SOLID_DISC.text.to_owned()),
        },
        length(ring.wanted.height_mm),
        length(outside.unwrap_or(2.0 * ring.wanted.outside_radius_mm)),
        length(inside.unwrap_or(2.0 * ring.wanted.inside_radius_mm)),
    ];
    let none = || number("–".to_owned());
    let is_glued = own.is_some_and(StackRing::is_glued);
    let (at_saw, in_all) = if let Some(segment) = ring.segment.filter(|_| !is_glued) {
        let of_kinds = |shown: &dyn Fn(&Segment) -> Shown| match &ring.alike[..] {
            [only] => shown(&only.segment),
            kinds => {
                let each = kinds.iter().map(|it| shown(&it.segment).line());
                number(each.collect::<Vec<_>>().join(" / "))
            }
        };
        let at_saw = [
            of_kinds(&|it| quantity::shown_degrees(it.outside.half_angle_rad)),
            of_kinds(&|it| length(it.outside.long_edge_mm)),
            length(segment.strip_width_mm),
        ];
        let board = ring.stripes.as_ref().and_then(|own| own.board.as_ref());
        let in_all = match (ring.strips, board) {
            (Some(strips), _) => length(strips.total_length_mm),
            (None, Some(board)) => length(board.length_mm * f64::from(board.count)),
            (None, None) => none(),
        };
        (at_saw, in_all)
    } else {
        let first = match ring.made {
            _ if is_glued => words::VESSEL_GLUED.text,
            Made::Nothing => words::VESSEL_CANNOT_BE.text,
            _ => "–",
        };
        ([in_words(first.to_owned()), none(), none()], none())
    };
    // What the hands set at the saw first: on a phone it is in sight.
    let cells = std::iter::once(number((place + 1).to_string()))
        .chain(at_saw)
        .chain(of_ring)
        .chain([in_all])
        .collect();
    Row {
        id: place.to_string(),
        is_current: picked == Some(place),
        cells,
        order: row_order(place, count, ring),
        ..Row::default()
    }
}

/// The figures of a row as plain numbers, a disc's missing ones before all others.
fn row_order(place: usize, segment_count: u32, ring: &RingInStack) -> Vec<f64> {
    let of_segment = |figure: fn(&Segment) -> f64| ring.segment.as_ref().map_or(0.0, figure);
    vec![
        place as f64,
        of_segment(|segment| segment.outside.half_angle_rad),
        of_segment(|segment| segment.outside.long_edge_mm),
        of_segment(|segment| segment.strip_width_mm),
        if ring.segment.is_some() {
            f64::from(segment_count)
        } else {
            0.0
        },
        ring.wanted.height_mm,
        ring.wanted.outside_radius_mm,
        ring.wanted.inside_radius_mm,
        ring.strips.map_or(0.0, |strips| strips.total_length_mm),
    ]
}

fn swatches(plan: &StackPlan) -> Vec<Swatch> {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let volumes = volumes(plan);
    vessel
        .woods
        .iter()
        .enumerate()
        .map(|(place, name)| {
            let mut woods = plan.totals().woods.iter().zip(&volumes);
            let taken = woods.find(|(each, _)| wood::is_same(&each.name, name));
            Swatch {
                place,
                name: name.clone(),
                color: crate::plan::woods::color(design, name).hex(),
                remove: removing(plan, place),
                in_hand: words::filled(words::VESSEL_IN_HAND, &[name]),
                note: taken.map_or_else(String::new, |(each, volume)| {
                    words::wood_taken(each, &volume.line())
                }),
            }
        })
        .collect()
}

/// How much of each wood the strips take.
fn volumes(plan: &StackPlan) -> Vec<Shown> {
    let woods = plan.totals().woods.iter();
    let volumes_mm3: Vec<f64> = woods.map(|each| each.strip_mm3).collect();
    wood_volumes(&volumes_mm3, plan.design.unit)
}

/// The finished piece: across, and high.
fn size_mm(plan: &StackPlan) -> [f64; 2] {
    plan.wall.as_ref().map_or([0.0; 2], |wall| {
        let high = wall.outside.height_mm();
        [2.0 * wall.outside.largest_radius(0.0, high), high]
    })
}

/// What tells a design from others in a list, without planning it: the vessel's size and its
/// rings, or the ring beside the saw.
pub fn design_in_short(design: &Design) -> String {
    let (unit, ring) = (design.unit, &design.ring);
    let Some(vessel) = &design.vessel else {
        let across = [ring.outside_diameter_mm, 2.0 * design.inside_radius_mm()];
        return words::ring_in_short(ring.segment_count, across[0], across[1], unit);
    };
    let [height, across] =
        ["vessel.height_mm", "vessel.diameter_mm"].map(|key| scaled_length_mm(key, vessel));
    words::vessel_in_short(vessel.rings.len(), height, across, unit)
}

/// Its size, its woods and its pieces.
pub(super) fn in_short(plan: &StackPlan) -> String {
    let woods = &plan.totals().woods;
    let names: Vec<String> = woods.iter().map(|wood| wood.name.clone()).collect();
    let count = |it: &WoodUse| it.piece_count + it.glued_count + it.slot_strip_count;
    let pieces = woods.iter().map(count).sum();
    words::piece_in_short(size_mm(plan), &names, pieces, plan.design.unit)
}

/// What removing a wood is called.
fn removing(plan: &StackPlan, place: usize) -> String {
    let woods = &plan.vessel.woods;
    // What was of it becomes of the first one that stays.
    let heir = woods.get(usize::from(place == 0));
    let (Some(name), Some(heir)) = (woods.get(place), heir) else {
        return String::new();
    };
    let mut totals = plan.totals().woods.iter();
    let used = totals.find(|each| wood::is_same(&each.name, name));
    words::remove_wood(
        name,
        used.map_or(0, |it| {
            it.piece_count + it.glued_count + it.slot_strip_count
        }),
        heir,
    )
}

/// What is sawn for plies that stand in a ring's place.
pub(crate) fn plies_list(design: &Design, base: &crate::plan::base::BasePlan) -> Vec<Figure> {
    let unit = design.unit;
    let mut list = vec![
        figure(words::BASE_DISC, show(base.disc_mm, unit)),
        figure(words::BASE_THICKNESS, show(base.thickness_mm, unit)),
    ];
    for blank in &base.blanks {
        list.push(Figure {
            label: words::plies_of(blank.count, &blank.wood),
            ..noted(
                words::BASE_BLANKS,
                show(blank.dressed_mm, unit),
                words::sawn_square(blank.side_mm, unit),
            )
        });
    }
    list
}

pub(crate) fn disc_list(design: &Design, ring: &RingInStack) -> Vec<Figure> {
    let unit = design.unit;
    vec![
        figure(words::ROW_DISC, show(2.0 * ring.reach_mm, unit)),
        figure(
            words::ROW_DISC_THICKNESS,
            show(ring.wanted.strip_height_mm(), unit),
        ),
    ]
}

pub(super) fn ring_entries(plan: &Plan, place: usize) -> Vec<Entry> {
    let design = &*plan.design;
    let mut shown = design.clone();
    if let (Some(vessel), Some(stack)) = (&mut shown.vessel, plan.stack())
        && let (Some(ring), Some(is)) = (vessel.rings.get_mut(place), stack.vessel.rings.get(place))
    {
        // What the base says of the lowest ring stands in its field.
        ring.made_of = is.made_of;
    }
    let whole = crate::design::read::to_value(&shown);
    let is_glued = plan.stack().is_some_and(|stack| {
        let ring = stack.vessel.rings.get(place);
        ring.is_some_and(StackRing::is_glued)
    });
    let ring = shown.vessel.as_ref().and_then(|it| it.rings.get(place));
    let striped = ring.map_or_else(Vec::new, |ring| {
        super::stripe::entries(design, &whole, place, ring)
    });
    // A glued ring's sizes are what was measured.
    let planned_only = [
        "height_mm",
        "outside_extra_mm",
        "inside_extra_mm",
        "is_pinned",
    ];
    [
        "height_mm",
        "made_of",
        "segment_count",
        "shares",
        "turn_half_segments",
        "further_deg",
        "between",
        "gap_by",
        "spacer_mm",
        "gap_deg",
        "gap_pct",
        "outside_extra_mm",
        "inside_extra_mm",
        "is_pinned",
    ]
    .iter()
    .filter(|name| !(is_glued && planned_only.contains(name)))
    .filter_map(|name| {
        let key = format!("vessel.rings.{place}.{name}");
        field::find(&key).map(|found| entry(design, &whole, found, &key))
    })
    .chain(striped)
    .collect()
}

/// The fields of the shape, and those of stock, shop and allowances.
fn entries(stack: &StackPlan, segments_of_all: Option<Entry>) -> [Vec<Entry>; 2] {
    let vessel = &stack.vessel;
    // As it stands, also where it is drawn in glued rings.
    let shown = Design {
        vessel: Some(vessel.clone()),
        ..(*stack.design).clone()
    };
    let design = &shown;
    let whole = crate::design::read::to_value(design);
    let walls = [
        field::key::FOOT_WALL,
        field::key::RIM_WALL,
        field::key::FLOOR,
    ];
    let stock = [
        field::key::STOCK,
        field::key::LEAST_SEGMENT,
        field::key::BOARD_WIDTH,
        field::key::OUTSIDE_ALLOWANCE,
        field::key::INSIDE_ALLOWANCE,
        field::key::FACE_ALLOWANCE,
        field::key::SWING,
        field::key::SLOWEST,
        field::key::GAUGE_MOST,
        field::key::BLADE_MOST,
        field::key::PLANER_LEAST,
        field::key::INDEX_PLATES,
    ];
    let own = |key: &&str| field::find(key).map(|found| entry(design, &whole, found, key));
    [
        size_entries(stack)
            .into_iter()
            .chain(walls.iter().filter_map(own))
            .chain(segments_of_all)
            .collect(),
        stock.iter().filter_map(own).collect(),
    ]
}

/// The fields that stand on the section too: how high the vessel is, and how wide.
fn size_entries(stack: &StackPlan) -> Vec<Entry> {
    let design = &*stack.design;
    let scaled = SCALED.iter().map(|field| Entry {
        text: crate::units::length::worked_out_text(
            scaled_length_mm(field.key, &stack.vessel),
            design.unit,
        ),
        ..entry(design, &serde_json::Value::Null, field, field.key)
    });
    scaled.collect()
}

/// How many segments all rings have, where some are sawn; empty where they differ.
pub(super) fn segments_of_all(plan: &Plan) -> Option<Entry> {
    let design = &*plan.design;
    let vessel = &plan.stack()?.vessel;
    let is_sawn = |ring: &StackRing| ring.made_of == MadeOf::Segments && !ring.is_glued();
    let count = vessel.common_segment_count();
    vessel.rings.iter().any(is_sawn).then(|| Entry {
        text: count.map_or_else(String::new, |count| count.to_string()),
        ..entry(
            design,
            &serde_json::Value::Null,
            &SEGMENTS_OF_ALL,
            SEGMENTS_OF_ALL.key,
        )
    })
}

/// Why its weight is not told: of some of its woods the table has no density.
fn weighs_unknown(plan: &StackPlan) -> Option<Figure> {
    let has_none = |name: &&str| {
        let wood = woods::named(&plan.design, name);
        wood.and_then(|it| it.density_kg_m3()).is_none()
    };
    let names = plan.totals().woods.iter().map(|it| it.name.as_str());
    let names: Vec<&str> = names.filter(has_none).collect();
    let is_told = plan.totals().finished_kg.is_some() || names.is_empty();
    let said = words::filled(words::TOTAL_NO_DENSITY, &[&names.join("; ")]);
    (!is_told).then(|| figure(words::TOTAL_WEIGHT, in_words(said)))
}

/// The whole piece in figures, its halves joined above so many rings; 0 is one piece.
pub(crate) fn totals(plan: &StackPlan, meeting: usize, unit: Unit) -> Vec<Figure> {
    let totals = plan.totals();
    let mut list = Vec::new();
    if let Some(kilograms) = totals.blank_kg {
        list.push(figure(words::TOTAL_BLANK, weight(kilograms, unit)));
    }
    if let Some(kilograms) = totals.finished_kg {
        list.push(figure(words::TOTAL_FINISHED, weight(kilograms, unit)));
    }
    list.extend(weighs_unknown(plan));
    if totals.held_mm3 > 0.0 {
        list.push(figure(words::TOTAL_HOLDS, held(totals.held_mm3, unit)));
    }
    for (place, (each, shown)) in totals.woods.iter().zip(volumes(plan)).enumerate() {
        list.push(Figure {
            key: format!("total.wood.{place}"),
            label: each.name.clone(),
            shown,
            note: words::slot_strips(each.slot_strip_count),
        });
    }
    list.push(figure(
        words::TOTAL_CUTS,
        number(totals.cut_count.to_string()),
    ));
    list.push(noted(
        words::TOTAL_JOINTS,
        number(totals.joint_count.to_string()),
        quantity::glue_area(plan.glue_mm2(meeting), unit),
    ));
    list
}
