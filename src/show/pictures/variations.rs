//! The sheet of variations: their pictures side by side, each with a letter to name it by.

use crate::draw::{Drawing, Frame, Tone, Words, point};
use crate::show::words;

/// A picture and what is said under it.
pub type Told = (Drawing, Vec<String>);

/// How many stand in a row.
const ACROSS: usize = 3;

/// Width of one, millimeters: three of them are narrower than any paper.
const WIDE_MM: f64 = 62.0;

/// Room between them.
const BETWEEN_MM: f64 = 4.0;

/// Height of the words' capitals.
const WORDS_MM: f64 = 2.4;

/// All of them under the piece's name, 194 mm wide and as high as it needs.
pub fn sheet(name: &str, told: &[Told]) -> Drawing {
    let title = match (words::VARIATION_TITLE.text, name) {
        (title, "") => title.to_owned(),
        (title, name) => format!("{title}: {name}"),
    };
    let width = ACROSS as f64 * WIDE_MM + (ACROSS - 1) as f64 * BETWEEN_MM;
    let mut drawing = Drawing::new(width, 0.0, &title);
    let title = Words::new(point(0.0, 6.0), title, 4.0);
    drawing.add(title.bold());
    let mut top = 10.0;
    for (number, row) in told.chunks(ACROSS).enumerate() {
        let mut bottom = top;
        for (place, (picture, says)) in row.iter().enumerate() {
            let left = place as f64 * (WIDE_MM + BETWEEN_MM);
            let scale = WIDE_MM / picture.width_mm.max(1.0);
            drawing.place(picture, &Frame::at(point(left, top)).scaled(scale));
            let mut y = top + picture.height_mm * scale + 4.0;
            let letter = char::from(b'A' + (number * ACROSS + place) as u8);
            let name = Words::new(point(left, y), letter.to_string(), 3.2);
            drawing.add(name.bold());
            let style = Words::new(point(0.0, 0.0), "", WORDS_MM).toned(Tone::Graphite);
            for line in says {
                y = drawing.paragraph(point(left + 6.0, y), line, WIDE_MM - 6.0, &style);
            }
            bottom = bottom.max(y);
        }
        top = bottom + BETWEEN_MM;
    }
    drawing.height_mm = top;
    drawing
}
