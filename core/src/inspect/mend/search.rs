//! The programme with the rows that are only looked for where they are broken.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::limit::Limit;
use super::low::{Low, Place};
use super::model::Model;
use super::programme::{Demand, Programme, Solved};
use super::rows::{SPARE, demand, rows};
use super::wall::{broken, outside};
use crate::shape::Side;
use crate::spec::MendLimits;

/// Rounds of looking for broken rows.
const ROUNDS: usize = 40;
/// How often a solution is refined that misses a row by more than is close, in the row's unit.
const REFINED: usize = 3;
const CLOSE: f64 = 2e-9;
/// A wall that is broken by less is left to the spare.
const WALL_CLOSE: f64 = 2e-6;

/// Of many low places the worst in each part of the neck: 5 mm along and a sixth of a side around.
fn worst<'l>(lows: impl Iterator<Item = (&'l Low, f64)>) -> impl Iterator<Item = &'l Low> {
    let mut parts: BTreeMap<(i64, u8, u8), (&Low, f64)> = BTreeMap::new();
    for (low, short) in lows {
        let (kind, around) = match low.place {
            Place::Spine | Place::Edges => (0, 0),
            Place::Carve(side) => (1 + u8::from(side == Side::Treble), 0),
            Place::Back(side, u) => (3 + u8::from(side == Side::Treble), libm::floor(6.0 * u) as u8),
        };
        let part = parts.entry((libm::floor(low.x / 5.0) as i64, kind, around)).or_insert((low, short));
        if short > part.1 {
            *part = (low, short);
        }
    }
    parts.into_values().map(|part| part.0)
}

/// What is searched for, and in what.
pub(super) struct Search<'m, 'n> {
    pub model: &'m Model<'n>,
    pub lows: &'m [Low],
    pub programme: Programme,
    /// The wall that the rows ask for, mm; 0 where there is no rod.
    pub wall: f64,
    /// Stations where the wall is looked at.
    pub stations: Vec<f64>,
}

impl<'m, 'n> Search<'m, 'n> {
    pub fn new(model: &'m Model<'n>, limits: &MendLimits, lows: &'m [Low], wall: f64) -> Self {
        let (cost, offset) = model.removed();
        let mut rows = rows(model, limits);
        rows.extend(worst(lows.iter().map(|low| (low, low.by))).filter_map(|low| demand(model, low)));
        let stations = model.grid(model.reach);
        Self { model, lows, programme: Programme { cost, offset, rows }, wall, stations }
    }

    /// The rows that these unknowns break and that are not in the programme yet.
    fn missing(&self, unknowns: &[f64], wall: f64) -> Vec<Demand> {
        let mut rows = if wall > 0.0 {
            broken(self.model, &self.stations, unknowns, wall, WALL_CLOSE)
        } else {
            Vec::new()
        };
        let short = |low: &Low| -demand(self.model, low).map_or(0.0, |row| row.slack(unknowns));
        let missed = self.lows.iter().map(|low| (low, short(low))).filter(|(_, short)| *short > SPARE);
        rows.extend(worst(missed).filter_map(|low| demand(self.model, low)));
        rows.extend(outside(self.model, &self.stations, unknowns));
        rows
    }

    fn settle(&self, unknowns: &mut [f64]) {
        for line in self.model.free_lines() {
            line.settle(unknowns);
        }
    }

    /// Solves it, adding rows until none is broken.
    pub fn solve(&mut self) -> Solved {
        for _ in 0..ROUNDS {
            let (mut unknowns, prices) = match self.programme.solve() {
                Solved::Optimum { unknowns, prices } => (unknowns, prices),
                other => return other,
            };
            self.settle(&mut unknowns);
            for _ in 0..REFINED {
                if self.programme.shortest(&unknowns) < CLOSE {
                    break;
                }
                let Some(mut finer) = self.programme.refined(&unknowns) else { break };
                self.settle(&mut finer);
                if self.programme.shortest(&finer) < self.programme.shortest(&unknowns) {
                    unknowns = finer;
                }
            }
            let missing = self.missing(&unknowns, self.wall);
            if missing.is_empty() {
                return Solved::Optimum { unknowns, prices };
            }
            self.programme.rows.extend(missing);
        }
        Solved::Stuck
    }

