//! What the bench says of a half that does not run true any more.

use super::{Entry, Figure, MayRunOut, Message, Shop, StepShown, entry};
use crate::design::field;
use crate::plan::Plan;
use crate::plan::order::{End, Half, Order, Step, Work};
use crate::plan::out_of_true::{HalfLeft, RingLeft, half_left, half_of, open_ring};
use crate::plan::stack::StackPlan;
use crate::show::figures::table::{Row, Table};
use crate::show::figures::{figure, noted};
use crate::show::words::{self, Word};
use crate::trade::closing::HAIR_MM;
use crate::trade::room::{Side, Tightest};
use crate::units::length::{Unit, at_least, at_most};
use crate::units::quantity::{fine, fine_at_least, fine_at_most, in_words, number};
use serde::Serialize;
use std::ops::Range;

/// A half out of true, and the readings of one of its rings.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct TrueScreen {
    /// What it is about.
    pub title: String,
    /// Which ring the fields are of, in words.
    pub at: String,
    /// The ring below it in its half; nothing at its end.
    pub lower: Option<usize>,
    /// The ring above it in its half.
    pub higher: Option<usize>,
    /// The fields of this ring.
    pub entries: Vec<Entry>,
    /// What stands in for those that are empty, one a field; empty where nothing does.
    pub planned: Vec<String>,
    /// Whether the wall is still in it, in a sentence or two.
    pub says: String,
    /// What to do where it is not; else empty.
    pub remedy: String,
    /// Which rings were measured, and what more would tell.
    pub notes: Vec<String>,
    /// What it costs.
    pub list: Vec<Figure>,
    /// What is left, ring by ring.
    pub rings: Table,
    /// What cannot be.
    pub messages: Vec<Message>,
    /// What taking what is left is called; empty where there is nothing to take.
    pub go_on: String,
}

/// Sets what is said of the half of a ring and of that ring's readings; nothing where it is not
/// there any more.
pub fn out_of_true(plan: &Plan, ring: usize) -> Option<TrueScreen> {
    let (stack, order) = (plan.stack()?, plan.order()?);
    let found = half_left(plan, ring)?;
    let half = half_of(order, ring)?;
    let unit = stack.design.unit;
    let within = |place: Option<usize>| place.filter(|it| half.rings.contains(it));
    let entries = entries(stack, &found, ring);
    let word = if ring == found.open {
        words::TRUE_AT_OPEN
    } else {
        words::TRUE_AT
    };
    let is_counted = !found.left.is_empty();
    let has_verdict = found.finished.is_some_and(|it| it.left_mm < 0.0);
    Some(TrueScreen {
        title: words::filled(words::TRUE_TITLE, &[&named(&found.rings)]),
        at: words::filled(word, &[&(ring + 1).to_string()]),
        lower: within(ring.checked_sub(1)),
        higher: within(Some(ring + 1)),
        planned: planned(&entries),
        entries,
        says: says(stack, &found),
        remedy: if has_verdict {
            words::TRUE_MISSING_REMEDY.text.to_owned()
        } else {
            String::new()
        },
        notes: notes(stack, &found),
        list: if is_counted {
            list(&found, unit)
        } else {
            Vec::new()
        },
        rings: table(&found, unit),
        messages: found
            .troubles
            .iter()
            .map(|it| words::trouble(it, unit))
            .collect(),
        go_on: if is_counted {
            words::TRUE_GO_ON.text.to_owned()
        } else {
            String::new()
        },
    })
}

/// What the log is told where a half is gone on with; empty where nothing is left to tell.
pub fn logged(plan: &Plan, ring: usize) -> String {
    let found = half_left(plan, ring).filter(|it| !it.left.is_empty());
    let (Some(found), Some(stack)) = (found, plan.stack()) else {
        return String::new();
    };
    let [outside, inside, face] = off(&found, stack.design.unit);
    words::filled(
        words::TRUE_LOGGED,
        &[&named(&found.rings), &outside, &inside, &face],
    )
}

/// "Ring 3", "Rings 1 to 5".
fn named(rings: &Range<usize>) -> String {
    let first = (rings.start + 1).to_string();
    if rings.len() < 2 {
        return words::rings_named(&first, 1);
    }
    words::rings_named(&format!("{first} to {}", rings.end), rings.len())
}

const FIELDS: [&str; 7] = [
    "narrowest_mm",
    "widest_mm",
    "runs_out_mm",
    "hole_widest_mm",
    "hole_runs_out_mm",
    "face_runs_out_mm",
    "is_hollowed",
];

/// The fields of a ring: its face only where that is the half's open one.
fn entries(stack: &StackPlan, found: &HalfLeft, ring: usize) -> Vec<Entry> {
    let design = &*stack.design;
    let whole = crate::design::read::to_value(design);
    let names = FIELDS.iter();
    let names = names.filter(|name| {
        let is_of_half = ["face_runs_out_mm", "is_hollowed"].contains(*name);
        !is_of_half || ring == found.open
    });
    names
        .filter_map(|name| {
            let key = format!("vessel.rings.{ring}.out_of_true.{name}");
            Some(entry(design, &whole, field::find(&key)?, &key))
        })
        .collect()
}

