//! The packet's pages as they look: each is drawn by another reader and compared with a
//! kept picture of it in `tests/pictures/`, so that no change of a page goes unseen.
//!
//! Where a page has changed, its new picture and one of the difference are written to
//! `target/pictures/`. Look at them; `RINGWRIGHT_KEEP_PICTURES=1 cargo test --test pictures`
//! keeps the new ones.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{GrayImage, ImageEncoder, Luma, Rgb, RgbImage};
use ringwright::design::{Design, Orientation, PaperSize};
use ringwright::draw::pdf::{Info, to_pdf};
use ringwright::draw::{Drawing, Mark, Point, Step, Typeface, Words, point};
use ringwright::show::sheets::job::{Choice, Sheet};
use ringwright::show::sheets::packet;
use ringwright::{design::example, design::link};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

const DATE: &str = "2030-01-31";

/// Small enough to keep, fine enough that words can be made out.
const PIXELS_PER_INCH: f32 = 50.0;

/// Kept pictures have 16 grays.
const GRAY_STEP: u8 = 17;

/// Pixels that differ by more are counted: rounding to 16 grays takes half a step, and
/// processors round their sums otherwise.
const TOLERANCE: u8 = 3 * GRAY_STEP;

/// So many counted pixels of a page's 230,000 are let pass: fewer than a short word has.
const MOST_PIXELS: usize = 8;

/// A packet that is looked at, and which of its sheets.
struct Looked {
    word: &'static str,
    size: PaperSize,
    orientation: Orientation,
    takes: fn(&str) -> bool,
}

/// Every kind of sheet upright and lying, on Letter and on A4. Of the vase's fifteen rings
/// the first two and the last; of the rings at full size, which take much paper, one.
const LOOKED: [Looked; 3] = [
    Looked {
        word: "porridge_bowl",
        size: PaperSize::Letter,
        orientation: Orientation::Portrait,
        takes: |key| !key.starts_with("full-size") || key == "full-size-2",
    },
    Looked {
        word: "lantern_vase",
        size: PaperSize::A4,
        orientation: Orientation::Landscape,
        takes: |key| {
            let is_ring = key.starts_with("ring-") || key.starts_with("full-size-");
            !is_ring || ["ring-1", "ring-2", "ring-15", "full-size-2"].contains(&key)
        },
    },
    // What the bowl does not have.
    Looked {
        word: "lantern_vase",
        size: PaperSize::Letter,
        orientation: Orientation::Portrait,
        takes: |key| ["boards", "inlay"].contains(&key),
    },
];

impl Looked {
    /// The chosen sheets with their date and link.
    fn sheets(&self) -> Vec<Sheet> {
        let example = example::ALL.iter().find(|it| it.word == self.word);
        let (mut design, troubles) = link::decode(example.expect("an example").link).unwrap();
        assert_eq!(troubles, []);
        design.paper.size = self.size;
        design.paper.orientation = self.orientation;
        let link = linked(&design);
        // What there is to choose from.
        let every = packet::sheets(
            &ringwright::plan::plan(&design),
            &link,
            DATE,
            Choice::Pictures,
        );
        let keys = every.into_iter().map(|sheet| sheet.key);
        let keys: Vec<String> = keys.filter(|key| (self.takes)(key)).collect();
        let mut sheets = packet::sheets(
            &ringwright::plan::plan(&design),
            &link,
            DATE,
            Choice::These(&keys),
        );
        // Without the pages' numbers: a page more would change every picture. They are
        // checked in `tests/packet.rs`.
        for page in sheets.iter_mut().flat_map(|sheet| &mut sheet.pages) {
            let number = page.marks.pop();
            let is_number = |mark: &Mark| matches!(mark, Mark::Words(words) if words.lettering.spoken().starts_with("Page "));
            assert!(number.as_ref().is_some_and(is_number));
        }
        sheets
    }

    /// A page's name, as `porridge_bowl-upright-cover-1`.
    fn name(&self, key: &str, place: usize) -> String {
        let way = match self.orientation {
            Orientation::Portrait => "upright",
            Orientation::Landscape => "lying",
        };
        format!("{}-{way}-{key}-{}", self.word, place + 1)
    }
}

fn linked(design: &Design) -> String {
    format!("https://example.org/#{}", link::encode(design))
}

/// The pages as pictures in 16 grays.
fn pictures(pages: &[&Drawing]) -> Vec<GrayImage> {
    drawn_at(pages, PIXELS_PER_INCH)
}

