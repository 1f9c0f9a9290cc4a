//! What the plan says at the bench: slanted lines by both their ends, places by name, and no word of what a neck or its
//! stock does not have.

use approx::assert_abs_diff_eq;
use neckwright::carve::{CarvingPlan, Datum, Details, Line, Stage, Topic, Work, Zone};
use neckwright::measure::Length;
use neckwright::paper::carving_page;
use neckwright::shape::Neck;
use neckwright::spec::{Specification, StageName, Stock, numbers};

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

/// The cautions of a stage about one thing, or about all, in small letters.
fn warned(plan: &CarvingPlan, name: StageName, topic: Option<Topic>) -> String {
    let cautions = &plan.stage(name).unwrap().cautions;
    let of = cautions.iter().filter(|c| topic.is_none_or(|topic| c.topic == topic));
    of.map(|c| c.words.to_lowercase()).collect::<Vec<_>>().join(" ")
}

/// What a stage's details say.
fn detailed(stage: &Stage) -> String {
    let words: Vec<String> = match &stage.details {
        Details::Sawing(lines) => lines.iter().map(|l| l.name.to_owned()).collect(),
        Details::Cutter(facts) => facts.rows.iter().map(|r| r.place.clone()).collect(),
        Details::Targets(targets) => targets.rows.iter().map(|r| r.place.clone()).collect(),
        Details::Templates(all) => all.iter().map(|t| t.name.clone()).collect(),
        Details::Sanding(plan) => {
            let held = plan.steps.iter().flat_map(|s| &s.blocks);
            held.flat_map(|b| [b.zone.name(), b.words]).map(str::to_owned).collect()
        }
        _ => Vec::new(),
    };
    words.join("; ")
}

