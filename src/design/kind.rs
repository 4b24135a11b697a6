//! What a field of a design takes: its kind with its bounds, and how it is read and checked.

use crate::design::trouble::Reason;
use crate::units::length::Unit;
use crate::units::reading;
use serde_json::Value;

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A length, in millimeters, within these bounds.
    Length {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A whole number within these bounds.
    Count {
        /// The least it takes.
        least: u32,
        /// The most it takes.
        most: u32,
    },
    /// An angle in degrees within these bounds.
    Degrees {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A plain number within these bounds.
    Number {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A share in percent within these bounds.
    Percent {
        /// The least it takes.
        least: f64,
        /// The most it takes.
        most: f64,
    },
    /// A temperature, kept in °C, within these bounds; typed in °F beside inches.
    Temperature {
        /// The least it takes, °C.
        least: f64,
        /// The most it takes, °C.
        most: f64,
    },
    /// A color, `#rrggbb`.
    Color,
    /// A price, 0 or more.
    Money,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Free text of at most so many characters.
    Text(usize),
    /// Yes or no.
    Flag,
    /// A few lengths in one field, kept as a list, each more than 0.
    Lengths {
        /// How many it takes.
        most_count: usize,
    },
    /// Shares of a whole that are repeated, kept as a list of whole numbers; none where all
    /// are alike.
    Shares,
    /// Whole numbers, kept as a list; may be none.
    Counts {
        /// The smallest taken.
        least: u32,
        /// The largest taken.
        most: u32,
        /// How many it takes.
        most_count: usize,
    },
}

/// The largest share: wider segments than nine narrow ones nobody glues beside these.
pub(crate) const MOST_SHARE: f64 = 9.0;

/// The longest repeat of shares.
const MOST_SHARES: usize = 24;

/// One field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// Its path in the design's JSON.
    pub key: &'static str,
    /// What the turner reads beside it.
    pub label: &'static str,
    /// What it takes.
    pub kind: Kind,
    /// Whether it may be empty.
    pub optional: bool,
}

/// 20 m: longer than any lathe, and small enough that every sum stays exact.
pub(crate) const LONGEST_MM: f64 = 20_000.0;

/// The smallest length that a ring is made of: a hundredth of a millimeter, so that
/// 0 and negative lengths are refused where there must be wood.
pub(crate) const SOME_MM: f64 = 0.01;

/// A field of this kind that is always filled; key and label stand in its row.
pub const fn of(kind: Kind) -> Field {
    Field {
        key: "",
        label: "",
        kind,
        optional: false,
    }
}

impl Field {
    /// Turns typed text into the value that the design's JSON holds; `null` for an
    /// optional field left empty.
    ///
    /// # Errors
    /// When the text cannot be read, or lies outside what the field takes.
    pub fn read(&self, typed: &str, unit: Unit) -> Result<Value, Reason> {
        if self.optional && typed.trim().is_empty() {
            return Ok(self.empty());
        }
        let number =
            |marks: &[char]| reading::parse_number(typed, marks).map_err(Reason::NotALength);
        let value = match self.kind {
            Kind::Length { .. } => {
                Value::from(reading::parse(typed, unit).map_err(Reason::NotALength)?)
            }
            Kind::Degrees { .. } => Value::from(number(&['°'])?),
            Kind::Percent { .. } => Value::from(number(&['%'])?),
            Kind::Temperature { .. } => {
                let is_fahrenheit = match typed.trim().chars().last() {
                    Some('C' | 'c') => false,
                    Some('F' | 'f') => true,
                    _ => unit.is_inch(),
                };
                let degrees = number(&['°', 'C', 'c', 'F', 'f'])?;
                Value::from(if is_fahrenheit {
                    (degrees - 32.0) / 1.8
                } else {
                    degrees
                })
            }
            Kind::Color => Value::from(typed.trim()),
            Kind::Money => Value::from(number(&['$', '€', '£', '¥'])?),
            Kind::Count { .. } | Kind::Number { .. } => Value::from(number(&[])?),
            Kind::Choice(_) => Value::from(typed),
            Kind::Text(most) => Value::from(clean_text(typed, most)),
            Kind::Flag => Value::from(typed == "yes"),
            Kind::Lengths { .. } => typed
                .split([';', '\n'])
                .filter(|part| !part.trim().is_empty())
                .map(|part| reading::parse(part, unit).map(Value::from))
                .collect::<Result<Value, _>>()
                .map_err(Reason::NotALength)?,
            Kind::Shares | Kind::Counts { .. } => typed
                .split([' ', ',', ';', ':', '/'])
                .filter(|part| !part.is_empty())
                .map(|part| reading::parse_number(part, &[]).map(Value::from))
                .collect::<Result<Value, _>>()
                .map_err(Reason::NotALength)?,
        };
        self.check(&value)
    }

    /// Checks a value that came from anywhere (typed, file, link) and returns it in
    /// the form that the design holds.
    ///
    /// # Errors
    /// When it is of the wrong kind or outside what the field takes.
    pub fn check(&self, value: &Value) -> Result<Value, Reason> {
        if self.optional && value.is_null() {
            return Ok(self.empty());
        }
        match self.kind {
            Kind::Length { least, most }
            | Kind::Degrees { least, most }
            | Kind::Number { least, most }
            | Kind::Percent { least, most }
            | Kind::Temperature { least, most } => {
                within(number(value)?, least, most).map(Value::from)
            }
            Kind::Color => {
                let color = text(value)?;
                let is_color = color.len() == 7
                    && color.starts_with('#')
                    && color[1..].bytes().all(|byte| byte.is_ascii_hexdigit());
                if is_color || (self.optional && color.is_empty()) {
                    Ok(Value::from(color))
                } else {
                    Err(Reason::NotAChoice(clean_text(color, 40)))
                }
            }
            Kind::Money => within(number(value)?, 0.0, 1e6).map(Value::from),
            Kind::Count { least, most } => {
                let count = number(value)?;
                if count.fract() != 0.0 {
                    return Err(Reason::NotWhole(count));
                }
                let count = within(count, f64::from(least), f64::from(most))?;
                Ok(Value::from(count as u32))
            }
            Kind::Choice(words) => {
                let word = text(value)?;
                if words.contains(&word) {
                    Ok(Value::from(word))
                } else {
                    Err(Reason::NotAChoice(clean_text(word, 40)))
                }
            }
            Kind::Text(most) => Ok(Value::from(clean_text(text(value)?, most))),
            Kind::Flag => value.as_bool().map(Value::from).ok_or(Reason::WrongKind),
            Kind::Lengths { most_count } => {
                let list = value.as_array().ok_or(Reason::WrongKind)?;
                if !(1..=most_count).contains(&list.len()) {
                    return Err(Reason::ListOf {
                        count: list.len(),
                        most: most_count,
                    });
                }
                list.iter()
                    .map(|each| within(number(each)?, SOME_MM, LONGEST_MM).map(Value::from))
                    .collect()
            }
            Kind::Counts {
                least,
                most,
                most_count,
            } => {
                let range = [f64::from(least), f64::from(most)];
                Ok(Value::from(whole_numbers(value, range, most_count)?))
            }
            Kind::Shares => {
                let shares = whole_numbers(value, [1.0, MOST_SHARE], MOST_SHARES)?;
                // Alike is alike, however it was typed.
                let is_even = shares.iter().all(|it| *it == shares[0]);
                Ok(Value::from(if is_even { Vec::new() } else { shares }))
            }
        }
    }

    /// What an optional field holds when it is left empty.
    fn empty(&self) -> Value {
        match self.kind {
            Kind::Text(_) | Kind::Color => Value::from(""),
            Kind::Shares | Kind::Counts { .. } => Value::Array(Vec::new()),
            _ => Value::Null,
        }
    }
}

/// A list of so many whole numbers at most, each from one to another.
fn whole_numbers(
    value: &Value,
    [least, most]: [f64; 2],
    most_count: usize,
) -> Result<Vec<u32>, Reason> {
    let list = value.as_array().ok_or(Reason::WrongKind)?;
    if list.len() > most_count {
        return Err(Reason::ListOf {
            count: list.len(),
            most: most_count,
        });
    }
    let whole = |each: &Value| {
        let count = within(number(each)?, least, most)?;
        if count.fract() != 0.0 {
            return Err(Reason::NotWhole(count));
        }
        Ok(count as u32)
    };
    list.iter().map(whole).collect()
}

fn number(value: &Value) -> Result<f64, Reason> {
    value
        .as_f64()
        .filter(|number| number.is_finite())
        .ok_or(Reason::WrongKind)
}

fn text(value: &Value) -> Result<&str, Reason> {
    value.as_str().ok_or(Reason::WrongKind)
}

fn within(value: f64, least: f64, most: f64) -> Result<f64, Reason> {
    if value < least || value > most {
        return Err(Reason::OutOfRange { value, least, most });
    }
    Ok(value)
}

/// Free text without control characters, and not longer than `most` characters.
pub(super) fn clean_text(typed: &str, most: usize) -> String {
    typed
        .chars()
        .filter(|c| !c.is_control())
        .take(most)
        .collect()
}
