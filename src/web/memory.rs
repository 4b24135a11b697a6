//! The designs that crossed the door last, read and worked out.
//!
//! The page hands a design over with every call, many times between two changes. It never
//! changes one in place, so the same object is the same design: it is read once, and its
//! vessel is planned once. Nothing is kept here that the page does not hold itself.

use super::values::{from_object, to_js};
use crate::design::{self, Design};
use crate::plan::stack::StackPlan;
use crate::plan::{Plan, plan};
use std::cell::RefCell;
use std::ops::Deref;
use std::rc::Rc;
use wasm_bindgen::prelude::*;

/// The one before a change and the one after it.
const REMEMBERED: usize = 2;

/// A design as the library reads it, with all that follows from it.
pub(crate) struct Known {
    object: JsValue,
    /// What follows from it; costly parts are made when they are asked for.
    pub(crate) plan: Plan,
}

impl Known {
    fn new(object: JsValue, design: &Design) -> Rc<Known> {
        Rc::new(Known {
            object,
            plan: plan(design),
        })
    }

    /// The vessel's plan; nothing while there is none.
    pub(crate) fn stack(&self) -> Option<&StackPlan> {
        self.plan.stack()
    }
}

impl Deref for Known {
    type Target = Design;

    fn deref(&self) -> &Design {
        &self.plan.design
    }
}

thread_local! {
    static LAST: RefCell<Vec<Rc<Known>>> = const { RefCell::new(Vec::new()) };
}

/// The page's design.
pub(crate) fn from_js(object: JsValue) -> Result<Rc<Known>, JsError> {
    let same = LAST.with_borrow(|last| last.iter().find(|it| it.object == object).cloned());
    if let Some(known) = same {
        return Ok(known);
    }
    let design = from_object(object.clone())?;
    Ok(remember(Known::new(object, &design)))
}

/// Hands a changed design to the page, and knows it when it comes back.
pub(crate) fn hand_over(design: &Design) -> Result<JsValue, JsError> {
    let object = to_js(&design::read::to_value(design))?;
    remember(Known::new(object.clone(), design));
    Ok(object)
}

fn remember(known: Rc<Known>) -> Rc<Known> {
    LAST.with_borrow_mut(|last| {
        last.insert(0, known.clone());
        last.truncate(REMEMBERED);
    });
    known
}
