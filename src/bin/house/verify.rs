//! x
use crate::Outcome;
use std::process::ExitCode;
pub fn is_step(name: &str) -> bool {
    ["fmt", "wasm"].contains(&name)
}
pub fn list() {}
pub fn verify(_s: &[String]) -> Outcome<ExitCode> {
    Ok(ExitCode::SUCCESS)
}
