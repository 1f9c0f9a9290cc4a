//! Writes what Rust's functions give for a handful of necks, for those of C to be held against: `neckwright-c-agreement FILE`.
//!
//! `../agreement.c` says what the lines mean, calls the functions and compares to the last bit. Nothing here goes by way of the library
//! for C. A function of the header for which nothing is written here fails that test.

mod bench;
mod copies;
mod documents;
mod drawings;
mod necks;
mod plans;
mod script;
mod sections;
mod solids;
mod tables;

use neckwright::shape::Neck;
use script::Script;

/// Of either hand, with one scale and with two, alike on both sides and not, with and without rod, volute and tilted headstock.
const NECKS: [(&str, &str); 4] = [
    ("class", include_str!("../../../../core/examples/neck_book/evening_class.json")),
    (
        "fanned",
        r#"{"scale": {"bass": 660, "treble": 640, "square_fret": 7}, "strings": {"count": 7},
            "headstock": {"kind": "angled", "angle": 12}, "volute": {"height": 2.5, "roundness": 0.8}}"#,
    ),
    (
        "left",
        r#"{"hand": "left", "scale": {"length": 640}, "frets": {"count": 24},
            "shaft": {"profile": [{"at": "fret 1", "shape": "soft V", "treble": {"shoulder": 0.62}},
                                  {"at": "fret 12", "shape": "D"}],
                      "treble_carve_line": [{"at": "nut", "depth": 5}, {"at": "fret 12", "depth": 6}]}}"#,
    ),
    ("without", r#"{"rod": {"fitted": false}, "scale": {"length": 610}}"#),
];

fn main() -> std::process::ExitCode {
    let Some(path) = std::env::args().nth(1) else {
        eprintln!("usage: neckwright-c-agreement FILE");
        return std::process::ExitCode::from(2);
    };
    let mut script = Script::default();
    let out = &mut script;
    tables::all(out);
    documents::all(out);
    for (name, json) in NECKS {
        let neck = Neck::from_json(json).unwrap_or_else(|e| panic!("{name}: {e}"));
        out.call("nw_neck_from_json").text_of("json", json).keeps("neck_out", name);
        necks::all(out, name, &neck);
        sections::all(out, name, &neck);
        drawings::of_neck(out, name, &neck);
        solids::of_neck(out, name, &neck);
        plans::all(out, name, &neck);
    }
    necks::compared(out, NECKS[0], NECKS[2]);
    bench::all(out, NECKS[0]);
    copies::all(out, NECKS[0]);
    if let Err(e) = std::fs::write(&path, script.text()) {
        eprintln!("{path}: {e}");
        return std::process::ExitCode::FAILURE;
    }
    std::process::ExitCode::SUCCESS
}
