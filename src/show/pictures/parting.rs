//! Where an end is parted off its block: the wall in section through the axis, the block
//! that it is glued to, and the cut, which lies wholly in the block.

use crate::draw::{
    Anchor, Drawing, Fill, Ink, Path, Point, Tone, Words, hatch, point, polygon, polyline,
    rectangle,
};
use crate::plan::order::End;
use crate::show::words;
use crate::trade::lathe;
use crate::trade::shape::Wall;

/// How much of the piece and of the block is drawn, and the width of the cut: what a parting
/// tool takes, 1/8 in (common practice, no published source). Millimeters of wood.
const PIECE_MM: f64 = 24.0;
const BLOCK_MM: f64 = 16.0;
const CUT_MM: f64 = 3.2;

/// What of the block stays on an open end: cut at the glue line, nothing would hold the
/// block any more, for a neck is of solid wood (our own choice, no published source).
const WAFER_MM: f64 = 6.0;

/// What of the block stays on a closed foot: no saw goes along a glue line, and it is turned
/// off with the foot (our own choice, no published source).
const LEFT_MM: f64 = 3.0;

/// Room for words at the right.
const WORDS_MM: f64 = 62.0;

/// Height of letters, 8 pt and more, and from one line of them to the next.
const LETTER_MM: f64 = 2.1;
const PITCH_MM: f64 = 4.0;

