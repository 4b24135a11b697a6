//! A piece of a size, as the boards could give it: its rings from their thicknesses, its foot
//! closed in one way or another, its rings of one wood or of several.

use super::at_hand::Wood;
use crate::design::field::{LONGEST_MM, most_of};
use crate::design::{BaseChoice, BaseKind, BaseSet, Design, MadeOf, Ply, StackRing, Vessel};
use crate::edit::outline::with_own_outline;
use crate::edit::start::{self, Start, begin_from, divide_from, neat};
use crate::edit::variation::take;
use crate::edit::vessel::{rim_mm, scale_diameter, scale_height};
use crate::edit::{foot, scaled_length_mm};
use crate::plan::floor::choice;
use crate::trade::closing::HAIR_MM;
use crate::trade::wood::is_same;
use crate::units::length::MM_PER_INCH;

/// What is to be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wanted {
    /// A starting shape.
    Shape(&'static Start),
    /// The piece that there is, larger or smaller.
    Own,
}

impl Wanted {
    /// A starting shape by its word, or `own`.
    pub fn called(word: &str) -> Option<Wanted> {
        match word {
            "own" => Some(Wanted::Own),
            _ => start::find(word).map(Wanted::Shape),
        }
    }
}

/// The same piece of a size, its foot closed in each way that may do, the most usual first.
pub(super) fn of_size(
    design: &Design,
    wanted: Wanted,
    woods: &[Wood],
    size_mm: f64,
) -> Vec<Design> {
    let Some(main) = woods.first() else {
        return Vec::new();
    };
    match wanted {
        Wanted::Shape(shape) => {
            let begun = begun(design, shape, main, size_mm);
            let ways = ways_to_close(&begun, woods);
            ways.into_iter().map(|it| take(design, it)).collect()
        }
        Wanted::Own => scaled(design, woods, size_mm),
    }
}

/// The shape as it is begun in the usual way, from the shop's stock.
pub(super) fn usual(design: &Design, wanted: Wanted, woods: &[Wood], size_mm: f64) -> Design {
    match (wanted, woods.first()) {
        (Wanted::Shape(shape), Some(main)) => {
            let size = [size_mm, size_mm * shape.height_for_diameter];
            let begun = begin_from(
                &fresh(design, main),
                shape.word,
                size,
                &design.shop.stock_mm,
            );
            take(design, begun)
        }
        _ => design.clone(),
    }
}

/// A design without a piece, to begin one of a wood.
fn fresh(design: &Design, main: &Wood) -> Design {
    let mut fresh = Design {
        vessel: None,
        base: None,
        ..design.clone()
    };
    fresh.ring.wood.clone_from(&main.name);
    fresh
}

fn begun(design: &Design, shape: &Start, main: &Wood, size_mm: f64) -> Design {
    let begin = |high_mm: f64| {
        let size = [size_mm, high_mm];
        begin_from(&fresh(design, main), shape.word, size, &main.thick_mm)
    };
    let begun = begin(size_mm * shape.height_for_diameter);
    let fitting_mm = fitting_mm(&begun, main);
    let mut begun = fitting_mm.map_or(begun, begin);
    if let Some(vessel) = &mut begun.vessel {
        vessel.woods.truncate(1);
    }
    begun
}

/// With the plies that a shape is begun with; with plies that the boards' thicknesses give; as
/// one board; as wedges.
fn ways_to_close(begun: &Design, woods: &[Wood]) -> Vec<Design> {
    let mut ways = vec![begun.clone()];
    let Some((main, vessel)) = woods.first().zip(begun.vessel.as_ref()) else {
        return ways;
    };
    let lowest_mm = vessel.rings.first().map_or(0.0, |ring| ring.height_mm);
    let most_mm = rim_mm(vessel) / 3.0;
    for wood in woods.iter().take(2) {
        for plies in plies(begun, wood, vessel.floor_mm, most_mm) {
            ways.push(on_plies(begun, main, wood, &plies));
        }
    }
    for made_of in [MadeOf::Disc, MadeOf::Segments] {
        let mut closed = with_lowest(begun, lowest_mm, made_of, main);
        closed.base = None;
        ways.push(closed);
    }
    ways
}

