//! The rule by which frets follow one another.

use alloc::format;
use alloc::vec::Vec;

use super::double::{Double, taken_from};
use super::positions::{MAX_FRETS, check_arguments, left_of_equal};
use super::table::Table;
use crate::measure::{Error, Fault, Kind};

/// Cents of one fret by the rule of eighteen, `1200 log2(18/17)`.
const EIGHTEENTH_CENTS: f64 = 98.954_592_230_367_55;
/// `ln(17/18)`.
const LN_17_18: f64 = -0.057_158_413_839_948_61;
/// `1200 / ln 2`: cents of a natural logarithm of one.
const CENTS: f64 = 1_731.234_049_066_756_1;

/// What the rule of eighteen leaves of the string at each fret.
static EIGHTEENTHS: [Double; MAX_FRETS as usize + 1] = {
    let ratio = Double::quotient(17.0, 18.0);
    let mut left = [Double::ONE; MAX_FRETS as usize + 1];
    let mut n = 1;
    while n < left.len() {
        left[n] = left[n - 1].times(ratio);
        n += 1;
    }
    left
};

#[derive(Clone, Debug, PartialEq)]
enum Rule {
    Equal(u32),
    Eighteen,
    Table(Table),
}

/// The rule by which frets follow one another, from the nut (fret 0) on.
///
/// Fret numbers are real: between two frets the pitch goes evenly, in cents. Whole frets come from an exact path, in
/// twice the precision, so that [`position_mm`](Self::position_mm) of a whole fret has the same bits as
/// [`fret_positions_mm`](super::fret_positions_mm) has.
#[derive(Clone, Debug, PartialEq)]
pub struct Temperament {
    rule: Rule,
}

/// A fret that was put on a grid.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Rounded {
    /// The fret's number.
    pub fret: u32,
    /// Where it belongs, from the nut, mm.
    pub exact_mm: f64,
    /// The grid point nearest to that, mm; half way between two goes to the one farther from the nut.
    pub rounded_mm: f64,
    /// How much sharp (above 0) or flat (below 0) of its own pitch it then sounds.
    pub cents: f64,
}

impl Temperament {
    /// `divisions` equal parts of the octave: fret `n` leaves `2^(-n/divisions)` of the string.
    ///
    /// # Errors
    /// - `divisions` outside 1..=99.
    pub fn equal(divisions: u32) -> Result<Self, Error> {
        check_arguments(1.0, 0, divisions)?;
        Ok(Self { rule: Rule::Equal(divisions) })
    }

    /// The rule of eighteen of the old workshops: each fret takes off one eighteenth of the string that is left, so that
    /// the interval is 18:17, 98.95 cents. Twelve of them fall 12.5 cents short of the octave. For replicas.
    #[must_use]
    pub const fn rule_of_eighteen() -> Self {
        Self { rule: Rule::Eighteen }
    }

    /// Frets at so many cents above the open string, fret 1 first.
    ///
    /// Where the last entry is a whole number of octaves, the table begins again from there for as many frets as are
    /// wanted; any other table knows no more frets than it has entries.
    ///
    /// # Errors
    /// - no entry, or more than 99;
    /// - entries outside 0..=9600 or not rising from above 0. Paths are `cents[0]` and so on.
    pub fn from_cents(cents: &[f64]) -> Result<Self, Error> {
        Self::from_cents_at(cents, "cents")
    }

    /// Frets at such frequency ratios to the open string, fret 1 first; the rest as in [`from_cents`](Self::from_cents).
    ///
    /// # Errors
    /// - no entry, or more than 99;
    /// - entries outside 1..=256 or not rising from above 1. Paths are `ratios[0]` and so on.
    pub fn from_ratios(ratios: &[f64]) -> Result<Self, Error> {
        Self::from_ratios_at(ratios, "ratios")
    }

    pub(super) fn from_cents_at(cents: &[f64], path: &str) -> Result<Self, Error> {
        Ok(Self { rule: Rule::Table(Table::from_cents(cents, path)?) })
    }

    pub(super) fn from_ratios_at(ratios: &[f64], path: &str) -> Result<Self, Error> {
        Ok(Self { rule: Rule::Table(Table::from_ratios(ratios, path)?) })
    }

