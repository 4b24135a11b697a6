//! The typeface of paper: its letters, read back out of files by other people's readers.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use lopdf::{Document, Object};
use ringwright::design::{Design, example, link};
use ringwright::draw::pdf::{Info, to_pdf};
use ringwright::draw::{Drawing, Typeface, Weight, Words, helvetica, point};
use ringwright::show::sheets::job::Choice;
use ringwright::show::sheets::packet;
use std::fmt::Write as _;
use ttf_parser::{Face, GlyphId, OutlineBuilder};

const FILE: &[u8] = include_bytes!("../www/fonts/arimo.ttc");

/// What people of many countries write over their work.
const NAMES: [&str; 6] = [
    "Μπολ από καρυδιά ⅜",
    "Чаша з горіха, 7⅞″",
    "Ваза љубичаста ⅛ ⅝",
    "Žółć ďáblův ľan ťuk",
    "Bát gỗ sồi Ứng ẵ",
    "Naïve Ångström ½ ¼ ⅓ ⅔",
];

fn whole(weight: Weight) -> Face<'static> {
    Face::parse(FILE, weight as u32).expect("a face that another reader reads")
}

/// An outline in words.
#[derive(Default, PartialEq, Debug)]
struct Drawn(String);

impl Drawn {
    fn of(face: &Face, glyph: GlyphId) -> Self {
        let mut drawn = Self::default();
        face.outline_glyph(glyph, &mut drawn);
        drawn
    }

    fn add(&mut self, name: &str, numbers: &[f32]) {
        let _ = write!(self.0, "{name}{numbers:?}");
    }
}

impl OutlineBuilder for Drawn {
    fn move_to(&mut self, x: f32, y: f32) {
        self.add("m", &[x, y]);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.add("l", &[x, y]);
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.add("q", &[x1, y1, x, y]);
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.add("c", &[x1, y1, x2, y2, x, y]);
    }
    fn close(&mut self) {
        self.add("h", &[]);
    }
}

fn sheet(names: &[&str]) -> Drawing {
    let mut sheet = Drawing::new(215.9, 279.4, "Names");
    for (place, name) in names.iter().enumerate() {
        let words = Words::new(point(20.0, 30.0 + 12.0 * place as f64), *name, 5.0);
        sheet.add(words.clone());
        sheet.add(words.bold());
    }
    sheet
}

#[test]
fn every_letter_is_as_wide_as_the_sheets_are_laid_out_for() {
    let mut count = 0;
    for weight in [Weight::Regular, Weight::Bold] {
        let face = whole(weight);
        assert_eq!(face.units_per_em(), 2048);
        for letter in (0..0xffff).filter_map(char::from_u32) {
            let glyph = face.glyph_index(letter);
            let has = shared::typeface().unwrap().has(letter);
            assert_eq!(glyph.is_some(), has, "{letter}");
            let Some(glyph) = glyph else {
                continue;
            };
            let wide = f64::from(face.glyph_hor_advance(glyph).unwrap()) * 1000.0 / 2048.0;
            let told = f64::from(helvetica::advance(letter, weight));
            assert!((wide - told).abs() <= 0.5, "{letter}: {told}, not {wide}");
            count += 1;
        }
    }
    assert!(count > 2000, "{count}");
    for alphabet in [
        "αβγδεζηθικλμνξοπρστυφχψωάέήίόύώϊϋΐΰςΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩΆΈΉΊΌΎΏ",
        "абвгдеёжзийклмнопрстуфхцчшщъыьэюяАБВГДЕЁЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯ",
        "ґєіїўђѓѕјљњћќџҐЄІЇЎЂЃЅЈЉЊЋЌЏәғқңөұүһӘҒҚҢӨҰҮҺ",
        "¼½¾⅓⅔⅛⅜⅝⅞⁄′″→≤≥−×°Ø№€",
    ] {
        for letter in alphabet.chars() {
            assert!(shared::typeface().unwrap().has(letter), "{letter}");
        }
    }
}

#[test]
fn names_in_three_alphabets_are_read_back_by_another_reader() {
    let file = to_pdf(&[sheet(&NAMES)], &Info::default(), shared::typeface());
    let document = Document::load_mem(&file).expect("a PDF that another reader reads");
    let text = document.extract_text(&[1]).expect("text");
    for name in NAMES {
        assert_eq!(text.matches(name).count(), 2, "{name} in {text}");
    }
    // Nothing is said beside them, for all of it is there.
    let page = document.get_pages()[&1];
    let content = String::from_utf8_lossy(&document.get_page_content(page).unwrap()).into_owned();
    assert!(!content.contains("ActualText"));
}

