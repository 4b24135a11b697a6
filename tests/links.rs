//! Links open for ever: these were made once, by the version named beside them, and
//! are never made anew. When one fails, the reader is wrong, not the link. Append one
//! whenever links gain something.
#![cfg(not(target_arch = "wasm32"))]

use ringwright::design::Design;
use ringwright::design::link::{decode, encode};
use ringwright::design::read::to_value;
use serde_json::{Value, json};

/// The starting design of the first page, a ring alone.
const FIRST: &str = "r1uQEyAoADnxUEuQpP8QkLnxoMT1ENT7EIDk9RDz8JEJ8cEU8BEoxNYXBsZSwgc3VnYXIFsxNPARRPARVEBrUWTwEXT_EFGE_xIxkAGp8fB7QbnyEcAB08HgAItB8_CSBfwQ8hT_EHIk_xBQmxI58kGv4";

/// Millimeters, a comma in the name.
const METRIC: &str = "r1uQEyAo5TY2hhbGUsIHp3ZWl0ZQOfGQS5Ck-xCgufGgxfkR8NX4HIAg5fkR8PPxUQnxwRX8kEEoNFbG0FsxNfyQQUX8kEFV-5AQa1Fl_xBBdfoeoBGF-xmgwZABqfIAe0G58hHAAdPB4ACLQfPwkgX8EPIV-xuAIiX6HqAQmxI58lF9U";

/// A name of unusual letters, a spacer, the hole given by its diameter.
const SPACER: &str = "r1uQEyAo8WR3LDtsOfZSA3IOKAkyDigJxmZWlu4oCdIOa8hiDwn6q1IDxiPgOfFwS5Ck_xCQufGwxPUQ1PgQgOT1EPPyEQnx0RTBKMTWFwbGUsIHN1Z2FyBbMTTwEUTwEVRAa1Fk8BF0_xBRhP8SMZABqfHwe0G58hHAAdPB4ACLQfPwkgX8EPIU_xByJP8QUJsSOfJD8k";

/// Every field that may stay empty is filled; a length on no grid.
const MEASURED: &str = "r1uQEyAoADnxgEuQpwQT7PPCwScEALnxoMT1ENT7EIDk9RDz8JEJ8cEU8BEoxNYXBsZSwgc3VnYXIFsxNPARRPARVABrUWTwEXT_EFGE_xIxlflxManyAHtBufIxxfQR08Hl_7lwIItB8_AyBfzAshT_EHIk_xBQmxI58l8gs";

/// The starting design once vessels could be in a link.
const SECOND: &str = "r1ugWzFUQUTwETTwEHtBwAHgAdPBufIQEyAoAJsSOfJAS5EJ8cDk9RC58aDU-xCApP8QkPPwkRTwEMT1ESjE1hcGxlLCBzdWdhcga5SAAXT_EFFk8BSU-xARkAGp8fR6JPUU9xGE_xI0oACLQiT_EFHz8JIF_BDyFP8QcDnxU2AFbw";

/// As `SPACER`, once vessels could be in a link.
const SECOND_SPACER: &str = "r1ugWzFUQUTwETTwEHtBwAHgAdPBufIQEyAo8WR3LDtsOfZSA3IOKAkyDigJxmZWlu4oCdIOa8hiDwn6q1IDxiPgmxI58kBLkQnx0OT1ELnxsNT4EICk_xCQ8_IRFMDE9REoxNYXBsZSwgc3VnYXIGuUgAF0_xBRZPAUlPsQEZABqfH0eiT1FPcRhP8SNKAAi0Ik_xBR8_CSBfwQ8hT_EHA58XNgDr0g";

/// A vase of seventeen rings.
const VESSEL: &str = "r1ugWzFUQUTwETTwEHtBwAHgAdPBufIQEyAo8CVmFzZSBvZiB0d28gd29vZHMJsSOfJAS5EJ8cDk9RC58aDU-xCApP8QkPPwkRTwEMT1ESjE1hcGxlLCBzdWdhcga5SAAXT_EFFk8BSU-xARkAGp8fR6JPUU9xGE_xI0oACLQiT_EFHz8JIF_BDyFP8QcDnxU2tjxPMTpPGTfGAw4AQE-RA0-RBk_RCU_JC0_xDDkBEDgAT_0BT6kDT_EDT60CT9EBT5ECO08RPc8CChABnxwOAE9JT0lPSU9JT2lPaU9pT2lPaU9JT0lPSU9JT0lPaU9JcIhmZmZmZilAQgFAQwEQPwCfNp81nzWfNZ81nzWfNZ81nzWfNZ81nzWfNZ81nzWfNZ81QQFARAGhMA8BPwERAV_JBEAAMDIwMjAyMDIwMjAyMDIwMjA-ooxNYXBsZSwgc3VnYXKLUHVycGxlaGVhcnSe9A";

