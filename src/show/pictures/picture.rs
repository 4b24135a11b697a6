//! The vessel in three dimensions on paper: the mesh of the turning view as flat
//! polygons, the farthest first, each in its wood as the light falls on it.
//!
//! Faces that look away or lie within glued joints are left out; what is nearer covers
//! what is farther (the painter's algorithm: M. E. Newell, R. G. Newell and T. L. Sancha,
//! "A solution to the hidden surface problem", 1972, from memory).

use crate::draw::palette::{BLACK, WHITE, printed_wood};
use crate::draw::{Color, Drawing, Fill, Ink, Mark, Path, Point, Step, point, polygon, polyline};
use crate::plan::inlay::{SetPlan, Trace};
use crate::plan::stack::StackPlan;
use crate::show::camera::{Camera, View};
use crate::show::mesh::{Mesh, mesh_for_picture};
use crate::show::words;
use crate::solve::covered::{self, Shape};
use crate::solve::sorted::order;

/// A polygon or line and how far away it is.
struct Piece {
    depth: f64,
    path: Path,
}

/// By how much a line is drawn nearer than the face that it lies on, in the screen's
/// depth.
const LINE_AHEAD: f64 = 0.07;

/// The same for a strip, at which the lines of joints end.
const STRIP_AHEAD: f64 = 0.08;

/// How far each polygon reaches under its neighbors, so that no white hair shows
/// between them.
const LAP_MM: f64 = 0.09;

/// The turned vessel, from the front and somewhat above, as large as there is room for; its
/// woods lighter than they are, as on paper.
pub fn picture(plan: &StackPlan, width_mm: f64, height_mm: f64) -> Drawing {
    drawn(plan, width_mm, height_mm, PRINTED)
}

/// The same in the woods' own colors for the screen, of few pieces: one of many small ones.
pub fn small(plan: &StackPlan, width_mm: f64, height_mm: f64) -> Drawing {
    drawn(plan, width_mm, height_mm, SMALL)
}

/// How a picture is drawn.
#[derive(Clone, Copy)]
struct Style {
    /// A wood's color as it is drawn.
    tint: fn(Color) -> Color,
    /// Flats round a full circle.
    round_steps: f64,
    /// How short the lengths of a strip may be, millimeters on paper.
    strip_length_mm: f64,
    /// How fine it is looked for what nearer pieces cover wholly.
    cell_mm: f64,
}

/// On paper: cells of half of a line's width.
const PRINTED: Style = Style {
    tint: printed_wood,
    round_steps: 48.0,
    strip_length_mm: 0.0,
    cell_mm: 0.1,
};

/// Small on the screen: cells of a pixel.
const SMALL: Style = Style {
    tint: |wood| wood,
    round_steps: 36.0,
    strip_length_mm: 1.2,
    cell_mm: 0.25,
};

fn drawn(plan: &StackPlan, width_mm: f64, height_mm: f64, style: Style) -> Drawing {
    let mut drawing = Drawing::new(width_mm, height_mm, words::THREE_TITLE.text);
    let mesh = mesh_for_picture(plan, style.round_steps);
    if mesh.triangles.is_empty() || width_mm <= 0.0 || height_mm <= 0.0 {
        return drawing;
    }
    let view = Camera::default().view(&mesh.bounds(), width_mm / height_mm);
    let scene = Scene {
        style,
        ..Scene::of(&mesh, &view, plan, (width_mm, height_mm))
    };
    let mut pieces = scene.faces();
    pieces.extend(scene.lines());
    pieces.extend(scene.strips());
    let nearness: Vec<f64> = pieces.iter().map(|piece| -piece.depth).collect();
    let paths: Vec<Path> = order(&nearness)
        .into_iter()
        .map(|place| std::mem::replace(&mut pieces[place].path, Path::line(Vec::new(), Ink::Thin)))
        .collect();
    let is_seen = seen(&paths, [width_mm, height_mm], style.cell_mm);
    let paths = paths.into_iter().zip(is_seen);
    drawing.add_all(
        paths
            .filter(|(_, is_seen)| *is_seen)
            .map(|(path, _)| Mark::from(path)),
    );
    drawing
}

/// Which paths are seen, the farthest first: of a vase most of the inside is not.
fn seen(paths: &[Path], size_mm: [f64; 2], cell_mm: f64) -> Vec<bool> {
    let corner = |step: &Step| match step {
        Step::MoveTo(at) | Step::LineTo(at) => Some([at.x, at.y]),
        _ => None,
    };
    let corners: Vec<Vec<[f64; 2]>> = paths
        .iter()
        .map(|path| path.steps.iter().filter_map(corner).collect())
        .collect();
    let shapes = paths.iter().zip(&corners);
    let shapes: Vec<Shape> = shapes
        .map(|(path, corners)| match path.ink {
            None => Shape::Area(corners),
            Some(_) => Shape::Line(corners),
        })
        .collect();
    covered::seen(&shapes, size_mm, cell_mm)
}

