//! Steps away from a piece, each drawn by dice.

use super::sawn::sawn_otherwise;
use super::slotting::{Slotting, Ways, slottings, with_slots};
use super::striping::striped_so;
use crate::design::{Design, FirstAt, MadeOf, SlotSet, StackRing, Vessel};
use crate::edit::stripe::meet;
use crate::edit::vessel::{Repeat, repeat, spiral, with_vessel};
use crate::plan::woods;
use crate::solve::dice::Dice;
use crate::trade::wood;
use crate::units::color::Color;

/// A kind of step: the design and its vessel, the dice, and how far it may go.
pub(super) type Step = fn(&Design, &Vessel, &mut Dice, f64) -> Option<Design>;

/// What is changed first, one after the other, so that the sheet shows some of each.
pub(super) const KINDS: [Step; 12] = [
    other_slots,
    painted,
    more_slots,
    other_wood,
    other_slots,
    spiraled,
    sawn_so,
    striped,
    other_count,
    other_slots,
    swapped,
    moved_accent,
];

/// Whether all rings from one number to another are of segments.
fn can_be_sawn(vessel: &Vessel, from: u32, to: u32) -> bool {
    let rings = vessel.rings.get(from.wrapping_sub(1) as usize..to as usize);
    rings.is_some_and(|rings| {
        !rings.is_empty() && rings.iter().all(|ring| ring.made_of == MadeOf::Segments)
    })
}

/// Something else about the slots that there are.
fn other_slots(design: &Design, vessel: &Vessel, dice: &mut Dice, reach: f64) -> Option<Design> {
    let mut made = slottings(&vessel.slot_sets);
    let place = dice.below(made.len() as u32) as usize;
    let Some(own) = made.get_mut(place) else {
        return more_slots(design, vessel, dice, reach);
    };
    let set = &mut own.set;
    match dice.below(8) {
        7 => {
            // Pairs and threes of fewer places, or singly again.
            let beside = if set.beside_count > 1 {
                1
            } else {
                *dice.pick(&[2, 2, 3])?
            };
            let places = set.slot_count * set.beside_count / beside;
            (set.slot_count, set.beside_count) = (places.max(2), beside);
            set.apart_deg = None;
        }
        0 => {
            let most = f64::from(set.slot_count) * (1.5 + 1.5 * reach);
            let fits = |count: &u32| *count != set.slot_count && f64::from(*count) <= most;
            let counts: Vec<u32> = COUNTS.into_iter().filter(fits).collect();
            set.slot_count = *dice.pick(&counts)?;
        }
        1 => {
            let by = (4.0 + 30.0 * reach * dice.share()).round();
            let sign = if dice.below(2) == 0 { 1.0 } else { -1.0 };
            set.gauge_deg = (set.gauge_deg + sign * by).clamp(4.0, STEEPEST_DEG).round();
            if own.ways == Ways::Zigzag {
                own.ways = Ways::Crossing;
            }
        }
        2 | 3 => {
            let all = [Ways::One, Ways::Crossing, Ways::Zigzag];
            own.ways = *dice.pick(&all.map(|it| if it == own.ways { Ways::One } else { it }))?;
        }
        4 => {
            let (up, down) = (dice.below(4), dice.below(4));
            let from = (set.from_ring + up).checked_sub(down)?;
            let to = (set.to_ring + up + dice.below(2)).checked_sub(down)?;
            if !can_be_sawn(vessel, from, to) {
                return None;
            }
            (set.from_ring, set.to_ring) = (from, to);
        }
        5 => {
            // Layers stay as they were chosen.
            if set.layered().is_some() {
                return None;
            }
            let others = (0..vessel.woods.len() as u32).filter(|wood| *wood != set.wood);
            set.wood = *dice.pick(&others.collect::<Vec<_>>())?;
        }
        _ => {
            set.first_at = match set.first_at {
                FirstAt::Joint => FirstAt::Segment,
                _ => FirstAt::Joint,
            };
            if made.len() > 1 || reach > 0.7 {
                made.remove(place);
            }
        }
    }
    with_slots(design, &made)
}

/// The slots that there are, sawn otherwise.
fn sawn_so(design: &Design, vessel: &Vessel, dice: &mut Dice, reach: f64) -> Option<Design> {
    let mut made = slottings(&vessel.slot_sets);
    let place = dice.below(made.len() as u32) as usize;
    sawn_otherwise(vessel, &mut made.get_mut(place)?.set, dice, reach);
    with_slots(design, &made)
}

