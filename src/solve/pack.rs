//! Packing strips into boards at the least cost, with a bound that says how near to
//! the least possible an answer is.
//!
//! Seen from a board's end the problem has one dimension: each board takes strips side
//! by side, as many as its width holds. A strip yields so many pieces, which may
//! differ from board to board; so many pieces are wanted of each kind. With one piece
//! a strip and one kind of board it is the classical cutting-stock problem.
//!
//! Method: column generation over patterns (Gilmore and Gomory, A linear programming
//! approach to the cutting-stock problem, 1961 and 1963; from memory). The linear
//! program's optimum is a lower bound. Answers come from first filling boards one by
//! one, then from diving: whole patterns of the linear solution are taken and the
//! rest is solved again. Where the bound leaves room, the number of boards of a kind
//! is branched on. All of it goes forward in small steps and is deterministic, so that
//! a page can show the best answer so far between steps.

/// A kind of board.
#[derive(Clone, Debug, PartialEq)]
pub struct Bin {
    /// What one costs, above 0.
    pub cost: f64,
    /// How many there are.
    pub number: u32,
    /// Width, in units of which sizes are multiples.
    pub capacity: u32,
    /// What an item of each demand takes of the width, and yields.
    pub items: Vec<Item>,
}

/// An item of a demand on one kind of board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// What it takes of the width, above 0.
    pub size: u32,
    /// Pieces that it yields; 0 when this board cannot hold it.
    pub units: u32,
}

/// What is to be packed.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Pieces wanted of each demand.
    pub demands: Vec<u32>,
    /// The kinds of boards.
    pub bins: Vec<Bin>,
    /// How much cheaper an answer must be to be worth looking for: nearly 1 when boards
    /// are counted.
    pub least_gain: f64,
}

/// Items of a board: a demand's place and how many items of it.
pub type Pattern = Vec<(usize, u32)>;

/// Boards cut alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed {
    /// Which kind.
    pub bin: usize,
    /// Whether they are more than there are, to be bought.
    pub is_extra: bool,
    /// What is cut from each.
    pub pattern: Pattern,
    /// How many.
    pub times: u32,
}

/// An answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Packing {
    /// The boards.
    pub boards: Vec<Packed>,
    /// What they cost, those to be bought beyond the number at hand not counted dearer.
    pub cost: f64,
    /// How many of them are extra.
    pub extra: u32,
}

/// Numbers closer than this are the same, costs being near 1.
const HAIR: f64 = 1e-9;

/// Partial patterns beyond this many are dropped: the pattern found is then good, but
/// not surely the best.
const MOST_PARTS: usize = 60_000;

/// Branches looked into.
const MOST_BRANCHES: u32 = 300;

/// Dives begun differently, and rounds of shaken fillings between them, after all else.
const MOST_TWISTS: u32 = 80;

/// Shaken fillings in a round.
const SHAKES: u32 = 20;

/// Patterns kept from one part of the search to the next.
const KEPT_COLUMNS: usize = 1_500;

/// Work after which the search rests on what it has.
const MOST_WORK: u64 = 1_000_000_000;

/// Where boards of a kind come from: so many at this cost. `None`: as many as wanted.
#[derive(Clone, Debug, PartialEq)]
struct Pool {
    bin: usize,
    cost: f64,
    limit: Option<u32>,
    is_extra: bool,
}

/// Each kind has three pools: those that must be taken, those that may be, and those
/// to be bought.
const POOLS: usize = 3;
const AT_HAND: usize = 1;
const TO_BUY: usize = 2;

/// A pattern on a kind of board.
#[derive(Clone, Debug, PartialEq)]
struct Column {
    bin: usize,
    pattern: Pattern,
}

/// What is still to be packed, and what was decided so far.
#[derive(Clone, Debug)]
struct Node {
    left: Vec<u32>,
    pools: Vec<Pool>,
    taken: Vec<(usize, usize, u32)>,
    spent: f64,
}

