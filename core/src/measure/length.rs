//! Lengths: millimetres inside, whatever the workshop writes outside.

use alloc::boxed::Box;
use alloc::string::ToString;

use super::exact::{Exact, Trouble, quantity};
use super::{Error, Fault, Sixtyfourths};

const REMEDY: &str = "write it like 43, \"43 mm\", \"4.3 cm\", \"1 11/16 in\" or \"0.86 in\"";

/// A length in millimetres.
///
/// It may hold any `f64`; a specification only lets finite values within their bounds through.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
pub struct Length {
    mm: f64,
}

impl Length {
    /// A length of `mm` millimetres that come from anywhere.
    ///
    /// # Errors
    /// - [`Kind::OutOfRange`](super::Kind::OutOfRange): not a number, or more than a kilometre either way.
    pub fn try_from_mm(mm: f64) -> Result<Self, Error> {
        if (-Self::FURTHEST_MM..=Self::FURTHEST_MM).contains(&mm) {
            return Ok(Self { mm });
        }
        let fault = Fault::new(super::Kind::OutOfRange, "length_mm", "no length of a workshop");
        let fault = fault.value(mm, "mm").range(-Self::FURTHEST_MM, Self::FURTHEST_MM);
        Err(fault.remedy("give a number of millimetres").into())
    }

    const FURTHEST_MM: f64 = 1e6;

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

    /// Reads a length as a builder writes it.
    ///
    /// A number is a decimal (`4.3`, `.5`), a fraction (`11/16`) or a mixed number (`1 11/16`, `1-11/16`),
    /// with a minus before it or not. Units: `mm`, `cm`, `m`, `in`, `inch`, `inches`, `"` and `″`; a decimal
    /// without a unit is in millimetres. Spaces around the number and the unit don't matter.
    ///
    /// The number is taken exactly, one inch being 25.4 mm, and rounded once to the nearest `f64`.
    ///
    /// ```
    /// # use neckwright::measure::Length;
    /// assert_eq!(Length::parse("25 1/2 in")?.mm(), 647.7);
    /// assert_eq!(Length::parse("4.3 cm")?.mm(), 43.0);
    /// assert!(Length::parse("1 11/16").is_err(), "a fraction needs its unit");
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
        let trouble = |trouble: Trouble| trouble.fault(text, "a length", REMEDY);
        let number = quantity(text).map_err(trouble)?;
        let (above, below) = match number.rest {
            "" if number.fraction => return Err(trouble(Trouble::UnitMissing)),
            "" | "mm" => (1, 1),
            "cm" => (10, 1),
            "m" => (1000, 1),
            "in" | "inch" | "inches" | "\"" | "\u{2033}" => (127, 5),
            _ => return Err(trouble(Trouble::Rest)),
        };
        number.value.times(above, below).map(|exact| Self { mm: exact.to_f64() }).map_err(trouble)
    }

    /// The length of `whole` and `numerator`/`denominator` inches; the sign of `whole` holds for both.
    ///
    /// It is the nearest `f64` to the exact value in millimetres.
    ///
    /// # Errors
    /// - [`Kind::Unreadable`](super::Kind::Unreadable) where `denominator` is 0.
    pub fn from_inches(whole: i64, numerator: u32, denominator: u32) -> Result<Self, Error> {
        Exact::mixed(whole < 0, whole.unsigned_abs().into(), numerator.into(), denominator.into())
            .and_then(|exact| exact.times(127, 5))
            .map(|exact| Self { mm: exact.to_f64() })
            .map_err(|trouble| {
                let mut fault = trouble.fault("", "a length", "give a denominator of 1 or more");
                fault.path = "denominator".into();
                fault.value = denominator.to_string();
                Error::from(*fault)
            })
    }

    /// The length in inches, within one unit in the last place.
    ///
    /// Decimal inches of up to 15 digits that were [read](Self::parse) come back as they were written, once
    /// they are rounded to 15 digits again.
    #[must_use]
    pub fn inches(self) -> f64 {
        // The number 25.4 is a hair less than an inch has millimetres. So is a length that was given as 25.4,
        // and this way it is 1 inch; divided exactly it would be 0.9999999999999999.
        self.mm / 25.4
    }

    /// The nearest 64th of an inch, and how far off it is.
    #[must_use]
    pub fn nearest_64th(self) -> Sixtyfourths {
        Sixtyfourths::rounded(self, libm::round)
    }

    /// The least 64th of an inch that is not shorter, but for what rounding leaves of a length given in 64ths.
    #[must_use]
    pub fn ceil_64th(self) -> Sixtyfourths {
        Sixtyfourths::rounded(self, |count| libm::ceil(count - Sixtyfourths::SAME))
    }

    /// The greatest 64th of an inch that is not longer, but for what rounding leaves of a length given in 64ths.
    #[must_use]
    pub fn floor_64th(self) -> Sixtyfourths {
        Sixtyfourths::rounded(self, |count| libm::floor(count + Sixtyfourths::SAME))
    }
}

