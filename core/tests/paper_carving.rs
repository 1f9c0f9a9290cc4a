//! The pages of a carving plan: their numbers are the plan's, they are at full size, and their words can be read.

mod common;

use std::collections::BTreeSet;
use std::sync::OnceLock;

use common::readable::assert_readable;
use neckwright::carve::{CarvingPlan, Datum, Details, Face, Line, Stage, Waste};
use neckwright::measure::Length;
use neckwright::paper::{Layer, Point, Sheet, carving_page, carving_pages};
use neckwright::shape::Neck;
use neckwright::spec::{Specification, StageName, Stock, numbers};

const EVENING_CLASS: &str = include_str!("../examples/neck_book/evening_class.json");
const EVENING_STOCK: &str = include_str!("../examples/neck_book/evening_class_stock.json");

const UNEVEN: &str = r#"{
    "hand": "left", "nut": { "width": 48 }, "strings": { "count": 7 }, "bridge": { "string_spread": 66 },
    "shaft": {
        "carve_line": [{ "at": "nut", "depth": 3 }, { "at": "fret 12", "depth": 4 }],
        "treble_carve_line": [{ "at": "nut", "depth": 5 }],
        "profile": [{ "at": "nut", "shape": "soft V", "spine_offset": 1, "crease": true, "treble": { "belly": 0.5 } }]
    }
}"#;
const FANNED: &str =
    r#"{ "scale": { "bass": 686, "treble": 648, "square_fret": 8 }, "strings": { "count": 6 } }"#;

