//! The bill of pieces: everything that is still to be made for a piece, in the order in
//! which it is cut: strips by wood, thickness and width, the widest first, so that a strip
//! spoiled at the fence still makes a narrower one (common practice, no published source).
//!
//! Every list, total, weight of wood, cost and sheet is a sum over it. What is glued
//! already is not on it.

use crate::design::{BaseSet, Between, Design};
use crate::plan::base::BasePlan;
use crate::plan::inlay::SetPlan;
use crate::plan::ring::{RingPlan, cutting};
use crate::plan::rings::{Made, Rings};
use crate::plan::stripe::StripePlan;
use crate::trade::closing::HAIR_MM;
use crate::trade::layered::is_veneer;
use crate::trade::ring::Segment;
use crate::trade::strip::{LEAST_PLANED_MM, SQUARE_SPARE_MM, Strips, stick, strips};
use crate::trade::wood;

/// What a piece is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The ring at this place in the stack.
    Ring(usize),
    /// The base, where it is no ring of the stack.
    Base,
    /// The set of slots at this place in the vessel's list.
    Slots(usize),
}

/// What is cut. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Piece {
    /// Segments from strips.
    Segment(Segment, Strips),
    /// A disc, or so many plies one over the other, from a square.
    Disc {
        /// Side of its square.
        across_mm: f64,
        /// How many plies are sawn from its thickness; 1 for a disc.
        slices: u32,
    },
    /// Spacers.
    Spacer {
        /// Length of one.
        length_mm: f64,
        /// Thickness of one.
        thickness_mm: f64,
    },
    /// Layers of striped boards and of strips, sawn off the edge of a board as thick as they are wide.
    Layer {
        /// Length of one.
        length_mm: f64,
        /// What all of them take of the board's width, saw cuts between them included.
        across_mm: f64,
    },
    /// Layers that are bought as veneer and cut with a knife.
    Veneer {
        /// Length of one.
        length_mm: f64,
    },
    /// Segments from a striped board, whose layers stand in the bill.
    Striped(Segment),
    /// Strips for slots: thin strips as long as the board are sawn off the edge of one as
    /// thick as they are wide, and these crosscut from them.
    SlotStrip {
        /// Length of one.
        length_mm: f64,
    },
    /// Strips for slots from sticks of layers, which stand in the bill.
    LayeredStrip {
        /// Length of one.
        length_mm: f64,
    },
    /// Discs of scrap that hold a stack while it is sawn through.
    ScrapDisc,
}

/// Equal pieces of one wood. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What they are.
    pub piece: Piece,
    /// Their wood; none for spacers and discs of scrap, whose wood is free, and for striped
    /// segments and layered strips, whose layers are told apart.
    pub wood: Option<String>,
    /// Thickness of the stock.
    pub thickness_mm: f64,
    /// Width of the strip, side of the square, or diameter of a disc of scrap.
    pub width_mm: f64,
    /// How many.
    pub count: u32,
    /// Whether all must come from one board.
    pub is_matched: bool,
    /// What they are for, and how many for each.
    pub parts: Vec<(Part, u32)>,
}

impl Cut {
    /// The rings that it is for, from the foot up, each by its place.
    pub fn rings(&self) -> Vec<usize> {
        let rings = self.parts.iter().filter_map(|(part, _)| match part {
            Part::Ring(place) => Some(*place),
            Part::Base | Part::Slots(_) => None,
        });
        rings.collect()
    }

    /// How thin the strip of a base's plies is planed in the end, where no board suits that.
    pub fn planed_on_mm(&self, base: &BasePlan) -> Option<f64> {
        let is_of_base = self.parts.iter().any(|(part, _)| *part == Part::Base);
        let blank = base.blanks.iter().find(|it| {
            let is_it = Some(&it.wood) == self.wood.as_ref()
                && (it.stock_mm - self.thickness_mm).abs() < HAIR_MM;
            is_of_base && is_it && !it.is_block && it.dressed_mm < it.stock_mm
        });
        blank.map(|it| it.dressed_mm)
    }

    /// Wood before it is cut, cubic millimeters; nothing where that is free.
    pub fn wood_mm3(&self) -> f64 {
        self.face_mm2(0.0) * self.thickness_mm
    }