    /// The least by which some limits have to give way, each in its unit, for the rest to hold: one unknown more for
    /// each. `None` where that does not help.
    pub fn relaxed(&mut self, limits: &[Limit]) -> Option<Relaxed> {
        let n = self.programme.cost.len();
        let wall_at = limits.iter().position(|limit| *limit == Limit::RodWall);
        let mut given: f64 = 0.0;
        let mut least: Option<Relaxed> = None;
        // A wall is no linear measure round a corner: its rows are made again where it has given way so far.
        for _ in 0..8 {
            let mut programme = self.elastic(limits, given);
            let mut solved = None;
            for _ in 0..ROUNDS {
                let Solved::Optimum { unknowns, prices } = programme.solve() else { break };
                let by: Vec<f64> = unknowns[n..].to_vec();
                let more = wall_at.map_or(0.0, |at| by[at]);
                let missing = self.missing(&unknowns[..n], self.wall - given - more);
                let done = missing.is_empty();
                if wall_at.is_none() {
                    // Whatever gives way, these have to hold.
                    self.programme.rows.extend(missing.iter().cloned());
                }
                if done {
                    solved = Some((by, unknowns, prices));
                    break;
                }
                let rows = missing.into_iter().map(|row| {
                    // Made for the wall less `more`, told for the wall less `given`.
                    let back = if row.limit == Some(Limit::RodWall) { more / row.measure } else { 0.0 };
                    self.loosened(Demand { least: row.least + back, ..row }, limits)
                });
                let rows: Vec<Demand> = rows.flatten().collect();
                programme.rows.extend(rows);
            }
            let (mut by, _, prices) = solved?;
            let more = wall_at.map_or(0.0, |at| by[at]);
            given += more;
            if let Some(at) = wall_at {
                by[at] = given;
            }
            let at = limits.iter().map(|limit| hardest(&programme, &prices, *limit)).collect();
            least = Some(Relaxed { by, at });
            if libm::fabs(more) < 1e-7 {
                break;
            }
        }
        least
    }

    /// The programme that asks for the least giving way.
    fn elastic(&self, limits: &[Limit], given: f64) -> Programme {
        let n = self.programme.cost.len();
        let mut cost = alloc::vec![0.0; n];
        cost.resize(n + limits.len(), 1.0);
        // Rows of the wall were made for the whole of it.
        let kept = self.programme.rows.iter().filter(|row| given == 0.0 || row.limit != Some(Limit::RodWall));
        let mut rows: Vec<Demand> = kept.cloned().flat_map(|row| self.loosened(row, limits)).collect();
        for (i, limit) in limits.iter().enumerate() {
            let least = if *limit == Limit::RodWall { -given } else { 0.0 };
            let terms = core::iter::once((n + i, 1.0)).collect();
            rows.push(Demand { limit: None, x_mm: 0.0, terms, least, equal: false, measure: 1.0, low: None });
        }
        Programme { cost, offset: 0.0, rows }
    }

    /// A row that may give way, where it belongs to one of the limits; an equation either way.
    fn loosened(&self, row: Demand, limits: &[Limit]) -> Vec<Demand> {
        let n = self.programme.cost.len();
        let Some(i) = row.limit.and_then(|limit| limits.iter().position(|known| *known == limit)) else {
            return alloc::vec![row];
        };
        let give = (n + i, 1.0 / row.measure);
        let mut rows = Vec::with_capacity(2);
        if row.equal {
            let mut other = Demand { equal: false, least: -row.least, ..row.clone() };
            other.terms.iter_mut().for_each(|(_, k)| *k = -*k);
            other.terms.push(give);
            rows.push(other);
        }
        let mut row = Demand { equal: false, ..row };
        row.terms.push(give);
        rows.push(row);
        rows
    }
}

/// By how much limits give way, and where each binds hardest.
pub(super) struct Relaxed {
    pub by: Vec<f64>,
    pub at: Vec<f64>,
}

/// The station where a limit costs most.
fn hardest(programme: &Programme, prices: &[f64], limit: Limit) -> f64 {
    let rows = programme.rows.iter().zip(prices).filter(|(row, _)| row.limit == Some(limit));
    rows.max_by(|a, b| libm::fabs(*a.1).total_cmp(&libm::fabs(*b.1))).map_or(0.0, |(row, _)| row.x_mm)
}
