//! Least squares.

use alloc::vec;
use alloc::vec::Vec;

use super::matrix::{cholesky, dot, solve_with};

/// Residuals as a function of a few numbers.
pub(super) trait Problem {
    /// The weighted residuals; `None` where there are none for these numbers.
    fn residuals(&self, p: &[f64]) -> Option<Vec<f64>>;

    /// The weighted residuals and, row by row, their derivatives.
    fn jacobian(&self, p: &[f64]) -> Option<(Vec<f64>, Vec<f64>)>;
}

/// What a fit is held to.
pub(super) struct Limits<'a> {
    pub lowest: &'a [f64],
    pub highest: &'a [f64],
    /// What counts as a change of one in each number.
    pub scale: &'a [f64],
    pub most_steps: u32,
    /// What share of the sum of squares a step has to be able to take off to be worth it.
    pub worth: f64,
}

/// Where a fit came to.
pub(super) struct Solved {
    pub p: Vec<f64>,
    pub sum: f64,
    pub steps: u32,
    /// Whether it settled.
    pub settled: bool,
    /// Which numbers lie at a bound that they would go beyond.
    pub at_bound: Vec<bool>,
}

/// A step smaller than this in every scaled number changes nothing.
const STILL: f64 = 1e-11;
/// What is worth a step to a fit that is to be the very best.
pub(super) const WORTH: f64 = 1e-13;
/// A last step that took off no more than this share moved no number by a hundredth of its uncertainty.
const ENOUGH: f64 = 1e-6;
/// So many steps in a row that damping cuts short and that take off no more than that together are the last: where laws have an
/// edge (of two equal numbers side by side either may be the greater) the way goes on along it by ever shorter steps.
const CREEPING: u32 = 3;
const NOTHING: f64 = 1e-24;

/// Least squares by Gauss-Newton steps with Levenberg's and Marquardt's damping, scaled by the diagonal, the damping
/// steered by the gain ratio (Madsen, Nielsen & Tingleff, Methods for Non-Linear Least Squares Problems, 2004, algorithm
/// 3.16; memory). A number at its bound that the residuals push outward is held there for the step; steps end at bounds.
pub(super) fn solve(problem: &impl Problem, start: &[f64], limits: &Limits<'_>) -> Option<Solved> {
    let n = start.len();
    let mut p: Vec<f64> = (0..n).map(|k| start[k].max(limits.lowest[k]).min(limits.highest[k])).collect();
    let (mut damping, mut harder) = (1e-3, 2.0);
    let (mut r, mut j) = problem.jacobian(&p)?;
    let mut sum = dot(&r, &r);
    let mut held = vec![false; n];
    let mut settled = false;
    let mut steps = 0;
    // What the last step took off, as a share, and what the last ones that were cut short did.
    let mut gained = f64::INFINITY;
    let (mut creeping, mut crept) = (0, 0.0);
    'steps: while steps < limits.most_steps {
        steps += 1;
        let (a, g) = normal(&r, &j, limits.scale);
        // A number held at its bound is one that the residuals would push beyond it.
        for k in 0..n {
            held[k] = limits.lowest[k] >= limits.highest[k]
                || (p[k] <= limits.lowest[k] && g[k] > 0.0)
                || (p[k] >= limits.highest[k] && g[k] < 0.0);
        }
        loop {
            let h = damped_step(&a, &g, &held, damping)?;
            let next: Vec<f64> = (0..n).map(|k| bounded(p[k], h[k] * limits.scale[k], limits, k)).collect();
            let taken: Vec<f64> = (0..n).map(|k| (next[k] - p[k]) / limits.scale[k]).collect();
            let still = h.iter().all(|h| libm::fabs(*h) <= STILL);
            // What the straight model takes off, by the step as it is taken and as it would be without bounds.
            let takes_off = |h: &[f64]| -2.0 * dot(&g, h) - dot(h, &super::matrix::times(&a, n, h));
            let foreseen = takes_off(&taken);
            let small = takes_off(&h) <= limits.worth * sum + NOTHING;
            let trial = problem.residuals(&next).map(|r| dot(&r, &r)).filter(|s| s.is_finite());
            if still || (small && damping < 1.0) {
                if trial.is_some_and(|s| s <= sum) {
                    p = next;
                }
                settled = true;
                break 'steps;
            }
            match trial {
                Some(s) if s < sum && foreseen > 0.0 => {
                    let gain = (sum - s) / foreseen;
                    let k = 2.0 * gain - 1.0;
                    let short = damping >= 1.0;
                    damping *= (1.0 - k * k * k).max(1.0 / 10.0);
                    harder = 2.0;
                    p = next;
                    (r, j) = problem.jacobian(&p)?;
                    gained = (sum - s) / sum;
                    sum = dot(&r, &r);
                    (creeping, crept) =
                        if short && gained <= ENOUGH { (creeping + 1, crept + gained) } else { (0, 0.0) };
                    if creeping >= CREEPING && crept <= ENOUGH {
                        break 'steps;
                    }
                    continue 'steps;
                }
                _ => {
                    damping *= harder;
                    harder *= 2.0;
                    if damping > 1e12 {
                        // No step is short enough: what is left is rounding, or there is no way down.
                        settled = is_flat(&r, &j, &held);
                        break 'steps;
                    }
                }
            }
        }
    }
    // Where points change from one part of the outline to the next the sum has edges, along which steps get short.
    settled |= gained <= ENOUGH;
    let r = problem.residuals(&p)?;
    let sum = dot(&r, &r);
    Some(Solved { p, sum, steps, settled, at_bound: held })
}

