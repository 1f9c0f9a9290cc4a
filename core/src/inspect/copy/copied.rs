//! A copied neck: its specification, and how well the readings tell it.

use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::family::{Family, Places};
use super::fit::copy;
use super::knowledge::{Knowledge, all_rows};
use super::matrix::{dot, times};
use super::section::{LOCALS, SPINE};
use super::settle::unbuilt;
use super::take::{Ground, Taken, Unused};
use crate::inspect::Readings;
use crate::measure::{Error, Fault, Kind};
use crate::spec::{BenchUnit, CopyOptions, Specification};

/// A number of which the readings tell something.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Number {
    /// The field's path in the specification, such as `shaft.thickness[1].thickness`.
    pub path: String,
    /// Its value.
    pub value: f64,
    /// Its standard uncertainty, in the same unit; what it owes to numbers that the readings do not tell is in it.
    pub uncertainty: f64,
    /// How much the base has a say in it, 0 to 1: 0 where the readings alone tell it; else its variance, other numbers that are
    /// kept left aside, over that of what necks differ in it. Where there was a [`pull`](Copied::pull) it is above 0 of all.
    pub by_base: f64,
    /// Its unit; empty where it has none.
    pub unit: &'static str,
    /// How many readings would show it if the number were quite another.
    pub readings: usize,
    /// Whether it lies at a bound of its field that the readings would have it go beyond; its uncertainty, and that of the
    /// others, is then told as if there were no bound.
    pub at_bound: bool,
}

/// A number that no reading tells: it is the base's.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Kept {
    /// The field's path in the specification.
    pub path: String,
    /// Its value.
    pub value: f64,
    /// How uncertain it counts, standard, in the same unit: as much as necks differ in it; 0 of a lean that is not to be fitted
    /// ([`Judging::Never`](crate::spec::Judging)), which counts as known.
    pub uncertainty: f64,
    /// Its unit; empty where it has none.
    pub unit: &'static str,
}

/// What is left of a reading.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Residual {
    /// Its place in the list given, from 0.
    pub reading: usize,
    /// Reading less copied neck, mm; of a point its distance from the section's outline, positive outside.
    pub left_mm: f64,
    /// The same over the uncertainty that it has after the fit, `u·√(1 − leverage)`; 0 where the reading alone tells a number.
    pub standardised: f64,
    /// How much the reading draws the fit to itself: 0 not at all, 1 altogether.
    pub leverage: f64,
    /// Whether it decides its own number, nothing checking it: were it ten of its uncertainties wrong, fewer than three would
    /// be left of that, and the copied neck would have the rest (leverage above 0.91).
    pub unchecked: bool,
    /// What it counted: 1, or less where the fit was robust and the reading lies far off.
    pub weight: f64,
}

/// What the fit was, for further questions.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub family: Family,
    pub v: Vec<f64>,
    /// The base's numbers.
    pub base: Vec<f64>,
    /// Square roots of the readings' weights.
    pub weight: Vec<f64>,
    /// By how much the readings' variances count as greater than their uncertainties say.
    pub scatter: f64,
    pub knowledge: Knowledge,
    /// What the readings may be off by together, cause by cause; see [`Copied::widen`].
    pub causes: Vec<Vec<f64>>,
    pub ground: Ground,
    pub taken: Taken,
    /// The unit of sentences.
    pub unit: BenchUnit,
}

/// A neck copied from readings.
#[derive(Clone, Debug, serde::Serialize)]
#[non_exhaustive]
pub struct Copied {
    /// The specification; it makes a neck.
    pub specification: Specification,
    /// Every number of which the readings tell something, in the order of the document.
    pub numbers: Vec<Number>,
    /// The numbers of the same fields that no reading tells.
    pub kept: Vec<Kept>,
    /// The thicknesses of the base that went along with the one or two that the readings tell, as they are now, and how far off
    /// that line the neck's may be: as much as necks differ, but no more than readings around them leave. How far off the line
    /// itself may be is not in it; see [`thickness_uncertainty_mm`](Self::thickness_uncertainty_mm).
    pub moved: Vec<Kept>,
    /// Covariance of [`numbers`](Self::numbers), row by row, in their units.
    pub covariance: Vec<f64>,
    /// What is left of every reading that was used, in the order given.
    pub residuals: Vec<Residual>,
    /// The readings that were of no use, in the order given.
    pub unused: Vec<Unused>,
    /// Sum of the squares of what is left, each over its reading's uncertainty, and of how far the numbers that the base has a say
    /// in are off the base's, each over how much necks differ in it.
    pub chi2: f64,
    /// Readings used less numbers that they alone tell.
    pub degrees_of_freedom: usize,
    /// The chance that readings of these uncertainties scatter as much or more: a small one says that they scatter more than
    /// their uncertainties say, or that the neck is not one of this sort. `None` where nothing is left over, or where far-off
    /// readings counted less: then see [`misfit`](Self::misfit). Too small rather than too great where there was a
    /// [`pull`](Self::pull) of more than 1, as the sum of squares then is not the least there is.
    pub p_value: Option<f64>,
    /// How far the readings scatter, in their uncertainties: the median size of what is left of them,
    /// [`standardised`](Residual::standardised), over that of a standard normal number; of those that others check
    /// ([`Residual::unchecked`]), `None` where none is. About 1 where readings and neck are as they are said to be; far-off
    /// readings hardly change it. Of a robust fit, which has no chance to tell, look here: 2 or more says that the neck is not one
    /// of this sort, or that the uncertainties are too small, and then the uncertainties told do not hold.
    pub misfit: Option<f64>,
    /// Where numbers that make no neck were nearest to the readings: how many times as sharp the base's values counted as they
    /// are, in every number, so that there was a neck, 1 to 8. `None`: they had no more say than they should. The uncertainties
    /// told are those of the fit that was made so.
    pub pull: Option<f64>,
    /// Steps that the fit took.
    pub steps: u32,
    #[serde(skip)]
    pub(super) state: State,
}

