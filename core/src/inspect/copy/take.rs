//! The readings, each looked at before it is believed.

use alloc::format;
use alloc::vec;
use alloc::vec::Vec;

use super::family::Places;
use crate::inspect::{Measured, Reading};
use crate::law::Law;
use crate::measure::{Error, Fault, Faults, Kind, Station, told};
use crate::shape::{Neck, Side, shaft_line};
use crate::spec::Specification;

/// A reading that the fit uses.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    /// Its place in the list given.
    pub reading: usize,
    /// Its place among the stations.
    pub place: usize,
    pub measured: Measured,
    pub value: f64,
    pub uncertainty: f64,
}

/// A reading that can't tell any of the numbers that are fitted.
#[derive(Clone, Debug, PartialEq)]
pub struct Unused {
    /// Its place in the list given, from 0.
    pub reading: usize,
    /// Why it is of no use here.
    pub reason: &'static str,
}

/// The readings in use, station by station.
#[derive(Clone, Debug)]
pub(super) struct Taken {
    pub items: Vec<Item>,
    pub places: Places,
    /// The stations as they were given.
    pub at: Vec<Station>,
    pub unused: Vec<Unused>,
}

/// What the base tells of the whole neck before anything is fitted.
#[derive(Clone, Debug)]
pub(super) struct Ground {
    /// Where the back is the shaft's own line, raised by no more than a volute.
    pub shaft: [f64; 2],
    /// What the laws cover.
    pub reach: [f64; 2],
    /// The board's end.
    pub board_end: f64,
    /// How deep the spine lies: the base's.
    spine: Law,
    /// The shaft's line of the base.
    line: Law,
}

impl Ground {
    pub fn new(base: &Specification, neck: &Neck) -> Option<Self> {
        let built = neck.built();
        let reach = neck.wood_reach_mm();
        let points: Option<Vec<(f64, f64)>> = base
            .shaft
            .thickness
            .iter()
            .map(|t| Some((neck.layout().station_mm(&t.at).ok()?, t.thickness.mm())))
            .collect();
        let line = shaft_line(&points?, base.shaft.curve, reach[0], reach[1])?;
        Some(Self {
            shaft: [built.volute.tip.max(0.0), built.sweep.start],
            reach,
            board_end: neck.layout().board().end_mm(),
            spine: built.back.spine.clone(),
            line,
        })
    }

    /// How much deeper the spine lies than the shaft's own line: the volute.
    pub fn raised(&self, x: f64) -> f64 {
        self.spine.value(x) - self.line.value(x)
    }

    /// Whether a reading at a station tells anything that is fitted, and why not.
    fn use_of(&self, measured: &Measured, x: f64) -> Result<(), &'static str> {
        match measured {
            Measured::Width | Measured::Radius if (0.0..=self.board_end).contains(&x) => Ok(()),
            Measured::Width | Measured::Radius => Err("it was taken where there is no fretboard"),
            _ if x < self.shaft[0] => Err("it was taken behind the volute's tip, which is kept as it is"),
            _ if x > self.shaft[1] => Err("it was taken on the heel, which is kept as it is"),
            _ => Ok(()),
        }
    }
}

fn finite(faults: &mut Faults, path: impl Fn() -> alloc::string::String, value: f64) -> bool {
    if value.is_finite() {
        return true;
    }
    faults.add(|| {
        Fault::new(Kind::OutOfRange, path(), "not a finite number")
            .value(value, "mm")
            .remedy("take the reading again, or leave it out")
    });
    false
}

/// A reading of more than this, mm, is of no neck.
const MOST_MM: f64 = 10_000.0;

