//! Racks and rings of which an independent solver (`HiGHS`) found the fewest boards: made by
//! `tests/tools/two_stage.py`, read by the tests and by the benchmark beside it.

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

/// All of them.
pub fn instances() -> Vec<Instance> {
    let text = include_str!("../reference/two_stage.json");
    let read: Vec<Value> = serde_json::from_str(text).expect("the file is JSON");
    read.iter().map(instance).collect()
}

fn instance(given: &Value) -> Instance {
    let list = |name: &str| given[name].as_array().into_iter().flatten();
    let needs = list("needs").enumerate().map(|(ring, each)| {
        need(
            whole(each, "segments"),
            number(each, "width"),
            number(each, "long"),
            whole(each, "count"),
            ring,
        )
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
        from_mm: end(0),
        to_mm: end(1),
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
