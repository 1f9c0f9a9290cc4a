//! Densities of woods.

use alloc::string::String;
use alloc::vec::Vec;

use crate::spec::nearest;

/// Specific gravity at 12 % moisture content (oven-dry weight, volume at 12 %): USDA Forest Products
/// Laboratory, Wood Handbook, FPL-GTR-282 (2021), Table 5-3a for the domestic woods. The imported woods are
/// those of Table 5-5a, whose specific gravity is on the green volume, so that they come out a little light.
const SPECIFIC_GRAVITY: [(&str, f64); 11] = [
    ("maple, sugar", 0.63),
    ("cherry, black", 0.50),
    ("ash, white", 0.60),
    ("yellow-poplar", 0.42),
    ("birch, yellow", 0.62),
    ("walnut, black", 0.55),
    ("mahogany, true", 0.45),
    ("spanish-cedar", 0.41),
    ("rosewood, indian", 0.75),
    ("purpleheart", 0.67),
    ("sapele", 0.55),
];

/// Density of air-dry wood at 12 % moisture content, kg/m³: specific gravity × 1.12 × 1000, the weight of the
/// water being counted in. `None` for a species that the table does not have. A board can differ by a fifth
/// from the mean of its species: weigh it where it matters.
#[must_use]
pub fn density_kg_m3(species: &str) -> Option<f64> {
    let row = SPECIFIC_GRAVITY.iter().find(|(name, _)| name.eq_ignore_ascii_case(species.trim()))?;
    Some(row.1 * 1.12 * 1000.0)
}

/// The known species that a name may stand for: those that have each of its words, but for slips of the pen.
pub(super) fn meant(species: &str) -> impl Iterator<Item = &'static str> {
    let words = |text: &str| -> Vec<String> {
        let words = text.split(|c: char| !c.is_alphanumeric());
        words.filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
    };
    let given = words(species);
    known_species().filter(move |known| {
        let known = words(known);
        let has = |word: &String| nearest(word, known.iter().map(String::as_str)).is_some();
        !given.is_empty() && given.iter().all(has)
    })
}

/// The species whose density is known.
pub fn known_species() -> impl Iterator<Item = &'static str> {
    SPECIFIC_GRAVITY.iter().map(|(name, _)| *name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_name_may_stand_for() {
        for (name, meant_by_it) in [
            ("cherry", &["cherry, black"] as &[_]),
            ("Black Cherry", &["cherry, black"]),
            ("mahagony", &["mahogany, true"]),
            ("sugar maple", &["maple, sugar"]),
            ("black", &["cherry, black", "walnut, black"]),
            ("ironwood", &[]),
            ("cherry, sweet", &[]),
            (", ", &[]),
        ] {
            assert_eq!(meant(name).collect::<Vec<_>>(), meant_by_it, "{name}");
        }
    }
}
