//! The fit: plan, see what the readings tell, solve, look again.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::chance::chance;
use super::copied::{Copied, Kept, Number, Residual};
use super::family::{Family, PROFILE, Place, Places};
use super::matrix::{add_square, cholesky, dot, inverse, solve_with, times, told};
use super::plan::{Plan, Planner, starts_uneven};
use super::robust::{TURNS, weights};
use super::section::{Cut, Local};
use super::solve::{Limits, Problem, Solved, solve};
use super::specify::specify;
use super::take::{Ground, Taken};
use crate::inspect::{Measured, Readings};
use crate::measure::{Error, Fault, Kind};
use crate::shape::Neck;
use crate::spec::{CopyOptions, Judging, Specification};

/// Rows of derivatives of what readings give by all numbers of a family, and what is left of them.
pub(super) struct Rows {
    /// Reading less model, mm.
    pub left: Vec<f64>,
    /// Row by row, by the numbers asked for.
    pub rows: Vec<f64>,
}

/// How the quantities of sections go with some numbers.
struct Turns {
    /// Of every number the quantities it has a say in, each over all places.
    columns: Vec<Vec<(usize, Vec<f64>)>>,
}

/// Steps of the numbers for differences.
fn step(family: &Family, i: usize, value: f64) -> f64 {
    1e-6 * family.unknown(i, value).max(1e-3)
}

impl Turns {
    fn new(family: &Family, v: &[f64], which: &[usize], places: &Places) -> Option<Self> {
        let mut here: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        let mut columns = Vec::with_capacity(which.len());
        let mut moved = v.to_vec();
        for &i in which {
            let mut own = Vec::new();
            moved[i] = v[i] + step(family, i, v[i]);
            let by = moved[i] - v[i];
            for quantity in family.touches(i) {
                if !here.contains_key(&quantity) {
                    here.insert(quantity, family.column(v, quantity, places)?);
                }
                let mut column = family.column(&moved, quantity, places)?;
                for (c, h) in column.iter_mut().zip(&here[&quantity]) {
                    *c = (*c - h) / by;
                }
                if column.iter().any(|c| *c != 0.0) {
                    own.push((quantity, column));
                }
            }
            moved[i] = v[i];
            columns.push(own);
        }
        Some(Self { columns })
    }

    fn row(&self, place: usize, turn: &Local, out: &mut [f64]) {
        for (out, own) in out.iter_mut().zip(&self.columns) {
            *out = own.iter().map(|(quantity, column)| turn[*quantity] * column[place]).sum();
        }
    }
}

/// How far many places of surface go outward (or what instruments read there changes) with some numbers: one row for each
/// entry that `each` makes of a section.
pub(super) fn rows_of(
    family: &Family,
    v: &[f64],
    which: &[usize],
    places: &Places,
    mut each: impl FnMut(usize, &Cut, &mut dyn FnMut(&Local)),
) -> Option<Vec<f64>> {
    let locals = family.locals(v, places)?;
    let turns = Turns::new(family, v, which, places)?;
    let mut rows = Vec::new();
    let mut row = vec![0.0; which.len()];
    for (place, local) in locals.iter().enumerate() {
        let cut = Cut::new(local, family.treble, true);
        each(place, &cut, &mut |turn| {
            turns.row(place, turn, &mut row);
            rows.extend_from_slice(&row);
        });
    }
    Some(rows)
}

/// The readings against a family, with what their weights are multiplied by.
pub(super) struct Fit<'a> {
    pub family: &'a Family,
    pub taken: &'a Taken,
    pub v: Vec<f64>,
    pub which: Vec<usize>,
    /// Square roots of weights, one over the uncertainty of each reading and of what it counts.
    pub weight: Vec<f64>,
}