/// The piece on plies of a wood. They are the whole floor: what of them lay above it would be
/// turned away, and the others move apart.
fn on_plies(design: &Design, main: &Wood, wood: &Wood, plies: &[f64; 3]) -> Design {
    let high_mm: f64 = plies.iter().sum();
    let mut closed = design.clone();
    if let Some(vessel) = &mut closed.vessel {
        vessel.floor_mm = high_mm;
    }
    let mut closed = with_lowest(&closed, high_mm, MadeOf::Disc, main);
    closed.base = Some(base_of(&closed, wood, plies));
    paint_lowest(&mut closed, &wood.name);
    closed
}

/// The base of these plies.
fn base_of(design: &Design, wood: &Wood, plies: &[f64; 3]) -> BaseChoice {
    let unsaid = Design {
        base: None,
        ..design.clone()
    };
    let ply = |thickness_mm: &f64| Ply {
        thickness_mm: *thickness_mm,
        wood: wood.name.clone(),
    };
    BaseChoice {
        kind: BaseKind::Plies,
        set: BaseSet::Under,
        in_ring: 1,
        wood: wood.name.clone(),
        thickness_mm: plies.iter().sum(),
        plies: plies.iter().map(ply).collect(),
        ..choice(&unsaid)
    }
}

/// The lowest ring so high and made so, and the rings above it divided anew.
fn with_lowest(design: &Design, high_mm: f64, made_of: MadeOf, main: &Wood) -> Design {
    let mut changed = design.clone();
    let Some(lowest) = changed.vessel.as_mut().and_then(|it| it.rings.first_mut()) else {
        return changed;
    };
    lowest.height_mm = high_mm;
    lowest.made_of = made_of;
    lowest.is_pinned = true;
    let mut divided = divided(&changed, main);
    let rings = divided.vessel.iter_mut().flat_map(|it| &mut it.rings);
    let count = rings.map(|ring| {
        ring.is_pinned = false;
        ring.segment_count
    });
    let count = count.last().unwrap_or(12);
    if let Some(lowest) = divided.vessel.as_mut().and_then(|it| it.rings.first_mut()) {
        lowest.segment_count = count;
    }
    divided
}

/// A piece gets no higher or lower than by this share, for its rings to come of the boards (our
/// own choice, no published source).
const STRETCHED: f64 = 0.15;

/// Divided into rings of a wood, higher or lower where its boards give no such rings.
fn divided(design: &Design, main: &Wood) -> Design {
    let divided = divide_from(design, &main.thick_mm);
    match fitting_mm(&divided, main) {
        Some(high_mm) => divide_from(&scale_height(design, high_mm), &main.thick_mm),
        None => divided,
    }
}

/// Where what is left for the last rings is lower than the boards are planed to: the height of
/// the piece with so many whole rings.
fn fitting_mm(divided: &Design, main: &Wood) -> Option<f64> {
    let (face_mm, plane_mm) = (2.0 * divided.allowance.face_mm, divided.plane_at_most_mm());
    let is_given = |ring: &StackRing| {
        let mut spares = main.thick_mm.iter().map(|it| it - face_mm - ring.height_mm);
        ring.is_pinned || spares.any(|spare| (-HAIR_MM..=plane_mm + HAIR_MM).contains(&spare))
    };
    let vessel = divided.vessel.as_ref()?;
    if vessel.rings.iter().all(is_given) {
        return None;
    }
    let most_mm = main.thick_mm.iter().copied().fold(0.0, f64::max) - face_mm;
    let pinned = vessel.rings.iter().filter(|ring| ring.is_pinned);
    let pinned_mm: f64 = pinned.map(|ring| ring.height_mm).sum();
    let (high_mm, each_mm) = (rim_mm(vessel), neat(most_mm, divided));
    let whole = ((high_mm - pinned_mm) / each_mm).round().max(1.0);
    let fitting_mm = pinned_mm + whole * each_mm;
    ((fitting_mm / high_mm - 1.0).abs() <= STRETCHED).then_some(fitting_mm)
}