/// A number after its step: of one that would go beyond its bound nine tenths of the way to it, and the bound where that is
/// next to nothing.
fn bounded(p: f64, step: f64, limits: &Limits<'_>, k: usize) -> f64 {
    const NEAR: f64 = 1e-7;
    let to = p + step;
    let bound = if to < limits.lowest[k] {
        limits.lowest[k]
    } else if to > limits.highest[k] {
        limits.highest[k]
    } else {
        return to;
    };
    if libm::fabs(bound - p) <= NEAR * limits.scale[k] { bound } else { p + 0.9 * (bound - p) }
}

/// `A = JᵀJ` and `g = Jᵀr`, the numbers scaled.
pub(super) fn normal(r: &[f64], j: &[f64], scale: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let n = scale.len();
    let (mut a, mut g) = (vec![0.0; n * n], vec![0.0; n]);
    // A reading has to do with the numbers of the stations beside it only.
    let mut row: Vec<(usize, f64)> = Vec::with_capacity(n);
    for (i, r) in r.iter().enumerate() {
        row.clear();
        let scaled = j[i * n..(i + 1) * n].iter().zip(scale).map(|(j, scale)| j * scale);
        row.extend(scaled.enumerate().filter(|(_, v)| *v != 0.0));
        for (at, (k, v)) in row.iter().enumerate() {
            g[*k] += v * r;
            for (l, w) in &row[..=at] {
                a[k * n + l] += v * w;
            }
        }
    }
    for k in 0..n {
        for l in 0..k {
            a[l * n + k] = a[k * n + l];
        }
    }
    (a, g)
}

/// The step of `(A + damping·diag A) h = −g` over the numbers that are not held.
fn damped_step(a: &[f64], g: &[f64], held: &[bool], damping: f64) -> Option<Vec<f64>> {
    let n = g.len();
    let free: Vec<usize> = (0..n).filter(|k| !held[*k]).collect();
    let m = free.len();
    let mut damping = damping;
    for _ in 0..60 {
        let mut b = vec![0.0; m * m];
        for (i, k) in free.iter().enumerate() {
            for (j, l) in free.iter().enumerate() {
                b[i * m + j] = a[k * n + l];
            }
            let d = a[k * n + k];
            b[i * m + i] += damping * if d > 0.0 { d } else { 1.0 };
        }
        if let Some(l) = cholesky(&b, m) {
            let mut h: Vec<f64> = free.iter().map(|k| -g[*k]).collect();
            solve_with(&l, m, &mut h);
            let mut out = vec![0.0; n];
            for (k, h) in free.iter().zip(h) {
                out[*k] = h;
            }
            return out.iter().all(|h| h.is_finite()).then_some(out);
        }
        damping = (10.0 * damping).max(1e-12);
    }
    None
}

