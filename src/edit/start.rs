//! Starting shapes: outlines of our own, drawn over a height and a greatest diameter
//! of 1, to be pulled about; and dividing a height into rings.

use crate::design::OutlineIs;
use crate::design::example;
use crate::design::field;
use crate::design::{Design, MadeOf, PointChoice, StackRing, Vessel};
use crate::edit::foot;
use crate::trade::ring::half_angle_rad;
use crate::trade::shape::Curve;
use crate::units::length::{MM_PER_INCH, inch_parts_mm};

/// A starting shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Start {
    /// The word for it.
    pub word: &'static str,
    /// Height over greatest diameter that suits it.
    pub height_for_diameter: f64,
    /// Height and radius of its points, and whether it is a corner; of a height of 1
    /// and a greatest radius of 1.
    points: &'static [(f64, f64, bool)],
}

/// Every starting shape.
pub const ALL: &[Start] = &[
    Start {
        word: "bowl",
        height_for_diameter: 0.4,
        points: &[
            (0.0, 0.42, false),
            (0.12, 0.6, false),
            (0.4, 0.83, false),
            (0.75, 0.965, false),
            (1.0, 1.0, false),
        ],
    },
    Start {
        word: "ogee",
        height_for_diameter: 0.42,
        points: &[
            (0.0, 0.4, false),
            (0.1, 0.43, false),
            (0.35, 0.7, false),
            (0.6, 0.8, false),
            (0.85, 0.88, false),
            (1.0, 1.0, false),
        ],
    },
    Start {
        word: "closed",
        height_for_diameter: 0.75,
        points: &[
            (0.0, 0.4, false),
            (0.2, 0.74, false),
            (0.55, 1.0, false),
            (0.85, 0.78, false),
            (1.0, 0.5, false),
        ],
    },
    Start {
        word: "vase",
        height_for_diameter: 1.7,
        points: &[
            (0.0, 0.52, false),
            (0.25, 0.86, false),
            (0.48, 1.0, false),
            (0.75, 0.62, false),
            (0.9, 0.44, false),
            (1.0, 0.56, false),
        ],
    },
    Start {
        word: "platter",
        height_for_diameter: 0.13,
        points: &[
            (0.0, 0.55, false),
            (0.3, 0.72, false),
            (0.7, 0.92, false),
            (1.0, 1.0, false),
        ],
    },
    Start {
        word: "cylinder",
        height_for_diameter: 1.1,
        points: &[
            (0.0, 0.86, false),
            (0.05, 0.96, false),
            (0.14, 1.0, false),
            (1.0, 1.0, false),
        ],
    },
];

/// The starting shape of this word.
pub fn find(word: &str) -> Option<&'static Start> {
    ALL.iter().find(|start| start.word == word)
}

/// The design with a vessel of this shape begun, divided into rings, its foot closed by
/// crosslaid plies. What an earlier vessel had in woods is kept. As it was where there is no such shape.
pub fn begin(design: &Design, word: &str, diameter_mm: f64, height_mm: f64) -> Design {
    let size = [diameter_mm, height_mm];
    let begun = begin_from(design, word, size, &design.shop.stock_mm);
    match find(word) {
        Some(_) => Design {
            name: own_name(design),
            ..begun
        },
        None => begun,
    }
}

/// The same under the name that the design has, its rings from stock of these thicknesses.
pub(super) fn begin_from(
    design: &Design,
    word: &str,
    [diameter_mm, height_mm]: [f64; 2],
    stock_mm: &[f64],
) -> Design {
    let Some(start) = find(word) else {
        return design.clone();
    };
    // A tall shape of the widest ring would be taller than a field takes.
    let height_mm = height_mm.min(field::LONGEST_MM - design.unit.snap_step_mm());
    let woods = match &design.vessel {
        Some(vessel) => vessel.woods.clone(),
        None => vec![design.ring.wood.clone(), "Purpleheart".to_owned()],
    };
    let wall = to_tape((diameter_mm * 0.032).clamp(4.0, 10.0), design);
    let vessel = Vessel {
        outline_is: OutlineIs::Own,
        points: points_of(start, diameter_mm, height_mm, design),
        foot_wall_mm: to_tape(wall * 1.2, design),
        rim_wall_mm: wall,
        floor_mm: to_tape((height_mm * 0.12).clamp(4.0, 12.0), design),
        rings: Vec::new(),
        woods,
        slot_sets: Vec::new(),
    };
    let mut design = design.clone();
    design.vessel = Some(vessel);
    // What closes the foot is said anew, with the shape.
    design.base = None;
    let mut design = divide_from(&design, stock_mm);
    foot::begin(&mut design);
    design
}