/// A bowl with a wood of the turner's own, its seasons and a base of plies on a ledge.
const SEASONS: &str = "r1vQWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmAATxFPCU8REgHvEV6fWWBPSWM_ERLvEVC4Vl-hbVVf-SZUX6EiU1-RH1dflQ1Yn0lSX5lGUV-RHwe0HAAeAB08G58hATICgAmxI58kBLkQnxwOT1ELnxoNT7EICk_xCQ8_CRFPAQxPURLvEQa5SAAXT_EFFk8BSU-xARkAGp8fR6JPUU9xGE_xI0oACLQiT_EFHz8JIF_BDyFP8QcDnxU2tjxPMTpPITfFAw4AQE8xT8EBT_ECT_EDOQEQOABP_QFP8QJPhQRP2QRP8QQ7Txk9xgoQAZ8cDgIuT0lPQUIBQEMBED8BnzVBAUBEAaEwDwE_EREBX8kEQAAwMjAyMDI-ou8R70A-obdMhyNhYTMzMjJL7wQCiUhlZGdlIGVsbRlftRNOAE0ATwAuAQ";

/// A vase with boards, a base let in, two slot sets, a bench of its own and measured rings.
const LATE: &str = "r1vwAFsxVEFE8BE08BXLlfAGFfBV2fVGJfoQlkwwJgAU8JEgHvEV6fWGBPOWM_CRLvEZIBtpMBn4wBlAE2lQFf_UaYAU8xlwFfQZYBX5EfULhWX6FtVV_5JlRf4S5TX5EfVwBYn0lSX5lGUV-RHwe0HAAeAB08G58hATKiAcIIDgBfsxwApgEAn5kBn5cBDQAAX6WcAaUBAJ-YAZ-XAQoAX929AQAPAD8RPwmkAQEAowEAX4HLAQACiUxhdGUgZm9ybQmynwGfkQEjnyWBAbOEAckJiQEC_AGhsooBT_EDiwFP8QSgIQJgAU_xL0_xJ0_xI0_xF0_xI0_xF4cBAvwBNDIZAQCIAQGfH4UBAt4An3-fgAGff2AAT3FPsQFPcU-xAU9xTxFPMU8xT7EBhgEAT_EFT_EGT_EET_EDT_EDT_ECT_EDT_ECT_EEEgIqAO8R7z7vRe8R7z7vRYIBn3yDAU8RBLkQnxwOT1ELnxoNT7EGCk_xBw8_CRFPAQxPURLvEQa6SE_xBRdP8QUWTwFJT3EZX90OGp8fR6RPMU9RT3FPkQEYT_EjSk_xD4ABPy0ItCJP8QUfPwkgX8EPIU_xBwOfFTa3PE8xOk8pN8cDDgBAT3FPsQNPsQVP8QdP0QlP8Qo5ARA4AE-RAk_BAk_RA0_xA0-BA0-RAk-xAjtPGT3ICxABnxwOAkZPSXAyMzMzM5MsQE8BT4kBT3lCAr5ATxF_AvIQIBBDAs4QIBA_AZ81QQFARALIoTChMqEwoTShMA8BPxERAV_JBEAAMDIwMjQyNDJrwg1zAQBxAZ9oYQFqbAE-cgBAX4UjbwFf3zQWAU8BcACfZp9ndAGfbG4BPwF1AZ9tbQE_ARIBMj6j7xHvPu9FAzQ";

fn opened(link: &str) -> Value {
    let (design, troubles) = decode(link).expect("an old link opens");
    assert_eq!(troubles, [], "{link}");
    to_value(&design)
}

/// Checks a link field by field: what a later version adds beside them is its own.
#[track_caller]
fn assert_holds(link: &str, fields: &[(&str, Value)]) {
    let design = opened(link);
    for (pointer, expected) in fields {
        let found = design.pointer(pointer);
        match expected.as_f64() {
            // To the last bit but for the reader's own decimals.
            Some(number) => {
                let found = found.and_then(Value::as_f64).expect(pointer);
                assert!((found - number).abs() < 1e-9, "{pointer}: {found}");
            }
            None => assert_eq!(found, Some(expected), "{pointer}"),
        }
    }
}

