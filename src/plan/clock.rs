//! The clocks of the joints that set, in moments of the calendar, and what can be done at
//! the bench while they run. *Now* is handed in: nothing runs while the page is shut.
//! Moments are milliseconds since 1970, UTC.

use crate::design::log::{AirFrom, Clock, Drying};
use crate::plan::order::{FinishWork, Needs, Order, Step, Work};
use crate::trade::glue::ROOM_C;
use crate::trade::setting::{Air, ends, stands_still};

const MINUTE_MS: f64 = 60_000.0;

/// When each wait of a joint is over; nothing where its clock stands still. A time not to
/// be passed is a whole minute too early rather than too late, a wait too late.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moments {
    /// The joint must be closed.
    pub close_ms: f64,
    /// The clamps may come off.
    pub clamps_off_ms: Option<f64>,
    /// It may be turned.
    pub turn_ms: Option<f64>,
    /// It has its full strength.
    pub full_ms: Option<f64>,
}

/// How far a joint is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Its start is still to come: the device's clock was set back.
    Ahead,
    /// Too cold to set.
    Cold,
    /// Spread, and to be closed.
    Open,
    /// In the clamps.
    Clamped,
    /// Out of the clamps, and not to be turned yet.
    Resting,
    /// It may be turned.
    Turned,
    /// It has its full strength.
    Full,
}

/// The airs that count, in the order of time: one told later takes the place of those that
/// were to begin after it, as they do where the device's clock was set back.
fn airs_of(clock: &Clock) -> Vec<AirFrom> {
    let mut airs: Vec<AirFrom> = Vec::new();
    for air in &clock.airs {
        while airs.last().is_some_and(|it| it.from_ms >= air.from_ms) {
            airs.pop();
        }
        airs.push(air.clone());
    }
    airs
}

/// The air that a clock was told last, degrees Celsius.
pub fn air_c(clock: &Clock) -> f64 {
    clock.airs.last().map_or(ROOM_C, |air| air.air_c)
}

/// When the waits of a joint are over.
pub fn moments(clock: &Clock) -> Moments {
    let air = |air: AirFrom| Air {
        from_min: ((air.from_ms - clock.on_ms) / MINUTE_MS).max(0.0),
        air_c: air.air_c,
    };
    let airs: Vec<Air> = airs_of(clock).into_iter().map(air).collect();
    let ends = ends(clock.glue, &airs);
    let minute = |min: f64| clock.on_ms / MINUTE_MS + min;
    // A hair of a second is nobody's wait.
    let later = |min: f64| (minute(min) - 1e-4).ceil() * MINUTE_MS;
    Moments {
        close_ms: (minute(ends.open_min) + 1e-4).floor() * MINUTE_MS,
        clamps_off_ms: ends.clamp_min.map(later),
        turn_ms: ends.turn_min.map(later),
        full_ms: ends.stress_min.map(later),
    }
}

/// How far a joint is now.
pub fn stage(clock: &Clock, now_ms: f64) -> Stage {
    let moments = moments(clock);
    let is_over = |end_ms: Option<f64>| end_ms.is_some_and(|end_ms| now_ms >= end_ms);
    if now_ms < clock.on_ms - MINUTE_MS {
        Stage::Ahead
    } else if is_over(moments.full_ms) {
        Stage::Full
    } else if is_over(moments.turn_ms) {
        Stage::Turned
    } else if moments.turn_ms.is_none() && stands_still(clock.glue, air_c(clock)) {
        Stage::Cold
    } else if now_ms < moments.close_ms {
        Stage::Open
    } else if is_over(moments.clamps_off_ms) {
        Stage::Resting
    } else {
        Stage::Clamped
    }
}

/// When a coat is dry.
pub fn dry_ms(drying: &Drying) -> f64 {
    let min = drying.on_ms / MINUTE_MS + drying.wait_min;
    (min - 1e-4).ceil() * MINUTE_MS
}

/// How far a coat is, by what it lets be done: it dries as what rests out of the clamps
/// does, and once dry lets everything be done.
pub fn dry_stage(drying: &Drying, now_ms: f64) -> Stage {
    if now_ms < drying.on_ms - MINUTE_MS {
        Stage::Ahead
    } else if now_ms < dry_ms(drying) {
        Stage::Resting
    } else {
        Stage::Full
    }
}

