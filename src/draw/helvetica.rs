//! What stands on paper where the typeface itself is not there: the glyphs of Helvetica and
//! Helvetica-Bold. The typeface is as wide, so that sheets look the same.
//!
//! Names and measures: Adobe Systems, "Adobe Core 35 AFM Files with 314 Glyph Entries"
//! (`Helvetica.afm`, `Helvetica-Bold.afm`, version 002.000), which may be used, copied and
//! distributed for any purpose (Copyright 1985, 1987, 1989, 1990, 1997 Adobe Systems
//! Incorporated). These two fonts are among the fourteen that every PDF reader brings along
//! (ISO 32000-1, 9.6.2.2).
//!
//! Not every reader's own fonts hold all 314 glyphs: some leave a blank for those outside the
//! standard Latin characters (ISO 32000-1, annex D.2). So letters outside those are composed of
//! a letter and an accent that are within.

use super::widths::{Weight, width};

/// Height of a capital letter, in thousandths of the font size (`CapHeight` of both files). The
/// typeface's own are 688: words in it stand a twenty-fifth lower than they are laid out for.
pub const CAPITAL_HEIGHT: f64 = 718.0;
/// How far letters reach below the base line, in thousandths of the font size (`Descender`).
pub const DESCENT: f64 = 207.0;

/// What stands for a character that neither font has.
const MISSING: char = '?';

/// The width of a character, in thousandths of the font size.
///
/// A character that the typeface lacks is as wide as the one that stands for it on paper.
pub fn advance(character: char, weight: Weight) -> u16 {
    let found = width(character, weight).or_else(|| width(printable(character), weight));
    found.unwrap_or(0)
}

/// Its width in Helvetica itself, which differs for a few.
pub(super) fn standard_advance(character: char, weight: Weight) -> u16 {
    match character {
        MACRON => 333,
        _ => advance(character, weight),
    }
}

/// The glyph's name of a character that is neither ASCII nor Latin-1, if the fonts have it.
pub fn glyph_name(character: char) -> Option<&'static str> {
    further(character).map(|(_, name)| name)
}

/// The character that is printed for the given one: itself, its plainest likeness, or `?`.
pub fn printable(character: char) -> char {
    let code = character as u32;
    if matches!(code, 0x20..=0x7e | 0xa0..=0xff)
        || further(character).is_some()
        || composed(character).is_some()
    {
        return character;
    }
    // Letters with further accents stand in the order of what they are without them
    // (Unicode 16, Latin Extended Additional), capitals and small ones in turn.
    if let 0x1e00..=0x1e95 | 0x1ea0..=0x1ef9 = code {
        let plain = PLAIN.iter().find(|(below, _)| code < u32::from(*below));
        let is_small = code % 2 == 1;
        return plain.map_or(MISSING, |(_, plain)| {
            char::from(plain | (u8::from(is_small) << 5))
        });
    }
    LIKENESSES
        .iter()
        .find(|(_, all)| all.contains(character))
        .map_or(MISSING, |(plain, _)| *plain)
}

/// Whether a character has no shape of its own: accents that stand on the letter before
/// them, and the marks that join letters or turn the direction of writing.
pub fn is_shapeless(character: char) -> bool {
    character.is_control()
        || matches!(character as u32, 0x300..=0x36f | 0x200b..=0x200f | 0x202a..=0x202e | 0x2060..=0x2069 | 0xfe00..=0xfe0f | 0xfeff)
}

/// A letter that the standard Latin characters lack, and what it is composed of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Composed {
    /// The letter without its accent.
    pub base: char,
    /// The accent, as a character that stands alone.
    pub accent: char,
}

impl Composed {
    /// Where the accent begins, from where its base began, and how much higher than alone
    /// it stands, in thousandths of the font size. Over capitals it stands 195 higher, as
    /// in the fonts' own composites (Adobe's metrics of the core fonts, from memory).
    pub fn place(self, weight: Weight) -> (i32, i32) {
        let width = |of: char| i32::from(standard_advance(of, weight));
        let spare = width(self.base) - width(self.accent);
        match (self.base, self.accent) {
            (base, CARON_BESIDE) => (width(base) - 70, 0),
            (_, OGONEK) => (spare + 30, 0),
            (_, CEDILLA) => (spare / 2, 0),
            // The stroke through the stem at its right.
            ('d', MACRON) => (spare + 30, -50),
            (base, _) if base.is_uppercase() || "hkl".contains(base) => (spare / 2, 195),
            _ => (spare / 2, 0),
        }
    }
}

const MACRON: char = '\u{af}';
const CEDILLA: char = '\u{b8}';
const OGONEK: char = '\u{2db}';
/// Small letters with a stem have their caron beside it, in the shape of an apostrophe.
const CARON_BESIDE: char = '\u{2019}';

