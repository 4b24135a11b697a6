//! Boards, for the page: the fields, and the search that goes on step by step between
//! frames.

use super::memory::{Known, from_js};
use super::values::to_js;
use crate::design::Design;
use crate::draw::MM_PER_PX;
use crate::draw::svg::{to_layers, to_screen};
use crate::plan::board::Answer;
use crate::show::{figures, pictures};
use std::rc::Rc;
use wasm_bindgen::prelude::*;

/// The fields to enter boards, and the quick estimate.
#[wasm_bindgen(unchecked_return_type = "BoardsScreen")]
pub fn show_boards(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
) -> Result<JsValue, JsError> {
    to_js(&figures::boards::boards(&from_js(design)?.plan))
}

/// Each board with what is to be avoided on it, so many CSS pixels wide; nothing for one that is
/// clear.
#[wasm_bindgen]
pub fn board_faces(
    #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    width_px: f64,
) -> Result<Vec<String>, JsError> {
    let design = from_js(design)?;
    let boards = design.rack.iter().flat_map(|rack| &rack.boards).enumerate();
    let faces = boards.map(|(place, board)| {
        if board.avoid.is_empty() {
            return String::new();
        }
        let drawing = pictures::boards::face(&design, board, width_px * MM_PER_PX);
        to_screen(&drawing, &format!("face-{place}")).svg
    });
    Ok(faces.collect())
}

/// A search for the best boards of one design. The page makes one for every change, and
/// lets it go on between frames.
#[wasm_bindgen]
pub struct BoardsAtWork {
    /// Work done in all.
    done: u64,
    design: Rc<Known>,
}

impl BoardsAtWork {
    pub(super) fn design(&self) -> &Design {
        &self.design
    }

    /// The answer as it stands.
    pub(super) fn answer(&self) -> Option<Answer> {
        self.design.plan.boards(self.done)
    }
}

#[wasm_bindgen]
impl BoardsAtWork {
    /// Begins.
    #[wasm_bindgen(constructor)]
    pub fn new(
        #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
    ) -> Result<BoardsAtWork, JsError> {
        let design = from_js(design)?;
        Ok(BoardsAtWork { done: 0, design })
    }

    /// Goes on for about so much work; says whether it has ended.
    pub fn step(&mut self, work: u32) -> bool {
        self.done += u64::from(work);
        self.answer().is_none_or(|answer| answer.is_done)
    }

    /// The piece that they are for, of this size in CSS pixels; empty for a ring alone.
    pub fn piece(&self, width_px: f64, height_px: f64) -> String {
        let stack = self.design.plan.stack();
        stack.map_or_else(String::new, |stack| {
            let (width, height) = (width_px * MM_PER_PX, height_px * MM_PER_PX);
            to_layers(&pictures::picture::small(stack, width, height), false)
        })
    }

    /// The answer as it stands, its drawings so many CSS pixels wide.
    #[wasm_bindgen(unchecked_return_type = "BoardsAnswer | null")]
    pub fn show(&self, width_px: f64) -> Result<JsValue, JsError> {
        let Some(answer) = self.answer() else {
            return Ok(JsValue::NULL);
        };
        let boards = self
            .design
            .rack
            .as_ref()
            .map_or(&[][..], |rack| &rack.boards);
        let draw = |place: usize, layout: &crate::plan::board::Layout| {
            let drawing = pictures::boards::draw(
                &self.design,
                &boards[layout.board],
                layout,
                &answer,
                width_px * MM_PER_PX,
                None,
            );
            to_screen(&drawing, &format!("board-{place}")).svg
        };
        to_js(&figures::boards::answer(&self.design, &answer, draw))
    }
}
