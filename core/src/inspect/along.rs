//! Where along the neck, in the bench's words.

use alloc::format;
use alloc::string::{String, ToString};
use core::fmt::{self, Display, Formatter};

use crate::shape::Neck;

/// A station nearer to the nut than this is the nut, mm: a tenth of the first fret is several times as far.
const AT_NUT_MM: f64 = 0.5;

/// A station as the bench calls it: the nut within half a millimetre, a fret where one is within a tenth of its number, else
/// the two it lies between, and how far it is from the nut.
pub(crate) fn station_words(neck: &Neck, x: f64) -> String {
    let tenth = libm::round(x * 10.0) / 10.0 + 0.0;
    match Spot::of(neck, x) {
        named @ (Spot::Nut | Spot::Fret(_)) => named.to_string(),
        frets @ Spot::Between(_) => format!("{frets}, {tenth} mm from the nut"),
        Spot::Behind => format!("{} mm behind the nut", -tenth),
        Spot::Beyond => format!("{tenth} mm from the nut"),
    }
}

/// The same with the word before it: "at fret 5", "between frets 4 and 5, 123.4 mm from the nut".
pub(crate) fn at_station(neck: &Neck, x: f64) -> String {
    let words = station_words(neck, x);
    if words.starts_with("between") { words } else { format!("at {words}") }
}

/// From where to where along the neck, in the bench's words. The ends of a patch are seldom known to the millimetre: between
/// frets the frets are enough.
pub(crate) fn stretch_words(neck: &Neck, [from, to]: [f64; 2]) -> String {
    if from == to {
        return station_words(neck, from);
    }
    let [a, b] = [from, to].map(|x| match Spot::of(neck, x) {
        Spot::Behind => format!("{} mm behind the nut", libm::round(-x)),
        Spot::Beyond => format!("{} mm from the nut", libm::round(x)),
        frets => frets.to_string(),
    });
    if a == b { a } else { format!("from {a} to {b}") }
}

/// Where a station is among the frets.
enum Spot {
    Nut,
    Fret(u32),
    /// Between this fret, 0 for the nut, and the next.
    Between(u32),
    Behind,
    Beyond,
}

impl Spot {
    fn of(neck: &Neck, x: f64) -> Self {
        if libm::fabs(x) <= AT_NUT_MM {
            return Self::Nut;
        }
        match neck.fret_at(x) {
            Ok(fret) if fret >= 0.0 && fret.is_finite() => {
                let near = libm::round(fret);
                if near == 0.0 || libm::fabs(fret - near) > 0.1 {
                    return Self::Between(libm::floor(fret) as u32);
                }
                Self::Fret(near as u32)
            }
            _ if x < 0.0 => Self::Behind,
            _ => Self::Beyond,
        }
    }
}

impl Display for Spot {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nut => f.write_str("the nut"),
            Self::Fret(fret) => write!(f, "fret {fret}"),
            Self::Between(0) => f.write_str("between the nut and fret 1"),
            Self::Between(below) => write!(f, "between frets {below} and {}", below.saturating_add(1)),
            Self::Behind => f.write_str("behind the nut"),
            Self::Beyond => f.write_str("beyond the frets"),
        }
    }
}
