//! Evenings at the bench: the planner against every order of a few tasks, and the evenings of
//! thousands of pieces followed step by step.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use shared::cases;

use proptest::prelude::*;
use ringwright::design::Design;
use ringwright::design::log::{Clock, Drying};
use ringwright::edit::log::{self, Done};
use ringwright::edit::start;
use ringwright::plan::clock::moments;
use ringwright::plan::order::{Needs, Order, Step, Work};
use ringwright::plan::session::{Evening, SoFar, evenings, hands_min};
use ringwright::plan::{Plan, plan};
use ringwright::show::figures::bench::calendar::Calendar;
use ringwright::show::figures::bench::evening;
use ringwright::solve::session::{Need, Placed, Sessions, Task, end_min, planned};
use ringwright::trade::glue::times;
use std::cell::Cell;

fn any_tasks(most: usize) -> impl Strategy<Value = (Vec<Task>, Sessions)> {
    let need = (
        0_usize..most,
        prop_oneof![Just(0_u32), 1_u32..90, 100_u32..400],
    );
    // Some are longer than a session, and than from one to the next.
    let hands_min = prop_oneof![9 => 1_u32..70, 1 => 150_u32..700];
    let task = (
        hands_min,
        prop::collection::vec(need, 0..3),
        prop_oneof![4 => Just(0_u32), 1 => 1_u32..300],
        any::<bool>(),
        prop_oneof![1 => Just(0_u32), 1 => 1_u32..250],
    );
    let sessions = (20_u32..150, prop_oneof![Just(0_u32), 1_u32..90]);
    (prop::collection::vec(task, 1..=most), sessions).prop_map(|(tasks, (length_min, kept_min))| {
        let made = tasks.into_iter().enumerate();
        let tasks = made.map(
            |(at, (hands_min, needs, ready_min, on_machine, keeps_min))| {
                let needs = needs.into_iter().filter(|_| at > 0);
                let needs = needs.map(|(task, wait_min)| Need {
                    task: task % at.max(1),
                    wait_min,
                });
                Task {
                    hands_min,
                    needs: needs.collect(),
                    ready_min,
                    on_machine,
                    keeps_min: if on_machine { keeps_min } else { 0 },
                }
            },
        );
        let sessions = Sessions {
            length_min,
            every_min: 300,
            kept_min,
        };
        (tasks.collect(), sessions)
    })
}

/// Minute by minute: the first one at which a task may begin, told from what is done so far.
fn first_minute(at: usize, done: &[Placed], tasks: &[Task], sessions: &Sessions) -> u32 {
    let task = &tasks[at];
    let is_long = |task: &Task| task.hands_min > sessions.length_min;
    let hands_free = done.last().map_or(0, |it| it.end_min);
    let may_begin = |min: u32| {
        let (session, into) = (min / sessions.every_min, min % sessions.every_min);
        let fits = if is_long(task) {
            into == 0
        } else {
            into + task.hands_min <= sessions.length_min
        };
        let is_alone = done.iter().all(|it| {
            let ends_in = (it.end_min - 1) / sessions.every_min;
            let is_there = it.session <= session && session <= ends_in;
            !is_there || !(is_long(task) || is_long(&tasks[it.task]))
        });
        let needs = task.needs.iter().all(|need| {
            let own = done.iter().find(|it| it.task == need.task);
            own.is_some_and(|it| it.end_min + need.wait_min <= min)
        });
        let machine = !task.on_machine
            || min >= sessions.kept_min
                && done.iter().all(|it| {
                    let keeps = tasks[it.task].on_machine;
                    !keeps || it.end_min + tasks[it.task].keeps_min <= min
                });
        min >= hands_free.max(task.ready_min) && fits && is_alone && needs && machine
    };
    (hands_free.max(task.ready_min)..1_000_000)
        .find(|min| may_begin(*min))
        .expect("a minute")
}

/// The earliest end over every order of the tasks.
fn by_every_order(done: &mut Vec<Placed>, tasks: &[Task], sessions: &Sessions) -> u32 {
    if done.len() == tasks.len() {
        return end_min(done);
    }
    let mut best = u32::MAX;
    for at in 0..tasks.len() {
        let is_done = |at: usize, done: &[Placed]| done.iter().any(|it| it.task == at);
        let needs = &tasks[at].needs;
        if is_done(at, done) || !needs.iter().all(|need| is_done(need.task, done)) {
            continue;
        }
        let start_min = first_minute(at, done, tasks, sessions);
        done.push(Placed {
            task: at,
            session: start_min / sessions.every_min,
            start_min,
            end_min: start_min + tasks[at].hands_min,
        });
        best = best.min(by_every_order(done, tasks, sessions));
        done.pop();
    }
    best
}

