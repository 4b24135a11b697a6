//! What a hand does to a vessel: each change takes a design and gives a new one that
//! is valid again. Nothing here can leave a curve that folds back or a ring of no
//! height, however wildly it is dragged.

use crate::design::field::{Field, Kind, LONGEST_MM, SOME_MM, most_of};
use crate::design::kind::of;
use crate::design::trouble::{Reason, Trouble};
use crate::design::{Design, MadeOf, OutlineIs, SlotSet, StackRing, StripeChoice, Vessel};
use crate::edit::outline::{take_outline, with_own_outline};
use crate::units::kept::Kept;
use crate::units::length::round;

/// Least height between two points.
const LEAST_STEP_MM: f64 = 0.5;

/// Least radius of a point.
pub(super) const LEAST_RADIUS_MM: f64 = 1.0;

/// Largest height or radius that dragging reaches.
pub const MOST_MM: f64 = 2_000.0;

/// A pattern to repeat round a ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Repeat {
    /// Every segment.
    All,
    /// Every second, third … segment.
    Every(u32),
    /// Blocks of so many segments, every other block.
    Blocks(u32),
}

impl Repeat {
    /// By the word that the page has for it.
    pub fn called(word: &str) -> Option<Repeat> {
        Some(match word {
            "all" => Repeat::All,
            "every2" => Repeat::Every(2),
            "every3" => Repeat::Every(3),
            "every4" => Repeat::Every(4),
            "blocks2" => Repeat::Blocks(2),
            "blocks3" => Repeat::Blocks(3),
            _ => return None,
        })
    }
}

/// Changes the vessel of a design, and lets the top ring follow the rim.
/// How many segments every ring is sawn of, said of all at once: not kept, for each ring keeps
/// its own.
pub const SEGMENTS_OF_ALL: Field = Field {
    key: "vessel.segment_count",
    label: "Segments in every ring",
    ..of(Kind::Count {
        least: 3,
        most: 360,
    })
};

/// Says one number of segments of every ring that is still to be sawn. Wide and narrow ones that
/// do not go into it become alike.
///
/// # Errors
/// As [`Field::read`].
pub fn type_segments(design: &Design, typed: &str) -> Result<Design, Trouble> {
    let at_field = |reason| Trouble::at(SEGMENTS_OF_ALL.key, reason);
    let read = SEGMENTS_OF_ALL.read(typed, design.unit);
    let count = u32::read(&read.map_err(at_field)?).unwrap_or_default();
    Ok(with_vessel(design, |vessel| {
        let sawn = |ring: &&mut StackRing| ring.made_of == MadeOf::Segments && !ring.is_glued();
        for ring in vessel.rings.iter_mut().filter(sawn) {
            ring.segment_count = count;
            if !(count as usize).is_multiple_of(ring.shares.len().max(1)) {
                ring.shares.clear();
            }
        }
    }))
}

/// Changes a vessel. An outline that is drawn in the rings becomes the turner's own first; where
/// the change is of woods and slots alone it stays drawn.
pub(super) fn with_vessel(design: &Design, change: impl FnOnce(&mut Vessel)) -> Design {
    let mut changed = with_own_outline(design);
    let Some(vessel) = &mut changed.vessel else {
        return changed;
    };
    let own = vessel.clone();
    let before = rim_mm(vessel);
    change(vessel);
    follow_rim(vessel, before);
    if let Some(drawn) = design.vessel.as_ref()
        && drawn.outline_is == OutlineIs::InRings
        && bare(vessel) == bare(&own)
    {
        take_outline(vessel, drawn, OutlineIs::InRings);
    }
    changed
}

/// A vessel without its woods and slots.
fn bare(vessel: &Vessel) -> Vessel {
    let mut bare = vessel.clone();
    bare.woods.clear();
    bare.slot_sets.clear();
    for ring in &mut bare.rings {
        ring.pattern.clear();
    }
    bare
}

pub(super) fn rim_mm(vessel: &Vessel) -> f64 {
    vessel.points.last().map_or(0.0, |point| point.height_mm)
}

