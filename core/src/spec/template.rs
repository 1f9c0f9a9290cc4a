//! What the templates of a neck have.

use alloc::vec::Vec;

use super::options::options;
use super::visit::group;
use crate::measure::{Length, Station};

group! {
    /// What the templates of a neck have. Every field has a default. Those of the stations, and the bounds, are common practice and
    /// have no source.
    TemplateOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// The stations of the section gauges; without them frets 1, 3, 5, 7, 9, 12 and 15 as far as they lie on the shaft.
        gauge_stations: Option<Vec<Station>> = None,
            size 1 to 64 because "a back is held against a few gauges, and 64 are more than a neck has frets";
        /// Wood that is still to go at the spine when the gauges and the templates of volute and heel fit; it runs out to nothing
        /// at the carve line.
        allowance: Length = Length::from_mm(0.0),
            within 0 to 5 "mm" because "0 is the finished neck, and a gauge for more would guide no hand";
        /// The stations of the radius gauges of a board whose radius grows; without them the nut, frets 5 and 12 and the last one.
        radius_stations: Option<Vec<Station>> = None,
            size 1 to 64 because "a board is held against a few gauges, and 64 are more than a neck has frets";
        /// Radius of the cutter, or half the saw's or the beam's kerf: how far outside an outline and inside a hole its middle goes.
        offset: Length = Length::from_mm(0.0),
            within 0 to 15 "mm" because "0 draws no way of a cutter, and a larger one reaches into no corner of a neck";
        /// Whether fret slots are drawn by both their edges, as wide as the specification has them, instead of their middles.
        slot_edges: bool = false;
        /// Whether the strings are drawn on the board.
        strings: bool = false;
    }
}

options!(
    TemplateOptions,
    name: "templates' options",
    subject: "templates of a neck",
    title: "What the templates of a neck have",
    example: "allowance"
);
