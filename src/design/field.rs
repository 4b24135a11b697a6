//! The fields in which the turner decides: one row for each, with its key, its label and what
//! it takes. The words by which a link names them are a list of their own, because it is
//! shared and only ever grows ([`crate::design::link`]).
//!
//! A field's key is its path in the design's JSON, so that reading a file, opening a
//! link, typing into the page and resetting a bad value all use the same row.

use crate::design::kind::of;
use crate::design::{
    Across, BaseKind, BaseSet, Between, BoardGoal, BoardPrice, FirstAt, GapBy, HoleBy, Laid, Leans,
    MadeOf, Orientation, OutlineIs, PaperSize, PricePer, RingsClose, Sawn, StackHeld, StackIs,
    StripsShow, ThicknessIs,
};
use crate::trade::closing::OpenAt;
use crate::trade::finish::Finish;
use crate::trade::glue::Glue;
use crate::units::length::Unit;
use serde_json::Value;
use std::borrow::Cow;

pub(crate) use crate::design::kind::MOST_SHARE;
pub use crate::design::kind::{Field, Kind};
pub(crate) use crate::design::kind::{LONGEST_MM, SOME_MM};

/// The narrowest slot that a blade saws.
pub(crate) const LEAST_SLOT_MM: f64 = 0.1;

const fn length(least: f64) -> Field {
    let most = LONGEST_MM;
    of(Kind::Length { least, most })
}

const fn lengths(most_count: usize) -> Field {
    of(Kind::Lengths { most_count })
}

const fn count(least: u32, most: u32) -> Field {
    of(Kind::Count { least, most })
}

const fn choice(words: &'static [&'static str]) -> Field {
    of(Kind::Choice(words))
}

const fn degrees(least: f64, most: f64) -> Field {
    of(Kind::Degrees { least, most })
}

const fn number(least: f64, most: f64) -> Field {
    of(Kind::Number { least, most })
}

const fn percent(least: f64, most: f64) -> Field {
    of(Kind::Percent { least, most })
}

/// From deep frost to a hot attic: beyond, no wood is turned or kept.
const fn temperature() -> Field {
    let (least, most) = (-40.0, 80.0);
    of(Kind::Temperature { least, most })
}

const fn flag() -> Field {
    of(Kind::Flag)
}

const fn text(most: usize) -> Field {
    optional(of(Kind::Text(most)))
}

const fn shares() -> Field {
    optional(of(Kind::Shares))
}

const fn counts(least: u32, most: u32, most_count: usize) -> Field {
    optional(of(Kind::Counts {
        least,
        most,
        most_count,
    }))
}

const fn color() -> Field {
    optional(of(Kind::Color))
}

const fn money() -> Field {
    optional(of(Kind::Money))
}

const fn optional(field: Field) -> Field {
    Field {
        optional: true,
        ..field
    }
}

/// A list within a design. `*` in a key stands for a place in the list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct List {
    /// Its path in the design's JSON.
    pub key: &'static str,
    /// What the turner reads of it.
    pub label: &'static str,
    /// The fewest things that it holds.
    pub least: usize,
    /// The most.
    pub most: usize,
}

/// How many things a list takes.
pub fn most_of(key: &str) -> usize {
    let list = LISTS.iter().find(|list| list.key == key);
    list.map_or(0, |list| list.most)
}

macro_rules! rows {
    (
        fields { $($name:tt = $key:literal, $label:literal, $kind:expr;)* }
        lists { $($list:tt = $list_key:literal, $list_label:literal, $least:literal, $most:literal;)* }
        parts { $($part:tt = $part_key:literal, $part_label:literal;)* }
    ) => {
        /// The keys that are named in the sources.
        pub mod key {
            #![allow(missing_docs, reason = "each row says what the field is")]
            $(pub const $name: &str = $key;)*
            $(pub const $list: &str = $list_key;)*
            $(pub const $part: &str = $part_key;)*
        }

        /// Every field of a design.
        pub const FIELDS: &[Field] = &[$(Field { key: $key, label: $label, ..$kind },)*];

        /// Every list of a design, outer ones first.
        pub const LISTS: &[List] = &[$(List {
            key: $list_key,
            label: $list_label,
            least: $least,
            most: $most,
        },)*];

        /// The parts of a design that are neither: key and label.
        pub const PARTS: &[(&str, &str)] = &[$(($part_key, $part_label),)*];
    };
}

