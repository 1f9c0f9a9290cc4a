//! Readings on a neck: their stations in millimetres, and those that can't be of it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::field::{Field, path};
use super::{BadEntry, BadReadings, Readings};
use crate::inspect::{Measured, Reading};
use crate::measure::{Fault, Faults, Kind, Station, exactly, told};
use crate::shape::{Bounds, Neck};

/// So far from the finished neck wood may stand that is still to be carved, mm: the offcut of a wide blank. Common practice,
/// no source.
const UNCARVED_MM: f64 = 60.0;

/// So much less than the straight way from edge to edge a tape may show, mm: the edges may have been rounded.
const ROUNDED_MM: f64 = 5.0;

/// A reading and its place on a neck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed {
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// The reading.
    pub reading: Reading,
    /// Its [number](Readings::number).
    pub number: u32,
}

impl Readings {
    /// The readings with their stations on a neck.
    ///
    /// # Errors
    /// - as [`check_on`](Self::check_on).
    pub(crate) fn placed(&self, neck: &Neck) -> Result<Vec<Placed>, BadReadings> {
        let place = Place { neck, bounds: neck.bounds(), heel_mm: neck.built().sweep.depth };
        let mut placed = Vec::with_capacity(self.len());
        let mut faults = Faults::default();
        let mut bad = Vec::new();
        let mut good = Vec::new();
        for (i, reading) in self.iter().enumerate() {
            // There are never more than `MAX_READINGS`.
            let number = self.number(i) as u32;
            match place.of(reading) {
                Ok(x_mm) => placed.push(Placed { x_mm, reading: *reading, number }),
                Err(unfit) => {
                    faults.add(|| unfit.fault(reading, number));
                    // Those before the first bad one are all good.
                    if bad.is_empty() {
                        good.extend(0..i);
                    }
                    bad.push(BadEntry { line: reading.line, entry: number });
                    continue;
                }
            }
            if !bad.is_empty() {
                good.push(i);
            }
        }
        faults.into_result().map(|()| placed).map_err(|error| BadReadings {
            error,
            good: self.picked(&good),
            bad,
        })
    }

    /// Whether they can be readings of a neck, or of the blank that it will be carved from.
    ///
    /// Wood that is still to be carved may stand 60 mm outside the finished neck. What is refused is a reading
    /// - off the neck, or of something that is not there: the board's radius behind the nut, a girth, a carve line or a
    ///   thickness beyond the end of what it is measured on;
    /// - further out than any blank reaches;
    /// - that contradicts what the neck is made of: a thickness less than the board's alone, a tape shorter than the straight
    ///   way from edge to edge, a radius whose circle does not reach the board's edges, any radius of a flat board.
    ///
    /// ```
    /// # use neckwright::inspect::Readings;
    /// # use neckwright::shape::Neck;
    /// # use neckwright::spec::Specification;
    /// let neck = Neck::new(&Specification::default())?;
    /// let readings = Readings::from_csv("at,quantity,value\nfret 5,thickness,23\n-20,radius,300\n")?;
    /// let bad = readings.check_on(&neck).unwrap_err();
    /// assert_eq!(bad.error.faults()[0].path, "line 3, readings[1].at");
    /// assert_eq!(bad.good.len(), 1);
    /// # Ok::<(), neckwright::measure::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`BadReadings`], with all the readings that can be; paths name line and entry.
    /// - [`Kind::OutsideNeck`]: off the neck, of what is not there, or too far out;
    /// - [`Kind::Geometry`]: at odds with the neck.
    pub fn check_on(&self, neck: &Neck) -> Result<(), BadReadings> {
        self.placed(neck).map(|_| ())
    }
}

/// Why a reading can't be of this neck. Made whole only where it is told.
struct Unfit {
    kind: Kind,
    field: Field,
    value_mm: Option<f64>,
    range: [Option<f64>; 2],
    reason: &'static str,
    remedy: &'static str,
}

impl Unfit {
    fn fault(&self, reading: &Reading, entry: u32) -> Fault {
        let value = match (self.value_mm, self.field, reading.at) {
            (Some(mm), Field::At, Station::Fret(_)) => format!("{}, {}", reading.at, told(mm)),
            (Some(mm), ..) => exactly(mm),
            (None, ..) => format!("{}", reading.at),
        };
        let unit = if self.value_mm.is_some() { "mm" } else { "" };
        let at: String = path(reading.line, Some(entry), self.field.name());
        let [from, to] = self.range.map(|end| end.map(told));
        Fault::new(self.kind, at, self.reason).value(value, unit).range(from, to).remedy(self.remedy)
    }
}

