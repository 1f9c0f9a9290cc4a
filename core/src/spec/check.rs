//! Checking a document that was made in code.

use super::look::Look;
use super::root::Root;
use super::visit::{About, Slot, Visitor};
use crate::measure::Error;

/// Checks every field, and then what has to hold between them.
pub(crate) fn document<R: Root>(root: &R) -> Result<(), Error> {
    let mut look = Look::default();
    // A visit may change what it visits, so it gets a copy.
    root.clone().visit(&mut Checker { look: &mut look });
    if look.faults.is_empty() {
        root.together(&mut look.faults);
    }
    look.faults.into_result()
}

struct Checker<'a> {
    look: &'a mut Look,
}

impl Visitor for Checker<'_> {
    fn field(&mut self, about: &About, slot: Slot<'_>) {
        self.look.at_key(about.key, |look| value(look, about, slot));
    }
}

fn value(look: &mut Look, about: &About, slot: Slot<'_>) {
    match slot {
        Slot::Flag(_) | Slot::Choice(_) => {}
        Slot::Count(count) => look.number(about.bound, about.unit, f64::from(*count), None),
        Slot::Number(number) => look.number(about.bound, about.unit, *number, None),
        Slot::Length(length) => look.number(about.bound, about.unit, length.mm(), None),
        Slot::Angle(angle) => look.number(about.bound, about.unit, angle.deg(), None),
        Slot::Ratio(ratio) => look.number(about.bound, about.unit, ratio.value(), None),
        Slot::Station(station) => look.station(*station, None),
        Slot::Text(text) => look.text(about, text),
        Slot::LengthOr(slot) => {
            if let Some(length) = slot.length() {
                look.number(about.bound, about.unit, length.mm(), None);
            }
        }
        Slot::Group(group) => group.visit(&mut Checker { look }),
        Slot::List(list) => {
            look.size(about, list.len(), "entries");
            for index in 0..list.len() {
                if let Some(slot) = list.item(index) {
                    look.at_index(index, |look| value(look, about, slot));
                }
            }
        }
        Slot::Maybe(maybe) => {
            if let Some(slot) = maybe.get() {
                value(look, about, slot);
            }
        }
    }
}
