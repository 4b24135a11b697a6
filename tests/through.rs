//! Slots through the whole wall, held against sawn voxels: that they come through and no
//! farther, and that what remains on the saw is one piece at every moment of the sawing.
#![cfg(not(target_arch = "wasm32"))]

use ringwright::trade::spline::{Slots, Stack};
use ringwright::trade::through::{between_discs, blade_mm, in_hole_mm, window};

mod shared;
use shared::Dice;
use shared::sawn::{Case, Saw, case, saw};

/// Finer than any kerf, so that no step from voxel to voxel leaps over a slot.
const VOXEL: f64 = 1.2;
const FINE: f64 = 0.3;

/// So much is looked at toward the axis from a slot's bottom.
const AT_BOTTOM: f64 = 0.8;

/// Stacks whose rings are glued on a face of 5 mm or more.
fn sound_case(dice: &mut Dice) -> Case {
    loop {
        let case = case(dice);
        let pairs = case.stack.layers.windows(2);
        let mut faces = pairs.map(|two| {
            let hole = |at: usize| two[at].hole.as_ref().unwrap().farthest_mm();
            let out = |at: usize| two[at].outside.least_mm();
            out(0).min(out(1)) - hole(0).max(hole(1))
        });
        if faces.all(|wide| wide > 5.0) {
            return case;
        }
    }
}

fn is_wood(case: &Case, place: [f64; 3]) -> bool {
    case.glued.iter().any(|ring| ring.holds(place))
}

/// How much wood there is right at a slot's bottom, by counting the kerf through; in cubic
/// millimeters. Farther on the wall across may come.
fn web_mm3(case: &Case, saw: &Saw) -> f64 {
    let half = case.stack.height_mm() / 2.0;
    let steps = |from: f64, to: f64| {
        let count = ((to - from) / FINE).ceil() as i32;
        (0..count).map(move |step| from + (f64::from(step) + 0.5) * FINE)
    };
    let raised = Saw {
        blade: saw.blade + AT_BOTTOM,
        ..*saw
    };
    let mut cells = 0_u32;
    for z in steps(-half, half) {
        for down in steps(0.0, saw.table) {
            // Sideways to where the blade's middle is, and a kerf on either side.
            let beside = |right: f64| saw.on_blade(saw.in_piece([down, right, z]))[0];
            let slope = beside(1.0) - beside(0.0);
            let middle = -beside(0.0) / slope;
            let reach = saw.kerf / 2.0 / slope.abs();
            for right in steps(middle - reach, middle + reach) {
                let place = saw.in_piece([down, right, z]);
                let is_left = saw.in_kerf(place) && !saw.takes(place) && raised.takes(place);
                cells += u32::from(is_left && is_wood(case, place));
            }
        }
    }
    f64::from(cells) * FINE.powi(3)
}

#[test]
fn slots_are_through_from_the_least_height_on_and_not_before() {
    let mut dice = Dice(2026);
    let (mut open, mut closed) = (0, 0);
    while open < 60 {
        let case = sound_case(&mut dice);
        let direction = case.slots.first_rad;
        let Some([least, most]) = in_hole_mm(&case.stack, &case.slots, direction) else {
            closed += 1;
            continue;
        };
        open += 1;
        let web = |blade: f64| web_mm3(&case, &saw(&case, direction, blade));
        let most = most.min(case.stack.table_mm(direction));
        for blade in [least + 0.3, dice.between(least, most).max(least + 0.3)] {
            if blade + AT_BOTTOM < most {
                assert!(web(blade) <= 0.0, "{open}: {blade} of {least} to {most}");
            }
        }
        assert!(web(least - 1.5) > 0.0, "{open}: {least}");
    }
    assert!(closed > 10, "{closed}");
}

/// A stack in voxels; the discs on its faces too.
struct Voxels {
    least: [f64; 3],
    counts: [usize; 3],
    wood: Vec<bool>,
}

