//! What a hand does to the design, on the pictures and beside them: each change is a value
//! with a name, and so are its parts.

use crate::design::Design;
use crate::design::link;
use crate::draw::{MM_PER_PX, point};
use crate::edit::vessel::{Repeat, accent_mm};
use crate::edit::{
    allowance, base, bench, built, climate, first_slots, foot, inlay, open_ring, opening,
    out_of_true, rack, round, start, stripe, variation, vessel, wood,
};
use crate::plan::built::Reorder;
use crate::show::pictures::inlay::{BandView, BladeView};
use crate::show::pictures::view::View;
use crate::units::kept::part;
use serde_json::{Map, Value};

/// A change's name and its parts.
pub struct Change {
    /// Its name.
    pub kind: &'static str,
    /// Each part's name, and what it is: `usize`, `u32`, `f64`, `String` or `Numbers`.
    pub parts: &'static [(&'static str, &'static str)],
}

/// Numbers that the page was given, and hands back as they are.
type Numbers = Vec<f64>;

/// A kind of part as the page's scripts call it.
macro_rules! told {
    (String) => {
        "string"
    };
    (Numbers) => {
        "number[]"
    };
    ($number:ident) => {
        "number"
    };
}

/// One line for each change: its name, its parts, and what becomes of the design. The
/// page's type, the reader and the list are made of the same line.
macro_rules! changes {
    (|$design:ident| $($kind:literal { $($part:ident: $is:ident),* } => $becomes:expr,)*) => {
        /// The type of a change, as the page's scripts are checked against it.
        pub const TYPESCRIPT: &str = concat!(
            "export type Change =",
            $("\n  | { kind: '", $kind, "'", $("; ", stringify!($part), ": ", told!($is),)* " }",)*
            ";\n"
        );

        /// Every change with its parts.
        pub const ALL: &[Change] = &[$(Change {
            kind: $kind,
            parts: &[$((stringify!($part), stringify!($is)),)*],
        },)*];

        /// Nothing for a change that there is not, or one with other parts than its own.
        fn changed($design: &Design, change: &Map<String, Value>) -> Option<Design> {
            let mut expected = 1;
            let next = match change.get("kind")?.as_str()? {
                $($kind => {
                    $(
                        let $part: $is = part(change, stringify!($part))?;
                        expected += 1;
                    )*
                    if change.len() != expected { return None; }
                    $becomes
                })*
                _ => return None,
            };
            Some(next)
        }
    };
}

