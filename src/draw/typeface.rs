//! The typeface that paper is set in, and the part of it that a file needs: the outlines of
//! the letters that stand in it (OpenType 1.9, the tables of TrueType outlines).
//!
//! It reads what `tests/tools/typeface.py` makes, both weights as one collection, and refuses
//! all else: what was damaged on its way is found by the sums over its tables.

use super::widths::Weight;

/// Two weights of one typeface.
pub struct Typeface<'a> {
    regular: Face<'a>,
    bold: Face<'a>,
}

impl<'a> Typeface<'a> {
    /// Reads a collection of two; nothing if it is not whole.
    pub fn read(collection: &'a [u8]) -> Option<Self> {
        let face = |place: usize| Face::read(collection, u32_at(collection, 12 + 4 * place)?);
        let is_pair = collection.starts_with(b"ttcf") && u32_at(collection, 8) == Some(2);
        is_pair.then_some(())?;
        let (regular, bold) = (face(0)?, face(1)?);
        Some(Self { regular, bold })
    }

    /// One of them.
    pub(super) fn face(&self, weight: Weight) -> &Face<'a> {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }

    /// Whether it has a letter.
    pub fn has(&self, letter: char) -> bool {
        self.regular.glyph(letter).is_some() && self.bold.glyph(letter).is_some()
    }
}

/// One weight: its tables as they stand in the file.
pub(super) struct Face<'a> {
    cmap: &'a [u8],
    glyf: &'a [u8],
    head: &'a [u8],
    hhea: &'a [u8],
    hmtx: &'a [u8],
    loca: &'a [u8],
    maxp: &'a [u8],
}

/// Units of the outlines in the size of the font.
const UNITS: i32 = 2048;

impl<'a> Face<'a> {
    fn read(file: &'a [u8], directory: u32) -> Option<Self> {
        let rows = file.get(directory as usize + 12..)?;
        let count = u16_at(file, directory as usize + 4)?;
        let table = |name: &[u8; 4]| {
            let mut rows = rows.chunks_exact(16).take(usize::from(count));
            let row = rows.find(|row| row.starts_with(name))?;
            let from = u32_at(row, 8)? as usize;
            let table = file.get(from..from.checked_add(u32_at(row, 12)? as usize)?)?;
            // The head holds the sum of the whole file, which is left out of its own.
            let apart = if name == b"head" {
                u32_at(table, 8)?
            } else {
                0
            };
            (u32_at(row, 4)? == sum(table).wrapping_sub(apart)).then_some(table)
        };
        let face = Self {
            cmap: table(b"cmap")?,
            glyf: table(b"glyf")?,
            head: table(b"head")?,
            hhea: table(b"hhea")?,
            hmtx: table(b"hmtx")?,
            loca: table(b"loca")?,
            maxp: table(b"maxp")?,
        };
        let is_as_made = u16_at(face.head, 18)? == UNITS as u16
            // Places of the outlines by their halves, a width for each of them.
            && u16_at(face.head, 50)? == 0
            && u16_at(face.hhea, 34)? == u16_at(face.maxp, 4)?;
        is_as_made.then_some(face)
    }

    /// The number of a letter's outline (`cmap`, format 4).
    pub fn glyph(&self, letter: char) -> Option<u16> {
        let letter = u16::try_from(u32::from(letter)).ok()?;
        let map = self.cmap.get(u32_at(self.cmap, 8)? as usize..)?;
        let doubled = usize::from(u16_at(map, 6)?);
        let column = |number: usize, row: usize| 14 + number * doubled + 2 * row;
        let row = (0..doubled / 2)
            .find(|row| u16_at(map, column(0, *row)).is_some_and(|last| last >= letter))?;
        // Behind the last letters stands a gap of two bytes.
        let of = |number: usize| u16_at(map, column(number, row) + 2);
        let (first, step, aside) = (of(1)?, of(2)?, of(3)?);
        let offset = usize::from(letter.checked_sub(first)?);
        let glyph = if aside == 0 {
            letter.wrapping_add(step)
        } else {
            let at = column(3, row) + 2 + usize::from(aside) + 2 * offset;
            u16_at(map, at)?.wrapping_add(step)
        };
        Some(glyph).filter(|glyph| *glyph > 0)
    }

    /// The box around all letters, how high and how deep they reach: in thousandths of the
    /// size.
    pub fn reach(&self) -> ([f32; 4], f32, f32) {
        let of = |table: &[u8], at: usize| {
            let units = u16_at(table, at).unwrap_or(0).cast_signed();
            (i32::from(units) * 1000 / UNITS) as f32
        };
        let bounds = [36, 38, 40, 42].map(|at| of(self.head, at));
        (bounds, of(self.hhea, 4), of(self.hhea, 6))
    }

