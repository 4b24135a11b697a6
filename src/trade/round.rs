//! How a ring's round is shared among its segments: all alike, or wide and narrow ones
//! in a repeat, by shares of the round that add up.
//!
//! The outside flats of all segments are equally far from the axis, and so are the inside
//! ones, so that one strip serves them all; every joint is a plane through the axis, and a
//! segment's saw setting is half the angle that it spans. The widest segment has its outside
//! corners farthest out and its inside corners farthest out too, so it decides what a ring
//! swings and how large its hole is (R = r / cos φ of a regular polygon's flat, CRC Standard
//! Mathematical Tables and Formulas, 30th edition, Polygons; checked against placed polygons
//! in `tests/round.rs`).

use crate::trade::ring::{RingError, Segment, Wanted, half_angle_rad};

/// A kind of segment: all that take an equal share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SegmentKind {
    /// Its share of the round, beside the others'.
    pub share: u32,
    /// Half the angle that one spans, radians.
    pub half_angle_rad: f64,
    /// How many there are.
    pub count: u32,
}

/// The segments of a ring that are sawn alike. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alike {
    /// Their kind.
    pub kind: SegmentKind,
    /// One of them.
    pub segment: Segment,
}

/// What a ring's flats face across the axis, and a caliper set on one finds there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Facing {
    /// Each the like flat.
    Flat,
    /// Each a corner: an odd count.
    Corner,
    /// Others: a wide one's corners stand out beyond a narrow one's flat, and the caliper may
    /// rest on these.
    Unlike,
}

/// How a ring's round is shared. Directions are radians that grow to the right from the
/// front, seen from outside; the middle of the first segment stands there, but for the
/// ring's turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Round {
    half_angle_rad: f64,
    /// Where each segment begins and the last one ends, in half segments of the mean width.
    edges_halves: Vec<f64>,
    kinds: Vec<SegmentKind>,
    /// Each segment's kind.
    kind_of: Vec<usize>,
}

impl Round {
    /// The round of a ring of 1 to 360 segments with these shares, each 1 or more, repeated;
    /// without any all are alike. It is turned by so many half segments of the mean width.
    pub fn new(segment_count: u32, shares: &[u32], turn_half_segments: u32) -> Round {
        let count = segment_count.max(1);
        let half_angle_rad = half_angle_rad(count);
        let share = |at: u32| {
            let place = at as usize % shares.len().max(1);
            shares.get(place).copied().unwrap_or(1).max(1)
        };
        let sum: u32 = (0..count).map(share).sum();
        let halves = |shares: f64| shares * f64::from(count) / f64::from(sum);
        let mut found: Vec<u32> = (0..count).map(share).collect();
        found.sort_unstable();
        found.dedup();
        found.reverse();
        let kinds: Vec<SegmentKind> = found
            .iter()
            .map(|own| SegmentKind {
                share: *own,
                half_angle_rad: half_angle_rad * halves(f64::from(*own)),
                count: (0..count).filter(|at| share(*at) == *own).count() as u32,
            })
            .collect();
        let mut before = 0;
        let edges = (0..=count).map(|at| {
            let from_middle = 2.0 * f64::from(before) - f64::from(share(0));
            before += share(at);
            halves(from_middle) + f64::from(turn_half_segments)
        });
        Round {
            half_angle_rad,
            edges_halves: edges.collect(),
            kind_of: (0..count)
                .map(|at| found.iter().position(|own| *own == share(at)).unwrap_or(0))
                .collect(),
            kinds,
        }
    }

    /// The same round, turned on by an angle to the right.
    #[must_use]
    pub fn turned_on(mut self, angle_rad: f64) -> Round {
        let halves = angle_rad / self.half_angle_rad;
        for edge in &mut self.edges_halves {
            *edge += halves;
        }
        self
    }

    /// The segments of each kind, the widest first, of a ring that was wanted with this round.
    ///
    /// # Errors
    /// When no wall, or no short edge, is left of one.
    pub fn segments(&self, wanted: &Wanted) -> Result<Vec<Alike>, RingError> {
        let widest = wanted.segment()?;
        let kinds = self.kinds.iter().enumerate();
        let of_kind = |(place, kind): (usize, &SegmentKind)| {
            let segment = match place {
                0 => widest,
                _ => wanted.narrower(&widest, kind.half_angle_rad)?,
            };
            Ok(Alike {
                kind: *kind,
                segment,
            })
        };
        kinds.map(of_kind).collect()
    }

    /// Number of segments.
    pub fn count(&self) -> u32 {
        self.kind_of.len() as u32
    }

    /// The kinds of its segments, the widest first.
    pub fn kinds(&self) -> &[SegmentKind] {
        &self.kinds
    }

    /// Whether all its segments are alike.
    pub fn is_even(&self) -> bool {
        self.kinds.len() == 1
    }

    /// How much wider than the mean its widest segment is.
    pub fn widest(&self) -> f64 {
        let widest = self.kinds.first();
        widest.map_or(1.0, |kind| kind.half_angle_rad / self.half_angle_rad)
    }

