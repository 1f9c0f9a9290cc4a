//! Classes of named tuples, and the types of their fields.

use neckwright_sources::Field;
use std::fmt::Write;
use syn::{GenericArgument, PathArguments, Type};

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

/// The module as it is written.
pub struct Python {
    pub text: String,
    /// What serde tells, its fields and the record's name.
    pub classes: Vec<(String, Vec<String>, String)>,
    pub documents: Vec<String>,
}

impl Python {
    pub fn of(&self, of: &Type) -> String {
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

    pub fn record(&mut self, serde: &str, name: &str, doc: &str, fields: &[(String, String, String)]) {
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

    pub fn fields(&self, fields: &[Field]) -> Vec<(String, String, String)> {
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
