//! The pose of a scan, alone: planted and found again.

use crate::cloud_common::{Dice, Patch, Posed, Scan, random_pose, rough, scanned, square_nuts, surface};
use nalgebra::{Matrix3, Vector3};
use neckwright::inspect::{CloudPart, Measured, PlacedCloud, place_cloud};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{CloudHand, CloudOptions, EdgePoint, Hand, HeadstockKind, Post, Specification};

const WHOLE: Scan<'static> = Scan { count: 60_000, ..crate::cloud_common::WHOLE };

fn place(base: &Neck, points: &[[f64; 3]]) -> PlacedCloud {
    place_cloud(base, points, &CloudOptions::default()).unwrap_or_else(|e| panic!("{e}"))
}

/// How far the pose found moves points at the neck's ends off their places, at most, along each axis, mm.
fn off(neck: &Neck, placed: &PlacedCloud, (rotation, shift): Posed) -> [f64; 3] {
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

/// Noise over the root of the points that hold it, at the neck's ends and its edges, five standard deviations.
fn allowed(neck: &Neck, placed: &PlacedCloud) -> [f64; 3] {
    let [from, to] = neck.reach_mm();
    let ([x, y, z], [roll, pitch, yaw]) =
        (placed.pose.shift_uncertainty_mm, placed.pose.turn_uncertainty_deg.map(f64::to_radians));
    let (long, wide) = (0.6 * (to - from), 25.0);
    [
        5.0 * (x + wide * (pitch + yaw)),
        5.0 * (y + long * yaw + wide * roll),
        5.0 * (z + long * pitch + wide * roll),
    ]
}

#[test]
fn the_planted_pose_is_found_to_what_the_noise_leaves() {
    let (mut worst, mut widest, mut alarms) = ([0.0_f64; 3], [0.0_f64; 3], 0);
    for (i, neck) in square_nuts(16).iter().enumerate() {
        let mut dice = Dice(100 + i as u64);
        let pose = random_pose(&mut dice, 500.0);
        let points = scanned(surface(neck, &mut dice, &WHOLE), &mut dice, &WHOLE, pose);
        let placed = place(neck, &points);
        let (off, allowed) = (off(neck, &placed, pose), allowed(neck, &placed));
        for k in 0..3 {
            assert!(off[k] < allowed[k], "neck {i}: {off:?} against {allowed:?}");
            // Across and in depth the board alone tells it at both ends: the headstock's faces may be half a millimetre off, at
            // another angle too.
            assert!(allowed[k] < [0.03, 0.06, 0.05][k], "neck {i}: {allowed:?}");
            worst[k] = worst[k].max(off[k]);
            widest[k] = widest[k].max(allowed[k]);
        }
        assert!((placed.noise_mm - 0.05).abs() < 0.002, "neck {i}: noise {}", placed.noise_mm);
        assert!((placed.rms_mm - 0.05).abs() < 0.002, "neck {i}: rms {}", placed.rms_mm);
        assert!((placed.outlier_share - 0.01).abs() < 0.006, "neck {i}: {} outliers", placed.outlier_share);
        assert_eq!(placed.unseen, []);
        // Of sixteen scans noise makes one in any of them by a chance of 0.15.
        alarms += usize::from(!placed.departures.is_empty());
        let [from, to] = neck.reach_mm();
        let [first, last] = placed.covered_mm;
        assert!((first - from).abs() < 10.0 && (last - to).abs() < 10.0, "neck {i}: {first} to {last}");
    }
    println!("pose off by {worst:.4?} mm at most at the ends, {widest:.4?} allowed, {alarms} alarms");
    assert!(alarms <= 1, "{alarms} scans with departures");
}

#[test]
fn a_rough_base_finds_the_pose_too() {
    let mut worst = [0.0_f64; 3];
    for (i, neck) in square_nuts(16).iter().enumerate() {
        let mut dice = Dice(700 + i as u64);
        let base = Neck::new(&rough(neck, &mut dice)).unwrap();
        let pose = random_pose(&mut dice, 500.0);
        let points = scanned(surface(neck, &mut dice, &WHOLE), &mut dice, &WHOLE, pose);
        let placed = place(&base, &points);
        let off = off(neck, &placed, pose);
        for k in 0..3 {
            worst[k] = worst[k].max(off[k]);
        }
        assert!(off[0] < 0.03 && off[1] < 0.02 && off[2] < 0.015, "neck {i}: {off:?}");
    }
    println!("with a rough base off by {worst:.4?} mm at most at the ends");
}

/// Depth of the back at a place across, by bisection along the curve.
fn depth(neck: &Neck, x: f64, across: f64) -> Option<f64> {
    let section = neck.section(x).ok()?;
    Side::BOTH.into_iter().find_map(|side| {
        let p = section.control_points_mm(side)?.map(|p| [neck.hand_sign() * p[0], p[1]]);
        let at = |k: usize, u: f64| {
            let s = 1.0 - u;
            s * s * s * p[0][k] + 3.0 * s * s * u * p[1][k] + 3.0 * s * u * u * p[2][k] + u * u * u * p[3][k]
        };
        let [a, b] = [p[0][0].min(p[3][0]), p[0][0].max(p[3][0])];
        if !(a..=b).contains(&across) {
            return None;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..60 {
            let mid = 0.5 * (low + high);
            if (at(0, mid) - across) * side.sign() > 0.0 { low = mid } else { high = mid }
        }
        Some(-at(1, low))
    })
}

#[test]
fn the_readings_are_true_to_their_uncertainty() {
    let (mut sum, mut count, mut worst) = (0.0, 0.0, 0.0_f64);
    let mut far = 0;
    for (i, neck) in square_nuts(6).iter().enumerate() {
        let mut dice = Dice(300 + i as u64);
        let pose = random_pose(&mut dice, 500.0);
        let scan = Scan { count: 200_000, ..WHOLE };
        let points = scanned(surface(neck, &mut dice, &scan), &mut dice, &scan, pose);
        let placed = place(neck, &points);
        assert!(placed.readings.len() > 500);
        for reading in &placed.readings {
            let Station::Mm(x) = reading.at else { panic!("{reading:?}") };
            let truth = match reading.measured {
                // Of a point the uncertainty is that of its distance from the outline.
                Measured::Point { across_mm } => {
                    let [a, b, c] = [-0.05, 0.0, 0.05].map(|by| depth(neck, x, across_mm + by));
                    a.zip(c).zip(b).map(|((a, c), b)| (b, 1.0 / libm::hypot(1.0, 10.0 * (c - a))))
                }
                _ => neck.width_mm(x).ok().map(|width| (width, 1.0)),
            };
            let Some((truth, share)) = truth.filter(|(_, share)| *share > 0.3) else { continue };
            let z = share * (reading.value_mm - truth) / reading.uncertainty_mm;
            sum += z * z;
            count += 1.0;
            worst = worst.max(share * (reading.value_mm - truth).abs());
            far += usize::from(z.abs() > 5.0);
        }
    }
    let ratio = libm::sqrt(sum / count);
    println!("{count} readings: {ratio:.3} of their uncertainty, {worst:.4} mm at most, {far} beyond five");
    assert!((0.9..1.2).contains(&ratio), "{ratio}");
    assert!(far < 1 + (count as usize) / 10_000, "{far}");
}

/// The rotation and translation that take one list of points nearest to another, by singular values of their
/// covariance (Arun, Huang & Blostein, IEEE PAMI 9 (1987) 698; Kabsch 1976; memory).
fn closed_form(from: &[[f64; 3]], to: &[[f64; 3]]) -> (Matrix3<f64>, Vector3<f64>) {
    let middle = |points: &[[f64; 3]]| {
        points.iter().map(|p| Vector3::from(*p)).sum::<Vector3<f64>>() / points.len() as f64
    };
    let (a, b) = (middle(from), middle(to));
    let mut h = Matrix3::zeros();
    for (p, q) in from.iter().zip(to) {
        h += (Vector3::from(*p) - a) * (Vector3::from(*q) - b).transpose();
    }
    let svd = h.svd(true, true);
    let (u, v) = (svd.u.unwrap(), svd.v_t.unwrap().transpose());
    let mut sign = Matrix3::identity();
    sign[(2, 2)] = (v * u.transpose()).determinant().signum();
    let r = v * sign * u.transpose();
    (r, b - r * a)
}

#[test]
fn without_noise_the_pose_is_that_of_the_closed_form() {
    let exact = Scan { count: 30_000, noise: 0.0, outliers: 0.0, ..WHOLE };
    for (i, neck) in square_nuts(8).iter().enumerate() {
        let mut dice = Dice(500 + i as u64);
        let pose = random_pose(&mut dice, 300.0);
        let truth = surface(neck, &mut dice, &exact);
        let points = scanned(truth.clone(), &mut dice, &exact, pose);
        let (r, t) = closed_form(&points, &truth);
        let placed = place(neck, &points);
        let mut worst = 0.0_f64;
        for p in points.iter().step_by(100) {
            let (a, b) = (r * Vector3::from(*p) + t, Vector3::from(placed.pose.to_neck_mm(*p)));
            worst = worst.max((a - b).norm());
        }
        println!("neck {i}: {worst:.2e} mm from the closed form, rms {:.2e}", placed.rms_mm);
        assert!(worst < 2e-4, "neck {i}: {worst}");
        // There and back.
        let p = points[7];
        let q = placed.pose.to_scan_mm(placed.pose.to_neck_mm(p));
        assert!((0..3).all(|k| (p[k] - q[k]).abs() < 1e-9));
    }
}

#[test]
fn scans_of_a_part_find_it_too_and_tell_what_they_lack() {
    let back: &dyn Fn(Patch, f64) -> bool =
        &|patch, _| matches!(patch, Patch::Wall | Patch::Back | Patch::Tip | Patch::Heel);
    let board: &dyn Fn(Patch, f64) -> bool = &|_, x| x > -2.0;
    let head: &dyn Fn(Patch, f64) -> bool = &|_, x| x < 250.0;
    let lacking = [
        (back, vec![CloudPart::HeadstockFace]),
        (board, vec![CloudPart::HeadstockFace, CloudPart::HeadstockBack]),
        (head, vec![]),
    ];
    for (k, (seen, lacks)) in lacking.into_iter().enumerate() {
        let mut worst = [0.0_f64; 3];
        for (i, neck) in square_nuts(5).iter().enumerate() {
            let mut dice = Dice(900 + i as u64);
            let base = Neck::new(&rough(neck, &mut dice)).unwrap();
            let pose = random_pose(&mut dice, 300.0);
            let scan = Scan { seen, ..WHOLE };
            let points = scanned(surface(neck, &mut dice, &scan), &mut dice, &scan, pose);
            let placed = place(&base, &points);
            let off = off(neck, &placed, pose);
            assert!(off[0] < 0.05 && off[1] < 0.03 && off[2] < 0.02, "neck {i}, scan {k}: {off:?}");
            assert!(lacks.iter().all(|part| placed.unseen.contains(part)), "neck {i}: {:?}", placed.unseen);
            assert!(!placed.unseen.contains(&CloudPart::Back));
            for k in 0..3 {
                worst[k] = worst[k].max(off[k]);
            }
        }
        println!("scan {k} of a part: off by {worst:.4?} mm at most at the ends");
    }
}

/// A neck whose headstock has its tuners on one side: its mirror image is another.
fn one_sided(hand: Hand) -> Neck {
    let edge = |list: [(f64, f64); 4]| {
        let point =
            |(along, offset)| EdgePoint { along: Length::from_mm(along), offset: Length::from_mm(offset) };
        Some(list.map(point).to_vec())
    };
    let mut spec = Specification { hand, ..Specification::default() };
    spec.headstock.kind = HeadstockKind::Level;
    spec.headstock.length = Some(Length::from_mm(190.0));
    spec.headstock.bass_edge = edge([(30.0, 24.0), (70.0, 34.0), (150.0, 30.0), (190.0, 26.0)]);
    spec.headstock.treble_edge = edge([(30.0, 30.0), (70.0, 52.0), (150.0, 48.0), (190.0, 30.0)]);
    let post =
        |i: u32| Post { along: Length::from_mm(60.0 + 22.0 * f64::from(i)), offset: Length::from_mm(10.0) };
    spec.headstock.posts = Some((0..6).map(post).collect());
    Neck::new(&spec).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn a_mirrored_neck_is_told_from_the_base() {
    for (base, scanned_hand) in [
        (Hand::Right, Hand::Right),
        (Hand::Right, Hand::Left),
        (Hand::Left, Hand::Right),
        (Hand::Left, Hand::Left),
    ] {
        let (base, truth) = (one_sided(base), one_sided(scanned_hand));
        let mut dice = Dice(77);
        let pose = random_pose(&mut dice, 300.0);
        let points = scanned(surface(&truth, &mut dice, &WHOLE), &mut dice, &WHOLE, pose);
        let placed = place(&base, &points);
        assert_eq!(placed.pose.hand, scanned_hand);
        let off = off(&truth, &placed, pose);
        assert!(off.iter().all(|o| *o < 0.02), "{off:?}");
        let [given, mirrored] = placed.hands_rms_mm.unwrap();
        let same = base.normalised().hand == scanned_hand;
        assert_eq!(same, given < mirrored, "{given} and {mirrored}");
        // Asked to believe the base it fits badly, or says so.
        let believing = CloudOptions { hand: CloudHand::AsBase, ..CloudOptions::default() };
        if let Ok(placed) = place_cloud(&base, &points, &believing) {
            assert_eq!(placed.pose.hand, base.normalised().hand);
            assert_eq!(placed.hands_rms_mm, None);
            assert_eq!(same, placed.outlier_share < 0.03, "{}", placed.outlier_share);
        }
    }
}

#[test]
fn the_same_points_give_the_same_bits() {
    let neck = &square_nuts(1)[0];
    let mut dice = Dice(5);
    let pose = random_pose(&mut dice, 300.0);
    let scan = Scan { count: 20_000, ..WHOLE };
    let points = scanned(surface(neck, &mut dice, &scan), &mut dice, &scan, pose);
    assert_eq!(place(neck, &points), place(neck, &points));
}
