//! What is looked up beside the saw: one ring, how its dry fit closes, other segment
//! counts, staves. What cannot be computed is missing and named among the troubles, and
//! the rest stands.

use crate::design::field::{SOME_MM, key};
use crate::design::trouble::{Reason, Trouble};
use crate::design::{Between, Design, HoleBy, PricePer, Shop};
use crate::plan::caution::{self, Caution};
use crate::plan::stripe::StripePlan;
use crate::plan::woods;
use crate::trade::closing::{ClosingError, HAIR_MM, LastJoint, error_from_protractor_rad};
use crate::trade::ring::{self, Outside, RingError, Segment, Wanted};
use crate::trade::round::{Alike, Round};
use crate::trade::stave::WantedStaves;
use crate::trade::strip::{Cutting, StripTooShort, Strips, strips, together};
use crate::trade::vessel;
use crate::units::color::Color;
use crate::units::length::{as_shown_mm, rounded_up_mm};
use crate::units::quantity::BOARD_FOOT_MM3;

/// The segment counts set side by side.
pub const COUNTS: std::ops::RangeInclusive<u32> = 6..=48;

/// The saw errors whose effect is shown, degrees a cut.
pub const SAW_ERRORS_DEG: [f64; 3] = [0.05, 0.1, 0.25];

/// One ring: that of the Ring place, or one of a stack.
#[derive(Clone, Debug)]
pub struct RingPlan {
    /// What was wanted, in radii.
    pub wanted: Wanted,
    /// What stands between its segments.
    pub between: Between,
    /// The outside, where there is one.
    pub outside: Option<Outside>,
    /// The whole segment, of several kinds the widest, where there is one.
    pub segment: Option<Segment>,
    /// The segments that are sawn alike, the widest first; none where there is no segment.
    pub alike: Vec<Alike>,
    /// The strips.
    pub strips: Option<Strips>,
    /// Diameters of circle and hole when the figures are cut as shown.
    pub as_cut_mm: Option<(f64, f64)>,
    /// Wood in the milled strips, cubic millimeters.
    pub strip_wood_mm3: Option<f64>,
    /// What that wood costs.
    pub cost: Option<f64>,
    /// Weight of the glued ring before turning, kilograms.
    pub weight_kg: Option<f64>,
    /// The last joint, for the saw's error.
    pub last_joint: Option<LastJoint>,
    /// Its woods: a strip is of one.
    pub woods: Vec<RingWood>,
    /// Its striped segments, where it has them.
    pub stripes: Option<StripePlan>,
}

impl RingPlan {
    /// The color that its first wood is drawn in.
    pub fn color(&self, design: &Design) -> Color {
        let wood = self.woods.first();
        woods::color(design, wood.map_or("", |wood| &wood.name))
    }

    /// The circle, where figures cut as shown leave less of it than is wanted. A hair on the
    /// radius is lost in glue and sanding anyway.
    pub fn circle_too_small_mm(&self) -> Option<f64> {
        let circle_mm = self.as_cut_mm?.0;
        (circle_mm < 2.0 * self.wanted.outside_radius_mm - 2.0 * HAIR_MM).then_some(circle_mm)
    }

    /// Stop and strip of the widest segments as they are to be set, millimeters: as shown, or up
    /// a step where that would spoil the ring. A stop that is longer needs the strip wider.
    pub fn to_set_mm(&self, design: &Design) -> Option<[f64; 2]> {
        let segment = self.alike.first()?.segment;
        let (half_rad, exact_mm) = (segment.outside.half_angle_rad, segment.outside.long_edge_mm);
        let stop_mm = if self.circle_too_small_mm().is_some() {
            rounded_up_mm(exact_mm, design.unit)
        } else {
            as_shown_mm(exact_mm, design.unit)
        };
        let wider_mm = (stop_mm - exact_mm) / 2.0 / half_rad.tan();
        let needed_mm = segment.strip_width_mm + wider_mm;
        let shown_mm = as_shown_mm(segment.strip_width_mm, design.unit);
        let hole_mm = ring::as_cut(half_rad, stop_mm, shown_mm, self.wanted.spacer_mm).1;
        let inside_mm = 2.0 * self.wanted.inside_radius_mm;
        let is_spoiled = inside_mm > 0.0 && hole_mm > inside_mm + 2.0 * HAIR_MM;
        let strip_mm = if is_spoiled {
            rounded_up_mm(needed_mm, design.unit)
        } else {
            shown_mm
        };
        Some([stop_mm, strip_mm])
    }

