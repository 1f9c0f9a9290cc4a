//! Common practice: an evening class's neck with a patch that went too deep.
#![allow(missing_docs)]

use neckwright::inspect::{Measured, Mending, Reading};
use neckwright::measure::Station;
use neckwright::shape::Neck;
use neckwright::spec::{MendLimits, Specification};

fn thickness(fret: f64, inches: f64) -> Reading {
    Reading {
        at: Station::Fret(fret),
        measured: Measured::Thickness,
        value_mm: 25.4 * inches,
        uncertainty_mm: 0.05,
        line: 0,
    }
}

#[test]
fn a_patch_at_the_fifth_fret() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let there = neck.thickness_mm(neck.station_mm(5.0).unwrap()).unwrap() / 25.4;
    let low = [thickness(1.0, 0.86), thickness(5.0, there - 0.02), thickness(12.0, 0.90)];
    for _ in 0..3 {
        let start = std::time::Instant::now();
        let mended = neck.mend(&low, &MendLimits::default()).unwrap();
        println!("{:?}", start.elapsed());
        match mended {
            Mending::Mended(mended) => {
                println!("{} {:?}", mended.removed_mm3, mended.reached);
                println!(
                    "{} ",
                    neck.volume_mm3().filled_mm3() - mended.neck.volume_mm3().filled_mm3() - mended.removed_mm3
                );
                for row in &mended.rows {
                    println!("{row:?}");
                }
            }
            Mending::Impossible(f) => println!("{f:?}"),
        }
    }
}
