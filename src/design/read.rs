//! A design as JSON and as typed text: one way in for files, links, what the device
//! kept, and the page's fields.

use crate::design::field::{self, FIELDS, Field, Kind, LISTS, at, at_mut, key};
use crate::design::trouble::{Reason, Trouble};
use crate::design::{
    Avoid, BaseChoice, Bench, Board, Climate, Design, FORM, FinishChoice, HoleBy, MadeOf, Measured,
    OutOfTrue, OutlineIs, OwnWood, Ply, PointChoice, Rack, SlotSet, StackRing, StripeChoice,
    StripeLayer, Vessel,
};
use crate::units::kept::{Kept, part};
use crate::units::length::Unit;
use serde_json::{Map, Value};
use std::borrow::Cow;

impl Design {
    /// Reads a design from any JSON: a file, a link, or what the device kept. Every
    /// field is taken by itself: a bad one is replaced by the starting value and
    /// reported, and spoils nothing else. Unknown names are kept outside of lists.
    ///
    /// # Errors
    /// When the value is not an object, or has none of a design's fields.
    pub fn restore(value: &Value) -> Result<(Design, Vec<Trouble>), Trouble> {
        let value = &with_rings_of_old(value);
        let not_a_design = || Trouble::at(key::DESIGN, Reason::NotADesign);
        let given = value.as_object().ok_or_else(not_a_design)?;
        let form = given
            .get("form")
            .and_then(Value::as_u64)
            .ok_or_else(not_a_design)?;
        if !given.get("ring").is_some_and(Value::is_object) {
            return Err(not_a_design());
        }
        let mut troubles = Vec::new();
        if form > u64::from(FORM) {
            troubles.push(Trouble::at(key::DESIGN, Reason::Newer));
        }
        let mut whole = to_value(&Design::default());
        match given.get("vessel") {
            None | Some(Value::Null) => {}
            Some(Value::Object(_)) => put(&mut whole, key::VESSEL, Vessel::blank().write()),
            Some(_) => troubles.push(Trouble::at(key::VESSEL, Reason::WrongKind)),
        }
        size_lists(&mut whole, value, &mut troubles);
        misshapen(&mut whole, value, &mut troubles);
        for field in FIELDS {
            field::each(
                field.key,
                &mut whole,
                value,
                &mut |place, found, at| match field.check(found) {
                    Ok(checked) => *place = checked,
                    Err(reason) => {
                        troubles.push(Trouble::at(field::key_at(field.key, at), reason));
                    }
                },
            );
        }
        no_such_woods(&mut whole, &mut troubles);
        let mut unknown = whole
            .as_object()
            .map(|known| unknown_in(given, known))
            .unwrap_or_default();
        // A known part that is `null` is one that nothing was said of.
        unknown.retain(|name, _| !is_part(name));
        let mut design = from_value(&whole).ok_or_else(not_a_design)?;
        design.unknown = unknown;
        design.form = u32::try_from(form).unwrap_or(u32::MAX).max(FORM);
        Ok((design, troubles))
    }

    /// The design with one field set from typed text.
    ///
    /// # Errors
    /// When the text cannot be taken; the design stays as it is.
    pub fn with_typed(&self, key: &str, typed: &str) -> Result<Design, Trouble> {
        let Some(field) = field::find(key) else {
            return Err(Trouble::at(key::DESIGN, Reason::WrongKind));
        };
        let at_key = |reason| Trouble::at(key.to_owned(), reason);
        let value = field.read(typed, self.unit).map_err(at_key)?;
        let mut whole = if key.starts_with("bench.") {
            to_value(&self.with_bench())
        } else {
            to_value(self)
        };
        // Typing into a part that was not said yet says the rest as usual.
        for (pattern, usual) in PARTS {
            for part in field::expand(pattern, &whole) {
                if key
                    .strip_prefix(&part)
                    .is_some_and(|rest| rest.starts_with('.'))
                {
                    add_part(&mut whole, &part, usual());
                }
            }
        }
        if at(&whole, key).is_none() {
            return Err(at_key(Reason::WrongKind));
        }
        if let Some(reason) = no_such_wood(&whole, key, &value) {
            return Err(at_key(reason));
        }
        put(&mut whole, key, value);
        // Whichever of wall, inside diameter and strip was typed last is the one meant.
        match field.key {
            key::WALL => put(&mut whole, key::HOLE_BY, "wall".into()),
            key::INSIDE_DIAMETER => put(&mut whole, key::HOLE_BY, "inside_diameter".into()),
            key::STRIP_WIDTH => put(&mut whole, key::HOLE_BY, "strip_width".into()),
            _ => {}
        }
        let mut design =
            from_value(&whole).ok_or_else(|| Trouble::at(field.key, Reason::WrongKind))?;
        design.unknown.clone_from(&self.unknown);
        Ok(design)
    }