/// A part of the search: least and most boards of each kind.
#[derive(Clone, Debug)]
struct Branch {
    least: Vec<u32>,
    most: Vec<u32>,
    bound: f64,
}

/// What the search is at.
enum Task {
    /// Filling boards one by one, in the so-manieth way.
    Fill(u32, Filling),
    /// Filling them in a shaken order.
    Shake(u32, Filling),
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

/// The search. Create it, then call [`Search::step`] until it says that it is done.
pub struct Search {
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
}

impl Search {
    /// Begins a search. Demands that no board can hold are left out.
    pub fn new(mut problem: Problem) -> Search {
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
        let mut search = Search {
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
        };
        if is_empty {
            search.best = Some((0.0, Packing::default()));
            search.task = Task::Done;
        } else if let Some(filling) = search.begin_filling(0) {
            search.task = Task::Fill(0, filling);
            // The first answer is cheap: it is there from the beginning.
            while matches!(search.task, Task::Fill(0, _)) {
                search.advance();
            }
        }
        search
    }

    /// The best answer so far.
    pub fn best(&self) -> Option<&Packing> {
        self.best.as_ref().map(|(_, packing)| packing)
    }

    /// No answer costs less than this, boards beyond those at hand counted dearer; 0
    /// while it is not known.
    pub fn bound(&self) -> f64 {
        self.bound
    }

    /// Whether no answer can be better by the least gain worth looking for.
    pub fn is_proven(&self) -> bool {
        self.best
            .as_ref()
            .is_some_and(|(cost, _)| self.bound > cost - self.problem.least_gain)
    }

    /// Whether the search has ended.
    pub fn is_done(&self) -> bool {
        matches!(self.task, Task::Done)
    }

    /// Goes on for about so much work (a few million are some milliseconds), and says
    /// whether the search has ended.
    pub fn step(&mut self, work: u64) -> bool {
        let until = self.work.saturating_add(work);
        while !self.is_done() && self.work < until {
            self.advance();
        }
        self.is_done()
    }

    /// What an answer must cost less than, to be one.
    fn to_beat(&self) -> f64 {
        self.best.as_ref().map_or(f64::INFINITY, |(cost, _)| *cost)
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
            Task::Choose => self.choose(),
            Task::Bound(branch, node, master) => self.go_on_bounding(branch, node, master),
            Task::Dive(node, master, depth) => self.go_on_diving(node, master, depth),
            Task::Done => Task::Done,
        };
    }

