//! Slots through a stack, held against an independent route: the rings' segments are
//! placed one by one, the stack is laid on a table and turned by the gauge, and a blade
//! takes away voxels. Closed forms and the trade's habits beside it.
#![cfg(not(target_arch = "wasm32"))]

use ringwright::trade::outline::{Corners, Outline};
use ringwright::trade::spline::{
    Cut, Layer, Level, Slots, Stack, Wished, zigzag_count, zigzag_rad,
};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

mod shared;
use shared::sawn::{Case, Saw, case, saw, tilt};
use shared::{Dice, stack_of};

const VOXEL: f64 = 0.4;
const FINE: f64 = 0.1;

/// The least wood under the blade, and whether it comes through, by counting voxels.
fn bridge_by_voxels(case: &Case, saw: &Saw) -> (f64, bool) {
    let half = case.stack.height_mm() / 2.0;
    let cells = |from: f64, to: f64| {
        let count = ((to - from) / VOXEL).ceil() as i32;
        (0..count).map(move |cell| from + (f64::from(cell) + 0.5) * VOXEL)
    };
    let (mut least, mut is_through) = (f64::MAX, false);
    for z in cells(-half, half) {
        for right in cells(-44.0, 44.0) {
            let place = |down: f64| saw.in_piece([down, right, z]);
            let beside = [0.0, saw.table].map(|down| saw.on_blade(place(down))[0]);
            let (least_beside, most) = (beside[0].min(beside[1]), beside[0].max(beside[1]));
            if least_beside > saw.kerf / 2.0 || most < -saw.kerf / 2.0 {
                continue;
            }
            // What the blade takes above this place on the table.
            let steps = (saw.table / FINE) as u32;
            let taken = (0..steps).map(|step| (f64::from(step) + 0.5) * FINE);
            let taken: Vec<f64> = taken.filter(|down| saw.takes(place(*down))).collect();
            let Some(tip) = taken.first().map(|down| down - FINE / 2.0) else {
                continue;
            };
            // From there toward the axis: wood, perhaps a gap between two
            // segments, and wood again until the hole.
            let mut left = 0.0;
            let mut has_wood = false;
            for step in 0..200 {
                let down = tip - (f64::from(step) + 0.5) * VOXEL;
                if down < 0.0 {
                    break;
                }
                if !case.glued.iter().any(|ring| ring.holds(place(down))) {
                    continue;
                }
                has_wood = true;
                left = if down < VOXEL {
                    f64::MAX
                } else {
                    f64::from(step + 1) * VOXEL
                };
            }
            let was_wood = taken
                .iter()
                .any(|down| case.glued.iter().any(|ring| ring.holds(place(*down))));
            if has_wood || was_wood {
                least = least.min(left);
            }
            is_through |= was_wood && !has_wood;
        }
    }
    (least, is_through)
}

#[test]
fn the_bridge_is_that_of_sawn_voxels() {
    let mut dice = Dice(41);
    let (mut through, mut held, mut beside) = (0, 0, 0);
    for number in 0..48 {
        let case = case(&mut dice);
        let deepest = case.stack.bridge_mm(&case.slots, 0.0);
        let blade = deepest - dice.between(-3.0, 6.0);
        // Sawn direction by direction, then the worst.
        let mut least = f64::MAX;
        let mut is_through = false;
        for direction in case.slots.directions() {
            let saw = saw(&case, direction, blade);
            assert!(
                (saw.table - case.stack.table_mm(direction)).abs() < 1e-9,
                "{number}"
            );
            let (left, comes_through) = bridge_by_voxels(&case, &saw);
            least = least.min(left);
            is_through |= comes_through;
        }
        // A tilted blade may pass beside the hole: then nothing says how much is left.
        if least > 1e9 && case.slots.tilt_rad != 0.0 {
            beside += 1;
            continue;
        }
        let said = case.stack.bridge_mm(&case.slots, blade);
        if said > VOXEL {
            assert!(
                !is_through,
                "{number}: {said} left, but the blade comes through"
            );
            assert!(
                (least - said).abs() <= 2.0 * VOXEL,
                "{number}: {said} against {least}"
            );
            held += 1;
        } else if said < -VOXEL {
            assert!(
                is_through,
                "{number}: {said} past the hole, but {least} is left"
            );
            through += 1;
        }
    }
    assert!(through > 5 && held > 20, "{through} through, {held} held");
    assert!(beside < 4, "{beside} beside the hole");
}