/// Whether a plan is one that can be done.
fn is_sound(plan: &[Placed], tasks: &[Task], sessions: &Sessions) {
    assert_eq!(plan.len(), tasks.len());
    for (at, placed) in plan.iter().enumerate() {
        let first = first_minute(placed.task, &plan[..at], tasks, sessions);
        assert_eq!(placed.start_min, first, "{plan:?}");
        let task = &tasks[placed.task];
        assert_eq!(placed.end_min - placed.start_min, task.hands_min);
        assert_eq!(placed.session, placed.start_min / sessions.every_min);
    }
}

fn beside_every_order(most: usize, count: u32) {
    let mut runner = proptest::test_runner::TestRunner::new(cases(count));
    let better = Cell::new(0);
    let outcome = runner.run(&any_tasks(most), |(tasks, sessions)| {
        let plan = planned(&tasks, &sessions);
        is_sound(&plan, &tasks, &sessions);
        let best = by_every_order(&mut Vec::new(), &tasks, &sessions);
        prop_assert_eq!(end_min(&plan), best, "{:?}", plan);
        let mut listed = Vec::new();
        for at in 0..tasks.len() {
            let start_min = first_minute(at, &listed, &tasks, &sessions);
            listed.push(Placed {
                task: at,
                session: start_min / sessions.every_min,
                start_min,
                end_min: start_min + tasks[at].hands_min,
            });
        }
        better.set(better.get() + u32::from(best < end_min(&listed)));
        Ok(())
    });
    outcome.unwrap();
    assert!(better.get() > count / 4, "{}", better.get());
}

#[test]
fn no_order_of_six_tasks_is_done_earlier() {
    beside_every_order(6, 3000);
}

/// Ten in a row of which some may change places: every one of their orders.
#[test]
fn no_order_of_ten_tasks_is_done_earlier() {
    let mut runner = proptest::test_runner::TestRunner::new(cases(60));
    let outcome = runner.run(&any_tasks(10), |(mut tasks, sessions)| {
        for (at, task) in tasks.iter_mut().enumerate().skip(2) {
            let wait_min = (at as u32 * 37) % 200;
            task.needs.push(Need {
                task: at - 2 - at % 2,
                wait_min,
            });
        }
        let plan = planned(&tasks, &sessions);
        is_sound(&plan, &tasks, &sessions);
        let best = by_every_order(&mut Vec::new(), &tasks, &sessions);
        prop_assert_eq!(end_min(&plan), best);
        Ok(())
    });
    outcome.unwrap();
}

/// Of many, too, the plan can be done as it is told, and no later than the list as it stands.
#[test]
fn a_plan_of_many_tasks_can_be_done() {
    let mut runner = proptest::test_runner::TestRunner::new(cases(400));
    let outcome = runner.run(&any_tasks(40), |(tasks, sessions)| {
        let plan = planned(&tasks, &sessions);
        is_sound(&plan, &tasks, &sessions);
        prop_assert_eq!(&plan, &planned(&tasks, &sessions));
        Ok(())
    });
    outcome.unwrap();
}

const MINUTE_MS: f64 = 60_000.0;
const NOW_MS: f64 = 1_795_608_000_000.0;

fn any_piece() -> impl Strategy<Value = (Design, Vec<usize>, f64)> {
    let shape = proptest::sample::select(vec!["bowl", "cylinder", "vase"]);
    let hours = prop_oneof![Just(0.25), Just(1.0), Just(2.0), Just(3.5), Just(8.0)];
    let pace = prop_oneof![Just(1.0), Just(0.5), Just(2.5)];
    let shop = (
        proptest::sample::select(vec!["20 C", "13 C", "4 C"]),
        hours,
        pace,
    );
    let ticks = prop::collection::vec(0_usize..60, 0..12);
    (
        shape,
        120.0..320.0_f64,
        60.0..260.0_f64,
        shop,
        ticks,
        0.0..600.0_f64,
    )
        .prop_map(
            |(shape, across, high, (air, hours, pace), ticks, since_min)| {
                let mut design = start::begin(&Design::default(), shape, across, high);
                for (key, typed) in [
                    ("climate.shop_temperature_c", air.to_owned()),
                    ("bench.evening_h", hours.to_string()),
                    ("bench.pace", pace.to_string()),
                ] {
                    design = design.with_typed(key, &typed).expect("a shop");
                }
                (design, ticks, since_min)
            },
        )
}

