//! The JSON Schema of readings.

use alloc::string::String;
use alloc::vec::Vec;

use serde_json::{Map, Value, json};

use super::collection::LONGEST_NAME;
use super::quantity::ACROSS;
use super::{MAX_READINGS, Quantity, Readings};
use crate::inspect::Instrument;
use crate::measure::Station;
use crate::shape::Side;
use crate::spec::{number_or_text, texts};

/// The schema (2020-12) of the document.
pub(super) fn schema() -> Value {
    let mut texts = texts();
    if let Some(texts) = texts.as_object_mut() {
        texts.retain(|name, _| name == "length" || name == "station");
    }
    let mut uncertainties = Map::new();
    for instrument in Instrument::ALL {
        let schema = number_or_text(instrument.uncertainty_bound(), "length");
        uncertainties.insert(String::from(instrument.name()), schema);
    }
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:neckwright:readings:1",
        "title": "Readings of a neck",
        "type": "object",
        "additionalProperties": false,
        "required": ["readings"],
        "properties": {
            "format": {
                "description": "The format that the document is written in.",
                "type": "integer", "minimum": 1, "maximum": Readings::FORMAT, "default": Readings::FORMAT,
            },
            "name": {
                "description": "What the readings are called.",
                "type": "string", "maxLength": LONGEST_NAME, "pattern": r"^[^\u0000-\u001f\u007f-\u009f]*$",
            },
            "uncertainties": {
                "description": "Standard uncertainty of instruments, for all readings that name none themselves. In mm.",
                "type": "object", "additionalProperties": false, "properties": uncertainties,
            },
            "readings": {
                "description": "The readings, in any order.",
                "type": "array", "maxItems": MAX_READINGS, "items": reading(),
            },
        },
        "$defs": texts,
    })
}

fn reading() -> Value {
    let names = |names: &[&str]| json!({ "enum": names });
    json!({
        "type": "object",
        "additionalProperties": false,
        "required": ["at", "quantity", "value"],
        "properties": {
            "at": described(number_or_text(Station::MM, "station"), "Where along the neck."),
            "quantity": described(names(&Quantity::ALL.map(Quantity::name)), "What was measured."),
            "value": { "description": "What the instrument showed; of a point its depth below the board's crown. In mm." },
            "side": described(names(&Side::BOTH.map(Side::name)), "Of a carve line: its side."),
            "across": described(
                number_or_text(ACROSS, "length"),
                "Of a point: its distance from the centreline, positive toward the treble side. In mm.",
            ),
            "uncertainty": {
                "description": "Standard uncertainty of the value; without it that of the instrument. In mm.",
            },
            "note": { "description": "Anything; it is not read." },
            "instrument": described(
                names(&Instrument::ALL.map(Instrument::name)),
                "What it was measured with; without it what is usual for the quantity.",
            ),
        },
        "allOf": Quantity::ALL.map(of_quantity).into_iter().collect::<Vec<Value>>(),
    })
}

/// What holds for the readings of one quantity.
fn of_quantity(quantity: Quantity) -> Value {
    let mut then = Map::new();
    let value = described(number_or_text(quantity.bound(), "length"), quantity.bound().why);
    then.insert(String::from("value"), value);
    let uncertainty = number_or_text(quantity.uncertainty_bound(), "length");
    then.insert(String::from("uncertainty"), described(uncertainty, quantity.uncertainty_bound().why));
    let mut required: Vec<&str> = Vec::new();
    for (key, owner) in [("side", Quantity::CarveLine), ("across", Quantity::Point)] {
        if quantity == owner {
            required.push(key);
        } else {
            then.insert(String::from(key), Value::Bool(false));
        }
    }
    let gauge = json!({ "const": Instrument::RadiusGauge.name() });
    let mut schema = json!({
        "if": { "properties": { "quantity": { "const": quantity.name() } }, "required": ["quantity"] },
    });
    let mut consequence = json!({ "properties": then, "required": required });
    if quantity == Quantity::Radius {
        // How sure another instrument is of a radius has to be said.
        consequence["anyOf"] = json!([
            { "required": ["uncertainty"] },
            { "properties": { "instrument": gauge } },
        ]);
    } else {
        consequence["properties"]["instrument"] = json!({ "not": gauge });
    }
    schema["then"] = consequence;
    schema
}

fn described(mut schema: Value, description: &str) -> Value {
    schema["description"] = description.into();
    schema
}
