//! What the boards at hand could become: the largest piece of a shape that they give, the one
//! that leaves the least of them over, one with a ring of the odd board, one of a single wood.
//!
//! A size is tried by dividing the shape into rings as high as the boards are thick, closing its
//! foot in the ways that the boards may give, and looking for the boards. Sizes go in steps of
//! the tape: an eighth of an inch or 2 mm, half of that for small pieces, so that no step is more than two
//! hundredths of the size. With the size the count of rings jumps: what is found coarsely is
//! looked at closely well above it (`descent`).

mod at_hand;
mod descent;
mod enough;
mod shape;

pub use shape::Wanted;

use super::scaled_length_mm;
use super::sound::Soundness;
use crate::design::field::{LONGEST_MM, most_of};
use crate::design::{BaseKind, Design, StackRing};
use crate::edit::start::{self, Start};
use crate::plan::board::{Answer, Need, Unfit, needs};
use crate::plan::caution::Caution;
use crate::plan::stack::StackPlan;
use crate::plan::{Plan, plan};
use crate::units::length::MM_PER_INCH;
use at_hand::Wood;
use descent::Descent;
use enough::Given;
use shape::Laid;
use std::cell::LazyCell;
use std::rc::Rc;

/// What a proposal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// The largest that the boards give.
    Largest,
    /// The one that leaves the least of the boards that it takes over.
    LeastLeft,
    /// Of one wood, but for a ring of another.
    Feature,
    /// The largest of one wood.
    OneWood,
    /// Larger than the largest, with more to look out for.
    Bearing,
}

/// Why it cannot be larger by a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Bigger {
    /// The lathe swings no more.
    Swing,
    /// More boards are needed: the places in the rack of those that it needs one more of.
    Boards(Vec<usize>),
    /// A board of another size is needed.
    Other(Box<Answer>),
}

/// What the boards could become.
pub struct Proposal {
    /// What it is.
    pub goal: Goal,
    /// The design, worked out.
    pub plan: Plan,
    /// The boards that it takes and how they are cut.
    pub answer: Answer,
    /// Its greatest diameter.
    pub across_mm: f64,
    /// Whether it asks for more care than the shape as it is usually begun.
    pub is_bearing: bool,
    /// By how much larger was looked at, and what that needs; of the largest, once it is known.
    pub bigger: Option<(f64, Bigger)>,
}

