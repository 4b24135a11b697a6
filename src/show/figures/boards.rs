//! What stands on the screen about boards: the fields to enter them, the quick estimate
//! without any, and the answer as it stands.

use super::{Entry, Figure, entry};
use crate::design::field::{FIELDS, expand, find, key};
use crate::design::{Board, BoardGoal, Design, MadeOf};
use crate::plan::Plan;
use crate::plan::bill::Part;
use crate::plan::board::{self, Answer, First};
use crate::plan::left;
use crate::show::words::{self, Message, boards as said};
use crate::units::length::{Shown, decimal};
use crate::units::quantity;
use serde::Serialize;

/// The fields and the estimate.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BoardsScreen {
    /// The goal and the most that is planed away; empty without boards.
    pub rack: Vec<Entry>,
    /// Every board.
    pub boards: Vec<BoardRow>,
    /// The waste of the quick estimate.
    pub waste: Vec<Entry>,
    /// What to look for when no boards are entered.
    pub estimate: Vec<Figure>,
    /// Which rings are to come from one board.
    pub matched: Vec<Entry>,
    /// What is strange about spots to avoid, each at its field.
    pub messages: Vec<Message>,
}

/// A board in the list.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BoardRow {
    /// The board in a line.
    pub title: String,
    /// What is left of its thickness.
    pub note: String,
    /// Its fields.
    pub entries: Vec<Entry>,
    /// The fields of each spot to avoid.
    pub avoid: Vec<Vec<Entry>>,
}

/// The answer as it stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BoardsAnswer {
    /// The number that the hand needs: boards to take.
    pub count: String,
    /// Which boards to take, and what to buy.
    pub take: String,
    /// How near to the best that is.
    pub bound: String,
    /// Cost, yield and wood.
    pub figures: Vec<Figure>,
    /// Rings that cannot be cut, and why.
    pub failures: Vec<Message>,
    /// A note under each board of the list.
    pub notes: Vec<String>,
    /// How each board is cut.
    pub layouts: Vec<LayoutRow>,
}

/// How a board is cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct LayoutRow {
    /// Which board.
    pub title: String,
    /// Its strips, a line each; strips alike told once.
    pub strips: Vec<String>,
    /// Its drawing.
    pub svg: String,
}

/// The fields and the estimate.
pub fn boards(plan: &Plan) -> BoardsScreen {
    let design = &*plan.design;
    let whole = crate::design::read::to_value(design);
    let field = |key: &str| find(key).map(|field| entry(design, &whole, field, key));
    let fields = |prefix: &str| -> Vec<Entry> {
        FIELDS
            .iter()
            .filter(|field| field.key.starts_with("rack.boards.*"))
            .flat_map(|field| {
                expand(field.key, &whole)
                    .into_iter()
                    .map(move |key| (field, key))
            })
            .filter(|(_, key)| {
                key.strip_prefix(prefix)
                    .is_some_and(|rest| !rest.contains('.'))
            })
            .map(|(field, key)| entry(design, &whole, field, &key))
            .collect()
    };
    let list = design
        .rack
        .iter()
        .flat_map(|rack| rack.boards.iter().enumerate());
    let boards: Vec<BoardRow> = list
        .map(|(place, board)| BoardRow {
            title: said::board_line(place, board, design.unit),
            note: said::board_note(board, 0, design.unit),
            entries: fields(&format!("rack.boards.{place}.")),
            avoid: (0..board.avoid.len())
                .map(|each| fields(&format!("rack.boards.{place}.avoid.{each}.")))
                .collect(),
        })
        .collect();
    let is_empty = boards.is_empty();
    let spots = design.rack.iter().flat_map(|rack| &rack.boards).enumerate();
    let messages = spots.flat_map(|(place, board)| said::strange_spots(place, board, design.unit));
    BoardsScreen {
        messages: messages.collect(),
        rack: if is_empty {
            Vec::new()
        } else {
            ["rack.goal", key::PLANE_AT_MOST, key::EDGE_GLUED]
                .into_iter()
                .filter_map(field)
                .collect()
        },
        boards,
        waste: if is_empty {
            field(key::WASTE).into_iter().collect()
        } else {
            Vec::new()
        },
        estimate: if is_empty {
            estimate(plan).into_iter().chain(veneers(plan)).collect()
        } else {
            veneers(plan)
        },
        matched: if is_empty {
            Vec::new()
        } else {
            matched(design, &field)
        },
    }
}

/// The veneer to buy, of each wood and thickness.
pub(crate) fn veneers(plan: &Plan) -> Vec<Figure> {
    let unit = plan.design.unit;
    let all = board::veneers(&plan.design, plan.bill()).into_iter();
    let each = all.map(|it| Figure {
        key: words::VENEER_TO_BUY.key.to_owned(),
        label: said::veneer_label(&it, unit),
        shown: quantity::area(it.bought_mm2, unit),
        note: String::new(),
    });
    each.collect()
}

pub(crate) fn estimate(plan: &Plan) -> Vec<Figure> {
    let design = &*plan.design;
    let all = board::estimate(design, plan.bill());
    let bought = all.iter().map(|each| each.bought_mm3);
    let both: Vec<f64> = bought.chain(all.iter().map(|it| it.strips_mm3)).collect();
    // In one measure, to be compared.
    let mut volumes = quantity::wood_volumes(&both, design.unit);
    let strips = volumes.split_off(all.len());
    let volumes = volumes.into_iter().zip(strips);
    let each = all
        .into_iter()
        .zip(volumes)
        .map(|(each, (shown, strips))| Figure {
            key: words::BOARDS_ESTIMATE.key.to_owned(),
            label: said::estimate_label(&each, design.unit),
            shown,
            note: if each.quarters.is_some() {
                said::estimate_sum(&strips.line(), design.shop.waste_percent.min(90))
            } else {
                words::BOARDS_TOO_THICK.text.to_owned()
            },
        });
    each.collect()
}