impl Voxels {
    fn of(case: &Case, held: &Stack) -> Voxels {
        let [low, high] = [held.layers.first().unwrap(), held.layers.last().unwrap()];
        let widest = held.layers.iter().map(|it| it.outside.farthest_mm());
        let reach = widest.fold(0.0, f64::max) + VOXEL;
        let least = [-reach, -reach, low.from_mm];
        let count = |from: f64, to: f64| ((to - from) / VOXEL) as usize;
        let counts = [
            count(-reach, reach),
            count(-reach, reach),
            count(low.from_mm, high.to_mm),
        ];
        let mut voxels = Voxels {
            least,
            counts,
            wood: Vec::new(),
        };
        let all = counts.iter().product();
        let is_there = |at: usize| {
            let place = voxels.place(at);
            let [x, y, z] = place;
            let disc = held
                .layers
                .iter()
                .find(|layer| layer.hole.is_none() && z > layer.from_mm && z < layer.to_mm);
            is_wood(case, place) || disc.is_some_and(|disc| x.hypot(y) < disc.outside.farthest_mm())
        };
        let wood = (0..all).map(is_there).collect();
        voxels.wood = wood;
        voxels
    }

    fn place(&self, at: usize) -> [f64; 3] {
        let [wide, deep, _] = self.counts;
        let index = [at % wide, at / wide % deep, at / (wide * deep)];
        [0, 1, 2].map(|axis| self.least[axis] + (index[axis] as f64 + 0.5) * VOXEL)
    }

    fn saw(&mut self, saw: &Saw) {
        for at in 0..self.wood.len() {
            if self.wood[at] && saw.takes(self.place(at)) {
                self.wood[at] = false;
            }
        }
    }

    /// Of how many pieces of more than so many voxels it is, face to face.
    fn pieces(&self, more_than: usize) -> usize {
        let [wide, deep, high] = self.counts;
        let mut left = self.wood.clone();
        let mut pieces = 0;
        for start in 0..left.len() {
            if !left[start] {
                continue;
            }
            left[start] = false;
            let (mut waiting, mut size) = (vec![start], 0);
            while let Some(at) = waiting.pop() {
                size += 1;
                let index = [at % wide, at / wide % deep, at / (wide * deep)];
                let mut visit = |is_inside: bool, next: usize| {
                    if is_inside && left[next] {
                        left[next] = false;
                        waiting.push(next);
                    }
                };
                visit(index[0] > 0, at.wrapping_sub(1));
                visit(index[0] + 1 < wide, at + 1);
                visit(index[1] > 0, at.wrapping_sub(wide));
                visit(index[1] + 1 < deep, at + wide);
                visit(index[2] > 0, at.wrapping_sub(wide * deep));
                visit(index[2] + 1 < high, at + wide * deep);
            }
            pieces += usize::from(size > more_than);
        }
        pieces
    }
}

/// Crumbs at an edge are no pieces.
const CRUMB: usize = 2;

#[test]
fn with_one_slot_open_the_stack_is_one_piece_and_with_two_it_is_not() {
    let mut dice = Dice(71);
    let (mut held, mut parted) = (0, 0);
    while held < 24 {
        let case = sound_case(&mut dice);
        let window = window(&case.stack, &case.slots, None);
        let Some(own) = window.middle_mm().and(blade_mm(&window)) else {
            continue;
        };
        let voxels = Voxels::of(&case, &case.stack);
        if voxels.pieces(CRUMB) != 1 {
            // Open rings may stand beside each other.
            continue;
        }
        held += 1;
        let blade = match held % 3 {
            0 => own,
            1 => window.most_mm() - 1e-6,
            _ => dice.between(window.least_mm, window.most_mm()),
        };
        let open = |directions: &[f64]| {
            let mut voxels = Voxels::of(&case, &case.stack);
            for direction in directions {
                voxels.saw(&saw(&case, *direction, blade));
            }
            voxels.pieces(CRUMB)
        };
        let directions: Vec<f64> = case.slots.directions().collect();
        for direction in &directions {
            assert_eq!(open(&[*direction]), 1, "{held}");
        }
        // Far enough apart, for slots that swing as they lean.
        let across = directions.iter().find(|it| {
            let apart = (**it - directions[0]).rem_euclid(std::f64::consts::TAU);
            (2.0..4.3).contains(&apart)
        });
        if let Some(across) = across {
            parted += 1;
            assert!(open(&[directions[0], *across]) > 1, "{held}");
        }
    }
    assert!(parted > 6, "{parted}");
}

