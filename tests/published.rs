//! The library against printed tables, figure by figure, within the digits printed.
//!
//! The tables stand in `tests/reference/`; its `SOURCES.md` says where each comes
//! from. A check that rests on a figure from memory says so beside it.
#![cfg(not(target_arch = "wasm32"))]

use csv::StringRecord;
use ringwright::design::Design;
use ringwright::trade::ring::{Segment, Wanted, half_angle_rad};
use ringwright::trade::stave::WantedStaves;
use ringwright::trade::strip::{Cutting, strips};
use ringwright::units::length::{MM_PER_INCH, Unit};
use ringwright::units::reading::parse;

const POLYGONS: &str = include_str!("reference/polygons.csv");
const COMPOUND_MITER: &str = include_str!("reference/compound_miter.csv");
const PRACTICE: &str = include_str!("reference/practice.csv");

/// One row of a table, read by column name.
struct Row {
    names: StringRecord,
    cells: StringRecord,
}

impl Row {
    fn text(&self, name: &str) -> &str {
        let column = self.names.iter().position(|header| header == name);
        &self.cells[column.unwrap_or_else(|| panic!("no column {name}"))]
    }

    /// `None` where the source has no figure.
    fn printed(&self, name: &str) -> Option<Printed> {
        let text = self.text(name);
        (!text.is_empty()).then(|| Printed::read(text))
    }

    fn number(&self, name: &str) -> f64 {
        Printed::read(self.text(name)).value
    }

    /// The printed figure in this column, if there is one, is what was found, or is a
    /// misprint that we know.
    fn assert_agrees(&self, name: &str, found: f64) {
        if let Some(known) = Misprint::at(self, name) {
            known.assert_is_one(found);
        } else if let Some(printed) = self.printed(name) {
            assert!(
                printed.is(found),
                "{name}: {printed:?} against {found} in {:?}",
                self.cells
            );
        }
    }
}

/// A printed figure that is known to be wrong: the row it stands in, told by the first
/// cells, its column, and what it should be.
struct Misprint {
    row: &'static [&'static str],
    column: &'static str,
    printed: &'static str,
    should_be: &'static str,
}

const MISPRINTS: [Misprint; 3] = [
    // An undated table of areas cut 11.196152 off where it should have rounded it.
    Misprint {
        row: &["12"],
        column: "area_unit_side_read",
        printed: "11.1961",
        should_be: "11.1962",
    },
    // The chart's other miters agree to both decimals; this one is 0.019 off.
    Misprint {
        row: &["regular", "7", "", "25"],
        column: "mitre_deg",
        printed: "23.56",
        should_be: "23.58",
    },
    // One manual; the other source prints 33.86 for the same molding.
    Misprint {
        row: &["crown", "4", "90", "52"],
        column: "bevel_deg",
        printed: "33.85",
        should_be: "33.86",
    },
];

impl Misprint {
    fn at(row: &Row, column: &str) -> Option<&'static Misprint> {
        MISPRINTS.iter().find(|known| {
            known.column == column
                && row.text(column) == known.printed
                && row.cells.iter().zip(known.row).all(|(a, b)| a == *b)
        })
    }

    fn assert_is_one(&self, found: f64) {
        assert!(!Printed::read(self.printed).is(found), "no misprint");
        assert!(Printed::read(self.should_be).is(found), "{found}");
    }
}

fn rows(table: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let names = reader.headers().unwrap().clone();
    reader
        .records()
        .map(|cells| Row {
            names: names.clone(),
            cells: cells.unwrap(),
        })
        .collect()
}

/// A printed figure: good to half a unit in its last place.
#[derive(Clone, Copy, Debug)]
struct Printed {
    value: f64,
    half_unit: f64,
}

impl Printed {
    fn read(text: &str) -> Printed {
        let places = text.split_once('.').map_or(0, |(_, after)| after.len());
        Printed {
            value: text.parse().unwrap_or_else(|why| panic!("{text}: {why}")),
            half_unit: 0.5 / 10_f64.powf(places as f64),
        }
    }

    fn is(self, found: f64) -> bool {
        // 1 % of the half unit for figures that were rounded from a tie.
        (found - self.value).abs() <= self.half_unit * 1.01
    }
}

fn ring(segment_count: u32, outside_radius_mm: f64, inside_radius_mm: f64) -> Segment {
    Wanted {
        outside_radius_mm,
        inside_radius_mm,
        height_mm: 1.0,
        segment_count,
        widest: 1.0,
        outside_allowance_mm: 0.0,
        inside_allowance_mm: 0.0,
        face_allowance_mm: 0.0,
        spacer_mm: 0.0,
        gap_rad: 0.0,
    }
    .segment()
    .unwrap()
}

