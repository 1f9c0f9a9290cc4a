//! The pose of a scan, alone: planted and found again.

mod cloud_common;
mod common;

use cloud_common::{Dice, Scan, random_pose, scanned, surface};
use common::necks;
use neckwright::inspect::{PlacedCloud, place_cloud};
use neckwright::shape::Neck;
use neckwright::spec::CloudOptions;

fn square_nuts(count: usize) -> Vec<Neck> {
    let all = necks(3 * count);
    let square = all.into_iter().filter(|n| n.layout().nut_line().slope == 0.0);
    square.take(count).collect()
}

/// How far the points of the neck are moved by what the pose found is off the planted one, at most, mm.
fn off(neck: &Neck, placed: &PlacedCloud, (rotation, shift): ([[f64; 3]; 3], [f64; 3])) -> [f64; 3] {
    let [from, to] = neck.reach_mm();
    let mut most = [0.0_f64; 3];
    for x in [from, 0.5 * (from + to), to] {
        for (y, z) in [(-25.0, 0.0), (25.0, 0.0), (0.0, -25.0)] {
            let p = [x, y, z];
            let q = [0, 1, 2].map(|i| (0..3).map(|j| rotation[i][j] * p[j]).sum::<f64>() + shift[i]);
            let back = placed.pose.to_neck_mm(q);
            for k in 0..3 {
                most[k] = most[k].max((back[k] - p[k]).abs());
            }
        }
    }
    most
}

#[test]
fn the_planted_pose_is_found() {
    for (i, neck) in square_nuts(24).iter().enumerate() {
        let mut dice = Dice(100 + i as u64);
        let scan = Scan { count: 100_000, noise: 0.05, outliers: 0.01, seen: &|_, _| true };
        let pose = random_pose(&mut dice, 500.0);
        let points = scanned(surface(neck, &mut dice, &scan), &mut dice, &scan, pose);
        let started = std::time::Instant::now();
        let placed = match place_cloud(neck, &points, &CloudOptions::default()) {
            Ok(p) => p,
            Err(e) => {
                println!("neck {i}: {e}");
                continue;
            }
        };
        let took = started.elapsed();
        let off = off(neck, &placed, pose);
        println!(
            "neck {i} {:?} {:?}: off {off:.4?}, rms {:.4}, noise {:.4}, out {:.4}, u {:.4?}, hands {:.3?}, unseen {:?}, dep {:?}, {} readings, {took:?}",
            neck.normalised().hand, neck.normalised().headstock.kind,
            placed.rms_mm, placed.noise_mm, placed.outlier_share, placed.pose.shift_uncertainty_mm, placed.hands_rms_mm,
            placed.unseen, placed.departures.len(), placed.readings.len()
        );
    }
}