/// Tenths of a millimeter are enough for a picture, and are written in fewer bytes.
fn near(at: Point) -> Point {
    let near = |length: f64| (length * 10.0).round() / 10.0;
    point(near(at.x), near(at.y))
}

struct Scene<'a> {
    mesh: &'a Mesh,
    view: &'a View,
    plan: &'a StackPlan,
    style: Style,
    /// Each corner on paper, and its depth.
    seen: Vec<(Point, f64)>,
    /// Where a place of the piece comes on paper, and its depth.
    place: Box<dyn Fn([f64; 3]) -> (Point, f64) + 'a>,
}

impl Scene<'_> {
    fn of<'a>(
        mesh: &'a Mesh,
        view: &'a View,
        plan: &'a StackPlan,
        (width_mm, height_mm): (f64, f64),
    ) -> Scene<'a> {
        let onto = move |at: [f64; 3]| {
            let row = |row: usize| {
                let m = |column: usize| f64::from(view.matrix[column * 4 + row]);
                m(0) * at[0] + m(1) * at[1] + m(2) * at[2] + m(3)
            };
            let far = row(3).max(1e-6);
            let place = point(
                f64::midpoint(1.0, row(0) / far) * width_mm,
                (1.0 - row(1) / far) / 2.0 * height_mm,
            );
            (place, row(2) / far)
        };
        let corners = mesh.positions.chunks_exact(3);
        let corner = |at: &[f32]| [at[0], at[1], at[2]].map(f64::from);
        let whole: Vec<Point> = corners.clone().map(|at| onto(corner(at)).0).collect();
        // The view leaves room all round for turning the piece: here it fills the paper.
        let fit = crate::draw::around(whole.into_iter()).map(|(least, most)| {
            let (wide, high) = ((most.x - least.x).max(1.0), (most.y - least.y).max(1.0));
            let scale = ((width_mm - 2.0) / wide).min((height_mm - 2.0) / high);
            (least.halfway(most), scale)
        });
        let place = move |at: [f64; 3]| {
            let (place, depth) = onto(at);
            let (middle, scale) = fit.unwrap_or((place, 1.0));
            let placed = point(
                width_mm / 2.0 + (place.x - middle.x) * scale,
                height_mm / 2.0 + (place.y - middle.y) * scale,
            );
            (placed, depth)
        };
        Scene {
            seen: corners.map(|at| place(corner(at))).collect(),
            place: Box::new(place),
            mesh,
            view,
            plan,
            style: PRINTED,
        }
    }

    fn corner(&self, index: u32) -> [f64; 3] {
        let start = index as usize * 3;
        let at = self
            .mesh
            .positions
            .get(start..start + 3)
            .unwrap_or(&[0.0; 3]);
        [at[0], at[1], at[2]].map(f64::from)
    }

    /// The visible faces. Two triangles of one flat are one polygon.
    fn faces(&self) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut triangles = self.mesh.triangles.chunks_exact(3).peekable();
        while let Some(first) = triangles.next() {
            let mut corners = first.to_vec();
            if let Some(second) = triangles.peek()
                && second[0] == first[0]
                && second[1] == first[2]
            {
                corners.push(second[2]);
                triangles.next();
            }
            pieces.extend(self.face(&corners));
        }
        pieces
    }

    fn face(&self, corners: &[u32]) -> Option<Piece> {
        let seen: Vec<(Point, f64)> = corners
            .iter()
            .filter_map(|corner| self.seen.get(*corner as usize).copied())
            .collect();
        if self.is_in_a_joint(corners) {
            return None;
        }
        facing(&seen, || self.lit(corners))
    }

    /// The strips in slots, on the outside and on the inside, each in short lengths.
    fn strips(&self) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for own in self.plan.slot_sets.iter().flatten() {
            let slots = (0..own.cuts.len()).flat_map(|it| [(it, false), (it, true)]);
            let layers = own.layers.iter().enumerate();
            for ((slot, is_inside), (layer, of)) in
                slots.flat_map(|slot| layers.clone().map(move |layer| (slot, layer)))
            {
                for trace in own.layer_traces(layer, slot, is_inside) {
                    let edges = self.edges(own, &trace, is_inside);
                    let lengths = edges.iter().zip(edges.iter().skip(1));
                    pieces.extend(lengths.filter_map(|([a, b], [d, c])| {
                        let corners = if is_inside {
                            [*b, *a, *d, *c]
                        } else {
                            [*a, *b, *c, *d]
                        };
                        self.strip_length(&corners, of.color)
                    }));
                }
            }
        }
        pieces
    }

    /// Both edges of a strip where one of its lengths ends, from below.
    fn edges(&self, own: &SetPlan, trace: &Trace, is_inside: bool) -> Vec<[[f64; 3]; 2]> {
        let mut edges: Vec<[[f64; 3]; 2]> = Vec::new();
        let mut before: Option<Point> = None;
        for (at, (z, directions)) in trace.iter().enumerate() {
            let radius = own.radii_mm(z - own.middle_mm)[usize::from(is_inside)];
            let both = directions.map(|it| [radius * it.sin(), -radius * it.cos(), *z]);
            let (here, _) = (self.place)(both[0]);
            let is_near = before.is_some_and(|it| it.distance(here) < self.style.strip_length_mm);
            if is_near && at + 1 < trace.len() {
                continue;
            }
            before = Some(here);
            edges.push(both);
        }
        edges
    }

    fn strip_length(&self, corners: &[[f64; 3]; 4], color: Color) -> Option<Piece> {
        let way = |to: usize| -> [f64; 3] {
            std::array::from_fn(|axis| corners[to][axis] - corners[0][axis])
        };
        let (along, up) = (way(1), way(3));
        let cross: [f64; 3] = std::array::from_fn(|axis| {
            let (next, last) = ((axis + 1) % 3, (axis + 2) % 3);
            along[next] * up[last] - along[last] * up[next]
        });
        let length = cross.iter().map(|part| part * part).sum::<f64>().sqrt();
        let normal = cross.map(|part| part / length.max(1e-9));
        let seen: Vec<(Point, f64)> = corners.iter().map(|at| (self.place)(*at)).collect();
        let mut piece = facing(&seen, || self.lit_along(color, normal))?;
        piece.depth -= STRIP_AHEAD;
        Some(piece)
    }

    /// Whether a level face is glued to the next ring, and so never seen.
    fn is_in_a_joint(&self, corners: &[u32]) -> bool {
        let at: Vec<[f64; 3]> = corners.iter().map(|corner| self.corner(*corner)).collect();
        let z = at[0][2];
        if at.iter().any(|corner| (corner[2] - z).abs() > 1e-3) {
            return false;
        }
        let sum: f64 = at.iter().map(|corner| corner[0].hypot(corner[1])).sum();
        let radius = sum / at.len() as f64;
        self.plan.joints.iter().any(|joint| {
            (joint.height_mm - z).abs() < 1e-3 && radius > joint.inside_radius_mm - 1e-3
        })
    }

    /// The wood's color as it is printed, lit from the upper left.
    fn lit(&self, corners: &[u32]) -> Color {
        let first = corners.first().map_or(0, |corner| *corner as usize * 3);
        let color = match self.mesh.colors.get(first..first + 3) {
            Some(&[r, g, b]) => Color::new(r, g, b),
            _ => WHITE,
        };
        let mut normal = [0.0_f64; 3];
        for corner in corners {
            let start = *corner as usize * 3;
            if let Some(part) = self.mesh.normals.get(start..start + 3) {
                for (sum, part) in normal.iter_mut().zip(part) {
                    *sum += f64::from(*part);
                }
            }
        }
        let count = corners.len() as f64;
        self.lit_along(color, normal.map(|part| part / count))
    }

    /// The same for a surface that looks along this way.
    fn lit_along(&self, color: Color, normal: [f64; 3]) -> Color {
        let [across, upward, toward] = self.view.axes.map(|axis| {
            let parts = axis.iter().zip(normal);
            parts.map(|(a, b)| f64::from(*a) * b).sum::<f64>()
        });
        // A lamp over the left shoulder.
        let light = (-0.45 * across + 0.55 * upward + 0.7 * toward).clamp(0.0, 1.0);
        // In steps: neighbors of one shade need not name their color again.
        let shade = ((1.0 - light) * 12.0).round() / 12.0;
        (self.style.tint)(color).toward(BLACK, shade * 0.24)
    }

    /// Joints and edges that face the eye.
    fn lines(&self) -> Vec<Piece> {
        let rim = self
            .plan
            .wall
            .as_ref()
            .map_or(0.0, |wall| wall.outside.height_mm());
        self.mesh
            .lines
            .chunks_exact(2)
            .filter(|ends| self.is_seen(ends, rim))
            .filter_map(|ends| {
                let from = self.seen.get(ends[0] as usize)?;
                let to = self.seen.get(ends[1] as usize)?;
                Some(Piece {
                    depth: from.1.min(to.1) - LINE_AHEAD,
                    path: Path::line(polyline(&[near(from.0), near(to.0)]), Ink::Thin),
                })
            })
            .collect()
    }

    /// Whether a line lies on a surface that faces the eye, or on the rim.
    fn is_seen(&self, ends: &[u32], rim_mm: f64) -> bool {
        let normal = |corner: u32| {
            let start = corner as usize * 3;
            let normal = self.mesh.normals.get(start..start + 3).unwrap_or(&[0.0; 3]);
            [normal[0], normal[1], normal[2]]
        };
        let faces_eye = |corner: u32| {
            let dot: f32 = normal(corner)
                .iter()
                .zip(self.view.axes[2])
                .map(|(a, b)| a * b)
                .sum();
            dot > 0.05
        };
        let is_level = ends.iter().all(|corner| normal(*corner)[2].abs() > 0.99);
        if is_level && self.is_in_a_joint(ends) {
            return false;
        }
        let is_rim = ends
            .iter()
            .all(|corner| self.corner(*corner)[2] > rim_mm - 1e-3);
        is_rim || ends.iter().any(|corner| faces_eye(*corner))
    }
}

