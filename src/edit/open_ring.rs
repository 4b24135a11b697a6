//! Open walls: the same gap in many rings, and rows that are turned on from each to the next, so
//! that they rise as a spiral.

use crate::design::field::{Field, Kind};
use crate::design::kind::of;
use crate::design::trouble::Trouble;
use crate::design::{Between, Design, MadeOf, Shop, StackRing, Vessel};
use crate::edit::vessel::with_vessel;
use crate::plan::open_ring::plates;
use crate::trade::index_plate::{self, Serves};

const fn step(key: &'static str, label: &'static str, kind: Kind) -> Field {
    Field {
        key,
        label,
        ..of(kind)
    }
}

/// How far each open ring of a run is turned on from the one below it: not kept, for each ring
/// keeps its own turn. In degrees, of the way to the next segment, in holes of the plate.
pub const SPIRAL: &[Field] = &[
    step(
        "vessel.rings.*.spiral_deg",
        "Spiral: each row above on by",
        Kind::Degrees {
            least: -180.0,
            most: 180.0,
        },
    ),
    step(
        "vessel.rings.*.spiral_pct",
        "or by, of the way to the next segment",
        Kind::Percent {
            least: -100.0,
            most: 100.0,
        },
    ),
    step(
        "vessel.rings.*.spiral_holes",
        "or by holes of the plate",
        Kind::Number {
            least: -360.0,
            most: 360.0,
        },
    ),
];

/// A turn is kept to so many parts of a degree: finer than any saw, and short in a link.
const PARTS: f64 = 10_000.0;

/// Whether a ring's segments are still to be sawn.
fn is_sawn(ring: &StackRing) -> bool {
    ring.made_of == MadeOf::Segments && !ring.is_glued()
}

/// Whether a ring that is still to be sawn has air between its segments.
pub fn is_open(ring: &StackRing) -> bool {
    is_sawn(ring) && ring.between == Between::Gap
}

/// The open rings from one up, without one between that is closed.
fn run(vessel: &Vessel, from: usize) -> &[StackRing] {
    let rings = vessel.rings.get(from..).unwrap_or_default();
    let count = rings.iter().take_while(|ring| is_open(ring)).count();
    &rings[..count]
}

/// Whether there are rows above an open ring that could rise from it.
pub fn may_rise(vessel: &Vessel, from: usize) -> bool {
    run(vessel, from).len() > 1
}

/// How far a ring is turned on, degrees.
fn turn_deg(ring: &StackRing) -> f64 {
    ring.turn().rad(ring.segment_count).to_degrees()
}

/// An angle brought to within half a turn of straight ahead, degrees.
fn within_turn(angle_deg: f64) -> f64 {
    let within = (angle_deg + 180.0).rem_euclid(360.0) - 180.0;
    (within * PARTS).round() / PARTS
}

/// How far each ring of the run is turned on from the one below it, degrees; nothing where they
/// differ, or there is but one.
pub fn spiral_deg(vessel: &Vessel, from: usize) -> Option<f64> {
    let steps = run(vessel, from).windows(2);
    let mut steps = steps.map(|two| within_turn(turn_deg(&two[1]) - turn_deg(&two[0])));
    let first = steps.next()?;
    steps
        .all(|it| within_turn(it - first).abs() <= 2.0 / PARTS)
        .then_some(first)
}

/// The plate by whose holes the rows are counted: the finest that serves a ring.
pub fn plate(shop: &Shop, ring: &StackRing) -> Option<Serves> {
    let (holes, _) = plates(shop);
    index_plate::serving(holes, ring.segment_count, ring.turn())
        .into_iter()
        .max_by_key(|it| it.holes)
}

/// Turns a ring so far on: by half segments where it is a whole number of them.
fn turn_to(ring: &mut StackRing, turned_deg: f64) {
    let half_deg = 180.0 / f64::from(ring.segment_count.max(1));
    let halves = turned_deg.rem_euclid(360.0) / half_deg;
    let whole = halves.round();
    let is_whole = (halves - whole).abs() * half_deg < 0.5 / PARTS;
    (ring.turn_half_segments, ring.further_deg) = if is_whole {
        let all = 2 * ring.segment_count.max(1);
        (whole as u32 % all, 0.0)
    } else {
        (0, within_turn(turned_deg))
    };
}

