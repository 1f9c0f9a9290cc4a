//! Plain words for the bench.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::Write;

use super::doubt::Doubt;
use super::finding::{Finding, FindingKind, Lowest};
use super::found::Found;
use super::place::Place;
use super::row::{Deviation, Row};
use super::station::station_sentences;
use crate::inspect::Readings;
use crate::inspect::along::{at_station, push_station, station_words, stretch_words};
use crate::inspect::fixed::push_fixed;
use crate::inspect::lengths::about_words;
use crate::inspect::mendable::{back_comes_down, edges_come_in};
use crate::measure::Length;
use crate::shape::Neck;
use crate::spec::BenchUnit;

/// Numbers as the bench reads them.
#[derive(Clone, Copy)]
pub(super) struct Numbers {
    unit: BenchUnit,
}

/// What is written, by itself.
fn written(push: impl FnOnce(&mut String)) -> String {
    let mut out = String::new();
    push(&mut out);
    out
}

impl Numbers {
    /// Writes a length, to as many places as its uncertainty leaves worth reading.
    fn push_length(self, out: &mut String, mm: f64, margin_mm: f64) {
        let mm = libm::fabs(mm);
        match self.unit {
            BenchUnit::Millimetres => {
                push_fixed(out, mm, if margin_mm < 0.095 { 2 } else { 1 });
                out.push_str(" mm");
            }
            BenchUnit::Inches => {
                push_fixed(out, Length::from_mm(mm).inches(), 3);
                out.push_str(" in");
                let nearest = Length::from_mm(mm).nearest_64th();
                if nearest.count() >= 1.0 {
                    // Writing to a string can't fail.
                    write!(out, " (about {nearest})").unwrap_or_default();
                }
            }
        }
    }

    fn length(self, mm: f64, margin_mm: f64) -> String {
        written(|out| self.push_length(out, mm, margin_mm))
    }

    /// Writes twice the standard uncertainty.
    pub(super) fn push_margin(self, out: &mut String, uncertainty_mm: f64) {
        let mm = 2.0 * uncertainty_mm;
        out.push('±');
        match self.unit {
            BenchUnit::Millimetres if mm < 0.095 => push_fixed(out, mm.max(0.01), 2),
            BenchUnit::Millimetres => push_fixed(out, mm, 1),
            BenchUnit::Inches => push_fixed(out, Length::from_mm(mm).inches().max(0.001), 3),
        }
    }

    pub(super) fn margin(self, uncertainty_mm: f64) -> String {
        written(|out| self.push_margin(out, uncertainty_mm))
    }

    /// Writes how much a deviation is.
    pub(super) fn push_told(self, out: &mut String, d: &Deviation) {
        self.push_length(out, d.mm, 2.0 * d.uncertainty_mm);
    }

    pub(super) fn told(self, d: &Deviation) -> String {
        written(|out| self.push_told(out, d))
    }
}

/// Readings that can't be right.
#[derive(Clone, Copy)]
pub(crate) struct Wrong<'a> {
    pub doubtful: &'a [Doubt],
    pub misread: &'a [usize],
}

