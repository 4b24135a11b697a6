//! Paper is true: files are read back by other people's readers, and measured.
#![cfg(not(target_arch = "wasm32"))]

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId};
use ringwright::draw::pdf::{Info, to_pdf};
use ringwright::draw::{
    Anchor, Color, Drawing, Fill, Frame, Ink, Lettering, Mark, Path, Point, Step, Words, circle,
    point, polyline, qr, svg,
};

const MM_PER_POINT: f64 = 25.4 / 72.0;
/// A length on paper is within 0.05 mm by the design's own figure; the file does much better.
const TOLERANCE_MM: f64 = 0.001;

/// A PDF transformation `[a b c d e f]` (ISO 32000-1, 8.3.4).
type Matrix = [f64; 6];

fn applied(m: Matrix, x: f64, y: f64) -> Point {
    point(m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5])
}

fn combined(inner: Matrix, outer: Matrix) -> Matrix {
    let origin = applied(outer, inner[4], inner[5]);
    let across = applied(outer, inner[0] + inner[4], inner[1] + inner[5]);
    let down = applied(outer, inner[2] + inner[4], inner[3] + inner[5]);
    [
        across.x - origin.x,
        across.y - origin.y,
        down.x - origin.x,
        down.y - origin.y,
        origin.x,
        origin.y,
    ]
}

fn numbers(operation: &Operation) -> Vec<f64> {
    operation
        .operands
        .iter()
        .filter_map(|o| o.as_float().ok())
        .map(f64::from)
        .collect()
}

/// What stands on a page, in millimeters from its bottom left corner.
#[derive(Default)]
struct Read {
    lines: Vec<(Point, Point)>,
    texts: Vec<(Point, Vec<u8>)>,
    actual: Vec<String>,
    font_sizes_mm: Vec<f64>,
    /// Where the letters' base line and their upright strokes run, as seen on the page.
    directions: Vec<(Point, Point)>,
}

impl Read {
    fn texts(&self) -> Vec<String> {
        self.texts
            .iter()
            .map(|(_, bytes)| String::from_utf8_lossy(bytes).into_owned())
            .collect()
    }
}

fn load(bytes: &[u8]) -> Document {
    Document::load_mem(bytes).expect("a PDF that another reader reads")
}

fn read(bytes: &[u8], page: u32) -> Read {
    let document = load(bytes);
    let id = document.get_pages()[&page];
    let content = document.get_page_content(id).expect("page content");
    let content = Content::decode(&content).expect("operators");
    let mut read = Read::default();
    let mut matrix = [MM_PER_POINT, 0.0, 0.0, MM_PER_POINT, 0.0, 0.0];
    let mut saved = Vec::new();
    let mut text_at = matrix;
    let mut here = Point::default();
    for operation in &content.operations {
        let n = numbers(operation);
        match operation.operator.as_str() {
            "q" => saved.push(matrix),
            "Q" => matrix = saved.pop().expect("balanced states"),
            "cm" => matrix = combined([n[0], n[1], n[2], n[3], n[4], n[5]], matrix),
            "m" => here = applied(matrix, n[0], n[1]),
            "l" => {
                let next = applied(matrix, n[0], n[1]);
                read.lines.push((here, next));
                here = next;
            }
            "c" => here = applied(matrix, n[4], n[5]),
            "Tm" => text_at = combined([n[0], n[1], n[2], n[3], n[4], n[5]], matrix),
            "Tf" => read.font_sizes_mm.push(n[0] * matrix[0]),
            "Tj" => {
                let bytes = operation.operands[0].as_str().expect("a string").to_vec();
                read.texts.push((point(text_at[4], text_at[5]), bytes));
                let along = point(text_at[0], text_at[1]);
                read.directions.push((along, point(text_at[2], text_at[3])));
            }
            // An accent, between two steps aside.
            "TJ" => {
                let parts = operation.operands[0].as_array().expect("parts");
                let bytes = parts[1].as_str().expect("a string").to_vec();
                read.texts.push((point(text_at[4], text_at[5]), bytes));
            }
            "BDC" => {
                let properties = operation.operands[1].as_dict().expect("properties");
                if let Ok(text) = properties.get(b"ActualText") {
                    let text = lopdf::decode_text_string(text).expect("a text string");
                    read.actual.push(text);
                }
            }
            _ => {}
        }
    }
    read
}