/// Says one of [`SPIRAL`] of the run that begins with a ring, which stays as it is.
///
/// # Errors
/// As [`Field::read`].
pub fn type_spiral(
    design: &Design,
    field: &Field,
    place: usize,
    typed: &str,
) -> Result<Design, Trouble> {
    let key = field.key.replace('*', &place.to_string());
    let read = field.read(typed, design.unit);
    let value = read.map_err(|reason| Trouble::at(key, reason))?;
    let value = value.as_f64().unwrap_or_default();
    let vessel = design.vessel.as_ref();
    let Some(lowest) = vessel.and_then(|it| run(it, place).first()) else {
        return Ok(design.clone());
    };
    let step_deg = match field.key.rsplit('_').next() {
        Some("pct") => value / 100.0 * 360.0 / f64::from(lowest.segment_count),
        Some("holes") => match plate(&design.shop, lowest) {
            Some(plate) => value * 360.0 / f64::from(plate.holes),
            None => return Ok(design.clone()),
        },
        _ => value,
    };
    Ok(spiral(design, place, step_deg))
}

/// Turns each open ring above one on by a step from the one below it, up to the next that is
/// closed; above 0 they rise to the right.
pub fn spiral(design: &Design, place: usize, step_deg: f64) -> Design {
    with_vessel(design, |vessel| {
        let count = run(vessel, place).len();
        let Some(begin_deg) = vessel.rings.get(place).map(turn_deg) else {
            return;
        };
        let rows = vessel.rings.iter_mut().skip(place).take(count).enumerate();
        for (row, ring) in rows.skip(1) {
            turn_to(ring, begin_deg + step_deg * row as f64);
        }
    })
}

/// Gives every ring what stands between this one's segments, where both have air between theirs:
/// the same thickness, the same angle, or the same share.
pub fn same_gap(design: &Design, place: usize) -> Design {
    with_gap_of(design, place, |_, ring| is_open(ring))
}

/// Opens every ring above this one, but for the one at the rim, with gaps as it has.
pub fn open_above(design: &Design, place: usize) -> Design {
    with_gap_of(design, place, |at, ring| at > place && is_sawn(ring))
}

/// Whether another open ring has other gaps than this one.
pub fn gaps_differ(vessel: &Vessel, place: usize) -> bool {
    let own = vessel.rings.get(place);
    let gap = |ring: &StackRing| (ring.between_mm(), ring.gap_by, ring.gap_deg, ring.gap_pct);
    own.is_some_and(|own| {
        is_open(own)
            && vessel
                .rings
                .iter()
                .any(|it| is_open(it) && gap(it) != gap(own))
    })
}

/// Whether a ring above this one, and below the rim, is closed and could be opened.
pub fn is_closed_above(vessel: &Vessel, place: usize) -> bool {
    let below_rim = vessel.rings.len().saturating_sub(1);
    let above = vessel.rings.iter().take(below_rim).skip(place + 1);
    above.into_iter().any(|it| is_sawn(it) && !is_open(it))
}

