//! What is said of striped segments.

use super::plain::stops_at;
use crate::plan::caution::StripeCaution;
use crate::trade::stripe::{FirstCut, StripeError};
use crate::units::length::{Unit, at_least, at_most, show};
use crate::units::quantity::{counted, degrees, fine_length};

/// The field, the reason and the remedy of a caution.
pub fn caution(caution: &StripeCaution, unit: Unit) -> (&'static str, String, &'static str) {
    let mm = |length_mm: f64| show(length_mm, unit).line();
    match *caution {
        StripeCaution::OddChevron { count } => (
            "vessel.rings.*.segment_count",
            format!(
                "{count} segments do not alternate all round: at one joint two lean the same way."
            ),
            "Take an even count, or let all lean the same way.",
        ),
        StripeCaution::Miss { by_mm } => (
            "vessel.rings.*.stripes.slant_deg",
            format!(
                "At the joints the stripes miss each other by up to {}.",
                mm(by_mm)
            ),
            "Make it meet, where the ring is nearly upright, or turn every second segment.",
        ),
        StripeCaution::RepeatPastBoard {
            repeat_mm,
            across_mm,
        } => (
            "vessel.rings.*.stripes.layers.*.thickness_mm",
            format!(
                "The layers come to {}; a segment shows {} across them, so not all are seen.",
                mm(repeat_mm),
                mm(across_mm)
            ),
            "Make the layers thinner, or leave one out.",
        ),
        StripeCaution::ThinLayer { thickness_mm } => (
            "vessel.rings.*.stripes.layers.*.thickness_mm",
            format!(
                "A layer of {} is sanded through before it is glued.",
                fine_length(thickness_mm, unit)
            ),
            "Take veneer of half a millimeter or more and do not sand it; press it between flat cauls.",
        ),
        StripeCaution::Sliver { left_mm } => (
            "vessel.rings.*.stripes.shift_pct",
            format!(
                "At a segment’s edge only {} is left of a layer.",
                fine_length(left_mm, unit)
            ),
            "Shift the stripes a little.",
        ),
        StripeCaution::EndGrain { slant_rad } => (
            "vessel.rings.*.stripes.slant_deg",
            format!(
                "At {} its faces are more end grain than not: they hold less glue, and the ring moves round as it else does across.",
                degrees(slant_rad)
            ),
            "Size the faces with thinned glue and let that dry, or lay the stripes flatter.",
        ),
        StripeCaution::SteepSaw {
            setting_rad,
            own_deg,
        } => (
            "vessel.rings.*.stripes.slant_deg",
            format!(
                "The board is sawn at {} from square; {}.",
                degrees(setting_rad),
                own_deg.map_or_else(|| "most gauges stop at about 50°".to_owned(), stops_at)
            ),
            "Saw it on a sled, the board clamped against a fence at that angle, or at the band saw.",
        ),
        StripeCaution::ShortPieces { long_mm } => (
            "vessel.rings.*.segment_count",
            format!(
                "Each segment is mitered from a stick little longer than its {}.",
                mm(long_mm)
            ),
            "Hold each in a sled by a clamp, both hands clear of the blade.",
        ),
    }
}

/// Why no board serves, and what to do.
pub fn trouble(error: &StripeError, unit: Unit) -> (String, String) {
    match *error {
        StripeError::TooManyLayers { most, across_mm } => (
            format!(
                "Over {} across the stripes there are more than {most} layers: no board of so many can be glued.",
                at_least(across_mm, unit).line()
            ),
            "Make the layers thicker, or take more segments.".to_owned(),
        ),
        StripeError::TooShort {
            length_mm,
            needed_mm,
        } => (
            format!(
                "At this angle no segment finds room on a board of {}.",
                at_most(length_mm, unit).line()
            ),
            format!(
                "Use strips of at least {}, or another angle.",
                at_least(needed_mm, unit).line()
            ),
        ),
    }
}

/// So many layers to rip of a wood, or to cut of veneer; `layer` is its place in the repeat.
pub fn rip((count, layer): (u32, usize), wood: &str, is_ripped: bool) -> String {
    let cut = if is_ripped { "Rip" } else { "Cut" };
    format!("{cut} {count} of layer {}, {wood}", layer + 1)
}

/// In which order the layers of a board lie, by their numbers; more than a few only as they
/// begin.
pub fn order(layers: &[usize]) -> String {
    const MOST: usize = 8;
    let mut numbers: Vec<String> = layers.iter().map(|it| (it + 1).to_string()).collect();
    if numbers.len() > MOST {
        numbers.truncate(MOST);
        numbers.push("and so on".to_owned());
    }
    numbers.join(", ")
}

/// What is ripped so thick: how wide, how long, and what is left of it.
pub fn ripped([depth_mm, length_mm, planed_mm]: [f64; 3], is_planed: bool, unit: Unit) -> String {
    let mm = |length_mm: f64| show(length_mm, unit).line();
    let wide = format!(
        "{} wide, {} long",
        mm(depth_mm),
        at_least(length_mm, unit).line()
    );
    if is_planed {
        format!("{wide}; plane to {}", mm(planed_mm))
    } else {
        format!("{wide}; of veneer")
    }
}

/// What is sawn at the setting.
pub fn first_cut(cut: FirstCut) -> &'static str {
    match cut {
        FirstCut::None => "",
        FirstCut::Faces => "sticks, by the faces of the ring",
        FirstCut::Ends => "blocks, by their ends; then rip their faces square to those",
    }
}

/// The layers of one board.
pub fn layers(count: usize) -> String {
    counted(count, "layer", "layers")
}

/// Strips that layers are sawn from.
pub fn strips(count: u32) -> String {
    counted(count as usize, "strip for layers", "strips for layers")
}

/// How many repeats.
pub fn repeats(count: u32) -> String {
    counted(count as usize, "repeat", "repeats")
}

/// The most that the stripes miss each other by, beside the miss at the middle.
pub fn up_to(most_mm: f64, unit: Unit) -> String {
    format!("up to {} at its faces", fine_length(most_mm, unit))
}
