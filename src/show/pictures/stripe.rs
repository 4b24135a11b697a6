//! Stripes on a ring's segments, wherever these are drawn, and the board that they are sawn
//! from. Which layer lies where is said by [`Stripes`] alone; here its edges are followed.

use crate::draw::{Color, Drawing, Fill, Ink, Path, Point, Step, point, polygon, rectangle};
use crate::plan::ring::RingPlan;
use crate::plan::rings::RingInStack;
use crate::plan::stack::StackPlan;
use crate::plan::stripe::StripePlan;
use crate::show::words;
use crate::trade::ring::Segment;
use crate::trade::stripe::{Band, Stand, Stripes};

/// A segment on a drawing and the directions that it spans, as [`super::view::cells`] has it.
pub type Cell = (u32, f64, f64);

/// A stripe on a surface, by heights above the foot and the directions of both its edges.
pub type Stripe = (Color, Vec<(f64, [f64; 2])>);

/// Steps in which a stripe's edge is followed up a ring: on wide segments it bends more.
fn steps(count: u32) -> usize {
    (96 / count.max(1)).clamp(8, 24) as usize
}

/// Heights so near are one: an edge may be level.
const HAIR_MM: f64 = 1e-6;

/// Draws a cell's stripes, but for those of the first layer, which its ground is, and then its
/// outline anew. Nothing where the ring is not striped.
pub fn over_cell(
    drawing: &mut Drawing,
    plan: &StackPlan,
    (place, is_inside): (usize, bool),
    cell: Cell,
    (seen, heights): ([f64; 2], [f64; 2]),
    outline: Vec<Step>,
    put: impl Fn(f64, f64) -> Point,
) {
    let planned = plan.rings.get(place).filter(|it| it.stripes.is_some());
    let (Some(planned), Some(wall)) = (planned, &plan.wall) else {
        return;
    };
    let radius = |z: f64| {
        if is_inside {
            wall.inside_radius_at(z)
        } else {
            wall.outside.radius_at(z)
        }
    };
    let name = format!("cell-{place}-{}", cell.0);
    for (color, rows) in stripes(planned, cell, seen, heights, radius) {
        let right = rows.iter().map(|(z, [_, to])| put(*z, *to));
        let left = rows.iter().rev().map(|(z, [from, _])| put(*z, *from));
        let corners: Vec<Point> = right.chain(left).collect();
        drawing.add(Path::area(polygon(&corners), Fill::Wood(color)).named(&name));
    }
    drawing.add(Path::line(outline, Ink::Thin).named(name));
}

/// The stripes of a cell on a surface of these radii, within what is seen.
pub fn stripes(
    planned: &RingInStack,
    (segment, start, end): Cell,
    seen: [f64; 2],
    [low, high]: [f64; 2],
    radius: impl Fn(f64) -> f64,
) -> Vec<Stripe> {
    let Some(own) = &planned.stripes else {
        return Vec::new();
    };
    let edges = [start.max(seen[0]), end.min(seen[1])];
    let steps = steps(planned.wanted.segment_count);
    let step = (high - low) / steps as f64;
    let heights: Vec<f64> = (0..=steps).map(|it| low + step * it as f64).collect();
    let surface = Surface {
        stripes: &own.stripes,
        stand: own.stand(segment),
        middle: f64::midpoint(start, end),
        middle_mm: planned.middle_mm(),
        radii: heights.iter().map(|z| radius(*z)).collect(),
        heights,
    };
    let at_edges = surface
        .heights
        .iter()
        .flat_map(|z| edges.map(|it| surface.across(it, *z)));
    let [least, most] = at_edges.fold([f64::MAX, f64::MIN], |at, it| {
        [at[0].min(it), at[1].max(it)]
    });
    let mut found = Vec::new();
    // Between the steps an edge may reach a little farther.
    for band in own.stripes.bands(least - 1.0, most + 1.0) {
        let color = own.colors[band.layer];
        if color != own.colors[0] {
            let rows = surface.rows(band, edges);
            if !rows.is_empty() {
                found.push((color, rows));
            }
        }
    }
    found
}