/// All of them, rising.
pub(super) fn set_aside(doubtful: &[Doubt], misread: &[usize]) -> Vec<usize> {
    let mut all: Vec<usize> =
        doubtful.iter().flat_map(|doubt| doubt.readings).chain(misread.iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// All sentences: doubtful readings first, then the findings, then station by station what is left. Each place is told of once: what a low patch
/// tells is not told again as a hollow, nor by its stations.
pub(crate) fn sentences(
    neck: &Neck,
    readings: &Readings,
    rows: &[Row],
    Wrong { doubtful, misread }: Wrong<'_>,
    [low, unfair]: [&[Finding]; 2],
    staged: bool,
    unit: BenchUnit,
) -> Vec<String> {
    let numbers = Numbers { unit };
    let found = Found::new(low);
    let told = |f: &&Finding| {
        // One section's part of a patch along the neck, and nowhere lower than that.
        let whole = |other: &&Finding| other.around_mm.is_none() && other.meets(f);
        f.around_mm.is_none() || !found.near(f.x_mm).filter(whole).any(|other| !is_lower(f, other))
    };
    let mut all: Vec<String> = Vec::new();
    all.extend(doubtful.iter().map(|d| doubt_sentence(neck, readings, d, numbers)));
    let misread_rows = rows.iter().filter(|row| misread.binary_search(&row.reading).is_ok());
    all.extend(misread_rows.filter_map(|row| misread_sentence(neck, readings, row, numbers)));
    all.extend(low.iter().filter(told).map(|f| low_sentence(neck, f, numbers)));
    let apart = |f: &&Finding| f.kind == FindingKind::Bump || !found.near(f.x_mm).any(|other| other.meets(f));
    all.extend(unfair.iter().filter(apart).map(|f| unfair_sentence(neck, f, numbers)));
    // A reading that stands well above its patch is told all the same.
    let stands = |row: &Row| row.finished.is_some_and(|d| d.score() > SURE);
    let aside = set_aside(doubtful, misread);
    let counts = |row: &Row| aside.binary_search(&row.reading).is_err();
    let open = |row: &&Row| counts(row) && (stands(row) || !found.near([row.x_mm; 2]).any(|f| f.holds(row)));
    let mut rest = rows;
    let (mut here, mut at): (Vec<&Row>, String) = Default::default();
    while let Some(first) = rest.first() {
        let n = rest.partition_point(|row| row.x_mm - first.x_mm < 0.1).max(1);
        let (these, after) = rest.split_at(n);
        here.clear();
        here.extend(these.iter().filter(open));
        if let Some(first) = here.first() {
            at.clear();
            push_station(&mut at, neck, first.x_mm);
            station_sentences(&at, &here, staged, numbers, &mut all);
        }
        rest = after;
    }
    all
}

/// Whether a patch lies lower somewhere than another on the whole.
fn is_lower(f: &Finding, other: &Finding) -> bool {
    f.lowest.is_some_and(|Lowest { deviation: d, .. }| {
        other.amplitude_mm - d.mm > SURE * libm::hypot(d.uncertainty_mm, other.uncertainty_mm)
    })
}

/// How many standard uncertainties make a difference worth telling.
pub(super) const SURE: f64 = 2.0;

/// A reading by what it is of, and its line, or its number where it has none.
fn reading_words(readings: &Readings, place: usize) -> String {
    let reading = readings.readings().get(place);
    let what = reading.map_or("reading", |reading| reading.measured.quantity().name());
    match reading.map_or(0, |reading| reading.line) {
        0 => format!("the {what} of readings[{}]", readings.number(place)),
        line => format!("the {what} of line {line}"),
    }
}

/// A reading that is likelier misread than true.
fn misread_sentence(neck: &Neck, readings: &Readings, row: &Row, numbers: Numbers) -> Option<String> {
    let d = row.finished.as_ref()?;
    let (at, which) = (station_words(neck, row.x_mm), reading_words(readings, row.reading));
    let (amount, margin) = (numbers.told(d), numbers.margin(d.uncertainty_mm));
    Some(format!(
        "{at}: {which} lies {amount} below the finished neck ({margin}), more than any tool takes by mistake: it is likelier \
         misread, or of another neck; read again"
    ))
}

/// Two readings that contradict each other, by their lines, or by their numbers where they have none.
fn doubt_sentence(neck: &Neck, readings: &Readings, doubt: &Doubt, numbers: Numbers) -> String {
    let at = station_words(neck, doubt.x_mm);
    let [a, b] = doubt.readings.map(|place| reading_words(readings, place));
    let (amount, margin) = (numbers.told(&doubt.apart), numbers.margin(doubt.apart.uncertainty_mm));
    format!("{at}: {a} and {b} contradict each other by {amount} ({margin}): read again")
}

fn low_sentence(neck: &Neck, f: &Finding, numbers: Numbers) -> String {
    let amount = numbers.length(f.amplitude_mm, 2.0 * f.uncertainty_mm);
    let margin = numbers.margin(f.uncertainty_mm);
    let at = stretch_words(neck, f.x_mm);
    let (what, then) = match f.place {
        Place::Width => (format!("{amount} too narrow"), "the sides have to come in to it"),
        Place::Girth => (format!("the girth is {amount} too small"), "more is gone than should be"),
        Place::CarveLine(_) => {
            let name = f.place.name();
            (format!("{name} lies {amount} too high up"), "the sides are carved too far up")
        }
        Place::Spine => (format!("{amount} too low at the spine"), "the neck has to come down to it"),
        place => {
            (format!("{amount} too low {}", place.wherein()), "what is around it has to come down to it")
        }
    };
    let then = fixed_part(neck, f).unwrap_or(then);
    let lowest = lowest_words(neck, f, numbers);
    format!("{at}: {what} ({margin}){lowest}; {then}")
}

/// What is said instead where mending changes nothing.
fn fixed_part(neck: &Neck, f: &Finding) -> Option<&'static str> {
    let [from, to] = f.x_mm;
    let changes = match f.place {
        Place::Girth => return None,
        Place::Width => edges_come_in,
        _ => back_comes_down,
    };
    let fixed = [from, 0.5 * (from + to), to].iter().all(|x| !changes(neck, *x));
    let headstock = "no mending changes the headstock";
    let block = "no mending changes the heel block";
    fixed.then_some(if to <= neck.built().sweep.start { headstock } else { block })
}

/// How low a patch lies where it is lowest, if that is further than its mean.
fn lowest_words(neck: &Neck, f: &Finding, numbers: Numbers) -> String {
    let Some(lowest) = f.lowest else { return String::new() };
    let d = &lowest.deviation;
    if f.amplitude_mm - d.mm <= SURE * d.uncertainty_mm {
        return String::new();
    }
    let wherein = match f.around_mm {
        Some(_) => String::new(),
        None => format!(" {}", at_station(neck, lowest.x_mm)),
    };
    format!(" on average, at its lowest {}{wherein} ({})", numbers.told(d), numbers.margin(d.uncertainty_mm))
}

fn unfair_sentence(neck: &Neck, f: &Finding, numbers: Numbers) -> String {
    let amount = numbers.length(f.amplitude_mm, 2.0 * f.uncertainty_mm);
    let margin = numbers.margin(f.uncertainty_mm);
    let at = stretch_words(neck, f.x_mm);
    let side = if f.kind == FindingKind::Bump { "above" } else { "below" };
    let what = f.kind.name();
    match f.around_mm {
        Some([from, to]) => {
            let wide = about_words(to - from, numbers.unit);
            let wherein = f.place.wherein();
            format!("{at}: a {what} {wherein}, about {wide} wide, {amount} {side} the fair curve ({margin})")
        }
        None => format!("{at}: a {what} along the spine, {amount} {side} the fair line ({margin})"),
    }
}
