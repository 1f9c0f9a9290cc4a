//! Weights that take from readings far off the others what they have to say.

use alloc::vec::Vec;

use crate::inspect::robust::{MEDIAN, TUKEY};

/// So many turns of new weights at most; the first ones are Huber's, which never lose a reading for good.
pub(super) const TURNS: usize = 20;
const HUBERS: usize = 3;

/// Huber's constant: 95 % as sharp as least squares where all is normal (Holland & Welsch, Robust regression using iteratively
/// reweighted least-squares, 1977; memory).
const HUBER: f64 = 1.345;

/// The weight of every reading by what is left of it over its uncertainty. Where the readings scatter more than they
/// should, all of them, by as much more is allowed.
pub(super) fn weights(left: &[f64], turn: usize) -> Vec<f64> {
    let mut sizes: Vec<f64> = left.iter().map(|l| libm::fabs(*l)).collect();
    sizes.sort_by(f64::total_cmp);
    let median = sizes.get(sizes.len() / 2).copied().unwrap_or(0.0);
    let scatter = (median / MEDIAN).max(1.0);
    let weight = |size: f64| {
        if turn < HUBERS {
            if size <= HUBER { 1.0 } else { HUBER / size }
        } else {
            let t = size / TUKEY;
            let room = (1.0 - t * t).max(0.0);
            room * room
        }
    };
    left.iter().map(|l| weight(libm::fabs(*l) / scatter)).collect()
}

/// What a reading costs at most, however far off it is.
pub(super) const MOST_COST: f64 = TUKEY * TUKEY / 3.0;

/// What a reading costs that is so many of its uncertainties off: nearly the square while that is small (twice Tukey's ρ;
/// Beaton & Tukey, The fitting of power series, 1974; memory).
pub(super) fn cost(left: f64) -> f64 {
    let t = left / TUKEY;
    let room = (1.0 - t * t).max(0.0);
    MOST_COST * (1.0 - room * room * room)
}
