//! A linear programme, and its solution by an interior point.

use alloc::vec;
use alloc::vec::Vec;

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus, ZeroConeT};
use smallvec::SmallVec;

use super::affine::Affine;
use super::limit::Limit;
use super::mending::Reached;

/// Rows with less to spare than this are near, in their own unit.
const NEAR: f64 = 1e-2;
/// By how much finer a measure an optimum is looked for again.
const FINER: f64 = 1e4;
/// What is added on the diagonal of the solver's equations, by turns until one comes to an end: its own 1e-8 leaves some of
/// these programmes, whose optima are flat, without a digit to spare.
const REGULARISED: [f64; 3] = [1e-7, 1e-8, 1e-6];
/// How often a solution is refined that misses a row by more than is close, in the row's unit.
const REFINED: usize = 3;
const CLOSE: f64 = 2e-9;
/// No solution misses a row by more.
const MISSED: f64 = 0.9e-8;

/// A price below this share of the highest is the solver's rounding.
const FREE: f64 = 1e-7;

/// From which price on a row costs something.
pub(super) fn priced(prices: &[f64]) -> f64 {
    FREE * prices.iter().fold(0.0, |most, price| libm::fabs(*price).max(most))
}

/// One demand: a sum of unknowns that is at least (or just) so much.
#[derive(Clone, Debug)]
pub struct Demand {
    /// What asks it; `None` for what belongs to the curves themselves and for the low places.
    pub limit: Option<Limit>,
    /// Where along the neck, mm from the nut.
    pub x_mm: f64,
    /// The unknowns with their factors.
    pub terms: SmallVec<[(usize, f64); 12]>,
    /// The least that their sum may be.
    pub least: f64,
    /// Whether it has to be just that.
    pub equal: bool,
    /// How fast the limit's own measure gives way where the sum falls short by one.
    pub measure: f64,
    /// Which of the readings asks it, where one does.
    pub low: Option<usize>,
}

impl Demand {
    /// `sum ≥ least`.
    pub(super) fn at_least(limit: Option<Limit>, x_mm: f64, sum: Affine, least: f64) -> Self {
        let least = least - sum.constant;
        Self { limit, x_mm, terms: sum.terms, least, equal: false, measure: 1.0, low: None }
    }

    /// `sum = value`.
    pub(super) fn equal(limit: Option<Limit>, x_mm: f64, sum: Affine, value: f64) -> Self {
        Self { equal: true, ..Self::at_least(limit, x_mm, sum, value) }
    }

    /// The same in another measure: so many of the limit's units for one of the row's.
    pub(super) fn measured(self, measure: f64) -> Self {
        Self { measure, ..self }
    }

    /// How much more there is than is asked.
    #[must_use]
    pub fn slack(&self, unknowns: &[f64]) -> f64 {
        let sum: f64 = self.terms.iter().map(|(at, k)| k * unknowns.get(*at).copied().unwrap_or(0.0)).sum();
        if self.equal { -libm::fabs(sum - self.least) } else { sum - self.least }
    }
}

/// The least of a sum of unknowns under rows.
#[derive(Clone, Debug, Default)]
pub struct Programme {
    /// What one of each unknown costs.
    pub cost: Vec<f64>,
    /// What it costs when all unknowns are zero.
    pub offset: f64,
    /// The demands.
    pub rows: Vec<Demand>,
}

/// How closely a solution is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Precision {
    /// So that it can be refined.
    Rough,
    /// As it stands.
    Fine,
}

/// What came of it.
#[derive(Clone, Debug)]
pub(super) enum Solved {
    /// The unknowns, what each row's demand costs, and whether the solver came as close as it was asked.
    Optimum { unknowns: Vec<f64>, prices: Vec<f64>, close: bool },
    /// No unknowns meet all rows: those with these weights add up to what nothing can meet (Farkas's lemma). No weights
    /// where they are not known closely.
    Infeasible { weights: Vec<f64> },
    /// The solver gave up.
    Stuck,
}

impl Programme {
    /// The cost of given unknowns.
    #[must_use]
    pub fn cost_of(&self, unknowns: &[f64]) -> f64 {
        self.offset + self.cost.iter().zip(unknowns).map(|(c, z)| c * z).sum::<f64>()
    }

