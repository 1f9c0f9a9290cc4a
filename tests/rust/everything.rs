//! Everything that can be asked of a specification: what the fuzzed documents are put through.

use crate::{neck, sound};
use neckwright::shape::Neck;
use neckwright::spec::Specification;

/// How far a neck came.
pub enum Reached {
    /// The specification makes no neck.
    Specification,
    /// The neck was built and asked everything.
    Neck,
}

/// Asks everything of a specification that was accepted. A fault is a good answer; a number that is none is not.
///
/// # Errors
/// - an answer that no input may lead to, in words.
pub fn everything(specification: &Specification) -> Result<Reached, String> {
    match Specification::from_json(&specification.to_json()) {
        Ok(again) if again == *specification => {}
        Ok(_) => return Err("reads back as another specification".to_owned()),
        Err(error) => return Err(format!("does not read back: {error}")),
    }
    build(specification, neck::ask)
}

/// Builds the neck and asks it only for its card and its least values: much quicker, for very many documents.
///
/// # Errors
/// - as [`everything`].
pub fn the_least(specification: &Specification) -> Result<Reached, String> {
    build(specification, |neck| {
        sound("caliper card", &neck.caliper_card())?;
        neck::proven_near(neck)
    })
}

fn build(
    specification: &Specification,
    ask: impl Fn(&Neck) -> Result<(), String>,
) -> Result<Reached, String> {
    match Neck::new(specification) {
        Ok(neck) => ask(&neck).map(|()| Reached::Neck),
        Err(error) => match error.faults().iter().find(|f| f.path.is_empty() || f.reason.is_empty()) {
            None if !error.faults().is_empty() => Ok(Reached::Specification),
            _ => Err(format!("makes no neck and does not say why: {error}")),
        },
    }
}
