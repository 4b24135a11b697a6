//! The slot sets: their stack's surfaces unrolled with the strips as they will show, and
//! the heights between which the blade may stand.

use super::stripe;
use super::view::{Rows, View, cells};
use crate::draw::lettering::{SCREEN_SLACK, shorten};
use crate::draw::pen::{Pen, lettering};
use crate::draw::{
    Anchor, Drawing, Fill, Ink, MM_PER_PX, Path, Point, Tone, Weight, Words, point, polygon,
    polyline, rectangle,
};
use crate::plan::inlay::{SetPlan, Trace};
use crate::plan::on_saw::within_half;
use crate::plan::stack::StackPlan;
use crate::show::words;
use crate::units::length::{Shown, Unit, at_least, at_most, show};
use crate::units::quantity::fine;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// The strips on the outside as it is seen from the front, each corner where `place` has it
/// by its height and direction.
pub fn over_front(drawing: &mut Drawing, plan: &StackPlan, place: impl Fn(f64, f64) -> Point) {
    let seen = [-FRAC_PI_2, FRAC_PI_2];
    strips(drawing, plan, false, seen, |_| Ink::Thin, place);
}

/// The outline of a trace: up its right edge and down its left one.
fn outline(trace: &[(f64, [f64; 2])], place: impl Fn(f64, f64) -> Point) -> Vec<Point> {
    let right = trace.iter().map(|(z, [_, to])| place(*z, *to));
    let left = trace.iter().rev().map(|(z, [from, _])| place(*z, *from));
    right.chain(left).collect()
}

/// Draws the strips of every set over a drawing of a surface, the later sets over the
/// earlier. `seen` are the directions that the drawing shows; a strip is drawn once for
/// each turn in which it comes into them.
fn strips(
    drawing: &mut Drawing,
    plan: &StackPlan,
    is_inside: bool,
    seen: [f64; 2],
    ink: impl Fn(usize) -> Ink,
    place: impl Fn(f64, f64) -> Point,
) {
    for (number, own) in plan.slot_sets.iter().enumerate() {
        let Some(own) = own else { continue };
        for slot in 0..own.cuts.len() {
            let name = format!("strip-{number}-{slot}");
            let whole = own.traces(slot, is_inside);
            for outline in outlines(&whole, seen, &place) {
                let strip = Path::line(polygon(&outline), ink(number));
                drawing.add(strip.filled(Fill::Wood(own.color())).named(&name));
            }
            if own.layers.len() < 2 {
                continue;
            }
            // The first layer is the ground of the others; the outline stands over all.
            for (layer, of) in own.layers.iter().enumerate().skip(1) {
                for outline in outlines(&own.layer_traces(layer, slot, is_inside), seen, &place) {
                    let area = Path::area(polygon(&outline), Fill::Wood(of.color));
                    drawing.add(area.named(&name));
                }
            }
            for outline in outlines(&whole, seen, &place) {
                drawing.add(Path::line(polygon(&outline), ink(number)).named(&name));
            }
        }
    }
}

/// The outlines of traces within the directions that are seen, one for each turn in which
/// they come into them.
fn outlines(
    traces: &[Trace],
    seen: [f64; 2],
    place: impl Fn(f64, f64) -> Point,
) -> Vec<Vec<Point>> {
    let mut found = Vec::new();
    for trace in traces {
        let edges = trace.iter().flat_map(|(_, ends)| ends);
        let [least, most] = edges.fold([f64::MAX, f64::MIN], |at, end| {
            [at[0].min(*end), at[1].max(*end)]
        });
        // The first turn that brings its right end past the left of what is seen.
        let mut turn = ((seen[0] - most) / TAU).ceil() * TAU;
        while least + turn < seen[1] {
            found.push(outline(trace, |z, direction| {
                place(z, (direction + turn).clamp(seen[0], seen[1]))
            }));
            turn += TAU;
        }
    }
    found
}

