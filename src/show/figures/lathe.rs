//! What is read beside the lathe: speeds, and the caliper tables.

use super::{Figure, figure, noted};
use crate::plan::stack::StackPlan;
use crate::show::figures::table::{Row, Table};
use crate::show::words::{self, Word};
use crate::trade::lathe::{self, Station};
use crate::units::length::{Shown, Unit, decimal, show};
use crate::units::quantity::number;

/// A caliper table, its depth under this head.
pub fn station_table([depth, outside]: [Word; 2], stations: &[Station], unit: Unit) -> Table {
    let maybe = |length_mm: Option<f64>| {
        length_mm.map_or_else(|| number("–".to_owned()), |length_mm| show(length_mm, unit))
    };
    let row = |(at, station): (usize, &Station)| Row {
        id: at.to_string(),
        cells: vec![
            show(station.depth_mm, unit),
            show(station.outside_mm, unit),
            maybe(station.inside_mm),
            maybe(station.wall_mm),
        ],
        ..Row::default()
    };
    Table::new(
        &[depth, outside, words::TABLE_INSIDE, words::BENCH_WALL],
        stations.iter().enumerate().map(row).collect(),
    )
}

/// The whole caliper table.
pub fn whole_stations(plan: &StackPlan) -> Table {
    let design = &*plan.design;
    let spacing = design.bench_or_usual().station_mm;
    let wall = plan.wall.as_ref();
    let stations = wall.map_or_else(Vec::new, |wall| lathe::stations(wall, spacing));
    station_table(
        [words::BENCH_DEPTH, words::TABLE_OUTSIDE],
        &stations,
        design.unit,
    )
}

/// A speed at the lathe.
pub fn rpm(turns: f64) -> Shown {
    // Down to the next ten: never above the bound.
    Shown::decimal(
        decimal((turns / 10.0).floor() * 10.0, 0),
        "rpm",
        " turns a minute",
    )
}

/// The rim's speed in the country's unit, the other one behind it.
pub fn rim_speed(meters_a_second: f64, unit: Unit) -> Figure {
    // 1 ft = 0.3048 m exactly (NIST SP 811, appendix B).
    let feet = decimal(meters_a_second / 0.3048 * 60.0, 0);
    let meters = decimal(meters_a_second, 1);
    if unit.is_inch() {
        let shown = Shown::decimal(feet, "ft/min", " feet a minute");
        noted(words::ROW_RIM_SPEED, shown, format!("{meters} m/s"))
    } else {
        let shown = Shown::decimal(meters, "m/s", " meters a second");
        noted(words::ROW_RIM_SPEED, shown, format!("{feet} ft/min"))
    }
}

/// Finished outside, inside and glue at the joint above a ring.
pub(super) fn joint(plan: &StackPlan, lower: usize) -> Vec<Figure> {
    let length = |word: Word, length_mm: f64| figure(word, show(length_mm, plan.design.unit));
    plan.joints.get(lower).map_or_else(Vec::new, |joint| {
        vec![
            length(words::ROW_JOINT_OUTSIDE, 2.0 * joint.outside_radius_mm),
            length(words::ROW_JOINT_INSIDE, 2.0 * joint.inside_radius_mm),
            length(words::ROW_GLUE_WIDTH, joint.glue_width_mm()),
        ]
    })
}
