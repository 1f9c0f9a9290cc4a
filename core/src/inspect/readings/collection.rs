//! A checked collection of readings.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::slice;

use super::gather::Gather;
use super::numbers::Numbers;
use super::{BadReadings, csv, json, schema, write};
use crate::inspect::Reading;
use crate::measure::{Fault, Kind};

/// The most readings that one collection holds.
pub const MAX_READINGS: usize = 20_000_000;

/// Readings, each within its bounds, none contradicting another.
///
/// What each number may be says [`Quantity::bound`](super::Quantity::bound). Two readings contradict each other where
/// they are of the same quantity at the same station, as it was given, and differ by more than six times their combined
/// standard uncertainty. Points contradict nothing: on a flat side they lie one below the other.
///
/// Errors and sentences name a reading by the line it was read from, and by its number, as in `readings[3]`. Numbers count
/// from 0 and stay what they were in the list or the document that was given, also where bad readings were left out or a
/// few picked: [`number`](Self::number) tells them.
///
/// Equal are those with the same name and the same readings, the lines they stood on included; their numbers don't count.
#[derive(Clone, Debug, Default)]
pub struct Readings {
    pub(super) name: String,
    pub(super) list: Vec<Reading>,
    pub(super) numbers: Numbers,
}

impl PartialEq for Readings {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name && self.list == other.list
    }
}

impl Readings {
    /// The format of the JSON document that this library writes, and the latest that it reads.
    pub const FORMAT: u32 = 1;

    /// Takes readings that were made in code.
    ///
    /// ```
    /// # use neckwright::inspect::{Measured, Reading, Readings};
    /// # use neckwright::measure::Station;
    /// let reading = Reading {
    ///     at: Station::Fret(1.0),
    ///     measured: Measured::Thickness,
    ///     value_mm: 21.84,
    ///     uncertainty_mm: 0.05,
    ///     line: 0,
    /// };
    /// assert_eq!(Readings::new(vec![reading])?.len(), 1);
    ///
    /// let bad = Readings::new(vec![reading, Reading { value_mm: f64::NAN, ..reading }]).unwrap_err();
    /// assert_eq!(bad.error.faults()[0].path, "readings[1].value");
    /// assert_eq!(bad.good.readings(), [reading]);
    /// # Ok::<(), neckwright::inspect::BadReadings>(())
    /// ```
    ///
    /// # Errors
    /// [`BadReadings`], with all that is sound, for
    /// - [`Kind::OutOfRange`]: a number out of its bounds, or none;
    /// - [`Kind::Conflict`]: readings that contradict each other; each of them is bad;
    /// - [`Kind::TooLarge`]: more than [`MAX_READINGS`]; those beyond are not looked at.
    pub fn new(readings: Vec<Reading>) -> Result<Self, BadReadings> {
        Gather::new(0, true).check_all(readings)
    }

