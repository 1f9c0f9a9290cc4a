//! Angles: degrees inside, degrees or a slope outside.

/// An angle in degrees.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
pub struct Angle {
    deg: f64,
}

impl Angle {
    /// An angle of `deg` degrees.
    #[must_use]
    pub const fn from_deg(deg: f64) -> Self {
        Self { deg }
    }

    /// The angle in degrees.
    #[must_use]
    pub const fn deg(self) -> f64 {
        self.deg
    }
}
