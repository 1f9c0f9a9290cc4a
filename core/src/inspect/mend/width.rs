//! The board's edges come in to where the neck is too narrow.

use alloc::format;
use alloc::vec;
use alloc::vec::Vec;

use super::affine::Affine;
use super::forbid::asked;
use super::limit::{Forbidden, Limit};
use super::low::Low;
use super::mending::Reached;
use super::pool::Pool;
use super::programme::{Demand, Precision, Programme, Solved};
use super::rows::SPARE;
use super::verify::stuck;
use crate::inspect::along::at_station;
use crate::inspect::lengths::length_words;
use crate::measure::{Error, Length};
use crate::shape::Neck;
use crate::spec::{Allowed, BenchUnit, MendLimits, Nut, Specification, WidthAt};

/// No board is narrower, mm.
const NARROWEST: f64 = Allowed::<Nut>::width.within.lowest.max(Allowed::<WidthAt>::width.within.lowest);

/// The widths of the board as a linear programme over the stations that it has: the least area taken off.
struct Widths<'a> {
    neck: &'a Neck,
    /// Station and width as designed.
    given: &'a [(f64, f64)],
}

impl Widths<'_> {
    /// How far the width comes in at a station.
    fn narrower(&self, x: f64) -> Affine {
        let last = self.given.len() - 2;
        let i = self.given.iter().skip(1).take_while(|w| w.0 <= x).count().min(last);
        let (a, b) = (self.given[i].0, self.given[i + 1].0);
        let t = (x - a) / (b - a);
        let mut sum = Affine::default();
        sum.terms.extend([(i, 1.0 - t), (i + 1, t)]);
        sum
    }

    /// Where edges that are carried on beyond the board may not lie outside: at its ends, where the neck ends, and where
    /// the curves toward the headstock's first points have left the straight line.
    fn beyond(&self) -> Vec<f64> {
        let (built, board) = (self.neck.built(), self.neck.layout().board());
        let headstock = &self.neck.normalised().headstock;
        let points = [&headstock.bass_edge, &headstock.treble_edge];
        let first = points.into_iter().flatten().filter_map(|points| points.first());
        let curves =
            first.map(|point| built.head.root + (built.head.x(point.along.mm()) - built.head.root) / 3.0);
        curves.chain([board.start_mm(), built.head.root, board.end_mm().max(built.end)]).collect()
    }

    /// With rows that keep what lies beyond the board inside too, if that is asked.
    fn programme(&self, lows: &[Low], limits: &MendLimits, beyond: bool) -> Programme {
        let board = self.neck.layout().board();
        let n = self.given.len();
        let mut cost = vec![0.0; n];
        let mut at: Vec<f64> =
            self.given.iter().map(|w| w.0).filter(|x| *x > 0.0 && *x < board.end_mm()).collect();
        at.insert(0, 0.0);
        at.push(board.end_mm());
        for w in at.windows(2) {
            for x in [w[0], w[1]] {
                for (k, share) in self.narrower(x).terms {
                    cost[k] += 0.5 * share * (w[1] - w[0]);
                }
            }
        }
        let mut rows = Vec::new();
        for (k, (x, width)) in self.given.iter().enumerate() {
            let only = |k: usize| Affine { terms: core::iter::once((k, 1.0)).collect(), constant: 0.0 };
            rows.push(Demand::at_least(None, *x, only(k), 0.0));
            let left = Affine::constant(*width).plus(&only(k), -1.0);
            rows.push(Demand::at_least(Some(Limit::LeastWidth), *x, left, (NARROWEST + SPARE).min(*width)));
        }
        for x in at {
            let left = Affine::constant(board.width_mm(x)).plus(&self.narrower(x), -1.0);
            rows.push(Demand::at_least(
                Some(Limit::LeastWidth),
                x,
                left,
                (NARROWEST.max(2.0 * board.binding_mm() + 1.0) + SPARE).min(board.width_mm(x)),
            ));
            let (bass, treble) = self.neck.layout().margins_mm(x);
            let margin = bass.min(treble);
            let left = Affine::constant(margin).plus(&self.narrower(x), -0.5);
            rows.push(Demand::at_least(
                Some(Limit::StringMargin),
                x,
                left,
                (limits.string_margin.mm() + SPARE).min(margin),
            ));
        }
        let further = if beyond { self.beyond() } else { Vec::new() };
        rows.extend(further.into_iter().map(|x| Demand::at_least(None, x, self.narrower(x), 0.0)));
        rows.extend(lows.iter().map(|low| {
            let least = low.by + SPARE;
            Demand { low: Some(low.index), ..Demand::at_least(None, low.x, self.narrower(low.x), least) }
        }));
        Programme { cost, offset: 0.0, rows }
    }
}

/// What comes of the edges.
pub(super) enum Edges {
    /// A specification with narrower widths, and the limits that they come up to.
    In(alloc::boxed::Box<Specification>, Vec<Reached>),
    /// What forbids it.
    Forbidden(Vec<Forbidden>),
}

