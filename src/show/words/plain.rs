//! Finding a plain word, and putting values into it.

use super::list::TABLES;
use super::word::Word;
use crate::design::field::{self, pattern_of};
use crate::edit::built::OF_ALL;
use crate::edit::open_ring::SPIRAL;
use crate::edit::{POINT, SAID, SCALED};
use crate::units::quantity::degrees;

/// Where the turner's own gauge stops.
pub(super) fn stops_at(own_deg: f64) -> String {
    format!("yours stops at {}", degrees(own_deg.to_radians()))
}

/// Every plain word: key and text.
pub fn all() -> impl Iterator<Item = (&'static str, &'static str)> {
    TABLES.iter().flatten().copied().flatten().copied()
}

/// The keys of words that only the page's markup and scripts name.
pub fn keys_of_the_page() -> impl Iterator<Item = &'static str> {
    let keys = TABLES
        .iter()
        .flat_map(|table| table[1])
        .map(|(key, _)| *key);
    // The library puts these keys together.
    keys.filter(|key| !key.starts_with("air."))
}

/// The word of a key that was put together; the key itself where there is none.
pub fn by_key(key: &str) -> &str {
    all()
        .find(|(name, _)| *name == key)
        .map_or(key, |(_, text)| text)
}

/// A word with values put in for `%1`, `%2` ….
pub fn filled(word: Word, values: &[&str]) -> String {
    let mut pieces = word.text.split('%');
    let mut text = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let place = piece.chars().next().and_then(|digit| digit.to_digit(10));
        let value = place.and_then(|place| values.get((place as usize).wrapping_sub(1)));
        if let Some(value) = value {
            text.push_str(value);
            text.push_str(&piece[1..]);
        } else {
            text.push('%');
            text.push_str(piece);
        }
    }
    text
}

/// The label of a field.
pub fn label(field_key: &str) -> &'static str {
    let pattern = pattern_of(field_key);
    let said = SAID.iter().copied();
    let mut typed = SCALED
        .iter()
        .chain(POINT)
        .chain(SPIRAL)
        .chain(OF_ALL)
        .chain(said);
    let typed = typed.find(|it| it.key == pattern).map(|it| it.label);
    let label = typed.or_else(|| field::label(field_key));
    label.unwrap_or("This design")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::field::{FIELDS, Kind};
    use crate::plan::season::AIRS;

    /// Keys that are put together: the compiler finds neither one that is missing nor one
    /// that nobody asks for any more.
    #[test]
    fn words_of_keys_that_are_put_together_are_there() {
        let under = |start: &'static str| all().filter_map(move |(key, _)| key.strip_prefix(start));
        let mut airs: Vec<&str> = under("air.").collect();
        airs.sort_unstable();
        let mut asked: Vec<&str> = AIRS.iter().map(|air| air.0).collect();
        asked.sort_unstable();
        assert_eq!(airs, asked);
        let choices: Vec<&str> = under("choice.").collect();
        let words = FIELDS.iter().flat_map(|field| match field.kind {
            Kind::Choice(words) => words,
            _ => &[],
        });
        let missing: Vec<&&str> = words.filter(|word| !choices.contains(word)).collect();
        assert!(missing.is_empty(), "{missing:?}");
    }
}
