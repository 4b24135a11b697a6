//! The finish as it will be done: what the turner said, and where nothing was said what is
//! usual.

use crate::design::{Design, FinishChoice};
use crate::trade::finish::{FIRST_GRIT, Finish, grits};

/// The finish as it will be done.
#[derive(Clone, Debug, PartialEq)]
pub struct FinishPlan {
    /// What goes on.
    pub kind: Finish,
    /// How many coats; none where nothing goes on.
    pub coats: u32,
    /// The grits before it, the coarsest first; at least one.
    pub grits: Vec<u32>,
    /// From one coat to the next, minutes, in a room of
    /// [`ROOM_C`](crate::trade::glue::ROOM_C); 0 without coats.
    pub wait_min: f64,
    /// Whether that wait is the can's own.
    pub is_own_wait: bool,
}

/// The finish of a design.
pub fn finish(design: &Design) -> FinishPlan {
    let said = design.finish.clone().unwrap_or_else(FinishChoice::later);
    let habits = said.kind.habits();
    let first = said.from_grit.unwrap_or(FIRST_GRIT);
    // One typed alone may lie past the usual other.
    let usual_last = said.kind.last_grit().max(first);
    let last = said.to_grit.unwrap_or(usual_last);
    FinishPlan {
        kind: said.kind,
        coats: habits.map_or(0, |it| said.coats.unwrap_or(it.coats)),
        grits: grits(said.from_grit.unwrap_or(first.min(last)), last),
        wait_min: habits.map_or(0.0, |it| said.wait_h.map_or(it.wait_min, |it| it * 60.0)),
        is_own_wait: habits.is_some() && said.wait_h.is_some(),
    }
}

impl FinishPlan {
    /// Whether the turner decided what goes on.
    pub fn is_decided(&self) -> bool {
        self.kind != Finish::Later
    }

    /// How much of it one coat of this area takes, milliliters; the first coat is 0.
    pub fn coat_milliliters(&self, area_mm2: f64, coat: u32) -> f64 {
        self.kind.milliliters(area_mm2, coat + 1) - self.kind.milliliters(area_mm2, coat)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(kind: Finish, from_grit: Option<u32>, to_grit: Option<u32>) -> FinishPlan {
        let finish = Some(FinishChoice {
            kind,
            from_grit,
            to_grit,
            ..FinishChoice::later()
        });
        super::finish(&Design {
            finish,
            ..Design::default()
        })
    }

    #[test]
    fn what_is_not_said_is_usual() {
        let unsaid = finish(&Design::default());
        assert!(!unsaid.is_decided() && unsaid.coats == 0);
        let oil = of(Finish::HardeningOil, None, None);
        assert_eq!(
            (oil.coats, oil.grits.as_slice()),
            (3, &[120, 180, 240, 320][..])
        );
        assert!((oil.wait_min - 1440.0).abs() < 1e-9 && !oil.is_own_wait);
        assert!((oil.coat_milliliters(1e6, 1) - 50.0).abs() < 1e-9);
        assert_eq!(of(Finish::Bare, None, None).coats, 0);
    }

    #[test]
    fn a_grit_typed_alone_never_goes_backward() {
        assert_eq!(of(Finish::Film, Some(400), None).grits, [400]);
        assert_eq!(of(Finish::Film, None, Some(100)).grits, [100]);
        assert_eq!(of(Finish::Film, Some(80), Some(120)).grits, [80, 120]);
        assert_eq!(of(Finish::Film, Some(240), Some(120)).grits, [240]);
    }
}
