//! What a step of undo did, in a few words: `ring 3 Walnut, black`, `Segments 24`.

use crate::design::field::{FIELDS, Field, Kind, at, expand};
use crate::design::read::to_value;
use crate::design::{Design, PointChoice, StackRing, Vessel};
use crate::edit::inlay::partner;
use crate::edit::variation::Ways;
use crate::edit::{SCALED, scaled_length_mm};
use crate::show::words::{self, Word};
use crate::units::kept::Kept;
use crate::units::length::{Unit, worked_out_text};
use serde_json::Value;

/// Says what makes the second design of the first; empty where nothing does.
pub fn step(before: &Design, after: &Design) -> String {
    match (&before.vessel, &after.vessel) {
        (None, Some(_)) => return words::DID_BEGIN.text.to_owned(),
        (Some(_), None) => return words::DID_NO_VESSEL.text.to_owned(),
        (Some(one), Some(other)) => {
            let sized = scaled(one, other).map(|field| said_of_size(field, other, after.unit));
            let paired = || in_pair(one, other).map(|word| said_of_pair(word, before, after));
            if let Some(said) = sized.or_else(paired).or_else(|| in_vessel(one, other)) {
                return said;
            }
        }
        (None, None) => {}
    }
    let lists = [
        (before.woods.len(), after.woods.len(), words::DID_OWN_WOODS),
        (board_count(before), board_count(after), words::DID_BOARDS),
    ];
    let list = lists.iter().find(|(one, other, _)| one != other);
    if let Some((_, _, word)) = list {
        return word.text.to_owned();
    }
    in_fields(before, after)
}

/// How much a point may stand beside its place in a curve that was scaled as a whole, by
/// rounding.
const ROUNDED_MM: f64 = 0.011;

/// The field that scaled the whole outline, where one did.
fn scaled(one: &Vessel, other: &Vessel) -> Option<&'static Field> {
    let is_scaled = |of: fn(&PointChoice) -> f64| {
        let [from, to] = [one, other].map(|it| it.points.iter().map(of).fold(0.0, f64::max));
        let mut pairs = one.points.iter().zip(&other.points);
        from > 0.0
            && (to - from).abs() > ROUNDED_MM
            && pairs.all(|(a, b)| (of(b) - of(a) * to / from).abs() <= ROUNDED_MM)
    };
    let is_kept = |of: fn(&PointChoice) -> f64| {
        let mut pairs = one.points.iter().zip(&other.points);
        pairs.all(|(a, b)| (of(b) - of(a)).abs() < 1e-9)
    };
    let height = |it: &PointChoice| it.height_mm;
    let radius = |it: &PointChoice| it.radius_mm;
    let key = match one.points.len() == other.points.len() {
        true if is_scaled(height) && is_kept(radius) => "vessel.height_mm",
        true if is_scaled(radius) && is_kept(height) => "vessel.diameter_mm",
        _ => return None,
    };
    SCALED.iter().find(|field| field.key == key)
}

fn said_of_size(field: &Field, vessel: &Vessel, unit: Unit) -> String {
    let length_mm = scaled_length_mm(field.key, vessel);
    format!("{} {}", field.label, worked_out_text(length_mm, unit))
}

/// What a pair of sets of slots is called where a change of one went for the other too, and for
/// nothing else.
fn in_pair(one: &Vessel, other: &Vessel) -> Option<Word> {
    let sets = one.slot_sets.iter().zip(&other.slot_sets).enumerate();
    let changed = sets.filter(|(_, (one, other))| one != other);
    let places: Vec<usize> = changed.map(|(place, _)| place).collect();
    let is_all = Vessel {
        slot_sets: one.slot_sets.clone(),
        ..other.clone()
    } == *one;
    let [first, second] = places[..] else {
        return None;
    };
    let partner = partner(one, first).filter(|it| it.0 == second);
    if !is_all || one.slot_sets.len() != other.slot_sets.len() {
        return None;
    }
    partner.map(|(_, ways)| match ways {
        Ways::Zigzag => words::DID_BOTH_ZIGZAG,
        _ => words::DID_BOTH_CROSSING,
    })
}