/// What a letter is composed of, if it is not one of the standard Latin characters. Commas
/// below are set as cedillas, as they long were.
pub fn composed(character: char) -> Option<Composed> {
    // Most are not, and each is asked for often.
    if u32::from(character) < 0x100 {
        return None;
    }
    COMPOSED.iter().find_map(|(accent, letters, bases)| {
        let place = letters.chars().position(|letter| letter == character)?;
        let base = bases.chars().nth(place)?;
        let accent = *accent;
        Some(Composed { base, accent })
    })
}

/// The characters that are printed for one: one, or a letter and its accent.
pub fn parts(character: char) -> impl Iterator<Item = char> {
    let character = printable(character);
    let pair = composed(character);
    let first = pair.map_or(character, |parts| parts.base);
    [Some(first), pair.map(|parts| parts.accent)]
        .into_iter()
        .flatten()
}

fn further(character: char) -> Option<(char, &'static str)> {
    let index = FURTHER
        .binary_search_by_key(&character, |entry| entry.0)
        .ok()?;
    FURTHER.get(index).copied()
}

/// Accents, the letters with them, and those letters without them in the same order.
const COMPOSED: [(char, &str, &str); 14] = [
    (MACRON, "ĀāĒēĪīŌōŪūđ", "AaEeIıOoUud"),
    ('\u{2d8}', "ĂăĔĕĞğĬĭŎŏŬŭ", "AaEeGgIıOoUu"),
    (OGONEK, "ĄąĘęĮįŲų", "AaEeIiUu"),
    ('\u{b4}', "ĆćĹĺŃńŔŕŚśŹźģẂẃǴǵ", "CcLlNnRrSsZzgWwGg"),
    ('\u{2c6}', "ĈĉĜĝĤĥŜŝŴŵŶŷ", "CcGgHhSsWwYy"),
    ('\u{2d9}', "ĊċĖėĠġİŻż", "CcEeGgIZz"),
    (
        '\u{2c7}',
        "ČčĎĚěŇňŘřŤǍǎǏǐǑǒǓǔǦǧǨǩ",
        "CcDEeNnRrTAaIıOoUuGgKk",
    ),
    (CARON_BESIDE, "ďĽľť", "dLlt"),
    (CEDILLA, "ĢĶķĻļŅņŖŗŞşŢţȘșȚț", "GKkLlNnRrSsTtSsTt"),
    ('\u{2da}', "Ůů", "Uu"),
    ('\u{2dd}', "ŐőŰű", "OoUu"),
    ('\u{2dc}', "ẼẽĨĩŨũỸỹ", "EeIıUuYy"),
    ('`', "ẀẁỲỳǸǹ", "WwYyNn"),
    ('\u{a8}', "Ẅẅ", "Ww"),
];

/// Up to which code of Latin Extended Additional letters are like which plain one.
#[rustfmt::skip]
const PLAIN: [(u16, u8); 30] = [
    (0x1e02, b'A'), (0x1e08, b'B'), (0x1e0a, b'C'), (0x1e14, b'D'), (0x1e1e, b'E'),
    (0x1e20, b'F'), (0x1e22, b'G'), (0x1e2c, b'H'), (0x1e30, b'I'), (0x1e36, b'K'),
    (0x1e3e, b'L'), (0x1e44, b'M'), (0x1e4c, b'N'), (0x1e54, b'O'), (0x1e58, b'P'),
    (0x1e60, b'R'), (0x1e6a, b'S'), (0x1e72, b'T'), (0x1e7c, b'U'), (0x1e80, b'V'),
    (0x1e8a, b'W'), (0x1e8e, b'X'), (0x1e90, b'Y'), (0x1e96, b'Z'), (0x1eb8, b'A'),
    (0x1ec8, b'E'), (0x1ecc, b'I'), (0x1ee4, b'O'), (0x1ef2, b'U'), (0x1efa, b'Y'),
];

/// Letters and signs outside the fonts, each with what reads most like it.
const LIKENESSES: [(char, &str); 30] = [
    (
        ' ',
        "\u{2002}\u{2003}\u{2004}\u{2005}\u{2006}\u{2007}\u{2008}\u{2009}\u{200a}\u{202f}\u{3000}",
    ),
    ('-', "\u{2010}\u{2011}"),
    ('\u{2013}', "\u{2012}"),
    ('\'', "\u{2032}\u{02bc}"),
    ('"', "\u{2033}"),
    ('\u{d8}', "\u{2300}\u{2205}"),
    ('/', "\u{2215}"),
    ('~', "\u{2248}"),
    ('>', "\u{2192}\u{2265}"),
    ('<', "\u{2190}\u{2264}"),
    ('\u{d0}', "Đ"),
    ('H', "Ħ"),
    ('h', "ħ"),
    ('J', "Ĵ"),
    ('j', "ĵ"),
    ('k', "ĸ"),
    ('L', "Ŀ"),
    ('l', "ŀ"),
    ('N', "Ŋ"),
    ('n', "ŉŋ"),
    ('O', "Ơ"),
    ('o', "ơ"),
    ('S', "ẞ"),
    ('s', "ſ"),
    ('T', "Ŧ"),
    ('t', "ŧ"),
    ('U', "Ư"),
    ('u', "ư"),
    ('e', "ə"),
    ('\u{b5}', "μ"),
];

