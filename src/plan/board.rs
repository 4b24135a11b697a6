//! Boards: which to take, and how to cut them into the strips that the rings need.
//!
//! A board is ripped along its length into strips side by side, and each strip is cut
//! across into segments, turned over between cuts as told in [`crate::trade::strip`]. Seen from
//! its end a board has so much width; a strip takes its own and a kerf, the last one no
//! kerf. Which strips go into which board is settled by [`crate::solve::pack`].
//!
//! Where that saves a board, money or wood, a board is sawn across first, once at most, into
//! two lengths; each is ripped and cut by itself, so that each strip of either pays for its own
//! fresh end and hold-back. The places to saw are those of [`crate::plan::length::places`]:
//! any other gives no more. A length that is too short to be ripped gives squares for discs
//! only. All strips of a need that must come from one board come from one length of it. With very
//! many needs and lengths there are too many places to look at; no board is sawn across then, and
//! that is told.
//!
//! A board with spots to avoid that do not go over its whole width may instead be ripped into two
//! bands first, at any place, what lies beside and between them up to a spot's edge ripped away,
//! as told in [`crate::plan::band`]; each band is then a board of its own width, as long as the
//! board, and its strips heed only the spots in it. Left whole or sawn across, all strips heed all
//! spots of their length. What is told as the least possible holds for boards cut in all these
//! ways: none is sawn across and into bands, nor into three bands. With many spots, or very many
//! sets of strips that fill a band, not all of these places are looked at, and that is told too.
//!
//! Along a strip, with φ half a segment's angle and W its width: a fresh end spends
//! W · tan φ on the first miter, each segment takes one pitch, and the shorter edge of
//! what is left must be the hold-back. A spot to avoid ends one run of segments and
//! begins another, again with a fresh end; only the last run pays for the hold-back,
//! because the rest of the strip is held until then.
//!
//! A board serves a ring when it is of its wood, thick enough when surfaced, and no more
//! than the turner's limit thicker, since that is planed away.

use crate::design::{Board, BoardGoal, Design, Rack};
use crate::plan::band::{Stretch, is_trimmed, stretches};
use crate::plan::bill::{Cut, Part};
use crate::plan::length::{Length, Run, places, runs, shortest_mm, yielded};
use crate::plan::rack::surfaced_mm;
use crate::solve::pack::{Bin, Item, Packed, Pattern, Problem, Search, Side};
use crate::solve::sorted::descending;
use crate::trade::closing::HAIR_MM;
use crate::trade::wood;
use crate::units::length::MM_PER_INCH;
use std::collections::BTreeSet;

pub use crate::plan::need::{Need, Saw, needs, saw};

/// Widths are counted in these for packing.
const STEPS_A_MM: f64 = 100.0;

/// Of a need that a board does not serve.
const NOTHING: Item = Item {
    size: 100,
    units: 0,
};

/// So many items of lengths are looked at for one wood; beyond that boards stay whole (our own
/// choice, no published source).
const MOST_ITEMS: usize = 200_000;

/// So many sets of strips are looked at that fill a band between two spots; beyond that bands end
/// at spots only (our own choice, no published source).
const MOST_SETS: usize = 1_000;

/// Thicknesses in which rough hardwood is sold, quarters of an inch, thin first (same
/// source; thinner ones are given in parts of an inch and sold seldom).
const QUARTERS: [u32; 8] = [4, 5, 6, 7, 8, 10, 12, 14];

/// The thinnest that still leaves so much after surfacing, in quarters of an inch.
pub fn quarters_for(height_mm: f64) -> Option<u32> {
    let leaves = |quarters: &u32| {
        surfaced_mm(f64::from(*quarters) * MM_PER_INCH / 4.0) >= height_mm - HAIR_MM
    };
    QUARTERS.into_iter().chain([16]).find(leaves)
}

/// A strip of a length.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Which need it serves.
    pub need: usize,
    /// From the board's near edge to the strip's.
    pub across_mm: f64,
    /// The pieces on it.
    pub runs: Vec<Run>,
    /// What its pieces are for, and how many for each.
    pub parts: Vec<(Part, u32)>,
}

/// How boards are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Place of the board in the rack.
    pub board: usize,
    /// Whether it must be bought beyond those entered.
    pub is_extra: bool,
    /// How many boards are cut like this.
    pub times: u32,
    /// Its lengths from the left end, where it is sawn across first, or its bands from the near
    /// edge, where it is ripped first: two, or all of it as one. One band goes to the far edge.
    pub lengths: Vec<Ripped>,
}

/// What is done with a board before all else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum First {
    /// Nothing: it is ripped into strips.
    Nothing,
    /// It is sawn across, and this length comes off its left end.
    Across(f64),
    /// It is ripped into its bands; of one, an edge of the board is ripped off.
    Along,
}

impl Layout {
    /// The strips of all its lengths.
    pub fn strips(&self) -> impl Iterator<Item = &Strip> {
        self.lengths.iter().flat_map(|it| &it.strips)
    }

