//! What a design says of the vessel's floor: whether there is one, what the lowest ring is
//! made of, and which rings a base leaves a hole in. What was said of the base counts; a
//! design that says nothing has what its lowest ring is. The base's own plan is
//! [`crate::plan::base`].

use crate::design::field::SOME_MM;
use crate::design::{BaseChoice, BaseKind, BaseSet, Design, MadeOf, OutlineIs, StackRing, Vessel};
use crate::plan::{measured, outline};
use crate::trade::shape::Wall;
use crate::units::length::{Unit, round};

/// The base that was said, or else the one that the stack has; none of them for a ring
/// alone.
pub fn choice(design: &Design) -> BaseChoice {
    let lowest = design.vessel.as_ref().and_then(|vessel| {
        let ring = vessel.rings.first()?;
        Some((ring, vessel.woods.get(ring.wood_of(0))?))
    });
    if let Some(said) = &design.base {
        let mut said = said.clone();
        // One board that is the lowest ring itself is of that ring's wood.
        if let Some((ring, wood)) = lowest
            && is_lowest_ring(&said, ring)
        {
            said.wood.clone_from(wood);
        }
        return said;
    }
    let has_hole = |ring: &StackRing| {
        let inside = ring.measured.as_ref().and_then(|it| it.inside_diameter_mm);
        inside.is_some_and(|inside_mm| inside_mm > 0.0)
    };
    // What the floor leaves of a base once it is turned.
    let left_mm = |thickness_mm: f64| {
        let vessel = design.vessel.as_ref();
        let floor_mm = vessel.map_or(0.0, |it| floor_now_mm(it, design.unit));
        if floor_mm > 0.0 {
            thickness_mm.min(floor_mm)
        } else {
            thickness_mm
        }
    };
    let mut choice = match lowest {
        // Within its hole a ring has a base only as thick as the floor.
        Some((ring, wood)) if has_hole(ring) => BaseChoice {
            // Nothing closes the foot of a glued ring with a hole yet.
            kind: BaseKind::Open,
            wedge_count: ring.segment_count,
            ..usual(design, wood, left_mm(ring.height_mm))
        },
        Some((ring, wood)) => BaseChoice {
            kind: match ring.made_of {
                MadeOf::Disc => BaseKind::Solid,
                MadeOf::Segments => BaseKind::Wedges,
            },
            wedge_count: ring.segment_count,
            ..usual(design, wood, ring.height_mm)
        },
        None => BaseChoice {
            kind: BaseKind::Open,
            set: BaseSet::LetIn,
            ..usual(design, &design.ring.wood, design.ring.height_mm)
        },
    };
    // The outer plies to the tape, the middle one what is left: as thick as both, so that each
    // way as much wood holds as moves. What the floor cuts off lies in the upper ply.
    let left_mm = left_mm(choice.thickness_mm);
    let outer_mm = design.unit.snapped(left_mm / 4.0);
    let outer_mm = outer_mm.max(THINNEST_PLY_MM.min(left_mm / 3.0));
    let middle_mm = left_mm - 2.0 * outer_mm;
    if let [lower, middle, upper] = choice.plies.as_mut_slice()
        && outer_mm > 0.0
        && middle_mm > 0.0
    {
        lower.thickness_mm = outer_mm;
        upper.thickness_mm = outer_mm + choice.thickness_mm - left_mm;
        middle.thickness_mm = middle_mm;
    }
    for ply in &mut choice.plies {
        // A floor may be so thin that its plies come to less than a length that is taken.
        ply.thickness_mm = ply.thickness_mm.max(SOME_MM);
    }
    choice
}

/// No ply is begun with thinner than this, where three of it fit: what many planers do not
/// take, 1/8 in (common practice, no published source).
const THINNEST_PLY_MM: f64 = crate::units::length::MM_PER_INCH / 8.0;

