//! The boards at hand, as the turner entered them.

use crate::units::kept::{kept_choice, kept_record};

kept_choice! {
    /// What the boards are chosen for.
    pub enum BoardGoal {
        /// As few boards as can be.
        Fewest = "fewest",
        /// As little money as can be.
        Cheapest = "cheapest",
        /// As little wood as can be.
        LeastWood = "least_wood",
    }
}

kept_choice! {
    /// How a board's thickness is meant.
    pub enum ThicknessIs {
        /// As sawn, before it is surfaced.
        Rough = "rough",
        /// What is there to use.
        Planed = "planed",
    }
}

kept_choice! {
    /// What a board's price is for.
    pub enum BoardPrice {
        /// One board.
        Piece = "piece",
        /// 144 cubic inches.
        BoardFoot = "board_foot",
    }
}

kept_record! {
    /// A spot of a board that must not be used: a knot, a split, a worm hole, sapwood.
    pub struct Avoid {
        /// From the board's left end.
        pub from_mm: f64,
        /// To here.
        pub to_mm: f64,
        /// Across the board, from the near edge: from here, or from that edge itself.
        pub across_from_mm: Option<f64>,
        /// To here, or to the far edge.
        pub across_to_mm: Option<f64>,
    }
}

kept_record! {
    /// Boards of one size.
    pub struct Board {
        /// The wood's name.
        pub wood: String,
        /// Thickness, rough or planed.
        pub thickness_mm: f64,
        /// Which of the two.
        pub thickness_is: ThicknessIs,
        /// Width between straight edges.
        pub width_mm: f64,
        /// Length between square ends.
        pub length_mm: f64,
        /// How many there are.
        pub number: u32,
        /// Price in the turner's own money.
        pub price: Option<f64>,
        /// What the price is for.
        pub price_for: BoardPrice,
        /// Spots to avoid.
        pub avoid: Vec<Avoid>,
    }
}

kept_record! {
    /// The boards at hand or to buy.
    pub struct Rack {
        /// What they are chosen for.
        pub goal: BoardGoal,
        /// The most that a board may be thicker than a ring needs.
        pub plane_at_most_mm: f64,
        /// Whether boards may be glued edge to edge where a disc's square is wider than each.
        pub is_edge_glued: bool,
        /// The boards.
        pub boards: Vec<Board>,
    }
}

impl Avoid {
    /// A length, over the board's whole width.
    pub fn length(from_mm: f64, to_mm: f64) -> Avoid {
        Avoid {
            from_mm,
            to_mm,
            across_from_mm: None,
            across_to_mm: None,
        }
    }

    /// Between which places it lies across a board so wide, from its near edge.
    pub fn across_mm(&self, width_mm: f64) -> (f64, f64) {
        let from_mm = self.across_from_mm.unwrap_or(0.0);
        let to_mm = self.across_to_mm.unwrap_or(width_mm);
        (from_mm.min(to_mm), from_mm.max(to_mm))
    }

    /// Whether it goes over the board's whole width.
    pub fn is_length(&self) -> bool {
        self.across_from_mm.is_none() && self.across_to_mm.is_none()
    }
}

impl Rack {
    /// A rack without boards.
    pub fn empty() -> Rack {
        Rack {
            goal: BoardGoal::Fewest,
            // A step of the quarter system (common practice, no published source).
            plane_at_most_mm: 0.25 * crate::units::length::MM_PER_INCH,
            is_edge_glued: false,
            boards: Vec::new(),
        }
    }
}

impl Board {
    /// A board of a usual size: 4/4, 6 in wide, 8 ft long (common practice, no
    /// published source).
    pub fn usual(wood: &str) -> Board {
        let inch = crate::units::length::MM_PER_INCH;
        Board {
            wood: wood.to_owned(),
            thickness_mm: inch,
            thickness_is: ThicknessIs::Rough,
            width_mm: 6.0 * inch,
            length_mm: 96.0 * inch,
            number: 1,
            price: None,
            price_for: BoardPrice::BoardFoot,
            avoid: Vec::new(),
        }
    }
}
