//! The fields in which the turner decides: one table of what each takes.
//!
//! A field's key is its path in the design's JSON, so that reading a file, opening a
//! link, typing into the page and resetting a bad value all use the same row.

use crate::design::trouble::Reason;
use crate::design::{
    Across, BaseKind, BaseSet, Between, BoardGoal, BoardPrice, FirstAt, HoleBy, Leans, MadeOf,
    Orientation, OutlineIs, PaperSize, PricePer, Sawn, StackIs, StripsShow, ThicknessIs,
};
use crate::trade::closing::OpenAt;
use crate::trade::glue::Glue;
use crate::units::length::{self, Unit};
use serde_json::Value;

/// The keys, by name.
pub mod key {
    #![allow(missing_docs, reason = "each name says what the field is")]
    pub const DESIGN: &str = "design";
    pub const NAME: &str = "name";
    pub const UNIT: &str = "unit";
    pub const OUTSIDE_DIAMETER: &str = "ring.outside_diameter_mm";
    pub const HOLE_BY: &str = "ring.hole_by";
    pub const WALL: &str = "ring.wall_mm";
    pub const INSIDE_DIAMETER: &str = "ring.inside_diameter_mm";
    pub const HEIGHT: &str = "ring.height_mm";
    pub const SEGMENT_COUNT: &str = "ring.segment_count";
    pub const BETWEEN: &str = "ring.between";
    pub const SPACER: &str = "ring.spacer_mm";
    pub const WOOD: &str = "ring.wood";
    pub const OUTSIDE_ALLOWANCE: &str = "allowance.outside_mm";
    pub const INSIDE_ALLOWANCE: &str = "allowance.inside_mm";
    pub const FACE_ALLOWANCE: &str = "allowance.face_mm";
    pub const KERF: &str = "shop.kerf_mm";
    pub const HOLD_BACK: &str = "shop.hold_back_mm";
    pub const STRIP_LENGTH: &str = "shop.strip_length_mm";
    pub const PRICE: &str = "shop.price";
    pub const PRICE_PER: &str = "shop.price_per";
    pub const DRY_FIT_OPEN_AT: &str = "dry_fit.open_at";
    pub const DRY_FIT_GAP: &str = "dry_fit.gap_mm";
    pub const GLUED_COUNT: &str = "dry_fit.glued_count";
    pub const GLUED_ANGLE: &str = "dry_fit.glued_angle_deg";
    pub const STAVE_COUNT: &str = "stave.count";
    pub const STAVE_LEAN: &str = "stave.lean_deg";
    pub const STAVE_LENGTH: &str = "stave.length_mm";
    pub const STAVE_BOTTOM: &str = "stave.bottom_diameter_mm";
    pub const PAPER: &str = "paper.size";
    pub const ORIENTATION: &str = "paper.orientation";
    pub const STOCK: &str = "shop.stock_mm";
    pub const BOARD_WIDTH: &str = "shop.board_width_mm";
    pub const LEAST_SEGMENT: &str = "shop.least_segment_mm";
    pub const SWING: &str = "shop.swing_mm";
    pub const VESSEL: &str = "vessel";
    pub const POINTS: &str = "vessel.points";
    pub const RINGS: &str = "vessel.rings";
    pub const SLOT_SETS: &str = "vessel.slot_sets";
    pub const FOOT_WALL: &str = "vessel.foot_wall_mm";
    pub const RIM_WALL: &str = "vessel.rim_wall_mm";
    pub const FLOOR: &str = "vessel.floor_mm";
    pub const SHOP_HUMIDITY: &str = "climate.shop_humidity_pct";
    pub const DRY_HUMIDITY: &str = "climate.dry_humidity_pct";
    pub const DAMP_HUMIDITY: &str = "climate.damp_humidity_pct";
    pub const METER: &str = "climate.meter_pct";
    pub const BASE_KIND: &str = "base.kind";
    pub const BASE_SET: &str = "base.set";
    pub const BASE_WOOD: &str = "base.wood";
    pub const BASE_DIAMETER: &str = "base.diameter_mm";
    pub const BASE_LEDGE: &str = "base.ledge_mm";
    pub const BASE_PLIES: &str = "base.plies";
    pub const RACK: &str = "rack";
    pub const BOARDS: &str = "rack.boards";
    pub const WASTE: &str = "shop.waste_percent";
    pub const PLANE_AT_MOST: &str = "rack.plane_at_most_mm";
    pub const GLUE: &str = "bench.glue";
    pub const SHOP_TEMPERATURE: &str = "climate.shop_temperature_c";
    pub const MEETING: &str = "bench.meet_above_ring";
    pub const OVERHANG: &str = "bench.overhang_mm";
    pub const STATION: &str = "bench.station_mm";
    pub const PLUG_CLEARANCE: &str = "bench.plug_clearance_mm";
    pub const PLUG_BORE: &str = "bench.plug_bore_mm";
    pub const BASE_RING: &str = "base.in_ring";
    pub const OUTLINE_IS: &str = "vessel.outline_is";
}

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A length, in millimeters, within these bounds.
    Length {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A whole number within these bounds.
    Count {
        /// The least it takes.
        least: u32,
        /// The most it takes.
        most: u32,
    },
    /// An angle in degrees within these bounds.
    Degrees {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A plain number within these bounds.
    Number {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A share in percent within these bounds.
    Percent {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A temperature, kept in °C, within these bounds; typed in °F beside inches.
    Temperature {
        /// The least it takes, °C.
        least: f64,
        /// The most it takes, °C.
        most: f64,
    },
    /// A color, `#rrggbb`.
    Color,
    /// A price, 0 or more.
    Money,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Free text of at most so many characters.
    Text(usize),
    /// Yes or no.
    Flag,
    /// A few lengths in one field, kept as a list, each more than 0.
    Lengths {
        /// How many it takes.
        most_count: usize,
    },
}

/// One field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// Its path in the design's JSON.
    pub key: &'static str,
    /// What it takes.
    pub kind: Kind,
    /// Whether it may be empty.
    pub optional: bool,
}

/// 20 m: longer than any lathe, and small enough that every sum stays exact.
pub(crate) const LONGEST_MM: f64 = 20_000.0;

const fn length(key: &'static str, least: f64) -> Field {
    let most = LONGEST_MM;
    Field {
        key,
        kind: Kind::Length { least, most },
        optional: false,
    }
}

const fn count(key: &'static str, least: u32, most: u32) -> Field {
    Field {
        key,
        kind: Kind::Count { least, most },
        optional: false,
    }
}

const fn choice(key: &'static str, words: &'static [&'static str]) -> Field {
    Field {
        key,
        kind: Kind::Choice(words),
        optional: false,
    }
}

const fn degrees(key: &'static str, least: f64, most: f64) -> Field {
    Field {
        key,
        kind: Kind::Degrees { least, most },
        optional: false,
    }
}

const fn wood(key: &'static str) -> Field {
    Field {
        key,
        kind: Kind::Text(80),
        optional: true,
    }
}

const fn percent(key: &'static str, least: f64, most: f64) -> Field {
    Field {
        key,
        kind: Kind::Percent { least, most },
        optional: false,
    }
}

/// From deep frost to a hot attic: beyond, no wood is turned or kept.
const fn temperature(key: &'static str) -> Field {
    Field {
        key,
        kind: Kind::Temperature {
            least: -40.0,
            most: 80.0,
        },
        optional: false,
    }
}

const fn flag(key: &'static str) -> Field {
    Field {
        key,
        kind: Kind::Flag,
        optional: false,
    }
}

const fn optional(field: Field) -> Field {
    Field {
        optional: true,
        ..field
    }
}

/// The smallest length that a ring is made of: a hundredth of a millimeter, so that
/// 0 and negative lengths are refused where there must be wood.
const SOME: f64 = 0.01;

/// A list within a design. `*` in a key stands for a place in the list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct List {
    /// Its path in the design's JSON.
    pub key: &'static str,
    /// The fewest things that it holds.
    pub least: usize,
    /// The most.
    pub most: usize,
}

/// Every list of a design, outer ones first.
pub const LISTS: &[List] = &[
    List {
        key: "vessel.points",
        least: 2,
        most: 40,
    },
    List {
        key: "vessel.rings",
        least: 0,
        most: 200,
    },
    List {
        key: "vessel.woods",
        least: 1,
        most: 30,
    },
    List {
        key: key::SLOT_SETS,
        least: 0,
        most: 12,
    },
    List {
        key: "vessel.rings.*.pattern",
        least: 1,
        most: 360,
    },
    List {
        key: "woods",
        least: 0,
        most: 30,
    },
    List {
        key: key::BASE_PLIES,
        least: 1,
        most: 25,
    },
    List {
        key: key::BOARDS,
        least: 0,
        most: 60,
    },
    List {
        key: "rack.boards.*.avoid",
        least: 0,
        most: 12,
    },
];

/// How many things a list takes.
pub fn most_of(key: &str) -> usize {
    let list = LISTS.iter().find(|list| list.key == key);
    list.map_or(0, |list| list.most)
}

/// Every field of a design.
pub const FIELDS: &[Field] = &[
    Field {
        key: key::NAME,
        kind: Kind::Text(200),
        optional: true,
    },
    choice(key::UNIT, Unit::WORDS),
    length(key::OUTSIDE_DIAMETER, 1.0),
    choice(key::HOLE_BY, HoleBy::WORDS),
    length(key::WALL, SOME),
    length(key::INSIDE_DIAMETER, 0.0),
    length(key::HEIGHT, SOME),
    count(key::SEGMENT_COUNT, 3, 360),
    choice(key::BETWEEN, Between::WORDS),
    length(key::SPACER, 0.0),
    Field {
        key: key::WOOD,
        kind: Kind::Text(80),
        optional: true,
    },
    length(key::OUTSIDE_ALLOWANCE, 0.0),
    length(key::INSIDE_ALLOWANCE, 0.0),
    length(key::FACE_ALLOWANCE, 0.0),
    length(key::KERF, 0.0),
    length(key::HOLD_BACK, 0.0),
    length(key::STRIP_LENGTH, SOME),
    Field {
        key: key::PRICE,
        kind: Kind::Money,
        optional: true,
    },
    choice(key::PRICE_PER, PricePer::WORDS),
    choice(key::DRY_FIT_OPEN_AT, OpenAt::WORDS),
    optional(length(key::DRY_FIT_GAP, 0.0)),
    count(key::GLUED_COUNT, 1, 360),
    Field {
        key: key::GLUED_ANGLE,
        kind: Kind::Degrees {
            least: 0.1,
            most: 360.0,
        },
        optional: true,
    },
    count(key::STAVE_COUNT, 3, 360),
    Field {
        key: key::STAVE_LEAN,
        kind: Kind::Degrees {
            least: -89.0,
            most: 89.0,
        },
        optional: false,
    },
    length(key::STAVE_LENGTH, SOME),
    length(key::STAVE_BOTTOM, SOME),
    choice(key::PAPER, PaperSize::WORDS),
    choice(key::ORIENTATION, Orientation::WORDS),
    Field {
        key: key::STOCK,
        kind: Kind::Lengths { most_count: 12 },
        optional: false,
    },
    optional(length(key::BOARD_WIDTH, SOME)),
    length(key::LEAST_SEGMENT, 0.0),
    optional(length(key::SWING, SOME)),
    length("vessel.points.*.height_mm", 0.0),
    length("vessel.points.*.radius_mm", 0.0),
    flag("vessel.points.*.is_corner"),
    length(key::FOOT_WALL, SOME),
    length(key::RIM_WALL, SOME),
    length(key::FLOOR, SOME),
    Field {
        key: "vessel.woods.*",
        kind: Kind::Text(80),
        optional: true,
    },
    length("vessel.rings.*.height_mm", SOME),
    count("vessel.rings.*.segment_count", 3, 360),
    choice("vessel.rings.*.made_of", MadeOf::WORDS),
    count("vessel.rings.*.turn_half_segments", 0, 720),
    choice("vessel.rings.*.between", Between::WORDS),
    length("vessel.rings.*.spacer_mm", 0.0),
    length("vessel.rings.*.outside_extra_mm", 0.0),
    length("vessel.rings.*.inside_extra_mm", 0.0),
    flag("vessel.rings.*.is_pinned"),
    count("vessel.rings.*.pattern.*", 0, 29),
    wood("woods.*.name"),
    wood("woods.*.like"),
    Field {
        key: "woods.*.color",
        kind: Kind::Color,
        optional: true,
    },
    Field {
        key: "woods.*.specific_gravity",
        // From balsa to the heaviest woods, with room.
        kind: Kind::Number {
            least: 0.05,
            most: 1.5,
        },
        optional: true,
    },
    optional(percent("woods.*.radial_pct", 0.1, 30.0)),
    optional(percent("woods.*.tangential_pct", 0.1, 30.0)),
    Field {
        key: "woods.*.price",
        kind: Kind::Money,
        optional: true,
    },
    temperature(key::SHOP_TEMPERATURE),
    percent(key::SHOP_HUMIDITY, 0.0, 100.0),
    temperature("climate.dry_temperature_c"),
    percent(key::DRY_HUMIDITY, 0.0, 100.0),
    temperature("climate.damp_temperature_c"),
    percent(key::DAMP_HUMIDITY, 0.0, 100.0),
    optional(percent(key::METER, 0.0, 100.0)),
    choice("climate.sawn", Sawn::WORDS),
    choice(key::BASE_KIND, BaseKind::WORDS),
    choice(key::BASE_SET, BaseSet::WORDS),
    optional(length(key::BASE_DIAMETER, SOME)),
    length("base.thickness_mm", SOME),
    wood(key::BASE_WOOD),
    length("base.fit_mm", 0.0),
    length(key::BASE_LEDGE, 0.0),
    count("base.wedge_count", 3, 360),
    length("base.plies.*.thickness_mm", SOME),
    wood("base.plies.*.wood"),
    count("vessel.slot_sets.*.from_ring", 1, 200),
    count("vessel.slot_sets.*.to_ring", 1, 200),
    count("vessel.slot_sets.*.slot_count", 1, 96),
    degrees("vessel.slot_sets.*.gauge_deg", 0.0, 89.0),
    choice("vessel.slot_sets.*.leans", Leans::WORDS),
    choice("vessel.slot_sets.*.first_at", FirstAt::WORDS),
    degrees("vessel.slot_sets.*.further_deg", -360.0, 360.0),
    length("vessel.slot_sets.*.kerf_mm", 0.1),
    length("vessel.slot_sets.*.fit_mm", 0.0),
    count("vessel.slot_sets.*.wood", 0, 29),
    optional(length("vessel.slot_sets.*.blade_mm", 0.0)),
    choice("vessel.slot_sets.*.shows", StripsShow::WORDS),
    choice("vessel.slot_sets.*.stack_is", StackIs::WORDS),
    flag("ring.is_matched"),
    flag("vessel.rings.*.is_matched"),
    count(key::WASTE, 0, 90),
    choice("rack.goal", BoardGoal::WORDS),
    length(key::PLANE_AT_MOST, 0.0),
    Field {
        key: "rack.boards.*.wood",
        kind: Kind::Text(80),
        optional: true,
    },
    length("rack.boards.*.thickness_mm", SOME),
    choice("rack.boards.*.thickness_is", ThicknessIs::WORDS),
    length("rack.boards.*.width_mm", SOME),
    length("rack.boards.*.length_mm", SOME),
    count("rack.boards.*.number", 0, 10_000),
    Field {
        key: "rack.boards.*.price",
        kind: Kind::Money,
        optional: true,
    },
    choice("rack.boards.*.price_for", BoardPrice::WORDS),
    length("rack.boards.*.avoid.*.from_mm", 0.0),
    length("rack.boards.*.avoid.*.to_mm", 0.0),
    choice(key::GLUE, Glue::WORDS),
    optional(count(key::MEETING, 0, 200)),
    length(key::OVERHANG, 10.0),
    length(key::STATION, 1.0),
    length(key::PLUG_CLEARANCE, 0.0),
    length(key::PLUG_BORE, 0.0),
    optional(length("vessel.rings.*.measured.outside_diameter_mm", 1.0)),
    optional(length("vessel.rings.*.measured.inside_diameter_mm", 0.0)),
    optional(length("vessel.rings.*.measured.height_mm", SOME)),
    optional(length(
        "vessel.rings.*.measured.upper_outside_diameter_mm",
        1.0,
    )),
    optional(length(
        "vessel.rings.*.measured.upper_inside_diameter_mm",
        0.0,
    )),
    choice("vessel.rings.*.measured.outside_across", Across::WORDS),
    choice("vessel.rings.*.measured.inside_across", Across::WORDS),
    choice(key::OUTLINE_IS, OutlineIs::WORDS),
    count(key::BASE_RING, 1, 200),
];

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
    let count = whole
        .pointer(&pointer(before))
        .and_then(Value::as_array)
        .map_or(0, Vec::len);
    (0..count)
        .flat_map(|place| expand(&format!("{before}.{place}{after}"), whole))
        .collect()
}

/// `ring.wall_mm` as a JSON pointer (RFC 6901).
pub fn pointer(key: &str) -> String {
    format!("/{}", key.replace('.', "/"))
}

/// A key with `*` for every place in a list: the key of its label.
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

impl Field {
    /// Turns typed text into the value that the design's JSON holds; `null` for an
    /// optional field left empty.
    ///
    /// # Errors
    /// When the text cannot be read, or lies outside what the field takes.
    pub fn read(&self, typed: &str, unit: Unit) -> Result<Value, Reason> {
        if self.optional && typed.trim().is_empty() {
            return Ok(self.empty());
        }
        let number =
            |marks: &[char]| length::parse_number(typed, marks).map_err(Reason::NotALength);
        let value = match self.kind {
            Kind::Length { .. } => {
                Value::from(length::parse(typed, unit).map_err(Reason::NotALength)?)
            }
            Kind::Degrees { .. } => Value::from(number(&['°'])?),
            Kind::Percent { .. } => Value::from(number(&['%'])?),
            Kind::Temperature { .. } => {
                let is_fahrenheit = match typed.trim().chars().last() {
                    Some('C' | 'c') => false,
                    Some('F' | 'f') => true,
                    _ => unit.is_inch(),
                };
                let degrees = number(&['°', 'C', 'c', 'F', 'f'])?;
                Value::from(if is_fahrenheit {
                    (degrees - 32.0) / 1.8
                } else {
                    degrees
                })
            }
            Kind::Color => Value::from(typed.trim()),
            Kind::Money => Value::from(number(&['$', '€', '£', '¥'])?),
            Kind::Count { .. } | Kind::Number { .. } => Value::from(number(&[])?),
            Kind::Choice(_) => Value::from(typed),
            Kind::Text(most) => Value::from(clean_text(typed, most)),
            Kind::Flag => Value::from(typed == "yes"),
            Kind::Lengths { .. } => typed
                .split([';', '\n'])
                .filter(|part| !part.trim().is_empty())
                .map(|part| length::parse(part, unit).map(Value::from))
                .collect::<Result<Value, _>>()
                .map_err(Reason::NotALength)?,
        };
        self.check(&value)
    }

    /// Checks a value that came from anywhere (typed, file, link) and returns it in
    /// the form that the design holds.
    ///
    /// # Errors
    /// When it is of the wrong kind or outside what the field takes.
    pub fn check(&self, value: &Value) -> Result<Value, Reason> {
        if self.optional && value.is_null() {
            return Ok(self.empty());
        }
        match self.kind {
            Kind::Length { least, most }
            | Kind::Degrees { least, most }
            | Kind::Number { least, most }
            | Kind::Percent { least, most }
            | Kind::Temperature { least, most } => {
                within(number(value)?, least, most).map(Value::from)
            }
            Kind::Color => {
                let color = text(value)?;
                let is_color = color.len() == 7
                    && color.starts_with('#')
                    && color[1..].bytes().all(|byte| byte.is_ascii_hexdigit());
                if is_color || (self.optional && color.is_empty()) {
                    Ok(Value::from(color))
                } else {
                    Err(Reason::NotAChoice(clean_text(color, 40)))
                }
            }
            Kind::Money => within(number(value)?, 0.0, 1e6).map(Value::from),
            Kind::Count { least, most } => {
                let count = number(value)?;
                if count.fract() != 0.0 {
                    return Err(Reason::NotWhole(count));
                }
                let count = within(count, f64::from(least), f64::from(most))?;
                Ok(Value::from(count as u32))
            }
            Kind::Choice(words) => {
                let word = text(value)?;
                if words.contains(&word) {
                    Ok(Value::from(word))
                } else {
                    Err(Reason::NotAChoice(clean_text(word, 40)))
                }
            }
            Kind::Text(most) => Ok(Value::from(clean_text(text(value)?, most))),
            Kind::Flag => value.as_bool().map(Value::from).ok_or(Reason::WrongKind),
            Kind::Lengths { most_count } => {
                let list = value.as_array().ok_or(Reason::WrongKind)?;
                within(list.len() as f64, 1.0, most_count as f64)?;
                list.iter()
                    .map(|each| within(number(each)?, SOME, LONGEST_MM).map(Value::from))
                    .collect()
            }
        }
    }

    /// What an optional field holds when it is left empty.
    fn empty(&self) -> Value {
        match self.kind {
            Kind::Text(_) | Kind::Color => Value::from(""),
            _ => Value::Null,
        }
    }
}

fn number(value: &Value) -> Result<f64, Reason> {
    value
        .as_f64()
        .filter(|number| number.is_finite())
        .ok_or(Reason::WrongKind)
}

fn text(value: &Value) -> Result<&str, Reason> {
    value.as_str().ok_or(Reason::WrongKind)
}

fn within(value: f64, least: f64, most: f64) -> Result<f64, Reason> {
    if value < least || value > most {
        return Err(Reason::OutOfRange { value, least, most });
    }
    Ok(value)
}

/// Free text without control characters, and not longer than `most` characters.
fn clean_text(typed: &str, most: usize) -> String {
    typed
        .chars()
        .filter(|c| !c.is_control())
        .take(most)
        .collect()
}
