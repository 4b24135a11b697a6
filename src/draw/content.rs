//! The contents of a PDF page: operators with their operands before them (ISO 32000-1,
//! 7.8.2 and annex A). By hand, since a packet holds a hundred thousand numbers, and the
//! general way to write a number costs more time than all else.

use super::Point;

/// Operators in their order.
#[derive(Default)]
pub(super) struct Content {
    bytes: Vec<u8>,
}

impl Content {
    /// The bytes.
    pub fn finish(self) -> Vec<u8> {
        self.bytes
    }

    /// A number to a ten-thousandth, and a blank.
    pub fn number(&mut self, value: f64) {
        let mut parts = (value * 10_000.0).round() as i64;
        if parts < 0 {
            self.bytes.push(b'-');
            parts = -parts;
        }
        let (mut whole, rest) = (parts as u64 / 10_000, parts as u32 % 10_000);
        let mut digits = [0_u8; 20];
        let mut start = digits.len();
        while whole > 0 || (start == digits.len() && rest == 0) {
            start -= 1;
            digits[start] = b'0' + (whole % 10) as u8;
            whole /= 10;
        }
        self.bytes.extend(&digits[start..]);
        if rest > 0 {
            let four = [rest / 1000, rest / 100 % 10, rest / 10 % 10, rest % 10];
            let kept = four.iter().rposition(|digit| *digit > 0).unwrap_or(0);
            self.bytes.push(b'.');
            self.bytes
                .extend(four[..=kept].iter().map(|digit| b'0' + *digit as u8));
        }
        self.bytes.push(b' ');
    }

    /// Numbers and the operator that they are for.
    pub fn operator(&mut self, numbers: &[f64], operator: &str) {
        for number in numbers {
            self.number(*number);
        }
        self.word(operator);
    }

    /// Places to a thousandth of a millimeter, and the operator that they are for.
    pub fn places(&mut self, places: &[Point], operator: &str) {
        for part in places.iter().flat_map(|place| [place.x, place.y]) {
            self.number((part * 1000.0).round() / 1000.0);
        }
        self.word(operator);
    }

    /// A word, a name or anything else that is written as it is.
    pub fn word(&mut self, word: &str) {
        self.bytes.extend(word.as_bytes());
        self.bytes.push(b'\n');
    }

    /// A string in the font's codes, and the operator that it is for (7.3.4.2).
    pub fn string(&mut self, codes: &[u8], operator: &str) {
        self.bytes.push(b'(');
        for code in codes {
            match code {
                b'(' | b')' | b'\\' => self.bytes.extend([b'\\', *code]),
                b'\r' => self.bytes.extend(b"\\r"),
                _ => self.bytes.push(*code),
            }
        }
        self.bytes.push(b')');
        self.word(operator);
    }

    /// A string in Unicode (7.9.2.2), in hexadecimal digits.
    pub fn unicode(&mut self, text: &str) {
        let digit = |number: u16| b"0123456789ABCDEF"[usize::from(number & 15)];
        self.bytes.extend(b"<FEFF");
        for unit in text.encode_utf16() {
            self.bytes
                .extend([12, 8, 4, 0].map(|shift| digit(unit >> shift)));
        }
        self.bytes.push(b'>');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_reads_back_to_a_ten_thousandth() {
        for value in [
            0.0,
            1.0,
            -1.0,
            0.5,
            -0.25,
            0.00004,
            0.00006,
            12.3,
            123.4567,
            -99_999.999_9,
            1e5,
        ] {
            let mut content = Content::default();
            content.number(value);
            let text = String::from_utf8(content.finish()).unwrap();
            let read: f64 = text.trim().parse().unwrap();
            assert!((read - value).abs() <= 0.000_05 + 1e-9, "{value}: {text}");
        }
        let mut content = Content::default();
        content.operator(&[f64::NAN, 10.0, 0.25], "l");
        assert_eq!(content.finish(), b"0 10 .25 l\n");
    }
}
