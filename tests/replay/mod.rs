//! The order of work followed by a shop that knows only the design: what exists, what is
//! glued to what, what hangs on the spindle, which faces are true. Whatever cannot be done
//! as it stands there is told with its step; what is missing at the end, too.

use ringwright::design::{BaseKind, BaseSet, Design, MadeOf, StackHeld, StackIs, Vessel};
use ringwright::plan::inlay::SetPlan;
use ringwright::plan::order::facts::{Block, Depth, Face, Fact, Piece, Side};
use ringwright::plan::order::{End, FinishWork, Order, Step, Work};
use ringwright::plan::stack::StackPlan;
use ringwright::trade::finish::Finish;
use std::collections::{HashMap, HashSet};
use std::ops::Range;

/// What came to be of a piece.
#[derive(Clone, Copy, PartialEq)]
enum State {
    Parts,
    One,
}

struct Shop<'a> {
    design: &'a Design,
    vessel: &'a Vessel,
    plan: &'a StackPlan,
    inlays: &'a [Range<usize>],
    pieces: HashMap<Piece, State>,
    blocks_mm: HashMap<Block, f64>,
    flat: HashSet<Face>,
    covered: HashSet<Face>,
    joints: Vec<(Piece, Piece)>,
    spindle: Option<Block>,
    pressed: Option<Piece>,
    round_mm: HashMap<Piece, f64>,
    mortise_mm: Option<(usize, f64)>,
    hollowed: HashSet<usize>,
    slotted: HashSet<usize>,
    layered: HashSet<usize>,
    /// Stacks between discs.
    discs: Vec<Range<usize>>,
    /// Rings in two halves, and whether their ends are flat.
    halves: HashMap<Piece, bool>,
    is_shaped: bool,
    is_finished: bool,
    finishing: Vec<FinishWork>,
}

type Told = Result<(), String>;

/// The faces at the ends of a stack.
fn ends(rings: &Range<usize>) -> [Face; 2] {
    [
        Side::Foot.of(Piece::Ring(rings.start)),
        Side::Rim.of(Piece::Ring(rings.end - 1)),
    ]
}

fn must(is_so: bool, told: &str) -> Told {
    if is_so { Ok(()) } else { Err(told.to_owned()) }
}

/// Follows an order of work; the first thing that cannot be done, or is forgotten.
pub fn replay(
    design: &Design,
    vessel: &Vessel,
    plan: &StackPlan,
    inlays: &[Range<usize>],
    order: &Order,
) -> Told {
    let mut shop = Shop {
        design,
        vessel,
        plan,
        inlays,
        pieces: HashMap::new(),
        blocks_mm: HashMap::new(),
        flat: HashSet::new(),
        covered: HashSet::new(),
        joints: Vec::new(),
        spindle: None,
        pressed: None,
        round_mm: HashMap::new(),
        mortise_mm: None,
        hollowed: HashSet::new(),
        slotted: HashSet::new(),
        layered: HashSet::new(),
        discs: Vec::new(),
        is_shaped: false,
        is_finished: false,
        finishing: Vec::new(),
        halves: HashMap::new(),
    };
    // What is glued already is there, and flat.
    for (place, ring) in vessel.rings.iter().enumerate() {
        if ring.is_glued() {
            let piece = Piece::Ring(place);
            shop.pieces.insert(piece, State::One);
            shop.flat
                .extend([Side::Foot, Side::Rim].map(|side| side.of(piece)));
        }
    }
    for step in &order.steps {
        shop.closes(step)
            .map_err(|it| format!("{}: {it}", step.id))?;
        for fact in &step.facts {
            shop.does(fact)
                .map_err(|it| format!("{}: {it} ({fact:?})", step.id))?;
        }
    }
    shop.is_done()
}

