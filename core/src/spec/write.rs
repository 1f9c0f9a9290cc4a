//! Writing a document.

use alloc::borrow::ToOwned;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use serde_json::{Map, Number, Value};

use super::root::Root;
use super::visit::{About, Group, Slot, Visitor};
use crate::measure::Station;

/// The whole document.
pub(crate) fn document<R: Root>(root: &R) -> Value {
    // A visit may change what it visits, so it gets a copy.
    group(&mut root.clone())
}

/// The whole document as indented text.
pub(crate) fn json<R: Root>(root: &R) -> String {
    // Only a value whose map keys are not texts could fail.
    serde_json::to_string_pretty(&document(root)).unwrap_or_default()
}

/// The whole of a group, its keys in the order of the table, absent fields left out.
fn group(group: &mut dyn Group) -> Value {
    let mut writer = Writer { map: Map::new() };
    group.visit(&mut writer);
    Value::Object(writer.map)
}

struct Writer {
    map: Map<String, Value>,
}

impl Visitor for Writer {
    fn field(&mut self, about: &About, slot: Slot<'_>) {
        if let Some(value) = value(slot) {
            self.map.insert(about.key.to_owned(), value);
        }
    }
}

/// What a slot holds; nothing where it is absent.
pub(crate) fn value(slot: Slot<'_>) -> Option<Value> {
    Some(match slot {
        Slot::Flag(flag) => Value::Bool(*flag),
        Slot::Count(count) => Value::Number((*count).into()),
        Slot::Number(value) => number(*value),
        Slot::Length(length) => number(length.mm()),
        Slot::Angle(angle) => number(angle.deg()),
        Slot::Ratio(ratio) => number(ratio.value()),
        Slot::Station(Station::Mm(mm)) => number(*mm),
        Slot::Station(station) => Value::String(station.to_string()),
        Slot::Text(text) => Value::String(text.clone()),
        Slot::Choice(choice) => Value::String(choice.names().get(choice.index())?.to_string()),
        Slot::LengthOr(slot) => match slot.length() {
            Some(length) => number(length.mm()),
            None => Value::String(slot.word().to_owned()),
        },
        Slot::Group(inner) => group(inner),
        Slot::List(list) => {
            let mut entries = Vec::with_capacity(list.len());
            for index in 0..list.len() {
                entries.extend(list.item(index).and_then(value));
            }
            Value::Array(entries)
        }
        Slot::Maybe(maybe) => return maybe.get().and_then(value),
    })
}

/// The number as JSON: whole ones without a point. What is not finite becomes null, which no reader takes.
pub(crate) fn number(value: f64) -> Value {
    let whole = libm::floor(value) == value && libm::fabs(value) < 1e15;
    // JSON's -0 would be read as the whole number 0.
    if whole && (value != 0.0 || value.is_sign_positive()) {
        Value::Number((value as i64).into())
    } else {
        Number::from_f64(value).map_or(Value::Null, Value::Number)
    }
}
