//! What is wrong with an input, where, and what would mend it.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt;

/// The most faults one [`Error`] keeps; what comes after is only counted.
pub const MAX_FAULTS: usize = 100;

/// What sort of fault it is. The numbers are stable: kinds are only ever appended.
#[non_exhaustive]
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[repr(u32)]
pub enum Kind {
    /// The text is not JSON.
    Syntax = 1,
    /// A key that no specification has.
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
}

impl Kind {
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
        }
    }
}

/// One fault: where it is, what was given, what is allowed, why, and what to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// What sort of fault it is.
    pub kind: Kind,
    /// The field's path in the specification (`shaft.thickness[2].at`) or the argument's name (`x_mm`).
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

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) };
        match (self.path.as_str(), self.value.as_str()) {
            ("", "") => f.write_str("the document")?,
            ("", value) => write!(f, "{value}{unit}")?,
            (path, "") => f.write_str(path)?,
            (path, value) => write!(f, "{path} = {value}{unit}")?,
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