    /// What is done first.
    pub fn first(&self) -> First {
        match self.lengths.as_slice() {
            [one, other] if other.length.from_mm > one.length.from_mm => {
                First::Across(one.length.to_mm)
            }
            [_, _] => First::Along,
            [one] if one.length.near_mm > 0.0 => First::Along,
            _ => First::Nothing,
        }
    }

    /// What is sawn off the left end first; nothing where the board is not sawn across.
    pub fn sawn_off_mm(&self) -> Option<f64> {
        match self.first() {
            First::Across(left_mm) => Some(left_mm),
            First::Nothing | First::Along => None,
        }
    }
}

/// A length of a board, or a band, and what it is ripped into.
#[derive(Clone, Debug, PartialEq)]
pub struct Ripped {
    /// Where it lies.
    pub length: Length,
    /// The strips, from the near edge.
    pub strips: Vec<Strip>,
}

/// Why a ring's strips cannot come from the boards entered. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub enum Unfit {
    /// No board of its wood.
    NoWood {
        /// The wood.
        wood: String,
    },
    /// Boards of its wood, none of its thickness.
    Thickness {
        /// What it needs.
        needed_mm: f64,
        /// What is left of the nearest board after surfacing.
        nearest_mm: f64,
    },
    /// Its strip is wider than every board of its wood and thickness.
    TooWide {
        /// Its width.
        width_mm: f64,
        /// The widest board.
        widest_mm: f64,
    },
    /// No board has a clear length for one piece and what it is held by.
    TooLong {
        /// The length that is needed.
        needed_mm: f64,
        /// The longest that is clear.
        longest_mm: f64,
    },
    /// Its pieces do not all go into one board.
    NotInOne,
}

/// The strips that cannot be cut, and for which rings.
#[derive(Clone, Debug, PartialEq)]
pub struct Failure {
    /// Which need.
    pub need: usize,
    /// Why.
    pub why: Unfit,
}

/// What to look for in the shop for the rings of one wood and thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// The wood.
    pub wood: String,
    /// Rough thickness in quarters of an inch; none is thick enough when missing.
    pub quarters: Option<u32>,
    /// What must be left of it.
    pub height_mm: f64,
    /// What to buy, waste counted in, as it is sold, cubic millimeters.
    pub bought_mm3: f64,
    /// What of that is in the strips once they are planed and ripped, cubic millimeters.
    pub strips_mm3: f64,
}

/// The answer as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// What is needed.
    pub needs: Vec<Need>,
    /// What cannot be cut, and why.
    pub failures: Vec<Failure>,
    /// How to cut each board.
    pub layouts: Vec<Layout>,
    /// Boards in all, those to be bought among them.
    pub board_count: u32,
    /// Of them, to be bought beyond those entered.
    pub extra_count: u32,
    /// What the boards cost, those without a price left out.
    pub cost: f64,
    /// Boards taken that have no price.
    pub unpriced_count: u32,
    /// Volume of the boards as sold, cubic millimeters.
    pub volume_mm3: f64,
    /// The share of the boards' face that ends up in pieces.
    pub used_share: f64,
    /// The least that is possible of what the goal counts: boards, money or cubic
    /// millimeters; missing while it is not known, or boards must be bought.
    pub least: Option<f64>,
    /// Whether the answer is surely the best for its goal.
    pub is_best: bool,
    /// Whether the search has ended.
    pub is_done: bool,
    /// Whether sawing boards across first was looked at too.
    pub is_across: bool,
    /// Where bands were looked at.
    pub bands: Bands,
}

/// Where boards were looked at as two bands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Bands {
    /// Wherever it may be of use.
    Anywhere,
    /// At some of these places: there were too many.
    Some,
    /// Nowhere: nothing that is to be avoided lies beside clear wood.
    #[default]
    Nowhere,
}

/// A quick estimate by wood and rough thickness, for when no boards are entered: what the
/// bill needs, the pieces to hold strips by with it, and the waste.
pub fn estimate(design: &Design, bill: &[Cut]) -> Vec<Estimate> {
    let kept = 1.0 - f64::from(design.shop.waste_percent.min(90)) / 100.0;
    let mut estimates: Vec<Estimate> = Vec::new();
    for cut in bill.iter().filter(|cut| !cut.is_veneer()) {
        let Some(wood) = &cut.wood else { continue };
        let area = cut.face_mm2(design.shop.kerf_mm) / kept;
        let quarters = quarters_for(cut.thickness_mm);
        let thickness = quarters.map_or(cut.thickness_mm, |it| f64::from(it) * MM_PER_INCH / 4.0);
        let known = estimates
            .iter_mut()
            .find(|other| wood::is_same(&other.wood, wood) && other.quarters == quarters);
        match known {
            Some(known) => {
                known.bought_mm3 += area * thickness;
                known.strips_mm3 += cut.wood_mm3();
                known.height_mm = known.height_mm.max(cut.thickness_mm);
            }
            None => estimates.push(Estimate {
                wood: wood.trim().to_owned(),
                quarters,
                height_mm: cut.thickness_mm,
                bought_mm3: area * thickness,
                strips_mm3: cut.wood_mm3(),
            }),
        }
    }
    estimates
}

