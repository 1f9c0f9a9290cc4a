//! What is told of one station: what is still on, and what is perhaps gone too far.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::place::Place;
use super::row::{Deviation, Row};
use super::sentence::{Numbers, SURE, words};
use crate::inspect::Measured;
use crate::inspect::along::station_words;
use crate::shape::{Neck, Side};

/// The weighted mean of the deviations at one place.
struct Mean {
    place: Place,
    target: Deviation,
    /// Against the finished neck, where that is not the target.
    finished: Option<Deviation>,
}

impl Mean {
    fn of<'a>(place: Place, rows: impl Iterator<Item = &'a Row> + Clone, staged: bool) -> Option<Self> {
        let of = |which: &dyn Fn(&Row) -> Option<Deviation>| {
            let (mut weight, mut sum) = (0.0, 0.0);
            for d in rows.clone().filter_map(which) {
                let w = 1.0 / (d.uncertainty_mm * d.uncertainty_mm);
                weight += w;
                sum += w * d.mm;
            }
            (weight > 0.0).then(|| Deviation { mm: sum / weight, uncertainty_mm: 1.0 / libm::sqrt(weight) })
        };
        let finished = of(&|r| r.finished);
        let target = if staged { of(&|r| r.stage) } else { None };
        let apart = target.is_some();
        Some(Self { place, target: target.or(finished)?, finished: finished.filter(|_| apart) })
    }

    /// Against the finished neck.
    fn last(&self) -> &Deviation {
        self.finished.as_ref().unwrap_or(&self.target)
    }

    fn is_low(&self) -> bool {
        self.last().score() < -SURE
    }

    /// The wood over the finished neck, where it is something else than what is over the stage.
    fn further(&self, numbers: Numbers) -> Option<String> {
        let finished = self.finished.as_ref().filter(|f| f.score() > SURE)?;
        let told = numbers.told(finished).to_string();
        (self.target.mm < 0.0 || told != numbers.told(&self.target).to_string()).then_some(told)
    }
}

/// Points nearer together around a section than this are one spot, mm.
const ONE_SPOT_MM: f64 = 0.05;

/// The readings of one place spot by spot, those that are low first, each with its own mean, then the mean of the rest.
fn spots(place: Place, rows: &[&Row], staged: bool) -> (Option<Mean>, Option<Mean>) {
    let its = |r: &&Row| r.place == place && !matches!(r.measured, Measured::Radius);
    let mut here: Vec<&Row> = rows.iter().copied().filter(its).collect();
    // All that was read without a place around is read at the same one.
    here.sort_by(|a, b| {
        let key = |r: &Row| r.around_mm.unwrap_or(f64::NEG_INFINITY);
        key(a).total_cmp(&key(b))
    });
    let one = |a: &&Row, b: &&Row| match (a.around_mm, b.around_mm) {
        (Some(a), Some(b)) => b - a < ONE_SPOT_MM,
        (None, None) => true,
        _ => false,
    };
    let mut lowest: Option<Mean> = None;
    let mut rest: Vec<&Row> = Vec::with_capacity(here.len());
    for spot in here.chunk_by(one) {
        match Mean::of(place, spot.iter().copied(), staged) {
            Some(mean) if mean.is_low() => {
                if lowest.as_ref().is_none_or(|low| mean.last().mm < low.last().mm) {
                    lowest = Some(mean);
                }
            }
            _ => rest.extend(spot),
        }
    }
    let rest = Mean::of(place, rest.into_iter(), staged);
    match rest {
        // None of them by itself, but all of them together.
        Some(mean) if mean.is_low() => (lowest.or(Some(mean)), None),
        rest => (lowest, rest),
    }
}

pub(super) fn station_sentences(
    neck: &Neck,
    rows: &[&Row],
    staged: bool,
    numbers: Numbers,
    out: &mut Vec<String>,
) {
    let at = station_words(neck, rows.first().map_or(0.0, |r| r.x_mm));
    let back = [
        Place::Spine,
        Place::Shoulder(Side::Bass),
        Place::Shoulder(Side::Treble),
        Place::Edge(Side::Bass),
        Place::Edge(Side::Treble),
    ];
    let others = [
        Place::Width,
        Place::Girth,
        Place::CarveLine(Side::Bass),
        Place::CarveLine(Side::Treble),
        Place::Board,
    ];
    let each = others.iter().map(core::slice::from_ref);
    for places in core::iter::once(back.as_slice()).chain(each) {
        let (mut low, mut rest) = (Vec::new(), Vec::new());
        for place in places {
            let (lowest, others) = spots(*place, rows, staged);
            low.extend(lowest);
            rest.extend(others);
        }
        low.sort_by(|a, b| a.last().mm.total_cmp(&b.last().mm));
        rest.sort_by(|a, b| b.target.mm.total_cmp(&a.target.mm));
        if let Some(words) = sentence(&rest, &low, numbers) {
            out.push(format!("{at}: {words}"));
        }
    }
    for row in rows.iter().filter(|r| r.measured == Measured::Radius) {
        if let Some(d) = row.stage.or(row.finished) {
            out.push(radius_sentence(&at, &d, numbers));
        }
    }
}