/// A field for each ring of several pieces, named by it.
fn matched(design: &Design, field: &dyn Fn(&str) -> Option<Entry>) -> Vec<Entry> {
    let Some(vessel) = &design.vessel else {
        return field("ring.is_matched").into_iter().collect();
    };
    let rings = vessel.rings.iter().enumerate();
    rings
        .filter(|(_, ring)| ring.made_of == MadeOf::Segments)
        .filter_map(|(place, _)| {
            let entry = field(&format!("vessel.rings.{place}.is_matched"))?;
            let label = said::part_names(&[(Part::Ring(place), 1)], true);
            Some(Entry { label, ..entry })
        })
        .collect()
}

/// Pieces that no board entered is right for, and why.
pub(super) fn failures(design: &Design, answer: &Answer) -> Vec<Message> {
    let is_stack = design.vessel.is_some();
    let failures = answer.failures.iter();
    let told = failures.map(|failure| {
        let names = said::part_names(&answer.needs[failure.need].parts, is_stack);
        let (reason, remedy) = said::unfit(&failure.why, &names, design.unit);
        let field = key::BOARDS.to_owned();
        Message {
            field,
            reason,
            remedy,
        }
    });
    let mut told: Vec<Message> = told.collect();
    // The plies of a base lack the same.
    told.dedup();
    told
}

/// The answer in words and figures; `draw` draws a layout.
pub fn answer(
    design: &Design,
    answer: &Answer,
    draw: impl Fn(usize, &board::Layout) -> String,
) -> BoardsAnswer {
    let unit = design.unit;
    let rack = design.rack.as_ref();
    let goal = rack.map_or(BoardGoal::Fewest, |rack| rack.goal);
    let taken = |place: usize| -> u32 {
        let those = answer
            .layouts
            .iter()
            .filter(|it| it.board == place && !it.is_extra);
        those.map(|layout| layout.times).sum()
    };
    let boards = rack.map_or(&[][..], |rack| &rack.boards);
    BoardsAnswer {
        count: answer.board_count.to_string(),
        take: said::take(answer, rack),
        bound: if answer.layouts.is_empty() {
            String::new()
        } else {
            said::bound(answer, goal, unit)
        },
        figures: figures(design, answer, goal),
        failures: failures(design, answer),
        notes: boards
            .iter()
            .enumerate()
            .map(|(place, board)| said::board_note(board, taken(place), unit))
            .collect(),
        layouts: answer
            .layouts
            .iter()
            .take(MOST_LAYOUTS)
            .enumerate()
            .map(|(place, layout)| LayoutRow {
                title: match layout.times {
                    1 => format!(
                        "{}{}",
                        said::layout_title(layout),
                        said::which(answer, place)
                    ),
                    _ => said::layout_title(layout),
                },
                strips: boards
                    .get(layout.board)
                    .map_or_else(Vec::new, |it| strip_lines((answer, layout), it, design))
                    .into_iter()
                    .chain(left_line(design, answer, layout))
                    .collect(),
                svg: draw(place, layout),
            })
            .collect(),
    }
}

/// The largest piece that is left of a board.
fn left_line(design: &Design, answer: &Answer, layout: &board::Layout) -> Option<String> {
    let board = design.rack.as_ref()?.boards.get(layout.board)?;
    let left = left::largest(board, layout, answer, &board::saw(design))?;
    Some(said::left(left, design.unit))
}

/// More drawings than this are of no use to anybody.
const MOST_LAYOUTS: usize = 60;

/// The strips of a layout in words, those alike told once; of two lengths, or bands, under what is
/// to be done with each.
pub fn strip_lines(
    (answer, layout): (&Answer, &board::Layout),
    board: &Board,
    design: &Design,
) -> Vec<String> {
    let (unit, is_stack) = (design.unit, design.vessel.is_some());
    let mut told = Vec::new();
    for (place, ripped) in layout.lengths.iter().enumerate() {
        match layout.first() {
            First::Nothing => {}
            First::Across(_) => {
                let is_short = ripped.length.is_short(board);
                told.push(said::length_line(place, &ripped.length, is_short, unit));
            }
            First::Along => told.push(said::band_line(place, &layout.lengths, board, unit)),
        }
        let mut lines: Vec<(String, u32)> = Vec::new();
        for strip in &ripped.strips {
            let line = said::strip_line(strip, &answer.needs[strip.need], is_stack, unit);
            match lines.last_mut() {
                Some((last, times)) if *last == line => *times += 1,
                _ => lines.push((line, 1)),
            }
        }
        told.extend(lines.into_iter().map(|(line, times)| {
            if times > 1 {
                format!("{times} × {line}")
            } else {
                line
            }
        }));
    }
    told
}

fn figures(design: &Design, answer: &Answer, goal: BoardGoal) -> Vec<Figure> {
    let (unit, currency) = (design.unit, &design.shop.currency);
    if answer.layouts.is_empty() {
        return Vec::new();
    }
    let percent = decimal(answer.used_share * 100.0, 0);
    let mut figures = vec![
        super::figure(
            words::BOARDS_YIELD,
            Shown::decimal(percent, "%", " percent"),
        ),
        super::figure(
            words::BOARDS_WOOD,
            quantity::wood_volume(answer.volume_mm3, unit),
        ),
    ];
    if answer.cost > 0.0 || goal == BoardGoal::Cheapest {
        figures.push(super::noted(
            words::BOARDS_COST,
            quantity::money(answer.cost, currency),
            if answer.unpriced_count > 0 {
                said::unpriced(answer.unpriced_count)
            } else {
                String::new()
            },
        ));
    }
    figures
}
