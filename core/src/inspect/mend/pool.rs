//! Readings of one place taken together: the lowest of many is lower than the wood, by its noise.

use alloc::vec::Vec;

use super::limit::Asking;
use super::low::{Place, there};
use crate::inspect::readings::Placed;
use crate::inspect::{Measured, Reading};
use crate::measure::Station;
use crate::shape::{Neck, Path, Point, Side};

/// So near to each other along the neck and around the section readings are of one place, mm: no hand leaves a hollow that is
/// smaller, the lines of a mended neck don't bend within it, and the few points that a contour gauge gives help each other.
/// Common practice, no source.
const ALONG_MM: f64 = 10.0;
const AROUND_MM: f64 = 12.0;

/// A reading that lies off the mean of the others of its place by more than so many standard uncertainties does so not by
/// noise.
const APART: f64 = 4.5;

/// The design's outline at a station, and where along it the spine lies.
struct Around {
    x: f64,
    path: Path,
    spine: f64,
}

impl Around {
    fn new(neck: &Neck, x: f64) -> Self {
        let path = Path::of_outline(&neck.section_at(x).whole_outline());
        let across = neck.built().form.profile.spine_offset.value(x);
        let foot = path.foot([across, -neck.built().back.spine.value(x)]);
        Self { x, spine: foot.map_or(0.0, |foot| foot.along), path }
    }
}

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
    /// Where around the section, mm from the spine; 0 where it is of a line along the neck.
    around: f64,
    beside: Option<Beside>,
    /// How far it lies inside the design: of a point square to it.
    by: f64,
}

impl Member {
    fn weight(&self) -> f64 {
        1.0 / (self.placed.reading.uncertainty_mm * self.placed.reading.uncertainty_mm)
    }

    /// `None` for what asks nothing, whatever it is.
    fn new(neck: &Neck, index: usize, placed: &Placed, latest: &mut Option<Around>) -> Option<(u8, Self)> {
        let (place, design, value) = there(neck, placed).ok()?;
        let line = Self { index, placed: *placed, around: 0.0, beside: None, by: design - value };
        let Measured::Point { across_mm } = placed.reading.measured else { return Some((kind(place), line)) };
        if latest.as_ref().is_none_or(|a| a.x != placed.x_mm) {
            *latest = Some(Around::new(neck, placed.x_mm));
        }
        let here = latest.as_ref()?;
        let found = here.path.foot([across_mm, -value])?;
        let [y, z] = found.normal;
        let foot = [across_mm - found.distance * y, -value - found.distance * z];
        let beside = Some(Beside { foot, normal: found.normal });
        Some((kind(place), Self { around: found.along - here.spine, beside, by: -found.distance, ..line }))
    }
}

const KINDS: usize = 5;

fn kind(place: Place) -> u8 {
    match place {
        Place::Spine => 0,
        Place::Edges => 1,
        Place::Carve(Side::Bass) => 2,
        Place::Carve(Side::Treble) => 3,
        Place::Back(..) => 4,
    }
}

/// Readings of which all of one place are one.
pub(super) struct Pool {
    pub readings: Vec<Placed>,
    /// Of which readings given each is made, rising.
    from: Vec<Vec<Asking>>,
}

impl Pool {
    fn put(&mut self, placed: Placed, mut from: Vec<Asking>) {
        from.sort_by_key(|asking| asking.index);
        self.readings.push(placed);
        self.from.push(from);
    }

    /// Of which readings given one is made.
    pub fn from(&self, index: usize) -> &[Asking] {
        self.from.get(index).map_or(&[], Vec::as_slice)
    }
}

fn asking(index: usize, placed: &Placed) -> Asking {
    Asking { index, number: placed.number as usize, line: placed.reading.line, x_mm: placed.x_mm }
}

