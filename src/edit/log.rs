//! What a hand does at the bench: ticks, and the clocks of the joints that set. Both are
//! kept beside the design.

use crate::design::field::key;
use crate::design::log::{
    AirFrom, Clock, Drying, Entry, Log, MOST_PHOTOS, Photo, is_photo_name, note_of,
};
use crate::design::trouble::Trouble;
use crate::design::{Climate, Design};
use crate::plan::Plan;
use crate::plan::clock;
use crate::plan::clock::Stage;
use crate::plan::finish;
use crate::plan::order::{self, FinishWork, Ticked, Work, mark};
use serde_json::{Map, Value};

/// What stands at the bench beside the design.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Done {
    /// Ids of the steps that are done, each with the mark of its numbers then.
    pub ticks: Vec<(String, String)>,
    /// When each was done, and what sets.
    pub log: Log,
}

/// What it is called in a design's file.
const IN_FILE: &str = "done";

impl Done {
    /// Reads what was kept of a bench: what is spoiled in it is left out, and the rest stands.
    pub fn restore(value: &Value) -> Done {
        let ticks = value.get("ticks").and_then(Value::as_object);
        let tick = |(id, mark): (&String, &Value)| Some((id.clone(), mark.as_str()?.to_owned()));
        Done {
            ticks: ticks.into_iter().flatten().filter_map(tick).collect(),
            log: value.get("log").map(Log::restore).unwrap_or_default(),
        }
    }

    /// Writes it.
    pub fn write(&self) -> Value {
        let ticks = self.ticks.iter().cloned();
        let ticks: Map<String, Value> = ticks.map(|(id, mark)| (id, mark.into())).collect();
        let parts = [
            ("ticks".to_owned(), Value::Object(ticks)),
            ("log".to_owned(), self.log.write()),
        ];
        Value::Object(Map::from_iter(parts))
    }

    /// Puts it into a design's file beside the design, where there is any of it.
    pub fn put_into(&self, file: &mut Value) {
        let file = file.as_object_mut().filter(|_| *self != Done::default());
        if let Some(file) = file {
            file.insert(IN_FILE.to_owned(), self.write());
        }
    }

    /// Takes it out of a design's file, so that what is left is the design alone.
    pub fn take_from(file: &mut Value) -> Done {
        let own = file.as_object_mut().and_then(|file| file.remove(IN_FILE));
        own.as_ref().map(Done::restore).unwrap_or_default()
    }
}

/// The ids and marks of the steps now; none where there is nothing to make.
pub fn marks(plan: &Plan) -> Vec<(String, String)> {
    let both = plan.stack().zip(plan.order());
    let marks = both.map(|(stack, order)| {
        let steps = order.steps.iter();
        steps
            .map(|step| (step.id.clone(), mark(stack, step)))
            .collect()
    });
    marks.unwrap_or_default()
}

/// Which entry of a log is each step's own, by its place.
pub fn entries(marks: &[(String, String)], log: &Log) -> Vec<Option<usize>> {
    let kept = log.entries.iter();
    let kept: Vec<_> = kept.map(|it| (it.id.clone(), it.mark.clone())).collect();
    order::owned(marks, &kept)
}

