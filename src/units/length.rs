//! Lengths as turners write and read them: fractions of an inch, decimal inches,
//! millimeters, and every mix of them that a hand types.
//!
//! Inside the library a length is always an `f64` in millimeters. This file is the
//! edge: [`parse`] turns typed text into millimeters, [`show`] turns millimeters
//! into what stands on the tape, and [`entry_text`] into what an entry field holds.
//!
//! 1 inch = 25.4 mm exactly (international yard and pound agreement of 1959;
//! NIST Special Publication 811, appendix B).

use crate::units::kept::kept_choice;
use serde::Serialize;

/// Millimeters in one inch, by definition (NIST SP 811).
pub const MM_PER_INCH: f64 = 25.4;

kept_choice! {
    /// What a length is shown in. The fraction's denominator is part of the unit
    /// because it is a property of the tape in the turner's hand.
    pub enum Unit {
        /// Inches and eighths.
        Inch8 = "inch_8",
        /// Inches and sixteenths.
        Inch16 = "inch_16",
        /// Inches and thirty-seconds.
        Inch32 = "inch_32",
        /// Inches and sixty-fourths.
        Inch64 = "inch_64",
        /// Inches with three decimals.
        InchDecimal = "inch_decimal",
        /// Millimeters.
        Millimeter = "millimeter",
    }
}

impl Unit {
    /// How many parts of an inch a pulled length snaps to: the tape's, hundredths for
    /// decimals.
    fn parts_an_inch(self) -> f64 {
        self.denominator().map_or(100.0, f64::from)
    }

    /// The step that a pulled length snaps to: half millimeters where no fraction is set.
    pub fn snap_step_mm(self) -> f64 {
        if self.is_inch() {
            inch_parts_mm(1.0, self.parts_an_inch())
        } else {
            0.5
        }
    }

    /// A length to the nearest step of the tape.
    pub fn snapped(self, length_mm: f64) -> f64 {
        let steps = (length_mm / self.snap_step_mm()).round();
        if self.is_inch() {
            inch_parts_mm(steps, self.parts_an_inch())
        } else {
            steps * 0.5
        }
    }

    /// The same with the finest fractions, for figures that must be told apart from each other.
    #[must_use]
    pub fn finest(self) -> Unit {
        self.denominator().map_or(self, |_| Unit::Inch64)
    }

    /// The smallest fraction's denominator, for the fraction units.
    pub fn denominator(self) -> Option<u32> {
        match self {
            Unit::Inch8 => Some(8),
            Unit::Inch16 => Some(16),
            Unit::Inch32 => Some(32),
            Unit::Inch64 => Some(64),
            Unit::InchDecimal | Unit::Millimeter => None,
        }
    }

    /// Whether lengths are in inches.
    pub fn is_inch(self) -> bool {
        self != Unit::Millimeter
    }

    /// How many millimeters one whole unit is.
    pub fn in_mm(self) -> f64 {
        if self.is_inch() { MM_PER_INCH } else { 1.0 }
    }

    /// A temperature as it is shown beside lengths in this unit: °F beside inches.
    /// t/°F = 1.8 t/°C + 32 exactly (NIST SP 811, appendix B).
    pub fn shown_degrees(self, temperature_c: f64) -> f64 {
        if self.is_inch() {
            1.8 * temperature_c + 32.0
        } else {
            temperature_c
        }
    }

    /// The mark of such a temperature.
    pub fn degrees_mark(self) -> &'static str {
        if self.is_inch() { "°F" } else { "°C" }
    }

    /// The mark behind a figure: `in` or `mm`.
    pub fn mark(self) -> &'static str {
        if self.is_inch() { "in" } else { "mm" }
    }

    /// The length to which a figure in this unit is rounded, in millimeters.
    pub fn step_mm(self) -> f64 {
        match self.denominator() {
            Some(denominator) => MM_PER_INCH / f64::from(denominator),
            None if self.is_inch() => MM_PER_INCH / 1000.0,
            None => 0.1,
        }
    }
}

/// A number as it is set in type: a decimal, or a whole and a fraction, with what
/// the rounding left over.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Shown {
    /// The part before the fraction, or the whole decimal; with a minus sign
    /// (U+2212) where negative. Empty when only a fraction is there.
    pub whole: String,
    /// Numerator of the fraction; 0 when there is none.
    pub numerator: u32,
    /// Denominator of the fraction in lowest terms; 1 when there is none.
    pub denominator: u32,
    /// The mark behind it: `in`, `mm`, `°`, or nothing.
    pub unit: String,
    /// True value less shown value, where it would show: `−0.012`. Empty otherwise.
    pub remainder: String,
    /// What a screen reader says: `2 and 3/4 inches`.
    pub spoken: String,
    /// The same in one line of plain text, without the unit: `2 3/4`.
    pub text: String,
    /// Whether it is told in words and not by a number.
    pub is_words: bool,
}

