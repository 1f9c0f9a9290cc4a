//! What is promised of a mended neck, against a dense witness.

use super::planted::{depth_at, met};
use crate::common::{gauss20, joints};
use neckwright::inspect::{MendRow, Mended, Reading};
use neckwright::law::Law;
use neckwright::shape::{Neck, Side};
use neckwright::spec::MendLimits;

/// Volume between the crown plane and the back of a neck, by quadrature around every section and along both necks' joints.
pub fn back_volume(neck: &Neck, other: &Neck) -> f64 {
    let rule = gauss20();
    let laws = neck.laws();
    let mut at = [joints(neck), joints(other)].concat();
    at.retain(|x| *x <= neck.wood_reach_mm()[1]);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    let area = |x: f64| -> f64 {
        let side = |side: Side| -> f64 {
            let [o, d] = [laws.control_out, laws.control_depth]
                .map(|l| l.of(side).each_ref().map(|l| l.at(x).unwrap()));
            let at = |u: f64| {
                let r = 1.0 - u;
                let depth =
                    r * r * r * d[0] + 3.0 * r * r * u * d[1] + 3.0 * r * u * u * d[2] + u * u * u * d[3];
                depth * 3.0 * (r * r * (o[0] - o[1]) + 2.0 * r * u * (o[1] - o[2]) + u * u * (o[2] - o[3]))
            };
            rule.iter().map(|(t, w)| 0.5 * w * at(0.5 + 0.5 * t)).sum()
        };
        side(Side::Bass) + side(Side::Treble)
    };
    let part = |w: &[f64]| -> f64 {
        let (mid, half) = (0.5 * (w[0] + w[1]), 0.5 * (w[1] - w[0]));
        rule.iter().map(|(t, k)| half * k * area(mid + half * t)).sum()
    };
    at.windows(2).map(part).sum()
}

/// Stations of the dense witness, and those at which whole sections are looked at.
const DENSE: u32 = 10_000;
const SECTIONS: u32 = 100;

/// Stations spread evenly over a part of a neck, its ends too.
pub fn spread([from, to]: [f64; 2], count: u32) -> impl Iterator<Item = f64> {
    (0..=count).map(move |i| (from + (to - from) * f64::from(i) / f64::from(count)).min(to))
}

/// How sharply a law bends at the most over a part of it, either way, 1/mm: at 10,000 stations and either side of its
/// joints.
pub fn sharpest(law: &Law, [from, to]: [f64; 2]) -> f64 {
    // Just at its ends the law is volute or sweep already.
    let [from, to] = [from + 1e-6, to - 1e-6];
    let beside = law.breaks().iter().flat_map(|x| [x - 1e-7, x + 1e-7]);
    let at = beside.filter(|x| (from..=to).contains(x)).chain(spread([from, to], DENSE));
    at.map(|x| law.at2(x).unwrap()[2].abs()).fold(0.0, f64::max)
}

/// How fast a neck gets thicker toward the nut at the most, mm over 100 mm.
pub fn rise(neck: &Neck) -> f64 {
    let spine = neck.laws().spine_depth;
    spread(neck.shaft_reach_mm(), DENSE).map(|x| -100.0 * spine.at2(x).unwrap()[1]).fold(0.0, f64::max)
}

/// How far the turns of a side's control points are from hollow at a station, as areas over the half width, mm.
fn turns(neck: &Neck, side: Side, x: f64) -> [f64; 2] {
    let laws = neck.laws();
    let [o, d] =
        [laws.control_out, laws.control_depth].map(|l| l.of(side).each_ref().map(|l| l.at(x).unwrap()));
    [0, 1].map(|i| {
        let [a, b] = [i, i + 1].map(|j| [o[j + 1] - o[j], d[j + 1] - d[j]]);
        (a[0] * b[1] - b[0] * a[1]) / o[0]
    })
}

/// Which share of the carved depth a side's shoulder takes up to the spine.
pub fn handle(neck: &Neck, side: Side, x: f64) -> f64 {
    let [carve, shoulder, _, spine] =
        neck.laws().control_depth.of(side).each_ref().map(|law| law.at(x).unwrap());
    (spine - shoulder) / (spine - carve)
}

/// Everything that is promised of a mended neck.
pub fn fair(case: usize, design: &Neck, mended: &Mended, low: &[Reading], limits: &MendLimits) {
    let neck = &mended.neck;
    for reading in low {
        assert!(met(neck, reading) < 1e-9, "{case}: {reading:?} is missed by {}", met(neck, reading));
    }
    thick(case, design, neck, limits);
    fair_along(case, design, neck, limits);
    fair_around(case, design, neck);
    kept(case, design, neck);
    // What its rows say is what it measures.
    for row in &mended.rows {
        assert_eq!(row.thickness_mm, neck.thickness_mm(row.x_mm).unwrap());
        assert!(row.most_mm >= row.take_off_mm - 1e-9);
        most(case, design, neck, row);
    }
    // Built again from its document it has the same bits.
    let again = Neck::from_json(&mended.specification.to_json()).unwrap();
    assert_eq!(again.normalised(), &mended.specification);
}

/// The most that comes off a section, straight up from the back, against what is found at many places across.
pub fn most(case: usize, design: &Neck, neck: &Neck, row: &MendRow) {
    let off = |across: f64| Some(depth_at(design, row.x_mm, across)? - depth_at(neck, row.x_mm, across)?);
    let half = 0.5 * row.width_mm - 1e-9;
    let found = spread([-half, half], 2 * SECTIONS).filter_map(off).fold(0.0, f64::max);
    assert!(row.most_mm >= found - 1e-6, "{case}: {found} mm comes off for {row:?}");
    // Just at the edge nothing is measured.
    let there = off(row.most_across_mm.clamp(-half, half)).unwrap();
    assert!((row.most_mm - there).abs() < 1e-3, "{case}: {there} mm comes off there for {row:?}");
}

