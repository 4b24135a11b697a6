//! What the Wood place shows: swatches, seasons, base.

use super::{Entry, Figure, entry, figure, noted};
use crate::design::field;
use crate::design::{self, BaseKind, BaseSet, Design};
use crate::plan::base::{BasePlan, Motion};
use crate::plan::bill::{self, WoodUse};
use crate::plan::board;
use crate::plan::floor;
use crate::plan::season::{self, AIRS, RingSeason, Seasons};
use crate::plan::woods;
use crate::plan::{self, Plan};
use crate::show::figures::table::{Row, Table};
use crate::show::words::{self, Message};
use crate::trade::wood::{self, SOURCES, Wood};
use crate::units::length::{Shown, Unit, decimal, show};
use crate::units::quantity;
use crate::units::quantity::{density_shown, percent};
use crate::units::quantity::{fine, in_words, money, number, wood_volumes};
use serde::Serialize;

/// A wood of the piece, or one of the turner's own.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct WoodSwatch {
    /// Its name.
    pub name: String,
    /// Its color, `#rrggbb`.
    pub color: String,
    /// Its place in the turner's own list, or −1.
    pub own: i32,
    /// What the design needs of it, and how it weighs and moves.
    pub list: Vec<Figure>,
    /// Where its figures are from.
    pub source: String,
    /// Its own fields, when it is in the turner's list.
    pub entries: Vec<Entry>,
}

/// The air of the shop or of a season.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct AirScreen {
    /// What it is the air of: `shop`, `dry` or `damp`.
    pub of: &'static str,
    /// Its name.
    pub label: &'static str,
    /// Its plain description among `choices`, or empty.
    pub described: String,
    /// The moisture content that it brings wood to.
    pub brings: Figure,
    /// Its fields.
    pub entries: Vec<Entry>,
}

/// A wood that may be meant by what was typed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct WoodOffer {
    /// Its name.
    pub name: String,
    /// Its color, `#rrggbb`.
    pub color: String,
    /// Whose it is, where it is the turner's own.
    pub note: &'static str,
    /// Whether it is the one that is meant: then it is taken as typed.
    pub is_meant: bool,
}

/// The woods that may be meant by what was typed, the nearest first; all for nothing typed.
pub fn offers(design: &Design, typed: &str) -> Vec<WoodOffer> {
    let offer = |it: woods::Offer| WoodOffer {
        color: woods::color(design, &it.name).hex(),
        note: if it.is_own {
            words::WOOD_YOURS.text
        } else {
            ""
        },
        name: it.name,
        is_meant: it.is_meant,
    };
    woods::offers(design, typed)
        .into_iter()
        .map(offer)
        .collect()
}

/// A base.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BaseScreen {
    /// What the hands need first.
    pub first: Vec<Figure>,
    /// Sizes.
    pub sizes: Vec<Figure>,
    /// Movement as one board, then as the plies, or as the wedges.
    pub movements: Vec<Movement>,
    /// Wood to saw.
    pub blanks: Vec<Figure>,
}

/// How one way to make a base moves.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Movement {
    /// One board, the plies, or wedges.
    pub label: String,
    /// What to make of it.
    pub says: String,
    /// Whether it is the way chosen.
    pub is_chosen: bool,
    /// Along and across, dry and damp.
    pub list: Vec<Figure>,
}

/// All that the Wood place says in words and figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct WoodScreen {
    /// The woods.
    pub swatches: Vec<WoodSwatch>,
    /// Shop, dry, damp.
    pub airs: Vec<AirScreen>,
    /// The descriptions that airs can be taken by: word and label.
    pub air_choices: Vec<(String, String)>,
    /// The joints, in the largest type.
    pub first: Vec<Figure>,
    /// Wall, height, base.
    pub changes: Vec<Figure>,
    /// Each ring's joints.
    pub rings: Vec<Figure>,
    /// Whether the wood is ready.
    pub ready_says: String,
    /// The other season fields.
    pub entries: Vec<Entry>,
    /// The base; nothing when there is none.
    pub base: Option<BaseScreen>,
    /// Its fields.
    pub base_entries: Vec<Entry>,
    /// Whether plies can be added and taken away.
    pub has_plies: bool,
    /// What could not be computed.
    pub messages: Vec<Message>,
    /// What to look at, of the seasons.
    pub cautions: Vec<Message>,
    /// What to look at, of the base.
    pub base_cautions: Vec<Message>,
}