impl Copied {
    /// The number of a field by its path.
    #[must_use]
    pub fn number(&self, path: &str) -> Option<&Number> {
        self.numbers.iter().find(|n| n.path == path)
    }

    /// Standard uncertainty of the thickness at a station, mm. Numbers that no reading tells are taken to be known to within what
    /// necks differ in them, and that the curve between stations is the one fitted.
    ///
    /// # Errors
    /// - a station that is not on the shaft, from the volute's tip to where the heel begins.
    pub fn thickness_uncertainty_mm(&self, x_mm: f64) -> Result<f64, Error> {
        let State { family, v, knowledge, ground, .. } = &self.state;
        let [from, to] = ground.shaft;
        if !(from..=to).contains(&x_mm) {
            return Err(Fault::new(Kind::OutsideNeck, "x_mm", "this station is not on the shaft")
                .value(x_mm, "mm")
                .range(from, to)
                .into());
        }
        let places = Places { x: vec![x_mm], raised: vec![ground.raised(x_mm)] };
        let mut spine = [0.0; LOCALS];
        spine[SPINE] = 1.0;
        let which = &knowledge.which;
        let row = all_rows(family, v, which, &places, |_, _, give| give(&spine)).ok_or_else(unbuilt)?;
        let variance = dot(&row, &times(&knowledge.covariance, which.len(), &row));
        Ok(libm::sqrt(variance.max(0.0)))
    }
}

/// The neck that readings tell: its numbers by weighted least squares, each reading weighted by its uncertainty, what no
/// reading tells kept from `base`.
///
/// Fitted are thicknesses, the board's widths, carve lines, the shape of the back, and the board's radius where it was
/// read. A number is told by the readings alone where that leaves it no more uncertain than necks differ in it (5 mm of
/// thickness or width, 3 mm of carve line, 0.15 of shoulder or belly, 0.03 of lean, 2 mm of spine offset, half of a radius;
/// the best told first, each beside those before it). Of any other number the base's value counts as one more reading, normal,
/// with that as its standard deviation ([`Number::by_base`]; mixed estimation: Theil & Goldberger, International Economic
/// Review 2, 1961; memory), and where the readings' say in it is less than a thousandth it is kept and listed. So the
/// uncertainties hold over necks that differ from the base as necks do, each number by itself and normal. Where the base has a say
/// in a number of a section, those of the whole section are too wide for a neck that is just like the base, and too narrow for
/// one that differs by much more.
///
/// All is first order. Where a carve line is not read and the sides may hardly lean, its depth is less sure than that: with points
/// to 0.05 mm, and necks as different as said, 95 % intervals hold 90 % to 97 % of carve lines, of all other numbers 93 % to 97 %.
///
/// Where not the base's own stations are asked for, numbers are given where readings are: thickness where it or a section
/// was read, and through more than two of them the curve is the natural spline; the back's shape where a section was read
/// (four points or more); widths where they were read, and where none was read at the nut the outline is straight from
/// the nut to the second of them. One thickness alone moves the base's line as a whole, so that the taper stays the base's;
/// two move and tilt it, the tilt going on as far beyond them as they lie apart. The base's stations then stay, 8 mm
/// ([`least_gap`](CopyOptions::least_gap)) or more from those read, and are listed as [`moved`](Copied::moved).
///
/// With [`KnotChoice::Fewest`](crate::spec::KnotChoice), and for what single readings would decide in a robust fit, there are
/// fewer stations than readings: the base's line moved and tilted first, widths and carve lines straight, and more stations where
/// that takes more off what the readings are off (Tukey's bounded measure) than any single reading can, so that a far-off reading
/// is told and not followed. What the neck may be off the line that was chosen is judged by what the readings leave of it: as if
/// the base's thicknesses that go along were fitted too, and wider where the readings lean to another line. So where the neck is
/// as straight as the line the uncertainties among the readings are too wide, by up to some half; beyond them they soon are as wide
/// as necks differ. Of fewer than four
/// single readings of a kind a far-off one can't be told from a bend: each then keeps its station. Where nothing checks a reading
/// that decides a number, [`Residual::unchecked`] says so.
///
/// Shoulder, belly and lean of a side and the depth where its carve begins change it in much the same way: from sections alone
/// only sharp readings tell them apart, and reading the carve line helps most. Both sides are first taken to be alike; each is
/// fitted where the readings scatter so much more without it that it would be chance once in a thousand times (see
/// [`CopyOptions`]). Where numbers that can't be built come nearest to the readings the base has a say in all of them, as much as
/// it takes and up to eightfold ([`Copied::pull`]); then the simpler fit stands.
///
/// With [`scatter_counts`](CopyOptions::scatter_counts) the readings' variances count as greater by `chi2` over what is left over,
/// in the uncertainties told and not in the fit; what the base's values are uncertain by stays.
///
/// The uncertainty of a point holds in every direction of its section's plane.
///
/// # Errors
/// - a base that makes no neck; options out of their bounds;
/// - [`Kind::TooLarge`]: more than 100,000 readings; those of a scan are for [`copy_cloud`](crate::inspect::copy_cloud);
/// - readings that can't be of a neck like the base: see [`Readings::check_on`];
/// - no reading that tells anything;
/// - a fit that does not settle, and numbers that make no neck together.
pub fn copy_neck(base: &Specification, readings: &Readings, options: &CopyOptions) -> Result<Copied, Error> {
    copy(base, readings, options)
}
