//! Looking a planned vessel over as a master would: what to mend before wood is cut.

use crate::design::{Design, MadeOf, StackRing};
use crate::plan::caution::{
    BENDS_HARD_N_MM2, Caution, NARROW_GLUE_MM, NARROW_STRIP_MM, Placed, RESTS_LITTLE_MM,
    SMALL_OPENING_MM, TIGHT_RING_MM, TIPS_EASILY_RAD, WASTEFUL_SHARE,
};
use crate::plan::open_ring;
use crate::plan::rings::{Made, RingInStack, flats_mm};
use crate::plan::stack::StackPlan;
use crate::plan::stripe;
use crate::trade::closing::HAIR_MM;
use crate::trade::index_plate;
use crate::trade::lathe;
use crate::trade::room::{Face, GluedRing, Room, Stack};
use crate::trade::shape::Wall;
use crate::trade::vessel::tipping_angle_rad;
use std::f64::consts::TAU;

/// Every caution for this vessel: ring by ring from the foot up, then the joints, then
/// the whole.
pub fn inspect(plan: &StackPlan) -> Vec<Placed> {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let Some(wall) = &plan.wall else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let below = place
            .checked_sub(1)
            .and_then(|below| vessel.rings.get(below));
        let kept_share = plan.finished_mm3(place) / planned.blank_mm3.max(1e-9);
        let cautions = ring_cautions(design, wall, ring, planned, kept_share, below);
        found.extend(cautions.into_iter().map(|caution| Placed {
            caution,
            ring: Some(place),
            height_mm: f64::midpoint(planned.span.bottom_mm, planned.span.top_mm),
        }));
    }
    for (place, joint) in plan.joints.iter().enumerate() {
        if joint.glue_width_mm() < NARROW_GLUE_MM {
            found.push(Placed {
                caution: Caution::NarrowGlue {
                    width_mm: joint.glue_width_mm(),
                    are_glued: plan.vessel.rings[place..]
                        .iter()
                        .take(2)
                        .all(StackRing::is_glued),
                },
                ring: Some(place + 1),
                height_mm: joint.height_mm,
            });
        }
    }
    found.extend(no_such_stock(plan));
    found.extend(thin_for_planer(plan));
    found.extend(open_rings(plan));
    found.extend(whole_cautions(wall, plan));
    found.extend(crate::plan::sawing::inspect(plan, &plan.slot_sets));
    found
}

/// Rings for which none of the stock at hand is thick enough without more being planed
/// away than the turner wants. (One higher than all of it is told at the ring.)
fn no_such_stock(plan: &StackPlan) -> Option<Placed> {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let plane_mm = design.plane_at_most_mm();
    let stock = design.stock_at_hand_mm();
    let thickest = stock.iter().copied().fold(0.0, f64::max);
    let needed = |place: &usize| {
        plan.rings
            .get(*place)
            .map_or(0.0, |it| it.wanted.strip_height_mm())
    };
    let has_none = |place: &usize| {
        let is_near = |stock_mm: &f64| {
            let spare = stock_mm - needed(place);
            spare >= -HAIR_MM && spare <= plane_mm + HAIR_MM
        };
        is_of_stock(plan, *place)
            && needed(place) <= thickest + HAIR_MM
            && !stock.iter().any(is_near)
    };
    let rings: Vec<usize> = (0..vessel.rings.len()).filter(has_none).collect();
    let first = *rings.first()?;
    let span = plan.rings.get(first)?.span;
    Some(Placed {
        caution: Caution::NoSuchStock {
            height_mm: needed(&first),
            plane_mm,
            rings,
        },
        ring: None,
        height_mm: f64::midpoint(span.bottom_mm, span.top_mm),
    })
}