/// A spoken unit of one: `minute` of `minutes`.
fn one_of(units: &str) -> String {
    if let Some(unit) = units.strip_suffix("inches") {
        return format!("{unit}inch");
    }
    if let Some(unit) = units.strip_suffix("feet") {
        return format!("{unit}foot");
    }
    units.strip_suffix('s').unwrap_or(units).to_owned()
}

impl Shown {
    /// A plain decimal with a mark behind it.
    pub fn decimal(text: String, unit: &str, spoken_unit: &str) -> Shown {
        let spoken_unit = if text == "1" {
            one_of(spoken_unit)
        } else {
            spoken_unit.to_owned()
        };
        Shown {
            spoken: format!("{text}{spoken_unit}").replace('\u{2212}', "minus "),
            whole: text.clone(),
            numerator: 0,
            denominator: 1,
            unit: unit.to_owned(),
            remainder: String::new(),
            text,
            is_words: false,
        }
    }

    /// Text and unit in one line: `2 3/4 in`, `15°`.
    pub fn line(&self) -> String {
        let space = if self.unit.is_empty() || self.unit == "°" {
            ""
        } else {
            " "
        };
        format!("{}{space}{}", self.text, self.unit)
    }

    /// The same with what the rounding left over: `2 3/4 in +0.011`.
    pub fn whole_line(&self) -> String {
        if self.remainder.is_empty() {
            return self.line();
        }
        format!("{} {}", self.line(), self.remainder)
    }
}

/// Why typed text is not a length. The words for it stand in [`crate::show::words`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotALength {
    /// Nothing was typed.
    Empty,
    /// A sign, letter or word that has no place in a length; holds it.
    Strange(String),
    /// The fraction has 0 below, or is not closed: `1/0`, `3/`.
    BrokenFraction(String),
    /// `1,250` may be a thousand or a decimal.
    TwoReadings(String),
    /// A bare fraction while millimeters are set: inch or millimeter?
    WhichUnit(String),
    /// `81/4` may be a whole and a fraction; holds it, and what it may be.
    WholeOrFraction(String, Vec<String>),
    /// Too long to be a length: more digits than a number holds.
    TooLong,
}

/// One typed part: a number and the millimeters in its unit, if one was typed.
struct Part {
    value: f64,
    unit_mm: Option<f64>,
    is_fraction: bool,
    is_feet: bool,
}

/// Reads a length as typed, in millimeters. A unit that was typed wins over `unit`.
///
/// Takes `10`, `10 1/2`, `10-1/2`, `10½`, `10.5"`, `10' 2"`, `266 mm`, `26,7 cm`,
/// `1/8`, `3/4"`, `-8 1/2` (which is −8.5, not −7.5).
///
/// ```
/// use ringwright::units::length::{parse, Unit};
/// assert_eq!(parse("10-1/2", Unit::Inch16), Ok(266.7));
/// assert_eq!(parse("26,7 cm", Unit::Inch16), Ok(267.0));
/// ```
///
/// # Errors
/// Says what stood in the way; see [`NotALength`].
pub fn parse(typed: &str, unit: Unit) -> Result<f64, NotALength> {
    if typed.chars().count() > 60 {
        return Err(NotALength::TooLong);
    }
    let plain = plain_characters(typed);
    let text = plain.trim();
    if text.is_empty() {
        return Err(NotALength::Empty);
    }
    let (text, left_over) = apart_from_remainder(text);
    let left_over_mm = left_over * unit.in_mm();
    let (negative, mut rest) = match text.strip_prefix('-') {
        Some(after) => (true, after.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text).trim_start()),
    };
    let mut parts: Vec<Part> = Vec::new();
    while !rest.is_empty() {
        let after_feet = parts.last().is_some_and(|part| part.is_feet);
        if after_feet {
            rest = rest.strip_prefix('-').unwrap_or(rest).trim_start();
        }
        let (part, after) = read_part(rest)?;
        let may_follow = parts.is_empty() || (after_feet && !part.is_feet);
        if !may_follow {
            return Err(NotALength::Strange(rest.trim().to_owned()));
        }
        parts.push(part);
        rest = after.trim_start();
    }
    let mut total_mm = 0.0;
    let has_feet = parts.iter().any(|part| part.is_feet);
    for part in &parts {
        let unit_mm = match part.unit_mm {
            Some(unit_mm) => unit_mm,
            None if has_feet => MM_PER_INCH,
            None if part.is_fraction && !unit.is_inch() => {
                return Err(NotALength::WhichUnit(text.to_owned()));
            }
            None => unit.in_mm(),
        };
        total_mm += part.value * unit_mm;
    }
    if !total_mm.is_finite() {
        return Err(NotALength::TooLong);
    }
    Ok(left_over_mm + if negative { -total_mm } else { total_mm })
}

