//! A card for the piece: for the shelf, the fair or the buyer, as one, four or eight on a page.

use super::job::{Choice, Job, OfVessel, Sheet};
use super::{EDGE_MM, paper_mm, title};
use crate::draw::lettering::{SCREEN_SLACK, shorten, wrap};
use crate::draw::{Anchor, Drawing, Frame, Ink, Path, Role, Weight, Words, point, qr, rectangle};
use crate::plan::finish::finish;
use crate::show::figures::bench::finishing::finish_said;
use crate::show::pictures::picture::picture;
use crate::show::words;

/// How many stand beside each other and below each other, on upright paper.
const WAYS: [(usize, usize); 3] = [(1, 1), (2, 2), (2, 4)];

/// Within a card's edge.
const MARGIN_MM: f64 = 4.0;

/// The sheets of cards, each with another number of them.
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let Some(of) = &job.vessel else {
        return Vec::new();
    };
    WAYS.iter()
        .map(|way| {
            let (width, height) = paper_mm(&job.design.paper);
            let (columns, rows) = if width > height { (way.1, way.0) } else { *way };
            let count = columns * rows;
            let size = (
                (width - 2.0 * EDGE_MM) / columns as f64,
                (height - 2.0 * EDGE_MM) / rows as f64,
            );
            // One alone need not fill the page.
            let size = if count == 1 {
                (size.0.min(ALONE_MM), size.1.min(ALONE_MM))
            } else {
                size
            };
            let one = card(job, of, size);
            let mut page = Drawing::new(width, height, title(job.design));
            page = page.described(words::SHEET_CARD.text);
            // To choose from, one shows them all.
            let drawn = if job.choice == Choice::Pictures {
                1
            } else {
                count
            };
            for place in 0..drawn {
                let (column, row) = (place % columns, place / columns);
                let corner = point(
                    EDGE_MM + size.0 * column as f64,
                    EDGE_MM + size.1 * row as f64,
                );
                page.place(&one, &Frame::at(corner));
            }
            let name = words::filled(words::SHEET_CARDS, &[&count.to_string()]);
            let mut sheet = Sheet::new(format!("card-{count}"), name, vec![page]);
            sheet.is_usual = false;
            sheet
        })
        .collect()
}

/// Side of a card alone.
const ALONE_MM: f64 = 148.0;

/// One card alone, as a picture.
pub fn alone(job: &Job) -> Option<Drawing> {
    let mut alone = card(job, job.vessel.as_ref()?, (ALONE_MM, ALONE_MM));
    alone.title = title(job.design);
    words::SHEET_CARD.text.clone_into(&mut alone.description);
    Some(alone)
}

/// One card: the picture at the left, what it is at the right, below lines to write on.
fn card(job: &Job, of: &OfVessel, (width, height): (f64, f64)) -> Drawing {
    // Without a title: its words are read as such, not as a picture's.
    let mut card = Drawing::new(width, height, "");
    let edge = rectangle(point(0.0, 0.0), width, height);
    card.add(Path::line(edge, Ink::Faint).named("card"));
    let is_large = height > 70.0 && width > 85.0;
    let (letter, pitch) = if is_large { (2.6, 6.4) } else { (2.1, 4.4) };
    let half = width * 0.5 - MARGIN_MM;
    let lines_mm = 3.0 * pitch * 1.3;
    let high = height - 2.0 * MARGIN_MM - lines_mm;
    let drawn = picture(of.plan, half, high);
    card.place(&drawn, &Frame::at(point(MARGIN_MM, MARGIN_MM)));
    let left = width * 0.5 + 2.0;
    let room = (width - MARGIN_MM - left) / SCREEN_SLACK;
    let mut y = MARGIN_MM + 4.0;
    for line in wrap(&title(job.design), room, letter * 1.3, Weight::Bold)
        .into_iter()
        .take(3)
    {
        card.add(Words::new(point(left, y), line, letter * 1.3).bold());
        y += pitch * 1.2;
    }
    for text in told(job, of) {
        let lines = wrap(&text, room, letter, Weight::Regular);
        for line in lines {
            if y > MARGIN_MM + high {
                break;
            }
            card.add(Words::new(point(left, y), line, letter));
            y += pitch;
        }
    }
    // The code, where it has room under that.
    if let Some(side) = qr::least_side_mm(job.whole_link)
        && !job.whole_link.is_empty()
        && side <= (MARGIN_MM + high - y).min(width - MARGIN_MM - left)
    {
        let code = qr::qr(job.whole_link, point(left, y), side, qr::PAPER_MODULE_MM);
        let from = card.marks.len();
        card.add_all(code.unwrap_or_default());
        card.part(from, Role::Figure(words::COVER_CODE.text.to_owned()));
    }
    let mut y = height - MARGIN_MM - lines_mm + pitch * 1.3;
    let finish = finish(job.design);
    let said = if finish.is_decided() {
        finish_said(&finish)
    } else {
        String::new()
    };
    let year = job.date.get(..4).unwrap_or_default().to_owned();
    for (word, known) in [
        (words::CARD_FINISH, said),
        (words::CARD_DATE, year),
        (words::CARD_MAKER, String::new()),
    ] {
        let label = Words::new(point(MARGIN_MM, y), word.text, letter);
        let from = MARGIN_MM + label.width_mm() * SCREEN_SLACK + 2.0;
        card.line(point(from, y), point(width - MARGIN_MM, y), Ink::Thin);
        card.add(label.anchored(Anchor::Start));
        if !known.is_empty() {
            let room = (width - MARGIN_MM - from) / SCREEN_SLACK;
            let known = shorten(&known, room, letter, Weight::Regular);
            card.add(Words::new(point(from, y - 0.8), known, letter));
        }
        y += pitch * 1.3;
    }
    card
}

/// How large it is, of how many pieces, and of which woods.
fn told(job: &Job, of: &OfVessel) -> Vec<String> {
    let pieces: u32 = of.plan.totals().woods.iter().map(|it| it.piece_count).sum();
    let used = of.vessel.woods_used();
    let names = used.iter().filter_map(|wood| of.vessel.woods.get(*wood));
    let names = names.filter(|name| !name.trim().is_empty());
    let mut told = vec![
        super::cover::subtitle(job, of),
        words::filled(words::CARD_PIECES, &[&pieces.to_string()]),
    ];
    told.extend(names.map(|name| shorten(name, 80.0, 2.6, Weight::Regular)));
    told
}
