//! A whole neck and what is asked of it, each beside a floor or a plain way of doing the same, in the same run.

use criterion::{
    BenchmarkGroup, Criterion, Throughput, criterion_group, criterion_main, measurement::WallTime,
};
use neckwright::layout::Layout;
use neckwright::shape::{Neck, Part};
use neckwright::spec::{Specification, StageName, Stock};
use std::hint::black_box;
use std::time::Duration;

fn group<'a>(criterion: &'a mut Criterion, name: &str) -> BenchmarkGroup<'a, WallTime> {
    let mut group = criterion.benchmark_group(name);
    group.sample_size(50).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    group
}

fn neck() -> Neck {
    Neck::new(&Specification::default()).expect("the default neck is one")
}

fn building(criterion: &mut Criterion) {
    let spec = Specification::default();
    let text = neck().normalised().to_json();
    let mut group = group(criterion, "building a neck");
    group.bench_function("floor: a copy of the specification", |b| b.iter(|| black_box(&spec).clone()));
    group.bench_function("its check", |b| b.iter(|| black_box(&spec).check()));
    group.bench_function("its layout", |b| b.iter(|| Layout::new(black_box(&spec))));
    group.bench_function("Neck::new", |b| b.iter(|| Neck::new(black_box(&spec))));
    group.bench_function("floor: a full document as plain JSON", |b| {
        b.iter(|| serde_json::from_str::<serde_json::Value>(black_box(&text)));
    });
    group.bench_function("Neck::from_json of a full document", |b| {
        b.iter(|| Neck::from_json(black_box(&text)))
    });
    group.bench_function("Neck::from_json of {}", |b| b.iter(|| Neck::from_json(black_box("{}"))));
    group.finish();
}

/// The least that a law costs: one polynomial of the degree that a shaft's has, without pieces or bounds.
fn quintics(c: &[f64; 6], x: &[f64], out: &mut [f64]) {
    for (x, out) in x.iter().zip(out) {
        *out = c.iter().rev().fold(0.0, |sum, c| sum * x + c);
    }
}

fn readings(criterion: &mut Criterion) {
    let neck = neck();
    let [from, to] = neck.reach_mm();
    let count = 1_000_000_u32;
    let x: Vec<f64> = (0..count).map(|i| from + (to - from) * f64::from(i) / f64::from(count)).collect();
    let mut out = vec![0.0; x.len()];
    let mut group = group(criterion, "1,000,000 stations");
    group.throughput(Throughput::Elements(u64::from(count)));
    group.bench_function("floor: a copy", |b| b.iter(|| black_box(&mut out).copy_from_slice(black_box(&x))));
    group.bench_function("floor: one quintic", |b| {
        b.iter(|| {
            quintics(black_box(&[21.0, 1e-3, 1e-6, 1e-9, 1e-12, 1e-15]), black_box(&x), black_box(&mut out))
        });
    });
    group.bench_function("thickness_mm_into", |b| {
        b.iter(|| neck.thickness_mm_into(black_box(&x), black_box(&mut out)))
    });
    group.bench_function("width_mm_into", |b| {
        b.iter(|| neck.width_mm_into(black_box(&x), black_box(&mut out)))
    });
    group.finish();
}

/// Twice the area of a polygon.
fn shoelace(points: &[[f64; 2]]) -> f64 {
    points.windows(2).map(|p| p[0][0] * p[1][1] - p[1][0] * p[0][1]).sum()
}

fn sections(criterion: &mut Criterion) {
    let neck = neck();
    let x = neck.layout().station_of_fret_mm(7.0).expect("a fret of the neck");
    let section = neck.section(x).expect("a station of the neck");
    let polygon = section.polyline_mm(1e-3).expect("a tolerance in bounds");
    let mut group = group(criterion, "one section");
    group.bench_function("floor: the area of its polyline to 0.001 mm, which is there", |b| {
        b.iter(|| shoelace(black_box(&polygon)));
    });
    group.bench_function("its polyline to 0.001 mm", |b| b.iter(|| black_box(&section).polyline_mm(1e-3)));
    group.bench_function("section and area_mm2", |b| {
        b.iter(|| neck.section(black_box(x)).map(|s| s.area_mm2()))
    });
    group.bench_function("section and moments", |b| {
        b.iter(|| neck.section(black_box(x)).map(|s| s.moments()))
    });
    group.bench_function("girth_mm", |b| b.iter(|| neck.girth_mm(black_box(x))));
    group.bench_function("rod_wall_mm", |b| b.iter(|| neck.rod_wall_mm(black_box(x))));
    group.finish();
}

