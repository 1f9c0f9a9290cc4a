//! Two necks compared over their whole surface, beside what sampling alone costs, in the same run.

use criterion::{Criterion, criterion_group, criterion_main};
use neckwright::measure::Length;
use neckwright::shape::{Neck, Side};
use neckwright::spec::Specification;
use std::hint::black_box;
use std::time::Duration;

/// The usual neck and one a little thicker, wider and fuller.
fn necks() -> [Neck; 2] {
    let spec = Specification::default();
    let mut other = spec.clone();
    for (given, more) in other.shaft.thickness.iter_mut().zip([0.1, 0.25]) {
        given.thickness = Length::from_mm(given.thickness.mm() + more);
    }
    other.nut.width = Length::from_mm(other.nut.width.mm() + 0.2);
    other.shaft.profile[0].shoulder = Some(0.6);
    [spec, other].map(|spec| Neck::new(&spec).expect("a neck"))
}

/// The least that a comparison costs: control points of both at so many stations.
fn control_points(neck: &Neck, stations: &[f64]) -> f64 {
    let points = |x: &f64| neck.section(*x).ok().and_then(|s| s.control_points_mm(Side::Bass));
    stations.iter().filter_map(points).map(|p| p[3][1]).sum()
}

fn comparing(criterion: &mut Criterion) {
    let [one, two] = necks();
    let twin = one.clone();
    let [from, to] = one.reach_mm();
    let stations: Vec<f64> = (0..1000).map(|i| from + (to - from) * f64::from(i) / 1000.0).collect();
    let mut group = criterion.benchmark_group("two necks");
    group.sample_size(50).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    group.bench_function("floor: 1,000 sections of both", |b| {
        b.iter(|| control_points(black_box(&one), &stations) + control_points(black_box(&two), &stations));
    });
    group.bench_function("compare", |b| b.iter(|| black_box(&one).compare(black_box(&two))));
    group.bench_function("compare, the same neck", |b| b.iter(|| black_box(&one).compare(black_box(&twin))));
    group.bench_function("within 0.5 mm: yes", |b| b.iter(|| black_box(&one).within(black_box(&two), 0.5)));
    group.bench_function("within 0.1 mm: no", |b| b.iter(|| black_box(&one).within(black_box(&two), 0.1)));
    group.finish();
}

criterion_group!(benches, comparing);
criterion_main!(benches);