/// A stack that reached the rim goes on reaching it: the topmost ring that is not
/// pinned takes up the difference, as long as it stays a ring.
fn follow_rim(vessel: &mut Vessel, before_mm: f64) {
    let sum: f64 = vessel.rings.iter().map(StackRing::height_now_mm).sum();
    let change = rim_mm(vessel) - before_mm;
    if change == 0.0 || (sum - before_mm).abs() > 0.5 {
        return;
    }
    if let Some(ring) = vessel
        .rings
        .iter_mut()
        .rev()
        .find(|ring| !ring.is_pinned && !ring.is_glued())
    {
        let height = round(ring.height_mm + change);
        if height >= 1.0 {
            ring.height_mm = height;
        }
    }
}

/// Moves a point. The foot stays at height 0, others stay between their neighbours;
/// the diameter and the height snap to the fraction of the tape.
pub fn move_point(design: &Design, place: usize, height_mm: f64, radius_mm: f64) -> Design {
    if !(height_mm.is_finite() && radius_mm.is_finite()) {
        return design.clone();
    }
    let height = design.unit.snapped(height_mm);
    let radius = design.unit.snapped(2.0 * radius_mm) / 2.0;
    with_vessel(design, |vessel| {
        let below = place
            .checked_sub(1)
            .and_then(|below| vessel.points.get(below));
        let least = below.map_or(0.0, |point| point.height_mm + LEAST_STEP_MM);
        let above = vessel.points.get(place.saturating_add(1));
        let most = above
            .map_or(MOST_MM, |point| point.height_mm - LEAST_STEP_MM)
            .max(least);
        if let Some(point) = vessel.points.get_mut(place) {
            point.radius_mm = radius.clamp(LEAST_RADIUS_MM, MOST_MM);
            point.height_mm = if place == 0 {
                0.0
            } else {
                height.clamp(least, most)
            };
        }
    })
}

/// Sets a point's height or diameter as typed, to the hair: nothing is snapped, and the
/// points above and below bound its height.
///
/// # Errors
/// When the text cannot be read, or the point cannot stand there.
pub fn type_point(
    design: &Design,
    place: usize,
    field: &'static Field,
    typed: &str,
) -> Result<Design, Reason> {
    let value = field.read(typed, design.unit)?.as_f64().unwrap_or(0.0);
    let is_height = field.key.ends_with("height_mm");
    let own = with_own_outline(design);
    let points = own.vessel.as_ref().map_or(&[][..], |it| &it.points);
    let at = |place: usize| points.get(place).map(|point| point.height_mm);
    let least = place.checked_sub(1).and_then(at).unwrap_or(0.0) + LEAST_STEP_MM;
    let most = at(place.saturating_add(1)).map_or(MOST_MM, |above| above - LEAST_STEP_MM);
    if is_height && !(least..=most).contains(&value) {
        return Err(Reason::OutOfRange { value, least, most });
    }
    Ok(with_vessel(&own, |vessel| {
        if let Some(point) = vessel.points.get_mut(place) {
            if is_height {
                point.height_mm = value;
            } else {
                point.radius_mm = value / 2.0;
            }
        }
    }))
}

/// Moves a point by steps of the tape: `up` in height, `out` in diameter.
pub fn nudge_point(design: &Design, place: usize, up: f64, out: f64) -> Design {
    let Some(point) = design
        .vessel
        .as_ref()
        .and_then(|vessel| vessel.points.get(place))
    else {
        return design.clone();
    };
    let step = design.unit.snap_step_mm();
    let (height, radius) = (
        point.height_mm + up * step,
        point.radius_mm + out * step / 2.0,
    );
    move_point(design, place, height, radius)
}

/// Adds a point on the curve at a height, where there is room for one.
pub fn add_point(design: &Design, height_mm: f64) -> Design {
    with_vessel(design, |vessel| {
        let Some(curve) = vessel.curve() else {
            return;
        };
        let is_clear = |point: &crate::design::PointChoice| {
            (point.height_mm - height_mm).abs() >= 2.0 * LEAST_STEP_MM
        };
        let is_within = height_mm > 0.0 && height_mm < curve.height_mm();
        let is_full = vessel.points.len() >= most_of("vessel.points");
        if is_full || !is_within || !vessel.points.iter().all(is_clear) {
            return;
        }
        let place = vessel
            .points
            .partition_point(|point| point.height_mm < height_mm);
        let point = crate::design::PointChoice {
            height_mm: round(height_mm),
            radius_mm: round(curve.radius_at(height_mm)),
            is_corner: false,
        };
        vessel.points.insert(place, point);
    })
}

