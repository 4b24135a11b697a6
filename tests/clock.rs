//! The clocks of the glue and the log of the bench, against sums over fine steps of time and
//! against what the shop's times are told by.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use shared::cases;

use proptest::prelude::*;
use ringwright::design::Design;
use ringwright::design::log::Log;
use ringwright::edit::log::{self, Done};
use ringwright::edit::start;
use ringwright::plan::clock::{Stage, air_c, moments, stage};
use ringwright::plan::{Plan, plan};
use ringwright::show::figures::bench::calendar::Calendar;
use ringwright::show::figures::bench::clock::{ClocksShown, clocks};
use ringwright::trade::glue::{Glue, times};
use ringwright::trade::setting::{Air, ends};

/// Histories of up to six airs over a day and a half, the first from the start on.
fn any_airs() -> impl Strategy<Value = Vec<Air>> {
    let air = (0_u32..2200, -15.0..50.0_f64);
    prop::collection::vec(air, 1..7).prop_map(|mut airs| {
        airs.sort_by_key(|it| it.0);
        airs[0].0 = 0;
        let air = |(from, air_c): (u32, f64)| Air {
            from_min: f64::from(from),
            air_c,
        };
        airs.into_iter().map(air).collect()
    })
}

/// A joint watched second by second: 2 to the power of a tenth of the degrees above 20 °C is
/// the usual rule of reactions (van 't Hoff); what it is capped by is told in
/// `trade/glue.rs` (common practice, no published source).
struct Watched {
    open_min: f64,
    waits_min: [Option<f64>; 3],
}

fn watched(glue: Glue, airs: &[Air]) -> Watched {
    const STEP_MIN: f64 = 1.0 / 8.0;
    let habits = glue.habits();
    let wanted_min = [habits.clamp_min, habits.turn_min, habits.stress_min];
    let (mut open, mut set) = (0.0, 0.0);
    let mut seen = Watched {
        open_min: f64::NAN,
        waits_min: [None; 3],
    };
    for step in 0..(8 * 60 * 24 * 60) {
        // The middle of the step, so that no step lies across a change.
        let now_min = (f64::from(step) + 0.5) * STEP_MIN;
        let last = airs.iter().rev().find(|air| air.from_min <= now_min);
        let air_c = last.expect("the first air").air_c;
        let pace = |air_c: f64| 2.0_f64.powf((air_c - 20.0) / 10.0);
        open += STEP_MIN * pace(air_c.min(40.0)).max(1.0);
        let stands = air_c < habits.least_c && set < habits.turn_min;
        if !stands {
            set += STEP_MIN * pace(air_c).min(1.0);
        }
        let end_min = f64::from(step + 1) * STEP_MIN;
        if open >= habits.open_min - 1e-9 && seen.open_min.is_nan() {
            seen.open_min = end_min;
        }
        for (wait, wanted_min) in seen.waits_min.iter_mut().zip(wanted_min) {
            if set >= wanted_min - 1e-9 && wait.is_none() {
                *wait = Some(end_min);
            }
        }
        if seen.waits_min[2].is_some() {
            break;
        }
    }
    seen
}

#[test]
fn a_clock_over_any_history_of_the_air_is_the_sum_over_its_steps() {
    let mut runner = proptest::test_runner::TestRunner::new(cases(400));
    let glue = proptest::sample::select(Glue::ALL);
    let (stood, ran) = (std::cell::Cell::new(0), std::cell::Cell::new(0));
    let outcome = runner.run(&(glue, any_airs()), |(glue, airs)| {
        let (told, seen) = (ends(glue, &airs), watched(glue, &airs));
        prop_assert!((told.open_min - seen.open_min).abs() < 0.2, "{told:?}");
        let waits = [told.clamp_min, told.turn_min, told.stress_min];
        for (told, seen) in waits.into_iter().zip(seen.waits_min) {
            match (told, seen) {
                (Some(told), Some(seen)) => {
                    ran.set(ran.get() + 1);
                    prop_assert!((told - seen).abs() < 0.3, "{told} {seen}");
                }
                // It is watched for sixty days.
                (Some(told), None) => prop_assert!(told > 59.9 * 1440.0, "{told}"),
                (None, None) => stood.set(stood.get() + 1),
                (None, Some(seen)) => prop_assert!(false, "told to stand still, set at {seen}"),
            }
        }
        Ok(())
    });
    outcome.unwrap();
    assert!(ran.get() > 400 && stood.get() > 100, "{ran:?} {stood:?}");
}