/// Sets the Wood place.
pub fn wood(plan: &Plan) -> WoodScreen {
    let (design, base) = (&*plan.design, plan.base());
    let unit = design.unit;
    let seasons = plan.seasons();
    let said = Said::of(design);
    let base_messages = base.map_or(&[][..], |base| &base.troubles);
    WoodScreen {
        swatches: swatches(plan, &said),
        airs: airs(design, seasons, &said),
        air_choices: AIRS
            .iter()
            .map(|(word, ..)| {
                (
                    (*word).to_owned(),
                    words::by_key(&format!("air.{word}")).to_owned(),
                )
            })
            .collect(),
        first: first(seasons, unit),
        changes: changes(seasons, base, unit),
        rings: rings(seasons, unit),
        ready_says: match (seasons.ready, season::climate(design).meter_pct) {
            (Some(ready), Some(reading)) => words::ready(ready, reading, &seasons.moistures),
            _ => words::SEASON_NO_METER.text.to_owned(),
        },
        entries: said.entries(&["climate.meter_pct", "climate.sawn"]),
        base: base.map(|base| base_screen(design, base)),
        base_entries: base_entries(design, &said),
        has_plies: floor::choice(design).kind == BaseKind::Plies,
        messages: base_messages
            .iter()
            .map(|it| words::trouble(it, unit))
            .collect(),
        cautions: season::cautions(design, seasons)
            .iter()
            .map(|it| words::caution(it, unit))
            .collect(),
        base_cautions: base.map_or_else(Vec::new, |base| {
            let told = base.troubles.iter().map(|it| words::trouble(it, unit));
            told.chain(base.cautions.iter().map(|it| words::caution(it, unit)))
                .collect()
        }),
    }
}

/// A design with everything said that is only usual, for its entry fields.
pub(super) struct Said {
    design: Design,
    whole: serde_json::Value,
}

impl Said {
    pub(super) fn of(design: &Design) -> Said {
        let mut said = design.clone();
        said.climate = Some(season::climate(design));
        said.base = Some(floor::choice(design));
        Said {
            whole: design::read::to_value(&said),
            design: said,
        }
    }

    pub(super) fn entries(&self, keys: &[&str]) -> Vec<Entry> {
        keys.iter().filter_map(|key| self.entry(key)).collect()
    }

    fn entry(&self, key: &str) -> Option<Entry> {
        field::find(key).map(|found| entry(&self.design, &self.whole, found, key))
    }
}

fn swatches(plan: &Plan, said: &Said) -> Vec<WoodSwatch> {
    let design = &*plan.design;
    let mut needed = match plan.stack() {
        Some(stack) => {
            // Every wood of the vessel is shown, taken or not.
            let mut all = bill::by_wood(plan.bill(), &stack.vessel.woods);
            for each in &mut all {
                let mut taken = stack.totals().woods.iter();
                let own = taken.find(|other| wood::is_same(&other.name, &each.name));
                each.glued_count = own.map_or(0, |own| own.glued_count);
            }
            all
        }
        None => bill::by_wood(plan.bill(), std::slice::from_ref(&design.ring.wood)),
    };
    for own in &design.woods {
        if !needed.iter().any(|it| wood::is_same(&it.name, &own.name)) {
            needed.extend(bill::by_wood(&[], std::slice::from_ref(&own.name)));
        }
    }
    let volumes_mm3: Vec<f64> = needed.iter().map(|need| need.strip_mm3).collect();
    let volumes = wood_volumes(&volumes_mm3, design.unit);
    let each = needed.iter().zip(volumes);
    let veneers = board::veneers(design, plan.bill());
    each.zip(to_buy(plan, &needed))
        .map(|((need, volume), bought)| {
            let mut swatch = swatch(design, need, volume, plan.seasons(), said);
            let veneers = veneers
                .iter()
                .filter(|it| wood::is_same(&it.wood, &need.name));
            let veneers = veneers.map(|it| {
                let thick = words::boards::thick(it.thickness_mm, design.unit);
                let area = quantity::area(it.bought_mm2, design.unit);
                noted(words::VENEER_TO_BUY, area, thick)
            });
            swatch.list.splice(0..0, bought.into_iter().chain(veneers));
            swatch
        })
        .collect()
}

