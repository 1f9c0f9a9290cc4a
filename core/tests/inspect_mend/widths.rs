//! Edges that come in, against another solver's optimum of a programme that is made here.
#![allow(missing_docs)]

use crate::common::necks;
use crate::mend_common::fair::most;
use crate::mend_common::planted::{Draw, checked};
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome, Variable};
use neckwright::inspect::{Limit, Measured, Mending, Reading, Readings};
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{DepthAt, MendLimits, Specification, WidthAt, numbers};

/// What each width that is given counts at a station: straight from one to the next, and on beyond the last.
fn shares(neck: &Neck, x: f64) -> Vec<f64> {
    let given = neck.layout().board().widths_mm();
    let last = given.len() - 1;
    let i = (1..last).find(|i| x < given[*i].0).unwrap_or(last) - 1;
    let t = (x - given[i].0) / (given[i + 1].0 - given[i].0);
    let mut all = vec![0.0; given.len()];
    (all[i], all[i + 1]) = (1.0 - t, t);
    all
}

/// The least area that has to go for the board to be so wide at a station, in plan and mm², by another solver; or the least by which a
/// limits have to give way for it, added up. `None` where it finds none.
fn theirs(neck: &Neck, (x, width): (f64, f64), margin: f64, give: &[Limit]) -> Option<f64> {
    let board = neck.layout().board();
    let given = board.widths_mm();
    let mut at: Vec<f64> = given.iter().map(|w| w.0).filter(|x| *x > 0.0 && *x < board.end_mm()).collect();
    at.insert(0, 0.0);
    at.push(board.end_mm());
    let mut cost = vec![0.0; given.len()];
    for w in at.windows(2) {
        for x in w {
            shares(neck, *x)
                .iter()
                .zip(&mut cost)
                .for_each(|(share, cost)| *cost += 0.5 * share * (w[1] - w[0]));
        }
    }
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let unknowns: Vec<Variable> =
        cost.iter().map(|c| problem.add_var(if give.is_empty() { *c } else { 0.0 }, (0.0, 200.0))).collect();
    let more: Vec<(Limit, Variable)> =
        give.iter().map(|limit| (*limit, problem.add_var(1.0, (0.0, 200.0)))).collect();
    // What is left of `room` where so much of the narrowing goes.
    let mut left = |limit: Option<Limit>, x: f64, room: f64, part: f64| {
        let mut terms: Vec<(Variable, f64)> =
            unknowns.iter().zip(shares(neck, x)).map(|(z, share)| (*z, -part * share)).collect();
        terms.extend(more.iter().filter(|more| Some(more.0) == limit).map(|more| (more.1, 1.0)));
        problem.add_constraint(&terms[..], ComparisonOp::Ge, -room);
    };
    for (x, width) in given {
        left(Some(Limit::LeastWidth), *x, width - width.min(15.0), 1.0);
    }
    for x in at {
        left(Some(Limit::LeastWidth), x, board.width_mm(x) - (2.0 * board.binding_mm() + 1.0).max(15.0), 1.0);
        let (bass, treble) = neck.layout().margins_mm(x);
        let own = bass.min(treble);
        left(Some(Limit::StringMargin), x, own - own.min(margin), 0.5);
    }
    left(None, x, -(board.width_mm(x) - width), -1.0);
    match problem.solve() {
        Ok(SolveOutcome::Solution(solution)) => Some(solution.objective()),
        _ => None,
    }
}

/// What a neck's board loses in plan, mm².
fn gone(neck: &Neck, mended: &Neck) -> f64 {
    let (old, new) = (neck.layout().board(), mended.layout().board());
    let mut at: Vec<f64> =
        old.widths_mm().iter().map(|w| w.0).filter(|x| *x > 0.0 && *x < old.end_mm()).collect();
    at.insert(0, 0.0);
    at.push(old.end_mm());
    let narrower = |x: f64| old.width_mm(x) - new.width_mm(x);
    at.windows(2).map(|w| 0.5 * (w[1] - w[0]) * (narrower(w[0]) + narrower(w[1]))).sum()
}

/// A neck for one string, with a board that is hardly wider at the nut than any may be.
fn narrow(nut: f64, end: f64) -> Neck {
    let mut spec = Specification::default();
    spec.strings.count = 1;
    spec.nut.width = Length::from_mm(nut);
    spec.rod.fitted = false;
    spec.fretboard.widths = Some(vec![WidthAt { at: Station::Mm(440.0), width: Length::from_mm(end) }]);
    Neck::new(&spec).unwrap()
}

