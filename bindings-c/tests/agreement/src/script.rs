//! The lines of the file.

use neckwright::measure::Error;
use serde::Serialize;
use std::fmt::{Display, Write};

/// Numbers by their bits, each with the digits of its own size.
#[derive(Default)]
pub(crate) struct Words(String);

impl Words {
    fn more(mut self, digits: String) -> Self {
        if !self.0.is_empty() {
            self.0.push(' ');
        }
        self.0.push_str(&digits);
        self
    }

    pub(crate) fn real(self, value: f64) -> Self {
        self.more(format!("{:016x}", value.to_bits()))
    }

    pub(crate) fn reals(self, values: &[f64]) -> Self {
        values.iter().fold(self, |words, value| words.real(*value))
    }

    pub(crate) fn singles(self, values: &[f32]) -> Self {
        values.iter().fold(self, |words, value| words.more(format!("{:08x}", value.to_bits())))
    }

    /// A `size_t`.
    pub(crate) fn size(self, value: usize) -> Self {
        self.more(format!("{value:016x}"))
    }

    pub(crate) fn whole(self, value: u32) -> Self {
        self.more(format!("{value:08x}"))
    }

    pub(crate) fn byte(self, value: u8) -> Self {
        self.more(format!("{value:02x}"))
    }
}

/// What is written so far.
#[derive(Default)]
pub(crate) struct Script(String);

fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace('\n', "\\n")
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut out, byte| {
        write!(out, "{byte:02x}").expect("a text takes everything");
        out
    })
}

impl Script {
    /// All of it.
    pub(crate) fn text(mut self) -> String {
        self.0.push('\n');
        self.0
    }

    fn line(&mut self, line: impl Display) -> &mut Self {
        writeln!(self.0, "{line}").expect("a text takes everything");
        self
    }

    /// Begins a call.
    pub(crate) fn call(&mut self, function: &str) -> &mut Self {
        self.line(format_args!("\ncall {function}"))
    }

    /// A function that takes no handle, and says something.
    pub(crate) fn plain(&mut self, function: &str, number: Option<u32>, says: &str) {
        let number = number.map_or(String::new(), |number| format!(" {number}"));
        self.line(format_args!("\nplain {function}{number} > text {}", escaped(says)));
    }

    // ---- arguments --------------------------------------------------------------------------------------------------------

    pub(crate) fn handle(&mut self, argument: &str, name: &str) -> &mut Self {
        self.line(format_args!("{argument} = handle {name}"))
    }

    pub(crate) fn handles(&mut self, argument: &str, names: &[String]) -> &mut Self {
        self.line(format_args!("{argument} = handles {}", names.join(" ")))
    }

    pub(crate) fn null(&mut self, argument: &str) -> &mut Self {
        self.line(format_args!("{argument} = null"))
    }

    pub(crate) fn text_of(&mut self, argument: &str, text: &str) -> &mut Self {
        self.line(format_args!("{argument} = text {}", escaped(text)))
    }

    pub(crate) fn size(&mut self, argument: &str, size: usize) -> &mut Self {
        self.line(format_args!("{argument} = size {size}"))
    }

    pub(crate) fn whole(&mut self, argument: &str, number: u32) -> &mut Self {
        self.size(argument, number as usize)
    }

    pub(crate) fn real(&mut self, argument: &str, value: f64) -> &mut Self {
        self.line(format_args!("{argument} = real {}", Words::default().real(value).0))
    }

    pub(crate) fn reals(&mut self, argument: &str, values: &[f64]) -> &mut Self {
        self.line(format_args!("{argument} = words {}", Words::default().reals(values).0))
    }

    // ---- results ----------------------------------------------------------------------------------------------------------

    /// A handle that later calls take.
    pub(crate) fn keeps(&mut self, result: &str, name: &str) -> &mut Self {
        self.line(format_args!("{result} > keep {name}"))
    }

    pub(crate) fn gives(&mut self, result: &str, words: Words) -> &mut Self {
        self.line(format_args!("{result} > words {}", words.0))
    }

    pub(crate) fn gives_reals(&mut self, result: &str, values: &[f64]) -> &mut Self {
        self.gives(result, Words::default().reals(values))
    }

    pub(crate) fn says(&mut self, result: &str, text: &str) -> &mut Self {
        self.line(format_args!("{result} > text {}", escaped(text)))
    }

    /// A document, as `document_out`.
    pub(crate) fn tells(&mut self, told: &impl Serialize) -> &mut Self {
        let json = serde_json::to_string(told).expect("results have names and numbers only");
        self.line(format_args!("document_out > json {}", escaped(&json)))
    }

    /// A file, as `bytes_out`.
    pub(crate) fn file(&mut self, bytes: &[u8]) -> &mut Self {
        self.line(format_args!("bytes_out > bytes {}", hex(bytes)))
    }

    /// Bytes that a handle keeps.
    pub(crate) fn data(&mut self, result: &str, bytes: &[u8]) -> &mut Self {
        self.line(format_args!("{result} > data {}", hex(bytes)))
    }

    /// What all readers of errors say of a failure.
    pub(crate) fn fails(&mut self, error: &Error) -> &mut Self {
        let text = |text: &str| escaped(&text.replace('\0', "\u{fffd}"));
        self.line(format_args!("fails {}", error.faults()[0].kind.code()));
        self.line(format_args!("nw_error_count > size {}", error.faults().len()));
        self.line(format_args!("nw_error_more > size {}", error.more()));
        self.line(format_args!("nw_error_text > text {}", text(&error.to_string())));
        for (i, fault) in error.faults().iter().enumerate().take(4) {
            let [lowest, highest] =
                [fault.lowest.unwrap_or(f64::NEG_INFINITY), fault.highest.unwrap_or(f64::INFINITY)];
            self.line(format_args!("nw_error_code {i} > size {}", fault.kind.code()));
            self.line(format_args!("nw_error_lowest {i} > real {}", Words::default().real(lowest).0));
            self.line(format_args!("nw_error_highest {i} > real {}", Words::default().real(highest).0));
            for (reader, said) in [
                ("path", &fault.path),
                ("value", &fault.value),
                ("unit", &fault.unit.to_owned()),
                ("reason", &fault.reason),
                ("remedy", &fault.remedy),
                ("message", &fault.to_string()),
            ] {
                self.line(format_args!("nw_error_{reader} {i} > text {}", text(said)));
            }
        }
        self
    }

    /// What the function gives, or how it fails.
    pub(crate) fn answer<T>(&mut self, answer: Result<T, Error>, gives: impl FnOnce(&mut Self, T)) {
        match answer {
            Ok(value) => gives(self, value),
            Err(error) => {
                self.fails(&error);
            }
        }
    }
}