    /// What to look at next.
    fn choose(&mut self) -> Task {
        self.settle_bound();
        let to_beat = self.to_beat() - self.problem.least_gain;
        self.open.retain(|branch| branch.bound <= to_beat);
        if self.is_proven() || self.work > MOST_WORK {
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
        let state = master.advance(&self.problem, &node, &mut self.columns, &mut self.work);
        match state {
            Progress::Moved => return Task::Bound(branch, node, master),
            Progress::Lost => {
                self.stuck_bound = self.stuck_bound.min(branch.bound);
                return Task::Choose;
            }
            Progress::Solved => {}
        }
        let value = if master.is_exact {
            node.spent + master.bound(&node)
        } else {
            branch.bound
        };
        let bound = value.max(branch.bound);
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
        match master.advance(&self.problem, &node, &mut self.columns, &mut self.work) {
            Progress::Moved => return Task::Dive(node, master, depth),
            Progress::Lost => return Task::Choose,
            Progress::Solved => {}
        }
        if master.is_exact && node.spent + master.bound(&node) > self.to_beat() - HAIR {
            return Task::Choose;
        }
        // A dive begun differently takes another pattern at one place.
        let astray = if self.twist > 0 && depth == self.twist / 8 {
            1 + (self.twist / 2) as usize % 4
        } else {
            0
        };
        let fixed = master.take(&self.problem, &mut node, &self.columns, astray);
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
            pattern: self.columns[column].pattern.clone(),
            times,
        });
        self.offer_boards(boards.collect());
    }

    fn offer_boards(&mut self, mut boards: Vec<Packed>) {
        trim(&self.problem, &mut boards);
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
        let bin = &self.problem.bins[packed.bin];
        packed.times = repeats(bin, &packed.pattern, &filling.left);
        if !packed.is_extra {
            let free = &mut filling.free[packed.bin];
            packed.times = packed.times.min(*free);
            *free -= packed.times;
        }
        cover(bin, &packed.pattern, packed.times, &mut filling.left);
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
        let (value, pattern) = if filling.is_largest_first {
            largest_first(bin, &filling.left, &filling.worth, &mut self.work)
        } else {
            fullest(bin, &filling.left, &filling.worth, 0.0, &mut self.work).best
        };
        let is_extra = filling.free[place] == 0;
        let dear = if is_extra { self.extra_cost } else { 0.0 };
        let gain = value / (bin.cost + dear);
        let is_better = filling.found.as_ref().is_none_or(|(best, _)| gain > *best);
        if is_better && !pattern.is_empty() {
            let packed = Packed {
                bin: place,
                is_extra,
                pattern,
                times: 1,
            };
            filling.found = Some((gain, packed));
        }
    }

    /// What a piece of each demand is worth: the width that it takes where it takes least.
    fn worth_by_size(&self, bent: f64) -> Vec<f64> {
        let demands = 0..self.problem.demands.len();
        let width = |demand: usize| {
            let each = self.problem.bins.iter().filter_map(|bin| {
                let item = bin.items[demand];
                (item.units > 0).then(|| {
                    let share = f64::from(item.size) / f64::from(bin.capacity);
                    share.powf(bent) / f64::from(item.units)
                })
            });
            each.fold(f64::INFINITY, f64::min)
        };
        demands
            .map(width)
            .map(|it| if it.is_finite() { it } else { 0.0 })
            .collect()
    }
}

/// Drops what no board holds, and counts in strips instead of pieces where that says
/// the same: 12 pieces at 8 a strip are simply 2 strips. The linear bound is then
/// nearer. It says the same when no set of strips that reaches the one number misses
/// the other, nor the other way round.
fn simplify(problem: &mut Problem, demand: usize) {
    let wanted = problem.demands[demand];
    let mut yields: Vec<u32> = Vec::new();
    for bin in &mut problem.bins {
        let item = &mut bin.items[demand];
        if item.size > bin.capacity || item.size == 0 {
            item.units = 0;
        }
        item.units = item.units.min(wanted);
        if item.units > 0 {
            yields.push(item.units);
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
            for bin in &mut problem.bins {
                let item = &mut bin.items[demand];
                item.units = in_strips(item.units);
            }
            return;
        }
    }
}