/// The text before a remainder, and what that is: `7 3/4 +0.011`, as figures are shown.
fn apart_from_remainder(text: &str) -> (&str, f64) {
    let apart = || {
        let (before, last) = text.rsplit_once(' ')?;
        let sign = if last.starts_with('-') { -1.0 } else { 1.0 };
        let digits = last.strip_prefix(['+', '-'])?;
        let is_remainder = digits
            .strip_prefix("0.")?
            .bytes()
            .all(|it| it.is_ascii_digit());
        let value: f64 = digits.parse().ok().filter(|_| is_remainder)?;
        Some((before.trim_end(), sign * value))
    };
    apart().filter(|it| !it.0.is_empty()).unwrap_or((text, 0.0))
}

/// Reads a plain number as typed, `0,25`, `1/4` or `12.5`, with `mark` allowed
/// behind it (a degree or currency sign).
///
/// # Errors
/// As [`parse`].
pub fn parse_number(typed: &str, marks: &[char]) -> Result<f64, NotALength> {
    let kept: String = typed.chars().filter(|c| !marks.contains(c)).collect();
    // Without a unit an inch is 1 inch: the value comes back as typed.
    let from = kept.find(|c: char| c.is_ascii_alphabetic() || "\"'′″“”’‘".contains(c));
    if let Some(strange) = from.map(|from| &kept[from..]) {
        let word: String = strange.chars().take_while(|c| c.is_alphabetic()).collect();
        let mark = strange.chars().take(1).collect();
        return Err(NotALength::Strange(if word.is_empty() {
            mark
        } else {
            word
        }));
    }
    parse(&kept, Unit::InchDecimal).map(|mm| {
        let value = mm / MM_PER_INCH;
        // Undo the detour through millimeters: typed decimals are short.
        (value * 1e9).round() / 1e9
    })
}

/// Folds the many ways in which keyboards write the same sign into plain ASCII.
fn plain_characters(typed: &str) -> String {
    let mut plain = String::with_capacity(typed.len() + 8);
    for c in typed.chars() {
        if let Some((numerator, denominator)) = vulgar_fraction(c) {
            // Set apart on both sides: in `⅞8` the 8 does not go on below the stroke.
            plain.extend([
                " ",
                &numerator.to_string(),
                "/",
                &denominator.to_string(),
                " ",
            ]);
            continue;
        }
        match c {
            '\u{2044}' | '\u{2215}' => plain.push('/'),
            '\u{2212}' | '\u{2013}' | '\u{2012}' | '\u{2011}' | '\u{2010}' => plain.push('-'),
            '′' | '’' | '‘' | '´' | '`' => plain.push('\''),
            '″' | '“' | '”' | '„' => plain.push('"'),
            // Superscript and subscript digits, as our own fractions are set.
            '⁰' | '₀' => plain.push('0'),
            '¹' | '₁' => raised(&mut plain, c, '1'),
            '²' | '₂' => raised(&mut plain, c, '2'),
            '³' | '₃' => raised(&mut plain, c, '3'),
            '⁴' | '₄' => raised(&mut plain, c, '4'),
            '⁵' | '₅' => raised(&mut plain, c, '5'),
            '⁶' | '₆' => raised(&mut plain, c, '6'),
            '⁷' | '₇' => raised(&mut plain, c, '7'),
            '⁸' | '₈' => raised(&mut plain, c, '8'),
            '⁹' | '₉' => raised(&mut plain, c, '9'),
            c if c.is_whitespace() => plain.push(' '),
            c => plain.push(c.to_ascii_lowercase()),
        }
    }
    plain
}

/// A raised digit begins the fraction, so it is set apart from the whole before it.
fn raised(plain: &mut String, original: char, digit: char) {
    let is_raised = !('₀'..='₉').contains(&original);
    let after_whole = plain.ends_with(|c: char| c.is_ascii_digit());
    if is_raised && after_whole && !plain.contains(RAISED) {
        plain.push(' ');
    }
    if is_raised && !plain.contains(RAISED) {
        plain.push(RAISED);
    }
    plain.push(digit);
}