const MINUTE_MS: f64 = 60_000.0;
const NOON_MS: f64 = 1_795_608_000_000.0;

fn bowl() -> Plan {
    plan(&start::begin(&Design::default(), "bowl", 254.0, 101.6))
}

fn ticked(plan: &Plan, done: &Done, id: &str, now_ms: f64) -> Done {
    log::tick(plan, done, id, id, now_ms)
}

/// The clocks as a shop tells them whose time is UTC.
fn told(plan: &Plan, done: &Done, now_ms: f64) -> ClocksShown {
    let calendar = Calendar {
        now_ms,
        behind_min: &|_| 0.0,
        time: &|ms| {
            let min = (ms / MINUTE_MS).rem_euclid(1440.0) as u32;
            format!("{}:{:02}", min / 60, min % 60)
        },
        day: &|ms| format!("day {}", (ms / MINUTE_MS / 1440.0).floor()),
    };
    clocks(plan, done, &calendar).expect("a bench")
}

#[test]
fn a_clock_starts_with_glue_or_with_its_tick_and_goes_with_it() {
    let plan = bowl();
    let none = Done::default();
    let done = ticked(&plan, &none, "glue-2", NOON_MS);
    assert_eq!(done.log.entries[0].done_ms, Some(NOON_MS));
    let clock = done.log.entries[0].clock.clone().expect("a clock");
    let usual = times(Glue::YellowPva, 20.0);
    assert_eq!(
        moments(&clock).turn_ms,
        Some(NOON_MS + usual.turn_min * MINUTE_MS)
    );
    assert_eq!(ticked(&plan, &done, "glue-2", NOON_MS + 5.0), none);
    // Glue first, the tick a quarter of an hour later: the clock is the glue's.
    let early_ms = NOON_MS - 15.0 * MINUTE_MS;
    let spread = log::spread(&plan, &none, "glue-2", "Ring 2", early_ms);
    assert_eq!(spread.ticks, []);
    let done = ticked(&plan, &spread, "glue-2", NOON_MS);
    assert_eq!(done.log.entries.len(), 1);
    let entry = &done.log.entries[0];
    assert_eq!(entry.clock.as_ref().map(|it| it.on_ms), Some(early_ms));
    assert_eq!(entry.done_ms, Some(NOON_MS));
    // What is not glued has no clock, and no clock is started where no glue goes on.
    let sawn = ticked(&plan, &none, "cut-2", NOON_MS);
    assert_eq!(sawn.log.entries[0].clock, None);
    assert_eq!(log::spread(&plan, &none, "cut-2", "", NOON_MS), none);
    assert_eq!(log::spread(&plan, &none, "nothing", "", NOON_MS), none);
}

/// A clock moves with its ring as its tick does, and the log keeps what is gone.
#[test]
fn a_clock_goes_with_its_ring() {
    let design = start::begin(&Design::default(), "cylinder", 254.0, 200.0);
    let done = ticked(&plan(&design), &Done::default(), "glue-6", NOON_MS);
    let mut more = design.clone();
    let vessel = more.vessel.as_mut().expect("a vessel");
    let mut thin = vessel.rings[2].clone();
    thin.height_mm = 3.0;
    vessel.rings.insert(2, thin);
    let shown = told(&plan(&more), &done, NOON_MS);
    assert_eq!(shown.clocks[0].step, "glue-7");
    let next = ticked(&plan(&more), &done, "glue-6", NOON_MS + MINUTE_MS);
    assert_eq!(next.log.entries.len(), 2, "one of its own");
    let mut fewer = design;
    fewer.vessel.as_mut().expect("a vessel").rings.truncate(2);
    let shown = told(&plan(&fewer), &done, NOON_MS);
    assert_eq!((shown.clocks.len(), shown.clocks[0].step.as_str()), (1, ""));
    assert_eq!(shown.clocks[0].title, "glue-6");
}

