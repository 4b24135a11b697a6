//! Lengths as turners write and read them: fractions of an inch, decimal inches,
//! millimeters, and every mix of them that a hand types.
//!
//! Inside the library a length is always an `f64` in millimeters. This file is the
//! edge, with [`super::reading`], which turns typed text into millimeters: [`show`] turns millimeters
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

/// The same, but never less than the length itself.
pub fn rounded_up_mm(length_mm: f64, unit: Unit) -> f64 {
    -steps_down(-length_mm, unit.step_mm()) * unit.step_mm()
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
/// nearest step with what it leaves over, which [`super::reading`] reads again.
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
}
