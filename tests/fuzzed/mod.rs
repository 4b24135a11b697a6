//! What is done with any bytes whatever, so that nothing panics, nothing takes longer than
//! a second, and no figure is anything but a number. `fuzz/` runs these under libFuzzer,
//! `tests/fuzz.rs` over kept inputs and a few thousand changes of them.

mod hand;
mod screens;

use hand::Hand;
use ringwright::design::example::Example;
use ringwright::design::field::{FIELDS, LISTS, at_mut, expand, find};
use ringwright::design::read::to_value;
use ringwright::design::trouble::{Reason, Trouble};
use ringwright::design::{Design, example, link};
use ringwright::edit::ring_list::Listed;
use ringwright::edit::{self, start};
use ringwright::plan::built::Reorder;
use ringwright::plan::plan;
use ringwright::show::change::{self, Change};
use ringwright::units::{length, reading};
pub use screens::is_sound;
use serde_json::{Map, Value, json};
use std::sync::LazyLock;

/// A name and what it does with bytes; how many things in them were taken: a run in which
/// none are tries nothing.
pub type Target = (&'static str, fn(&[u8]) -> usize);

/// Every target.
pub const TARGETS: &[Target] = &[
    ("link", read_link),
    ("length", read_length),
    ("file", read_file),
    ("edits", edits),
    ("glued", glued),
    ("boards", boards),
];

/// More changes by hand than this say nothing new and take long.
const MOST_EDITS: usize = 40;

/// What takes a while is done with one input in so many only, always the same ones: under
/// libFuzzer, which tries millions, and counts every step besides.
const MOSTLY: u64 = if cfg!(fuzzing) { 16 } else { 1 };
/// The same of what takes long.
const OFTEN: u64 = 16 * MOSTLY;
/// The same of what takes longest.
const SELDOM: u64 = 32 * OFTEN;

/// How woods may be repeated round a ring, and one way that there is not.
const PATTERNS: [&str; 7] = [
    "all", "every2", "every3", "every4", "blocks2", "blocks3", "every9",
];

/// What a link holds, behind a checksum that fits: else nearly none would be read.
fn read_link(packed: &[u8]) -> usize {
    let Ok((design, _)) = link::decode(&link_around(packed)) else {
        return 0;
    };
    reads_back(&design);
    let again = link::decode(&link::encode(&design)).expect("our own link opens");
    assert_eq!(again.0, design, "a link changes the design");
    screens::some(&design, &mut Hand::new(packed));
    1
}

/// The link that holds these bytes.
fn link_around(packed: &[u8]) -> String {
    use base64ct::{Base64UrlUnpadded, Encoding as _};
    let mut bytes = packed.to_vec();
    bytes.extend(checksum(packed).to_be_bytes());
    format!(
        "{}{}",
        link::PREFIX,
        Base64UrlUnpadded::encode_string(&bytes)
    )
}

/// What an example's link holds, to begin from.
fn packed_example(place: usize) -> Vec<u8> {
    use base64ct::{Base64UrlUnpadded, Encoding as _};
    let link = example::ALL[place].link.trim_start_matches(link::PREFIX);
    let mut bytes = Base64UrlUnpadded::decode_vec(link).expect("an example's link");
    bytes.truncate(bytes.len() - 2);
    bytes
}

/// CRC-16/XMODEM, a bit at a time.
fn checksum(bytes: &[u8]) -> u16 {
    let mut sum = 0_u16;
    for bit in bytes
        .iter()
        .flat_map(|byte| (0..8).rev().map(move |at| byte >> at & 1))
    {
        let carry = u16::from(bit) ^ sum >> 15;
        sum = (sum << 1) ^ (carry * 0x1021);
    }
    sum
}

/// Any text, in every unit.
fn read_length(bytes: &[u8]) -> usize {
    let typed = String::from_utf8_lossy(bytes);
    let mut is_read = false;
    for unit in hand::UNITS {
        if let Ok(length_mm) = reading::parse(&typed, unit) {
            is_read = true;
            assert!(length_mm.is_finite(), "{typed:?} is read as {length_mm}");
            screens::is_sound(&length::show(length_mm, unit));
            // No field takes more than this, so none writes it.
            if length_mm.abs() > 1e6 {
                continue;
            }
            let text = length::entry_text(length_mm, unit);
            let again = reading::parse(&text, unit).expect("our own text is a length");
            let is_same = (again - length_mm).abs() <= 0.02 + 1e-6 * length_mm.abs();
            assert!(
                is_same,
                "{typed:?}: {length_mm} is written {text:?}, read {again}"
            );
        }
    }
    if let Ok(number) = reading::parse_number(&typed, &[]) {
        assert!(number.is_finite(), "{typed:?} is read as {number}");
    }
    let design = Design::default();
    let field = &FIELDS[bytes.first().map_or(0, |byte| usize::from(*byte)) % FIELDS.len()];
    let _ = edit::type_in(&design, &field.key.replace('*', "0"), &typed);
    usize::from(is_read)
}

/// Any text as a file; where it is no JSON, an example with some of its parts exchanged.
fn read_file(bytes: &[u8]) -> usize {
    let mut hand = Hand::new(bytes);
    let value = serde_json::from_slice(bytes).unwrap_or_else(|_| spoiled(&mut hand));
    let Ok((design, _)) = Design::restore(&value) else {
        return 0;
    };
    if hand.is_one_in(4) {
        reads_back(&design);
    }
    screens::some(&design, &mut hand);
    1
}

/// An example with some of its parts exchanged.
fn spoiled(hand: &mut Hand) -> Value {
    // Small ones mostly: what is wrong with a large one is mostly so with them.
    let mut whole = match hand.below(8) {
        0 => to_value(example_design(1)),
        1..4 => to_value(example_design(0)),
        _ => to_value(&Design::default()),
    };
    while !hand.is_empty() {
        let key = if hand.below(8) == 0 {
            hand.one_of(LISTS).key.to_owned()
        } else {
            let keys = expand(hand.one_of(FIELDS).key, &whole);
            let Some(key) = keys.get(hand.below(keys.len().max(1))) else {
                continue;
            };
            key.clone()
        };
        let new = hand.value();
        if let Some(part) = at_mut(&mut whole, &key) {
            *part = new;
        }
    }
    whole
}

/// An example: read once, for it is asked for with nearly every input.
fn example_design(place: usize) -> &'static Design {
    static READ: LazyLock<Vec<Design>> = LazyLock::new(|| {
        let read = |it: &Example| link::decode(it.link).expect("an example opens").0;
        example::ALL.iter().map(read).collect()
    });
    &READ[place % READ.len()]
}