/// Ticks a step, or takes its tick away, and its clock with it; a note stays. A glue-up whose
/// clock does not run yet starts it. Ticks of steps that are no longer there fall, those that
/// moved with their numbers are kept where they are now; what the log has of them stays.
pub fn tick(plan: &Plan, done: &Done, id: &str, title: &str, now_ms: f64) -> Done {
    let marks = marks(plan);
    let states = order::ticked(&marks, &done.ticks);
    let Some(place) = marks.iter().position(|step| step.0 == id) else {
        return done.clone();
    };
    let is_taken_back = states[place] == Ticked::Yes;
    let mut ticks = Vec::new();
    for (at, (step, state)) in marks.iter().zip(&states).enumerate() {
        let old = || done.ticks.iter().find(|tick| tick.0 == step.0);
        match state {
            _ if at == place => ticks.extend((!is_taken_back).then(|| step.clone())),
            Ticked::Yes => ticks.push(step.clone()),
            Ticked::Changed => ticks.extend(old().cloned()),
            Ticked::No => {}
        }
    }
    let mut log = done.log.clone();
    let own = entries(&marks, &log)[place];
    if is_taken_back {
        if let Some(own) = own.and_then(|own| log.entries.get_mut(own)) {
            (own.done_ms, own.clock, own.drying) = (None, None, None);
        }
        log.entries.retain(|entry| !entry.is_empty());
        return Done { ticks, log };
    }
    let entry = entry_of(&mut log, own, &marks[place], title);
    // Glued anew since it was ticked with other numbers, or for the first time.
    let is_fresh = |it: &Clock| entry.done_ms.is_none_or(|done_ms| it.on_ms > done_ms);
    let is_running = entry.clock.as_ref().is_some_and(is_fresh);
    if is_glue_up(plan, place) && !is_running {
        entry.clock = Some(started(plan, now_ms));
    }
    entry.drying = drying(plan, place, now_ms);
    entry.done_ms = Some(now_ms);
    Done { ticks, log }
}

/// Glue goes on in a step: its clock starts, anew where it ran already.
pub fn spread(plan: &Plan, done: &Done, id: &str, title: &str, now_ms: f64) -> Done {
    let marks = marks(plan);
    let place = marks.iter().position(|step| step.0 == id);
    let mut next = done.clone();
    if let Some(place) = place.filter(|place| is_glue_up(plan, *place)) {
        let own = entries(&marks, &next.log)[place];
        let entry = entry_of(&mut next.log, own, &marks[place], title);
        entry.clock = Some(started(plan, now_ms));
    }
    next
}

/// Starts a clock of the log again, now, in the air that it was told last.
pub fn start_again(done: &Done, entry: usize, now_ms: f64) -> Done {
    let mut next = done.clone();
    let own = next.log.entries.get_mut(entry);
    let Some(own) = own else {
        return next;
    };
    if let Some(drying) = own.drying.as_mut() {
        drying.on_ms = now_ms;
    }
    if let Some(clock) = own.clock.as_mut() {
        clock.airs = vec![AirFrom {
            from_ms: now_ms,
            air_c: clock::air_c(clock),
        }];
        clock.on_ms = now_ms;
    }
    next
}

/// Takes a clock of the log away; a tick stays.
pub fn stop(done: &Done, entry: usize) -> Done {
    let mut next = done.clone();
    if let Some(of) = next.log.entries.get_mut(entry) {
        (of.clock, of.drying) = (None, None);
    }
    next.log.entries.retain(|entry| !entry.is_empty());
    next
}

/// Notes something of a step, in place of what was noted of it before; nothing where that is
/// too long.
pub fn note(
    plan: &Plan,
    done: &Done,
    id: &str,
    title: &str,
    typed: &str,
    now_ms: f64,
) -> Option<Done> {
    let note = note_of(typed)?;
    let marks = marks(plan);
    let mut next = done.clone();
    let Some(place) = marks.iter().position(|step| step.0 == id) else {
        return Some(next);
    };
    let own = entries(&marks, &next.log)[place];
    let before = own.and_then(|own| next.log.entries.get(own));
    if before.map_or("", |it| it.note.as_str()) == note {
        return Some(next);
    }
    let entry = entry_of(&mut next.log, own, &marks[place], title);
    entry.noted_ms = Some(now_ms).filter(|_| !note.is_empty());
    entry.note = note;
    next.log.entries.retain(|entry| !entry.is_empty());
    Some(next)
}

/// The same behind what was noted of it before; where both are too long, what was noted stays.
pub fn note_behind(
    plan: &Plan,
    done: &Done,
    id: &str,
    title: &str,
    said: &str,
    now_ms: f64,
) -> Done {
    let marks = marks(plan);
    let place = marks.iter().position(|step| step.0 == id);
    let own = place.and_then(|place| entries(&marks, &done.log)[place]);
    let before = own.and_then(|own| done.log.entries.get(own));
    let both = match before.map(|it| it.note.as_str()) {
        None | Some("") => said.to_owned(),
        Some(before) if said.is_empty() => before.to_owned(),
        Some(before) => format!("{before}; {said}"),
    };
    note(plan, done, id, title, &both, now_ms).unwrap_or_else(|| done.clone())
}