/// Necks and stocks of all kinds.
const KINDS: [(&str, &str, &str); 13] = [
    ("default", "{}", "{}"),
    ("evening class", EVENING_CLASS, EVENING_STOCK),
    ("left-handed", r#"{ "hand": "left" }"#, "{}"),
    ("level", r#"{ "headstock": { "kind": "level" } }"#, "{}"),
    ("fanned", FANNED, "{}"),
    ("uneven and left-handed", UNEVEN, "{}"),
    ("glued", "{}", r#"{ "board": { "glued": true } }"#),
    ("scarfed", "{}", r#"{ "construction": "scarf" }"#),
    (
        "scarfed with a glued heel",
        r#"{ "heel": { "block_depth": 60, "sweep_radius": 20 } }"#,
        r#"{ "construction": "scarf", "thickness": 22, "heel_block": { "made": "glued on", "width": 64 } }"#,
    ),
    ("cove", "{}", r#"{ "cutter": { "shape": "cove" }, "facets": { "rounds": 3 } }"#),
    ("ball", "{}", r#"{ "cutter": { "shape": "ball" }, "facets": { "rounds": 1 } }"#),
    (
        "chamfer",
        r#"{ "frets": { "count": 0 }, "rod": { "fitted": false } }"#,
        r#"{ "cutter": { "shape": "chamfer" } }"#,
    ),
    ("no volute", r#"{ "volute": { "height": 0 }, "name": "WWWWWWWWWW <&> 木" }"#, "{}"),
];

/// What it is called, the neck's document, the plan and its pages.
type Kind = (&'static str, &'static str, CarvingPlan, Vec<Sheet>);

/// The plans of all kinds with their pages, made once.
fn kinds() -> &'static [Kind] {
    static MADE: OnceLock<Vec<Kind>> = OnceLock::new();
    MADE.get_or_init(|| {
        let made = KINDS.map(|(kind, neck, stock)| {
            let plan = plan(neck, stock);
            let pages = carving_pages(&plan);
            (kind, neck, plan, pages)
        });
        made.into()
    })
}

fn plan(neck: &str, stock: &str) -> CarvingPlan {
    let neck = Neck::from_json(neck).unwrap();
    neck.carving_plan(&Stock::from_json(stock).unwrap()).unwrap()
}

fn page<'a>(plan: &'a CarvingPlan, pages: &'a [Sheet], name: StageName) -> (&'a Stage, &'a Sheet) {
    let index = plan.stages().iter().position(|s| s.name == name).unwrap();
    (&plan.stages()[index], &pages[index])
}

fn texts(sheet: &Sheet) -> Vec<&str> {
    sheet.items.iter().filter_map(|i| i.shape.text()).map(|t| t.words.as_str()).collect()
}

/// The lines of a layer, but for its sample beside the bars: 22 mm of it, level.
fn polylines(sheet: &Sheet, layer: Layer) -> Vec<Vec<Point>> {
    let sample = |l: &[Point]| l.len() == 2 && l[0][1] == l[1][1] && (l[1][0] - l[0][0] - 22.0).abs() < 1e-9;
    sheet.layer(layer).flat_map(|s| s.lines(16)).filter(|l| !sample(l)).collect()
}

/// Greatest extent of a layer's lines along either axis.
fn extent(lines: &[Vec<Point>]) -> Point {
    [0, 1].map(|k| {
        let along = || lines.iter().flatten().map(move |p| p[k]);
        along().fold(f64::NEG_INFINITY, f64::max) - along().fold(f64::INFINITY, f64::min)
    })
}

#[test]
fn one_stage_a_page_and_none_beyond() {
    let plan = plan("{}", "{}");
    let pages = carving_pages(&plan);
    assert_eq!(pages.len(), plan.stages().len());
    assert_eq!(carving_page(&plan, pages.len()), None);
    for (i, (page, stage)) in pages.iter().zip(plan.stages()).enumerate() {
        assert_eq!(Some(page), carving_page(&plan, i).as_ref());
        let title = format!("Stage {} of {}: {}", i + 1, pages.len(), stage.name.name());
        assert!(texts(page).contains(&title.as_str()), "{title}");
    }
}

#[test]
fn pages_of_all_kinds_can_be_read() {
    for (kind, _, _, pages) in kinds() {
        for sheet in pages {
            assert_readable(sheet, &format!("{kind}, {}", sheet.title));
        }
    }
}

#[test]
fn pages_of_random_necks_and_stocks_can_be_read() {
    const PLANS: usize = 25;
    let mut next = numbers(77);
    let mut found = 0;
    for i in 0..4000 {
        let Ok(neck) = Neck::new(&Specification::plausible(&mut next)) else { continue };
        let Ok(plan) = neck.carving_plan(&Stock::plausible(&mut next)) else { continue };
        for sheet in carving_pages(&plan) {
            assert_readable(&sheet, &format!("random {i}, {}", sheet.title));
        }
        found += 1;
        if found == PLANS {
            return;
        }
    }
    panic!("only {found} plans");
}

/// Words of a page in one line each, as they may be broken over lines.
fn said(sheet: &Sheet) -> String {
    texts(sheet).join(" ")
}

#[test]
fn the_numbers_are_those_of_the_plan() {
    for (kind, _, plan, pages) in kinds() {
        for (stage, sheet) in plan.stages().iter().zip(pages) {
            let words: BTreeSet<&str> = texts(sheet).into_iter().collect();
            let in_mm = |value: f64| {
                let mm = format!("{:.2}", (value * 100.0).round() / 100.0 + 0.0);
                let starred = format!("{mm}*");
                words.contains(mm.as_str()) || words.contains(starred.as_str())
            };
            // A pencil's line to a 64th, in the waste of the cut that it bounds; a reading in thousandths.
            let has = |line: &Line, value: f64| {
                let length = Length::from_mm(value);
                let inches = match line.waste {
                    Some(Waste::Greater) => length.ceil_64th(),
                    Some(Waste::Less) => length.floor_64th(),
                    None => length.nearest_64th(),
                };
                in_mm(value) && words.contains(inches.to_string().trim_end_matches(" in"))
            };
            let reads = |value: f64| {
                let inches = format!("{:.3}", (value / 25.4 * 1000.0).round() / 1000.0 + 0.0);
                in_mm(value) && words.contains(inches.as_str())
            };
            let which = format!("{kind}, {}", stage.name.name());
            for line in &stage.lines {
                for mark in line.marks.iter().filter(|m| m.distance_mm.is_finite()) {
                    assert!(has(line, mark.distance_mm), "{which}: {} {mark:?}", line.name);
                }
            }
            for check in &stage.checks {
                assert!(check.reads_mm.is_none_or(reads), "{which}: {check:?}");
            }
            let whole = said(sheet);
            let spoken = |text: &str| {
                let letters = |s: &str| s.split_whitespace().collect::<String>();
                letters(&whole).contains(&letters(text))
            };
            assert!(spoken(&stage.action) && spoken(&stage.tool), "{which}");
            for caution in &stage.cautions {
                assert!(spoken(&caution.words), "{which}: {}", caution.words);
            }
            for check in stage.checks.iter().filter(|c| c.reads_mm.is_none()) {
                assert!(spoken(&check.what), "{which}: {}", check.what);
            }
            assert!(spoken(&format!("Left: {:.1} cm3", stage.left_mm3 / 1e3)), "{which}");
            if let Some(clearance) = &stage.clearance {
                let least = (clearance.least.value * 1e4).round() / 1e4 + 0.0;
                // A cut that touches what it has to leave is told so, and by how much it may be into it.
                let touches = clearance.needed_mm == 0.0 && least == 0.0;
                let (begins, sign) =
                    if touches { ("nowhere into it by more than ", -1.0) } else { ("nowhere below ", 1.0) };
                assert!(spoken(if touches { "Touches" } else { "Least clearance" }), "{which}");
                assert!(touches || spoken(&format!("{least:.4} mm")), "{which}");
                // What is told as proven is no more than what is proven.
                let told = whole.split(begins).nth(1).unwrap().split(' ').next().unwrap();
                let told: f64 = sign * told.parse::<f64>().unwrap();
                assert!(
                    told <= clearance.least.proven && told > clearance.least.proven - 1.1e-6,
                    "{which}: {told}"
                );
            }
        }
    }
}

#[test]
fn the_blank_is_at_full_size_and_holds_the_neck() {
    for (kind, _, plan, pages) in kinds() {
        let (stage, sheet) = page(plan, pages, StageName::Blank);
        let Details::Timber(facts) = &stage.details else { panic!("{kind}: no timber") };
        let front = &polylines(sheet, Layer::Outline)[0];
        let [length, width] = extent(std::slice::from_ref(front));
        let scarf = facts.scarf_mm.is_some();
        // Of a scarfed blank less is left in length than was bought.
        assert!(scarf || (length - facts.blank_mm[0]).abs() < 1e-3, "{kind}: {length}");
        assert!((width - facts.blank_mm[1]).abs() < 1e-9, "{kind}: {width}");
        let origin = sheet.origin_mm.unwrap();
        let left = front.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
        assert!((origin[0] - left - facts.nut_from_end_mm).abs() < 1e-9, "{kind}");
    }
}

#[test]
fn sawing_lines_lie_where_the_plan_has_them() {
    for (kind, _, plan, pages) in kinds() {
        let (stage, sheet) = page(plan, pages, StageName::Back);
        let Details::Sawing(lines) = &stage.details else { panic!("{kind}: no lines") };
        let origin = sheet.origin_mm.unwrap();
        let drawn = polylines(sheet, Layer::CutLine);
        for line in lines {
            let near = |p: &Point| {
                let x = p[0] - origin[0];
                let inside = x > line.depth.x_mm[0] - 1e-3 && x < line.depth.x_mm[1] + 1e-3;
                inside && (p[1] - origin[1] + line.depth.at_mm(x)).abs() < 1e-6
            };
            // A straight line between its first and its last mark.
            assert!(drawn.iter().any(|l| l.len() > 1 && l.iter().all(near)), "{kind}: {}", line.name);
        }
        // What is left is drawn along them, within the outline of the wood before.
        let (before, after) = (polylines(sheet, Layer::Outline), polylines(sheet, Layer::Left));
        assert_eq!((before.len(), after.len()), (1, 1), "{kind}");
        let shaft = lines.iter().find(|l| l.name == "shaft").unwrap();
        let x = 0.5 * (shaft.depth.x_mm[0] + shaft.depth.x_mm[1]);
        let crossing = after[0].windows(2).find_map(|w| {
            let [a, b] = [w[0][0] - origin[0], w[1][0] - origin[0]];
            let t = (x - a) / (b - a);
            let lower = w[0][1] < origin[1] - 12.0;
            (a != b && (0.0..=1.0).contains(&t) && lower).then(|| w[0][1] + t * (w[1][1] - w[0][1]))
        });
        assert!((crossing.unwrap() - origin[1] + shaft.depth.at_mm(x)).abs() < 1e-6, "{kind}");
    }
}

#[test]
fn taper_lines_lie_on_the_sides_that_they_are_for() {
    for (kind, neck, plan, pages) in kinds() {
        let (stage, sheet) = page(plan, pages, StageName::Taper);
        let origin = sheet.origin_mm.unwrap();
        let hand = if neck.contains("\"left\"") { -1.0 } else { 1.0 };
        let drawn = polylines(sheet, Layer::CutLine);
        let mut found = 0;
        for line in
            stage.lines.iter().filter(|l| l.on == Face::Top && l.from == Datum::Centreline && l.straight)
        {
            let side = if line.name.contains("treble side") { hand } else { -hand };
            let points: Vec<Point> =
                line.marks.iter().map(|m| [origin[0] + m.x_mm, origin[1] + side * m.distance_mm]).collect();
            let same = |l: &Vec<Point>| {
                l.len() == points.len()
                    && l.iter().zip(&points).all(|(p, q)| (0..2).all(|k| (p[k] - q[k]).abs() < 1e-9))
            };
            assert!(drawn.iter().any(same), "{kind}: {}", line.name);
            found += 1;
        }
        assert!(found >= 2, "{kind}");
    }
}

#[test]
fn templates_are_drawn_point_by_point() {
    for (kind, _, plan, pages) in kinds() {
        let (stage, sheet) = page(plan, pages, StageName::Transitions);
        let Details::Templates(all) = &stage.details else { panic!("{kind}: no templates") };
        let drawn = polylines(sheet, Layer::Outline);
        for template in all {
            let points = &template.points_mm;
            let same = |l: &Vec<Point>| {
                let by = [0, 1].map(|k| l[0][k] - points[0][k]);
                l.len() > points.len()
                    && l.iter().zip(points).all(|(p, q)| (0..2).all(|k| (p[k] - q[k] - by[k]).abs() < 1e-9))
            };
            assert!(drawn.iter().any(same), "{kind}: {}", template.name);
        }
    }
}

#[test]
fn sections_hold_the_finished_neck_and_shrink() {
    for (kind, _, plan, pages) in kinds() {
        for name in [StageName::Facets, StageName::Contour, StageName::Sanding] {
            let (_, sheet) = page(plan, pages, name);
            let (before, after, finished) = (
                polylines(sheet, Layer::Outline),
                polylines(sheet, Layer::Left),
                polylines(sheet, Layer::Finished),
            );
            assert!(!before.is_empty() && before.len() == after.len(), "{kind}, {}", name.name());
            assert_eq!(before.len(), finished.len());
            for ((b, a), f) in before.iter().zip(&after).zip(&finished) {
                let low = |l: &[Point]| l.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min);
                assert!(
                    low(b) <= low(a) + 1e-6 && low(a) <= low(f) + 1e-6,
                    "{kind}, {}: {} {} {}",
                    name.name(),
                    low(b),
                    low(a),
                    low(f)
                );
            }
        }
    }
}

#[test]
fn left_handed_pages_are_mirror_images() {
    let right = plan("{}", "{}");
    let left = plan(r#"{ "hand": "left" }"#, "{}");
    let (r, l) = (carving_pages(&right), carving_pages(&left));
    let (_, r) = page(&right, &r, StageName::Sides);
    let (_, l) = page(&left, &l, StageName::Sides);
    for layer in [Layer::Outline, Layer::Left] {
        let (r_lines, l_lines) = (polylines(r, layer), polylines(l, layer));
        assert_eq!(r_lines.len(), l_lines.len());
        let (a, b) = (r.origin_mm.unwrap(), l.origin_mm.unwrap());
        for (p, q) in r_lines.iter().zip(&l_lines) {
            for (p, q) in p.iter().zip(q) {
                assert!((p[0] - a[0] - q[0] + b[0]).abs() < 1e-9 && (p[1] - a[1] + q[1] - b[1]).abs() < 1e-9);
            }
        }
    }
}

#[test]
fn every_page_is_well_formed_at_full_size_with_true_bars() {
    for (kind, _, _, pages) in kinds() {
        for sheet in pages {
            let svg = sheet.to_svg().unwrap();
            let doc = roxmltree::Document::parse(&svg).unwrap();
            let root = doc.root_element();
            let [width, height] = ["width", "height"].map(|a| root.attribute(a).unwrap());
            let view = format!("0 0 {} {}", width.trim_end_matches("mm"), height.trim_end_matches("mm"));
            assert!(width.ends_with("mm") && height.ends_with("mm"), "{kind}");
            assert_eq!(root.attribute("viewBox"), Some(view.as_str()), "{kind}");
            let bars = polylines(sheet, Layer::CheckBars);
            let lengths: Vec<f64> =
                bars.iter().filter(|l| l[0][1] == l[1][1]).map(|l| l[1][0] - l[0][0]).collect();
            assert_eq!(lengths.len(), 2, "{kind}: {}", sheet.title);
            for (length, expected) in lengths.iter().zip([100.0, 101.6]) {
                assert!((length - expected).abs() < 1e-9, "{kind}: {length}");
            }
            for layer in Layer::ALL {
                let group = doc.descendants().find(|n| n.attribute("id") == Some(layer.name()));
                let dashes = group.and_then(|g| g.attribute("stroke-dasharray"));
                assert!(
                    group.is_none() || dashes.is_some() != layer.dashes_mm().is_empty(),
                    "{}",
                    layer.name()
                );
            }
        }
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let write = || {
        carving_pages(&plan(EVENING_CLASS, EVENING_STOCK))
            .iter()
            .map(|s| s.to_svg().unwrap())
            .collect::<Vec<_>>()
    };
    assert_eq!(write(), write());
}

#[test]
fn facets_are_named_by_the_letters_of_their_lines() {
    for (neck, stock) in [("{}", "{}"), (UNEVEN, "{}"), (EVENING_CLASS, EVENING_STOCK)] {
        let plan = plan(neck, stock);
        let pages = carving_pages(&plan);
        let (stage, sheet) = page(&plan, &pages, StageName::Facets);
        let words = texts(sheet);
        // The table's letter of each line that has marks, from the line that introduces it.
        let letters: BTreeSet<String> = words
            .iter()
            .filter_map(|t| t.split_once(" round ").filter(|(l, _)| l.len() < 3).map(|(l, _)| l.to_owned()))
            .collect();
        assert!(letters.len() >= 7, "{letters:?}");
        let short = |t: &&&str| t.split('-').all(|l| letters.contains(l));
        let drawn: BTreeSet<&str> = words.iter().filter(short).flat_map(|t| t.split('-')).collect();
        let all: BTreeSet<&str> = letters.iter().map(String::as_str).collect();
        assert_eq!(drawn, all, "{}", stage.name.name());
        assert!(!words.contains(&"0"));
    }
}

#[test]
fn a_slanted_nut_is_drawn_where_it_lies() {
    let plan = plan(FANNED, "{}");
    let pages = carving_pages(&plan);
    let neck = Neck::from_json(FANNED).unwrap();
    let slope = neck.layout().nut_line().slope;
    for name in [StageName::Blank, StageName::Board] {
        let (_, sheet) = page(&plan, &pages, name);
        let origin = sheet.origin_mm.unwrap();
        let along = |l: &Vec<Point>| {
            l.len() == 2
                && (l[0][1] - l[1][1]).abs() > 30.0
                && l.iter().all(|p| (p[0] - origin[0] - slope * (p[1] - origin[1])).abs() < 1e-9)
        };
        assert!(polylines(sheet, Layer::CutLine).iter().any(along), "{}", name.name());
    }
    // The board that is left begins aslant.
    let (_, sheet) = page(&plan, &pages, StageName::Board);
    let origin = sheet.origin_mm.unwrap();
    let begins = polylines(sheet, Layer::Left)
        .iter()
        .flatten()
        .filter(|p| {
            (p[0] - origin[0] - slope * (p[1] - origin[1])).abs() < 1e-6 && (p[1] - origin[1]).abs() > 1.0
        })
        .count();
    assert!(begins >= 2, "{begins}");
    assert!(said(sheet).contains("How far out from the centreline these ends lie"));
}

#[test]
fn the_title_tells_what_inches_are() {
    for (_, _, _, pages) in kinds() {
        for sheet in pages {
            assert!(
                said(sheet).contains(
                    "inches to a 64th, where wood goes on its waste's side. Readings: millimetres, and inches in thousandths."
                )
            );
        }
    }
}
