//! One round of the search: boards filled one by one, the bound, dives, branches.

use super::fullest::largest_first;
use super::master::{Master, Progress};
use super::parted;
use super::problem::{
    Bin, Branch, Column, Cuts, HAIR, Item, Node, Packed, Packing, Pool, Problem, cover, repeats,
};
use super::tidy::{leave_whole, settle_extra, simplify, trim};

/// Branches looked into.
const MOST_BRANCHES: u32 = 300;

/// Dives begun differently, and rounds of shaken fillings between them, after all else.
const MOST_TWISTS: u32 = 80;

/// Shaken fillings in a round.
const SHAKES: u32 = 20;

/// Patterns kept from one part of the search to the next.
const KEPT_COLUMNS: usize = 1_500;

/// Work after which the search rests on what it has: with boards left whole, and parted, where a
/// better answer is seldom found late (our own choice, as all bounds of this search; no published
/// source).
const MOST_WORK: u64 = 1_000_000_000;
const MOST_PARTED_WORK: u64 = 150_000_000;

/// What the search is at.
enum Task {
    /// Filling boards one by one, in the so-manieth way.
    Fill(u32, Filling),
    /// Filling them in a shaken order.
    Shake(u32, Filling),
    /// A first bound by what a piece was worth in the round before: the kind of board that is
    /// looked at next, and the most that any gave for its cost.
    Glance(usize, f64),
    Choose,
    Bound(Branch, Node, Master),
    Dive(Node, Master, u32),
    Done,
}

/// Boards filled so far.
struct Filling {
    worth: Vec<f64>,
    is_largest_first: bool,
    left: Vec<u32>,
    free: Vec<u32>,
    boards: Vec<Packed>,
    /// Which kind of board is looked at next, and the best so far.
    next_bin: usize,
    found: Option<(f64, Packed)>,
}

/// One round of the search.
pub(super) struct Round {
    problem: Problem,
    extra_cost: f64,
    columns: Vec<Column>,
    task: Task,
    best: Option<(f64, Packing)>,
    open: Vec<Branch>,
    stuck_bound: f64,
    bound: f64,
    branches: u32,
    twist: u32,
    chance: u32,
    /// What a piece of each demand is worth, by the first linear program.
    worth: Vec<f64>,
    work: u64,
    /// Whether it ends after the first dive.
    is_short: bool,
}

impl Round {
    /// Begins a search. Demands that no board can hold are left out.
    pub(super) fn new(mut problem: Problem) -> Round {
        for demand in 0..problem.demands.len() {
            simplify(&mut problem, demand);
        }
        for bin in &mut problem.bins {
            bin.cost = bin.cost.max(HAIR);
        }
        // Dearer than everything at hand that could be of use.
        let pieces: f64 = problem.demands.iter().map(|&it| f64::from(it)).sum();
        let at_hand = |bin: &Bin| bin.cost * f64::from(bin.number).min(pieces);
        let extra_cost = 1.0 + problem.bins.iter().map(at_hand).sum::<f64>();
        let kinds = problem.bins.len();
        let whole = Branch {
            least: vec![0; kinds],
            most: problem.bins.iter().map(|bin| bin.number).collect(),
            bound: 0.0,
        };
        let is_empty = problem.demands.iter().all(|&wanted| wanted == 0);
        let mut round = Round {
            problem,
            extra_cost,
            columns: Vec::new(),
            task: Task::Choose,
            best: None,
            open: vec![whole],
            stuck_bound: f64::INFINITY,
            bound: 0.0,
            branches: 0,
            twist: 0,
            chance: 1,
            worth: Vec::new(),
            work: 0,
            is_short: false,
        };
        if is_empty {
            round.best = Some((0.0, Packing::default()));
            round.task = Task::Done;
        } else if let Some(filling) = round.begin_filling(0) {
            round.task = Task::Fill(0, filling);
            // The first answer is cheap: it is there from the beginning.
            while matches!(round.task, Task::Fill(0, _)) {
                round.advance();
            }
        }
        round
    }

    /// The same, to end after the first dive.
    pub(super) fn short(self) -> Round {
        Round {
            is_short: true,
            ..self
        }
    }

