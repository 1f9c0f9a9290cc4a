//! What the plan says at the bench: slanted lines by both their ends, places by name, and no word of what a neck or its
//! stock does not have.

use approx::assert_abs_diff_eq;
use neckwright::carve::{CarvingPlan, Datum, Details, Line, Stage, Topic};
use neckwright::shape::Neck;
use neckwright::spec::{StageName, Stock};

/// Bass 35 in, treble 33 in, left-handed, on a level headstock.
const FANNED: &str = r#"{ "hand": "left", "scale": { "bass": "35 in", "treble": "33 in", "square_fret": 7 },
    "strings": { "count": 5 }, "frets": { "count": 24 }, "nut": { "width": 47 }, "bridge": { "string_spread": 74 },
    "headstock": { "kind": "level" } }"#;
const POCKET: &str = r#"{ "rod": { "pocket_length": 22, "pocket_width": 12, "pocket_depth": 8 } }"#;
/// Nothing that a neck can do without.
const PLAIN: &str =
    r#"{ "headstock": { "kind": "level" }, "volute": { "height": 0 }, "rod": { "fitted": false } }"#;

fn plan(neck: &str, stock: &str) -> CarvingPlan {
    Neck::from_json(neck).unwrap().carving_plan(&Stock::from_json(stock).unwrap()).unwrap()
}

fn line<'a>(stage: &'a Stage, begins: &str) -> &'a Line {
    stage.lines.iter().find(|l| l.name.starts_with(begins)).unwrap_or_else(|| panic!("no line {begins}"))
}

/// Everything a stage says, but for the cautions.
fn said(stage: &Stage) -> String {
    let lines = stage
        .lines
        .iter()
        .flat_map(|l| core::iter::once(l.name.clone()).chain(l.marks.iter().map(|m| m.place.clone())));
    let checks = stage.checks.iter().flat_map(|c| [c.what.clone(), c.place.clone()]);
    [stage.action.clone(), stage.tool.clone()]
        .into_iter()
        .chain(lines)
        .chain(checks)
        .collect::<Vec<_>>()
        .join("; ")
}

#[test]
fn a_slanted_nut_is_marked_on_both_edges_of_the_blank() {
    let neck = Neck::from_json(FANNED).unwrap();
    let plan = plan(FANNED, "{}");
    let stage = plan.stage(StageName::Blank).unwrap();
    let nut = line(stage, "nut line");
    assert!(nut.name.contains("aslant") && nut.from == Datum::BlankEnd);
    let half = 0.5 * plan.stock().width.unwrap().mm();
    let slope = neck.layout().nut_line().slope;
    // The longer bass string begins further from the bridge.
    assert!(slope > 0.0);
    let Details::Timber(facts) = &stage.details else { panic!("no timber") };
    for (mark, (place, y)) in
        nut.marks.iter().zip([("bass edge", -half), ("nut on", 0.0), ("treble edge", half)])
    {
        assert!(mark.place.starts_with(place), "{mark:?}");
        assert_abs_diff_eq!(mark.distance_mm, facts.nut_from_end_mm + slope * y, epsilon = 1e-9);
        assert_abs_diff_eq!(mark.x_mm, slope * y, epsilon = 1e-9);
    }
    assert_eq!(nut.marks.len(), 3);
}

#[test]
fn a_square_nut_is_marked_once() {
    let plan = plan("{}", "{}");
    let nut = line(plan.stage(StageName::Blank).unwrap(), "nut line");
    assert_eq!((nut.name.as_str(), nut.marks.len()), ("nut line, square across", 1));
    let board = plan.stage(StageName::Board).unwrap();
    assert_eq!(board.lines.len(), 1);
    assert!(!said(board).contains("aslant"));
}

#[test]
fn fanned_frets_are_marked_by_both_their_ends() {
    let neck = Neck::from_json(FANNED).unwrap();
    let plan = plan(FANNED, "{}");
    let stage = plan.stage(StageName::Board).unwrap();
    assert!(stage.action.contains("aslant"));
    let end = |side: &str| {
        let lines = stage.lines.iter().find(|l| l.name.ends_with(&format!("on the {side} side"))).unwrap();
        move |place: &str| {
            let mark = lines.marks.iter().find(|m| m.place == place).unwrap();
            assert_eq!(mark.x_mm, mark.distance_mm);
            mark.distance_mm
        }
    };
    let (bass, treble) = (end("bass"), end("treble"));
    let frets = neck.frets();
    assert_eq!(frets.len(), 24);
    for fret in &frets {
        let place = format!("fret {}", fret.number);
        assert_eq!((bass(&place), treble(&place)), (fret.slot_ends_mm.0.0, fret.slot_ends_mm.1.0));
    }
    assert_eq!([bass("nut"), treble("nut")], neck.layout().board().nut_ends_mm());
    let board_end = neck.layout().board().end_mm();
    assert_eq!([bass("board's end"), treble("board's end")], [board_end; 2]);
    // Before the square fret the bass side lies nearer to the headstock, after it nearer to the bridge.
    assert!(bass("nut") < -5.0 && treble("nut") > 5.0 && bass("fret 24") > treble("fret 24"));
    // A reading on the crown is taken on the centreline.
    assert_eq!(stage.checks[0].x_mm, Some(0.0));
}