    /// The limits that cost something, each where it costs most.
    pub(super) fn reached(&self, prices: &[f64]) -> Vec<Reached> {
        let least = priced(prices);
        let most = |limit: &Limit| {
            let rows = self.rows.iter().zip(prices).filter(|(row, _)| row.limit == Some(*limit));
            let (row, price) = rows.max_by(|a, b| libm::fabs(*a.1).total_cmp(&libm::fabs(*b.1)))?;
            (libm::fabs(*price) > least).then_some(Reached { limit: *limit, x_mm: row.x_mm })
        };
        Limit::ALL.iter().filter_map(most).collect()
    }

    /// The low places that cost something, rising.
    pub(super) fn asking(&self, prices: &[f64]) -> Vec<usize> {
        let least = priced(prices);
        let rows = self.rows.iter().zip(prices).filter(|(_, price)| libm::fabs(**price) > least);
        let mut lows: Vec<usize> = rows.filter_map(|(row, _)| row.low).collect();
        lows.sort_unstable();
        lows.dedup();
        lows
    }

    /// The row that is short of most, and by how much; 0 where none is.
    fn shortest(&self, unknowns: &[f64]) -> f64 {
        self.rows.iter().map(|row| -row.slack(unknowns)).fold(0.0, f64::max)
    }

    /// The optimum near to one that misses rows by what the solver's relative tolerances leave: what is still to change is
    /// looked for in a measure in which it is large, under the rows that are near (iterative refinement of linear
    /// programmes: A. M. Gleixner, D. E. Steffy, K. Wolter, INFORMS J. Comput. 28, 2016, from memory).
    fn refined(&self, unknowns: &[f64], marked: &[bool], close: bool) -> Solved {
        let near = |i: &usize| {
            let row = &self.rows[*i];
            // Where it is not known closely any row may be near.
            row.equal || row.slack(unknowns) < NEAR || (!close && marked.get(*i) == Some(&true))
        };
        let near: Vec<usize> = (0..self.rows.len()).filter(near).collect();
        let rows = near.iter().map(|i| {
            let row = &self.rows[*i];
            let sum: f64 =
                row.terms.iter().map(|(at, k)| k * unknowns.get(*at).copied().unwrap_or(0.0)).sum();
            Demand { least: FINER * (row.least - sum), ..row.clone() }
        });
        let finer = Self { cost: self.cost.clone(), offset: 0.0, rows: rows.collect() };
        let all: Vec<usize> = (0..near.len()).collect();
        let solved = finer.optimum(&all, Precision::Fine);
        let Solved::Optimum { unknowns: change, prices: of_near, close } = solved else { return solved };
        let mut prices = vec![0.0; self.rows.len()];
        for (i, price) in near.iter().zip(of_near) {
            prices[*i] = price;
        }
        let unknowns = unknowns.iter().zip(&change).map(|(z, by)| z + by / FINER).collect();
        Solved::Optimum { unknowns, prices, close }
    }

    /// Solves it and refines the solution until it misses no row. What depends on other unknowns is put right by `settle`.
    pub(super) fn closely(
        &self,
        marked: &mut Vec<bool>,
        precision: Precision,
        settle: impl Fn(&mut [f64]),
    ) -> Solved {
        let solved = self.solve(marked, precision);
        let Solved::Optimum { mut unknowns, mut prices, mut close } = solved else { return solved };
        settle(&mut unknowns);
        for _ in 0..REFINED {
            let short = self.shortest(&unknowns);
            if close && short < CLOSE {
                break;
            }
            let Solved::Optimum { unknowns: mut finer, prices: of_finer, close: now } =
                self.refined(&unknowns, marked, close)
            else {
                break;
            };
            settle(&mut finer);
            if self.shortest(&finer) < short.max(CLOSE) {
                (unknowns, prices, close) = (finer, of_finer, now);
            }
        }
        if self.shortest(&unknowns) > MISSED {
            return Solved::Stuck;
        }
        Solved::Optimum { unknowns, prices, close }
    }

