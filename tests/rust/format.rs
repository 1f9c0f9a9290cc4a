//! Reads a file of shared cases.

use std::collections::BTreeMap;

/// One file of shared cases.
#[derive(Debug, Default)]
pub struct CaseFile {
    /// The languages that run the file; empty where all do.
    pub languages: Vec<String>,
    /// The cases, in the order of the file.
    pub cases: Vec<Case>,
}

/// One case.
#[derive(Debug)]
pub struct Case {
    /// The line it begins at, counted from 1.
    pub line: usize,
    /// What it is about.
    pub title: String,
    /// The operation to call.
    pub operation: String,
    /// The arguments, as text.
    pub given: BTreeMap<String, String>,
    /// The document handed to the operation.
    pub document: Option<String>,
    /// What is to come out.
    pub outcome: Outcome,
}

/// What is to come out of a case.
#[derive(Debug)]
pub enum Outcome {
    /// These results.
    Values(Vec<Expected>),
    /// These faults, all of them and in this order.
    Faults(Vec<ExpectedFault>),
}

/// One expected result.
#[derive(Debug)]
pub struct Expected {
    /// The result's name.
    pub name: String,
    /// Unit of the values and the tolerance; `-` for none.
    pub unit: String,
    /// Largest absolute difference allowed.
    pub tolerance: f64,
    /// The values, from a source other than this library.
    pub values: Vec<f64>,
    /// The same values as the library gives them, bit for bit; absent until written.
    pub bits: Option<Vec<u64>>,
}

/// One expected fault.
#[derive(Debug)]
pub struct ExpectedFault {
    /// Stable name of its kind.
    pub kind: String,
    /// The field's path or the argument's name; empty for the whole document.
    pub path: String,
    /// The whole message; absent until written.
    pub message: Option<String>,
}

/// A line with its continuation lines.
pub(crate) struct Entry<'a> {
    pub(crate) line: usize,
    pub(crate) word: &'a str,
    pub(crate) rest: &'a str,
    pub(crate) more: Vec<&'a str>,
}

/// Cuts a file into blocks of entries; an empty line ends a block.
pub(crate) fn blocks(text: &str) -> Result<Vec<Vec<Entry<'_>>>, String> {
    let mut blocks = vec![Vec::<Entry<'_>>::new()];
    for (i, line) in text.lines().enumerate() {
        if line.starts_with('#') {
            continue;
        }
        let block = blocks.last_mut().ok_or("no block")?;
        if line.is_empty() {
            if !block.is_empty() {
                blocks.push(Vec::new());
            }
        } else if let Some(text) = line.strip_prefix("  ") {
            block.last_mut().ok_or_else(|| format!("{}: continues nothing", i + 1))?.more.push(text);
        } else {
            let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
            block.push(Entry { line: i + 1, word, rest, more: Vec::new() });
        }
    }
    blocks.retain(|b| !b.is_empty());
    Ok(blocks)
}

impl CaseFile {
    /// Reads the text of a case file.
    ///
    /// # Errors
    /// - a line that the format doesn't have, with its number.
    pub fn read(text: &str) -> Result<Self, String> {
        let mut file = Self::default();
        let mut documents = BTreeMap::new();
        for block in blocks(text)? {
            let first = &block[0];
            match first.word {
                "case" => file.cases.push(read_case(&block, &documents)?),
                "document" => {
                    documents.insert(first.rest.to_owned(), first.more.join("\n"));
                }
                "languages" => file.languages = first.rest.split(' ').map(str::to_owned).collect(),
                other => return Err(format!("{}: unknown word {other:?}", first.line)),
            }
        }
        Ok(file)
    }

    /// Whether a language runs this file.
    #[must_use]
    pub fn is_for(&self, language: &str) -> bool {
        self.languages.is_empty() || self.languages.iter().any(|l| l == language)
    }
}

