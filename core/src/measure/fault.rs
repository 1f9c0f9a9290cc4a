//! What is wrong with an input, where, and what would mend it.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt;

/// The most faults one [`Error`] keeps; what comes after is only counted.
pub const MAX_FAULTS: usize = 100;

/// What sort of fault it is. The numbers are stable: kinds are only ever appended.
#[non_exhaustive]
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[repr(u32)]
pub enum Kind {
    /// The text is not JSON, or not CSV.
    Syntax = 1,
    /// A key that the document does not have.
    UnknownKey = 2,
    /// A value of another type than the field takes.
    WrongType = 3,
    /// A text that can't be read as a length, an angle, a station or a ratio.
    Unreadable = 4,
    /// A number outside its bounds.
    OutOfRange = 5,
    /// A field that has to be given here and is not.
    Missing = 6,
    /// Two fields that can't both hold.
    Conflict = 7,
    /// A document, text or list that is too large.
    TooLarge = 8,
    /// A document written for a later format than this library reads.
    NewerFormat = 9,
    /// Numbers that are each in bounds but make no neck together.
    Geometry = 10,
    /// A station that is not on the neck.
    OutsideNeck = 11,
    /// A buffer of the wrong size.
    Buffer = 12,
    /// A cut that comes nearer to the finished neck than its allowance.
    TooDeep = 13,
    /// A piece of timber that does not hold the neck.
    TooSmall = 14,
}

impl Kind {
    /// Every kind, in the order of the numbers.
    pub const ALL: [Self; 14] = [
        Self::Syntax,
        Self::UnknownKey,
        Self::WrongType,
        Self::Unreadable,
        Self::OutOfRange,
        Self::Missing,
        Self::Conflict,
        Self::TooLarge,
        Self::NewerFormat,
        Self::Geometry,
        Self::OutsideNeck,
        Self::Buffer,
        Self::TooDeep,
        Self::TooSmall,
    ];

    /// The stable number of this kind, as the C interface hands it out.
    #[must_use]
    pub const fn code(self) -> u32 {
        self as u32
    }

    /// A short stable name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Syntax => "syntax",
            Self::UnknownKey => "unknown_key",
            Self::WrongType => "wrong_type",
            Self::Unreadable => "unreadable",
            Self::OutOfRange => "out_of_range",
            Self::Missing => "missing",
            Self::Conflict => "conflict",
            Self::TooLarge => "too_large",
            Self::NewerFormat => "newer_format",
            Self::Geometry => "geometry",
            Self::OutsideNeck => "outside_neck",
            Self::Buffer => "buffer",
            Self::TooDeep => "too_deep",
            Self::TooSmall => "too_small",
        }
    }
}

/// One fault: where it is, what was given, what is allowed, why, and what to do.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Fault {
    /// What sort of fault it is.
    pub kind: Kind,
    /// The field's path in its document (`shaft.thickness[2].at`) or the argument's name (`x_mm`).
    pub path: String,
    /// The value given, as text; empty where nothing was given.
    pub value: String,
    /// Unit of the value and the bounds; empty where it has none.
    pub unit: &'static str,
    /// Lowest value allowed, where there is one.
    pub lowest: Option<f64>,
    /// Highest value allowed, where there is one.
    pub highest: Option<f64>,
    /// What is wrong, or why the bound is where it is.
    pub reason: String,
    /// What to do about it; empty where nothing better than the range can be said.
    pub remedy: String,
}

impl Fault {
    /// A fault with a reason, no value, range or remedy yet.
    #[must_use]
    pub fn new(kind: Kind, path: impl Into<String>, reason: impl Into<String>) -> Self {
        Self {
            kind,
            path: path.into(),
            value: String::new(),
            unit: "",
            lowest: None,
            highest: None,
            reason: reason.into(),
            remedy: String::new(),
        }
    }

    /// Says what was given.
    #[must_use]
    pub fn value(mut self, value: impl ToString, unit: &'static str) -> Self {
        self.value = value.to_string();
        self.unit = unit;
        self
    }

    /// Says what is allowed.
    #[must_use]
    pub fn range(mut self, lowest: impl Into<Option<f64>>, highest: impl Into<Option<f64>>) -> Self {
        self.lowest = lowest.into();
        self.highest = highest.into();
        self
    }