/// Open rings whose segments are held badly, or cannot be set by an index plate.
fn open_rings(plan: &StackPlan) -> Vec<Placed> {
    let mut found = Vec::new();
    for (place, planned) in plan.rings.iter().enumerate() {
        let mut tell = |caution: Caution| {
            found.push(Placed {
                caution,
                ring: Some(place),
                height_mm: planned.span.bottom_mm,
            });
        };
        if let Some(resting) = open_ring::resting(plan, place) {
            match resting.least_along_mm() {
                None => tell(Caution::RestsOnOne),
                Some(along_mm) if along_mm < RESTS_LITTLE_MM => {
                    let gap_by = plan.vessel.rings[place].gap_by;
                    tell(Caution::RestsLittle { along_mm, gap_by });
                }
                Some(_) => {}
            }
            let catch = open_ring::catch(plan, place, &resting);
            if let Some((_, above_mm)) = catch.filter(|it| it.0 > BENDS_HARD_N_MM2) {
                tell(Caution::BendsHard {
                    glued_mm2: resting.all_mm2,
                    above_mm,
                });
            }
        }
        let is_rim = place + 1 == plan.rings.len();
        if open_ring::is_open(plan, place) && (place == 0 || is_rim) {
            tell(Caution::OpenEnd { is_rim });
        }
        let ring = &plan.vessel.rings[place];
        let is_planned = !ring.is_glued();
        let (plates, is_own) = open_ring::plates(&plan.design.shop);
        let serving = open_ring::indexing(plan, place).filter(|_| is_planned);
        if serving.is_some_and(|it| it.is_empty()) {
            let (count, turn) = (ring.segment_count, ring.turn());
            tell(Caution::NoIndex {
                count,
                turn,
                is_own,
                nearest: index_plate::nearest(plates, count, turn),
            });
        }
    }
    found
}

/// Whether a ring is still to be planed from stock.
fn is_of_stock(plan: &StackPlan, place: usize) -> bool {
    plan.rings.get(place).is_some_and(|it| {
        it.measured.is_none()
            && it.stripes.is_none()
            && matches!(it.made, Made::Segments | Made::Disc)
    })
}

/// Rings whose strips come out of the planer thinner than it takes.
fn thin_for_planer(plan: &StackPlan) -> Option<Placed> {
    let least_mm = plan.design.shop.planer_least_mm?;
    let height_mm = |place: usize| plan.rings[place].wanted.strip_height_mm();
    let is_thin =
        |place: &usize| is_of_stock(plan, *place) && height_mm(*place) < least_mm - HAIR_MM;
    let rings: Vec<usize> = (0..plan.rings.len()).filter(is_thin).collect();
    let first = *rings.first()?;
    let span = plan.rings[first].span;
    Some(Placed {
        caution: Caution::ThinForPlaner {
            height_mm: height_mm(first),
            least_mm,
            rings,
        },
        ring: None,
        height_mm: f64::midpoint(span.bottom_mm, span.top_mm),
    })
}

/// A measured ring that does not hold the wall, or only just: neither as planned nor as
/// cut, but as it is.
fn measured_small(
    wall: &Wall,
    planned: &RingInStack,
    [lower, upper]: [Face; 2],
) -> Option<Caution> {
    let alone = Stack {
        rings: vec![GluedRing {
            place: 0,
            bottom_mm: planned.span.bottom_mm,
            top_mm: planned.span.top_mm,
            lower,
            upper,
        }],
        height_mm: planned.span.top_mm,
    };
    let rim = wall.outside.height_mm();
    let tightest = Room::new(&alone, wall.foot_mm, wall.rim_mm, rim).tightest(&wall.outside)?;
    let wanted_mm = wall.thickness_at(tightest.height_mm);
    if tightest.left_mm < -HAIR_MM {
        Some(Caution::MeasuredSmall {
            left_mm: (wanted_mm + tightest.left_mm).max(0.0),
            wanted_mm,
        })
    } else {
        (tightest.left_mm < TIGHT_RING_MM).then(|| Caution::MeasuredTight {
            left_mm: tightest.left_mm.max(0.0),
        })
    }
}

