//! What the Inlay place shows.

use super::stripe::layer_entries;
use super::vessel::Handle;
use super::{Entry, Figure, Message, entry, figure, noted};
use crate::design::field;
use crate::design::{Design, SlotSet, StackIs, StripsShow, Vessel};
use crate::draw::MM_PER_PX;
use crate::edit::first_slots::{Begun, begin};
use crate::edit::inlay::partner;
use crate::edit::opening::openings;
use crate::edit::variation::Ways;
use crate::plan::caution::{Caution, Placed, SlotCaution};
use crate::plan::inlay::{self, CLAMP_ABOVE_MM, SetPlan};
use crate::plan::on_saw;
use crate::plan::sawing;
use crate::plan::stack::StackPlan;
use crate::show::pictures::inlay::{
    BLADE_X_MM, BandView, BladeView, front_slot_rad, no_higher, no_lower,
};
use crate::show::words;
use crate::trade::layered::is_veneer;
use crate::units::length::{Unit, at_least, no_less, show};
use crate::units::quantity;
use crate::units::quantity::{number, shown_degrees};
use serde::Serialize;
use serde_json::{Value, json};

/// A thing to choose, with its color: a set or a wood.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Choice {
    /// Its name.
    pub name: String,
    /// Its color, `#rrggbb`.
    pub color: String,
    /// Whether it is chosen.
    pub is_chosen: bool,
}

/// Something that may be done with the layers of a set's strips.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct LayerAct {
    /// What it is called.
    pub label: String,
    /// The change.
    #[cfg_attr(target_arch = "wasm32", tsify(type = "Change"))]
    pub change: Value,
}

/// All that the Inlay place says in words and figures.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct InlayScreen {
    /// The sets.
    pub sets: Vec<Choice>,
    /// The woods that the picked set's strips can be of.
    pub woods: Vec<Choice>,
    /// The picked set's fields.
    pub entries: Vec<Entry>,
    /// What may be done with the layers of its strips.
    pub layer_acts: Vec<LayerAct>,
    /// The figures for the saw.
    pub saw: Vec<Figure>,
    /// The rest.
    pub list: Vec<Figure>,
    /// The zigzag: for these slots, and the nearest.
    pub zigzag: Vec<Figure>,
    /// Cautions about any set.
    pub cautions: Vec<Message>,
    /// What could not be computed.
    pub messages: Vec<Message>,
    /// The order of work.
    pub work: Vec<String>,
    /// On the band: the slot's middle and its upper end.
    pub handles: Vec<Handle>,
    /// On the blade's scale.
    pub blade: Option<Handle>,
    /// How the band is drawn.
    pub band_note: String,
    /// Which other set goes along with the picked one; empty where none does.
    pub goes_along: String,
}

/// What helps a set whose blade has no height, or hardly one.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Help {
    /// Why it has none; empty where it has.
    pub no_height: String,
    /// Changes that give it one.
    pub openings: Vec<String>,
}

/// Looks for what helps the picked set.
pub fn help(plan: &StackPlan, picked: usize) -> Help {
    let unit = plan.design.unit;
    if plan.slot_sets.is_empty() {
        return Help {
            no_height: none_can_be_sawn(&plan.design),
            openings: Vec::new(),
        };
    }
    let own = plan.slot_sets.get(picked).and_then(Option::as_ref);
    let Some((own, caution)) = own.and_then(|own| Some((own, sawing::window_caution(own)?))) else {
        return Help::default();
    };
    let (_, mut no_height, _) = words::inlay::caution(&caution, unit);
    let openings = openings(&plan.design, picked);
    if openings.is_empty() {
        no_height += " ";
        no_height += &words::inlay::no_opening(own, unit);
    }
    Help {
        no_height,
        openings: openings
            .into_iter()
            .map(|opening| words::inlay::opening(opening, unit))
            .collect(),
    }
}

/// Says it where slots that are begun cannot be sawn anywhere.
fn none_can_be_sawn(design: &Design) -> String {
    let begun = crate::plan::plan(&begin(design, Begun::OneWay));
    let sets = begun.stack().map_or(&[][..], |stack| &stack.slot_sets);
    if sets.iter().flatten().any(SetPlan::is_open) {
        String::new()
    } else {
        words::INLAY_NONE_SAWN.text.to_owned()
    }
}