    /// What the entry field with this key holds, as text; empty for an unknown key.
    pub fn entry_text(&self, key: &str) -> String {
        field::find(key).map_or_else(String::new, |field| {
            self.entry_text_in(&to_value(self), field, key)
        })
    }

    /// The same, from the design's JSON, for reading many fields in turn.
    pub(crate) fn entry_text_in(&self, whole: &Value, field: &Field, key: &str) -> String {
        // Those of wall, inside diameter and strip that follow show what they came to.
        let hole_by = self.ring.hole_by;
        let followed = match field.key {
            // A kept wall may have followed a strip once.
            key::WALL => Some(self.ring.outside_diameter_mm / 2.0 - self.inside_radius_mm()),
            key::INSIDE_DIAMETER if hole_by != HoleBy::InsideDiameter => {
                Some(2.0 * self.inside_radius_mm())
            }
            key::STRIP_WIDTH if hole_by != HoleBy::StripWidth => {
                let segment = self.wanted_ring().segment().ok();
                return segment.map_or_else(String::new, |it| {
                    crate::units::length::worked_out_text(it.strip_width_mm, self.unit)
                });
            }
            _ => None,
        };
        if let Some(length_mm) = followed {
            return crate::units::length::worked_out_text(length_mm, self.unit);
        }
        let value = at(whole, key).unwrap_or(&Value::Null);
        match (field.kind, value) {
            (_, Value::String(text)) => text.clone(),
            (Kind::Length { .. }, Value::Number(_)) => {
                crate::units::length::entry_text(value.as_f64().unwrap_or(0.0), self.unit)
            }
            (Kind::Temperature { .. }, Value::Number(_)) => crate::units::length::decimal(
                self.unit.shown_degrees(value.as_f64().unwrap_or(0.0)),
                4,
            ),
            (_, Value::Number(_)) => {
                crate::units::length::decimal(value.as_f64().unwrap_or(0.0), 4)
            }
            (_, Value::Bool(is_set)) => (if *is_set { "yes" } else { "no" }).to_owned(),
            (Kind::Lengths { .. }, Value::Array(lengths)) => lengths
                .iter()
                .map(|each| {
                    crate::units::length::entry_text(each.as_f64().unwrap_or(0.0), self.unit)
                })
                .collect::<Vec<_>>()
                .join("; "),
            (Kind::Shares | Kind::Counts { .. }, Value::Array(shares)) => {
                let each = shares.iter().map(Value::to_string);
                each.collect::<Vec<_>>().join(" ")
            }
            _ => String::new(),
        }
    }
}

