//! Stations: positions along the neck's centreline.

use core::fmt;

use alloc::boxed::Box;
use alloc::string::ToString;

use super::exact::{MAX_MEASURE_BYTES, Trouble};
use super::{Bound, Error, Fault, Length};

const REMEDY: &str = "write it like 120, \"120 mm\", \"4 3/4 in\", \"nut\" or \"fret 7\"";

/// A position along the centreline.
///
/// It shows as a specification writes it: `120` in millimetres, or `fret 7.5`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Station {
    /// Millimetres from the nut's fretboard side, positive toward the bridge.
    Mm(f64),
    /// A fret: 0 is the nut, 7.5 lies halfway (in number) between the seventh and the eighth.
    Fret(f64),
}

impl Station {
    /// The nut.
    pub const NUT: Self = Self::Mm(0.0);

    /// The least distance between neighbouring stations of one list, mm: nearer ones can't be told apart on
    /// the wood, and what is drawn through them would be a step.
    pub const LEAST_GAP_MM: f64 = 0.1;

    /// What a station in millimetres may be.
    pub const MM: Bound = Bound {
        lowest: -600.0,
        highest: 1500.0,
        why: "no headstock reaches further behind the nut and no neck further toward the bridge",
    };

    /// What a station given as a fret may be.
    pub const FRET: Bound = Bound {
        lowest: 0.0,
        highest: 60.0,
        why: "frets count from the nut and no neck has more than 60; behind the nut give millimetres",
    };

    /// Reads a station: any length that [`Length::parse`] reads, `nut`, or a fret: `fret 7`, `fret 7.5`. Capitals don't
    /// matter.
    ///
    /// ```
    /// # use neckwright::measure::Station;
    /// assert_eq!(Station::parse("fret 7.5")?, Station::Fret(7.5));
    /// assert_eq!(Station::parse("5 in")?, Station::Mm(127.0));
    /// assert_eq!(Station::parse("nut")?, Station::NUT);
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
        let trouble = |trouble: Trouble| trouble.fault(text, "a station", REMEDY);
        let trimmed = text.trim();
        if text.len() > MAX_MEASURE_BYTES {
            return Err(trouble(Trouble::TooLong));
        }
        if trimmed.eq_ignore_ascii_case("nut") {
            return Ok(Self::NUT);
        }
        let word = trimmed.split_at_checked(4).filter(|(word, _)| word.eq_ignore_ascii_case("fret"));
        if let Some((_, number)) = word {
            return fret(number.trim()).map(Self::Fret).map_err(trouble);
        }
        match Length::read(text) {
            Ok(length) => Ok(Self::Mm(length.mm())),
            Err(mut fault) => {
                fault.reason = fault.reason.replacen("a length", "a station", 1);
                if fault.remedy.starts_with("write it like") {
                    fault.remedy = REMEDY.to_string();
                }
                Err(fault)
            }
        }
    }
}

/// The number of a fret. An exponent is read too, because a tiny number is written with one.
fn fret(number: &str) -> Result<f64, Trouble> {
    if number.is_empty() {
        return Err(Trouble::NoNumber);
    }
    if number.contains(',') {
        return Err(Trouble::DecimalComma);
    }
    // Rust would also read "inf", "nan" and "+7".
    let plain =
        number.strip_prefix('-').unwrap_or(number).starts_with(|c: char| c.is_ascii_digit() || c == '.');
    match number.parse::<f64>() {
        Ok(fret) if plain && fret.is_finite() => Ok(fret),
        _ => Err(Trouble::NoNumber),
    }
}

impl Default for Station {
    fn default() -> Self {
        Self::NUT
    }
}

/// As in a document: a number of millimetres, or a text like `fret 7.5`.
impl serde::Serialize for Station {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Mm(mm) => serializer.serialize_f64(*mm),
            Self::Fret(_) => serializer.collect_str(self),
        }
    }
}

impl fmt::Display for Station {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mm(mm) => f.write_str(&super::fault::exactly(*mm)),
            Self::Fret(fret) => write!(f, "fret {}", super::fault::exactly(*fret)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use alloc::format;
    use proptest::prelude::*;

    #[test]
    fn every_way_of_writing_a_station() {
        for (text, expected) in [
            ("120", Station::Mm(120.0)),
            ("-60 mm", Station::Mm(-60.0)),
            ("5 in", Station::Mm(127.0)),
            ("nut", Station::Mm(0.0)),
            (" nut ", Station::Mm(0.0)),
            ("fret 7", Station::Fret(7.0)),
            ("fret  7.5 ", Station::Fret(7.5)),
            ("fret7", Station::Fret(7.0)),
            ("Fret 7", Station::Fret(7.0)),
            ("FRET 7", Station::Fret(7.0)),
            ("Nut", Station::NUT),
            ("fret 0", Station::Fret(0.0)),
            ("fret -1", Station::Fret(-1.0)),
            ("fret 5e-324", Station::Fret(5e-324)),
        ] {
            assert_eq!(Station::parse(text).unwrap(), expected, "{text}");
        }
    }

    #[test]
    fn what_is_not_a_station_says_why() {
        let like = "write it like 120, \"120 mm\", \"4 3/4 in\", \"nut\" or \"fret 7\"";
        for (text, message) in [
            ("heel", format!("\"heel\": not a station: it does not begin with a number; {like}")),
            ("fret", format!("\"fret\": not a station: it does not begin with a number; {like}")),
            ("fret 7,5", "\"fret 7,5\": not a station: a decimal comma can't be told from a list; write a decimal point".into()),
            ("7 frets", format!("\"7 frets\": not a station: what follows the number has no meaning here; {like}")),
            ("3/4", "\"3/4\": not a station: a fraction without a unit could be inches or millimetres; add the unit, as in \"11/16 in\"".into()),
        ] {
            assert_eq!(Station::parse(text).unwrap_err().to_string(), message);
        }
        for text in [
            "",
            "éfre",
            "fret inf",
            "fret nan",
            "fret +7",
            "fret --7",
            "fret 7 8",
            "frets 7",
            "fret 1e999",
            "nuts",
        ] {
            assert!(Station::parse(text).is_err(), "{text}");
        }
    }

    proptest! {
        #![proptest_config(seeded(256))]

        #[test]
        fn what_is_shown_is_read_back(bits in any::<u64>()) {
            let value = f64::from_bits(bits);
            prop_assume!(value.is_finite());
            let Station::Fret(back) = Station::parse(&Station::Fret(value).to_string()).unwrap() else {
                panic!("a fret came back in millimetres")
            };
            prop_assert_eq!(back.to_bits(), bits);
        }

        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}") {
            let _ = Station::parse(&text);
            let _ = Length::parse(&text);
            let _ = super::super::Angle::parse(&text);
        }
    }
}
