//! What goes with the rings that are glued: which of them, in which order, with how few new ones
//! between, hold the wall of a shape; and the curve in them.
//!
//! A size of the shape is tried by asking of each ring at which heights the wall lies in its wood,
//! and stacking them by that ([`crate::solve::stacking`]). Sizes go down from the widest ring's, and
//! for each the heights from as slender to as squat as still looks like the shape; first as the
//! shape is, then with a little of the wall outside the wood, for the curve can be bent: the
//! nearest one that the rings hold. Around the best sizes are looked at closely. Each find is worked
//! out whole before it is told.

use super::built::{filled, take_with_ease, turn_over};
use super::start::{self, Start, new_ring};
use crate::design::field::LONGEST_MM;
use crate::design::{Design, MadeOf, OutlineIs, StackRing, Vessel};
use crate::plan::{Plan, plan};
use crate::solve::stacking::{self, Pieces, Standing};
use crate::trade::room::{Face, GluedRing};
use crate::trade::shape::{Curve, Wall};
use std::rc::Rc;

/// How slender or squat it may be beside the shape as it is begun (our own choice, no published
/// source).
const SQUATTEST: f64 = 0.6;
const SLENDEREST: f64 = 1.7;

/// Diameters from the widest ring's down to this share of it, and heights for each, that are looked
/// at first (our own choice, no published source).
const SMALLEST: f64 = 0.45;
const DIAMETERS: u32 = 28;
const HEIGHTS: u32 = 24;

/// The most new rings between (our own choice, no published source).
const MOST_NEW: u32 = 2;

/// Heights in a ring at which the wall is looked at lie no farther apart, millimeters (our own
/// choice, no published source: what is found is worked out exactly afterwards).
const LOOK_MM: f64 = 0.5;

/// How far the wall may lie outside the wood before the curve is bent, shares of the greatest
/// radius; one after the other (our own choice, no published source).
const BENT: [f64; 3] = [0.0, 0.06, 0.12];

/// So often in a row a curve is bent in vain before no more is (our own choice, no published
/// source).
const IN_VAIN: u32 = 24;

/// A curve that has less to spare is bent too, millimeters (our own choice, no published source).
const EASE_MM: f64 = 0.45;

/// How much more than wood to turn away a wall outside the wood counts (our own choice, no
/// published source).
const SHORT: f64 = 20.0;

/// Why nothing goes with them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoGathering {
    /// Fewer than two glued rings are measured.
    FewRings,
    /// No two of them hold the shape's wall, new ones between or not.
    NoStack,
}

/// A stack of them that holds the shape.
pub struct Gathered {
    /// How many new rings it has.
    pub new_count: u32,
    /// What stands, from the foot up: places in the stack that there was.
    pub standing: Vec<Standing>,
    /// Places of those that stay on the shelf.
    pub left: Vec<usize>,
    /// The design, worked out.
    pub plan: Plan,
    /// Greatest diameter and height.
    pub size_mm: [f64; 2],
    /// Numbers of new rings with which no more of the rings stand: those finds are outdone.
    pub outdone: Vec<u32>,
}

/// A ring by its faces.
#[derive(Clone, Copy)]
struct Own {
    place: usize,
    faces: [Face; 2],
    high_mm: f64,
}

/// A search for stacks. The same rings and shape give the same ones.
pub struct Gathering {
    own: Rc<Design>,
    shape: &'static Start,
    rings: Vec<Own>,
    new_mm: f64,
    sizes: Vec<[f64; 2]>,
    next: usize,
    /// Which of [`BENT`] is allowed.
    bent: usize,
    in_vain: u32,
    is_close: bool,
    best: [Option<Best>; MOST_NEW as usize + 1],
}

/// The best with so many new rings.
#[derive(Clone, Copy)]
struct Best {
    used: usize,
    bent: usize,
    asked_mm: [f64; 2],
    volume: f64,
    /// Whether its curve keeps off the rings' limits: before it is worked out, that it may.
    is_eased: bool,
}