fn letter() -> Drawing {
    Drawing::new(215.9, 279.4, "Ring sheet")
}

fn info() -> Info {
    Info {
        title: "Ring sheet".into(),
        ..Info::default()
    }
}

fn info_text(document: &Document, key: &[u8]) -> String {
    let id = document
        .trailer
        .get(b"Info")
        .and_then(Object::as_reference)
        .expect("info");
    let text = document
        .get_dictionary(id)
        .and_then(|d| d.get(key))
        .expect("key");
    lopdf::decode_text_string(text).expect("a text string")
}

fn page_dictionary(document: &Document, page: u32) -> &Dictionary {
    let id: ObjectId = document.get_pages()[&page];
    document.get_dictionary(id).expect("a page")
}

#[test]
fn pages_have_the_size_of_their_paper() {
    let a4 = Drawing::new(210.0, 297.0, "A4");
    let bytes = to_pdf(&[letter(), a4], &info(), None);
    let document = load(&bytes);
    for (page, width, height) in [(1, 215.9, 279.4), (2, 210.0, 297.0)] {
        let media = page_dictionary(&document, page)
            .get(b"MediaBox")
            .and_then(Object::as_array);
        let media: Vec<f64> = media
            .expect("a box")
            .iter()
            .map(|o| f64::from(o.as_float().unwrap()))
            .collect();
        assert!(
            (media[2] * MM_PER_POINT - width).abs() < TOLERANCE_MM,
            "{media:?}"
        );
        assert!(
            (media[3] * MM_PER_POINT - height).abs() < TOLERANCE_MM,
            "{media:?}"
        );
    }
}

#[test]
fn lines_are_true_to_scale_and_in_their_place() {
    let ends = [
        (point(10.0, 10.0), point(110.0, 10.0)),
        (point(15.123, 20.4567), point(15.123, 270.9)),
        (point(0.0, 0.0), point(215.9, 279.4)),
        (point(33.3333, 66.6667), point(33.8333, 66.6667)),
    ];
    let mut drawing = letter();
    for (from, to) in ends {
        drawing.line(from, to, Ink::Object);
    }
    let read = read(&to_pdf(&[drawing], &info(), None), 1);
    assert_eq!(read.lines.len(), ends.len());
    for ((from, to), (a, b)) in ends.into_iter().zip(read.lines) {
        assert!((a.distance(b) - from.distance(to)).abs() < TOLERANCE_MM);
        assert!(
            a.distance(point(from.x, 279.4 - from.y)) < TOLERANCE_MM,
            "{a:?}"
        );
        assert!(
            b.distance(point(to.x, 279.4 - to.y)) < TOLERANCE_MM,
            "{b:?}"
        );
    }
}

#[test]
fn drawings_within_drawings_stay_true_to_scale() {
    let mut bar = Drawing::new(100.0, 5.0, "");
    bar.line(point(0.0, 2.5), point(100.0, 2.5), Ink::Thin);
    let mut half = Drawing::new(100.0, 100.0, "");
    half.place(&bar, &Frame::at(point(7.0, 11.0)).turned(37.0).scaled(0.5));
    let mut sheet = letter();
    sheet.place(
        &half,
        &Frame::at(point(60.0, 80.0)).turned(-12.0).scaled(3.0),
    );
    let read = read(&to_pdf(&[sheet], &info(), None), 1);
    let (a, b) = read.lines[0];
    assert!((a.distance(b) - 150.0).abs() < TOLERANCE_MM);
    let turned = (b.y - a.y).atan2(b.x - a.x).to_degrees();
    assert!((turned + 25.0).abs() < 0.001, "{turned}");
}