changes! { |design|
    // The vessel's curve. Places on the section are pixels, together with its view.
    "begin" { shape: String } => {
        let start = start::find(&shape)?;
        let diameter = design.ring.outside_diameter_mm;
        let height = crate::units::length::round(diameter * start.height_for_diameter);
        start::begin(design, &shape, diameter, height)
    },
    "divide" {} => start::divide(design),
    "move_point" { place: usize, x: f64, y: f64, view: Numbers } => {
        let (height, radius) = on_section(x, y, &view)?;
        built::pull(design, place, height, radius)
    },
    "nudge_point" { place: usize, up: f64, out: f64 } => built::nudge(design, place, up, out),
    "add_point" { x: f64, y: f64, view: Numbers } => {
        vessel::add_point(design, on_section(x, y, &view)?.0)
    },
    "remove_point" { place: usize } => vessel::remove_point(design, place),
    "toggle_corner" { place: usize } => vessel::toggle_corner(design, place),
    // Its rings.
    "add_ring" { ring: usize } => vessel::add_ring(design, ring),
    "add_accent" { ring: usize, wood: usize } => {
        vessel::add_accent(design, ring, wood, accent_mm(design))
    },
    "remove_ring" { ring: usize } => vessel::remove_ring(design, ring),
    "remove_above_rim" {} => vessel::remove_above_rim(design),
    "add_glued" {} => built::add_glued(design),
    "begin_glued" {} => built::begin_glued(design),
    "glued" { ring: usize } => built::set_glued(design, ring, true),
    "planned" { ring: usize } => built::set_glued(design, ring, false),
    "swap" { ring: usize, other: usize } => built::reorder(design, Reorder::Swap(ring, other)),
    "turn_over" { ring: usize } => built::reorder(design, Reorder::Turn(ring)),
    "take_nearest" {} => built::take_nearest(design),
    "go_on_with_left" { ring: usize } => out_of_true::go_on(design, ring),
    "draw_in_rings" {} => built::draw_in_rings(design),
    "draw_along_outside" {} => built::draw_along_outside(design),
    // Their woods.
    "paint" { ring: usize, segment: u32, wood: usize } => {
        vessel::paint(design, ring, segment, wood)
    },
    "repeat" { ring: usize, wood: usize, pattern: String } => {
        vessel::repeat(design, ring, wood, Repeat::called(&pattern)?)
    },
    "stripe" { ring: usize, wood: usize, laid: String } => {
        stripe::stripe(design, ring, wood, &laid)?
    },
    "meet_stripes" { ring: usize } => stripe::meet(design, ring),
    "add_layer" { ring: usize } => stripe::add_layer(design, ring),
    "remove_layer" { ring: usize } => stripe::remove_layer(design, ring),
    "mirror_stripes" { ring: usize } => stripe::mirror(design, ring),
    "plain" { ring: usize } => stripe::plain(design, ring),
    "share_unevenly" { ring: usize, wood: usize } => round::share_unevenly(design, ring, wood),
    "share_evenly" { ring: usize } => round::share_evenly(design, ring),
    "same_gap" { ring: usize } => open_ring::same_gap(design, ring),
    "open_above" { ring: usize } => open_ring::open_above(design, ring),
    "spiral" { ring: usize } => vessel::spiral(design, ring, 1),
    "columns" { ring: usize } => vessel::spiral(design, ring, 0),
    "mirror" {} => vessel::mirror(design),
    "add_wood" { name: String } => vessel::add_wood(design, &name),
    "remove_wood" { wood: usize } => vessel::remove_wood(design, wood),
    // All of the piece at once.
    "become" { link: String } => variation::take(design, link::decode(&link).ok()?.0),
    // Slot sets. Places on the band and the blade's scale are pixels, together with the view.
    "begin_slots" { way: String } => first_slots::begin(design, first_slots::Begun::called(&way)?),
    "add_set" {} => inlay::add_set(design),
    "crossing" { set: usize } => inlay::add_other_way(design, set, false),
    "zigzag" { set: usize } => inlay::add_other_way(design, set, true),
    "strips_of" { set: usize, name: String } => inlay::strips_of(design, set, &name),
    "layer_strips" { set: usize } => inlay::layer_strips(design, set),
    "fit_layers" { set: usize } => inlay::fit_layers(design, set),
    "add_strip_layer" { set: usize } => inlay::add_layer(design, set),
    "remove_strip_layer" { set: usize } => inlay::remove_layer(design, set),
    "plain_strips" { set: usize } => inlay::plain_strips(design, set),
    "remove_set" { set: usize } => inlay::remove_set(design, set),
    "open_window" { set: usize, opening: usize } => opening::take(design, set, opening),
    "fit" { set: usize } => inlay::fit_zigzag(design, set, false),
    "fit_nearest" { set: usize } => inlay::fit_zigzag(design, set, true),
    "place_set" { set: usize, x: f64, view: Numbers } => {
        inlay::place_set(design, set, on_band(x, &view)?)
    },
    "nudge_set" { set: usize, steps: f64 } => inlay::nudge_set(design, set, steps),
    "lean" { set: usize, x: f64, view: Numbers } => {
        inlay::lean_set(design, set, *view.get(6)?, on_band(x, &view)?)
    },
    "nudge_lean" { set: usize, steps: f64 } => inlay::nudge_lean(design, set, steps),
    "raise_blade" { set: usize, y: f64, view: Numbers } => {
        let scale = BladeView { table_mm: *view.get(4)?, scale: *view.get(5)? };
        inlay::raise_blade(design, set, scale.blade_mm(y * MM_PER_PX))
    },
    "nudge_blade" { set: usize, steps: f64 } => inlay::nudge_blade(design, set, steps),
    // Where the halves meet: above so many rings, or where the page would choose.
    "meet" { above: u32 } => bench::meet(design, Some(above)),
    "meet_own" {} => bench::meet(design, None),
    // The ring beside the saw.
    "switch_allowance" {} => allowance::switched(design),
    // Boards.
    "add_board" {} => rack::add(design),
    "copy_board" { board: usize } => rack::copy(design, board),
    "remove_board" { board: usize } => rack::remove(design, board),
    "add_avoid" { board: usize } => rack::add_avoid(design, board),
    "remove_avoid" { board: usize, avoid: usize } => rack::remove_avoid(design, board, avoid),
    // Woods, climate, base.
    "add_own" { name: String } => wood::add_own(design, &name),
    "add_like" { name: String, like: String } => wood::add_like(design, &name, &like),
    "remove_own" { own: usize } => wood::remove_own(design, own),
    "air" { of: String, described: String } => climate::take_air(design, &of, &described)?,
    "let_base_in" { ring: usize } => base::let_into(design, ring),
    "add_ply" {} => base::change_plies(design, true),
    "remove_ply" {} => base::change_plies(design, false),
}

/// Height and radius at a pixel of the section.
fn on_section(x: f64, y: f64, view: &[f64]) -> Option<(f64, f64)> {
    Some(View::from_numbers(view)?.real(point(x * MM_PER_PX, y * MM_PER_PX)))
}

