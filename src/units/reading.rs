//! Lengths and plain numbers as they are typed: fractions of an inch, decimals, feet,
//! millimeters, and every mix of them that a hand types, turned into millimeters.

use crate::units::length::{MM_PER_INCH, Unit};

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
/// use ringwright::units::{length::Unit, reading::parse};
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

/// Reads a plain number as typed, `0,25`, `1/4` or `12.5`, with `marks` allowed before and
/// behind it (a degree or currency sign).
///
/// # Errors
/// As [`parse`].
pub fn parse_number(typed: &str, marks: &[char]) -> Result<f64, NotALength> {
    let is_beside = |c: char| c.is_whitespace() || marks.contains(&c);
    let kept = typed.trim_matches(is_beside);
    // Without a unit an inch is 1 inch: the value comes back as typed.
    let is_strange = |c: char| c.is_ascii_alphabetic() || "\"'′″“”’‘".contains(c);
    if kept.contains(is_strange) {
        // As it was typed, with a letter at its end that alone would be a mark.
        let strange = typed.find(is_strange).map_or("", |from| &typed[from..]);
        let word: String = strange.chars().take_while(|c| c.is_alphabetic()).collect();
        let mark = strange.chars().take(1).collect();
        return Err(NotALength::Strange(if word.is_empty() {
            mark
        } else {
            word
        }));
    }
    parse(kept, Unit::InchDecimal).map(|mm| {
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
    fn a_number_is_not_a_length() {
        assert_eq!(parse_number("0,25°", &['°']), Ok(0.25));
        assert_eq!(parse_number("1/4", &[]), Ok(0.25));
        assert_eq!(parse_number("-0.1", &[]), Ok(-0.1));
        assert_eq!(parse_number("$12.50", &['$']), Ok(12.5));
        assert!(parse_number("12 mm", &[]).is_err());
        let celsius = ['°', 'C', 'c'];
        assert_eq!(parse_number("20 °C", &celsius), Ok(20.0));
        let strange = |it: &str| Err(NotALength::Strange(it.to_owned()));
        assert_eq!(parse_number("abc", &celsius), strange("abc"));
        // A mark amid digits is none: 2 and 1 are not 21.
        assert_eq!(parse_number("2c1", &celsius), strange("c"));
        assert!(parse_number("15°30", &['°']).is_err());
        assert!(parse_number("12\"", &[]).is_err());
    }
}