/// Glued up anew after its numbers changed, it is not told to be hard by the old clock.
#[test]
fn made_anew_a_ring_sets_anew() {
    let design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let done = ticked(&plan(&design), &Done::default(), "glue-3", NOON_MS);
    let mut other = design;
    other.vessel.as_mut().expect("a vessel").rings[2].segment_count += 2;
    let other = plan(&other);
    let later_ms = NOON_MS + 3.0 * 1440.0 * MINUTE_MS;
    let again = ticked(&other, &done, "glue-3", later_ms);
    assert_eq!(again.log.entries.len(), 1);
    let clock = again.log.entries[0].clock.as_ref().expect("a clock");
    assert_eq!(stage(clock, later_ms), Stage::Open);
}

#[test]
fn a_temperature_that_no_shop_has_leaves_all_as_it_is() {
    let plan = bowl();
    let done = ticked(&plan, &Done::default(), "glue-2", NOON_MS);
    for typed in [
        "-300",
        "900",
        "-300 C",
        "900 C",
        "",
        "warm",
        "1e999",
        &"9".repeat(10_000),
    ] {
        let told = log::tell_air(&plan.design, &done, Some(0), typed, NOON_MS);
        assert!(told.is_err(), "{typed}");
    }
    let warm = log::tell_air(&plan.design, &done, None, "21 C", NOON_MS + MINUTE_MS);
    let warm = warm.expect("a temperature");
    let clock = warm.log.entries[0].clock.as_ref().expect("a clock");
    assert!((air_c(clock) - 21.0).abs() < 1e-9);
    // Another place than the log has: nothing happens.
    for entry in [7, usize::MAX] {
        assert_eq!(log::stop(&done, entry), done);
        assert_eq!(log::start_again(&done, entry, 0.0), done);
        let told = log::tell_air(&plan.design, &done, Some(entry), "21 C", NOON_MS);
        assert_eq!(told, Ok(done.clone()));
    }
}

/// Tomorrow begins at midnight: counted minute by minute over two days and nights.
#[test]
fn a_moment_is_told_by_the_days_between() {
    let calendar = |now_ms| Calendar {
        now_ms,
        // Half an hour off a whole one, as in Newfoundland.
        behind_min: &|_| 210.0,
        time: &|_| "then".to_owned(),
        day: &|_| "day".to_owned(),
    };
    let start_ms = NOON_MS - NOON_MS.rem_euclid(1440.0 * MINUTE_MS) + 210.0 * MINUTE_MS;
    for now_min in (0..1440).step_by(7) {
        let now = calendar(start_ms + f64::from(now_min) * MINUTE_MS);
        for then_min in (-3000..4400).step_by(11) {
            let wanted = match then_min {
                0..1440 => "then",
                1440..2880 => "tomorrow then",
                -1440..0 => "yesterday then",
                _ => "day, then",
            };
            let said = now.said(start_ms + f64::from(then_min) * MINUTE_MS);
            assert_eq!(said, wanted, "{then_min} at {now_min}");
        }
    }
}

