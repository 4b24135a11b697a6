//! A color by its parts.

/// A color by its red, green and blue parts (sRGB).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Color {
    /// Red, 0 to 255.
    pub r: u8,
    /// Green, 0 to 255.
    pub g: u8,
    /// Blue, 0 to 255.
    pub b: u8,
}

impl Color {
    /// A color of the three given parts.
    pub const fn new(r: u8, g: u8, b: u8) -> Self {
        Self { r, g, b }
    }

    /// The color as `#rrggbb`.
    pub fn hex(self) -> String {
        let mut text = String::with_capacity(7);
        text.push('#');
        for part in [self.r, self.g, self.b] {
            for digit in [part >> 4, part & 15] {
                text.push(char::from(b"0123456789abcdef"[usize::from(digit)]));
            }
        }
        text
    }

    /// This color moved toward another by a share from 0 (unchanged) to 1 (the other).
    #[must_use]
    pub fn toward(self, other: Self, share: f64) -> Self {
        let share = share.clamp(0.0, 1.0);
        let mix = |from: u8, to: u8| {
            (f64::from(from) + (f64::from(to) - f64::from(from)) * share).round() as u8
        };
        Self::new(
            mix(self.r, other.r),
            mix(self.g, other.g),
            mix(self.b, other.b),
        )
    }

    /// How far another color lies from this one, from 0 (the same) to 1 (black and white).
    pub fn apart(self, other: Self) -> f64 {
        let square = |one: u8, other: u8| f64::from(one.abs_diff(other)).powi(2);
        let sum = square(self.r, other.r) + square(self.g, other.g) + square(self.b, other.b);
        (sum / 3.0).sqrt() / 255.0
    }

    /// Whether dark lines stand out from it: by the plain mean of its parts, which is
    /// enough for wood.
    pub fn is_light(self) -> bool {
        u32::from(self.r) + u32::from(self.g) + u32::from(self.b) > 3 * 110
    }

    /// Relative luminance, 0 for black to 1 for white (WCAG 2.2, "relative luminance").
    pub fn luminance(self) -> f64 {
        let linear = |part: u8| {
            let share = f64::from(part) / 255.0;
            if share <= 0.040_45 {
                share / 12.92
            } else {
                ((share + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * linear(self.r) + 0.7152 * linear(self.g) + 0.0722 * linear(self.b)
    }

    /// Contrast with another color, 1 to 21 (WCAG 2.2, "contrast ratio").
    pub fn contrast(self, other: Self) -> f64 {
        let (one, two) = (self.luminance(), other.luminance());
        (one.max(two) + 0.05) / (one.min(two) + 0.05)
    }
}