fn paint_lowest(design: &mut Design, wood: &str) {
    if let Some(vessel) = &mut design.vessel {
        let place = place_of(vessel, wood);
        if let Some(lowest) = vessel.rings.first_mut() {
            lowest.pattern = vec![place];
        }
    }
}

/// The place of a wood among those of the vessel, at their end where it is new.
fn place_of(vessel: &mut Vessel, wood: &str) -> u32 {
    let found = vessel.woods.iter().position(|it| is_same(it, wood));
    let place = found.unwrap_or_else(|| {
        vessel.woods.push(wood.to_owned());
        vessel.woods.len() - 1
    });
    place as u32
}

/// No ply is thinner than this: 1/8 in, as where a shape is begun.
const THINNEST_PLY_MM: f64 = MM_PER_INCH / 8.0;

/// So many divisions into plies are tried (our own choice, no published source).
const MOST_PLIES: usize = 2;

/// Outer, middle and outer ply that boards of a wood give, from so high to so high together.
/// The outer ones are sawn off a board of their own thickness, or both are slices of one
/// block. The nearer the middle one is to both of them, the less the base moves.
fn plies(design: &Design, wood: &Wood, least_mm: f64, most_mm: f64) -> Vec<[f64; 3]> {
    let face_mm = 2.0 * design.allowance.face_mm;
    let (share_mm, kerf_mm) = (face_mm / 3.0, design.shop.kerf_mm);
    let plane_mm = design.plane_at_most_mm();
    let mut found: Vec<[f64; 3]> = Vec::new();
    for &middle in &wood.thick_mm {
        let middle_mm = [middle - plane_mm - share_mm, middle - share_mm];
        for &outer in &wood.thick_mm {
            let sliced = |thick_mm: f64| (thick_mm - kerf_mm) / 2.0 - share_mm - face_mm;
            for [least, most] in [
                [sliced(outer - plane_mm), sliced(outer)],
                [outer - plane_mm - share_mm, outer - share_mm],
            ] {
                let least = least.max(THINNEST_PLY_MM);
                for middle_mm in middle_mm {
                    let middle_mm = middle_mm.max(THINNEST_PLY_MM);
                    for outer_mm in [middle_mm / 2.0, least] {
                        if least > most {
                            continue;
                        }
                        let outer_mm = written(outer_mm.clamp(least, most), most, design);
                        let middle_mm = written(middle_mm, middle - share_mm, design);
                        found.push([outer_mm, middle_mm, outer_mm]);
                    }
                }
            }
        }
    }
    let high_mm = |plies: &[f64; 3]| plies.iter().sum::<f64>();
    found.retain(|plies| (least_mm..=most_mm).contains(&high_mm(plies)));
    let off = |plies: &[f64; 3]| high_mm(plies) + 2.0 * (plies[1] - 2.0 * plies[0]).abs();
    found.sort_by(|a, b| off(a).total_cmp(&off(b)));
    found.dedup();
    found.truncate(MOST_PLIES);
    found
}

/// Up to the next part of the tape, where that is not too much.
fn written(length_mm: f64, most_mm: f64, design: &Design) -> f64 {
    let part_mm = if design.unit.is_inch() {
        MM_PER_INCH / 64.0
    } else {
        0.1
    };
    let up = neat(length_mm + part_mm - 1e-6, design);
    if up <= most_mm {
        up
    } else {
        neat(length_mm, design)
    }
}

