//! Bytes read as what a hand does: places, lengths, words. Where they end, all is nought.

use ringwright::design::field::Kind;
use ringwright::plan::season::AIRS;
use ringwright::units::length::Unit;
use serde_json::{Value, json};

/// Every unit.
pub const UNITS: [Unit; 6] = [
    Unit::Inch8,
    Unit::Inch16,
    Unit::Inch32,
    Unit::Inch64,
    Unit::InchDecimal,
    Unit::Millimeter,
];

/// Numbers that are often the ones too much.
const ODD: [f64; 16] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    0.5,
    1e-9,
    -1e-9,
    1e-3,
    359.999,
    1e6,
    -1e6,
    1e300,
    f64::MAX,
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
];

/// Lengths that fields mostly take.
const LENGTHS: [f64; 12] = [
    0.0, 0.001, 0.01, 0.1, 1.0, 3.0, 12.7, 19.05, 100.0, 254.0, 2000.0, 20_000.0,
];

/// Words and names. None of them is to be taken for a number that is none.
const WORDS: [&str; 12] = [
    "",
    "maple",
    "Black Walnut",
    "cherry",
    "my own wood",
    "-2+3",
    "<b>&\"'",
    "é木🪵",
    "bowl",
    " ",
    "a name that is longer than any line on any sheet of any packet could be, and goes on for a good while more",
    "null",
];

/// Texts that fields mostly take, and some that none takes.
const TYPED: [&str; 16] = [
    "", "0", "1", "3", "12", "360", "7 1/2", "1/64", "300 mm", "0.001", "-1", "1e9", "99999",
    "yes", "no", "x",
];

/// Bytes that are used up from the front.
pub struct Hand<'a> {
    rest: &'a [u8],
    mark: u64,
}

impl<'a> Hand<'a> {
    /// All of these.
    pub fn new(bytes: &'a [u8]) -> Hand<'a> {
        // FNV-1a, offset basis and prime of Fowler, Noll and Vo.
        let mark = bytes.iter().fold(0xcbf2_9ce4_8422_2325, |mark, byte| {
            (mark ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
        });
        Hand { rest: bytes, mark }
    }

    /// Whether these bytes are of the few that more is done with: the same on every run.
    pub fn is_one_in(&self, count: u64) -> bool {
        (self.mark >> 16).is_multiple_of(count)
    }

    /// Whether they are used up.
    pub fn is_empty(&self) -> bool {
        self.rest.is_empty()
    }

    fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.rest.split_first() else {
            return 0;
        };
        self.rest = rest;
        *first
    }

    /// A whole number below another.
    pub fn below(&mut self, end: usize) -> usize {
        let wide = if end > 256 {
            usize::from(self.byte()) << 8
        } else {
            0
        };
        (wide + usize::from(self.byte())) % end.max(1)
    }

    /// One of a list.
    pub fn one_of<'b, T>(&mut self, list: &'b [T]) -> &'b T {
        &list[self.below(list.len())]
    }

    /// A place in a list: mostly one that is there.
    pub fn place(&mut self) -> usize {
        match self.byte() {
            255 => usize::MAX,
            254 => u32::MAX as usize,
            byte => usize::from(byte) % 24,
        }
    }

    /// Any number that crosses the page's door.
    pub fn number(&mut self) -> f64 {
        match self.below(8) {
            0 => *self.one_of(&ODD),
            1 | 2 => -self.length(),
            3 => f64::from_bits(u64::from_le_bytes(std::array::from_fn(|_| self.byte()))),
            _ => self.length(),
        }
    }

    /// How a picture maps lengths, in so many numbers: mostly in such as there could be.
    pub fn view(&mut self, count: usize) -> Value {
        let count = if self.below(16) == 0 { 2 } else { count };
        let is_odd = self.below(8) == 0;
        let numbers = (0..count).map(|place| match (is_odd, place) {
            (true, _) => self.number(),
            // Where things stand, and how large they are drawn.
            (false, 0 | 1) => self.length(),
            (false, _) => 0.01 + f64::from(self.byte()) / 50.0,
        });
        numbers.collect()
    }

    /// A length that a field might take.
    pub fn length(&mut self) -> f64 {
        match self.below(4) {
            0 => *self.one_of(&LENGTHS),
            1 => f64::from(self.byte()) / 10.0,
            _ => (f64::from(self.byte()) * 256.0 + f64::from(self.byte())) / 100.0,
        }
    }

    /// A name.
    pub fn word(&mut self) -> &'static str {
        WORDS[self.below(WORDS.len())]
    }

    /// The word of an air.
    pub fn air(&mut self) -> &'static str {
        self.one_of(AIRS).0
    }

    /// What is typed into a field of this kind.
    pub fn typed(&mut self, kind: Option<Kind>) -> String {
        match (self.below(6), kind) {
            (0, _) | (_, None) => (*self.one_of(&TYPED)).to_owned(),
            (_, Some(Kind::Choice(words))) => (*self.one_of(words)).to_owned(),
            (_, Some(Kind::Text(_))) => self.word().to_owned(),
            (_, Some(Kind::Color)) => (*self.one_of(&["#102030", "#ffffff", "", "red"])).to_owned(),
            (_, Some(Kind::Flag)) => (*self.one_of(&["yes", "no"])).to_owned(),
            (_, Some(Kind::Count { .. })) => self.below(400).to_string(),
            (_, Some(Kind::Shares)) => {
                format!("{} {} {}", self.below(10), self.below(10), self.below(10))
            }
            (_, Some(Kind::Counts { .. })) => format!("{} {}", self.below(200), self.below(800)),
            (_, Some(Kind::Lengths { .. })) => {
                format!("{} mm; {} mm", self.length(), self.length())
            }
            (_, Some(Kind::Length { least, most })) => {
                let length = match self.below(8) {
                    0 => least,
                    1 => most,
                    _ => self.length(),
                };
                format!("{length} mm")
            }
            (_, Some(_)) => self.length().to_string(),
        }
    }

    /// Any part of a file.
    pub fn value(&mut self) -> Value {
        match self.below(9) {
            0 => Value::Null,
            1 => (self.below(2) == 0).into(),
            2 => self.word().into(),
            3 => (*self.one_of(&TYPED)).into(),
            4 => self.below(400).into(),
            5 => json!([self.length(), self.length()]),
            6 => json!({ "height_mm": self.length() }),
            7 => self.number().into(),
            _ => self.length().into(),
        }
    }
}
