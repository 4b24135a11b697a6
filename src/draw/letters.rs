//! What the letters of a PDF file are set in: the typeface, of which the file takes along
//! what stands in it (ISO 32000-1, 9.7, `CIDFontType2`), or, where there is none, the
//! standard Helvetica that every reader brings along.

use super::helvetica::{self, Composed, composed, glyph_name, is_shapeless, printable};
use super::typeface::{Face, Typeface};
use super::widths::{Weight, width};
use super::{Drawing, Mark};
use crate::draw::deflate::zlib;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo};
use pdf_writer::{Filter, Name, Pdf, Rect, Ref, Str};
use std::fmt::Write as _;

/// How many different characters outside Latin-1 the standard encoding has room for.
const FREE_CODES: usize = 63;

/// Height of the typeface's capitals and width of its stems, in thousandths of the size (the
/// stems' from memory); the sheets reckon with Helvetica's capitals.
const CAPITALS: f32 = 688.0;
const STEMS: [f32; 2] = [78.0, 142.0];

/// Both weights, for they share most of their letters.
pub(super) enum Letters<'a> {
    /// Helvetica: the letters outside ASCII and Latin-1 in the order of their codes.
    Standard(Vec<char>),
    /// The typeface, with the letters of each weight in their order; their codes count
    /// from 1.
    Own(&'a Typeface<'a>, [Vec<char>; 2]),
}

const BOTH: [Weight; 2] = [Weight::Regular, Weight::Bold];

impl<'a> Letters<'a> {
    /// All that stand on the pages.
    pub fn of(pages: &[&Drawing], typeface: Option<&'a Typeface<'a>>) -> Self {
        let mut used = [Vec::new(), Vec::new()];
        for mark in pages.iter().flat_map(|page| page.drawable()) {
            let Mark::Words(words) = mark else {
                continue;
            };
            let used = &mut used[words.weight as usize];
            for piece in words.lettering.pieces() {
                used.extend(piece.text.chars().filter(|letter| !is_shapeless(*letter)));
            }
        }
        let Some(typeface) = typeface else {
            let mut further = Vec::new();
            for letter in used.into_iter().flatten().flat_map(helvetica::parts) {
                if glyph_name(letter).is_some() && !further.contains(&letter) {
                    further.push(letter);
                }
            }
            return Self::Standard(further);
        };
        for (weight, letters) in BOTH.into_iter().zip(&mut used) {
            letters.sort_unstable();
            letters.dedup();
            for letter in letters.iter_mut() {
                *letter = shown(typeface.face(weight), *letter);
            }
            letters.sort_unstable();
            letters.dedup();
        }
        Self::Own(typeface, used)
    }

    /// Whether all letters are printed as they are.
    pub fn are_kept(&self, text: &str, weight: Weight) -> bool {
        text.chars().all(|letter| {
            let is_itself = match self {
                Self::Standard(_) => printable(letter) == letter && composed(letter).is_none(),
                Self::Own(_, used) => used[weight as usize].binary_search(&letter).is_ok(),
            };
            is_itself && !is_shapeless(letter)
        })
    }

    /// What a letter is set of, where it is set in two parts.
    pub fn composed(&self, letter: char) -> Option<Composed> {
        match self {
            Self::Standard(_) => composed(letter),
            Self::Own(..) => None,
        }
    }

    /// The codes of a text.
    pub fn encoded(&self, text: &str, weight: Weight) -> Vec<u8> {
        let letters = text.chars().filter(|letter| !is_shapeless(*letter));
        match self {
            Self::Standard(further) => letters.map(|letter| standard(further, letter)).collect(),
            Self::Own(typeface, used) => {
                let used = &used[weight as usize];
                let place = |letter| {
                    let itself = used.binary_search(&letter);
                    itself.or_else(|_| used.binary_search(&shown(typeface.face(weight), letter)))
                };
                let code = |letter| place(letter).map_or(0, |place| place as u16 + 1);
                letters.flat_map(|it| code(it).to_be_bytes()).collect()
            }
        }
    }

    /// How many objects the fonts need beside their own two.
    pub fn objects(&self) -> i32 {
        match self {
            Self::Standard(_) => 0,
            Self::Own(..) => 8,
        }
    }

    /// Writes both fonts, and from an object on what they need.
    pub fn write(&self, pdf: &mut Pdf, fonts: [Ref; 2], first: i32) {
        match self {
            Self::Standard(further) => {
                write_standard(pdf, fonts[0], b"Helvetica", further);
                write_standard(pdf, fonts[1], b"Helvetica-Bold", further);
            }
            Self::Own(typeface, used) => {
                for (weight, first) in BOTH.into_iter().zip([first, first + 4]) {
                    let place = weight as usize;
                    write_own(pdf, fonts[place], first, (typeface, weight), &used[place]);
                }
            }
        }
    }
}

/// What stands for a letter in a face: itself, its plainest likeness, or `?`.
fn shown(face: &Face, letter: char) -> char {
    let has = |letter: &char| face.glyph(*letter).is_some();
    let found = [letter, printable(letter)].into_iter().find(has);
    found.unwrap_or('?')
}