/// Veneer to buy of one wood and thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Veneer {
    /// The wood.
    pub wood: String,
    /// Its thickness.
    pub thickness_mm: f64,
    /// What to buy, waste counted in, square millimeters.
    pub bought_mm2: f64,
}

/// The veneer that a bill needs, with the waste: boards give none.
pub fn veneers(design: &Design, bill: &[Cut]) -> Vec<Veneer> {
    let kept = 1.0 - f64::from(design.shop.waste_percent.min(90)) / 100.0;
    let mut all: Vec<Veneer> = Vec::new();
    for cut in bill.iter().filter(|cut| cut.is_veneer()) {
        let Some(wood) = &cut.wood else { continue };
        let bought_mm2 = cut.face_mm2(0.0) / kept;
        let is_same = |other: &&mut Veneer| {
            wood::is_same(&other.wood, wood)
                && (other.thickness_mm - cut.thickness_mm).abs() < HAIR_MM / 10.0
        };
        match all.iter_mut().find(is_same) {
            Some(same) => same.bought_mm2 += bought_mm2,
            None => all.push(Veneer {
                wood: wood.trim().to_owned(),
                thickness_mm: cut.thickness_mm,
                bought_mm2,
            }),
        }
    }
    all
}

/// The boards of one wood and what is cut from them.
struct Group {
    /// Place in the rack of each kind of board.
    boards: Vec<usize>,
    /// Place of each demand among the needs.
    needs: Vec<usize>,
    /// In each way to part each kind of board first, its two sides.
    sides: Vec<Vec<Vec<[Length; 2]>>>,
    /// Whether all places to saw across were looked at.
    is_across: bool,
    /// Which bands were looked at.
    bands: Bands,
    search: Search,
}

/// Ways to part a board, in a row, and both sides of each.
type Row = (Vec<[Length; 2]>, Vec<[Side; 2]>);

/// The search for the best boards: create it, call [`BoardSearch::step`] until it says
/// that it is done, and look at [`BoardSearch::answer`] at any time in between.
pub struct BoardSearch {
    rack: Rack,
    saw: Saw,
    needs: Vec<Need>,
    failures: Vec<Failure>,
    groups: Vec<Group>,
    /// What a cost of 1 stands for, by the goal.
    scale: f64,
}

/// Thin strips for slots that one board gives: whole lengths, each crosscut into pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ThinStrips {
    /// Place of the board in the rack.
    pub board: usize,
    /// How many are ripped, one beside the other.
    pub count: u32,
    /// Pieces that are crosscut from each.
    pub each: u32,
}

impl Answer {
    /// The thin strips that a cut of strips for slots is crosscut from; none where the boards
    /// do not give all of them.
    pub fn thin_strips(&self, cut: &Cut) -> Vec<ThinStrips> {
        let for_same = |need: &Need| {
            let parts = || need.parts.iter().map(|(part, _)| part);
            need.is_strip && !need.is_layer && parts().eq(cut.parts.iter().map(|(part, _)| part))
        };
        let mut found: Vec<ThinStrips> = Vec::new();
        for layout in &self.layouts {
            for strip in layout.strips() {
                let need = &self.needs[strip.need];
                if !for_same(need) {
                    continue;
                }
                let (board, each) = (layout.board, strip.runs.iter().map(|run| run.count).sum());
                let count = layout.times * need.slices.max(1);
                match found
                    .iter_mut()
                    .find(|it| (it.board, it.each) == (board, each))
                {
                    Some(same) => same.count += count,
                    None => found.push(ThinStrips { board, count, each }),
                }
            }
        }
        let all: u32 = found.iter().map(|it| it.count * it.each).sum();
        if all < cut.count { Vec::new() } else { found }
    }
}

impl BoardSearch {
    /// Begins a search for what is still to be made, in a design's rack.
    pub fn new(design: &Design, bill: &[Cut]) -> BoardSearch {
        BoardSearch::for_needs(
            needs(design, bill),
            design.rack.clone().unwrap_or_else(Rack::empty),
            saw(design),
        )
    }

    /// The same for any needs.
    pub fn for_needs(needs: Vec<Need>, rack: Rack, saw: Saw) -> BoardSearch {
        let mut search = BoardSearch {
            scale: scale(&rack),
            rack,
            saw,
            needs,
            failures: Vec::new(),
            groups: Vec::new(),
        };
        let mut by_wood: Vec<Vec<usize>> = Vec::new();
        for (place, need) in search.needs.iter().enumerate() {
            if let Some(why) = search.unfit(need) {
                search.failures.push(Failure { need: place, why });
                continue;
            }
            let is_same =
                |wood: &&mut Vec<usize>| wood::is_same(&search.needs[wood[0]].wood, &need.wood);
            match by_wood.iter_mut().find(is_same) {
                Some(known) => known.push(place),
                None => by_wood.push(vec![place]),
            }
        }
        search.groups = by_wood
            .into_iter()
            .map(|needs| search.group(needs))
            .collect();
        search
    }

