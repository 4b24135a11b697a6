//! Glue: how much a joint takes, and how long everything lasts in this shop.
//!
//! A glue's maker knows it better than any table: the figures here are usual ones, for
//! planning a day's work, and the data sheet on the bottle comes first. Each constant
//! names where it comes from; most are common practice, no published source.

use crate::units::kept::kept_choice;

kept_choice! {
    /// A kind of glue, by its plain name.
    pub enum Glue {
        /// Yellow PVA (aliphatic resin).
        YellowPva = "yellow_pva",
        /// White PVA.
        WhitePva = "white_pva",
        /// Polyurethane that foams.
        Polyurethane = "polyurethane",
        /// Liquid hide glue, from the bottle.
        LiquidHide = "liquid_hide",
        /// Hide glue, hot from the pot.
        HotHide = "hot_hide",
        /// Epoxy with a slow hardener.
        SlowEpoxy = "slow_epoxy",
    }
}

/// What a glue does at [`ROOM_C`]. Minutes, degrees Celsius, grams a square meter of
/// joint (both faces together).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habits {
    /// From spreading to closing the joint: the careful end of the usual range.
    pub open_min: f64,
    /// In the clamps.
    pub clamp_min: f64,
    /// Until the joint may spin and be turned lightly.
    pub turn_min: f64,
    /// Until it may be stressed: heavy cuts, the last glue-up's own weight, finish.
    pub stress_min: f64,
    /// Shop, wood and glue are never colder than this.
    pub least_c: f64,
    /// Spread.
    pub spread_g_m2: f64,
    /// Weight of a milliliter.
    pub g_a_ml: f64,
}

/// The room that the habits are told for.
pub const ROOM_C: f64 = 20.0;

/// Colder by so much, setting takes twice as long (common practice, no published
/// source; the usual rule for the speed of a chemical reaction).
const DOUBLES_EVERY_C: f64 = 10.0;

/// No glue is said to set quicker than it does at this: hot shops shorten the open time.
const HOTTEST_C: f64 = 40.0;

impl Glue {
    /// What it usually does at [`ROOM_C`].
    pub fn habits(self) -> Habits {
        const HOUR: f64 = 60.0;
        // Clamp 30 to 60 min and 24 h before stress for PVA: an adhesive maker's
        // technical guide (read, tests/reference/practice.csv). Open time, spread and
        // density, and everything of the other glues: common practice, no published
        // source, from memory. The waits are the long ends of the usual ranges.
        let habits =
            |open_min, clamp_min, turn_min, stress_min, least_c, spread_g_m2, g_a_ml| Habits {
                open_min,
                clamp_min,
                turn_min,
                stress_min,
                least_c,
                spread_g_m2,
                g_a_ml,
            };
        match self {
            // 10 °C (50 °F) is the careful one of two figures: makers give 40 to 50 °F.
            Glue::YellowPva => habits(5.0, HOUR, 4.0 * HOUR, 24.0 * HOUR, 10.0, 180.0, 1.1),
            // 13 °C (55 °F): an undated trade page.
            Glue::WhitePva => habits(7.0, HOUR, 4.0 * HOUR, 24.0 * HOUR, 13.0, 180.0, 1.1),
            Glue::Polyurethane => {
                habits(15.0, 3.0 * HOUR, 8.0 * HOUR, 24.0 * HOUR, 10.0, 120.0, 1.15)
            }
            Glue::LiquidHide => habits(8.0, 2.0 * HOUR, 12.0 * HOUR, 24.0 * HOUR, 10.0, 200.0, 1.2),
            Glue::HotHide => habits(1.0, 2.0 * HOUR, 12.0 * HOUR, 24.0 * HOUR, 20.0, 200.0, 1.2),
            Glue::SlowEpoxy => habits(30.0, 8.0 * HOUR, 24.0 * HOUR, 72.0 * HOUR, 10.0, 250.0, 1.1),
        }
    }

