//! What builders do (common practice, no source), and what the plan refuses and says about it.

use neckwright::carve::{CarvingPlan, Details};
use neckwright::measure::{Kind, Length};
use neckwright::shape::Neck;
use neckwright::spec::{StageName, Stock};

/// The evening class's neck in inches: 0.86 and 0.90 thick, 1 11/16 wide at the nut, its flat side 1/8.
fn neck(thickness: [&str; 2], headstock: &str) -> Neck {
    let text = format!(
        r#"{{ "scale": {{ "length": "640 mm" }}, "nut": {{ "width": "1 11/16 in" }},
            "shaft": {{ "thickness": [ {{ "at": "fret 1", "thickness": "{}" }},
                                       {{ "at": "fret 12", "thickness": "{}" }} ],
                        "carve_line": [ {{ "at": "nut", "depth": "1/8 in" }} ] }},
            "headstock": {{ "thickness": "{headstock}" }} }}"#,
        thickness[0], thickness[1]
    );
    Neck::from_json(&text).unwrap()
}

/// 1 in from the board's top as the rough line, a headstock of 5/8 in, a quarter round of 7/8 in.
const STOCK: &str = r#"{ "saw": { "shaft_line": [ { "at": "nut", "depth": "1 in" } ], "headstock_thickness": "5/8 in" },
    "cutter": { "radius": "7/8 in" } }"#;

fn saw_lines(plan: &CarvingPlan) -> &[neckwright::carve::SawLine] {
    match plan.stage(StageName::Back).map(|s| &s.details) {
        Some(Details::Sawing(lines)) => lines,
        _ => panic!("no sawing lines"),
    }
}

#[test]
fn the_class_s_cuts_are_accepted_and_what_they_leave_is_told() {
    let neck = neck(["0.86 in", "0.90 in"], "0.52 in");
    let plan = neck.carving_plan(&Stock::from_json(STOCK).unwrap()).unwrap();
    let shaft = saw_lines(&plan).iter().find(|l| l.name == "shaft").unwrap();
    assert!(shaft.chosen);
    // 0.14 in at the first fret and 0.10 in at the twelfth.
    for (fret, left) in [(1.0, 0.14), (12.0, 0.10)] {
        let x = neck.station_mm(fret).unwrap();
        approx::assert_abs_diff_eq!(
            shaft.depth.at_mm(x) - neck.thickness_mm(x).unwrap(),
            left * 25.4,
            epsilon = 1e-9
        );
    }
    let head = saw_lines(&plan).iter().find(|l| l.name == "headstock").unwrap();
    // 5/8 in rough over 0.52 in finished.
    approx::assert_abs_diff_eq!(head.clearance.least.value, (0.625 - 0.52) * 25.4, epsilon = 1e-9);
    let Some(Details::Cutter(cutter)) = plan.stage(StageName::Rounding).map(|s| &s.details) else {
        panic!("no cutter")
    };
    // 1 in less 7/8 in is the 1/8 in of the flat side: the arc starts right at the carve line, and no larger one would do.
    approx::assert_abs_diff_eq!(cutter.largest_mm.unwrap(), 22.225, epsilon = 1e-9);
    let clearance = plan.stage(StageName::Rounding).unwrap().clearance.unwrap();
    assert!(clearance.holds() && clearance.least.value.abs() < 1e-9, "{clearance:?}");
    for row in &cutter.rows {
        let left = row.left_mm.bass;
        assert!(left[0].abs() < 1e-9 && left[1..].iter().all(|l| *l > 0.3), "{row:?}");
        approx::assert_abs_diff_eq!(
            left[4],
            25.4 - neck.thickness_mm(row.x_mm).unwrap(),
            // Across the middle two arcs of 7/8 in meet a little above the sawn back.
            epsilon = 0.02
        );
    }
}

#[test]
fn where_they_are_too_deep_all_three_are_refused_with_place_and_amount() {
    // A thicker neck, with the flat side twice as deep: the arc would begin on it.
    let mut spec = neck(["0.98 in", "1.02 in"], "0.60 in").normalised().clone();
    spec.shaft.carve_line[0].depth = Length::parse("1/4 in").unwrap();
    let neck = Neck::new(&spec).unwrap();
    let error = neck.carving_plan(&Stock::from_json(STOCK).unwrap()).unwrap_err();
    let paths: Vec<&str> = error.faults().iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["saw.headstock_thickness", "saw.shaft_line", "cutter.radius"], "{error}");
    for fault in error.faults() {
        assert_eq!(fault.kind, Kind::TooDeep);
        assert!(
            fault.reason.contains(" mm from the nut") || fault.reason.contains(" mm behind the nut"),
            "{fault}"
        );
        assert!(fault.remedy.len() > 10, "{fault}");
    }
    // What the remedies say is enough.
    let mended = r#"{ "saw": { "shaft_line": [ { "at": "nut", "depth": "1.09 in" } ], "headstock_thickness": "16.8 mm" } }"#;
    let plan = neck.carving_plan(&Stock::from_json(mended).unwrap()).unwrap();
    assert!(plan.stages().iter().all(|s| s.clearance.is_none_or(|c| c.holds())));
}

