//! The log of the bench: what was done when, and the clocks of the joints that set. It is
//! kept beside the design, as the ticks are, and is no part of it: a link needs no clock.

use super::kind::clean_text;
use crate::trade::glue::Glue;
use crate::units::kept::{Kept, kept_record, part};
use serde_json::{Map, Value};

/// The farthest moment that a browser's calendar knows: 100 million days about 1970
/// (ECMA-262, "Time Values and Time Range").
const MOST_MS: f64 = 8.64e15;

/// So many letters of a title are kept, and of an id and a mark: none that was entered here is
/// longer (our own choice, no published source).
const MOST_TITLE: usize = 200;
const MOST_ID: usize = 64;

/// So many letters a note has at most (our own choice, no published source).
pub const MOST_NOTE: usize = 500;

kept_record! {
    /// The air round a joint from a moment on.
    pub struct AirFrom {
        /// Milliseconds since 1970, UTC.
        pub from_ms: f64,
        /// Degrees Celsius.
        pub air_c: f64,
    }
}

/// The clock of one glue-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Clock {
    /// The glue.
    pub glue: Glue,
    /// When it was spread; milliseconds since 1970, UTC.
    pub on_ms: f64,
    /// The air since then, in the order in which it was told.
    pub airs: Vec<AirFrom>,
}

kept_record! {
    /// A coat of finish that dries.
    pub struct Drying {
        /// When it went on; milliseconds since 1970, UTC.
        pub on_ms: f64,
        /// How long it dries, minutes.
        pub wait_min: f64,
    }
}

kept_record! {
    /// A photograph of a step. The picture itself stays on the device, or goes along in the
    /// design's file: the log has its name.
    pub struct Photo {
        /// Tells it from all others.
        pub name: String,
        /// When it was put there; milliseconds since 1970, UTC.
        pub on_ms: f64,
    }
}

/// So many photographs a step has at most (our own choice, no published source).
pub const MOST_PHOTOS: usize = 12;

/// The longer side of a photograph as it is kept, pixels: enough to see a joint by, and small
/// enough for a hundred of them (our own choice, no published source).
const PHOTO_SIDE_PX: f64 = 1280.0;

/// How large a picture of so many pixels is kept; nothing where it has none.
pub fn photo_size_px(width_px: f64, height_px: f64) -> Option<[f64; 2]> {
    let longer_px = width_px.max(height_px);
    let is_picture = width_px >= 1.0 && height_px >= 1.0 && longer_px.is_finite();
    let scale = (PHOTO_SIDE_PX / longer_px).min(1.0);
    is_picture.then(|| [width_px, height_px].map(|side_px| (side_px * scale).round().max(1.0)))
}

/// Whether this can be a photograph's name: as the page makes them, safe in keys.
pub fn is_photo_name(name: &str) -> bool {
    let is_hex = |letter: u8| matches!(letter, b'0'..=b'9' | b'a'..=b'f');
    name.len() == 16 && name.bytes().all(is_hex)
}

/// A step as the log has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The step's id when it was entered.
    pub id: String,
    /// The mark of its numbers then.
    pub mark: String,
    /// What it was called then: it may be gone from the order of work.
    pub title: String,
    /// When it was ticked; milliseconds since 1970, UTC.
    pub done_ms: Option<f64>,
    /// Its clock.
    pub clock: Option<Clock>,
    /// Its coat.
    pub drying: Option<Drying>,
    /// What the turner noted of it; empty where nothing.
    pub note: String,
    /// When that was noted last.
    pub noted_ms: Option<f64>,
    /// Its photographs.
    pub photos: Vec<Photo>,
}

impl Entry {
    /// Whether it tells nothing any more.
    pub fn is_empty(&self) -> bool {
        self.done_ms.is_none()
            && self.clock.is_none()
            && self.drying.is_none()
            && self.note.is_empty()
            && self.photos.is_empty()
    }
}

