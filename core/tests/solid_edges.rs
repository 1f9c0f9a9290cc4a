//! Solids are closed, and their edges lie on the faces that share them.

use neckwright::measure::Length;
use neckwright::shape::Neck;
use neckwright::solid::{Curve, Edge, Face, Knots, Point3, Solid, Surface};
use neckwright::spec::SolidOptions;

mod common;

/// What rounding leaves of curves that lie on their surfaces exactly, mm.
const ROUNDING_MM: f64 = 1e-9;

fn less(a: Point3, b: Point3) -> Point3 {
    [0, 1, 2].map(|k| a[k] - b[k])
}

fn dot(a: Point3, b: Point3) -> f64 {
    (0..3).map(|k| a[k] * b[k]).sum()
}

fn length(a: Point3) -> f64 {
    libm::sqrt(dot(a, a))
}

/// Points of an edge, with the parameters of its spline where it has one.
fn along(solid: &Solid, edge: &Edge) -> Vec<(f64, Point3)> {
    let [a, b] = edge.ends.map(|v| solid.vertices[v]);
    let shares = (0..=40).map(|i| f64::from(i) / 40.0);
    match &edge.curve {
        Curve::Line => shares.map(|t| (t, [0, 1, 2].map(|k| a[k] + t * (b[k] - a[k])))).collect(),
        Curve::Arc { centre, axis, radius_mm } => {
            let (p, q) = (less(a, *centre), less(b, *centre));
            assert!(libm::fabs(length(p) - radius_mm) < 1e-9 && libm::fabs(length(q) - radius_mm) < 1e-9);
            assert!(libm::fabs(dot(p, *axis)) < 1e-9 && libm::fabs(dot(q, *axis)) < 1e-9);
            vec![(0.0, a), (1.0, b)]
        }
        Curve::Spline(spline) => {
            let [from, to] = spline.knots.reach();
            // Every part between two knots is looked at.
            let inner = spline
                .knots
                .values
                .windows(2)
                .flat_map(|w| [0.1, 0.37, 0.71, 0.93].map(|t| w[0] + t * (w[1] - w[0])));
            let all: Vec<f64> = shares.map(|t| from + t * (to - from)).chain(inner).collect();
            for (t, v) in [(from, a), (to, b)] {
                let off = length(less(spline.at(t), v));
                assert!(off < 1e-9, "{} {off:e} at {v:?}: {edge:?}", solid.name);
            }
            all.into_iter().map(|t| (t, spline.at(t))).collect()
        }
    }
}

fn at(knots: &Knots, poles: &[[f64; 2]], t: f64) -> [f64; 2] {
    let curve = neckwright::solid::SplineCurve {
        knots: knots.clone(),
        poles: poles.iter().map(|p| [p[0], p[1], 0.0]).collect(),
        weights: None,
    };
    let [s, u, _] = curve.at(t);
    [s, u]
}

/// How far a point that should lie on a face does not; `None` on splines without a trace, whose isolines bound them.
fn off(face: &Face, edge: usize, (t, p): (f64, Point3)) -> Option<f64> {
    match &face.surface {
        Surface::Plane { point, normal, .. } => Some(libm::fabs(dot(less(p, *point), *normal))),
        Surface::Cylinder { point, axis, radius_mm, .. } => {
            let out = less(p, *point);
            let along = dot(out, *axis);
            let square: Point3 = [0, 1, 2].map(|k| out[k] - along * axis[k]);
            Some(libm::fabs(length(square) - radius_mm))
        }
        Surface::Spline(surface) => {
            let trace = face.traces.iter().find(|trace| trace.edge == edge)?;
            let [s, u] = at(&trace.knots, &trace.poles, t);
            Some(length(less(surface.at(s, u), p)))
        }
    }
}

fn checked(solid: &Solid) -> f64 {
    assert!(solid.is_closed());
    let mut worst: f64 = 0.0;
    for face in &solid.faces {
        for step in face.loops.iter().flatten() {
            let edge = &solid.edges[step.edge];
            for point in along(solid, edge) {
                let off = off(face, step.edge, point).unwrap_or(0.0);
                let within = edge.within_mm.max(ROUNDING_MM);
                assert!(
                    off <= within,
                    "{}: {off:e} of {within:e} at {point:?}, face {:?}",
                    solid.name,
                    face.surface
                );
                worst = worst.max(off);
            }
        }
    }
    worst
}

/// Whether a refusal is the one of slots that come out below.
fn for_slots(error: &neckwright::measure::Error) -> bool {
    error.faults().iter().all(|fault| fault.path == "frets.slot_depth")
}