/// The piece that there is, of another size: its rings as many and as they were, each as much
/// higher; or divided anew, where nothing hangs on which ring is which.
fn scaled(design: &Design, woods: &[Wood], size_mm: f64) -> Vec<Design> {
    let own = with_own_outline(design);
    let Some(vessel) = &own.vessel else {
        return Vec::new();
    };
    let scale = size_mm / scaled_length_mm("vessel.diameter_mm", vessel).max(1e-6);
    let high_mm = rim_mm(vessel) * scale;
    if high_mm > LONGEST_MM || vessel.rings.iter().any(StackRing::is_glued) {
        return Vec::new();
    }
    let outline = scale_height(&scale_diameter(&own, size_mm), high_mm);
    let mut alike = outline.clone();
    let count = alike.vessel.as_ref().map_or(0, |it| it.rings.len());
    let mut left_mm = high_mm;
    let rings = alike.vessel.iter_mut().flat_map(|it| &mut it.rings);
    for (place, ring) in rings.enumerate() {
        let scaled_mm = ring.height_mm * scale;
        let is_last = place + 1 == count && (left_mm - scaled_mm).abs() < 1.0;
        ring.height_mm = if is_last {
            left_mm
        } else {
            neat(scaled_mm, design)
        };
        left_mm -= ring.height_mm;
    }
    let mut all = vec![foot::go_along(design, alike)];
    if vessel.slot_sets.is_empty() {
        // Of the wood that most rings are of.
        let most_of = woods.iter().max_by_key(|wood| {
            let is_it = |ring: &&StackRing| {
                let name = vessel.woods.get(ring.wood_of(0));
                name.is_some_and(|it| is_same(it, &wood.name))
            };
            vessel.rings.iter().filter(is_it).count()
        });
        let stock_mm = most_of.map_or(&[][..], |wood| &wood.thick_mm);
        let anew = foot::go_along(design, divide_from(&outline, stock_mm));
        let is_plies = |it: &BaseChoice| it.kind == BaseKind::Plies && it.set == BaseSet::Under;
        let closed = most_of.filter(|_| anew.base.as_ref().is_some_and(is_plies));
        if let Some(wood) = closed {
            for plies in plies(&anew, wood, vessel.floor_mm, high_mm / 3.0) {
                all.push(on_plies(&anew, wood, wood, &plies));
            }
        }
        all.insert(1, anew);
    }
    all
}

/// Where rings of another wood stand.
#[derive(Clone, Copy, Debug)]
pub(super) enum Laid {
    /// Apart from each other as evenly as can be.
    Evenly,
    /// Together at the rim.
    AtRim,
    /// One, near the widest place.
    Widest,
}

/// The piece with so many rings of other woods; none where it has not so many rings.
pub(super) fn mixed(design: &Design, woods: &[Wood], count: usize, laid: Laid) -> Option<Design> {
    let (main, others) = woods.split_first()?;
    let vessel = design.vessel.as_ref()?;
    let sawn: Vec<usize> = (1..vessel.rings.len())
        .filter(|place| vessel.rings[*place].made_of == MadeOf::Segments)
        .collect();
    if count == 0 || count >= sawn.len() || others.is_empty() {
        return None;
    }
    let chosen: Vec<usize> = match laid {
        Laid::AtRim => sawn[sawn.len() - count..].to_vec(),
        Laid::Evenly => {
            let is_it = |at: &usize| (at + 1) * count / sawn.len() > at * count / sawn.len();
            let places = (0..sawn.len()).filter(is_it);
            places.map(|at| sawn[at]).collect()
        }
        Laid::Widest => vec![near_widest(vessel, &sawn)?],
    };
    let mut changed = design.clone();
    let mut is_other_height = false;
    let own = changed.vessel.as_mut()?;
    for (at, place) in chosen.iter().enumerate() {
        let other = &others[at % others.len()];
        let wood = place_of(own, &other.name);
        let ring = &mut own.rings[*place];
        ring.pattern = vec![wood];
        let high_mm = match laid {
            Laid::Widest => height_of(design, other, f64::INFINITY),
            _ => height_of(design, other, ring.height_mm),
        };
        if (high_mm - ring.height_mm).abs() > 1e-6 {
            ring.height_mm = high_mm;
            is_other_height = true;
        }
        ring.is_pinned = true;
    }
    if is_other_height {
        // What closes the foot stays as it is, and so does its wood.
        if let Some(lowest) = own.rings.first_mut() {
            lowest.is_pinned = true;
        }
        let count = own.rings.last().map_or(12, |it| it.segment_count);
        for ring in own.rings.iter_mut().filter(|it| !it.is_pinned) {
            ring.pattern = vec![0];
            ring.segment_count = count;
        }
        changed = divided(&changed, main);
    }
    let vessel = changed.vessel.as_mut()?;
    let count = vessel
        .rings
        .iter()
        .rev()
        .find(|it| !it.is_pinned)?
        .segment_count;
    let last = vessel.rings.len();
    for (place, ring) in vessel.rings.iter_mut().enumerate() {
        ring.is_pinned = false;
        ring.segment_count = count;
        ring.turn_half_segments = place as u32 % 2;
    }
    (last <= most_of("vessel.rings")).then_some(changed)
}

