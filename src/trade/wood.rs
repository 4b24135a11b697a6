//! Woods: what they weigh, how they move, and the color they are drawn in.
//!
//! Every figure is from the tables in `tests/reference/woods.csv` and
//! `tests/reference/elastic_ratios.csv`, which name the source of each; a figure that
//! they do not have is missing here too: it is never guessed. Colors are our own,
//! chosen by eye for freshly planed heartwood; they state no fact.
//!
//! Beside the table stand the turner's own woods, a list in the design: `plan::woods`
//! looks a name up in both.

/// Which way the growth rings lie in a board, and so how much each side of it moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Along the stem.
    Along,
    /// From the pith outward.
    Radial,
    /// Along the growth rings.
    Tangential,
}

/// One wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wood {
    /// Its name in the table, the general name first: `Maple, sugar`; empty for a wood
    /// that the table does not have.
    pub name: &'static str,
    /// Ovendry weight over the volume at 12 % moisture content, against water.
    pub specific_gravity: Option<f64>,
    /// Shrinkage from green to ovendry, %: radial, tangential, in volume.
    pub shrinkage_pct: [Option<f64>; 3],
    /// Change for each % of moisture content between 6 and 14 %: radial, tangential.
    pub coefficient: [Option<f64>; 2],
    /// Modulus of elasticity at 12 % moisture content, `GPa`.
    pub modulus_gpa: Option<f64>,
    /// Stiffness radial and tangential over that along the grain.
    pub stiffness_ratio: [Option<f64>; 2],
    /// The color it is drawn in, `0xRRGGBB`.
    pub color: u32,
    /// The publications that the figures are from: a bit for each of [`SOURCES`].
    pub sources: u8,
    /// Which figures were not seen but remembered: a bit each for shrinkage, specific
    /// gravity, modulus and stiffness ratios.
    pub from_memory: u8,
    /// What it costs, where the turner said so, as [`crate::design::Shop::price_per`].
    pub price: Option<f64>,
}

/// A wood of which only the look is known.
pub const PLAIN: Wood = Wood {
    name: "",
    specific_gravity: None,
    shrinkage_pct: [None; 3],
    coefficient: [None; 2],
    modulus_gpa: None,
    stiffness_ratio: [None; 2],
    color: PLAIN_COLOR,
    sources: 0,
    from_memory: 0,
    price: None,
};

impl Wood {
    /// Density at 12 % moisture content, kg/m³: ρ = 1000 G (1 + 12/100) (Wood
    /// Handbook, 2010, chapter 4, density from specific gravity).
    pub fn density_kg_m3(&self) -> Option<f64> {
        self.specific_gravity.map(|gravity| 1000.0 * gravity * 1.12)
    }

    /// Whether anything is known of how it moves.
    pub fn moves(&self) -> bool {
        self.shrinkage_pct[1].or(self.coefficient[1]).is_some()
    }

    /// Stiffness along or across the grain, `GPa`. Where the table has no figure it is
    /// that of [`USUAL_MODULUS_GPA`] and [`USUAL_RATIOS`]: only shares of it count, and
    /// within one wood not even those.
    pub fn stiffness_gpa(&self, grain: Grain) -> f64 {
        let ratio = match grain {
            Grain::Along => 1.0,
            Grain::Radial => self.stiffness_ratio[0].unwrap_or(USUAL_RATIOS[0]),
            Grain::Tangential => self.stiffness_ratio[1].unwrap_or(USUAL_RATIOS[1]),
        };
        ratio * self.modulus_gpa.unwrap_or(USUAL_MODULUS_GPA)
    }
}

/// The middle of the table's moduli, in round figures.
pub const USUAL_MODULUS_GPA: f64 = 11.0;

/// The middle of the table's stiffness ratios, radial and tangential.
pub const USUAL_RATIOS: [f64; 2] = [0.10, 0.056];

/// The publications, by the bits of [`Wood::sources`].
pub const SOURCES: [&str; 8] = [
    "Wood Handbook, USDA FPL-GTR-190 (2010), Table 4-3",
    "Wood Handbook, USDA FPL-GTR-282 (2021), Table 4-3",
    "Wood Handbook (2010), Table 4-4",
    "Wood Handbook (2010), Table 13-5",
    "Wood Handbook (2010), Table 5-3",
    "Tropical Timbers of the World, USDA Agriculture Handbook 607 (1984)",
    "CIRAD tropical wood data sheet",
    "Undated data sheet with the figures of Table 4-3",
];

/// The color of a wood that is not in the table.
pub const PLAIN_COLOR: u32 = 0x00d8_bc8f;

/// Whether two names mean one wood.
pub fn is_same(one: &str, other: &str) -> bool {
    one.trim().eq_ignore_ascii_case(other.trim())
}

