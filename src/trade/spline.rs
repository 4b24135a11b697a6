//! Slots sawn through a stack of glued rings, and the strips glued into them.
//!
//! The stack lies on the saw's table with its axis level, held by a gauge that turns
//! it by β from the blade's plane; the blade stands up through the table by d, its kerf
//! is k. In the frame of one cut u runs from the axis down to the table, v sideways
//! toward growing directions, and z along the axis from the stack's middle. The blade
//! takes away everything with
//!
//! > |v·cos β − z·sin β| ≤ k/2 and u ≥ R − d,
//!
//! where R is how far the table is from the axis: the farthest that any ring reaches in
//! that direction. So at the height z a slot is, sideways, k/(2·cos β) wide on either
//! side of z·tan β, and its bottom is a plane. All else follows from these two lines;
//! they are plain geometry, checked in `tests/spline.rs` by sawing voxels.

use std::f64::consts::{PI, TAU};

/// An outline round the axis, seen along it.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A circle of this radius, millimeters.
    Round(f64),
    /// The corners of flat-sided segments that are alike.
    Corners(Corners),
    /// The corners of others.
    Unlike(Polygon),
}

/// Corners round the axis, the axis within them.
#[derive(Clone, Debug, PartialEq)]
pub struct Polygon {
    /// Distance from the axis, millimeters, and direction, radians, of one after the other.
    corners: Vec<(f64, f64)>,
}

impl Polygon {
    /// The polygon of at least three corners, each by its distance and direction, in the
    /// order of a turn to growing directions.
    pub fn new(corners: impl IntoIterator<Item = (f64, f64)>) -> Polygon {
        Polygon {
            corners: corners.into_iter().collect(),
        }
    }

    /// Its sides, each from a corner to the next.
    fn sides(&self) -> impl Iterator<Item = [(f64, f64); 2]> + use<'_> {
        let next = |at: usize| match self.corners.get(at + 1) {
            Some(corner) => *corner,
            None => (self.corners[0].0, self.corners[0].1 + TAU),
        };
        let corners = self.corners.iter().enumerate();
        corners.map(move |(at, corner)| [*corner, next(at)])
    }

    /// The way along it from its first corner to a direction.
    fn way_mm(&self, direction_rad: f64) -> f64 {
        let length = |[(one, _), (other, _)]: [(f64, f64); 2], apart: f64| {
            (one * one + other * other - 2.0 * one * other * apart.cos())
                .max(0.0)
                .sqrt()
        };
        let Some((_, first)) = self.corners.first() else {
            return 0.0;
        };
        let turns = ((direction_rad - first) / TAU).floor();
        let within = direction_rad - turns * TAU;
        let way = |side: [(f64, f64); 2]| {
            let [(one, from), (other, to)] = side;
            if within >= to {
                return length(side, to - from);
            }
            if within <= from {
                return 0.0;
            }
            // The place of a chord in a direction, by the areas of the triangles beside it.
            let across = one * (within - from).sin() + other * (to - within).sin();
            let here = one * other * (to - from).sin() / across;
            length([(one, 0.0), (here, 0.0)], within - from)
        };
        let whole: f64 = self
            .sides()
            .map(|side| length(side, side[1].1 - side[0].1))
            .sum();
        turns * whole + self.sides().map(way).sum::<f64>()
    }
}

/// Corners at the joints of a ring: one at each, or two with something between the
/// segments. Millimeters and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corners {
    /// From the axis to a corner.
    pub radius_mm: f64,
    /// Number of joints.
    pub count: u32,
    /// Direction of a joint.
    pub joint_rad: f64,
    /// From the joint to a corner on either side of it; 0 where segments touch.
    pub aside_rad: f64,
}

impl Corners {
    /// From a direction to the nearest joint, within half a segment.
    fn joint_apart_rad(self, direction_rad: f64) -> f64 {
        let step = TAU / f64::from(self.count.max(1));
        (direction_rad - self.joint_rad + step / 2.0).rem_euclid(step) - step / 2.0
    }