    /// The highest fret it has a place for: 60, or fewer in a table that does not repeat itself.
    #[must_use]
    pub fn last_fret(&self) -> u32 {
        match &self.rule {
            Rule::Table(table) => table.last_fret().unwrap_or(MAX_FRETS).min(MAX_FRETS),
            _ => MAX_FRETS,
        }
    }

    /// The whole fret at or below a real one and the rest, from 0 to below 1.
    fn divided(&self, fret: f64) -> Result<(u32, f64), Error> {
        let last = f64::from(self.last_fret());
        if !(0.0..=last).contains(&fret) {
            let fault = Fault::new(Kind::OutOfRange, "fret", "no fret of this rule").value(fret, "");
            return Err(fault.range(0.0, last).into());
        }
        let whole = libm::floor(fret);
        Ok((whole as u32, fret - whole))
    }

    /// Cents from a whole fret to the next one.
    fn step(&self, fret: u32) -> f64 {
        match &self.rule {
            Rule::Equal(divisions) => 1200.0 / f64::from(*divisions),
            Rule::Eighteen => EIGHTEENTH_CENTS,
            Rule::Table(table) => table.step(fret),
        }
    }

    /// What is left of a string of `scale` at a fret, in twice the precision.
    fn left(&self, scale: f64, fret: f64) -> Result<Double, Error> {
        let (whole, rest) = self.divided(fret)?;
        let left = match &self.rule {
            Rule::Equal(divisions) => left_of_equal(scale, whole, *divisions),
            Rule::Eighteen => EIGHTEENTHS[whole as usize].times_f64(scale),
            Rule::Table(table) => table.left(whole).times_f64(scale),
        };
        if rest == 0.0 {
            return Ok(left);
        }
        let taken = -libm::expm1(-rest * self.step(whole) / CENTS);
        Ok(left.times(Double::ONE.plus(Double::new(-taken))))
    }

    /// The part of the string between a fret and the bridge: 1 at the nut.
    ///
    /// # Errors
    /// - `fret` outside 0..=[`last_fret`](Self::last_fret), or not a number.
    pub fn remaining(&self, fret: f64) -> Result<f64, Error> {
        Ok(self.left(1.0, fret)?.value())
    }

    /// The part of the string between the nut and a fret, to the same relative accuracy as a position.
    pub(super) fn taken(&self, fret: f64) -> Result<f64, Error> {
        Ok(taken_from(1.0, self.left(1.0, fret)?))
    }

    /// Cents of a fret above the open string, to some 3 units in the last place.
    ///
    /// # Errors
    /// - `fret` outside 0..=[`last_fret`](Self::last_fret), or not a number.
    pub fn cents(&self, fret: f64) -> Result<f64, Error> {
        let (whole, rest) = self.divided(fret)?;
        let cents = match &self.rule {
            Rule::Equal(divisions) => f64::from(1200 * whole) / f64::from(*divisions),
            Rule::Eighteen => EIGHTEENTH_CENTS * f64::from(whole),
            Rule::Table(table) => table.cents(whole),
        };
        Ok(if rest == 0.0 { cents } else { cents + rest * self.step(whole) })
    }

    /// Distance of a fret from the nut along a string of `scale_mm`.
    ///
    /// Within one unit in the last place of the exact value at whole frets of an equal division, of the rule of eighteen
    /// and of a table of ratios; within four elsewhere.
    ///
    /// # Errors
    /// - `scale_mm` outside 0.001..=1000000 or not a number;
    /// - `fret` outside 0..=[`last_fret`](Self::last_fret), or not a number.
    pub fn position_mm(&self, scale_mm: f64, fret: f64) -> Result<f64, Error> {
        check_arguments(scale_mm, 0, 1)?;
        Ok(taken_from(scale_mm, self.left(scale_mm, fret)?))
    }

    /// Distances of frets `1..=fret_count` from the nut, as [`position_mm`](Self::position_mm) gives them.
    ///
    /// # Errors
    /// - as [`position_mm`](Self::position_mm).
    pub fn positions_mm(&self, scale_mm: f64, fret_count: u32) -> Result<Vec<f64>, Error> {
        check_arguments(scale_mm, fret_count as usize, 1)?;
        (1..=fret_count).map(|n| Ok(taken_from(scale_mm, self.left(scale_mm, f64::from(n))?))).collect()
    }