/// What a file takes along of the typeface draws the letters as the whole does, and is told
/// as it is.
#[test]
fn the_letters_of_a_file_are_the_typeface_s_own() {
    let file = to_pdf(&[sheet(&NAMES)], &Info::default(), shared::typeface());
    let document = Document::load_mem(&file).unwrap();
    let page = document.get_pages()[&1];
    let read = shared::letters_of(&document, page);
    for (name, font) in document.get_page_fonts(page).unwrap() {
        let weight = if name == b"B" {
            Weight::Bold
        } else {
            Weight::Regular
        };
        let get = |of: &lopdf::Dictionary, key: &[u8]| of.get(key).unwrap().clone();
        assert_eq!(get(font, b"Subtype").as_name().unwrap(), b"Type0");
        assert_eq!(get(font, b"Encoding").as_name().unwrap(), b"Identity-H");
        let inner = get(font, b"DescendantFonts").as_array().unwrap()[0].clone();
        let inner = document
            .get_dictionary(inner.as_reference().unwrap())
            .unwrap();
        assert_eq!(get(inner, b"Subtype").as_name().unwrap(), b"CIDFontType2");
        assert_eq!(get(inner, b"CIDToGIDMap").as_name().unwrap(), b"Identity");
        let base = get(inner, b"BaseFont");
        let base = String::from_utf8(base.as_name().unwrap().to_vec()).unwrap();
        let (mark, base) = base.split_once('+').expect("a part is marked so");
        assert!(mark.len() == 6 && mark.chars().all(|it| it.is_ascii_uppercase()));
        assert!(base.starts_with("Arimo-"));
        let told = get(inner, b"FontDescriptor").as_reference().unwrap();
        let told = document.get_dictionary(told).unwrap();
        let outlines = get(told, b"FontFile2").as_reference().unwrap();
        let outlines = document.get_object(outlines).unwrap().as_stream().unwrap();
        let packed = outlines.content.len();
        let outlines = outlines.decompressed_content().unwrap();
        assert!(outlines.len() < FILE.len() / 4 && packed < outlines.len());
        let cut = Face::parse(&outlines, 0).expect("a font of its own");
        let widths = get(inner, b"W");
        let widths = widths.as_array().unwrap();
        assert_eq!(widths[0].as_i64().unwrap(), 1);
        let widths = widths[1].as_array().unwrap();
        let letters = &read[&name];
        assert_eq!(widths.len(), letters.len());
        for (code, letter) in letters {
            let face = whole(weight);
            let glyph = face.glyph_index(*letter).unwrap();
            let drawn = Drawn::of(&cut, GlyphId(*code));
            assert!(!drawn.0.is_empty() || *letter == ' ', "{letter}");
            assert_eq!(drawn, Drawn::of(&face, glyph), "{letter}");
            let wide = cut.glyph_hor_advance(GlyphId(*code)).unwrap();
            assert_eq!(wide, face.glyph_hor_advance(glyph).unwrap());
            let told = widths[usize::from(*code) - 1].as_float().unwrap();
            assert!((told - f32::from(wide) * 1000.0 / 2048.0).abs() <= 0.5);
        }
    }
}

#[test]
fn a_letter_that_the_typeface_lacks_is_told() {
    let file = to_pdf(&[sheet(&["木 bowl"])], &Info::default(), shared::typeface());
    let document = Document::load_mem(&file).unwrap();
    let content = document.get_page_content(document.get_pages()[&1]).unwrap();
    let content = String::from_utf8_lossy(&content).into_owned();
    assert!(content.contains("<FEFF67280020"), "{content}");
    assert!(document.extract_text(&[1]).unwrap().contains("? bowl"));
}

#[test]
fn what_is_not_whole_is_no_typeface() {
    assert!(Typeface::read(FILE).is_some());
    for length in (0..FILE.len()).step_by(331) {
        assert!(Typeface::read(&FILE[..length]).is_none(), "{length}");
    }
    let names = sheet(&NAMES[..2]);
    let mut refused = 0;
    let places = (0..300).chain((300..FILE.len()).step_by(997));
    let count = places.clone().count();
    for place in places {
        let mut spoiled = FILE.to_vec();
        spoiled[place] ^= 0x55;
        // What reads nevertheless, as with another date, still makes a file.
        let read = Typeface::read(&spoiled);
        refused += usize::from(read.is_none());
        let file = to_pdf(
            std::slice::from_ref(&names),
            &Info::default(),
            read.as_ref(),
        );
        assert!(Document::load_mem(&file).is_ok());
    }
    assert!(refused * 10 > count * 8, "{refused} of {count}");
}

#[test]
fn without_it_the_paper_is_made_and_says_what_it_lacks() {
    let found = example::ALL.iter().find(|it| it.word == "porridge_bowl");
    let mut design: Design = link::decode(found.unwrap().link).unwrap().0;
    "Чаша".clone_into(&mut design.name);
    let plan = ringwright::plan::plan(&design);
    let text = |typeface| {
        let file = packet::pdf(&plan, "", "2030-01-31", Choice::Usual, typeface);
        let document = Document::load_mem(&file).unwrap();
        let fonts = document.get_page_fonts(document.get_pages()[&1]).unwrap();
        let kind = fonts[&b"R"[..]].get(b"Subtype").and_then(Object::as_name);
        (kind.unwrap().to_vec(), document.extract_text(&[1]).unwrap())
    };
    let (kind, own) = text(shared::typeface());
    assert_eq!(kind, b"Type0");
    assert!(own.contains("Чаша") && !own.contains("stand as ?"), "{own}");
    let (kind, standard) = text(None);
    assert_eq!(kind, b"Type1");
    assert!(
        standard.contains("????") && standard.contains("stand as ?"),
        "{standard}"
    );
}