    /// What it takes of a board's face, with a saw cut beside each strip, at the end of
    /// each square, square millimeters; nothing where its wood is free.
    pub fn face_mm2(&self, kerf_mm: f64) -> f64 {
        match self.piece {
            Piece::Segment(_, strips) => strips.total_length_mm * (self.width_mm + kerf_mm),
            Piece::Disc { across_mm, .. } => {
                f64::from(self.count) * (across_mm + kerf_mm) * (across_mm + kerf_mm)
            }
            Piece::SlotStrip { length_mm } => {
                f64::from(self.count) * (length_mm + kerf_mm) * (self.width_mm + kerf_mm)
            }
            Piece::Layer {
                length_mm,
                across_mm,
            } => (length_mm + kerf_mm) * (across_mm + kerf_mm),
            Piece::Veneer { length_mm } => f64::from(self.count) * length_mm * self.width_mm,
            Piece::Spacer { .. }
            | Piece::Striped(_)
            | Piece::LayeredStrip { .. }
            | Piece::ScrapDisc => 0.0,
        }
    }

    /// Strips of the length at hand; 0 for what is no strip.
    pub fn strip_count(&self) -> u32 {
        match self.piece {
            Piece::Segment(_, strips) => strips.strip_count.max(1),
            _ => 0,
        }
    }

    /// The strips that are ripped for it, and how long they are together, millimeters: none
    /// is shorter than the planer takes. No strips for what is crosscut from strips of others.
    pub fn ripped(&self, kerf_mm: f64) -> (u32, f64) {
        let count = f64::from(self.count);
        match self.piece {
            Piece::Segment(_, strips) => {
                let last_mm = strips.last_strip_mm;
                let longer_mm = LEAST_PLANED_MM.max(last_mm) - last_mm;
                (self.strip_count(), strips.total_length_mm + longer_mm)
            }
            Piece::Disc {
                across_mm,
                slices: 1,
            } => (1, LEAST_PLANED_MM.max(count * (across_mm + kerf_mm))),
            // A block, which is not planed.
            Piece::Disc { across_mm, .. } => (1, count * across_mm),
            Piece::SlotStrip { length_mm } => {
                let stick = stick(self.count, length_mm, self.width_mm, kerf_mm);
                let strips = stick.strip_count;
                (strips, f64::from(strips) * stick.long_mm)
            }
            Piece::Layer { length_mm, .. } => (self.count, count * length_mm),
            Piece::Spacer { length_mm, .. } => (0, count * (length_mm + kerf_mm)),
            Piece::Striped(_)
            | Piece::LayeredStrip { .. }
            | Piece::Veneer { .. }
            | Piece::ScrapDisc => (0, 0.0),
        }
    }

    /// Cuts at the miter saw: each ends one segment and begins the next; a fresh strip takes
    /// one more.
    pub fn saw_cuts(&self) -> u32 {
        match self.piece {
            Piece::Segment(..) => self.count + self.strip_count(),
            // Each from a stick of its own.
            Piece::Striped(_) => 2 * self.count,
            _ => 0,
        }
    }

    /// The segments that are mitered; nothing for other pieces.
    pub fn mitered(&self) -> Option<&Segment> {
        match &self.piece {
            Piece::Segment(segment, _) | Piece::Striped(segment) => Some(segment),
            _ => None,
        }
    }

    /// Whether it is sawn from a board of one wood: not what comes of glued layers, nor veneer
    /// and scrap.
    pub fn is_ripped(&self) -> bool {
        let is_of_layers = matches!(self.piece, Piece::Striped(_) | Piece::LayeredStrip { .. });
        !is_of_layers && !self.is_veneer() && self.piece != Piece::ScrapDisc
    }

    /// Whether it is bought as veneer.
    pub fn is_veneer(&self) -> bool {
        matches!(self.piece, Piece::Veneer { .. })
    }

    /// Segments, discs, plies and layers that come of it.
    pub fn piece_count(&self) -> u32 {
        match self.piece {
            Piece::Segment(..) | Piece::Layer { .. } | Piece::Veneer { .. } => self.count,
            Piece::Disc { slices, .. } => self.count * slices,
            Piece::Striped(_)
            | Piece::Spacer { .. }
            | Piece::SlotStrip { .. }
            | Piece::LayeredStrip { .. }
            | Piece::ScrapDisc => 0,
        }
    }
}

/// A length that no tape tells from another one.
const SAME_MM: f64 = 1e-6;

