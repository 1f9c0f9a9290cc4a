//! The stations of the mended lines.

use alloc::vec::Vec;

use super::low::Low;
use crate::measure::Station;
use crate::shape::Neck;
use crate::spec::{Allowed, Shaft};

/// The lists of a specification have no more.
const MOST: usize =
    Allowed::<Shaft>::thickness.size.highest.min(Allowed::<Shaft>::carve_line.size.highest) as usize;
/// Stations are no nearer than this to one another, and no further apart where it can be helped, mm.
const NEAREST: f64 = 4.0;
const FURTHEST: f64 = 20.0;

/// The stations, rising: the ends of the shaft, the low places, frets and the stations of the design, filled up evenly.
/// At least two; none where there is no shaft.
pub(super) fn stations(neck: &Neck, lows: &[Low]) -> Vec<f64> {
    let built = neck.built();
    let [from, to] = [built.volute.start().max(0.0), built.sweep.end.min(built.end)];
    let within = |x: &f64| (from..=to).contains(x);
    let given = neck.normalised().shaft.thickness.iter().filter_map(|t| neck.layout().station_mm(&t.at).ok());
    let given: Vec<f64> = given.filter(within).collect();
    let of_lows: Vec<f64> = lows.iter().map(|low| low.x).filter(within).collect();
    let mut ends = [built.volute.end().max(from), built.sweep.start.min(to)];
    for x in given.iter().chain(&of_lows) {
        ends = [ends[0].min(*x), ends[1].max(*x)];
    }
    if ends[1] - ends[0] < 2.0 * Station::LEAST_GAP_MM {
        return Vec::new();
    }
    let gap = NEAREST.max((ends[1] - ends[0]) / (MOST - 4) as f64);
    let mut all = ends.to_vec();
    let frets = neck.layout().frets().iter().map(|fret| fret.number);
    let frets = frets.filter_map(|number| neck.layout().station_of_fret_mm(f64::from(number)).ok());
    let frets: Vec<f64> = frets.collect();
    for x in of_lows.iter().chain(&frets).chain(&given) {
        let apart = |y: &f64| libm::fabs(y - x) >= gap;
        if (ends[0]..=ends[1]).contains(x) && all.iter().all(apart) {
            all.push(*x);
        }
    }
    all.sort_by(f64::total_cmp);
    let mut filled = Vec::with_capacity(MOST);
    let mut room = MOST.saturating_sub(all.len());
    for w in all.windows(2) {
        filled.push(w[0]);
        let more = libm::ceil((w[1] - w[0]) / FURTHEST.max(gap)) - 1.0;
        let more = (more.max(0.0) as usize).min(room);
        room -= more;
        filled.extend((1..=more).map(|i| w[0] + (w[1] - w[0]) * i as f64 / (more + 1) as f64));
    }
    filled.extend(all.last());
    filled.truncate(MOST);
    filled
}

/// A station as a builder names it: by its fret where one is there.
pub(super) fn named(neck: &Neck, x: f64) -> Station {
    fret_there(neck, x).map_or(Station::Mm(x), |number| Station::Fret(f64::from(number)))
}

/// The fret whose line crosses the centreline just there; 0 is the nut.
pub(super) fn fret_there(neck: &Neck, x: f64) -> Option<u32> {
    if x == 0.0 {
        return Some(0);
    }
    let near = neck.layout().fret_at(x).ok().map(libm::round).filter(|n| Station::FRET.contains(*n))?;
    (neck.layout().station_of_fret_mm(near).ok()? == x).then_some(near as u32)
}