#[test]
fn the_pocket_has_its_floor_s_line_and_readings() {
    let neck = Neck::from_json(POCKET).unwrap();
    let plan = plan(POCKET, "{}");
    let stage = plan.stage(StageName::RodChannel).unwrap();
    let pocket = &neck.rod_cuts()[1];
    let glue = neck.layout().board().thickness_mm();
    let floor = line(stage, "pocket: its floor");
    for (mark, x) in floor.marks.iter().zip(pocket.reach_mm()) {
        assert_abs_diff_eq!(mark.distance_mm, pocket.floor_depth().at(x).unwrap() - glue, epsilon = 1e-12);
    }
    let square = stage.checks.iter().find(|c| c.what.contains("square to the headstock's face")).unwrap();
    assert_eq!(square.reads_mm, Some(8.0));
    assert!(stage.action.contains("pocket"));
    let without = self::plan("{}", "{}");
    assert!(!said(without.stage(StageName::RodChannel).unwrap()).contains("pocket"));
}

#[test]
fn tuner_holes_tell_their_size_and_both_their_distances() {
    let neck = Neck::from_json(FANNED).unwrap();
    let plan = plan(FANNED, "{}");
    let stage = plan.stage(StageName::HeadstockThickness).unwrap();
    assert!(stage.action.contains("5 tuner holes of 10.00 mm") && stage.action.contains("bushing"));
    let along = line(stage, "tuner holes of 10.00 mm, along the face");
    let out = line(stage, "tuner holes of 10.00 mm, out");
    assert_eq!((along.from, out.from), (Datum::FaceStart, Datum::Centreline));
    for (post, (a, o)) in neck.headstock().posts.iter().zip(along.marks.iter().zip(&out.marks)) {
        assert_eq!((a.distance_mm, o.distance_mm), (post.along_mm, post.y_mm.abs()));
        // Of a left-handed neck the treble side is that of y below 0.
        assert!(a.place.ends_with(if post.y_mm < 0.0 { "treble side" } else { "bass side" }), "{a:?}");
        assert_eq!(a.place, o.place);
    }
    assert_eq!(along.marks.len(), 5);
}

#[test]
fn readings_on_the_sawn_back_are_at_named_places_in_their_order() {
    for (neck, stop) in [("{}", "stop at the volute"), (PLAIN, "stop at the transition")] {
        let plan = plan(neck, "{}");
        let stage = plan.stage(StageName::Back).unwrap();
        let places: Vec<&str> = stage.checks.iter().map(|c| c.place.as_str()).collect();
        assert_eq!(places, ["nut", stop, "stop at the heel", "heel's end"]);
        for mark in stage.lines.iter().flat_map(|l| &l.marks).filter(|m| !m.place.contains("along the face"))
        {
            assert!(!mark.place.ends_with("mm"), "{mark:?}");
        }
    }
}

#[test]
fn nothing_is_said_of_what_is_not_there() {
    // The stages before the back is rounded.
    let flat = |plan: &CarvingPlan| {
        let rounded = plan.stages().iter().position(|s| s.name == StageName::Stops).unwrap();
        plan.stages()[..rounded].to_vec()
    };
    let plain = plan(PLAIN, "{}");
    for stage in flat(&plain) {
        let words = said(&stage).to_lowercase();
        for word in ["volute", "rod", "scarf", "aslant", "crisp", "0 degrees"] {
            let found = words.split(|c: char| !c.is_alphanumeric() && c != ' ').any(|w| w.contains(word));
            let may = stage.name == StageName::RodChannel && word == "rod";
            assert!(!found || may, "{}: {word}: {words}", stage.name.name());
        }
    }
    assert!(plain.stage(StageName::RodChannel).unwrap().cautions.is_empty());
    let glue = |plan: &CarvingPlan, name: StageName| {
        let stage = plan.stage(name).unwrap();
        said(stage).to_lowercase().contains("glue") || stage.cautions.iter().any(|c| c.topic == Topic::Glue)
    };
    let (default, glued) = (plan("{}", "{}"), plan("{}", r#"{ "board": { "glued": true } }"#));
    let scarfed = plan("{}", r#"{ "construction": "scarf" }"#);
    assert!(glue(&default, StageName::Board) && !glue(&glued, StageName::Board));
    // Scarf and heel's block are glued before anything else is cut.
    let deep = r#"{ "heel": { "block_depth": 60, "sweep_radius": 20 } }"#;
    let block = plan(deep, r#"{ "heel_block": { "made": "glued on" } }"#);
    let warned = |plan: &CarvingPlan| {
        plan.stage(StageName::Blank).unwrap().cautions.iter().any(|c| c.topic == Topic::Glue)
    };
    assert!(warned(&scarfed) && warned(&block) && !warned(&default));
    assert!([&scarfed, &block, &default].iter().all(|plan| !glue(plan, StageName::HeadstockFace)));
    assert!(glued.stage(StageName::Board).unwrap().action.starts_with("Bring the board"));
    assert!(!glued.stage(StageName::Blank).unwrap().action.contains("on which the board is glued"));
}

#[test]
fn a_saw_line_s_nearest_place_is_on_the_neck_s_own_hand() {
    // A spine off the centreline has its nearest place off it too.
    let off = r#""shaft": { "profile": [ { "at": "nut", "shape": "C", "spine_offset": 3 } ] } }"#;
    let at = |start: &str| {
        let plan = plan(&format!("{start}{off}"), "{}");
        let stage = plan.stage(StageName::Back).unwrap();
        let Details::Sawing(lines) = &stage.details else { panic!("no lines") };
        lines.iter().find(|l| l.name == "shaft").unwrap().clearance.at_mm
    };
    let (right, left) = (at("{"), at(r#"{ "hand": "left", "#));
    assert!(right[0] > 1.0);
    assert_eq!(left, [-right[0], right[1]]);
}