/// Slot counts that are drawn from.
const COUNTS: [u32; 11] = [3, 4, 5, 6, 8, 9, 10, 12, 16, 18, 24];

/// Steeper gauges are not offered, degrees (our own choice, no published source).
const STEEPEST_DEG: f64 = 50.0;

/// Slots where there were none.
fn more_slots(design: &Design, vessel: &Vessel, dice: &mut Dice, reach: f64) -> Option<Design> {
    let mut made = slottings(&vessel.slot_sets);
    if made.len() > 1 && dice.share() > reach {
        return None;
    }
    let high = 2 + dice.below(2);
    let lows = (1..=vessel.rings.len() as u32).filter(|low| {
        let is_free = |it: &Slotting| it.set.to_ring < *low || it.set.from_ring > low + high - 1;
        can_be_sawn(vessel, *low, low + high - 1) && made.iter().all(is_free)
    });
    let from = *dice.pick(&lows.collect::<Vec<_>>())?;
    let segments = vessel.rings.get(from as usize - 1)?.segment_count;
    let mut set = SlotSet::plain(from, from + high - 1);
    set.kerf_mm = design.shop.kerf_mm;
    set.slot_count = (segments / dice.pick(&[1, 2, 3, 4])?).max(3);
    set.gauge_deg = f64::from(*dice.pick(&[0_u32, 8, 15, 22, 30, 40])?);
    set.wood = dice.below(vessel.woods.len() as u32);
    if !design.unit.is_inch() {
        set.fit_mm = 0.1;
    }
    let ways = *dice.pick(&[Ways::One, Ways::Crossing, Ways::Zigzag])?;
    if dice.share() < 0.5 * reach {
        sawn_otherwise(vessel, &mut set, dice, reach);
    }
    made.push(Slotting { set, ways });
    with_slots(design, &made)
}

/// Two woods change places.
fn swapped(design: &Design, vessel: &Vessel, dice: &mut Dice, _: f64) -> Option<Design> {
    let count = vessel.woods.len() as u32;
    let (one, other) = (dice.below(count), dice.below(count));
    (one != other).then(|| with_vessel(design, |vessel| swap(vessel, one, other)))
}

pub(super) fn swap(vessel: &mut Vessel, one: u32, other: u32) {
    let patterns = vessel.rings.iter_mut().flat_map(StackRing::wood_places);
    let strips = vessel.slot_sets.iter_mut().flat_map(SlotSet::wood_places);
    for wood in patterns.chain(strips) {
        if *wood == one {
            *wood = other;
        } else if *wood == other {
            *wood = one;
        }
    }
}

/// Rings of segments that are still to be made.
fn planned_rings(vessel: &Vessel) -> Vec<usize> {
    let is_open = |ring: &StackRing| !ring.is_glued() && ring.made_of == MadeOf::Segments;
    let rings = vessel.rings.iter().enumerate();
    rings
        .filter(|(_, ring)| is_open(ring))
        .map(|(place, _)| place)
        .collect()
}

/// Rings of them that are not striped.
fn plain_rings(vessel: &Vessel) -> Vec<usize> {
    let mut rings = planned_rings(vessel);
    rings.retain(|ring| vessel.rings[*ring].stripes.is_none());
    rings
}

/// A ring of striped segments, or its stripes otherwise.
fn striped(design: &Design, vessel: &Vessel, dice: &mut Dice, reach: f64) -> Option<Design> {
    striped_so(design, vessel, &planned_rings(vessel), dice, reach)
}

/// A ring's woods change places with those of the one above.
fn moved_accent(design: &Design, vessel: &Vessel, dice: &mut Dice, _: f64) -> Option<Design> {
    let rings = plain_rings(vessel);
    let pairs = rings.windows(2).filter(|two| {
        two[1] == two[0] + 1 && vessel.rings[two[0]].pattern != vessel.rings[two[1]].pattern
    });
    let pairs: Vec<usize> = pairs.map(|two| two[0]).collect();
    let low = *dice.pick(&pairs)?;
    Some(with_vessel(design, |vessel| {
        let (below, above) = vessel.rings.split_at_mut(low + 1);
        if let (Some(lower), Some(upper)) = (below.last_mut(), above.first_mut()) {
            std::mem::swap(&mut lower.pattern, &mut upper.pattern);
        }
    }))
}