    /// The corners in the frame of a direction, u and v, in the order of their angle.
    fn in_frame(&self, direction_rad: f64) -> impl Iterator<Item = (f64, f64)> + use<> {
        let corners = *self;
        let step = TAU / f64::from(corners.count.max(1));
        let first = -corners.joint_apart_rad(direction_rad);
        (0..corners.count).flat_map(move |joint| {
            let joint_rad = first + step * f64::from(joint);
            [-corners.aside_rad, corners.aside_rad].map(|aside| {
                let (sine, cosine) = (joint_rad + aside).sin_cos();
                (corners.radius_mm * cosine, corners.radius_mm * sine)
            })
        })
    }
}

impl Outline {
    /// How far it reaches in a direction: where a level table touches it.
    pub fn reach_mm(&self, direction_rad: f64) -> f64 {
        match self {
            Outline::Round(radius) => *radius,
            Outline::Corners(corners) => {
                let to_corner = corners.joint_apart_rad(direction_rad).abs() - corners.aside_rad;
                corners.radius_mm * to_corner.cos()
            }
            Outline::Unlike(polygon) => {
                let along = |(radius, at): &(f64, f64)| radius * (at - direction_rad).cos();
                polygon.corners.iter().map(along).fold(0.0, f64::max)
            }
        }
    }

    /// How far it reaches at most.
    pub fn farthest_mm(&self) -> f64 {
        match self {
            Outline::Round(radius) => *radius,
            Outline::Corners(corners) => corners.radius_mm,
            Outline::Unlike(polygon) => polygon.corners.iter().map(|it| it.0).fold(0.0, f64::max),
        }
    }

    /// The way along it to a direction, millimeters, from a place of its own: two differ by
    /// the way between them.
    pub fn round_mm(&self, direction_rad: f64) -> f64 {
        match self {
            Outline::Round(radius) => radius * direction_rad,
            Outline::Corners(corners) => {
                let step = TAU / f64::from(corners.count.max(1));
                let half_flat = step / 2.0 - corners.aside_rad;
                let apothem = corners.radius_mm * half_flat.cos();
                let across = corners.radius_mm * corners.aside_rad.sin();
                // Whole segments, joint to joint, then from the joint onward.
                let past = (direction_rad - corners.joint_rad) / step;
                let beyond = corners.joint_apart_rad(direction_rad);
                let whole = (past - beyond / step).round();
                let part = if beyond.abs() < corners.aside_rad {
                    corners.radius_mm * corners.aside_rad.cos() * beyond.tan()
                } else {
                    let on_flat = step / 2.0 - beyond.abs();
                    let rest = apothem * (half_flat.tan() - on_flat.tan());
                    (across + rest).copysign(beyond)
                };
                whole * 2.0 * (across + apothem * half_flat.tan()) + part
            }
            Outline::Unlike(polygon) => polygon.way_mm(direction_rad),
        }
    }

    /// Its farthest point from the axis along a direction, of what lies sideways
    /// between two places; nothing where there is none of it.
    pub fn top_mm(&self, direction_rad: f64, [from, to]: [f64; 2]) -> Option<f64> {
        match self {
            Outline::Round(radius) => {
                let nearest = from.max(0.0).max(-to);
                (nearest <= *radius).then(|| (radius * radius - nearest * nearest).sqrt())
            }
            Outline::Corners(corners) => {
                top_of_sides(|| corners.in_frame(direction_rad), [from, to])
            }
            Outline::Unlike(polygon) => {
                let in_frame = |(radius, at): &(f64, f64)| {
                    let (sine, cosine) = (at - direction_rad).sin_cos();
                    (radius * cosine, radius * sine)
                };
                top_of_sides(|| polygon.corners.iter().map(in_frame), [from, to])
            }
        }
    }
}

