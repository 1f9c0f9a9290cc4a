//! Puts damaged, extreme and merely unusual documents through the library:
//!
//!     cargo run --release --bin fuzz_documents -- COUNT [SEED [ONE_IN]]
//!     cargo run --release --bin fuzz_documents -- FILE...
//!
//! Every document is read as a specification, as a stock and as readings, CSV and JSON. Every neck is asked for its card and its least values, and one in `ONE_IN` (1 unless given) for everything else.
//! With files instead of a count it puts those through, each with its time. It fails where a document makes the library panic, gives a number that is none, or takes longer than `LIMIT`.
//! What failed, and the slowest document, are kept in `target/tests/documents`.
#![forbid(unsafe_code)]

use neckwright::measure::Error;
use neckwright::spec::{Specification, Stock};
use neckwright_cases::{
    Dice, Reached, damage, everything, everything_of_a_stock, everything_of_readings, plain_readings,
    the_least,
};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::time::{Duration, Instant};

/// The longest that one document may take.
const LIMIT: Duration = Duration::from_secs(3);

/// Documents to begin with, beside random ones.
const PLAIN: &[&str] = &[
    "{}",
    r#"{"scale": {"length": "640 mm"}}"#,
    r#"{"scale": {"bass": "27 in", "treble": "25 1/2 in"}, "hand": "left"}"#,
    r#"{"scale": {"length": 628.65}, "shaft": {"thickness": [{"at": "fret 1", "thickness": "0.82 in"}, {"at": "fret 12", "thickness": 23.5}]}}"#,
    r#"{"construction": "scarf", "thickness": 22, "heel_block": {"made": "glued on", "length": 90}}"#,
    r#"{"construction": "scarf", "allowances": {"saw": "1/16 in"}, "cutter": {"radius": "7/8 in"}, "sanding": {"grits": [60, 120]}}"#,
];

/// What the library made of a document.
enum Answer {
    Refused,
    Accepted(Reached),
    Stock,
    Readings,
}

fn put_through(text: &str, whole: bool) -> Result<Answer, String> {
    let ask = if whole { everything } else { the_least };
    let refused = |error: Error| {
        let silent = error.faults().is_empty() || error.to_string().is_empty();
        if silent { Err("says nothing".to_owned()) } else { Ok(Answer::Refused) }
    };
    let work = || {
        if everything_of_readings(text)? > 0 {
            return Ok(Answer::Readings);
        }
        let stock = match Stock::from_json(text) {
            Ok(stock) => everything_of_a_stock(&stock).map(|()| Answer::Stock)?,
            Err(error) => refused(error)?,
        };
        match Specification::from_json(text) {
            Ok(specification) => ask(&specification).map(Answer::Accepted),
            Err(error) => refused(error).map(|_| stock),
        }
    };
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err("panics; the message is above".to_owned()))
}

fn document(dice: &mut Dice) -> String {
    // Most as a builder might write them, so that what comes after reading is reached too.
    let mut text = match dice.below(11) {
        10 => plain_readings(dice),
        0 => PLAIN[dice.below(PLAIN.len())].to_owned(),
        1 | 2 => Specification::random(&mut || dice.roll()).to_json(),
        3 => Stock::random(&mut || dice.roll()).to_json(),
        4 => Stock::plausible(&mut || dice.roll()).to_json(),
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

/// What became of a document, and how long it took. Something else may have held up the machine: the document is only
/// slow if it is so every time.
fn timed(text: &str, whole: bool) -> (Result<Answer, String>, Duration) {
    let begun = Instant::now();
    let answer = put_through(text, whole);
    let mut took = begun.elapsed();
    for _ in 0..5 {
        if took <= LIMIT {
            return (answer, took);
        }
        std::thread::sleep(LIMIT);
        let begun = Instant::now();
        let _ = put_through(text, whole);
        took = took.min(begun.elapsed());
    }
    (if took > LIMIT { answer.and(Err(format!("takes {took:?}"))) } else { answer }, took)
}

/// Puts the documents of some files through and tells of each; the count of those that failed.
fn replay(files: &[String]) -> usize {
    let mut failed = 0;
    for file in files {
        let told = match std::fs::read_to_string(file) {
            Ok(text) => {
                let (answer, took) = timed(&text, true);
                let (good, what) = match answer {
                    Ok(Answer::Accepted(Reached::Neck)) => (true, "a neck".to_owned()),
                    Ok(Answer::Accepted(Reached::Specification)) => (true, "no neck".to_owned()),
                    Ok(Answer::Stock) => (true, "a stock".to_owned()),
                    Ok(Answer::Readings) => (true, "readings".to_owned()),
                    Ok(Answer::Refused) => (true, "refused".to_owned()),
                    Err(what) => (false, what),
                };
                failed += usize::from(!good);
                format!("{what} ({took:?})")
            }
            Err(error) => {
                failed += 1;
                error.to_string()
            }
        };
        println!("{file}: {told}");
    }
    failed
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let numbers: Result<Vec<u64>, _> = arguments.iter().map(|a| a.parse()).collect();
    let (count, seed, one_in, half) = match numbers.as_deref() {
        Ok([count]) => (*count, 1, 1, None),
        Ok([count, seed]) => (*count, *seed, 1, None),
        Ok([count, seed, one_in]) => (*count, *seed, (*one_in).max(1), None),
        Ok([count, seed, one_in, half]) => (*count, *seed, (*one_in).max(1), Some(*half)),
        Ok(_) => {
            eprintln!(
                "fuzz_documents COUNT [SEED [ONE_IN [HALF]]] or fuzz_documents FILE...; HALF is 0 or 1"
            );
            std::process::exit(2);
        }
        Err(_) => std::process::exit(i32::from(replay(&arguments) > 0)),
    };
    let mut dice = Dice::new(seed);
    let (mut necks, mut specifications, mut stocks, mut refused, mut failed) = (0u64, 0u64, 0u64, 0u64, 0u64);
    let mut readings = 0_u64;
    let mut slowest = (Duration::ZERO, String::new());
    for i in 0..count {
        let text = document(&mut dice);
        // As many that are asked everything in either half.
        if half.is_some_and(|half| i / one_in % 2 != half) {
            continue;
        }
        let (answer, took) = timed(&text, i % one_in == 0);
        match answer {
            Ok(Answer::Accepted(Reached::Neck)) => necks += 1,
            Ok(Answer::Accepted(Reached::Specification)) => specifications += 1,
            Ok(Answer::Stock) => stocks += 1,
            Ok(Answer::Readings) => readings += 1,
            Ok(Answer::Refused) => refused += 1,
            Err(what) => {
                failed += 1;
                println!("document {i} {what}: {}", keep(&format!("failed_{seed}_{i}.json"), &text));
            }
        }
        if took > slowest.0 {
            slowest = (took, text);
        }
    }
    println!(
        "{necks} necks, {specifications} specifications of none, {stocks} stocks, {readings} of readings, {refused} refused, seed {seed}"
    );
    println!(
        "slowest: {:?}, {}",
        slowest.0,
        keep(&format!("slowest_{seed}_{}.json", half.unwrap_or(0)), &slowest.1)
    );
    let count = if half.is_some() { count / 2 } else { count };
    if count >= 1000 && (necks < count / 10 || stocks < count / 40 || readings < count / 100) {
        failed += 1;
        println!("too few documents made a neck, a stock or readings");
    }
    println!("{count} documents, {failed} failed");
    std::process::exit(i32::from(failed > 0));
}