/// What is to be bought of each wood, about, and how thick; of none once boards are entered,
/// for their plan then says it.
fn to_buy(plan: &Plan, needed: &[WoodUse]) -> Vec<Option<Figure>> {
    let design = &*plan.design;
    let has_boards = design.rack.as_ref().is_some_and(|it| !it.boards.is_empty());
    let all = board::estimate(design, plan.bill());
    let of = |need: &WoodUse| {
        all.iter()
            .filter(|it| !has_boards && wood::is_same(&it.wood, &need.name))
            .collect::<Vec<_>>()
    };
    let each: Vec<_> = needed.iter().map(of).collect();
    let bought_mm3: Vec<f64> = each
        .iter()
        .map(|of| of.iter().map(|it| it.bought_mm3).sum())
        .collect();
    let volumes = wood_volumes(&bought_mm3, design.unit);
    each.iter()
        .zip(volumes)
        .map(|(of, volume)| {
            (!of.is_empty()).then(|| {
                noted(
                    words::WOOD_TO_BUY,
                    volume,
                    words::boards::thicknesses(of, design.unit),
                )
            })
        })
        .collect()
}

fn swatch(
    design: &Design,
    need: &WoodUse,
    volume: Shown,
    seasons: &Seasons,
    said: &Said,
) -> WoodSwatch {
    let (unit, name) = (design.unit, need.name.as_str());
    let known = woods::named(design, name).unwrap_or(wood::PLAIN);
    let own = woods::own_place(design, name);
    let color = woods::color(design, name).hex();
    let mut list = Vec::new();
    if need.strip_mm3 > 0.0 {
        list.push(figure(words::WOOD_NEEDS, volume));
        if need.strip_count > 0 {
            list.push(figure(
                words::WOOD_STRIPS,
                number(need.strip_count.to_string()),
            ));
        }
        if let Some(price) = plan::ring::price(design, name) {
            let cost = price * need.strip_mm3 / plan::ring::price_volume_mm3(design.shop.price_per);
            list.push(figure(words::WOOD_COST, money(cost, &design.shop.currency)));
        }
    } else if need.glued_count == 0 {
        let note = words::WOOD_NOT_TAKEN.text.to_owned();
        list.push(figure(words::WOOD_NEEDS, in_words(note)));
    }
    if need.glued_count > 0 {
        list.push(figure(
            words::WOOD_GLUED,
            number(need.glued_count.to_string()),
        ));
    }
    if let Some(density) = known.density_kg_m3() {
        list.push(noted(
            words::WOOD_WEIGHS,
            density_shown(density, unit),
            memory(known, 2),
        ));
    }
    list.push(match seasons.moistures.across_width(&known) {
        Some([dry, damp]) => noted(
            words::WOOD_MOVES,
            percent(100.0 * (damp - dry), 1),
            memory(known, 1),
        ),
        None => figure(
            words::WOOD_MOVES,
            in_words(words::WOOD_NO_FIGURES.text.to_owned()),
        ),
    });
    WoodSwatch {
        name: name.to_owned(),
        own: own
            .and_then(|place| i32::try_from(place).ok())
            .unwrap_or(-1),
        list,
        source: source(&known),
        entries: own.map_or_else(Vec::new, |place| {
            let names = [
                "like",
                "price",
                "specific_gravity",
                "radial_pct",
                "tangential_pct",
                "color",
            ];
            names
                .iter()
                .filter_map(|each| {
                    let mut entry = said.entry(&format!("woods.{place}.{each}"))?;
                    if *each == "price" {
                        entry.label = words::price_for(design.shop.price_per.word());
                    }
                    // A color is always one: where none was said, the one that is drawn.
                    if *each == "color" {
                        entry.text.clone_from(&color);
                    }
                    Some(entry)
                })
                .collect()
        }),
        color,
    }
}

/// The mark of a figure that was not seen.
fn memory(wood: Wood, bit: u8) -> String {
    let is_remembered = wood.from_memory & bit != 0;
    (if is_remembered {
        words::WOOD_FROM_MEMORY.text
    } else {
        ""
    })
    .to_owned()
}

