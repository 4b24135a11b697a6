//! The widths and glyph names of Helvetica and Helvetica-Bold.
//!
//! Source: Adobe Systems, "Adobe Core 35 AFM Files with 314 Glyph Entries" (`Helvetica.afm`,
//! `Helvetica-Bold.afm`, version 002.000), which may be used, copied and distributed for any
//! purpose (Copyright 1985, 1987, 1989, 1990, 1997 Adobe Systems Incorporated). A width is in thousandths of the font size. These two fonts are among the fourteen
//! that every PDF reader brings along (ISO 32000-1, 9.6.2.2), so nothing has to be embedded.

use super::Weight;

/// Height of a capital letter, in thousandths of the font size (`CapHeight` of both files).
pub const CAPITAL_HEIGHT: f64 = 718.0;
/// How far letters reach below the base line, in thousandths of the font size (`Descender`).
pub const DESCENT: f64 = 207.0;

/// What stands for a character that neither font has.
const MISSING: char = '?';

/// The width of a character, in thousandths of the font size.
///
/// A character that the fonts lack is as wide as the one that stands for it on paper.
pub fn advance(character: char, weight: Weight) -> u16 {
    let character = printable(character);
    let code = character as usize;
    let (ascii, latin) = match weight {
        Weight::Regular => (&REGULAR_ASCII, &REGULAR_LATIN),
        Weight::Bold => (&BOLD_ASCII, &BOLD_LATIN),
    };
    match code {
        0x20..=0x7e => ascii[code - 0x20],
        0xa0..=0xff => latin[code - 0xa0],
        _ => further(character).map_or(0, |(_, _, regular, bold)| match weight {
            Weight::Regular => regular,
            Weight::Bold => bold,
        }),
    }
}

/// The glyph's name of a character that is neither ASCII nor Latin-1, if the fonts have it.
pub fn glyph_name(character: char) -> Option<&'static str> {
    further(character).map(|(_, name, _, _)| name)
}