/// What the first page started with, every field of it.
fn starting_fields() -> Vec<(&'static str, Value)> {
    vec![
        ("/form", json!(1)),
        ("/name", json!("")),
        ("/unit", json!("inch_16")),
        ("/ring/outside_diameter_mm", json!(254.0)),
        ("/ring/hole_by", json!("wall")),
        ("/ring/wall_mm", json!(19.05)),
        ("/ring/inside_diameter_mm", json!(215.9)),
        ("/ring/height_mm", json!(19.05)),
        ("/ring/segment_count", json!(12)),
        ("/ring/between", json!("nothing")),
        ("/ring/spacer_mm", json!(3.175)),
        ("/ring/wood", json!("Maple, sugar")),
        ("/allowance/outside_mm", json!(3.175)),
        ("/allowance/inside_mm", json!(3.175)),
        ("/allowance/face_mm", json!(0.793_75)),
        ("/shop/kerf_mm", json!(3.175)),
        ("/shop/hold_back_mm", json!(152.4)),
        ("/shop/strip_length_mm", json!(914.4)),
        ("/shop/price", json!(null)),
        ("/shop/price_per", json!("board_foot")),
        ("/dry_fit/open_at", json!("through")),
        ("/dry_fit/gap_mm", json!(null)),
        ("/dry_fit/glued_count", json!(6)),
        ("/dry_fit/glued_angle_deg", json!(null)),
        ("/stave/count", json!(12)),
        ("/stave/lean_deg", json!(10.0)),
        ("/stave/length_mm", json!(203.2)),
        ("/stave/bottom_diameter_mm", json!(152.4)),
        ("/paper/size", json!("letter")),
    ]
}

#[test]
fn the_first_links_open_with_every_field() {
    assert_holds(FIRST, &starting_fields());
    assert_holds(SECOND, &starting_fields());
}

#[test]
fn a_link_in_millimeters_opens() {
    assert_holds(
        METRIC,
        &[
            ("/name", json!("Schale, zweite")),
            ("/unit", json!("millimeter")),
            ("/ring/outside_diameter_mm", json!(266.7)),
            ("/ring/wall_mm", json!(20.0)),
            ("/ring/height_mm", json!(20.0)),
            ("/ring/segment_count", json!(18)),
            ("/ring/wood", json!("Elm")),
            ("/allowance/outside_mm", json!(3.0)),
            ("/shop/kerf_mm", json!(3.2)),
            ("/shop/strip_length_mm", json!(1000.0)),
            ("/shop/price_per", json!("cubic_meter")),
            ("/paper/size", json!("a4")),
        ],
    );
}

#[test]
fn links_with_unusual_letters_and_a_spacer_open() {
    for link in [SPACER, SECOND_SPACER] {
        assert_holds(
            link,
            &[
                ("/name", json!("Größe 7 – “fein” 漆 🪵 <b>")),
                ("/unit", json!("inch_64")),
                ("/ring/hole_by", json!("inside_diameter")),
                ("/ring/inside_diameter_mm", json!(206.375)),
                ("/ring/segment_count", json!(24)),
                ("/ring/between", json!("spacer")),
                ("/ring/spacer_mm", json!(2.381_25)),
            ],
        );
    }
}

#[test]
fn a_link_with_everything_measured_opens() {
    assert_holds(
        MEASURED,
        &[
            ("/unit", json!("inch_decimal")),
            ("/ring/outside_diameter_mm", json!(257.135_800_18)),
            ("/allowance/face_mm", json!(0.0)),
            ("/shop/price", json!(12.35)),
            ("/shop/price_per", json!("cubic_meter")),
            ("/dry_fit/open_at", json!("inside")),
            ("/dry_fit/gap_mm", json!(0.4)),
            ("/dry_fit/glued_angle_deg", json!(179.25)),
            ("/stave/count", json!(9)),
            ("/stave/lean_deg", json!(-7.5)),
            ("/paper/size", json!("a4")),
        ],
    );
}

#[test]
fn a_link_with_a_vessel_opens() {
    assert_holds(
        VESSEL,
        &[
            ("/name", json!("Vase of two woods")),
            ("/vessel/foot_wall_mm", json!(7.9375)),
            ("/vessel/rim_wall_mm", json!(6.35)),
            ("/vessel/floor_mm", json!(12.7)),
            ("/vessel/woods", json!(["Maple, sugar", "Purpleheart"])),
            ("/vessel/points/0/radius_mm", json!(53.181_25)),
            ("/vessel/points/5/height_mm", json!(330.2)),
            ("/vessel/points/5/is_corner", json!(false)),
            ("/vessel/rings/0/made_of", json!("disc")),
            ("/vessel/rings/1/made_of", json!("segments")),
            ("/vessel/rings/1/turn_half_segments", json!(1)),
            ("/vessel/rings/4/height_mm", json!(23.8125)),
            ("/vessel/rings/4/segment_count", json!(8)),
            ("/vessel/rings/16/pattern", json!([0])),
        ],
    );
    let rings = opened(VESSEL).pointer("/vessel/rings").cloned();
    assert_eq!(
        rings.and_then(|rings| rings.as_array().map(Vec::len)),
        Some(17)
    );
}

