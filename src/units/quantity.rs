//! Quantities other than plain lengths as the turner reads them: angles, small lengths,
//! weights, volumes, times. Each formatter has both its inch and its metric form.

use crate::units::length::{MM_PER_INCH, Shown, Unit, decimal, show, steps_down};

/// So many of a thing: one is told as one.
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Minutes as they are said at the bench: `45 min`, `2 h`, `1 h 20 min`.
pub fn hours_and_minutes(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest}\u{a0}min"),
        (hours, 0) => format!("{hours}\u{a0}h"),
        (hours, rest) => format!("{hours}\u{a0}h {rest}\u{a0}min"),
    }
}

/// Cubic millimeters in a board foot: 144 cubic inches.
pub const BOARD_FOOT_MM3: f64 = 144.0 * MM_PER_INCH * MM_PER_INCH * MM_PER_INCH;

/// Board feet in a volume.
pub fn board_feet(volume_mm3: f64) -> f64 {
    volume_mm3 / BOARD_FOOT_MM3
}

/// An angle in degrees.
pub fn shown_degrees(radians: f64) -> Shown {
    Shown::decimal(decimal(radians.to_degrees(), 3), "°", " degrees")
}

/// An angle in degrees, to four places.
pub fn fine_degrees(radians: f64) -> Shown {
    Shown::decimal(decimal(radians.to_degrees(), 4), "°", " degrees")
}

/// A gap or other small length: thousandths of an inch, hundredths of a millimeter.
pub fn fine(length_mm: f64, unit: Unit) -> Shown {
    if unit.is_inch() {
        Shown::decimal(decimal(length_mm / MM_PER_INCH, 3), "in", " inches")
    } else {
        Shown::decimal(decimal(length_mm, 2), "mm", " millimeters")
    }
}

/// The step to which [`fine`] rounds.
fn fine_step_mm(unit: Unit) -> f64 {
    if unit.is_inch() {
        MM_PER_INCH / 1000.0
    } else {
        0.01
    }
}

/// A small length that must not be passed: never rounded up.
pub fn fine_at_most(length_mm: f64, unit: Unit) -> Shown {
    let step_mm = fine_step_mm(unit);
    fine(steps_down(length_mm, step_mm) * step_mm, unit)
}

/// A small length that must be reached: never rounded down.
pub fn fine_at_least(length_mm: f64, unit: Unit) -> Shown {
    let step_mm = fine_step_mm(unit);
    fine(-steps_down(-length_mm, step_mm) * step_mm, unit)
}

/// A bare number.
pub fn number(text: String) -> Shown {
    Shown::decimal(text, "", "")
}

/// An amount of the turner's money, its sign behind it where that is known.
pub fn money(amount: f64, currency: &str) -> Shown {
    let currency = currency.trim();
    let spoken = if currency.is_empty() {
        String::new()
    } else {
        format!(" {currency}")
    };
    Shown::decimal(format!("{amount:.2}"), currency, &spoken)
}

/// What is told in words where a number would stand.
pub fn in_words(text: String) -> Shown {
    Shown {
        is_words: true,
        ..number(text)
    }
}

/// A volume of wood: board feet, or what reads well in meters; never told as less than it is.
pub fn wood_volume(volume_mm3: f64, unit: Unit) -> Shown {
    wood_measure(volume_mm3, unit).shown(volume_mm3)
}

/// Volumes of wood in one list, all in the unit of the greatest.
pub fn wood_volumes(volumes_mm3: &[f64], unit: Unit) -> Vec<Shown> {
    let greatest_mm3 = volumes_mm3.iter().copied().fold(0.0, f64::max);
    let measure = wood_measure(greatest_mm3, unit);
    let each = volumes_mm3.iter();
    each.map(|volume_mm3| measure.shown(*volume_mm3)).collect()
}

/// An area of something that is bought in sheets, no less than so much: 1 ft = 304.8 mm exactly
/// (NIST SP 811, appendix B).
pub fn area(area_mm2: f64, unit: Unit) -> Shown {
    let up = |figure: f64, places: i32| {
        let steps = 10_f64.powi(places);
        decimal((figure * steps - 1e-6).ceil() / steps, places as usize)
    };
    if unit.is_inch() {
        let feet = area_mm2 / 304.8_f64.powi(2);
        Shown::decimal(up(feet, 1), "sq ft", " square feet")
    } else {
        Shown::decimal(up(area_mm2 / 1e6, 2), "m²", " square meters")
    }
}

/// A unit in which wood is told.
struct WoodMeasure {
    mm3: f64,
    places: u8,
    mark: &'static str,
    spoken: &'static str,
}

impl WoodMeasure {
    fn shown(&self, volume_mm3: f64) -> Shown {
        let steps = 10_f64.powi(i32::from(self.places));
        // A whole figure that sums left dust on is that figure.
        let figure = (volume_mm3 / self.mm3 * steps - 1e-6).ceil() / steps;
        let text = decimal(figure, usize::from(self.places));
        Shown::decimal(text, self.mark, self.spoken)
    }
}

fn wood_measure(volume_mm3: f64, unit: Unit) -> WoodMeasure {
    // What would round to next to nothing is told in a smaller unit.
    let (mm3, places, mark, spoken) = if unit.is_inch() && board_feet(volume_mm3) < 0.1 {
        (MM_PER_INCH.powi(3), 1, "cu in", " cubic inches")
    } else if unit.is_inch() {
        (BOARD_FOOT_MM3, 2, "board ft", " board feet")
    } else if volume_mm3 < 1e6 {
        (1e3, 0, "cm³", " cubic centimeters")
    } else if volume_mm3 < 1e8 {
        (1e6, 1, "L", " liters")
    } else {
        (1e9, 3, "m³", " cubic meters")
    };
    WoodMeasure {
        mm3,
        places,
        mark,
        spoken,
    }
}

