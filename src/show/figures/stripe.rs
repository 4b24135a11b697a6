//! What is told of a ring's striped segments, and its fields.

use super::{Entry, Figure, entry, figure, noted};
use crate::design::field::{self, at};
use crate::design::{Design, StackRing};
use crate::plan::ring::RingPlan;
use crate::plan::stripe::StripePlan;
use crate::show::words;
use crate::trade::layered::is_veneer;
use crate::trade::stripe::{FirstCut, meeting};
use crate::units::length::{at_least, decimal, show};
use crate::units::quantity::{fine, in_words, number, shown_degrees};
use serde_json::Value;

/// The rest of a ring's figures, those of its stripes after the first two.
pub(crate) fn list(design: &Design, ring: &RingPlan) -> Vec<Figure> {
    let mut list = super::list(design, ring);
    if let Some(own) = &ring.stripes {
        let at = list.len().min(2);
        let more = board(design, ring, own).into_iter();
        list.splice(at..at, more.chain(pattern(design, ring, own)));
    }
    list
}

/// The layers to rip, the board, and how to saw it.
pub(crate) fn board(design: &Design, ring: &RingPlan, own: &StripePlan) -> Vec<Figure> {
    let (Some(board), unit) = (&own.board, design.unit) else {
        return Vec::new();
    };
    let names: Vec<&str> = layer_names(ring, own);
    let mut list: Vec<Figure> = own
        .to_rip()
        .into_iter()
        .map(|(layer, count, sawn_mm)| {
            let planed_mm = own.layers_mm[layer];
            let sizes = [board.depth_mm, board.length_mm, planed_mm];
            let is_planed = !is_veneer(planed_mm);
            let note = words::stripe::ripped(sizes, is_planed, unit);
            Figure {
                key: format!("stripe.rip.{layer}"),
                label: words::stripe::rip(
                    (count, layer),
                    names.get(layer).unwrap_or(&""),
                    is_planed,
                ),
                ..noted(words::STRIPE_LAYER, fine(sawn_mm, unit), note)
            }
        })
        .collect();
    list.extend([
        noted(
            words::STRIPE_BOARDS,
            number(board.count.to_string()),
            words::stripe::layers(board.layers.len()),
        ),
        figure(
            words::STRIPE_ORDER,
            in_words(words::stripe::order(&board.layers)),
        ),
        figure(words::STRIPE_CLAMPS, show(board.stack_mm, unit)),
        figure(words::STRIPE_LENGTH, at_least(board.length_mm, unit)),
        figure(words::STRIPE_DEPTH, show(board.depth_mm, unit)),
    ]);
    if board.first_cut != FirstCut::None {
        let what = words::stripe::first_cut(board.first_cut).to_owned();
        list.push(noted(words::STRIPE_SAW, shown_degrees(board.saw_rad), what));
    }
    list.push(figure(words::STRIPE_PITCH, show(board.pitch_mm, unit)));
    list.push(figure(
        words::STRIPE_PIECES,
        number(board.pieces.to_string()),
    ));
    list
}

/// The name of each layer's wood.
fn layer_names<'a>(ring: &'a RingPlan, own: &StripePlan) -> Vec<&'a str> {
    let name = |wood: &usize| {
        let known = ring.woods.iter().find(|it| it.place == Some(*wood));
        known.map_or("", |it| it.name.as_str())
    };
    own.woods.iter().map(name).collect()
}

/// How the stripes meet, and what is left of them.
pub(crate) fn pattern(design: &Design, ring: &RingPlan, own: &StripePlan) -> Vec<Figure> {
    let unit = design.unit;
    let joint = own.joint_mm[0];
    let [miss, most] = own.misses_mm(ring.wanted.segment_count);
    let up_to = if most > miss + 0.05 {
        words::stripe::up_to(most, unit)
    } else {
        String::new()
    };
    let slant = own.stripes.sine.atan2(own.stripes.cosine);
    let mut list = vec![
        figure(
            words::STRIPE_REPEATS,
            number(decimal(own.stripes.repeats(joint), 2)),
        ),
        noted(words::STRIPE_MISS, fine(miss, unit), up_to),
    ];
    if let Some((angle, count)) = meeting(own.stripes.repeat_mm(), 2.0 * joint, slant) {
        let note = words::stripe::repeats(count);
        list.push(noted(words::STRIPE_MEETS_AT, shown_degrees(angle), note));
    }
    list.push(figure(words::STRIPE_LEAST, fine(own.least_left_mm, unit)));
    list
}

/// The fields of a ring's stripes; none where it has no stripes.
pub(super) fn entries(
    design: &Design,
    whole: &Value,
    place: usize,
    ring: &StackRing,
) -> Vec<Entry> {
    let Some(stripes) = ring.striped() else {
        return Vec::new();
    };
    let made = |name: String| {
        let key = format!("vessel.rings.{place}.stripes.{name}");
        at(whole, &key)?;
        Some(entry(design, whole, field::find(&key)?, &key))
    };
    let count = stripes.layers.len();
    let layers = layer_entries(design, count, words::STRIPE_LAYER_MM, made);
    let single = ["slant_deg", "laid", "shift_pct", "is_mirrored"];
    let single = single.into_iter().filter_map(|name| made(name.to_owned()));
    single.chain(layers).collect()
}

/// The fields of layers of woods: of each its wood and its thickness, which `thickness`
/// labels.
pub(super) fn layer_entries(
    design: &Design,
    count: usize,
    thickness: words::Word,
    made: impl Fn(String) -> Option<Entry>,
) -> Vec<Entry> {
    let woods = design.vessel.as_ref().map_or(&[][..], |it| &it.woods);
    let layers = (0..count).flat_map(|layer| {
        let said = |word: words::Word| words::filled(word, &[&(layer + 1).to_string()]);
        let wood = made(format!("layers.{layer}.wood")).map(|entry| Entry {
            label: said(words::STRIPE_LAYER),
            names: woods.to_vec(),
            ..entry
        });
        let thick = made(format!("layers.{layer}.thickness_mm")).map(|entry| Entry {
            label: said(thickness),
            ..entry
        });
        [wood, thick]
    });
    layers.flatten().collect()
}
