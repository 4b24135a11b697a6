//! The panel of what is touched on the piece: its fields and figures, what may be done
//! with it, and where else it is told of. The page sets all kinds in the same way.

use super::vessel::{disc_list, plies_list, ring_entries, segments_of_all, totals};
use super::{Entry, Figure, Message, entry, figure};
use crate::design::field;
use crate::design::{BaseKind, BaseSet, Design, Laid, StackRing, Vessel};
use crate::edit::POINT;
use crate::edit::open_ring;
use crate::edit::vessel::above_rim;
use crate::plan::Plan;
use crate::plan::caution::Caution;
use crate::plan::floor;
use crate::plan::order::Order;
use crate::plan::rings::Made;
use crate::plan::stack::StackPlan;
use crate::plan::woods;
use crate::show::thing::Thing;
use crate::show::words::{self, Word};
use crate::units::length::{show, worked_out_text};
use serde::Serialize;
use serde_json::{Value, json};

/// The panel of one thing.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Panel {
    /// The thing's name on the drawings.
    pub name: String,
    /// The ring's place; −1 where it is no ring.
    pub ring: i32,
    /// The point's place; −1 where it is no point.
    pub point: i32,
    /// What it is called.
    pub title: String,
    /// A line about it; may be empty.
    pub says: String,
    /// How much of the ring each of the piece's woods is; none where it is no ring that is
    /// painted.
    pub woods: Vec<String>,
    /// What to look at before it is cut.
    pub cautions: Vec<Message>,
    /// What the hands need first.
    pub saw: Vec<Figure>,
    /// Its fields.
    pub entries: Vec<Entry>,
    /// What may be done with it.
    pub acts: Vec<Act>,
    /// The rest.
    pub list: Vec<Figure>,
    /// Where else it is told of.
    pub links: Vec<Link>,
    /// The name of what lies below it, or before; empty where there is none.
    pub below: String,
    /// The name of what lies above it, or after; empty where there is none.
    pub above: String,
}

/// What may be done with a thing.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Act {
    /// What the button says.
    pub label: String,
    /// What becomes of the design.
    #[cfg_attr(target_arch = "wasm32", tsify(type = "Change | null"))]
    pub change: Value,
    /// The name of what is touched afterwards.
    pub then: String,
    /// Whether it is so now, where the button says what is so.
    pub is_on: Option<bool>,
    /// The color of the wood that it takes, `#rrggbb`; empty where it takes none.
    pub color: String,
    /// The heading that it stands under with those after it of the same; empty where a panel has
    /// so few that none is needed.
    pub group: &'static str,
}

/// A place that tells more.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Link {
    /// What the button says.
    pub label: &'static str,
    /// The place.
    pub place: &'static str,
    /// The part of it that is brought into view.
    pub part: &'static str,
}

/// Sets the panel of a thing; nothing where it is not there any more. `wood` is the place
/// of the wood in hand.
pub fn panel(plan: &Plan, thing: Thing, wood: usize) -> Option<Panel> {
    let stack = plan.stack()?;
    let made = match thing {
        Thing::Nothing => None,
        Thing::Piece => Some(of_piece(plan, stack)),
        Thing::Ring(place) => of_ring(plan, stack, place, wood),
        Thing::Segment(place, segment) => of_segment(plan, stack, place, segment),
        Thing::Point(place) => of_point(stack, place),
        Thing::Floor => Some(of_floor(plan)),
        Thing::Meeting => Some(of_meeting(stack, plan.order()?)),
        Thing::Set(place) => of_set(stack, place),
    }?;
    Some(Panel {
        name: thing.name(),
        ring: number(thing.ring()),
        point: number(match thing {
            Thing::Point(place) => Some(place),
            _ => None,
        }),
        cautions: cautions(plan, thing),
        ..made
    })
}

fn number(place: Option<usize>) -> i32 {
    place.and_then(|it| i32::try_from(it).ok()).unwrap_or(-1)
}