fn drawn_at(pages: &[&Drawing], pixels_per_inch: f32) -> Vec<GrayImage> {
    drawn_in(pages, pixels_per_inch, shared::typeface())
}

fn drawn_in(
    pages: &[&Drawing],
    pixels_per_inch: f32,
    typeface: Option<&Typeface>,
) -> Vec<GrayImage> {
    let pdf = to_pdf(pages, &Info::default(), typeface);
    let pdf = Pdf::new(pdf).expect("a PDF that is read");
    let cache = RenderCache::new();
    // The reader's own fonts, never those of the machine.
    let settings = InterpreterSettings::default();
    let shapes = RenderSettings {
        hinting: false,
        ..RenderSettings::default()
    };
    let scale = pixels_per_inch / 72.0;
    let size = PixmapSettings {
        x_scale: scale,
        y_scale: scale,
        bg_color: WHITE,
    };
    let drawn = pdf.pages().iter().map(|page| {
        let drawn = render(page, &cache, &settings, &shapes, &size);
        let grays = drawn.data().iter().map(|it| {
            let sum = u32::from(it.r) * 299 + u32::from(it.g) * 587 + u32::from(it.b) * 114;
            // The weights of ITU-R BT.601.
            let step = u32::from(GRAY_STEP);
            ((sum / 1000 + step / 2) / step * step) as u8
        });
        let (width, height) = (u32::from(drawn.width()), u32::from(drawn.height()));
        GrayImage::from_vec(width, height, grays.collect()).expect("as many pixels")
    });
    drawn.collect()
}

/// How many pixels differ visibly; none where the sizes do.
fn differing(one: &GrayImage, other: &GrayImage) -> Option<usize> {
    let is_other = |(a, b): &(&u8, &u8)| a.abs_diff(**b) > TOLERANCE;
    (one.dimensions() == other.dimensions())
        .then(|| one.iter().zip(other.iter()).filter(is_other).count())
}

fn is_alike(one: &GrayImage, other: &GrayImage) -> bool {
    differing(one, other).is_some_and(|count| count <= MOST_PIXELS)
}

/// What is gone in red, what has come in blue-green.
fn difference(kept: &GrayImage, new: &GrayImage) -> RgbImage {
    let gray = |of: &GrayImage, x, y| of.get_pixel_checked(x, y).map_or(255, |Luma([it])| *it);
    let width = kept.width().max(new.width());
    let height = kept.height().max(new.height());
    RgbImage::from_fn(width, height, |x, y| {
        let (was, is) = (gray(kept, x, y), gray(new, x, y));
        Rgb([is, was, was])
    })
}

fn write(path: &Path, picture: &GrayImage) {
    let mut bytes = Vec::new();
    PngEncoder::new_with_quality(&mut bytes, CompressionType::Best, FilterType::NoFilter)
        .write_image(
            picture,
            picture.width(),
            picture.height(),
            image::ExtendedColorType::L8,
        )
        .unwrap();
    fs::write(path, bytes).unwrap();
}