/// The points of a shape of this size, by the tape.
pub(super) fn points_of(
    start: &Start,
    diameter_mm: f64,
    height_mm: f64,
    design: &Design,
) -> Vec<PointChoice> {
    let points = start.points.iter();
    let mut points: Vec<PointChoice> = points
        .map(|&(height, radius, is_corner)| PointChoice {
            height_mm: to_tape_or_0(height * height_mm, design),
            radius_mm: to_tape(radius * diameter_mm, design) / 2.0,
            is_corner,
        })
        .collect();
    apart(&mut points);
    points
}

/// The design's name, unless it is an example's: what is begun anew is no longer that.
pub(super) fn own_name(design: &Design) -> String {
    if example::ALL.iter().any(|it| it.name == design.name) {
        String::new()
    } else {
        design.name.clone()
    }
}

/// Brings heights that fell together on the tape apart again, under the rim.
fn apart(points: &mut [PointChoice]) {
    let count = points.len();
    let rim = points.last().map_or(0.0, |point| point.height_mm);
    for place in 1..count {
        let least = points[place - 1].height_mm + LEAST_APART_MM;
        let room_above = LEAST_APART_MM * (count - 1 - place) as f64;
        let point = &mut points[place];
        point.height_mm = point
            .height_mm
            .max(least)
            .min((rim - room_above).max(least));
    }
}

/// Least height between two points of a new shape.
const LEAST_APART_MM: f64 = 0.1;

/// A new ring of a stack, its spacer, should it get one, as thick as the design's.
pub(crate) fn new_ring(height_mm: f64, design: &Design) -> StackRing {
    StackRing {
        spacer_mm: design.ring.spacer_mm,
        ..StackRing::plain(height_mm, 12)
    }
}

/// Down to the 64th of an inch, or the tenth of a millimeter, that a turner can set:
/// never more than the stock gives, never 0.
pub(crate) fn neat(length_mm: f64, design: &Design) -> f64 {
    let parts_a_mm = if design.unit.is_inch() {
        64.0 / MM_PER_INCH
    } else {
        10.0
    };
    let parts = (length_mm * parts_a_mm + 1e-6).floor();
    if parts < 1.0 {
        length_mm
    } else if design.unit.is_inch() {
        inch_parts_mm(parts, 64.0)
    } else {
        parts / 10.0
    }
}

/// To the step of the tape, for walls that nobody measured yet.
fn to_tape(length_mm: f64, design: &Design) -> f64 {
    design
        .unit
        .snapped(length_mm)
        .max(design.unit.snap_step_mm())
}

fn to_tape_or_0(height_mm: f64, design: &Design) -> f64 {
    if height_mm > 0.0 {
        to_tape(height_mm, design)
    } else {
        0.0
    }
}

/// Divides the height into rings from the stock at hand; pinned rings stay. The stock
/// that leaves the least to turn away is taken for each; the last ring is what is
/// left. One segment count for all, so that every second joint is covered, and one that
/// a saw's scale can be set to. Each new ring takes over the painting of the old one that was there.
pub fn divide(design: &Design) -> Design {
    divide_from(design, &design.shop.stock_mm)
}

