//! The steps, one after the other, each with its facts.

use super::extra;
use super::facts::{Block, Depth, End, Face, Fact, FinishWork, Piece, Side};
use super::reach::span_of;
use super::step::{BaseIs, BaseWork, Chapter, Half, Step, Work, is_within};
use crate::design::{BaseKind, Between, Design, MadeOf, RingsClose, StackIs, Vessel};
use crate::plan::base::BasePlan;
use crate::plan::finish;
use crate::plan::floor::base_place;
use crate::plan::open_ring::is_open;
use crate::plan::rings::{Made, RingInStack, flats_mm, trued_mm};
use crate::plan::stack::StackPlan;
use crate::trade::lathe::block_mm;
use std::ops::Range;

/// The rings that slots are sawn through, sets that share rings taken together.
pub(super) fn bands(inlays: &[Range<usize>]) -> Vec<Range<usize>> {
    let mut bands: Vec<Range<usize>> = Vec::new();
    for inlay in inlays.iter().filter(|inlay| !inlay.is_empty()) {
        let mut band = inlay.clone();
        let shares =
            |it: &Range<usize>, band: &Range<usize>| it.start < band.end && band.start < it.end;
        while let Some(at) = bands.iter().position(|it| shares(it, &band)) {
            let other = bands.remove(at);
            band = band.start.min(other.start)..band.end.max(other.end);
        }
        bands.push(band);
    }
    bands
}

/// Whether a band is sawn before it goes on the piece: fence and clamps are set for such
/// a stack alone. Not where the inside must be turned between its rings, or the halves
/// meet: there the slots are sawn on the piece.
pub(super) fn is_apart(band: &Range<usize>, halves: &[Half]) -> bool {
    let half = halves.iter().find(|half| is_within(band, &half.rings));
    let closes = |half: &Half| {
        let mut closing = half.stages.iter().filter_map(|stage| stage.before);
        closing.any(|ring| band.contains(&ring) && ring != first_of(band, half.on))
    };
    half.is_some_and(|half| !closes(half))
}

/// The ring by which some rings come on a half.
fn first_of(span: &Range<usize>, on: End) -> usize {
    match on {
        End::Foot => span.start,
        End::Rim => span.end - 1,
    }
}

/// What the steps are made from.
pub(super) struct Making<'a> {
    pub(super) design: &'a Design,
    pub(super) vessel: &'a Vessel,
    pub(super) plan: &'a StackPlan,
    pub(super) halves: &'a [Half],
    pub(super) inlays: &'a [Range<usize>],
    pub(super) apart: &'a [Range<usize>],
    /// Bands of slots that are sawn on the piece.
    pub(super) on_piece: &'a [Range<usize>],
    pub(super) base: Option<&'a BasePlan>,
    pub(super) base_is: BaseIs,
    pub(super) steps: Vec<Step>,
}