fn source(wood: &Wood) -> String {
    let named = SOURCES.iter().enumerate();
    named
        .filter(|(bit, _)| wood.sources >> bit & 1 == 1)
        .map(|(_, source)| *source)
        .collect::<Vec<_>>()
        .join("; ")
}

/// The table of all woods.
pub fn woods(unit: Unit) -> Table {
    let row = |wood: wood::Wood| {
        let cell = |figure: Option<f64>, places: usize, bit: u8| {
            let star = if wood.from_memory & bit == 0 { "" } else { "*" };
            number(figure.map_or_else(String::new, |it| format!("{}{star}", decimal(it, places))))
        };
        let [radial, tangential, volumetric] = wood.shrinkage_pct;
        let density = wood.density_kg_m3();
        Row {
            id: wood.name.to_owned(),
            color: format!("#{:06x}", wood.color),
            cells: vec![
                in_words(wood.name.to_owned()),
                cell(wood.specific_gravity, 2, 2),
                density.map_or_else(|| number(String::new()), |it| density_shown(it, unit)),
                cell(radial, 1, 1),
                cell(tangential, 1, 1),
                cell(volumetric, 1, 1),
                cell(wood.coefficient[0], 5, 0),
                cell(wood.coefficient[1], 5, 0),
                in_words(source(&wood)),
            ],
            ..Row::default()
        }
    };
    Table::new(
        &[
            words::WOOD_COLUMN_WOOD,
            words::WOOD_COLUMN_GRAVITY,
            words::WOOD_COLUMN_DENSITY,
            words::WOOD_COLUMN_RADIAL,
            words::WOOD_COLUMN_TANGENTIAL,
            words::WOOD_COLUMN_VOLUMETRIC,
            words::WOOD_COLUMN_RADIAL_CHANGE,
            words::WOOD_COLUMN_TANGENTIAL_CHANGE,
            words::WOOD_COLUMN_SOURCE,
        ],
        wood::all().map(row).collect(),
    )
}

fn airs(design: &Design, seasons: &Seasons, said: &Said) -> Vec<AirScreen> {
    let [dry, damp] = seasons.moistures.season_pct;
    let brings = [seasons.moistures.shop_pct, dry, damp];
    let airs = season::airs(&season::climate(design));
    let names = ["shop", "dry", "damp"];
    let titles = [words::SEASON_SHOP, words::SEASON_DRY, words::SEASON_DAMP];
    (0..3)
        .map(|at| AirScreen {
            of: names[at],
            label: (titles[at]).text,
            described: season::described(&airs[at]).to_owned(),
            brings: figure(words::SEASON_BRINGS, percent(brings[at], 1)),
            entries: ["temperature_c", "humidity_pct"]
                .iter()
                .filter_map(|end| said.entry(&format!("climate.{}_{end}", names[at])))
                .collect(),
        })
        .collect()
}

/// The joints that open farthest in either season.
fn first(seasons: &Seasons, unit: Unit) -> Vec<Figure> {
    [words::SEASON_OPENS_DRY, words::SEASON_OPENS_DAMP]
        .iter()
        .enumerate()
        .filter_map(|(season, word)| {
            let (ring, opening_mm) = seasons.widest(season)?;
            let place = (seasons.rings.len() > 1).then_some(ring.place);
            let note = words::joint_opens(opening_mm, place);
            Some(noted(*word, fine(opening_mm.abs(), unit), note))
        })
        .collect()
}

/// Both seasons of one thing in one line.
fn two([dry, damp]: [String; 2]) -> Shown {
    let (is_dry, is_damp) = (words::SEASON_DRY_SHORT.text, words::SEASON_DAMP_SHORT.text);
    in_words(format!("{dry} {is_dry}, {damp} {is_damp}"))
}

fn changes(seasons: &Seasons, base: Option<&BasePlan>, unit: Unit) -> Vec<Figure> {
    let disc = base.and_then(|base| base.moved.chosen);
    let lines = [
        (words::SEASON_WALL, seasons.wall_mm),
        (words::SEASON_HEIGHT, seasons.height_mm),
        (
            words::SEASON_DISC,
            disc.map(|it| it.against_ring_mm.map(|each| each[1])),
        ),
    ];
    lines
        .into_iter()
        .filter_map(|(key, change)| {
            let change = change?.map(|it| words::signed(&quantity::fine_length(it, unit)));
            Some(figure(key, two(change)))
        })
        .collect()
}