/// Whether the residuals stand square to every column, as well as can be told.
fn is_flat(r: &[f64], j: &[f64], held: &[bool]) -> bool {
    let n = held.len();
    let size = libm::sqrt(dot(r, r));
    (0..n).filter(|k| !held[*k]).all(|k| {
        let (mut along, mut square) = (0.0, 0.0);
        for (i, r) in r.iter().enumerate() {
            along += j[i * n + k] * r;
            square += j[i * n + k] * j[i * n + k];
        }
        libm::fabs(along) <= 1e-6 * libm::sqrt(square) * size + NOTHING
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Curve<F>(&'static [(f64, f64)], F);

    impl<F: Fn(f64, &[f64]) -> f64> Problem for Curve<F> {
        fn residuals(&self, p: &[f64]) -> Option<Vec<f64>> {
            let left: Vec<f64> = self.0.iter().map(|(y, x)| y - (self.1)(*x, p)).collect();
            left.iter().all(|l| l.is_finite()).then_some(left)
        }

        fn jacobian(&self, p: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
            let mut rows = Vec::new();
            for (_, x) in self.0 {
                for k in 0..p.len() {
                    let mut there = p.to_vec();
                    let step = 1e-6 * libm::fabs(p[k]).max(1e-9);
                    there[k] = p[k] + step;
                    let above = (self.1)(*x, &there);
                    there[k] = p[k] - step;
                    rows.push(-(above - (self.1)(*x, &there)) / (2.0 * step));
                }
            }
            Some((self.residuals(p)?, rows))
        }
    }

    /// NIST/ITL StRD, Misra1a (data and certified values from memory; computed again to these digits with mpmath).
    const MISRA: [(f64, f64); 14] = [
        (10.07, 77.6),
        (14.73, 114.9),
        (17.94, 141.1),
        (23.93, 190.8),
        (29.61, 239.9),
        (35.18, 289.0),
        (40.02, 332.8),
        (44.82, 378.4),
        (50.76, 434.8),
        (55.05, 477.3),
        (61.01, 536.8),
        (66.40, 593.1),
        (75.47, 689.1),
        (81.78, 760.0),
    ];

    #[test]
    fn certified_values_from_both_starts() {
        let problem = Curve(&MISRA, |x: f64, b: &[f64]| b[0] * (1.0 - libm::exp(-b[1] * x)));
        let limits = Limits {
            lowest: &[f64::NEG_INFINITY; 2],
            highest: &[f64::INFINITY; 2],
            scale: &[100.0, 1e-4],
            most_steps: 200,
            worth: WORTH,
        };
        for start in [[500.0, 1e-4], [250.0, 5e-4]] {
            let solved = solve(&problem, &start, &limits).unwrap();
            assert!(solved.settled);
            for (found, certified) in solved.p.iter().chain([&solved.sum]).zip([
                2.389_421_291_8e2,
                5.501_564_318_1e-4,
                1.245_513_889_4e-1,
            ]) {
                assert!(libm::fabs(found / certified - 1.0) < 1e-8, "{found} is not {certified}");
            }
        }
    }

    #[test]
    fn a_number_goes_to_its_bound_and_says_so() {
        let problem = Curve(&MISRA, |x: f64, b: &[f64]| b[0] * (1.0 - libm::exp(-b[1] * x)));
        let limits = Limits {
            lowest: &[0.0; 2],
            highest: &[230.0, 1.0],
            scale: &[100.0, 1e-4],
            most_steps: 200,
            worth: WORTH,
        };
        let solved = solve(&problem, &[200.0, 5e-4], &limits).unwrap();
        assert!(solved.settled);
        assert_eq!((solved.p[0], solved.at_bound), (230.0, vec![true, false]));
    }
}
