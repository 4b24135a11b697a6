//! The order of work for one vessel: which rings go to which half, what is turned
//! before the next ring closes it in, and every step from the saw to parting off.
//!
//! The rings are glued up one by one from a waste block. A vessel whose whole inside is
//! reached from its rim is made in one piece; any other in two halves, the lower one on
//! a block under the foot, the upper one on a block over the rim, joined where the way
//! in is widest. How far a tool reaches is told in [`crate::plan::lathe::Walk`].

mod extra;

pub use extra::{BaseIs, base_is};

use crate::design::{MadeOf, StackRing};
use crate::plan::base::{self, BasePlan};
use crate::plan::bill::Cut;
use crate::plan::lathe::{Tool, Walk, put_among};
use crate::plan::rings::{Made, RingInStack, flats_mm};
use crate::plan::stack::StackPlan;
use crate::trade::shape::Wall;
use std::ops::Range;

/// An end of the vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// Below.
    Foot,
    /// Above.
    Rim,
}

impl End {
    /// A word for it, as part of a step's id.
    pub fn word(self) -> &'static str {
        match self {
            End::Foot => "foot",
            End::Rim => "rim",
        }
    }
}

/// Some of the inside, turned in one go.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// The rings whose inside is turned, from the foot up.
    pub rings: Range<usize>,
    /// The ring that would close it in, if there is one.
    pub before: Option<usize>,
    /// From the open end to the deepest place. Millimeters.
    pub depth_mm: f64,
    /// The narrowest inside diameter on the way there.
    pub opening_mm: f64,
    /// How far the edge stands out from the rest there.
    pub overhang_mm: f64,
    /// Whether a straight tool reaches all of it.
    pub is_reached: bool,
}

/// What is glued up on one waste block.
#[derive(Clone, Debug, PartialEq)]
pub struct Half {
    /// Which end is on the block.
    pub on: End,
    /// Its rings, from the foot up.
    pub rings: Range<usize>,
    /// How its inside is turned, in this order.
    pub stages: Vec<Stage>,
}

impl Half {
    /// Its rings in the order in which they are glued on, the one on the block first.
    pub fn glued(&self) -> Vec<usize> {
        match self.on {
            End::Foot => self.rings.clone().collect(),
            End::Rim => self.rings.clone().rev().collect(),
        }
    }
}

/// A part of the base's work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseWork {
    /// Saw its board, its plies or its wedges.
    Saw,
    /// Glue the plies crosswise, or the wedges together.
    GlueUp,
    /// Make it round and of its thickness.
    Round,
    /// Turn its place into the ring.
    Mortise,
    /// Set it in, or glue it under.
    Set,
}

/// A part of the work.
#[derive(Clone, Debug, PartialEq)]
pub enum Work {
    /// Take the boards, or buy them.
    Boards,
    /// Rip the strips of one thickness; its place among [`Order::rips`].
    Rip(usize),
    /// Something of the base.
    Base(BaseWork),
    /// Saw a ring's segments, or a disc.
    Cut,
    /// Dry-fit and glue them.
    GlueUp,
    /// Flatten both faces.
    Flatten,
    /// Fix a waste block on a faceplate and turn it true.
    Block(End),
    /// Glue the first ring on the block.
    Mount(End),
    /// Turn the open face flat and glue the next ring on it; holds the ring below it, as
    /// it stands on the lathe.
    Stack(usize),
    /// Saw slots through the rings and glue strips in; the set's place in the
    /// vessel's list.
    Inlay(usize),
    /// Turn the inside of some rings.
    Inside(Stage),
    /// Turn both open faces true, and try them.
    TrueHalves,
    /// Glue the halves together; holds the ring below the joint.
    Join(usize),
    /// Turn the outside.
    Outside,
    /// Sand and finish.
    Finish,
    /// Part off an end.
    Part(End),
}

/// In which part of the list a step stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chapter {
    /// Boards and strips.
    Wood,
    /// The rings, one by one.
    Rings,
    /// Rings that are glued, sawn and filled as stacks of their own.
    Stacks,
    /// The rings on the lathe: one piece, or the lower half.
    Lower,
    /// The upper half.
    Upper,
    /// All of it.
    Whole,
}

