//! The promises of the law room, over random laws.

mod seeded;

use neckwright::law::{
    Bernstein, EndSlope, Law, Patch, Piece, Smoothness, adaptive, fall, natural_spline, rise, through,
};
use proptest::prelude::*;
use seeded::seeded;

fn coefs(max_degree: usize) -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(-50.0..50.0_f64, 1..=max_degree + 1)
}

/// The value at a station that rounding may have carried past an end by a hair.
fn at(law: &Law, x: f64) -> f64 {
    law.at(x.clamp(law.start(), law.end())).unwrap()
}

/// Points whose stations rise and whose values are like thicknesses.
fn points() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((0.5..90.0_f64, 15.0..30.0_f64), 2..9).prop_map(|steps| {
        let mut x = 0.0;
        steps
            .into_iter()
            .map(|(h, v)| {
                x += h;
                (x, v)
            })
            .collect()
    })
}

fn law(values: usize) -> impl Strategy<Value = Law> {
    (
        prop::collection::vec((0.5..60.0_f64, prop::collection::vec(-30.0..30.0_f64, 1..6)), 1..=values),
        -30.0..30.0_f64,
    )
        .prop_map(|(pieces, start)| {
            let mut x = 0.0;
            let pieces: Vec<Piece> = pieces
                .into_iter()
                .map(|(h, coefs)| {
                    x += h;
                    Piece { to: x, coefs, joint: Smoothness::Crease }
                })
                .collect();
            Law::from_pieces(0.0, start, &pieces).expect("rising and finite")
        })
}

fn power_basis(c: &[f64], t: f64) -> f64 {
    // The definition, summed term by term.
    let n = c.len() - 1;
    let mut choose = 1.0;
    let mut sum = 0.0;
    for (i, c) in c.iter().enumerate() {
        sum += c * choose * t.powi(i as i32) * (1.0 - t).powi((n - i) as i32);
        choose = choose * (n - i) as f64 / (i + 1) as f64;
    }
    sum
}