/// Marks, while folding, that a raised numerator has begun; skipped by the reader.
const RAISED: char = '\u{1}';

/// The fractions that have a character of their own (Unicode, Number Forms block).
fn vulgar_fraction(c: char) -> Option<(u32, u32)> {
    Some(match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅒' => (1, 10),
        _ => return None,
    })
}

/// Reads `10`, `10 1/2`, `10-1/2`, `1/2` and the unit behind it.
fn read_part(text: &str) -> Result<(Part, &str), NotALength> {
    let (first, is_whole, after_first) = read_number(text)?;
    let mut value = first;
    let mut is_fraction = false;
    let mut rest = after_first;
    if let Some(below) = rest.trim_start().strip_prefix('/') {
        let (denominator, after) = read_denominator(below, is_whole, text)?;
        let typed = text[..text.len() - after.len()].trim_end();
        let readings = readings(typed, first, denominator);
        if readings.len() > 1 {
            return Err(NotALength::WholeOrFraction(typed.to_owned(), readings));
        }
        value = first / denominator;
        is_fraction = true;
        rest = after;
    } else if let Some((fraction, after)) = read_following_fraction(rest, is_whole)? {
        value += fraction;
        is_fraction = true;
        rest = after;
    }
    let (unit_mm, is_feet, after_unit) = read_unit(rest.trim_start())?;
    Ok((
        Part {
            value,
            unit_mm,
            is_fraction,
            is_feet,
        },
        after_unit,
    ))
}

/// What a fraction may be: where more stands above than below, a space may be missing
/// behind the first digits; the last is what it is as typed. Raised digits leave no doubt.
fn readings(typed: &str, above: f64, below: f64) -> Vec<String> {
    let (above, below) = (above as u64, below as u64);
    let mut readings = Vec::new();
    if above < below || typed.starts_with(RAISED) {
        return readings;
    }
    let mut split = 10;
    while above / split > 0 {
        let (whole, part) = (above / split, above % split);
        if part >= split / 10 && part < below {
            readings.push(format!("{whole} {part}/{below}"));
        }
        split *= 10;
    }
    readings.push(match above % below {
        0 => (above / below).to_string(),
        part => format!("{} {part}/{below}", above / below),
    });
    readings
}

/// The fraction behind a whole number: ` 1/2` or `-1/2`.
fn read_following_fraction(
    text: &str,
    after_whole: bool,
) -> Result<Option<(f64, &str)>, NotALength> {
    let start = text.trim_start();
    let start = start.strip_prefix('-').unwrap_or(start).trim_start();
    let Ok((numerator, is_whole, after)) = read_number(start) else {
        return Ok(None);
    };
    let Some(below) = after.trim_start().strip_prefix('/') else {
        return Ok(None);
    };
    if !after_whole {
        return Err(NotALength::BrokenFraction(start.trim().to_owned()));
    }
    let (denominator, rest) = read_denominator(below, is_whole, start)?;
    Ok(Some((numerator / denominator, rest)))
}

/// What stands below the fraction stroke: a whole number above 0.
fn read_denominator<'a>(
    text: &'a str,
    numerator_is_whole: bool,
    all: &str,
) -> Result<(f64, &'a str), NotALength> {
    let broken = || NotALength::BrokenFraction(all.trim().to_owned());
    let (denominator, is_whole, rest) = read_number(text.trim_start()).map_err(|_| broken())?;
    let another = rest.trim_start();
    if !numerator_is_whole || !is_whole || denominator == 0.0 || another.starts_with('/') {
        return Err(broken());
    }
    Ok((denominator, rest))
}

/// Digits with at most one decimal sign; whether it was whole; what follows.
fn read_number(text: &str) -> Result<(f64, bool, &str), NotALength> {
    let text = text.trim_start_matches(RAISED);
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    if !digits.contains(|c: char| c.is_ascii_digit()) {
        return Err(NotALength::Strange(strange_word(text)));
    }
    let signs = digits.matches(['.', ',']).count();
    if signs > 1 {
        return Err(NotALength::TwoReadings(digits.to_owned()));
    }
    if let Some((before, after)) = digits.split_once(',') {
        let is_thousand = after.len() == 3 && !before.is_empty() && before != "0";
        if is_thousand {
            return Err(NotALength::TwoReadings(digits.to_owned()));
        }
    }
    Ok((decimal_value(digits)?, signs == 0, rest))
}