    /// Says what would mend it.
    #[must_use]
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = remedy.into();
        self
    }
}

/// A number the way a builder would write it: no trailing zeros, no exponent where it can be helped.
pub(crate) fn plain(value: f64) -> String {
    if value == 0.0 {
        return "0".to_string();
    }
    let rounded = libm::round(value * 1e6) / 1e6;
    if rounded == 0.0 || libm::fabs(value) >= 1e15 { format!("{value:e}") } else { format!("{rounded}") }
}

/// Millimetres to a thousandth, as one tells a builder.
pub(crate) fn told(mm: f64) -> f64 {
    libm::round(mm * 1e3) / 1e3
}

/// A number with all its digits, so that 14.9999999 does not look like the 15 that is allowed.
pub(crate) fn exactly(value: f64) -> String {
    let size = libm::fabs(value);
    if size == 0.0 || (1e-6..1e15).contains(&size) { format!("{value}") } else { format!("{value:e}") }
}

/// The most characters of a text that a message repeats.
const MAX_QUOTED: usize = 40;

/// At most [`MAX_QUOTED`] characters of `text`, control characters escaped.
pub(crate) fn shortened(text: &str) -> String {
    let mut characters = text.chars();
    let mut short = String::new();
    for character in characters.by_ref().take(MAX_QUOTED) {
        match character {
            '\'' => short.push('\''),
            _ => short.extend(character.escape_debug()),
        }
    }
    if characters.next().is_some() {
        short.push('\u{2026}');
    }
    short
}

/// The same in quotation marks.
pub(crate) fn quoted(text: &str) -> String {
    format!("\"{}\"", shortened(text))
}

/// What is counted, for one of it; units of measure stay as they are.
fn singular(unit: &str) -> &str {
    match unit {
        "entries" => "entry",
        "characters" | "elements" | "places" => &unit[..unit.len() - 1],
        _ => unit,
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let spaced = |unit: &str| if unit.is_empty() { String::new() } else { format!(" {unit}") };
        let unit = spaced(self.unit);
        let of_value = if self.value == "1" { spaced(singular(self.unit)) } else { unit.clone() };
        match (self.path.as_str(), self.value.as_str()) {
            ("", "") => f.write_str("the document")?,
            ("", value) => write!(f, "{value}{of_value}")?,
            (path, "") => f.write_str(path)?,
            (path, value) => write!(f, "{path} = {value}{of_value}")?,
        }
        write!(f, ": {}", self.reason)?;
        match (self.lowest, self.highest) {
            (Some(a), Some(b)) => write!(f, " (allowed: {} to {}{unit})", plain(a), plain(b))?,
            (Some(a), None) => write!(f, " (allowed: {}{unit} or more)", plain(a))?,
            (None, Some(b)) => write!(f, " (allowed: {}{unit} or less)", plain(b))?,
            (None, None) => {}
        }
        if !self.remedy.is_empty() {
            write!(f, "; {}", self.remedy)?;
        }
        Ok(())
    }
}

/// All the faults found in one input, in the order of the input. Never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Error {
    faults: Vec<Fault>,
    more: usize,
}

impl Error {
    /// The faults, at most [`MAX_FAULTS`] of them.
    #[must_use]
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// How many more faults there were than are kept.
    #[must_use]
    pub const fn more(&self) -> usize {
        self.more
    }

    /// `Err` with these faults, `Ok` where there are none.
    ///
    /// # Errors
    /// - all `faults`, where there is at least one.
    pub fn unless_none(faults: Vec<Fault>) -> Result<(), Self> {
        Self::with_more(faults, 0)
    }

    /// The same, with `more` faults that were counted only.
    pub(super) fn with_more(mut faults: Vec<Fault>, more: usize) -> Result<(), Self> {
        if faults.is_empty() {
            return Ok(());
        }
        let more = more.saturating_add(faults.len().saturating_sub(MAX_FAULTS));
        faults.truncate(MAX_FAULTS);
        Err(Self { faults, more })
    }
}

