//! The targets of `fuzz/` on a few inputs: those that are kept because they once found
//! something or reach far, and some thousand changes of them that are the same on every
//! run. `cargo verify fuzz` goes on for longer and finds inputs by itself.
#![cfg(not(target_arch = "wasm32"))]

mod fuzzed;
mod shared;
use shared::Dice;

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

/// How many changed inputs each target is given.
const LIGHT_RUNS: u32 = 4000;
/// The same where every screen is set each time.
const HEAVY_RUNS: u32 = 400;

/// Inputs that once found something.
const KEPT: [&str; 10] = [
    "edits/a-base-let-into-no-ring",
    "edits/a-board-of-a-wood-with-a-long-name",
    "edits/a-point-beyond-all-others",
    "edits/band-and-window-without-a-size",
    "edits/plies-thinner-than-any-length",
    "edits/a-planned-ring-too-wide-to-be-measured",
    "edits/rings-of-a-curve-too-high",
    "glued/a-clock-beyond-all-calendars",
    "glued/rings-higher-than-any-field-takes",
    "length/fraction-sign-and-a-digit",
];

/// Of each target: how many things an input holds that are taken, on average, at the least:
/// about half of what is seen. A reader that refused all would pass else.
const LEAST_TAKEN: [(&str, f64); 6] = [
    ("link", 0.015),
    ("length", 0.07),
    ("file", 0.5),
    ("edits", 2.5),
    ("glued", 1.2),
    ("boards", 2.0),
];

/// Bytes that often mean something.
const TELLING: [u8; 8] = [0, 1, 7, 15, 127, 128, 254, 255];

fn runs(target: &str) -> u32 {
    let told = std::env::var("RINGWRIGHT_FUZZ_RUNS").ok();
    told.and_then(|runs| runs.parse().ok())
        .unwrap_or(match target {
            "edits" | "glued" | "boards" => HEAVY_RUNS,
            _ => LIGHT_RUNS,
        })
}

fn kept(target: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("fuzz/corpus")
        .join(target);
    let mut files: Vec<_> = fs::read_dir(&folder)
        .map(|entries| entries.flatten().map(|entry| entry.path()).collect())
        .unwrap_or_default();
    files.sort();
    let mut inputs: Vec<Vec<u8>> = files
        .iter()
        .map(|file| fs::read(file).expect("a kept input can be read"))
        .collect();
    inputs.extend(fuzzed::seeds(target));
    inputs
}

/// One input made another, as fuzzers do: bytes changed, put in, taken out, moved on from
/// another one.
fn change(input: &mut Vec<u8>, other: &[u8], dice: &mut Dice) {
    for _ in 0..dice.count(1, 6) {
        let at = dice.count(0, input.len() as u32) as usize;
        let any = dice.count(0, 255) as u8;
        let telling = TELLING[dice.count(0, 7) as usize];
        let end = (at + dice.count(1, 16) as usize).min(input.len());
        match dice.count(0, 5) {
            0 if at < input.len() => input[at] = any,
            1 if at < input.len() => input[at] = telling,
            2 => input.insert(at, any),
            3 => drop(input.drain(at..end)),
            4 => input.truncate(at.max(4)),
            _ => {
                let from = dice.count(0, other.len() as u32) as usize;
                let to = (from + dice.count(0, 32) as usize).min(other.len());
                drop(input.splice(at..end, other[from..to].iter().copied()));
            }
        }
    }
}

fn try_target(name: &str) {
    let (_, target) = fuzzed::TARGETS
        .iter()
        .find(|it| it.0 == name)
        .expect("a target");
    let inputs = kept(name);
    let mut dice = Dice(u64::from(u32::MAX) * name.len() as u64);
    let (mut count, mut taken) = (0, 0);
    let mut tried = |input: &[u8]| {
        let result = catch_unwind(AssertUnwindSafe(|| target(input)));
        taken += result.unwrap_or_else(|_| {
            panic!(
                "target {name} fails on these bytes; keep them in fuzz/corpus/{name}/: {input:?}"
            )
        });
        count += 1;
    };
    for input in &inputs {
        tried(input);
    }
    for _ in 0..runs(name) {
        let pick = |dice: &mut Dice| dice.count(0, inputs.len() as u32 - 1) as usize;
        let mut input = inputs[pick(&mut dice)].clone();
        let other = pick(&mut dice);
        change(&mut input, &inputs[other], &mut dice);
        tried(&input);
    }
    println!("{name}: {taken} taken in {count} inputs");
    let (_, least) = LEAST_TAKEN.iter().find(|it| it.0 == name).expect("a floor");
    assert!(
        taken as f64 >= least * f64::from(count),
        "{name}: {taken} taken in {count} inputs"
    );
}

#[test]
fn what_once_found_something_is_kept() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus");
    for file in KEPT {
        assert!(corpus.join(file).is_file(), "{file}");
    }
    // In a folder that is no target's, nothing would be tried.
    for folder in fs::read_dir(&corpus).expect("the kept inputs") {
        let folder = folder.expect("an entry").file_name();
        let is_target = fuzzed::TARGETS.iter().any(|it| folder == *it.0);
        assert!(is_target, "{}", folder.display());
    }
}

#[test]
fn a_figure_that_is_no_number_is_found_and_a_name_is_none() {
    let is_found = |figure: f64| {
        let figures = [
            (Some(1.0), "inf".to_owned()),
            (Some(figure), "NaN".to_owned()),
        ];
        catch_unwind(|| fuzzed::is_sound(&figures)).is_err()
    };
    let strange = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];
    assert_eq!(strange.map(is_found), [true; 3]);
    assert_eq!([0.0, 1e300, f64::MAX].map(is_found), [false; 3]);
}

#[test]
fn any_link_behind_its_checksum() {
    try_target("link");
}

#[test]
fn any_length() {
    try_target("length");
}

#[test]
fn any_file() {
    try_target("file");
}

#[test]
fn any_changes_by_hand() {
    try_target("edits");
}

#[test]
fn any_glued_rings() {
    try_target("glued");
}

#[test]
fn any_boards() {
    try_target("boards");
}