#[test]
fn words_stand_where_they_are_put_at_their_size() {
    let mut drawing = letter();
    drawing.add(Words::new(point(20.0, 30.0), "Long edge", 7.18));
    drawing.add(Words::new(point(100.0, 50.0), "HH", 7.18).anchored(Anchor::Middle));
    drawing.add(
        Words::new(point(100.0, 60.0), "HH", 7.18)
            .anchored(Anchor::End)
            .turned(-90.0),
    );
    let read = read(&to_pdf(&[drawing], &info(), None), 1);
    assert_eq!(read.texts(), ["Long edge", "HH", "HH"]);
    assert!((read.font_sizes_mm[0] - 10.0).abs() < TOLERANCE_MM);
    assert!(read.texts[0].0.distance(point(20.0, 249.4)) < TOLERANCE_MM);
    assert!(read.texts[1].0.distance(point(92.78, 229.4)) < TOLERANCE_MM);
    assert!(read.texts[2].0.distance(point(100.0, 279.4 - 74.44)) < TOLERANCE_MM);
    // Neither mirrored nor upside down: y grows up here; the last ones read upward.
    let (right, up, left) = (point(1.0, 0.0), point(0.0, 1.0), point(-1.0, 0.0));
    for ((along, upright), expected) in
        read.directions
            .into_iter()
            .zip([(right, up), (right, up), (up, left)])
    {
        assert!(along.distance(expected.0) < TOLERANCE_MM, "{along:?}");
        assert!(upright.distance(expected.1) < TOLERANCE_MM, "{upright:?}");
    }
}

#[test]
fn fractions_are_set_in_parts_and_read_as_one() {
    let mut drawing = letter();
    let line = Lettering::default().fraction(2, 11, 16).then(" in");
    drawing.add(Words::new(point(20.0, 30.0), line, 5.0));
    let read = read(&to_pdf(&[drawing], &info(), None), 1);
    assert_eq!(read.actual, ["2 11/16 in"]);
    let parts: Vec<&[u8]> = read
        .texts
        .iter()
        .map(|(_, bytes)| bytes.as_slice())
        .collect();
    assert_eq!(parts, [b"2".as_slice(), b"11", &[128], b"16", b" in"]);
}

#[test]
fn letters_beyond_latin_get_places_in_the_encoding() {
    let mut drawing = letter();
    drawing.add(Words::new(point(20.0, 30.0), "Ø 5° \u{2212} ≤ Żółw", 5.0));
    drawing.add(Words::new(point(20.0, 40.0), "木 bowl", 5.0));
    let bytes = to_pdf(&[drawing], &info(), None);
    let read_page = read(&bytes, 1);
    // In the order in which they come: minus, dotaccent, lslash. Not every reader has the
    // letter Ż itself.
    let texts: Vec<&[u8]> = read_page.texts.iter().map(|(_, it)| &it[..]).collect();
    assert_eq!(
        texts,
        [
            b"\xd8 5\xb0 \x80 < Z".as_slice(),
            b"\x81",
            b"\xf3\x82w",
            b"? bowl"
        ]
    );
    assert_eq!(read_page.actual, ["Ø 5° \u{2212} ≤ Żółw", "木 bowl"]);
    let document = load(&bytes);
    let fonts = document
        .get_page_fonts(document.get_pages()[&1])
        .expect("fonts");
    assert_eq!(fonts.len(), 2);
    for font in fonts.values() {
        let encoding = font
            .get(b"Encoding")
            .and_then(Object::as_dict)
            .expect("an encoding");
        let differences = encoding
            .get(b"Differences")
            .and_then(Object::as_array)
            .expect("names");
        let names: Vec<&[u8]> = differences
            .iter()
            .filter_map(|o| o.as_name().ok())
            .collect();
        assert_eq!(names, [b"minus".as_slice(), b"dotaccent", b"lslash"]);
    }
}