/// Of a finished surface at a height: whether the kerf shows in full, and at all.
fn seen_at(saw: &Saw, z: f64, radius: f64) -> (bool, bool) {
    let steps = 8000;
    let (mut is_cut_all, mut is_cut_any) = (true, false);
    let mut widest = [f64::MAX, f64::MIN];
    for step in 0..=steps {
        // The half of the surface at which the blade comes first.
        let around = PI * (2.0 * f64::from(step) / f64::from(steps) - 1.0);
        let at = [radius * around.cos(), radius * around.sin()];
        let place = saw.in_piece([at[0], at[1], z]);
        if saw.in_kerf(place) && saw.before_axis(at) > 0.0 {
            let across = saw.on_blade(place)[0];
            widest = [widest[0].min(across), widest[1].max(across)];
            let is_cut = saw.takes(place);
            is_cut_all &= is_cut;
            is_cut_any |= is_cut;
        }
    }
    let fine = radius * PI / f64::from(steps) * 4.0;
    let is_full = widest[1] - widest[0] > saw.kerf - fine;
    (is_cut_all && is_full, is_cut_any)
}

#[test]
fn what_shows_is_what_the_blade_takes_from_the_finished_wall() {
    let mut dice = Dice(7);
    let mut seen = [0; 6];
    for number in 0..60 {
        let case = case(&mut dice);
        let table = case.stack.table_mm(case.slots.first_rad);
        let bottoms = case.stack.bottoms(&case.slots, table);
        let blade = dice.between(3.0, 24.0);
        let saw = saw(&case, case.slots.first_rad, blade);
        let bottom = table - blade;
        let mut outside = true;
        let mut inside = true;
        let mut any_inside = false;
        for level in &case.stack.wall {
            outside &= seen_at(&saw, level.z_mm, level.outside_mm).0;
            let (full, any) = seen_at(&saw, level.z_mm, level.inside_mm);
            inside &= full;
            any_inside |= any;
        }
        let all_inside = bottoms.inside_mm.unwrap();
        for (kind, limit, is_seen, is_said) in [
            (0, bottoms.outside_mm, outside, bottom <= bottoms.outside_mm),
            (2, all_inside, inside, bottom <= all_inside),
            (
                4,
                bottoms.hidden_mm,
                !any_inside,
                bottom >= bottoms.hidden_mm,
            ),
        ] {
            // Nearer than the samples stand apart nothing can be said.
            if (bottom - limit).abs() > 0.1 {
                assert_eq!(
                    is_said, is_seen,
                    "{number}.{kind}: {bottom} against {limit}"
                );
                seen[kind + usize::from(is_seen)] += 1;
            }
        }
    }
    assert!(
        seen.iter().all(|count| *count > 4),
        "every outcome occurs: {seen:?}"
    );
}

#[test]
fn the_strip_on_a_surface_is_what_the_blade_takes_from_it() {
    let mut dice = Dice(99);
    let mut shown = 0;
    for _ in 0..3000 {
        let case = case(&mut dice);
        let saw = saw(&case, case.slots.first_rad, dice.between(3.0, 24.0));
        let z = case.stack.height_mm() * dice.between(-0.5, 0.5);
        let radius = dice.between(10.0, 26.0);
        let said = case.slots.shown(z, radius, &saw.cut());
        shown += u32::from(said.is_some());
        for _ in 0..60 {
            let around = dice.between(-FRAC_PI_2, FRAC_PI_2);
            let at = [radius * around.cos(), radius * around.sin()];
            let place = saw.in_piece([at[0], at[1], z]);
            // Where the blade comes out again there is no wood any more.
            if saw.before_axis(at) <= 0.0 {
                continue;
            }
            let ends = said.unwrap_or([f64::MAX; 2]);
            if ends.iter().any(|end| (end - around).abs() < 1e-9) {
                continue;
            }
            let is_within = (ends[0]..ends[1]).contains(&around);
            assert_eq!(is_within, saw.takes(place), "{around} in {said:?}");
            assert_eq!(case.slots.holds(&saw.cut(), place), saw.takes(place));
        }
    }
    assert!(shown > 500, "{shown}");
}

