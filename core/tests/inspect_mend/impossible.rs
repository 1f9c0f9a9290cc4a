//! Necks that can't be mended: what forbids it, against another solver.
#![allow(missing_docs)]

use std::collections::BTreeMap;

use crate::common::necks;
use crate::mend_common::fair::sharpest;
use crate::mend_common::planted::checked;
use crate::mend_common::solver::agreed;
use neckwright::inspect::{
    Asked, Forbidden, Limit, Measured, Mending, Programme, Reading, Readings, programme,
};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{BenchUnit, DepthAt, MendLimits, ProfileAt, Specification, TrebleSide};

/// A low place that asks for more than one of the limits leaves, a different one in every case.
fn asked(case: usize, neck: &Neck) -> (Reading, MendLimits) {
    let [from, to] = neck.shaft_reach_mm();
    let to = to.min(neck.layout().board().end_mm());
    let x = from + (to - from) * [0.2, 0.5, 0.8][case / 5 % 3];
    let (thickness, carve) = (neck.thickness_mm(x).unwrap(), neck.carve_line_mm(x, Side::Treble).unwrap());
    let mut limits = MendLimits::default();
    let (measured, value_mm) = match case % 5 {
        0 => {
            limits.least_thickness = Length::from_mm(neck.least_thickness().value - 0.2);
            (Measured::Thickness, thickness - 2.5)
        }
        1 => {
            limits.least_wall = Some(Length::from_mm(3.0));
            (Measured::Thickness, thickness - 3.5)
        }
        2 => {
            limits.spine_radius = Length::from_mm(60000.0);
            (Measured::Thickness, thickness - 1.2)
        }
        3 => {
            limits.carve_radius = Length::from_mm(60000.0);
            (Measured::CarveLine(Side::Treble), carve - 1.0)
        }
        _ => {
            limits.keep_even = true;
            (Measured::CarveLine(Side::Treble), carve - 2.0 - 0.3 * carve)
        }
    };
    (Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm: 0.03, line: 0 }, limits)
}

/// Whether a sum of rows in which every unknown cancels out asks for more than nothing (Farkas's lemma), for unknowns up to
/// 100.
fn shown(programme: &Programme, weights: &[f64]) -> bool {
    let mut sums = vec![0.0; programme.cost.len()];
    let mut asked = 0.0;
    for (row, weight) in programme.rows.iter().zip(weights) {
        let weight = if row.equal { *weight } else { weight.max(0.0) };
        row.terms.iter().for_each(|(at, k)| sums[*at] += weight * k);
        asked += weight * row.least;
    }
    asked > 100.0 * sums.iter().map(|sum| sum.abs()).sum::<f64>()
}

/// How often each limit was named, how many amounts the other solver finds too, how many limits neither names, how often it
/// gave up, and how many amounts were tried by giving way so far.
#[derive(Debug, Default)]
struct Found {
    impossible: usize,
    named: BTreeMap<&'static str, usize>,
    amounts: usize,
    neither: usize,
    given_up: usize,
    tried: BTreeMap<&'static str, usize>,
}

impl Found {
    fn named(&self, limit: Limit) -> usize {
        self.named.get(limit.name()).copied().unwrap_or(0)
    }

    fn tried(&self, limit: Limit) -> usize {
        self.tried.get(limit.name()).copied().unwrap_or(0)
    }
}

/// The limits where one has given way by so much; `None` where it is no number that can be given.
fn given_way(neck: &Neck, limits: &MendLimits, limit: Limit, by: f64) -> Option<MendLimits> {
    let mut limits = limits.clone();
    let set = |mm: f64, [lowest, highest]: [f64; 2]| {
        (lowest..=highest).contains(&mm).then_some(Length::from_mm(mm))
    };
    match limit {
        Limit::LeastThickness => {
            let asked = limits.least_thickness.mm().min(neck.least_thickness().value);
            limits.least_thickness = set(asked - by, [8.0, 60.0])?;
        }
        Limit::RodWall => {
            let asked = limits.least_wall.unwrap_or(neck.normalised().rod.least_wall).mm();
            let own = neck.least_rod_wall()?.proven - 2.5e-5;
            limits.least_wall = Some(set(asked.min(own) - by, [0.0, 20.0])?);
        }
        Limit::SpineRadius => {
            let own = sharpest(neck.laws().spine_depth, neck.shaft_reach_mm());
            limits.spine_radius =
                set(1.0 / ((1.0 / limits.spine_radius.mm()).max(own) + 1e-3 * by), [50.0, 1e5])?;
        }
        _ => return None,
    }
    Some(limits)
}

