//! What reading a document and checking a typed one have in common: where they are, the faults
//! found, and the bounds.

use alloc::format;
use alloc::string::{String, ToString};

use super::visit::About;
use crate::measure::{Bound, Fault, Faults, Kind, Station, quoted};

/// Where a look over a document is, and what it found.
#[derive(Default)]
pub(crate) struct Look {
    pub(crate) path: String,
    pub(crate) faults: Faults,
}

impl Look {
    /// Goes into a field for the time of `work`.
    pub(crate) fn at_key(&mut self, key: &str, work: impl FnOnce(&mut Self)) {
        let length = self.path.len();
        if length > 0 {
            self.path.push('.');
        }
        self.path.push_str(key);
        work(self);
        self.path.truncate(length);
    }

    /// Goes into an entry of a list for the time of `work`.
    pub(crate) fn at_index(&mut self, index: usize, work: impl FnOnce(&mut Self)) {
        let length = self.path.len();
        self.path += &format!("[{index}]");
        work(self);
        self.path.truncate(length);
    }

    /// Notes a fault here.
    pub(crate) fn fault(&mut self, fault: impl FnOnce(&str) -> Fault) {
        let path = &self.path;
        self.faults.add(|| fault(path));
    }

    /// Holds a number against its bound; `given` is how the document wrote it, where that was a text.
    pub(crate) fn number(
        &mut self,
        bound: Option<Bound>,
        unit: &'static str,
        value: f64,
        given: Option<&str>,
    ) {
        // Without bounds of its own a number still has to be one.
        let finite = Bound { lowest: f64::MIN, highest: f64::MAX, why: "a number is finite" };
        let path = &self.path;
        if let Some(mut fault) = bound.unwrap_or(finite).fault(path, value, unit) {
            if let Some(text) = given {
                fault.value = format!("{} = {}", quoted(text), fault.value);
                // A text says which unit it means.
                if text.contains(|c: char| c.is_alphabetic() || matches!(c, '"' | '\u{2033}')) {
                    fault.remedy.truncate(fault.remedy.find(", or ").unwrap_or(fault.remedy.len()));
                }
            }
            self.faults.add(|| fault);
        }
    }

    pub(crate) fn station(&mut self, station: Station, given: Option<&str>) {
        match station {
            Station::Mm(mm) => self.number(Some(Station::MM), "mm", mm, given),
            Station::Fret(fret) => {
                let path = &self.path;
                if let Some(mut fault) = Station::FRET.fault(path, fret, "") {
                    fault.value = given.map_or_else(|| station.to_string(), quoted);
                    self.faults.add(|| fault);
                }
            }
        }
    }

    /// Holds the length of a list or text against its bound.
    pub(crate) fn size(&mut self, about: &About, count: usize, unit: &'static str) {
        let Some(size) = about.size else { return };
        let counted = count as f64;
        if size.contains(counted) {
            return;
        }
        self.fault(|path| {
            let few = counted < size.lowest;
            let (kind, remedy) = if few {
                (Kind::Missing, format!("give at least {}", size.lowest))
            } else {
                (Kind::TooLarge, format!("give at most {}", size.highest))
            };
            Fault::new(kind, path, size.why)
                .value(count, unit)
                .range(size.lowest, size.highest)
                .remedy(remedy)
        });
    }

    pub(crate) fn text(&mut self, about: &About, text: &str) {
        self.size(about, text.chars().count(), "characters");
        if text.chars().any(char::is_control) {
            self.fault(|path| {
                Fault::new(Kind::Unreadable, path, "a text with a control character can't stand on a drawing")
                    .value(quoted(text), "")
                    .remedy("take out line breaks, tabs and the like")
            });
        }
    }
}
