//! Plain words for the bench.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::finding::{Finding, FindingKind};
use super::place::{Place, station_words, stretch_words};
use super::row::{Deviation, Row};
use crate::inspect::Measured;
use crate::measure::Length;
use crate::shape::{Neck, Side};
use crate::spec::BenchUnit;

/// Numbers as the bench reads them.
#[derive(Clone, Copy)]
struct Numbers {
    unit: BenchUnit,
}

impl Numbers {
    /// A length, to as many places as its uncertainty leaves worth reading.
    fn length(self, mm: f64, margin_mm: f64) -> String {
        let mm = libm::fabs(mm);
        match self.unit {
            BenchUnit::Millimetres if margin_mm < 0.095 => format!("{mm:.2} mm"),
            BenchUnit::Millimetres => format!("{mm:.1} mm"),
            BenchUnit::Inches => {
                let inches = Length::from_mm(mm).inches();
                let nearest = Length::from_mm(mm).nearest_64th();
                if nearest.count() >= 1.0 {
                    format!("{inches:.3} in (about {nearest})")
                } else {
                    format!("{inches:.3} in")
                }
            }
        }
    }

    /// A length that nobody measures: whole millimetres, or tenths of an inch.
    fn about(self, mm: f64) -> String {
        match self.unit {
            BenchUnit::Millimetres => format!("{:.0} mm", mm),
            BenchUnit::Inches => format!("{:.1} in", Length::from_mm(mm).inches()),
        }
    }

    /// Twice the standard uncertainty.
    fn margin(self, uncertainty_mm: f64) -> String {
        let mm = 2.0 * uncertainty_mm;
        match self.unit {
            BenchUnit::Millimetres if mm < 0.095 => format!("±{:.2}", mm.max(0.01)),
            BenchUnit::Millimetres => format!("±{mm:.1}"),
            BenchUnit::Inches => format!("±{:.3}", Length::from_mm(mm).inches().max(0.001)),
        }
    }

    fn told(self, d: &Deviation) -> String {
        self.length(d.mm, 2.0 * d.uncertainty_mm)
    }
}

/// All sentences: the findings first, then station by station what is left. Each place is told of once: what a low patch
/// tells is not told again as a hollow, nor by its stations.
pub(crate) fn sentences(
    neck: &Neck,
    rows: &[Row],
    low: &[Finding],
    unfair: &[Finding],
    staged: bool,
    unit: BenchUnit,
) -> Vec<String> {
    let numbers = Numbers { unit };
    let told = |f: &&Finding| {
        // One section's part of a patch along the neck.
        f.around_mm.is_none() || !low.iter().any(|other| other.around_mm.is_none() && other.meets(f))
    };
    let mut all: Vec<String> = low.iter().filter(told).map(|f| low_sentence(neck, f, numbers)).collect();
    let apart = |f: &&Finding| f.kind == FindingKind::Bump || !low.iter().any(|other| other.meets(f));
    all.extend(unfair.iter().filter(apart).map(|f| unfair_sentence(neck, f, numbers)));
    // A reading that stands well above its patch is told all the same.
    let stands = |row: &Row| row.finished.is_some_and(|d| d.score() > SURE);
    let open = |row: &&Row| stands(row) || !low.iter().any(|f| f.holds(row));
    let mut rest = rows;
    let mut here: Vec<Row> = Vec::new();
    while let Some(first) = rest.first() {
        let n = rest.partition_point(|row| row.x_mm - first.x_mm < 0.1).max(1);
        let (these, after) = rest.split_at(n);
        here.clear();
        here.extend(these.iter().filter(open));
        if !here.is_empty() {
            station_sentences(neck, &here, staged, numbers, &mut all);
        }
        rest = after;
    }
    all
}

/// How many standard uncertainties make a difference worth telling.
const SURE: f64 = 2.0;

fn low_sentence(neck: &Neck, f: &Finding, numbers: Numbers) -> String {
    let amount = numbers.length(f.amplitude_mm, 2.0 * f.uncertainty_mm);
    let margin = numbers.margin(f.uncertainty_mm);
    let at = stretch_words(neck, f.x_mm);
    match f.place {
        Place::Width => format!("{at}: {amount} too narrow ({margin}); the sides have to come in to it"),
        Place::Girth => {
            format!("{at}: the girth is {amount} too small ({margin}); more is gone than should be")
        }
        Place::CarveLine(_) => {
            format!(
                "{at}: {} lies {amount} too high ({margin}); the sides are carved too far up",
                f.place.name()
            )
        }
        Place::Spine => {
            format!("{at}: {amount} too low at the spine ({margin}); the whole neck has to come down to it")
        }
        place => {
            format!(
                "{at}: {amount} too low {} ({margin}); what is around it has to come down to it",
                place.wherein()
            )
        }
    }
}