    /// A round that goes on from one with the same demands and kinds of boards.
    pub(super) fn after(problem: Problem, before: &Round) -> Round {
        let mut round = Round::new(problem);
        round.work += before.work;
        if round.is_done() {
            return round;
        }
        if let Some((_, packing)) = &before.best {
            // What was found before stays where the new first answer is no better.
            round.best = None;
            round.offer_boards(packing.boards.clone());
        }
        let columns = before.columns.iter();
        round.columns = columns
            .map(|it| Column::new(&round.problem, it.bin, it.cuts.clone()))
            .collect();
        // Demands may be counted otherwise.
        let counts = before.problem.demands.iter().zip(&round.problem.demands);
        let worth = before.worth.iter().zip(counts);
        round.worth = worth
            .map(|(worth, (was, is))| worth * f64::from(*was) / f64::from((*is).max(1)))
            .collect();
        round.task = Task::Glance(0, 0.0);
        round
    }

    /// The best answer so far.
    pub(super) fn best(&self) -> Option<&Packing> {
        self.best.as_ref().map(|(_, packing)| packing)
    }

    /// No answer costs less than this, boards beyond those at hand counted dearer; 0
    /// while it is not known.
    pub(super) fn bound(&self) -> f64 {
        self.bound
    }

    /// Whether no answer can be better by the least gain worth looking for.
    pub(super) fn is_proven(&self) -> bool {
        self.best
            .as_ref()
            .is_some_and(|(cost, _)| self.bound > cost - self.problem.least_gain)
    }

    /// Whether the search has ended.
    pub(super) fn is_done(&self) -> bool {
        matches!(self.task, Task::Done)
    }

    /// Work done so far.
    pub(super) fn work(&self) -> u64 {
        self.work
    }

    /// Goes on until so much work is done in all.
    pub(super) fn go_on(&mut self, until: u64) {
        while !self.is_done() && self.work < until {
            self.advance();
        }
    }

    /// What an answer must cost less than, to be one.
    fn to_beat(&self) -> f64 {
        self.best.as_ref().map_or(f64::INFINITY, |(cost, _)| *cost)
    }

    fn is_parted(&self) -> bool {
        self.problem.bins.iter().any(|bin| !bin.parted.is_empty())
    }

    fn most_work(&self) -> u64 {
        if self.is_parted() {
            MOST_PARTED_WORK
        } else {
            MOST_WORK
        }
    }

    /// Above which bound a node needs no closer look. With boards left whole the linear program
    /// is solved to its end: that costs little, and the bound is told.
    fn enough(&self, node: &Node, gain: f64) -> f64 {
        if !self.is_parted() {
            return f64::INFINITY;
        }
        self.to_beat() - gain - node.spent
    }

    fn advance(&mut self) {
        let task = std::mem::replace(&mut self.task, Task::Choose);
        self.task = match task {
            Task::Fill(way, filling) => match self.fill(filling) {
                Some(filling) => Task::Fill(way, filling),
                None => self
                    .begin_filling(way + 1)
                    .map_or(Task::Choose, |filling| Task::Fill(way + 1, filling)),
            },
            Task::Shake(more, filling) => match self.fill(filling) {
                Some(filling) => Task::Shake(more, filling),
                None if more > 0 && !self.is_proven() => Task::Shake(more - 1, self.shaken()),
                None => Task::Choose,
            },
            Task::Glance(bin, most) => self.glance(bin, most),
            Task::Choose => self.choose(),
            Task::Bound(branch, node, master) => self.go_on_bounding(branch, node, master),
            Task::Dive(node, master, depth) => self.go_on_diving(node, master, depth),
            Task::Done => Task::Done,
        };
    }

