//! What boards could become, in words.

use super::boards::{left_size, part_names, take, unfit};
use super::caution;
use crate::design::{Design, Rack};
use crate::edit::making::{Bigger, Goal, NoMaking, Proposal};
use crate::plan::board::{Answer, saw};
use crate::plan::left::{Left, largest};
use crate::plan::stack::StackPlan;
use crate::units::length::{Unit, show};
use crate::units::quantity::{counted, length};

/// What a proposal is called.
pub fn title(goal: Goal) -> &'static str {
    match goal {
        Goal::Largest => super::MAKING_LARGEST.text,
        Goal::LeastLeft => super::MAKING_LEAST_LEFT.text,
        Goal::Feature => super::MAKING_FEATURE.text,
        Goal::OneWood => super::MAKING_ONE_WOOD.text,
        Goal::Bearing => super::MAKING_BEARING.text,
    }
}

/// What is said of a proposal, a line each.
pub fn says(proposal: &Proposal) -> Vec<String> {
    let design = &*proposal.plan.design;
    let (unit, answer) = (design.unit, &proposal.answer);
    let mut says = Vec::new();
    if let Some(stack) = proposal.plan.stack() {
        says.extend(size(stack, unit));
        says.push(rings(stack));
    }
    says.push(take(answer, design.rack.as_ref()));
    says.extend(left(design, answer));
    if proposal.is_bearing {
        says.extend(cautions(proposal));
    }
    if let Some((by_mm, bigger)) = &proposal.bigger {
        says.push(self::bigger(bigger, *by_mm, design));
    }
    says
}

fn size(stack: &StackPlan, unit: Unit) -> Option<String> {
    let outside = &stack.wall.as_ref()?.outside;
    let high_mm = outside.height_mm();
    let line = |length_mm: f64| show(length_mm, unit).line();
    let across_mm = 2.0 * outside.largest_radius(0.0, high_mm);
    Some(format!(
        "{} across, {} high.",
        line(across_mm),
        line(high_mm)
    ))
}

/// `6 rings: 4 of Maple, sugar; 2 of Walnut, black.`
fn rings(stack: &StackPlan) -> String {
    let vessel = &stack.vessel;
    let mut woods: Vec<(&str, usize)> = Vec::new();
    for ring in &vessel.rings {
        let name = vessel.woods.get(ring.wood_of(0)).map_or("", String::as_str);
        match woods.iter_mut().find(|it| it.0 == name) {
            Some(same) => same.1 += 1,
            None => woods.push((name, 1)),
        }
    }
    let all = counted(vessel.rings.len(), "ring", "rings");
    if let [(wood, _)] = woods.as_slice() {
        return format!("{all} of {wood}.");
    }
    let each = woods
        .iter()
        .map(|(wood, count)| format!("{count} of {wood}"));
    format!("{all}: {}.", each.collect::<Vec<_>>().join("; "))
}

/// The largest piece that is left of the boards that are taken.
fn left(design: &Design, answer: &Answer) -> Option<String> {
    let boards = &design.rack.as_ref()?.boards;
    let all = answer.layouts.iter().filter_map(|layout| {
        let board = boards.get(layout.board)?;
        largest(board, layout, answer, &saw(design)).map(|left| (layout.board, left))
    });
    let area = |left: &Left| left.width_mm * left.length_mm;
    let (board, most) = all.max_by(|a, b| area(&a.1).total_cmp(&area(&b.1)))?;
    let size = left_size(most, design.unit);
    Some(format!(
        "Left over, the largest piece: {size}, of board {}.",
        board + 1
    ))
}

/// What it asks to look out for, no kind twice.
fn cautions(proposal: &Proposal) -> Vec<String> {
    let unit = proposal.plan.design.unit;
    let base = proposal.plan.base();
    let of_base = base.iter().flat_map(|it| &it.cautions);
    let placed = proposal.plan.placed_cautions().iter().map(|it| &it.caution);
    let mut said: Vec<String> = Vec::new();
    for found in of_base.chain(placed) {
        let reason = caution(found, unit).reason;
        if !said.contains(&reason) {
            said.push(reason);
        }
    }
    said.truncate(MOST_CAUTIONS);
    said
}

/// So many are told with a proposal; all of them stand with the piece.
const MOST_CAUTIONS: usize = 2;

fn bigger(bigger: &Bigger, by_mm: f64, design: &Design) -> String {
    let by = format!("Bigger by {}", length(by_mm, design.unit));
    match bigger {
        Bigger::Swing => format!("{by} is more than your lathe swings."),
        Bigger::Boards(places) => format!("{by} needs {}.", more(places, design.rack.as_ref())),
        Bigger::Other(answer) => match lacks(answer, design.unit) {
            Some((reason, _)) => format!("{by} cannot be had of these boards. {reason}"),
            None => format!("{by} cannot be had of these boards."),
        },
    }
}

/// `one more board of Maple, sugar like board 1`.
fn more(places: &[usize], rack: Option<&Rack>) -> String {
    let mut boards: Vec<(usize, usize)> = Vec::new();
    for place in places {
        match boards.iter_mut().find(|it| it.0 == *place) {
            Some(same) => same.1 += 1,
            None => boards.push((*place, 1)),
        }
    }
    let each = boards.iter().map(|(place, count)| {
        let wood = rack.and_then(|rack| Some(rack.boards.get(*place)?.wood.trim()));
        let boards = match count {
            1 => "one more board".to_owned(),
            _ => format!("{count} more boards"),
        };
        format!(
            "{boards} of {} like board {}",
            wood.unwrap_or_default(),
            place + 1
        )
    });
    each.collect::<Vec<_>>().join(" and ")
}

/// What the first part that is not given lacks, and what helps.
fn lacks(answer: &Answer, unit: Unit) -> Option<(String, String)> {
    let failure = answer.failures.first()?;
    let names = part_names(&answer.needs.get(failure.need)?.parts, true);
    Some(unfit(&failure.why, &names, unit))
}

/// Why nothing can be made, and the nearest thing that can.
pub fn why_not(why: &NoMaking, design: &Design) -> String {
    let unit = design.unit;
    match why {
        NoMaking::NoBoards => super::MAKING_NO_BOARDS.text.to_owned(),
        NoMaking::NoPiece => super::MAKING_NO_PIECE.text.to_owned(),
        NoMaking::Glued => super::MAKING_GLUED.text.to_owned(),
        NoMaking::TooThin {
            thickest_mm,
            least_rough_mm,
        } => format!(
            "These boards are too thin for a ring: surfaced, the thickest leaves {}. Enter one of {} rough at least.",
            length(*thickest_mm, unit),
            length(*least_rough_mm, unit)
        ),
        NoMaking::NoSize { lacking, nearest } => {
            let mut says = "The boards give this shape in no size.".to_owned();
            if let Some(answer) = lacking {
                if let Some((reason, remedy)) = lacks(answer, unit) {
                    says = format!("{says} {reason} {remedy}");
                } else if answer.extra_count > 0 {
                    let places = answer.layouts.iter().filter(|it| it.is_extra);
                    let places: Vec<usize> = places
                        .flat_map(|it| std::iter::repeat_n(it.board, it.times as usize))
                        .collect();
                    let more = more(&places, design.rack.as_ref());
                    says = format!("{says} The smallest needs {more}.");
                }
            }
            match nearest {
                Some((shape, across_mm)) => format!(
                    "{says} What they do give: {}, {} across.",
                    super::by_key(&format!("start.{shape}")),
                    show(*across_mm, unit).line()
                ),
                None => says,
            }
        }
    }
}
