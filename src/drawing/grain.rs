//! A piece of a wood as it is judged: its color with a simple figure of flatsawn grain,
//! nested arches with finer and finer lines to the sides.

use super::palette::{BLACK, WHITE};
use super::{Color, Drawing, Fill, Path, Point, point, polygon, rectangle};

/// Draws a board of this color. `place` sets one board apart from the next.
pub fn board(color: Color, title: &str, width_mm: f64, height_mm: f64, place: usize) -> Drawing {
    let mut drawing = Drawing::new(width_mm, height_mm, title);
    // Exactly its color on every screen: this is where colors are judged.
    let ground = rectangle(point(0.0, 0.0), width_mm, height_mm);
    drawing.add(Path::area(ground, Fill::Exact(color)));
    let contrast = if color.is_light() { BLACK } else { WHITE };
    let late = color.toward(contrast, 0.13);
    let middle = width_mm * (0.42 + 0.05 * (place % 5) as f64);
    let lines = 15_u32;
    for line in 1..=lines {
        // Lines crowd toward the sides, as growth rings do away from the pith.
        let share = f64::from(line) / f64::from(lines);
        let spread = width_mm * 0.62 * share.powf(0.8);
        let top = height_mm * (2.1 * share - 0.75) + (place % 3) as f64;
        for side in [-1.0, 1.0] {
            drawing.add(Path::area(
                band(middle, spread * side, top, height_mm, 0.32),
                Fill::Exact(late),
            ));
        }
    }
    drawing
}

/// One arm of an arch, from its crown down to the edge, as a thin area.
fn band(middle: f64, spread: f64, top: f64, bottom: f64, thickness: f64) -> Vec<super::Step> {
    let at = |share: f64, shift: f64| -> Point {
        let y = top + (bottom - top) * share;
        let x = middle + spread * (share * (2.0 - share)).max(0.0).sqrt();
        point(x + shift, y)
    };
    const STEPS: u32 = 12;
    let shares = (0..=STEPS).map(|step| f64::from(step) / f64::from(STEPS));
    let mut points: Vec<Point> = shares.clone().map(|share| at(share, 0.0)).collect();
    points.extend(shares.rev().map(|share| at(share, thickness)));
    polygon(&points)
}
