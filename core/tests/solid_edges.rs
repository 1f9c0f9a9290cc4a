//! Solids are closed, and their edges lie on the faces that share them: on planes and cylinders, on splines by their traces or on
//! the isolines that bound them.

use neckwright::measure::Length;
use neckwright::shape::Neck;
use neckwright::solid::{Curve, Edge, Face, Knots, Point3, Solid, SplineSurface, Surface};
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

fn cross(a: Point3, b: Point3) -> Point3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
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
            assert!(libm::fabs(length(*axis) - 1.0) < 1e-15);
            // Counter-clockwise about the axis from one end to the other.
            let square = cross(*axis, p);
            let turn = libm::atan2(dot(q, square), dot(q, p)).rem_euclid(core::f64::consts::TAU);
            let on = |t: f64| {
                let (sin, cos) = libm::sincos(t * turn);
                (t, [0, 1, 2].map(|k| centre[k] + cos * p[k] + sin * square[k]))
            };
            let all: Vec<(f64, Point3)> = shares.map(on).collect();
            assert!(length(less(all[40].1, b)) < 1e-9, "{}: an arc misses its end", solid.name);
            all
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

/// The isoline of a surface that an edge without a trace lies on: which parameter stands still, and where; by the edge's ends and
/// its middle, which have to lie on it. What is left is the parameter along, which a kernel holds to be the edge's own.
fn isoline(surface: &SplineSurface, points: &[(f64, Point3)]) -> Option<(usize, f64)> {
    let reach = [0, 1].map(|k| surface.knots[k].reach());
    let (ends, middle) = ([points[0].1, points[40].1], points[20].1);
    let near = |s: f64, u: f64, p: Point3| length(less(surface.at(s, u), p)) < 1e-6;
    // Across: the station stands still; it is the surface's own parameter.
    let x = ends[0][0];
    if libm::fabs(ends[1][0] - x) < 1e-12 {
        return Some((0, x.clamp(reach[0][0], reach[0][1])));
    }
    // Along: one of the two borders around, or of the middle where both sides meet.
    let at = |u: f64| {
        let [from, to] = reach[0];
        [ends[0], middle, ends[1]].into_iter().all(|p| near(p[0].clamp(from, to), u, p))
    };
    reach[1].into_iter().find(|u| at(*u)).map(|u| (1, u))
}

/// The parameter around at which a station's row of a surface comes nearest to a point: the best of many, closed in on.
fn nearest(surface: &SplineSurface, s: f64, p: Point3) -> f64 {
    let [from, to] = surface.knots[1].reach();
    let off = |u: f64| length(less(surface.at(s, u), p));
    let n = 24;
    let at = |i: usize| from + (to - from) * i as f64 / n as f64;
    let best = (0..=n).min_by(|a, b| off(at(*a)).total_cmp(&off(at(*b)))).unwrap();
    let (mut a, mut b) = (at(best.saturating_sub(1)), at((best + 1).min(n)));
    for _ in 0..70 {
        let (c, d) = (a + (b - a) / 3.0, b - (b - a) / 3.0);
        if off(c) < off(d) {
            b = d;
        } else {
            a = c;
        }
    }
    // Where the row begins with no speed its end is hard to close in on.
    let ends = [from, to].into_iter().find(|u| off(*u) < 1e-11);
    ends.unwrap_or(0.5 * (a + b))
}

/// How far the points of an edge that lies on an isoline of a spline are off that line.
fn off_isoline(surface: &SplineSurface, points: &[(f64, Point3)]) -> f64 {
    let (still, place) =
        isoline(surface, points).unwrap_or_else(|| panic!("no isoline: {:?} to {:?}", points[0], points[40]));
    let most = |off: &dyn Fn(&(f64, Point3)) -> f64, step: usize| {
        points.iter().step_by(step).map(off).fold(0.0, f64::max)
    };
    if still == 1 {
        let [from, to] = surface.knots[0].reach();
        return most(&|(_, p)| length(less(surface.at(p[0].clamp(from, to), place), *p)), 1);
    }
    // The edge goes at the surface's own pace, but for conics, which only lie on it.
    let [(t0, p), (t1, q)] = [points[0], points[40]];
    let [a, b] = [p, q].map(|p| nearest(surface, place, p));
    let pace = |t: f64| a + (b - a) * (t - t0) / (t1 - t0);
    let off = most(&|(t, p)| length(less(surface.at(place, pace(*t)), *p)), 1);
    if surface.weights.is_none() {
        return off;
    }
    most(&|(_, p)| length(less(surface.at(place, nearest(surface, place, *p)), *p)), 5)
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
            let points = along(solid, edge);
            let within = edge.within_mm.max(ROUNDING_MM);
            let traced = face.traces.iter().any(|trace| trace.edge == step.edge);
            if let (Surface::Spline(surface), false) = (&face.surface, traced) {
                let off = off_isoline(surface, &points);
                assert!(off <= within, "{}: {off:e} of {within:e} on an isoline: {edge:?}", solid.name);
                worst = worst.max(off);
                continue;
            }
            for point in points {
                let off = off(face, step.edge, point).unwrap();
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
fn slots_over_a_block_of_its_own_width_end_at_the_boards_edges() {
    // The crown falls away fast: at the edges of a block far wider than the board no wood would be left under a slot of any depth.
    let document = |block: &str| {
        format!(
            r#"{{"fretboard":{{"radius":200,"thickness":6}},"frets":{{"slot_depth":1.5}},
                "shaft":{{"carve_line":[{{"at":"nut","depth":5}},{{"at":"fret 12","depth":6.5}}]}},"heel":{{"start":"fret 14","block_width":{block}}}}}"#
        )
    };
    for block in ["\"board\"", "90", "40"] {
        let neck = Neck::from_json(&document(block)).unwrap();
        checked(&neck.solids(&SolidOptions::default()).unwrap_or_else(|e| panic!("{block}: {e}")).fretboard);
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