/// A step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Stays the same while the design changes around it.
    pub id: String,
    /// Where it stands.
    pub chapter: Chapter,
    /// What is done.
    pub work: Work,
    /// The rings that it is about, from the foot up.
    pub rings: Range<usize>,
    /// Numbers beside the rings' own that a tick is kept with.
    pub lengths_mm: Vec<f64>,
}

/// The order of work.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// One, or the lower and the upper.
    pub halves: Vec<Half>,
    /// The rings below the joint of the halves; 0 for one piece.
    pub meeting: usize,
    /// What the page would choose by itself.
    pub own_meeting: usize,
    /// The steps.
    pub steps: Vec<Step>,
    /// The base, where there is one.
    pub base: Option<BasePlan>,
    /// How the base stands among the rings.
    pub base_is: BaseIs,
    /// What is ripped, by thickness.
    pub rips: Vec<Vec<Cut>>,
    /// Rings that come on as one stack, their slots sawn and filled before.
    pub apart: Vec<Range<usize>>,
}

impl Order {
    /// The stack of its own that this ring is in.
    pub fn apart_of(&self, ring: usize) -> Option<&Range<usize>> {
        self.apart.iter().find(|span| span.contains(&ring))
    }
}

/// Heights at which the inside is walked, beside every joint.
const HEIGHTS: u32 = 160;

/// The inside, and how far up and down each place of it may be closed in.
struct Inside {
    tool: Tool,
    /// Heights and inside radii, rising.
    places: Vec<(f64, f64)>,
    /// The highest and the lowest open end from which each place is reached.
    limits: Vec<(f64, f64)>,
    /// For each ring, the strictest of its places; nothing for one without an inside.
    rings: Vec<Option<(f64, f64)>>,
    faces: Vec<(f64, f64)>,
}

impl Inside {
    fn of(tool: Tool, wall: &Wall, plan: &StackPlan) -> Inside {
        let rim_mm = wall.outside.height_mm();
        let floor_mm = wall.floor_mm.clamp(0.0, rim_mm);
        let faces: Vec<(f64, f64)> = plan
            .rings
            .iter()
            .map(|ring| {
                (
                    ring.span.bottom_mm.min(rim_mm),
                    ring.span.top_mm.min(rim_mm),
                )
            })
            .collect();
        let mut heights: Vec<f64> = (0..=HEIGHTS)
            .map(|step| floor_mm + (rim_mm - floor_mm) * f64::from(step) / f64::from(HEIGHTS))
            .collect();
        for face in faces.iter().filter(|face| face.1 > floor_mm) {
            put_among(&mut heights, face.1);
        }
        let places: Vec<(f64, f64)> = heights
            .into_iter()
            .map(|z| (z, wall.inside_radius_at(z)))
            .collect();
        let limits = (0..places.len())
            .map(|at| {
                let up = farthest(tool, places[at], places[at + 1..].iter().copied());
                let down = farthest(tool, places[at], places[..at].iter().rev().copied());
                (up, down)
            })
            .collect();
        let mut inside = Inside {
            tool,
            places,
            limits,
            rings: Vec::new(),
            faces,
        };
        inside.rings = (0..inside.faces.len())
            .map(|ring| inside.ring_limits(ring))
            .collect();
        inside
    }

