//! Which readings are to be looked at where the numbers that they come to make no neck.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::family::{Family, Place};
use super::take::{Item, Taken};
use crate::inspect::{Measured, Readings};
use crate::measure::{Error, Fault, exactly};

/// So many readings are named, the nearest ones: what lies between two is told by both.
const NAMED: usize = 2;

/// A number as a copy is told: to four decimals.
fn rounded(number: f64) -> String {
    exactly(libm::round(number * 1e4) / 1e4 + 0.0)
}

/// The error of a neck that can't be built as one of the readings that it was copied from. Nobody gave its numbers.
pub(super) fn blame(error: Error, family: &Family, taken: &Taken, readings: &Readings) -> Error {
    let all = error.faults().iter().map(|fault| of_fault(fault, family, taken, readings)).collect();
    Error::unless_none(all).err().unwrap_or(error)
}

fn of_fault(fault: &Fault, family: &Family, taken: &Taken, readings: &Readings) -> Fault {
    let near = place_of(fault, family).map_or_else(Vec::new, |place| nearest(place, family, taken));
    let words = |item: &&Item| match readings.readings().get(item.reading).map_or(0, |r| r.line) {
        0 => format!("readings[{}]", readings.number(item.reading)),
        line => format!("line {line}"),
    };
    let which: Vec<String> = near.iter().map(words).collect();
    let unit = if fault.unit.is_empty() { String::new() } else { format!(" {}", fault.unit) };
    let is = match fault.value.parse::<f64>() {
        _ if fault.value.is_empty() => String::new(),
        Ok(number) => format!(" = {}{unit}", rounded(number)),
        Err(_) => format!(" = {}{unit}", fault.value),
    };
    let range = match (fault.lowest, fault.highest) {
        (Some(a), Some(b)) => format!(" (allowed: {} to {}{unit})", rounded(a), rounded(b)),
        (Some(a), None) => format!(" (allowed: {}{unit} or more)", rounded(a)),
        (None, Some(b)) => format!(" (allowed: {}{unit} or less)", rounded(b)),
        (None, None) => String::new(),
    };
    let reason =
        format!("the copied neck can't be built, it would have {}{is}: {}{range}", fault.path, fault.reason);
    let remedy = match which.as_slice() {
        [] => {
            String::from("look at the readings that lie furthest from the base, and take out what is misread")
        }
        [one] => format!("look at the reading there, {one}: measure again, or take it out"),
        all => format!(
            "look at the readings there, {}: measure again, or take out what is misread",
            all.join(" and ")
        ),
    };
    let first = near.first().and_then(|item| Some((item, readings.readings().get(item.reading)?)));
    match first {
        Some((item, reading)) => {
            let entry = format!("readings[{}].value", readings.number(item.reading));
            let path = if reading.line > 0 { format!("line {}, {entry}", reading.line) } else { entry };
            Fault::new(fault.kind, path, reason).value(exactly(reading.value_mm), "mm")
        }
        None => Fault::new(fault.kind, "readings", reason),
    }
    .remedy(remedy)
}

/// The number that a fault is of, or one beside it.
fn place_of(fault: &Fault, family: &Family) -> Option<Place> {
    let path = fault.path.as_str();
    // A fault of one entry names some number of it; that of a whole list is of none of its entries.
    let of = |own: &str| {
        own == path
            || (path.ends_with(']') && own.strip_prefix(path).is_some_and(|rest| rest.starts_with('.')))
    };
    let its = (0..family.size()).find(|i| of(&family.path(*i)));
    // The strings and all else at the nut have to suit its width.
    its.map(|i| family.place(i)).or_else(|| path.starts_with("nut.").then_some(Place::Width(0)))
}

/// The readings that tell a number, the nearest to its station first.
fn nearest<'a>(place: Place, family: &Family, taken: &'a Taken) -> Vec<&'a Item> {
    let x = match place {
        Place::Thickness(k) => family.thickness.x.get(k),
        Place::Width(k) => family.widths.x.get(k),
        Place::Line(side, k) => family.lines.get(side as usize).and_then(|line| line.x.get(k)),
        Place::Profile(k, _) => family.profile.x.get(k),
        Place::Radius | Place::EndRadius => None,
    };
    let x = x.copied().unwrap_or(0.0);
    let tells = |item: &&Item| match (place, item.measured) {
        (Place::Thickness(_), Measured::Thickness) | (Place::Width(_), Measured::Width) => true,
        (Place::Line(..) | Place::Profile(..), Measured::CarveLine(_)) => true,
        (Place::Profile(..), Measured::Girth) | (Place::Radius | Place::EndRadius, Measured::Radius) => true,
        (Place::Width(_), Measured::Point { .. }) => false,
        (_, Measured::Point { .. }) => true,
        _ => false,
    };
    let away = |item: &Item| taken.places.x.get(item.place).map_or(f64::INFINITY, |at| libm::fabs(at - x));
    let mut all: Vec<&Item> = taken.items.iter().filter(tells).collect();
    all.sort_by(|a, b| away(a).total_cmp(&away(b)));
    all.truncate(NAMED);
    all
}