/// A neck over 1 in thick is planned at its own dimensions.
#[test]
fn nothing_assumes_one_inch() {
    let text = r#"{ "shaft": { "thickness": [ { "at": "nut", "thickness": 28 }, { "at": "fret 12", "thickness": 32 } ] } }"#;
    let neck = Neck::from_json(text).unwrap();
    let plan = neck.carving_plan(&Stock::default()).unwrap();
    let shaft = saw_lines(&plan).iter().find(|l| l.name == "shaft").unwrap();
    let [from, to] = shaft.depth.x_mm;
    for x in [from, 0.5 * (from + to), to] {
        let over = shaft.depth.at_mm(x) - neck.thickness_mm(x).unwrap();
        assert!((1.5..1.6).contains(&over), "{over} over at {x}");
    }
    let Some(Details::Targets(targets)) = plan.stage(StageName::Contour).map(|s| &s.details) else {
        panic!("no targets")
    };
    for row in &targets.rows {
        let finished = neck.thickness_mm(row.x_mm).unwrap();
        approx::assert_abs_diff_eq!(row.thickness_mm, finished + targets.allowance_mm, epsilon = 1e-9);
        assert_eq!(row.width_mm, neck.width_mm(row.x_mm).unwrap());
    }
    for stage in plan.stages() {
        let readings = stage.checks.iter().filter_map(|c| c.reads_mm);
        let marks = stage.lines.iter().flat_map(|l| l.marks.iter().map(|m| m.distance_mm));
        assert!(readings.chain(marks).all(|mm| (mm - 25.4).abs() > 1e-3), "{}", stage.name.name());
    }
}

