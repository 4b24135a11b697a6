//! Rings of wide and narrow segments, against polygons that are placed from shares alone:
//! each trapezoid as saw, stop and strip make it, its middle where the shares before it end.

mod shared;

use geo::{Area, BooleanOps, Centroid, LineString, MultiPolygon, Polygon, unary_union};
use ringwright::design::{Between, Design, StackRing};
use ringwright::edit::round::share_unevenly;
use ringwright::edit::start;
use ringwright::plan::bill::Piece;
use ringwright::plan::order::balance::ring_balance;
use ringwright::plan::plan;
use ringwright::plan::rings::ring_glue_mm2;
use ringwright::trade::outline::{Corners, Outline, Polygon as Outside};
use ringwright::trade::ring::{Segment, Wanted};
use ringwright::trade::room::{Across, circle_radius_mm, hole_radius_mm};
use ringwright::trade::round::{Alike, Round};
use shared::{Dice, stack_of};
use std::f64::consts::{PI, TAU};

/// A ring that was asked for, and what the trade answers.
struct Case {
    wanted: Wanted,
    shares: Vec<u32>,
    turn: u32,
    alike: Vec<Alike>,
}

impl Case {
    /// A random ring; nothing where it cannot be made.
    fn draw(dice: &mut Dice) -> Option<Case> {
        let count = dice.count(4, 48);
        let shares: Vec<u32> = (0..dice.count(1, 6)).map(|_| dice.count(1, 9)).collect();
        let turn = dice.count(0, 9);
        let round = Round::new(count, &shares, turn);
        let outside = dice.between(30.0, 300.0);
        let wanted = Wanted {
            outside_radius_mm: outside,
            inside_radius_mm: outside * dice.between(0.3, 0.95),
            height_mm: 19.0,
            segment_count: count,
            widest: round.widest(),
            outside_allowance_mm: dice.between(0.0, 4.0),
            inside_allowance_mm: dice.between(0.0, 4.0),
            face_allowance_mm: 0.0,
            spacer_mm: if dice.one_in(3.0) {
                dice.between(0.3, 4.0)
            } else {
                0.0
            },
            gap_rad: 0.0,
        };
        let alike = round.segments(&wanted).ok()?;
        Some(Case {
            wanted,
            shares,
            turn,
            alike,
        })
    }

    fn share(&self, at: u32) -> f64 {
        f64::from(self.shares[at as usize % self.shares.len()])
    }

    /// Each segment's middle and half its angle, from the shares alone.
    fn stand(&self) -> Vec<(f64, f64)> {
        let count = self.wanted.segment_count;
        let whole: f64 = (0..count).map(|at| self.share(at)).sum();
        let turned = PI / f64::from(count) * f64::from(self.turn);
        let mut gone = 0.0;
        (0..count)
            .map(|at| {
                let middle = gone + self.share(at) / 2.0 - self.share(0) / 2.0;
                gone += self.share(at);
                (TAU * middle / whole + turned, PI * self.share(at) / whole)
            })
            .collect()
    }

    fn segment(&self, half: f64) -> &Segment {
        let is_it = |it: &&Alike| (it.kind.half_angle_rad - half).abs() < 1e-9;
        let found: Vec<&Alike> = self.alike.iter().filter(is_it).collect();
        assert_eq!(found.len(), 1, "one kind for each angle");
        &found[0].segment
    }

    /// What saw, stop and strip make, pushed out until its joints are a spacer apart.
    fn pieces(&self) -> Vec<[(f64, f64); 4]> {
        let place = |(middle, half): (f64, f64)| {
            let segment = self.segment(half);
            let long = segment.outside.long_edge_mm;
            let width = segment.strip_width_mm;
            let short = long - 2.0 * width * half.tan();
            let apothem = (long / 2.0 + self.wanted.spacer_mm / 2.0 / half.cos()) / half.tan();
            let (sine, cosine) = middle.sin_cos();
            [
                (apothem - width, -short / 2.0),
                (apothem, -long / 2.0),
                (apothem, long / 2.0),
                (apothem - width, short / 2.0),
            ]
            .map(|(u, v)| (u * cosine - v * sine, u * sine + v * cosine))
        };
        self.stand().into_iter().map(place).collect()
    }
}

fn polygon(corners: &[(f64, f64)]) -> Polygon<f64> {
    Polygon::new(LineString::from(corners.to_vec()), Vec::new())
}