/// Removes a point; the foot and the rim move to its neighbour. Two always stay.
pub fn remove_point(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if vessel.points.len() > 2 && place < vessel.points.len() {
            vessel.points.remove(place);
            vessel.points[0].height_mm = 0.0;
        }
    })
}

/// Makes a point a corner, or smooth again.
pub fn toggle_corner(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if let Some(point) = vessel.points.get_mut(place) {
            point.is_corner = !point.is_corner;
        }
    })
}

/// Scales the outline to a height.
pub fn scale_height(design: &Design, height_mm: f64) -> Design {
    with_vessel(design, |vessel| {
        let scale = height_mm / rim_mm(vessel).max(1e-6);
        for point in &mut vessel.points {
            point.height_mm = round(point.height_mm * scale);
        }
        // Rounding may have brought two points together.
        for place in 1..vessel.points.len() {
            let least = vessel.points[place - 1].height_mm + 0.01;
            let point = &mut vessel.points[place];
            point.height_mm = point.height_mm.max(least);
        }
    })
}

/// Scales the outline to a greatest diameter.
pub fn scale_diameter(design: &Design, diameter_mm: f64) -> Design {
    with_vessel(design, |vessel| {
        let widest = vessel
            .points
            .iter()
            .map(|point| point.radius_mm)
            .fold(1e-6, f64::max);
        let scale = diameter_mm / 2.0 / widest;
        for point in &mut vessel.points {
            point.radius_mm = round(point.radius_mm * scale);
        }
    })
}

/// Adds a ring above another, a copy of it turned by half a segment; it takes half of
/// that one's height.
pub fn add_ring(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if vessel.rings.len() >= most_of("vessel.rings") {
            return;
        }
        let Some(below) = vessel.rings.get_mut(place) else {
            let height_mm = design.ring.height_mm;
            vessel
                .rings
                .push(crate::edit::start::new_ring(height_mm, design));
            return;
        };
        let mut ring = below.clone();
        let whole = below.height_mm;
        // A glued ring is as high as it is.
        if !below.is_glued() {
            below.height_mm = crate::edit::start::neat(whole / 2.0, design).max(SOME_MM);
            ring.height_mm = (whole - below.height_mm).max(SOME_MM);
        }
        ring.is_pinned = false;
        ring.measured = None;
        ring.out_of_true = None;
        vessel.rings.insert(place + 1, ring);
        stagger(vessel, place + 1);
        stagger(vessel, place + 2);
        ring_came(vessel, place + 1);
    })
}

/// Where a ring's joints stand over those of the ring below, turns it and all above it on
/// by half a segment.
fn stagger(vessel: &mut Vessel, place: usize) {
    let (Some(ring), Some(below)) = (
        vessel.rings.get(place),
        place.checked_sub(1).and_then(|it| vessel.rings.get(it)),
    ) else {
        return;
    };
    let is_mitred = |ring: &StackRing| ring.made_of == crate::design::MadeOf::Segments;
    let is_in_line = is_mitred(ring)
        && is_mitred(below)
        && ring.segment_count == below.segment_count
        && (ring.further_deg - below.further_deg).abs() < 1e-9
        && (ring.turn_half_segments + below.turn_half_segments).is_multiple_of(2);
    if !is_in_line {
        return;
    }
    for ring in vessel.rings.iter_mut().skip(place) {
        let whole_turn = (2 * ring.segment_count).max(1);
        ring.turn_half_segments = (ring.turn_half_segments + 1) % whole_turn;
    }
}

/// A ring came in at a place: sets above go up with their rings, and a set round it
/// takes it in.
fn ring_came(vessel: &mut Vessel, place: usize) {
    for set in &mut vessel.slot_sets {
        for ring in [&mut set.from_ring, &mut set.to_ring] {
            if *ring as usize > place {
                *ring += 1;
            }
        }
    }
}

/// A ring went from a place: a set round it goes on with the rings that stay.
fn ring_went(vessel: &mut Vessel, place: usize) {
    let gone = place as u32 + 1;
    for set in &mut vessel.slot_sets {
        // The lowest ring of several gone, the one above it is the lowest, and by now has
        // its number.
        let keeps_lowest = set.from_ring == gone && set.to_ring > gone;
        if set.from_ring >= gone && !keeps_lowest {
            set.from_ring = (set.from_ring - 1).max(1);
        }
        if set.to_ring >= gone {
            set.to_ring = (set.to_ring - 1).max(1);
        }
    }
}

