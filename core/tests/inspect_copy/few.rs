//! What a copy with few stations says of its uncertainty, where the neck is straight and where it is gently curved.

use crate::copy_common::{Chance, differing, gathered, reading, readings, truth_of, with_noise};
use neckwright::inspect::{Measured, Reading, copy_neck};
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{CopyOptions, Curve, KnotChoice, Radius, Specification, ThicknessAt};

/// Two-sided 95 % of a normal number.
const Z: f64 = 1.959_964;
const TRIALS: u32 = 300;
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

const STRADDLED: [[f64; 2]; 3] = [[0.45, 0.85], [0.8, 1.3], [0.95, 1.5]];
const BETWEEN: [[f64; 2]; 3] = [[0.38, 0.65], [0.4, 0.7], [0.65, 1.25]];

/// Where the neck is straight the uncertainties are too wide, as they hold what the line may be off among the readings: by one
/// base's station at frets 1 to 15, by two, one on either side, at frets 3 to 9. Where a bow is just too small to call for a
/// station more they are a little too narrow. `by` is the standard deviation of the bow: 0.1 mm is two uncertainties of a reading.
/// Bounds of the mean square, from both sides, of 0.4 to 1.5 in all; sampling errors are some 0.06 of it.
fn hold(robust: bool) {
    for frets in [SEVEN, INNER] {
        let squares = if frets == SEVEN { STRADDLED } else { BETWEEN };
        for (by, squares) in [0.0, 0.1, 0.5].into_iter().zip(squares) {
            let count = counted(&frets, |chance| by * chance.normal(), robust);
            let [inside, square] = summed(&count.numbers);
            let [between, around] = summed(&count.between);
            println!(
                "robust {robust}, frets {} to {}, bow {by}: numbers {inside:.3} {square:.2}, between {between:.3} {around:.2}, widest {:.3}",
                frets[0], frets[6], count.widest
            );
            assert!((0.89..=1.0).contains(&inside) && between >= 0.88, "{inside}, {between}");
            assert!((squares[0]..squares[1]).contains(&square), "mean square {square}");
            assert!((squares[0]..squares[1]).contains(&around), "mean square {around}");
            assert!(count.widest < 0.5, "{}", count.widest);
        }
    }
}

#[test]
fn few_stations_are_as_uncertain_as_they_say() {
    hold(false);
}

#[test]
fn and_so_are_robust_ones() {
    hold(true);
}

/// Beyond the readings nothing but the base says how the neck goes on.
#[test]
fn beyond_the_readings_it_is_less_sure() {
    let mut chance = Chance::new(22);
    let truth = bent(&mut chance, 0.0);
    let all = with_noise(&thicknesses(&truth, &INNER, U), &mut chance);
    for robust in [false, true] {
        let copied = copy_neck(&Specification::default(), &gathered(&all), &few(robust)).unwrap();
        let told = |fret: f64| copied.thickness_uncertainty_mm(truth.station_mm(fret).unwrap()).unwrap();
        println!("fret 1: {:.3}, 6: {:.3}, 12: {:.3} mm", told(1.0), told(6.0), told(12.0));
        assert!(told(6.0) < U && told(1.0) > 4.0 * told(6.0) && told(12.0) > 4.0 * told(6.0));
        // One reading there ends that: it is among those suggested first.
        let next = copied.sharpest_next(6);
        assert!(next.iter().all(|s| s.after_mm < s.before_mm), "{next:?}");
    }
}

