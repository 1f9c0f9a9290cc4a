//! Temperament, scale, frets, strings, fretboard.
#![allow(dead_code)]

mod double;
mod positions;

pub use positions::{MAX_DIVISIONS, MAX_FRETS, SCALE_RANGE_MM, fret_positions_into, fret_positions_mm};
