//! What is told of one station: what is still on, and what is perhaps gone too far.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use smallvec::SmallVec;

use super::place::Place;
use super::row::{Deviation, Row};
use super::sentence::{Numbers, SURE};
use crate::inspect::Measured;

/// The weighted mean of the deviations at one place.
struct Mean {
    place: Place,
    target: Deviation,
    /// Against the finished neck, where that is not the target.
    finished: Option<Deviation>,
}

impl Mean {
    fn of(place: Place, rows: &[&Row], staged: bool) -> Option<Self> {
        fn of(rows: &[&Row], which: impl Fn(&Row) -> Option<Deviation>) -> Option<Deviation> {
            if let [row] = rows {
                return which(row);
            }
            let (mut weight, mut sum) = (0.0, 0.0);
            for d in rows.iter().filter_map(|row| which(row)) {
                let w = 1.0 / (d.uncertainty_mm * d.uncertainty_mm);
                weight += w;
                sum += w * d.mm;
            }
            (weight > 0.0).then(|| Deviation { mm: sum / weight, uncertainty_mm: 1.0 / libm::sqrt(weight) })
        }
        let finished = of(rows, |r| r.finished);
        let target = if staged { of(rows, |r| r.stage) } else { None };
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
        let told = numbers.told(finished);
        (self.target.mm < 0.0 || told != numbers.told(&self.target)).then_some(told)
    }
}

/// The places that one sentence tells of.
type Means = SmallVec<[Mean; 5]>;

/// As long as most sentences are.
const LONG: usize = 96;

/// Points nearer together around a section than this are one spot, mm.
const ONE_SPOT_MM: f64 = 0.05;

/// The readings of one place, in order around, spot by spot: those that are low first, each with its own mean, then the mean
/// of the rest.
fn spots(place: Place, rows: &[&Row], staged: bool) -> (Option<Mean>, Option<Mean>) {
    // All that was read without a place around is read at the same one.
    let one = |a: &&Row, b: &&Row| match (a.around_mm, b.around_mm) {
        (Some(a), Some(b)) => b - a < ONE_SPOT_MM,
        (None, None) => true,
        _ => false,
    };
    let is_low = |spot: &&[&Row]| Mean::of(place, spot, staged).filter(Mean::is_low);
    let low = rows.chunk_by(one).filter_map(|spot| is_low(&spot));
    let lowest = low.min_by(|a, b| a.last().mm.total_cmp(&b.last().mm));
    let rest = if lowest.is_none() {
        Mean::of(place, rows, staged)
    } else {
        let rest = rows.chunk_by(one).filter(|spot| is_low(spot).is_none());
        Mean::of(place, &rest.flatten().copied().collect::<Vec<_>>(), staged)
    };
    match rest {
        // None of them by itself, but all of them together.
        Some(mean) if mean.is_low() => (lowest.or(Some(mean)), None),
        rest => (lowest, rest),
    }
}

/// A station's readings in order: place by place, all radii last, and around. Most come place by place.
fn in_order<'a>(rows: &[&'a Row]) -> SmallVec<[&'a Row; 32]> {
    let around = |r: &&Row| r.around_mm.unwrap_or(f64::NEG_INFINITY);
    let key = |r: &Row| if r.measured == Measured::Radius { u8::MAX } else { r.place.rank() };
    let mut parts: SmallVec<[&[&Row]; 8]> = rows.chunk_by(|a, b| key(a) == key(b)).collect();
    parts.sort_by_key(|part| part.first().map(|row| key(row)));
    let mut rows: SmallVec<[&Row; 32]> = SmallVec::with_capacity(rows.len());
    parts.iter().for_each(|part| rows.extend_from_slice(part));
    for here in rows.chunk_by_mut(|a, b| key(a) == key(b)) {
        if !here.is_sorted_by(|a, b| around(a) <= around(b)) {
            here.sort_by(|a, b| around(a).total_cmp(&around(b)));
        }
    }
    rows
}