/// A letter's code in Helvetica.
fn standard(further: &[char], letter: char) -> u8 {
    let letter = printable(letter);
    match letter as u32 {
        code @ (0x20..=0x7e | 0xa0..=0xff) => code as u8,
        _ => further
            .iter()
            .position(|other| *other == letter)
            .and_then(free_code)
            .unwrap_or(b'?'),
    }
}

/// The codes that `WinAnsiEncoding` uses for what is not Latin-1, then those of control characters.
fn free_code(index: usize) -> Option<u8> {
    match index {
        0..=31 => Some(128 + index as u8),
        32..FREE_CODES => Some(index as u8 - 31),
        _ => None,
    }
}

fn write_standard(pdf: &mut Pdf, id: Ref, name: &[u8], further: &[char]) {
    let mut font = pdf.type1_font(id);
    font.base_font(Name(name));
    let mut encoding = font.encoding_custom();
    encoding.base_encoding(Name(b"WinAnsiEncoding"));
    if further.is_empty() {
        return;
    }
    let mut differences = encoding.differences();
    for (index, character) in further.iter().enumerate() {
        if let (Some(code), Some(glyph)) = (free_code(index), glyph_name(*character)) {
            differences.consecutive(code, [Name(glyph.as_bytes())]);
        }
    }
}

fn write_own(
    pdf: &mut Pdf,
    id: Ref,
    first: i32,
    (typeface, weight): (&Typeface, Weight),
    letters: &[char],
) {
    let [inner, told, outlines, names] = [0, 1, 2, 3].map(|place| Ref::new(first + place));
    let face = typeface.face(weight);
    let name = name(letters, weight);
    let name = Name(name.as_bytes());
    let mut font = pdf.type0_font(id);
    font.base_font(name)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(inner)
        .to_unicode(names);
    drop(font);

    let identity = SystemInfo {
        registry: Str(b"Adobe"),
        ordering: Str(b"Identity"),
        supplement: 0,
    };
    let mut font = pdf.cid_font(inner);
    font.subtype(CidFontType::Type2)
        .base_font(name)
        .system_info(identity)
        .font_descriptor(told)
        .cid_to_gid_map_predefined(Name(b"Identity"));
    let wide = letters.iter().map(|letter| width(*letter, weight));
    font.widths()
        .consecutive(1, wide.map(|wide| f32::from(wide.unwrap_or(0))));
    drop(font);

    let ([left, low, right, high], above, below) = face.reach();
    pdf.font_descriptor(told)
        .name(name)
        .flags(FontFlags::SYMBOLIC)
        .bbox(Rect::new(left, low, right, high))
        .italic_angle(0.0)
        .ascent(above)
        .descent(below)
        .cap_height(CAPITALS)
        .stem_v(STEMS[weight as usize])
        .font_file2(outlines);

    let cut = face.cut(
        letters
            .iter()
            .map(|letter| face.glyph(*letter).unwrap_or(0)),
    );
    let packed = zlib(&cut);
    let mut stream = pdf.stream(outlines, &packed);
    stream.filter(Filter::FlateDecode);
    stream.pair(
        Name(b"Length1"),
        i32::try_from(cut.len()).unwrap_or(i32::MAX),
    );
    drop(stream);

    let packed = zlib(map(letters).as_bytes());
    pdf.stream(names, &packed).filter(Filter::FlateDecode);
}

/// Which code is which letter, for who reads or searches the file (ISO 32000-1, 9.10.3, as
/// in its example: not every reader knows more of the language).
fn map(letters: &[char]) -> String {
    let mut map = "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
         /CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n\
         /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
         1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"
        .to_owned();
    let mut code = 0;
    // No more at once.
    for some in letters.chunks(100) {
        let _ = writeln!(map, "{} beginbfchar", some.len());
        for letter in some {
            code += 1;
            let _ = writeln!(map, "<{code:04X}> <{:04X}>", u32::from(*letter));
        }
        map.push_str("endbfchar\n");
    }
    map + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
}

/// The name of a part of a typeface begins with six letters of its own (ISO 32000-1, 9.6.4).
fn name(letters: &[char], weight: Weight) -> String {
    // Fowler, Noll and Vo's sum, from memory; any that tells different parts apart would do.
    let sum = letters.iter().fold(0x811c_9dc5_u32, |sum, letter| {
        (sum ^ u32::from(*letter)).wrapping_mul(0x0100_0193)
    });
    let mark = (0..6).map(|place| char::from(b'A' + (sum / 26_u32.pow(place) % 26) as u8));
    let weight = ["Regular", "Bold"][weight as usize];
    format!("{}+Arimo-{weight}", mark.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_free_code_is_used_once() {
        let mut codes: Vec<u8> = (0..FREE_CODES).filter_map(free_code).collect();
        codes.sort_unstable();
        codes.dedup();
        assert_eq!(codes.len(), FREE_CODES);
        assert!(codes.iter().all(|code| matches!(code, 1..=31 | 128..=159)));
        assert_eq!(free_code(FREE_CODES), None);
    }

    #[test]
    fn the_encoding_has_room_for_every_character() {
        let all = (0x100..=0xffff).filter_map(char::from_u32);
        assert!(all.filter(|it| glyph_name(*it).is_some()).count() <= FREE_CODES);
    }
}
