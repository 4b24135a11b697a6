//! Ringwright computes what a segmented woodturner needs to know, from the first
//! sketch to the last caliper check. This crate is pure computation: no input or
//! output, no globals, no clock. The page in `www/` calls it through the `web` module.
//!
//! Read it in the order in which the data flows:
//!
//! 1. [`length`]: what people type and what stands on the tape;
//! 2. the trade: [`ring`] (one ring of mitred segments), [`strip`] (cutting them),
//!    [`closing`] (the saw's error), [`stave`], [`wood`],
//!    [`moisture`], [`season`], [`base`], [`board`] (which boards to take and how to
//!    cut them; packed by [`pack`]);
//! 3. what the turner decided: [`design`], with [`field`] (what each field takes),
//!    [`kept`] (its JSON) and [`link`] (all of it in an address);
//! 4. [`plan`]: everything that follows from a design, with [`caution`] and
//!    [`trouble`] as values; [`measured`] and [`built`] for rings that are glued already;
//! 5. how it is told: [`words`], [`screen`], [`drawing`], [`sheet`];
//! 6. `web`: the door to the browser, there only when
//!    compiled for it.
//!
//! Lengths are in millimeters and angles in radians, unless a name says otherwise.

#![forbid(unsafe_code)]
#![deny(missing_docs)]

pub mod archive;
pub mod base;
pub mod board;
pub mod built;
pub mod camera;
pub mod caution;
pub mod closing;
pub mod cut_list;
pub mod deflate;
pub mod design;
pub mod drawing;
pub mod edit;
pub mod example;
pub mod field;
pub mod glue;
pub mod inlay;
pub mod inspect;
pub mod kept;
pub mod lathe;
pub mod length;
pub mod link;
pub mod measured;
pub mod mesh;
pub mod moisture;
pub mod order;
pub mod pack;
pub mod plan;
pub mod plug;
pub mod rack;
pub mod ring;
pub mod screen;
pub mod season;
pub mod shape;
pub mod sheet;
pub mod sorted;
pub mod spline;
pub mod stack;
pub mod start;
pub mod stave;
pub mod strip;
pub mod trace;
pub mod trouble;
pub mod vessel;
#[cfg(target_arch = "wasm32")]
pub mod web;
pub mod wood;
pub mod words;
