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
use super::plan::{Planner, starts_uneven};
use super::rows::{Fit, information};
use super::settle::{Fitted, Table, look, planned, settle, sum_of, table, unbuilt};
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
fn uneven_chance(planner: &Planner<'_>, even: &Fitted, family: &Family, v: &[f64]) -> Option<f64> {
    let weight: Vec<f64> = planner
        .taken
        .items
        .iter()
        .zip(&even.counts)
        .map(|(item, count)| libm::sqrt(*count) / item.uncertainty)
        .collect();
    let which = look(family, planner.taken, v, &weight)?;
    let n = which.len();
    if n <= even.which.len() {
        return None;
    }
    let taken = planner.taken;
    let less = downhill(family, taken, v, which, &weight)?
        - downhill(&even.family, taken, &even.v, even.which.clone(), &weight)?;
    Some(rarity(less, sum_of(even), taken.items.len().saturating_sub(n), n - even.which.len()))
}

/// How much one straight step would take off the sum of squares.
fn downhill(family: &Family, taken: &Taken, v: &[f64], which: Vec<usize>, weight: &[f64]) -> Option<f64> {
    let n = which.len();
    let scale: Vec<f64> = which.iter().map(|i| family.unknown(*i, v[*i])).collect();
    let fit = Fit { family, taken, v: v.to_vec(), which, weight: weight.to_vec() };
    let rows = fit.rows(v)?;
    let mut g = vec![0.0; n];
    for (i, w) in weight.iter().enumerate() {
        for k in 0..n {
            g[k] += rows.rows[i * n + k] * scale[k] * w * w * rows.left[i];
        }
    }
    let l = cholesky(&information(&rows, weight, &scale), n)?;
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
        upright: options.lean != Judging::Always,
        lines_kept: false,
        most: most(options),
        robust: options.robust,
    };
    let points = taken.items.iter().filter(|i| matches!(i.measured, Measured::Point { .. })).count();
    let may_be_uneven = options.uneven != Judging::Never && points > 3;
    choose(&mut planner, &weight, &table);
    // Simple first: the sides' lean as the base has it, both sides alike. More is fitted only where the readings call for it.
    let mut fitted = attempt(&mut planner, &weight, &table)?;
    let misfits = |fitted: &Fitted| {
        let freedom = taken.items.len().saturating_sub(fitted.which.len());
        freedom > 0 && chance(sum_of(fitted), freedom) < RARE
    };
    let mut simpler: Option<Fitted> = None;
    // What is tried, whether the sides' lean is fitted and whether both sides are alike, each beside what stands by then.
    for [leaning, uneven] in [[true, false], [false, true], [true, true]] {
        let leaning = leaning || !planner.upright;
        let uneven = uneven || planner.uneven;
        let allowed = (!leaning || options.lean != Judging::Never) && (!uneven || may_be_uneven);
        if !allowed || (leaning != planner.upright && uneven == planner.uneven) {
            continue;
        }
        let before = (planner.upright, planner.uneven);
        (planner.upright, planner.uneven) = (!leaning, uneven);
        let shows = misfits(&fitted) || (uneven && !before.1 && looks_uneven(&planner, &fitted)?);
        if shows {
            let other = attempt(&mut planner, &weight, &table)?;
            if is_called_for(&fitted, &other, &taken) {
                simpler = Some(core::mem::replace(&mut fitted, other));
                continue;
            }
        }
        (planner.upright, planner.uneven) = before;
    }
    let error = match finish(base, options, taken.clone(), ground.clone(), fitted) {
        Ok(copied) => return Ok(copied),
        Err(error) => error,
    };
    // Where no neck can be made of the more that was called for, the simpler one stands; and where none can be made of that
    // either, one with the base's carve lines, which sections alone tell badly.
    if let Some(simpler) = simpler
        && let Ok(copied) = finish(base, options, taken.clone(), ground.clone(), simpler)
    {
        return Ok(copied);
    }
    // Or there is another valley that begins at the base's own shape.
    (planner.upright, planner.uneven) = (options.lean != Judging::Always, starts_uneven(options));
    planner.alone.clear();
    let (plan, which) = planned(&mut planner, &weight)?;
    let other = settle(plan, which, &planner, &table)?;
    if let Ok(copied) = finish(base, options, taken.clone(), ground.clone(), other) {
        return Ok(copied);
    }
    let lines_read = taken.items.iter().any(|item| matches!(item.measured, Measured::CarveLine(_)));
    if lines_read || points == 0 {
        return Err(error);
    }
    planner.lines_kept = true;
    let last = attempt(&mut planner, &weight, &table)?;
    finish(base, options, taken.clone(), ground, last).map_err(|_| error)
}

/// Whether a first straight step toward a treble side of its own is one that even necks seldom show.
fn looks_uneven(planner: &Planner<'_>, even: &Fitted) -> Result<bool, Error> {
    let family = planner.plan()?.map(|plan| plan.family);
    let rare = family
        .and_then(|family| Some((evened(&family, even)?, family)))
        .and_then(|(v, family)| uneven_chance(planner, even, &family, &v));
    Ok(rare.is_some_and(|chance| chance < RARE))
}

/// One fit as it is planned now.
pub(super) fn attempt(planner: &mut Planner<'_>, weight: &[f64], table: &Table) -> Result<Fitted, Error> {
    planner.prepare()?;
    let (plan, which) = planned(planner, weight)?;
    settle(plan, which, planner, table)
}

/// Whether a fit of more numbers is so much nearer to the readings that they call for it.
fn is_called_for(simple: &Fitted, other: &Fitted, taken: &Taken) -> bool {
    let more = other.which.len().saturating_sub(simple.which.len());
    let freedom = taken.items.len().saturating_sub(other.which.len());
    let less = sum_of(simple) - sum_of(other);
    let settled = other.solved.as_ref().is_some_and(|s| s.settled);
    more > 0 && settled && less > 0.0 && rarity(less, sum_of(simple), freedom, more) < RARE
}
