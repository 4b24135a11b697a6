//! What a hand does to the glued rings on the shelf: laid on it, taken into a piece, given back,
//! and gone from it once they are glued in. A ring that a piece takes stays there, kept for it,
//! until then: no ring is made or lost on the way.

use super::built::{add_glued, before_measured, filled};
use super::ring_list::ring_of_line;
use super::vessel::{add_wood, remove_ring};
use crate::design::field::most_of;
use crate::design::ring_shelf::RingOnShelf;
use crate::design::shelf::{MOST_ON_SHELF, Moved, Shelf, Taker};
use crate::design::trouble::{Reason, Trouble};
use crate::design::{Design, Measured, StackRing, Vessel};
use crate::plan::plan;
use crate::trade::wood;

/// Readings closer than this are one, millimeters.
const SAME_MM: f64 = 1e-6;

/// Whether two are one ring, whichever way up it lies and whatever woods were painted on it
/// since.
fn is_same(one: &StackRing, other: &StackRing) -> bool {
    let (Some(own), Some(measured)) = (&one.measured, &other.measured) else {
        return false;
    };
    let is_near = |one: [f64; 5], other: [f64; 5]| {
        let pairs = one.iter().zip(&other);
        pairs.into_iter().all(|(a, b)| (a - b).abs() < SAME_MM)
    };
    let turned =
        |[lower, upper, hole, upper_hole, high]: [f64; 5]| [upper, lower, upper_hole, hole, high];
    let (own, measured) = (sizes(own), sizes(measured));
    one.segment_count == other.segment_count
        && (is_near(own, measured) || is_near(turned(own), measured))
}

/// Its outside at the lower and the upper face, its hole likewise, and its height; what was not
/// measured is nothing.
fn sizes(it: &Measured) -> [f64; 5] {
    let faces = |lower: Option<f64>, upper: Option<f64>| {
        [lower.or(upper), upper.or(lower)].map(|each| each.unwrap_or(0.0))
    };
    let outside = faces(it.outside_diameter_mm, it.upper_outside_diameter_mm);
    let hole = faces(it.inside_diameter_mm, it.upper_inside_diameter_mm);
    let high = it.height_mm.unwrap_or(0.0);
    [outside[0], outside[1], hole[0], hole[1], high]
}

/// A design's glued rings, what of them was as planned written out, each with its place.
fn glued_in(design: &Design) -> Vec<(usize, RingOnShelf)> {
    let whole = filled(design, &plan(design));
    let Some(vessel) = whole.vessel else {
        return Vec::new();
    };
    let rings = vessel.rings.iter().enumerate();
    let glued = rings.filter(|(_, ring)| ring.is_glued());
    glued
        .map(|(place, ring)| (place, alone(ring, &vessel.woods)))
        .collect()
}

/// A ring away from its stack, with the woods that it is of.
fn alone(ring: &StackRing, woods: &[String]) -> RingOnShelf {
    let mut ring = ring.clone();
    (ring.turn_half_segments, ring.is_pinned) = (0, false);
    let own = ring.woods();
    let named = |place: usize| woods.get(place).cloned().unwrap_or_default();
    let names = own.iter().map(|place| named(*place)).collect();
    for place in ring.wood_places() {
        let at = own.iter().position(|it| *it == *place as usize);
        *place = at.unwrap_or(0) as u32;
    }
    RingOnShelf {
        ring,
        woods: names,
        note: String::new(),
        wanted_by: String::new(),
        wanted_for: String::new(),
    }
}

fn lay(shelf: &mut Shelf, row: RingOnShelf) -> Result<(), Trouble> {
    if shelf.rings.len() >= MOST_ON_SHELF {
        return Err(Trouble::at(
            "vessel.rings",
            Reason::TooManyRings(MOST_ON_SHELF),
        ));
    }
    shelf.rings.push(row);
    Ok(())
}

fn keep_for(row: &mut RingOnShelf, taker: Taker) {
    taker.id.clone_into(&mut row.wanted_by);
    taker.name.clone_into(&mut row.wanted_for);
}

fn set_free(row: &mut RingOnShelf) {
    row.wanted_by.clear();
    row.wanted_for.clear();
}