/// A wave that no line follows: a robust fit has no chance to tell, and its misfit says it.
#[test]
fn a_neck_of_another_sort_shows_in_the_misfit() {
    let mut chance = Chance::new(23);
    let truth = bent(&mut chance, 0.0);
    let (from, to) = (truth.station_mm(1.0).unwrap(), truth.station_mm(15.0).unwrap());
    for (wave, low, high) in [(0.3, 5.0, 20.0), (0.0, 0.8, 1.25)] {
        let mut all: Vec<Reading> = (0..200)
            .map(|k| {
                let x = from + (to - from) * f64::from(k) / 199.0;
                let off = wave * libm::sin(2.0 * core::f64::consts::PI * x / 75.0);
                reading(Station::Mm(x), Measured::Thickness, truth.thickness_mm(x).unwrap() + off, 0.02)
            })
            .collect();
        all = with_noise(&all, &mut chance);
        // One in ten is gross.
        for r in all.iter_mut().step_by(10) {
            r.value_mm += 2.0;
        }
        let copied = copy_neck(&Specification::default(), &gathered(&all), &few(true)).unwrap();
        let misfit = copied.misfit.unwrap();
        println!("wave {wave}: misfit {misfit:.2}, {} numbers", copied.numbers.len());
        assert_eq!(copied.p_value, None);
        assert!((low..high).contains(&misfit), "{wave}: {misfit}");
    }
    // Where each reading decides its own number nothing tells.
    let one = thicknesses(&truth, &[5.0], U);
    assert_eq!(copy_neck(&Specification::default(), &gathered(&one), &few(false)).unwrap().misfit, None);
}

/// Readings that scatter twice as much as they say widen what they tell, and not what the base tells.
#[test]
fn readings_that_scatter_more_count_for_less() {
    let mut chance = Chance::new(24);
    let options = CopyOptions { scatter_counts: true, ..CopyOptions::default() };
    let (mut errors, mut by_base) = (Vec::new(), Vec::new());
    for _ in 0..200 {
        let p = differing(&mut chance, false);
        let mut noisy = with_noise(&readings(&p, 12, 0.05), &mut chance);
        for r in &mut noisy {
            r.uncertainty_mm = 0.025;
        }
        let Ok(copied) = copy_neck(&p.base, &gathered(&noisy), &options) else { continue };
        let plain = copy_neck(&p.base, &gathered(&noisy), &CopyOptions::default()).unwrap();
        assert_eq!(copied.specification, plain.specification);
        assert_eq!(copied.kept, plain.kept);
        let scatter = (copied.chi2 / copied.degrees_of_freedom as f64).max(1.0);
        for (n, plain) in copied.numbers.iter().zip(&plain.numbers) {
            let wider = n.uncertainty / plain.uncertainty;
            assert!(wider > 1.0 - 1e-9 && wider < scatter.sqrt() + 1e-9, "{n:?}, {wider}");
            let off = (n.value - truth_of(&p, &copied.specification, &n.path)) / n.uncertainty;
            if n.by_base > 0.0 { by_base.push(off) } else { errors.push(off) }
        }
    }
    let ([inside, square], [partly, around]) = (summed(&errors), summed(&by_base));
    println!(
        "told by readings: {inside:.3} of {} {square:.2}; by the base too: {partly:.3} of {} {around:.2}",
        errors.len(),
        by_base.len()
    );
    assert!((0.93..=0.97).contains(&inside) && (0.8..=1.2).contains(&square));
    assert!(by_base.len() > 300 && (0.91..=0.97).contains(&partly) && (0.8..=1.4).contains(&around));
}

/// A specification with its defaults filled in has the radius at the board's end too: one gauge tells both.
#[test]
fn one_radius_on_a_base_that_is_filled_in() {
    let filled = Neck::new(&Specification::default()).unwrap().normalised().clone();
    let read = |radius: f64| {
        let readings = [
            reading(Station::Fret(5.0), Measured::Radius, radius, 12.0),
            reading(Station::Fret(5.0), Measured::Thickness, 22.5, 0.05),
        ];
        copy_neck(&filled, &gathered(&readings), &CopyOptions::default()).unwrap()
    };
    let board = read(400.0).specification.fretboard;
    let Radius::Round(at_nut) = board.radius else { panic!("{board:?}") };
    assert_eq!(Some(at_nut), board.end_radius);
    assert!((at_nut.mm() - 400.0).abs() < 1e-3, "{at_nut:?}");
}