/// What to look at, of this thing.
fn cautions(plan: &Plan, thing: Thing) -> Vec<Message> {
    let unit = plan.design.unit;
    let told = |caution: &Caution| words::caution(caution, unit);
    if thing == Thing::Floor {
        // First why it cannot be set where it is wanted.
        return plan.base().map_or_else(Vec::new, |base| {
            let troubles = base.troubles.iter().map(|it| words::trouble(it, unit));
            troubles.chain(base.cautions.iter().map(told)).collect()
        });
    }
    let placed = plan.placed_cautions().iter();
    placed
        .filter(|it| Thing::of(it) == thing)
        .map(|it| told(&it.caution))
        .collect()
}

fn act(label: Word, change: Value) -> Act {
    Act {
        label: label.text.to_owned(),
        change,
        then: String::new(),
        is_on: None,
        color: String::new(),
        group: "",
    }
}

impl Act {
    fn then(self, thing: Thing) -> Act {
        Act {
            then: thing.name(),
            ..self
        }
    }
}

/// Takes away what stands above the rim, where something does.
fn above_rim_act(stack: &StackPlan) -> Option<Act> {
    let (_, count) = above_rim(&stack.vessel);
    let label = match count {
        0 => return None,
        1 => words::VESSEL_ABOVE_RIM_ONE.text.to_owned(),
        _ => words::filled(words::VESSEL_ABOVE_RIM, &[&count.to_string()]),
    };
    Some(Act {
        label,
        ..act(
            words::VESSEL_ABOVE_RIM,
            json!({ "kind": "remove_above_rim" }),
        )
    })
}

/// What is said at the rim of rings above it.
fn above_rim_says(stack: &StackPlan) -> String {
    match above_rim(&stack.vessel).1 {
        0 => String::new(),
        1 => words::VESSEL_ONE_ABOVE_RIM.text.to_owned(),
        count => words::filled(words::VESSEL_RINGS_ABOVE_RIM, &[&count.to_string()]),
    }
}

fn of_piece(plan: &Plan, stack: &StackPlan) -> Panel {
    Panel {
        title: words::THING_PIECE.text.to_owned(),
        says: super::vessel::in_short(stack),
        list: totals(
            stack,
            plan.order().map_or(0, |order| order.meeting),
            plan.design.unit,
        ),
        acts: above_rim_act(stack).into_iter().collect(),
        links: vec![link(words::THING_ON_PAPER, "paper", "sheet-cover")],
        ..Panel::default()
    }
}

fn of_ring(plan: &Plan, stack: &StackPlan, place: usize, wood: usize) -> Option<Panel> {
    let (ring, planned) = (stack.vessel.rings.get(place)?, stack.rings.get(place)?);
    let alone = stack.ring(place)?;
    let is_glued = ring.is_glued();
    let is_sawn = planned.made == Made::Segments && !is_glued;
    let mut entries = ring_entries(plan, place);
    if is_sawn {
        let own = entries
            .iter()
            .position(|it| it.key.ends_with(".segment_count"));
        let all = segments_of_all(plan);
        entries.splice(own.map_or(0, |at| at + 1)..own.map_or(0, |at| at + 1), all);
    }
    if is_sawn {
        let gap = entries.iter().position(|it| it.key.ends_with(".gap_pct"));
        let at = gap.map_or(entries.len(), |at| at + 1);
        entries.splice(at..at, super::open_ring::entries(plan, place));
    }
    if is_glued {
        entries.extend(super::built::more_entries(plan, place));
    }
    Some(Panel {
        title: words::filled(words::THING_RING, &[&(place + 1).to_string()]),
        says: if place >= above_rim(&stack.vessel).0 {
            words::VESSEL_IS_ABOVE_RIM.text.to_owned()
        } else {
            String::new()
        },
        woods: if planned.made == Made::Segments && ring.striped().is_none() {
            shares_of_woods(stack, ring)
        } else {
            Vec::new()
        },
        saw: if is_sawn {
            super::saw(&plan.design, &alone)
        } else {
            Vec::new()
        },
        list: match (planned.made, stack.base.as_ref()) {
            _ if is_glued => Vec::new(),
            (Made::Plies, Some(plies)) => plies_list(&plan.design, plies),
            (Made::Disc, _) => disc_list(&plan.design, planned),
            _ => {
                let mut list = super::stripe::list(&plan.design, &alone);
                list.extend(super::open_ring::list(stack, place));
                list
            }
        },
        entries,
        acts: ring_acts(&plan.design, stack, place, wood, ring),
        links: vec![link(words::THING_AT_BENCH, "bench", "bench-steps")],
        below: nearby(place.checked_sub(1), Thing::Ring),
        above: nearby(
            Some(place + 1).filter(|it| *it < stack.rings.len()),
            Thing::Ring,
        ),
        ..Panel::default()
    })
}

