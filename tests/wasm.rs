//! The library computes the same inside WebAssembly, in Node and in a browser.
//!
//! Started by `cargo verify wasm`. Only what depends on the target is tested here:
//! floating-point functions come from another library there, and the door to
//! JavaScript exists nowhere else.

#![cfg(target_arch = "wasm32")]

use ringwright::design::{self, Design};
use ringwright::plan::plan;
use ringwright::{design::link, web};
use wasm_bindgen::JsValue;
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

#[wasm_bindgen_test]
fn a_change_that_there_is_not_is_refused_at_the_door() {
    let start = || web::starting_design("en-US").expect("a design");
    let asked = |text: &str| js_sys::JSON::parse(text).expect("JSON");
    let begin = r#"{ "kind": "begin", "shape": "bowl" }"#;
    assert!(web::change(start(), asked(begin)).is_ok());
    for wrong in [
        r#"{ "kind": "begin" }"#,
        r#"{ "kind": "begin", "shape": 1 }"#,
        r#"{ "kind": "begin", "shape": "bowl", "more": 1 }"#,
        r#"{ "kind": "bigin", "shape": "bowl" }"#,
        "null",
    ] {
        let refused = web::change(start(), asked(wrong)).err();
        let said = refused.map(|error| js_sys::Error::from(JsValue::from(error)).message());
        let said = said.map(String::from).unwrap_or_default();
        assert!(said.starts_with("no such change: "), "{wrong}: {said}");
    }
}
