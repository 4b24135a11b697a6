//! What the turner decided of the base.

use super::kind::SOME_MM;
use crate::units::kept::{kept_choice, kept_record};

kept_choice! {
    /// What a base is.
    pub enum BaseKind {
        /// One board.
        Solid = "one_board",
        /// Plies, each across the one below.
        Plies = "plies",
        /// Wedges, as a ring without a hole.
        Wedges = "wedges",
        /// None: open below.
        Open = "open",
    }
}

kept_choice! {
    /// How a base meets its ring.
    pub enum BaseSet {
        /// Within the ring, as thick as the ring is high.
        LetIn = "let_in",
        /// Within the ring, on a ledge.
        OnLedge = "on_ledge",
        /// Glued to its lower face.
        Under = "under",
    }
}

kept_record! {
    /// A ply of a base.
    pub struct Ply {
        /// Its thickness once dressed.
        pub thickness_mm: f64,
        /// Its wood.
        pub wood: String,
    }
}

kept_record! {
    /// The base.
    pub struct BaseChoice {
        /// What it is.
        pub kind: BaseKind,
        /// How it meets its ring.
        pub set: BaseSet,
        /// The ring that it is let into, or on whose ledge it lies; 1 is the lowest.
        pub in_ring: u32,
        /// Its diameter; none for what suits the ring.
        pub diameter_mm: Option<f64>,
        /// Its thickness, when it is not of plies.
        pub thickness_mm: f64,
        /// Its wood, when it is not of plies.
        pub wood: String,
        /// How much wider the mortise is than the disc for glue alone.
        pub fit_mm: f64,
        /// Width of the ledge.
        pub ledge_mm: f64,
        /// Number of wedges.
        pub wedge_count: u32,
        /// The plies, from below.
        pub plies: Vec<Ply>,
    }
}

impl BaseChoice {
    /// A disc of this wood and thickness, or three plies of it, glued under its ring.
    pub fn of(wood: &str, thickness_mm: f64) -> BaseChoice {
        let ply = |share: f64| Ply {
            thickness_mm: crate::units::length::round(thickness_mm * share).max(SOME_MM),
            wood: wood.to_owned(),
        };
        BaseChoice {
            kind: BaseKind::Solid,
            set: BaseSet::Under,
            in_ring: 1,
            diameter_mm: None,
            thickness_mm,
            wood: wood.to_owned(),
            // 0.1 mm on the diameter is a sliding fit that glue still fills, and 6 mm of
            // ledge hold a base (our own choice, no published source).
            fit_mm: 0.1,
            ledge_mm: 6.0,
            wedge_count: 12,
            plies: vec![ply(0.25), ply(0.5), ply(0.25)],
        }
    }
}
