//! What a hand does to the climate.

use crate::design::Design;
use crate::plan::season::{AIRS, climate};

/// The design with the air of the shop, the `dry` or the `damp` season as described;
/// nothing for another air.
pub fn take_air(design: &Design, of: &str, word: &str) -> Option<Design> {
    let mut climate = climate(design);
    let (temperature, humidity) = match of {
        "shop" => (
            &mut climate.shop_temperature_c,
            &mut climate.shop_humidity_pct,
        ),
        "dry" => (
            &mut climate.dry_temperature_c,
            &mut climate.dry_humidity_pct,
        ),
        "damp" => (
            &mut climate.damp_temperature_c,
            &mut climate.damp_humidity_pct,
        ),
        _ => return None,
    };
    let mut changed = design.clone();
    if let Some((_, temperature_c, humidity_pct)) = AIRS.iter().find(|air| air.0 == word) {
        (*temperature, *humidity) = (*temperature_c, *humidity_pct);
        changed.climate = Some(climate);
    }
    Some(changed)
}
