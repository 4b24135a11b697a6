//! Changing slot sets as a hand does.

use super::variation::{Ways, ways};
use super::vessel::{add_wood, with_vessel};
use crate::design::field::key;
use crate::design::field::{LEAST_SLOT_MM, SOME_MM, most_of};
use crate::design::{Design, Leans, MadeOf, SlotSet, StripeLayer, Vessel};
use crate::plan::inlay::half_step_deg;
use crate::plan::inlay::{self, SetPlan};
use crate::plan::on_saw;
use crate::plan::{plan, woods};
use crate::trade::layered::{THIN_MM, fitted};
use crate::trade::ring::half_angle_rad;

/// Dragging snaps to whole and half degrees.
const STEP_DEG: f64 = 0.5;

/// What is nearer than this to a joint, a segment's middle or a zigzag is meant to be it.
const SNAP_DEG: f64 = 1.2;

/// A gauge so near to the angle at which a zigzag meets was set to it: it is kept to hundredths.
const MET_DEG: f64 = 0.02;

/// Woods that strips are begun in where there is only one (our own choice).
const DARK_STRIPS: &str = "Walnut, black";
const LIGHT_STRIPS: &str = "Maple, sugar";

/// Adds a set: through the two topmost rings of segments that stand next to each other
/// in the upper half, in the last of the woods; a second one is added where there is one.
pub fn add_set(design: &Design) -> Design {
    with_vessel(design, |vessel| {
        if vessel.slot_sets.len() >= most_of(key::SLOT_SETS) {
            return;
        }
        let count = vessel.rings.len();
        let is_stack = |low: &usize| {
            let two = vessel.rings.get(*low..low + 2);
            two.is_some_and(|two| two.iter().all(|ring| ring.made_of == MadeOf::Segments))
        };
        let low = (count / 2..count)
            .find(is_stack)
            .or_else(|| (0..count).rev().find(is_stack));
        let from = low.map_or(count.max(1), |low| low + 1) as u32;
        let to = low.map_or(from, |_| from + 1);
        let mut set = SlotSet::plain(from, to);
        set.kerf_mm = design.shop.kerf_mm.max(LEAST_SLOT_MM);
        if !design.unit.is_inch() {
            // A tenth of a millimeter for five thousandths of an inch.
            set.fit_mm = 0.1;
        }
        if let [only] = &vessel.woods[..] {
            // Strips of the rings' own wood would not be seen.
            let is_light = woods::color(design, only).is_light();
            let other = if is_light { DARK_STRIPS } else { LIGHT_STRIPS };
            vessel.woods.push(other.to_owned());
        }
        set.wood = vessel.woods.len().saturating_sub(1) as u32;
        vessel.slot_sets.push(set);
    })
}

/// Adds the same set the other way right after it: at the same places, or half a step on.
pub fn add_other_way(design: &Design, place: usize, is_half_step: bool) -> Design {
    with_vessel(design, |vessel| {
        if vessel.slot_sets.len() >= most_of(key::SLOT_SETS) {
            return;
        }
        let Some(set) = vessel.slot_sets.get(place) else {
            return;
        };
        let mut other = set.clone();
        other.leans = match set.leans {
            Leans::Right => Leans::Left,
            Leans::Left => Leans::Right,
        };
        if is_half_step {
            other.further_deg =
                inlay::neat_deg(set.further_deg + inlay::half_step_deg(set.slot_count));
        }
        vessel.slot_sets.insert(place + 1, other);
    })
}

/// Removes a set.
pub fn remove_set(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if place < vessel.slot_sets.len() {
            vessel.slot_sets.remove(place);
        }
    })
}

fn set_and_plan(design: &Design, place: usize) -> Option<(&Vessel, &SlotSet, SetPlan)> {
    let vessel = design.vessel.as_ref()?;
    let set = vessel.slot_sets.get(place)?;
    let mut sets = plan(design).into_stack()?.slot_sets;
    let own = (place < sets.len()).then(|| sets.swap_remove(place))??;
    Some((vessel, set, own))
}

pub(super) fn with_set(design: &Design, place: usize, change: impl FnOnce(&mut SlotSet)) -> Design {
    let changed = with_vessel(design, |vessel| {
        if let Some(set) = vessel.slot_sets.get_mut(place) {
            change(set);
        }
    });
    with_partner(design, changed, place)
}