/// Whatever a hand does in whatever order, with a clock that goes to and fro: what is written
/// is read again, what is told is told of what there is, and a tick taken back leaves nothing.
#[test]
fn any_deeds_leave_a_bench_that_can_be_told() {
    let plan = bowl();
    let ids: Vec<String> = log::marks(&plan).into_iter().map(|it| it.0).collect();
    let deed = (0_usize..8, 0_usize..ids.len(), -2e9..2e9_f64, -20_i32..40);
    let mut runner = proptest::test_runner::TestRunner::new(cases(200));
    let outcome = runner.run(&prop::collection::vec(deed, 1..30), |deeds| {
        let mut done = Done::default();
        for (kind, which, off_ms, degrees) in deeds {
            let now_ms = NOON_MS + off_ms;
            let id = &ids[which];
            done = match kind {
                0 => ticked(&plan, &done, id, now_ms),
                1 => log::spread(&plan, &done, id, id, now_ms),
                2 => log::start_again(&done, which % 4, now_ms),
                3 => log::stop(&done, which % 4),
                4 => {
                    let note = "knot ".repeat(which % 3);
                    log::note(&plan, &done, id, id, &note, now_ms).expect("a short note")
                }
                5 => {
                    let name = format!("{:016x}", which % 3);
                    let next = log::add_photo(&plan, &done, id, id, &name, now_ms);
                    next.expect("so few photographs")
                }
                6 => log::remove_photo(&done, &format!("{:016x}", which % 3)),
                _ => {
                    let typed = format!("{degrees} C");
                    let entry = (which % 2 == 0).then_some(which % 4);
                    log::tell_air(&plan.design, &done, entry, &typed, now_ms)
                        .expect("a temperature")
                }
            };
            prop_assert_eq!(&Log::restore(&done.log.write()), &done.log);
            let shown = told(&plan, &done, now_ms);
            prop_assert!(shown.clocks.len() <= done.log.entries.len());
            prop_assert!(shown.log.lines.len() >= done.ticks.len());
            let entries = done.log.entries.iter();
            let noted = entries.filter(|it| !it.note.is_empty() || !it.photos.is_empty());
            prop_assert_eq!(shown.notes.len(), noted.count());
            let entries = done.log.entries.iter();
            let photos: usize = entries.map(|it| it.photos.len()).sum();
            let in_lines: usize = shown.log.lines.iter().map(|it| it.photos.len()).sum();
            prop_assert_eq!(in_lines, photos);
            for (id, _) in &done.ticks {
                let has = done
                    .log
                    .entries
                    .iter()
                    .any(|it| it.id == *id && it.done_ms.is_some());
                prop_assert!(has, "{id} is ticked, and the log does not say when");
            }
        }
        for (id, _) in done.ticks.clone() {
            done = ticked(&plan, &done, &id, NOON_MS);
        }
        prop_assert!(done.log.entries.iter().all(|it| it.done_ms.is_none()));
        Ok(())
    });
    outcome.unwrap();
}

#[test]
fn the_log_tells_in_the_order_of_time_what_was_done() {
    let plan = bowl();
    let at = |min: f64| NOON_MS + min * MINUTE_MS;
    let mut done = log::spread(&plan, &Done::default(), "glue-2", "Ring 2", at(0.0));
    done = log::tick(&plan, &done, "cut-3", "Ring 3", at(25.0));
    done = log::tick(&plan, &done, "glue-2", "Ring 2", at(15.0));
    done = log::tell_air(&plan.design, &done, None, "10 C", at(20.0)).expect("a temperature");
    let typed = "  The stop slipped:\n1/32 short. ";
    done = log::note(&plan, &done, "cut-3", "Ring 3", typed, at(30.0)).expect("a note");
    done = log::note(&plan, &done, "flat-2", "Flat 2", "wait", at(40.0)).expect("a note");
    let shown = told(&plan, &done, at(60.0));
    let day = (NOON_MS / MINUTE_MS / 1440.0).floor();
    let time = |min: f64| {
        let of_day = (at(min) / MINUTE_MS).rem_euclid(1440.0) as u32;
        format!("day {day}, {}:{:02}", of_day / 60, of_day % 60)
    };
    let wanted = [
        format!("{}: Glue on: Ring 2.", time(0.0)),
        format!("{}: Ring 2.", time(15.0)),
        format!("{}: At 50 °F: Ring 2.", time(20.0)),
        format!("{}: Ring 3. The stop slipped: 1/32 short.", time(25.0)),
        format!("{}: Note on Flat 2. wait", time(40.0)),
    ];
    let came_to = &shown.log.came_to;
    assert_eq!(
        shown.log.text,
        [&wanted[..], &came_to[..]].concat().join("\n")
    );
    assert_eq!(shown.log.says, "5 lines");
    assert_eq!(shown.notes[0].text, "The stop slipped: 1/32 short.");
    // A tick taken back leaves the note, and the note taken back leaves nothing.
    let back = log::tick(&plan, &done, "cut-3", "Ring 3", at(70.0));
    let entry = back.log.entries.iter().find(|it| it.id == "cut-3");
    assert!(entry.is_some_and(|it| it.done_ms.is_none() && !it.note.is_empty()));
    let none = log::note(&plan, &back, "cut-3", "Ring 3", " ", at(80.0)).expect("a note");
    assert!(none.log.entries.iter().all(|it| it.id != "cut-3"));
}