    /// Solves it by the rows that are marked, and marks those too that a solution breaks, until it breaks none: most rows
    /// are far from mattering.
    pub(super) fn solve(&self, marked: &mut Vec<bool>, precision: Precision) -> Solved {
        marked.resize(self.rows.len(), true);
        loop {
            let chosen: Vec<usize> = (0..self.rows.len()).filter(|i| marked[*i]).collect();
            let solved = self.optimum(&chosen, precision);
            let mut more = false;
            match &solved {
                Solved::Optimum { unknowns, .. } => {
                    for (row, marked) in self.rows.iter().zip(marked.iter_mut()) {
                        if !*marked && row.slack(unknowns) < 0.0 {
                            (*marked, more) = (true, true);
                        }
                    }
                }
                Solved::Infeasible { .. } => {}
                Solved::Stuck => {
                    more = chosen.len() < self.rows.len();
                    marked.fill(true);
                }
            }
            if !more {
                return solved;
            }
        }
    }

    /// Solves it by some of its rows. Rows and costs are brought to one size by the solver itself.
    fn optimum(&self, chosen: &[usize], precision: Precision) -> Solved {
        let (n, m) = (self.cost.len(), chosen.len());
        // Equations first: the solver takes its cones one after the other.
        let mut order = chosen.to_vec();
        order.sort_by_key(|i| !self.rows[*i].equal);
        let equations = order.iter().filter(|i| self.rows[**i].equal).count();
        let mut columns: Vec<Vec<(usize, f64)>> = vec![Vec::new(); n];
        let mut right = Vec::with_capacity(m);
        for (place, i) in order.iter().enumerate() {
            let row = &self.rows[*i];
            for (at, k) in &row.terms {
                if let Some(column) = columns.get_mut(*at) {
                    column.push((place, -k));
                }
            }
            right.push(-row.least);
        }
        let (mut starts, mut places, mut values) = (vec![0], Vec::new(), Vec::new());
        for column in columns {
            places.extend(column.iter().map(|entry| entry.0));
            values.extend(column.iter().map(|entry| entry.1));
            starts.push(places.len());
        }
        let matrix = CscMatrix::new(m, n, starts, places, values);
        let cones = [ZeroConeT(equations), NonnegativeConeT(m - equations)];
        let none = CscMatrix::zeros((n, n));
        let mut best = None;
        for regularised in REGULARISED {
            let settings = DefaultSettings {
                verbose: false,
                max_iter: 100,
                tol_gap_abs: 1e-9,
                tol_gap_rel: if precision == Precision::Fine { 1e-10 } else { 1e-9 },
                tol_feas: if precision == Precision::Fine { 1e-11 } else { 1e-10 },
                static_regularization_constant: regularised,
                ..DefaultSettings::default()
            };
            let Ok(mut solver) = DefaultSolver::new(&none, &self.cost, &matrix, &right, &cones, settings)
            else {
                return Solved::Stuck;
            };
            solver.solve();
            let sure =
                matches!(solver.solution.status, SolverStatus::Solved | SolverStatus::PrimalInfeasible);
            let better = matches!(
                solver.solution.status,
                SolverStatus::AlmostSolved | SolverStatus::AlmostPrimalInfeasible
            );
            if sure || better || best.is_none() {
                best = Some(solver.solution);
            }
            if sure {
                break;
            }
        }
        let Some(found) = best else { return Solved::Stuck };
        let by_row = || {
            let mut of = vec![0.0; self.rows.len()];
            for (place, i) in order.iter().enumerate() {
                of[*i] = found.z.get(place).copied().unwrap_or(0.0);
            }
            of
        };
        match found.status {
            SolverStatus::PrimalInfeasible => Solved::Infeasible { weights: by_row() },
            SolverStatus::AlmostPrimalInfeasible => Solved::Infeasible { weights: Vec::new() },
            SolverStatus::Solved
            | SolverStatus::AlmostSolved
            | SolverStatus::InsufficientProgress
            | SolverStatus::MaxIterations
                if found.x.iter().all(|z| z.is_finite()) =>
            {
                let close = found.status == SolverStatus::Solved;
                let prices = by_row();
                Solved::Optimum { unknowns: found.x, prices, close }
            }
            _ => Solved::Stuck,
        }
    }
}