/// How much of a ring each of the piece's woods is; empty where nothing.
fn shares_of_woods(stack: &StackPlan, ring: &StackRing) -> Vec<String> {
    let share = |wood: usize| {
        let count = ring.segment_count;
        let own = (0..count).filter(|it| ring.wood_of(*it) == wood).count();
        if own == 0 {
            String::new()
        } else if own == count as usize {
            words::THING_ALL_OF_RING.text.to_owned()
        } else {
            words::filled(
                words::THING_PART_OF_RING,
                &[&own.to_string(), &count.to_string()],
            )
        }
    };
    (0..stack.vessel.woods.len()).map(share).collect()
}

fn of_segment(plan: &Plan, stack: &StackPlan, place: usize, segment: u32) -> Option<Panel> {
    let (ring, planned) = (stack.vessel.rings.get(place)?, stack.rings.get(place)?);
    let count = ring.segment_count;
    if planned.made != Made::Segments || segment >= count {
        return None;
    }
    let own = Thing::Segment(place, segment);
    let paint = |(wood, name): (usize, &String)| {
        let change = json!({ "kind": "paint", "ring": place, "segment": segment, "wood": wood });
        Act {
            label: name.clone(),
            change,
            then: own.name(),
            is_on: Some(ring.wood_of(segment) == wood),
            color: woods::color(&plan.design, name).hex(),
            group: "",
        }
    };
    let to = |label: Word, thing: Thing| act(label, Value::Null).then(thing);
    let is_striped = ring.striped().is_some();
    let woods = stack.vessel.woods.iter().enumerate();
    let acts = woods.filter(|_| !is_striped).map(paint).chain([
        to(
            words::THING_SEGMENT_BEFORE,
            Thing::Segment(place, (segment + count - 1) % count),
        ),
        to(
            words::THING_SEGMENT_AFTER,
            Thing::Segment(place, (segment + 1) % count),
        ),
        to(words::THING_ITS_RING, Thing::Ring(place)),
    ]);
    let [ring_said, segment_said, count_said] =
        [place as u32 + 1, segment + 1, count].map(|it| it.to_string());
    let says = if is_striped {
        words::STRIPE_SEGMENT_SAYS
    } else {
        words::THING_SEGMENT_SAYS
    };
    Some(Panel {
        title: words::filled(words::THING_SEGMENT, &[&ring_said, &segment_said]),
        says: words::filled(says, &[&count_said]),
        acts: acts.collect(),
        ..Panel::default()
    })
}

fn nearby(place: Option<usize>, thing: impl Fn(usize) -> Thing) -> String {
    place.map_or_else(String::new, |place| thing(place).name())
}

fn link(label: Word, place: &'static str, part: &'static str) -> Link {
    Link {
        label: label.text,
        place,
        part,
    }
}