impl Gathering {
    /// Begins a search; nothing for a word that is no shape's.
    ///
    /// # Errors
    /// When there are not two measured rings.
    pub fn new(design: &Design, word: &str) -> Option<Result<Gathering, NoGathering>> {
        let shape = start::find(word)?;
        let planned = plan(design);
        let stack = planned.built().map(|it| it.stack.rings.clone());
        let rings: Vec<Own> = stack.iter().flatten().map(own).collect();
        if rings.len() < 2 {
            return Some(Err(NoGathering::FewRings));
        }
        let mut heights: Vec<f64> = rings.iter().map(|ring| ring.high_mm).collect();
        heights.sort_by(f64::total_cmp);
        let widest_mm = rings.iter().flat_map(|it| it.faces).map(|it| it.outside_mm);
        let widest_mm = 2.0 * widest_mm.fold(0.0, f64::max);
        let step_mm = widest_mm * (1.0 - SMALLEST) / f64::from(DIAMETERS);
        let all_mm = heights.iter().sum::<f64>() + f64::from(MOST_NEW) * heights[heights.len() / 2];
        let sizes = (0..=DIAMETERS).flat_map(|down| {
            let across_mm = widest_mm - f64::from(down) * step_mm;
            heights_for(shape, across_mm, all_mm)
        });
        Some(Ok(Gathering {
            own: Rc::new(filled(design, &planned)),
            shape,
            sizes: sizes.collect(),
            new_mm: heights[heights.len() / 2],
            rings,
            next: 0,
            bent: 0,
            in_vain: 0,
            is_close: false,
            best: Default::default(),
        }))
    }

    /// Whether nothing more will be found.
    pub fn is_done(&self) -> bool {
        self.is_close && self.next >= self.sizes.len()
    }

    /// Why nothing was found, once the search is done.
    pub fn why_not(&self) -> Option<NoGathering> {
        let is_empty = self.best.iter().all(Option::is_none);
        (self.is_done() && is_empty).then_some(NoGathering::NoStack)
    }

    /// Looks at the next size; what is found takes the place of the one with as many new rings.
    pub fn look(&mut self) -> Vec<Gathered> {
        let Some(&size_mm) = self.sizes.get(self.next) else {
            self.go_on();
            return Vec::new();
        };
        self.next += 1;
        let vessel = self.vessel_of(size_mm);
        let Some((vessel, curve)) = vessel.and_then(|it| Some((it.clone(), it.curve()?))) else {
            return Vec::new();
        };
        // By the tape it is a little another one.
        let high_mm = curve.height_mm();
        let widest_mm = curve.largest_radius(0.0, high_mm);
        let short_mm = BENT[self.bent] * widest_mm;
        let looked = Looked::at(curve, &vessel);
        let heights: Vec<f64> = self.rings.iter().map(|ring| ring.high_mm).collect();
        let pieces = Pieces {
            heights_mm: &heights,
            new_mm: self.new_mm,
            most_new: MOST_NEW,
        };
        let found = stacking::most(&pieces, high_mm, |at, is_turned, height_mm| {
            self.rings[at].waste(is_turned, height_mm, &looked, short_mm)
        });
        let volume = widest_mm * widest_mm * high_mm;
        let mut told = Vec::new();
        for (standing, new_count) in found.into_iter().zip(0..) {
            let Some(standing) = standing else { continue };
            let best = Best {
                used: standing.len() - new_count,
                bent: self.bent,
                asked_mm: size_mm,
                volume,
                is_eased: true,
            };
            if !self.is_better(new_count, &best) || self.in_vain >= IN_VAIN {
                continue;
            }
            match self.gathered(new_count as u32, standing, &vessel) {
                Some(gathered) => {
                    let best = Best {
                        is_eased: left_mm(&gathered.plan).is_some_and(|it| it >= EASE_MM),
                        ..best
                    };
                    if !self.is_better(new_count, &best) {
                        self.in_vain += 1;
                        continue;
                    }
                    self.in_vain = 0;
                    self.best[new_count] = Some(best);
                    let outdone = self.outdone(new_count, best.used);
                    told.push(Gathered {
                        outdone,
                        ..gathered
                    });
                }
                None => self.in_vain += 1,
            }
        }
        told
    }

    /// Lets go of what more new rings gave, where as many stand with fewer.
    fn outdone(&mut self, new_count: usize, used: usize) -> Vec<u32> {
        let mut outdone = Vec::new();
        for (more, best) in self.best.iter_mut().enumerate().skip(new_count + 1) {
            if best.take_if(|it| it.used <= used).is_some() {
                outdone.push(more as u32);
            }
        }
        outdone
    }

