//! Ringwright computes what a segmented woodturner needs to know, from the first
//! sketch to the last caliper check. This crate is pure computation: no input or
//! output, no globals, no clock. The page in `www/` calls it through the `web` module.
//!
//! Read it in the order in which it stands, from the ground up; nothing uses what stands
//! above it:
//!
//! 1. [`units`]: what people type and what stands on the tape;
//! 2. [`solve`]: searches that know nothing of wood;
//! 3. [`trade`]: one ring of mitred segments, the saw's error, how wood moves, bases,
//!    slots, glue, lathe, the vessel's shape and wall;
//! 4. [`draw`]: strokes and words in millimeters, as SVG, PDF and DXF;
//! 5. [`design`]: what the turner decided, what each field takes, how it is kept;
//! 6. [`plan`]: all that follows from a design, as one value, [`plan::Plan`];
//! 7. [`edit`]: changes by hand, from a design to the next;
//! 8. [`show`]: how it is told, in words, figures, pictures and sheets;
//! 9. `web`: the door to the browser, there only when compiled for it.
//!
//! Lengths are in millimeters and angles in radians, unless a name says otherwise.

#![forbid(unsafe_code)]
#![deny(missing_docs)]

pub mod units;

pub mod solve;

pub mod trade;

pub mod draw;

pub mod design;

pub mod plan;

pub mod edit;

pub mod show;

#[cfg(target_arch = "wasm32")]
pub mod web;
