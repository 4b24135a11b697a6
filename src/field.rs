//! The fields in which the turner decides: one table of what each takes.
//!
//! A field's key is its path in the design's JSON, so that reading a file, opening a
//! link, typing into the page and resetting a bad value all use the same row.

use crate::closing::OpenAt;
use crate::design::{Between, HoleBy, PaperSize, PricePer};
use crate::length::{self, NotALength, Unit};
use crate::trouble::{Reason, Trouble};
use serde_json::Value;

/// The keys, by name.
pub mod key {
    #![allow(missing_docs, reason = "each name says what the field is")]
    pub const DESIGN: &str = "design";
    pub const NAME: &str = "name";
    pub const UNIT: &str = "unit";
    pub const OUTSIDE_DIAMETER: &str = "ring.outside_diameter_mm";
    pub const HOLE_BY: &str = "ring.hole_by";
    pub const WALL: &str = "ring.wall_mm";
    pub const INSIDE_DIAMETER: &str = "ring.inside_diameter_mm";
    pub const HEIGHT: &str = "ring.height_mm";
    pub const SEGMENT_COUNT: &str = "ring.segment_count";
    pub const BETWEEN: &str = "ring.between";
    pub const SPACER: &str = "ring.spacer_mm";
    pub const WOOD: &str = "ring.wood";
    pub const OUTSIDE_ALLOWANCE: &str = "allowance.outside_mm";
    pub const INSIDE_ALLOWANCE: &str = "allowance.inside_mm";
    pub const FACE_ALLOWANCE: &str = "allowance.face_mm";
    pub const KERF: &str = "shop.kerf_mm";
    pub const HOLD_BACK: &str = "shop.hold_back_mm";
    pub const STRIP_LENGTH: &str = "shop.strip_length_mm";
    pub const PRICE: &str = "shop.price";
    pub const PRICE_PER: &str = "shop.price_per";
    pub const DRY_FIT_OPEN_AT: &str = "dry_fit.open_at";
    pub const DRY_FIT_GAP: &str = "dry_fit.gap_mm";
    pub const GLUED_COUNT: &str = "dry_fit.glued_count";
    pub const GLUED_ANGLE: &str = "dry_fit.glued_angle_deg";
    pub const STAVE_COUNT: &str = "stave.count";
    pub const STAVE_LEAN: &str = "stave.lean_deg";
    pub const STAVE_LENGTH: &str = "stave.length_mm";
    pub const STAVE_BOTTOM: &str = "stave.bottom_diameter_mm";
    pub const PAPER: &str = "paper.size";
}

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
    /// A price, 0 or more.
    Money,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Free text of at most so many characters.
    Text(usize),
}

/// One field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// Its path in the design's JSON.
    pub key: &'static str,
    /// What it takes.
    pub kind: Kind,
    /// Whether it may be empty.
    pub optional: bool,
}

/// 20 m: longer than any lathe, and small enough that every sum stays exact.
const LONGEST_MM: f64 = 20_000.0;

const fn length(key: &'static str, least: f64) -> Field {
    let most = LONGEST_MM;
    Field {
        key,
        kind: Kind::Length { least, most },
        optional: false,
    }
}

const fn count(key: &'static str, least: u32, most: u32) -> Field {
    Field {
        key,
        kind: Kind::Count { least, most },
        optional: false,
    }
}

const fn choice(key: &'static str, words: &'static [&'static str]) -> Field {
    Field {
        key,
        kind: Kind::Choice(words),
        optional: false,
    }
}

const fn optional(field: Field) -> Field {
    Field {
        optional: true,
        ..field
    }
}

/// The smallest length that a ring is made of: a hundredth of a millimeter, so that
/// 0 and negative lengths are refused where there must be wood.
const SOME: f64 = 0.01;

/// Every field of a design.
pub const FIELDS: &[Field] = &[
    Field {
        key: key::NAME,
        kind: Kind::Text(200),
        optional: true,
    },
    choice(key::UNIT, Unit::WORDS),
    length(key::OUTSIDE_DIAMETER, 1.0),
    choice(key::HOLE_BY, HoleBy::WORDS),
    length(key::WALL, SOME),
    length(key::INSIDE_DIAMETER, 0.0),
    length(key::HEIGHT, SOME),
    count(key::SEGMENT_COUNT, 3, 360),
    choice(key::BETWEEN, Between::WORDS),
    length(key::SPACER, 0.0),
    Field {
        key: key::WOOD,
        kind: Kind::Text(80),
        optional: true,
    },
    length(key::OUTSIDE_ALLOWANCE, 0.0),
    length(key::INSIDE_ALLOWANCE, 0.0),
    length(key::FACE_ALLOWANCE, 0.0),
    length(key::KERF, 0.0),
    length(key::HOLD_BACK, 0.0),
    length(key::STRIP_LENGTH, SOME),
    Field {
        key: key::PRICE,
        kind: Kind::Money,
        optional: true,
    },
    choice(key::PRICE_PER, PricePer::WORDS),
    choice(key::DRY_FIT_OPEN_AT, OpenAt::WORDS),
    optional(length(key::DRY_FIT_GAP, 0.0)),
    count(key::GLUED_COUNT, 1, 360),
    Field {
        key: key::GLUED_ANGLE,
        kind: Kind::Degrees {
            least: 0.1,
            most: 360.0,
        },
        optional: true,
    },
    count(key::STAVE_COUNT, 3, 360),
    Field {
        key: key::STAVE_LEAN,
        kind: Kind::Degrees {
            least: -89.0,
            most: 89.0,
        },
        optional: false,
    },
    length(key::STAVE_LENGTH, SOME),
    length(key::STAVE_BOTTOM, SOME),
    choice(key::PAPER, PaperSize::WORDS),
];

/// The field with this key.
pub fn find(key: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| field.key == key)
}

