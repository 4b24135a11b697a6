//! Strips of layers in slots: which layer lies where, against a stack of layers looked up
//! place by place; what is counted of them, against a recount; what hands and files do.
#![cfg(not(target_arch = "wasm32"))]

use ringwright::design::read::to_value;
use ringwright::design::{Design, Leans, SlotSet, StackIs, StripeLayer, StripsShow, link};
use ringwright::draw::flat::flatten;
use ringwright::draw::{Color, Drawing, Fill, Mark};
use ringwright::edit::{self, inlay as hand, start};
use ringwright::plan::bill::{Cut, Piece};
use ringwright::plan::caution::{Caution, SlotCaution};
use ringwright::plan::inlay::SetPlan;
use ringwright::plan::order::Work;
use ringwright::plan::plan;
use ringwright::show::mesh::inlaid;
use ringwright::show::pictures::inlay::{BandView, band};
use std::f64::consts::TAU;

mod shared;
use shared::{Dice, stack_of, vessel_of};

const WOODS: [&str; 3] = ["Maple, sugar", "Walnut, black", "Padauk, African"];

/// A closed vessel of three woods with a random set of slots, its strips of layers.
fn random_design(dice: &mut Dice) -> Design {
    let mut design = start::begin(&Design::default(), "closed", 254.0, 190.5);
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods = WOODS.map(str::to_owned).to_vec();
    let rings = vessel.rings.len() as u32;
    let from = dice.count(2, rings - 1);
    let mut set = SlotSet::plain(from, (from + dice.count(0, 2)).min(rings));
    set.slot_count = dice.count(1, 9);
    set.beside_count = 1 + set.slot_count % 3;
    set.tilt_deg = [0.0, dice.between(-25.0, 25.0)][dice.count(0, 1) as usize];
    set.gauge_deg = dice.between(0.0, 40.0);
    set.leans = [Leans::Left, Leans::Right][dice.count(0, 1) as usize];
    set.further_deg = dice.between(-60.0, 60.0);
    set.kerf_mm = dice.between(2.0, 8.0);
    set.stack_is = [StackIs::LeftFlat, StackIs::TurnedRound][dice.count(0, 1) as usize];
    set.shows = [StripsShow::InsideToo, StripsShow::OutsideOnly][dice.count(0, 1) as usize];
    set.blade_mm = Some(dice.between(6.0, 30.0));
    set.layers = (0..dice.count(2, 9))
        .map(|_| StripeLayer {
            wood: dice.count(0, 2),
            thickness_mm: dice.between(0.3, 2.0),
        })
        .collect();
    vessel.slot_sets = vec![set];
    design
}

/// Either side of an edge may be meant.
struct NearAnEdge;

/// The layer at a place, by turning the piece until the slot stands upright before the eye
/// and laying the layers one beside the other; `None` where no slot is; an
/// error where an edge is so near that either may be meant.
fn looked_up(
    set: &SlotSet,
    own: &SetPlan,
    [x, y, z]: [f64; 3],
) -> Result<Option<usize>, NearAnEdge> {
    const NEAR_MM: f64 = 0.02;
    let lean = match set.leans {
        Leans::Right => set.gauge_deg.to_radians(),
        Leans::Left => -set.gauge_deg.to_radians(),
    };
    let sum: f64 = set.layers.iter().map(|it| it.thickness_mm).sum();
    let (tilt_sine, tilt_cosine) = set.tilt_deg.to_radians().sin_cos();
    for cut in &own.cuts {
        let direction = cut.direction_rad;
        // Turned about the axis: the slot's own direction comes to the front.
        let turned = [
            x * direction.cos() + y * direction.sin(),
            y * direction.cos() - x * direction.sin(),
        ];
        let (sideways, deep) = (turned[0], -turned[1]);
        let z = z - own.middle_mm;
        // Leaned back: now it is upright.
        let across = sideways * lean.cos() - z * lean.sin();
        // On the table, and tilted back with the blade: beside it, and along it.
        let above = cut.table_mm - deep;
        let along = across * tilt_sine + above * tilt_cosine;
        let across = across * tilt_cosine - above * tilt_sine;
        let higher_corner = set.kerf_mm / 2.0 * tilt_sine.abs();
        let past_bottom = (own.blade_mm - higher_corner) / tilt_cosine - along;
        let from_left = across + set.kerf_mm / 2.0;
        if past_bottom < -NEAR_MM || from_left < -NEAR_MM || from_left > set.kerf_mm + NEAR_MM {
            continue;
        }
        let is_near = |edge: f64| (from_left - edge).abs() < NEAR_MM;
        if past_bottom < NEAR_MM || is_near(0.0) || is_near(set.kerf_mm) {
            return Err(NearAnEdge);
        }
        let mut end = 0.0;
        for (layer, it) in set.layers.iter().enumerate() {
            end += it.thickness_mm * set.kerf_mm / sum;
            if is_near(end) {
                return Err(NearAnEdge);
            }
            if from_left < end {
                return Ok(Some(layer));
            }
        }
    }
    Ok(None)
}