#[test]
fn discs_hold_a_stack_in_one_piece_at_every_moment() {
    const MIDDLE: f64 = 6.0;
    const THICK: f64 = 9.6;
    const LEAST_BETWEEN: f64 = 4.0;
    let mut dice = Dice(5);
    let (mut held, mut parted, mut loose) = (0, 0, 0);
    while held < 40 {
        let case = sound_case(&mut dice);
        let slots = Slots { ..case.slots };
        let window = window(&case.stack, &slots, Some(MIDDLE));
        if window.middle_mm().is_none() {
            continue;
        }
        let blade = dice.between(window.least_mm, window.most_mm());
        let stack = between_discs(&case.stack, THICK);
        let between = stack.between_mm(&slots, blade);
        if between < LEAST_BETWEEN {
            loose += 1;
            continue;
        }
        let mut voxels = Voxels::of(&case, &stack);
        let mut bare = Voxels::of(&case, &case.stack);
        if bare.pieces(CRUMB) != 1 {
            continue;
        }
        held += 1;
        for direction in slots.directions() {
            let saw = saw(&case, direction, blade);
            voxels.saw(&saw);
            bare.saw(&saw);
            assert_eq!(voxels.pieces(CRUMB), 1, "{held}: {between} between");
        }
        if slots.count > 2 {
            parted += 1;
            // Without them it would have fallen apart.
            assert!(bare.pieces(CRUMB) > 1, "{held}");
        }
    }
    assert!(parted > 10 && loose > 2, "{parted} {loose}");
}

/// A second set between the discs of the first: with its strips through the discs too, the
/// stack is one piece at every moment; with strips no longer than the stack it is not always.
#[test]
fn discs_that_are_made_whole_hold_a_second_set() {
    const MIDDLE: f64 = 6.0;
    const THICK: f64 = 9.6;
    const LEAST_BETWEEN: f64 = 4.0;
    let mut dice = Dice(50);
    let (mut held, mut parted) = (0, 0);
    while held < 60 {
        let first = sound_case(&mut dice);
        // The other way, at the same places or beside them.
        let further = dice.between(0.0, 0.6) * f64::from(dice.count(0, 3).min(1));
        let second = Case {
            slots: Slots {
                gauge_rad: -first.slots.gauge_rad,
                first_rad: first.slots.first_rad + further,
                ..first.slots
            },
            glued: Vec::new(),
            stack: first.stack.clone(),
        };
        let stack = between_discs(&first.stack, THICK);
        let blade = |slots: &Slots, roll: f64| {
            let window = window(&first.stack, slots, Some(MIDDLE));
            window.middle_mm()?;
            let blade = window.least_mm + roll * (window.most_mm() - window.least_mm);
            (stack.between_mm(slots, blade) >= LEAST_BETWEEN).then_some(blade)
        };
        let (one, two) = (dice.roll(), dice.roll());
        let Some((one, two)) = blade(&first.slots, one).zip(blade(&second.slots, two)) else {
            continue;
        };
        let whole = Voxels::of(&first, &stack);
        if Voxels::of(&first, &first.stack).pieces(CRUMB) != 1 {
            continue;
        }
        held += 1;
        let half = first.stack.height_mm() / 2.0;
        let sawn = |strip_half_mm: f64| {
            let mut voxels = Voxels::of(&first, &stack);
            for direction in first.slots.directions() {
                voxels.saw(&saw(&first, direction, one));
            }
            // The strips fill the slots as far as they are long, across the hole too.
            for direction in first.slots.directions() {
                let saw = saw(&first, direction, one);
                for at in 0..voxels.wood.len() {
                    let place = voxels.place(at);
                    let within = place[0].hypot(place[1]) < stack.table_mm(direction);
                    if within && place[2].abs() < strip_half_mm && saw.takes(place) {
                        voxels.wood[at] = true;
                    }
                }
            }
            let mut most = voxels.pieces(CRUMB);
            for direction in second.slots.directions() {
                // The reach is that of the glued rings.
                let second_saw = Saw {
                    gauge: second.slots.gauge_rad,
                    ..saw(&first, direction, two)
                };
                voxels.saw(&second_saw);
                most = most.max(voxels.pieces(CRUMB));
            }
            most
        };
        assert!(whole.pieces(CRUMB) == 1);
        assert_eq!(sawn(half + THICK + VOXEL), 1, "{held}: {:?}", first.slots);
        parted += usize::from(sawn(half) > 1);
    }
    println!("{parted} of {held} would come apart");
    assert!(parted > 2, "{parted}");
}
