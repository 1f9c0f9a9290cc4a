//! Inspecting a neck, beside the least that its readings cost.

use criterion::{Criterion, criterion_group, criterion_main};
use neckwright::inspect::{Measured, Reading, Readings};
use neckwright::measure::Station;
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, Specification, StageName, Stock};
use std::hint::black_box;
use std::time::Duration;

/// 200 thicknesses, and 40 sections of 20 points, 0.3 mm outside the finished neck but for noise as large as their uncertainty.
fn readings(neck: &Neck) -> Readings {
    let [from, to] = neck.shaft_reach_mm();
    let mut state = 1_u32;
    let mut flat = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state) / f64::from(u32::MAX)
    };
    // Twelve flat numbers have a variance of one, and add up to a normal one nearly.
    let mut off = || 0.3 + 0.03 * ((0..12).map(|_| flat()).sum::<f64>() - 6.0);
    let mut all = Vec::new();
    let mut add = |x: f64, measured: Measured, value_mm: f64| {
        all.push(Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm: 0.03, line: 0 });
    };
    for i in 0..200 {
        let x = from + (to - from) * (f64::from(i) + 0.5) / 200.0;
        add(x, Measured::Thickness, neck.thickness_mm(x).expect("a station of the neck") + off());
    }
    for i in 0..40 {
        let x = from + (to - from) * (f64::from(i) + 0.5) / 40.0;
        let section = neck.section(x).expect("a station of the neck");
        let outline: Vec<[f64; 2]> = section.polyline_mm(1e-3).expect("a tolerance in bounds");
        let back: Vec<&[f64; 2]> = outline.iter().filter(|p| p[1] < -2.0).collect();
        for k in 0..20 {
            let [y, z] = *back[(back.len() - 1) * k / 19];
            add(x, Measured::Point { across_mm: y }, -z + off());
        }
    }
    Readings::new(all).expect("sound readings")
}

fn inspecting(criterion: &mut Criterion) {
    let neck = Neck::new(&Specification::default()).expect("the default neck is one");
    let readings = readings(&neck);
    let options = InspectionOptions::default();
    let plan =
        neck.carving_plan(&Stock::default()).expect("the default neck can be made of the default stock");
    let stage = plan.stage(StageName::Facets).expect("facets are in the usual order");
    let mut group = criterion.benchmark_group("1,000 readings");
    group.sample_size(50).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    group.bench_function("floor: a section for every 25 of them, and a thickness for each", |b| {
        b.iter(|| {
            let sections = readings.iter().step_by(25).map(|r| match black_box(r).at {
                Station::Mm(x) => neck.section(x).map_or(0.0, |s| s.x_mm()),
                Station::Fret(_) => 0.0,
            });
            let thick = readings.iter().map(|r| match black_box(r).at {
                Station::Mm(x) => neck.thickness_mm(x).unwrap_or(0.0),
                Station::Fret(_) => 0.0,
            });
            sections.sum::<f64>() + thick.sum::<f64>()
        });
    });
    group.bench_function("inspect", |b| b.iter(|| neck.inspect(black_box(&readings), &options)));
    group.bench_function("inspect_stage, facets", |b| {
        b.iter(|| neck.inspect_stage(black_box(&readings), stage, &options));
    });
    group.finish();
}

/// So many sections of 20 points each, every other pair of which is 0.3 mm low, the rest 0.3 mm high.
fn pitted(neck: &Neck, sections: u32) -> Readings {
    let [from, to] = neck.shaft_reach_mm();
    let mut all = Vec::new();
    for i in 0..sections {
        let x = from + (to - from) * (f64::from(i) + 0.5) / f64::from(sections);
        let section = neck.section(x).expect("a station of the neck");
        let outline: Vec<[f64; 2]> = section.polyline_mm(1e-3).expect("a tolerance in bounds");
        let back: Vec<&[f64; 2]> = outline.iter().filter(|p| p[1] < -2.0).collect();
        for k in 0..20 {
            let [across_mm, z] = *back[(back.len() - 1) * k / 19];
            let value_mm = -z + if k % 4 < 2 { -0.3 } else { 0.3 };
            let measured = Measured::Point { across_mm };
            all.push(Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm: 0.03, line: 0 });
        }
    }
    Readings::new(all).expect("sound readings")
}

/// Four times the readings, and four times the findings, should take four times as long.
fn many_findings(criterion: &mut Criterion) {
    let neck = Neck::new(&Specification::default()).expect("the default neck is one");
    let options = InspectionOptions::default();
    let mut group = criterion.benchmark_group("pitted");
    group.sample_size(10).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(3));
    for (name, sections) in [("10,000 points", 500), ("40,000 points", 2000)] {
        let readings = pitted(&neck, sections);
        group.bench_function(name, |b| b.iter(|| neck.inspect(black_box(&readings), &options)));
    }
    group.finish();
}

criterion_group!(benches, inspecting, many_findings);
criterion_main!(benches);