struct Place<'a> {
    neck: &'a Neck,
    bounds: Bounds,
    /// How deep the heel's block is.
    heel_mm: f64,
}

impl Place<'_> {
    /// The station of a reading that can be.
    fn of(&self, reading: &Reading) -> Result<f64, Unfit> {
        let neck = self.neck;
        let x = neck.layout().station_mm(&reading.at).map_err(|_| Unfit {
            kind: Kind::OutsideNeck,
            field: Field::At,
            value_mm: None,
            range: [None; 2],
            reason: "the temperament has no such fret",
            remedy: "give the station in mm",
        })?;
        self.on(reading, x)?;
        self.size(reading, x)?;
        Ok(x)
    }

    /// Whether what was measured is there.
    fn on(&self, reading: &Reading, x: f64) -> Result<(), Unfit> {
        let (neck, board) = (self.neck, self.neck.layout().board());
        let (reach, reason) = match reading.measured {
            Measured::Thickness | Measured::Width | Measured::Point { .. } => {
                (neck.reach_mm(), "this station is not on the neck")
            }
            Measured::Girth => (neck.wood_reach_mm(), "there is no back here to lay a tape around"),
            Measured::CarveLine(_) => (neck.wood_reach_mm(), "there is no wood here to carve"),
            Measured::Radius => ([board.start_mm(), board.end_mm()], "there is no board here"),
        };
        if (reach[0]..=reach[1]).contains(&x) {
            return Ok(());
        }
        Err(Unfit {
            kind: Kind::OutsideNeck,
            field: Field::At,
            value_mm: Some(x),
            range: reach.map(Some),
            reason,
            remedy: "correct the station, or leave the reading out",
        })
    }

    /// Whether it can be so great or so small.
    fn size(&self, reading: &Reading, x: f64) -> Result<(), Unfit> {
        let board = self.neck.layout().board();
        let value = reading.value_mm;
        let too_far = |value_mm: f64, range: [Option<f64>; 2], field| Unfit {
            kind: Kind::OutsideNeck,
            field,
            value_mm: Some(value_mm),
            range,
            reason: "no blank for this neck reaches so far",
            remedy: "measure again, from the crown of the board and its centreline",
        };
        let at_odds = |least: f64, reason| Unfit {
            kind: Kind::Geometry,
            field: Field::Value,
            value_mm: Some(value),
            range: [Some(least), None],
            reason,
            remedy: "measure again, or correct what was measured",
        };
        let deepest = UNCARVED_MM - self.bounds.z_mm[0];
        // A caliper stands on the board or on the face, and the blank may be as deep as the heel's block.
        let thickest = || {
            let block = UNCARVED_MM + self.heel_mm;
            if value <= block { block } else { block.max(UNCARVED_MM + self.neck.thickness(x)) }
        };
        let out = UNCARVED_MM + self.bounds.y_mm[1].max(-self.bounds.y_mm[0]);
        let most = match reading.measured {
            Measured::Thickness => thickest(),
            Measured::CarveLine(_) | Measured::Point { .. } => deepest,
            Measured::Width => 2.0 * out,
            Measured::Girth => 2.0 * (out + deepest),
            Measured::Radius => f64::INFINITY,
        };
        if value > most {
            return Err(too_far(value, [None, Some(most)], Field::Value));
        }
        let boarded = (0.0..=board.end_mm()).contains(&x);
        match reading.measured {
            Measured::Point { across_mm } if libm::fabs(across_mm) > out => {
                Err(too_far(across_mm, [Some(-out), Some(out)], Field::Across))
            }
            Measured::Thickness if boarded && value < board.thickness_mm() => {
                Err(at_odds(board.thickness_mm(), "the board alone is thicker"))
            }
            Measured::Girth if boarded && value < board.width_mm(x) - ROUNDED_MM => {
                Err(at_odds(board.width_mm(x) - ROUNDED_MM, "the straight way from edge to edge is longer"))
            }
            Measured::Radius => match board.crown().radius_mm(x) {
                None => Err(Unfit {
                    range: [None; 2],
                    remedy: "give the board a radius, or leave the reading out",
                    ..at_odds(0.0, "the board is flat and has no radius")
                }),
                Some(_) if value < 0.5 * board.width_mm(x) => {
                    Err(at_odds(0.5 * board.width_mm(x), "such a circle does not reach the board's edges"))
                }
                Some(_) => Ok(()),
            },
            _ => Ok(()),
        }
    }
}