fn rings(seasons: &Seasons, unit: Unit) -> Vec<Figure> {
    let line = |ring: &RingSeason| {
        Some(Figure {
            key: format!("season.ring.{}", ring.place),
            label: words::ring_number(ring.place),
            shown: two(ring
                .opening_mm?
                .map(|it| quantity::fine_length(it.abs(), unit))),
            note: String::new(),
        })
    };
    seasons.rings.iter().filter_map(line).collect()
}

pub(super) fn base_entries(design: &Design, said: &Said) -> Vec<Entry> {
    let choice = floor::choice(design);
    let mut keys = vec!["base.kind"];
    let is_disc = matches!(choice.kind, BaseKind::Solid | BaseKind::Plies);
    if choice.kind != BaseKind::Open {
        keys.push("base.set");
        if choice.set != BaseSet::Under && design.vessel.is_some() {
            keys.push(field::key::BASE_RING);
        }
        keys.push("base.diameter_mm");
        if choice.set == BaseSet::OnLedge {
            keys.push("base.ledge_mm");
        }
        if choice.set != BaseSet::Under {
            keys.push("base.fit_mm");
        }
        if choice.kind != BaseKind::Plies {
            keys.extend(["base.thickness_mm", field::key::BASE_WOOD]);
        }
        if !is_disc {
            keys.push("base.wedge_count");
        }
    }
    let mut entries = said.entries(&keys);
    if choice.kind == BaseKind::Plies {
        // From the top down, as they lie on the bench.
        for place in (0..choice.plies.len()).rev() {
            for name in ["thickness_mm", "wood"] {
                let key = format!("base.plies.{place}.{name}");
                entries.extend(said.entry(&key).map(|entry| Entry {
                    label: words::ply(place, &entry.label),
                    ..entry
                }));
            }
        }
    }
    entries
}

/// Sets a base.
pub fn base_screen(design: &Design, plan: &BasePlan) -> BaseScreen {
    let unit = design.unit;
    BaseScreen {
        first: first_of_base(plan, unit),
        sizes: sizes(design, plan),
        movements: movements(plan, unit),
        blanks: blanks(design, plan),
    }
}

/// The verdict, and the two diameters.
pub(crate) fn first_of_base(plan: &BasePlan, unit: Unit) -> Vec<Figure> {
    let verdict = match (plan.is_safe(), plan.play_mm()) {
        (None, _) => figure(
            words::BASE_PLAY,
            in_words(words::BASE_UNKNOWN.text.to_owned()),
        ),
        (Some(true), _) => figure(
            words::BASE_SAFE,
            in_words(words::CHOICE_YES.text.to_owned()),
        ),
        (Some(false), Some(play_mm)) => noted(
            words::BASE_PLAY,
            fine(play_mm, unit),
            words::BASE_NOT_SAFE.text.to_owned(),
        ),
        (Some(false), None) => noted(
            words::BASE_SAFE,
            in_words(words::CHOICE_NO.text.to_owned()),
            words::BASE_NOT_SAFE.text.to_owned(),
        ),
    };
    let mut first = vec![verdict, figure(words::BASE_DISC, show(plan.disc_mm, unit))];
    if let Some(mortise_mm) = plan.mortise_mm {
        first.push(figure(words::BASE_MORTISE, show(mortise_mm, unit)));
    }
    first
}

/// How deep the mortise goes, and from which face.
pub(crate) fn mortise_depth(plan: &BasePlan, unit: Unit) -> Option<Figure> {
    plan.mortise_mm?;
    Some(match plan.through_mm {
        Some(_) => {
            let depth_mm = plan.thickness_mm.min(plan.around.height_mm);
            figure(words::BASE_DEPTH, show(depth_mm, unit))
        }
        None => figure(
            words::BASE_GOES,
            in_words(words::BASE_RIGHT_THROUGH.text.to_owned()),
        ),
    })
}

/// What the mortise is wider than the disc.
pub(crate) fn mortise_room(plan: &BasePlan, unit: Unit) -> Option<Figure> {
    Some(figure(words::BASE_ROOM, fine(plan.room_mm()?, unit)))
}

/// Less than this is not worth a line: 0.05 mm (our own choice, no published source).
const WORTH_A_LINE_MM: f64 = 0.05;

