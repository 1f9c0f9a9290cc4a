//! **neckwright** turns one specification of a neck into every number that the work from blank to
//! finished neck needs.
//!
//! The rooms, each of which uses only the rooms named before it:
//!
//! | room | what is in it |
//! |---|---|
//! | [`measure`] | lengths, angles, stations, bounds and faults |
//! | [`spec`] | the documents, specification and stock: groups, defaults, reading, schema |
//! | [`law`] | Bernstein polynomials, laws of the position along the neck, guaranteed bounds |
//! | [`layout`] | temperament, scale, frets, strings, fretboard |
//! | [`shape`] | sections, shaft, headstock, volute, heel, rod, and the [`Neck`](shape::Neck) that joins them |
//! | [`carve`] | the carving plan: timber, stages, saw lines, cutters, facets, grits, cautions |
//! | [`inspect`] | readings, what is left to take, low patches mended, necks copied and compared |
//! | [`solid`] | wood and board as closed solids, exact; meshes of them |
//! | [`exchange`] | files for other programs: STEP, STL, 3MF, glTF |
//! | [`paper`] | sheets at full size: plan, side, sections, templates; SVG, PDF, DXF, pages for a printer |
#![forbid(unsafe_code)]
#![no_std]

extern crate alloc;

pub mod carve;
pub mod exchange;
pub mod inspect;
pub mod law;
pub mod layout;
pub mod measure;
pub mod paper;
pub mod shape;
pub mod solid;
pub mod spec;

/// The version of this library.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

#[cfg(test)]
#[path = "../tests/seeded/mod.rs"]
mod seeded;

/// The examples of the README, run with those of the documentation.
#[cfg(doctest)]
#[doc = include_str!("../../README.md")]
struct Readme;
