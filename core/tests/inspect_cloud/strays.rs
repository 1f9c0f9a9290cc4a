//! Points that lie off the neck, near it and far: the pose is right, or the scan is refused.

use crate::cloud_common::{Dice, Patch, Scan, WHOLE, random_pose, scanned, square_nuts, surface};
use neckwright::inspect::{Departure, place_cloud};
use neckwright::shape::Neck;
use neckwright::spec::{CloudOptions, Specification};

/// How far from the middle of the neck the strays lie, along, across and up, mm: along a little further than the neck.
const BOXES: [[f64; 3]; 4] =
    [[350.0, 40.0, 40.0], [375.0, 150.0, 150.0], [390.0, 400.0, 400.0], [400.0, 400.0, 150.0]];
/// At most so many of the points lie off.
const SHARES: [f64; 6] = [0.05, 0.15, 0.22, 0.24, 0.27, 0.29];

#[test]
fn strays_near_and_far_leave_the_pose_as_it_is() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let [from, to] = neck.reach_mm();
    let (mut right, mut count, mut worst) = (0, 0, 0.0_f64);
    for half in BOXES {
        for share in SHARES {
            let mut dice = Dice(7 + count);
            let scan = crate::cloud_common::Scan { count: 30_000, outliers: 0.0, ..WHOLE };
            let mut points = surface(&neck, &mut dice, &scan);
            let clean = scanned(
                points.clone(),
                &mut dice,
                &scan,
                ([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]], [0.0; 3]),
            );
            for (p, seen) in points.iter_mut().zip(clean) {
                *p = seen;
                if dice.flat() < share {
                    let middle = [0.5 * (from + to), 0.0, -10.0];
                    *p = [0, 1, 2].map(|k| middle[k] + half[k] * (2.0 * dice.flat() - 1.0));
                }
            }
            let (rotation, shift) = random_pose(&mut dice, 500.0);
            let quiet = crate::cloud_common::Scan { noise: 0.0, ..scan };
            let points = scanned(points, &mut dice, &quiet, (rotation, shift));
            count += 1;
            let placed = match place_cloud(&neck, &points, &CloudOptions::default()) {
                Ok(placed) => placed,
                Err(error) => {
                    println!("{half:?}, {share}: {error}");
                    continue;
                }
            };
            let mut off = 0.0_f64;
            for x in [from, 0.5 * (from + to), to] {
                for (y, z) in [(-25.0, 0.0), (25.0, 0.0), (0.0, -25.0)] {
                    let p = [x, y, z];
                    let q = [0, 1, 2].map(|i| (0..3).map(|j| rotation[i][j] * p[j]).sum::<f64>() + shift[i]);
                    let back = placed.pose.to_neck_mm(q);
                    off = (0..3).map(|k| (back[k] - p[k]).abs()).fold(off, f64::max);
                }
            }
            worst = worst.max(off);
            assert!(off < 0.05, "{half:?}, {share}: off by {off}");
            assert!((placed.outlier_share - share).abs() < 0.03, "{share}: {}", placed.outlier_share);
            right += 1;
        }
    }
    println!("{right} of {count} right, off by {worst:.4} mm at most at the ends");
    assert!(right + 2 >= count, "{right} of {count}");
}

/// Of necks that are the base's noise alone makes a departure in one of a hundred scans, but beside the nut, where faces meet within
/// the noise; strays that come together where nothing was scanned make none either.
#[test]
fn neither_noise_nor_strays_depart() {
    let mut alarms = 0;
    let no_face: &dyn Fn(Patch, f64) -> bool = &|patch, _| patch != Patch::Face;
    for (i, neck) in square_nuts(16).iter().enumerate() {
        let mut dice = Dice(15_000 + i as u64);
        let pose = random_pose(&mut dice, 400.0);
        let scan = match i % 2 {
            0 => Scan { count: 600_000, ..WHOLE },
            _ => Scan { count: 200_000, outliers: 0.2, seen: no_face, ..WHOLE },
        };
        let points = scanned(surface(neck, &mut dice, &scan), &mut dice, &scan, pose);
        let placed = place_cloud(neck, &points, &CloudOptions::default()).unwrap();
        let beside_nut = |d: &Departure| d.station_mm.abs() < 5.0 && d.departure_mm.abs() < 0.04;
        if let Some(first) = placed.departures.iter().find(|d| !beside_nut(d)) {
            println!("neck {i}: {} departures, {first:?}", placed.departures.len());
            alarms += 1;
        }
    }
    // A chance of 0.15 of one, and of 0.01 of two.
    assert!(alarms <= 1, "{alarms} of 16");
}
