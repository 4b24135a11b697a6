//! What is left of a turned or glued ring that does not run true any more: wood moved while
//! it lay, or it came back on the lathe a little off the middle.
//!
//! All of it rests on two remarks about a closed outline without hollows that turns about an
//! axis within it: a circle, an oval one beside its middle, and a ring of straight segments that
//! still has its corners are such. Let the reading at one place be T, the greatest distance from
//! the axis less the smallest, while it is turned once by hand.
//!
//! 1. A straightedge laid on the outline where it is nearest to the axis, at m, stands square to
//!    the way there. The one opposite is at least the narrowest width N away, so no nearer to
//!    the axis than N − m; and the outline reaches it. So T ≥ N − 2m, and m ≥ (N − T) / 2.
//! 2. No point is nearer to both ends of the widest width W than half of it. So the outline
//!    reaches W / 2 from the axis, and m ≥ W / 2 − T.
//!
//! Whichever says more holds. The same of a hole, which is widest where the outside would be
//! nearest: its farthest place M from the axis is at most (W + T) / 2, and at most N / 2 + T.
//! Of an oval beside its middle, in whatever direction, this is off by at most
//! (3 − 2√2) / 2 ≈ 0.086 of what the widths differ by, on the radius.
//!
//! Where only T was read, its share of offset and of ovality is not known. For an oval whose
//! widest and narrowest have the mean that the ring was round with, the worst is two thirds of T,
//! found where the offset is twice what each half axis changed: with the half axes r ± q and
//! offset e along the short one, T = 2q + e + e² / 8q and the loss is q + e.
//!
//! Own derivation, no published source. How a blank is read with a caliper and a dial indicator
//! is common practice, no published source.

/// What was read round one side of a ring at one place. Diameters and a total reading, in
/// millimeters; nothing where it was not read.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reading {
    /// The widest diameter.
    pub widest_mm: Option<f64>,
    /// The narrowest diameter.
    pub narrowest_mm: Option<f64>,
    /// The greatest distance from the axis less the smallest.
    pub runs_out_mm: Option<f64>,
}

/// What is left of one side of a ring. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// Radius of the largest true circle outside, or of the smallest one round the hole.
    pub radius_mm: f64,
    /// What comes off where it stands out farthest, until all is round.
    pub cut_mm: f64,
}

/// Readings that no outline has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contradiction {
    /// The narrowest is wider than the widest.
    NarrowestWider,
    /// It runs out less than half of what the widths differ by, which even an oval in the middle
    /// does.
    RunsOutTooLittle {
        /// The least that it can.
        least_mm: f64,
    },
    /// One width alone tells nothing of this side.
    OtherWidthMissing,
}

/// A caliper, a rule and a hand are no truer than this, on the radius, millimeters (common
/// practice, no published source).
const TRUE_TO_MM: f64 = 0.5;

/// The share of a reading that is lost at its worst, where nothing else was read.
const WORST_SHARE: f64 = 2.0 / 3.0;

impl Reading {
    /// Whether nothing was read.
    pub fn is_empty(&self) -> bool {
        *self == Reading::default()
    }

    /// Half of what the widths differ by, where both were read.
    fn oval_mm(&self) -> Option<f64> {
        Some((self.widest_mm? - self.narrowest_mm?) / 2.0)
    }

    /// What it runs out, where that is known: an oval that was read in the middle runs out by
    /// half of what its widths differ by.
    fn known_runout_mm(&self) -> Option<f64> {
        let oval_mm = self.oval_mm();
        match (self.runs_out_mm, oval_mm) {
            (Some(read), Some(oval_mm)) => Some(read.max(oval_mm)),
            (read, oval_mm) => read.or(oval_mm),
        }
    }

    fn check(&self) -> Result<(), Contradiction> {
        let Some(oval_mm) = self.oval_mm() else {
            return Ok(());
        };
        if oval_mm < 0.0 {
            return Err(Contradiction::NarrowestWider);
        }
        let is_too_little = |read: f64| read + TRUE_TO_MM < oval_mm;
        if self.runs_out_mm.is_some_and(is_too_little) {
            return Err(Contradiction::RunsOutTooLittle { least_mm: oval_mm });
        }
        Ok(())
    }