/// A polygon by its corners and their depths, where it looks at the eye: then they run
/// counterclockwise. On paper y grows down.
fn facing(seen: &[(Point, f64)], color: impl FnOnce() -> Color) -> Option<Piece> {
    let around: f64 = (0..seen.len())
        .map(|at| {
            let (a, b) = (seen[at].0, seen[(at + 1) % seen.len()].0);
            a.x * b.y - b.x * a.y
        })
        .sum();
    if around > -1e-3 {
        return None;
    }
    let points: Vec<Point> = seen.iter().map(|(at, _)| *at).collect();
    Some(Piece {
        depth: seen.iter().map(|(_, depth)| depth).sum::<f64>() / seen.len() as f64,
        path: Path::area(polygon(&lapped(&points)), Fill::Exact(color())),
    })
}

/// The polygon, which runs counterclockwise on paper, with its sides moved outward a
/// little.
fn lapped(points: &[Point]) -> Vec<Point> {
    let count = points.len();
    (0..count)
        .map(|at| {
            let (before, here, next) = (
                points[(at + count - 1) % count],
                points[at],
                points[(at + 1) % count],
            );
            let mut moved = here;
            for way in [before.toward(here), here.toward(next)]
                .into_iter()
                .flatten()
            {
                moved = moved.along(point(-way.y, way.x), LAP_MM);
            }
            near(moved)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::plan;

    /// Areas of the picture of the example with slots, and the corners of each.
    fn areas(has_slots: bool) -> Vec<(Color, Vec<Point>)> {
        let example = crate::design::example::ALL
            .iter()
            .find(|it| it.word == "lantern_vase")
            .unwrap();
        let (mut design, _) = crate::design::link::decode(example.link).unwrap();
        let mut vessel = design.vessel.take().unwrap();
        if !has_slots {
            vessel.slot_sets.clear();
        }
        design.vessel = Some(vessel.clone());
        let drawing = picture(&plan(&design).into_stack().unwrap(), 120.0, 120.0);
        let area = |mark: &Mark| match mark {
            Mark::Path(Path {
                fill: Some(Fill::Exact(color)),
                steps,
                ..
            }) => Some((*color, corners(steps))),
            _ => None,
        };
        drawing.marks.iter().filter_map(area).collect()
    }

    fn corners(steps: &[Step]) -> Vec<Point> {
        let corner = |step: &Step| match step {
            Step::MoveTo(at) | Step::LineTo(at) => Some(*at),
            _ => None,
        };
        steps.iter().filter_map(corner).collect()
    }

    #[test]
    fn strips_are_drawn_where_the_eye_sees_them() {
        let (plain, inlaid) = (areas(false), areas(true));
        let strips: Vec<_> = inlaid.iter().filter(|it| !plain.contains(it)).collect();
        assert!(inlaid.len() > plain.len() + 100, "{}", strips.len());
        // Eight slots each way, of which about half look at the eye.
        let all_lengths = 2 * 8 * 60;
        assert!(strips.len() < all_lengths * 3 / 4, "{}", strips.len());
        let places = |of: &[(Color, Vec<Point>)]| -> Vec<Point> {
            of.iter().flat_map(|(_, points)| points.clone()).collect()
        };
        let (least, most) = crate::draw::around(places(&plain).into_iter()).unwrap();
        for (_, points) in &strips {
            for at in points {
                // The mesh is of flats, a little within the curve.
                assert!(at.x > least.x - 0.5 && at.x < most.x + 0.5, "{at:?}");
                // The rings with slots stand in the middle of the vase.
                let share = (at.y - least.y) / (most.y - least.y);
                assert!((0.3..0.85).contains(&share), "{share}");
            }
        }
    }
}
