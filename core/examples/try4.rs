//! Scratch.
#![allow(unused)]
#[path = "../tests/common/mod.rs"]
mod common;
use neckwright::shape::*;
fn main() {
    let v = common::necks(300);
    let mut t1 = vec![];
    for (k, n) in v.iter().enumerate() {
        let tt = std::time::Instant::now();
        let l = n.least_rod_wall();
        let a = tt.elapsed().as_secs_f64() * 1e6;
        let tt = std::time::Instant::now();
        let c = n.least_curvature();
        let b = tt.elapsed().as_secs_f64() * 1e6;
        t1.push((a, b, k));
        if k == 56 {
            println!("56: {a} {b}");
        }
    }
    t1.sort_by(|p, q| (p.0).total_cmp(&q.0));
    println!("wall median {:?} 90% {:?} max {:?}", t1[150], t1[270], &t1[295..]);
    t1.sort_by(|p, q| (p.1).total_cmp(&q.1));
    println!("curv median {:?} 90% {:?} max {:?}", t1[150], t1[270], &t1[295..]);
}