/// The neck of all defaults, and what each stock makes the plan say.
const REFUSED: &[(&str, &str)] = &[
    ("too short", r#"{ "length": 600 }"#),
    ("too narrow", r#"{ "width": 70 }"#),
    ("too thin for one piece", r#"{ "thickness": 30 }"#),
    ("too thin for a scarf", r#"{ "construction": "scarf", "thickness": 18 }"#),
    ("a scarf longer than the headstock", r#"{ "construction": "scarf", "thickness": 40 }"#),
    ("a board too small every way", r#"{ "board": { "length": 400, "width": 50, "thickness": 5 } }"#),
    ("a saw line too deep", r#"{ "saw": { "shaft_line": [ { "at": "nut", "depth": "23 mm" } ] } }"#),
    (
        "a slanted saw line that cuts in",
        r#"{ "saw": { "shaft_line": [ { "at": "fret 1", "depth": "24 mm" }, { "at": "fret 12", "depth": "22 mm" } ] } }"#,
    ),
    (
        "a saw line's stations the wrong way round",
        r#"{ "saw": { "shaft_line": [ { "at": "fret 12", "depth": "26 mm" }, { "at": 10, "depth": "26 mm" } ] } }"#,
    ),
    ("a headstock sawn too thin", r#"{ "saw": { "headstock_thickness": 14 } }"#),
    ("a quarter round too large", r#"{ "cutter": { "radius": 25 } }"#),
    ("a cove too large", r#"{ "cutter": { "shape": "cove", "radius": 12 } }"#),
    ("a chamfer too large", r#"{ "cutter": { "shape": "chamfer", "radius": 20 } }"#),
    (
        "a cutter longer than the run",
        r#"{ "cutter": { "shape": "ball", "radius": 60 }, "allowances": { "stops": 10 } }"#,
    ),
    ("an allowance below zero", r#"{ "allowances": { "saw": -1 } }"#),
    ("more left for shaping than the saw leaves", r#"{ "allowances": { "saw": 0.5 } }"#),
    ("less left for shaping than the grits need", r#"{ "allowances": { "shaping": 0.2 } }"#),
    ("less than the grits take", r#"{ "allowances": { "contour": 0.1 } }"#),
    (
        "a saw line below the blank",
        r#"{ "thickness": 45, "saw": { "shaft_line": [ { "at": "nut", "depth": 60 } ] } }"#,
    ),
    ("more left on the headstock than the saw leaves", r#"{ "allowances": { "headstock": 3 } }"#),
    ("less left on the headstock than the grits take", r#"{ "allowances": { "headstock": 0.2 } }"#),
    (
        "coarser grits than either allowance is for",
        r#"{ "allowances": { "contour": 0.4 }, "sanding": { "grits": [36, 60, 100, 150, 220] } }"#,
    ),
    ("sanding before contouring", r#"{ "order": ["blank", "sanding"] }"#),
];

#[test]
fn impossible_requests_say_what_would_make_them_possible() {
    let short = Neck::from_json(r#"{ "scale": { "length": 300 }, "frets": { "count": 12 } }"#).unwrap();
    let level = Neck::from_json(r#"{ "headstock": { "kind": "level" } }"#).unwrap();
    let default = Neck::from_json("{}").unwrap();
    let mut told = String::new();
    let mut tell = |what: &str, neck: &Neck, text: &str| {
        let error =
            Stock::from_json(text).and_then(|stock| neck.carving_plan(&stock)).map(|_| ()).expect_err(what);
        for fault in error.faults() {
            assert!(
                !fault.path.is_empty() && !fault.reason.is_empty() && !fault.remedy.is_empty(),
                "{what}: {fault}"
            );
        }
        told += &format!("{what}\n    {text}\n{error}\n\n");
    };
    for (what, text) in REFUSED {
        tell(what, if *what == "a cutter longer than the run" { &short } else { &default }, text);
    }
    tell("stop lines that cross", &short, r#"{ "allowances": { "stops": 60 } }"#);
    tell("a scarf for a level headstock", &level, r#"{ "construction": "scarf" }"#);
    insta::assert_snapshot!(told);
}

/// A stock that was made in code is held to the same bounds.
#[test]
fn a_stock_with_numbers_that_are_none_is_refused() {
    let neck = Neck::from_json("{}").unwrap();
    let mut stock = Stock::default();
    stock.allowances.saw = neckwright::measure::Length::from_mm(f64::NAN);
    let error = neck.carving_plan(&stock).unwrap_err();
    assert_eq!(error.faults()[0].path, "allowances.saw");
}

/// A left-handed neck's plan is the mirror image: the same numbers, `y` with the other sign.
#[test]
fn a_left_handed_plan_is_the_mirror_image() {
    let text = |hand: &str| {
        format!(
            r#"{{ "hand": "{hand}", "shaft": {{ "profile": [ {{ "at": "nut", "spine_offset": 1.5 }} ] }} }}"#
        )
    };
    let [right, left] = ["right", "left"]
        .map(|hand| Neck::from_json(&text(hand)).unwrap().carving_plan(&Stock::default()).unwrap());
    for (r, l) in right.stages().iter().zip(left.stages()) {
        assert_eq!(r.removed_mm3.to_bits(), l.removed_mm3.to_bits(), "{}", r.name.name());
        assert_eq!(r.lines, l.lines, "{}", r.name.name());
        if let (Details::Cutter(r), Details::Cutter(l)) = (&r.details, &l.details) {
            for (r, l) in r.paths.iter().zip(&l.paths) {
                for (p, q) in r.points_mm.iter().zip(&l.points_mm) {
                    assert_eq!([p[0], -p[1], p[2]], *q);
                }
            }
        }
        let x = 0.5 * (right.stops_mm()[0] + right.stops_mm()[1]);
        let (mut p, q) = (r.wood.polyline_mm(x, 0.01).unwrap(), l.wood.polyline_mm(x, 0.01).unwrap());
        p.reverse();
        let flipped: Vec<[f64; 2]> = p.into_iter().map(|[y, z]| [-y, z]).collect();
        assert_eq!(flipped.len(), q.len());
        let inside = q.iter().all(|[y, z]| r.wood.contains_mm([x, -y, *z], 1e-9));
        assert!(inside, "{}", r.name.name());
    }
}

/// A ball on its path touches the shape and comes nowhere into it, in space and on a back that rises.
#[test]
fn a_ball_touches_the_shape_in_space() {
    let text = r#"{ "shaft": { "thickness": [ { "at": "fret 1", "thickness": "0.86 in" },
        { "at": "fret 12", "thickness": "1.4 in" } ] } }"#;
    let neck = Neck::from_json(text).unwrap();
    let stock = Stock::from_json(r#"{ "cutter": { "shape": "ball", "radius": 20 } }"#).unwrap();
    let plan = neck.carving_plan(&stock).unwrap();
    let Some(Details::Cutter(cutter)) = plan.stage(StageName::Rounding).map(|s| &s.details) else {
        panic!("no cutter")
    };
    let shaping = plan.stock().allowances.shaping.mm();
    // The spine with its allowance is straight in side view; so is its distance from a centre.
    let slope = (1.4 - 0.86) * 25.4 / (neck.station_mm(12.0).unwrap() - neck.station_mm(1.0).unwrap());
    let spine = cutter.paths.iter().filter(|p| p.around == Some(1.0));
    let mut seen = 0;
    for [x, y, z] in spine.flat_map(|p| &p.points_mm) {
        let shape = neck.thickness_mm(0.5 * (neck.shaft_reach_mm()[0] + neck.shaft_reach_mm()[1])).unwrap()
            + slope * (x - 0.5 * (neck.shaft_reach_mm()[0] + neck.shaft_reach_mm()[1]))
            + shaping;
        let off = (-z - shape) / libm::hypot(slope, 1.0);
        approx::assert_abs_diff_eq!(off, 20.0, epsilon = 1e-9);
        assert_eq!(*y, 0.0);
        seen += 1;
    }
    assert!(seen > 8, "{seen}");
}
