//! How far a joint has set in air that changes while it sets: the same rule as
//! [`times`](super::glue::times), summed up over the history of the air.
//!
//! In air of the temperature T setting goes on at the rate 2^((T − 20 °C)/10 °C) of the
//! room's, for waits never above 1; for the open time it never falls below 1, and no air
//! counts as hotter than 40 °C. Colder than the glue stands a joint does not set at all
//! until it may be turned; what it lacks to its full strength then it gains in any air.

use super::glue::{Glue, ROOM_C, open_shrinks, waits_stretch};

/// The air round a joint from a moment on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Minutes since the glue was spread; what was before that counts from then on.
    pub from_min: f64,
    /// Its temperature, degrees Celsius.
    pub air_c: f64,
}

/// When each wait is over, in minutes since the glue was spread, if the air stays as it was
/// last; nothing where it stands still in the cold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// The joint must be closed.
    pub open_min: f64,
    /// The clamps may come off.
    pub clamp_min: Option<f64>,
    /// It may be turned.
    pub turn_min: Option<f64>,
    /// It may be stressed.
    pub stress_min: Option<f64>,
}

/// When the waits of a joint are over. `airs` are in the order of time; without any the air
/// is the room's.
pub fn ends(glue: Glue, airs: &[Air]) -> Ends {
    let habits = glue.habits();
    let setting = |air_c: f64| {
        if air_c < habits.least_c {
            0.0
        } else {
            1.0 / waits_stretch(air_c)
        }
    };
    let turn_min = reached(airs, 0.0, habits.turn_min, setting);
    let left_min = habits.stress_min - habits.turn_min;
    Ends {
        open_min: reached(airs, 0.0, habits.open_min, |air_c| {
            1.0 / open_shrinks(air_c)
        })
        .unwrap_or(habits.open_min),
        clamp_min: reached(airs, 0.0, habits.clamp_min, setting),
        turn_min,
        stress_min: turn_min.and_then(|from_min| {
            reached(airs, from_min, left_min, |air_c| 1.0 / waits_stretch(air_c))
        }),
    }
}

/// Whether this glue does not set in this air.
pub fn stands_still(glue: Glue, air_c: f64) -> bool {
    air_c < glue.habits().least_c
}

/// When so many of the room's minutes are through, counted from `from_min`; nothing where
/// they never are.
fn reached(airs: &[Air], from_min: f64, room_min: f64, rate: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut now_min, mut left_min) = (from_min, room_min);
    let mut air_c = airs.first().map_or(ROOM_C, |air| air.air_c);
    for air in airs {
        let passed_min = (air.from_min - now_min).max(0.0);
        let rate = rate(air_c);
        if rate > 0.0 && passed_min * rate >= left_min {
            return Some(now_min + left_min / rate);
        }
        left_min -= passed_min * rate;
        now_min += passed_min;
        air_c = air.air_c;
    }
    let rate = rate(air_c);
    (rate > 0.0).then(|| now_min + left_min / rate)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::glue::times;

    fn alike(one: f64, other: f64) -> bool {
        (one - other).abs() <= 1e-9 * other.abs().max(1.0)
    }

    #[test]
    fn in_air_that_stays_the_waits_are_the_shops() {
        for &glue in Glue::ALL {
            for air_c in [10.0, 13.0, 15.5, 20.0, 21.0, 27.0, 33.0, 41.0, 60.0] {
                let (told, found) = (
                    times(glue, air_c),
                    ends(
                        glue,
                        &[Air {
                            from_min: 0.0,
                            air_c,
                        }],
                    ),
                );
                if told.is_too_cold {
                    assert_eq!((found.clamp_min, found.turn_min), (None, None));
                    continue;
                }
                assert!(alike(found.open_min, told.open_min));
                assert!(alike(found.clamp_min.unwrap(), told.clamp_min));
                assert!(alike(found.turn_min.unwrap(), told.turn_min));
                assert!(alike(found.stress_min.unwrap(), told.stress_min));
            }
        }
    }

    /// What is told for a cold shop: in the room until it may be turned, then in the cold.
    #[test]
    fn carried_back_into_the_cold_it_gains_the_rest_slowly() {
        for &glue in Glue::ALL {
            for air_c in [-5.0, 2.0, 9.0] {
                let told = times(glue, air_c);
                let airs = [
                    Air {
                        from_min: 0.0,
                        air_c: ROOM_C,
                    },
                    Air {
                        from_min: told.turn_min,
                        air_c,
                    },
                ];
                let found = ends(glue, &airs);
                assert!(alike(found.turn_min.unwrap(), told.turn_min));
                assert!(alike(found.stress_min.unwrap(), told.stress_min));
            }
        }
    }

    #[test]
    fn in_the_cold_it_waits_for_the_warmth() {
        let airs = [
            Air {
                from_min: 0.0,
                air_c: 5.0,
            },
            Air {
                from_min: 600.0,
                air_c: 21.0,
            },
        ];
        let found = ends(Glue::YellowPva, &airs);
        assert!(alike(found.clamp_min.unwrap(), 660.0));
        assert!(stands_still(Glue::YellowPva, 9.9) && !stands_still(Glue::YellowPva, 10.0));
        // Half set, it stands still in the cold again.
        let airs = [
            Air {
                from_min: 0.0,
                air_c: 20.0,
            },
            Air {
                from_min: 120.0,
                air_c: 5.0,
            },
        ];
        let found = ends(Glue::YellowPva, &airs);
        assert_eq!(found.turn_min, None);
        assert!(alike(found.clamp_min.unwrap(), 60.0));
    }
}