    /// Reads comma-separated values: a header line that names the columns, then a reading a line.
    ///
    /// | column | what it holds |
    /// |---|---|
    /// | `at` | the station: `fret 5`, `nut`, millimetres from the nut, or a length with its unit |
    /// | `quantity` | `thickness`, `width`, `girth`, `carve line`, `point` or `radius` |
    /// | `value` | what was read: millimetres, or a length with its unit |
    /// | `side` | of a carve line: `bass` or `treble` |
    /// | `across` | of a point: its distance from the centreline, positive toward the treble side |
    /// | `uncertainty` | the standard uncertainty; without it that of the instrument |
    /// | `instrument` | `caliper`, `rule`, `tape`, `radius gauge`, `contour gauge` or `scan`; without it the usual one |
    /// | `note` | anything; it is not read, but see below |
    ///
    /// Where commas separate, an uncertainty of bare digits and a note that begins like a number are refused right after a whole
    /// number: they may be its decimals. In quotation marks, or the uncertainty with its unit, they are what they are.
    ///
    /// The first three columns have to be there, in any order. Fields are as in RFC 4180: quotation marks around a field
    /// where need be, two for one within; lines end in CR LF, LF or CR. Beyond that the separator may be a semicolon or a
    /// tab, as the header has it; spaces around a field, capitals, a byte order mark, a first line like `sep=;`, blank lines, lines of separators
    /// alone and lines that begin with `#` don't matter; and a quotation mark that does not begin a field is an inch's. A
    /// line break within quotation marks is refused: no field has one. Bare numbers may have an exponent.
    ///
    /// ```
    /// # use neckwright::inspect::{Measured, Readings};
    /// # use neckwright::measure::Station;
    /// let text = "quantity;at;value;instrument\nwidth;nut;1 11/16\";rule\nthickness;fret 5;22.3;\n";
    /// let readings = Readings::from_csv(text)?;
    /// let [width, thickness] = readings.readings() else { panic!() };
    /// assert_eq!((width.at, width.value_mm, width.uncertainty_mm), (Station::NUT, 42.8625, 0.25));
    /// assert_eq!((thickness.measured, thickness.line), (Measured::Thickness, 3));
    /// # Ok::<(), neckwright::inspect::BadReadings>(())
    /// ```
    ///
    /// # Errors
    /// [`BadReadings`], with all that is sound; every fault's path begins with its line, and with the field where there is
    /// one: `line 17, value`.
    /// - [`Kind::Syntax`]: no text; a field whose quotation marks are not closed on its line, or close before its end.
    /// - [`Kind::Missing`], [`Kind::UnknownKey`], [`Kind::Conflict`] for columns that the header does not name, that there
    ///   are none of, or that it names twice; no line is read then.
    /// - [`Kind::UnknownKey`]: a field beyond the columns.
    /// - [`Kind::Missing`]: a field that has to be given and is not.
    /// - [`Kind::Unreadable`], [`Kind::OutOfRange`], [`Kind::Conflict`] as they say and as for [`new`](Self::new); a side or
    ///   a place across where it does not belong; a radius gauge on anything but a radius.
    /// - [`Kind::Conflict`]: what may be a decimal comma where commas separate.
    /// - [`Kind::Conflict`]: stations that are bare whole numbers from 1 to 24, two different ones or more, and no station
    ///   of another sort: they look like numbers of frets, and would all be read as millimetres from the nut. Nothing is
    ///   taken then.
    /// - [`Kind::TooLarge`]: a field of more than 100 bytes; a text of 4 GiB or more, of which nothing is read; more than
    ///   [`MAX_READINGS`].
    pub fn from_csv(text: &str) -> Result<Self, BadReadings> {
        csv::read(text)
    }

    /// Reads a JSON document: `{"format": 1, "name": …, "uncertainties": {…}, "readings": […]}`, the readings objects
    /// with the keys of [`from_csv`](Self::from_csv)'s columns; a `note` is not read, whatever is in it. Its schema is [`schema`](Self::schema).
    ///
    /// `uncertainties` tells the standard uncertainty of instruments for all readings that name none themselves. Memory
    /// beyond the text is that of the readings, and a little more: no tree of the document is built.
    ///
    /// ```
    /// # use neckwright::inspect::Readings;
    /// let readings = Readings::from_json(r#"{
    ///     "uncertainties": {"caliper": "0.03 mm"},
    ///     "readings": [
    ///         {"at": "fret 1", "quantity": "thickness", "value": "0.86 in"},
    ///         {"at": "fret 5", "quantity": "carve line", "side": "bass", "value": 6.5, "instrument": "rule"}
    ///     ]
    /// }"#)?;
    /// assert_eq!(readings.readings()[0].uncertainty_mm, 0.03);
    /// assert_eq!(readings.readings()[1].uncertainty_mm, 0.25);
    ///
    /// let bad = Readings::from_json("{\"readings\": [\n{\"at\": \"nut\", \"quantity\": \"widht\", \"value\": 43}]}");
    /// let bad = bad.unwrap_err();
    /// assert_eq!(bad.error.faults()[0].path, "line 2, readings[0].quantity");
    /// assert_eq!(bad.error.faults()[0].remedy, "did you mean \"width\"?");
    /// # Ok::<(), neckwright::inspect::BadReadings>(())
    /// ```
    ///
    /// # Errors
    /// [`BadReadings`], with all that is sound; every fault's path begins with its line: `line 31, readings[12].value`.
    /// - [`Kind::Syntax`]: a text that is not JSON. What stands after that place is not read; what stands before it comes
    ///   back.
    /// - [`Kind::NewerFormat`]: a document of a later format, of which nothing else is reported.
    /// - [`Kind::UnknownKey`], [`Kind::WrongType`], [`Kind::Conflict`] for a key given twice, and all that
    ///   [`from_csv`](Self::from_csv) tells of a reading. A reading with an unknown key is bad. Where an uncertainty of the
    ///   whole document is bad, the good readings have the instrument's usual one.
    pub fn from_json(text: &str) -> Result<Self, BadReadings> {
        json::read(text)
    }