fn said_of_pair(word: Word, before: &Design, after: &Design) -> String {
    let layers = |design: &Design| -> Vec<usize> {
        let sets = design.vessel.iter().flat_map(|it| &it.slot_sets);
        sets.map(|set| set.layers.len()).collect()
    };
    let said = if layers(before) == layers(after) {
        in_fields(before, after)
    } else {
        words::DID_STRIP_LAYERS.text.to_owned()
    };
    words::filled(word, &[&said])
}

fn board_count(design: &Design) -> usize {
    design.rack.as_ref().map_or(0, |rack| rack.boards.len())
}

fn in_vessel(one: &Vessel, other: &Vessel) -> Option<String> {
    let added = other.woods.iter().find(|wood| !one.woods.contains(wood));
    let removed = one.woods.iter().find(|wood| !other.woods.contains(wood));
    if one.woods.len() != other.woods.len() {
        return match (added, removed) {
            (Some(wood), _) => Some(words::step_added(wood)),
            (_, Some(wood)) => Some(words::step_removed(wood)),
            _ => None,
        };
    }
    if one.rings.len() != other.rings.len() {
        return Some(words::step_ring_count(one, other));
    }
    let mut pairs = one.rings.iter().zip(&other.rings).enumerate();
    let painted = pairs
        .clone()
        .filter(|(_, (one, other))| one.pattern != other.pattern)
        .map(|(place, (one, other))| (place, one, other))
        .collect::<Vec<_>>();
    if pairs
        .clone()
        .any(|(_, (one, other))| one.shares != other.shares)
    {
        return Some(words::DID_SHARES.text.to_owned());
    }
    if let [(place, before, after)] = painted[..] {
        let new = (0..after.segment_count)
            .find(|at| before.wood_of(*at) != after.wood_of(*at))
            .and_then(|at| other.woods.get(after.wood_of(at)));
        return Some(words::step_painted(place, new.map_or("", String::as_str)));
    }
    let turn = |ring: &StackRing| (ring.turn_half_segments, ring.further_deg.to_bits());
    let turned = pairs
        .clone()
        .filter(|(_, (one, other))| turn(one) != turn(other))
        .count();
    if !painted.is_empty() || turned > 1 {
        return Some(words::step_woods_and_turns(painted.len(), turned));
    }
    let is_striped = |(_, (one, other)): (usize, (&StackRing, &StackRing))| {
        one.stripes.is_some() != other.stripes.is_some()
    };
    if pairs.clone().any(is_striped) {
        return Some(words::DID_STRIPES.text.to_owned());
    }
    let mut sets = one.slot_sets.iter().zip(&other.slot_sets);
    let are_as_many = one.slot_sets.len() == other.slot_sets.len();
    if are_as_many && sets.any(|(one, other)| one.layers.len() != other.layers.len()) {
        return Some(words::DID_STRIP_LAYERS.text.to_owned());
    }
    if !are_as_many || slot_fields_apart(one, other) > 1 {
        return Some(words::DID_SLOTS.text.to_owned());
    }
    let how = |ring: &StackRing| {
        let own = ring.measured.as_ref()?;
        Some((own.outside_across, own.inside_across, ring.segment_count))
    };
    let again = pairs
        .clone()
        .filter(|(_, (one, other))| how(one).zip(how(other)).is_some_and(|(a, b)| a != b));
    if again.count() > 1 {
        return Some(words::DID_MEASURED.text.to_owned());
    }
    if let [Some(one), Some(other)] = [one, other].map(Vessel::common_segment_count)
        && one != other
    {
        return Some(words::segments_each(other));
    }
    let changed = pairs.by_ref().filter(|(_, (one, other))| one != other);
    if changed.count() > 1 {
        return Some(words::DID_RINGS.text.to_owned());
    }
    (one.points != other.points).then(|| words::DID_CURVE.text.to_owned())
}

/// In how many fields the slots differ.
fn slot_fields_apart(one: &Vessel, other: &Vessel) -> usize {
    let sets = one.slot_sets.iter().zip(&other.slot_sets);
    sets.map(|(one, other)| {
        let [one, other] = [one, other].map(Kept::write);
        let fields = one.as_object().into_iter().flatten();
        fields
            .filter(|(key, value)| other.get(*key) != Some(value))
            .count()
    })
    .sum()
}