fn whole(criterion: &mut Criterion) {
    let neck = neck();
    let [from, to] = neck.shaft_reach_mm();
    let mut group = group(criterion, "the whole neck");
    group.bench_function("least_thickness", |b| b.iter(|| black_box(&neck).least_thickness()));
    group.bench_function("least_rod_wall", |b| b.iter(|| black_box(&neck).least_rod_wall()));
    group.bench_function("least_curvature", |b| b.iter(|| black_box(&neck).least_curvature()));
    group.bench_function("all three, proven", |b| {
        b.iter(|| {
            let neck = black_box(&neck);
            (neck.least_thickness(), neck.least_rod_wall(), neck.least_curvature())
        });
    });
    group.bench_function("all three from 1,000 samples, unproven", |b| {
        b.iter(|| {
            (0..1000).fold([f64::INFINITY; 3], |least, i| {
                let x = from + (to - from) * f64::from(i) / 1000.0;
                let bend = neck.section(x).ok().and_then(|s| s.flattest());
                let wall = neck.rod_wall_mm(x).ok().flatten();
                [
                    least[0].min(neck.thickness_mm(x).unwrap_or(f64::INFINITY)),
                    least[1].min(wall.unwrap_or(f64::INFINITY)),
                    least[2].min(bend.map_or(f64::INFINITY, |b| b.curvature_per_mm)),
                ]
            })
        });
    });
    group.bench_function("volume", |b| b.iter(|| black_box(&neck).volume_mm3()));
    group.bench_function("volume by 1,000 sections, to some digits", |b| {
        let [from, to] = neck.reach_mm();
        b.iter(|| {
            let area = |i: u32| {
                let x = from + (to - from) * (f64::from(i) + 0.5) / 1000.0;
                neck.section(x).map_or(0.0, |s| {
                    s.part_moments(Part::NeckWood).area_mm2 + s.part_moments(Part::Fretboard).area_mm2
                })
            };
            (0..1000).map(area).sum::<f64>() * (to - from) / 1000.0
        });
    });
    group.bench_function("caliper_card", |b| b.iter(|| black_box(&neck).caliper_card()));
    group.finish();
}

fn carving(criterion: &mut Criterion) {
    let neck = neck();
    let stock = Stock::default();
    let plan = neck.carving_plan(&stock).expect("the default neck can be made of the default stock");
    let facets = &plan.stage(StageName::Facets).expect("facets are in the usual order").wood;
    let [from, to] = plan.stops_mm();
    let mut group = group(criterion, "the carving plan");
    group.bench_function("carving_plan", |b| b.iter(|| neck.carving_plan(black_box(&stock))));
    group.bench_function("one section of a stage, area", |b| {
        b.iter(|| black_box(facets).area_mm2(0.5 * (from + to)));
    });
    group.bench_function("volume of a stage", |b| b.iter(|| black_box(facets).volume_mm3()));
    group.bench_function("volume of a stage from 1,000 sections, unproven", |b| {
        let [from, to] = facets.reach_mm();
        let step = (to - from) / 1000.0;
        b.iter(|| (0..1000).map(|i| facets.area_mm2(from + step * (f64::from(i) + 0.5)) * step).sum::<f64>());
    });
    group.finish();
}

/// The plan that takes the most work of all that are known, beside the usual one.
fn hardest(criterion: &mut Criterion) {
    let profiles: Vec<String> = (0..64)
        .map(|i| format!(r#"{{"at": {}, "shape": "{}"}}"#, 10 + 5 * i, if i % 2 == 0 { "C" } else { "D" }))
        .collect();
    let text = format!(r#"{{"shaft": {{"profile": [{}]}}}}"#, profiles.join(","));
    let hard = Neck::from_json(&text).expect("a neck of many profiles is one");
    let stock = r#"{"cutter": {"shape": "ball", "radius": 0.5, "paths": 64}, "facets": {"rounds": 5, "straight_within": 0}}"#;
    let many = Stock::from_json(stock).expect("as many cuts as there may be");
    hard.carving_plan(&many).expect("it can be made");
    let (neck, usual) = (neck(), Stock::default());
    let mut group = group(criterion, "the hardest carving plan");
    group.sample_size(10);
    group.bench_function("the usual one", |b| b.iter(|| neck.carving_plan(black_box(&usual))));
    group.bench_function("64 profiles of the usual stock", |b| {
        b.iter(|| hard.carving_plan(black_box(&usual)))
    });
    group.bench_function("64 profiles, 64 paths of a ball and five rounds of facets on either side", |b| {
        b.iter(|| hard.carving_plan(black_box(&many)));
    });
    group.finish();
}

criterion_group!(benches, building, readings, sections, whole, carving, hardest);
criterion_main!(benches);