fn folder(path: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(path);
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// What people of many countries write over their work, small and large.
fn names() -> Drawing {
    let mut page = Drawing::new(130.0, 90.0, "Names");
    let names = [
        "Μπολ από καρυδιά, ⅜″",
        "Чаша з горіха, 7⅞″",
        "Ваза од трешње, ⅛ + ⅝",
        "Żółć ďáblův ľan, ⅓ ⅔ ½ ¼ ¾",
        "Bát gỗ sồi, Ångström, Weiß",
    ];
    for (place, name) in names.into_iter().enumerate() {
        let at = |beside: f64| point(6.0, 12.0 + 16.0 * place as f64 + beside);
        page.add(Words::new(at(0.0), name, 4.5).bold());
        page.add(Words::new(at(6.0), name, 2.6));
    }
    page
}

#[test]
fn every_page_looks_as_it_was_last_seen() {
    let is_keeping = std::env::var_os("RINGWRIGHT_KEEP_PICTURES").is_some();
    // Those of an earlier run would mislead.
    let _ = fs::remove_dir_all(folder("target/pictures"));
    let (kept, target) = (folder("tests/pictures"), folder("target/pictures"));
    let mut new: BTreeMap<String, GrayImage> = BTreeMap::new();
    for looked in &LOOKED {
        let sheets = looked.sheets();
        let named: Vec<(String, &Drawing)> = sheets
            .iter()
            .flat_map(|sheet| {
                let pages = sheet.pages.iter().enumerate();
                pages.map(|(place, page)| (looked.name(&sheet.key, place), page))
            })
            .collect();
        let pages: Vec<&Drawing> = named.iter().map(|(_, page)| *page).collect();
        let names = named.into_iter().map(|(name, _)| name);
        new.extend(names.zip(pictures(&pages)));
    }
    let names = pictures(&[&names()]).swap_remove(0);
    new.insert("names".to_owned(), names);
    let mut changed: Vec<String> = Vec::new();
    for (name, picture) in &new {
        let file = kept.join(format!("{name}.png"));
        let old = image::open(&file).map(image::DynamicImage::into_luma8);
        if old.as_ref().is_ok_and(|old| is_alike(old, picture)) {
            continue;
        }
        if is_keeping {
            write(&file, picture);
            continue;
        }
        write(&target.join(format!("{name}.png")), picture);
        if let Ok(old) = old {
            let path = target.join(format!("{name}.difference.png"));
            difference(&old, picture).save(path).unwrap();
        }
        changed.push(name.clone());
    }
    for entry in fs::read_dir(&kept).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        if new.contains_key(&name) {
            continue;
        }
        if is_keeping {
            fs::remove_file(path).unwrap();
        } else {
            changed.push(format!("{name} (no longer a page)"));
        }
    }
    assert!(
        changed.is_empty(),
        "These pages look otherwise than their kept pictures:\n{}\n\
         The new ones and the differences are in target/pictures. If all is as it should be:\n\
         RINGWRIGHT_KEEP_PICTURES=1 cargo test --test pictures",
        changed.join("\n")
    );
}

// Without the typeface. Letters that this reader's own fonts lack: of Helvetica it has the standard Latin
// characters alone, as many others do.

#[test]
fn letters_with_accents_are_printed_whole_by_a_reader_that_does_not_have_them() {
    let pairs = [
        ("ŻĄĘŁŃŚŹ", "ZAELNSZ"),
        ("żąęłńśź", "zaelnsz"),
        ("ČĚŘŮŇŤĎ", "CERUNTD"),
        ("čěřůňťď", "ceruntd"),
        ("ŐŰĞŞİĀĢ", "OUGSIAG"),
        ("őűğşĉāđ", "ougscad"),
    ];
    for (letters, bases) in pairs {
        for (letter, base) in letters.chars().zip(bases.chars()) {
            let ink = |of: char| {
                let mut page = Drawing::new(30.0, 30.0, "");
                page.add(Words::new(point(10.0, 20.0), of.to_string(), 10.0));
                let picture = drawn_in(&[&page], PIXELS_PER_INCH, None).swap_remove(0);
                picture
                    .iter()
                    .map(|gray| 255 - u32::from(*gray))
                    .sum::<u32>()
            };
            let (with, without) = (ink(letter), ink(base));
            assert!(
                without > 2_000 && with > without + 200,
                "{letter}: {with}, {without}"
            );
        }
    }
}

// The comparison itself can fail.

/// A page with words of every size, lines and woods.
fn a_page() -> Drawing {
    let mut sheets = LOOKED[0].sheets();
    let at = sheets.iter().position(|sheet| sheet.key == "ring-2");
    sheets.swap_remove(at.expect("a ring")).pages.swap_remove(0)
}

/// Whether a change to a page is noticed.
fn is_noticed(change: impl FnOnce(&mut Drawing)) -> bool {
    let page = a_page();
    let mut changed = page.clone();
    change(&mut changed);
    assert_ne!(page, changed);
    let both = pictures(&[&page, &changed]);
    !is_alike(&both[0], &both[1])
}

#[test]
fn a_missing_word_is_noticed() {
    let longest = |mark: &Mark| match mark {
        Mark::Words(words) => words.width_mm(),
        Mark::Path(_) => f64::MAX,
    };
    // The shortest words on the page are a single figure of a dimension.
    assert!(is_noticed(|page| {
        let places = 0..page.marks.len();
        let shortest = places.min_by(|a, b| {
            let (a, b) = (longest(&page.marks[*a]), longest(&page.marks[*b]));
            a.total_cmp(&b)
        });
        page.marks.remove(shortest.unwrap());
    }));
}

#[test]
fn a_figure_that_turned_into_another_is_noticed() {
    assert!(is_noticed(|page| {
        let words = page.marks.iter_mut().find_map(|mark| match mark {
            Mark::Words(words) if words.lettering.spoken() == "15°" => Some(words),
            _ => None,
        });
        words.expect("the saw's setting").lettering = "16°".into();
    }));
}

