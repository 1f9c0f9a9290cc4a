//! What serde writes of results: every number reaches JSON and comes back bit for bit, and the names are a contract.
//!
//! Results are taken apart twice: into CBOR's data model, which keeps a float from a whole number and a NaN from nothing
//! (RFC 8949), and into JSON text.
#![allow(missing_docs)]

mod carve_common;
mod cloud_common;
mod common;

use std::collections::{BTreeMap, BTreeSet};

use carve_common::plans;
use ciborium::Value as Cbor;
use cloud_common::{Dice, WHOLE, random_pose, scanned, surface};
use neckwright::inspect::{Measured, Mending, Reading, Readings, copy_cloud, copy_neck, place_cloud};
use neckwright::layout::Temperament;
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Part, Side, scarf};
use neckwright::spec::{
    BenchUnit, CloudOptions, CopyOptions, InspectionOptions, MendLimits, Specification, Stock,
};
use serde_json::Value as Json;

/// One result: its name and both ways to take it apart.
struct Document {
    name: &'static str,
    cbor: Cbor,
    json: Json,
    text: String,
}

#[derive(Default)]
struct Documents(Vec<Document>);

impl Documents {
    fn add(&mut self, name: &'static str, result: &impl serde::Serialize) {
        let text = serde_json::to_string(result).unwrap();
        self.0.push(Document {
            name,
            cbor: Cbor::serialized(result).unwrap(),
            json: serde_json::from_str(&text).unwrap(),
            text,
        });
    }

    fn of_neck(&mut self, neck: &Neck) {
        self.add("specification", neck.normalised());
        self.add("caliper_card", &neck.caliper_card());
        self.add("frets", &neck.frets());
        self.add("strings", &neck.strings());
        self.add("string_paths", &neck.string_paths());
        self.add("humps", &neck.layout().humps());
        self.add("nut_line", &neck.layout().nut_line());
        self.add("face_markers", &neck.layout().face_markers());
        self.add("side_markers", &neck.side_markers());
        self.add("headstock", &neck.headstock());
        self.add("volute", &neck.volute());
        self.add("heel", &neck.heel());
        self.add("rod_cuts", &neck.rod_cuts());
        self.add("volumes", &neck.volume_mm3());
        self.add("masses", &neck.mass_kg());
        self.add("bounds", &neck.bounds());
        self.add("joints", &neck.joints());
        self.add("least_thickness", &neck.least_thickness());
        self.add("least_rod_wall", &neck.least_rod_wall());
        self.add("least_curvature", &neck.least_curvature());
        self.add("least_margin", &neck.layout().least_margin());
        self.add("warnings", &neck.warnings());
        let [from, to] = neck.shaft_reach_mm();
        let section = neck.section(0.5 * (from.max(0.0) + to)).unwrap();
        self.add("section", &(section.outline(), section.moments()));
        self.add("channel", &section.part_outline(Part::Channel));
        self.add("bends", &(section.sharpest(), section.flattest()));
    }

    /// What readings say: one low patch among wood that still stands.
    fn of_readings(&mut self, neck: &Neck) {
        let readings = taken(neck, &[0.3, 0.28, 0.33, -0.4, 0.31, 0.27, 0.3, 0.29]);
        self.add("readings", &readings);
        let inspection = neck.inspect(&readings, &InspectionOptions::default()).unwrap();
        self.add("inspection", &inspection);
        let low = inspection.low_readings(&readings).unwrap();
        self.add("mending", &neck.mend(&low, &MendLimits::default()).unwrap());
        // More than may come off.
        let limits = MendLimits {
            least_thickness: Length::from_mm(neck.least_thickness().value - 0.1),
            ..MendLimits::default()
        };
        let deep = taken(neck, &[-2.0]);
        let mending = neck.mend(&deep, &limits).unwrap();
        assert!(matches!(mending, Mending::Impossible(_)), "2 mm too deep, and 0.1 mm allowed");
        self.add("mending", &mending);
        if let Ok(copied) = copy_neck(neck.normalised(), &readings, &CopyOptions::default()) {
            self.add("copied", &copied);
            self.add("suggestions", &copied.sharpest_next(2));
            self.add("comparison", &neck.compare(&Neck::new(&copied.specification).unwrap()));
        }
    }
}

