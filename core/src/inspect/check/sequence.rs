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
    /// Where the first and the last of the readings lie that it is made of.
    pub ends: [f64; 2],
}

/// A row of deviations in order of place, each place once.
#[derive(Clone, Debug)]
pub(crate) struct Sequence {
    pub line: Line,
    pub data: Vec<Datum>,
}

impl Datum {
    /// Takes in another one that lies further on: the weighted mean of both.
    fn take_in(&mut self, d: &Self) {
        let share = d.weight / (self.weight + d.weight);
        self.at += share * (d.at - self.at);
        self.value += share * (d.value - self.value);
        self.share += share * (d.share - self.share);
        self.weight += d.weight;
        self.shared &= d.shared;
        self.ends[1] = d.ends[1];
    }
}

impl Sequence {
    /// In order, and what lies within `gap` of a place's first reading taken for the same place. Nothing that an instrument
    /// tells apart is averaged, however many readings there are.
    pub fn new(line: Line, mut data: Vec<Datum>, gap: f64) -> Self {
        data.sort_by(|a, b| a.at.total_cmp(&b.at));
        data.dedup_by(|d, place| {
            let here = d.at - place.ends[0] < gap;
            if here {
                place.take_in(d);
            }
            here
        });
        Self { line, data }
    }

    /// The row with no more than so many places: where it has more, the mean of what lies in each of as many equal parts of
    /// its length.
    pub fn coarser(mut self, most: usize) -> Self {
        let (Some(a), Some(b)) = (self.data.first(), self.data.last()) else { return self };
        if self.data.len() <= most {
            return self;
        }
        let (start, scale) = (a.at, most as f64 / (b.at - a.at));
        let part = |d: &Datum| (((d.at - start) * scale) as usize).min(most - 1);
        let mut parts: Vec<Datum> = Vec::with_capacity(most);
        let mut latest = None;
        for d in &self.data {
            match parts.last_mut() {
                Some(m) if latest == Some(part(d)) => m.take_in(d),
                _ => parts.push(*d),
            }
            latest = Some(part(d));
        }
        self.data = parts;
        self
    }
}
