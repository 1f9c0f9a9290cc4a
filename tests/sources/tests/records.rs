//! The records of the Python package, `records.py`, are those of the core's results: names, fields, words and documentation.
//!
//!     REGENERATE=1 cargo test -p neckwright-sources

use neckwright_sources::{Content, Field, Shape, results};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use syn::{GenericArgument, PathArguments, Type};

/// Name, type in Python and documentation of each field.
type ByHand = &'static [(&'static str, &'static str, &'static str)];

/// What writes itself by hand in the core: fields that serde is told one by one. Of those that may be left out the type says so.
const BY_HAND: &[(&str, &str, ByHand)] = &[
    (
        "Board",
        "The fretboard.",
        &[
            ("start_mm", "float", "Its first station, mm."),
            ("end_mm", "float", "Its last station, mm."),
            ("nut_ends_mm", "tuple[float, float]", "Where the nut's line meets its edges, mm."),
            ("thickness_mm", "float", "Its thickness on the centreline, mm."),
            ("binding_mm", "float", "Thickness of its binding, mm; 0 without one."),
            (
                "widths_mm",
                "tuple[tuple[float, float], ...]",
                "Stations and widths, edge to edge, mm; straight in between.",
            ),
            (
                "radius_at_nut_mm",
                "float | None",
                "The face's radius at the nut, mm; ``None`` for a flat board.",
            ),
            ("radius_growth", "float | None", "By how much the radius grows with each mm of the station."),
            ("least_edge_thickness_mm", "float", "Least thickness of its edge, mm."),
            ("least_edge_thickness_at_mm", "float", "The station where that is, mm."),
        ],
    ),
    (
        "BoundRow",
        "One field of a document: what it takes, its bounds and its default.",
        &[
            (
                "path",
                "str",
                "The field's path, such as ``nut.width`` or, for each entry of a list, ``shaft.thickness[].at``.",
            ),
            ("takes", "str", "What it takes: a length, an angle, a station, a number and so on."),
            ("unit", "str", "Unit of the bounds; empty where it has none."),
            ("lowest", "float | None", "Lowest value allowed."),
            ("highest", "float | None", "Highest value allowed."),
            (
                "default",
                "str",
                "The default as JSON; ``absent`` where it is worked out from the rest or not needed.",
            ),
            ("why", "str", "Why the bounds are there; empty where there are none."),
            ("doc", "str", "What it is."),
        ],
    ),
    (
        "KnownShape",
        "A shape of the back as the trade calls it, and the fullness that it stands for.",
        &[
            ("shape", "Shape", "Its name."),
            ("shoulder", "float", "How far the section keeps out beside the carve line, of 1."),
            ("belly", "float", "How flat it is about the spine, of 1."),
            ("lean", "float", "How far it leans in beside the carve line, of 1."),
        ],
    ),
    (
        "KnownWood",
        "A wood whose usual density is known.",
        &[("species", "str", "Its name."), ("density_kg_m3", "float | None", "Its usual density, kg/m³.")],
    ),
    (
        "Sixtyfourths",
        "A length in 64ths of an inch.",
        &[
            ("text", "str", "As it is marked, such as ``1 11/16 in``."),
            ("mm", "float", "The same, mm."),
            ("error_mm", "float", "By how much it is longer than the length that was given, mm."),
        ],
    ),
    (
        "Cut",
        "One straight-sided cut for the rod, from the top of the neck wood down to a floor.",
        &[
            ("reach_mm", "tuple[float, float]", "The stations it covers, first and last, mm from the nut."),
            ("half_width_mm", "float", "Half its width, mm; it lies evenly on both sides of the centreline."),
            (
                "floor_depth_mm",
                "Law",
                "Depth of its floor below the crown plane, mm, over the stations it covers.",
            ),
        ],
    ),
    (
        "Forbidden",
        "A limit that forbids mending.",
        &[
            ("limit", "Limit", "Which."),
            ("x_mm", "float", "The station where it binds hardest, mm from the nut."),
            ("by", "float", "The least by which it would have to give way, in its unit."),
            ("unit", "str", "Its unit."),
            (
                "alone",
                "bool",
                "Whether that would do by itself; where not, all that are named have to give way together.",
            ),
            ("asked_by", "tuple[Asking, ...]", "The readings of the low places that ask for it."),
            ("sentence", "str", "The same in words."),
        ],
    ),
    (
        "Law",
        "A law of the position along the neck: a continuous piecewise polynomial in Bernstein form.",
        &[
            ("breaks_mm", "tuple[float, ...]", "The stations of its joints, first to last, mm from the nut."),
            (
                "coefs",
                "tuple[tuple[float, ...], ...]",
                "The Bernstein coefficients of each piece between them, in the unit of what it is the law of.",
            ),
        ],
    ),
    (
        "Measured",
        "What an instrument was held to.",
        &[
            ("quantity", "Quantity", "The quantity."),
            ("side", "Side | None", "On which side, of a carve line."),
            (
                "across_mm",
                "float | None",
                "Of a point: its distance from the centreline, mm, positive toward the treble side.",
            ),
        ],
    ),
    (
        "Reading",
        "One reading.",
        &[
            ("at", "float | str", "Where along the neck: mm from the nut, or a text such as ``fret 5``."),
            ("quantity", "Quantity", "What of it."),
            ("value", "float", "What the instrument showed, mm; of a point its depth below the crown plane."),
            ("side", "Side | None", "On which side, of a carve line."),
            ("across", "float | None", "Of a point: its distance from the centreline, mm."),
            (
                "uncertainty",
                "float",
                "Its standard uncertainty, mm: one standard deviation (JCGM 100:2008, 2.3.1).",
            ),
        ],
    ),
    (
        "Readings",
        "Readings of instruments, as their document has them.",
        &[
            ("format", "int", "The format of the document."),
            ("name", "str | None", "What they are called, where they have a name."),
            ("readings", "tuple[Reading, ...]", "The readings."),
        ],
    ),
];

