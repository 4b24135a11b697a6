//! A piece of a wood as it is judged: its color with a simple figure of flatsawn grain,
//! nested arches with finer and finer lines to the sides.

use crate::draw::palette::{BLACK, WHITE};
use crate::draw::{Color, Drawing, Fill, Path, Point, point, polygon, rectangle};

/// Draws a board of this color. `place` sets one board apart from the next.
pub fn board(color: Color, title: &str, width_mm: f64, height_mm: f64, place: usize) -> Drawing {
    let mut drawing = Drawing::new(width_mm, height_mm, title);
    // Exactly its color on every screen: this is where colors are judged.
    let ground = rectangle(point(0.0, 0.0), width_mm, height_mm);
    drawing.add(Path::area(ground, Fill::Exact(color)));
    let contrast = if color.is_light() { BLACK } else { WHITE };
    let late = color.toward(contrast, 0.13);
    let middle = width_mm * (0.42 + 0.05 * (place % 5) as f64);
    // One arch, moved down again and again: so the lines never meet, and crowd to the sides.
    let steepness = 1.9 * height_mm / steepening((width_mm / 2.0).max(1.0));
    let spacing = 3.6 + 0.4 * (place % 3) as f64;
    let lines = (3.6 * height_mm / spacing).min(120.0) as u32;
    for line in 0..lines {
        let top = height_mm * 0.85 - spacing * f64::from(line);
        for side in [-1.0, 1.0] {
            let arm = arm([middle, top], side, steepness, [width_mm, height_mm]);
            if arm.len() > 4 {
                drawing.add(Path::area(polygon(&arm), Fill::Exact(late)));
            }
        }
    }
    drawing
}

/// One arm of an arch, y = top + steepness · x^1.5, as a thin area; what reaches past the
/// board a little is cut off by the picture's edge.
fn arm(
    [middle, top]: [f64; 2],
    side: f64,
    steepness: f64,
    [width, height]: [f64; 2],
) -> Vec<Point> {
    const STEPS: u32 = 48;
    const THICK_MM: f64 = 0.32;
    let room = if side < 0.0 { middle } else { width - middle };
    let at = |step: u32| {
        let x = room * f64::from(step) / f64::from(STEPS);
        let slope = 1.5 * steepness * x.sqrt();
        (
            x,
            top + steepness * steepening(x),
            THICK_MM * slope.hypot(1.0),
        )
    };
    let inside: Vec<_> = (0..=STEPS)
        .map(at)
        .filter(|(_, y, thick)| *y >= -8.0 && y + thick <= height + 8.0)
        .collect();
    let upper = inside.iter().map(|(x, y, _)| point(middle + side * x, *y));
    let lower = inside
        .iter()
        .rev()
        .map(|(x, y, thick)| point(middle + side * x, y + thick));
    upper.chain(lower).collect()
}

fn steepening(x: f64) -> f64 {
    x * x.sqrt()
}
