//! Two necks compared: what is promised of the greatest difference, against sampling.

use crate::common::necks;
use crate::compare_common::{distance, pairs, sides, witness};
use neckwright::inspect::Difference;
use neckwright::shape::Neck;
use neckwright::spec::numbers;

/// How far a proven bound may lie above the difference that is told.
const PROMISED: f64 = 1e-6;

fn shared(one: &Neck, two: &Neck) -> [f64; 2] {
    let (a, b) = (one.wood_reach_mm(), two.wood_reach_mm());
    [a[0].max(b[0]), a[1].min(b[1])]
}

/// The back's greatest difference is really taken where it is told to be, and no sampling finds a greater one than is proven.
#[test]
fn no_sample_lies_above_the_proven_bound() {
    let necks = necks(220);
    let mut next = numbers(64);
    let (mut widest, mut open, mut below) = (0.0_f64, 0, 0.0_f64);
    let pairs = pairs(&necks, &mut next);
    assert!(pairs.len() >= 190, "{} pairs", pairs.len());
    for (i, (one, two)) in pairs.iter().enumerate() {
        let found = one.compare(two);
        let back = found.back;
        let [from, to] = shared(one, two);
        let place = [back.across_mm, -back.depth_mm];
        let both = [sides(two, back.x_mm), sides(one, back.x_mm)];
        // The place lies on one of the necks, and that far from the other.
        let off = both.map(|other| (distance(place, &other) - back.size_mm()).abs());
        assert!(off[0].min(off[1]) < 1e-9, "pair {i}: {back:?} {off:?}");
        let mut stations: Vec<f64> =
            (0..=16).map(|k| (from + (to - from) * f64::from(k) / 16.0).min(to)).collect();
        stations.push(back.x_mm);
        stations.sort_by(f64::total_cmp);
        let (greatest, at) = witness([one, two], &stations, 24);
        assert!(greatest <= back.proven_mm + 1e-9, "pair {i}: {greatest} at {at:?} beyond {back:?}");
        below = below.max(back.proven_mm - greatest);
        let gap = back.proven_mm - back.size_mm();
        widest = widest.max(gap);
        if gap > PROMISED {
            open += 1;
            println!("pair {i}: given up at {gap:.1e} of {back:?}");
        }
    }
    println!(
        "{} pairs, widest gap {widest:.2e}, {open} given up; witness at most {below:.1e} below",
        pairs.len()
    );
    assert!(open == 0, "{open} pairs were given up");
}

fn parts(one: &Neck, two: &Neck) -> Vec<Option<Difference>> {
    let c = one.compare(two);
    vec![Some(c.back), c.side_faces, c.board_face, c.board_edges, c.headstock_face, c.headstock_edges]
}

#[test]
fn either_neck_finds_the_same_of_the_other() {
    let necks = necks(60);
    for (i, (one, two)) in pairs(&necks, &mut numbers(3)).iter().enumerate() {
        for (a, b) in parts(one, two).iter().zip(parts(two, one)) {
            assert_eq!(a.is_some(), b.is_some(), "pair {i}");
            let (Some(a), Some(b)) = (a, b) else { continue };
            assert!((a.size_mm() - b.size_mm()).abs() <= PROMISED, "pair {i}: {a:?} and {b:?}");
            assert!(a.size_mm() <= a.proven_mm && a.proven_mm <= a.size_mm() + PROMISED, "pair {i}: {a:?}");
        }
    }
}

/// Whether they are within a tolerance is told rightly on either side of the greatest difference.
#[test]
fn within_is_what_the_greatest_says() {
    let necks = necks(60);
    for (i, (one, two)) in pairs(&necks, &mut numbers(9)).iter().enumerate() {
        let greatest = one.compare(two).greatest;
        assert!(one.within(two, greatest.proven_mm + 2.0 * PROMISED), "pair {i}: {greatest:?}");
        assert!(greatest.size_mm() < PROMISED || !one.within(two, greatest.size_mm() - PROMISED), "pair {i}");
        for wrong in [-1.0, f64::NAN, f64::NEG_INFINITY] {
            assert!(!one.within(two, wrong), "pair {i}");
        }
    }
}
