//! Mended necks against the limits, and against another solver.
#![allow(missing_docs)]

mod common;
mod mend_common;

use common::{gauss20, joints, necks};
use mend_common::problem;
use microlp::SolveOutcome;
use neckwright::inspect::{Asked, Limit, Measured, Mended, Mending, Programme, Reading, Readings, programme};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{Hand, MendLimits, numbers};

/// Numbers between bounds, the same in every run.
struct Draw<F: FnMut() -> u64>(F);

impl<F: FnMut() -> u64> Draw<F> {
    fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * ((self.0)() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn one_of(&mut self, n: u64) -> u64 {
        (self.0)() % n
    }
}

/// The outline of a section's back: depth at a place across (positive toward treble), from its cubics.
fn depth_at(neck: &Neck, x: f64, across: f64) -> Option<f64> {
    let laws = neck.laws();
    Side::BOTH.into_iter().find_map(|side| {
        let [out, depth] =
            [laws.control_out, laws.control_depth].map(|l| l.of(side).each_ref().map(|l| l.at(x).unwrap()));
        let at = |p: [f64; 4], u: f64| {
            let r = 1.0 - u;
            r * r * r * p[0] + 3.0 * r * r * u * p[1] + 3.0 * r * u * u * p[2] + u * u * u * p[3]
        };
        let y = side.sign() * across;
        if y > out[0] || y < out[3] {
            return None;
        }
        let (mut a, mut b) = (0.0, 1.0);
        for _ in 0..60 {
            let m = 0.5 * (a + b);
            if at(out, m) > y { a = m } else { b = m }
        }
        Some(at(depth, 0.5 * (a + b)))
    })
}

/// One to three low places on the shaft.
fn planted(neck: &Neck, draw: &mut Draw<impl FnMut() -> u64>, most: f64) -> Vec<Reading> {
    let [from, to] = neck.shaft_reach_mm();
    let to = to.min(neck.layout().board().end_mm());
    let sided = draw.one_of(3);
    let all: Vec<Reading> = (0..=draw.one_of(3))
        .map(|_| {
            let x = draw.between(from.max(1.0), to);
            let by = draw.between(0.02, most);
            let half = 0.5 * neck.width_mm(x).unwrap();
            let (measured, design) = match (sided, draw.one_of(4)) {
                (0, _) | (_, 0) => (Measured::Thickness, neck.thickness_mm(x).unwrap()),
                (_, 1) => {
                    let side = Side::BOTH[draw.one_of(2) as usize];
                    (Measured::CarveLine(side), neck.carve_line_mm(x, side).unwrap())
                }
                _ => {
                    let across_mm = draw.between(-0.9, 0.9) * half;
                    (Measured::Point { across_mm }, depth_at(neck, x, across_mm).unwrap())
                }
            };
            Reading { at: Station::Mm(x), measured, value_mm: design - by, uncertainty_mm: 0.03, line: 0 }
        })
        .collect();
    // Nearer together they are taken for readings of one place; that has a test of its own.
    let mut apart: Vec<Reading> = Vec::new();
    for r in all {
        let same = |o: &Reading| {
            let near = matches!((o.at, r.at), (Station::Mm(a), Station::Mm(b)) if (a - b).abs() <= 10.0);
            near && core::mem::discriminant(&o.measured) == core::mem::discriminant(&r.measured)
        };
        if !apart.iter().any(same) {
            apart.push(r);
        }
    }
    apart
}

/// Another solver's optimum of the same programme: `Err` where it says that there is none.
fn other(programme: &Programme, give: Option<Limit>) -> Result<f64, String> {
    let problem = problem(programme, give);
    match problem.solve() {
        Ok(SolveOutcome::Solution(solution)) => {
            Ok(solution.objective() + if give.is_some() { 0.0 } else { programme.offset })
        }
        Ok(_) => Err("limit".into()),
        Err(e) => Err(format!("{e:?}")),
    }
}

/// The limits of a case: by turns strict and giving way, sides free and kept alike.
fn limits(case: usize) -> MendLimits {
    MendLimits {
        rise_toward_nut: Length::from_mm([0.0, 0.5][case % 2]),
        keep_even: case % 4 == 3,
        ..MendLimits::default()
    }
}

/// Depth that a reading leaves, and the mended neck's there.
fn met(neck: &Neck, reading: &Reading) -> f64 {
    let Station::Mm(x) = reading.at else { panic!() };
    let there = match reading.measured {
        Measured::Thickness => neck.thickness_mm(x).unwrap(),
        Measured::CarveLine(side) => neck.carve_line_mm(x, side).unwrap(),
        Measured::Point { across_mm } => depth_at(neck, x, across_mm).unwrap(),
        Measured::Width => neck.width_mm(x).unwrap(),
        _ => panic!(),
    };
    there - reading.value_mm
}

/// Volume between the crown plane and the back of a neck, by quadrature around every section and along both necks' joints.
fn back_volume(neck: &Neck, other: &Neck) -> f64 {
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

/// Everything that is promised of a mended neck.
fn fair(case: usize, design: &Neck, mended: &Mended, low: &[Reading], limits: &MendLimits) {
    let neck = &mended.neck;
    for reading in low {
        assert!(met(neck, reading) < 1e-9, "{case}: {reading:?} is missed by {}", met(neck, reading));
    }
    // Proven bounds.
    let own = design.least_thickness().value;
    let least = neck.least_thickness().proven;
    assert!(least >= limits.least_thickness.mm().min(own) - 1e-6, "{case}: {least} mm thick");
    if let (Some(design), Some(mended)) = (design.least_rod_wall(), neck.least_rod_wall()) {
        let asked = neck.normalised().rod.least_wall.mm().min(design.proven - 3e-5);
        assert!(mended.proven >= asked - 1e-9, "{case}: {} mm of wall for {asked}", mended.proven);
    }
    // A dense witness: inside the design, no faster rise toward the nut, no dip, no hollow.
    let [from, to] = neck.shaft_reach_mm();
    let steepest = limits.rise_toward_nut.mm() / 100.0;
    for i in 0..=100 {
        let x = from + (to - from) * f64::from(i) / 100.0;
        let slope = |neck: &Neck| neck.laws().spine_depth.at2(x).unwrap()[1];
        let (old, new) = (slope(design), slope(neck));
        assert!(new >= old.min(0.0).min(-steepest).min(0.0) - 1e-9, "{case}: slope {new} for {old} at {x}");
        if old < -1e-9 {
            assert!(new <= 1e-9, "{case}: rises at {x} where the design falls");
        }
        let section = neck.section(x).unwrap();
        let half = 0.5 * neck.width_mm(x).unwrap();
        for j in -8..=8 {
            let across = 0.9999 * half * f64::from(j) / 8.0;
            let [old, new] = [design, neck].map(|neck| depth_at(neck, x, across).unwrap());
            assert!(new <= old + 2e-8, "{case}: outside by {} at {x}, {across}", new - old);
        }
        let flattest = section.flattest().unwrap().curvature_per_mm;
        let own = design.section(x).unwrap().flattest().unwrap().curvature_per_mm;
        assert!(flattest >= own.min(0.0) - 1e-6, "{case}: hollow at {x}: {flattest}");
    }
    // What its rows say is what it measures.
    for row in &mended.rows {
        assert_eq!(row.thickness_mm, neck.thickness_mm(row.x_mm).unwrap());
        assert!(row.most_mm >= row.take_off_mm - 1e-9);
    }
    // Built again from its document it has the same bits.
    let again = Neck::from_json(&mended.specification.to_json()).unwrap();
    assert_eq!(again.normalised(), &mended.specification);
}

fn checked(readings: &[Reading]) -> Readings {
    Readings::new(readings.to_vec()).unwrap()
}

#[test]
fn mended_necks_keep_every_limit_and_are_the_optimum() {
    let mut draw = Draw(numbers(3));
    let (mut mended, mut impossible, mut apart) = (0, 0, 0.0_f64);
    for (case, design) in necks(60).into_iter().enumerate() {
        let low = planted(&design, &mut draw, [0.2, 0.6, 2.5][case % 3]);
        let limits = limits(case);
        let Ok(found) = design.mend(&checked(&low), &limits) else {
            panic!("{case}: {}", design.mend(&checked(&low), &limits).unwrap_err())
        };
        let Asked { programme, unknowns, .. } = programme(&design, &checked(&low), &limits).unwrap().unwrap();
        match found {
            Mending::Mended(found) => {
                mended += 1;
                fair(case, &design, &found, &low, &limits);
                let unknowns = unknowns.unwrap();
                for row in &programme.rows {
                    assert!(
                        row.slack(&unknowns) > -1e-8,
                        "{case}: {row:?} is short by {}",
                        -row.slack(&unknowns)
                    );
                }
                let (ours, theirs) = (programme.cost_of(&unknowns), other(&programme, None).unwrap());
                // Both solvers may miss a row by 1e-8 mm, which over a neck is 1e-4 mm³.
                apart = apart.max(((ours - theirs) / theirs.max(100.0)).abs());
                let between = back_volume(&design, &found.neck) - back_volume(&found.neck, &design);
                assert!((between - ours).abs() < 1e-6 * ours.max(10.0), "{case}: {between} for {ours}");
                // What of that lies above the glue line behind the nut is no wood.
                let gone = design.volume_mm3().filled_mm3() - found.neck.volume_mm3().filled_mm3();
                assert_eq!(gone, found.removed_mm3);
                assert!(gone < ours + 1e-4 && gone > 0.99 * ours, "{case}: {gone} for {ours}");
            }
            Mending::Impossible(forbidden) => {
                impossible += 1;
                assert!(unknowns.is_none() && !forbidden.is_empty(), "{case}");
                for limit in Limit::ALL {
                    // The other solver takes half a minute to find that these leave nothing.
                    let slow = matches!(limit, Limit::Convex | Limit::Shape | Limit::CarveLine | Limit::Heel);
                    if slow && forbidden.iter().all(|f| f.limit != limit) {
                        continue;
                    }
                    let theirs = programme
                        .rows
                        .iter()
                        .any(|row| row.limit == Some(limit))
                        .then(|| other(&programme, Some(limit)));
                    let ours = forbidden.iter().find(|f| f.limit == limit && f.alone);
                    match (ours, theirs) {
                        (Some(ours), Some(Ok(theirs))) if limit != Limit::RodWall => {
                            let by = (ours.by - theirs).abs();
                            assert!(by < 1e-5 * (1.0 + theirs), "{case}: {limit:?} {} for {theirs}", ours.by);
                        }
                        // A wall is no linear measure round a corner.
                        (Some(ours), Some(Ok(theirs))) => assert!(ours.by > 0.0 && theirs > 0.0),
                        (None, None | Some(Err(_))) => {}
                        (ours, theirs) => panic!("{case}: {limit:?} {ours:?} {theirs:?}"),
                    }
                }
            }
        }
    }
    println!("{mended} mended, {impossible} impossible; optima apart by {apart:e}");
    assert!(mended > 40 && impossible > 2 && apart < 1e-6, "{mended} {impossible} {apart:e}");
}

#[test]
fn a_neck_without_a_low_place_comes_back_unchanged() {
    for neck in necks(30) {
        let x = 0.5 * (neck.shaft_reach_mm()[0] + neck.shaft_reach_mm()[1]);
        let there = neck.thickness_mm(x).unwrap();
        let reading = |value_mm| Reading {
            at: Station::Mm(x),
            measured: Measured::Thickness,
            value_mm,
            uncertainty_mm: 0.05,
            line: 0,
        };
        for readings in [vec![], vec![reading(there), reading(there + 0.3)]] {
            let Ok(Mending::Mended(mended)) = neck.mend(&checked(&readings), &MendLimits::default()) else {
                panic!()
            };
            assert_eq!(&mended.specification, neck.normalised());
            assert_eq!(mended.specification.to_json(), neck.normalised().to_json());
            assert_eq!(mended.removed_mm3, 0.0);
        }
    }
}

#[test]
fn a_left_handed_neck_is_mended_to_the_same_bits() {
    let mut draw = Draw(numbers(9));
    for neck in necks(12) {
        let low = planted(&neck, &mut draw, 0.4);
        let mut other = neck.normalised().clone();
        other.hand = if other.hand == Hand::Left { Hand::Right } else { Hand::Left };
        let twin = Neck::new(&other).unwrap();
        let limits = MendLimits::default();
        match (neck.mend(&checked(&low), &limits), twin.mend(&checked(&low), &limits)) {
            (Ok(Mending::Mended(a)), Ok(Mending::Mended(b))) => {
                assert_eq!(a.specification.shaft, b.specification.shaft);
                assert_eq!(a.rows, b.rows);
                assert_eq!(a.neck.caliper_card(), b.neck.caliper_card());
            }
            (Ok(Mending::Impossible(a)), Ok(Mending::Impossible(b))) => assert_eq!(a, b),
            _ => panic!("one can be mended and the other not"),
        }
    }
}

#[test]
fn uneven_width_brings_the_edges_in() {
    let mut draw = Draw(numbers(21));
    let mut mended = 0;
    for (case, neck) in necks(30).into_iter().enumerate() {
        let x = draw.between(5.0, 0.8 * neck.layout().board().end_mm());
        let width = neck.width_mm(x).unwrap() - draw.between(0.05, 0.8);
        let reading = Reading {
            at: Station::Mm(x),
            measured: Measured::Width,
            value_mm: width,
            uncertainty_mm: 0.03,
            line: 0,
        };
        match neck.mend(&checked(&[reading]), &MendLimits::default()).unwrap() {
            Mending::Mended(found) => {
                mended += 1;
                assert!(found.neck.width_mm(x).unwrap() <= width);
                assert!(found.neck.width_mm(x).unwrap() > width - 1e-6, "{case}: more than is needed");
                for i in 0..=200 {
                    let x = neck.layout().board().end_mm() * f64::from(i) / 200.0;
                    assert!(found.neck.width_mm(x).unwrap() <= neck.width_mm(x).unwrap() + 1e-9);
                }
                assert!(found.removed_mm3 > 0.0);
            }
            Mending::Impossible(forbidden) => {
                assert!(
                    forbidden.iter().any(|f| f.limit == Limit::StringMargin || f.limit == Limit::LeastWidth),
                    "{forbidden:?}"
                );
            }
        }
    }
    assert!(mended > 15, "{mended}");
}

#[test]
fn bad_readings_and_limits_are_named() {
    let neck = &necks(1)[0];
    let off = Reading {
        at: Station::Mm(1400.0),
        measured: Measured::Thickness,
        value_mm: 20.0,
        uncertainty_mm: 0.1,
        line: 0,
    };
    let error = neck.mend(&checked(&[off]), &MendLimits::default()).unwrap_err();
    let paths: Vec<_> = error.faults().iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["readings[0].at"]);
    let limits = MendLimits { margin: f64::NAN, ..MendLimits::default() };
    assert_eq!(neck.mend(&Readings::default(), &limits).unwrap_err().faults()[0].path, "margin");
    let limits = MendLimits { least_wall: Some(Length::from_mm(2.5)), ..MendLimits::default() };
    assert_eq!(MendLimits::from_json(&limits.to_json()).unwrap(), limits);
}
