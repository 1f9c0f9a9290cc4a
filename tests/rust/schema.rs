//! The schema is generated from the same table as the reader, and says the same.
//!
//! `REGENERATE=1 cargo test -p neckwright-cases --test schema` writes it anew.
//!
//! It stands here and not beside the core's own tests because the validator brings a hundred packages along,
//! which nobody should have to build for an example.

#[path = "../../core/tests/documents/mod.rs"]
mod documents;
#[path = "../../core/tests/seeded/mod.rs"]
mod seeded;

use std::fs;
use std::sync::LazyLock;

use documents::Document;
use neckwright::inspect::{Measured, Quantity, Reading, Readings};
use neckwright::measure::{Angle, Length, Station};
use neckwright::shape::Side;
use neckwright::spec::{Ratio, Specification, Stock, numbers};
use proptest::prelude::*;
use seeded::seeded;
use serde_json::{Value, json};

const CORE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../core");

fn validator<D: Document>() -> jsonschema::Validator {
    jsonschema::draft202012::new(&D::schema()).unwrap()
}

#[test]
fn the_shipped_schemas_are_the_generated_ones() {
    shipped::<Specification>();
    shipped::<Stock>();
}

#[test]
fn readings_have_a_schema() {
    let schema = Readings::schema();
    is_shipped("readings", &schema);
    jsonschema::draft202012::meta::validate(&schema).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    let list = Quantity::ALL.map(|quantity| Reading {
        at: if quantity == Quantity::Width { Station::Mm(12.5) } else { Station::Fret(7.5) },
        measured: match quantity {
            Quantity::Thickness => Measured::Thickness,
            Quantity::Width => Measured::Width,
            Quantity::Girth => Measured::Girth,
            Quantity::CarveLine => Measured::CarveLine(Side::Treble),
            Quantity::Point => Measured::Point { across_mm: -3.0 },
            Quantity::Radius => Measured::Radius,
        },
        value_mm: quantity.bound().highest,
        uncertainty_mm: quantity.uncertainty_bound().lowest,
        line: 0,
    });
    let text = Readings::new(list.to_vec()).unwrap().to_json();
    validator.validate(&serde_json::from_str(&text).unwrap()).unwrap();
    let plain = json!({
        "uncertainties": { "radius gauge": "1/4 in" },
        "readings": [{ "at": "nut", "quantity": "width", "value": "1 11/16 in", "instrument": "rule" }]
    });
    validator.validate(&plain).unwrap();

    let text = fs::read_to_string(format!("{CORE}/tests/bad_readings.txt")).unwrap();
    let mut seen = 0;
    for case in text.split("\n## json: ").skip(1) {
        let document: String = case.lines().skip(1).filter(|line| !line.starts_with("> ")).collect();
        let Ok(value) = serde_json::from_str::<Value>(&document) else { continue };
        let bad = Readings::from_json(&document).unwrap_err();
        let unseen = bad.error.faults().iter().all(|fault| fault.kind.name() == "conflict");
        assert!(unseen || !validator.is_valid(&value), "{case}");
        seen += u32::from(!unseen);
    }
    assert!(seen > 10, "{seen}");
}

fn shipped<D: Document>() {
    is_shipped(D::NAME, &D::schema());
}

fn is_shipped(name: &str, schema: &Value) {
    let file = format!("{CORE}/schema/{name}.schema.json");
    let text = serde_json::to_string_pretty(schema).unwrap() + "\n";
    if std::env::var_os("REGENERATE").is_some() {
        fs::write(&file, &text).unwrap();
    }
    assert_eq!(fs::read_to_string(file).unwrap(), text, "REGENERATE=1 writes it anew");
}

#[test]
fn the_schemas_are_schemas() {
    is_a_schema::<Specification>(&["length", "angle", "station", "ratio"]);
    is_a_schema::<Stock>(&["length", "station"]);
}

fn is_a_schema<D: Document>(texts: &[&str]) {
    let schema = D::schema();
    jsonschema::draft202012::meta::validate(&schema).unwrap();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert_eq!(schema["$id"], format!("urn:neckwright:{}:1", D::NAME));
    assert_eq!(schema["$defs"].as_object().unwrap().keys().collect::<Vec<_>>(), texts);
}

