//! The linear program over the patterns known so far, whose prices say which pattern is
//! worth adding.

use super::parted;
use super::problem::{
    AT_HAND, Branch, Column, Cuts, Node, POOLS, Pattern, Problem, TO_BUY, Way, Yield, cover,
    repeats,
};
use crate::solve::sorted::descending;

/// Where a linear program stands.
pub(super) enum Progress {
    Moved,
    Solved,
    /// Rounding got the better of it, or it took too long.
    Lost,
}

/// A variable of the linear program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Variable {
    /// So many boards of a pattern from a pool.
    Boards { column: usize, pool: usize },
    /// Spare pieces of a demand's row, or boards left in a pool's row.
    Slack(usize),
}

/// The linear program over the patterns known so far: every demand covered, no pool
/// overdrawn, at the least cost. A simplex method with the inverse of its basis.
pub(super) struct Master {
    /// The demand of each of the first rows; the pool of each of the others.
    pub(super) demands: Vec<usize>,
    pub(super) pools: Vec<usize>,
    /// Row of a demand or pool.
    pub(super) row_of_demand: Vec<Option<usize>>,
    pub(super) row_of_pool: Vec<Option<usize>>,
    pub(super) basis: Vec<Variable>,
    pub(super) inverse: Vec<f64>,
    pub(super) level: Vec<f64>,
    pub(super) prices: Vec<f64>,
    pub(super) moves: u32,
    /// Where it stands in a round of all kinds of boards, by the same prices.
    sweep: Option<Sweep>,
    /// No solution costs less.
    pub(super) bound: f64,
}

/// A round of all kinds of boards.
#[derive(Clone, Copy)]
struct Sweep {
    /// Which is looked at next.
    bin: usize,
    /// Whether any gave a new way to be cut.
    any: bool,
    /// The most that any gives for its price.
    most: f64,
}

