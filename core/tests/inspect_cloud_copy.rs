//! Necks copied from their scans.

mod cloud_common;

use cloud_common::{Dice, Scan, random_pose, rough, scanned, square_nuts, surface};
use neckwright::inspect::copy_cloud;
use neckwright::shape::Neck;
use neckwright::spec::CloudOptions;

const WHOLE: Scan<'static> = Scan { count: 100_000, noise: 0.05, outliers: 0.01, seen: &|_, _| true };

/// Greatest difference of thickness over 1,001 stations of the shaft, mm.
fn thickness_off(truth: &Neck, copy: &Neck) -> f64 {
    let [from, to] = truth.shaft_reach_mm();
    let stations = (0..=1000).map(|i| from + (to - from) * f64::from(i) / 1000.0);
    let off = stations.map(|x| (truth.thickness_mm(x).unwrap() - copy.thickness_mm(x).unwrap()).abs());
    off.fold(0.0, f64::max)
}

#[test]
fn thickness_of_many_necks() {
    for (i, neck) in square_nuts(30).iter().enumerate() {
        let mut dice = Dice(2000 + i as u64);
        let base = rough(neck, &mut dice);
        let pose = random_pose(&mut dice, 500.0);
        let points = scanned(surface(neck, &mut dice, &WHOLE), &mut dice, &WHOLE, pose);
        let started = std::time::Instant::now();
        match copy_cloud(&base, &points, &CloudOptions::default()) {
            Ok(c) => {
                let took = started.elapsed();
                let made = Neck::new(&c.copied.specification).unwrap();
                println!("neck {i}: thickness off {:.4}, before {:.3}, rms {:.4}, noise {:.4}, chi2/f {:.3}, numbers {}, steps {}, dep {:?}, {took:?}",
                    thickness_off(neck, &made), thickness_off(neck, &Neck::new(&base).unwrap()), c.placed.rms_mm, c.placed.noise_mm,
                    c.copied.chi2 / c.copied.degrees_of_freedom as f64, c.copied.numbers.len(), c.copied.steps, c.placed.departures.first());
            }
            Err(e) => println!("neck {i}: {e} after {:?}", started.elapsed()),
        }
    }
}
