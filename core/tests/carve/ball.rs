//! A ball that follows paths: none of its places comes into the shape that has to stay, and the largest that fits into
//! the back's hollows is what a ball rolled over dense points finds.

use crate::carve_common::*;
use neckwright::carve::CutterFacts;
use neckwright::measure::{Kind, Length};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{Cutter, CutterShape, StageName, Stock};

fn ball(stock: &Stock, radius: Option<f64>) -> Stock {
    let cutter = Cutter {
        shape: CutterShape::Ball,
        radius: radius.map(Length::from_mm),
        paths: 5,
        ..stock.cutter.clone()
    };
    Stock { cutter, ..stock.clone() }
}

/// A place on the shape that has to stay, right-handed `[x, y, z]`.
fn place(neck: &Neck, side: Side, x: f64, u: f64, shaping: f64) -> [f64; 3] {
    let [out, depth] = cubic(&thickened(neck, side, x, shaping), u);
    [x, side.sign() * out, -depth]
}

fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    let d = [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
    libm::sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2])
}

/// The least distance between the centres of the paths and dense points of the shape, less the radius.
fn least_over_paths(neck: &Neck, facts: &CutterFacts, shaping: f64) -> f64 {
    let mut least = f64::INFINITY;
    for path in &facts.paths {
        for [x, y, z] in path.points_mm.iter().step_by(41) {
            let centre = [*x, neck.hand_sign() * y, *z];
            for i in 0..=30 {
                let at = x + facts.radius_mm * (f64::from(i) / 15.0 - 1.0);
                for side in Side::BOTH {
                    let p = thickened(neck, side, at, shaping);
                    for k in 0..=60 {
                        let [out, depth] = cubic(&p, f64::from(k) / 60.0);
                        least = least.min(distance(centre, [at, side.sign() * out, -depth]));
                    }
                }
            }
        }
    }
    least - facts.radius_mm
}

#[test]
fn no_place_of_a_ball_comes_into_what_stays() {
    let (mut tried, mut refused) = (0, 0);
    for planned in plans(7000, 30).filter(|p| p.plan.stage(StageName::Rounding).is_some()) {
        let Planned { seed, neck, stock, .. } = &planned;
        for radius in [None, Some(3.0), Some(19.0)] {
            let plan = match neck.carving_plan(&ball(stock, radius)) {
                Ok(plan) => plan,
                Err(error) => {
                    assert_helpful(*seed, &error);
                    refused += 1;
                    continue;
                }
            };
            let facts = cutter(&plan).unwrap();
            let over = least_over_paths(neck, facts, stock.allowances.shaping.mm());
            assert!(over >= -1e-9, "seed {seed}, radius {}: {over}", facts.radius_mm);
            let [from, to] = plan.stops_mm();
            for [x, ..] in facts.paths.iter().flat_map(|p| &p.points_mm) {
                let rim = [x - facts.radius_mm, x + facts.radius_mm];
                assert!(rim[0] >= from && rim[1] <= to, "seed {seed}: {rim:?} beyond {from} or {to}");
            }
            tried += 1;
        }
    }
    println!("{tried} tried, {refused} refused");
    assert!(tried > 50 && refused < 10, "{tried} {refused}");
}

/// On a back that rises the centres lie beyond the places that the ball touches; its rim stays between the stops.
#[test]
fn a_large_ball_on_a_steep_back_stays_between_the_stops() {
    let neck = Neck::from_json(
        r#"{"shaft": {"thickness": [{"at": 20, "thickness": 18}, {"at": 300, "thickness": 30}]}}"#,
    );
    let neck = neck.unwrap();
    let plan = plan_of(&neck, &ball(&Stock::default(), Some(60.0)));
    let ([from, to], facts) = (plan.stops_mm(), cutter(&plan).unwrap());
    let reach = facts.paths.iter().flat_map(|p| &p.points_mm).map(|p| p[0]);
    let (least, most) = reach.fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(x), b.max(x)));
    assert!(least - 60.0 >= from && most + 60.0 <= to, "{least} {most} {from} {to}");
    assert!(
        least - 60.0 < from + 4.0 || most + 60.0 > to - 4.0,
        "stops far short: {least} {most} {from} {to}"
    );
}