    /// The usual clamp pressure for a wood of this specific gravity at 12 %, low and
    /// high, pascals; none for glues that only need contact. Softwoods 100-150 psi,
    /// medium woods 150-200, dense woods 200-300 (an adhesive maker's technical guide,
    /// read, for PVA). Where one class ends and the next begins is our own choice:
    /// between the specific gravities of the woods that the guide names.
    pub fn pressure_pa(self, specific_gravity: f64) -> Option<(f64, f64)> {
        const PSI: f64 = 6_894.757;
        if !matches!(self, Glue::YellowPva | Glue::WhitePva) {
            return None;
        }
        let (low, high) = if specific_gravity < 0.45 {
            (100.0, 150.0)
        } else if specific_gravity < 0.58 {
            (150.0, 200.0)
        } else {
            (200.0, 300.0)
        };
        Some((low * PSI, high * PSI))
    }
}

/// How long everything lasts at a shop's temperature. Minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Times {
    /// From spreading to closing the joint.
    pub open_min: f64,
    /// In the clamps.
    pub clamp_min: f64,
    /// Until it may be turned.
    pub turn_min: f64,
    /// Until it may be stressed.
    pub stress_min: f64,
    /// Whether the shop is colder than the glue stands: then it is glued up in a warm room
    /// of [`ROOM_C`] and stays there until it may be turned. The other times are those of
    /// that room; what it lacks to its full strength then, it gains in the cold shop.
    pub is_too_cold: bool,
}

/// How many times longer than in the room everything takes in air of this temperature.
fn stretch(air_c: f64) -> f64 {
    ((ROOM_C - air_c) / DOUBLES_EVERY_C).exp2()
}

/// How many times longer than in the room a wait takes: never less than 1.
pub(super) fn waits_stretch(air_c: f64) -> f64 {
    stretch(air_c).max(1.0)
}

/// To what part of the room's the open time shrinks: never more than 1.
pub(super) fn open_shrinks(air_c: f64) -> f64 {
    stretch(air_c.min(HOTTEST_C)).min(1.0)
}

/// How long this glue takes in a shop of this temperature. In the cold everything takes
/// longer, but the open time is never told longer; in the heat the open time is told
/// shorter, but no wait is.
pub fn times(glue: Glue, shop_c: f64) -> Times {
    let habits = glue.habits();
    let is_too_cold = shop_c < habits.least_c;
    let warmth_c = if is_too_cold { ROOM_C } else { shop_c };
    let slower = waits_stretch(warmth_c);
    Times {
        open_min: habits.open_min * open_shrinks(warmth_c),
        clamp_min: habits.clamp_min * slower,
        turn_min: habits.turn_min * slower,
        stress_min: if is_too_cold {
            let left_min = habits.stress_min - habits.turn_min;
            habits.turn_min + left_min * waits_stretch(shop_c)
        } else {
            habits.stress_min * slower
        },
        is_too_cold,
    }
}

/// Grams of glue for a joint of this area, square millimeters.
pub fn grams(glue: Glue, area_mm2: f64) -> f64 {
    area_mm2 * 1e-6 * glue.habits().spread_g_m2
}

/// Milliliters of glue for a joint of this area.
pub fn milliliters(glue: Glue, area_mm2: f64) -> f64 {
    grams(glue, area_mm2) / glue.habits().g_a_ml
}