/// A design as a JSON value, with what a newer version wrote beside it.
pub fn to_value(design: &Design) -> Value {
    let mut whole = Map::new();
    let mut add = |name: &str, value: Value| whole.insert(name.to_owned(), value);
    add("form", design.form.write());
    add("name", design.name.write());
    add("unit", design.unit.write());
    add("ring", design.ring.write());
    add("allowance", design.allowance.write());
    add("shop", design.shop.write());
    add("dry_fit", design.dry_fit.write());
    add("stave", design.stave.write());
    add("paper", design.paper.write());
    add("vessel", design.vessel.write());
    // What was not said is left out: links of designs without it stay short.
    if !design.woods.is_empty() {
        add("woods", design.woods.write());
    }
    if let Some(climate) = &design.climate {
        add("climate", climate.write());
    }
    if let Some(base) = &design.base {
        add("base", base.write());
    }
    if let Some(rack) = &design.rack {
        add("rack", rack.write());
    }
    if let Some(bench) = &design.bench {
        add("bench", bench.write());
    }
    if let Some(finish) = &design.finish {
        add("finish", finish.write());
    }
    add_missing(&mut whole, &design.unknown);
    Value::Object(whole)
}

/// A part's name, and what it begins as.
type Part = (&'static str, fn() -> Value);

/// Parts that are left out until something is said of them, and what they then begin as.
const PARTS: &[Part] = &[
    ("woods", || Value::Array(Vec::new())),
    ("climate", || Climate::usual().write()),
    ("base", || BaseChoice::of("Maple, sugar", 19.05).write()),
    ("rack", || Rack::empty().write()),
    ("bench", || Bench::usual(Unit::Inch16).write()),
    ("finish", || FinishChoice::later().write()),
    ("vessel.rings.*.measured", || Measured::nothing().write()),
    ("vessel.rings.*.stripes", || {
        StripeChoice::of([0, 0], 6.0).write()
    }),
    ("vessel.rings.*.out_of_true", || {
        OutOfTrue::nothing().write()
    }),
];

fn is_part(name: &str) -> bool {
    PARTS.iter().any(|part| part.0 == name)
}

/// Adds a part that is not there yet.
fn add_part(whole: &mut Value, key: &str, usual: Value) {
    let (owner, name) = key.rsplit_once('.').unwrap_or(("", key));
    let owner = if owner.is_empty() {
        Some(whole)
    } else {
        at_mut(whole, owner)
    };
    if let Some(owner) = owner {
        begin_part(owner, name, usual);
    }
}

fn begin_part(owner: &mut Value, name: &str, usual: Value) {
    if let Some(owner) = owner.as_object_mut() {
        let part = owner.entry(name).or_insert(Value::Null);
        if part.is_null() {
            *part = usual;
        }
    }
}

fn from_value(value: &Value) -> Option<Design> {
    let whole = value.as_object()?;
    Some(Design {
        form: part(whole, "form")?,
        name: part(whole, "name")?,
        unit: part(whole, "unit")?,
        ring: part(whole, "ring")?,
        allowance: part(whole, "allowance")?,
        shop: part(whole, "shop")?,
        dry_fit: part(whole, "dry_fit")?,
        stave: part(whole, "stave")?,
        paper: part(whole, "paper")?,
        vessel: part(whole, "vessel")?,
        woods: part(whole, "woods").unwrap_or_default(),
        climate: part(whole, "climate"),
        base: part(whole, "base"),
        rack: part(whole, "rack"),
        bench: part(whole, "bench"),
        finish: part(whole, "finish"),
        unknown: Map::new(),
    })
}

/// Measured rings once stood in a list of their own beside the vessel, and still do in
/// links: they are its rings.
fn with_rings_of_old(value: &Value) -> Cow<'_, Value> {
    let Some(measured) = value.get("measured").and_then(Value::as_array) else {
        return Cow::Borrowed(value);
    };
    let mut value = value.clone();
    // What could not be made rings of now would be at the next reading.
    if let Some(whole) = value.as_object_mut() {
        whole.remove("measured");
    }
    let number = |ring: &Value, name: &str| ring.get(name).and_then(Value::as_f64);
    if !measured.is_empty() && !value.get("vessel").is_some_and(Value::is_object) {
        let wood = value.pointer("/ring/wood").cloned();
        let vessel = Vessel {
            outline_is: OutlineIs::InRings,
            woods: vec![String::new()],
            ..Vessel::blank()
        };
        if let Some(whole) = value.as_object_mut() {
            whole.insert("vessel".to_owned(), vessel.write());
        }
        put(&mut value, "vessel.woods.0", wood.unwrap_or_default());
    }
    let vessel = value.get_mut("vessel").and_then(Value::as_object_mut);
    let rings = vessel.map(|it| it.entry("rings").or_insert(Value::Array(Vec::new())));
    let Some(rings) = rings.and_then(Value::as_array_mut) else {
        return Cow::Owned(value);
    };
    for (place, ring) in measured.iter().enumerate() {
        let is_measured = ring.as_object().is_some_and(|ring| {
            let mut readings = ring.iter().filter(|(name, _)| name.ends_with("_mm"));
            let is_glued = ring.get("is_glued") == Some(&Value::Bool(true));
            is_glued || readings.any(|(_, reading)| !reading.is_null())
        });
        if place == rings.len() && is_measured {
            let mut new = StackRing::plain(number(ring, "height_mm").unwrap_or(20.0), 12);
            new.is_pinned = true;
            new.turn_half_segments = place as u32 % 2;
            if number(ring, "inside_diameter_mm") == Some(0.0) {
                new.made_of = MadeOf::Disc;
            }
            rings.push(new.write());
        }
        let own = rings.get_mut(place).and_then(Value::as_object_mut);
        if let Some(own) = own.filter(|_| is_measured) {
            if let Some(count) = ring.get("segment_count") {
                own.insert("segment_count".to_owned(), count.clone());
            }
            own.insert("measured".to_owned(), ring.clone());
        }
    }
    Cow::Owned(value)
}