/// The color that the shader takes for a place, from the numbers handed to it.
fn shaded(numbers: &[f32], [x, y, z]: [f64; 3]) -> Option<[f32; 3]> {
    let four =
        |at: usize| -> [f64; 4] { std::array::from_fn(|it| f64::from(numbers[4 * at + it])) };
    let (mut at, mut first, mut layers, mut found) = (0, 0, 0, None);
    while 4 * at < numbers.len() {
        let (a, b, e) = (four(at), four(at + 1), four(at + 2));
        at += 3;
        let own = e[3].floor() as i64;
        let t = if e[3].fract().abs() > 0.2 {
            at += 1;
            four(at - 1)
        } else {
            [0.0; 4]
        };
        if own > 0 {
            first = at;
            at += own as usize;
        }
        if own >= 0 {
            layers = own as usize;
        }
        let up = z - a[0];
        let (c, r) = (t[0] + up * a[3], x.hypot(y));
        if z < a[1] || z > a[2] || c.abs() - b[0] > r {
            continue;
        }
        let lean = (c / r).clamp(-1.0, 1.0).asin();
        let mut d = x.atan2(-y) - b[2] - lean;
        d += lean - b[3] * (d / b[3]).round();
        let aside = r * d.sin() - c;
        if (b[0] - aside.abs()).min(r * d.cos() - b[1] - t[1] * up - t[2] * aside) > 0.0 {
            let mut color = [e[0], e[1], e[2]];
            for layer in 1..layers {
                if aside > four(first + layer - 1)[3] {
                    let next = four(first + layer);
                    color = [next[0], next[1], next[2]];
                }
            }
            found = Some(color.map(|part| part as f32));
        }
    }
    found
}

/// The color that is drawn last over a place.
fn drawn(drawing: &Drawing, x: f64, y: f64) -> Option<Color> {
    let holds = |path: &ringwright::draw::Path| {
        let mut crossings = 0;
        for line in flatten(&path.steps, 0.005) {
            let next = line.points.iter().cycle().skip(1);
            for (one, other) in line.points.iter().zip(next) {
                if (one.y > y) != (other.y > y) {
                    let at = one.x + (other.x - one.x) * (y - one.y) / (other.y - one.y);
                    crossings += u32::from(at > x);
                }
            }
        }
        crossings % 2 == 1
    };
    let filled = drawing.marks.iter().rev().find_map(|mark| match mark {
        Mark::Path(path) => match path.fill {
            Some(Fill::Wood(color)) if holds(path) => Some((color, path.name.clone())),
            _ => None,
        },
        Mark::Words(_) => None,
    });
    let (color, name) = filled?;
    name.is_some_and(|it| it.starts_with("strip-"))
        .then_some(color)
}

