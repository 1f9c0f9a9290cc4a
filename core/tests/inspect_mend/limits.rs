//! Every limit of mending made to bind: the mended neck comes up to it, no further and no less far.
#![allow(missing_docs)]

use std::collections::BTreeMap;

use crate::common::necks;
use crate::mend_common::fair::{fair, handle, rise, sharpest};
use crate::mend_common::planted::{Draw, checked, depth_at, planted};
use crate::mend_common::solver::{agreed, optimum};
use neckwright::inspect::{Asked, Limit, Measured, Mended, Mending, Reading, programme};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{MendLimits, ProfileAt, Specification, TrebleSide, numbers};

/// How often each limit was reached.
type Reached = BTreeMap<&'static str, usize>;

/// Limits that hardly bind.
fn lax() -> MendLimits {
    MendLimits {
        rise_toward_nut: Length::from_mm(10.0),
        spine_radius: Length::from_mm(300.0),
        carve_radius: Length::from_mm(300.0),
        least_wall: Some(Length::from_mm(0.0)),
        ..MendLimits::default()
    }
}

/// How a neck stands to a limit that is a number: what is asked at least (for bends and rises, at the most). `None` where
/// the limit is not one of a neck of this kind.
fn measure(neck: &Neck, limit: Limit) -> Option<f64> {
    let reach = neck.shaft_reach_mm();
    match limit {
        Limit::RiseTowardNut => Some(rise(neck)),
        Limit::SpineRadius => Some(sharpest(neck.laws().spine_depth, reach)),
        Limit::CarveRadius => Some(
            Side::BOTH
                .map(|side| sharpest(neck.laws().carve_line.of(side), reach))
                .into_iter()
                .fold(0.0, f64::max),
        ),
        Limit::LeastThickness => Some(neck.least_thickness().value),
        Limit::RodWall => neck.least_rod_wall().map(|wall| wall.proven),
        _ => None,
    }
}

/// The limits with one of them set between what the design has and what it came to without; `None` where it did not come
/// to more. Then what it is set to, as [`measure`] has it.
fn tightened(limit: Limit, design: &Neck, free: &Neck, share: f64) -> Option<(MendLimits, f64)> {
    let (own, came) = (measure(design, limit)?, measure(free, limit)?);
    let to = own + share * (came - own);
    let mm = Length::from_mm(to);
    let far = |by: f64| (came - own).abs() > by;
    let radius = || (1.0 / to).clamp(50.0, 1e5);
    let limits = match limit {
        Limit::RiseTowardNut if came > own && far(1e-3) => MendLimits { rise_toward_nut: mm, ..lax() },
        Limit::SpineRadius if came > 1.1 * own => {
            MendLimits { spine_radius: Length::from_mm(radius()), ..lax() }
        }
        Limit::CarveRadius if came > 1.1 * own => {
            MendLimits { carve_radius: Length::from_mm(radius()), ..lax() }
        }
        Limit::LeastThickness if far(0.02) && to > 8.0 => MendLimits { least_thickness: mm, ..lax() },
        Limit::RodWall if far(0.02) => MendLimits { least_wall: Some(mm), ..lax() },
        _ => return None,
    };
    Some((limits, to))
}

/// Mends it, and shows that it keeps what it has to and is the optimum.
fn mended(case: usize, design: &Neck, low: &[Reading], limits: &MendLimits) -> Option<Mended> {
    let readings = checked(low);
    let found = design.mend(&readings, limits).unwrap_or_else(|e| panic!("{case}: {e}"));
    let asked = programme(design, &readings, limits).unwrap();
    match found {
        Mending::Mended(found) => {
            fair(case, design, &found, low, limits);
            if let Some(Asked { programme, unknowns, .. }) = asked {
                optimum(case, &programme, &unknowns.unwrap());
            }
            Some(*found)
        }
        Mending::Impossible(forbidden) => {
            if let Some(Asked { programme, .. }) = asked {
                agreed(case, &programme, &forbidden);
            }
            None
        }
    }
}

fn count(reached: &mut Reached, mended: &Mended) {
    for found in &mended.reached {
        *reached.entry(found.limit.name()).or_insert(0) += 1;
    }
}

