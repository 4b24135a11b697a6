//! What a hand does to the list of boards: each change takes a design and gives a new one.

use crate::design::field::{key, most_of};
use crate::design::{Avoid, Board, Design, Rack};
use crate::trade::wood;

/// Changes the rack of a design, begun when there was none.
fn with_rack(design: &Design, change: impl FnOnce(&mut Rack)) -> Design {
    let mut design = design.clone();
    change(design.rack.get_or_insert_with(Rack::empty));
    design
}

/// Adds a board of a usual size, of the first wood that the piece is made of and that no
/// board is of yet.
pub fn add(design: &Design) -> Design {
    let mut woods: Vec<String> = match &design.vessel {
        Some(vessel) => {
            let used = vessel.woods_used().into_iter();
            used.map(|wood| vessel.woods[wood].clone()).collect()
        }
        None => vec![design.ring.wood.clone()],
    };
    let first = woods.first().cloned().unwrap_or_default();
    if let Some(rack) = &design.rack {
        let is_there = |wood: &String| {
            let same = |board: &Board| wood::is_same(&board.wood, wood);
            rack.boards.iter().any(same)
        };
        woods.retain(|wood| !is_there(wood));
    }
    let board = Board::usual(woods.first().unwrap_or(&first));
    with_rack(design, |rack| {
        if rack.boards.len() < most_of(key::BOARDS) {
            rack.boards.push(board);
        }
    })
}

/// Puts a copy of a board behind it.
pub fn copy(design: &Design, place: usize) -> Design {
    with_rack(design, |rack| {
        if let Some(board) = rack.boards.get(place).cloned()
            && rack.boards.len() < most_of(key::BOARDS)
        {
            rack.boards.insert(place + 1, board);
        }
    })
}

/// Takes a board off the list.
pub fn remove(design: &Design, place: usize) -> Design {
    with_rack(design, |rack| {
        if place < rack.boards.len() {
            rack.boards.remove(place);
        }
    })
}

/// Adds a spot to avoid, at the board's middle.
pub fn add_avoid(design: &Design, place: usize) -> Design {
    with_rack(design, |rack| {
        if let Some(board) = rack.boards.get_mut(place)
            && board.avoid.len() < most_of("rack.boards.*.avoid")
        {
            let middle = (board.length_mm / 2.0).round();
            board.avoid.push(Avoid::length(middle, middle));
        }
    })
}

/// Takes one away again.
pub fn remove_avoid(design: &Design, place: usize, avoid: usize) -> Design {
    with_rack(design, |rack| {
        if let Some(board) = rack.boards.get_mut(place)
            && avoid < board.avoid.len()
        {
            board.avoid.remove(avoid);
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_board_is_proposed_of_a_wood_that_the_piece_is_not_of() {
        let bowl = crate::edit::start::begin(&Design::default(), "bowl", 254.0, 101.6);
        let woods = bowl.vessel.as_ref().unwrap().woods.clone();
        assert!(woods.len() > 1, "one of them painted nowhere");
        let of = |design: &Design| -> Vec<String> {
            let boards = &design.rack.as_ref().unwrap().boards;
            boards.iter().map(|board| board.wood.clone()).collect()
        };
        assert_eq!(of(&add(&add(&bowl))), [woods[0].clone(), woods[0].clone()]);
        let painted = crate::edit::vessel::paint(&bowl, 1, 0, 1);
        assert_eq!(of(&add(&add(&painted))), woods[..2]);
    }

    #[test]
    fn the_list_takes_no_more_than_it_can_be_read_with() {
        let mut design = Design::default();
        for _ in 0..70 {
            design = add(&copy(&design, 0));
            design = add_avoid(&design, 0);
        }
        let (back, troubles) = Design::restore(&crate::design::read::to_value(&design)).unwrap();
        assert_eq!((back, troubles), (design.clone(), vec![]));
        let fewer = remove_avoid(&remove(&design, 59), 0, 11);
        let rack = fewer.rack.unwrap();
        assert_eq!((rack.boards.len(), rack.boards[0].avoid.len()), (59, 11));
        assert_eq!(remove(&design, 60), design);
    }
}
