//! Which of some pieces, and in which order, stand on each other up to a height, each where it
//! fits; with some new ones between that fit anywhere.
//!
//! How high a stack stands hangs only on which pieces are in it and not on their order. So of all
//! ways to the same pieces one is enough to go on from, and of up to ten pieces the answer is
//! exact: no choice and order of them has more pieces in it.

use std::collections::HashMap;

/// So many pieces are looked at in every choice: ten.
const FEW: usize = 10;

/// Of more, those that waste the least go on from one to the next, so many (our own choice, no
/// published source).
const KEPT: usize = 256;

/// Heights this near count as one, millimeters.
const NEAR_MM: f64 = 1e-6;

/// The most pieces that are looked at.
pub const MOST_PIECES: usize = 128;

/// One that stands in the stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// One of the pieces, and whether it is turned over.
    Piece(usize, bool),
    /// A new one.
    New,
}

/// A way up from the foot.
#[derive(Clone, Debug)]
struct Way {
    used: u128,
    new_count: u32,
    height_mm: f64,
    waste: f64,
    below: Option<(usize, usize)>,
    last: Standing,
}

/// What may stand on each other.
#[derive(Clone, Copy, Debug)]
pub struct Pieces<'a> {
    /// Height of each.
    pub heights_mm: &'a [f64],
    /// Height of a new one.
    pub new_mm: f64,
    /// The most new ones.
    pub most_new: u32,
}

/// The stack with the most pieces that reaches the height with its last one, for each number of
/// new ones from none on; of several the one that wastes the least. `fits` tells what a piece,
/// turned over or not, wastes with its lower face at a height; nothing where it does not fit.
pub fn most(
    pieces: &Pieces,
    up_to_mm: f64,
    mut fits: impl FnMut(usize, bool, f64) -> Option<f64>,
) -> Vec<Option<Vec<Standing>>> {
    let count = pieces.heights_mm.len().min(MOST_PIECES);
    let mut found: Vec<Option<(u32, f64, Vec<Standing>)>> =
        vec![None; pieces.most_new as usize + 1];
    let mut levels: Vec<Vec<Way>> = vec![vec![Way {
        used: 0,
        new_count: 0,
        height_mm: 0.0,
        waste: 0.0,
        below: None,
        last: Standing::New,
    }]];
    loop {
        let level = levels.len() - 1;
        let mut next: HashMap<(u128, u32), Way> = HashMap::new();
        let mut offer = |way: Way| {
            let known = next.entry((way.used, way.new_count));
            let kept = known.or_insert_with(|| way.clone());
            if way.waste < kept.waste {
                *kept = way;
            }
        };
        for (at, way) in levels[level].iter().enumerate() {
            let above = |height_mm: f64, used: u128, new: u32, waste: f64, last: Standing| Way {
                used: way.used | used,
                new_count: way.new_count + new,
                height_mm: way.height_mm + height_mm,
                waste: way.waste + waste,
                below: Some((level, at)),
                last,
            };
            for place in (0..count).filter(|place| way.used & (1 << place) == 0) {
                for is_turned in [false, true] {
                    let last = Standing::Piece(place, is_turned);
                    if let Some(waste) = fits(place, is_turned, way.height_mm) {
                        offer(above(pieces.heights_mm[place], 1 << place, 0, waste, last));
                    }
                }
            }
            if way.new_count < pieces.most_new {
                offer(above(pieces.new_mm, 0, 1, 0.0, Standing::New));
            }
        }
        let mut next: Vec<Way> = next.into_values().collect();
        // The same pieces give the same answer, whatever order a map hands them out in.
        next.sort_by(|one, other| {
            let wastes = one.waste.total_cmp(&other.waste);
            wastes.then((one.used, one.new_count).cmp(&(other.used, other.new_count)))
        });
        let (whole, mut onward): (Vec<Way>, Vec<Way>) = next
            .into_iter()
            .partition(|way| way.height_mm >= up_to_mm - NEAR_MM);
        for way in whole {
            let used = way.used.count_ones();
            let best = &mut found[way.new_count as usize];
            let is_better = best.as_ref().is_none_or(|(most, waste, _)| {
                used > *most || (used == *most && way.waste < *waste)
            });
            if is_better {
                *best = Some((used, way.waste, standing(&levels, &way)));
            }
        }
        if onward.is_empty() {
            break;
        }
        if count > FEW {
            onward.truncate(KEPT);
        }
        levels.push(onward);
    }
    found.into_iter().map(|best| best.map(|it| it.2)).collect()
}