/// A bill as it is written.
#[derive(Default)]
struct Bill {
    cuts: Vec<Cut>,
    /// The woods in the order in which they are told.
    woods: Vec<String>,
}

/// The bill of a vessel.
pub fn of_vessel(of: &Rings, base: Option<&BasePlan>, sets: &[Option<SetPlan>]) -> Vec<Cut> {
    let (design, vessel) = (&*of.design, &of.vessel);
    let mut bill = Bill {
        woods: vessel.woods.clone(),
        ..Bill::default()
    };
    let name = |wood: usize| vessel.woods.get(wood).cloned().unwrap_or_default();
    for (place, (ring, planned)) in vessel.rings.iter().zip(&of.rings).enumerate() {
        if ring.is_glued() {
            continue;
        }
        let thickness_mm = planned.wanted.strip_height_mm();
        match (planned.made, planned.segment) {
            (Made::Disc, _) => bill.add(Cut {
                piece: Piece::Disc {
                    across_mm: 2.0 * planned.reach_mm + SQUARE_SPARE_MM,
                    slices: 1,
                },
                wood: Some(name(ring.wood_of(0))),
                thickness_mm,
                width_mm: 2.0 * planned.reach_mm + SQUARE_SPARE_MM,
                count: 1,
                is_matched: false,
                parts: vec![(Part::Ring(place), 1)],
            }),
            (Made::Segments, Some(segment)) => {
                for own in &planned.strips_by_wood {
                    let is_matched = ring.is_matched && own.segment_count > 1;
                    let part = (Part::Ring(place), own.segment_count);
                    let wood = name(own.wood);
                    bill.add(segments(&own.segment, own.strips, wood, part, is_matched));
                }
                if let Some(own) = &planned.stripes {
                    bill.add_striped(own, (place, ring.segment_count), &segment, design, name);
                }
                if ring.between == Between::Spacer && ring.spacer_mm > 0.0 {
                    bill.add(Cut {
                        piece: Piece::Spacer {
                            length_mm: segment.spacer_length_mm,
                            thickness_mm: ring.spacer_mm,
                        },
                        wood: None,
                        thickness_mm,
                        width_mm: ring.spacer_mm,
                        count: ring.segment_count,
                        is_matched: false,
                        parts: vec![(Part::Ring(place), ring.segment_count)],
                    });
                }
            }
            _ => {}
        }
    }
    // A disc glued under is the lowest ring itself.
    let is_disc = of.rings.first().is_some_and(|it| it.made == Made::Disc);
    let is_piece = |base: &&BasePlan| !(is_disc && base.choice.set == BaseSet::Under);
    if let Some(base) = base.filter(is_piece) {
        bill.add_base(design, base);
    }
    for (place, own) in sets.iter().enumerate() {
        if let Some(own) = own.as_ref().filter(|own| own.is_open()) {
            bill.add_strips(own, place, design.shop.kerf_mm, name);
            bill.add_scrap_discs(own, place);
        }
    }
    bill.laid_out(design)
}

/// The bill of the ring of the Ring place, and of the base that was said for it.
pub fn of_ring(design: &Design, ring: &RingPlan, base: Option<&BasePlan>) -> Vec<Cut> {
    let mut bill = Bill {
        woods: vec![design.ring.wood.clone()],
        ..Bill::default()
    };
    if let Some((segment, strips)) = ring.segment.zip(ring.strips) {
        let part = (Part::Ring(0), design.ring.segment_count);
        let wood = design.ring.wood.clone();
        bill.add(segments(
            &segment,
            strips,
            wood,
            part,
            design.ring.is_matched,
        ));
    }
    if let Some(base) = base.filter(|_| design.base.is_some()) {
        bill.add_base(design, base);
    }
    bill.laid_out(design)
}

fn segments(
    segment: &Segment,
    strips: Strips,
    wood: String,
    part: (Part, u32),
    is_matched: bool,
) -> Cut {
    Cut {
        piece: Piece::Segment(*segment, strips),
        wood: Some(wood),
        thickness_mm: segment.strip_height_mm,
        width_mm: segment.strip_width_mm,
        count: part.1,
        is_matched,
        parts: vec![part],
    }
}

