//! The moisture that wood takes from the air, and how far it moves with it.
//!
//! Sources: Wood Handbook, USDA FPL-GTR-190 (2010) and FPL-GTR-282 (2021): equation 4-5
//! (equilibrium moisture content, after Hailwood and Horrobin 1946, Simpson 1973),
//! chapter 4 (longitudinal shrinkage), chapter 13 (change of a dimension).

use crate::trade::wood::{Grain, Wood};

/// Air that wood stands in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, %.
    pub humidity_pct: f64,
}

impl Air {
    /// Equilibrium moisture content, %: what wood comes to when it stays in this air.
    ///
    /// Equation 4-5 with temperature in °C. Its table goes from −1 to 54 °C and from
    /// 5 to 95 %; beyond it the figure is only an extrapolation ([`Air::is_in_table`]).
    pub fn equilibrium_pct(&self) -> f64 {
        let t = self.temperature_c;
        let h = (self.humidity_pct / 100.0).clamp(0.0, 1.0);
        let w = 349.0 + 1.29 * t + 0.0135 * t * t;
        let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
        let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
        let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
        let kh = k * h;
        let one = k1 * kh;
        let two = k1 * k2 * kh * kh;
        (1800.0 / w * (kh / (1.0 - kh) + (one + 2.0 * two) / (1.0 + one + two))).max(0.0)
    }

    /// Whether the published table covers this air (30 to 130 °F, 5 to 95 %: from memory).
    pub fn is_in_table(&self) -> bool {
        (-1.2..=54.5).contains(&self.temperature_c) && (5.0..=95.0).contains(&self.humidity_pct)
    }
}

/// Moisture content above which wood no longer swells, %, as the handbook's shrinkage
/// formula takes it for every wood.
pub const FIBER_SATURATION_PCT: f64 = 30.0;

/// Between these moisture contents the coefficients hold, % (Table 13-5).
pub const COEFFICIENT_RANGE_PCT: std::ops::RangeInclusive<f64> = 6.0..=14.0;

/// Shrinkage along the grain from green to ovendry, %: the middle of 0.1 to 0.2
/// (chapter 4).
const ALONG_PCT: f64 = 0.15;

/// How far a dimension changes, as a share of what it was, when moisture content goes
/// from one to the other, %; nothing when the wood has no figure for it.
///
/// Within 6 to 14 % by coefficient, ΔD/D = C·ΔM; else by shrinkage,
/// ΔD/D = ΔM/(30·100/S − 30 + M₁) (chapter 13). A wood that has only one of the two
/// moves by that one throughout.
pub fn movement(wood: &Wood, grain: Grain, from_pct: f64, to_pct: f64) -> Option<f64> {
    let from = from_pct.clamp(0.0, FIBER_SATURATION_PCT);
    let to = to_pct.clamp(0.0, FIBER_SATURATION_PCT);
    let by_shrinkage = |shrinkage_pct: f64| {
        (to - from)
            / (FIBER_SATURATION_PCT * 100.0 / shrinkage_pct.max(1e-9) - FIBER_SATURATION_PCT + from)
    };
    let place = match grain {
        Grain::Along => return Some(by_shrinkage(ALONG_PCT)),
        Grain::Radial => 0,
        Grain::Tangential => 1,
    };
    let shrinkage = wood.shrinkage_pct[place].map(by_shrinkage);
    let coefficient = wood.coefficient[place].map(|it| it * (to - from));
    let is_within = COEFFICIENT_RANGE_PCT.contains(&from) && COEFFICIENT_RANGE_PCT.contains(&to);
    if is_within {
        coefficient.or(shrinkage)
    } else {
        shrinkage.or(coefficient)
    }
}

/// Half the angle that a segment fills once it has grown by `across` across the grain
/// and by `along` along it, as shares: its miters keep their ends on the wood, so
/// tan φ′ = tan φ·(1 + along)/(1 + across).
pub fn moved_half_angle_rad(half_angle_rad: f64, across: f64, along: f64) -> f64 {
    (half_angle_rad.tan() * (1.0 + along) / (1.0 + across)).atan()
}

/// How far one miter joint wants to open, millimeters, when all of a ring's segments
/// grow alike: positive, it opens at the outside and touches inside (swelling); negative,
/// it opens inside (shrinking). About (joint length)·ε·sin 2φ; all n joints together
/// n·ε·sin 2φ of angle.
pub fn joint_opening_mm(half_angle_rad: f64, strip_width_mm: f64, across: f64, along: f64) -> f64 {
    let moved = moved_half_angle_rad(half_angle_rad, across, along);
    let face_mm = strip_width_mm * (1.0 + across) / moved.cos();
    2.0 * face_mm * (half_angle_rad - moved).sin()
}