    /// Goes on for about so much work, and says whether the search has ended.
    pub fn step(&mut self, work: u64) -> bool {
        // What one wood no longer needs the others get in the next pass.
        let passes = if work < LONG_WORK { 1 } else { PASSES };
        (0..passes).any(|_| self.pass(work / passes))
    }

    fn pass(&mut self, work: u64) -> bool {
        // Every wood gets a first answer before any is looked into deeply.
        let open = self
            .groups
            .iter_mut()
            .filter(|group| !group.search.is_done());
        let open: Vec<_> = open.collect();
        let share = work / open.len().max(1) as u64;
        let mut is_done = true;
        for group in open {
            is_done &= group.search.step(share.max(1));
        }
        is_done
    }

    /// Whether a board is of a need's wood.
    fn is_wood(board: &Board, need: &Need) -> bool {
        wood::is_same(&board.wood, &need.wood)
    }

    /// Whether a board's thickness suits a need.
    fn is_thickness(&self, board: &Board, need: &Need) -> bool {
        self.rack.suits(board, need.height_mm)
    }

    /// What a need takes of a length's width, and pieces that this yields.
    fn item(&self, board: &Board, length: &Length, need: &Need) -> (f64, u32) {
        let yielded = yielded(board, length, need, &self.saw);
        let strip = need.width_mm + self.saw.kerf_mm;
        if need.is_matched && yielded > 0 {
            (
                f64::from(need.count().div_ceil(yielded)) * strip,
                need.count(),
            )
        } else {
            (strip, yielded)
        }
    }

    /// The needs that a board may serve, by its wood and its thickness; nothing in place of the
    /// others.
    fn served(&self, board: &Board, needs: &[usize]) -> Vec<Option<&Need>> {
        let needs = needs.iter().map(|&need| &self.needs[need]);
        let serves = |need: &&Need| Self::is_wood(board, need) && self.is_thickness(board, need);
        needs.map(|need| Some(need).filter(serves)).collect()
    }

    /// The items of a length, in steps.
    fn items(&self, board: &Board, length: &Length, needs: &[Option<&Need>]) -> Vec<Item> {
        let item = |need: &Need| {
            let (across_mm, units) = self.item(board, length, need);
            Item {
                size: (across_mm * STEPS_A_MM).round().max(1.0) as u32,
                units: units.min(need.count()),
            }
        };
        let items = needs.iter().map(|need| need.map_or(NOTHING, item));
        items.collect()
    }

    /// A length as wide as it is, with its items.
    fn side(&self, board: &Board, length: &Length, needs: &[Option<&Need>]) -> Side {
        Side {
            capacity: self.steps(length.width_mm()),
            items: self.items(board, length, needs),
        }
    }

    /// Room across a board, in steps: its last strip takes no kerf.
    fn steps(&self, width_mm: f64) -> u32 {
        ((width_mm + self.saw.kerf_mm + HAIR_MM) * STEPS_A_MM) as u32
    }

    /// The ways to saw a board across first: those that another way, or the whole board, is no
    /// worse than are left out.
    fn across(&self, board: &Board, needs: &[Option<&Need>]) -> Row {
        let here = needs.iter().copied().flatten();
        let here = here.filter(|need| self.holds(board, need.width_mm + self.saw.kerf_mm));
        let gives = |side: &Side| side.items.iter().any(|item| item.units > 0);
        let mut row: Row = (Vec::new(), Vec::new());
        for left_mm in places(board, here, &self.saw) {
            let lengths = Length::both(board, left_mm, &self.saw);
            let both = lengths.map(|length| self.side(board, &length, needs));
            if !both.iter().all(gives) {
                continue;
            }
            if let (Some(last), Some(last_lengths)) = (row.1.last_mut(), row.0.last_mut()) {
                if last[0] == both[0] {
                    continue;
                }
                if last[1] == both[1] {
                    (*last, *last_lengths) = (both, lengths);
                    continue;
                }
            }
            row.0.push(lengths);
            row.1.push(both);
        }
        row
    }

