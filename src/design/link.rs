//! A whole design in the address bar: `#r1…`, short, made of `A-Z a-z 0-9 - _` only
//! (quotes and slashes get mangled in chats), with a checksum. Nothing is sent
//! anywhere by it: what stands behind `#` stays in the browser.
//!
//! A link is the design's JSON in a packed form. Names and words that designs use
//! often are one number each, from one dictionary; lengths that are whole 64ths of an
//! inch, hundredths of a millimeter or thousandths of an inch are one small integer.
//! Every field is written, so that a link's meaning does not hang on later defaults.
//!
//! Old links open for ever: `tests/links.rs` keeps some from every version. So the
//! dictionary and the table of woods are only ever appended to, and the numbers of the
//! tags never change.

use crate::design::field::key;
use crate::design::trouble::{Reason, Trouble};
use crate::design::{self, Design, Measured};
use crate::trade::wood;
use crate::units::kept::Kept;
use crate::units::length::MM_PER_INCH;
use base64ct::{Base64UrlUnpadded, Encoding};
use serde_json::{Map, Value};

/// What every link of this form begins with.
pub const PREFIX: &str = "r1";

/// No design comes near this; a longer text is not a link of ours.
const LONGEST: usize = 16_384;

/// Lists within lists deeper than this are not a design.
const DEEPEST: u32 = 12;

/// Values that a link may open to: many times what the largest design has. A table within a
/// table writes once what it has thousands of times, so a short link could fill all memory.
const MOST_VALUES: u64 = 400_000;

/// Names and words by number. Append only.
const DICTIONARY: &[&str] = &[
    "form",
    "name",
    "unit",
    "ring",
    "allowance",
    "shop",
    "dry_fit",
    "stave",
    "paper",
    "outside_diameter_mm",
    "hole_by",
    "wall_mm",
    "inside_diameter_mm",
    "height_mm",
    "segment_count",
    "between",
    "spacer_mm",
    "wood",
    "outside_mm",
    "inside_mm",
    "face_mm",
    "kerf_mm",
    "hold_back_mm",
    "strip_length_mm",
    "price",
    "price_per",
    "open_at",
    "gap_mm",
    "glued_count",
    "glued_angle_deg",
    "count",
    "lean_deg",
    "length_mm",
    "bottom_diameter_mm",
    "size",
    "inch_8",
    "inch_16",
    "inch_32",
    "inch_64",
    "inch_decimal",
    "millimeter",
    "wall",
    "inside_diameter",
    "nothing",
    "spacer",
    "gap",
    "board_foot",
    "cubic_meter",
    "through",
    "outside",
    "inside",
    "letter",
    "a4",
    "vessel",
    "points",
    "radius_mm",
    "is_corner",
    "foot_wall_mm",
    "rim_wall_mm",
    "floor_mm",
    "rings",
    "woods",
    "made_of",
    "turn_half_segments",
    "outside_extra_mm",
    "inside_extra_mm",
    "is_pinned",
    "pattern",
    "segments",
    "disc",
    "stock_mm",
    "board_width_mm",
    "least_segment_mm",
    "swing_mm",
    "like",
    "color",
    "specific_gravity",
    "radial_pct",
    "tangential_pct",
    "climate",
    "shop_temperature_c",
    "shop_humidity_pct",
    "dry_temperature_c",
    "dry_humidity_pct",
    "damp_temperature_c",
    "damp_humidity_pct",
    "meter_pct",
    "sawn",
    "flat",
    "quarter",
    "mixed",
    "base",
    "kind",
    "set",
    "diameter_mm",
    "thickness_mm",
    "fit_mm",
    "ledge_mm",
    "wedge_count",
    "plies",
    "one_board",
    "wedges",
    "open",
    "let_in",
    "on_ledge",
    "under",
    "slot_sets",
    "from_ring",
    "to_ring",
    "slot_count",
    "gauge_deg",
    "leans",
    "first_at",
    "further_deg",
    "blade_mm",
    "shows",
    "stack_is",
    "right",
    "left",
    "joint",
    "segment",
    "front",
    "outside_only",
    "inside_too",
    "turned_round",
    "left_flat",
    "is_matched",
    "waste_percent",
    "rack",
    "goal",
    "plane_at_most_mm",
    "boards",
    "thickness_is",
    "width_mm",
    "number",
    "price_for",
    "avoid",
    "from_mm",
    "to_mm",
    "fewest",
    "cheapest",
    "least_wood",
    "rough",
    "planed",
    "piece",
    "bench",
    "glue",
    "meet_above_ring",
    "overhang_mm",
    "station_mm",
    "plug_clearance_mm",
    "plug_bore_mm",
    "yellow_pva",
    "white_pva",
    "polyurethane",
    "liquid_hide",
    "hot_hide",
    "slow_epoxy",
    "orientation",
    "portrait",
    "landscape",
    "measured",
    "upper_outside_diameter_mm",
    "upper_inside_diameter_mm",
    "outside_across",
    "inside_across",
    "flats",
    "corners",
    "round",
    "outline_is",
    "own",
    "in_rings",
    "in_ring",
    "is_glued",
    "stripes",
    "layers",
    "slant_deg",
    "laid",
    "chevron",
    "slant",
    "is_mirrored",
    "shift_pct",
    "shares",
    "beside_count",
    "apart_deg",
    "tilt_deg",
    "outside_partly",
    "ends_at_mm",
    "held_by",
    "bridge",
    "strip_by_strip",
    "scrap_discs",
    "strip_width_mm",
    "strip_width",
    "evening_h",
    "pace",
    "finish",
    "coats",
    "from_grit",
    "to_grit",
    "wait_h",
    "later",
    "bare",
    "hardening_oil",
    "staying_oil",
    "wax",
    "film",
    "rings_close",
    "at_once",
    "in_halves",
    "out_of_true",
    "widest_mm",
    "narrowest_mm",
    "runs_out_mm",
    "hole_widest_mm",
    "hole_runs_out_mm",
    "face_runs_out_mm",
    "is_hollowed",
    "gauge_most_deg",
    "blade_most_mm",
    "planer_least_mm",
    "slowest_rpm",
    "index_plates",
    "currency",
    "across_from_mm",
    "across_to_mm",
    "is_edge_glued",
    "gap_by",
    "by_thickness",
    "by_angle",
    "by_share",
    "gap_deg",
    "gap_pct",
];

