//! A problem made simpler before the search, and an answer made tidy after it.

use super::problem::{Cuts, Packed, Pattern, Problem};

/// Drops what no board holds, and counts in strips instead of pieces where that says
/// the same: 12 pieces at 8 a strip are simply 2 strips. The linear bound is then
/// nearer. It says the same when no set of strips that reaches the one number misses
/// the other, nor the other way round.
pub(super) fn simplify(problem: &mut Problem, demand: usize) {
    let wanted = problem.demands[demand];
    let mut yields: Vec<u32> = Vec::new();
    for bin in &mut problem.bins {
        for (item, capacity) in bin.items_of(demand) {
            if item.size > capacity || item.size == 0 {
                item.units = 0;
            }
            item.units = item.units.min(wanted);
            if item.units > 0 && !yields.contains(&item.units) {
                yields.push(item.units);
            }
        }
    }
    if yields.is_empty() {
        problem.demands[demand] = 0;
        return;
    }
    let fewest = yields.iter().copied().min().unwrap_or(0);
    for strips in 1..=wanted.min(16) {
        let in_strips =
            |units: u32| (u64::from(units) * u64::from(strips) / u64::from(wanted)) as u32;
        if in_strips(fewest) > 0 && says_the_same(&yields, wanted, strips, &in_strips) {
            problem.demands[demand] = strips;
            let each = problem.bins.iter_mut().flat_map(|it| it.items_of(demand));
            for (item, _) in each {
                item.units = in_strips(item.units);
            }
            return;
        }
    }
}

pub(super) fn says_the_same(
    yields: &[u32],
    wanted: u32,
    strips: u32,
    in_strips: &dyn Fn(u32) -> u32,
) -> bool {
    let top = strips as usize;
    // The fewest pieces that reach so many strips, and the most that do not pass them.
    let mut fewest = vec![u64::MAX; top + 1];
    let mut most = vec![0_u64; top + 1];
    fewest[0] = 0;
    for reached in 1..=top {
        for &units in yields {
            let step = in_strips(units) as usize;
            let before = reached.saturating_sub(step);
            fewest[reached] = fewest[reached].min(fewest[before].saturating_add(u64::from(units)));
            if step <= reached {
                most[reached] = most[reached].max(most[reached - step] + u64::from(units));
            }
        }
        most[reached] = most[reached].max(most[reached - 1]);
    }
    fewest[top] >= u64::from(wanted) && most[top - 1] < u64::from(wanted)
}

/// Takes out strips that are not needed, and boards that are left with none.
pub(super) fn trim(problem: &Problem, boards: &mut Vec<Packed>) {
    let mut spare: Vec<i64> = problem.demands.iter().map(|&it| -i64::from(it)).collect();
    for packed in boards.iter() {
        for it in packed.cuts.yields(&problem.bins[packed.bin]) {
            spare[it.demand] += i64::from(it.units) * i64::from(packed.times);
        }
    }
    let mut trimmed: Vec<Packed> = Vec::new();
    for packed in boards.drain(..).rev() {
        let bin = &problem.bins[packed.bin];
        let mut whole = packed.clone();
        for _ in 0..packed.times {
            let mut one = Packed {
                times: 1,
                ..packed.clone()
            };
            for (length, pattern) in one.cuts.lengths.iter_mut().enumerate() {
                let items = bin.items_in(packed.cuts.way, length);
                for (demand, count) in pattern {
                    let units = i64::from(items[*demand].units);
                    while *count > 0 && spare[*demand] >= units {
                        *count -= 1;
                        spare[*demand] -= units;
                    }
                }
            }
            if one.cuts == packed.cuts {
                break;
            }
            whole.times -= 1;
            for pattern in &mut one.cuts.lengths {
                pattern.retain(|(_, count)| *count > 0);
            }
            if !one.cuts.is_empty() {
                trimmed.push(one);
            }
        }
        if whole.times > 0 {
            trimmed.push(whole);
        }
    }
    trimmed.reverse();
    *boards = trimmed;
}

/// Leaves boards whole that give as much so.
pub(super) fn leave_whole(problem: &Problem, boards: &mut [Packed]) {
    for packed in boards.iter_mut().filter(|it| it.cuts.way.is_some()) {
        let bin = &problem.bins[packed.bin];
        let yields = packed.cuts.yields(bin).into_iter();
        let pattern: Option<Pattern> = yields
            .map(|it| {
                let units = bin.items[it.demand].units;
                (units > 0).then(|| (it.demand, it.units.div_ceil(units)))
            })
            .collect();
        let size = |pattern: &Pattern| -> u64 {
            let each = pattern.iter();
            each.map(|&(demand, count)| u64::from(count) * u64::from(bin.items[demand].size))
                .sum()
        };
        if let Some(pattern) = pattern.filter(|it| size(it) <= u64::from(bin.capacity)) {
            packed.cuts = Cuts::whole(pattern);
        }
    }
}

/// Boards are taken from those at hand first.
pub(super) fn settle_extra(problem: &Problem, boards: &mut Vec<Packed>) {
    let mut free: Vec<u32> = problem.bins.iter().map(|bin| bin.number).collect();
    let mut settled = Vec::with_capacity(boards.len());
    for packed in boards.drain(..) {
        let at_hand = packed.times.min(free[packed.bin]);
        free[packed.bin] -= at_hand;
        for (times, is_extra) in [(at_hand, false), (packed.times - at_hand, true)] {
            if times > 0 {
                let cuts = packed.cuts.clone();
                settled.push(Packed {
                    is_extra,
                    cuts,
                    times,
                    ..packed
                });
            }
        }
    }
    *boards = settled;
}