    /// The strictest limits of the places in a ring that have an inside.
    fn ring_limits(&self, ring: usize) -> Option<(f64, f64)> {
        let (bottom, top) = self.faces[ring];
        let in_ring = self.places.iter().zip(&self.limits).filter(|((z, r), _)| {
            *r > 0.0 && *z >= bottom - 1e-9 && *z <= top + 1e-9 && top > bottom
        });
        in_ring
            .map(|(_, limits)| *limits)
            .reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// The last ring of a half that may be glued on before this one's inside must be
    /// turned; it itself where not even its own face is open enough, and whether it is
    /// reached at all. Rings are told in gluing order.
    fn last_before(&self, half: &Half, glued: &[usize], at: usize) -> (usize, bool) {
        let Some((up, down)) = self.rings[glued[at]] else {
            return (glued.len() - 1, true);
        };
        let is_reached_from = |ring: usize| match half.on {
            End::Foot => self.faces[ring].1 <= up + 1e-6,
            End::Rim => self.faces[ring].0 >= down - 1e-6,
        };
        let reached = glued[at..]
            .iter()
            .take_while(|ring| is_reached_from(**ring))
            .count();
        (at + reached.saturating_sub(1), reached > 0)
    }

    /// Turns as late as possible, in as few goes as possible.
    fn stages(&self, half: &Half) -> Vec<Stage> {
        let glued = half.glued();
        let mut stages = Vec::new();
        let mut first = 0;
        while first < glued.len() {
            let (mut last, mut is_reached) = (glued.len() - 1, true);
            let mut at = first;
            while at <= last {
                let (own, is_own_reached) = self.last_before(half, &glued, at);
                last = last.min(own);
                is_reached &= is_own_reached;
                at += 1;
            }
            let those = &glued[first..=last];
            if those.iter().any(|ring| self.rings[*ring].is_some()) {
                let rings = span_of(those);
                let before = glued.get(last + 1).copied();
                stages.push(self.stage(half.on, rings, before, is_reached));
            }
            first = last + 1;
        }
        stages
    }

    /// The figures of a stage: from its open end to its deepest place.
    fn stage(
        &self,
        on: End,
        rings: Range<usize>,
        before: Option<usize>,
        is_reached: bool,
    ) -> Stage {
        let (bottom, top) = (self.faces[rings.start].0, self.faces[rings.end - 1].1);
        let hollow: Vec<(f64, f64)> = self
            .places
            .iter()
            .copied()
            .filter(|(z, r)| *r > 0.0 && *z >= bottom - 1e-9 && *z <= top + 1e-9)
            .collect();
        let from_deepest: Vec<(f64, f64)> = match on {
            End::Foot => hollow,
            End::Rim => hollow.into_iter().rev().collect(),
        };
        let deepest = from_deepest.first().copied().unwrap_or((bottom, 0.0));
        let mut walk = Walk::from(self.tool, deepest.1);
        let mut depth_mm = 0.0;
        for (z, r) in from_deepest.iter().skip(1) {
            depth_mm = (z - deepest.0).abs();
            walk.reaches(depth_mm, *r);
        }
        Stage {
            rings,
            before,
            depth_mm,
            opening_mm: walk.opening_mm(),
            overhang_mm: walk.overhang_mm(),
            is_reached,
        }
    }

    fn half(&self, on: End, rings: Range<usize>) -> Half {
        let mut half = Half {
            on,
            rings,
            stages: Vec::new(),
        };
        half.stages = self.stages(&half);
        half
    }

    fn halves(&self, meeting: usize) -> Vec<Half> {
        let count = self.faces.len();
        if meeting == 0 {
            vec![self.half(End::Foot, 0..count)]
        } else {
            vec![
                self.half(End::Foot, 0..meeting),
                self.half(End::Rim, meeting..count),
            ]
        }
    }

    /// Inside radius at the joint above so many rings.
    fn radius_above(&self, rings: usize) -> f64 {
        let height = self.faces[rings - 1].1;
        let at = self.places.partition_point(|(z, _)| *z < height - 1e-9);
        self.places.get(at).map_or(0.0, |place| place.1)
    }

    /// One piece where the rim lets the tool at everything; else the joint that leaves
    /// the fewest rings out of reach, then the fewest goes, then the widest way in.
    fn choose(&self, inlays: &[Range<usize>]) -> usize {
        let cost = |halves: &[Half]| {
            let stages = halves.iter().flat_map(|half| &half.stages);
            let missed: usize = stages
                .clone()
                .filter(|stage| !stage.is_reached)
                .map(|stage| stage.rings.len())
                .sum();
            (missed, stages.count())
        };
        let whole = cost(&self.halves(0));
        if whole.0 == 0 && whole.1 <= 1 {
            return 0;
        }
        let is_free = |meeting: &usize| {
            let cuts = |inlay: &&Range<usize>| inlay.start < *meeting && *meeting < inlay.end;
            inlays.iter().find(cuts).is_none()
        };
        (1..self.faces.len())
            .filter(is_free)
            .map(|meeting| (meeting, cost(&self.halves(meeting))))
            .min_by(|a, b| {
                let wider = || self.radius_above(b.0).total_cmp(&self.radius_above(a.0));
                a.1.cmp(&b.1).then_with(wider)
            })
            .filter(|(_, cost)| *cost <= whole)
            .map_or(0, |(meeting, _)| meeting)
    }
}

/// The farthest open end from which a place is reached, walking along these.
fn farthest(tool: Tool, from: (f64, f64), way: impl Iterator<Item = (f64, f64)>) -> f64 {
    let mut walk = Walk::from(tool, from.1);
    way.take_while(|(z, r)| walk.reaches((z - from.0).abs(), *r))
        .last()
        .map_or(from.0, |(z, _)| z)
}

/// The range that some neighbouring rings make up, in whichever order they are told.
fn span_of(rings: &[usize]) -> Range<usize> {
    let first = rings.iter().copied().min().unwrap_or(0);
    let last = rings.iter().copied().max().unwrap_or(0);
    first..last + 1
}

/// The order of work for a vessel; nothing where it has no wall or no ring. `inlays` are
/// the spans of rings that slots are sawn through together, one a set, empty where a set
/// has none.
pub fn order(plan: &StackPlan, inlays: &[Range<usize>]) -> Option<Order> {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let wall = plan.wall.as_ref()?;
    let count = vessel.rings.len();
    if count == 0 {
        return None;
    }
    let inside = Inside::of(Tool::of(design), wall, plan);
    let own_meeting = inside.choose(inlays);
    let meeting = design
        .bench_or_usual()
        .meet_above_ring
        .map_or(own_meeting, |ring| (ring as usize).min(count - 1));
    let halves = inside.halves(meeting);
    let base = base::plan(design, None, Some(plan));
    let base_is = base
        .as_ref()
        .map_or(BaseIs::Ring, |base| base_is(design, vessel, base));
    let rips = extra::rips(plan);
    let is_plies = plan.rings.first().is_some_and(|it| it.made == Made::Plies);
    let within = base.as_ref().filter(|_| base_is == BaseIs::Within);
    let mut steps = Vec::new();
    extra::board_steps(&mut steps, &rips, count);
    for (place, ring) in vessel.rings.iter().enumerate() {
        let is_lowest = place == 0;
        if !(is_lowest && is_plies) {
            ring_steps(&mut steps, place, ring);
        }
        if let Some(base) = base.as_ref().filter(|_| is_lowest) {
            extra::base_steps(&mut steps, base, base_is);
        }
    }
    let apart = stacks_apart(&halves, inlays, within.is_some());
    for half in &halves {
        for span in apart.iter().filter(|span| is_within(span, &half.rings)) {
            apart_steps(&mut steps, half, span, inlays);
        }
    }
    for half in &halves {
        half_steps(&mut steps, half, halves.len() == 1, inlays, &apart, within);
    }
    whole_steps(&mut steps, &halves, meeting, inlays);
    for step in &mut steps {
        if let Work::Inlay(set) = step.work
            && let Some(Some(own)) = plan.slot_sets.get(set)
        {
            step.lengths_mm = extra::slot_lengths_mm(own);
        }
    }
    Some(Order {
        halves,
        meeting,
        own_meeting,
        steps,
        base,
        base_is,
        rips,
        apart,
    })
}

/// The rings whose slots are sawn before they go on the piece, sets that share rings
/// taken together: fence and clamps are set for such a stack alone. Left out are those
/// between whose rings the inside must be turned or the base be set, or the halves meet:
/// there the slots are sawn on the piece.
fn stacks_apart(
    halves: &[Half],
    inlays: &[Range<usize>],
    is_base_within: bool,
) -> Vec<Range<usize>> {
    let mut spans: Vec<Range<usize>> = Vec::new();
    for inlay in inlays.iter().filter(|inlay| !inlay.is_empty()) {
        let mut span = inlay.clone();
        let shares =
            |it: &Range<usize>, span: &Range<usize>| it.start < span.end && span.start < it.end;
        while let Some(at) = spans.iter().position(|it| shares(it, &span)) {
            let other = spans.remove(at);
            span = span.start.min(other.start)..span.end.max(other.end);
        }
        spans.push(span);
    }
    spans.retain(|span| {
        let takes_base = is_base_within && span.start == 0 && span.len() > 1;
        let half = halves.iter().find(|half| is_within(span, &half.rings));
        let closes = |half: &Half| {
            let mut closing = half.stages.iter().filter_map(|stage| stage.before);
            closing.any(|ring| is_inner(ring, span, half.on))
        };
        !takes_base && half.is_some_and(|half| !closes(half))
    });
    spans
}

/// Whether a ring is in a stack and not the one by which that comes on.
fn is_inner(ring: usize, span: &Range<usize>, on: End) -> bool {
    let first = match on {
        End::Foot => span.start,
        End::Rim => span.end - 1,
    };
    span.contains(&ring) && ring != first
}

/// A stack of its own: glued in the order in which its half is, then its slots.
fn apart_steps(steps: &mut Vec<Step>, half: &Half, span: &Range<usize>, inlays: &[Range<usize>]) {
    let mut below = None;
    for ring in half.glued().into_iter().filter(|ring| span.contains(ring)) {
        if let Some(below) = below {
            let id = format!("stack-{}", ring + 1);
            steps.push(step(
                id,
                Chapter::Stacks,
                Work::Stack(below),
                ring..ring + 1,
            ));
        }
        below = Some(ring);
    }
    for (number, inlay) in inlays.iter().enumerate() {
        if !inlay.is_empty() && is_within(inlay, span) {
            let id = format!("inlay-{}", number + 1);
            steps.push(step(
                id,
                Chapter::Stacks,
                Work::Inlay(number),
                inlay.clone(),
            ));
        }
    }
}

fn step(id: String, chapter: Chapter, work: Work, rings: Range<usize>) -> Step {
    Step {
        id,
        chapter,
        work,
        rings,
        lengths_mm: Vec::new(),
    }
}

fn ring_steps(steps: &mut Vec<Step>, place: usize, ring: &StackRing) {
    let number = place + 1;
    let mut add = |name: &str, work| {
        let id = format!("{name}-{number}");
        steps.push(step(id, Chapter::Rings, work, place..place + 1));
    };
    add("cut", Work::Cut);
    if ring.made_of == MadeOf::Segments {
        add("glue", Work::GlueUp);
    }
    add("flat", Work::Flatten);
}

/// Everything on one block, ring by ring: what would be closed in or built over is done
/// before the next ring comes on.
fn half_steps(
    steps: &mut Vec<Step>,
    half: &Half,
    is_whole: bool,
    inlays: &[Range<usize>],
    apart: &[Range<usize>],
    within: Option<&BasePlan>,
) {
    let chapter = match half.on {
        End::Foot => Chapter::Lower,
        End::Rim => Chapter::Upper,
    };
    let word = half.on.word();
    let glued = half.glued();
    let mut below = None;
    for (at, &ring) in glued.iter().enumerate() {
        let this = ring..ring + 1;
        let set = within.filter(|_| ring == 0).map(extra::set_steps);
        let mut add = |id: String, work, rings| steps.push(step(id, chapter, work, rings));
        match below {
            None => {
                add(format!("block-{word}"), Work::Block(half.on), this.clone());
                add(format!("mount-{word}"), Work::Mount(half.on), this);
            }
            // It came on with its stack.
            Some(_) if apart.iter().any(|span| is_inner(ring, span, half.on)) => {}
            Some(below) => add(format!("stack-{}", ring + 1), Work::Stack(below), this),
        }
        below = Some(ring);
        // The next ring closes the mortise in, and may be narrower than the base.
        steps.extend(set.into_iter().flatten());
        let mut add = |id: String, work, rings| steps.push(step(id, chapter, work, rings));
        let so_far = span_of(&glued[..=at]);
        for (number, inlay) in inlays.iter().enumerate() {
            let last = match half.on {
                End::Foot => inlay.end.saturating_sub(1),
                End::Rim => inlay.start,
            };
            let is_done = apart.iter().any(|span| is_within(inlay, span));
            if !inlay.is_empty() && !is_done && last == ring && is_within(inlay, &so_far) {
                add(
                    format!("inlay-{}", number + 1),
                    Work::Inlay(number),
                    inlay.clone(),
                );
            }
        }
        let is_last = at + 1 == glued.len();
        // In one piece the outside is shaped while the wood inside still stiffens it.
        if is_last && is_whole {
            add("outside".to_owned(), Work::Outside, half.rings.clone());
        }
        let due = half.stages.iter().find(|stage| match stage.before {
            Some(before) => glued.get(at + 1) == Some(&before),
            None => is_last,
        });
        if let Some(stage) = due {
            let id = format!("inside-{word}-{}", stage.rings.start + 1);
            add(id, Work::Inside(stage.clone()), stage.rings.clone());
        }
    }
}

fn is_within(inner: &Range<usize>, outer: &Range<usize>) -> bool {
    inner.start >= outer.start && inner.end <= outer.end
}

fn whole_steps(steps: &mut Vec<Step>, halves: &[Half], meeting: usize, inlays: &[Range<usize>]) {
    let all = 0..halves.last().map_or(0, |half| half.rings.end);
    let mut add = |id: &str, work, rings| {
        steps.push(step(id.to_owned(), Chapter::Whole, work, rings));
    };
    if meeting > 0 {
        add("true-halves", Work::TrueHalves, meeting - 1..meeting + 1);
        add("join", Work::Join(meeting - 1), meeting..meeting + 1);
        for (number, inlay) in inlays.iter().enumerate() {
            // A joint that the turner moved into a band of slots: they are sawn last.
            if inlay.start < meeting && meeting < inlay.end {
                add(
                    &format!("inlay-{}", number + 1),
                    Work::Inlay(number),
                    inlay.clone(),
                );
            }
        }
        add("outside", Work::Outside, all.clone());
        add("part-rim", Work::Part(End::Rim), all.end - 1..all.end);
    }
    add("finish", Work::Finish, all);
    add("part-foot", Work::Part(End::Foot), 0..1);
}

/// By what a ring is set true on the one below it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Centring {
    /// A pencil circle of this diameter on the turning face: the ring's outside corners
    /// stand on it.
    Around(f64),
    /// A pencil circle of this diameter: it is just seen within the ring's hole, the
    /// inside flats touch it.
    Within(f64),
    /// Neither circle is seen: by the plug's step, or by measuring how far the corners
    /// stand out over the ring that was turned round.
    Out(f64),
}

