//! Every text of `bad_readings.txt` is refused, with exactly the messages that stand below it, and the sound readings come
//! back.
//!
//! `REGENERATE=1 cargo test --test inspect_readings_bad` writes the messages anew; read the difference before keeping it.

use std::collections::BTreeSet;
use std::fs;

use neckwright::inspect::{BadReadings, Readings};
use neckwright::measure::Kind;
use neckwright::shape::Neck;
use neckwright::spec::{Radius, Specification};

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bad_readings.txt");

struct Case {
    title: String,
    text: String,
    messages: String,
}

impl Case {
    fn refused(&self) -> Result<Readings, BadReadings> {
        let json = self.title.starts_with("json: ");
        assert!(json || self.title.starts_with("csv: "), "{}", self.title);
        if json { Readings::from_json(&self.text) } else { Readings::from_csv(&self.text) }
    }
}

fn cases(text: &str) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    for line in text.lines() {
        if let Some(title) = line.strip_prefix("## ") {
            cases.push(Case { title: title.into(), text: String::new(), messages: String::new() });
        } else if let Some(case) = cases.last_mut() {
            let (part, line) = match line.strip_prefix("> ") {
                Some(message) => (&mut case.messages, message),
                None if line.is_empty() => continue,
                None => (&mut case.text, line),
            };
            if !part.is_empty() {
                part.push('\n');
            }
            part.push_str(line);
        }
    }
    cases
}

fn all() -> Vec<Case> {
    cases(&fs::read_to_string(FILE).unwrap())
}

/// The messages, and what is left.
fn told(bad: &BadReadings) -> String {
    let lines: Vec<String> = bad.bad_lines().map(|line| line.to_string()).collect();
    let lines = if lines.is_empty() { "none".into() } else { lines.join(", ") };
    format!("{}\n({} good; bad lines: {lines})", bad.error, bad.good.len())
}

#[test]
fn every_bad_text_is_refused_with_its_messages() {
    let text = fs::read_to_string(FILE).unwrap();
    let mut anew = text[..=text.find("\n## ").unwrap()].to_string();
    let cases = cases(&text);
    assert!(cases.len() > 30, "only {} cases", cases.len());
    let mut wrong = Vec::new();
    for case in &cases {
        let bad = case.refused().expect_err(&case.title);
        let told = told(&bad);
        if told != case.messages {
            wrong.push(format!("{}\n  expected {}\n  got      {told}", case.title, case.messages));
        }
        let shown: Vec<String> = told.lines().map(|line| format!("> {line}")).collect();
        anew += &format!("## {}\n{}\n{}\n\n", case.title, case.text, shown.join("\n"));
    }
    if std::env::var_os("REGENERATE").is_some() {
        fs::write(FILE, anew.trim_end().to_string() + "\n").unwrap();
    } else {
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
}

#[test]
fn every_fault_names_its_line_and_speaks_plainly() {
    let mut kinds = BTreeSet::new();
    for case in all() {
        let bad = case.refused().unwrap_err();
        for fault in bad.error.faults() {
            let shown = fault.to_string();
            kinds.insert(fault.kind.name());
            assert!(fault.path.starts_with("line "), "{shown}");
            assert!(shown.len() < 420 && !fault.reason.is_empty() && !fault.remedy.is_empty(), "{shown}");
            assert!(!fault.reason.ends_with('.') && !fault.remedy.ends_with('.'), "{shown}");
            for jargon in ["serde", "Option", "f64", "u32", "struct", "enum", "variant", "EOF"] {
                assert!(!shown.contains(jargon), "{jargon} in: {shown}");
            }
        }
    }
    let expected = [
        Kind::Syntax,
        Kind::UnknownKey,
        Kind::WrongType,
        Kind::Unreadable,
        Kind::OutOfRange,
        Kind::Missing,
        Kind::Conflict,
        Kind::TooLarge,
        Kind::NewerFormat,
    ];
    assert_eq!(kinds, expected.map(Kind::name).into());
}

#[test]
fn readings_that_can_t_be_of_a_neck() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let on = |neck: &Neck, text: &str| told(&Readings::from_csv(text).unwrap().check_on(neck).unwrap_err());
    insta::assert_snapshot!(on(
        &neck,
        "at,quantity,value,side,across\n\
        fret 5,thickness,23\n\
        900,thickness,23\n\
        fret 1,thickness,5\n\
        fret 2,thickness,190\n\
        fret 3,width,350\n\
        fret 60,width,50\n\
        fret 3,girth,30\n\
        600,girth,100\n\
        600,carve line,9,bass\n\
        fret 5,carve line,149,treble\n\
        -10,radius,300\n\
        fret 7,radius,40\n\
        fret 7,radius,41\n\
        fret 5,point,300,,10\n\
        fret 5,point,20,,200\n\
        fret 5,point,40,,60\n\
        -100,point,25,,-30\n\
        fret 5,point,-2,,0\n"
    ));

    let mut flat = Specification::default();
    flat.fretboard.radius = Radius::Flat;
    let flat = Neck::new(&flat).unwrap();
    assert_eq!(
        on(&flat, "at,quantity,value\nfret 5,radius,305\n"),
        "line 2, readings[0].value = 305 mm: the board is flat and has no radius; give the board a radius, or leave the reading out\n(0 good; bad lines: 2)"
    );
}
