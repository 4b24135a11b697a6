//! Whether a changed design asks for more care than it did.

use crate::plan::Plan;
use crate::plan::caution::{Caution, SlotCaution, StripeCaution};
use std::mem::{Discriminant, discriminant};

/// A kind of caution, and of one about slots or stripes, which.
type Kind = (
    Discriminant<Caution>,
    Option<Discriminant<SlotCaution>>,
    Option<Discriminant<StripeCaution>>,
);

/// What a design asks its turner to look at.
#[derive(Clone, Debug)]
pub(super) struct Soundness {
    cautions: Vec<Kind>,
    troubles: usize,
    borne: Option<Kind>,
}

impl Soundness {
    pub(super) fn of(planned: &Plan) -> Soundness {
        Soundness {
            cautions: kinds(planned),
            troubles: planned.stack().map_or(0, |stack| stack.troubles.len()),
            borne: None,
        }
    }

    /// Whether the changed design has no more of any kind.
    pub(super) fn is_kept(&self, changed: &Plan) -> bool {
        let other = Soundness::of(changed);
        let count = |of: &[Kind], kind: &Kind| of.iter().filter(|it| *it == kind).count();
        let is_no_more = |kind: &Kind| {
            Some(*kind) == self.borne || count(&other.cautions, kind) <= count(&self.cautions, kind)
        };
        other.troubles <= self.troubles && other.cautions.iter().all(is_no_more)
    }

    /// Whether the changed design has cautions that are borne, and more of them than this one.
    pub(super) fn has_borne(&self, changed: &Plan) -> bool {
        let count = |of: &[Kind]| of.iter().filter(|it| Some(**it) == self.borne).count();
        count(&kinds(changed)) > count(&self.cautions)
    }

    /// Bears cautions like this one.
    pub(super) fn bearing(self, caution: &Caution) -> Soundness {
        Soundness {
            borne: Some(kind(caution)),
            ..self
        }
    }
}

/// The kinds of all cautions of a piece.
fn kinds(planned: &Plan) -> Vec<Kind> {
    let placed = planned.placed_cautions().iter();
    placed.map(|it| kind(&it.caution)).collect()
}

fn kind(caution: &Caution) -> Kind {
    let of_slots = match caution {
        Caution::Slots(_, of_slots) => Some(discriminant(of_slots)),
        _ => None,
    };
    let of_stripes = match caution {
        Caution::Stripes(of_stripes) => Some(discriminant(of_stripes)),
        _ => None,
    };
    (discriminant(caution), of_slots, of_stripes)
}