    /// The hole, where figures cut as shown make more of it than is wanted.
    pub fn hole_too_large_mm(&self) -> Option<f64> {
        let (hole_mm, wanted_mm) = (self.as_cut_mm?.1, 2.0 * self.wanted.inside_radius_mm);
        (wanted_mm > 0.0 && hole_mm > wanted_mm + 2.0 * HAIR_MM).then_some(hole_mm)
    }
}

/// What a ring takes of one of its woods.
#[derive(Clone, Debug, PartialEq)]
pub struct RingWood {
    /// Its name.
    pub name: String,
    /// Its place in the vessel's list, where there is one.
    pub place: Option<usize>,
    /// Segments of it; all, where they are striped.
    pub segment_count: u32,
    /// Their strips, where there is a segment.
    pub strips: Option<Strips>,
}

/// What a dry ring says about the saw: radians that each cut is too small.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DryFitPlan {
    /// From the gap at the last joint.
    pub from_gap_rad: Option<f64>,
    /// From a protractor over some glued segments.
    pub from_protractor_rad: Option<f64>,
}

/// One row of the table of counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CountPlan {
    /// The segment count.
    pub segment_count: u32,
    /// The segment.
    pub segment: Segment,
    /// Length of strip in all.
    pub strip_length_mm: f64,
    /// Accuracy that each cut needs for a closed joint, radians.
    pub accuracy_rad: f64,
}

/// The same ring with other segment counts, side by side; those that cannot be made
/// are left out.
pub fn counts(design: &Design) -> Vec<CountPlan> {
    let wanted = design.wanted_ring();
    COUNTS
        .filter_map(|count| plan_count(design, wanted, count))
        .collect()
}

/// Keeps what was computed, or notes why it was not.
pub(super) fn note<T>(result: Result<T, Trouble>, troubles: &mut Vec<Trouble>) -> Option<T> {
    result.map_err(|trouble| troubles.push(trouble)).ok()
}

pub(super) fn wanted_staves(design: &Design) -> WantedStaves {
    WantedStaves {
        count: design.stave.count,
        lean_rad: design.stave.lean_deg.to_radians(),
        length_mm: design.stave.length_mm,
        bottom_diameter_mm: design.stave.bottom_diameter_mm,
    }
}

pub(crate) fn cutting(design: &Design) -> Cutting {
    Cutting {
        kerf_mm: design.shop.kerf_mm,
        hold_back_mm: design.shop.hold_back_mm,
        strip_length_mm: design.shop.strip_length_mm,
    }
}

/// The segment, with the trouble tied to the field that the turner used.
/// That the strip at hand makes this ring, where the wall follows it.
fn strip_serves(design: &Design, wanted: &Wanted) -> Result<(), Trouble> {
    let value = design.ring.strip_width_mm;
    match wanted.strip_widths_mm(SOME_MM) {
        Some([least, most])
            if design.ring.hole_by == HoleBy::StripWidth && !(least..=most).contains(&value) =>
        {
            let reason = Reason::OutOfRange { value, least, most };
            Err(Trouble::at(key::STRIP_WIDTH, reason))
        }
        _ => Ok(()),
    }
}

fn segment(design: &Design, wanted: &Wanted) -> Result<Segment, Trouble> {
    strip_serves(design, wanted)?;
    if wanted.inside_radius_mm < -1e-9 {
        return Err(Trouble::at(
            key::WALL,
            Reason::WallPastCenter {
                wall_mm: design.ring.wall_mm,
                radius_mm: wanted.outside_radius_mm,
            },
        ));
    }
    let wanted = Wanted {
        inside_radius_mm: wanted.inside_radius_mm.max(0.0),
        ..*wanted
    };
    wanted.segment().map_err(|error| {
        let field = match (error, design.ring.hole_by) {
            (RingError::NoWall { .. }, HoleBy::Wall) => key::WALL,
            (RingError::NoWall { .. }, HoleBy::InsideDiameter) => key::INSIDE_DIAMETER,
            (RingError::NoWall { .. }, HoleBy::StripWidth) => key::STRIP_WIDTH,
            (RingError::AllowancePastCenter { .. }, _) => key::INSIDE_ALLOWANCE,
            (RingError::SpacerTooThick { .. }, _) => key::SPACER,
            (RingError::TooWide { .. }, _) => key::SEGMENT_COUNT,
            (RingError::GapTooWide { .. }, _) => key::BETWEEN,
        };
        Trouble::at(field, error.into())
    })
}

