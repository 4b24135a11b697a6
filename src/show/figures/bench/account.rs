//! What a piece came to: the days at it, and the wood in it, by the log.

use super::calendar::Calendar;
use super::extra::WORK;
use crate::design::Design;
use crate::design::log::Log;
use crate::plan::board;
use crate::plan::ring::{price, price_volume_mm3};
use crate::plan::{self, Plan};
use crate::show::words;
use crate::trade::wood;
use crate::units::quantity::{counted, hours_and_minutes, money, wood_volume};
use std::collections::BTreeSet;

/// What the piece came to, a sentence a line; nothing before something is ticked.
pub(super) fn told(whole: &Plan, log: &Log, calendar: &Calendar) -> Vec<String> {
    let done = log.entries.iter().filter_map(|entry| entry.done_ms);
    let done: Vec<f64> = done.collect();
    let first_ms = done.iter().copied().reduce(f64::min);
    let last_ms = done.iter().copied().reduce(f64::max);
    let Some((first_ms, last_ms)) = first_ms.zip(last_ms) else {
        return Vec::new();
    };
    let days: BTreeSet<i64> = done.iter().map(|ms| calendar.day_number(*ms)).collect();
    let worked = counted(days.len(), "day", "days");
    let [from, to] = [first_ms, last_ms].map(|ms| calendar.dated(ms));
    let mut told = vec![words::filled(
        words::ACCOUNT_DAYS,
        &[&worked, &from, &to, &lasted(last_ms - first_ms)],
    )];
    match as_begun(&whole.design, log) {
        Some(begun) => told.extend(of_wood(&plan::plan(&begun))),
        None => told.extend(of_wood(whole)),
    }
    told
}

/// How long something lasted, to the minute.
fn lasted(ms: f64) -> String {
    const DAY_MIN: f64 = 24.0 * 60.0;
    let minutes = (ms / 60_000.0).round();
    let days = (minutes / DAY_MIN).floor();
    let rest = hours_and_minutes((minutes - days * DAY_MIN) as u32);
    match days as usize {
        0 => rest,
        days => format!("{} {rest}", counted(days, "day", "days")),
    }
}

/// The design with those rings to be made that the log has glued up: once a ring is measured,
/// its wood is on no bill any more. Nothing where there is none.
fn as_begun(design: &Design, log: &Log) -> Option<Design> {
    let is_made = |place: usize| {
        let id = format!("glue-{}", place + 1);
        let mut entries = log.entries.iter();
        entries.any(|it| it.id == id && it.done_ms.is_some())
    };
    let mut begun = design.clone();
    let rings = begun.vessel.as_mut()?.rings.iter_mut().enumerate();
    let made = rings.filter(|(place, ring)| ring.is_glued() && is_made(*place));
    let count = made.map(|(_, ring)| ring.measured = None).count();
    (count > 0).then_some(begun)
}

/// The wood bought and used, and what it cost.
fn of_wood(begun: &Plan) -> Vec<String> {
    let design = &*begun.design;
    let unit = design.unit;
    let estimates = board::estimate(design, begun.bill());
    let volume = |mm3: f64| wood_volume(mm3, unit).line();
    let money = |cost: f64| money(cost, &design.shop.currency).line();
    if let Some(answer) = begun.boards(WORK).filter(|it| it.board_count > 0) {
        let used_mm3 = estimates.iter().map(|it| it.strips_mm3).sum();
        let boards = counted(answer.board_count as usize, "board", "boards");
        let [bought, used] = [answer.volume_mm3, used_mm3].map(volume);
        let told = words::filled(words::ACCOUNT_BOARDS, &[&boards, &bought, &used]);
        let cost =
            (answer.cost > 0.0).then(|| words::filled(words::ACCOUNT_COST, &[&money(answer.cost)]));
        return [Some(told), cost].into_iter().flatten().collect();
    }
    let mut woods: Vec<(String, f64, f64)> = Vec::new();
    for it in estimates {
        match woods.iter_mut().find(|own| wood::is_same(&own.0, &it.wood)) {
            Some(own) => (own.1, own.2) = (own.1 + it.bought_mm3, own.2 + it.strips_mm3),
            None => woods.push((it.wood, it.bought_mm3, it.strips_mm3)),
        }
    }
    let costs = woods.iter().filter_map(|(name, bought_mm3, _)| {
        Some(price(design, name)? * bought_mm3 / price_volume_mm3(design.shop.price_per))
    });
    let costs: Vec<f64> = costs.collect();
    let wood = |(name, bought_mm3, used_mm3): &(String, f64, f64)| {
        let name = if name.is_empty() {
            words::ACCOUNT_ANY_WOOD.text
        } else {
            name
        };
        let [bought, used] = [*bought_mm3, *used_mm3].map(volume);
        words::filled(words::ACCOUNT_WOOD, &[name, &bought, &used])
    };
    let mut told: Vec<String> = woods.iter().map(wood).collect();
    if !costs.is_empty() {
        told.push(words::filled(
            words::ACCOUNT_COST,
            &[&money(costs.iter().sum())],
        ));
    }
    if costs.len() < woods.len() && !costs.is_empty() {
        told.push(words::ACCOUNT_NO_PRICE.text.to_owned());
    }
    told
}