/// The shader's own lines (`web/three.rs`), from the numbers that it gets for strips of one
/// wood: a half in the twelfth says that four more follow, of a tilted slot.
fn shader_holds(numbers: &[f32], [x, y, z]: [f64; 3]) -> bool {
    let each = if numbers[11].fract() > 0.2 { 16 } else { 12 };
    numbers.chunks_exact(each).any(|of| {
        let mut of: Vec<f64> = of.iter().map(|number| f64::from(*number)).collect();
        of.resize(16, 0.0);
        let up = z - of[0];
        let (aside, radius) = (of[12] + up * of[3], x.hypot(y));
        if z < of[1] || z > of[2] || aside.abs() - of[4] > radius {
            return false;
        }
        let lean = (aside / radius).clamp(-1.0, 1.0).asin();
        let apart = x.atan2(-y) - of[6] - lean;
        let apart = apart + lean - of[7] * (apart / of[7]).round();
        let sideways = radius * apart.sin() - aside;
        let bottom = of[5] + of[13] * up + of[14] * sideways;
        sideways.abs() <= of[4] && radius * apart.cos() >= bottom
    })
}

/// A set through a vessel as the turner sets it, with the stack left flat or round: what
/// the graphics get puts the same places into strips as the blade takes from the stack.
#[test]
fn the_graphics_put_the_strips_where_the_blade_went() {
    use ringwright::design::{Design, SlotSet, StackIs};
    let mut dice = Dice(31);
    let mut in_strips = 0;
    for number in 0..30 {
        let mut design = ringwright::edit::start::begin(&Design::default(), "closed", 200.0, 130.0);
        let vessel = design.vessel.as_mut().unwrap();
        let mut set = SlotSet::plain(3, 4);
        set.slot_count = dice.count(1, 9);
        set.beside_count = 1 + set.slot_count % 3;
        set.gauge_deg = dice.between(0.0, 50.0);
        set.further_deg = dice.between(-180.0, 180.0);
        set.blade_mm = Some(dice.between(4.0, 20.0));
        set.tilt_deg = [0.0, dice.between(-35.0, 35.0)][dice.count(0, 1) as usize];
        if number % 2 == 0 {
            set.stack_is = StackIs::LeftFlat;
        }
        vessel.slot_sets = vec![set];
        let plan = stack_of(&design);
        let own = plan.slot_sets[0].as_ref().unwrap();
        let numbers = ringwright::show::mesh::inlaid::strips(&plan);
        let half = own.stack.height_mm() / 2.0;
        // Overlapping slots are one hole for the blade; the shader asks the nearest one.
        if own.between_mm <= 0.0 {
            continue;
        }
        for _ in 0..4000 {
            let (radius, around) = (dice.between(60.0, 105.0), dice.between(0.0, TAU));
            let z = dice.between(-half - 5.0, half + 5.0);
            let place = [radius * around.sin(), -radius * around.cos(), z];
            let is_near = |shift: f64| {
                let wider = Slots {
                    kerf_mm: own.slots.kerf_mm + 2.0 * shift,
                    ..own.slots
                };
                own.cuts.iter().any(|cut| {
                    let deeper = Cut {
                        bottom_mm: cut.bottom_mm - shift,
                        ..*cut
                    };
                    wider.holds(&deeper, place)
                })
            };
            let is_taken = is_near(0.0) && z.abs() <= half;
            // Single precision: leave out what lies on an edge.
            if is_near(0.01) != is_near(-0.01) || (z.abs() - half).abs() < 0.01 {
                continue;
            }
            in_strips += u32::from(is_taken);
            let in_vessel = [place[0], place[1], z + own.middle_mm];
            assert_eq!(
                shader_holds(&numbers, in_vessel),
                is_taken,
                "{number}: {place:?}"
            );
        }
    }
    assert!(in_strips > 500, "{in_strips}");
}

/// A stack of one round ring with a round hole.
fn plain(radius: f64, hole: f64, height: f64, finished: [f64; 2]) -> Stack {
    let level = |z_mm| Level {
        z_mm,
        outside_mm: finished[0],
        inside_mm: finished[1],
    };
    Stack {
        layers: vec![Layer {
            from_mm: -height / 2.0,
            to_mm: height / 2.0,
            outside: Outline::Round(radius),
            hole: Some(Outline::Round(hole)),
        }],
        wall: vec![level(-height / 2.0), level(0.0), level(height / 2.0)],
    }
}

