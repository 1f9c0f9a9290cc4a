//! A low patch mended, beside building a neck.

use criterion::{Criterion, criterion_group, criterion_main};
use neckwright::inspect::{Measured, Mending, Reading, Readings};
use neckwright::measure::Station;
use neckwright::shape::{Neck, Side};
use neckwright::spec::{MendLimits, Specification};
use std::hint::black_box;
use std::time::Duration;

fn mending(criterion: &mut Criterion) {
    let spec = Specification::default();
    let neck = Neck::new(&spec).expect("the default neck is one");
    let x = neck.station_mm(5.0).expect("a fret");
    let low = |measured, value_mm| {
        let at = Station::Fret(5.0);
        let reading = Reading { at, measured, value_mm, uncertainty_mm: 0.05, line: 0 };
        Readings::new(vec![reading]).expect("a sound reading")
    };
    let thickness = neck.thickness_mm(x).expect("a station");
    let carve = neck.carve_line_mm(x, Side::Bass).expect("a station");
    let limits = MendLimits::default();
    let mut group = criterion.benchmark_group("mending a neck");
    group.sample_size(30).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(3));
    group.bench_function("floor: Neck::new", |b| b.iter(|| Neck::new(black_box(&spec))));
    group.bench_function("nothing low", |b| b.iter(|| neck.mend(black_box(&Readings::default()), &limits)));
    let spine = low(Measured::Thickness, thickness - 0.508);
    group.bench_function("a patch 0.02 in low at the spine", |b| {
        b.iter(|| neck.mend(black_box(&spine), &limits))
    });
    let side = low(Measured::CarveLine(Side::Bass), carve - 0.3);
    group.bench_function("one side 0.3 mm low", |b| b.iter(|| neck.mend(black_box(&side), &limits)));
    let lost = low(Measured::Thickness, thickness - 4.0);
    assert!(matches!(neck.mend(&lost, &limits), Ok(Mending::Impossible(_))), "the rod's wall forbids it");
    group.bench_function("too low for the rod's wall, and what forbids it", |b| {
        b.iter(|| neck.mend(black_box(&lost), &limits))
    });
    group.finish();
}

criterion_group!(benches, mending);
criterion_main!(benches);
