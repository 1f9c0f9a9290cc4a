//! Angles: degrees inside, degrees or a slope outside.

use core::f64::consts::PI;

use alloc::boxed::Box;

use super::exact::{Trouble, quantity};
use super::{Error, Fault};

const REMEDY: &str = "write it like 10, \"10 deg\", \"10\u{b0}\" or \"1 in 6\"";

/// An angle in degrees.
///
/// It may hold any `f64`; a specification only lets finite values within their bounds through.
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

    /// Reads an angle: degrees (`10`, `10 deg`, `10 degrees`, `10°`) or a slope (`1 in 6`, one up for six
    /// along). Numbers are written as for [`Length::parse`](super::Length::parse).
    ///
    /// Degrees are the nearest `f64`; a slope's angle is within two units in the last place.
    ///
    /// ```
    /// # use neckwright::measure::Angle;
    /// assert_eq!(Angle::parse("10°")?.deg(), 10.0);
    /// assert!((Angle::parse("1 in 6")?.deg() - 9.4623).abs() < 1e-4);
    /// # Ok::<(), neckwright::measure::Error>(())
    /// ```
    ///
    /// # Errors
    /// - [`Kind::Unreadable`](super::Kind::Unreadable) for anything else, with an empty path.
    /// - [`Kind::TooLarge`](super::Kind::TooLarge) for a text of more than 100 bytes.
    pub fn parse(text: &str) -> Result<Self, Error> {
        Self::read(text).map_err(|fault| Error::from(*fault))
    }

    pub(crate) fn read(text: &str) -> Result<Self, Box<Fault>> {
        let trouble = |trouble: Trouble| trouble.fault(text, "an angle", REMEDY);
        let number = quantity(text).map_err(trouble)?;
        let deg = match number.rest {
            "" | "deg" | "degree" | "degrees" | "\u{b0}" => number.value.to_f64(),
            rest => {
                let along = rest.strip_prefix("in").filter(|along| along.starts_with(char::is_whitespace));
                let along = quantity(along.ok_or_else(|| trouble(Trouble::Rest))?).map_err(trouble)?;
                if !along.rest.is_empty() {
                    return Err(trouble(Trouble::Rest));
                }
                let slope = number.value.over(along.value).map_err(trouble)?;
                libm::atan(slope.to_f64()) * 180.0 / PI
            }
        };
        Ok(Self { deg })
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
    fn every_way_of_writing_an_angle() {
        for (text, expected) in [
            ("10", 10.0),
            ("10 deg", 10.0),
            ("10deg", 10.0),
            ("1 degree", 1.0),
            ("10.5 degrees", 10.5),
            (" 10\u{b0} ", 10.0),
            ("9 1/2 deg", 9.5),
            ("1 in 1", 45.0),
            ("-1 in 1", -45.0),
            ("0 in 6", 0.0),
        ] {
            assert_eq!(Angle::parse(text).unwrap().deg(), expected, "{text}");
        }
        // atan(1/6)·180/π and atan(1/10)·180/π, computed with 30 digits.
        for (text, expected) in [("1 in 6", 9.462_322_208_025_617), ("1 in 10", 5.710_593_137_499_643)] {
            let deg = Angle::parse(text).unwrap().deg();
            assert!((deg - expected).abs() <= 2.0 * f64::EPSILON * 8.0, "{text}: {deg}");
        }
    }

    #[test]
    fn what_is_not_an_angle_says_why() {
        let error = Angle::parse("steep").unwrap_err();
        assert_eq!(
            error.to_string(),
            "\"steep\": not an angle: it does not begin with a number; write it like 10, \"10 deg\", \"10\u{b0}\" or \"1 in 6\""
        );
        for text in
            ["", "10 rad", "1 in 0", "1 in", "1 in x", "1in6", "1 in 6 in 7", "10 mm", "NaN", "1:6", "4,5"]
        {
            assert!(Angle::parse(text).is_err(), "{text}");
        }
    }

    proptest! {
        #![proptest_config(seeded(256))]

        #[test]
        fn degrees_are_read_as_rust_reads_them(deg in -90.0..90.0) {
            for unit in ["", " deg", "\u{b0}"] {
                prop_assert_eq!(Angle::parse(&format!("{deg:.12}{unit}")).unwrap().deg(), format!("{deg:.12}").parse::<f64>().unwrap());
            }
        }

        #[test]
        fn a_slope_and_its_inverse_make_a_right_angle(up in 1_u32..1000, along in 1_u32..1000) {
            let one = Angle::parse(&format!("{up} in {along}")).unwrap().deg();
            let other = Angle::parse(&format!("{along} in {up}")).unwrap().deg();
            prop_assert!((one + other - 90.0).abs() < 1e-12);
        }
    }
}