fn cases(count: usize, seed: u64) -> Vec<Case> {
    let mut dice = Dice(seed);
    std::iter::repeat_with(|| Case::draw(&mut dice))
        .flatten()
        .take(count)
        .collect()
}

/// No gap, no overlap, and the finished ring within.
#[test]
fn a_thousand_rings_leave_no_gap_and_no_overlap_and_hold_the_finished_ring() {
    let (mut unlike, mut apart) = (0, 0);
    for case in cases(1_000, 11) {
        unlike += usize::from(case.alike.len() > 1);
        let wanted = &case.wanted;
        let pieces = case.pieces();
        let shapes: Vec<Polygon<f64>> = pieces.iter().map(|it| polygon(it)).collect();
        let sum: f64 = shapes.iter().map(Area::unsigned_area).sum();
        let glued = unary_union(&shapes);
        assert!(
            (glued.unsigned_area() / sum - 1.0).abs() < 1e-6,
            "{} {sum}: they overlap",
            glued.unsigned_area()
        );
        let told: f64 = case
            .alike
            .iter()
            .map(|it| f64::from(it.kind.count) * it.segment.area_mm2())
            .sum();
        assert!((told / sum - 1.0).abs() < 1e-9);
        // Circle, hole and swing, from the corners and the nearest points of the edges.
        let radii = |at: usize| pieces.iter().map(move |it| it[at].0.hypot(it[at].1));
        let hole = radii(0).chain(radii(3)).fold(0.0, f64::max);
        let swing = radii(1).chain(radii(2)).fold(0.0, f64::max);
        let flat = pieces
            .iter()
            .map(|it| f64::midpoint(it[1].0, it[2].0).hypot(f64::midpoint(it[1].1, it[2].1)));
        let circle = flat.fold(f64::MAX, f64::min);
        let widest = &case.alike[0].segment;
        assert!((circle - widest.largest_circle_mm / 2.0).abs() < 1e-9);
        assert!(
            (hole - widest.smallest_hole_mm / 2.0).abs() < 1e-9,
            "{hole}"
        );
        assert!(widest.across_corners_mm / 2.0 > swing - 1e-9);
        assert!(circle > wanted.outside_radius_mm - 1e-9);
        assert!(hole < wanted.inside_radius_mm + 1e-9);
        if wanted.spacer_mm > 0.0 {
            // Faces of neighbours are parallel, and a spacer apart all along.
            apart += 1;
            for (at, own) in pieces.iter().enumerate() {
                let next = &pieces[(at + 1) % pieces.len()];
                let (x, y) = (own[2].0 - own[3].0, own[2].1 - own[3].1);
                for corner in [next[0], next[1]] {
                    let (dx, dy) = (corner.0 - own[3].0, corner.1 - own[3].1);
                    let off = (x * dy - y * dx) / x.hypot(y);
                    assert!((off - wanted.spacer_mm).abs() < 1e-7, "{off}");
                }
            }
        } else {
            let rough = [circle, hole].map(|radius| {
                let corner = |at: u32| {
                    let (sine, cosine) = (TAU * f64::from(at) / 720.0).sin_cos();
                    (radius * cosine, radius * sine)
                };
                polygon(&(0..720).map(corner).collect::<Vec<_>>())
            });
            let ring = rough[0].difference(&rough[1]);
            let missing = ring.difference(&glued).unsigned_area();
            // The chords of the hole's polygon lie inside it.
            let sagged = PI * hole * hole - rough[1].unsigned_area();
            assert!(missing < sagged + 1e-6 * sum, "{missing} {sagged}");
        }
    }
    println!("{unlike} of unlike segments, {apart} with spacers");
    assert!(unlike > 700 && apart > 150);
}

/// Where the round says that segments stand is where they were placed.
#[test]
fn each_direction_is_that_of_its_segment() {
    for case in cases(300, 12) {
        let round = Round::new(case.wanted.segment_count, &case.shares, case.turn);
        for (at, (middle, half)) in case.stand().into_iter().enumerate() {
            let at = at as u32;
            assert!((round.middle_rad(at) - middle).abs() < 1e-9);
            assert!((round.half_angle_rad(at) - half).abs() < 1e-12);
            for share in [-0.99, 0.0, 0.99] {
                let direction = middle + share * half;
                for turns in [-TAU, 0.0, TAU] {
                    assert_eq!(round.segment_at(direction + turns), at);
                }
            }
        }
    }
}