/// A weight; small ones in small units.
pub fn weight(weight_kg: f64, unit: Unit) -> Shown {
    // 1 lb = 0.45359237 kg exactly, and 16 oz (NIST SP 811).
    let pounds = weight_kg / 0.453_592_37;
    if unit.is_inch() && pounds < 0.1 {
        Shown::decimal(decimal(pounds * 16.0, 1), "oz", " ounces")
    } else if !unit.is_inch() && weight_kg < 0.1 {
        Shown::decimal(decimal(weight_kg * 1000.0, 0), "g", " grams")
    } else if unit.is_inch() {
        Shown::decimal(decimal(pounds, 2), "lb", " pounds")
    } else {
        Shown::decimal(decimal(weight_kg, 2), "kg", " kilograms")
    }
}

/// 1 US fluid ounce = 29.573 529 562 5 mL exactly (NIST SP 811, appendix B).
pub const MILLILITERS_PER_FLUID_OUNCE: f64 = 29.573_529_562_5;

/// What a vessel holds: US fluid ounces or milliliters.
pub fn held(volume_mm3: f64, unit: Unit) -> Shown {
    let milliliters = volume_mm3 / 1000.0;
    if unit.is_inch() {
        Shown::decimal(
            decimal(milliliters / MILLILITERS_PER_FLUID_OUNCE, 0),
            "fl oz",
            " fluid ounces",
        )
    } else {
        Shown::decimal(decimal(milliliters, 0), "mL", " milliliters")
    }
}

/// A density.
pub fn density_shown(kilograms: f64, unit: Unit) -> Shown {
    if unit.is_inch() {
        // 1 lb/ft³ = 16.018 46 kg/m³ (NIST SP 811, appendix B).
        let pounds = decimal(kilograms / 16.018_46, 0);
        Shown::decimal(pounds, "lb/ft³", " pounds a cubic foot")
    } else {
        let text = decimal(kilograms, 0);
        Shown::decimal(text, "kg/m³", " kilograms a cubic meter")
    }
}

/// A share in percent.
pub fn percent(share_pct: f64, places: usize) -> Shown {
    Shown::decimal(decimal(share_pct, places), "%", " percent")
}

/// Degrees with up to three places and the sign behind them.
pub fn degrees(radians: f64) -> String {
    format!("{}°", decimal(radians.to_degrees(), 3))
}

/// A length in one line, `2 3/4 in`: as the tape has it. In a sentence, what the rounding
/// left over is in the way.
pub fn length(length_mm: f64, unit: Unit) -> String {
    show(length_mm, unit).line()
}

/// A movement or play: thousandths of an inch, hundredths of a millimeter.
pub fn fine_length(length_mm: f64, unit: Unit) -> String {
    fine(length_mm, unit).line()
}

/// A temperature with its mark.
pub fn temperature(celsius: f64, unit: Unit) -> String {
    let degrees = decimal(unit.shown_degrees(celsius), 0);
    format!("{degrees} {}", unit.degrees_mark())
}

/// A force in pounds or newtons.
pub fn force(newtons: f64, unit: Unit) -> String {
    // 1 lbf = 4.448 221 615 260 5 N (NIST SP 811, appendix B).
    if unit.is_inch() {
        format!("{} lb", decimal(newtons / 4.448_221_615, 1))
    } else {
        format!("{} N", decimal(newtons, 0))
    }
}

/// Minutes, quarters of an hour from one hour on, halves from two on, rounded so that no
/// wait becomes shorter.
pub fn duration(minutes: f64) -> Shown {
    if minutes <= 60.0 {
        return Shown::decimal(decimal(minutes.ceil(), 0), "min", " minutes");
    }
    let parts = if minutes < 120.0 { 4.0 } else { 2.0 };
    let hours = (minutes / 60.0 * parts).ceil() / parts;
    Shown::decimal(decimal(hours, 2), "h", " hours")
}

/// The surface of something in the hand.
pub fn surface(area_mm2: f64, unit: Unit) -> Shown {
    if unit.is_inch() {
        Shown::decimal(decimal(area_mm2 / 645.16, 0), "sq in", " square inches")
    } else {
        let text = decimal(area_mm2 / 100.0, 0);
        Shown::decimal(text, "cm²", " square centimeters")
    }
}

/// How far a liter of a first coat and one of later coats go, or a US quart: 1 qt = 0.946 352 946 L, 1 ft² = 0.092 903 04 m² (NIST
/// SP 811, appendix B).
pub fn spread(m2_l: [f64; 2], unit: Unit) -> String {
    let is_inch = unit.is_inch();
    let to_shown = if is_inch {
        0.946_352_946 / 0.092_903_04
    } else {
        1.0
    };
    let [first, later] = m2_l.map(|it| decimal(it * to_shown, 0));
    let mark = if is_inch {
        "sq ft a quart"
    } else {
        "m² a liter"
    };
    format!("{first}, then {later} {mark}")
}

/// The area to be glued.
pub fn glue_area(area_mm2: f64, unit: Unit) -> String {
    if unit.is_inch() {
        format!("{} sq in of glue", decimal(area_mm2 / 645.16, 1))
    } else {
        format!("{} cm² of glue", decimal(area_mm2 / 100.0, 0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_has_its_sign_where_that_is_known() {
        assert_eq!(money(12.4, " € ").line(), "12.40 €");
        assert_eq!(money(1.0, "").line(), "1.00");
    }
}