#[test]
fn a_photograph_stands_at_its_step_and_goes_without_a_trace() {
    let plan = bowl();
    let at = |min: f64| NOON_MS + min * MINUTE_MS;
    let name = |count: usize| format!("{count:016x}");
    let add = |done: &Done, count: usize| {
        log::add_photo(&plan, done, "cut-3", "Ring 3", &name(count), at(5.0))
    };
    let one = add(&Done::default(), 1).expect("room");
    let shown = told(&plan, &one, at(60.0));
    assert!(
        shown
            .log
            .text
            .contains("Photograph of Ring 3. (1 photograph)")
    );
    assert_eq!(shown.notes[0].photos, [name(1)]);
    let ticked = log::tick(&plan, &one, "cut-3", "Ring 3", at(30.0));
    let both = add(&ticked, 2).expect("room");
    let shown = told(&plan, &both, at(60.0));
    assert_eq!(shown.log.lines.len(), 1);
    assert_eq!(shown.log.lines[0].photos, [name(1), name(2)]);
    let back = log::tick(&plan, &both, "cut-3", "Ring 3", at(40.0));
    assert_eq!(
        back.log.entries[0].photos.len(),
        2,
        "a tick taken back leaves them"
    );
    let none = log::remove_photo(&log::remove_photo(&back, &name(1)), &name(2));
    assert_eq!(none, Done::default());
    let full = (3..13).fold(both, |done, count| add(&done, count).expect("room"));
    assert_eq!(add(&full, 13), None);
    let bad = log::add_photo(&plan, &one, "cut-3", "", "../up", at(5.0));
    assert_eq!(bad.as_ref(), Some(&one));
    let nowhere = log::add_photo(&plan, &one, "gone", "", &name(4), at(5.0));
    assert_eq!(nowhere, Some(one));
}

#[test]
fn a_note_that_is_too_long_is_not_taken_and_not_cut() {
    let plan = bowl();
    let note = |typed: &str| log::note(&plan, &Done::default(), "cut-2", "", typed, NOON_MS);
    assert_eq!(note(&"é".repeat(10_000)), None);
    assert_eq!(note(&"é".repeat(501)), None);
    let taken = note(&"é".repeat(500)).expect("a note");
    assert_eq!(taken.log.entries[0].note, "é".repeat(500));
    assert_eq!(Log::restore(&taken.log.write()), taken.log);
    let other = note("\u{0}<b>&\"'\u{7}\t木🪵").expect("a note");
    assert_eq!(other.log.entries[0].note, "<b>&\"'  木🪵");
    assert_eq!(note("gone").map(|it| it.ticks), Some(Vec::new()));
}

