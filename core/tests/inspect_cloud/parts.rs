//! Scans that lack a side wall, both, or the face: the copy is as sure as it says, or it says that it does not know.

use crate::cloud_common::{Dice, Patch, Scan, WHOLE, random_pose, rough, scanned, square_nuts, surface};
use neckwright::inspect::{Copied, copy_cloud};
use neckwright::measure::{Angle, Length};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{CloudOptions, Specification};

type Density<'a> = &'a dyn Fn(Patch, Side, f64) -> f64;

/// How far a face of the base's headstock or heel is off, mm (standard): what a pose is told to rest on there.
const BASE_OFF_MM: f64 = 0.5;
/// Known no better than that, a thickness is one that the copy says it does not know.
const UNSURE_MM: f64 = 0.1;

/// A scan of a neck whose headstock and heel block are not quite the base's: every face of them lies off, each by itself. The
/// shaft is as it is. Points of the neck's own frame.
fn other_ends(neck: &Neck, points: &mut [[f64; 3]], dice: &mut Dice) {
    let mut off = || BASE_OFF_MM * dice.normal();
    let (bass, treble, back, face, heel) = (off(), off(), off(), off(), off());
    let root = neck.headstock().root_x_mm;
    let block = neck.heel().block_x_mm;
    let (laws, hand) = (neck.laws(), neck.hand_sign());
    for [x, y, z] in points {
        let at = |law: &neckwright::law::Law| law.at(x.clamp(law.start(), law.end())).unwrap();
        if *x < root {
            let deep = (-*z - at(laws.face_depth)) / (at(laws.spine_depth) - at(laws.face_depth));
            let side = if hand * *y < 0.0 { Side::Bass } else { Side::Treble };
            // An edge, and all that lies between the edges, goes along.
            let share = (hand * *y / at(laws.half_width.of(side))).clamp(-1.0, 1.0);
            *y += hand * 0.5 * (treble * (1.0 + share) - bass * (1.0 - share));
            *z += face * (1.0 - deep) - back * deep;
        } else if *x > block && -*z > neck.layout().board().thickness_mm() + 1.0 {
            *z -= heel * (-*z) / at(laws.spine_depth);
        }
    }
}

/// The numbers that the copy tells, by how far they lie off the truth and how far they are told to.
fn told(copied: &Copied, neck: &Neck) -> Vec<(String, f64, f64)> {
    let truth = neck.normalised();
    let mut all = vec![("nut.width".to_string(), truth.nut.width.mm())];
    for (k, width) in truth.fretboard.widths.iter().flatten().enumerate() {
        all.push((format!("fretboard.widths[{k}].width"), width.width.mm()));
    }
    for (k, thickness) in truth.shaft.thickness.iter().enumerate() {
        all.push((format!("shaft.thickness[{k}].thickness"), thickness.thickness.mm()));
    }
    let number =
        |(path, value): (String, f64)| copied.number(&path).map(|n| (path, n.value - value, n.uncertainty));
    all.into_iter().filter_map(number).collect()
}

/// Of some necks: how many were refused, in how many thickness and width were told to be unknown, and the mean squares of
/// what thicknesses and widths are off, over their uncertainties, and the furthest.
struct Tried {
    refused: usize,
    unsure: [usize; 2],
    square: [f64; 2],
    furthest: [f64; 2],
}

fn tried(name: &str, density: Density<'_>, count: usize) -> Tried {
    let (mut refused, mut unsure) = (0, [0; 2]);
    let (mut sums, mut counts, mut furthest) = ([0.0; 2], [0.0; 2], [0.0_f64; 2]);
    for (i, neck) in square_nuts(count).iter().enumerate() {
        let mut dice = Dice(11_000 + i as u64);
        let pose = random_pose(&mut dice, 400.0);
        let scan = Scan { count: 30_000, density, ..WHOLE };
        let mut points = surface(neck, &mut dice, &scan);
        other_ends(neck, &mut points, &mut dice);
        let points = scanned(points, &mut dice, &scan, pose);
        let base = rough(neck, &mut dice);
        let copy = match copy_cloud(&base, &points, &CloudOptions::default()) {
            Ok(copy) => copy,
            Err(error) => {
                assert!(!error.faults()[0].remedy.is_empty(), "{error}");
                println!("{name} {i}: {error}");
                refused += 1;
                continue;
            }
        };
        let mut widest = [0.0_f64; 2];
        for (path, off, told) in told(&copy.copied, neck) {
            let which = usize::from(path.contains("width"));
            let z = off / told;
            sums[which] += z * z;
            counts[which] += 1.0;
            furthest[which] = furthest[which].max(z.abs());
            widest[which] = widest[which].max(told);
            if z.abs() > 3.0 {
                println!("{name} {i}: {path} off by {off:.4} mm, told {told:.4}");
            }
        }
        for (count, told) in unsure.iter_mut().zip(widest) {
            *count += usize::from(told > UNSURE_MM);
        }
    }
    let square = [0, 1].map(|k| sums[k] / counts[k]);
    println!(
        "{name}: refused {refused}, unsure {unsure:?}, squares {square:.2?} of {counts:?}, furthest {furthest:.1?}"
    );
    Tried { refused, unsure, square, furthest }
}