#[cfg(test)]
mod tests {
    use super::super::Kind;
    use super::*;
    use crate::seeded::seeded;
    use alloc::format;
    use alloc::string::String;
    use proptest::prelude::*;

    fn mm(text: &str) -> f64 {
        Length::parse(text).unwrap_or_else(|error| panic!("{error}")).mm()
    }

    #[test]
    fn every_way_of_writing_a_length() {
        for (text, expected) in [
            ("43", 43.0),
            ("43 mm", 43.0),
            ("43mm", 43.0),
            ("  43.0  mm ", 43.0),
            ("4.3 cm", 43.0),
            ("0.043 m", 43.0),
            (".5", 0.5),
            ("5.", 5.0),
            ("1 in", 25.4),
            ("1 inch", 25.4),
            ("2 inches", 50.8),
            ("1\"", 25.4),
            ("1\u{2033}", 25.4),
            ("0.86 in", 21.844),
            ("0.90 in", 22.86),
            ("11/16 in", 17.4625),
            ("1 11/16 in", 42.8625),
            ("1-11/16\"", 42.8625),
            ("1  11/16\u{a0}in", 42.8625),
            ("1/8 in", 3.175),
            ("25 1/2 in", 647.7),
            ("25.5 in", 647.7),
            ("1/3 mm", 1.0 / 3.0),
            ("-3 mm", -3.0),
            ("\u{2212}3 mm", -3.0),
            ("-1 1/2 in", -38.1),
            ("0", 0.0),
        ] {
            assert_eq!(mm(text), expected, "{text}");
        }
        assert!(mm("-0").is_sign_negative());
    }

    #[test]
    fn millimetres_from_anywhere_are_numbers_or_a_fault() {
        assert_eq!(Length::try_from_mm(-43.0), Ok(Length::from_mm(-43.0)));
        for nonsense in [f64::NAN, f64::INFINITY, -1.1e6] {
            let error = Length::try_from_mm(nonsense).unwrap_err();
            let fault = &error.faults()[0];
            assert_eq!((fault.kind, &*fault.path, fault.unit), (Kind::OutOfRange, "length_mm", "mm"));
            assert_eq!(
                (&*fault.value, fault.lowest, fault.highest),
                (&*nonsense.to_string(), Some(-1e6), Some(1e6))
            );
            assert!(!fault.remedy.is_empty());
        }
    }