#[test]
fn the_default_and_the_empty_document_are_valid() {
    plain_documents_are_valid::<Specification>(
        &json!({ "scale": { "length": "640 mm" }, "fretboard": { "radius": "flat" } }),
    );
    plain_documents_are_valid::<Stock>(
        &json!({ "thickness": "1 in", "order": ["blank"], "saw": { "shaft_line": [{ "at": "nut", "depth": "1 in" }] } }),
    );
}

fn plain_documents_are_valid<D: Document>(document: &Value) {
    let validator = validator::<D>();
    let default: Value = serde_json::from_str(&D::default().to_json()).unwrap();
    validator.validate(&default).unwrap();
    validator.validate(&json!({})).unwrap();
    validator.validate(document).unwrap();
}

#[test]
fn the_defaults_in_the_schema_are_the_defaults() {
    same_defaults::<Specification>();
    same_defaults::<Stock>();
}

fn same_defaults<D: Document>() {
    let default: Value = serde_json::from_str(&D::default().to_json()).unwrap();
    let schema = D::schema();
    for (group, value) in default.as_object().unwrap() {
        let Some(fields) = value.as_object() else {
            assert_eq!(&schema["properties"][group]["default"], value, "{group}");
            continue;
        };
        for (key, value) in fields.iter().filter(|(_, value)| !value.is_object()) {
            assert_eq!(&schema["properties"][group]["properties"][key]["default"], value, "{group}.{key}");
        }
    }
}

/// Every object inside a document, by its JSON pointer.
fn objects(value: &Value, pointer: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            found.push(pointer.to_string());
            for (key, value) in map {
                objects(value, &format!("{pointer}/{key}"), found);
            }
        }
        Value::Array(list) => {
            for (index, value) in list.iter().enumerate() {
                objects(value, &format!("{pointer}/{index}"), found);
            }
        }
        _ => {}
    }
}

#[test]
fn an_unknown_key_is_invalid_wherever_it_stands() {
    unknown_keys_are_invalid::<Specification>(400);
    unknown_keys_are_invalid::<Stock>(150);
}

fn unknown_keys_are_invalid<D: Document>(least: usize) {
    let validator = validator::<D>();
    let mut tried = 0;
    for seed in 0..20 {
        let document = serde_json::to_value(D::random(&mut numbers(seed))).unwrap();
        let mut places = Vec::new();
        objects(&document, "", &mut places);
        for place in places {
            let mut bad = document.clone();
            bad.pointer_mut(&place).unwrap()["unheard_of"] = json!(1);
            assert!(!validator.is_valid(&bad), "{place}");
            tried += 1;
        }
    }
    assert!(tried > least, "only {tried} places in a {}", D::NAME);
}

#[test]
fn every_bound_of_the_table_is_in_the_schema() {
    bounds_are_there::<Specification>();
    bounds_are_there::<Stock>();
}

fn bounds_are_there<D: Document>() {
    let schema = D::schema();
    for row in D::bounds() {
        let mut at = &schema;
        for key in row.path.split('.') {
            at = &at["properties"][key.trim_end_matches("[]")];
            if key.ends_with("[]") {
                at = &at["items"];
            }
        }
        assert!(at.is_object(), "{} is not in the schema", row.path);
        let (lowest, highest) = match row.takes.as_str() {
            "list" => ("minItems", "maxItems"),
            "text" => ("minLength", "maxLength"),
            _ => ("minimum", "maximum"),
        };
        let number = at["anyOf"]
            .as_array()
            .map_or(at, |ways| ways.iter().find(|way| way["type"] == "number").unwrap());
        assert_eq!(number[lowest].as_f64(), row.lowest, "{}", row.path);
        assert_eq!(number[highest].as_f64(), row.highest, "{}", row.path);
        if !row.path.ends_with("[]") {
            assert!(at["description"].as_str().unwrap().starts_with(row.doc), "{}", row.path);
        }
    }
}

#[test]
fn the_bad_documents_that_a_schema_can_see_are_invalid() {
    bad_documents_are_invalid::<Specification>("bad_documents.txt", 90);
    bad_documents_are_invalid::<Stock>("bad_stocks.txt", 45);
}

