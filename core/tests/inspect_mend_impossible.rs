//! Necks that can't be mended: what forbids it, against another solver.
#![allow(missing_docs)]

mod common;
mod mend_common;

use common::necks;
use mend_common::problem;
use microlp::SolveOutcome;
use neckwright::inspect::{Asked, Limit, Measured, Mending, Programme, Reading, Readings, programme};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::MendLimits;
use std::time::Duration;

/// Another solver's optimum of the same programme: `Err` where it says that there is none.
fn other(programme: &Programme, give: Option<Limit>) -> Result<f64, String> {
    let mut problem = problem(programme, give);
    // Some it does not get done with; what it is not asked to the end is counted.
    problem.set_time_limit(Duration::from_millis(500));
    match problem.solve() {
        Ok(SolveOutcome::Solution(solution)) => {
            Ok(solution.objective() + if give.is_some() { 0.0 } else { programme.offset })
        }
        Ok(_) => Err("limit".into()),
        Err(e) => Err(format!("{e:?}")),
    }
}

/// A low place that asks for more than one of the limits leaves, a different one in every case.
fn asked(case: usize, neck: &Neck) -> (Reading, MendLimits) {
    let [from, to] = neck.shaft_reach_mm();
    let to = to.min(neck.layout().board().end_mm());
    let x = from + (to - from) * [0.2, 0.5, 0.8][case / 5 % 3];
    let (thickness, carve) = (neck.thickness_mm(x).unwrap(), neck.carve_line_mm(x, Side::Treble).unwrap());
    let mut limits = MendLimits::default();
    let (measured, value_mm) = match case % 5 {
        0 => {
            limits.least_thickness = Length::from_mm(neck.least_thickness().value - 0.2);
            (Measured::Thickness, thickness - 2.5)
        }
        1 => {
            limits.least_wall = Some(Length::from_mm(3.0));
            (Measured::Thickness, thickness - 3.5)
        }
        2 => {
            limits.spine_radius = Length::from_mm(60000.0);
            (Measured::Thickness, thickness - 1.2)
        }
        3 => {
            limits.carve_radius = Length::from_mm(60000.0);
            (Measured::CarveLine(Side::Treble), carve - 1.0)
        }
        _ => {
            limits.keep_even = true;
            (Measured::CarveLine(Side::Treble), carve - 2.0 - 0.3 * carve)
        }
    };
    (Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm: 0.03, line: 0 }, limits)
}

/// By how much a limit has to give way at least, by a sum of rows in which every unknown cancels out (Farkas's lemma), for
/// unknowns up to 100; none where the sum shows nothing.
fn at_least(programme: &Programme, weights: &[f64], limit: Option<Limit>) -> Option<f64> {
    let mut sums = vec![0.0; programme.cost.len()];
    let (mut asked, mut gives) = (0.0, 0.0);
    for (row, weight) in programme.rows.iter().zip(weights) {
        let weight = if row.equal { *weight } else { weight.max(0.0) };
        row.terms.iter().for_each(|(at, k)| sums[*at] += weight * k);
        asked += weight * row.least;
        if row.limit.is_some() && row.limit == limit {
            gives += weight.abs() / row.measure;
        }
    }
    let asked = asked - 100.0 * sums.iter().map(|sum| sum.abs()).sum::<f64>();
    (asked > 0.0).then_some(asked / gives)
}

#[test]
fn what_forbids_mending_is_what_another_solver_finds() {
    let (mut impossible, mut by_solver, mut by_sum, mut left) = (0, 0, 0, 0);
    let (mut shown, mut amounts) = (0, 0);
    let mut named = std::collections::BTreeMap::new();
    for (case, neck) in necks(100).into_iter().enumerate() {
        let (reading, limits) = asked(case, &neck);
        let Ok(low) = Readings::new(vec![reading]) else { continue };
        let Ok(Mending::Impossible(forbidden)) = neck.mend(&low, &limits) else { continue };
        let Asked { programme, unknowns, weights } = programme(&neck, &low, &limits).unwrap().unwrap();
        assert!(unknowns.is_none() && !forbidden.is_empty(), "{case}");
        impossible += 1;
        // A sum of rows shows it, and the other solver finds no neck either.
        shown += usize::from(at_least(&programme, &weights, None).is_some());
        assert!(other(&programme, None).is_err(), "{case}: {forbidden:?}");
        for found in &forbidden {
            *named.entry(found.limit.name()).or_insert(0) += 1;
        }
        for limit in Limit::ALL {
            if !programme.rows.iter().any(|row| row.limit == Some(limit)) {
                continue;
            }
            let Some(ours) = forbidden.iter().find(|f| f.limit == limit && f.alone) else {
                if at_least(&programme, &weights, Some(limit)).is_some_and(|least| least > 1e5) {
                    by_sum += 1;
                    continue;
                }
                match other(&programme, Some(limit)) {
                    Err(e) if e == "limit" => left += 1,
                    Err(_) => by_solver += 1,
                    Ok(by) => panic!("{case}: {limit:?} is not named, and {by} would do"),
                }
                continue;
            };
            match other(&programme, Some(limit)) {
                // A wall is no linear measure round a corner.
                Ok(_) if limit == Limit::RodWall => assert!(ours.by > 0.0),
                Ok(theirs) => {
                    let by = (ours.by - theirs).abs();
                    assert!(by < 1e-6 * (1.0 + theirs), "{case}: {limit:?} {} for {theirs}", ours.by);
                    amounts += 1;
                }
                Err(e) => {
                    assert_eq!(e, "limit", "{case}: {limit:?} does not help");
                    left += 1;
                }
            }
        }
    }
    println!(
        "{impossible} impossible, {shown} shown by a sum of rows; forbidden by {named:?}; {amounts} amounts agree; not \
         named: {by_sum} by a sum of rows, {by_solver} by the other solver, {left} not done with"
    );
    let all = amounts + by_sum + by_solver + left;
    assert!(impossible >= 30 && shown == impossible && 10 * left <= all, "{left} of {all} not done with");
}