/// A note without control characters and space at its ends; nothing where it is too long.
pub fn note_of(typed: &str) -> Option<String> {
    let spaced: String = typed
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let note = clean_text(spaced.trim(), MOST_NOTE + 1);
    (note.chars().count() <= MOST_NOTE).then_some(note)
}

/// What was done at the bench, and when.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Log {
    /// The steps, in the order in which they were entered.
    pub entries: Vec<Entry>,
}

impl Log {
    /// Reads a log that was kept: what is spoiled in it is left out, and the rest stands.
    pub fn restore(value: &Value) -> Log {
        let entries = value.get("entries").and_then(Value::as_array);
        let entries = entries.into_iter().flatten().filter_map(entry);
        Log {
            entries: entries.collect(),
        }
    }

    /// Writes it.
    pub fn write(&self) -> Value {
        let entries: Value = self.entries.iter().map(written).collect();
        Value::Object(Map::from_iter([("entries".to_owned(), entries)]))
    }
}

fn moment(object: &Map<String, Value>, name: &str) -> Option<f64> {
    part(object, name).filter(|ms: &f64| ms.abs() <= MOST_MS)
}

fn entry(value: &Value) -> Option<Entry> {
    let object = value.as_object()?;
    let text = |name: &str| part::<String>(object, name).unwrap_or_default();
    let note = clean_text(&text("note"), MOST_NOTE);
    let id: String = part(object, "id")?;
    let entry = Entry {
        id: clean_text(&id, MOST_ID),
        mark: clean_text(&text("mark"), MOST_ID),
        title: clean_text(&text("title"), MOST_TITLE),
        done_ms: moment(object, "done_ms"),
        clock: object.get("clock").and_then(clock),
        drying: part(object, "drying").filter(is_drying),
        noted_ms: moment(object, "noted_ms").filter(|_| !note.is_empty()),
        note,
        photos: photos(object),
    };
    (!entry.is_empty()).then_some(entry)
}

fn photos(object: &Map<String, Value>) -> Vec<Photo> {
    let photos = object.get("photos").and_then(Value::as_array);
    let photos = photos.into_iter().flatten().filter_map(Photo::read);
    let is_whole = |it: &Photo| it.on_ms.abs() <= MOST_MS && is_photo_name(&it.name);
    photos.filter(is_whole).take(MOST_PHOTOS).collect()
}

/// No coat dries for more than a year.
const LONGEST_DRYING_MIN: f64 = 366.0 * 24.0 * 60.0;

fn is_drying(drying: &Drying) -> bool {
    drying.on_ms.abs() <= MOST_MS && (0.0..=LONGEST_DRYING_MIN).contains(&drying.wait_min)
}

fn clock(value: &Value) -> Option<Clock> {
    let object = value.as_object()?;
    let airs = object.get("airs").and_then(Value::as_array);
    let airs = airs.into_iter().flatten().filter_map(AirFrom::read);
    // Beyond what the field of the shop's temperature takes nothing was ever entered.
    let is_air = |air: &AirFrom| air.from_ms.abs() <= MOST_MS && air.air_c.abs() <= 100.0;
    Some(Clock {
        glue: part(object, "glue")?,
        on_ms: moment(object, "on_ms")?,
        airs: airs.filter(is_air).collect(),
    })
}