    /// A face of these outlines alone, numbered from 1 in their order.
    pub fn cut(&self, glyphs: impl Iterator<Item = u16>) -> Vec<u8> {
        let mut kept: Vec<u16> = std::iter::once(0).chain(glyphs).collect();
        let (mut glyf, mut loca, mut hmtx) = (Vec::new(), vec![0, 0], Vec::new());
        let mut place = 0;
        while let Some(glyph) = kept.get(place).copied() {
            let mut outline = self.outline(glyph).to_vec();
            renumber(&mut outline, &mut kept);
            glyf.extend(outline);
            glyf.resize(glyf.len().next_multiple_of(2), 0);
            loca.extend(((glyf.len() / 2) as u16).to_be_bytes());
            let wide = 4 * usize::from(glyph);
            hmtx.extend(self.hmtx.get(wide..wide + 4).unwrap_or(&[0; 4]));
            place += 1;
        }
        let count = (kept.len() as u16).to_be_bytes();
        let with_count = |table: &[u8], at: usize| {
            [&table[..at], &count, table.get(at + 2..).unwrap_or(&[])].concat()
        };
        file(&[
            (b"glyf", &glyf),
            (b"head", self.head),
            (b"hhea", &with_count(self.hhea, 34)),
            (b"hmtx", &hmtx),
            (b"loca", &loca),
            (b"maxp", &with_count(self.maxp, 4)),
        ])
    }

    fn outline(&self, glyph: u16) -> &'a [u8] {
        let at = |glyph: usize| Some(2 * usize::from(u16_at(self.loca, 2 * glyph)?));
        let from_to = at(glyph.into()).zip(at(usize::from(glyph) + 1));
        let outline = from_to.and_then(|(from, to)| self.glyf.get(from..to));
        outline.unwrap_or(&[])
    }
}

/// Names the parts of a composed outline by their places among those that are kept, to which
/// they are added (`glyf`, composite glyphs).
fn renumber(outline: &mut [u8], kept: &mut Vec<u16>) {
    if u16_at(outline, 0).is_none_or(|contours| contours.cast_signed() >= 0) {
        return;
    }
    let mut at = 10;
    while let Some((flags, part)) = u16_at(outline, at).zip(u16_at(outline, at + 2)) {
        let known = kept.iter().position(|it| *it == part);
        let place = known.unwrap_or_else(|| {
            kept.push(part);
            kept.len() - 1
        });
        outline[at + 2..at + 4].copy_from_slice(&(place as u16).to_be_bytes());
        let has = |flag: u16| flags & flag != 0;
        let aside = if has(1) { 4 } else { 2 };
        let sized = [(8, 2), (0x40, 4), (0x80, 8)];
        let sized = sized.iter().find(|(flag, _)| has(*flag));
        at += 4 + aside + sized.map_or(0, |(_, bytes)| *bytes);
        if !has(0x20) {
            break;
        }
    }
}

/// A font's file of some tables, in the order of their names.
fn file(tables: &[(&[u8; 4], &[u8])]) -> Vec<u8> {
    let count = tables.len() as u16;
    let power = count.ilog2() as u16;
    let mut file = vec![0, 1, 0, 0];
    for number in [count, 16 << power, power, 16 * count - (16 << power)] {
        file.extend(number.to_be_bytes());
    }
    let mut from = file.len() + 16 * tables.len();
    for (name, table) in tables {
        file.extend(*name);
        for number in [sum(table), from as u32, table.len() as u32] {
            file.extend(number.to_be_bytes());
        }
        from += table.len().next_multiple_of(4);
    }
    for (_, table) in tables {
        file.extend(*table);
        file.resize(file.len().next_multiple_of(4), 0);
    }
    file
}

/// The sum over a table's numbers of four bytes.
fn sum(table: &[u8]) -> u32 {
    let mut sum = 0_u32;
    for four in table.chunks(4) {
        let mut number = [0; 4];
        number[..four.len()].copy_from_slice(four);
        sum = sum.wrapping_add(u32::from_be_bytes(number));
    }
    sum
}

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    let two = bytes.get(at..at.checked_add(2)?)?;
    Some(u16::from_be_bytes(two.try_into().ok()?))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    let four = bytes.get(at..at.checked_add(4)?)?;
    Some(u32::from_be_bytes(four.try_into().ok()?))
}