/// The farthest point along u of a polygon, of what lies between two v.
fn top_of_sides<I: Iterator<Item = (f64, f64)>>(
    corners: impl Fn() -> I,
    sideways: [f64; 2],
) -> Option<f64> {
    let mut before = corners().last()?;
    let tops = corners().filter_map(|corner| {
        let side = (before, corner);
        before = corner;
        top_of_side(side.0, side.1, sideways)
    });
    tops.reduce(f64::max)
}

/// The farthest point of a straight side along u, of what lies between two v.
fn top_of_side((u1, v1): (f64, f64), (u2, v2): (f64, f64), [from, to]: [f64; 2]) -> Option<f64> {
    let (low, high) = (v1.min(v2).max(from), v1.max(v2).min(to));
    if low > high {
        return None;
    }
    if (v2 - v1).abs() < 1e-12 {
        return Some(u1.max(u2));
    }
    let at = |v: f64| u1 + (u2 - u1) * (v - v1) / (v2 - v1);
    Some(at(low).max(at(high)))
}

/// A ring of the stack.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Its lower face, from the stack's middle, millimeters.
    pub from_mm: f64,
    /// Its upper face.
    pub to_mm: f64,
    /// What the table and the blade meet.
    pub outside: Outline,
    /// Its rough hole; nothing in a disc.
    pub hole: Option<Outline>,
}

/// A finished surface at a height from the stack's middle. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// The height.
    pub z_mm: f64,
    /// Radius of the outside.
    pub outside_mm: f64,
    /// Radius of the inside; 0 through the floor.
    pub inside_mm: f64,
}

/// A stack of rings on the saw, and the finished wall within it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stack {
    /// The rings, rising.
    pub layers: Vec<Layer>,
    /// The finished wall at rising heights.
    pub wall: Vec<Level>,
}

/// A set of equal slots: at places evenly round, one at each or some side by side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slots {
    /// How many in all.
    pub count: u32,
    /// How many side by side at each place, 1 or more; they divide the count.
    pub beside: u32,
    /// From one to the next of these, radians.
    pub apart_rad: f64,
    /// The gauge's angle β, radians; above 0 they lean toward growing directions as they
    /// rise.
    pub gauge_rad: f64,
    /// Width of the blade's cut, millimeters.
    pub kerf_mm: f64,
    /// Direction of the first place at the stack's middle, radians.
    pub first_rad: f64,
}

impl Slots {
    /// At how many places they stand.
    pub fn places(&self) -> u32 {
        (self.count / self.beside.max(1)).max(1)
    }

    /// From one place to the next.
    pub fn step_rad(&self) -> f64 {
        TAU / f64::from(self.places())
    }

    /// Where each stands: those side by side with their middle at the place.
    pub fn directions(&self) -> impl Iterator<Item = f64> + use<> {
        let slots = *self;
        let beside = slots.beside.max(1);
        let aside = move |slot: u32| {
            let from_middle = f64::from(slot % beside) - f64::from(beside - 1) / 2.0;
            from_middle * slots.apart_rad
        };
        (0..slots.count).map(move |slot| {
            slots.first_rad + slots.step_rad() * f64::from(slot / beside) + aside(slot)
        })
    }

    /// From a slot to the nearest one beside it.
    pub fn nearest_rad(&self) -> f64 {
        let within = self.apart_rad * f64::from(self.beside.max(1) - 1);
        match self.beside {
            0 | 1 => self.step_rad(),
            _ => self.apart_rad.min(self.step_rad() - within),
        }
    }

    /// Sideways from and to where a slot reaches at a height.
    pub fn sideways_mm(&self, z_mm: f64) -> [f64; 2] {
        self.sideways_of_mm(z_mm, self.whole_mm())
    }

    /// Across the slot from side to side, square to them: its middle is 0.
    pub fn whole_mm(&self) -> [f64; 2] {
        [-self.kerf_mm / 2.0, self.kerf_mm / 2.0]
    }

    /// Sideways from and to where what lies between two places across the slot reaches at a
    /// height.
    pub fn sideways_of_mm(&self, z_mm: f64, across_mm: [f64; 2]) -> [f64; 2] {
        let middle = z_mm * self.gauge_rad.tan();
        across_mm.map(|it| middle + it / self.gauge_rad.cos())
    }

