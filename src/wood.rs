//! Woods: what they weigh and the color they are drawn in.
//!
//! Names and specific gravities are from the table in `tests/reference/woods.csv`
//! (Wood Handbook, USDA FPL-GTR-190, 2010, Table 5-3; each row there names its
//! source). A wood without a figure has none here: it is never guessed. Colors are
//! our own, chosen by eye for freshly planed heartwood; they state no fact.

/// One wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wood {
    /// Its name, the general name first: `Maple, sugar`.
    pub name: &'static str,
    /// Ovendry weight over the volume at 12 % moisture content, against water.
    pub specific_gravity: Option<f64>,
    /// The color it is drawn in, `0xRRGGBB`.
    pub color: u32,
}

impl Wood {
    /// Density at 12 % moisture content, kg/m³: ρ = 1000 G (1 + 12/100) (Wood
    /// Handbook, 2010, chapter 4, density from specific gravity).
    pub fn density_kg_m3(&self) -> Option<f64> {
        self.specific_gravity.map(|gravity| 1000.0 * gravity * 1.12)
    }
}

/// The color of a wood that is not in the table.
pub const PLAIN_COLOR: u32 = 0x00d8_bc8f;

/// The wood with this name, however it is capitalized.
pub fn find(name: &str) -> Option<Wood> {
    let wanted = name.trim();
    all().find(|wood| wood.name.eq_ignore_ascii_case(wanted))
}

/// Every wood in the table.
pub fn all() -> impl Iterator<Item = Wood> {
    WOODS.iter().map(|&(name, specific_gravity, color)| Wood {
        name,
        specific_gravity,
        color,
    })
}

/// The place of a wood of exactly this name in the table.
pub fn number_of(name: &str) -> Option<usize> {
    WOODS.iter().position(|wood| wood.0 == name)
}

