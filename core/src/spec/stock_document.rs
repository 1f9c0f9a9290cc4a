//! The stock as a whole document.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::root::{Root, Words, by_serde};
use super::{BoundRow, LineAt, Saw, Stock, check, grits, order, read, schema, table, write};
use crate::measure::{Error, Fault, Faults, Kind, Station};

impl Stock {
    /// The format that this library writes, and the latest that it reads.
    pub const FORMAT: u32 = 1;

    /// Reads a stock from JSON.
    ///
    /// What the document leaves out keeps its default; `{}` is a blank as large as needed, usual allowances and the
    /// usual order. Lengths and stations may be numbers or texts. Reading is bounded in time and memory whatever
    /// the text.
    ///
    /// ```
    /// # use neckwright::spec::{StageName, Stock};
    /// let stock = Stock::from_json(r#"{"thickness": "1 in", "cutter": {"shape": "cove", "radius": "5/8 in"}}"#)?;
    /// assert_eq!(stock.thickness.map(|thickness| thickness.mm()), Some(25.4));
    /// assert_eq!(stock.usual_order()[0], StageName::Blank);
    ///
    /// let error = Stock::from_json(r#"{"sanding": {"grits": [60, 70, 120]}, "order": ["blank"]}"#).unwrap_err();
    /// assert_eq!(error.faults()[0].path, "sanding.grits[1]");
    /// assert_eq!(error.faults()[0].remedy, "give 80");
    /// assert_eq!(error.faults()[1].remedy, "add \"rod channel\" after \"blank\"");
    /// # Ok::<(), neckwright::measure::Error>(())
    /// ```
    ///
    /// # Errors
    /// All the faults that are found, not only the first; what has to hold between fields is only judged where
    /// every field by itself is right.
    /// - [`Kind::TooLarge`] for a text of more than 256 KiB, and for a list with more entries than its field takes.
    /// - [`Kind::Syntax`] for a text that is not JSON.
    /// - [`Kind::NewerFormat`] for a document of a later format; nothing else is reported then.
    /// - [`Kind::Missing`] and [`Kind::Conflict`] for an order in which a step is missing, stands twice or comes before
    ///   one that it needs; for grits that don't rise or that the scale does not have; for a saw's line through two
    ///   depths at one station.
    /// - [`Kind::UnknownKey`], [`Kind::WrongType`], [`Kind::Unreadable`], [`Kind::OutOfRange`] and [`Kind::Missing`] as
    ///   they say.
    pub fn from_json(text: &str) -> Result<Self, Error> {
        read::json(text)
    }

    /// The document of a text as JSON has it, before any of its fields is read: to change it and give it to
    /// [`Self::from_value`].
    ///
    /// # Errors
    /// - [`Kind::TooLarge`] and [`Kind::Syntax`] as [`Self::from_json`].
    /// - [`Kind::Conflict`] for every key that is given twice, which no change of the document could be seen to mend.
    pub fn value_of_json(text: &str) -> Result<serde_json::Value, Error> {
        read::unread::<Self>(text)
    }

    /// Reads a stock from JSON that has been parsed already.
    ///
    /// A key that was given twice can't be seen any more in a parsed document.
    ///
    /// # Errors
    /// - as [`Self::from_json`], but for [`Kind::Syntax`] and the length of the text.
    pub fn from_value(value: &serde_json::Value) -> Result<Self, Error> {
        read::document(value, &[])
    }

    /// The stock as JSON, indented, with absent fields left out.
    ///
    /// [`Self::from_json`] reads it back bit for bit where [`Self::check`] finds nothing wrong. A number that
    /// is not finite is written as `null`, which is refused when read.
    #[must_use]
    pub fn to_json(&self) -> String {
        write::json(self)
    }

    /// Checks a stock that was made in code, by the same bounds as one that is read.
    ///
    /// # Errors
    /// - all faults of the kinds [`Kind::OutOfRange`], [`Kind::TooLarge`], [`Kind::Missing`] and
    ///   [`Kind::Conflict`].
    pub fn check(&self) -> Result<(), Error> {
        check::document(self)
    }

    /// The JSON Schema (2020-12) of the document.
    ///
    /// A document that [`Self::from_json`] reads is valid by it. The other way round it can't see what has to
    /// hold between fields, the bounds of numbers inside texts, and keys given twice.
    #[must_use]
    pub fn schema() -> serde_json::Value {
        schema::schema::<Self>()
    }

    /// The table of bounds: every field, in the order of the document.
    #[must_use]
    pub fn bounds() -> Vec<BoundRow> {
        table::rows::<Self>()
    }
}

impl Root for Stock {
    const FORMAT: u32 = Self::FORMAT;
    const WORDS: Words =
        Words { name: "stock", subject: "stock", title: "Stock for carving a neck", example: "board" };

    fn together(&self, faults: &mut Faults) {
        shaft_line(&self.saw, faults);
        grits::check(&self.sanding, faults);
        order::check(self, faults);
    }
}

by_serde!(Stock);

/// Two depths at one place make no line.
fn shaft_line(saw: &Saw, faults: &mut Faults) {
    let Some([first, second]) = saw.shaft_line.as_deref() else { return };
    if first.is_beside(second) {
        let (unit, spaced) = if matches!(second.at, Station::Mm(_)) { ("mm", " mm") } else { ("", "") };
        faults.add(|| {
            let at = first.at;
            let reason = format!("two depths at one place make no line, and the first is at {at}{spaced}");
            Fault::new(Kind::Conflict, "saw.shaft_line[1].at", reason)
                .value(second.at, unit)
                .remedy("put it further from the first, or give one depth alone")
        });
    }
}

impl LineAt {
    /// Whether two are at one place, as far as can be said without a scale: it alone knows where a fret lies.
    pub(super) fn is_beside(&self, other: &Self) -> bool {
        match (self.at, other.at) {
            (Station::Mm(a), Station::Mm(b)) => libm::fabs(b - a) < Station::LEAST_GAP_MM,
            (a, b) => a == b,
        }
    }
}