/// The value of digits with at most one decimal sign. Up to 15 digits both halves are
/// exact in an `f64`, so that one division rounds rightly; a length has never more.
/// (The standard library's reader brings 10 kB of tables for the other cases.)
fn decimal_value(digits: &str) -> Result<f64, NotALength> {
    let mut value = 0_u64;
    let mut divisor = 1_u64;
    let mut is_behind_sign = false;
    let significant = digits.trim_start_matches('0');
    if significant.bytes().filter(u8::is_ascii_digit).count() > 15 || digits.len() > 18 {
        return Err(NotALength::TooLong);
    }
    for digit in digits.bytes() {
        if digit.is_ascii_digit() {
            value = value * 10 + u64::from(digit - b'0');
            divisor *= if is_behind_sign { 10 } else { 1 };
        } else {
            is_behind_sign = true;
        }
    }
    Ok(value as f64 / divisor as f64)
}

/// The first word of the text, cut to a length that fits a message.
fn strange_word(text: &str) -> String {
    text.split_whitespace()
        .next()
        .unwrap_or(text)
        .chars()
        .take(20)
        .collect()
}

/// The unit at the start of the text: its millimeters, whether it is feet, the rest.
fn read_unit(text: &str) -> Result<(Option<f64>, bool, &str), NotALength> {
    for (mark, mm, is_feet) in [
        ("''", MM_PER_INCH, false),
        ("\"", MM_PER_INCH, false),
        ("'", MM_PER_INCH * 12.0, true),
    ] {
        if let Some(rest) = text.strip_prefix(mark) {
            return Ok((Some(mm), is_feet, rest));
        }
    }
    let end = text
        .find(|c: char| !c.is_ascii_alphabetic())
        .unwrap_or(text.len());
    let (word, rest) = text.split_at(end);
    let rest = rest.strip_prefix('.').unwrap_or(rest);
    match word {
        "" => Ok((None, false, text)),
        "mm" | "millimeter" | "millimeters" | "millimetre" | "millimetres" => {
            Ok((Some(1.0), false, rest))
        }
        "cm" | "centimeter" | "centimeters" | "centimetre" | "centimetres" => {
            Ok((Some(10.0), false, rest))
        }
        "m" | "meter" | "meters" | "metre" | "metres" => Ok((Some(1000.0), false, rest)),
        "in" | "inch" | "inches" => Ok((Some(MM_PER_INCH), false, rest)),
        "ft" | "foot" | "feet" => Ok((Some(MM_PER_INCH * 12.0), true, rest)),
        other => Err(NotALength::Strange(strange_word(other))),
    }
}

/// Shows a length as it stands on the tape, rounded to the unit's step, with what
/// the rounding left over. `length_mm` must be finite.
///
/// ```
/// use ringwright::units::length::{show, Unit};
/// let shown = show(2.738 * 25.4, Unit::Inch8);
/// assert_eq!((shown.text.as_str(), shown.remainder.as_str()), ("2 3/4", "−0.012"));
/// ```
pub fn show(length_mm: f64, unit: Unit) -> Shown {
    in_steps(length_mm, (length_mm / unit.step_mm()).round(), unit)
}

/// A limit that must not be passed, as [`show`] has it, but never rounded up: what is
/// left over is never less than nothing.
///
/// ```
/// use ringwright::units::length::{at_most, Unit};
/// let shown = at_most(0.6 * 25.4, Unit::Inch8);
/// assert_eq!((shown.text.as_str(), shown.remainder.as_str()), ("1/2", "+0.100"));
/// ```
pub fn at_most(length_mm: f64, unit: Unit) -> Shown {
    in_steps(length_mm, steps_down(length_mm, unit.step_mm()), unit)
}

/// A limit that must be reached, as [`show`] has it, but never rounded down.
pub fn at_least(length_mm: f64, unit: Unit) -> Shown {
    in_steps(length_mm, -steps_down(-length_mm, unit.step_mm()), unit)
}

/// The same where what is over does not matter, as of a clamp's reach.
pub fn no_less(length_mm: f64, unit: Unit) -> Shown {
    let mut shown = at_least(length_mm, unit);
    shown.remainder.clear();
    shown
}

/// How many whole steps are in a length. Where sums left dust below a step, it is that step.
pub fn steps_down(length_mm: f64, step_mm: f64) -> f64 {
    ((length_mm + 1e-6) / step_mm).floor()
}

