//! Everything that can be asked of a specification: what the fuzzed documents are put through.

use crate::{Dice, carve, inspect, neck, sheets, solids, sound, templates};
use neckwright::measure::Error;
use neckwright::shape::Neck;
use neckwright::spec::{Specification, Stock};

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
    let text = specification.to_json();
    reads_back(specification, Specification::from_json(&text))?;
    build(specification, |neck| {
        neck::ask(neck)?;
        sheets::ask(neck)?;
        inspect::ask(neck)?;
        templates::ask(neck)?;
        let mut dice = dice_of(&text);
        if dice.below(SOLIDS_ONE_IN) == 0 {
            solids::ask(neck, &mut dice)?;
        }
        carve::ask(neck, &Stock::default())?;
        drawn(&text).map_or(Ok(()), |stock| carve::ask(neck, &stock))
    })
}

/// Of how many necks one is asked for its solids.
const SOLIDS_ONE_IN: usize = 32;

/// What is drawn for a document is drawn from the document itself, so that put through again it meets the same.
fn dice_of(text: &str) -> Dice {
    let hashed =
        text.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x100_0000_01b3));
    Dice::new(hashed)
}

/// For one document in some a stock that is as odd as the neck may be.
fn drawn(text: &str) -> Option<Stock> {
    const ONE_IN: usize = 4;
    let mut dice = dice_of(text);
    if dice.below(ONE_IN) > 0 {
        return None;
    }
    let any = Stock::random(&mut || dice.roll());
    Some(match dice.below(4) {
        0 => any,
        1 => Stock::plausible(&mut || dice.roll()),
        // Timber that fits, so that the plan comes as far as the tools.
        2 => Stock { cutter: any.cutter, facets: any.facets, ..Stock::default() },
        _ => {
            let mut cutter = any.cutter;
            cutter.radius = None;
            Stock { cutter, facets: any.facets, ..Stock::default() }
        }
    })
}

/// Asks everything of a stock that was accepted.
///
/// # Errors
/// - as [`everything`].
pub fn everything_of_a_stock(stock: &Stock) -> Result<(), String> {
    reads_back(stock, Stock::from_json(&stock.to_json()))?;
    let usual = Stock { order: Some(stock.usual_order()), ..stock.clone() };
    usual.check().map_err(|error| format!("has a usual order that is refused: {error}"))?;
    let neck = Neck::new(&Specification::default()).map_err(|error| format!("no default neck: {error}"))?;
    carve::ask(&neck, stock)
}

fn reads_back<D: PartialEq>(document: &D, again: Result<D, Error>) -> Result<(), String> {
    match again {
        Ok(again) if again == *document => Ok(()),
        Ok(_) => Err("reads back as another document".to_owned()),
        Err(error) => Err(format!("does not read back: {error}")),
    }
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
