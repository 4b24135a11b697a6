//! The most valuable pattern of one length.

use super::problem::{HAIR, Item, Pattern};
use crate::solve::sorted::descending;

/// Partial patterns beyond this many are dropped: the pattern found is then good, but
/// not surely the best.
pub(super) const MOST_PARTS: usize = 60_000;

/// The largest strips first, as many of each as go in.
pub(super) fn largest_first(
    (items, capacity): (&[Item], u32),
    left: &[u32],
    worth: &[f64],
    work: &mut u64,
) -> (f64, Pattern) {
    let sizes: Vec<f64> = items.iter().map(|it| f64::from(it.size)).collect();
    let order = descending(&sizes).into_iter();
    let order = order.filter(|&demand| left[demand] > 0 && items[demand].units > 0);
    *work += 4 * left.len() as u64;
    let (mut free, mut value, mut pattern) = (capacity, 0.0, Pattern::new());
    for demand in order {
        let item = items[demand];
        let count = (free / item.size).min(left[demand].div_ceil(item.units));
        if count > 0 {
            free -= count * item.size;
            value += f64::from((count * item.units).min(left[demand])) * worth[demand];
            pattern.push((demand, count));
        }
    }
    (value, pattern)
}

/// The most valuable pattern of a length.
pub(super) struct Fullest {
    /// Its value and items; empty when none is worth more than what was asked for.
    pub(super) best: (f64, Pattern),
    /// Whether nothing was dropped on the way.
    pub(super) is_exact: bool,
}

/// Some items of a demand, taken all or none.
#[derive(Clone, Copy)]
pub(super) struct Bundle {
    pub(super) demand: usize,
    pub(super) count: u32,
    pub(super) size: u32,
    pub(super) value: f64,
}

/// A partial pattern.
#[derive(Clone, Copy)]
pub(super) struct Part {
    pub(super) size: u32,
    pub(super) value: f64,
    pub(super) trace: usize,
}

/// Splits what a length may take of each demand into bundles, densest in value first.
pub(super) fn bundles(
    (items, capacity): (&[Item], u32),
    left: &[u32],
    worth: &[f64],
) -> Vec<Bundle> {
    let mut bundles = Vec::new();
    for (demand, item) in items.iter().enumerate() {
        if left[demand] == 0 || item.units == 0 || worth[demand] <= HAIR {
            continue;
        }
        let room = capacity / item.size;
        let mut add = |count: u32, value: f64| {
            if count > 0 {
                bundles.push(Bundle {
                    demand,
                    count,
                    size: count * item.size,
                    value: value * worth[demand],
                });
            }
        };
        let mut whole = (left[demand] / item.units).min(room);
        if whole < room {
            add(
                u32::from(!left[demand].is_multiple_of(item.units)),
                f64::from(left[demand] % item.units),
            );
        }
        let mut count = 1;
        while whole > 0 {
            let now = count.min(whole);
            add(now, f64::from(now * item.units));
            whole -= now;
            count *= 2;
        }
    }
    let densities = bundles.iter().map(|it| it.value / f64::from(it.size));
    let order = descending(&densities.collect::<Vec<f64>>());
    order.into_iter().map(|place| bundles[place]).collect()
}

/// Finds the most valuable pattern worth more than `floor`: partial patterns by size,
/// each worth more than all smaller ones, those left out that cannot reach the best
/// even when their room is filled with fractions of the densest bundles.
pub(super) fn fullest(
    (items, capacity): (&[Item], u32),
    left: &[u32],
    worth: &[f64],
    floor: f64,
    work: &mut u64,
) -> Fullest {
    let bundles = bundles((items, capacity), left, worth);
    *work += 150 + 10 * bundles.len() as u64;
    let mut sums = Vec::with_capacity(bundles.len() + 1);
    let mut sum = (0_u64, 0.0);
    sums.push(sum);
    for bundle in &bundles {
        sum = (sum.0 + u64::from(bundle.size), sum.1 + bundle.value);
        sums.push(sum);
    }
    let mut traces: Vec<(usize, usize)> = vec![(0, 0)];
    let mut parts = vec![Part {
        size: 0,
        value: 0.0,
        trace: 0,
    }];
    let mut best = (floor, 0);
    let mut is_exact = true;
    let mut merged: Vec<Part> = Vec::new();
    for (place, bundle) in bundles.iter().enumerate() {
        *work += 4 * parts.len() as u64 + 8;
        merged.clear();
        // Both lists rise in size; what is not worth more than a smaller part is dropped.
        let (mut old, mut new) = (0, 0);
        let mut worth_so_far = -1.0;
        let mut reach = bundles.len();
        loop {
            let grown = parts.get(new).map(|part| part.size + bundle.size);
            let grown = grown.filter(|&size| size <= capacity);
            let is_old = match (parts.get(old), grown) {
                (None, None) => break,
                (Some(_), None) => true,
                (None, Some(_)) => false,
                (Some(part), Some(size)) => {
                    part.size < size
                        || (part.size == size && part.value >= parts[new].value + bundle.value)
                }
            };
            let mut part = if is_old { parts[old] } else { parts[new] };
            if is_old {
                old += 1;
            } else {
                new += 1;
                part.size += bundle.size;
                part.value += bundle.value;
            }
            if part.value <= worth_so_far {
                continue;
            }
            worth_so_far = part.value;
            let is_best = part.value > best.0 + HAIR;
            // Room filled with what comes after this bundle.
            let room = u64::from(capacity - part.size) + sums[place + 1].0;
            while reach > place + 1 && sums[reach].0 > room {
                reach -= 1;
            }
            let rest = bundles.get(reach).map_or(0.0, |next| {
                (room - sums[reach].0) as f64 * next.value / f64::from(next.size)
            });
            let most = part.value + sums[reach].1 - sums[place + 1].1 + rest;
            if !is_best && most <= best.0 + HAIR {
                continue;
            }
            if !is_old {
                traces.push((part.trace, place));
                part.trace = traces.len() - 1;
            }
            if is_best {
                best = (part.value, part.trace);
            }
            merged.push(part);
        }
        if merged.len() > MOST_PARTS {
            is_exact = false;
            thin_out(&mut merged, bundles.get(place + 1), capacity);
        }
        std::mem::swap(&mut parts, &mut merged);
        if parts.is_empty() {
            break;
        }
    }
    let mut pattern = Pattern::new();
    let mut trace = best.1;
    while trace > 0 {
        let (before, place) = traces[trace];
        let bundle = &bundles[place];
        match pattern
            .iter_mut()
            .find(|(demand, _)| *demand == bundle.demand)
        {
            Some((_, count)) => *count += bundle.count,
            None => pattern.push((bundle.demand, bundle.count)),
        }
        trace = before;
    }
    Fullest {
        best: (best.0, pattern),
        is_exact,
    }
}

/// Keeps the parts that are more promising than most.
pub(super) fn thin_out(parts: &mut Vec<Part>, next: Option<&Bundle>, capacity: u32) {
    let density = next.map_or(0.0, |it| it.value / f64::from(it.size));
    let promise = |part: &Part| part.value + f64::from(capacity - part.size) * density;
    let mean = parts.iter().map(promise).sum::<f64>() / parts.len() as f64;
    parts.retain(|part| promise(part) > mean);
}