    /// Any prices bound the cost: what all pieces are worth by them, over the most that a board
    /// gives for its cost (Farley, A note on bounding a class of linear programming problems,
    /// including cutting stock problems, Operations Research 1990; from memory).
    fn glance(&mut self, place: usize, most: f64) -> Task {
        let Some(bin) = self.problem.bins.get(place) else {
            let pieces = self.problem.demands.iter().zip(&self.worth);
            let all: f64 = pieces.map(|(&it, worth)| f64::from(it) * worth).sum();
            if most > 0.0 && most.is_finite() {
                let whole = &mut self.open[0];
                whole.bound = whole.bound.max(all / most * (1.0 - HAIR));
            }
            self.settle_bound();
            if self.is_proven() {
                return Task::Done;
            }
            let filling = self.begin_filling(1);
            return filling.map_or(Task::Choose, |it| Task::Fill(1, it));
        };
        if self.worth.is_empty() {
            return Task::Glance(self.problem.bins.len(), f64::INFINITY);
        }
        let left = &self.problem.demands;
        let found = parted::fullest(bin, left, &self.worth, 0.0, &mut self.work);
        let gives = found.most / bin.cost;
        if !found.cuts.is_empty() {
            let column = Column::new(&self.problem, place, found.cuts);
            self.columns.push(column);
        }
        Task::Glance(place + 1, most.max(gives))
    }

    /// What to look at next.
    fn choose(&mut self) -> Task {
        self.settle_bound();
        let to_beat = self.to_beat() - self.problem.least_gain;
        self.open.retain(|branch| branch.bound <= to_beat);
        let is_enough = self.is_short && self.branches > 0;
        if self.is_proven() || is_enough || self.work > self.most_work() {
            return Task::Done;
        }
        if self.columns.len() > 2 * KEPT_COLUMNS {
            self.columns.drain(..self.columns.len() - KEPT_COLUMNS);
        }
        let nearest =
            (0..self.open.len()).min_by(|&a, &b| self.open[a].bound.total_cmp(&self.open[b].bound));
        let branch = match nearest {
            Some(place) if self.branches < MOST_BRANCHES => self.open.swap_remove(place),
            _ if self.twist < MOST_TWISTS => {
                self.twist += 1;
                // Between dives, a few fillings: cheap, and each looks elsewhere.
                if self.twist.is_multiple_of(2) && !self.worth.is_empty() {
                    return Task::Shake(SHAKES, self.shaken());
                }
                let node = self.whole();
                let master = self.master(&node);
                return Task::Dive(node, master, 0);
            }
            _ => return Task::Done,
        };
        self.branches += 1;
        let node = self.node_of(&branch);
        let master = self.master(&node);
        Task::Bound(branch, node, master)
    }

    /// The bound is the least of all parts that are not looked into yet, or cannot be
    /// parted further; parts that were closed cannot hold anything better.
    fn settle_bound(&mut self) {
        let open = self.open.iter().map(|branch| branch.bound);
        let least = open.fold(self.stuck_bound, f64::min);
        self.bound = self.bound.max(least.min(self.to_beat()));
    }

    fn master(&mut self, node: &Node) -> Master {
        let master = Master::new(&self.problem, node, &mut self.columns);
        let rows = master.rows();
        self.work += (4 * rows * rows + 8 * rows * self.columns.len()) as u64 + 500;
        master
    }

    fn whole(&self) -> Node {
        let bins = &self.problem.bins;
        self.node_of(&Branch {
            least: vec![0; bins.len()],
            most: bins.iter().map(|bin| bin.number).collect(),
            bound: 0.0,
        })
    }

    /// Boards that must be taken are paid for at once, and then cost nothing.
    fn node_of(&self, branch: &Branch) -> Node {
        let mut node = Node {
            left: self.problem.demands.clone(),
            pools: Vec::new(),
            taken: Vec::new(),
            spent: 0.0,
        };
        for (place, bin) in self.problem.bins.iter().enumerate() {
            let (least, most) = (branch.least[place], branch.most[place]);
            node.spent += bin.cost * f64::from(least);
            let mut add = |cost, limit, is_extra| {
                node.pools.push(Pool {
                    bin: place,
                    cost,
                    limit,
                    is_extra,
                });
            };
            add(0.0, Some(least), false);
            add(bin.cost, Some(most - least), false);
            add(bin.cost + self.extra_cost, None, true);
        }
        node
    }

