//! Words as they are set: plain runs and real fractions, measured before they are drawn.
//!
//! A height is the height of the capitals, as ISO 3098-1 names lettering (its "nominal size h"),
//! not the size of the font. Widths are those of paper ([`super::helvetica`]); a screen's own
//! typeface may be a little wider, so what has to fit there needs [`SCREEN_SLACK`].

use super::helvetica::{self, CAPITAL_HEIGHT};
pub use super::widths::Weight;

/// How much wider a screen's typeface may run than Helvetica: `DejaVu` Sans, the widest of those
/// that systems set their words in, measured 1.16 of it in a browser.
pub const SCREEN_SLACK: f64 = 1.18;

/// Size of a fraction's figures, as a share of the whole figure's size.
pub(super) const FRACTION_SIZE: f64 = 0.6;

/// How high the numerator stands, as a share of the font size: its top meets the capitals' top.
pub(super) const NUMERATOR_RISE: f64 = (1.0 - FRACTION_SIZE) * CAPITAL_HEIGHT / 1000.0;

/// The sign between numerator and denominator (U+2044).
pub(super) const FRACTION_SLASH: char = '\u{2044}';

/// A piece of [`Lettering`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Run {
    /// Letters and figures as they come.
    Plain(String),
    /// A real fraction, with its parts raised and lowered.
    Fraction {
        /// The whole number in front, if any.
        whole: Option<u32>,
        /// Above the slash.
        numerator: u32,
        /// Below the slash.
        denominator: u32,
    },
}

/// A line of words and figures.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lettering {
    /// Its pieces, from left to right.
    pub runs: Vec<Run>,
}

impl Lettering {
    /// A line of plain words.
    pub fn plain(text: impl Into<String>) -> Self {
        Self {
            runs: vec![Run::Plain(text.into())],
        }
    }

    /// This line with plain words added at its end.
    #[must_use]
    pub fn then(mut self, text: impl Into<String>) -> Self {
        self.runs.push(Run::Plain(text.into()));
        self
    }

    /// This line with a fraction added at its end; a whole part of 0 is left out.
    #[must_use]
    pub fn fraction(mut self, whole: u32, numerator: u32, denominator: u32) -> Self {
        let whole = (whole > 0).then_some(whole);
        self.runs.push(Run::Fraction {
            whole,
            numerator,
            denominator,
        });
        self
    }

    /// This line with another one added at its end.
    #[must_use]
    pub fn join(mut self, other: impl Into<Self>) -> Self {
        self.runs.extend(other.into().runs);
        self
    }

    /// Whether there is nothing to set.
    pub fn is_empty(&self) -> bool {
        self.pieces().iter().all(|piece| piece.text.is_empty())
    }

    /// The line as one would type it: `2 3/4 in`.
    pub fn spoken(&self) -> String {
        let mut text = String::new();
        for run in &self.runs {
            match run {
                Run::Plain(words) => text.extend(words.chars().filter(|c| !c.is_control())),
                Run::Fraction {
                    whole,
                    numerator,
                    denominator,
                } => {
                    if let Some(whole) = whole {
                        text.push_str(&whole.to_string());
                        text.push(' ');
                    }
                    text.push_str(&numerator.to_string());
                    text.push('/');
                    text.push_str(&denominator.to_string());
                }
            }
        }
        text
    }

    /// The width on paper, in millimeters, with capitals of the given height.
    pub fn width_mm(&self, height_mm: f64, weight: Weight) -> f64 {
        let font = font_size_mm(height_mm);
        self.pieces()
            .iter()
            .map(|piece| piece.width_mm(font, weight))
            .sum()
    }

