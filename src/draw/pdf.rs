//! Drawings as a PDF file, one a page, true to scale (ISO 32000-1).
//!
//! A page's own unit is the point, 1/72 inch, from the bottom left; one transformation at the head
//! of each page makes it the millimeter from the top left, and everything after it is written as
//! it stands in the drawing. Words are set in the typeface that is handed over, of which the file
//! takes along what stands in it; without one in the standard Helvetica.
//!
//! The file depends on nothing but its contents: the same sheets give the same bytes.

use super::compact::compact;
use super::content::Content;
use super::helvetica;
use super::lettering::{Piece, font_size_mm};
use super::letters::Letters;
use super::structure::{Said, Structure};
use super::{Anchor, Drawing, Fill, Ink, Lettering, Mark, Path, Step, Tone, Weight, Words};
use super::{Color, Typeface, palette};
use crate::draw::deflate::zlib;
use pdf_writer::types::{PageMode, StructRole};
use pdf_writer::{Chunk, Date, Filter, Finish, Name, Pdf, Rect, Ref, Settings, TextStr};
use std::ops::Range;

const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// What a PDF file says about itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Info {
    /// The title, shown in the viewer's title bar.
    pub title: String,
    /// Who made the design, if said.
    pub author: String,
    /// The day of printing as `2030-01-31`, if it shall be in the file.
    pub date: Option<String>,
    /// What can be jumped to: a title, and its page from 0.
    pub outline: Vec<(String, usize)>,
}

/// A PDF file with one page for each drawing, of the drawing's size.
pub fn to_pdf<D: std::borrow::Borrow<Drawing>>(
    pages: &[D],
    info: &Info,
    typeface: Option<&Typeface>,
) -> Vec<u8> {
    let pages: Vec<&Drawing> = pages.iter().map(std::borrow::Borrow::borrow).collect();
    let letters = Letters::of(&pages, typeface);
    let shared = shared(&pages);
    let mut pdf = Pdf::with_settings(Settings { pretty: false });
    let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
    let first_of_fonts = FIRST_PAGE + 2 * count;
    let first_shared = first_of_fonts + letters.objects();
    let first_entry = first_shared + number(shared.len());
    let entries = write_outline(&mut pdf, info, pages.len(), first_entry);
    write_catalog(
        &mut pdf,
        info,
        (entries > 0).then_some(Ref::new(first_entry)),
    );
    write_info(&mut pdf, info);
    write_metadata(&mut pdf, info, typeface.is_some());
    letters.write(&mut pdf, [REGULAR_FONT, BOLD_FONT], first_of_fonts);
    let page_refs = (0..count).map(page_ref);
    pdf.pages(PAGES).kids(page_refs).count(count);
    let mut said = Said::default();
    let mut tree = Tree::new(first_entry + entries);
    for (index, drawing) in (0..count).zip(&pages) {
        let mut structure = Structure::of(drawing, &mut said);
        let shared = (shared.as_slice(), first_shared);
        write_page(&mut pdf, index, drawing, &letters, shared, &mut structure);
        tree.write_page(&mut pdf, index, &structure);
    }
    tree.write_root(&mut pdf);
    for (id, run) in (first_shared..).zip(&shared) {
        let mut sheet = Sheet::new(&letters, &[]);
        run.iter().for_each(|mark| sheet.mark(mark));
        let content = zlib(&sheet.content.finish());
        let far = 14_400.0;
        let mut form = pdf.form_xobject(Ref::new(id), &content);
        form.filter(Filter::FlateDecode);
        form.bbox(Rect::new(-far, -far, far, far));
    }
    compact(pdf.finish(), CATALOG.get(), INFO.get())
}

/// Lines of so many steps are worth an object of their own, if they are drawn again.
const LONG: usize = 80;

