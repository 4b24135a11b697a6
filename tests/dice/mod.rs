//! Random numbers for the tests of slots.

/// Numbers that look random and are the same in every run (splitmix64, public domain).
pub struct Dice(pub u64);

impl Dice {
    /// From 0 to 1.
    pub fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (bits >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From `low` to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }

    /// A whole number from `low` to `high`, both included.
    pub fn count(&mut self, low: u32, high: u32) -> u32 {
        low + (self.roll() * f64::from(high - low + 1)) as u32
    }
}