/// The same from stock of these thicknesses.
pub(super) fn divide_from(design: &Design, stock_mm: &[f64]) -> Design {
    let mut design = design.clone();
    let Some(mut vessel) = design.vessel.take() else {
        return design;
    };
    let Some(curve) = vessel.curve() else {
        design.vessel = Some(vessel);
        return design;
    };
    let pinned: Vec<(usize, StackRing)> = vessel
        .rings
        .iter()
        .cloned()
        .enumerate()
        .filter(|(_, ring)| ring.is_pinned || ring.is_glued() || ring.out_of_true.is_some())
        .collect();
    let stock = usable_stock_mm(&design, stock_mm);
    let mut rings: Vec<StackRing> = Vec::new();
    let mut pinned = pinned.into_iter().peekable();
    let mut bottom = 0.0;
    let rim = curve.height_mm();
    let floor_mm = crate::plan::floor::floor_mm(design.base.as_ref(), &vessel);
    let kept_above: f64 = pinned.clone().map(|(_, ring)| ring.height_mm).sum();
    let mut to_fill = rim - kept_above;
    let mut shared_mm = None;
    while rings.len() < 200 && (to_fill > 0.05 || pinned.peek().is_some()) {
        if let Some((_, ring)) =
            pinned.next_if(|(place, _)| *place <= rings.len() || to_fill <= 0.05)
        {
            bottom += ring.height_mm;
            rings.push(ring);
            continue;
        }
        let cover = floor_mm - bottom;
        let height = next_height_mm(&curve, &vessel, cover, bottom, to_fill, &stock);
        shared_mm = shared_mm.or_else(|| shared_height_mm(&design, height, to_fill, &stock));
        let height = match shared_mm {
            // What is neat leaves a hair over for the last.
            Some(shared) if to_fill < 1.5 * shared => to_fill,
            Some(shared) => shared,
            None => height,
        };
        // The last ring takes what is left, whatever it is.
        let is_last = height > to_fill - 1e-9;
        let neat_height = neat(height, &design);
        // Summing leaves dust behind the figure that is meant.
        let height = if is_last && (neat_height - to_fill).abs() > 1e-6 {
            to_fill
        } else {
            neat_height
        };
        let mut ring = new_ring(height, &design);
        if bottom < floor_mm - 1e-6 {
            ring.made_of = MadeOf::Disc;
        }
        bottom += ring.height_mm;
        to_fill -= ring.height_mm;
        rings.push(ring);
    }
    let count = common_count(&design, &curve, &rings, &vessel.rings);
    let mut bottom = 0.0;
    for (place, ring) in rings.iter_mut().enumerate() {
        if !ring.is_pinned && !ring.is_glued() {
            ring.segment_count = count;
            ring.turn_half_segments = place as u32 % 2;
            let middle = bottom + ring.height_mm / 2.0;
            paint_as(&vessel.rings, middle, ring);
        }
        bottom += ring.height_mm;
    }
    vessel.rings = rings;
    design.vessel = Some(vessel);
    design
}

/// Paints a new ring as the old one at its middle, where that repeats whole round it, else
/// in that one's first wood; stripes it likewise.
fn paint_as(old: &[StackRing], middle_mm: f64, ring: &mut StackRing) {
    let mut top = 0.0;
    let there = old.iter().find(|each| {
        top += each.height_mm;
        top > middle_mm
    });
    let Some(painted) = there.or(old.last()) else {
        return;
    };
    let repeats = (ring.segment_count as usize).is_multiple_of(painted.pattern.len().max(1));
    ring.pattern = if ring.made_of == MadeOf::Segments && repeats {
        painted.pattern.clone()
    } else {
        vec![painted.wood_of(0) as u32]
    };
    ring.stripes = painted.striped().cloned();
    let shares = &painted.shares;
    if (ring.segment_count as usize).is_multiple_of(shares.len().max(1)) {
        ring.shares.clone_from(shares);
    }
}

/// Finished ring heights that the stock gives, thinnest first.
fn usable_stock_mm(design: &Design, stock_mm: &[f64]) -> Vec<f64> {
    let mut heights: Vec<f64> = Vec::new();
    for thickness in stock_mm {
        let height = thickness - 2.0 * design.allowance.face_mm;
        if height > 1.0 {
            heights.insert(heights.partition_point(|each| *each < height), height);
        }
    }
    if heights.is_empty() {
        // Nothing is thick enough for a ring: the thickest veneer, or a usual ring.
        let thickest = stock_mm.iter().copied().fold(0.0, f64::max);
        let height = thickest - 2.0 * design.allowance.face_mm;
        heights.push(if height > 0.2 { height } else { 19.0 });
    }
    heights
}

