//! The figures of rings with air between their segments.

use super::{Entry, Figure, entry, figure, noted};
use crate::edit::open_ring::{self, SPIRAL};
use crate::plan::Plan;
use crate::plan::open_ring::{air_share, indexing, resting, rise};
use crate::plan::rings::Rings;
use crate::show::words;
use crate::units::length::{decimal, show};
use crate::units::quantity::{self, in_words};
use serde_json::Value;

/// How a ring's segments rest on the ring below, where either has air in it; how much of it is
/// air, and which index plates serve.
pub(crate) fn list(plan: &Rings, place: usize) -> Vec<Figure> {
    let unit = plan.design.unit;
    let mut list = Vec::new();
    if let Some(resting) = resting(plan, place) {
        let along = resting.least_along_mm().unwrap_or(0.0);
        let label = if resting.is_on_disc {
            words::ROW_RESTS_ON_DISC
        } else if resting.is_one_enough {
            words::ROW_RESTS_ALONG
        } else {
            words::ROW_RESTS
        };
        let glued = quantity::glue_area(resting.area_mm2(), unit);
        let note = words::filled(words::RESTS_GLUED, &[&glued]);
        list.push(noted(label, show(along, unit), note));
    }
    if let Some(rise) = rise(plan, place) {
        let slant = format!("{}°", decimal(rise.slant_rad.abs().to_degrees(), 1));
        let side = if rise.step_rad > 0.0 { "right" } else { "left" };
        let note = words::filled(words::RISES_LEANS, &[&slant, side]);
        let step = quantity::shown_degrees(rise.step_rad.abs());
        list.push(noted(words::ROW_RISES, step, note));
    }
    if let Some(share) = air_share(plan, place) {
        list.push(figure(words::ROW_AIR, quantity::percent(share * 100.0, 0)));
    }
    if let Some(serving) = indexing(plan, place) {
        let each = serving.iter().take(MOST_PLATES);
        let each: Vec<String> = each.map(words::open_ring::plate).collect();
        let told = if each.is_empty() {
            words::INDEX_NONE.text.to_owned()
        } else {
            each.join("; ")
        };
        list.push(figure(words::ROW_INDEX, in_words(told)));
    }
    list
}

/// So many plates are told.
const MOST_PLATES: usize = 3;

/// The fields by which the open rows above a ring rise from it as a spiral; none where there
/// are no such rows.
pub(crate) fn entries(plan: &Plan, place: usize) -> Vec<Entry> {
    let design = &*plan.design;
    let Some(vessel) = design.vessel.as_ref() else {
        return Vec::new();
    };
    let Some(ring) = vessel.rings.get(place) else {
        return Vec::new();
    };
    if !open_ring::may_rise(vessel, place) {
        return Vec::new();
    }
    let step_deg = open_ring::spiral_deg(vessel, place);
    let pitch_deg = 360.0 / f64::from(ring.segment_count);
    let plate = open_ring::plate(&design.shop, ring);
    let told = |at: usize, label: Option<String>, one_deg: f64| {
        let key = SPIRAL[at].key.replace('*', &place.to_string());
        let own = entry(design, &Value::Null, &SPIRAL[at], &key);
        Entry {
            text: step_deg.map_or_else(String::new, |step| decimal(step / one_deg, 3)),
            label: label.unwrap_or_else(|| own.label.clone()),
            ..own
        }
    };
    let holes = plate.map(|plate| {
        let holes = plate.holes.to_string();
        let label = words::filled(words::SPIRAL_HOLES, &[&holes]);
        told(2, Some(label), 360.0 / f64::from(plate.holes))
    });
    let own = [told(0, None, 1.0), told(1, None, pitch_deg / 100.0)];
    own.into_iter().chain(holes).collect()
}
