//! The saw's lines and the straight facets are the best that there are: against a linear programme that an independent
//! library solves.
//!
//! The programme: of all lines `a + b·t` that a curve `f` nowhere exceeds, the least over the middle of the stretch:
//! minimise `a + b·t_middle` subject to `a + b·t ≥ f(t)` at every sample. The samples are dense, and wherever the curve
//! still comes out of the solution a sample is added and the programme solved again, until it no longer does.
//!
//! The plan then moves its line outward by the allowance square to itself, so that `depth − allowance·√(1 + b²)` is what
//! has to be the programme's. The stretch is the line's own and the allowance beyond either end, as far as there is wood.

use crate::carve_common::*;
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use neckwright::carve::Straight;
use neckwright::shape::{Neck, Side};

const NECKS: usize = 150;
/// The solver's own tolerances are absolute: it works in µm.
const SCALE: f64 = 1e3;

/// The programme's line over a stretch: its values at the ends.
fn programme(neck: &Neck, [from, to]: [f64; 2], f: &dyn Fn(f64) -> f64) -> Straight {
    let stations = joints_between(neck, from, to);
    let mut samples: Vec<f64> = stations.clone();
    for w in stations.windows(2) {
        samples.extend((1..40).map(|i| w[0] + (w[1] - w[0]) * f64::from(i) / 40.0));
    }
    // From −1 to 1 over the stretch, and values less a base.
    let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
    let base = f(middle);
    let mut line = Straight { x_mm: [from, to], value_mm: [0.0; 2] };
    for _ in 0..30 {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let a = problem.add_var(1.0, (-1e6, 1e6));
        let b = problem.add_var(0.0, (-1e6, 1e6));
        for x in &samples {
            problem.add_constraint(
                [(a, 1.0), (b, (x - middle) / half)],
                ComparisonOp::Ge,
                SCALE * (f(*x) - base),
            );
        }
        let SolveOutcome::Solution(solved) = problem.solve().unwrap() else { panic!("not solved") };
        let (a, b) = (solved.var_value(a) / SCALE + base, solved.var_value(b) / SCALE);
        line.value_mm = [a - b, a + b];
        let over = |x: f64| line.at_mm(x) - f(x);
        let worst: Vec<(f64, f64)> =
            stations.windows(2).map(|w| least_near(&over, [w[0], w[1]], 24)).collect();
        if worst.iter().all(|w| w.0 > -1e-8) {
            return line;
        }
        // Not only the worst place: the line's other end may rest on another stretch.
        samples.extend(worst.iter().filter(|w| w.0 < 1e-4).map(|w| w.1));
    }
    panic!("the programme does not close in over {from} to {to}");
}

fn deepest(neck: &Neck, x: f64) -> f64 {
    Side::BOTH.map(|side| reach(&control(neck, side, x), [0.0, 1.0])).into_iter().fold(0.0, f64::max)
}

#[test]
fn saw_lines_are_the_programme_s() {
    let (mut lines, mut worst) = (0, 0.0_f64);
    for Planned { seed, neck, plan, stock, .. } in plans(1000, NECKS) {
        let [tip, end] = neck.wood_reach_mm();
        let allowance = stock.allowances.saw.mm();
        for line in saw_lines(&plan) {
            if line.chosen {
                continue;
            }
            let stretch =
                [(line.depth.x_mm[0] - allowance).max(tip), (line.depth.x_mm[1] + allowance).min(end)];
            let best = programme(&neck, stretch, &|x| deepest(&neck, x));
            let middle = 0.5 * (stretch[0] + stretch[1]);
            let own = line.depth.at_mm(middle) - allowance * steepness(&line.depth);
            let off = own - best.at_mm(middle);
            assert!(off.abs() <= 1e-6, "seed {seed}: {}: {own} and not {}", line.name, best.at_mm(middle));
            worst = worst.max(off.abs());
            lines += 1;
        }
    }
    println!("{lines} lines, {worst} mm at the most");
    assert!(lines > 3 * NECKS);
}

#[test]
fn straight_facets_are_the_programme_s() {
    let (mut planes, mut worst) = (0, 0.0_f64);
    for Planned { seed, neck, plan, .. } in plans(2000, 80) {
        let Some(facts) = facets(&plan) else { continue };
        let [from, to] = facts.run_mm;
        for facet in &facts.facets {
            let Some(height) = &facet.height else { continue };
            let angle = facet.angle_deg.to_radians();
            let way = [libm::cos(angle), libm::sin(angle)];
            let best = programme(&neck, [from, to], &|x| reach(&control(&neck, facet.side, x), way));
            let middle = 0.5 * (from + to);
            let own = height.at_mm(middle) - facts.allowance_mm * steepness(height);
            let off = own - best.at_mm(middle);
            assert!(
                off.abs() <= 1e-6,
                "seed {seed}: {} degrees: {own} and not {}",
                facet.angle_deg,
                best.at_mm(middle)
            );
            worst = worst.max(off.abs());
            planes += 1;
        }
    }
    println!("{planes} planes, {worst} mm at the most");
    assert!(planes > 200, "{planes}");
}

/// The taper's lines in plan, from what is marked.
#[test]
fn taper_lines_are_the_programme_s() {
    let mut lines = 0;
    for Planned { seed, neck, plan, stock, .. } in plans(3000, 60) {
        let out = stock.allowances.taper.mm();
        let [_, end] = neck.wood_reach_mm();
        let board = neck.layout().board().end_mm();
        let stage = stage(&plan, neckwright::spec::StageName::Taper);
        let all: Vec<_> = stage.lines.iter().filter(|l| l.name.starts_with("taper")).collect();
        for line in &all {
            let side = if line.name.contains("bass") { Side::Bass } else { Side::Treble };
            let at = through(line);
            // The first line begins at the headstock's root and the last one at the end; marks are told to a thousandth.
            let ends = [line.marks[0].x_mm, line.marks[line.marks.len() - 1].x_mm];
            let snap = |x: f64, to: f64| if (x - to).abs() < 6e-4 { to } else { x };
            let from = snap(ends[0], neck.headstock().root_x_mm);
            let to = snap(ends[1], end.max(board));
            if all.len() > 2 || board > end {
                // Two lines a side meet where only the plan knows.
                continue;
            }
            let best = programme(&neck, [from, to], &|x| control(&neck, side, x)[0][0]);
            let middle = 0.5 * (from + to);
            let slope = (at(to) - at(from)) / (to - from);
            let own = at(middle) - out * libm::hypot(1.0, slope);
            assert!((own - best.at_mm(middle)).abs() <= 1e-6, "seed {seed}: {}: {own} {best:?}", line.name);
            lines += 1;
        }
    }
    assert!(lines > 50, "{lines}");
}