/// Sets the Inlay place.
pub fn inlay(
    plan: &StackPlan,
    picked: usize,
    view: Option<&BandView>,
    blade_height_mm: f64,
) -> InlayScreen {
    let design = &*plan.design;
    let vessel = &plan.vessel;
    let unit = design.unit;
    let own = plan.slot_sets.get(picked).and_then(Option::as_ref);
    let [messages, cautions] = looked_at(plan, picked);
    let mut screen = InlayScreen {
        sets: (0..plan.slot_sets.len())
            .map(|place| Choice {
                name: words::inlay::set_name(
                    place,
                    plan.slot_sets.get(place).and_then(Option::as_ref),
                ),
                color: plan.slot_sets[place]
                    .as_ref()
                    .map_or_else(String::new, |own| own.middle_color().hex()),
                is_chosen: place == picked,
            })
            .collect(),
        woods: woods(plan, picked),
        entries: entries(design, picked),
        layer_acts: layer_acts(vessel, picked)
            .into_iter()
            .map(|(label, kind)| LayerAct {
                label: label.text.to_owned(),
                change: json!({ "kind": kind, "set": picked }),
            })
            .collect(),
        cautions,
        messages,
        goes_along: goes_along(vessel, picked),
        work: order_of_work(plan),
        ..InlayScreen::default()
    };
    let Some(own) = own else {
        return screen;
    };
    screen.saw = saw(plan, own, picked);
    screen.list = list(plan, own);
    screen.zigzag = zigzag(plan, picked, own);
    if let Some(view) = view {
        screen.handles = handles(vessel, own, picked, view);
        let stretch = view.stretch(own);
        screen.band_note = if stretch > 1.04 {
            words::inlay::drawn_larger(stretch)
        } else {
            words::INLAY_DRAWN_TRUE.text.to_owned()
        };
        let scale = BladeView::fit(own, blade_height_mm);
        screen.blade = own.is_open().then(|| Handle {
            place: 2,
            x: BLADE_X_MM / MM_PER_PX,
            y: scale.y(own.blade_mm) / MM_PER_PX,
            label: format!(
                "{}: {}",
                words::SLOT_BLADE.text,
                show(own.blade_mm, unit).line()
            ),
            is_corner: false,
            is_near: false,
        });
    }
    screen
}

/// Says which other set goes along with one.
pub(super) fn goes_along(vessel: &Vessel, place: usize) -> String {
    partner(vessel, place).map_or_else(String::new, |(other, ways)| {
        let word = match ways {
            Ways::Zigzag => words::INLAY_MEETS,
            _ => words::INLAY_CROSSES,
        };
        words::filled(word, &[&(other + 1).to_string()])
    })
}

fn woods(plan: &StackPlan, picked: usize) -> Vec<Choice> {
    let (design, vessel) = (&*plan.design, &plan.vessel);
    let set = vessel.slot_sets.get(picked);
    if set.is_some_and(|set| set.layered().is_some()) {
        // Each layer has its own, in a field.
        return Vec::new();
    }
    let chosen = set.map(|set| set.wood as usize);
    let woods = vessel.woods.iter().enumerate();
    woods
        .map(|(place, name)| Choice {
            name: name.clone(),
            color: crate::plan::woods::color(design, name).hex(),
            is_chosen: Some(place) == chosen,
        })
        .collect()
}

pub(super) fn entries(design: &Design, picked: usize) -> Vec<Entry> {
    let whole = crate::design::read::to_value(design);
    let made = |name: String| {
        let key = format!("vessel.slot_sets.{picked}.{name}");
        field::at(&whole, &key)?;
        field::find(&key).map(|found| entry(design, &whole, found, &key))
    };
    let vessel = design.vessel.as_ref();
    let set = vessel.and_then(|it| it.slot_sets.get(picked));
    let count = set.and_then(SlotSet::layered).map_or(0, <[_]>::len);
    let layers = layer_entries(design, count, words::STRIP_LAYER_MM, made);
    [
        "from_ring",
        "to_ring",
        "slot_count",
        "beside_count",
        "apart_deg",
        "gauge_deg",
        "leans",
        "tilt_deg",
        "first_at",
        "further_deg",
        "held_by",
        "shows",
        "ends_at_mm",
        "blade_mm",
        "kerf_mm",
        "fit_mm",
        "stack_is",
    ]
    .iter()
    .filter_map(|name| made((*name).to_owned()))
    .chain(layers)
    .collect()
}