    /// The ways to rip a board into two bands first, a row for each stretch: those that leave
    /// neither band more than the whole board gives are left out.
    fn along(
        &self,
        board: &Board,
        needs: &[Option<&Need>],
        whole: &Side,
        bands: &mut Bands,
    ) -> Vec<Row> {
        let mut rows: Vec<Row> = Vec::new();
        let mut known: Vec<(Stretch, [Vec<Item>; 2])> = Vec::new();
        let all = stretches(board, &self.saw);
        if *bands == Bands::Nowhere && !all.is_empty() {
            *bands = Bands::Anywhere;
        }
        if !is_trimmed(board) {
            *bands = Bands::Some;
        }
        for stretch in all {
            let middle_mm = f64::midpoint(stretch.least_mm, stretch.most_mm);
            let middle = stretch.both(board, middle_mm);
            let items = middle.map(|length| self.items(board, &length, needs));
            let is_no_worse =
                |it: &(Stretch, [Vec<Item>; 2])| it.0.is_as_wide(&stretch) && it.1 == items;
            let at = |near_mm: f64, side: usize| stretch.both(board, near_mm)[side].width_mm();
            let room = [at(stretch.most_mm, 0), at(stretch.least_mm, 1)];
            let gains = items
                .iter()
                .zip(room)
                .any(|(items, room_mm)| gives_more(items, self.steps(room_mm), whole));
            if !gains || known.iter().any(is_no_worse) {
                continue;
            }
            let near = self.near_ends(&stretch, &items[0], needs, bands);
            let lengths = near.into_iter().map(|it| stretch.both(board, it));
            let lengths: Vec<[Length; 2]> = lengths.collect();
            let side = |length: &Length, items: &[Item]| Side {
                capacity: self.steps(length.width_mm().max(0.0)),
                items: items.to_vec(),
            };
            let sides = lengths.iter();
            let sides = sides.map(|[near, far]| [side(near, &items[0]), side(far, &items[1])]);
            let sides = sides.collect();
            rows.push((lengths, sides));
            known.push((stretch, items));
        }
        rows
    }

    /// Where in a stretch the near band's end is looked at, the nearest first: there, and where it
    /// is just filled by a set of strips.
    fn near_ends(
        &self,
        stretch: &Stretch,
        items: &[Item],
        needs: &[Option<&Need>],
        bands: &mut Bands,
    ) -> Vec<f64> {
        let Stretch {
            from_mm,
            least_mm,
            most_mm,
            ..
        } = *stretch;
        if most_mm - least_mm < HAIR_MM / 10.0 {
            return vec![least_mm];
        }
        let most = self.steps(most_mm - from_mm);
        let mut sums = BTreeSet::from([0_u32]);
        for (item, need) in items.iter().zip(needs) {
            let Some(need) = need.filter(|_| item.units > 0) else {
                continue;
            };
            let most_strips = need.count().div_ceil(item.units);
            let mut grown: BTreeSet<u32> = sums.clone();
            for sum in &sums {
                let strips =
                    (1..=most_strips).map(|it| sum.saturating_add(it.saturating_mul(item.size)));
                grown.extend(strips.take_while(|it| *it <= most));
            }
            sums = grown;
            // Many narrow strips: any of them fill a band nearly.
            if sums.len() > MOST_SETS {
                *bands = Bands::Some;
                return vec![least_mm, most_mm];
            }
        }
        let filled = sums.into_iter();
        let filled = filled.map(|it| from_mm + f64::from(it) / STEPS_A_MM - self.saw.kerf_mm);
        let within = filled.filter(|it| *it > least_mm && *it < most_mm);
        std::iter::once(least_mm).chain(within).collect()
    }

    /// Whether a board is wide enough for so much.
    fn holds(&self, board: &Board, across_mm: f64) -> bool {
        across_mm <= board.width_mm + self.saw.kerf_mm + HAIR_MM
    }

    /// Why no board serves a need, if none does.
    fn unfit(&self, need: &Need) -> Option<Unfit> {
        let boards = &self.rack.boards;
        let can = |board: &&Board| {
            let goes = |length: &Length| {
                let (across_mm, units) = self.item(board, length, need);
                units > 0 && across_mm <= length.width_mm() + self.saw.kerf_mm + HAIR_MM
            };
            let widest = |it: &Stretch| {
                let [near, _] = it.both(board, it.most_mm);
                let [_, far] = it.both(board, it.least_mm);
                goes(&near) || goes(&far)
            };
            goes(&Length::whole(board)) || stretches(board, &self.saw).iter().any(widest)
        };
        let serves = |it: &&Board| Self::is_wood(it, need) && self.is_thickness(it, need);
        if boards.iter().filter(serves).any(|board| can(&board)) {
            return None;
        }
        let of_wood: Vec<&Board> = boards
            .iter()
            .filter(|board| Self::is_wood(board, need))
            .collect();
        if of_wood.is_empty() {
            let wood = need.wood.clone();
            return Some(Unfit::NoWood { wood });
        }
        let thick: Vec<&Board> = of_wood
            .iter()
            .copied()
            .filter(|board| self.is_thickness(board, need))
            .collect();
        if thick.is_empty() {
            let off = |board: &Board| (board.usable_mm() - need.height_mm).abs();
            let nearest = of_wood.iter().map(|board| (off(board), board.usable_mm()));
            let nearest = nearest.min_by(|a, b| a.0.total_cmp(&b.0));
            return Some(Unfit::Thickness {
                needed_mm: need.height_mm,
                nearest_mm: nearest.map_or(0.0, |(_, usable)| usable),
            });
        }
        let widest_mm = thick.iter().map(|board| board.width_mm).fold(0.0, f64::max);
        let wide: Vec<&&Board> = thick
            .iter()
            .filter(|board| self.holds(board, need.width_mm + self.saw.kerf_mm))
            .collect();
        if wide.is_empty() {
            let width_mm = need.width_mm;
            return Some(Unfit::TooWide {
                width_mm,
                widest_mm,
            });
        }
        let yields = |board: &Board| {
            let whole = Length::whole(board);
            let far_mm = (board.width_mm - need.width_mm).max(0.0);
            let edges = [
                Length {
                    far_mm: need.width_mm.min(board.width_mm),
                    ..whole
                },
                Length {
                    near_mm: far_mm,
                    ..whole
                },
            ];
            let all = edges.into_iter().chain([whole]);
            all.map(|it| yielded(board, &it, need, &self.saw))
                .sum::<u32>()
        };
        if wide.iter().all(|board| yields(board) == 0) {
            let held = need.held_mm(&self.saw);
            let clear = wide.iter();
            let clear = clear.map(|board| board.longest_clear_mm(need.width_mm));
            return Some(Unfit::TooLong {
                needed_mm: need.run_mm() + need.pitch_mm(self.saw.kerf_mm) + held,
                longest_mm: clear.fold(0.0, f64::max),
            });
        }
        Some(Unfit::NotInOne)
    }

