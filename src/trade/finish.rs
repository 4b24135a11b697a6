//! Finish: how fine it is sanded first, how many coats it takes, how far a liter goes and
//! how long a coat dries.
//!
//! What stands on the can comes first: the figures here are usual ones, for planning the
//! work, all common practice, no published source, from memory.

use crate::units::kept::kept_choice;

kept_choice! {
    /// A kind of finish, by what it does in the wood.
    pub enum Finish {
        /// Not decided yet.
        Later = "later",
        /// None: the wood stays as it is sanded.
        Bare = "bare",
        /// Oil that hardens in the air.
        HardeningOil = "hardening_oil",
        /// Oil that stays liquid in the wood.
        StayingOil = "staying_oil",
        /// Wax.
        Wax = "wax",
        /// A film on the wood: varnish, lacquer.
        Film = "film",
    }
}

/// What a finish usually wants in a room of [`ROOM_C`](super::glue::ROOM_C).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habits {
    /// Coats.
    pub coats: u32,
    /// How far a liter of the first coat goes, square meters: bare wood drinks.
    pub first_m2_l: f64,
    /// How far a liter goes once there is a coat, square meters.
    pub next_m2_l: f64,
    /// From one coat to the next, minutes.
    pub wait_min: f64,
    /// The finest grit before it.
    pub last_grit: u32,
}

/// The grit that a turned surface is sanded with first: cut clean it needs no coarser one
/// (common practice, no published source).
pub const FIRST_GRIT: u32 = 120;

/// Grits that are sold (common practice, no published source).
pub const GRITS: [u32; 18] = [
    40, 60, 80, 100, 120, 150, 180, 220, 240, 280, 320, 400, 500, 600, 800, 1000, 1200, 1500,
];

impl Finish {
    /// What it usually wants; nothing where none goes on.
    pub fn habits(self) -> Option<Habits> {
        const DAY: f64 = 24.0 * 60.0;
        let habits = |coats, first_m2_l, next_m2_l, wait_min, last_grit| {
            Some(Habits {
                coats,
                first_m2_l,
                next_m2_l,
                wait_min,
                last_grit,
            })
        };
        match self {
            Finish::Later | Finish::Bare => None,
            Finish::HardeningOil => habits(3, 12.0, 20.0, DAY, 320),
            Finish::StayingOil => habits(3, 10.0, 15.0, DAY / 2.0, 320),
            Finish::Wax => habits(2, 20.0, 30.0, 30.0, 400),
            // Finer, and a film holds less well.
            Finish::Film => habits(3, 10.0, 12.0, DAY, 240),
        }
    }

    /// The finest grit before it.
    pub fn last_grit(self) -> u32 {
        self.habits().map_or(BARE_GRIT, |it| it.last_grit)
    }

    /// Whether rags with it may heat up and burn by themselves.
    pub fn heats_rags(self) -> bool {
        // A film may be a varnish with oil in it: what is not known counts as if.
        matches!(self, Finish::HardeningOil | Finish::Film)
    }

    /// How much of it so many coats of an area take, milliliters, without what stays in rag
    /// and brush.
    pub fn milliliters(self, area_mm2: f64, coats: u32) -> f64 {
        let Some(habits) = self.habits() else {
            return 0.0;
        };
        let m2_l = |coat: u32| {
            if coat == 0 {
                habits.first_m2_l
            } else {
                habits.next_m2_l
            }
        };
        let coat_ml = |coat: u32| area_mm2 * 1e-6 / m2_l(coat) * 1000.0;
        (0..coats).map(coat_ml).sum()
    }
}

/// The finest grit where no finish hides a scratch.
const BARE_GRIT: u32 = 400;

/// Grits from the first to the last, both included: each next one is the finest that is sold
/// and no more than half as fine again, so that it still takes the scratches of the one
/// before out (our own choice, no published source). Where the last is no finer than the
/// first, the first alone.
pub fn grits(first: u32, last: u32) -> Vec<u32> {
    let mut all = vec![first];
    let mut now = first;
    while now < last {
        let finer = || GRITS.iter().copied().filter(|it| *it > now);
        let near = finer().rfind(|it| 2 * it <= 3 * now);
        now = near.or(finer().next()).unwrap_or(last).min(last);
        all.push(now);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grits_go_up_in_steps_that_still_take_scratches_out() {
        assert_eq!(grits(120, 320), [120, 180, 240, 320]);
        assert_eq!(grits(80, 400), [80, 120, 180, 240, 320, 400]);
        assert_eq!(grits(180, 180), [180]);
        assert_eq!(grits(320, 120), [320]);
        for first in 40..1500 {
            for last in [first, first + 1, first + 100, 1500, 2000] {
                let all = grits(first, last);
                assert_eq!((all[0], *all.last().unwrap()), (first, last));
                assert!(all.windows(2).all(|two| two[0] < two[1]), "{all:?}");
                // 40 to 60 and 100 to 150 are halves again; a step that is sold is passed by
                // none.
                let is_near = |two: &[u32]| {
                    2 * two[1] <= 3 * two[0]
                        || GRITS.iter().all(|it| *it <= two[0] || *it >= two[1])
                };
                assert!(all.windows(2).all(is_near), "{all:?}");
            }
        }
    }

    #[test]
    fn a_square_meter_takes_what_a_liter_goes_over() {
        for &finish in Finish::ALL {
            let Some(habits) = finish.habits() else {
                assert!(finish.milliliters(1e6, 3) <= 0.0);
                continue;
            };
            let one = finish.milliliters(1e6, 1);
            assert!((one - 1000.0 / habits.first_m2_l).abs() < 1e-9);
            let three = finish.milliliters(1e6, 3);
            assert!((three - one - 2000.0 / habits.next_m2_l).abs() < 1e-9);
            assert!(finish.milliliters(1e6, 0) <= 0.0);
        }
    }
}
