//! A neck copied from a million scanned points, beside a floor: one pass over the points. Promised: under 3 s on one core.

use criterion::{Criterion, criterion_group, criterion_main};
use neckwright::inspect::{copy_cloud, place_cloud};
use neckwright::measure::Length;
use neckwright::shape::{Neck, Side};
use neckwright::spec::{CloudOptions, ProfileAt, Specification, TrebleSide};
use std::hint::black_box;
use std::time::Duration;

/// Points of face, sides and back with noise, one of a hundred a stray, in a frame that is turned; a fixed low-discrepancy
/// order (the golden ratio's multiples).
fn cloud(neck: &Neck, count: u32) -> Vec<[f64; 3]> {
    let [from, to] = neck.reach_mm();
    let golden = 0.618_033_988_749_894_9;
    let part = |k: f64| k - libm::floor(k);
    (0..count)
        .map(|i| {
            let k = f64::from(i);
            let x = from + (to - from) * part(k * golden);
            let v = part(k * 0.754_877_666_246_692_8);
            let noise = 0.05 * (part(k * 0.569_840_290_998_053_3) - 0.5) * 3.46;
            let side = if i % 2 == 0 { Side::Bass } else { Side::Treble };
            let laws = neck.laws();
            let at = |law: &neckwright::law::Law| law.at(x.clamp(law.start(), law.end())).unwrap_or_default();
            let (out, depth) = (laws.control_out.of(side), laws.control_depth.of(side));
            let s = 1.0 - v;
            let w = [s * s * s, 3.0 * s * s * v, 3.0 * s * v * v, v * v * v];
            let sum = |l: &[neckwright::law::Law; 4]| (0..4).map(|k| w[k] * at(&l[k])).sum::<f64>();
            let face = if x < neck.headstock().root_x_mm {
                at(laws.face_depth)
            } else if (0.0..=neck.layout().board().end_mm()).contains(&x) {
                0.0
            } else {
                neck.layout().board().thickness_mm()
            };
            let half = at(&out[0]);
            let [y, d] = match i % 5 {
                0 | 1 => {
                    let radius = neck.layout().board().crown().radius_mm(x).filter(|_| face == 0.0);
                    let y = v * half;
                    [y, face + radius.map_or(0.0, |r| neckwright::layout::sagitta_mm(r, y)) + noise]
                }
                2 => [half + noise, face + 1.5 + v * (at(&depth[0]) - face - 1.5)],
                _ => [sum(out), sum(depth) + noise],
            };
            let stray = if i % 100 == 7 { 40.0 * (part(k * 0.324_717_957_244_746) - 0.5) } else { 0.0 };
            let (y, z) = (side.sign() * y + stray, stray - d);
            // Turned by 0.6 and 0.8, twice.
            let (a, b) = (0.6 * x - 0.8 * y, 0.8 * x + 0.6 * y);
            [a, 0.6 * b - 0.8 * z, 0.8 * b + 0.6 * z]
        })
        .collect()
}

/// A neck, a base that is a little off it, and the neck's scan.
fn scene(spec: &Specification) -> (Neck, Specification, Vec<[f64; 3]>) {
    let neck = Neck::new(spec).expect("the bench's neck is one");
    let points = cloud(&neck, 1_000_000);
    let mut base = neck.normalised().clone();
    for (i, t) in base.shaft.thickness.iter_mut().enumerate() {
        t.thickness = Length::from_mm(t.thickness.mm() + if i % 2 == 0 { 0.8 } else { -0.6 });
    }
    for profile in &mut base.shaft.profile {
        profile.treble = None;
    }
    (neck, base, points)
}

/// A neck whose treble side is a little fuller at the shoulder.
fn uneven() -> Specification {
    let mut spec = Specification::default();
    let treble = Some(TrebleSide { shoulder: Some(0.59), ..TrebleSide::default() });
    spec.shaft.profile =
        vec![ProfileAt { shoulder: Some(0.56), belly: Some(0.58), treble, ..ProfileAt::default() }];
    spec
}

fn copying(criterion: &mut Criterion) {
    let (neck, base, points) = scene(&Specification::default());
    let (_, even_base, uneven_points) = scene(&uneven());
    let mut group = criterion.benchmark_group("1,000,000 scanned points");
    group.sample_size(10).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(8));
    group.bench_function("floor: their mean", |b| {
        b.iter(|| black_box(&points).iter().fold([0.0; 3], |s, p| [s[0] + p[0], s[1] + p[1], s[2] + p[2]]));
    });
    let options = CloudOptions::default();
    group.bench_function("place_cloud", |b| {
        b.iter(|| place_cloud(&neck, black_box(&points), &options).is_ok())
    });
    for (name, base, points) in [("", &base, &points), (", its sides uneven", &even_base, &uneven_points)] {
        let copy = copy_cloud(base, points, &options).expect("a scan of the neck");
        assert!(copy.copied.p_value.is_some_and(|p| p > 1e-6), "{:?}", copy.copied.p_value);
        group.bench_function(format!("copy_cloud{name}"), |b| {
            b.iter(|| copy_cloud(base, black_box(points), &options).is_ok());
        });
    }
    group.finish();
}

criterion_group!(benches, copying);
criterion_main!(benches);