/// The strips over the unrolled outside of the whole vessel.
pub fn over_unrolled(drawing: &mut Drawing, plan: &StackPlan, rows: &Rows) {
    let across = (drawing.width_mm - 2.0) / TAU;
    let place = |z: f64, direction: f64| point(1.0 + (direction + PI) * across, rows.y(z));
    strips(drawing, plan, false, [-PI, PI], |_| Ink::Thin, place);
}

/// The strips on the outside as it is seen at the left of the half-section.
pub fn over_seen_half(
    drawing: &mut Drawing,
    view: &View,
    plan: &StackPlan,
    is_held: impl Fn(usize) -> bool,
) {
    let Some(wall) = &plan.wall else { return };
    let place = |z: f64, direction: f64| view.place(z, direction.sin() * wall.outside.radius_at(z));
    let ink = |set| if is_held(set) { Ink::Held } else { Ink::Thin };
    strips(drawing, plan, false, [-FRAC_PI_2, 0.0], ink, place);
}

/// How deep the strips go into the cut wall: along the middle of a slot, from its bottom
/// to the finished outside.
pub fn over_cut_half(drawing: &mut Drawing, view: &View, plan: &StackPlan) {
    for (number, own) in plan.slot_sets.iter().enumerate() {
        let first = own.as_ref().and_then(|own| Some((own, own.cuts.first()?)));
        let Some((own, cut)) = first else {
            continue;
        };
        let deep = |z: f64| own.slots.bottom_reach_mm(cut, z);
        let mut outside = Vec::new();
        let mut inside = Vec::new();
        for level in &own.stack.wall {
            let depth = deep(level.z_mm).max(level.inside_mm);
            if depth < level.outside_mm {
                let z = own.middle_mm + level.z_mm;
                outside.push(view.place(z, level.outside_mm));
                inside.push(view.place(z, depth));
            }
        }
        if outside.len() < 2 {
            continue;
        }
        outside.extend(inside.into_iter().rev());
        drawing.add(
            Path::line(polygon(&outside), Ink::Thin)
                .filled(Fill::Wood(own.middle_color()))
                .named(format!("depth-{number}")),
        );
        if own.is_through() {
            continue;
        }
        // Where the slot's bottom runs through wood that is turned away.
        let line: Vec<Point> = own
            .stack
            .wall
            .iter()
            .map(|level| view.place(own.middle_mm + level.z_mm, deep(level.z_mm)))
            .collect();
        drawing.add(Path::line(polyline(&line), Ink::Cut));
    }
}

/// From one layer's words to the next beside a strip's end.
const LAYER_PITCH_MM: f64 = 3.4;

/// How high the end of a strip of so many layers is drawn.
pub fn strip_end_mm(own: &SetPlan) -> f64 {
    (LAYER_PITCH_MM * own.layers.len() as f64 + 2.0).max(18.0)
}

/// A layered strip seen on its end, its outside up and the layers numbered from the left, and
/// beside it what each is.
pub fn strip_end(plan: &StackPlan, own: &SetPlan, width_mm: f64, pen: &Pen) -> Drawing {
    let height_mm = strip_end_mm(own);
    let mut drawing = Drawing::new(width_mm, height_mm, words::STRIP_END.text);
    let [_, wide, _] = own.strip_mm;
    let layers_mm = own.layers_mm().max(1e-6);
    // Larger across than up, where the layers were too thin to be told apart.
    let up = (height_mm - 3.6) / wide.max(1e-6);
    let across = (width_mm * 0.3 / layers_mm).min(up.max(14.0 / layers_mm));
    let mut x = 0.5;
    for (at, layer) in own.layers.iter().enumerate() {
        let thick = layer.thickness_mm * across;
        let body = rectangle(point(x, 0.5), thick, wide * up);
        let body = Path::line(body, Ink::Thin).filled(Fill::Wood(layer.color));
        drawing.add(body.named("layer"));
        let number = (at + 1).to_string();
        if thick > 1.6 {
            let below = point(x + thick / 2.0, height_mm - 0.6);
            drawing.add(Words::new(below, number.as_str(), 2.1).anchored(Anchor::Middle));
        }
        x += thick;
        let name = plan.vessel.woods.get(layer.wood);
        let thick = fine(layer.thickness_mm, pen.unit).line();
        let says = format!("{number}  {thick}  {}", name.map_or("", String::as_str));
        let line = point(width_mm * 0.36, 2.8 + LAYER_PITCH_MM * at as f64);
        let room = width_mm * 0.64 / SCREEN_SLACK;
        let says = shorten(&says, room, 2.3, Weight::Regular);
        drawing.add(Words::new(line, says, 2.3));
    }
    drawing
}