/// What may be done with a ring, under headings: its woods, its segments, and the ring in the
/// stack. A glued ring's place comes first: woods and segments are what they are.
fn ring_acts(
    design: &Design,
    stack: &StackPlan,
    place: usize,
    wood: usize,
    ring: &StackRing,
) -> Vec<Act> {
    let is_mitred = stack.rings[place].made == Made::Segments;
    let is_sawn = is_mitred && !ring.is_glued();
    let mut woods = Vec::new();
    if is_mitred && ring.stripes.is_none() {
        woods
            .push(act(words::THING_SEGMENT_BY_SEGMENT, Value::Null).then(Thing::Segment(place, 0)));
    }
    if is_sawn {
        woods.extend(stripe_acts(stack, place, wood, ring));
    }
    let segments = if is_sawn {
        let mut acts = gap_acts(&stack.vessel, place);
        acts.extend(share_acts(place, wood, ring));
        acts
    } else {
        Vec::new()
    };
    let groups = [
        (words::GROUP_WOODS, woods),
        (words::GROUP_SEGMENTS, segments),
        (
            words::GROUP_STACK,
            place_acts(design, stack, place, wood, ring),
        ),
    ];
    let mut acts: Vec<Act> = Vec::new();
    for (heading, own) in groups {
        let own = own.into_iter().map(|act| Act {
            group: heading.text,
            ..act
        });
        // A ring that is glued is next closed at its foot.
        let at = if ring.is_glued() && heading == words::GROUP_STACK {
            0
        } else {
            acts.len()
        };
        acts.splice(at..at, own);
    }
    for act in &mut acts {
        // A change of the ring itself leaves it in hand.
        if act.then.is_empty() && !takes_away(act) {
            act.then = Thing::Ring(place).name();
        }
    }
    acts
}

fn takes_away(act: &Act) -> bool {
    act.change["kind"] == "remove_ring" || act.change["kind"] == "remove_above_rim"
}

/// What may be done with the gaps of an open ring.
fn gap_acts(vessel: &Vessel, place: usize) -> Vec<Act> {
    let by = |kind: &str| json!({ "kind": kind, "ring": place });
    let is_open = vessel.rings.get(place).is_some_and(open_ring::is_open);
    let same = open_ring::gaps_differ(vessel, place);
    let above = is_open && open_ring::is_closed_above(vessel, place);
    let same = same.then(|| act(words::SAME_GAP, by("same_gap")));
    let above = above.then(|| act(words::OPEN_ABOVE, by("open_above")));
    same.into_iter().chain(above).collect()
}

/// How wide a ring's segments are beside each other.
fn share_acts(place: usize, wood: usize, ring: &StackRing) -> Vec<Act> {
    if !ring.shares.is_empty() {
        let evenly = json!({ "kind": "share_evenly", "ring": place });
        vec![act(words::SHARE_EVENLY, evenly)]
    } else if ring.stripes.is_none() {
        let unevenly = json!({ "kind": "share_unevenly", "ring": place, "wood": wood });
        vec![act(words::SHARE_UNEVENLY, unevenly)]
    } else {
        Vec::new()
    }
}

/// What becomes of a ring in the stack.
fn place_acts(
    design: &Design,
    stack: &StackPlan,
    place: usize,
    wood: usize,
    ring: &StackRing,
) -> Vec<Act> {
    let by = |kind: &str| json!({ "kind": kind, "ring": place });
    let mut acts = if ring.is_glued() {
        let to = |label: Word, other: usize| {
            let swap = json!({ "kind": "swap", "ring": place, "other": other });
            act(label, swap).then(Thing::Ring(other))
        };
        let mut acts = vec![act(words::BUILT_TURN_OVER, by("turn_over"))];
        if place + 1 < stack.rings.len() {
            acts.push(to(words::BUILT_UP, place + 1));
        }
        if place > 0 {
            acts.push(to(words::BUILT_DOWN, place - 1));
        }
        acts.push(act(words::BUILT_PLANNED, by("planned")));
        acts
    } else {
        let accent = json!({ "kind": "add_accent", "ring": place, "wood": wood });
        vec![
            act(words::VESSEL_SPLIT, by("add_ring")),
            act(words::VESSEL_ACCENT, accent),
            act(words::BUILT_IS_GLUED, by("glued")),
            act(words::VESSEL_REMOVE_RING, by("remove_ring")).then(Thing::Nothing),
        ]
    };
    if place >= above_rim(&stack.vessel).0 {
        acts.extend(above_rim_act(stack).map(|act| act.then(Thing::Nothing)));
    }
    let base = floor::choice(design);
    let is_within = base.kind != BaseKind::Open && base.set != BaseSet::Under;
    if is_within && floor::base_place(&base, &stack.vessel) == place {
        acts.push(act(words::THING_ITS_BASE, Value::Null).then(Thing::Floor));
    } else if floor::takes_base(place) {
        let let_in = act(words::THING_LET_BASE_IN, by("let_base_in")).then(Thing::Floor);
        acts.insert(if ring.is_glued() { 0 } else { acts.len() }, let_in);
    }
    acts
}