    /// The largest true circle that the outside still holds; `before_mm` is the radius of the
    /// one that it held. May be below 0 where it runs out farther than it is wide.
    ///
    /// # Errors
    /// When the readings contradict each other, or do not tell it.
    pub fn outside_left(&self, before_mm: f64) -> Result<Left, Contradiction> {
        self.check()?;
        let half = |diameter_mm: Option<f64>| diameter_mm.map(|it| it / 2.0);
        let (widest, narrowest) = (half(self.widest_mm), half(self.narrowest_mm));
        let (radius_mm, cut_mm) = match (widest, narrowest, self.known_runout_mm()) {
            (_, Some(narrow), Some(runout)) => {
                // Read off the middle, or without an indicator: an oval that is centered anew.
                let off = self.runs_out_mm.map_or(0.0, |_| runout);
                let by_narrowest = narrow - off / 2.0;
                let by_widest = widest.map_or(by_narrowest, |wide| wide - runout);
                (by_narrowest.max(by_widest).min(narrow), runout)
            }
            // Its mean stayed, so the widest is as much wider as this is narrower.
            (_, Some(narrow), None) => (narrow, 2.0 * (before_mm - narrow).max(0.0)),
            (Some(wide), None, Some(runout)) => (wide - runout, runout),
            (Some(_), None, None) => return Err(Contradiction::OtherWidthMissing),
            (None, None, runout) => {
                let runout = runout.unwrap_or(0.0);
                (before_mm - WORST_SHARE * runout, runout)
            }
        };
        Ok(Left { radius_mm, cut_mm })
    }

    /// The smallest true circle round the hole; `before_mm` is the radius of the one before.
    ///
    /// # Errors
    /// As [`Reading::outside_left`].
    pub fn hole_left(&self, before_mm: f64) -> Result<Left, Contradiction> {
        self.check()?;
        let half = |diameter_mm: Option<f64>| diameter_mm.map(|it| it / 2.0);
        let (widest, narrowest) = (half(self.widest_mm), half(self.narrowest_mm));
        let (radius_mm, cut_mm) = match (widest, narrowest, self.known_runout_mm()) {
            (Some(wide), _, Some(runout)) => {
                let off = self.runs_out_mm.map_or(0.0, |_| runout);
                let by_widest = wide + off / 2.0;
                let by_narrowest = narrowest.map_or(by_widest, |narrow| narrow + runout);
                (by_widest.min(by_narrowest).max(wide), runout)
            }
            (Some(wide), _, None) => (wide, 2.0 * (wide - before_mm).max(0.0)),
            (None, Some(narrow), Some(runout)) => (narrow + runout, runout),
            (None, Some(_), None) => return Err(Contradiction::OtherWidthMissing),
            (None, None, runout) => {
                let runout = runout.unwrap_or(0.0);
                (before_mm + WORST_SHARE * runout, runout)
            }
        };
        Ok(Left { radius_mm, cut_mm })
    }

    /// What is left of a hole that was not read beside this outside: it went along, so its
    /// farthest place is as much farther out as the outside's is; that the outside shrank makes it
    /// no smaller. Both radii are those before.
    pub fn hole_along(&self, outside_before_mm: f64, hole_before_mm: f64) -> Left {
        let farthest = self.hole_left(outside_before_mm).unwrap_or_else(|_| {
            // Its mean stayed, so the widest is as much wider as this is narrower.
            let narrow = self.narrowest_mm.map_or(outside_before_mm, |it| it / 2.0);
            let by_mm = (outside_before_mm - narrow).max(0.0);
            Left {
                radius_mm: outside_before_mm + by_mm,
                cut_mm: 2.0 * by_mm,
            }
        });
        Left {
            radius_mm: hole_before_mm + (farthest.radius_mm - outside_before_mm).max(0.0),
            cut_mm: farthest.cut_mm,
        }
    }
}