/// What is told of some places together: what lies out the furthest, what is past the stage, and all that is low.
fn sentence(rest: &[Mean], low: &[Mean], numbers: Numbers) -> Option<String> {
    let mut parts: Vec<String> = Vec::new();
    let most = rest.first();
    if let Some(most) = most.filter(|m| m.target.score() > SURE) {
        parts.push(over(most, rest.get(1), low.is_empty(), numbers));
    }
    // What is low is told as past the stage too where that is further.
    let apart = |m: &&Mean| {
        m.finished.is_some_and(|f| numbers.told(&f).to_string() != numbers.told(&m.target).to_string())
    };
    let all = rest.iter().chain(low.iter().filter(apart)).filter(|m| m.target.score() < -SURE);
    if let Some(past) = all.min_by(|a, b| a.target.mm.total_cmp(&b.target.mm)) {
        let (amount, margin) = (numbers.told(&past.target), numbers.margin(past.target.uncertainty_mm));
        let wherein = past.place.words();
        let further = past.further(numbers).map_or(String::new(), |f| format!("; {f} to the finished neck"));
        parts.push(format!("past this stage by {amount} {wherein} ({margin}){further}"));
    }
    if !low.is_empty() {
        parts.push(perhaps(low, numbers));
    }
    if let Some(most) = most.filter(|_| parts.is_empty()) {
        let further = most.further(numbers).map_or(String::new(), |f| format!("; {f} to the finished neck"));
        let wherein = most.place.words();
        let margin = numbers.margin(most.target.uncertainty_mm);
        parts.push(format!("no difference {wherein} that these readings can tell ({margin}){further}"));
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}

fn over(most: &Mean, next: Option<&Mean>, alone: bool, numbers: Numbers) -> String {
    let d = &most.target;
    let margin = numbers.margin(d.uncertainty_mm);
    let wherein = most.place.words();
    let unsure = |next: &Mean| libm::hypot(d.uncertainty_mm, next.target.uncertainty_mm);
    let place = words(|f| match next {
        Some(next) if d.mm - next.target.mm > SURE * unsure(next) => write!(f, ", most {wherein}"),
        Some(_) if alone => Ok(()),
        // Elsewhere it is low.
        _ => write!(f, " {wherein}"),
    });
    let further = most.further(numbers);
    let further = further.map_or(String::new(), |f| format!("; {f} {wherein} to the finished neck"));
    format!("{} still to come off{place} ({margin}){further}", numbers.told(d))
}

/// What is perhaps too low, place by place.
fn perhaps(low: &[Mean], numbers: Numbers) -> String {
    let told = |m: &Mean| {
        let d = m.last();
        let (amount, margin) = (numbers.told(d), numbers.margin(d.uncertainty_mm));
        match m.place {
            Place::Width => format!("{amount} too narrow ({margin})"),
            Place::Girth => format!("{amount} too small in the girth ({margin})"),
            Place::CarveLine(_) => format!("{amount} too high up {} ({margin})", m.place.words()),
            place if m.finished.is_some() => {
                format!("{amount} too low {} for the finished neck ({margin})", place.words())
            }
            place => format!("{amount} too low {} ({margin})", place.words()),
        }
    };
    let all: Vec<String> = low.iter().map(told).collect();
    format!("perhaps {}; read again before anything is taken there", all.join(", and "))
}

fn radius_sentence(at: &str, d: &Deviation, numbers: Numbers) -> String {
    let margin = numbers.margin(d.uncertainty_mm);
    if libm::fabs(d.score()) <= SURE {
        return format!("{at}: the board's radius is right as far as this reading can tell ({margin})");
    }
    let (amount, flatter) = (numbers.told(d), if d.mm > 0.0 { "larger" } else { "smaller" });
    format!("{at}: the board's radius is {amount} {flatter} than it should be ({margin})")
}