// Name in the sources (`_` where none asks for it) = path, label, what it takes.
rows! {
    fields {
        NAME = "name", "Name", text(200);
        UNIT = "unit", "Unit", choice(Unit::WORDS);
        OUTSIDE_DIAMETER = "ring.outside_diameter_mm", "Outside diameter", length(1.0);
        HOLE_BY = "ring.hole_by", "Hole told by", choice(HoleBy::WORDS);
        WALL = "ring.wall_mm", "Wall", length(SOME_MM);
        INSIDE_DIAMETER = "ring.inside_diameter_mm", "Inside diameter", length(0.0);
        STRIP_WIDTH = "ring.strip_width_mm", "Strip width", length(SOME_MM);
        HEIGHT = "ring.height_mm", "Ring height", length(SOME_MM);
        SEGMENT_COUNT = "ring.segment_count", "Segments", count(3, 360);
        BETWEEN = "ring.between", "Between segments", choice(Between::WORDS);
        SPACER = "ring.spacer_mm", "Its thickness", length(0.0);
        WOOD = "ring.wood", "Wood", text(80);
        OUTSIDE_ALLOWANCE = "allowance.outside_mm", "Allowance outside", length(0.0);
        INSIDE_ALLOWANCE = "allowance.inside_mm", "Allowance inside", length(0.0);
        FACE_ALLOWANCE = "allowance.face_mm", "Allowance, each face", length(0.0);
        KERF = "shop.kerf_mm", "Kerf", length(0.0);
        HOLD_BACK = "shop.hold_back_mm", "Kept back at the strip’s end", length(0.0);
        STRIP_LENGTH = "shop.strip_length_mm", "Strip length at hand", length(SOME_MM);
        PRICE = "shop.price", "Price of the wood, in your currency", money();
        PRICE_PER = "shop.price_per", "Price for", choice(PricePer::WORDS);
        DRY_FIT_OPEN_AT = "dry_fit.open_at", "How the last joint stands", choice(OpenAt::WORDS);
        DRY_FIT_GAP = "dry_fit.gap_mm", "Gap there", optional(length(0.0));
        GLUED_COUNT = "dry_fit.glued_count", "Segments glued", count(1, 360);
        GLUED_ANGLE = "dry_fit.glued_angle_deg", "Angle over them", optional(degrees(0.1, 360.0));
        STAVE_COUNT = "stave.count", "Staves", count(3, 360);
        STAVE_LEAN = "stave.lean_deg", "Lean from upright", degrees(-89.0, 89.0);
        STAVE_LENGTH = "stave.length_mm", "Stave length", length(SOME_MM);
        STAVE_BOTTOM = "stave.bottom_diameter_mm", "Outside diameter at the bottom", length(SOME_MM);
        PAPER = "paper.size", "Paper", choice(PaperSize::WORDS);
        ORIENTATION = "paper.orientation", "Paper held", choice(Orientation::WORDS);
        STOCK = "shop.stock_mm", "Stock at hand, planed thicknesses", lengths(12);
        BOARD_WIDTH = "shop.board_width_mm", "Widest board", optional(length(SOME_MM));
        LEAST_SEGMENT = "shop.least_segment_mm", "Shortest segment to cut", length(0.0);
        SWING = "shop.swing_mm", "Lathe’s swing", optional(length(SOME_MM));
        _ = "vessel.points.*.height_mm", "Point’s height", length(0.0);
        _ = "vessel.points.*.radius_mm", "Point’s radius", length(0.0);
        _ = "vessel.points.*.is_corner", "Corner", flag();
        FOOT_WALL = "vessel.foot_wall_mm", "Wall at the foot", length(SOME_MM);
        RIM_WALL = "vessel.rim_wall_mm", "Wall at the rim", length(SOME_MM);
        FLOOR = "vessel.floor_mm", "Floor height above the foot", length(SOME_MM);
        _ = "vessel.woods.*", "Wood", text(80);
        _ = "vessel.rings.*.height_mm", "Ring height", length(SOME_MM);
        _ = "vessel.rings.*.segment_count", "Segments", count(3, 360);
        _ = "vessel.rings.*.made_of", "Made of", choice(MadeOf::WORDS);
        _ = "vessel.rings.*.turn_half_segments", "Shifted by half segments", count(0, 720);
        _ = "vessel.rings.*.between", "Between segments", choice(Between::WORDS);
        _ = "vessel.rings.*.spacer_mm", "Its thickness", length(0.0);
        _ = "vessel.rings.*.outside_extra_mm", "Extra outside", length(0.0);
        _ = "vessel.rings.*.inside_extra_mm", "Extra inside", length(0.0);
        _ = "vessel.rings.*.is_pinned", "Leave as it is when dividing", flag();
        _ = "vessel.rings.*.pattern.*", "Segment’s wood", count(0, 29);
        _ = "woods.*.name", "Name", text(80);
        _ = "woods.*.like", "Like", text(80);
        _ = "woods.*.color", "Color", color();
        _ = "woods.*.specific_gravity", "Specific gravity", optional(number(0.05, 1.5));
        _ = "woods.*.radial_pct", "Shrinks radial", optional(percent(0.1, 30.0));
        _ = "woods.*.tangential_pct", "Shrinks tangential", optional(percent(0.1, 30.0));
        _ = "woods.*.price", "Price for", money();
        SHOP_TEMPERATURE = "climate.shop_temperature_c", "Shop, temperature", temperature();
        SHOP_HUMIDITY = "climate.shop_humidity_pct", "Shop, humidity", percent(0.0, 100.0);
        _ = "climate.dry_temperature_c", "Dry season, temperature", temperature();
        DRY_HUMIDITY = "climate.dry_humidity_pct", "Dry season, humidity", percent(0.0, 100.0);
        _ = "climate.damp_temperature_c", "Damp season, temperature", temperature();
        DAMP_HUMIDITY = "climate.damp_humidity_pct", "Damp season, humidity", percent(0.0, 100.0);
        METER = "climate.meter_pct", "Moisture meter reads", optional(percent(0.0, 100.0));
        _ = "climate.sawn", "Boards are", choice(Sawn::WORDS);
        BASE_KIND = "base.kind", "Made of", choice(BaseKind::WORDS);
        BASE_SET = "base.set", "How it sits", choice(BaseSet::WORDS);
        BASE_DIAMETER = "base.diameter_mm", "Diameter, empty to suit", optional(length(SOME_MM));
        _ = "base.thickness_mm", "Base thickness", length(SOME_MM);
        BASE_WOOD = "base.wood", "Base wood", text(80);
        _ = "base.fit_mm", "Room for glue, on the diameter", length(0.0);
        BASE_LEDGE = "base.ledge_mm", "Ledge width", length(0.0);
        _ = "base.wedge_count", "Wedges", count(3, 360);
        _ = "base.plies.*.thickness_mm", "Ply thickness", length(SOME_MM);
        _ = "base.plies.*.wood", "Ply wood", text(80);
        _ = "vessel.slot_sets.*.from_ring", "Lowest ring", count(1, 200);
        _ = "vessel.slot_sets.*.to_ring", "Topmost ring", count(1, 200);
        _ = "vessel.slot_sets.*.slot_count", "Slots", count(1, 96);
        _ = "vessel.slot_sets.*.gauge_deg", "Gauge angle", degrees(0.0, 89.0);
        _ = "vessel.slot_sets.*.leans", "Rising, they lean", choice(Leans::WORDS);
        _ = "vessel.slot_sets.*.first_at", "Count from", choice(FirstAt::WORDS);
        _ = "vessel.slot_sets.*.further_deg", "Move the first slot on by", degrees(-360.0, 360.0);
        _ = "vessel.slot_sets.*.kerf_mm", "Kerf of the slots", length(LEAST_SLOT_MM);
        _ = "vessel.slot_sets.*.fit_mm", "Strip thinner by", length(0.0);
        _ = "vessel.slot_sets.*.wood", "Wood of the strips", count(0, 29);
        _ = "vessel.slot_sets.*.blade_mm", "Blade height (empty: to suit)", optional(length(0.0));
        _ = "vessel.slot_sets.*.shows", "The strips show", choice(StripsShow::WORDS);
        _ = "vessel.slot_sets.*.stack_is", "The stack is", choice(StackIs::WORDS);
        _ = "ring.is_matched", "All from one board", flag();
        _ = "vessel.rings.*.is_matched", "All from one board", flag();
        GAUGE_MOST = "shop.gauge_most_deg", "Miter gauge turns to", optional(degrees(1.0, 90.0));
        BLADE_MOST = "shop.blade_most_mm", "Blade rises to", optional(length(SOME_MM));
        PLANER_LEAST = "shop.planer_least_mm", "Thinnest that your planer takes", optional(length(SOME_MM));
        SLOWEST = "shop.slowest_rpm", "Lathe’s slowest speed, turns a minute", optional(count(1, 10_000));
        INDEX_PLATES = "shop.index_plates", "Index plates, holes of each", counts(2, 720, 12);
        _ = "shop.currency", "Currency", text(8);
        WASTE = "shop.waste_percent", "Waste, percent of what is bought", count(0, 90);
        _ = "rack.goal", "Choose for", choice(BoardGoal::WORDS);
        PLANE_AT_MOST = "rack.plane_at_most_mm", "Plane away at most", length(0.0);
        EDGE_GLUED = "rack.is_edge_glued", "Edge-glue discs wider than a board", flag();
        _ = "rack.boards.*.wood", "Wood", text(80);
        _ = "rack.boards.*.thickness_mm", "Thickness", length(SOME_MM);
        _ = "rack.boards.*.thickness_is", "Thickness is", choice(ThicknessIs::WORDS);
        _ = "rack.boards.*.width_mm", "Width", length(SOME_MM);
        _ = "rack.boards.*.length_mm", "Length", length(SOME_MM);
        _ = "rack.boards.*.number", "Number", count(0, 10_000);
        _ = "rack.boards.*.price", "Price", money();
        _ = "rack.boards.*.price_for", "Price for", choice(BoardPrice::WORDS);
        _ = "rack.boards.*.avoid.*.from_mm", "Avoid from", length(0.0);
        _ = "rack.boards.*.avoid.*.to_mm", "to", length(0.0);
        _ = "rack.boards.*.avoid.*.across_from_mm", "Across, from the upper edge (or empty)", optional(length(0.0));
        _ = "rack.boards.*.avoid.*.across_to_mm", "across, to (or empty)", optional(length(0.0));
        GLUE = "bench.glue", "Glue", choice(Glue::WORDS);
        MEETING = "bench.meet_above_ring", "Halves meet above ring, 0 for one piece", optional(count(0, 200));
        OVERHANG = "bench.overhang_mm", "Tool beyond the rest, at most", length(10.0);
        STATION = "bench.station_mm", "From station to station", length(1.0);
        PLUG_CLEARANCE = "bench.plug_clearance_mm", "Plug smaller than the hole by", length(0.0);
        PLUG_BORE = "bench.plug_bore_mm", "Hole through the plug", length(0.0);
        EVENING = "bench.evening_h", "Hours of an evening", number(0.25, 16.0);
        PACE = "bench.pace", "Your own pace (2: twice as long as reckoned)", number(0.1, 10.0);
        _ = "vessel.rings.*.measured.outside_diameter_mm", "Outside", optional(length(1.0));
        _ = "vessel.rings.*.measured.inside_diameter_mm", "Inside", optional(length(0.0));
        _ = "vessel.rings.*.measured.height_mm", "Height", optional(length(SOME_MM));
        _ = "vessel.rings.*.measured.upper_outside_diameter_mm", "Outside at its upper face, if it differs", optional(length(1.0));
        _ = "vessel.rings.*.measured.upper_inside_diameter_mm", "Inside at its upper face, if it differs", optional(length(0.0));
        _ = "vessel.rings.*.measured.outside_across", "Outside was measured", choice(Across::WORDS);
        _ = "vessel.rings.*.measured.inside_across", "Inside was measured", choice(Across::WORDS);
        OUTLINE_IS = "vessel.outline_is", "Curve", choice(OutlineIs::WORDS);
        BASE_RING = "base.in_ring", "In ring, from the foot", count(1, 200);
        _ = "vessel.rings.*.stripes.slant_deg", "Stripes to the ring’s faces", degrees(0.0, 90.0);
        _ = "vessel.rings.*.stripes.laid", "Striped segments", choice(Laid::WORDS);
        _ = "vessel.rings.*.stripes.is_mirrored", "As a mirror image", flag();
        _ = "vessel.rings.*.stripes.shift_pct", "Shifted by, of the repeat", percent(0.0, 100.0);
        _ = "vessel.rings.*.stripes.layers.*.wood", "Layer’s wood", count(0, 29);
        _ = "vessel.rings.*.stripes.layers.*.thickness_mm", "Layer’s thickness, planed", length(SOME_MM);
        _ = "vessel.slot_sets.*.tilt_deg", "Blade tilt (above 0: in to the right)", degrees(-45.0, 45.0);
        _ = "vessel.slot_sets.*.ends_at_mm", "Strips end above the foot (or empty)", optional(length(0.0));
        _ = "vessel.slot_sets.*.beside_count", "Side by side at each place", count(1, 6);
        _ = "vessel.slot_sets.*.apart_deg", "Apart there (empty: to suit)", optional(degrees(0.1, 180.0));
        _ = "vessel.slot_sets.*.layers.*.wood", "Layer’s wood", count(0, 29);
        _ = "vessel.slot_sets.*.layers.*.thickness_mm", "Layer’s thickness in the strip", length(SOME_MM);
        _ = "vessel.slot_sets.*.held_by", "The slots go", choice(StackHeld::WORDS);
        RINGS_CLOSE = "bench.rings_close", "Rings are glued", choice(RingsClose::WORDS);
        FINISH = "finish.kind", "Finish", choice(Finish::WORDS);
        _ = "finish.coats", "Coats (empty: as usual)", optional(count(1, 12));
        _ = "finish.from_grit", "First grit (empty: as usual)", optional(count(40, 1500));
        _ = "finish.to_grit", "Last grit (empty: as usual)", optional(count(40, 1500));
        _ = "finish.wait_h", "Hours between coats, by the can", optional(number(0.1, 720.0));
        _ = "vessel.rings.*.out_of_true.widest_mm", "Outside, widest across", optional(length(1.0));
        _ = "vessel.rings.*.out_of_true.narrowest_mm", "Outside, narrowest across", optional(length(1.0));
        _ = "vessel.rings.*.out_of_true.runs_out_mm", "Outside runs out", optional(length(0.0));
        _ = "vessel.rings.*.out_of_true.hole_widest_mm", "Inside, widest across", optional(length(1.0));
        _ = "vessel.rings.*.out_of_true.hole_runs_out_mm", "Inside runs out", optional(length(0.0));
        _ = "vessel.rings.*.out_of_true.face_runs_out_mm", "Open face runs out", optional(length(0.0));
        _ = "vessel.rings.*.out_of_true.is_hollowed", "Inside is turned already", flag();
        _ = "vessel.rings.*.shares", "Widths of the segments, repeated (2 1: wide, narrow)", shares();
        _ = "vessel.rings.*.gap_by", "Gap told as", choice(GapBy::WORDS);
        _ = "vessel.rings.*.gap_deg", "Gap’s angle", degrees(0.0, 120.0);
        _ = "vessel.rings.*.gap_pct", "Gap, of the way to the next segment", percent(0.0, 100.0);
        _ = "vessel.rings.*.further_deg", "Turned on further", degrees(-360.0, 360.0);
    }
    lists {
        POINTS = "vessel.points", "Outline", 2, 40;
        RINGS = "vessel.rings", "Rings", 0, 200;
        _ = "vessel.woods", "Woods", 1, 30;
        SLOT_SETS = "vessel.slot_sets", "Slot sets", 0, 12;
        _ = "vessel.rings.*.pattern", "Pattern", 1, 360;
        _ = "woods", "Own woods", 0, 30;
        BASE_PLIES = "base.plies", "Plies", 1, 25;
        STRIPE_LAYERS = "vessel.rings.*.stripes.layers", "Layers", 1, 12;
        STRIP_LAYERS = "vessel.slot_sets.*.layers", "Layers of a strip", 0, 9;
        BOARDS = "rack.boards", "The boards", 0, 60;
        _ = "rack.boards.*.avoid", "Spots to avoid", 0, 12;
    }
    parts {
        _ = "climate", "Seasons";
        _ = "bench", "Bench";
        _ = "finish", "Finish";
        _ = "vessel.rings.*.measured", "Readings of a glued ring";
        _ = "vessel.rings.*.stripes", "Striped board";
        _ = "vessel.rings.*.out_of_true", "Readings of a ring out of true";
        _ = "base", "Base";
        RACK = "rack", "The boards";
        VESSEL = "vessel", "Vessel";
        DESIGN = "design", "This design";
    }
}