/// Removes a ring; the one below it, or above, takes its height.
pub fn remove_ring(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if place >= vessel.rings.len() {
            return;
        }
        let removed = vessel.rings.remove(place);
        ring_went(vessel, place);
        let heir = vessel.rings.get_mut(place.saturating_sub(1));
        if let Some(heir) = heir.filter(|heir| !heir.is_glued() && !removed.is_glued()) {
            heir.height_mm = (heir.height_mm + removed.height_mm).min(LONGEST_MM);
        }
        stagger(vessel, place);
    })
}

/// The place of the lowest planned ring that stands wholly above the rim with none that is glued
/// on it, and how many there are from it up: nothing of them is in the finished piece.
pub fn above_rim(vessel: &Vessel) -> (usize, usize) {
    let rim = rim_mm(vessel) - ABOVE_MM;
    let mut bottoms = Vec::new();
    let mut top = 0.0;
    for ring in &vessel.rings {
        bottoms.push(top);
        top += ring.height_now_mm();
    }
    let rings = vessel.rings.iter().zip(&bottoms).rev();
    let count = rings
        .take_while(|(ring, bottom)| !ring.is_glued() && **bottom > 0.0 && **bottom >= rim)
        .count();
    (vessel.rings.len() - count, count)
}

/// How much the sum of heights may be off.
const ABOVE_MM: f64 = 0.01;

/// Takes away the rings above the rim.
pub fn remove_above_rim(design: &Design) -> Design {
    with_vessel(design, |vessel| {
        let (first, count) = above_rim(vessel);
        for place in (first..first + count).rev() {
            vessel.rings.remove(place);
            ring_went(vessel, place);
        }
    })
}

/// Height of a new accent ring: 1/8 in, or 3 mm.
pub fn accent_mm(design: &Design) -> f64 {
    if design.unit.is_inch() { 3.175 } else { 3.0 }
}

/// Puts a thin accent ring above another, cut from that one's height; a glued one is as high
/// as it is, and one of no height to speak of stays whole.
pub fn add_accent(design: &Design, place: usize, wood: usize, height_mm: f64) -> Design {
    with_vessel(design, |vessel| {
        let is_full = vessel.rings.len() >= most_of("vessel.rings");
        if is_full || wood >= vessel.woods.len() {
            return;
        }
        let Some(below) = vessel.rings.get_mut(place) else {
            return;
        };
        let mut ring = below.clone();
        ring.height_mm = height_mm;
        ring.measured = None;
        ring.out_of_true = None;
        if !below.is_glued() {
            ring.height_mm = height_mm.min(below.height_mm / 2.0);
            if ring.height_mm < SOME_MM {
                return;
            }
            below.height_mm -= ring.height_mm;
        }
        ring.pattern = vec![wood as u32];
        ring.stripes = None;
        ring.is_pinned = true;
        vessel.rings.insert(place + 1, ring);
        stagger(vessel, place + 1);
        stagger(vessel, place + 2);
        ring_came(vessel, place + 1);
    })
}

/// Gives one segment a wood; a repeated pattern is written out for it.
pub fn paint(design: &Design, ring: usize, segment: u32, wood: usize) -> Design {
    with_vessel(design, |vessel| {
        if wood >= vessel.woods.len() {
            return;
        }
        let Some(ring) = vessel.rings.get_mut(ring) else {
            return;
        };
        // Striped segments are all alike: their layers have fields.
        if ring.striped().is_some() {
            return;
        }
        if ring.made_of == crate::design::MadeOf::Disc {
            ring.pattern = vec![wood as u32];
            return;
        }
        let mut pattern: Vec<u32> = (0..ring.segment_count)
            .map(|place| ring.wood_of(place) as u32)
            .collect();
        if let Some(place) = pattern.get_mut(segment as usize) {
            *place = wood as u32;
        }
        ring.pattern = shortest_repeat(&pattern);
    })
}

/// The shortest beginning that gives the whole pattern when repeated.
fn shortest_repeat(pattern: &[u32]) -> Vec<u32> {
    let count = pattern.len();
    (1..count)
        .filter(|period| count.is_multiple_of(*period))
        .find(|period| (*period..count).all(|place| pattern[place] == pattern[place - period]))
        .map_or(pattern.to_vec(), |period| pattern[..period].to_vec())
}