impl Shop<'_> {
    fn body(&self, of: Piece) -> HashSet<Piece> {
        let mut body = HashSet::from([of]);
        loop {
            let before = body.len();
            for (one, other) in &self.joints {
                if body.contains(one) || body.contains(other) {
                    body.extend([*one, *other]);
                }
            }
            if body.len() == before {
                return body;
            }
        }
    }

    /// All that turns now.
    fn turning(&self) -> HashSet<Piece> {
        let held = self.spindle.map(Piece::Block).into_iter();
        held.chain(self.pressed)
            .flat_map(|piece| self.body(piece))
            .collect()
    }

    fn is_one(&self, piece: Piece) -> bool {
        self.pieces.get(&piece) == Some(&State::One)
    }

    /// Across the corners, by Pythagoras.
    fn widest_mm(&self, piece: Piece) -> f64 {
        match piece {
            Piece::Block(block) => self.blocks_mm[&block],
            Piece::Base => self.round_mm.get(&piece).copied().unwrap_or(0.0),
            Piece::Ring(ring) if self.is_shaped => {
                let wall = self.plan.wall.as_ref();
                let span = &self.plan.rings[ring].span;
                let heights = (0..=40).map(|step| {
                    span.bottom_mm + (span.top_mm - span.bottom_mm) * f64::from(step) / 40.0
                });
                let radii = heights.map(|z| wall.map_or(0.0, |it| it.outside.radius_at(z)));
                2.0 * radii.fold(0.0, f64::max)
            }
            Piece::Ring(ring) => match self.plan.rings[ring].segment {
                Some(it) => 2.0 * it.outside.apothem_mm.hypot(it.outside.long_edge_mm / 2.0),
                None => 2.0 * self.plan.rings[ring].reach_mm,
            },
        }
    }

    /// Inside a stage nothing may stand yet that would close it in.
    fn closes(&self, step: &Step) -> Told {
        let Work::Inside(stage) = &step.work else {
            return Ok(());
        };
        let here = self.body(Piece::Ring(stage.rings.start));
        let is_closed = stage
            .before
            .is_some_and(|before| here.contains(&Piece::Ring(before)));
        must(!is_closed, "closed in already")
    }

    fn spins(&self, swings_mm: f64) -> Told {
        let turning = self.turning();
        let widest = turning.iter().map(|it| self.widest_mm(*it));
        let widest_mm = widest.fold(0.0, f64::max);
        must(
            swings_mm >= widest_mm - 1e-6,
            &format!("told to swing {swings_mm}, but {widest_mm} turns"),
        )
    }

    fn held(&self, piece: Piece) -> Told {
        must(self.turning().contains(&piece), "nothing holds it")
    }

    fn open(&self, face: Face) -> Told {
        must(!self.covered.contains(&face), "glued over")
    }

    fn glue_halves(&mut self, piece: Piece) -> Told {
        let are_parts = self.pieces.get(&piece) == Some(&State::Parts);
        must(are_parts, "no parts to glue")?;
        let is_new = self.halves.insert(piece, false).is_none();
        must(is_new, "halves glued twice")
    }

    fn does(&mut self, fact: &Fact) -> Told {
        match *fact {
            Fact::Saw(piece) => {
                must(!self.pieces.contains_key(&piece), "there already")?;
                self.pieces.insert(piece, self.sawn(piece));
            }
            Fact::GlueUp(piece) => {
                must(self.pieces.get(&piece) == Some(&State::Parts), "no parts")?;
                let is_true = self.halves.get(&piece).is_none_or(|is_true| *is_true);
                must(is_true, "its halves are not trued")?;
                self.pieces.insert(piece, State::One);
            }
            Fact::GlueHalves(piece) => self.glue_halves(piece)?,
            Fact::TrueEnds(piece) => {
                let was = self.halves.insert(piece, true);
                must(was == Some(false), "no ends to true")?;
            }
            Fact::Flatten(face) => {
                must(self.is_one(face.piece), "not one piece")?;
                self.open(face)?;
                self.flat.insert(face);
            }
            Fact::Screw { block, diameter_mm } => {
                let is_new = self
                    .pieces
                    .insert(Piece::Block(block), State::One)
                    .is_none();
                must(is_new && diameter_mm > 0.0, "there already")?;
                self.blocks_mm.insert(block, diameter_mm);
            }
            Fact::Hold { block, swings_mm } => {
                must(self.is_one(Piece::Block(block)), "no such block")?;
                (self.spindle, self.pressed) = (Some(block), None);
                self.spins(swings_mm)?;
            }
            Fact::Press { piece, swings_mm } => {
                must(self.is_one(piece), "not one piece")?;
                let block = self.spindle.ok_or("nothing to press it on")?;
                must(
                    self.body(Piece::Block(block)).len() == 1,
                    "something is glued on the block",
                )?;
                self.pressed = Some(piece);
                self.spins(swings_mm)?;
            }
            Fact::TakeOff => (self.spindle, self.pressed) = (None, None),
            Fact::Face(face) => {
                self.held(face.piece)?;
                self.open(face)?;
                self.flat.insert(face);
            }
            Fact::Round { piece, diameter_mm } => self.round(piece, diameter_mm)?,
            Fact::Mortise {
                ring,
                diameter_mm,
                depth,
            } => self.mortise(ring, diameter_mm, depth)?,
            Fact::LetIn { ring } => self.let_in(ring)?,
            Fact::Glue { face, to } => self.glue(face, to)?,
            Fact::Split(block) => {
                must(matches!(block, Block::Stack(_)), "that block stays on")?;
                self.off(block)?;
                (self.spindle, self.pressed) = (None, None);
            }
            Fact::Strips(set) => must(self.layered.insert(set), "its layers are glued twice")?,
            Fact::DiscsOn(ref rings) => self.discs_on(rings)?,
            Fact::Slots(set) => self.slots(set)?,
            Fact::DiscsOff(ref rings) => self.discs_off(rings)?,
            Fact::Hollow(ref rings) => {
                for ring in rings.clone() {
                    self.held(Piece::Ring(ring))?;
                    must(self.hollowed.insert(ring), "turned inside twice")?;
                }
            }
            Fact::Shape(ref rings) => {
                must(*rings == (0..self.vessel.rings.len()), "not all of it")?;
                for ring in rings.clone() {
                    self.held(Piece::Ring(ring))?;
                }
                must(!self.is_shaped, "shaped twice")?;
                self.is_shaped = true;
            }
            Fact::Finish => {
                must(self.spindle.is_some() && self.is_shaped, "not shaped")?;
                self.is_finished = true;
            }
            Fact::Finishing(work) => self.finishing(work)?,
            Fact::Part(end) => {
                let first = self.body(Piece::Block(Block::Of(end)));
                must(first.len() > 1, "nothing on it")?;
                must(self.is_shaped, "not shaped")?;
                self.held(Piece::Block(Block::Of(end)))?;
                self.off(Block::Of(end))?;
            }
        }
        Ok(())
    }

    /// Sanded on the spindle, then clean, then coat upon coat, then buffed; signed where no
    /// block is any more.
    fn finishing(&mut self, work: FinishWork) -> Told {
        let coats = self.design.finish.as_ref().map_or(0, |it| match it.kind {
            Finish::Later | Finish::Bare => 0,
            _ => it.coats.or(it.kind.habits().map(|it| it.coats)).unwrap(),
        });
        let is_held = self.spindle.is_some();
        let done = self.finishing.len();
        let wanted = match done {
            0 => FinishWork::Sand,
            1 => FinishWork::Dust,
            at if at < coats as usize + 2 => FinishWork::Coat(at as u32 - 2),
            at if at == coats as usize + 2 => FinishWork::Buff,
            _ => FinishWork::Sign,
        };
        must(work == wanted, "the finish is out of order")?;
        match work {
            FinishWork::Sand => must(is_held && self.is_shaped, "not shaped")?,
            FinishWork::Buff => must(is_held, "buffed off the lathe")?,
            FinishWork::Sign => {
                let first = self.body(Piece::Ring(0));
                let has_block = first.iter().any(|it| matches!(it, Piece::Block(_)));
                must(!has_block, "its block is in the way")?;
            }
            FinishWork::Dust | FinishWork::Coat(_) => {}
        }
        self.finishing.push(work);
        self.is_finished = work == FinishWork::Buff || self.is_finished;
        Ok(())
    }

    /// Whether a piece is sawn in one.
    fn sawn(&self, piece: Piece) -> State {
        let base = self.design.base.as_ref();
        let is_plies_under =
            base.is_some_and(|base| base.kind == BaseKind::Plies && base.set == BaseSet::Under);
        let is_one = match piece {
            Piece::Ring(ring) => {
                let is_disc = self.vessel.rings[ring].made_of == MadeOf::Disc;
                is_disc && !(ring == 0 && is_plies_under)
            }
            Piece::Base => base.is_some_and(|base| base.kind == BaseKind::Solid),
            Piece::Block(_) => false,
        };
        if is_one { State::One } else { State::Parts }
    }

    fn round(&mut self, piece: Piece, diameter_mm: f64) -> Told {
        self.held(piece)?;
        let most_mm = match piece {
            Piece::Ring(ring) => match self.plan.rings[ring].segment {
                Some(segment) => 2.0 * segment.outside.apothem_mm,
                None => 2.0 * self.plan.rings[ring].reach_mm,
            },
            Piece::Block(block) => self.blocks_mm[&block],
            Piece::Base => f64::MAX,
        };
        must(
            diameter_mm > 0.0 && diameter_mm <= most_mm + 1e-6,
            "there is no wood for so wide a circle",
        )?;
        self.round_mm.insert(piece, diameter_mm);
        Ok(())
    }

    fn mortise(&mut self, ring: usize, diameter_mm: f64, depth: Depth) -> Told {
        self.held(Piece::Ring(ring))?;
        let base = self.design.base.as_ref().ok_or("no base was said")?;
        let height_mm = self.vessel.rings[ring].height_mm;
        match depth {
            Depth::Through => must(base.set == BaseSet::LetIn, "it would fall through")?,
            Depth::From {
                side,
                depth_mm,
                hole_mm,
            } => {
                must(base.set == BaseSet::OnLedge, "no ledge was wanted")?;
                self.open(side.of(Piece::Ring(ring)))?;
                must(depth_mm > 0.0 && depth_mm <= height_mm + 1e-9, "too deep")?;
                must(hole_mm < diameter_mm, "no ledge is left")?;
            }
        }
        self.open(Side::Rim.of(Piece::Ring(ring)))?;
        must(self.mortise_mm.is_none(), "two mortises")?;
        self.mortise_mm = Some((ring, diameter_mm));
        Ok(())
    }

    fn glue(&mut self, face: Face, to: Face) -> Told {
        for each in [face, to] {
            must(self.is_one(each.piece), "not one piece")?;
            self.open(each)?;
            must(self.flat.contains(&each), &format!("{each:?} is not true"))?;
        }
        must(face.side == to.side.other(), "the wrong side")?;
        if let (Piece::Ring(ring), Piece::Ring(under)) = (face.piece, to.piece) {
            let next = match face.side {
                Side::Foot => under + 1,
                Side::Rim => under.checked_sub(1).ok_or("nothing is below ring 1")?,
            };
            must(ring == next, "not its neighbor")?;
        }
        must(!self.body(face.piece).contains(&to.piece), "one already")?;
        self.covered.extend([face, to]);
        self.joints.push((face.piece, to.piece));
        Ok(())
    }

    /// Takes a block off: the faces that it was glued on are not true any more.
    fn off(&mut self, block: Block) -> Told {
        let piece = Piece::Block(block);
        let on = self.joints.iter().position(|it| it.1 == piece);
        let (other, _) = self.joints.remove(on.ok_or("nothing is glued on it")?);
        let is_theirs = |face: &Face| face.piece == piece;
        let side = *self
            .covered
            .iter()
            .find(|face| is_theirs(face))
            .ok_or("no face of it is glued")?;
        let faces = [side, side.side.other().of(other)];
        for face in faces {
            self.covered.remove(&face);
            self.flat.remove(&face);
        }
        Ok(())
    }

    /// Whether discs are on any of these rings.
    fn has_discs(&self, rings: &Range<usize>) -> bool {
        let mut on = self.discs.iter();
        on.any(|it| it.start < rings.end && rings.start < it.end)
    }

    fn discs_on(&mut self, rings: &Range<usize>) -> Told {
        must(!self.has_discs(rings), "discs are on already")?;
        for face in ends(rings) {
            self.open(face)?;
            must(self.flat.contains(&face), "its face is not flat")?;
            self.covered.insert(face);
        }
        self.discs.push(rings.clone());
        Ok(())
    }

    fn discs_off(&mut self, rings: &Range<usize>) -> Told {
        must(self.discs.contains(rings), "no discs are on it")?;
        for face in ends(rings) {
            self.covered.remove(&face);
            self.flat.remove(&face);
        }
        self.discs.retain(|it| it != rings);
        Ok(())
    }

    fn let_in(&mut self, ring: usize) -> Told {
        let (place, mortise_mm) = self.mortise_mm.ok_or("no mortise")?;
        must(place == ring, "its mortise is elsewhere")?;
        let wanted = self.design.base.as_ref().map_or(1, |base| base.in_ring);
        let last = self.vessel.rings.len();
        must(
            ring + 1 == (wanted as usize).min(last),
            "let into another ring than was said",
        )?;
        must(self.is_one(Piece::Base), "no base")?;
        let base_mm = self.round_mm.get(&Piece::Base).ok_or("not round yet")?;
        must(*base_mm < mortise_mm, "wider than its mortise")?;
        let flat = [Side::Foot, Side::Rim].map(|side| side.of(Piece::Base));
        must(flat.iter().all(|it| self.flat.contains(it)), "not flat")?;
        self.open(Side::Rim.of(Piece::Ring(ring)))?;
        self.joints.push((Piece::Base, Piece::Ring(ring)));
        Ok(())
    }

    fn slots(&mut self, set: usize) -> Told {
        let rings = self.inlays[set].clone();
        let body = self.body(Piece::Ring(rings.start));
        must(
            rings.clone().all(|ring| body.contains(&Piece::Ring(ring))),
            "its rings are not one piece",
        )?;
        must(
            self.turning().is_disjoint(&body),
            "it still hangs on the spindle",
        )?;
        let own = &self.vessel.slot_sets[set];
        let is_sawn = self.plan.slot_sets[set]
            .as_ref()
            .is_some_and(SetPlan::is_open);
        must(
            (own.layers.len() > 1 && is_sawn) == self.layered.contains(&set),
            "its strips are not glued of their layers",
        )?;
        let is_free = ends(&rings).iter().all(|face| !self.covered.contains(face));
        match own.held_by {
            StackHeld::Discs if is_sawn => must(
                self.discs.contains(&rings) || (!self.has_discs(&rings) && !is_free),
                "no discs hold it",
            )?,
            StackHeld::Discs => {}
            StackHeld::Bridge | StackHeld::Strips => {
                must(!self.has_discs(&rings), "discs are in the way")?;
            }
        }
        let is_round = |ring: usize| self.round_mm.contains_key(&Piece::Ring(ring));
        match own.stack_is {
            StackIs::TurnedRound => must(rings.clone().all(is_round), "not turned round")?,
            // A disc has none.
            StackIs::LeftFlat => must(
                !rings
                    .clone()
                    .any(|ring| self.plan.rings[ring].segment.is_some() && is_round(ring)),
                "its flats are gone",
            )?,
        }
        // The strips' ends stand out of both faces.
        let ends = [
            Side::Foot.of(Piece::Ring(rings.start)),
            Side::Rim.of(Piece::Ring(rings.end - 1)),
        ];
        for end in ends.iter().filter(|it| !self.covered.contains(it)) {
            self.flat.remove(end);
        }
        must(self.slotted.insert(set), "sawn twice")
    }

    /// Nothing is forgotten.
    fn is_done(&self) -> Told {
        let count = self.vessel.rings.len();
        let whole = self.body(Piece::Ring(0));
        must(
            (0..count).all(|ring| whole.contains(&Piece::Ring(ring))),
            "not all rings are one piece",
        )?;
        must(
            whole.iter().all(|it| !matches!(it, Piece::Block(_))),
            "a block is still on",
        )?;
        let base = self.design.base.as_ref();
        let is_disc = self.vessel.rings[0].made_of == MadeOf::Disc;
        let has_own = base.is_some_and(|base| match (base.kind, base.set) {
            (BaseKind::Open, _) => false,
            (_, BaseSet::LetIn | BaseSet::OnLedge) => true,
            (BaseKind::Solid | BaseKind::Plies, BaseSet::Under) => !is_disc,
            (BaseKind::Wedges, BaseSet::Under) => is_disc,
        });
        must(
            whole.contains(&Piece::Base) == has_own,
            "the base is missing, or there is one too many",
        )?;
        let sets = (0..self.inlays.len()).filter(|set| !self.inlays[*set].is_empty());
        must(
            sets.collect::<HashSet<_>>() == self.slotted,
            "slots are missing",
        )?;
        must(self.is_shaped && self.is_finished, "not turned or finished")?;
        let is_signed = self
            .finishing
            .last()
            .is_none_or(|it| *it == FinishWork::Sign);
        must(is_signed, "its finish is not brought to an end")?;
        let is_under = base.is_some_and(|base| base.set == BaseSet::Under);
        let foot = if has_own && is_under {
            Piece::Base
        } else {
            Piece::Ring(0)
        };
        must(
            self.flat.contains(&Side::Foot.of(foot)),
            "it stands on a rough foot",
        )?;
        must(
            self.flat.contains(&Side::Rim.of(Piece::Ring(count - 1))),
            "the rim is rough",
        )?;
        self.is_hollow()
    }

    fn is_hollow(&self) -> Told {
        let wall = self.plan.wall.as_ref().ok_or("no wall")?;
        for (place, ring) in self.plan.rings.iter().enumerate() {
            let low = ring.span.bottom_mm.max(wall.floor_mm);
            let high = ring.span.top_mm.min(wall.outside.height_mm());
            let is_open =
                high > low + 1e-6 && wall.inside_radius_at(f64::midpoint(low, high)) > 0.0;
            must(
                !is_open || self.hollowed.contains(&place),
                &format!("ring {place} is not turned inside"),
            )?;
        }
        Ok(())
    }
}