/// Whether a key, with numbers for the places in lists, is one of this field's.
fn matches(pattern: &str, key: &str) -> bool {
    let mut parts = key.split('.');
    let fits = pattern.split('.').all(|expected| {
        parts.next().is_some_and(|part| {
            part == expected || (expected == "*" && part.bytes().all(|b| b.is_ascii_digit()))
        })
    });
    fits && parts.next().is_none()
}

/// Every key that a pattern stands for in a design's JSON.
pub fn expand(pattern: &str, whole: &Value) -> Vec<String> {
    let Some((before, after)) = pattern.split_once(".*") else {
        return vec![pattern.to_owned()];
    };
    let count = at(whole, before)
        .and_then(Value::as_array)
        .map_or(0, Vec::len);
    (0..count)
        .flat_map(|place| expand(&format!("{before}.{place}{after}"), whole))
        .collect()
}

/// Goes to every place that a pattern stands for in a design's JSON and that is there in
/// another one too, with both and the places in lists on the way. A thing that only the one
/// or the other has is passed over.
pub fn each(
    pattern: &str,
    whole: &mut Value,
    given: &Value,
    visit: &mut impl FnMut(&mut Value, &Value, &[usize]),
) {
    step(Some(pattern), whole, given, &mut Vec::new(), visit);
}