/// Adds every part that is given, of the design itself or of things in this list.
fn add_parts(of: &str, whole: &mut Value, given: &Value) {
    for (pattern, usual) in PARTS {
        let (owner, name) = pattern.rsplit_once('.').unwrap_or(("", pattern));
        let mut add = |owner: &mut Value, given: &Value, _: &[usize]| {
            let Some(given) = given.get(name).filter(|it| !it.is_null()) else {
                return;
            };
            let usual = usual();
            if is_like(given, &usual) {
                begin_part(owner, name, usual);
            }
        };
        match owner.strip_suffix(".*") {
            Some(list) if list == of => field::each(owner, whole, given, &mut add),
            None if of.is_empty() => add(whole, given, &[]),
            _ => {}
        }
    }
}

/// Whether both are things with names, or both lists.
fn is_like(one: &Value, other: &Value) -> bool {
    one.is_object() && other.is_object() || one.is_array() && other.is_array()
}

/// Tells of parts, and of things in lists, that have no names.
fn misshapen(whole: &mut Value, given: &Value, troubles: &mut Vec<Trouble>) {
    let mut is_wrong = |pattern: &str, places: &[usize]| {
        let key = field::key_at(pattern, places);
        troubles.push(Trouble::at(key, Reason::WrongKind));
    };
    for (pattern, usual) in PARTS {
        let (owner, name) = pattern.rsplit_once('.').unwrap_or(("", pattern));
        let mut look = |_: &mut Value, given: &Value, places: &[usize]| {
            let found = given.get(name).filter(|it| !it.is_null());
            if found.is_some_and(|it| !is_like(it, &usual())) {
                is_wrong(pattern, places);
            }
        };
        if owner.is_empty() {
            look(whole, given, &[]);
        } else {
            field::each(owner, whole, given, &mut look);
        }
    }
    // A board of no layers was never written: what it was is not known.
    let (board, layers) = key::STRIPE_LAYERS.rsplit_once('.').unwrap_or_default();
    field::each(board, whole, given, &mut |_, board, places| {
        if board.is_object() && board.get(layers).is_none() {
            is_wrong(key::STRIPE_LAYERS, places);
        }
    });
    for list in LISTS.iter().filter(|it| default_thing(it.key).is_object()) {
        field::each(list.key, whole, given, &mut |_, found, places| {
            let mut things = found.as_array().into_iter().flatten();
            if things.any(|it| !it.is_object()) {
                is_wrong(list.key, places);
            }
        });
    }
}