/// A length as so many steps of its unit, with what they leave over.
fn in_steps(length_mm: f64, steps: f64, unit: Unit) -> Shown {
    let Some(finest) = unit.denominator() else {
        let shown_mm = steps * unit.step_mm();
        return if unit.is_inch() {
            Shown::decimal(decimal(shown_mm / MM_PER_INCH, 3), "in", " inches")
        } else {
            Shown::decimal(decimal(shown_mm, 1), "mm", " millimeters")
        };
    };
    let left_over = length_mm / MM_PER_INCH - steps / f64::from(finest);
    let mut shown = fraction(steps.abs() as u64, finest, steps < 0.0);
    if left_over.abs() >= 0.000_5 {
        let sign = if left_over < 0.0 { '\u{2212}' } else { '+' };
        shown.remainder = format!("{sign}{:.3}", left_over.abs());
    }
    shown
}

/// A number of parts of an inch, in millimeters: always the very same number for the
/// same figure, so that links can write it in a byte or two.
pub fn inch_parts_mm(parts: f64, parts_an_inch: f64) -> f64 {
    parts / parts_an_inch * MM_PER_INCH
}

/// To a hundredth of a millimeter, so that files and links stay short.
pub fn round(length_mm: f64) -> f64 {
    (length_mm * 100.0).round() / 100.0
}

/// The length that the shown figure stands for, in millimeters: `length_mm` rounded
/// to the unit's step.
pub fn as_shown_mm(length_mm: f64, unit: Unit) -> f64 {
    (length_mm / unit.step_mm()).round() * unit.step_mm()
}

/// `steps` of 1/`finest` inch in lowest terms.
fn fraction(steps: u64, finest: u32, negative: bool) -> Shown {
    let whole = steps / u64::from(finest);
    let mut numerator = (steps % u64::from(finest)) as u32;
    let mut denominator = finest;
    while numerator != 0 && numerator.is_multiple_of(2) {
        numerator /= 2;
        denominator /= 2;
    }
    if numerator == 0 {
        denominator = 1;
    }
    let sign = if negative { "\u{2212}" } else { "" };
    let spoken_sign = if negative { "minus " } else { "" };
    let (text, spoken) = match (whole, numerator) {
        (1, 0) => (format!("{sign}1"), "1 inch".to_owned()),
        (_, 0) => (format!("{sign}{whole}"), format!("{whole} inches")),
        (0, _) => (
            format!("{sign}{numerator}/{denominator}"),
            format!("{numerator}/{denominator} inch"),
        ),
        _ => (
            format!("{sign}{whole} {numerator}/{denominator}"),
            format!("{whole} and {numerator}/{denominator} inches"),
        ),
    };
    Shown {
        whole: if whole == 0 && numerator != 0 {
            sign.to_owned()
        } else {
            format!("{sign}{whole}")
        },
        numerator,
        denominator,
        unit: "in".to_owned(),
        remainder: String::new(),
        spoken: format!("{spoken_sign}{spoken}"),
        text,
        is_words: false,
    }
}

/// What an entry field holds: nothing is rounded away that the turner typed.
/// Multiples of 1/64 in are shown as such even where the tape is coarser; anything
/// else as a decimal with up to four places.
pub fn entry_text(length_mm: f64, unit: Unit) -> String {
    if unit.denominator().is_some() {
        let steps = length_mm / MM_PER_INCH * 64.0;
        if (steps - steps.round()).abs() < 1e-6 {
            return fraction(steps.abs().round() as u64, 64, steps < 0.0).text;
        }
    }
    let places = if unit.is_inch() { 4 } else { 3 };
    decimal(length_mm / unit.in_mm(), places)
}

/// What an entry field holds of a length that the page may have worked out: as [`entry_text`] has
/// it where it is of the tape or was typed with decimals; else, where fractions are set, the
/// nearest step with what it leaves over, which [`parse`] reads again.
///
/// ```
/// use ringwright::units::length::{worked_out_text, Unit};
/// assert_eq!(worked_out_text(197.12, Unit::Inch16), "7 3/4 +0.011");
/// assert_eq!(worked_out_text(7.7606 * 25.4, Unit::Inch16), "7.7606");
/// ```
pub fn worked_out_text(length_mm: f64, unit: Unit) -> String {
    let parts = length_mm / MM_PER_INCH * 1e4;
    let is_typed = (parts - parts.round()).abs() < 1e-5;
    let shown = show(length_mm, unit);
    if is_typed || shown.remainder.is_empty() {
        return entry_text(length_mm, unit);
    }
    format!("{} {}", shown.text, shown.remainder)
}