fn with_gap_of(design: &Design, place: usize, takes: impl Fn(usize, &StackRing) -> bool) -> Design {
    with_vessel(design, |vessel| {
        let Some(own) = vessel.rings.get(place).filter(|it| is_open(it)).cloned() else {
            return;
        };
        let below_rim = vessel.rings.len() - 1;
        for (at, ring) in vessel.rings.iter_mut().enumerate() {
            let is_rim = at == below_rim && !is_open(ring);
            if is_rim || !takes(at, ring) {
                continue;
            }
            ring.between = Between::Gap;
            ring.spacer_mm = own.spacer_mm;
            (ring.gap_by, ring.gap_deg, ring.gap_pct) = (own.gap_by, own.gap_deg, own.gap_pct);
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::GapBy;
    use crate::edit::start;

    /// A vase, its second ring open by an angle.
    fn vase() -> Design {
        let mut design = start::begin(&Design::default(), "vase", 160.0, 240.0);
        let ring = &mut design.vessel.as_mut().unwrap().rings[1];
        (ring.between, ring.gap_by, ring.gap_deg) = (Between::Gap, GapBy::Angle, 6.0);
        design
    }

    fn rings(design: &Design) -> &[StackRing] {
        &design.vessel.as_ref().unwrap().rings
    }

    #[test]
    fn the_wall_is_opened_alike_up_to_the_rim() {
        let design = vase();
        assert!(is_closed_above(design.vessel.as_ref().unwrap(), 1));
        let open = open_above(&design, 1);
        let count = rings(&open).len();
        for (place, ring) in rings(&open).iter().enumerate() {
            assert_eq!(is_open(ring), place > 0 && place + 1 < count, "{place}");
            if is_open(ring) {
                assert!((ring.gap_rad().to_degrees() - 6.0).abs() < 1e-12);
            }
        }
        assert!(!is_closed_above(open.vessel.as_ref().unwrap(), 1));
        // Another gap goes into all of them, and nowhere else.
        let mut other = open.clone();
        let ring = &mut other.vessel.as_mut().unwrap().rings[3];
        (ring.gap_by, ring.spacer_mm) = (GapBy::Thickness, 4.5);
        assert!(gaps_differ(other.vessel.as_ref().unwrap(), 3));
        let same = same_gap(&other, 3);
        assert!(!gaps_differ(same.vessel.as_ref().unwrap(), 3));
        let thick = |ring: &StackRing| (ring.between_mm() - 4.5).abs() < 1e-12;
        assert!(rings(&same).iter().all(|ring| thick(ring) == is_open(ring)));
        // Nothing is carried from a ring that is closed.
        assert_eq!(open_above(&design, 2), design);
        assert_eq!(same_gap(&design, 99), design);
    }

    #[test]
    fn rows_rise_by_degrees_by_shares_and_by_holes() {
        let open = open_above(&vase(), 1);
        let count = rings(&open)[1].segment_count;
        let pitch_deg = 360.0 / f64::from(count);
        let typed = |place: usize, typed: &str| {
            let risen = type_spiral(&open, &SPIRAL[place], 1, typed).unwrap();
            let vessel = risen.vessel.clone().unwrap();
            let run: Vec<f64> = run(&vessel, 1).iter().map(turn_deg).collect();
            let steps = run.windows(2).map(|it| it[1] - it[0]);
            let whole: Vec<f64> = steps.map(|it| it.rem_euclid(360.0)).collect();
            assert!(whole.len() > 3);
            assert!(whole.iter().all(|it| (it - whole[0]).abs() < 2.0 / PARTS));
            let told = spiral_deg(&vessel, 1).unwrap();
            assert!((told.rem_euclid(360.0) - whole[0]).abs() < 2.0 / PARTS);
            whole[0]
        };
        assert!((typed(0, "2.5") - 2.5).abs() < 1e-3);
        assert!((typed(0, "-7.3") - 352.7).abs() < 1e-3);
        assert!((typed(1, "30") - 0.3 * pitch_deg).abs() < 1e-3);
        let holes = plate(&open.shop, &rings(&open)[1]).unwrap().holes;
        assert!((typed(2, "1") - 360.0 / f64::from(holes)).abs() < 1e-3);
        // Half a segment is told as it always was.
        let half = spiral(&open, 1, pitch_deg / 2.0);
        let [below, ring] = [1, 2].map(|it| &rings(&half)[it]);
        assert!(ring.further_deg == 0.0);
        assert_eq!(ring.turn_half_segments, below.turn_half_segments + 1);
        assert!(type_spiral(&open, &SPIRAL[0], 1, "wide").is_err());
        // What is closed stays.
        assert_eq!(spiral(&vase(), 1, 3.0), vase());
    }
}
