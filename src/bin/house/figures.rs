//! x
use crate::Outcome;
#[allow(clippy::unnecessary_wraps)]
pub fn figures() -> Outcome<()> {
    Ok(())
}