/// Append only: links name woods by their place. Name, specific gravity at 12 % moisture content, color.
const WOODS: &[(&str, Option<f64>, u32)] = &[
    ("Alder, red", Some(0.41), 0x00c9_9a6b),
    ("Apple", None, 0x00b9_8258),
    ("Ash, black", Some(0.49), 0x00b7_9a74),
    ("Ash, green", Some(0.56), 0x00d3_bd97),
    ("Ash, white", Some(0.60), 0x00e0_cfac),
    ("Aspen, quaking", Some(0.38), 0x00ec_e1c8),
    ("Basswood, American", Some(0.37), 0x00ec_dfc2),
    ("Beech, American", Some(0.64), 0x00d6_b48c),
    ("Birch, paper", Some(0.55), 0x00e6_d3ae),
    ("Birch, river", None, 0x00d9_b98c),
    ("Birch, sweet", Some(0.65), 0x00c7_9f73),
    ("Birch, yellow", Some(0.62), 0x00dc_c195),
    ("Buckeye, yellow", Some(0.36), 0x00ef_e6cf),
    ("Butternut", Some(0.38), 0x00b9_8f63),
    ("Catalpa, northern", None, 0x00b6_a07c),
    ("Cherry, black", Some(0.50), 0x00a9_633f),
    ("Chestnut, American", Some(0.43), 0x00b0_8d62),
    ("Cottonwood, eastern", Some(0.40), 0x00dd_cdaa),
    ("Elm, American", Some(0.50), 0x00bd_9a70),
    ("Elm, rock", Some(0.63), 0x00c6_a478),
    ("Elm, slippery (red)", Some(0.53), 0x00a9_7f57),
    ("Hackberry", Some(0.53), 0x00dc_cb9c),
    ("Hickory, pecan", Some(0.66), 0x00c7_9d6c),
    ("Hickory, shagbark (true)", Some(0.72), 0x00cd_a878),
    ("Holly, American", None, 0x00f3_efe2),
    ("Honeylocust", None, 0x00c1_845a),
    ("Locust, black", Some(0.69), 0x00b8_9a55),
    ("Madrone, Pacific", None, 0x00c5_8b6b),
    ("Maple, bigleaf", Some(0.48), 0x00e0_c59c),
    ("Maple, black", Some(0.57), 0x00e6_cfa6),
    ("Maple, red (soft)", Some(0.54), 0x00e3_cba4),
    ("Maple, silver", Some(0.47), 0x00e6_d3b0),
    ("Maple, sugar", Some(0.63), 0x00ea_d7b2),
    ("Oak, live", Some(0.88), 0x00b8_966a),
    ("Oak, northern red", Some(0.63), 0x00c6_9a72),
    ("Oak, white", Some(0.68), 0x00c4_a274),
    ("Osage-orange", None, 0x00c9_932e),
    ("Persimmon, common", Some(0.74), 0x00c9_b08c),
    ("Sassafras", Some(0.46), 0x00b2_8a55),
    ("Sweetgum", Some(0.52), 0x00a9_764f),
    ("Sycamore, American", Some(0.49), 0x00d0_a983),
    ("Tanoak", None, 0x00b9_8a68),
    ("Tupelo, black", Some(0.50), 0x00c9_b48e),
    ("Walnut, black", Some(0.55), 0x005f_4330),
    ("Willow, black", Some(0.39), 0x00b0_8a66),
    ("Yellow-poplar", Some(0.42), 0x00cf_cb96),
    ("Baldcypress", Some(0.46), 0x00c9_a56a),
    ("Cedar, Alaska yellow", Some(0.44), 0x00ea_d38c),
    ("Cedar, Atlantic white", None, 0x00d9_b58a),
    ("Cedar, Port-Orford", Some(0.43), 0x00ea_d7a5),
    ("Cedar, incense", Some(0.37), 0x00c0_8a5e),
    ("Douglas-fir, coast", Some(0.48), 0x00c9_8f5c),
    ("Pine, eastern white", Some(0.35), 0x00e9_d3a4),
    ("Pine, ponderosa", Some(0.40), 0x00e4_c58f),
    ("Redcedar, eastern", Some(0.47), 0x00b4_604f),
    ("Redcedar, western", Some(0.32), 0x00a8_6f4b),
    ("Redwood, old growth", Some(0.40), 0x009a_5238),
    ("Redwood, second growth", Some(0.35), 0x00a8_6145),
    ("Spruce, Sitka", Some(0.40), 0x00ea_d6b0),
    ("Andiroba", None, 0x009f_5f42),
    ("Avodire", None, 0x00e5_d3a0),
    ("Bloodwood", None, 0x008e_2b22),
    (
        "Bocote (canalete, Cordia gerascanthus group)",
        None,
        0x008a_6a37,
    ),
    ("Bubinga", None, 0x008d_4a38),
    ("Cocobolo", None, 0x008c_3f24),
    ("Ebony, African", None, 0x0026_211f),
    ("Ebony, East Indian", None, 0x0033_292a),
    ("Goncalo alves", None, 0x00a2_643a),
    ("Greenheart", None, 0x0077_743f),
    ("Ipe", None, 0x005a_4a2f),
    ("Iroko", None, 0x009b_733c),
    ("Jatoba (courbaril)", None, 0x009a_5c3c),
    ("Limba", None, 0x00d6_b779),
    ("Mahogany, African (khaya)", None, 0x00a4_603f),
    ("Mahogany, true", None, 0x009c_5a38),
    ("Obeche", None, 0x00ea_d9ae),
    ("Okoume", None, 0x00c9_8f74),
    ("Padauk, African", None, 0x00a3_3f22),
    ("Primavera", None, 0x00e3_c98a),
    ("Purpleheart", None, 0x006d_3a58),
    ("Rosewood, Indian", None, 0x004c_2f33),
    ("Sapele", None, 0x008f_4f35),
    ("Spanish-cedar", None, 0x00b0_6f4c),
    ("Teak", None, 0x00a6_7c43),
    ("Wenge", None, 0x0043_332a),
    ("Yellowheart (pau amarello)", None, 0x00e3_bf3f),
    ("Zebrawood", None, 0x00b8_935a),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_by_name_and_weighs_by_the_handbook() {
        let maple = find(" maple, SUGAR ").unwrap();
        // 0.63 at 12 %: 1000 · 0.63 · 1.12.
        assert!((maple.density_kg_m3().unwrap() - 705.6).abs() < 1e-9);
        assert!(find("no such wood").is_none());
    }
}