    /// The packing of some needs, all of one wood.
    fn group(&self, needs: Vec<usize>) -> Group {
        let mut boards = Vec::new();
        let mut bins = Vec::new();
        let mut sides = Vec::new();
        let (mut looked_at, mut is_across, mut bands) = (0, true, Bands::Nowhere);
        for (place, board) in self.rack.boards.iter().enumerate() {
            let served = self.served(board, &needs);
            let whole = self.side(board, &Length::whole(board), &served);
            let mut rows = self.along(board, &served, &whole, &mut bands);
            let gives = |items: &[Item]| items.iter().any(|item| item.units > 0);
            if !gives(&whole.items) && rows.is_empty() {
                continue;
            }
            // The first row is that of lengths.
            let mut across = Row::default();
            if is_across {
                across = self.across(board, &served);
                looked_at += 2 * needs.len() * across.0.len();
                is_across = looked_at <= MOST_ITEMS;
            }
            rows.insert(0, across);
            let (lengths, parted) = rows.into_iter().unzip();
            boards.push(place);
            sides.push(lengths);
            bins.push(Bin {
                cost: self.cost(board),
                number: board.number,
                capacity: whole.capacity,
                items: whole.items,
                parted,
            });
        }
        for bin in &mut bins {
            if !is_across {
                bin.parted[0].clear();
            }
            if bin.parted.iter().all(Vec::is_empty) {
                bin.parted.clear();
            }
        }
        coarsen(&mut bins);
        let problem = Problem {
            demands: needs.iter().map(|&need| self.needs[need].count()).collect(),
            bins,
            least_gain: match self.rack.goal {
                BoardGoal::Fewest => 0.999,
                // Half the smallest coin.
                BoardGoal::Cheapest => 0.005 / self.scale,
                BoardGoal::LeastWood => 0.001,
            },
        };
        Group {
            boards,
            needs,
            sides,
            is_across,
            bands,
            search: Search::new(problem),
        }
    }

    /// What the goal counts, near 1 for the dearest board, with a little of the wood so
    /// that of equal answers the one with less of it is taken.
    fn cost(&self, board: &Board) -> f64 {
        self.counted(board) / self.scale + TIE * board.volume_mm3() / self.largest_mm3()
    }

    fn counted(&self, board: &Board) -> f64 {
        match self.rack.goal {
            BoardGoal::Fewest => 1.0,
            BoardGoal::Cheapest => board.cost().unwrap_or(0.0),
            BoardGoal::LeastWood => board.volume_mm3(),
        }
    }

    fn largest_mm3(&self) -> f64 {
        self.rack
            .boards
            .iter()
            .map(Board::volume_mm3)
            .fold(1.0, f64::max)
    }