/// The next ring's height: the thickest stock whose ring keeps at least half of its
/// wood, else the thinnest; what is left of the floor is at least covered.
fn next_height_mm(
    curve: &Curve,
    vessel: &Vessel,
    cover: f64,
    bottom: f64,
    to_fill: f64,
    stock: &[f64],
) -> f64 {
    let thinnest = stock[0];
    let wall = f64::midpoint(vessel.foot_wall_mm, vessel.rim_wall_mm);
    let keeps_half = |height: f64| {
        let top = (bottom + height).min(curve.height_mm());
        let swing =
            curve.largest_radius(bottom, top) - curve.radius_at(bottom).min(curve.radius_at(top));
        swing <= wall
    };
    let height = if cover > 1e-6 {
        let covering = stock.iter().copied().find(|height| *height >= cover - 1e-6);
        covering.unwrap_or(stock[stock.len() - 1])
    } else {
        let keeping = stock
            .iter()
            .rev()
            .copied()
            .find(|height| keeps_half(*height));
        keeping.unwrap_or(thinnest)
    };
    height.min(to_fill)
}

/// So many rings at most share what is left below the rim.
const SHARING: f64 = 3.0;

/// The height of the last rings, alike, where the very last would else be thinner than the
/// thinnest stock can be planed; of as many rings as the stock gives, where it gives any.
fn shared_height_mm(design: &Design, height: f64, to_fill: f64, stock: &[f64]) -> Option<f64> {
    let plane_mm = design.plane_at_most_mm();
    let count = (to_fill / height - 1e-9).ceil();
    let last = to_fill - (count - 1.0) * height;
    let least = (stock[0] - plane_mm).max(stock[0] / 2.0);
    if !(2.0..=SHARING).contains(&count) || last >= least {
        return None;
    }
    let is_given = |height: f64| {
        let planed = |thick: &f64| (0.0..=plane_mm).contains(&(thick - height + 1e-6));
        stock.iter().any(planed)
    };
    let gives = |count: &f64| {
        let each = neat(to_fill / count, design);
        is_given(each) && is_given(to_fill - (count - 1.0) * each)
    };
    let counts = [count, count - 1.0, count + 1.0];
    Some(to_fill / counts.into_iter().find(gives).unwrap_or(count))
}

/// Segment counts that are chosen for the turner, best first: the most segments that are
/// still cut gladly, of counts whose saw setting, 180°/n, has two decimals at most and that
/// come to quarters (our own choice, no published source); 6 where all are too short.
const COUNTS: [u32; 6] = [24, 20, 16, 12, 8, 6];

/// The count for all rings: the turner's own where its segments are long enough, else one of
/// [`COUNTS`].
fn common_count(design: &Design, curve: &Curve, rings: &[StackRing], old: &[StackRing]) -> u32 {
    let mut bottom = 0.0;
    let mut smallest = f64::MAX;
    for ring in rings {
        let top = (bottom + ring.height_mm).min(curve.height_mm());
        if ring.made_of == MadeOf::Segments {
            smallest = smallest.min(curve.largest_radius(bottom.min(top), top));
        }
        bottom += ring.height_mm;
    }
    let own = own_count(design, old);
    if smallest >= f64::MAX {
        return own.unwrap_or(12);
    }
    let apothem = smallest + design.allowance.outside_mm;
    let is_long_enough =
        |count: &u32| 2.0 * apothem * half_angle_rad(*count).tan() >= design.shop.least_segment_mm;
    let mut counts = own.into_iter().chain(COUNTS);
    counts.find(is_long_enough).unwrap_or(6)
}

