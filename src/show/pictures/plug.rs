//! A centering plug in section through its axis, as it stands on the lathe turned upright:
//! the small end, which points toward the headstock, is above.

use crate::draw::{Anchor, Drawing, Ink, Path, Point, Words, hatch, point, polygon, polyline};
use crate::show::words;
use crate::trade::plug::{PlugStep, STEP_MM};

/// Room for the words at the right, and at most so large on paper, millimeters.
const WORDS_MM: f64 = 25.0;
const LARGEST_SCALE: f64 = 0.7;

/// Height of letters, 8 pt and more, and from one line of them to the next.
const LETTER_MM: f64 = 2.1;
const PITCH_MM: f64 = 3.2;

/// What the axis stands out.
const AXIS_MM: f64 = 2.0;

/// The drawing, so wide, of a plug with its widest step first.
pub fn draw(steps: &[PlugStep], bore_mm: f64, width_mm: f64) -> Drawing {
    let across = steps.iter().map(|step| step.diameter_mm);
    let widest = across.fold(bore_mm, f64::max);
    let scale = ((width_mm - WORDS_MM) / widest).min(LARGEST_SCALE);
    let (axis_x, deep) = (widest * scale / 2.0 + 1.0, STEP_MM * scale);
    let high = 2.0 * AXIS_MM + deep * steps.len() as f64;
    let mut drawing = Drawing::new(width_mm, high, words::by_key("bench.plug"));
    let left = 2.0 * axis_x + 8.0;
    let mut line = PITCH_MM / 2.0;
    for (row, (place, step)) in steps.iter().enumerate().rev().enumerate() {
        let top = AXIS_MM + deep * row as f64;
        let (near, far) = (bore_mm / 2.0 * scale, step.diameter_mm / 2.0 * scale);
        for from in [axis_x - far, axis_x + near] {
            half(&mut drawing, point(from, top), (far - near, deep));
        }
        // Between the ends they are counted.
        if place > 0 && row > 0 {
            continue;
        }
        let middle = top + deep / 2.0;
        line = middle.max(line);
        let lead = [
            point(axis_x + far + 0.5, middle),
            point(left - 4.0, middle),
            point(left - 1.0, line),
        ];
        drawing.add(Path::line(polyline(&lead), Ink::Thin));
        let number = words::filled(words::BENCH_STEP, &[&(place + 1).to_string()]);
        let text = Words::new(point(left, line), number, LETTER_MM).level_middle();
        drawing.add(text.anchored(Anchor::Start));
        line += PITCH_MM;
    }
    drawing.height_mm = high.max(line);
    drawing.line(point(axis_x, 0.0), point(axis_x, high), Ink::Center);
    drawing
}

/// A step on one side of the axis.
fn half(drawing: &mut Drawing, corner: Point, (wide, deep): (f64, f64)) {
    let far = point(corner.x + wide, corner.y + deep);
    let outline = vec![corner, point(far.x, corner.y), far, point(corner.x, far.y)];
    let cut = hatch(std::slice::from_ref(&outline), 1.6, 0.8);
    drawing.add(Path::line(polygon(&outline), Ink::Object).named("step"));
    drawing.add(Path::line(cut, Ink::Thin));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::Mark;

    /// Both halves of each step lie beside the bore, as wide as the step is, narrower
    /// ones above, to one scale.
    #[test]
    fn steps_are_drawn_to_scale() {
        let wide = [180.0, 92.0, 40.0, 39.0];
        let steps = wide.map(|diameter_mm| PlugStep {
            diameter_mm,
            rings: vec![0],
        });
        for width_mm in [150.0, 90.0] {
            let drawing = draw(&steps, 10.0, width_mm);
            let named = drawing.marks.iter().filter(
                |mark| matches!(mark, Mark::Path(path) if path.name.as_deref() == Some("step")),
            );
            let halves: Vec<(Point, Point)> = named.filter_map(Mark::bounds).collect();
            assert_eq!(halves.len(), 2 * wide.len());
            let mut tops = Vec::new();
            let mut scales = Vec::new();
            for (two, diameter_mm) in halves.chunks(2).zip(wide.iter().rev()) {
                scales.push((two[1].1.x - two[0].0.x) / diameter_mm);
                let bore = (two[1].0.x - two[0].1.x) / scales[0];
                assert!((bore - 10.0).abs() < 3.0, "{bore}");
                tops.push(two[0].0.y);
            }
            assert!(scales.iter().all(|scale| (scale - scales[0]).abs() < 0.02));
            assert!(tops.is_sorted());
        }
    }
}