/// How the band maps directions and heights: handed back by the page while a slot is
/// dragged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandView {
    /// Drawn millimeters for a radian.
    pub across: f64,
    /// Drawn millimeters for one real one.
    pub up: f64,
    /// Width of the drawing.
    pub width_mm: f64,
    /// Height of the drawing.
    pub height_mm: f64,
}

/// Room above and below the band, for handles.
const BAND_ROOM_MM: f64 = 24.0 * MM_PER_PX;

impl BandView {
    /// To scale along the outside and up, as large as the height allows; where that shows
    /// less than a slot and its neighbors, heights are drawn larger.
    pub fn fit(own: &SetPlan, width_mm: f64, height_mm: f64) -> BandView {
        let [bottom, top] = own.end_radii_mm();
        let radius = f64::midpoint(bottom, top).max(1.0);
        let up = (height_mm - 2.0 * BAND_ROOM_MM).max(5.0) / own.stack.height_mm().max(1.0);
        let least = (own.slots.step_rad() * 1.3).min(TAU);
        // Where the band is not shown it has no width, and still a scale.
        let width_mm = width_mm.max(1.0);
        BandView {
            across: (up * radius)
                .min(width_mm / least)
                .max(width_mm / TAU * 0.2),
            up,
            width_mm,
            height_mm,
        }
    }

    /// The same directions on a lower drawing: what stands straight below is the same slot.
    #[must_use]
    pub fn lower(&self, height_mm: f64) -> BandView {
        let share = (height_mm - 2.0 * BAND_ROOM_MM) / (self.height_mm - 2.0 * BAND_ROOM_MM);
        BandView {
            up: self.up * share.clamp(0.05, 1.0),
            height_mm,
            ..*self
        }
    }

    /// From the numbers that the page holds.
    pub fn from_numbers(numbers: &[f64]) -> Option<BandView> {
        match *numbers {
            [across, up, width_mm, height_mm] if across > 0.0 && up > 0.0 => Some(BandView {
                across,
                up,
                width_mm,
                height_mm,
            }),
            _ => None,
        }
    }

    /// The numbers for the page to hold.
    pub fn numbers(&self) -> [f64; 4] {
        [self.across, self.up, self.width_mm, self.height_mm]
    }

    /// How many times larger heights are drawn.
    pub fn stretch(&self, own: &SetPlan) -> f64 {
        let [bottom, top] = own.end_radii_mm();
        self.up * f64::midpoint(bottom, top) / self.across
    }

    /// A place by direction and height above the stack's middle.
    pub fn place(&self, direction: f64, z_mm: f64) -> Point {
        point(
            self.width_mm / 2.0 + direction * self.across,
            self.height_mm / 2.0 - z_mm * self.up,
        )
    }

    /// The direction of a place.
    pub fn direction(&self, x_mm: f64) -> f64 {
        (x_mm - self.width_mm / 2.0) / self.across
    }

    /// The directions that are shown.
    fn seen(&self) -> [f64; 2] {
        let half = (self.width_mm / 2.0 / self.across).min(PI);
        [-half, half]
    }
}

/// Direction of the slot that stands nearest to the front.
pub fn front_slot_rad(own: &SetPlan) -> f64 {
    let nearest = own.slots.directions().map(|slot| within_half(slot, TAU));
    nearest
        .min_by(|one, other| one.abs().total_cmp(&other.abs()))
        .unwrap_or(own.slots.first_rad)
}

