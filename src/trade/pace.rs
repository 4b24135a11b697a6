//! How long the hands are at work: so many minutes to set up, and so many for each piece.
//!
//! All of it is from memory and our own choice, no published source: a turner who has made a
//! few dozen rings, at no hurry, with sharp tools that are at hand. Waits are no part of it;
//! glue's are told in [`super::glue`]. Whoever is quicker or slower says so by a pace of
//! their own, by which every figure is multiplied.

/// Work whose time is reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// Choosing and marking boards, a piece being a width that is ripped.
    Boards,
    /// Planing and ripping, a piece being a kind of strip.
    Rip,
    /// Gluing up layers, a piece being a layer.
    Layers,
    /// Sawing segments or wedges, a piece being one.
    Segments,
    /// Sawing something round, or squares of plies, a piece being one.
    Rounds,
    /// Dry-fitting and gluing up a ring, a piece being a joint.
    RingUp,
    /// Gluing an open ring's segments on one by one, a piece being a segment.
    SetSingly,
    /// Flattening both faces, a piece being a ring.
    Flatten,
    /// A block on its faceplate, a piece being one.
    Block,
    /// Gluing on a block, a piece being what is glued on.
    Mount,
    /// A face turned flat and a ring glued on it, a piece being a joint.
    GlueOn,
    /// Turning a stack true, a piece being a ring of it.
    TrueUp,
    /// Slots and their strips, a piece being a slot.
    Slots,
    /// Turning the inside, a piece being a ring.
    Inside,
    /// Turning the outside, a piece being a ring.
    Outside,
    /// A base turned round, or its mortise, a piece being one.
    BaseTurned,
    /// Sanding and finishing, a piece being a ring.
    Finish,
    /// A coat of finish, or what goes with it: dust off, buffing, signing; a piece being a ring.
    Coat,
    /// Parting off, a piece being an end.
    PartOff,
}

/// The rule of one kind of work, minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Once.
    pub set_up_min: f64,
    /// For each piece.
    pub each_min: f64,
}

impl Task {
    /// How long it takes at the usual pace.
    pub fn rule(self) -> Rule {
        let (set_up_min, each_min) = match self {
            Task::Boards => (15.0, 3.0),
            Task::Rip => (10.0, 4.0),
            Task::Layers => (15.0, 4.0),
            Task::Segments => (6.0, 0.5),
            Task::Rounds => (8.0, 5.0),
            Task::RingUp => (6.0, 0.75),
            Task::SetSingly => (10.0, 2.0),
            Task::Flatten => (3.0, 6.0),
            Task::Block => (5.0, 20.0),
            Task::Mount => (4.0, 6.0),
            Task::GlueOn => (4.0, 10.0),
            Task::TrueUp => (12.0, 4.0),
            Task::Slots => (25.0, 3.0),
            Task::Inside | Task::Outside => (12.0, 6.0),
            Task::BaseTurned => (8.0, 12.0),
            Task::Finish => (30.0, 4.0),
            Task::Coat => (10.0, 1.0),
            Task::PartOff => (5.0, 15.0),
        };
        Rule {
            set_up_min,
            each_min,
        }
    }

    /// So many pieces at this pace, minutes: 2 takes twice as long as is usual.
    pub fn hands_min(self, pieces: u32, pace: f64) -> f64 {
        let rule = self.rule();
        (rule.set_up_min + rule.each_min * f64::from(pieces)) * pace
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twelve segments sawn in a quarter of an hour, and glued up in one too.
    #[test]
    fn a_ring_takes_what_it_takes() {
        let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9, "{found}");
        near(Task::Segments.hands_min(12, 1.0), 12.0);
        near(Task::RingUp.hands_min(12, 1.0), 15.0);
        near(Task::RingUp.hands_min(12, 2.0), 30.0);
        near(Task::Flatten.hands_min(0, 1.5), 4.5);
    }
}