/// Why nothing can be made.
#[derive(Clone, Debug, PartialEq)]
pub enum NoMaking {
    /// No boards are entered.
    NoBoards,
    /// Every board is too thin for a ring.
    TooThin {
        /// The thickest, as it is left.
        thickest_mm: f64,
        /// The least rough thickness of which a ring comes.
        least_rough_mm: f64,
    },
    /// There is no piece to make larger or smaller.
    NoPiece,
    /// Rings that are glued have their size.
    Glued,
    /// Of no size: what the smallest lacks, and another shape that can be made, with its size.
    NoSize {
        /// What was looked at.
        lacking: Option<Box<Answer>>,
        /// The shape's word and its greatest diameter.
        nearest: Option<(&'static str, f64)>,
    },
}

/// The least piece that is looked for (our own choice, no published source).
const LEAST_MM: f64 = 2.0 * MM_PER_INCH;

/// The widest without a lathe that says otherwise (our own choice, no published source).
const WIDEST_MM: f64 = 1000.0;

/// Below this the sizes go in half the steps (our own choice, no published
/// source).
const SMALL_MM: f64 = 8.0 * MM_PER_INCH;

/// Sizes down from the largest among which the one that leaves the least is (our own choice, no published
/// source).
const LEAST_LEFT_FROM: f64 = 0.85;
const LEAST_LEFT_SIZES: usize = 8;

/// One with a ring of another wood is looked for up to so much larger than the largest (our own choice, no published
/// source).
const FEATURE_UPTO: f64 = 1.3;

/// So much larger must be what asks for more care (our own choice, no published
/// source).
const LARGER: f64 = 1.1;

/// By so much more must end up in pieces to be worth a smaller piece (our own choice, no published
/// source).
const WORTH: f64 = 0.01;

/// What the search is at.
enum Task {
    Sizes(Goal, Descent),
    Bigger,
    LeastLeft(Vec<f64>),
    Nearest(usize, Descent),
    Done,
}

/// A search for what the boards could become. The same design gives the same ones.
pub struct Making {
    own: Rc<Design>,
    wanted: Wanted,
    woods: Vec<Wood>,
    sizes: Vec<f64>,
    /// Whether more cautions than usual are borne, since it cannot be had without.
    is_bearing: bool,
    task: Task,
    is_featured: bool,
    largest_design: Option<Rc<Design>>,
    largest: Option<(f64, bool, f64)>,
    least_left: Option<(f64, f64)>,
    nearest: Option<(&'static str, f64)>,
}

/// A piece that the boards give.
type Made = (Plan, Answer);

impl Making {
    /// Begins a search.
    ///
    /// # Errors
    /// When nothing can come of it.
    pub fn new(design: &Design, wanted: Wanted) -> Result<Making, NoMaking> {
        if at_hand::boards(design).next().is_none() {
            return Err(NoMaking::NoBoards);
        }
        let woods = at_hand::woods(design);
        if woods.is_empty() {
            return Err(NoMaking::TooThin {
                thickest_mm: at_hand::thickest_mm(design),
                least_rough_mm: at_hand::least_rough_mm(design),
            });
        }
        if wanted == Wanted::Own {
            let vessel = design.vessel.as_ref().ok_or(NoMaking::NoPiece)?;
            if vessel.curve().is_none() {
                return Err(NoMaking::NoPiece);
            }
            if vessel.rings.iter().any(StackRing::is_glued) {
                return Err(NoMaking::Glued);
            }
        }
        let sizes = sizes(design, wanted, &woods);
        Ok(Making {
            own: Rc::new(design.clone()),
            wanted,
            woods,
            task: Task::Sizes(Goal::Largest, Descent::new(sizes.clone())),
            sizes,
            is_bearing: false,
            is_featured: false,
            largest_design: None,
            largest: None,
            least_left: None,
            nearest: None,
        })
    }

    /// Whether nothing more will be found.
    pub fn is_done(&self) -> bool {
        matches!(self.task, Task::Done)
    }

    /// Why nothing was found, once the search is done.
    pub fn why_not(&self) -> Option<NoMaking> {
        if !self.is_done() || self.largest.is_some() {
            return None;
        }
        let size_mm = self.sizes.first().copied().unwrap_or(LEAST_MM);
        let mut ways = shape::of_size(&self.own, self.wanted, &self.woods, size_mm).into_iter();
        let lacking = ways.next().and_then(|it| enough::lacking(&plan(&it)));
        Some(NoMaking::NoSize {
            lacking: lacking.map(Box::new),
            nearest: self.nearest,
        })
    }

    /// Whether the boards give a size of it, by the same care as what was found.
    pub fn gives(&self, size_mm: f64) -> bool {
        self.largest_made(size_mm).is_some()
    }

    fn largest_made(&self, size_mm: f64) -> Option<Made> {
        let made = self.made(Goal::Largest, self.wanted, size_mm);
        made.or_else(|| self.made(Goal::Feature, self.wanted, size_mm))
    }

    /// Tries so many sizes at most for the next one; one that is found again better takes the
    /// place of the other with its goal.
    pub fn next(&mut self, tries: u32) -> Option<Proposal> {
        for _ in 0..tries {
            let found = self.step();
            if found.is_some() {
                return found;
            }
        }
        None
    }

    fn step(&mut self) -> Option<Proposal> {
        match std::mem::replace(&mut self.task, Task::Done) {
            Task::Sizes(goal, descent) => self.size(goal, descent),
            Task::Bigger => {
                let found = self.with_bigger();
                self.task = self.after_bigger();
                found
            }
            Task::LeastLeft(sizes) => self.least_left(sizes),
            Task::Nearest(place, descent) => {
                self.look_nearest(place, descent);
                None
            }
            Task::Done => None,
        }
    }

