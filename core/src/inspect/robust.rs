//! Constants of estimates that far-off readings hardly change.

/// Tukey's constant: 95 % as sharp as least squares where all is normal (Beaton & Tukey, The fitting of power series, 1974;
/// Holland & Welsch, Robust regression using iteratively reweighted least-squares, 1977; memory).
pub(crate) const TUKEY: f64 = 4.685;
/// The median size of a standard normal number: its quantile of 3/4.
pub(crate) const MEDIAN: f64 = 0.674_489_750_196_081_7;
