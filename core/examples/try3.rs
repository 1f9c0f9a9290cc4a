//! Scratch.
#![allow(unused)]
#[path = "../tests/common/mod.rs"]
mod common;
use neckwright::shape::*;
fn main() {
    let k: usize = std::env::args().nth(1).unwrap().parse().unwrap();
    let n = &common::necks(k + 1)[k];
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
    let e = n.layout().board().nut_ends_mm();
    println!("ends {e:?}");
    for (a, b) in [(e[0], 0.0), (0.0, e[1]), (e[1], e[1] + 1.0)] {
        let mut q = 0.0;
        let m = 200000;
        for i in 0..m {
            let h = (b - a) / m as f64;
            q += h * n.section(a + h * (i as f64 + 0.5)).unwrap().part_moments(Part::Fretboard).area_mm2;
        }
        println!(
            "brute {a} {b} {q} {}",
            common::integrate(&rule, a, b, 1e-10, &mut |x| n
                .section(x)
                .unwrap()
                .part_moments(Part::Fretboard)
                .area_mm2)
        );
    }
    println!("{t:?} wood {}", v.neck_wood_mm3 + v.rod_channel_mm3 + v.tuner_holes_mm3);
    let l = n.least_rod_wall();
    println!("{l:?} at x {:?}", l.map(|l| n.rod_wall_mm(l.x_mm)));
}