/// A low point halfway between spine and edge.
fn beside(neck: &Neck, draw: &mut Draw<impl FnMut() -> u64>) -> Reading {
    let [from, to] = neck.shaft_reach_mm();
    let x = draw.between(from.max(1.0), 0.5 * (from + to));
    let across_mm = draw.between(0.4, 0.75) * 0.5 * neck.width_mm(x).unwrap();
    let value_mm = depth_at(neck, x, across_mm).unwrap() - draw.between(0.3, 1.5);
    Reading {
        at: Station::Mm(x),
        measured: Measured::Point { across_mm },
        value_mm,
        uncertainty_mm: 0.03,
        line: 0,
    }
}

#[test]
fn limits_that_are_numbers_are_come_up_to() {
    const NUMBERS: [Limit; 5] =
        [Limit::RiseTowardNut, Limit::SpineRadius, Limit::CarveRadius, Limit::LeastThickness, Limit::RodWall];
    let mut draw = Draw(numbers(31));
    let mut reached = Reached::new();
    let mut up_to = Reached::new();
    for (case, design) in necks(40).into_iter().enumerate() {
        // Beside the spine the carve line may give what the spine may not.
        let low = if case % 2 == 0 {
            planted(&design, &mut draw, [0.4, 1.0, 2.5][case / 2 % 3])
        } else {
            vec![beside(&design, &mut draw)]
        };
        let Some(free) = mended(case, &design, &low, &lax()) else { continue };
        count(&mut reached, &free);
        for limit in NUMBERS {
            let share = draw.between(0.5, 0.95);
            let Some((limits, to)) = tightened(limit, &design, &free.neck, share) else { continue };
            let Some(found) = mended(case, &design, &low, &limits) else { continue };
            count(&mut reached, &found);
            assert!(found.removed_mm3 > free.removed_mm3 - 1e-3, "{case}: {limit:?} takes less than without");
            // Where the limit binds it is come up to: the bounds that keep it are no stricter than it is.
            if found.reached.iter().any(|known| known.limit == limit) {
                let is = measure(&found.neck, limit).unwrap();
                // A thickness is held by control points, which lie beyond the curve: between stations 20 mm apart by up to
                // 20²/(8·300) mm where it may bend with a radius of 300 mm.
                let spare = if limit == Limit::LeastThickness { 0.17 } else { 1e-4 * (1.0 + to) };
                let there = (is - to).abs() < spare;
                // A rise is held too where the neck would dip.
                assert!(there || limit == Limit::RiseTowardNut, "{case}: {limit:?} {is} for {to}");
                *up_to.entry(limit.name()).or_insert(0) += usize::from(there);
            }
        }
    }
    println!("reached {reached:?}\nand come up to {up_to:?}");
    for limit in NUMBERS {
        assert!(up_to.get(limit.name()).is_some_and(|n| *n > 1), "{limit:?}: {up_to:?}");
    }
}

/// A neck with these sides, all else as in another.
fn shaped(neck: &Neck, [shoulder, belly, lean]: [f64; 3], treble_belly: Option<f64>) -> Option<Neck> {
    let mut spec: Specification = neck.normalised().clone();
    let treble = treble_belly.map(|belly| TrebleSide { belly: Some(belly), ..TrebleSide::default() });
    for given in &mut spec.shaft.profile {
        *given = ProfileAt {
            at: given.at,
            shoulder: Some(shoulder),
            belly: Some(belly),
            lean: Some(lean),
            treble: treble.clone(),
            ..ProfileAt::default()
        };
    }
    spec.shaft.treble_carve_line = None;
    Neck::new(&spec).ok()
}

/// How much of the carve on the bass side may go before the treble side's shoulder, which follows from it, comes out as none
/// that may be given, or hollow, if nothing else moves: mm.
fn room(neck: &Neck, x: f64) -> f64 {
    let laws = neck.laws();
    let [o, d] = [laws.control_out, laws.control_depth]
        .map(|l| l.of(Side::Treble).each_ref().map(|l| l.at(x).unwrap()));
    let carved = d[3] - d[0];
    let most = (0.8_f64).min((o[1] - o[2]) / (o[0] - o[2]));
    let share = handle(neck, Side::Treble, x);
    (most * carved / share) - carved
}

