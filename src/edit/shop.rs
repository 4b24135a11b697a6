//! What belongs to the turner's shop and not to the piece: it is entered once, and each new
//! design begins with it.

use crate::design::field::at_mut;
use crate::design::read::to_value;
use crate::design::{Climate, Design};
use serde_json::{Map, Value};

/// The fields that tell of the shop, what hands ask for most first.
pub const OF_SHOP: &[&str] = &[
    "unit",
    "shop.kerf_mm",
    "shop.hold_back_mm",
    "shop.swing_mm",
    "shop.slowest_rpm",
    "shop.index_plates",
    "shop.gauge_most_deg",
    "shop.blade_most_mm",
    "shop.planer_least_mm",
    "bench.glue",
    "climate.shop_temperature_c",
    "climate.shop_humidity_pct",
    "allowance.outside_mm",
    "allowance.inside_mm",
    "allowance.face_mm",
    "shop.stock_mm",
    "shop.board_width_mm",
    "shop.least_segment_mm",
    "shop.strip_length_mm",
    "shop.waste_percent",
    "shop.price",
    "shop.price_per",
    "shop.currency",
    "bench.overhang_mm",
    "bench.station_mm",
    "bench.plug_clearance_mm",
    "bench.plug_bore_mm",
    "bench.pace",
    "paper.size",
    "paper.orientation",
];

/// The shop of a design: its fields' values by their keys.
pub fn of(design: &Design) -> Value {
    let mut whole = to_value(&filled(design));
    let value = |key: &&'static str| Some(((*key).to_owned(), at_mut(&mut whole, key)?.take()));
    Value::Object(OF_SHOP.iter().filter_map(value).collect::<Map<_, _>>())
}

/// The design in another shop. A value that its field does not take is left as it is.
#[must_use]
pub fn take(design: &Design, shop: &Value) -> Design {
    let own = of(design);
    let other = |key: &&&str| shop.get(**key).is_some() && shop.get(**key) != own.get(**key);
    OF_SHOP
        .iter()
        .filter(other)
        .fold(design.clone(), |design, key| {
            let mut whole = to_value(&filled(&design));
            let Some(part) = at_mut(&mut whole, key) else {
                return design;
            };
            *part = shop[*key].clone();
            match Design::restore(&whole) {
                Ok((read, troubles)) if troubles.is_empty() => read,
                _ => design,
            }
        })
}

/// The fields in which a design's shop is another one.
pub fn differing(design: &Design, shop: &Value) -> Vec<&'static str> {
    let (own, other) = (of(design), of(&take(design, shop)));
    let keys = OF_SHOP.iter().copied();
    keys.filter(|key| own.get(key) != other.get(key)).collect()
}

/// The design with all that a shop's fields stand in.
pub(crate) fn filled(design: &Design) -> Design {
    let mut design = design.with_bench();
    design.climate.get_or_insert_with(Climate::usual);
    design
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::design::field::find;
    use crate::design::link;
    use serde_json::json;

    fn example_design() -> Design {
        let vase = example::ALL.iter().find(|it| it.word == "lantern_vase");
        link::decode(vase.unwrap().link).unwrap().0
    }

    #[test]
    fn every_field_of_the_shop_is_one_of_the_design_and_is_kept() {
        assert!(OF_SHOP.iter().all(|key| find(key).is_some()));
        let design = example_design();
        let shop = of(&design);
        assert_eq!(shop.as_object().unwrap().len(), OF_SHOP.len());
        let fresh = take(&Design::starting("de-DE"), &shop);
        assert_eq!(of(&fresh), shop);
        assert!(differing(&fresh, &shop).is_empty());
        // Nothing of the piece comes along.
        assert_eq!(fresh.vessel, None);
        assert_eq!(fresh.ring, Design::starting("de-DE").ring);
    }

    #[test]
    fn a_shop_taken_changes_nothing_else() {
        let design = example_design();
        let mut shop = of(&design);
        shop["shop.kerf_mm"] = json!(2.4);
        shop["bench.glue"] = json!("slow_epoxy");
        let mut there = take(&design, &shop);
        assert_eq!(differing(&design, &shop), ["shop.kerf_mm", "bench.glue"]);
        assert!((there.shop.kerf_mm - 2.4).abs() < 1e-12);
        there.shop.kerf_mm = design.shop.kerf_mm;
        there.bench = design.bench.clone();
        assert_eq!(there, design);
    }

    #[test]
    fn a_spoiled_shop_spoils_nothing() {
        let design = Design::default();
        for shop in [
            Value::Null,
            json!("x"),
            json!({"shop.kerf_mm": "thin", "unit": 7, "vessel": {}, "shop.swing_mm": -4.0}),
        ] {
            assert_eq!(take(&design, &shop), design, "{shop}");
        }
        let half = json!({"shop.kerf_mm": [], "shop.hold_back_mm": 100.0});
        let taken = take(&design, &half);
        assert!((taken.shop.hold_back_mm - 100.0).abs() < 1e-12);
        assert_eq!(taken.shop.kerf_mm.to_bits(), design.shop.kerf_mm.to_bits());
    }
}