/// The words of a stage's page, its lines one after the other.
fn page(plan: &CarvingPlan, name: StageName) -> String {
    let index = plan.stages().iter().position(|s| s.name == name).unwrap();
    let sheet = carving_page(plan, index).unwrap();
    let words = sheet.items.iter().filter_map(|i| i.shape.text()).map(|t| t.words.as_str());
    words.collect::<Vec<_>>().join(" ")
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

#[test]
fn without_a_volute_there_is_none_in_words() {
    let (with, without) = (plan("{}", "{}"), plan(PLAIN, "{}"));
    let fitted = plan(r#"{ "volute": { "height": 0 } }"#, "{}");
    for plan in [&without, &fitted] {
        for stage in plan.stages() {
            let page = page(plan, stage.name).to_lowercase();
            assert!(!page.contains("volute"), "{}: {page}", stage.name.name());
            let all =
                [said(stage), warned(plan, stage.name, None), detailed(stage)].join("; ").to_lowercase();
            assert!(!all.contains("volute"), "{}: {all}", stage.name.name());
        }
    }
    let crossed = Stock::from_json(r#"{ "allowances": { "stops": 100 } }"#).unwrap();
    let refused = |volute: f64| {
        let neck = format!(r#"{{ "heel": {{ "start": 200 }}, "volute": {{ "height": {volute} }} }}"#);
        let plan = Neck::from_json(&neck).unwrap().carving_plan(&crossed);
        plan.err().unwrap().to_string()
    };
    assert!(refused(3.0).contains("between volute and heel"));
    let words = refused(0.0);
    assert!(words.contains("between transition and heel") && !words.contains("volute"), "{words}");
    let detailed = |plan: &CarvingPlan, name| detailed(plan.stage(name).unwrap());
    for (plan, ends, zone, hollow) in [
        (&with, "across at volute's end", "volute; ", "hollow beside the volute"),
        (
            &fitted,
            "across at transition's end",
            "transition into the headstock; ",
            "transition into the headstock",
        ),
    ] {
        assert!(detailed(plan, StageName::Transitions).contains(ends));
        assert!(detailed(plan, StageName::Sanding).contains(zone));
        assert!(warned(plan, StageName::Transitions, Some(Topic::RodChannel)).contains(hollow));
    }
    assert!(detailed(&with, StageName::Transitions).contains("across at volute's tip"));
    // Either has all zones but the other's.
    for (plan, missing) in [(&with, Zone::Transition), (&without, Zone::Volute)] {
        let Details::Sanding(grits) = &plan.stage(StageName::Sanding).unwrap().details else {
            panic!("no grits")
        };
        for step in &grits.steps {
            let zones: Vec<Zone> = step.blocks.iter().map(|b| b.zone).collect();
            assert_eq!(zones, Zone::ALL.into_iter().filter(|z| *z != missing).collect::<Vec<_>>());
        }
    }
}

#[test]
fn the_headstock_s_face_has_the_cautions_of_how_it_is_made() {
    let blade =
        |neck: &str, stock: &str| warned(&plan(neck, stock), StageName::HeadstockFace, Some(Topic::Blade));
    let tilted = blade("{}", "{}");
    assert!(tilted.contains("feather edge") && tilted.contains("cradle"));
    for level in [r#"{ "headstock": { "kind": "level" } }"#, FANNED, PLAIN] {
        let words = blade(level, "{}");
        assert!(words.contains("blade") && !words.contains("slant") && !words.contains("cradle"), "{words}");
    }
    // The scarf has sawn it already.
    let scarfed = plan("{}", r#"{ "construction": "scarf" }"#);
    let words = warned(&scarfed, StageName::HeadstockFace, None);
    assert!(words.contains("joint") && !words.contains("saw") && !words.contains("waste so that"), "{words}");
}

#[test]
fn a_level_face_is_planed_and_a_scarfed_one_is_not_sawn_again() {
    let face = |neck: &str, stock: &str| said(plan(neck, stock).stage(StageName::HeadstockFace).unwrap());
    let level = face(r#"{ "headstock": { "angle": 0 } }"#, "{}");
    assert!(level.contains("parallel to the board's top") && !level.contains("degrees"), "{level}");
    assert!(face("{}", "{}").contains("at 10 degrees") && face("{}", "{}").contains("saw"));
    let scarfed = face("{}", r#"{ "construction": "scarf" }"#);
    assert!(
        scarfed.contains("which the scarf has left at 10 degrees") && !scarfed.contains("saw"),
        "{scarfed}"
    );
}

#[test]
fn a_stage_that_cuts_nothing_has_no_tool_and_no_caution() {
    let plain = plan(PLAIN, r#"{ "facets": { "rounds": 0 } }"#);
    let stage = plain.stage(StageName::RodChannel).unwrap();
    assert_eq!((stage.tool.as_str(), stage.cautions.len()), ("none", 0));
    let words = page(&plain, StageName::RodChannel);
    assert!(
        words.contains("Tool: none.") && words.contains("No clearance to prove: nothing is cut."),
        "{words}"
    );
    assert!(!words.contains("Cautions") && !words.contains("cutter"), "{words}");
    assert_eq!(plain.stage(StageName::Facets).unwrap().cautions.len(), 0);
    assert!(!plain.stage(StageName::Contour).unwrap().action.contains("facet"));
    let usual = plan("{}", "{}");
    assert!(usual.stage(StageName::RodChannel).unwrap().tool.contains("cutter"));
    assert!(usual.stage(StageName::Contour).unwrap().action.contains("from facet to facet"));
    for name in [StageName::RodChannel, StageName::Facets] {
        assert!(usual.stage(name).unwrap().cautions.len() > 3);
    }
}

#[test]
fn the_wall_of_the_channel_is_told_to_two_decimals_on_every_neck() {
    let mut next = numbers(5);
    let (mut seen, mut less) = (0, 0);
    while seen < 30 {
        let mut spec = Specification::plausible(&mut next);
        // More than most necks have.
        if seen % 2 == 0 {
            spec.rod.least_wall = Length::from_mm(9.996);
        }
        let Ok(neck) = Neck::new(&spec) else { continue };
        let Some(wall) = neck.least_rod_wall() else { continue };
        let Ok(plan) = neck.carving_plan(&Stock::default()) else { continue };
        let asked = neck.normalised().rod.least_wall.mm();
        let words = warned(&plan, StageName::Facets, Some(Topic::RodChannel));
        let Some((_, told)) = words.split_once("leaves ") else { continue };
        let (told, rest) = told.split_once(" mm of wood").unwrap();
        assert_eq!(told.split_once('.').map(|(_, digits)| digits.len()), Some(2), "{words}");
        assert_abs_diff_eq!(told.parse::<f64>().unwrap(), wall.value, epsilon = 0.01 + 1e-9);
        let is_less = wall.value < asked - 1e-3;
        assert_eq!(rest.contains("less than"), is_less, "{words}: {asked}");
        (seen, less) = (seen + 1, less + usize::from(is_less));
    }
    assert!(less > 0 && less < seen);
}

#[test]
fn why_there_is_no_clearance_is_told_stage_by_stage() {
    let plan = plan("{}", "{}");
    for (name, why) in [
        (StageName::Blank, "a size that holds the neck"),
        (StageName::RodChannel, "the channel is cut to its finished size"),
        (StageName::HeadstockFace, "the face is cut to its finished place"),
        (StageName::Board, "the board is cut to its finished place"),
        (StageName::Sides, "the sides are cut to their finished place"),
        (StageName::Stops, "No clearance to prove: nothing is cut."),
        (StageName::Sanding, "the grits bring the neck to its finished surface"),
    ] {
        assert!(plan.stage(name).unwrap().clearance.is_none());
        let words = page(&plan, name);
        assert!(words.contains("No clearance to prove: ") && words.contains(why), "{words}");
    }
    for stage in plan.stages().iter().filter(|s| s.clearance.is_some()) {
        assert!(!page(&plan, stage.name).contains("No clearance to prove"), "{}", stage.name.name());
    }
}

#[test]
fn a_board_is_told_what_it_has() {
    const BARE: &str = r#"{ "frets": { "count": 0 }, "nut": { "thickness": 0 },
        "fretboard": { "radius": "flat", "face_markers": [], "side_markers": [] } }"#;
    const FULL: &str = r#"{ "fretboard": { "binding": 1.5 } }"#;
    let (bare, usual, full) = (plan(BARE, "{}"), plan("{}", "{}"), plan(FULL, "{}"));
    let board = |plan: &CarvingPlan| {
        let stage = plan.stage(StageName::Board).unwrap();
        [said(stage).to_lowercase(), warned(plan, StageName::Board, None)].join("; ")
    };
    for (word, has) in [
        ("radius", [false, true, true]),
        ("slot", [false, true, true]),
        ("fret", [false, true, true]),
        ("inlay", [false, true, true]),
        ("side dots", [false, true, true]),
        ("shell", [false, true, true]),
        ("binding", [false, false, true]),
    ] {
        assert_eq!([&bare, &usual, &full].map(|plan| board(plan).contains(word)), has, "{word}");
    }
    let anywhere = |plan: &CarvingPlan, word: &str| {
        plan.stages().iter().any(|s| warned(plan, s.name, None).contains(word))
    };
    for word in ["fret", "nut's seat", "caul of the board's radius"] {
        assert_eq!([&bare, &usual].map(|plan| anywhere(plan, word)), [false, true], "{word}");
    }
    // On a fretless board there are no markers of frets.
    let fretless = plan(r#"{ "frets": { "count": 0 } }"#, "{}");
    assert!(!board(&fretless).contains("side dots") && board(&fretless).contains("radius"));
    let glued = plan("{}", r#"{ "board": { "glued": true } }"#);
    assert!(!board(&glued).contains("wet glue") && board(&usual).contains("wet glue"));
}

#[test]
fn glue_is_cautioned_by_what_is_glued() {
    let deep = r#"{ "heel": { "block_depth": 60, "sweep_radius": 20 } }"#;
    let both = r#"{ "construction": "scarf", "thickness": 22, "heel_block": { "made": "glued on" } }"#;
    for (neck, stock, slanted, block) in [
        ("{}", r#"{ "construction": "scarf" }"#, true, false),
        (deep, r#"{ "heel_block": { "made": "glued on" } }"#, false, true),
        (deep, both, true, true),
        (deep, "{}", false, false),
    ] {
        let words = warned(&plan(neck, stock), StageName::Blank, Some(Topic::Glue));
        assert_eq!(
            [words.contains("slanted"), words.contains("block")],
            [slanted, block],
            "{stock}: {words}"
        );
    }
}

#[test]
fn woods_are_named_where_they_are_cut() {
    let named = |more: &str, stock: &str, name: StageName, topic: Topic| {
        let neck = format!(r#"{{ "woods": {{ "fretboard": {{ "species": "rosewood, indian" }} }}{more} }}"#);
        warned(&plan(&neck, stock), name, Some(topic)).contains("rosewood")
    };
    // A carve line 3.175 mm down lies in the board, one of 7 mm does not.
    let low = r#", "shaft": { "carve_line": [{ "at": "nut", "depth": 7 }] }"#;
    for name in [StageName::Rounding, StageName::Facets, StageName::Contour, StageName::Transitions] {
        assert!(named("", "{}", name, Topic::Sensitising), "{}", name.name());
        assert!(!named(low, "{}", name, Topic::Sensitising), "{}", name.name());
    }
    let glued = r#"{ "board": { "glued": true } }"#;
    for topic in [Topic::Sensitising, Topic::Protected] {
        assert!(named("", glued, StageName::Blank, topic) && !named("", "{}", StageName::Blank, topic));
    }
    assert!(named("", "{}", StageName::Board, Topic::Protected));
    assert!(!named("", glued, StageName::Board, Topic::Protected), "papers are asked for once");
}

#[test]
fn a_ball_runs_on_no_side() {
    let ball = plan("{}", r#"{ "cutter": { "shape": "ball" } }"#);
    let words = warned(&ball, StageName::Rounding, None);
    assert!(words.contains("ball") && !words.contains("bearing") && !words.contains("sideways"), "{words}");
    let usual = warned(&plan("{}", "{}"), StageName::Rounding, None);
    assert!(usual.contains("bearing") && !usual.contains("ball"), "{usual}");
}

#[test]
fn one_grit_alone_speaks_of_no_other() {
    let words = page(&plan("{}", r#"{ "sanding": { "grits": [220] } }"#), StageName::Sanding);
    for other in ["All grits", "second grit", "each further grit"] {
        assert!(!words.contains(other), "{other}: {words}");
        assert!(page(&plan("{}", "{}"), StageName::Sanding).contains(other), "{other}");
    }
}

#[test]
fn the_usual_work_is_that_of_documents_without_entries() {
    let neck = Neck::from_json("{}").unwrap();
    let work = Work::of(&neck, &Stock::default());
    assert!(work.least_rod_wall.is_some());
    assert_eq!(Work { least_rod_wall: None, ..work }, Work::default());
}
