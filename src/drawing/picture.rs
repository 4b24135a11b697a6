//! The vessel in three dimensions on paper: the mesh of the turning view as flat
//! polygons, the farthest first, each in its wood as the light falls on it.
//!
//! Faces that look away or lie within glued joints are left out; what is nearer covers
//! what is farther (the painter's algorithm: M. E. Newell, R. G. Newell and T. L. Sancha,
//! "A solution to the hidden surface problem", 1972, from memory).

use super::palette::{BLACK, WHITE, printed_wood};
use super::{Color, Drawing, Fill, Ink, Path, Point, point, polygon, polyline};
use crate::camera::{Camera, View};
use crate::design::Vessel;
use crate::mesh::{Mesh, mesh_for_paper};
use crate::sorted::order;
use crate::stack::StackPlan;
use crate::words;

/// A polygon or line and how far away it is.
struct Piece {
    depth: f64,
    path: Path,
}

/// By how much a line is drawn nearer than the face that it lies on, in the screen's
/// depth.
const LINE_AHEAD: f64 = 0.07;

/// How far each polygon reaches under its neighbors, so that no white hair shows
/// between them.
const LAP_MM: f64 = 0.09;

/// The turned vessel, from the front and somewhat above, as large as there is room for.
pub fn picture(vessel: &Vessel, plan: &StackPlan, width_mm: f64, height_mm: f64) -> Drawing {
    let mut drawing = Drawing::new(width_mm, height_mm, words::page("three.title"));
    let mesh = mesh_for_paper(vessel, plan);
    if mesh.triangles.is_empty() || width_mm <= 0.0 || height_mm <= 0.0 {
        return drawing;
    }
    let view = Camera::default().view(&mesh.bounds(), width_mm / height_mm);
    let scene = Scene::of(&mesh, &view, plan, (width_mm, height_mm));
    let mut pieces = scene.faces();
    pieces.extend(scene.lines());
    let nearness: Vec<f64> = pieces.iter().map(|piece| -piece.depth).collect();
    for place in order(&nearness) {
        drawing.add(std::mem::replace(
            &mut pieces[place].path,
            Path::line(Vec::new(), Ink::Thin),
        ));
    }
    drawing
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
    /// Each corner on paper, and its depth.
    seen: Vec<(Point, f64)>,
}

impl Scene<'_> {
    fn of<'a>(
        mesh: &'a Mesh,
        view: &'a View,
        plan: &'a StackPlan,
        (width_mm, height_mm): (f64, f64),
    ) -> Scene<'a> {
        let mut seen: Vec<(Point, f64)> = mesh
            .positions
            .chunks_exact(3)
            .map(|at| {
                let row = |row: usize| {
                    let m = |column: usize| view.matrix[column * 4 + row];
                    f64::from(m(0) * at[0] + m(1) * at[1] + m(2) * at[2] + m(3))
                };
                let far = row(3).max(1e-6);
                let place = point(
                    f64::midpoint(1.0, row(0) / far) * width_mm,
                    (1.0 - row(1) / far) / 2.0 * height_mm,
                );
                (place, row(2) / far)
            })
            .collect();
        // The view leaves room all round for turning the piece: here it fills the paper.
        if let Some((least, most)) = super::around(seen.iter().map(|(at, _)| *at)) {
            let (wide, high) = ((most.x - least.x).max(1.0), (most.y - least.y).max(1.0));
            let scale = ((width_mm - 2.0) / wide).min((height_mm - 2.0) / high);
            let middle = least.halfway(most);
            for (at, _) in &mut seen {
                *at = point(
                    width_mm / 2.0 + (at.x - middle.x) * scale,
                    height_mm / 2.0 + (at.y - middle.y) * scale,
                );
            }
        }
        Scene {
            mesh,
            view,
            plan,
            seen,
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
        // Counterclockwise faces look at the eye; on paper y grows down.
        let around: f64 = (0..seen.len())
            .map(|at| {
                let (a, b) = (seen[at].0, seen[(at + 1) % seen.len()].0);
                a.x * b.y - b.x * a.y
            })
            .sum();
        if around > -1e-3 || self.is_in_a_joint(corners) {
            return None;
        }
        let depth = seen.iter().map(|(_, depth)| depth).sum::<f64>() / seen.len() as f64;
        let points: Vec<Point> = seen.iter().map(|(at, _)| *at).collect();
        let color = self.lit(corners);
        Some(Piece {
            depth,
            path: Path::area(polygon(&lapped(&points)), Fill::Exact(color)),
        })
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
        let [across, upward, toward] = self.view.axes.map(|axis| {
            let dot: f64 = axis
                .iter()
                .zip(normal)
                .map(|(a, b)| f64::from(*a) * b)
                .sum();
            dot / corners.len() as f64
        });
        // A lamp over the left shoulder.
        let light = (-0.45 * across + 0.55 * upward + 0.7 * toward).clamp(0.0, 1.0);
        // In steps: neighbors of one shade need not name their color again.
        let shade = ((1.0 - light) * 12.0).round() / 12.0;
        printed_wood(color).toward(BLACK, shade * 0.24)
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
