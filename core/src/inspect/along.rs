//! Where along the neck, in the bench's words.

use alloc::format;
use alloc::string::String;

use crate::shape::Neck;

/// A station nearer to the nut than this is the nut, mm: a tenth of the first fret is several times as far.
const AT_NUT_MM: f64 = 0.5;

/// A station as the bench calls it: the nut within half a millimetre, a fret where one is within a tenth of its number, else
/// the two it lies between, and how far it is from the nut.
pub(crate) fn station_words(neck: &Neck, x: f64) -> String {
    let tenth = libm::round(x * 10.0) / 10.0 + 0.0;
    match spot(neck, x) {
        Spot::Named(name) => name,
        Spot::Between(frets) => format!("{frets}, {tenth} mm from the nut"),
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
    let [a, b] = [from, to].map(|x| match spot(neck, x) {
        Spot::Named(name) => name,
        Spot::Between(frets) => frets,
        Spot::Behind => format!("{} mm behind the nut", libm::round(-x)),
        Spot::Beyond => format!("{} mm from the nut", libm::round(x)),
    });
    if a == b { a } else { format!("from {a} to {b}") }
}

enum Spot {
    Named(String),
    Between(String),
    Behind,
    Beyond,
}

fn spot(neck: &Neck, x: f64) -> Spot {
    if libm::fabs(x) <= AT_NUT_MM {
        return Spot::Named("the nut".into());
    }
    match neck.fret_at(x) {
        Ok(fret) if fret >= 0.0 && fret.is_finite() => {
            let (near, below) = (libm::round(fret), libm::floor(fret) as u32);
            if near == 0.0 || libm::fabs(fret - near) > 0.1 {
                return Spot::Between(if below == 0 {
                    "between the nut and fret 1".into()
                } else {
                    format!("between frets {below} and {}", below.saturating_add(1))
                });
            }
            Spot::Named(format!("fret {}", near as u32))
        }
        _ if x < 0.0 => Spot::Behind,
        _ => Spot::Beyond,
    }
}
