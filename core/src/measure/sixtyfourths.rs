//! Lengths on an inch rule.

use core::fmt;

use super::Length;

/// A length rounded to a 64th of an inch: the nearest, halves away from zero, or the next up or down.
///
/// It shows as `1 11/16 in`, and with `{:#}` also says what the rounding did: `1 11/16 in (-0.04 mm)`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Sixtyfourths {
    // A whole number, kept as `f64` so that no length is too long for it.
    count: f64,
    error_mm: f64,
}

impl Sixtyfourths {
    /// So little beside a 64th is none: 4e-7 mm.
    pub(super) const SAME: f64 = 1e-6;

    pub(super) fn rounded(length: Length, round: impl Fn(f64) -> f64) -> Self {
        let count = round(length.inches() * 64.0);
        // 64ths of an inch are multiples of 127/320 mm.
        Self { count, error_mm: count * 127.0 / 320.0 - length.mm() }
    }

    /// How many 64ths; a whole number.
    #[must_use]
    pub const fn count(self) -> f64 {
        self.count
    }

    /// The rounded length.
    #[must_use]
    pub fn length(self) -> Length {
        Length::from_mm(self.count * 127.0 / 320.0)
    }

    /// The rounded length less the true one, in mm: at most 0.1985 either way for the nearest, less than 0.397 for others.
    #[must_use]
    pub const fn error_mm(self) -> f64 {
        self.error_mm
    }
}

impl fmt::Display for Sixtyfourths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = libm::fabs(self.count);
        let whole = libm::floor(size / 64.0);
        let (mut above, mut below) = (size - 64.0 * whole, 64.0);
        while above > 0.0 && libm::fmod(above, 2.0) == 0.0 {
            above /= 2.0;
            below /= 2.0;
        }
        if self.count < 0.0 {
            f.write_str("-")?;
        }
        match (whole > 0.0, above > 0.0) {
            (true, true) => write!(f, "{whole} {above}/{below} in"),
            (false, true) => write!(f, "{above}/{below} in"),
            _ => write!(f, "{whole} in"),
        }?;
        if f.alternate() {
            // Adding 0 makes a negative zero a plain one.
            write!(f, " ({:+.2} mm)", libm::round(self.error_mm * 100.0) / 100.0 + 0.0)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use alloc::format;
    use alloc::string::ToString;
    use proptest::prelude::*;

    #[test]
    fn shown_as_on_a_rule() {
        for (mm, plain, full) in [
            (42.8625, "1 11/16 in", "1 11/16 in (+0.00 mm)"),
            (43.0, "1 11/16 in", "1 11/16 in (-0.14 mm)"),
            (3.0, "1/8 in", "1/8 in (+0.17 mm)"),
            (50.8, "2 in", "2 in (+0.00 mm)"),
            (-42.8625, "-1 11/16 in", "-1 11/16 in (+0.00 mm)"),
            (0.0, "0 in", "0 in (+0.00 mm)"),
            (0.1, "0 in", "0 in (-0.10 mm)"),
            (0.396_875, "1/64 in", "1/64 in (+0.00 mm)"),
            (25.0, "63/64 in", "63/64 in (+0.00 mm)"),
        ] {
            let nearest = Length::from_mm(mm).nearest_64th();
            assert_eq!(nearest.to_string(), plain, "{mm}");
            assert_eq!(format!("{nearest:#}"), full, "{mm}");
        }
        assert_eq!(Length::from_mm(f64::NAN).nearest_64th().to_string(), "NaN in");
        assert_eq!(Length::from_mm(f64::INFINITY).nearest_64th().to_string(), "inf in");
    }

    proptest! {
        #![proptest_config(seeded(256))]

        #[test]
        fn the_text_is_the_length_and_the_error_is_true(mm in -2000.0..2000.0) {
            let length = Length::from_mm(mm);
            let nearest = length.nearest_64th();
            let read = Length::parse(&nearest.to_string()).unwrap();
            prop_assert_eq!(read.mm(), nearest.length().mm());
            prop_assert!((read.mm() - mm - nearest.error_mm()).abs() < 1e-12);
            prop_assert!(nearest.error_mm().abs() <= 25.4 / 128.0 + 1e-12, "half a 64th");
        }
    }
}
