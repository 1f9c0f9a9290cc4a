//! A temperament given fret by fret, in cents or in ratios.

use alloc::format;
use alloc::vec::Vec;

use super::double::Double;
use super::positions::halved;
use crate::measure::{Error, Fault, Kind};

/// The most entries of a table.
const MOST: usize = 99;
/// The highest entry: eight octaves.
const HIGHEST_CENTS: f64 = 9600.0;
const HIGHEST_RATIO: f64 = 256.0;

/// Cents above the open string and the part of the string left, for the nut and then for each fret.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Table {
    cents: Vec<f64>,
    left: Vec<Double>,
    /// Octaves after which the table begins again; 0 where it does not.
    octaves: u32,
}

impl Table {
    pub(super) fn from_cents(entries: &[f64], path: &str) -> Result<Self, Error> {
        check(entries, path, "cents", (0.0, HIGHEST_CENTS))?;
        let mut table = Self::of_the_nut(entries.len());
        for &cents in entries {
            // 1 - 2^(-c/1200) is what the fret takes off; kept beside the 1, it loses nothing when it is small.
            let taken = -libm::expm1(-cents * core::f64::consts::LN_2 / 1200.0);
            table.push(cents, Double::ONE.plus(Double::new(-taken)));
        }
        let octaves = table.cents[entries.len()] / 1200.0;
        Ok(table.repeated_after(octaves))
    }

    pub(super) fn from_ratios(entries: &[f64], path: &str) -> Result<Self, Error> {
        check(entries, path, "", (1.0, HIGHEST_RATIO))?;
        let mut table = Self::of_the_nut(entries.len());
        for &ratio in entries {
            table.push(1200.0 * libm::log2(ratio), Double::quotient(1.0, ratio));
        }
        let last = entries[entries.len() - 1];
        let (half, exponent) = libm::frexp(last);
        Ok(table.repeated_after(if half == 0.5 { f64::from(exponent - 1) } else { 0.5 }))
    }

    fn of_the_nut(entries: usize) -> Self {
        let mut table = Self {
            cents: Vec::with_capacity(entries + 1),
            left: Vec::with_capacity(entries + 1),
            octaves: 0,
        };
        table.push(0.0, Double::ONE);
        table
    }

    fn push(&mut self, cents: f64, left: Double) {
        self.cents.push(cents);
        self.left.push(left);
    }

    fn repeated_after(mut self, octaves: f64) -> Self {
        if octaves >= 1.0 && octaves == libm::floor(octaves) {
            self.octaves = octaves as u32;
        }
        self
    }

    fn entries(&self) -> u32 {
        self.cents.len() as u32 - 1
    }

    /// The last fret the table knows of; none where it repeats itself.
    pub(super) fn last_fret(&self) -> Option<u32> {
        (self.octaves == 0).then_some(self.entries())
    }

    /// Octaves passed and the entry within the table; the fret must be known.
    fn place(&self, fret: u32) -> (u32, usize) {
        if self.octaves == 0 {
            return (0, fret.min(self.entries()) as usize);
        }
        (fret / self.entries() * self.octaves, (fret % self.entries()) as usize)
    }

    pub(super) fn left(&self, fret: u32) -> Double {
        let (octaves, entry) = self.place(fret);
        self.left[entry].scaled(halved(octaves))
    }

    pub(super) fn cents(&self, fret: u32) -> f64 {
        let (octaves, entry) = self.place(fret);
        1200.0 * f64::from(octaves) + self.cents[entry]
    }

    /// Cents from this fret to the next; past the end of a table that does not repeat, as far as the last two lie apart.
    pub(super) fn step(&self, fret: u32) -> f64 {
        let (_, entry) = self.place(fret);
        let entry = entry.min(self.entries() as usize - 1);
        self.cents[entry + 1] - self.cents[entry]
    }

    /// The real fret number so many cents up; none past the end.
    pub(super) fn fret_of_cents(&self, cents: f64) -> Option<f64> {
        let period = 1200.0 * f64::from(self.octaves);
        let rounds = if self.octaves == 0 { 0.0 } else { libm::floor(cents / period) };
        let cents = cents - rounds * period;
        let above = self.cents.partition_point(|&c| c <= cents).max(1);
        if above == self.cents.len() {
            // The last fret's own position comes back a few units in the last place off.
            let over = cents - self.cents[above - 1];
            return (over <= 1e-9).then(|| (rounds + 1.0) * f64::from(self.entries()));
        }
        let (low, high) = (self.cents[above - 1], self.cents[above]);
        let entry = (above - 1) as f64 + (cents - low) / (high - low);
        Some(rounds * f64::from(self.entries()) + entry)
    }
}

/// Entries must rise from above the nut's.
fn check(entries: &[f64], path: &str, unit: &'static str, (nut, highest): (f64, f64)) -> Result<(), Error> {
    let mut faults = Vec::new();
    if entries.is_empty() {
        faults.push(
            Fault::new(Kind::Missing, path, "a table needs at least one fret").remedy("give its frets"),
        );
    }
    if entries.len() > MOST {
        let fault = Fault::new(Kind::TooLarge, path, "more entries than a table may have");
        faults.push(fault.value(entries.len(), "entries").range(1.0, MOST as f64));
    }
    let mut before = nut;
    for (i, &entry) in entries.iter().take(MOST).enumerate() {
        let path = format!("{path}[{i}]");
        if !(nut..=highest).contains(&entry) {
            let fault = Fault::new(Kind::OutOfRange, path, "not an interval above the open string");
            faults.push(fault.value(entry, unit).range(nut, highest));
        } else if entry <= before {
            let reason = match i {
                0 => "not above the open string".into(),
                _ => format!("not above the one before it, {before}"),
            };
            let fault = Fault::new(Kind::Geometry, path, reason);
            faults.push(
                fault.value(entry, unit).remedy("give the frets in rising order, without the open string"),
            );
        } else {
            before = entry;
        }
    }
    Error::unless_none(faults)
}
