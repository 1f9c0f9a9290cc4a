//! Departures that were accepted, and the places that they take.

use alloc::vec::Vec;

use super::super::basis::take_off;
use super::super::sequence::Datum;
use super::choice::{Choice, Told};
use super::curve::{ALL, fair_curves};
use super::kernel::{LEFT, kernel};
use super::scan::Scan;
use super::step::LEFT_OF_STEP;

/// A departure that was accepted, and the places that it took.
pub(super) struct Accepted {
    pub(super) centre: f64,
    pub(super) width: f64,
    pub(super) p: f64,
    pub(super) places: Vec<usize>,
    /// To which side of the fair curve it lies.
    pub(super) sign: f64,
    /// Height and standard uncertainty when it was accepted.
    pub(super) first: Option<[f64; 2]>,
}

impl Scan<'_> {
    /// Accepts a choice, and looks at what its places leave: whatever shape it has in truth, they hold the fair curve no
    /// more, nor are they matched again.
    pub(super) fn accept(&mut self, choice: Choice, alarms: impl Fn(&f64) -> bool) {
        let mut values = Vec::new();
        let mut touched = 0..0;
        let mut sign = choice.step.as_ref().map_or(0.0, |step| step.t);
        if let Some(told) = &choice.told
            && let Some((first, _)) = self.kernel(0, told.centre, told.width, &mut values)
        {
            touched = first..first + values.len();
            sign = self.with_rest(first, &values);
        }
        let step = choice.step.map_or(0..0, |step| step.places);
        let open = |i: &usize| self.roots.get(*i).is_some_and(|root| *root > 0.0);
        let whole = touched.chain(step).filter(open);
        let mut places: Vec<usize> = whole.collect();
        places.sort_unstable();
        places.dedup();
        self.take(&places);
        let mut wider = false;
        while let Some(next) = self.more_of_it(&places, sign, &alarms) {
            self.take(&[next]);
            wider = true;
            places.push(next);
            places.sort_unstable();
        }
        if let Some(Told { mut centre, mut width, p }) = choice.told {
            // Kernels that the fair curve leaves little of are not looked for: this one is such.
            if wider {
                self.give_back(&places);
                ((centre, width), _) = self.refined((centre, width), (centre, width), 0..7, LEFT_OF_STEP);
                self.take(&places);
            }
            let mut this = Accepted { centre, width, p, places, sign, first: None };
            this.first = self.height_now(&this);
            self.accepted.push(this);
            self.several = self.accepted.len() > 1;
        }
        self.lay();
        self.look();
    }

    /// Puts places back into the row.
    fn give_back(&mut self, places: &[usize]) {
        for i in places {
            if let (Some(root), Some(d)) = (self.roots.get_mut(*i), self.data.get(*i)) {
                *root = libm::sqrt(d.weight);
            }
        }
        self.take(&[]);
    }

    /// What was accepted, each with its height and standard uncertainty. Where there are several, each was placed while those
    /// after it still bent the curve: it is placed once more without them.
    pub(super) fn told(&mut self) -> Vec<(Told, [f64; 2])> {
        let mut told = Vec::with_capacity(self.accepted.len());
        for mut this in core::mem::take(&mut self.accepted) {
            if self.several {
                let place = (this.centre, this.width);
                self.give_back(&this.places);
                ((this.centre, this.width), _) = self.refined(place, place, 0..7, LEFT);
                self.take(&this.places);
            }
            let Accepted { centre, width, p, .. } = this;
            told.extend(self.height(&this).map(|height| (Told { centre, width, p }, height)));
        }
        told
    }

    /// The neighbour of a stretch that lies off the fair curve to the same side and would alarm alone: the departure is wider
    /// than its kernel.
    fn more_of_it(&self, places: &[usize], sign: f64, alarms: &impl Fn(&f64) -> bool) -> Option<usize> {
        let (first, last) = (*places.first()?, *places.last()?);
        let off = |i: usize| {
            let free = 1.0 - self.basis.leverage(i);
            (*self.roots.get(i)? > 0.0 && free > LEFT)
                .then(|| (self.rest[i] * sign.signum() / libm::sqrt(free), i))
        };
        let sides = [first.checked_sub(1), Some(last + 1)];
        let off = sides.into_iter().flatten().filter_map(off).filter(|(t, _)| *t > 0.0 && alarms(t));
        Some(off.max_by(|a, b| a.0.total_cmp(&b.0))?.1)
    }

    /// Height of one accepted kernel and its standard uncertainty: beside the fair curve through what no other took, or, where
    /// the others left too little to tell by, through what they had left when it was accepted.
    fn height(&self, accepted: &Accepted) -> Option<[f64; 2]> {
        self.height_now(accepted).or(accepted.first)
    }

    /// Height beside the fair curve through what is left now. Where several departures took so much that a curve of all
    /// columns leaves little of the kernel, one of fewer tells; never one by which it lies on the other side.
    fn height_now(&self, accepted: &Accepted) -> Option<[f64; 2]> {
        let least = |columns: usize| if columns == ALL && !self.several { LEFT_OF_STEP } else { LEFT };
        let beside = |columns: usize| {
            let ([height, uncertainty], left) = self.height_beside(accepted, columns)?;
            (left > least(columns) && height * accepted.sign > 0.0).then_some([height, uncertainty])
        };
        (1..=ALL).rev().find_map(beside)
    }

    /// Height of a kernel beside the first of the fair curves, through its own places and those that no other took, with its
    /// standard uncertainty, which counts in that its centre and width are read off the same deviations; and the share that
    /// the curves leave of it.
    fn height_beside(&self, accepted: &Accepted, columns: usize) -> Option<([f64; 2], f64)> {
        let Accepted { centre, width, places, .. } = accepted;
        let own = |d: &Datum| kernel((d.at - centre) / width);
        let mut roots = self.roots.clone();
        for i in places {
            if let (Some(d), Some(root)) = (self.data.get(*i), roots.get_mut(*i)) {
                *root = libm::sqrt(d.weight);
            }
        }
        let mut basis = fair_curves(self.line, self.data, &roots, columns);
        let open = roots.iter().filter(|root| **root > 0.0).count();
        let column = |f: &dyn Fn(&Datum) -> f64| -> Vec<f64> {
            self.data.iter().zip(&roots).map(|(d, root)| root * f(d)).collect()
        };
        let square_of = |column: &[f64]| column.iter().map(|x| x * x).sum::<f64>();
        let mut rest = column(&own);
        let whole = square_of(&rest);
        basis.remove_from(&mut rest);
        let mut square = square_of(&rest);
        let left = square / whole;
        let slope = |d: &Datum| {
            let x = (d.at - centre) / width;
            x * (1.0 - x * x).max(0.0)
        };
        let wider = |d: &Datum| slope(d) * (d.at - centre) / width;
        for shift in [&slope as &dyn Fn(&Datum) -> f64, &wider] {
            if basis.rank() + 1 >= open {
                break;
            }
            let Some(shift) = basis.beside(column(shift)) else { continue };
            let mut less = rest.clone();
            take_off(&mut less, &shift);
            let left = square_of(&less);
            if left > 0.2 * square {
                (rest, square) = (less, left);
                basis.push(&shift);
            }
        }
        let along: f64 =
            rest.iter().zip(self.data).zip(&roots).map(|((k, d), root)| k * root * d.value).sum();
        (square > 0.0).then(|| ([along / square, 1.0 / libm::sqrt(square)], left))
    }
}