fn clocks<'d>(plan: &Plan, done: &'d Done) -> Vec<(usize, &'d Clock)> {
    let owned = log::entries(&log::marks(plan), &done.log);
    let own = owned.iter().enumerate();
    own.filter_map(|(step, own)| Some((step, done.log.entries[(*own)?].clock.as_ref()?)))
        .collect()
}

fn coats<'d>(plan: &Plan, done: &'d Done) -> Vec<(usize, &'d Drying)> {
    let owned = log::entries(&log::marks(plan), &done.log);
    let own = owned.iter().enumerate();
    own.filter_map(|(step, own)| Some((step, done.log.entries[(*own)?].drying.as_ref()?)))
        .collect()
}

fn is_done(plan: &Plan, done: &Done) -> Vec<bool> {
    let marks = log::marks(plan);
    let is_in = |mark| done.ticks.contains(mark);
    marks.iter().map(is_in).collect()
}

/// Follows the evenings: every need done before, every wait over, every step in its evening.
fn follow(plan: &Plan, done: &Done, found: &[Evening]) -> Result<(), TestCaseError> {
    let (stack, order) = plan.stack().zip(plan.order()).expect("an order");
    let needs = Needs::of(order);
    let bench = plan.design.bench_or_usual();
    let air_c = plan
        .design
        .climate
        .as_ref()
        .map_or(20.0, |it| it.shop_temperature_c);
    let usual = times(bench.glue, air_c);
    let clocks = clocks(plan, done);
    let mut ends: Vec<Option<f64>> = vec![None; order.steps.len()];
    let made = {
        let mut begun = is_done(plan, done);
        for (step, _) in &clocks {
            begun[*step] = true;
        }
        needs.done(&begun)
    };
    let mut free_min = 0.0;
    for evening in found {
        let start_min = f64::from(evening.days_on) * 1440.0;
        let length_min = (bench.evening_h * 60.0).round();
        for at in &evening.steps {
            let (step, begins_min) = (&order.steps[at.step], start_min + f64::from(at.start_min));
            prop_assert!(!made[at.step] && ends[at.step].is_none(), "done twice");
            prop_assert!(begins_min >= free_min);
            prop_assert_eq!(at.hands_min, hands_min(stack, order, step, &bench));
            let wanted = |step: &Step| step.work == Work::Finish;
            for before in (0..at.step).filter(|before| needs.is_needed(*before, at.step)) {
                let joint = &order.steps[before];
                let wait_min = match (joint.is_glue_up(), wanted(step)) {
                    (false, _) => 0.0,
                    (true, false) => usual.turn_min,
                    (true, true) => usual.stress_min,
                };
                match ends[before] {
                    Some(end_min) => {
                        prop_assert!(begins_min >= end_min + wait_min - 1e-6, "{}", step.id);
                    }
                    None => prop_assert!(made[before], "{} before {}", step.id, joint.id),
                }
                if let Some((_, clock)) = clocks.iter().find(|it| it.0 == before) {
                    let told = moments(clock);
                    let end_ms = if wanted(step) {
                        told.full_ms
                    } else {
                        told.turn_ms
                    };
                    if let Some(end_ms) = end_ms {
                        prop_assert!(NOW_MS + begins_min * MINUTE_MS >= end_ms - 1e-3);
                    }
                }
            }
            free_min = begins_min + f64::from(at.hands_min);
            ends[at.step] = Some(free_min);
            let is_over = f64::from(at.start_min + at.hands_min) > length_min;
            prop_assert_eq!(is_over, evening.is_too_long, "{}", step.id);
            prop_assert!(!is_over || (evening.steps.len() == 1 && at.start_min == 0));
        }
        let sets = |place: &usize| {
            let end_min = ends[*place].expect("done");
            order.steps[*place].is_glue_up() && end_min + usual.turn_min > free_min
        };
        let soft: Vec<usize> = evening
            .steps
            .iter()
            .map(|it| it.step)
            .filter(sets)
            .collect();
        prop_assert_eq!(&soft, &evening.sets_overnight);
    }
    let is_left = |place: &usize| !made[*place] && ends[*place].is_none();
    prop_assert_eq!((0..made.len()).find(is_left), None, "left out");
    Ok(())
}

fn found(plan: &Plan, done: &Done) -> Vec<Evening> {
    found_at(plan, done, NOW_MS)
}

