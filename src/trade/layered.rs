//! Strips of several layers glued face to face, for slots.
//!
//! The layers lie across the slot's width, their planes parallel to its sides: in the frame
//! of one slot ([`crate::trade::spline`]) which layer a point shows depends on
//! w = v·cos β − z·sin β alone, from −k/2 at the slot's left side, seen from outside, to k/2
//! at its right. The strip is thinner than the slot by its fit; the glue takes that up, so
//! each layer is shown k over the layers' sum of its own thickness. Checked against a stack
//! of layers in `tests/layered.rs`.
//!
//! The layers are glued up as sticks, wider than the strip by [`SLIP_MM`], because layers
//! slip in the clamps and their edges are cleaned after; the sticks are crosscut into strips.

use crate::trade::strip::{Cutting, LEAST_PLANED_MM};

/// What layers are wider than the strip that they become, for cleaning the edges that
/// slipped in the clamps: 1/8 in (our own choice, no published source).
pub const SLIP_MM: f64 = 3.175;

/// What is cut off each end of a glued stick, where layers are not even: 1/4 in (our own
/// choice, no published source).
pub const END_MM: f64 = 6.35;

/// What is planed off a layer in all before it is glued: 1/16 in (common practice, no
/// published source).
pub const PLANED_OFF_MM: f64 = 1.5875;

/// What is so thin or thinner is bought in sheets, as veneer, and neither sawn nor planed: 1 mm
/// (common practice, no published source).
const VENEER_MM: f64 = 1.0;

/// A layer thinner than this is sanded through, and its glue shows as a line: half a
/// millimeter (our own choice, no published source).
pub const THIN_MM: f64 = 0.5;

/// Whether a layer is bought as veneer, and not sawn off a board.
pub fn is_veneer(thickness_mm: f64) -> bool {
    thickness_mm <= VENEER_MM
}

/// How thick a layer is sawn: veneer comes as it is.
pub fn sawn_mm(thickness_mm: f64) -> f64 {
    if is_veneer(thickness_mm) {
        thickness_mm
    } else {
        thickness_mm + PLANED_OFF_MM
    }
}

/// Where each layer lies across a slot so wide, from its left side: from and to, its middle
/// being 0. Nothing where the layers have no thickness.
pub fn across(layers_mm: &[f64], slot_mm: f64) -> Vec<[f64; 2]> {
    let sum_mm: f64 = layers_mm.iter().map(|it| it.max(0.0)).sum();
    if sum_mm <= 0.0 {
        return Vec::new();
    }
    let place = |so_far_mm: f64| slot_mm * (so_far_mm / sum_mm - 0.5);
    let mut so_far_mm = 0.0;
    let last = layers_mm.len() - 1;
    let each = layers_mm.iter().enumerate().map(|(layer, thickness_mm)| {
        let from = place(so_far_mm);
        so_far_mm += thickness_mm.max(0.0);
        // The slot's side to the bit.
        let to = if layer == last {
            slot_mm / 2.0
        } else {
            place(so_far_mm)
        };
        [from, to]
    });
    each.collect()
}

/// Layers that come to the strip's thickness: the middle one takes what the others leave,
/// two middle ones share it; where that is less than `least_mm` for each, all are made
/// thinner alike. Multiples of `step_mm` where the middle allows it.
pub fn fitted(layers_mm: &[f64], strip_mm: f64, least_mm: f64, step_mm: f64) -> Vec<f64> {
    let count = layers_mm.len();
    if count == 0 {
        return Vec::new();
    }
    let middles = [(count - 1) / 2, count / 2];
    let is_middle = |layer: usize| middles.contains(&layer);
    let sharing = if middles[0] == middles[1] { 1.0 } else { 2.0 };
    let beside_mm = |layers_mm: &[f64]| -> f64 {
        let beside = layers_mm.iter().enumerate();
        let beside = beside.filter(|(layer, _)| !is_middle(*layer));
        beside.map(|(_, thickness_mm)| *thickness_mm).sum()
    };
    let stepped = |length_mm: f64| (length_mm / step_mm).round() * step_mm;
    let with_middle = |layers_mm: &[f64]| -> Option<Vec<f64>> {
        let middle_mm = stepped((strip_mm - beside_mm(layers_mm)) / sharing);
        let each = layers_mm.iter().enumerate();
        let each = each.map(|(layer, own)| if is_middle(layer) { middle_mm } else { *own });
        (middle_mm >= least_mm).then(|| each.collect())
    };
    with_middle(layers_mm).unwrap_or_else(|| {
        let sum_mm: f64 = layers_mm.iter().sum();
        let scale = strip_mm / sum_mm.max(1e-9);
        let thinner: Vec<f64> = layers_mm.iter().map(|it| stepped(it * scale)).collect();
        with_middle(&thinner).unwrap_or_else(|| layers_mm.iter().map(|it| it * scale).collect())
    })
}

/// The sticks that layers are glued up to, all alike. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sticks {
    /// How many.
    pub count: u32,
    /// Strips that are crosscut from one.
    pub each: u32,
    /// Length of one, and of its layers.
    pub long_mm: f64,
    /// Width of its layers.
    pub wide_mm: f64,
}