    /// One size of a search for the largest of a kind.
    fn size(&mut self, goal: Goal, mut descent: Descent) -> Option<Proposal> {
        let Some(size_mm) = descent.size() else {
            self.task = self.after(goal);
            return None;
        };
        let made = self.made(goal, self.wanted, size_mm);
        descent.tell(made.is_some());
        let so_far = self.largest.map_or(0.0, |it| it.0);
        // A ring of another wood may be what makes it possible.
        let is_largest = goal == Goal::Largest || (goal == Goal::Feature && size_mm > so_far);
        if let Some((plan, answer)) = made.as_ref().filter(|_| is_largest) {
            let vessel = plan.design.vessel.as_ref();
            let is_mixed = vessel.is_some_and(|it| it.woods.len() > 1);
            self.largest = Some((size_mm, is_mixed, answer.used_share));
            self.largest_design = Some(Rc::clone(&plan.design));
        }
        self.is_featured |= goal == Goal::Feature && made.is_some();
        self.task = if descent.is_done() {
            self.after(goal)
        } else {
            Task::Sizes(goal, descent)
        };
        let goal = if is_largest { Goal::Largest } else { goal };
        let made = made.filter(|made| self.is_new(goal, &made.0.design))?;
        let is_bearing = self.is_bearing || goal == Goal::Bearing;
        Some(proposal(goal, made, size_mm, is_bearing))
    }

    fn after(&mut self, goal: Goal) -> Task {
        let anew = |goal: Goal, sizes: &[f64]| Task::Sizes(goal, Descent::new(sizes.to_vec()));
        let Some((size_mm, is_mixed, _)) = self.largest else {
            if self.is_bearing {
                return self.nearest_from(0);
            }
            self.is_bearing = true;
            return anew(Goal::Largest, &self.sizes);
        };
        let upto = |most_mm: f64| -> Vec<f64> {
            let sizes = self.sizes.iter().filter(|it| **it <= most_mm);
            sizes.copied().collect()
        };
        match goal {
            Goal::Largest if self.wanted == Wanted::Own => Task::Bigger,
            Goal::Largest => anew(Goal::Feature, &upto(FEATURE_UPTO * size_mm)),
            Goal::Feature if is_mixed && !self.is_featured => anew(Goal::OneWood, &upto(size_mm)),
            Goal::Feature | Goal::OneWood => Task::Bigger,
            Goal::Bearing | Goal::LeastLeft => {
                let within = |it: &&f64| **it >= LEAST_LEFT_FROM * size_mm && **it < size_mm;
                let all: Vec<f64> = self.sizes.iter().filter(within).copied().collect();
                let every = all.len().div_ceil(LEAST_LEFT_SIZES).max(1);
                Task::LeastLeft(all.into_iter().step_by(every).collect())
            }
        }
    }

    fn after_bigger(&mut self) -> Task {
        if self.wanted == Wanted::Own {
            return Task::Done;
        }
        let least_mm = self.largest.map_or(f64::MAX, |it| LARGER * it.0);
        let larger = self.sizes.iter().filter(|it| **it >= least_mm);
        let larger: Vec<f64> = larger.copied().collect();
        if self.is_bearing || larger.is_empty() {
            return self.after(Goal::Bearing);
        }
        Task::Sizes(Goal::Bearing, Descent::new(larger))
    }

    /// Whether it is another one than the largest.
    fn is_new(&self, goal: Goal, design: &Design) -> bool {
        let is_it = |it: &Rc<Design>| it.vessel == design.vessel && it.base == design.base;
        goal == Goal::Largest || !self.largest_design.as_ref().is_some_and(is_it)
    }

    /// The largest once more, with what a larger one needs.
    fn with_bigger(&mut self) -> Option<Proposal> {
        let (size_mm, ..) = self.largest?;
        let by_mm = if self.own.unit.is_inch() {
            MM_PER_INCH / 2.0
        } else {
            10.0
        };
        let made = self.largest_made(size_mm)?;
        let larger_mm = size_mm + by_mm;
        let is_past = self.own.shop.swing_mm.is_some_and(|it| larger_mm > it);
        let needed = if is_past {
            Some(Bigger::Swing)
        } else {
            self.needed(&made.0.design, larger_mm)
        };
        let mut found = proposal(Goal::Largest, made, size_mm, self.is_bearing);
        found.bigger = needed.map(|needed| (by_mm, needed));
        Some(found)
    }