/// A slot in front whose bottom is so far from the axis, under a table at 100 mm.
fn cut(bottom_mm: f64) -> Cut {
    Cut {
        direction_rad: 0.0,
        table_mm: 100.0,
        bottom_mm,
    }
}

/// An upright slot is a plain radial one: its corners lie k/2 beside the radius, so on a
/// circle of r it is full from sqrt(r² − k²/4) on (Pythagoras).
#[test]
fn an_upright_slot_is_a_plain_radial_one() {
    let stack = plain(100.0, 80.0, 60.0, [97.0, 88.0]);
    let slots = Slots {
        count: 3,
        beside: 1,
        apart_rad: 0.0,
        gauge_rad: 0.0,
        tilt_rad: 0.0,
        kerf_mm: 4.0,
        first_rad: 0.3,
    };
    let bottoms = stack.bottoms(&slots, 100.0);
    assert!((bottoms.outside_mm - (97.0_f64.powi(2) - 4.0).sqrt()).abs() < 1e-12);
    assert!((bottoms.inside_mm.unwrap() - (88.0_f64.powi(2) - 4.0).sqrt()).abs() < 1e-12);
    assert!((bottoms.hidden_mm - 88.0).abs() < 1e-12);
    assert!(
        (stack.bridge_mm(&slots, 15.0) - 5.0).abs() < 1e-12,
        "100 − 15 − 80"
    );
    assert!((stack.strip_length_mm(&slots, 15.0) - 60.0).abs() < 1e-9);
    let window = stack.window(
        &slots,
        Wished {
            inside_too: true,
            is_partly: false,
            bridge_mm: 4.0,
        },
    );
    assert!((window.bridge_mm - 16.0).abs() < 1e-12);
    assert!((window.least_mm - (100.0 - (88.0_f64.powi(2) - 4.0).sqrt())).abs() < 1e-12);
    let [from, to] = slots.shown(12.0, 97.0, &cut(85.0)).unwrap();
    assert!((from + to).abs() < 1e-12 && (to - (2.0_f64 / 97.0).asin()).abs() < 1e-12);
}

/// The blade raised past the axis: the slot goes right through and shows all round the
/// near half, and nothing is left to hold.
#[test]
fn a_depth_past_the_hole_leaves_no_bridge() {
    let stack = plain(100.0, 80.0, 60.0, [97.0, 88.0]);
    let slots = Slots {
        count: 3,
        beside: 1,
        apart_rad: 0.0,
        gauge_rad: 0.4,
        tilt_rad: 0.0,
        kerf_mm: 4.0,
        first_rad: 0.3,
    };
    assert!(stack.bridge_mm(&slots, 20.0 + 1e-9) < 0.0);
    assert!((stack.bridge_mm(&slots, 130.0) + 110.0).abs() < 1e-9);
    assert!(slots.shown(0.0, 97.0, &cut(-30.0)).is_some());
}

/// A regular polygon's flat is R·cos(π/N) from the axis, its corner R (CRC Standard
/// Mathematical Tables and Formulas, 30th edition, Polygons).
#[test]
fn a_flat_and_a_corner_touch_the_table_at_their_own_distance() {
    let half = PI / 8.0;
    let outline = Outline::Corners(Corners {
        radius_mm: 50.0,
        count: 8,
        joint_rad: half,
        aside_rad: 0.0,
    });
    assert!((outline.reach_mm(half) - 50.0).abs() < 1e-12);
    assert!((outline.reach_mm(0.0) - 50.0 * half.cos()).abs() < 1e-12);
    assert!((outline.reach_mm(-3.0 * half) - 50.0).abs() < 1e-12);
    let flat = outline.top_mm(0.0, [-1.0, 1.0]).unwrap();
    assert!((flat - 50.0 * half.cos()).abs() < 1e-12);
    assert!((outline.top_mm(half, [-1.0, 1.0]).unwrap() - 50.0).abs() < 1e-12);
    assert!(outline.top_mm(half, [50.1, 60.0]).is_none());
}