/// An inside that was not read runs out as the outside does.
fn planned(entries: &[Entry]) -> Vec<String> {
    let text = |name: &str| {
        let own = entries.iter().find(|it| it.key.ends_with(name));
        own.map_or_else(String::new, |it| it.text.clone())
    };
    let stands_in = |it: &Entry| {
        if it.key.ends_with(".hole_runs_out_mm") {
            text(".runs_out_mm")
        } else {
            String::new()
        }
    };
    entries.iter().map(stands_in).collect()
}

/// Where it is tightest: side, ring and height.
fn at(stack: &StackPlan, tightest: &Tightest) -> String {
    let mut top_mm = 0.0;
    let rings = &stack.vessel.rings;
    let ring = rings.iter().position(|ring| {
        top_mm += ring.height_now_mm();
        tightest.height_mm <= top_mm
    });
    let ring = ring.unwrap_or(rings.len().saturating_sub(1)) + 1;
    let side = match tightest.side {
        Side::Outside => "outside",
        Side::Inside => "inside",
    };
    format!("{side}, in ring {ring}")
}

/// Never more than is left, never less than is missing.
fn room(left_mm: f64, unit: Unit) -> String {
    if left_mm < 0.0 {
        fine_at_least(-left_mm, unit).line()
    } else {
        fine_at_most(left_mm, unit).line()
    }
}

/// Whether the wall is still in it.
fn says(stack: &StackPlan, found: &HalfLeft) -> String {
    let unit = stack.design.unit;
    if !found.troubles.is_empty() {
        let places = found.troubles.iter().filter_map(|it| {
            let own = it.field.strip_prefix("vessel.rings.")?;
            own.split('.').next()?.parse::<usize>().ok()
        });
        let mut places: Vec<usize> = places.collect();
        places.dedup();
        let numbers = crate::plan::bill::ring_numbers(&places);
        let rings = words::rings_named(&numbers, places.len());
        return words::filled(words::TRUE_MARKED, &[&rings]);
    }
    if found.left.is_empty() {
        return words::TRUE_NOTHING.text.to_owned();
    }
    let Some(finished) = found.finished else {
        return words::TRUE_NO_CURVE.text.to_owned();
    };
    let told =
        |word: Word, it: &Tightest| words::filled(word, &[&room(it.left_mm, unit), &at(stack, it)]);
    let was_mm = found.unmoved.map_or(finished.left_mm, |it| it.left_mm);
    if finished.left_mm < 0.0 {
        let missing = told(words::TRUE_MISSING, &finished);
        if was_mm > -HAIR_MM {
            return missing;
        }
        let was = words::filled(words::TRUE_WAS_MISSING, &[&room(was_mm, unit)]);
        return format!("{missing} {was}");
    }
    if let Some(all) = found.with_allowance.filter(|it| it.left_mm >= 0.0) {
        return told(words::TRUE_HOLDS_ALL, &all);
    }
    let at = at(stack, &finished);
    if finished.left_mm < HAIR_MM {
        return words::filled(words::TRUE_JUST, &[&at]);
    }
    let left = room(finished.left_mm, unit);
    words::filled(
        words::TRUE_HOLDS,
        &[&left, &at, &room(was_mm.max(0.0), unit)],
    )
}

/// Which rings were measured, and what more would tell.
fn notes(stack: &StackPlan, found: &HalfLeft) -> Vec<String> {
    let read: Vec<usize> = found
        .left
        .iter()
        .filter(|it| it.is_read)
        .map(|it| it.place)
        .collect();
    if read.is_empty() {
        return Vec::new();
    }
    let numbers = crate::plan::bill::ring_numbers(&read);
    let rings = words::rings_within(&numbers, read.len());
    let is_bare = |place: &usize| {
        let ring = stack.vessel.rings.get(*place);
        let own = ring.and_then(|it| it.out_of_true.as_ref());
        own.is_some_and(|it| it.runs_out_mm.is_some() && it.narrowest_mm.is_none())
    };
    let more = read
        .iter()
        .any(is_bare)
        .then(|| words::TRUE_WIDTHS.text.to_owned());
    let inside = if found.is_hollowed {
        words::TRUE_AS_TURNED
    } else {
        words::TRUE_AS_GLUED
    };
    [
        words::filled(words::TRUE_READ, &[&rings]),
        inside.text.to_owned(),
    ]
    .into_iter()
    .chain(more)
    .collect()
}