fn ring_cautions(
    design: &Design,
    wall: &Wall,
    ring: &StackRing,
    planned: &RingInStack,
    kept_share: f64,
    below: Option<&StackRing>,
) -> Vec<Caution> {
    let mut found = Vec::new();
    let shop = &design.shop;
    let height_mm = planned.wanted.strip_height_mm();
    let stock = design.stock_at_hand_mm();
    let thickest = stock.into_iter().fold(0.0, f64::max);
    // What is glued is not cut any more.
    let is_planned = !ring.is_glued();
    // Nor is it planed from stock where it is sawn from a striped board.
    let is_striped = planned.stripes.is_some();
    // Nor are plies, which are thinner than the ring that they are.
    let is_of_stock = is_planned && !is_striped && planned.made != Made::Plies;
    if is_of_stock && height_mm > thickest + HAIR_MM {
        found.push(Caution::HigherThanStock {
            height_mm,
            stock_mm: thickest,
        });
    }
    let diameter_mm = 2.0 * planned.reach_mm;
    if let Some(swing_mm) = shop.swing_mm.filter(|swing| diameter_mm > *swing) {
        found.push(Caution::PastSwing {
            diameter_mm,
            is_round_within: 2.0 * flats_mm(planned).1 <= swing_mm,
            swing_mm,
        });
    }
    let rpm = lathe::speeds(diameter_mm).slow_rpm;
    if let Some(slowest_rpm) = shop.slowest_rpm.filter(|slowest| f64::from(*slowest) > rpm) {
        found.push(Caution::LatheTooFast {
            diameter_mm,
            rpm,
            slowest_rpm,
        });
    }
    // A floor disc is always mostly kept; a sliver above the rim has nothing to keep.
    if is_planned
        && kept_share > 0.0
        && kept_share < WASTEFUL_SHARE
        && ring.made_of == MadeOf::Segments
    {
        found.push(Caution::Wasteful { share: kept_share });
    }
    if let Some(faces) = planned.measured {
        found.extend(measured_small(wall, planned, faces));
    }
    let Some(segment) = planned.segment else {
        return found;
    };
    let below = below.filter(|below| below.made_of == MadeOf::Segments);
    found.extend(
        below.and_then(|below| joints_in_line(ring, below, planned.wanted.outside_radius_mm)),
    );
    if !is_planned {
        return found;
    }
    found.extend(thin_wall(wall, planned));
    if let Some(own) = &planned.stripes {
        found.extend(stripe::cautions(shop, ring, own, &segment));
    }
    found.extend(crate::plan::ring::steep_saw(
        shop,
        segment.outside.half_angle_rad,
    ));
    if planned.wanted.inside_radius_mm <= 0.0 {
        found.push(Caution::WedgesInFloor);
    }
    let narrowest = planned.alike.last().map_or(segment, |it| it.segment);
    let long_edge_mm = narrowest.outside.long_edge_mm;
    if long_edge_mm < shop.least_segment_mm - HAIR_MM {
        found.push(Caution::ShortSegment {
            long_edge_mm,
            least_mm: shop.least_segment_mm,
        });
    }
    let width_mm = segment.strip_width_mm;
    if width_mm < NARROW_STRIP_MM {
        found.push(Caution::NarrowStrip { width_mm });
    }
    if let Some(board_mm) = shop
        .board_width_mm
        .filter(|board| width_mm > *board && !is_striped)
    {
        found.push(Caution::WiderThanBoard { width_mm, board_mm });
    }
    found
}

/// The rounded figures may leave less than the wall: the worst of outside and inside.
fn thin_wall(wall: &Wall, planned: &RingInStack) -> Option<Caution> {
    let (circle, hole) = planned.as_cut_mm;
    let missing_outside = planned.span.outside_radius_mm - circle;
    let missing_inside = if planned.span.inside_radius_mm > 0.0 {
        hole - planned.span.inside_radius_mm
    } else {
        0.0
    };
    let missing = missing_outside.max(missing_inside);
    let wanted_mm = wall.thickness_at(f64::midpoint(planned.span.bottom_mm, planned.span.top_mm));
    (missing > HAIR_MM).then(|| Caution::ThinWall {
        left_mm: (wanted_mm - missing).max(0.0),
        wanted_mm,
    })
}