/// How far the inside and the outside radius of a ring move, millimeters, when its wood
/// grows by `across` on the radius and by `along` around it, every joint held closed.
///
/// The plane ring of cylindrical orthotropy (Lekhnitskii, Anisotropic Plates, chapter on
/// curvilinear anisotropy; from memory; Poisson's ratio left out): u = A·r + B·rᵏ + C·r⁻ᵏ
/// with k² = stiffness around/on the radius, A = (k²·along − across)/(k² − 1), and no
/// stress on the radius at either edge: u′ = across. `ratio` is 1/k², below 1.
pub fn ring_motion_mm(
    inside_mm: f64,
    outside_mm: f64,
    across: f64,
    along: f64,
    ratio: f64,
) -> (f64, f64) {
    let k = (1.0 / ratio.clamp(1e-3, 0.99)).sqrt();
    let a = (k * k * along - across) / (k * k - 1.0);
    // In parts of the outside radius, so that no power grows out of bounds.
    let q = (inside_mm / outside_mm).clamp(0.0, 1.0 - 1e-9);
    let slope = (across - a) / k;
    // B·k·xᵏ⁻¹ − C·k·x⁻ᵏ⁻¹ = across − A at x = q and at x = 1, with c = C·q⁻ᵏ⁻¹.
    let up = power(q, k - 1.0);
    let down = up * q * q;
    let c = slope * (up - 1.0) / (1.0 - up * down);
    let b = slope + c * down;
    let outside = a + b + c * down;
    let inside = a * q + b * q * up + c * q;
    (inside * outside_mm, outside * outside_mm)
}

/// A number from 0 to 1 to a power of 0 or more, by square roots for the power's binary
/// fraction: in the page a tenth of the general function's bytes.
fn power(base: f64, exponent: f64) -> f64 {
    let mut result = base.powi(exponent.floor() as i32);
    let (mut rest, mut root) = (exponent.fract(), base);
    for _ in 0..52 {
        (rest, root) = (2.0 * rest, root.sqrt());
        if rest >= 1.0 {
            rest -= 1.0;
            result *= root;
        }
    }
    result
}

/// Whether a meter's reading says that wood is ready.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ready {
    /// It rests, near the middle of the seasons to come.
    Yes,
    /// It is still drying in the shop.
    Drying,
    /// It is still taking up moisture in the shop.
    TakingUp,
    /// It rests, but the shop's air is drier than the home.
    ShopTooDry,
    /// It rests, but the shop's air is damper than the home.
    ShopTooDamp,
    /// The meter does not read reliably there.
    PastMeter,
}

/// A meter reads reliably between these, % (Wood Handbook, 2010, chapter 13).
pub const METER_RANGE_PCT: std::ops::RangeInclusive<f64> = 4.0..=30.0;

/// Wood rests when it is this near to what its air brings it to, %; a meter is not
/// truer than that (common practice, no published source).
const RESTS_WITHIN_PCT: f64 = 1.5;

/// Wood suits a home when it is this near to the middle of its seasons, % (common
/// practice, no published source).
const SUITS_WITHIN_PCT: f64 = 2.0;

/// Judges a reading by what the shop and the two seasons bring wood to, %.
pub fn ready(reading_pct: f64, shop_pct: f64, dry_pct: f64, damp_pct: f64) -> Ready {
    let middle = f64::midpoint(dry_pct, damp_pct);
    if !METER_RANGE_PCT.contains(&reading_pct) {
        Ready::PastMeter
    } else if reading_pct > shop_pct + RESTS_WITHIN_PCT {
        Ready::Drying
    } else if reading_pct < shop_pct - RESTS_WITHIN_PCT {
        Ready::TakingUp
    } else if reading_pct < middle - SUITS_WITHIN_PCT {
        Ready::ShopTooDry
    } else if reading_pct > middle + SUITS_WITHIN_PCT {
        Ready::ShopTooDamp
    } else {
        Ready::Yes
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_power_is_the_general_functions() {
        for base in [0.0_f64, 1e-9, 0.01, 0.3, 0.5, 0.9999, 1.0] {
            for step in 0..4000 {
                let exponent = f64::from(step) * 0.0087;
                let (ours, general) = (super::power(base, exponent), base.powf(exponent));
                assert!(
                    (ours - general).abs() < 1e-12,
                    "{base} {exponent}: {ours} {general}"
                );
            }
        }
    }
}