    /// A segment's kind, by its place among the kinds.
    pub fn kind_of(&self, segment: u32) -> usize {
        let place = segment as usize % self.kind_of.len();
        self.kind_of[place]
    }

    /// Half the angle that a segment spans.
    pub fn half_angle_rad(&self, segment: u32) -> f64 {
        self.kinds[self.kind_of(segment)].half_angle_rad
    }

    /// Where a segment begins; that after the last is a full turn on from the first.
    pub fn edge_rad(&self, segment: u32) -> f64 {
        let last = self.edges_halves.len() - 1;
        self.half_angle_rad * self.edges_halves[(segment as usize).min(last)]
    }

    /// The direction of a segment's middle.
    pub fn middle_rad(&self, segment: u32) -> f64 {
        let place = segment as usize % self.kind_of.len();
        let [from, to] = [self.edges_halves[place], self.edges_halves[place + 1]];
        self.half_angle_rad * f64::midpoint(from, to)
    }

    /// The directions of the joints, each that after its segment.
    pub fn joints_rad(&self) -> impl Iterator<Item = f64> + use<'_> {
        (1..=self.count()).map(|segment| self.edge_rad(segment))
    }

    /// The segment that stands in a direction.
    pub fn segment_at(&self, direction_rad: f64) -> u32 {
        let (first, whole) = (self.edges_halves[0], 2.0 * f64::from(self.count()));
        let halves = (direction_rad / self.half_angle_rad - first).rem_euclid(whole) + first;
        let begun = self.edges_halves.partition_point(|edge| *edge <= halves);
        (begun.max(1) as u32 - 1).min(self.count() - 1)
    }

    /// After how many segments their widths come again.
    pub fn repeats_after(&self) -> u32 {
        let count = self.count();
        let is_same = |after: u32, at: u32| self.kind_of(at) == self.kind_of(at + after);
        let repeats =
            |after: &u32| count.is_multiple_of(*after) && (0..count).all(|at| is_same(*after, at));
        (1..=count).find(repeats).unwrap_or(count)
    }

    /// Half the angles of the two neighbours that span most together.
    pub fn widest_pair_rad(&self) -> [f64; 2] {
        let pair = |at: u32| [at, at + 1].map(|it| self.half_angle_rad(it));
        let pairs = (0..self.count()).map(pair);
        pairs
            .max_by(|one, other| (one[0] + one[1]).total_cmp(&(other[0] + other[1])))
            .unwrap_or([self.half_angle_rad; 2])
    }

    /// What its flats face across the axis.
    pub fn facing(&self) -> Facing {
        match (self.is_even(), self.count().is_multiple_of(2)) {
            (true, true) => Facing::Flat,
            (true, false) => Facing::Corner,
            (false, _) => Facing::Unlike,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    #[test]
    fn an_even_ring_has_its_joints_where_it_always_had() {
        let round = Round::new(12, &[], 1);
        let joints: Vec<f64> = round.joints_rad().map(f64::to_degrees).collect();
        assert!((joints[0] - 30.0).abs() < 1e-12 && joints.len() == 12);
        assert!(round.is_even() && round.facing() == Facing::Flat && round.segment_at(0.3) == 0);
        assert!((round.kinds()[0].half_angle_rad - half_angle_rad(12)).abs() < 1e-15);
        assert_eq!(round, Round::new(12, &[3], 1).with_share(1));
    }

    impl Round {
        fn with_share(mut self, share: u32) -> Round {
            self.kinds[0].share = share;
            self
        }
    }

    #[test]
    fn two_to_one_among_twelve_is_forty_and_twenty_degrees() {
        let round = Round::new(12, &[2, 1], 0);
        let spans = round
            .kinds()
            .iter()
            .map(|it| 2.0 * it.half_angle_rad.to_degrees());
        let spans: Vec<f64> = spans.collect();
        assert!((spans[0] - 40.0).abs() < 1e-12 && (spans[1] - 20.0).abs() < 1e-12);
        assert_eq!(
            round.kinds().iter().map(|it| it.count).collect::<Vec<_>>(),
            [6, 6]
        );
        assert!((round.middle_rad(1).to_degrees() - 30.0).abs() < 1e-12);
        assert!((round.edge_rad(12) - round.edge_rad(0) - TAU).abs() < 1e-12);
        assert_eq!(round.segment_at(19.9_f64.to_radians()), 0);
        assert_eq!(round.segment_at(20.1_f64.to_radians()), 1);
        assert_eq!(round.segment_at((-20.1_f64).to_radians()), 11);
    }

    #[test]
    fn a_repeat_that_does_not_come_out_still_fills_the_round() {
        let round = Round::new(7, &[3, 1, 2], 5);
        let spans: f64 = (0..7).map(|at| 2.0 * round.half_angle_rad(at)).sum();
        assert!((spans - TAU).abs() < 1e-12 && round.facing() == Facing::Unlike);
        for segment in 0..7 {
            assert_eq!(round.segment_at(round.middle_rad(segment)), segment);
            let ends = [round.edge_rad(segment), round.edge_rad(segment + 1)];
            let span = 2.0 * round.half_angle_rad(segment);
            assert!((ends[1] - ends[0] - span).abs() < 1e-12);
        }
    }
}