    /// The line in the pieces that are set at one size and one height each.
    pub(super) fn pieces(&self) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for run in &self.runs {
            match run {
                Run::Plain(words) => pieces.push(Piece::full(shown(words))),
                Run::Fraction {
                    whole,
                    numerator,
                    denominator,
                } => {
                    if let Some(whole) = whole {
                        pieces.push(Piece::full(whole.to_string()));
                    }
                    pieces.push(Piece::small(numerator.to_string(), NUMERATOR_RISE));
                    pieces.push(Piece::full(FRACTION_SLASH.to_string()));
                    pieces.push(Piece::small(denominator.to_string(), 0.0));
                }
            }
        }
        pieces
    }
}

impl From<&str> for Lettering {
    fn from(text: &str) -> Self {
        Self::plain(text)
    }
}

impl From<String> for Lettering {
    fn from(text: String) -> Self {
        Self::plain(text)
    }
}

impl From<&Lettering> for Lettering {
    fn from(other: &Lettering) -> Self {
        other.clone()
    }
}

/// Letters of one size on one height.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub text: String,
    /// Size as a share of the line's font size.
    pub size: f64,
    /// Height above the base line, as a share of the line's font size.
    pub rise: f64,
}

impl Piece {
    fn full(text: String) -> Self {
        Self {
            text,
            size: 1.0,
            rise: 0.0,
        }
    }

    fn small(text: String, rise: f64) -> Self {
        Self {
            text,
            size: FRACTION_SIZE,
            rise,
        }
    }

    fn width_mm(&self, font_mm: f64, weight: Weight) -> f64 {
        letters_width(&self.text, font_mm * self.size, weight)
    }
}

/// Control characters have no shape, and some are not allowed in the files: they are left out.
fn shown(text: &str) -> String {
    text.chars()
        .filter(|character| !character.is_control())
        .collect()
}

fn letters_width(text: &str, font_mm: f64, weight: Weight) -> f64 {
    let thousandths: u32 = text
        .chars()
        .filter(|character| !helvetica::is_shapeless(*character))
        .map(|character| u32::from(helvetica::advance(character, weight)))
        .sum();
    f64::from(thousandths) / 1000.0 * font_mm
}

/// The size of the font whose capitals have the given height.
pub fn font_size_mm(height_mm: f64) -> f64 {
    height_mm * 1000.0 / CAPITAL_HEIGHT
}

/// The width of plain words on paper, in millimeters, with capitals of the given height.
pub fn width_mm(text: &str, height_mm: f64, weight: Weight) -> f64 {
    letters_width(text, font_size_mm(height_mm), weight)
}

/// The words, or as many of their first letters as fit the width, closed by an ellipsis.
pub fn shorten(text: &str, max_width_mm: f64, height_mm: f64, weight: Weight) -> String {
    let whole = shown(text);
    if width_mm(&whole, height_mm, weight) <= max_width_mm {
        return whole;
    }
    let mut kept = String::new();
    let mut width = width_mm("\u{2026}", height_mm, weight);
    for character in whole.chars() {
        width += width_mm(character.encode_utf8(&mut [0; 4]), height_mm, weight);
        if width > max_width_mm {
            break;
        }
        kept.push(character);
    }
    let mut kept = kept.trim_end().to_owned();
    kept.push('\u{2026}');
    kept
}

/// The words broken into lines that fit the width; a word too long for a line is cut.
pub fn wrap(text: &str, max_width_mm: f64, height_mm: f64, weight: Weight) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        let mut line = String::new();
        for word in &unbroken(paragraph) {
            let longer = if line.is_empty() {
                word.to_owned()
            } else {
                [&line, " ", word].concat()
            };
            if width_mm(&longer, height_mm, weight) <= max_width_mm {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            line = cut_word(word, max_width_mm, height_mm, weight, &mut lines);
        }
        lines.push(line);
    }
    lines
}

