//! What came of a fit: the specification, how well its numbers are told, and what is left of the readings.

use alloc::vec::Vec;

use super::blame::blame;
use super::chance::chance;
use super::copied::{Copied, Kept, Number, Residual, State};
use super::family::Place;
use super::knowledge::{Knowledge, Sources, Told};
use super::matrix::{dot, times};
use super::rows::Rows;
use super::settle::{Fitted, unbuilt};
use super::specify::specify;
use super::take::{Ground, Taken};
use crate::inspect::Readings;
use crate::inspect::robust::MEDIAN;
use crate::measure::{Error, Fault, Kind};
use crate::shape::Neck;
use crate::spec::{CopyOptions, Judging, Specification};

/// What shows of an error in a reading has to be this share of it, over the uncertainty that what is left of it has.
const SEEN: f64 = 0.3;

/// What came of it.
pub(super) fn finish(
    base: &Specification,
    options: &CopyOptions,
    taken: Taken,
    ground: Ground,
    fitted: Fitted,
    readings: &Readings,
) -> Result<Copied, Error> {
    let Fitted { family, v, base: rest, standing, solved, counts, pull, .. } = fitted;
    let Some(solved) = solved else { return Err(unbuilt()) };
    let which = &standing.which;
    let n = which.len();
    if n == 0 {
        return Err(Fault::new(
            Kind::Missing,
            "readings",
            "they are too few or too uncertain to tell a single number",
        )
        .value(taken.items.len(), "entries")
        .remedy("measure thickness, width or sections with less uncertainty")
        .into());
    }
    if !solved.settled {
        return Err(Fault::new(
            Kind::Conflict,
            "readings",
            "the fit did not settle: no neck of this sort is near them",
        )
        .value(solved.steps, "steps")
        .remedy("start from a base that is nearer, or leave out readings that can't be right")
        .into());
    }
    let weight: Vec<f64> =
        taken.items.iter().zip(&counts).map(|(item, count)| libm::sqrt(*count) / item.uncertainty).collect();
    let rows = Rows::new(&family, &taken, &v, which).ok_or_else(unbuilt)?;
    let fitted: Vec<(usize, Told)> = standing.each().collect();
    let kept: Vec<usize> =
        (0..family.size()).filter(|i| family.has_meaning(*i) && !which.contains(i)).collect();
    let unknown = |i: usize| family.unknown(i, rest[i]);
    // What is kept from the base is as uncertain as necks differ, and so are thicknesses that only go along.
    let known =
        |i: usize| options.lean == Judging::Never && matches!(family.place(i), Place::Profile(_, 2 | 6));
    let along = (0..family.size()).filter(|i| family.goes_along(*i));
    let held: Vec<usize> = kept.iter().copied().filter(|i| !known(*i)).chain(along).collect();
    let counted: f64 = counts.iter().sum();
    let told = standing.count();
    let freedom = taken.items.len().saturating_sub(told);
    let read: f64 = rows.left.iter().zip(&weight).map(|(l, w)| l * l * w * w).sum();
    let off_base =
        fitted.iter().filter(|(_, told)| *told != Told::Alone).map(|(i, _)| (v[*i] - rest[*i]) / unknown(*i));
    let chi2 = read + off_base.map(|off| off * off).sum::<f64>();
    let widened = options.scatter_counts && counted > told as f64;
    let scatter = if widened { (chi2 / (counted - told as f64)).max(1.0) } else { 1.0 };
    let sources = Sources {
        family: &family,
        taken: &taken,
        v: &v,
        base: &rest,
        weight: &weight,
        left: Some(&rows.left),
        pull: pull.unwrap_or(1.0),
        scatter,
    };
    let knowledge = Knowledge::new(&sources, &fitted, &held).ok_or_else(unbuilt)?;
    let share = |i: usize, a: &[f64]| {
        let row = &rows.rows[i * n..(i + 1) * n];
        weight[i] * weight[i] * dot(row, &times(a, n, row))
    };
    let leverages: Vec<f64> = (0..taken.items.len()).map(|i| share(i, &knowledge.inner)).collect();
    let covariance = knowledge.of_fitted();
    let numbers = standing
        .each()
        .enumerate()
        .map(|(k, (i, told))| Number {
            path: family.path(i),
            value: v[i],
            uncertainty: libm::sqrt(covariance[k * n + k]),
            by_base: if told == Told::Alone {
                0.0
            } else {
                knowledge.noise[k * n + k] / (unknown(i) * unknown(i))
            },
            unit: family.unit(i),
            // Readings that would show it if the number were quite another.
            readings: (0..taken.items.len())
                .filter(|r| libm::fabs(rows.rows[r * n + k] * unknown(i) * weight[*r]) > 0.1)
                .count(),
            at_bound: solved.at_bound.get(k).copied().unwrap_or(false),
        })
        .collect();
    let mut residuals: Vec<Residual> = taken
        .items
        .iter()
        .enumerate()
        .map(|(i, item)| Residual {
            reading: item.reading,
            left_mm: rows.left[i],
            standardised: standardised(rows.left[i] / item.uncertainty, leverages[i]),
            leverage: leverages[i].clamp(0.0, 1.0),
            unchecked: 1.0 - leverages[i] < SEEN * SEEN,
            weight: counts[i],
        })
        .collect();
    residuals.sort_by_key(|r| r.reading);
    let specification = specify(base, &family, &v, which);
    Neck::new(&specification).map_err(|error| blame(error, &family, &taken, readings))?;
    let keep = |i: usize| {
        let uncertainty = if known(i) { 0.0 } else { unknown(i) };
        Kept { path: family.path(i), value: v[i], uncertainty, unit: family.unit(i) }
    };
    let kept = kept.into_iter().map(keep).collect();
    let all = knowledge.which.len();
    let along = (n..all).filter(|k| family.goes_along(knowledge.which[*k]));
    let moved = along
        .map(|k| {
            let uncertainty = libm::sqrt(knowledge.covariance[k * all + k]);
            Kept { uncertainty, ..keep(knowledge.which[k]) }
        })
        .collect();
    let p_value = (freedom > 0 && !options.robust).then(|| chance(chi2, freedom));
    Ok(Copied {
        specification,
        numbers,
        kept,
        moved,
        covariance,
        unused: taken.unused.clone(),
        chi2,
        degrees_of_freedom: freedom,
        p_value,
        misfit: misfit(&residuals),
        residuals,
        pull,
        steps: solved.steps,
        state: State {
            family,
            v,
            base: rest,
            weight,
            scatter,
            knowledge,
            ground,
            taken,
            causes: Vec::new(),
            unit: options.unit,
        },
    })
}

/// A residual over the uncertainty that it has in the fit; 0 where the reading alone tells a number, so that nothing can
/// be left of it.
fn standardised(left: f64, leverage: f64) -> f64 {
    let room = 1.0 - leverage;
    if room > 1e-9 { left / libm::sqrt(room) } else { 0.0 }
}

/// How far the readings scatter, by the middle one of those that something checks.
fn misfit(residuals: &[Residual]) -> Option<f64> {
    let checked = residuals.iter().filter(|r| !r.unchecked);
    let mut sizes: Vec<f64> = checked.map(|r| libm::fabs(r.standardised)).collect();
    sizes.sort_by(f64::total_cmp);
    Some(sizes.get(sizes.len() / 2)? / MEDIAN)
}
