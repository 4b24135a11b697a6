//! The most valuable way to cut one board, whole or parted into two sides first.
//!
//! A side's most valuable pattern does not depend on the other side, but for demands that
//! both serve beyond what is left of them: what is spare is worth nothing. So the two values
//! together are no less than any way's, and are its value where nothing is spare. From one way
//! of a row to the next the first side gives no less and the second one no more: the first
//! side's value in the last of several ways and the second's in the first bound all of them,
//! and most are never looked at. Where something is spare the demand is shared out between the
//! sides, in two parts that no good sharing escapes, and each part is bounded anew.

use super::fullest::fullest as fullest_length;
use super::problem::{Bin, Cuts, HAIR, Pattern, Side, Way};

/// The most valuable cuts of a board.
pub(super) struct Fullest {
    pub(super) value: f64,
    /// Empty when none is worth more than what was asked for.
    pub(super) cuts: Cuts,
    /// No cuts are worth more than this.
    pub(super) most: f64,
}

/// Sharings of spare demands that are looked into for one way (our own choice, no published source).
const MOST_SHARINGS: u32 = 100;

/// A side's most valuable pattern.
type Valued = (f64, Pattern);

/// One board, and what is wanted of it.
struct Wanted<'a> {
    bin: &'a Bin,
    left: &'a [u32],
    worth: &'a [f64],
    /// What cuts that were not looked into may be worth.
    most: f64,
}

impl Wanted<'_> {
    fn side(&mut self, side: &Side, left: &[u32], work: &mut u64) -> Valued {
        let (items, capacity) = (&side.items[..], side.capacity);
        let found = fullest_length((items, capacity), left, self.worth, 0.0, work);
        if !found.is_exact {
            self.most = f64::INFINITY;
        }
        found.best
    }

    /// The cuts of a sharing, nothing spare among them.
    fn cuts(&self, way: Way, sharing: &Sharing) -> Cuts {
        let lengths = sharing.parts.iter().map(|it| it.1.clone());
        let mut cuts = Cuts {
            way: Some(way),
            lengths: lengths.collect(),
        };
        leave_spare(&mut cuts, self.bin, self.left);
        cuts
    }

    /// What cuts are worth.
    fn value(&self, cuts: &Cuts) -> f64 {
        let yields = cuts.yields(self.bin).into_iter();
        yields
            .map(|it| f64::from(it.units.min(self.left[it.demand])) * self.worth[it.demand])
            .sum()
    }

    /// A side in a way, looked at once.
    fn known<'v>(
        &mut self,
        values: &'v mut [Option<Valued>],
        ((row, place), side): (Way, usize),
        work: &mut u64,
    ) -> &'v Valued {
        let bin = self.bin;
        values[place]
            .get_or_insert_with(|| self.side(&bin.parted[row][place][side], self.left, work))
    }
}

/// Finds the most valuable cuts worth more than `floor`; a board stays whole where that is
/// worth as much.
pub(super) fn fullest(
    bin: &Bin,
    left: &[u32],
    worth: &[f64],
    floor: f64,
    work: &mut u64,
) -> Fullest {
    let whole = fullest_length((&bin.items, bin.capacity), left, worth, floor, work);
    let (value, pattern) = whole.best;
    let mut best = (value.max(floor), Cuts::whole(pattern));
    let mut wanted = Wanted {
        bin,
        left,
        worth,
        most: if whole.is_exact { 0.0 } else { f64::INFINITY },
    };
    for row in 0..bin.parted.len() {
        look_through(&mut wanted, row, &mut best, work);
    }
    Fullest {
        most: wanted.most.max(best.0),
        value: best.0,
        cuts: best.1,
    }
}

/// Looks through a row of ways.
fn look_through(wanted: &mut Wanted, row: usize, best: &mut (f64, Cuts), work: &mut u64) {
    let ways = wanted.bin.parted[row].len();
    let Some(last) = ways.checked_sub(1) else {
        return;
    };
    let mut values = [vec![None; ways], vec![None; ways]];
    let mut open = Vec::new();
    let mut bound = |wanted: &mut Wanted, (first, last): (usize, usize), work: &mut u64| {
        *work += 20;
        let [on_first, on_second] = &mut values;
        let on_first = wanted.known(on_first, ((row, last), 0), work);
        let on_second = wanted.known(on_second, ((row, first), 1), work);
        let parts = (first == last).then(|| [on_first.clone(), on_second.clone()]);
        (on_first.0 + on_second.0, parts)
    };
    let all = bound(wanted, (0, last), work);
    open.push((0, last, all));
    // The most promising first.
    while let Some(place) = most_promising(&open) {
        let (first, last, (value, parts)) = open.swap_remove(place);
        if value <= best.0 + HAIR {
            break;
        }
        if let Some(parts) = parts {
            share_out(wanted, (row, first), parts, best, work);
            continue;
        }
        let middle = usize::midpoint(first, last);
        for (first, last) in [(first, middle), (middle + 1, last)] {
            let bounded = bound(wanted, (first, last), work);
            if bounded.0 > best.0 + HAIR {
                open.push((first, last, bounded));
            }
        }
    }
}