    /// The real fret number at a distance from the nut: what [`position_mm`](Self::position_mm) undoes.
    ///
    /// Good to 1e-11 of a fret up to the fifth octave of a division into 12; as the bridge comes near, a unit in the last
    /// place of the distance weighs more and more.
    ///
    /// # Errors
    /// - `scale_mm` outside 0.001..=1000000 or not a number;
    /// - `distance_mm` below 0, at the bridge or past it, or past the end of a table that does not repeat itself.
    pub fn fret_at(&self, scale_mm: f64, distance_mm: f64) -> Result<f64, Error> {
        check_arguments(scale_mm, 0, 1)?;
        self.fret_of_taken(distance_mm / scale_mm).ok_or_else(|| {
            let fault = Fault::new(Kind::OutsideNeck, "distance_mm", "no fret number is there");
            fault
                .value(distance_mm, "mm")
                .range(0.0, scale_mm)
                .remedy("ask between the nut and the bridge")
                .into()
        })
    }

    pub(super) fn fret_of_taken(&self, taken: f64) -> Option<f64> {
        if !(0.0..1.0).contains(&taken) {
            return None;
        }
        let up = -libm::log1p(-taken);
        match &self.rule {
            Rule::Equal(divisions) => Some(up * f64::from(*divisions) / core::f64::consts::LN_2),
            Rule::Eighteen => Some(up / -LN_17_18),
            Rule::Table(table) => table.fret_of_cents(up * CENTS),
        }
    }

    /// How many cents a whole fret stands above (or, below 0, under) the same fret of an equal division.
    ///
    /// # Errors
    /// - `fret` above [`last_fret`](Self::last_fret);
    /// - `divisions` outside 1..=99.
    pub fn error_cents(&self, fret: u32, divisions: u32) -> Result<f64, Error> {
        let equal = Self::equal(divisions)?;
        Ok(self.cents(f64::from(fret))? - equal.cents(f64::from(fret))?)
    }

    /// Whether a fret stands a whole number of octaves above the open string; where a division has none but 12 to go by
    /// (the rule of eighteen), every twelfth does, and in a table what is within 5 cents.
    pub(super) fn is_octave(&self, fret: u32) -> bool {
        match &self.rule {
            Rule::Equal(divisions) => fret.is_multiple_of(*divisions),
            Rule::Eighteen => fret.is_multiple_of(12),
            Rule::Table(table) => {
                fret <= self.last_fret() && {
                    let cents = table.cents(fret);
                    let octaves = libm::round(cents / 1200.0);
                    octaves >= 1.0 && libm::fabs(cents - 1200.0 * octaves) <= 5.0
                }
            }
        }
    }

    /// What rounding every position to a grid (0.1 mm, 0.01 in = 0.254 mm) does to the pitch, for frets
    /// `1..=fret_count`: the cents to 1e-9, which hold for a string that the fret stops without stretching it.
    ///
    /// # Errors
    /// - `scale_mm` outside 0.001..=1000000 or not a number;
    /// - `fret_count` above 60 or above [`last_fret`](Self::last_fret);
    /// - `grid_mm` outside a millionth to a tenth of the scale;
    /// - a fret that the grid would put on the bridge.
    pub fn rounded(&self, scale_mm: f64, fret_count: u32, grid_mm: f64) -> Result<Vec<Rounded>, Error> {
        let positions = self.positions_mm(scale_mm, fret_count)?;
        let (finest, coarsest) = (scale_mm * 1e-6, scale_mm * 0.1);
        if !(finest..=coarsest).contains(&grid_mm) {
            let fault =
                Fault::new(Kind::OutOfRange, "grid_mm", "not a grid to put frets on").value(grid_mm, "mm");
            return Err(fault.range(finest, coarsest).into());
        }
        let mut frets = Vec::with_capacity(positions.len());
        let mut faults = Vec::new();
        for (fret, exact_mm) in (1..).zip(positions) {
            let rounded_mm = libm::round(exact_mm / grid_mm) * grid_mm;
            let left = scale_mm - rounded_mm;
            if left <= 0.0 {
                let reason = format!("so coarse that fret {fret} comes to lie on the bridge");
                let fault = Fault::new(Kind::Geometry, "grid_mm", reason).value(grid_mm, "mm");
                faults.push(fault.remedy("take a finer grid or fewer frets"));
                break;
            }
            let cents = CENTS * libm::log1p((rounded_mm - exact_mm) / left);
            frets.push(Rounded { fret, exact_mm, rounded_mm, cents });
        }
        Error::unless_none(faults)?;
        Ok(frets)
    }
}
