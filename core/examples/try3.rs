//! Scratch.
#![allow(unused)]
#[path = "../tests/common/mod.rs"]
mod common;
use neckwright::shape::*;
fn main() {
    let n = &common::necks(3)[2];
    println!("{}", n.specification().to_json());
    println!("{:?}", n.least_rod_wall());
    println!("{:?}", n.shaft_reach_mm());
    for i in 0..200 {
        let x = 0.0 + i as f64 * 0.25;
        println!("{x} {:?}", n.rod_wall_mm(x));
    }
    let l = n.laws();
    println!("{:?}\n{:?}", l.control_out.bass[1].breaks(), l.control_depth.bass[1].breaks());
}