type Bounded = (f64, Option<[Valued; 2]>);

fn most_promising(open: &[(usize, usize, Bounded)]) -> Option<usize> {
    (0..open.len()).max_by(|&a, &b| open[a].2.0.total_cmp(&open[b].2.0))
}

/// What each side may serve, and what that is worth.
struct Sharing {
    most: [Vec<u32>; 2],
    parts: [Valued; 2],
}

/// The best sharing of one way, if it is worth more than the best so far.
fn share_out(
    wanted: &mut Wanted,
    way: Way,
    parts: [Valued; 2],
    best: &mut (f64, Cuts),
    work: &mut u64,
) {
    let (bin, left) = (wanted.bin, wanted.left);
    let sides = &bin.parted[way.0][way.1];
    let mut open = vec![Sharing {
        most: [left.to_vec(), left.to_vec()],
        parts,
    }];
    let mut looked = 0;
    let value_of = |it: &Sharing| it.parts[0].0 + it.parts[1].0;
    // The most promising first.
    while let Some(place) =
        (0..open.len()).max_by(|&a, &b| value_of(&open[a]).total_cmp(&value_of(&open[b])))
    {
        let sharing = open.swap_remove(place);
        let value = sharing.parts[0].0 + sharing.parts[1].0;
        if value <= best.0 + HAIR {
            return;
        }
        let spare = spare(sides, &sharing, left);
        let Some((demand, strips)) = spare else {
            *best = (value, wanted.cuts(way, &sharing));
            return;
        };
        looked += 1;
        if looked > MOST_SHARINGS {
            wanted.most = wanted.most.max(value);
            let cuts = wanted.cuts(way, &sharing);
            let value = wanted.value(&cuts);
            if value > best.0 + HAIR {
                *best = (value, cuts);
            }
            return;
        }
        *work += 40 * left.len() as u64 + 200;
        // Either the first side gives a strip less, or the second one is wanted for no more than
        // these strips leave.
        let each = sides[0].items[demand].units;
        let most = [
            (strips - 1) * each,
            left[demand].saturating_sub(strips * each),
        ];
        for side in 0..2 {
            let mut shared = Sharing {
                most: sharing.most.clone(),
                parts: sharing.parts.clone(),
            };
            shared.most[side][demand] = most[side];
            shared.parts[side] = wanted.side(&sides[side], &shared.most[side], work);
            open.push(shared);
        }
    }
}

/// A demand of which both sides together serve more than is left, and how many strips of it
/// the first one has.
fn spare(sides: &[Side; 2], sharing: &Sharing, left: &[u32]) -> Option<(usize, u32)> {
    let count = |side: usize, demand: usize| {
        let (_, pattern) = &sharing.parts[side];
        pattern.iter().find(|it| it.0 == demand).map(|it| it.1)
    };
    let served = |side: usize, demand: usize| {
        let units = count(side, demand)? * sides[side].items[demand].units;
        Some(units.min(sharing.most[side][demand]))
    };
    sharing.parts[0].1.iter().find_map(|&(demand, strips)| {
        let both = served(0, demand)? + served(1, demand)?;
        (both > left[demand] && strips > 0).then_some((demand, strips))
    })
}