/// A joint that sets, of a step of the order of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Joint {
    /// The step's place.
    pub step: usize,
    /// How far it is.
    pub stage: Stage,
}

/// How far the joints in a step must be before it is done.
pub(super) fn least_stage(step: &Step) -> Stage {
    if matches!(step.work, Work::Finish | Work::Finishing(FinishWork::Sand)) {
        Stage::Full
    } else {
        Stage::Turned
    }
}

/// The steps that can be done now, in their order: not done yet, with all done that they
/// need, and no joint in them that is still too soft for it.
pub fn can_be_done(order: &Order, needs: &Needs, ticked: &[bool], joints: &[Joint]) -> Vec<usize> {
    // Where glue is on, what it was spread on is made.
    let mut begun = ticked.to_vec();
    for joint in joints {
        if let Some(is_begun) = begun.get_mut(joint.step) {
            *is_begun = true;
        }
    }
    let done = needs.done(&begun);
    let step = |joint: &Joint| order.steps.get(joint.step);
    // What was glued on the lathe keeps it as long as it is in its grip.
    let is_lathe_taken = joints
        .iter()
        .any(|joint| joint.stage < Stage::Resting && step(joint).is_some_and(Step::stays_on_lathe));
    let is_free = |place: &usize| {
        let this = &order.steps[*place];
        let least = least_stage(this);
        let is_soft = |joint: &Joint| joint.stage < least && needs.is_needed(joint.step, *place);
        let is_missing = |before: usize| !done[before] && needs.is_needed(before, *place);
        let is_kept = is_lathe_taken && this.swings_mm().is_some();
        let is_waiting = is_kept || joints.iter().any(is_soft);
        !done[*place] && !is_waiting && !(0..*place).any(is_missing)
    };
    (0..order.steps.len()).filter(is_free).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::glue::Glue;

    fn clock(airs: &[(f64, f64)]) -> Clock {
        let air = |(from_min, air_c): &(f64, f64)| AirFrom {
            from_ms: from_min * MINUTE_MS,
            air_c: *air_c,
        };
        Clock {
            glue: Glue::YellowPva,
            on_ms: 0.0,
            airs: airs.iter().map(air).collect(),
        }
    }

    #[test]
    fn a_joint_goes_through_its_stages() {
        let warm = clock(&[(0.0, 20.0)]);
        let at = |min: f64| stage(&warm, min * MINUTE_MS);
        for (min, wanted) in [
            (-90.0, Stage::Ahead),
            (0.0, Stage::Open),
            (4.9, Stage::Open),
            (5.0, Stage::Clamped),
            (59.9, Stage::Clamped),
            (60.0, Stage::Resting),
            (239.9, Stage::Resting),
            (240.0, Stage::Turned),
            (1440.0, Stage::Full),
        ] {
            assert_eq!(at(min), wanted, "{min}");
        }
        // Told to be cold, it stands; brought in again it goes on where it was.
        let cold = clock(&[(0.0, 20.0), (30.0, 5.0)]);
        assert_eq!(stage(&cold, 600.0 * MINUTE_MS), Stage::Cold);
        let back = clock(&[(0.0, 20.0), (30.0, 5.0), (630.0, 20.0)]);
        let clamps_off_ms = moments(&back).clamps_off_ms;
        assert_eq!(clamps_off_ms, Some(660.0 * MINUTE_MS));
        // Once it may be turned, the cold only makes it slow.
        let hard = clock(&[(0.0, 20.0), (300.0, 5.0)]);
        assert_eq!(stage(&hard, 400.0 * MINUTE_MS), Stage::Turned);
    }

    #[test]
    fn minutes_are_rounded_to_the_safe_side() {
        let mut odd = clock(&[(0.0, 20.0)]);
        odd.on_ms = 30_000.0;
        let told = moments(&odd);
        assert_eq!(Some(told.close_ms), Some(5.0 * MINUTE_MS));
        assert_eq!(told.clamps_off_ms, Some(61.0 * MINUTE_MS));
    }

    /// The device's clock was set back between two airs: the one told last counts.
    #[test]
    fn what_was_told_last_counts() {
        let told = clock(&[(0.0, 20.0), (500.0, 5.0), (30.0, 10.0)]);
        let once = clock(&[(0.0, 20.0), (30.0, 10.0)]);
        assert_eq!(moments(&told), moments(&once));
    }
}