/// What kind of value follows. The numbers are part of the form.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Tag {
    Null = 0,
    False = 1,
    True = 2,
    Integer = 3,
    Sixtyfourths = 4,
    HundredthsMm = 5,
    Thousandths = 6,
    Float = 7,
    Text = 8,
    Word = 9,
    List = 10,
    Object = 11,
    Table = 12,
    Digits = 13,
    Wood = 14,
}

const TAGS: [Tag; 15] = [
    Tag::Null,
    Tag::False,
    Tag::True,
    Tag::Integer,
    Tag::Sixtyfourths,
    Tag::HundredthsMm,
    Tag::Thousandths,
    Tag::Float,
    Tag::Text,
    Tag::Word,
    Tag::List,
    Tag::Object,
    Tag::Table,
    Tag::Digits,
    Tag::Wood,
];

/// A grid on which lengths mostly lie.
struct Grid {
    tag: Tag,
    /// The length of so many steps: the very same number that was written.
    length_mm: fn(i64) -> f64,
    steps_a_mm: f64,
}

const GRIDS: [Grid; 3] = [
    Grid {
        tag: Tag::Sixtyfourths,
        length_mm: |steps| steps as f64 / 64.0 * MM_PER_INCH,
        steps_a_mm: 64.0 / MM_PER_INCH,
    },
    Grid {
        tag: Tag::HundredthsMm,
        length_mm: |steps| steps as f64 / 100.0,
        steps_a_mm: 100.0,
    },
    Grid {
        tag: Tag::Thousandths,
        length_mm: |steps| steps as f64 / 1000.0 * MM_PER_INCH,
        steps_a_mm: 1000.0 / MM_PER_INCH,
    },
];