/// Two sets that meet in a zigzag come to the same place of the outside at both ends:
/// there the strip of one slot and that of its neighbour have the same direction.
#[test]
fn a_zigzag_meets_end_to_end() {
    let mut dice = Dice(3);
    for _ in 0..2000 {
        let count = dice.count(2, 24);
        let (height, radius) = (dice.between(20.0, 120.0), dice.between(40.0, 200.0));
        let gauge = zigzag_rad(count, height, [radius; 2]);
        let closed = (radius * (PI / f64::from(2 * count)).sin() / (height / 2.0)).atan();
        assert!((gauge - closed).abs() < 1e-9, "{gauge} against {closed}");
        assert!((zigzag_count(gauge, height, [radius; 2]) - f64::from(count)).abs() < 1e-6);
        let set = |gauge_rad: f64, first_rad: f64| Slots {
            count,
            beside: 1,
            apart_rad: 0.0,
            gauge_rad,
            tilt_rad: 0.0,
            kerf_mm: 0.02,
            first_rad,
        };
        let (one, other) = (set(gauge, 0.0), set(-gauge, PI / f64::from(count)));
        let middle = |slots: &Slots, z: f64| {
            let [from, to] = slots.shown(z, radius, &cut(0.0)).unwrap();
            slots.first_rad + f64::midpoint(from, to)
        };
        let top = middle(&one, height / 2.0) - middle(&other, height / 2.0);
        assert!(top.abs() < 1e-6, "{top}");
        // At the other end it meets the neighbour before it.
        let foot = middle(&other, -height / 2.0) - middle(&one, -height / 2.0);
        assert!((foot - one.step_rad()).abs() < 1e-6, "{foot}");
        // On a cone the two ends share the miss evenly: their sum is what it should be.
        let ends = [radius, radius * dice.between(0.6, 1.4)];
        let tangent = zigzag_rad(count, height, ends).tan() * height / 2.0;
        let sum: f64 = ends
            .iter()
            .map(|radius| (tangent / radius).min(1.0).asin())
            .sum();
        assert!((sum - PI / f64::from(count)).abs() < 1e-6 || tangent > ends[0].min(ends[1]));
    }
}

/// With the blade tilted too, those that lean the other way half a step on come to the same
/// places at both ends: followed on the surface as the blade takes it.
#[test]
fn a_zigzag_meets_with_the_blade_tilted() {
    let mut dice = Dice(17);
    let mut met = 0;
    for _ in 0..400 {
        let count = dice.count(5, 24);
        let (height, radius) = (dice.between(20.0, 60.0), dice.between(60.0, 96.0));
        let plain = Slots {
            count,
            beside: 1,
            apart_rad: 0.0,
            gauge_rad: 0.3,
            tilt_rad: dice.between(-0.4, 0.4),
            kerf_mm: 0.02,
            first_rad: 0.0,
        };
        let gauge_rad = plain.zigzag_rad(height, [radius; 2], 100.0);
        let seen = |gauge_rad: f64, z: f64| {
            let slots = Slots { gauge_rad, ..plain };
            let [from, to] = slots.shown(z, radius, &cut(-200.0))?;
            Some(f64::midpoint(from, to))
        };
        let end = height / 2.0;
        let ends = [
            (gauge_rad, end),
            (-gauge_rad, end),
            (gauge_rad, -end),
            (-gauge_rad, -end),
        ];
        let [Some(top), Some(other_top), Some(foot), Some(other_foot)] =
            ends.map(|(gauge, z)| seen(gauge, z))
        else {
            continue;
        };
        let half = PI / f64::from(count);
        assert!((other_top + half - top).abs() < 1e-4, "{plain:?}");
        assert!(
            (other_foot + half - (foot + 2.0 * half)).abs() < 1e-4,
            "{plain:?}"
        );
        let slots = Slots { gauge_rad, ..plain };
        let back = slots.zigzag_count(height, [radius; 2], 100.0);
        assert!((back - f64::from(count)).abs() < 1e-6, "{back}");
        met += 1;
    }
    assert!(met > 300, "{met}");
}

