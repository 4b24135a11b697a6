//! Floor 1, units: what people type and what stands on the tape, and how a value is
//! kept as JSON. Knows nothing above it.

pub mod color;
pub mod kept;
pub mod length;
pub mod quantity;
pub mod reading;