/// A caliper over random rings of unlike segments: the circle told is never larger, the hole
/// never smaller than it is; where like flats face each other both are exact.
#[test]
fn a_caliper_reading_never_flatters() {
    let mut tried = 0;
    for case in cases(400, 13)
        .iter()
        .filter(|it| it.wanted.spacer_mm == 0.0)
    {
        let round = Round::new(case.wanted.segment_count, &case.shares, case.turn);
        let pieces = case.pieces();
        let widest = &case.alike[0].segment;
        let (apothem, hole) = (widest.outside.apothem_mm, widest.smallest_hole_mm / 2.0);
        let outside = || pieces.iter().flat_map(|it| [it[1], it[2]]);
        let width = |turn: f64| {
            let along = outside().map(|(x, y)| x * turn.cos() + y * turn.sin());
            let ends = along.fold((f64::MAX, f64::MIN), |at, it| (at.0.min(it), at.1.max(it)));
            ends.1 - ends.0
        };
        // From the axis to the wood of the hole, along a direction: the nearest edge.
        let inward = |turn: f64| {
            let at = round.segment_at(turn);
            let off = (turn - round.middle_rad(at)).cos();
            widest.inside_apothem_mm / off
        };
        for (middle, half) in case.stand() {
            let readings = if round.is_even() {
                let odd = half * f64::from(round.count() % 2);
                vec![
                    (
                        Across::Flats,
                        width(middle),
                        inward(middle) + inward(middle + PI),
                    ),
                    (
                        Across::Corners,
                        width(middle + half - odd / 2.0),
                        if odd > 0.0 {
                            2.0 * hole * (half / 2.0).cos()
                        } else {
                            2.0 * hole
                        },
                    ),
                ]
            } else {
                let all = [0.0, half / 2.0, half];
                let both = |off: f64| {
                    let turn = middle + off;
                    (width(turn), inward(turn) + inward(turn + PI))
                };
                let each = all.map(both).into_iter();
                each.flat_map(|(out, hole)| {
                    [Across::Flats, Across::Corners].map(|across| (across, out, hole))
                })
                .collect()
            };
            for (across, out, within) in readings {
                let circle = circle_radius_mm(out, across, &round);
                let told = hole_radius_mm(within, across, &round);
                assert!(
                    circle < apothem + 1e-6,
                    "{across:?} {circle} {apothem} {round:?}"
                );
                assert!(told > hole - 1e-6, "{across:?} {told} {hole} {round:?}");
                if round.is_even() {
                    assert!(circle > apothem - 1e-6 && told < hole + 1e-6, "{round:?}");
                }
                tried += 1;
            }
        }
    }
    assert!(tried > 10_000, "{tried}");
}

/// A polygon of equal flats says the same as the closed forms for these.
#[test]
fn a_polygon_is_what_its_closed_form_says() {
    let mut dice = Dice(14);
    for _ in 0..400 {
        let count = dice.count(3, 48);
        let (radius, joint) = (dice.between(20.0, 200.0), dice.between(-4.0, 4.0));
        let step = TAU / f64::from(count);
        let aside = if dice.one_in(2.0) {
            0.0
        } else {
            dice.between(0.0, step * 0.4)
        };
        let closed = Outline::Corners(Corners {
            radius_mm: radius,
            count,
            joint_rad: joint,
            aside_rad: aside,
        });
        let at = |place: u32| {
            let middle = joint + step * f64::from(place);
            [(radius, middle - aside), (radius, middle + aside)]
        };
        let open = Outline::Unlike(Outside::new((0..count).flat_map(at)));
        let is_near = |one: f64, other: f64| (one - other).abs() < 1e-7 * radius;
        assert!(is_near(closed.farthest_mm(), open.farthest_mm()));
        for _ in 0..20 {
            let direction = dice.between(-10.0, 10.0);
            assert!(is_near(
                closed.reach_mm(direction),
                open.reach_mm(direction)
            ));
            let to = dice.between(-10.0, 10.0);
            let ways = [&closed, &open].map(|it| it.round_mm(to) - it.round_mm(direction));
            assert!(is_near(ways[0], ways[1]), "{ways:?}");
            let sideways = dice.between(-radius * 0.5, radius * 0.4);
            let slot = [sideways, sideways + dice.between(0.5, 6.0)];
            let tops = [&closed, &open].map(|it| it.top_mm(direction, slot));
            assert!(is_near(tops[0].unwrap(), tops[1].unwrap()));
        }
    }
}