/// What may be done with a ring's stripes.
fn stripe_acts(stack: &StackPlan, place: usize, wood: usize, ring: &StackRing) -> Vec<Act> {
    let by = |kind: &str| json!({ "kind": kind, "ring": place });
    if ring.striped().is_none() {
        let as_laid = |laid: Laid| json!({ "kind": "stripe", "ring": place, "wood": wood, "laid": laid.word() });
        return vec![
            act(words::STRIPE_CHEVRON, as_laid(Laid::Chevron)),
            act(words::STRIPE_SLANT, as_laid(Laid::Slant)),
        ];
    }
    let mut acts = vec![
        act(words::STRIPE_MEET, by("meet_stripes")),
        act(words::STRIPE_ADD, by("add_layer")),
        act(words::STRIPE_REMOVE, by("remove_layer")),
    ];
    let above = stack.rings.get(place + 1);
    if above.is_some_and(|it| it.made == Made::Segments && it.measured.is_none()) {
        acts.push(act(words::STRIPE_MIRROR, by("mirror_stripes")));
    }
    acts.push(act(words::STRIPE_PLAIN, by("plain")));
    acts
}

fn of_point(stack: &StackPlan, place: usize) -> Option<Panel> {
    let (design, points) = (&*stack.design, &stack.vessel.points);
    let point = points.get(place)?;
    let own = Thing::Point(place);
    let whole = Value::Null;
    let told = |at: usize, length_mm: f64| {
        let key = POINT[at].key.replace('*', &place.to_string());
        Entry {
            text: worked_out_text(length_mm, design.unit),
            ..entry(design, &whole, &POINT[at], &key)
        }
    };
    // The foot stands where it is.
    let height = (place > 0).then(|| told(0, point.height_mm));
    let mut acts = vec![Act {
        is_on: Some(point.is_corner),
        ..act(
            words::VESSEL_POINT_CORNER,
            json!({ "kind": "toggle_corner", "place": place }),
        )
        .then(own)
    }];
    if points.len() > 2 {
        acts.push(act(
            words::VESSEL_POINT_REMOVE,
            json!({ "kind": "remove_point", "place": place }),
        ));
    }
    let is_rim = place + 1 == points.len();
    if is_rim {
        acts.splice(0..0, above_rim_act(stack).map(|act| act.then(own)));
    }
    Some(Panel {
        title: words::filled(
            words::THING_POINT,
            &[&(place + 1).to_string(), &points.len().to_string()],
        ),
        says: if is_rim {
            above_rim_says(stack)
        } else {
            String::new()
        },
        entries: height
            .into_iter()
            .chain([told(1, 2.0 * point.radius_mm)])
            .collect(),
        acts,
        below: nearby(place.checked_sub(1), Thing::Point),
        above: nearby(
            Some(place + 1).filter(|it| *it < points.len()),
            Thing::Point,
        ),
        ..Panel::default()
    })
}

