//! Everything that can be asked of readings.

use std::sync::LazyLock;

use neckwright::inspect::{BadReadings, Readings};
use neckwright::shape::Neck;
use neckwright::spec::Specification;

use crate::Dice;

static NECK: LazyLock<Option<Neck>> = LazyLock::new(|| Neck::new(&Specification::default()).ok());

/// Texts to begin with.
const PLAIN: &[&str] = &[
    "at,quantity,value,side,across,uncertainty,instrument\nfret 1,thickness,0.86 in,,,,\nfret 5,carve line,6.5,bass,,0.1,rule\n-30,point,14,,-12.5,,scan\n",
    "quantity;at;value\r\nwidth;nut;\"1 11/16\"\"\"\r\n\r\n# girth too\r\ngirth;fret 3;9.1 cm\r\n",
    "{\"uncertainties\": {\"caliper\": \"0.03 mm\"}, \"readings\": [\n{\"at\": \"fret 1\", \"quantity\": \"thickness\", \"value\": \"0.86 in\"},\n{\"at\": 120, \"quantity\": \"radius\", \"value\": 305, \"uncertainty\": 5}\n]}",
];

/// A text of readings, not yet damaged.
pub fn plain_readings(dice: &mut Dice) -> String {
    PLAIN[dice.below(PLAIN.len())].to_owned()
}

/// Reads a text as CSV and as JSON and asks everything of what comes out. A fault is a good answer if it names its line.
/// How many of the two were sound.
///
/// # Errors
/// - an answer that no text may lead to, in words.
pub fn everything_of_readings(text: &str) -> Result<usize, String> {
    let read = [Readings::from_csv(text), Readings::from_json(text)];
    let mut sound = 0;
    for read in read {
        match read {
            Ok(readings) => {
                sound += 1;
                good(&readings)?;
            }
            Err(bad) => {
                told(&bad)?;
                good(&bad.good)?;
            }
        }
    }
    Ok(sound)
}

fn told(bad: &BadReadings) -> Result<(), String> {
    let silent =
        |fault: &neckwright::measure::Fault| !fault.path.contains("line ") || fault.reason.is_empty();
    if bad.error.faults().is_empty() || bad.error.faults().iter().any(silent) {
        return Err(format!("has bad readings and does not say where: {}", bad.error));
    }
    if bad.bad_lines().any(|line| line == 0) || !bad.bad.is_sorted() {
        return Err(format!("has bad lines {:?}", bad.bad));
    }
    Ok(())
}

fn good(readings: &Readings) -> Result<(), String> {
    for back in [Readings::from_csv(&readings.to_csv()), Readings::from_json(&readings.to_json())] {
        let back = back.map_err(|bad| format!("has readings that do not read back: {bad}"))?;
        let same = readings.iter().zip(&back).all(|(a, b)| {
            let bits = |r: &neckwright::inspect::Reading| [r.value_mm.to_bits(), r.uncertainty_mm.to_bits()];
            a.at == b.at && a.measured == b.measured && bits(a) == bits(b)
        });
        if back.len() != readings.len() || !same {
            return Err("has readings that read back as others".to_owned());
        }
    }
    let Some(neck) = NECK.as_ref() else { return Err("finds no default neck".to_owned()) };
    match readings.check_on(neck) {
        Err(bad) if bad.good.len() + bad.bad.len() != readings.len() => Err("loses readings".to_owned()),
        Err(bad) => told(&bad),
        Ok(()) => Ok(()),
    }
}