/// The field of a striped board's woods, places in the vessel's list. Slots tell of a wood that
/// is not there as a caution, because their strips can be left out of the piece.
const LAYER_WOOD: &str = "vessel.rings.*.stripes.layers.*.wood";

/// Why a wood is none: the vessel does not have so many.
fn no_such_wood(whole: &Value, key: &str, said: &Value) -> Option<Reason> {
    let woods = at(whole, "vessel.woods").and_then(Value::as_array)?;
    let value = said.as_f64()?;
    let is_wood = field::pattern_of(key) == LAYER_WOOD;
    (is_wood && value >= woods.len() as f64).then(|| Reason::OutOfRange {
        value,
        least: 0.0,
        most: woods.len().saturating_sub(1) as f64,
    })
}

/// Layers of woods that the vessel does not have are of its first one.
fn no_such_woods(whole: &mut Value, troubles: &mut Vec<Trouble>) {
    for key in field::expand(LAYER_WOOD, whole) {
        let reason = at(whole, &key).and_then(|said| no_such_wood(whole, &key, said));
        if let Some(reason) = reason {
            put(whole, &key, Value::from(0));
            troubles.push(Trouble::at(key, reason));
        }
    }
}

/// Makes every list as long as the given one, of default things that are then set
/// field by field.
fn size_lists(whole: &mut Value, given: &Value, troubles: &mut Vec<Trouble>) {
    add_parts("", whole, given);
    for list in LISTS {
        field::each(list.key, whole, given, &mut |place, found, at| {
            if found.is_null() && is_part(list.key) {
                return;
            }
            let mut is_wrong =
                |reason| troubles.push(Trouble::at(field::key_at(list.key, at), reason));
            match found.as_array().map(Vec::len) {
                None => is_wrong(Reason::WrongKind),
                Some(count) if (list.least..=list.most).contains(&count) => {
                    *place = vec![default_thing(list.key); count].into();
                }
                Some(count) => is_wrong(Reason::OutOfRange {
                    value: count as f64,
                    least: list.least as f64,
                    most: list.most as f64,
                }),
            }
        });
        // Parts of things in lists have their place only when those are sized.
        add_parts(list.key, whole, given);
    }
}

fn default_thing(list_key: &str) -> Value {
    match list_key {
        key::POINTS => PointChoice {
            height_mm: 0.0,
            radius_mm: 0.0,
            is_corner: false,
        }
        .write(),
        key::RINGS => StackRing::plain(20.0, 12).write(),
        key::SLOT_SETS => SlotSet::plain(1, 1).write(),
        key::STRIPE_LAYERS => StripeLayer {
            wood: 0,
            thickness_mm: 6.0,
        }
        .write(),
        key::STRIP_LAYERS => StripeLayer {
            wood: 0,
            thickness_mm: 1.0,
        }
        .write(),
        "vessel.woods" => Value::from(""),
        "woods" => OwnWood::called("").write(),
        "base.plies" => Ply {
            thickness_mm: 6.35,
            wood: String::new(),
        }
        .write(),
        key::BOARDS => Board::usual("").write(),
        "rack.boards.*.avoid" => Avoid::length(0.0, 0.0).write(),
        _ => Value::from(0),
    }
}

fn put(whole: &mut Value, key: &str, value: Value) {
    if let Some(place) = at_mut(whole, key) {
        *place = value;
    }
}

/// Adds every name, at any depth, that is not there yet.
fn add_missing(whole: &mut Map<String, Value>, more: &Map<String, Value>) {
    for (name, value) in more {
        match (whole.get_mut(name), value) {
            (None, _) => {
                whole.insert(name.clone(), value.clone());
            }
            (Some(Value::Object(inner)), Value::Object(more)) => add_missing(inner, more),
            _ => {}
        }
    }
}

