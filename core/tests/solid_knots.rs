//! Splines of solids are as smooth in their knots as their multiplicities say, and no smoother: no knot could be left out.

use neckwright::measure::Length;
use neckwright::solid::{Curve, Knots, Solid, SplineCurve, SplineSurface, Surface};
use neckwright::spec::SolidOptions;

mod common;

/// The polynomials of a spline's coordinates as Bernstein coefficients, one row for each stretch between two knots, by inserting
/// every knot until it counts as often as the degree (Boehm, "Inserting new knots into B-spline curves", CAD 12 (1980) 199).
fn pieces(knots: &Knots, coordinate: &[f64]) -> Vec<Vec<f64>> {
    let n = knots.degree;
    let (mut flat, mut poles) = (knots.flat(), coordinate.to_vec());
    for (value, times) in knots.values.iter().zip(&knots.multiplicities) {
        for _ in *times..n {
            let k = flat.partition_point(|t| t <= value) - 1;
            let mut next = poles[..=k - n].to_vec();
            for i in k - n + 1..=k {
                let share = (value - flat[i]) / (flat[i + n] - flat[i]);
                let pole = if i < poles.len() && share < 1.0 {
                    (1.0 - share) * poles[i - 1] + share * poles[i]
                } else {
                    poles[i - 1]
                };
                next.push(pole);
            }
            next.extend(&poles[k..]);
            poles = next;
            flat.insert(k + 1, *value);
        }
    }
    poles.windows(n + 1).step_by(n).map(<[f64]>::to_vec).collect()
}

/// The derivatives of a polynomial at one end, from the value on, each by a unit of `unit` mm.
fn derivatives(coefs: &[f64], at_end: bool, length: f64, unit: f64) -> Vec<f64> {
    let mut row = coefs.to_vec();
    let mut factor = 1.0;
    let mut all = Vec::new();
    for k in 0..coefs.len() {
        all.push(factor * if at_end { row[row.len() - 1] } else { row[0] });
        factor *= (coefs.len() - 1 - k) as f64 * unit / length;
        row = row.windows(2).map(|w| w[1] - w[0]).collect();
    }
    all
}

/// For every inner knot: the greatest jump of the derivatives that it keeps, and of the first that it does not, each as a share of
/// what rounding of the coefficients may make of it.
fn jumps(knots: &Knots, coordinates: &[Vec<f64>]) -> Vec<(f64, f64)> {
    let each: Vec<Vec<Vec<f64>>> = coordinates.iter().map(|c| pieces(knots, c)).collect();
    let inner = 1..knots.values.len() - 1;
    inner
        .map(|i| {
            let [a, b, c] = [i - 1, i, i + 1].map(|k| knots.values[k]);
            let kept = knots.degree - knots.multiplicities[i];
            let kept_by = |unit: f64, k: usize, grows: f64| {
                let own = |own: &Vec<Vec<f64>>| {
                    let before = derivatives(&own[i - 1], true, b - a, unit);
                    let after = derivatives(&own[i], false, c - b, unit);
                    let largest = own[i - 1].iter().chain(&own[i]).fold(1e-3, |m: f64, v| m.max(v.abs()));
                    let factor: f64 = (0..k).map(|j| grows * (knots.degree - j) as f64).product();
                    (after[k] - before[k]).abs() / (f64::EPSILON * largest * factor)
                };
                each.iter().map(own).fold(0.0, f64::max)
            };
            // On the shorter of the two stretches rounding grows by the degree's powers alone; what is off there is off by a power
            // more on the longer one.
            let [short, long] = [(b - a).min(c - b), (b - a).max(c - b)];
            let smooth = (0..=kept).map(|k| kept_by(short, k, 2.0)).fold(0.0, f64::max);
            let first = kept_by(long, kept + 1, 1.0);
            (smooth, first)
        })
        .collect()
}

/// All splines of a solid: knots in one direction with the coordinates of every row of poles.
fn splines(solid: &Solid) -> Vec<(&Knots, Vec<Vec<f64>>, f64)> {
    let mut all = Vec::new();
    for edge in &solid.edges {
        if let Curve::Spline(spline) = &edge.curve {
            let rows = (0..3).map(|k| spline.poles.iter().map(|p| p[k]).collect()).collect();
            all.push((&spline.knots, rows, edge.within_mm));
        }
    }
    for face in &solid.faces {
        if let Surface::Spline(surface) = &face.surface {
            let around = surface.poles[0].len();
            let along = (0..around).flat_map(|j| (0..3).map(move |k| (j, k)));
            let along = along.map(|(j, k)| surface.poles.iter().map(|row| row[j][k]).collect()).collect();
            all.push((&surface.knots[0], along, 0.0));
            let across = surface.poles.iter().flat_map(|row| (0..3).map(move |k| (row, k)));
            let across = across.map(|(row, k)| row.iter().map(|p| p[k]).collect()).collect();
            all.push((&surface.knots[1], across, 0.0));
        }
    }
    all
}