/// A count that the turner chose: that of all rings which are divided anew, where the page
/// would not have chosen it, or what was entered in Ring.
fn own_count(design: &Design, old: &[StackRing]) -> Option<u32> {
    let is_kept =
        |ring: &StackRing| ring.is_pinned || ring.is_glued() || ring.out_of_true.is_some();
    let divided = old
        .iter()
        .filter(|ring| ring.made_of == MadeOf::Segments && !is_kept(ring));
    let mut counts = divided.map(|ring| ring.segment_count);
    let shared = counts.next().filter(|first| counts.all(|it| it == *first));
    let of_ring = design.ring.segment_count;
    shared
        .filter(|count| !COUNTS.contains(count))
        .or_else(|| (of_ring != Design::default().ring.segment_count).then_some(of_ring))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::caution::Caution;

    #[test]
    fn the_largest_start_is_a_file_that_opens() {
        for shape in ALL {
            let widest = field::LONGEST_MM;
            let height_mm = widest * shape.height_for_diameter;
            let design = begin(&Design::default(), shape.word, widest, height_mm);
            let value = crate::design::read::to_value(&design);
            let (_, troubles) = Design::restore(&value).unwrap();
            assert!(troubles.is_empty(), "{} {troubles:?}", shape.word);
        }
    }

    #[test]
    fn divided_rings_add_up_and_keep_the_pinned_ones() {
        let mut design = begin(&Design::default(), "bowl", 250.0, 100.0);
        let sum = |design: &Design| -> f64 {
            design
                .vessel
                .as_ref()
                .unwrap()
                .rings
                .iter()
                .map(|ring| ring.height_mm)
                .sum()
        };
        assert!((sum(&design) - 100.0).abs() < 0.06, "{}", sum(&design));
        let vessel = design.vessel.as_mut().unwrap();
        vessel.rings[2].is_pinned = true;
        vessel.rings[2].height_mm = 3.0;
        let again = divide(&design);
        let rings = &again.vessel.as_ref().unwrap().rings;
        assert!(rings[2].is_pinned && (rings[2].height_mm - 3.0).abs() < 1e-9);
        assert!((sum(&again) - 100.0).abs() < 0.06, "{}", sum(&again));
    }

    #[test]
    fn a_start_begins_with_no_caution() {
        for first in [Design::default(), Design::starting("de-DE")] {
            for shape in ALL {
                let diameter_mm = first.ring.outside_diameter_mm;
                let height_mm = diameter_mm * shape.height_for_diameter;
                let plan = crate::plan::plan(&begin(&first, shape.word, diameter_mm, height_mm));
                let placed = plan.placed_cautions();
                assert!(placed.is_empty(), "{} {placed:?}", shape.word);
                assert_eq!(plan.cautions, [], "{}", shape.word);
            }
        }
    }

    #[test]
    fn whatever_its_size_a_start_has_a_base_that_bears_the_seasons() {
        let mut sawn = 0;
        for first in [Design::default(), Design::starting("de-DE")] {
            for shape in ALL {
                for diameter_mm in (90..700).step_by(11).map(f64::from) {
                    let height_mm = diameter_mm * shape.height_for_diameter;
                    let design = begin(&first, shape.word, diameter_mm, height_mm);
                    let lowest_mm = design.vessel.as_ref().unwrap().rings[0].height_mm;
                    let plan = crate::plan::plan(&design);
                    let base = plan.base().unwrap();
                    assert_eq!(base.cautions, [], "{} {diameter_mm}", shape.word);
                    assert_eq!(base.troubles, [], "{} {diameter_mm}", shape.word);
                    assert!((base.thickness_mm - lowest_mm).abs() < 0.02);
                    assert_eq!(base.is_safe(), Some(true));
                    sawn += base.blanks.iter().map(|it| it.count).sum::<u32>();
                }
            }
        }
        assert!(sawn > 1_000, "{sawn}");
    }

    #[test]
    fn whatever_its_size_a_start_is_divided_into_rings_that_the_stock_gives() {
        for first in [Design::default(), Design::starting("de-DE")] {
            for shape in ALL {
                for diameter_mm in (160..500).step_by(7).map(f64::from) {
                    let height_mm = diameter_mm * shape.height_for_diameter;
                    let design = begin(&first, shape.word, diameter_mm, height_mm);
                    let plan = crate::plan::plan(&design);
                    let found = plan.placed_cautions().iter();
                    let of_stock: Vec<&Caution> = found
                        .map(|it| &it.caution)
                        .filter(|it| {
                            matches!(
                                it,
                                Caution::NoSuchStock { .. } | Caution::HigherThanStock { .. }
                            )
                        })
                        .collect();
                    assert!(
                        of_stock.is_empty(),
                        "{} {diameter_mm} {of_stock:?}",
                        shape.word
                    );
                }
            }
        }
    }

    #[test]
    fn a_chosen_count_is_one_that_the_saw_is_set_to() {
        let mut found = std::collections::BTreeSet::new();
        for start in ALL {
            for diameter_mm in (30..1200).step_by(7).map(f64::from) {
                let height_mm = diameter_mm * start.height_for_diameter;
                let design = begin(&Design::default(), start.word, diameter_mm, height_mm);
                for ring in design.vessel.unwrap().rings {
                    let count = ring.segment_count;
                    assert_eq!(18_000 % count, 0, "180/{count} has more than two decimals");
                    assert!(count % 4 == 0 || count == 6, "{count}");
                    found.insert(count);
                }
            }
        }
        assert_eq!(found, COUNTS.into_iter().collect());
    }

    #[test]
    fn the_turners_own_count_is_kept_where_its_segments_are_long_enough() {
        let counts = |design: &Design| -> Vec<u32> {
            let rings = design.vessel.iter().flat_map(|it| &it.rings);
            let sawn = rings.filter(|ring| ring.made_of == MadeOf::Segments);
            sawn.map(|ring| ring.segment_count).collect()
        };
        let mut design = Design::default();
        design.ring.segment_count = 14;
        let begun = begin(&design, "bowl", 254.0, 100.0);
        assert!(counts(&begun).iter().all(|it| *it == 14));
        let small = begin(&design, "bowl", 80.0, 32.0);
        assert!(counts(&small).iter().all(|it| COUNTS.contains(it)));
        // Chosen ring by ring, and divided anew.
        let mut chosen = begin(&Design::default(), "bowl", 254.0, 100.0);
        for ring in &mut chosen.vessel.as_mut().unwrap().rings {
            ring.segment_count = 10;
        }
        assert!(counts(&divide(&chosen)).iter().all(|it| *it == 10));
    }

    #[test]
    fn dividing_anew_keeps_the_painting() {
        let mut design = begin(&Design::default(), "cylinder", 250.0, 200.0);
        let vessel = design.vessel.as_mut().unwrap();
        vessel.woods.push("Walnut".to_owned());
        let count = vessel.rings[1].segment_count as usize;
        let patterns = [vec![1, 0], vec![2, 2, 0, 0], vec![1], vec![2; 7]];
        for (ring, pattern) in vessel.rings.iter_mut().zip(patterns.iter().cycle()) {
            ring.pattern.clone_from(pattern);
        }
        vessel.rings[2].is_pinned = true;
        vessel.rings[2].height_mm = 3.0;
        vessel.rings[2].pattern = vec![0, 0, 1];
        let old = vessel.clone();
        let again = divide(&design).vessel.unwrap();
        let span = |rings: &[StackRing], place: usize| {
            let heights: Vec<f64> = rings.iter().map(|ring| ring.height_mm).collect();
            let bottom: f64 = heights[..place].iter().sum();
            (bottom, bottom + heights[place])
        };
        let (mut whole, mut first) = (0, 0);
        for (place, ring) in again.rings.iter().enumerate() {
            let (bottom, top) = span(&again.rings, place);
            let middle = f64::midpoint(bottom, top);
            let there = (0..old.rings.len())
                .find(|each| span(&old.rings, *each).1 > middle)
                .unwrap_or(old.rings.len() - 1);
            let painted = &old.rings[there].pattern;
            if ring.is_pinned {
                assert_eq!(ring.pattern, [0, 0, 1]);
            } else if ring.made_of == MadeOf::Segments && count.is_multiple_of(painted.len()) {
                assert_eq!(&ring.pattern, painted, "ring {place}");
                whole += 1;
            } else {
                assert_eq!(ring.pattern, painted[..1], "ring {place}");
                first += 1;
            }
        }
        assert!(whole > 2 && first > 1, "{whole} {first}");
    }

    #[test]
    fn no_ring_is_higher_than_the_stock() {
        for start in ALL {
            let design = begin(
                &Design::default(),
                start.word,
                300.0,
                300.0 * start.height_for_diameter,
            );
            let most = 25.4 - 2.0 * design.allowance.face_mm + 0.01;
            for ring in &design.vessel.unwrap().rings {
                assert!(ring.height_mm <= most, "{} {}", start.word, ring.height_mm);
            }
        }
    }
}
