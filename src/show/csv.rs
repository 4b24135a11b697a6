//! Tables for other programs: comma-separated values (RFC 4180), lengths in the unit set.

use crate::plan::Plan;
use crate::plan::bill::{Cut, Piece};
use crate::plan::rings::RingInStack;
use crate::plan::stack::StackPlan;
use crate::show::words;
use crate::trade::ring::Segment;
use crate::units::length::{Unit, decimal};

/// The table of rings.
pub fn rings(plan: &StackPlan) -> String {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let unit = design.unit;
    let mut csv = words::csv_head(unit);
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let places: Vec<usize> = match ring.striped() {
            Some(stripes) => stripes.layers.iter().map(|it| it.wood as usize).collect(),
            None => ring.pattern.iter().map(|it| *it as usize).collect(),
        };
        let names = places.iter().filter_map(|wood| vessel.woods.get(*wood));
        let woods: Vec<&str> = names.map(String::as_str).collect();
        let mut cells = vec![
            (place + 1).to_string(),
            plain(ring.height_mm, unit),
            ring.made_of.word().to_owned(),
            ring.segment_count.to_string(),
            plain(2.0 * planned.wanted.outside_radius_mm, unit),
            plain(2.0 * planned.wanted.inside_radius_mm, unit),
        ];
        let strips = planned.strips.as_ref();
        let length = strips.map_or_else(String::new, |it| plain(it.total_length_mm, unit));
        match planned.segment.filter(|_| !ring.is_glued()) {
            Some(segment) => cells.extend([
                of_kinds(planned, |it| {
                    decimal(it.outside.half_angle_rad.to_degrees(), 3)
                }),
                of_kinds(planned, |it| plain(it.outside.long_edge_mm, unit)),
                of_kinds(planned, |it| plain(it.short_edge_mm, unit)),
                plain(segment.strip_width_mm, unit),
                plain(segment.strip_height_mm, unit),
                length,
            ]),
            None => cells.extend((0..6).map(|_| String::new())),
        }
        cells.push(woods.join(" / "));
        add_row(&mut csv, &cells);
    }
    csv
}

/// A figure of each kind of segment, the widest first.
fn of_kinds(planned: &RingInStack, figure: impl Fn(&Segment) -> String) -> String {
    let each = planned.alike.iter().map(|it| figure(&it.segment));
    each.collect::<Vec<_>>().join(" / ")
}

/// The cut list.
pub fn cuts(plan: &Plan) -> String {
    let unit = plan.design.unit;
    let mut csv = words::cut_list_head(unit);
    for cut in plan.bill() {
        let mut cells = vec![
            words::cut_name(cut).to_owned(),
            cut.wood.clone().unwrap_or_default(),
            plain(cut.thickness_mm, unit),
            plain(cut.width_mm, unit),
            cut.count.to_string(),
        ];
        cells.extend(cut_cells(cut, unit));
        cells.push(words::part_list(&cut.parts));
        add_row(&mut csv, &cells);
    }
    csv
}

/// Saw setting, long and short edge, length in all and strips.
fn cut_cells(cut: &Cut, unit: Unit) -> [String; 5] {
    let none = String::new;
    match cut.piece {
        Piece::Segment(segment, strips) => [
            decimal(segment.outside.half_angle_rad.to_degrees(), 3),
            plain(segment.outside.long_edge_mm, unit),
            plain(segment.short_edge_mm, unit),
            plain(strips.total_length_mm, unit),
            cut.strip_count().to_string(),
        ],
        Piece::Disc { across_mm, .. } => {
            let in_all = plain(f64::from(cut.count) * across_mm, unit);
            [none(), none(), none(), in_all, cut.count.to_string()]
        }
        Piece::Spacer { length_mm, .. } => {
            let length = plain(length_mm, unit);
            [none(), length.clone(), length, none(), none()]
        }
        Piece::ScrapDisc => [none(), none(), none(), none(), cut.count.to_string()],
        Piece::Striped(segment) => [
            decimal(segment.outside.half_angle_rad.to_degrees(), 3),
            plain(segment.outside.long_edge_mm, unit),
            plain(segment.short_edge_mm, unit),
            none(),
            none(),
        ],
        Piece::SlotStrip { length_mm }
        | Piece::LayeredStrip { length_mm }
        | Piece::Veneer { length_mm }
        | Piece::Layer { length_mm, .. } => {
            let length = plain(length_mm, unit);
            [
                none(),
                length.clone(),
                length,
                none(),
                cut.count.to_string(),
            ]
        }
    }
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
/// for a formula is kept as text by a space; a minus may begin a number.
fn quoted(cell: &str) -> String {
    let is_number = cell.parse::<f64>().is_ok();
    let is_formula = !is_number && cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
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
    use crate::design::Design;
    use crate::edit::start;
    use crate::plan::plan;

    #[test]
    fn the_table_is_read_back_by_a_csv_reader() {
        let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        design.vessel.as_mut().unwrap().woods[0] = "=Oak, \"burr\"".to_owned();
        let vessel = design.vessel.clone().unwrap();
        let csv = rings(&plan(&design).into_stack().unwrap());
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        assert_eq!(reader.headers().unwrap().len(), 13);
        let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), vessel.rings.len());
        assert_eq!(&rows[0][12], " =Oak, \"burr\"");
    }

    #[test]
    fn no_cell_becomes_a_formula() {
        let formulas = ["=1+1", "+1+1", "-2+3+cmd|' /C calc'!A0", "-A1", "@SUM(A1)"];
        for text in formulas {
            assert_eq!(quoted(text), format!(" {text}"));
        }
        for text in ["-2.5", "-0.0625", "Oak", "1-2"] {
            assert_eq!(quoted(text), text);
        }
    }
}