/// That the strips at hand are too short, at their field.
pub(crate) fn too_short(error: StripTooShort) -> Trouble {
    Trouble::at(key::STRIP_LENGTH, Reason::Strip(error))
}

pub(super) fn plan_ring(design: &Design, wanted: Wanted, troubles: &mut Vec<Trouble>) -> RingPlan {
    let segment = note(segment(design, &wanted), troubles);
    let strips = segment.map(|segment| {
        let (strips, error) = strips(&segment, wanted.segment_count, &cutting(design));
        troubles.extend(error.map(too_short));
        strips
    });
    let wood = RingWood {
        name: design.ring.wood.clone(),
        place: None,
        segment_count: wanted.segment_count,
        strips,
    };
    let round = Round::new(wanted.segment_count, &[], 0);
    let alike = segment.zip(round.kinds().first().copied());
    let alike = alike.map(|(segment, kind)| Alike { kind, segment });
    let alike = alike.into_iter().collect();
    of_segments(design, wanted, design.ring.between, alike, vec![wood])
}

/// All that follows from a ring's segments and its woods.
pub(super) fn of_segments(
    design: &Design,
    wanted: Wanted,
    between: Between,
    alike: Vec<Alike>,
    woods: Vec<RingWood>,
) -> RingPlan {
    let segment = alike.first().map(|it| it.segment);
    let in_strips = |strips: &Strips| {
        segment.map(|it| strips.total_length_mm * it.strip_width_mm * it.strip_height_mm)
    };
    let strips = together(woods.iter().filter_map(|wood| wood.strips.as_ref()));
    RingPlan {
        outside: wanted.outside().ok(),
        segment,
        strips,
        as_cut_mm: segment.map(|_| as_cut_mm(design, &wanted, &alike)),
        strip_wood_mm3: strips.as_ref().and_then(in_strips),
        cost: cost(design, &woods, in_strips),
        weight_kg: segment.and_then(|_| weight_kg(design, &wanted, between, &alike, &woods)),
        last_joint: last_joint(&wanted, &alike),
        alike,
        wanted,
        between,
        woods,
        stripes: None,
    }
}

/// What the wood in the strips costs; missing when a wood has no price.
fn cost(
    design: &Design,
    woods: &[RingWood],
    volume_mm3: impl Fn(&Strips) -> Option<f64>,
) -> Option<f64> {
    let of_wood = |wood: &RingWood| {
        let volume_mm3 = volume_mm3(wood.strips.as_ref()?)?;
        Some(volume_mm3 * price(design, &wood.name)? / price_volume_mm3(design.shop.price_per))
    };
    woods.iter().map(of_wood).sum()
}

/// What a wood costs: its own price, else that of the shop's wood.
pub fn price(design: &Design, wood: &str) -> Option<f64> {
    let own = woods::named(design, wood).and_then(|wood| wood.price);
    own.or(design.shop.price)
}

/// What a price is for, cubic millimeters.
pub fn price_volume_mm3(price_per: PricePer) -> f64 {
    match price_per {
        PricePer::BoardFoot => BOARD_FOOT_MM3,
        PricePer::CubicMeter => 1e9,
    }
}

/// The last joint of a ring, where its narrowest segment meets another: a feeler goes in at
/// the end of the shorter face.
pub(crate) fn last_joint(wanted: &Wanted, alike: &[Alike]) -> Option<LastJoint> {
    alike.last().map(|it| LastJoint::of(wanted, &it.segment))
}

/// Diameters of circle and hole when every kind's figures are cut as shown: the smallest
/// circle and the largest hole of them.
pub(crate) fn as_cut_mm(design: &Design, wanted: &Wanted, alike: &[Alike]) -> (f64, f64) {
    let of_kind = |it: &Alike| {
        ring::as_cut(
            it.segment.outside.half_angle_rad,
            as_shown_mm(it.segment.outside.long_edge_mm, design.unit),
            as_shown_mm(it.segment.strip_width_mm, design.unit),
            wanted.spacer_mm,
        )
    };
    let all = alike.iter().map(of_kind);
    all.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))
        .unwrap_or_default()
}

