//! How one drawing is set: for the screen, where some figures are entry fields, or
//! for paper, where they are read.

use super::Lettering;
use super::dimension::{Label, Style};
use crate::units::length::{Shown, Unit, show};

/// Where the drawing goes, and in which unit its figures stand.
#[derive(Clone, Copy, Debug)]
pub struct Pen<'a> {
    /// The sizes of dimensions.
    pub style: Style,
    /// The unit of the figures.
    pub unit: Unit,
    /// Room for an entry field, millimeters wide and high; none on paper.
    pub field_mm: Option<(f64, f64)>,
    /// Key of the field that is being touched; empty when none is.
    pub held: &'a str,
}

impl<'a> Pen<'a> {
    /// For paper.
    pub const fn paper(unit: Unit) -> Pen<'static> {
        Pen {
            style: Style::PAPER,
            unit,
            field_mm: None,
            held: "",
        }
    }

    /// For the screen, with entry fields of 92 × 48 CSS pixels (a finger's width).
    pub const fn screen(unit: Unit, held: &'a str) -> Pen<'a> {
        let px = super::MM_PER_PX;
        Pen {
            style: Style::SCREEN,
            unit,
            field_mm: Some((92.0 * px, 48.0 * px)),
            held,
        }
    }

    /// A length's figure.
    pub fn figure(&self, length_mm: f64) -> Label {
        Label::new(lettering(&show(length_mm, self.unit)))
    }

    /// A length's figure that is an entry field on the screen.
    pub fn field(&self, key: &str, length_mm: f64) -> Label {
        let label = self.figure(length_mm).held(self.held == key);
        match self.field_mm {
            Some((width, height)) => label.field(key, width, height),
            None => label,
        }
    }
}

/// A shown figure as lettering, its fraction raised and lowered, without the unit.
pub fn lettering(shown: &Shown) -> Lettering {
    if shown.numerator == 0 {
        return Lettering::plain(shown.text.as_str());
    }
    let (sign, whole) = match shown.whole.strip_prefix('\u{2212}') {
        Some(whole) => ("\u{2212}", whole),
        None => ("", shown.whole.as_str()),
    };
    let whole = whole.parse().unwrap_or(0);
    Lettering::plain(sign).fraction(whole, shown.numerator, shown.denominator)
}