/// How thick a base is, and to what it is flattened where that is more.
pub(crate) fn thickness(design: &Design, plan: &BasePlan) -> Vec<Figure> {
    let said = |word: words::Word, length_mm: f64| figure(word, show(length_mm, design.unit));
    let spare_mm = plan.floor_spare_mm(design.allowance.face_mm);
    let flat_to = said(words::BASE_FLAT_TO, plan.thickness_mm + spare_mm);
    let flat_to = (spare_mm > 0.0).then_some(flat_to);
    let thick = said(words::BASE_THICKNESS, plan.thickness_mm);
    flat_to.into_iter().chain([thick]).collect()
}

fn sizes(design: &Design, plan: &BasePlan) -> Vec<Figure> {
    let unit = design.unit;
    let mut sizes = thickness(design, plan);
    let left_mm = plan.left_mm();
    if plan.thickness_mm - left_mm > WORTH_A_LINE_MM {
        sizes.push(figure(words::BASE_LEFT, show(left_mm, unit)));
    }
    sizes.extend(mortise_room(plan, unit));
    sizes.extend(mortise_depth(plan, unit));
    if let Some(through_mm) = plan.through_mm {
        sizes.push(figure(words::BASE_THROUGH, show(through_mm, unit)));
    }
    if let Some(opening_mm) = plan.moved.wedge_opening_mm {
        for (season, word) in [words::SEASON_OPENS_DRY, words::SEASON_OPENS_DAMP]
            .iter()
            .enumerate()
        {
            let note = words::joint_opens(opening_mm[season], None);
            sizes.push(noted(*word, fine(opening_mm[season].abs(), unit), note));
        }
    }
    sizes
}

fn movements(plan: &BasePlan, unit: Unit) -> Vec<Movement> {
    let way = |word: words::Word, motion: Option<Motion>, is_chosen: bool| {
        let motion = motion?;
        let is_safe = motion.is_safe(plan.disc_mm);
        let says = if is_safe {
            words::BASE_SAFE
        } else {
            words::BASE_NOT_SAFE
        };
        let line = |word: words::Word, season: usize, way: usize| {
            let length_mm = motion.against_ring_mm[season][way];
            figure(
                word,
                in_words(words::signed(&quantity::fine_length(length_mm, unit))),
            )
        };
        Some(Movement {
            label: if is_chosen {
                word.text.to_owned()
            } else {
                words::filled(words::BASE_INSTEAD, &[word.text])
            },
            says: says.text.to_owned(),
            is_chosen,
            list: vec![
                line(words::BASE_ACROSS_DRY, 0, 1),
                line(words::BASE_ACROSS_DAMP, 1, 1),
                line(words::BASE_ALONG_DRY, 0, 0),
                line(words::BASE_ALONG_DAMP, 1, 0),
            ],
        })
    };
    let kind = plan.choice.kind;
    let mut movements = Vec::new();
    if kind == BaseKind::Wedges {
        movements.extend(way(words::BASE_WEDGES, plan.moved.chosen, true));
    }
    movements.extend(way(
        words::BASE_SOLID,
        plan.moved.solid,
        kind == BaseKind::Solid,
    ));
    movements.extend(way(
        words::BASE_PLIES,
        plan.moved.laminated,
        kind == BaseKind::Plies,
    ));
    movements
}

