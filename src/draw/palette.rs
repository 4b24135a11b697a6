//! The colors of every drawing, on the screen and on paper, in one place.
//!
//! The page's CSS variables carry the same names (`--paper`, `--graphite`, …), so that a saved
//! drawing looks like the screen. Words and thin lines are read at arm's length: each color that
//! words are set in keeps a contrast of 4.5 : 1 or more against the paper (WCAG 2.2, success
//! criterion 1.4.3); the tests below hold it to that.

use crate::units::color::Color;

/// Plain white: what a saved sheet is printed on.
pub const WHITE: Color = Color::new(255, 255, 255);
/// Plain black: the dark modules of a QR code.
pub const BLACK: Color = Color::new(0, 0, 0);

/// Warm paper white, the ground of everything.
pub const PAPER: Color = Color::new(0xfb, 0xfa, 0xf6);
/// Graphite: lines and words (13 : 1 on paper).
pub const GRAPHITE: Color = Color::new(0x2b, 0x2b, 0x2b);
/// A lighter graphite for notes and units (6.5 : 1 on paper).
pub const QUIET: Color = Color::new(0x5c, 0x58, 0x51);
/// Faint rules and grids: never words, never the only sign of anything.
pub const FAINT: Color = Color::new(0xcf, 0xca, 0xbf);
/// The one accent: what is being touched (7 : 1 on paper).
pub const HELD: Color = Color::new(0x0f, 0x5c, 0x5c);
/// Amber: a caution (5.7 : 1 on paper).
pub const CAUTION: Color = Color::new(0x8a, 0x52, 0x00);

/// The light palette by the names of its CSS variables.
pub const LIGHT: [(&str, Color); 6] = [
    ("paper", PAPER),
    ("graphite", GRAPHITE),
    ("quiet", QUIET),
    ("faint", FAINT),
    ("held", HELD),
    ("caution", CAUTION),
];

/// The palette for a dark screen, by the same names; paper and files always use the light one.
pub const DARK: [(&str, Color); 6] = [
    ("paper", Color::new(0x1c, 0x1b, 0x19)),
    ("graphite", Color::new(0xeb, 0xe7, 0xde)),
    ("quiet", Color::new(0xb1, 0xab, 0x9f)),
    ("faint", Color::new(0x4a, 0x47, 0x41)),
    ("held", Color::new(0x66, 0xc7, 0xc2)),
    ("caution", Color::new(0xe8, 0xae, 0x52)),
];

/// The wood's color as it is printed: lighter, to save ink and to keep lines and words legible.
pub fn printed_wood(wood: Color) -> Color {
    wood.toward(WHITE, 0.45)
}

/// Families of lines, each by its spacing in millimeters and its slant in degrees, that tell
/// what is filled apart where color is lost; the first leaves it plain. None runs level or
/// upright alone, as edges do.
pub const PATTERNS: [&[(f64, f64)]; 7] = [
    &[],
    &[(1.5, 45.0)],
    &[(1.5, -45.0)],
    &[(2.2, 45.0), (2.2, -45.0)],
    &[(0.8, 30.0)],
    &[(0.8, -30.0)],
    &[(1.8, 0.0), (1.8, 90.0)],
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_out_from_the_paper_in_both_palettes() {
        for palette in [LIGHT, DARK] {
            let paper = palette[0].1;
            for (name, color) in palette.iter().skip(1).filter(|(name, _)| *name != "faint") {
                assert!(
                    paper.contrast(*color) >= 4.5,
                    "{name}: {}",
                    paper.contrast(*color)
                );
            }
        }
    }

    #[test]
    fn the_page_has_the_same_colors() {
        let css = include_str!("../../www/ringwright.css");
        let (light, rest) = css
            .split_once("@media (prefers-color-scheme: dark)")
            .unwrap();
        let (dark, _) = rest.split_once("@media").unwrap();
        for (palette, block) in [(LIGHT, light), (DARK, dark)] {
            for (name, color) in palette {
                let line = format!("  --{name}: {};", color.hex());
                assert!(block.contains(&line), "{line}");
            }
        }
    }

    #[test]
    fn contrast_spans_one_to_twenty_one() {
        assert!((BLACK.contrast(WHITE) - 21.0).abs() < 1e-9);
        assert!((HELD.contrast(HELD) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_color_is_written_in_six_digits() {
        assert_eq!(Color::new(0x0a, 0xff, 0x10).hex(), "#0aff10");
        assert_eq!(BLACK.toward(WHITE, 0.5), Color::new(128, 128, 128));
    }
}