#[test]
fn no_knot_counts_more_often_than_it_has_to() {
    let (mut knots, mut least, mut most) = (0, f64::INFINITY, 0.0_f64);
    for (i, neck) in common::necks(60).iter().enumerate() {
        let cubic_within = (i % 4 == 0).then(|| Length::from_mm(0.001));
        let options = SolidOptions { slots: false, cubic_within, ..Default::default() };
        let solids = neck.solids(&options).unwrap();
        for solid in [&solids.neck_wood, &solids.fretboard] {
            for (own, rows, within) in splines(solid) {
                for (k, (smooth, first)) in jumps(own, &rows).into_iter().enumerate() {
                    let told = format!("{i} {} degree {} knot {k}", solid.name, own.degree);
                    assert!(
                        smooth < 8.0,
                        "{told}: jumps by {smooth:e} roundings, which it should not, within {within:e}"
                    );
                    assert!(first > 1.0, "{told}: could be left out, it jumps by {first:e} roundings");
                    most = most.max(smooth);
                    least = least.min(first);
                    knots += 1;
                }
            }
        }
    }
    println!("{knots} knots: smooth {most:e}, jumps {least:e}");
    assert!(knots > 5_000, "{knots}");
}

/// Lists that do not go together are read as nothing, and never panic.
#[test]
fn lists_that_do_not_go_together_are_not_read() {
    let knots = |degree: usize, values: &[f64], multiplicities: &[usize]| Knots {
        degree,
        values: values.to_vec(),
        multiplicities: multiplicities.to_vec(),
    };
    let wrong = [
        knots(2, &[], &[]),
        knots(2, &[0.0, 1.0], &[3]),
        knots(2, &[0.0], &[3, 3]),
        knots(2, &[0.0, 1.0], &[3, 0]),
        knots(2, &[0.0, 1.0], &[1, 5]),
        knots(2, &[0.0, 0.5, 1.0], &[3, 9, 3]),
        knots(2, &[1.0, 0.0], &[3, 3]),
        knots(2, &[0.0, f64::NAN], &[3, 3]),
        knots(0, &[0.0, 1.0], &[1, 1]),
        knots(2, &[0.0, 0.5, 1.0], &[3, usize::MAX, 3]),
        knots(usize::MAX, &[0.0, 1.0], &[0, 0]),
        knots(usize::MAX - 1, &[0.0, 1.0], &[usize::MAX, usize::MAX]),
    ];
    let sound = Knots::of_one(2, [0.0, 1.0]);
    let read = |curve: &SplineCurve, surface: &SplineSurface| {
        let places = [-1.0, 0.0, 0.4, 1.0, f64::NAN, f64::INFINITY];
        places.iter().all(|t| {
            curve.at(*t).iter().all(|c| c.is_nan())
                && [0.0, 0.3].iter().all(|u| surface.at(*t, *u).iter().all(|c| c.is_nan()))
        })
    };
    for own in &wrong {
        assert!(own.means().is_empty() && own.flat().is_empty(), "{own:?}");
        for poles in [0, 1, 3, own.poles().min(20)] {
            let curve = SplineCurve { knots: own.clone(), poles: vec![[0.0; 3]; poles], weights: None };
            let poles = vec![vec![[0.0; 3]; 3]; poles];
            let surface = SplineSurface { knots: [own.clone(), sound.clone()], poles, weights: None };
            assert!(read(&curve, &surface), "{own:?}");
            let poles = vec![vec![[0.0; 3]; curve.poles.len()]; 3];
            let surface = SplineSurface { knots: [sound.clone(), own.clone()], poles, weights: None };
            assert!(read(&curve, &surface), "{own:?}");
        }
    }
    // Sound knots, and poles or weights that are too few or too many.
    for (poles, weights) in [(2, None), (4, None), (3, Some(2)), (3, Some(0)), (3, Some(4))] {
        let curve = SplineCurve {
            knots: sound.clone(),
            poles: vec![[0.0; 3]; poles],
            weights: weights.map(|n| vec![1.0; n]),
        };
        let surface = SplineSurface {
            knots: [sound.clone(), sound.clone()],
            poles: vec![vec![[0.0; 3]; 3], vec![[0.0; 3]; poles], vec![[0.0; 3]; 3]],
            weights: weights.map(|n| vec![vec![1.0; 3], vec![1.0; n], vec![1.0; 3]]),
        };
        assert!(read(&curve, &surface), "{poles} poles, {weights:?} weights");
    }
    assert_eq!(sound.means(), [0.0, 0.5, 1.0]);
    assert_eq!(sound.flat(), [0.0, 0.0, 0.0, 1.0, 1.0, 1.0]);
}
