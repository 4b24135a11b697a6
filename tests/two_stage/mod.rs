//! Racks and rings of which an independent solver (`HiGHS`) found the fewest boards: made by
//! `tests/tools/two_stage.py`, with boards left whole, and by `tests/tools/sawn_across.py`, with
//! boards sawn across first; read by the tests and by the benchmark beside them.

use ringwright::design::{Avoid, Board, BoardGoal, Rack, ThicknessIs};
use ringwright::plan::bill::Part;
use ringwright::plan::board::{Need, Saw};
use serde_json::Value;

/// One of them.
pub struct Instance {
    /// What is needed.
    pub needs: Vec<Need>,
    /// The boards.
    pub rack: Rack,
    /// The saw.
    pub saw: Saw,
    /// Boards that it takes at least.
    pub fewest: u32,
}

/// Those of a file: `two_stage`, with boards left whole, or `sawn_across`.
pub fn instances(file: &str) -> Vec<Instance> {
    let path = format!("{}/tests/reference/{file}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the file is there");
    let read: Vec<Value> = serde_json::from_str(&text).expect("the file is JSON");
    read.iter().map(instance).collect()
}

fn instance(given: &Value) -> Instance {
    let list = |name: &str| given[name].as_array().into_iter().flatten();
    let needs = list("needs").enumerate().map(|(ring, each)| {
        let (width_mm, count) = (number(each, "width"), whole(each, "count"));
        match whole(each, "segments") {
            0 => square(width_mm, count, ring),
            segments => need(segments, width_mm, number(each, "long"), count, ring),
        }
    });
    let boards = list("boards").map(|each| {
        let spans = each["avoid"].as_array().into_iter().flatten();
        Board {
            avoid: spans.map(avoid).collect(),
            ..planed(
                number(each, "width"),
                number(each, "length"),
                whole(each, "number"),
            )
        }
    });
    Instance {
        needs: needs.collect(),
        rack: rack(BoardGoal::Fewest, boards.collect()),
        saw: Saw {
            kerf_mm: number(given, "kerf"),
            hold_back_mm: number(given, "hold_back"),
        },
        fewest: whole(given, "fewest"),
    }
}

fn avoid(span: &Value) -> Avoid {
    let end = |place: usize| span[place].as_f64().unwrap_or(f64::NAN);
    Avoid {
        across_from_mm: span[2].as_f64(),
        across_to_mm: span[3].as_f64(),
        ..Avoid::length(end(0), end(1))
    }
}

fn number(value: &Value, name: &str) -> f64 {
    value[name].as_f64().unwrap_or(f64::NAN)
}

fn whole(value: &Value, name: &str) -> u32 {
    number(value, name) as u32
}

/// A segment of so many, its strip and stop as given.
pub fn need(segments: u32, width_mm: f64, long_edge_mm: f64, count: u32, ring: usize) -> Need {
    let half_angle_rad = std::f64::consts::PI / f64::from(segments);
    Need {
        wood: "Ash, white".to_owned(),
        width_mm,
        height_mm: 20.0,
        half_angle_rad,
        long_edge_mm,
        short_edge_mm: long_edge_mm - 2.0 * width_mm * half_angle_rad.tan(),
        is_matched: false,
        is_strip: false,
        is_layer: false,
        parts: vec![(Part::Ring(ring), count)],
        slices: 1,
        plies: 1,
        edges: None,
    }
}

/// A square for a disc.
pub fn square(side_mm: f64, count: u32, ring: usize) -> Need {
    Need {
        half_angle_rad: 0.0,
        short_edge_mm: side_mm,
        ..need(12, side_mm, side_mm, count, ring)
    }
}

/// A board of one thickness.
pub fn planed(width_mm: f64, length_mm: f64, number: u32) -> Board {
    Board {
        thickness_mm: 21.0,
        thickness_is: ThicknessIs::Planed,
        width_mm,
        length_mm,
        number,
        ..Board::usual("Ash, white")
    }
}

/// Boards and what to aim at.
pub fn rack(goal: BoardGoal, boards: Vec<Board>) -> Rack {
    Rack {
        goal,
        boards,
        ..Rack::empty()
    }
}
