//! Floor 6, plan: all that follows from a design, as one value: [`plan`]. Nothing in it
//! fails: what cannot be computed is missing and named among the troubles, and the rest
//! stands. Each part is handed what was made before it and never asks back; what costs
//! time is made when it is first asked for, and kept.

pub mod band;
pub mod base;
pub mod bill;
pub mod board;
pub mod built;
pub mod caution;
pub mod clock;
pub mod discs;
pub mod finish;
pub mod floor;
pub mod inlay;
pub mod inspect;
pub mod left;
pub mod length;
pub mod measured;
pub mod need;
pub mod on_saw;
pub mod open_ring;
pub mod order;
pub mod out_of_true;
pub mod outline;
pub mod rack;
pub mod ring;
pub mod rings;
pub mod sawing;
pub mod season;
pub mod session;
pub mod stack;
pub mod stripe;
pub mod surface;
pub mod woods;

use crate::design::Design;
use crate::design::field::key;
use crate::design::trouble::{Reason, Trouble};
use crate::plan::base::BasePlan;
use crate::plan::bill::Cut;
use crate::plan::board::{Answer, BoardSearch, ThinStrips};
use crate::plan::built::Built;
use crate::plan::caution::{Caution, Placed};
use crate::plan::order::Order;
use crate::plan::ring::{DryFitPlan, RingPlan};
use crate::plan::season::Seasons;
use crate::plan::stack::StackPlan;
use crate::trade::stave::Staves;
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

/// All that is computed from a design.
pub struct Plan {
    /// The design.
    pub design: Rc<Design>,
    /// The ring of the Ring place.
    pub ring: RingPlan,
    /// The saw's error as its dry fit tells it.
    pub dry_fit: DryFitPlan,
    /// The staves, where they can stand.
    pub staves: Option<Staves>,
    /// What to look at before that ring is cut.
    pub cautions: Vec<Caution>,
    /// What could not be computed of all this.
    pub troubles: Vec<Trouble>,
    stack: OnceCell<Option<StackPlan>>,
    base: OnceCell<Option<BasePlan>>,
    bill: OnceCell<Vec<Cut>>,
    built: OnceCell<Option<Built>>,
    placed: OnceCell<Vec<Placed>>,
    order: OnceCell<Option<Order>>,
    seasons: OnceCell<Seasons>,
    boards: RefCell<Option<Boards>>,
}

/// The one search for boards, and how far it went.
struct Boards {
    search: BoardSearch,
    done: u64,
}

/// Computes everything.
///
/// ```
/// use ringwright::{design::Design, plan::plan};
/// let plan = plan(&Design::default());
/// let segment = plan.ring.segment.unwrap();
/// assert_eq!(segment.outside.half_angle_rad.to_degrees().round(), 15.0);
/// ```
pub fn plan(design: &Design) -> Plan {
    let mut troubles = Vec::new();
    let wanted = design.wanted_ring();
    let ring = ring::plan_ring(design, wanted, &mut troubles);
    let dry_fit = ring::plan_dry_fit(design, &ring, &mut troubles);
    let staves = ring::wanted_staves(design)
        .staves()
        .map_err(|error| Trouble::at(key::STAVE_LENGTH, Reason::Staves(error)));
    let staves = ring::note(staves, &mut troubles);
    Plan {
        design: Rc::new(design.clone()),
        cautions: ring::ring_cautions(design, &ring),
        ring,
        dry_fit,
        staves,
        troubles,
        stack: OnceCell::new(),
        base: OnceCell::new(),
        bill: OnceCell::new(),
        built: OnceCell::new(),
        placed: OnceCell::new(),
        order: OnceCell::new(),
        seasons: OnceCell::new(),
        boards: RefCell::new(None),
    }
}

impl Plan {
    /// The vessel; nothing while there is none.
    pub fn stack(&self) -> Option<&StackPlan> {
        self.stack.get_or_init(|| stack::of(&self.design)).as_ref()
    }

    /// The vessel, for whoever needs nothing else.
    pub fn into_stack(self) -> Option<StackPlan> {
        self.stack();
        self.stack.into_inner().flatten()
    }

    /// The base: the one that was said, or else what the vessel has; none where there is
    /// none to speak of.
    pub fn base(&self) -> Option<&BasePlan> {
        let made = || match self.stack() {
            Some(stack) => base::of_vessel(&stack.of),
            None => base::of_ring(&self.design, &self.ring),
        };
        self.base.get_or_init(made).as_ref()
    }

    /// All that is still to be made: of the vessel where there is one, else of the ring.
    pub fn bill(&self) -> &[Cut] {
        match self.stack() {
            Some(stack) => &stack.bill,
            None => self
                .bill
                .get_or_init(|| bill::of_ring(&self.design, &self.ring, self.base())),
        }
    }

    /// What the glued rings leave room for; nothing without a vessel.
    pub fn built(&self) -> Option<&Built> {
        let made = || Some(built::built(&self.stack()?.of));
        self.built.get_or_init(made).as_ref()
    }

    /// What to look at before the vessel is cut.
    pub fn placed_cautions(&self) -> &[Placed] {
        let made = || self.stack().map_or_else(Vec::new, inspect::inspect);
        self.placed.get_or_init(made)
    }

    /// The order of work; nothing where there is no ring to make.
    pub fn order(&self) -> Option<&Order> {
        let made = || {
            let stack = self.stack()?;
            order::order(stack, &order::inlays(&stack.vessel))
        };
        self.order.get_or_init(made).as_ref()
    }

    /// What the seasons do to it.
    pub fn seasons(&self) -> &Seasons {
        let of = || self.stack().map(|stack| &stack.of);
        self.seasons
            .get_or_init(|| season::seasons(&self.design, &self.ring, of()))
    }

    /// Which boards to take and how to cut them, as far as so much work in all finds it: one
    /// search for every place that tells of it. Nothing while no boards are entered.
    pub fn boards(&self, work: u64) -> Option<Answer> {
        let rack = self.design.rack.as_ref();
        rack.filter(|rack| !rack.boards.is_empty())?;
        let mut boards = self.boards.borrow_mut();
        let boards = boards.get_or_insert_with(|| Boards {
            search: BoardSearch::new(&self.design, self.bill()),
            done: 0,
        });
        if boards.done < work {
            boards.search.step(work - boards.done);
            boards.done = work;
        }
        Some(boards.search.answer())
    }

    /// The thin strips that a cut of strips for slots comes from, as the boards give them with
    /// so much work; none where they do not.
    pub fn thin_strips(&self, cut: &Cut, work: u64) -> Vec<ThinStrips> {
        let is_of_slots = matches!(cut.piece, bill::Piece::SlotStrip { .. });
        let found = self.boards(work).filter(|_| is_of_slots);
        found.map_or_else(Vec::new, |it| it.thin_strips(cut))
    }
}
