//! Everything that can be asked of a specification: what the fuzzed documents are put through.

use neckwright::spec::Specification;

/// Asks everything of a specification that was accepted. A fault is a good answer; a number that is none is not.
///
/// # Errors
/// - an answer that no input may lead to, in words.
pub fn everything(specification: &Specification) -> Result<(), String> {
    let again = Specification::from_json(&specification.to_json());
    match again {
        Ok(again) if again == *specification => {}
        Ok(_) => return Err("reads back as another specification".to_owned()),
        Err(error) => return Err(format!("does not read back: {error}")),
    }
    // The neck itself and its readings come here.
    Ok(())
}

/// Whether every number is one.
///
/// # Errors
/// - the first that is not, with its place.
pub fn finite(name: &str, values: &[f64]) -> Result<(), String> {
    match values.iter().position(|v| !v.is_finite()) {
        Some(i) => Err(format!("{name}[{i}] is {}", values[i])),
        None => Ok(()),
    }
}
