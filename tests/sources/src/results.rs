//! What serde tells of the core's results: their names, fields and words, read off the derives and the macros.

use crate::doc::doc;
use crate::functions::{left_out, type_of_macro};
use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::collections::BTreeMap;
use std::path::Path;
use syn::{Attribute, Fields, Item, LitStr, Type};

/// A type of results.
pub struct Result {
    /// The name that serde tells.
    pub name: String,
    /// Its documentation.
    pub doc: String,
    /// What it is made of.
    pub shape: Shape,
}

/// What a type of results is made of.
pub enum Shape {
    /// Fields.
    Fields(Vec<Field>),
    /// One of some words.
    Words(Vec<String>),
    /// One of some words, in a field of this name, and what it comes with in another.
    Tagged {
        /// The word's field.
        tag: String,
        /// The field of what comes with it.
        content: String,
        /// The words, and what comes with each.
        variants: Vec<(String, Vec<Field>, Content)>,
    },
    /// A document that is written as JSON has it.
    Document,
}

/// How what comes with a word is told.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Content {
    /// Nothing comes with it.
    Nothing,
    /// One value, or several in a row.
    Values,
    /// Fields with names.
    Fields,
}

/// One field.
pub struct Field {
    /// The name that serde tells.
    pub name: String,
    /// Its documentation.
    pub doc: String,
    /// Its type in Rust.
    pub of: Type,
}

/// All results below a folder of sources, by name.
///
/// # Panics
/// - a file that is not Rust; serde's attributes of a kind that is not known here.
#[must_use]
pub fn results(root: &Path) -> BTreeMap<String, Result> {
    let mut all = BTreeMap::new();
    let mut open = vec![root.to_path_buf()];
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let text = std::fs::read_to_string(&path).unwrap();
                let file = syn::parse_file(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
                for result in file.items.iter().filter_map(result) {
                    let name = result.name.clone();
                    assert!(all.insert(name.clone(), result).is_none(), "two results are called {name}");
                }
            }
        }
    }
    all
}

fn result(item: &Item) -> Option<Result> {
    match item {
        Item::Struct(s) if told_by_serde(&s.attrs) => {
            let shape = Shape::Fields(fields(&s.fields));
            Some(Result { name: s.ident.to_string(), doc: doc(&s.attrs), shape })
        }
        Item::Enum(e) if told_by_serde(&e.attrs) => {
            Some(Result { name: e.ident.to_string(), doc: doc(&e.attrs), shape: of_enum(e) })
        }
        Item::Macro(m) if m.mac.path.is_ident("choice") => {
            let name = type_of_macro(m)?;
            let mut words = Vec::new();
            literals(m.mac.tokens.clone(), &mut words);
            Some(Result { name, doc: String::new(), shape: Shape::Words(words) })
        }
        Item::Macro(m) if m.mac.path.is_ident("group") => {
            Some(Result { name: type_of_macro(m)?, doc: String::new(), shape: Shape::Document })
        }
        _ => None,
    }
}

fn told_by_serde(attributes: &[Attribute]) -> bool {
    !left_out(attributes)
        && attributes.iter().any(|a| {
            let text = match &a.meta {
                syn::Meta::List(list) if a.path().is_ident("derive") => list.tokens.to_string(),
                _ => String::new(),
            };
            text.contains("Serialize")
        })
}

/// What serde's attributes say: `rename`, `tag` and their like.
fn serde(attributes: &[Attribute]) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for attribute in attributes.iter().filter(|a| a.path().is_ident("serde")) {
        let known = ["rename", "rename_all", "tag", "content", "skip"];
        let read = attribute.parse_nested_meta(|meta| {
            let name = meta.path.get_ident().map(ToString::to_string).unwrap_or_default();
            assert!(known.contains(&name.as_str()), "serde's {name} is not known here");
            let value = if meta.input.peek(syn::Token![=]) {
                meta.value()?.parse::<LitStr>()?.value()
            } else {
                String::new()
            };
            all.insert(name, value);
            Ok(())
        });
        read.unwrap();
    }
    all
}

fn fields(fields: &Fields) -> Vec<Field> {
    let told = fields.iter().filter(|field| !serde(&field.attrs).contains_key("skip"));
    told.map(|field| {
        let own = field.ident.as_ref().map(ToString::to_string).unwrap_or_default();
        let name = serde(&field.attrs).remove("rename").unwrap_or(own);
        Field { name, doc: doc(&field.attrs), of: field.ty.clone() }
    })
    .collect()
}

fn of_enum(e: &syn::ItemEnum) -> Shape {
    let rules = serde(&e.attrs);
    let name = |variant: &syn::Variant| {
        serde(&variant.attrs).remove("rename").unwrap_or_else(|| {
            let own = variant.ident.to_string();
            if rules.get("rename_all").is_some_and(|rule| rule == "snake_case") { snake(&own) } else { own }
        })
    };
    let Some(tag) = rules.get("tag") else {
        assert!(e.variants.iter().all(|v| v.fields.is_empty()), "{} has no tag", e.ident);
        return Shape::Words(e.variants.iter().map(name).collect());
    };
    let variants = e.variants.iter().map(|v| {
        let content = match &v.fields {
            Fields::Unit => Content::Nothing,
            Fields::Unnamed(_) => Content::Values,
            Fields::Named(_) => Content::Fields,
        };
        (name(v), fields(&v.fields), content)
    });
    Shape::Tagged { tag: tag.clone(), content: rules["content"].clone(), variants: variants.collect() }
}

fn snake(name: &str) -> String {
    let mut out = String::new();
    for c in name.chars() {
        if c.is_ascii_uppercase() && !out.is_empty() {
            out.push('_');
        }
        out.push(c.to_ascii_lowercase());
    }
    out
}

/// The words of `Variant = "word"`; documentation is text as well, but not in braces of its own.
fn literals(tokens: TokenStream, out: &mut Vec<String>) {
    let mut before_is_equals = false;
    for token in tokens {
        match &token {
            TokenTree::Group(group) if group.delimiter() == Delimiter::Brace => literals(group.stream(), out),
            TokenTree::Literal(literal) if before_is_equals => {
                out.push(syn::parse_str::<LitStr>(&literal.to_string()).unwrap().value());
            }
            _ => {}
        }
        before_is_equals = matches!(&token, TokenTree::Punct(p) if p.as_char() == '=');
    }
}