/// The stack's rings unrolled, with every strip that shows on them.
pub fn band(plan: &StackPlan, own: &SetPlan, view: &BandView, is_inside: bool) -> Drawing {
    let vessel = &plan.vessel;
    let title = (if is_inside {
        words::INLAY_INSIDE_BAND
    } else {
        words::INLAY_BAND
    })
    .text;
    let mut drawing = Drawing::new(view.width_mm, view.height_mm, title);
    let seen = view.seen();
    for place in own.rings.clone() {
        let (Some(ring), Some(planned)) = (vessel.rings.get(place), plan.rings.get(place)) else {
            continue;
        };
        let [low, high] = [planned.span.bottom_mm, planned.span.top_mm].map(|z| z - own.middle_mm);
        for cell in cells(ring) {
            let (segment, start, end) = cell;
            let (start, end) = (start.max(seen[0]), end.min(seen[1]));
            if end - start < 1e-9 {
                continue;
            }
            let corner = view.place(start, high);
            let width = (end - start) * view.across;
            let body = rectangle(corner, width, (high - low) * view.up);
            drawing.add(
                Path::line(body.clone(), Ink::Thin)
                    .filled(Fill::Wood(planned.color_of(segment)))
                    .named(format!("cell-{place}-{segment}")),
            );
            let shown = (seen, [planned.span.bottom_mm, planned.span.top_mm]);
            let surface = (place, is_inside);
            stripe::over_cell(&mut drawing, plan, surface, cell, shown, body, |z, at| {
                view.place(at, z - own.middle_mm)
            });
        }
    }
    let ends = [
        own.stack.layers.first().map_or(0.0, |layer| layer.from_mm),
        own.stack.layers.last().map_or(0.0, |layer| layer.to_mm),
    ];
    let on_band = |z: f64, direction: f64| {
        let z = (z - own.middle_mm).clamp(ends[0], ends[1]);
        view.place(direction, z)
    };
    strips(&mut drawing, plan, is_inside, seen, |_| Ink::Thin, on_band);
    let corner = view.place(seen[0], ends[1]);
    let frame = rectangle(
        corner,
        (seen[1] - seen[0]) * view.across,
        (ends[1] - ends[0]) * view.up,
    );
    drawing.add(Path::line(frame, Ink::Object));
    drawing
}

/// How the blade's scale maps heights.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeView {
    /// Height of the table on the drawing.
    pub table_mm: f64,
    /// Drawn millimeters for one real one.
    pub scale: f64,
}

impl BladeView {
    /// Fits the limits and the present height on a drawing of this height.
    pub fn fit(own: &SetPlan, height_mm: f64) -> BladeView {
        let window = &own.window;
        let known = [
            Some(window.least_mm),
            Some(window.bridge_mm),
            window.hidden_mm,
        ];
        let highest = known
            .into_iter()
            .flatten()
            .filter(|height| *height < 500.0)
            .fold(own.blade_mm, f64::max);
        let table_mm = height_mm - 6.0;
        BladeView {
            table_mm,
            scale: (table_mm - 8.0).max(10.0) / (highest * 1.08).max(1.0),
        }
    }

    /// Where a height lies.
    pub fn y(&self, blade_mm: f64) -> f64 {
        self.table_mm - blade_mm * self.scale
    }

    /// The height of a place.
    pub fn blade_mm(&self, y_mm: f64) -> f64 {
        (self.table_mm - y_mm) / self.scale
    }
}

/// Where the blade's handle stands on its scale.
pub const BLADE_X_MM: f64 = 10.0;

/// How a height becomes a figure.
type Rounded = fn(f64, Unit) -> Shown;

/// A limit that must not be passed, fine enough to be told from the others.
pub(in crate::show) fn no_higher(height_mm: f64, unit: Unit) -> Shown {
    at_most(height_mm, unit.finest())
}

/// The same of one that must be reached.
pub(in crate::show) fn no_lower(height_mm: f64, unit: Unit) -> Shown {
    at_least(height_mm, unit.finest())
}

/// From one height to the next where they are told.
const WINDOW_PITCH_MM: f64 = 9.6;

