//! What a number may be, and why.

use alloc::format;
use alloc::string::String;

use super::fault::{exactly, plain};
use super::{Fault, Kind};

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

    /// The fault of a `value` outside the bounds, and `None` for one within.
    #[must_use]
    pub fn fault(&self, path: &str, value: f64, unit: &'static str) -> Option<Fault> {
        if self.contains(value) {
            return None;
        }
        if !value.is_finite() {
            let fault = Fault::new(Kind::OutOfRange, path, "not a finite number").value(value, unit);
            return Some(fault.range(self.lowest, self.highest).remedy("give a number within the range"));
        }
        let with_unit =
            |bound: f64| if unit.is_empty() { plain(bound) } else { format!("{} {unit}", plain(bound)) };
        let nearest = if value < self.lowest {
            format!("give {} or more", with_unit(self.lowest))
        } else {
            format!("give {} or less", with_unit(self.highest))
        };
        // Inches given as bare numbers are the commonest slip: 1.69 for a nut.
        let inches = if unit == "mm" && 0.0 < value && value < self.lowest && self.contains(value * 25.4) {
            format!(", or \"{} in\" if inches are meant", exactly(value))
        } else {
            String::new()
        };
        Some(
            Fault::new(Kind::OutOfRange, path, self.why)
                .value(exactly(value), unit)
                .range(self.lowest, self.highest)
                .remedy(nearest + &inches),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    const WIDTH: Bound = Bound { lowest: 15.0, highest: 120.0, why: "a hand is only so wide" };

    #[test]
    fn both_ends_are_allowed_and_no_number_is_not() {
        for (value, within) in [
            (15.0, true),
            (120.0, true),
            (60.0, true),
            (f64::from_bits(15.0_f64.to_bits() - 1), false),
            (f64::from_bits(120.0_f64.to_bits() + 1), false),
            (f64::NAN, false),
            (f64::INFINITY, false),
            (f64::NEG_INFINITY, false),
        ] {
            assert_eq!(WIDTH.contains(value), within, "{value}");
            assert_eq!(WIDTH.fault("nut.width", value, "mm").is_none(), within, "{value}");
        }
    }

    #[test]
    fn the_fault_says_value_unit_range_reason_and_remedy() {
        let message = |value: f64, unit| WIDTH.fault("nut.width", value, unit).unwrap().to_string();
        assert_eq!(
            message(130.0, "mm"),
            "nut.width = 130 mm: a hand is only so wide (allowed: 15 to 120 mm); give 120 mm or less"
        );
        assert_eq!(
            message(1.69, "mm"),
            "nut.width = 1.69 mm: a hand is only so wide (allowed: 15 to 120 mm); give 15 mm or more, or \"1.69 in\" if inches are meant"
        );
        assert_eq!(
            message(1.69, ""),
            "nut.width = 1.69: a hand is only so wide (allowed: 15 to 120); give 15 or more"
        );
        assert_eq!(
            message(f64::NAN, "mm"),
            "nut.width = NaN mm: not a finite number (allowed: 15 to 120 mm); give a number within the range"
        );
        // A value just outside must not look like the bound itself.
        assert!(
            message(f64::from_bits(15.0_f64.to_bits() - 1), "mm")
                .starts_with("nut.width = 14.999999999999998 mm")
        );
        assert!(message(1e300, "mm").starts_with("nut.width = 1e300 mm"));
    }
}