#[test]
fn a_line_moved_by_a_millimeter_is_noticed() {
    assert!(is_noticed(|page| {
        let wedge = page.marks.iter_mut().find_map(|mark| match mark {
            Mark::Path(path) if path.name.as_deref() == Some("wedge") => Some(path),
            _ => None,
        });
        for step in &mut wedge.expect("a wedge").steps {
            if let Step::MoveTo(at) | Step::LineTo(at) = step {
                at.y += 1.0;
            }
        }
    }));
}

#[test]
fn rounding_is_not_taken_for_a_change() {
    let page = pictures(&[&a_page()]).swap_remove(0);
    let mut rounded = page.clone();
    for (place, gray) in rounded.iter_mut().enumerate() {
        *gray = if place % 2 == 0 {
            gray.saturating_add(GRAY_STEP)
        } else {
            gray.saturating_sub(GRAY_STEP)
        };
    }
    assert!(is_alike(&page, &rounded));
    let narrower = GrayImage::new(page.width() - 1, page.height());
    assert!(!is_alike(&page, &narrower));
}

/// What an eye has of an area in a gray print: how dark it is, how much of it is lines, and
/// which way they run (the gradient's structure tensor; Bigün and Granlund, 1987, from memory).
fn look(page: &GrayImage, least: Point, most: Point) -> [f64; 4] {
    let pixel = |mm: f64| (mm / 25.4 * 300.0) as u32;
    // Clear of the edge's own line.
    let (left, right) = (pixel(least.x + 0.5), pixel(most.x - 0.5));
    let (top, bottom) = (pixel(least.y + 0.5), pixel(most.y - 0.5));
    let (mut sum, mut xx, mut yy, mut xy, mut count) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for y in top..bottom {
        for x in left..right {
            let at = |x: u32, y: u32| f64::from(page.get_pixel(x, y).0[0]) / 255.0;
            let (across, down) = (at(x + 1, y) - at(x - 1, y), at(x, y + 1) - at(x, y - 1));
            sum += at(x, y);
            (xx, yy, xy) = (xx + across * across, yy + down * down, xy + across * down);
            count += 1.0;
        }
    }
    assert!(count > 200.0, "{count}");
    let energy: f64 = (xx + yy) / count;
    let whole = (xx + yy).max(1e-3 * count);
    [
        sum / count,
        energy.sqrt(),
        (xx - yy) / whole,
        2.0 * xy / whole,
    ]
}

#[test]
fn woods_are_told_apart_in_a_gray_print() {
    let (mut design, _) = link::decode(example::ALL[1].link).unwrap();
    let woods = &mut design.vessel.as_mut().unwrap().woods;
    // Two that print the same gray, and one that does not.
    *woods = ["Purpleheart", "Walnut, black", "Wenge"]
        .map(str::to_owned)
        .to_vec();
    let plan = ringwright::plan::plan(&design);
    let keys = ["cover", "map", "section", "ring-10", "inlay"].map(str::to_owned);
    let sheets = packet::sheets(&plan, "", DATE, Choice::These(&keys));
    let mut told = 0;
    for page in sheets.iter().flat_map(|sheet| &sheet.pages) {
        let swatches: Vec<_> = page
            .marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Path(path) if path.name.as_deref() == Some("wood") => mark.bounds(),
                _ => None,
            })
            .collect();
        if swatches.is_empty() {
            continue;
        }
        // A ring's own sheet has the two that it is of.
        let named = page.description.as_str();
        let own = if named.starts_with("Ring 10") { 2 } else { 3 };
        assert_eq!(swatches.len(), own, "{named}");
        let print = drawn_at(&[page], 300.0).remove(0);
        let looks: Vec<[f64; 4]> = swatches
            .iter()
            .map(|(least, most)| look(&print, *least, *most))
            .collect();
        let differ = |one: &[f64; 4], other: &[f64; 4]| {
            let turn = (one[2] - other[2]).hypot(one[3] - other[3]);
            (one[0] - other[0]).abs() > 0.12 || (one[1] - other[1]).abs() > 0.1 || turn > 0.8
        };
        for (place, one) in looks.iter().enumerate() {
            for other in &looks[place + 1..] {
                assert!(
                    differ(one, other),
                    "{}: {one:?} {other:?}",
                    page.description
                );
            }
        }
        // Every cell looks as its swatch does: measured below and above its letter.
        for mark in &page.marks {
            let Mark::Path(path) = mark else { continue };
            let Some((ring, segment)) = path
                .name
                .as_deref()
                .and_then(|name| name.strip_prefix("cell-")?.split_once('-'))
            else {
                continue;
            };
            let Some((least, most)) = mark.bounds() else {
                continue;
            };
            let (wide, high) = (most.x - least.x, most.y - least.y);
            if path.steps.len() != 5 || wide < 6.0 || high < 9.0 {
                continue;
            }
            let vessel = design.vessel.as_ref().unwrap();
            let wood =
                vessel.rings[ring.parse::<usize>().unwrap()].wood_of(segment.parse().unwrap());
            let own = look(&print, least, point(most.x, least.y + 3.5));
            let nearest = (0..looks.len()).min_by(|one, other| {
                let away = |place: usize| {
                    looks[place]
                        .iter()
                        .zip(own)
                        .map(|(a, b)| (a - b).powi(2))
                        .sum::<f64>()
                };
                away(*one).total_cmp(&away(*other))
            });
            // A slot's strip may cross it.
            if page.description.contains("Map") && !["6", "7"].contains(&ring) {
                assert_eq!(nearest, Some(wood), "{ring} {segment} {own:?} {looks:?}");
                told += 1;
            }
        }
    }
    assert!(told > 20, "{told}");
}

