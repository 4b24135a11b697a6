//! What a hand does to striped segments.

use super::start::neat;
use super::vessel::with_vessel;
use crate::design::field::{key, most_of};
use crate::design::{Design, Laid, MadeOf, StackRing, StripeChoice, StripeLayer, Vessel};
use crate::plan::rings::plan_rings;
use crate::trade::ring::half_angle_rad;
use crate::trade::stripe::{Stripes, meeting};
use crate::units::kept::Kept as _;
use serde_json::Value;
use std::rc::Rc;

/// Repeats that are begun with, at the least, from joint to joint.
const FIRST_REPEATS: f64 = 2.0;

/// Stripes a ring's segments, or lays them otherwise where they are striped: in its own
/// first wood and in another, the one in hand if it can be.
pub fn stripe(design: &Design, place: usize, wood: usize, laid: &str) -> Option<Design> {
    let laid = Laid::read(&Value::from(laid))?;
    let [joint_mm, _] = sizes_mm(design, place).unwrap_or_default();
    Some(with_vessel(design, |vessel| {
        let Some(ring) = vessel
            .rings
            .get(place)
            .filter(|it| it.made_of == MadeOf::Segments)
        else {
            return;
        };
        if ring.stripes.is_none() && joint_mm > 0.0 {
            let first = ring.wood_of(0);
            let second = another(vessel, first, wood);
            // A quarter of an inch, or 6 mm, where that repeats often enough.
            let usual = if design.unit.is_inch() { 6.35 } else { 6.0 };
            let repeat = 2.0 * joint_mm * std::f64::consts::FRAC_1_SQRT_2 / FIRST_REPEATS;
            let thickness = neat((repeat / 2.0).min(usual), design).max(0.1);
            let of = StripeChoice::of([first as u32, second as u32], thickness);
            vessel.rings[place].stripes = Some(of);
        }
        if let Some(stripes) = &mut vessel.rings[place].stripes {
            stripes.laid = laid;
        }
    }))
}

/// The wood in hand, if it is another than this; else one that is, added where there is none.
fn another(vessel: &mut Vessel, first: usize, wood: usize) -> usize {
    let is_other = |it: &usize| *it != first && *it < vessel.woods.len();
    let there = std::iter::once(wood)
        .chain(0..vessel.woods.len())
        .find(is_other);
    there.unwrap_or_else(|| {
        let dark = "Walnut, black";
        let is_dark = vessel.woods.iter().any(|it| it == dark);
        let other = if is_dark { "Maple, sugar" } else { dark };
        vessel.woods.push(other.to_owned());
        vessel.woods.len() - 1
    })
}

/// From the middle of a segment to its joint along the flat, on the finished outside, and
/// how high the ring is.
fn sizes_mm(design: &Design, place: usize) -> Option<[f64; 2]> {
    let rings = plan_rings(&Rc::new(design.clone()), &mut Vec::new())?;
    let planned = rings.rings.get(place)?;
    let wall = rings.wall.as_ref()?;
    let radius = wall
        .outside
        .radius_at(planned.middle_mm().min(wall.outside.height_mm()));
    let joint = radius * half_angle_rad(planned.wanted.segment_count).sin();
    Some([joint, planned.span.top_mm - planned.span.bottom_mm])
}

/// Takes the nearest slant at which whole repeats go from joint to joint; where a repeat is
/// longer than that, layers so thin that one does. What would leave a sliver of a layer at a
/// segment's edge is shifted.
pub fn meet(design: &Design, place: usize) -> Design {
    let Some([joint_mm, high_mm]) = sizes_mm(design, place) else {
        return design.clone();
    };
    let across_mm = 2.0 * joint_mm;
    with_stripes(design, place, |stripes| {
        let repeat: f64 = stripes.layers.iter().map(|it| it.thickness_mm).sum();
        if repeat <= 0.0 || across_mm <= 0.0 {
            return;
        }
        if let Some((angle, _)) = meeting(repeat, across_mm, stripes.slant_deg.to_radians()) {
            // Finer than any saw is set.
            stripes.slant_deg = (angle.to_degrees() * 1000.0).round() / 1000.0;
            clear_slivers(stripes, [across_mm, high_mm]);
            return;
        }
        if stripes.slant_deg < 1.0 {
            stripes.slant_deg = 45.0;
        }
        let scale = across_mm * stripes.slant_deg.to_radians().sin() / repeat;
        for layer in &mut stripes.layers {
            layer.thickness_mm = (layer.thickness_mm * scale).max(0.1);
        }
        clear_slivers(stripes, [across_mm, high_mm]);
    })
}