/// The names, at any depth, that this version does not know.
fn unknown_in(given: &Map<String, Value>, known: &Map<String, Value>) -> Map<String, Value> {
    let mut unknown = Map::new();
    for (name, value) in given {
        match (known.get(name), value) {
            (None, _) => {
                unknown.insert(name.clone(), value.clone());
            }
            (Some(Value::Object(known)), Value::Object(given)) => {
                let inner = unknown_in(given, known);
                if !inner.is_empty() {
                    unknown.insert(name.clone(), Value::Object(inner));
                }
            }
            _ => {}
        }
    }
    unknown
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn every_field_has_a_place_in_the_design() {
        let mut design = Design::default();
        let mut vessel = Vessel::blank();
        vessel.rings = vec![StackRing {
            measured: Some(Measured::nothing()),
            stripes: Some(StripeChoice::of([0, 0], 6.0)),
            out_of_true: Some(OutOfTrue::nothing()),
            ..StackRing::plain(20.0, 12)
        }];
        design.vessel = Some(vessel);
        design.woods = vec![OwnWood::called("Driftwood")];
        design.climate = Some(Climate::usual());
        design.base = Some(BaseChoice::of("Driftwood", 12.0));
        let mut board = Board::usual("Maple, sugar");
        board.avoid.push(Avoid::length(10.0, 20.0));
        design.rack = Some(Rack {
            boards: vec![board],
            ..Rack::empty()
        });
        let whole = to_value(&design.with_bench().with_finish());
        for key in FIELDS
            .iter()
            .flat_map(|field| field::expand(field.key, &whole))
        {
            let value = at(&whole, &key).unwrap_or_else(|| panic!("{key}"));
            let field = field::find(&key).unwrap();
            assert_eq!(field.check(value).as_ref(), Ok(value), "{key}");
        }
    }

    #[test]
    fn both_starting_designs_come_back_from_their_own_json() {
        for language in ["en-US", "de-DE"] {
            let design = Design::starting(language);
            let (back, troubles) = Design::restore(&to_value(&design)).unwrap();
            assert_eq!((back, troubles), (design, vec![]));
        }
    }

    /// Kept as something unknown, it would be complained of each time that its file opens.
    #[test]
    fn a_part_that_is_null_is_one_that_was_not_said() {
        for name in ["woods", "climate", "base", "rack", "bench", "finish"] {
            let mut value = to_value(&Design::default());
            value[name] = Value::Null;
            let read = Design::restore(&value).unwrap();
            assert_eq!(read, (Design::default(), vec![]), "{name}");
        }
        let mut value = to_value(&Design::default());
        value["vessel"] = Vessel::blank().write();
        value["vessel"]["points"] = Value::Null;
        let (_, troubles) = Design::restore(&value).unwrap();
        assert_eq!(troubles, [Trouble::at(key::POINTS, Reason::WrongKind)]);
    }

    /// Each bad value of a striped board is told at its field and spoils nothing else.
    #[test]
    fn what_is_wrong_with_a_striped_board_is_told() {
        let layer =
            |wood: u32, thickness_mm: f64| json!({ "wood": wood, "thickness_mm": thickness_mm });
        let sound = json!({
            "layers": [layer(0, 4.0), layer(1, 5.0)],
            "slant_deg": 30.0, "laid": "slant", "is_mirrored": true, "shift_pct": 25.0,
        });
        let read = |stripes: &Value| {
            let mut value = to_value(&Design::default());
            let vessel = Vessel {
                woods: vec!["Ash".to_owned(), "Wenge".to_owned()],
                rings: vec![StackRing::plain(20.0, 12), StackRing::plain(21.0, 14)],
                ..Vessel::blank()
            };
            value["vessel"] = vessel.write();
            value["vessel"]["rings"][1]["stripes"] = stripes.clone();
            let (design, troubles) = Design::restore(&value).unwrap();
            let rings = design.vessel.unwrap().rings;
            assert_eq!((rings[1].height_mm, rings[1].segment_count), (21.0, 14));
            assert_eq!(rings[0], StackRing::plain(20.0, 12));
            let told = troubles.into_iter().map(|it| it.field.into_owned());
            (rings[1].stripes.clone(), told.collect::<Vec<_>>())
        };
        let (whole, told) = read(&sound);
        let whole = whole.unwrap();
        assert!(told.is_empty() && whole.layers.len() == 2, "{told:?}");
        for none in [json!(5), json!("x"), json!([]), json!(false)] {
            let told_at = vec!["vessel.rings.1.stripes".to_owned()];
            assert_eq!(read(&none), (None, told_at), "{none}");
        }
        assert_eq!(read(&Value::Null), (None, vec![]));
        for (part, bad, at) in [
            ("layers", json!([]), "layers"),
            ("layers", json!(3), "layers"),
            ("layers", json!([1, 2]), "layers"),
            ("layers", json!(vec![layer(0, 3.0); 40]), "layers"),
            (
                "layers",
                json!([layer(0, 0.0), layer(1, 5.0)]),
                "layers.0.thickness_mm",
            ),
            (
                "layers",
                json!([layer(0, 4.0), layer(2, 5.0)]),
                "layers.1.wood",
            ),
            (
                "layers",
                json!([layer(99, 4.0), layer(1, 5.0)]),
                "layers.0.wood",
            ),
            ("slant_deg", json!(90.5), "slant_deg"),
            ("slant_deg", Value::Null, "slant_deg"),
            ("laid", json!("zig"), "laid"),
            ("is_mirrored", json!(1), "is_mirrored"),
            ("shift_pct", json!(-1), "shift_pct"),
        ] {
            let mut stripes = sound.clone();
            stripes[part] = bad;
            let (found, told) = read(&stripes);
            assert_eq!(told, [format!("vessel.rings.1.stripes.{at}")], "{stripes}");
            // The other parts are as they were said.
            let found = found.unwrap();
            assert!(
                part == "layers" || found.layers == whole.layers,
                "{stripes}"
            );
            assert!(
                part == "slant_deg" || (found.slant_deg - 30.0).abs() < 1e-9,
                "{stripes}"
            );
            assert!(part == "laid" || found.laid == whole.laid, "{stripes}");
            assert!(part == "is_mirrored" || found.is_mirrored, "{stripes}");
            assert!(
                part == "shift_pct" || (found.shift_pct - 25.0).abs() < 1e-9,
                "{stripes}"
            );
        }
        let mut bare = sound;
        bare.as_object_mut().unwrap().remove("layers");
        let (_, told) = read(&bare);
        assert_eq!(told, ["vessel.rings.1.stripes.layers"]);
    }

    /// Parts that are no parts are told, as lists that are none are.
    #[test]
    fn what_should_have_names_and_has_none_is_told() {
        for name in ["climate", "base", "rack", "bench", "finish", "woods"] {
            let mut value = to_value(&Design::default());
            value[name] = json!("x");
            let (design, troubles) = Design::restore(&value).unwrap();
            assert_eq!(troubles, [Trouble::at(name, Reason::WrongKind)], "{name}");
            assert_eq!(design, Design::default());
            assert!(field::label(name).is_some(), "{name}");
        }
        let mut value = to_value(&Design::default());
        value["vessel"] = json!({ "rings": [{ "measured": 3 }, 4], "woods": ["Ash"] });
        let (_, troubles) = Design::restore(&value).unwrap();
        let told: Vec<&str> = troubles.iter().map(|it| it.field.as_ref()).collect();
        assert_eq!(told, ["vessel.rings.0.measured", "vessel.rings"]);
    }

    #[test]
    fn readings_of_before_become_rings_at_the_first_reading_or_never() {
        let read = |vessel: Value| {
            let mut value = to_value(&Design::default());
            value["vessel"] = vessel;
            value["measured"] = json!([{ "outside_diameter_mm": 200.0, "height_mm": 20.0 }]);
            let (design, _) = Design::restore(&value).unwrap();
            let (again, _) = Design::restore(&to_value(&design)).unwrap();
            assert_eq!(again, design);
            design.vessel.map_or(0, |vessel| vessel.rings.len())
        };
        assert_eq!(read(Value::Null), 1);
        assert_eq!(read(json!({})), 1);
        assert_eq!(read(json!({ "rings": [] })), 1);
        assert_eq!(read(json!({ "rings": "none" })), 0);
    }

    #[test]
    fn a_bad_field_spoils_nothing_else() {
        let mut value = to_value(&Design::default());
        value["ring"]["segment_count"] = json!(10_000);
        value["ring"]["wall_mm"] = json!("thick");
        value["ring"]["height_mm"] = json!(31.5);
        value["unit"] = json!("cubit");
        let (design, troubles) = Design::restore(&value).unwrap();
        assert_eq!(design.ring.segment_count, 12);
        assert!((design.ring.height_mm - 31.5).abs() < 1e-12);
        let fields: Vec<_> = troubles
            .iter()
            .map(|trouble| trouble.field.clone())
            .collect();
        assert_eq!(fields, [key::UNIT, key::WALL, key::SEGMENT_COUNT]);
    }

    #[test]
    fn a_newer_design_is_read_and_its_own_names_are_kept() {
        let mut value = to_value(&Design::default());
        value["form"] = json!(7);
        value["handle"] = json!({ "length_mm": 120 });
        value["ring"]["bevel"] = json!([1, 2]);
        let (design, troubles) = Design::restore(&value).unwrap();
        assert_eq!(troubles, [Trouble::at(key::DESIGN, Reason::Newer)]);
        let design = design.with_typed(key::WALL, "1").unwrap();
        assert_eq!(to_value(&design)["handle"], json!({ "length_mm": 120 }));
        assert_eq!(to_value(&design)["ring"]["bevel"], json!([1, 2]));
        assert_eq!(design.form, 7);
    }

    #[test]
    fn what_is_not_a_design_is_refused() {
        for value in [
            json!(null),
            json!([1]),
            json!({}),
            json!({ "form": 1, "ring": 3 }),
            json!("x"),
        ] {
            assert!(Design::restore(&value).is_err(), "{value}");
        }
    }

    #[test]
    fn typing_the_wall_or_the_hole_says_which_counts() {
        let design = Design::default()
            .with_typed(key::INSIDE_DIAMETER, "8")
            .unwrap();
        assert_eq!(design.ring.hole_by, HoleBy::InsideDiameter);
        assert_eq!(design.entry_text(key::WALL), "1");
        let design = design.with_typed(key::WALL, "1/2").unwrap();
        assert_eq!(design.entry_text(key::INSIDE_DIAMETER), "9");
    }

    #[test]
    fn rubbish_is_refused_at_its_field() {
        let design = Design::default();
        for (key, typed) in [
            (key::OUTSIDE_DIAMETER, "0"),
            (key::OUTSIDE_DIAMETER, "-4"),
            (key::OUTSIDE_DIAMETER, "NaN"),
            (key::OUTSIDE_DIAMETER, "1e300"),
            (key::OUTSIDE_DIAMETER, ""),
            (key::SEGMENT_COUNT, "2"),
            (key::SEGMENT_COUNT, "10000"),
            (key::SEGMENT_COUNT, "12.5"),
            (key::SEGMENT_COUNT, "twelve"),
            (key::UNIT, "cubit"),
            (key::STAVE_LEAN, "91"),
        ] {
            assert_eq!(
                design.with_typed(key, typed).unwrap_err().field,
                key,
                "{typed}"
            );
        }
        assert!(design.with_typed("no.such", "1").is_err());
        assert_eq!(design.with_typed(key::PRICE, " ").unwrap().shop.price, None);
    }

    #[test]
    fn switching_the_unit_loses_nothing() {
        let design = Design::default()
            .with_typed(key::WALL, "19.123 mm")
            .unwrap();
        let there = design.with_typed(key::UNIT, "millimeter").unwrap();
        let back = there.with_typed(key::UNIT, "inch_16").unwrap();
        assert_eq!(back, design);
        assert_eq!(there.entry_text(key::WALL), "19.123");
    }
}