#[test]
fn every_drawing_shows_the_layer_that_lies_there() {
    let mut dice = Dice(71);
    let (mut in_strips, mut on_band, mut layers_seen) = ([0; 2], 0, [0; 9]);
    for number in 0..160 {
        let design = random_design(&mut dice);
        let plan = stack_of(&design);
        let set = &vessel_of(&design).slot_sets[0];
        let own = plan.slot_sets[0].as_ref().unwrap();
        let numbers = inlaid::strips(&plan);
        // Neighbors that run into each other have no one layer at a place.
        if own.between_mm <= 0.5 {
            continue;
        }
        let wall = &own.stack.wall;
        for side in 0..2 {
            let view = BandView::fit(own, 600.0, 260.0);
            let drawing = band(&plan, own, &view, side == 1);
            for _ in 0..150 {
                let level = wall[dice.count(1, wall.len() as u32 - 2) as usize];
                let radius = [level.outside_mm, level.inside_mm][side];
                if radius <= 1.0 {
                    continue;
                }
                // Near a slot, so that most of them meet one.
                let slots: Vec<f64> = own.slots.directions().collect();
                let slot = dice.count(0, slots.len() as u32 - 1) as usize;
                let leaned = level.z_mm * own.slots.gauge_rad.tan() / radius;
                let near = slots[slot] + leaned.clamp(-1.0, 1.0).asin();
                let around = near + dice.between(-1.0, 1.0) * set.kerf_mm / radius;
                let z = own.middle_mm + level.z_mm;
                let place = [radius * around.sin(), -radius * around.cos(), z];
                let Ok(wanted) = looked_up(set, own, place) else {
                    continue;
                };
                let said = format!("{number} {side} at {place:?}");
                let color = |layer: usize| own.layers[layer].color;
                let told = own.strip_at(place).map(|it| it.across_mm);
                assert_eq!(told, wanted.map(|it| own.layers[it].across_mm), "{said}");
                let traced = (0..own.layers.len()).find(|layer| {
                    let slots = 0..own.cuts.len();
                    let mut traces =
                        slots.flat_map(|slot| own.layer_traces(*layer, slot, side == 1));
                    traces.any(|trace| {
                        trace.iter().any(|(height, [from, to])| {
                            (height - z).abs() < 1e-9
                                && (around - from).rem_euclid(TAU) <= to - from
                        })
                    })
                });
                assert_eq!(traced, wanted, "{said}");
                let shaded = shaded(&numbers, place);
                let wanted_color = wanted.map(color);
                let parts = |it: Color| [it.r, it.g, it.b].map(|part| f32::from(part) / 255.0);
                assert_eq!(shaded, wanted_color.map(parts), "{said}");
                if let Some(layer) = wanted {
                    in_strips[side] += 1;
                    layers_seen[layer] += 1;
                }
                // The band has straight lines from level to level: a place on a level.
                let direction = (around + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0;
                let at = view.place(direction, level.z_mm);
                let is_seen = at.x > 1.0 && at.x < view.width_mm - 1.0;
                if is_seen {
                    assert_eq!(drawn(&drawing, at.x, at.y + 1e-4), wanted_color, "{said}");
                    on_band += usize::from(wanted.is_some());
                }
            }
        }
    }
    assert!(
        in_strips.iter().all(|it| *it > 300) && on_band > 500,
        "{in_strips:?} {on_band}"
    );
    assert!(layers_seen.iter().all(|it| *it > 20), "{layers_seen:?}");
}

/// A vase whose first set has light, dark, light strips.
fn layered() -> Design {
    let link = ringwright::design::example::ALL[1].link;
    let design = link::decode(link).unwrap().0;
    hand::layer_strips(&design, 0)
}

fn set(design: &Design) -> &SlotSet {
    &vessel_of(design).slot_sets[0]
}

fn sum_mm(set: &SlotSet) -> f64 {
    set.layers.iter().map(|it| it.thickness_mm).sum()
}

fn cautions(design: &Design) -> Vec<SlotCaution> {
    let plan = stack_of(design);
    let found = ringwright::plan::sawing::inspect(&plan, &plan.slot_sets).into_iter();
    found
        .filter_map(|it| match it.caution {
            Caution::Slots(0, caution) => Some(caution),
            _ => None,
        })
        .collect()
}

#[test]
fn a_hand_layers_strips_and_takes_it_back() {
    let design = layered();
    let own = set(&design);
    assert_eq!(own.layers.len(), 3);
    let is_light = |layer: usize| {
        let name = &vessel_of(&design).woods[own.layers[layer].wood as usize];
        ringwright::plan::woods::color(&design, name).is_light()
    };
    assert_eq!([0, 1, 2].map(is_light), [true, false, true]);
    assert!((sum_mm(own) - own.strip_mm()).abs() < 0.02);
    assert!(
        cautions(&design)
            .iter()
            .all(|it| !matches!(it, SlotCaution::LayersOff { .. }))
    );
    // Slots that cross are made alike.
    assert_eq!(vessel_of(&design).slot_sets[1].layers, own.layers);
    let more = hand::add_layer(&hand::add_layer(&design, 0), 0);
    let woods = |design: &Design| set(design).woods();
    assert_eq!(woods(&more)[..3], woods(&more)[2..]);
    assert!((sum_mm(set(&more)) - own.strip_mm()).abs() < 0.02);
    let many = (0..40).fold(design.clone(), |it, _| hand::add_layer(&it, 0));
    assert_eq!(set(&many).layers.len(), 9);
    let few = (0..40).fold(many, |it, _| hand::remove_layer(&it, 0));
    assert!(set(&few).layers.is_empty() && set(&few).layered().is_none());
    assert_eq!(set(&hand::plain_strips(&design, 0)).layers, vec![]);
    // A kerf of another blade: told, and one act makes them fit.
    let wide = edit::type_in(&design, "vessel.slot_sets.0.kerf_mm", "4.2 mm").unwrap();
    assert!(
        cautions(&wide)
            .iter()
            .any(|it| matches!(it, SlotCaution::LayersOff { .. }))
    );
    let fit = hand::fit_layers(&wide, 0);
    assert!((sum_mm(set(&fit)) - set(&fit).strip_mm()).abs() < 0.02);
    assert_eq!(set(&fit).layers[0], set(&wide).layers[0]);
    assert_eq!(hand::fit_layers(&design, 99), design);
    // A piece of one wood gets the other.
    let mut lone = design.clone();
    lone.vessel.as_mut().unwrap().woods.truncate(1);
    lone = hand::layer_strips(&hand::plain_strips(&lone, 0), 0);
    let woods = vessel_of(&lone).woods.len();
    assert!(set(&lone).woods().iter().all(|wood| *wood < woods));
}

#[test]
fn links_and_files_carry_layers_and_old_ones_mean_what_they_did() {
    let design = layered();
    assert_eq!(
        link::decode(&link::encode(&design)).unwrap(),
        (design.clone(), vec![])
    );
    let file = to_value(&design);
    assert_eq!(Design::restore(&file).unwrap(), (design.clone(), vec![]));
    // A design without layers has as short a link as before there were any.
    let old = ringwright::design::example::ALL[1].link;
    let read = link::decode(old).unwrap().0;
    assert!(
        read.vessel
            .as_ref()
            .unwrap()
            .slot_sets
            .iter()
            .all(|it| it.layers.is_empty())
    );
    assert!(link::encode(&read).len() <= old.trim_start_matches('#').len());
    let mut older = to_value(&read);
    for set in older["vessel"]["slot_sets"].as_array_mut().unwrap() {
        set.as_object_mut().unwrap().remove("layers");
    }
    assert_eq!(Design::restore(&older).unwrap(), (read, vec![]));
    // What is bad of them is told at its field, and spoils nothing else.
    let mut bad = file.clone();
    let layers = &mut bad["vessel"]["slot_sets"][0]["layers"];
    layers[0]["thickness_mm"] = (-1).into();
    layers[1]["wood"] = 99.into();
    let (read, troubles) = Design::restore(&bad).unwrap();
    let fields: Vec<_> = troubles.iter().map(|it| it.field.clone()).collect();
    let field = |name: &str| format!("vessel.slot_sets.0.layers.{name}");
    assert_eq!(fields, [field("1.wood"), field("0.thickness_mm")]);
    assert_eq!(set(&read).layers.len(), 3);
    let mut many = file;
    let one = many["vessel"]["slot_sets"][0]["layers"][0].clone();
    many["vessel"]["slot_sets"][0]["layers"] = vec![one; 40].into();
    let (read, troubles) = Design::restore(&many).unwrap();
    assert_eq!(troubles.len(), 1);
    assert!(set(&read).layers.is_empty() && set(&read).wood == set(&design).wood);
}

#[test]
fn bad_layers_are_told_and_the_rest_stands() {
    let design = layered();
    let typed = |layer: u32, text: &str| {
        let key = format!("vessel.slot_sets.0.layers.{layer}.thickness_mm");
        edit::type_in(&design, &key, text)
    };
    for text in ["0", "-1", "thick", ""] {
        assert!(typed(0, text).is_err(), "{text}");
    }
    let has = |design: &Design, wanted: fn(&SlotCaution) -> bool| {
        let found = cautions(design);
        assert!(found.iter().any(wanted), "{found:?}");
        assert!(!stack_of(design).bill.is_empty());
        let told = ringwright::show::figures::inlay::inlay(&stack_of(design), 0, None, 80.0);
        assert!(
            told.messages
                .iter()
                .any(|it| it.field.contains("0.layers."))
        );
        assert!(
            !told
                .cautions
                .iter()
                .any(|it| it.field.contains("0.layers."))
        );
    };
    let thin = typed(1, "0.1 mm").unwrap();
    has(&thin, |it| {
        matches!(it, SlotCaution::ThinLayer { layer: 1, .. })
    });
    let thick = typed(0, "50 mm").unwrap();
    has(
        &thick,
        |it| matches!(it, SlotCaution::LayersOff { layers_mm, strip_mm, .. } if layers_mm > strip_mm),
    );
    let fit = hand::fit_layers(&thick, 0);
    assert!((sum_mm(set(&fit)) - set(&fit).strip_mm()).abs() < 0.05);
    // A wood that is removed while a layer is of it.
    let first = set(&design).layers[1].wood as usize;
    let without = edit::vessel::remove_wood(&design, first);
    let count = vessel_of(&without).woods.len();
    assert!(set(&without).woods().iter().all(|wood| *wood < count));
    // Layers of a slot that leaves no strip.
    let none = edit::type_in(&design, "vessel.slot_sets.0.fit_mm", "90 mm").unwrap();
    let fit = hand::fit_layers(&none, 0);
    assert!(set(&fit).layers.iter().all(|it| it.thickness_mm > 0.0));
    let _ = inlaid::strips(&stack_of(&fit));
}

/// Layers counted one by one: each stick takes one of each.
#[test]
fn layers_are_counted_by_wood_and_every_strip_comes_of_them() {
    let mut dice = Dice(5);
    let mut tried = 0;
    for _ in 0..400 {
        let mut design = random_design(&mut dice);
        design.vessel.as_mut().unwrap().slot_sets[0].blade_mm = None;
        // No plies beside the slots' pieces.
        design.base = None;
        let plan = plan(&design);
        let stack = plan.stack().unwrap();
        let own = stack.slot_sets[0].as_ref().unwrap();
        let of_slots = |cut: &&Cut| cut.rings().is_empty();
        let bill: Vec<&Cut> = plan.bill().iter().filter(of_slots).collect();
        if !own.is_open() {
            assert!(bill.is_empty());
            continue;
        }
        tried += 1;
        let sticks = own.sticks.unwrap();
        let set = &stack.vessel.slot_sets[0];
        let mut wood_mm3 = [0.0; 3];
        let mut counts = [0; 3];
        for _ in 0..sticks.count {
            for layer in &set.layers {
                let thick = layer.thickness_mm;
                let sawn = if thick <= 1.0 {
                    thick
                } else {
                    thick + 25.4 / 16.0
                };
                counts[layer.wood as usize] += 1;
                wood_mm3[layer.wood as usize] += sticks.long_mm * sticks.wide_mm * sawn;
            }
        }
        for (wood, name) in WOODS.iter().enumerate() {
            let those = bill.iter().filter(|cut| cut.wood.as_deref() == Some(name));
            let count: u32 = those.clone().map(|cut| cut.piece_count()).sum();
            assert_eq!(count, counts[wood]);
            let kerf = design.shop.kerf_mm;
            let volume: f64 = those
                .map(|cut| {
                    // No saw parts veneers.
                    let kerf = if cut.is_veneer() { 0.0 } else { kerf };
                    cut.wood_mm3()
                        - f64::from(cut.count - 1) * kerf * cut.thickness_mm * sticks.long_mm
                })
                .sum();
            assert!((volume - wood_mm3[wood]).abs() < 1e-6 * (1.0 + volume));
        }
        let strips = bill
            .iter()
            .filter(|cut| matches!(cut.piece, Piece::LayeredStrip { .. }));
        assert_eq!(
            strips.map(|cut| cut.count).sum::<u32>(),
            set.slot_count * set.beside_count
        );
        assert!(sticks.each * sticks.count >= own.slots.count);
        assert!(sticks.wide_mm > own.strip_mm[1]);
        // Glued up before the slots are sawn.
        let order = plan.order().unwrap();
        let place = |work: &Work| order.steps.iter().position(|it| it.work == *work);
        let (glued, sawn) = (place(&Work::Strips(0)), place(&Work::Inlay(0)));
        assert!(glued.is_some() && glued < sawn, "{glued:?} {sawn:?}");
    }
    assert!(tried > 25, "{tried}");
}

/// Strips of three layers of one wood weigh as strips of that wood, and are drawn as these.
#[test]
fn layers_of_one_wood_are_as_one_strip() {
    let mut dice = Dice(12);
    for _ in 0..30 {
        let mut design = random_design(&mut dice);
        let set = &mut design.vessel.as_mut().unwrap().slot_sets[0];
        set.blade_mm = None;
        set.wood = 1;
        for layer in &mut set.layers {
            layer.wood = 1;
        }
        let mut plain = design.clone();
        plain.vessel.as_mut().unwrap().slot_sets[0].layers.clear();
        let [one, other] = [&design, &plain].map(stack_of);
        let kg = |stack: &ringwright::plan::stack::StackPlan| {
            [
                stack.totals().blank_kg.unwrap(),
                stack.totals().finished_kg.unwrap(),
            ]
        };
        for (one, other) in kg(&one).into_iter().zip(kg(&other)) {
            assert!((one - other).abs() < 1e-9, "{one} {other}");
        }
    }
}

/// Paper has the layers to rip, their order and how they are glued up; the cut list and the
/// table of boards count them.
#[test]
fn paper_and_tables_have_the_layers() {
    use ringwright::show::sheets::job::Choice;
    use ringwright::show::sheets::packet;
    let planned = plan(&layered());
    let sheets = packet::sheets(&planned, "", "", Choice::Usual);
    let text = |key: &str| {
        let sheet = sheets.iter().find(|sheet| sheet.key == key).unwrap();
        let marks = sheet.pages.iter().flat_map(|page| &page.marks);
        let words = marks.filter_map(|mark| match mark {
            Mark::Words(words) => Some(words.lettering.spoken()),
            Mark::Path(_) => None,
        });
        words.collect::<Vec<_>>().join(" ")
    };
    let stack = planned.stack().unwrap();
    let own = stack.slot_sets[0].as_ref().unwrap();
    let name = |wood: usize| stack.vessel.woods[wood].clone();
    let inlay = text("inlay");
    for layer in own.layers_to_rip() {
        let cut = if layer.thickness_mm > 1.0 {
            "Rip"
        } else {
            "Cut"
        };
        let says = format!("{cut} {} of {}", layer.count, name(layer.wood));
        assert!(inlay.contains(&says), "{says}");
    }
    assert!(inlay.contains("A strip seen on its end"));
    let order = text("order");
    for says in [
        "Slot set 1: glue up the layered strips",
        "Rip the thin layers for strips",
        "off the sticks of layers",
    ] {
        assert!(order.contains(says), "{says}");
    }
    let csv = packet::cut_list_csv(&planned);
    assert!(csv.contains("Layered strips for slots") && csv.contains("Layers,"));
    if let Ok(path) = std::env::var("RINGWRIGHT_LAYERED_PDF") {
        let pdf = packet::pdf(&planned, "", "", Choice::Usual, shared::typeface());
        std::fs::write(path, pdf).unwrap();
    }
}

/// Layers of 1 mm and less are bought as veneer, by the area: no board is asked for them, they
/// are cut with a knife in a step of their own, and every list says so.
#[test]
fn veneers_are_bought_in_sheets() {
    use ringwright::design::{Rack, StripeChoice};
    use ringwright::plan::board;
    use ringwright::show::figures::{boards, wood};
    let mut design = start::begin(&Design::default(), "closed", 254.0, 190.5);
    design.shop.waste_percent = 20;
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods = WOODS.map(str::to_owned).to_vec();
    let mut set = SlotSet::plain(6, 7);
    let layer = |wood, thickness_mm| StripeLayer { wood, thickness_mm };
    set.layers = vec![layer(1, 1.0), layer(2, 1.01), layer(1, 1.0)];
    vessel.slot_sets = vec![set];
    vessel.rings[2].stripes = Some(StripeChoice {
        layers: vec![layer(0, 5.0), layer(2, 0.6)],
        ..StripeChoice::of([0, 2], 5.0)
    });
    let whole = plan(&design);
    let stack = whole.stack().unwrap();
    let sticks = stack.slot_sets[0].as_ref().unwrap().sticks.unwrap();
    let striped = stack.rings[2].stripes.as_ref().unwrap();
    let glued = striped.board.as_ref().unwrap();
    let thin = glued.layers.iter().filter(|layer| **layer == 1).count() as f64;
    // By hand: pieces times width times length, and what is wasted beside.
    let wanted = [
        (
            WOODS[1],
            1.0,
            f64::from(2 * sticks.count) * sticks.wide_mm * sticks.long_mm,
        ),
        (
            WOODS[2],
            0.6,
            thin * f64::from(glued.count) * glued.depth_mm * glued.length_mm,
        ),
    ];
    let veneers = board::veneers(&design, whole.bill());
    assert_eq!(veneers.len(), 2);
    for (name, thickness_mm, area_mm2) in wanted {
        let own = veneers.iter().find(|it| it.wood == name).unwrap();
        assert!((own.thickness_mm - thickness_mm).abs() < 1e-9);
        assert!(
            (own.bought_mm2 / (area_mm2 / 0.8) - 1.0).abs() < 1e-9,
            "{own:?}"
        );
    }
    let needs = board::needs(&design, whole.bill());
    assert!(
        needs
            .iter()
            .all(|need| need.width_mm > 1.5 && need.height_mm > 1.5)
    );
    let bought = board::estimate(&design, whole.bill());
    assert!(bought.iter().all(|it| it.wood != WOODS[1]));
    // Told where wood is bought: without boards, and with any.
    let told = boards::boards(&whole).estimate;
    let told: Vec<&str> = told.iter().map(|it| it.label.as_str()).collect();
    assert!(
        told.iter()
            .any(|it| it.starts_with("Walnut, black, veneer")),
        "{told:?}"
    );
    let mut racked = design.clone();
    racked.rack = Some(Rack {
        boards: vec![ringwright::design::Board::usual(WOODS[0])],
        ..Rack::empty()
    });
    let told = boards::boards(&plan(&racked)).estimate;
    assert_eq!(told.len(), 2, "boards give no veneer: {told:?}");
    let swatches = wood::wood(&whole).swatches;
    let walnut = swatches.iter().find(|it| it.name == WOODS[1]).unwrap();
    assert!(walnut.list.iter().any(|it| it.key == "veneer.to_buy"));
    // A step of its own, in the cut list, in the table.
    let screen = ringwright::show::figures::bench::bench(&whole, &[]).unwrap();
    let steps: Vec<&str> = screen.steps.iter().map(|it| it.title.as_str()).collect();
    let knife = steps
        .iter()
        .filter(|it| it.ends_with("cut it with a knife"))
        .count();
    assert_eq!(knife, 2, "{steps:?}");
    assert!(
        steps.contains(&"Rip the thin layers for strips"),
        "{steps:?}"
    );
    let csv = ringwright::show::csv::cuts(&whole);
    assert_eq!(
        csv.lines()
            .filter(|it| it.starts_with("Layers of veneer,"))
            .count(),
        2,
        "{csv}"
    );
}