/// The link's part behind `#`.
pub fn encode(design: &Design) -> String {
    let mut bytes = Vec::with_capacity(256);
    let mut whole = design::read::to_value(design);
    leave_out_usual(&mut whole);
    write_value(&mut bytes, &whole);
    let sum = checksum(&bytes);
    bytes.extend(sum.to_be_bytes());
    format!("{PREFIX}{}", Base64UrlUnpadded::encode_string(&bytes))
}

/// What came to designs later and is off, or as it always was, is left out: these never
/// start otherwise, so a link's meaning does not hang on it.
fn leave_out_usual(whole: &mut Value) {
    let usual = [
        ("/ring", "is_matched", Value::from(false)),
        ("/ring", "strip_width_mm", Value::from(0.875 * MM_PER_INCH)),
        ("/paper", "orientation", Value::from("portrait")),
        ("/vessel", "outline_is", Value::from("own")),
        ("/base", "in_ring", Value::from(1)),
        ("/bench", "evening_h", Value::from(2.0)),
        ("/bench", "pace", Value::from(1.0)),
        ("/bench", "rings_close", Value::from("at_once")),
        ("/shop", "gauge_most_deg", Value::Null),
        ("/shop", "blade_most_mm", Value::Null),
        ("/shop", "planer_least_mm", Value::Null),
        ("/shop", "slowest_rpm", Value::Null),
        ("/shop", "index_plates", Value::Array(Vec::new())),
        ("/shop", "currency", Value::from("")),
        ("/rack", "is_edge_glued", Value::from(false)),
    ];
    for (part, name, value) in usual {
        let part = whole.pointer_mut(part).and_then(Value::as_object_mut);
        if let Some(part) = part.filter(|part| part.get(name) == Some(&value)) {
            part.remove(name);
        }
    }
    set_readings_apart(whole);
    leave_out_unused(whole);
    let boards = whole.pointer_mut("/rack/boards");
    let boards = boards.and_then(Value::as_array_mut);
    for spots in boards.into_iter().flatten().map(|it| &mut it["avoid"]) {
        for name in ["across_from_mm", "across_to_mm"] {
            leave_out(spots.as_array_mut(), name, &Value::Null);
        }
    }
}

/// Leaves out of the rows of a table what is unused in all of them.
fn leave_out(rows: Option<&mut Vec<Value>>, name: &str, unused: &Value) {
    let Some(rows) = rows.filter(|rows| rows.iter().all(|it| it[name] == *unused)) else {
        return;
    };
    for row in rows.iter_mut().filter_map(Value::as_object_mut) {
        row.remove(name);
    }
}

/// Rings and slot sets are written as tables: what none of them has needs no column.
fn leave_out_unused(whole: &mut Value) {
    for (list, name, unused) in [
        ("/vessel/rings", "stripes", Value::Null),
        ("/vessel/rings", "shares", Value::Array(Vec::new())),
        ("/vessel/rings", "out_of_true", Value::Null),
        ("/vessel/rings", "gap_by", Value::from("by_thickness")),
        ("/vessel/rings", "gap_deg", Value::from(5.0)),
        ("/vessel/rings", "gap_pct", Value::from(25.0)),
        ("/vessel/rings", "further_deg", Value::from(0.0)),
        ("/vessel/slot_sets", "beside_count", Value::from(1)),
        ("/vessel/slot_sets", "apart_deg", Value::Null),
        ("/vessel/slot_sets", "layers", Value::Array(Vec::new())),
        ("/vessel/slot_sets", "tilt_deg", Value::from(0.0)),
        ("/vessel/slot_sets", "ends_at_mm", Value::Null),
        ("/vessel/slot_sets", "held_by", Value::from("bridge")),
    ] {
        let all = whole.pointer_mut(list).and_then(Value::as_array_mut);
        leave_out(all, name, &unused);
    }
}