/// What may be done with the layers of a set's strips: what it is called, and the change.
pub(super) fn layer_acts(vessel: &Vessel, place: usize) -> Vec<(words::Word, &'static str)> {
    let Some(set) = vessel.slot_sets.get(place) else {
        return Vec::new();
    };
    if set.layered().is_none() {
        return vec![(words::STRIP_LIGHT_DARK, "layer_strips")];
    }
    vec![
        (words::STRIP_FIT, "fit_layers"),
        (words::STRIP_ADD, "add_strip_layer"),
        (words::STRIP_REMOVE, "remove_strip_layer"),
        (words::STRIP_PLAIN, "plain_strips"),
    ]
}

/// What is to be looked at: what stands at the picked set's fields, where it could not be
/// computed, its layers are wrong, it shares only some rings with another or cannot go through the
/// wall, and the rest.
fn looked_at(plan: &StackPlan, picked: usize) -> [Vec<Message>; 2] {
    let unit = plan.design.unit;
    let troubles = plan.troubles.iter().map(|it| words::trouble(it, unit));
    let found = sawing::inspect(plan, &plan.slot_sets);
    let (own, rest): (Vec<_>, Vec<_>) = found
        .into_iter()
        .partition(|it| at_a_field(&it.caution) == Some(picked));
    let told = |placed: &Placed| words::caution(&placed.caution, unit);
    [
        troubles.chain(own.iter().map(told)).collect(),
        rest.iter().map(told).collect(),
    ]
}

/// The set at whose field a caution stands: about its layers, its rings, or what holds the stack.
fn at_a_field(caution: &Caution) -> Option<usize> {
    match caution {
        Caution::Slots(
            place,
            SlotCaution::LayersOff { .. }
            | SlotCaution::ThinLayer { .. }
            | SlotCaution::SharesRings { .. }
            | SlotCaution::Through(_),
        ) => Some(*place),
        _ => None,
    }
}

/// The saw's figures of a set.
pub(crate) fn saw(plan: &StackPlan, own: &SetPlan, place: usize) -> Vec<Figure> {
    let (unit, vessel) = (plan.design.unit, &plan.vessel);
    let room = if own.is_through() {
        words::through::past(own, unit)
    } else if own.window.middle_mm().is_some() {
        words::inlay::either_side(own.window.room_mm(), unit)
    } else {
        String::new()
    };
    let apart = vessel
        .slot_sets
        .get(place)
        .and_then(|set| inlay::segments_apart(vessel, set));
    let blade = own
        .is_open()
        .then(|| noted(words::SLOT_BLADE, show(own.blade_mm, unit), room));
    let mut saw: Vec<Figure> = blade.into_iter().collect();
    saw.extend([figure(
        words::SLOT_GAUGE,
        shown_degrees(own.slots.gauge_rad.abs()),
    )]);
    let tilt_rad = own.slots.tilt_rad;
    if tilt_rad != 0.0 {
        let to = words::inlay::tilts_to(tilt_rad).to_owned();
        saw.push(noted(words::SLOT_TILT, shown_degrees(tilt_rad.abs()), to));
    }
    saw.extend([noted(
        if own.slots.beside > 1 {
            words::SLOT_PLACES
        } else {
            words::SLOT_INDEX
        },
        shown_degrees(own.slots.step_rad()),
        apart.map_or_else(String::new, words::inlay::segments_apart),
    )]);
    if own.slots.beside > 1 {
        let round_mm = own.circumference_mm() * own.slots.apart_rad / std::f64::consts::TAU;
        saw.push(noted(
            words::SLOT_BESIDE,
            shown_degrees(own.slots.apart_rad),
            words::inlay::along(round_mm, unit),
        ));
    }
    saw
}

