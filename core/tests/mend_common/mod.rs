//! A programme of mending as another solver takes it.
#![allow(dead_code, missing_docs)]

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use neckwright::inspect::{Demand, Limit, Programme};

/// No unknown is larger (a drop in mm, or a second derivative of one in tenths of 1/m), and no limit gives way by more.
const MOST: f64 = 1e5;

/// How often what the other solver leaves is made larger and solved again, and by how much.
const AGAIN: usize = 2;
const FINER: f64 = 1e4;

/// The programme around a point, or the least by which one limit would have to give way in it. Rows of one unknown are
/// its bounds.
fn problem(programme: &Programme, give: Option<Limit>, from: &[f64], size: f64) -> Problem {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let n = programme.cost.len();
    let gives = |row: &Demand| row.limit.is_some() && row.limit == give;
    let least = |row: &Demand| {
        let sum: f64 = row.terms.iter().map(|(at, k)| k * from[*at]).sum();
        let given = if gives(row) { from[n] / row.measure } else { 0.0 };
        (sum, given, row.least)
    };
    let mut bounds: Vec<(f64, f64)> =
        from[..n].iter().map(|z| (size * (-MOST - z), size * (MOST - z))).collect();
    for row in programme.rows.iter().filter(|row| row.terms.len() == 1 && !gives(row)) {
        let (at, k) = row.terms[0];
        let bound = size * (row.least / k - from[at]);
        if k > 0.0 || row.equal {
            bounds[at].0 = bounds[at].0.max(bound);
        }
        if k < 0.0 || row.equal {
            bounds[at].1 = bounds[at].1.min(bound);
        }
    }
    let cost = |c: f64| if give.is_some() { 0.0 } else { c };
    let unknowns: Vec<_> =
        programme.cost.iter().zip(bounds).map(|(c, bounds)| problem.add_var(cost(*c), bounds)).collect();
    let more = give.map(|_| problem.add_var(1.0, (-size * from[n], size * (MOST - from[n]))));
    for row in programme.rows.iter().filter(|row| row.terms.len() > 1 || gives(row)) {
        // To one size: this solver brings nothing to scale itself.
        let unit = row.terms.iter().fold(0.0_f64, |m, t| m.max(t.1.abs()));
        let mut terms: Vec<_> = row.terms.iter().map(|(at, k)| (unknowns[*at], k / unit)).collect();
        let (sum, given, asked) = least(row);
        if let Some(more) = more.filter(|_| gives(row)) {
            terms.push((more, 1.0 / row.measure / unit));
        }
        let op = if row.equal && !gives(row) { ComparisonOp::Eq } else { ComparisonOp::Ge };
        problem.add_constraint(&terms[..], op, size * (asked - sum - given) / unit);
        if row.equal && gives(row) {
            let mut terms: Vec<_> = row.terms.iter().map(|(at, k)| (unknowns[*at], -k / unit)).collect();
            terms.extend(more.map(|more| (more, 1.0 / row.measure / unit)));
            problem.add_constraint(&terms[..], ComparisonOp::Ge, size * (sum - asked - given) / unit);
        }
    }
    problem
}

/// Another solver's optimum of the same programme, or the least by which a limit has to give way; `Err` where it says that
/// there is none.
pub fn other(programme: &Programme, give: Option<Limit>) -> Result<f64, String> {
    let n = programme.cost.len();
    let mut found = vec![0.0; n + 1];
    let mut size = 1.0;
    for _ in 0..=AGAIN {
        let solution = match problem(programme, give, &found, size).solve() {
            Ok(SolveOutcome::Solution(solution)) => solution,
            Ok(_) => return Err("not done".into()),
            Err(e) => return Err(format!("{e:?}")),
        };
        for ((_, by), z) in solution.iter().zip(&mut found) {
            *z += by / size;
        }
        size *= FINER;
    }
    Ok(if give.is_some() { found[n] } else { programme.cost_of(&found[..n]) })
}
