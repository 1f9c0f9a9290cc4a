//! What readings of one place come to: their mean, or a curved surface where their scatter shows that they have a shape.

use alloc::vec;
use alloc::vec::Vec;

use crate::inspect::check::Basis;
use crate::inspect::copy::chance;

/// Noise alone takes on a shape no more often than this at each degree.
const CHANCE: f64 = 0.01;
/// Over a place no hollow has more shape than this degree gives: of higher ones the few readings of a contour leave nothing but
/// their noise.
const DEGREE: usize = 2;

/// A reading: where it lies along and around, what it comes to, and what it counts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Datum {
    pub along: f64,
    pub around: f64,
    pub value: f64,
    pub weight: f64,
}

/// What readings come to.
pub(super) struct Fit {
    /// Of each its value without noise.
    pub fitted: Vec<f64>,
    /// The share of each one's own noise that is left in that, which is the square of what is left of its uncertainty too.
    pub leverage: Vec<f64>,
    /// Whether it is their mean.
    pub even: bool,
}

impl Fit {
    /// Weighted least squares by a polynomial in both directions: of degree 0, and of a higher one where what that takes off the
    /// sum of squares is more than noise would have it lose, by the distribution of `χ²` (a sequence of likelihood ratio
    /// tests, the uncertainties known; Seber & Lee, Linear Regression Analysis, 2003, chapters 4 and 12; memory).
    pub fn new(data: &[Datum]) -> Self {
        let root: Vec<f64> = data.iter().map(|d| libm::sqrt(d.weight)).collect();
        let [along, around] = [scaled(data, |d| d.along), scaled(data, |d| d.around)];
        let values: Vec<f64> = data.iter().zip(&root).map(|(d, r)| r * d.value).collect();
        let mut basis = Basis::new(data.len());
        // How many columns there are up to each degree.
        let mut ranks = vec![];
        for degree in 0..=DEGREE {
            for power in 0..=degree {
                let term = |i: usize| root[i] * powi(along[i], degree - power) * powi(around[i], power);
                basis.add((0..data.len()).map(term));
            }
            ranks.push(basis.rank());
        }
        let along: Vec<f64> =
            basis.each().map(|column| column.iter().zip(&values).map(|(c, v)| c * v).sum()).collect();
        let mut degree = 0;
        for higher in 1..=DEGREE {
            let more = along.get(ranks[degree]..ranks[higher]).unwrap_or_default();
            if chance(more.iter().map(|a| a * a).sum(), more.len()) < CHANCE {
                degree = higher;
            }
        }
        let (mut fitted, mut leverage) = (vec![0.0; data.len()], vec![0.0; data.len()]);
        for (column, along) in basis.each().zip(&along).take(ranks[degree]) {
            for (i, c) in column.iter().enumerate() {
                fitted[i] += along * c / root[i];
                leverage[i] += c * c;
            }
        }
        Self { fitted, leverage, even: degree == 0 }
    }
}

/// A measure of readings from -1 to 1; 0 where all have the same.
fn scaled(data: &[Datum], of: impl Fn(&Datum) -> f64) -> Vec<f64> {
    let (least, most) =
        data.iter().map(&of).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
    let (middle, half) = (0.5 * (least + most), 0.5 * (most - least));
    data.iter().map(|d| if half > 1e-6 { (of(d) - middle) / half } else { 0.0 }).collect()
}

fn powi(x: f64, power: usize) -> f64 {
    (0..power).fold(1.0, |product, _| product * x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::numbers;

    fn data(value: impl FnMut(f64, f64) -> f64) -> Vec<Datum> {
        let mut value = value;
        let places = (0..12).map(|i| (4.0 * f64::from(i / 6), 2.0 * f64::from(i % 6)));
        let datum = |(along, around)| Datum { along, around, value: value(along, around), weight: 100.0 };
        places.map(datum).collect()
    }

    #[test]
    fn noise_seldom_takes_on_a_shape() {
        let mut next = numbers(5);
        // Twelve uniform numbers, less 6, are as good as normal here.
        let mut noise = || (0..12).map(|_| (next() >> 11) as f64 / (1_u64 << 53) as f64).sum::<f64>() - 6.0;
        let shaped = (0..4000).filter(|_| !Fit::new(&data(|_, _| 0.3 + 0.1 * noise())).even).count();
        // 80 and three standard deviations of that.
        assert!((40..107).contains(&shaped), "{shaped}");
    }

    #[test]
    fn a_hollow_is_followed() {
        let hollow = |along: f64, around: f64| 0.2 + 0.05 * along + 0.8 * (1.0 - powi(around / 5.0 - 1.0, 2));
        let all = data(hollow);
        let fit = Fit::new(&all);
        assert!(!fit.even);
        assert!(all.iter().zip(&fit.fitted).all(|(d, fitted)| libm::fabs(d.value - fitted) < 1e-12));
        // As many shares as there are terms: two stations leave none of the square along.
        assert!(libm::fabs(fit.leverage.iter().sum::<f64>() - 5.0) < 1e-9);
    }
}
