//! The largest safe cutter: against brute force over the radius and dense points of the shape that has to stay.

use crate::carve_common::*;
use neckwright::measure::{Kind, Length};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{Cutter, CutterShape, StageName, Stock};

const GUIDED: [CutterShape; 3] = [CutterShape::QuarterRound, CutterShape::Cove, CutterShape::Chamfer];

/// Points of the shape that has to stay, over the run between the stop lines: for each, how far it lies from the true
/// side face and from the sawn back.
fn points(neck: &Neck, plan: &neckwright::carve::CarvingPlan, shaping: f64, along: usize) -> Vec<[f64; 2]> {
    let base = saw_line(plan, "shaft").depth;
    let stations = joints_between(neck, plan.stops_mm()[0], plan.stops_mm()[1]);
    let mut all = Vec::new();
    for w in stations.windows(2) {
        for i in 0..=along {
            let x = w[0] + (w[1] - w[0]) * i as f64 / along as f64;
            for side in Side::BOTH {
                let p = thickened(neck, side, x, shaping);
                let edge = control(neck, side, x)[0][0];
                all.extend(
                    (0..=300)
                        .map(|k| cubic(&p, f64::from(k) / 300.0))
                        .map(|q| [edge - q[0], base.at_mm(x) - q[1]]),
                );
            }
        }
    }
    all
}

/// What a cutter of this radius leaves over a point at distances `a` and `b` from the two faces; negative inside the cut.
fn clearance(shape: CutterShape, radius: f64, [a, b]: [f64; 2]) -> f64 {
    match shape {
        CutterShape::QuarterRound => radius - libm::hypot((radius - a).max(0.0), (radius - b).max(0.0)),
        CutterShape::Cove => libm::hypot(a, b) - radius,
        CutterShape::Chamfer => (a + b - radius) * core::f64::consts::FRAC_1_SQRT_2,
        CutterShape::Ball => f64::INFINITY,
    }
}

fn least(shape: CutterShape, radius: f64, points: &[[f64; 2]]) -> f64 {
    points.iter().map(|p| clearance(shape, radius, *p)).fold(f64::INFINITY, f64::min)
}

/// The largest radius that no point minds, by halving an interval of radii.
fn brute(shape: CutterShape, points: &[[f64; 2]]) -> f64 {
    let (mut safe, mut deep) = (0.0, 400.0);
    for _ in 0..36 {
        let radius = 0.5 * (safe + deep);
        if least(shape, radius, points) >= 0.0 { safe = radius } else { deep = radius }
    }
    safe
}

fn with(stock: &Stock, shape: CutterShape, radius: Option<f64>) -> Stock {
    let cutter = Cutter { shape, radius: radius.map(Length::from_mm), ..stock.cutter.clone() };
    Stock { cutter, ..stock.clone() }
}

#[test]
fn no_larger_cutter_is_safe() {
    let (mut tried, mut unfit, mut worst) = ([0; 3], 0, 0.0_f64);
    for planned in plans(4000, 45).filter(|p| p.plan.stage(StageName::Rounding).is_some()) {
        let Planned { seed, neck, stock, .. } = &planned;
        for (n, shape) in GUIDED.into_iter().enumerate() {
            // A run too short for this cutter, or too little wood for any: said, and nothing to compare.
            let plan = match neck.carving_plan(&with(stock, shape, None)) {
                Ok(plan) => plan,
                Err(error) => {
                    assert_helpful(*seed, &error);
                    assert!(error.faults().iter().all(|f| f.path == "cutter.radius"), "seed {seed}: {error}");
                    unfit += 1;
                    continue;
                }
            };
            let shaping = stock.allowances.shaping.mm();
            let facts = cutter(&plan).unwrap();
            let dense = points(neck, &plan, shaping, 30);
            let best = brute(shape, &dense);
            // Dense points see no more than there is, and nearly all of it.
            let largest = facts.largest_mm.unwrap();
            assert!(largest <= best + 1e-7, "seed {seed}: {}: {largest} and {best}", shape.name());
            assert!(best - largest <= 2e-3, "seed {seed}: {}: {largest} and {best}", shape.name());
            worst = worst.max(best - largest);
            assert!(facts.radius_mm <= largest && largest - facts.radius_mm < 0.5 + 1e-9, "seed {seed}");

            // A hundredth more: refused, and rightly.
            let over = largest + 0.01;
            let error = neck.carving_plan(&with(stock, shape, Some(over))).unwrap_err();
            let fault = &error.faults()[0];
            assert_eq!(
                (fault.kind, fault.path.as_str()),
                (Kind::TooDeep, "cutter.radius"),
                "seed {seed}: {error}"
            );
            assert!(
                fault.highest.is_some_and(|h| h <= largest && h > largest - 0.0101),
                "seed {seed}: {fault}"
            );
            assert!(
                fault.reason.contains(&format!(
                    " of this {} cuts ",
                    if shape == CutterShape::Chamfer { "width" } else { "radius" }
                )) && !fault.reason.contains(" 0.00 mm"),
                "seed {seed}: {fault}"
            );
            let fine = points(neck, &plan, shaping, 100);
            assert!(least(shape, over, &fine) < 0.0, "seed {seed}: {} of {over}", shape.name());
            // What the message offers is taken.
            let offered = with(stock, shape, fault.highest);
            if fault.highest.unwrap() >= 0.5 {
                let taken = neck.carving_plan(&offered);
                let short =
                    |e: &neckwright::measure::Error| e.faults().iter().all(|f| f.kind == Kind::Conflict);
                assert!(taken.as_ref().err().is_none_or(short), "seed {seed}: {}", taken.unwrap_err());
            }
            tried[n] += 1;
        }
    }
    println!("{tried:?} tried, {unfit} unfit, {worst} mm at the most");
    assert!(tried.iter().all(|n| *n > 30), "{tried:?}");
}

