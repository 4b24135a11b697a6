//! Which steps must be done before which: two steps that handle the same piece, or what is
//! glued to it by then, keep the order in which they stand; others may change places.
//! `tests/bench.rs` shuffles orders of work as far as this lets it, and has them replayed.

use super::facts::{Block, Fact, Piece};
use super::step::{BaseIs, BaseWork, Order, Step, Work};
use crate::plan::bill::Part;
use std::collections::HashMap;

/// What each step needs, by its place among the steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Needs {
    /// The steps that must be done right before each, from the first on.
    pub direct: Vec<Vec<usize>>,
    /// Whether a step needs another, by whatever way round.
    all: Vec<Vec<bool>>,
}

impl Needs {
    /// What the steps of an order of work need.
    pub fn of(order: &Order) -> Needs {
        let mut shop = Shop {
            body: HashMap::new(),
            last: HashMap::new(),
        };
        let (mut direct, mut all) = (Vec::new(), Vec::<Vec<bool>>::new());
        for (place, step) in order.steps.iter().enumerate() {
            let mut own = wood(order, place, step);
            own.extend(shop.does(place, step));
            own.sort_unstable();
            own.dedup();
            let mut needed = vec![false; place];
            for &before in &own {
                needed[before] = true;
                for (is_needed, is_too) in needed.iter_mut().zip(&all[before]) {
                    *is_needed |= is_too;
                }
            }
            direct.push(own);
            all.push(needed);
        }
        Needs { direct, all }
    }

    /// Whether a step needs another to be done before it.
    pub fn is_needed(&self, before: usize, by: usize) -> bool {
        let needed = self.all.get(by).and_then(|all| all.get(before));
        needed.copied().unwrap_or(false)
    }

    /// Which steps are done: those ticked, and what they could not have been done without.
    pub fn done(&self, ticked: &[bool]) -> Vec<bool> {
        let is_done = |place: usize| {
            let mut later = (place + 1..ticked.len()).filter(|by| ticked[*by]);
            ticked[place] || later.any(|by| self.is_needed(place, by))
        };
        (0..ticked.len()).map(is_done).collect()
    }
}

/// The steps in which the wood of a step is taken from its boards.
fn wood(order: &Order, place: usize, step: &Step) -> Vec<usize> {
    let part = match step.work {
        Work::Rip(_) | Work::Edges(_) => None,
        Work::Stripes | Work::Cut => Some(Part::Ring(step.rings.start)),
        Work::Base(BaseWork::Saw) if order.base_is == BaseIs::Ring => Some(Part::Ring(0)),
        Work::Base(BaseWork::Saw) => Some(Part::Base),
        Work::Strips(set) | Work::Inlay(set) => Some(Part::Slots(set)),
        _ => return Vec::new(),
    };
    let is_of_it = |before: &Step| match (&before.work, part) {
        (Work::Boards, _) => true,
        (Work::Rip(group), None) => step.work == Work::Edges(*group),
        (Work::Rip(group) | Work::Edges(group), Some(part)) => {
            let group = order.rips.get(*group).into_iter().flatten();
            group
                .flat_map(|cut| &cut.parts)
                .any(|(of, _)| *of == part || (part == Part::Ring(0) && *of == Part::Base))
        }
        (Work::Strips(set), Some(Part::Slots(of))) => *set == of,
        _ => false,
    };
    let before = order.steps[..place].iter().enumerate();
    let before = before.filter(|(_, it)| is_of_it(it));
    before.map(|(place, _)| place).collect()
}

/// What is glued to what, and which step had each piece in hand last.
struct Shop {
    /// Pieces that are one have the same number.
    body: HashMap<Piece, usize>,
    last: HashMap<Piece, usize>,
}

impl Shop {
    /// Does a step; the steps before it that had its pieces in hand last.
    fn does(&mut self, place: usize, step: &Step) -> Vec<usize> {
        let mut before = Vec::new();
        let mut handle = |shop: &mut Shop, pieces: &[Piece]| {
            let bodies = pieces.iter().map(|piece| shop.body_of(*piece));
            let bodies: Vec<Vec<Piece>> = bodies.collect();
            for piece in bodies.into_iter().flatten() {
                let last = shop.last.insert(piece, place);
                before.extend(last.filter(|last| *last < place));
            }
        };
        if step.facts.is_empty() && step.work == Work::Stripes {
            handle(self, &[Piece::Ring(step.rings.start)]);
        }
        for fact in &step.facts {
            let pieces = pieces(fact, step);
            handle(self, &pieces);
            match fact {
                Fact::Glue { .. } | Fact::LetIn { .. } => self.join(&pieces),
                Fact::Split(_) | Fact::Part(_) => self.part(&pieces),
                _ => {}
            }
        }
        before
    }

    fn number_of(&mut self, piece: Piece) -> usize {
        let next = self.body.len();
        *self.body.entry(piece).or_insert(next)
    }

    fn body_of(&mut self, piece: Piece) -> Vec<Piece> {
        let number = self.number_of(piece);
        let same = self.body.iter().filter(|it| *it.1 == number);
        same.map(|it| *it.0).collect()
    }

    fn join(&mut self, pieces: &[Piece]) {
        let numbers: Vec<usize> = pieces.iter().map(|it| self.number_of(*it)).collect();
        for number in self.body.values_mut() {
            if numbers.contains(number) {
                *number = numbers[0];
            }
        }
    }

    /// A block comes off.
    fn part(&mut self, pieces: &[Piece]) {
        let free = self.body.values().max().map_or(0, |most| most + 1);
        for (at, piece) in pieces.iter().enumerate() {
            self.body.insert(*piece, free + at);
        }
    }
}

/// The pieces that are handled; what is glued to them comes along.
fn pieces(fact: &Fact, step: &Step) -> Vec<Piece> {
    match fact {
        Fact::Saw(piece)
        | Fact::GlueHalves(piece)
        | Fact::TrueEnds(piece)
        | Fact::GlueUp(piece)
        | Fact::Press { piece, .. }
        | Fact::Round { piece, .. } => vec![*piece],
        Fact::Flatten(face) | Fact::Face(face) => vec![face.piece],
        Fact::Screw { block, .. } | Fact::Hold { block, .. } | Fact::Split(block) => {
            vec![Piece::Block(*block)]
        }
        Fact::Part(end) => vec![Piece::Block(Block::Of(*end))],
        Fact::Mortise { ring, .. } => vec![Piece::Ring(*ring)],
        Fact::LetIn { ring } => vec![Piece::Ring(*ring), Piece::Base],
        Fact::Glue { face, to } => vec![face.piece, to.piece],
        Fact::DiscsOn(rings) | Fact::DiscsOff(rings) | Fact::Hollow(rings) | Fact::Shape(rings) => {
            rings.clone().map(Piece::Ring).collect()
        }
        Fact::Slots(_) | Fact::Finishing(_) => step.rings.clone().map(Piece::Ring).collect(),
        // What it is for needs it by its name.
        Fact::Strips(_) | Fact::TakeOff | Fact::Finish => Vec::new(),
    }
}
