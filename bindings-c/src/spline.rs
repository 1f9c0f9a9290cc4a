//! Knots, poles and weights into the caller's buffers.

use crate::argument::{Out, buffer};
use crate::error::Failure;
use neckwright::solid::Knots;

/// Writes knots and how often each counts.
///
/// # Safety
/// `values` and `multiplicities` are null or valid for `capacity` elements.
pub(crate) unsafe fn knots(
    knots: &Knots,
    values: *mut f64,
    multiplicities: *mut u32,
    capacity: usize,
) -> Result<(), Failure> {
    let n = knots.values.len();
    // SAFETY: by this function's own condition.
    let (v, m) = unsafe {
        (buffer(values, capacity, n, "knots")?, buffer(multiplicities, capacity, n, "multiplicities")?)
    };
    v.write(&knots.values);
    m.write_each(knots.multiplicities.iter().map(|times| *times as u32));
    Ok(())
}

/// Room for poles and their weights.
pub(crate) struct Poles {
    poles: Out<f64>,
    weights: Option<Out<f64>>,
}

impl Poles {
    pub fn write(self, poles: &[f64], weights: Option<&[f64]>) {
        self.poles.write(poles);
        match (self.weights, weights) {
            (Some(out), Some(weights)) => out.write(weights),
            (Some(out), None) => out.write_each(std::iter::repeat_n(1.0, poles.len() / 3)),
            (None, _) => {}
        }
    }
}

/// # Safety
/// `poles` is null or valid for three times `capacity` elements, `weights` for `capacity`.
pub(crate) unsafe fn poles(
    count: usize,
    poles: *mut f64,
    weights: *mut f64,
    capacity: usize,
) -> Result<Poles, Failure> {
    // SAFETY: by this function's own condition.
    let out = unsafe { buffer(poles, capacity.saturating_mul(3), 3 * count, "poles_mm") }?;
    let weights = if weights.is_null() {
        None
    } else {
        // SAFETY: by this function's own condition.
        Some(unsafe { buffer(weights, capacity, count, "weights") }?)
    };
    Ok(Poles { poles: out, weights })
}