/// The order with each fact left out in turn: which of them the shop does not miss, as places
/// in the line of all facts.
pub fn not_missed(
    design: &Design,
    vessel: &Vessel,
    plan: &StackPlan,
    inlays: &[Range<usize>],
    order: &Order,
) -> Vec<usize> {
    let (mut place, mut not_missed) = (0, Vec::new());
    for step in 0..order.steps.len() {
        for fact in 0..order.steps[step].facts.len() {
            let mut other = order.clone();
            other.steps[step].facts.remove(fact);
            if replay(design, vessel, plan, inlays, &other).is_ok() {
                not_missed.push(place);
            }
            place += 1;
        }
    }
    not_missed
}

/// What of an order is counted.
#[derive(Debug, Default)]
pub struct Seen {
    /// Orders.
    pub orders: usize,
    /// Made in two halves.
    pub halves: usize,
    /// With a base beside the rings: let in, on a ledge, under.
    pub within: usize,
    /// The same glued under.
    pub under: usize,
    /// Stacks of their own.
    pub stacks: usize,
    /// Slots sawn on the piece.
    pub on_piece: usize,
    /// Slots sawn on flats.
    pub flat: usize,
    /// Stacks in the upper half.
    pub upper: usize,
    /// Inside turned in stages.
    pub stages: usize,
    /// Discs that are glued on.
    pub discs: usize,
    /// Sets that are sawn between the discs of the one before.
    pub discs_kept: usize,
}

