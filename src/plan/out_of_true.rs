//! A half that does not run true any more: what is left of each of its rings, whether the wall
//! is still in them, and what it costs to turn them true.
//!
//! A half is what is glued up on one block, or the whole piece where there is one. What was read
//! at some of its rings holds for the others too, by straight lines between them
//! ([`crate::trade::out_of_true::between`]), because the half moved as one.

use crate::design::trouble::{Reason, Trouble};
use crate::design::{OutOfTrue, StackRing};
use crate::plan::Plan;
use crate::plan::measured::{faces, room_of};
use crate::plan::order::{End, Half, Order};
use crate::plan::stack::StackPlan;
use crate::trade::out_of_true::{Contradiction, Left, between};
use crate::trade::room::{Face, GluedRing, Side, Stack, Tightest};
use std::ops::Range;

/// A ring of such a half. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct RingLeft {
    /// Its place from the foot up.
    pub place: usize,
    /// Whether anything was read of it; else it follows from those beside it.
    pub is_read: bool,
    /// Its true circles before, lower face and upper face.
    pub before: [Face; 2],
    /// Its true circles now.
    pub now: [Face; 2],
    /// What comes off at the worst spot outside, until it is round.
    pub outside_cut_mm: f64,
    /// The same inside; 0 without a hole.
    pub inside_cut_mm: f64,
    /// Its height once the open face is flat.
    pub height_mm: f64,
}

impl RingLeft {
    /// The wall that is left where it is thinnest, on the radius.
    pub fn wall_mm(&self) -> f64 {
        let wall = |face: &Face| face.outside_mm - face.hole_mm;
        wall(&self.now[0]).min(wall(&self.now[1]))
    }
}

/// What is left of a half. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct HalfLeft {
    /// Its rings.
    pub rings: Range<usize>,
    /// The ring at its open face.
    pub open: usize,
    /// Whether its inside is turned to its shape already, as some reading says.
    pub is_hollowed: bool,
    /// What is left of each that can be counted; none while nothing was read.
    pub left: Vec<RingLeft>,
    /// What comes off its open face.
    pub face_mm: f64,
    /// Where the finished wall has least room in it; nothing without a curve, or while nothing
    /// was read.
    pub finished: Option<Tightest>,
    /// The same before it moved.
    pub unmoved: Option<Tightest>,
    /// The same now, with what is kept to turn away.
    pub with_allowance: Option<Tightest>,
    /// What cannot be counted.
    pub troubles: Vec<Trouble>,
}

/// The half that a ring belongs to.
pub fn half_of(order: &Order, ring: usize) -> Option<&Half> {
    order.halves.iter().find(|half| half.rings.contains(&ring))
}

/// The ring at a half's open face: the last that is glued on.
pub fn open_ring(half: &Half) -> usize {
    match half.on {
        End::Foot => half.rings.end.saturating_sub(1),
        End::Rim => half.rings.start,
    }
}

/// What is left of the half that a ring belongs to; nothing where there is no such ring.
pub fn half_left(plan: &Plan, ring: usize) -> Option<HalfLeft> {
    let (stack, half) = (plan.stack()?, half_of(plan.order()?, ring)?);
    let rings = stack.vessel.rings.get(half.rings.clone())?;
    let mut readings = rings.iter().filter_map(reading_of);
    let mut found = HalfLeft {
        rings: half.rings.clone(),
        open: open_ring(half),
        is_hollowed: readings.any(|it| it.is_hollowed),
        left: Vec::new(),
        face_mm: 0.0,
        finished: None,
        unmoved: None,
        with_allowance: None,
        troubles: Vec::new(),
    };
    let read = read(stack, &mut found);
    if read.is_empty() || !found.troubles.is_empty() {
        return Some(found);
    }
    found.left = found
        .rings
        .clone()
        .filter_map(|place| ring_left(stack, place, &read, &found))
        .collect();
    find_room(stack, &mut found);
    Some(found)
}

/// What a ring's readings cost, outside and inside.
#[derive(Clone, Copy)]
struct Cost {
    /// Of the true circles' radii.
    lost_mm: [f64; 2],
    /// What comes off at the worst spot.
    cut_mm: [f64; 2],
}

/// What was read of a ring: the height of its middle, and what that costs.
struct Read {
    place: usize,
    height_mm: f64,
    cost: Cost,
}

fn field(place: usize, name: &str) -> String {
    format!("vessel.rings.{place}.out_of_true.{name}")
}

fn reading_of(ring: &StackRing) -> Option<&OutOfTrue> {
    ring.out_of_true.as_ref()
}

