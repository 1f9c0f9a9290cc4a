//! Readings of one place taken together: the lowest of many is lower than the wood, by its noise.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::fit::{Datum, Fit};
use super::limit::Asking;
use super::low::{Place, inside, named, place_of_measure, place_of_point};
use crate::inspect::check::Around;
use crate::inspect::readings::Placed;
use crate::inspect::{Measured, Reading};
use crate::measure::{MAX_FAULTS, Station};
use crate::shape::{Neck, Point, Side};

/// So near to each other along the neck and around the section readings are of one place, mm: no hand leaves a hollow that is
/// smaller, the lines of a mended neck don't bend within it, and the few points that a contour gauge gives help each other.
/// Common practice, no source.
const ALONG_MM: f64 = 10.0;
const AROUND_MM: f64 = 12.0;

/// A reading that lies off the mean of the others of its place by more than so many standard uncertainties does so not by
/// noise.
const APART: f64 = 4.5;
/// With the one that lies furthest off go those that lie off by this share of it.
const NEARLY: f64 = 0.8;

/// Where a point lies beside the design's outline.
#[derive(Clone, Copy, Debug)]
struct Beside {
    foot: Point,
    normal: Point,
}

/// One reading of a place.
#[derive(Clone, Copy, Debug)]
struct Member {
    index: usize,
    placed: Placed,
    place: Place,
    /// Where around the section, mm from the spine; 0 where it is of a line along the neck.
    around: f64,
    beside: Option<Beside>,
    /// How far it lies inside the design: of a point square to it.
    by: f64,
}

impl Member {
    /// Or why it asks nothing, whatever it is.
    fn new(
        neck: &Neck,
        index: usize,
        placed: &Placed,
        latest: &mut Option<Around>,
    ) -> Result<Self, &'static str> {
        let member = |place, by| Self { index, placed: *placed, place, around: 0.0, beside: None, by };
        let Measured::Point { across_mm } = placed.reading.measured else {
            let place = place_of_measure(placed.reading.measured)?;
            return Ok(member(place, inside(neck, placed, place).map_or(0.0, |(_, by, _)| by)));
        };
        if latest.as_ref().is_none_or(|a| a.frame.x != placed.x_mm) {
            *latest = Some(Around::new(neck, placed.x_mm));
        }
        let value = placed.reading.value_mm;
        let found = latest.as_ref().and_then(|here| Some((here, here.path.foot([across_mm, -value])?)));
        let (here, found) = found.ok_or("this point lies beside no part of the neck")?;
        let [y, z] = found.normal;
        let foot = [across_mm - found.distance * y, -value - found.distance * z];
        let place = place_of_point(neck, here, &found, foot[0])?;
        let beside = Some(Beside { foot, normal: found.normal });
        Ok(Self { around: here.way(&found), beside, ..member(place, -found.distance) })
    }

    fn datum(&self) -> Datum {
        let uncertainty = self.placed.reading.uncertainty_mm;
        let (along, around) = (self.placed.x_mm, self.around);
        Datum { along, around, value: self.by, weight: 1.0 / (uncertainty * uncertainty) }
    }

    /// The reading as it would lie so far inside the design.
    fn moved(&self, by: f64, uncertainty_mm: f64) -> Pooled {
        let mut placed = self.placed;
        placed.reading.uncertainty_mm = uncertainty_mm;
        match self.beside {
            Some(Beside { foot, normal }) => {
                placed.reading.measured = Measured::Point { across_mm: foot[0] - by * normal[0] };
                placed.reading.value_mm = by * normal[1] - foot[1];
            }
            None => placed.reading.value_mm += self.by - by,
        }
        Pooled { placed, place: self.place, group: 0 }
    }
}

const KINDS: usize = 9;

fn kind(place: Place) -> usize {
    match place {
        Place::Spine => 0,
        Place::Edges => 1,
        Place::Back(..) => 2,
        Place::Carve(side) => 3 + usize::from(side == Side::Treble),
        Place::Flat(side) => 5 + usize::from(side == Side::Treble),
        Place::Kept(side) => 7 + usize::from(side == Side::Treble),
    }
}

/// A reading of a place, or what those of it come to there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pooled {
    pub placed: Placed,
    pub place: Place,
    /// Which of the readings given it is made of: see [`Pool::from`].
    group: usize,
}

/// Readings of which all of one place are taken together.
#[derive(Default)]
pub(super) struct Pool {
    pub readings: Vec<Pooled>,
    /// Readings that were taken together, rising.
    groups: Vec<Vec<Asking>>,
    /// Those that ask nothing, and why.
    aside: Vec<(usize, Asking, &'static str)>,
}

impl Pool {
    fn put(&mut self, pooled: impl Iterator<Item = Pooled>, of: &[Member]) {
        let mut from: Vec<Asking> = of.iter().map(|m| asking(m.index, &m.placed)).collect();
        from.sort_by_key(|asking| asking.index);
        let group = self.groups.len();
        self.groups.push(from);
        self.readings.extend(pooled.map(|pooled| Pooled { group, ..pooled }));
    }

    /// Of which readings given one is made: the same slice for all that were taken together.
    pub fn from(&self, index: usize) -> &[Asking] {
        let group = self.readings.get(index).and_then(|pooled| self.groups.get(pooled.group));
        group.map_or(&[], Vec::as_slice)
    }