/// Leaves out what is not needed for what is left.
fn leave_spare(cuts: &mut Cuts, bin: &Bin, left: &[u32]) {
    for mut it in cuts.yields(bin) {
        for (length, pattern) in cuts.lengths.iter_mut().enumerate() {
            let units = bin.items_in(cuts.way, length)[it.demand].units;
            for (demand, count) in pattern.iter_mut() {
                while *demand == it.demand && *count > 0 && it.units - units >= left[*demand] {
                    *count -= 1;
                    it.units -= units;
                }
            }
            pattern.retain(|(_, count)| *count > 0);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::dice::Dice;
    use crate::solve::pack::Item;

    /// The most valuable cuts by trying every count of every item.
    fn by_hand(bin: &Bin, left: &[u32], worth: &[f64]) -> f64 {
        fn go(
            sides: &[(&[Item], u32)],
            room: &mut Vec<u32>,
            (side, demand): (usize, usize),
            got: &mut Vec<u32>,
            left: &[u32],
            worth: &[f64],
        ) -> f64 {
            if side == sides.len() {
                let each = got.iter().zip(left).zip(worth);
                return each
                    .map(|((&got, &left), worth)| f64::from(got.min(left)) * worth)
                    .sum();
            }
            if demand == left.len() {
                return go(sides, room, (side + 1, 0), got, left, worth);
            }
            let item = sides[side].0[demand];
            let mut best = go(sides, room, (side, demand + 1), got, left, worth);
            let mut taken = 0;
            while item.units > 0 && room[side] >= item.size {
                room[side] -= item.size;
                got[demand] += item.units;
                taken += 1;
                best = best.max(go(sides, room, (side, demand + 1), got, left, worth));
            }
            room[side] += taken * item.size;
            got[demand] -= taken * item.units;
            best
        }
        let mut try_ways: Vec<Vec<(&[Item], u32)>> = vec![vec![(&bin.items, bin.capacity)]];
        for sides in bin.parted.iter().flatten() {
            let sides = sides.iter().map(|it| (&it.items[..], it.capacity));
            try_ways.push(sides.collect());
        }
        let each = try_ways.iter().map(|sides| {
            let mut room: Vec<u32> = sides.iter().map(|it| it.1).collect();
            go(
                sides,
                &mut room,
                (0, 0),
                &mut vec![0; left.len()],
                left,
                worth,
            )
        });
        each.fold(0.0, f64::max)
    }

    #[test]
    fn no_way_of_cutting_is_worth_more() {
        let mut dice = Dice::new(5);
        let mut upto = |most: u32| dice.below(most + 1);
        let mut parted = [0, 0];
        for _ in 0..400 {
            let demands = 1 + upto(2) as usize;
            let left: Vec<u32> = (0..demands).map(|_| 1 + upto(11)).collect();
            let sizes: Vec<u32> = (0..demands).map(|_| 2 + upto(4)).collect();
            let whole: Vec<u32> = (0..demands).map(|_| upto(9)).collect();
            let items = |units: &[u32]| -> Vec<Item> {
                let each = sizes.iter().zip(units);
                each.map(|(&size, &units)| Item { size, units }).collect()
            };
            let capacity = 5 + upto(7);
            let side = |units: &[u32], capacity: u32| Side {
                capacity,
                items: items(units),
            };
            // Parted across, the yields are shared out; along, the width is, and one or the
            // other band gives more than the whole.
            let (mut across, mut along) = (Vec::new(), Vec::new());
            let more: [Vec<u32>; 2] =
                [0, 1].map(|_| whole.iter().map(|it| it + upto(1) * upto(4)).collect());
            for way in 0..5_u32 {
                let on_left: Vec<u32> = whole.iter().map(|it| (it * way + 2) / 4).collect();
                let on_right: Vec<u32> = whole.iter().map(|it| (it * (4 - way) + 2) / 4).collect();
                across.push([side(&on_left, capacity), side(&on_right, capacity)]);
                let near = capacity * way / 4;
                along.push([side(&more[0], near), side(&more[1], capacity - near)]);
            }
            let bin = Bin {
                cost: 1.0,
                number: 1,
                capacity,
                items: items(&whole),
                parted: vec![across, Vec::new(), along],
            };
            let worth: Vec<f64> = (0..demands).map(|_| f64::from(1 + upto(9))).collect();
            let mut work = 0;
            let found = fullest(&bin, &left, &worth, 0.0, &mut work);
            let best = by_hand(&bin, &left, &worth);
            assert!((found.most - found.value).abs() < 1e-9);
            assert!((found.value - best).abs() < 1e-9, "{} {best}", found.value);
            let yields = found.cuts.yields(&bin).into_iter();
            let value: f64 = yields
                .map(|it| f64::from(it.units.min(left[it.demand])) * worth[it.demand])
                .sum();
            assert!((value - best).abs() < 1e-9, "{value} {best}");
            let mut yields = found.cuts.yields(&bin).into_iter();
            assert!(yields.all(|it| it.is_used(&left)), "a strip is spare");
            match found.cuts.way {
                Some((0, _)) => parted[0] += 1,
                Some(_) => parted[1] += 1,
                None => {}
            }
        }
        assert!(parted.iter().all(|it| *it > 40), "{parted:?}");
    }
}
