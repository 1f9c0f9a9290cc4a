//! Compares what an operation gives with what its case expects.

use crate::{Case, Expected, ExpectedFault, Outcome, Outputs, perform};
use neckwright::measure::Error;

/// Runs a case. With `pinned`, the bits and the messages have to be there and to agree.
///
/// # Errors
/// - what differs, one line each.
pub fn check(case: &Case, pinned: bool) -> Result<(), Vec<String>> {
    let answer = perform(case).map_err(|e| vec![e])?;
    let differences = match (&case.outcome, &answer) {
        (Outcome::Values(expected), Ok(outputs)) => compare_values(expected, outputs, pinned),
        (Outcome::Faults(expected), Err(error)) => compare_faults(expected, error, pinned),
        (Outcome::Values(_), Err(error)) => vec![format!("unexpected fault: {error}")],
        (Outcome::Faults(_), Ok(_)) => vec!["a fault was expected".to_owned()],
    };
    if differences.is_empty() { Ok(()) } else { Err(differences) }
}

fn compare_values(expected: &[Expected], outputs: &Outputs, pinned: bool) -> Vec<String> {
    let mut differences = Vec::new();
    for result in expected {
        let name = &result.name;
        let Some((_, values)) = outputs.iter().find(|(n, _)| n == name) else {
            differences.push(format!("no result {name}"));
            continue;
        };
        if values.len() != result.values.len() {
            differences.push(format!("{name}: {} values instead of {}", values.len(), result.values.len()));
            continue;
        }
        for (i, (got, want)) in values.iter().zip(&result.values).enumerate() {
            // Written so that a result that is no number fails.
            let near = (got - want).abs() <= result.tolerance;
            if !near {
                let (unit, tolerance) = (&result.unit, result.tolerance);
                differences.push(format!("{name}[{i}]: {got} instead of {want} {unit} within {tolerance}"));
            }
        }
        if pinned {
            let bits: Vec<u64> = values.iter().map(|v| v.to_bits()).collect();
            match &result.bits {
                None => differences.push(format!("{name}: no bits; see tests/README.md")),
                Some(want) if want.len() != bits.len() => {
                    differences.push(format!("{name}: {} bits for {} values", want.len(), bits.len()));
                }
                Some(want) => {
                    for (i, (got, want)) in bits.iter().zip(want).enumerate().filter(|(_, (a, b))| a != b) {
                        differences
                            .push(format!("{name}[{i}]: other bits: {got:016x} instead of {want:016x}"));
                    }
                }
            }
        }
    }
    differences
}

fn compare_faults(expected: &[ExpectedFault], error: &Error, pinned: bool) -> Vec<String> {
    let mut differences = Vec::new();
    if error.faults().len() != expected.len() {
        differences.push(format!("{} faults instead of {}: {error}", error.faults().len(), expected.len()));
        return differences;
    }
    for (got, want) in error.faults().iter().zip(expected) {
        if got.kind.name() != want.kind || got.path != want.path {
            differences.push(format!("fault {} {:?}: {got}", got.kind.name(), got.path));
        }
        if pinned {
            let message = got.to_string();
            match &want.message {
                None => differences.push(format!("no message of {:?}; see tests/README.md", got.path)),
                Some(want) if *want != message => differences.push(format!("other message: {message}")),
                Some(_) => {}
            }
        }
    }
    differences
}