#[test]
fn the_evenings_of_any_piece_can_be_done_as_told() {
    let mut runner = proptest::test_runner::TestRunner::new(cases(1000));
    let (waited, long) = (Cell::new(0), Cell::new(0));
    let outcome = runner.run(&any_piece(), |(design, ticks, since_min)| {
        let plan = plan(&design);
        let marks = log::marks(&plan);
        let mut done = Done::default();
        for (at, which) in ticks.iter().enumerate() {
            let Some((id, _)) = marks.get(which % marks.len().max(1)) else {
                continue;
            };
            let ago_min = since_min / (at + 1) as f64;
            done = if at % 3 == 2 {
                log::spread(&plan, &done, id, id, NOW_MS - ago_min * MINUTE_MS)
            } else {
                log::tick(&plan, &done, id, id, NOW_MS - ago_min * MINUTE_MS)
            };
        }
        let found = found(&plan, &done);
        waited.set(waited.get() + usize::from(!clocks(&plan, &done).is_empty()));
        long.set(long.get() + usize::from(found.iter().any(|it| it.is_too_long)));
        follow(&plan, &done, &found)
    });
    outcome.unwrap();
    assert!(
        waited.get() > 300 && long.get() > 100,
        "{waited:?} {long:?}"
    );
}

/// Done as it is told, evening for evening, a piece takes no more of them than were told.
#[test]
fn a_piece_done_as_told_is_done_when_told() {
    for (shape, across, high) in [("bowl", 254.0, 101.6), ("vase", 150.0, 240.0)] {
        let plan = plan(&start::begin(&Design::default(), shape, across, high));
        let order = plan.order().expect("an order");
        let mut done = Done::default();
        let told = found(&plan, &done);
        let mut now_ms = NOW_MS;
        let (mut worked, mut day) = (0, 0);
        while !found_at(&plan, &done, now_ms).is_empty() {
            let evening = found_at(&plan, &done, now_ms).swap_remove(0);
            assert!(day < 200, "it is never done");
            if evening.days_on == 0 {
                worked += 1;
                for at in &evening.steps {
                    let id = &order.steps[at.step].id;
                    let end_min = f64::from(at.start_min + at.hands_min);
                    done = log::tick(&plan, &done, id, id, now_ms + end_min * MINUTE_MS);
                }
            }
            day += 1;
            now_ms += 1440.0 * MINUTE_MS;
        }
        assert_eq!(done.ticks.len(), order.steps.len());
        assert!(worked <= told.len(), "{shape}: {worked} of {}", told.len());
    }
}

fn found_at(plan: &Plan, done: &Done, now_ms: f64) -> Vec<Evening> {
    let (stack, order): (_, &Order) = plan.stack().zip(plan.order()).expect("an order");
    let so_far = SoFar {
        ticked: &is_done(plan, done),
        clocks: &clocks(plan, done),
        coats: &coats(plan, done),
        now_ms,
    };
    evenings(stack, order, &so_far)
}

/// Longer evenings are never more of them, and a slower hand never takes fewer.
#[test]
fn the_two_halves_go_on_side_by_side() {
    let design = start::begin(&Design::default(), "vase", 150.0, 240.0);
    let count = |hours: &str, pace: &str, meet: &str| {
        let typed = design.with_typed("bench.evening_h", hours).expect("hours");
        let typed = typed.with_typed("bench.pace", pace).expect("a pace");
        let typed = typed
            .with_typed("bench.meet_above_ring", meet)
            .expect("a ring");
        found(&plan(&typed), &Done::default()).len()
    };
    assert!(count("8", "1", "") < count("2", "1", ""));
    assert!(count("2", "1", "") < count("2", "4", ""));
    assert!(
        count("2", "1", "6") < count("2", "1", "0"),
        "halves beside each other"
    );
}

#[test]
fn two_hundred_rings_are_told_at_once() {
    let mut design = start::begin(&Design::default(), "cylinder", 200.0, 400.0);
    let vessel = design.vessel.as_mut().expect("a vessel");
    let ring = vessel.rings[1].clone();
    vessel.rings.resize(200, ring);
    for ring in &mut vessel.rings {
        ring.height_mm = 2.0;
    }
    let plan = plan(&design);
    let told = found(&plan, &Done::default());
    let steps: usize = told.iter().map(|it| it.steps.len()).sum();
    assert!(steps > 600, "{steps}");
    follow(&plan, &Done::default(), &told).unwrap();
}

