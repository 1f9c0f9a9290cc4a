//! Readings against a family: what is left of them, and how what they give changes with its numbers.

use alloc::collections::BTreeMap;
use alloc::collections::btree_map::Entry;
use alloc::vec;
use alloc::vec::Vec;

use super::family::{Family, Places};
use super::knowledge::Told;
use super::matrix::add_square;
use super::section::{Cut, Local};
use super::solve::Problem;
use super::take::Taken;

/// Rows of derivatives of what readings give by all numbers of a family, and what is left of them.
pub(super) struct Rows {
    /// Reading less model, mm.
    pub left: Vec<f64>,
    /// Row by row, by the numbers asked for.
    pub rows: Vec<f64>,
}

impl Rows {
    /// Of some numbers.
    pub fn new(family: &Family, taken: &Taken, v: &[f64], which: &[usize]) -> Option<Self> {
        let mut left = Vec::with_capacity(taken.items.len());
        let rows = rows_of(family, v, which, &taken.places, |place, cut, give| {
            for item in taken.at_place(place) {
                let (l, turn) = cut.compare(&item.measured, item.value);
                left.push(l);
                give(&turn);
            }
        })?;
        let finite = left.iter().chain(&rows).all(|r| r.is_finite());
        finite.then_some(Self { left, rows })
    }
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
                if let Entry::Vacant(open) = here.entry(quantity) {
                    open.insert(family.column(v, quantity, places)?);
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

/// The numbers that are fitted, and what each goes by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Standing {
    pub which: Vec<usize>,
    pub told: Vec<Told>,
}

impl Standing {
    /// How many of them the readings alone tell.
    pub fn count(&self) -> usize {
        self.told.iter().filter(|told| **told == Told::Alone).count()
    }

    /// What is told by both this and another look.
    pub fn no_more_than(&self, other: &Self) -> Self {
        let both = self.each().filter_map(|(i, told)| {
            let (_, again) = other.each().find(|(j, _)| *j == i)?;
            Some((i, if told == again { told } else { Told::Partly }))
        });
        let (which, told) = both.unzip();
        Self { which, told }
    }

    pub fn each(&self) -> impl Iterator<Item = (usize, Told)> + '_ {
        self.which.iter().copied().zip(self.told.iter().copied())
    }
}

/// The readings against a family, and beside them the base's values of what they alone don't tell.
pub(super) struct Fit<'a> {
    pub family: &'a Family,
    pub taken: &'a Taken,
    pub v: Vec<f64>,
    /// The base's numbers.
    pub base: &'a [f64],
    pub standing: &'a Standing,
    /// Square roots of weights, one over the uncertainty of each reading and of what it counts.
    pub weight: Vec<f64>,
    /// By how much the base has more of a say than it should.
    pub pull: f64,
}

impl Fit<'_> {
    pub fn all(&self, p: &[f64]) -> Vec<f64> {
        let mut v = self.v.clone();
        for (i, p) in self.standing.which.iter().zip(p) {
            v[*i] = *p;
        }
        v
    }

    /// Of every number that the base has a say in how far off the base's value it is, and which it is of those that are fitted,
    /// and the weight: one over how much necks differ in it, times the pull.
    pub fn off_base<'b>(&'b self, v: &'b [f64]) -> impl Iterator<Item = (f64, usize, f64)> + 'b {
        let partly = self.standing.each().enumerate().filter(|(_, (_, told))| *told != Told::Alone);
        partly.map(move |(k, (i, _))| {
            let weight = self.pull / self.family.unknown(i, self.base[i]);
            ((v[i] - self.base[i]) * weight, k, weight)
        })
    }

    /// What is left of every reading, mm.
    pub fn left(&self, v: &[f64]) -> Option<Vec<f64>> {
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
}

impl Problem for Fit<'_> {
    fn residuals(&self, p: &[f64]) -> Option<Vec<f64>> {
        let v = self.all(p);
        let mut left = self.left(&v)?;
        for (l, w) in left.iter_mut().zip(&self.weight) {
            *l *= w;
        }
        left.extend(self.off_base(&v).map(|(off, ..)| off));
        Some(left)
    }

    fn jacobian(&self, p: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
        let v = self.all(p);
        let Rows { mut left, mut rows } = Rows::new(self.family, self.taken, &v, &self.standing.which)?;
        let n = self.standing.which.len();
        for (i, w) in self.weight.iter().enumerate() {
            left[i] *= w;
            for r in &mut rows[i * n..(i + 1) * n] {
                *r *= -w;
            }
        }
        for (off, k, weight) in self.off_base(&v) {
            left.push(off);
            rows.resize(rows.len() + n, 0.0);
            let at = rows.len() - n + k;
            rows[at] = weight;
        }
        Some((left, rows))
    }
}

/// `JᵀWJ`, the numbers scaled.
pub(super) fn information(rows: &Rows, weight: &[f64], scale: &[f64]) -> Vec<f64> {
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