impl Fit<'_> {
    fn all(&self, p: &[f64]) -> Vec<f64> {
        let mut v = self.v.clone();
        for (i, p) in self.which.iter().zip(p) {
            v[*i] = *p;
        }
        v
    }

    /// What is left of every reading, mm.
    fn left(&self, v: &[f64]) -> Option<Vec<f64>> {
        let locals = self.family.locals(v, &self.taken.places)?;
        let mut left = Vec::with_capacity(self.taken.items.len());
        let mut at = usize::MAX;
        let mut cut = None;
        for item in &self.taken.items {
            if item.place != at {
                at = item.place;
                cut = Some(Cut::new(&locals[at], self.family.treble, false));
            }
            left.push(cut.as_ref()?.compare(&item.measured, item.value).0);
        }
        left.iter().all(|l| l.is_finite()).then_some(left)
    }

    pub fn rows(&self, v: &[f64]) -> Option<Rows> {
        let taken = self.taken;
        let mut left = Vec::with_capacity(taken.items.len());
        let rows = rows_of(self.family, v, &self.which, &taken.places, |place, cut, give| {
            for item in taken.at_place(place) {
                let (l, turn) = cut.compare(&item.measured, item.value);
                left.push(l);
                give(&turn);
            }
        })?;
        let finite = left.iter().chain(&rows).all(|r| r.is_finite());
        finite.then_some(Rows { left, rows })
    }
}

impl Problem for Fit<'_> {
    fn residuals(&self, p: &[f64]) -> Option<Vec<f64>> {
        let mut left = self.left(&self.all(p))?;
        for (l, w) in left.iter_mut().zip(&self.weight) {
            *l *= w;
        }
        Some(left)
    }

    fn jacobian(&self, p: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
        let Rows { mut left, mut rows } = Fit::rows(self, &self.all(p))?;
        let n = self.which.len();
        for (i, w) in self.weight.iter().enumerate() {
            left[i] *= w;
            for r in &mut rows[i * n..(i + 1) * n] {
                *r *= -w;
            }
        }
        Some((left, rows))
    }
}

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
    pub which: Vec<usize>,
    pub solved: Option<Solved>,
    pub counts: Vec<f64>,
}

/// How often the plan may be thought over again.
const ROUNDS: usize = 8;

fn unbuilt() -> Error {
    Fault::new(Kind::Geometry, "readings", "the fit came to numbers that make no section")
        .remedy("start from a base that is nearer to the neck that was measured")
        .into()
}

fn information(rows: &Rows, weight: &[f64], scale: &[f64]) -> Vec<f64> {
    let n = scale.len();
    let mut all = vec![0.0; n * n];
    let mut row = vec![0.0; n];
    for (i, w) in weight.iter().enumerate() {
        for k in 0..n {
            row[k] = rows.rows[i * n + k] * scale[k];
        }
        add_square(&mut all, n, &row, w * w);
    }
    all
}

/// The numbers, of those that have a meaning, that the readings tell from where the fit stands.
fn look(family: &Family, taken: &Taken, v: &[f64], weight: &[f64]) -> Option<Vec<usize>> {
    let which: Vec<usize> = (0..family.size()).filter(|i| family.is_live(*i)).collect();
    let scale: Vec<f64> = which.iter().map(|i| family.unknown(*i, v[*i])).collect();
    let fit = Fit { family, taken, v: v.to_vec(), which, weight: weight.to_vec() };
    let rows = fit.rows(v)?;
    let info = information(&rows, weight, &scale);
    let told = told(&info, scale.len());
    Some(fit.which.iter().zip(told).filter(|(_, told)| *told).map(|(i, _)| *i).collect())
}

/// How much sides lean to begin with, at least.
const LITTLE: f64 = 0.01;

/// The same numbers with sides that lean a little. Where a side does not lean at all, where the carve begins can't be seen, to
/// first order: the cubic goes on into the flat side.
fn leaning(family: &Family, v: &[f64]) -> Vec<f64> {
    let mut v = v.to_vec();
    for (i, v) in v.iter_mut().enumerate() {
        if let Place::Profile(_, 2 | 6) = family.place(i) {
            *v = v.max(LITTLE);
        }
    }
    v
}