/// A turned surface in a segment's height: straight between the steps.
struct Surface<'a> {
    stripes: &'a Stripes,
    stand: Stand,
    /// Direction of the segment's middle.
    middle: f64,
    /// Height of the ring's.
    middle_mm: f64,
    heights: Vec<f64>,
    radii: Vec<f64>,
}

impl Surface<'_> {
    fn radius(&self, z: f64) -> f64 {
        let last = self.heights.len() - 1;
        let step = self.heights.partition_point(|it| *it < z).clamp(1, last);
        let (low, high) = (self.heights[step - 1], self.heights[step]);
        let share = if high > low {
            (z - low) / (high - low)
        } else {
            0.0
        };
        self.radii[step - 1] + (self.radii[step] - self.radii[step - 1]) * share
    }

    fn across(&self, direction: f64, z: f64) -> f64 {
        let v = self.radius(z) * (direction - self.middle).sin();
        self.stripes.across_mm(self.stand, v, z - self.middle_mm)
    }

    /// The direction of a place across the layers at a height.
    fn direction(&self, across_mm: f64, z: f64) -> f64 {
        let v = self
            .stripes
            .along_mm(self.stand, across_mm, z - self.middle_mm);
        self.middle + (v / self.radius(z).max(1e-9)).clamp(-1.0, 1.0).asin()
    }

    /// A band between both edges, row by row from below; no rows where it does not come.
    fn rows(&self, band: Band, edges: [f64; 2]) -> Vec<(f64, [f64; 2])> {
        let ends = [band.from_mm, band.to_mm];
        let mut heights = self.heights.clone();
        for edge in edges {
            for end in ends {
                for two in self.heights.windows(2) {
                    if let Some(z) = self.crossing(edge, end, [two[0], two[1]]) {
                        heights.extend([z - HAIR_MM, z + HAIR_MM]);
                    }
                }
            }
        }
        heights.retain(|z| *z >= self.heights[0] && *z <= self.heights[self.heights.len() - 1]);
        heights.sort_by(f64::total_cmp);
        let rows: Vec<(f64, [f64; 2])> = heights
            .into_iter()
            .map(|z| {
                let [one, other] = ends.map(|end| self.direction(end, z).clamp(edges[0], edges[1]));
                (z, [one.min(other), one.max(other)])
            })
            .collect();
        let is_wide = |at: usize| rows.get(at).is_some_and(|(_, [from, to])| to - from > 1e-9);
        let kept = (0..rows.len())
            .filter(|at| is_wide(*at) || is_wide(at + 1) || (*at > 0 && is_wide(at - 1)));
        kept.map(|at| rows[at]).collect()
    }

    /// Where an edge of the cell crosses from one side of a place across the layers to the
    /// other, between two heights.
    fn crossing(&self, edge: f64, across_mm: f64, [mut low, mut high]: [f64; 2]) -> Option<f64> {
        let past = |z: f64| self.across(edge, z) > across_mm;
        let is_past = past(low);
        if is_past == past(high) {
            return None;
        }
        for _ in 0..32 {
            let middle = f64::midpoint(low, high);
            if past(middle) == is_past {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(f64::midpoint(low, high))
    }
}

/// A ring's heights in the stack with the color that a cut through the middle of a segment
/// shows.
pub fn levels(planned: &RingInStack, segment: u32) -> Vec<([f64; 2], Color)> {
    let (low, high) = (planned.span.bottom_mm, planned.span.top_mm);
    let whole = |color| vec![([low, high], color)];
    let Some(own) = &planned.stripes else {
        return whole(planned.color_of(segment));
    };
    if own.stripes.cosine < 1e-9 {
        return whole(planned.color_at(segment, 0.0, 0.0));
    }
    let (stand, middle) = (own.stand(segment), planned.middle_mm());
    let ends = [low, high].map(|z| own.stripes.across_mm(stand, 0.0, z - middle));
    let bands = own
        .stripes
        .bands(ends[0].min(ends[1]), ends[0].max(ends[1]));
    let level = |band: Band| {
        let share = |at: f64| low + (high - low) * (at - ends[0]) / (ends[1] - ends[0]);
        let [one, other] = [share(band.from_mm), share(band.to_mm)];
        ([one.min(other), one.max(other)], own.colors[band.layer])
    };
    bands.into_iter().map(level).collect()
}

/// The stripes on a segment's upper face, but for those of the first layer: corners along
/// its middle line and aside from it.
pub fn on_face(
    planned: &RingInStack,
    number: u32,
    segment: &Segment,
) -> Vec<(Color, Vec<(f64, f64)>)> {
    let Some(own) = &planned.stripes else {
        return Vec::new();
    };
    let z = (planned.span.top_mm - planned.span.bottom_mm) / 2.0;
    let (long, short) = (
        segment.outside.long_edge_mm / 2.0,
        segment.short_edge_mm / 2.0,
    );
    let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
    let near = |v: f64| {
        let past = ((v.abs() - short) / (long - short).max(1e-9)).clamp(0.0, 1.0);
        (inside + (outside - inside) * past, v)
    };
    let stand = own.stand(number);
    let ends = [-long, long].map(|v| own.stripes.across_mm(stand, v, z));
    let mut found = Vec::new();
    for band in own
        .stripes
        .bands(ends[0].min(ends[1]) - 0.1, ends[0].max(ends[1]) + 0.1)
    {
        let edges = [band.from_mm, band.to_mm];
        let [one, other] = edges.map(|at| own.stripes.along_mm(stand, at, z).clamp(-long, long));
        let (from, to) = (one.min(other), one.max(other));
        let color = own.colors[band.layer];
        if to - from > 1e-9 && color != own.colors[0] {
            let bends = [short, -short].into_iter().filter(|v| *v > from && *v < to);
            let inner = std::iter::once(to).chain(bends).chain([from]).map(near);
            found.push((
                color,
                [(outside, from), (outside, to)]
                    .into_iter()
                    .chain(inner)
                    .collect(),
            ));
        }
    }
    found
}

/// The striped board seen on its layers' edges, its pieces on it; nothing without one.
pub fn board(ring: &RingPlan, width_mm: f64, height_mm: f64) -> Option<Drawing> {
    let own: &StripePlan = ring.stripes.as_ref()?;
    let (board, segment) = (own.board.as_ref()?, ring.segment.as_ref()?);
    let title = words::STRIPE_SHEET.text;
    let mut drawing = Drawing::new(width_mm, height_mm, title);
    let across = own
        .stripes
        .reach_mm(segment.outside.long_edge_mm, segment.strip_height_mm);
    let low = own.stripes.shift_mm - across / 2.0;
    // As many pieces as have room; the scale that shows two, or the board's height.
    let scale = (width_mm / (board.along_mm + board.pitch_mm)).min(height_mm / board.stack_mm);
    let bands = own.stripes.bands(low, low + across);
    let place = |s: f64, w: f64| point(s * scale, height_mm - (w - low) * scale);
    for band in &bands {
        let body = rectangle(
            place(0.0, band.to_mm),
            width_mm,
            (band.to_mm - band.from_mm) * scale,
        );
        drawing.add(
            Path::line(body, Ink::Thin)
                .filled(Fill::Wood(own.colors[band.layer]))
                .named("layer"),
        );
    }
    let (long, high) = (
        segment.outside.long_edge_mm / 2.0,
        segment.strip_height_mm / 2.0,
    );
    let (sine, cosine) = (own.stripes.sine, own.stripes.cosine);
    let mut middle = board.along_mm / 2.0;
    while (middle + board.along_mm / 2.0) * scale <= width_mm + 1e-6 {
        let corner = |(v, z): (f64, f64)| {
            let w = v * sine + z * cosine + own.stripes.shift_mm;
            place(middle + v * cosine - z * sine, w)
        };
        let corners = [(-long, -high), (long, -high), (long, high), (-long, high)].map(corner);
        drawing.add(Path::line(polygon(&corners), Ink::Held).named("piece"));
        middle += board.pitch_mm;
    }
    Some(drawing)
}