impl Field {
    /// Turns typed text into the value that the design's JSON holds; `null` for an
    /// optional field left empty.
    ///
    /// # Errors
    /// When the text cannot be read, or lies outside what the field takes.
    pub fn read(&self, typed: &str, unit: Unit) -> Result<Value, Trouble> {
        if self.optional && typed.trim().is_empty() {
            return Ok(self.empty());
        }
        let number = |read: Result<f64, NotALength>| {
            read.map_err(|why| Trouble::at(self.key, Reason::NotALength(why)))
        };
        let value = match self.kind {
            Kind::Length { .. } => Value::from(number(length::parse(typed, unit))?),
            Kind::Degrees { .. } => Value::from(number(length::parse_number(typed, &['°']))?),
            Kind::Money => Value::from(number(length::parse_number(typed, &['$', '€', '£', '¥']))?),
            Kind::Count { .. } => {
                let value = number(length::parse_number(typed, &[]))?;
                if value.fract() != 0.0 {
                    return Err(Trouble::at(self.key, Reason::NotWhole(value)));
                }
                Value::from(value)
            }
            Kind::Choice(_) => Value::from(typed),
            Kind::Text(most) => Value::from(clean_text(typed, most)),
        };
        self.check(&value)
    }

    /// Checks a value that came from anywhere (typed, file, link) and returns it in
    /// the form that the design holds.
    ///
    /// # Errors
    /// When it is of the wrong kind or outside what the field takes.
    pub fn check(&self, value: &Value) -> Result<Value, Trouble> {
        if self.optional && value.is_null() {
            return Ok(self.empty());
        }
        let wrong_kind = || Trouble::at(self.key, Reason::WrongKind);
        let number = || {
            value
                .as_f64()
                .filter(|n| n.is_finite())
                .ok_or_else(wrong_kind)
        };
        let text = || value.as_str().ok_or_else(wrong_kind);
        match self.kind {
            Kind::Length { least, most } | Kind::Degrees { least, most } => {
                self.within(number()?, least, most).map(Value::from)
            }
            Kind::Money => self.within(number()?, 0.0, 1e6).map(Value::from),
            Kind::Count { least, most } => {
                let count = number()?;
                if count.fract() != 0.0 {
                    return Err(Trouble::at(self.key, Reason::NotWhole(count)));
                }
                let count = self.within(count, f64::from(least), f64::from(most))?;
                Ok(Value::from(count as u32))
            }
            Kind::Choice(words) => {
                let word = text()?;
                if words.contains(&word) {
                    Ok(Value::from(word))
                } else {
                    let seen = clean_text(word, 40);
                    Err(Trouble::at(self.key, Reason::NotAChoice(seen)))
                }
            }
            Kind::Text(most) => Ok(Value::from(clean_text(text()?, most))),
        }
    }

    /// What an optional field holds when it is left empty.
    fn empty(&self) -> Value {
        match self.kind {
            Kind::Text(_) => Value::from(""),
            _ => Value::Null,
        }
    }

    fn within(&self, value: f64, least: f64, most: f64) -> Result<f64, Trouble> {
        if value < least || value > most {
            return Err(Trouble::at(
                self.key,
                Reason::OutOfRange { value, least, most },
            ));
        }
        Ok(value)
    }
}

/// Free text without control characters, and not longer than `most` characters.
fn clean_text(typed: &str, most: usize) -> String {
    typed
        .chars()
        .filter(|c| !c.is_control())
        .take(most)
        .collect()
}