/// Plans, and drops stations made from readings that turn out to tell nothing of their kind of number.
fn planned(planner: &mut Planner<'_>, weight: &[f64]) -> Result<(Plan, Vec<usize>), Error> {
    let unplanned = || Error::from(Fault::new(Kind::Geometry, "base", "has no shape of the back"));
    for round in 0.. {
        let plan = planner.plan()?.ok_or_else(unplanned)?;
        let Plan { family, start, .. } = &plan;
        let which = look(family, planner.taken, &leaning(family, start), weight).ok_or_else(unbuilt)?;
        let mut idle = false;
        for i in (0..family.size()).filter(|i| !which.contains(i)) {
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
            return Ok((plan, which));
        }
    }
    Err(unplanned())
}

/// Solves for the numbers told, and again while what is told changes.
fn settle(
    Plan { family, start, base: rest }: Plan,
    mut which: Vec<usize>,
    planner: &Planner<'_>,
    table: &Table,
) -> Result<Fitted, Error> {
    let taken = planner.taken;
    let bounds = Bounds::new(&family, table);
    let base: Vec<f64> = taken.items.iter().map(|item| 1.0 / item.uncertainty).collect();
    let mut counts = vec![1.0; base.len()];
    let leant = leaning(&family, &start);
    let mut v = rest.clone();
    for i in &which {
        v[*i] = leant[*i];
    }
    let mut last = None;
    let mut seen: Vec<Vec<usize>> = Vec::new();
    for round in 0..ROUNDS {
        let pick = |all: &[f64]| -> Vec<f64> { which.iter().map(|i| all[*i]).collect() };
        let scale: Vec<f64> = which.iter().map(|i| family.unknown(*i, v[*i])).collect();
        let (lowest, highest) = (pick(&bounds.lowest), pick(&bounds.highest));
        let limits = Limits {
            lowest: &lowest,
            highest: &highest,
            scale: &scale,
            most_steps: planner.options.most_steps,
        };
        let mut solved;
        let mut turn = 0;
        loop {
            let weight = base.iter().zip(&counts).map(|(b, c)| b * libm::sqrt(*c)).collect();
            let fit = Fit { family: &family, taken, v: v.clone(), which: which.clone(), weight };
            solved = solve(&fit, &pick(&v), &limits).ok_or_else(unbuilt)?;
            v = fit.all(&solved.p);
            if !planner.options.robust || turn == TURNS {
                break;
            }
            let left = fit.left(&v).ok_or_else(unbuilt)?;
            let scaled: Vec<f64> = left.iter().zip(&base).map(|(l, b)| l * b).collect();
            let next = weights(&scaled, turn);
            let change = next.iter().zip(&counts).map(|(a, b)| libm::fabs(a - b)).fold(0.0, f64::max);
            counts = next;
            if change < 1e-6 && turn > 2 {
                break;
            }
            turn += 1;
        }
        let weight: Vec<f64> = base.iter().zip(&counts).map(|(b, c)| b * libm::sqrt(*c)).collect();
        let again = look(&family, taken, &v, &weight).ok_or_else(unbuilt)?;
        let same = again == which;
        last = Some(solved);
        if same || round + 1 == ROUNDS {
            break;
        }
        // What has been tried once is not tried again: from there on only less is told, so that it comes to an end.
        let tried = seen.contains(&again);
        let kept: Vec<usize> =
            if tried { again.into_iter().filter(|i| which.contains(i)).collect() } else { again };
        if kept == which {
            break;
        }
        seen.push(which.clone());
        for i in which.iter().filter(|i| !kept.contains(i)) {
            v[*i] = rest[*i];
        }
        which = kept;
    }
    Ok(Fitted { family, v, which, solved: last, counts })
}

