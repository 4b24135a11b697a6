//! Slots that go through the whole wall of a stack, into its hole.
//!
//! Two of them open at once would cut it in two. So either each is filled before the next is
//! sawn, and the stack is a ring with one gap at most; or a disc of scrap is glued on each of
//! its faces, which the slots enter without reaching their middle. The same discs hold a second
//! set once the strips of the first fill what it took of them. No ring of the stack itself
//! can stay whole above or below: the blade goes the whole length of it at one depth, and a
//! ring that is narrower than that depth would not touch the one beside it.
//!
//! A slot is through where all of its bottom lies in the hole: then what the blade takes goes
//! from there outward through one side of the wall. The bottom is a plane between two lines, and
//! the hole of a ring is nowhere hollow, so that its four corners in each ring tell for all of
//! it. `tests/through.rs` saws voxels.

use super::outline::Outline;
use super::spline::{Cut, Layer, Slots, Stack, Window, Wished};

/// How far past the wall the blade is set: 1/8 in (our own choice, no published source).
pub const PAST_MM: f64 = 3.175;

/// The heights of the blade at which all of a slot's bottom lies in the hole; nothing where
/// it never does, or where there is none.
pub fn in_hole_mm(stack: &Stack, slots: &Slots, direction_rad: f64) -> Option<[f64; 2]> {
    let table_mm = stack.table_mm(direction_rad);
    let on_table = Cut {
        direction_rad,
        table_mm,
        bottom_mm: table_mm,
    };
    let (lean_sine, lean_cosine) = slots.gauge_rad.sin_cos();
    // Each millimeter that the blade is raised takes a corner so far up and aside.
    let way = (-1.0, slots.tilt_rad.tan() / lean_cosine);
    let mut within = [0.0_f64, f64::MAX];
    for layer in &stack.layers {
        let hole = layer.hole.as_ref()?;
        for z in [layer.from_mm, layer.to_mm] {
            for (up, across) in slots.corners(&on_table) {
                let from = (up, (across + z * lean_sine) / lean_cosine);
                let [least, most] = hole.crossed(direction_rad, from, way)?;
                within = [within[0].max(least), within[1].min(most)];
            }
        }
    }
    (within[0] < within[1]).then_some(within)
}

/// The blade heights between which every slot goes through the wall and no farther. Where discs
/// hold the stack, so much of their middle stays, from the axis. Closed where a slot passes
/// beside the hole, or where a floor lies in it.
pub fn window(stack: &Stack, slots: &Slots, middle_mm: Option<f64>) -> Window {
    let shown = stack.window(
        slots,
        Wished {
            inside_too: true,
            is_partly: false,
            bridge_mm: 0.0,
        },
    );
    let closed = Window {
        least_mm: f64::MAX,
        bridge_mm: 0.0,
        hidden_mm: None,
        leaves_surface: shown.leaves_surface,
    };
    if stack.wall.iter().any(|level| level.inside_mm <= 0.0) {
        return closed;
    }
    let mut window = Window {
        bridge_mm: f64::MAX,
        ..shown
    };
    for direction_rad in slots.directions() {
        let Some([least, most]) = in_hole_mm(stack, slots, direction_rad) else {
            return closed;
        };
        let deepest = stack.table_mm(direction_rad) - middle_mm.unwrap_or(0.0);
        window.least_mm = window.least_mm.max(least);
        window.bridge_mm = window.bridge_mm.min(most).min(deepest);
    }
    window
}

/// The height that a blade is set to: a little past the wall; nothing where the window is closed.
pub fn blade_mm(window: &Window) -> Option<f64> {
    let middle = window.middle_mm()?;
    Some(middle.min(window.least_mm + PAST_MM))
}

/// A stack with a disc of scrap on each of its faces, so thick, and as wide as the ring that it
/// is glued on is at its flats.
pub fn between_discs(stack: &Stack, thick_mm: f64) -> Stack {
    let mut held = stack.clone();
    let disc = |face: &Layer, from_mm: f64| Layer {
        from_mm,
        to_mm: from_mm + thick_mm,
        outside: Outline::Round(face.outside.least_mm()),
        hole: None,
    };
    if let [Some(lowest), Some(topmost)] = [stack.layers.first(), stack.layers.last()] {
        held.layers
            .insert(0, disc(lowest, lowest.from_mm - thick_mm));
        held.layers.push(disc(topmost, topmost.to_mm));
    }
    held
}
