//! In which order tasks are done by one pair of hands, in sessions that come once a day, so
//! that all is done as early as can be: on the earliest last session that there is, and of
//! those that end there at the earliest minute of it.
//!
//! A task takes its hands-on minutes in one go within one session. It begins when every task
//! that it needs is done and the wait after that is over; waits run on between sessions. One
//! machine is in some tasks' use, and some keep it for a while after. A task longer than a
//! session stands in one of its own, from its beginning.
//!
//! The earliest that a task can begin after another never gets earlier when the other ends
//! later; so of one order of the tasks, doing each as early as it can be is best, and the
//! plan is a search over orders alone. Of up to [`FEW`] tasks it is exact; of more it is the
//! best of a few rules. Minutes are whole, from the beginning of the first session.

use std::collections::HashMap;

/// Of so many tasks no order is done earlier than the one that is found.
pub const FEW: usize = 10;

/// A task that must be done before another, and how long the other waits after it, minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// The task's place.
    pub task: usize,
    /// From its end.
    pub wait_min: u32,
}

/// A task.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// How long the hands are at it; at least 1.
    pub hands_min: u32,
    /// The tasks that it needs; each stands before it in the list.
    pub needs: Vec<Need>,
    /// It begins no sooner.
    pub ready_min: u32,
    /// Whether it takes the machine.
    pub on_machine: bool,
    /// How long it keeps the machine after its end.
    pub keeps_min: u32,
}

/// When there is time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sessions {
    /// How long one is.
    pub length_min: u32,
    /// From the beginning of one to the next; no shorter than one.
    pub every_min: u32,
    /// How long the machine is kept by what was done before.
    pub kept_min: u32,
}

/// When a task is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Its place in the list.
    pub task: usize,
    /// In which session, from 0 on.
    pub session: u32,
    /// When it begins.
    pub start_min: u32,
    /// When it ends.
    pub end_min: u32,
}

/// What is done so far.
#[derive(Clone, Debug)]
struct So {
    /// The hands are free from here on.
    now_min: u32,
    /// The machine is, too.
    machine_min: u32,
    /// From when on each task that is not done yet may begin, for what it needs.
    free_min: Vec<u32>,
    /// What was done, in its order.
    done: Vec<Placed>,
}

impl So {
    fn begun(tasks: &[Task], sessions: &Sessions) -> So {
        So {
            now_min: 0,
            machine_min: sessions.kept_min,
            free_min: tasks.iter().map(|task| task.ready_min).collect(),
            done: Vec::with_capacity(tasks.len()),
        }
    }

    /// Where a task goes if it comes next.
    fn next(&self, at: usize, tasks: &[Task], sessions: &Sessions) -> Placed {
        let task = &tasks[at];
        let hands_min = task.hands_min.max(1);
        let mut start_min = self.now_min.max(self.free_min[at]);
        if task.on_machine {
            start_min = start_min.max(self.machine_min);
        }
        let every_min = sessions.every_min.max(1);
        let mut session = start_min / every_min;
        let in_session_min = start_min - session * every_min;
        // What is longer than a session begins with one.
        let fits_min = sessions.length_min.saturating_sub(hands_min);
        if in_session_min > fits_min {
            session = session.saturating_add(1);
            start_min = session.saturating_mul(every_min);
        }
        Placed {
            task: at,
            session,
            start_min,
            end_min: start_min.saturating_add(hands_min),
        }
    }

    /// Does it.
    fn does(&mut self, placed: Placed, tasks: &[Task], by: &[Need], sessions: &Sessions) {
        let task = &tasks[placed.task];
        let every_min = sessions.every_min.max(1);
        let is_alone = task.hands_min > sessions.length_min;
        self.now_min = if is_alone {
            placed.end_min.div_ceil(every_min).saturating_mul(every_min)
        } else {
            placed.end_min
        };
        if task.on_machine || task.keeps_min > 0 {
            let kept_min = placed.end_min.saturating_add(task.keeps_min);
            self.machine_min = self.machine_min.max(kept_min);
        }
        for need in by {
            let free_min = placed.end_min.saturating_add(need.wait_min);
            self.free_min[need.task] = self.free_min[need.task].max(free_min);
        }
        self.done.push(placed);
    }
}

