//! What a refusal offers: a range that is told in few digits, and either end of which is accepted.

use alloc::format;
use alloc::string::String;

use crate::measure::Fault;
use crate::spec::Stock;

/// A size may miss what is needed by as much and still be enough, mm.
pub(super) const ROUNDING_MM: f64 = 1e-9;

/// Sizes of timber are told in tenths where they can be.
pub(super) const TENTHS: f64 = 10.0;

/// Allowances in ten-thousandths, as those of the grits are.
pub(super) const TEN_THOUSANDTHS: f64 = 1e4;

/// A range of lengths that a field may be given, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Offer {
    pub least: f64,
    /// `None` where nothing bounds it but the field.
    pub most: Option<f64>,
}

impl Offer {
    /// What a field may be given of what would do, rounded inward in steps of so many to a mm, or finer where there is no
    /// such step between; `None` where nothing that the field takes would do.
    pub fn new(path: &str, [least, most]: [f64; 2], steps: f64) -> Option<Self> {
        let rows = Stock::bounds();
        let bound = rows.iter().find(|row| row.path == path).map(|row| (row.lowest, row.highest));
        let (lowest, highest) = bound.unwrap_or_default();
        let [lowest, highest] = [lowest.unwrap_or(0.0), highest.unwrap_or(f64::INFINITY)];
        // What rounding adds to a size asks for no more, and half of what is let pass is left for this very sum.
        let slack = 0.5 * ROUNDING_MM;
        let from = least.max(lowest);
        let inward =
            |to: f64, n: f64| [libm::ceil((from - slack) * n) / n, libm::floor((to + slack) * n) / n];
        let found = [steps, 1e3 * steps, 1e6 * steps]
            .into_iter()
            .map(|n| inward(most.min(highest), n))
            .find(|[a, b]| a <= b)?;
        Some(Self { least: found[0], most: (most < highest).then_some(found[1]) })
    }

    /// Its range, of a fault.
    pub fn of(self, fault: Fault) -> Fault {
        fault.range(self.least, self.most)
    }

    /// After "a piece", "a blank", "stock".
    pub fn words(self) -> String {
        match self.most {
            None => format!("of {} mm or more", self.least),
            Some(most) if most > self.least => format!("from {} to {most} mm", self.least),
            Some(most) => format!("of {most} mm"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ends(path: &str, range: [f64; 2], steps: f64) -> Option<(f64, Option<f64>)> {
        Offer::new(path, range, steps).map(|offer| (offer.least, offer.most))
    }

    #[test]
    fn both_ends_lie_in_the_range_and_in_the_field_s_bounds() {
        let open = f64::INFINITY;
        assert_eq!(ends("thickness", [21.64, 24.5], TENTHS), Some((21.7, Some(24.5))));
        assert_eq!(ends("thickness", [21.7 + 4e-10, 24.5 - 4e-10], TENTHS), Some((21.7, Some(24.5))));
        assert_eq!(ends("thickness", [21.7 + 2e-9, 24.5 - 2e-9], TENTHS), Some((21.8, Some(24.4))));
        assert_eq!(ends("thickness", [3.0, open], TENTHS), Some((8.0, None)));
        assert_eq!(ends("thickness", [30.0, 250.0], TENTHS), Some((30.0, None)));
        assert_eq!(ends("thickness", [200.1, open], TENTHS), None);
        assert_eq!(ends("thickness", [21.0, 20.0], TENTHS), None);
        // No tenth lies between.
        assert_eq!(ends("thickness", [19.83, 19.87], TENTHS), Some((19.83, Some(19.87))));
        assert_eq!(ends("thickness", [19.8, 19.8], TENTHS), Some((19.8, Some(19.8))));
    }

    #[test]
    fn a_range_in_words() {
        let words = |range| Offer::new("thickness", range, TENTHS).map(Offer::words);
        assert_eq!(words([21.64, f64::INFINITY]).as_deref(), Some("of 21.7 mm or more"));
        assert_eq!(words([17.5, 30.14]).as_deref(), Some("from 17.5 to 30.1 mm"));
        assert_eq!(words([19.72, 19.86]).as_deref(), Some("of 19.8 mm"));
    }
}
