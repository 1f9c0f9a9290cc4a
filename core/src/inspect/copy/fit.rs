//! What is fitted at all: the simple neck first, and more where the readings call for it.

use alloc::collections::BTreeMap;
use alloc::vec;
use alloc::vec::Vec;

use super::chance::chance;
use super::copied::Copied;
use super::family::{Family, PROFILE};
use super::fewest::{choose, most};
use super::finish::finish;
use super::matrix::{cholesky, dot, solve_with};
use super::plan::{Plan, Planner, starts_uneven};
use super::rows::{Fit, Standing};
use super::settle::{Fitted, Table, look, planned, settle, sum_of, table, unbuilt};
use super::solve::{Problem, normal};
use super::take::{Ground, Taken};
use crate::inspect::{Measured, Readings};
use crate::measure::{Error, Fault, Kind};
use crate::shape::Neck;
use crate::spec::{CopyOptions, Judging, Specification};

/// The numbers of an uneven plan that make the even fit; `None` where the plan has other stations.
fn evened(family: &Family, even: &Fitted) -> Option<Vec<f64>> {
    let same = family.thickness.x == even.family.thickness.x
        && family.widths.x == even.family.widths.x
        && family.lines[0].x == even.family.lines[0].x
        && family.profile.x == even.family.profile.x;
    if !same {
        return None;
    }
    let mut v = vec![0.0; family.size()];
    let shared = family.profile_at().min(even.family.profile_at());
    v[..shared].copy_from_slice(&even.v[..shared]);
    for k in 0..family.profile.len() {
        let (to, from) = (family.profile_at() + PROFILE * k, even.family.profile_at() + PROFILE * k);
        let numbers = &even.v[from..from + 3];
        v[to..to + 3].copy_from_slice(numbers);
        v[to + 4..to + 7].copy_from_slice(numbers);
    }
    for k in 1..=2 {
        let at = v.len() - k;
        v[at] = even.v[even.v.len() - k];
    }
    // A treble carve line of its own begins as the one of both.
    let (own, both) = (family.profile_at() - family.lines[1].len(), even.family.lines[0].len());
    if even.family.lines[1].len() == 0 && family.lines[1].len() == both {
        for k in 0..both {
            v[own + k] = v[own - both + k];
        }
    }
    Some(v)
}

/// How much less the sum of squares would be with a treble side of its own, by one straight step from the even fit; its
/// chance were the neck even.
fn uneven_chance(
    planner: &Planner<'_>,
    even: &Fitted,
    Plan { family, base, .. }: &Plan,
    v: &[f64],
) -> Option<f64> {
    let weight: Vec<f64> = planner
        .taken
        .items
        .iter()
        .zip(&even.counts)
        .map(|(item, count)| libm::sqrt(*count) / item.uncertainty)
        .collect();
    let taken = planner.taken;
    let standing = look(planner, family, v, base, &weight)?;
    let (n, fewer) = (standing.count(), even.standing.count());
    if n <= fewer {
        return None;
    }
    let less = |family: &Family, v: &[f64], base: &[f64], standing: &Standing| {
        let weight = weight.clone();
        downhill(&Fit { family, taken, v: v.to_vec(), base, standing, weight, pull: 1.0 })
    };
    let less = less(family, v, base, &standing)? - less(&even.family, &even.v, &even.base, &even.standing)?;
    Some(rarity(less, sum_of(even), taken.items.len().saturating_sub(n), n - fewer))
}

/// How much one straight step would take off the sum of squares.
fn downhill(fit: &Fit<'_>) -> Option<f64> {
    let which = &fit.standing.which;
    let p: Vec<f64> = which.iter().map(|i| fit.v[*i]).collect();
    let scale: Vec<f64> = which.iter().map(|i| fit.family.unknown(*i, fit.base[*i])).collect();
    let (r, j) = fit.jacobian(&p)?;
    let n = which.len();
    let (a, g) = normal(&r, &j, &scale);
    let l = cholesky(&a, n)?;
    let mut h = g.clone();
    solve_with(&l, n, &mut h);
    Some(dot(&g, &h))
}

/// The chance that so many numbers that mean nothing take so much off a sum of squares. Where the readings scatter more than
/// they should, by as much more is allowed.
fn rarity(less: f64, sum: f64, freedom: usize, more: usize) -> f64 {
    let scatter = ((sum - less) / freedom.max(1) as f64).max(1.0);
    chance(less.min(sum) / scatter, more)
}

