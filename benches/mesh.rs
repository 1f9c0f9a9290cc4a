//! Meshes of a neck, and a million vertices of its back into a buffer, beside filling the same bytes.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use neckwright::measure::Length;
use neckwright::shape::Neck;
use neckwright::spec::{MeshOptions, SolidOptions, Specification};
use std::hint::black_box;
use std::time::Duration;

fn neck() -> Neck {
    Neck::new(&Specification::default()).expect("the default neck is one")
}

fn meshes(criterion: &mut Criterion) {
    let neck = neck();
    let solids = neck.solids(&SolidOptions::default()).expect("the default neck's solids");
    let mut group = criterion.benchmark_group("a neck as triangles");
    group.sample_size(20).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    group.bench_function("its solids", |b| b.iter(|| black_box(&neck).solids(&SolidOptions::default())));
    for chord in [0.1, 0.02, 0.005] {
        let options = MeshOptions { chord: Length::from_mm(chord), ..MeshOptions::default() };
        for solid in [&solids.neck_wood, &solids.fretboard] {
            group.bench_function(format!("{} at {chord} mm", solid.name), |b| {
                b.iter(|| black_box(solid).mesh(&options));
            });
        }
    }
    group.finish();
}

fn grid(criterion: &mut Criterion) {
    let neck = neck();
    let [from, to] = neck.shaft_reach_mm();
    let (rows, columns) = (1000, 1000);
    let x: Vec<f64> = (0..rows).map(|i| from + (to - from) * f64::from(i) / f64::from(rows - 1)).collect();
    let count = rows as usize * columns;
    let mut group = criterion.benchmark_group("1,000,000 vertices with normals");
    group.sample_size(20).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    group.throughput(Throughput::Bytes(48 * count as u64));
    let (mut points, mut normals) = (vec![0.0_f64; 3 * count], vec![0.0_f64; 3 * count]);
    group.bench_function("floor: 48 MB filled", |b| {
        b.iter(|| {
            black_box(&mut points).fill(black_box(1.0));
            black_box(&mut normals).fill(black_box(1.0));
        });
    });
    group.bench_function("back_grid_into, f64", |b| {
        b.iter(|| {
            neck.back_grid_into(black_box(&x), columns, black_box(&mut points), black_box(&mut normals))
        });
    });
    let (mut points, mut normals) = (vec![0.0_f32; 3 * count], vec![0.0_f32; 3 * count]);
    group.bench_function("back_grid_into, f32", |b| {
        b.iter(|| {
            neck.back_grid_into(black_box(&x), columns, black_box(&mut points), black_box(&mut normals))
        });
    });
    group.finish();
}

criterion_group!(benches, meshes, grid);
criterion_main!(benches);