#[test]
fn every_letter_of_the_latin_alphabets_is_printed_and_read() {
    let mut drawing = letter();
    let letters: String = ('\u{100}'..='\u{17f}')
        .chain('\u{1e00}'..='\u{1e95}')
        .chain('\u{1ea0}'..='\u{1ef9}')
        .filter(|letter| !"ĲĳĿŀ".contains(*letter))
        .collect();
    drawing.add(Words::new(point(20.0, 30.0), letters.as_str(), 3.0));
    let read = read(&to_pdf(&[drawing], &info(), None), 1);
    assert_eq!(read.actual, [letters]);
    assert!(read.texts.iter().all(|(_, bytes)| !bytes.contains(&b'?')));
}

#[test]
fn a_name_that_holds_operators_or_script_stays_text() {
    let name = "</text><script>alert(1)</script>) Tj ET \\ (Q\u{1b}\r\n";
    let mut drawing = Drawing::new(215.9, 279.4, name).described(name);
    drawing.add(Words::new(point(20.0, 30.0), name, 5.0));
    drawing.line(point(0.0, 0.0), point(50.0, 0.0), Ink::Thin);
    let file = svg::to_file(&drawing);
    assert!(!file.contains("<script"), "{file}");
    let info = Info {
        title: name.into(),
        author: name.into(),
        date: None,
        ..Info::default()
    };
    let bytes = to_pdf(&[drawing], &info, None);
    let shown = "</text><script>alert(1)</script>) Tj ET \\ (Q";
    let read = read(&bytes, 1);
    assert_eq!(read.texts(), [shown]);
    assert_eq!(read.lines.len(), 1);
    let document = load(&bytes);
    assert_eq!(info_text(&document, b"Title"), shown);
    assert_eq!(info_text(&document, b"Author"), shown);
}

#[test]
fn the_file_asks_to_be_printed_as_it_is_and_names_itself() {
    let title = "Żółw — ring sheet";
    let info = Info {
        title: title.into(),
        author: String::new(),
        date: Some("2030-01-31".into()),
        ..Info::default()
    };
    let bytes = to_pdf(&[letter()], &info, None);
    let document = load(&bytes);
    let catalog = document.catalog().expect("a catalog");
    let preferences = catalog
        .get(b"ViewerPreferences")
        .and_then(Object::as_dict)
        .expect("preferences");
    let scaling = preferences.get(b"PrintScaling").and_then(Object::as_name);
    assert_eq!(scaling.expect("scaling"), b"None");
    assert!(
        preferences
            .get(b"DisplayDocTitle")
            .and_then(Object::as_bool)
            .expect("title")
    );
    assert_eq!(
        catalog
            .get(b"Lang")
            .and_then(Object::as_str)
            .expect("language"),
        b"en-US"
    );
    assert_eq!(info_text(&document, b"Title"), title);
    assert_eq!(info_text(&document, b"CreationDate"), "D:20300131");
    assert_eq!(
        bytes,
        to_pdf(&[letter()], &info, None),
        "the same sheet gives the same bytes"
    );
}

#[test]
fn nothing_is_written_for_what_is_no_number() {
    let mut drawing = letter();
    drawing.line(point(f64::NAN, 1.0), point(2.0, 3.0), Ink::Object);
    drawing.line(point(f64::NEG_INFINITY, 1.0), point(2.0, 3.0), Ink::Object);
    drawing.line(point(1e300, 1.0), point(2.0, 3.0), Ink::Object);
    drawing.add(Path::line(circle(point(50.0, 50.0), f64::NAN), Ink::Object));
    drawing.add(Path::line(vec![Step::LineTo(point(1.0, 1.0))], Ink::Object));
    drawing.add(Words::new(point(1.0, 1.0), "lost", f64::INFINITY));
    drawing.add(Words::new(point(1.0, 1.0), "lost", 3.0).turned(f64::NAN));
    drawing.line(point(0.0, 1.0), point(2.0, 1.0), Ink::Object);
    let page = read(&to_pdf(&[drawing], &info(), None), 1);
    assert_eq!((page.lines.len(), page.texts.len()), (1, 0));
    let odd = Drawing::new(f64::NAN, -5.0, "");
    assert!(read(&to_pdf(&[odd], &info(), None), 1).lines.is_empty());
}