/// Which tasks need each, with the wait after it.
fn needed_by(tasks: &[Task]) -> Vec<Vec<Need>> {
    let mut by = vec![Vec::new(); tasks.len()];
    for (at, task) in tasks.iter().enumerate() {
        for need in task.needs.iter().filter(|need| need.task < at) {
            by[need.task].push(Need {
                task: at,
                wait_min: need.wait_min,
            });
        }
    }
    by
}

/// When all is done; 0 for nothing.
pub fn end_min(plan: &[Placed]) -> u32 {
    plan.iter().map(|it| it.end_min).max().unwrap_or(0)
}

/// Plans the tasks, in the order in which they are done.
pub fn planned(tasks: &[Task], sessions: &Sessions) -> Vec<Placed> {
    let by = needed_by(tasks);
    let mut best = as_they_stand(tasks, &by, sessions);
    for rank in ranks(tasks, &by, sessions) {
        let plan = by_rank(&rank, tasks, &by, sessions);
        if end_min(&plan) < end_min(&best) {
            best = plan;
        }
    }
    if tasks.len() <= FEW {
        let exact = of_few(tasks, &by, sessions);
        if end_min(&exact) < end_min(&best) {
            best = exact;
        }
    }
    best
}

/// One after the other as they stand in the list.
fn as_they_stand(tasks: &[Task], by: &[Vec<Need>], sessions: &Sessions) -> Vec<Placed> {
    let mut so = So::begun(tasks, sessions);
    for (at, by) in by.iter().enumerate() {
        so.does(so.next(at, tasks, sessions), tasks, by, sessions);
    }
    so.done
}

/// What goes first of tasks that can begin alike early, by a few rules; the higher goes first.
fn ranks(tasks: &[Task], by: &[Vec<Need>], sessions: &Sessions) -> Vec<Vec<u32>> {
    let count = tasks.len();
    // The longest way from a task's beginning to the end of all, by how long a wait counts.
    let tails = |counted: &dyn Fn(u32) -> u32| {
        let mut tails = vec![0_u32; count];
        for at in (0..count).rev() {
            let after = by[at].iter();
            let after = after.map(|it| counted(it.wait_min).saturating_add(tails[it.task]));
            tails[at] = tasks[at].hands_min.saturating_add(after.max().unwrap_or(0));
        }
        tails
    };
    let every_min = sessions.every_min.max(1);
    // What is not over within a session is over in a later one.
    let nights = |wait_min: u32| {
        if wait_min < sessions.length_min {
            wait_min
        } else {
            wait_min.div_ceil(every_min).saturating_mul(every_min)
        }
    };
    let listed = (0..count as u32).rev().collect();
    vec![listed, tails(&nights), tails(&|wait_min| wait_min)]
}

/// Always the one that can begin first, of several the one that ranks highest.
fn by_rank(rank: &[u32], tasks: &[Task], by: &[Vec<Need>], sessions: &Sessions) -> Vec<Placed> {
    let mut so = So::begun(tasks, sessions);
    let mut missing: Vec<usize> = vec![0; tasks.len()];
    for need in by.iter().flatten() {
        missing[need.task] += 1;
    }
    let mut open: Vec<usize> = (0..tasks.len()).filter(|at| missing[*at] == 0).collect();
    loop {
        let places = open.iter().enumerate();
        let places = places.map(|(place, at)| (so.next(*at, tasks, sessions), place));
        let first = places.min_by_key(|(it, _)| (it.start_min, u32::MAX - rank[it.task], it.task));
        let Some((placed, place)) = first else {
            return so.done;
        };
        open.swap_remove(place);
        so.does(placed, tasks, &by[placed.task], sessions);
        for need in &by[placed.task] {
            missing[need.task] -= 1;
            if missing[need.task] == 0 {
                open.push(need.task);
            }
        }
    }
}