fn read_case(block: &[Entry<'_>], documents: &BTreeMap<String, String>) -> Result<Case, String> {
    let mut case = Case {
        line: block[0].line,
        title: block[0].rest.to_owned(),
        operation: String::new(),
        given: BTreeMap::new(),
        document: None,
        outcome: Outcome::Values(Vec::new()),
    };
    let mut expected = Vec::<Expected>::new();
    let mut faults = Vec::new();
    for entry in &block[1..] {
        let wrong = |what: &str| format!("{}: {what}", entry.line);
        let words: Vec<&str> = entry.rest.split(' ').collect();
        match (entry.word, words.as_slice()) {
            ("operation", [name]) => case.operation = (*name).to_owned(),
            ("given", [name, ..]) => {
                let mut value = entry.rest[name.len()..].trim_start().to_owned();
                for line in &entry.more {
                    value.push('\n');
                    value.push_str(line);
                }
                case.given.insert((*name).to_owned(), value);
            }
            ("use", [name]) => {
                let text = documents.get(*name).ok_or_else(|| wrong("no such document before it"))?;
                case.document = Some(text.clone());
            }
            ("expect", [name, unit, "within", tolerance]) => expected.push(Expected {
                name: (*name).to_owned(),
                unit: (*unit).to_owned(),
                tolerance: tolerance.parse().map_err(|_| wrong("the tolerance is no number"))?,
                values: numbers(&entry.more.join(" ")).ok_or_else(|| wrong("a value is no number"))?,
                bits: None,
            }),
            ("bits", [name]) => {
                let bits: Option<Vec<u64>> =
                    entry.more.join(" ").split_whitespace().map(hexadecimal).collect();
                let bits = bits.ok_or_else(|| wrong("bits are 16 hexadecimal digits a value"))?;
                let result = expected.iter_mut().find(|e| e.name == *name);
                result.ok_or_else(|| wrong("bits of a result that is not expected"))?.bits = Some(bits);
            }
            ("fault", [kind, path]) => faults.push(ExpectedFault {
                kind: (*kind).to_owned(),
                path: if *path == "-" { String::new() } else { (*path).to_owned() },
                message: if entry.more.is_empty() { None } else { Some(entry.more.join("\n")) },
            }),
            _ => return Err(wrong("not a line of a case")),
        }
    }
    if case.operation.is_empty() {
        return Err(format!("{}: no operation", case.line));
    }
    case.outcome = match (expected.is_empty(), faults.is_empty()) {
        (false, true) => Outcome::Values(expected),
        (true, false) => Outcome::Faults(faults),
        _ => return Err(format!("{}: a case expects either values or faults", case.line)),
    };
    Ok(case)
}

fn numbers(text: &str) -> Option<Vec<f64>> {
    text.split_whitespace().map(|word| word.parse().ok()).collect()
}

fn hexadecimal(word: &str) -> Option<u64> {
    if word.len() == 16 { u64::from_str_radix(word, 16).ok() } else { None }
}

impl Case {
    /// An argument as it stands in the case.
    ///
    /// # Errors
    /// - it is not there.
    pub fn text(&self, name: &str) -> Result<&str, String> {
        Ok(self.given.get(name).ok_or_else(|| format!("no argument {name}"))?)
    }

    /// An argument that is one number.
    ///
    /// # Errors
    /// - it is not there or no number.
    pub fn number(&self, name: &str) -> Result<f64, String> {
        self.text(name)?.parse().map_err(|_| format!("{name} is no number"))
    }

    /// An argument that is several numbers.
    ///
    /// # Errors
    /// - it is not there or holds something else.
    pub fn numbers(&self, name: &str) -> Result<Vec<f64>, String> {
        numbers(self.text(name)?).ok_or_else(|| format!("{name} is not a list of numbers"))
    }

    /// An argument that is a count.
    ///
    /// # Errors
    /// - it is not there or no whole number from 0 to 4294967295.
    pub fn count(&self, name: &str) -> Result<u32, String> {
        self.text(name)?.parse().map_err(|_| format!("{name} is no count"))
    }

    /// The document handed to the operation.
    ///
    /// # Errors
    /// - the case uses none.
    pub fn document(&self) -> Result<&str, String> {
        self.document.as_deref().ok_or_else(|| "the case uses no document".to_owned())
    }
}
