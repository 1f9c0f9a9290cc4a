//! One fit: plan, see what the readings tell, solve, look again.

use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::family::{Family, Place};
use super::knowledge::{Told, told};
use super::plan::{Plan, Planner};
use super::robust::{TURNS, weights};
use super::rows::{Fit, Rows, Standing, information};
use super::solve::{Limits, Solved, WORTH, solve};
use crate::measure::{Error, Fault, Kind};
use crate::spec::Specification;

/// Bounds of every number of a family, from the specification's own table.
pub(super) struct Bounds {
    pub lowest: Vec<f64>,
    pub highest: Vec<f64>,
}

pub(super) type Table = BTreeMap<String, [f64; 2]>;

pub(super) fn table() -> Table {
    Specification::bounds()
        .into_iter()
        .filter_map(|row| Some((row.path, [row.lowest?, row.highest?])))
        .collect()
}

impl Bounds {
    fn new(family: &Family, table: &Table) -> Self {
        let each: Vec<[f64; 2]> = (0..family.size())
            .map(|i| table.get(&family.row(i)).copied().unwrap_or([f64::NEG_INFINITY, f64::INFINITY]))
            .collect();
        Self { lowest: each.iter().map(|b| b[0]).collect(), highest: each.iter().map(|b| b[1]).collect() }
    }
}

/// A family that was fitted.
pub(super) struct Fitted {
    pub family: Family,
    pub v: Vec<f64>,
    /// The base's numbers.
    pub base: Vec<f64>,
    pub standing: Standing,
    pub solved: Option<Solved>,
    pub counts: Vec<f64>,
    /// By how much the readings, and the numbers off the base's values that have a say, are off in all: the sum of squares,
    /// or where far-off readings count for less the sum of what they cost.
    pub cost: f64,
    /// By how much the base had a say in every number; `None`: only where it should.
    pub pull: Option<f64>,
}

/// How often the plan may be thought over again.
const ROUNDS: usize = 8;

pub(super) fn unbuilt() -> Error {
    Fault::new(Kind::Geometry, "readings", "the fit came to numbers that make no section")
        .remedy("start from a base that is nearer to the neck that was measured")
        .into()
}

/// The numbers, of those that have a meaning, of which the readings tell something from where the fit stands.
pub(super) fn look(
    planner: &Planner<'_>,
    family: &Family,
    v: &[f64],
    base: &[f64],
    weight: &[f64],
) -> Option<Standing> {
    let which: Vec<usize> = (0..family.size()).filter(|i| family.is_live(*i)).collect();
    let scale: Vec<f64> = which.iter().map(|i| family.unknown(*i, base[*i])).collect();
    let rows = Rows::new(family, planner.taken, v, &which)?;
    let told = told(&information(&rows, weight, &scale), scale.len())?;
    let some = which.into_iter().zip(told).filter(|(_, told)| *told != Told::Not);
    let (which, told) =
        some.map(|(i, told)| (i, if planner.pull.is_some() { Told::Partly } else { told })).unzip();
    Some(Standing { which, told })
}

/// How much sides lean to begin with, at least.
const LITTLE: f64 = 0.01;

/// The same numbers with sides that lean a little. Where a side does not lean at all, where the carve begins can't be seen, to
/// first order: the cubic goes on into the flat side.
pub(super) fn leaning(family: &Family, v: &[f64]) -> Vec<f64> {
    let mut v = v.to_vec();
    for (i, v) in v.iter_mut().enumerate() {
        if let Place::Profile(_, 2 | 6) = family.place(i) {
            *v = v.max(LITTLE);
        }
    }
    v
}

/// Plans, and drops stations made from readings that turn out to tell nothing of their kind of number.
pub(super) fn planned(planner: &mut Planner<'_>, weight: &[f64]) -> Result<(Plan, Standing), Error> {
    let unplanned = || {
        Error::from(
            Fault::new(Kind::Geometry, "base", "has no shape of the back")
                .remedy("give shaft.profile at one station at least"),
        )
    };
    for round in 0.. {
        let plan = planner.plan()?.ok_or_else(unplanned)?;
        let Plan { family, start, base } = &plan;
        let standing = look(planner, family, &leaning(family, start), base, weight).ok_or_else(unbuilt)?;
        let mut idle = false;
        for i in (0..family.size()).filter(|i| !standing.which.contains(i)) {
            let (kind, knots, k) = match family.place(i) {
                Place::Thickness(k) => (0, &family.thickness, k),
                Place::Width(k) => (1, &family.widths, k),
                Place::Line(crate::shape::Side::Bass, k) => (2, &family.lines[0], k),
                Place::Line(crate::shape::Side::Treble, k) => (3, &family.lines[1], k),
                _ => continue,
            };
            if knots.made[k] && round < ROUNDS {
                planner.idle[kind].push(knots.x[k]);
                idle = true;
            }
        }
        if !idle {
            return Ok((plan, standing));
        }
    }
    Err(unplanned())
}

