//! Every public function of the core is reachable from C, or the list `reach.txt` says why not.

use neckwright_sources::{Crate, Line, read_list, words};
use std::collections::BTreeSet;
use std::path::PathBuf;

#[test]
fn every_public_function_is_reachable_or_says_why_not() {
    let package = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let functions = Crate::read(&package.join("../core/src")).public_functions();
    // What the sources are read for is found: a function, a method in another file than its type, a method of a macro.
    for known in [
        "layout::fret_positions_mm",
        "shape::Neck::carving_plan",
        "shape::Neck::thickness_mm",
        "macro options::bounds",
    ] {
        assert!(functions.contains_key(known), "{known} was not found");
    }
    let list = std::fs::read_to_string(package.join("tests/reach.txt")).unwrap();
    let header = std::fs::read_to_string(package.join("include/neckwright.h")).unwrap();
    let declared: BTreeSet<&str> = words(&header).filter(|word| word.starts_with("nw_")).collect();
    let names =
        std::fs::read_to_string(package.join("../core/tests/snapshots/results__the_names_of_results.snap"));
    let names = names.unwrap();

    let lines = read_list(&list);
    let mut used = BTreeSet::new();
    let mut wrong = Vec::new();
    for function in functions.keys() {
        match lines.iter().find(|line| line.what == function) {
            Some(line) => drop(used.insert(line.number)),
            None => wrong.push(format!("{function} is not in the list")),
        }
    }
    for line in &lines {
        let Line { number, what, how } = line;
        if !used.contains(number) {
            wrong.push(format!("line {number}: {what} is no public function"));
        }
        let missing = |word: &&str| {
            // `nw_plan_wood_*` stands for a family.
            let family = word.ends_with('_') && declared.iter().any(|d| d.starts_with(word));
            word.starts_with("nw_") && !declared.contains(word) && !family
        };
        for name in words(how).filter(missing) {
            wrong.push(format!("line {number}: the header has no {name}"));
        }
        let fields =
            how.split_whitespace().filter_map(|word| word.trim_end_matches([',', ';']).strip_prefix('/'));
        for field in fields.filter(|field| !names.contains(&format!("/{field}: "))) {
            wrong.push(format!("line {number}: no document has a field {field}"));
        }
    }
    let twice = lines.windows(2).filter(|pair| pair[0].what == pair[1].what);
    wrong.extend(twice.map(|pair| format!("line {}: {} twice", pair[1].number, pair[1].what)));
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