    #[test]
    fn what_is_not_a_length_says_why() {
        for (text, kind, message) in [
            (
                "",
                Kind::Unreadable,
                "\"\": not a length: the text is empty; write it like 43, \"43 mm\", \"4.3 cm\", \"1 11/16 in\" or \"0.86 in\"",
            ),
            (
                "wide",
                Kind::Unreadable,
                "\"wide\": not a length: it does not begin with a number; write it like 43, \"43 mm\", \"4.3 cm\", \"1 11/16 in\" or \"0.86 in\"",
            ),
            (
                "3 ft",
                Kind::Unreadable,
                "\"3 ft\": not a length: what follows the number has no meaning here; write it like 43, \"43 mm\", \"4.3 cm\", \"1 11/16 in\" or \"0.86 in\"",
            ),
            (
                "4,3 cm",
                Kind::Unreadable,
                "\"4,3 cm\": not a length: a decimal comma can't be told from a list; write a decimal point",
            ),
            (
                "1 11/16",
                Kind::Unreadable,
                "\"1 11/16\": not a length: a fraction without a unit could be inches or millimetres; add the unit, as in \"11/16 in\"",
            ),
            (
                "1/0 in",
                Kind::Unreadable,
                "\"1/0 in\": not a length: the number below the fraction's bar is 0; write it like 43, \"43 mm\", \"4.3 cm\", \"1 11/16 in\" or \"0.86 in\"",
            ),
        ] {
            let error = Length::parse(text).unwrap_err();
            assert_eq!(error.to_string(), message);
            assert_eq!(error.faults()[0].kind, kind, "{text}");
            assert_eq!(error.faults()[0].path, "", "{text}");
        }
        for text in [
            "NaN",
            "inf",
            "1e3",
            "+3",
            "--3",
            "- 3",
            ".",
            "mm",
            "1 in in",
            "1 2 in",
            "1/2/3 in",
            "1.5/2 in",
            "1--1/2 in",
            "1 -1/2 in",
            "1- 1/2 in",
            "11/16in x",
            "0x10",
            "1_000",
        ] {
            assert!(Length::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn too_many_digits_are_refused_and_not_wrapped() {
        let nines = "9".repeat(39);
        for text in [
            nines.clone(),
            format!("{nines} in"),
            format!("0.{nines} in"),
            format!("{nines}/{nines} in"),
            format!("{nines} 1/{nines} in"),
        ] {
            let error = Length::parse(&text).unwrap_err();
            assert_eq!(error.faults()[0].kind, Kind::Unreadable, "{text}");
            assert_eq!(error.faults()[0].remedy, "give fewer digits", "{text}");
        }
        assert_eq!(mm(&format!("0.5{}", "0".repeat(60))), 0.5);
        assert_eq!(mm(&format!("{}5", "0".repeat(60))), 5.0);
        let error = Length::parse(&"1".repeat(101)).unwrap_err();
        assert_eq!(error.faults()[0].kind, Kind::TooLarge);
        assert!(error.faults()[0].value.chars().count() < 50, "a long text is cut short");
    }

    #[test]
    fn inches_by_parts() {
        assert_eq!(Length::from_inches(25, 1, 2).unwrap().mm(), 647.7);
        assert_eq!(Length::from_inches(-1, 1, 2).unwrap().mm(), -38.1);
        assert_eq!(Length::from_inches(i64::MIN, u32::MAX, 1).unwrap().mm(), -2.342_736_498_452_034_7e20);
        let error = Length::from_inches(1, 1, 0).unwrap_err();
        assert_eq!(
            error.to_string(),
            "denominator = 0: not a length: the number below the fraction's bar is 0; give a denominator of 1 or more"
        );
    }

    /// The nearest `f64` above a positive one.
    fn next(value: f64) -> f64 {
        f64::from_bits(value.to_bits() + 1)
    }

    #[test]
    fn every_128th_of_an_inch_up_to_60_in_comes_back() {
        for n in 1..=60 * 128_u32 {
            let exact = f64::from(n) / 128.0;
            let inches = Length::from_inches(0, n, 128).unwrap().inches();
            // One rounding on the way to millimetres, one on the way back.
            assert!(inches <= next(exact) && exact <= next(inches), "{exact} came back as {inches}");
        }
    }

    #[test]
    fn inches_of_any_size() {
        for (mm, inches) in [
            (0.0, 0.0),
            (25.4, 1.0),
            (-25.4, -1.0),
            (50.8, 2.0),
            (12.7, 0.5),
            (f64::INFINITY, f64::INFINITY),
            (f64::NEG_INFINITY, f64::NEG_INFINITY),
        ] {
            assert_eq!(Length::from_mm(mm).inches(), inches, "{mm} mm");
        }
        assert!(Length::from_mm(f64::NAN).inches().is_nan());
    }

    /// A decimal of up to 30 digits.
    fn decimal() -> impl Strategy<Value = String> {
        ("[0-9]{1,15}", "[0-9]{0,15}").prop_map(|(whole, rest)| format!("{whole}.{rest}"))
    }

    proptest! {
        #![proptest_config(seeded(256))]

        #[test]
        fn millimetres_are_read_as_rust_reads_them(text in decimal(), minus in any::<bool>()) {
            let text = if minus { format!("-{text}") } else { text };
            prop_assert_eq!(mm(&format!("{text} mm")).to_bits(), text.parse::<f64>().unwrap().to_bits());
            prop_assert_eq!(mm(&text).to_bits(), text.parse::<f64>().unwrap().to_bits());
        }

        #[test]
        fn centimetres_and_metres_are_millimetres_with_the_point_moved(text in "[0-9]{1,12}\\.[0-9]{3,12}") {
            let (whole, rest) = text.split_once('.').unwrap();
            let moved = |by: usize| format!("{whole}{}.{}", &rest[..by], &rest[by..]).parse::<f64>().unwrap();
            prop_assert_eq!(mm(&format!("{text} cm")), moved(1));
            prop_assert_eq!(mm(&format!("{text} m")), moved(3));
        }

        #[test]
        fn one_length_in_all_its_forms(whole in 0_u32..100, above in 0_u32..128, below in 1_u32..129) {
            let expected = Length::from_inches(whole.into(), above, below).unwrap().mm();
            for unit in ["in", "\"", "inches", " in ", "\u{2033}"] {
                prop_assert_eq!(mm(&format!("{whole} {above}/{below}{unit}")), expected);
                prop_assert_eq!(mm(&format!("{whole}-{above}/{below} {unit}")), expected);
                prop_assert_eq!(mm(&format!("{}/{below}{unit}", whole * below + above)), expected);
            }
        }

        #[test]
        fn decimal_inches_come_back(digits in 1_u64..1_000_000_000_000_000, places in 0_i32..12) {
            let text = format!("{digits}e-{places}");
            let inches: f64 = text.parse().unwrap();
            let (whole, rest) = (digits / 10_u64.pow(places as u32), digits % 10_u64.pow(places as u32));
            let back = Length::parse(&format!("{whole}.{rest:0width$} in", width = places as usize)).unwrap().inches();
            prop_assert_eq!(format!("{back:.14e}").parse::<f64>().unwrap(), inches, "{}", text);
        }

        #[test]
        fn inches_are_within_a_unit_in_the_last_place(size in -20_i32..20, digits in 1.0..2.0) {
            let mm: f64 = digits * 2_f64.powi(size);
            let inches = Length::from_mm(mm).inches();
            // mm·5 - inches·127 without rounding, but for the sum of two tiny parts.
            let product = mm * 5.0;
            let rest = libm::fma(-inches, 127.0, product) + libm::fma(mm, 5.0, -product);
            prop_assert!((rest / 127.0).abs() <= next(inches) - inches, "{mm} mm is not {inches} in");
        }
    }
}