/// Long runs of lines that stand on several pages, as the design's code does: each is
/// written once (ISO 32000-1, 8.10, form objects).
fn shared<'a>(pages: &[&'a Drawing]) -> Vec<&'a [Mark]> {
    let (mut once, mut again): (Vec<&[Mark]>, Vec<&[Mark]>) = (Vec::new(), Vec::new());
    for page in pages {
        for run in runs(page).into_iter().map(|run| &page.marks[run]) {
            if !once.contains(&run) {
                once.push(run);
            } else if !again.contains(&run) {
                again.push(run);
            }
        }
    }
    again
}

/// The long runs of lines of a page, neither broken by words nor by where a part begins or
/// ends.
fn runs(page: &Drawing) -> Vec<Range<usize>> {
    let mut ends: Vec<usize> = page.parts.iter().flat_map(|it| [it.from, it.to]).collect();
    let is_words = |place: &usize| matches!(page.marks[*place], Mark::Words(_));
    ends.extend(
        (0..page.marks.len())
            .filter(is_words)
            .flat_map(|it| [it, it + 1]),
    );
    ends.push(page.marks.len());
    ends.sort_unstable();
    let mut from = 0;
    let mut runs = Vec::new();
    for end in ends {
        let run = from..end.max(from);
        from = run.end;
        let steps = |mark: &Mark| match mark {
            Mark::Path(path) => path.steps.len(),
            Mark::Words(_) => 0,
        };
        let marks = page.marks.get(run.clone()).unwrap_or(&[]);
        let is_long = marks.iter().map(steps).sum::<usize>() >= LONG;
        if is_long && marks.iter().all(Mark::is_drawable) {
            runs.push(run);
        }
    }
    runs
}

/// The name of a shared run in a page's resources.
fn shared_name(index: usize) -> String {
    format!("S{index}")
}

const CATALOG: Ref = Ref::new(1);
const PAGES: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
const REGULAR_FONT: Ref = Ref::new(4);
const BOLD_FONT: Ref = Ref::new(5);
const METADATA: Ref = Ref::new(6);
const STRUCTURE: Ref = Ref::new(7);
const DOCUMENT: Ref = Ref::new(8);
const FIRST_PAGE: i32 = 9;

const REGULAR_NAME: Name = Name(b"R");
const BOLD_NAME: Name = Name(b"B");

fn page_ref(index: i32) -> Ref {
    Ref::new(FIRST_PAGE + 2 * index)
}

fn content_ref(index: i32) -> Ref {
    Ref::new(FIRST_PAGE + 2 * index + 1)
}

fn write_catalog(pdf: &mut Pdf, info: &Info, outline: Option<Ref>) {
    let mut catalog = pdf.catalog(CATALOG);
    catalog.pages(PAGES).lang(TextStr("en-US"));
    catalog.metadata(METADATA);
    catalog.mark_info().marked(true);
    catalog.pair(Name(b"StructTreeRoot"), STRUCTURE);
    if let Some(outline) = outline {
        catalog.outlines(outline).page_mode(PageMode::UseOutlines);
        // The number that a reader shows is the one that stands on the page.
        let mut labels = catalog.insert(Name(b"PageLabels")).dict();
        let mut numbers = labels.insert(Name(b"Nums")).array();
        numbers.item(0);
        numbers.push().dict().pair(Name(b"S"), Name(b"D"));
        numbers.finish();
        labels.finish();
    }
    let mut preferences = catalog.viewer_preferences();
    // Without this, viewers shrink a sheet to the printer's margins by default (ISO 32000-1,
    // table 150), and a template comes out too small.
    preferences.pair(Name(b"PrintScaling"), Name(b"None"));
    if !info.title.is_empty() {
        preferences.display_doc_title(true);
    }
}

fn number(of: usize) -> i32 {
    i32::try_from(of).unwrap_or(i32::MAX)
}

