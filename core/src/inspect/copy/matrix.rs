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
