//! A programme of mending as another solver takes it.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use neckwright::inspect::{Demand, Forbidden, Limit, Programme};

/// No unknown is larger (a drop in mm, or a second derivative of one in tenths of 1/m), and no limit gives way by more.
const MOST: f64 = 1e5;

/// How often what the other solver leaves is made larger and solved again, and by how much.
const AGAIN: usize = 1;
const FINER: f64 = 1e4;

/// The programme around a point, in a measure `size` times as fine; or the least by which limits would have to give way in
/// it, all of them added up. Rows of one unknown are its bounds.
fn problem(programme: &Programme, give: &[Limit], from: &[f64], size: f64) -> Problem {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let n = programme.cost.len();
    let gives = |row: &Demand| row.limit.and_then(|limit| give.iter().position(|given| *given == limit));
    let mut bounds: Vec<(f64, f64)> =
        from[..n].iter().map(|z| (size * (-MOST - z), size * (MOST - z))).collect();
    for row in programme.rows.iter().filter(|row| row.terms.len() == 1 && gives(row).is_none()) {
        let (at, k) = row.terms[0];
        let bound = size * (row.least / k - from[at]);
        if k > 0.0 || row.equal {
            bounds[at].0 = bounds[at].0.max(bound);
        }
        if k < 0.0 || row.equal {
            bounds[at].1 = bounds[at].1.min(bound);
        }
    }
    let cost = |c: f64| if give.is_empty() { c } else { 0.0 };
    let unknowns: Vec<_> =
        programme.cost.iter().zip(bounds).map(|(c, bounds)| problem.add_var(cost(*c), bounds)).collect();
    let more: Vec<_> =
        from[n..].iter().map(|by| problem.add_var(1.0, (-size * by, size * (MOST - by)))).collect();
    for row in programme.rows.iter().filter(|row| row.terms.len() > 1 || gives(row).is_some()) {
        // To one size: this solver brings nothing to scale itself.
        let unit = row.terms.iter().fold(0.0_f64, |m, t| m.max(t.1.abs()));
        let sum: f64 = row.terms.iter().map(|(at, k)| k * from[*at]).sum();
        let mut add = |sign: f64, op: ComparisonOp| {
            let mut terms: Vec<_> =
                row.terms.iter().map(|(at, k)| (unknowns[*at], sign * k / unit)).collect();
            let mut short = sign * (row.least - sum);
            if let Some(i) = gives(row) {
                terms.push((more[i], 1.0 / row.measure / unit));
                short -= from[n + i] / row.measure;
            }
            problem.add_constraint(&terms[..], op, size * short / unit);
        };
        match (row.equal, gives(row)) {
            (true, None) => add(1.0, ComparisonOp::Eq),
            (true, Some(_)) => {
                add(1.0, ComparisonOp::Ge);
                add(-1.0, ComparisonOp::Ge);
            }
            (false, _) => add(1.0, ComparisonOp::Ge),
        }
    }
    problem
}

/// Another solver's optimum of the same programme, or the least by which limits have to give way, all of them added up;
/// `Err` where it says that there is none. (By a revised simplex method, where the library has an interior point.)
///
/// What it finds is good to its own tolerance, 1e-10 of the numbers that it is given: what is left is made larger and
/// solved for again.
pub fn other(programme: &Programme, give: &[Limit]) -> Result<f64, String> {
    let n = programme.cost.len();
    let mut found = vec![0.0; n + give.len()];
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
    for row in &programme.rows {
        let by = give
            .iter()
            .position(|limit| row.limit == Some(*limit))
            .map_or(0.0, |i| found[n + i] / row.measure);
        let slack = row.slack(&found[..n]) + by;
        assert!(slack > -1e-9, "the other solver misses {row:?} by {}", -slack);
    }
    Ok(if give.is_empty() { programme.cost_of(&found[..n]) } else { found[n..].iter().sum() })
}

/// Shows that a solution keeps every row of its programme and is the other solver's optimum; how far apart the two are,
/// relatively.
///
/// Either may miss a row by 1e-8 mm, which over the back of a neck comes to 1e-4 mm³: a millionth of the least that these
/// tests take off.
pub fn optimum(case: usize, programme: &Programme, unknowns: &[f64]) -> f64 {
    for row in &programme.rows {
        assert!(row.slack(unknowns) > -1e-8, "{case}: {row:?} is short by {}", -row.slack(unknowns));
    }
    let (ours, theirs) = (programme.cost_of(unknowns), other(programme, &[]).unwrap());
    let apart = ((ours - theirs) / theirs).abs();
    assert!(apart < 1e-6, "{case}: {ours} for {theirs} mm3");
    apart
}

/// Shows that what is said to forbid mending is what the other solver finds: which limits would do by giving way alone, and
/// by how much; or that none would, and what they come to together. How many amounts agree, how many limits are found by
/// neither, and how often the other solver gave up (which it does by a count of steps, the same everywhere).
pub fn agreed(case: usize, programme: &Programme, forbidden: &[Forbidden]) -> [usize; 3] {
    assert!(other(programme, &[]).is_err(), "{case}: {forbidden:?}");
    let asked = |limit: &Limit| programme.rows.iter().any(|row| row.limit == Some(*limit));
    let [mut amounts, mut neither, mut given_up] = [0; 3];
    for limit in Limit::ALL.into_iter().filter(asked) {
        let ours = forbidden.iter().find(|f| f.limit == limit && f.alone);
        match (ours, other(programme, &[limit])) {
            // A wall is no linear measure round a corner: it has a test of its own.
            (Some(ours), Ok(theirs)) if limit == Limit::RodWall => assert!(ours.by > 0.0 && theirs > 0.0),
            (Some(ours), Ok(theirs)) => {
                let by = (ours.by - theirs).abs();
                assert!(by < 1e-6 * (1.0 + theirs), "{case}: {limit:?} {} for {theirs}", ours.by);
                amounts += 1;
            }
            (None, Err(e)) if e == "Infeasible" => neither += 1,
            (_, Err(e)) if e != "Infeasible" => given_up += 1,
            (ours, theirs) => panic!("{case}: {limit:?} {ours:?} {theirs:?}"),
        }
    }
    if forbidden.iter().all(|f| !f.alone && f.limit != Limit::RodWall) {
        let all: Vec<Limit> = Limit::ALL.into_iter().filter(asked).collect();
        let (ours, theirs) = (forbidden.iter().map(|f| f.by).sum::<f64>(), other(programme, &all).unwrap());
        // What gives way by less than 0.005 is not told beside what does by more.
        assert!((ours - theirs).abs() < 5e-3 * all.len() as f64, "{case}: {ours} for {theirs} together");
    }
    [amounts, neither, given_up]
}
