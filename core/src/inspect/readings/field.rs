//! The fields of a reading, as a text gives them.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};

use crate::measure::{exactly, quoted};

/// A field of a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Field {
    At,
    Quantity,
    Value,
    Side,
    Across,
    Uncertainty,
    Instrument,
}

impl Field {
    pub(super) const ALL: [Self; 7] = [
        Self::At,
        Self::Quantity,
        Self::Value,
        Self::Side,
        Self::Across,
        Self::Uncertainty,
        Self::Instrument,
    ];

    /// Without these there is no reading; with why.
    pub(super) const REQUIRED: [(Self, &'static str); 3] = [
        (Self::At, "a reading means nothing without its place"),
        (Self::Quantity, "a reading means nothing without what was measured"),
        (Self::Value, "a reading without its value says nothing"),
    ];

    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::At => "at",
            Self::Quantity => "quantity",
            Self::Value => "value",
            Self::Side => "side",
            Self::Across => "across",
            Self::Uncertainty => "uncertainty",
            Self::Instrument => "instrument",
        }
    }

    pub(super) fn names() -> impl Iterator<Item = &'static str> {
        Self::ALL.iter().map(|field| field.name())
    }

    /// Whether a bare number can stand there.
    pub(super) const fn takes_number(self) -> bool {
        matches!(self, Self::At | Self::Value | Self::Across | Self::Uncertainty)
    }
}

/// The name of what is the caller's own and not read.
pub(super) const NOTE: &str = "note";

/// What a text gives for a field.
#[derive(Clone, Debug)]
pub(super) enum Given<'a> {
    Nothing,
    Number(f64),
    Text(Cow<'a, str>),
    Flag(bool),
    Null,
    List,
    Object,
}

impl Given<'_> {
    /// What sort of value it is, in words.
    pub(super) const fn sort(&self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Number(_) => "a number",
            Self::Text(_) => "a text",
            Self::Flag(_) => "true or false",
            Self::Null => "null",
            Self::List => "a list",
            Self::Object => "an object",
        }
    }

    /// As a message repeats it.
    pub(super) fn shown(&self) -> String {
        match self {
            Self::Number(number) => exactly(*number),
            Self::Text(text) => quoted(text),
            Self::Flag(yes) => yes.to_string(),
            _ => String::new(),
        }
    }
}

/// The path of a field: `line 17, value`, in a list `line 31, readings[12].value`, of what was made in code
/// `readings[12].value`. No field stands for the whole reading.
pub(super) fn path(line: u32, entry: Option<u32>, field: &str) -> String {
    let inner = match (entry, field) {
        (None, field) => field.to_string(),
        (Some(entry), "") => format!("readings[{entry}]"),
        (Some(entry), field) => format!("readings[{entry}].{field}"),
    };
    match (line, inner.as_str()) {
        (0, _) => inner,
        (line, "") => format!("line {line}"),
        (line, _) => format!("line {line}, {inner}"),
    }
}