/// How a ring is centred on the face of another.
pub fn centring(below: &RingInStack, above: &RingInStack) -> Centring {
    let (low, high) = (flats_mm(below), flats_mm(above));
    // A line must be seen: a pencil's width of face beside it.
    let line = 1.0;
    let hole_below = below
        .segment
        .map_or(0.0, |segment| segment.smallest_hole_mm / 2.0);
    if above.reach_mm + line <= low.1 {
        Centring::Around(2.0 * above.reach_mm)
    } else if high.0 > 0.0 && hole_below + line <= high.0 {
        Centring::Within(2.0 * high.0)
    } else {
        Centring::Out((above.reach_mm - low.1).max(0.0))
    }
}

/// A short text that stays the same as long as the numbers of a step do, to a tenth of
/// a millimeter, whatever unit is shown.
pub fn mark(plan: &StackPlan, step: &Step) -> String {
    let vessel = &plan.vessel;
    let mut sum = Sum(0x811c_9dc5);
    let rings = || vessel.rings.iter().zip(&plan.rings);
    match &step.work {
        Work::Cut | Work::GlueUp => {
            for (ring, planned) in rings().skip(step.rings.start).take(1) {
                sum.blank(ring, planned);
                for segment in 0..ring.segment_count {
                    if let Some(name) = vessel.woods.get(ring.wood_of(segment)) {
                        sum.text(name);
                    }
                }
            }
        }
        Work::Flatten => {
            for (ring, _) in rings().skip(step.rings.start).take(1) {
                sum.length(ring.height_mm);
            }
        }
        Work::Mount(_) | Work::Stack(_) | Work::Join(_) => {
            let below = match step.work {
                Work::Stack(below) | Work::Join(below) => below,
                _ => step.rings.start,
            };
            for place in [below, step.rings.start] {
                for (ring, planned) in rings().skip(place).take(1) {
                    sum.blank(ring, planned);
                    sum.number(u64::from(ring.turn_half_segments));
                }
            }
        }
        Work::Inside(_) | Work::Outside => {
            let is_inside = matches!(step.work, Work::Inside(_));
            for (_, planned) in rings().skip(step.rings.start).take(step.rings.len()) {
                let Some(wall) = &plan.wall else { continue };
                for z in [planned.span.bottom_mm, planned.span.top_mm] {
                    sum.length(if is_inside {
                        wall.smallest_inside(z, z)
                    } else {
                        wall.outside.radius_at(z)
                    });
                }
            }
        }
        Work::Boards
        | Work::Rip(_)
        | Work::Base(_)
        | Work::Inlay(_)
        | Work::Block(_)
        | Work::TrueHalves
        | Work::Finish
        | Work::Part(_) => {}
    }
    for length_mm in &step.lengths_mm {
        sum.length(*length_mm);
    }
    format!("{:x}", sum.0)
}