/// How long a piece of wood from a cold shop lies in a room of [`ROOM_C`] until its
/// middle is as warm as the glue needs, and 2 °C more; minutes. 0 where it is warm
/// enough. `thickness_mm` is its least dimension.
///
/// A slab warmed through both faces: the slowest part of its temperature falls off with
/// the time a²/α · (1/Bi + 4/π²), Bi = h·a/k, a half the thickness: the film of still
/// air and the wood one after the other, which is exact for very thin and very thick
/// wood and a little slow between; the middle starts at most 4/π above it (Carslaw and
/// Jaeger, Conduction of Heat in Solids, slab with surface resistance, from memory).
/// Checked against a slab worked through step by step in `tests/bench.rs`.
pub fn warming_min(glue: Glue, shop_c: f64, thickness_mm: f64) -> f64 {
    let wanted_c = (glue.habits().least_c + 2.0).min(ROOM_C - 0.5);
    if shop_c >= glue.habits().least_c || thickness_mm <= 0.0 {
        return 0.0;
    }
    let half_m = thickness_mm / 2000.0;
    let biot = AIR_W_M2_K * half_m / WOOD_W_M_K;
    let fall_s = half_m * half_m / WOOD_M2_S
        * (1.0 / biot + 4.0 / (std::f64::consts::PI * std::f64::consts::PI));
    let share = (ROOM_C - wanted_c) / (ROOM_C - shop_c);
    let start = 4.0 / std::f64::consts::PI;
    fall_s * (start / share).ln().max(0.0) / 60.0
}

/// Heat that still room air carries to a surface, W/(m² K): 8 (common practice, no
/// published source: convection and radiation together).
pub const AIR_W_M2_K: f64 = 8.0;

/// Thermal conductivity of hardwood across the grain, W/(m K): 0.16 (Wood Handbook,
/// chapter 4, from memory).
pub const WOOD_W_M_K: f64 = 0.16;

/// Thermal diffusivity of wood, m²/s: 0.161 · 10⁻⁶ (Wood Handbook, chapter 4, from
/// memory).
pub const WOOD_M2_S: f64 = 0.161e-6;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_careful_figures_of_the_practice_table() {
        // practice.csv: yellow 4-10 °C, white 10-13 °C; unstressed joint 30-60 min in
        // the clamps; 24 h before stress.
        let (yellow, white) = (Glue::YellowPva.habits(), Glue::WhitePva.habits());
        assert!((4.0..=10.0).contains(&yellow.least_c));
        assert!((10.0..=13.0).contains(&white.least_c));
        for habits in [yellow, white] {
            assert!((30.0..=60.0).contains(&habits.clamp_min));
            assert!((habits.stress_min - 24.0 * 60.0).abs() < 1e-9);
            assert!((5.0..=10.0).contains(&habits.open_min));
        }
    }

    #[test]
    fn ten_degrees_colder_takes_twice_as_long() {
        let (warm, cool) = (times(Glue::YellowPva, 20.0), times(Glue::YellowPva, 10.0));
        assert!((cool.clamp_min / warm.clamp_min - 2.0).abs() < 1e-12);
        assert!((cool.open_min - warm.open_min).abs() < 1e-12);
        let hot = times(Glue::YellowPva, 30.0);
        assert!((warm.open_min / hot.open_min - 2.0).abs() < 1e-12);
        assert!((hot.stress_min - warm.stress_min).abs() < 1e-12);
    }

    #[test]
    fn too_cold_is_told_with_a_warm_rooms_times() {
        let cold = times(Glue::WhitePva, 12.0);
        assert!(cold.is_too_cold);
        assert!((cold.clamp_min - times(Glue::WhitePva, ROOM_C).clamp_min).abs() < 1e-12);
        // Cold hours count as cold: 4 of the 24 in the room, 20 at 12 °C.
        let slower = 0.8_f64.exp2();
        assert!((cold.stress_min / 60.0 - (4.0 + 20.0 * slower)).abs() < 1e-9);
        // So the wait falls by no more than what those 4 hours are quicker.
        let (just, still) = (times(Glue::WhitePva, 12.999), times(Glue::WhitePva, 13.0));
        assert!(just.stress_min < still.stress_min);
        assert!(just.stress_min > still.stress_min - 4.0 * 60.0);
        assert!(!times(Glue::WhitePva, 13.0).is_too_cold);
        assert!(warming_min(Glue::WhitePva, 12.0, 25.0) > 0.0);
        assert!(warming_min(Glue::WhitePva, 13.0, 25.0) <= 0.0);
    }
}
