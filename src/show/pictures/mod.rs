//! The trade's pictures, one file a subject, drawn with [`crate::draw`].

pub mod base;
pub mod bench;
pub mod boards;
pub mod built;
pub mod gauge;
pub mod grain;
pub mod inlay;
pub mod parting;
pub mod picture;
pub mod plug;
pub mod ring;
pub mod segment;
pub mod stripe;
pub mod trace;
pub mod variations;
pub mod vessel;
pub mod view;
pub mod ways;