/// What was measured of glued rings is written as a table of its own, as it was when these
/// were no rings of the vessel: rows of one form are short.
fn set_readings_apart(whole: &mut Value) {
    let rings = whole
        .pointer_mut("/vessel/rings")
        .and_then(Value::as_array_mut);
    let Some(rings) = rings else { return };
    let mut readings: Vec<Value> = Vec::new();
    let mut count = 0;
    for ring in rings.iter_mut().filter_map(Value::as_object_mut) {
        let own = ring.remove("measured").unwrap_or_default();
        let is_glued = !own.is_null();
        let mut row = if is_glued {
            own
        } else {
            Measured::nothing().write()
        };
        row["is_glued"] = is_glued.into();
        readings.push(row);
        if is_glued {
            count = readings.len();
        }
    }
    readings.truncate(count);
    if let Some(whole) = whole.as_object_mut().filter(|_| count > 0) {
        whole.insert("measured".to_owned(), readings.into());
    }
}

/// Opens a link: the part behind `#`, with or without it. Fields that do not fit are
/// reset and reported, as for a file.
///
/// # Errors
/// When it is not a link of ours, was cut off or edited, or comes from a later form.
pub fn decode(link: &str) -> Result<(Design, Vec<Trouble>), Trouble> {
    let broken = || Trouble::at(key::DESIGN, Reason::BrokenLink);
    let link = link.trim().trim_start_matches('#');
    if link.len() > LONGEST {
        return Err(broken());
    }
    let Some(body) = link.strip_prefix(PREFIX) else {
        let mut start = link.chars();
        let later = start.next() == Some('r') && start.next().is_some_and(|c| c.is_ascii_digit());
        return Err(if later {
            Trouble::at(key::DESIGN, Reason::Newer)
        } else {
            broken()
        });
    };
    let bytes = Base64UrlUnpadded::decode_vec(body).map_err(|_| broken())?;
    let (packed, sum) = bytes.split_last_chunk::<2>().ok_or_else(broken)?;
    if checksum(packed) != u16::from_be_bytes(*sum) {
        return Err(broken());
    }
    let mut reader = Reader {
        rest: packed,
        values_left: MOST_VALUES,
    };
    let value = reader.value(DEEPEST).ok_or_else(broken)?;
    if !reader.rest.is_empty() {
        return Err(broken());
    }
    Design::restore(&value)
}

/// How many values a value holds, itself among them; a text counts by its length.
fn values_in(value: &Value) -> u64 {
    match value {
        Value::Array(items) => 1 + items.iter().map(values_in).sum::<u64>(),
        Value::Object(parts) => 1 + parts.values().map(values_in).sum::<u64>(),
        Value::String(text) => 1 + text.len() as u64 / 16,
        _ => 1,
    }
}

/// CRC-16/XMODEM (polynomial 0x1021, start 0): catches a cut-off or edited link.
fn checksum(bytes: &[u8]) -> u16 {
    bytes.iter().fold(0, |sum, &byte| {
        (0..8).fold(sum ^ (u16::from(byte) << 8), |sum, _| {
            if sum & 0x8000 == 0 {
                sum << 1
            } else {
                (sum << 1) ^ 0x1021
            }
        })
    })
}

/// One byte holds the tag and a small number below 15; larger ones follow in groups
/// of seven bits, lowest first.
fn write_tagged(bytes: &mut Vec<u8>, tag: Tag, number: u64) {
    let tag = (tag as u8) << 4;
    if number < 15 {
        bytes.push(tag | number as u8);
        return;
    }
    bytes.push(tag | 15);
    write_number(bytes, number - 15);
}

fn write_number(bytes: &mut Vec<u8>, mut number: u64) {
    while number >= 0x80 {
        bytes.push(number as u8 | 0x80);
        number >>= 7;
    }
    bytes.push(number as u8);
}

/// 0, −1, 1, −2 … as 0, 1, 2, 3 …: small either way.
fn fold_sign(number: i64) -> u64 {
    ((number << 1) ^ (number >> 63)).cast_unsigned()
}

fn unfold_sign(number: u64) -> i64 {
    (number >> 1).cast_signed() ^ -(number & 1).cast_signed()
}

