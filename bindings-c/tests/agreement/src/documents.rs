//! What is read from documents, value by value.

use crate::script::{Script, Words};
use crate::tables::whole;
use neckwright::shape::{Neck, density_kg_m3, known_species};
use serde::Serialize;
use serde_json::{Map, Value, json};

/// Documents with every sort of value in them.
pub(crate) fn all(out: &mut Script) {
    let json = r#"{"name": "a/b~c \"é\"", "rod": {"fitted": false}}"#;
    let neck = Neck::from_json(json).expect("a neck");
    out.call("nw_neck_from_json").text_of("json", json).keeps("neck_out", "read");
    for (function, told) in [
        ("nw_neck_specification", value(neck.normalised())),
        ("nw_neck_caliper_card", value(&neck.caliper_card())),
        ("nw_neck_least_rod_wall", value(&neck.least_rod_wall())),
    ] {
        out.call(function).handle("neck", "read").keeps("document_out", function);
        walk(out, function, "", &told);
        columns(out, function, &told);
    }
    let woods =
        known_species().map(|species| json!({ "species": species, "density_kg_m3": density_kg_m3(species) }));
    out.call("nw_known_woods").keeps("document_out", "woods");
    walk(out, "woods", "", &woods.collect());
}

fn value(told: &impl Serialize) -> Value {
    serde_json::to_value(told).expect("results have names and numbers only")
}

fn walk(out: &mut Script, document: &str, pointer: &str, value: &Value) {
    let begin = |out: &mut Script, function: &str| {
        out.call(function).handle("document", document).text_of("pointer", pointer);
    };
    let kind = match value {
        Value::Null => 0,
        Value::Bool(_) => 1,
        Value::Number(_) => 2,
        Value::String(_) => 3,
        Value::Array(_) => 4,
        Value::Object(_) => 5,
    };
    begin(out, "nw_document_kind");
    out.gives("kind_out", whole(kind));
    match value {
        Value::Null => {
            begin(out, "nw_document_number");
            out.gives_reals("number_out", &[f64::NAN]);
            begin(out, "nw_document_text");
            out.says("text_out", "");
        }
        Value::Bool(boolean) => {
            begin(out, "nw_document_boolean");
            out.gives("boolean_out", whole(u32::from(*boolean)));
        }
        Value::Number(number) => {
            begin(out, "nw_document_number");
            out.gives_reals("number_out", &[number.as_f64().expect("a number")]);
        }
        Value::String(text) => {
            begin(out, "nw_document_text");
            out.says("text_out", text);
        }
        Value::Array(list) => {
            begin(out, "nw_document_count");
            out.gives("count_out", Words::default().size(list.len()));
            for (i, element) in list.iter().enumerate() {
                walk(out, document, &format!("{pointer}/{i}"), element);
            }
        }
        Value::Object(members) => object(out, document, pointer, members),
    }
    begin(out, "nw_document_part");
    out.tells(value);
    if pointer.is_empty() {
        let json = serde_json::to_string(value).expect("JSON");
        out.call("nw_document_json").handle("document", document).says("json_out", &json);
    }
}

fn object(out: &mut Script, document: &str, pointer: &str, members: &Map<String, Value>) {
    let begin = |out: &mut Script, function: &str| {
        out.call(function).handle("document", document).text_of("pointer", pointer);
    };
    begin(out, "nw_document_count");
    out.gives("count_out", Words::default().size(members.len()));
    for (i, (name, member)) in members.iter().enumerate() {
        begin(out, "nw_document_name");
        out.size("i", i).says("name_out", name);
        // RFC 6901, section 3.
        let token = name.replace('~', "~0").replace('/', "~1");
        walk(out, document, &format!("{pointer}/{token}"), member);
    }
}

/// The columns of a table: numbers that every row has.
fn columns(out: &mut Script, document: &str, value: &Value) {
    let Some(Value::Object(first)) = value.as_array().and_then(|rows| rows.first()) else { return };
    let rows = value.as_array().expect("just seen");
    let number = |row: &Value, name: &str| match &row[name] {
        Value::Null => Some(f64::NAN),
        other => other.as_f64(),
    };
    for name in first.keys() {
        let Some(column) = rows.iter().map(|row| number(row, name)).collect::<Option<Vec<f64>>>() else {
            continue;
        };
        out.call("nw_document_numbers").handle("document", document).text_of("list", "");
        out.text_of("each", &format!("/{name}")).size("capacity", rows.len()).gives_reals("numbers", &column);
    }
}
