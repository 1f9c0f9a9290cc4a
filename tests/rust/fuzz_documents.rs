//! Puts damaged, extreme and merely unusual documents through the library:
//!
//!     cargo run --release -p neckwright-cases --bin fuzz_documents -- COUNT [SEED]
//!
//! It fails where a document makes the library panic, gives a number that is none, or takes longer than `LIMIT`.
//! What failed, and the slowest document, are kept in `target/tests/documents`.
#![forbid(unsafe_code)]

use neckwright::spec::Specification;
use neckwright_cases::{Dice, Reached, damage, everything};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::time::{Duration, Instant};

/// The longest that one document may take.
const LIMIT: Duration = Duration::from_millis(50);

/// Documents to begin with, beside random ones.
const PLAIN: &[&str] = &[
    "{}",
    r#"{"scale": {"length": "640 mm"}}"#,
    r#"{"scale": {"bass": "27 in", "treble": "25 1/2 in"}, "hand": "left"}"#,
    r#"{"scale": {"length": 628.65}, "shaft": {"thickness": [{"at": "fret 1", "thickness": "0.82 in"}, {"at": "fret 12", "thickness": 23.5}]}}"#,
];

/// What the library made of a document.
enum Answer {
    Refused,
    Accepted(Reached),
}

fn put_through(text: &str) -> Result<Answer, String> {
    let work = || match Specification::from_json(text) {
        Ok(specification) => everything(&specification).map(Answer::Accepted),
        Err(error) if error.faults().is_empty() || error.to_string().is_empty() => {
            Err("says nothing".to_owned())
        }
        Err(_) => Ok(Answer::Refused),
    };
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err("panics; the message is above".to_owned()))
}

fn document(dice: &mut Dice) -> String {
    // Most as a builder might write them, so that what comes after reading is reached too.
    let mut text = match dice.below(8) {
        0 => PLAIN[dice.below(PLAIN.len())].to_owned(),
        1 | 2 => Specification::random(&mut || dice.roll()).to_json(),
        _ => Specification::plausible(&mut || dice.roll()).to_json(),
    };
    for _ in 0..dice.below(5) {
        damage(&mut text, dice);
    }
    text
}

fn keep(name: &str, text: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../target/tests/documents");
    let path = folder.join(name);
    match std::fs::create_dir_all(&folder).and_then(|()| std::fs::write(&path, text)) {
        Ok(()) => format!("target/tests/documents/{name}"),
        Err(error) => format!("not kept: {error}"),
    }
}

fn main() {
    let mut arguments = std::env::args().skip(1).map(|a| a.parse::<u64>());
    let (Some(Ok(count)), Some(Ok(seed)), None) =
        (arguments.next(), arguments.next().or(Some(Ok(1))), arguments.next())
    else {
        eprintln!("fuzz_documents COUNT [SEED]");
        std::process::exit(2);
    };
    let mut dice = Dice::new(seed);
    let (mut necks, mut specifications, mut refused, mut failed) = (0u64, 0u64, 0u64, 0u64);
    let mut slowest = (Duration::ZERO, String::new());
    for i in 0..count {
        let text = document(&mut dice);
        let begun = Instant::now();
        let answer = put_through(&text);
        let mut took = begun.elapsed();
        if took > LIMIT {
            // Something else may have held up the machine: the document is only slow if it is so every time.
            for _ in 0..3 {
                let begun = Instant::now();
                let _ = put_through(&text);
                took = took.min(begun.elapsed());
            }
        }
        let answer = if took > LIMIT { answer.and(Err(format!("takes {took:?}"))) } else { answer };
        match answer {
            Ok(Answer::Accepted(Reached::Neck)) => necks += 1,
            Ok(Answer::Accepted(Reached::Specification)) => specifications += 1,
            Ok(Answer::Refused) => refused += 1,
            Err(what) => {
                failed += 1;
                println!("document {i} {what}: {}", keep(&format!("failed_{i}.json"), &text));
            }
        }
        if took > slowest.0 {
            slowest = (took, text);
        }
    }
    println!("{necks} necks, {specifications} specifications of none, {refused} refused, seed {seed}");
    println!("slowest: {:?}, {}", slowest.0, keep("slowest.json", &slowest.1));
    if count >= 1000 && necks < count / 10 {
        failed += 1;
        println!("too few documents made a neck");
    }
    println!("{count} documents, {failed} failed");
    std::process::exit(i32::from(failed > 0));
}