/// The wood with this name in the table, however it is capitalized.
pub fn find(name: &str) -> Option<Wood> {
    let wanted = name.trim();
    let place = WOODS
        .iter()
        .position(|wood| wood.0.eq_ignore_ascii_case(wanted))?;
    WOODS.get(place).map(of_row)
}

/// Every wood in the table.
pub fn all() -> impl Iterator<Item = Wood> {
    WOODS.iter().map(of_row)
}

fn of_row(&(name, color, figures, coefficients): &Row) -> Wood {
    let figure = |at: usize, parts: f64| {
        let number: u8 = figures[at];
        (number > 0).then(|| f64::from(number) / parts)
    };
    Wood {
        name,
        specific_gravity: figure(0, 100.0),
        shrinkage_pct: [figure(1, 10.0), figure(2, 10.0), figure(3, 10.0)],
        coefficient: coefficients.map(|it| (it > 0).then(|| f64::from(it) / 1e5)),
        modulus_gpa: figure(4, 10.0),
        stiffness_ratio: [figure(6, 1000.0), figure(5, 1000.0)],
        color,
        sources: figures[7],
        from_memory: figures[8],
        price: None,
    }
}

/// The place of a wood of exactly this name in the table.
pub fn number_of(name: &str) -> Option<usize> {
    WOODS.iter().position(|wood| wood.0 == name)
}

