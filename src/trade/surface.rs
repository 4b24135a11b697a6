//! How large the surface of a turned piece is: what sanding and finish go over.
//!
//! A profile of straight pieces sweeps the sides of cone frusta: π (R + r) s each, s along
//! the side (CRC Standard Mathematical Tables and Formulas, 30th edition, frustum of a right
//! circular cone). Open gaps of even thickness g, their middles through the axis, take
//! 2 r asin(g / 2r) each of a circle of radius r, those of an angle γ γ r; both bring their own
//! two sides.

use std::f64::consts::{PI, TAU};

/// Area of a circle, square millimeters.
pub fn circle_mm2(radius_mm: f64) -> f64 {
    PI * radius_mm * radius_mm
}

/// From one place of a profile, height and radius, to the next.
fn slant_mm(two: &[(f64, f64)]) -> f64 {
    (two[1].0 - two[0].0).hypot(two[1].1 - two[0].1)
}

/// Area that a profile of heights and radii sweeps round the axis, square millimeters.
pub fn turned_mm2(profile: &[(f64, f64)]) -> f64 {
    let side_mm2 = |two: &[(f64, f64)]| PI * (two[0].1 + two[1].1) * slant_mm(two);
    profile.windows(2).map(side_mm2).sum()
}

/// Half the angle that a gap of even thickness, its middle through the axis, takes at a distance
/// from the axis, radians; nearer than half its thickness all to one side.
pub fn gap_half_rad(thickness_mm: f64, radius_mm: f64) -> f64 {
    let share = thickness_mm / 2.0 / radius_mm.max(1e-9);
    share.min(1.0).asin()
}

/// The gaps of a ring whose segments stand apart, open to the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gaps {
    /// How many.
    pub count: u32,
    /// How thick each is all along, millimeters; 0 where it is told by an angle.
    pub thickness_mm: f64,
    /// The angle of each, its sides through the axis, radians; 0 where it is as thick all along.
    pub angle_rad: f64,
}

impl Gaps {
    /// Half the angle that a gap takes at a distance from the axis, radians.
    pub fn half_rad(&self, radius_mm: f64) -> f64 {
        gap_half_rad(self.thickness_mm, radius_mm) + self.angle_rad / 2.0
    }

    /// What all of them take of a circle, millimeters; near the axis they run together.
    pub fn arc_mm(&self, radius_mm: f64) -> f64 {
        let taken_rad = 2.0 * self.half_rad(radius_mm) * f64::from(self.count);
        taken_rad.min(TAU) * radius_mm
    }

    /// What they take of the surface that a profile sweeps, square millimeters: by the rule
    /// of Simpson on each of its pieces.
    pub fn taken_mm2(&self, profile: &[(f64, f64)]) -> f64 {
        let taken_mm2 = |two: &[(f64, f64)]| {
            let middle_mm = f64::midpoint(two[0].1, two[1].1);
            let [from, middle, to] = [two[0].1, middle_mm, two[1].1].map(|it| self.arc_mm(it));
            (from + 4.0 * middle + to) / 6.0 * slant_mm(two)
        };
        profile.windows(2).map(taken_mm2).sum()
    }

    /// What they take of a level face between two radii, square millimeters.
    pub fn level_mm2(&self, inside_mm: f64, outside_mm: f64) -> f64 {
        let at = |step: u32| inside_mm + (outside_mm - inside_mm) * f64::from(step) / 64.0;
        let profile: Vec<(f64, f64)> = (0..=64).map(|step| (0.0, at(step))).collect();
        self.taken_mm2(&profile)
    }

