//! lib
pub mod closing;
pub mod design;
pub mod field;
pub mod length;
pub mod ring;
pub mod stave;
pub mod strip;
pub mod trouble;