    /// What a size needs that the boards do not give, closed and painted as the largest where
    /// that can be.
    fn needed(&self, largest: &Design, size_mm: f64) -> Option<Bigger> {
        let ways = shape::of_size(&self.own, self.wanted, &self.woods, size_mm);
        let kind = |design: &Design| design.base.as_ref().map(|it| (it.kind, it.set));
        let alike = ways.iter().filter(|it| kind(it) == kind(largest));
        let mut other = None;
        for design in alike.chain(&ways) {
            let answer = enough::lacking(&plan(design))?;
            if answer.failures.is_empty() {
                let extra = answer.layouts.iter().filter(|it| it.is_extra);
                let mut places: Vec<usize> = Vec::new();
                for layout in extra {
                    places.extend(std::iter::repeat_n(layout.board, layout.times as usize));
                }
                if !places.is_empty() {
                    return Some(Bigger::Boards(places));
                }
                continue;
            }
            // Another thickness can be had of the boards by closing it otherwise.
            if other.as_ref().is_none_or(is_of_thickness) && !is_of_thickness(&answer) {
                other = Some(answer);
            } else {
                other.get_or_insert(answer);
            }
        }
        other.map(|answer| Bigger::Other(Box::new(answer)))
    }

    fn least_left(&mut self, mut sizes: Vec<f64>) -> Option<Proposal> {
        let (_, _, used_of_largest) = self.largest?;
        let size_mm = sizes.pop()?;
        let made = self.made(Goal::Largest, self.wanted, size_mm);
        if !sizes.is_empty() {
            self.task = Task::LeastLeft(sizes);
        }
        let made = made?;
        let used = made.1.used_share;
        let so_far = self.least_left.map_or(used_of_largest + WORTH, |it| it.1);
        if used <= so_far {
            return None;
        }
        self.least_left = Some((size_mm, used));
        Some(proposal(Goal::LeastLeft, made, size_mm, self.is_bearing))
    }

    /// The first other shape that can be made.
    fn look_nearest(&mut self, place: usize, mut descent: Descent) {
        let shape = &start::ALL[place];
        let Some(size_mm) = descent.size() else {
            self.task = self.nearest_from(place + 1);
            return;
        };
        let can_be = self
            .made(Goal::Largest, Wanted::Shape(shape), size_mm)
            .is_some();
        if can_be {
            self.nearest = Some((shape.word, size_mm));
        }
        descent.tell(can_be);
        self.task = match (descent.is_done(), self.nearest) {
            (true, Some(_)) => Task::Done,
            (true, None) => self.nearest_from(place + 1),
            (false, _) => Task::Nearest(place, descent),
        };
    }

    fn nearest_from(&self, place: usize) -> Task {
        match start::ALL.get(place) {
            Some(shape) if self.wanted == Wanted::Shape(shape) => self.nearest_from(place + 1),
            Some(shape) => {
                let sizes = sizes(&self.own, Wanted::Shape(shape), &self.woods);
                Task::Nearest(place, Descent::new(sizes))
            }
            None => Task::Done,
        }
    }

    /// The piece of a size, where the boards give it: mostly of the wood of which there is the
    /// most, or of the next.
    fn made(&self, goal: Goal, wanted: Wanted, size_mm: f64) -> Option<Made> {
        let mut orders = self.orders(wanted).into_iter();
        orders.find_map(|woods| self.made_of(&woods, goal, wanted, size_mm))
    }

    /// The woods, the main one first; once more with the next one first where there is much of
    /// it.
    fn orders(&self, wanted: Wanted) -> Vec<Vec<Wood>> {
        let mut orders = vec![self.woods.clone()];
        if let [main, next, ..] = self.woods.as_slice()
            && wanted != Wanted::Own
            && next.volume_mm3 >= MUCH * main.volume_mm3
        {
            let mut woods = self.woods.clone();
            woods.swap(0, 1);
            orders.push(woods);
        }
        orders
    }