/// Makes a set's strips of a wood, which becomes one of the vessel's.
pub fn strips_of(design: &Design, place: usize, wood: &str) -> Design {
    let with_wood = add_wood(design, wood);
    let is_it = |own: &String| own.eq_ignore_ascii_case(wood.trim());
    let found = with_wood
        .vessel
        .as_ref()
        .and_then(|vessel| vessel.woods.iter().position(is_it));
    match found {
        Some(wood) => with_vessel(&with_wood, |vessel| {
            if let Some(set) = vessel.slot_sets.get_mut(place) {
                set.wood = wood as u32;
            }
        }),
        None => with_wood,
    }
}

/// Layers the strips of a set: light, dark, light. Their own wood is one of them, the other
/// is the vessel's first that is as light or dark, or one that is added.
pub fn layer_strips(design: &Design, place: usize) -> Design {
    with_set_and_vessel(design, place, |vessel, set| {
        if set.layered().is_some() {
            return;
        }
        let is_light = |name: &String| woods::color(design, name).is_light();
        // A wood that the vessel does not have is its first.
        let known = Some(set.wood as usize).filter(|wood| *wood < vessel.woods.len());
        let own = known.unwrap_or(0);
        let own_is_light = vessel.woods.get(own).is_some_and(is_light);
        let is_other = |name: &String| is_light(name) != own_is_light;
        let there = vessel.woods.iter().position(is_other);
        let other = there.unwrap_or_else(|| {
            let name = if own_is_light {
                DARK_STRIPS
            } else {
                LIGHT_STRIPS
            };
            if vessel.woods.len() < most_of("vessel.woods") {
                vessel.woods.push(name.to_owned());
            }
            vessel.woods.len() - 1
        });
        let (light, dark) = if own_is_light {
            (own, other)
        } else {
            (other, own)
        };
        // Half for the middle, a quarter for each at its sides.
        let thickness_mm = (set.strip_mm() / 4.0).max(LEAST_SLOT_MM);
        let layer = |wood: usize| StripeLayer {
            wood: wood as u32,
            thickness_mm: stepped(design, thickness_mm),
        };
        set.layers = [light, dark, light].map(layer).to_vec();
        fit(design, set);
    })
}

/// Makes the layers of a set's strips come to their thickness.
pub fn fit_layers(design: &Design, place: usize) -> Design {
    with_set(design, place, |set| fit(design, set))
}

/// Adds a layer at the right, of the wood before the last, and makes all fit.
pub fn add_layer(design: &Design, place: usize) -> Design {
    with_set(design, place, |set| {
        let count = set.layers.len();
        if count < 2 || count >= most_of(key::STRIP_LAYERS) {
            return;
        }
        let layer = StripeLayer {
            wood: set.layers[count - 2].wood,
            ..set.layers[count - 1].clone()
        };
        set.layers.push(layer);
        fit(design, set);
    })
}

/// Removes the layer at the right and makes the rest fit; of one layer alone it is a strip
/// of one wood.
pub fn remove_layer(design: &Design, place: usize) -> Design {
    with_set(design, place, |set| {
        set.layers.pop();
        if set.layered().is_some() {
            fit(design, set);
        } else if let Some(last) = set.layers.pop() {
            set.wood = last.wood;
        }
    })
}

/// Strips of one wood again, the one that they had.
pub fn plain_strips(design: &Design, place: usize) -> Design {
    with_set(design, place, |set| set.layers.clear())
}

fn fit(design: &Design, set: &mut SlotSet) {
    let layers_mm: Vec<f64> = set.layers.iter().map(|it| it.thickness_mm).collect();
    let fit = fitted(&layers_mm, set.strip_mm(), THIN_MM, step_mm(design));
    for (layer, thickness_mm) in set.layers.iter_mut().zip(fit) {
        layer.thickness_mm = thickness_mm.max(SOME_MM);
    }
}

/// What layers are told by: a thousandth of an inch, or a hundredth of a millimeter.
fn step_mm(design: &Design) -> f64 {
    if design.unit.is_inch() { 0.0254 } else { 0.01 }
}

fn stepped(design: &Design, length_mm: f64) -> f64 {
    let step = step_mm(design);
    ((length_mm / step).round() * step).max(step)
}