/// Equal layers of a striped board or of sticks. Millimeters.
struct Layers {
    /// Their width and length.
    sizes_mm: [f64; 2],
    /// Their thickness when they are glued.
    thickness_mm: f64,
    /// How thick they are sawn.
    sawn_mm: f64,
    count: u32,
    wood: String,
    /// Of the saw that rips them.
    kerf_mm: f64,
    part: Part,
}

impl Bill {
    /// Adds a ring's striped segments, and the layers of their boards.
    fn add_striped(
        &mut self,
        own: &StripePlan,
        (place, count): (usize, u32),
        segment: &Segment,
        design: &Design,
        name: impl Fn(usize) -> String,
    ) {
        let Some(board) = &own.board else { return };
        for (layer, count, sawn_mm) in own.to_rip() {
            self.add_layers(Layers {
                sizes_mm: [board.depth_mm, board.length_mm],
                thickness_mm: own.layers_mm[layer],
                sawn_mm,
                count,
                wood: name(own.woods[layer]),
                kerf_mm: design.shop.kerf_mm,
                part: Part::Ring(place),
            });
        }
        self.add(Cut {
            piece: Piece::Striped(*segment),
            wood: None,
            thickness_mm: segment.strip_height_mm,
            width_mm: segment.strip_width_mm,
            count,
            is_matched: false,
            parts: vec![(Part::Ring(place), count)],
        });
    }

    /// Adds equal layers: sawn off the edge of a board, or cut of veneer.
    fn add_layers(&mut self, of: Layers) {
        let [wide_mm, length_mm] = of.sizes_mm;
        let (piece, thickness_mm, width_mm) = if is_veneer(of.thickness_mm) {
            (Piece::Veneer { length_mm }, of.thickness_mm, wide_mm)
        } else {
            let across_mm = f64::from(of.count) * (of.sawn_mm + of.kerf_mm) - of.kerf_mm;
            let piece = Piece::Layer {
                length_mm,
                across_mm,
            };
            (piece, wide_mm, of.sawn_mm)
        };
        self.add(Cut {
            piece,
            wood: Some(of.wood),
            thickness_mm,
            width_mm,
            count: of.count,
            is_matched: false,
            parts: vec![(of.part, of.count)],
        });
    }

    /// Adds the strips of a set of slots; of those that are layered the layers too.
    fn add_strips(
        &mut self,
        own: &SetPlan,
        place: usize,
        kerf_mm: f64,
        name: impl Fn(usize) -> String,
    ) {
        let [thick, wide, length_mm] = own.strip_mm;
        if let Some(sticks) = &own.sticks {
            for rips in own.layers_to_rip() {
                self.add_layers(Layers {
                    sizes_mm: [sticks.wide_mm, sticks.long_mm],
                    thickness_mm: rips.thickness_mm,
                    sawn_mm: rips.sawn_mm,
                    count: rips.count,
                    wood: name(rips.wood),
                    kerf_mm,
                    part: Part::Slots(place),
                });
            }
        }
        let of_one = own.layers.first().filter(|_| own.sticks.is_none());
        self.add(Cut {
            piece: match of_one {
                Some(_) => Piece::SlotStrip { length_mm },
                None => Piece::LayeredStrip { length_mm },
            },
            wood: of_one.map(|layer| name(layer.wood)),
            thickness_mm: wide,
            width_mm: thick,
            count: own.slots.count,
            is_matched: false,
            parts: vec![(Part::Slots(place), own.slots.count)],
        });
    }

    /// Adds the discs of scrap that hold the stack of a set of slots, where those of the set
    /// before are not on it still.
    fn add_scrap_discs(&mut self, own: &SetPlan, place: usize) {
        let across_mm = own.discs_across_mm().filter(|_| own.discs_since.is_none());
        for width_mm in across_mm.into_iter().flatten() {
            self.add(Cut {
                piece: Piece::ScrapDisc,
                wood: None,
                thickness_mm: own.disc_mm(),
                width_mm,
                count: 1,
                is_matched: false,
                parts: vec![(Part::Slots(place), 1)],
            });
        }
    }