/// Shifts stripes of which a segment's edge would show less than a millimeter, to the
/// twentieth of the repeat that leaves the most.
fn clear_slivers(stripes: &mut StripeChoice, [across_mm, high_mm]: [f64; 2]) {
    const LEAST_MM: f64 = 1.0;
    let layers: Vec<f64> = stripes.layers.iter().map(|it| it.thickness_mm).collect();
    let left_mm = |shift_pct: f64| {
        let slant = stripes.slant_deg.to_radians();
        let shifted = Stripes::new(&layers, slant, shift_pct / 100.0);
        shifted.map_or(0.0, |it| it.least_left_mm(across_mm, high_mm))
    };
    let mut best = (left_mm(stripes.shift_pct), stripes.shift_pct);
    if best.0 >= LEAST_MM {
        return;
    }
    for step in 0..20 {
        let shift_pct = f64::from(step) * 5.0;
        let left = left_mm(shift_pct);
        if left > best.0 + 1e-9 {
            best = (left, shift_pct);
        }
    }
    stripes.shift_pct = best.1;
}

/// Adds a layer, of the next wood, as thick as the last.
pub fn add_layer(design: &Design, place: usize) -> Design {
    let count = design.vessel.as_ref().map_or(1, |it| it.woods.len()).max(1);
    with_stripes(design, place, |stripes| {
        let last = stripes.layers.last().cloned();
        if let Some(last) = last.filter(|_| stripes.layers.len() < most_of(key::STRIPE_LAYERS)) {
            stripes.layers.push(StripeLayer {
                wood: (last.wood + 1) % count as u32,
                ..last
            });
        }
    })
}

/// Removes the last layer; one stays.
pub fn remove_layer(design: &Design, place: usize) -> Design {
    with_stripes(design, place, |stripes| {
        if stripes.layers.len() > 1 {
            stripes.layers.pop();
        }
    })
}

/// Plain segments again, in the pattern that they had.
pub fn plain(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if let Some(ring) = vessel.rings.get_mut(place) {
            ring.stripes = None;
        }
    })
}

/// Makes the ring above the mirror image of a striped one: together they are diamonds.
pub fn mirror(design: &Design, place: usize) -> Design {
    let [joint_mm, _] = sizes_mm(design, place).unwrap_or_default();
    with_vessel(design, |vessel| {
        let Some(ring) = vessel.rings.get(place).cloned() else {
            return;
        };
        let Some(stripes) = ring.striped().cloned() else {
            return;
        };
        let Some(above) = vessel.rings.get_mut(place.saturating_add(1)) else {
            return;
        };
        if above.made_of != MadeOf::Segments || above.is_glued() {
            return;
        }
        above.segment_count = ring.segment_count;
        above.turn_half_segments =
            ring.turn_half_segments + u32::from(may_stagger(&stripes, joint_mm));
        above.turn_half_segments %= (2 * ring.segment_count).max(1);
        above.stripes = Some(StripeChoice {
            is_mirrored: !stripes.is_mirrored,
            ..stripes
        });
    })
}

/// Whether stripes come again after half a segment, so that joints need not stand in line.
fn may_stagger(stripes: &StripeChoice, joint_mm: f64) -> bool {
    let repeat: f64 = stripes.layers.iter().map(|it| it.thickness_mm).sum();
    let half = joint_mm * stripes.slant_deg.to_radians().sin() / repeat.max(1e-6);
    stripes.laid == Laid::Slant && (half - half.round()).abs() < 0.02
}