pub(crate) fn blanks(design: &Design, plan: &BasePlan) -> Vec<Figure> {
    let unit = design.unit;
    plan.blanks
        .iter()
        .enumerate()
        .flat_map(|(place, blank)| {
            let side = show(blank.side_mm, unit).line();
            [
                Figure {
                    key: format!("base.block.{place}"),
                    label: blank.wood.clone(),
                    shown: in_words(if blank.is_block {
                        format!(
                            "{side} × {side} × {}",
                            show(blank.stock_mm, unit).whole_line()
                        )
                    } else {
                        words::squares(blank.count, &side)
                    }),
                    note: if blank.is_block {
                        words::block_cuts(blank.count)
                    } else {
                        words::BASE_FROM_STRIP.text.to_owned()
                    },
                },
                if blank.is_block {
                    Figure {
                        key: format!("base.slice.{place}"),
                        label: words::slices(blank.count),
                        shown: show(blank.sawn_mm, unit),
                        note: words::dressed_to(blank.dressed_mm, unit),
                    }
                } else {
                    Figure {
                        key: format!("base.slice.{place}"),
                        label: words::BASE_STRIP_TO.text.to_owned(),
                        shown: show(blank.stock_mm, unit),
                        note: if blank.stock_mm > blank.dressed_mm {
                            words::planed_on_to(blank.dressed_mm, unit)
                        } else {
                            String::new()
                        },
                    }
                },
            ]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::start;

    fn screen(design: &Design) -> WoodScreen {
        wood(&crate::plan::plan(design))
    }

    #[test]
    fn a_ring_alone_gets_its_wood_and_seasons_but_no_base() {
        let screen = screen(&Design::default());
        assert_eq!(screen.swatches.len(), 1);
        assert_eq!(screen.first.len(), 2);
        assert_eq!(screen.changes.len(), 2);
        assert!(screen.base.is_none() && screen.cautions.is_empty());
        // 10 in ring, 3/4 in wall, 12 segments: 0.75 · ε · sin 30° / cos 15° to first
        // order, ε from 8.49 to 6.18 % at 0.00353.
        let dry: f64 = screen.first[0].shown.text.parse().unwrap();
        assert!((0.002..0.004).contains(&dry), "{dry}");
        assert!(
            screen.first[0].note.contains("inside"),
            "{}",
            screen.first[0].note
        );
        assert!(screen.first[1].note.contains("outside"));
    }

    #[test]
    fn every_label_is_a_word_and_every_field_is_there() {
        let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        design = crate::edit::wood::add_own(&design, "Hedge elm");
        for (kind, set) in BaseKind::ALL.iter().zip([
            BaseSet::LetIn,
            BaseSet::OnLedge,
            BaseSet::Under,
            BaseSet::LetIn,
        ]) {
            let typed = |design: &Design, key: &str, word: &str| {
                crate::edit::base::type_in(design, key, word).unwrap()
            };
            let design = typed(
                &typed(&design, "base.kind", kind.word()),
                "base.set",
                set.word(),
            );
            let screen = screen(&design);
            let bases = screen
                .base
                .iter()
                .flat_map(|base| base.first.iter().chain(&base.sizes));
            for figure in screen.first.iter().chain(&screen.changes).chain(bases) {
                assert_ne!(figure.key, figure.label);
            }
            for entry in screen.base_entries.iter().chain(&screen.entries) {
                assert_ne!(entry.label, "This design", "{}", entry.key);
            }
            assert_eq!(screen.swatches.last().unwrap().entries.len(), 6);
        }
    }

    /// A laminated base of the disc's own wood takes as much as the disc, or more by its saw
    /// cuts; of another wood, the first needs that much less.
    #[test]
    fn a_base_takes_its_own_wood() {
        let volume = |design: &Design, name: &str| {
            let plan = crate::plan::plan(design);
            let taken = bill::by_wood(plan.bill(), &[]);
            let found = taken.iter().find(|it| it.name == name);
            found.map_or(0.0, |it| it.strip_mm3)
        };
        let bare = Design {
            base: None,
            ..start::begin(&Design::default(), "bowl", 254.0, 101.6)
        };
        let solid = crate::edit::base::type_in(&bare, "base.kind", "one_board").unwrap();
        let maple = "Maple, sugar";
        assert!((volume(&bare, maple) - volume(&solid, maple)).abs() < 1e-6);
        let other = crate::edit::base::type_in(&solid, "base.wood", "Elm, rock").unwrap();
        let moved = volume(&solid, maple) - volume(&other, maple);
        assert!(moved > 0.0 && (moved - volume(&other, "Elm, rock")).abs() < 1e-6);
        let plies = crate::edit::base::type_in(&solid, "base.kind", "plies").unwrap();
        assert!(volume(&plies, maple) > volume(&solid, maple) - 1e-6);
    }

    #[test]
    fn typing_a_base_keeps_what_the_stack_has() {
        let design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        let ring_mm = design.vessel.as_ref().unwrap().rings[0].height_mm;
        let changed = crate::edit::base::type_in(&design, "base.kind", "plies").unwrap();
        let base = changed.base.unwrap();
        assert!((base.plies.iter().map(|ply| ply.thickness_mm).sum::<f64>() - ring_mm).abs() < 0.1);
    }
}