/// The true circles of a ring before it moved: as measured, else as it was cut; inside as it is
/// turned to its shape, where it is.
fn before(stack: &StackPlan, place: usize, is_hollowed: bool) -> Option<[Face; 2]> {
    let (ring, planned) = (stack.vessel.rings.get(place)?, stack.rings.get(place)?);
    let (outside_mm, hole_mm) = planned.as_cut_mm;
    let even = Face {
        outside_mm,
        hole_mm,
    };
    let cut = faces(ring, Some(planned.as_cut_mm)).unwrap_or([even, even]);
    let wall = stack.wall.as_ref().filter(|_| is_hollowed);
    let span = &planned.span;
    let Some(wall) = wall.filter(|wall| span.top_mm > wall.floor_mm) else {
        return Some(cut);
    };
    let turned = |face: Face, height_mm: f64| Face {
        hole_mm: face
            .hole_mm
            .max(wall.inside_radius_at(height_mm.max(wall.floor_mm))),
        ..face
    };
    let [lower, upper] = cut;
    Some([
        turned(lower, span.bottom_mm),
        turned(upper, span.top_mm.min(wall.outside.height_mm())),
    ])
}

/// All that was read of a half's rings, from the foot up; what no ring can be is told.
fn read(stack: &StackPlan, found: &mut HalfLeft) -> Vec<Read> {
    let mut all = Vec::new();
    let mut bottom_mm = 0.0;
    for (place, ring) in stack.vessel.rings.iter().enumerate() {
        let height_mm = ring.height_now_mm();
        let middle_mm = bottom_mm + height_mm / 2.0;
        bottom_mm += height_mm;
        let Some(own) = reading_of(ring).filter(|_| found.rings.contains(&place)) else {
            continue;
        };
        if place == found.open {
            found.face_mm = own.face_runs_out_mm.unwrap_or(0.0);
            if found.face_mm >= height_mm {
                let reason = Reason::FacePastRing { height_mm };
                let at = field(place, "face_runs_out_mm");
                found.troubles.push(Trouble::at(at, reason));
            }
        }
        match cost(stack, place, own, found.is_hollowed) {
            Some(Ok(cost)) => all.push(Read {
                place,
                height_mm: middle_mm,
                cost,
            }),
            Some(Err(trouble)) => found.troubles.push(trouble),
            None => {}
        }
    }
    all
}

/// What a ring's readings cost; nothing where there is no ring to speak of.
fn cost(
    stack: &StackPlan,
    place: usize,
    own: &OutOfTrue,
    is_hollowed: bool,
) -> Option<Result<Cost, Trouble>> {
    let [lower, upper] = before(stack, place, is_hollowed)?;
    let outside_mm = lower.outside_mm.min(upper.outside_mm);
    let hole_mm = lower.hole_mm.max(upper.hole_mm);
    let outside = match own.outside().outside_left(outside_mm) {
        Ok(outside) => outside,
        Err(contradiction) => return Some(Err(told(place, contradiction))),
    };
    let hole = hole_left(own, outside_mm, hole_mm);
    if outside.radius_mm <= hole.radius_mm.max(0.0) {
        let reason = Reason::NoWallOnceTrue {
            outside_mm: 2.0 * outside.radius_mm,
            inside_mm: 2.0 * hole.radius_mm,
        };
        return Some(Err(Trouble::at(field(place, worst_name(own)), reason)));
    }
    Some(Ok(Cost {
        lost_mm: [outside_mm - outside.radius_mm, hole.radius_mm - hole_mm],
        cut_mm: [outside.cut_mm, hole.cut_mm],
    }))
}

/// What is left of the hole: as it was read, else it went along with the outside. A disc has none.
fn hole_left(own: &OutOfTrue, outside_mm: f64, hole_mm: f64) -> Left {
    let none = Left {
        radius_mm: hole_mm,
        cut_mm: 0.0,
    };
    match own.hole() {
        // Of a hole no two widths are read, so nothing contradicts.
        Some(read) => read.hole_left(hole_mm).unwrap_or(none),
        None if hole_mm <= 0.0 => none,
        None => own.outside().hole_along(outside_mm, hole_mm),
    }
}

/// The reading that is most likely the wrong one where no wall is left.
fn worst_name(own: &OutOfTrue) -> &'static str {
    if own.hole_runs_out_mm.is_some() {
        "hole_runs_out_mm"
    } else if own.runs_out_mm.is_some() {
        "runs_out_mm"
    } else if own.hole_widest_mm.is_some() {
        "hole_widest_mm"
    } else {
        "narrowest_mm"
    }
}

fn told(place: usize, contradiction: Contradiction) -> Trouble {
    let name = match contradiction {
        Contradiction::RunsOutTooLittle { .. } => "runs_out_mm",
        Contradiction::NarrowestWider | Contradiction::OtherWidthMissing => "narrowest_mm",
    };
    Trouble::at(field(place, name), Reason::OutOfTrue(contradiction))
}

