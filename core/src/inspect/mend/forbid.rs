//! Which limit forbids mending, where, and by how much.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::limit::{Asking, Forbidden, Limit};
use super::low::{Low, named};
use super::model::Model;
use super::pool::Pool;
use super::rows::asked_bend;
use super::search::Search;
use super::verify::stuck;
use crate::inspect::along::at_station;
use crate::inspect::lengths::{about_words, length_words};
use crate::measure::Error;
use crate::shape::Neck;
use crate::spec::{BenchUnit, MendLimits};

/// What gives way by less has not: the solver's rounding.
const NOTHING: f64 = 1e-6;
/// Of limits that give way together, those that do by less are not told beside others that do by more.
const LITTLE: f64 = 5e-3;

/// By how much closer the stations lie at which the wall is looked at.
const CLOSER: usize = 6;
/// So many low places are named in a sentence.
const NAMED: usize = 3;

/// The limits that rows of a back may belong to.
const OF_THE_BACK: [Limit; 9] = [
    Limit::RiseTowardNut,
    Limit::SpineRadius,
    Limit::CarveRadius,
    Limit::LeastThickness,
    Limit::RodWall,
    Limit::Convex,
    Limit::CarveLine,
    Limit::Shape,
    Limit::Heel,
];

/// The limits each of which, given way alone, would let the neck be mended, by how little they ask; where there is none,
/// those that have to give way together. An error where it is not known what forbids it.
pub(super) fn forbidden(
    search: &mut Search<'_, '_>,
    limits: &MendLimits,
    pool: &Pool,
) -> Result<Vec<Forbidden>, Error> {
    let asked: Vec<Limit> = OF_THE_BACK
        .into_iter()
        .filter(|limit| {
            let known = search.programme.rows.iter().any(|row| row.limit == Some(*limit));
            known || (*limit == Limit::RodWall && search.wall > 0.0)
        })
        .collect();
    // No neck is built that would show what lies between them.
    search.look_closer(CLOSER);
    let neck = search.model.neck;
    let mut found = Vec::new();
    for limit in &asked {
        if !search.may_help(*limit) || search.hopeless.contains(limit) {
            continue;
        }
        if let Some(relaxed) = search.relaxed(&[*limit])
            && let (Some(by), Some(at)) = (relaxed.by.first(), relaxed.at.first())
        {
            let told = told(search, limits, *limit, *by, *at, true);
            found.push(self::asked(neck, pool, &relaxed.asking, told));
        }
    }
    found.sort_by(|a, b| a.by.total_cmp(&b.by));
    if found.is_empty() {
        let unknown = || stuck("found, nor is it known what forbids it");
        let relaxed = search.relaxed(&asked).ok_or_else(unknown)?;
        let most = relaxed.by.iter().copied().fold(0.0, f64::max);
        let least = if most > LITTLE { LITTLE } else { NOTHING.min(most) };
        let each = asked.iter().zip(relaxed.by).zip(relaxed.at).filter(|((_, by), _)| *by >= least);
        let told = |((limit, by), at): ((&Limit, f64), f64)| {
            self::asked(neck, pool, &relaxed.asking, told(search, limits, *limit, by, at, false))
        };
        found.extend(each.map(told));
    }
    if found.is_empty() { Err(stuck("found, nor is it known what forbids it")) } else { Ok(found) }
}