/// Puts a photograph to a step; nothing where it has as many as it takes.
pub fn add_photo(
    plan: &Plan,
    done: &Done,
    id: &str,
    title: &str,
    name: &str,
    now_ms: f64,
) -> Option<Done> {
    let marks = marks(plan);
    let mut next = done.clone();
    let place = marks.iter().position(|step| step.0 == id);
    let Some(place) = place.filter(|_| is_photo_name(name)) else {
        return Some(next);
    };
    let own = entries(&marks, &next.log)[place];
    let entry = entry_of(&mut next.log, own, &marks[place], title);
    if entry.photos.len() >= MOST_PHOTOS {
        return None;
    }
    entry.photos.push(Photo {
        name: name.to_owned(),
        on_ms: now_ms,
    });
    Some(next)
}

/// Takes a photograph out of the log, wherever it stands there.
pub fn remove_photo(done: &Done, name: &str) -> Done {
    let mut next = done.clone();
    for entry in &mut next.log.entries {
        entry.photos.retain(|it| it.name != name);
    }
    next.log.entries.retain(|entry| !entry.is_empty());
    next
}

/// Tells a clock of the log, or all that do not have their full strength yet, how warm it is
/// around them from now on.
///
/// # Errors
/// When the text is no temperature that a shop has; everything stays as it is.
pub fn tell_air(
    design: &Design,
    done: &Done,
    entry: Option<usize>,
    typed: &str,
    now_ms: f64,
) -> Result<Done, Trouble> {
    let told = design.with_typed(key::SHOP_TEMPERATURE, typed)?;
    let air_c = shop_c(&told);
    let mut next = done.clone();
    for (at, of) in next.log.entries.iter_mut().enumerate() {
        let Some(clock) = of.clock.as_mut() else {
            continue;
        };
        let is_meant = entry.map_or(clock::stage(clock, now_ms) != Stage::Full, |it| it == at);
        if is_meant && (clock::air_c(clock) - air_c).abs() > 1e-9 {
            clock.airs.push(AirFrom {
                from_ms: now_ms,
                air_c,
            });
        }
    }
    Ok(next)
}

/// The shop's temperature, degrees Celsius.
fn shop_c(design: &Design) -> f64 {
    let climate = design.climate.clone().unwrap_or_else(Climate::usual);
    climate.shop_temperature_c
}

fn is_glue_up(plan: &Plan, place: usize) -> bool {
    let step = plan.order().and_then(|order| order.steps.get(place));
    step.is_some_and(order::Step::is_glue_up)
}

/// The coat that goes on in a step.
fn drying(plan: &Plan, place: usize, now_ms: f64) -> Option<Drying> {
    let step = plan.order()?.steps.get(place)?;
    let is_coat = matches!(step.work, Work::Finishing(FinishWork::Coat(_)));
    is_coat.then(|| Drying {
        on_ms: now_ms,
        wait_min: finish::finish(&plan.design).wait_min,
    })
}

fn started(plan: &Plan, now_ms: f64) -> Clock {
    Clock {
        glue: plan.design.bench_or_usual().glue,
        on_ms: now_ms,
        airs: vec![AirFrom {
            from_ms: now_ms,
            air_c: shop_c(&plan.design),
        }],
    }
}

/// The log's entry of a step, entered where there is none, as the step is now.
fn entry_of<'l>(
    log: &'l mut Log,
    own: Option<usize>,
    step: &(String, String),
    title: &str,
) -> &'l mut Entry {
    let place = own.unwrap_or(log.entries.len());
    if own.is_none() {
        log.entries.push(Entry {
            id: String::new(),
            mark: String::new(),
            title: String::new(),
            done_ms: None,
            clock: None,
            drying: None,
            note: String::new(),
            noted_ms: None,
            photos: Vec::new(),
        });
    }
    let entry = &mut log.entries[place];
    (entry.id, entry.mark) = step.clone();
    title.clone_into(&mut entry.title);
    entry
}
