//! How wide the letters of paper are, before the typeface itself is there: Arimo, regular and
//! bold, which was drawn to Helvetica's widths.
//!
//! `widths.bin` is made with the typeface by `tests/tools/typeface.py`; `tests/typeface.rs`
//! compares the two.

/// How heavy the letters are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Weight {
    /// The usual weight.
    #[default]
    Regular,
    /// For the figure that the hand needs next, and for headings.
    Bold,
}

/// How many runs of neighboring letters there are, and how many different pairs of widths;
/// of each run its first letter and its length, of each pair its widths; then of each letter
/// which pair it has.
const PACKED: &[u8] = include_bytes!("widths.bin");

/// The width of a letter in thousandths of the font's size; nothing for one that the typeface
/// lacks.
pub fn width(letter: char, weight: Weight) -> Option<u16> {
    let number = |at: usize| u16::from_le_bytes([PACKED[at], PACKED[at + 1]]);
    let (runs, pairs) = (usize::from(PACKED[0]), usize::from(PACKED[1]));
    let first_pair = 2 + 4 * runs;
    let mut place = first_pair + 4 * pairs;
    let letter = u32::from(letter);
    for run in 0..runs {
        let first = u32::from(number(2 + 4 * run));
        let count = u32::from(number(4 + 4 * run));
        if letter < first {
            return None;
        }
        if letter < first + count {
            let pair = usize::from(PACKED[place + (letter - first) as usize]);
            let beside = match weight {
                Weight::Regular => 0,
                Weight::Bold => 2,
            };
            return Some(number(first_pair + 4 * pair + beside));
        }
        place += count as usize;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_three_alphabets_have_a_width() {
        // From Helvetica's published widths, from memory; Greek and Cyrillic capitals that
        // look like Latin ones are as wide.
        for (letters, regular, bold) in [("AΑА", 667, 722), ("HΗН", 722, 722), ("½¼¾", 834, 834)]
        {
            for letter in letters.chars() {
                assert_eq!(width(letter, Weight::Regular), Some(regular), "{letter}");
                assert_eq!(width(letter, Weight::Bold), Some(bold), "{letter}");
            }
        }
        for letter in ['\u{1f}', '\u{7f}', '木', '\u{10ffff}', '\u{d7ff}'] {
            assert_eq!(width(letter, Weight::Regular), None);
        }
    }
}
