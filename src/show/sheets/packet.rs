//! The packet: every sheet that a design has, in the order in which it is bound, their
//! common frame, and the files that they come in.

use super::job::{Choice, Job, OfVessel, Sheet, Today};
use super::{
    CODE_MM, EDGE_MM, base, bench, boards, card, cover, cuts, discs, full_size, index_disc, inlay,
    log, map, profile, ring, section, story, tile, title,
};
use crate::design::Design;
use crate::draw::dxf::to_dxf;
use crate::draw::pdf::{Info, to_pdf};
use crate::draw::svg::to_layers;
use crate::draw::{
    Anchor, Drawing, Frame, Mark, Role, Tone, Typeface, Weight, Words, helvetica, lettering, point,
    qr,
};
use crate::plan::Plan;
use crate::plan::order::plugs;
use crate::show::archive::{File, zip};
use crate::show::csv;
use crate::show::words;
use crate::trade::plug;

/// Makes the sheets of a kind.
type Make = fn(&Job) -> Vec<Sheet>;

/// Every kind of sheet, in the order in which they are bound: one line a kind, with what
/// its sheets' keys begin with.
const KINDS: &[(&str, Make)] = &[
    ("cover", cover::sheets),
    ("section", section::sheets),
    ("map", map::sheets),
    ("cuts", cuts::sheets),
    ("boards", |job| {
        let pages = boards::sheets(job.plan, job.link, job.date);
        vec![Sheet::new("boards", words::BOARDS_TITLE.text, pages)]
    }),
    ("ring", ring::in_packet),
    ("base", |job| {
        let pages = base::sheets(job.plan, job.link, job.date);
        vec![Sheet::new("base", words::SHEET_BASE.text, pages)]
    }),
    ("inlay", |job| {
        let Some(of) = job.vessel.as_ref() else {
            return Vec::new();
        };
        let pages = inlay::sheets(of.plan, job.link, job.date);
        vec![Sheet::new("inlay", words::INLAY_SHEET.text, pages)]
    }),
    ("order", |job| {
        let Some(_of) = job.vessel.as_ref() else {
            return Vec::new();
        };
        let pages = bench::sheets(job.plan, job.link, job.date);
        vec![Sheet::new("order", words::SHEET_ORDER.text, pages)]
    }),
    ("log", log::sheets),
    ("story-stick", story::sheets),
    ("template", profile::sheets),
    ("centering", discs::sheets),
    ("index-disc", index_disc::sheets),
    ("full-size", full_size::sheets),
    ("card", card::sheets),
];

/// The chosen sheets, numbered through, with their common frame. Empty when the design
/// has nothing that can be cut.
pub fn sheets<'a>(
    plan: &Plan,
    link: &str,
    today: impl Into<Today<'a>>,
    choice: Choice,
) -> Vec<Sheet> {
    let mut sheets = chosen(plan, link, today.into(), choice);
    let count: usize = sheets.iter().map(|sheet| sheet.pages.len()).sum();
    let begins = begins(&sheets);
    let pages = sheets.iter_mut().flat_map(|sheet| &mut sheet.pages);
    for (place, page) in pages.enumerate() {
        let mut foot: Vec<&str> = begins
            .iter()
            .filter(|_| place == 0)
            .map(String::as_str)
            .collect();
        if has_remainder(page) {
            foot.push(words::PAPER_REMAINDER.text);
        }
        if !foot.is_empty() {
            let at = point(EDGE_MM, page.height_mm - 7.5);
            page.add_part(Words::new(at, foot.join(" "), 2.1), Role::Foot);
        }
        // Pictures to choose from are of sheets that are not all printed.
        if choice == Choice::Pictures {
            continue;
        }
        // Below what a printer surely reaches, above what most do (1/4 in).
        let at = point(page.width_mm - EDGE_MM, page.height_mm - 7.5);
        let number = Words::new(at, words::page_of(place + 1, count), 2.3);
        let number = number.anchored(Anchor::End).toned(Tone::Quiet);
        page.add_part(number, Role::Running);
    }
    sheets
}

/// On which page the work in its order begins, for the foot of a cover.
fn begins(sheets: &[Sheet]) -> Option<String> {
    let has_cover = sheets.first().is_some_and(|sheet| sheet.key == "cover");
    let order = sheets.iter().position(|sheet| sheet.key == "order");
    let before = sheets[..order.filter(|_| has_cover)?].iter();
    let page: usize = before.map(|sheet| sheet.pages.len()).sum();
    Some(words::filled(
        words::COVER_BEGINS,
        &[&(page + 1).to_string()],
    ))
}

/// The pages of the chosen sheets one after the other, each with the keys of the sheets on it.
pub fn pages<'a>(
    plan: &Plan,
    link: &str,
    today: impl Into<Today<'a>>,
    choice: Choice,
) -> Vec<(Vec<String>, Drawing)> {
    let mut pages: Vec<(Vec<String>, Drawing)> = Vec::new();
    for sheet in sheets(plan, link, today, choice) {
        // What shares the page before it has none of its own.
        if let (true, Some(shared)) = (sheet.pages.is_empty(), pages.last_mut()) {
            shared.0.push(sheet.key.clone());
        }
        let own = sheet.pages.into_iter();
        pages.extend(own.map(|page| (vec![sheet.key.clone()], page)));
    }
    pages
}