/// What there is nothing of is left out.
fn written(entry: &Entry) -> Value {
    let mut object = Map::new();
    let mut put = |name: &str, value: Value| {
        if !(value.is_null() || value.as_str().is_some_and(str::is_empty)) {
            object.insert(name.to_owned(), value);
        }
    };
    put("id", entry.id.write());
    put("mark", entry.mark.write());
    put("title", entry.title.write());
    put("done_ms", entry.done_ms.write());
    let clock = entry.clock.as_ref().map_or(Value::Null, |clock| {
        Value::Object(Map::from_iter([
            ("glue".to_owned(), clock.glue.write()),
            ("on_ms".to_owned(), clock.on_ms.write()),
            ("airs".to_owned(), clock.airs.write()),
        ]))
    });
    put("clock", clock);
    if let Some(drying) = &entry.drying {
        put("drying", drying.write());
    }
    put("note", entry.note.write());
    put("noted_ms", entry.noted_ms.write());
    if !entry.photos.is_empty() {
        put("photos", entry.photos.write());
    }
    Value::Object(object)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Log {
        Log::restore(&serde_json::from_str(text).unwrap())
    }

    #[test]
    fn a_log_comes_back_as_it_was() {
        let log = Log {
            entries: vec![Entry {
                id: "glue-3".to_owned(),
                mark: "a1".to_owned(),
                title: "Ring 3: dry-fit and glue up".to_owned(),
                done_ms: Some(1_795_000_000_000.0),
                clock: Some(Clock {
                    glue: Glue::WhitePva,
                    on_ms: 1_794_999_000_000.0,
                    airs: vec![AirFrom {
                        from_ms: 1_794_999_000_000.0,
                        air_c: 15.5,
                    }],
                }),
                drying: Some(Drying {
                    on_ms: 1_795_000_000_000.0,
                    wait_min: 1440.0,
                }),
                note: "The third joint was sanded.".to_owned(),
                noted_ms: Some(1_795_000_060_000.0),
                photos: vec![Photo {
                    name: "0123456789abcdef".to_owned(),
                    on_ms: 1_795_000_070_000.0,
                }],
            }],
        };
        assert_eq!(Log::restore(&log.write()), log);
    }

    #[test]
    fn a_photograph_is_made_small_and_never_larger() {
        assert_eq!(photo_size_px(4032.0, 3024.0), Some([1280.0, 960.0]));
        assert_eq!(photo_size_px(3024.0, 4032.0), Some([960.0, 1280.0]));
        assert_eq!(photo_size_px(640.0, 480.0), Some([640.0, 480.0]));
        assert_eq!(photo_size_px(1e9, 1.0), Some([1280.0, 1.0]));
        for none in [0.0, -5.0, f64::NAN, f64::INFINITY] {
            assert_eq!(photo_size_px(none, 480.0), None, "{none}");
            assert_eq!(photo_size_px(480.0, none), None, "{none}");
        }
    }

    #[test]
    fn what_is_spoiled_is_left_out_and_the_rest_stands() {
        for rubbish in [
            "null",
            "[]",
            "7",
            r#"{ "entries": 5 }"#,
            r#"{ "entries": [1, null, {}] }"#,
        ] {
            assert_eq!(read(rubbish), Log::default(), "{rubbish}");
        }
        let log = read(
            r#"{ "entries": [
                { "id": "a", "done_ms": 1e300, "clock": { "glue": "yellow_pva", "on_ms": 5, "airs": [
                    { "from_ms": 5, "air_c": 20 }, { "from_ms": "noon", "air_c": 20 }, { "from_ms": 6, "air_c": 1e9 }, 3
                ] } },
                { "id": "d", "done_ms": 7, "drying": { "on_ms": 1e18, "wait_min": 5 } },
                { "id": "e", "drying": { "on_ms": 5, "wait_min": -1 } },
                { "id": "f", "photos": [
                    { "name": "../../etc", "on_ms": 5 }, { "name": "0123456789ABCDEF", "on_ms": 5 },
                    { "name": "0123456789abcdef", "on_ms": 1e18 }, { "name": 7, "on_ms": 5 }, null
                ] },
                { "id": "b", "done_ms": "yesterday", "clock": { "glue": "toffee", "on_ms": 5 } },
                { "id": "c", "done_ms": 7, "clock": { "glue": "yellow_pva", "on_ms": -1e17, "airs": [] } }
            ] }"#,
        );
        let told: Vec<_> = log.entries.iter().map(|it| it.id.as_str()).collect();
        assert_eq!(told, ["a", "d", "c"]);
        assert_eq!(log.entries[1].drying, None);
        assert_eq!(log.entries[0].done_ms, None);
        assert_eq!(log.entries[0].clock.as_ref().unwrap().airs.len(), 1);
        assert_eq!(log.entries[2].clock, None);
    }
}