/// A bench with a step ticked, one setting and a note, at noon and in the two days after.
fn begun(plan: &Plan) -> Done {
    let at = |min: f64| NOON_MS + min * MINUTE_MS;
    let done = log::tick(plan, &Done::default(), "cut-2", "Ring 2: saw", at(0.0));
    let done = log::tick(plan, &done, "glue-2", "Ring 2: glue up", at(90.0));
    let done = log::tick(plan, &done, "cut-3", "Ring 3: saw", at(2.0 * 1440.0 + 5.0));
    log::note(plan, &done, "cut-3", "Ring 3", "Resawn.", at(3000.0)).expect("a note")
}

#[test]
fn a_file_takes_the_bench_along_and_a_link_does_not() {
    let plan = bowl();
    let done = begun(&plan);
    let alone = ringwright::design::read::to_value(&plan.design);
    let mut file = alone.clone();
    done.put_into(&mut file);
    assert_ne!(file, alone);
    let text = serde_json::to_string(&file).expect("a text");
    let mut opened = serde_json::from_str(&text).expect("a file");
    assert_eq!(Done::take_from(&mut opened), done);
    assert_eq!(opened, alone);
    let (design, troubles) = Design::restore(&opened).expect("a design");
    assert_eq!((&design, troubles.len()), (&*plan.design, 0));
    // Nothing done, nothing in the file; and a file of before brings nothing.
    let mut none = alone.clone();
    Done::default().put_into(&mut none);
    assert_eq!(none, alone);
    assert_eq!(Done::take_from(&mut none), Done::default());
}

#[test]
fn of_a_spoiled_bench_in_a_file_what_is_good_stays() {
    let read = |text: &str| {
        let mut file = serde_json::from_str(text).expect("JSON");
        Done::take_from(&mut file)
    };
    for rubbish in [
        "[]",
        "7",
        r#"{ "done": null }"#,
        r#"{ "done": [1, 2] }"#,
        r#"{ "done": { "ticks": 5, "log": "long" } }"#,
        r#"{ "done": { "ticks": { "cut-2": 7 }, "log": { "entries": [{ "id": 3 }, [], { "id": "a" }] } } }"#,
    ] {
        assert_eq!(read(rubbish), Done::default(), "{rubbish}");
    }
    let done = read(
        r#"{ "done": { "ticks": { "cut-2": "a1", "cut-3": null }, "log": { "entries": [
            { "id": "cut-2", "mark": "a1", "title": "Ring\u0000 2", "done_ms": 5, "note": 7 },
            { "id": "cut-3", "done_ms": "noon" }
        ] } } }"#,
    );
    assert_eq!(done.ticks, [("cut-2".to_owned(), "a1".to_owned())]);
    assert_eq!(done.log.entries.len(), 1);
    assert_eq!(done.log.entries[0].title, "Ring 2");
}

#[test]
fn ten_thousand_entries_go_along_and_are_told() {
    let plan = bowl();
    let marks = log::marks(&plan);
    let one = begun(&plan).log.entries[0].clone();
    let mut done = Done::default();
    for at in 0..10_000 {
        let mut entry = one.clone();
        (entry.id, entry.mark) = marks[at % marks.len()].clone();
        entry.done_ms = Some(NOON_MS + at as f64 * MINUTE_MS);
        done.log.entries.push(entry);
    }
    let mut file = ringwright::design::read::to_value(&plan.design);
    done.put_into(&mut file);
    // As it is written, spaced by two: files of up to 4 MB are opened.
    let text = serde_json::to_string_pretty(&file).expect("a text");
    assert!(text.len() < 4 << 20, "{}", text.len());
    assert_eq!(Done::take_from(&mut file), done);
    assert_eq!(told(&plan, &done, NOON_MS).log.lines.len(), 10_000);
}

