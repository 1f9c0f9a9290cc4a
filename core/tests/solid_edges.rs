//! Solids are closed, and their edges lie on the faces that share them: on planes and cylinders, on splines by their traces or on
//! the isolines that bound them.

use neckwright::exchange::{StepOptions, step};
use neckwright::measure::Length;
use neckwright::shape::Neck;
use neckwright::solid::{Curve, Point3, Solid, Surface};
use neckwright::spec::SolidOptions;

use common::edges::checked;

mod common;

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

/// Whether a solid is one that a file is made of.
fn is_sound(solid: &Solid) -> bool {
    step("one", &[(solid, [0.5; 3])], &StepOptions::default()).is_ok()
}

/// The first arc of a solid, spoiled.
fn with_arc(solid: &Solid, spoil: &dyn Fn(&mut Point3, &mut Point3, &mut f64)) -> Solid {
    let mut made = solid.clone();
    let arc = made.edges.iter_mut().find_map(|edge| match &mut edge.curve {
        Curve::Arc { centre, axis, radius_mm } => Some((centre, axis, radius_mm)),
        _ => None,
    });
    let (centre, axis, radius_mm) = arc.unwrap();
    spoil(centre, axis, radius_mm);
    made
}

/// What is done to an arc's centre, axis and radius.
type Spoil<'a> = &'a dyn Fn(&mut Point3, &mut Point3, &mut f64);
/// What is done to weights.
type Lists<'a> = &'a dyn Fn(&mut Vec<f64>);

#[test]
fn arcs_and_weights_that_are_wrong_are_refused() {
    let neck = Neck::from_json(r#"{"fretboard":{"radius":200,"end_radius":400}}"#).unwrap();
    let solids = neck.solids(&SolidOptions::default()).unwrap();
    let wood = &solids.neck_wood;
    assert!(is_sound(wood) && is_sound(&solids.fretboard));
    let wrong: [Spoil<'_>; 9] = [
        &|centre, _, _| centre[0] += 1e-6,
        &|centre, _, _| centre[2] = f64::NAN,
        // Along its axis all ends are as far from it as they were, but for what rounding tells.
        &|centre, axis, _| *centre = [0, 1, 2].map(|k| centre[k] + 1e-6 * axis[k]),
        &|_, axis, _| *axis = axis.map(|a| 2.0 * a),
        &|_, axis, _| *axis = [0.0; 3],
        &|_, axis, _| axis[1] = f64::INFINITY,
        &|_, _, radius| *radius += 1e-6,
        &|_, _, radius| *radius = -*radius,
        &|_, _, radius| *radius = f64::NAN,
    ];
    assert!(is_sound(&with_arc(wood, &|_, _, _| ())));
    for (i, spoil) in wrong.iter().enumerate() {
        assert!(!is_sound(&with_arc(wood, spoil)), "arc {i}");
    }
    // Of the crown's conics and of its surface.
    let spoils: [Lists<'_>; 4] =
        [&|w| w[1] = 0.0, &|w| w[1] = -w[1], &|w| w[1] = f64::NAN, &|w| w.truncate(2)];
    for (i, spoil) in spoils.iter().enumerate() {
        let mut board = solids.fretboard.clone();
        let weights = board.edges.iter_mut().find_map(|edge| match &mut edge.curve {
            Curve::Spline(spline) => spline.weights.as_mut(),
            _ => None,
        });
        spoil(weights.unwrap());
        assert!(!is_sound(&board), "a curve's weights {i}");
        let mut board = solids.fretboard.clone();
        let weights = board.faces.iter_mut().find_map(|face| match &mut face.surface {
            Surface::Spline(spline) => spline.weights.as_mut(),
            _ => None,
        });
        spoil(&mut weights.unwrap()[0]);
        assert!(!is_sound(&board), "a surface's weights {i}");
    }
}