fn unfair_sentence(neck: &Neck, f: &Finding, numbers: Numbers) -> String {
    let amount = numbers.length(f.amplitude_mm, 2.0 * f.uncertainty_mm);
    let margin = numbers.margin(f.uncertainty_mm);
    let at = stretch_words(neck, f.x_mm);
    let side = if f.kind == FindingKind::Bump { "above" } else { "below" };
    let what = f.kind.name();
    match f.around_mm {
        Some([from, to]) => {
            let wide = numbers.about(to - from);
            let wherein = f.place.wherein();
            format!("{at}: a {what} {wherein}, about {wide} wide, {amount} {side} the fair curve ({margin})")
        }
        None => format!("{at}: a {what} along the spine, {amount} {side} the fair line ({margin})"),
    }
}

/// The weighted mean of the deviations at one place.
struct Mean {
    place: Place,
    target: Deviation,
    finished: Option<Deviation>,
}

fn mean(place: Place, rows: &[Row], staged: bool) -> Option<Mean> {
    let of = |which: &dyn Fn(&Row) -> Option<Deviation>| {
        let all = rows.iter().filter(|r| r.place == place && !matches!(r.measured, Measured::Radius));
        let (mut weight, mut sum) = (0.0, 0.0);
        for d in all.filter_map(which) {
            let w = 1.0 / (d.uncertainty_mm * d.uncertainty_mm);
            weight += w;
            sum += w * d.mm;
        }
        (weight > 0.0).then(|| Deviation { mm: sum / weight, uncertainty_mm: 1.0 / libm::sqrt(weight) })
    };
    let finished = of(&|r| r.finished);
    let target = if staged { of(&|r| r.stage) } else { None };
    let apart = target.is_some();
    Some(Mean { place, target: target.or(finished)?, finished: finished.filter(|_| apart) })
}

fn station_sentences(neck: &Neck, rows: &[Row], staged: bool, numbers: Numbers, out: &mut Vec<String>) {
    let at = station_words(neck, rows.first().map_or(0.0, |r| r.x_mm));
    let mut back: Vec<Mean> = [
        Place::Spine,
        Place::Shoulder(Side::Bass),
        Place::Shoulder(Side::Treble),
        Place::Edge(Side::Bass),
        Place::Edge(Side::Treble),
    ]
    .into_iter()
    .filter_map(|place| mean(place, rows, staged))
    .collect();
    back.sort_by(|a, b| b.target.mm.total_cmp(&a.target.mm));
    if let (Some(most), Some(least)) = (back.first(), back.last()) {
        out.push(back_sentence(&at, most, back.get(1), least, numbers));
    }
    let others = [
        Place::Width,
        Place::Girth,
        Place::CarveLine(Side::Bass),
        Place::CarveLine(Side::Treble),
        Place::Board,
    ];
    for other in others.into_iter().filter_map(|place| mean(place, rows, staged)) {
        out.push(back_sentence(&at, &other, None, &other, numbers));
    }
    for row in rows.iter().filter(|r| r.measured == Measured::Radius) {
        if let Some(d) = row.stage.or(row.finished) {
            out.push(radius_sentence(&at, &d, numbers));
        }
    }
}

fn back_sentence(at: &str, most: &Mean, next: Option<&Mean>, least: &Mean, numbers: Numbers) -> String {
    let d = &most.target;
    let margin = numbers.margin(d.uncertainty_mm);
    if d.score() > SURE {
        let wherein = most.place.wherein();
        let place = match next {
            None => format!(" {wherein}"),
            Some(next) => {
                let unsure = libm::hypot(d.uncertainty_mm, next.target.uncertainty_mm);
                if d.mm - next.target.mm > SURE * unsure {
                    format!(", most {wherein}")
                } else {
                    String::new()
                }
            }
        };
        let further = most.finished.as_ref().filter(|f| f.score() > SURE);
        let further = further
            .map_or(String::new(), |f| format!("; {} {wherein} to the finished neck", numbers.told(f)));
        return format!("{at}: {} still to come off{place} ({margin}){further}", numbers.told(d));
    }
    let d = &least.target;
    if d.score() < -SURE {
        let (amount, margin) = (numbers.told(d), numbers.margin(d.uncertainty_mm));
        let wherein = least.place.wherein();
        return if least.finished.is_some() {
            format!("{at}: past this stage by {amount} {wherein} ({margin})")
        } else {
            format!(
                "{at}: perhaps {amount} too low {wherein} ({margin}); read again before anything is taken there"
            )
        };
    }
    let further = most.finished.as_ref().filter(|f| f.score() > SURE);
    let further = further.map_or(String::new(), |f| format!("; {} to the finished neck", numbers.told(f)));
    let wherein = most.place.wherein();
    format!("{at}: no difference {wherein} that these readings can tell ({margin}){further}")
}

fn radius_sentence(at: &str, d: &Deviation, numbers: Numbers) -> String {
    let margin = numbers.margin(d.uncertainty_mm);
    if libm::fabs(d.score()) <= SURE {
        return format!("{at}: the board's radius is right as far as this reading can tell ({margin})");
    }
    let (amount, flatter) = (numbers.told(d), if d.mm > 0.0 { "larger" } else { "smaller" });
    format!("{at}: the board's radius is {amount} {flatter} than it should be ({margin})")
}
