//! What is still seen of shapes that are painted one over the other: looked up on a grid, as a
//! frame buffer does (the painter's algorithm on a raster; E. Catmull, "A subdivision algorithm
//! for computer display of curved surfaces", 1974, from memory).

/// A shape on a plane.
#[derive(Clone, Copy, Debug)]
pub enum Shape<'a> {
    /// What covers all below it.
    Area(&'a [[f64; 2]]),
    /// A line, too thin to cover anything.
    Line(&'a [[f64; 2]]),
}

/// Nobody's cell.
const NOBODY: u32 = u32::MAX;

/// Which of the shapes are seen, where each one is painted over those before it, on a plane
/// from the origin to `size`. A cell is painted where its middle is within; what is too small
/// for any cell counts as seen.
pub fn seen(shapes: &[Shape], size: [f64; 2], cell: f64) -> Vec<bool> {
    let counts = size.map(|length| (length / cell).ceil().max(1.0) as usize);
    let mut areas = vec![NOBODY; counts[0] * counts[1]];
    let mut lines = areas.clone();
    let mut is_seen = vec![false; shapes.len()];
    for (own, shape) in (0..).zip(shapes) {
        let mut has_cells = false;
        match shape {
            Shape::Area(corners) => rows(corners, counts, cell, |row, from, to| {
                has_cells |= from < to;
                let at = row * counts[0];
                areas[at + from..at + to].fill(own);
                lines[at + from..at + to].fill(NOBODY);
            }),
            Shape::Line(points) => steps(points, counts, cell, |at| {
                has_cells = true;
                lines[at] = own;
            }),
        }
        is_seen[own as usize] = !has_cells;
    }
    for own in areas.into_iter().chain(lines) {
        if let Some(is_seen) = is_seen.get_mut(own as usize) {
            *is_seen = true;
        }
    }
    is_seen
}

/// The rows of cells within a polygon, each from one column to another.
fn rows(
    corners: &[[f64; 2]],
    counts: [usize; 2],
    cell: f64,
    mut paint: impl FnMut(usize, usize, usize),
) {
    let ys = || corners.iter().map(|at| at[1]);
    let (low, high) = (ys().fold(f64::MAX, f64::min), ys().fold(f64::MIN, f64::max));
    let first = (low / cell - 0.5).ceil().max(0.0) as usize;
    let mut crossings: Vec<f64> = Vec::new();
    for row in first..counts[1] {
        let y = (row as f64 + 0.5) * cell;
        if y >= high {
            break;
        }
        crossings.clear();
        let next = corners.iter().cycle().skip(1);
        for (a, b) in corners.iter().zip(next) {
            if (a[1] <= y) != (b[1] <= y) {
                crossings.push(a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
            }
        }
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let column = |x: f64| ((x / cell - 0.5).ceil().max(0.0) as usize).min(counts[0]);
            paint(row, column(pair[0]), column(pair[1]));
        }
    }
}

/// The cells along a line, as close as half a cell.
fn steps(points: &[[f64; 2]], counts: [usize; 2], cell: f64, mut paint: impl FnMut(usize)) {
    for pair in points.windows(2) {
        let way = [pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]];
        let count = (2.0 * way[0].hypot(way[1]) / cell).ceil().max(1.0);
        for step in 0..=count as usize {
            let share = step as f64 / count;
            let [x, y] = [0, 1].map(|axis| (pair[0][axis] + way[axis] * share) / cell);
            if x >= 0.0 && y >= 0.0 && (x as usize) < counts[0] && (y as usize) < counts[1] {
                paint(y as usize * counts[0] + x as usize);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_wholly_covered_is_not_seen() {
        let square = |at: f64, side: f64| {
            [
                [at, at],
                [at + side, at],
                [at + side, at + side],
                [at, at + side],
            ]
        };
        let (small, large, beside) = (square(2.0, 2.0), square(1.0, 4.0), square(4.0, 3.0));
        let under = [[1.5, 1.5], [4.0, 4.0]];
        let across = [[0.0, 3.0], [6.0, 3.0]];
        let speck = square(8.01, 0.01);
        let shapes = [
            Shape::Area(&small),
            Shape::Line(&under),
            Shape::Line(&across),
            Shape::Area(&speck),
            Shape::Area(&large),
            Shape::Area(&beside),
            Shape::Line(&under),
        ];
        assert_eq!(
            seen(&shapes, [10.0, 10.0], 0.1),
            [false, false, true, true, true, true, true]
        );
    }

    /// Against brute force: each cell's middle asked of all shapes, the last one first.
    #[test]
    fn the_last_shape_over_a_place_is_seen_there() {
        let mut state = 9_u32;
        let mut roll = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 16) / 65_536.0
        };
        for _ in 0..40 {
            let triangles: Vec<[[f64; 2]; 3]> = (0..60)
                .map(|_| {
                    let at = [roll() * 20.0, roll() * 12.0];
                    [0; 3].map(|_| [at[0] + roll() * 9.0 - 2.0, at[1] + roll() * 9.0 - 2.0])
                })
                .collect();
            let shapes: Vec<Shape> = triangles.iter().map(|it| Shape::Area(it)).collect();
            let is_in = |triangle: &[[f64; 2]; 3], [x, y]: [f64; 2]| {
                let sides = [0, 1, 2].map(|at| {
                    let (a, b) = (triangle[at], triangle[(at + 1) % 3]);
                    (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])
                });
                sides.iter().all(|it| *it > 0.0) || sides.iter().all(|it| *it < 0.0)
            };
            let mut wanted = [false; 60];
            let mut has_cells = [false; 60];
            for row in 0..24 {
                for column in 0..40 {
                    let middle = [
                        (f64::from(column) + 0.5) * 0.5,
                        (f64::from(row) + 0.5) * 0.5,
                    ];
                    let over = (0..60).filter(|at| is_in(&triangles[*at], middle));
                    let over: Vec<usize> = over.collect();
                    for at in &over {
                        has_cells[*at] = true;
                    }
                    if let Some(last) = over.last() {
                        wanted[*last] = true;
                    }
                }
            }
            for (wanted, has_cells) in wanted.iter_mut().zip(has_cells) {
                *wanted |= !has_cells;
            }
            assert_eq!(seen(&shapes, [20.0, 12.0], 0.5), wanted);
        }
    }
}