/// Wood of all segments seen from above, as the strip that they are cut from without
/// a kerf: N pitches long and one strip wide.
fn area_by_strip(segment: &Segment, segment_count: u32) -> f64 {
    let no_loss = Cutting {
        kerf_mm: 0.0,
        hold_back_mm: 0.0,
        strip_length_mm: 1000.0,
    };
    let (strips, _) = strips(segment, segment_count, &no_loss);
    f64::from(segment_count) * strips.pitch_mm * segment.strip_width_mm
}

/// CRC Standard Mathematical Tables and Formulas, 30th edition, Polygons: side,
/// apothem r, circumradius R and area; areas and apothems for side 1 also as read in
/// two undated reference tables.
#[test]
fn regular_polygons_of_the_crc_tables() {
    let rows = rows(POLYGONS);
    assert_eq!(rows.len(), 22, "3 to 24 sides");
    for row in &rows {
        let count = row.number("sides") as u32;
        let half_angle_deg = half_angle_rad(count).to_degrees();
        row.assert_agrees("half_angle_deg", half_angle_deg);
        row.assert_agrees("interior_angle_deg", 180.0 - 2.0 * half_angle_deg);
        outside_is_the_polygon_round_a_circle(row, count);
        inside_is_the_polygon_in_a_circle(row, count);
    }
}

/// The outside flats touch the circle: apothem 1, and scaled so that the side is 1.
fn outside_is_the_polygon_round_a_circle(row: &Row, count: u32) {
    let wedges = ring(count, 1.0, 0.0);
    let side = wedges.outside.long_edge_mm;
    let area = area_by_strip(&wedges, count);
    row.assert_agrees("side_unit_apothem", side);
    row.assert_agrees("area_unit_apothem", area);
    let circumradius = wedges.across_corners_mm / 2.0;
    row.assert_agrees("circumradius_unit_side", circumradius / side);
    let apothem = wedges.largest_circle_mm / 2.0 / side;
    for (area_column, apothem_column) in [
        ("area_unit_side", "apothem_unit_side"),
        ("area_unit_side_read", "apothem_unit_side_read"),
    ] {
        row.assert_agrees(area_column, area / side.powi(2));
        row.assert_agrees(apothem_column, apothem);
    }
}

/// The inside corners touch the hole: circumradius 1.
fn inside_is_the_polygon_in_a_circle(row: &Row, count: u32) {
    let segment = ring(count, 2.0, 1.0);
    row.assert_agrees("side_unit_circumradius", segment.short_edge_mm);
    row.assert_agrees("apothem_unit_circumradius", segment.inside_apothem_mm);
    // What the strip leaves out of the whole disc of wedges is the hole.
    let hole = area_by_strip(&ring(count, 2.0, 0.0), count) - area_by_strip(&segment, count);
    row.assert_agrees("area_unit_circumradius", hole);
}

/// A compound-angle setting chart and crown settings printed in two tool manuals, and
/// a table of crown settings by corner angle. The last row (spring 45, corner 90,
/// "commonly printed on miter saws") is from memory.
#[test]
fn compound_miters_of_printed_charts() {
    let rows = rows(COMPOUND_MITER);
    for row in &rows {
        let (miter_deg, bevel_deg) = saw_deg(row);
        row.assert_agrees("mitre_formula_deg", miter_deg);
        row.assert_agrees("bevel_formula_deg", bevel_deg);
        row.assert_agrees("mitre_deg", miter_deg);
        row.assert_agrees("bevel_deg", bevel_deg);
    }
    // 77 pairs and 5 lone miters of the chart, 9 pairs of crown settings.
    let printed = |name: &str| rows.iter().filter(|row| !row.text(name).is_empty()).count();
    assert_eq!((printed("mitre_deg"), printed("bevel_deg")), (91, 86));
}

/// Were one of these corrected in its table, its entry here would only hide mistakes.
#[test]
fn each_misprint_stands_in_its_table_once() {
    let all: Vec<Row> = [POLYGONS, COMPOUND_MITER]
        .into_iter()
        .flat_map(rows)
        .collect();
    for known in &MISPRINTS {
        let has_column = |row: &&Row| row.names.iter().any(|name| name == known.column);
        let stands = all
            .iter()
            .filter(has_column)
            .filter(|row| Misprint::at(row, known.column).is_some())
            .count();
        assert_eq!(stands, 1, "{}", known.printed);
    }
}

/// Miter and bevel by the library. The lean from vertical of the chart's sides, and
/// the spring angle of a crown, are the lean of staves.
fn saw_deg(row: &Row) -> (f64, f64) {
    let lean_deg = row.number("lean_from_vertical_or_spring_deg");
    if let Some(sides) = row.printed("sides") {
        let (miter, tilt) = staves(sides.value as u32, lean_deg).saw_rad();
        return (miter.to_degrees(), tilt.to_degrees());
    }
    narrow_corner_deg(row.number("wall_corner_deg"), lean_deg)
}

