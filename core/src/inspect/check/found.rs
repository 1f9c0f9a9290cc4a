//! Findings by where along the neck they are.

use alloc::vec::Vec;

use super::finding::Finding;
use crate::measure::Station;

/// Findings in an order in which those near a station are few to look through.
pub(super) struct Found<'a> {
    /// Along the neck, row by row in order: those of one row lie one after the other.
    along: Vec<Vec<&'a Finding>>,
    /// Around sections, by their stations.
    around: Vec<&'a Finding>,
}

impl<'a> Found<'a> {
    pub fn new(findings: &'a [Finding]) -> Self {
        let mut around: Vec<&Finding> = Vec::new();
        let mut along: Vec<Vec<&Finding>> = Vec::new();
        for f in findings {
            if f.around_mm.is_some() {
                around.push(f);
                continue;
            }
            match along.iter_mut().find(|row| row.first().is_some_and(|first| first.place == f.place)) {
                Some(row) => row.push(f),
                None => along.push(alloc::vec![f]),
            }
        }
        for row in along.iter_mut().chain([&mut around]) {
            row.sort_by(|a, b| a.x_mm[0].total_cmp(&b.x_mm[0]));
        }
        Self { along, around }
    }

    /// All that can hold or meet something between two stations, and no more than a few others.
    pub fn near(&self, [from, to]: [f64; 2]) -> impl Iterator<Item = &'a Finding> {
        self.along.iter().chain([&self.around]).flat_map(move |row| {
            let first = row.partition_point(|f| f.x_mm[1] <= from - Station::LEAST_GAP_MM);
            let here = row.iter().skip(first);
            here.take_while(move |f| f.x_mm[0] < to + Station::LEAST_GAP_MM).copied()
        })
    }
}