/// The strip must fill the slot from face to face: the farthest two corners of the
/// slot's parallelogram between the faces, along the slot.
#[test]
fn a_strip_reaches_from_face_to_face() {
    let mut dice = Dice(5);
    for _ in 0..1000 {
        let (height, kerf) = (dice.between(20.0, 60.0), dice.between(1.5, 5.0));
        let stack = plain(150.0, 100.0, height, [140.0, 120.0]);
        let slots = Slots {
            count: 3,
            beside: 1,
            apart_rad: 0.0,
            gauge_rad: dice.between(-0.7, 0.7),
            tilt_rad: tilt(&mut dice),
            kerf_mm: kerf,
            first_rad: 0.0,
        };
        let (sine, cosine) = slots.gauge_rad.sin_cos();
        let (tilt_sine, tilt_cosine) = slots.tilt_rad.sin_cos();
        let deep = (40.0 - kerf / 2.0 * tilt_sine.abs()) / tilt_cosine;
        let mut along = [f64::MAX, f64::MIN];
        for z in [-height / 2.0, height / 2.0] {
            for beside in [-kerf / 2.0, kerf / 2.0] {
                // Across the blade’s way: at the table, and at the teeth.
                let mouth = beside / tilt_cosine;
                let teeth = beside * tilt_cosine + deep * tilt_sine;
                for across in [mouth, teeth] {
                    let v = (across + z * sine) / cosine;
                    let place = v * sine + z * cosine;
                    along = [along[0].min(place), along[1].max(place)];
                }
            }
        }
        let said = stack.strip_length_mm(&slots, 40.0);
        assert!(
            (said - (along[1] - along[0])).abs() < 1e-9,
            "{said} {along:?}"
        );
    }
}

/// A round hole is as one of very many corners, however the blade comes to it.
#[test]
fn a_round_hole_is_one_of_many_corners() {
    let mut dice = Dice(23);
    let mut open = 0;
    for _ in 0..300 {
        let round = plain(100.0, dice.between(70.0, 85.0), 50.0, [97.0, 90.0]);
        let mut many = round.clone();
        let Some(Outline::Round(radius_mm)) = round.layers[0].hole else {
            unreachable!()
        };
        many.layers[0].hole = Some(Outline::Corners(Corners {
            radius_mm,
            count: 2000,
            joint_rad: 0.0,
            aside_rad: 0.0,
        }));
        let slots = Slots {
            count: 1,
            beside: 1,
            apart_rad: 0.0,
            gauge_rad: dice.between(-0.6, 0.6),
            tilt_rad: tilt(&mut dice),
            kerf_mm: dice.between(1.6, 5.0),
            first_rad: dice.between(0.0, TAU),
        };
        let blade = dice.between(5.0, 25.0);
        let [one, other] = [&round, &many].map(|it| it.bridge_mm(&slots, blade));
        assert!((one - other).abs() < 1e-3, "{one} {other} {slots:?}");
        let wished = Wished {
            inside_too: false,
            is_partly: false,
            bridge_mm: 5.0,
        };
        let [one, other] = [&round, &many].map(|it| it.window(&slots, wished));
        assert!((one.bridge_mm - other.bridge_mm).abs() < 1e-3);
        open += u32::from(one.middle_mm().is_some());
    }
    assert!(open > 30, "{open}");
}

/// Slots so many that they overlap: seen from the axis each takes its width at the
/// bottom, and there is no more than a full turn.
#[test]
fn too_many_slots_run_into_each_other() {
    let stack = plain(60.0, 30.0, 20.0, [58.0, 50.0]);
    let slots = |count| Slots {
        count,
        beside: 1,
        apart_rad: 0.0,
        gauge_rad: 0.0,
        tilt_rad: 0.0,
        kerf_mm: 4.0,
        first_rad: 0.0,
    };
    let most = PI / (2.0_f64 / 45.0).atan();
    assert!(stack.between_mm(&slots(most.floor() as u32), 15.0) > 0.0);
    assert!(stack.between_mm(&slots(most.ceil() as u32), 15.0) < 0.0);
    // Three slots of a leaning set, point by point: no place is in two of them.
    let mut dice = Dice(13);
    for _ in 0..400 {
        let (places, beside) = (dice.count(2, 20), dice.count(1, 3));
        let slots = Slots {
            count: places * beside,
            beside,
            // Now and then so far that they run into those of the next place.
            apart_rad: TAU / f64::from(places * beside) * dice.between(0.3, 1.5),
            gauge_rad: dice.between(-0.6, 0.6),
            tilt_rad: tilt(&mut dice) / 2.0,
            kerf_mm: dice.between(2.0, 6.0),
            first_rad: 0.0,
        };
        let blade = dice.between(5.0, 28.0);
        let cuts = stack.cuts(&slots, blade);
        let mut shared = 0;
        for _ in 0..3000 {
            let (radius, around) = (dice.between(32.0, 60.0), dice.between(0.0, TAU));
            let z = if dice.roll() < 0.5 { -10.0 } else { 10.0 };
            let place = [radius * around.sin(), -radius * around.cos(), z];
            let inside = |cut: &&Cut| slots.holds(cut, place);
            shared += u32::from(cuts.iter().filter(inside).count() > 1);
        }
        let left = stack.between_mm(&slots, blade);
        assert!(left < 0.0 || shared == 0, "{left} mm left, {shared} shared");
        assert!(left > -1.5 || shared > 0, "{left} mm left, nothing shared");
    }
}

