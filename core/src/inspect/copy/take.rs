//! The readings, each looked at before it is believed.

use alloc::vec;
use alloc::vec::Vec;

use super::family::Places;
use crate::inspect::Measured;
use crate::inspect::readings::Placed;
use crate::law::Law;
use crate::measure::{Error, Fault, Kind, Station};
use crate::shape::{Neck, shaft_line};
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
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
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

    /// The base's own line of thickness.
    pub fn thickness(&self, x: f64) -> f64 {
        self.line.value(x)
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

impl Taken {
    /// Readings by station; all faults of single ones.
    pub fn new(readings: &[Placed], ground: &Ground) -> Result<Self, Error> {
        let mut found: Vec<(f64, usize)> = Vec::with_capacity(readings.len());
        let mut unused = Vec::new();
        for (i, Placed { x_mm, reading, .. }) in readings.iter().enumerate() {
            match ground.use_of(&reading.measured, *x_mm) {
                Ok(()) => found.push((*x_mm, i)),
                Err(reason) => unused.push(Unused { reading: i, reason }),
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut taken = Self { items: Vec::new(), places: Places::default(), at: Vec::new(), unused };
        for (x, i) in found {
            if taken.places.x.last() != Some(&x) {
                taken.places.x.push(x);
                taken.places.raised.push(ground.raised(x));
                taken.at.push(readings[i].reading.at);
            }
            let r = &readings[i].reading;
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