/// Joints that stand over joints: within 1 mm along the outside, and half of the joints or
/// more (our own choice, no published source).
fn joints_in_line(ring: &StackRing, below: &StackRing, radius_mm: f64) -> Option<Caution> {
    let near = 1.0 / radius_mm.max(1.0);
    let (round, round_below) = (ring.round(), below.round());
    let is_over = |direction: &f64| {
        let under = round_below.segment_at(*direction);
        let past = |edge_rad: f64| {
            let past = (direction - edge_rad).rem_euclid(TAU);
            past.min(TAU - past)
        };
        let edges = [under, under + 1].map(|edge| past(round_below.edge_rad(edge)));
        edges[0].min(edges[1]) <= near
    };
    let count = round.joints_rad().filter(is_over).count() as u32;
    let fewer = ring.segment_count.min(below.segment_count);
    (2 * count >= fewer).then_some(Caution::JointsInLine { count })
}

fn whole_cautions(wall: &Wall, plan: &StackPlan) -> Vec<Placed> {
    let mut found = Vec::new();
    let rim = wall.outside.height_mm();
    let mut add = |caution: Caution, height_mm: f64| {
        found.push(Placed {
            caution,
            ring: None,
            height_mm,
        });
    };
    let top = plan.rings.last().map_or(0.0, |ring| ring.span.top_mm);
    // What a thousandth of an inch a ring adds up to is not worth a caution (our own choice,
    // no published source).
    let slack = 0.1 + 0.02 * plan.rings.len() as f64;
    if top < rim - slack {
        add(
            Caution::StackTooLow {
                missing_mm: rim - top,
            },
            top,
        );
    } else if top > rim + slack {
        add(
            Caution::StackTooHigh {
                excess_mm: top - rim,
            },
            rim,
        );
    }
    let inside = wall.inside_samples(80);
    if let Some(height_mm) = filled_to(&inside, wall.floor_mm) {
        add(Caution::WallFills { height_mm }, height_mm);
    }
    let opening = wall.inside_radius_at(rim);
    let widest = inside.iter().map(|at| at.1).fold(0.0, f64::max);
    // Where the inside is hardly wider than its opening, a tool gets everywhere: by 15 % (our
    // own choice, no published source).
    if 2.0 * opening < SMALL_OPENING_MM && widest > opening * 1.15 {
        add(
            Caution::SmallOpening {
                opening_mm: 2.0 * opening,
                inside_mm: 2.0 * widest,
            },
            rim,
        );
    }
    let foot = wall.outside.radius_at(0.0);
    let angle_rad = tipping_angle_rad(foot, plan.totals().center_of_mass_mm);
    if angle_rad < TIPS_EASILY_RAD {
        add(Caution::SmallFoot { angle_rad }, 0.0);
    }
    if let Some(top_mm) = funnel_top(&inside) {
        add(Caution::Funnel { top_mm }, top_mm);
    }
    found
}

/// Up to where above the floor the wall leaves nothing, if that is more than 0.5 mm (our own
/// choice, no published source).
fn filled_to(inside: &[(f64, f64)], floor_mm: f64) -> Option<f64> {
    let last = inside.iter().rev().find(|at| at.1 <= 0.0)?;
    (last.0 > floor_mm + 0.5).then_some(last.0)
}