proptest! {
    #![proptest_config(seeded(512))]

    #[test]
    fn evaluation_is_the_definition(c in coefs(20), t in 0.0..=1.0_f64) {
        let p = Bernstein::new(c.clone());
        let size = c.iter().fold(1.0_f64, |m, v| m.max(v.abs()));
        prop_assert!((p.eval(t) - power_basis(&c, t)).abs() <= 1e-13 * size);
        prop_assert_eq!(p.eval(0.0), c[0]);
        prop_assert_eq!(p.eval(1.0), c[c.len() - 1]);
    }

    #[test]
    fn algebra_agrees_with_numbers(a in coefs(12), b in coefs(12), t in 0.0..=1.0_f64) {
        let (p, q) = (Bernstein::new(a), Bernstein::new(b));
        let (x, y) = (p.eval(t), q.eval(t));
        prop_assert!((p.plus(&q).eval(t) - (x + y)).abs() <= 1e-12 * 100.0);
        prop_assert!((p.minus(&q).eval(t) - (x - y)).abs() <= 1e-12 * 100.0);
        prop_assert!((p.times(&q).eval(t) - x * y).abs() <= 1e-12 * 2500.0);
        prop_assert!((p.elevated(p.degree() + 7).eval(t) - x).abs() <= 1e-12 * 50.0);
        let (left, right) = p.split(0.3);
        let v = if t < 0.3 { left.eval(t / 0.3) } else { right.eval((t - 0.3) / 0.7) };
        prop_assert!((v - x).abs() <= 1e-12 * 50.0);
        prop_assert_eq!(left.coefs()[left.degree()], right.coefs()[0]);
        // Derivative and integral undo each other.
        prop_assert!((p.antiderivative(3.0).derivative().eval(t) - x).abs() <= 1e-11 * 50.0);
        let whole = p.antiderivative(0.0).eval(1.0);
        prop_assert!((p.integral() - whole).abs() <= 1e-12 * 50.0);
    }

    #[test]
    fn roots_are_where_the_sign_changes(mut r in prop::collection::vec(0.01..0.99_f64, 1..6)) {
        r.sort_by(f64::total_cmp);
        prop_assume!(r.windows(2).all(|w| w[1] - w[0] > 1e-3));
        let p = r.iter().fold(Bernstein::constant(1.0), |p, r| p.times(&Bernstein::new(vec![-r, 1.0 - r])));
        let found = p.roots();
        prop_assert_eq!(found.len(), r.len());
        for (f, r) in found.iter().zip(&r) {
            prop_assert!((f - r).abs() < 1e-9);
        }
    }

    #[test]
    fn least_is_proven(law in law(5)) {
        let least = law.least(1e-6);
        let (a, b) = (law.start(), law.end());
        let dense = (0..=5000).map(|i| at(&law, a + (b - a) * f64::from(i) / 5000.0)).fold(f64::INFINITY, f64::min);
        prop_assert!(least.bound <= dense);
        prop_assert!(least.value - least.bound <= 1e-6 + 1e-12);
        prop_assert!((at(&law, least.x_mm) - least.value).abs() <= 1e-9);
        let greatest = law.greatest(1e-6);
        prop_assert!(greatest.bound >= greatest.value && greatest.value >= dense);
    }

    #[test]
    fn laws_add_and_multiply(a in law(4), b in law(4), k in 0.0..=1.0_f64) {
        let x = k * a.end().min(b.end());
        let (u, v) = (a.at(x).unwrap(), b.at(x).unwrap());
        prop_assert!((a.plus(&b).unwrap().at(x).unwrap() - (u + v)).abs() < 1e-10);
        prop_assert!((a.minus(&b).unwrap().at(x).unwrap() - (u - v)).abs() < 1e-10);
        prop_assert!((a.times(&b).unwrap().at(x).unwrap() - u * v).abs() < 1e-8);
        let integral = adaptive_by_pieces(&a);
        prop_assert!((a.integral() - integral).abs() <= 1e-12 * (1.0 + integral.abs()) * 100.0);
    }

    #[test]
    fn a_curve_through_points_never_leaves_their_range(p in points()) {
        let law = through(&p, EndSlope::Natural, EndSlope::Natural).unwrap();
        for w in p.windows(2) {
            let (lo, hi) = (w[0].1.min(w[1].1), w[0].1.max(w[1].1));
            prop_assert_eq!(at(&law, w[0].0), w[0].1);
            for i in 0..=200 {
                let v = at(&law, w[0].0 + (w[1].0 - w[0].0) * f64::from(i) / 200.0);
                prop_assert!(v >= lo - 1e-13 * lo && v <= hi + 1e-13 * hi, "{} not in {}..{}", v, lo, hi);
            }
        }
        assert_joints(&law);
    }

    #[test]
    fn points_on_a_line_stay_on_it(a in 15.0..30.0_f64, slope in -0.03..0.03_f64, steps in prop::collection::vec(1.0..90.0_f64, 2..9)) {
        let mut x = 0.0;
        let p: Vec<(f64, f64)> = steps.iter().map(|h| { x += h; (x, a + slope * x) }).collect();
        let law = through(&p, EndSlope::Natural, EndSlope::Natural).unwrap();
        for i in 0..=1000 {
            let x = p[0].0 + (law.end() - p[0].0) * f64::from(i) / 1000.0;
            let exact = a + slope * x;
            // One ulp from rounding the given points, the rest from evaluation.
            prop_assert!((at(&law, x) - exact).abs() <= 4.0 * f64::EPSILON * exact.abs());
        }
    }

    #[test]
    fn blends_stay_between_and_join_twice(from in 1.0..40.0_f64, run in 0.5..60.0_f64) {
        let up = rise(0.0, from, from + run, 120.0).unwrap();
        let down = fall(0.0, from, from + run, 120.0).unwrap();
        for i in 0..=500 {
            let x = 120.0 * f64::from(i) / 500.0;
            let (u, d) = (up.at(x).unwrap(), down.at(x).unwrap());
            prop_assert!((0.0..=1.0).contains(&u) && (0.0..=1.0).contains(&d));
            prop_assert!((u + d - 1.0).abs() < 1e-14);
        }
        assert_joints(&up);
    }

    #[test]
    fn a_patch_is_the_product_of_its_rows(a in coefs(4), b in coefs(4), s in 0.0..=1.0_f64, u in 0.0..=1.0_f64) {
        let p = Patch::from_columns(&[Bernstein::new(a.clone()), Bernstein::new(b.clone())]);
        let exact = (1.0 - u) * Bernstein::new(a).eval(s) + u * Bernstein::new(b).eval(s);
        prop_assert!((p.eval(s, u) - exact).abs() < 1e-11);
        prop_assert!((p.times(&p).eval(s, u) - exact * exact).abs() < 1e-9);
        prop_assert!((p.elevated(6, 3).eval(s, u) - exact).abs() < 1e-11);
        let (left, right) = p.halves_along();
        let half = if s < 0.5 { left.eval(2.0 * s, u) } else { right.eval(2.0 * s - 1.0, u) };
        prop_assert!((half - exact).abs() < 1e-11);
        let (left, right) = p.halves_around();
        let half = if u < 0.5 { left.eval(s, 2.0 * u) } else { right.eval(s, 2.0 * u - 1.0) };
        prop_assert!((half - exact).abs() < 1e-11);
    }
}

#[test]
fn the_natural_spline_of_a_worked_example() {
    // Burden & Faires, Numerical Analysis, section 3.5, natural spline through (1, 2), (2, 3), (3, 5); from memory, and
    // worked out again by hand: 2 + 3/4·t + 1/4·t³, then 3 + 3/2·t + 3/4·t² − 1/4·t³.
    let law = natural_spline(&[(1.0, 2.0), (2.0, 3.0), (3.0, 5.0)]).unwrap();
    for i in 0..=100 {
        let t = f64::from(i) / 100.0;
        let first = 2.0 + 0.75 * t + 0.25 * t * t * t;
        let second = 3.0 + 1.5 * t + 0.75 * t * t - 0.25 * t * t * t;
        assert!((at(&law, 1.0 + t) - first).abs() < 1e-14 && (at(&law, 2.0 + t) - second).abs() < 1e-14);
    }
    assert!(natural_spline(&[(0.0, 1.0)]).is_none() && natural_spline(&[(0.0, 1.0), (0.0, 2.0)]).is_none());
}