/// Thicknesses and widths along the shaft, so far off in thickness, then one reading of every other sort.
fn taken(neck: &Neck, off_mm: &[f64]) -> Readings {
    let [from, to] = neck.shaft_reach_mm();
    let from = from.max(0.0);
    let mut all = Vec::new();
    let mut read = |at: Station, measured: Measured, value_mm: f64| {
        all.push(Reading { at, measured, value_mm, uncertainty_mm: 0.05, line: 0 });
    };
    for (i, off) in (0_u32..).zip(off_mm) {
        let x = from + (to - from) * (f64::from(i) + 0.5) / off_mm.len() as f64;
        read(Station::Mm(x), Measured::Thickness, neck.thickness_mm(x).unwrap() + off);
    }
    let middle = 0.5 * (from + to);
    read(Station::Fret(1.0), Measured::Width, neck.width_mm(neck.station_mm(1.0).unwrap()).unwrap());
    read(Station::Mm(middle), Measured::Girth, neck.girth_mm(middle).unwrap() + 0.3);
    let line = neck.carve_line_mm(middle, Side::Bass).unwrap();
    read(Station::Mm(middle), Measured::CarveLine(Side::Bass), line);
    let spine = neck.section(middle).unwrap().control_points_mm(Side::Bass).unwrap()[3];
    read(Station::Mm(middle), Measured::Point { across_mm: spine[0] }, 0.3 - spine[1]);
    Readings::new(all).unwrap()
}