#[test]
fn every_cover_s_code_is_read_from_a_coarse_print_by_two_readers() {
    let long =
        "Ogee for Ærøskøbing, turned in the winter of the long ice, third of five ".repeat(9);
    for (place, name) in [(0, None), (1, None), (1, Some(long))] {
        for orientation in [Orientation::Portrait, Orientation::Landscape] {
            let (mut design, _) = link::decode(example::ALL[place].link).unwrap();
            design.paper.orientation = orientation;
            if let Some(name) = &name {
                design.name.clone_from(name);
            }
            let link = linked(&design);
            let plan = ringwright::plan::plan(&design);
            let keys = ["cover".to_owned()];
            let cover = packet::sheets(&plan, &link, DATE, Choice::These(&keys)).remove(0);
            let is_code = |mark: &Mark| matches!(mark, Mark::Path(path) if path.name.as_deref() == Some("qr"));
            let page = cover
                .pages
                .iter()
                .find(|page| page.marks.iter().any(is_code));
            let page = page.unwrap_or_else(|| panic!("no code for {} letters", link.len()));
            let code = page.marks.iter().find(|mark| is_code(mark)).unwrap();
            let Mark::Path(path) = code else {
                unreachable!()
            };
            // The shortest edge of its outline is one module or more; all are whole numbers of it.
            let corners: Vec<Point> = path
                .steps
                .iter()
                .filter_map(|step| match step {
                    Step::MoveTo(at) | Step::LineTo(at) => Some(*at),
                    _ => None,
                })
                .collect();
            let edges = corners
                .windows(2)
                .map(|two| two[0].distance(two[1]))
                .filter(|edge| *edge > 0.01);
            let module = edges.fold(f64::MAX, f64::min);
            assert!(module >= 0.4999, "{module} mm for {} letters", link.len());
            // As a phone is held over it: the code and what is around it.
            let (least, most) = code.bounds().unwrap();
            let pixel = |mm: f64| (mm.max(0.0) / 25.4 * 150.0) as u32;
            let (left, top) = (pixel(least.x - 6.0), pixel(least.y - 6.0));
            let (right, bottom) = (pixel(most.x + 6.0), pixel(most.y + 6.0));
            let whole = drawn_at(&[page], 150.0).remove(0);
            let (width, height) = (
                right.min(whole.width()) - left,
                bottom.min(whole.height()) - top,
            );
            let print = image::imageops::crop_imm(&whole, left, top, width, height).to_image();
            let mut prepared = rqrr::PreparedImage::prepare_from_greyscale(
                width as usize,
                height as usize,
                |x, y| print.get_pixel(x as u32, y as u32).0[0],
            );
            let grids = prepared.detect_grids();
            let read: Vec<String> = grids
                .iter()
                .filter_map(|grid| Some(grid.decode().ok()?.1))
                .collect();
            assert_eq!(read, [link.as_str()]);
            let read = rxing::helpers::detect_in_luma(
                print.into_raw(),
                width,
                height,
                Some(rxing::BarcodeFormat::QR_CODE),
            );
            assert_eq!(read.expect("a code").getText(), link);
        }
    }
}
