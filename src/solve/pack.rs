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
//!
//! A board may also be parted into two first, in one of several ways, each side with a width
//! and yields of its own. The first round leaves boards whole and is short; the second
//! parts them and looks only for what costs less. So boards are parted where that saves
//! something, and the bound is that of the second round, which holds for both. Where some
//! demand goes into no board that is whole, there is only the second.

mod fullest;
mod master;
mod parted;
mod problem;
mod round;
mod tidy;

pub use problem::{Bin, Cuts, Item, Packed, Packing, Pattern, Problem, Side, Way};

use round::Round;

/// Whether some demand goes into no board that is left whole, but into one that is parted.
fn needs_parting(problem: &Problem) -> bool {
    let goes = |(items, capacity): (&[Item], u32), demand: usize| {
        items[demand].units > 0 && items[demand].size <= capacity
    };
    let whole = |bin: &Bin, demand: usize| goes((&bin.items, bin.capacity), demand);
    let parted = |bin: &Bin, demand: usize| bin.all_sides().any(|side| goes(side, demand));
    let bins = &problem.bins;
    (0..problem.demands.len()).any(|demand| {
        !bins.iter().any(|bin| whole(bin, demand)) && bins.iter().any(|bin| parted(bin, demand))
    })
}

/// The search. Create it, then call [`Search::step`] until it says that it is done.
pub struct Search {
    round: Round,
    /// What is to be packed with boards parted first, until that round begins.
    parted: Option<Problem>,
}

impl Search {
    /// Begins a search. Demands that no board can hold are left out.
    pub fn new(problem: Problem) -> Search {
        let is_never = problem.bins.iter().all(|bin| bin.parted.is_empty());
        if is_never || needs_parting(&problem) {
            return Search {
                round: Round::new(problem),
                parted: None,
            };
        }
        let mut whole = problem.clone();
        for bin in &mut whole.bins {
            bin.parted.clear();
        }
        Search {
            round: Round::new(whole).short(),
            parted: Some(problem),
        }
    }

    /// The best answer so far.
    pub fn best(&self) -> Option<&Packing> {
        self.round.best()
    }

    /// No answer costs less than this, boards beyond those at hand counted dearer; 0
    /// while it is not known.
    pub fn bound(&self) -> f64 {
        if self.parted.is_some() {
            return 0.0;
        }
        self.round.bound()
    }

    /// Whether no answer can be better by the least gain worth looking for.
    pub fn is_proven(&self) -> bool {
        self.parted.is_none() && self.round.is_proven()
    }

    /// Whether the search has ended.
    pub fn is_done(&self) -> bool {
        self.parted.is_none() && self.round.is_done()
    }

    /// Goes on for about so much work (a few million are some milliseconds), and says
    /// whether the search has ended.
    pub fn step(&mut self, work: u64) -> bool {
        let until = self.round.work().saturating_add(work);
        loop {
            self.round.go_on(until);
            if !self.round.is_done() {
                return false;
            }
            let Some(problem) = self.parted.take() else {
                return true;
            };
            self.round = Round::after(problem, &self.round);
        }
    }
}