/// A bowl whose second ring is shared two to one, wide of one wood and narrow of another.
fn bowl() -> Design {
    let plain = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    share_unevenly(&plain, 1, 1)
}

/// Each kind stands on the bill with its own setting, stop and wood.
#[test]
fn each_kind_has_its_setting_stop_and_count() {
    let plan = plan(&bowl());
    let ring = &plan.stack().unwrap().vessel.rings[1];
    let count = ring.segment_count / 2;
    let narrow = PI / f64::from(ring.segment_count) * 2.0 / 3.0;
    let apothem = plan.stack().unwrap().rings[1]
        .segment
        .unwrap()
        .outside
        .apothem_mm;
    let cuts = plan.bill().iter().filter(|cut| cut.rings() == [1]);
    let mut found: Vec<(String, f64, f64, u32)> = cuts
        .filter_map(|cut| match cut.piece {
            Piece::Segment(it, _) => Some((
                cut.wood.clone().unwrap(),
                it.outside.half_angle_rad,
                it.outside.long_edge_mm,
                cut.count,
            )),
            _ => None,
        })
        .collect();
    found.sort_by(|one, other| one.1.total_cmp(&other.1));
    assert_eq!(found.len(), 2);
    for (own, (wood, half)) in found
        .iter()
        .zip([("Purpleheart", narrow), ("Maple, sugar", 2.0 * narrow)])
    {
        assert_eq!((own.0.as_str(), own.3), (wood, count));
        assert!((own.1 - half).abs() < 1e-12);
        assert!((own.2 - 2.0 * apothem * half.tan()).abs() < 1e-9);
    }
}

/// Where the mass lies, by the centers of placed polygons (`geo`), and what the ring weighs.
#[test]
fn mass_and_balance_follow_the_placed_pieces() {
    let mut dice = Dice(15);
    let mut off_center = 0.0_f64;
    for _ in 0..60 {
        let mut design = bowl();
        let vessel = design.vessel.as_mut().unwrap();
        vessel.woods = ["Maple, sugar", "Walnut, black"]
            .map(str::to_owned)
            .to_vec();
        let ring = &mut vessel.rings[1];
        ring.segment_count = dice.count(6, 20);
        ring.shares = (0..dice.count(2, 5)).map(|_| dice.count(1, 5)).collect();
        ring.pattern = (0..dice.count(1, 5)).map(|_| dice.count(0, 1)).collect();
        ring.turn_half_segments = dice.count(0, 5);
        let stack = stack_of(&design);
        let (ring, planned) = (&stack.vessel.rings[1], &stack.rings[1]);
        if planned.segment.is_none() {
            continue;
        }
        let case = Case {
            wanted: planned.wanted,
            shares: ring.shares.clone(),
            turn: ring.turn_half_segments,
            alike: planned.alike.clone(),
        };
        let density = |wood: usize| {
            let name = &stack.vessel.woods[wood];
            ringwright::trade::wood::find(name)
                .unwrap()
                .density_kg_m3()
                .unwrap()
                * 1e-9
        };
        let high = planned.segment.unwrap().strip_height_mm;
        let (mut mass, mut ahead, mut aside) = (0.0, 0.0, 0.0);
        for (at, piece) in case.pieces().iter().enumerate() {
            let shape = polygon(piece);
            let center = shape.centroid().unwrap();
            let own = shape.unsigned_area() * high * density(ring.wood_of(at as u32));
            (mass, ahead, aside) = (
                mass + own,
                ahead + own * center.x(),
                aside + own * center.y(),
            );
        }
        let told = ring_balance(&stack, 1).unwrap();
        assert!((told.mass_kg / mass - 1.0).abs() < 1e-9);
        let reach = mass * planned.reach_mm;
        assert!((told.ahead_kg_mm - ahead).abs() < 1e-9 * reach);
        assert!((told.aside_kg_mm - aside).abs() < 1e-9 * reach);
        off_center = off_center.max(ahead.hypot(aside) / reach);
        assert!((stack.ring(1).unwrap().weight_kg.unwrap() / mass - 1.0).abs() < 1e-9);
    }
    assert!(off_center > 0.01, "{off_center}");
}