    fn go_on_bounding(&mut self, branch: Branch, node: Node, mut master: Master) -> Task {
        let enough = self.enough(&node, self.problem.least_gain);
        let state = master.advance(
            &self.problem,
            &node,
            &mut self.columns,
            (enough, &mut self.work),
        );
        match state {
            Progress::Moved => return Task::Bound(branch, node, master),
            Progress::Lost => {
                self.stuck_bound = self.stuck_bound.min(branch.bound);
                return Task::Choose;
            }
            Progress::Solved => {}
        }
        let bound = (node.spent + master.bound).max(branch.bound);
        if self.worth.is_empty() {
            self.worth = master.worth(self.problem.demands.len());
        }
        if bound > self.to_beat() - self.problem.least_gain {
            // Nothing worth looking for is in it; the bound must still hold for it.
            self.stuck_bound = self.stuck_bound.min(bound);
            return Task::Choose;
        }
        self.part(branch, bound, &node, &master);
        self.settle_bound();
        Task::Dive(node, master, 0)
    }

    /// Parts a branch by the number of boards of the kind that is least settled.
    fn part(&mut self, branch: Branch, bound: f64, node: &Node, master: &Master) {
        let taken = master.boards_taken(&branch, node);
        let off_whole = |place: &usize| (taken[*place] - taken[*place].round()).abs();
        let kind = (0..taken.len())
            .filter(|place| off_whole(place) > 1e-6)
            .max_by(|a, b| off_whole(a).total_cmp(&off_whole(b)));
        let Some(kind) = kind else {
            self.stuck_bound = self.stuck_bound.min(bound);
            return;
        };
        let below = taken[kind].floor() as u32;
        let mut fewer = branch.clone();
        let mut more = branch;
        fewer.most[kind] = below.min(fewer.most[kind]);
        more.least[kind] = (below + 1).min(more.most[kind]);
        for mut part in [fewer, more] {
            part.bound = bound;
            self.open.push(part);
        }
    }

    fn go_on_diving(&mut self, mut node: Node, mut master: Master, depth: u32) -> Task {
        let enough = self.enough(&node, HAIR);
        let state = master.advance(
            &self.problem,
            &node,
            &mut self.columns,
            (enough, &mut self.work),
        );
        match state {
            Progress::Moved => return Task::Dive(node, master, depth),
            Progress::Lost => return Task::Choose,
            Progress::Solved => {}
        }
        if node.spent + master.bound > self.to_beat() - HAIR {
            return Task::Choose;
        }
        // A dive begun differently takes another pattern at one place.
        let astray = if self.twist > 0 && depth == self.twist / 8 {
            1 + (self.twist / 2) as usize % 4
        } else {
            0
        };
        let fixed = master.take(&mut node, &self.columns, astray);
        if !fixed {
            return Task::Choose;
        }
        if node.left.iter().all(|&left| left == 0) {
            self.offer(&node);
            return Task::Choose;
        }
        let master = self.master(&node);
        Task::Dive(node, master, depth + 1)
    }

    /// Takes the packing of a finished node if it is better.
    fn offer(&mut self, node: &Node) {
        let boards = node.taken.iter().map(|&(column, pool, times)| Packed {
            bin: self.columns[column].bin,
            is_extra: node.pools[pool].is_extra,
            cuts: self.columns[column].cuts.clone(),
            times,
        });
        self.offer_boards(boards.collect());
    }

    fn offer_boards(&mut self, mut boards: Vec<Packed>) {
        trim(&self.problem, &mut boards);
        leave_whole(&self.problem, &mut boards);
        settle_extra(&self.problem, &mut boards);
        let mut packing = Packing::default();
        for packed in &boards {
            packing.cost += self.problem.bins[packed.bin].cost * f64::from(packed.times);
            packing.extra += if packed.is_extra { packed.times } else { 0 };
        }
        packing.boards = boards;
        let cost = packing.cost + self.extra_cost * f64::from(packing.extra);
        if cost < self.to_beat() - HAIR {
            self.best = Some((cost, packing));
        }
    }

    /// Begins to fill boards one by one, in one of several ways: the largest strips
    /// first, or as full as can be with a bent for large strips.
    fn begin_filling(&self, way: u32) -> Option<Filling> {
        const BENTS: [f64; 4] = [1.0, 1.02, 1.1, 1.3];
        let worth = match way {
            0 => self.worth_by_size(1.0),
            _ => self.worth_by_size(*BENTS.get(way as usize - 1)?),
        };
        Some(self.filling(worth, way == 0))
    }