fn says_the_same(yields: &[u32], wanted: u32, strips: u32, in_strips: &dyn Fn(u32) -> u32) -> bool {
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

/// How often a pattern can be repeated without spare pieces; once at least.
fn repeats(bin: &Bin, pattern: &Pattern, left: &[u32]) -> u32 {
    let each = pattern
        .iter()
        .map(|&(demand, count)| left[demand] / (count * bin.items[demand].units).max(1));
    each.min().unwrap_or(1).max(1)
}

/// Takes what a pattern yields off what is left.
fn cover(bin: &Bin, pattern: &Pattern, times: u32, left: &mut [u32]) {
    for &(demand, count) in pattern {
        let units = u64::from(count) * u64::from(bin.items[demand].units) * u64::from(times);
        left[demand] = u64::from(left[demand]).saturating_sub(units) as u32;
    }
}

/// Takes out strips that are not needed, and boards that are left with none.
fn trim(problem: &Problem, boards: &mut Vec<Packed>) {
    let mut spare: Vec<i64> = problem.demands.iter().map(|&it| -i64::from(it)).collect();
    let units_of =
        |packed: &Packed, demand: usize| i64::from(problem.bins[packed.bin].items[demand].units);
    for packed in boards.iter() {
        for &(demand, count) in &packed.pattern {
            spare[demand] += units_of(packed, demand) * i64::from(count) * i64::from(packed.times);
        }
    }
    let mut trimmed: Vec<Packed> = Vec::new();
    for packed in boards.drain(..).rev() {
        let mut whole = packed.clone();
        for _ in 0..packed.times {
            let mut one = Packed {
                times: 1,
                ..packed.clone()
            };
            for (demand, count) in &mut one.pattern {
                let units = units_of(&packed, *demand);
                while *count > 0 && spare[*demand] >= units {
                    *count -= 1;
                    spare[*demand] -= units;
                }
            }
            if one.pattern == packed.pattern {
                break;
            }
            whole.times -= 1;
            one.pattern.retain(|(_, count)| *count > 0);
            if !one.pattern.is_empty() {
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

/// Boards are taken from those at hand first.
fn settle_extra(problem: &Problem, boards: &mut Vec<Packed>) {
    let mut free: Vec<u32> = problem.bins.iter().map(|bin| bin.number).collect();
    let mut settled = Vec::with_capacity(boards.len());
    for packed in boards.drain(..) {
        let at_hand = packed.times.min(free[packed.bin]);
        free[packed.bin] -= at_hand;
        for (times, is_extra) in [(at_hand, false), (packed.times - at_hand, true)] {
            if times > 0 {
                let pattern = packed.pattern.clone();
                settled.push(Packed {
                    is_extra,
                    pattern,
                    times,
                    ..packed
                });
            }
        }
    }
    *boards = settled;
}

/// The largest strips first, as many of each as go in.
fn largest_first(bin: &Bin, left: &[u32], worth: &[f64], work: &mut u64) -> (f64, Pattern) {
    let sizes: Vec<f64> = bin.items.iter().map(|it| f64::from(it.size)).collect();
    let order = order_by(&sizes).into_iter();
    let order = order.filter(|&demand| left[demand] > 0 && bin.items[demand].units > 0);
    *work += 4 * left.len() as u64;
    let (mut free, mut value, mut pattern) = (bin.capacity, 0.0, Pattern::new());
    for demand in order {
        let item = bin.items[demand];
        let count = (free / item.size).min(left[demand].div_ceil(item.units));
        if count > 0 {
            free -= count * item.size;
            value += f64::from((count * item.units).min(left[demand])) * worth[demand];
            pattern.push((demand, count));
        }
    }
    (value, pattern)
}

/// The places of the largest key, the next largest and so on; equal ones stay in order.
/// One sorting for all that is sorted here and in [`crate::plan::board`]: each other kind would
/// weigh some kilobytes in the page.
pub(crate) fn order_by(keys: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..keys.len()).collect();
    order.sort_by(|&a, &b| keys[b].total_cmp(&keys[a]));
    order
}

/// The most valuable pattern of a board.
struct Fullest {
    /// Its value and items; empty when none is worth more than what was asked for.
    best: (f64, Pattern),
    /// Whether nothing was dropped on the way.
    is_exact: bool,
}

/// Some items of a demand, taken all or none.
#[derive(Clone, Copy)]
struct Bundle {
    demand: usize,
    count: u32,
    size: u32,
    value: f64,
}

/// A partial pattern.
#[derive(Clone, Copy)]
struct Part {
    size: u32,
    value: f64,
    trace: usize,
}

/// Splits what a board may take of each demand into bundles, densest in value first.
fn bundles(bin: &Bin, left: &[u32], worth: &[f64]) -> Vec<Bundle> {
    let mut bundles = Vec::new();
    for (demand, item) in bin.items.iter().enumerate() {
        if left[demand] == 0 || item.units == 0 || worth[demand] <= HAIR {
            continue;
        }
        let room = bin.capacity / item.size;
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
    let order = order_by(&densities.collect::<Vec<f64>>());
    order.into_iter().map(|place| bundles[place]).collect()
}

/// Finds the most valuable pattern worth more than `floor`: partial patterns by size,
/// each worth more than all smaller ones, those left out that cannot reach the best
/// even when their room is filled with fractions of the densest bundles.
fn fullest(bin: &Bin, left: &[u32], worth: &[f64], floor: f64, work: &mut u64) -> Fullest {
    let bundles = bundles(bin, left, worth);
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
            let grown = grown.filter(|&size| size <= bin.capacity);
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
            let room = u64::from(bin.capacity - part.size) + sums[place + 1].0;
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
            thin_out(&mut merged, bundles.get(place + 1), bin.capacity);
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
fn thin_out(parts: &mut Vec<Part>, next: Option<&Bundle>, capacity: u32) {
    let density = next.map_or(0.0, |it| it.value / f64::from(it.size));
    let promise = |part: &Part| part.value + f64::from(capacity - part.size) * density;
    let mean = parts.iter().map(promise).sum::<f64>() / parts.len() as f64;
    parts.retain(|part| promise(part) > mean);
}

/// Where a linear program stands.
enum Progress {
    Moved,
    Solved,
    /// Rounding got the better of it, or it took too long.
    Lost,
}

/// A variable of the linear program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Variable {
    /// So many boards of a pattern from a pool.
    Boards { column: usize, pool: usize },
    /// Spare pieces of a demand's row, or boards left in a pool's row.
    Slack(usize),
}

/// The linear program over the patterns known so far: every demand covered, no pool
/// overdrawn, at the least cost. A simplex method with the inverse of its basis.
struct Master {
    /// The demand of each of the first rows; the pool of each of the others.
    demands: Vec<usize>,
    pools: Vec<usize>,
    /// Row of a demand or pool.
    row_of_demand: Vec<Option<usize>>,
    row_of_pool: Vec<Option<usize>>,
    basis: Vec<Variable>,
    inverse: Vec<f64>,
    level: Vec<f64>,
    prices: Vec<f64>,
    moves: u32,
    /// Which kind of board is looked at next for a new pattern, and how many in turn had none.
    next_bin: usize,
    barren: usize,
    is_exact: bool,
}

impl Master {
    /// Begins with boards to be bought, each full of one demand: always possible.
    fn new(problem: &Problem, node: &Node, columns: &mut Vec<Column>) -> Master {
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
            next_bin: 0,
            barren: 0,
            is_exact: true,
            demands,
            pools,
        };
        let rows = master.rows();
        master.inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            let (variable, scale) = if let Some(&demand) = master.demands.get(row) {
                master.row_of_demand[demand] = Some(row);
                let (column, pool) = single(problem, node, columns, demand);
                let covers = covered(problem, &columns[column], node, 0);
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

    fn rows(&self) -> usize {
        self.demands.len() + self.pools.len()
    }

    /// The right-hand side. Slightly more than is wanted keeps many equal steps apart;
    /// the bound is taken with the true numbers.
    fn needs(&self, node: &Node, apart: bool) -> Vec<f64> {
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

    fn times_inverse(&self, column: &[f64]) -> Vec<f64> {
        let rows = self.rows();
        let dot = |row: &[f64]| row.iter().zip(column).map(|(a, b)| a * b).sum();
        self.inverse.chunks_exact(rows.max(1)).map(dot).collect()
    }

    /// By the dual prices: no solution costs less.
    fn bound(&self, node: &Node) -> f64 {
        let needs = self.needs(node, false);
        needs
            .iter()
            .zip(&self.prices)
            .map(|(need, price)| need * price)
            .sum()
    }

    /// Prices of the rows: costs of the basis times its inverse.
    fn set_prices(&mut self, node: &Node) {
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

    /// One exchange in the basis, or a round of new patterns.
    fn advance(
        &mut self,
        problem: &Problem,
        node: &Node,
        columns: &mut Vec<Column>,
        work: &mut u64,
    ) -> Progress {
        let rows = self.rows();
        *work += 2 * (rows * rows) as u64 + 8 * columns.len() as u64 + 50;
        self.moves += 1;
        if self.moves > 40_000 {
            return Progress::Lost;
        }
        if self.moves.is_multiple_of(200) {
            *work += (rows * rows * rows) as u64;
            if !self.invert(problem, node, columns) {
                return Progress::Lost;
            }
        }
        self.set_prices(node);
        // While kinds of boards are looked through in vain, nothing else has changed.
        let entering = if self.barren > 0 {
            None
        } else {
            self.entering(problem, node, columns)
        };
        let Some(entering) = entering else {
            return self.look_for_pattern(problem, node, columns, work);
        };
        if self.exchange(problem, node, columns, entering) {
            Progress::Moved
        } else {
            Progress::Lost
        }
    }

    /// The variable that promises most, if any does.
    fn entering(&self, problem: &Problem, node: &Node, columns: &[Column]) -> Option<Variable> {
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
            let Some(value) = self.value(problem, node, column) else {
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
    fn pool_prices<'a>(
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

    /// What a pattern covers, in prices; none when it has spare strips.
    fn value(&self, problem: &Problem, node: &Node, column: &Column) -> Option<f64> {
        let mut value = 0.0;
        for (item, &(demand, count)) in column.pattern.iter().enumerate() {
            let units = problem.bins[column.bin].items[demand].units;
            if (count - 1) * units >= node.left[demand] {
                return None;
            }
            value +=
                covered(problem, column, node, item) * self.prices[self.row_of_demand[demand]?];
        }
        Some(value)
    }

    /// The price of a piece of each demand.
    fn worth(&self, demand_count: usize) -> Vec<f64> {
        let mut worth = vec![0.0; demand_count];
        for (row, &demand) in self.demands.iter().enumerate() {
            worth[demand] = self.prices[row];
        }
        worth
    }

    /// Looks for a pattern that would pay on the next kind of board, and adds it. Solved
    /// when every kind was looked at in turn and none had one.
    fn look_for_pattern(
        &mut self,
        problem: &Problem,
        node: &Node,
        columns: &mut Vec<Column>,
        work: &mut u64,
    ) -> Progress {
        let place = self.next_bin;
        self.next_bin = (place + 1) % problem.bins.len();
        let prices = self.pool_prices(node, place).map(|(_, price)| price);
        let price = prices.fold(f64::INFINITY, f64::min);
        let worth = self.worth(node.left.len());
        let found = fullest(&problem.bins[place], &node.left, &worth, price + 2e-8, work);
        let (_, pattern) = found.best;
        if pattern.is_empty() {
            self.barren += 1;
            self.is_exact &= found.is_exact;
        } else {
            columns.push(Column {
                bin: place,
                pattern,
            });
            self.barren = 0;
            self.is_exact = true;
        }
        if self.barren < problem.bins.len() {
            Progress::Moved
        } else {
            Progress::Solved
        }
    }

    /// The rows that a variable fills.
    fn column_of(
        &self,
        problem: &Problem,
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
                let column = &columns[column];
                for (item, &(demand, _)) in column.pattern.iter().enumerate() {
                    if let Some(row) = self.row_of_demand[demand] {
                        filled[row] = covered(problem, column, node, item);
                    }
                }
                if let Some(row) = self.row_of_pool[pool] {
                    filled[row] = 1.0;
                }
            }
        }
        filled
    }

    fn exchange(
        &mut self,
        problem: &Problem,
        node: &Node,
        columns: &[Column],
        entering: Variable,
    ) -> bool {
        let rows = self.rows();
        let step = self.times_inverse(&self.column_of(problem, node, columns, entering));
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
    fn invert(&mut self, problem: &Problem, node: &Node, columns: &[Column]) -> bool {
        let rows = self.rows();
        let mut from = vec![0.0; rows * rows];
        for (place, &variable) in self.basis.iter().enumerate() {
            for (row, each) in self
                .column_of(problem, node, columns, variable)
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
    fn boards_taken(&self, branch: &Branch, node: &Node) -> Vec<f64> {
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
    fn take(&self, problem: &Problem, node: &mut Node, columns: &[Column], astray: usize) -> bool {
        let mut wanted: Vec<(f64, usize, usize)> = Vec::new();
        for (variable, &level) in self.basis.iter().zip(&self.level) {
            if let Variable::Boards { column, pool } = *variable
                && level > 1e-5
            {
                wanted.push((level, column, pool));
            }
        }
        let levels: Vec<f64> = wanted.iter().map(|(level, _, _)| *level).collect();
        let order = order_by(&levels).into_iter();
        let wanted: Vec<_> = order.map(|place| wanted[place]).collect();
        let mut any = false;
        if astray == 0 {
            for &(level, column, pool) in &wanted {
                // Nearly whole is whole, once nothing is really whole.
                let times = (level + 1e-5).floor() as u32;
                any |= Self::take_boards(problem, node, columns, (column, pool), times);
            }
            for &(level, column, pool) in &wanted {
                if !any || (level.fract() > 0.9 && level < 1.0) {
                    any |= Self::take_boards(problem, node, columns, (column, pool), 1);
                }
            }
            return any;
        }
        let (_, column, pool) = wanted[astray.min(wanted.len() - 1)];
        Self::take_boards(problem, node, columns, (column, pool), 1)
    }

    fn take_boards(
        problem: &Problem,
        node: &mut Node,
        columns: &[Column],
        (column, pool): (usize, usize),
        times: u32,
    ) -> bool {
        let from = &columns[column];
        let bin = &problem.bins[from.bin];
        let mut taken = 0;
        while taken < times {
            if node.pools[pool].limit == Some(0) || !is_used(bin, &from.pattern, &node.left) {
                break;
            }
            // Many at once while nothing is spare.
            let mut now = repeats(bin, &from.pattern, &node.left).min(times - taken);
            if let Some(limit) = &mut node.pools[pool].limit {
                now = now.min(*limit);
                *limit -= now;
            }
            cover(bin, &from.pattern, now, &mut node.left);
            node.spent += node.pools[pool].cost * f64::from(now);
            node.taken.push((column, pool, now));
            taken += now;
        }
        taken > 0
    }
}

/// Whether every strip of a pattern is still needed.
fn is_used(bin: &Bin, pattern: &Pattern, left: &[u32]) -> bool {
    pattern
        .iter()
        .all(|&(demand, count)| (count - 1) * bin.items[demand].units < left[demand])
}

/// Pieces of what is left that the pattern's item covers: spare ones do not count.
fn covered(problem: &Problem, column: &Column, node: &Node, item: usize) -> f64 {
    let (demand, count) = column.pattern[item];
    let units = problem.bins[column.bin].items[demand].units;
    f64::from((count * units).min(node.left[demand]))
}

/// A board to be bought that is filled with one demand: the kind on which it is cheapest.
fn single(
    problem: &Problem,
    node: &Node,
    columns: &mut Vec<Column>,
    demand: usize,
) -> (usize, usize) {
    let mut best: (f64, usize, u32) = (f64::INFINITY, 0, 1);
    for (place, bin) in problem.bins.iter().enumerate() {
        let item = bin.items[demand];
        if item.units == 0 {
            continue;
        }
        let count = (bin.capacity / item.size).min(node.left[demand].div_ceil(item.units));
        let covers = f64::from((count * item.units).min(node.left[demand]));
        let cost = node.pools[POOLS * place + TO_BUY].cost / covers;
        if cost < best.0 {
            best = (cost, place, count);
        }
    }
    let (_, bin, count) = best;
    let pattern = vec![(demand, count)];
    let known = columns
        .iter()
        .position(|column| column.bin == bin && column.pattern == pattern);
    let column = known.unwrap_or_else(|| {
        columns.push(Column { bin, pattern });
        columns.len() - 1
    });
    (column, POOLS * bin + TO_BUY)
}