/// Shows that what is named forbids it, and by how much; `None` where the neck can be mended.
fn forbidden(
    case: usize,
    neck: &Neck,
    low: &[Reading],
    limits: &MendLimits,
    found: &mut Found,
) -> Option<Vec<Forbidden>> {
    let low = checked(low);
    let Mending::Impossible(forbidden) = neck.mend(&low, limits).unwrap() else { return None };
    found.impossible += 1;
    let Asked { programme, unknowns, weights } = programme(neck, &low, limits).unwrap()?;
    assert!(unknowns.is_none() && !forbidden.is_empty(), "{case}");
    assert!(shown(&programme, &weights), "{case}: no sum of rows shows it");
    let [amounts, neither, given_up] = agreed(case, &programme, &forbidden);
    found.amounts += amounts;
    found.neither += neither;
    found.given_up += given_up;
    for f in &forbidden {
        *found.named.entry(f.limit.name()).or_insert(0) += 1;
        assert!(!f.asked_by.is_empty() && f.asked_by.iter().all(|a| a.index < low.len()), "{case}: {f:?}");
        // It can be mended where the limit gives way by that, and can't where it does by less. Walls are told from stations
        // a few millimetres apart, which leaves 0.002 mm; they are told to 0.01.
        let spare = if f.limit == Limit::RodWall { 2e-3 } else { 1e-6 };
        let way =
            |by: f64| given_way(neck, limits, f.limit, by).map(|limits| neck.mend(&low, &limits).unwrap());
        if let (true, Some(more), Some(less)) =
            (f.alone, way(1.001 * f.by + spare), way(0.999 * f.by - spare))
        {
            assert!(matches!(more, Mending::Mended(_)), "{case}: {f:?} is not enough: {more:?}");
            assert!(matches!(less, Mending::Impossible(_)), "{case}: {f:?} is more than is needed");
            *found.tried.entry(f.limit.name()).or_insert(0) += 1;
        }
    }
    Some(forbidden)
}

#[test]
fn what_forbids_mending_is_what_another_solver_finds() {
    let mut found = Found::default();
    for (case, neck) in necks(50).into_iter().enumerate() {
        let (reading, limits) = asked(case, &neck);
        if Readings::new(vec![reading]).is_ok() {
            forbidden(case, &neck, &[reading], &limits, &mut found);
        }
    }
    println!("{found:?}");
    assert!(
        found.impossible >= 15 && found.amounts >= 8 && 20 * found.given_up <= found.neither,
        "{found:?}"
    );
    for limit in [Limit::LeastThickness, Limit::RodWall] {
        assert!(found.tried(limit) > 2, "{limit:?}: {found:?}");
    }
}

fn low(x: f64, measured: Measured, value_mm: f64) -> Reading {
    Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm: 0.03, line: 0 }
}

/// A heel as deep as the shaft, whose sweep keeps its run only where nothing comes off, and a low place close to it: either
/// the heel gives way, or the spine bends more sharply than it may.
#[test]
fn the_heel_and_the_bend_before_it_forbid() {
    let mut found = Found::default();
    for (case, plain) in necks(16).into_iter().enumerate() {
        let [_, to] = plain.shaft_reach_mm();
        let mut spec = plain.normalised().clone();
        spec.heel.block_depth = Some(Length::from_mm(plain.thickness_mm(to).unwrap()));
        let Ok(neck) = Neck::new(&spec) else { continue };
        let to = neck.shaft_reach_mm()[1].min(neck.layout().board().end_mm());
        let x = to - [12.0, 25.0, 40.0][case % 3];
        let limits = MendLimits { spine_radius: Length::from_mm(2000.0), ..MendLimits::default() };
        let reading = low(x, Measured::Thickness, neck.thickness_mm(x).unwrap() - [0.4, 0.8][case % 2]);
        forbidden(case, &neck, &[reading], &limits, &mut found);
    }
    println!("{found:?}");
    for limit in [Limit::Heel, Limit::SpineRadius] {
        assert!(found.named(limit) > 2, "{limit:?}: {found:?}");
    }
    assert!(found.tried(Limit::SpineRadius) > 2, "{found:?}");
}

/// A rod whose channel is deepest at the nut, and a low place further on: the wood at the nut would have to go with it, or
/// stand up from it.
#[test]
fn the_rise_toward_the_nut_forbids() {
    let mut found = Found::default();
    for (case, plain) in necks(16).into_iter().enumerate() {
        let Some(wall) = plain.least_rod_wall() else { continue };
        let to = plain.shaft_reach_mm()[1].min(plain.layout().board().end_mm());
        // The thinnest wood is the nut's, nothing may go there, and the low place comes down below its thickness.
        let x = 0.6 * to;
        let there = plain.thickness_mm(x).unwrap();
        let nut = plain.thickness_mm(wall.x_mm.max(1.0)).unwrap();
        let limits = MendLimits { least_wall: Some(Length::from_mm(wall.proven)), ..MendLimits::default() };
        let reading = low(x, Measured::Thickness, there.min(nut) - [0.1, 0.3][case % 2]);
        forbidden(case, &plain, &[reading], &limits, &mut found);
    }
    println!("{found:?}");
    for limit in [Limit::RiseTowardNut, Limit::RodWall] {
        assert!(found.named(limit) > 2, "{limit:?}: {found:?}");
    }
}