    fn filling(&self, worth: Vec<f64>, is_largest_first: bool) -> Filling {
        Filling {
            worth,
            is_largest_first,
            left: self.problem.demands.clone(),
            free: self.problem.bins.iter().map(|bin| bin.number).collect(),
            boards: Vec::new(),
            next_bin: 0,
            found: None,
        }
    }

    /// Fills again with the worth that the linear program gave, each shaken a little.
    fn shaken(&mut self) -> Filling {
        let mut worth = self.worth.clone();
        let by_size = self.worth_by_size(1.0);
        for (each, size) in worth.iter_mut().zip(by_size) {
            // Numerical Recipes' quick generator (from memory): any even spread will do.
            self.chance = self
                .chance
                .wrapping_mul(1_664_525)
                .wrapping_add(1_013_904_223);
            let shake = f64::from(self.chance >> 8) / f64::from(1_u32 << 24);
            *each = (*each + 0.2 * size) * (0.75 + 0.5 * shake);
        }
        self.filling(worth, false)
    }

    /// Looks at one more kind of board and, after the last, fills the one that gains most.
    /// A full packing is offered, and nothing comes back.
    fn fill(&mut self, mut filling: Filling) -> Option<Filling> {
        if filling.next_bin < self.problem.bins.len() {
            self.look_at(&mut filling);
            return Some(filling);
        }
        filling.next_bin = 0;
        let (_, mut packed) = filling.found.take()?;
        let yields = packed.cuts.yields(&self.problem.bins[packed.bin]);
        packed.times = repeats(&yields, &filling.left);
        if !packed.is_extra {
            let free = &mut filling.free[packed.bin];
            packed.times = packed.times.min(*free);
            *free -= packed.times;
        }
        cover(&yields, packed.times, &mut filling.left);
        filling.boards.push(packed);
        if filling.left.iter().all(|&each| each == 0) {
            self.offer_boards(filling.boards);
            return None;
        }
        Some(filling)
    }

    /// What the next kind of board would hold of what is left, if it gains more than those
    /// before it.
    fn look_at(&mut self, filling: &mut Filling) {
        let place = filling.next_bin;
        filling.next_bin += 1;
        let bin = &self.problem.bins[place];
        let (left, worth) = (&filling.left, &filling.worth);
        let (mut value, mut cuts) = (0.0, Cuts::default());
        if filling.is_largest_first {
            let whole = (&bin.items[..], bin.capacity);
            let (worth, pattern) = largest_first(whole, left, worth, &mut self.work);
            (value, cuts) = (worth, Cuts::whole(pattern));
        }
        // Something may be left that goes into a parted board only.
        if cuts.is_empty() {
            let found = parted::fullest(bin, left, worth, 0.0, &mut self.work);
            (value, cuts) = (found.value, found.cuts);
        }
        let is_extra = filling.free[place] == 0;
        let dear = if is_extra { self.extra_cost } else { 0.0 };
        let gain = value / (bin.cost + dear);
        let is_better = filling.found.as_ref().is_none_or(|(best, _)| gain > *best);
        if is_better && !cuts.is_empty() {
            let packed = Packed {
                bin: place,
                is_extra,
                cuts,
                times: 1,
            };
            filling.found = Some((gain, packed));
        }
    }

    /// What a piece of each demand is worth: the width that it takes where it takes least.
    fn worth_by_size(&self, bent: f64) -> Vec<f64> {
        let demands = 0..self.problem.demands.len();
        let width = |bin: &Bin, item: Item| {
            let share = f64::from(item.size) / f64::from(bin.capacity);
            (item.units > 0).then(|| share.powf(bent) / f64::from(item.units))
        };
        let least = |demand: usize| {
            let bins = self.problem.bins.iter();
            let whole = bins
                .clone()
                .filter_map(|bin| width(bin, bin.items[demand]))
                .reduce(f64::min);
            whole.or_else(|| {
                let sides = bins.flat_map(|bin| bin.all_sides().map(move |it| (bin, it.0)));
                sides
                    .filter_map(|(bin, items)| width(bin, items[demand]))
                    .reduce(f64::min)
            })
        };
        demands.map(|it| least(it).unwrap_or(0.0)).collect()
    }
}