fn of_floor(plan: &Plan) -> Panel {
    // As it stands, also where it is drawn in glued rings.
    let shown = Design {
        vessel: plan.stack().map(|stack| stack.vessel.clone()),
        ..(*plan.design).clone()
    };
    let design = &shown;
    let said = super::wood::Said::of(design);
    let base = plan.base();
    let unit = design.unit;
    let mut acts = Vec::new();
    if floor::choice(design).kind == BaseKind::Plies {
        acts.push(act(words::BASE_ADD_PLY, json!({ "kind": "add_ply" })).then(Thing::Floor));
        acts.push(act(words::BASE_REMOVE_PLY, json!({ "kind": "remove_ply" })).then(Thing::Floor));
    }
    Panel {
        title: words::SECTION_FLOOR.text.to_owned(),
        saw: base.map_or_else(Vec::new, |base| super::wood::first_of_base(base, unit)),
        entries: said
            .entries(&[field::key::FLOOR])
            .into_iter()
            .chain(super::wood::base_entries(design, &said))
            .collect(),
        acts,
        list: base
            .map(|base| {
                let thick = figure(words::BASE_THICKNESS, show(base.thickness_mm, unit));
                let depth = super::wood::mortise_depth(base, unit);
                std::iter::once(thick).chain(depth).collect()
            })
            .unwrap_or_default(),
        links: vec![
            link(words::THING_SEASONS, "wood", "wood-base"),
            link(words::THING_AT_BENCH, "bench", "bench-steps"),
            link(words::THING_ON_PAPER, "paper", "sheet-base"),
        ],
        ..Panel::default()
    }
}

fn of_meeting(stack: &StackPlan, order: &Order) -> Panel {
    let own = Thing::Meeting;
    let to =
        |label: Word, above: usize| act(label, json!({ "kind": "meet", "above": above })).then(own);
    let higher = super::bench::higher(order, &stack.vessel);
    let lower = super::bench::lower(order).filter(|ring| *ring > 0);
    let one_piece = (order.meeting > 0).then_some(0);
    let ways = [
        (words::BENCH_MEET_HIGHER, higher),
        (words::BENCH_MEET_LOWER, lower),
        (words::THING_ONE_PIECE, one_piece),
    ];
    let mut acts: Vec<Act> = ways
        .into_iter()
        .filter_map(|(label, above)| Some(to(label, above?)))
        .collect();
    if stack.design.bench_or_usual().meet_above_ring.is_some() {
        acts.push(act(words::BENCH_MEET_OWN, json!({ "kind": "meet_own" })).then(own));
    }
    let joint = order.meeting.checked_sub(1);
    Panel {
        title: words::BENCH_MEETING.text.to_owned(),
        says: super::bench::meeting_says(order),
        acts,
        list: joint.map_or_else(Vec::new, |lower| super::lathe::joint(stack, lower)),
        links: vec![
            link(words::THING_AT_BENCH, "bench", "bench-steps"),
            link(words::THING_ON_PAPER, "paper", "sheet-order"),
        ],
        ..Panel::default()
    }
}

/// What may be done with a set of slots: with the layers of its strips, which leaves it in
/// hand, and with all of it.
fn set_acts(stack: &StackPlan, place: usize) -> Vec<Act> {
    let by = |kind: &str| json!({ "kind": kind, "set": place });
    let layers = super::inlay::layer_acts(&stack.vessel, place).into_iter();
    let layers = layers.map(|(label, kind)| act(label, by(kind)).then(Thing::Set(place)));
    layers
        .chain([act(words::INLAY_REMOVE, by("remove_set"))])
        .collect()
}

fn of_set(stack: &StackPlan, place: usize) -> Option<Panel> {
    let design = &*stack.design;
    let set = stack.slot_sets.get(place)?;
    let count = stack.slot_sets.len();
    Some(Panel {
        title: words::filled(
            words::THING_SET,
            &[&words::inlay::set_name(place, set.as_ref())],
        ),
        says: super::inlay::goes_along(&stack.vessel, place),
        saw: set
            .as_ref()
            .map_or_else(Vec::new, |own| super::inlay::saw(stack, own, place)),
        entries: super::inlay::entries(design, place),
        acts: set_acts(stack, place),
        list: set
            .as_ref()
            .map_or_else(Vec::new, |own| super::inlay::list(stack, own)),
        links: vec![
            link(words::THING_IN_INLAY, "inlay", "inlay"),
            link(words::THING_ON_PAPER, "paper", "sheet-inlay"),
        ],
        below: nearby(place.checked_sub(1), Thing::Set),
        above: nearby(Some(place + 1).filter(|it| *it < count), Thing::Set),
        ..Panel::default()
    })
}
