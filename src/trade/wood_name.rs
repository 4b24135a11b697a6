//! Woods by the names that people type: in any order of words, begun, with a slip of the
//! finger, or by another name of the trade.

/// Other names of the trade, and which wood of the table each stands for: common
/// practice, no published source, from memory.
#[rustfmt::skip]
const OTHER_NAMES: &[(&str, &str)] = &[
    ("amaranth", "Purpleheart"),
    ("american mahogany", "Mahogany, true"),
    ("aromatic cedar", "Redcedar, eastern"),
    ("ayous", "Obeche"),
    ("bodark", "Osage-orange"),
    ("brazilian cherry", "Jatoba (courbaril)"),
    ("gaboon", "Okoume"),
    ("genuine mahogany", "Mahogany, true"),
    ("hard maple", "Maple, sugar"),
    ("hedge", "Osage-orange"),
    ("honduran mahogany", "Mahogany, true"),
    ("linden", "Basswood, American"),
    ("rock maple", "Maple, sugar"),
    ("soft maple", "Maple, red (soft)"),
    ("soft maple", "Maple, silver"),
    ("tigerwood", "Goncalo alves"),
    ("tulip poplar", "Yellow-poplar"),
    ("tulipwood, american", "Yellow-poplar"),
    ("white walnut", "Butternut"),
    ("zebrano", "Zebrawood"),
];

/// How near a name is to what was typed, the nearest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Nearness {
    /// The same words, in whatever order.
    Same,
    /// What was typed are whole words of it, the first of them its general name:
    /// `walnut` for `Walnut, black`.
    General,
    /// What was typed are whole words of it.
    Words,
    /// Every word that was typed begins one of its words.
    Begun,
    /// Every word that was typed stands within it.
    Within,
    /// But for slips of the finger, every word that was typed begins one of its words.
    Slip,
}

/// The places of the names that may be meant, the nearest first and otherwise in their
/// order; none for nothing typed.
pub fn offers(typed: &str, names: &[&str]) -> Vec<(Nearness, usize)> {
    let typed = words(typed);
    let mut found: Vec<(Nearness, usize)> = names
        .iter()
        .enumerate()
        .filter_map(|(place, name)| Some((nearness_of_wood(&typed, name)?, place)))
        .collect();
    found.sort_unstable();
    // A slip is only thought of where nothing fits without one.
    let is_plain = found.first().is_some_and(|it| it.0 < Nearness::Slip);
    found.retain(|it| !is_plain || it.0 < Nearness::Slip);
    found
}

/// The one that is meant: the nearest, if no other is as near.
pub fn meant(offers: &[(Nearness, usize)]) -> Option<usize> {
    match offers {
        [(_, place)] => Some(*place),
        [(nearest, place), (next, _), ..] if nearest < next => Some(*place),
        _ => None,
    }
}

/// By its own name or another one of the trade.
fn nearness_of_wood(typed: &[String], name: &str) -> Option<Nearness> {
    // Another name counts as a whole only: "wal" is no white walnut.
    let others = OTHER_NAMES
        .iter()
        .filter(|it| it.1 == name)
        .map(|it| words(it.0))
        .filter(|other| other.len() == typed.len());
    let names = std::iter::once(words(name)).chain(others);
    names.filter_map(|name| nearness(typed, &name)).min()
}

fn nearness(typed: &[String], name: &[String]) -> Option<Nearness> {
    let apart = nearness_word_by_word(typed, name);
    // "red cedar" for "redcedar", "yellow heart" for "yellowheart".
    let joined = (1..typed.len()).filter_map(|at| {
        let mut joined = typed.to_vec();
        let end = joined.remove(at);
        joined[at - 1].push_str(&end);
        nearness_word_by_word(&joined, name)
    });
    apart.into_iter().chain(joined).min()
}

fn nearness_word_by_word(typed: &[String], name: &[String]) -> Option<Nearness> {
    if typed.is_empty() {
        return None;
    }
    if each_has_its_own(typed, name, |typed, word| typed == word) {
        return Some(match () {
            () if typed.len() == name.len() => Nearness::Same,
            () if typed.first() == name.first() => Nearness::General,
            () => Nearness::Words,
        });
    }
    if each_has_its_own(typed, name, |typed, word| word.starts_with(typed)) {
        return Some(Nearness::Begun);
    }
    if each_has_its_own(typed, name, |typed, word| {
        typed.len() >= 4 && word.contains(typed)
    }) {
        return Some(Nearness::Within);
    }
    each_has_its_own(typed, name, is_slip).then_some(Nearness::Slip)
}

/// Whether each word that was typed has a word of the name for itself.
fn each_has_its_own(typed: &[String], name: &[String], fits: impl Fn(&str, &str) -> bool) -> bool {
    let mut left: Vec<&String> = name.iter().collect();
    typed.iter().all(|typed| {
        let place = left.iter().position(|word| fits(typed, word));
        place.map(|place| left.swap_remove(place)).is_some()
    })
}

/// Whether a word was meant but for one slip, or two in a long word: a letter wrong,
/// missing, too many, or two that changed places. The word may be begun only. How many slips
/// are forgiven is our own choice, no published source.
fn is_slip(typed: &str, word: &str) -> bool {
    let (typed, word): (Vec<char>, Vec<char>) = (typed.chars().collect(), word.chars().collect());
    let most = match typed.len() {
        0..=4 => 0,
        5..=7 => 1,
        _ => 2,
    };
    // The first letter is seldom wrong, and nearly anything could be a short word.
    typed.first() == word.first() && least_slips(&typed, &word) <= most
}