impl Making<'_> {
    fn add(
        &mut self,
        id: String,
        chapter: Chapter,
        work: Work,
        rings: Range<usize>,
        facts: Vec<Fact>,
    ) -> &mut Step {
        let at = self.steps.len();
        self.steps.push(Step {
            id,
            chapter,
            work,
            rings,
            facts,
            lengths_mm: Vec::new(),
        });
        &mut self.steps[at]
    }

    fn reach_mm(&self, ring: usize) -> f64 {
        self.plan.rings.get(ring).map_or(0.0, |it| it.reach_mm)
    }

    /// The end on whose block a stack is built: that of its half.
    fn end_of(&self, span: &Range<usize>) -> End {
        let half = self.halves.iter().find(|half| is_within(span, &half.rings));
        half.map_or(End::Foot, |half| half.on)
    }

    /// What is glued on a block first, and its widest when it is: a stack was turned
    /// round.
    fn lowest(&self, block: Block) -> (Piece, f64) {
        let ring = match block {
            Block::Of(on) => {
                let half = self.halves.iter().find(|half| half.on == on);
                half.map_or(0, |half| first_of(&half.rings, on))
            }
            Block::Stack(at) => first_of(&self.apart[at], self.end_of(&self.apart[at])),
        };
        let under = self.base.filter(|_| self.base_is == BaseIs::Under);
        match (block, under) {
            (Block::Of(End::Foot), Some(base)) => (Piece::Base, base.disc_mm),
            _ => (Piece::Ring(ring), 2.0 * self.reach_mm(ring)),
        }
    }

    fn block_mm(&self, block: Block) -> f64 {
        block_mm(self.lowest(block).1)
    }

    /// The open face of a block.
    fn face_of(&self, block: Block) -> Face {
        let on = match block {
            Block::Of(on) => on,
            Block::Stack(at) => self.end_of(&self.apart[at]),
        };
        on.down().other().of(Piece::Block(block))
    }

    /// A block goes on the spindle with these rings on it.
    fn hold(&self, block: Block, rings: Range<usize>) -> Fact {
        let widest_mm = rings
            .map(|ring| 2.0 * self.reach_mm(ring))
            .fold(self.block_mm(block), f64::max);
        Fact::Hold {
            block,
            swings_mm: widest_mm,
        }
    }

    /// The same with all that is joined.
    fn hold_all(&self, end: End) -> Fact {
        let all = 0..self.vessel.rings.len();
        let mut widest_mm = 0.0_f64;
        for half in self.halves {
            if let Fact::Hold { swings_mm, .. } = self.hold(Block::Of(half.on), all.clone()) {
                widest_mm = widest_mm.max(swings_mm);
            }
        }
        Fact::Hold {
            block: Block::Of(end),
            swings_mm: widest_mm,
        }
    }

    /// A ring turned just round: as wide as its flats.
    fn just_round(&self, ring: usize) -> Fact {
        self.round(ring, |it| flats_mm(it).1)
    }

    /// A ring turned round for slots.
    fn trued(&self, ring: usize) -> Fact {
        self.round(ring, trued_mm)
    }

    fn round(&self, ring: usize, radius_mm: fn(&RingInStack) -> f64) -> Fact {
        Fact::Round {
            piece: Piece::Ring(ring),
            diameter_mm: 2.0 * self.plan.rings.get(ring).map_or(0.0, radius_mm),
        }
    }

    /// Whether a set wants its rings turned round.
    fn is_round(&self, set: usize) -> bool {
        let set = self.vessel.slot_sets.get(set);
        set.is_none_or(|set| set.stack_is == StackIs::TurnedRound)
    }

    /// The sets of a band: those sawn on the rings' flats, and those after them on the
    /// round, where there are none left.
    fn sets_in(&self, band: &Range<usize>) -> [Vec<usize>; 2] {
        let is_in = |set: &usize| {
            let inlay = &self.inlays[*set];
            !inlay.is_empty() && is_within(inlay, band)
        };
        let sets = (0..self.inlays.len()).filter(is_in);
        let (round, flat) = sets.partition(|set| self.is_round(*set));
        [flat, round]
    }

    fn inlay(&mut self, set: usize, chapter: Chapter, mut before: Vec<Fact>, ends: Vec<Face>) {
        let id = format!("inlay-{}", set + 1);
        let own = self.plan.slot_sets.get(set).and_then(Option::as_ref);
        let lengths_mm = own.map_or_else(Vec::new, extra::slot_lengths_mm);
        let rings = self.inlays[set].clone();
        // Both faces are free for discs only of a stack of its own.
        let is_apart = self.apart.contains(&rings);
        let between_discs = own.filter(|own| own.is_open() && own.disc_mm() > 0.0 && is_apart);
        if between_discs.is_some_and(|own| own.discs_since.is_none()) {
            before.push(Fact::DiscsOn(rings.clone()));
        }
        before.push(Fact::Slots(set));
        if let Some(own) = between_discs {
            if own.discs_until.is_none() {
                before.push(Fact::DiscsOff(rings.clone()));
                before.extend(ends.into_iter().map(Fact::Flatten));
            }
        } else {
            // The strips stand out there until they are trimmed.
            before.extend(ends.into_iter().map(Fact::Flatten));
        }
        self.add(id, chapter, Work::Inlay(set), rings, before)
            .lengths_mm = lengths_mm;
    }

    /// All blocks first: nothing can be turned before there is something to hold it.
    pub(super) fn blocks(&mut self) {
        let ends = self.halves.iter().map(|half| Block::Of(half.on));
        let all: Vec<Block> = ends
            .chain((0..self.apart.len()).map(Block::Stack))
            .collect();
        for block in all {
            let rings = match block {
                Block::Of(End::Foot) => 0..1,
                Block::Of(End::Rim) => self.vessel.rings.len() - 1..self.vessel.rings.len(),
                Block::Stack(at) => self.apart[at].clone(),
            };
            let diameter_mm = self.block_mm(block);
            let piece = Piece::Block(block);
            let facts = vec![
                Fact::Screw { block, diameter_mm },
                self.hold(block, 0..0),
                Fact::Round { piece, diameter_mm },
                Fact::Face(self.face_of(block)),
            ];
            let id = format!("block-{}", self.word(block));
            self.add(id, Chapter::Blocks, Work::Block(block), rings, facts)
                .lengths_mm = vec![diameter_mm];
        }
    }

    /// A word for a block, as part of a step's id.
    fn word(&self, block: Block) -> String {
        match block {
            Block::Of(end) => end.word().to_owned(),
            Block::Stack(at) => format!("stack-{}", self.apart[at].start + 1),
        }
    }

    /// The rings, and the base: all are sawn while the saw is set up, then glued up, then
    /// flattened.
    pub(super) fn rings(&mut self) {
        let made = |place: &usize| {
            // What is glued and flat already is not made again.
            let is_glued = self.vessel.rings[*place].is_glued();
            self.plan.rings[*place].made != Made::Plies && !is_glued
        };
        let places: Vec<usize> = (0..self.vessel.rings.len()).filter(made).collect();
        for &place in &places {
            let own = self.plan.rings[place].stripes.as_ref();
            if own.is_some_and(|own| own.board.is_some()) {
                self.ring("stripes", Work::Stripes, place, Vec::new());
            }
        }
        for &place in &places {
            self.ring("cut", Work::Cut, place, vec![Fact::Saw(Piece::Ring(place))]);
        }
        let in_halves = places.iter().copied().filter(|it| self.is_in_halves(*it));
        let in_halves: Vec<usize> = in_halves.collect();
        for &place in &in_halves {
            let glue = vec![Fact::GlueHalves(Piece::Ring(place))];
            self.ring("halves", Work::Halves, place, glue);
        }
        for &place in &in_halves {
            let ends = vec![Fact::TrueEnds(Piece::Ring(place))];
            self.ring("ends", Work::TrueEnds, place, ends);
        }
        for &place in &places {
            if self.vessel.rings[place].made_of == MadeOf::Segments && !self.is_set_singly(place) {
                let glue = vec![Fact::GlueUp(Piece::Ring(place))];
                self.ring("glue", Work::GlueUp, place, glue);
            }
        }
        for &place in &places {
            if self.is_set_singly(place) {
                continue;
            }
            self.ring("flat", Work::Flatten, place, flatten(Piece::Ring(place)));
        }
        if let Some(base) = self.base {
            self.base(base);
        }
    }

    /// Whether a ring is glued as two halves: alike they are only where its count is even,
    /// all its segments are as wide, and no air stands between them.
    fn is_in_halves(&self, place: usize) -> bool {
        let ring = &self.vessel.rings[place];
        self.design.bench_or_usual().rings_close == RingsClose::InHalves
            && ring.made_of == MadeOf::Segments
            && ring.segment_count.is_multiple_of(2)
            && ring.shares.is_empty()
            && ring.between != Between::Gap
            && self.plan.rings[place].segment.is_some()
    }

    /// Whether a ring's segments are glued one by one on the ring or block that it comes on: air
    /// stands between them, and nothing else would hold them together. What begins a stack of its
    /// own is split off its block again: it is glued up as one piece, with scrap in the gaps.
    fn is_set_singly(&self, place: usize) -> bool {
        let mut of_stacks = self
            .apart
            .iter()
            .map(|span| first_of(span, self.end_of(span)));
        is_open(self.plan, place)
            && !self.vessel.rings[place].is_glued()
            && !of_stacks.any(|first| first == place)
    }

    /// What is done to a ring before it is glued on by a face, where its segments are set one by
    /// one: each as flat as its strip was planed.
    fn set_singly(&self, ring: usize, face: Side) -> Vec<Fact> {
        let piece = Piece::Ring(ring);
        if self.is_set_singly(ring) {
            vec![Fact::GlueUp(piece), Fact::Flatten(face.of(piece))]
        } else {
            Vec::new()
        }
    }

    fn ring(&mut self, name: &str, work: Work, place: usize, facts: Vec<Fact>) {
        let id = format!("{name}-{}", place + 1);
        self.add(id, Chapter::Rings, work, place..place + 1, facts);
    }

    /// The steps that make the base, before it meets its ring.
    fn base(&mut self, base: &BasePlan) {
        let kind = base.choice.kind;
        // A disc or a ring of wedges that is the lowest ring is sawn as any ring.
        let is_ring = self.base_is == BaseIs::Ring;
        if kind == BaseKind::Open || (is_ring && self.plan.rings[0].made != Made::Plies) {
            return;
        }
        let piece = if is_ring { Piece::Ring(0) } else { Piece::Base };
        self.base_step(base, BaseWork::Saw, Chapter::Rings, vec![Fact::Saw(piece)]);
        if kind != BaseKind::Solid {
            let facts = vec![Fact::GlueUp(piece)];
            self.base_step(base, BaseWork::GlueUp, Chapter::Rings, facts);
        }
        if is_ring {
            // Turned with the rings, once they are glued on.
            return self.base_step(base, BaseWork::Round, Chapter::Rings, flatten(piece));
        }
        let block = Block::Of(End::Foot);
        // Sawn round with the outside's allowance, it is held by its middle.
        let rough_mm = base.disc_mm + 2.0 * self.design.allowance.outside_mm;
        let mut facts = flatten(piece);
        facts.extend([
            self.hold(block, 0..0),
            Fact::Press {
                piece,
                swings_mm: rough_mm.max(self.block_mm(block)),
            },
            Fact::Round {
                piece,
                diameter_mm: base.disc_mm,
            },
        ]);
        self.base_step(base, BaseWork::Round, Chapter::Rings, facts);
    }

    fn base_step(&mut self, base: &BasePlan, work: BaseWork, chapter: Chapter, facts: Vec<Fact>) {
        let word = match work {
            BaseWork::Saw => "saw",
            BaseWork::GlueUp => "glue",
            BaseWork::Round => "round",
            BaseWork::Mortise => "mortise",
            BaseWork::Set => "set",
        };
        // In the ring that it is let into.
        let is_in = matches!(work, BaseWork::Mortise | BaseWork::Set);
        let ring = if is_in && self.base_is == BaseIs::Within {
            base_place(&base.choice, self.vessel)
        } else {
            0
        };
        let id = format!("base-{word}");
        self.add(id, chapter, Work::Base(work), ring..ring + 1, facts)
            .lengths_mm = extra::base_lengths_mm(base);
    }

    /// Mortise and base of the ring that it is set into, once that stands on a block: the
    /// next ring closes the mortise in, and may be narrower than the base.
    fn set_base(&mut self, on: Block, ring: usize, so_far: Range<usize>, chapter: Chapter) {
        let within = self.base.filter(|_| self.base_is == BaseIs::Within);
        let place = within.map(|base| base_place(&base.choice, self.vessel));
        let Some(base) = within.filter(|_| place == Some(ring)) else {
            return;
        };
        let mortise = Fact::Mortise {
            ring,
            diameter_mm: base.mortise_mm.unwrap_or(base.disc_mm),
            depth: match base.through_mm {
                Some(hole_mm) => Depth::From {
                    side: Side::Rim,
                    depth_mm: base.thickness_mm.min(base.around.height_mm),
                    hole_mm,
                },
                None => Depth::Through,
            },
        };
        let facts = vec![self.hold(on, so_far), mortise];
        self.base_step(base, BaseWork::Mortise, chapter, facts);
        self.base_step(base, BaseWork::Set, chapter, vec![Fact::LetIn { ring }]);
    }

    /// The steps of each stack of its own: on a block, in the order in which its half is
    /// glued; turned, split off, then its slots.
    pub(super) fn stacks(&mut self) {
        for at in 0..self.apart.len() {
            let span = self.apart[at].clone();
            let (block, on) = (Block::Stack(at), self.end_of(&span));
            let first = first_of(&span, on);
            let [flat, round] = self.sets_in(&span);
            let glue = Fact::Glue {
                face: on.down().of(Piece::Ring(first)),
                to: self.face_of(block),
            };
            let word = self.word(block);
            let facts = vec![glue.clone()];
            self.add(
                format!("mount-{word}"),
                Chapter::Stacks,
                Work::Mount(block),
                first..first + 1,
                facts,
            );
            self.set_base(block, first, first..first + 1, Chapter::Stacks);
            let mut below = first;
            for ring in glued(&span, on).into_iter().skip(1) {
                let so_far = below.min(first)..below.max(first) + 1;
                // What lies on its flats at the saw keeps them.
                let is_round = flat.is_empty();
                self.stack(block, so_far, below, ring, is_round, Chapter::Stacks);
                let so_far = ring.min(first)..ring.max(first) + 1;
                self.set_base(block, ring, so_far, Chapter::Stacks);
                below = ring;
            }
            for (sets, is_round) in [(flat.clone(), false), (round, true)] {
                if sets.is_empty() {
                    continue;
                }
                let mut facts = Vec::new();
                if is_round && !flat.is_empty() {
                    facts.extend([
                        self.hold(block, 0..0),
                        Fact::Face(self.face_of(block)),
                        glue.clone(),
                    ]);
                }
                facts.push(self.hold(block, span.clone()));
                if is_round {
                    facts.extend(span.clone().map(|ring| self.trued(ring)));
                }
                facts.push(Fact::Face(on.down().other().of(Piece::Ring(below))));
                facts.push(Fact::Split(block));
                facts.push(Fact::Flatten(on.down().of(Piece::Ring(first))));
                let rounds = facts.iter().filter_map(|fact| match fact {
                    Fact::Round { diameter_mm, .. } => Some(*diameter_mm),
                    _ => None,
                });
                let lengths_mm = rounds.collect();
                let name = if is_round { "round" } else { "ends" };
                self.add(
                    format!("{name}-{}", span.start + 1),
                    Chapter::Stacks,
                    Work::True(at),
                    span.clone(),
                    facts,
                )
                .lengths_mm = lengths_mm;
                let ends = vec![
                    Side::Foot.of(Piece::Ring(span.start)),
                    Side::Rim.of(Piece::Ring(span.end - 1)),
                ];
                for set in sets {
                    self.inlay(set, Chapter::Stacks, Vec::new(), ends.clone());
                }
            }
        }
    }

    /// The open face turned flat, and the next ring glued on it.
    fn stack(
        &mut self,
        block: Block,
        so_far: Range<usize>,
        below: usize,
        ring: usize,
        is_round: bool,
        chapter: Chapter,
    ) {
        let Face { side: open, .. } = self.face_of(block);
        let to = open.of(Piece::Ring(below));
        let mut facts = vec![self.hold(block, so_far), Fact::Face(to)];
        facts.extend(is_round.then(|| self.just_round(below)));
        facts.extend(self.set_singly(ring, open.other()));
        facts.push(Fact::Glue {
            face: open.other().of(Piece::Ring(ring)),
            to,
        });
        let id = format!("stack-{}", ring + 1);
        self.add(id, chapter, Work::Stack(below), ring..ring + 1, facts);
    }

    /// Everything on one block, ring by ring: what would be closed in or built over is
    /// done before the next ring comes on.
    pub(super) fn half(&mut self, half: &Half) {
        let chapter = match half.on {
            End::Foot => Chapter::Lower,
            End::Rim => Chapter::Upper,
        };
        let (word, block) = (half.on.word(), Block::Of(half.on));
        let (open, down) = (half.on.down().other(), half.on.down());
        let glued = half.glued();
        let under = self.base.filter(|_| self.base_is == BaseIs::Under);
        for (at, &ring) in glued.iter().enumerate() {
            let span = self.apart.iter().find(|span| span.contains(&ring)).cloned();
            let came = span
                .as_ref()
                .is_some_and(|it| ring != first_of(it, half.on));
            let so_far = span_of(&glued[..=at]);
            match at.checked_sub(1).map(|below| glued[below]) {
                None => {
                    let mut lowest = down.of(Piece::Ring(ring));
                    if let Some(base) = under.filter(|_| ring == 0) {
                        let face = Side::Rim.of(Piece::Base);
                        let facts = vec![Fact::Glue { face, to: lowest }];
                        self.base_step(base, BaseWork::Set, chapter, facts);
                        lowest = Side::Foot.of(Piece::Base);
                    }
                    let mut facts = self.set_singly(ring, down);
                    facts.push(Fact::Glue {
                        face: lowest,
                        to: self.face_of(block),
                    });
                    let work = Work::Mount(block);
                    self.add(
                        format!("mount-{word}"),
                        chapter,
                        work,
                        ring..ring + 1,
                        facts,
                    );
                }
                // It came on with its stack.
                Some(_) if came => {}
                Some(below) => {
                    let before = span_of(&glued[..at]);
                    let is_round = !self.keeps_flats(below);
                    self.stack(block, before, below, ring, is_round, chapter);
                }
            }
            if span.is_none() {
                self.set_base(block, ring, so_far.clone(), chapter);
            }
            let due = self.on_piece.iter().find(|band| {
                is_within(band, &half.rings) && ring == first_of(band, other(half.on))
            });
            if let Some(band) = due {
                let hold = self.hold(block, so_far.clone());
                self.sets_on_piece(band, &hold, chapter);
            }
            let is_last = at + 1 == glued.len();
            // In one piece the outside is shaped while the wood inside still stiffens it.
            if is_last && self.halves.len() == 1 {
                let facts = vec![
                    self.hold(block, so_far.clone()),
                    Fact::Shape(half.rings.clone()),
                    Fact::Face(open.of(Piece::Ring(ring))),
                ];
                let rings = half.rings.clone();
                self.add("outside".to_owned(), chapter, Work::Outside, rings, facts);
            }
            let due = half.stages.iter().find(|stage| match stage.before {
                Some(before) => glued.get(at + 1) == Some(&before),
                None => is_last,
            });
            if let Some(stage) = due {
                let id = format!("inside-{word}-{}", stage.rings.start + 1);
                let rings = stage.rings.clone();
                let facts = vec![self.hold(block, so_far), Fact::Hollow(rings.clone())];
                self.add(id, chapter, Work::Inside(stage.clone()), rings, facts);
            }
        }
    }

    /// Slots that are sawn on the piece, which is taken off the spindle for them.
    fn sets_on_piece(&mut self, band: &Range<usize>, hold: &Fact, chapter: Chapter) {
        let [flat, round] = self.sets_in(band);
        for (set, is_round) in flat
            .into_iter()
            .map(|set| (set, false))
            .chain(round.into_iter().map(|set| (set, true)))
        {
            let mut facts = vec![hold.clone()];
            if is_round {
                let rings = self.inlays[set].clone();
                facts.extend(rings.map(|ring| self.trued(ring)));
            }
            facts.push(Fact::TakeOff);
            // The open face is turned flat before anything is glued on it.
            self.inlay(set, chapter, facts, Vec::new());
        }
    }

    /// Whether slots are still to be sawn on a ring's flats on the piece.
    fn keeps_flats(&self, ring: usize) -> bool {
        let band = self.on_piece.iter().find(|band| band.contains(&ring));
        band.is_some_and(|band| !self.sets_in(band)[0].is_empty())
    }

    /// What is done to all of it.
    pub(super) fn whole(&mut self, meeting: usize) {
        let count = self.vessel.rings.len();
        let (all, whole) = (0..count, Chapter::Whole);
        let (foot, rim) = (Block::Of(End::Foot), Block::Of(End::Rim));
        if meeting > 0 {
            let faces = [
                Side::Rim.of(Piece::Ring(meeting - 1)),
                Side::Foot.of(Piece::Ring(meeting)),
            ];
            let facts = vec![
                self.hold(foot, 0..meeting),
                Fact::Face(faces[0]),
                self.hold(rim, meeting..count),
                Fact::Face(faces[1]),
            ];
            let both = meeting - 1..meeting + 1;
            self.add(
                "true-halves".to_owned(),
                whole,
                Work::TrueHalves,
                both,
                facts,
            );
            let facts = vec![
                self.hold(foot, 0..meeting),
                Fact::Glue {
                    face: faces[1],
                    to: faces[0],
                },
            ];
            let work = Work::Join(meeting - 1);
            self.add("join".to_owned(), whole, work, meeting..meeting + 1, facts);
            for band in self.on_piece {
                // A joint that the turner moved into a band of slots: they are sawn last.
                if band.start < meeting && meeting < band.end {
                    let hold = self.hold_all(End::Foot);
                    self.sets_on_piece(band, &hold, whole);
                }
            }
            let facts = vec![self.hold_all(End::Foot), Fact::Shape(all.clone())];
            self.add(
                "outside".to_owned(),
                whole,
                Work::Outside,
                all.clone(),
                facts,
            );
            let facts = vec![
                self.hold_all(End::Foot),
                Fact::Part(End::Rim),
                Fact::Face(Side::Rim.of(Piece::Ring(count - 1))),
            ];
            let work = Work::Part(End::Rim);
            self.add("part-rim".to_owned(), whole, work, count - 1..count, facts);
        }
        self.finish();
        let (lowest, _) = self.lowest(foot);
        let swings_mm = self.block_mm(foot).max(2.0 * self.finished_reach_mm());
        let facts = vec![
            self.hold(foot, all.clone()),
            Fact::Part(End::Foot),
            self.hold(foot, 0..0),
            Fact::Press {
                piece: lowest,
                swings_mm,
            },
            Fact::Face(Side::Foot.of(lowest)),
        ];
        let work = Work::Part(End::Foot);
        self.add("part-foot".to_owned(), whole, work, 0..1, facts);
        if finish::finish(self.design).is_decided() {
            self.finishing(FinishWork::Sign, "sign".to_owned(), Vec::new());
        }
    }

    /// Sanding and finish: in one step until a finish is decided.
    fn finish(&mut self) {
        let (all, foot) = (0..self.vessel.rings.len(), Block::Of(End::Foot));
        let held = self.hold(foot, all.clone());
        let own = finish::finish(self.design);
        if !own.is_decided() {
            let facts = vec![held, Fact::Finish];
            self.add(
                "finish".to_owned(),
                Chapter::Whole,
                Work::Finish,
                all,
                facts,
            );
            return;
        }
        self.finishing(FinishWork::Sand, "sand".to_owned(), vec![held.clone()]);
        let grits = own.grits.iter().map(|it| f64::from(*it));
        self.with_numbers(grits.collect());
        self.finishing(FinishWork::Dust, "dust".to_owned(), Vec::new());
        for coat in 0..own.coats {
            let id = format!("coat-{}", coat + 1);
            self.finishing(FinishWork::Coat(coat), id, Vec::new());
            self.with_numbers(vec![f64::from(own.kind as u8), own.wait_min]);
        }
        self.finishing(FinishWork::Buff, "buff".to_owned(), vec![held]);
    }

    /// A step of the finish, of the whole piece.
    fn finishing(&mut self, work: FinishWork, id: String, mut facts: Vec<Fact>) {
        facts.push(Fact::Finishing(work));
        let all = 0..self.vessel.rings.len();
        self.add(id, Chapter::Whole, Work::Finishing(work), all, facts);
    }

    /// Numbers beside the rings' own that the last step's tick is kept with.
    fn with_numbers(&mut self, numbers: Vec<f64>) {
        if let Some(step) = self.steps.last_mut() {
            step.lengths_mm = numbers;
        }
    }

    fn finished_reach_mm(&self) -> f64 {
        let rings = self.plan.rings.iter();
        rings
            .map(|ring| ring.span.outside_radius_mm)
            .fold(0.0, f64::max)
    }
}

fn other(end: End) -> End {
    match end {
        End::Foot => End::Rim,
        End::Rim => End::Foot,
    }
}

fn glued(span: &Range<usize>, on: End) -> Vec<usize> {
    match on {
        End::Foot => span.clone().collect(),
        End::Rim => span.clone().rev().collect(),
    }
}

fn flatten(piece: Piece) -> Vec<Fact> {
    [Side::Foot, Side::Rim]
        .map(|side| Fact::Flatten(side.of(piece)))
        .to_vec()
}