    /// Half of a slot's width, measured level: k/(2·cos β).
    pub fn half_width_mm(&self) -> f64 {
        self.kerf_mm / (2.0 * self.gauge_rad.cos())
    }

    /// The farthest that a slot reaches sideways at a height: s(z) = |z|·tan β +
    /// k/(2·cos β).
    fn farthest_mm(&self, z_mm: f64) -> f64 {
        (z_mm * self.gauge_rad.tan()).abs() + self.half_width_mm()
    }

    /// The nearest that a slot comes sideways to the line through the axis.
    fn nearest_mm(&self, z_mm: f64) -> f64 {
        ((z_mm * self.gauge_rad.tan()).abs() - self.half_width_mm()).max(0.0)
    }

    /// From which direction to which a slot shows on a round surface, radians from the
    /// slot's own; nothing where it does not.
    pub fn shown(&self, z_mm: f64, radius_mm: f64, bottom_mm: f64) -> Option<[f64; 2]> {
        self.shown_of(self.whole_mm(), z_mm, radius_mm, bottom_mm)
    }

    /// The same of what lies between two places across the slot.
    pub fn shown_of(
        &self,
        across_mm: [f64; 2],
        z_mm: f64,
        radius_mm: f64,
        bottom_mm: f64,
    ) -> Option<[f64; 2]> {
        if radius_mm <= 0.0 || bottom_mm > radius_mm {
            return None;
        }
        let sideways = self.sideways_of_mm(z_mm, across_mm);
        if sideways[0] >= radius_mm || sideways[1] <= -radius_mm {
            return None;
        }
        let [from, to] = sideways.map(|v| (v / radius_mm).clamp(-1.0, 1.0).asin());
        // Of the round, what lies beyond the bottom's plane.
        let most = (bottom_mm / radius_mm).clamp(-1.0, 1.0).acos();
        let (from, to) = (from.max(-most), to.min(most));
        (to > from).then_some([from, to])
    }

    /// Whether a place is in the slot of this direction: x to the right of someone in
    /// front of the piece, y away from them, z from the stack's middle; `bottom_mm` is
    /// the bottom's distance from the axis.
    pub fn holds(&self, direction_rad: f64, at_mm: [f64; 3], bottom_mm: f64) -> bool {
        let [deep, across] = self.within_mm(direction_rad, at_mm);
        deep >= bottom_mm && across.abs() <= self.kerf_mm / 2.0
    }

    /// How far a place is from the axis toward the slot's mouth, and how far across the slot
    /// of this direction from its middle; x, y and z as [`Slots::holds`] has them.
    pub fn within_mm(&self, direction_rad: f64, [x, y, z]: [f64; 3]) -> [f64; 2] {
        let (sine, cosine) = direction_rad.sin_cos();
        let (u, v) = (x * sine - y * cosine, x * cosine + y * sine);
        let (lean_sine, lean_cosine) = self.gauge_rad.sin_cos();
        [u, v * lean_cosine - z * lean_sine]
    }
}

/// How far from the axis a slot's bottom may be. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bottoms {
    /// At most here it shows, in full width, all along the outside. Below 0 where its
    /// lean carries it off the surface: then no depth shows it all.
    pub outside_mm: f64,
    /// The same along the inside; nothing where the stack has no inside.
    pub inside_mm: Option<f64>,
    /// At least here nothing of it shows inside.
    pub hidden_mm: f64,
}

impl Stack {
    /// Its height.
    pub fn height_mm(&self) -> f64 {
        match (self.layers.first(), self.layers.last()) {
            (Some(first), Some(last)) => last.to_mm - first.from_mm,
            _ => 0.0,
        }
    }

    /// How far the table is from the axis when a direction points down.
    pub fn table_mm(&self, direction_rad: f64) -> f64 {
        let reach = self
            .layers
            .iter()
            .map(|layer| layer.outside.reach_mm(direction_rad));
        reach.fold(0.0, f64::max)
    }