/// The other standard Latin characters and their glyphs' names, by character.
#[rustfmt::skip]
const FURTHER: [(char, &str); 34] = [
    ('\u{131}', "dotlessi"), ('\u{141}', "Lslash"), ('\u{142}', "lslash"),
    ('\u{152}', "OE"), ('\u{153}', "oe"), ('\u{160}', "Scaron"),
    ('\u{161}', "scaron"), ('\u{178}', "Ydieresis"), ('\u{17d}', "Zcaron"),
    ('\u{17e}', "zcaron"), ('\u{2c6}', "circumflex"), ('\u{2c7}', "caron"),
    ('\u{2d8}', "breve"), ('\u{2d9}', "dotaccent"), ('\u{2da}', "ring"),
    ('\u{2db}', "ogonek"), ('\u{2dc}', "tilde"), ('\u{2dd}', "hungarumlaut"),
    ('\u{2013}', "endash"), ('\u{2014}', "emdash"), ('\u{2018}', "quoteleft"),
    ('\u{2019}', "quoteright"), ('\u{201a}', "quotesinglbase"), ('\u{201c}', "quotedblleft"),
    ('\u{201d}', "quotedblright"), ('\u{201e}', "quotedblbase"), ('\u{2022}', "bullet"),
    ('\u{2026}', "ellipsis"), ('\u{2039}', "guilsinglleft"), ('\u{203a}', "guilsinglright"),
    ('\u{2044}', "fraction"), ('\u{20ac}', "Euro"), ('\u{2122}', "trademark"),
    ('\u{2212}', "minus"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_order_so_that_it_can_be_searched() {
        assert!(FURTHER.windows(2).all(|pair| pair[0].0 < pair[1].0));
        for (character, name) in FURTHER {
            assert_eq!(glyph_name(character), Some(name));
        }
    }

    // From memory of the published files, not out of the tables above.
    #[test]
    fn widths_agree_with_the_published_files() {
        let published = [
            ('A', 667, 722),
            ('W', 944, 944),
            ('i', 222, 278),
            ('m', 833, 889),
            ('@', 1015, 975),
            ('.', 278, 278),
            ('\'', 191, 238),
            ('~', 584, 584),
            ('\u{b0}', 400, 400),
            ('\u{d7}', 584, 584),
            ('\u{d8}', 778, 778),
            ('\u{bd}', 834, 834),
            ('\u{ff}', 500, 556),
            ('\u{2212}', 584, 584),
            ('\u{2044}', 167, 167),
            ('\u{2026}', 1000, 1000),
            ('ł', 222, 278),
        ];
        for (character, regular, bold) in published {
            assert_eq!(advance(character, Weight::Regular), regular, "{character}");
            assert_eq!(advance(character, Weight::Bold), bold, "{character} bold");
        }
    }

    #[test]
    fn what_is_composed_is_composed_of_standard_characters() {
        for (accent, letters, bases) in COMPOSED {
            assert_eq!(letters.chars().count(), bases.chars().count());
            for part in bases.chars().chain([accent]) {
                assert!(
                    composed(part).is_none() && printable(part) == part,
                    "{part}"
                );
            }
        }
        let parts_of = |letter| parts(letter).collect::<String>();
        assert_eq!([parts_of('č'), parts_of('ī')], ["c\u{2c7}", "ı\u{af}"]);
        assert_eq!(
            [parts_of('e'), parts_of('Ế'), parts_of('木')],
            ["e", "E", "?"]
        );
    }

    #[test]
    fn figures_are_tabular() {
        for figure in '0'..='9' {
            assert_eq!(advance(figure, Weight::Regular), 556);
            assert_eq!(advance(figure, Weight::Bold), 556);
        }
    }

    #[test]
    fn what_the_fonts_lack_has_a_stand_in() {
        assert_eq!(printable('ę'), 'ę');
        assert_eq!(printable('ħ'), 'h');
        assert_eq!(printable('\u{2300}'), 'Ø');
        assert_eq!(printable('木'), '?');
        for (letter, plain) in [
            ('Ế', 'E'),
            ('ỵ', 'y'),
            ('Ạ', 'A'),
            ('ị', 'i'),
            ('Ḍ', 'D'),
            ('ẕ', 'z'),
        ] {
            assert_eq!(printable(letter), plain, "{letter}");
        }
        assert!(is_shapeless('\u{301}') && !is_shapeless('a'));
        assert_eq!(advance('木', Weight::Regular), 556);
    }
}
