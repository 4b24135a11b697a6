//! Slots sawn through a stack of glued rings, and the strips glued into them.
//!
//! The stack lies on the saw's table with its axis level, held by a gauge that turns
//! it by β from the blade's plane; the blade is tilted by τ about the line in which it meets
//! the table, its highest tooth stands d above that, its kerf is k. In the frame of one cut
//! u runs from the axis down to the table, v sideways toward growing directions, and z along
//! the axis from the stack's middle. With the place across the slot
//!
//! > w = (v·cos β − z·sin β)·cos τ − (R − u)·sin τ,
//!
//! where R is how far the table is from the axis, the farthest that any ring reaches in
//! that direction, the blade takes away everything with
//!
//! > |w| ≤ k/2 and u ≥ R − d + |sin τ|·k/2 + w·sin τ.
//!
//! Upright, at the height z, a slot is k/(2·cos β) wide sideways on either side of z·tan β, and
//! its bottom lies level. Tilted it is, seen along the axis, one that stands upright in another
//! direction ([`Slots::frame_rad`]) and beside the axis there, by R·sin τ. All else follows
//! from these lines; they are plain geometry, checked in `tests/spline.rs` by sawing voxels.

use super::outline::{Outline, Seen};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

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
    /// The blade's tilt τ, radians; above 0 they run in toward growing directions.
    pub tilt_rad: f64,
    /// Width of the blade's cut, millimeters.
    pub kerf_mm: f64,
    /// Direction of the first place at the stack's middle, radians.
    pub first_rad: f64,
}

