//! Fewer bytes for files that repeat themselves: DEFLATE (RFC 1951), with codes of the file's
//! own where they are worth their head, and its ZLIB frame (RFC 1950).

/// Longest and shortest repetition.
const LONGEST: usize = 258;
const SHORTEST: usize = 4;

/// From which length on no longer one is looked for.
const LONG: usize = 32;

/// How many symbols there are for letters and lengths, with the two that have a fixed code but
/// no meaning, and for distances; the one that ends a block.
const LETTERS: usize = 288;
const DISTANCES: usize = 30;
const END: usize = 256;

/// How far back a repetition may lie.
const WINDOW: usize = 32_768;

/// Places remembered: by the hash of four bytes.
const PLACES: usize = 1 << 13;

/// How many earlier places with the same hash are looked at.
const TRIES: u32 = 6;

/// The bytes packed.
pub fn deflate(bytes: &[u8]) -> Vec<u8> {
    let parts = parts(bytes);
    let mut counts = [vec![0_u32; LETTERS], vec![0_u32; DISTANCES]];
    counts[0][END] = 1;
    for part in &parts {
        match *part {
            (letter, 0) => counts[0][usize::from(letter)] += 1,
            (length, distance) => {
                counts[0][length_code(length).0] += 1;
                counts[1][distance_code(distance).0] += 1;
            }
        }
    }
    let fixed = [(0..LETTERS).map(fixed_length).collect(), vec![5; DISTANCES]];
    let mut lengths = [0, 1].map(|kind| code_lengths(&counts[kind], 15));
    let cost = |lengths: &[Vec<u8>; 2]| -> usize {
        let each = counts.iter().flatten().zip(lengths.iter().flatten());
        each.map(|(count, length)| *count as usize * usize::from(*length))
            .sum()
    };
    // The last block, with its own codes or the fixed ones.
    let mut out = Bits::default();
    out.put(0b101, 3);
    out.head(&lengths);
    if out.len() + cost(&lengths) >= 3 + cost(&fixed) {
        lengths = fixed;
        out = Bits::default();
        out.put(0b011, 3);
    }
    let [letters, distances] = lengths.map(|lengths| codes(&lengths));
    for part in parts {
        match part {
            (letter, 0) => out.code(letters[usize::from(letter)]),
            (length, distance) => {
                for (codes, (symbol, rest, count)) in [
                    (&letters, length_code(length)),
                    (&distances, distance_code(distance)),
                ] {
                    out.code(codes[symbol]);
                    out.put(rest, count);
                }
            }
        }
    }
    out.code(letters[END]);
    out.finish()
}

/// The bytes as letters, each beside 0, and as repetitions by their length and how far back
/// they lie. A repetition gives way to a longer one that begins a byte later.
fn parts(bytes: &[u8]) -> Vec<(u16, u16)> {
    let mut parts = Vec::new();
    let mut known = Known::default();
    let mut at = 0;
    let mut found = known.repetition(bytes, 0);
    while let Some(letter) = bytes.get(at) {
        known.add(bytes, at);
        let (length, distance) = found;
        let next = match length {
            SHORTEST..LONG => known.repetition(bytes, at + 1),
            _ => (0, 0),
        };
        if length < SHORTEST || next.0 > length {
            parts.push((u16::from(*letter), 0));
            at += 1;
            let is_known = length >= SHORTEST;
            found = if is_known {
                next
            } else {
                known.repetition(bytes, at)
            };
            continue;
        }
        parts.push((length as u16, distance as u16));
        for place in at + 1..at + length {
            known.add(bytes, place);
        }
        at += length;
        found = known.repetition(bytes, at);
    }
    parts
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

/// Earlier places by the hash of their four bytes, and the one before each with the same.
struct Known {
    newest: Vec<usize>,
    before: Vec<usize>,
}

impl Default for Known {
    fn default() -> Self {
        Self {
            newest: vec![usize::MAX; PLACES],
            before: vec![usize::MAX; WINDOW],
        }
    }
}

impl Known {
    fn add(&mut self, bytes: &[u8], place: usize) {
        if let Some(hash) = hash(bytes, place) {
            self.before[place % WINDOW] = self.newest[hash];
            self.newest[hash] = place;
        }
    }

    /// The longest of the earlier places that go on alike, and how far back it lies.
    fn repetition(&self, bytes: &[u8], at: usize) -> (usize, usize) {
        let mut best = (0, 0);
        let Some(hash) = hash(bytes, at) else {
            return best;
        };
        let mut place = self.newest[hash];
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
            let earlier = self.before[place % WINDOW];
            // Places overwritten by newer ones no longer lead back.
            if earlier >= place {
                break;
            }
            place = earlier;
        }
        best
    }
}

