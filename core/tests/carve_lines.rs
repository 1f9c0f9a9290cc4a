//! The straight lines of the carving plan against a linear programme that an independent solver solves.
//!
//! Of all lines `a + b·x` that a curve `f` nowhere exceeds over a stretch, the plan takes the one with the least area
//! between: the least `a + b·middle` with `a + b·x ≥ f(x)`. The solver gets `f` at many stations and, as it can't know
//! where between them `f` comes out of its line, the stations where it does, until it does so no further.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use neckwright::carve::{CarvingPlan, Details, Straight};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{Specification, Stock, numbers};

/// Value at the middle of the stretch of the best line, by the solver.
fn best(f: &dyn Fn(f64) -> f64, [from, to]: [f64; 2], kinks: &[f64]) -> f64 {
    let middle = 0.5 * (from + to);
    let mut stations: Vec<f64> = (0..=600).map(|i| from + (to - from) * f64::from(i) / 600.0).collect();
    stations.extend(kinks.iter().filter(|x| **x > from && **x < to));
    let mut value = 0.0;
    for _ in 0..40 {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let any = (f64::NEG_INFINITY, f64::INFINITY);
        // About the middle, and in parts of the stretch, so that both unknowns are of one size.
        let (a, b) = (problem.add_var(1.0, any), problem.add_var(0.0, any));
        let place = |x: f64| (x - middle) / (to - from);
        for x in &stations {
            problem.add_constraint([(a, 1.0), (b, place(*x))], ComparisonOp::Ge, f(*x));
        }
        let SolveOutcome::Solution(solution) = problem.solve().unwrap() else { panic!("not solved") };
        let line = |x: f64| solution[a] + solution[b] * place(x);
        value = solution[a];
        let mut worst = (0.0, 0.0);
        for i in 0..=40_000 {
            let x = from + (to - from) * f64::from(i) / 40_000.0;
            let out = f(x) - line(x);
            if out > worst.0 {
                worst = (out, x);
            }
        }
        if worst.0 < 1e-8 {
            break;
        }
        stations.push(worst.1);
    }
    value
}

fn plans(count: usize) -> Vec<(u64, Neck, CarvingPlan)> {
    let mut all = Vec::new();
    for seed in 1.. {
        let mut next = numbers(seed);
        let Ok(neck) = Neck::new(&Specification::plausible(&mut next)) else { continue };
        let stock = Stock::plausible(&mut next);
        let plan = neck.carving_plan(&stock).or_else(|_| neck.carving_plan(&Stock::default()));
        if let Ok(plan) = plan {
            all.push((seed, neck, plan));
        }
        if all.len() == count {
            return all;
        }
    }
    all
}

/// The line moved back by the allowance, square to itself.
fn unmoved(line: &Straight, allowance: f64, x: f64) -> f64 {
    line.at_mm(x) - allowance * line.slope().mul_add(line.slope(), 1.0).sqrt()
}

#[test]
fn no_straight_line_is_closer_to_the_back() {
    let mut seen = 0;
    for (seed, neck, plan) in plans(40) {
        let spine = neck.laws().spine_depth;
        let [tip, end] = neck.wood_reach_mm();
        let allowance = plan.stock().allowances.saw.mm();
        let Some(Details::Sawing(lines)) = plan.stage(neckwright::spec::StageName::Back).map(|s| &s.details)
        else {
            panic!("seed {seed}: a plan without sawing lines")
        };
        for line in lines.iter().filter(|line| !line.chosen) {
            let [from, to] = line.depth.x_mm;
            let reach = [(from - allowance).max(tip), (to + allowance).min(end)];
            let solved = best(&|x| spine.at(x).unwrap(), reach, spine.breaks());
            let ours = unmoved(&line.depth, allowance, 0.5 * (reach[0] + reach[1]));
            assert!((solved - ours).abs() <= 1e-6, "seed {seed}, {}: {ours}, solved {solved}", line.name);
            seen += 1;
        }
    }
    assert!(seen > 150, "{seen} lines");
}

/// How far one side of the finished section reaches in a direction, from samples and a few steps toward the best.
fn reach(neck: &Neck, side: Side, x: f64, [out, down]: [f64; 2]) -> f64 {
    let p = neck.section(x).unwrap().control_points_mm(side).unwrap();
    let sign = side.sign() * neck.hand_sign();
    let at = |u: f64| {
        let s = 1.0 - u;
        let b = [s * s * s, 3.0 * s * s * u, 3.0 * s * u * u, u * u * u];
        (0..4).map(|i| b[i] * (out * sign * p[i][0] - down * p[i][1])).sum::<f64>()
    };
    let mut best = (0..=64).map(|i| f64::from(i) / 64.0).max_by(|a, b| at(*a).total_cmp(&at(*b))).unwrap();
    let mut step = 1.0 / 64.0;
    while step > 1e-9 {
        let near = [(best - step).max(0.0), best, (best + step).min(1.0)];
        let next = near.into_iter().max_by(|a, b| at(*a).total_cmp(&at(*b))).unwrap();
        if next == best {
            step *= 0.5;
        }
        best = next;
    }
    at(best)
}

#[test]
fn no_plane_is_closer_to_the_back_than_a_straight_facet() {
    let mut seen = 0;
    for (seed, neck, plan) in plans(24) {
        let Some(Details::Facets(facts)) =
            plan.stage(neckwright::spec::StageName::Facets).map(|s| &s.details)
        else {
            continue;
        };
        for facet in facts.facets.iter().filter(|f| f.round <= 2 && f.side == Side::Bass) {
            let Some(height) = &facet.height else { continue };
            let angle = facet.angle_deg.to_radians();
            let way = if facet.angle_deg == 90.0 { [0.0, 1.0] } else { [libm::cos(angle), libm::sin(angle)] };
            let [from, to] = facts.run_mm;
            let solved =
                best(&|x| reach(&neck, facet.side, x, way), [from, to], neck.laws().spine_depth.breaks());
            let ours = unmoved(height, facts.allowance_mm, 0.5 * (from + to));
            assert!(
                (solved - ours).abs() <= 1e-6,
                "seed {seed}, {} degrees: {ours} {solved}",
                facet.angle_deg
            );
            seen += 1;
        }
    }
    assert!(seen > 12, "{seen} planes");
}
