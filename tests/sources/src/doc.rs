//! What documentation says.

use syn::{Attribute, Expr, Lit, Meta};

/// The documentation, its lines put together to paragraphs; links to other items are their names only, as Python's
/// documentation marks them.
pub(crate) fn doc(attributes: &[Attribute]) -> String {
    let lines = attributes.iter().filter(|a| a.path().is_ident("doc")).filter_map(|a| match &a.meta {
        Meta::NameValue(value) => match &value.value {
            Expr::Lit(lit) => match &lit.lit {
                Lit::Str(text) => Some(text.value().trim().to_owned()),
                _ => None,
            },
            _ => None,
        },
        _ => None,
    });
    let mut all = String::new();
    for line in lines {
        if line.is_empty() {
            all.push_str("\n\n");
        } else {
            if !all.is_empty() && !all.ends_with('\n') {
                all.push(' ');
            }
            all.push_str(&line);
        }
    }
    plain(all.trim())
}

/// Links without their targets, code in double quotes.
fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(from) = rest.find('[') {
        let (before, link) = rest.split_at(from);
        out.push_str(before);
        let Some(to) = link.find(']') else { break };
        let (name, after) = (&link[1..to], &link[to + 1..]);
        if let Some(target) = after.strip_prefix('(').and_then(|t| t.split_once(')')) {
            out.push_str(name);
            rest = target.1;
        } else if name.starts_with('`') {
            out.push_str(name);
            rest = after;
        } else {
            out.push_str(&link[..=to]);
            rest = after;
        }
    }
    out.push_str(rest);
    let out = out.replace("Self::", "").replace("crate::", "");
    out.replace('`', "``").replace('\\', "\\\\")
}

/// Its first sentence, which is all of the first paragraph up to a full stop.
pub(crate) fn first_sentence(attributes: &[Attribute]) -> String {
    let all = doc(attributes);
    let paragraph = all.split("\n\n").next().unwrap_or_default();
    let end = paragraph.find(". ").map_or(paragraph.len(), |at| at + 1);
    paragraph[..end].to_owned()
}