/// Lays a ring on the shelf that is typed as a line of a list, in the design's unit:
/// `ring 7 1/2 x 5 x 3/4, 12 segments, hard maple`. What is not said is as in the design's Ring.
/// `line` is what a message calls it by, from 0.
///
/// # Errors
/// Names the number that cannot be read, or says that the shelf is full.
pub(super) fn list(
    shelf: &mut Shelf,
    design: &Design,
    typed: &str,
    line: usize,
) -> Result<(), Trouble> {
    let bare = Design {
        vessel: None,
        base: None,
        ..design.clone()
    };
    let begun = ring_of_line(&bare, typed, line)?;
    for (_, row) in glued_in(&begun) {
        lay(shelf, row)?;
    }
    Ok(())
}

/// Lays a design's glued rings on the shelf that do not lie there for it already, and keeps them
/// for it.
///
/// # Errors
/// When the shelf is full.
pub fn put(shelf: &Shelf, design: &Design, taker: Taker) -> Result<Shelf, Trouble> {
    let mut next = shelf.clone();
    let mut there = own_rows(shelf, taker);
    for (_, mut row) in glued_in(design) {
        if take_same(shelf, &mut there, &row.ring).is_none() {
            keep_for(&mut row, taker);
            lay(&mut next, row)?;
        }
    }
    Ok(next)
}

/// Lays some of a design's rings on the shelf for any piece, by their places: those that lie
/// there for it already are free.
///
/// # Errors
/// When the shelf is full.
pub fn leave(
    shelf: &Shelf,
    design: &Design,
    places: &[usize],
    taker: Taker,
) -> Result<Shelf, Trouble> {
    let mut next = shelf.clone();
    let mut there = own_rows(shelf, taker);
    let glued = glued_in(design).into_iter();
    for (_, row) in glued.filter(|(place, _)| places.contains(place)) {
        match take_same(shelf, &mut there, &row.ring) {
            Some(at) => set_free(&mut next.rings[at]),
            None => lay(
                &mut next,
                RingOnShelf {
                    note: taker.name.to_owned(),
                    ..row
                },
            )?,
        }
    }
    Ok(next)
}

/// Places on the shelf that are kept for a design.
fn own_rows(shelf: &Shelf, taker: Taker) -> Vec<usize> {
    let rows = shelf.rings.iter().enumerate();
    rows.filter(|(_, row)| row.wanted_by == taker.id)
        .map(|(at, _)| at)
        .collect()
}

/// The first of these places on which the ring lies; it is not among them after that.
fn take_same(shelf: &Shelf, places: &mut Vec<usize>, ring: &StackRing) -> Option<usize> {
    let found = places
        .iter()
        .position(|at| is_same(&shelf.rings[*at].ring, ring))?;
    Some(places.remove(found))
}

/// Takes a ring into a design's stack, on top. It stays on the shelf, kept for the design, until
/// it is glued in; the first one begins a piece.
///
/// # Errors
/// When the design has no room for more rings, or for their woods.
pub fn take(
    shelf: &Shelf,
    place: usize,
    design: &Design,
    taker: Taker,
) -> Result<(Shelf, Design), Trouble> {
    let mut next = shelf.clone();
    let row = next.rings.get_mut(place);
    let Some(row) = row.filter(|it| it.wanted_by != taker.id) else {
        return Ok((next, design.clone()));
    };
    let taken = onto(design, row)?;
    keep_for(row, taker);
    Ok((next, taken))
}

/// Takes all that are free into a design's stack, the narrowest first.
///
/// # Errors
/// When the design has no room for so many.
pub fn take_all(shelf: &Shelf, design: &Design, taker: Taker) -> Result<(Shelf, Design), Trouble> {
    let rows = shelf.rings.iter().enumerate();
    let mut free: Vec<usize> = rows
        .filter(|(_, row)| row.wanted_by.is_empty())
        .map(|(at, _)| at)
        .collect();
    let wide_mm = |at: &usize| shelf.rings[*at].widest_mm();
    free.sort_by(|one, other| wide_mm(one).total_cmp(&wide_mm(other)));
    free.into_iter()
        .try_fold((shelf.clone(), design.clone()), |(shelf, design), at| {
            take(&shelf, at, &design, taker)
        })
}