/// Repeats a wood round a ring over its first wood; all segments when asked.
pub fn repeat(design: &Design, ring: usize, wood: usize, how: Repeat) -> Design {
    with_vessel(design, |vessel| {
        if wood >= vessel.woods.len() {
            return;
        }
        let Some(ring) = vessel.rings.get_mut(ring) else {
            return;
        };
        let wood = wood as u32;
        let other = ring
            .pattern
            .iter()
            .copied()
            .find(|each| *each != wood)
            .unwrap_or(0);
        ring.stripes = None;
        // It begins at the segment that has the wood already, as the one just painted has.
        let begins = (0..ring.segment_count).find(|&place| ring.wood_of(place) == wood as usize);
        ring.pattern = match how {
            Repeat::All => vec![wood],
            Repeat::Every(step) => (0..step.max(1))
                .map(|place| if place == 0 { wood } else { other })
                .collect(),
            Repeat::Blocks(length) => {
                let length = length.max(1);
                (0..2 * length)
                    .map(|place| if place < length { wood } else { other })
                    .collect()
            }
        };
        let length = ring.pattern.len();
        ring.pattern
            .rotate_right(begins.unwrap_or(0) as usize % length);
    })
}

/// Carries a ring's pattern to every segment ring above it, turned on by `steps` half
/// segments from ring to ring: a spiral, or with 0 straight columns.
pub fn spiral(design: &Design, from: usize, steps: u32) -> Design {
    with_vessel(design, |vessel| {
        let Some(source) = vessel.rings.get(from).cloned() else {
            return;
        };
        for (distance, ring) in vessel.rings.iter_mut().skip(from).enumerate() {
            if ring.made_of == crate::design::MadeOf::Disc {
                continue;
            }
            ring.pattern.clone_from(&source.pattern);
            ring.stripes.clone_from(&source.stripes);
            if !source.shares.is_empty() || !ring.shares.is_empty() {
                ring.shares.clone_from(&source.shares);
                ring.segment_count = source.segment_count;
            }
            ring.further_deg = source.further_deg;
            let turn = source.turn_half_segments + steps * distance as u32;
            ring.turn_half_segments = turn % (2 * ring.segment_count).max(1);
        }
    })
}

/// Mirrors the patterns of the lower half onto the upper half.
pub fn mirror(design: &Design) -> Design {
    with_vessel(design, |vessel| {
        let count = vessel.rings.len();
        for place in 0..count / 2 {
            let lower = vessel.rings[place].clone();
            let upper = &mut vessel.rings[count - 1 - place];
            upper.pattern = lower.pattern;
            upper.shares = lower.shares;
            upper.stripes = lower.stripes.map(|it| StripeChoice {
                is_mirrored: !it.is_mirrored,
                ..it
            });
        }
    })
}

/// Adds a wood to the vessel's list.
pub fn add_wood(design: &Design, name: &str) -> Design {
    with_vessel(design, |vessel| {
        let name = name.trim();
        let is_new = !vessel
            .woods
            .iter()
            .any(|wood| wood.eq_ignore_ascii_case(name));
        if !name.is_empty() && is_new && vessel.woods.len() < most_of("vessel.woods") {
            vessel.woods.push(name.chars().take(80).collect());
        }
    })
}