/// The first field that is another one, with what it holds now.
fn in_fields(before: &Design, after: &Design) -> String {
    let (one, other) = (to_value(before), to_value(after));
    let changed = FIELDS.iter().find_map(|field| {
        let keys = expand(field.key, &other);
        let key = keys
            .into_iter()
            .find(|key| at(&one, key) != at(&other, key))?;
        Some((field, key))
    });
    let Some((field, key)) = changed else {
        return String::new();
    };
    let text = field_text(after, &other, field, &key);
    let label = words::label(&key);
    let ring = key.strip_prefix("vessel.rings.");
    let place = ring.and_then(|rest| rest.split('.').next()?.parse().ok());
    let label = place.map_or_else(|| label.to_owned(), |place| words::about_ring(place, label));
    format!("{label} {text}").trim().to_owned()
}

/// What a field holds, as it is read.
pub(super) fn field_text(design: &Design, whole: &Value, field: &Field, key: &str) -> String {
    let text = design.entry_text_in(whole, field, key);
    match field.kind {
        Kind::Choice(_) | Kind::Flag => words::by_key(&format!("choice.{text}")).to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{start, type_in, vessel, wood};

    #[test]
    fn a_step_says_what_it_did() {
        let ring = Design::default();
        let counted = type_in(&ring, "ring.segment_count", "24").unwrap();
        assert_eq!(step(&ring, &counted), "Segments 24");
        assert_eq!(step(&ring, &ring), "");
        let unit = type_in(&ring, "unit", "millimeter").unwrap();
        assert_eq!(step(&ring, &unit), "Unit Millimeters");
        let bowl = start::begin(&ring, "bowl", 254.0, 101.6);
        assert_eq!(step(&ring, &bowl), "a shape begun");
        let walnut = vessel::add_wood(&bowl, "Walnut, black");
        assert_eq!(step(&bowl, &walnut), "Walnut, black added");
        assert_eq!(step(&walnut, &bowl), "Walnut, black removed");
        let painted = vessel::repeat(&walnut, 2, 2, vessel::Repeat::All);
        assert_eq!(step(&walnut, &painted), "ring 3 Walnut, black");
        // Every other ring lies half a segment on: in a column none does.
        let column = vessel::spiral(&painted, 2, 0);
        let above = column.vessel.as_ref().unwrap().rings.len() - 3;
        assert_eq!(
            step(&painted, &column),
            format!("woods of {above} rings, {} rings turned", above.div_ceil(2))
        );
        assert!(step(&column, &painted).ends_with(" turned"));
        let higher = type_in(&bowl, "vessel.rings.1.height_mm", "1").unwrap();
        assert!(step(&bowl, &higher).starts_with("Ring 2: "));
        let fewer = vessel::remove_ring(&bowl, 1);
        let count = bowl.vessel.as_ref().unwrap().rings.len();
        assert_eq!(
            step(&bowl, &fewer),
            format!("{count} to {} rings", count - 1)
        );
        let lowest = type_in(&bowl, "vessel.rings.0.height_mm", "5/8").unwrap();
        assert!(
            step(&bowl, &lowest).starts_with("Ring 1: "),
            "its plies only go along"
        );
        let floor = type_in(&bowl, "vessel.floor_mm", "1/4").unwrap();
        assert_eq!(step(&bowl, &floor), "Floor height above the foot 1/4");
        for (key, typed, said) in [
            ("vessel.diameter_mm", "12", "Greatest diameter 12"),
            ("vessel.height_mm", "6 1/2", "Height 6 1/2"),
        ] {
            let sized = type_in(&bowl, key, typed).unwrap();
            assert_eq!(step(&bowl, &sized), said);
            assert_eq!(
                step(&sized, &bowl).split(' ').next(),
                said.split(' ').next()
            );
        }
        let pulled = vessel::nudge_point(&bowl, 2, 0.0, 1.0);
        assert_eq!(step(&bowl, &pulled), "the curve");
        let own = wood::add_own(&bowl, "Driftwood");
        assert_eq!(step(&bowl, &own), "own figures of a wood");
    }
}