/// Steps alike stand in one line only where nothing is waited for between them: what all lines
/// say adds up to the evening's length.
#[test]
fn the_lines_of_an_evening_add_up() {
    let minutes = |said: &str| -> u32 {
        let number = |text: &str| {
            text.split(' ')
                .next_back()
                .and_then(|it| it.parse::<u32>().ok())
        };
        let each = said.split([',', ' ']).map(|it| it.replace('\u{a0}', " "));
        let each = each.filter_map(|it| {
            let (count, unit) = it.split_once(' ')?;
            let count = number(count)?;
            Some(if unit.starts_with('h') {
                60 * count
            } else {
                count
            })
        });
        each.sum()
    };
    assert_eq!(
        minutes("after a wait of 10\u{a0}h 33\u{a0}min, 42\u{a0}min"),
        675
    );
    let mut waits = 0;
    for (hours, meet) in [("2", ""), ("12", "4"), ("16", "0")] {
        let design = start::begin(&Design::default(), "cylinder", 254.0, 150.0);
        let typed = design.with_typed("bench.evening_h", hours).expect("hours");
        let typed = typed
            .with_typed("bench.meet_above_ring", meet)
            .expect("a ring");
        let plan = plan(&typed);
        let shown = evening::shown(&plan, &Done::default(), &calendar()).expect("a bench");
        for it in &shown.evenings {
            let sum: u32 = it.steps.iter().map(|step| minutes(&step.says)).sum();
            assert_eq!(sum, minutes(&it.says), "{it:?}");
            waits += it
                .steps
                .iter()
                .filter(|step| step.says.starts_with("after"))
                .count();
        }
    }
    assert!(waits > 3, "{waits}");
}

fn calendar() -> Calendar<'static> {
    Calendar {
        now_ms: NOW_MS,
        behind_min: &|_| 0.0,
        time: &|_| "7:00 PM".to_owned(),
        day: &|ms| format!("day {}", ((ms - NOW_MS) / MINUTE_MS / 1440.0).round()),
    }
}

/// A coat that dries keeps the next one waiting, and nothing else that there is to do.
#[test]
fn a_coat_waits_until_the_one_before_is_dry() {
    let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    for (key, typed) in [
        ("finish.kind", "hardening_oil"),
        ("finish.coats", "2"),
        ("finish.wait_h", "30"),
    ] {
        design = ringwright::edit::type_in(&design, key, typed).expect("a finish");
    }
    let plan = plan(&design);
    let order = plan.order().expect("an order");
    let mut done = Done::default();
    for (id, _) in log::marks(&plan) {
        done = log::tick(&plan, &done, &id, &id, NOW_MS - 1e10);
        if id == "dust" {
            break;
        }
    }
    done = log::tick(&plan, &done, "coat-1", "coat-1", NOW_MS);
    assert_eq!(coats(&plan, &done).len(), 1);
    let begins_min = |done: &Done| -> Option<u32> {
        let of = found(&plan, done);
        let mut steps = of
            .iter()
            .flat_map(|it| it.steps.iter().map(move |at| (it.days_on, at)));
        steps
            .find(|(_, at)| order.steps[at.step].id == "coat-2")
            .map(|(days_on, at)| days_on * 1440 + at.start_min)
    };
    // 30 hours on is the second evening from now.
    assert_eq!(begins_min(&done), Some(2 * 1440));
    let mut dry = done.clone();
    for entry in &mut dry.log.entries {
        entry.drying = None;
    }
    assert_eq!(begins_min(&dry), Some(0));
}

#[test]
fn what_is_told_of_the_evenings() {
    let design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let plan = plan(&design);
    let calendar = calendar();
    let shown = evening::shown(&plan, &Done::default(), &calendar).expect("a bench");
    assert!(shown.says.contains("of up to 2\u{a0}h"), "{}", shown.says);
    assert_eq!(shown.evenings[0].title, "This evening, from now on");
    assert_eq!(shown.evenings[1].title, "Evening 2: day 1");
    assert_eq!(shown.evenings[0].sets, "");
    assert!(shown.evenings[1].sets.starts_with("Sets overnight: "));
    assert!(shown.reckoned.contains("×1"), "{}", shown.reckoned);
    assert_eq!(shown.entries.len(), 2);
    // Ticked to the end there is none.
    let mut done = Done::default();
    for (id, _) in log::marks(&plan) {
        done = log::tick(&plan, &done, &id, &id, NOW_MS);
    }
    let shown = evening::shown(&plan, &done, &calendar).expect("a bench");
    assert_eq!(
        (shown.evenings.len(), shown.says.as_str()),
        (0, "All is done.")
    );
}