/// The best of all orders: of two ways to the same tasks the one that leaves nothing earlier
/// than the other need not be gone on with.
fn of_few(tasks: &[Task], by: &[Vec<Need>], sessions: &Sessions) -> Vec<Placed> {
    let mut ways: Vec<(u32, So)> = vec![(0, So::begun(tasks, sessions))];
    for _ in tasks {
        let mut next: HashMap<u32, Vec<So>> = HashMap::new();
        for (done, so) in &ways {
            for at in (0..tasks.len()).filter(|at| done & (1 << at) == 0) {
                let mut needs = tasks[at].needs.iter().filter(|need| need.task < at);
                if needs.any(|need| done & (1 << need.task) == 0) {
                    continue;
                }
                let mut so = so.clone();
                so.does(so.next(at, tasks, sessions), tasks, &by[at], sessions);
                let done = done | 1 << at;
                offer(next.entry(done).or_default(), so, done);
            }
        }
        // A map hands them out in any order.
        let mut sorted: Vec<(u32, Vec<So>)> = next.into_iter().collect();
        sorted.sort_by_key(|it| it.0);
        let flat = sorted.into_iter();
        ways = flat
            .flat_map(|(done, ways)| ways.into_iter().map(move |so| (done, so)))
            .collect();
    }
    let plans = ways.into_iter().map(|it| it.1.done);
    plans.min_by_key(|plan| end_min(plan)).unwrap_or_default()
}

/// Keeps a way among others to the same tasks, unless one of them leaves all as early.
fn offer(known: &mut Vec<So>, so: So, done: u32) {
    let is_as_early = |one: &So, other: &So| {
        let mut left = (0..one.free_min.len()).filter(|at| done & (1 << at) == 0);
        one.now_min <= other.now_min
            && one.machine_min <= other.machine_min
            && end_min(&one.done) <= end_min(&other.done)
            && left.all(|at| one.free_min[at] <= other.free_min[at])
    };
    if known.iter().any(|it| is_as_early(it, &so)) {
        return;
    }
    known.retain(|it| !is_as_early(&so, it));
    known.push(so);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(hands_min: u32, needs: &[(usize, u32)]) -> Task {
        let need = |(task, wait_min): &(usize, u32)| Need {
            task: *task,
            wait_min: *wait_min,
        };
        Task {
            hands_min,
            needs: needs.iter().map(need).collect(),
            ready_min: 0,
            on_machine: false,
            keeps_min: 0,
        }
    }

    const TWO_HOURS: Sessions = Sessions {
        length_min: 120,
        every_min: 1440,
        kept_min: 0,
    };

    fn starts(plan: &[Placed]) -> Vec<(usize, u32)> {
        plan.iter().map(|it| (it.task, it.start_min)).collect()
    }

    #[test]
    fn what_must_set_goes_first_and_other_work_fills_the_wait() {
        let tasks = [task(30, &[]), task(10, &[]), task(20, &[(1, 30)])];
        let plan = planned(&tasks, &TWO_HOURS);
        assert_eq!(starts(&plan), [(1, 0), (0, 10), (2, 40)]);
    }

    #[test]
    fn what_is_longer_than_a_session_stands_alone() {
        let tasks = [task(10, &[]), task(200, &[]), task(10, &[(1, 0)])];
        let plan = planned(&tasks, &TWO_HOURS);
        assert_eq!(starts(&plan), [(1, 0), (0, 1440), (2, 1450)]);
    }

    #[test]
    fn nothing_to_do_is_no_session() {
        assert_eq!(planned(&[], &TWO_HOURS), []);
    }
}
