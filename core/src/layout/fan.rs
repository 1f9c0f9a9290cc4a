//! The fan of fret lines between the outer strings; parallel lines where there is one scale.

use super::temperament::Temperament;
use crate::measure::{Error, Fault, Kind};

/// A straight line across the board: `x = x_mm + slope * y`.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct FretLine {
    /// Where it crosses the centreline, mm from the nut.
    pub x_mm: f64,
    /// How far it advances toward the bridge for each mm toward the treble side: 0 for a line square to the centreline.
    pub slope: f64,
}

impl FretLine {
    /// The same line of the mirror image.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self { x_mm: self.x_mm, slope: -self.slope }
    }

    /// The station of its point at `y_mm`.
    #[must_use]
    pub fn x_at_mm(&self, y_mm: f64) -> f64 {
        self.x_mm + self.slope * y_mm
    }

    /// Its angle to a line square to the centreline, degrees; above 0 where the treble side lies nearer to the bridge.
    #[must_use]
    pub fn angle_deg(&self) -> f64 {
        libm::atan(self.slope).to_degrees()
    }
}

/// The fan of fret lines.
///
/// With one scale the frets are square to the centreline and their distances are measured along it. With a bass and a
/// treble scale each is measured along its own outer string, from its point on the nut to its point on the bridge, and
/// one fret, which need not be a whole one, stands square to the centreline. Nut, frets and bridge are straight lines.
///
/// An outer string is a straight line, so that fret `n` takes the same part of its way across the board as it takes of
/// its length: with `g` that part, the two points of a fret are as far from the centreline as one another,
/// `h = nut + (bridge - nut) g` (half spreads), they lie at `x = ∓skew/2 + centre g`, and
/// `skew = (bass run - treble run)(g of the square fret - g)`, the runs being the strings' lengths along the centreline.
#[derive(Clone, Debug, PartialEq)]
pub struct Fan {
    temperament: Temperament,
    bass_mm: f64,
    treble_mm: f64,
    centre_mm: f64,
    /// Bass run less treble run.
    runs_apart: f64,
    square_taken: f64,
    nut_half: f64,
    bridge_half: f64,
}

impl Fan {
    /// One scale, along the centreline, and the half spreads of the outer strings.
    pub(super) fn single(temperament: Temperament, scale_mm: f64, nut_half: f64, bridge_half: f64) -> Self {
        let slant = bridge_half - nut_half;
        let string = libm::hypot(scale_mm, slant);
        Self {
            temperament,
            bass_mm: string,
            treble_mm: string,
            centre_mm: scale_mm,
            runs_apart: 0.0,
            square_taken: 0.0,
            nut_half,
            bridge_half,
        }
    }

    /// A scale along each outer string. Both halves must be above 0, both scales longer than their difference.
    pub(super) fn double(
        temperament: Temperament,
        (bass_mm, treble_mm): (f64, f64),
        square_fret: f64,
        nut_half: f64,
        bridge_half: f64,
    ) -> Result<Self, Error> {
        let slant = bridge_half - nut_half;
        let run = |length: f64| libm::sqrt((length - slant) * (length + slant));
        let (bass_run, treble_run) = (run(bass_mm), run(treble_mm));
        let square_taken = temperament.taken(square_fret)?;
        Ok(Self {
            temperament,
            bass_mm,
            treble_mm,
            centre_mm: 0.5 * (bass_run + treble_run),
            // The difference of the squares keeps the digits that a difference of the roots would lose.
            runs_apart: (bass_mm - treble_mm) * (bass_mm + treble_mm) / (bass_run + treble_run),
            square_taken,
            nut_half,
            bridge_half,
        })
    }

    /// The rule by which the frets follow one another.
    #[must_use]
    pub const fn temperament(&self) -> &Temperament {
        &self.temperament
    }

    /// Whether the frets are not all parallel.
    #[must_use]
    pub fn is_fanned(&self) -> bool {
        self.runs_apart != 0.0
    }

    /// Length of the bass string from nut to bridge, in plan, mm.
    #[must_use]
    pub const fn bass_mm(&self) -> f64 {
        self.bass_mm
    }

    /// Length of the treble string from nut to bridge, in plan, mm.
    #[must_use]
    pub const fn treble_mm(&self) -> f64 {
        self.treble_mm
    }

    /// From the nut to the bridge along the centreline, mm.
    #[must_use]
    pub const fn centre_mm(&self) -> f64 {
        self.centre_mm
    }

    /// Half the spread of the outer strings where a fret that takes `taken` of them crosses them.
    pub(super) fn half_spread(&self, taken: f64) -> f64 {
        self.nut_half + (self.bridge_half - self.nut_half) * taken
    }

    /// Half the outer strings' spread at the nut, at the bridge.
    pub(super) const fn halves(&self) -> (f64, f64) {
        (self.nut_half, self.bridge_half)
    }

    fn skew(&self, taken: f64) -> f64 {
        self.runs_apart * (self.square_taken - taken)
    }

    /// Slope of the line that takes `taken` of each outer string.
    pub(super) fn slope(&self, taken: f64) -> f64 {
        if self.runs_apart == 0.0 {
            return 0.0;
        }
        self.skew(taken) / (2.0 * self.half_spread(taken))
    }

    /// The line of a real fret number: 0 is the nut.
    ///
    /// # Errors
    /// - `fret` outside 0..=[`last_fret`](Temperament::last_fret) of the temperament, or not a number.
    pub fn line(&self, fret: f64) -> Result<FretLine, Error> {
        let x_mm = self.temperament.position_mm(self.centre_mm, fret)?;
        Ok(FretLine { x_mm, slope: self.slope(self.temperament.taken(fret)?) })
    }

    /// The line on which the strings end at the bridge.
    #[must_use]
    pub fn bridge_line(&self) -> FretLine {
        FretLine { x_mm: self.centre_mm, slope: self.slope(1.0) }
    }

    /// The real fret number whose line crosses the centreline at `x_mm`.
    ///
    /// # Errors
    /// - `x_mm` before the nut, at the bridge or past it, past the end of a table that does not repeat itself, or not a
    ///   number.
    pub fn fret_at(&self, x_mm: f64) -> Result<f64, Error> {
        self.temperament.fret_of_taken(x_mm / self.centre_mm).ok_or_else(|| {
            let fault = Fault::new(Kind::OutsideNeck, "x_mm", "no fret number is there");
            let fault = fault.value(x_mm, "mm").range(0.0, self.centre_mm);
            fault.remedy("ask between the nut and the bridge").into()
        })
    }
}