/// A ring on top of a design's stack, in its woods.
fn onto(design: &Design, row: &RingOnShelf) -> Result<Design, Trouble> {
    // A lone ring that was begun and not measured gives way.
    let blank = before_measured(design);
    let design = blank.as_ref().unwrap_or(design);
    let count = design.vessel.as_ref().map_or(0, |it| it.rings.len());
    let most = most_of("vessel.rings");
    if count >= most {
        return Err(Trouble::at("vessel.rings", Reason::TooManyRings(most)));
    }
    let mut changed = add_glued(design);
    let is_first = count == 0;
    if let Some(vessel) = changed.vessel.as_mut().filter(|_| is_first) {
        vessel.woods.clone_from(&row.woods);
    }
    for name in &row.woods {
        changed = add_wood(&changed, name);
    }
    if let Some(vessel) = &mut changed.vessel {
        let is_there = |name: &String| {
            let mut woods = vessel.woods.iter();
            name.trim().is_empty() || woods.any(|it| wood::is_same(it, name))
        };
        if !row.woods.iter().all(is_there) {
            let reason = Reason::TooManyWoods(most_of("vessel.woods"));
            return Err(Trouble::at("vessel.woods", reason));
        }
        set_top(vessel, row);
    }
    Ok(changed)
}

/// The topmost ring of a stack becomes this one.
fn set_top(vessel: &mut Vessel, row: &RingOnShelf) {
    let places: Vec<u32> = row
        .woods
        .iter()
        .map(|name| {
            let at = vessel.woods.iter().position(|it| wood::is_same(it, name));
            at.unwrap_or(0) as u32
        })
        .collect();
    let Some(top) = vessel.rings.last_mut() else {
        return;
    };
    let turn = top.turn_half_segments;
    *top = StackRing {
        turn_half_segments: turn,
        ..row.ring.clone()
    };
    for place in top.wood_places() {
        *place = places.get(*place as usize).copied().unwrap_or(0);
    }
}

/// Sets a ring free again. Where it was this design's, it goes from its stack.
pub fn give_back(shelf: &Shelf, place: usize, design: &Design, taker: Taker) -> (Shelf, Design) {
    let (mut next, mut design) = (shelf.clone(), design.clone());
    let Some(row) = next.rings.get_mut(place) else {
        return (next, design);
    };
    let is_own = row.wanted_by == taker.id;
    set_free(row);
    let stands = || {
        let glued = glued_in(&design).into_iter();
        let mut same = glued.filter(|(_, it)| is_same(&it.ring, &row.ring));
        same.next_back().map(|(at, _)| at)
    };
    if let Some(at) = is_own.then(stands).flatten() {
        design = remove_ring(&design, at);
    }
    (next, design)
}

/// Lays all rings of another shelf beside what is there: what it kept for designs is free.
///
/// # Errors
/// When the shelf is full.
pub(super) fn open(shelf: &mut Shelf, other: &Shelf) -> Result<(), Trouble> {
    other.rings.iter().try_for_each(|row| {
        let mut row = row.clone();
        set_free(&mut row);
        lay(shelf, row)
    })
}

/// Takes a ring off the shelf for good.
pub fn remove(shelf: &Shelf, place: usize) -> Shelf {
    let mut next = shelf.clone();
    if place < next.rings.len() {
        next.rings.remove(place);
    }
    next
}

/// A design's rings are glued together: those kept for it that stand in its stack go from the
/// shelf, and those that do not are free again. [`Moved::on`] counts these.
pub fn glue_in(shelf: &Shelf, design: &Design, taker: Taker) -> (Shelf, Moved) {
    let mut own = own_rows(shelf, taker);
    let mut gone: Vec<usize> = glued_in(design)
        .iter()
        .filter_map(|(_, it)| take_same(shelf, &mut own, &it.ring))
        .collect();
    gone.sort_unstable();
    let mut next = shelf.clone();
    for at in &own {
        set_free(&mut next.rings[*at]);
    }
    for at in gone.iter().rev() {
        next.rings.remove(*at);
    }
    let moved = Moved {
        off: gone.len() as u32,
        on: own.len() as u32,
    };
    (next, moved)
}
