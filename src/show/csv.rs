//! Tables for other programs: comma-separated values (RFC 4180), lengths in the unit set.

use crate::design::{Design, Vessel};
use crate::plan::cut_list::{Piece, cut_list, ring_numbers};
use crate::plan::stack::StackPlan;
use crate::show::words;
use crate::units::length::{Unit, decimal};

/// The table of rings.
pub fn rings(design: &Design, vessel: &Vessel, plan: &StackPlan) -> String {
    let unit = design.unit;
    let mut csv = words::csv_head(unit);
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let woods: Vec<&str> = (0..ring.pattern.len() as u32)
            .filter_map(|segment| vessel.woods.get(ring.wood_of(segment)).map(String::as_str))
            .collect();
        let mut cells = vec![
            (place + 1).to_string(),
            plain(ring.height_mm, unit),
            ring.made_of.word().to_owned(),
            ring.segment_count.to_string(),
            plain(2.0 * planned.wanted.outside_radius_mm, unit),
            plain(2.0 * planned.wanted.inside_radius_mm, unit),
        ];
        match (planned.segment, planned.strips) {
            (Some(segment), Some(strips)) => cells.extend([
                decimal(segment.outside.half_angle_rad.to_degrees(), 3),
                plain(segment.outside.long_edge_mm, unit),
                plain(segment.short_edge_mm, unit),
                plain(segment.strip_width_mm, unit),
                plain(segment.strip_height_mm, unit),
                plain(strips.total_length_mm, unit),
            ]),
            _ => cells.extend((0..6).map(|_| String::new())),
        }
        cells.push(woods.join(" / "));
        add_row(&mut csv, &cells);
    }
    csv
}

/// The cut list.
pub fn cuts(design: &Design, vessel: &Vessel, plan: &StackPlan) -> String {
    let unit = design.unit;
    let mut csv = words::cut_list_head(unit);
    for cut in cut_list(design, vessel, plan) {
        let name = cut.wood.and_then(|wood| vessel.woods.get(wood));
        let mut cells = vec![
            words::page(match cut.piece {
                Piece::Segment(..) => "choice.segments",
                Piece::Disc(_) => "cuts.disc",
                Piece::Spacer(..) => "cuts.spacers",
            })
            .to_owned(),
            name.cloned().unwrap_or_default(),
            plain(cut.thickness_mm, unit),
            plain(cut.width_mm, unit),
            cut.count.to_string(),
        ];
        match cut.piece {
            Piece::Segment(segment, strips) => cells.extend([
                decimal(segment.outside.half_angle_rad.to_degrees(), 3),
                plain(segment.outside.long_edge_mm, unit),
                plain(segment.short_edge_mm, unit),
                plain(strips.total_length_mm, unit),
                strips.strip_count.max(1).to_string(),
            ]),
            Piece::Disc(across) => {
                cells.extend(["", ""].map(str::to_owned));
                cells.extend([String::new(), plain(across, unit), "1".to_owned()]);
            }
            Piece::Spacer(length, _) => {
                cells.extend([String::new(), plain(length, unit), plain(length, unit)]);
                cells.extend([String::new(), String::new()]);
            }
        }
        cells.push(ring_numbers(&cut.rings));
        add_row(&mut csv, &cells);
    }
    csv
}

fn add_row(csv: &mut String, cells: &[String]) {
    let quoted: Vec<String> = cells.iter().map(|cell| quoted(cell)).collect();
    csv.push_str(&quoted.join(","));
    csv.push_str("\r\n");
}

/// A length for a table of another program: a decimal, with an ASCII minus.
fn plain(length_mm: f64, unit: Unit) -> String {
    let places = if unit.is_inch() { 4 } else { 2 };
    decimal(length_mm / unit.in_mm(), places).replace('\u{2212}', "-")
}

/// A cell, in quotes where it needs them. A leading sign that a spreadsheet would take
/// for a formula is kept as text by a space.
fn quoted(cell: &str) -> String {
    let is_formula = cell.starts_with(['=', '+', '@', '\t', '\r']);
    let cell = if is_formula {
        format!(" {cell}")
    } else {
        cell.to_owned()
    };
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::start;
    use crate::plan::stack::plan_stack;

    #[test]
    fn the_table_is_read_back_by_a_csv_reader() {
        let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        design.vessel.as_mut().unwrap().woods[0] = "=Oak, \"burr\"".to_owned();
        let vessel = design.vessel.clone().unwrap();
        let csv = rings(&design, &vessel, &plan_stack(&design, &vessel));
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        assert_eq!(reader.headers().unwrap().len(), 13);
        let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), vessel.rings.len());
        assert_eq!(&rows[0][12], " =Oak, \"burr\"");
    }
}