/// A wall corner t too narrow for three sides. With spring s, tan m = sin s/tan(t/2)
/// and sin b = cos s · cos(t/2). Staves of half angle t/2 that lean s have
/// tan M = sin s · tan(t/2) and sin B = cos s · sin(t/2), so
/// tan m = sin² s/tan M and sin² b = cos² s − sin² B.
fn narrow_corner_deg(corner_deg: f64, spring_deg: f64) -> (f64, f64) {
    let count = 360.0 / corner_deg;
    assert!(count.fract() == 0.0, "corners that divide a full turn");
    let (miter, tilt) = staves(count as u32, spring_deg).saw_rad();
    let (sine, cosine) = spring_deg.to_radians().sin_cos();
    let crown_miter = (sine * sine / miter.tan()).atan();
    let crown_bevel = (cosine * cosine - tilt.sin().powi(2)).sqrt().asin();
    (crown_miter.to_degrees(), crown_bevel.to_degrees())
}

fn staves(count: u32, lean_deg: f64) -> WantedStaves {
    WantedStaves {
        count,
        lean_rad: lean_deg.to_radians(),
        length_mm: 100.0,
        bottom_diameter_mm: 200.0,
    }
}

/// NIST Special Publication 811, appendix B: 1 in = 25.4 mm and 1 ft = 304.8 mm,
/// exactly.
#[test]
fn an_inch_is_an_inch_by_definition() {
    assert_eq!(MM_PER_INCH.to_bits(), 25.4_f64.to_bits());
    assert_eq!(parse("1 in", Unit::Millimeter), Ok(25.4));
    let foot = parse("1'", Unit::Millimeter).unwrap();
    assert!((foot - 304.8).abs() < 1e-9);
}

fn practice(quantity: &str) -> Row {
    rows(PRACTICE)
        .into_iter()
        .find(|row| row.text("quantity") == quantity)
        .unwrap_or_else(|| panic!("no row {quantity}"))
}

/// Common practice, no published source; from memory.
#[test]
fn twelve_segments_are_sawn_at_fifteen_degrees() {
    let row = practice("setting for 12 segments");
    row.assert_agrees("low", half_angle_rad(12).to_degrees());
    row.assert_agrees("high", half_angle_rad(12).to_degrees());
}

/// ACGIH, as reproduced by US OSHA: the woods that its notes name for their dust, and no other
/// of the table.
#[test]
fn only_woods_on_the_list_are_named_for_their_dust() {
    use ringwright::trade::dust::{Dust, listed};
    let row = practice("ACGIH carcinogenicity notes");
    let notes = row.text("statement").to_lowercase();
    let part = |from: &str, to: &str| {
        let rest = notes.split(from).nth(1).expect("its heading");
        let part = rest.split(to).next().expect("its woods");
        part.split(',')
            .map(|it| it.trim().to_owned())
            .collect::<Vec<_>>()
    };
    let (confirmed, suspected) = (part("confirmed:", ";"), part("suspected:", ";"));
    let cedar = practice("ACGIH threshold limit value, western redcedar");
    assert!(cedar.text("statement").contains("sensitizer"));
    for wood in ringwright::trade::wood::all() {
        let name = wood.name.to_lowercase();
        let kind = name.split(',').next().expect("a name").trim().to_owned();
        let wanted = if confirmed.contains(&kind) {
            Some(Dust::Confirmed)
        } else if suspected.contains(&kind) {
            Some(Dust::Suspected)
        } else {
            (name == "redcedar, western").then_some(Dust::Sensitizes)
        };
        assert_eq!(listed(wood.name), wanted, "{}", wood.name);
    }
}

/// A full kerf is 1/8 in: common practice, no published source; several undated trade
/// pages agree.
#[test]
fn a_new_page_starts_with_a_full_kerf() {
    let row = practice("full kerf");
    for language in ["en-US", "de-DE"] {
        row.assert_agrees("low", Design::starting(language).shop.kerf_mm);
    }
    let kerf_in = Design::default().shop.kerf_mm / MM_PER_INCH;
    assert!((kerf_in - 0.125).abs() < 1e-12);
}

/// Hands stay 3 to 6 in clear of the blade: common practice, no published source;
/// from memory. The piece held at a strip's end starts at the safe end of it.
#[test]
fn a_new_page_keeps_hands_off_the_blade() {
    let row = practice("hands from the blade");
    let (low, high) = (row.number("low"), row.number("high"));
    for language in ["en-US", "de-DE"] {
        let hold_back_mm = Design::starting(language).shop.hold_back_mm;
        assert!(hold_back_mm > f64::midpoint(low, high), "{hold_back_mm}");
    }
}
