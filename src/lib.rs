//! lib
pub mod caution;
pub mod closing;
pub mod design;
pub mod field;
pub mod length;
pub mod link;
pub mod plan;
pub mod ring;
pub mod screen;
pub mod stave;
pub mod strip;
pub mod trouble;
pub mod wood;
pub mod words;
