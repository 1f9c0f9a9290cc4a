//! Scratch.
#![allow(unused)]
#[path = "../tests/common/mod.rs"]
mod common;
use neckwright::shape::*;
fn main() {
    let n = &common::necks(284)[283];
    let rule = common::gauss20();
    println!("{}", n.specification().to_json());
    let v = n.volume();
    println!("{v:?}");
    let mut t = [0.0; 3];
    for w in common::joints(n).windows(2) {
        let f = |p: Part| {
            common::integrate(&rule, w[0], w[1], 1e-10, &mut |x| {
                n.section(x).unwrap().part_moments(p).area_mm2
            })
        };
        let a = common::integrate(&rule, w[0], w[1], 1e-10, &mut |x| n.section(x).unwrap().area_mm2());
        let (b, c) = (f(Part::Fretboard), f(Part::NeckWood));
        t[0] += a;
        t[1] += b;
        t[2] += c;
        println!("{w:?} {a} {b} {c} {}", a - b - c);
    }
    println!("{t:?} wood {}", v.neck_wood_mm3 + v.rod_channel_mm3 + v.tuner_holes_mm3);
}