impl Taken {
    /// Readings by station; all faults of single ones.
    pub fn new(readings: &[Reading], neck: &Neck, ground: &Ground) -> Result<Self, Error> {
        let mut faults = Faults::default();
        let mut found: Vec<(f64, usize)> = Vec::with_capacity(readings.len());
        let mut unused = Vec::new();
        let reach = neck.reach_mm();
        for (i, r) in readings.iter().enumerate() {
            let mut sound = finite(&mut faults, || format!("readings[{i}].value_mm"), r.value_mm);
            if let Measured::Point { across_mm } = r.measured {
                sound &= finite(&mut faults, || format!("readings[{i}].across_mm"), across_mm);
                sound &= within(&mut faults, || format!("readings[{i}].across_mm"), -MOST_MM, across_mm);
            }
            let lowest = if matches!(r.measured, Measured::Point { .. }) { -MOST_MM } else { 0.0 };
            sound &= within(&mut faults, || format!("readings[{i}].value_mm"), lowest, r.value_mm);
            if r.uncertainty_mm <= 0.0 || !r.uncertainty_mm.is_finite() {
                sound = false;
                faults.add(|| {
                    Fault::new(
                        Kind::OutOfRange,
                        format!("readings[{i}].uncertainty_mm"),
                        "a standard uncertainty is above 0",
                    )
                    .value(r.uncertainty_mm, "mm")
                    .remedy("give what the same hands would differ by, such as 0.05")
                });
            }
            match neck.layout().station_at(&r.at, &format!("readings[{i}].at")) {
                Err(error) => {
                    for fault in error.faults() {
                        faults.add(|| fault.clone());
                    }
                }
                Ok(x) if !(reach[0]..=reach[1]).contains(&x) => faults.add(|| {
                    Fault::new(
                        Kind::OutsideNeck,
                        format!("readings[{i}].at"),
                        "this station is not on the neck",
                    )
                    .value(told(x), "mm")
                    .range(reach[0], reach[1])
                    .remedy("correct the station, or the base's scale")
                }),
                Ok(x) if sound => match ground.use_of(&r.measured, x) {
                    Ok(()) => found.push((x, i)),
                    Err(reason) => unused.push(Unused { reading: i, reason }),
                },
                Ok(_) => {}
            }
        }
        faults.into_result()?;
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut taken = Self { items: Vec::new(), places: Places::default(), at: Vec::new(), unused };
        for (x, i) in found {
            if taken.places.x.last() != Some(&x) {
                taken.places.x.push(x);
                taken.places.raised.push(ground.raised(x));
                taken.at.push(readings[i].at);
            }
            let r = &readings[i];
            taken.items.push(Item {
                reading: i,
                place: taken.places.x.len() - 1,
                measured: r.measured,
                value: r.value_mm,
                uncertainty: r.uncertainty_mm,
            });
        }
        if taken.items.is_empty() {
            return Err(Fault::new(Kind::Missing, "readings", "none of them tells anything of the shaft")
                .value(readings.len(), "entries")
                .remedy("measure thickness, width or sections between the nut and the heel")
                .into());
        }
        Ok(taken)
    }

    /// The items of one place.
    pub fn at_place(&self, place: usize) -> &[Item] {
        let from = self.items.partition_point(|item| item.place < place);
        let to = self.items.partition_point(|item| item.place <= place);
        &self.items[from..to]
    }

    /// The faults of readings of the same thing that can't both be true.
    pub fn contradictions(&self) -> Result<(), Error> {
        /// So many times their common uncertainty apart two readings are not of the same neck.
        const APART: f64 = 8.0;
        let mut faults = Faults::default();
        for place in 0..self.places.x.len() {
            let items = self.at_place(place);
            for kind in 0..6 {
                let mut same: Vec<&Item> =
                    items.iter().filter(|item| sort(&item.measured) == Some(kind)).collect();
                same.sort_by(|a, b| a.value.total_cmp(&b.value));
                let (Some(low), Some(high)) = (same.first(), same.last()) else { continue };
                let common = libm::hypot(low.uncertainty, high.uncertainty);
                if high.value - low.value > APART * common {
                    faults.add(|| {
                        let reason = format!(
                            "contradicts reading {} of the same at the same station, {} mm, by {:.0} times their common \
                             uncertainty",
                            low.reading,
                            told(low.value),
                            (high.value - low.value) / common
                        );
                        Fault::new(Kind::Conflict, format!("readings[{}].value_mm", high.reading), reason)
                            .value(told(high.value), "mm")
                            .remedy("measure again and leave the wrong one out, or give them the uncertainty they have")
                    });
                }
            }
        }
        faults.into_result()
    }
}

fn within(
    faults: &mut Faults,
    path: impl Fn() -> alloc::string::String,
    lowest: f64,
    value: f64,
) -> bool {
    let sound = value >= lowest && value <= MOST_MM;
    if !sound && value.is_finite() {
        faults.add(|| {
            Fault::new(Kind::OutOfRange, path(), "no neck has such a measure")
                .value(value, "mm")
                .range(lowest, MOST_MM)
                .remedy("take the reading again, or leave it out")
        });
    }
    sound
}

/// Single numbers of a station, which two readings can contradict each other in.
fn sort(measured: &Measured) -> Option<usize> {
    Some(match measured {
        Measured::Thickness => 0,
        Measured::Width => 1,
        Measured::Girth => 2,
        Measured::CarveLine(Side::Bass) => 3,
        Measured::CarveLine(Side::Treble) => 4,
        Measured::Radius => 5,
        Measured::Point { .. } => return None,
    })
}

/// Well-spread choice of at most `most` of the stations, no two nearer than `gap`: the ends first, then always the one
/// farthest from those chosen.
pub(super) fn spread(x: &[f64], most: usize, gap: f64) -> Vec<usize> {
    let mut chosen: Vec<usize> = Vec::new();
    let mut away = vec![f64::INFINITY; x.len()];
    let mut next = if x.is_empty() { None } else { Some(0) };
    while let Some(i) = next {
        if chosen.len() >= most {
            break;
        }
        chosen.push(i);
        for (away, other) in away.iter_mut().zip(x) {
            *away = away.min(libm::fabs(other - x[i]));
        }
        next = (0..x.len()).max_by(|a, b| away[*a].total_cmp(&away[*b])).filter(|i| away[*i] >= gap);
    }
    chosen.sort_unstable();
    chosen
}