/// What was read is taken again without a word, and is the same; of a newer form's that
/// alone is said again.
fn reads_back(design: &Design) {
    let (again, troubles) = Design::restore(&to_value(design)).expect("our own file opens");
    let is_newer = |it: &Trouble| it.reason == Reason::Newer;
    assert!(troubles.iter().all(is_newer), "{troubles:?}");
    assert_eq!(&again, design);
}

/// Changes by hand in any order, with any numbers; then what the page shows.
fn edits(bytes: &[u8]) -> usize {
    let mut hand = Hand::new(bytes);
    let mut taken = 0;
    let mut design = match hand.below(8) {
        0 => Design::default(),
        place => example_design(place).clone(),
    };
    for _ in 0..MOST_EDITS {
        if hand.is_empty() {
            break;
        }
        let next = screens::within_a_second("a change", || changed(&design, &mut hand));
        taken += usize::from(next != design);
        design = next;
        if hand.is_one_in(OFTEN) {
            reads_back(&design);
        }
    }
    reads_back(&design);
    screens::some(&design, &mut hand);
    taken
}

/// Lists of boards, and beginnings of some.
const BOARDS: [&str; 6] = [
    "2 x 6 x 48 x 7/8 maple; 4 x 36 x 1 walnut\n",
    "150 × 1200 × 22,5, ",
    "x,x;×1/0 9x",
    "9999 of 20000 mm x 1 ft x ½",
    "é木 4/4 4/4 4/4, 1 1 1 ",
    "",
];