fn step(
    pattern: Option<&str>,
    whole: &mut Value,
    given: &Value,
    places: &mut Vec<usize>,
    visit: &mut impl FnMut(&mut Value, &Value, &[usize]),
) {
    let Some(pattern) = pattern else {
        visit(whole, given, places);
        return;
    };
    let (name, rest) = match pattern.split_once('.') {
        Some((name, rest)) => (name, Some(rest)),
        None => (pattern, None),
    };
    match (whole, given) {
        (Value::Array(whole), Value::Array(given)) if name == "*" => {
            for (place, (whole, given)) in whole.iter_mut().zip(given).enumerate() {
                places.push(place);
                step(rest, whole, given, places, visit);
                places.pop();
            }
        }
        (Value::Object(whole), Value::Object(given)) => {
            if let (Some(whole), Some(given)) = (whole.get_mut(name), given.get(name)) {
                step(rest, whole, given, places, visit);
            }
        }
        _ => {}
    }
}

/// A pattern's key at these places.
pub fn key_at(pattern: &str, places: &[usize]) -> String {
    let mut places = places.iter();
    let parts = pattern.split('.').map(|part| match part {
        "*" => places
            .next()
            .map_or(Cow::Borrowed(part), |it| it.to_string().into()),
        _ => part.into(),
    });
    parts.collect::<Vec<Cow<str>>>().join(".")
}

