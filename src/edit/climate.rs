//! What a hand does to the climate.

use crate::design::Design;
use crate::plan::season::{AIRS, climate};

/// The design with the air of the shop (0), the dry (1) or the damp season (2) as
/// described.
pub fn take_air(design: &Design, which: usize, word: &str) -> Design {
    let mut changed = design.clone();
    let mut climate = climate(design);
    if let Some((_, temperature_c, humidity_pct)) = AIRS.iter().find(|air| air.0 == word) {
        let (temperature, humidity) = match which {
            0 => (
                &mut climate.shop_temperature_c,
                &mut climate.shop_humidity_pct,
            ),
            1 => (
                &mut climate.dry_temperature_c,
                &mut climate.dry_humidity_pct,
            ),
            _ => (
                &mut climate.damp_temperature_c,
                &mut climate.damp_humidity_pct,
            ),
        };
        (*temperature, *humidity) = (*temperature_c, *humidity_pct);
        changed.climate = Some(climate);
    }
    changed
}