/// The other figures of a set.
pub(crate) fn list(plan: &StackPlan, own: &SetPlan) -> Vec<Figure> {
    let design = &*plan.design;
    let unit = design.unit;
    let length = |length_mm: f64| show(length_mm, unit);
    let window = &own.window;
    let mut list = Vec::new();
    if !own.is_open() {
        // What hangs on the blade is not to be used: its reason and the ways out stand
        // among the cautions.
        list.extend([
            figure(
                words::SLOT_ROUND,
                length(own.circumference_mm() / f64::from(own.slots.places())),
            ),
            figure(
                words::SLOT_FIRST,
                shown_degrees(own.slots.first_rad.rem_euclid(std::f64::consts::TAU)),
            ),
        ]);
        return list;
    }
    if window.least_mm.abs() < 1e4 {
        list.push(figure(
            words::inlay::least(own),
            no_lower(window.least_mm.max(0.0), unit),
        ));
    }
    list.push(figure(
        words::inlay::most(own),
        no_higher(window.bridge_mm, unit),
    ));
    if let Some(hidden) = window.hidden_mm {
        list.push(figure(words::SLOT_HIDDEN, no_higher(hidden, unit)));
    }
    if own.shows == StripsShow::OutsidePartly {
        let heights = words::inlay::shown_between(&own.shown_mm(), unit);
        list.push(figure(words::SLOT_SHOWN, quantity::in_words(heights)));
    }
    let [thick, wide, long] = own.strip_mm;
    let places = f64::from(own.slots.places());
    let in_all = own.strip_in_all_mm(design.shop.kerf_mm);
    list.extend(held(own, unit));
    list.extend([
        figure(words::SLOT_BETWEEN, length(own.between_mm)),
        figure(words::SLOT_ROUND, length(own.circumference_mm() / places)),
        figure(
            words::SLOT_FIRST,
            shown_degrees(own.slots.first_rad.rem_euclid(std::f64::consts::TAU)),
        ),
        noted(
            words::SLOT_STRIPS,
            number(own.slots.count.to_string()),
            if own.sticks.is_some() {
                words::inlay::layers(own.layers.len())
            } else {
                words::inlay::strips_from(in_all, unit)
            },
        ),
        figure(words::SLOT_THICK, quantity::fine(thick, unit)),
        figure(words::SLOT_WIDE, length(wide)),
        noted(
            words::SLOT_LONG,
            length(long),
            words::through::through_discs(own),
        ),
        figure(words::SLOT_FENCE, no_less(own.table_mm(), unit)),
        figure(
            words::SLOT_CLAMP,
            no_less(own.blade_mm + CLAMP_ABOVE_MM, unit),
        ),
    ]);
    let after = list.iter().position(|it| it.key == words::SLOT_LONG.key);
    let at = after.map_or(list.len(), |at| at + 1);
    list.splice(at..at, sticks(plan, own));
    list
}

/// What holds its stack while a set is sawn, and what is left of it.
fn held(own: &SetPlan, unit: Unit) -> Vec<Figure> {
    if !own.is_through() {
        return vec![figure(words::SLOT_BRIDGE, show(own.bridge_mm, unit))];
    }
    let by = words::through::held_by(own.held_by).to_owned();
    let mut list = vec![figure(words::SLOT_HELD, quantity::in_words(by))];
    if let Some([foot, rim]) = own.discs_across_mm() {
        let thick = words::through::disc_thick(own, unit);
        list.extend([
            noted(words::SLOT_DISC_FOOT, show(foot, unit), thick),
            figure(words::SLOT_DISC_RIM, show(rim, unit)),
            figure(
                words::SLOT_DISCS_MIDDLE,
                no_higher(own.discs_middle_mm(), unit),
            ),
        ]);
    }
    list
}

/// The zigzag of a set's own count, and the nearest to its angle; none of a set that crosses
/// another.
pub(crate) fn zigzag(plan: &StackPlan, place: usize, own: &SetPlan) -> Vec<Figure> {
    let partner = partner(&plan.vessel, place);
    if partner.is_some_and(|(_, ways)| ways != Ways::Zigzag) {
        return Vec::new();
    }
    // An angle that meets is of no use where the blade then finds no height.
    let told = |note: String, zigzag: (u32, f64)| {
        if on_saw::has_window(plan, place, zigzag) {
            note
        } else {
            words::inlay::without_window(&note)
        }
    };
    let rounded = |radians: f64| {
        super::Shown::decimal(
            crate::units::length::decimal(radians.to_degrees(), 2),
            "°",
            " degrees",
        )
    };
    let [bottom, top] = own.end_radii_mm();
    let at = |radius: f64| own.zigzag_between_rad([radius; 2]);
    let ends = if (at(bottom) - at(top)).abs() > 0.005 {
        words::inlay::zigzag_ends(at(bottom), at(top))
    } else {
        String::new()
    };
    let its_own = own.zigzag_rad();
    let ends = told(ends, (own.slots.places(), its_own));
    let mut list = vec![noted(words::SLOT_ZIGZAG, rounded(its_own), ends)];
    if own.slots.gauge_rad.abs() > 1e-6 {
        let (count, gauge) = own.nearest_zigzag();
        list.push(noted(
            words::SLOT_NEAREST,
            rounded(gauge),
            told(words::inlay::slots(count), (count, gauge)),
        ));
    }
    list
}

