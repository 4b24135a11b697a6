//! What goes with the rings that are glued, in words.

use crate::edit::gathering::{Gathered, NoGathering};
use crate::solve::stacking::Standing;
use crate::units::length::show;
use crate::units::quantity::counted;

/// What a stack is called.
pub fn title(new_count: u32) -> String {
    match new_count {
        0 => super::GATHERING_ALONE.text.to_owned(),
        new_count => format!(
            "With {} between",
            counted(new_count as usize, "new ring", "new rings")
        ),
    }
}

/// What is said of it, a line each.
pub fn says(gathered: &Gathered) -> Vec<String> {
    let unit = gathered.plan.design.unit;
    let [across, high] = gathered.size_mm.map(|it| show(it, unit).line());
    let used = gathered.standing.len() - gathered.new_count as usize;
    let all = used + gathered.left.len();
    let each = gathered.standing.iter().map(|it| match it {
        Standing::Piece(place, false) => (place + 1).to_string(),
        Standing::Piece(place, true) => format!("{} turned over", place + 1),
        Standing::New => "a new one".to_owned(),
    });
    let mut says = vec![
        format!("{across} across, {high} high."),
        format!("{used} of your {all} rings."),
        format!(
            "From the foot up, as they are numbered now: {}.",
            each.collect::<Vec<_>>().join(", ")
        ),
    ];
    if !gathered.left.is_empty() {
        let left = gathered.left.iter().map(|place| (place + 1).to_string());
        says.push(format!(
            "Not in it: {}.",
            left.collect::<Vec<_>>().join(", ")
        ));
    }
    says
}

/// Why nothing goes with them, and what to do.
pub fn why_not(why: NoGathering) -> &'static str {
    match why {
        NoGathering::FewRings => super::GATHERING_FEW.text,
        NoGathering::NoStack => super::GATHERING_NONE.text,
    }
}