/// A ring gets a wood in a repeat.
fn painted(design: &Design, vessel: &Vessel, dice: &mut Dice, _: f64) -> Option<Design> {
    let ring = *dice.pick(&planned_rings(vessel))?;
    let wood = dice.below(vessel.woods.len() as u32) as usize;
    let all = [
        Repeat::All,
        Repeat::Every(2),
        Repeat::Every(3),
        Repeat::Every(4),
        Repeat::Blocks(2),
    ];
    let how = *dice.pick(&all)?;
    let period = match how {
        Repeat::All => 1,
        Repeat::Every(step) => step,
        Repeat::Blocks(length) => 2 * length,
    };
    let closes = vessel.rings[ring].segment_count.is_multiple_of(period);
    closes.then(|| repeat(design, ring, wood, how))
}

/// A ring's pattern goes on above it, in columns or turning.
fn spiraled(design: &Design, vessel: &Vessel, dice: &mut Dice, reach: f64) -> Option<Design> {
    let patterned = |ring: &usize| vessel.rings[*ring].pattern.len() > 1;
    let rings: Vec<usize> = plain_rings(vessel).into_iter().filter(patterned).collect();
    let from = *dice.pick(&rings)?;
    (dice.share() < reach + 0.2).then(|| spiral(design, from, 1))
}

/// Other counts of segments, in all rings alike.
fn other_count(design: &Design, vessel: &Vessel, dice: &mut Dice, reach: f64) -> Option<Design> {
    let rings = planned_rings(vessel);
    let now = vessel.rings[*rings.first()?].segment_count;
    let count = *dice.pick(&[8_u32, 10, 12, 14, 16, 18, 20, 24, 30])?;
    let is_near = f64::from(count.abs_diff(now)) <= f64::from(now) * (0.3 + reach);
    let closes = |ring: &usize| {
        let ring = &vessel.rings[*ring];
        let repeats = [ring.pattern.len(), ring.shares.len().max(1)];
        repeats.iter().all(|it| count.is_multiple_of(*it as u32))
    };
    let is_whole = rings.len()
        == vessel
            .rings
            .iter()
            .filter(|it| it.made_of == MadeOf::Segments)
            .count();
    if count == now || !is_near || !is_whole || !rings.iter().all(closes) {
        return None;
    }
    let next = with_vessel(design, |vessel| {
        for ring in &rings {
            let ring = &mut vessel.rings[*ring];
            // As far round as before, to the nearest half segment.
            let turn = f64::from(ring.turn_half_segments) * f64::from(count)
                / f64::from(ring.segment_count);
            ring.turn_half_segments = if ring.turn_half_segments == 1 {
                1
            } else {
                turn.round() as u32
            };
            ring.segment_count = count;
        }
    });
    let striped = rings
        .iter()
        .filter(|ring| vessel.rings[**ring].stripes.is_some());
    let next = striped.fold(next, |next, ring| meet(&next, *ring));
    with_slots(&next, &slottings(&vessel.slot_sets))
}

/// A wood's place is taken by one that looks unlike all that are there.
fn other_wood(design: &Design, vessel: &Vessel, dice: &mut Dice, reach: f64) -> Option<Design> {
    if reach < 0.4 {
        return None;
    }
    let place = dice.below(vessel.woods.len() as u32);
    let is_glued_in =
        |ring: &StackRing| ring.is_glued() && ring.woods().contains(&(place as usize));
    if vessel.rings.iter().any(is_glued_in) {
        return None;
    }
    let colors: Vec<Color> = vessel
        .woods
        .iter()
        .map(|name| woods::color(design, name))
        .collect();
    let unlike = wood::all().filter(|wood| {
        let color = woods::color(design, wood.name);
        wood.moves() && colors.iter().all(|other| color.apart(*other) > UNLIKE)
    });
    let names: Vec<&str> = unlike.map(|wood| wood.name).collect();
    let name = (*dice.pick(&names)?).to_owned();
    Some(with_vessel(design, |vessel| {
        if let Some(wood) = vessel.woods.get_mut(place as usize) {
            *wood = name;
        }
    }))
}

/// Woods whose colors are this far apart are told apart at a glance, of 0 to 1.
const UNLIKE: f64 = 0.2;