impl Master {
    /// Begins with boards to be bought, each full of one demand: always possible.
    pub(super) fn new(problem: &Problem, node: &Node, columns: &mut Vec<Column>) -> Master {
        let demands: Vec<usize> = (0..node.left.len())
            .filter(|&it| node.left[it] > 0)
            .collect();
        let pools: Vec<usize> = (0..node.pools.len())
            .filter(|&it| node.pools[it].limit.is_some_and(|limit| limit > 0))
            .collect();
        let mut master = Master {
            row_of_demand: vec![None; node.left.len()],
            row_of_pool: vec![None; node.pools.len()],
            basis: Vec::new(),
            inverse: Vec::new(),
            level: Vec::new(),
            prices: Vec::new(),
            moves: 0,
            sweep: None,
            bound: 0.0,
            demands,
            pools,
        };
        let rows = master.rows();
        master.inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            let (variable, scale) = if let Some(&demand) = master.demands.get(row) {
                master.row_of_demand[demand] = Some(row);
                let (column, pool) = single(problem, node, columns, demand);
                let covers = f64::from(covered(columns[column].yields[0], node));
                (Variable::Boards { column, pool }, 1.0 / covers)
            } else {
                master.row_of_pool[master.pools[row - master.demands.len()]] = Some(row);
                (Variable::Slack(row), 1.0)
            };
            master.basis.push(variable);
            master.inverse[row * rows + row] = scale;
        }
        master.level = master.times_inverse(&master.needs(node, true));
        master
    }

    pub(super) fn rows(&self) -> usize {
        self.demands.len() + self.pools.len()
    }

    /// The right-hand side. Slightly more than is wanted keeps many equal steps apart;
    /// the bound is taken with the true numbers.
    pub(super) fn needs(&self, node: &Node, apart: bool) -> Vec<f64> {
        let hair = |row: usize| {
            if apart {
                1e-7 * (1.0 + (row as f64 * 0.618_034).fract())
            } else {
                0.0
            }
        };
        let demands = self
            .demands
            .iter()
            .map(|&demand| f64::from(node.left[demand]));
        let pools = self
            .pools
            .iter()
            .map(|&pool| node.pools[pool].limit.map_or(0.0, f64::from));
        demands
            .chain(pools)
            .enumerate()
            .map(|(row, need)| need + hair(row))
            .collect()
    }

    pub(super) fn times_inverse(&self, column: &[f64]) -> Vec<f64> {
        let rows = self.rows();
        let dot = |row: &[f64]| row.iter().zip(column).map(|(a, b)| a * b).sum();
        self.inverse.chunks_exact(rows.max(1)).map(dot).collect()
    }

    /// By the dual prices, the demands' lowered until no board gives more than its price: no
    /// solution costs less (Farley, A note on bounding a class of linear programming problems,
    /// including cutting stock problems, Operations Research 1990; from memory).
    fn bound_by(&self, node: &Node, most: f64) -> f64 {
        let needs = self.needs(node, false);
        let worth = needs.iter().zip(&self.prices).enumerate();
        worth
            .map(|(row, (need, price))| {
                let is_demand = row < self.demands.len();
                need * price / if is_demand { most } else { 1.0 }
            })
            .sum()
    }

    /// Prices of the rows: costs of the basis times its inverse.
    pub(super) fn set_prices(&mut self, node: &Node) {
        let rows = self.rows();
        let mut prices = vec![0.0; rows];
        for (variable, line) in self
            .basis
            .iter()
            .zip(self.inverse.chunks_exact(rows.max(1)))
        {
            let Variable::Boards { pool, .. } = variable else {
                continue;
            };
            let cost = node.pools[*pool].cost;
            if cost != 0.0 {
                for (price, each) in prices.iter_mut().zip(line) {
                    *price += cost * each;
                }
            }
        }
        self.prices = prices;
    }

    /// One exchange in the basis, or a look for a new pattern. A bound above `enough` is not
    /// looked for any closer.
    pub(super) fn advance(
        &mut self,
        problem: &Problem,
        node: &Node,
        columns: &mut Vec<Column>,
        (enough, work): (f64, &mut u64),
    ) -> Progress {
        let rows = self.rows();
        *work += 2 * (rows * rows) as u64 + 8 * columns.len() as u64 + 50;
        self.moves += 1;
        if self.moves > 40_000 {
            return Progress::Lost;
        }
        if self.moves.is_multiple_of(200) {
            *work += (rows * rows * rows) as u64;
            if !self.invert(node, columns) {
                return Progress::Lost;
            }
        }
        // While kinds of boards are looked through, nothing else changes.
        if self.sweep.is_none() {
            self.set_prices(node);
        }
        let entering = match self.sweep {
            Some(_) => None,
            None => self.entering(node, columns),
        };
        let Some(entering) = entering else {
            return self.look_for_pattern(problem, node, columns, (enough, work));
        };
        if self.exchange(node, columns, entering) {
            Progress::Moved
        } else {
            Progress::Lost
        }
    }

    /// The variable that promises most, if any does.
    pub(super) fn entering(&self, node: &Node, columns: &[Column]) -> Option<Variable> {
        let mut best = (-1e-8, None);
        for (row, &price) in self.prices.iter().enumerate() {
            let saved = if row < self.demands.len() {
                price
            } else {
                -price
            };
            if saved < best.0 {
                best = (saved, Some(Variable::Slack(row)));
            }
        }
        for (place, column) in columns.iter().enumerate() {
            let Some(value) = self.value(node, column) else {
                continue;
            };
            for (pool, price) in self.pool_prices(node, column.bin) {
                if price - value < best.0 {
                    let column = place;
                    best = (price - value, Some(Variable::Boards { column, pool }));
                }
            }
        }
        best.1
    }

    /// What a board of a kind costs, by the pools that still have one.
    pub(super) fn pool_prices<'a>(
        &'a self,
        node: &'a Node,
        bin: usize,
    ) -> impl Iterator<Item = (usize, f64)> + 'a {
        (POOLS * bin..POOLS * (bin + 1)).filter_map(move |pool| {
            let row = self.row_of_pool[pool];
            let is_open = row.is_some() || node.pools[pool].limit.is_none();
            let scarcity = row.map_or(0.0, |row| self.prices[row]);
            is_open.then(|| (pool, node.pools[pool].cost - scarcity))
        })
    }

    /// What a way of cutting covers, in prices; none when it has spare strips.
    pub(super) fn value(&self, node: &Node, column: &Column) -> Option<f64> {
        let mut value = 0.0;
        for it in &column.yields {
            if !it.is_used(&node.left) {
                return None;
            }
            value += f64::from(covered(*it, node)) * self.prices[self.row_of_demand[it.demand]?];
        }
        Some(value)
    }

    /// The price of a piece of each demand.
    pub(super) fn worth(&self, demand_count: usize) -> Vec<f64> {
        let mut worth = vec![0.0; demand_count];
        for (row, &demand) in self.demands.iter().enumerate() {
            worth[demand] = self.prices[row];
        }
        worth
    }

    /// Looks for a pattern that would pay on the next kind of board, and adds it. Solved
    /// when every kind was looked at by the same prices and none had one, or the bound is enough.
    fn look_for_pattern(
        &mut self,
        problem: &Problem,
        node: &Node,
        columns: &mut Vec<Column>,
        (enough, work): (f64, &mut u64),
    ) -> Progress {
        let mut sweep = self.sweep.unwrap_or(Sweep {
            bin: 0,
            any: false,
            most: 1.0,
        });
        let prices = self.pool_prices(node, sweep.bin).map(|(_, price)| price);
        let price = prices.fold(f64::INFINITY, f64::min);
        let worth = self.worth(node.left.len());
        let floor = price + 2e-8;
        let found = parted::fullest(&problem.bins[sweep.bin], &node.left, &worth, floor, work);
        if found.most > floor {
            let over = found.most / price;
            sweep.most = sweep
                .most
                .max(if over > 0.0 { over } else { f64::INFINITY });
        }
        if !found.cuts.is_empty() {
            columns.push(Column::new(problem, sweep.bin, found.cuts));
            sweep.any = true;
        }
        sweep.bin += 1;
        if sweep.bin < problem.bins.len() {
            self.sweep = Some(sweep);
            return Progress::Moved;
        }
        self.sweep = None;
        self.bound = self.bound.max(self.bound_by(node, sweep.most));
        if sweep.any && self.bound <= enough {
            Progress::Moved
        } else {
            Progress::Solved
        }
    }

    /// The rows that a variable fills.
    pub(super) fn column_of(
        &self,
        node: &Node,
        columns: &[Column],
        variable: Variable,
    ) -> Vec<f64> {
        let mut filled = vec![0.0; self.rows()];
        match variable {
            Variable::Slack(row) => {
                filled[row] = if row < self.demands.len() { -1.0 } else { 1.0 };
            }
            Variable::Boards { column, pool } => {
                for it in &columns[column].yields {
                    if let Some(row) = self.row_of_demand[it.demand] {
                        filled[row] = f64::from(covered(*it, node));
                    }
                }
                if let Some(row) = self.row_of_pool[pool] {
                    filled[row] = 1.0;
                }
            }
        }
        filled
    }

    pub(super) fn exchange(&mut self, node: &Node, columns: &[Column], entering: Variable) -> bool {
        let rows = self.rows();
        let step = self.times_inverse(&self.column_of(node, columns, entering));
        let mut leaving: Option<(usize, f64)> = None;
        for (row, &size) in step.iter().enumerate() {
            if size > 1e-9 {
                let ratio = self.level[row].max(0.0) / size;
                let is_first = leaving.is_none_or(|(before, least)| {
                    ratio < least - 1e-12 || (ratio <= least + 1e-12 && size > step[before])
                });
                if is_first {
                    leaving = Some((row, ratio));
                }
            }
        }
        let Some((pivot, ratio)) = leaving else {
            return false;
        };
        let line: Vec<f64> = self.inverse[pivot * rows..(pivot + 1) * rows]
            .iter()
            .map(|each| each / step[pivot])
            .collect();
        for (row, &factor) in step.iter().enumerate() {
            if row == pivot || factor == 0.0 {
                continue;
            }
            self.level[row] -= ratio * factor;
            let own = &mut self.inverse[row * rows..(row + 1) * rows];
            for (each, from) in own.iter_mut().zip(&line) {
                *each -= factor * from;
            }
        }
        self.inverse[pivot * rows..(pivot + 1) * rows].copy_from_slice(&line);
        self.level[pivot] = ratio;
        self.basis[pivot] = entering;
        true
    }

    /// Works the inverse out anew, to be rid of rounding (Gauss and Jordan's elimination).
    pub(super) fn invert(&mut self, node: &Node, columns: &[Column]) -> bool {
        let rows = self.rows();
        let mut from = vec![0.0; rows * rows];
        for (place, &variable) in self.basis.iter().enumerate() {
            for (row, each) in self
                .column_of(node, columns, variable)
                .into_iter()
                .enumerate()
            {
                from[row * rows + place] = each;
            }
        }
        let mut to = vec![0.0; rows * rows];
        for row in 0..rows {
            to[row * rows + row] = 1.0;
        }
        for pivot in 0..rows {
            let largest = (pivot..rows).max_by(|&a, &b| {
                from[a * rows + pivot]
                    .abs()
                    .total_cmp(&from[b * rows + pivot].abs())
            });
            let Some(largest) = largest.filter(|&row| from[row * rows + pivot].abs() > 1e-11)
            else {
                return false;
            };
            for each in 0..rows {
                from.swap(pivot * rows + each, largest * rows + each);
                to.swap(pivot * rows + each, largest * rows + each);
            }
            let scale = 1.0 / from[pivot * rows + pivot];
            for each in pivot * rows..(pivot + 1) * rows {
                from[each] *= scale;
                to[each] *= scale;
            }
            for row in 0..rows {
                let factor = from[row * rows + pivot];
                if row == pivot || factor == 0.0 {
                    continue;
                }
                for each in 0..rows {
                    from[row * rows + each] -= factor * from[pivot * rows + each];
                    to[row * rows + each] -= factor * to[pivot * rows + each];
                }
            }
        }
        self.inverse = to;
        self.level = self.times_inverse(&self.needs(node, true));
        true
    }

    /// Boards of each kind from those at hand, in the linear solution: those that must
    /// be taken, and those taken beyond them.
    pub(super) fn boards_taken(&self, branch: &Branch, node: &Node) -> Vec<f64> {
        let mut taken: Vec<f64> = branch.least.iter().map(|&it| f64::from(it)).collect();
        for (variable, &level) in self.basis.iter().zip(&self.level) {
            if let Variable::Boards { pool, .. } = *variable
                && pool % POOLS == AT_HAND
            {
                taken[node.pools[pool].bin] += level;
            }
        }
        taken
    }

    /// Takes the whole boards of the linear solution for good, or else the one that is
    /// nearest to whole (`astray`: the so many next). Says whether any was taken.
    pub(super) fn take(&self, node: &mut Node, columns: &[Column], astray: usize) -> bool {
        let mut wanted: Vec<(f64, usize, usize)> = Vec::new();
        for (variable, &level) in self.basis.iter().zip(&self.level) {
            if let Variable::Boards { column, pool } = *variable
                && level > 1e-5
            {
                wanted.push((level, column, pool));
            }
        }
        let levels: Vec<f64> = wanted.iter().map(|(level, _, _)| *level).collect();
        let order = descending(&levels).into_iter();
        let wanted: Vec<_> = order.map(|place| wanted[place]).collect();
        let mut any = false;
        if astray == 0 {
            for &(level, column, pool) in &wanted {
                // Nearly whole is whole, once nothing is really whole.
                let times = (level + 1e-5).floor() as u32;
                any |= Self::take_boards(node, columns, (column, pool), times);
            }
            for &(level, column, pool) in &wanted {
                if !any || (level.fract() > 0.9 && level < 1.0) {
                    any |= Self::take_boards(node, columns, (column, pool), 1);
                }
            }
            return any;
        }
        let place = astray.min(wanted.len().saturating_sub(1));
        let Some(&(_, column, pool)) = wanted.get(place) else {
            return false;
        };
        Self::take_boards(node, columns, (column, pool), 1)
    }

    pub(super) fn take_boards(
        node: &mut Node,
        columns: &[Column],
        (column, pool): (usize, usize),
        times: u32,
    ) -> bool {
        let from = &columns[column];
        let mut taken = 0;
        while taken < times {
            let is_used = from.yields.iter().all(|it| it.is_used(&node.left));
            if node.pools[pool].limit == Some(0) || !is_used {
                break;
            }
            // Many at once while nothing is spare.
            let mut now = repeats(&from.yields, &node.left).min(times - taken);
            if let Some(limit) = &mut node.pools[pool].limit {
                now = now.min(*limit);
                *limit -= now;
            }
            cover(&from.yields, now, &mut node.left);
            node.spent += node.pools[pool].cost * f64::from(now);
            node.taken.push((column, pool, now));
            taken += now;
        }
        taken > 0
    }
}