/// The character that is printed for the given one: itself, its plainest likeness, or `?`.
pub fn printable(character: char) -> char {
    let code = character as u32;
    if matches!(code, 0x20..=0x7e | 0xa0..=0xff) || further(character).is_some() {
        return character;
    }
    // Vietnamese: its letters stand in the order of what they are without their accents
    // (Unicode 16, Latin Extended Additional), capitals and small ones in turn.
    if let 0x1ea0..=0x1ef9 = code {
        let plain = match code {
            0x1ea0..0x1eb8 => b'A',
            0x1eb8..0x1ec8 => b'E',
            0x1ec8..0x1ecc => b'I',
            0x1ecc..0x1ee4 => b'O',
            0x1ee4..0x1ef2 => b'U',
            _ => b'Y',
        };
        let is_small = code % 2 == 1;
        return char::from(plain | (u8::from(is_small) << 5));
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

fn further(character: char) -> Option<(char, &'static str, u16, u16)> {
    let index = FURTHER
        .binary_search_by_key(&character, |entry| entry.0)
        .ok()?;
    FURTHER.get(index).copied()
}

/// Letters and signs outside the fonts, each with what reads most like it.
const LIKENESSES: [(char, &str); 40] = [
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
    ('>', "\u{2192}"),
    ('<', "\u{2190}"),
    ('C', "ĈĊ"),
    ('c', "ĉċ"),
    ('E', "ĔẼ"),
    ('e', "ĕẽ"),
    ('G', "ĜĠ"),
    ('g', "ĝġ"),
    ('H', "ĤĦ"),
    ('h', "ĥħ"),
    ('I', "ĨĬ"),
    ('i', "ĩĭ"),
    ('J', "Ĵ"),
    ('j', "ĵ"),
    ('k', "ĸ"),
    ('L', "Ŀ"),
    ('l', "ŀ"),
    ('N', "Ŋ"),
    ('n', "ŉŋ"),
    ('O', "Ŏ"),
    ('o', "ŏ"),
    ('S', "Ŝẞ"),
    ('s', "ŝſ"),
    ('T', "ŦȚ"),
    ('t', "ŧț"),
    ('U', "ŨŬ"),
    ('u', "ũŭ"),
    ('W', "ŴẀẂẄ"),
    ('w', "ŵẁẃẅ"),
    ('Y', "ŶỲ"),
    ('y', "ŷỳ"),
    ('\u{b5}', "μ"),
];

/// Helvetica, space to tilde.
const REGULAR_ASCII: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// Helvetica, no-break space to y diaeresis.
const REGULAR_LATIN: [u16; 96] = [
    278, 333, 556, 556, 556, 556, 260, 556, 333, 737, 370, 556, 584, 333, 737, 333, 400, 584, 333,
    333, 333, 556, 537, 278, 333, 333, 365, 556, 834, 834, 834, 611, 667, 667, 667, 667, 667, 667,
    1000, 722, 667, 667, 667, 667, 278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778,
    722, 722, 722, 722, 667, 667, 611, 556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556,
    278, 278, 278, 278, 556, 556, 556, 556, 556, 556, 556, 584, 611, 556, 556, 556, 556, 500, 556,
    500,
];
/// Helvetica-Bold, space to tilde.
const BOLD_ASCII: [u16; 95] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667,
    611, 778, 722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556,
    278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
];
/// Helvetica-Bold, no-break space to y diaeresis.
const BOLD_LATIN: [u16; 96] = [
    278, 333, 556, 556, 556, 556, 280, 556, 333, 737, 370, 556, 584, 333, 737, 333, 400, 584, 333,
    333, 333, 611, 556, 278, 333, 333, 365, 556, 834, 834, 834, 611, 722, 722, 722, 722, 722, 722,
    1000, 722, 667, 667, 667, 667, 278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778,
    722, 722, 722, 722, 667, 667, 611, 556, 556, 556, 556, 556, 556, 889, 556, 556, 556, 556, 556,
    278, 278, 278, 278, 611, 611, 611, 611, 611, 611, 611, 584, 611, 611, 611, 611, 611, 556, 611,
    556,
];

/// Further letters: character, glyph name, width in Helvetica and in Helvetica-Bold, by character.
#[rustfmt::skip]
const FURTHER: [(char, &str, u16, u16); 107] = [
    ('\u{100}', "Amacron", 667, 722), ('\u{101}', "amacron", 556, 556),
    ('\u{102}', "Abreve", 667, 722), ('\u{103}', "abreve", 556, 556),
    ('\u{104}', "Aogonek", 667, 722), ('\u{105}', "aogonek", 556, 556),
    ('\u{106}', "Cacute", 722, 722), ('\u{107}', "cacute", 500, 556),
    ('\u{10c}', "Ccaron", 722, 722), ('\u{10d}', "ccaron", 500, 556),
    ('\u{10e}', "Dcaron", 722, 722), ('\u{10f}', "dcaron", 643, 743),
    ('\u{110}', "Dcroat", 722, 722), ('\u{111}', "dcroat", 556, 611),
    ('\u{112}', "Emacron", 667, 667), ('\u{113}', "emacron", 556, 556),
    ('\u{116}', "Edotaccent", 667, 667), ('\u{117}', "edotaccent", 556, 556), ('\u{118}', "Eogonek", 667, 667),
    ('\u{119}', "eogonek", 556, 556), ('\u{11a}', "Ecaron", 667, 667),
    ('\u{11b}', "ecaron", 556, 556), ('\u{11e}', "Gbreve", 778, 778),
    ('\u{11f}', "gbreve", 556, 611), ('\u{122}', "Gcommaaccent", 778, 778),
    ('\u{123}', "gcommaaccent", 556, 611), ('\u{12a}', "Imacron", 278, 278),
    ('\u{12b}', "imacron", 278, 278), ('\u{12e}', "Iogonek", 278, 278),
    ('\u{12f}', "iogonek", 222, 278), ('\u{130}', "Idotaccent", 278, 278),
    ('\u{131}', "dotlessi", 278, 278), ('\u{136}', "Kcommaaccent", 667, 722),
    ('\u{137}', "kcommaaccent", 500, 556), ('\u{139}', "Lacute", 556, 611),
    ('\u{13a}', "lacute", 222, 278), ('\u{13b}', "Lcommaaccent", 556, 611),
    ('\u{13c}', "lcommaaccent", 222, 278), ('\u{13d}', "Lcaron", 556, 611),
    ('\u{13e}', "lcaron", 299, 400), ('\u{141}', "Lslash", 556, 611),
    ('\u{142}', "lslash", 222, 278), ('\u{143}', "Nacute", 722, 722),
    ('\u{144}', "nacute", 556, 611), ('\u{145}', "Ncommaaccent", 722, 722),
    ('\u{146}', "ncommaaccent", 556, 611), ('\u{147}', "Ncaron", 722, 722),
    ('\u{148}', "ncaron", 556, 611), ('\u{14c}', "Omacron", 778, 778),
    ('\u{14d}', "omacron", 556, 611), ('\u{150}', "Ohungarumlaut", 778, 778),
    ('\u{151}', "ohungarumlaut", 556, 611), ('\u{152}', "OE", 1000, 1000), ('\u{153}', "oe", 944, 944),
    ('\u{154}', "Racute", 722, 722), ('\u{155}', "racute", 333, 389),
    ('\u{156}', "Rcommaaccent", 722, 722), ('\u{157}', "rcommaaccent", 333, 389),
    ('\u{158}', "Rcaron", 722, 722), ('\u{159}', "rcaron", 333, 389),
    ('\u{15a}', "Sacute", 667, 667), ('\u{15b}', "sacute", 500, 556),
    ('\u{15e}', "Scedilla", 667, 667), ('\u{15f}', "scedilla", 500, 556),
    ('\u{160}', "Scaron", 667, 667), ('\u{161}', "scaron", 500, 556),
    ('\u{162}', "Tcommaaccent", 611, 611), ('\u{163}', "tcommaaccent", 278, 333),
    ('\u{164}', "Tcaron", 611, 611), ('\u{165}', "tcaron", 317, 389),
    ('\u{16a}', "Umacron", 722, 722), ('\u{16b}', "umacron", 556, 611),
    ('\u{16e}', "Uring", 722, 722), ('\u{16f}', "uring", 556, 611),
    ('\u{170}', "Uhungarumlaut", 722, 722), ('\u{171}', "uhungarumlaut", 556, 611),
    ('\u{172}', "Uogonek", 722, 722), ('\u{173}', "uogonek", 556, 611),
    ('\u{178}', "Ydieresis", 667, 667), ('\u{179}', "Zacute", 611, 611),
    ('\u{17a}', "zacute", 500, 500), ('\u{17b}', "Zdotaccent", 611, 611), ('\u{17c}', "zdotaccent", 500, 500),
    ('\u{17d}', "Zcaron", 611, 611), ('\u{17e}', "zcaron", 500, 500),
    ('\u{218}', "Scommaaccent", 667, 667), ('\u{219}', "scommaaccent", 500, 556),
    ('\u{2013}', "endash", 556, 556), ('\u{2014}', "emdash", 1000, 1000),
    ('\u{2018}', "quoteleft", 222, 278), ('\u{2019}', "quoteright", 222, 278),
    ('\u{201a}', "quotesinglbase", 222, 278), ('\u{201c}', "quotedblleft", 333, 500),
    ('\u{201d}', "quotedblright", 333, 500), ('\u{201e}', "quotedblbase", 333, 500),
    ('\u{2022}', "bullet", 350, 350), ('\u{2026}', "ellipsis", 1000, 1000),
    ('\u{2039}', "guilsinglleft", 333, 333), ('\u{203a}', "guilsinglright", 333, 333),
    ('\u{2044}', "fraction", 167, 167), ('\u{20ac}', "Euro", 556, 556),
    ('\u{2122}', "trademark", 1000, 1000), ('\u{2212}', "minus", 584, 584),
    ('\u{221a}', "radical", 453, 549), ('\u{2260}', "notequal", 549, 549),
    ('\u{2264}', "lessequal", 549, 549), ('\u{2265}', "greaterequal", 549, 549),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_order_so_that_it_can_be_searched() {
        assert!(FURTHER.windows(2).all(|pair| pair[0].0 < pair[1].0));
        for (character, name, ..) in FURTHER {
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
    fn figures_are_tabular() {
        for figure in '0'..='9' {
            assert_eq!(advance(figure, Weight::Regular), 556);
            assert_eq!(advance(figure, Weight::Bold), 556);
        }
    }

    #[test]
    fn what_the_fonts_lack_has_a_stand_in() {
        assert_eq!(printable('ę'), 'ę');
        assert_eq!(printable('ŵ'), 'w');
        assert_eq!(printable('\u{2300}'), 'Ø');
        assert_eq!(printable('木'), '?');
        for (letter, plain) in [('Ế', 'E'), ('ỹ', 'y'), ('Ạ', 'A'), ('ỵ', 'y'), ('ị', 'i')]
        {
            assert_eq!(printable(letter), plain, "{letter}");
        }
        assert!(is_shapeless('\u{301}') && !is_shapeless('a'));
        assert_eq!(advance('木', Weight::Regular), 556);
    }
}