#[test]
fn a_link_with_woods_seasons_and_a_base_opens() {
    assert_holds(
        SEASONS,
        &[
            ("/woods/0/name", json!("Hedge elm")),
            ("/woods/0/like", json!("Elm, rock")),
            ("/woods/0/color", json!("#aa3322")),
            ("/woods/0/price", json!(12.5)),
            ("/woods/0/radial_pct", json!(null)),
            ("/climate/shop_humidity_pct", json!(45.0)),
            ("/climate/dry_humidity_pct", json!(22.0)),
            ("/climate/damp_temperature_c", json!(25.0)),
            ("/climate/meter_pct", json!(8.5)),
            ("/climate/sawn", json!("flat")),
            ("/base/kind", json!("plies")),
            ("/base/set", json!("on_ledge")),
            ("/base/diameter_mm", json!(null)),
            ("/base/ledge_mm", json!(6.0)),
            ("/base/plies/1/wood", json!("Maple, sugar")),
            ("/vessel/rings/0/made_of", json!("segments")),
        ],
    );
}

#[test]
fn boards_slots_bench_and_measured_rings_open() {
    assert_holds(
        LATE,
        &[
            ("/name", json!("Late form")),
            ("/paper/size", json!("a4")),
            ("/paper/orientation", json!("landscape")),
            ("/vessel/rings/2/is_matched", json!(true)),
            ("/vessel/rings/2/spacer_mm", json!(3.0)),
            ("/vessel/rings/7/inside_extra_mm", json!(6.35)),
            ("/vessel/slot_sets/1/from_ring", json!(7)),
            ("/vessel/slot_sets/1/slot_count", json!(8)),
            ("/vessel/slot_sets/1/gauge_deg", json!(33.83)),
            ("/vessel/slot_sets/1/leans", json!("left")),
            ("/vessel/slot_sets/1/further_deg", json!(22.5)),
            ("/vessel/slot_sets/1/blade_mm", json!(null)),
            ("/vessel/slot_sets/1/shows", json!("inside_too")),
            ("/base/set", json!("let_in")),
            ("/base/plies/2/thickness_mm", json!(4.7625)),
            ("/rack/goal", json!("fewest")),
            ("/rack/boards/0/avoid/0/to_mm", json!(127.0)),
            ("/rack/boards/5/thickness_is", json!("planed")),
            ("/rack/boards/8/wood", json!("Wenge")),
            ("/bench/glue", json!("liquid_hide")),
            ("/bench/meet_above_ring", json!(3)),
            ("/bench/station_mm", json!(20.0)),
            ("/bench/plug_bore_mm", json!(12.7)),
            ("/vessel/rings/0/measured/outside_diameter_mm", json!(121.5)),
            ("/vessel/rings/0/measured/inside_diameter_mm", json!(null)),
            ("/vessel/rings/0/measured/outside_across", json!("corners")),
            ("/vessel/rings/1/measured/inside_diameter_mm", json!(100.1)),
            ("/vessel/rings/1/segment_count", json!(12)),
        ],
    );
}

#[test]
fn an_old_link_means_the_same_when_it_is_made_anew() {
    for link in [
        FIRST,
        METRIC,
        SPACER,
        MEASURED,
        SECOND,
        SECOND_SPACER,
        VESSEL,
        SEASONS,
        LATE,
    ] {
        let (design, _): (Design, _) = decode(link).expect("an old link opens");
        assert_eq!(decode(&encode(&design)), Ok((design, vec![])), "{link}");
    }
}

/// A link of boards with spots over their whole width, as it was before spots could lie beside
/// clear wood.
#[test]
fn boards_whose_spots_go_right_across_have_the_link_that_they_had() {
    const BEFORE: &str = "r1uwWzFUQUTwETTwEHtBwAHgAdPBufIQEyAoAJsSOfJIEBs4QBobmJAcICigEAT_EDT_ETiwEAT_EET_EVIU_xR4cBNhkAiAGfH4UBn39gT3GGAU-xBhLkggGffIMBTxEEuRCfHA5PUQufGg1PsQgKT_EJDz8JEU8BDE9REu8RBrpIABdP8QUWTwFJT7EBGQAanx9Hok9RT3EYT_EjSgCAAT8tCLQiT_EFHz8JIF_BDyFP8QcDnxU2ANf5";
    let (mut design, troubles) = decode(BEFORE).unwrap();
    assert_eq!(troubles, []);
    assert_eq!(encode(&design), BEFORE);
    // And one that does not is another.
    let spot = &mut design.rack.as_mut().unwrap().boards[0].avoid[1];
    (spot.across_from_mm, spot.across_to_mm) = (Some(25.4), None);
    let link = encode(&design);
    assert_ne!(link, BEFORE);
    assert_eq!(decode(&link), Ok((design, vec![])));
}
