//! All that is cut for a vessel, in the order in which it is cut: strips by wood,
//! thickness and width, the widest first, so that a strip spoiled at the fence still
//! makes a narrower one (common practice, no published source).

use crate::design::{Between, Design, MadeOf, Vessel};
use crate::plan;
use crate::plan::base;
use crate::plan::stack::StackPlan;
use crate::trade::ring::Segment;
use crate::trade::strip::{Strips, strips};

/// What is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Piece {
    /// Segments from strips.
    Segment(Segment, Strips),
    /// A disc of this diameter, from a square.
    Disc(f64),
    /// Spacers of this length and thickness.
    Spacer(f64, f64),
}

/// Equal pieces of one wood. Millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What they are.
    pub piece: Piece,
    /// Their wood's place in the vessel's list; none for spacers, whose wood is free.
    pub wood: Option<usize>,
    /// Thickness of the stock.
    pub thickness_mm: f64,
    /// Width of the strip, or side of the square.
    pub width_mm: f64,
    /// How many.
    pub count: u32,
    /// The rings that they are for, from the foot up, each by its place.
    pub rings: Vec<usize>,
}

/// A length that no tape tells from another one.
const SAME_MM: f64 = 1e-6;

/// The list, in cutting order. The blanks of a base's plies are told with the base.
pub fn cut_list(design: &Design, vessel: &Vessel, plan: &StackPlan) -> Vec<Cut> {
    let mut list: Vec<Cut> = Vec::new();
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let thickness_mm = planned.wanted.height_mm + 2.0 * planned.wanted.face_allowance_mm;
        let mut add = |piece, wood, width_mm, count| {
            put(
                &mut list,
                Cut {
                    piece,
                    wood,
                    thickness_mm,
                    width_mm,
                    count,
                    rings: vec![place],
                },
            );
        };
        let Some(segment) = planned.segment else {
            let is_plies = place == 0 && base::plies_for_disc(design, vessel);
            if ring.made_of == MadeOf::Disc && !is_plies {
                let across = 2.0 * planned.reach_mm;
                add(Piece::Disc(across), Some(ring.wood_of(0)), across, 1);
            }
            continue;
        };
        for own in &planned.strips_by_wood {
            let piece = Piece::Segment(segment, own.strips);
            let width_mm = segment.strip_width_mm;
            add(piece, Some(own.wood), width_mm, own.segment_count);
        }
        if ring.between == Between::Spacer && ring.spacer_mm > 0.0 {
            let piece = Piece::Spacer(segment.spacer_length_mm, ring.spacer_mm);
            add(piece, None, ring.spacer_mm, ring.segment_count);
        }
    }
    // Strips of rings that share them are laid out anew, all in one.
    for cut in &mut list {
        if let Piece::Segment(segment, of_all) = &mut cut.piece {
            *of_all = strips(segment, cut.count, &plan::cutting(design)).0;
        }
    }
    list
}

/// Adds pieces to equal ones, or at their place in the order.
fn put(list: &mut Vec<Cut>, cut: Cut) {
    if let Some(equal) = list.iter_mut().find(|other| is_equal(other, &cut)) {
        equal.count += cut.count;
        equal.rings.extend(cut.rings);
        return;
    }
    let before = |other: &Cut| {
        let kind = |cut: &Cut| match cut.piece {
            Piece::Disc(_) => 0,
            Piece::Segment(..) => 1,
            Piece::Spacer(..) => 2,
        };
        kind(other)
            .cmp(&kind(&cut))
            .then(other.wood.cmp(&cut.wood))
            .then(cut.thickness_mm.total_cmp(&other.thickness_mm))
            .then(cut.width_mm.total_cmp(&other.width_mm))
            .is_le()
    };
    list.insert(list.partition_point(before), cut);
}

fn is_equal(one: &Cut, other: &Cut) -> bool {
    let same = |one: f64, other: f64| (one - other).abs() < SAME_MM;
    let is_same_piece = match (&one.piece, &other.piece) {
        (Piece::Segment(one, _), Piece::Segment(other, _)) => {
            same(one.outside.long_edge_mm, other.outside.long_edge_mm)
                && same(one.outside.half_angle_rad, other.outside.half_angle_rad)
        }
        (Piece::Disc(one), Piece::Disc(other)) => same(*one, *other),
        (Piece::Spacer(length, thickness), Piece::Spacer(other, thick)) => {
            same(*length, *other) && same(*thickness, *thick)
        }
        _ => false,
    };
    is_same_piece
        && one.wood == other.wood
        && same(one.thickness_mm, other.thickness_mm)
        && same(one.width_mm, other.width_mm)
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
    use crate::design::StackRing;
    use crate::edit::start;
    use crate::plan::stack::plan_stack;

    #[test]
    fn rings_are_named_in_runs() {
        assert_eq!(ring_numbers(&[0, 2, 3, 4, 7, 8]), "1, 3–5, 8, 9");
        assert_eq!(ring_numbers(&[]), "");
    }

    #[test]
    fn every_segment_of_every_ring_is_on_the_list() {
        let mut design = start::begin(&Design::default(), "vase", 150.0, 240.0);
        let vessel = design.vessel.as_mut().unwrap();
        vessel.woods.push("Padauk, African".to_owned());
        for (place, ring) in vessel.rings.iter_mut().enumerate() {
            ring.pattern = if place % 2 == 0 { vec![0, 1] } else { vec![0] };
        }
        vessel.rings[2] = StackRing {
            between: Between::Spacer,
            ..vessel.rings[2].clone()
        };
        let vessel = vessel.clone();
        let plan = plan_stack(&design, &vessel);
        let list = cut_list(&design, &vessel, &plan);
        let mut per_ring = vec![0; vessel.rings.len()];
        for (place, ring) in vessel.rings.iter().enumerate() {
            per_ring[place] = match ring.made_of {
                MadeOf::Segments => ring.segment_count,
                MadeOf::Disc => 1,
            };
        }
        let listed: u32 = list
            .iter()
            .filter(|cut| !matches!(cut.piece, Piece::Spacer(..)))
            .map(|cut| cut.count)
            .sum();
        assert_eq!(listed, per_ring.iter().sum::<u32>());
        assert!(
            list.iter()
                .any(|cut| matches!(cut.piece, Piece::Spacer(..)))
        );
        let strips: Vec<&Cut> = list
            .iter()
            .filter(|cut| matches!(cut.piece, Piece::Segment(..)))
            .collect();
        assert!(strips.windows(2).all(|two| {
            two[0].wood < two[1].wood
                || (two[0].wood == two[1].wood
                    && (two[0].thickness_mm > two[1].thickness_mm + 1e-9
                        || two[0].width_mm >= two[1].width_mm - 1e-9))
        }));
    }
}