/// The woods that a set's strips are of, from the left.
pub(crate) fn strip_woods(plan: &StackPlan, own: &SetPlan) -> String {
    let names = own.layers.iter().map(|it| wood_name(plan, it.wood));
    words::inlay::layer_woods(&names.collect::<Vec<_>>())
}

fn wood_name(plan: &StackPlan, wood: usize) -> &str {
    plan.vessel.woods.get(wood).map_or("", String::as_str)
}

/// What is ripped and glued for a set's layered strips; nothing where they are of one wood.
pub(crate) fn sticks(plan: &StackPlan, own: &SetPlan) -> Vec<Figure> {
    let (Some(sticks), unit) = (
        own.sticks.as_ref().filter(|_| own.is_open()),
        plan.design.unit,
    ) else {
        return Vec::new();
    };
    let sizes = |planed_mm: f64| [sticks.wide_mm, sticks.long_mm, planed_mm];
    let rips = own.layers_to_rip().into_iter().enumerate();
    let mut list: Vec<Figure> = rips
        .map(|(place, it)| {
            let is_planed = !is_veneer(it.thickness_mm);
            let note = words::inlay::ripped_layer(sizes(it.thickness_mm), is_planed, unit);
            Figure {
                key: format!("slot.rip.{place}"),
                label: words::inlay::rip_layers(it.count, wood_name(plan, it.wood), is_planed),
                ..noted(words::STRIP_LAYER, quantity::fine(it.sawn_mm, unit), note)
            }
        })
        .collect();
    list.extend([
        noted(
            words::STRIP_STICKS,
            number(sticks.count.to_string()),
            words::inlay::strips_each(sticks.each),
        ),
        noted(
            words::STRIP_ORDER,
            number(own.layers.len().to_string()),
            strip_woods(plan, own),
        ),
        figure(words::STRIP_SUM, quantity::fine(own.layers_mm(), unit)),
        figure(words::STRIP_STICK_LONG, at_least(sticks.long_mm, unit)),
        figure(words::STRIP_STICK_WIDE, show(sticks.wide_mm, unit)),
    ]);
    list
}

/// The order of work in words.
pub(crate) fn order_of_work(plan: &StackPlan) -> Vec<String> {
    let design = &*plan.design;
    let sets: Vec<_> = plan
        .vessel
        .slot_sets
        .iter()
        .zip(&plan.slot_sets)
        .filter_map(|(set, own)| {
            let own = own.as_ref()?;
            let is_round = set.stack_is == StackIs::TurnedRound;
            Some((own, strip_woods(plan, own), is_round))
        })
        .collect();
    words::inlay::order_of_work(&sets, design.unit)
}

fn handles(vessel: &Vessel, own: &SetPlan, picked: usize, view: &BandView) -> Vec<Handle> {
    let direction = front_slot_rad(own);
    let further = vessel
        .slot_sets
        .get(picked)
        .map_or(0.0, |set| set.further_deg);
    let top = own.stack.layers.last().map_or(0.0, |layer| layer.to_mm);
    let at = |z_mm: f64, radius_mm: f64| {
        direction + own.slots.aside_rad(z_mm, radius_mm, own.table_mm())
    };
    let [middle_mm, _] = own.radii_mm(0.0);
    let handle = |place: usize, direction: f64, z_mm: f64| {
        let at = view.place(direction, z_mm);
        Handle {
            place,
            x: at.x.clamp(0.0, view.width_mm) / MM_PER_PX,
            y: at.y / MM_PER_PX,
            label: words::inlay::handle_says(place == 1, own, further),
            is_corner: place == 1,
            is_near: false,
        }
    };
    vec![
        handle(0, at(0.0, middle_mm), 0.0),
        handle(1, at(top, own.end_radii_mm()[1]), top),
    ]
}
