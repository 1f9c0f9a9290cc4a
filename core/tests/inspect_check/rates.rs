//! How often a good neck alarms, against how often is stated: over layouts of readings and significances, from both sides.

use crate::check_common::{Normal, Spot, around, checked, point, reading, stations, thickness};
use neckwright::inspect::{Finding, Measured, Reading};
use neckwright::shape::Neck;
use neckwright::spec::InspectionOptions;

const SIGMA: f64 = 0.03;
const SIGNIFICANCES: [f64; 3] = [0.01, 0.05, 0.2];

/// Of the stated rate, what the alarms of low patches, and of flats and bumps, may come to: as documented at `Neck::inspect`.
/// Never more than is stated.
const SHARE: [f64; 2] = [0.65, 1.0];

/// Where on a neck something is read.
struct Layout {
    thicknesses: usize,
    sections: usize,
    carved: usize,
    flat: usize,
    widths: usize,
    /// Whether some readings are four times as uncertain as others.
    uneven: bool,
}

/// A neck and its places, which stay while the noise changes.
struct Places<'a> {
    neck: &'a Neck,
    layout: &'a Layout,
    spots: Vec<Spot>,
}

impl<'a> Places<'a> {
    fn new(neck: &'a Neck, layout: &'a Layout) -> Self {
        let sections = stations(neck, layout.sections).into_iter();
        let spots = sections.flat_map(|x| around(neck, x, layout.carved, layout.flat)).collect();
        Self { neck, layout, spots }
    }

    fn read(&self, noise: &mut Normal) -> Vec<Reading> {
        let (neck, layout) = (self.neck, self.layout);
        let sigma = |noise: &mut Normal| {
            if layout.uneven { SIGMA * libm::exp2(noise.between(-1.0, 1.0)) } else { SIGMA }
        };
        let mut all = Vec::new();
        for x in stations(neck, layout.thicknesses) {
            let sigma = sigma(noise);
            all.push(thickness(neck, x, 0.0, sigma, noise));
        }
        for spot in &self.spots {
            let sigma = sigma(noise);
            all.push(point(spot, 0.0, sigma, noise));
        }
        for x in stations(neck, layout.widths) {
            let sigma = sigma(noise);
            all.push(reading(x, Measured::Width, neck.width_mm(x).unwrap() + sigma * noise.next(), sigma));
        }
        all
    }
}

/// Alarms at each significance: low patches, and flats and bumps.
fn alarms(layout: &Layout, trials: usize, seed: u64) -> [[usize; 3]; 2] {
    let mut noise = Normal::new(seed);
    let necks = crate::common::necks(20);
    let places: Vec<Places<'_>> = necks.iter().map(|neck| Places::new(neck, layout)).collect();
    let mut alarms = [[0; 3]; 2];
    for places in places.iter().cycle().take(trials) {
        count(places.neck, &places.read(&mut noise), &mut alarms);
    }
    alarms
}

/// Counts the alarms of one inspection.
fn count(neck: &Neck, readings: &[Reading], alarms: &mut [[usize; 3]; 2]) {
    // What is found first at the widest significance is found at every other one that its p-value passes.
    let options = InspectionOptions { significance: 0.2, ..InspectionOptions::default() };
    let inspection = neck.inspect(&checked(readings), &options).unwrap();
    for (count, found) in alarms.iter_mut().zip([&inspection.low, &inspection.unfair]) {
        let p = found.iter().map(|f: &Finding| f.p_value).fold(1.0, f64::min);
        for (count, significance) in count.iter_mut().zip(SIGNIFICANCES) {
            *count += usize::from(p <= significance);
        }
    }
}

/// Within the share of what is stated, and what chance may add or take once in two hundred times (memory: 2.576 standard
/// deviations of a binomial count).
fn as_stated(name: &str, alarms: [usize; 3], trials: usize, share: [f64; 2]) {
    for (count, significance) in alarms.into_iter().zip(SIGNIFICANCES) {
        let came = count as f64 / (trials as f64 * significance);
        println!("{name} at {significance}: {count} of {trials}, {came:.3} of what is stated");
        let [least, most] = share.map(|share| trials as f64 * significance * share);
        let spread = |mean: f64| 2.576 * libm::sqrt(mean * (1.0 - significance));
        let allowed = least - spread(least)..=most + spread(most);
        assert!(allowed.contains(&(count as f64)), "{name} at {significance}: {count} not in {allowed:?}");
    }
}

#[test]
fn a_row_of_thicknesses() {
    let layout = Layout { thicknesses: 40, sections: 0, carved: 0, flat: 0, widths: 0, uneven: false };
    let trials = 6000;
    let [low, unfair] = alarms(&layout, trials, 71);
    as_stated("thicknesses: low", low, trials, SHARE);
    as_stated("thicknesses: unfair", unfair, trials, SHARE);
}

#[test]
fn many_sections() {
    let layout = Layout { thicknesses: 0, sections: 40, carved: 9, flat: 1, widths: 0, uneven: false };
    let trials = 1500;
    let [low, unfair] = alarms(&layout, trials, 72);
    as_stated("sections: low", low, trials, SHARE);
    as_stated("sections: unfair", unfair, trials, SHARE);
}

#[test]
fn some_of_everything_unevenly_read() {
    let layout = Layout { thicknesses: 24, sections: 6, carved: 9, flat: 2, widths: 6, uneven: true };
    let trials = 4000;
    let [low, unfair] = alarms(&layout, trials, 73);
    as_stated("mixed: low", low, trials, SHARE);
    as_stated("mixed: unfair", unfair, trials, SHARE);
}

/// Five heaps of eight places each, and uncertainties that alternate: along one row.
fn along(name: &str, x: &dyn Fn(&Neck) -> Vec<f64>, sigma: fn(usize) -> f64, seed: u64) {
    let mut noise = Normal::new(seed);
    let trials = 6000;
    let necks = crate::common::necks(20);
    let places: Vec<Vec<f64>> = necks.iter().map(x).collect();
    let mut counts = [[0; 3]; 2];
    for (neck, places) in necks.iter().zip(&places).cycle().take(trials) {
        let read = |(i, x): (usize, &f64)| thickness(neck, *x, 0.0, sigma(i), &mut noise);
        count(neck, &places.iter().enumerate().map(read).collect::<Vec<_>>(), &mut counts);
    }
    as_stated(&format!("{name}: low"), counts[0], trials, SHARE);
    as_stated(&format!("{name}: unfair"), counts[1], trials, SHARE);
}

#[test]
fn places_in_clusters() {
    let clusters = |neck: &Neck| {
        let [from, to] = neck.shaft_reach_mm();
        let centre = |i: usize| from + (to - from) * (i as f64 + 0.5) / 5.0;
        (0..40).map(|i| centre(i / 8) + 0.8 * ((i % 8) as f64 - 3.5)).collect()
    };
    along("clusters", &clusters, |_| SIGMA, 74);
}

#[test]
fn alternating_uncertainties() {
    let sigma = |i: usize| if i.is_multiple_of(2) { SIGMA } else { 5.0 * SIGMA };
    along("alternating", &|neck| stations(neck, 40), sigma, 75);
}
