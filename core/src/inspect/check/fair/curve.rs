//! The fair curves beside which departures stand.

use alloc::vec::Vec;

use super::super::basis::Basis;
use super::super::sequence::{Datum, Line};

/// The most fair curves that there are.
pub(super) const ALL: usize = 6;

/// The fair curves of a row: a low polynomial, and around a section an allowance along the spine too, as it lies square to
/// the surface, even or slanting. No more than `most` of them, the simplest first.
pub(super) fn fair_curves(line: Line, data: &[Datum], roots: &[f64], most: usize) -> Basis {
    let (a, b) = match (data.first(), data.last()) {
        (Some(a), Some(b)) => (a.at, b.at),
        _ => (0.0, 1.0),
    };
    let unit = |d: &Datum| if b > a { (2.0 * d.at - a - b) / (b - a) } else { 0.0 };
    // The place in the row, from -1 to 1, and the weight's root.
    let places: Vec<[f64; 2]> = data.iter().zip(roots).map(|(d, root)| [unit(d), *root]).collect();
    let mut basis = Basis::new(data.len());
    let mut count = 0;
    let mut add = |f: &dyn Fn(f64, &Datum) -> f64| {
        count += 1;
        if count > most {
            return;
        }
        basis.add(data.iter().zip(&places).map(|(d, [x, root])| root * f(*x, d)));
    };
    let degree = match line {
        Line::Section(_) => 2,
        _ => match data.len() {
            ..10 => 1,
            10..16 => 2,
            _ => 3,
        },
    };
    add(&|_, _| 1.0);
    add(&|x, _| x);
    if degree > 1 {
        add(&|x, _| x * x);
    }
    if degree > 2 {
        add(&|x, _| x * x * x);
    }
    if matches!(line, Line::Section(_)) {
        add(&|_, d| d.share);
        add(&|x, d| x * d.share);
    }
    basis
}