/// A usual base, its fit and ledge in the turner's unit: four thousandths and a quarter of
/// an inch, or a tenth and 6 millimeters (our own choice, no published source).
fn usual(design: &Design, wood: &str, thickness_mm: f64) -> BaseChoice {
    let inch = crate::units::length::MM_PER_INCH;
    let usual = BaseChoice::of(wood, thickness_mm);
    if design.unit.is_inch() {
        return BaseChoice {
            fit_mm: 0.004 * inch,
            ledge_mm: 0.25 * inch,
            ..usual
        };
    }
    usual
}

/// A vessel's floor as it is now: where the outline is drawn in the rings, so is the floor.
fn floor_now_mm(vessel: &Vessel, unit: Unit) -> f64 {
    if vessel.outline_is != OutlineIs::InRings {
        return vessel.floor_mm;
    }
    let (stack, _) = measured::glued(vessel, |_| None);
    if outline::has_wall(&stack, unit) {
        outline::floor_drawn_mm(&stack, unit)
    } else {
        vessel.floor_mm
    }
}

/// Whether one board glued under is the stack's lowest ring, a disc.
pub fn is_lowest_ring(base: &BaseChoice, lowest: &StackRing) -> bool {
    base.kind == BaseKind::Solid && base.set == BaseSet::Under && !lowest.is_glued()
}

/// Whether the vessel was said to be open below: then it has no floor, and its wall goes
/// down to the foot.
pub fn is_open_below(base: Option<&BaseChoice>) -> bool {
    base.is_some_and(|base| base.kind == BaseKind::Open)
}

/// Thickness of a vessel's floor; 0 where it is open below.
pub fn floor_mm(base: Option<&BaseChoice>, vessel: &Vessel) -> f64 {
    if is_open_below(base) {
        0.0
    } else {
        vessel.floor_mm
    }
}

/// Whether a lowest ring that is a disc is the plies of the base: then no such disc is sawn.
pub fn is_plies(design: &Design, lowest: &StackRing) -> bool {
    let is_plies = |base: &BaseChoice| base.kind == BaseKind::Plies && base.set == BaseSet::Under;
    !lowest.is_glued() && design.base.as_ref().is_some_and(is_plies)
}

/// A mortise cuts at least so much all round out of a hole that is there already, so that
/// its corners go (our own choice, no published source).
const MORTISE_CUTS_MM: f64 = 1.0;

/// A diameter that suits a ring: as wide as the inside above, but leaving the ring twice
/// the wall, rounded to what is typed; and wide enough for the hole of one that is glued,
/// and, where the ring leaves room, for that of a glued one below to carry it.
pub(super) fn usual_mm(
    base: &BaseChoice,
    (outside_mm, above_mm): (f64, f64),
    [hole_mm, below_mm]: [f64; 2],
    wall_mm: f64,
) -> f64 {
    let most = (outside_mm - 2.0 * wall_mm).max(outside_mm / 2.0);
    let radius = if above_mm > 0.0 {
        above_mm.min(most)
    } else {
        most
    };
    let past_the_hole_mm = match base.set {
        _ if hole_mm <= 0.0 => 0.0,
        BaseSet::OnLedge => hole_mm + base.ledge_mm,
        BaseSet::LetIn | BaseSet::Under => hole_mm + MORTISE_CUTS_MM,
    };
    let carried_mm = if below_mm > 0.0 {
        (below_mm + base.ledge_mm).min(most)
    } else {
        0.0
    };
    round(2.0 * radius.max(past_the_hole_mm).max(carried_mm))
}

/// The widest radius of the hole that a glued ring has by its readings, corners and all;
/// 0 where it has none.
fn glued_hole_mm(ring: &StackRing) -> f64 {
    // Of its hole alone: the outside may not be measured yet.
    let faces = measured::faces(ring, Some((0.0, 0.0)));
    faces.map_or(0.0, |faces| faces[0].hole_mm.max(faces[1].hole_mm))
}

