//! What the turner decided of the finish.

use crate::trade::finish::Finish;
use crate::units::kept::kept_record;

kept_record! {
    /// The finish. What is empty is as usual for its kind.
    pub struct FinishChoice {
        /// What goes on.
        pub kind: Finish,
        /// How many coats.
        pub coats: Option<u32>,
        /// The grit that is sanded with first.
        pub from_grit: Option<u32>,
        /// The last one.
        pub to_grit: Option<u32>,
        /// From one coat to the next, hours, as the can says.
        pub wait_h: Option<f64>,
    }
}

impl FinishChoice {
    /// Nothing decided yet.
    pub fn later() -> FinishChoice {
        FinishChoice {
            kind: Finish::Later,
            coats: None,
            from_grit: None,
            to_grit: None,
            wait_h: None,
        }
    }
}