/// The segments' weight and, of the same wood, the spacers'.
fn weight_kg(
    design: &Design,
    wanted: &Wanted,
    between: Between,
    alike: &[Alike],
    woods: &[RingWood],
) -> Option<f64> {
    let of_wood = |wood: &RingWood| {
        let known = woods::named(design, &wood.name)?;
        Some(known.density_kg_m3()? * f64::from(wood.segment_count))
    };
    let sum: f64 = woods.iter().map(of_wood).sum::<Option<f64>>()?;
    let volume_mm3 = vessel::ring_volume_mm3(wanted, alike, between == Between::Spacer);
    Some(sum / f64::from(wanted.segment_count) * volume_mm3 * 1e-9)
}

pub(super) fn plan_dry_fit(
    design: &Design,
    ring: &RingPlan,
    troubles: &mut Vec<Trouble>,
) -> DryFitPlan {
    let dry_fit = &design.dry_fit;
    let mut at = |key, read: Result<f64, ClosingError>| {
        let read = read.map_err(|error| Trouble::at(key, Reason::Closing(error)));
        note(read, troubles)
    };
    let from_gap = dry_fit.gap_mm.zip(ring.last_joint);
    let from_protractor = dry_fit.glued_angle_deg.map(|degrees| {
        error_from_protractor_rad(
            design.ring.segment_count,
            dry_fit.glued_count,
            degrees.to_radians(),
        )
    });
    DryFitPlan {
        from_gap_rad: from_gap
            .and_then(|(gap, joint)| at(key::DRY_FIT_GAP, joint.error_rad(gap, dry_fit.open_at))),
        from_protractor_rad: from_protractor.and_then(|read| at(key::GLUED_COUNT, read)),
    }
}

fn plan_count(design: &Design, wanted: Wanted, segment_count: u32) -> Option<CountPlan> {
    let wanted = Wanted {
        segment_count,
        ..wanted
    };
    let segment = segment(design, &wanted).ok()?;
    Some(CountPlan {
        segment_count,
        segment,
        strip_length_mm: strips(&segment, segment_count, &cutting(design))
            .0
            .total_length_mm,
        accuracy_rad: LastJoint::of(&wanted, &segment).accuracy_rad(),
    })
}

/// A saw's setting that the turner's does not reach; where nothing is said of that, most saws.
pub(crate) fn steep_saw(shop: &Shop, setting_rad: f64) -> Option<Caution> {
    let own_deg = shop.gauge_most_deg;
    let most_deg = own_deg.unwrap_or(caution::STEEPEST_SAW_DEG);
    (setting_rad.to_degrees() > most_deg + 1e-9).then_some(Caution::SteepSaw {
        setting_rad,
        own_deg,
    })
}