fn write_value(bytes: &mut Vec<u8>, value: &Value) {
    match value {
        Value::Null => write_tagged(bytes, Tag::Null, 0),
        Value::Bool(false) => write_tagged(bytes, Tag::False, 0),
        Value::Bool(true) => write_tagged(bytes, Tag::True, 0),
        Value::Number(number) => match number.as_i64() {
            Some(whole) => write_tagged(bytes, Tag::Integer, fold_sign(whole)),
            None => write_float(bytes, number.as_f64().unwrap_or(0.0)),
        },
        Value::String(text) => match (word_number(text), wood::number_of(text)) {
            (Some(number), _) => write_tagged(bytes, Tag::Word, number),
            (None, Some(number)) => write_tagged(bytes, Tag::Wood, number as u64),
            (None, None) => write_text(bytes, text),
        },
        Value::Array(items) => {
            if let Some(names) = same_names(items) {
                write_table(bytes, items, &names);
                return;
            }
            if let Some(digits) = small_numbers(items) {
                write_digits(bytes, &digits);
                return;
            }
            write_tagged(bytes, Tag::List, items.len() as u64);
            for item in items {
                write_value(bytes, item);
            }
        }
        Value::Object(map) => {
            write_tagged(bytes, Tag::Object, map.len() as u64);
            for (name, value) in map {
                write_name(bytes, name);
                write_value(bytes, value);
            }
        }
    }
}

/// A name by its number in the dictionary; 0 says that it follows as text.
fn write_name(bytes: &mut Vec<u8>, name: &str) {
    if let Some(number) = word_number(name) {
        write_number(bytes, number + 1);
    } else {
        write_number(bytes, 0);
        write_text(bytes, name);
    }
}

/// The names of two or more things that all have the same ones, such as rings.
fn same_names(items: &[Value]) -> Option<Vec<&String>> {
    let (first, rest) = items.split_first()?;
    let names: Vec<&String> = first.as_object()?.keys().collect();
    let has_same = |item: &Value| {
        item.as_object()
            .is_some_and(|it| it.keys().eq(names.iter().copied()))
    };
    (!rest.is_empty() && !names.is_empty() && rest.iter().all(has_same)).then_some(names)
}

/// Three or more whole numbers below 32, such as a pattern's woods.
fn small_numbers(items: &[Value]) -> Option<Vec<u8>> {
    let digits: Option<Vec<u8>> = items
        .iter()
        .map(|item| {
            item.as_u64()
                .filter(|digit| *digit < 32)
                .map(|digit| digit as u8)
        })
        .collect();
    digits.filter(|digits| digits.len() > 2)
}

/// Small numbers side by side, each in as few bits as the largest needs, lowest first.
fn write_digits(bytes: &mut Vec<u8>, digits: &[u8]) {
    write_tagged(bytes, Tag::Digits, digits.len() as u64);
    let largest = digits.iter().copied().max().unwrap_or(0);
    let width = (8 - largest.leading_zeros()).max(1);
    bytes.push(width as u8);
    let (mut waiting, mut count) = (0_u32, 0);
    for digit in digits {
        waiting |= u32::from(*digit) << count;
        count += width;
        while count >= 8 {
            bytes.push(waiting as u8);
            waiting >>= 8;
            count -= 8;
        }
    }
    if count > 0 {
        bytes.push(waiting as u8);
    }
}

/// How one name's values stand in a table.
const ALL_OF_THEM: u8 = 0;
const ONE_FOR_ALL: u8 = 1;
/// A bit for each thing, set where its value is that of the thing before; then the others.
const WHERE_IT_CHANGES: u8 = 2;

/// Things with the same names, name by name: what repeats is written once.
fn write_table(bytes: &mut Vec<u8>, items: &[Value], names: &[&String]) {
    write_tagged(bytes, Tag::Table, items.len() as u64);
    write_number(bytes, names.len() as u64);
    for name in names {
        write_name(bytes, name);
        let column: Vec<&Value> = items.iter().map(|item| &item[name.as_str()]).collect();
        write_column(bytes, &column);
    }
}

