//! The programme with the rows that are only looked for where they are broken.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::limit::Limit;
use super::low::{Low, Place};
use super::model::Model;
use super::programme::{Demand, Precision, Programme, Solved};
use super::rows::{SPARE, asked_thickness, demand, rows};
use super::wall::{WALL_SPARE, broken, outside};
use crate::shape::Side;
use crate::spec::MendLimits;

/// Rounds of looking for broken rows.
const ROUNDS: usize = 40;
/// Rows are left out at first where the design has so much more to spare than is to come down, mm, and twice that.
const FAR: f64 = 0.3;
/// And where a row moves by little, from what the solution has to spare and twice that, mm.
const NEAR: f64 = 0.1;
/// From which slack of the last solution on the wall's rows are left out when they are made again, mm.
const WALL_FAR: f64 = 0.3;
/// No limit gives way by more, in its unit: no neck is so thick, so steep or bent so sharply.
const MOST_GIVEN: f64 = 1e3;
/// A wall that is broken by less is left to the spare.
const WALL_CLOSE: f64 = 2e-6;

/// Of many low places the worst in each part of the neck: 5 mm along and a sixth of a side around.
fn worst<'l>(lows: impl Iterator<Item = (&'l Low, f64)>) -> impl Iterator<Item = &'l Low> {
    let mut parts: BTreeMap<(i64, u8, u8), (&Low, f64)> = BTreeMap::new();
    for (low, short) in lows {
        let (kind, around) = match low.place {
            Place::Spine | Place::Edges | Place::Flat(_) | Place::Kept(_) => (0, 0),
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
    /// Which of its rows are asked for; the others are far from mattering.
    pub marked: Vec<bool>,
    /// By which rows it was found to be infeasible, if it was.
    pub weights: Vec<f64>,
    /// Limits that are known not to help by giving way alone.
    pub hopeless: Vec<Limit>,
    /// How thick the neck has to be, mm.
    pub thickness: f64,
    /// The wall that has to be proven, mm, and the wall that the rows ask for; 0 where there is no rod.
    pub asked_wall: f64,
    pub wall: f64,
    /// Stations where the wall is looked at.
    pub stations: Vec<f64>,
}

impl<'m, 'n> Search<'m, 'n> {
    pub fn new(model: &'m Model<'n>, limits: &MendLimits, lows: &'m [Low], asked_wall: f64) -> Self {
        let wall = if model.neck.rod_cuts().is_empty() { 0.0 } else { asked_wall + WALL_SPARE };
        let (cost, offset) = model.removed();
        let mut rows = rows(model, limits);
        rows.extend(worst(lows.iter().map(|low| (low, low.by))).filter_map(|low| demand(model, low)));
        let stations = model.grid(model.reach);
        let deepest = lows.iter().map(|low| low.by).fold(0.0, f64::max);
        let near = |row: &Demand| match row.limit {
            Some(Limit::LeastThickness | Limit::CarveLine | Limit::Convex) => {
                row.slack(&[]) < FAR + 2.0 * deepest
            }
            _ => true,
        };
        let marked = rows.iter().map(near).collect();
        let programme = Programme { cost, offset, rows };
        Self {
            model,
            lows,
            programme,
            marked,
            weights: Vec::new(),
            hopeless: Vec::new(),
            thickness: asked_thickness(model.neck, limits),
            asked_wall,
            wall,
            stations,
        }
    }

    /// Looks at the wall at so many stations for each one so far.
    pub fn look_closer(&mut self, times: usize) {
        self.stations.sort_by(f64::total_cmp);
        let between = |w: &[f64]| {
            let (from, step) = (w[0], (w[1] - w[0]) / times as f64);
            (1..times).map(move |i| from + step * i as f64)
        };
        let more: Vec<f64> = self.stations.windows(2).flat_map(between).collect();
        self.stations.extend(more);
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

    /// Solves it, adding rows until none is broken.
    pub fn solve(&mut self) -> Solved {
        for _ in 0..ROUNDS {
            let mut solved = self.refined(Precision::Rough);
            if matches!(solved, Solved::Stuck) {
                self.marked.fill(true);
                solved = self.refined(Precision::Fine);
            }
            let (unknowns, prices) = match solved {
                Solved::Optimum { unknowns, prices, .. } => (unknowns, prices),
                Solved::Infeasible { weights } => {
                    self.weights.clone_from(&weights);
                    return Solved::Infeasible { weights };
                }
                Solved::Stuck => return Solved::Stuck,
            };
            let missing = self.missing(&unknowns, self.wall);
            if missing.is_empty() {
                return Solved::Optimum { unknowns, prices, close: true };
            }
            self.programme.rows.extend(missing);
        }
        Solved::Stuck
    }

    fn refined(&mut self, precision: Precision) -> Solved {
        let lines = self.model.free_lines();
        let settle = |unknowns: &mut [f64]| lines.iter().for_each(|line| line.settle(unknowns));
        self.programme.closely(&mut self.marked, precision, settle)
    }

    /// What the solution becomes where one row asks for more or less: roughly, for uncertainties. Rows that it is far from are
    /// asked for only if it comes to break them.
    pub fn moved(&self, unknowns: &[f64], i: usize, by: f64) -> Option<Vec<f64>> {
        let mut other = self.programme.clone();
        other.rows.get_mut(i)?.least += by;
        // Rows in another measure than mm are few.
        let near = |row: &Demand| {
            let other =
                matches!(row.limit, Some(Limit::SpineRadius | Limit::CarveRadius | Limit::RiseTowardNut));
            row.equal || other || row.slack(unknowns) < NEAR + 2.0 * libm::fabs(by)
        };
        let mut near: Vec<bool> = other.rows.iter().map(near).collect();
        let solved = other.solve(&mut near, Precision::Rough);
        if let Solved::Optimum { unknowns, .. } = solved { Some(unknowns) } else { None }
    }

    /// Whether a limit may be given way to alone, by the rows that can't be met together.
    pub fn may_help(&self, limit: Limit) -> bool {
        helps(&self.programme.rows, &self.weights, limit)
    }

    /// The least by which some limits have to give way, each in its unit, for the rest to hold: one unknown more for
    /// each. `None` where that does not help.
    pub fn relaxed(&mut self, limits: &[Limit]) -> Option<Relaxed> {
        let n = self.programme.cost.len();
        let wall_at = limits.iter().position(|limit| *limit == Limit::RodWall);
        let mut given: f64 = 0.0;
        let mut least: Option<Relaxed> = None;
        let mut before: Option<Vec<f64>> = None;
        // A wall is no linear measure round a corner: its rows are made again where it has given way so far.
        for _ in 0..8 {
            let (mut programme, mut marked) = self.elastic(limits, given);
            if let Some(before) = &before {
                let again = broken(self.model, &self.stations, before, self.wall - given, -WALL_FAR);
                let again = again.into_iter().flat_map(|row| self.loosened(row, limits));
                programme.rows.extend(again);
            }
            let mut solved = None;
            for _ in 0..ROUNDS {
                let (unknowns, prices) = match programme.closely(&mut marked, Precision::Fine, |_| {}) {
                    Solved::Optimum { unknowns, prices, .. } => (unknowns, prices),
                    Solved::Infeasible { weights } => {
                        // It tells the same of what does not give way here.
                        if limits.len() == 1 && !weights.is_empty() {
                            self.hopeless.extend(
                                Limit::ALL.into_iter().filter(|l| !helps(&programme.rows, &weights, *l)),
                            );
                        }
                        break;
                    }
                    Solved::Stuck => break,
                };
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
            let (mut by, unknowns, prices) = solved?;
            before = Some(unknowns[..n].to_vec());
            let more = wall_at.map_or(0.0, |at| by[at]);
            given += more;
            if let Some(at) = wall_at {
                by[at] = given;
            }
            let at = limits.iter().map(|limit| hardest(&programme, &prices, *limit)).collect();
            least = Some(Relaxed { by, at, asking: programme.asking(&prices) });
            if libm::fabs(more) < 1e-7 {
                break;
            }
        }
        least
    }

    /// The programme that asks for the least giving way, and which of its rows are asked for at first.
    fn elastic(&self, limits: &[Limit], given: f64) -> (Programme, Vec<bool>) {
        let n = self.programme.cost.len();
        let mut cost = alloc::vec![0.0; n];
        cost.resize(n + limits.len(), 1.0);
        let (mut rows, mut marked) = (Vec::new(), Vec::new());
        for (i, row) in self.programme.rows.iter().enumerate() {
            // Rows of the wall were made for the whole of it.
            if given == 0.0 || row.limit != Some(Limit::RodWall) {
                rows.extend(self.loosened(row.clone(), limits));
                marked.resize(rows.len(), self.marked.get(i).copied().unwrap_or(true));
            }
        }
        for (i, limit) in limits.iter().enumerate() {
            let least = if *limit == Limit::RodWall { -given } else { 0.0 };
            let terms = core::iter::once((n + i, 1.0)).collect();
            rows.push(Demand { limit: None, x_mm: 0.0, terms, least, equal: false, measure: 1.0, low: None });
        }
        (Programme { cost, offset: 0.0, rows }, marked)
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

/// By how much limits give way, where each binds hardest, and which low places ask for it.
pub(super) struct Relaxed {
    pub by: Vec<f64>,
    pub at: Vec<f64>,
    pub asking: Vec<usize>,
}

/// The station where a limit costs most.
fn hardest(programme: &Programme, prices: &[f64], limit: Limit) -> f64 {
    let rows = programme.rows.iter().zip(prices).filter(|(row, _)| row.limit == Some(limit));
    rows.max_by(|a, b| libm::fabs(*a.1).total_cmp(&libm::fabs(*b.1))).map_or(0.0, |(row, _)| row.x_mm)
}

/// Whether a limit can help by giving way alone where rows with these weights can't be met together: each unknown's factors
/// add up to nothing, so that a limit whose rows have no weight can give way for ever.
fn helps(rows: &[Demand], weights: &[f64], limit: Limit) -> bool {
    if weights.is_empty() {
        return true;
    }
    let asked: f64 = rows.iter().zip(weights).map(|(row, weight)| row.least * weight).sum();
    let given: f64 = rows
        .iter()
        .zip(weights)
        .filter(|(row, _)| row.limit == Some(limit))
        .map(|(row, weight)| libm::fabs(*weight) / row.measure)
        .sum();
    asked <= given * MOST_GIVEN
}