/// The blade's heights as they are told, from the table up.
fn heights_told(own: &SetPlan) -> Vec<(f64, Rounded, words::Word, Ink)> {
    let limits = &own.window;
    let is_open = limits.middle_mm().is_some();
    let limit_ink = if is_open { Ink::Thin } else { Ink::Caution };
    // A limit is rounded to its harmless side.
    let mut told: Vec<(f64, Rounded, words::Word, Ink)> = vec![
        (
            limits.least_mm,
            no_lower,
            words::inlay::least(own),
            limit_ink,
        ),
        (
            limits.bridge_mm,
            no_higher,
            words::inlay::most(own),
            limit_ink,
        ),
    ];
    if is_open {
        told.push((own.blade_mm, show, words::INLAY_WINDOW, Ink::Held));
    }
    if let Some(hidden) = limits.hidden_mm {
        told.push((hidden, no_higher, words::SLOT_HIDDEN, limit_ink));
    }
    told.retain(|(height, ..)| height.is_finite() && height.abs() < 500.0);
    told.sort_by(|one, other| one.0.total_cmp(&other.0));
    told
}

/// The blade's heights: the table, the limits, the window between them, and the present
/// height.
pub fn window(own: &SetPlan, size_mm: (f64, f64), pen: &Pen) -> Drawing {
    let (width, height) = size_mm;
    let mut drawing = Drawing::new(width, height, words::INLAY_WINDOW.text);
    let view = BladeView::fit(own, height);
    let (left, right) = (BLADE_X_MM - 5.0, BLADE_X_MM + 5.0);
    let limits = &own.window;
    let is_open = limits.middle_mm().is_some();
    if is_open {
        let (top, bottom) = (view.y(limits.most_mm()), view.y(limits.least_mm.max(0.0)));
        let open = rectangle(point(left, top), right - left, (bottom - top).max(0.4));
        drawing.add(
            Path::line(open, Ink::HeldThin)
                .filled(Fill::Tone(Tone::Faint))
                .named("window"),
        );
    }
    drawing.line(
        point(0.0, view.table_mm),
        point(width, view.table_mm),
        Ink::Object,
    );
    drawing.line(point(left, view.table_mm), point(left, 2.0), Ink::Thin);
    let told = heights_told(own);
    // Words keep apart, and lead to their line: from the table up, and down again from
    // the drawing's upper edge.
    // Where they are many for the drawing, the names stand behind the figures.
    let is_close = WINDOW_PITCH_MM * told.len() as f64 + 5.0 > height;
    let pitch = if is_close { 6.0 } else { WINDOW_PITCH_MM };
    let lines: Vec<f64> = told
        .iter()
        .map(|(blade, ..)| view.y(*blade).clamp(2.0, (height - 2.0).max(2.0)))
        .collect();
    let mut places = lines.clone();
    for at in 1..places.len() {
        places[at] = places[at].min(places[at - 1] - pitch);
    }
    let mut least = 3.0;
    for place in places.iter_mut().rev() {
        *place = place.max(least);
        least = *place + pitch;
    }
    for ((blade, rounded, key, ink), (y, words_y)) in
        told.into_iter().zip(lines.into_iter().zip(places))
    {
        drawing.line(point(left, y), point(right + 2.0, y), ink);
        drawing.line(
            point(right + 2.0, y),
            point(right + 6.0, words_y),
            Ink::Thin,
        );
        let shown = rounded(blade, pen.unit);
        let mut figure = lettering(&shown).then(format!(" {}", shown.unit));
        if !shown.remainder.is_empty() {
            figure = figure.then(format!(" {}", shown.remainder));
        }
        let tone = if ink == Ink::Held {
            Tone::Held
        } else {
            Tone::Graphite
        };
        let wide = figure.width_mm(2.9, Weight::Bold);
        drawing.add(
            Words::new(point(right + 7.0, words_y + 1.0), figure, 2.9)
                .bold()
                .toned(tone),
        );
        let is_paper = pen.field_mm.is_none();
        let tone = if is_paper {
            Tone::Graphite
        } else {
            Tone::Quiet
        };
        let at = if is_close {
            point(right + 9.0 + wide, words_y + 1.0)
        } else {
            point(right + 7.0, words_y + 4.6)
        };
        let says = Words::new(at, key.text, 2.1);
        drawing.add(says.toned(tone));
    }
    drawing
}