    /// The best answer so far.
    pub fn answer(&self) -> Answer {
        let mut answer = Answer {
            needs: self.needs.clone(),
            failures: self.failures.clone(),
            layouts: Vec::new(),
            board_count: 0,
            extra_count: 0,
            cost: 0.0,
            unpriced_count: 0,
            volume_mm3: 0.0,
            used_share: 0.0,
            least: None,
            is_best: self.groups.iter().all(|group| group.search.is_proven()),
            is_done: self.groups.iter().all(|group| group.search.is_done()),
            is_across: self.groups.iter().all(|group| group.is_across),
            bands: Bands::Nowhere,
        };
        let bands = self.groups.iter().map(|group| group.bands);
        answer.bands = told(bands);
        for group in &self.groups {
            if let Some(packing) = group.search.best() {
                self.lay_out(group, &packing.boards, &mut answer.layouts);
            }
        }
        // By the boards' numbers, those to be bought last.
        let number =
            |layout: &Layout| layout.board as f64 + if layout.is_extra { 1e6 } else { 0.0 };
        let keys: Vec<f64> = answer.layouts.iter().map(|it| -number(it)).collect();
        let order = descending(&keys).into_iter();
        answer.layouts = order.map(|place| answer.layouts[place].clone()).collect();
        let (mut pieces_mm2, mut boards_mm2, mut counted) = (0.0, 0.0, 0.0);
        for layout in &answer.layouts {
            let board = &self.rack.boards[layout.board];
            let times = f64::from(layout.times);
            answer.board_count += layout.times;
            answer.extra_count += if layout.is_extra { layout.times } else { 0 };
            answer.unpriced_count += if board.price.is_none() {
                layout.times
            } else {
                0
            };
            answer.cost += times * board.cost().unwrap_or(0.0);
            answer.volume_mm3 += times * board.volume_mm3();
            counted += times * self.counted(board);
            boards_mm2 += times * board.width_mm * board.length_mm;
            for strip in layout.strips() {
                let count: u32 = strip.runs.iter().map(|run| run.count).sum();
                pieces_mm2 += times * f64::from(count) * self.needs[strip.need].piece_mm2();
            }
        }
        if boards_mm2 > 0.0 {
            answer.used_share = pieces_mm2 / boards_mm2;
        }
        answer.least = self.least(answer.extra_count, counted);
        answer
    }

    /// The least that any answer comes to in what the goal counts. The bound of the
    /// search counts the tie in, which is taken off.
    fn least(&self, extra_count: u32, counted: f64) -> Option<f64> {
        let is_known = self.groups.iter().all(|group| group.search.bound() > 0.0);
        if extra_count > 0 || self.groups.is_empty() || !is_known {
            return None;
        }
        let least = |group: &Group| {
            let boards: u32 = group.search.best().map_or(0, |packing| {
                packing.boards.iter().map(|packed| packed.times).sum()
            });
            let tie = TIE * f64::from(boards);
            match self.rack.goal {
                BoardGoal::Fewest => (group.search.bound() / (1.0 + TIE) - 1e-6).ceil(),
                BoardGoal::Cheapest | BoardGoal::LeastWood => {
                    (group.search.bound() - tie).max(0.0) * self.scale
                }
            }
        };
        Some(self.groups.iter().map(least).sum::<f64>().min(counted))
    }

    /// Lays strips side by side on each board, the thickest first and of those the widest, and
    /// gives their pieces to the rings in turn. Boards that come out alike are told once.
    fn lay_out(&self, group: &Group, boards: &[Packed], layouts: &mut Vec<Layout>) {
        let mut left: Vec<Vec<(Part, u32)>> = group
            .needs
            .iter()
            .map(|&need| self.needs[need].parts.clone())
            .collect();
        for packed in boards {
            for _ in 0..packed.times {
                let place = group.boards[packed.bin];
                let board = &self.rack.boards[place];
                let lengths = self.lengths_of(group, packed, board, &mut left);
                if lengths.iter().all(|it| it.strips.is_empty()) {
                    continue;
                }
                let layout = Layout {
                    board: place,
                    is_extra: packed.is_extra,
                    times: 1,
                    lengths,
                };
                match layouts.last_mut() {
                    Some(last)
                        if (Layout {
                            times: 1,
                            ..last.clone()
                        }) == layout =>
                    {
                        last.times += 1;
                    }
                    _ => layouts.push(layout),
                }
            }
        }
    }

    /// The lengths of a board and their strips, or its bands. It is sawn across as near to its
    /// left end as the left length's strips let it.
    fn lengths_of(
        &self,
        group: &Group,
        packed: &Packed,
        board: &Board,
        left: &mut [Vec<(Part, u32)>],
    ) -> Vec<Ripped> {
        let mut ripped = |length: Length, pattern: &Pattern| Ripped {
            strips: self.strips_of(group, (board, &length), pattern, left),
            length,
        };
        let (Some((row, place)), [on_first, on_second]) =
            (packed.cuts.way, &packed.cuts.lengths[..])
        else {
            let whole = packed.cuts.lengths.first();
            let whole = whole.map(|it| ripped(Length::whole(board), it));
            return whole.into_iter().collect();
        };
        let [length, second] = group.sides[packed.bin][row][place];
        let mut first = ripped(length, on_first);
        if row > 0 {
            return bands_cut(first, ripped(second, on_second), board);
        }
        let ends = first.strips.iter().flat_map(|strip| {
            let need = &self.needs[strip.need];
            let least_mm = shortest_mm(board, need);
            let runs = strip.runs.iter();
            runs.map(move |run| {
                (run.end_mm(need, &self.saw) + need.held_mm(&self.saw)).max(least_mm)
            })
        });
        let left_mm = ends.fold(0.0, f64::max).min(length.to_mm);
        if first.strips.is_empty() {
            return vec![ripped(Length::whole(board), on_second)];
        }
        let [length, rest] = Length::both(board, left_mm, &self.saw);
        first.length = length;
        vec![first, ripped(rest, on_second)]
    }