#[test]
fn the_shape_of_uneven_sides_is_come_up_to() {
    let mut draw = Draw(numbers(32));
    let mut reached = Reached::new();
    let shapes = [
        ([0.22, 0.4, 0.0], None),
        ([0.22, 0.4, 0.0], Some(0.42)),
        ([0.36, 0.5, 0.15], None),
        ([0.36, 0.5, 0.15], Some(0.48)),
        // A treble side's own belly that makes its shoulder nearly square.
        ([0.9, 0.5, 0.0], Some(0.36)),
    ];
    for (case, plain) in necks(60).into_iter().enumerate() {
        let (numbers, treble) = shapes[case % shapes.len()];
        let Some(design) = shaped(&plain, numbers, treble) else { continue };
        let [from, to] = design.shaft_reach_mm();
        let to = to.min(design.layout().board().end_mm());
        let given =
            design.normalised().shaft.profile.iter().map(|p| design.layout().station_mm(&p.at).unwrap());
        let inside: Vec<f64> = given.filter(|x| (from + 1.0..to - 1.0).contains(x)).collect();
        let x = inside.get(case % inside.len().max(1)).copied().unwrap_or(draw.between(from + 1.0, to - 1.0));
        // The low side is the bass, or, where the treble's shoulder is nearly square, the treble.
        let side = if numbers[0] > 0.8 { Side::Treble } else { Side::Bass };
        let carve = design.carve_line_mm(x, side).unwrap();
        let by = if side == Side::Bass { 1.3 * room(&design, x) } else { 0.6 * carve };
        if !(0.02..0.7 * carve).contains(&by) {
            continue;
        }
        let low = Reading {
            at: Station::Mm(x),
            measured: Measured::CarveLine(side),
            value_mm: carve - by,
            uncertainty_mm: 0.03,
            line: 0,
        };
        if let Some(found) = mended(case, &design, &[low], &lax()) {
            count(&mut reached, &found);
        }
    }
    println!("reached {reached:?}");
    for limit in [Limit::Shape, Limit::Convex] {
        assert!(reached.get(limit.name()).is_some_and(|n| *n > 2), "{limit:?}: {reached:?}");
    }
}

/// Where the carve line may lie and where the heel begins: low places close to the board's edge and to the heel's sweep.
#[test]
fn the_edge_of_the_board_and_the_heel_are_come_up_to() {
    let mut draw = Draw(numbers(33));
    let mut reached = Reached::new();
    for (case, design) in necks(40).into_iter().enumerate() {
        let [from, to] = design.shaft_reach_mm();
        let board = design.layout().board().end_mm();
        let to = to.min(board);
        let reading = |x: f64, measured, value_mm| Reading {
            at: Station::Mm(x),
            measured,
            value_mm,
            uncertainty_mm: 0.03,
            line: 0,
        };
        let low = if case % 2 == 0 {
            let x = draw.between(from.max(1.0), to);
            let side = Side::BOTH[case / 2 % 2];
            let half = 0.5 * design.width_mm(x).unwrap();
            let edge = design.layout().board().sagitta_mm(x, half).unwrap();
            let carve = design.carve_line_mm(x, side).unwrap();
            // A point so near to the board's edge would be of the flat side, or of the face.
            let share = draw.between(0.9, 0.97);
            reading(x, Measured::CarveLine(side), carve - share * (carve - edge))
        } else {
            let x = to - draw.between(1.0, 15.0);
            reading(x, Measured::Thickness, design.thickness_mm(x).unwrap() - draw.between(0.1, 0.8))
        };
        if let Some(found) = mended(case, &design, &[low], &lax()) {
            count(&mut reached, &found);
        }
    }
    println!("reached {reached:?}");
    for limit in [Limit::CarveLine, Limit::Heel] {
        assert!(reached.get(limit.name()).is_some_and(|n| *n > 2), "{limit:?}: {reached:?}");
    }
}