/// The fewest slips between what was typed and the word, or a beginning of it that is no
/// shorter: edit distance with neighbors that changed places (Damerau 1964; the table of Wagner and Fischer 1974).
fn least_slips(typed: &[char], word: &[char]) -> usize {
    let mut rows: Vec<Vec<usize>> = vec![(0..=word.len()).collect()];
    for (at, letter) in typed.iter().enumerate() {
        let mut row = vec![at + 1];
        for (place, other) in word.iter().enumerate() {
            let changed = rows[at][place] + usize::from(letter != other);
            let mut least = changed.min(rows[at][place + 1] + 1).min(row[place] + 1);
            let have_swapped =
                at > 0 && place > 0 && *letter == word[place - 1] && typed[at - 1] == *other;
            if have_swapped {
                least = least.min(rows[at - 1][place - 1] + 1);
            }
            row.push(least);
        }
        rows.push(row);
    }
    let last = rows.last().map(Vec::as_slice).unwrap_or_default();
    let from = typed.len().min(word.len());
    last.iter().skip(from).copied().min().unwrap_or(0)
}

fn words(name: &str) -> Vec<String> {
    name.to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .take(12)
        .map(|word| word.chars().take(40).collect())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::wood;

    fn names() -> Vec<&'static str> {
        wood::all().map(|wood| wood.name).collect()
    }

    fn offered(typed: &str) -> Vec<&'static str> {
        let names = names();
        let found = offers(typed, &names);
        found.into_iter().map(|(_, place)| names[place]).collect()
    }

    fn meant_by(typed: &str) -> Option<&'static str> {
        let names = names();
        meant(&offers(typed, &names)).map(|place| names[place])
    }

    #[test]
    fn finds_woods_as_people_type_them() {
        for (typed, wanted) in [
            ("walnut", "Walnut, black"),
            ("Black Walnut", "Walnut, black"),
            ("walnut,black", "Walnut, black"),
            ("wal", "Walnut, black"),
            ("walnutt", "Walnut, black"),
            ("wlanut", "Walnut, black"),
            ("padouk", "Padauk, African"),
            ("paduk", "Padauk, African"),
            ("hard maple", "Maple, sugar"),
            ("sugar maple", "Maple, sugar"),
            ("red oak", "Oak, northern red"),
            ("white oak", "Oak, white"),
            ("osage orange", "Osage-orange"),
            ("yellow heart", "Yellowheart (pau amarello)"),
            ("purple heart", "Purpleheart"),
            ("western red cedar", "Redcedar, western"),
            ("poplar", "Yellow-poplar"),
            ("cypress", "Baldcypress"),
            ("khaya", "Mahogany, African (khaya)"),
            ("mahogony true", "Mahogany, true"),
            ("cherry", "Cherry, black"),
            ("locust", "Locust, black"),
            ("zebrano", "Zebrawood"),
        ] {
            assert_eq!(meant_by(typed), Some(wanted), "{typed}");
            assert_eq!(offered(typed)[0], wanted, "{typed}");
        }
    }

    #[test]
    fn where_several_may_be_meant_none_is_taken() {
        assert_eq!(meant_by("maple"), None);
        assert_eq!(offered("maple").len(), 5);
        assert_eq!(meant_by("soft maple"), None);
        assert_eq!(
            offered("soft maple"),
            ["Maple, red (soft)", "Maple, silver"]
        );
        assert_eq!(meant_by("ebony"), None);
        // A general name stands before a word anywhere in it.
        assert!(offered("red").len() > 3);
    }

    #[test]
    fn what_is_no_wood_of_the_table_is_not_taken_for_one() {
        for typed in [
            "",
            "  ",
            ",",
            "Driftwood",
            "Pink ivory",
            "xyz",
            "pear",
            "lime",
            "a maple bowl",
        ] {
            assert_eq!(meant_by(typed), None, "{typed}");
        }
        assert!(offered("").is_empty());
    }

    /// Every wood is found by its own name and by that name turned round.
    #[test]
    fn every_wood_is_found_by_its_own_words() {
        for name in names() {
            let turned: Vec<String> = words(name).into_iter().rev().collect();
            assert_eq!(meant_by(name), Some(name));
            assert_eq!(meant_by(&turned.join(" ")), Some(name));
        }
        for (other, name) in OTHER_NAMES {
            assert!(names().contains(name), "{name}");
            assert!(offered(other).contains(name), "{other}");
        }
    }

    #[test]
    fn slips_are_counted_as_they_are_made() {
        let slips = |typed: &str, word: &str| {
            let letters = |text: &str| text.chars().collect::<Vec<_>>();
            least_slips(&letters(typed), &letters(word))
        };
        assert_eq!(slips("walnut", "walnut"), 0);
        assert_eq!(slips("wa", "walnut"), 0);
        assert_eq!(slips("wlanut", "walnut"), 1);
        assert_eq!(slips("wanut", "walnut"), 1);
        assert_eq!(slips("wallnut", "walnut"), 1);
        assert_eq!(slips("wolnud", "walnut"), 2);
    }
}