/// A decimal with at most `places` places and no trailing zeros; U+2212 for minus.
pub fn decimal(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = if places > 0 {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    match text.strip_prefix('-') {
        Some("0") => "0".to_owned(),
        Some(positive) => format!("\u{2212}{positive}"),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Typed text, the unit set, and the length in millimeters.
    const READS: &[(&str, Unit, f64)] = &[
        ("10", Unit::Inch16, 254.0),
        ("10", Unit::Millimeter, 10.0),
        ("10 1/2", Unit::Inch16, 266.7),
        ("10-1/2", Unit::Inch16, 266.7),
        ("10 - 1/2", Unit::Inch16, 266.7),
        ("10½", Unit::Inch16, 266.7),
        ("10 ½", Unit::Inch16, 266.7),
        ("10½\"", Unit::Inch16, 266.7),
        ("½in", Unit::Inch16, 12.7),
        ("½", Unit::Inch16, 12.7),
        ("10.5\"", Unit::Millimeter, 266.7),
        ("10.5''", Unit::Millimeter, 266.7),
        ("10.5 in", Unit::Millimeter, 266.7),
        ("10.5 in.", Unit::Millimeter, 266.7),
        ("10' 2\"", Unit::Inch16, 122.0 * 25.4),
        ("10'2", Unit::Millimeter, 122.0 * 25.4),
        ("10'-2\"", Unit::Inch16, 122.0 * 25.4),
        ("10 ft 2 in", Unit::Inch16, 122.0 * 25.4),
        ("5' 3/4\"", Unit::Inch16, 60.75 * 25.4),
        ("5' 2 3/4\"", Unit::Inch16, 62.75 * 25.4),
        ("1'", Unit::Millimeter, 304.8),
        ("266 mm", Unit::Inch16, 266.0),
        ("266mm", Unit::Inch16, 266.0),
        ("26,7 cm", Unit::Inch16, 267.0),
        ("0,125", Unit::Inch16, 3.175),
        ("0.26 m", Unit::Inch16, 260.0),
        ("1/8", Unit::Inch16, 3.175),
        ("3/4\"", Unit::Millimeter, 19.05),
        ("1/3", Unit::Inch64, 25.4 / 3.0),
        ("-8 1/2", Unit::Inch16, -215.9),
        ("−8 1/2", Unit::Inch16, -215.9),
        (".5", Unit::Inch16, 12.7),
        ("2³⁄₄", Unit::Inch16, 69.85),
        ("2¹¹⁄₁₆", Unit::Inch16, 2.6875 * 25.4),
        ("10”", Unit::Inch16, 254.0),
        ("  7  ", Unit::Inch16, 177.8),
        ("10 1/2 IN", Unit::Millimeter, 266.7),
        ("4/2", Unit::Inch16, 50.8),
        ("5/4", Unit::Inch16, 31.75),
        ("9/8", Unit::Inch16, 28.575),
        ("11/16", Unit::Inch16, 17.4625),
        ("10/4", Unit::Inch16, 63.5),
        ("20/16", Unit::Inch16, 31.75),
        ("8 1/4", Unit::Inch16, 209.55),
        ("8-1/4", Unit::Inch16, 209.55),
        ("²⁵⁄₈", Unit::Inch16, 79.375),
    ];

    #[test]
    fn reads_what_people_type() {
        for &(typed, unit, expected_mm) in READS {
            let read = parse(typed, unit).unwrap_or_else(|why| panic!("{typed}: {why:?}"));
            assert!((read - expected_mm).abs() < 1e-9, "{typed}: {read}");
        }
    }

    #[test]
    fn refuses_what_has_no_meaning_or_two() {
        for typed in [
            "",
            "  ",
            "abc",
            "1/0",
            "1/1 1/2",
            "1 1/2/3",
            "3/",
            "/4",
            "10 20",
            "10.5.2",
            "1,250",
            "1.5 1/2",
            "1.5/2",
            "10 furlongs",
            "NaN",
            "inf",
            "1e300",
            "2 mm 3 mm",
            "1' 2'",
            "--3",
            "10\" 2'",
            "0x10",
            "½ ½",
            "⅞8",
            "½/3",
            "<b>",
        ] {
            assert!(parse(typed, Unit::Inch16).is_err(), "{typed:?}");
        }
        assert!(parse(&"9".repeat(400), Unit::Inch16).is_err());
        assert_eq!(
            parse("1/8", Unit::Millimeter),
            Err(NotALength::WhichUnit("1/8".into()))
        );
    }

    #[test]
    fn a_missing_space_is_asked_for() {
        for (typed, text, may_be) in [
            ("81/4", "81/4", vec!["8 1/4", "20 1/4"]),
            ("121/2 in", "121/2", vec!["12 1/2", "60 1/2"]),
            ("115/16", "115/16", vec!["11 5/16", "1 15/16", "7 3/16"]),
            ("81 ⁄ 4\"", "81 / 4", vec!["8 1/4", "20 1/4"]),
            ("5' 81/4", "81/4", vec!["8 1/4", "20 1/4"]),
            ("-16/8", "16/8", vec!["1 6/8", "2"]),
        ] {
            let may_be = may_be.into_iter().map(str::to_owned).collect();
            assert_eq!(
                parse(typed, Unit::Inch16),
                Err(NotALength::WholeOrFraction(text.to_owned(), may_be)),
            );
        }
    }

    #[test]
    fn shows_what_is_on_the_tape() {
        let cases: &[(f64, Unit, &str, &str, &str)] = &[
            (69.85, Unit::Inch16, "2 3/4", "", "2 and 3/4 inches"),
            (
                2.738 * 25.4,
                Unit::Inch8,
                "2 3/4",
                "\u{2212}0.012",
                "2 and 3/4 inches",
            ),
            (3.175, Unit::Inch8, "1/8", "", "1/8 inch"),
            (3.2, Unit::Inch8, "1/8", "+0.001", "1/8 inch"),
            (254.0, Unit::Inch64, "10", "", "10 inches"),
            (
                -215.9,
                Unit::Inch16,
                "\u{2212}8 1/2",
                "",
                "minus 8 and 1/2 inches",
            ),
            (0.1, Unit::Inch8, "0", "+0.004", "0 inches"),
            (-0.1, Unit::Inch8, "0", "\u{2212}0.004", "0 inches"),
            (25.39, Unit::Inch16, "1", "", "1 inch"),
            (69.85, Unit::InchDecimal, "2.75", "", "2.75 inches"),
            (69.86, Unit::Millimeter, "69.9", "", "69.9 millimeters"),
            (-0.01, Unit::Millimeter, "0", "", "0 millimeters"),
        ];
        for (mm, unit, text, remainder, spoken) in cases {
            let shown = show(*mm, *unit);
            assert_eq!(
                (&*shown.text, &*shown.remainder),
                (*text, *remainder),
                "{mm} {unit:?}"
            );
            assert_eq!(shown.spoken, *spoken);
        }
    }

    #[test]
    fn a_limit_is_rounded_to_its_harmless_side() {
        let cases: &[(f64, Unit, &str, &str, &str, &str)] = &[
            (0.6, Unit::Inch8, "1/2", "+0.100", "5/8", "\u{2212}0.025"),
            (
                0.4425,
                Unit::Inch16,
                "7/16",
                "+0.005",
                "1/2",
                "\u{2212}0.057",
            ),
            (2.75, Unit::Inch16, "2 3/4", "", "2 3/4", ""),
            (0.6001, Unit::InchDecimal, "0.6", "", "0.601", ""),
            (
                -0.1,
                Unit::Inch8,
                "\u{2212}1/8",
                "+0.025",
                "0",
                "\u{2212}0.100",
            ),
        ];
        for (inches, unit, down, over, up, under) in cases {
            let mm = inches * MM_PER_INCH;
            let (most, least) = (at_most(mm, *unit), at_least(mm, *unit));
            assert_eq!((&*most.text, &*most.remainder), (*down, *over), "{inches}");
            assert_eq!((&*least.text, &*least.remainder), (*up, *under), "{inches}");
        }
        assert_eq!(at_most(12.38, Unit::Millimeter).text, "12.3");
        assert_eq!(at_least(12.32, Unit::Millimeter).text, "12.4");
        // What was summed up of steps is not one step less.
        assert_eq!(at_most(0.1 + 0.2, Unit::Millimeter).text, "0.3");
        assert_eq!(at_least(0.1 + 0.2, Unit::Millimeter).text, "0.3");
    }

    #[test]
    fn a_number_is_not_a_length() {
        assert_eq!(parse_number("0,25°", &['°']), Ok(0.25));
        assert_eq!(parse_number("1/4", &[]), Ok(0.25));
        assert_eq!(parse_number("-0.1", &[]), Ok(-0.1));
        assert_eq!(parse_number("$12.50", &['$']), Ok(12.5));
        assert!(parse_number("12 mm", &[]).is_err());
        assert!(parse_number("12\"", &[]).is_err());
    }
}
