//! The table of bounds.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::root::Root;
use super::visit::{About, Slot, Visitor};
use super::write;
use crate::measure::{Bound, Station};

/// One line of the table of bounds: a field, and what it may be.
#[derive(Clone, Debug, PartialEq)]
pub struct BoundRow {
    /// The field's path, such as `nut.width` or, for each entry of a list, `shaft.thickness[].at`.
    pub path: String,
    /// What it takes: `length`, `angle`, `station`, `number`, `whole number`, `ratio`, `text`, `true or false`,
    /// `one of "C", "D"`, `length or "flat"`, `list`.
    pub takes: String,
    /// Unit of the bounds: of the number, `entries` of a list, `characters` of a text; empty where it has none.
    pub unit: &'static str,
    /// Lowest value allowed. A station may also be given as a fret, see [`Station::FRET`].
    pub lowest: Option<f64>,
    /// Highest value allowed.
    pub highest: Option<f64>,
    /// The default as JSON; `absent` where it may be left out and is worked out from the rest or not needed,
    /// `required` where it has to be given, empty for each entry of a list.
    pub default: String,
    /// Why the bounds are there, or why it is required; empty where there are none.
    pub why: &'static str,
    /// What it is.
    pub doc: &'static str,
}

/// Every field of the document, in its order.
pub(crate) fn rows<R: Root>() -> Vec<BoundRow> {
    let mut table = Table { rows: Vec::new(), path: String::new() };
    R::default().visit(&mut table);
    table.rows
}

struct Table {
    rows: Vec<BoundRow>,
    path: String,
}

impl Visitor for Table {
    fn field(&mut self, about: &About, slot: Slot<'_>) {
        let length = self.path.len();
        if length > 0 {
            self.path.push('.');
        }
        self.path += about.key;
        self.slot(about, slot, None);
        self.path.truncate(length);
    }
}

impl Table {
    /// Adds the rows of one slot; `default` where it is not the value in the slot.
    fn slot(&mut self, about: &About, mut slot: Slot<'_>, default: Option<&str>) {
        let default = match (default, about.required) {
            (Some(default), _) => default.to_string(),
            (None, Some(_)) => "required".to_string(),
            (None, None) => write::value(slot.reborrow()).map(|value| value.to_string()).unwrap_or_default(),
        };
        let (takes, unit, bound) = match &mut slot {
            Slot::Flag(_) => ("true or false".to_string(), "", None),
            Slot::Count(_) => ("whole number".to_string(), about.unit, about.bound),
            Slot::Number(_) => ("number".to_string(), about.unit, about.bound),
            Slot::Length(_) => ("length".to_string(), about.unit, about.bound),
            Slot::Angle(_) => ("angle".to_string(), about.unit, about.bound),
            Slot::Ratio(_) => ("ratio".to_string(), about.unit, about.bound),
            Slot::Station(_) => ("station".to_string(), "mm", Some(Station::MM)),
            Slot::Text(_) => ("text".to_string(), "characters", about.size),
            Slot::Choice(choice) => {
                let names: Vec<String> = choice.names().iter().map(|name| format!("{name:?}")).collect();
                (format!("one of {}", names.join(", ")), "", None)
            }
            Slot::LengthOr(slot) => (format!("length or {:?}", slot.word()), about.unit, about.bound),
            Slot::List(_) => ("list".to_string(), "entries", about.size),
            Slot::Group(_) | Slot::Maybe(_) => (String::new(), "", None),
        };
        match slot {
            Slot::Group(group) => group.visit(self),
            Slot::Maybe(maybe) => self.slot(about, maybe.fill(), Some("absent")),
            _ => {
                self.row(about, takes, unit, bound, default);
                if let Slot::List(list) = slot {
                    self.path += "[]";
                    self.slot(about, list.push(), Some(""));
                    self.path.truncate(self.path.len() - 2);
                }
            }
        }
    }

    fn row(
        &mut self,
        about: &About,
        takes: String,
        unit: &'static str,
        bound: Option<Bound>,
        default: String,
    ) {
        self.rows.push(BoundRow {
            path: self.path.clone(),
            takes,
            unit,
            lowest: bound.map(|bound| bound.lowest),
            highest: bound.map(|bound| bound.highest),
            default,
            why: bound.map(|bound| bound.why).or(about.required).unwrap_or(""),
            doc: about.doc.trim(),
        });
    }
}