/// Thickness and rod wall: the proven bounds, and what is measured at many stations.
fn thick(case: usize, design: &Neck, neck: &Neck, limits: &MendLimits) {
    let asked = limits.least_thickness.mm().min(design.least_thickness().value);
    let least = neck.least_thickness().proven;
    assert!(least >= asked - 1e-6, "{case}: {least} mm thick");
    let board = [0.0, neck.layout().board().end_mm().min(neck.wood_reach_mm()[1])];
    for x in spread(board, DENSE) {
        let there = neck.thickness_mm(x).unwrap();
        assert!(there >= asked - 2e-8, "{case}: {there} mm thick at {x}, and {asked} are asked for");
    }
    let (Some(own), Some(proven)) = (design.least_rod_wall(), neck.least_rod_wall()) else { return };
    let asked = limits.least_wall.unwrap_or(neck.normalised().rod.least_wall).mm().min(own.proven - 3e-5);
    assert!(proven.proven >= asked - 1e-9, "{case}: {} mm of wall for {asked}", proven.proven);
    for x in spread(neck.wood_reach_mm(), 10 * SECTIONS) {
        let there = neck.rod_wall_mm(x).unwrap();
        assert!(there.is_none_or(|wall| wall >= asked), "{case}: {there:?} mm of wall at {x} for {asked}");
    }
}

/// Along the shaft: no faster rise toward the nut, no dip, nothing bent more sharply than it may.
fn fair_along(case: usize, design: &Neck, neck: &Neck, limits: &MendLimits) {
    let reach = neck.shaft_reach_mm();
    let steepest = limits.rise_toward_nut.mm() / 100.0;
    for x in spread(reach, DENSE) {
        let [old, new] = [design, neck].map(|neck| neck.laws().spine_depth.at2(x).unwrap()[1]);
        assert!(new >= old.min(-steepest) - 1e-9, "{case}: slope {new} for {old} at {x}");
        if old < -1e-9 {
            assert!(new <= 1e-9, "{case}: rises at {x} where the design falls");
        }
    }
    let bend = |name: &str, radius: f64, of: &dyn Fn(&Neck) -> f64| {
        // Between two stations the design may bend more sharply by a little.
        let (asked, is) = ((1.0 / radius + 1e-9).max(1.0001 * of(design)), of(neck));
        assert!(is <= asked, "{case}: the {name} bends by {is} for {asked}");
    };
    bend("spine", limits.spine_radius.mm(), &|neck| sharpest(neck.laws().spine_depth, reach));
    for side in Side::BOTH {
        let of = |neck: &Neck| sharpest(neck.laws().carve_line.of(side), reach);
        bend("carve line", limits.carve_radius.mm(), &of);
    }
}

/// Around the sections: inside the design, not hollow, the carve line between the board's top edge and the spine, and a
/// shoulder that may be given where one is.
fn fair_around(case: usize, design: &Neck, neck: &Neck) {
    let reach = neck.shaft_reach_mm();
    for x in spread(reach, SECTIONS) {
        let half = 0.5 * neck.width_mm(x).unwrap();
        for j in -8..=8 {
            let across = 0.9999 * half * f64::from(j) / 8.0;
            let [old, new] = [design, neck].map(|neck| depth_at(neck, x, across).unwrap());
            assert!(new <= old + 2e-8, "{case}: outside by {} at {x}, {across}", new - old);
        }
        let [own, flattest] =
            [design, neck].map(|neck| neck.section(x).unwrap().flattest().unwrap().curvature_per_mm);
        assert!(flattest >= own.min(0.0) - 1e-6, "{case}: hollow at {x}: {flattest}");
    }
    for x in spread(reach, 10 * SECTIONS) {
        for side in Side::BOTH {
            for (own, turn) in turns(design, side, x).into_iter().zip(turns(neck, side, x)) {
                assert!(turn >= own.min(0.0) - 1e-9, "{case}: hollow at {x} by {turn} for {own}");
            }
            let carve = neck.laws().carve_line.of(side).at(x).unwrap();
            let spine = neck.laws().spine_depth.at(x).unwrap();
            assert!(carve < spine, "{case}: the carve line lies below the spine at {x}");
            let board = neck.layout().board();
            if (board.start_mm()..=board.end_mm()).contains(&x) {
                let edge = board.sagitta_mm(x, 0.5 * board.width_mm(x)).unwrap();
                assert!(carve > edge, "{case}: the carve line lies above the board's edge at {x}");
            }
        }
    }
    for given in &neck.normalised().shaft.profile {
        let x = neck.layout().station_mm(&given.at).unwrap();
        if (reach[0]..=reach[1]).contains(&x) {
            for side in Side::BOTH {
                let share = handle(neck, side, x);
                assert!(
                    (0.05 - 1e-9..=0.8 + 1e-9).contains(&share),
                    "{case}: {side:?} shoulder {share} at {x}"
                );
            }
        }
    }
}

/// Headstock and block are what they were, where no edge came in.
fn kept(case: usize, design: &Neck, neck: &Neck) {
    assert_eq!(design.shaft_reach_mm(), neck.shaft_reach_mm(), "{case}");
    assert_eq!(design.wood_reach_mm()[1], neck.wood_reach_mm()[1], "{case}");
    if design.layout().board().widths_mm() == neck.layout().board().widths_mm() {
        assert_eq!(design.normalised().headstock, neck.normalised().headstock, "{case}");
    }
}
