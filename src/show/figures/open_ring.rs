//! The figures of rings with air between their segments.

use super::{Figure, figure, noted};
use crate::plan::open_ring::{air_share, indexing, resting};
use crate::plan::rings::Rings;
use crate::show::words;
use crate::units::length::show;
use crate::units::quantity::{self, in_words};

/// How a ring's segments rest on the ring below, where either has air in it; how much of it is
/// air, and which index plates serve.
pub(crate) fn list(plan: &Rings, place: usize) -> Vec<Figure> {
    let unit = plan.design.unit;
    let mut list = Vec::new();
    if let Some(resting) = resting(plan, place) {
        let along = resting.least_along_mm().unwrap_or(0.0);
        let label = if resting.is_on_disc {
            words::ROW_RESTS_ON_DISC
        } else {
            words::ROW_RESTS
        };
        let glued = quantity::glue_area(resting.area_mm2(), unit);
        let note = words::filled(words::RESTS_GLUED, &[&glued]);
        list.push(noted(label, show(along, unit), note));
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
