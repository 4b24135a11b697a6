//! The order of work as it is looked over: its chapters, and in them steps alike as one.

use crate::design::{MadeOf, Vessel};
use crate::plan::bill::ring_numbers;
use crate::plan::order::{Chapter, FinishWork, Order, Step, Ticked, Work};
use crate::show::words;
use serde::Serialize;
use std::ops::Range;

/// A chapter of the order of work.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct ChapterShown {
    /// What it is called.
    pub title: &'static str,
    /// How many of its steps are done.
    pub says: String,
    /// Whether all are.
    pub is_done: bool,
    /// Its steps.
    pub folds: Vec<Fold>,
}

/// Steps alike that follow each other, or one step alone.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Fold {
    /// What they are called together; empty for one alone.
    pub title: String,
    /// How many of them are done; empty for one alone.
    pub says: String,
    /// Whether all are.
    pub is_done: bool,
    /// Their ids.
    pub steps: Vec<String>,
}

/// Fewer steps alike are told one by one (our own choice, no published source).
pub(super) const LEAST_ALIKE: usize = 3;

/// Folds the steps. `ticked` says of each whether it is done.
pub(super) fn chapters(vessel: &Vessel, order: &Order, ticked: &[Ticked]) -> Vec<ChapterShown> {
    let steps: Vec<(&Step, bool)> = order
        .steps
        .iter()
        .zip(ticked.iter().map(|it| *it == Ticked::Yes))
        .collect();
    steps
        .chunk_by(|(one, _), (other, _)| one.chapter == other.chapter)
        .map(|chapter| ChapterShown {
            title: chapter_name(chapter[0].0.chapter, order),
            says: says(chapter),
            is_done: chapter.iter().all(|it| it.1),
            folds: chapter
                .chunk_by(|(one, _), (other, _)| is_alike(vessel, one, other))
                .flat_map(|alike| {
                    let size = if alike.len() < LEAST_ALIKE {
                        1
                    } else {
                        alike.len()
                    };
                    alike.chunks(size)
                })
                .map(|alike| fold(alike, order))
                .collect(),
        })
        .collect()
}

/// How many are done; empty for one alone.
fn says(steps: &[(&Step, bool)]) -> String {
    if steps.len() == 1 {
        return String::new();
    }
    let done = steps.iter().filter(|it| it.1).count();
    words::filled(
        words::FOLD_SAYS,
        &[&done.to_string(), &steps.len().to_string()],
    )
}

/// Whether two steps are the same work on other pieces; a disc is sawn otherwise than
/// segments, and a ring comes on otherwise than its segments one by one.
pub(super) fn is_alike(vessel: &Vessel, one: &Step, other: &Step) -> bool {
    let is_mitred = |step: &Step| {
        let ring = vessel.rings.get(step.rings.start);
        ring.is_some_and(|ring| ring.made_of == MadeOf::Segments)
    };
    match (&one.work, &other.work) {
        (Work::Cut, Work::Cut) => is_mitred(one) && is_mitred(other),
        (Work::Stack(_), Work::Stack(_)) => one.sets_singly() == other.sets_singly(),
        (Work::Rip(_), Work::Rip(_))
        | (Work::Edges(_), Work::Edges(_))
        | (Work::Halves, Work::Halves)
        | (Work::TrueEnds, Work::TrueEnds)
        | (Work::GlueUp, Work::GlueUp)
        | (Work::Flatten, Work::Flatten)
        | (Work::Finishing(FinishWork::Coat(_)), Work::Finishing(FinishWork::Coat(_))) => true,
        _ => false,
    }
}

fn fold(alike: &[(&Step, bool)], order: &Order) -> Fold {
    Fold {
        title: if alike.len() == 1 {
            String::new()
        } else {
            title(alike, order)
        },
        says: says(alike),
        is_done: alike.iter().all(|it| it.1),
        steps: alike.iter().map(|it| it.0.id.clone()).collect(),
    }
}

/// The rings that a step is about; a stack of its own comes on whole.
fn rings_of(step: &Step, order: &Order) -> Range<usize> {
    let with = order.apart_of(step.rings.start);
    let with = with.filter(|_| step.chapter != Chapter::Stacks);
    match (&step.work, with) {
        (Work::Stack(_), Some(span)) => span.clone(),
        _ => step.rings.start..step.rings.start + 1,
    }
}

/// What steps alike are called together.
pub(super) fn title(alike: &[(&Step, bool)], order: &Order) -> String {
    let rings: Vec<Range<usize>> = alike.iter().map(|it| rings_of(it.0, order)).collect();
    // From the rim's block the rings come on downward.
    let is_down = rings.windows(2).all(|two| two[0].start == two[1].end);
    let mut places: Vec<usize> = rings.into_iter().flatten().collect();
    places.sort_unstable();
    let word = match alike[0].0.work {
        Work::Rip(_) => {
            return words::filled(words::FOLD_RIP, &[&alike.len().to_string()]);
        }
        Work::Edges(_) => {
            return words::filled(words::FOLD_EDGES, &[&alike.len().to_string()]);
        }
        Work::Finishing(_) => {
            return words::filled(words::FOLD_COATS, &[&alike.len().to_string()]);
        }
        Work::Cut => words::FOLD_SEGMENTS,
        Work::Halves => words::FOLD_HALVES,
        Work::TrueEnds => words::FOLD_ENDS,
        Work::GlueUp => words::FOLD_GLUE,
        Work::Flatten => words::FOLD_FLAT,
        _ if is_down => {
            let ends = [places.last(), places.first()].map(|it| it.map_or(0, |place| place + 1));
            let [from, to] = ends.map(|number| number.to_string());
            return words::filled(words::FOLD_STACK_DOWN, &[&from, &to]);
        }
        _ => words::FOLD_STACK,
    };
    let rings = words::rings_within(&ring_numbers(&places), places.len());
    words::filled(word, &[&rings])
}

pub(super) fn chapter_name(chapter: Chapter, order: &Order) -> &'static str {
    let word = match (chapter, order.halves.len()) {
        (Chapter::Wood, _) => words::CHAPTER_WOOD,
        (Chapter::Blocks, _) => words::CHAPTER_BLOCKS,
        (Chapter::Rings, _) => words::CHAPTER_RINGS,
        (Chapter::Stacks, _) => words::CHAPTER_STACKS,
        (Chapter::Lower, 1) => words::CHAPTER_WHOLE_PIECE,
        (Chapter::Lower, _) => words::CHAPTER_LOWER,
        (Chapter::Upper, _) => words::CHAPTER_UPPER,
        (Chapter::Whole, 1) => words::CHAPTER_LAST,
        (Chapter::Whole, _) => words::CHAPTER_JOINED,
    };
    word.text
}
