//! The turner's shelf: the boards, offcuts and glued rings that lie in the shop, whichever design
//! takes them. It is a record of its own beside the designs.

use super::field::FIELDS;
use super::kind::clean_text;
use super::ring_shelf::{MOST_NOTE, RingOnShelf};
use super::{Avoid, Board};
use crate::units::kept::{Kept, kept_record, part};
use serde_json::{Map, Value, json};

/// So many rows of boards a shelf has at most, and so many rings (our own choice, no published
/// source).
pub const MOST_ON_SHELF: usize = 500;

kept_record! {
    /// Boards alike on the shelf.
    pub struct OnShelf {
        /// Their sizes, and how many there are.
        pub board: Board,
        /// Where they come from, or what the turner wrote; may be empty.
        pub note: String,
        /// The identity of the design that they are meant for; empty where they are free.
        pub wanted_by: String,
        /// What that design is called.
        pub wanted_for: String,
    }
}

/// What lies in the shop.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shelf {
    /// The boards.
    pub boards: Vec<OnShelf>,
    /// The glued rings.
    pub rings: Vec<RingOnShelf>,
}

/// A design as the shelf knows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taker<'a> {
    /// Its identity.
    pub id: &'a str,
    /// What it is called.
    pub name: &'a str,
}

/// What a change came to: how many boards went from the shelf and came to it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Moved {
    /// Taken off.
    pub off: u32,
    /// Laid on.
    pub on: u32,
}

impl Shelf {
    /// Reads a shelf that was kept. What of it cannot be read is left out; how many rows that
    /// are is told beside it.
    pub fn restore(value: &Value) -> (Shelf, usize) {
        let (boards, no_boards) = all_of(value, "boards", on_shelf);
        let (rings, no_rings) = all_of(value, "rings", RingOnShelf::read);
        let is_none = !value.is_null() && value.get("boards").is_none_or(|it| !it.is_array());
        let spoiled = no_boards + no_rings + usize::from(is_none);
        (Shelf { boards, rings }, spoiled)
    }

    /// Writes it.
    pub fn write(&self) -> Value {
        let boards: Value = self.boards.iter().map(Kept::write).collect();
        let rings: Value = self.rings.iter().map(RingOnShelf::write).collect();
        json!({ "boards": boards, "rings": rings })
    }
}

/// The rows of a list that can be read, and how many cannot.
fn all_of<T>(value: &Value, name: &str, read: impl Fn(&Value) -> Option<T>) -> (Vec<T>, usize) {
    let all = value.get(name).and_then(Value::as_array);
    let all = all.map_or(&[][..], Vec::as_slice);
    let read: Vec<T> = all.iter().filter_map(read).take(MOST_ON_SHELF).collect();
    let spoiled = all.len() - read.len();
    (read, spoiled)
}

fn on_shelf(value: &Value) -> Option<OnShelf> {
    let object = value.as_object()?;
    let text = |name: &str| {
        let text: Option<String> = part(object, name);
        clean_text(&text.unwrap_or_default(), MOST_NOTE)
    };
    Some(OnShelf {
        board: board(object.get("board")?)?,
        note: text("note"),
        wanted_by: text("wanted_by"),
        wanted_for: text("wanted_for"),
    })
}

/// A board that the fields of a design's boards take.
fn board(value: &Value) -> Option<Board> {
    let object = value.as_object()?;
    let mut taken = checked("rack.boards.*.", object)?;
    let avoid = object.get("avoid").and_then(Value::as_array);
    let avoid: Option<Vec<Value>> = avoid
        .into_iter()
        .flatten()
        .map(|it| {
            Some(Value::Object(checked(
                "rack.boards.*.avoid.*.",
                it.as_object()?,
            )?))
        })
        .collect();
    taken.insert("avoid".to_owned(), Value::Array(avoid?));
    let board = Board::read(&Value::Object(taken))?;
    (board.number > 0).then_some(board)
}

/// The fields right below `owner`, each as its own row of the design takes it.
fn checked(owner: &str, object: &Map<String, Value>) -> Option<Map<String, Value>> {
    let own = FIELDS
        .iter()
        .filter_map(|field| Some((field, field.key.strip_prefix(owner)?)));
    own.filter(|(_, name)| !name.contains('.'))
        .map(|(field, name)| {
            let value = object.get(name).unwrap_or(&Value::Null);
            Some((name.to_owned(), field.check(value).ok()?))
        })
        .collect()
}

/// What of a board's spots to avoid lies on a piece of it, told from the piece's own end and
/// edge: along the board from `from_mm` to `to_mm`, across it from `near_mm` to `far_mm`.
pub fn avoided(
    board: &Board,
    (from_mm, to_mm): (f64, f64),
    (near_mm, far_mm): (f64, f64),
) -> Vec<Avoid> {
    let within = board.avoid.iter().filter_map(|it| {
        let (low, high) = (it.from_mm.min(it.to_mm), it.from_mm.max(it.to_mm));
        let (low, high) = (low.max(from_mm) - from_mm, high.min(to_mm) - from_mm);
        let (near, far) = it.across_mm(board.width_mm);
        let (near, far) = (near.max(near_mm) - near_mm, far.min(far_mm) - near_mm);
        // An edge that the spot reaches is one without a figure.
        let wide_mm = far_mm - near_mm;
        (high > low && far - near > SOME_OF_SPOT_MM).then(|| Avoid {
            across_from_mm: (near > SOME_OF_SPOT_MM).then_some(near),
            across_to_mm: (far < wide_mm - SOME_OF_SPOT_MM).then_some(far),
            ..Avoid::length(low, high)
        })
    });
    within.collect()
}