/// A change of a set for which the vessel may get a wood.
fn with_set_and_vessel(
    design: &Design,
    place: usize,
    change: impl FnOnce(&mut Vessel, &mut SlotSet),
) -> Design {
    let changed = with_vessel(design, |vessel| {
        if let Some(mut set) = vessel.slot_sets.get(place).cloned() {
            change(vessel, &mut set);
            vessel.slot_sets[place] = set;
        }
    });
    with_partner(design, changed, place)
}

/// The first set of the pair that a set is one of, and how both go.
fn pair_of(vessel: &Vessel, place: usize) -> Option<(usize, Ways)> {
    let ways_of = |first: usize| {
        let two = vessel.slot_sets.get(first..first + 2)?;
        Some(ways(&two[0], &two[1])).filter(|ways| *ways != Ways::One)
    };
    vessel.slot_sets.get(place)?;
    // Counted as they were made: each set belongs to one pair at most.
    let mut first = 0;
    while first < place && !(ways_of(first).is_some() && first + 1 == place) {
        first += if ways_of(first).is_some() { 2 } else { 1 };
    }
    Some((first, ways_of(first)?))
}

/// The other set of the pair that a set is one of, and how both go: what is changed of one goes
/// for the other too.
pub fn partner(vessel: &Vessel, place: usize) -> Option<(usize, Ways)> {
    let (first, ways) = pair_of(vessel, place)?;
    Some((if place == first { first + 1 } else { first }, ways))
}

/// Whether a set's ends meet those of another.
pub(super) fn is_zigzag(design: &Design, place: usize) -> bool {
    let pair = design
        .vessel
        .as_ref()
        .and_then(|vessel| pair_of(vessel, place));
    pair.is_some_and(|(_, ways)| ways == Ways::Zigzag)
}

/// Of two sets that cross or meet in a zigzag, what was changed of one goes for the other
/// too: rings, count, angle, cut, blade and layers. Which way it leans, where it stands and its wood
/// are its own.
pub(super) fn with_partner(before: &Design, mut changed: Design, place: usize) -> Design {
    let pair = before.vessel.as_ref().and_then(|vessel| {
        let (first, ways) = pair_of(vessel, place)?;
        Some((first, ways, vessel.slot_sets[first].slot_count))
    });
    let (Some((first, ways, count)), Some(vessel)) = (pair, &mut changed.vessel) else {
        return changed;
    };
    let other = if place == first { first + 1 } else { first };
    let (Some(set), Some(was)) = (vessel.slot_sets.get(place), vessel.slot_sets.get(other)) else {
        return changed;
    };
    let mut partner = SlotSet {
        leans: was.leans,
        further_deg: was.further_deg,
        wood: was.wood,
        ..set.clone()
    };
    if ways == Ways::Zigzag && set.slot_count != count {
        let by = half_step_deg(set.slot_count);
        partner.further_deg =
            inlay::neat_deg(set.further_deg + if other > place { by } else { -by });
    }
    vessel.slot_sets[other] = partner;
    changed
}

/// Places a set so that one of its slots stands in a direction, radians from the front;
/// joints and segments' middles of its lowest ring hold it.
pub fn place_set(design: &Design, place: usize, direction_rad: f64) -> Design {
    let Some((vessel, set, own)) = set_and_plan(design, place) else {
        return design.clone();
    };
    if !direction_rad.is_finite() {
        return design.clone();
    }
    let base = on_saw::base_rad(vessel, set, *own.rings.start());
    let step = own.slots.step_rad().to_degrees();
    // Within a turn first: a far direction in degrees would be past all numbers.
    let [middle_mm, _] = own.radii_mm(0.0);
    let aside = own.slots.aside_rad(0.0, middle_mm, own.table_mm());
    let from_base = on_saw::within_half(direction_rad - aside - base, std::f64::consts::TAU);
    let further = on_saw::within_half(from_base.to_degrees(), step);
    let half = vessel
        .rings
        .get(*own.rings.start())
        .map_or(STEP_DEG, |ring| {
            half_angle_rad(ring.segment_count).to_degrees()
        });
    let on_ring = (further / half).round() * half;
    let further = if (further - on_ring).abs() < SNAP_DEG.min(half / 3.0) {
        on_ring
    } else {
        (further / STEP_DEG).round() * STEP_DEG
    };
    with_set(design, place, |set| {
        set.further_deg = inlay::neat_deg(further);
    })
}

