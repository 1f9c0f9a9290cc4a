//! Every document of `bad_documents.txt` is refused, with exactly the messages that stand below it.
//!
//! `REGENERATE=1 cargo test --test spec_bad_documents` writes the messages anew; read the difference before
//! keeping it.

use std::collections::BTreeSet;
use std::fs;
use std::sync::LazyLock;

use neckwright::measure::{Error, Kind};
use neckwright::shape::Neck;
use neckwright::spec::Specification;

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bad_documents.txt");

/// As it stood before it was written anew.
static TEXT: LazyLock<String> = LazyLock::new(|| fs::read_to_string(FILE).unwrap());

/// What a document goes through: reading, and then what can be wrong with a neck whose numbers are each right.
fn refused(document: &str) -> Option<Error> {
    Specification::from_json(document).and_then(|specification| Neck::new(&specification)).err()
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
    let text = &*TEXT;
    let head = &text[..=text.find("\n## ").unwrap()];
    let cases = cases(&TEXT);
    assert!(cases.len() >= 100, "only {} cases", cases.len());

    let mut anew = String::from(head);
    let (mut wrong, mut accepted) = (Vec::new(), Vec::new());
    for case in &cases {
        let Some(error) = refused(&case.document) else {
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
        fs::write(FILE, anew.trim_end().to_string() + "\n").unwrap();
    } else {
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
}

#[test]
fn every_kind_and_every_group_is_among_them() {
    let mut kinds = BTreeSet::new();
    let mut groups = BTreeSet::new();
    for case in cases(&TEXT) {
        for fault in refused(&case.document).unwrap().faults() {
            kinds.insert(fault.kind.name());
            groups.insert(fault.path.split(['.', '[']).next().unwrap().to_string());
        }
    }
    for kind in Kind::ALL {
        // No document has a buffer.
        assert!(kind == Kind::Buffer || kinds.contains(kind.name()), "no document shows {}", kind.name());
    }
    for row in Specification::bounds() {
        let group = row.path.split(['.', '[']).next().unwrap();
        assert!(groups.contains(group), "no document has a fault in {group}");
    }
}

#[test]
fn the_messages_are_in_plain_words() {
    for case in cases(&TEXT) {
        for fault in refused(&case.document).unwrap().faults() {
            let shown = fault.to_string();
            assert!(shown.len() < 400, "too long to read: {shown}");
            assert!(!fault.reason.is_empty() && !fault.remedy.is_empty(), "{shown}");
            assert!(!fault.reason.ends_with('.') && !fault.remedy.ends_with('.'), "{shown}");
            let mut first = fault.reason.chars();
            assert!(first.next().is_some_and(|c| !c.is_uppercase()) || fault.kind == Kind::Syntax, "{shown}");
            for jargon in ["serde", "Option", "f64", "u32", "struct", "enum", "variant", "deserializ", "EOF"]
            {
                assert!(!shown.contains(jargon), "{jargon} in: {shown}");
            }
        }
    }
}