fn told(
    search: &Search<'_, '_>,
    limits: &MendLimits,
    limit: Limit,
    by: f64,
    x: f64,
    alone: bool,
) -> Forbidden {
    let model: &Model<'_> = search.model;
    let at = at_station(model.neck, x);
    let radius = |given: f64, line: &crate::law::Law| {
        let asked = asked_bend(model, line, given);
        (1.0 / (asked + 1e-3 * by), 1.0 / asked)
    };
    let length = |mm: f64| length_words(mm, limits.unit);
    let sentence = match limit {
        Limit::RiseTowardNut => format!(
            "{at}, the neck would get {} over {} thicker toward the nut than it may, or would dip where the design does \
             not",
            length(by),
            about_words(100.0, limits.unit)
        ),
        Limit::SpineRadius => {
            let (would, asked) = radius(limits.spine_radius.mm(), &model.spine.design);
            format!(
                "{at}, the spine would bend with a radius of {}, and {} is the least asked for",
                about_words(would, limits.unit),
                about_words(asked, limits.unit)
            )
        }
        Limit::CarveRadius => {
            let (would, asked) = radius(limits.carve_radius.mm(), &model.carve.bass.design);
            format!(
                "{at}, the carve line would bend with a radius of {}, and {} is the least asked for",
                about_words(would, limits.unit),
                about_words(asked, limits.unit)
            )
        }
        Limit::LeastThickness => {
            let asked = search.thickness;
            format!(
                "{at}, the neck would be {} thick, {} less than the {} asked for",
                length(asked - by),
                length(by),
                length(asked)
            )
        }
        Limit::RodWall if search.asked_wall < by => format!(
            "the back would come {} deep into the rod's channel {at}, and a wall of {} is asked for",
            length(by - search.asked_wall),
            length(search.asked_wall)
        ),
        Limit::RodWall => {
            let asked = search.asked_wall;
            format!(
                "the rod wall would be {} {at}, {} less than the {} asked for",
                length(asked - by),
                length(by),
                length(asked)
            )
        }
        Limit::Convex => {
            format!("{at}, the back would be hollow: {} are missing beside the carve line", length(by))
        }
        Limit::CarveLine => {
            format!(
                "{at}, the carve line would lie {} outside of what is between the board's top edge and the spine",
                length(by)
            )
        }
        Limit::Shape => format!(
            "{at}, one side would be {} too deep for its shoulder to follow from the other's, as it has to where both have \
             one curvature at the spine",
            length(by)
        ),
        Limit::Heel => {
            format!(
                "{at}, where the heel begins, the neck would come {} off what its sweep allows",
                length(by)
            )
        }
        Limit::StringMargin | Limit::LeastWidth | Limit::FixedPart => String::new(),
    };
    Forbidden { limit, x_mm: x, by, alone, asked_by: Vec::new(), sentence }
}

/// The readings that ask for it, in the answer and at the end of its sentence: `lows` are numbers in the pool.
pub(super) fn asked(neck: &Neck, pool: &Pool, lows: &[usize], told: Forbidden) -> Forbidden {
    let mut places: Vec<&[Asking]> = Vec::with_capacity(lows.len());
    for from in lows.iter().map(|index| pool.from(*index)) {
        // Of one place several readings may ask for it, and each names all of them.
        if !places.iter().any(|known| core::ptr::eq(*known, from)) {
            places.push(from);
        }
    }
    let one = |from: &&[Asking]| -> Option<String> {
        let first = from.first()?;
        let (which, at) = (named(first.number, first.line), at_station(neck, first.x_mm));
        Some(match from.len() {
            1 => format!("{which} {at}"),
            count => format!("{which} {at} and {} more of that place", count - 1),
        })
    };
    let mut words: Vec<String> = places.iter().take(NAMED).filter_map(one).collect();
    let rest = places.len().saturating_sub(NAMED);
    if rest > 0 {
        words.push(format!("{rest} more low places"));
    }
    let sentence = match words.split_last() {
        None => told.sentence,
        Some((last, [])) => format!("{}; {last} asks for it", told.sentence),
        Some((last, before)) => format!("{}; {} and {last} ask for it", told.sentence, before.join(", ")),
    };
    let mut asked_by: Vec<Asking> = places.into_iter().flatten().copied().collect();
    asked_by.sort_by_key(|asking| asking.index);
    Forbidden { asked_by, sentence, ..told }
}

/// Low places where nothing can come down; each would do by itself where it is the only one.
pub(super) fn all_fixed(neck: &Neck, lows: &[&Low], pool: &Pool, unit: BenchUnit) -> Vec<Forbidden> {
    lows.iter().map(|low| Forbidden { alone: lows.len() == 1, ..fixed(neck, low, pool, unit) }).collect()
}

fn fixed(neck: &Neck, low: &Low, pool: &Pool, unit: BenchUnit) -> Forbidden {
    let (x, by) = (low.x, low.by);
    let at = at_station(neck, x);
    let low_by = length_words(by, unit);
    let sentence =
        format!("{at}, the wood is {low_by} low, and headstock and heel block are not changed by mending");
    let told =
        Forbidden { limit: Limit::FixedPart, x_mm: x, by, alone: true, asked_by: Vec::new(), sentence };
    asked(neck, pool, &[low.index], told)
}