#[test]
fn edges_come_in_by_the_least_area_or_what_forbids_it_is_named() {
    let mut draw = Draw(numbers(22));
    let (mut same, mut more, mut reached) = (0, 0, [0; 2]);
    let mut named = [0; 2];
    for (case, plain) in necks(60).into_iter().enumerate() {
        let narrow = case % 2 == 1;
        let neck =
            if narrow { self::narrow(draw.between(15.5, 18.0), draw.between(30.0, 44.0)) } else { plain };
        // Now and then at the nut of a board that has hardly anything to give there.
        let at_nut = narrow && case % 4 == 3;
        let x = if at_nut { 1.0 } else { draw.between(0.0, 0.9) * neck.layout().board().end_mm() };
        let by = if case / 2 % 2 == 0 && !at_nut { draw.between(0.05, 1.5) } else { draw.between(2.6, 6.0) };
        let width = neck.width_mm(x).unwrap() - by;
        let within = if narrow { 10.0 } else { draw.between(0.1, 2.0) };
        let margin = (neck.layout().least_margin().margin_mm - within).clamp(0.0, 10.0);
        let limits = MendLimits { string_margin: Length::from_mm(margin), ..MendLimits::default() };
        let low = Reading {
            at: Station::Mm(x),
            measured: Measured::Width,
            value_mm: width,
            uncertainty_mm: 0.03,
            line: 7,
        };
        let found = neck.mend(&checked(&[low]), &limits).unwrap_or_else(|e| panic!("{case}: {e}"));
        let area = theirs(&neck, (x, width), margin, &[]);
        match (found, area) {
            (Mending::Mended(mended), Some(area)) => {
                let ours = gone(&neck, &mended.neck);
                mended.rows.iter().for_each(|row| most(case, &neck, &mended.neck, row));
                // Where the edges would leave the old outline beyond the board more goes.
                assert!(ours > area - 1e-6 * area, "{case}: {ours} for {area}");
                if ours < area + 1e-6 * area {
                    same += 1
                } else {
                    more += 1
                }
                assert!(mended.neck.layout().least_margin().margin_mm > margin - 1e-7, "{case}");
                assert!(mended.neck.layout().board().widths_mm().iter().all(|w| w.1 > 15.0 - 1e-7), "{case}");
                for (i, limit) in [Limit::StringMargin, Limit::LeastWidth].into_iter().enumerate() {
                    reached[i] += usize::from(mended.reached.iter().any(|r| r.limit == limit));
                }
            }
            (Mending::Impossible(forbidden), None) => {
                assert!(!forbidden.is_empty(), "{case}");
                for (i, limit) in [Limit::StringMargin, Limit::LeastWidth].into_iter().enumerate() {
                    let ours = forbidden.iter().find(|f| f.limit == limit && f.alone);
                    let theirs = theirs(&neck, (x, width), margin, &[limit]);
                    assert_eq!(ours.is_some(), theirs.is_some(), "{case}: {limit:?} {ours:?} {theirs:?}");
                    let (Some(ours), Some(theirs)) = (ours, theirs) else { continue };
                    assert!((ours.by - theirs).abs() < 1e-6 * (1.0 + theirs), "{case}: {ours:?} {theirs}");
                    assert_eq!(ours.asked_by.iter().map(|a| a.line).collect::<Vec<_>>(), [7], "{case}");
                    assert!(ours.sentence.contains("line 7"), "{}", ours.sentence);
                    named[i] += 1;
                }
            }
            (found, area) => panic!("{case}: {found:?} {area:?}"),
        }
    }
    println!("{same} the same area, {more} more; margin and width reached {reached:?}, named {named:?}");
    assert!(same > 8 && reached.iter().chain(&named).all(|n| *n > 1), "{same} {reached:?} {named:?}");
}

/// So narrow that the strings come too near to the edges and the board gets narrower than any may be: both have to give way.
#[test]
fn what_forbids_it_together_is_told() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let x = neck.station_mm(5.0).unwrap();
    for width in [14.0, 12.0, 11.0] {
        let reading = |uncertainty_mm| Reading {
            at: Station::Fret(5.0),
            measured: Measured::Width,
            value_mm: width,
            uncertainty_mm,
            line: 7,
        };
        let limits = MendLimits::default();
        let margin = limits.string_margin.mm();
        let Ok(Mending::Impossible(forbidden)) = neck.mend(&checked(&[reading(0.03)]), &limits) else {
            panic!("{width} mm is mended")
        };
        let both = [Limit::StringMargin, Limit::LeastWidth];
        for limit in both {
            assert!(theirs(&neck, (x, width), margin, &[limit]).is_none());
            let told = forbidden.iter().find(|f| f.limit == limit).unwrap();
            assert!(!told.alone && told.by > 0.0 && told.asked_by[0].line == 7, "{forbidden:?}");
        }
        let ours: f64 = forbidden.iter().map(|f| f.by).sum();
        let theirs = theirs(&neck, (x, width), margin, &both).unwrap();
        assert!((ours - theirs).abs() < 1e-6 * theirs, "{width}: {ours} for {theirs}");
    }
}

#[test]
fn edges_that_come_in_have_the_cautions_of_trimming() {
    let mut spec = Specification::default();
    spec.woods.fretboard.species = "cocobolo".into();
    // Below the board, so that shaping the back leaves it as it is.
    spec.shaft.carve_line = vec![DepthAt { at: Station::Mm(0.0), depth: Length::from_mm(8.0) }];
    let neck = Neck::new(&spec).unwrap();
    let low = [100.0, 200.0, 300.0].map(|x| Reading {
        at: Station::Mm(x),
        measured: Measured::Width,
        value_mm: neck.width_mm(x).unwrap() - 0.4,
        uncertainty_mm: 0.02,
        line: 0,
    });
    let Ok(Mending::Mended(mended)) =
        neck.mend(&Readings::new(low.to_vec()).unwrap(), &MendLimits::default())
    else {
        panic!("it can be mended")
    };
    assert!(mended.rows.iter().all(|row| row.take_off_mm < 1e-6) && mended.removed_mm3 > 1000.0);
    let minded: Vec<&str> = mended.cautions.iter().map(|caution| caution.topic.name()).collect();
    for topic in ["chip-out", "dust", "sensitising wood"] {
        assert!(minded.contains(&topic), "{topic}: {minded:?}");
    }
    assert!(minded.iter().filter(|topic| **topic == "dust").count() == 1 && minded[0] == "stop line");
}