/// From the foot up.
fn standing(levels: &[Vec<Way>], top: &Way) -> Vec<Standing> {
    let mut all = vec![top.last];
    let mut below = top.below;
    while let Some((level, at)) = below {
        let way = &levels[level][at];
        if way.below.is_some() {
            all.push(way.last);
        }
        below = way.below;
    }
    all.reverse();
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::dice::Dice;

    /// The most pieces of any choice and order that reaches the height, by trying all.
    fn by_trying(
        heights_mm: &[f64],
        up_to_mm: f64,
        fits: &impl Fn(usize, bool, f64) -> bool,
        used: u32,
        at_mm: f64,
    ) -> Option<u32> {
        if at_mm >= up_to_mm - NEAR_MM {
            return Some(used.count_ones());
        }
        let free = (0..heights_mm.len()).filter(|place| used & (1 << place) == 0);
        let either = free.filter(|&place| fits(place, false, at_mm) || fits(place, true, at_mm));
        either
            .filter_map(|place| {
                let above = at_mm + heights_mm[place];
                by_trying(heights_mm, up_to_mm, fits, used | (1 << place), above)
            })
            .max()
    }

    #[test]
    fn no_choice_and_order_has_more_pieces() {
        let mut dice = Dice::new(20_261_130);
        let mut found = 0;
        for _ in 0..400 {
            let count = 1 + dice.below(7) as usize;
            let heights: Vec<f64> = (0..count).map(|_| f64::from(2 + dice.below(5))).collect();
            let middles: Vec<f64> = (0..count).map(|_| f64::from(dice.below(25))).collect();
            let up_to = f64::from(3 + dice.below(18));
            let reach = f64::from(2 + dice.below(8));
            let fits = |place: usize, is_turned: bool, at: f64| {
                (at - middles[place]).abs() <= reach && (!is_turned || place.is_multiple_of(3))
            };
            let pieces = Pieces {
                heights_mm: &heights,
                new_mm: 3.0,
                most_new: 0,
            };
            let ours = most(&pieces, up_to, |place, is_turned, at| {
                fits(place, is_turned, at).then_some((at - middles[place]).abs())
            });
            let most = by_trying(&heights, up_to, &fits, 0, 0.0);
            let ours = ours[0].as_ref();
            assert_eq!(ours.map(|it| it.len() as u32), most);
            let Some(ours) = ours else { continue };
            found += 1;
            // It stands: each piece once, each where it fits, the last one through the height.
            let mut at = 0.0;
            let mut used = vec![false; count];
            for each in ours {
                assert!(at < up_to);
                let Standing::Piece(place, is_turned) = *each else {
                    panic!("no new ones were asked for")
                };
                assert!(fits(place, is_turned, at) && !used[place]);
                used[place] = true;
                at += heights[place];
            }
            assert!(at >= up_to);
        }
        assert!(found > 100, "{found}");
    }

    #[test]
    fn new_ones_bridge_what_no_piece_fits() {
        let pieces = Pieces {
            heights_mm: &[10.0, 10.0],
            new_mm: 5.0,
            most_new: 2,
        };
        // The first only at the foot, the second only from 14 up.
        let found = most(&pieces, 22.0, |place, _, at| {
            (if place == 0 { at < 1.0 } else { at > 14.0 }).then_some(0.0)
        });
        assert_eq!(found[0], None);
        let with_one = [
            Standing::Piece(0, false),
            Standing::New,
            Standing::Piece(1, false),
        ];
        assert_eq!(found[1].as_deref(), Some(&with_one[..]));
    }
}