impl From<Fault> for Error {
    fn from(fault: Fault) -> Self {
        Self { faults: alloc::vec![fault], more: 0 }
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, fault) in self.faults.iter().enumerate() {
            if i > 0 {
                f.write_str("\n")?;
            }
            fault.fmt(f)?;
        }
        if self.more > 0 {
            write!(f, "\nand {} more", self.more)?;
        }
        Ok(())
    }
}

impl core::error::Error for Error {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_numbers_of_the_kinds_stay() {
        let kinds = [
            (Kind::Syntax, 1, "syntax"),
            (Kind::UnknownKey, 2, "unknown_key"),
            (Kind::WrongType, 3, "wrong_type"),
            (Kind::Unreadable, 4, "unreadable"),
            (Kind::OutOfRange, 5, "out_of_range"),
            (Kind::Missing, 6, "missing"),
            (Kind::Conflict, 7, "conflict"),
            (Kind::TooLarge, 8, "too_large"),
            (Kind::NewerFormat, 9, "newer_format"),
            (Kind::Geometry, 10, "geometry"),
            (Kind::OutsideNeck, 11, "outside_neck"),
            (Kind::Buffer, 12, "buffer"),
            (Kind::TooDeep, 13, "too_deep"),
            (Kind::TooSmall, 14, "too_small"),
        ];
        for (kind, code, name) in kinds {
            assert_eq!((kind.code(), kind.name()), (code, name));
        }
        assert_eq!(Kind::ALL, kinds.map(|(kind, ..)| kind));
    }

    #[test]
    fn what_a_fault_shows() {
        let fault = |path: &str| Fault::new(Kind::OutOfRange, path, "too wide");
        for (fault, shown) in [
            (fault(""), "the document: too wide"),
            (fault("nut.width"), "nut.width: too wide"),
            (fault("").value(7, "mm"), "7 mm: too wide"),
            (fault("nut.width").value(7, "mm"), "nut.width = 7 mm: too wide"),
            (fault("n").range(0.0, 5.0), "n: too wide (allowed: 0 to 5)"),
            (
                fault("n").value(1, "entries").range(2.0, None),
                "n = 1 entry: too wide (allowed: 2 entries or more)",
            ),
            (fault("n").value(1, "places"), "n = 1 place: too wide"),
            (fault("n").value(1, "mm"), "n = 1 mm: too wide"),
            (fault("n").value(-1, "mm").range(0.58, None), "n = -1 mm: too wide (allowed: 0.58 mm or more)"),
            (fault("n").range(None, -0.0), "n: too wide (allowed: 0 or less)"),
            (fault("n").range(1e-9, 1e300), "n: too wide (allowed: 1e-9 to 1e300)"),
            (fault("n").remedy("cut it"), "n: too wide; cut it"),
        ] {
            assert_eq!(fault.to_string(), shown);
        }
    }

    #[test]
    fn an_error_keeps_a_hundred_faults_and_counts_the_rest() {
        assert_eq!(Error::unless_none(Vec::new()), Ok(()));
        let fault = Fault::new(Kind::Missing, "a", "not there");
        let error = Error::unless_none(alloc::vec![fault.clone(); 250]).unwrap_err();
        assert_eq!((error.faults().len(), error.more()), (MAX_FAULTS, 150));
        assert!(error.to_string().ends_with("\na: not there\nand 150 more"));

        let mut faults = super::super::Faults::default();
        assert!(faults.is_empty());
        for index in 0..250 {
            faults.add(|| {
                assert!(index < MAX_FAULTS, "a fault that is not kept is not made");
                fault.clone()
            });
        }
        assert_eq!(faults.into_result(), Err(error));
    }

    #[test]
    fn texts_are_cut_short_and_their_control_characters_shown() {
        assert_eq!(quoted("it's \"1\"\n"), r#""it's \"1\"\n""#);
        assert_eq!(shortened(&"é".repeat(40)), "é".repeat(40));
        assert_eq!(shortened(&"é".repeat(41)), "é".repeat(40) + "\u{2026}");
        assert_eq!(exactly(0.1 + 0.2), "0.30000000000000004");
        assert_eq!(exactly(1e-7), "1e-7");
        assert_eq!(exactly(1e15), "1e15");
        assert_eq!(exactly(-0.0), "-0");
    }
}
