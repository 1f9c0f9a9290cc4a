//! Where along the neck, in the bench's words.

use alloc::format;
use alloc::string::String;

use super::fixed::{push_tenths, push_whole};
use crate::shape::Neck;

/// A station nearer to the nut than this is the nut, mm: a tenth of the first fret is several times as far.
const AT_NUT_MM: f64 = 0.5;

/// A station as the bench calls it: the nut within half a millimetre, a fret where one is within a tenth of its number, else
/// the two it lies between, and how far it is from the nut.
pub(crate) fn station_words(neck: &Neck, x: f64) -> String {
    let mut out = String::new();
    push_station(&mut out, neck, x);
    out
}

/// Writes that.
pub(crate) fn push_station(out: &mut String, neck: &Neck, x: f64) {
    let tenths = libm::round(x * 10.0) as i64;
    let spot = Spot::of(neck, x);
    match spot {
        Spot::Nut | Spot::Fret(_) => spot.push(out),
        Spot::Between(_) => {
            spot.push(out);
            out.push_str(", ");
            push_tenths(out, tenths);
            out.push_str(" mm from the nut");
        }
        Spot::Behind => {
            push_tenths(out, -tenths);
            out.push_str(" mm behind the nut");
        }
        Spot::Beyond => {
            push_tenths(out, tenths);
            out.push_str(" mm from the nut");
        }
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
        frets => {
            let mut out = String::new();
            frets.push(&mut out);
            out
        }
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

    /// Writes its name.
    fn push(&self, out: &mut String) {
        match *self {
            Self::Nut => out.push_str("the nut"),
            Self::Fret(fret) => {
                out.push_str("fret ");
                push_whole(out, fret.into());
            }
            Self::Between(0) => out.push_str("between the nut and fret 1"),
            Self::Between(below) => {
                out.push_str("between frets ");
                push_whole(out, below.into());
                out.push_str(" and ");
                push_whole(out, below.saturating_add(1).into());
            }
            Self::Behind => out.push_str("behind the nut"),
            Self::Beyond => out.push_str("beyond the frets"),
        }
    }
}