/// Brings the edges in.
pub(super) fn edges(neck: &Neck, lows: &[Low], limits: &MendLimits, pool: &Pool) -> Result<Edges, Error> {
    let widths = Widths { neck, given: neck.layout().board().widths_mm() };
    let mut found = None;
    for beyond in [true, false] {
        let programme = widths.programme(lows, limits, beyond);
        match programme.closely(&mut Vec::new(), Precision::Fine, |_| {}) {
            Solved::Optimum { unknowns, prices, .. } => {
                found = Some((unknowns, programme.reached(&prices)));
                break;
            }
            // Without what lies beyond the board it is tried again.
            _ if beyond => {}
            Solved::Infeasible { .. } => {
                return forbidden(neck, limits.unit, &programme, pool).map(Edges::Forbidden);
            }
            Solved::Stuck => return Err(stuck("made narrower")),
        }
    }
    let Some((unknowns, reached)) = found else { return Err(stuck("made narrower")) };
    let mut spec = neck.normalised().clone();
    let narrowed = |k: usize, width: f64| {
        let by = unknowns.get(k).copied().unwrap_or(0.0);
        // Left as it is where only the solver's rounding took something.
        if by < 10.0 * SPARE { width } else { width - by }
    };
    let mut new = widths.given.iter().enumerate().map(|(k, w)| narrowed(k, w.1));
    spec.nut.width = Length::from_mm(new.next().unwrap_or(spec.nut.width.mm()));
    for (given, width) in spec.fretboard.widths.iter_mut().flatten().zip(new) {
        given.width = Length::from_mm(width);
    }
    Ok(Edges::In(alloc::boxed::Box::new(spec), reached))
}

/// By how much limits of the edges give way, where each costs most, and which low places ask for it.
struct Relaxed {
    by: Vec<f64>,
    at: Vec<f64>,
    asking: Vec<usize>,
}

/// The least by which limits have to give way, all of them added up: one unknown more for each. `None` where that does not
/// help.
fn relaxed(programme: &Programme, limits: &[Limit]) -> Result<Option<Relaxed>, Error> {
    let n = programme.cost.len();
    let mut cost = vec![0.0; n];
    cost.resize(n + limits.len(), 1.0);
    let give = |row: &Demand| {
        let mut row = row.clone();
        let which = limits.iter().position(|limit| row.limit == Some(*limit));
        row.terms.extend(which.map(|i| (n + i, 1.0)));
        row
    };
    let more = |i: usize| Affine { terms: core::iter::once((n + i, 1.0)).collect(), constant: 0.0 };
    let none = (0..limits.len()).map(|i| Demand::at_least(None, 0.0, more(i), 0.0));
    let rows: Vec<Demand> = programme.rows.iter().map(give).chain(none).collect();
    let elastic = Programme { cost, offset: 0.0, rows };
    let (unknowns, prices) = match elastic.solve(&mut Vec::new(), Precision::Fine) {
        Solved::Optimum { unknowns, prices, .. } => (unknowns, prices),
        Solved::Infeasible { .. } => return Ok(None),
        Solved::Stuck => return Err(stuck("made narrower, nor is it known what forbids it")),
    };
    let hardest = |limit: &Limit| {
        let rows = elastic.rows.iter().zip(&prices).filter(|(row, _)| row.limit == Some(*limit));
        rows.max_by(|a, b| a.1.total_cmp(b.1)).map_or(0.0, |(row, _)| row.x_mm)
    };
    let by = (0..limits.len()).map(|i| unknowns.get(n + i).copied().unwrap_or(0.0)).collect();
    let at = limits.iter().map(hardest).collect();
    Ok(Some(Relaxed { by, at, asking: elastic.asking(&prices) }))
}

/// The limits each of which, given way alone, would let the edges come in, by how little they ask; where neither would, both.
fn forbidden(
    neck: &Neck,
    unit: BenchUnit,
    programme: &Programme,
    pool: &Pool,
) -> Result<Vec<Forbidden>, Error> {
    const LIMITS: [Limit; 2] = [Limit::StringMargin, Limit::LeastWidth];
    let mut found = Vec::new();
    for sets in [[&LIMITS[..1], &LIMITS[1..]].as_slice(), &[&LIMITS]] {
        for limits in sets {
            let Some(relaxed) = relaxed(programme, limits)? else { continue };
            for ((limit, by), x) in limits.iter().zip(relaxed.by).zip(relaxed.at) {
                let told = told(neck, unit, *limit, by, x, limits.len() == 1);
                found.push(asked(neck, pool, &relaxed.asking, told));
            }
        }
        if !found.is_empty() {
            found.sort_by(|a, b| a.by.total_cmp(&b.by));
            return Ok(found);
        }
    }
    Err(stuck("made narrower, nor is it known what forbids it"))
}

fn told(neck: &Neck, unit: BenchUnit, limit: Limit, by: f64, x: f64, alone: bool) -> Forbidden {
    let at = at_station(neck, x);
    let much = length_words(by, unit);
    let sentence = match limit {
        Limit::StringMargin => {
            format!("{at} an outer string would come {much} nearer to the board's edge than it may")
        }
        _ => format!("{at}, the board would be {much} narrower than a board may be"),
    };
    Forbidden { limit, x_mm: x, by, alone, asked_by: Vec::new(), sentence }
}
