//! The library computes the same inside WebAssembly, in Node and in a browser.
//!
//! Started by `cargo verify wasm`. Only what depends on the target is tested here:
//! floating-point functions come from another library there, and the door to
//! JavaScript exists nowhere else.

#![cfg(target_arch = "wasm32")]

use ringwright::design::{self, Design};
use ringwright::plan::plan;
use ringwright::{design::link, web};
use wasm_bindgen_test::wasm_bindgen_test;

#[wasm_bindgen_test]
fn a_ring_of_twelve_closes_at_fifteen_degrees() {
    let plan = plan(&Design::default());
    let segment = plan.ring.segment.expect("the starting ring has a segment");
    let half_angle_deg = segment.outside.half_angle_rad.to_degrees();
    assert!((half_angle_deg - 15.0).abs() < 1e-12, "{half_angle_deg}");
}

#[wasm_bindgen_test]
fn a_design_comes_back_from_its_link() {
    let design = Design::starting("de-DE");
    let (back, troubles) = link::decode(&link::encode(&design)).expect("a good link");
    assert_eq!(
        design::read::to_value(&back),
        design::read::to_value(&design)
    );
    assert!(troubles.is_empty(), "{troubles:?}");
}

#[wasm_bindgen_test]
fn a_design_crosses_the_door_and_comes_back() {
    let there = web::starting_design("en-US").expect("a design");
    let link = web::link_of(there).expect("a link");
    assert_eq!(link, link::encode(&Design::default()));
}
