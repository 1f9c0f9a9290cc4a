//! No text may cost more than 50 ms or 50 MB, whatever it says (the time in a release build:
//! `cargo test --release --test spec_hostile`).

mod counting;
mod documents;

use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

use counting::{MOST, USED};
use documents::Document;
use neckwright::measure::MAX_FAULTS;
use neckwright::spec::{MAX_DOCUMENT_BYTES, Specification, Stock};

/// As many `part`s as fit between `head` and `tail` in a document of the greatest length.
fn filled(head: &str, part: impl Fn(usize) -> String, tail: &str) -> String {
    let mut text = String::from(head);
    for index in 0.. {
        let part = part(index);
        if text.len() + part.len() + tail.len() > MAX_DOCUMENT_BYTES {
            break;
        }
        text += &part;
    }
    text + tail
}

fn documents() -> Vec<(&'static str, String)> {
    let same = |part: &'static str| move |_| part.to_string();
    vec![
        ("brackets", filled("", same("["), "")),
        ("braces", filled("", same("{\"\":"), "")),
        ("zeros", filled("[", same("0,"), "0]")),
        ("zeros in a field", filled("{\"frets\":{\"cents\":[", same("0,"), "0]}}")),
        ("zeros in an unknown field", filled("{\"a\":[", same("0,"), "0]}")),
        ("empty objects in a field", filled("{\"shaft\":{\"thickness\":[", same("{},"), "{}]}}")),
        ("wrong entries", filled("{\"shaft\":{\"profile\":[", same("{\"at\":9e9,\"b\":1},"), "{}]}}")),
        ("many grits", filled("{\"sanding\":{\"grits\":[", same("60,"), "60]}}")),
        ("many steps", filled("{\"order\":[", same("\"sanding\","), "\"blank\"]}")),
        ("a long step", filled("{\"order\":[\"", same("s"), "\"]}")),
        ("many depths", filled("{\"saw\":{\"shaft_line\":[", same("{\"at\":9e9},"), "{}]}}")),
        ("empty lists", filled("[", same("[],"), "[]]")),
        ("lists in lists", filled("[", |_| "[".repeat(100) + &"]".repeat(100) + ",", "0]")),
        ("empty texts", filled("[", same("\"\","), "0]")),
        ("short keys", filled("{", |index| format!("\"{index:x}\":0,"), "\"z\":0}")),
        ("the same key", filled("{", same("\"a\":0,"), "\"a\":0}")),
        ("the same known key", filled("{", same("\"nut\":{},"), "\"nut\":{}}")),
        (
            "nearly known keys",
            filled("{\"nut\":{", |index| format!("\"widt{}\":0,", index % 10), "\"w\":0}}"),
        ),
        (
            "keys of 32 letters",
            filled(
                "{\"fretboard\":{",
                |index| format!("\"straight_under_strungs{index:010}\":0,"),
                "\"w\":0}}",
            ),
        ),
        ("one long key", filled("{\"", same("a"), "\":0}")),
        ("long keys", filled("{", |index| format!("\"{}{index}\":0,", "k".repeat(1000)), "\"z\":0}")),
        ("long keys in the depth", filled("", |_| format!("{{\"{}\":", "k".repeat(2000)), "")),
        ("the same long keys in the depth", {
            let key = "k".repeat(1000);
            let inner = format!("{{{}\"z\":0}}", format!("\"{key}\":0,").repeat(100));
            (0..100).fold(inner, |inner, _| format!("{{\"{key}\":{inner}}}"))
        }),
        ("one long text", filled("{\"name\":\"", same("n"), "\"}")),
        ("a long length", filled("{\"nut\":{\"width\":\"", same("9"), "\"}}")),
        ("a long length of spaces", filled("{\"nut\":{\"width\":\"", same(" "), "\"}}")),
        ("a long fret", filled("{\"rod\":{\"start\":\"fret ", same("9"), "\"}}")),
        ("a long choice", filled("{\"hand\":\"", same("r"), "\"}")),
        ("a long number", filled("{\"nut\":{\"width\":", same("9"), "}}")),
        ("a long fraction", filled("{\"nut\":{\"width\":0.", same("9"), "}}")),
        ("numbers that take long to read", filled("[", same("2.2250738585072011e-308,"), "0]")),
        ("a huge exponent", "{\"nut\":{\"width\":1e400}}".into()),
        ("a huge exponent in the small", "{\"nut\":{\"width\":1e-400}}".into()),
        ("a huger exponent", filled("{\"nut\":{\"width\":1e", same("9"), "}}")),
        ("escapes", filled("{\"name\":\"", same("\\u0000"), "\"}")),
        ("half a pair of surrogates", filled("{\"name\":\"", same("\\ud800"), "\"}")),
        ("marks above", filled("{\"name\":\"", same("\u{301}"), "\"}")),
        ("spaces", filled("", same(" "), "{}")),
        ("no text at all", filled("", same(" "), "")),
        ("byte order marks", filled("", same("\u{feff}"), "{}")),
        ("too long by one", " ".repeat(MAX_DOCUMENT_BYTES) + "0"),
        ("far too long", "[".repeat(64 * MAX_DOCUMENT_BYTES)),
    ]
}

/// One test only: what another one allocates at the same time would be counted too.
#[test]
fn no_text_costs_much() {
    for (name, text) in documents() {
        costs_little::<Specification>(name, &text);
        costs_little::<Stock>(name, &text);
    }
}

fn costs_little<D: Document>(name: &str, text: &str) {
    let name = format!("{name} as a {}", D::NAME);
    let mut least = Duration::MAX;
    // The least of three, because other programs run on the same machine.
    for _ in 0..3 {
        let before = USED.load(Ordering::Relaxed);
        MOST.store(before, Ordering::Relaxed);
        let start = Instant::now();
        let read = D::from_json(text);
        let message = read.as_ref().err().map(ToString::to_string);
        least = least.min(start.elapsed());
        let most = MOST.load(Ordering::Relaxed) - before;
        assert!(most < 50_000_000, "{name}: {most} bytes");
        if let (Err(error), Some(message)) = (read, message) {
            assert!(error.faults().len() <= MAX_FAULTS, "{name}");
            assert!(message.len() < 60_000, "{name}: a message of {} bytes", message.len());
            let long = error.faults().iter().map(|fault| fault.to_string().len()).max();
            assert!(long < Some(2000), "{name}: a fault of {long:?} bytes");
        }
        println!("{name}: {} kB, {:?}", most / 1000, start.elapsed());
    }
    // Without optimisation everything takes several times as long.
    let limit = Duration::from_millis(if cfg!(debug_assertions) { 250 } else { 50 });
    assert!(least < limit, "{name}: {least:?}");
}