/// What turners do (common practice, no published source): three slots a set at 120°,
/// a 1/8 in kerf, 30° on the gauge, and less depth than the ring is thick, so that the
/// stack stays whole for the next clamping.
#[test]
fn the_trades_habits_come_out() {
    let inch = 25.4;
    let stack = plain(
        4.0 * inch,
        3.0 * inch,
        1.5 * inch,
        [3.875 * inch, 3.5 * inch],
    );
    let slots = Slots {
        count: 3,
        beside: 1,
        apart_rad: 0.0,
        gauge_rad: 30_f64.to_radians(),
        tilt_rad: 0.0,
        kerf_mm: inch / 8.0,
        first_rad: 0.0,
    };
    assert!((slots.step_rad().to_degrees() - 120.0).abs() < 1e-12);
    assert!(
        stack.bridge_mm(&slots, 0.99 * inch) > 0.0,
        "less than the ring is thick"
    );
    assert!(stack.bridge_mm(&slots, 1.01 * inch) < 0.0);
    let window = stack.window(
        &slots,
        Wished {
            inside_too: true,
            is_partly: false,
            bridge_mm: 3.0 * inch / 16.0,
        },
    );
    let middle = window.middle_mm().expect("there is a window");
    assert!(middle < inch && window.room_mm() > 0.0, "{window:?}");
    // A window of no room is none; a slot that leans off the surface has none either.
    let deep = Wished {
        inside_too: true,
        is_partly: false,
        bridge_mm: inch,
    };
    assert_eq!(stack.window(&slots, deep).middle_mm(), None);
    let steep = Slots {
        gauge_rad: 89_f64.to_radians(),
        ..slots
    };
    let window = stack.window(
        &steep,
        Wished {
            inside_too: false,
            is_partly: false,
            bridge_mm: 1.0,
        },
    );
    assert!(window.leaves_surface && window.middle_mm().is_none());
}

/// Side by side they stand about their place, and the places evenly round.
#[test]
fn slots_side_by_side_stand_about_their_place() {
    let slots = Slots {
        count: 12,
        beside: 3,
        apart_rad: 0.1,
        gauge_rad: 0.0,
        tilt_rad: 0.0,
        kerf_mm: 3.0,
        first_rad: 0.25,
    };
    assert_eq!(slots.places(), 4);
    for (slot, direction) in slots.directions().enumerate() {
        let place = (slot / 3) as f64 * PI / 2.0 + 0.25;
        let aside = [-0.1, 0.0, 0.1][slot % 3];
        assert!((direction - place - aside).abs() < 1e-12);
    }
    // Half of them on is the one opposite, where places are even in number.
    let directions: Vec<f64> = slots.directions().collect();
    assert_eq!(slots.opposite(), Some(6));
    for slot in 0..6 {
        assert!((directions[slot + 6] - directions[slot] - PI).abs() < 1e-12);
    }
    assert_eq!(Slots { count: 15, ..slots }.opposite(), None);
    // Nearest is the next at the place, or the first of the next place.
    assert!((slots.nearest_rad() - 0.1).abs() < 1e-12);
    let wide = Slots {
        apart_rad: 0.7,
        ..slots
    };
    assert!((wide.nearest_rad() - (PI / 2.0 - 1.4)).abs() < 1e-12);
}
