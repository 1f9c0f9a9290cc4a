//! Fret positions, beside the loop that one would write without the library, in the same run.

use criterion::{Criterion, criterion_group, criterion_main};
use neckwright::layout::{fret_positions_into, fret_positions_mm};
use std::hint::black_box;
use std::time::Duration;

/// The loop without the library: the platform's power function, no checks, one rounding after another.
#[allow(clippy::disallowed_methods)]
fn plain_loop(scale_mm: f64, divisions: u32, out: &mut [f64]) {
    for (i, position) in out.iter_mut().enumerate() {
        *position = scale_mm - scale_mm * 2f64.powf(-((i + 1) as f64) / f64::from(divisions));
    }
}

fn twenty_four_frets(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("24 frets");
    group.sample_size(50).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    let mut out = [0.0; 24];
    group.bench_function("floor: writing 24 numbers", |b| {
        b.iter(|| black_box(&mut out).fill(black_box(640.0)));
    });
    group.bench_function("a loop of powf", |b| {
        b.iter(|| plain_loop(black_box(640.0), black_box(12), black_box(&mut out)));
    });
    group.bench_function("fret_positions_into", |b| {
        b.iter(|| fret_positions_into(black_box(640.0), black_box(12), black_box(&mut out)));
    });
    group.bench_function("fret_positions_mm", |b| {
        b.iter(|| fret_positions_mm(black_box(640.0), black_box(24), black_box(12)));
    });
    group.finish();
}

criterion_group!(benches, twenty_four_frets);
criterion_main!(benches);
