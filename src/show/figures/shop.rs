//! In what a design is of another shop than the turner's own.

use super::step::field_text;
use super::{Entry, Figure, entry};
use crate::design::Design;
use crate::design::field::find;
use crate::design::read::to_value;
use crate::edit::shop::{OF_SHOP, differing, filled, take};
use crate::show::words;
use crate::units::quantity::in_words;
use serde_json::Value;

/// So many differences are told, more are counted.
const MOST_TOLD: usize = 4;

/// What is told of a design in which the shop is another one; empty where it is the same.
pub fn shop(design: &Design, kept: &Value) -> String {
    let keys = differing(design, kept);
    if keys.is_empty() {
        return String::new();
    }
    // Both in the units of the design.
    let there = Design {
        unit: design.unit,
        ..take(design, kept)
    };
    let (here, there) = (filled(design), filled(&there));
    let (own, other) = (to_value(&here), to_value(&there));
    let told = |key: &str| {
        let field = find(key)?;
        let here = field_text(&here, &own, field, key);
        let unit = (key == "unit").then(|| take(design, kept));
        let there = match &unit {
            Some(kept) => field_text(kept, &to_value(kept), field, key),
            None => field_text(&there, &other, field, key),
        };
        let label = words::label(key);
        Some(words::filled(
            words::SHOP_DIFFERS,
            &[label, &or_none(here), &or_none(there)],
        ))
    };
    let mut all: Vec<String> = keys
        .iter()
        .take(MOST_TOLD)
        .filter_map(|key| told(key))
        .collect();
    if keys.len() > MOST_TOLD {
        all.push(words::filled(
            words::SHOP_MORE,
            &[&(keys.len() - MOST_TOLD).to_string()],
        ));
    }
    words::filled(words::SHOP_OTHER, &[&all.join("; ")])
}

/// All that is kept of a shop, in its own unit; nothing of what is no shop.
pub fn rows(kept: &Value) -> Vec<Figure> {
    if !kept.is_object() {
        return Vec::new();
    }
    let design = filled(&take(&Design::default(), kept));
    let whole = to_value(&design);
    let row = |key: &&'static str| {
        let field = find(key)?;
        let Entry { label, unit, .. } = entry(&design, &whole, field, key);
        let text = or_none(field_text(&design, &whole, field, key));
        let is_number = text.starts_with(|it: char| it.is_ascii_digit());
        let told = if is_number {
            format!("{text} {unit}").trim_end().to_owned()
        } else {
            text
        };
        Some(Figure {
            key: format!("own.{key}"),
            label,
            shown: in_words(told),
            note: String::new(),
        })
    };
    OF_SHOP.iter().filter_map(row).collect()
}

/// An empty field's text.
fn or_none(text: String) -> String {
    if text.is_empty() {
        words::SHOP_NONE.text.to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::shop::of;
    use crate::edit::type_in;

    #[test]
    fn all_of_a_kept_shop_is_told() {
        let thin = type_in(&Design::default(), "shop.kerf_mm", "3/32").unwrap();
        let told = rows(&of(&thin));
        assert_eq!(told.len(), OF_SHOP.len());
        let kerf = told.iter().find(|it| it.label == "Kerf").unwrap();
        assert_eq!(kerf.shown.text, "3/32 in");
        assert!(rows(&Value::Null).is_empty());
    }

    #[test]
    fn another_shop_is_told_in_the_designs_own_unit() {
        let own = Design::default();
        let kept = of(&own);
        assert_eq!(shop(&own, &kept), "");
        let thin = type_in(&own, "shop.kerf_mm", "3/32").unwrap();
        assert_eq!(
            shop(&thin, &kept),
            "Other than in your shop: Kerf 3/32 (yours 1/8)."
        );
        let swing = type_in(&own, "shop.swing_mm", "12").unwrap();
        assert_eq!(
            shop(&swing, &kept),
            "Other than in your shop: Lathe’s swing 12 (yours none)."
        );
        let metric = Design::starting("de-DE");
        let told = shop(&metric, &kept);
        assert!(
            told.starts_with("Other than in your shop: Unit Millimeters (yours Inches, 16ths); "),
            "{told}"
        );
        assert!(
            told.contains("; and ") && told.ends_with(" more."),
            "{told}"
        );
        // And nothing is told where nothing was kept that can be read.
        assert_eq!(shop(&metric, &Value::Null), "");
    }
}