    /// The farthest from the axis that any hole reaches above a slot: there the least
    /// wood is left. 0 without holes.
    pub fn hole_mm(&self, slots: &Slots, direction_rad: f64) -> f64 {
        let tops = self.layers.iter().filter_map(|layer| {
            let [low, high] = [layer.from_mm, layer.to_mm].map(|z| slots.sideways_mm(z));
            let sideways = [low[0].min(high[0]), low[1].max(high[1])];
            layer.hole.as_ref()?.top_mm(direction_rad, sideways)
        });
        tops.fold(0.0, f64::max)
    }

    /// Where the bottoms may be, for what shows.
    pub fn bottoms(&self, slots: &Slots) -> Bottoms {
        let mut bottoms = Bottoms {
            outside_mm: f64::MAX,
            inside_mm: None,
            hidden_mm: 0.0,
        };
        // sqrt(r² − s²), going on below 0 where the slot leaves the surface.
        let across = |radius: f64, aside: f64| {
            let square = radius * radius - aside * aside;
            square.abs().sqrt().copysign(square)
        };
        for level in &self.wall {
            let (far, near) = (slots.farthest_mm(level.z_mm), slots.nearest_mm(level.z_mm));
            bottoms.outside_mm = bottoms.outside_mm.min(across(level.outside_mm, far));
            if level.inside_mm > 0.0 {
                let all = across(level.inside_mm, far);
                bottoms.inside_mm = Some(bottoms.inside_mm.map_or(all, |least| least.min(all)));
                bottoms.hidden_mm = bottoms.hidden_mm.max(across(level.inside_mm, near));
            }
        }
        bottoms
    }

    /// The blade heights between which every slot does what is wished.
    pub fn window(&self, slots: &Slots, wished: Wished) -> Window {
        let bottoms = self.bottoms(slots);
        let (mut farthest, mut nearest) = (0.0_f64, f64::MAX);
        let mut whole = f64::MAX;
        for direction in slots.directions() {
            let table = self.table_mm(direction);
            farthest = farthest.max(table);
            nearest = nearest.min(table);
            whole = whole.min(table - self.hole_mm(slots, direction) - wished.bridge_mm);
        }
        let shown = match (wished.inside_too, bottoms.inside_mm) {
            (true, Some(inside)) => inside.min(bottoms.outside_mm),
            _ => bottoms.outside_mm,
        };
        let hidden = (!wished.inside_too).then_some(nearest - bottoms.hidden_mm);
        Window {
            least_mm: farthest - shown,
            bridge_mm: whole,
            hidden_mm: hidden,
            leaves_surface: shown < 0.0,
        }
    }

    /// The least wood left between a slot's bottom and a hole, for a blade height; below
    /// 0 it breaks through by so much.
    pub fn bridge_mm(&self, slots: &Slots, blade_mm: f64) -> f64 {
        let left = slots
            .directions()
            .map(|at| self.table_mm(at) - blade_mm - self.hole_mm(slots, at));
        left.fold(f64::MAX, f64::min)
    }

    /// The least wood left between neighbouring slots at their bottoms; below 0 they
    /// run into each other.
    pub fn between_mm(&self, slots: &Slots, blade_mm: f64) -> f64 {
        let ends = [
            self.layers.first().map(|it| it.from_mm),
            self.layers.last().map(|it| it.to_mm),
        ];
        let mut least = f64::MAX;
        for direction in slots.directions() {
            let bottom = (self.table_mm(direction) - blade_mm).max(0.0);
            for z in ends.into_iter().flatten().chain([0.0]) {
                let [from, to] = slots.sideways_mm(z);
                // Where both sides of the slot are reached, it is widest seen from the axis.
                let radius = bottom.hypot(from.abs().max(to.abs())).max(1e-9);
                let width =
                    (to / radius).clamp(-1.0, 1.0).asin() - (from / radius).clamp(-1.0, 1.0).asin();
                let left = slots.nearest_rad() - width;
                least = least.min(2.0 * radius * (left / 2.0).clamp(-PI / 2.0, PI / 2.0).sin());
            }
        }
        least
    }