/// FNV-1a, 32 bits (offset basis and prime of Fowler, Noll and Vo).
struct Sum(u32);

impl Sum {
    fn byte(&mut self, byte: u8) {
        self.0 = (self.0 ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    }

    fn number(&mut self, number: u64) {
        for byte in number.to_le_bytes() {
            self.byte(byte);
        }
    }

    fn text(&mut self, text: &str) {
        for byte in text.bytes() {
            self.byte(byte);
        }
    }

    fn length(&mut self, length_mm: f64) {
        self.number((length_mm * 10.0).round() as u64);
    }

    /// What a ring is sawn to.
    fn blank(&mut self, ring: &StackRing, planned: &RingInStack) {
        self.number(u64::from(ring.segment_count));
        self.length(ring.height_mm);
        self.length(planned.reach_mm);
        if let Some(segment) = &planned.segment {
            self.length(segment.outside.long_edge_mm);
            self.length(segment.strip_width_mm);
        }
    }
}

/// What becomes of a tick when the design has changed since.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ticked {
    /// Not ticked.
    No,
    /// Ticked, with the numbers that stand there now.
    Yes,
    /// Ticked with other numbers.
    Changed,
}

/// The ticks of the steps. A tick is a step's id with the mark of its numbers; `marks`
/// are the steps' ids and marks now. A tick whose numbers moved to another step of the
/// same work (a ring was put in below it) goes with them; one whose step is gone falls.
pub fn ticked(marks: &[(String, String)], ticks: &[(String, String)]) -> Vec<Ticked> {
    let kind = |id: &str| id.split('-').next().unwrap_or("").to_owned();
    let own = |id: &str| ticks.iter().find(|tick| tick.0 == id);
    let is_used = |tick: &(String, String)| marks.contains(tick);
    marks
        .iter()
        .map(|step| {
            let moved = || {
                ticks.iter().any(|tick| {
                    !is_used(tick) && tick.1 == step.1 && kind(&tick.0) == kind(&step.0)
                })
            };
            match own(&step.0) {
                Some(tick) if tick.1 == step.1 => Ticked::Yes,
                _ if moved() => Ticked::Yes,
                Some(_) => Ticked::Changed,
                None => Ticked::No,
            }
        })
        .collect()
}
