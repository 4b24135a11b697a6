//! Dice that fall the same way each time they are thrown from the same seed.

/// `SplitMix64` (Steele, Lea and Flood, Fast splittable pseudorandom number generators, OOPSLA
/// 2014).
#[derive(Clone, Debug)]
pub struct Dice {
    state: u64,
}

impl Dice {
    /// Dice from a seed.
    pub const fn new(seed: u64) -> Dice {
        Dice { state: seed }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 to below 1.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A whole number below this one; 0 for 0.
    pub fn below(&mut self, count: u32) -> u32 {
        (self.share() * f64::from(count)) as u32
    }

    /// One of these; nothing of none.
    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> Option<&'a T> {
        from.get(self.below(from.len() as u32) as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers from seed 1234567 are those of the algorithm's published test vector
    /// (from memory).
    #[test]
    fn the_numbers_are_those_of_the_published_algorithm() {
        let mut dice = Dice::new(1_234_567);
        let expected = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
        ];
        for number in expected {
            assert_eq!(dice.next(), number);
        }
    }

    #[test]
    fn every_side_comes_up() {
        let mut dice = Dice::new(7);
        let mut sides = [0; 6];
        for _ in 0..6000 {
            sides[dice.below(6) as usize] += 1;
        }
        assert!(
            sides.iter().all(|count| (800..1200).contains(count)),
            "{sides:?}"
        );
        assert_eq!(dice.below(0), 0);
        assert_eq!(dice.pick::<u8>(&[]), None);
    }
}