/// The symbol of a length, and what of it stands in so many further bits (RFC 1951, 3.2.5).
fn length_code(length: u16) -> (usize, u32, u32) {
    if usize::from(length) == LONGEST {
        return (285, 0, 0);
    }
    let rest = u32::from(length) - 3;
    let extra = if rest < 8 { 0 } else { rest.ilog2() - 2 };
    let symbol = 257 + 4 * extra + (rest >> extra);
    (symbol as usize, rest & ((1 << extra) - 1), extra)
}

/// The same of how far back.
fn distance_code(distance: u16) -> (usize, u32, u32) {
    let rest = u32::from(distance) - 1;
    let extra = if rest < 4 { 0 } else { rest.ilog2() - 1 };
    let symbol = 2 * extra + (rest >> extra);
    (symbol as usize, rest & ((1 << extra) - 1), extra)
}

/// How long the fixed code of a letter is (3.2.6).
fn fixed_length(symbol: usize) -> u8 {
    match symbol {
        144..=255 => 9,
        256..=279 => 7,
        _ => 8,
    }
}

/// How long each symbol's code is, so that all together take the fewest bits (D. A. Huffman,
/// "A Method for the Construction of Minimum-Redundancy Codes", 1952). Where one would be
/// longer than is allowed, the rare ones count for more than they are.
fn code_lengths(counts: &[u32], most: u8) -> Vec<u8> {
    let mut counts = counts.to_vec();
    let mut lengths = vec![0; counts.len()];
    let mut used: Vec<usize> = (0..counts.len()).filter(|it| counts[*it] > 0).collect();
    if let [only] = used[..] {
        lengths[only] = 1;
    }
    while used.len() > 1 {
        used.sort_by_key(|symbol| counts[*symbol]);
        let mut weights: Vec<u32> = used.iter().map(|symbol| counts[*symbol]).collect();
        let mut above = vec![0; 2 * used.len() - 1];
        // The symbols, and behind them the pairs: both from the rarest on.
        let (mut symbol, mut pair) = (0, used.len());
        while weights.len() < above.len() {
            let two = [0, 1].map(|_| {
                let is_symbol = symbol < used.len()
                    && weights
                        .get(pair)
                        .is_none_or(|pair| weights[symbol] <= *pair);
                let next = if is_symbol { &mut symbol } else { &mut pair };
                *next += 1;
                *next - 1
            });
            for part in two {
                above[part] = weights.len();
            }
            weights.push(weights[two[0]] + weights[two[1]]);
        }
        let mut depths = vec![0_u8; above.len()];
        for place in (0..above.len() - 1).rev() {
            depths[place] = depths[above[place]] + 1;
        }
        if depths[..used.len()].iter().all(|depth| *depth <= most) {
            for (symbol, depth) in used.iter().zip(depths) {
                lengths[*symbol] = depth;
            }
            break;
        }
        for symbol in &used {
            counts[*symbol] = counts[*symbol].div_ceil(2);
        }
    }
    lengths
}