/// What can be jumped to, its root and then its entries from an object on; how many objects
/// there are.
fn write_outline(pdf: &mut Pdf, info: &Info, pages: usize, first: i32) -> i32 {
    let entries = info.outline.iter().filter(|(_, page)| *page < pages);
    let entries: Vec<_> = entries.collect();
    let Some(last) = entries.len().checked_sub(1) else {
        return 0;
    };
    let root = Ref::new(first);
    let entry = |place: usize| Ref::new(first + 1 + number(place));
    let mut whole = pdf.outline(root);
    whole
        .first(entry(0))
        .last(entry(last))
        .count(number(entries.len()));
    whole.finish();
    for (place, (title, page)) in entries.into_iter().enumerate() {
        let title = plain_text(title);
        let mut item = pdf.outline_item(entry(place));
        item.title(TextStr(&title)).parent(root);
        if place > 0 {
            item.prev(entry(place - 1));
        }
        if place < last {
            item.next(entry(place + 1));
        }
        item.dest().page(page_ref(number(*page))).fit();
    }
    number(last) + 2
}

fn write_info(pdf: &mut Pdf, info: &Info) {
    let mut document = pdf.document_info(INFO);
    document.producer(TextStr("Ringwright"));
    let title = plain_text(&info.title);
    if !title.is_empty() {
        document.title(TextStr(&title));
    }
    let author = plain_text(&info.author);
    if !author.is_empty() {
        document.author(TextStr(&author));
    }
    if let Some(date) = info.date.as_deref().and_then(day) {
        document.creation_date(date);
    }
}

/// The same in the words of XMP (ISO 16684-1). A file that has its typeface in it can be read
/// by everyone, and says so (ISO 14289-1, 5); `tests/tagged.rs` has it checked.
fn write_metadata(pdf: &mut Pdf, info: &Info, has_typeface: bool) {
    let escaped = |text: &str| {
        let text = plain_text(text).replace('&', "&amp;").replace('<', "&lt;");
        text.replace('>', "&gt;")
    };
    let mut told = format!(
        "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:title>",
        escaped(&info.title)
    );
    if !plain_text(&info.author).is_empty() {
        let author = escaped(&info.author);
        told =
            format!("{told}<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>");
    }
    let date = info.date.as_deref().filter(|date| day(date).is_some());
    if let Some(date) = date.and_then(|date| date.get(..10)) {
        told = format!("{told}<xmp:CreateDate>{date}</xmp:CreateDate>");
    }
    if has_typeface && !plain_text(&info.title).is_empty() {
        told.push_str("<pdfuaid:part>1</pdfuaid:part>");
    }
    let packet = format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" \
         xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" \
         xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\
         {told}<pdf:Producer>Ringwright</pdf:Producer>\
         </rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end=\"r\"?>"
    );
    pdf.metadata(METADATA, packet.as_bytes());
}

/// The tree of what is said, over all pages.
struct Tree {
    /// The number of the next object.
    next: i32,
    /// The elements that are in nothing else.
    outermost: Vec<Ref>,
    /// By pages, the element of each piece of content.
    pieces: Vec<Vec<Ref>>,
}

impl Tree {
    fn new(first: i32) -> Self {
        Self {
            next: first,
            outermost: Vec::new(),
            pieces: Vec::new(),
        }
    }

    fn write_page(&mut self, pdf: &mut Pdf, page: i32, structure: &Structure) {
        let first = self.next;
        let id = |place: usize| Ref::new(first + number(place));
        self.next += number(structure.elements.len());
        let kids = structure.kids();
        self.outermost.extend(kids.outermost.into_iter().map(id));
        let mut pieces = Vec::new();
        for (place, element) in structure.elements.iter().enumerate() {
            for piece in &element.pieces {
                pieces.push((*piece, id(place)));
            }
            let within = &kids.within[place];
            if element.pieces.is_empty() && within.is_empty() {
                continue;
            }
            let mut written = pdf.indirect(id(place)).dict();
            written.pair(Name(b"Type"), Name(b"StructElem"));
            written.pair(Name(b"S"), Name(element.tag.as_bytes()));
            written.pair(Name(b"P"), element.parent.map_or(DOCUMENT, id));
            written.pair(Name(b"Pg"), page_ref(page));
            if let Some(says) = element.says {
                written.pair(Name(b"Alt"), TextStr(&plain_text(says)));
            }
            if element.tag == "TH" {
                let mut heads = written.insert(Name(b"A")).dict();
                heads.pair(Name(b"O"), Name(b"Table"));
                heads.pair(Name(b"Scope"), Name(b"Column"));
            }
            let mut listed = written.insert(Name(b"K")).array();
            listed.items(&element.pieces);
            listed.items(within.iter().map(|place| id(*place)));
        }
        pieces.sort_unstable_by_key(|(piece, _)| *piece);
        self.pieces
            .push(pieces.into_iter().map(|(_, id)| id).collect());
    }

