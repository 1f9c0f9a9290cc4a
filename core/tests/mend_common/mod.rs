//! A programme of mending as another solver takes it.
#![allow(missing_docs)]

use microlp::{ComparisonOp, OptimizationDirection, Problem};
use neckwright::inspect::{Limit, Programme};

/// The programme, or the least by which one limit would have to give way in it.
pub fn problem(programme: &Programme, give: Option<Limit>) -> Problem {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let cost = |c: f64| if give.is_some() { 0.0 } else { c };
    let unknowns: Vec<_> = programme
        .cost
        .iter()
        .map(|c| problem.add_var(cost(*c), (f64::NEG_INFINITY, f64::INFINITY)))
        .collect();
    let more = give.map(|_| problem.add_var(1.0, (0.0, f64::INFINITY)));
    for row in &programme.rows {
        // To one size: this solver brings nothing to scale itself.
        let size = row.terms.iter().fold(0.0_f64, |m, t| m.max(t.1.abs()));
        let mut terms: Vec<_> = row.terms.iter().map(|(at, k)| (unknowns[*at], k / size)).collect();
        let gives = row.limit.is_some() && row.limit == give;
        if let Some(more) = more.filter(|_| gives) {
            terms.push((more, 1.0 / row.measure / size));
        }
        let op = if row.equal && !gives { ComparisonOp::Eq } else { ComparisonOp::Ge };
        problem.add_constraint(&terms[..], op, row.least / size);
        if row.equal && gives {
            let mut terms: Vec<_> = row.terms.iter().map(|(at, k)| (unknowns[*at], -k / size)).collect();
            terms.extend(more.map(|more| (more, 1.0 / size)));
            problem.add_constraint(&terms[..], ComparisonOp::Ge, -row.least / size);
        }
    }
    problem
}
