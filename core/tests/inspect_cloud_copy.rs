//! Necks copied from their scans.

mod cloud_common;

use cloud_common::{Dice, Scan, random_pose, rough, scanned, square_nuts, surface};
use neckwright::inspect::copy_cloud;
use neckwright::shape::Neck;
use neckwright::measure::{Length, Station};
use neckwright::spec::{CloudOptions, DepthAt, Hand, HeadstockKind, ProfileAt, Shaft, Specification, ThicknessAt};

const WHOLE: Scan<'static> = Scan { count: 100_000, noise: 0.05, outliers: 0.01, seen: &|_, _| true };

/// Greatest difference of thickness over 1,001 stations of the shaft, mm.
fn thickness_off(truth: &Neck, copy: &Neck) -> f64 {
    let [from, to] = truth.shaft_reach_mm();
    let stations = (0..=1000).map(|i| from + (to - from) * f64::from(i) / 1000.0);
    let off = stations.map(|x| (truth.thickness_mm(x).unwrap() - copy.thickness_mm(x).unwrap()).abs());
    off.fold(0.0, f64::max)
}

/// Necks as an evening class makes them: four to six thicknesses that rise, two or three shapes that hardly change.
fn evening_class(dice: &mut Dice) -> Neck {
    let mm = |v: f64| Length::from_mm(v);
    for _ in 0..100 {
        let mut spec = Specification::default();
        let mut between = |a: f64, b: f64| a + (b - a) * dice.flat();
        spec.hand = if between(0.0, 1.0) < 0.5 { Hand::Left } else { Hand::Right };
        if between(0.0, 1.0) < 0.5 {
            spec.headstock.kind = HeadstockKind::Level;
        }
        spec.volute.height = mm(if between(0.0, 1.0) < 0.4 { between(1.0, 4.0) } else { 0.0 });
        spec.nut.width = mm(between(41.0, 46.0));
        let mut thickness = between(20.0, 22.0);
        spec.shaft.thickness = [1.0, 3.0, 5.0, 9.0, 12.0]
            .map(|fret| {
                thickness += between(0.05, 0.6);
                ThicknessAt { at: Station::Fret(fret + between(-0.4, 0.4)), thickness: mm(thickness) }
            })
            .to_vec();
        let (shoulder, belly) = (between(0.5, 0.62), between(0.5, 0.62));
        spec.shaft.profile = [0.0, 5.0, 12.0]
            .map(|fret| ProfileAt {
                at: Station::Fret(fret + between(0.0, 1.0)),
                shoulder: Some(shoulder + between(-0.02, 0.02)),
                belly: Some(belly + between(-0.02, 0.02)),
                ..ProfileAt::default()
            })
            .to_vec();
        spec.shaft.carve_line = vec![
            DepthAt { at: Station::NUT, depth: mm(between(3.0, 6.0)) },
            DepthAt { at: Station::Fret(12.0), depth: mm(between(5.5, 6.5)) },
        ];
        if let Ok(neck) = Neck::new(&spec) {
            return neck;
        }
    }
    panic!("no neck in a hundred tries");
}

/// A base with the same headstock, board and heel, and two thicknesses and one shape of its own.
fn plain_base(neck: &Neck, dice: &mut Dice) -> Specification {
    let mut spec = neck.normalised().clone();
    let plain = Shaft::default();
    spec.shaft.thickness = plain.thickness;
    spec.shaft.profile = plain.profile;
    spec.shaft.carve_line = vec![DepthAt { at: Station::NUT, depth: Length::from_mm(5.0) }];
    spec.nut.width = Length::from_mm(spec.nut.width.mm() + dice.flat() - 0.5);
    spec
}

#[test]
fn stations_that_the_base_does_not_have() {
    for i in 0..16 {
        let mut dice = Dice(5000 + i);
        let neck = evening_class(&mut dice);
        let base = plain_base(&neck, &mut dice);
        let pose = random_pose(&mut dice, 500.0);
        let points = scanned(surface(&neck, &mut dice, &WHOLE), &mut dice, &WHOLE, pose);
        told(i as usize, &neck, &base, &points);
    }
}

fn told(i: usize, neck: &Neck, base: &Specification, points: &[[f64; 3]]) {
    let started = std::time::Instant::now();
    match copy_cloud(base, points, &CloudOptions::default()) {
        Ok(c) => {
            let took = started.elapsed();
            let made = Neck::new(&c.copied.specification).unwrap();
            println!("neck {i}: thickness off {:.4}, before {:.3}, rms {:.4}, noise {:.4}, chi2/f {:.3}, numbers {} ({} {} {}), steps {}, dep {:?}, {took:?}",
                thickness_off(neck, &made), thickness_off(neck, &Neck::new(base).unwrap()), c.placed.rms_mm, c.placed.noise_mm,
                c.copied.chi2 / c.copied.degrees_of_freedom as f64, c.copied.numbers.len(), made.normalised().shaft.thickness.len(),
                made.normalised().shaft.profile.len(), made.normalised().shaft.carve_line.len(),
                c.copied.steps, c.placed.departures.first());
        }
        Err(e) => println!("neck {i}: {e} after {:?}", started.elapsed()),
    }
}

#[test]
fn thickness_of_many_necks() {
    for (i, neck) in square_nuts(30).iter().enumerate() {
        let mut dice = Dice(2000 + i as u64);
        let base = rough(neck, &mut dice);
        let pose = random_pose(&mut dice, 500.0);
        let points = scanned(surface(neck, &mut dice, &WHOLE), &mut dice, &WHOLE, pose);
        told(i, neck, &base, &points);
    }
}