    /// More bent, or around the best.
    fn go_on(&mut self) {
        if self.bent + 1 < BENT.len() && !self.is_close {
            self.bent += 1;
            self.next = 0;
            self.in_vain = 0;
        } else {
            self.look_closely();
        }
    }

    /// Around the best of each kind once more, by the tape.
    fn look_closely(&mut self) {
        if self.is_close {
            return;
        }
        self.is_close = true;
        self.in_vain = 0;
        self.bent = self
            .best
            .iter()
            .flatten()
            .map(|it| it.bent)
            .max()
            .unwrap_or(0);
        self.next = 0;
        let tape_mm = self.own.unit.snap_step_mm();
        let widest_mm = self.sizes.first().map_or(0.0, |it| it[0]);
        let step_mm = widest_mm * (1.0 - SMALLEST) / f64::from(DIAMETERS);
        let wider = (step_mm / tape_mm).floor().min(12.0) as u32;
        let best = self.best.iter().flatten().map(|it| it.asked_mm);
        let sizes = best.flat_map(|[across_mm, high_mm]| {
            (1..=wider).rev().flat_map(move |by| {
                (0..3).rev().map(move |higher| {
                    let by_mm = f64::from(by) * tape_mm;
                    [across_mm + by_mm, high_mm + f64::from(higher) * tape_mm]
                })
            })
        });
        self.sizes = sizes.collect();
    }

    /// More rings than what was found with fewer new ones, and than with as many; of as many, one
    /// off the limits, or a larger piece bent no more.
    fn is_better(&self, new_count: usize, than: &Best) -> bool {
        let (fewer, same) = self.best.split_at(new_count);
        let is_worth = fewer.iter().flatten().all(|it| it.used < than.used) && than.used > 0;
        let is_better = same[0].as_ref().is_none_or(|it| {
            let is_larger = than.bent <= it.bent && than.volume > it.volume + 1.0;
            let is_easier = than.is_eased && !it.is_eased;
            let is_as_easy = than.is_eased == it.is_eased;
            than.used > it.used
                || (than.used == it.used && (is_easier || (is_as_easy && is_larger)))
        });
        is_worth && is_better
    }

    /// The vessel of a size, its own walls, without rings.
    fn vessel_of(&self, [across_mm, high_mm]: [f64; 2]) -> Option<Vessel> {
        let own = self.own.vessel.as_ref()?;
        if high_mm >= LONGEST_MM {
            return None;
        }
        Some(Vessel {
            outline_is: OutlineIs::Own,
            points: start::points_of(self.shape, across_mm, high_mm, &self.own),
            rings: Vec::new(),
            slot_sets: Vec::new(),
            ..own.clone()
        })
    }

    /// The design with this stack, if it holds the wall by the exact reckoning too.
    fn gathered(
        &self,
        new_count: u32,
        standing: Vec<Standing>,
        vessel: &Vessel,
    ) -> Option<Gathered> {
        let own = self.own.vessel.as_ref()?;
        let like = |at: usize| own.rings.get(self.rings[at].place);
        let segments = standing.iter().find_map(|it| match it {
            Standing::Piece(at, _) => Some(like(*at)?.segment_count),
            Standing::New => None,
        });
        let rings = standing.iter().enumerate().map(|(level, it)| {
            let mut ring = match *it {
                Standing::Piece(at, is_turned) => {
                    let mut ring = like(at)?.clone();
                    if let Some(measured) = ring.measured.as_mut().filter(|_| is_turned) {
                        turn_over(measured);
                    }
                    ring
                }
                Standing::New => StackRing {
                    segment_count: segments?,
                    made_of: MadeOf::Segments,
                    ..new_ring(self.new_mm, &self.own)
                },
            };
            ring.turn_half_segments = level as u32 % 2;
            Some(ring)
        });
        let rings = rings.collect::<Option<Vec<StackRing>>>()?;
        let design = Design {
            vessel: Some(Vessel {
                rings,
                ..vessel.clone()
            }),
            // What closed the foot of another stack is said anew.
            base: None,
            ..(*self.own).clone()
        };
        let mut plan = plan(&design);
        if left_mm(&plan)? < EASE_MM {
            let eased = crate::plan::plan(&take_with_ease(&design));
            if left_mm(&eased) > left_mm(&plan) {
                plan = eased;
            }
        }
        if !plan.built()?.troubles.is_empty() || left_mm(&plan)? < 0.0 {
            return None;
        }
        let curve = plan.design.vessel.as_ref()?.curve()?;
        let high_mm = curve.height_mm();
        let size_mm = [2.0 * curve.largest_radius(0.0, high_mm), high_mm];
        let stands = |place: usize| {
            standing
                .iter()
                .any(|it| matches!(it, Standing::Piece(at, _) if self.rings[*at].place == place))
        };
        let left = self.rings.iter().map(|ring| ring.place);
        let left = left.filter(|place| !stands(*place)).collect();
        let standing = standing.into_iter().map(|it| match it {
            Standing::Piece(at, is_turned) => Standing::Piece(self.rings[at].place, is_turned),
            Standing::New => Standing::New,
        });
        Some(Gathered {
            new_count,
            standing: standing.collect(),
            left,
            plan,
            size_mm,
            outdone: Vec::new(),
        })
    }
}