/// The words, with a fraction kept on the line of its whole number, and a unit on that of
/// its figure: "1" at a line's end and "13/16 in" on the next are read as 13/16 in.
fn unbroken(paragraph: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in paragraph.split_whitespace() {
        let figure = |text: &str| text.ends_with(|last: char| last.is_ascii_digit());
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let is_bound = ["in", "mm"].contains(&bare)
            || (bare.starts_with(|first: char| first.is_ascii_digit()) && bare.contains('/'));
        match words.last_mut() {
            Some(last) if is_bound && figure(last) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Puts full lines of a word that is too long among the lines, and returns what is left of it.
fn cut_word(
    word: &str,
    max_width_mm: f64,
    height_mm: f64,
    weight: Weight,
    lines: &mut Vec<String>,
) -> String {
    let mut line = String::new();
    for character in word.chars() {
        let mut longer = line.clone();
        longer.push(character);
        // At least one letter a line, or a width of nothing would never end.
        if !line.is_empty() && width_mm(&longer, height_mm, weight) > max_width_mm {
            lines.push(std::mem::take(&mut line));
            line.push(character);
        } else {
            line = longer;
        }
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    const H: f64 = 3.5;

    #[test]
    fn a_width_adds_up_from_the_published_widths() {
        // "Ring": R 722, i 222, n 556, g 556.
        let expected = (722.0 + 222.0 + 556.0 + 556.0) / 1000.0 * H * 1000.0 / 718.0;
        assert!((width_mm("Ring", H, Weight::Regular) - expected).abs() < 1e-12);
    }

    #[test]
    fn a_fraction_is_measured_by_its_parts() {
        let line = Lettering::default().fraction(2, 3, 4).then(" in");
        let font = font_size_mm(H);
        let expected = (556.0 + 0.6 * 556.0 + 167.0 + 0.6 * 556.0 + 278.0 + 222.0 + 556.0) / 1000.0;
        assert!((line.width_mm(H, Weight::Regular) - expected * font).abs() < 1e-12);
        assert_eq!(line.spoken(), "2 3/4 in");
        assert_eq!(Lettering::default().fraction(0, 1, 2).spoken(), "1/2");
    }

    #[test]
    fn lines_fit_and_lose_no_word() {
        let text = "Turn the rim down to the line before you take the ring off the faceplate";
        for width in [12.0, 25.0, 60.0] {
            let lines = wrap(text, width, H, Weight::Regular);
            assert!(
                lines
                    .iter()
                    .all(|line| width_mm(line, H, Weight::Regular) <= width)
            );
            let joined: String = lines.concat().split_whitespace().collect();
            assert_eq!(joined, text.split_whitespace().collect::<String>());
        }
        assert_eq!(wrap("one\ntwo", 100.0, H, Weight::Regular), ["one", "two"]);
    }

    #[test]
    fn a_fraction_stays_with_its_whole_number_and_its_unit() {
        let text = "clamp it at least 1 13/16 in above the table, 30 mm, or 6 3/4 in. there";
        for width in 25..90 {
            for line in wrap(text, f64::from(width), H, Weight::Regular) {
                assert!(
                    !line.ends_with(|last: char| last.is_ascii_digit()),
                    "{line}"
                );
            }
        }
    }

    #[test]
    fn a_line_narrower_than_a_letter_still_ends() {
        assert_eq!(wrap("abc", 0.0, H, Weight::Regular), ["a", "b", "c"]);
        assert_eq!(wrap("abc", f64::NAN, H, Weight::Bold).len(), 1);
    }

    #[test]
    fn a_shortened_name_fits_and_says_so() {
        let name = "Osage and maple bowl for the club table";
        let short = shorten(name, 30.0, H, Weight::Bold);
        assert!(short.ends_with('\u{2026}'));
        assert!(width_mm(&short, H, Weight::Bold) <= 30.0);
        assert_eq!(shorten("Bowl", 30.0, H, Weight::Bold), "Bowl");
    }

    #[test]
    fn control_characters_are_left_out() {
        assert_eq!(Lettering::plain("a\u{1b}b\nc").spoken(), "abc");
        assert!(Lettering::plain("\u{7}").is_empty());
    }
}
