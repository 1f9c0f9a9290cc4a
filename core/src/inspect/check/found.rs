//! Findings by where along the neck they are.

use alloc::vec::Vec;

use super::finding::Finding;
use crate::measure::Station;

/// Findings in an order in which those near a station are few to look through.
pub(super) struct Found<'a> {
    /// Along the neck: of a row no more than half its places, and of rows there are five.
    along: Vec<&'a Finding>,
    /// Around sections, by their stations.
    around: Vec<&'a Finding>,
}

impl<'a> Found<'a> {
    pub fn new(findings: &'a [Finding]) -> Self {
        let (mut around, along): (Vec<&Finding>, Vec<&Finding>) =
            findings.iter().partition(|f| f.around_mm.is_some());
        around.sort_by(|a, b| a.x_mm[0].total_cmp(&b.x_mm[0]));
        Self { along, around }
    }

    /// All that can hold or meet something between two stations, and some more.
    pub fn near(&self, [from, to]: [f64; 2]) -> impl Iterator<Item = &'a Finding> {
        let first = self.around.partition_point(|f| f.x_mm[1] <= from - Station::LEAST_GAP_MM);
        let here = self.around.iter().skip(first);
        let here = here.take_while(move |f| f.x_mm[0] < to + Station::LEAST_GAP_MM);
        self.along.iter().chain(here).copied()
    }
}