/// Solves for the numbers of which something is told, and again while what is told changes.
pub(super) fn settle(
    Plan { family, start, base: rest }: Plan,
    mut standing: Standing,
    planner: &Planner<'_>,
    table: &Table,
) -> Result<Fitted, Error> {
    let taken = planner.taken;
    let pull = planner.pull.unwrap_or(1.0);
    let bounds = Bounds::new(&family, table);
    let base: Vec<f64> = taken.items.iter().map(|item| 1.0 / item.uncertainty).collect();
    let mut counts = vec![1.0; base.len()];
    let leant = leaning(&family, &start);
    let mut v = rest.clone();
    for i in &standing.which {
        v[*i] = leant[*i];
    }
    let mut last = None;
    let mut seen: Vec<Standing> = Vec::new();
    for round in 0..ROUNDS {
        let pick = |all: &[f64]| -> Vec<f64> { standing.which.iter().map(|i| all[*i]).collect() };
        let scale: Vec<f64> = standing.which.iter().map(|i| family.unknown(*i, rest[*i])).collect();
        let (lowest, highest) = (pick(&bounds.lowest), pick(&bounds.highest));
        let limits = Limits {
            lowest: &lowest,
            highest: &highest,
            scale: &scale,
            most_steps: planner.options.most_steps,
            worth: WORTH,
        };
        let mut solved;
        let mut turn = 0;
        loop {
            let weight = base.iter().zip(&counts).map(|(b, c)| b * libm::sqrt(*c)).collect();
            let fit =
                Fit { family: &family, taken, v: v.clone(), base: &rest, standing: &standing, weight, pull };
            solved = solve(&fit, &pick(&v), &limits).ok_or_else(unbuilt)?;
            v = fit.all(&solved.p);
            if !planner.robust || turn == TURNS {
                break;
            }
            let left = fit.left(&v).ok_or_else(unbuilt)?;
            let scaled: Vec<f64> = left.iter().zip(&base).map(|(l, b)| l * b).collect();
            let next = weights(&scaled, turn);
            let change = next.iter().zip(&counts).map(|(a, b)| libm::fabs(a - b)).fold(0.0, f64::max);
            counts = next;
            if change < 1e-3 && turn > 2 {
                break;
            }
            turn += 1;
        }
        let weight: Vec<f64> = base.iter().zip(&counts).map(|(b, c)| b * libm::sqrt(*c)).collect();
        let again = look(planner, &family, &v, &rest, &weight).ok_or_else(unbuilt)?;
        let same = again == standing;
        last = Some(solved);
        if same || round + 1 == ROUNDS {
            break;
        }
        // What has been tried once is not tried again: from there on only less is told, so that it comes to an end.
        let kept = if seen.contains(&again) { standing.no_more_than(&again) } else { again };
        if kept == standing {
            break;
        }
        for i in standing.which.iter().filter(|i| !kept.which.contains(i)) {
            v[*i] = rest[*i];
        }
        seen.push(core::mem::replace(&mut standing, kept));
    }
    family.led(&mut v);
    let mut cost = last.as_ref().map_or(f64::INFINITY, |s| s.sum);
    if planner.robust {
        let fit = Fit {
            family: &family,
            taken,
            v: v.clone(),
            base: &rest,
            standing: &standing,
            weight: Vec::new(),
            pull,
        };
        let left = fit.left(&v).ok_or_else(unbuilt)?;
        let read: f64 = left.iter().zip(&base).map(|(l, b)| super::robust::cost(l * b)).sum();
        cost = read + fit.off_base(&v).map(|(off, ..)| off * off).sum::<f64>();
    }
    Ok(Fitted { family, v, base: rest, standing, solved: last, counts, cost, pull: planner.pull })
}

/// By how much the readings are off in all, in squares of their uncertainties.
pub(super) fn sum_of(fitted: &Fitted) -> f64 {
    fitted.cost
}