/// Whether a small figure stands behind a fraction anywhere on a page.
fn has_remainder(page: &Drawing) -> bool {
    page.marks.iter().any(|mark| match mark {
        Mark::Words(words) => {
            let text = words.lettering.spoken();
            text.contains("+0.") || text.contains("−0.")
        }
        Mark::Path(_) => false,
    })
}

/// The card for the piece as a picture; nothing without a vessel.
pub fn card_picture(plan: &Plan, link: &str) -> Option<Drawing> {
    card::alone(&job(plan, "", link, "".into(), Choice::Usual))
}

fn job<'a>(
    plan: &'a Plan,
    link: &'a str,
    whole_link: &'a str,
    today: Today<'a>,
    choice: Choice<'a>,
) -> Job<'a> {
    let stack = plan.stack().filter(|stack| stack.wall.is_some());
    Job {
        design: &plan.design,
        plan,
        vessel: stack.map(|stack| OfVessel {
            vessel: &stack.vessel,
            cautions: plan.placed_cautions(),
            plan: stack,
        }),
        link,
        whole_link,
        date: today.date,
        log: today.log,
        choice,
    }
}

/// The wanted sheets of all kinds, unnumbered.
fn chosen(plan: &Plan, link: &str, today: Today, choice: Choice) -> Vec<Sheet> {
    let code = qr::qr(link, point(0.0, 0.0), CODE_MM, qr::PAPER_MODULE_MM)
        .ok()
        .filter(|_| !link.is_empty());
    let in_heads = if code.is_some() { link } else { "" };
    let job = job(plan, in_heads, link, today, choice);
    let mut sheets: Vec<Sheet> = KINDS
        .iter()
        .filter(|(kind, _)| choice.takes_any(kind))
        .flat_map(|(_, make)| make(&job))
        .collect();
    // What shares the page before it has none of its own.
    sheets.retain(|sheet| !sheet.pages.is_empty() || sheet.template.is_some());
    sheets.retain(|sheet| choice.takes(&sheet.key, sheet.is_usual));
    if choice != Choice::Pictures {
        tile::share(&job, &mut sheets);
    }
    // A card has its own code.
    let headed = sheets.iter_mut().filter(|it| !it.key.starts_with("card"));
    for page in headed.flat_map(|sheet| &mut sheet.pages) {
        // A template may lie on paper that the others stand on.
        let on_dot = |mm: f64| (mm / qr::DOT_MM).round() * qr::DOT_MM;
        let corner = point(
            on_dot(page.width_mm - EDGE_MM - CODE_MM),
            on_dot(EDGE_MM - 2.0),
        );
        let marks = code.iter().flatten();
        let from = page.marks.len();
        page.add_all(marks.map(|mark| mark.placed(&Frame::at(corner))));
        page.part(from, Role::Running);
    }
    sheets
}

/// The chosen sheets as one PDF file. Empty when there is none. Without the typeface it is set
/// in the standard one, which knows Latin letters alone.
pub fn pdf<'a>(
    plan: &Plan,
    link: &str,
    today: impl Into<Today<'a>>,
    choice: Choice,
    typeface: Option<&Typeface>,
) -> Vec<u8> {
    let today = today.into();
    let sheets = sheets(plan, link, today, choice);
    bound(&plan.design, sheets, today.date, typeface)
}

/// Sheets bound as one PDF file; empty without a page.
pub(super) fn bound(
    design: &Design,
    mut sheets: Vec<Sheet>,
    date: &str,
    typeface: Option<&Typeface>,
) -> Vec<u8> {
    for page in sheets.iter_mut().flat_map(|sheet| &mut sheet.pages) {
        tell_lost_letters(page, typeface);
    }
    let pages: Vec<&Drawing> = sheets.iter().flat_map(|sheet| &sheet.pages).collect();
    if pages.is_empty() {
        return Vec::new();
    }
    let info = Info {
        title: title(design),
        author: String::new(),
        date: (!date.is_empty()).then(|| date.to_owned()),
        outline: contents(&sheets),
    };
    to_pdf(&pages, &info, typeface)
}

/// Says on a page with a head that letters of it are not printed.
fn tell_lost_letters(page: &mut Drawing, typeface: Option<&Typeface>) {
    let is_printed = |letter: char| {
        letter == '?'
            || helvetica::is_shapeless(letter)
            || helvetica::printable(letter) != '?'
            || typeface.is_some_and(|typeface| typeface.has(letter))
    };
    let is_whole = page.marks.iter().all(|mark| match mark {
        Mark::Words(words) => words.lettering.spoken().chars().all(is_printed),
        Mark::Path(_) => true,
    });
    if is_whole || page.parts.iter().all(|part| part.role != Role::Title) {
        return;
    }
    let room = page.width_mm - 2.0 * EDGE_MM - CODE_MM - 4.0;
    let note = lettering::shorten(words::PAPER_LETTERS.text, room, 2.0, Weight::Regular);
    let at = point(EDGE_MM, EDGE_MM + 21.5);
    page.add(Words::new(at, note, 2.0).toned(Tone::Quiet));
}