/// The height of a ring of a wood: so high where a board gives that, else as a board gives it
/// that is nearest.
fn height_of(design: &Design, wood: &Wood, high_mm: f64) -> f64 {
    let face_mm = 2.0 * design.allowance.face_mm;
    let plane_mm = design.plane_at_most_mm();
    let nearest = wood.thick_mm.iter().map(|thick_mm| {
        let most = thick_mm - face_mm;
        high_mm.clamp(most - plane_mm, most)
    });
    let off = |height: &f64| {
        if high_mm.is_finite() {
            (height - high_mm).abs()
        } else {
            *height
        }
    };
    let nearest = nearest.min_by(|a, b| off(a).total_cmp(&off(b)));
    let nearest = nearest.unwrap_or(high_mm);
    if (nearest - high_mm).abs() < 1e-6 {
        high_mm
    } else {
        neat(nearest, design)
    }
}

/// The ring that holds the widest place, or the one below the topmost.
fn near_widest(vessel: &Vessel, sawn: &[usize]) -> Option<usize> {
    let curve = vessel.curve()?;
    let mut bottom = 0.0;
    let mut widest = (0.0, 0);
    for (place, ring) in vessel.rings.iter().enumerate() {
        let top = (bottom + ring.height_mm).min(curve.height_mm());
        let radius = curve.radius_at(f64::midpoint(bottom.min(top), top));
        if radius > widest.0 + 1e-6 {
            widest = (radius, place);
        }
        bottom += ring.height_mm;
    }
    let within = &sawn[..sawn.len() - 1];
    let near = within.iter().min_by_key(|place| place.abs_diff(widest.1));
    near.copied()
}

/// Wood in the rings of a shape of a size, at least: they hold its wall and what is allowed for
/// turning it. Boards with less of it do not give it.
pub(super) fn least_mm3(design: &Design, shape: &Start, size_mm: f64) -> f64 {
    const SLICES: u32 = 24;
    let size = [size_mm, size_mm * shape.height_for_diameter];
    let begun = begin_from(design, shape.word, size, &[size[1].max(1.0)]);
    let Some((vessel, curve)) = begun.vessel.as_ref().and_then(|it| Some((it, it.curve()?))) else {
        return 0.0;
    };
    let wall_mm = vessel.rim_wall_mm.min(vessel.foot_wall_mm);
    let high = curve.height_mm() / f64::from(SLICES);
    let slice = |slice: u32| {
        let at = |edge: f64| curve.radius_at((f64::from(slice) + edge) * high);
        let radius = at(0.0).min(at(1.0));
        let inside = (radius - wall_mm - design.allowance.inside_mm).max(0.0);
        let radius = radius + design.allowance.outside_mm;
        std::f64::consts::PI * (radius * radius - inside * inside) * high
    };
    (0..SLICES).map(slice).sum()
}