/// A row of the table: name; color; specific gravity at 12 % moisture content in
/// hundredths, shrinkage radial, tangential and in volume in tenths of a percent,
/// modulus of elasticity at 12 % in tenths of a `GPa`, tangential and radial stiffness
/// ratio in thousandths, the bits of its sources and of what is remembered; coefficients
/// radial and tangential in 1/100,000. 0 is no figure.
type Row = (&'static str, u32, [u8; 9], [u16; 2]);

/// Append only: links name woods by their place.
#[rustfmt::skip]
const WOODS: &[Row] = &[
    ("Alder, red", 0x00c9_9a6b, [41, 44, 73, 126, 95, 0, 0, 25, 0], [151, 256]),
    ("Apple", 0x00b9_8258, [0, 0, 0, 0, 0, 0, 0, 8, 0], [205, 376]),
    ("Ash, black", 0x00b7_9a74, [49, 50, 78, 152, 110, 0, 0, 25, 0], [172, 274]),
    ("Ash, green", 0x00d3_bd97, [56, 46, 71, 125, 114, 0, 0, 25, 0], [169, 274]),
    ("Ash, white", 0x00e0_cfac, [60, 49, 78, 133, 120, 80, 125, 25, 8], [169, 274]),
    ("Aspen, quaking", 0x00ec_e1c8, [38, 35, 67, 115, 81, 0, 0, 25, 0], [119, 234]),
    ("Basswood, American", 0x00ec_dfc2, [37, 66, 93, 158, 101, 27, 66, 25, 8], [230, 330]),
    ("Beech, American", 0x00d6_b48c, [64, 55, 119, 172, 119, 0, 0, 25, 0], [190, 431]),
    ("Birch, paper", 0x00e6_d3ae, [55, 63, 86, 162, 110, 0, 0, 25, 0], [219, 304]),
    ("Birch, river", 0x00d9_b98c, [0, 47, 92, 135, 0, 0, 0, 9, 0], [162, 327]),
    ("Birch, sweet", 0x00c7_9f73, [65, 65, 90, 156, 150, 0, 0, 25, 0], [256, 338]),
    ("Birch, yellow", 0x00dc_c195, [62, 73, 95, 168, 139, 50, 78, 25, 8], [256, 338]),
    ("Buckeye, yellow", 0x00ef_e6cf, [36, 36, 81, 125, 81, 0, 0, 25, 6], [123, 285]),
    ("Butternut", 0x00b9_8f63, [38, 34, 64, 106, 81, 0, 0, 25, 0], [116, 223]),
    ("Catalpa, northern", 0x00b6_a07c, [0, 0, 0, 0, 0, 0, 0, 8, 0], [85, 169]),
    ("Cherry, black", 0x00a9_633f, [50, 37, 71, 115, 103, 86, 197, 25, 8], [126, 248]),
    ("Chestnut, American", 0x00b0_8d62, [43, 34, 67, 116, 85, 0, 0, 25, 0], [116, 234]),
    ("Cottonwood, eastern", 0x00dd_cdaa, [40, 39, 92, 139, 94, 47, 83, 25, 8], [133, 327]),
    ("Elm, American", 0x00bd_9a70, [50, 42, 95, 146, 92, 0, 0, 25, 0], [144, 338]),
    ("Elm, rock", 0x00c6_a478, [63, 48, 81, 149, 106, 0, 0, 25, 0], [165, 285]),
    ("Elm, slippery (red)", 0x00a9_7f57, [53, 49, 89, 138, 103, 0, 0, 25, 0], [169, 315]),
    ("Hackberry", 0x00dc_cb9c, [53, 48, 89, 138, 82, 0, 0, 25, 0], [165, 315]),
    ("Hickory, pecan", 0x00c7_9d6c, [66, 49, 89, 136, 119, 0, 0, 25, 0], [169, 315]),
    ("Hickory, shagbark (true)", 0x00cd_a878, [72, 70, 105, 167, 149, 0, 0, 25, 1], [259, 411]),
    ("Holly, American", 0x00f3_efe2, [0, 48, 99, 169, 0, 0, 0, 9, 1], [165, 353]),
    ("Honeylocust", 0x00c1_845a, [0, 42, 66, 108, 112, 0, 0, 25, 1], [144, 230]),
    ("Locust, black", 0x00b8_9a55, [69, 46, 72, 102, 141, 0, 0, 25, 1], [158, 252]),
    ("Madrone, Pacific", 0x00c5_8b6b, [0, 56, 124, 181, 0, 0, 0, 9, 1], [194, 451]),
    ("Maple, bigleaf", 0x00e0_c59c, [48, 37, 71, 116, 100, 0, 0, 25, 1], [126, 248]),
    ("Maple, black", 0x00e6_cfa6, [57, 48, 93, 140, 112, 0, 0, 25, 1], [165, 353]),
    ("Maple, red (soft)", 0x00e3_cba4, [54, 40, 82, 126, 113, 67, 140, 25, 9], [137, 289]),
    ("Maple, silver", 0x00e6_d3b0, [47, 30, 72, 120, 79, 0, 0, 152, 0], [102, 252]),
    ("Maple, sugar", 0x00ea_d7b2, [63, 48, 99, 147, 126, 65, 132, 26, 0], [165, 353]),
    ("Oak, live", 0x00b8_966a, [88, 66, 95, 147, 137, 0, 0, 25, 6], [230, 338]),
    ("Oak, northern red", 0x00c6_9a72, [63, 40, 86, 137, 125, 82, 154, 26, 8], [158, 369]),
    ("Oak, white", 0x00c4_a274, [68, 56, 105, 163, 123, 72, 163, 25, 8], [180, 365]),
    ("Osage-orange", 0x00c9_932e, [0, 0, 0, 0, 0, 0, 0, 0, 0], [0, 0]),
    ("Persimmon, common", 0x00c9_b08c, [74, 79, 112, 191, 139, 0, 0, 25, 6], [278, 403]),
    ("Sassafras", 0x00b2_8a55, [46, 40, 62, 103, 77, 0, 0, 25, 6], [137, 216]),
    ("Sweetgum", 0x00a9_764f, [52, 53, 102, 158, 113, 50, 115, 25, 14], [183, 365]),
    ("Sycamore, American", 0x00d0_a983, [49, 50, 84, 141, 98, 0, 0, 25, 6], [172, 296]),
    ("Tanoak", 0x00b9_8a68, [0, 49, 117, 173, 0, 0, 0, 9, 0], [169, 423]),
    ("Tupelo, black", 0x00c9_b48e, [50, 51, 87, 144, 83, 0, 0, 25, 6], [176, 308]),
    ("Walnut, black", 0x005f_4330, [55, 55, 78, 128, 116, 56, 106, 25, 8], [190, 274]),
    ("Willow, black", 0x00b0_8a66, [39, 33, 87, 139, 70, 0, 0, 25, 6], [112, 308]),
    ("Yellow-poplar", 0x00cf_cb96, [42, 46, 82, 127, 109, 43, 92, 25, 8], [158, 289]),
    ("Baldcypress", 0x00c9_a56a, [46, 38, 62, 105, 99, 39, 84, 25, 15], [130, 216]),
    ("Cedar, Alaska yellow", 0x00ea_d38c, [44, 28, 60, 92, 98, 0, 0, 25, 4], [95, 208]),
    ("Cedar, Atlantic white", 0x00d9_b58a, [0, 29, 54, 88, 0, 0, 0, 9, 0], [99, 187]),
    ("Cedar, Port-Orford", 0x00ea_d7a5, [43, 46, 69, 101, 117, 0, 0, 25, 6], [158, 241]),
    ("Cedar, incense", 0x00c0_8a5e, [37, 33, 52, 77, 72, 0, 0, 25, 6], [112, 180]),
    ("Douglas-fir, coast", 0x00c9_8f5c, [48, 48, 76, 124, 134, 50, 68, 25, 0], [165, 267]),
    ("Pine, eastern white", 0x00e9_d3a4, [35, 21, 61, 82, 85, 0, 0, 25, 3], [71, 212]),
    ("Pine, ponderosa", 0x00e4_c58f, [40, 39, 62, 97, 89, 0, 0, 25, 1], [133, 216]),
    ("Redcedar, eastern", 0x00b4_604f, [47, 31, 47, 78, 61, 0, 0, 25, 6], [106, 162]),
    ("Redcedar, western", 0x00a8_6f4b, [32, 24, 50, 68, 77, 55, 81, 25, 14], [111, 234]),
    ("Redwood, old growth", 0x009a_5238, [40, 26, 44, 68, 92, 89, 87, 25, 9], [120, 205]),
    ("Redwood, second growth", 0x00a8_6145, [35, 22, 49, 70, 76, 0, 0, 25, 1], [101, 229]),
    ("Spruce, Sitka", 0x00ea_d6b0, [40, 43, 75, 115, 108, 43, 78, 25, 13], [148, 263]),
    ("Andiroba", 0x009f_5f42, [0, 31, 76, 104, 0, 0, 0, 12, 0], [137, 274]),
    ("Avodire", 0x00e5_d3a0, [0, 46, 67, 120, 0, 0, 0, 12, 0], [126, 226]),
    ("Bloodwood", 0x008e_2b22, [0, 0, 0, 0, 0, 0, 0, 0, 0], [0, 0]),
    ("Bocote (canalete, Cordia gerascanthus group)", 0x008a_6a37, [0, 40, 74, 0, 109, 0, 0, 32, 0], [0, 0]),
    ("Bubinga", 0x008d_4a38, [0, 58, 84, 142, 171, 0, 0, 36, 1], [0, 0]),
    ("Cocobolo", 0x008c_3f24, [0, 27, 43, 70, 0, 0, 0, 4, 1], [0, 0]),
    ("Ebony, African", 0x0026_211f, [0, 92, 108, 200, 0, 0, 0, 4, 1], [0, 0]),
    ("Ebony, East Indian", 0x0033_292a, [0, 54, 88, 142, 0, 0, 0, 4, 1], [0, 0]),
    ("Goncalo alves", 0x00a2_643a, [0, 40, 76, 100, 0, 0, 0, 4, 1], [0, 0]),
    ("Greenheart", 0x0077_743f, [0, 88, 96, 171, 0, 0, 0, 12, 1], [390, 430]),
    ("Ipe", 0x005a_4a2f, [0, 66, 80, 132, 0, 0, 0, 4, 1], [0, 0]),
    ("Iroko", 0x009b_733c, [0, 28, 38, 88, 94, 0, 0, 40, 0], [153, 205]),
    ("Jatoba (courbaril)", 0x009a_5c3c, [0, 45, 85, 127, 149, 0, 0, 32, 0], [0, 0]),
    ("Limba", 0x00d6_b779, [0, 45, 62, 108, 0, 0, 0, 12, 0], [151, 187]),
    ("Mahogany, African (khaya)", 0x00a4_603f, [0, 25, 45, 88, 90, 50, 111, 44, 8], [141, 201]),
    ("Mahogany, true", 0x009c_5a38, [0, 30, 41, 78, 103, 64, 107, 44, 8], [172, 238]),
    ("Obeche", 0x00ea_d9ae, [0, 0, 0, 0, 0, 0, 0, 8, 0], [106, 183]),
    ("Okoume", 0x00c9_8f74, [0, 0, 0, 0, 0, 0, 0, 8, 0], [194, 212]),
    ("Padauk, African", 0x00a3_3f22, [0, 33, 52, 76, 121, 0, 0, 32, 0], [0, 0]),
    ("Primavera", 0x00e3_c98a, [0, 0, 0, 0, 0, 0, 0, 8, 0], [106, 180]),
    ("Purpleheart", 0x006d_3a58, [0, 32, 61, 99, 157, 0, 0, 36, 1], [0, 0]),
    ("Rosewood, Indian", 0x004c_2f33, [0, 27, 58, 85, 0, 0, 0, 4, 1], [0, 0]),
    ("Sapele", 0x008f_4f35, [0, 46, 74, 140, 117, 0, 0, 32, 0], [0, 0]),
    ("Spanish-cedar", 0x00b0_6f4c, [0, 42, 63, 103, 0, 0, 0, 12, 1], [141, 219]),
    ("Teak", 0x00a6_7c43, [0, 25, 58, 70, 107, 0, 0, 12, 1], [101, 186]),
    ("Wenge", 0x0043_332a, [0, 59, 91, 0, 211, 0, 0, 64, 0], [0, 0]),
    ("Yellowheart (pau amarello)", 0x00e3_bf3f, [0, 0, 0, 0, 0, 0, 0, 0, 0], [0, 0]),
    ("Zebrawood", 0x00b8_935a, [0, 0, 0, 0, 0, 0, 0, 0, 0], [0, 0]),];

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