    /// How long a strip must be to fill a slot: H/cos β + k·tan β, or less where the
    /// lean carries the slot out of the stack's side before its end.
    pub fn strip_length_mm(&self, slots: &Slots, blade_mm: f64) -> f64 {
        let (sine, cosine) = (slots.gauge_rad.sin().abs(), slots.gauge_rad.cos());
        let whole = self.height_mm() / cosine + slots.kerf_mm * sine / cosine;
        let farthest = slots
            .directions()
            .map(|direction| self.table_mm(direction))
            .fold(0.0, f64::max);
        let bottom = (farthest - blade_mm).clamp(0.0, farthest);
        // Beside the middle the slot's bottom meets a round outside here.
        let side = (farthest * farthest - bottom * bottom).sqrt();
        let in_wood = 2.0 * (side + slots.kerf_mm / 2.0 * cosine) / sine.max(1e-12);
        whole.min(in_wood)
    }
}

/// What the turner wishes of a set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wished {
    /// Whether it shows all along the inside too; else not at all there.
    pub inside_too: bool,
    /// Least wood between a slot's bottom and the hole.
    pub bridge_mm: f64,
}

/// Blade heights above the table, millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// At least so high it shows as wished.
    pub least_mm: f64,
    /// At most so high the bridge is left.
    pub bridge_mm: f64,
    /// At most so high nothing shows inside; nothing where it is to show.
    pub hidden_mm: Option<f64>,
    /// Whether the lean carries the slot off the finished surface: no blade shows it all.
    pub leaves_surface: bool,
}

impl Window {
    /// The upper limit.
    pub fn most_mm(&self) -> f64 {
        self.hidden_mm
            .map_or(self.bridge_mm, |hidden| hidden.min(self.bridge_mm))
    }

    /// How much either side of the middle leaves; below 0 where the limits cross.
    pub fn room_mm(&self) -> f64 {
        (self.most_mm() - self.least_mm) / 2.0
    }

    /// The middle; nothing where no blade height does both.
    pub fn middle_mm(&self) -> Option<f64> {
        let is_open = self.room_mm() >= 0.0 && self.most_mm() > 0.0 && !self.leaves_surface;
        is_open.then(|| f64::midpoint(self.least_mm.max(0.0), self.most_mm()))
    }
}

/// The gauge angle, radians, at which a set one way and a set the other, half a step on,
/// meet at the stack's ends: tan β = r·sin(π/2M)/(H/2) for a finished outside of radius
/// r. Two ends of different radius meet there on the mean.
pub fn zigzag_rad(count: u32, height_mm: f64, end_radii_mm: [f64; 2]) -> f64 {
    let wanted = PI / f64::from(count.max(1));
    let half = height_mm.max(1e-9) / 2.0;
    let [bottom, top] = end_radii_mm.map(|radius| radius.max(1e-9));
    let meets = |tangent: f64| {
        (half * tangent / bottom).min(1.0).asin() + (half * tangent / top).min(1.0).asin()
    };
    // The closed form where both are the same; else the root lies between both ends'.
    let of = |radius: f64| radius * (wanted / 2.0).sin() / half;
    let (mut low, mut high) = (of(bottom.min(top)), of(bottom.max(top)));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if meets(middle) < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high).atan()
}

/// The number of slots, not whole, that would meet in a zigzag at this gauge angle.
pub fn zigzag_count(gauge_rad: f64, height_mm: f64, end_radii_mm: [f64; 2]) -> f64 {
    let half = height_mm / 2.0 * gauge_rad.abs().tan();
    let reach = end_radii_mm.map(|radius| (half / radius.max(1e-9)).min(1.0).asin());
    PI / (reach[0] + reach[1]).max(1e-9)
}