    fn write_root(&self, pdf: &mut Pdf) {
        let mut root = pdf.indirect(STRUCTURE).dict();
        root.pair(Name(b"Type"), Name(b"StructTreeRoot"));
        root.pair(Name(b"K"), DOCUMENT);
        root.pair(Name(b"ParentTreeNextKey"), number(self.pieces.len()));
        let mut pages = root.insert(Name(b"ParentTree")).dict();
        let mut numbers = pages.insert(Name(b"Nums")).array();
        for (page, pieces) in self.pieces.iter().enumerate() {
            numbers.item(number(page));
            numbers.push().array().items(pieces);
        }
        numbers.finish();
        pages.finish();
        root.finish();
        let mut document = pdf.struct_element(DOCUMENT);
        document.kind(StructRole::Document).parent(STRUCTURE);
        document.children().items(&self.outermost);
    }
}

/// Control characters mean other things in a PDF text string (ESC begins a language code).
fn plain_text(text: &str) -> String {
    text.chars()
        .filter(|character| !character.is_control())
        .collect()
}

fn day(text: &str) -> Option<Date> {
    let mut parts = text.get(..10)?.split('-');
    let year = parts.next()?.parse().ok()?;
    let month = parts.next()?.parse().ok()?;
    let day = parts.next()?.parse().ok()?;
    Some(Date::new(year).month(month).day(day))
}

fn write_page(
    pdf: &mut Pdf,
    index: i32,
    drawing: &Drawing,
    letters: &Letters,
    (shared, first_shared): (&[&[Mark]], i32),
    structure: &mut Structure,
) {
    let points = |length_mm: f64| {
        let length = length_mm * POINTS_PER_MM;
        // The largest page that PDF knows is 14,400 points (ISO 32000-1, annex C).
        if length.is_finite() {
            length.clamp(3.0, 14_400.0)
        } else {
            3.0
        }
    };
    let (width, height) = (points(drawing.width_mm), points(drawing.height_mm));
    let mut page = pdf.page(page_ref(index));
    page.parent(PAGES)
        .media_box(Rect::new(0.0, 0.0, width as f32, height as f32))
        .contents(content_ref(index))
        .struct_parents(index);
    let mut resources = page.resources();
    let mut fonts = resources.fonts();
    fonts
        .pair(REGULAR_NAME, REGULAR_FONT)
        .pair(BOLD_NAME, BOLD_FONT);
    fonts.finish();
    if !shared.is_empty() {
        let mut objects = resources.x_objects();
        for (index, id) in (0..shared.len()).zip(first_shared..) {
            objects.pair(Name(shared_name(index).as_bytes()), Ref::new(id));
        }
    }
    resources.finish();
    page.finish();
    let content = Sheet::new(letters, shared).page(height, drawing, structure);
    write_stream(pdf, content_ref(index), &content);
}

fn write_stream(chunk: &mut Chunk, id: Ref, content: &[u8]) {
    let packed = zlib(content);
    chunk.stream(id, &packed).filter(Filter::FlateDecode);
}

/// The contents of a page while they are written, and the state the reader is in by then.
struct Sheet<'a> {
    content: Content,
    letters: &'a Letters<'a>,
    shared: &'a [&'a [Mark]],
    ink: Option<Ink>,
    fill: Option<Color>,
    font: Option<(Weight, f64)>,
    rise: f64,
}

