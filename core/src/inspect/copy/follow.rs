//! The base's line of thickness, moved with what readings tell.

use alloc::vec::Vec;

use super::family::Knots;

/// Thicknesses of the base that go along with one or two that readings tell: the base's line moved as a whole by one of them,
/// moved and tilted by two. The tilt goes on as far beyond the two as they lie apart, and from there on the line is only moved:
/// of two readings side by side the errors would otherwise grow all along the neck.
#[derive(Clone, Debug)]
pub(super) struct Follow {
    /// The base's line at every station.
    base: Vec<f64>,
}

impl Follow {
    /// `None` where no number goes along: all are told by readings, or none.
    pub fn new(knots: &Knots, base: Vec<f64>) -> Option<Self> {
        let made = knots.made.iter().filter(|made| **made).count();
        ((1..=2).contains(&made) && made < knots.len() && base.len() == knots.len()).then_some(Self { base })
    }

    /// Sets the thicknesses that go along.
    pub fn set(&self, knots: &Knots, values: &mut [f64]) {
        let mut off = (0..knots.len().min(values.len()))
            .filter(|k| knots.made[*k])
            .map(|k| (knots.x[k], values[k] - self.base[k]));
        let Some((x0, first)) = off.next() else { return };
        let (x1, last) = off.next().unwrap_or((x0, first));
        let apart = x1 - x0;
        let slope = if apart > 0.0 { (last - first) / apart } else { 0.0 };
        for (k, value) in values.iter_mut().enumerate().take(knots.len()) {
            if !knots.made[k] {
                let x = knots.x[k].max(x0 - apart).min(x1 + apart);
                *value = self.base[k] + first + slope * (x - x0);
            }
        }
    }
}
