//! The records of the Python package, `records.py`, are those of the core's results: names, fields, words and documentation.
//!
//!     REGENERATE=1 cargo test -p neckwright-sources

mod by_hand;
mod class;

use by_hand::BY_HAND;
use class::Python;
use neckwright_sources::{Content, Field, Shape, results};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// What the package has a record of its own of.
const LEFT_OUT: &[&str] = &["Fault", "Kind"];

/// What writes one class.
type Written<'a> = Box<dyn Fn(&mut Python) + 'a>;

fn python(core: &Path) -> String {
    let all = results(core);
    let documents = all.values().filter(|r| matches!(r.shape, Shape::Document)).map(|r| r.name.clone());
    let mut out = Python { text: String::new(), classes: Vec::new(), documents: documents.collect() };
    let mut words = BTreeMap::new();
    let mut records = BTreeMap::<String, Written<'_>>::new();
    for (name, doc, fields) in BY_HAND {
        let fields: Vec<_> =
            fields.iter().map(|(f, of, d)| ((*f).to_owned(), (*of).to_owned(), (*d).to_owned())).collect();
        records.insert(
            (*name).to_owned(),
            Box::new(move |out: &mut Python| out.record(name, name, doc, &fields)),
        );
    }
    for (name, result) in all.iter().filter(|(name, _)| !LEFT_OUT.contains(&name.as_str())) {
        match &result.shape {
            Shape::Document => {}
            Shape::Words(all) => drop(words.insert(name.clone(), all.clone())),
            Shape::Fields(fields) => {
                let of = Box::new(|out: &mut Python| {
                    let fields = out.fields(fields);
                    out.record(name, name, &result.doc, &fields);
                });
                records.insert(name.clone(), of);
            }
            Shape::Tagged { tag, content, variants } => {
                let of =
                    Box::new(move |out: &mut Python| tagged(out, name, &result.doc, tag, content, variants));
                records.insert(name.clone(), of);
            }
        }
    }
    for of in records.values() {
        of(&mut out);
    }
    let mut text = String::from(
        "\"\"\"Records: what the library tells, field by field, as named tuples.\n\n\
         Generated from the library's sources by ``REGENERATE=1 cargo test -p neckwright-sources``; names, units and words are\n\
         those of its Rust documentation. Records can't be changed; they compare, hash and pickle by their fields, and a list of\n\
         them is a table for pandas and polars.\n\"\"\"\n\n\
         from __future__ import annotations\n\nimport sys\n\
         from typing import TYPE_CHECKING, Any, Generic, Literal, NamedTuple, TypeAlias, TypeVar\n\n\
         T = TypeVar(\"T\")\n\n",
    );
    for (name, all) in &words {
        let all: Vec<String> = all.iter().map(|word| format!("\"{word}\"")).collect();
        let line = format!("{name}: TypeAlias = Literal[{}]", all.join(", "));
        if line.len() <= 120 {
            let _ = writeln!(text, "{line}");
        } else {
            let _ = writeln!(text, "{name}: TypeAlias = Literal[\n    {},\n]", all.join(",\n    "));
        }
    }
    text += &out.text;
    text += "\n\n_CLASSES: tuple[tuple[str, tuple[str, ...], type], ...] = (\n";
    for (serde, fields, name) in &out.classes {
        let fields: Vec<String> = fields.iter().map(|f| format!("\"{f}\"")).collect();
        let line = format!("    (\"{serde}\", ({},), {name}),", fields.join(", "));
        if line.len() <= 120 {
            let _ = writeln!(text, "{line}");
        } else {
            let _ = writeln!(
                text,
                "    (\n        \"{serde}\",\n        (\n            {},\n        ),\n        {name},\n    ),",
                fields.join(",\n            ")
            );
        }
    }
    text + ")\n"
}

fn tagged(
    out: &mut Python,
    name: &str,
    doc: &str,
    tag: &str,
    content: &str,
    variants: &[(String, Vec<Field>, Content)],
) {
    let mut of: Vec<String> = Vec::new();
    let mut own = Vec::new();
    for (word, fields, kind) in variants {
        let told = match kind {
            Content::Nothing => "None".to_owned(),
            Content::Values if fields.len() == 1 => out.of(&fields[0].of),
            Content::Values => {
                let all: Vec<String> = fields.iter().map(|f| out.of(&f.of)).collect();
                format!("tuple[{}]", all.join(", "))
            }
            Content::Fields => {
                let class = format!("{name}{}{}", word[..1].to_uppercase(), &word[1..]);
                own.push((word.clone(), class.clone(), out.fields(fields)));
                class
            }
        };
        if !of.contains(&told) {
            of.push(told);
        }
    }
    // These serde tells by the word.
    for (word, class, fields) in own {
        out.record(&word, &class, &format!("What ``{word}`` comes with."), &fields);
    }
    let words: Vec<String> = variants.iter().map(|(word, ..)| format!("\"{word}\"")).collect();
    let fields = [
        (tag.to_owned(), format!("Literal[{}]", words.join(", ")), "Which of them.".to_owned()),
        (content.to_owned(), of.join(" | "), "What comes with it.".to_owned()),
    ];
    out.record(name, name, doc, &fields);
}

#[test]
fn the_records_of_python_are_those_of_the_core() {
    let package = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let file = package.join("../../bindings-python/python/neckwright/records.py");
    let text = python(&package.join("../../core/src"));
    if std::env::var_os("REGENERATE").is_some() {
        std::fs::write(&file, &text).unwrap();
    }
    let kept = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(
        kept == text,
        "records.py is not that of the sources: REGENERATE=1 cargo test -p neckwright-sources"
    );
}