    /// The sides of all of them, square millimeters, by the heights of a wall with its inside
    /// and outside radii there. A side ends where it meets the next gap's.
    pub fn sides_mm2(&self, section: &[(f64, [f64; 2])]) -> f64 {
        let half_mm = self.thickness_mm / 2.0;
        let least_mm = half_mm / (PI / f64::from(self.count.max(2))).sin();
        let along_mm = |[inside_mm, outside_mm]: [f64; 2]| {
            let from_axis_mm =
                |radius_mm: f64| (radius_mm * radius_mm - half_mm * half_mm).max(0.0).sqrt();
            let inside_mm = inside_mm.max(least_mm);
            (from_axis_mm(outside_mm) - from_axis_mm(inside_mm)).max(0.0)
        };
        let of_one_mm2 = |two: &[(f64, [f64; 2])]| {
            f64::midpoint(along_mm(two[0].1), along_mm(two[1].1)) * (two[1].0 - two[0].0)
        };
        let one_mm2: f64 = section.windows(2).map(of_one_mm2).sum();
        one_mm2 * 2.0 * f64::from(self.count)
    }
}

/// How far two series of openings, each from one angle to another and rising, lie over each
/// other, radians. Both go once round; the second may begin anywhere.
pub fn both_open_rad(one: &[[f64; 2]], other: &[[f64; 2]]) -> f64 {
    let (Some(first), Some(last)) = (one.first(), one.last()) else {
        return 0.0;
    };
    let Some(begins) = other.first() else {
        return 0.0;
    };
    // A turn before the first's beginning, so that what hangs over it is there too.
    let turns = ((first[0] - begins[0]) / TAU).floor() - 1.0;
    let mut shared_rad = 0.0;
    let mut at = 0;
    for turn in 0..4 {
        for open in other {
            let [from, to] = open.map(|it| it + (turns + f64::from(turn)) * TAU);
            if from > last[1] {
                return shared_rad;
            }
            while at < one.len() && one[at][1] < from {
                at += 1;
            }
            let over = one[at..].iter().take_while(|it| it[0] < to);
            shared_rad += over.map(|it| it[1].min(to) - it[0].max(from)).sum::<f64>();
        }
    }
    shared_rad
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(one: f64, other: f64, share: f64) {
        assert!((one / other - 1.0).abs() < share, "{one} {other}");
    }

    #[test]
    fn cylinder_cone_and_cap_of_a_sphere() {
        close(
            turned_mm2(&[(0.0, 40.0), (90.0, 40.0)]),
            TAU * 40.0 * 90.0,
            1e-12,
        );
        // A cone of radius 30 and height 40 has a side of 50: π r s.
        close(
            turned_mm2(&[(0.0, 0.0), (40.0, 30.0)]),
            PI * 30.0 * 50.0,
            1e-12,
        );
        close(
            circle_mm2(30.0),
            turned_mm2(&[(7.0, 0.0), (7.0, 30.0)]),
            1e-12,
        );
        // A cap of height h of a sphere of radius R: 2 π R h (CRC, 30th edition).
        let (radius, cap) = (100.0, 35.0_f64);
        let at = |step: u32| {
            let up = cap * f64::from(step) / 4000.0;
            (
                up,
                (radius * radius - (radius - up).powi(2)).max(0.0).sqrt(),
            )
        };
        let profile: Vec<_> = (0..=4000).map(at).collect();
        close(turned_mm2(&profile), TAU * radius * cap, 1e-4);
    }

    /// Fine cells of a cylinder, each asked whether it lies in a gap.
    #[test]
    fn what_gaps_take_of_a_cylinder_and_of_a_face() {
        let gaps = Gaps {
            count: 9,
            thickness_mm: 5.0,
            angle_rad: 0.0,
        };
        let is_open = |radius: f64, direction: f64| {
            (0..gaps.count).any(|it| {
                let away = direction - TAU * f64::from(it) / f64::from(gaps.count);
                away.cos() > 0.0 && (radius * away.sin()).abs() < gaps.thickness_mm / 2.0
            })
        };
        let share = |radius: f64| {
            let cells = 40_000;
            let open = (0..cells)
                .filter(|it| is_open(radius, TAU * (f64::from(*it) + 0.5) / f64::from(cells)));
            open.count() as f64 / f64::from(cells)
        };
        let cylinder = gaps.taken_mm2(&[(0.0, 30.0), (50.0, 30.0)]);
        close(cylinder, share(30.0) * TAU * 30.0 * 50.0, 2e-3);
        let rings = 400;
        let ring = |it: i32| 8.0 + 32.0 * (f64::from(it) + 0.5) / f64::from(rings);
        let brute: f64 = (0..rings)
            .map(|it| share(ring(it)) * TAU * ring(it) * 32.0 / f64::from(rings))
            .sum();
        close(gaps.level_mm2(8.0, 40.0), brute, 2e-3);
        // Where they run together nothing is left, and no more is taken.
        close(gaps.arc_mm(2.0), TAU * 2.0, 1e-12);
    }

    /// Gaps between planes through the axis take the same share of every circle.
    #[test]
    fn gaps_of_an_angle_take_their_share_of_any_surface() {
        let gaps = Gaps {
            count: 10,
            thickness_mm: 0.0,
            angle_rad: 0.2,
        };
        let profile = [(0.0, 0.0), (30.0, 40.0), (50.0, 35.0)];
        let share = 10.0 * 0.2 / TAU;
        close(
            gaps.taken_mm2(&profile),
            share * turned_mm2(&profile),
            1e-12,
        );
        let level_mm2 = share * (circle_mm2(40.0) - circle_mm2(8.0));
        close(gaps.level_mm2(8.0, 40.0), level_mm2, 1e-9);
        let tube = [(0.0, [40.0, 50.0]), (25.0, [40.0, 50.0])];
        close(gaps.sides_mm2(&tube), 20.0 * 10.0 * 25.0, 1e-12);
        let solid = [(0.0, [0.0, 50.0]), (25.0, [0.0, 50.0])];
        close(gaps.sides_mm2(&solid), 20.0 * 50.0 * 25.0, 1e-12);
    }

    #[test]
    fn the_sides_of_gaps_in_a_tube_are_flat_boards() {
        let gaps = Gaps {
            count: 12,
            thickness_mm: 6.0,
            angle_rad: 0.0,
        };
        let tube = [(0.0, [40.0, 50.0]), (25.0, [40.0, 50.0])];
        let wide = (2500.0_f64 - 9.0).sqrt() - (1600.0_f64 - 9.0).sqrt();
        close(gaps.sides_mm2(&tube), 24.0 * wide * 25.0, 1e-12);
        // Through a solid ring they end where two neighbors meet.
        let solid = [(0.0, [0.0, 50.0]), (25.0, [0.0, 50.0])];
        let wide = (2500.0_f64 - 9.0).sqrt() - 3.0 / (PI / 12.0).tan();
        close(gaps.sides_mm2(&solid), 24.0 * wide * 25.0, 1e-12);
    }

    #[test]
    fn openings_over_openings_are_found_all_round() {
        let series = |count: u32, half: f64, first: f64| -> Vec<[f64; 2]> {
            let middle = |it: u32| first + TAU * f64::from(it) / f64::from(count);
            (0..count)
                .map(|it| [middle(it) - half, middle(it) + half])
                .collect()
        };
        for (count, half, other_count, other_half, first) in [
            (12, 0.05, 12, 0.04, 0.02),
            (12, 0.05, 12, 0.05, 0.13 + TAU),
            (5, 0.2, 9, 0.1, -14.0),
            (3, 0.5, 48, 0.03, 7.7),
        ] {
            let one = series(count, half, 0.3);
            let other = series(other_count, other_half, first);
            let is_in = |all: &[[f64; 2]], at: f64| {
                all.iter().any(|it| {
                    let from = (at - it[0]).rem_euclid(TAU);
                    from < it[1] - it[0]
                })
            };
            let cells = 200_000;
            let at = |it: i32| TAU * (f64::from(it) + 0.5) / f64::from(cells);
            let both = (0..cells).filter(|it| is_in(&one, at(*it)) && is_in(&other, at(*it)));
            let brute = both.count() as f64 / f64::from(cells) * TAU;
            let found = both_open_rad(&one, &other);
            assert!((found - brute).abs() < 1e-3, "{found} {brute}");
        }
        assert!(both_open_rad(&[], &series(3, 0.1, 0.0)).abs() < 1e-12);
    }
}
