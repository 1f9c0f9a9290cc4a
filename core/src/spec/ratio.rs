//! Ratios of frequencies.

use alloc::boxed::Box;

use crate::measure::{Error, Fault, read_ratio};

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

    /// Reads a ratio: a number, or two with a bar or a colon between them: `1.5`, `3/2`, `3:2`.
    ///
    /// It is the nearest `f64` to the quotient.
    ///
    /// # Errors
    /// - [`Kind::Unreadable`](crate::measure::Kind::Unreadable) for anything else, with an empty path.
    /// - [`Kind::TooLarge`](crate::measure::Kind::TooLarge) for a text of more than 100 bytes.
    pub fn parse(text: &str) -> Result<Self, Error> {
        Self::read(text).map_err(|fault| Error::from(*fault))
    }

    pub(crate) fn read(text: &str) -> Result<Self, Box<Fault>> {
        read_ratio(text).map(Self::new)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use alloc::format;
    use alloc::string::ToString;
    use proptest::prelude::*;

    #[test]
    fn every_way_of_writing_a_ratio() {
        for (text, expected) in [
            ("18/17", 18.0 / 17.0),
            ("3:2", 1.5),
            ("3 : 2", 1.5),
            ("1.5", 1.5),
            ("1 1/2", 1.5),
            ("2", 2.0),
            ("1.5:0.5", 3.0),
        ] {
            assert_eq!(Ratio::parse(text).unwrap().value(), expected, "{text}");
        }
        for text in ["", "3:", ":2", "3:0", "3/0", "3:2:1", "3 to 2", "NaN", "3:2 mm"] {
            assert!(Ratio::parse(text).is_err(), "{text}");
        }
        let message = Ratio::parse("fifth").unwrap_err().to_string();
        assert_eq!(
            message,
            "\"fifth\": not a ratio: it does not begin with a number; write it like 1.5, \"3:2\" or \"18/17\""
        );
    }

    proptest! {
        #![proptest_config(seeded(256))]

        #[test]
        fn a_ratio_is_one_division(above in 1_u32.., below in 1_u32..) {
            let expected = f64::from(above) / f64::from(below);
            prop_assert_eq!(Ratio::parse(&format!("{above}/{below}")).unwrap().value(), expected);
            prop_assert_eq!(Ratio::parse(&format!("{above}:{below}")).unwrap().value(), expected);
        }
    }
}
