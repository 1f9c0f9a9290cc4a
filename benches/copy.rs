//! A neck copied from readings, beside the building of one neck in the same run.

use criterion::{Criterion, criterion_group, criterion_main};
use neckwright::inspect::{Measured, Reading, Readings, copy_neck};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{CopyOptions, Judging, Specification, ThicknessAt};
use std::hint::black_box;
use std::time::Duration;

/// A neck that is a little thicker and fuller than the usual one.
fn measured() -> Neck {
    let mut spec = Specification::default();
    spec.shaft.thickness = [(1.0, 22.3), (6.0, 22.6), (12.0, 23.4)]
        .map(|(fret, mm)| ThicknessAt { at: Station::Fret(fret), thickness: Length::from_mm(mm) })
        .to_vec();
    spec.shaft.carve_line[0].depth = Length::from_mm(5.0);
    spec.shaft.profile[0].shoulder = Some(0.58);
    spec.shaft.profile[0].belly = Some(0.56);
    spec.shaft.profile[0].lean = Some(0.03);
    Neck::new(&spec).expect("a neck")
}

/// Thickness and width at three frets, and 22 points at either of two, off by up to 0.04 mm in a fixed pattern.
fn readings() -> Vec<Reading> {
    let neck = measured();
    let mut all = Vec::new();
    let mut add = |fret: f64, measured, value_mm: f64| {
        let off = 0.04 * pattern(all.len());
        let at = Station::Fret(fret);
        all.push(Reading { at, measured, value_mm: value_mm + off, uncertainty_mm: 0.03, line: 0 });
    };
    for fret in [1.0, 6.0, 12.0] {
        let x = neck.station_mm(fret).expect("a fret");
        add(fret, Measured::Thickness, neck.thickness_mm(x).expect("on the neck"));
        add(fret, Measured::Width, neck.width_mm(x).expect("on the neck"));
    }
    for fret in [2.0, 11.0] {
        let x = neck.station_mm(fret).expect("a fret");
        let section = neck.section(x).expect("on the neck");
        for side in Side::BOTH {
            let p = section.control_points_mm(side).expect("a back");
            for k in 0..11 {
                let t = (f64::from(k) + 0.2) / 11.0;
                let s = 1.0 - t;
                let b = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
                let c = |i: usize| (0..4).map(|k| b[k] * p[k][i]).sum::<f64>();
                let (across_mm, depth) = if k == 0 { (p[0][0], 3.0) } else { (c(0), -c(1)) };
                add(fret, Measured::Point { across_mm }, depth);
            }
        }
    }
    all
}

/// Between −1 and 1, as if at random.
fn pattern(i: usize) -> f64 {
    ((i * 7919) % 201) as f64 / 100.0 - 1.0
}

fn copying(criterion: &mut Criterion) {
    let base = Specification::default();
    let readings = Readings::new(readings()).expect("sound readings");
    assert_eq!(readings.len(), 50);
    let mut group = criterion.benchmark_group("a neck copied from 50 readings");
    group.sample_size(50).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    group.bench_function("floor: Neck::new", |b| b.iter(|| Neck::new(black_box(&base))));
    let options = CopyOptions::default();
    group.bench_function("copy_neck", |b| {
        b.iter(|| copy_neck(black_box(&base), black_box(&readings), &options).expect("a copy"))
    });
    let uneven = CopyOptions { uneven: Judging::Always, ..CopyOptions::default() };
    group.bench_function("copy_neck, a treble side of its own", |b| {
        b.iter(|| copy_neck(black_box(&base), black_box(&readings), &uneven).expect("a copy"))
    });
    let robust = CopyOptions { robust: true, ..CopyOptions::default() };
    group.bench_function("copy_neck, robust", |b| {
        b.iter(|| copy_neck(black_box(&base), black_box(&readings), &robust).expect("a copy"))
    });
    let scan = Readings::new(scan()).expect("sound readings");
    group.bench_function(format!("{} points of 60 sections, robust", scan.len()), |b| {
        b.iter(|| copy_neck(black_box(&base), black_box(&scan), &robust).expect("a copy"))
    });
    let copied = copy_neck(&base, &readings, &options).expect("a copy");
    group.bench_function("the 3 readings that would sharpen it most", |b| {
        b.iter(|| black_box(&copied).sharpest_next(3))
    });
    group.finish();
}

/// Points of 60 sections, 84 each.
fn scan() -> Vec<Reading> {
    let neck = measured();
    let mut all = Vec::new();
    let [from, to] = neck.shaft_reach_mm();
    for i in 0..60 {
        let x = from + (to - from) * (f64::from(i) + 0.5) / 60.0;
        let section = neck.section(x).expect("on the neck");
        for side in Side::BOTH {
            let p = section.control_points_mm(side).expect("a back");
            for k in -2..40 {
                let t = (f64::from(k) + 0.2).max(0.0) / 40.0;
                let s = 1.0 - t;
                let b = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
                let c = |i: usize| (0..4).map(|k| b[k] * p[k][i]).sum::<f64>();
                let depth = if k < 0 { 3.0 - 0.5 * f64::from(k) } else { -c(1) };
                let off = 0.05 * pattern(all.len());
                let measured = Measured::Point { across_mm: c(0) + off };
                let at = Station::Mm(x);
                all.push(Reading { at, measured, value_mm: depth + off, uncertainty_mm: 0.05, line: 0 });
            }
        }
    }
    all
}

criterion_group!(benches, copying);
criterion_main!(benches);