/// The codes that follow from their lengths (3.2.2), each with its length.
fn codes(lengths: &[u8]) -> Vec<(u32, u8)> {
    let mut codes = vec![(0, 0); lengths.len()];
    let mut next = 0;
    for length in 1..=15 {
        for (code, own) in codes.iter_mut().zip(lengths) {
            if *own == length {
                *code = (next, length);
                next += 1;
            }
        }
        next <<= 1;
    }
    codes
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

    fn len(&self) -> usize {
        8 * self.bytes.len() + self.count as usize
    }

    /// A code, which begins with its highest bit.
    fn code(&mut self, (code, count): (u32, u8)) {
        let count = u32::from(count);
        self.put(code.reverse_bits() >> (32 - count), count);
    }

    /// The lengths of a block's codes, themselves in codes (3.2.7).
    fn head(&mut self, lengths: &[Vec<u8>; 2]) {
        const ORDER: [usize; 19] = [
            16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15,
        ];
        let used = |lengths: &[u8]| lengths.iter().rposition(|length| *length > 0);
        let [letters, distances] =
            [&lengths[0], &lengths[1]].map(|lengths| &lengths[..=used(lengths).unwrap_or(0)]);
        let all = [letters, distances].concat();
        let said: Vec<(usize, u32, u32)> = all.chunk_by(u8::eq).flat_map(repeated).collect();
        let mut counts = [0; 19];
        for (symbol, ..) in &said {
            counts[*symbol] += 1;
        }
        let own = code_lengths(&counts, 7);
        let last = ORDER.iter().rposition(|symbol| own[*symbol] > 0);
        let last = last.unwrap_or(0).max(3);
        self.put(letters.len() as u32 - 257, 5);
        self.put(distances.len() as u32 - 1, 5);
        self.put(last as u32 - 3, 4);
        for symbol in &ORDER[..=last] {
            self.put(own[*symbol].into(), 3);
        }
        let own = codes(&own);
        for (symbol, rest, count) in said {
            self.code(own[symbol]);
            self.put(rest, count);
        }
    }

    fn finish(mut self) -> Vec<u8> {
        if self.count > 0 {
            self.bytes.push(self.held as u8);
        }
        self.bytes
    }
}

/// Lengths that are alike, in symbols with what stands in further bits (3.2.7).
fn repeated(alike: &[u8]) -> Vec<(usize, u32, u32)> {
    let mut said = Vec::new();
    let length = alike[0];
    let mut left = alike.len();
    if length > 0 {
        said.push((length.into(), 0, 0));
        left -= 1;
    }
    while left > 0 {
        let (symbol, taken, least, count) = match (length, left) {
            (_, ..3) => (length.into(), 1, 1, 0),
            (0, ..11) => (17, left, 3, 3),
            (0, _) => (18, left.min(138), 11, 7),
            _ => (16, left.min(6), 3, 2),
        };
        said.push((symbol, (taken - least) as u32, count));
        left -= taken;
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_code_is_longer_than_allowed_and_none_begins_another() {
        // Each twice as often as the one before: the codes would be as long as they are many.
        let counts: Vec<u32> = (0..25).map(|power| 1 << power).collect();
        for most in [7, 15] {
            let lengths = code_lengths(&counts, most);
            assert!(lengths.iter().all(|length| (1..=most).contains(length)));
            // Kraft's sum of a code that is whole.
            let sum: u32 = lengths.iter().map(|length| 1 << (most - length)).sum();
            assert_eq!(sum, 1 << most);
        }
        assert_eq!(code_lengths(&[5, 1, 1, 0], 15), [1, 2, 2, 0]);
        assert_eq!(code_lengths(&[0, 3], 15), [0, 1]);
    }

    #[test]
    fn the_checksum_is_the_published_one() {
        // The worked example of the Adler-32 algorithm, from memory.
        assert_eq!(adler32(b"Wikipedia"), 0x11e6_0398);
        assert_eq!(adler32(b""), 1);
    }
}
