//! What a copied scan says is to be measured next: a reading that is taken sharpens the copy as was promised.

use crate::cloud_common::{Dice, Patch, Scan, random_pose, rough, scanned, surface};
use crate::copy_common::depth_at;
use neckwright::inspect::{Copied, Measured, Reading, Readings, copy_cloud, copy_neck};
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{CloudOptions, CopyOptions, Judging, KnotChoice, Specification};

/// The back is scanned at both ends of the shaft only: what is between is told by the curve alone.
#[test]
fn suggestions_after_a_scan_keep_their_promise() {
    for seed in [31, 32, 33] {
        let mut dice = Dice(seed);
        let mut spec = Specification::default();
        spec.nut.width = Length::from_mm(42.0 + 2.0 * dice.flat());
        let neck = Neck::new(&spec).unwrap();
        let base = rough(&neck, &mut dice);
        let seen = |patch: Patch, x: f64| patch != Patch::Back || !(180.0..440.0).contains(&x);
        let scan = Scan { count: 20_000, seen: &seen, ..crate::cloud_common::WHOLE };
        let pose = random_pose(&mut dice, 300.0);
        let points = scanned(surface(&neck, &mut dice, &scan), &mut dice, &scan, pose);
        let copying = CopyOptions {
            stations: KnotChoice::Base,
            lean: Judging::Never,
            uneven: Judging::Never,
            ..CopyOptions::default()
        };
        let options = CloudOptions { copying: copying.clone(), ..CloudOptions::default() };
        let cloud = copy_cloud(&base, &points, &options).unwrap();
        let copied = &cloud.copied;
        let next = copied.sharpest_next(3);
        assert_eq!(next.len(), 3);
        assert!((next[0].before_mm - copied.mean_uncertainty_mm()).abs() < 1e-12);
        let made = Neck::new(&copied.specification).unwrap();
        let mut all = cloud.readings.clone().into_vec();
        let again = |all: &[Reading]| {
            copy_neck(&copied.specification, &Readings::new(all.to_vec()).unwrap(), &copying).unwrap()
        };
        let [from, to] = made.shaft_reach_mm();
        let shaft = (1..20).map(|i| from.max(0.0) + (to - from.max(0.0)) * f64::from(i) / 20.0);
        let told = |copied: &Copied, x: f64| copied.thickness_uncertainty_mm(x).unwrap();
        let mut last = again(&all);
        assert!(copied.mean_uncertainty_mm() > last.mean_uncertainty_mm(), "the pose's part is in it");
        for s in &next {
            let x = made.layout().station_mm(&s.at).unwrap();
            let value_mm = match s.measured {
                Measured::Thickness => neck.thickness_mm(x).unwrap(),
                Measured::Width => neck.width_mm(x).unwrap(),
                Measured::CarveLine(side) => neck.carve_line_mm(x, side).unwrap(),
                Measured::Point { across_mm } => depth_at(&neck, x, across_mm),
                other => panic!("{other:?} is not suggested"),
            };
            let (at, measured, uncertainty_mm) = (s.at, s.measured, s.uncertainty_mm);
            all.push(Reading { at, measured, value_mm, uncertainty_mm, line: 0 });
            let now = again(&all);
            // The same share of what is unsure goes: the pose's part, which copied readings know nothing of, is small.
            let [share, promised] =
                [now.mean_uncertainty_mm() / last.mean_uncertainty_mm(), s.after_mm / s.before_mm];
            assert!(
                promised < 0.99 && (share / promised - 1.0).abs() < 0.01,
                "{share} and {promised}: {s:?}"
            );
            assert!(shaft.clone().all(|x| told(&now, x) <= told(&last, x) * 1.001), "{s:?}");
            last = now;
        }
        // One thickness more, as sharp as is known already: the weights add up (JCGM 100:2008, 5.1.2, turned round).
        for fret in [2.0, 7.0, 12.0] {
            let x = made.station_mm(fret).unwrap();
            let was = told(&last, x);
            let thick = Reading {
                at: Station::Fret(fret),
                measured: Measured::Thickness,
                value_mm: neck.thickness_mm(x).unwrap(),
                uncertainty_mm: was,
                line: 0,
            };
            let is = told(&again(&[all.clone(), vec![thick]].concat()), x);
            assert!((is / was * std::f64::consts::SQRT_2 - 1.0).abs() < 0.02, "fret {fret}: {was} to {is}");
        }
    }
}