    /// Adds a base that is a piece of its own.
    fn add_base(&mut self, design: &Design, base: &BasePlan) {
        if let Some(wedge) = &base.wedge {
            let count = base.choice.wedge_count;
            let laid = strips(wedge, count, &cutting(design)).0;
            let wood = base.choice.wood.clone();
            self.add(segments(wedge, laid, wood, (Part::Base, count), false));
        }
        for blank in &base.blanks {
            let (count, slices) = if blank.is_block {
                (1, blank.count)
            } else {
                (blank.count, 1)
            };
            self.add(Cut {
                piece: Piece::Disc {
                    across_mm: blank.side_mm,
                    slices,
                },
                wood: Some(blank.wood.clone()),
                thickness_mm: blank.stock_mm,
                width_mm: blank.side_mm,
                count,
                is_matched: false,
                parts: vec![(Part::Base, count)],
            });
        }
    }

    /// A wood's place among those that are told.
    fn place_of(&self, wood: Option<&String>) -> usize {
        let Some(wood) = wood else { return usize::MAX };
        let is_it = |other: &String| wood::is_same(other, wood);
        self.woods
            .iter()
            .position(is_it)
            .unwrap_or(self.woods.len())
    }

    /// Adds pieces to equal ones, or at their place in the order.
    fn add(&mut self, cut: Cut) {
        if let Some(equal) = self.cuts.iter_mut().find(|other| is_equal(other, &cut)) {
            equal.count += cut.count;
            for (part, count) in cut.parts {
                match equal.parts.iter_mut().find(|it| it.0 == part) {
                    Some(same) => same.1 += count,
                    None => equal.parts.push((part, count)),
                }
            }
            return;
        }
        let before = |other: &Cut| {
            let kind = |cut: &Cut| match cut.piece {
                Piece::Disc { .. } => 0,
                Piece::Segment(..) => 1,
                Piece::Layer { .. } | Piece::Veneer { .. } => 2,
                Piece::Striped(_) => 3,
                Piece::Spacer { .. } => 4,
                Piece::SlotStrip { .. } => 5,
                Piece::LayeredStrip { .. } => 6,
                Piece::ScrapDisc => 7,
            };
            let wood = |cut: &Cut| self.place_of(cut.wood.as_ref());
            kind(other)
                .cmp(&kind(&cut))
                .then(wood(other).cmp(&wood(&cut)))
                .then(cut.thickness_mm.total_cmp(&other.thickness_mm))
                .then(cut.width_mm.total_cmp(&other.width_mm))
                .is_le()
        };
        let place = self.cuts.partition_point(before);
        self.cuts.insert(place, cut);
    }

    /// Strips of rings that share them are laid out anew, all in one.
    fn laid_out(mut self, design: &Design) -> Vec<Cut> {
        for cut in &mut self.cuts {
            if let Piece::Segment(segment, of_all) = &mut cut.piece {
                *of_all = strips(segment, cut.count, &cutting(design)).0;
            }
        }
        self.cuts
    }
}

fn is_equal(one: &Cut, other: &Cut) -> bool {
    let same = |one: f64, other: f64| (one - other).abs() < SAME_MM;
    let is_same_piece = match (&one.piece, &other.piece) {
        (Piece::Segment(one, _), Piece::Segment(other, _)) => {
            same(one.outside.long_edge_mm, other.outside.long_edge_mm)
                && same(one.outside.half_angle_rad, other.outside.half_angle_rad)
        }
        (
            Piece::Disc { across_mm, slices },
            Piece::Disc {
                across_mm: across,
                slices: sliced,
            },
        ) => same(*across_mm, *across) && slices == sliced,
        (
            Piece::Spacer {
                length_mm,
                thickness_mm,
            },
            Piece::Spacer {
                length_mm: long,
                thickness_mm: thick,
            },
        ) => same(*length_mm, *long) && same(*thickness_mm, *thick),
        (Piece::SlotStrip { length_mm }, Piece::SlotStrip { length_mm: long }) => {
            same(*length_mm, *long)
        }
        (Piece::ScrapDisc, Piece::ScrapDisc) => true,
        // Each board's layers are made for it.
        _ => false,
    };
    let is_same_wood = match (&one.wood, &other.wood) {
        (Some(one), Some(other)) => wood::is_same(one, other),
        (one, other) => one == other,
    };
    is_same_piece
        && is_same_wood
        && !(one.is_matched || other.is_matched)
        && same(one.thickness_mm, other.thickness_mm)
        && same(one.width_mm, other.width_mm)
}