proptest! {
    #![proptest_config(seeded(128))]

    #[test]
    fn a_natural_spline_is_smooth_and_linear_in_its_values(
        values in proptest::collection::vec((-9.0..9.0_f64, -9.0..9.0_f64, 0.5..40.0_f64), 2..20),
    ) {
        let mut x = 0.0;
        let places: Vec<f64> = values.iter().map(|v| { x += v.2; x }).collect();
        let law = |f: &dyn Fn(&(f64, f64, f64)) -> f64| {
            natural_spline(&places.iter().zip(&values).map(|(x, v)| (*x, f(v))).collect::<Vec<_>>()).unwrap()
        };
        let (a, b, sum) = (law(&|v| v.0), law(&|v| v.1), law(&|v| v.0 - 2.0 * v.1));
        assert_joints(&a);
        for (x, v) in places.iter().zip(&values) {
            prop_assert_eq!(at(&a, *x), v.0);
        }
        let ends = [a.pieces()[0].eval2(0.0)[2], a.pieces()[a.pieces().len() - 1].eval2(1.0)[2]];
        prop_assert!(ends.iter().all(|bend| bend.abs() < 1e-9));
        for i in 0..=200 {
            let x = places[0] + (x - places[0]) * f64::from(i) / 200.0;
            prop_assert!((at(&a, x) - 2.0 * at(&b, x) - at(&sum, x)).abs() < 1e-10);
        }
    }
}

fn adaptive_by_pieces(law: &Law) -> f64 {
    law.breaks().windows(2).map(|w| adaptive(w[0], w[1], 1e-12, &mut |x| at(law, x))).sum()
}

/// Value, slope and second derivative from both sides of every joint that is not a crease.
fn assert_joints(law: &Law) {
    for (i, joint) in law.joints().iter().enumerate() {
        let (l, r) = (&law.pieces()[i], &law.pieces()[i + 1]);
        let (hl, hr) = (law.breaks()[i + 1] - law.breaks()[i], law.breaks()[i + 2] - law.breaks()[i + 1]);
        let (a, b) = (l.eval2(1.0), r.eval2(0.0));
        assert_eq!(a[0].to_bits(), b[0].to_bits());
        if *joint == Smoothness::Curvature {
            let size = a[0].abs().max(1.0);
            assert!((a[1] / hl - b[1] / hr).abs() <= 1e-9 * size / hl.min(hr));
            assert!((a[2] / (hl * hl) - b[2] / (hr * hr)).abs() <= 1e-9 * size / (hl.min(hr) * hl.min(hr)));
        }
    }
}

#[test]
fn gauss_integrates_what_it_promises() {
    // ∫₀¹ x³¹ = 1/32 is the highest power the 16-point rule takes exactly; ∫₀^π sin = 2.
    let power = neckwright::law::gauss16(0.0, 1.0, |x| x.powi(31));
    assert!((power - 1.0 / 32.0).abs() < 1e-16);
    let sine = neckwright::law::gauss16(0.0, core::f64::consts::PI, libm::sin);
    assert!((sine - 2.0).abs() < 1e-14);
}

#[test]
fn a_b_spline_value_from_the_literature() {
    // Piegl & Tiller, The NURBS Book, Ex. 2.3: U = {0,0,0,1,2,3,4,4,5,5,5}, p = 2, u = 5/2: 1/8, 6/8, 1/8.
    // Over the knot span [2, 3] the three quadratics are, in Bernstein form over the span:
    let basis =
        [[0.5, 0.0, 0.0], [0.5, 1.0, 0.5], [0.0, 0.0, 0.5]].map(|c| Bernstein::new(c.to_vec()).eval(0.5));
    assert_eq!(basis, [1.0 / 8.0, 6.0 / 8.0, 1.0 / 8.0]);
}

#[test]
fn nothing_that_jumps_or_is_not_finite_is_a_law() {
    let piece = |to, v| Piece { to, coefs: vec![v], joint: Smoothness::Crease };
    assert!(Law::from_pieces(0.0, 1.0, &[piece(0.0, 2.0)]).is_none());
    assert!(Law::from_pieces(0.0, 1.0, &[piece(1.0, f64::NAN)]).is_none());
    assert!(Law::from_pieces(0.0, 1.0, &[]).is_none());
    assert!(Law::polyline(&[(0.0, 1.0), (1.0, 2.0), (1.0, 3.0)]).is_none());
    assert!(Law::polyline(&[(0.0, 1.0), (1.0, 2.0), (3.0, 3.0)]).unwrap().derivative().is_none());
    assert!(through(&[(0.0, 1.0), (f64::NAN, 2.0)], EndSlope::Natural, EndSlope::Natural).is_none());
}