fn write_column(bytes: &mut Vec<u8>, column: &[&Value]) {
    let repeats = |place: usize| place > 0 && column[place] == column[place - 1];
    let repeated = (0..column.len()).filter(|place| repeats(*place)).count();
    let is_shorter = repeated > column.len().div_ceil(8);
    if repeated + 1 == column.len() {
        bytes.push(ONE_FOR_ALL);
    } else if is_shorter {
        bytes.push(WHERE_IT_CHANGES);
        for start in (0..column.len()).step_by(8) {
            let bit = |at: usize| u8::from(start + at < column.len() && repeats(start + at)) << at;
            bytes.push((0..8).map(bit).sum());
        }
    } else {
        bytes.push(ALL_OF_THEM);
    }
    let leaves_out = repeated + 1 == column.len() || is_shorter;
    for (place, value) in column.iter().enumerate() {
        if !(leaves_out && repeats(place)) {
            write_value(bytes, value);
        }
    }
}

fn write_float(bytes: &mut Vec<u8>, value: f64) {
    for grid in GRIDS {
        let steps = (value * grid.steps_a_mm).round();
        let is_on_grid = (grid.length_mm)(steps as i64).to_bits() == value.to_bits();
        if steps.abs() < 1e9 && is_on_grid {
            write_tagged(bytes, grid.tag, fold_sign(steps as i64));
            return;
        }
    }
    write_tagged(bytes, Tag::Float, 0);
    bytes.extend(value.to_le_bytes());
}

fn write_text(bytes: &mut Vec<u8>, text: &str) {
    write_tagged(bytes, Tag::Text, text.len() as u64);
    bytes.extend(text.as_bytes());
}

fn word_number(text: &str) -> Option<u64> {
    DICTIONARY
        .iter()
        .position(|word| *word == text)
        .map(|position| position as u64)
}

/// Reads packed values; every step returns nothing when the bytes do not fit.
struct Reader<'a> {
    rest: &'a [u8],
    /// Values that may still be made.
    values_left: u64,
}