    /// What the pieces of a size need of boards that are closed well and sound, whatever the boards
    /// give: of each main wood, the foot closed in each way, of one wood or with every count of
    /// rings of others wherever these may be laid. The search for the largest looks at some of
    /// these and at no others, so that another way to look for boards can be set beside it. What
    /// `is_worth` refuses is left out, and each is told once.
    pub fn needs_of_size(
        &self,
        size_mm: f64,
        is_worth: impl Fn(&[Need]) -> bool,
    ) -> Vec<Vec<Need>> {
        let mut found: Vec<Vec<Need>> = Vec::new();
        for woods in self.orders(self.wanted) {
            let usual =
                LazyCell::new(|| plan(&shape::usual(&self.own, self.wanted, &woods, size_mm)));
            for closed in shape::of_size(&self.own, self.wanted, &woods, size_mm) {
                for design in in_every_wood(closed, &woods) {
                    let planned = plan(&design);
                    let needed = needs(&design, planned.bill());
                    let is_looked_at = !found.contains(&needed)
                        && is_worth(&needed)
                        && is_closed_well(&usual, &planned, self.is_bearing)
                        && is_sound(&usual, &planned, self.is_bearing);
                    if is_looked_at {
                        found.push(needed);
                    }
                }
            }
        }
        found
    }