/// A value between those that were measured, by straight lines over the height; beyond them as
/// the nearest (common practice, no published source). `measured` rises in height; 0 where it is
/// empty.
pub fn between(measured: &[(f64, f64)], height_mm: f64) -> f64 {
    let above = measured.partition_point(|it| it.0 < height_mm);
    let below = above.checked_sub(1).and_then(|at| measured.get(at));
    match (below, measured.get(above)) {
        (Some(&(low, from)), Some(&(high, to))) if high > low => {
            from + (to - from) * (height_mm - low) / (high - low)
        }
        (_, Some(&(_, value))) | (Some(&(_, value)), None) => value,
        (None, None) => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::dice::Dice;
    use std::f64::consts::{PI, TAU};

    /// An outline as points round it.
    type Outline = Vec<(f64, f64)>;

    fn ellipse(wide: f64, narrow: f64, center: (f64, f64), count: u32) -> Outline {
        (0..count)
            .map(|at| f64::from(at) / f64::from(count) * TAU)
            .map(|turn| (center.0 + wide * turn.cos(), center.1 + narrow * turn.sin()))
            .collect()
    }

    /// A ring of straight segments that was squeezed by a share along some direction and put
    /// beside the axis.
    fn squeezed(sides: u32, apothem: f64, by: f64, way: f64, center: (f64, f64)) -> Outline {
        let corner = apothem / (PI / f64::from(sides)).cos();
        (0..sides)
            .map(|at| f64::from(at) / f64::from(sides) * TAU)
            .map(|turn| {
                let (x, y) = (corner * turn.cos(), corner * turn.sin());
                let (along, across) = (
                    (x * way.cos() + y * way.sin()) * (1.0 + by),
                    (y * way.cos() - x * way.sin()) * (1.0 - by),
                );
                (
                    center.0 + along * way.cos() - across * way.sin(),
                    center.1 + along * way.sin() + across * way.cos(),
                )
            })
            .collect()
    }

    /// Nearest and farthest from the axis: to its straight edges, and to its corners.
    fn from_axis(outline: &Outline) -> (f64, f64) {
        let far = outline.iter().map(|it| it.0.hypot(it.1));
        let next = outline.iter().cycle().skip(1);
        let near = outline.iter().zip(next).map(|(one, other)| {
            let (x, y) = (other.0 - one.0, other.1 - one.1);
            let along = -(one.0 * x + one.1 * y) / (x * x + y * y).max(1e-12);
            let along = along.clamp(0.0, 1.0);
            (one.0 + along * x).hypot(one.1 + along * y)
        });
        (near.fold(f64::INFINITY, f64::min), far.fold(0.0, f64::max))
    }

    /// The widths between two straightedges, looked for in fine steps and square to each edge.
    fn widths(outline: &Outline) -> (f64, f64) {
        let next = outline.iter().cycle().skip(1);
        let square = outline
            .iter()
            .zip(next)
            .map(|(one, other)| (other.1 - one.1).atan2(other.0 - one.0) + PI / 2.0);
        let all: Vec<f64> = square
            .chain((0..400).map(|at| f64::from(at) / 400.0 * PI))
            .map(|way| {
                let along = outline.iter().map(|it| it.0 * way.cos() + it.1 * way.sin());
                let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), it| {
                    (l.min(it), h.max(it))
                });
                high - low
            })
            .collect();
        // The widest is between two corners.
        let far = outline.iter().enumerate().flat_map(|(at, one)| {
            let rest = outline.iter().skip(at + 1);
            rest.map(move |other| (one.0 - other.0).hypot(one.1 - other.1))
        });
        (
            far.fold(0.0, f64::max),
            all.iter().copied().fold(f64::INFINITY, f64::min),
        )
    }

    fn read(outline: &Outline, near: f64, far: f64) -> Reading {
        let (widest, narrowest) = widths(outline);
        Reading {
            widest_mm: Some(widest),
            narrowest_mm: Some(narrowest),
            runs_out_mm: Some(far - near),
        }
    }

    /// All that can be read of it, each with and without the rest.
    fn parts(all: Reading) -> [Reading; 4] {
        [
            all,
            Reading {
                widest_mm: None,
                ..all
            },
            Reading {
                narrowest_mm: None,
                ..all
            },
            Reading {
                runs_out_mm: all.runs_out_mm,
                ..Reading::default()
            },
        ]
    }

    fn between_two(dice: &mut Dice, from: f64, to: f64) -> f64 {
        from + (to - from) * f64::from(dice.below(1 << 20)) / f64::from(1 << 20)
    }

    #[test]
    fn no_wood_is_promised_that_an_oval_beside_its_middle_does_not_have() {
        let mut dice = Dice::new(61);
        for _ in 0..4_000 {
            let radius = between_two(&mut dice, 20.0, 250.0);
            let q = between_two(&mut dice, 0.0, 0.04 * radius);
            let e = between_two(&mut dice, 0.0, 0.06 * radius);
            let way = between_two(&mut dice, 0.0, TAU);
            let center = (e * way.cos(), e * way.sin());
            let outline = ellipse(radius + q, radius - q, center, 720);
            let (near, far) = from_axis(&outline);
            let read = Reading {
                widest_mm: Some(2.0 * (radius + q)),
                narrowest_mm: Some(2.0 * (radius - q)),
                runs_out_mm: Some(far - near),
            };
            for reading in parts(read) {
                // What the sampled outline cuts off the corners of its curve.
                let hair = 1e-4 * radius;
                let outside = reading.outside_left(radius).unwrap();
                assert!(
                    outside.radius_mm <= near + hair,
                    "{reading:?} {outside:?} {near}"
                );
                assert!(outside.cut_mm + hair >= far - near);
                let hole = reading.hole_left(radius).unwrap();
                assert!(hole.radius_mm >= far - hair, "{reading:?} {hole:?} {far}");
            }
        }
    }

    #[test]
    fn nor_one_that_a_ring_with_its_corners_does_not_have() {
        let mut dice = Dice::new(62);
        for _ in 0..4_000 {
            let sides = 3 + dice.below(45);
            let apothem = between_two(&mut dice, 20.0, 250.0);
            let corner = apothem / (PI / f64::from(sides)).cos();
            let by = between_two(&mut dice, 0.0, 0.03);
            let way = between_two(&mut dice, 0.0, TAU);
            let e = between_two(&mut dice, 0.0, 0.06 * apothem);
            let off = between_two(&mut dice, 0.0, TAU);
            let center = (e * off.cos(), e * off.sin());
            let outline = squeezed(sides, apothem, by, way, center);
            let (near, far) = from_axis(&outline);
            for reading in parts(read(&outline, near, far)) {
                let outside = reading.outside_left(apothem).unwrap();
                assert!(
                    outside.radius_mm <= near + 1e-3 * apothem,
                    "{sides} {reading:?} {outside:?} {near}"
                );
                let hole = reading.hole_left(corner).unwrap();
                assert!(
                    hole.radius_mm >= far - 1e-3 * apothem,
                    "{sides} {reading:?} {hole:?} {far}"
                );
            }
        }
    }

    /// The worst that there is behind three readings, looked for over offset and direction.
    fn worst_near(wide: f64, narrow: f64, runs_out: f64) -> f64 {
        let mut worst = f64::INFINITY;
        for way in 0..=12 {
            let way = f64::from(way) / 12.0 * PI / 2.0;
            let at = |e: f64| {
                let outline = ellipse(wide, narrow, (e * way.cos(), e * way.sin()), 720);
                from_axis(&outline)
            };
            // It runs out the more the farther it is off the middle.
            let (mut low, mut high) = (0.0, runs_out + 1.0);
            for _ in 0..24 {
                let middle = f64::midpoint(low, high);
                let (near, far) = at(middle);
                if far - near < runs_out {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            let (near, far) = at(low);
            if (far - near - runs_out).abs() < 1e-3 {
                worst = worst.min(near);
            }
        }
        worst
    }

    #[test]
    fn hardly_less_is_promised_than_the_worst_leaves() {
        let mut largest: f64 = 0.0;
        for q in [0.25, 0.5, 1.0, 1.5] {
            for times in [2.05, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0] {
                let (wide, narrow, runs_out) = (80.0 + q, 80.0 - q, times * q);
                let worst = worst_near(wide, narrow, runs_out);
                let reading = Reading {
                    widest_mm: Some(2.0 * wide),
                    narrowest_mm: Some(2.0 * narrow),
                    runs_out_mm: Some(runs_out),
                };
                let told = reading.outside_left(80.0).unwrap().radius_mm;
                let short = worst - told;
                assert!(short > -2e-3, "{q} {times} {short}");
                largest = largest.max(short / (4.0 * q));
            }
        }
        // Of what the widths differ by, 4q, and a hair for the samples.
        assert!((0.07..0.09).contains(&largest), "{largest}");
    }

    #[test]
    fn a_reading_alone_costs_two_thirds_of_it_at_the_worst_and_no_more() {
        let mut worst: f64 = 0.0;
        for q in 0..=60 {
            let q = f64::from(q) / 40.0;
            for e in 0..=60 {
                let e = f64::from(e) / 20.0;
                for way in 0..=6 {
                    let way = f64::from(way) / 6.0 * PI / 2.0;
                    let outline = ellipse(80.0 + q, 80.0 - q, (e * way.cos(), e * way.sin()), 720);
                    let (near, far) = from_axis(&outline);
                    if far - near > 0.2 {
                        worst = worst.max((80.0 - near) / (far - near));
                    }
                }
            }
        }
        assert!(
            worst < WORST_SHARE + 2e-3 && worst > WORST_SHARE - 0.02,
            "{worst}"
        );
    }

    #[test]
    fn what_is_plain_is_told_to_the_hair() {
        let reading = |wide: f64, narrow: f64, out: f64| Reading {
            widest_mm: Some(wide),
            narrowest_mm: Some(narrow),
            runs_out_mm: Some(out),
        };
        // Round, beside the middle.
        let off = reading(160.0, 160.0, 3.0);
        assert!((off.outside_left(80.0).unwrap().radius_mm - 78.5).abs() < 1e-9);
        assert!((off.hole_left(80.0).unwrap().radius_mm - 81.5).abs() < 1e-9);
        // Oval, in the middle, read or not.
        let oval = reading(162.0, 158.0, 2.0);
        let unread = Reading {
            runs_out_mm: None,
            ..oval
        };
        for it in [oval, unread] {
            assert!((it.outside_left(80.0).unwrap().radius_mm - 79.0).abs() < 1e-9);
            assert!((it.hole_left(80.0).unwrap().radius_mm - 81.0).abs() < 1e-9);
            assert!((it.outside_left(80.0).unwrap().cut_mm - 2.0).abs() < 1e-9);
        }
        // Nothing read, nothing lost.
        let none = Reading::default().outside_left(80.0).unwrap();
        assert_eq!((none.radius_mm, none.cut_mm), (80.0, 0.0));
        // A ring of twelve with its corners, in the middle: its flats stay.
        let apothem = 80.0;
        let ring = squeezed(12, apothem, 0.0, 0.0, (0.0, 0.0));
        let (near, far) = from_axis(&ring);
        let told = read(&ring, near, far).outside_left(apothem).unwrap();
        assert!((told.radius_mm - apothem).abs() < 1e-3, "{told:?}");
    }

    #[test]
    fn readings_that_contradict_each_other_are_refused() {
        let of = |wide, narrow, out| Reading {
            widest_mm: wide,
            narrowest_mm: narrow,
            runs_out_mm: out,
        };
        for (reading, expected) in [
            (
                of(Some(158.0), Some(160.0), None),
                Contradiction::NarrowestWider,
            ),
            (
                of(Some(164.0), Some(160.0), Some(1.0)),
                Contradiction::RunsOutTooLittle { least_mm: 2.0 },
            ),
        ] {
            assert_eq!(reading.outside_left(80.0), Err(expected));
            assert_eq!(reading.hole_left(80.0), Err(expected));
        }
        let missing = Err(Contradiction::OtherWidthMissing);
        assert_eq!(of(Some(160.0), None, None).outside_left(80.0), missing);
        assert_eq!(of(None, Some(160.0), None).hole_left(80.0), missing);
        // Within what a rule reads it is let pass, and never for more wood.
        let near = of(Some(164.0), Some(162.0), Some(0.6)).outside_left(82.0);
        assert!((near.unwrap().radius_mm - 81.0).abs() < 1e-9);
    }

    #[test]
    fn between_measured_rings_it_runs_straight_and_beyond_as_the_nearest() {
        let measured = [(10.0, 1.0), (30.0, 3.0)];
        for (height, value) in [
            (0.0, 1.0),
            (10.0, 1.0),
            (15.0, 1.5),
            (30.0, 3.0),
            (99.0, 3.0),
        ] {
            assert!(
                (between(&measured, height) - value).abs() < 1e-12,
                "{height}"
            );
        }
        assert!(between(&[], 5.0).abs() < 1e-12);
        assert!((between(&measured[..1], 99.0) - 1.0).abs() < 1e-12);
    }
}
