//! Symmetric matrices as rows, by loops whose order is fixed, so that they have the same bits everywhere.

use alloc::vec;
use alloc::vec::Vec;

/// The lower factor `L` of `A = L·Lᵀ`, row by row; `None` where `A` is not positive definite.
pub(super) fn cholesky(a: &[f64], n: usize) -> Option<Vec<f64>> {
    let mut l = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..=i {
            let mut sum = a[i * n + j];
            for k in 0..j {
                sum -= l[i * n + k] * l[j * n + k];
            }
            if i == j {
                if sum <= 0.0 || !sum.is_finite() {
                    return None;
                }
                l[i * n + i] = libm::sqrt(sum);
            } else {
                l[i * n + j] = sum / l[j * n + j];
            }
        }
    }
    Some(l)
}

/// Solves `L·Lᵀ·x = b` in place.
pub(super) fn solve_with(l: &[f64], n: usize, b: &mut [f64]) {
    for i in 0..n {
        let mut sum = b[i];
        for k in 0..i {
            sum -= l[i * n + k] * b[k];
        }
        b[i] = sum / l[i * n + i];
    }
    for i in (0..n).rev() {
        let mut sum = b[i];
        for k in i + 1..n {
            sum -= l[k * n + i] * b[k];
        }
        b[i] = sum / l[i * n + i];
    }
}

/// The inverse of a positive definite matrix.
pub(super) fn inverse(a: &[f64], n: usize) -> Option<Vec<f64>> {
    let l = cholesky(a, n)?;
    let mut out = vec![0.0; n * n];
    let mut column = vec![0.0; n];
    for k in 0..n {
        column.fill(0.0);
        column[k] = 1.0;
        solve_with(&l, n, &mut column);
        // The upper triangle is written from the lower one, so that it is symmetric to the last bit.
        for i in k..n {
            out[i * n + k] = column[i];
            out[k * n + i] = column[i];
        }
    }
    Some(out)
}

/// `A·x`.
pub(super) fn times(a: &[f64], n: usize, x: &[f64]) -> Vec<f64> {
    (0..n).map(|i| dot(&a[i * n..(i + 1) * n], x)).collect()
}

/// `xᵀ·y`.
pub(super) fn dot(x: &[f64], y: &[f64]) -> f64 {
    x.iter().zip(y).map(|(x, y)| x * y).sum()
}

/// Adds `x·xᵀ` times a weight.
pub(super) fn add_square(a: &mut [f64], n: usize, x: &[f64], weight: f64) {
    for i in 0..n {
        if x[i] != 0.0 {
            let wx = weight * x[i];
            for j in 0..n {
                a[i * n + j] += wx * x[j];
            }
        }
    }
}

/// Which numbers readings tell, from their information `JᵀWJ`, each number scaled so that 1 is the uncertainty that would
/// be no better than not knowing it.
///
/// The factor with the greatest pivot first is the triangle of a `QR` decomposition of the scaled Jacobian with its
/// columns taken in the order of what is left of them (Golub & Van Loan, Matrix Computations, 4.2.8 and 5.4.2; memory). The
/// square root of a pivot is one over the uncertainty of its number with those after it held: below 1 nothing is told.
pub(super) fn told(information: &[f64], n: usize) -> Vec<bool> {
    /// What rounding leaves of a pivot that should be zero, as a share of the greatest.
    const ROUNDING: f64 = 1e-12;
    let mut a = information.to_vec();
    let mut told = vec![false; n];
    let greatest = (0..n).map(|i| a[i * n + i]).fold(0.0, f64::max);
    let floor = (ROUNDING * greatest).max(1.0);
    for _ in 0..n {
        let open = (0..n).filter(|i| !told[*i]);
        let Some(p) = open.max_by(|i, j| a[i * n + i].total_cmp(&a[j * n + j])) else { break };
        let pivot = a[p * n + p];
        if pivot < floor || pivot.is_nan() {
            break;
        }
        told[p] = true;
        let row: Vec<f64> = a[p * n..(p + 1) * n].to_vec();
        for i in (0..n).filter(|i| !told[*i]) {
            let k = row[i] / pivot;
            for j in 0..n {
                a[i * n + j] -= k * row[j];
            }
        }
    }
    told
}