/// The direction at a pixel across the band.
fn on_band(x: f64, view: &[f64]) -> Option<f64> {
    let band = BandView::from_numbers(view.get(..4)?)?;
    Some(band.direction(x * MM_PER_PX))
}

/// Changes the design as a hand does; what does not fit leaves it as it was.
///
/// # Errors
/// What was asked for, where there is no such change or its parts are not its own.
pub fn change(design: &Design, asked: &Value) -> Result<Design, String> {
    let next = asked.as_object().and_then(|parts| changed(design, parts));
    let next = next.map(|next| foot::go_along(design, next));
    next.ok_or_else(|| format!("no such change: {asked}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    /// The lantern vase: it has rings, woods and slots for every change to act upon.
    fn vase() -> Design {
        let link = crate::design::example::ALL[1].link;
        crate::design::link::decode(link)
            .expect("an example opens")
            .0
    }

    /// A good value for a part.
    fn good(name: &str, is: &str) -> Value {
        match (name, is) {
            ("shape", _) => start::ALL[0].word.into(),
            ("pattern", _) => "every2".into(),
            ("way", _) => "crossing".into(),
            ("laid", _) => "chevron".into(),
            ("of", _) => "shop".into(),
            ("link", _) => crate::design::example::ALL[0].link.into(),
            ("described", _) => crate::plan::season::AIRS[0].0.into(),
            (_, "String") => "maple".into(),
            (_, "Numbers") => json!([50.0, 90.0, 0.5, 0.5, 60.0, 0.5, 0.1]),
            (_, "f64") => json!(0.5),
            _ => json!(0),
        }
    }

    fn whole(change: &Change) -> Map<String, Value> {
        let mut asked = Map::from_iter([("kind".to_owned(), change.kind.into())]);
        for (name, is) in change.parts {
            asked.insert((*name).to_owned(), good(name, is));
        }
        // A view of the section is three numbers; one of band and blade is seven.
        if asked.contains_key("view") && !asked.contains_key("set") {
            asked.insert("view".into(), json!([50.0, 90.0, 0.5]));
        }
        asked
    }

    fn is_refused(design: &Design, asked: Map<String, Value>) {
        let asked = Value::Object(asked);
        let said = change(design, &asked).err();
        assert_eq!(said, Some(format!("no such change: {asked}")));
    }

    #[test]
    fn every_change_is_taken_with_its_parts_and_refused_with_others() {
        let design = vase();
        let mut parts = 0;
        for it in ALL {
            let taken = change(&design, &Value::Object(whole(it)));
            assert!(taken.is_ok(), "{}: {taken:?}", it.kind);
            let mut more = whole(it);
            more.insert("more".into(), json!(0));
            is_refused(&design, more);
            for (name, is) in it.parts {
                let mut missing = whole(it);
                missing.remove(*name);
                is_refused(&design, missing);
                let of_another_kind = match *is {
                    "String" => json!(1),
                    _ => json!("1"),
                };
                for wrong in [of_another_kind, Value::Null] {
                    let mut mistyped = whole(it);
                    mistyped.insert((*name).to_owned(), wrong);
                    is_refused(&design, mistyped);
                }
                parts += 1;
            }
        }
        assert!(ALL.len() > 40 && parts > 60, "{} {parts}", ALL.len());
    }

    #[test]
    fn what_is_no_change_is_refused() {
        let design = vase();
        for asked in [
            json!({ "kind": "bigin", "shape": "bowl" }),
            json!({ "kind": "begin", "shape": "no such shape" }),
            json!({ "kind": "repeat", "ring": 0, "wood": 0, "pattern": "every9" }),
            json!({ "kind": "air", "of": "attic", "described": "" }),
            json!({ "kind": "add_ring", "ring": -1 }),
            json!({ "kind": "add_ring", "ring": 0.5 }),
            json!({ "kind": "add_point", "x": 1.0, "y": 1.0, "view": [1.0, 2.0, 0.0] }),
            json!({ "kind": "add_point", "x": 1.0, "y": 1.0, "view": [1.0, 2.0] }),
            json!({ "shape": "bowl" }),
            json!({ "kind": 1 }),
        ] {
            is_refused(&design, asked.as_object().cloned().unwrap_or_default());
        }
        for asked in [Value::Null, json!([]), json!("divide")] {
            assert!(change(&design, &asked).is_err(), "{asked}");
        }
    }

    #[test]
    fn the_pages_type_has_every_change() {
        let lines: Vec<&str> = TYPESCRIPT.lines().collect();
        assert_eq!(lines.len(), ALL.len() + 1);
        assert!(
            TYPESCRIPT
                .contains("| { kind: 'repeat'; ring: number; wood: number; pattern: string }")
        );
        assert!(TYPESCRIPT.contains("| { kind: 'divide' }\n"));
    }
}