/// A neck with a waist: where the shaft is thinnest it is hollow along the neck.
fn waisted() -> Neck {
    Neck::from_json(
        r#"{"shaft": {"thickness": [
            {"at": 40, "thickness": 22}, {"at": 115, "thickness": 22}, {"at": 135, "thickness": 23},
            {"at": 150, "thickness": 20.5}, {"at": 165, "thickness": 23}, {"at": 185, "thickness": 22}, {"at": 340, "thickness": 22}
        ]}}"#,
    )
    .unwrap()
}

/// The largest ball that touches at one place and has another place of the shape on its surface: `d²/(2·n·d)`, with `d`
/// the way from one to the other and `n` square to the shape; the least of all is the largest that is safe.
fn rolled(neck: &Neck, zone: [f64; 2], shaping: f64) -> f64 {
    let mut least = f64::INFINITY;
    let steps = 1200;
    for side in Side::BOTH {
        for k in 1..=40 {
            let u = f64::from(k) / 40.0;
            for i in 2..steps - 2 {
                let x = zone[0] + (zone[1] - zone[0]) * f64::from(i) / f64::from(steps);
                let h = 1e-4;
                let p = place(neck, side, x, u, shaping);
                let difference = |a: [f64; 3], b: [f64; 3]| [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
                let along =
                    difference(place(neck, side, x + h, u, shaping), place(neck, side, x - h, u, shaping));
                let around = difference(place(neck, side, x, u - h, shaping), p);
                let mut n = [
                    along[1] * around[2] - along[2] * around[1],
                    along[2] * around[0] - along[0] * around[2],
                    along[0] * around[1] - along[1] * around[0],
                ];
                let length = libm::sqrt(n.iter().map(|n| n * n).sum());
                let sign = if n[2] > 0.0 { -1.0 } else { 1.0 };
                n = n.map(|n| sign * n / length);
                for away in [-2.0, -0.5, 0.5, 2.0] {
                    let d = difference(place(neck, side, x + away, u, shaping), p);
                    let rise: f64 = (0..3).map(|k| d[k] * n[k]).sum();
                    if rise > 1e-7 {
                        least = least.min(d.iter().map(|d| d * d).sum::<f64>() / (2.0 * rise));
                    }
                }
            }
        }
    }
    least
}

#[test]
fn a_ball_larger_than_the_hollow_is_refused() {
    let neck = waisted();
    let stock = ball(&Stock::default(), None);
    let plan = plan_of(&neck, &stock);
    let facts = cutter(&plan).unwrap();
    let largest = facts.largest_mm.expect("the waist is hollow");
    let rolled = rolled(&neck, plan.stops_mm(), stock.allowances.shaping.mm());
    println!("{largest} mm, rolled {rolled} mm, at {}", facts.largest_x_mm);
    assert!((rolled / largest - 1.0).abs() < 5e-3, "{largest} and {rolled}");
    assert!(largest < 60.0, "no ball that the stock may have is too large: {largest}");
    assert_eq!(facts.radius_mm, 6.0);
    let safe = plan_of(&neck, &ball(&stock, Some(largest - 0.01)));
    let over = least_over_paths(&neck, cutter(&safe).unwrap(), stock.allowances.shaping.mm());
    assert!(over >= -1e-9, "{over}");
    let error = neck.carving_plan(&ball(&stock, Some(largest + 0.01))).unwrap_err();
    let fault = &error.faults()[0];
    assert_eq!((fault.kind, fault.path.as_str()), (Kind::TooDeep, "cutter.radius"), "{error}");
    assert!(fault.highest.is_some_and(|h| h <= largest && h > largest - 0.0101), "{fault}");
    assert!(fault.reason.contains("hollow along the neck") && fault.reason.contains("fret"), "{fault}");
}

/// On a back that bulges everywhere a ball of any size touches in one place.
#[test]
fn a_bulging_back_takes_any_ball() {
    let neck = Neck::from_json("{}").unwrap();
    let plan = plan_of(&neck, &ball(&Stock::default(), Some(60.0)));
    let facts = cutter(&plan).unwrap();
    assert!(facts.largest_mm.is_none_or(|most| most > 1000.0), "{:?}", facts.largest_mm);
    assert!(least_over_paths(&neck, facts, 0.8) >= -1e-9);
}