/// The documents of the default neck, of an evening class's and of some random ones.
fn documents() -> Documents {
    let mut all = Documents::default();
    let class = include_str!("../examples/neck_book/evening_class.json");
    let mut necks = vec![Neck::new(&Specification::default()).unwrap(), Neck::from_json(class).unwrap()];
    necks.extend(common::necks(30));
    for neck in &necks {
        all.of_neck(neck);
    }
    for neck in &necks[..4] {
        all.of_readings(neck);
    }
    // Every instrument, an odd unit, and a stage.
    let stock = Stock::from_json(include_str!("../examples/neck_book/evening_class_stock.json")).unwrap();
    let plan = necks[1].carving_plan(&stock).unwrap();
    let text = include_str!("../examples/neck_book/evening_class_readings.csv");
    let readings = Readings::from_csv(text).unwrap();
    all.add("readings", &readings);
    let options = InspectionOptions { unit: BenchUnit::Inches, ..InspectionOptions::default() };
    for stage in plan.stages() {
        all.add("inspection", &necks[1].inspect_stage(&readings, stage, &options).unwrap());
    }
    let doubtful =
        Readings::from_csv("at,quantity,value\nfret 5,thickness,21\n160.54,thickness,25\nnut,radius,300\n");
    all.add("inspection", &necks[1].inspect(&doubtful.unwrap(), &options).unwrap());
    all.add("stages", &plan.stages());
    all.add("stock", plan.stock());
    for planned in plans(1, 25) {
        all.add("stages", &planned.plan.stages());
        all.add("stock", planned.plan.stock());
    }

    let mut dice = Dice(6);
    let scan = cloud_common::Scan { count: 4000, ..WHOLE };
    let points = surface(&necks[0], &mut dice, &scan);
    let pose = random_pose(&mut dice, 500.0);
    let points = scanned(points, &mut dice, &scan, pose);
    all.add("placed_cloud", &place_cloud(&necks[0], &points, &CloudOptions::default()).unwrap());
    all.add("copied_cloud", &copy_cloud(necks[0].normalised(), &points, &CloudOptions::default()).unwrap());

    all.add("rounded", &Temperament::equal(12).unwrap().rounded(640.0, 24, 0.5).unwrap());
    all.add("scarf", &scarf(9.5, 20.0).unwrap());
    all.add(
        "faults",
        &Specification::from_json(r#"{"nut": {"widht": 43, "thickness": 1e9}}"#).unwrap_err().faults(),
    );
    all
}

/// The number that is looked for in JSON, or what is in its place.
fn differs(path: &str, cbor: &Cbor, json: &Json, out: &mut Vec<String>) {
    let same = match (cbor, json) {
        // JSON has one sort of number, and what is whole may be written so.
        (Cbor::Float(f), Json::Number(n)) => n.as_f64().is_some_and(|n| n.to_bits() == f.to_bits()),
        (Cbor::Integer(i), Json::Number(n)) => {
            let i = i128::from(*i);
            n.as_i64().map(i128::from).or(n.as_u64().map(i128::from)) == Some(i) && i.abs() < 1 << 53
        }
        (Cbor::Text(a), Json::String(b)) => a == b && !a.contains('\0'),
        (Cbor::Bool(a), Json::Bool(b)) => a == b,
        (Cbor::Null, Json::Null) => true,
        (Cbor::Array(a), Json::Array(b)) => {
            for (i, (a, b)) in a.iter().zip(b).enumerate() {
                differs(&format!("{path}/{i}"), a, b, out);
            }
            a.len() == b.len()
        }
        (Cbor::Map(a), Json::Object(b)) => {
            for ((key, a), (other, b)) in a.iter().zip(b) {
                let key = key.as_text().unwrap_or("a key that is no text");
                if key != other {
                    out.push(format!("{path}: {key} is {other}"));
                }
                differs(&format!("{path}/{key}"), a, b, out);
            }
            a.len() == b.len()
        }
        _ => false,
    };
    if !same {
        out.push(format!("{path}: {cbor:?} is {json}"));
    }
}

/// What was seen at one path of all documents.
#[derive(Default)]
struct Seen {
    sorts: BTreeSet<&'static str>,
    texts: BTreeSet<String>,
}

fn walk(path: &str, value: &Cbor, seen: &mut BTreeMap<String, Seen>) {
    let here = seen.entry(path.to_owned()).or_default();
    match value {
        Cbor::Float(_) => drop(here.sorts.insert("number")),
        Cbor::Integer(_) => drop(here.sorts.insert("whole")),
        Cbor::Bool(_) => drop(here.sorts.insert("boolean")),
        Cbor::Null => drop(here.sorts.insert("null")),
        Cbor::Text(text) => {
            here.sorts.insert("text");
            here.texts.insert(text.clone());
        }
        Cbor::Array(list) => {
            here.sorts.insert("list");
            list.iter().for_each(|element| walk(&format!("{path}/*"), element, seen));
        }
        Cbor::Map(members) => {
            here.sorts.insert("object");
            for (key, value) in members {
                walk(&format!("{path}/{}", key.as_text().unwrap()), value, seen);
            }
        }
        other => panic!("{path}: {other:?}"),
    }
}

fn seen(documents: &Documents) -> BTreeMap<String, Seen> {
    let mut all = BTreeMap::new();
    documents.0.iter().for_each(|d| walk(d.name, &d.cbor, &mut all));
    all
}

/// The documents that builders write, with names and units of their own: `spec_bounds.rs` and `inspect_readings.rs` have them.
fn of_a_builder(path: &str) -> bool {
    let ends = [
        "specification/",
        "stock/",
        "readings/",
        "placed_cloud/readings/",
        "copied_cloud/placed/readings/",
        "copied_cloud/readings/",
    ];
    ends.iter().any(|part| path.starts_with(part)) || path.contains("/specification/")
}

#[test]
fn results_are_whole_named_and_kept() {
    let documents = documents();
    let mut wrong = Vec::new();
    for document in &documents.0 {
        differs(document.name, &document.cbor, &document.json, &mut wrong);
        assert_eq!(serde_json::to_string(&document.json).unwrap(), document.text, "{}", document.name);
    }
    assert!(wrong.is_empty(), "not as in the result:\n{}", wrong.join("\n"));

    let seen = seen(&documents);
    every_kind_was_there(&seen);
    names_tell_units(&seen);
    words_are_words(&seen);
    let line = |(path, seen): (&String, &Seen)| {
        let sorts: Vec<&str> = seen.sorts.iter().copied().collect();
        format!("{path}: {}", sorts.join(", "))
    };
    let contract: Vec<String> = seen.iter().filter(|(path, _)| !of_a_builder(path)).map(line).collect();
    insta::assert_snapshot!("the_names_of_results", contract.join("\n"));
}

/// What the check stands on: that the documents had everything in them.
fn every_kind_was_there(seen: &BTreeMap<String, Seen>) {
    let words = |path: &str| seen[path].texts.iter().map(String::as_str).collect::<Vec<_>>();
    let kinds = ["cutter", "facets", "none", "sanding", "sawing", "targets", "templates", "timber"];
    assert_eq!(words("stages/*/details/kind"), kinds);
    assert_eq!(words("mending/outcome"), ["impossible", "mended"]);
    for list in
        ["inspection/low", "inspection/unfair", "inspection/doubtful", "warnings", "stages/*/cautions"]
    {
        assert!(seen.contains_key(&format!("{list}/*")), "none in {list}");
    }
}

/// Numbers that are no dimensions: shares, ratios, chances and counts of standard deviations.
const NO_UNIT: &[&str] = &[
    "around",
    "by_base",
    "chi2",
    "covariance",
    "length_around",
    "leverage",
    "misfit",
    "nut_force_per_newton",
    "outlier_share",
    "p_value",
    "rotation",
    "slope",
    "standardised",
    "strength",
    "weight",
];

/// Numbers of which something beside them says the unit: `unit`, or the name of what they are about.
const UNIT_BESIDE: &[&str] = &["by", "coefs", "highest", "lowest", "proven", "uncertainty", "value"];

fn names_tell_units(seen: &BTreeMap<String, Seen>) {
    const UNITS: &[&str] =
        &["_mm", "_mm2", "_mm3", "_mm4", "_deg", "_kg", "_kg_m3", "_per_mm", "_cents", "_um", "_percent"];
    let mut wrong = Vec::new();
    let numbers = seen.iter().filter(|(path, seen)| seen.sorts.contains("number") && !of_a_builder(path));
    for (path, _) in numbers {
        let name =
            path.split('/').rev().find(|part| *part != "*" && !matches!(*part, "bass" | "treble")).unwrap();
        let whole = matches!(name, "mm" | "cents");
        let told = whole || UNITS.iter().any(|unit| name.ends_with(unit));
        let told = told || NO_UNIT.contains(&name) || UNIT_BESIDE.contains(&name);
        if !told {
            wrong.push(path.as_str());
        }
    }
    assert!(wrong.is_empty(), "no unit in the name:\n{}", wrong.join("\n"));
}

/// A text that is always one word is a choice, and choices are snake case, as all keys are.
fn words_are_words(seen: &BTreeMap<String, Seen>) {
    let snake = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_lowercase())
            && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
    };
    let mut wrong = Vec::new();
    for (path, seen) in seen.iter().filter(|(path, _)| !of_a_builder(path)) {
        wrong.extend(
            path.split('/').filter(|key| *key != "*" && !snake(key)).map(|key| format!("{path}: {key}")),
        );
        // Paths of a specification, units, values as given, and the names that standards of grits have.
        let other = path.rsplit('/').next().is_some_and(|k| matches!(k, "path" | "unit" | "value" | "scale"));
        let a_choice = !other && !seen.texts.is_empty() && seen.texts.iter().all(|text| !text.contains(' '));
        if a_choice && !seen.texts.iter().all(|word| snake(word)) {
            wrong.push(format!("{path}: {:?}", seen.texts.iter().take(8).collect::<Vec<_>>()));
        }
    }
    assert!(wrong.is_empty(), "not snake case:\n{}", wrong.join("\n"));
}

/// Readings have a document of their own; serde writes the same.
#[test]
fn readings_are_written_as_their_document() {
    for neck in common::necks(20) {
        let readings = taken(&neck, &[0.1, -0.2, 0.3]);
        let text = readings.to_json();
        let own: Json = serde_json::from_str(&text).unwrap();
        let mut wrong = Vec::new();
        differs("readings", &Cbor::serialized(&readings).unwrap(), &own, &mut wrong);
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        let again = Readings::from_json(&serde_json::to_string(&readings).unwrap()).unwrap();
        assert_eq!(again.to_json(), text);
    }
}

/// Specifications and stocks too.
#[test]
fn documents_are_written_as_themselves() {
    for neck in common::necks(20) {
        let own: Json = serde_json::from_str(&neck.normalised().to_json()).unwrap();
        assert_eq!(serde_json::to_value(neck.normalised()).unwrap(), own);
    }
    let own: Json = serde_json::from_str(&Stock::default().to_json()).unwrap();
    assert_eq!(serde_json::to_value(Stock::default()).unwrap(), own);
}