fn with_stripes(design: &Design, place: usize, change: impl FnOnce(&mut StripeChoice)) -> Design {
    with_vessel(design, |vessel| {
        let ring: Option<&mut StackRing> = vessel.rings.get_mut(place);
        if let Some(stripes) = ring.and_then(|ring| ring.stripes.as_mut()) {
            change(stripes);
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::link::{decode, encode};
    use crate::edit::{start, type_in, vessel};
    use crate::plan::caution::{Caution, StripeCaution};
    use crate::plan::plan;

    /// The lantern vase, its ring with this place striped.
    fn vase(place: usize, laid: &str) -> Design {
        let link = crate::design::example::ALL[1].link;
        let design = decode(link).unwrap().0;
        stripe(&design, place, 1, laid).unwrap()
    }

    fn of(design: &Design, place: usize) -> &StripeChoice {
        let vessel = design.vessel.as_ref().unwrap();
        vessel.rings[place].stripes.as_ref().unwrap()
    }

    fn cautions(design: &Design) -> Vec<StripeCaution> {
        let plan = plan(design);
        let placed = plan.placed_cautions().iter();
        let of_stripes = placed.filter_map(|it| match it.caution {
            Caution::Stripes(caution) => Some(caution),
            _ => None,
        });
        of_stripes.collect()
    }

    #[test]
    fn a_striped_piece_comes_back_from_link_and_file_and_shortens_no_other() {
        let design = mirror(&meet(&vase(5, "chevron"), 5), 5);
        assert!(of(&design, 6).is_mirrored && of(&design, 6).laid == Laid::Chevron);
        let back = decode(&encode(&design)).unwrap();
        assert_eq!(back, (design.clone(), vec![]));
        let file = crate::design::read::to_value(&design);
        assert_eq!(Design::restore(&file).unwrap(), (design.clone(), vec![]));
        let plainly = plain(&plain(&design, 5), 6);
        assert!(!encode(&plainly).is_empty() && encode(&plainly).len() < encode(&design).len());
        // A part of it that a file has not is as usual; a bad one is told.
        let mut less = file;
        let stripes = &mut less["vessel"]["rings"][5]["stripes"];
        stripes["layers"][1]["thickness_mm"] = "thick".into();
        stripes["slant_deg"] = 91.into();
        let (read, troubles) = Design::restore(&less).unwrap();
        assert_eq!(of(&read, 5).layers.len(), 2);
        assert_eq!(troubles.len(), 2);
    }

    #[test]
    fn no_bad_layers_stop_the_rest() {
        let design = vase(5, "slant");
        let set = |design: &Design, name: &str, typed: &str| {
            type_in(design, &format!("vessel.rings.5.stripes.{name}"), typed)
        };
        for (name, typed) in [
            ("layers.0.thickness_mm", "0"),
            ("layers.0.thickness_mm", "-1"),
            ("slant_deg", "91"),
            ("shift_pct", "101"),
            ("layers.0.wood", "99"),
        ] {
            assert!(set(&design, name, typed).is_err(), "{name} {typed}");
        }
        // Layers that are more than a segment, and so thin that no board can be glued.
        let thick = set(&design, "layers.0.thickness_mm", "500 mm").unwrap();
        let has = |design: &Design, wanted: fn(&StripeCaution) -> bool| {
            assert!(
                cautions(design).iter().any(wanted),
                "{:?}",
                cautions(design)
            );
        };
        has(&thick, |it| {
            matches!(it, StripeCaution::RepeatPastBoard { .. })
        });
        let thin = set(&design, "layers.0.thickness_mm", "0.1 mm").unwrap();
        has(&thin, |it| matches!(it, StripeCaution::ThinLayer { .. }));
        let thinner = set(&thin, "layers.1.thickness_mm", "0.1 mm").unwrap();
        let stack = plan(&thinner).into_stack().unwrap();
        assert!(stack.rings[5].stripes.as_ref().unwrap().board.is_none());
        assert_eq!(stack.troubles[0].field, "vessel.rings.5.stripes.slant_deg");
        assert!(stack.bill.iter().all(|cut| !cut.rings().contains(&5)));
        has(&set(&design, "slant_deg", "80").unwrap(), |it| {
            matches!(it, StripeCaution::EndGrain { .. })
        });
        let low = type_in(&design, "vessel.rings.5.height_mm", "12 mm").unwrap();
        has(&set(&low, "slant_deg", "30").unwrap(), |it| {
            matches!(it, StripeCaution::SteepSaw { .. })
        });
        let odd = type_in(&vase(5, "chevron"), "vessel.rings.5.segment_count", "15").unwrap();
        has(&odd, |it| {
            matches!(it, StripeCaution::OddChevron { count: 15 })
        });
        // A board too short for a piece.
        let short = type_in(&design, "shop.strip_length_mm", "20 mm").unwrap();
        assert!(!plan(&short).into_stack().unwrap().troubles.is_empty());
        // No more than there is room for, and never none.
        let many = (0..40).fold(design.clone(), |it, _| add_layer(&it, 5));
        assert_eq!(of(&many, 5).layers.len(), most_of(key::STRIPE_LAYERS));
        let few = (0..40).fold(many, |it, _| remove_layer(&it, 5));
        assert_eq!(of(&few, 5).layers.len(), 1);
        assert_eq!(meet(&vase(5, "slant"), 999), vase(5, "slant"));
        assert_eq!(stripe(&design, 5, 1, "wavy"), None);
    }

    #[test]
    fn a_wood_of_its_layers_may_be_removed() {
        let design = vase(5, "chevron");
        let first = of(&design, 5).layers[0].wood;
        let without = vessel::remove_wood(&design, first as usize);
        let count = without.vessel.as_ref().unwrap().woods.len() as u32;
        assert!(of(&without, 5).layers.iter().all(|it| it.wood < count));
        // Painted anew, it is plain.
        let painted = vessel::repeat(&design, 5, 0, vessel::Repeat::All);
        assert_eq!(painted.vessel.unwrap().rings[5].stripes, None);
        assert_eq!(vessel::paint(&design, 5, 0, 0), design);
    }

    #[test]
    fn what_is_made_to_meet_meets_also_with_layers_that_were_too_thick() {
        for thickness in ["6 mm", "40 mm", "1 mm"] {
            let mut design = vase(5, "slant");
            for layer in 0..2 {
                let key = format!("vessel.rings.5.stripes.layers.{layer}.thickness_mm");
                design = type_in(&design, &key, thickness).unwrap();
            }
            let met = meet(&design, 5);
            let stack = plan(&met).into_stack().unwrap();
            let own = stack.rings[5].stripes.as_ref().unwrap();
            assert!(
                own.misses_mm(16)[0] < 0.01,
                "{thickness}: {:?}",
                own.misses_mm(16)
            );
            assert!(
                own.least_left_mm > 0.3,
                "{thickness}: {}",
                own.least_left_mm
            );
        }
    }

    /// A set of slots through a striped ring is sawn and filled as through any other.
    #[test]
    fn slots_go_through_a_striped_ring() {
        let plainly = plan(&plain(&vase(6, "chevron"), 6)).into_stack().unwrap();
        let striped = plan(&vase(6, "chevron")).into_stack().unwrap();
        let sets = |stack: &crate::plan::stack::StackPlan| -> Vec<[f64; 3]> {
            stack
                .slot_sets
                .iter()
                .flatten()
                .map(|own| own.strip_mm)
                .collect()
        };
        assert!(sets(&striped).len() == 2 && sets(&striped) == sets(&plainly));
    }

    /// Dividing anew keeps stripes as it keeps a pattern.
    #[test]
    fn dividing_keeps_stripes() {
        let divided = start::divide(&vase(6, "chevron"));
        let rings = divided.vessel.unwrap().rings;
        assert!(rings.iter().any(|ring| ring.stripes.is_some()));
    }
}