impl<'a> Sheet<'a> {
    fn new(letters: &'a Letters<'a>, shared: &'a [&'a [Mark]]) -> Self {
        Self {
            content: Content::default(),
            letters,
            shared,
            ink: None,
            fill: None,
            font: None,
            rise: 0.0,
        }
    }

    fn page(mut self, height: f64, drawing: &Drawing, structure: &mut Structure) -> Vec<u8> {
        // Six decimals: over a sheet four would be off by hundredths of a millimeter.
        self.content.word("2.834646 0 0 -2.834646 0");
        self.content.operator(&[height], "cm");
        // Round line joins.
        self.content.word("1 j");
        let mut before = None;
        let mut piece = 0;
        let runs = runs(drawing).into_iter().filter_map(|run| {
            let marks = &drawing.marks[run.clone()];
            let index = self.shared.iter().position(|other| *other == marks)?;
            Some((run, index))
        });
        let mut runs = runs.collect::<Vec<_>>().into_iter().peekable();
        for (place, (mark, owner)) in drawing.marks.iter().zip(&structure.owners).enumerate() {
            runs.next_if(|(run, _)| run.end <= place);
            if !mark.is_drawable() {
                continue;
            }
            if before != Some(*owner) {
                self.close(before.replace(*owner).is_some());
                match owner.and_then(|owner| structure.elements.get_mut(owner)) {
                    Some(element) => {
                        element.pieces.push(piece);
                        let head = format!("/{} <</MCID {piece}>> BDC", element.tag);
                        self.content.word(&head);
                        piece += 1;
                    }
                    None => self.content.word("/Artifact BMC"),
                }
            }
            match runs.peek() {
                Some((run, index)) if run.start == place => {
                    self.content.word(&format!("/{} Do", shared_name(*index)));
                }
                Some((run, _)) if run.contains(&place) => {}
                _ => self.mark(mark),
            }
        }
        self.close(before.is_some());
        self.content.finish()
    }

    /// Ends a piece of the content, if one has begun.
    fn close(&mut self, has_begun: bool) {
        if has_begun {
            self.content.word("EMC");
        }
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Path(path) => self.path(path),
            Mark::Words(words) => self.words(words),
        }
    }

    fn path(&mut self, path: &Path) {
        let fill = path.fill.and_then(printed);
        if fill.is_none() && path.ink.is_none() {
            return;
        }
        if let Some(color) = fill {
            self.fill_with(color);
        }
        if let Some(ink) = path.ink {
            self.ink_with(ink);
        }
        for step in &path.steps {
            self.step(*step);
        }
        self.content
            .word(match (fill.is_some(), path.ink.is_some()) {
                (true, true) => "B*",
                (true, false) => "f*",
                _ => "S",
            });
    }

    fn step(&mut self, step: Step) {
        let content = &mut self.content;
        match step {
            Step::MoveTo(p) => content.places(&[p], "m"),
            Step::LineTo(p) => content.places(&[p], "l"),
            Step::CurveTo(a, b, p) => content.places(&[a, b, p], "c"),
            Step::Close => content.word("h"),
        }
    }

    fn fill_with(&mut self, color: Color) {
        if self.fill != Some(color) {
            self.content.operator(&shares(color), "rg");
            self.fill = Some(color);
        }
    }

    fn ink_with(&mut self, ink: Ink) {
        if self.ink == Some(ink) {
            return;
        }
        self.content.operator(&shares(ink.tone().color()), "RG");
        self.content.operator(&[ink.width_mm()], "w");
        self.content.word("[");
        for dash in ink.dashes_mm() {
            self.content.number(*dash);
        }
        self.content.word("] 0 d");
        self.ink = Some(ink);
    }

    fn words(&mut self, words: &Words) {
        self.fill_with(words.tone.color());
        let turn = words.turn_deg.to_radians();
        let start = match words.anchor {
            Anchor::Start => words.base(),
            Anchor::Middle => words.base().polar(-words.width_mm() / 2.0, turn),
            Anchor::End => words.base().polar(-words.width_mm(), turn),
        };
        let (sin, cos) = turn.sin_cos();
        self.content.word("BT");
        // The page is mirrored top to bottom; the letters are mirrored back.
        let matrix = [cos, sin, sin, -cos, start.x, start.y];
        self.content.operator(&matrix, "Tm");
        self.letters(&words.lettering, words);
        self.content.word("ET");
    }

    fn letters(&mut self, lettering: &Lettering, words: &Words) {
        let pieces = lettering.pieces();
        let is_as_printed = pieces
            .iter()
            .all(|piece| piece.size.to_bits() == 1.0_f64.to_bits())
            && pieces
                .iter()
                .all(|piece| self.letters.are_kept(&piece.text, words.weight));
        if !is_as_printed {
            // "2¾" would be found and read aloud as 23/4 (ISO 32000-1, 14.9.4).
            self.content.word("/Span <</ActualText");
            self.content.unicode(&lettering.spoken());
            self.content.word(">> BDC");
        }
        for piece in &pieces {
            self.piece(piece, words.weight, font_size_mm(words.height_mm));
        }
        if !is_as_printed {
            self.content.word("EMC");
        }
    }

    fn piece(&mut self, piece: &Piece, weight: Weight, font_mm: f64) {
        let size = font_mm * piece.size;
        if self.font != Some((weight, size)) {
            self.content.word(match weight {
                Weight::Regular => "/R",
                Weight::Bold => "/B",
            });
            self.content.operator(&[size], "Tf");
            self.font = Some((weight, size));
        }
        let rise = font_mm * piece.rise;
        self.raise(rise);
        let mut plain = String::new();
        for letter in piece.text.chars() {
            let Some(parts) = self.letters.composed(letter) else {
                plain.push(letter);
                continue;
            };
            plain.push(parts.base);
            self.content
                .string(&self.letters.encoded(&plain, weight), "Tj");
            plain.clear();
            // Back to where the accent begins, and on to where the next letter does.
            let (start, height) = parts.place(weight);
            let width = |of: char| f64::from(helvetica::standard_advance(of, weight));
            let back = width(parts.base) - f64::from(start);
            let on = width(letter) - f64::from(start) - width(parts.accent);
            self.raise(rise + size * f64::from(height) / 1000.0);
            self.content.word("[");
            self.content.number(back);
            let accent = self.letters.encoded(&parts.accent.to_string(), weight);
            self.content.string(&accent, "");
            self.content.operator(&[-on], "] TJ");
            self.raise(rise);
        }
        if !plain.is_empty() {
            self.content
                .string(&self.letters.encoded(&plain, weight), "Tj");
        }
    }

    /// How much higher than their base line the next letters stand.
    fn raise(&mut self, rise: f64) {
        if self.rise.to_bits() != rise.to_bits() {
            self.content.operator(&[rise], "Ts");
            self.rise = rise;
        }
    }
}

fn shares(color: Color) -> [f64; 3] {
    [color.r, color.g, color.b].map(|part| (f64::from(part) / 2.55).round() / 100.0)
}

/// The color of a filling on paper: the paper itself costs no ink, and woods are lighter.
fn printed(fill: Fill) -> Option<Color> {
    match fill {
        Fill::Tone(Tone::Paper) => Some(palette::WHITE),
        Fill::Tone(tone) => Some(tone.color()),
        Fill::Wood(color) => Some(palette::printed_wood(color)),
        Fill::Exact(color) => Some(color),
        Fill::Touch => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_read_or_left_out() {
        assert!(day("2030-01-31").is_some());
        for text in ["", "2030", "2030-01-3", "2030-xx-31", "2030-01-3é"] {
            assert!(day(text).is_none(), "{text}");
        }
    }
}
