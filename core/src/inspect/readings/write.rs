//! Writing readings, so that they are read back bit for bit.

use alloc::string::String;
use core::fmt::{self, Display, Write};

use serde::ser::{Serialize, SerializeStruct, Serializer};

use super::numbered::like_a_fret;
use super::{Quantity, Readings};
use crate::inspect::{Measured, Reading};
use crate::measure::Station;
use crate::shape::Side;

/// The shortest number that is read back as the same; of an extreme size with an exponent.
struct Number(f64);

impl Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = libm::fabs(self.0);
        if size == 0.0 && self.0.is_sign_negative() {
            // Some readers of JSON make a whole number of -0.
            f.write_str("-0.0")
        } else if size == 0.0 || (1e-6..1e15).contains(&size) {
            write!(f, "{}", self.0)
        } else {
            write!(f, "{:e}", self.0)
        }
    }
}

impl Reading {
    fn side(&self) -> Option<Side> {
        if let Measured::CarveLine(side) = self.measured { Some(side) } else { None }
    }

    fn across_mm(&self) -> Option<f64> {
        if let Measured::Point { across_mm } = self.measured { Some(across_mm) } else { None }
    }
}

/// As comma-separated values.
pub(super) fn csv(readings: &Readings) -> String {
    let mut out = String::with_capacity(40 * (readings.len() + 2));
    // Writing to a text can't fail.
    let _ = write_csv(readings, &mut out);
    out
}

fn write_csv(readings: &Readings, out: &mut String) -> fmt::Result {
    let sides = readings.iter().any(|reading| reading.side().is_some());
    let places = readings.iter().any(|reading| reading.across_mm().is_some());
    out.push_str("at,quantity,value");
    if sides {
        out.push_str(",side");
    }
    if places {
        out.push_str(",across");
    }
    out.push_str(",uncertainty\n");
    for reading in readings {
        match reading.at {
            Station::Mm(mm) if like_a_fret(mm) => write!(out, "{mm} mm")?,
            Station::Mm(mm) => write!(out, "{}", Number(mm))?,
            Station::Fret(fret) => write!(out, "fret {}", Number(fret))?,
        }
        write!(out, ",{},{}", reading.measured.quantity().name(), Number(reading.value_mm))?;
        if sides {
            write!(out, ",{}", reading.side().map_or("", Side::name))?;
        }
        match reading.across_mm() {
            Some(across) => write!(out, ",{}", Number(across))?,
            None if places => out.push(','),
            None => {}
        }
        // Two whole numbers beside each other could be one with a decimal comma.
        let whole = libm::floor(reading.uncertainty_mm) == reading.uncertainty_mm;
        writeln!(out, ",{}{}", Number(reading.uncertainty_mm), if whole { " mm" } else { "" })?;
    }
    Ok(())
}

/// As in its JSON document.
impl Serialize for Reading {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let more = usize::from(self.side().is_some()) + usize::from(self.across_mm().is_some());
        let mut out = serializer.serialize_struct("Reading", 4 + more)?;
        out.serialize_field("at", &self.at)?;
        out.serialize_field("quantity", self.measured.quantity().name())?;
        out.serialize_field("value", &self.value_mm)?;
        if let Some(side) = self.side() {
            out.serialize_field("side", &side)?;
        }
        if let Some(across) = self.across_mm() {
            out.serialize_field("across", &across)?;
        }
        out.serialize_field("uncertainty", &self.uncertainty_mm)?;
        out.end()
    }
}

/// As [`Readings::to_json`] writes them.
impl Serialize for Readings {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Readings", 2 + usize::from(!self.name.is_empty()))?;
        out.serialize_field("format", &Self::FORMAT)?;
        if !self.name.is_empty() {
            out.serialize_field("name", &self.name)?;
        }
        out.serialize_field("readings", &self.list)?;
        out.end()
    }
}

/// As a JSON document.
pub(super) fn json(readings: &Readings) -> String {
    let mut out = String::with_capacity(90 * (readings.len() + 2));
    let _ = write_json(readings, &mut out);
    out
}

fn write_json(readings: &Readings, out: &mut String) -> fmt::Result {
    writeln!(out, "{{\n  \"format\": {},", Readings::FORMAT)?;
    if !readings.name.is_empty() {
        let name = serde_json::to_string(&readings.name).unwrap_or_default();
        writeln!(out, "  \"name\": {name},")?;
    }
    out.push_str("  \"readings\": [");
    let mut between = "\n";
    for reading in readings {
        write!(out, "{between}    {{\"at\": ")?;
        between = ",\n";
        match reading.at {
            Station::Mm(mm) => write!(out, "{}", Number(mm))?,
            Station::Fret(fret) => write!(out, "\"fret {}\"", Number(fret))?,
        }
        let quantity: Quantity = reading.measured.quantity();
        write!(out, ", \"quantity\": \"{}\", \"value\": {}", quantity.name(), Number(reading.value_mm))?;
        if let Some(side) = reading.side() {
            write!(out, ", \"side\": \"{}\"", side.name())?;
        }
        if let Some(across) = reading.across_mm() {
            write!(out, ", \"across\": {}", Number(across))?;
        }
        write!(out, ", \"uncertainty\": {}}}", Number(reading.uncertainty_mm))?;
    }
    out.push_str(if readings.is_empty() { "]\n}\n" } else { "\n  ]\n}\n" });
    Ok(())
}