/// What to look at before a ring is cut.
pub fn ring_cautions(design: &Design, ring: &RingPlan) -> Vec<Caution> {
    let Some(segment) = ring.segment else {
        return Vec::new();
    };
    let mut cautions = Vec::new();
    let circle = ring.circle_too_small_mm();
    cautions.extend(circle.map(|circle_mm| Caution::RoundedTooSmall {
        circle_mm,
        wanted_mm: 2.0 * ring.wanted.outside_radius_mm,
    }));
    let hole = ring.hole_too_large_mm();
    cautions.extend(hole.map(|hole_mm| Caution::RoundedHoleTooLarge {
        hole_mm,
        wanted_mm: 2.0 * ring.wanted.inside_radius_mm,
    }));
    cautions.extend(steep_saw(&design.shop, segment.outside.half_angle_rad));
    if ring.wanted.outside_allowance_mm <= 0.0 && ring.wanted.inside_allowance_mm <= 0.0 {
        cautions.push(Caution::NoAllowance);
    }
    let narrowest = ring.alike.last().map_or(segment, |it| it.segment);
    let long_edge_mm = narrowest.outside.long_edge_mm;
    if long_edge_mm < caution::SMALL_SEGMENT_MM {
        cautions.push(Caution::SmallSegment { long_edge_mm });
    }
    if segment.strip_width_mm < caution::NARROW_STRIP_MM {
        cautions.push(Caution::NarrowStrip {
            width_mm: segment.strip_width_mm,
        });
    }
    if design.shop.hold_back_mm < caution::HAND_TO_BLADE_MM {
        cautions.push(Caution::ShortHoldBack {
            length_mm: design.shop.hold_back_mm,
        });
    }
    if !ring.wanted.segment_count.is_multiple_of(2) {
        cautions.push(Caution::OddCount {
            count: ring.wanted.segment_count,
        });
    }
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::plan;

    #[test]
    fn the_rest_stands_where_the_wall_is_too_thick() {
        let design = Design::default().with_typed(key::WALL, "5 1/2").unwrap();
        let plan = plan(&design);
        assert_eq!(plan.troubles[0].field, key::WALL);
        assert!(plan.ring.segment.is_none());
        assert!(plan.ring.outside.is_some() && plan.staves.is_some());
    }

    #[test]
    fn price_is_for_what_the_strips_hold() {
        let design = Design::default().with_typed(key::PRICE, "12").unwrap();
        let plan = plan(&design);
        let feet = crate::units::quantity::board_feet(plan.ring.strip_wood_mm3.unwrap());
        assert!((plan.ring.cost.unwrap() - 12.0 * feet).abs() < 1e-9);
    }

    #[test]
    fn a_wood_without_a_figure_has_no_weight() {
        let design = Design::default()
            .with_typed(key::WOOD, "Driftwood")
            .unwrap();
        assert!(plan(&design).ring.weight_kg.is_none());
    }

    #[test]
    fn figures_rounded_to_eighths_may_leave_too_little() {
        let design = Design::default()
            .with_typed(key::UNIT, "inch_8")
            .and_then(|design| design.with_typed("allowance.outside_mm", "0"))
            .unwrap();
        assert!(
            plan(&design)
                .cautions
                .iter()
                .any(|caution| matches!(caution, Caution::RoundedTooSmall { .. }))
        );
    }

    /// By hand: a ring of 16, 9 in finished, 1/8 in a side to turn away. Its outside flats lie
    /// 4 5/8 in from the axis, those of a strip of 3/4 in 3 7/8 in; the corners of its hole are
    /// that over cos 11.25°, and the finished hole is 1/8 in larger a side.
    #[test]
    fn wall_follows_the_strip_and_the_strip_stays() {
        let mut design = Design::default();
        for (field, typed) in [
            (key::SEGMENT_COUNT, "16"),
            (key::OUTSIDE_DIAMETER, "9"),
            (key::STRIP_WIDTH, "3/4"),
        ] {
            design = design.with_typed(field, typed).unwrap();
        }
        let hole_in = 2.0 * (3.875 / 11.25_f64.to_radians().cos() + 0.125);
        assert!((design.wanted_ring().inside_radius_mm / 12.7 - hole_in).abs() < 1e-9);
        for (field, typed) in [
            (key::SEGMENT_COUNT, "24"),
            (key::OUTSIDE_DIAMETER, "8 1/4"),
            (key::OUTSIDE_ALLOWANCE, "0"),
            (key::INSIDE_ALLOWANCE, "1/4"),
            (key::BETWEEN, "spacer"),
            (key::SPACER, "1/16"),
        ] {
            design = design.with_typed(field, typed).unwrap();
            let strip_mm = crate::plan::plan(&design)
                .ring
                .segment
                .unwrap()
                .strip_width_mm;
            assert!((strip_mm - 19.05).abs() < 1e-9, "{field} {strip_mm}");
        }
        let by_wall = design.with_typed(key::WALL, "1/2").unwrap();
        assert_eq!(by_wall.ring.hole_by, HoleBy::Wall);
    }

    #[test]
    fn a_strip_that_makes_no_such_ring_is_told_at_its_field() {
        for (typed, is_right) in [("1/16", false), ("4 1/2", true), ("5 1/4", false)] {
            let design = Design::default().with_typed(key::STRIP_WIDTH, typed);
            let plan = crate::plan::plan(&design.unwrap());
            let told = plan.troubles.iter().any(|it| it.field == key::STRIP_WIDTH);
            assert_eq!(
                (!told, plan.ring.segment.is_some()),
                (is_right, is_right),
                "{typed}"
            );
        }
    }
}
