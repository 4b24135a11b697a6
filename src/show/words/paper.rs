//! What stands on the sheets of the packet.

use super::list::{APP_NAME, SHEET_SECTION, UNNAMED_GLUED, UNNAMED_PIECE, UNNAMED_RING};
use super::plain::filled;
use super::word::Message;
use crate::units::length::{Unit, decimal, entry_text, show};
use crate::units::quantity::counted;

/// The line under a sheet's title.
pub fn made_on(date: &str) -> String {
    let by = APP_NAME.text;
    if date.is_empty() {
        by.to_owned()
    } else {
        format!("{by}, {date}")
    }
}

/// Which page of how many.
pub fn page_of(page: usize, count: usize) -> String {
    format!("Page {page} of {count}")
}

/// How many pages a sheet takes.
pub fn pages(count: usize) -> String {
    counted(count, "page", "pages")
}

/// The vessel in a few words, under the packet's title.
pub fn vessel_in_short(rings: usize, height_mm: f64, diameter_mm: f64, unit: Unit) -> String {
    format!(
        "{}, {}",
        counted(rings, "ring", "rings"),
        point_says(height_mm, diameter_mm, unit)
    )
}

/// A length to the tape's nearest, without what it leaves over.
fn nearest(length_mm: f64, unit: Unit) -> String {
    format!("{} {}", show(length_mm, unit).text, unit.mark())
}

/// What a piece without a name is called.
pub fn unnamed_piece(across_mm: f64, high_mm: f64, unit: Unit) -> String {
    filled(
        UNNAMED_PIECE,
        &[&nearest(across_mm, unit), &nearest(high_mm, unit)],
    )
}

/// What a piece without a name is called whose curve is drawn in its rings.
pub fn unnamed_glued(ring_count: usize) -> String {
    filled(UNNAMED_GLUED, &[&ring_count.to_string()])
}

/// What a ring without a name is called.
pub fn unnamed_ring(segment_count: u32, across_mm: f64, unit: Unit) -> String {
    filled(
        UNNAMED_RING,
        &[&segment_count.to_string(), &nearest(across_mm, unit)],
    )
}

/// The section's sheet and its scale.
pub fn section_at_scale(one_over: f64) -> String {
    format!("{}, scale 1 : {}", SHEET_SECTION.text, decimal(one_over, 1))
}

/// A ring before its height.
pub fn ring_and_height(place: usize) -> String {
    format!("Ring {}: ", place + 1)
}

/// A joint by the rings that it joins; `upper` is the upper one's place.
pub fn story_joint(upper: usize) -> String {
    format!("Ring {} on {upper}", upper + 1)
}

/// Rings that share a sheet, by their numbers.
pub fn rings_named(numbers: &str, count: usize) -> String {
    let name = if count == 1 { "Ring" } else { "Rings" };
    format!("{name} {numbers}")
}

/// What is said of a ring where others are spoken of too.
pub fn of_ring(place: usize, said: Message) -> Message {
    let ring = rings_named(&(place + 1).to_string(), 1);
    Message {
        reason: format!("{ring}: {}", said.reason),
        ..said
    }
}

/// The same within a sentence.
pub fn rings_within(numbers: &str, count: usize) -> String {
    rings_named(numbers, count).to_lowercase()
}

/// A ring's sheet of the packet, in a few words.
pub fn ring_sheet(name: &str, count: u32, outside_mm: f64, inside_mm: f64, unit: Unit) -> String {
    format!(
        "{name}: {count} segments, turns up to {} across, its hole from {} on",
        show(outside_mm, unit).line(),
        show(inside_mm, unit).line()
    )
}

/// The same at true scale.
pub fn ring_full_size(numbers: &str, count: usize) -> String {
    format!("{}, true scale", rings_named(numbers, count))
}

/// A circle of the centering disc, before its diameter.
pub fn circle_of(numbers: &str) -> String {
    format!("ring {numbers}:  Ø ")
}

/// One sheet of a template that takes several.
pub fn part_of_template(template: &str, part: &str, columns: usize, rows: usize) -> String {
    format!("{template}: part {part} of {rows} × {columns}")
}

/// Why a template is not on paper.
pub fn too_many_sheets(width_mm: f64, height_mm: f64, unit: Unit) -> String {
    format!(
        "At true scale this is {} × {}, too much for sheets of this size. Cut it by its figures, or save it as DXF or SVG and have it plotted in one piece.",
        show(width_mm, unit).line(),
        show(height_mm, unit).line()
    )
}

/// The head of the cut list as comma-separated values.
pub fn cut_list_head(unit: Unit) -> String {
    let mark = unit.mark();
    format!(
        "piece,wood,thickness ({mark}),width ({mark}),count,saw (degrees),long edge ({mark}),\
         short edge ({mark}),length in all ({mark}),strips,for\r\n"
    )
}

/// The kerf's note on the drawing.
pub fn kerf_note(kerf_mm: f64, unit: Unit) -> String {
    // It was typed: a blade's 3/32 in is no 16th.
    format!("kerf {}", entry_text(kerf_mm, unit))
}

/// A point's height and diameter.
pub fn point_says(height_mm: f64, diameter_mm: f64, unit: Unit) -> String {
    format!(
        "height {}, diameter {}",
        show(height_mm, unit).line(),
        show(diameter_mm, unit).line()
    )
}
