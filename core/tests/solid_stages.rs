//! The wood after each stage as solids: closed, edges on their faces, the volume that of the plan.

use std::collections::BTreeMap;

use common::enclosed::volume_mm3;
use neckwright::carve::{CarvingPlan, Wood};
use neckwright::shape::{Neck, Side};
use neckwright::solid::{Curve, Face, Point3, Solid, SplineCurve, Surface};
use neckwright::spec::{CutterShape, HeadstockKind, SolidOptions, Specification, StageName, Stock, numbers};

mod common;

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

/// What the solids of a stage enclose against the plan's own integral, relatively.
fn volume_off(solids: &[Solid], wood: &Wood) -> f64 {
    let (got, wanted): (f64, f64) =
        (solids.iter().map(volume_mm3).sum(), wood.volume_mm3() + wood.bored_mm3());
    (got - wanted).abs() / wanted
}

fn names(solids: &[Solid]) -> Vec<&str> {
    solids.iter().map(|s| s.name.as_str()).collect()
}

#[test]
fn all_stages_of_the_usual_plan_are_solids() {
    let plan = plan("{}", "{}");
    let mut two = false;
    for stage in plan.stages() {
        let solids = stage.wood.solids().unwrap_or_else(|e| panic!("{}: {e}", stage.name.name()));
        // From the transitions on the woods are parted, and stay so.
        two |= stage.name == StageName::Transitions;
        let parts: &[&str] = if two { &["neck wood", "fretboard"] } else { &["wood"] };
        assert_eq!(names(&solids), parts, "{}", stage.name.name());
        let off = solids.iter().map(worst).fold(0.0, f64::max);
        assert!(off < 1e-9, "{}: {off:e}", stage.name.name());
        let off = volume_off(&solids, &stage.wood);
        assert!(off < 1e-9, "{}: {off:e}", stage.name.name());
        // Their ends are the wood's.
        let x = solids.iter().flat_map(|s| &s.vertices).map(|v| v[0]);
        let reach = [x.clone().fold(f64::INFINITY, f64::min), x.fold(f64::NEG_INFINITY, f64::max)];
        assert_eq!(reach, stage.wood.reach_mm(), "{}", stage.name.name());
    }
    assert!(two);
}

/// After sanding the board is that of the finished neck, to the last bit, and so is the wood but for what is cut into it.
#[test]
fn the_last_stage_is_the_finished_neck() {
    let neck = Neck::from_json("{}").unwrap();
    let plan = plan("{}", "{}");
    let finished = neck.solids(&SolidOptions::default()).unwrap();
    let last = plan.stages().last().unwrap().wood.solids().unwrap();
    assert_eq!(last[1], finished.fretboard);
    let volume = neck.volume_mm3();
    let cut = plan.stages().last().unwrap().wood.bored_mm3();
    let off = (volume_mm3(&last[0]) - cut - volume.neck_wood_mm3).abs() / volume.neck_wood_mm3;
    assert!(off < 1e-9, "{off:e}");
}

/// A slanted nut beside a carve line above the glue line: the board's corner stands free of the wood behind it.
#[test]
fn a_free_corner_of_the_board_is_made() {
    let neck = r#"{"scale": {"bass": 660, "treble": 630},
        "shaft": {"carve_line": [{"at": "nut", "depth": 3}]}}"#;
    for hand in ["right", "left"] {
        let neck = format!(r#"{{"hand": "{hand}", {}"#, &neck[1..]);
        let plan = plan(&neck, "{}");
        let last = &plan.stages().last().unwrap().wood;
        let solids = last.solids().unwrap_or_else(|e| panic!("{hand}: {e}"));
        assert_eq!(names(&solids), ["neck wood", "fretboard"]);
        assert!(solids.iter().all(|s| s.left_handed == (hand == "left")));
        assert!(solids.iter().map(worst).fold(0.0, f64::max) < 1e-9);
        assert!(volume_off(&solids, last) < 1e-9);
    }
}

const PLANS: usize = 24;

#[test]
fn stages_of_random_plans_are_solids() {
    let mut next = numbers(7);
    let (mut plans, mut made) = (0, 0);
    let mut refused: Vec<String> = Vec::new();
    let (mut edges_off, mut volumes_off) = (0.0_f64, 0.0_f64);
    let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
    while plans < PLANS {
        let (spec, stock) = (Specification::plausible(&mut next), Stock::plausible(&mut next));
        let Ok(neck) = Neck::new(&spec) else { continue };
        let Ok(plan) = neck.carving_plan(&stock) else { continue };
        plans += 1;
        let laws = neck.laws();
        let glue = neck.normalised().fretboard.thickness.mm();
        let over = |x: f64| Side::BOTH.iter().any(|s| laws.carve_line.of(*s).at(x).is_some_and(|d| d < glue));
        let slanted = neck.layout().nut_line().slope != 0.0;
        for (kind, has) in [
            ("slanted nut", slanted),
            ("slanted nut, carved above the glue line", slanted && over(0.0)),
            ("left-handed", neck.hand_sign() < 0.0),
            ("sides that differ", spec.shaft.treble_carve_line.is_some()),
            ("volute", neck.volute().height_mm > 0.0),
            ("level headstock", neck.headstock().kind == HeadstockKind::Level),
            ("angled headstock", neck.headstock().kind == HeadstockKind::Angled),
            ("a block of its own", neck.wood_reach_mm()[1] > neck.layout().board().end_mm()),
            (
                "ball",
                plan.stock().cutter.shape == CutterShape::Ball && plan.stage(StageName::Rounding).is_some(),
            ),
        ] {
            *kinds.entry(kind).or_default() += usize::from(has);
        }
        for stage in plan.stages() {
            match stage.wood.solids() {
                Ok(solids) => {
                    made += 1;
                    edges_off = solids.iter().map(worst).fold(edges_off, f64::max);
                    volumes_off = volumes_off.max(volume_off(&solids, &stage.wood));
                }
                Err(error) => {
                    // The one reason that there is: paths of a ball, told at their field.
                    let fault = &error.faults()[0];
                    assert_eq!(fault.path, "cutter.paths", "plan {plans}, {}: {error}", stage.name.name());
                    refused.push(format!("plan {plans}, {}", stage.name.name()));
                }
            }
        }
    }
    println!(
        "{made} made, refused {refused:?}; edges off {edges_off:e} mm, volumes {volumes_off:e}; {kinds:?}"
    );
    assert!(kinds.values().all(|n| *n > 0), "{kinds:?}");
    assert!(edges_off < 1e-9, "{edges_off:e}");
    assert!(volumes_off < 1e-9, "{volumes_off:e}");
    assert!(refused.len() * 50 < made, "{refused:?}");
}
