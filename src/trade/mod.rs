//! Floor 3, trade: the formulas of the craft, one file a subject, each with its source.
//! Numbers in, numbers out: no design, no fields, no words.

pub mod closing;
pub mod dust;
pub mod finish;
pub mod glue;
pub mod index_plate;
pub mod laminate;
pub mod lathe;
pub mod layered;
pub mod moisture;
pub mod open_ring;
pub mod out_of_true;
pub mod outline;
pub mod pace;
pub mod plug;
pub mod ring;
pub mod room;
pub mod round;
pub mod setting;
pub mod shape;
pub mod spline;
pub mod stave;
pub mod strip;
pub mod stripe;
pub mod surface;
pub mod through;
pub mod vessel;
pub mod wood;
pub mod wood_name;
