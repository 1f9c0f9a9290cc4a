//! Every document of `bad_documents.txt` and of `bad_stocks.txt` is refused, with exactly the messages that stand
//! below it.
//!
//! `REGENERATE=1 cargo test --test spec_bad_documents` writes the messages anew; read the difference before
//! keeping it.

use std::collections::BTreeSet;
use std::fs;
use std::sync::LazyLock;

use neckwright::measure::{Error, Kind};
use neckwright::shape::Neck;
use neckwright::spec::{BoundRow, Specification, Stock};

/// The bad documents of one sort.
struct Bad {
    file: &'static str,
    /// As it stood before it was written anew.
    text: String,
    /// So many documents at least.
    least: usize,
    refused: fn(&str) -> Option<Error>,
    bounds: fn() -> Vec<BoundRow>,
    /// The kinds of fault that no such document has.
    without: &'static [Kind],
}

static BAD: LazyLock<[Bad; 2]> = LazyLock::new(|| {
    let read = |file| fs::read_to_string(file).unwrap();
    let necks = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bad_documents.txt");
    let stocks = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bad_stocks.txt");
    [
        Bad {
            file: necks,
            text: read(necks),
            least: 100,
            // Reading, and then what can be wrong with a neck whose numbers are each right.
            refused: |text| Specification::from_json(text).and_then(|read| Neck::new(&read)).err(),
            bounds: Specification::bounds,
            without: &[Kind::Buffer, Kind::TooDeep, Kind::TooSmall],
        },
        Bad {
            file: stocks,
            text: read(stocks),
            least: 70,
            refused: |text| Stock::from_json(text).err(),
            bounds: Stock::bounds,
            // What is wrong with it only a neck can tell.
            without: &[Kind::Buffer, Kind::Geometry, Kind::OutsideNeck, Kind::TooDeep, Kind::TooSmall],
        },
    ]
});

impl Bad {
    fn cases(&self) -> Vec<Case> {
        cases(&self.text)
    }
}

struct Case {
    title: String,
    document: String,
    messages: String,
}

/// Cases begin with `## title`; the document follows, then its messages on lines that begin with `> `.
fn cases(text: &str) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    for line in text.lines() {
        if let Some(title) = line.strip_prefix("## ") {
            cases.push(Case { title: title.into(), document: String::new(), messages: String::new() });
        } else if let Some(case) = cases.last_mut() {
            let (part, line) = match line.strip_prefix("> ") {
                Some(message) => (&mut case.messages, message),
                None if line.is_empty() => continue,
                None => (&mut case.document, line),
            };
            if !part.is_empty() {
                part.push('\n');
            }
            part.push_str(line);
        }
    }
    cases
}

#[test]
fn every_bad_document_is_refused_with_its_messages() {
    for bad in &*BAD {
        refused_with_its_messages(bad);
    }
}

fn refused_with_its_messages(bad: &Bad) {
    let text = &bad.text;
    let head = &text[..=text.find("\n## ").unwrap()];
    let cases = bad.cases();
    assert!(cases.len() >= bad.least, "only {} cases in {}", cases.len(), bad.file);

    let mut anew = String::from(head);
    let (mut wrong, mut accepted) = (Vec::new(), Vec::new());
    for case in &cases {
        let Some(error) = (bad.refused)(&case.document) else {
            accepted.push(format!("{}: {}", case.title, case.document));
            continue;
        };
        let messages = error.to_string();
        if messages != case.messages {
            wrong.push(format!("{}\n  expected {}\n  got      {messages}", case.title, case.messages));
        }
        let shown: Vec<String> = messages.lines().map(|line| format!("> {line}")).collect();
        anew += &format!("## {}\n{}\n{}\n\n", case.title, case.document, shown.join("\n"));
    }
    assert!(accepted.is_empty(), "accepted:\n{}", accepted.join("\n"));
    if std::env::var_os("REGENERATE").is_some() {
        fs::write(bad.file, anew.trim_end().to_string() + "\n").unwrap();
    } else {
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
}

#[test]
fn every_kind_and_every_group_is_among_them() {
    for bad in &*BAD {
        let mut kinds = BTreeSet::new();
        let mut groups = BTreeSet::new();
        for case in bad.cases() {
            for fault in (bad.refused)(&case.document).unwrap().faults() {
                kinds.insert(fault.kind.name());
                groups.insert(fault.path.split(['.', '[']).next().unwrap().to_string());
            }
        }
        for kind in Kind::ALL {
            let shown = kinds.contains(kind.name());
            assert_ne!(shown, bad.without.contains(&kind), "{} in {}", kind.name(), bad.file);
        }
        for row in (bad.bounds)() {
            let group = row.path.split(['.', '[']).next().unwrap();
            assert!(groups.contains(group), "no document has a fault in {group}: {}", bad.file);
        }
    }
}

#[test]
fn the_messages_are_in_plain_words() {
    let errors =
        |bad: &'static Bad| bad.cases().into_iter().map(|case| (bad.refused)(&case.document).unwrap());
    for error in BAD.iter().flat_map(errors) {
        for fault in error.faults() {
            let shown = fault.to_string();
            assert!(shown.len() < 400, "too long to read: {shown}");
            assert!(!fault.reason.is_empty() && !fault.remedy.is_empty(), "{shown}");
            assert!(!fault.reason.ends_with('.') && !fault.remedy.ends_with('.'), "{shown}");
            let mut first = fault.reason.chars();
            assert!(first.next().is_some_and(|c| !c.is_uppercase()) || fault.kind == Kind::Syntax, "{shown}");
            for jargon in ["serde", "Option", "f64", "u32", "struct", "enum", "variant", "deserializ", "EOF"]
            {
                assert!(!shown.replace("construction", "").contains(jargon), "{jargon} in: {shown}");
            }
        }
    }
}