/// Uneven sides whose treble shoulder follows from the bass side's: where the bass side comes down to the board's edge, the
/// treble's, which already lies there, would have to have a shoulder that is none, or be hollow.
#[test]
fn shape_and_hollows_forbid() {
    let mut found = Found::default();
    for (case, plain) in necks(14).into_iter().enumerate() {
        let mut spec: Specification = plain.normalised().clone();
        let (belly, lean) = [(0.3, 0.0), (0.5, 0.12)][case % 2];
        let own = TrebleSide { shoulder: Some([0.24, 0.4][case % 2]), ..TrebleSide::default() };
        for given in &mut spec.shaft.profile {
            *given = ProfileAt {
                at: given.at,
                shoulder: Some(0.4),
                belly: Some(belly),
                lean: Some(lean),
                treble: Some(own.clone()),
                ..ProfileAt::default()
            };
        }
        let edge = plain.layout().board();
        let edge = [0.0, edge.end_mm()].map(|x| edge.sagitta_mm(x, 0.5 * edge.width_mm(x)).unwrap());
        let depth = |by: f64| {
            vec![DepthAt { at: Station::Mm(0.0), depth: Length::from_mm(edge[0].max(edge[1]) + by) }]
        };
        spec.shaft.carve_line = depth(5.0);
        spec.shaft.treble_carve_line = Some(depth(0.5));
        let Ok(neck) = Neck::new(&spec) else { continue };
        let given = neck.normalised().shaft.profile.iter().map(|p| neck.layout().station_mm(&p.at).unwrap());
        let [from, to] = neck.shaft_reach_mm();
        let given: Vec<f64> = given.filter(|x| (from..to.min(edge_end(&neck))).contains(x)).collect();
        let x = given.first().copied().unwrap_or(0.5 * (from + to));
        let reading =
            low(x, Measured::CarveLine(Side::Bass), neck.carve_line_mm(x, Side::Bass).unwrap() - 4.5);
        forbidden(case, &neck, &[reading], &MendLimits::default(), &mut found);
    }
    println!("{found:?}");
    for limit in [Limit::Shape, Limit::Convex, Limit::CarveLine] {
        assert!(found.named(limit) > 2, "{limit:?}: {found:?}");
    }
}

fn edge_end(neck: &Neck) -> f64 {
    neck.layout().board().end_mm()
}

/// A low place on the headstock's side of things forbids all, and is told by its line; the others by themselves are
/// mended.
#[test]
fn the_reading_that_forbids_is_named() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let at = |fret: f64| neck.station_mm(fret).unwrap();
    let lined = |line: u32, x: f64, by: f64| Reading {
        line,
        ..low(x, Measured::Thickness, neck.thickness_mm(x).unwrap() - by)
    };
    let (good, bad) = (lined(2, at(5.0), 0.3), lined(3, at(20.0), 0.3));
    // Deeper than the rod leaves.
    let deep = lined(4, at(7.0), 6.0);
    let mend = |low: &[Reading]| neck.mend(&checked(low), &MendLimits::default()).unwrap();
    assert!(matches!(mend(&[good]), Mending::Mended(_)));
    for (other, limit, words) in [
        (bad, Limit::FixedPart, "the reading of line 3 at fret 20 asks for it"),
        (deep, Limit::RodWall, "the reading of line 4 at fret 7 asks for it"),
    ] {
        let Mending::Impossible(forbidden) = mend(&[good, other]) else {
            panic!("{limit:?} does not forbid")
        };
        let found = forbidden.iter().find(|f| f.limit == limit).unwrap();
        let asked: Vec<(usize, u32)> = found.asked_by.iter().map(|a| (a.index, a.line)).collect();
        assert_eq!(asked, [(1, other.line)]);
        assert!(found.sentence.ends_with(words), "{}", found.sentence);
    }
    // Readings of one place are taken together, and all of them named.
    let near = lined(5, at(7.0) + 2.0, 6.0);
    let Mending::Impossible(forbidden) = mend(&[near, good, deep]) else { panic!("too deep") };
    let asked: Vec<usize> = forbidden[0].asked_by.iter().map(|a| a.index).collect();
    assert_eq!(asked, [0, 2]);
    assert!(
        forbidden[0].sentence.ends_with("and 1 more of that place asks for it"),
        "{}",
        forbidden[0].sentence
    );
}

/// What forbids it is told in the unit asked for; all else is the same.
#[test]
fn what_forbids_is_told_in_inches() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let readings = Readings::new(vec![low(130.0, Measured::Thickness, 15.0)]).unwrap();
    let told = |unit: BenchUnit| match neck
        .mend(&readings, &MendLimits { unit, ..MendLimits::default() })
        .unwrap()
    {
        Mending::Impossible(why) => why,
        Mending::Mended(_) => panic!("nothing is left of the wall there"),
    };
    let (mm, inches) = (told(BenchUnit::Millimetres), told(BenchUnit::Inches));
    assert!(!mm.is_empty() && mm.len() == inches.len());
    for (mm, inches) in mm.iter().zip(&inches) {
        assert_eq!((mm.limit, mm.by, mm.x_mm), (inches.limit, inches.by, inches.x_mm));
        assert!(inches.sentence.contains(" in") && mm.sentence.contains(" mm"), "{}", inches.sentence);
        // Stations stay as the neck's frame has them.
        let rest = inches.sentence.replace("mm from the nut", "");
        assert!(!rest.contains(" mm"), "{}", inches.sentence);
    }
}
