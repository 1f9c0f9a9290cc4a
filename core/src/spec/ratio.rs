//! Ratios of frequencies.

/// The frequency of a stopped string over that of the open string.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Ratio {
    value: f64,
}

impl Ratio {
    /// A ratio of this value.
    #[must_use]
    pub const fn new(value: f64) -> Self {
        Self { value }
    }

    /// The ratio as a number.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }
}

impl Default for Ratio {
    /// The octave.
    fn default() -> Self {
        Self::new(2.0)
    }
}