/// One change, mostly by its name, as it comes through the page's door.
fn changed(design: &Design, hand: &mut Hand) -> Design {
    // Typing is what hands do most.
    let place = hand.below(change::ALL.len() + 7);
    if place == change::ALL.len() + 1 {
        let typed = format!("{}{}", hand.one_of(&BOARDS), hand.word());
        let added = edit::board_list::add_boards(design, &typed);
        return added.unwrap_or_else(|_| design.clone());
    }
    if place == change::ALL.len() {
        // A list of rings comes through a door of its own, since it may be refused: so do boards.
        let added = edit::ring_list::add_rings(
            design,
            hand.word(),
            Listed {
                is_from_rim: hand.below(2) == 1,
                is_instead: hand.below(2) == 1,
            },
        );
        return added.unwrap_or_else(|_| design.clone());
    }
    let Some(asked) = change::ALL.get(place) else {
        return typed(design, hand);
    };
    change::change(design, &with_parts(asked, hand)).unwrap_or_else(|_| design.clone())
}

/// A change with parts such as the page hands over, and some that it never would.
fn with_parts(asked: &Change, hand: &mut Hand) -> Value {
    let is_on_section = !asked.parts.iter().any(|(name, _)| *name == "set");
    let mut whole = Map::from_iter([("kind".to_owned(), asked.kind.into())]);
    for (name, is) in asked.parts {
        let part = match (*name, *is) {
            ("shape", _) => hand.one_of(start::ALL).word.into(),
            ("pattern", _) => (*hand.one_of(&PATTERNS)).into(),
            ("laid", _) => (*hand.one_of(&["chevron", "slant", "x"])).into(),
            ("of", _) => (*hand.one_of(&["shop", "dry", "damp", ""])).into(),
            ("described", _) => hand.air().into(),
            (_, "String") => hand.word().into(),
            (_, "Numbers") => hand.view(if is_on_section { 3 } else { 7 }),
            (_, "f64") => hand.number().into(),
            _ => hand.place().into(),
        };
        whole.insert((*name).to_owned(), part);
    }
    whole.into()
}

/// Some text typed into some field: mostly one that it takes.
fn typed(design: &Design, hand: &mut Hand) -> Design {
    let of_all = edit::SCALED
        .iter()
        .chain(edit::SAID.iter().copied())
        .chain(edit::open_ring::SPIRAL);
    let of_all: Vec<&str> = of_all.map(|field| field.key).collect();
    let place = hand.below(FIELDS.len() + of_all.len());
    let key = match place.checked_sub(FIELDS.len()) {
        Some(place) => of_all[place].replacen('*', &hand.place().to_string(), 1),
        None => FIELDS[place]
            .key
            .replacen('*', &hand.place().to_string(), 1)
            .replace('*', "0"),
    };
    let text = hand.typed(find(&key).map(|field| field.kind));
    edit::type_in(design, &key, &text).unwrap_or_else(|_| design.clone())
}

/// A stack of glued rings with any readings; then everything that the page shows.
fn glued(bytes: &[u8]) -> usize {
    let mut hand = Hand::new(bytes);
    let mut design = start_design(&mut hand);
    let mut whole = to_value(&design);
    let count = 1 + hand.below(12);
    if let Some(Value::Array(rings)) = whole.pointer_mut("/vessel/rings") {
        rings.truncate(count);
        for ring in rings {
            if hand.below(6) == 0 {
                continue;
            }
            ring["measured"] = reading(&mut hand);
            ring["segment_count"] = (3 + hand.below(60)).into();
        }
    }
    whole["vessel"]["outline_is"] = (*hand.one_of(&["own", "in_rings"])).into();
    if let Ok((read, _)) = Design::restore(&whole) {
        design = read;
    }
    let changes = hand.below(4);
    for _ in 0..if hand.is_one_in(MOSTLY) { changes } else { 0 } {
        design = match hand.below(4) {
            0 => edit::built::take_nearest(&design),
            1 => edit::built::draw_in_rings(&design),
            2 => edit::built::reorder(&design, Reorder::Turn(hand.place())),
            _ => {
                let field = hand.one_of(edit::built::OF_ALL);
                let typed = *hand.one_of(&["corners", "flats", "7", "round", "2"]);
                edit::type_in(&design, field.key, typed).unwrap_or(design)
            }
        };
    }
    if hand.is_one_in(OFTEN) {
        reads_back(&design);
    }
    screens::some(&design, &mut hand);
    let rings = design.vessel.iter().flat_map(|vessel| &vessel.rings);
    rings.filter(|ring| ring.is_glued()).count()
}

