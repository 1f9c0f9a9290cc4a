//! What a copy with few stations says of its uncertainty, where the neck is straight and where it is gently curved.

mod copy_common;

use copy_common::{Chance, gathered, reading, with_noise};
use neckwright::inspect::{Measured, Reading, copy_neck};
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{CopyOptions, Curve, KnotChoice, Specification, ThicknessAt};

/// Two-sided 95 % of a normal number.
const Z: f64 = 1.959_964;
const TRIALS: u32 = 400;
const U: f64 = 0.05;

/// A neck whose thickness is straight but for this much at the middle of frets 1 and 15, mm.
fn bent(chance: &mut Chance, by: f64) -> Neck {
    let mut spec = Specification::default();
    let (first, last) = (chance.between(20.0, 22.0), chance.between(22.5, 24.5));
    let straight = Neck::new(&spec).unwrap();
    let x = |fret: f64| straight.station_mm(fret).unwrap();
    let (from, to) = (x(1.0), x(15.0));
    spec.shaft.curve = Curve::Spline;
    // A parabola at nine stations: the spline through them is it to a few micrometres at the ends.
    spec.shaft.thickness = (0..9)
        .map(|k| {
            let t = f64::from(k) / 8.0;
            let mm = first + (last - first) * t + 4.0 * by * t * (1.0 - t);
            ThicknessAt { at: Station::Mm(from + (to - from) * t), thickness: Length::from_mm(mm) }
        })
        .collect();
    Neck::new(&spec).unwrap()
}

fn thicknesses(neck: &Neck, frets: &[f64], u: f64) -> Vec<Reading> {
    let mm = |fret: f64| neck.thickness_mm(neck.station_mm(fret).unwrap()).unwrap();
    frets.iter().map(|f| reading(Station::Fret(*f), Measured::Thickness, mm(*f), u)).collect()
}

fn few(robust: bool) -> CopyOptions {
    let stations = if robust { KnotChoice::Readings } else { KnotChoice::Fewest };
    CopyOptions { stations, robust, ..CopyOptions::default() }
}

/// Errors over the uncertainties told: of the numbers, and of the thickness between the first and last reading.
#[derive(Default)]
struct Count {
    numbers: Vec<f64>,
    between: Vec<f64>,
    widest: f64,
}

fn summed(errors: &[f64]) -> [f64; 2] {
    let count = errors.len() as f64;
    let inside = errors.iter().filter(|e| e.abs() <= Z).count() as f64;
    [inside / count, errors.iter().map(|e| e * e).sum::<f64>() / count]
}

fn counted(frets: &[f64], by: impl Fn(&mut Chance) -> f64, robust: bool) -> Count {
    let (mut chance, mut count) = (Chance::new(21), Count::default());
    let base = Specification::default();
    for _ in 0..TRIALS {
        let by = by(&mut chance);
        let truth = bent(&mut chance, by);
        let all = with_noise(&thicknesses(&truth, frets, U), &mut chance);
        let copied = copy_neck(&base, &gathered(&all), &few(robust)).unwrap();
        let neck = Neck::new(&copied.specification).unwrap();
        let off = |x: f64| neck.thickness_mm(x).unwrap() - truth.thickness_mm(x).unwrap();
        let x = |fret: f64| truth.station_mm(fret).unwrap();
        for n in &copied.numbers {
            let i: usize = n.path.split(['[', ']']).nth(1).unwrap().parse().unwrap();
            let at = x_of(&copied.specification.shaft.thickness[i].at, &truth);
            count.numbers.push(off(at) / n.uncertainty);
            count.widest = count.widest.max(n.uncertainty);
        }
        let (from, to) = (x(frets[0]), x(frets[frets.len() - 1]));
        for k in 0..=20 {
            let at = from + (to - from) * f64::from(k) / 20.0;
            count.between.push(off(at) / copied.thickness_uncertainty_mm(at).unwrap());
        }
    }
    count
}

fn x_of(at: &Station, neck: &Neck) -> f64 {
    neck.layout().station_mm(at).unwrap()
}

const SEVEN: [f64; 7] = [1.0, 3.0, 5.0, 7.0, 9.0, 12.0, 15.0];
const INNER: [f64; 7] = [3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0];

#[test]
fn few_stations_are_as_uncertain_as_they_say() {
    for robust in [false, true] {
        for frets in [SEVEN, INNER] {
            for (name, curved) in [("straight", 0.0), ("curved", 0.05), ("curved more", 0.1), ("bent", 0.5)] {
                let count = counted(&frets, |chance| curved * chance.normal(), robust);
                let [inside, square] = summed(&count.numbers);
                let [between, around] = summed(&count.between);
                println!(
                    "robust {robust}, frets {} to {}, {name}: numbers {inside:.3} {square:.2}, between {between:.3} {around:.2}, widest {:.3}",
                    frets[0], frets[6], count.widest
                );
            }
        }
    }
}
