//! Ringwright computes what a segmented woodturner needs to know, from the first
//! sketch to the last caliper check. This crate is pure computation: no input or
//! output, no globals, no clock. The page in `www/` calls it through the `web` module.
//!
//! Read it in the order in which the data flows:
//!
//! 1. [`length`]: what people type and what stands on the tape;
//! 2. the trade: [`ring`] (one ring of mitred segments), [`strip`] (cutting them),
//!    [`closing`] (the saw's error), [`stave`], [`wood`], [`moisture`] and [`season`]
//!    (how it moves), [`base`], [`spline`] (slots through a stack), [`glue`], [`lathe`],
//!    [`plug`], [`board`] (which boards to take and how to cut them; packed by [`pack`]);
//! 3. the vessel: [`shape`] (its outside and wall), [`vessel`] (what each ring must
//!    hold), [`start`] (shapes to begin from, and dividing), [`edit`] (changes by hand),
//!    [`trace`] (a picture under it), [`mesh`] and [`camera`] (the view in 3D);
//! 4. what the turner decided: [`design`], with [`field`] (what each field takes),
//!    [`kept`] (its JSON), [`link`] (all of it in an address) and [`example`];
//! 5. what follows from a design: [`plan`] (the ring), [`stack`] (the vessel), [`inlay`],
//!    [`rack`] (its boards), [`order`] (of work), [`cut_list`]; [`measured`] and
//!    [`built`] for rings that are glued already; [`inspect`], with [`caution`] and
//!    [`trouble`] as values;
//! 6. how it is told: [`words`], [`screen`], [`drawing`], [`sheet`], [`archive`];
//! 7. `web`: the door to the browser, there only when
//!    compiled for it.
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
