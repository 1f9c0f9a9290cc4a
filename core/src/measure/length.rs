//! Lengths: millimetres inside, whatever the workshop writes outside.

/// A length in millimetres.
///
/// It may hold any `f64`; a specification only lets finite values within their bounds through.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
pub struct Length {
    mm: f64,
}

impl Length {
    /// A length of `mm` millimetres.
    #[must_use]
    pub const fn from_mm(mm: f64) -> Self {
        Self { mm }
    }

    /// The length in millimetres.
    #[must_use]
    pub const fn mm(self) -> f64 {
        self.mm
    }
}