/// So little of a spot's width is what rounding leaves.
const SOME_OF_SPOT_MM: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Measured, StackRing};

    fn row(number: u32) -> OnShelf {
        OnShelf {
            board: Board {
                number,
                avoid: vec![Avoid::length(10.0, 60.0)],
                ..Board::usual("Ash, white")
            },
            note: "by the window".to_owned(),
            wanted_by: "a1".to_owned(),
            wanted_for: "Bowl for a table".to_owned(),
        }
    }

    fn ring() -> RingOnShelf {
        let measured = Measured {
            outside_diameter_mm: Some(190.5),
            inside_diameter_mm: Some(127.0),
            height_mm: Some(19.05),
            ..Measured::nothing()
        };
        RingOnShelf {
            ring: StackRing {
                measured: Some(measured),
                pattern: vec![0, 1],
                ..StackRing::plain(19.05, 12)
            },
            woods: vec!["Ash, white".to_owned(), "Walnut, black".to_owned()],
            note: "Bowl for a table".to_owned(),
            wanted_by: String::new(),
            wanted_for: String::new(),
        }
    }

    #[test]
    fn a_spoiled_ring_is_counted_and_the_rest_stands() {
        let shelf = Shelf {
            rings: vec![ring(); 7],
            ..Shelf::default()
        };
        let mut kept = shelf.write();
        let own = "ring";
        kept["rings"][0][own]["measured"]["height_mm"] = json!(-4);
        kept["rings"][1][own]["measured"]["outside_diameter_mm"] = Value::Null;
        kept["rings"][2][own]["pattern"] = json!([7]);
        kept["rings"][3]["woods"] = json!("Ash");
        kept["rings"][4][own] = json!("ring");
        kept["rings"][5] = Value::Null;
        let (read, spoiled) = Shelf::restore(&kept);
        assert_eq!((read.rings, spoiled), (vec![ring()], 6));
        // A shelf from before there were rings.
        kept.as_object_mut().unwrap().remove("rings");
        assert_eq!(Shelf::restore(&kept), (Shelf::default(), 0));
    }

    #[test]
    fn a_shelf_comes_back_as_it_was_kept() {
        let shelf = Shelf {
            boards: vec![row(2), row(3)],
            rings: vec![ring()],
        };
        assert_eq!(Shelf::restore(&shelf.write()), (shelf, 0));
        assert_eq!(Shelf::restore(&Value::Null), (Shelf::default(), 0));
    }

    #[test]
    fn what_is_spoiled_is_counted_and_the_rest_stands() {
        let mut kept = Shelf {
            boards: vec![row(2); 5],
            ..Shelf::default()
        }
        .write();
        kept["boards"][0]["board"]["width_mm"] = json!(-4);
        kept["boards"][1]["board"]["number"] = json!(0);
        kept["boards"][2]["board"]["avoid"][0]["to_mm"] = json!("far");
        kept["boards"][3] = json!("board");
        let (shelf, spoiled) = Shelf::restore(&kept);
        assert_eq!((shelf.boards, spoiled), (vec![row(2)], 4));
        for strange in [json!(3), json!({}), json!({ "boards": {} })] {
            assert_eq!(Shelf::restore(&strange), (Shelf::default(), 1), "{strange}");
        }
        let many = Shelf {
            boards: vec![row(1); MOST_ON_SHELF + 2],
            ..Shelf::default()
        };
        assert_eq!(Shelf::restore(&many.write()).1, 2);
    }

    #[test]
    fn spots_to_avoid_go_along_with_the_piece_that_has_them() {
        let mut board = row(1).board;
        board.width_mm = 100.0;
        let whole = (0.0, 100.0);
        let spans = |from_mm: f64, to_mm: f64| -> Vec<(f64, f64)> {
            let all = avoided(&board, (from_mm, to_mm), whole).into_iter();
            all.map(|it| (it.from_mm, it.to_mm)).collect()
        };
        assert_eq!(spans(0.0, 100.0), [(10.0, 60.0)]);
        assert_eq!(spans(40.0, 100.0), [(0.0, 20.0)]);
        assert_eq!(spans(60.0, 100.0), []);
        // From 20 down to 50 across.
        board.avoid[0].across_from_mm = Some(20.0);
        board.avoid[0].across_to_mm = Some(50.0);
        let across = |near_mm: f64, far_mm: f64| -> Vec<(Option<f64>, Option<f64>)> {
            let all = avoided(&board, (0.0, 100.0), (near_mm, far_mm)).into_iter();
            all.map(|it| (it.across_from_mm, it.across_to_mm)).collect()
        };
        assert_eq!(across(0.0, 100.0), [(Some(20.0), Some(50.0))]);
        assert_eq!(across(30.0, 90.0), [(None, Some(20.0))]);
        assert_eq!(across(0.0, 40.0), [(Some(20.0), None)]);
        assert_eq!(across(30.0, 40.0), [(None, None)]);
        assert_eq!(across(50.0, 100.0), []);
    }
}