/// One slot of a set, as it is sawn. Millimeters and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// The direction that points down.
    pub direction_rad: f64,
    /// From the axis to the table.
    pub table_mm: f64,
    /// From the axis to the level of the highest tooth: the slot's lowest place.
    pub bottom_mm: f64,
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

    /// How many slots on stands the one just opposite; none where places are odd in number.
    pub fn opposite(&self) -> Option<u32> {
        self.places().is_multiple_of(2).then_some(self.count / 2)
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

    /// Across the slot from side to side, square to them: its middle is 0.
    pub fn whole_mm(&self) -> [f64; 2] {
        [-self.kerf_mm / 2.0, self.kerf_mm / 2.0]
    }

    /// How far its frame is turned from a slot's direction: seen along the axis, a level line
    /// in the slot's middle runs in that way.
    pub fn frame_rad(&self) -> f64 {
        let (sine, cosine) = self.tilt_rad.sin_cos();
        -sine.atan2(self.gauge_rad.cos() * cosine)
    }

    /// A slot is so much wider level than square to its sides: 1 over this.
    pub fn level_cosine(&self) -> f64 {
        let (sine, cosine) = self.tilt_rad.sin_cos();
        sine.hypot(self.gauge_rad.cos() * cosine)
    }

    /// How far it goes sideways in its frame for each millimeter up.
    pub fn level_slope(&self) -> f64 {
        self.gauge_rad.sin() * self.tilt_rad.cos() / self.level_cosine()
    }

    /// How far the slot's middle stands beside the axis in its frame, halfway up.
    pub fn beside_axis_mm(&self, table_mm: f64) -> f64 {
        table_mm * self.tilt_rad.sin() / self.level_cosine()
    }

    /// Sideways in the frame, from and to where what lies between two places across the slot
    /// reaches at a height.
    fn sideways_of_mm(&self, table_mm: f64, z_mm: f64, across_mm: [f64; 2]) -> [f64; 2] {
        let (lean_sine, lean_cosine) = self.gauge_rad.sin_cos();
        let (sine, cosine) = self.tilt_rad.sin_cos();
        // As the functions above have them, taken once: this is asked at every height.
        let level_cosine = sine.hypot(lean_cosine * cosine);
        let middle = (table_mm * sine + z_mm * lean_sine * cosine) / level_cosine;
        across_mm.map(|it| middle + it / level_cosine)
    }

    /// Half of a slot's width, measured level: k/(2·cos β) of an upright one.
    pub fn half_width_mm(&self) -> f64 {
        self.kerf_mm / (2.0 * self.level_cosine())
    }

    /// How far the bottom's middle lies under the level of the highest tooth, toward the
    /// table.
    pub fn bottom_middle_mm(&self) -> f64 {
        self.kerf_mm / 2.0 * self.tilt_rad.sin().abs()
    }

    /// How deep a slot is along the blade, in its middle.
    pub fn depth_mm(&self, blade_mm: f64) -> f64 {
        (blade_mm - self.bottom_middle_mm()) / self.tilt_rad.cos()
    }

    /// How wide a strip must be to come from the bottom to the table on both sides.
    pub fn strip_width_mm(&self, blade_mm: f64) -> f64 {
        blade_mm / self.tilt_rad.cos()
    }

    /// How far a slot reaches on the table across the blade's way, with all of its depth.
    fn on_table_mm(&self, blade_mm: f64) -> f64 {
        self.kerf_mm * self.tilt_rad.cos() + blade_mm * self.tilt_rad.tan().abs()
    }

    /// The two corners of its bottom, the lowest first: how far from the axis each is, and how
    /// far across the blade's way on the table.
    pub(super) fn corners(&self, cut: &Cut) -> [(f64, f64); 2] {
        let (sine, cosine) = self.tilt_rad.sin_cos();
        let lowest = if sine < 0.0 { 0.5 } else { -0.5 } * self.kerf_mm;
        [lowest, -lowest].map(|across| {
            let up = cut.bottom_mm + self.bottom_middle_mm() + across * sine;
            (up, (across + (cut.table_mm - up) * sine) / cosine)
        })
    }

    /// A slot's middle at a height as it is seen along the axis, upright in its frame: how far
    /// beside the axis it stands, and how far out its bottom is.
    pub fn middle_seen_mm(&self, cut: &Cut, z_mm: f64) -> [f64; 2] {
        let (sine, cosine) = self.frame_rad().sin_cos();
        let [beside, _] = self.sideways_of_mm(cut.table_mm, z_mm, [0.0; 2]);
        let up = cut.bottom_mm + self.bottom_middle_mm();
        [beside, (up + beside * sine) / cosine]
    }

    /// How far out in the frame a slot's bottom is, halfway up in its middle; and how much
    /// farther for each millimeter up, and for each sideways of the middle.
    pub fn bottom_in_frame(&self, cut: &Cut) -> [f64; 3] {
        let (sine, cosine) = self.frame_rad().sin_cos();
        let [_, deep] = self.middle_seen_mm(cut, 0.0);
        let rises = self.level_cosine() * self.tilt_rad.sin();
        [
            deep,
            self.level_slope() * sine / cosine,
            (rises + sine) / cosine,
        ]
    }

    /// How far from the axis the middle of a slot's bottom is at a height.
    pub fn bottom_reach_mm(&self, cut: &Cut, z_mm: f64) -> f64 {
        let [beside, deep] = self.middle_seen_mm(cut, z_mm);
        deep.max(0.0).hypot(beside)
    }

    /// From a slot's direction to where its middle comes to a round surface.
    pub fn aside_rad(&self, z_mm: f64, radius_mm: f64, table_mm: f64) -> f64 {
        let [middle, _] = self.sideways_of_mm(table_mm, z_mm, [0.0; 2]);
        self.frame_rad() + (middle / radius_mm.max(1e-9)).clamp(-1.0, 1.0).asin()
    }

    /// The gauge angle at which its middle comes to a direction, from the slot's own, on a round
    /// surface at a height above the stack's middle.
    pub fn gauge_to_rad(&self, turn_rad: f64, z_mm: f64, radius_mm: f64, table_mm: f64) -> f64 {
        if self.tilt_rad == 0.0 {
            return (radius_mm * turn_rad.sin() / z_mm).atan();
        }
        let (mut low, mut high) = (-FRAC_PI_2, FRAC_PI_2);
        for _ in 0..60 {
            let gauge_rad = f64::midpoint(low, high);
            let leaning = Slots { gauge_rad, ..*self };
            if leaning.aside_rad(z_mm, radius_mm, table_mm) < turn_rad {
                low = gauge_rad;
            } else {
                high = gauge_rad;
            }
        }
        f64::midpoint(low, high)
    }

    /// How far a slot's middle goes round, from the foot end of a surface to its rim end.
    fn swing_rad(&self, height_mm: f64, [bottom, top]: [f64; 2], table_mm: f64) -> f64 {
        let half = height_mm / 2.0;
        let swing = self.aside_rad(half, top, table_mm) - self.aside_rad(-half, bottom, table_mm);
        swing.abs()
    }

    /// The gauge angle at which they meet those that lean the other way, half a step on, with
    /// the blade as it is tilted.
    pub fn zigzag_rad(&self, height_mm: f64, end_radii_mm: [f64; 2], table_mm: f64) -> f64 {
        if self.tilt_rad == 0.0 {
            return zigzag_rad(self.places(), height_mm, end_radii_mm);
        }
        let (mut low, mut high) = (0.0, FRAC_PI_2);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            let gauge_rad = middle.copysign(self.gauge_rad);
            let leaning = Slots { gauge_rad, ..*self };
            let swing = leaning.swing_rad(height_mm, end_radii_mm, table_mm);
            if swing < PI / f64::from(self.places()) {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }

    /// The number of slots, not whole, that would meet in a zigzag as they lean.
    pub fn zigzag_count(&self, height_mm: f64, end_radii_mm: [f64; 2], table_mm: f64) -> f64 {
        if self.tilt_rad == 0.0 {
            return zigzag_count(self.gauge_rad, height_mm, end_radii_mm);
        }
        PI / self.swing_rad(height_mm, end_radii_mm, table_mm).max(1e-9)
    }

    /// From which direction to which a slot shows on a round surface, radians from the
    /// slot's own; nothing where it does not.
    pub fn shown(&self, z_mm: f64, radius_mm: f64, cut: &Cut) -> Option<[f64; 2]> {
        self.shown_of(self.whole_mm(), z_mm, radius_mm, cut)
    }

    /// The same of what lies between two places across the slot.
    pub fn shown_of(
        &self,
        across_mm: [f64; 2],
        z_mm: f64,
        radius_mm: f64,
        cut: &Cut,
    ) -> Option<[f64; 2]> {
        let bottom = self.bottom_plane(z_mm, cut);
        let least_mm = bottom.least_mm / bottom.length;
        if radius_mm <= 0.0 || least_mm > radius_mm {
            return None;
        }
        let sideways = self.sideways_of_mm(cut.table_mm, z_mm, across_mm);
        if sideways[0] >= radius_mm || sideways[1] <= -radius_mm {
            return None;
        }
        let frame = self.frame_rad();
        let [from, to] = sideways.map(|v| frame + (v / radius_mm).clamp(-1.0, 1.0).asin());
        // Of the round, what lies beyond the bottom's plane.
        let most = (least_mm / radius_mm).clamp(-1.0, 1.0).acos();
        let (from, to) = (
            from.max(bottom.toward_rad - most),
            to.min(bottom.toward_rad + most),
        );
        (to > from).then_some([from, to])
    }

    /// Where a slot's bottom is when it just comes to a round surface at a height; nothing where
    /// it passes beside it.
    pub fn first_seen_mm(&self, z_mm: f64, radius_mm: f64, table_mm: f64) -> Option<f64> {
        let sideways = self.sideways_of_mm(table_mm, z_mm, self.whole_mm());
        if sideways[0] >= radius_mm || sideways[1] <= -radius_mm {
            return None;
        }
        let on_axis = Cut {
            direction_rad: 0.0,
            table_mm,
            bottom_mm: 0.0,
        };
        // The blade comes first where the surface lies square to its way, or else at the slot's
        // nearer side.
        let line = self.bottom_plane(z_mm, &on_axis);
        let frame = self.frame_rad();
        let at = sideways.map(|v| frame + (v / radius_mm).clamp(-1.0, 1.0).asin());
        let first = line.toward_rad.clamp(at[0], at[1]);
        let far = radius_mm * line.length * (first - line.toward_rad).cos();
        Some((far - line.least_mm) * self.tilt_rad.cos())
    }

    /// The bottom's line at a height, seen along the axis.
    fn bottom_plane(&self, z_mm: f64, cut: &Cut) -> BottomLine {
        let (sine, cosine) = self.tilt_rad.sin_cos();
        let aside = -self.gauge_rad.cos() * sine;
        let from = cut.bottom_mm + self.bottom_middle_mm() - cut.table_mm * sine * sine;
        BottomLine {
            toward_rad: aside.atan2(cosine),
            length: cosine.hypot(aside),
            least_mm: from / cosine - z_mm * self.gauge_rad.sin() * sine,
        }
    }

    /// Whether a place is in a slot: x to the right of someone in front of the piece, y away
    /// from them, z from the stack's middle.
    pub fn holds(&self, cut: &Cut, at_mm: [f64; 3]) -> bool {
        let [past_bottom, across] = self.within_mm(cut, at_mm);
        past_bottom >= 0.0 && across.abs() <= self.kerf_mm / 2.0
    }

    /// How far a place is past a slot's bottom, toward the table, and how far across the slot
    /// from its middle; x, y and z as [`Slots::holds`] has them.
    pub fn within_mm(&self, cut: &Cut, [x, y, z]: [f64; 3]) -> [f64; 2] {
        let (sine, cosine) = cut.direction_rad.sin_cos();
        let (u, v) = (x * sine - y * cosine, x * cosine + y * sine);
        let (lean_sine, lean_cosine) = self.gauge_rad.sin_cos();
        let (sine, cosine) = self.tilt_rad.sin_cos();
        let across = (v * lean_cosine - z * lean_sine) * cosine - (cut.table_mm - u) * sine;
        let bottom = cut.bottom_mm + self.bottom_middle_mm() + across * sine;
        [u - bottom, across]
    }
}

/// The bottom of a slot in a level section: everything at least so far along a direction.
struct BottomLine {
    /// The direction, radians from the slot's own.
    toward_rad: f64,
    /// What its numbers are larger than lengths.
    length: f64,
    /// How far.
    least_mm: f64,
}

/// How far from the axis a slot's bottom may be, as [`Cut::bottom_mm`] has it. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bottoms {
    /// At most here it shows, in full width, all along the outside.
    pub outside_mm: f64,
    /// The same along the inside; nothing where the stack has no inside.
    pub inside_mm: Option<f64>,
    /// At least here nothing of it shows inside.
    pub hidden_mm: f64,
    /// At least here nothing of it shows outside.
    pub nowhere_mm: f64,
    /// Whether its lean carries it off the outside, and off the inside: then no depth shows
    /// it all there.
    pub leaves: [bool; 2],
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

    /// Every slot as it is sawn with a blade so high.
    pub fn cuts(&self, slots: &Slots, blade_mm: f64) -> Vec<Cut> {
        let cut = |direction_rad: f64| {
            let table_mm = self.table_mm(direction_rad);
            Cut {
                direction_rad,
                table_mm,
                bottom_mm: table_mm - blade_mm,
            }
        };
        slots.directions().map(cut).collect()
    }

    /// How far up any hole comes as it is seen from a slot's direction; nothing where none is.
    fn hole_seen(&self, direction_rad: f64, seen: &Seen, within: [f64; 2]) -> Option<f64> {
        let tops = self.layers.iter().filter_map(|layer| {
            let heights = [layer.from_mm, layer.to_mm];
            let hole = layer.hole.as_ref()?;
            hole.top_seen(direction_rad, heights, seen, within)
        });
        tops.reduce(f64::max)
    }

    /// The deepest that a slot's bottom may be for so much wood above it, toward the axis.
    fn deepest_mm(&self, slots: &Slots, cut: &Cut, bridge_mm: f64) -> f64 {
        let (sine, cosine) = slots.tilt_rad.sin_cos();
        let (lean_sine, lean_cosine) = slots.gauge_rad.sin_cos();
        // Across the slot, and toward the table from its bottom's middle.
        let across = [sine, lean_cosine * cosine, -lean_sine * cosine];
        let seen = Seen {
            up: [1.0 - sine * sine, -across[1] * sine, -across[2] * sine],
            across,
        };
        let [left, right] = slots.whole_mm().map(|it| it + cut.table_mm * sine);
        let of_table = cut.table_mm * sine * sine;
        // As the holes are, and so much farther out: a tilted slot may pass beside either.
        let farther = [0.0, bridge_mm].into_iter().filter_map(|by| {
            let within = [left, right].map(|it| it - by * sine);
            let top = self.hole_seen(cut.direction_rad, &seen, within)?;
            Some((top + of_table).max(0.0) + by * cosine * cosine)
        });
        farther.fold(bridge_mm * cosine * cosine, f64::max) - slots.bottom_middle_mm()
    }

    /// The wood between a slot and the holes, toward the axis; below 0 it breaks through by
    /// so much.
    fn bridge_of_mm(&self, slots: &Slots, cut: &Cut) -> f64 {
        let [lowest, highest] = slots.corners(cut);
        let (lean_sine, lean_cosine) = slots.gauge_rad.sin_cos();
        // How far a line along the slot that rises so from its lowest corner is from a hole.
        let left_mm = |rises: f64, to: f64| {
            let across = [0.0, lean_cosine, -lean_sine];
            let seen = Seen {
                up: [1.0, -rises * across[1], -rises * across[2]],
                across,
            };
            let within = [lowest.1.min(to), lowest.1.max(to)];
            let hole = self.hole_seen(cut.direction_rad, &seen, within);
            let left = hole.map(|top| lowest.0 - rises * lowest.1 - top);
            left.map_or(lowest.0, |left| left.min(lowest.0))
        };
        let under = left_mm(slots.tilt_rad.tan(), highest.1);
        if slots.tilt_rad == 0.0 {
            return under;
        }
        // Its lower side, from there out to the table.
        let steep = -1.0 / slots.tilt_rad.tan();
        let at_table = lowest.1 + (cut.table_mm - lowest.0) / steep;
        under.min(left_mm(steep, at_table))
    }

    /// Where the bottoms may be, for what shows, when the table is so far from the axis.
    pub fn bottoms(&self, slots: &Slots, table_mm: f64) -> Bottoms {
        let mut bottoms = Bottoms {
            outside_mm: f64::MAX,
            inside_mm: None,
            hidden_mm: 0.0,
            nowhere_mm: 0.0,
            leaves: [false; 2],
        };
        let (frame_sine, frame_cosine) = slots.frame_rad().sin_cos();
        let sine = slots.tilt_rad.sin();
        let whole = slots.whole_mm();
        for level in &self.wall {
            let sideways = slots.sideways_of_mm(table_mm, level.z_mm, whole);
            // Where a side of the slot comes to the surface, going on inward where it leaves
            // it: how deep the bottom must be for that to show.
            let sides = |radius: f64| {
                [0, 1].map(|side| {
                    let square = radius * radius - sideways[side] * sideways[side];
                    let deep = square.abs().sqrt().copysign(square);
                    let up = deep * frame_cosine - sideways[side] * frame_sine;
                    (deep, up - whole[side] * sine - slots.bottom_middle_mm())
                })
            };
            let all = sides(level.outside_mm);
            bottoms.outside_mm = bottoms.outside_mm.min(all[0].1.min(all[1].1));
            bottoms.leaves[0] |= all.iter().any(|it| it.0 < 0.0);
            if level.inside_mm > 0.0 {
                let all = sides(level.inside_mm);
                let least = all[0].1.min(all[1].1);
                bottoms.inside_mm = Some(bottoms.inside_mm.map_or(least, |it| it.min(least)));
                bottoms.leaves[1] |= all.iter().any(|it| it.0 < 0.0);
                let first = slots.first_seen_mm(level.z_mm, level.inside_mm, table_mm);
                bottoms.hidden_mm = bottoms.hidden_mm.max(first.unwrap_or(0.0));
            }
            let first = slots.first_seen_mm(level.z_mm, level.outside_mm, table_mm);
            bottoms.nowhere_mm = bottoms.nowhere_mm.max(first.unwrap_or(0.0));
        }
        bottoms
    }

    /// The blade heights between which every slot does what is wished.
    pub fn window(&self, slots: &Slots, wished: Wished) -> Window {
        let mut window = Window {
            least_mm: f64::MIN,
            bridge_mm: f64::MAX,
            hidden_mm: (!wished.inside_too).then_some(f64::MAX),
            leaves_surface: false,
        };
        let mut known: Option<(f64, Bottoms)> = None;
        for cut in self.cuts(slots, 0.0) {
            let table = cut.table_mm;
            // Most stacks are round.
            let bottoms = match known {
                Some((of, bottoms)) if (of - table).abs() < 1e-9 => bottoms,
                _ => self.bottoms(slots, table),
            };
            known = Some((table, bottoms));
            let mut shown = bottoms.outside_mm;
            if wished.is_partly {
                shown = bottoms.nowhere_mm;
            } else {
                window.leaves_surface |= bottoms.leaves[0];
            }
            if let (true, Some(inside)) = (wished.inside_too, bottoms.inside_mm) {
                shown = shown.min(inside);
                window.leaves_surface |= bottoms.leaves[1];
            }
            window.least_mm = window.least_mm.max(table - shown);
            let whole = table - self.deepest_mm(slots, &cut, wished.bridge_mm);
            window.bridge_mm = window.bridge_mm.min(whole);
            if let Some(hidden) = &mut window.hidden_mm {
                *hidden = hidden.min(table - bottoms.hidden_mm);
            }
        }
        window
    }

    /// The least wood left between a slot and a hole, toward the axis, for a blade height;
    /// below 0 it breaks through by so much.
    pub fn bridge_mm(&self, slots: &Slots, blade_mm: f64) -> f64 {
        let cuts = self.cuts(slots, blade_mm);
        let left = cuts.iter().map(|cut| self.bridge_of_mm(slots, cut));
        left.fold(f64::MAX, f64::min)
    }

    /// The least wood left between neighbouring slots at their bottoms; below 0 they
    /// run into each other.
    pub fn between_mm(&self, slots: &Slots, blade_mm: f64) -> f64 {
        let ends = [
            self.layers.first().map(|it| it.from_mm),
            self.layers.last().map(|it| it.to_mm),
        ];
        let (lean_sine, lean_cosine) = slots.gauge_rad.sin_cos();
        let mut least = f64::MAX;
        for cut in self.cuts(slots, blade_mm) {
            let corners = slots.corners(&cut);
            // Where the bottom's middle is nearest to the axis.
            let middle = f64::midpoint(corners[0].1, corners[1].1);
            let nearest = match ends {
                [Some(from), Some(to)] if lean_sine != 0.0 => (-middle / lean_sine).clamp(from, to),
                _ => 0.0,
            };
            for z in ends.into_iter().flatten().chain([nearest]) {
                let [from, to] = slots.sideways_of_mm(cut.table_mm, z, slots.whole_mm());
                // Where both sides of the slot are reached, it is widest seen from the axis.
                let reach = corners
                    .map(|(up, across)| up.max(0.0).hypot((across + z * lean_sine) / lean_cosine));
                let radius = reach[0].max(reach[1]).max(1e-9);
                let width =
                    (to / radius).clamp(-1.0, 1.0).asin() - (from / radius).clamp(-1.0, 1.0).asin();
                let left = slots.nearest_rad() - width;
                least = least.min(2.0 * radius * (left / 2.0).clamp(-PI / 2.0, PI / 2.0).sin());
            }
        }
        least
    }

    /// How long a strip must be to fill a slot: H/cos β + k·tan β of an upright blade, or less
    /// where the lean carries the slot out of the stack's side before its end.
    pub fn strip_length_mm(&self, slots: &Slots, blade_mm: f64) -> f64 {
        let (sine, cosine) = (slots.gauge_rad.sin().abs(), slots.gauge_rad.cos());
        let wide = slots.on_table_mm(blade_mm);
        let whole = self.height_mm() / cosine + wide * sine / cosine;
        let farthest = slots
            .directions()
            .map(|direction| self.table_mm(direction))
            .fold(0.0, f64::max);
        let bottom = (farthest - blade_mm).clamp(0.0, farthest);
        // Beside the middle the slot's bottom meets a round outside here.
        let side = (farthest * farthest - bottom * bottom).sqrt();
        let in_wood = (2.0 * side + wide * cosine) / sine.max(1e-12);
        whole.min(in_wood)
    }
}

/// What the turner wishes of a set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wished {
    /// Whether it shows all along the inside too; else not at all there.
    pub inside_too: bool,
    /// Whether a part of the way outside is enough.
    pub is_partly: bool,
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