#[test]
fn each_station_s_largest_is_safe_there_and_no_more() {
    for planned in plans(4000, 40) {
        let Planned { seed, neck, stock, plan, .. } = &planned;
        let Some(facts) = cutter(plan).filter(|c| c.shape != CutterShape::Ball) else { continue };
        let base = saw_line(plan, "shaft").depth;
        for row in &facts.rows {
            for side in Side::BOTH {
                let p = thickened(neck, side, row.x_mm, stock.allowances.shaping.mm());
                let edge = control(neck, side, row.x_mm)[0][0];
                let at = |u: f64| {
                    let q = cubic(&p, u);
                    [edge - q[0], base.at_mm(row.x_mm) - q[1]]
                };
                let over = |r: f64| least_near(&|u| clearance(facts.shape, r, at(u)), [0.0, 1.0], 100).0;
                let largest = row.largest_mm.of(side).unwrap();
                assert!(over(largest) >= -1e-9, "seed {seed} at {}: {largest}", row.x_mm);
                // Where the arc starts on the carve line it cuts in with the square of what it is too large.
                assert!(over(largest + 1e-3) < -1e-9, "seed {seed} at {}: {largest}", row.x_mm);
                assert!(
                    largest >= facts.largest_mm.unwrap() - 1e-9,
                    "seed {seed} at {}: {largest}",
                    row.x_mm
                );
            }
        }
    }
}

/// What the table says is left, against a ray that walks outward from the finished back until it is out of the wood.
#[test]
fn what_is_left_is_there() {
    let mut rays = 0;
    for planned in plans(4500, 30) {
        let Planned { seed, neck, plan, stock, .. } = &planned;
        let Some(facts) = cutter(plan) else { continue };
        // Facets planed before would have taken some of it.
        let order = stock.order.clone().unwrap_or_else(|| stock.usual_order());
        let at = |s: StageName| order.iter().position(|o| *o == s).unwrap_or(usize::MAX);
        if at(StageName::Facets) < at(StageName::Rounding) {
            continue;
        }
        let wood = &stage(plan, StageName::Rounding).wood;
        for row in &facts.rows {
            for side in Side::BOTH {
                let p = control(neck, side, row.x_mm);
                for (k, left) in row.left_mm.of(side).iter().enumerate().take(4).skip(1) {
                    let u = k as f64 / 4.0;
                    let [q, a, b] = [u, u - 1e-6, u + 1e-6].map(|u| cubic(&p, u));
                    let along = [b[0] - a[0], b[1] - a[1]];
                    let length = libm::hypot(along[0], along[1]);
                    let way = [along[1] / length, -along[0] / length];
                    let there = |t: f64| {
                        let y = neck.hand_sign() * side.sign() * (q[0] + t * way[0]);
                        wood.contains_mm([row.x_mm, y, -(q[1] + t * way[1])], 0.0)
                    };
                    assert!(there(left - 1e-4) || *left < 1e-4, "seed {seed} at {} {k}: {left}", row.x_mm);
                    assert!(!there(left + 1e-4), "seed {seed} at {} {k}: {left}", row.x_mm);
                    rays += 1;
                }
            }
        }
    }
    assert!(rays > 500, "{rays}");
}