/// A shape to begin from, divided into rings: mostly one of a few that are made once.
fn start_design(hand: &mut Hand) -> Design {
    static MADE: LazyLock<Vec<Design>> = LazyLock::new(|| {
        let shapes = start::ALL.iter().map(|shape| shape.word);
        shapes
            .flat_map(|word| [60.0, 200.0, 500.0].map(|height_mm| begun(word, height_mm)))
            .collect()
    });
    if hand.below(16) == 15 {
        let word = hand.one_of(start::ALL).word;
        return begun(word, hand.length());
    }
    hand.one_of(&MADE).clone()
}

fn begun(word: &str, height_mm: f64) -> Design {
    start::divide(&start::begin(&Design::default(), word, 250.0, height_mm))
}

fn reading(hand: &mut Hand) -> Value {
    let length = |hand: &mut Hand| match hand.below(4) {
        0 => Value::Null,
        _ => hand.length().into(),
    };
    let (outside, inside, height) = (length(hand), length(hand), length(hand));
    let (upper_outside, upper_inside) = (length(hand), length(hand));
    let across = ["flats", "corners", "round"];
    json!({
        "outside_diameter_mm": outside, "inside_diameter_mm": inside, "height_mm": height,
        "upper_outside_diameter_mm": upper_outside, "upper_inside_diameter_mm": upper_inside,
        "outside_across": hand.one_of(&across), "inside_across": hand.one_of(&across),
    })
}

/// Any boards for an example; then the search for the best ones and its answer.
fn boards(bytes: &[u8]) -> usize {
    let mut hand = Hand::new(bytes);
    let mut whole = to_value(example_design(hand.below(2)));
    // A ring alone mostly: it has its boards soonest.
    if hand.below(8) != 0 {
        whole["vessel"] = Value::Null;
        whole["ring"]["segment_count"] = (3 + hand.below(358)).into();
    }
    for key in ["strip_length_mm", "kerf_mm", "hold_back_mm"] {
        if hand.below(4) == 0 {
            whole["shop"][key] = hand.length().into();
        }
    }
    let list: Vec<Value> = (0..=hand.below(8)).map(|_| board(&mut hand)).collect();
    whole["rack"] = json!({
        "goal": hand.one_of(&["fewest", "cheapest", "least_wood"]),
        "plane_at_most_mm": hand.length(),
        "boards": list,
        "is_edge_glued": hand.below(2) == 1,
    });
    let (design, _) = Design::restore(&whole).expect("an example's file opens");
    screens::boards(&plan(&design), &mut hand);
    design.rack.map_or(0, |rack| rack.boards.len())
}

fn board(hand: &mut Hand) -> Value {
    let avoid: Vec<Value> = (0..hand.below(4))
        .map(|_| {
            let mut edge = || match hand.below(2) {
                0 => Value::Null,
                _ => hand.length().into(),
            };
            let (across_from_mm, across_to_mm) = (edge(), edge());
            json!({
                "from_mm": hand.length(), "to_mm": hand.length(),
                "across_from_mm": across_from_mm, "across_to_mm": across_to_mm,
            })
        })
        .collect();
    json!({
        "wood": hand.word(), "thickness_mm": hand.length(),
        "thickness_is": hand.one_of(&["rough", "planed"]),
        "width_mm": hand.length(), "length_mm": hand.length(), "number": hand.below(30),
        "price": if hand.below(3) == 0 { Value::Null } else { hand.length().into() },
        "price_for": hand.one_of(&["piece", "board_foot"]), "avoid": avoid,
    })
}

/// Inputs to begin from: each target's own, beside what is kept in `fuzz/corpus/`.
pub fn seeds(target: &str) -> Vec<Vec<u8>> {
    match target {
        "link" => (0..example::ALL.len()).map(packed_example).collect(),
        "length" => ["7 1/2", "190.5 mm", "1' 2 3/4\"", "-0,5", "1e3 cm", "⅞"]
            .map(|text| text.as_bytes().to_vec())
            .into(),
        "file" => vec![
            to_value(&Design::default()).to_string().into_bytes(),
            vec![0; 64],
        ],
        _ => vec![
            vec![0; 16],
            vec![77; 200],
            (0..=255).collect(),
            (0..=255).rev().collect(),
        ],
    }
}