#[test]
fn what_is_only_to_be_touched_is_not_printed_and_wood_is_lighter() {
    let mut drawing = letter();
    let triangle = polyline(&[point(1.0, 1.0), point(9.0, 1.0), point(5.0, 7.0)]);
    drawing.add(Path::area(triangle.clone(), Fill::Touch));
    let bytes = to_pdf(std::slice::from_ref(&drawing), &info(), None);
    assert!(read(&bytes, 1).lines.is_empty());
    drawing.add(Path::area(triangle, Fill::Wood(Color::new(0, 0, 0))));
    let document = load(&to_pdf(&[drawing], &info(), None));
    let content = document
        .get_page_content(document.get_pages()[&1])
        .expect("content");
    let content = Content::decode(&content).expect("operators");
    let color = content
        .operations
        .iter()
        .find(|o| o.operator == "rg")
        .map(numbers);
    assert!(color.expect("a color")[0] > 0.4);
}

/// The dark area of a QR code as a picture, by its crossings along each row (even-odd rule).
fn picture(steps: &[Step], corner: Point, side_mm: f64, pixels: usize) -> Vec<u8> {
    let mut upright = Vec::new();
    let (mut here, mut start) = (corner, corner);
    for step in steps {
        let next = match *step {
            Step::MoveTo(p) => {
                (here, start) = (p, p);
                continue;
            }
            Step::LineTo(p) => p,
            Step::Close => start,
            Step::CurveTo(..) => panic!("a QR code has no curves"),
        };
        if (here.x - next.x).abs() < 1e-9 {
            upright.push((here.x, here.y.min(next.y), here.y.max(next.y)));
        }
        here = next;
    }
    let place = |index: usize| (index as f64 + 0.5) * side_mm / pixels as f64;
    let mut image = Vec::with_capacity(pixels * pixels);
    for row in 0..pixels {
        let y = corner.y + place(row);
        let crossed: Vec<f64> = upright
            .iter()
            .filter(|(_, top, bottom)| *top <= y && y < *bottom)
            .map(|e| e.0)
            .collect();
        image.extend((0..pixels).map(|column| {
            let x = corner.x + place(column);
            if crossed.iter().filter(|edge| **edge < x).count() % 2 == 1 {
                0
            } else {
                255
            }
        }));
    }
    image
}

#[test]
fn a_qr_code_is_read_back() {
    let short = "https://ringwright.example/#1";
    let long = format!("{short}{}", "aB3-_xYz9Qe".repeat(33));
    let longest = "x".repeat(2500);
    for text in [short, long.as_str(), longest.as_str()] {
        let (corner, side_mm, pixels) = (point(12.3, 45.6), 90.0, 900);
        let marks = qr::qr(text, corner, side_mm, qr::SCREEN_MODULE_MM).expect("a code");
        let [Mark::Path(_), Mark::Path(dark)] = &marks[..] else {
            panic!("ground and code")
        };
        let image = picture(&dark.steps, corner, side_mm, pixels);
        let mut prepared = rqrr::PreparedImage::prepare_from_greyscale(pixels, pixels, |x, y| {
            image[y * pixels + x]
        });
        let grids = prepared.detect_grids();
        assert_eq!(grids.len(), 1, "{} letters", text.len());
        let (_, read) = grids[0].decode().expect("readable");
        assert_eq!(read, text);
    }
}

#[test]
fn a_qr_code_keeps_its_white_border_within_its_side() {
    let (corner, side_mm) = (point(10.0, 20.0), 40.0);
    let marks = qr::qr("a link", corner, side_mm, qr::PAPER_MODULE_MM).expect("a code");
    let (ground, dark) = (marks[0].bounds().unwrap(), marks[1].bounds().unwrap());
    assert_eq!(ground, (corner, point(50.0, 60.0)));
    // Version 1: 21 modules and the border of 4 on each side.
    let module_mm = (dark.1.x - dark.0.x) / 21.0;
    for border in [
        dark.0.x - 10.0,
        dark.0.y - 20.0,
        50.0 - dark.1.x,
        60.0 - dark.1.y,
    ] {
        assert!(border >= 4.0 * module_mm - 0.01, "{border}");
    }
}
