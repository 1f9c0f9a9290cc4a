//! What builders do (common practice, no source), and what the plan refuses and says about it.

use neckwright::carve::{CarvingPlan, Datum, Details, Face};
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
    (
        "a slanted saw line that no blank reaches down to",
        r#"{ "saw": { "shaft_line": [ { "at": "fret 1", "depth": 150 }, { "at": "fret 2", "depth": 60 } ] } }"#,
    ),
    (
        "a slanted saw line that comes out of the wood",
        r#"{ "saw": { "shaft_line": [ { "at": "fret 1", "depth": 60 }, { "at": "fret 2", "depth": 150 } ] } }"#,
    ),
    (
        "a glued block where no blank will do",
        r#"{ "heel_block": { "made": "glued on" },
             "saw": { "shaft_line": [ { "at": "fret 1", "depth": 60 }, { "at": "fret 2", "depth": 150 } ] } }"#,
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
    ("less left by the saw than the grits take", r#"{ "allowances": { "saw": 0.3 } }"#),
    (
        "less left by the saw than a contour's own allowance",
        r#"{ "allowances": { "saw": 1, "shaping": 0.7, "contour": 1.2 } }"#,
    ),
    (
        "a headstock sawn to less than the grits take",
        r#"{ "allowances": { "saw": 0.3 }, "saw": { "headstock_thickness": 13.8 } }"#,
    ),
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

/// A neck with a heel far deeper than its shaft, and what each stock makes the plan say.
const DEEP_HEEL: &str = r#"{ "heel": { "block_depth": 60, "sweep_radius": 20 } }"#;
const REFUSED_WITH_A_DEEP_HEEL: &[(&str, &str)] = &[
    ("a scarf with a deep heel", r#"{ "construction": "scarf" }"#),
    ("a scarf of stock that is too thin for a deep heel", r#"{ "construction": "scarf", "thickness": 22 }"#),
    ("one piece too thin for a deep heel", r#"{ "thickness": 45 }"#),
    (
        "a heel's block glued under a blank that is too thin",
        r#"{ "construction": "scarf", "thickness": 18, "heel_block": { "made": "glued on" } }"#,
    ),
    (
        "a heel's block under a blank that needs none",
        r#"{ "thickness": 60, "heel_block": { "made": "glued on" } }"#,
    ),
    (
        "a heel's block too small every way",
        r#"{ "thickness": 42, "heel_block": { "made": "glued on", "length": 30, "width": 50, "thickness": 12 } }"#,
    ),
    (
        "a heel's block larger than the blank",
        r#"{ "thickness": 42, "heel_block": { "made": "glued on", "length": 580, "width": 120 } }"#,
    ),
    ("sizes of a heel's block that is none", r#"{ "heel_block": { "length": 80, "thickness": "1 in" } }"#),
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
    let deep = Neck::from_json(DEEP_HEEL).unwrap();
    for (what, text) in REFUSED_WITH_A_DEEP_HEEL {
        tell(what, &deep, text);
    }
    tell("a heel's block under a shallow heel", &default, r#"{ "heel_block": { "made": "glued on" } }"#);
    tell("stop lines that cross", &short, r#"{ "allowances": { "stops": 60 } }"#);
    tell("a scarf for a level headstock", &level, r#"{ "construction": "scarf" }"#);
    insta::assert_snapshot!(told);
}

fn timber(plan: &CarvingPlan) -> &neckwright::carve::TimberFacts {
    match plan.stage(StageName::Blank).map(|s| &s.details) {
        Some(Details::Timber(facts)) => facts,
        _ => panic!("no timber"),
    }
}

/// Where a scarfed blank ends at the heel: its allowance, the saw's cut and what is over in length beyond the wood.
fn blank_end(neck: &Neck, plan: &CarvingPlan) -> f64 {
    let [_, end] = neck.wood_reach_mm();
    let (facts, stock) = (timber(plan), plan.stock());
    let over = facts.blank_mm[0] - facts.ways[1].needed_mm[0];
    end + stock.allowances.taper.mm() + stock.saw.kerf.mm() + over
}

/// A scarfed headstock with a block glued under a thin blank for the heel: what the refusal says is enough.
#[test]
fn a_deep_heel_is_glued_under_a_scarfed_blank() {
    let neck = Neck::from_json(DEEP_HEEL).unwrap();
    let plan = |text: &str| neck.carving_plan(&Stock::from_json(text).unwrap());
    let error = plan(r#"{ "construction": "scarf" }"#).unwrap_err();
    let remedy = &error.faults()[0].remedy;
    assert!(remedy.contains("glue the heel's block on (heel_block.made) and use stock from"), "{remedy}");
    let digits = |c: char| !(c.is_ascii_digit() || c == '.');
    let after = remedy.split("use stock from ").nth(1).unwrap();
    let thickness: Vec<f64> = after.split(digits).filter_map(|s| s.parse().ok()).take(2).collect();
    for (thickness, possible) in
        [(thickness[0], true), (thickness[1], true), (thickness[0] - 0.2, false), (thickness[1] + 0.2, false)]
    {
        let text = format!(
            r#"{{ "construction": "scarf", "thickness": {thickness}, "heel_block": {{ "made": "glued on" }} }}"#
        );
        assert_eq!(plan(&text).is_ok(), possible, "{thickness}");
    }
    let text = r#"{ "construction": "scarf", "thickness": 22, "heel_block": { "made": "glued on" } }"#;
    let plan = plan(text).unwrap();
    let facts = timber(&plan);
    let block = facts.heel_block.unwrap();
    let [length, width, thick] = facts.blank_mm;
    let box_mm3 = |size: [f64; 3]| size.iter().product::<f64>();
    let board = box_mm3(facts.board_blank_mm);
    approx::assert_relative_eq!(
        facts.stock_mm3,
        length * width * thick + box_mm3(block.size_mm) + board,
        max_relative = 1e-14
    );
    // Deep enough for heel and saw, and reaching to the blank's end.
    let glue = neck.layout().board().thickness_mm();
    assert!(thick + block.size_mm[2] >= 60.0 - glue + 1.5);
    assert!(block.from_x_mm + block.size_mm[0] >= neck.wood_reach_mm()[1]);
    // There is wood as deep as the block from its front end on, and none before it.
    let end = blank_end(&neck, &plan);
    approx::assert_abs_diff_eq!(end - block.from_x_mm, block.from_end_mm, epsilon = 1e-9);
    let deep = |x: f64| plan.start().depth_mm(x).unwrap();
    approx::assert_abs_diff_eq!(deep(block.from_x_mm - 1e-6), glue + thick, epsilon = 1e-9);
    approx::assert_abs_diff_eq!(
        deep(block.from_x_mm + 1e-6),
        glue + thick + block.size_mm[2],
        epsilon = 1e-9
    );
    // The line for its front end, from the blank's end at the heel.
    let blank = plan.stage(StageName::Blank).unwrap();
    let line = blank.lines.iter().find(|l| l.name.starts_with("front end of the heel's block")).unwrap();
    assert_eq!((line.on, line.from), (Face::Back, Datum::BlankHeelEnd));
    assert_eq!(line.marks[0].distance_mm, block.from_end_mm);
    assert!(blank.action.contains("glue it under the blank"));
}

/// What a blank may be for a scarf and a heel's block at once is told as one range, and both of its ends will do.
#[test]
fn a_scarf_and_a_glued_block_ask_for_one_range() {
    let glued = r#""heel_block": { "made": "glued on" }"#;
    for (spec, stock, given, ranges) in [
        (
            r#"{ "scale": { "length": 870 }, "heel": { "block_depth": 29, "start": "fret 12" },
                "shaft": { "thickness": [ { "at": "fret 1", "thickness": 23.6 }, { "at": "fret 12", "thickness": 26.4 } ] } }"#,
            r#""construction": "scarf", "#,
            24.5,
            1,
        ),
        (
            r#"{ "scale": { "length": 813 }, "heel": { "block_depth": 43, "start": "fret 13" },
                "headstock": { "length": 160, "angle": 10.5 } }"#,
            r#""construction": "scarf", "#,
            46.0,
            2,
        ),
        (
            r#"{ "scale": { "length": 698 }, "headstock": { "length": 230, "angle": 8.5 } }"#,
            r#""construction": "scarf", "#,
            55.0,
            2,
        ),
    ] {
        let neck = Neck::from_json(spec).unwrap();
        let plan = |thickness: f64| {
            let stock = format!(r#"{{ {stock}"thickness": {thickness}, {glued} }}"#);
            neck.carving_plan(&Stock::from_json(&stock).unwrap())
        };
        let error = plan(given).unwrap_err();
        let told: Vec<Vec<f64>> = error
            .faults()
            .iter()
            .map(|fault| {
                let (_, range) = fault.remedy.rsplit_once(" from ").unwrap_or_else(|| panic!("{error}"));
                range.split([' ', ',']).filter_map(|word| word.parse().ok()).collect()
            })
            .collect();
        assert_eq!(told.len(), ranges, "{error}");
        for range in &told {
            assert_eq!(range, &told[0], "{error}");
            let &[least, most] = range.as_slice() else { panic!("{error}") };
            assert!(least < most && most < given, "{error}");
            for (thickness, possible) in
                [(least, true), (most, true), (least - 0.1, false), (most + 0.1001, false)]
            {
                assert_eq!(plan(thickness).is_ok(), possible, "{thickness}: {error}");
            }
        }
    }
}

/// Where nobody gave a thickness, one is taken that scarf and block can be made of.
#[test]
fn a_thickness_that_nobody_gave_is_one_that_will_do() {
    let neck = Neck::from_json("{}").unwrap();
    let glued = r#"{ "construction": "scarf", "heel_block": { "made": "glued on" } }"#;
    let plan = neck.carving_plan(&Stock::from_json(glued).unwrap()).unwrap();
    let thickness = timber(&plan).blank_mm[2];
    // In whole 5 mm the blank would be 25 mm thick and hold the heel as it is.
    assert!(
        thickness < 25.0 && (thickness * 10.0 - libm::round(thickness * 10.0)).abs() < 1e-9,
        "{thickness}"
    );
    let thinner = format!(
        r#"{{ "construction": "scarf", "thickness": {}, "heel_block": {{ "made": "glued on" }} }}"#,
        thickness - 0.1
    );
    assert!(
        neck.carving_plan(&Stock::from_json(&thinner).unwrap()).is_err(),
        "{thickness} is the first tenth"
    );
    // There a whole step will do.
    let deep = Neck::from_json(DEEP_HEEL).unwrap();
    assert_eq!(timber(&deep.carving_plan(&Stock::from_json(glued).unwrap()).unwrap()).blank_mm[2], 25.0);
}

/// The scarf's line, by elementary geometry: through stock of `t` at an angle `a` it runs `t/tan a` along the blank and
/// `t/sin a` along the cut, from where the headstock's face begins.
#[test]
fn the_scarf_is_marked_from_the_end_that_stays() {
    let neck = Neck::from_json("{}").unwrap();
    let stock = r#"{ "construction": "scarf", "thickness": 24, "length": 660 }"#;
    let plan = neck.carving_plan(&Stock::from_json(stock).unwrap()).unwrap();
    let stage = plan.stage(StageName::Blank).unwrap();
    let line = stage.lines.iter().find(|l| l.name.starts_with("scarf")).unwrap();
    assert_eq!((line.on, line.from, line.straight), (Face::BothSides, Datum::BlankHeelEnd, true));
    let [under, top] = [&line.marks[0], &line.marks[1]];
    assert_eq!((under.place.as_str(), top.place.as_str()), ("at the underside", "at the top face"));
    let angle = neck.headstock().angle_deg.to_radians();
    let (sin, tan) = (libm::sin(angle), libm::tan(angle));
    approx::assert_abs_diff_eq!(under.distance_mm - top.distance_mm, 24.0 / tan, epsilon = 1e-9);
    let end = blank_end(&neck, &plan);
    approx::assert_abs_diff_eq!(top.distance_mm, end - neck.headstock().root_x_mm, epsilon = 1e-9);
    // Both lie on the blank as it comes, and beyond the cut there is enough for the rest of the headstock.
    assert!(under.distance_mm < 660.0);
    let face = stage.checks.iter().find(|c| c.what.starts_with("scarf: length of the slope")).unwrap();
    approx::assert_abs_diff_eq!(face.reads_mm.unwrap(), 24.0 / sin, epsilon = 1e-9);
    assert!(stage.checks.iter().any(|c| c.what.contains("bevel set to 10 degrees")));
    // Sawn off are the blank's rest and the cut's own width; turned over it reaches to the tip and its allowances.
    let rest = 660.0 - under.distance_mm;
    let on_face = neck.headstock().length_mm - 24.0 / sin;
    assert!(rest > on_face && rest < on_face + 20.0, "{rest} {on_face}");
}

/// Behind the nut a scarfed headstock is the shaft's own wood, whose grain runs out as in one piece.
#[test]
fn both_woods_of_a_scarfed_headstock_are_told() {
    let neck = Neck::from_json("{}").unwrap();
    let stock = r#"{ "construction": "scarf", "thickness": 24 }"#;
    let plan = neck.carving_plan(&Stock::from_json(stock).unwrap()).unwrap();
    let [one, scarf] = &timber(&plan).ways;
    let (sin, cos) = (libm::sin(10f64.to_radians()), libm::cos(10f64.to_radians()));
    approx::assert_abs_diff_eq!(one.grain.slope, sin / cos, epsilon = 1e-12);
    // Wood Handbook, FPL-GTR-282 (2021), table 5-12: between 1:10, 81 %, and 1:5, 55 %.
    approx::assert_abs_diff_eq!(one.grain.strength, 0.81 - (sin / cos - 0.1) / 0.1 * 0.26, epsilon = 1e-12);
    assert_eq!(one.turned, None);
    assert_eq!(scarf.grain, one.grain);
    let turned = scarf.turned.unwrap();
    assert_eq!((turned.grain.slope, turned.grain.strength), (0.0, 1.0));
    let thick = neck.headstock().thickness_mm;
    approx::assert_abs_diff_eq!(turned.from_mm[0], (24.0 - thick * cos) / sin, epsilon = 1e-9);
    approx::assert_abs_diff_eq!(turned.from_mm[1], 24.0 / sin, epsilon = 1e-9);
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
