//! What a number may be, and why.

/// The least and the greatest value of a number, both allowed, and the reason for them.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Bound {
    /// Lowest value allowed.
    pub lowest: f64,
    /// Highest value allowed.
    pub highest: f64,
    /// Why the bounds are there: a short lower-case clause.
    pub why: &'static str,
}

impl Bound {
    /// Whether `value` lies within the bounds; never for a NaN.
    #[must_use]
    pub fn contains(&self, value: f64) -> bool {
        self.lowest <= value && value <= self.highest
    }
}