/// By how much the base has more of a say than it should, to come to numbers that make a neck.
const PULLS: [f64; 4] = [1.0, 2.0, 4.0, 8.0];

/// The rarest chance by which more is fitted than is there.
const RARE: f64 = 1e-3;

/// The neck that readings tell, from a base that tells the rest.
pub(crate) fn copy(
    base: &Specification,
    readings: &Readings,
    options: &CopyOptions,
) -> Result<Copied, Error> {
    /// More than these are a cloud.
    const MOST: usize = 100_000;
    options.check()?;
    if readings.len() > MOST {
        return Err(Fault::new(
            Kind::TooLarge,
            "readings",
            "these are more than a neck can be told from one by one",
        )
        .value(readings.len(), "entries")
        .range(None, MOST as f64)
        .remedy("leave out readings that are near others, or copy from a cloud of points")
        .into());
    }
    let neck = Neck::new(base)?;
    let ground = Ground::new(base, &neck).ok_or_else(unbuilt)?;
    let taken = Taken::new(&readings.placed(&neck)?, &ground)?;
    let table = table();
    let weight: Vec<f64> = taken.items.iter().map(|item| 1.0 / item.uncertainty).collect();
    let mut planner = Planner {
        base,
        neck: &neck,
        ground: &ground,
        taken: &taken,
        options,
        uneven: starts_uneven(options),
        idle: Default::default(),
        alone: BTreeMap::new(),
        upright: options.lean == Judging::Never,
        pull: None,
        most: most(options),
        robust: options.robust,
    };
    let points = taken.items.iter().filter(|i| matches!(i.measured, Measured::Point { .. })).count();
    let may_be_uneven = options.uneven != Judging::Never && points > 3;
    choose(&mut planner, &weight, &table);
    // Simple first: both sides alike. More is fitted only where the readings call for it.
    let mut fitted = attempt(&mut planner, &weight, &table)?;
    let misfits = |fitted: &Fitted| {
        let freedom = taken.items.len().saturating_sub(fitted.standing.count());
        freedom > 0 && chance(sum_of(fitted), freedom) < RARE
    };
    let mut simpler = None;
    if may_be_uneven && !planner.uneven {
        planner.uneven = true;
        if misfits(&fitted) || looks_uneven(&planner, &fitted)? {
            let other = attempt(&mut planner, &weight, &table)?;
            if is_called_for(&fitted, &other, &taken) {
                simpler = Some(core::mem::replace(&mut fitted, other));
            }
        }
        planner.uneven = simpler.is_some();
    }
    let made = |fitted| finish(base, options, taken.clone(), ground.clone(), fitted, readings);
    let error = match made(fitted) {
        Ok(copied) => return Ok(copied),
        Err(error) => error,
    };
    // Where no neck can be made of it one is looked for that is nearer to the base, no more than has to be; then one with both
    // sides alike, where more was called for.
    for pull in PULLS {
        planner.pull = Some(pull);
        let nearer = attempt(&mut planner, &weight, &table).and_then(made);
        if nearer.is_ok() {
            return nearer;
        }
    }
    simpler.and_then(|simpler| made(simpler).ok()).ok_or(error)
}

/// Whether a first straight step toward a treble side of its own is one that even necks seldom show.
fn looks_uneven(planner: &Planner<'_>, even: &Fitted) -> Result<bool, Error> {
    let rare = planner.plan()?.and_then(|plan| {
        let v = evened(&plan.family, even)?;
        uneven_chance(planner, even, &plan, &v)
    });
    Ok(rare.is_some_and(|chance| chance < RARE))
}

/// One fit as it is planned now.
pub(super) fn attempt(planner: &mut Planner<'_>, weight: &[f64], table: &Table) -> Result<Fitted, Error> {
    planner.prepare()?;
    let (plan, standing) = planned(planner, weight)?;
    settle(plan, standing, planner, table)
}

/// Whether a fit of more numbers is so much nearer to the readings that they call for it.
fn is_called_for(simple: &Fitted, other: &Fitted, taken: &Taken) -> bool {
    let more = other.standing.count().saturating_sub(simple.standing.count());
    let freedom = taken.items.len().saturating_sub(other.standing.count());
    let less = sum_of(simple) - sum_of(other);
    let settled = other.solved.as_ref().is_some_and(|s| s.settled);
    more > 0 && settled && less > 0.0 && rarity(less, sum_of(simple), freedom, more) < RARE
}
