//! Moments as they are said at the bench, by the turner's own clock and calendar.

use crate::show::words;

/// Now, and how the turner's own calendar and clock tell a moment. Moments are milliseconds
/// since 1970, UTC.
pub struct Calendar<'a> {
    /// Now.
    pub now_ms: f64,
    /// How many minutes the local clock is behind UTC at a moment.
    pub behind_min: &'a dyn Fn(f64) -> f64,
    /// The time of day of a moment: `4:10 PM`.
    pub time: &'a dyn Fn(f64) -> String,
    /// Its day: `Thu, Nov 26`.
    pub day: &'a dyn Fn(f64) -> String,
}

impl Calendar<'_> {
    /// A moment as it is said now: `4:10 PM`, `tomorrow 7:40 AM`, `Thu, Nov 26, 7:40 AM`.
    pub fn said(&self, moment_ms: f64) -> String {
        let time = (self.time)(moment_ms);
        let days = (self.day_number(moment_ms)).saturating_sub(self.day_number(self.now_ms));
        match days {
            0 => time,
            1 => words::filled(words::CLOCK_TOMORROW, &[&time]),
            -1 => words::filled(words::CLOCK_YESTERDAY, &[&time]),
            _ => self.dated(moment_ms),
        }
    }

    /// A moment with its day: `Thu, Nov 26, 4:10 PM`.
    pub fn dated(&self, moment_ms: f64) -> String {
        format!("{}, {}", (self.day)(moment_ms), (self.time)(moment_ms))
    }

    /// The days from 1970 to a moment's midnight, by the local clock.
    pub(super) fn day_number(&self, moment_ms: f64) -> i64 {
        const DAY_MIN: f64 = 24.0 * 60.0;
        ((moment_ms / 60_000.0 - (self.behind_min)(moment_ms)) / DAY_MIN).floor() as i64
    }
}
