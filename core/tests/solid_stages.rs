//! The wood after each stage as a solid: closed, its edges on its faces, its sections those of the plan.

use neckwright::carve::CarvingPlan;
use neckwright::shape::Neck;
use neckwright::solid::{Curve, Face, Point3, Solid, SplineCurve, Surface};
use neckwright::spec::{Specification, Stock, numbers};

fn apart(a: Point3, b: Point3) -> f64 {
    libm::sqrt((0..3).map(|k| (a[k] - b[k]) * (a[k] - b[k])).sum())
}

/// How far a point of an edge lies off a face; `None` on splines whose isolines the edge is.
fn off(face: &Face, edge: usize, t: f64, p: Point3) -> Option<f64> {
    match &face.surface {
        Surface::Plane { point, normal, .. } => {
            Some(libm::fabs((0..3).map(|k| normal[k] * (p[k] - point[k])).sum()))
        }
        Surface::Cylinder { point, radius_mm, .. } => {
            // The crown's: its axis goes along the neck.
            Some(libm::fabs(libm::hypot(p[1] - point[1], p[2] - point[2]) - radius_mm))
        }
        Surface::Spline(surface) => {
            let trace = face.traces.iter().find(|trace| trace.edge == edge)?;
            let poles = trace.poles.iter().map(|p| [p[0], p[1], 0.0]).collect();
            let [s, u, _] = SplineCurve { knots: trace.knots.clone(), poles, weights: None }.at(t);
            Some(apart(surface.at(s, u), p))
        }
    }
}

/// Whether it is closed; the farthest that an edge lies off a face or its curve's end off its vertex.
fn worst(solid: &Solid) -> f64 {
    assert!(solid.is_closed());
    let mut worst: f64 = 0.0;
    for face in &solid.faces {
        for step in face.loops.iter().flatten() {
            let edge = &solid.edges[step.edge];
            let ends = edge.ends.map(|v| solid.vertices[v]);
            match &edge.curve {
                Curve::Line => {
                    for (t, p) in [(0.0, ends[0]), (1.0, ends[1])] {
                        if !matches!(face.surface, Surface::Spline(_)) {
                            worst = worst.max(off(face, step.edge, t, p).unwrap_or(0.0));
                        }
                    }
                }
                Curve::Arc { centre, radius_mm, .. } => {
                    for p in ends {
                        worst = worst.max(libm::fabs(apart(p, *centre) - radius_mm));
                    }
                }
                Curve::Spline(curve) => {
                    let [from, to] = curve.knots.reach();
                    worst = worst.max(apart(curve.at(from), ends[0])).max(apart(curve.at(to), ends[1]));
                    for i in 0..=40 {
                        let t = from + (to - from) * f64::from(i) / 40.0;
                        worst = worst.max(off(face, step.edge, t, curve.at(t)).unwrap_or(0.0));
                    }
                }
            }
        }
    }
    worst
}

fn plan(neck: &str, stock: &str) -> CarvingPlan {
    Neck::from_json(neck).unwrap().carving_plan(&Stock::from_json(stock).unwrap()).unwrap()
}

#[test]
fn all_stages_of_the_usual_plan_are_solids() {
    let plan = plan("{}", "{}");
    for stage in plan.stages() {
        let solid = stage.wood.solid().unwrap_or_else(|e| panic!("{}: {e}", stage.name.name()));
        let off = worst(&solid);
        assert!(off < 1e-9, "{}: {off:e}", stage.name.name());
        // Its ends are the wood's.
        let x = solid.vertices.iter().map(|v| v[0]);
        let reach = [x.clone().fold(f64::INFINITY, f64::min), x.fold(f64::NEG_INFINITY, f64::max)];
        assert_eq!(reach, stage.wood.reach_mm(), "{}", stage.name.name());
    }
}

#[test]
fn stages_of_random_plans_are_solids_or_refused() {
    let mut next = numbers(7);
    let (mut plans, mut made, mut refused, mut worst_of_all) = (0, 0, 0, 0.0_f64);
    while plans < 12 {
        let (neck, stock) = (Specification::plausible(&mut next), Stock::plausible(&mut next));
        let Ok(neck) = Neck::new(&neck) else { continue };
        let Ok(plan) = neck.carving_plan(&stock) else { continue };
        plans += 1;
        for stage in plan.stages() {
            match stage.wood.solid() {
                Ok(solid) => {
                    made += 1;
                    worst_of_all = worst_of_all.max(worst(&solid));
                }
                Err(_) => refused += 1,
            }
        }
    }
    println!("{made} made, {refused} refused, worst {worst_of_all:e}");
    assert!(worst_of_all < 1e-9, "{worst_of_all:e}");
    assert!(refused * 10 < made, "{refused} refused of {made}");
}