/// The drawing, so wide, for an end on a block of this diameter.
pub fn draw(
    wall: &Wall,
    end: End,
    (block_mm, neck_mm): (f64, Option<f64>),
    width_mm: f64,
) -> Drawing {
    let rim_mm = wall.outside.height_mm();
    let deep = PIECE_MM.min(rim_mm);
    let widest = wall.outside.largest_radius(
        if end == End::Foot { 0.0 } else { rim_mm - deep },
        if end == End::Foot { deep } else { rim_mm },
    );
    let reach = widest.max(block_mm / 2.0);
    let scale = ((width_mm - WORDS_MM) / (2.0 * reach)).min(0.7);
    let high = (deep + BLOCK_MM) * scale + 4.0;
    let mut drawing = Drawing::new(width_mm, high, words::PART_DRAWN.text);
    // Distance from the glue line, into the piece above 0, into the block below.
    let axis_x = reach * scale + 1.0;
    let at = |radius: f64, from_glue: f64| {
        let y = match end {
            End::Foot => 2.0 + (deep - from_glue) * scale,
            End::Rim => 2.0 + (BLOCK_MM + from_glue) * scale,
        };
        point(axis_x + radius * scale, y)
    };
    let height = |from_glue: f64| match end {
        End::Foot => from_glue,
        End::Rim => rim_mm - from_glue,
    };
    for side in [-1.0, 1.0] {
        let steps = (0..=24_u8).map(|it| deep * f64::from(it) / 24.0);
        let heights: Vec<f64> = steps.collect();
        let inside = |from_glue: &f64| {
            let z = height(*from_glue);
            let radius = if z <= wall.floor_mm {
                0.0
            } else {
                wall.inside_radius_at(z)
            };
            at(side * radius, *from_glue)
        };
        let outside = heights
            .iter()
            .map(|it| at(side * wall.outside.radius_at(height(*it)), *it));
        let mut points: Vec<Point> = outside.collect();
        points.extend(heights.iter().rev().map(inside));
        let cut = hatch(std::slice::from_ref(&points), 1.6, 0.8);
        drawing.add(Path::line(polygon(&points), Ink::Object).named("piece"));
        drawing.add(Path::line(cut, Ink::Thin));
    }
    let (low, top) = (at(-block_mm / 2.0, -BLOCK_MM), at(block_mm / 2.0, 0.0));
    let corner = point(low.x, low.y.min(top.y));
    let block = rectangle(corner, top.x - low.x, (low.y - top.y).abs());
    drawing.add(Path::line(block, Ink::Object).named("block"));
    // The cut, from both sides to the neck, up to the glue line or to what closes the mouth.
    let is_open = end == End::Rim || wall.floor_mm <= 0.0;
    let (near_mm, cut_word) = if is_open {
        (WAFER_MM, words::PART_CUT_OPEN)
    } else {
        (LEFT_MM, words::PART_CUT)
    };
    let end_radius = wall.outside.radius_at(height(0.0));
    let neck_radius = neck_mm.map_or(end_radius * lathe::NECK_SHARE, |it| it / 2.0);
    for side in [-1.0, 1.0] {
        let (from, to) = (
            at(side * block_mm / 2.0, -near_mm),
            at(side * neck_radius, -near_mm - CUT_MM),
        );
        let cut = rectangle(
            point(from.x.min(to.x), from.y.min(to.y)),
            (from.x - to.x).abs(),
            (from.y - to.y).abs(),
        );
        let cut = Path::line(cut, Ink::Thin).filled(Fill::Tone(Tone::Graphite));
        drawing.add(cut.named("cut"));
    }
    let glue = polyline(&[at(-block_mm / 2.0, 0.0), at(block_mm / 2.0, 0.0)]);
    drawing.add(Path::line(glue, Ink::Object).named("glue"));
    let neck = polyline(&[at(0.0, deep), at(0.0, 0.0)]);
    drawing.add(Path::line(neck, Ink::Center));
    let left = axis_x + reach * scale + 8.0;
    let told = [
        (words::PART_BLOCK, -BLOCK_MM * 0.62, block_mm / 2.0),
        (cut_word, -near_mm - CUT_MM / 2.0, block_mm / 2.0),
        (words::PART_PIECE, deep * 0.45, end_radius),
    ];
    let mut told = told.map(|(word, from_glue, radius)| (word, at(radius, from_glue)));
    if end == End::Foot {
        told.reverse();
    }
    // From above down, clear of each other.
    let mut next = f64::MIN;
    for (word, tip) in told {
        let y = tip.y.max(next);
        next = y + PITCH_MM;
        let bend = left - 4.0;
        let lead = [
            point(tip.x + 0.5, tip.y),
            point(bend, tip.y),
            point(left - 1.0, y),
        ];
        drawing.add(Path::line(polyline(&lead), Ink::Thin));
        let words = Words::new(point(left, y), word.text, LETTER_MM).level_middle();
        drawing.add(words.anchored(Anchor::Start));
    }
    drawing.height_mm = drawing.height_mm.max(next);
    let neck = Words::new(at(0.0, -BLOCK_MM * 0.62), words::PART_NECK.text, LETTER_MM);
    drawing.add(neck.level_middle().anchored(Anchor::Middle));
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{example, link};
    use crate::draw::Mark;

    /// No cut touches the piece: each lies in the block, at an open end so far from the glue
    /// line that a disc stays on it, and a neck is left.
    #[test]
    fn the_cut_lies_in_the_block() {
        for example in example::ALL {
            let design = link::decode(example.link).unwrap().0;
            let plan = crate::plan::plan(&design);
            let stack = plan.stack().unwrap();
            let wall = stack.wall.as_ref().unwrap().clone();
            let whole = |end| (end, None);
            let open = (End::Foot, stack.foot_neck_mm());
            for (end, neck_mm) in [whole(End::Foot), whole(End::Rim), open] {
                let drawing = draw(&wall, end, (150.0, neck_mm), 160.0);
                let of = |name: &str| -> Vec<(Point, Point)> {
                    let named = drawing.marks.iter().filter(|mark| {
                        matches!(mark, Mark::Path(path) if path.name.as_deref() == Some(name))
                    });
                    named.filter_map(Mark::bounds).collect()
                };
                let (block, cuts, pieces) = (of("block")[0], of("cut"), of("piece"));
                assert_eq!((cuts.len(), pieces.len()), (2, 2));
                for (least, most) in &cuts {
                    assert!(least.y > block.0.y - 0.3 && most.y < block.1.y + 0.3);
                    for piece in &pieces {
                        let apart = least.y - piece.1.y;
                        assert!(apart > -0.8 || piece.0.y - most.y > -0.8);
                        if end == End::Rim {
                            assert!(piece.0.y - most.y > 1.0, "a disc stays");
                        }
                    }
                }
                let neck = cuts[1].0.x - cuts[0].1.x;
                assert!(neck > 4.0);
                // Against the piece's own width, as it is drawn to scale.
                if let Some(neck_mm) = neck_mm {
                    let scale = (block.1.x - block.0.x) / 150.0;
                    assert!((neck / scale - neck_mm).abs() < 2.0, "{neck} {neck_mm}");
                }
            }
        }
    }
}