/// The ring where most of something is found, and how much.
fn most(left: &[RingLeft], of: fn(&RingLeft) -> f64) -> Option<(usize, f64)> {
    let all = left.iter().map(|it| (it.place, of(it)));
    all.max_by(|one, other| one.1.total_cmp(&other.1))
}

fn in_ring(place: usize) -> String {
    words::rings_within(&(place + 1).to_string(), 1)
}

fn list(found: &HalfLeft, unit: Unit) -> Vec<Figure> {
    let off = |word: Word, of: fn(&RingLeft) -> f64| {
        let (place, off_mm) = most(&found.left, of)?;
        Some(noted(word, fine_at_least(off_mm, unit), in_ring(place)))
    };
    let mut list: Vec<Figure> = [
        off(words::TRUE_OFF_OUTSIDE, |it| it.outside_cut_mm),
        off(words::TRUE_OFF_INSIDE, |it| it.inside_cut_mm),
    ]
    .into_iter()
    .flatten()
    .collect();
    if found.face_mm > 0.0 {
        let shown = fine(found.face_mm, unit);
        list.push(noted(words::TRUE_OFF_FACE, shown, in_ring(found.open)));
    }
    if let Some((place, wall_mm)) = most(&found.left, |it| -it.wall_mm()) {
        let wall = at_most(-wall_mm, unit.finest());
        list.push(noted(words::TRUE_WALL, wall, in_ring(place)));
    }
    list
}

fn table(found: &HalfLeft, unit: Unit) -> Table {
    let row = |it: &RingLeft| {
        let outside_mm = it.now[0].outside_mm.min(it.now[1].outside_mm);
        let hole_mm = it.now[0].hole_mm.max(it.now[1].hole_mm);
        Row {
            id: it.place.to_string(),
            is_current: it.is_read,
            cells: vec![
                number((it.place + 1).to_string()),
                at_most(2.0 * outside_mm, unit),
                if hole_mm > 0.0 {
                    at_least(2.0 * hole_mm, unit)
                } else {
                    number("–".to_owned())
                },
                at_most(it.wall_mm(), unit),
            ],
            ..Row::default()
        }
    };
    let heads = [
        words::TRUE_RING,
        words::TRUE_OUTSIDE,
        words::TRUE_INSIDE,
        words::BENCH_WALL,
    ];
    // From the top down, as they stand.
    Table::new(&heads, found.left.iter().rev().map(row).collect())
}

/// What comes off outside, inside and the open face, at most.
fn off(found: &HalfLeft, unit: Unit) -> [String; 3] {
    let most_mm = |of: fn(&RingLeft) -> f64| most(&found.left, of).map_or(0.0, |it| it.1);
    [
        most_mm(|it| it.outside_cut_mm),
        most_mm(|it| it.inside_cut_mm),
        found.face_mm,
    ]
    .map(|length_mm| fine_at_least(length_mm, unit).line())
}

impl Shop<'_> {
    /// Where a half is turned again: what may be out of true, and what was read of it.
    pub(super) fn tell_of_true(&self, step: &Step, order: &Order, shown: &mut StepShown) {
        let halves = order.halves.iter();
        let halves: Vec<&Half> = match &step.work {
            Work::Inside(stage) => halves
                .filter(|half| half.rings.contains(&stage.rings.start))
                .collect(),
            Work::TrueHalves | Work::Outside => halves.collect(),
            _ => return,
        };
        for half in halves {
            let open = match (&step.work, half.on) {
                // So far it is no higher.
                (Work::Inside(stage), End::Foot) => stage.rings.end.saturating_sub(1),
                (Work::Inside(stage), End::Rim) => stage.rings.start,
                _ => open_ring(half),
            };
            let word = if half.rings.len() < 2 {
                words::TRUE_OPEN
            } else {
                words::TRUE_OPEN_ALL
            };
            shown.may_run_out.push(MayRunOut {
                ring: open,
                label: words::filled(word, &[&named(&half.rings)]),
            });
            self.tell_of_half(open, shown);
        }
    }

    /// The figures of a half of which something was read.
    fn tell_of_half(&self, ring: usize, shown: &mut StepShown) {
        let Some(found) = half_left(self.whole, ring).filter(|it| !it.left.is_empty()) else {
            return;
        };
        let off = off(&found, self.unit).join(", ");
        shown.list.push(Figure {
            label: words::filled(words::TRUE_ROW_OFF, &[&named(&found.rings)]),
            ..figure(words::TRUE_ROW_OFF, in_words(off))
        });
        let Some(finished) = found.finished else {
            return;
        };
        if finished.left_mm < 0.0 {
            shown.cautions.push(Message {
                field: String::new(),
                reason: says(self.plan, &found),
                remedy: words::TRUE_MISSING_REMEDY.text.to_owned(),
            });
            return;
        }
        let spare = fine_at_most(finished.left_mm, self.unit);
        let at = at(self.plan, &finished);
        shown.list.push(noted(words::TRUE_SPARE, spare, at));
    }
}