/// Pieces of what is left that are covered: spare ones do not count.
pub(super) fn covered(yielded: Yield, node: &Node) -> u32 {
    yielded.units.min(node.left[yielded.demand])
}

/// A board to be bought that is filled with one demand: the kind on which it is cheapest, parted
/// only where the demand goes into none that is whole.
pub(super) fn single(
    problem: &Problem,
    node: &Node,
    columns: &mut Vec<Column>,
    demand: usize,
) -> (usize, usize) {
    let left = node.left[demand];
    let filled = |bin: usize, (way, side): (Option<Way>, usize)| {
        let of = &problem.bins[bin];
        let item = of.items_in(way, side)[demand];
        let room = of.capacity_in(way, side) / item.size.max(1);
        if item.units == 0 || room == 0 {
            return None;
        }
        let count = room.min(left.div_ceil(item.units));
        let covers = f64::from((count * item.units).min(left));
        let cost = node.pools[POOLS * bin + TO_BUY].cost / covers;
        let mut lengths = vec![Pattern::new(); if way.is_some() { 2 } else { 1 }];
        lengths[side].push((demand, count));
        Some((cost, bin, Cuts { way, lengths }))
    };
    let cheaper = |one: (f64, usize, Cuts), other: (f64, usize, Cuts)| {
        if other.0 < one.0 { other } else { one }
    };
    let bins = 0..problem.bins.len();
    let whole = bins.clone().filter_map(|bin| filled(bin, (None, 0)));
    let best = whole.reduce(cheaper).or_else(|| {
        let parted = bins.flat_map(|bin| {
            let ways = problem.bins[bin].ways();
            ways.flat_map(move |way| [(bin, (Some(way), 0)), (bin, (Some(way), 1))])
        });
        parted
            .filter_map(|(bin, side)| filled(bin, side))
            .reduce(cheaper)
    });
    let (_, bin, cuts) = best.unwrap_or_default();
    let known = columns
        .iter()
        .position(|column| column.bin == bin && column.cuts == cuts);
    let column = known.unwrap_or_else(|| {
        columns.push(Column::new(problem, bin, cuts));
        columns.len() - 1
    });
    (column, POOLS * bin + TO_BUY)
}