/// Each sheet's title with its first page, from 0.
fn contents(sheets: &[Sheet]) -> Vec<(String, usize)> {
    let mut page = 0;
    let entry = |sheet: &Sheet| {
        let first = page - usize::from(sheet.pages.is_empty());
        page += sheet.pages.len();
        (sheet.title.clone(), first)
    };
    sheets.iter().map(entry).collect()
}

/// Which kind of files single sheets come as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// SVG, with the layers as groups.
    Svg,
    /// DXF.
    Dxf,
}

/// The chosen sheets as single files: each page, and each template in one piece.
pub fn files<'a>(
    plan: &Plan,
    link: &str,
    today: impl Into<Today<'a>>,
    choice: Choice,
    kind: Kind,
) -> Vec<File> {
    single(&sheets(plan, link, today, choice), kind)
}

fn single(sheets: &[Sheet], kind: Kind) -> Vec<File> {
    let mut files = Vec::new();
    let mut number = 0;
    for sheet in sheets {
        let key = &in_order(&sheet.key);
        for page in &sheet.pages {
            number += 1;
            files.push(written(
                &format!("{}-{key}", numbered(number)),
                page,
                kind,
                false,
            ));
        }
        // A template that stands whole on its page is in the page's SVG already.
        let is_alone = kind == Kind::Dxf || sheet.pages.len() != 1;
        if let Some(template) = sheet.template.as_ref().filter(|_| is_alone) {
            files.push(written(key, template, kind, true));
        }
    }
    files
}

/// A sheet's key so that files sort as the rings do: `ring-2` before `ring-10`.
fn in_order(key: &str) -> String {
    match key.rsplit_once('-') {
        Some((name, number)) if number.len() == 1 && number.parse::<u8>().is_ok() => {
            format!("{name}-0{number}")
        }
        _ => key.to_owned(),
    }
}

fn numbered(number: u32) -> String {
    let zero = if number < 10 { "0" } else { "" };
    format!("{zero}{number}")
}

fn written(name: &str, drawing: &Drawing, kind: Kind, is_template: bool) -> File {
    let (ending, text) = match kind {
        Kind::Svg => ("svg", to_layers(drawing, is_template)),
        Kind::Dxf => ("dxf", to_dxf(drawing)),
    };
    File {
        name: format!("{name}.{ending}"),
        bytes: text.into_bytes(),
    }
}

/// The cut list as comma-separated values; empty without a vessel.
pub fn cut_list_csv(plan: &Plan) -> String {
    let stack = plan.stack();
    stack.map_or_else(String::new, |_| csv::cuts(plan))
}

/// Everything in one archive: the packet, its sheets as single files, the cut list, the
/// centering plugs, and the design's own file as it is handed in.
pub fn archive<'a>(
    plan: &Plan,
    link: &str,
    today: impl Into<Today<'a>>,
    choice: Choice,
    own: &str,
    typeface: Option<&Typeface>,
) -> Vec<u8> {
    let today = today.into();
    let date = today.date;
    let sheets = sheets(plan, link, today, choice);
    let drawings = [(Kind::Svg, "svg/"), (Kind::Dxf, "dxf/")];
    let drawings = drawings.map(|(kind, folder)| (single(&sheets, kind), folder));
    let file = |name: &str, bytes: Vec<u8>| File {
        name: name.to_owned(),
        bytes,
    };
    let mut files = vec![
        file("packet.pdf", bound(&plan.design, sheets, date, typeface)),
        file("cut-list.csv", cut_list_csv(plan).into_bytes()),
        file("design.ringwright.json", own.as_bytes().to_vec()),
    ];
    for (drawings, folder) in drawings {
        files.extend(drawings.into_iter().map(|file| File {
            name: format!("{folder}{}", file.name),
            ..file
        }));
    }
    let plugs = plan.stack().zip(plan.order());
    let plugs = plugs.map_or_else(Vec::new, |(stack, order)| plugs::of(stack, order));
    for (place, steps) in plugs.iter().enumerate() {
        let bore_mm = plan.design.bench_or_usual().plug_bore_mm;
        let name = format!("stl/plug-{}.stl", numbered(place as u32 + 1));
        files.push(file(&name, plug::stl(steps, bore_mm)));
    }
    files.retain(|file| !file.bytes.is_empty());
    zip(&files, date)
}

/// Several files as one: the only one as it is, else an archive of them.
pub fn together(mut files: Vec<File>, date: &str) -> Vec<u8> {
    match files.len() {
        0 => Vec::new(),
        1 => files.swap_remove(0).bytes,
        _ => zip(&files, date),
    }
}