/// Sum of squares of a fit.
fn sum_of(fitted: &Fitted) -> f64 {
    fitted.solved.as_ref().map_or(f64::INFINITY, |s| s.sum)
}

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
    options.check()?;
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
    };
    let points = taken.items.iter().filter(|i| matches!(i.measured, Measured::Point { .. })).count();
    let may_be_uneven = options.uneven != Judging::Never && points > 3;
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
fn attempt(planner: &mut Planner<'_>, weight: &[f64], table: &Table) -> Result<Fitted, Error> {
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

/// What came of it.
fn finish(
    base: &Specification,
    options: &CopyOptions,
    taken: Taken,
    ground: Ground,
    fitted: Fitted,
) -> Result<Copied, Error> {
    let Fitted { family, v, which, solved, counts } = fitted;
    let Some(solved) = solved else { return Err(unbuilt()) };
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
    let fit =
        Fit { family: &family, taken: &taken, v: v.clone(), which: which.clone(), weight: weight.clone() };
    let rows = fit.rows(&v).ok_or_else(unbuilt)?;
    let scale: Vec<f64> = which.iter().map(|i| family.unknown(*i, v[*i])).collect();
    let mut covariance = inverse(&information(&rows, &weight, &scale), n).ok_or_else(unbuilt)?;
    for i in 0..n {
        for j in 0..n {
            covariance[i * n + j] *= scale[i] * scale[j];
        }
    }
    let counted: f64 = counts.iter().sum();
    let freedom = taken.items.len().saturating_sub(n);
    let chi2 = solved.sum;
    let leverages: Vec<f64> = (0..taken.items.len())
        .map(|i| {
            let row = &rows.rows[i * n..(i + 1) * n];
            weight[i] * weight[i] * dot(row, &times(&covariance, n, row))
        })
        .collect();
    let scatter = if options.scatter_counts && counted > n as f64 {
        (chi2 / (counted - n as f64)).max(1.0)
    } else {
        1.0
    };
    for c in &mut covariance {
        *c *= scatter;
    }
    let numbers = which
        .iter()
        .enumerate()
        .map(|(k, i)| Number {
            path: family.path(*i),
            value: v[*i],
            uncertainty: libm::sqrt(covariance[k * n + k]),
            unit: family.unit(*i),
            // Readings that would show it if the number were quite another.
            readings: (0..taken.items.len())
                .filter(|r| libm::fabs(rows.rows[r * n + k] * scale[k] * weight[*r]) > 0.1)
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
            weight: counts[i],
        })
        .collect();
    residuals.sort_by_key(|r| r.reading);
    let specification = specify(base, &family, &v, &which);
    Neck::new(&specification).map_err(|error| {
        let faults = error.faults().iter().cloned().map(|mut fault| {
            fault.reason = format!("the copied neck can't be built: {}", fault.reason);
            fault
        });
        Error::unless_none(faults.collect()).err().unwrap_or(error)
    })?;
    let kept = (0..family.size())
        .filter(|i| family.has_meaning(*i) && !which.contains(i))
        .map(|i| Kept { path: family.path(i), value: v[i], unit: family.unit(i) })
        .collect();
    let p_value = (freedom > 0 && !options.robust).then(|| chance(chi2, freedom));
    Ok(Copied {
        specification,
        numbers,
        kept,
        covariance,
        residuals,
        unused: taken.unused.clone(),
        chi2,
        degrees_of_freedom: freedom,
        p_value,
        steps: solved.steps,
        state: super::copied::State { family, v, which, ground, taken },
    })
}

/// A residual over the uncertainty that it has in the fit; 0 where the reading alone tells a number, so that nothing can
/// be left of it.
fn standardised(left: f64, leverage: f64) -> f64 {
    let room = 1.0 - leverage;
    if room > 1e-9 { left / libm::sqrt(room) } else { 0.0 }
}