/// Types of other names that are of a plain type in Python.
const PLAIN: &[(&str, &str)] = &[
    ("f64", "float"),
    ("f32", "float"),
    ("u32", "int"),
    ("u64", "int"),
    ("usize", "int"),
    ("bool", "bool"),
    ("String", "str"),
    ("str", "str"),
    ("Station", "float | str"),
    ("Point", "tuple[float, float]"),
    ("Vector", "tuple[float, float, float]"),
];

/// What the package has a record of its own of.
const LEFT_OUT: &[&str] = &["Fault", "Kind"];

struct Python {
    text: String,
    /// What serde tells, its fields and the record's name.
    classes: Vec<(String, Vec<String>, String)>,
    documents: Vec<String>,
}

impl Python {
    fn of(&self, of: &Type) -> String {
        match of {
            Type::Path(path) => self.of_path(path.path.segments.last().unwrap()),
            Type::Reference(to) => self.of(&to.elem),
            Type::Slice(list) => format!("tuple[{}, ...]", self.of(&list.elem)),
            Type::Array(list) => {
                let length = match &list.len {
                    syn::Expr::Lit(syn::ExprLit { lit: syn::Lit::Int(n), .. }) => n.base10_parse::<usize>(),
                    other => panic!("a list of {other:?}"),
                };
                let of = self.of(&list.elem);
                format!("tuple[{}]", vec![of; length.unwrap()].join(", "))
            }
            Type::Tuple(tuple) => {
                let all: Vec<String> = tuple.elems.iter().map(|of| self.of(of)).collect();
                format!("tuple[{}]", all.join(", "))
            }
            other => panic!("no type of Python for {other:?}"),
        }
    }

    fn of_path(&self, segment: &syn::PathSegment) -> String {
        let name = segment.ident.to_string();
        let inner: Vec<String> = match &segment.arguments {
            PathArguments::AngleBracketed(all) => all
                .args
                .iter()
                .filter_map(|a| if let GenericArgument::Type(of) = a { Some(self.of(of)) } else { None })
                .collect(),
            _ => Vec::new(),
        };
        match (name.as_str(), inner.as_slice()) {
            ("Option", [of]) => format!("{of} | None"),
            ("Box" | "Arc", [of]) => of.clone(),
            ("Vec", [of]) => format!("tuple[{of}, ...]"),
            (_, [of]) => format!("{name}[{of}]"),
            _ if self.documents.contains(&name) => "dict[str, Any]".to_owned(),
            _ => {
                PLAIN.iter().find(|(rust, _)| *rust == name).map_or(name, |(_, python)| (*python).to_owned())
            }
        }
    }

    fn record(&mut self, serde: &str, name: &str, doc: &str, fields: &[(String, String, String)]) {
        // No class of named tuples may be generic before Python 3.11.
        let generic = fields.iter().any(|(_, of, _)| of == "T");
        let indent = if generic { "    " } else { "" };
        if generic {
            self.text += "\n\nif TYPE_CHECKING or sys.version_info >= (3, 11):\n";
        } else {
            self.text += "\n\n";
        }
        let bases = if generic { "NamedTuple, Generic[T]" } else { "NamedTuple" };
        let _ = writeln!(self.text, "{indent}class {name}({bases}):");
        documented(&mut self.text, &format!("{indent}    "), doc);
        self.text += "\n";
        for (field, of, doc) in fields {
            // `index` is a method of tuples; the field takes its place.
            let why = if field == "index" { "  # type: ignore[assignment]" } else { "" };
            let _ = writeln!(self.text, "{indent}    {}: {of}{why}", safe(field));
            if !doc.is_empty() {
                documented(&mut self.text, &format!("{indent}    "), doc);
            }
        }
        if generic {
            let _ =
                writeln!(self.text, "\nelse:\n\n    class {name}(NamedTuple):\n        \"\"\"{doc}\"\"\"\n");
            for (field, ..) in fields {
                let _ = writeln!(self.text, "        {field}: Any");
            }
        }
        let names = fields.iter().map(|(field, ..)| field.clone()).collect();
        self.classes.push((serde.to_owned(), names, name.to_owned()));
    }

    fn fields(&self, fields: &[Field]) -> Vec<(String, String, String)> {
        fields.iter().map(|f| (f.name.clone(), self.of(&f.of), f.doc.clone())).collect()
    }
}

/// Python's own words with an underscore behind them.
fn safe(name: &str) -> String {
    if ["from", "in", "is", "with", "as"].contains(&name) { format!("{name}_") } else { name.to_owned() }
}

/// A text as documentation, in lines of at most 120 characters.
fn documented(out: &mut String, indent: &str, doc: &str) {
    let mut lines = vec![String::new()];
    for (i, paragraph) in doc.split("\n\n").enumerate() {
        if i > 0 {
            lines.push(String::new());
            lines.push(String::new());
        }
        for word in paragraph.split_whitespace() {
            let line = lines.last_mut().unwrap();
            if !line.is_empty() && indent.len() + line.chars().count() + word.chars().count() > 113 {
                lines.push(word.to_owned());
            } else {
                if !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(word);
            }
        }
    }
    let text = lines.join(&format!("\n{indent}")).replace(&format!("\n{indent}\n"), "\n\n");
    let end = if lines.len() > 1 { format!("\n{indent}") } else { String::new() };
    let _ = writeln!(out, "{indent}\"\"\"{text}{end}\"\"\"");
}

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