    fn made_of(&self, woods: &[Wood], goal: Goal, wanted: Wanted, size_mm: f64) -> Option<Made> {
        let usual = LazyCell::new(|| plan(&shape::usual(&self.own, wanted, woods, size_mm)));
        let is_bearing = self.is_bearing || goal == Goal::Bearing;
        let given = |design: &Design| {
            let planned = plan(design);
            if !is_closed_well(&usual, &planned, is_bearing) {
                return Err(None);
            }
            match enough::given(&planned) {
                Given::All(answer) => {
                    let is_sound = is_sound(&usual, &planned, is_bearing);
                    is_sound.then_some((planned, *answer)).ok_or(None)
                }
                Given::TooMuch(part) => Err(Some(part)),
                Given::Less => Err(None),
            }
        };
        let is_mixing = matches!(goal, Goal::Largest | Goal::Bearing)
            && woods.len() > 1
            && wanted != Wanted::Own;
        let mut mixing = 0;
        let main_mm3 = woods.first().map_or(0.0, |it| it.volume_mm3);
        let others_mm3: f64 = woods.iter().skip(1).map(|it| it.volume_mm3).sum();
        for design in shape::of_size(&self.own, wanted, woods, size_mm) {
            let rings = design.vessel.as_ref().map_or(0, |it| it.rings.len());
            if rings > most_of("vessel.rings") {
                continue;
            }
            let design = match goal {
                Goal::Feature => match shape::mixed(&design, woods, 1, Laid::Widest) {
                    Some(featured) => featured,
                    None => continue,
                },
                _ => design,
            };
            let part = match given(&design) {
                Ok(made) => return Some(made),
                Err(Some(part)) if is_mixing && mixing < MOST_MIXED => part,
                Err(_) => continue,
            };
            mixing += 1;
            // What is lacking of the main wood the others have to have.
            let lacking_mm3 = main_mm3 * (1.0 / part.max(0.01) - 1.0);
            if lacking_mm3 > others_mm3 {
                continue;
            }
            let least = (rings as f64 * (1.0 - part)).ceil().max(1.0) as usize;
            let more = (least..least + MOST_COUNTS)
                .flat_map(|count| [Laid::Evenly, Laid::AtRim].map(|laid| (count, laid)));
            let ways = std::iter::once((1, Laid::Widest)).chain(more);
            let mut mixed =
                ways.filter_map(|(count, laid)| shape::mixed(&design, woods, count, laid));
            if let Some(made) = mixed.find_map(|mixed| given(&mixed).ok()) {
                return Some(made);
            }
        }
        None
    }
}

/// A piece of one wood, and with every count of rings of the others, wherever they may be laid.
fn in_every_wood(design: Design, woods: &[Wood]) -> Vec<Design> {
    let most = most_of("vessel.rings");
    let rings = design.vessel.as_ref().map_or(0, |it| it.rings.len());
    if rings > most {
        return Vec::new();
    }
    let laid = (1..rings).flat_map(|count| [Laid::Evenly, Laid::AtRim].map(|laid| (count, laid)));
    let ways = std::iter::once((1, Laid::Widest)).chain(laid);
    let mut all: Vec<Design> = ways
        .filter_map(|(count, laid)| shape::mixed(&design, woods, count, laid))
        .collect();
    all.insert(0, design);
    all
}

/// Whether what closes its foot can be made, moves no more than it may, and asks for no more
/// care than in the shape as it is usually begun.
fn is_closed_well(
    usual: &LazyCell<Plan, impl FnOnce() -> Plan>,
    planned: &Plan,
    is_bearing: bool,
) -> bool {
    let Some(base) = planned.base() else {
        return true;
    };
    if !base.troubles.is_empty() || is_bearing {
        return base.troubles.is_empty();
    }
    let is_wedges = base.choice.kind == BaseKind::Wedges;
    if base.choice.kind == BaseKind::Solid && base.is_safe() != Some(true) {
        return false;
    }
    if base.cautions.is_empty() && !is_wedges {
        return true;
    }
    // Working the usual one out costs time.
    usual.base().is_some_and(|it| {
        let is_alike = !is_wedges || it.choice.kind == BaseKind::Wedges;
        is_alike && base.cautions.len() <= it.cautions.len()
    })
}

/// Whether it can be made on the lathe and asks for no more care than the shape as it is
/// usually begun.
fn is_sound(usual: &Plan, planned: &Plan, is_bearing: bool) -> bool {
    let has_wall = |it: &&StackPlan| it.wall.is_some() && it.troubles.is_empty();
    let is_past = |caution: &Caution| matches!(caution, Caution::PastSwing { .. });
    let mut cautions = planned.placed_cautions().iter();
    planned.stack().as_ref().is_some_and(has_wall)
        && !cautions.any(|it| is_past(&it.caution))
        && (is_bearing || Soundness::of(usual).is_kept(planned))
}

/// Whether boards lack nothing but a thickness.
fn is_of_thickness(answer: &Answer) -> bool {
    let mut failures = answer.failures.iter();
    failures.all(|it| matches!(it.why, Unfit::Thickness { .. }))
}

/// So many ways to close the foot are tried with other woods (our own choice, no published
/// source).
const MOST_MIXED: u32 = 2;

/// So many counts of rings of other woods are tried (our own choice, no published
/// source).
const MOST_COUNTS: usize = 2;

/// A wood is tried as the main one too, where there is so much of it beside the other (our own
/// choice, no published source).
const MUCH: f64 = 0.4;

fn proposal(goal: Goal, (plan, answer): Made, across_mm: f64, is_bearing: bool) -> Proposal {
    Proposal {
        goal,
        plan,
        answer,
        across_mm,
        is_bearing,
        bigger: None,
    }
}

/// The sizes that are looked at, from the smallest: none wider than the lathe swings, nor of
/// more wood than there is.
fn sizes(design: &Design, wanted: Wanted, woods: &[Wood]) -> Vec<f64> {
    let step_mm = if design.unit.is_inch() {
        MM_PER_INCH / 8.0
    } else {
        2.0
    };
    let (least_mm, most_mm) = match wanted {
        Wanted::Shape(_) => (LEAST_MM, WIDEST_MM),
        Wanted::Own => {
            let vessel = design.vessel.as_ref();
            let own = vessel.map_or(0.0, |it| scaled_length_mm("vessel.diameter_mm", it));
            (LEAST_MM.min(own), (4.0 * own).min(WIDEST_MM.max(own)))
        }
    };
    let most_mm = design.shop.swing_mm.map_or(most_mm, |it| it.min(most_mm));
    let volume_mm3: f64 = woods.iter().map(|it| it.volume_mm3).sum();
    let is_enough = |shape: &Start, size_mm: f64| {
        size_mm * shape.height_for_diameter <= LONGEST_MM
            && shape::least_mm3(design, shape, size_mm) <= volume_mm3
    };
    let mut all: Vec<f64> = Vec::new();
    let mut halves = (2.0 * least_mm / step_mm).ceil();
    loop {
        let size_mm = halves * step_mm / 2.0;
        if size_mm > most_mm + 1e-9 {
            break;
        }
        all.push(size_mm);
        halves += if size_mm < SMALL_MM { 1.0 } else { 2.0 };
    }
    if let Wanted::Shape(shape) = wanted {
        // The more of it the larger.
        let fits = all.partition_point(|size_mm| is_enough(shape, *size_mm));
        all.truncate(fits);
    }
    all
}
