//! A neck copied from exact readings.

mod copy_common;

use copy_common::{Chance, planted, readings, truth_of};
use neckwright::inspect::copy_neck;
use neckwright::shape::Neck;
use neckwright::spec::CopyOptions;

#[test]
fn exact_readings_give_the_numbers_back() {
    let mut chance = Chance::new(1);
    let mut worst = 0.0_f64;
    for i in 0..400 {
        let uneven = i % 4 == 3;
        let p = planted(&mut chance, uneven);
        let all = readings(&p, 12 - i % 4, 0.001);
        let copied = match copy_neck(&p.base, &all, &CopyOptions::default()) {
            Ok(c) => c,
            Err(e) if std::env::var("SHOW").is_ok() => {
                println!("BAD {i} {e}");
                continue;
            }
            Err(e) => panic!("{i}: {e}"),
        };
        if std::env::var("SHOW").is_ok() {
            println!("{i} chi2 {} dof {} kept {:?}", copied.chi2, copied.degrees_of_freedom, copied.kept);
            for n in &copied.numbers {
                println!("{n:?} {}", truth_of(&p, &copied.specification, &n.path));
            }
        }
        for n in &copied.numbers {
            let off = (n.value - truth_of(&p, &copied.specification, &n.path)).abs();
            if std::env::var("SHOW").is_ok() && off > 1e-6 {
                println!("BAD {i}");
                break;
            }
            assert!(off <= 1e-6, "neck {i}: {n:?} is off by {off}, steps {}", copied.steps);
            worst = worst.max(off);
        }
        if std::env::var("SHOW").is_ok() {
            continue;
        }
        let again = Neck::new(&copied.specification).unwrap();
        let [from, to] = p.neck.shaft_reach_mm();
        for k in 0..=50 {
            let x = from + (to - from) * f64::from(k) / 50.0;
            let off = (again.thickness_mm(x).unwrap() - p.neck.thickness_mm(x).unwrap()).abs();
            assert!(off <= 1e-6, "neck {i} at {x}: {off}");
        }
        let expected = 3 + 2 + 3 + 2 + 2 * if uneven { 6 } else { 3 };
        assert_eq!(copied.numbers.len(), expected, "neck {i}: {:?}", copied.kept);
    }
    println!("greatest error of a number {worst:e}");
}