/// How much of a wood a piece still takes, and what of it is glued already.
#[derive(Clone, Debug, PartialEq)]
pub struct WoodUse {
    /// Its name.
    pub name: String,
    /// Segments, discs and plies still to be cut of it.
    pub piece_count: u32,
    /// Strips of it that are glued into slots.
    pub slot_strip_count: u32,
    /// Strips of the length at hand.
    pub strip_count: u32,
    /// Volume of its strips and squares before they are cut, cubic millimeters.
    pub strip_mm3: f64,
    /// Segments and discs of it that are glued already.
    pub glued_count: u32,
}

impl WoodUse {
    fn nothing(name: &str) -> WoodUse {
        WoodUse {
            name: name.to_owned(),
            piece_count: 0,
            slot_strip_count: 0,
            strip_count: 0,
            strip_mm3: 0.0,
            glued_count: 0,
        }
    }
}

/// What a bill takes of each wood, first in the order of `woods`; those not used stay.
pub fn by_wood(bill: &[Cut], woods: &[String]) -> Vec<WoodUse> {
    let mut all: Vec<WoodUse> = woods.iter().map(|name| WoodUse::nothing(name)).collect();
    for cut in bill {
        let Some(wood) = &cut.wood else { continue };
        let is_it = |each: &WoodUse| wood::is_same(&each.name, wood);
        let place = all.iter().position(is_it).unwrap_or_else(|| {
            all.push(WoodUse::nothing(wood));
            all.len() - 1
        });
        if let Some(each) = all.get_mut(place) {
            each.piece_count += cut.piece_count();
            each.strip_count += cut.strip_count();
            each.strip_mm3 += cut.wood_mm3();
            if matches!(cut.piece, Piece::SlotStrip { .. }) {
                each.slot_strip_count += cut.count;
            }
        }
    }
    all
}

/// Numbers of rings as they are spoken of: `1, 3–5`.
pub fn ring_numbers(places: &[usize]) -> String {
    let mut text = String::new();
    let mut at = 0;
    while let Some(first) = places.get(at) {
        let mut end = at;
        while places.get(end + 1) == Some(&(places[end] + 1)) {
            end += 1;
        }
        if !text.is_empty() {
            text.push_str(", ");
        }
        text.push_str(&(first + 1).to_string());
        if end > at {
            text.push_str(if end == at + 1 { ", " } else { "\u{2013}" });
            text.push_str(&(places[end] + 1).to_string());
        }
        at = end + 1;
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::start;
    use crate::plan::plan;

    #[test]
    fn rings_are_named_in_runs() {
        assert_eq!(ring_numbers(&[0, 2, 3, 4, 7, 8]), "1, 3–5, 8, 9");
        assert_eq!(ring_numbers(&[]), "");
    }

    #[test]
    fn every_segment_of_every_ring_is_on_the_bill_in_cutting_order() {
        let mut design = start::begin(&Design::default(), "vase", 150.0, 240.0);
        // The lowest ring is a board, as in a design that says nothing of its base.
        design.base = None;
        let vessel = design.vessel.as_mut().unwrap();
        vessel.woods.push("Padauk, African".to_owned());
        for (place, ring) in vessel.rings.iter_mut().enumerate() {
            ring.pattern = if place % 2 == 0 { vec![0, 1] } else { vec![0] };
        }
        vessel.rings[2].between = Between::Spacer;
        let vessel = vessel.clone();
        let plan = plan(&design).into_stack().unwrap();
        let list = &plan.bill;
        let listed: u32 = list.iter().map(Cut::piece_count).sum();
        let wanted = vessel.rings.iter().zip(&plan.rings).map(|(ring, planned)| {
            if planned.made == Made::Disc {
                1
            } else {
                ring.segment_count
            }
        });
        assert_eq!(listed, wanted.sum::<u32>());
        assert!(
            list.iter()
                .any(|cut| matches!(cut.piece, Piece::Spacer { .. }))
        );
        let strips: Vec<&Cut> = list
            .iter()
            .filter(|cut| matches!(cut.piece, Piece::Segment(..)))
            .collect();
        let place = |cut: &Cut| {
            vessel
                .woods
                .iter()
                .position(|it| Some(it) == cut.wood.as_ref())
        };
        assert!(strips.windows(2).all(|two| {
            place(two[0]) < place(two[1])
                || (place(two[0]) == place(two[1])
                    && (two[0].thickness_mm > two[1].thickness_mm + 1e-9
                        || two[0].width_mm >= two[1].width_mm - 1e-9))
        }));
    }
}