/// Removes a wood; what was of it becomes of the first one that stays.
pub fn remove_wood(design: &Design, wood: usize) -> Design {
    with_vessel(design, |vessel| {
        if vessel.woods.len() < 2 || wood >= vessel.woods.len() {
            return;
        }
        vessel.woods.remove(wood);
        let strips = vessel.slot_sets.iter_mut().flat_map(SlotSet::wood_places);
        let segments = vessel.rings.iter_mut().flat_map(StackRing::wood_places);
        for place in segments.chain(strips) {
            let old = *place as usize;
            *place = match old.cmp(&wood) {
                std::cmp::Ordering::Less => *place,
                std::cmp::Ordering::Equal => 0,
                std::cmp::Ordering::Greater => *place - 1,
            };
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::start;

    fn bowl() -> Design {
        start::begin(&Design::default(), "bowl", 254.0, 101.6)
    }

    fn vessel(design: &Design) -> &Vessel {
        design.vessel.as_ref().unwrap()
    }

    #[test]
    fn wild_dragging_leaves_a_curve() {
        let mut design = bowl();
        for step in 0..2_000_u32 {
            let wild = f64::from(step.wrapping_mul(2_654_435_761) >> 12) / 500.0 - 900.0;
            let place = (step % 5) as usize;
            design = move_point(&design, place, wild * 0.7, -wild + 300.0);
            assert!(vessel(&design).curve().is_some(), "step {step}");
            let (back, troubles) =
                Design::restore(&crate::design::read::to_value(&design)).unwrap();
            assert!(troubles.is_empty() && back == design);
        }
    }

    #[test]
    fn the_stack_follows_the_rim() {
        let design = bowl();
        let sum = |design: &Design| -> f64 {
            vessel(design).rings.iter().map(|ring| ring.height_mm).sum()
        };
        let higher = move_point(&design, 4, 108.0, 127.0);
        assert!((sum(&higher) - rim_mm(vessel(&higher))).abs() < 0.1);
    }

    #[test]
    fn a_painted_segment_writes_the_pattern_out_and_finds_it_again() {
        let design = repeat(&bowl(), 1, 1, Repeat::Every(2));
        assert_eq!(vessel(&design).rings[1].pattern, [1, 0]);
        let painted = paint(&design, 1, 1, 1);
        let count = vessel(&design).rings[1].segment_count as usize;
        assert_eq!(vessel(&painted).rings[1].pattern.len(), count);
        let back = paint(&painted, 1, 1, 0);
        assert_eq!(vessel(&back).rings[1].pattern, [1, 0]);
    }

    #[test]
    fn a_wood_in_use_may_be_removed() {
        let design = repeat(&bowl(), 1, 1, Repeat::All);
        let without = remove_wood(&design, 1);
        assert_eq!(vessel(&without).rings[1].pattern, [0]);
        assert_eq!(vessel(&without).woods.len(), 1);
        assert_eq!(remove_wood(&without, 0), without, "one always stays");
    }

    #[test]
    fn a_ring_put_between_or_taken_out_leaves_no_joints_in_line() {
        let in_line = |design: &Design| {
            let rings = &vessel(design).rings;
            rings.windows(2).any(|two| {
                let mitred = two
                    .iter()
                    .all(|ring| ring.made_of == crate::design::MadeOf::Segments);
                mitred && (two[0].turn_half_segments + two[1].turn_half_segments).is_multiple_of(2)
            })
        };
        let bowl = bowl();
        for place in 0..vessel(&bowl).rings.len() {
            assert!(!in_line(&add_ring(&bowl, place)), "split {place}");
            assert!(
                !in_line(&add_accent(&bowl, place, 1, 3.0)),
                "accent {place}"
            );
            assert!(!in_line(&remove_ring(&bowl, place)), "removed {place}");
        }
        // A spiral goes on turning.
        let spiral = spiral(&bowl, 1, 1);
        assert_eq!(vessel(&add_ring(&spiral, 3)).rings[5].turn_half_segments, 5);
    }

    #[test]
    fn rings_are_split_and_joined_without_changing_the_height() {
        let design = bowl();
        let sum = |design: &Design| -> f64 {
            vessel(design).rings.iter().map(|ring| ring.height_mm).sum()
        };
        let more = add_accent(&add_ring(&design, 2), 1, 1, 2.0);
        assert_eq!(vessel(&more).rings.len(), vessel(&design).rings.len() + 2);
        assert!((sum(&more) - sum(&design)).abs() < 1e-6);
        assert!((sum(&remove_ring(&more, 3)) - sum(&design)).abs() < 1e-6);
    }

    /// A place in the list of woods that is far off would make the ring's file unreadable.
    #[test]
    fn a_wood_that_there_is_not_is_not_taken() {
        let design = bowl();
        let there = vessel(&design).woods.len();
        for none in [there, 100, u32::MAX as usize, usize::MAX] {
            assert_eq!(paint(&design, 1, 0, none), design, "{none}");
            assert_eq!(repeat(&design, 1, none, Repeat::All), design, "{none}");
            assert_eq!(add_accent(&design, 1, none, 3.0), design, "{none}");
        }
        assert_ne!(paint(&design, 1, 0, there - 1), design);
    }
}