/// What is left of a ring: as it was read, else by those beside it, of which none makes it larger
/// than it was.
fn ring_left(stack: &StackPlan, place: usize, read: &[Read], found: &HalfLeft) -> Option<RingLeft> {
    let before = before(stack, place, found.is_hollowed)?;
    let rings = &stack.vessel.rings;
    let below = rings.iter().take(place).map(StackRing::height_now_mm);
    let own_mm = rings.get(place)?.height_now_mm();
    let middle_mm = below.sum::<f64>() + own_mm / 2.0;
    let own = read.iter().find(|it| it.place == place);
    let along = |of: fn(&Cost) -> f64| {
        let all: Vec<(f64, f64)> = read.iter().map(|it| (it.height_mm, of(&it.cost))).collect();
        between(&all, middle_mm).max(0.0)
    };
    let Cost { lost_mm, cut_mm } = own.map_or_else(
        || Cost {
            lost_mm: [along(|it| it.lost_mm[0]), along(|it| it.lost_mm[1])],
            cut_mm: [along(|it| it.cut_mm[0]), along(|it| it.cut_mm[1])],
        },
        |own| own.cost,
    );
    let has_hole = before[0].hole_mm.max(before[1].hole_mm) + lost_mm[1].max(0.0) > 0.0
        && (own.is_some() || before[0].hole_mm > 0.0);
    let is_open = place == found.open;
    Some(RingLeft {
        place,
        is_read: own.is_some(),
        now: before.map(|face| Face {
            outside_mm: face.outside_mm - lost_mm[0],
            hole_mm: if has_hole {
                (face.hole_mm + lost_mm[1]).max(0.0)
            } else {
                face.hole_mm
            },
        }),
        before,
        outside_cut_mm: cut_mm[0],
        inside_cut_mm: if has_hole { cut_mm[1] } else { 0.0 },
        height_mm: own_mm - if is_open { found.face_mm } else { 0.0 },
    })
}

/// Looks for the wall in what is left, without and with what is kept to turn away, and in what
/// there was before. Of an inside that is turned nothing is kept: what moved in it is missing.
fn find_room(stack: &StackPlan, found: &mut HalfLeft) {
    let vessel = &stack.vessel;
    let Some(curve) = vessel.curve() else { return };
    let allowance = &stack.design.allowance;
    let look = |left: &[RingLeft], keep: [f64; 2]| {
        let mut rings = standing(stack, found.rings.start, left, keep);
        for ring in rings.rings.iter_mut().filter(|_| found.is_hollowed) {
            (ring.lower.hole_mm, ring.upper.hole_mm) = (0.0, 0.0);
        }
        room_of(&rings, vessel).tightest(&curve)
    };
    let before: Vec<RingLeft> = found
        .left
        .iter()
        .map(|it| RingLeft {
            now: it.before,
            height_mm: vessel.rings[it.place].height_now_mm(),
            ..it.clone()
        })
        .collect();
    let inside = moved_inside(stack, found);
    let worse = |outside: Option<Tightest>| match (outside, inside) {
        (Some(outside), Some(inside)) if inside.left_mm < outside.left_mm => Some(inside),
        (outside, _) => outside,
    };
    let unmoved = look(&before, [0.0, 0.0]);
    let finished = worse(look(&found.left, [0.0, 0.0]));
    let kept = [allowance.outside_mm, allowance.inside_mm];
    let with_allowance = worse(look(&found.left, kept));
    (found.unmoved, found.finished, found.with_allowance) = (unmoved, finished, with_allowance);
}

/// Where an inside that is turned already has to be turned off most, in the middle of that ring.
fn moved_inside(stack: &StackPlan, found: &HalfLeft) -> Option<Tightest> {
    let off_mm = |it: &RingLeft| it.now[0].hole_mm - it.before[0].hole_mm;
    let all = found.left.iter().filter(|_| found.is_hollowed);
    let worst = all.max_by(|one, other| off_mm(one).total_cmp(&off_mm(other)))?;
    let span = &stack.rings.get(worst.place)?.span;
    (off_mm(worst) > 0.0).then(|| Tightest {
        height_mm: f64::midpoint(span.bottom_mm, span.top_mm),
        side: Side::Inside,
        left_mm: -off_mm(worst),
    })
}

/// Rings as they stand on those below the first, less what is kept outside and inside.
fn standing(stack: &StackPlan, first: usize, left: &[RingLeft], keep: [f64; 2]) -> Stack {
    let below = stack.vessel.rings.iter().take(first);
    let mut standing = Stack {
        rings: Vec::new(),
        height_mm: below.map(StackRing::height_now_mm).sum(),
    };
    for it in left {
        let bottom_mm = standing.height_mm;
        standing.height_mm += it.height_mm;
        let kept = |face: Face| Face {
            outside_mm: face.outside_mm - keep[0],
            // A small hole is not worth keeping wood in.
            hole_mm: face.hole_mm + keep[1].min(face.hole_mm),
        };
        standing.rings.push(GluedRing {
            place: it.place,
            bottom_mm,
            top_mm: standing.height_mm,
            lower: kept(it.now[0]),
            upper: kept(it.now[1]),
        });
    }
    standing
}
