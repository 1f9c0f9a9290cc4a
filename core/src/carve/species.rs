//! Woods that call for care: those known to sensitise, and those whose trade is watched.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::measure::quoted;

/// Woods known to irritate or to sensitise skin, eyes or lungs, each as the words that its name has, in any order.
/// Common knowledge of the workshop: lists differ, and none is complete.
const SENSITISING: &[&[&str]] = &[
    &["rosewood"],
    &["dalbergia"],
    &["palisander"],
    &["cocobolo"],
    &["kingwood"],
    &["tulipwood"],
    &["blackwood"],
    &["western", "red", "cedar"],
    &["western", "redcedar"],
    &["thuja", "plicata"],
    &["padauk"],
    &["padouk"],
    &["wenge"],
    &["wengé"],
    &["ebony"],
    &["diospyros"],
    &["pau", "ferro"],
    &["morado"],
    &["iroko"],
    &["mansonia"],
    &["makore"],
    &["bubinga"],
    &["satinwood"],
    &["snakewood"],
    &["zebrawood"],
    &["zebrano"],
    &["goncalo", "alves"],
    &["gonçalo", "alves"],
    &["purpleheart"],
    &["teak"],
    &["mahogany"],
    &["sapele"],
    &["walnut"],
    &["yew"],
    &["spalted"],
];

/// Names under which trees of the genus Dalbergia are sold.
const DALBERGIA: &[&[&str]] = &[
    &["rosewood"],
    &["dalbergia"],
    &["palisander"],
    &["cocobolo"],
    &["kingwood"],
    &["tulipwood", "brazilian"],
    &["blackwood", "african"],
    &["grenadilla"],
];

/// Names of Dalbergia nigra.
const NIGRA: &[&[&str]] = &[
    &["dalbergia", "nigra"],
    &["d", "nigra"],
    &["rosewood", "brazilian"],
    &["rosewood", "brazil"],
    &["rosewood", "rio"],
    &["jacaranda", "bahia"],
];

/// Names under which further trees are sold of which some kinds or origins are in the appendices of CITES (memory).
const WATCHED: &[&[&str]] = &[
    &["bubinga"],
    &["guibourtia"],
    &["mahogany"],
    &["swietenia"],
    &["khaya"],
    &["spanish", "cedar"],
    &["cedrela"],
    &["padauk"],
    &["padouk"],
    &["pterocarpus"],
    &["ebony", "madagascar"],
    &["lignum", "vitae"],
    &["pernambuco"],
    &["brazilwood"],
];

/// How far the trade in a wood is watched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Watch {
    /// A rosewood, Dalbergia nigra or perhaps so.
    Nigra,
    /// Another rosewood.
    Dalbergia,
    /// A name of which some kinds or origins are listed.
    Perhaps,
}

/// Whether a wood is known to irritate or to sensitise.
pub(super) fn sensitises(species: &str) -> bool {
    any(SENSITISING, species)
}

/// Whether a wood is western red cedar, which has a limit of its own.
pub(super) fn western_red_cedar(species: &str) -> bool {
    any(&[&["western", "red", "cedar"], &["western", "redcedar"], &["thuja", "plicata"]], species)
}

/// How far its trade is watched, where it is.
pub(super) fn watched(species: &str) -> Option<Watch> {
    if any(NIGRA, species) {
        Some(Watch::Nigra)
    } else if any(DALBERGIA, species) {
        Some(Watch::Dalbergia)
    } else if any(WATCHED, species) {
        Some(Watch::Perhaps)
    } else {
        None
    }
}

/// Whether every word of one of the names is a word of the species, whatever the capitals and the order: the
/// handbook's tables write "rosewood, indian".
fn any(names: &[&[&str]], species: &str) -> bool {
    let lower = species.to_lowercase();
    let has = |word: &str| {
        lower
            .split(|c: char| !c.is_alphanumeric())
            .any(|given| given == word || given.strip_suffix('s').is_some_and(|one| one == word))
    };
    names.iter().any(|name| name.iter().all(|word| has(word)))
}

