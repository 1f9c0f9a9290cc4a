//! Scratch.
#![allow(unused)]
use neckwright::shape::*;
use neckwright::spec::*;
fn main() {
    let spec = Specification::default();
    let t = std::time::Instant::now();
    let neck = match Neck::new(&spec) {
        Ok(n) => n,
        Err(e) => {
            println!("{e}");
            return;
        }
    };
    println!("built {:?}", t.elapsed());
    println!("{:#?}", neck.specification().headstock);
    println!("{:?} {:?} {:?}", neck.reach_mm(), neck.wood_reach_mm(), neck.shaft_reach_mm());
    let [a, b] = neck.reach_mm();
    for i in 0..=40 {
        let x = a + (b - a) * i as f64 / 40.0;
        let s = neck.section(x).unwrap();
        println!(
            "{x:8.2} t={:.3} w={:.3} g={:.3} c={:.3} wall={:?} A={:.3} c={:?} flat={:?} sharp={:?}",
            neck.thickness_mm(x).unwrap(),
            neck.width_mm(x).unwrap(),
            neck.girth_mm(x).unwrap(),
            neck.carve_line_mm(x, Side::Bass).unwrap(),
            neck.rod_wall_mm(x).unwrap(),
            s.area_mm2(),
            s.centroid_mm(),
            s.flattest().map(|b| b.radius_mm()),
            s.sharpest().map(|b| b.radius_mm())
        );
    }
    for f in [1.0, 12.0] {
        let x = neck.layout().station_of_fret_mm(f).unwrap();
        println!("fret {f}: {:?} in", neck.thickness_mm(x).unwrap() / 25.4);
    }
    let t = std::time::Instant::now();
    println!("{:?} {:?}", neck.least_thickness(), t.elapsed());
    let t = std::time::Instant::now();
    println!("{:?} {:?}", neck.least_rod_wall(), t.elapsed());
    let t = std::time::Instant::now();
    println!("{:?} {:?}", neck.least_curvature(), t.elapsed());
    let t = std::time::Instant::now();
    println!("{:?} {:?}", neck.volume(), t.elapsed());
    println!("{:?}", neck.mass());
    println!("{:?}", neck.bounds());
    let n = 1000;
    let t = std::time::Instant::now();
    for _ in 0..n {
        std::hint::black_box(Neck::new(&spec).unwrap());
    }
    println!("new {:?}", t.elapsed() / n);
    let t = std::time::Instant::now();
    for i in 0..100000 {
        std::hint::black_box(neck.section(i as f64 * 0.004).unwrap().area_mm2());
    }
    println!("area {:?}", t.elapsed() / 100000);
    let xs: Vec<f64> = (0..1000000).map(|i| i as f64 * 0.00046).collect();
    let mut out = vec![0.0; xs.len()];
    let t = std::time::Instant::now();
    neck.thickness_mm_into(&xs, &mut out).unwrap();
    println!("thick {:?}", t.elapsed() / 1000000);
    let t = std::time::Instant::now();
    for i in 0..1000 {
        std::hint::black_box((neck.least_thickness(), neck.least_rod_wall(), neck.least_curvature()));
    }
    println!("least all {:?}", t.elapsed() / 1000);
}
