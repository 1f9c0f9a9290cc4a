//! Scratch.
#![allow(unused)]
use neckwright::shape::*;
use neckwright::spec::*;
fn main() {
    let spec = Specification::default();
    let n = 3000;
    let t = std::time::Instant::now();
    for _ in 0..n {
        std::hint::black_box(neckwright::layout::Layout::new(&spec).unwrap());
    }
    println!("layout {:?}", t.elapsed() / n);
    let t = std::time::Instant::now();
    for _ in 0..n {
        std::hint::black_box(spec.check().unwrap());
    }
    println!("check {:?}", t.elapsed() / n);
    let neck = Neck::new(&spec).unwrap();
    let full = neck.specification().clone();
    let t = std::time::Instant::now();
    for _ in 0..n {
        std::hint::black_box(Neck::new(&full).unwrap());
    }
    println!("new full {:?}", t.elapsed() / n);
    let js = spec.to_json();
    let t = std::time::Instant::now();
    for _ in 0..n {
        std::hint::black_box(Neck::from_json(&js).unwrap());
    }
    println!("json full {} {:?}", js.len(), t.elapsed() / n);
    let js = "{}";
    let t = std::time::Instant::now();
    for _ in 0..n {
        std::hint::black_box(Neck::from_json(&js).unwrap());
    }
    println!("json empty {:?}", t.elapsed() / n);
    let t = std::time::Instant::now();
    for _ in 0..n {
        std::hint::black_box(Neck::new(&spec).unwrap());
    }
    println!("new {:?}", t.elapsed() / n);
}