/// What to say of woods that are known to sensitise.
pub(super) fn sensitising(woods: &[&str]) -> String {
    let is = if woods.len() == 1 { "is" } else { "are" };
    let cedar = if woods.iter().any(|wood| western_red_cedar(wood)) {
        " The dust of western red cedar is known for asthma and has a limit of its own."
    } else {
        ""
    };
    format!(
        "{} {is} among the woods of which it is common knowledge in workshops that they may irritate or sensitise skin, \
         eyes or lungs.{cedar} Cover the skin, wear a mask, wash before eating, and stop at a rash, a running nose or a \
         tight chest: a physician can tell what it is. A wood that is not named here is not harmless for that.",
        named(woods)
    )
}

/// What there is to know before the woods cross a border; `None` where none of them is watched.
pub(super) fn protected(woods: &[&str]) -> Option<String> {
    let of = |watch| woods.iter().copied().filter(|wood| watched(wood) == Some(watch)).collect::<Vec<_>>();
    let mut words = String::new();
    for watch in [Watch::Nigra, Watch::Dalbergia, Watch::Perhaps] {
        let woods = of(watch);
        if woods.is_empty() {
            continue;
        }
        let named = named(&woods);
        words += &match watch {
            Watch::Nigra => format!(
                "{named}: Dalbergia nigra is in CITES Appendix I, and the exception for finished instruments does not \
                 cover it. "
            ),
            Watch::Dalbergia => format!(
                "{named}: rosewoods, the genus Dalbergia, are in CITES Appendix II, D. nigra in Appendix I. Finished \
                 instruments are excepted by annotation #15, blanks may not be. "
            ),
            Watch::Perhaps => format!(
                "{named}: under such a name woods are sold that CITES lists by kind, origin and form, and the name alone \
                 does not settle which. "
            ),
        };
    }
    if words.is_empty() {
        return None;
    }
    words += "Keep the papers of each piece, and ask the national authority before wood or instrument crosses a border.";
    Some(words)
}

/// The woods in quotation marks.
fn named(woods: &[&str]) -> String {
    woods.iter().map(|wood| quoted(wood)).collect::<Vec<_>>().join(" and ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_by_their_words() {
        for (species, sensitising, watch) in [
            ("rosewood, indian", true, Some(Watch::Dalbergia)),
            ("Indian Rosewood", true, Some(Watch::Dalbergia)),
            ("ROSEWOODS", true, Some(Watch::Dalbergia)),
            ("Cocobolo (Dalbergia retusa)", true, Some(Watch::Dalbergia)),
            ("Brazilian rosewood", true, Some(Watch::Nigra)),
            ("rosewood, brazilian", true, Some(Watch::Nigra)),
            ("dalbergia NIGRA", true, Some(Watch::Nigra)),
            ("D. nigra", false, Some(Watch::Nigra)),
            ("african blackwood", true, Some(Watch::Dalbergia)),
            ("blackwood, tasmanian", true, None),
            ("cedar, western red", true, None),
            ("western redcedar", true, None),
            ("cedar, eastern red", false, None),
            ("ebony", true, None),
            ("Ebony, Madagascar", true, Some(Watch::Perhaps)),
            ("wengé", true, None),
            ("Pau-ferro", true, None),
            ("mahogany, true", true, Some(Watch::Perhaps)),
            ("spanish-cedar", false, Some(Watch::Perhaps)),
            ("maple, sugar", false, None),
            ("cherry, black", false, None),
            ("birch, yellow", false, None),
            // Words, not parts of words.
            ("ebonyx", false, None),
            ("steakwood", false, None),
            ("", false, None),
        ] {
            assert_eq!(sensitises(species), sensitising, "{species}");
            assert_eq!(watched(species), watch, "{species}");
        }
        assert!(western_red_cedar("Western Red Cedar") && western_red_cedar("cedar, western red"));
        assert!(!western_red_cedar("cedar, eastern red") && !western_red_cedar("spanish-cedar"));
    }
}