fn bad_documents_are_invalid<D: Document>(file: &str, least: u32) {
    let validator = validator::<D>();
    let text = fs::read_to_string(format!("{CORE}/tests/{file}")).unwrap();
    let mut seen = 0;
    for case in text.split("\n## ").skip(1) {
        let document: String = case.lines().skip(1).filter(|line| !line.starts_with("> ")).collect();
        let Ok(value) = serde_json::from_str::<Value>(&document) else { continue };
        let Err(error) = D::from_json(&document) else {
            // What is wrong with it is that its numbers make no neck together.
            assert!(validator.is_valid(&value), "{case}");
            continue;
        };
        // What the schema's own description says that it can't see.
        let unseen = error.faults().iter().all(|fault| {
            matches!(fault.kind.name(), "conflict")
                || fault.value.contains("\" = ")
                || fault.value.starts_with("\"fret")
                || fault.reason.contains("digits")
                || fault.reason.contains("calls for")
                || fault.reason.contains("below the fraction's bar")
        });
        assert!(unseen || !validator.is_valid(&value), "{case}");
        seen += u32::from(!unseen);
    }
    assert!(seen > least, "{seen} in {file}");
}

/// The validators of the texts by themselves.
static TEXTS: LazyLock<Vec<(&str, jsonschema::Validator)>> = LazyLock::new(|| {
    let schema = Specification::schema();
    let text = |name| (name, jsonschema::draft202012::new(&schema["$defs"][name]).unwrap());
    ["length", "angle", "station", "ratio"].into_iter().map(text).collect()
});

/// Texts that nearly are measures.
fn nearly() -> impl Strategy<Value = String> {
    let part = prop::sample::select(vec![
        "0", "1", "7", "12", "16", "00", "043", ".", ",", "/", "-", "\u{2212}", "+", " ", "  ", "\u{a0}",
        "\t", ":", "mm", "cm", "m", "in", "inch", "inches", "\"", "\u{2033}", "deg", "degree", "degrees",
        "\u{b0}", "fret", "nut", "e", "E", "x", "1/2", "11/16", " in ",
    ]);
    prop::collection::vec(part, 0..7).prop_map(|parts| parts.concat())
}

proptest! {
    #![proptest_config(seeded(2048))]

    #[test]
    fn the_patterns_take_what_the_readers_take(text in nearly()) {
        let finite = |fret: f64| fret.is_finite();
        for (name, read) in [
            ("length", Length::parse(&text).is_ok()),
            ("angle", Angle::parse(&text).is_ok()),
            ("station", Station::parse(&text).is_ok_and(|station| !matches!(station, Station::Fret(fret) if !finite(fret)))),
            ("ratio", Ratio::parse(&text).is_ok()),
        ] {
            let validator = &TEXTS.iter().find(|(text, _)| *text == name).unwrap().1;
            // A value of nothing below a bar made of two measures is beyond a pattern.
            let zero = !read && (name == "ratio" || name == "angle") && validator.is_valid(&json!(text))
                && text.rsplit([':', 'n']).next().is_some_and(|below| !below.contains(['1', '2', '4', '6', '7']) || below.contains('/'));
            prop_assert!(zero || validator.is_valid(&json!(text)) == read, "{name} {text:?}: read {read}");
        }
    }
}

fn all_valid<D: Document>(validator: &jsonschema::Validator, documents: [D; 2]) -> Result<(), TestCaseError> {
    for document in documents {
        let document = serde_json::to_value(&document).unwrap();
        let errors = validator.iter_errors(&document);
        let errors: Vec<String> = errors.map(|error| format!("{} {error}", error.instance_path())).collect();
        prop_assert!(errors.is_empty(), "{errors:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(seeded(256))]

    #[test]
    fn what_is_written_is_valid(seed in any::<u64>()) {
        static NECK: LazyLock<jsonschema::Validator> = LazyLock::new(validator::<Specification>);
        static STOCK: LazyLock<jsonschema::Validator> = LazyLock::new(validator::<Stock>);
        let next = &mut numbers(seed);
        all_valid(&NECK, [Specification::random(next), Specification::plausible(next)])?;
        all_valid(&STOCK, [Stock::random(next), Stock::plausible(next)])?;
    }
}
