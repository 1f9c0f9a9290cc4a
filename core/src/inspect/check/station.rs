//! What is told of one station: what is still on, and what is perhaps gone too far.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Display, Write};

use smallvec::SmallVec;

use super::place::Place;
use super::row::{Deviation, Row};
use super::sentence::{Numbers, SURE, words};
use crate::inspect::Measured;
use crate::inspect::along::station_words;
use crate::shape::Neck;

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
    let mut lowest: Option<Mean> = None;
    let mut rest: Vec<&Row> = Vec::with_capacity(rows.len());
    for spot in rows.chunk_by(one) {
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

/// The sentences of one station. Its readings are put in order.
pub(super) fn station_sentences(
    neck: &Neck,
    rows: &mut [&Row],
    staged: bool,
    numbers: Numbers,
    out: &mut Vec<String>,
) {
    let at = station_words(neck, rows.first().map_or(0.0, |r| r.x_mm));
    let is_radius = |r: &Row| r.measured == Measured::Radius;
    let around = |r: &Row| r.around_mm.unwrap_or(f64::NEG_INFINITY);
    rows.sort_by(|a, b| {
        let key = |r: &Row| (is_radius(r), r.place.rank());
        key(a).cmp(&key(b)).then_with(|| around(a).total_cmp(&around(b)))
    });
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
        out.extend(sentence(&at, &rest, &low, numbers));
    }
    for row in radii {
        if let Some(d) = row.stage.or(row.finished) {
            out.push(radius_sentence(&at, &d, numbers));
        }
    }
}

/// What is told of some places together: what lies out the furthest, what is past the stage, and all that is low.
fn sentence(at: &str, rest: &[Mean], low: &[Mean], numbers: Numbers) -> Option<String> {
    let mut told = String::with_capacity(LONG);
    told.push_str(at);
    let say = |told: &mut String, part: fmt::Arguments<'_>| {
        told.push_str(if told.len() == at.len() { ": " } else { "; " });
        // Writing to a string can't fail.
        told.write_fmt(part).unwrap_or_default();
    };
    let most = rest.first();
    if let Some(most) = most.filter(|m| m.target.score() > SURE) {
        say(&mut told, format_args!("{}", over(most, rest.get(1), low.is_empty(), numbers)));
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
        say(&mut told, format_args!("past this stage by {amount} {wherein} ({margin}){further}"));
    }
    if !low.is_empty() {
        say(&mut told, format_args!("{}", perhaps(low, numbers)));
    }
    if let Some(most) = most.filter(|_| told.len() == at.len()) {
        let further = most.further(numbers).map_or(String::new(), |f| format!("; {f} to the finished neck"));
        let wherein = most.place.words();
        let margin = numbers.margin(most.target.uncertainty_mm);
        say(
            &mut told,
            format_args!("no difference {wherein} that these readings can tell ({margin}){further}"),
        );
    }
    (told.len() > at.len()).then_some(told)
}

fn over(most: &Mean, next: Option<&Mean>, alone: bool, numbers: Numbers) -> impl Display {
    let (place, d) = (most.place, most.target);
    let next = next.map(|next| next.target);
    let unsure = move |next: &Deviation| libm::hypot(d.uncertainty_mm, next.uncertainty_mm);
    let further = most.further(numbers);
    let further = further.map_or(String::new(), |f| format!("; {f} {} to the finished neck", place.words()));
    words(move |f| {
        write!(f, "{} still to come off", numbers.told(&d))?;
        match next {
            Some(next) if d.mm - next.mm > SURE * unsure(&next) => write!(f, ", most {}", place.words())?,
            Some(_) if alone => (),
            // Elsewhere it is low.
            _ => write!(f, " {}", place.words())?,
        }
        write!(f, " ({}){further}", numbers.margin(d.uncertainty_mm))
    })
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
