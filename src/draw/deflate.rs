//! Fewer bytes for files that repeat themselves: DEFLATE (RFC 1951) with the fixed codes,
//! and its ZLIB frame (RFC 1950). A sheet of paper repeats its numbers and operators so
//! much that the fixed codes bring most of what the best would, in a tenth of the code.

/// Longest and shortest repetition.
const LONGEST: usize = 258;
const SHORTEST: usize = 4;

/// How far back a repetition may lie.
const WINDOW: usize = 32_768;

/// Places remembered: by the hash of four bytes.
const PLACES: usize = 1 << 13;

/// How many earlier places with the same hash are looked at.
const TRIES: u32 = 6;

/// The bytes packed.
pub fn deflate(bytes: &[u8]) -> Vec<u8> {
    let mut out = Bits::default();
    // The last block, with the fixed codes.
    out.put(0b011, 3);
    let mut newest = vec![usize::MAX; PLACES];
    let mut before = vec![usize::MAX; WINDOW];
    let mut at = 0;
    while at < bytes.len() {
        let (length, distance) = repetition(bytes, at, &newest, &before);
        let step = if length >= SHORTEST {
            out.length(length);
            out.distance(distance);
            length
        } else {
            out.literal(u32::from(bytes[at]));
            1
        };
        for place in at..at + step {
            if let Some(hash) = hash(bytes, place) {
                before[place % WINDOW] = newest[hash];
                newest[hash] = place;
            }
        }
        at += step;
    }
    out.literal(256);
    out.finish()
}

/// The bytes packed within a ZLIB frame.
pub fn zlib(bytes: &[u8]) -> Vec<u8> {
    let mut out = vec![0x78, 0x01];
    out.extend(deflate(bytes));
    out.extend(adler32(bytes).to_be_bytes());
    out
}

/// The checksum of RFC 1950, section 8.2. Sums of 5,000 bytes fit into 32 bits.
fn adler32(bytes: &[u8]) -> u32 {
    let (mut one, mut two) = (1_u32, 0_u32);
    for part in bytes.chunks(5_000) {
        for byte in part {
            one += u32::from(*byte);
            two += one;
        }
        one %= 65_521;
        two %= 65_521;
    }
    (two << 16) | one
}

fn hash(bytes: &[u8], at: usize) -> Option<usize> {
    let four = bytes.get(at..at + 4)?;
    let number = u32::from_le_bytes([four[0], four[1], four[2], four[3]]);
    Some((number.wrapping_mul(0x9e37_79b1) >> 19) as usize)
}

/// The longest of the earlier places that go on alike, and how far back it lies.
fn repetition(bytes: &[u8], at: usize, newest: &[usize], before: &[usize]) -> (usize, usize) {
    let mut best = (0, 0);
    let Some(hash) = hash(bytes, at) else {
        return best;
    };
    let mut place = newest[hash];
    for _ in 0..TRIES {
        if place == usize::MAX || at - place >= WINDOW {
            break;
        }
        // A longer one must be alike just behind the best so far.
        if bytes.get(at + best.0) == bytes.get(place + best.0) {
            let most = LONGEST.min(bytes.len() - at);
            let mut length = 0;
            while length < most && bytes[place + length] == bytes[at + length] {
                length += 1;
            }
            if length > best.0 {
                best = (length, at - place);
            }
        }
        let earlier = before[place % WINDOW];
        // Places overwritten by newer ones no longer lead back.
        if earlier >= place {
            break;
        }
        place = earlier;
    }
    best
}

/// Bits, the lowest of each byte first.
#[derive(Default)]
struct Bits {
    bytes: Vec<u8>,
    held: u64,
    count: u32,
}

impl Bits {
    fn put(&mut self, value: u32, count: u32) {
        self.held |= u64::from(value) << self.count;
        self.count += count;
        while self.count >= 8 {
            self.bytes.push(self.held as u8);
            self.held >>= 8;
            self.count -= 8;
        }
    }

    /// A code, which begins with its highest bit.
    fn code(&mut self, code: u32, count: u32) {
        self.put(code.reverse_bits() >> (32 - count), count);
    }

    /// A literal, or the end of the block (RFC 1951, 3.2.6).
    fn literal(&mut self, symbol: u32) {
        match symbol {
            0..=143 => self.code(0x30 + symbol, 8),
            144..=255 => self.code(0x190 + symbol - 144, 9),
            256..=279 => self.code(symbol - 256, 7),
            _ => self.code(0xc0 + symbol - 280, 8),
        }
    }

    /// A length (RFC 1951, 3.2.5).
    fn length(&mut self, length: usize) {
        if length == LONGEST {
            self.literal(285);
            return;
        }
        let rest = length as u32 - 3;
        let extra = if rest < 8 { 0 } else { rest.ilog2() - 2 };
        self.literal(257 + 4 * extra + (rest >> extra));
        self.put(rest & ((1 << extra) - 1), extra);
    }

    /// How far back.
    fn distance(&mut self, distance: usize) {
        let rest = distance as u32 - 1;
        let extra = if rest < 4 { 0 } else { rest.ilog2() - 1 };
        self.code(2 * extra + (rest >> extra), 5);
        self.put(rest & ((1 << extra) - 1), extra);
    }

    fn finish(mut self) -> Vec<u8> {
        if self.count > 0 {
            self.bytes.push(self.held as u8);
        }
        self.bytes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checksum_is_the_published_one() {
        // The worked example of the Adler-32 algorithm, from memory.
        assert_eq!(adler32(b"Wikipedia"), 0x11e6_0398);
        assert_eq!(adler32(b""), 1);
    }
}