impl Reader<'_> {
    fn byte(&mut self) -> Option<u8> {
        let (&first, rest) = self.rest.split_first()?;
        self.rest = rest;
        Some(first)
    }

    fn number(&mut self) -> Option<u64> {
        let mut number = 0_u64;
        for shift in (0..63).step_by(7) {
            let byte = self.byte()?;
            number |= u64::from(byte & 0x7f) << shift;
            if byte < 0x80 {
                return Some(number);
            }
        }
        None
    }

    fn tagged(&mut self) -> Option<(Tag, u64)> {
        let first = self.byte()?;
        let tag = *TAGS.get(usize::from(first >> 4))?;
        let small = u64::from(first & 15);
        let number = if small == 15 {
            self.number()?.checked_add(15)?
        } else {
            small
        };
        Some((tag, number))
    }

    fn take(&mut self, count: u64) -> Option<&[u8]> {
        let (taken, rest) = self.rest.split_at_checked(usize::try_from(count).ok()?)?;
        self.rest = rest;
        Some(taken)
    }

    fn text(&mut self, length: u64) -> Option<String> {
        Some(std::str::from_utf8(self.take(length)?).ok()?.to_owned())
    }

    fn value(&mut self, depth: u32) -> Option<Value> {
        let depth = depth.checked_sub(1)?;
        self.spend(1)?;
        let (tag, number) = self.tagged()?;
        Some(match tag {
            Tag::Null => Value::Null,
            Tag::False => Value::Bool(false),
            Tag::True => Value::Bool(true),
            Tag::Integer => Value::from(unfold_sign(number)),
            Tag::Float => Value::from(f64::from_le_bytes(self.take(8)?.try_into().ok()?)),
            Tag::Text => Value::String(self.text(number)?),
            Tag::Word => Value::from(*DICTIONARY.get(usize::try_from(number).ok()?)?),
            Tag::Wood => Value::from(wood::all().nth(usize::try_from(number).ok()?)?.name),
            Tag::List => {
                // Each item takes a byte at least: a larger count is a lie.
                if number > self.rest.len() as u64 {
                    return None;
                }
                Value::Array(
                    (0..number)
                        .map(|_| self.value(depth))
                        .collect::<Option<_>>()?,
                )
            }
            Tag::Table => self.table(number, depth)?,
            Tag::Digits => self.digits(number)?,
            Tag::Object => {
                let mut map = Map::new();
                for _ in 0..number {
                    let name = self.name()?;
                    map.insert(name, self.value(depth)?);
                }
                Value::Object(map)
            }
            Tag::Sixtyfourths | Tag::HundredthsMm | Tag::Thousandths => {
                let grid = GRIDS.iter().find(|grid| grid.tag == tag)?;
                Value::from((grid.length_mm)(unfold_sign(number)))
            }
        })
    }

    /// Nothing once more was made than any design has.
    fn spend(&mut self, values: u64) -> Option<()> {
        self.values_left = self.values_left.checked_sub(values)?;
        Some(())
    }

    fn digits(&mut self, count: u64) -> Option<Value> {
        let width = u64::from(self.byte()?);
        if !(1..=5).contains(&width) {
            return None;
        }
        self.spend(count)?;
        let packed = self.take(count.checked_mul(width)?.div_ceil(8))?;
        let digit = |place: u64| {
            (0..width)
                .map(|bit| place * width + bit)
                .enumerate()
                .map(|(bit, at)| u64::from(packed[(at / 8) as usize] >> (at % 8) & 1) << bit)
                .sum::<u64>()
        };
        Some((0..count).map(digit).collect())
    }

    fn table(&mut self, count: u64, depth: u32) -> Option<Value> {
        // No design has a list so long; a larger count is a lie.
        if count > 4096 {
            return None;
        }
        self.spend(count)?;
        let mut items = vec![Map::new(); count as usize];
        for _ in 0..self.number()? {
            let name = self.name()?;
            let how = self.byte()?;
            let changes = match how {
                WHERE_IT_CHANGES => self.take(count.div_ceil(8))?.to_vec(),
                ONE_FOR_ALL => vec![0xff; count.div_ceil(8) as usize],
                ALL_OF_THEM => vec![0; count.div_ceil(8) as usize],
                _ => return None,
            };
            let mut last: Option<Value> = None;
            for (place, item) in items.iter_mut().enumerate() {
                let repeats = changes[place / 8] >> (place % 8) & 1 == 1;
                let value = match last.take().filter(|_| repeats) {
                    Some(value) => {
                        self.spend(values_in(&value))?;
                        value
                    }
                    None => self.value(depth)?,
                };
                item.insert(name.clone(), value.clone());
                last = Some(value);
            }
        }
        Some(Value::Array(items.into_iter().map(Value::Object).collect()))
    }

    fn name(&mut self) -> Option<String> {
        match self.number()? {
            0 => match self.tagged()? {
                (Tag::Text, length) => self.text(length),
                _ => None,
            },
            number => {
                let position = usize::try_from(number - 1).ok()?;
                DICTIONARY.get(position).map(|word| (*word).to_owned())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::field::{FIELDS, Kind};
    use serde_json::json;

    #[test]
    fn the_largest_design_is_far_from_what_a_link_may_open_to() {
        let most = crate::design::field::most_of;
        let mut fullest = decode(crate::design::example::ALL[1].link).unwrap().0;
        let vessel = fullest.vessel.as_mut().unwrap();
        let mut ring = vessel.rings[0].clone();
        ring.segment_count = most("vessel.rings.*.pattern") as u32;
        ring.pattern = (0..ring.segment_count).map(|at| at % 3).collect();
        ring.measured = Some(crate::design::Measured::nothing());
        let mut stripes = crate::design::StripeChoice::of([0, 1], 3.0);
        stripes.layers = vec![stripes.layers[0].clone(); most(key::STRIPE_LAYERS)];
        ring.stripes = Some(stripes);
        ring.out_of_true = Some(crate::design::OutOfTrue::nothing());
        vessel.rings = vec![ring; most("vessel.rings")];
        let values = values_in(&design::read::to_value(&fullest));
        assert!((70_000..MOST_VALUES / 4).contains(&values), "{values}");
    }

    #[test]
    fn a_short_link_that_would_fill_all_memory_is_refused() {
        let bomb = include_bytes!("../../fuzz/corpus/link/a-piece-as-large-as-memory");
        let mut reader = Reader {
            rest: bomb,
            values_left: MOST_VALUES,
        };
        assert_eq!(reader.value(DEEPEST), None);
        assert!(
            reader.values_left < MOST_VALUES / 2,
            "it was read far enough"
        );
    }

    /// A name without a number would be written out in every link.
    #[test]
    fn every_field_has_its_place_in_the_dictionary() {
        for field in FIELDS {
            let words = match field.kind {
                Kind::Choice(words) => words,
                _ => &[],
            };
            let names = field.key.split('.').filter(|name| *name != "*");
            for word in names.chain(words.iter().copied()) {
                assert!(DICTIONARY.contains(&word), "{word} of {}", field.key);
            }
            assert!(!field.label.is_empty(), "{}", field.key);
        }
    }

    #[test]
    fn the_checksum_is_the_published_one() {
        // Check value of CRC-16/XMODEM in the catalogue of parametrised CRC
        // algorithms (G. Cook); value from memory.
        assert_eq!(checksum(b"123456789"), 0x31c3);
    }

    #[test]
    fn a_design_comes_back_to_the_bit() {
        for language in ["en-US", "de"] {
            let mut design = Design::starting(language);
            design.name = "Fruit bowl “for the club” — Größe 2 <script>".to_owned();
            design.shop.price = Some(12.345_678);
            design.ring.wall_mm = 0.1 + 0.2;
            design.unknown.insert(
                "later".into(),
                json!([1, -70_000, null, true, {"x": "wall"}]),
            );
            let link = encode(&design);
            assert_eq!(decode(&link), Ok((design, vec![])), "{link}");
            assert!(
                link.chars()
                    .all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_')
            );
        }
        let mut vessel = crate::edit::start::begin(&Design::default(), "vase", 254.0, 300.0);
        vessel = crate::edit::vessel::repeat(&vessel, 3, 1, crate::edit::vessel::Repeat::Every(3));
        assert_eq!(decode(&encode(&vessel)), Ok((vessel, vec![])));
        assert!(
            encode(&Design::default()).len() < 180,
            "{}",
            encode(&Design::default()).len()
        );
    }

    #[test]
    fn an_injured_link_is_refused_and_never_panics() {
        let link = encode(&Design::default());
        for end in 0..link.len() {
            assert!(decode(&link[..end]).is_err(), "cut at {end}");
        }
        for at in PREFIX.len()..link.len() {
            let mut edited = link.clone().into_bytes();
            edited[at] = if edited[at] == b'A' { b'B' } else { b'A' };
            let edited = String::from_utf8(edited).unwrap();
            assert!(decode(&edited).is_err(), "edited at {at}");
        }
        let newer = decode("r2AAAA").unwrap_err();
        assert_eq!(newer.reason, Reason::Newer);
        assert_eq!(
            decode("places/ring").unwrap_err().reason,
            Reason::BrokenLink
        );
        assert!(decode(&"A".repeat(100_000)).is_err());
    }

    /// Packed bytes with a true checksum but a lie inside.
    #[test]
    fn a_forged_link_is_refused() {
        for lie in [
            &[0xaf, 0xff, 0xff, 0xff, 0x7f][..],
            &[0xbf, 0xff, 0xff, 0xff, 0x7f],
            &[0x8f, 0xff, 0x7f],
            &[0xf0],
            &[0x7f],
            &[0xa1; 64],
            &[0xff; 40],
        ] {
            let mut bytes = lie.to_vec();
            bytes.extend(checksum(lie).to_be_bytes());
            let link = format!("{PREFIX}{}", Base64UrlUnpadded::encode_string(&bytes));
            assert!(decode(&link).is_err(), "{lie:x?}");
        }
    }
}
