//! What more than one test needs.
#![allow(dead_code, reason = "each test uses a part of it")]

pub mod cut;
pub mod sawn;

use lopdf::Document;
use proptest::prelude::ProptestConfig;
use ringwright::design::{Design, Vessel};
use ringwright::draw::Typeface;
use ringwright::plan::base::BasePlan;
use ringwright::plan::plan;
use ringwright::plan::stack::StackPlan;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The vessel of a design that has one.
pub fn vessel_of(design: &Design) -> &Vessel {
    design.vessel.as_ref().expect("a vessel")
}

/// The same, worked out.
pub fn stack_of(design: &Design) -> StackPlan {
    plan(design).into_stack().expect("a vessel")
}

/// The base of a design that has one.
pub fn base_of(design: &Design) -> BasePlan {
    plan(design).base().expect("a base").clone()
}

/// The vessel as it is said and as it is worked out.
pub fn planned(design: &Design) -> (&Vessel, StackPlan) {
    (vessel_of(design), stack_of(design))
}

/// The design with this vessel, worked out.
pub fn stack_with(design: &Design, vessel: &Vessel) -> StackPlan {
    let mut design = design.clone();
    design.vessel = Some(vessel.clone());
    stack_of(&design)
}

/// So many random cases. A failing one is printed; nothing is written beside the tests.
pub fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        // Fields whose bound is drawn, or that only follow, are drawn again.
        max_global_rejects: 20 * cases,
        max_shrink_iters: 300,
        ..ProptestConfig::default()
    }
}

/// Numbers that look random and are the same in every run (splitmix64, public domain).
pub struct Dice(pub u64);

impl Dice {
    /// From 0 to 1.
    pub fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (bits >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From `low` to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }

    /// A whole number from `low` to `high`, both included.
    pub fn count(&mut self, low: u32, high: u32) -> u32 {
        low + (self.roll() * f64::from(high - low + 1)) as u32
    }

    /// The same for places.
    pub fn whole(&mut self, low: usize, high: usize) -> usize {
        self.count(low as u32, high as u32) as usize
    }

    /// Whether it falls to one in so many.
    pub fn one_in(&mut self, count: f64) -> bool {
        count * self.roll() < 1.0
    }
}

/// The typeface of paper, as the page hands it over.
pub fn typeface() -> Option<&'static Typeface<'static>> {
    static READ: LazyLock<Option<Typeface>> =
        LazyLock::new(|| Typeface::read(include_bytes!("../../www/fonts/arimo.ttc")));
    assert!(READ.is_some(), "a whole typeface");
    READ.as_ref()
}

/// What the codes of a page's fonts are read as, by the fonts' names.
pub type Read = BTreeMap<Vec<u8>, BTreeMap<u16, char>>;

/// Another reader's way to the letters: each font's `ToUnicode` (ISO 32000-1, 9.10.3).
pub fn letters_of(document: &Document, page: lopdf::ObjectId) -> Read {
    let fonts = document.get_page_fonts(page).expect("fonts").into_iter();
    let read = fonts.map(|(name, font)| {
        let id = font.get(b"ToUnicode").and_then(lopdf::Object::as_reference);
        let stream = document.get_object(id.expect("a map")).unwrap();
        let text = stream.as_stream().unwrap().decompressed_content().unwrap();
        let text = String::from_utf8(text).unwrap();
        let pairs = text.lines().filter_map(|line| {
            let (code, letter) = line
                .strip_prefix('<')?
                .strip_suffix('>')?
                .split_once("> <")?;
            let number = |text| u16::from_str_radix(text, 16).unwrap();
            let letter = char::from_u32(number(letter).into())?;
            Some((number(code), letter))
        });
        // The first is the space of all codes.
        (name, pairs.skip(1).collect())
    });
    read.collect()
}

/// A string of a page in one of its fonts.
pub fn spelled(read: &Read, font: &[u8], codes: &[u8]) -> String {
    let pairs = codes
        .chunks(2)
        .map(|two| u16::from_be_bytes([two[0], two[1]]));
    pairs.map(|code| read[font][&code]).collect()
}
