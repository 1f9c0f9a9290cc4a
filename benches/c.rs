//! What a call through the C interface costs over the same call in Rust, in the same run.

use criterion::{Criterion, criterion_group, criterion_main};
use neckwright::shape::Neck;
use neckwright_c::{NW_OK, NwError, NwNeck, nw_neck_from_json, nw_neck_thickness_mm, nw_neck_width_mm};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// A query of the C interface at stations.
type Query = unsafe extern "C" fn(*const NwNeck, *const f64, usize, *mut f64, *mut *mut NwError) -> u32;

/// Prints what a call through C costs above the same in Rust: the median over pairs of batches that were timed one after the other.
fn print_difference<R, C>(name: &str, mut rust: impl FnMut() -> R, mut c: impl FnMut() -> C) {
    const BATCHES: usize = 201;
    const CALLS: u32 = 20_000;
    let nanoseconds = |call: &mut dyn FnMut()| {
        let begun = Instant::now();
        call();
        begun.elapsed().as_secs_f64() * 1e9 / f64::from(CALLS)
    };
    let (mut above, mut floors) = (Vec::new(), Vec::new());
    for _ in 0..BATCHES {
        let floor = nanoseconds(&mut || (0..CALLS).for_each(|_| drop(black_box(rust()))));
        let through_c = nanoseconds(&mut || (0..CALLS).for_each(|_| drop(black_box(c()))));
        above.push(through_c - floor);
        floors.push(floor);
    }
    let median = |values: &mut Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values[BATCHES / 2]
    };
    println!("{name}: {:.1} ns above the {:.1} ns in Rust", median(&mut above), median(&mut floors));
}

fn one_station(criterion: &mut Criterion) {
    let neck = Neck::from_json("{}").expect("a neck");
    let mut handle = std::ptr::null_mut();
    // SAFETY: the text ends in a zero byte; both places are local variables.
    let code = unsafe { nw_neck_from_json(c"{}".as_ptr(), &raw mut handle, std::ptr::null_mut()) };
    assert_eq!(code, NW_OK);
    let mut group = criterion.benchmark_group("one station");
    group.sample_size(100).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    let x_mm = [160.0];
    let through_c = |query: Query| {
        let (mut out, mut error) = ([0.0], std::ptr::null_mut());
        // SAFETY: the handle lives; the arrays have one element each; `error` is a local variable.
        let code = unsafe {
            black_box(query)(
                handle,
                black_box(&x_mm).as_ptr(),
                1,
                black_box(&mut out).as_mut_ptr(),
                &raw mut error,
            )
        };
        (code, out)
    };
    assert_eq!(through_c(nw_neck_thickness_mm), (NW_OK, [neck.thickness_mm(x_mm[0]).expect("on the neck")]));
    group.bench_function("floor: thickness in Rust", |b| b.iter(|| neck.thickness_mm(black_box(x_mm[0]))));
    group.bench_function("nw_neck_thickness_mm", |b| b.iter(|| through_c(nw_neck_thickness_mm)));
    group.bench_function("floor: width in Rust", |b| b.iter(|| neck.width_mm(black_box(x_mm[0]))));
    group.bench_function("nw_neck_width_mm", |b| b.iter(|| through_c(nw_neck_width_mm)));
    group.finish();
    let x = || black_box(x_mm[0]);
    print_difference("nw_neck_thickness_mm", || neck.thickness_mm(x()), || through_c(nw_neck_thickness_mm));
    print_difference("nw_neck_width_mm", || neck.width_mm(x()), || through_c(nw_neck_width_mm));
    // SAFETY: made above, not freed yet, and used by nobody any more.
    unsafe { neckwright_c::nw_neck_free(handle) };
}

criterion_group!(benches, one_station);
criterion_main!(benches);
