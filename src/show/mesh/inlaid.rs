//! What is let into the rings, for the shader, which asks of every point whether it lies in
//! it: so its edges are sharp at any size, and show in a cut wall.

use super::glued::{Layer, base_in, layers};
use crate::draw::Color;
use crate::plan::stack::StackPlan;
use crate::trade::spline::Cut;
use std::f64::consts::TAU;

/// The strips that fill a vessel's slots, for the shader, which tells of every point
/// whether it lies in one: for each set, or for each slot where their bottoms differ, three
/// times four numbers. Height of the stack's middle, its lower and upper face, how far the slot
/// goes sideways for each millimeter up; half of its level width, its bottom, the first one's
/// direction, from one to the next, all in the slot's frame; red, green, blue of the layer at
/// the left, and how many layers follow, four numbers each: red, green, blue, and where it ends
/// sideways of the slot's middle. None follow where the strip is of one wood; −1 stands for the
/// same ones as before. A half more says that the slot is tilted; then four numbers come before
/// the layers: how far it stands beside the axis, by what its bottom goes outward for each
/// millimeter up and sideways, and 0.
pub fn strips(plan: &StackPlan) -> Vec<f32> {
    let mut numbers = Vec::new();
    for own in plan.slot_sets.iter().flatten() {
        let slots = &own.slots;
        let [low, high] = [own.rings.start(), own.rings.end()].map(|ring| plan.rings[*ring].span);
        let mut is_layered_before = false;
        let mut add = |cut: &Cut, step_rad: f64| {
            let [bottom_mm, up, sideways] = slots.bottom_in_frame(cut);
            let places = [
                own.middle_mm,
                low.bottom_mm,
                high.top_mm,
                slots.level_slope(),
                slots.half_width_mm(),
                bottom_mm,
                cut.direction_rad + slots.frame_rad(),
                step_rad,
            ];
            let mut record: Vec<f32> = places.map(|number| number as f32).to_vec();
            record.extend(rgb(own.color()));
            let is_tilted = slots.tilt_rad != 0.0;
            let following = match own.layers.len() {
                0 | 1 => 0.0,
                _ if is_layered_before => -1.0,
                count => count as f32,
            };
            record.push(if is_tilted {
                following + 0.5
            } else {
                following
            });
            if is_tilted {
                let beside_mm = slots.beside_axis_mm(cut.table_mm);
                record.extend([beside_mm, up, sideways, 0.0].map(|number| number as f32));
            }
            if following > 0.0 {
                for layer in &own.layers {
                    record.extend(rgb(layer.color));
                    let [_, end_mm] = layer.across_mm;
                    record.push((end_mm / slots.level_cosine()) as f32);
                }
            }
            if numbers.len() + record.len() <= 4 * MOST_FOURS {
                is_layered_before = own.layers.len() > 1;
                numbers.extend(record);
            }
        };
        let first = own.cuts.first().map_or(0.0, |cut| cut.bottom_mm);
        let is_like_first = |cut: &Cut| (cut.bottom_mm - first).abs() < 1e-6;
        if own.cuts.iter().all(is_like_first) {
            // At every place the same.
            for cut in own.cuts.iter().take(slots.beside as usize) {
                add(cut, slots.step_rad());
            }
        } else {
            for cut in &own.cuts {
                add(cut, TAU);
            }
        }
    }
    numbers
}

fn rgb(color: Color) -> [f32; 3] {
    [color.r, color.g, color.b].map(|part| f32::from(part) / 255.0)
}

/// So many times four numbers the shader takes, of the 224 that every WebGL2 has.
const MOST_FOURS: usize = 186;

/// The layers of a vessel's base, for the shader, four numbers for each: red, green, blue
/// and upper face, from the lowest up; before them radius and lower face of all. Empty
/// without one.
pub fn base(plan: &StackPlan) -> Vec<f32> {
    let rings = plan.rings.iter().enumerate();
    let held = rings.flat_map(|(place, planned)| {
        base_in(plan, place).map_or_else(Vec::new, |base| layers(planned, base))
    });
    let mut numbers = Vec::new();
    for Layer {
        radius_mm,
        heights_mm: [from, to],
        color: Color { r, g, b },
    } in held
    {
        if numbers.is_empty() {
            numbers.extend([radius_mm as f32, from as f32, 0.0, 0.0]);
        }
        numbers.extend([r, g, b].map(|part| f32::from(part) / 255.0));
        numbers.push(to as f32);
    }
    numbers.truncate((1 + MOST_LAYERS) * 4);
    numbers
}

/// So many layers of a base the shader takes beside the strips: all that one can have.
const MOST_LAYERS: usize = 25;
