//! The JSON Schema of the document, for editors and other programs.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use serde_json::{Map, Value, json};

use super::root::Root;
use super::visit::{About, Group, Slot, Visitor};
use super::write::{self, number};
use crate::measure::{Bound, Station};

// The texts that the readers take, but for numbers with more digits than can be read exactly.
const DECIMAL: &str = r"([0-9]+\.?[0-9]*|\.[0-9]+)";
const FRACTION: &str = r"([0-9]+(\s+|-))?[0-9]+/0*[1-9][0-9]*";
const INCHES: &str = "mm|cm|m|in|inch|inches|\"|\u{2033}";
const MINUS: &str = "[-\u{2212}]?";

/// The schema (2020-12) of a document.
pub(crate) fn schema<R: Root>() -> Value {
    let mut schema = group(&mut R::default());
    let mut head = Map::new();
    head.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
    head.insert("$id".into(), format!("urn:neckwright:{}:{}", R::WORDS.name, R::FORMAT).into());
    head.insert("title".into(), R::WORDS.title.into());
    head.append(&mut schema);
    let mut texts = texts();
    // Only the sorts of text that the document has.
    let used = Value::Object(head.clone()).to_string();
    if let Some(texts) = texts.as_object_mut() {
        texts.retain(|name, _| used.contains(&reference(name)));
    }
    head.insert("$defs".into(), texts);
    Value::Object(head)
}

/// What the texts look like that stand for a length, an angle, a station or a ratio.
pub(crate) fn texts() -> Value {
    let length = format!(r"{DECIMAL}\s*({INCHES})?|{FRACTION}\s*({INCHES})");
    let quantity = format!("({DECIMAL}|{FRACTION})");
    let fret = r"[Ff][Rr][Ee][Tt]\s*-?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?";
    let text = |pattern: String, description: &str, examples: &[&str]| {
        json!({
            "description": description, "type": "string", "maxLength": 100,
            "pattern": format!(r"^\s*({pattern})\s*$"), "examples": examples,
        })
    };
    json!({
        "length": text(
            format!("{MINUS}({length})"),
            "A length with its unit: mm, cm, m or inches; without one, mm.",
            &["43 mm", "4.3 cm", "1 11/16 in", "0.86 in"],
        ),
        "angle": text(
            format!("{MINUS}({quantity}\\s*(deg|degree|degrees|\u{b0})?|{quantity}\\s*in\\s+{MINUS}{quantity})"),
            "An angle in degrees, or a slope.",
            &["10 deg", "10\u{b0}", "1 in 6"],
        ),
        "station": text(
            format!("[Nn][Uu][Tt]|{fret}|{MINUS}({length})"),
            "A place along the neck: a length from the nut, the nut itself, or a fret.",
            &["120 mm", "4 3/4 in", "nut", "fret 7", "fret 7.5"],
        ),
        "ratio": text(
            format!("{MINUS}{quantity}(\\s*:\\s*{MINUS}{quantity})?"),
            "A ratio of two numbers.",
            &["3:2", "18/17"],
        ),
    })
}

/// The schema of a group.
fn group(group: &mut dyn Group) -> Map<String, Value> {
    let mut writer = SchemaWriter { properties: Map::new(), required: Vec::new() };
    group.visit(&mut writer);
    let mut schema = Map::new();
    schema.insert("type".into(), "object".into());
    schema.insert("additionalProperties".into(), false.into());
    if !writer.required.is_empty() {
        schema.insert("required".into(), writer.required.into());
    }
    schema.insert("properties".into(), writer.properties.into());
    schema
}

struct SchemaWriter {
    properties: Map<String, Value>,
    required: Vec<Value>,
}

impl Visitor for SchemaWriter {
    fn field(&mut self, about: &About, mut slot: Slot<'_>) {
        let mut property = Map::new();
        property.insert("description".into(), description(about, &slot).into());
        if about.required.is_some() {
            self.required.push(about.key.into());
        } else if let (Some(default), false) = (write::value(slot.reborrow()), matches!(slot, Slot::Group(_)))
        {
            property.insert("default".into(), default);
        }
        property.append(&mut self::slot(about, slot));
        self.properties.insert(about.key.to_string(), property.into());
    }
}

/// What the field is, its unit, and why its bounds are there.
fn description(about: &About, slot: &Slot<'_>) -> String {
    let mut text = about.doc.trim().to_string();
    if matches!(slot, Slot::Maybe(_)) {
        text += " May be absent.";
    }
    if !about.unit.is_empty() {
        text += &format!(" In {}.", about.unit);
    }
    for (what, bound) in [("Bounds", about.bound), ("Size", about.size)] {
        if let Some(bound) = bound {
            text += &format!(" {what}: {}.", bound.why);
        }
    }
    text
}

/// What the slot takes.
fn slot(about: &About, slot: Slot<'_>) -> Map<String, Value> {
    let schema = match slot {
        Slot::Flag(_) => json!({ "type": "boolean" }),
        Slot::Count(_) => ranged("integer", about.bound),
        Slot::Number(_) => ranged("number", about.bound),
        Slot::Length(_) => or_text(ranged("number", about.bound), "length"),
        Slot::Angle(_) => or_text(ranged("number", about.bound), "angle"),
        Slot::Station(_) => or_text(ranged("number", Some(Station::MM)), "station"),
        Slot::Ratio(_) => or_text(ranged("number", about.bound), "ratio"),
        Slot::Text(_) => {
            let mut schema = sized("string", about.size, "minLength", "maxLength");
            schema["pattern"] = r"^[^\u0000-\u001f\u007f-\u009f]*$".into();
            schema
        }
        Slot::Choice(choice) => json!({ "enum": choice.names() }),
        Slot::LengthOr(slot) => {
            let mut schema = or_text(ranged("number", about.bound), "length");
            if let Some(ways) = schema["anyOf"].as_array_mut() {
                ways.insert(0, json!({ "const": slot.word() }));
            }
            schema
        }
        Slot::Group(inner) => return group(inner),
        Slot::List(list) => {
            let mut schema = sized("array", about.size, "minItems", "maxItems");
            schema["items"] = self::slot(about, list.push()).into();
            schema
        }
        Slot::Maybe(maybe) => return self::slot(about, maybe.fill()),
    };
    match schema {
        Value::Object(schema) => schema,
        _ => Map::new(),
    }
}

fn ranged(sort: &str, bound: Option<Bound>) -> Value {
    sized(sort, bound, "minimum", "maximum")
}

fn sized(sort: &str, bound: Option<Bound>, lowest: &str, highest: &str) -> Value {
    let mut schema = json!({ "type": sort });
    if let Some(bound) = bound {
        schema[lowest] = number(bound.lowest);
        schema[highest] = number(bound.highest);
    }
    schema
}

/// Where one of the texts is described.
fn reference(text: &str) -> String {
    format!("#/$defs/{text}")
}

/// A number within bounds, or a text of the given sort.
pub(crate) fn number_or_text(bound: Bound, text: &str) -> Value {
    or_text(ranged("number", Some(bound)), text)
}

fn or_text(schema: Value, text: &str) -> Value {
    json!({ "anyOf": [schema, { "$ref": reference(text) }] })
}