/// What the curve leaves where it is tightest.
fn left_mm(plan: &Plan) -> Option<f64> {
    Some(plan.built()?.tightest?.left_mm)
}

fn own(ring: &GluedRing) -> Own {
    Own {
        place: ring.place,
        faces: [ring.lower, ring.upper],
        high_mm: ring.top_mm - ring.bottom_mm,
    }
}

/// Sizes of one diameter, the tallest first, as high as all rings are at the most.
fn heights_for(shape: &Start, across_mm: f64, all_mm: f64) -> Vec<[f64; 2]> {
    let usual_mm = across_mm * shape.height_for_diameter;
    let tallest_mm = (SLENDEREST * usual_mm).min(all_mm);
    let lowest_mm = SQUATTEST * usual_mm;
    if tallest_mm < lowest_mm {
        return Vec::new();
    }
    let step_mm = (tallest_mm - lowest_mm) / f64::from(HEIGHTS);
    (0..=HEIGHTS)
        .map(|down| [across_mm, tallest_mm - f64::from(down) * step_mm])
        .collect()
}

/// The wall at heights close to each other: its outside and its inside radius.
struct Looked {
    step_mm: f64,
    radii_mm: Vec<[f64; 2]>,
}

impl Looked {
    fn at(curve: Curve, vessel: &Vessel) -> Looked {
        let high_mm = curve.height_mm();
        let wall = Wall::inside(curve, vessel.foot_wall_mm, vessel.rim_wall_mm, 0.0);
        let count = (high_mm / LOOK_MM).ceil().max(1.0);
        let step_mm = high_mm / count;
        let radii = (0..=count as u32).map(|step| {
            let height_mm = f64::from(step) * step_mm;
            let outside_mm = wall.outside.radius_at(height_mm);
            [outside_mm, wall.inside_radius_at(height_mm)]
        });
        Looked {
            step_mm,
            radii_mm: radii.collect(),
        }
    }
}

impl Own {
    /// What it has beyond the wall with its lower face at a height, square millimeters of its
    /// section; nothing where more of the wall than this is not in its wood.
    fn waste(
        &self,
        is_turned: bool,
        bottom_mm: f64,
        looked: &Looked,
        short_mm: f64,
    ) -> Option<f64> {
        let [mut lower, mut upper] = self.faces;
        if is_turned {
            if lower == upper {
                return None;
            }
            std::mem::swap(&mut lower, &mut upper);
        }
        let first = (bottom_mm / looked.step_mm - 1e-9).ceil().max(0.0);
        let last = ((bottom_mm + self.high_mm) / looked.step_mm + 1e-9).floor();
        let last = (last as usize).min(looked.radii_mm.len().saturating_sub(1));
        let mut waste = 0.0;
        for step in first as usize..=last {
            let share = (step as f64 * looked.step_mm - bottom_mm) / self.high_mm;
            let between = |low: f64, high: f64| low + (high - low) * share;
            let [outside_mm, inside_mm] = looked.radii_mm[step];
            let outside = between(lower.outside_mm, upper.outside_mm) - outside_mm;
            let inside = inside_mm - between(lower.hole_mm, upper.hole_mm);
            let short = (-outside).max(-inside).max(0.0);
            if short > short_mm || outside + inside < 0.0 {
                return None;
            }
            waste += (outside + inside + SHORT * short) * looked.step_mm;
        }
        Some(waste)
    }
}
