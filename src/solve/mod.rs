//! Floor 2, solve: mathematics that knows no wood.

pub mod covered;
pub mod dice;
pub mod nearest;
pub mod pack;
pub mod session;
pub mod sorted;
pub mod stacking;