/// The sentences of one station, by its words.
pub(super) fn station_sentences(
    at: &str,
    rows: &[&Row],
    staged: bool,
    numbers: Numbers,
    out: &mut Vec<String>,
) {
    let is_radius = |r: &Row| r.measured == Measured::Radius;
    let rows = in_order(rows);
    let (rows, radii) = rows.split_at(rows.partition_point(|r| !is_radius(r)));
    for places in rows.chunk_by(|a, b| a.place.beside(b.place)) {
        let (mut low, mut rest) = (Means::new(), Means::new());
        for here in places.chunk_by(|a, b| a.place == b.place) {
            let Some(first) = here.first() else { continue };
            let (lowest, others) = spots(first.place, here, staged);
            low.extend(lowest);
            rest.extend(others);
        }
        low.sort_by(|a, b| a.last().mm.total_cmp(&b.last().mm));
        rest.sort_by(|a, b| b.target.mm.total_cmp(&a.target.mm));
        out.extend(sentence(at, &rest, &low, numbers));
    }
    for row in radii {
        if let Some(d) = row.stage.or(row.finished) {
            out.push(radius_sentence(at, &d, numbers));
        }
    }
}

/// What is told of some places together: what lies out the furthest, what is past the stage, and all that is low.
fn sentence(at: &str, rest: &[Mean], low: &[Mean], numbers: Numbers) -> Option<String> {
    let mut told = String::with_capacity(LONG);
    told.push_str(at);
    let go_on = |told: &mut String| told.push_str(if told.len() == at.len() { ": " } else { "; " });
    let finish = |told: &mut String, mean: &Mean| {
        told.push_str(" (");
        numbers.push_margin(told, mean.target.uncertainty_mm);
        told.push(')');
    };
    let further = |told: &mut String, mean: &Mean, wherein: Option<Place>| {
        if let Some(further) = mean.further(numbers) {
            told.push_str("; ");
            told.push_str(&further);
            if let Some(place) = wherein {
                told.push(' ');
                place.push_wherein(told);
            }
            told.push_str(" to the finished neck");
        }
    };
    let most = rest.first();
    if let Some(most) = most.filter(|m| m.target.score() > SURE) {
        go_on(&mut told);
        over(&mut told, most, rest.get(1), low.is_empty(), numbers);
        finish(&mut told, most);
        further(&mut told, most, Some(most.place));
    }
    // What is low is told as past the stage too where that is further.
    let apart = |m: &&Mean| m.finished.is_some_and(|f| numbers.told(&f) != numbers.told(&m.target));
    let all = rest.iter().chain(low.iter().filter(apart)).filter(|m| m.target.score() < -SURE);
    if let Some(past) = all.min_by(|a, b| a.target.mm.total_cmp(&b.target.mm)) {
        go_on(&mut told);
        told.push_str("past this stage by ");
        numbers.push_told(&mut told, &past.target);
        told.push(' ');
        past.place.push_wherein(&mut told);
        finish(&mut told, past);
        further(&mut told, past, None);
    }
    if !low.is_empty() {
        go_on(&mut told);
        told.push_str(&perhaps(low, numbers));
    }
    if let Some(most) = most.filter(|_| told.len() == at.len()) {
        go_on(&mut told);
        told.push_str("no difference ");
        most.place.push_wherein(&mut told);
        told.push_str(" that these readings can tell");
        finish(&mut told, most);
        further(&mut told, most, None);
    }
    (told.len() > at.len()).then_some(told)
}

/// Writes what lies out the furthest.
fn over(told: &mut String, most: &Mean, next: Option<&Mean>, alone: bool, numbers: Numbers) {
    let d = &most.target;
    numbers.push_told(told, d);
    told.push_str(" still to come off");
    let unsure = |next: &Deviation| libm::hypot(d.uncertainty_mm, next.uncertainty_mm);
    match next.map(|next| &next.target) {
        Some(next) if d.mm - next.mm > SURE * unsure(next) => {
            told.push_str(", most ");
            most.place.push_wherein(told);
        }
        Some(_) if alone => (),
        // Elsewhere it is low.
        _ => {
            told.push(' ');
            most.place.push_wherein(told);
        }
    }
}

/// What is perhaps too low, place by place.
fn perhaps(low: &[Mean], numbers: Numbers) -> String {
    let told = |m: &Mean| {
        let d = m.last();
        let (amount, margin) = (numbers.told(d), numbers.margin(d.uncertainty_mm));
        match m.place {
            Place::Width => format!("{amount} too narrow ({margin})"),
            Place::Girth => format!("{amount} too small in the girth ({margin})"),
            Place::CarveLine(_) => format!("{amount} too high up {} ({margin})", m.place.wherein()),
            place if m.finished.is_some() => {
                format!("{amount} too low {} for the finished neck ({margin})", place.wherein())
            }
            place => format!("{amount} too low {} ({margin})", place.wherein()),
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