/// The readings with all of one place in one: as low as their weighted mean, with the uncertainty of that. One that is alone,
/// or that lies off the others further than noise would have it, stays as it is.
pub(super) fn pooled(neck: &Neck, readings: &[Placed]) -> Pool {
    let mut order: Vec<(usize, &Placed)> = readings.iter().enumerate().collect();
    order.sort_by(|a, b| a.1.x_mm.total_cmp(&b.1.x_mm));
    let mut all = Pool { readings: Vec::with_capacity(readings.len()), from: Vec::new() };
    let mut kinds: [Vec<Member>; KINDS] = Default::default();
    let mut latest = None;
    for (index, placed) in order {
        let member = Member::new(neck, index, placed, &mut latest);
        match member.and_then(|(kind, member)| Some((kinds.get_mut(usize::from(kind))?, member))) {
            Some((members, member)) => members.push(member),
            None => all.put(*placed, alloc::vec![asking(index, placed)]),
        }
    }
    for members in kinds {
        for mut strip in stretches(members, ALONG_MM, |m| m.placed.x_mm) {
            strip.sort_by(|a, b| a.around.total_cmp(&b.around));
            for place in stretches(strip, AROUND_MM, |m| m.around) {
                let (rest, apart) = parted(place);
                apart.iter().for_each(|m| all.put(m.placed, alloc::vec![asking(m.index, &m.placed)]));
                if let Some(placed) = one(neck, &rest) {
                    all.put(placed, rest.iter().map(|m| asking(m.index, &m.placed)).collect());
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

/// Those of a place that differ by their noise, and those that lie apart from the mean of the others: the furthest first, so
/// that one does not hide another.
fn parted(mut rest: Vec<Member>) -> (Vec<Member>, Vec<Member>) {
    let mut apart = Vec::new();
    loop {
        let weight: f64 = rest.iter().map(Member::weight).sum();
        let sum: f64 = rest.iter().map(|m| m.weight() * m.by).sum();
        let score = |m: &Member| {
            let others = weight - m.weight();
            let off = m.by - (sum - m.weight() * m.by) / others;
            let score = libm::fabs(off) / libm::sqrt(1.0 / m.weight() + 1.0 / others);
            // The only one has no others.
            if others > 0.0 && score.is_finite() { score } else { 0.0 }
        };
        let scores = rest.iter().map(score).enumerate().filter(|(_, score)| *score > APART);
        match scores.max_by(|a, b| a.1.total_cmp(&b.1)) {
            Some((furthest, _)) if rest.len() > 1 => apart.push(rest.swap_remove(furthest)),
            _ => return (rest, apart),
        }
    }
}

/// Weighted mean of a measure of readings, and its standard uncertainty.
fn mean(members: &[Member], of: impl Fn(&Member) -> f64) -> [f64; 2] {
    let weight: f64 = members.iter().map(Member::weight).sum();
    let sum: f64 = members.iter().map(|m| m.weight() * of(m)).sum();
    [sum / weight, 1.0 / libm::sqrt(weight)]
}

/// The one reading that those of a place come to: of points at the place of the one nearest to their middle, as far inside the
/// design, square to it, as they are in the mean.
fn one(neck: &Neck, members: &[Member]) -> Option<Placed> {
    let first = members.first()?.placed;
    if members.len() == 1 {
        return Some(first);
    }
    let [by, uncertainty_mm] = mean(members, |m| m.by);
    let [x_mm, _] = mean(members, |m| m.placed.x_mm);
    let [around, _] = mean(members, |m| m.around);
    let away = |m: &Member| libm::hypot(m.placed.x_mm - x_mm, m.around - around);
    let middle = members.iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    if let Some(Beside { foot, normal }) = middle.beside {
        let [across_mm, up] = [foot[0] - by * normal[0], foot[1] - by * normal[1]];
        let measured = Measured::Point { across_mm };
        let reading = Reading { measured, value_mm: -up, uncertainty_mm, ..middle.placed.reading };
        return Some(Placed { reading, ..middle.placed });
    }
    let reading = Reading { at: Station::Mm(x_mm), uncertainty_mm, value_mm: 0.0, ..first.reading };
    // What a reading of 0 comes to in the measure of the design tells what one has to show.
    let Ok((_, design, zero)) = there(neck, &Placed { x_mm, reading, ..first }) else { return Some(first) };
    let reading = Reading { value_mm: design - by - zero, ..reading };
    Some(Placed { x_mm, reading, ..first })
}
