//! Deviations in a row: along the spine, along an edge, or around one section.

use alloc::vec::Vec;

use crate::shape::Side;

/// What runs along the row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Line {
    Spine,
    Width,
    Girth,
    Carve(Side),
    /// Around one section, by its number.
    Section(usize),
}

impl Line {
    /// Places further apart than this are no neighbours: nobody read what lies between them, mm. Along the neck some two
    /// or three frets, around a section about a fifth of the back (common practice, no source).
    pub const fn widest_gap_mm(self) -> f64 {
        match self {
            Self::Section(_) => 15.0,
            _ => 100.0,
        }
    }
}

/// What one place of the row says.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Datum {
    /// Station, or way around from the spine, mm.
    pub at: f64,
    /// Deviation, mm.
    pub value: f64,
    /// One over its variance.
    pub weight: f64,
    /// How much of an allowance along the spine lies here, square to the surface.
    pub share: f64,
    /// Whether another row has what this place says too.
    pub shared: bool,
    /// How many readings it is made of.
    pub count: usize,
}

/// A row of deviations in order of place, each place once.
#[derive(Clone, Debug)]
pub(crate) struct Sequence {
    pub line: Line,
    pub data: Vec<Datum>,
}

/// The most places of a row: what lies nearer together is averaged, and nothing that a hand feels gets lost.
const MOST: f64 = 96.0;

impl Sequence {
    /// In order, and places that lie within `gap` of each other averaged with their weights.
    pub fn new(line: Line, mut data: Vec<Datum>, gap: f64) -> Self {
        data.sort_by(|a, b| a.at.total_cmp(&b.at));
        let span = match (data.first(), data.last()) {
            (Some(a), Some(b)) => b.at - a.at,
            _ => 0.0,
        };
        let gap = gap.max(span / MOST);
        let mut merged: Vec<Datum> = Vec::with_capacity(data.len());
        let mut first = f64::NEG_INFINITY;
        for d in data {
            match merged.last_mut() {
                Some(m) if d.at - first < gap => {
                    let share = d.weight / (m.weight + d.weight);
                    m.at += share * (d.at - m.at);
                    m.value += share * (d.value - m.value);
                    m.share += share * (d.share - m.share);
                    m.weight += d.weight;
                    m.shared &= d.shared;
                    m.count += d.count;
                }
                _ => {
                    first = d.at;
                    merged.push(d);
                }
            }
        }
        Self { line, data: merged }
    }
}