/// Thicknesses and widths of 16 necks are neither surer nor less sure than they are: of a normal error the mean square is 1. The
/// ends' errors are common to all numbers of a neck, so it is told by some thirty independent ones, with a standard deviation of
/// `sqrt(2/30)`, a quarter: 1 to within three of it. The furthest of a hundred normal numbers lies beyond 4 once in 150 such sets.
fn holds(name: &str, density: Density<'_>, most: [f64; 2], furthest: f64) -> Tried {
    let tried = tried(name, density, 16);
    for (square, most) in tried.square.iter().zip(most) {
        assert!((0.25..most).contains(square), "{name}: {:?}", tried.square);
    }
    assert!(tried.furthest.iter().all(|f| *f < furthest), "{name}: {:?}", tried.furthest);
    tried
}

#[test]
fn a_whole_scan_is_as_sure_as_it_says_though_headstock_and_heel_are_others() {
    let Tried { refused, unsure, .. } = holds("whole", &|_, _, _| 1.0, [1.75; 2], 4.0);
    assert_eq!((refused, unsure), (0, [0; 2]));
}

/// Widths are told a third too sure here, as the docs of `copy_cloud` say: 1.9 is the mean square that was measured, 2.5 is two
/// standard deviations above it.
#[test]
fn without_the_face_the_copy_is_as_unsure_as_headstock_and_heel() {
    let face: Density<'_> = &|patch, _, _| f64::from(patch != Patch::Face);
    let Tried { refused, unsure, .. } = holds("no face of the board", face, [1.75, 2.5], 4.5);
    assert_eq!(refused + unsure[0], 16);
}

/// Seen over a part of the length only, the face does not hold the depth, and a side is no side.
#[test]
fn a_face_that_is_shown_over_a_part_of_the_length_holds_nothing() {
    let face: Density<'_> = &|patch, _, x| f64::from(patch != Patch::Face || x < 60.0);
    let Tried { refused, unsure, .. } = holds("the face before 60 mm only", face, [1.75, 2.5], 4.5);
    assert_eq!(refused + unsure[0], 16);
    for from in [200.0, 300.0] {
        let bass: Density<'_> =
            &|patch, side, x| f64::from(patch != Patch::Wall || side != Side::Bass || x < 0.0 || x > from);
        assert_eq!(tried("the bass side further on only", bass, 4).refused, 4, "{from}");
    }
}

/// No headstock is sawn to a tenth of a degree: half a degree is a millimetre and a half at the tip.
#[test]
fn a_headstock_at_another_angle_moves_no_thickness() {
    for (i, by) in [-0.5, -0.2, -0.1, 0.1, 0.2, 0.3].into_iter().enumerate() {
        let mut base = Specification::default();
        let angle = Neck::new(&base).unwrap().normalised().headstock.angle.deg();
        let mut spec = base.clone();
        spec.headstock.angle = Angle::from_deg(angle + by);
        let neck = Neck::new(&spec).unwrap();
        for (k, t) in base.shaft.thickness.iter_mut().enumerate() {
            t.thickness = Length::from_mm(t.thickness.mm() + if k % 2 == 0 { 0.5 } else { -0.4 });
        }
        let mut dice = Dice(14_000 + i as u64);
        let pose = random_pose(&mut dice, 400.0);
        let scan = Scan { count: 200_000, ..WHOLE };
        let points = scanned(surface(&neck, &mut dice, &scan), &mut dice, &scan, pose);
        let copy = copy_cloud(&base, &points, &CloudOptions::default()).unwrap();
        let made = Neck::new(&copy.copied.specification).unwrap();
        let [from, to] = neck.shaft_reach_mm();
        let (mut worst, mut furthest) = (0.0_f64, 0.0_f64);
        for k in 0..=100 {
            let x = from + (to - from) * f64::from(k) / 100.0;
            let off = (made.thickness_mm(x).unwrap() - neck.thickness_mm(x).unwrap()).abs();
            worst = worst.max(off);
            furthest = furthest.max(off / copy.copied.thickness_uncertainty_mm(x).unwrap());
        }
        println!("{by} degrees: off by {worst:.4} mm, {furthest:.1} of its uncertainty");
        assert!(worst < 0.02 && furthest < 4.0, "{by} degrees: {worst} mm, {furthest}");
    }
}

/// What the back alone tells of the width is no width.
#[test]
fn without_a_side_there_is_no_copy() {
    let wall: &dyn Fn(Patch) -> f64 = &|patch| f64::from(patch != Patch::Wall);
    let bass: Density<'_> = &|patch, side, _| if side == Side::Bass { wall(patch) } else { 1.0 };
    let treble: Density<'_> = &|patch, side, _| if side == Side::Treble { wall(patch) } else { 1.0 };
    let board: Density<'_> = &|patch, side, x| if x > 0.0 { bass(patch, side, x) } else { 1.0 };
    let both: Density<'_> = &|patch, _, _| wall(patch);
    for (name, density) in
        [("bass side", bass), ("treble side", treble), ("board's bass side", board), ("both", both)]
    {
        assert_eq!(tried(name, density, 4).refused, 4, "{name}");
    }
}