impl Seen {
    /// Counts one.
    pub fn add(&mut self, vessel: &Vessel, order: &Order) {
        use ringwright::plan::order::{BaseIs, Chapter};
        self.orders += 1;
        self.halves += usize::from(order.halves.len() == 2);
        self.within += usize::from(order.base_is == BaseIs::Within);
        self.under += usize::from(order.base_is == BaseIs::Under);
        self.stacks += order.apart.len();
        let upper = order.halves.iter().filter(|half| half.on == End::Rim);
        for half in upper {
            let is_in = |span: &&Range<usize>| half.rings.contains(&span.start);
            self.upper += order.apart.iter().filter(is_in).count();
        }
        for step in &order.steps {
            if let Work::Inlay(set) = step.work {
                self.on_piece += usize::from(step.chapter != Chapter::Stacks);
                let own = &vessel.slot_sets[set];
                self.flat += usize::from(own.stack_is == StackIs::LeftFlat);
                let is_on = |fact: &Fact| matches!(fact, Fact::DiscsOn(_));
                let is_off = |fact: &Fact| matches!(fact, Fact::DiscsOff(_));
                let (on, off) = (step.facts.iter().any(is_on), step.facts.iter().any(is_off));
                self.discs += usize::from(on);
                self.discs_kept += usize::from(off && !on);
            }
            if let Work::Inside(stage) = &step.work {
                self.stages += usize::from(stage.before.is_some());
            }
        }
    }
}