    /// The JSON Schema (2020-12) of the document that [`from_json`](Self::from_json) reads.
    ///
    /// A document that is read is valid by it. The other way round it can't see bounds of numbers inside texts, readings
    /// that contradict each other and keys given twice.
    #[must_use]
    pub fn schema() -> serde_json::Value {
        schema::schema()
    }

    /// The readings as comma-separated values with a header, every one with its uncertainty.
    ///
    /// [`from_csv`](Self::from_csv) reads them back bit for bit but for the lines they stand on. The name is not in it.
    #[must_use]
    pub fn to_csv(&self) -> String {
        write::csv(self)
    }

    /// The readings as a JSON document, one a line.
    ///
    /// [`from_json`](Self::from_json) reads them back bit for bit but for the lines they stand on.
    #[must_use]
    pub fn to_json(&self) -> String {
        write::json(self)
    }

    /// What the readings are called; empty where nobody said so.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The same readings under a name.
    ///
    /// # Errors
    /// - [`Kind::TooLarge`] for more than 120 characters;
    /// - [`Kind::Unreadable`] for a control character.
    pub fn named(self, name: impl Into<String>) -> Result<Self, Fault> {
        let name = name.into();
        match name_fault(&name) {
            Some((kind, reason, remedy)) => {
                Err(Fault::new(kind, "name", reason).value(crate::measure::quoted(&name), "").remedy(remedy))
            }
            None => Ok(Self { name, ..self }),
        }
    }

    /// The readings, in the order they were given.
    #[must_use]
    pub fn readings(&self) -> &[Reading] {
        &self.list
    }

    /// So many readings.
    #[must_use]
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The readings one by one.
    pub fn iter(&self) -> slice::Iter<'_, Reading> {
        self.list.iter()
    }

    /// The number that errors and sentences name the reading at a place by, both from 0: its place in the list or document
    /// that was given first. It differs from its place here where bad readings were left out ([`BadReadings::good`]) or some
    /// were picked ([`Inspection::low_readings`](crate::inspect::Inspection::low_readings)).
    ///
    /// ```
    /// # use neckwright::inspect::Readings;
    /// let text = "at,quantity,value\nfret 1,thickness,21.8\nfret 2,thickness,\nfret 3,thickness,22\n";
    /// let good = Readings::from_csv(text).unwrap_err().good;
    /// assert_eq!((good.len(), good.number(0), good.number(1)), (2, 0, 2));
    /// ```
    #[must_use]
    pub fn number(&self, place: usize) -> usize {
        self.numbers.of(place)
    }

    /// Some of them, by their places, which rise.
    pub(crate) fn picked(&self, which: &[usize]) -> Self {
        let list = which.iter().filter_map(|i| self.list.get(*i).copied()).collect();
        Self { name: self.name.clone(), list, numbers: self.numbers.picked(which.iter().copied()) }
    }

    /// The readings by themselves.
    #[must_use]
    pub fn into_vec(self) -> Vec<Reading> {
        self.list
    }
}

impl<'a> IntoIterator for &'a Readings {
    type Item = &'a Reading;
    type IntoIter = slice::Iter<'a, Reading>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

/// The most characters of a name.
pub(super) const LONGEST_NAME: usize = 120;

/// What is wrong with a name: kind, reason, remedy.
pub(super) fn name_fault(name: &str) -> Option<(Kind, String, String)> {
    if name.chars().count() > LONGEST_NAME {
        let reason = format!("a name has {LONGEST_NAME} characters at most");
        Some((Kind::TooLarge, reason, String::from("shorten it")))
    } else if name.chars().any(char::is_control) {
        let reason = String::from("a text with a control character can't stand on a drawing");
        Some((Kind::Unreadable, reason, String::from("take out line breaks, tabs and the like")))
    } else {
        None
    }
}

/// The fault of a text that is too long for its lines to be counted.
pub(super) fn too_long(text: &str) -> Option<BadReadings> {
    let most = u32::MAX as usize - 1;
    (text.len() > most).then(|| {
        let fault = Fault::new(Kind::TooLarge, "line 1", "the text is longer than any readings need");
        Gather::refused(
            fault
                .value(text.len(), "bytes")
                .range(None, most as f64)
                .remedy("inspect the neck stretch by stretch"),
        )
    })
}