/// The holes to which a base set into a ring looks: that of the ring itself, and of the one
/// below, which carries a base that has no ledge.
pub(super) fn glued_holes_mm(base: &BaseChoice, vessel: &Vessel, place: usize) -> [f64; 2] {
    let glued_mm = |place: usize| vessel.rings.get(place).map_or(0.0, glued_hole_mm);
    let below = place.checked_sub(1).filter(|_| base.set == BaseSet::LetIn);
    [glued_mm(place), below.map_or(0.0, glued_mm)]
}

/// What the lowest ring is made of, where the base says so: a disc for one glued under,
/// segments to let one into. A ring that is glued is what it is.
pub fn made_of_lowest(design: &Design, lowest: &StackRing) -> MadeOf {
    match &design.base {
        Some(base) if !lowest.is_glued() => match (base.kind, base.set) {
            (BaseKind::Solid | BaseKind::Plies, BaseSet::Under) => MadeOf::Disc,
            _ => MadeOf::Segments,
        },
        _ => lowest.made_of,
    }
}

/// A base is let into one of so many rings from the foot up: nearer the rim it would be
/// no foot any more (our own choice, no published source).
const FOOT_RINGS: usize = 3;

/// Whether a base is let into the ring at this place.
pub fn takes_base(place: usize) -> bool {
    place < FOOT_RINGS
}

/// The place of the ring that a base is let into, or on whose ledge it lies.
pub fn base_place(base: &BaseChoice, vessel: &Vessel) -> usize {
    let last = vessel.rings.len().saturating_sub(1);
    (base.in_ring.max(1) as usize - 1).min(last)
}

/// How high above the foot the ring begins that a base is let into; 0 where it is in none.
pub fn base_ring_mm(base: Option<&BaseChoice>, vessel: &Vessel) -> f64 {
    let is_within = |it: &&BaseChoice| it.kind != BaseKind::Open && it.set != BaseSet::Under;
    base.filter(is_within).map_or(0.0, |base| {
        let below = vessel.rings.iter().take(base_place(base, vessel));
        below.map(StackRing::height_now_mm).sum()
    })
}

/// Radii of the place for a base within a ring: the least outside of that ring, and the
/// inside of what stands above it.
pub(super) fn seat_mm(vessel: &Vessel, wall: &Wall, place: usize) -> (f64, f64) {
    let rim = wall.outside.height_mm();
    let height = |place: usize| vessel.rings.get(place).map_or(0.0, |ring| ring.height_mm);
    let low = (0..place).map(height).sum::<f64>().min(rim);
    let high = (low + height(place)).min(rim);
    let outside = (0..=8).map(|step| {
        wall.outside
            .radius_at(low + (high - low) * f64::from(step) / 8.0)
    });
    let above = wall.smallest_inside(high, (high + height(place + 1)).min(rim));
    (outside.fold(f64::INFINITY, f64::min), above)
}

/// The radius of the hole that a base leaves in a ring; nothing where it needs none. The
/// rings below its own carry it: they reach under it by the ledge.
pub fn hole_mm(base: &BaseChoice, vessel: &Vessel, wall: &Wall, place: usize) -> Option<f64> {
    let own = base_place(base, vessel);
    if base.kind == BaseKind::Open || base.set == BaseSet::Under || place > own {
        return None;
    }
    let seat_mm = seat_mm(vessel, wall, own);
    let holes_mm = glued_holes_mm(base, vessel, own);
    let usual = || usual_mm(base, seat_mm, holes_mm, vessel.foot_wall_mm);
    let disc_mm = base.diameter_mm.unwrap_or_else(usual);
    let ledge = if base.set == BaseSet::OnLedge || place < own {
        base.ledge_mm
    } else {
        0.0
    };
    // A disc as large as its ring is told where the base is worked out.
    (disc_mm < 2.0 * seat_mm.0).then(|| (disc_mm / 2.0 - ledge).max(0.0))
}