    fn strips_of(
        &self,
        group: &Group,
        (board, length): (&Board, &Length),
        pattern: &Pattern,
        left: &mut [Vec<(Part, u32)>],
    ) -> Vec<Strip> {
        let mut order = pattern.clone();
        // What is planed alike lies together: a board is ripped apart there, if it must be.
        let of = |demand: usize| &self.needs[group.needs[demand]];
        let by: [fn(&Need) -> f64; 2] = [|need| need.width_mm, |need| need.height_mm];
        for key in by {
            let keys: Vec<f64> = order.iter().map(|(demand, _)| key(of(*demand))).collect();
            let sorted = descending(&keys).into_iter();
            order = sorted.map(|place| order[place]).collect();
        }
        let (mut strips, mut across_mm) = (Vec::new(), length.near_mm);
        for (demand, count) in order {
            let need = &self.needs[group.needs[demand]];
            let full = runs(board, length, need, &self.saw);
            let yielded: u32 = full.iter().map(|run| run.count).sum();
            // A matched ring's item is all of its strips.
            let strips_each = if need.is_matched {
                need.count().div_ceil(yielded.max(1))
            } else {
                1
            };
            for _ in 0..count * strips_each {
                let parts = share(&mut left[demand], yielded);
                let mut pieces: u32 = parts.iter().map(|(_, count)| count).sum();
                if pieces == 0 {
                    continue;
                }
                let mut runs = full.clone();
                for run in &mut runs {
                    run.count = run.count.min(pieces);
                    pieces -= run.count;
                }
                runs.retain(|run| run.count > 0);
                strips.push(Strip {
                    need: group.needs[demand],
                    across_mm,
                    runs,
                    parts,
                });
                across_mm += need.width_mm + self.saw.kerf_mm;
            }
        }
        strips
    }
}

/// So much work is done in passes, and in how many (our own choice, no published source).
const LONG_WORK: u64 = 1_000_000;
const PASSES: u64 = 10;

/// How much of the wood counts beside the goal.
const TIE: f64 = 1e-5;

/// What the dearest board counts, by the goal.
fn scale(rack: &Rack) -> f64 {
    let each = rack.boards.iter().map(|board| match rack.goal {
        BoardGoal::Fewest => 1.0,
        BoardGoal::Cheapest => board.cost().unwrap_or(0.0),
        BoardGoal::LeastWood => board.volume_mm3(),
    });
    let most = each.fold(0.0, f64::max);
    if most > 0.0 { most } else { 1.0 }
}

/// Takes so many pieces from what the rings still need, ring by ring.
fn share(left: &mut Vec<(Part, u32)>, mut pieces: u32) -> Vec<(Part, u32)> {
    let mut shared = Vec::new();
    while let Some((part, count)) = left.first_mut() {
        let now = pieces.min(*count);
        if now == 0 {
            break;
        }
        shared.push((*part, now));
        pieces -= now;
        *count -= now;
        if *count == 0 {
            left.remove(0);
        }
    }
    shared
}

/// Whether a band gives more of a need than the whole board, or as much in less of the width.
fn gives_more(items: &[Item], room: u32, whole: &Side) -> bool {
    let goes = |item: &Item, room: u32| item.units > 0 && item.size <= room;
    items.iter().zip(&whole.items).any(|(item, in_whole)| {
        let is_more = item.units > in_whole.units || item.size < in_whole.size;
        goes(item, room) && (is_more || !goes(in_whole, whole.capacity))
    })
}

/// Two bands, or the only one that strips are cut from, with all that lies beyond it.
fn bands_cut(near: Ripped, far: Ripped, board: &Board) -> Vec<Ripped> {
    let mut cut = vec![near, far];
    cut.retain(|it| !it.strips.is_empty());
    if let [only] = cut.as_mut_slice() {
        only.length.far_mm = board.width_mm;
    }
    cut
}

/// Where bands were looked at in several woods.
fn told(bands: impl Iterator<Item = Bands>) -> Bands {
    bands.fold(Bands::Nowhere, |all, one| match (all, one) {
        (Bands::Some, _) | (_, Bands::Some) => Bands::Some,
        (Bands::Anywhere, _) | (_, Bands::Anywhere) => Bands::Anywhere,
        _ => Bands::Nowhere,
    })
}

/// Counts widths in the largest step that all strips are multiples of.
fn coarsen(bins: &mut [Bin]) {
    let mut step = 0;
    for (items, _) in bins.iter().flat_map(Bin::all_sides) {
        for item in items.iter().filter(|item| item.units > 0) {
            step = greatest_divisor(step, item.size);
        }
    }
    if step > 1 {
        for (items, capacity) in bins.iter_mut().flat_map(Bin::all_sides_mut) {
            *capacity /= step;
            for item in items {
                item.size = (item.size / step).max(1);
            }
        }
    }
}

fn greatest_divisor(a: u32, b: u32) -> u32 {
    if b == 0 {
        a
    } else {
        greatest_divisor(b, a % b)
    }
}