/// What stands in a design's JSON at a key.
pub fn at<'a>(whole: &'a Value, key: &str) -> Option<&'a Value> {
    key.split('.').try_fold(whole, |part, name| match part {
        Value::Array(list) => list.get(name.parse::<usize>().ok()?),
        _ => part.get(name),
    })
}

/// The same, to be changed.
pub fn at_mut<'a>(whole: &'a mut Value, key: &str) -> Option<&'a mut Value> {
    key.split('.').try_fold(whole, |part, name| match part {
        Value::Array(list) => list.get_mut(name.parse::<usize>().ok()?),
        _ => part.get_mut(name),
    })
}

/// What the turner reads of a field, a list or a part of a design.
pub fn label(key: &str) -> Option<&'static str> {
    let pattern = pattern_of(key);
    let fields = FIELDS.iter().map(|it| (it.key, it.label));
    let lists = LISTS.iter().map(|it| (it.key, it.label));
    let mut all = fields.chain(lists).chain(PARTS.iter().copied());
    all.find(|(key, _)| *key == pattern).map(|(_, label)| label)
}

/// A key with `*` for every place in a list.
pub fn pattern_of(key: &str) -> String {
    let parts = key.split('.');
    let parts = parts.map(|part| {
        if part.bytes().all(|b| b.is_ascii_digit()) {
            "*"
        } else {
            part
        }
    });
    parts.collect::<Vec<_>>().join(".")
}

/// The field with this key; places in lists are numbers.
pub fn find(key: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| matches(field.key, key))
}