/// Where a straight slope that begins at the floor ends, if it is a funnel's: leaning
/// between 20° and 75° from upright, turning by less than 4°, over more than 45 % of
/// the inside height (our own reading of the trade's "no funnels").
fn funnel_top(inside: &[(f64, f64)]) -> Option<f64> {
    let angles: Vec<f64> = inside
        .windows(2)
        .map(|two| {
            (two[1].1 - two[0].1)
                .atan2(two[1].0 - two[0].0)
                .to_degrees()
        })
        .collect();
    let first = *angles.get(1)?;
    if !(20.0..75.0).contains(&first) {
        return None;
    }
    let straight = angles
        .iter()
        .skip(1)
        .take_while(|angle| (**angle - first).abs() < 4.0)
        .count()
        + 1;
    (straight as f64 > 0.45 * angles.len() as f64).then(|| inside[straight].0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::PointChoice;
    use crate::design::{Design, Vessel};
    use crate::edit::start;
    use crate::plan::plan;

    fn cautions(change: impl Fn(&mut Design, &mut Vessel)) -> Vec<Caution> {
        let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        // The lowest ring is a board, as in a design that says nothing of its base.
        design.base = None;
        let mut vessel = design.vessel.take().unwrap();
        change(&mut design, &mut vessel);
        design.vessel = Some(vessel);
        let plan = plan(&design).into_stack().unwrap();
        inspect(&plan)
            .into_iter()
            .map(|placed| placed.caution)
            .collect()
    }

    fn has(found: &[Caution], wanted: fn(&Caution) -> bool) -> bool {
        found.iter().any(wanted)
    }

    #[test]
    fn joints_in_line_are_seen_and_half_a_turn_mends_them() {
        let in_line =
            |found: &[Caution]| has(found, |it| matches!(it, Caution::JointsInLine { .. }));
        assert!(!in_line(&cautions(|_, _| {})));
        assert!(in_line(&cautions(|_, vessel| {
            for ring in &mut vessel.rings {
                ring.turn_half_segments = 2;
            }
        })));
    }

    #[test]
    fn a_cone_inside_reads_as_a_funnel_and_a_bowl_does_not() {
        let is_funnel = |found: &[Caution]| has(found, |it| matches!(it, Caution::Funnel { .. }));
        assert!(!is_funnel(&cautions(|_, _| {})));
        assert!(is_funnel(&cautions(|_, vessel| {
            let point = |height_mm, radius_mm| PointChoice {
                height_mm,
                radius_mm,
                is_corner: false,
            };
            vessel.points = vec![point(0.0, 40.0), point(101.6, 127.0)];
        })));
    }

    #[test]
    fn each_limit_is_seen_when_it_is_passed() {
        let seen = cautions(|design, vessel| {
            design.shop.swing_mm = Some(200.0);
            design.shop.board_width_mm = Some(10.0);
            design.shop.least_segment_mm = 200.0;
            vessel.rings[1].height_mm = 60.0;
            vessel.rings[0].made_of = MadeOf::Segments;
            vessel.foot_wall_mm = 2.0;
            vessel.rim_wall_mm = 2.0;
        });
        for wanted in [
            (|it| matches!(it, Caution::PastSwing { .. })) as fn(&Caution) -> bool,
            |it| matches!(it, Caution::WiderThanBoard { .. }),
            |it| matches!(it, Caution::ShortSegment { .. }),
            |it| matches!(it, Caution::HigherThanStock { .. }),
            |it| matches!(it, Caution::StackTooHigh { .. }),
            |it| matches!(it, Caution::WedgesInFloor),
            |it| matches!(it, Caution::NarrowGlue { .. }),
            |it| matches!(it, Caution::Wasteful { .. }),
        ] {
            assert!(has(&seen, wanted), "{seen:?}");
        }
        let low = cautions(|_, vessel| {
            vessel.rings.pop();
        });
        assert!(has(&low, |it| matches!(it, Caution::StackTooLow { .. })));
    }

    #[test]
    fn stock_that_no_ring_can_be_planed_from_is_told_with_its_rings() {
        let of_stock = |stock_mm: &[f64], heights: [f64; 2]| {
            let seen = cautions(|design, vessel| {
                design.shop.stock_mm = stock_mm.to_vec();
                design.allowance.face_mm = 1.0;
                for ring in &mut vessel.rings {
                    ring.height_mm = heights[0];
                }
                vessel.rings[3].height_mm = heights[1];
            });
            seen.into_iter().find_map(|it| match it {
                Caution::NoSuchStock { rings, .. } => Some(rings),
                _ => None,
            })
        };
        // 18 and two faces of 1 are the 20 at hand; a quarter of an inch may be planed.
        assert_eq!(of_stock(&[20.0, 25.0], [18.0, 18.0]), None);
        assert_eq!(of_stock(&[20.0, 25.0], [18.0, 12.0]), None);
        assert_eq!(of_stock(&[20.0, 25.0], [18.0, 11.0]), Some(vec![3]));
        assert_eq!(of_stock(&[20.0, 11.0, 40.0], [18.0, 22.0]), Some(vec![3]));
        // Higher than all of it is another caution.
        assert_eq!(of_stock(&[20.0], [18.0, 22.0]), None);
        let all = of_stock(&[40.0], [18.0, 18.0]).unwrap();
        assert!(all.len() > 3 && all[0] == 0);
        // In words that name the ring and the way out.
        let told = crate::show::words::caution(
            &Caution::NoSuchStock {
                rings: vec![3],
                height_mm: 13.0,
                plane_mm: 6.0,
            },
            crate::units::length::Unit::Millimeter,
        );
        assert!(
            told.reason.starts_with("Ring 4 needs 13 mm stock"),
            "{}",
            told.reason
        );
    }

    #[test]
    fn what_the_turners_own_machines_do_not_reach_is_told_and_what_they_reach_is_not() {
        // 8 segments are sawn at 22.5°.
        let gauge = |most_deg: Option<f64>| {
            let seen = cautions(|design, vessel| {
                design.shop.gauge_most_deg = most_deg;
                vessel.rings[2].segment_count = 8;
            });
            has(&seen, |it| {
                matches!(
                    it,
                    Caution::SteepSaw {
                        own_deg: Some(_),
                        ..
                    }
                )
            })
        };
        assert!(gauge(Some(22.0)) && !gauge(Some(22.5)) && !gauge(None));
        // A gauge that reaches farther than most needs no caution at three.
        let three = cautions(|design, vessel| {
            design.shop.gauge_most_deg = Some(60.0);
            vessel.rings[2].segment_count = 3;
        });
        assert!(!has(&three, |it| matches!(it, Caution::SteepSaw { .. })));
        // 9 and two faces of 1 are planed to 11.
        let planer = |least_mm: f64| {
            let seen = cautions(|design, vessel| {
                design.shop.planer_least_mm = Some(least_mm);
                design.allowance.face_mm = 1.0;
                vessel.rings[2].height_mm = 9.0;
            });
            seen.into_iter().find_map(|it| match it {
                Caution::ThinForPlaner { rings, .. } => Some(rings),
                _ => None,
            })
        };
        assert_eq!(planer(11.0), None);
        assert_eq!(planer(11.1), Some(vec![2]));
        // The widest ring's own bound, from the same formula as the bench's.
        let widest = cautions(|design, _| design.shop.slowest_rpm = Some(10_000));
        let bounds = widest.iter().filter_map(|it| match it {
            Caution::LatheTooFast { rpm, .. } => Some(*rpm),
            _ => None,
        });
        let least = bounds.fold(f64::MAX, f64::min);
        let lathe = |slowest_rpm: f64| {
            let seen = cautions(|design, _| design.shop.slowest_rpm = Some(slowest_rpm as u32));
            has(&seen, |it| matches!(it, Caution::LatheTooFast { .. }))
        };
        assert!(lathe(least.ceil() + 1.0) && !lathe(least.floor()));
    }

    #[test]
    fn three_segments_are_past_the_saw() {
        let with = |count: u32| {
            let seen = cautions(|_, vessel| vessel.rings[2].segment_count = count);
            has(&seen, |it| matches!(it, Caution::SteepSaw { .. }))
        };
        assert!(with(3) && !with(4) && !with(12));
        let mut alone = Design::default();
        alone.ring.segment_count = 3;
        let told = crate::plan::plan(&alone).cautions;
        assert!(has(&told, |it| matches!(it, Caution::SteepSaw { .. })));
        let told = told
            .iter()
            .map(|it| crate::show::words::caution(it, alone.unit).reason);
        assert!(told.into_iter().any(|it| it.contains("60°")));
    }

    #[test]
    fn a_bottle_is_hard_to_reach_into_and_a_spindle_tips() {
        let seen = cautions(|_, vessel| {
            let point = |height_mm, radius_mm| PointChoice {
                height_mm,
                radius_mm,
                is_corner: false,
            };
            vessel.points = vec![point(0.0, 12.0), point(150.0, 80.0), point(300.0, 25.0)];
        });
        assert!(has(&seen, |it| matches!(it, Caution::SmallOpening { .. })));
        assert!(has(&seen, |it| matches!(it, Caution::SmallFoot { .. })));
    }
}