/// Moves a set round by steps of half a degree.
pub fn nudge_set(design: &Design, place: usize, steps: f64) -> Design {
    with_set(design, place, |set| {
        set.further_deg =
            inlay::neat_deg((set.further_deg + steps * STEP_DEG).clamp(-360.0, 360.0));
    })
}

/// Leans a set so that the slot in a direction comes to another at the stack's upper
/// end; its zigzag holds it.
pub fn lean_set(design: &Design, place: usize, from_rad: f64, to_rad: f64) -> Design {
    let Some((_, _, own)) = set_and_plan(design, place) else {
        return design.clone();
    };
    if !(from_rad.is_finite() && to_rad.is_finite()) {
        return design.clone();
    }
    let radius = own.end_radii_mm()[1];
    let turn = on_saw::within_half(to_rad - from_rad, std::f64::consts::TAU).clamp(-1.4, 1.4);
    let half = own.stack.height_mm().max(1e-6) / 2.0;
    let gauge = own.slots.gauge_to_rad(turn, half, radius, own.table_mm());
    let gauge = gauge.to_degrees();
    let zigzag = own.zigzag_rad().to_degrees();
    let snapped = if (gauge.abs() - zigzag).abs() < SNAP_DEG {
        (zigzag * 100.0).round() / 100.0
    } else {
        (gauge.abs() / STEP_DEG).round() * STEP_DEG
    };
    with_set(design, place, |set| set_gauge(set, snapped.copysign(gauge)))
}

/// Leans a set by steps of half a degree to the right.
pub fn nudge_lean(design: &Design, place: usize, steps: f64) -> Design {
    with_set(design, place, |set| {
        let sign = if set.leans == Leans::Left { -1.0 } else { 1.0 };
        set_gauge(set, sign * set.gauge_deg + steps * STEP_DEG);
    })
}

fn set_gauge(set: &mut SlotSet, gauge_deg: f64) {
    set.gauge_deg = inlay::neat_deg(gauge_deg.abs().min(89.0));
    if gauge_deg != 0.0 {
        set.leans = if gauge_deg < 0.0 {
            Leans::Left
        } else {
            Leans::Right
        };
    }
}

/// Sets the gauge to what meets in a zigzag: for the set's own slots, or for the nearest
/// whole number of them.
pub fn fit_zigzag(design: &Design, place: usize, is_nearest: bool) -> Design {
    match set_and_plan(design, place) {
        Some((_, _, own)) => with_zigzag(design, place, &own, is_nearest),
        None => design.clone(),
    }
}

/// A zigzag whose ends met before its blade was tilted otherwise meets still: its gauge is set
/// anew. One that did not meet is left.
pub(super) fn meeting_still(before: &Design, tilted: Design, place: usize) -> Design {
    let met = is_zigzag(before, place)
        && set_and_plan(before, place).is_some_and(|(_, set, own)| {
            (own.zigzag_rad().to_degrees() - set.gauge_deg).abs() < MET_DEG
        });
    if met {
        fit_zigzag(&tilted, place, false)
    } else {
        tilted
    }
}

/// The same with the set's own plan.
pub(super) fn with_zigzag(
    design: &Design,
    place: usize,
    own: &SetPlan,
    is_nearest: bool,
) -> Design {
    let (count, gauge) = if is_nearest {
        own.nearest_zigzag()
    } else {
        (own.slots.places(), own.zigzag_rad())
    };
    with_set(design, place, |set| {
        set.slot_count = count;
        set.gauge_deg = inlay::met_deg(gauge);
    })
}

/// Raises the blade of a set to a height, snapped to the tape.
pub fn raise_blade(design: &Design, place: usize, blade_mm: f64) -> Design {
    if !blade_mm.is_finite() {
        return design.clone();
    }
    let blade = design.unit.snapped(blade_mm.clamp(0.0, 1000.0));
    // Where the strips end follows from it.
    with_set(design, place, |set| {
        (set.blade_mm, set.ends_at_mm) = (Some(blade), None);
    })
}

/// Raises it by steps of the tape.
pub fn nudge_blade(design: &Design, place: usize, steps: f64) -> Design {
    let Some((_, _, own)) = set_and_plan(design, place) else {
        return design.clone();
    };
    raise_blade(
        design,
        place,
        own.blade_mm + steps * design.unit.snap_step_mm(),
    )
}