    /// What is to be said of those that ask nothing.
    pub fn notes(&self) -> Vec<String> {
        let mut aside: Vec<&(usize, Asking, &str)> = self.aside.iter().collect();
        aside.sort_by_key(|(index, ..)| *index);
        let note = |(_, which, why): &(usize, Asking, &str)| {
            format!("{} was left out: {why}", named(which.number, which.line))
        };
        aside.into_iter().take(MAX_FAULTS).map(note).collect()
    }
}

fn asking(index: usize, placed: &Placed) -> Asking {
    Asking { index, number: placed.number as usize, line: placed.reading.line, x_mm: placed.x_mm }
}

/// The readings with all of one place taken together: as low as their weighted mean, in its middle and with the uncertainty of
/// that; or, where they have a shape that noise has not, each as low as a surface fitted to all of them. One that is alone, or
/// that lies off the others further than noise would have it, stays as it is.
pub(super) fn pooled(neck: &Neck, readings: &[Placed]) -> Pool {
    let mut order: Vec<(usize, &Placed)> = readings.iter().enumerate().collect();
    order.sort_by(|a, b| a.1.x_mm.total_cmp(&b.1.x_mm));
    let mut all = Pool::default();
    let mut kinds: [Vec<Member>; KINDS] = Default::default();
    let mut latest = None;
    for (index, placed) in order {
        match Member::new(neck, index, placed, &mut latest) {
            Ok(member) => kinds[kind(member.place)].push(member),
            Err(why) => all.aside.push((index, asking(index, placed), why)),
        }
    }
    for members in kinds {
        for mut strip in stretches(members, ALONG_MM, |m| m.placed.x_mm) {
            strip.sort_by(|a, b| a.around.total_cmp(&b.around));
            for place in stretches(strip, AROUND_MM, |m| m.around) {
                let (rest, apart, fit) = parted(place);
                for m in apart {
                    all.put(core::iter::once(Pooled { placed: m.placed, place: m.place, group: 0 }), &[m]);
                }
                if fit.even {
                    all.put(one(neck, &rest).into_iter(), &rest);
                } else {
                    let each = rest.iter().zip(&fit.fitted).zip(&fit.leverage);
                    let moved = each.map(|((m, by), leverage)| {
                        m.moved(*by, m.placed.reading.uncertainty_mm * libm::sqrt(*leverage))
                    });
                    all.put(moved, &rest);
                }
            }
        }
    }
    all
}

/// What rises in a measure, in stretches that are no longer than so much, each from its first member on.
fn stretches(members: Vec<Member>, most: f64, of: impl Fn(&Member) -> f64) -> Vec<Vec<Member>> {
    let mut all: Vec<Vec<Member>> = Vec::new();
    for member in members {
        match all.last_mut() {
            Some(last) if last.first().is_some_and(|first| of(&member) - of(first) <= most) => {
                last.push(member);
            }
            _ => all.push(alloc::vec![member]),
        }
    }
    all
}

/// Those of a place that differ by their noise from what they come to, and those that lie apart from what the others come to:
/// the furthest first, so that one does not hide another, and with it those that lie nearly as far off.
fn parted(mut rest: Vec<Member>) -> (Vec<Member>, Vec<Member>, Fit) {
    let mut apart = Vec::new();
    loop {
        let data: Vec<Datum> = rest.iter().map(Member::datum).collect();
        let fit = Fit::new(&data);
        let score = |i: usize| {
            // What is left of it where it does not count itself.
            let left = 1.0 - fit.leverage[i];
            let off = libm::fabs(data[i].value - fit.fitted[i]) * libm::sqrt(data[i].weight / left);
            if left > 1e-9 && off > APART { off } else { 0.0 }
        };
        let scores: Vec<f64> = (0..rest.len()).map(score).collect();
        let furthest = scores.iter().copied().fold(0.0, f64::max);
        if furthest == 0.0 {
            return (rest, apart, fit);
        }
        let mut scores = scores.into_iter();
        rest.retain(|member| {
            let is_apart = scores.next().is_some_and(|score| score >= NEARLY * furthest);
            if is_apart {
                apart.push(*member);
            }
            !is_apart
        });
    }
}

/// Weighted mean of a measure of readings, and its standard uncertainty.
fn mean(members: &[Member], of: impl Fn(&Member) -> f64) -> [f64; 2] {
    let weight = |m: &Member| m.datum().weight;
    let whole: f64 = members.iter().map(weight).sum();
    let sum: f64 = members.iter().map(|m| weight(m) * of(m)).sum();
    [sum / whole, 1.0 / libm::sqrt(whole)]
}

/// The one reading that those of a place come to: of points at the place of the one nearest to their middle, as far inside the
/// design, square to it, as they are in the mean.
fn one(neck: &Neck, members: &[Member]) -> Option<Pooled> {
    let first = members.first()?;
    if members.len() == 1 {
        return Some(Pooled { placed: first.placed, place: first.place, group: 0 });
    }
    let [by, uncertainty_mm] = mean(members, |m| m.by);
    let [x_mm, _] = mean(members, |m| m.placed.x_mm);
    let [around, _] = mean(members, |m| m.around);
    let away = |m: &Member| libm::hypot(m.placed.x_mm - x_mm, m.around - around);
    let middle = members.iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    if middle.beside.is_some() {
        return Some(middle.moved(by, uncertainty_mm));
    }
    let reading = Reading { at: Station::Mm(x_mm), uncertainty_mm, value_mm: 0.0, ..first.placed.reading };
    let mut placed = Placed { x_mm, reading, ..first.placed };
    // How far a reading of 0 lies inside tells what one has to show.
    placed.reading.value_mm = inside(neck, &placed, first.place)?.1 - by;
    Some(Pooled { placed, place: first.place, group: 0 })
}