#[test]
fn edges_lie_on_their_faces() {
    let (mut refused, mut worst) = (0, 0.0_f64);
    let necks = common::necks(150);
    for (i, neck) in necks.iter().enumerate() {
        let cubic_within = (i % 3 == 0).then(|| Length::from_mm(0.001));
        let options = SolidOptions { slots: i % 3 == 1, cubic_within, ..Default::default() };
        match neck.solids(&options) {
            Ok(solids) => {
                worst = worst.max(checked(&solids.neck_wood)).max(checked(&solids.fretboard));
            }
            Err(error) => {
                assert!(options.slots && for_slots(&error), "{error}");
                refused += 1;
            }
        }
    }
    assert!(refused < necks.len() / 10, "{refused} refused");
    println!("worst {worst:e}, {refused} refused");
}

#[test]
fn a_left_handed_neck_is_the_mirror_image() {
    for spec in [r#"{}"#, r#"{ "scale": { "bass": 660, "treble": 640, "square_fret": 7 } }"#] {
        let right = Neck::from_json(spec).unwrap();
        let left =
            Neck::from_json(&spec.replacen('{', r#"{ "hand": "left","#, 1).replace(",}", "}")).unwrap();
        let [a, b] = [&right, &left].map(|neck| neck.solids(&SolidOptions::default()).unwrap());
        for (a, b) in [(&a.neck_wood, &b.neck_wood), (&a.fretboard, &b.fretboard)] {
            let mirrored: Vec<Point3> = a.vertices.iter().map(|[x, y, z]| [*x, -y, *z]).collect();
            assert_eq!(mirrored, b.vertices);
            assert_eq!((a.faces.len(), a.edges.len()), (b.faces.len(), b.edges.len()));
        }
    }
}

/// Boards that are wider or rounder than usual, slots where the back comes up to the glue line, uneven widths.
const ODD: [&str; 5] = [
    r#"{"nut":{"width":48},"bridge":{"string_spread":60},"shaft":{"carve_line":[{"at":"nut","depth":14}],
        "thickness":[{"at":"nut","thickness":35}]},"fretboard":{"radius":50,"end_radius":200,"thickness":14,
        "widths":[{"at":460,"width":100}]},"frets":{"slot_depth":0.5}}"#,
    r#"{"scale":{"bass":660,"treble":640,"square_fret":7},"frets":{"slot_depth":0.5},"fretboard":{"thickness":9,
        "widths":[{"at":200,"width":75},{"at":300,"width":76},{"at":460,"width":56}]}}"#,
    r#"{"frets":{"slot_depth":1},"scale":{"bass":660,"treble":648,"square_fret":7},"fretboard":{"radius":406,"binding":5,
        "thickness":8},"headstock":{"kind":"level"},"strings":{"count":10},"volute":{"height":6}}"#,
    r#"{"fretboard":{"thickness":5},"frets":{"slot_depth":1,"zero_fret":true},
        "shaft":{"carve_line":[{"at":"nut","depth":5},{"at":"fret 12","depth":3}]}}"#,
    r#"{"fretboard":{"radius":"flat","binding":5,"thickness":5},"frets":{"slot_depth":1.5},
        "scale":{"bass":650,"treble":648,"square_fret":9},"strings":{"count":7},
        "shaft":{"carve_line":[{"at":"nut","depth":7},{"at":"fret 12","depth":5}]}}"#,
];

#[test]
fn odd_boards_are_solids_too() {
    for document in ODD {
        let neck = Neck::from_json(document).unwrap();
        for slots in [false, true] {
            let solids = neck.solids(&SolidOptions { slots, ..SolidOptions::default() });
            let solids = solids.unwrap_or_else(|error| panic!("{document}, slots {slots}: {error}"));
            checked(&solids.neck_wood);
            checked(&solids.fretboard);
        }
    }
}

#[test]
fn slots_reach_the_edges_of_the_board() {
    let neck = Neck::from_json(ODD[1]).unwrap();
    let board = neck.solids(&SolidOptions::default()).unwrap().fretboard;
    let half = |x: f64| 0.5 * neck.width_mm(x).unwrap();
    let crown = neck.layout().board().crown();
    // Every corner of a slot's floor lies on an edge of the board.
    let floor = board
        .vertices
        .iter()
        .filter(|[x, y, z]| crown.sagitta_mm(*x, *y).is_ok_and(|down| libm::fabs(z + down + 0.5) < 1e-6));
    let off: Vec<f64> = floor.map(|[x, y, _]| libm::fabs(y.abs() - half(*x))).collect();
    assert_eq!(off.len(), 4 * neck.layout().frets().len());
    assert!(off.iter().all(|off| *off < 1e-6), "{off:?}");
}
