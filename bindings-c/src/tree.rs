//! A result as a tree that C can walk.

use crate::error::{Failure, c_text};
use serde::{Serialize, Serializer};
use serde_json::{Number, Value};
use std::ffi::{CStr, CString};

/// One node of a document.
pub(crate) enum Node {
    Null,
    Boolean(bool),
    Number(Number),
    Text(CString),
    List(Vec<Node>),
    Object(Vec<(CString, Node)>),
}

impl Serialize for Node {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // The texts came in as UTF-8.
        match self {
            Self::Null => serializer.serialize_unit(),
            Self::Boolean(b) => serializer.serialize_bool(*b),
            // As it came: whole numbers without a point.
            Self::Number(n) => n.serialize(serializer),
            Self::Text(text) => serializer.serialize_str(&text.to_string_lossy()),
            Self::List(list) => serializer.collect_seq(list),
            Self::Object(members) => {
                serializer.collect_map(members.iter().map(|(name, node)| (name.to_string_lossy(), node)))
            }
        }
    }
}

impl Node {
    pub fn of(value: Value) -> Self {
        match value {
            Value::Null => Self::Null,
            Value::Bool(b) => Self::Boolean(b),
            Value::Number(n) => Self::Number(n),
            Value::String(s) => Self::Text(c_text(&s)),
            Value::Array(list) => Self::List(list.into_iter().map(Self::of).collect()),
            Value::Object(members) => {
                Self::Object(members.into_iter().map(|(name, v)| (c_text(&name), Self::of(v))).collect())
            }
        }
    }

    /// What the node is, in words.
    fn sort(&self) -> &'static str {
        match self {
            Self::Null => "null",
            Self::Boolean(_) => "a boolean",
            Self::Number(_) => "a number",
            Self::Text(_) => "a text",
            Self::List(_) => "a list",
            Self::Object(_) => "an object",
        }
    }

    fn child(&self, token: &str) -> Option<&Self> {
        match self {
            Self::List(list) => {
                // RFC 6901 allows no leading zeros and no sign.
                let plain =
                    token == "0" || !token.starts_with('0') && token.bytes().all(|b| b.is_ascii_digit());
                list.get(token.parse::<usize>().ok().filter(|_| plain)?)
            }
            Self::Object(members) => {
                members.iter().find(|(name, _)| name.as_bytes() == token.as_bytes()).map(|(_, node)| node)
            }
            _ => None,
        }
    }

    /// The node that a JSON Pointer (RFC 6901) leads to.
    ///
    /// # Errors
    /// - `NW_NOTHING_THERE`: the pointer is none, or leads to nothing.
    pub fn at(&self, pointer: &str, argument: &str) -> Result<&Self, Failure> {
        self.walk(pointer, argument, false)
    }

    /// As [`at`](Self::at); below what is null all is null.
    pub fn at_or_null(&self, pointer: &str, argument: &str) -> Result<&Self, Failure> {
        self.walk(pointer, argument, true)
    }

    fn walk(&self, pointer: &str, argument: &str, through_null: bool) -> Result<&Self, Failure> {
        let nothing = |reason| Failure::nothing_there(argument, pointer, reason);
        if pointer.is_empty() {
            return Ok(self);
        }
        let tokens = pointer
            .strip_prefix('/')
            .ok_or_else(|| nothing("a JSON Pointer is empty or begins with '/'"))?
            .split('/')
            .map(|token| token.replace("~1", "/").replace("~0", "~"));
        let mut node = self;
        for token in tokens {
            if through_null && matches!(node, Self::Null) {
                return Ok(node);
            }
            node = node.child(&token).ok_or_else(|| nothing("there is nothing in this document"))?;
        }
        Ok(node)
    }

    fn wrong(&self, pointer: &str, argument: &str, wanted: &str) -> Failure {
        Failure::nothing_there(argument, pointer, &format!("it is {}, not {wanted}", self.sort()))
    }

    /// A number; NaN where there is none.
    pub fn number(&self, pointer: &str, argument: &str) -> Result<f64, Failure> {
        match self {
            Self::Number(n) => Ok(n.as_f64().unwrap_or(f64::NAN)),
            Self::Null => Ok(f64::NAN),
            _ => Err(self.wrong(pointer, argument, "a number")),
        }
    }

    pub fn boolean(&self, pointer: &str, argument: &str) -> Result<bool, Failure> {
        if let Self::Boolean(b) = self { Ok(*b) } else { Err(self.wrong(pointer, argument, "a boolean")) }
    }

    /// A text; an empty one where there is none.
    pub fn text(&self, pointer: &str, argument: &str) -> Result<&CStr, Failure> {
        match self {
            Self::Text(text) => Ok(text),
            Self::Null => Ok(c""),
            _ => Err(self.wrong(pointer, argument, "a text")),
        }
    }

    pub fn list(&self, pointer: &str, argument: &str) -> Result<&[Self], Failure> {
        if let Self::List(list) = self { Ok(list) } else { Err(self.wrong(pointer, argument, "a list")) }
    }

    /// Number of elements or members.
    pub fn count(&self, pointer: &str, argument: &str) -> Result<usize, Failure> {
        match self {
            Self::List(list) => Ok(list.len()),
            Self::Object(members) => Ok(members.len()),
            _ => Err(self.wrong(pointer, argument, "a list or an object")),
        }
    }

    pub fn name(&self, pointer: &str, argument: &str, i: usize) -> Result<&CStr, Failure> {
        let Self::Object(members) = self else { return Err(self.wrong(pointer, argument, "an object")) };
        Ok(&crate::argument::at(members, i, "i", "members")?.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The examples of RFC 6901, section 5.
    #[test]
    fn pointers_as_the_standard_has_them() {
        let text = r#"{"foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4, "i\\j": 5, "k\"l": 6,
            " ": 7, "m~n": 8}"#;
        let node = Node::of(serde_json::from_str(text).unwrap());
        let number = |pointer: &str| node.at(pointer, "pointer").and_then(|n| n.number(pointer, "")).ok();
        for (i, pointer) in
            ["/", "/a~1b", "/c%d", "/e^f", "/g|h", "/i\\j", "/k\"l", "/ ", "/m~0n"].iter().enumerate()
        {
            assert_eq!(number(pointer), Some(i as f64), "{pointer}");
        }
        assert_eq!(node.at("/foo/0", "").and_then(|n| n.text("", "")).ok(), Some(c"bar"));
        assert_eq!(node.at("/foo", "").and_then(|n| n.count("", "")).ok(), Some(2));
        assert_eq!(node.at("", "").and_then(|n| n.count("", "")).ok(), Some(10));
        for nothing in ["foo", "/foo/2", "/foo/00", "/foo/-", "/foo/+1", "/foo/0/0", "/bar", "/foo/ 1"] {
            assert!(node.at(nothing, "pointer").is_err(), "{nothing}");
        }
    }

    #[test]
    fn below_null_a_column_has_nulls() {
        let node = Node::of(serde_json::from_str(r#"{"a": null, "b": 1}"#).unwrap());
        let column = |pointer: &str| node.at_or_null(pointer, "each").and_then(|n| n.number(pointer, ""));
        assert!(column("/a/of/it").is_ok_and(f64::is_nan) && column("/b").is_ok_and(|b| b == 1.0));
        assert!(column("/b/of/it").is_err() && column("/c").is_err() && node.at("/a/of", "").is_err());
    }
}