/// The sticks for so many strips of a width and length, from wood as long as is at hand; as
/// long as one strip wants where that is longer, and no shorter than the planer takes.
pub fn sticks(strip_count: u32, [wide_mm, long_mm]: [f64; 2], cutting: &Cutting) -> Sticks {
    let pitch_mm = long_mm + cutting.kerf_mm;
    let ends_mm = 2.0 * END_MM;
    let room_mm = cutting.strip_length_mm.max(LEAST_PLANED_MM) - ends_mm;
    // The last strip is cut off by the cut that cleans the end.
    let most = ((room_mm - cutting.kerf_mm) / pitch_mm + 1e-9).floor();
    let most = most.clamp(1.0, f64::from(strip_count.max(1))) as u32;
    let count = strip_count.max(1).div_ceil(most);
    // Sticks alike are glued alike.
    let each = strip_count.max(1).div_ceil(count);
    let needed_mm = ends_mm + cutting.kerf_mm + f64::from(each) * pitch_mm;
    Sticks {
        count,
        each,
        long_mm: needed_mm.max(LEAST_PLANED_MM),
        wide_mm: wide_mm + SLIP_MM,
    }
}

impl Sticks {
    /// What glue covers between the layers of all of them, square millimeters.
    pub fn glue_mm2(&self, layer_count: usize) -> f64 {
        let joints = layer_count.saturating_sub(1) as f64;
        joints * f64::from(self.count) * self.long_mm * self.wide_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cutting(kerf_mm: f64, strip_length_mm: f64) -> Cutting {
        Cutting {
            kerf_mm,
            hold_back_mm: 100.0,
            strip_length_mm,
        }
    }

    /// By walking the saw along each stick: every strip comes of the sticks, one stick less
    /// would not do, and no stick is longer than what is at hand unless one strip wants it.
    #[test]
    fn the_sticks_give_every_strip() {
        let mut many = 0;
        for count in 1..=40_u32 {
            for (long_mm, at_hand_mm) in [(40.0, 600.0), (84.0, 914.4), (300.0, 200.0), (7.0, 50.0)]
            {
                let kerf_mm = 3.0;
                let own = sticks(count, [20.0, long_mm], &cutting(kerf_mm, at_hand_mm));
                let walked = |stick_mm: f64| {
                    let (mut at, mut strips) = (END_MM + kerf_mm, 0);
                    while at + long_mm + kerf_mm + END_MM <= stick_mm + 1e-9 {
                        at += long_mm + kerf_mm;
                        strips += 1;
                    }
                    strips
                };
                assert!(walked(own.long_mm) >= own.each && own.each * own.count >= count);
                assert!(own.each * (own.count - 1) < count, "{count} {own:?}");
                let longest = at_hand_mm.max(LEAST_PLANED_MM);
                if own.count > 1 {
                    assert!((own.count - 1) * walked(longest).max(1) < count);
                    many += 1;
                }
                assert!(own.long_mm <= longest + 1e-9 || own.each == 1);
                assert!(own.long_mm >= LEAST_PLANED_MM);
            }
        }
        assert!(many > 20, "{many}");
    }

    #[test]
    fn what_is_fitted_comes_to_the_strip() {
        for layers in [
            vec![0.8, 0.5, 0.8],
            vec![2.0, 2.0, 2.0],
            vec![0.6, 9.0],
            vec![1.0, 1.0, 1.0, 1.0],
            vec![40.0, 0.1, 3.0, 2.0, 1.0],
            vec![0.3; 9],
        ] {
            for strip_mm in [0.9, 2.0, 3.048, 12.0] {
                let fit = fitted(&layers, strip_mm, 0.5, 0.01);
                assert_eq!(fit.len(), layers.len());
                let sum: f64 = fit.iter().sum();
                assert!(
                    (sum - strip_mm).abs() <= 0.011,
                    "{layers:?} {strip_mm} {fit:?}"
                );
                assert!(fit.iter().all(|it| *it > 0.0));
            }
        }
        // The outer layers stay where they can.
        let fit = fitted(&[0.8, 0.1, 0.7], 3.0, 0.5, 0.01);
        for (own, wanted) in fit.into_iter().zip([0.8, 1.5, 0.7]) {
            assert!((own - wanted).abs() < 1e-9, "{own} {wanted}");
        }
        assert!(fitted(&[], 3.0, 0.5, 0.01).is_empty());
    }

    #[test]
    fn layers_fill_the_slot_from_side_to_side() {
        let bands = across(&[0.7, 1.6, 0.7], 3.3);
        let wanted = [[-1.65, -0.88], [-0.88, 0.88], [0.88, 1.65]];
        for (own, wanted) in bands.iter().flatten().zip(wanted.iter().flatten()) {
            assert!((own - wanted).abs() < 1e-9, "{bands:?}");
        }
        assert!(across(&[0.0, 0.0], 3.0).is_empty() && across(&[], 3.0).is_empty());
    }
}