/// What glue covers between two rings, and in a ring's own joints.
#[test]
fn glue_covers_what_lies_on_each_other() {
    let mut dice = Dice(16);
    for _ in 0..40 {
        let mut design = bowl();
        let vessel = design.vessel.as_mut().unwrap();
        for ring in &mut vessel.rings[1..=2] {
            ring.segment_count = dice.count(6, 20);
            ring.shares = (0..dice.count(2, 4)).map(|_| dice.count(1, 5)).collect();
            ring.turn_half_segments = dice.count(0, 5);
            ring.between = if dice.one_in(2.0) {
                Between::Gap
            } else {
                Between::Nothing
            };
            ring.spacer_mm = dice.between(0.5, 2.0);
        }
        let stack = stack_of(&design);
        if stack.rings[1..=2].iter().any(|it| it.segment.is_none()) {
            continue;
        }
        let placed = |place: usize| {
            let (ring, planned) = (&stack.vessel.rings[place], &stack.rings[place]);
            let case = Case {
                wanted: planned.wanted,
                shares: ring.shares.clone(),
                turn: ring.turn_half_segments,
                alike: planned.alike.clone(),
            };
            case.pieces()
        };
        let wood =
            |place: usize| MultiPolygon::new(placed(place).iter().map(|it| polygon(it)).collect());
        let brute = wood(1).intersection(&wood(2)).unsigned_area();
        let told = stack.glue_between_mm2(1, 2);
        assert!((told / brute - 1.0).abs() < 1e-6, "{told} {brute}");
        let ring: &StackRing = &stack.vessel.rings[1];
        if ring.between == Between::Nothing {
            // Each face's length along the plane that both neighbours share.
            let pieces = placed(1);
            let faces = pieces.iter().enumerate().map(|(at, own)| {
                let next = &pieces[(at + 1) % pieces.len()];
                let along = |it: (f64, f64)| it.0.hypot(it.1);
                let (from, to) = (
                    along(own[3]).max(along(next[0])),
                    along(own[2]).min(along(next[1])),
                );
                to - from
            });
            let high = stack.rings[1].segment.unwrap().strip_height_mm;
            let brute: f64 = faces.sum::<f64>() * high;
            let told = ring_glue_mm2(ring, &stack.rings[1]);
            assert!((told / brute - 1.0).abs() < 1e-9, "{told} {brute}");
        }
    }
}

/// What cannot be is said at its field, and nothing typed is lost.
#[test]
fn shares_are_read_as_they_are_typed() {
    let key = "vessel.rings.1.shares";
    let design = bowl();
    let shares = |typed: &str| {
        let next = ringwright::edit::type_in(&design, key, typed);
        next.map(|it| it.vessel.unwrap().rings[1].shares.clone())
    };
    for typed in ["3 1", "3:1", " 3, 1 ", "3/1", "3;1"] {
        assert_eq!(shares(typed), Ok(vec![3, 1]), "{typed}");
    }
    for typed in ["", "1", "2 2", "5 5 5"] {
        assert_eq!(shares(typed), Ok(vec![]), "{typed}");
    }
    for typed in ["0 1", "2.5 1", "10 1", "wide", "2 -1", &"1 2 ".repeat(13)] {
        assert!(shares(typed).is_err(), "{typed}");
    }
}

/// Segments from a striped board are all alike: widths that were said are told at their field,
/// kept, and used again once the stripes are gone.
#[test]
fn widths_of_a_striped_ring_are_refused_at_their_field() {
    use ringwright::edit::{round, stripe};
    let uneven = share_unevenly(&bowl(), 1, 0);
    let striped = stripe::stripe(&uneven, 1, 1, "chevron").unwrap();
    let told = |design: &Design| {
        let stack = stack_of(design);
        let told = stack.troubles.iter();
        let told = told.map(|it| ringwright::show::words::trouble(it, design.unit));
        told.map(|it| (it.field, it.reason)).collect::<Vec<_>>()
    };
    let found = told(&striped);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].0, "vessel.rings.1.shares");
    assert!(
        found[0].1.contains("striped board are all alike"),
        "{found:?}"
    );
    let ring = |design: &Design| design.vessel.as_ref().unwrap().rings[1].clone();
    assert_eq!(ring(&striped).shares, [2, 1]);
    // All of them are sawn at one stop.
    assert_eq!(stack_of(&striped).rings[1].alike.len(), 1);
    assert_eq!(told(&round::share_evenly(&striped, 1)), []);
    let mut plain = striped.clone();
    plain.vessel.as_mut().unwrap().rings[1].stripes = None;
    assert_eq!(told(&plain), []);
    assert_eq!(stack_of(&plain).rings[1].alike.len(), 2);
}
