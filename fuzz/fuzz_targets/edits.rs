#![no_main]

#[path = "../../tests/fuzzed/mod.rs"]
#[allow(dead_code, reason = "the tests use more of it")]
mod fuzzed;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    fuzzed::TARGETS[3].1(bytes);
});