#[test]
fn what_the_piece_came_to_counts_days_and_wood() {
    let plan = bowl();
    let done = begun(&plan);
    let came_to = told(&plan, &done, NOON_MS).log.came_to;
    let told_of_days = &came_to[0];
    assert!(
        told_of_days.starts_with("Ticked on 2 days, from day "),
        "{told_of_days}"
    );
    assert!(
        told_of_days.ends_with(": 2 days 5\u{a0}min."),
        "{told_of_days}"
    );
    let bought = |plan: &Plan| {
        let all = ringwright::plan::board::estimate(&plan.design, plan.bill());
        all.iter().map(|it| it.bought_mm3).sum::<f64>()
    };
    let line = ringwright::units::quantity::wood_volume(bought(&plan), plan.design.unit).line();
    assert!(
        came_to[1].contains(&format!("about {line} bought")),
        "{came_to:?}"
    );
    assert_eq!(came_to.len(), 2, "no price, no cost");
    // Measured once it is glued up, a ring is on no bill, but its wood was bought.
    let mut design = (*plan.design).clone();
    let ring = &mut design.vessel.as_mut().expect("a vessel").rings[1];
    ring.measured = Some(ringwright::design::Measured::nothing());
    let measured = ringwright::plan::plan(&design);
    assert!(bought(&measured) < bought(&plan));
    assert_eq!(told(&measured, &done, NOON_MS).log.came_to, came_to);
    // One that was there before nobody bought for it.
    let mut other = done.clone();
    other.log.entries.retain(|it| it.id != "glue-2");
    assert_ne!(told(&measured, &other, NOON_MS).log.came_to[1], came_to[1]);
    // What it cost is what was bought at its price.
    let priced = plan.design.with_typed("shop.price", "8").expect("a price");
    let priced = ringwright::plan::plan(&priced);
    let cost = bought(&priced) / ringwright::units::quantity::BOARD_FOOT_MM3 * 8.0;
    let came_to = told(&priced, &done, NOON_MS).log.came_to;
    assert!(came_to[2].contains(&format!(" {cost:.2}.")), "{came_to:?}");
    assert_eq!(told(&plan, &Done::default(), NOON_MS).log.came_to, [""; 0]);
}

#[test]
fn the_log_is_a_sheet_where_there_is_one_and_not_printed_until_wanted() {
    use ringwright::show::sheets::job::{Choice, Today};
    use ringwright::show::sheets::packet;
    let plan = bowl();
    let keys = |done: &Done, choice: Choice| -> Vec<String> {
        let log = told(&plan, done, NOON_MS).log;
        let today = Today {
            date: "2026-11-27",
            log: Some(&log),
        };
        let sheets = packet::sheets(&plan, "", today, choice);
        sheets.into_iter().map(|it| it.key).collect()
    };
    let has = |keys: &[String]| keys.iter().any(|key| key == "log");
    assert!(has(&keys(&begun(&plan), Choice::Pictures)));
    assert!(!has(&keys(&begun(&plan), Choice::Usual)));
    assert!(!has(&keys(&Done::default(), Choice::Pictures)));
    let wanted = ["log".to_owned()];
    assert_eq!(keys(&begun(&plan), Choice::These(&wanted)), wanted);
    let log = told(&plan, &begun(&plan), NOON_MS).log;
    let today = Today {
        date: "2026-11-27",
        log: Some(&log),
    };
    let sheets = packet::sheets(&plan, "", today, Choice::These(&wanted));
    let marks = sheets
        .iter()
        .flat_map(|it| &it.pages)
        .flat_map(|it| &it.marks);
    let words = marks.filter_map(|mark| match mark {
        ringwright::draw::Mark::Words(words) => Some(words.lettering.spoken().clone()),
        ringwright::draw::Mark::Path(_) => None,
    });
    let read = words.collect::<Vec<_>>().join(" ");
    for line in log.lines.iter().map(|it| it.what.as_str()) {
        assert!(read.contains(line), "{line}: {read}");
    }
    assert!(
        read.contains("Resawn.") && read.contains("Ticked on 2 days"),
        "{read}"
    );
}
